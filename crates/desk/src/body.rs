//! Drawings of body forms: outlines and the regions of the systems, from data.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

/// The drawings shipped with the program.
static FILES: [&str; 1] = [include_str!("../../../assets/body/pickup.json")];

static BODIES: LazyLock<Vec<Body>> = LazyLock::new(|| {
    FILES.iter().filter_map(|text| serde_json::from_str(text).ok()).filter(|b: &Body| b.format == 1).collect()
});

/// A point in millimetres: from the front, up from the ground.
pub type Point = [f32; 2];

/// A side elevation.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Body {
    /// The format's number: 1.
    pub format: u32,
    /// What it shows, in words.
    pub about: String,
    /// Vehicle ids it serves.
    pub vehicles: Vec<String>,
    /// Length and height in millimetres.
    pub size: Point,
    /// Strokes by what they draw.
    pub lines: BTreeMap<String, Vec<Point>>,
    /// Regions by system id.
    pub regions: BTreeMap<String, Region>,
}

/// Where a system lies.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Region {
    /// A short name for beside the drawing.
    pub label: String,
    /// Convex shapes, counter-clockwise.
    pub shapes: Vec<Vec<Point>>,
}

/// The drawing of a vehicle; `None` where there is none.
pub fn of(vehicle: &str) -> Option<&'static Body> {
    BODIES.iter().find(|body| body.vehicles.iter().any(|v| v == vehicle))
}

impl Body {
    /// The system at a point: the smallest shape there, so that what lies inside another can be reached.
    pub fn at(&self, p: Point) -> Option<&str> {
        let shapes = self.regions.iter().flat_map(|(id, r)| r.shapes.iter().map(move |s| (id, s)));
        shapes
            .filter(|(_, shape)| inside(shape, p))
            .min_by(|a, b| area(a.1).total_cmp(&area(b.1)))
            .map(|(id, _)| id.as_str())
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

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::{Body, FILES, area, edges, inside, of, turn};

    #[test]
    fn every_drawing_can_be_read_and_stays_inside_its_size() {
        for text in FILES {
            let body: Body = serde_json::from_str(text).unwrap();
            assert_eq!(body.format, 1);
            assert!(!body.about.is_empty());
            let [long, high] = body.size;
            let points = body.lines.values().flatten();
            let shapes = body.regions.values().flat_map(|r| &r.shapes);
            for [x, y] in points.chain(shapes.clone().flatten()) {
                assert!((0.0..=long).contains(x) && (0.0..=high).contains(y), "{x} {y}");
            }
            for (name, line) in &body.lines {
                assert!(line.len() > 1, "{name}");
            }
            for shape in shapes {
                // filled as they stand: convex, and the same way round
                assert!(shape.len() > 2 && area(shape) > 0.0, "{shape:?}");
                for ((a, b), (_, c)) in edges(shape).zip(edges(shape).skip(1)) {
                    assert!(turn(a, b, c) >= 0.0, "not convex at {b:?}");
                }
            }
        }
    }

    #[test]
    fn every_system_of_the_vehicles_has_its_region_and_can_be_reached() {
        let catalogue = knockon_store::library::shipped();
        for text in FILES {
            let body: Body = serde_json::from_str(text).unwrap();
            for id in &body.vehicles {
                let vehicle = catalogue.vehicles.get(id).unwrap();
                for position in vehicle.positions.values() {
                    assert!(body.regions.contains_key(&position.system), "{}", position.system);
                }
                assert_eq!(of(id).unwrap().about, body.about);
            }
            for (id, region) in &body.regions {
                assert!(catalogue.systems.iter().any(|(known, _)| known == id), "{id} is no system");
                assert!(!region.label.is_empty());
                let [long, high] = body.size;
                let reached = (0..long as u32).step_by(20).any(|x| {
                    (0..high as u32).step_by(20).any(|y| body.at([x as f32, y as f32]) == Some(id.as_str()))
                });
                assert!(reached, "nothing of {id} can be clicked");
            }
        }
        assert!(of("no such vehicle").is_none());
    }

    #[test]
    fn the_smallest_shape_wins() {
        let body = of("furrow-10").unwrap();
        assert_eq!(body.at([860.0, 360.0]), Some("brakes"));
        assert_eq!(body.at([860.0, 30.0]), Some("wheels"));
        assert_eq!(body.at([3760.0, 360.0]), Some("driveline"));
        assert_eq!(body.at([10.0, 1700.0]), None);
        assert!(inside(&[[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]], [0.2, 0.2]));
    }
}
