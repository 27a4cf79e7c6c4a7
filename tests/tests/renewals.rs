//! A part that is renewed because the survey says so, or because its place is apart, opens its joints and circuits as a
//! chosen renewal does: gaskets, pins, washers and fluid come with it. Told on the pickup: common practice.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;
use std::sync::LazyLock;

use knockon_core::key::CompanionKey;
use knockon_core::library::{Level, Opening, Want};
use knockon_core::sheet::{Choice, Finding, Route, Verdict};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Catalogue, Sheet, assess, explain};
use knockon_store::{library, sheets};
use knockon_tests::generate::{PLAN, Size, VEHICLE, generate};

static LIBRARY: LazyLock<Catalogue> = LazyLock::new(library::shipped);

/// The pickup with nothing chosen and nothing found.
fn untouched() -> Sheet {
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    sheet.survey.clear();
    sheet.readings.clear();
    sheet.plans.get_mut("sound").expect("the plan").routes.clear();
    sheet
}

fn condemned(places: &[&str], verdict: Verdict) -> Assessment {
    let mut sheet = untouched();
    for place in places {
        let finding = Finding { verdict, note: String::new(), extra: Default::default() };
        sheet.survey.insert((*place).to_owned(), finding);
    }
    assess(&sheet, "sound", &LIBRARY)
}

fn chosen(place: &str, route: Route) -> Assessment {
    let mut sheet = untouched();
    let plan = sheet.plans.get_mut("sound").expect("the plan");
    plan.routes.insert(place.to_owned(), Choice { route, part: None });
    assess(&sheet, "sound", &LIBRARY)
}

fn classes(a: &Assessment) -> BTreeSet<String> {
    let catalogue = library::shipped();
    let class = |id: &str| catalogue.part_names.get(id).map(|p| catalogue.parts[p].part.class.clone());
    a.companions.iter().filter_map(|c| class(&c.part)).collect()
}

