//! The limits of a check that is read as one figure, and whether a reading lies within them.

use crate::quantity::Quantity;
use crate::units::Dimension;

/// What a reading must lie within.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// At least so much.
    least: Option<Quantity>,
    /// At most so much.
    most: Option<Quantity>,
    /// As written: "at least 50 mm".
    pub text: String,
}

/// What a reading says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reading {
    /// Within the limits.
    Passes,
    /// Outside.
    Outside,
    /// There is no figure in it that the limits can be held to.
    NoFigure,
}

impl Limits {
    /// Reads "at least 50 mm", "at most 30 mA", "15 to 40 psi"; nothing where nothing is written.
    ///
    /// # Errors
    /// What was expected.
    pub fn read(text: &str) -> Result<Option<Self>, String> {
        let plain = text.trim();
        if plain.is_empty() {
            return Ok(None);
        }
        let no = || {
            format!(
                "expected a limit such as \"at least 50 mm\", \"at most 30 mA\" or \"15 to 40 psi\", found \"{text}\""
            )
        };
        let quantity = |text: &str| Quantity::parse(text).map_err(|why| format!("{}: {why}", no()));
        let (least, most) = if let Some(rest) = plain.strip_prefix("at least ") {
            (Some(quantity(rest)?), None)
        } else if let Some(rest) = plain.strip_prefix("at most ") {
            (None, Some(quantity(rest)?))
        } else {
            let (from, to) = plain.split_once(" to ").ok_or_else(no)?;
            let to = quantity(to)?;
            let from = with_unit(from, &to).ok_or_else(no)?;
            (Some(from), Some(to))
        };
        let rises =
            least.as_ref().zip(most.as_ref()).is_none_or(|(a, b)| a.dimension == b.dimension && a.si <= b.si);
        if rises { Ok(Some(Self { least, most, text: plain.to_owned() })) } else { Err(no()) }
    }

    /// What a reading says, with its unit or in the unit of the limits.
    #[must_use]
    pub fn holds(&self, reading: &str) -> Reading {
        let Some(bound) = self.least.as_ref().or(self.most.as_ref()) else { return Reading::NoFigure };
        let Some(read) = figure(reading, bound) else { return Reading::NoFigure };
        // what is written with as many figures as the limit is the limit: no bit of a unit's factor decides
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
        let low = self.least.as_ref().is_some_and(|l| read.si < l.si && !near(read.si, l.si));
        let high = self.most.as_ref().is_some_and(|m| read.si > m.si && !near(read.si, m.si));
        if low || high { Reading::Outside } else { Reading::Passes }
    }
}

/// The first figure of a reading: "14.1 V at 2000 rpm", "14.1".
fn figure(reading: &str, like: &Quantity) -> Option<Quantity> {
    let words: Vec<&str> = reading.split_whitespace().collect();
    let starts = words
        .iter()
        .position(|word| word.starts_with(|c: char| c.is_ascii_digit() || c == '-' || c == '.'))?;
    let ends = [2, 1].into_iter().filter(|many| starts + many <= words.len());
    ends.map(|many| words[starts..starts + many].join(" ")).find_map(|text| {
        let text = text.trim_end_matches([',', ';', '.']);
        Quantity::parse_as(text, like.dimension).ok().or_else(|| with_unit(text, like))
    })
}

/// A figure, with the unit of another where it has none.
fn with_unit(text: &str, like: &Quantity) -> Option<Quantity> {
    let of_like = |q: &Quantity| q.dimension == like.dimension;
    let bare = Quantity::parse(text).ok()?;
    if of_like(&bare) {
        return Some(bare);
    }
    let unit = like.text.trim_start_matches(|c: char| !c.is_alphabetic() && !matches!(c, '°' | '%' | '"'));
    let bare = (bare.dimension == Dimension::Ratio).then(|| format!("{text} {unit}"))?;
    Quantity::parse_as(&bare, like.dimension).ok()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn says(limit: &str, reading: &str) -> Reading {
        Limits::read(limit).unwrap().unwrap().holds(reading)
    }

    #[test]
    fn a_reading_is_held_to_the_limit_in_whatever_unit_it_is_written() {
        // 1 in is 25.4 mm, 1 bar is 14.5 psi (ISO 80000)
        assert_eq!(says("at least 50 mm", "2 in"), Reading::Passes);
        assert_eq!(says("at least 50 mm", "50"), Reading::Passes);
        assert_eq!(says("at least 50 mm", "49 mm"), Reading::Outside);
        assert_eq!(says("at most 30 mA", "0.03 A"), Reading::Passes);
        assert_eq!(says("at most 30 mA", "31 mA after an hour"), Reading::Outside);
        assert_eq!(says("13.8 to 14.4 V", "14.1 V at 2000 rpm"), Reading::Passes);
        assert_eq!(says("13.8 to 14.4 V", "about 15.2"), Reading::Outside);
        assert_eq!(says("at least 15 psi", "1.1 bar"), Reading::Passes);
    }

    #[test]
    fn what_holds_no_figure_does_not_pass_and_what_is_no_limit_is_told() {
        for reading in ["", "fine", "12 V", "-", "1e999"] {
            assert_ne!(says("at least 50 mm", reading), Reading::Passes, "{reading}");
        }
        assert_eq!(Limits::read(" ").unwrap(), None);
        for wrong in ["50 mm", "at least", "at least some", "9 to 4 V", "4 V to 9 mm"] {
            assert!(Limits::read(wrong).unwrap_err().starts_with("expected a limit such as"), "{wrong}");
        }
    }
}
