//! What the trade goes by where it reads numbers, dates and counters on a vehicle: data, read once.

use std::sync::LazyLock;

use serde::Deserialize;

/// What is read of it.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Practice {
    #[serde(rename = "about")]
    _about: String,
    #[serde(rename = "source")]
    _source: String,
    /// Longest time between casting and building, as a period is written.
    pub cast_before: String,
    /// Whole figures of a counter of which nobody says how many it has.
    pub counter_figures: u32,
    /// Things that bear numbers, those that go before others first.
    things: Vec<Thing>,
    /// Words for the ends of a vehicle.
    ends: Vec<String>,
    /// What a number is of where no word says it.
    otherwise: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Thing {
    name: String,
    words: Vec<String>,
    /// There is one at each end, and their numbers never agree.
    #[serde(default)]
    at_ends: bool,
}

/// A test holds that it reads.
pub(super) static PRACTICE: LazyLock<Practice> = LazyLock::new(|| read().unwrap_or_default());

fn read() -> serde_json::Result<Practice> {
    serde_json::from_str(include_str!("../../../../assets/identity/practice.json"))
}

/// What a number or a date is of, by what it is called: "casting date of the block" is of the block. The word for the thing
/// goes before the word for the place: a frame number beside the axle is of the chassis.
#[must_use]
pub fn thing_of(what: &str) -> String {
    let what = what.to_lowercase();
    let has = |word: &String| what.split(|c: char| !c.is_alphanumeric()).any(|other| other == word);
    let Some(thing) = PRACTICE.things.iter().find(|thing| thing.words.iter().any(has)) else {
        return PRACTICE.otherwise.clone();
    };
    match PRACTICE.ends.iter().find(|end| thing.at_ends && has(end)) {
        Some(end) => format!("{end} {}", thing.name),
        None => thing.name.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::{read, thing_of};
    use crate::date::Period;

    #[test]
    fn the_practice_reads() {
        let read = read();
        assert!(read.as_ref().is_ok_and(|p| Period::parse(&p.cast_before).is_ok()), "{read:?}");
    }

    #[test]
    fn a_number_is_of_what_its_place_says() {
        for (what, of) in [
            ("casting date of the block", "block"),
            ("cylinder head casting", "cylinder head"),
            ("Gearbox case", "gearbox"),
            ("transfer box", "transfer box"),
            ("rear axle tube", "rear axle"),
            ("front axle", "front axle"),
            ("block, front face", "block"),
            ("glass", "glass"),
            ("paint code", "paint"),
            ("body plate", "body"),
            ("plate on the bulkhead", "chassis"),
            ("chassis plate in the cab", "chassis"),
            ("frame number beside the front axle", "chassis"),
            ("heading", "chassis"),
        ] {
            assert_eq!(thing_of(what), of, "{what}");
        }
    }
}
