//! A tyre in the body: height against lift, and the steering lock against spring and arch (a box for a tyre).

use std::f64::consts::FRAC_PI_2;

use uom::si::angle::{degree, radian};
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use crate::error::FigureError;
use crate::gap::{Gap, GapRule};
use crate::range::Range;

const HUB_TO_ARCH: Range = Range::new(100.0, 2_000.0, "mm");
const HUB_TO_EDGE: Range = Range::new(100.0, 2_000.0, "mm");
const BUMP: Range = Range::new(0.0, 500.0, "mm");
const LIFT: Range = Range::new(-300.0, 500.0, "mm");
const GAP: Range = Range::new(0.0, 200.0, "mm");
const TYRE: Range = Range::new(100.0, 3_000.0, "mm");
const SECTION: Range = Range::new(50.0, 700.0, "mm");
const CENTRE: Range = Range::new(-300.0, 500.0, "mm");
const OBSTACLE: Range = Range::new(0.0, 1_500.0, "mm");
const EDGE: Range = Range::new(100.0, 2_000.0, "mm");
const LOCK: Range = Range::new(0.0, 60.0, "°");

/// The opening in the body a wheel stands in, measured at ride height before any lift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelHouse {
    /// From the wheel's centre straight up to the lowest thing above the tyre, 100 to 2,000 mm.
    pub hub_to_arch: Length,
    /// From the wheel's centre level to the nearer end of the opening, 100 to 2,000 mm; a lift does not change it.
    pub hub_to_edge: Length,
    /// How far the wheel rises to its stop, 0 to 500 mm; what a lift adds is left if the stop is lengthened by less.
    pub bump: Length,
}

/// The tallest tyre for a body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TallestTyre {
    /// Largest diameter that clears the arch at full bump.
    pub by_height: Length,
    /// Largest diameter that clears the ends of the opening, wheels straight.
    pub by_length: Length,
}

/// A front tyre seen from above, turning about its steering axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TyreOnLock {
    /// From the steering axis at hub height out to the middle of the tyre, -300 to 500 mm; outboard is positive.
    pub centre_out: Length,
    /// Diameter of the tyre, 100 to 3,000 mm.
    pub diameter: Length,
    /// Section width of the tyre, 50 to 700 mm.
    pub section: Length,
}

impl TallestTyre {
    /// The smaller of the two.
    #[must_use]
    pub fn diameter(&self) -> Length {
        if self.by_height < self.by_length { self.by_height } else { self.by_length }
    }
}

/// Tallest tyre for a lift: by height `2 (hub to arch + lift - bump - gap)`, by length `2 (hub to edge - gap)`.
///
/// * `house`: within the ranges of [`WheelHouse`].
/// * `lift`: of the body over the axle, -300 to 500 mm; negative is lowered.
/// * `gap`: to keep all round, 0 to 200 mm; 15 mm is common practice for what turns and moves.
///
/// The model: a circle that rises straight to the stop. It knows nothing of the lock, see [`lock_gap`], of an axle that
/// tips with one wheel up, or of the path of the spring, so measure before cutting anything.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range or no tyre fits at all.
///
/// Source: geometry; the gap is common practice.
pub fn tallest_tyre(house: WheelHouse, lift: Length, gap: Length) -> Result<TallestTyre, FigureError> {
    let over = house.over_at_bump(lift)?;
    GAP.check("gap wanted", gap.get::<millimeter>())?;
    let [by_height, by_length] = [over - gap, house.hub_to_edge - gap].map(|radius| 2.0 * radius);
    TYRE.check("tallest tyre by height", by_height.get::<millimeter>())?;
    TYRE.check("tallest tyre by length", by_length.get::<millimeter>())?;
    Ok(TallestTyre { by_height, by_length })
}

/// Lift a tyre wants to clear the arch at full bump: `diameter / 2 + bump + gap - hub to arch`; zero where it clears.
///
/// * `house`: within the ranges of [`WheelHouse`].
/// * `diameter`: of the tyre, 100 to 3,000 mm.
/// * `gap`: to keep over it, 0 to 200 mm.
///
/// A lift does not help a tyre that is too long for the opening: see [`TallestTyre::by_length`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry, the model of [`tallest_tyre`].
pub fn lift_wanted(house: WheelHouse, diameter: Length, gap: Length) -> Result<Length, FigureError> {
    let none = Length::new::<millimeter>(0.0);
    let over = house.over_at_bump(none)?;
    TYRE.check("tyre diameter", diameter.get::<millimeter>())?;
    GAP.check("gap wanted", gap.get::<millimeter>())?;
    let lift = diameter / 2.0 + gap - over;
    Ok(if lift > none { lift } else { none })
}

/// Gap over the tyre at full bump: `hub to arch + lift - bump - diameter / 2`.
///
/// * `house`: within the ranges of [`WheelHouse`].
/// * `lift`: -300 to 500 mm.
/// * `diameter`: of the tyre, 100 to 3,000 mm.
/// * `rule`: the gap wanted and how well the measures are known.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry, the model of [`tallest_tyre`].
pub fn bump_gap(
    house: WheelHouse,
    lift: Length,
    diameter: Length,
    rule: GapRule,
) -> Result<Gap, FigureError> {
    let over = house.over_at_bump(lift)?;
    TYRE.check("tyre diameter", diameter.get::<millimeter>())?;
    rule.judge(over - diameter / 2.0)
}

