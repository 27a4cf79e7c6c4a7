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

/// What counts of one of several alike.
pub(super) struct Counts<'a> {
    /// Which one it is; empty where there is one.
    pub which: &'a str,
    /// The readings it is of: one, or one that was measured and one that was seen.
    pub of: Vec<&'a Reading>,
    /// What they say together; else what cannot be read, and why.
    pub taken: Result<Taken, String>,
}

impl Counts<'_> {
    /// As written: "left 2 mm; drips".
    pub(super) fn text(&self) -> String {
        let text = match (&self.of[..], &self.taken) {
            ([one], _) => one.value.clone(),
            (_, Ok(taken)) => taken.text(),
            (several, Err(_)) => several.iter().map(|r| r.value.as_str()).collect::<Vec<_>>().join("; "),
        };
        if self.which.is_empty() { text } else { format!("{} {text}", self.which) }
    }
}

/// A reading with its day.
type OnDay<'a> = (Option<Date>, &'a Reading);

/// What counts of each of several alike, by what they are called: the newest quantity and the newest words, each by itself. Who
/// measures says nothing of what dripped. The newest is of the latest day; a reading without a day is as old as the one
/// before it in the sheet, and of one day the later written counts.
pub(super) fn newest<'a>(entry: &InspectionEntry, all: impl Iterator<Item = &'a Reading>) -> Vec<Counts<'a>> {
    let mut by_which: Vec<(&str, Vec<OnDay<'_>>)> = Vec::new();
    for reading in all {
        let at = by_which.iter().position(|(which, _)| *which == reading.which);
        let at = at.unwrap_or_else(|| {
            by_which.push((&reading.which, Vec::new()));
            by_which.len() - 1
        });
        if let Some((_, of)) = by_which.get_mut(at) {
            let before = of.iter().filter_map(|(on, _)| *on).max();
            of.push((day(reading).or(before), reading));
        }
    }
    let one = |(which, mut of): (&'a str, Vec<OnDay<'a>>)| {
        of.sort_by_key(|(on, _)| *on);
        let (mut counts, mut readings) = (Taken::default(), Vec::new());
        for (_, reading) in of.into_iter().rev() {
            let is_measured = counts.quantity.is_some();
            let mut taken = match taken(entry, &reading.value) {
                Ok(taken) => taken,
                Err(why) if readings.is_empty() => {
                    return Counts { which, of: vec![reading], taken: Err(why) };
                }
                Err(_) => continue,
            };
            let newer = [
                taken.quantity.is_some() && !is_measured,
                !taken.words.is_empty() && counts.words.is_empty(),
            ];
            if newer[0] {
                (counts.quantity, counts.says_tolerance) = (taken.quantity.take(), taken.says_tolerance);
            }
            if newer[1] {
                counts.words = taken.words;
            }
            if newer[0] || newer[1] {
                readings.push(reading);
            }
        }
        readings.reverse();
        Counts { which, of: readings, taken: Ok(counts) }
    };
    by_which.into_iter().map(one).collect()
}
