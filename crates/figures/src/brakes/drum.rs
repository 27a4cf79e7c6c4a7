//! Torque of one shoe of a drum brake from the force on its tip (Shigley, Mechanical Engineering Design, ch. 16).

use uom::si::angle::radian;
use uom::si::f64::{Angle, Force, Length, Pressure, Torque};
use uom::si::force::newton;
use uom::si::length::{meter, millimeter};
use uom::si::pressure::pascal;
use uom::si::torque::newton_meter;

use crate::error::{Expected, FigureError};
use crate::range::Range;

const RADIUS: Range = Range::new(20.0, 500.0, "mm");
const WIDTH: Range = Range::new(5.0, 500.0, "mm");
const FRICTION: Range = Range::new(0.05, 1.0, "");
const HEEL: Range = Range::new(0.0, 90.0, "°");
const TOE: Range = Range::new(10.0, 180.0, "°");
const ARM: Range = Range::new(10.0, 1_000.0, "mm");
const FORCE: Range = Range::new(1.0, 1e6, "N");

/// A shoe turning about a fixed pin. Angles are taken from the pin, about the centre of the drum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shoe {
    /// Inside radius of the drum, 20 to 500 mm.
    pub drum_radius: Length,
    /// Width of the lining, 5 to 500 mm.
    pub lining_width: Length,
    /// Friction of lining on drum, 0.05 to 1; 0.30 to 0.40 for ordinary linings, cold (common practice).
    pub friction: f64,
    /// Where the lining begins, 0 to 90 deg from the pin.
    pub heel: Angle,
    /// Where it ends, 10 to 180 deg from the pin, more than the heel.
    pub toe: Angle,
    /// From the centre of the drum to the pin, 20 to 500 mm, less than the drum's radius.
    pub pin_radius: Length,
    /// From the pin to the line of the force at the tip, 10 to 1,000 mm.
    pub force_arm: Length,
}

/// Which way the drum turns past the shoe.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turning {
    /// From the tip towards the pin: the drum pulls the shoe on.
    Leading,
    /// From the pin towards the tip: the drum pushes the shoe off.
    Trailing,
}

/// What a shoe does under a force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShoeTorque {
    /// Torque on the drum.
    pub torque: Torque,
    /// Highest pressure between lining and drum.
    pub lining_pressure: Pressure,
}

/// Torque of one shoe for a force on its tip.
///
/// The pressure on the lining goes with the sine of the angle from the pin. With its moments about the pin, `Mn` of the
/// pressure and `Mf` of the friction, `force * arm = Mn - Mf` for a leading shoe and `Mn + Mf` for a trailing one. The
/// torque is `mu p b r^2 (cos heel - cos toe) / sin a`, `a` being the toe or 90 deg, whichever is less.
///
/// * `force`: at the tip, from the wheel cylinder or the cable, 1 to 1,000,000 N.
///
/// A shoe that pushes its neighbour (duo-servo) and a floating shoe follow other rules.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range, the toe does not lie beyond the heel, or the shoe would grab and
/// lock by itself (`Mf >= Mn`).
///
/// Source: Shigley, Mechanical Engineering Design, ch. 16, internal expanding rim brakes.
pub fn shoe_torque(shoe: &Shoe, force: Force, turning: Turning) -> Result<ShoeTorque, FigureError> {
    let force = FORCE.check("force on the shoe", force.get::<newton>())?;
    let (normal, friction, torque) = moments(shoe)?;
    let arm = match turning {
        Turning::Leading => normal - friction,
        Turning::Trailing => normal + friction,
    };
    // on a short lining high on the shoe the friction turns round, and it is the trailing shoe that grabs
    if arm <= 0.0 {
        let expected = Expected::Below { limit: normal * 1e6, unit: "N·m at 1 MPa" };
        let quantity = "friction moment of the shoe";
        return Err(FigureError { quantity, found: friction.abs() * 1e6, expected });
    }
    let pressure = force * shoe.force_arm.get::<meter>() / arm;
    Ok(ShoeTorque {
        torque: Torque::new::<newton_meter>(pressure * torque),
        lining_pressure: Pressure::new::<pascal>(pressure),
    })
}

