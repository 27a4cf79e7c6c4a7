//! A gap between two things: what was found, what is wanted, how well it was measured, and what follows from that.

use uom::si::f64::Length;
use uom::si::length::millimeter;

use crate::error::FigureError;
use crate::range::Range;

const WANTED: Range = Range::new(0.0, 1_000.0, "mm");
const ACCURACY: Range = Range::new(0.0, 100.0, "mm");

/// What turning units to and fro may cost, mm: a gap exactly as wanted holds.
const ROUNDING: f64 = 1e-6;

/// What is asked of a gap, and how well the measures behind it are known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GapRule {
    /// The least gap that will do, 0 to 1,000 mm.
    pub wanted: Length,
    /// The found gap may be off by as much as this either way, 0 to 100 mm.
    pub accuracy: Length,
}

/// A gap held against its rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// The gap found; negative where the parts overlap.
    pub found: Length,
    /// What was asked.
    pub rule: GapRule,
}

/// What a gap comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GapVerdict {
    /// Wide enough even if the measures are off the wrong way.
    Holds {
        /// Found less wanted; zero or more, to a nanometre.
        spare: Length,
    },
    /// The measures are too coarse to tell.
    Open {
        /// Measured to better than this, the answer would be certain, if the reading stays the same.
        measure_within: Length,
    },
    /// Too narrow even if the measures are off the right way.
    Broken {
        /// Wanted less found; more than zero.
        short_by: Length,
    },
}

impl GapRule {
    /// Nothing but what is wanted, measures taken as exact.
    #[must_use]
    pub fn exact(wanted: Length) -> Self {
        Self { wanted, accuracy: Length::new::<millimeter>(0.0) }
    }

    /// Holds a found gap against the rule.
    ///
    /// # Errors
    /// [`FigureError`] if the rule is outside its ranges.
    pub(crate) fn judge(self, found: Length) -> Result<Gap, FigureError> {
        WANTED.check("gap wanted", self.wanted.get::<millimeter>())?;
        ACCURACY.check("measuring accuracy", self.accuracy.get::<millimeter>())?;
        Ok(Gap { found, rule: self })
    }
}

impl Gap {
    /// The found gap less the wanted one; negative where it falls short.
    #[must_use]
    pub fn spare(&self) -> Length {
        self.found - self.rule.wanted
    }

    /// Holds, open or broken, and by how much.
    ///
    /// Source: the rule of the trade that a check which the tolerance leaves open is a thing to measure.
    #[must_use]
    pub fn verdict(&self) -> GapVerdict {
        let (spare, rounding) = (self.spare(), Length::new::<millimeter>(ROUNDING));
        if spare >= self.rule.accuracy - rounding {
            GapVerdict::Holds { spare }
        } else if spare < -self.rule.accuracy {
            GapVerdict::Broken { short_by: -spare }
        } else {
            GapVerdict::Open { measure_within: spare.abs() }
        }
    }

    /// True only where the gap is certainly wide enough.
    #[must_use]
    pub fn holds(&self) -> bool {
        matches!(self.verdict(), GapVerdict::Holds { .. })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::refuses;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn gap(found: f64, wanted: f64, accuracy: f64) -> Gap {
        Gap { found: mm(found), rule: GapRule { wanted: mm(wanted), accuracy: mm(accuracy) } }
    }

    #[test]
    fn three_answers() {
        assert_eq!(gap(5.0, 3.0, 1.0).verdict(), GapVerdict::Holds { spare: mm(5.0) - mm(3.0) });
        assert_eq!(gap(1.0, 3.0, 1.0).verdict(), GapVerdict::Broken { short_by: mm(3.0) - mm(1.0) });
        assert_eq!(gap(3.5, 3.0, 1.0).verdict(), GapVerdict::Open { measure_within: mm(3.5) - mm(3.0) });
        // exactly enough and exactly measured will do
        assert!(gap(3.0, 3.0, 0.0).holds());
        assert!(!gap(-0.1, 0.0, 0.0).holds());
    }

    #[test]
    fn refuses_a_rule_that_cannot_be() {
        for bad in [f64::NAN, f64::INFINITY, -1.0, 1e9] {
            refuses(GapRule::exact(mm(bad)).judge(mm(1.0)), "gap wanted");
            refuses(GapRule { wanted: mm(3.0), accuracy: mm(bad) }.judge(mm(1.0)), "measuring accuracy");
        }
    }

    proptest! {
        #[test]
        fn a_better_measure_never_turns_the_answer_over(
            found in -50.0..50.0, wanted in 0.0..20.0, coarse in 0.0..10.0, share in 0.0..1.0,
        ) {
            let (first, second) = (gap(found, wanted, coarse), gap(found, wanted, coarse * share));
            match first.verdict() {
                GapVerdict::Open { measure_within } => {
                    prop_assert!(measure_within <= mm(coarse + ROUNDING));
                }
                sure => prop_assert_eq!(sure, second.verdict()),
            }
        }

        #[test]
        fn measured_as_asked_the_answer_is_sure(found in -50.0..50.0, wanted in 0.0..20.0, coarse in 0.0..100.0) {
            if let GapVerdict::Open { measure_within } = gap(found, wanted, coarse).verdict() {
                let sharper = gap(found, wanted, measure_within.get::<millimeter>() * 0.999_999);
                let still_open = matches!(sharper.verdict(), GapVerdict::Open { .. });
                prop_assert!(!still_open || (found - wanted).abs() < 2.0 * ROUNDING);
            }
        }
    }
}
