//! What goes in without being chosen: of the size of what it joins, the nearest there is, and not bought where it is there
//! already. Told on the pickup; common practice where no source is named.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::sync::LazyLock;

use knockon_core::explain::because;
use knockon_core::key::CheckKey;
use knockon_core::library::Level;
use knockon_core::sheet::{Choice, Route};
use knockon_core::showing::Measure;
use knockon_core::value::Value;
use knockon_core::{Assessment, Catalogue, Sheet, assess};
use knockon_store::{library, sheets};
use knockon_tests::as_found::as_found;
use serde_json::json;

static LIBRARY: LazyLock<Catalogue> = LazyLock::new(library::shipped);

/// The pickup as found, not surveyed, with these conversions.
fn sheet(choices: &[(&str, &str)]) -> Sheet {
    let sheet = sheets::parse("example", library::example()).expect("the example opens");
    let chosen: Vec<_> = choices.iter().map(|(place, part)| (*place, Some(*part))).collect();
    as_found(sheet, "sound", &chosen)
}

fn converted(choices: &[(&str, &str)]) -> Assessment {
    assess(&sheet(choices), "sound", &LIBRARY)
}

fn bought<'a>(a: &'a Assessment, class: &str) -> Vec<&'a str> {
    let parts = a.companions.iter().map(|c| c.part.as_str());
    parts.filter(|part| LIBRARY.part(part).is_some_and(|entry| entry.part.class == class)).collect()
}

fn of_class(class: &str) -> Vec<&'static str> {
    let parts = LIBRARY.part_names.ids.values().map(String::as_str);
    parts.filter(|id| LIBRARY.part(id).is_some_and(|entry| entry.part.class == class)).collect()
}

fn known(part: &str, figure: &str) -> Option<f64> {
    let id = LIBRARY.figure_names.get(figure).expect("a figure");
    let value = LIBRARY.part(part).and_then(|entry| entry.figure(id)).and_then(Value::bounds);
    value.map(|(low, high)| f64::midpoint(low, high))
}

fn figure(part: &str, figure: &str) -> f64 {
    known(part, figure).expect("a number")
}

#[test]
fn tap_and_hose_of_a_heater_are_of_one_bore() {
    let heaters = of_class("heater");
    let tapped = |heater: &&str| {
        let needs = LIBRARY.part(heater).map(|entry| entry.part.needs.contains_key("heater-tap"));
        needs == Some(true)
    };
    // one that is found on a vehicle may have a tap of its own
    let heaters: Vec<&str> = heaters.into_iter().filter(tapped).collect();
    assert!(heaters.len() > 2);
    for heater in heaters {
        let a = converted(&[("heater", heater)]);
        let bore = |part: &str| if part.ends_with("-16") { "16" } else { "19" };
        let (hoses, taps) = (bought(&a, "heater-hose"), bought(&a, "heater-tap"));
        assert_eq!((hoses.len(), taps.len()), (2, 1), "{heater}");
        assert!(hoses.iter().all(|hose| bore(hose) == bore(taps[0])), "{heater}: {hoses:?} {taps:?}");
    }
}

#[test]
fn a_manifold_with_a_vacuum_boss_is_not_drilled() {
    let booster = ("booster", "booster-remote-line");
    let drilled = |manifold: &[(&str, &str)]| {
        let a = converted(&[manifold, &[booster]].concat());
        assert!(!a.clashes.iter().any(|c| c.key.to_string().contains("vacuum")), "{:?}", a.clashes);
        bought(&a, "manifold-tapping").len()
    };
    assert_eq!(drilled(&[]), 1);
    assert_eq!(drilled(&[("intake-manifold", "intake-two-barrel")]), 0);
}

#[test]
fn a_reverse_switch_brings_no_wire_without_its_lamp() {
    for gearbox in of_class("gearbox") {
        let a = converted(&[("gearbox", gearbox)]);
        for wire in a.companions.iter().filter(|c| c.key.to_string().contains("reverse")) {
            // a lamp at the back is wise on such a truck, and no law of its year wants it
            assert!(wire.name.contains("lamp on"), "{}", wire.name);
            assert_eq!(wire.level, Level::Advised);
        }
    }
}

