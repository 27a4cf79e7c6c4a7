//! From the pedal to the clamp: pressure, force, torque of a disc, fluid displaced and travel (physics; Limpert).

use std::f64::consts::FRAC_PI_4;

use uom::si::area::square_meter;
use uom::si::f64::{Area, Force, Length, Pressure, Torque, Volume};
use uom::si::force::newton;
use uom::si::length::{meter, millimeter};
use uom::si::pressure::kilopascal;
use uom::si::torque::newton_meter;
use uom::si::volume::{cubic_centimeter, cubic_meter};

use super::{BOOSTER_GAIN, PEDAL_RATIO};
use crate::error::{Expected, FigureError};
use crate::range::{CYLINDER_BORE, Range};

const PEDAL_FORCE: Range = Range::new(1.0, 5_000.0, "N");
const LINE_PRESSURE: Range = Range::new(1.0, 50_000.0, "kPa");
const PISTONS: Range = Range::new(1.0, 12.0, "pistons");
const CLAMP: Range = Range::new(1.0, 1e6, "N");
const FRICTION: Range = Range::new(0.05, 1.0, "");
const DISC_RADIUS: Range = Range::new(20.0, 500.0, "mm");
const PISTON_TRAVEL: Range = Range::new(0.001, 100.0, "mm");
const FLUID_VOLUME: Range = Range::new(0.001, 1_000.0, "cm3");
const FREE_PLAY: Range = Range::new(0.0, 50.0, "mm");

/// Area of a round piston.
fn piston_area(bore: Length) -> Area {
    Area::new::<square_meter>(FRAC_PI_4 * bore.get::<meter>().powi(2))
}

/// Pressure the foot makes: `F ratio gain / (pi d^2 / 4)`.
///
/// * `pedal_force`: on the pad, 1 to 5,000 N.
/// * `pedal_ratio`: travel of the pad for each travel of the pushrod, 1 to 20.
/// * `booster_gain`: force out for force in, 1 to 30; 1 is no booster.
/// * `master_bore`: 5 to 100 mm. A bigger one gives less pressure and a shorter pedal.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: physics; Limpert, Brake Design and Safety.
pub fn line_pressure(
    pedal_force: Force,
    pedal_ratio: f64,
    booster_gain: f64,
    master_bore: Length,
) -> Result<Pressure, FigureError> {
    let force = PEDAL_FORCE.check("pedal force", pedal_force.get::<newton>())?;
    let ratio = PEDAL_RATIO.check("pedal ratio", pedal_ratio)?;
    let gain = BOOSTER_GAIN.check("booster gain", booster_gain)?;
    CYLINDER_BORE.check("master bore", master_bore.get::<millimeter>())?;
    Ok(Force::new::<newton>(force * ratio * gain) / piston_area(master_bore))
}

/// Force of the pistons of one side of a caliper, or of one end of a wheel cylinder: `p n pi d^2 / 4`.
///
/// * `pressure`: 1 to 50,000 kPa.
/// * `bore`: 5 to 100 mm.
/// * `pistons_one_side`: 1 to 12. In a caliper with pistons on both sides count those of one side only.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: physics.
pub fn clamp_force(pressure: Pressure, bore: Length, pistons_one_side: u32) -> Result<Force, FigureError> {
    LINE_PRESSURE.check("line pressure", pressure.get::<kilopascal>())?;
    CYLINDER_BORE.check("piston bore", bore.get::<millimeter>())?;
    let pistons = PISTONS.check("pistons on one side", f64::from(pistons_one_side))?;
    Ok(pressure * piston_area(bore) * pistons)
}

/// How far the pads have bedded in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PadState {
    /// New: the pressure is even over the pad.
    New,
    /// Bedded in: the wear is even, the pressure falls outwards.
    Bedded,
}

