//! What is measured at a port of a part decides the joint it is part of, as if the library had it.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::assessment::{Answer, ToMeasure, Wanted};
use knockon_core::key::{CheckKey, CompanionKey, FactKey};
use knockon_core::library::LibraryFile;
use knockon_core::sheet::{Choice, Plan, Route};
use knockon_core::showing::Measure;
use knockon_core::value::{Kind, Value};
use knockon_core::{Assessment, Catalogue, Edit, Sheet, apply, assess};
use knockon_store::{library, sheets};
use knockon_tests::cases::cases;
use knockon_tests::generate::{PLAN, Size, forget_sizes, generate};
use proptest::prelude::*;
use serde_json::json;

const FLOW: &str = "flow.flow@furrow-fuel-pump";

/// The example on a plan that renews in kind, with another carburettor on the pump as it was found.
fn carburettor(part: &str) -> Sheet {
    let mut sheet = sheets::parse("example", library::example()).unwrap();
    sheet.plans.get_mut("sound").unwrap().routes.remove("fuel-pump");
    choose(&mut sheet, "sound", "carburettor", Route::Convert, Some(part));
    sheet
}

fn choose(sheet: &mut Sheet, plan: &str, position: &str, route: Route, part: Option<&str>) {
    let choice = Some(Choice { route, part: part.map(str::to_owned) });
    apply(sheet, &Edit::Choose { plan: plan.to_owned(), position: position.to_owned(), choice }).unwrap();
}

fn measure(sheet: &mut Sheet, key: &str, value: Option<&str>) {
    let value = value.map(|text| serde_json::Value::String(text.to_owned()));
    let figure = key.parse().expect("a key of a measured value");
    apply(sheet, &Edit::SetFact { figure, value }).expect("a fact is always taken");
}

fn answer(a: &Assessment, joint: &str) -> Option<Answer> {
    let key = CheckKey::joint(joint);
    a.checks.iter().find(|c| c.key == key).map(|c| c.answer)
}

fn open<'a>(a: &'a Assessment, joint: &str) -> Option<&'a ToMeasure> {
    let key = CheckKey::joint(joint);
    a.to_measure.iter().find(|m| m.key == key)
}

fn keys(m: &ToMeasure) -> Vec<String> {
    m.wanted.iter().map(|w| w.key.to_string()).collect()
}

#[test]
fn the_flow_of_the_old_pump_decides_its_joint_either_way() {
    let library = library::shipped();
    let mut sheet = carburettor("two-barrel-small");
    let before = assess(&sheet, "sound", &library);
    let asked = open(&before, "fuel-flow").expect("nobody knows what the old pump delivers");
    assert_eq!(keys(asked), [FLOW]);
    let wanted = &asked.wanted[0];
    assert_eq!((wanted.name.as_str(), &wanted.now), ("flow", &None));
    let how = wanted.how.say(Measure::Metric);
    assert!(how.starts_with("pump fuel into a can"), "{how}");
    assert!(wanted.part.starts_with("Fuel pump"), "{}", wanted.part);
    assert_eq!(wanted.kind.word(), "flow");

    // 35 L/h is what the library says this carburettor drinks
    measure(&mut sheet, FLOW, Some("40 L/h"));
    let good = assess(&sheet, "sound", &library);
    assert_eq!(answer(&good, "fuel-flow"), Some(Answer::Holds));
    assert_eq!(open(&good, "fuel-flow"), None);
    let told = good.measured.iter().find(|m| m.key.to_string() == FLOW).expect("it is told");
    assert_eq!(told.value, "40 L/h");
    for place in ["fuel-pump", "carburettor"] {
        assert!(told.positions.iter().any(|p| p == place), "{:?}", told.positions);
    }

    measure(&mut sheet, FLOW, Some("20 L/h"));
    let weak = assess(&sheet, "sound", &library);
    // which pump goes in is the owner's to decide: he is told what would do
    let clash = weak.clashes.iter().find(|c| c.key == CheckKey::joint("fuel-flow")).expect("too weak");
    let cures = clash.remedies.iter().filter_map(|r| r.choice.as_ref());
    assert!(cures.into_iter().any(|(place, part)| place == "fuel-pump" && part != "furrow-fuel-pump"));
    let told = weak.measured.iter().find(|m| m.key.to_string() == FLOW).expect("it is told");
    assert!(told.positions.iter().any(|p| p == "fuel-pump"), "it can be taken back where the pump was");
    choose(&mut sheet, "sound", "fuel-pump", Route::Keep, None);
    let kept = assess(&sheet, "sound", &library);
    assert!(
        kept.clashes.iter().any(|c| c.key == CheckKey::joint("fuel-flow")),
        "the owner keeps a pump too weak"
    );

    sheet.plans.get_mut("sound").unwrap().routes.remove("fuel-pump");
    measure(&mut sheet, FLOW, None);
    let again = assess(&sheet, "sound", &library);
    assert_eq!(again.to_measure, before.to_measure);
    assert_eq!(again.measured, Vec::new());
}

