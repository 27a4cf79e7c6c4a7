//! What age does to the example, and what its plans ask to have done later.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::explain::because;
use knockon_core::key::{CheckKey, CompanionKey};
use knockon_core::library::{Again, Lasts, LibraryFile};
use knockon_core::sheet::Verdict;
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Sheet, assess};
use knockon_store::{library, sheets};
use knockon_tests::generate::{PLAN, Size, generate, on};

const PLANS: [&str; 3] = ["sound", "wishes", "worked-out"];

fn example() -> Sheet {
    sheets::parse("example", library::example()).unwrap()
}

fn files() -> Vec<LibraryFile> {
    library::shipped_texts().iter().map(|(_, text)| serde_json::from_str(text).unwrap()).collect()
}

/// Positions whose part is over its age.
fn aged(a: &Assessment) -> BTreeSet<String> {
    let position = |key: &CompanionKey| match key {
        CompanionKey::Age { position } => Some(position.clone()),
        _ => None,
    };
    a.companions.iter().filter_map(|c| position(&c.key)).collect()
}

/// Every finding with its key.
fn told(a: &Assessment) -> BTreeSet<String> {
    let companions = a.companions.iter().map(|c| format!("{} {} {}", c.key, c.qty, c.part));
    let clashes = a.clashes.iter().map(|c| format!("clash {}", c.key));
    companions.chain(clashes).chain(a.to_measure.iter().map(|m| format!("open {}", m.key))).collect()
}

/// The hoses of 1966 and the tyres of 1981 are stopped by the survey already: their age is one more reason, not one more
/// finding.
#[test]
fn what_the_survey_stopped_is_not_told_twice_for_its_age() {
    let (sheet, catalogue) = (example(), library::shipped());
    for plan in PLANS {
        let (timeless, a) =
            (assess(&sheet, plan, &catalogue), assess(&sheet, plan, &catalogue.clone().on(on())));
        assert_eq!(told(&timeless), told(&a), "{plan}");
    }
    let a = assess(&sheet, "wishes", &catalogue.on(on()));
    let hose = a.companions.iter().find(|c| c.key == CompanionKey::survey("rear-brake-hose")).unwrap();
    assert!(
        because(&a, hose.reason, Measure::Metric)
            .iter()
            .any(|s| s.contains("of 1966") && s.contains("59 years"))
    );
}

/// Common practice: a tyre older than ten years comes off, and so does a brake hose, whatever they look like; the date
/// code of a tyre is that of 49 CFR 574.
#[test]
fn what_looks_good_is_renewed_for_its_age() {
    let mut sheet = example();
    sheet.readings.clear();
    for finding in sheet.survey.values_mut() {
        finding.verdict = Verdict::Good;
    }
    sheet.plans.get_mut("sound").unwrap().routes.clear();
    let a = assess(&sheet, "sound", &library::shipped().on(on()));
    assert_eq!(aged(&a).into_iter().collect::<Vec<_>>(), ["front-brake-hoses", "rear-brake-hose", "tyres"]);
    sheet.survey.remove("tyres");
    sheet.made.remove("tyres");
    let a = assess(&sheet, "sound", &library::shipped().on(on()));
    let open = a.to_measure.iter().find(|m| m.key == CheckKey::Age { position: "tyres".to_owned() }).unwrap();
    let what = open.what.say(Measure::Metric);
    assert!(what.contains("DOT code"), "{what}");
}

/// Common practice: wheel nuts, U-bolts and steering ends are looked at after 50 and 100 miles, a new belt after its
/// first minutes, the oil of a gearbox that was apart after 500 miles.
#[test]
fn the_owner_s_plans_ask_for_what_the_trade_does_again() {
    let (sheet, catalogue) = (example(), library::shipped().on(on()));
    let a = assess(&sheet, "wishes", &catalogue);
    let after = |word: &str| -> Vec<&str> {
        let found: Vec<_> = a.later.iter().filter(|l| l.what.contains(word)).collect();
        assert_eq!(found.len(), 1, "{word}");
        found[0].after.iter().map(|q| q.text.as_str()).collect()
    };
    assert_eq!(after("wheel nuts"), ["50 miles", "100 miles"]);
    assert_eq!(after("steering ends"), ["50 miles", "100 miles"]);
    assert_eq!(after("drive belt"), ["20 min", "50 miles", "100 miles"]);
    assert_eq!(after("gearbox oil"), ["500 miles"]);
    assert_eq!(after("fuel filter"), ["100 miles"]);
    assert_eq!(after("wheel bearings"), ["25 miles"]);
}

#[test]
fn what_the_shipped_library_says_of_time_has_its_why_and_source() {
    let files = files();
    let lasts: Vec<&Lasts> =
        files.iter().flat_map(|f| f.classes.values()).filter_map(|c| c.lasts.as_ref()).collect();
    let of_types = files.iter().flat_map(|f| f.port_types.values()).flat_map(|t| &t.later);
    let again: Vec<&Again> =
        of_types.chain(files.iter().flat_map(|f| f.openings.values()).flat_map(|o| &o.later)).collect();
    assert!(lasts.len() >= 6 && again.len() >= 12);
    for one in lasts {
        assert!(!one.why.is_empty() && !one.read.is_empty() && !one.source.is_empty(), "{one:?}");
    }
    for one in again {
        assert!(!one.why.is_empty() && !one.source.is_empty(), "{one:?}");
    }
    for file in &files {
        assert!(file.priced.is_some() || file.parts.is_empty(), "{}", file.about);
    }
    assert_eq!(files.iter().filter(|f| f.prices_hold.is_some()).count(), 1);
    assert_eq!(files.iter().filter(|f| f.first_time.is_some()).count(), 1);
}

/// What is surely too old one day is so on every later day, and what is due by a day stays due by that day until it is
/// over.
#[test]
fn nothing_grows_younger() {
    let later = knockon_core::date::day("2026-09-15").unwrap();
    let mut seen = 0;
    for seed in 0..60 {
        let size = Size {
            positions: 12,
            joints: 16,
            parts: 80,
            family: 80,
            choices: 3,
            types: 4,
            doubt: 5,
            twins: 0,
        };
        let (file, sheet) = generate(seed, size);
        let catalogue = knockon_core::Catalogue::new(vec![("generated".to_owned(), file)]).0;
        let aged = |day| aged(&assess(&sheet, PLAN, &catalogue.clone().on(day)));
        let (before, after) = (aged(on()), aged(later));
        assert!(before.is_subset(&after), "seed {seed}: {before:?} {after:?}");
        seen += before.len();
    }
    assert!(seen > 20, "{seen}");
}
