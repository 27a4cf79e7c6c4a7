//! Geometry of a screw thread: metric and unified (60 deg), Whitworth (55 deg), BA (47.5 deg) (ISO 68-1; ASME B1.1; BS 84;
//! BS 93).

use std::f64::consts::FRAC_PI_4;

use uom::si::area::square_millimeter;
use uom::si::f64::{Area, Length};
use uom::si::length::millimeter;

use crate::error::{Expected, FigureError};
use crate::range::Range;

const DIAMETER: Range = Range::new(0.5, 200.0, "mm");
const PITCH: Range = Range::new(0.05, 12.0, "mm");
const PER_INCH: Range = Range::new(2.5, 120.0, "/in");
const INCHES: Range = Range::new(0.02, 8.0, "in");

/// Family of a thread; each has its own shape or its own rule for the stress area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Form {
    /// ISO metric, 60 deg.
    Metric,
    /// Unified inch, 60 deg.
    Unified,
    /// Whitworth, 55 deg: BSW, BSF and parallel pipe thread.
    Whitworth,
    /// British Association, 47.5 deg.
    Association,
}

/// A thread that has passed its checks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    form: Form,
    diameter_mm: f64,
    pitch_mm: f64,
}

impl Thread {
    /// Metric thread by diameter, 0.5 to 200 mm, and pitch, 0.05 to 12 mm.
    ///
    /// # Errors
    /// [`FigureError`] if one is out of its range, or the pitch is no less than a third of the diameter.
    pub fn metric(diameter: Length, pitch: Length) -> Result<Self, FigureError> {
        let d = DIAMETER.check("thread diameter", diameter.get::<millimeter>())?;
        let p = PITCH.check("thread pitch", pitch.get::<millimeter>())?;
        Self::checked(Form::Metric, d, p)
    }

    /// British Association thread by diameter, 0.5 to 200 mm, and pitch, 0.05 to 12 mm.
    ///
    /// # Errors
    /// [`FigureError`] if one is out of its range, or the pitch is no less than a third of the diameter.
    pub fn association(diameter: Length, pitch: Length) -> Result<Self, FigureError> {
        Ok(Self { form: Form::Association, ..Self::metric(diameter, pitch)? })
    }

    /// Unified thread by diameter, 0.02 to 8 in, and threads an inch, 2.5 to 120.
    ///
    /// # Errors
    /// [`FigureError`] if one is out of its range, or the pitch is no less than a third of the diameter.
    pub fn unified(diameter_in: f64, threads_per_inch: f64) -> Result<Self, FigureError> {
        Self::inch(Form::Unified, diameter_in, threads_per_inch)
    }

    /// Whitworth thread by diameter, 0.02 to 8 in, and threads an inch, 2.5 to 120.
    ///
    /// # Errors
    /// [`FigureError`] if one is out of its range, or the pitch is no less than a third of the diameter.
    pub fn whitworth(diameter_in: f64, threads_per_inch: f64) -> Result<Self, FigureError> {
        Self::inch(Form::Whitworth, diameter_in, threads_per_inch)
    }

    fn inch(form: Form, diameter_in: f64, threads_per_inch: f64) -> Result<Self, FigureError> {
        let d = INCHES.check("thread diameter", diameter_in)?;
        let n = PER_INCH.check("threads an inch", threads_per_inch)?;
        Self::checked(form, d * 25.4, 25.4 / n)
    }

    /// A pitch of a third of the diameter leaves next to no core.
    fn checked(form: Form, diameter_mm: f64, pitch_mm: f64) -> Result<Self, FigureError> {
        if pitch_mm * 3.0 < diameter_mm {
            return Ok(Self { form, diameter_mm, pitch_mm });
        }
        let expected = Expected::Below { limit: diameter_mm / 3.0, unit: "mm" };
        Err(FigureError { quantity: "thread pitch", found: pitch_mm, expected })
    }

    /// Family.
    #[must_use]
    pub fn form(self) -> Form {
        self.form
    }

    /// Nominal diameter over the thread.
    #[must_use]
    pub fn diameter(self) -> Length {
        mm(self.diameter_mm)
    }

    /// From one turn to the next.
    #[must_use]
    pub fn pitch(self) -> Length {
        mm(self.pitch_mm)
    }

    /// Height of the sharp triangle, `H`: 0.8660 P at 60 deg, 0.9605 P at 55 deg, 1.1363 P at 47.5 deg.
    #[must_use]
    pub fn triangle_height(self) -> Length {
        mm(self.pitch_mm
            * match self.form {
                Form::Metric | Form::Unified => 3_f64.sqrt() / 2.0,
                Form::Whitworth => 0.960_491,
                // 1 / (2 tan 23.75 deg)
                Form::Association => 1.136_336,
            })
    }

