//! What the survey says of a place: the worse of what a person says and of what was read and seen there, straight from the
//! texts. Only what is generated is read: lengths in whole and half millimetres, days in full.

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::library::{Bounds, Inspection, LibraryFile, Vehicle};
use knockon_core::sheet::{Sheet, Verdict};

/// The verdict of each place of which something is said.
pub(super) fn survey(lib: &LibraryFile, v: &Vehicle, sheet: &Sheet) -> BTreeMap<String, Verdict> {
    let mut out: BTreeMap<String, Verdict> =
        sheet.survey.iter().map(|(place, finding)| (place.clone(), finding.verdict)).collect();
    let mut worse = |place: &String, verdict: Verdict| {
        let now = out.entry(place.clone()).or_insert(verdict);
        *now = (*now).max(verdict);
    };
    for (place, all) in &sheet.readings {
        let found = match sheet.as_found.get(place) {
            Some(otherwise) => otherwise.is_some(),
            None => v.positions.get(place).is_some_and(|p| p.as_found.is_some()),
        };
        let alike: BTreeSet<(&str, &str)> = all.iter().map(|r| (r.of.as_str(), r.which.as_str())).collect();
        for (of, which) in alike.into_iter().filter(|_| found) {
            let Some(inspection) = lib.inspections.get(of) else { continue };
            // the latest day; of one day the one written down last
            let these = all.iter().filter(|r| r.of == of && r.which == which);
            let Some(newest) = these.max_by_key(|r| r.on.clone()) else { continue };
            worse(place, verdict(inspection, millimetres(&newest.value)));
        }
    }
    for (place, seen) in &sheet.seen {
        for seen in seen.iter().filter(|_| v.positions.contains_key(place)) {
            worse(place, seen.verdict);
        }
    }
    out
}

fn millimetres(text: &str) -> f64 {
    text.trim_end_matches(" mm").parse().unwrap_or(f64::NAN)
}

/// What counts of a reading that is known so well as its tool reads.
fn verdict(of: &Inspection, value: f64) -> Verdict {
    let off = of.accuracy.as_deref().map_or(0.0, millimetres);
    let inside = |bounds: &Bounds, at: f64| {
        let low = bounds.least.as_deref().map_or(f64::NEG_INFINITY, millimetres);
        let high = bounds.most.as_deref().map_or(f64::INFINITY, millimetres);
        low <= at && at <= high
    };
    let one = |at: f64| {
        if inside(&of.good, at) {
            Verdict::Good
        } else if of.watch.as_ref().is_some_and(|watch| inside(watch, at)) {
            Verdict::Watch
        } else if of.stop {
            Verdict::Stop
        } else {
            Verdict::Renew
        }
    };
    // every eighth of a millimetre it can be
    let steps = (off * 16.0) as i32;
    let can: BTreeSet<Verdict> = (0..=steps).map(|n| one(value - off + f64::from(n) / 8.0)).collect();
    match (can.first(), can.len()) {
        (Some(only), 1) => *only,
        // it is not good, and may be no worse than the best it can be
        (Some(best), _) => (*best).max(Verdict::Watch),
        (None, _) => Verdict::Good,
    }
}
