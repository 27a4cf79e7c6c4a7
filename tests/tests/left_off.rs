//! A part that is left off and on which something rests says so: nothing that carries, stops, steers, holds fuel or water,
//! or makes a vehicle seen goes in silence.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::key::CompanionKey;
use knockon_core::sheet::{Choice, Route};
use knockon_core::{Sheet, assess};
use knockon_store::{library, sheets};

/// Places that may be left empty without harm, or whose loss another part makes good.
const MAY_GO: &[(&str, &str)] = &[
    ("bed", "a bed without boards carries nothing, but drives"),
    ("cab-filler-hole", "a hole is not left off"),
    ("charge-indicator", "the stud link takes its place"),
    ("choke-control", "it starts badly from cold"),
    ("engine-gauges", "an owner may do without"),
    ("fuel-gauge", "an owner may do without"),
    ("spare-carrier", "an owner may do without"),
    ("speedometer", "an owner may do without where the law lets him"),
];

/// The pickup as found, nothing chosen but what a test chooses.
fn untouched() -> Sheet {
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    sheet.plans.get_mut("sound").expect("the plan").routes.clear();
    sheet
}

#[test]
fn nothing_that_matters_is_left_off_in_silence() {
    let (sheet, catalogue) = (untouched(), library::shipped());
    let before = assess(&sheet, "sound", &catalogue);
    let mut silent = BTreeSet::new();
    for place in before.positions.iter().filter(|p| p.as_found.is_some()) {
        let mut sheet = sheet.clone();
        let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
        routes.insert(place.id.clone(), Choice { route: Route::LeaveOff, part: None });
        let after = assess(&sheet, "sound", &catalogue);
        if after.clashes.len() <= before.clashes.len() {
            silent.insert(place.id.clone());
        }
    }
    let may_go: BTreeSet<String> = MAY_GO.iter().map(|(place, _)| (*place).to_owned()).collect();
    assert_eq!(silent, may_go);
}

/// What is not put back wants no gasket. Fluid is wanted where its circuit ran out and goes on without it.
#[test]
fn what_is_left_off_wants_no_seal_and_the_fluid_of_what_stays() {
    let catalogue = library::shipped();
    let mut sheet = untouched();
    sheet.survey.clear();
    sheet.readings.clear();
    let circuits = &catalogue.vehicles["furrow-10"].circuits;
    let is_part_of_more = |place: &str, key: &CompanionKey| {
        let position = catalogue.vehicles["furrow-10"].position_ix[place];
        let is_fluid =
            |ix| matches!(key, CompanionKey::Fluid { class, .. } if class == catalogue.class_names.id(ix));
        circuits
            .values()
            .any(|c| is_fluid(c.fluid) && c.positions.len() > 1 && c.positions.contains(&position))
    };
    let (mut asked, mut filled) = (Vec::new(), 0);
    for place in assess(&sheet, "sound", &catalogue).positions.iter().filter(|p| p.as_found.is_some()) {
        let mut sheet = sheet.clone();
        let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
        routes.insert(place.id.clone(), Choice { route: Route::LeaveOff, part: None });
        let a = assess(&sheet, "sound", &catalogue);
        // what is put in instead opens its own place
        if a.companions.iter().all(|c| c.position.is_none()) {
            use CompanionKey::{Apart, Beside, Fluid, Seal};
            let is_opened = |key| matches!(key, &(Seal { .. } | Apart { .. } | Beside { .. } | Fluid { .. }));
            let opened = a.companions.iter().filter(|c| is_opened(&c.key));
            let (right, wrong): (Vec<_>, Vec<_>) = opened.partition(|c| is_part_of_more(&place.id, &c.key));
            filled += right.len();
            asked.extend(wrong.iter().map(|c| format!("{}: {}", place.id, c.key)));
        }
    }
    assert!(asked.is_empty(), "{asked:#?}");
    assert!(filled > 5, "taking off the thermostat, the hoses, the oil filter lets fluid out: {filled}");
}

/// Where no joint is there to name it, the clash names what is lost.
#[test]
fn what_is_lost_is_named() {
    let catalogue = library::shipped();
    for (place, lost) in [
        ("dampers", "dampers"),
        ("rear-lamps", "a stop and tail lamp"),
        ("stop-switch", "a stop-lamp switch"),
        ("fan", "a fan that draws air through the radiator"),
        ("fuse-block", "a fuse block"),
        ("horn", "a horn"),
        ("wiper-motor", "a wiper for the screen"),
        ("rear-wheel-cylinders", "wheel cylinders"),
    ] {
        let mut sheet = untouched();
        let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
        routes.insert(place.to_owned(), Choice { route: Route::LeaveOff, part: None });
        let a = assess(&sheet, "sound", &catalogue);
        assert!(a.clashes.iter().any(|c| c.name.contains(lost)), "{place}: {:?}", a.clashes);
    }
}