/// What a tolerance leaves open is asked for more closely; the window a carburettor accepts is no doubt about it.
#[test]
fn a_pressure_known_too_loosely_is_measured_more_closely() {
    let library = library::shipped();
    let key = "pressure.pressure@furrow-fuel-pump";
    let mut sheet = carburettor("four-barrel-390");
    let before = assess(&sheet, "sound", &library);
    let asked = open(&before, "fuel-pressure").expect("4.4 to 4.8 psi where 4.5 at least is wanted");
    assert_eq!(keys(asked), [key]);
    assert_eq!(asked.wanted[0].now.as_ref().map(Value::text).as_deref(), Some("4.6 psi ±0.2 psi"));
    measure(&mut sheet, key, Some("4.7 psi ±0.1 psi"));
    let a = assess(&sheet, "sound", &library);
    assert_eq!(answer(&a, "fuel-pressure"), Some(Answer::Holds));
    // too little of itself: a regulator that can be set stands between, and nothing is left to measure
    measure(&mut sheet, key, Some("4.2 psi"));
    let a = assess(&sheet, "sound", &library);
    assert_eq!(answer(&a, "fuel-pressure"), Some(Answer::Bridged));
}

#[test]
fn words_that_name_nothing_are_told_and_change_nothing() {
    let library = library::shipped();
    let sheet = carburettor("two-barrel-small");
    let before = assess(&sheet, "sound", &library);
    for (key, value, said) in [
        ("flow.flow@no-such-part", "40 L/h", "no part \"no-such-part\""),
        ("outflow.flow@furrow-fuel-pump", "40 L/h", "has no port \"outflow\"; it has "),
        ("flow.rate@furrow-fuel-pump", "40 L/h", "has no field \"rate\"; it has flow"),
        (FLOW, "40 apples", "\"apples\""),
        (FLOW, "40 psi", "expected a flow"),
        (FLOW, "", "expected a number"),
        ("inlet.thread@furrow-fuel-pump", "half an inch", "expected a thread"),
        (".@", "40 L/h", "no part \"\""),
        ("flow..@furrow-fuel-pump", "40 L/h", "is no key of a measured value"),
        ("é.é@furrow-fuel-pump", "40 L/h", "has no port \"é\""),
    ] {
        let mut sheet = sheet.clone();
        // as a person may write it into the file
        sheet.facts.insert(key.to_owned(), json!(value));
        let mut after = assess(&sheet, "sound", &library);
        let problems = std::mem::take(&mut after.problems);
        assert!(problems.len() == 1 && problems[0].contains(said), "{key}: {problems:?}");
        assert_eq!(after, before, "{key}");
    }
    let mut sheet = sheet;
    for value in [json!(null), json!({}), json!([]), json!(true), json!([["x"]])] {
        apply(&mut sheet, &Edit::SetFact { figure: FLOW.parse().unwrap(), value: Some(value) }).unwrap();
        let after = assess(&sheet, "sound", &library);
        assert_eq!((after.problems.len(), &after.to_measure), (1, &before.to_measure));
    }
}