/// Radius at which the friction of a ring-shaped pad acts.
///
/// New `2/3 (ro^3 - ri^3) / (ro^2 - ri^2)`, bedded in `(ro + ri) / 2`.
///
/// * `outer`, `inner`: edges of the rubbed track from the axis, 20 to 500 mm, the inner less than the outer.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range, or the inner radius is not less than the outer.
///
/// Source: Shigley, Mechanical Engineering Design, ch. 16.
pub fn effective_radius(outer: Length, inner: Length, pads: PadState) -> Result<Length, FigureError> {
    let ro = DISC_RADIUS.check("outer radius of the pad", outer.get::<millimeter>())?;
    let ri = DISC_RADIUS.check("inner radius of the pad", inner.get::<millimeter>())?;
    if ri >= ro {
        let expected = Expected::Below { limit: ro, unit: "mm" };
        return Err(FigureError { quantity: "inner radius of the pad", found: ri, expected });
    }
    Ok(Length::new::<millimeter>(match pads {
        // (ro^3 - ri^3) / (ro^2 - ri^2), with the common factor taken out: it vanishes on a narrow pad
        PadState::New => 2.0 / 3.0 * (ro * ro + ro * ri + ri * ri) / (ro + ri),
        PadState::Bedded => f64::midpoint(ro, ri),
    }))
}

/// Torque of one disc: `2 mu F r`, both faces.
///
/// * `clamp`: see [`clamp_force`], 1 to 1,000,000 N.
/// * `friction`: of pad on disc, 0.05 to 1; 0.35 to 0.42 for ordinary pads, cold (common practice).
/// * `effective_radius`: see [`effective_radius`], 20 to 500 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Limpert, Brake Design and Safety.
pub fn disc_torque(clamp: Force, friction: f64, effective_radius: Length) -> Result<Torque, FigureError> {
    let clamp = CLAMP.check("clamp force", clamp.get::<newton>())?;
    let friction = FRICTION.check("pad friction", friction)?;
    DISC_RADIUS.check("effective radius", effective_radius.get::<millimeter>())?;
    Ok(Torque::new::<newton_meter>(2.0 * friction * clamp * effective_radius.get::<meter>()))
}

/// Fluid that pistons take or give: `n s pi d^2 / 4`.
///
/// * `bore`: 5 to 100 mm.
/// * `travel`: of each piston, 0.001 to 100 mm.
/// * `pistons`: all that move, 1 to 12.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry; swelling of hoses comes on top.
pub fn displaced(bore: Length, travel: Length, pistons: u32) -> Result<Volume, FigureError> {
    CYLINDER_BORE.check("piston bore", bore.get::<millimeter>())?;
    PISTON_TRAVEL.check("piston travel", travel.get::<millimeter>())?;
    let pistons = PISTONS.check("pistons", f64::from(pistons))?;
    Ok(piston_area(bore) * travel * pistons)
}

/// Travel of the pedal pad that moves a volume of fluid: `ratio (free + V / (pi d^2 / 4))`.
///
/// * `volume`: of all wheels of the circuit the pushrod drives first, 0.001 to 1,000 cm3.
/// * `master_bore`: 5 to 100 mm.
/// * `pedal_ratio`: 1 to 20.
/// * `free_play`: of the pushrod before the piston moves, 0 to 50 mm; 0.5 to 1.5 mm is common practice.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: conservation of volume.
pub fn pedal_travel(
    volume: Volume,
    master_bore: Length,
    pedal_ratio: f64,
    free_play: Length,
) -> Result<Length, FigureError> {
    FLUID_VOLUME.check("fluid displaced", volume.get::<cubic_centimeter>())?;
    CYLINDER_BORE.check("master bore", master_bore.get::<millimeter>())?;
    let ratio = PEDAL_RATIO.check("pedal ratio", pedal_ratio)?;
    FREE_PLAY.check("free play of the pushrod", free_play.get::<millimeter>())?;
    let stroke = volume.get::<cubic_meter>() / piston_area(master_bore).get::<square_meter>();
    Ok(Length::new::<meter>(ratio * (free_play.get::<meter>() + stroke)))
}

