//! The order in which things are read: what stands beside each other from left to right, whatever order it was laid out in.

use egui::Rect;

/// Of two things beside each other, this much of the lower one lies at the height of the other.
const SHARED: f32 = 0.5;

/// Puts things that follow each other and stand beside each other into their order from left to right. What stands under each
/// other, or in columns, keeps its order.
pub fn beside<T>(all: &mut [T], rect: impl Fn(&T) -> Rect) {
    let mut from = 0;
    while from < all.len() {
        let first = all.get(from).map_or(Rect::NOTHING, &rect);
        let more = all.iter().skip(from + 1).take_while(|next| is_beside(first, rect(next))).count();
        let to = from + 1 + more;
        if let Some(row) = all.get_mut(from..to) {
            row.sort_by(|a, b| rect(a).left().total_cmp(&rect(b).left()));
        }
        from = to;
    }
}

/// Whether two rectangles stand at one height, and not in each other.
fn is_beside(a: Rect, b: Rect) -> bool {
    if !a.is_positive() || !b.is_positive() {
        return false;
    }
    let shared = a.bottom().min(b.bottom()) - a.top().max(b.top());
    let apart = a.right() <= b.left() + 1.0 || b.right() <= a.left() + 1.0;
    apart && shared >= SHARED * a.height().min(b.height())
}

#[cfg(test)]
mod tests {
    use super::beside;
    use egui::{Rect, pos2, vec2};

    fn at(x: f32, y: f32) -> Rect {
        Rect::from_min_size(pos2(x, y), vec2(80.0, 28.0))
    }

    #[test]
    fn a_bar_laid_out_from_the_right_is_read_from_the_left() {
        let mut all =
            vec![("c", at(300.0, 4.0)), ("b", at(200.0, 6.0)), ("a", at(100.0, 0.0)), ("d", at(0.0, 40.0))];
        beside(&mut all, |(_, rect)| *rect);
        assert_eq!(all.iter().map(|(name, _)| *name).collect::<String>(), "abcd");
    }

    #[test]
    fn columns_are_read_one_after_the_other() {
        let mut all =
            vec![("a", at(0.0, 0.0)), ("b", at(0.0, 30.0)), ("c", at(100.0, 0.0)), ("d", at(100.0, 30.0))];
        beside(&mut all, |(_, rect)| *rect);
        assert_eq!(all.iter().map(|(name, _)| *name).collect::<String>(), "abcd");
    }
}