/// Gap between the tyre on lock and what lies inboard of it, a spring or a rail: with `u` from the steering axis to the
/// tyre's inner side and half the diameter `v`, the nearest corner lies at `u cos lock - v sin lock`.
///
/// * `tyre`: within the ranges of [`TyreOnLock`].
/// * `axis_to_obstacle`: from the steering axis in to the obstacle, 0 to 1,500 mm.
/// * `lock`: angle of this wheel, 0 to 60 deg; the inner wheel turns furthest.
/// * `rule`: the gap wanted; 15 mm is common practice on lock.
///
/// The model: the tyre is a box, seen from above at hub height. The shoulders of a real tyre are round, so it errs to
/// the safe side, by some millimetres for narrow tyres.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry; held against a measured vehicle (an example vehicle: 20 mm measured, 17 mm by the model).
pub fn lock_gap(
    tyre: TyreOnLock,
    axis_to_obstacle: Length,
    lock: Angle,
    rule: GapRule,
) -> Result<Gap, FigureError> {
    let (inner, half) = tyre.corner()?;
    let obstacle = OBSTACLE.check("steering axis to obstacle", axis_to_obstacle.get::<millimeter>())?;
    let lock = LOCK.check("steering lock", lock.get::<degree>())?.to_radians();
    let corner = inner * lock.cos() - half * lock.sin();
    rule.judge(Length::new::<millimeter>(obstacle + corner))
}

/// Greatest lock that leaves a gap to what lies inboard: [`lock_gap`] solved for the angle; 90 degrees where nothing is
/// in the way, `None` where the gap is not even there straight ahead.
///
/// * `tyre`: within the ranges of [`TyreOnLock`].
/// * `axis_to_obstacle`: 0 to 1,500 mm.
/// * `gap`: to keep, 0 to 200 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry, the model of [`lock_gap`].
pub fn greatest_lock(
    tyre: TyreOnLock,
    axis_to_obstacle: Length,
    gap: Length,
) -> Result<Option<Angle>, FigureError> {
    let (inner, half) = tyre.corner()?;
    let obstacle = OBSTACLE.check("steering axis to obstacle", axis_to_obstacle.get::<millimeter>())?;
    let limit = GAP.check("gap wanted", gap.get::<millimeter>())? - obstacle;
    if inner < limit {
        return Ok(None);
    }
    // u cos a - v sin a = R cos(a + atan(v/u)), which falls until it is -R
    let reach = inner.hypot(half);
    let lock = if limit <= -reach { FRAC_PI_2 } else { (limit / reach).acos() - half.atan2(inner) };
    Ok(Some(Angle::new::<radian>(lock.clamp(0.0, FRAC_PI_2))))
}

/// Gap between the tyre on lock and the end of the opening ahead of or behind it: the outer corner reaches
/// `v cos lock + w sin lock` along the vehicle, `w` being from the steering axis to the tyre's outer side.
///
/// * `tyre`: within the ranges of [`TyreOnLock`].
/// * `axis_to_edge`: from the steering axis along the vehicle to the end of the opening, 100 to 2,000 mm.
/// * `lock`: 0 to 60 deg.
/// * `rule`: the gap wanted.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry, the model of [`lock_gap`].
pub fn lock_edge_gap(
    tyre: TyreOnLock,
    axis_to_edge: Length,
    lock: Angle,
    rule: GapRule,
) -> Result<Gap, FigureError> {
    let (inner, half) = tyre.corner()?;
    let edge = EDGE.check("steering axis to end of opening", axis_to_edge.get::<millimeter>())?;
    let lock = LOCK.check("steering lock", lock.get::<degree>())?.to_radians();
    let outer = inner + tyre.section.get::<millimeter>();
    // whichever side reaches further; the outer one, unless the tyre stands inboard of its axis
    let aside = outer.abs().max(inner.abs());
    rule.judge(Length::new::<millimeter>(edge - half * lock.cos() - aside * lock.sin()))
}

impl WheelHouse {
    /// What is over the wheel's centre at full bump.
    fn over_at_bump(&self, lift: Length) -> Result<Length, FigureError> {
        HUB_TO_ARCH.check("hub to arch", self.hub_to_arch.get::<millimeter>())?;
        HUB_TO_EDGE.check("hub to end of opening", self.hub_to_edge.get::<millimeter>())?;
        BUMP.check("bump travel", self.bump.get::<millimeter>())?;
        LIFT.check("lift", lift.get::<millimeter>())?;
        Ok(self.hub_to_arch + lift - self.bump)
    }
}

impl TyreOnLock {
    /// From the steering axis to the inner side, and half the diameter, mm.
    fn corner(&self) -> Result<(f64, f64), FigureError> {
        let centre = CENTRE.check("steering axis to tyre centre", self.centre_out.get::<millimeter>())?;
        let diameter = TYRE.check("tyre diameter", self.diameter.get::<millimeter>())?;
        let section = SECTION.check("tyre section width", self.section.get::<millimeter>())?;
        Ok((centre - section / 2.0, diameter / 2.0))
    }
}

#[cfg(test)]
#[path = "tyre_room_tests.rs"]
mod tests;