/// A small library: a pump, a filter, and between them a sleeve whose far end nobody has measured.
fn small() -> (LibraryFile, Sheet) {
    let port = |bore: &str, gender: &str, seat: &str| json!({"type": "hose", "fields": {"bore": bore, "end": gender, "seat": seat}});
    let file = json!({
        "format": 1, "about": "Made up.",
        "systems": {"fuel": {"name": "Fuel", "order": 1}},
        "classes": {"pump": {"name": "pump", "decided": "owner"}, "filter": {"name": "filter", "decided": "follows"}, "sleeves": {"name": "sleeve", "free": true}},
        "port_types": {"hose": {"name": "hose end", "fields": {
            "bore": {"name": "hose bore", "kind": "length", "rule": "equal", "within": "0.5 mm"},
            "end": {"name": "end", "kind": "word", "rule": "mates", "words": [["male", "female"]]},
            "seat": {"name": "seat", "kind": "word", "rule": "equal"},
        }}},
        "parts": {
            "old-pump": {"name": "Pump, old", "class": "pump", "ports": {"out": port("8 mm", "male", "cone")}},
            "new-pump": {"name": "Pump, new", "class": "pump", "price": "50.00 USD",
                "ports": {"out": port("10 mm", "male", "cone")}},
            "found-filter": {"name": "Filter", "class": "filter", "ports": {"in": port("8 mm", "female", "cone")}},
            "sleeve": {"name": "Sleeve", "class": "sleeves", "price": "5.00 USD", "bridges": ["big", "small"],
                "ports": {"big": port("10 mm", "female", "unknown: look into it"),
                    "small": port("unknown: calliper across it", "male", "cone")}},
        },
        "vehicles": {"cart": {"name": "Cart", "about": "A cart.",
            "positions": {
                "pump": {"name": "Pump", "system": "fuel", "class": "pump", "as_found": "old-pump"},
                "filter": {"name": "Filter", "system": "fuel", "class": "filter", "as_found": "found-filter"},
            },
            "joints": {"feed": {"name": "feed", "ends": [{"at": "pump", "port": "out"}, {"at": "filter", "port": "in"}]}},
        }},
    });
    let mut sheet = Sheet { format: 1, vehicle: "cart".into(), plan: "plan".into(), ..Sheet::default() };
    sheet.plans.insert("plan".into(), Plan { name: "Plan".into(), ..Plan::default() });
    choose(&mut sheet, "plan", "pump", Route::Convert, Some("new-pump"));
    (serde_json::from_value(file).expect("a library file"), sheet)
}

#[test]
fn a_bridge_that_may_not_fit_is_measured_at_both_its_ports() {
    let (file, mut sheet) = small();
    let (catalogue, faults) = Catalogue::new(vec![("small".to_owned(), file)]);
    assert!(faults.iter().all(|f| f.warning), "{faults:?}");
    let a = assess(&sheet, "plan", &catalogue);
    assert_eq!(answer(&a, "feed"), Some(Answer::Bridged));
    let asked = open(&a, "feed").expect("it is open whether the sleeve fits");
    assert_eq!(keys(asked), ["big.seat@sleeve", "small.bore@sleeve"]);
    assert_eq!(
        asked.what.say(Measure::Metric),
        "seat of the Sleeve: look into it; hose bore of the Sleeve: calliper across it"
    );
    let [seat, bore] = asked.wanted.as_slice() else { panic!("{asked:?}") };
    assert_eq!(
        (seat.name.as_str(), seat.kind, &seat.words),
        ("seat (big)", Kind::Word, &vec!["cone".to_owned()])
    );
    assert_eq!(
        (bore.name.as_str(), bore.how.say(Measure::Metric).as_str()),
        ("hose bore (small)", "calliper across it")
    );

    // half of it leaves the other half open
    measure(&mut sheet, "small.bore@sleeve", Some("8.1 mm"));
    let a = assess(&sheet, "plan", &catalogue);
    assert_eq!(keys(open(&a, "feed").expect("the seat")), ["big.seat@sleeve"]);
    measure(&mut sheet, "big.seat@sleeve", Some("cone"));
    let a = assess(&sheet, "plan", &catalogue);
    assert_eq!((answer(&a, "feed"), a.to_measure.len()), (Some(Answer::Bridged), 0));
    assert_eq!(a.measured.len(), 2);
    for told in &a.measured {
        assert_eq!(told.positions, ["filter", "pump"], "{told:?}");
    }

    // it does not fit: the joint clashes, and what was measured can still be taken back there
    measure(&mut sheet, "small.bore@sleeve", Some("12 mm"));
    let a = assess(&sheet, "plan", &catalogue);
    assert_eq!(answer(&a, "feed"), Some(Answer::Broken));
    assert!(a.measured.iter().all(|m| m.positions == ["filter", "pump"]), "{:?}", a.measured);
}

