//! A damper over the travel of its axle, and the bump stop that keeps it from bottoming.

use uom::si::angle::radian;
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use super::dampers::{Damper, DamperMount, damper_fit};
use crate::error::{Expected, FigureError};
use crate::gap::GapRule;

/// The two eyes of a damper at a place of the travel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DamperAt {
    /// From eye to eye.
    pub length: Length,
    /// Lean off the upright.
    pub lean: Angle,
}

/// Where the eyes stand when the axle has moved: `up = s cos lean + x`, `aside = s sin lean`.
///
/// * `mount`: within the ranges of [`DamperMount`].
/// * `down`: by which the axle has fallen, below zero where it has risen; within bump and droop.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry, the axle moving straight up and down.
pub fn damper_at(mount: DamperMount, down: Length) -> Result<DamperAt, FigureError> {
    let (up, aside) = mount.parts()?;
    let (low, high) = (-mount.bump.get::<millimeter>(), mount.droop.get::<millimeter>());
    let found = down.get::<millimeter>();
    if !(low..=high).contains(&found) {
        let expected = Expected::Between { low, high, unit: "mm" };
        return Err(FigureError { quantity: "travel of the axle", found, expected });
    }
    let up = up + found;
    Ok(DamperAt {
        length: Length::new::<millimeter>(up.hypot(aside)),
        lean: Angle::new::<radian>(aside.atan2(up)),
    })
}

/// By how much more the bump stop must be lengthened so that a damper does not bottom, in whole millimetres; zero where
/// it does not as it is, `None` where no stop helps.
///
/// * the arguments are those of [`damper_fit`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: [`damper_fit`], tried millimetre by millimetre.
pub fn stop_wanted(mount: DamperMount, damper: Damper, rule: GapRule) -> Result<Option<Length>, FigureError> {
    damper_fit(mount, damper, rule)?;
    let travel = mount.bump.get::<millimeter>();
    let shorter = (0..=travel as u32).map(|i| Length::new::<millimeter>(f64::from(i)));
    Ok(shorter.into_iter().find(|by| {
        let mount = DamperMount { bump: mount.bump - *by, ..mount };
        damper_fit(mount, damper, rule).is_ok_and(|fit| fit.at_bump.holds())
    }))
}

#[cfg(test)]
mod tests {
    use uom::si::angle::degree;

    use super::*;
    use crate::testing::refuses;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn mount(spacing: f64, lean: f64, bump: f64, droop: f64) -> DamperMount {
        DamperMount {
            spacing: mm(spacing),
            lean: Angle::new::<degree>(lean),
            bump: mm(bump),
            droop: mm(droop),
        }
    }

    #[test]
    fn an_upright_damper_moves_with_the_axle() {
        let at = |down: f64| {
            damper_at(mount(350.0, 0.0, 60.0, 80.0), mm(down)).map(|a| a.length.get::<millimeter>())
        };
        assert!(at(0.0).is_ok_and(|l| (l - 350.0).abs() < 1e-9));
        assert!(at(-60.0).is_ok_and(|l| (l - 290.0).abs() < 1e-9));
        assert!(at(80.0).is_ok_and(|l| (l - 430.0).abs() < 1e-9));
        refuses(damper_at(mount(350.0, 0.0, 60.0, 80.0), mm(81.0)), "travel of the axle");
    }

    #[test]
    fn a_leaning_damper_stands_up_as_the_axle_falls() {
        // 3-4-5: 400 up and 300 aside are 500 apart at atan(3/4); 100 lower 500 up, 583.1 apart
        let leaning = mount(500.0, 36.869_897_645_844, 80.0, 120.0);
        let at = damper_at(leaning, mm(100.0)).unwrap_or_else(|e| unreachable!("{e}"));
        assert!((at.length.get::<millimeter>() - 500.0_f64.hypot(300.0)).abs() < 1e-6);
        assert!((at.lean.get::<radian>().tan() - 0.6).abs() < 1e-9);
    }

    #[test]
    fn the_stop_is_longer_by_what_the_damper_bottoms() {
        // upright: 350 - 60 at bump, closed 300 and 10 of reserve: 20 mm too short
        let damper = |closed: f64| Damper { open: mm(500.0), closed: mm(closed) };
        let wanted = |closed: f64| {
            stop_wanted(mount(350.0, 0.0, 60.0, 80.0), damper(closed), GapRule::exact(mm(10.0)))
                .map(|s| s.map(|s| s.get::<millimeter>().round()))
        };
        assert_eq!(wanted(300.0), Ok(Some(20.0)));
        assert_eq!(wanted(280.0), Ok(Some(0.0)));
        assert_eq!(wanted(345.0), Ok(None));
    }
}