#[test]
fn what_the_survey_renews_opens_its_joints_and_circuits() {
    let mut wrong = Vec::new();
    for (place, wanted) in [
        ("rear-main-seal", &["sump-gasket", "engine-oil"][..]),
        ("oil-filter", &["engine-oil"]),
        ("steering-linkage", &["steering-split-pin", "wheel-alignment"]),
        ("tank", &["sender-gasket"]),
        ("fuel-pump", &["pump-gasket", "fuel-clip"]),
        ("carburettor", &["carb-gasket"]),
        ("master-cylinder", &["brake-fluid", "bleed-cap"]),
        ("front-brakes", &["brake-fluid", "hub-seal", "hub-split-pin", "hub-grease"]),
        ("front-brake-hoses", &["brake-fluid", "brake-hose-clip"]),
        ("brake-pipes", &["brake-fluid", "brake-pipe-clip"]),
        ("radiator", &["coolant", "hose-clip", "thermostat-gasket"]),
        ("clutch-disc", &["clutch-bolts", "release-bearing", "pilot-bush"]),
        ("harness", &["grommet-set", "terminal-set", "lamp-socket-set", "harness-labels"]),
        ("prop-shaft", &["joint-bolts", "shaft-flange-bolts"]),
        ("rear-springs", &["spring-u-bolts", "spring-bushes"]),
    ] {
        let found = classes(&condemned(&[place], Verdict::Stop));
        wrong.extend(wanted.iter().filter(|w| !found.contains(**w)).map(|w| format!("{place}: {w}")));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Whoever says it: the same part renewed wants the same things beside it.
#[test]
fn a_condemned_part_and_a_chosen_renewal_want_the_same() {
    let mut wrong = Vec::new();
    for place in condemned(&[], Verdict::Stop).positions.iter().filter(|p| p.as_found.is_some()) {
        let keys = |a: &Assessment| -> BTreeSet<(CompanionKey, u32, Level)> {
            let beside = a.companions.iter().filter(|c| c.key != CompanionKey::survey(&place.id));
            beside.map(|c| (c.key.clone(), c.qty, c.level)).collect()
        };
        let (by_survey, by_owner) =
            (keys(&condemned(&[&place.id], Verdict::Stop)), keys(&chosen(&place.id, Route::Renew)));
        if by_survey != by_owner {
            wrong.push(format!("{}: {by_survey:?} against {by_owner:?}", place.id));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The gearbox is out: the rear main seal is renewed, and with it the sump comes off and the oil goes.
#[test]
fn what_is_renewed_while_apart_opens_its_own_places() {
    let a = chosen("gearbox", Route::Rebuild);
    let seal = a.companions.iter().find(|c| c.part == "furrow-rear-main-seal").expect("the seal");
    for class in ["sump-gasket", "engine-oil"] {
        assert!(classes(&a).contains(class), "{class}: {:#?}", a.companions);
    }
    // advice drags in advice: whoever leaves the seal alone needs no gasket
    let key = CompanionKey::Seal { joint: "engine-rear-seal".into(), class: "sump-gasket".into(), n: 0 };
    let gasket = a.companions.iter().find(|c| c.key == key).expect("the gasket");
    assert_eq!((seal.level, gasket.level), (Level::Advised, Level::Advised));
    assert_eq!(gasket.cause.as_deref(), Some("gearbox"));
    let told = explain::because(&a, gasket.reason, Measure::Metric).join("\n");
    assert!(told.contains("gearbox out") || told.contains("Gearbox out"), "{told}");
}

#[test]
fn what_is_wise_to_renew_asks_no_more_strongly_than_it_is_asked_for() {
    let advised = condemned(&["radiator"], Verdict::Renew);
    assert!(advised.companions.iter().all(|c| c.level == Level::Advised), "{:#?}", advised.companions);
    let both = condemned(&["radiator", "coolant-hoses"], Verdict::Stop);
    let key = CompanionKey::Fluid { class: "coolant".into(), n: 0 };
    let coolant = both.companions.iter().find(|c| c.key == key).expect("coolant");
    assert_eq!(coolant.level, Level::Required);
}

/// A joint between two renewed parts is opened once, and a circuit is filled once.
#[test]
fn nothing_is_asked_for_twice() {
    let a = condemned(&["radiator", "coolant-hoses", "water-pump", "thermostat"], Verdict::Stop);
    let clips: u32 = a.companions.iter().filter(|c| c.part == "hose-clip-large").map(|c| c.qty).sum();
    assert_eq!(clips, 4, "two hoses have four ends");
    let keys: BTreeSet<&CompanionKey> = a.companions.iter().map(|c| &c.key).collect();
    assert_eq!(keys.len(), a.companions.len());
    let coolant: Vec<_> = a.companions.iter().filter(|c| c.part.starts_with("coolant-hybrid")).collect();
    let told: Vec<_> = coolant.iter().map(|c| (c.part.as_str(), c.qty)).collect();
    assert_eq!(told, [("coolant-hybrid-5", 3), ("coolant-hybrid-1", 1)], "15.1 L once");
}

/// A renewal that the owner leaves out, with a reason, opens nothing.
#[test]
fn a_renewal_left_out_opens_nothing() {
    let mut sheet = untouched();
    let finding = Finding { verdict: Verdict::Renew, note: String::new(), extra: Default::default() };
    sheet.survey.insert("radiator".to_owned(), finding);
    let plan = sheet.plans.get_mut("sound").expect("the plan");
    plan.waived.insert(CompanionKey::survey("radiator"), "it holds for now".to_owned());
    let a = assess(&sheet, "sound", &LIBRARY);
    let keys: Vec<&CompanionKey> = a.companions.iter().map(|c| &c.key).collect();
    assert_eq!(keys, [&CompanionKey::survey("radiator")]);
}

/// Left out while one place is apart, a renewal does not come back under another name when a second one is.
#[test]
fn a_renewal_left_out_stays_out_whatever_else_is_apart() {
    let size =
        Size { positions: 6, joints: 0, parts: 40, family: 40, choices: 0, types: 3, doubt: 0, twins: 0 };
    let (mut file, mut sheet) = generate(1, size);
    file.openings.clear();
    for (opening, place) in [("a-first", 0), ("b-second", 1)] {
        let class = |place: usize| format!("class-{place:03}");
        let want = Want { class: class(2), qty: 1, level: Level::Advised, ..Want::default() };
        let def = Opening {
            name: opening.to_owned(),
            classes: vec![class(place).as_str().into()],
            wants: vec![want],
            ..Opening::default()
        };
        file.openings.insert(opening.to_owned(), def);
    }
    let vehicle = file.vehicles.get_mut(VEHICLE).expect("the vehicle");
    for place in 0..3 {
        let position = vehicle.positions.get_mut(&format!("place-{place:03}")).expect("the place");
        position.as_found = Some(format!("found-{place:03}"));
    }
    let (catalogue, _) = Catalogue::new(vec![("generated".to_owned(), file)]);
    sheet.survey.clear();
    sheet.readings.clear();
    let plan = sheet.plans.get_mut(PLAN).expect("the plan");
    *plan = knockon_core::sheet::Plan::default();
    let renew = Choice { route: Route::Renew, part: None };
    plan.routes.insert("place-001".to_owned(), renew.clone());
    let key = CompanionKey::beside("place-002");
    let state = |sheet: &Sheet| {
        let a = assess(sheet, PLAN, &catalogue);
        let of_place = a.companions.iter().filter(|c| c.part == "found-002");
        of_place.map(|c| (c.key.clone(), c.waived.is_some())).collect::<Vec<_>>()
    };
    assert_eq!(state(&sheet), [(key.clone(), false)]);
    let plan = sheet.plans.get_mut(PLAN).expect("the plan");
    plan.waived.insert(key.clone(), "it is new".to_owned());
    assert_eq!(state(&sheet), [(key.clone(), true)]);
    let plan = sheet.plans.get_mut(PLAN).expect("the plan");
    plan.routes.insert("place-000".to_owned(), renew);
    assert_eq!(state(&sheet), [(key.clone(), true)], "asked for by the first opening as well");
    sheet.plans.get_mut(PLAN).expect("the plan").waived.clear();
    assert_eq!(state(&sheet), [(key.clone(), false)]);
}

/// What is taken off lets its circuit run out as what is renewed does, as long as something of the circuit stays.
#[test]
fn what_is_left_off_lets_its_circuit_run_out() {
    let fluid = |a: &Assessment, class: &str| classes(a).contains(class);
    assert!(fluid(&chosen("thermostat", Route::LeaveOff), "coolant"));
    assert!(fluid(&chosen("oil-filter", Route::LeaveOff), "engine-oil"));
    assert!(!fluid(&chosen("thermostat", Route::Keep), "coolant"));
    assert!(!fluid(&chosen("heater", Route::LeaveOff), "coolant"), "there is none to take off");
    assert!(!fluid(&chosen("gearbox", Route::LeaveOff), "gear-oil-gl4"), "nothing of this circuit stays");
}
