//! Displacement, compression ratio, piston position and speed, power (geometry; Heywood, ch. 2).

use std::f64::consts::{FRAC_PI_4, TAU};

use uom::si::angle::radian;
use uom::si::f64::{Angle, Length, Power, Torque, Velocity, Volume};
use uom::si::length::{meter, millimeter};
use uom::si::power::watt;
use uom::si::torque::newton_meter;
use uom::si::velocity::meter_per_second;
use uom::si::volume::{cubic_centimeter, cubic_meter};

use crate::error::{Expected, FigureError};
use crate::range::{RPM, Range};

const BORE: Range = Range::new(10.0, 500.0, "mm");
const STROKE: Range = Range::new(10.0, 1_000.0, "mm");
const CYLINDERS: Range = Range::new(1.0, 48.0, "cylinders");
const CHAMBER: Range = Range::new(1.0, 10_000.0, "cm3");
const CROWN: Range = Range::new(-1_000.0, 1_000.0, "cm3");
const GASKET: Range = Range::new(0.0, 20.0, "mm");
const DECK: Range = Range::new(-20.0, 50.0, "mm");
const COMPRESSION: Range = Range::new(1.5, 30.0, "");
const ROD: Range = Range::new(10.0, 3_000.0, "mm");
const CRANK: Range = Range::new(-3_600.0, 3_600.0, "°");
const TORQUE: Range = Range::new(0.1, 100_000.0, "N·m");

/// Volume swept by one cylinder: `pi B^2 S / 4`.
///
/// * `bore`: 10 to 500 mm; `stroke`: 10 to 1,000 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry.
pub fn swept_volume(bore: Length, stroke: Length) -> Result<Volume, FigureError> {
    BORE.check("bore", bore.get::<millimeter>())?;
    STROKE.check("stroke", stroke.get::<millimeter>())?;
    Ok(bore * bore * stroke * FRAC_PI_4)
}

/// Displacement of an engine: [`swept_volume`] times the cylinders.
///
/// * `cylinders`: 1 to 48.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry.
pub fn displacement(bore: Length, stroke: Length, cylinders: u32) -> Result<Volume, FigureError> {
    let cylinders = CYLINDERS.check("cylinders", f64::from(cylinders))?;
    Ok(swept_volume(bore, stroke)? * cylinders)
}

/// What is left over the piston at top dead centre, with the bore and stroke it belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cylinder {
    /// 10 to 500 mm.
    pub bore: Length,
    /// 10 to 1,000 mm.
    pub stroke: Length,
    /// Chamber in the head, measured with a plate and a burette, 1 to 10,000 cm3.
    pub chamber: Volume,
    /// Hollow of the piston crown less what stands up on it; -1,000 to 1,000 cm3, below zero for a dome.
    pub dish: Volume,
    /// Hole of the gasket, 10 to 500 mm, no less than the bore: a narrower one burns.
    pub gasket_bore: Length,
    /// Thickness of the gasket when pressed, 0 to 20 mm.
    pub gasket: Length,
    /// From the edge of the piston up to the block face, -20 to 50 mm; below zero where the piston stands proud.
    pub deck: Length,
}

/// Volume left over the piston at top dead centre: chamber, dish, gasket and deck.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range, or nothing is left.
///
/// Source: geometry; Heywood ch. 2.
pub fn clearance_volume(cylinder: &Cylinder) -> Result<Volume, FigureError> {
    BORE.check("bore", cylinder.bore.get::<millimeter>())?;
    CHAMBER.check("combustion chamber", cylinder.chamber.get::<cubic_centimeter>())?;
    CROWN.check("piston dish", cylinder.dish.get::<cubic_centimeter>())?;
    BORE.check("gasket bore", cylinder.gasket_bore.get::<millimeter>())?;
    // a hair for inches turned into millimetres
    if cylinder.gasket_bore < cylinder.bore * (1.0 - 1e-9) {
        let expected = Expected::Between { low: cylinder.bore.get::<millimeter>(), high: 500.0, unit: "mm" };
        let found = cylinder.gasket_bore.get::<millimeter>();
        return Err(FigureError { quantity: "gasket bore", found, expected });
    }
    GASKET.check("gasket thickness", cylinder.gasket.get::<millimeter>())?;
    DECK.check("deck clearance", cylinder.deck.get::<millimeter>())?;
    let disc = |bore: Length, height: Length| bore * bore * height * FRAC_PI_4;
    let left = cylinder.chamber
        + cylinder.dish
        + disc(cylinder.gasket_bore, cylinder.gasket)
        + disc(cylinder.bore, cylinder.deck);
    if left.get::<cubic_meter>() > 0.0 {
        return Ok(left);
    }
    let expected = Expected::Above { limit: 0.0, unit: "cm3" };
    Err(FigureError { quantity: "clearance volume", found: left.get::<cubic_centimeter>(), expected })
}

