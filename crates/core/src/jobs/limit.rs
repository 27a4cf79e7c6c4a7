//! The limits of a check that is read as one figure, and whether a reading lies within them.

use crate::quantity::{Quantity, QuantityError};
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

    /// What a reading says. Every figure in it with a unit of the limits must lie within them; a bare one is taken in that unit
    /// only where it is the one figure there is and no word behind it says what it counts. What cannot be read for certain
    /// does not pass.
    #[must_use]
    pub fn holds(&self, reading: &str) -> Reading {
        let Some(bound) = self.least.as_ref().or(self.most.as_ref()) else { return Reading::NoFigure };
        let figures = figures(reading, bound);
        let mut held =
            figures.iter().filter_map(|f| if let Figure::Of(q) = f { Some(q) } else { None }).peekable();
        let is_any = held.peek().is_some();
        if held.any(|q| self.is_outside(q)) {
            return Reading::Outside;
        }
        let is_other = |f: &&Figure| matches!(f, Figure::Other);
        // a mixture has no unit: "13.8 at 2000 rpm" is one figure and where it was read
        let others =
            if bound.dimension == Dimension::Ratio { figures.iter().filter(is_other).count() } else { 0 };
        let only = figures.len() - others == 1;
        for figure in &figures {
            match figure {
                Figure::Bare { is, counts: true } if only => {
                    return if self.is_outside(is) { Reading::Outside } else { Reading::Passes };
                }
                // "52 mm first, sank to 0": nobody can tell what the 0 is
                Figure::Bare { is, .. } if self.is_outside(is) => return Reading::NoFigure,
                Figure::Unread => return Reading::NoFigure,
                // more than nothing the wrong way round: the leads are swapped
                Figure::Of(q)
                    if self.least.is_none() && q.si < 0.0 && q.dimension != Dimension::Temperature =>
                {
                    return Reading::NoFigure;
                }
                _ => {}
            }
        }
        if is_any { Reading::Passes } else { Reading::NoFigure }
    }

    /// Whether a quantity, with what it may be off, is not within the limits.
    fn is_outside(&self, read: &Quantity) -> bool {
        // what is written with as many figures as the limit is the limit: no bit of a unit's factor decides
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
        let (low, high) = read.bounds();
        let is_low = self.least.as_ref().is_some_and(|l| low < l.si && !near(low, l.si));
        is_low || self.most.as_ref().is_some_and(|m| high > m.si && !near(high, m.si))
    }
}

/// A figure of a reading.
enum Figure {
    /// With a unit of what is limited.
    Of(Quantity),
    /// Without a unit.
    Bare {
        /// In the unit of the limit.
        is: Quantity,
        /// Nothing behind it says that it counts something else.
        counts: bool,
    },
    /// With a unit of something else: the speed at which it was read.
    Other,
    /// A number that cannot be read for certain.
    Unread,
}

/// Words behind a bare figure that say when or where it was read, not what it counts.
const CIRCUMSTANCE: [&str; 7] = ["after", "and", "at", "on", "when", "while", "with"];
/// What ends a figure.
const ENDS: [char; 7] = [',', ';', '.', ':', ')', '!', '?'];
/// So many words are one figure at most: "14 ± 1 V".
const WORDS: usize = 4;

/// Every figure of a reading: "14.1 V at 2000 rpm" has two.
fn figures(reading: &str, like: &Quantity) -> Vec<Figure> {
    let words: Vec<&str> = reading.split_whitespace().collect();
    let (mut at, mut out) = (0, Vec::new());
    while let Some(word) = words.get(at) {
        let begins = |word: &str| {
            let digits = word.trim_start_matches(['-', '+', '−', '.']);
            digits.starts_with(char::is_numeric)
        };
        let bare = word.trim_start_matches(['(', '[', '~', '≈', '=', '<', '>', '≤', '≥']);
        if !begins(bare) {
            // "idle:14" is a figure, "B1" is a name
            let is_name = word.starts_with(char::is_alphabetic) && !word.contains(['=', ':']);
            if word.contains(char::is_numeric) && !is_name {
                out.push(Figure::Unread);
            }
            at += 1;
            continue;
        }
        let mut from: Vec<&str> = words[at..].iter().take(WORDS).copied().collect();
        from[0] = bare;
        let (many, figure) = figure(&from, like).unwrap_or_else(|| {
            // "2,000 rpm" is no voltage, whatever the comma means
            let plain = bare.trim_end_matches(ENDS).replace(',', "");
            let mut without = from.clone();
            without[0] = &plain;
            match figure(&without, like) {
                Some((many, Figure::Other)) if !bare.ends_with(ENDS) => (many, Figure::Other),
                _ => (1, Figure::Unread),
            }
        });
        out.push(figure);
        at += many;
    }
    out
}