/// The key of a value at a port would not be told from that of a figure.
#[test]
fn a_figure_with_a_dot_in_its_id_is_a_fault() {
    for id in ["hub.bore", "hub@bore"] {
        let file = json!({"format": 1, "about": "Made up.", "figures": {id: {"name": "hub bore", "kind": "length"}}});
        let file: LibraryFile = serde_json::from_value(file).unwrap();
        let (_, faults) = Catalogue::new(vec![("small".to_owned(), file)]);
        assert!(faults.iter().any(|f| !f.warning && f.path.contains(id)), "{faults:?}");
    }
    let shipped = library::shipped();
    assert!(shipped.figure_names.ids.values().all(|id| !id.contains(['.', '@'])));
}

/// Keys of what is not known at a joint and of what can be measured instead, and whether bridges lie in it.
fn unknown_at(a: &Assessment, joint: &str) -> (BTreeSet<FactKey>, bool) {
    let wanted = open(a, joint).map(|m| m.wanted.as_slice()).unwrap_or_default();
    let is_bridge = |key: &CompanionKey| matches!(key, CompanionKey::Bridge { joint: at, .. } if at == joint);
    let unknown = wanted.iter().filter(|w| w.now.is_none());
    let of = |w: &Wanted| [Some(w.key.clone()), w.instead.as_ref().map(|other| other.key.clone())];
    let keys = unknown.flat_map(of).flatten().collect();
    (keys, a.companions.iter().any(|c| is_bridge(&c.key)))
}

