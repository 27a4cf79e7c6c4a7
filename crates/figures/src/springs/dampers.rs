//! Dampers: lengths wanted at bump and droop with a reserve, and what a lean costs (geometry; common practice).

use uom::si::angle::degree;
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use crate::error::{Expected, FigureError};
use crate::gap::{Gap, GapRule};
use crate::range::Range;

const SPACING: Range = Range::new(50.0, 1_500.0, "mm");
const TRAVEL: Range = Range::new(0.0, 600.0, "mm");
const LEAN: Range = Range::new(0.0, 60.0, "°");
const LIFT: Range = Range::new(-300.0, 500.0, "mm");
const LENGTH: Range = Range::new(50.0, 2_000.0, "mm");

/// The two eyes of a damper on the vehicle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DamperMount {
    /// From eye to eye at ride height, 50 to 1,500 mm.
    pub spacing: Length,
    /// Lean off the upright, 0 to 60 deg.
    pub lean: Angle,
    /// How far the axle rises to its stop, 0 to 600 mm, less than the upright part of the spacing.
    pub bump: Length,
    /// How far the axle falls until the spring or a strap holds it, 0 to 600 mm.
    pub droop: Length,
}

/// A damper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Damper {
    /// From eye to eye pulled out, 50 to 2,000 mm.
    pub open: Length,
    /// From eye to eye pushed in, 50 to 2,000 mm, less than `open`.
    pub closed: Length,
}

/// What a mount asks of a damper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DamperWanted {
    /// At most this long pushed in.
    pub closed_at_most: Length,
    /// At least this long pulled out.
    pub open_at_least: Length,
    /// At least this stroke.
    pub stroke_at_least: Length,
}

/// A damper held against its mount.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DamperFit {
    /// What is left to push in at full bump: eyes at bump less closed.
    pub at_bump: Gap,
    /// What is left to pull out at full droop: open less eyes at droop.
    pub at_droop: Gap,
}

impl DamperMount {
    /// The same mount after a lift that moves the axle away from the frame: the upright part of the spacing and the bump
    /// travel grow by it, less what the stop is lengthened by.
    ///
    /// * `lift`: -300 to 500 mm.
    /// * `stop_spacer`: by which the bump stop is lengthened, 0 to 600 mm; the lift less 10 mm is common practice.
    ///
    /// The droop from the new ride height is taken as before; measure it on the new spring.
    ///
    /// # Errors
    /// [`FigureError`] if an argument is out of its range.
    ///
    /// Source: geometry.
    pub fn lifted(self, lift: Length, stop_spacer: Length) -> Result<Self, FigureError> {
        let (up, aside) = self.parts()?;
        let lift_mm = LIFT.check("lift", lift.get::<millimeter>())?;
        TRAVEL.check("bump stop spacer", stop_spacer.get::<millimeter>())?;
        let up = up + lift_mm;
        let lifted = Self {
            spacing: Length::new::<millimeter>(up.hypot(aside)),
            lean: Angle::new::<degree>(aside.atan2(up).to_degrees()),
            bump: self.bump + lift - stop_spacer,
            droop: self.droop,
        };
        lifted.parts()?;
        Ok(lifted)
    }

    /// Upright and level part of the spacing, mm, everything checked.
    pub(super) fn parts(&self) -> Result<(f64, f64), FigureError> {
        let spacing = SPACING.check("damper spacing", self.spacing.get::<millimeter>())?;
        let lean = LEAN.check("damper lean", self.lean.get::<degree>())?.to_radians();
        let bump = TRAVEL.check("bump travel", self.bump.get::<millimeter>())?;
        TRAVEL.check("droop travel", self.droop.get::<millimeter>())?;
        let up = spacing * lean.cos();
        if bump >= up {
            let expected = Expected::Below { limit: up, unit: "mm" };
            return Err(FigureError { quantity: "bump travel", found: bump, expected });
        }
        Ok((up, spacing * lean.sin()))
    }

    /// Eyes apart at full bump and at full droop.
    fn ends(&self) -> Result<(Length, Length), FigureError> {
        let (up, aside) = self.parts()?;
        let at = |travel: f64| Length::new::<millimeter>((up + travel).hypot(aside));
        Ok((at(-self.bump.get::<millimeter>()), at(self.droop.get::<millimeter>())))
    }
}

/// What a mount asks of a damper: the eyes apart at bump and droop, with a reserve at either end.
///
/// The axle is taken to move straight up and down: at travel `x` the eyes are `sqrt((s cos lean + x)^2 + (s sin lean)^2)`
/// apart.
///
/// * `mount`: within the ranges of [`DamperMount`].
/// * `reserve`: to keep at either end, 0 to 600 mm; 10 mm is common practice.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range or no damper could be so short.
///
/// Source: geometry; the reserve is common practice.
pub fn damper_wanted(mount: DamperMount, reserve: Length) -> Result<DamperWanted, FigureError> {
    let (bump, droop) = mount.ends()?;
    TRAVEL.check("damper reserve", reserve.get::<millimeter>())?;
    let (closed_at_most, open_at_least) = (bump - reserve, droop + reserve);
    CLOSED.check("damper closed length wanted", closed_at_most.get::<millimeter>())?;
    Ok(DamperWanted { closed_at_most, open_at_least, stroke_at_least: open_at_least - closed_at_most })
}