    /// Pitch diameter: `D - 0.6495 P`; Whitworth, where it is called effective diameter, `D - 0.6403 P`; BA `D - 0.6 P`.
    #[must_use]
    pub fn pitch_diameter(self) -> Length {
        mm(match self.form {
            Form::Metric | Form::Unified => self.diameter_mm - 0.375 * 3_f64.sqrt() * self.pitch_mm,
            Form::Whitworth => self.diameter_mm - 0.640_327 * self.pitch_mm,
            Form::Association => self.diameter_mm - 0.6 * self.pitch_mm,
        })
    }

    /// Diameter inside a nut: `D - 1.0825 P`; Whitworth `D - 1.2807 P`; BA `D - 1.2 P`.
    #[must_use]
    pub fn nut_minor_diameter(self) -> Length {
        mm(match self.form {
            Form::Metric | Form::Unified => self.diameter_mm - 0.625 * 3_f64.sqrt() * self.pitch_mm,
            Form::Whitworth => self.diameter_mm - 2.0 * 0.640_327 * self.pitch_mm,
            Form::Association => self.diameter_mm - 1.2 * self.pitch_mm,
        })
    }

    /// Diameter of the core of a bolt: `D - 1.2269 P`; Whitworth `D - 1.2807 P`; BA `D - 1.2 P`.
    #[must_use]
    pub fn core_diameter(self) -> Length {
        mm(match self.form {
            Form::Metric | Form::Unified => self.diameter_mm - 17.0 / 24.0 * 3_f64.sqrt() * self.pitch_mm,
            Form::Whitworth => self.diameter_mm - 2.0 * 0.640_327 * self.pitch_mm,
            Form::Association => self.diameter_mm - 1.2 * self.pitch_mm,
        })
    }

    /// Area on which the strength of a bolt is reckoned.
    ///
    /// Metric `pi/4 ((d2 + d3) / 2)^2` (ISO 898-1), unified `pi/4 (D - 0.9743 P)^2` (ASME B1.1), Whitworth and BA the same
    /// mean of pitch and core diameter as metric.
    #[must_use]
    pub fn stress_area(self) -> Area {
        let mean = match self.form {
            Form::Unified => self.diameter_mm - 0.974_3 * self.pitch_mm,
            Form::Metric | Form::Whitworth | Form::Association => f64::midpoint(
                self.pitch_diameter().get::<millimeter>(),
                self.core_diameter().get::<millimeter>(),
            ),
        };
        Area::new::<square_millimeter>(FRAC_PI_4 * mean * mean)
    }

    /// Whether a bolt of one thread goes into a nut of the other: one form, one diameter, one pitch.
    ///
    /// A quarter-inch UNF enters a BSF hole for two turns and jams; the shapes differ.
    #[must_use]
    pub fn mates_with(self, other: Self) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-3;
        // metric and unified share their shape
        let shape = |form| if form == Form::Unified { Form::Metric } else { form };
        shape(self.form) == shape(other.form)
            && close(self.diameter_mm, other.diameter_mm)
            && close(self.pitch_mm, other.pitch_mm)
    }
}

