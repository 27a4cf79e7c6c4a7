//! What was read: the text of a reading as a quantity and words, and which of several readings counts.

use crate::catalogue::{InspectionEntry, ReadAs};
use crate::date::{Date, Dated};
use crate::quantity::Quantity;
use crate::sheet::{Reading, Verdict};
use crate::units::Dimension;

/// A reading taken apart.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Taken {
    /// The quantity, where there is one.
    pub quantity: Option<Quantity>,
    /// How far it may be off was written beside it: the tool's accuracy counts for nothing.
    pub says_tolerance: bool,
    /// Words that were seen, whole, each with its verdict.
    pub words: Vec<(String, Verdict)>,
}

impl Taken {
    /// As a sheet holds it: words whole, a bare number with its unit.
    #[must_use]
    pub fn text(&self) -> String {
        let quantity = self.quantity.iter().map(|q| q.text.as_str());
        quantity.chain(self.words.iter().map(|(word, _)| word.as_str())).collect::<Vec<_>>().join("; ")
    }
}

/// Takes a text apart that somebody typed or a file holds.
///
/// # Errors
/// A sentence with what was expected.
pub fn taken(entry: &InspectionEntry, text: &str) -> Result<Taken, String> {
    let mut out = Taken::default();
    for piece in text.split(';').map(str::trim).filter(|piece| !piece.is_empty()) {
        let starts_as_number = piece.starts_with(|c: char| c.is_ascii_digit() || "+-.,±".contains(c));
        let ReadAs::Quantity(dimension, _) = entry.read else {
            out.words.push(word(entry, piece)?);
            continue;
        };
        // "0 dry": a word that begins with a figure is a word all the same
        if !starts_as_number || entry.def.words.contains_key(piece) {
            out.words.push(word(entry, piece)?);
            continue;
        }
        if out.quantity.is_some() {
            return Err(format!("expected one quantity, found a second, \"{piece}\""));
        }
        out.says_tolerance = piece.contains('±');
        out.quantity = Some(quantity(piece, dimension, &entry.unit)?);
    }
    if out.quantity.is_none() && out.words.is_empty() {
        return Err(format!("expected {}", expected(entry)));
    }
    Ok(out)
}

/// A bare number is taken in the unit of the inspection.
fn quantity(piece: &str, dimension: Dimension, unit: &str) -> Result<Quantity, String> {
    let bare = piece.chars().all(|c| c.is_ascii_digit() || "+-., /±".contains(c));
    let text = match (bare, piece.split_once('±')) {
        (true, Some((number, off))) if !unit.is_empty() => {
            format!("{} {unit} ±{} {unit}", number.trim(), off.trim())
        }
        (true, None) if !unit.is_empty() => format!("{piece} {unit}"),
        _ => piece.to_owned(),
    };
    let read = Quantity::typed(&text, dimension).map_err(|why| why.to_string())?;
    if read.si.is_finite() { Ok(read) } else { Err(format!("\"{piece}\" is too large to be read")) }
}

fn word(entry: &InspectionEntry, piece: &str) -> Result<(String, Verdict), String> {
    let lower = piece.to_lowercase();
    let all = || entry.def.words.iter();
    let exact = all().find(|(word, _)| word.to_lowercase() == lower);
    let begins: Vec<_> = all().filter(|(word, _)| word.to_lowercase().starts_with(&lower)).collect();
    match (exact, &begins[..]) {
        (Some((word, verdict)), _) => Ok((word.clone(), *verdict)),
        (None, [(word, verdict)]) => Ok(((*word).clone(), **verdict)),
        (None, []) => {
            Err(format!("expected {}, found \"{}\"", expected(entry), crate::quantity::echo(piece)))
        }
        (None, several) => {
            let list: Vec<&str> = several.iter().map(|(word, _)| word.as_str()).collect();
            Err(format!("\"{piece}\" may be {}: write more of it", list.join(" or ")))
        }
    }
}

fn expected(entry: &InspectionEntry) -> String {
    let words: Vec<String> = entry.def.words.keys().map(|word| format!("\"{word}\"")).collect();
    let words = words.join(", ");
    match &entry.read {
        ReadAs::Quantity(_, _) if entry.unit.is_empty() && words.is_empty() => "a number".to_owned(),
        ReadAs::Quantity(_, _) if words.is_empty() => format!("a number of {}", entry.unit),
        ReadAs::Quantity(_, _) if entry.unit.is_empty() => format!("a number or one of {words}"),
        ReadAs::Quantity(_, _) => format!("a number of {} or one of {words}", entry.unit),
        ReadAs::Made(_) => "a year, a month or a day".to_owned(),
        ReadAs::Look => format!("one of {words}"),
    }
}

/// The day of a reading: the first it can be of.
pub(super) fn day(reading: &Reading) -> Option<Date> {
    Dated::parse(reading.on.as_deref()?).ok().map(|dated| dated.first)
}

/// The newest reading of each of several alike, by what they are called: the latest day; where no day says so, the one
/// written down last.
pub(super) fn newest<'a>(all: impl Iterator<Item = &'a Reading>) -> Vec<&'a Reading> {
    let mut out: Vec<&Reading> = Vec::new();
    for reading in all {
        match out.iter_mut().find(|other| other.which == reading.which) {
            None => out.push(reading),
            Some(other) if day(reading).zip(day(other)).is_some_and(|(new, old)| new < old) => {}
            Some(other) => *other = reading,
        }
    }
    out
}