fn fitted(a: &Assessment) -> Vec<Option<String>> {
    a.positions.iter().map(|p| p.fitted.as_ref().map(|f| f.0.clone())).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(60), failure_persistence: None, ..ProptestConfig::default() })]

    /// Keys made of all there is to get wrong, with a value of any kind: a sentence at most, and never an end.
    #[test]
    fn no_key_and_no_value_ends_it(
        port in "small|out|in|\\PC{0,3}", field in "bore|seat|end|\\PC{0,3}", mark in "[.@]{0,3}",
        part in "sleeve|new-pump|\\PC{0,3}", text in "[0-9]{0,3} ?(mm|psi|cone|unknown|any|±1 mm|\\PC{0,4})",
    ) {
        let (file, mut sheet) = small();
        let (catalogue, _) = Catalogue::new(vec![("small".to_owned(), file)]);
        for key in [format!("{port}.{field}@{part}"), format!("{port}{mark}{field}{mark}{part}")] {
            // as a person may write it into the file
            sheet.facts.insert(key, json!(text));
            let a = assess(&sheet, "plan", &catalogue);
            prop_assert_eq!(sheet.facts.len(), a.measured.len() + a.problems.len(), "{:?}", a.problems);
        }
    }

    #[test]
    fn measuring_adds_no_unknown_and_reads_as_if_the_library_had_it(seed in any::<u64>(), size in 0_usize..5) {
        let shape = Size { positions: 10, joints: 20, parts: 80, family: 80, choices: 5, types: 4, doubt: 45, twins: 0 };
        let (file, sheet) = generate(seed, shape);
        let (catalogue, _) = Catalogue::new(vec![("generated".to_owned(), file.clone())]);
        let before = assess(&sheet, PLAN, &catalogue);
        let value = ["10 mm", "12 mm", "14 mm ±0.4 mm", "17 mm", "any"][size];
        for m in &before.to_measure {
            let CheckKey::Joint { joint } = &m.key else { continue };
            for wanted in m.wanted.iter().filter(|w| w.now.is_none()) {
                let mut measured = sheet.clone();
                measure(&mut measured, &wanted.key.to_string(), Some(value));
                let mut after = assess(&measured, PLAN, &catalogue);
                let told = after.measured.iter().find(|m| m.key == wanted.key);
                let places = told.map(|m| m.positions.len());
                prop_assert!(places.is_some());
                prop_assert!(after.problems.is_empty() || !after.proved, "{:?}", after.problems);
                let (was, now) = (unknown_at(&before, joint), unknown_at(&after, joint));
                // of a bridge that is not wanted any more there is no place to show it at
                prop_assert!(places > Some(0) || was.1 && !now.1, "{} {:?} {:?}", wanted.key, was, now);
                prop_assert!(!now.0.contains(&wanted.key));
                // other parts have unknowns of their own
                if fitted(&before) == fitted(&after) && was.1 == now.1 {
                    prop_assert!(now.0.is_subset(&was.0), "{} {:?} {:?}", wanted.key, was, now);
                }
                // the same library with the value written in it
                let mut written = file.clone();
                for (key, value) in &measured.facts {
                    let Ok(FactKey::Port { port, field, part }) = key.parse() else { continue };
                    let port = written.parts.get_mut(&part).unwrap().ports.get_mut(&port).unwrap();
                    port.fields.insert(field, value.clone());
                }
                let plain = Sheet { facts: Default::default(), ..measured.clone() };
                let (written, _) = Catalogue::new(vec![("generated".to_owned(), written)]);
                // all but what tells that it was measured
                after.measured.clear();
                after.reasons.iter_mut().for_each(|reason| {
                    reason.measured.clear();
                    reason.specs.clear();
                });
                let mut as_written = assess(&plain, PLAN, &written);
                // what was measured is no number of the library
                as_written.reasons.iter_mut().for_each(|reason| reason.specs.clear());
                prop_assert_eq!(&after, &as_written);
                // taken back, where it was not there before
                if !sheet.facts.contains_key(&wanted.key.to_string()) {
                    measure(&mut measured, &wanted.key.to_string(), None);
                    prop_assert_eq!(&assess(&measured, PLAN, &catalogue), &before);
                }
            }
        }
    }
}

/// Where one of two ends is enough, either of them decides it: neither is asked for any more.
#[test]
fn one_of_two_ends_is_enough_whichever_it_is() {
    let mut cases = 0;
    for seed in 0..400 {
        let shape = Size {
            positions: 8,
            joints: 16,
            parts: 40,
            family: 40,
            choices: 4,
            types: 4,
            doubt: 10,
            twins: 0,
        };
        let (mut file, mut sheet) = generate(seed, shape);
        sheet.facts.clear();
        forget_sizes(&mut file);
        let (catalogue, _) = Catalogue::new(vec![("generated".to_owned(), file)]);
        let before = assess(&sheet, PLAN, &catalogue);
        for m in &before.to_measure {
            for wanted in &m.wanted {
                let Some(other) = &wanted.instead else { continue };
                for key in [&wanted.key, &other.key] {
                    let mut measured = sheet.clone();
                    measure(&mut measured, &key.to_string(), Some("10 mm"));
                    let after = assess(&measured, PLAN, &catalogue);
                    if fitted(&before) != fitted(&after) {
                        continue;
                    }
                    let left = after.to_measure.iter().filter(|left| left.key == m.key);
                    let mut left = left.flat_map(|left| &left.wanted);
                    assert!(
                        left.all(|w| w.key != wanted.key && w.key != other.key),
                        "seed {seed}: {} is asked for after {key}",
                        m.key
                    );
                    cases += 1;
                }
            }
        }
    }
    assert!(cases > 20, "{cases}");
}