/// Moment of the pressure and of the friction about the pin, and torque on the drum, each for a highest pressure of
/// 1 Pa, in m3.
fn moments(shoe: &Shoe) -> Result<(f64, f64, f64), FigureError> {
    RADIUS.check("drum radius", shoe.drum_radius.get::<millimeter>())?;
    WIDTH.check("lining width", shoe.lining_width.get::<millimeter>())?;
    let mu = FRICTION.check("lining friction", shoe.friction)?;
    let heel = HEEL.check("heel of the lining", shoe.heel.get::<radian>().to_degrees())?.to_radians();
    let toe = TOE.check("toe of the lining", shoe.toe.get::<radian>().to_degrees())?.to_radians();
    RADIUS.check("pin radius", shoe.pin_radius.get::<millimeter>())?;
    ARM.check("force arm of the shoe", shoe.force_arm.get::<millimeter>())?;
    if shoe.pin_radius >= shoe.drum_radius {
        let limit = shoe.drum_radius.get::<millimeter>();
        let expected = Expected::Below { limit, unit: "mm" };
        let found = shoe.pin_radius.get::<millimeter>();
        return Err(FigureError { quantity: "pin radius", found, expected });
    }
    if toe <= heel {
        let expected = Expected::Above { limit: heel.to_degrees(), unit: "°" };
        return Err(FigureError { quantity: "toe of the lining", found: toe.to_degrees(), expected });
    }
    let r = shoe.drum_radius.get::<meter>();
    let b = shoe.lining_width.get::<meter>();
    let a = shoe.pin_radius.get::<meter>();
    let peak = toe.sin().max(if toe > std::f64::consts::FRAC_PI_2 { 1.0 } else { 0.0 });

    let squares = (toe - heel) / 2.0 - ((2.0 * toe).sin() - (2.0 * heel).sin()) / 4.0;
    let cosines = heel.cos() - toe.cos();
    let products = (toe.sin().powi(2) - heel.sin().powi(2)) / 2.0;
    let normal = b * r * a * squares / peak;
    let friction = mu * b * r * (r * cosines - a * products) / peak;
    let torque = mu * b * r * r * cosines / peak;
    Ok((normal, friction, torque))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    /// radius, width, friction, heel, toe, pin, arm
    const BOOK: [f64; 7] = [0.15, 0.032, 0.32, 0.0, 126.0, 0.122_653_984_852, 0.212];

    fn shoe(a: [f64; 7]) -> Shoe {
        let m = Length::new::<meter>;
        let deg = |v: f64| Angle::new::<radian>(v.to_radians());
        Shoe {
            drum_radius: m(a[0]),
            lining_width: m(a[1]),
            friction: a[2],
            heel: deg(a[3]),
            toe: deg(a[4]),
            pin_radius: m(a[5]),
            force_arm: m(a[6]),
        }
    }

    fn run(a: [f64; 7], newtons: f64, turning: Turning) -> Result<(f64, f64), FigureError> {
        let found = shoe_torque(&shoe(a), Force::new::<newton>(newtons), turning)?;
        Ok((found.torque.get::<newton_meter>(), found.lining_pressure.get::<pascal>()))
    }

    fn with(at: usize, value: f64) -> [f64; 7] {
        let mut a = BOOK;
        a[at] = value;
        a
    }

    #[test]
    fn shoes_against_quadrature() {
        // worked out another way, numerically: internal-expanding, 300 mm drum, 126 deg lining
        let force = 2_279.063_049_82;
        close(run(BOOK, force, Turning::Leading).map(|f| f.0), 365.825_722_128, 1e-9);
        close(run(BOOK, force, Turning::Leading).map(|f| f.1), 1e6, 1e-9);
        close(run(BOOK, force, Turning::Trailing).map(|f| f.0), 161.934_892_238, 1e-9);
        close(run(BOOK, force, Turning::Trailing).map(|f| f.1), 442_655.839_769, 1e-9);
        let moments = moments(&shoe(BOOK));
        close(moments.map(|m| m.0 * 1e6), 787.333_526_861, 1e-9);
        close(moments.map(|m| m.1 * 1e6), 304.172_160_298, 1e-9);
    }

    #[test]
    fn a_shoe_that_grabs_is_refused() {
        let quantity = "friction moment of the shoe";
        refuses(run(with(2, 0.9), 2000.0, Turning::Leading), quantity);
        assert!(run(with(2, 0.9), 2000.0, Turning::Trailing).is_ok());
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let names = ["drum radius", "lining width", "lining friction", "", "toe of the lining", "pin radius"];
        for (at, name) in names.into_iter().enumerate().filter(|(_, n)| !n.is_empty()) {
            for bad in REFUSED {
                refuses(run(with(at, bad), 2000.0, Turning::Leading), name);
            }
        }
        for bad in REFUSED {
            refuses(run(with(6, bad), 2000.0, Turning::Leading), "force arm of the shoe");
            refuses(run(BOOK, bad, Turning::Leading), "force on the shoe");
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 91.0] {
            refuses(run(with(3, bad), 2000.0, Turning::Leading), "heel of the lining");
        }
        let mut short = with(3, 60.0);
        short[4] = 60.0;
        refuses(run(short, 2000.0, Turning::Leading), "toe of the lining");
        // a pin lies inside its drum
        for outside in [BOOK[0], 0.2] {
            refuses(run(with(5, outside), 2000.0, Turning::Leading), "pin radius");
        }
    }

    proptest! {
        #[test]
        fn a_leading_shoe_does_more(mu in 0.1..0.45, toe in 100.0..140.0, force in 100.0..9_000.0) {
            let mut a = with(2, mu);
            a[4] = toe;
            let lead = run(a, force, Turning::Leading).map_or(f64::NAN, |f| f.0);
            let trail = run(a, force, Turning::Trailing).map_or(f64::NAN, |f| f.0);
            prop_assert!(lead > trail && trail > 0.0);
            // torque is in proportion to the force
            let twice = run(a, force * 2.0, Turning::Leading).map_or(f64::NAN, |f| f.0);
            prop_assert!((twice / lead - 2.0).abs() < 1e-9);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(
            at in 0_usize..7, value in proptest::num::f64::ANY, force in any::<f64>(),
        ) {
            for turning in [Turning::Leading, Turning::Trailing] {
                prop_assert!(sound(run(with(at, value), 2000.0, turning).map(|f| f.0)));
                prop_assert!(sound(run(BOOK, force, turning).map(|f| f.1)));
            }
        }
    }
}
