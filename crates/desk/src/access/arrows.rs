//! Walking a list that is drawn as it is, whatever its columns: by where things stand.

use egui::{Id, Key, Rect};

use crate::access::stops::Stop;

/// Rows that a Page key passes at most.
const PAGE: f32 = 500.0;

/// Where a key leads from a stop of a list; `all` are the stops of this list in their order.
pub fn walk(all: &[Stop], now: Id, key: Key) -> Option<Id> {
    let at = all.iter().find(|stop| stop.id == now)?.rect;
    let column = |other: &Rect| other.left() < at.right() - 1.0 && at.left() < other.right() - 1.0;
    let below = |other: &Rect| column(other) && other.center().y > at.bottom() - 1.0;
    let above = |other: &Rect| column(other) && other.center().y < at.top() + 1.0;
    let row = |other: &Rect| {
        let shared = at.bottom().min(other.bottom()) - at.top().max(other.top());
        shared >= 0.5 * at.height().min(other.height())
    };
    let far = |stop: &&Stop| {
        let (down, across) = (stop.rect.center().y - at.center().y, stop.rect.left() - at.left());
        (down.abs() * 8.0) as i64 + (across.abs() / 64.0) as i64
    };
    // beside it: in its row, else the nearest of the next column
    let aside = |right: bool| {
        let gap =
            move |other: &Rect| if right { other.left() - at.right() } else { at.left() - other.right() };
        let out = all.iter().filter(|stop| gap(&stop.rect) > -2.0);
        let near = out.clone().filter(|stop| row(&stop.rect)).min_by_key(|stop| gap(&stop.rect) as i64);
        near.or_else(|| {
            let next = out.clone().map(|stop| gap(&stop.rect)).fold(f32::INFINITY, f32::min);
            out.filter(|stop| gap(&stop.rect) < next + 24.0).min_by_key(far)
        })
    };
    let page = |down: bool| {
        let (here, step) = (at.center().y, if down { PAGE } else { -PAGE });
        let is_on = |stop: &&Stop| if down { below(&stop.rect) } else { above(&stop.rect) };
        let miss = |stop: &&Stop| ((stop.rect.center().y - here - step).abs() * 8.0) as i64;
        all.iter().filter(is_on).min_by_key(miss)
    };
    let found = match key {
        Key::ArrowDown => all.iter().filter(|stop| below(&stop.rect)).min_by_key(far),
        Key::ArrowUp => all.iter().filter(|stop| above(&stop.rect)).min_by_key(far),
        Key::ArrowRight => aside(true),
        Key::ArrowLeft => aside(false),
        Key::Home => all.first(),
        Key::End => all.last(),
        Key::PageDown => page(true),
        Key::PageUp => page(false),
        _ => None,
    };
    found.map(|stop| stop.id).filter(|id| *id != now)
}

/// The keys that walk a list.
pub const KEYS: [Key; 8] = [
    Key::ArrowDown,
    Key::ArrowUp,
    Key::ArrowLeft,
    Key::ArrowRight,
    Key::Home,
    Key::End,
    Key::PageDown,
    Key::PageUp,
];

#[cfg(test)]
mod tests {
    use super::walk;
    use crate::access::Region;
    use crate::access::stops::Stop;
    use egui::{Id, Key, Rect, pos2, vec2};

    fn stop(name: &str, x: f32, y: f32, wide: f32) -> Stop {
        let rect = Rect::from_min_size(pos2(x, y), vec2(wide, 28.0));
        Stop { id: Id::unique(name), rect, seen: rect, region: Region::Page, list: None }
    }

    /// Two columns: the left has a line with a box at its end.
    fn board() -> Vec<Stop> {
        vec![
            stop("head", 0.0, 0.0, 400.0),
            stop("row", 0.0, 32.0, 400.0),
            stop("brings", 0.0, 64.0, 370.0),
            stop("tick", 372.0, 64.0, 28.0),
            stop("last", 0.0, 96.0, 400.0),
            stop("other", 420.0, 20.0, 400.0),
            stop("end", 420.0, 60.0, 400.0),
        ]
    }

    #[test]
    fn arrows_lead_down_across_and_back() {
        let all = board();
        let to = |from: &str, key| walk(&all, Id::unique(from), key);
        let is = |name: &str| Some(Id::unique(name));
        assert_eq!(to("head", Key::ArrowDown), is("row"));
        assert_eq!(to("row", Key::ArrowDown), is("brings"));
        assert_eq!(to("brings", Key::ArrowRight), is("tick"));
        assert_eq!(to("tick", Key::ArrowLeft), is("brings"));
        assert_eq!(to("tick", Key::ArrowDown), is("last"));
        assert_eq!(to("last", Key::ArrowUp), is("brings"));
        assert_eq!(to("row", Key::ArrowRight), is("other"));
        assert_eq!(to("end", Key::ArrowLeft), is("tick"));
        assert_eq!(to("last", Key::ArrowDown), None);
        assert_eq!((to("row", Key::Home), to("row", Key::End)), (is("head"), is("end")));
        assert_eq!((to("head", Key::PageDown), to("last", Key::PageUp)), (is("last"), is("head")));
    }
}
