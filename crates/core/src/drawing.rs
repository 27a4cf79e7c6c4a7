//! Side drawings of vehicles: outlines, and the regions where the systems lie.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::table::Table;

/// A point in millimetres: from the front, up from the ground.
pub type Point = [f32; 2];

/// Longest side of a drawing in millimetres.
pub const LONGEST: f32 = 100_000.0;
/// Most points a drawing has: more slow the screen down and show nothing.
pub const MOST_POINTS: usize = 20_000;

/// A side elevation of one vehicle or of several alike.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Drawing {
    /// What it shows, in words: it is read out for whoever does not see it.
    pub about: String,
    /// Vehicle ids it serves.
    pub vehicles: Vec<String>,
    /// Length and height in millimetres.
    pub size: Point,
    /// Strokes by what they draw: each two points or more.
    #[serde(default)]
    pub lines: Table<Vec<Point>>,
    /// Regions by system id.
    #[serde(default)]
    pub regions: Table<Region>,
}

/// Where a system lies.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Region {
    /// A short name for beside the drawing.
    pub label: String,
    /// Convex shapes of three points or more, counter-clockwise.
    pub shapes: Vec<Vec<Point>>,
}

impl Drawing {
    /// The system at a point: the smallest shape there, so that what lies inside another can be reached.
    #[must_use]
    pub fn at(&self, p: Point) -> Option<&str> {
        let shapes = self.regions.iter().flat_map(|(id, r)| r.shapes.iter().map(move |s| (id, s)));
        shapes
            .filter(|(_, shape)| inside(shape, p))
            .min_by(|a, b| area(a.1).total_cmp(&area(b.1)))
            .map(|(id, _)| id.as_str())
    }

    /// What keeps it from being drawn, each with its path below the drawing. `systems`: those there are.
    #[must_use]
    pub fn faults(&self, systems: &BTreeMap<&str, ()>) -> Vec<(String, String)> {
        let mut out = Vec::new();
        let [long, high] = self.size;
        if ![long, high].iter().all(|side| (1.0..=LONGEST).contains(side)) {
            let expected = format!("expected length and height in millimetres, each from 1 to {LONGEST}");
            return vec![("size".to_owned(), format!("{expected}, found {long} and {high}"))];
        }
        let shapes = self.regions.values().flat_map(|region| &region.shapes);
        if self.lines.values().chain(shapes).map(Vec::len).sum::<usize>() > MOST_POINTS {
            return vec![("lines".to_owned(), format!("a drawing has at most {MOST_POINTS} points"))];
        }
        let is_inside = |[x, y]: &Point| (0.0..=long).contains(x) && (0.0..=high).contains(y);
        let mut outside = |path: &str, points: &[Point]| {
            let found = points.iter().position(|point| !is_inside(point));
            out.extend(found.map(|at| {
                let [x, y] = points[at];
                (
                    format!("{path}[{at}]"),
                    format!("the point {x}, {y} lies outside the size of {long} by {high} mm"),
                )
            }));
        };
        for (name, line) in &self.lines {
            outside(&format!("lines.{name}"), line);
        }
        for (id, region) in &self.regions {
            for (n, shape) in region.shapes.iter().enumerate() {
                outside(&format!("regions.{id}.shapes[{n}]"), shape);
            }
        }
        for (name, line) in self.lines.iter().filter(|(_, line)| line.len() < 2) {
            out.push((
                format!("lines.{name}"),
                format!("a stroke takes two points or more, found {}", line.len()),
            ));
        }
        for (id, region) in &self.regions {
            let path = format!("regions.{id}");
            if !systems.contains_key(id.as_str()) {
                let near = crate::meant::nearest(id, systems.keys().copied());
                let rest = crate::meant::then(near, "add it or correct the word");
                out.push((path.clone(), format!("there is no system \"{id}\"{rest}")));
            }
            if region.label.trim().is_empty() {
                out.push((format!("{path}.label"), "expected a short name, found nothing".to_owned()));
            }
            for (n, shape) in region.shapes.iter().enumerate().filter(|(_, shape)| !is_convex(shape)) {
                out.push((
                    format!("{path}.shapes[{n}]"),
                    format!(
                        "expected a shape without a notch, counter-clockwise, of three points or more; found {} \
                         points; turn it round, or cut it into shapes without a notch",
                        shape.len()
                    ),
                ));
            }
        }
        out
    }
}

