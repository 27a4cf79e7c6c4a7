//! Torque and preload of a bolt, and what a bolt of another grade does at the old torque (Shigley; VDI 2230).

use uom::si::f64::{Force, Length, Torque};
use uom::si::force::newton;
use uom::si::length::{meter, millimeter};
use uom::si::torque::newton_meter;

use super::strength::{Grade, proof_load};
use super::thread::{Form, Thread};
use crate::error::FigureError;
use crate::range::Range;

/// Torque coefficient of dry plated steel: 0.20 (Shigley).
pub const DRY: f64 = 0.20;
/// Torque coefficient of oiled steel: 0.15 (Shigley). At the dry torque it gives a third more preload.
pub const OILED: f64 = 0.15;
/// Torque coefficient with anti-seize paste: 0.12, common practice.
pub const ANTI_SEIZE: f64 = 0.12;
/// Preload of a joint that is opened again, as a share of the proof load: 0.75 (Shigley).
pub const REUSED_JOINT: f64 = 0.75;

const COEFFICIENT: Range = Range::new(0.05, 0.6, "");
const DIAMETER: Range = Range::new(0.5, 200.0, "mm");
const PRELOAD: Range = Range::new(0.1, 1e8, "N");
const TORQUE: Range = Range::new(0.001, 1e6, "N·m");
const FRICTION: Range = Range::new(0.02, 0.6, "");
const SHARE: Range = Range::new(0.05, 1.0, "");

/// Torque for a preload: `T = K D F`.
///
/// * `coefficient`: 0.05 to 0.6, see [`DRY`], [`OILED`], [`ANTI_SEIZE`]. It scatters by 30 %, and the preload with it.
/// * `diameter`: nominal, 0.5 to 200 mm.
/// * `preload`: 0.1 N to 100 MN.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Shigley, Mechanical Engineering Design, ch. 8.
pub fn torque_for(coefficient: f64, diameter: Length, preload: Force) -> Result<Torque, FigureError> {
    let k = COEFFICIENT.check("torque coefficient", coefficient)?;
    DIAMETER.check("bolt diameter", diameter.get::<millimeter>())?;
    let force = PRELOAD.check("preload", preload.get::<newton>())?;
    Ok(Torque::new::<newton_meter>(k * diameter.get::<meter>() * force))
}

/// Preload of a torque: `F = T / (K D)`, the inverse of [`torque_for`].
///
/// * `torque`: 0.001 to 1,000,000 N·m; the others as for [`torque_for`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Shigley ch. 8.
pub fn preload_of(coefficient: f64, diameter: Length, torque: Torque) -> Result<Force, FigureError> {
    let k = COEFFICIENT.check("torque coefficient", coefficient)?;
    DIAMETER.check("bolt diameter", diameter.get::<millimeter>())?;
    let torque = TORQUE.check("torque", torque.get::<newton_meter>())?;
    Ok(Force::new::<newton>(torque / (k * diameter.get::<meter>())))
}

/// Torque for a preload by the friction of thread and head: `F (0.159 P + 0.577 mu d2 + mu D / 2)`.
///
/// * `thread`: the bolt's; at the 55 deg of Whitworth 0.577 becomes 0.564.
/// * `preload`: 0.1 N to 100 MN.
/// * `thread_friction`, `head_friction`: 0.02 to 0.6; 0.12 for oiled steel (common practice).
/// * `head_diameter`: mean diameter of the ring under head or nut, 0.5 to 200 mm; 1.3 times the bolt for a hexagon.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: ISO 16047; VDI 2230. The factors are 1/(2 pi) and 1/(2 cos 30 deg), half the angle of the thread.
pub fn torque_by_friction(
    thread: Thread,
    preload: Force,
    thread_friction: f64,
    head_friction: f64,
    head_diameter: Length,
) -> Result<Torque, FigureError> {
    let force = PRELOAD.check("preload", preload.get::<newton>())?;
    let mu_thread = FRICTION.check("thread friction", thread_friction)?;
    let mu_head = FRICTION.check("head friction", head_friction)?;
    DIAMETER.check("friction diameter of the head", head_diameter.get::<millimeter>())?;
    let climb = thread.pitch().get::<meter>() / std::f64::consts::TAU;
    let half_angle = match thread.form() {
        Form::Metric | Form::Unified => 30_f64,
        Form::Whitworth => 27.5,
        Form::Association => 23.75,
    };
    let flank = mu_thread * thread.pitch_diameter().get::<meter>() / (2.0 * half_angle.to_radians().cos());
    let head = mu_head * head_diameter.get::<meter>() / 2.0;
    Ok(Torque::new::<newton_meter>(force * (climb + flank + head)))
}