/// Compression ratio: `(swept + clearance) / clearance`.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range, or the ratio out of 1.5 to 30.
///
/// Source: definition, Heywood ch. 2.
pub fn compression_ratio(cylinder: &Cylinder) -> Result<f64, FigureError> {
    let swept = swept_volume(cylinder.bore, cylinder.stroke)?;
    let clearance = clearance_volume(cylinder)?;
    let ratio =
        (swept.get::<cubic_meter>() + clearance.get::<cubic_meter>()) / clearance.get::<cubic_meter>();
    COMPRESSION.check("compression ratio", ratio)
}

/// Chamber in the head that gives a compression ratio, the rest left as it is.
///
/// * `ratio`: 1.5 to 30.
/// * `cylinder`: its chamber is not read.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range, or no such chamber can be.
///
/// Source: [`compression_ratio`], solved for the chamber.
pub fn chamber_for(ratio: f64, cylinder: &Cylinder) -> Result<Volume, FigureError> {
    let ratio = COMPRESSION.check("compression ratio", ratio)?;
    let swept = swept_volume(cylinder.bore, cylinder.stroke)?;
    // a chamber that is sure to leave something, taken off again
    let probe = Volume::new::<cubic_centimeter>(9_999.0);
    let rest = clearance_volume(&Cylinder { chamber: probe, ..*cylinder })? - probe;
    let chamber = swept / (ratio - 1.0) - rest;
    CHAMBER.check("combustion chamber", chamber.get::<cubic_centimeter>())?;
    Ok(chamber)
}

/// Mean speed of a piston: `2 S n`.
///
/// * `stroke`: 10 to 1,000 mm; `rpm`: 1 to 100,000 rev/min. Above 20 m/s an old engine does not last (common practice).
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Heywood ch. 2.
pub fn mean_piston_speed(stroke: Length, rpm: f64) -> Result<Velocity, FigureError> {
    STROKE.check("stroke", stroke.get::<millimeter>())?;
    let rpm = RPM.check("engine speed", rpm)?;
    Ok(Velocity::new::<meter_per_second>(2.0 * stroke.get::<meter>() * rpm / 60.0))
}

/// How far the piston is below top dead centre: `r + l - (r cos t + sqrt(l^2 - r^2 sin^2 t))`.
///
/// * `crank`: from top dead centre, -3,600 to 3,600 deg.
/// * `stroke`: 10 to 1,000 mm; `rod`: between centres, 10 to 3,000 mm, more than half the stroke.
///
/// The pin is taken to lie on the axis of the cylinder.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range, or the rod is no longer than the crank throw.
///
/// Source: kinematics of the slider crank, Heywood ch. 2.
pub fn piston_below_top(crank: Angle, stroke: Length, rod: Length) -> Result<Length, FigureError> {
    let degrees = CRANK.check("crank angle", crank.get::<radian>().to_degrees())?;
    let throw = STROKE.check("stroke", stroke.get::<millimeter>())? / 2.0;
    let rod = ROD.check("rod length", rod.get::<millimeter>())?;
    if rod <= throw {
        let expected = Expected::Above { limit: throw, unit: "mm" };
        return Err(FigureError { quantity: "rod length", found: rod, expected });
    }
    let t = degrees.to_radians();
    let reach = throw * t.cos() + (rod * rod - (throw * t.sin()).powi(2)).sqrt();
    Ok(Length::new::<millimeter>((throw + rod - reach).max(0.0)))
}

/// Turn of the crank between two firings of an even four-stroke: `720 / cylinders`.
///
/// * `cylinders`: 1 to 48. Some V engines fire unevenly.
///
/// # Errors
/// [`FigureError`] if the number is out of its range.
///
/// Source: definition.
pub fn firing_interval(cylinders: u32) -> Result<Angle, FigureError> {
    let cylinders = CYLINDERS.check("cylinders", f64::from(cylinders))?;
    Ok(Angle::new::<radian>(2.0 * TAU / cylinders))
}