/// Twice the area left of a-b-c; above zero for a turn to the left.
fn turn(a: Point, b: Point, c: Point) -> f32 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

fn edges(shape: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    shape.iter().copied().zip(shape.iter().copied().cycle().skip(1))
}

fn inside(shape: &[Point], p: Point) -> bool {
    shape.len() > 2 && edges(shape).all(|(a, b)| turn(a, b, p) >= 0.0)
}

fn area(shape: &[Point]) -> f32 {
    edges(shape).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f32>() / 2.0
}

/// Filled as it stands: no notch, and counter-clockwise.
fn is_convex(shape: &[Point]) -> bool {
    let after = shape.iter().copied().cycle().skip(2);
    shape.len() > 2 && area(shape) > 0.0 && edges(shape).zip(after).all(|((a, b), c)| turn(a, b, c) >= 0.0)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::{Drawing, Point, Region, inside};

    const SQUARE: [Point; 4] = [[0.0, 0.0], [80.0, 0.0], [80.0, 80.0], [0.0, 80.0]];

    fn drawing(shapes: &[&[Point]]) -> Drawing {
        let region = Region { label: "Cab".into(), shapes: shapes.iter().map(|s| s.to_vec()).collect() };
        Drawing {
            size: [100.0, 100.0],
            regions: [("cab".to_owned(), region)].into(),
            lines: [("sill".to_owned(), vec![[0.0, 0.0], [100.0, 0.0]])].into(),
            ..Drawing::default()
        }
    }

    fn paths(drawing: &Drawing) -> Vec<String> {
        drawing.faults(&BTreeMap::from([("cab", ())])).into_iter().map(|(path, _)| path).collect()
    }

    #[test]
    fn what_can_be_drawn_has_no_fault() {
        assert_eq!(paths(&drawing(&[&SQUARE])), [""; 0]);
    }

    #[test]
    fn each_thing_that_cannot_be_drawn_is_told_by_its_path() {
        let clockwise: Vec<Point> = SQUARE.iter().rev().copied().collect();
        let notched = [[0.0, 0.0], [80.0, 0.0], [20.0, 20.0], [0.0, 80.0]];
        assert_eq!(
            paths(&drawing(&[&clockwise, &notched, &SQUARE[..2]])),
            ["regions.cab.shapes[0]", "regions.cab.shapes[1]", "regions.cab.shapes[2]"]
        );
        let mut wrong = drawing(&[&SQUARE]);
        wrong.lines.insert("roof".to_owned(), vec![[1.0, 1.0], [f32::NAN, 7.0]]);
        wrong.lines.insert("dot".to_owned(), vec![[1.0, 1.0]]);
        assert_eq!(paths(&wrong), ["lines.roof[1]", "lines.dot"]);
        wrong.size = [f32::INFINITY, 100.0];
        assert_eq!(paths(&wrong), ["size"]);
        assert_eq!(drawing(&[&SQUARE]).faults(&BTreeMap::new())[0].0, "regions.cab");
        let mut large = drawing(&[]);
        large.lines.insert("scribble".to_owned(), vec![[1.0, 1.0]; super::MOST_POINTS + 1]);
        assert_eq!(paths(&large), ["lines"]);
    }

    #[test]
    fn the_smallest_shape_wins() {
        let mut drawing = drawing(&[&SQUARE]);
        let small = vec![vec![[10.0, 10.0], [20.0, 10.0], [20.0, 20.0]]];
        drawing.regions.insert("fuel".to_owned(), Region { label: "Fuel".into(), shapes: small });
        assert_eq!(drawing.at([18.0, 12.0]), Some("fuel"));
        assert_eq!(drawing.at([50.0, 50.0]), Some("cab"));
        assert_eq!(drawing.at([90.0, 90.0]), None);
        assert!(inside(&[[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]], [0.2, 0.2]));
    }
}