const CLOSED: Range = Range::new(1.0, 2_000.0, "mm");

/// A damper held against its mount at both ends: its closed length must not bottom at bump, its open length must not
/// hold the axle at droop.
///
/// * `mount`: within the ranges of [`DamperMount`].
/// * `damper`: within the ranges of [`Damper`].
/// * `rule`: the reserve wanted at either end and how well the lengths are known; 10 mm is common practice.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry, see [`damper_wanted`].
pub fn damper_fit(mount: DamperMount, damper: Damper, rule: GapRule) -> Result<DamperFit, FigureError> {
    let (bump, droop) = mount.ends()?;
    let open = LENGTH.check("damper open length", damper.open.get::<millimeter>())?;
    let closed = LENGTH.check("damper closed length", damper.closed.get::<millimeter>())?;
    if closed >= open {
        let expected = Expected::Below { limit: open, unit: "mm" };
        return Err(FigureError { quantity: "damper closed length", found: closed, expected });
    }
    Ok(DamperFit { at_bump: rule.judge(bump - damper.closed)?, at_droop: rule.judge(damper.open - droop)? })
}

/// Travel of a leaning damper for travel of the axle: `cos lean`.
///
/// * `lean`: off the upright, 0 to 60 deg.
///
/// # Errors
/// [`FigureError`] if the lean is out of its range.
///
/// Source: geometry of small travel.
pub fn damper_motion_ratio(lean: Angle) -> Result<f64, FigureError> {
    Ok(LEAN.check("damper lean", lean.get::<degree>())?.to_radians().cos())
}

