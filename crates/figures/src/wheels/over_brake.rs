//! A wheel over its brake: the least distance between the inside of the wheel and the envelope of rotor and caliper.

use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::polyline::{Nearest, Point, inside, nearest, nearest_to, walked};
use crate::error::{Expected, FigureError};
use crate::gap::{Gap, GapRule};
use crate::range::Range;

const POINTS: Range = Range::new(2.0, 200.0, "points");
const ALONG: Range = Range::new(-600.0, 600.0, "mm");
const RADIUS: Range = Range::new(0.0, 1_000.0, "mm");
const SPACER: Range = Range::new(0.0, 200.0, "mm");

/// Far beyond every profile, mm.
const FAR: f64 = 10_000.0;
/// How finely a brake envelope is walked in search of the deepest foul, mm.
const STEP: f64 = 1.0;
/// Most points put into one piece of an envelope.
const MOST: u32 = 1_000;

/// A point of a profile, turned about the axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProfilePoint {
    /// Along the axle from the hub face, outboard positive, -600 to 600 mm.
    pub z: Length,
    /// From the centre of the axle, 0 to 1,000 mm.
    pub r: Length,
}

/// The narrowest place between wheel and brake.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverBrake {
    /// The least distance, negative by the depth where they foul, held against the rule.
    pub gap: Gap,
    /// Radial part: how much further out the wheel's point lies than the brake's.
    pub radial: Length,
    /// Axial part: how much further outboard the wheel's point lies than the brake's.
    pub axial: Length,
    /// The point of the wheel, spacer counted.
    pub wheel: ProfilePoint,
    /// The point of the brake.
    pub brake: ProfilePoint,
}

/// Least distance between the inside of a wheel and the brake in it.
///
/// * `wheel`: inner profile, 2 to 200 points, from the inner lip along the barrel outboard, then along the disc in to
///   the hub bore: the first point lies furthest inboard, the last has the smallest radius. The wheel face on the hub
///   is `z` 0.
/// * `brake`: envelope of rotor and caliper, 2 to 200 points from inboard to outboard, without the face the wheel is
///   bolted to; what lies between it and the straight line that joins its ends counts as brake.
/// * `spacer`: moves the wheel outboard, 0 to 200 mm.
/// * `rule`: the gap wanted and how well both profiles were measured; 3 mm is common practice.
///
/// Where they foul, the distance is minus the depth: how far the deepest point found lies in the other body. The walk
/// looks every millimetre. A caliper that floats wants room for worn pads besides.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range or the wheel's profile is not listed as said.
///
/// Source: plane geometry in a half plane through the axle; 3 mm is common practice.
pub fn wheel_over_brake(
    wheel: &[ProfilePoint],
    brake: &[ProfilePoint],
    spacer: Length,
    rule: GapRule,
) -> Result<OverBrake, FigureError> {
    POINTS.check("points of the wheel profile", wheel.len() as f64)?;
    POINTS.check("points of the brake envelope", brake.len() as f64)?;
    let spacer = SPACER.check("wheel spacer", spacer.get::<millimeter>())?;
    let wheel = millimetres(wheel, ["wheel profile, along the axle", "wheel profile, radius"])?;
    let brake = millimetres(brake, ["brake envelope, along the axle", "brake envelope, radius"])?;
    check_order(&wheel)?;
    let wheel: Vec<Point> = wheel.iter().map(|p| Point::new(p.z + spacer, p.r)).collect();

    let narrowest = deepest_foul(&wheel, &brake).or_else(|| nearest(&wheel, &brake));
    let Some(Nearest { distance, first, second }) = narrowest else {
        return Err(FigureError {
            quantity: "points of the wheel profile",
            found: 0.0,
            expected: POINTS.expected(),
        });
    };
    let mm = Length::new::<millimeter>;
    Ok(OverBrake {
        gap: rule.judge(mm(distance))?,
        radial: mm(first.r - second.r),
        axial: mm(first.z - second.z),
        wheel: ProfilePoint { z: mm(first.z), r: mm(first.r) },
        brake: ProfilePoint { z: mm(second.z), r: mm(second.r) },
    })
}

fn millimetres(points: &[ProfilePoint], names: [&'static str; 2]) -> Result<Vec<Point>, FigureError> {
    let [along, radius] = names;
    let point = |p: &ProfilePoint| {
        let z = ALONG.check(along, p.z.get::<millimeter>())?;
        Ok(Point::new(z, RADIUS.check(radius, p.r.get::<millimeter>())?))
    };
    points.iter().map(point).collect()
}

/// The room in the wheel can only be told from its metal if the profile runs from the lip to the bore.
fn check_order(wheel: &[Point]) -> Result<(), FigureError> {
    let least = |value: fn(&Point) -> f64| wheel.iter().map(value).fold(f64::INFINITY, f64::min);
    let (inboard, bore) = (least(|p| p.z), least(|p| p.r));
    let refuse = |quantity, found, limit| {
        Err(FigureError {
            quantity,
            found,
            expected: Expected::Between { low: limit, high: limit, unit: "mm" },
        })
    };
    match (wheel.first(), wheel.last()) {
        (Some(first), _) if first.z > inboard => {
            refuse("inner lip, first point of the wheel profile", first.z, inboard)
        }
        (_, Some(last)) if last.r > bore => refuse("hub bore, last point of the wheel profile", last.r, bore),
        _ => Ok(()),
    }
}

/// The pair of points by which brake and wheel lie deepest in each other; `None` where they do not.
fn deepest_foul(wheel: &[Point], brake: &[Point]) -> Option<Nearest> {
    let room = room_in(wheel);
    let of_brake = walked(brake, STEP, MOST).into_iter().filter(|p| !inside(*p, &room));
    let of_brake = of_brake.filter_map(|p| nearest_to(p, wheel)).map(|n| swapped(&n));
    let of_wheel = wheel.iter().filter(|p| inside(**p, brake)).filter_map(|p| nearest_to(*p, brake));
    let deepest = of_brake.chain(of_wheel).max_by(|a, b| a.distance.total_cmp(&b.distance))?;
    Some(Nearest { distance: -deepest.distance, ..deepest })
}

fn swapped(n: &Nearest) -> Nearest {
    Nearest { distance: n.distance, first: n.second, second: n.first }
}

/// The room a brake may fill: open inboard beyond the lip, and through the hub bore.
fn room_in(wheel: &[Point]) -> Vec<Point> {
    let mut room = wheel.to_vec();
    if let (Some(lip), Some(bore)) = (wheel.first(), wheel.last()) {
        room.extend([
            Point::new(FAR, bore.r),
            // below the axle, so that a brake drawn down to it lies inside
            Point::new(FAR, -FAR),
            Point::new(-FAR, -FAR),
            Point::new(-FAR, FAR),
            Point::new(lip.z, FAR),
        ]);
    }
    room
}

#[cfg(test)]
#[path = "over_brake_tests.rs"]
mod tests;