/// The reading by SAE J678: cable turns = tyre turns x axle ratio x drive teeth / driven teeth, against the head's 1,000
/// rev/mile. A gear that must go in is the one with which it reads 0 to 4 % high, else the nearest to that; what is left
/// of the error is said.
#[test]
fn the_nearest_speedometer_gear_goes_in_and_the_error_is_said() {
    let mut outside = 0;
    // what is only to be measured decides nothing
    let all_known = |class, figure| of_class(class).into_iter().filter(move |id| known(id, figure).is_some());
    for tyre in all_known("tyres", "tyre-revs") {
        for gearbox in all_known("gearbox", "drive-teeth") {
            let plan = [("tyres", tyre), ("gearbox", gearbox)];
            let a =
                converted(&plan[usize::from(LIBRARY.part(tyre).is_some_and(|p| p.part.price.is_none()))..]);
            let [gear] = bought(&a, "speedo-gear")[..] else { continue };
            let turns = figure(tyre, "tyre-revs") * 1_609.344 * figure("furrow-rear-axle", "axle-ratio");
            let beyond = |gear: &str| {
                let cable = turns * figure(gearbox, "drive-teeth") / figure(gear, "driven-teeth");
                let high = cable / 1000.0 - 1.0;
                (-high).max(high - 0.04).max(0.0)
            };
            // of the same sleeve
            let family = gear.trim_end_matches(|c: char| c.is_ascii_digit());
            let all = all_known("speedo-gear", "driven-teeth").filter(|other| other.starts_with(family));
            let least = all.map(beyond).fold(f64::INFINITY, f64::min);
            assert!(beyond(gear) <= least + 1e-4, "{tyre} {gearbox}: {gear} {}", beyond(gear));
            let key = CheckKey::limit("speedometer-reading");
            let clash = a.clashes.iter().find(|c| c.key == key).map(|c| c.reason);
            let close = a.close.iter().find(|c| c.key == key).map(|c| c.reason);
            let said = because(&a, clash.or(close).expect("the error is said"), Measure::Metric);
            assert!(said[0].contains("it reads "), "{said:?}");
            outside += usize::from(clash.is_some());
        }
    }
    assert!(outside > 0, "no case where none holds");
}

#[test]
fn a_slip_yoke_measured_too_short_never_brings_a_longer_shaft_that_fails_by_itself() {
    let mut sheet = sheet(&[("gearbox", "five-speed-kit-f6a")]);
    let before = assess(&sheet, "sound", &LIBRARY);
    let [shaft] = bought(&before, "prop-shaft")[..] else { panic!("a shaft") };
    // of every shaft of that length: another that nobody has measured would be as good
    let length_of = |part: &str| {
        let id = LIBRARY.figure_names.get("shaft-length")?;
        LIBRARY.part(part)?.figure(id)?.bounds()
    };
    let alike = |other: &&str| length_of(other) == length_of(shaft);
    for shaft in of_class("prop-shaft").into_iter().filter(alike) {
        for (key, value) in [("slip-room", "10 mm"), ("shaft-drop", "120 mm")] {
            sheet.facts.insert(format!("{key}@{shaft}"), json!(value));
        }
    }
    let a = assess(&sheet, "sound", &LIBRARY);
    assert_eq!(bought(&a, "prop-shaft"), [shaft]);
    let clash = a.clashes.iter().find(|c| c.key == CheckKey::limit("slip-in")).expect("10 mm are too few");
    let length = |part: &str| figure(part, "shaft-length");
    let offered =
        clash.remedies.iter().filter_map(|r| r.choice.as_ref()).filter(|(place, _)| place == "prop-shaft");
    let longer: Vec<&String> =
        offered.map(|(_, part)| part).filter(|part| length(part) > length(shaft)).collect();
    assert!(longer.is_empty(), "{longer:?}");
}

#[test]
fn whatever_becomes_of_the_ballast_no_coil_goes_in_that_clears_nothing() {
    let routes = Route::ALL.into_iter().filter(|route| *route != Route::Convert);
    let plain = routes.map(|route| Choice { route, part: None });
    let parts = of_class("ballast").into_iter();
    let convert = parts.map(|part| Choice { route: Route::Convert, part: Some(part.to_owned()) });
    for ballast in plain.chain(convert) {
        let clashes = |coil: Option<Choice>| {
            let mut sheet = sheet(&[]);
            let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
            routes.insert("ballast".into(), ballast.clone());
            routes.extend(coil.map(|coil| ("coil".to_owned(), coil)));
            let a = assess(&sheet, "sound", &LIBRARY);
            (a.clashes.len(), bought(&a, "coil").len())
        };
        let (left, coils) = clashes(None);
        let (kept, _) = clashes(Some(Choice { route: Route::Keep, part: None }));
        assert!(coils == 0 || left < kept, "{ballast:?}");
    }
}