/// A bolt tightened to a share of its proof load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tightening {
    /// Preload.
    pub preload: Force,
    /// Torque that gives it.
    pub torque: Torque,
}

/// Torque of a bolt by thread and grade. The maker's figure comes first; this is for a bolt without one.
///
/// * `share`: of the proof load, 0.05 to 1, see [`REUSED_JOINT`].
/// * `coefficient`: 0.05 to 0.6.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range, or the standard of the grade has no such size.
///
/// Source: Shigley ch. 8; ISO 898-1 and SAE J429 for the proof load.
pub fn tightening(
    thread: Thread,
    grade: Grade,
    share: f64,
    coefficient: f64,
) -> Result<Tightening, FigureError> {
    let share = SHARE.check("share of the proof load", share)?;
    let preload = proof_load(thread, grade)? * share;
    Ok(Tightening { preload, torque: torque_for(coefficient, thread.diameter(), preload)? })
}

/// A bolt replaced by one of another grade, same thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swap {
    /// Torque of the old bolt, which the new one is given too: the joint wants its clamp, no more.
    pub torque: Torque,
    /// Proof load of the new bolt over that of the old.
    pub proof_ratio: f64,
    /// Share of its proof load at which the new bolt then works.
    pub share_of_proof: f64,
    /// Whether the new bolt may stand in: it is no weaker than the old one.
    pub suits: bool,
}

