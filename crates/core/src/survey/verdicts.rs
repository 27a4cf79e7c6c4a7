//! What the survey says of each place: the worse of what a person says and of what was read and seen there.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::around::Around;
use super::judge::{Judged, Outcome, judged};
use super::readings::{Counts, Taken};
use super::{bounds, readings};
use crate::catalogue::{Catalogue, PositionId, ReadAs, VehicleEntry};
use crate::sheet::{Finding, Sheet, Verdict};

/// The survey that a plan rests on: of each place the worse of what a person says and of what was read and seen, with the
/// words of the worse. Ages are no part of it: they are told of by themselves.
pub(crate) fn verdicts<'a>(
    sheet: &'a Sheet,
    cat: &Catalogue,
    v: &VehicleEntry,
) -> Cow<'a, BTreeMap<String, Finding>> {
    if sheet.readings.is_empty() && sheet.seen.is_empty() {
        return Cow::Borrowed(&sheet.survey);
    }
    let around = Around { sheet, cat, v };
    let mut out = sheet.survey.clone();
    for (pos, place) in v.positions.iter() {
        for (verdict, words) in at_place(&around, pos) {
            let finding = out.entry(place.id.clone());
            let said = finding.or_insert_with(|| Finding {
                verdict,
                note: words.clone(),
                extra: Default::default(),
            });
            if verdict > said.verdict {
                (said.verdict, said.note) = (verdict, words);
            } else if verdict == said.verdict && said.note.is_empty() {
                said.note = words;
            }
        }
    }
    Cow::Owned(out)
}

/// What was read and seen at a place, each with its verdict and words.
pub(super) fn at_place(around: &Around<'_>, pos: PositionId) -> Vec<(Verdict, String)> {
    let place = &around.v.positions[pos].id;
    let mut out = Vec::new();
    // what was read by an inspection that the place does not have is of nothing
    if let Some(all) = around.sheet.readings.get(place) {
        for (id, entry) in &around.cat.inspections {
            if matches!(entry.read, ReadAs::Made(_)) || !around.has(entry, pos) {
                continue;
            }
            let of = all.iter().filter(|reading| reading.of == *id);
            for counts in readings::newest(entry, of) {
                if let Some(verdict) = one(around, id, pos, &counts.taken).outcome.counts_as() {
                    out.push((verdict, told(&entry.def.name, &counts)));
                }
            }
        }
    }
    let seen = around.sheet.seen.get(place).into_iter().flatten();
    out.extend(seen.map(|seen| (seen.verdict, seen.what.clone())));
    out
}

/// What one of several alike says at a place.
pub(super) fn one(
    around: &Around<'_>,
    inspection: &str,
    pos: PositionId,
    taken: &Result<Taken, String>,
) -> Judged {
    let Some(entry) = around.cat.inspections.get(inspection) else { return Judged::one(Outcome::ToMeasure) };
    let taken = match taken {
        Ok(taken) => taken,
        Err(why) => return Judged::one(Outcome::Unread(why.clone())),
    };
    match (&entry.read, bounds::settled(around, inspection, pos)) {
        (ReadAs::Quantity(..), Ok(settled)) => {
            judged(taken, Some(&settled.bands), entry.def.stop, entry.accuracy)
        }
        // what was seen needs no bounds
        (ReadAs::Quantity(..), Err(why)) => {
            let seen = judged(taken, None, entry.def.stop, 0.0);
            seen.and(Judged::one(Outcome::NoBounds(why)))
        }
        _ => judged(taken, None, entry.def.stop, 0.0),
    }
}

/// A reading in words: "Steering free play: 55 mm".
fn told(name: &str, counts: &Counts<'_>) -> String {
    format!("{name}: {}", counts.text())
}
