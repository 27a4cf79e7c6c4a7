//! Thread of a wheel stud in its nut: length and turns engaged, and the stud that is wanted (common practice).

use uom::si::f64::Length;
use uom::si::length::millimeter;

use crate::error::FigureError;
use crate::gap::{Gap, GapRule};
use crate::range::Range;

const STUD_OUT: Range = Range::new(1.0, 300.0, "mm");
const PAD: Range = Range::new(0.0, 100.0, "mm");
const SPACER: Range = Range::new(0.0, 200.0, "mm");
const NUT_THREAD: Range = Range::new(1.0, 100.0, "mm");
const PITCH: Range = Range::new(0.2, 6.0, "mm");
const DIAMETER: Range = Range::new(4.0, 40.0, "mm");
const TURNS: Range = Range::new(0.1, 100.0, "turns");
const SHARE: Range = Range::new(0.5, 3.0, "");
const ENGAGED: Range = Range::new(0.0, 100.0, "mm");

/// A stud, what lies on it, and its nut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StudFit {
    /// Thread of the stud that stands out of the hub or drum face, 1 to 300 mm.
    pub stud_out: Length,
    /// Thickness of the wheel where the nut seats, 0 to 100 mm.
    pub pad: Length,
    /// Slip-on spacer between hub and wheel, 0 to 200 mm; a bolt-on adapter has studs of its own.
    pub spacer: Length,
    /// Length of thread in the nut, 1 to 100 mm.
    pub nut_thread: Length,
}

/// Thread engaged by a number of turns: `turns * pitch`.
///
/// * `turns`: 0.1 to 100.
/// * `pitch`: of the thread, 0.2 to 6 mm; 25.4 over the threads per inch.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition of the pitch.
pub fn engaged_length(turns: f64, pitch: Length) -> Result<Length, FigureError> {
    let turns = TURNS.check("turns of the nut", turns)?;
    PITCH.check("thread pitch", pitch.get::<millimeter>())?;
    Ok(turns * pitch)
}

/// Turns that engage a length of thread: the reverse of [`engaged_length`].
///
/// * `engaged`: 0 to 100 mm.
/// * `pitch`: 0.2 to 6 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition of the pitch.
pub fn turns_of(engaged: Length, pitch: Length) -> Result<f64, FigureError> {
    let engaged = ENGAGED.check("thread engaged", engaged.get::<millimeter>())?;
    Ok(engaged / PITCH.check("thread pitch", pitch.get::<millimeter>())?)
}

/// Thread engaged in the nut, held against what is wanted: the smaller of what stands out of the wheel and what the
/// nut has; negative where the stud does not even reach the nut.
///
/// * `fit`: within the ranges of [`StudFit`].
/// * `diameter`: of the stud, 4 to 40 mm.
/// * `diameters_wanted`: length engaged over the diameter, 0.5 to 3; 1 is common practice.
/// * `accuracy`: of the measures together, 0 to 100 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: one diameter is common practice for wheel studs.
pub fn stud_engagement(
    fit: StudFit,
    diameter: Length,
    diameters_wanted: f64,
    accuracy: Length,
) -> Result<Gap, FigureError> {
    STUD_OUT.check("stud thread out of the hub", fit.stud_out.get::<millimeter>())?;
    check_stack(fit.pad, fit.spacer)?;
    NUT_THREAD.check("thread in the nut", fit.nut_thread.get::<millimeter>())?;
    let wanted = wanted(diameter, diameters_wanted)?;
    let out = fit.stud_out - fit.pad - fit.spacer;
    GapRule { wanted, accuracy }.judge(if out < fit.nut_thread { out } else { fit.nut_thread })
}

/// Thread that must stand out of the hub: `pad + spacer + diameters wanted * diameter`.
///
/// * `pad`: thickness of the wheel where the nut seats, 0 to 100 mm.
/// * `spacer`: slip-on spacer, 0 to 200 mm.
/// * `diameter`: of the stud, 4 to 40 mm.
/// * `diameters_wanted`: 0.5 to 3; 1 is common practice.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry; one diameter is common practice.
pub fn stud_length_wanted(
    pad: Length,
    spacer: Length,
    diameter: Length,
    diameters_wanted: f64,
) -> Result<Length, FigureError> {
    check_stack(pad, spacer)?;
    Ok(pad + spacer + wanted(diameter, diameters_wanted)?)
}

fn check_stack(pad: Length, spacer: Length) -> Result<(), FigureError> {
    PAD.check("wheel thickness at the nut", pad.get::<millimeter>())?;
    SPACER.check("wheel spacer", spacer.get::<millimeter>())?;
    Ok(())
}