fn mm(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    fn metric(d: f64, p: f64) -> Result<Thread, FigureError> {
        Thread::metric(mm(d), mm(p))
    }

    fn inches(length: Length) -> f64 {
        length.get::<millimeter>() / 25.4
    }

    fn square_inches(area: Area) -> f64 {
        area.get::<square_millimeter>() / 645.16
    }

    #[test]
    fn metric_geometry() {
        // ISO 898-1 9.1.6: d2, d3, D1, As
        for (d, p, d2, d3, d1, area) in [
            (10.0, 1.5, 9.025_721_420_74, 8.159_696_016_96, 8.376_202_367_9, 57.989_593_107_1),
            (12.0, 1.75, 10.863_341_657_5, 9.852_978_686_45, 10.105_569_429_2, 84.266_533_027_7),
            (16.0, 2.0, 14.700_961_894_3, 13.546_261_355_9, 13.834_936_490_5, 156.668_402_393),
            (12.0, 1.25, 11.188_101_184, 10.466_413_347_5, 10.646_835_306_6, 92.071_833_915_8),
        ] {
            let thread = metric(d, p).unwrap();
            close(Ok(thread.pitch_diameter().get::<millimeter>()), d2, 1e-9);
            close(Ok(thread.core_diameter().get::<millimeter>()), d3, 1e-9);
            close(Ok(thread.nut_minor_diameter().get::<millimeter>()), d1, 1e-9);
            close(Ok(thread.stress_area().get::<square_millimeter>()), area, 1e-9);
        }
        // ISO 898-1, table 4: M6 20.1, M8 36.6, M14 115 mm2, to its rounding (from memory, regression only)
        for (d, p, area) in [(6.0, 1.0, 20.1), (8.0, 1.25, 36.6), (14.0, 2.0, 115.0)] {
            close(metric(d, p).map(|t| t.stress_area().get::<square_millimeter>()), area, 4e-3);
        }
    }

    #[test]
    fn unified_geometry() {
        // tier P: fastener.thread_unf/...: pitch diameter, internal minor, stress area, in
        for (d, n, d2, d1, area) in [
            (0.25, 28.0, 0.226_802_890_97, 0.211_338_151_617, 0.036_373_813_040_2),
            (0.375, 24.0, 0.347_936_706_132, 0.329_894_510_22, 0.087_828_050_225_4),
            (0.4375, 20.0, 0.405_024_047_358, 0.383_373_412_263, 0.118_715_898_238),
            (0.5, 20.0, 0.467_524_047_358, 0.445_873_412_263, 0.159_952_737_933),
        ] {
            let thread = Thread::unified(d, n).unwrap();
            close(Ok(inches(thread.pitch_diameter())), d2, 1e-9);
            close(Ok(inches(thread.nut_minor_diameter())), d1, 1e-9);
            close(Ok(square_inches(thread.stress_area())), area, 1e-9);
        }
        // tier P: fastener.stress_area_unc/...
        for (d, n, area) in [
            (0.25, 20.0, 0.031_820_918_061),
            (0.3125, 18.0, 0.052_430_200_972_1),
            (0.375, 16.0, 0.077_489_531_877_2),
            (0.4375, 14.0, 0.106_308_091_298),
            (0.5, 13.0, 0.141_898_492_611),
            (0.625, 11.0, 0.226_001_635_054),
            (0.75, 10.0, 0.334_459_926_776),
        ] {
            close(Thread::unified(d, n).map(|t| square_inches(t.stress_area())), area, 1e-9);
        }
    }

    #[test]
    fn whitworth_geometry() {
        // tier P: fastener.tap_drill_whitworth/...: basic minor and effective diameter, mm
        for (d, n, minor, effective) in [
            (0.25, 26.0, 5.098_899_553_85, 5.724_449_776_92),
            (0.3125, 22.0, 6.458_926_745_45, 7.198_213_372_73),
            (0.375, 20.0, 7.898_569_42, 8.711_784_71),
            (0.5, 16.0, 10.666_961_775, 11.683_480_887_5),
            (0.375, 16.0, 7.491_961_775, 8.508_480_887_5),
            (0.5, 12.0, 9.989_282_366_67, 11.344_641_183_3),
        ] {
            let thread = Thread::whitworth(d, n).unwrap();
            close(Ok(thread.nut_minor_diameter().get::<millimeter>()), minor, 1e-9);
            close(Ok(thread.pitch_diameter().get::<millimeter>()), effective, 1e-9);
        }
    }

    #[test]
    fn threads_that_look_alike_do_not_mate() {
        let unc = Thread::unified(0.375, 16.0).unwrap();
        let bsw = Thread::whitworth(0.375, 16.0).unwrap();
        assert!(!unc.mates_with(bsw) && unc.mates_with(unc) && bsw.mates_with(bsw));
        // M8x1.25 and 5/16-20 differ by 0.06 mm
        assert!(!metric(8.0, 1.25).unwrap().mates_with(Thread::unified(0.3125, 20.0).unwrap()));
        assert!(!metric(10.0, 1.5).unwrap().mates_with(metric(10.0, 1.25).unwrap()));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(metric(bad, 1.0), "thread diameter");
            refuses(metric(8.0, bad), "thread pitch");
            refuses(Thread::unified(bad, 20.0), "thread diameter");
            refuses(Thread::unified(0.25, bad), "threads an inch");
            refuses(Thread::whitworth(bad, 20.0), "thread diameter");
            refuses(Thread::whitworth(0.25, bad), "threads an inch");
        }
        refuses(metric(6.0, 2.0), "thread pitch");
        assert!(metric(6.0, 1.99).is_ok());
        refuses(Thread::unified(0.25, 10.0), "thread pitch");
    }

    proptest! {
        #[test]
        fn core_under_pitch_under_nominal(d in 2.0..100.0, share in 0.02_f64..0.3) {
            for thread in [metric(d, d * share), Thread::unified(d / 25.4, 25.4 / (d * share))] {
                let Ok(thread) = thread else { continue };
                let [core, nut, pitch, over] =
                    [thread.core_diameter(), thread.nut_minor_diameter(), thread.pitch_diameter(), thread.diameter()];
                prop_assert!(core > mm(0.0) && core < nut && nut < pitch && pitch < over);
                prop_assert!(thread.stress_area().get::<square_millimeter>() > 0.0);
            }
        }

        #[test]
        fn a_finer_thread_is_stronger(d in 4.0..40.0, share in 0.05_f64..0.2) {
            let area = |p| metric(d, p).unwrap().stress_area();
            prop_assert!(area(d * share * 0.9) > area(d * share));
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>()) {
            for thread in [metric(a, b), Thread::unified(a, b), Thread::whitworth(a, b)] {
                prop_assert!(thread.map_or(true, |t| t.stress_area().get::<square_millimeter>() > 0.0));
            }
        }
    }
}