/// The figure that words begin with, and of how many of them it is.
fn figure(words: &[&str], like: &Quantity) -> Option<(usize, Figure)> {
    let last = words.iter().position(|word| word.ends_with(ENDS)).map_or(words.len(), |at| at + 1);
    (1..=last).rev().find_map(|many| {
        let text = words[..many].join(" ");
        let text = text.trim_end_matches(ENDS);
        // "60/40" is two readings, and no fraction
        if is_improper(text) {
            return Some((many, Figure::Unread));
        }
        let has_unit =
            text.contains(|c: char| c.is_alphabetic() || matches!(c, '°' | '%' | '"' | '″' | '\'' | '′'));
        if !has_unit {
            let is = with_unit(text, like)?;
            let behind = words.get(many).filter(|_| many < last);
            let counts = behind.is_none_or(|word| CIRCUMSTANCE.contains(&word.trim_end_matches(ENDS)));
            return Some((many, Figure::Bare { is, counts }));
        }
        match Quantity::parse_as(text, like.dimension) {
            Ok(is) => Some((many, Figure::Of(is))),
            Err(QuantityError::WrongDimension { .. }) => Some((many, Figure::Other)),
            Err(_) => None,
        }
    })
}

/// Whether the first word is a fraction of one or more.
fn is_improper(text: &str) -> bool {
    let first = text.split(' ').next().unwrap_or_default();
    let Some((over, under)) = first.split_once('/') else { return false };
    let under: String = under.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
    let read = |text: &str| text.parse::<f64>().ok();
    read(over).zip(read(&under)).is_some_and(|(over, under)| over >= under)
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
    fn every_figure_of_a_reading_is_held_to_the_limit_and_what_is_none_of_it_never_passes() {
        let outside = [
            ("at least 50 mm", "60 minutes, 20 mm"),
            ("at least 50 mm", "450 N, 20 mm"),
            ("at least 50 mm", "55 mm, then 10 mm next morning"),
            ("at most 30 mA", "10 minutes, 500 mA"),
            ("at most 30 mA", "25 mA, 60 mA with the door open"),
            ("13.8 to 14.4 V", "14 V at idle, 16 V at 2000 rpm"),
            ("13.8 to 14.4 V", "14 ±1 V"),
            ("13.0 to 14.7", "15.2 at 2000 rpm"),
        ];
        for (limit, reading) in outside {
            assert_eq!(says(limit, reading), Reading::Outside, "{limit}: {reading}");
        }
        let none = [
            ("at least 50 mm", "60 V"),
            ("at least 50 mm", "60 minutes"),
            ("at least 50 mm", "52 mm first, sank to 0"),
            ("at least 50 mm", "60 pumps"),
            ("at least 50 mm", "52 left, 20 right"),
            ("at least 50 mm", "60 V, 55"),
            ("at least 50 mm", "52-20 mm"),
            ("at least 50 mm", "6,000 mm"),
            ("at least 50 mm", "left:52"),
            ("at most 30 mA", "5 %"),
            ("at most 30 mA", "10 minutes"),
            ("at most 30 mA", "600/40 mA"),
            ("at most 30 mA", "-60 mA"),
        ];
        for (limit, reading) in none {
            assert_eq!(says(limit, reading), Reading::NoFigure, "{limit}: {reading}");
        }
        let passes = [
            ("at least 50 mm", "52 mm after 60 minutes at 450 N"),
            ("at least 50 mm", "52, held"),
            ("at least 50 mm", "52mm (2 1/16 in)"),
            ("at least 50 mm", "2½ in"),
            ("at most 30 mA", "60 minutes, 20 mA"),
            ("13.8 to 14.4 V", "14.1 V at 2,000 rpm, 20 °C"),
            ("13.8 to 14.4 V", "14.2 V warm. 14.0 V with lamps on."),
            ("13.0 to 14.7", "13.8 at 2000 rpm"),
            ("at most 70 °C", "-5 °C"),
        ];
        for (limit, reading) in passes {
            assert_eq!(says(limit, reading), Reading::Passes, "{limit}: {reading}");
        }
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