fn wanted(diameter: Length, diameters: f64) -> Result<Length, FigureError> {
    DIAMETER.check("stud diameter", diameter.get::<millimeter>())?;
    Ok(diameter * SHARE.check("engagement in diameters", diameters)?)
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

    fn engaged(turns: f64, pitch: f64) -> Result<f64, FigureError> {
        engaged_length(turns, mm(pitch)).map(|l| l.get::<millimeter>())
    }

    fn fit(a: [f64; 6]) -> Result<Gap, FigureError> {
        let [stud_out, pad, spacer, nut_thread, diameter, share] = a;
        let fit =
            StudFit { stud_out: mm(stud_out), pad: mm(pad), spacer: mm(spacer), nut_thread: mm(nut_thread) };
        stud_engagement(fit, mm(diameter), share, mm(0.5))
    }

    #[test]
    fn turns_as_printed() {
        // a workshop table of least turns, turns read in an article; mm and diameters
        for (turns, pitch, diameter, length, share) in [
            (8.0, 1.27, 12.7, 10.16, 0.8),
            (6.5, 1.5, 12.0, 9.75, 0.8125),
            (8.0, 1.25, 12.0, 10.0, 0.833_333_333_333),
        ] {
            close(engaged(turns, pitch), length, 1e-9);
            close(engaged(turns, pitch).map(|l| l / diameter), share, 1e-9);
            close(turns_of(mm(length), mm(pitch)), turns, 1e-9);
        }
    }

    #[test]
    fn one_diameter_is_wanted() {
        // common practice: engaged at least one diameter; 1/2-20 through a 6 mm wheel
        let short = fit([16.0, 6.0, 0.0, 19.0, 12.7, 1.0]);
        assert!(short.is_ok_and(|g| matches!(g.verdict(), GapVerdict::Broken { .. })));
        close(short.map(|g| g.spare().get::<millimeter>()), -2.7, 1e-9);
        assert!(fit([19.5, 6.0, 0.0, 19.0, 12.7, 1.0]).is_ok_and(|g| g.holds()));
        // a 25 mm slip-on spacer takes the stud out of the nut
        let spaced = fit([19.5, 6.0, 25.0, 19.0, 12.7, 1.0]);
        close(spaced.map(|g| g.found.get::<millimeter>()), -11.5, 1e-9);
        let stud = stud_length_wanted(mm(6.0), mm(25.0), mm(12.7), 1.0);
        close(stud.map(|l| l.get::<millimeter>()), 43.7, 1e-9);
        // a short nut sets the limit, however long the stud
        close(fit([60.0, 6.0, 0.0, 12.0, 12.7, 1.0]).map(|g| g.found.get::<millimeter>()), 12.0, 1e-9);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let names = [
            "stud thread out of the hub",
            "wheel thickness at the nut",
            "wheel spacer",
            "thread in the nut",
            "stud diameter",
            "engagement in diameters",
        ];
        for (at, name) in names.into_iter().enumerate() {
            for bad in [f64::NAN, f64::INFINITY, -1.0, 1e9] {
                let mut a = [19.5, 6.0, 3.0, 19.0, 12.7, 1.0];
                a[at] = bad;
                refuses(fit(a), name);
            }
        }
        for bad in REFUSED {
            refuses(engaged(bad, 1.27), "turns of the nut");
            refuses(engaged(8.0, bad), "thread pitch");
            refuses(turns_of(mm(10.0), mm(bad)), "thread pitch");
            refuses(stud_length_wanted(mm(6.0), mm(0.0), mm(bad), 1.0), "stud diameter");
        }
        refuses(turns_of(mm(-1.0), mm(1.27)), "thread engaged");
        refuses(stud_length_wanted(mm(-6.0), mm(0.0), mm(12.7), 1.0), "wheel thickness at the nut");
    }

    proptest! {
        #[test]
        fn turns_and_length_undo_each_other(turns in 0.2..60.0, pitch in 0.3..1.5) {
            let back = engaged(turns, pitch).and_then(|l| turns_of(mm(l), mm(pitch)));
            prop_assert!(back.is_ok_and(|b| (b - turns).abs() < 1e-9));
        }

        #[test]
        fn the_stud_wanted_just_holds(pad in 1.0..30.0, spacer in 0.0..50.0, diameter in 6.0..20.0, share in 0.6..2.0) {
            let wanted = stud_length_wanted(mm(pad), mm(spacer), mm(diameter), share);
            let spare = wanted.and_then(|w| fit([w.get::<millimeter>(), pad, spacer, 90.0, diameter, share]));
            prop_assert!(spare.is_ok_and(|g| g.spare().get::<millimeter>().abs() < 1e-9));
        }
    }
}
