//! The pickup's limits with the numbers the trade gives for it, what clears those that are broken, and what it asks to
//! have measured.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::assessment::Answer;
use knockon_core::sheet::{Choice, Route};
use knockon_core::{Assessment, Sheet, assess, explain};
use knockon_store::{library, sheets};

fn example() -> Sheet {
    sheets::parse("example", library::example()).expect("the example opens")
}

fn assessed(plan: &str) -> Assessment {
    assess(&example(), plan, &library::shipped())
}

fn asked(a: &Assessment) -> BTreeSet<&str> {
    a.to_measure.iter().map(|m| m.key.as_str()).filter(|key| key.starts_with("limit:")).collect()
}

#[test]
fn the_worked_out_plan_holds_its_limits_with_the_numbers_of_the_key() {
    let a = assessed("worked-out");
    for (limit, says) in [
        // an example vehicle: 1,303 rotor rpm at 600; 60 mph in fifth with tyres of 755 rev/mile
        ("idle-balance", "at 1303 rotor rpm"),
        ("road-balance", "the rotor 4667 rpm"),
        ("rotor-speed", "the rotor turns 8684 rpm"),
        // AX8: 800 / 1.10 is 727 kg
        ("tyre-load-rear", "= 727 kg"),
        ("wheel-over-caliper", "the caliper wants 345 mm"),
        // AX16: 475 N at 4.0:1
        ("pedal-force", "476 N on the pedal"),
        // A.8: 206 cfm; 238 x 4,000 / 20,800 is 45.8 in2
        ("carburettor-air", "breathes 207 cfm"),
        ("cleaner-area", "wants 295 cm2"),
        // AK47: 19.8 mm; A.8: 8,050 rpm and 70 % of it
        ("clutch-slave-stroke", "the slave moves 19.8 mm"),
        ("shaft-critical", "70 % of that is 56"),
        ("speedometer-reading", "it reads +3.1 %"),
        // reference values: half glycol under 13 psi boils at 127.4 °C
        ("boiling-room", "boils at 127 °C"),
    ] {
        let key = format!("limit:{limit}");
        let check = a.checks.iter().find(|c| c.key == key).unwrap_or_else(|| panic!("{key} is not checked"));
        assert_eq!(check.answer, Answer::Holds, "{key}");
        let told = explain::because(&a, check.reason.expect("a limit tells its figures")).join(" | ");
        assert!(told.contains(says), "{key}: {told}");
    }
}

#[test]
fn only_what_the_plan_makes_matter_is_asked_for() {
    let expected = BTreeSet::from(["limit:inner-gap", "limit:joint-angles"]);
    assert_eq!(asked(&assessed("worked-out")), expected);
    assert!(asked(&assessed("sound")).is_empty(), "parts renewed in kind ask for nothing");

    let mut sheet = example();
    let lift = Choice { route: Route::Convert, part: Some("front-spring-lift".to_owned()) };
    sheet.plans.get_mut("sound").expect("the plan").routes.insert("front-springs".to_owned(), lift);
    let lifted = assess(&sheet, "sound", &library::shipped());
    assert_eq!(asked(&lifted), BTreeSet::from(["limit:caster", "limit:drag-link"]));
    for measure in &lifted.to_measure {
        assert!(measure.what.contains(", to "), "says how well: {}", measure.what);
    }
}

#[test]
fn a_broken_limit_tells_the_amount_that_clears_it() {
    let a = assessed("wishes");
    for (key, amount) in [
        ("limit:alternator-excitation", "21 mm less generator pulley (55 mm)"),
        ("limit:idle-balance", "21 A less load at idle (17 A)"),
        ("limit:tyre-load-rear", "load index 98 (750 kg)"),
    ] {
        let clash = a.clashes.iter().find(|c| c.key == key).unwrap_or_else(|| panic!("{key} does not clash"));
        assert!(clash.remedies.iter().any(|r| r.text.contains(amount)), "{key}: {:?}", clash.remedies);
    }
}