/// Power of a torque at a speed: `2 pi n T`.
///
/// * `torque`: 0.1 to 100,000 N·m; `rpm`: 1 to 100,000 rev/min.
///
/// American figures up to 1971 are gross, without fan, silencer and generator, 15 to 30 % above net (common practice).
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition; in kW `T n / 9,549.3`, in lbf·ft and hp `T n / 5,252.1`.
pub fn power(torque: Torque, rpm: f64) -> Result<Power, FigureError> {
    let torque = TORQUE.check("engine torque", torque.get::<newton_meter>())?;
    let rpm = RPM.check("engine speed", rpm)?;
    Ok(Power::new::<watt>(torque * rpm / 60.0 * TAU))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::angle::degree;
    use uom::si::length::inch;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn inches(value: f64) -> Length {
        Length::new::<inch>(value)
    }

    fn cc(value: f64) -> Volume {
        Volume::new::<cubic_meter>(value * 1e-6)
    }

    fn size(bore: f64, stroke: f64, cylinders: u32) -> Result<f64, FigureError> {
        displacement(inches(bore), inches(stroke), cylinders).map(|v| v.get::<cubic_meter>() * 1e6)
    }

    /// bore, stroke, chamber cc, dish cc, gasket bore, gasket, deck; lengths in inches
    const EIGHT: [f64; 7] = [4.0, 3.48, 64.0, 6.0, 4.1, 0.040, 0.025];

    fn cylinder(a: [f64; 7]) -> Cylinder {
        Cylinder {
            bore: inches(a[0]),
            stroke: inches(a[1]),
            chamber: cc(a[2]),
            dish: cc(a[3]),
            gasket_bore: inches(a[4]),
            gasket: inches(a[5]),
            deck: inches(a[6]),
        }
    }

    fn ratio(a: [f64; 7]) -> Result<f64, FigureError> {
        compression_ratio(&cylinder(a))
    }

    fn with(at: usize, value: f64) -> [f64; 7] {
        let mut a = EIGHT;
        a[at] = value;
        a
    }

    fn below(degrees: f64, stroke: f64, rod: f64) -> Result<f64, FigureError> {
        piston_below_top(Angle::new::<degree>(degrees), inches(stroke), inches(rod))
            .map(|l| l.get::<millimeter>())
    }

    fn kilowatts(torque: f64, rpm: f64) -> Result<f64, FigureError> {
        power(Torque::new::<newton_meter>(torque), rpm).map(|p| p.get::<watt>() / 1000.0)
    }

    #[test]
    fn displacements_against_the_unit_library() {
        // by a general-purpose library
        for (bore, stroke, cylinders, cm3) in [
            (4.0, 3.48, 8, 5_732.977_599_03),
            (4.0, 3.0, 8, 4_942.222_068_13),
            (3.875, 3.53, 6, 4_093.175_827_24),
            (3.16, 3.5, 4, 1_799.257_129_08),
        ] {
            close(size(bore, stroke, cylinders), cm3, 1e-9);
        }
        // dataset.mtcars.row/row 4, tier L: 350 cu in, eight cylinders, 5.7354724 L, to the rounding of its bore
        close(size(4.0, 3.48, 8).map(|v| v / 1000.0), 5.735_472_4, 5e-4);
    }

    #[test]
    fn compression_against_the_unit_library() {
        // tier L: engine.compression_ratio/350-type
        close(ratio(EIGHT), 9.551_354_621_3, 1e-9);
        let left = clearance_volume(&cylinder(EIGHT)).map(|v| v.get::<cubic_meter>() * 1e6);
        close(left, 83.802_184_754_8, 1e-9);
        let swept = swept_volume(inches(4.0), inches(3.48)).map(|v| v.get::<cubic_meter>() * 1e6);
        close(swept, 716.622_199_878, 1e-9);
        // no gasket and a piston level with the block: chamber and dish alone
        let mut bare = with(5, 0.0);
        bare[6] = 0.0;
        close(ratio(bare), 716.622_199_878 / 70.0 + 1.0, 1e-9);
        // taken back to the chamber
        let chamber = chamber_for(9.551_354_621_3, &cylinder(EIGHT)).map(|v| v.get::<cubic_meter>() * 1e6);
        close(chamber, 64.0, 1e-9);
    }

    #[test]
    fn pistons_against_a_root_finder() {
        // tier N: engine.piston_position/77 and 180 deg ATDC, stroke 3.48, rod 5.7 in
        close(below(77.0, 3.48, 5.7), 40.806_699_444_9, 1e-9);
        close(below(180.0, 3.48, 5.7), 88.392, 1e-9);
        assert_eq!(below(0.0, 3.48, 5.7), Ok(0.0));
        // tier L: engine.mean_piston_speed/3.48 in, 6000 rpm
        close(mean_piston_speed(inches(3.48), 6000.0).map(|v| v.get::<meter_per_second>()), 17.678_4, 1e-9);
    }

    #[test]
    fn intervals_and_power() {
        // tier A (regression): engine.firing_interval/4, 6, 12 cylinders
        for (cylinders, degrees) in [(4, 180.0), (6, 120.0), (12, 60.0)] {
            close(firing_interval(cylinders).map(|a| a.get::<degree>()), degrees, 1e-12);
        }
        // definition: 9,549.297 N·m at 1 rev/min is 1 kW; 5,252.113 lbf·ft at 1 rev/min is 1 hp
        close(kilowatts(9_549.297, 1.0), 1.0, 1e-7);
        close(kilowatts(5_252.113 * 1.355_817_948_331, 1.0), 0.745_699_871_58, 1e-7);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(size(bad, 3.48, 8), "bore");
            refuses(size(4.0, bad, 8), "stroke");
            refuses(ratio(with(0, bad)), "bore");
            refuses(ratio(with(1, bad)), "stroke");
            refuses(ratio(with(2, bad)), "combustion chamber");
            refuses(ratio(with(4, bad)), "gasket bore");
            refuses(mean_piston_speed(inches(bad), 6000.0), "stroke");
            refuses(mean_piston_speed(inches(3.48), bad), "engine speed");
            refuses(below(77.0, bad, 5.7), "stroke");
            refuses(below(77.0, 3.48, bad), "rod length");
            refuses(kilowatts(bad, 3000.0), "engine torque");
            refuses(kilowatts(100.0, bad), "engine speed");
            refuses(chamber_for(bad, &cylinder(EIGHT)), "compression ratio");
        }
        for bad in [f64::NAN, f64::INFINITY, 1e9, -1e9] {
            refuses(ratio(with(3, bad)), "piston dish");
            refuses(ratio(with(5, bad)), "gasket thickness");
            refuses(ratio(with(6, bad)), "deck clearance");
            refuses(below(bad, 3.48, 5.7), "crank angle");
        }
        refuses(size(4.0, 3.48, 0), "cylinders");
        refuses(firing_interval(49), "cylinders");
        refuses(below(77.0, 3.48, 1.74), "rod length");
        // a dome that fills the chamber
        refuses(ratio(with(3, -90.0)), "clearance volume");
        // a chamber for a ratio the gasket alone does not allow
        refuses(chamber_for(30.0, &cylinder(with(3, 60.0))), "combustion chamber");
    }

    proptest! {
        #[test]
        fn ratio_and_chamber_undo_each_other(wanted in 5.0..14.0) {
            let chamber = chamber_for(wanted, &cylinder(EIGHT)).unwrap_or_default();
            let back = ratio(with(2, chamber.get::<cubic_meter>() * 1e6)).unwrap_or(f64::NAN);
            prop_assert!((back / wanted - 1.0).abs() < 1e-9);
        }

        #[test]
        fn a_rebore_raises_displacement_and_ratio(more in 0.01..0.06) {
            prop_assert!(ratio(with(0, 4.0 + more)).unwrap_or(f64::NAN) > ratio(EIGHT).unwrap_or(f64::NAN));
            prop_assert!(size(4.0 + more, 3.48, 8).unwrap_or(f64::NAN) > size(4.0, 3.48, 8).unwrap_or(f64::NAN));
        }

        #[test]
        fn the_piston_is_where_it_was_on_the_way_down(degrees in 0.0..180.0) {
            let (down, up) = (below(degrees, 3.48, 5.7), below(-degrees, 3.48, 5.7));
            prop_assert!((down.unwrap_or(f64::NAN) - up.unwrap_or(f64::NAN)).abs() < 1e-9);
            prop_assert!(down.unwrap_or(f64::NAN) <= 88.392 + 1e-9);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<[f64; 7]>(), at in 0_usize..7, n in any::<u32>()) {
            prop_assert!(sound(ratio(a)) && sound(ratio(with(at, a[at]))) && sound(size(a[0], a[1], n)));
            prop_assert!(below(a[0], a[1], a[2]).map_or(true, |v| v.is_finite() && v >= 0.0));
            prop_assert!(sound(kilowatts(a[0], a[1])));
            prop_assert!(sound(chamber_for(a[0], &cylinder(a)).map(|v| v.get::<cubic_meter>())));
        }
    }
}