/// Share of the stroke of a master cylinder that a volume takes: `V / (s pi d^2 / 4)`.
///
/// * `volume`: 0.001 to 1,000 cm3.
/// * `master_bore`: 5 to 100 mm; `stroke`: what the cylinder has, 0.001 to 100 mm.
///
/// Up to 0.6 leaves room for heat and wear (common practice); above 1 the piston meets its end before the brakes bite.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: conservation of volume.
pub fn share_of_stroke(volume: Volume, master_bore: Length, stroke: Length) -> Result<f64, FigureError> {
    FLUID_VOLUME.check("fluid displaced", volume.get::<cubic_centimeter>())?;
    let whole = displaced(master_bore, stroke, 1)?;
    Ok(volume.get::<cubic_meter>() / whole.get::<cubic_meter>())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::length::inch;
    use uom::si::pressure::pascal;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    /// One pound-force in newtons and one psi in pascals, exact; those of `uom` are rounded.
    const POUND_FORCE: f64 = 4.448_221_615_260_5;
    const PSI: f64 = 6_894.757_293_168;

    fn inches(value: f64) -> Length {
        Length::new::<inch>(value)
    }

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn pressure(pounds: f64, ratio: f64, gain: f64, bore: f64) -> Result<f64, FigureError> {
        line_pressure(Force::new::<newton>(pounds * POUND_FORCE), ratio, gain, inches(bore))
            .map(|p| p.get::<pascal>())
    }

    fn clamp(pascals: f64, bore: f64, pistons: u32) -> Result<f64, FigureError> {
        clamp_force(Pressure::new::<pascal>(pascals), inches(bore), pistons).map(|f| f.get::<newton>())
    }

    fn torque(newtons: f64, friction: f64, radius: f64) -> Result<f64, FigureError> {
        disc_torque(Force::new::<newton>(newtons), friction, inches(radius)).map(|t| t.get::<newton_meter>())
    }

    fn volume(bore: f64, travel: f64, pistons: u32) -> Result<f64, FigureError> {
        displaced(inches(bore), inches(travel), pistons).map(|v| v.get::<cubic_meter>() * 1e6)
    }

    fn travel(cc: f64, bore: f64, ratio: f64, free: f64) -> Result<f64, FigureError> {
        pedal_travel(Volume::new::<cubic_meter>(cc * 1e-6), mm(bore), ratio, mm(free))
            .map(|l| l.get::<millimeter>())
    }

    #[test]
    fn pressures_against_the_unit_library() {
        // by a general-purpose library
        for (pounds, ratio, bore, in_psi, in_mpa) in [
            (100.0, 6.0, 1.0, 763.943_726_841, 5.267_206_582_21),
            (100.0, 6.0, 0.875, 997.804_051_384, 6.879_616_760_43),
            (112.4, 5.0, 0.75, 1_272.107_776_25, 8.770_874_368),
        ] {
            close(pressure(pounds, ratio, 1.0, bore).map(|p| p / PSI), in_psi, 1e-9);
            close(pressure(pounds, ratio, 1.0, bore).map(|p| p / 1e6), in_mpa, 1e-9);
        }
    }

    #[test]
    fn disc_against_the_unit_library() {
        // tier L: brake.disc_torque/one 2.9375 in piston, mu .38, r 4.5 in
        let p = 763.943_726_841 * PSI;
        close(clamp(p, 2.9375, 1).map(|f| f / POUND_FORCE), 5_177.343_75, 1e-9);
        close(torque(5_177.343_75 * POUND_FORCE, 0.38, 4.5), 2_000.567_640_57, 1e-9);
    }

    #[test]
    fn radii_against_quadrature() {
        // tier N: brake.effective_radius/140/90 mm and 150/100 mm
        for (ro, ri, new, bedded) in
            [(140.0, 90.0, 116.811_594_203, 115.0), (150.0, 100.0, 126.666_666_667, 125.0)]
        {
            let at = |pads| effective_radius(mm(ro), mm(ri), pads).map(|r| r.get::<millimeter>());
            close(at(PadState::New), new, 1e-9);
            close(at(PadState::Bedded), bedded, 1e-12);
        }
    }

    #[test]
    fn volumes_against_the_unit_library() {
        // tier L: brake.displacement/...
        close(volume(1.0, 1.2, 1), 15.444_443_962_9, 1e-9);
        close(volume(2.9375, 0.010, 2), 2.221_144_317_32, 1e-9);
        close(volume(0.875, 0.100, 4), 3.941_550_803_03, 1e-9);
        // all of its stroke, and six tenths of it
        let share =
            |cc: f64| share_of_stroke(Volume::new::<cubic_meter>(cc * 1e-6), inches(1.0), inches(1.2));
        close(share(15.444_443_962_9), 1.0, 1e-9);
        close(share(0.6 * 15.444_443_962_9), 0.6, 1e-9);
        refuses(share(0.0), "fluid displaced");
        refuses(
            share_of_stroke(Volume::new::<cubic_meter>(1e-6), inches(1.0), inches(f64::NAN)),
            "piston travel",
        );
        // and back: the master cylinder of 1 in moves 1.2 in, the pedal six times that
        close(travel(15.444_443_962_9, 25.4, 6.0, 0.0), 6.0 * 1.2 * 25.4, 1e-9);
        close(travel(15.444_443_962_9, 25.4, 6.0, 1.0), 6.0 * (1.2 * 25.4 + 1.0), 1e-9);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(pressure(bad, 6.0, 1.0, 1.0), "pedal force");
            refuses(pressure(100.0, bad, 1.0, 1.0), "pedal ratio");
            refuses(pressure(100.0, 6.0, bad, 1.0), "booster gain");
            refuses(pressure(100.0, 6.0, 1.0, bad), "master bore");
            refuses(clamp(bad, 2.0, 1), "line pressure");
            refuses(clamp(5e6, bad, 1), "piston bore");
            refuses(torque(bad, 0.38, 4.5), "clamp force");
            refuses(torque(2e4, bad, 4.5), "pad friction");
            refuses(torque(2e4, 0.38, bad), "effective radius");
            refuses(volume(bad, 0.1, 2), "piston bore");
            refuses(volume(1.0, bad, 2), "piston travel");
            refuses(effective_radius(mm(bad), mm(90.0), PadState::New), "outer radius of the pad");
            refuses(effective_radius(mm(140.0), mm(bad), PadState::New), "inner radius of the pad");
            refuses(travel(bad, 25.4, 6.0, 0.0), "fluid displaced");
            refuses(travel(4.0, bad, 6.0, 0.0), "master bore");
            refuses(travel(4.0, 25.4, bad, 0.0), "pedal ratio");
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 1e6] {
            refuses(travel(4.0, 25.4, 6.0, bad), "free play of the pushrod");
        }
        refuses(effective_radius(mm(90.0), mm(90.0), PadState::New), "inner radius of the pad");
        for pistons in [0, 13, u32::MAX] {
            refuses(clamp(5e6, 2.0, pistons), "pistons on one side");
            refuses(volume(1.0, 0.1, pistons), "pistons");
        }
    }

    proptest! {
        #[test]
        fn a_bigger_master_gives_less_pressure_and_a_shorter_pedal(
            bore in 10.0_f64..40.0, factor in 1.01_f64..2.0, cc in 0.5..20.0,
        ) {
            let p = |b: f64| pressure(100.0, 6.0, 1.0, b / 25.4).unwrap_or(f64::NAN);
            prop_assert!(p(bore * factor) < p(bore));
            let s = |b| travel(cc, b, 6.0, 1.0).unwrap_or(f64::NAN);
            prop_assert!(s(bore * factor) < s(bore));
        }

        #[test]
        fn work_at_the_foot_is_work_at_the_wheel(bore in 10.0_f64..40.0, cc in 0.5..20.0, ratio in 2.0..10.0) {
            // no gain, no play: F s = p V
            let work = 444.822_161_526_05 * travel(cc, bore, ratio, 0.0).unwrap_or(f64::NAN) / 1e3;
            let hydraulic = pressure(100.0, ratio, 1.0, bore / 25.4).unwrap_or(f64::NAN) * cc * 1e-6;
            prop_assert!((work / hydraulic - 1.0).abs() < 1e-9);
        }

        #[test]
        fn a_bedded_pad_acts_nearer_the_axle(ro in 60.0..300.0, share in 0.35_f64..0.999) {
            let at = |pads| effective_radius(mm(ro), mm(ro * share), pads).unwrap_or_default().get::<millimeter>();
            prop_assert!(ro * share < at(PadState::Bedded) && at(PadState::Bedded) < at(PadState::New));
            prop_assert!(at(PadState::New) < ro);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(
            a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>(), n in any::<u32>(),
        ) {
            prop_assert!(sound(pressure(a, b, c, d)) && sound(clamp(a, b, n)) && sound(torque(a, b, c)));
            prop_assert!(sound(volume(a, b, n)) && sound(travel(a, b, c, d)));
            let radius = effective_radius(mm(a), mm(b), PadState::New);
            prop_assert!(sound(radius.map(|r| r.get::<millimeter>())));
        }
    }
}
