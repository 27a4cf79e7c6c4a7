//! Distances between polylines in a plane, in millimetres (plane geometry).

/// A point: `z` along the axle, `r` from its centre, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Point {
    pub(crate) z: f64,
    pub(crate) r: f64,
}

/// Two points, one of each polyline, and how far they lie apart, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Nearest {
    pub(crate) distance: f64,
    pub(crate) first: Point,
    pub(crate) second: Point,
}

impl Point {
    pub(crate) const fn new(z: f64, r: f64) -> Self {
        Self { z, r }
    }

    fn minus(self, other: Self) -> Self {
        Self::new(self.z - other.z, self.r - other.r)
    }

    fn dot(self, other: Self) -> f64 {
        self.z * other.z + self.r * other.r
    }

    fn cross(self, other: Self) -> f64 {
        self.z * other.r - self.r * other.z
    }

    /// The point a share of the way to another.
    pub(crate) fn toward(self, other: Self, share: f64) -> Self {
        Self::new(self.z + share * (other.z - self.z), self.r + share * (other.r - self.r))
    }

    pub(crate) fn distance(self, other: Self) -> f64 {
        let d = self.minus(other);
        d.z.hypot(d.r)
    }

    /// The point of a segment that lies nearest.
    fn nearest_on(self, (a, b): Segment) -> Self {
        let along = b.minus(a);
        let length2 = along.dot(along);
        if length2 > 0.0 { a.toward(b, (self.minus(a).dot(along) / length2).clamp(0.0, 1.0)) } else { a }
    }
}

type Segment = (Point, Point);

/// The pieces of a polyline.
fn segments(line: &[Point]) -> impl Iterator<Item = Segment> {
    line.iter().copied().zip(line.iter().copied().skip(1))
}

/// The nearest points of two polylines of two points or more; zero apart where they cross, `None` for shorter ones.
pub(crate) fn nearest(first: &[Point], second: &[Point]) -> Option<Nearest> {
    let pairs = segments(first).flat_map(|a| segments(second).map(move |b| nearest_of_segments(a, b)));
    pairs.min_by(|a, b| a.distance.total_cmp(&b.distance))
}

/// The nearest point of a polyline to a point.
pub(crate) fn nearest_to(point: Point, line: &[Point]) -> Option<Nearest> {
    let feet = segments(line).map(|segment| {
        let foot = point.nearest_on(segment);
        Nearest { distance: point.distance(foot), first: point, second: foot }
    });
    feet.min_by(|a, b| a.distance.total_cmp(&b.distance))
}

fn nearest_of_segments(a: Segment, b: Segment) -> Nearest {
    if let Some(at) = crossing(a, b) {
        return Nearest { distance: 0.0, first: at, second: at };
    }
    // two segments that do not cross are nearest at an end of one of them
    let pair = |first: Point, second: Point| Nearest { distance: first.distance(second), first, second };
    let ends = [
        pair(a.0, a.0.nearest_on(b)),
        pair(a.1, a.1.nearest_on(b)),
        pair(b.0.nearest_on(a), b.0),
        pair(b.1.nearest_on(a), b.1),
    ];
    let [head, tail @ ..] = ends;
    tail.into_iter().fold(head, |best, next| if next.distance < best.distance { next } else { best })
}

/// Where two segments cross; `None` for parallel ones, whose ends settle the matter.
fn crossing(a: Segment, b: Segment) -> Option<Point> {
    let (along_a, along_b, between) = (a.1.minus(a.0), b.1.minus(b.0), b.0.minus(a.0));
    let turn = along_a.cross(along_b);
    if turn == 0.0 {
        return None;
    }
    let (on_a, on_b) = (between.cross(along_b) / turn, between.cross(along_a) / turn);
    let within = |share: f64| (0.0..=1.0).contains(&share);
    (within(on_a) && within(on_b)).then(|| a.0.toward(a.1, on_a))
}

/// Whether a point lies inside a closed polygon, by counting the edges beyond it.
pub(crate) fn inside(point: Point, polygon: &[Point]) -> bool {
    let closing = polygon.last().copied().zip(polygon.first().copied());
    let edges = segments(polygon).chain(closing);
    let beyond = edges.filter(|(a, b)| {
        (a.r > point.r) != (b.r > point.r) && point.z < a.z + (point.r - a.r) / (b.r - a.r) * (b.z - a.z)
    });
    beyond.count() % 2 == 1
}