/// Share of its force a leaning damper or coil has on the axle, speed counted too: `cos^2 lean`.
///
/// * `lean`: off the upright, 0 to 60 deg.
///
/// # Errors
/// [`FigureError`] if the lean is out of its range.
///
/// Source: motion ratio for the travel, and again for the force.
pub fn wheel_rate_factor(lean: Angle) -> Result<f64, FigureError> {
    Ok(damper_motion_ratio(lean)?.powi(2))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::gap::GapVerdict;
    use crate::testing::{REFUSED, close, refuses};

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

    fn wanted(mount: DamperMount, reserve: f64) -> Result<[f64; 3], FigureError> {
        let found = damper_wanted(mount, mm(reserve))?;
        Ok([found.closed_at_most, found.open_at_least, found.stroke_at_least].map(|l| l.get::<millimeter>()))
    }

    fn fit(mount: DamperMount, open: f64, closed: f64) -> Result<[Gap; 2], FigureError> {
        let rule = GapRule { wanted: mm(10.0), accuracy: mm(2.0) };
        let found = damper_fit(mount, Damper { open: mm(open), closed: mm(closed) }, rule)?;
        Ok([found.at_bump, found.at_droop])
    }

    #[test]
    fn trade_dampers() {
        // an example vehicle: 312 apart at ride, 65 up, 75 down, 10 kept: closed 237 at most, open 397 at least
        let front = mount(312.0, 0.0, 65.0, 75.0);
        for (found, expected) in
            wanted(front, 10.0).unwrap_or_default().into_iter().zip([237.0, 397.0, 160.0])
        {
            close(Ok(found), expected, 1e-9);
        }
        // C.2 SUS-05: open 380, closed 240, stroke 140 is 3 mm too long in and 17 mm too short out: renew
        let found = fit(front, 380.0, 240.0);
        close(found.map(|f| f[0].spare().get::<millimeter>()), -3.0, 1e-9);
        close(found.map(|f| f[1].spare().get::<millimeter>()), -17.0, 1e-9);
        assert!(found.is_ok_and(|f| matches!(f[1].verdict(), GapVerdict::Broken { .. })));
        // rear: 318 apart
        let rear = wanted(mount(318.0, 0.0, 65.0, 75.0), 10.0);
        close(rear.map(|w| w[0]), 243.0, 1e-9);
        close(rear.map(|w| w[1]), 403.0, 1e-9);
    }

    #[test]
    fn a_lift_asks_for_as_much_more_open_length() {
        // common practice: dampers +25/+50/+75/+100 mm open for 1/2/3/4 in, stop spacer the lift less 10 mm
        let stock = mount(312.0, 0.0, 65.0, 75.0);
        for (inches, more) in [(1.0, 25.0), (2.0, 50.0), (3.0, 75.0), (4.0, 100.0)] {
            let lift = inches * 25.4;
            let lifted = stock.lifted(mm(lift), mm(lift - 10.0));
            let open = lifted.and_then(|m| wanted(m, 10.0));
            close(open.map(|w| w[1] - 397.0), more, 0.02);
            // 10 mm more of bump travel on a spacing that grew by the lift
            close(open.map(|w| w[0]), 237.0 + lift - 10.0, 1e-9);
        }
    }

    #[test]
    fn leaning_dampers() {
        // arithmetic of the definition: 30 deg lean
        let lean = Angle::new::<degree>(30.0);
        close(damper_motion_ratio(lean), 0.866_025_403_784, 1e-9);
        close(wheel_rate_factor(lean), 0.75, 1e-9);
        // 3-4-5 triangles: 250 apart leaning 3 in 5 (36.87 deg): 200 up, 150 aside; 50 of bump leave 212.13,
        // 160 of droop make 390
        let leaning = mount(250.0, 36.869_897_645_844, 50.0, 160.0);
        close(wanted(leaning, 0.0).map(|w| w[0]), 212.132_034_356, 1e-9);
        close(wanted(leaning, 0.0).map(|w| w[1]), 390.0, 1e-9);
        // lifted by 160 it stands at those 390, leaning atan(150/360)
        let lifted = leaning.lifted(mm(160.0), mm(150.0));
        close(lifted.map(|m| m.spacing.get::<millimeter>()), 390.0, 1e-9);
        close(lifted.map(|m| m.lean.get::<degree>()), 22.619_864_948, 1e-9);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(wanted(mount(bad, 0.0, 65.0, 75.0), 10.0), "damper spacing");
            refuses(fit(mount(312.0, 0.0, 65.0, 75.0), bad, 240.0), "damper open length");
            refuses(fit(mount(312.0, 0.0, 65.0, 75.0), 400.0, bad), "damper closed length");
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 1e9] {
            refuses(wanted(mount(312.0, bad, 65.0, 75.0), 10.0), "damper lean");
            refuses(wanted(mount(312.0, 0.0, bad, 75.0), 10.0), "bump travel");
            refuses(wanted(mount(312.0, 0.0, 65.0, bad), 10.0), "droop travel");
            refuses(wanted(mount(312.0, 0.0, 65.0, 75.0), bad), "damper reserve");
            refuses(damper_motion_ratio(Angle::new::<degree>(bad)), "damper lean");
            refuses(wheel_rate_factor(Angle::new::<degree>(bad)), "damper lean");
            refuses(mount(312.0, 0.0, 65.0, 75.0).lifted(mm(10.0), mm(bad)), "bump stop spacer");
        }
        refuses(mount(312.0, 0.0, 65.0, 75.0).lifted(mm(f64::NAN), mm(0.0)), "lift");
        // a stop that eats more than the travel, eyes that would pass each other, a damper longer closed than open
        refuses(mount(312.0, 0.0, 65.0, 75.0).lifted(mm(10.0), mm(100.0)), "bump travel");
        refuses(wanted(mount(312.0, 0.0, 312.0, 75.0), 10.0), "bump travel");
        refuses(wanted(mount(312.0, 0.0, 310.0, 75.0), 10.0), "damper closed length wanted");
        refuses(fit(mount(312.0, 0.0, 65.0, 75.0), 240.0, 380.0), "damper closed length");
    }

    proptest! {
        #[test]
        fn the_damper_wanted_just_fits(s in 250.0..500.0, lean in 0.0..40.0, bump in 10.0..100.0, droop in 10.0..150.0) {
            let m = mount(s, lean, bump, droop);
            let [closed, open, _] = wanted(m, 10.0).unwrap_or_default();
            let spares = fit(m, open, closed).map(|f| f.map(|g| g.spare().get::<millimeter>().abs()));
            prop_assert!(spares.is_ok_and(|s| s.iter().all(|v| *v < 1e-9)));
        }

        #[test]
        fn a_leaning_damper_moves_less_than_the_axle(s in 250.0..500.0, lean in 1.0..50.0, bump in 10.0..90.0, droop in 10.0..150.0) {
            let stroke = wanted(mount(s, lean, bump, droop), 0.0).map(|w| w[2]);
            prop_assert!(stroke.is_ok_and(|stroke| stroke < bump + droop && stroke > 0.0));
        }

        #[test]
        fn lifting_there_and_back_changes_nothing(s in 250.0..500.0, lean in 0.0..40.0, lift in 0.0..100.0) {
            let m = mount(s, lean, 60.0, 80.0);
            let back = m.lifted(mm(lift), mm(0.0)).and_then(|m| m.lifted(mm(-lift), mm(0.0)));
            prop_assert!(back.is_ok_and(|b| (b.spacing - m.spacing).abs() < mm(1e-6) && (b.bump - m.bump).abs() < mm(1e-6)));
        }

        #[test]
        fn any_numbers_are_refused_or_finite(a in any::<[f64; 5]>()) {
            let found = wanted(mount(a[0], a[1], a[2], a[3]), a[4]);
            prop_assert!(found.map_or(true, |w| w.iter().all(|v| v.is_finite() && *v > 0.0)));
        }
    }
}
