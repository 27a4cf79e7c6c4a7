//! Every part that a reason names is there: fitted, as found, a companion, in the box of a kit, or named as what comes
//! nearest. A reason never names a part nobody chose.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;

use fastrand::Rng;
use knockon_core::catalogue::Id;
use knockon_core::reason::{Fact, InTheWay};
use knockon_core::sheet::{Choice, Route};
use knockon_core::{Assessment, Catalogue, assess};
use knockon_store::{library, sheets};
use knockon_tests::generate::{PLAN, Size, generate};

/// The parts a step names as being there.
fn named(fact: &Fact) -> Vec<&String> {
    match fact {
        Fact::Chosen { part, .. } => part.iter().collect(),
        Fact::InBox { part, kit } => vec![part, kit],
        Fact::LeftEmpty { kit, .. } => vec![kit],
        Fact::Disagree { a, b, .. } | Fact::Unknown { a, b, .. } => vec![a, b],
        Fact::LeftAlone { part, lost, .. } => std::iter::once(part).chain(lost).collect(),
        Fact::AsFound { part, .. }
        | Fact::Condemned { part, .. }
        | Fact::Bridges { part, .. }
        | Fact::NotJoined { part, .. }
        | Fact::Fills { part, .. }
        | Fact::Wants { part, .. }
        | Fact::Supplies { part, .. }
        | Fact::LostJob { part }
        | Fact::Circle { part, .. } => vec![part],
        Fact::Opened { wants, .. } | Fact::Apart { wants, .. } => vec![wants],
        // what comes nearest is named because it is not there
        Fact::NothingServes { places, .. } => {
            let sits = places.iter().filter_map(|p| match &p.by {
                InTheWay::Part(part) => Some(part),
                InTheWay::LeftEmpty | InTheWay::Empty => None,
            });
            sits.collect()
        }
        // of fluids these name the class
        Fact::Aged { .. } | Fact::AgeOpen { .. } | Fact::Due { .. } => Vec::new(),
        Fact::Once { service } => vec![service],
        Fact::CircuitOpened { .. } | Fact::Pool { .. } | Fact::Limit { .. } | Fact::Again { .. } => {
            Vec::new()
        }
    }
}

/// What a plan has, by name, and its places: a place is named where it is empty.
fn there<'a>(a: &'a Assessment, catalogue: &'a Catalogue) -> BTreeSet<&'a str> {
    let places = a.positions.iter();
    let mut ids: Vec<&str> =
        places.flat_map(|p| p.fitted.iter().chain(&p.as_found)).map(|(id, _)| id.as_str()).collect();
    ids.extend(a.companions.iter().map(|c| c.part.as_str()));
    let mut names: BTreeSet<&str> = a.positions.iter().map(|p| p.name.as_str()).collect();
    while let Some(id) = ids.pop() {
        let part = &catalogue.part(id).expect("the part").part;
        if names.insert(&part.name) {
            ids.extend(part.contents.iter().map(|c| c.part.as_str()));
        }
    }
    // by its class where nobody can say yet which one it is
    names.extend(a.companions.iter().map(|c| c.name.as_str()));
    names
}

/// Names of parts in the reasons of a plan that are nowhere in it, nor said to have given way on the way there.
fn strangers(a: &Assessment, catalogue: &Catalogue) -> Vec<String> {
    let there = there(a, catalogue);
    let mut wrong = Vec::new();
    for reason in &a.reasons {
        let names = named(&reason.fact).into_iter();
        let strange = names.filter(|name| !there.contains(name.as_str()));
        wrong.extend(strange.map(|name| format!("{name}: {:?}", reason.fact)));
    }
    wrong
}

#[test]
fn reasons_of_generated_sheets_name_what_is_there() {
    let (mut wrong, mut told) = (Vec::new(), 0);
    for seed in 0..300 {
        let size = Size {
            positions: 12,
            joints: 24,
            parts: 100,
            family: 100,
            choices: 6,
            types: 1 + seed as usize % 8,
            doubt: 20,
            twins: if seed % 2 == 0 { 0 } else { 30 },
        };
        let (mut file, sheet) = generate(seed, size);
        for (id, part) in &mut file.parts {
            part.name.clone_from(id);
        }
        let (catalogue, _) = Catalogue::new(vec![("generated".to_owned(), file)]);
        let a = assess(&sheet, PLAN, &catalogue);
        told += a.reasons.len();
        wrong.extend(strangers(&a, &catalogue).into_iter().map(|text| format!("seed {seed}: {text}")));
    }
    assert!(told > 10_000, "{told} steps");
    assert!(wrong.is_empty(), "{} of {told}: {:#?}", wrong.len(), &wrong[..wrong.len().min(20)]);
}

#[test]
fn reasons_of_random_plans_name_what_is_there() {
    let library = library::shipped();
    let sheet = sheets::parse("example", library::example()).expect("the example opens");
    let mut rng = Rng::with_seed(7);
    let (mut wrong, mut told) = (Vec::new(), 0);
    for plan in ["sound", "wishes", "worked-out"].into_iter().cycle().take(90) {
        let mut sheet = sheet.clone();
        let routes = &mut sheet.plans.get_mut(plan).expect("the plan").routes;
        for _ in 0..8 {
            let places = &library.vehicles[&sheet.vehicle].positions;
            let place = &places[Id::new(rng.usize(0..places.len()))];
            let parts = &library.by_class[place.class];
            let route = *rng
                .choice(&[Route::Keep, Route::Renew, Route::LeaveOff, Route::Convert, Route::Convert])
                .expect("a route");
            let part = (route == Route::Convert)
                .then(|| library.part_names.id(parts[rng.usize(0..parts.len())]).to_owned());
            routes.insert(place.id.clone(), Choice { route, part });
        }
        let a = assess(&sheet, plan, &library);
        told += a.reasons.len();
        wrong.extend(strangers(&a, &library).into_iter().map(|text| format!("{plan}: {text}")));
    }
    assert!(told > 10_000, "{told} steps");
    assert!(wrong.is_empty(), "{} of {told}: {:#?}", wrong.len(), &wrong[..wrong.len().min(20)]);
}