/// The points of a polyline with others put between, so that none are more than `step` mm apart; at most `most`
/// to a piece.
pub(crate) fn walked(line: &[Point], step: f64, most: u32) -> Vec<Point> {
    let mut points: Vec<Point> = line.iter().copied().take(1).collect();
    for (a, b) in segments(line) {
        let pieces = (a.distance(b) / step).ceil().clamp(1.0, f64::from(most));
        let mut at = 1.0;
        while at <= pieces {
            points.push(a.toward(b, at / pieces));
            at += 1.0;
        }
    }
    points
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn line(points: &[(f64, f64)]) -> Vec<Point> {
        points.iter().map(|(z, r)| Point::new(*z, *r)).collect()
    }

    fn apart(first: &[(f64, f64)], second: &[(f64, f64)]) -> f64 {
        nearest(&line(first), &line(second)).map_or(f64::NAN, |n| n.distance)
    }

    #[test]
    fn distances_by_hand() {
        // geometry: end over middle, end to end (3-4-5), parallel, crossing, touching, one piece without length
        assert_eq!(apart(&[(0.0, 0.0), (10.0, 0.0)], &[(5.0, 3.0), (5.0, 9.0)]), 3.0);
        assert_eq!(apart(&[(0.0, 0.0), (10.0, 0.0)], &[(13.0, 4.0), (20.0, 4.0)]), 5.0);
        assert_eq!(apart(&[(0.0, 0.0), (10.0, 0.0)], &[(2.0, 7.0), (8.0, 7.0)]), 7.0);
        assert_eq!(apart(&[(0.0, 0.0), (10.0, 10.0)], &[(0.0, 10.0), (10.0, 0.0)]), 0.0);
        assert_eq!(apart(&[(0.0, 0.0), (10.0, 0.0)], &[(10.0, 0.0), (20.0, 5.0)]), 0.0);
        assert_eq!(apart(&[(0.0, 0.0), (0.0, 0.0)], &[(3.0, 4.0), (3.0, 4.0)]), 5.0);
        assert!(nearest(&line(&[(0.0, 0.0)]), &line(&[(1.0, 0.0), (2.0, 0.0)])).is_none());
    }

    #[test]
    fn inside_and_outside() {
        let square = line(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]);
        assert!(inside(Point::new(5.0, 5.0), &square) && !inside(Point::new(15.0, 5.0), &square));
        assert!(!inside(Point::new(5.0, -1.0), &square) && !inside(Point::new(-5.0, 5.0), &square));
        // a notch is outside
        let notched = line(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 2.0), (0.0, 10.0)]);
        assert!(!inside(Point::new(5.0, 5.0), &notched) && inside(Point::new(5.0, 1.0), &notched));
    }

    #[test]
    fn a_walk_keeps_the_corners() {
        let walk = walked(&line(&[(0.0, 0.0), (10.0, 0.0), (10.0, 2.5)]), 1.0, 100);
        assert_eq!(walk.len(), 14);
        assert!(walk.contains(&Point::new(10.0, 0.0)) && walk.ends_with(&[Point::new(10.0, 2.5)]));
        assert_eq!(walked(&line(&[(0.0, 0.0), (1e6, 0.0)]), 1.0, 50).len(), 51);
    }

    fn any_line() -> impl Strategy<Value = Vec<Point>> {
        prop::collection::vec((-50.0..50.0, 0.0..50.0).prop_map(|(z, r)| Point::new(z, r)), 2..6)
    }

    proptest! {
        #[test]
        fn no_sampled_pair_is_nearer(a in any_line(), b in any_line()) {
            let found = nearest(&a, &b).map_or(f64::NAN, |n| n.distance);
            let (fine_a, fine_b) = (walked(&a, 2.0, 60), walked(&b, 2.0, 60));
            let sampled = fine_a.iter().flat_map(|p| fine_b.iter().map(|q| p.distance(*q))).fold(f64::INFINITY, f64::min);
            prop_assert!(found <= sampled + 1e-9 && sampled <= found + 2.1);
        }

        #[test]
        fn the_distance_is_the_same_both_ways(a in any_line(), b in any_line()) {
            let [there, back] = [nearest(&a, &b), nearest(&b, &a)].map(|n| n.map_or(f64::NAN, |n| n.distance));
            prop_assert!((there - back).abs() < 1e-9);
        }

        #[test]
        fn the_points_named_are_as_far_apart_as_said(a in any_line(), b in any_line()) {
            let found = nearest(&a, &b);
            prop_assert!(found.is_some_and(|n| (n.first.distance(n.second) - n.distance).abs() < 1e-9));
        }
    }
}
