//! What is told of a clash is true: looked at with every route of the pickup's places chosen by itself.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;
use std::sync::LazyLock;

use knockon_core::assessment::{Answer, Clash};
use knockon_core::catalogue::VehicleEntry;
use knockon_core::key::CheckKey;
use knockon_core::sheet::{Choice, Route};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Catalogue, Sheet, assess, explain};
use knockon_store::{library, sheets};
use knockon_tests::generate::{PLAN, Size, generate};

static LIBRARY: LazyLock<Catalogue> = LazyLock::new(library::shipped);

/// The pickup with one place left off or converted, and for each: what was chosen there.
static ALL: LazyLock<Vec<(String, Assessment)>> = LazyLock::new(|| {
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    sheet.plans.get_mut("sound").expect("the plan").routes.clear();
    let mut out = Vec::new();
    for place in assess(&sheet, "sound", &LIBRARY).positions {
        let class = LIBRARY.vehicles[&sheet.vehicle].positions.values().find(|p| p.id == place.id);
        let class = class.expect("the place").class;
        let parts = LIBRARY.by_class[class].iter().map(|p| LIBRARY.part_names.id(*p).to_owned());
        let converted = parts.map(|part| Choice { route: Route::Convert, part: Some(part) });
        for choice in converted.chain([Choice { route: Route::LeaveOff, part: None }]) {
            let mut sheet = sheet.clone();
            let name = format!("{} {:?}", place.id, choice.part);
            sheet.plans.get_mut("sound").expect("the plan").routes.insert(place.id.clone(), choice);
            out.push((name, assess(&sheet, "sound", &LIBRARY)));
        }
    }
    out
});

