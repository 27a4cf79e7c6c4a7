//! The survey of the example rewritten as readings and as what was seen gives the verdicts it had.
#![allow(clippy::unwrap_used, reason = "a test may stop")]

use knockon_core::assess;
use knockon_core::sheet::{Reading, Seen, Sheet, Verdict};
use knockon_core::survey::{Outcome, survey};
use knockon_store::{library, sheets};

fn example() -> Sheet {
    sheets::parse("the example", library::example()).unwrap()
}

#[test]
fn readings_give_the_verdicts_that_a_person_gave() {
    let catalogue = library::shipped();
    let said = example();
    let mut read = said.clone();
    read.survey.clear();
    // what no figure of the trade says was seen
    for (place, finding) in &said.survey {
        if !said.readings.contains_key(place) {
            let seen = Seen {
                what: finding.note.clone(),
                verdict: finding.verdict,
                on: None,
                by: String::new(),
                extra: Default::default(),
            };
            read.seen.insert(place.clone(), vec![seen]);
        }
    }
    let by_reading = said.readings.len();
    assert!(by_reading >= 24, "{by_reading}");
    for plan in said.plans.keys() {
        let (a, b) = (assess(&said, plan, &catalogue), assess(&read, plan, &catalogue));
        for (said, read) in a.positions.iter().zip(&b.positions) {
            assert_eq!(read.verdict, said.verdict, "{plan}: {}", said.id);
        }
        assert_eq!(a.totals, b.totals, "{plan}");
        let keys = |of: &knockon_core::Assessment| {
            of.companions.iter().map(|c| c.key.to_string()).collect::<Vec<_>>()
        };
        assert_eq!(keys(&a), keys(&b), "{plan}");
    }
    let found = survey(&said, &said.plan, &catalogue);
    assert_eq!(found.problems, Vec::<String>::new());
    let disagree: Vec<&str> =
        found.places.iter().filter(|place| place.disagrees).map(|place| place.position.as_str()).collect();
    assert_eq!(disagree, Vec::<&str>::new());
}

/// The trade calls these worse than the person did who looked: a drum of 11 in over 1.5 mm without a stamp stops the
/// vehicle, and a hose that is hard is renewed.
#[test]
fn what_is_measured_worse_than_it_was_said_is_told_and_counts() {
    let catalogue = library::shipped();
    for (place, of, value, verdict) in [
        ("front-brakes", "front-drum-oversize", "1.6 mm", Verdict::Stop),
        ("coolant-hoses", "coolant-hose-feel", "hard", Verdict::Renew),
    ] {
        let mut sheet = example();
        assert!(sheet.survey[place].verdict < verdict);
        let reading = Reading { of: of.into(), value: value.into(), ..Reading::default() };
        sheet.readings.insert(place.into(), vec![reading]);
        let found = survey(&sheet, &sheet.plan, &catalogue);
        let line = found.lines.iter().find(|line| line.position == place && line.inspection == of).unwrap();
        assert_eq!(line.outcome, Outcome::Verdict(verdict), "{place}");
        let here = found.places.iter().find(|here| here.position == place).unwrap();
        assert!(here.disagrees && here.verdict == verdict, "{place}");
        let a = assess(&sheet, &sheet.plan, &catalogue);
        assert_eq!(a.positions.iter().find(|p| p.id == place).unwrap().verdict, Some(verdict));
    }
}