/// What becomes of a joint when a bolt of another grade goes in at the old torque.
///
/// * `share`, `coefficient`: of the old bolt, as for [`tightening`].
///
/// A weaker bolt never suits: at the old torque it stretches, at less the joint loses its clamp. A much stronger one at
/// the old torque clamps as before and is merely less stretched, so it loosens more easily by settling.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range, or one of the standards has no such size.
///
/// Source: [`tightening`].
pub fn grade_swap(
    thread: Thread,
    from: Grade,
    to: Grade,
    share: f64,
    coefficient: f64,
) -> Result<Swap, FigureError> {
    let old = tightening(thread, from, share, coefficient)?;
    let (before, after) =
        (proof_load(thread, from)?.get::<newton>(), proof_load(thread, to)?.get::<newton>());
    let proof_ratio = after / before;
    Ok(Swap {
        torque: old.torque,
        proof_ratio,
        share_of_proof: old.preload.get::<newton>() / after,
        suits: proof_ratio >= 1.0 - 1e-9,
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::fasteners::tables::find;
    use crate::testing::{REFUSED, close, refuses, sound};

    const POUND_FORCE: f64 = 4.448_221_615_260_5;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn torque(k: f64, d: f64, newtons: f64) -> Result<f64, FigureError> {
        torque_for(k, mm(d), Force::new::<newton>(newtons)).map(|t| t.get::<newton_meter>())
    }

    fn preload(k: f64, d: f64, newton_metres: f64) -> Result<f64, FigureError> {
        preload_of(k, mm(d), Torque::new::<newton_meter>(newton_metres)).map(|f| f.get::<newton>())
    }

    fn thread(name: &str) -> Thread {
        find(name).unwrap().thread().unwrap()
    }

    fn friction(name: &str, newtons: f64, mu: [f64; 2], head: f64) -> Result<f64, FigureError> {
        torque_by_friction(thread(name), Force::new::<newton>(newtons), mu[0], mu[1], mm(head))
            .map(|t| t.get::<newton_meter>())
    }

    #[test]
    fn torques_against_the_unit_library() {
        // by a general-purpose library: 1/2-13 gr5 75 % proof; 7/16-20 gr5 75 % proof, oiled
        close(torque(DRY, 12.7, 9_046.125 * POUND_FORCE), 102.207_488_649, 1e-9);
        close(torque(OILED, 11.112_5, 7_567.125 * POUND_FORCE), 56.107_427_535_8, 1e-9);
        // tier A (regression): fastener.torque_KDF/M10x1.5 8.8, M12x1.5 10.9, M8x1.25 8.8, 75 % proof, K=.2
        for (name, grade, newton_metres) in [
            ("M10x1.5", Grade::Iso8_8, 50.450_946_003_1),
            ("M12x1.5", Grade::Iso10_9, 131.660_208_661),
            ("M8x1.25", Grade::Iso8_8, 25.479_544_369_8),
        ] {
            let found = tightening(thread(name), grade, REUSED_JOINT, DRY);
            close(found.map(|t| t.torque.get::<newton_meter>()), newton_metres, 1e-9);
        }
        // tier A (regression): fastener.torque_friction/M10x1.5 and M8x1.25 mu=.12; the factors there are rounded
        close(friction("M10x1.5", 25_225.473_001_6, [0.12, 0.12], 13.0), 41.472_007_947_1, 5e-4);
        close(friction("M8x1.25", 15_924.715_231_1, [0.12, 0.12], 10.4), 21.035_751_585_8, 5e-4);
    }

    #[test]
    fn a_steeper_flank_rubs_less() {
        // geometry: with next to no head friction 3/8-16 unified and Whitworth differ by the factors 0.577 and 0.564 and
        // by their pitch diameters, 8.494 and 8.508 mm
        let flank = |name| {
            let with = friction(name, 1e4, [0.2, 0.02], 10.0).unwrap()
                - friction(name, 1e4, [0.1, 0.02], 10.0).unwrap();
            with / (0.1 * 1e4 * thread(name).pitch_diameter().get::<meter>())
        };
        close(Ok(flank("3/8-16")), 0.577_350, 1e-5);
        close(Ok(flank("3/8-16 BSW")), 0.563_691, 1e-5);
    }

    /// Within 1 % or the rounding of the table to whole numbers.
    #[track_caller]
    fn as_tabled(found: f64, tabled: f64, step: f64) {
        assert!((found - tabled).abs() <= (0.01 * tabled).max(0.6 * step), "{found} against {tabled}");
    }

    #[test]
    fn trade_torques() {
        // computed by the trade from ISO 898-1 and SAE J429, an example vehicle: N·m dry and clamp kN, grades 5 and 8
        for (name, five, eight, clamp_five, clamp_eight) in [
            ("1/4-20", 11.0, 16.0, 9.0, 12.7),
            ("1/4-28", 13.0, 19.0, 10.3, 14.6),
            ("5/16-18", 24.0, 33.0, 14.9, 21.0),
            ("5/16-24", 26.0, 37.0, 16.4, 23.2),
            ("3/8-16", 42.0, 59.0, 22.0, 31.0),
            ("3/8-24", 47.0, 67.0, 24.9, 35.1),
            ("7/16-14", 67.0, 95.0, 30.1, 42.6),
            ("7/16-20", 75.0, 106.0, 33.7, 47.5),
            ("1/2-13", 102.0, 144.0, 40.2, 56.8),
            ("1/2-20", 115.0, 163.0, 45.3, 64.0),
            ("9/16-12", 147.0, 208.0, 51.6, 72.8),
            ("5/8-11", 204.0, 288.0, 64.1, 90.5),
        ] {
            for (grade, newton_metres, kilonewtons) in
                [(Grade::Sae5, five, clamp_five), (Grade::Sae8, eight, clamp_eight)]
            {
                let found = tightening(thread(name), grade, REUSED_JOINT, DRY).unwrap();
                as_tabled(found.torque.get::<newton_meter>(), newton_metres, 1.0);
                as_tabled(found.preload.get::<newton>() / 1e3, kilonewtons, 0.1);
            }
        }
        for (name, eight_eight, ten_nine, clamp_eight_eight, clamp_ten_nine) in [
            ("M6", 10.0, 15.0, 8.7, 12.5),
            ("M8", 25.0, 36.0, 15.9, 22.8),
            ("M10", 50.0, 72.0, 25.2, 36.1),
            ("M12", 88.0, 126.0, 36.7, 52.5),
            ("M14", 140.0, 200.0, 50.0, 71.6),
            ("M16", 219.0, 313.0, 68.3, 97.7),
        ] {
            for (grade, newton_metres, kilonewtons) in
                [(Grade::Iso8_8, eight_eight, clamp_eight_eight), (Grade::Iso10_9, ten_nine, clamp_ten_nine)]
            {
                let found = tightening(thread(name), grade, REUSED_JOINT, DRY).unwrap();
                as_tabled(found.torque.get::<newton_meter>(), newton_metres, 1.0);
                as_tabled(found.preload.get::<newton>() / 1e3, kilonewtons, 0.1);
            }
        }
    }

    #[test]
    fn swaps() {
        let swap = |from, to| grade_swap(thread("3/8-16"), from, to, REUSED_JOINT, DRY).unwrap();
        // grade 8 for 5: at the old torque it works at 75 * 85 / 120 = 53 % of its proof
        let up = swap(Grade::Sae5, Grade::Sae8);
        assert!(up.suits);
        close(Ok(up.share_of_proof), 0.75 * 85.0 / 120.0, 1e-9);
        close(Ok(up.proof_ratio), 120.0 / 85.0, 1e-9);
        // grade 2 for 5: 75 * 85 / 55 = 116 %, it stretches
        let down = swap(Grade::Sae5, Grade::Sae2);
        assert!(!down.suits && down.share_of_proof > 1.0);
        close(Ok(down.share_of_proof), 0.75 * 85.0 / 55.0, 1e-9);
        // 8.8 is 84.1 ksi, a little under grade 5, and does not stand in for it; the same grade does
        assert!(!swap(Grade::Sae5, Grade::Iso8_8).suits);
        assert!(swap(Grade::Sae5, Grade::Sae5).suits);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(torque(bad, 10.0, 2e4), "torque coefficient");
            refuses(torque(0.2, bad, 2e4), "bolt diameter");
            refuses(torque(0.2, 10.0, bad), "preload");
            refuses(preload(bad, 10.0, 50.0), "torque coefficient");
            refuses(preload(0.2, bad, 50.0), "bolt diameter");
            refuses(preload(0.2, 10.0, bad), "torque");
            refuses(friction("M8", bad, [0.12, 0.12], 10.4), "preload");
            refuses(friction("M8", 1e4, [bad, 0.12], 10.4), "thread friction");
            refuses(friction("M8", 1e4, [0.12, bad], 10.4), "head friction");
            refuses(friction("M8", 1e4, [0.12, 0.12], bad), "friction diameter of the head");
            refuses(tightening(thread("M8"), Grade::Iso8_8, bad, 0.2), "share of the proof load");
            refuses(tightening(thread("M8"), Grade::Iso8_8, 0.75, bad), "torque coefficient");
        }
        refuses(tightening(thread("#10-32"), Grade::Sae5, 0.75, 0.2), "bolt diameter");
        refuses(grade_swap(thread("#10-32"), Grade::Iso8_8, Grade::Sae5, 0.75, 0.2), "bolt diameter");
    }

    proptest! {
        #[test]
        fn torque_and_preload_undo_each_other(k in 0.06..0.5, d in 2.0..60.0, newtons in 100.0..1e6) {
            let back = torque(k, d, newtons).and_then(|t| preload(k, d, t)).unwrap_or(f64::NAN);
            prop_assert!((back / newtons - 1.0).abs() < 1e-9);
        }

        #[test]
        fn oil_gives_more_preload_for_the_torque(d in 4.0..30.0, newton_metres in 1.0..500.0) {
            let ratio = preload(OILED, d, newton_metres).unwrap_or(f64::NAN) / preload(DRY, d, newton_metres).unwrap_or(f64::NAN);
            prop_assert!((ratio - DRY / OILED).abs() < 1e-9);
        }

        #[test]
        fn more_friction_wants_more_torque(mu in 0.05..0.3, more in 0.001..0.1) {
            let at = |a, b| friction("M10", 2e4, [a, b], 13.0).unwrap_or(f64::NAN);
            prop_assert!(at(mu + more, mu) > at(mu, mu) && at(mu, mu + more) > at(mu, mu));
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>()) {
            prop_assert!(sound(torque(a, b, c)) && sound(preload(a, b, c)));
            prop_assert!(sound(friction("M10", a, [b, c], d)));
            let found = grade_swap(thread("M10"), Grade::Iso8_8, Grade::Iso10_9, a, b);
            prop_assert!(found.map_or(true, |s| s.share_of_proof.is_finite()));
        }
    }
}
