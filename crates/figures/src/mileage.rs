//! Mileage: what a counter that rolls over can mean, and what wear lets one believe.

use crate::error::FigureError;
use crate::range::Range;

const DIGITS: Range = Range::new(3.0, 7.0, "");
/// How often a counter may have rolled over.
const TIMES: u8 = 10;

/// What a piece of evidence lets one believe of the whole distance, in the unit of the counter. An end that is `None` is open:
/// a rebuilt engine proves nothing about what is beyond it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Believed {
    /// At least.
    pub least: Option<f64>,
    /// At most.
    pub most: Option<f64>,
}

impl Believed {
    /// Both hold; `None`: they cannot both.
    #[must_use]
    pub fn and(self, other: Self) -> Option<Self> {
        let least = [self.least, other.least].into_iter().flatten().reduce(f64::max);
        let most = [self.most, other.most].into_iter().flatten().reduce(f64::min);
        match (least, most) {
            (Some(least), Some(most)) if least > most => None,
            _ => Some(Self { least, most }),
        }
    }

    /// Whether a distance is believed.
    #[must_use]
    pub fn holds(&self, distance: f64) -> bool {
        self.least.is_none_or(|least| distance >= least) && self.most.is_none_or(|most| distance <= most)
    }
}

/// What a counter can mean that shows so much: itself, and once more for each time it has rolled over.
///
/// * `shown`: what it shows, from 0 to all nines, in the unit of the counter.
/// * `digits`: whole figures that it has, tenths left out: 3 to 7. Five roll over at 99,999.
/// * `believed`: what wear lets one believe.
///
/// Those of ten that are believed, the least first; empty where none is.
///
/// # Errors
/// [`FigureError`] where the counter cannot show that.
///
/// Source: arithmetic; a counter of n figures shows the distance modulo ten to the n.
pub fn counter(shown: f64, digits: u32, believed: Believed) -> Result<Vec<f64>, FigureError> {
    DIGITS.check("digits of the counter", f64::from(digits))?;
    let round = 10_f64.powi(digits.cast_signed());
    Range::new(0.0, round - 1.0, "").check("what the counter shows", shown)?;
    let can = (0..TIMES).map(|n| shown + round * f64::from(n));
    Ok(can.filter(|distance| believed.holds(*distance)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::refuses;

    fn miles(least: impl Into<Option<f64>>, most: impl Into<Option<f64>>) -> Believed {
        Believed { least: least.into(), most: most.into() }
    }

    #[test]
    fn a_counter_of_five_figures_shows_its_distance_less_whole_hundred_thousands() {
        // by hand: 41,000 on five figures is 41,000, 141,000, 241,000, ...
        assert_eq!(counter(41_000.0, 5, miles(120_000.0, 160_000.0)), Ok(vec![141_000.0]));
        assert_eq!(counter(41_000.0, 5, miles(None, 160_000.0)), Ok(vec![41_000.0, 141_000.0]));
        assert_eq!(counter(41_000.0, 5, miles(50_000.0, 90_000.0)), Ok(vec![]));
        assert_eq!(counter(41_000.0, 6, miles(100_000.0, 2e6)), Ok(vec![1_041_000.0]));
        refuses(counter(141_000.0, 5, Believed::default()), "what the counter shows");
        refuses(counter(f64::NAN, 5, Believed::default()), "what the counter shows");
        refuses(counter(1.0, 2, Believed::default()), "digits of the counter");
    }

    #[test]
    fn evidence_adds_up_or_cannot_all_be_true() {
        let wear =
            miles(100_000.0, None).and(miles(None, 160_000.0)).and_then(|b| b.and(miles(120_000.0, None)));
        assert_eq!(wear, Some(miles(120_000.0, 160_000.0)));
        assert_eq!(miles(100_000.0, None).and(miles(None, 60_000.0)), None);
        assert_eq!(Believed::default().and(Believed::default()), Some(Believed::default()));
    }
}