/// Nothing in the library does it: then no part of the library stands below as what would clear it.
#[test]
fn what_nothing_supplies_has_no_remedy() {
    let (mut wrong, mut told) = (Vec::new(), 0);
    for (name, a) in ALL.iter() {
        for clash in a.clashes.iter().filter(|c| matches!(c.key, CheckKey::Need { .. })) {
            let text = explain::half_line(a, clash.reason, Measure::Metric);
            let CheckKey::Need { need, .. } = &clash.key else { continue };
            // what does not ask any more supplies nothing
            let supplies =
                |part: &String| LIBRARY.part(part).is_some_and(|p| p.part.offers.contains_key(need));
            let cures =
                clash.remedies.iter().any(|r| r.choice.as_ref().is_some_and(|(_, part)| supplies(part)));
            told += usize::from(cures && text.contains("a part for it would go in as"));
            // and the other way round: who says where a supplier goes names one
            // the one bearing that would do is what the survey condemned there
            let condemned = name == "release-bearing None";
            let untrue =
                cures == text.contains("nothing in the library") || !cures && text.contains("would go in as");
            if untrue && !condemned {
                wrong.push(format!("{name}: {text}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(told > 5, "{told} are told with where a supplier goes");
}

/// What was found on the vehicle is kept and costs nothing.
#[test]
fn nobody_is_told_to_buy_what_is_there() {
    let (mut wrong, mut kept) = (Vec::new(), 0);
    for (name, a) in ALL.iter() {
        for remedy in a.clashes.iter().flat_map(|c| &c.remedies) {
            let Some((place, part)) = &remedy.choice else { continue };
            let found = a.positions.iter().find(|p| p.id == *place).and_then(|p| p.as_found.as_ref());
            let is_there = found.is_some_and(|f| f.0 == *part);
            kept += usize::from(is_there);
            let text = remedy.text.say(Measure::Metric);
            if is_there != text.starts_with("keep ") || is_there && remedy.price.is_some() {
                wrong.push(format!("{name}: {text}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(kept > 0, "no clash is cleared by what was there");
}

#[test]
fn sentences_read_as_english() {
    let told: BTreeSet<String> = ALL
        .iter()
        .flat_map(|(_, a)| {
            let checks = a.clashes.iter().map(|c| c.reason).chain(a.companions.iter().map(|c| c.reason));
            let halves: Vec<String> = checks.map(|r| explain::half_line(a, r, Measure::Metric)).collect();
            halves.into_iter().chain(a.reasons.iter().map(|r| explain::sentence(&r.fact, Measure::Metric)))
        })
        .collect();
    let clumsy = [
        "connection connection",
        "belts accepts",
        "drums has",
        "drums accepts",
        "drums supplies",
        "has 1 and has",
    ];
    let wrong: Vec<_> = told.iter().filter(|t| clumsy.iter().any(|c| t.to_lowercase().contains(c))).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Whether a clash is there no more; of joints that are alternatives any may tell it.
fn is_gone(a: &Assessment, vehicle: &VehicleEntry, clash: &Clash) -> bool {
    let is_there = |key: &CheckKey| a.clashes.iter().any(|c| c.key == *key);
    match &clash.key {
        CheckKey::Limit { .. } => {
            let answer = a.checks.iter().find(|c| c.key == clash.key).map(|c| c.answer);
            answer == Some(Answer::Holds)
        }
        CheckKey::Joint { joint } => {
            let entry = vehicle.joints.values().find(|j| j.id == *joint).expect("the joint");
            let others = entry.alternatives.iter().map(|j| &vehicle.joints[*j].id);
            !others.chain([joint]).any(|id| is_there(&CheckKey::joint(id)))
        }
        key => !is_there(key),
    }
}

/// Whether one other part at a place of a clash clears it, with all else left where it is.
fn is_cleared_by(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    a: &Assessment,
    clash: &Clash,
) -> Option<String> {
    let vehicle = &catalogue.vehicles[&sheet.vehicle];
    let mut fixed = sheet.clone();
    let routes = &mut fixed.plans.get_mut(plan).expect("the plan").routes;
    for place in &a.positions {
        let same = place.fitted.is_some() && place.fitted == place.as_found;
        let (route, part) = match &place.fitted {
            _ if same => (Route::Keep, None),
            Some((part, _)) => (Route::Convert, Some(part.clone())),
            None => (Route::LeaveOff, None),
        };
        routes.entry(place.id.clone()).or_insert(Choice { route, part });
    }
    let has_alternatives = match &clash.key {
        CheckKey::Joint { joint } => {
            vehicle.joints.values().any(|j| j.id == *joint && !j.alternatives.is_empty())
        }
        _ => false,
    };
    let view = |id: &String| a.positions.iter().find(|p| p.id == *id).expect("the place");
    for id in &clash.positions {
        let place = view(id);
        let class = vehicle.positions.values().find(|p| p.id == *id).expect("the place").class;
        for part in &catalogue.by_class[class] {
            let id = catalogue.part_names.id(*part).to_owned();
            let is_found = place.as_found.as_ref().is_some_and(|f| f.0 == id);
            let for_sale = catalogue.parts[*part].part.price.is_some();
            if !is_found && !for_sale || place.fitted.as_ref().is_some_and(|f| f.0 == id) {
                continue;
            }
            let with = |sheet: &Sheet| {
                let mut tried = sheet.clone();
                let choice = Choice { route: Route::Convert, part: Some(id.clone()) };
                tried.plans.get_mut(plan).expect("the plan").routes.insert(place.id.clone(), choice);
                assess(&tried, plan, catalogue)
            };
            let clears = |b: &Assessment| is_gone(b, vehicle, clash);
            // what else lies in the box of a kit goes in with it, and it may be that which does not fit; that it has to make
            // way for what was there is found by trying the whole plan, not part by part
            let contents = &catalogue.parts[*part].part.contents;
            let goes_in = |b: &Assessment| {
                let placed = contents.iter().filter(|c| {
                    let class = catalogue.part(&c.part).expect("the part").class;
                    vehicle.positions.values().any(|p| p.class == class)
                });
                let sits = |part: &str| b.positions.iter().flat_map(|p| &p.fitted).any(|f| f.0 == part);
                placed.into_iter().all(|c| sits(&c.part))
            };
            let is_by_itself = |b: &Assessment| clears(b) && goes_in(b);
            // of alternatives those count that the owner chose: that all is chosen here is another plan
            let moves_more = !contents.is_empty() || has_alternatives;
            if clears(&with(&fixed)) && (!moves_more || is_by_itself(&with(sheet))) {
                return Some(format!("{}: {id} as {}", clash.key, place.id));
            }
        }
    }
    None
}

fn is_hopeless(clash: &&Clash) -> bool {
    clash
        .remedies
        .iter()
        .any(|r| r.text.say(Measure::Metric).starts_with("no part of the library clears this"))
}

/// That nothing clears a clash is said only where every part has been tried in vain.
#[test]
fn no_way_out_is_told_only_where_there_is_none() {
    let (mut wrong, mut told) = (Vec::new(), 0);
    for seed in 0..150 {
        let size = Size {
            positions: 10,
            joints: 18,
            parts: 60,
            family: 60,
            choices: 5,
            types: 1 + seed as usize % 6,
            doubt: 20,
            twins: if seed % 2 == 0 { 0 } else { 30 },
        };
        let (file, sheet) = generate(seed, size);
        let (catalogue, _) = Catalogue::new(vec![("generated".to_owned(), file)]);
        let a = assess(&sheet, PLAN, &catalogue);
        for clash in a.clashes.iter().filter(is_hopeless) {
            told += 1;
            wrong.extend(
                is_cleared_by(&sheet, PLAN, &catalogue, &a, clash).map(|text| format!("seed {seed}: {text}")),
            );
        }
    }
    assert!(told > 20, "{told}");
    assert!(wrong.is_empty(), "{} of {told}: {wrong:#?}", wrong.len());
}

/// Discs with a single master cylinder that is kept: the advice is told in text and as data, and is no clash.
#[test]
fn advice_that_cannot_be_had_is_told() {
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
    routes.insert(
        "front-brakes".to_owned(),
        Choice { route: Route::Convert, part: Some("disc-kit-285".to_owned()) },
    );
    routes.insert("master-cylinder".to_owned(), Choice { route: Route::Keep, part: None });
    let a = assess(&sheet, "sound", &LIBRARY);
    let key = "need:front-brakes:disc-kit-285:dual-circuit";
    let json = knockon_report::json::assessment(&a, Measure::Metric);
    let told =
        json["unmet"].as_array().expect("a list").iter().find(|u| u["key"] == key).expect("the advice");
    assert_eq!((&told["level"], &told["position"]), (&"advised".into(), &"front-brakes".into()));
    let text = knockon_report::text::assessment(&a, &[], Measure::Metric);
    let line =
        "the front disc kit is better with two separate brake circuits, but nothing fitted supplies it";
    assert!(text.contains(line), "{text}");
    assert!(!a.clashes.iter().any(|c| c.key.to_string() == key));
}
