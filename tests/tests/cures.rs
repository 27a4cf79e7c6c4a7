//! What clears a limit says what else it breaks; a wheel is held over its brake by their outlines where they are known.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

use knockon_core::assessment::Answer;
use knockon_core::key::CheckKey;
use knockon_core::sheet::{Choice, Route};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Sheet, assess};
use knockon_store::{library, sheets};
use serde_json::json;

fn example() -> Sheet {
    sheets::parse("example", library::example()).expect("the example opens")
}

/// The texts of what would clear a clash.
fn cures(a: &Assessment, limit: &str) -> Vec<String> {
    let key = CheckKey::limit(limit);
    let clash = a.clashes.iter().find(|c| c.key == key).unwrap_or_else(|| panic!("{key} does not clash"));
    clash.remedies.iter().filter(|r| r.choice.is_none()).map(|r| r.text.say(Measure::Metric)).collect()
}

/// The worked-out plan on an alloy wheel of these figures.
fn on_alloy_wheels(figures: &[(&str, serde_json::Value)]) -> Assessment {
    let shipped = library::shipped();
    let of = |id: &str| shipped.part(id).map(|entry| *entry.part.clone());
    let mut wheel = of("wheel-alloy-15x6").expect("the alloy wheel");
    for (figure, value) in figures {
        wheel.figures.insert((*figure).to_owned(), value.clone());
    }
    let mut sheet = example();
    sheet.parts.insert("own-wheel".to_owned(), knockon_core::library::Written::whole(wheel));
    let choice = Choice { route: Route::Convert, part: Some("own-wheel".to_owned()) };
    sheet.plans.get_mut("worked-out").expect("the plan").routes.insert("wheels".to_owned(), choice);
    assess(&sheet, "worked-out", &shipped)
}

fn answer(a: &Assessment, limit: &str) -> Option<Answer> {
    let key = CheckKey::limit(limit);
    a.checks.iter().find(|c| c.key == key).map(|c| c.answer)
}

#[test]
fn an_amount_that_breaks_another_limit_says_so_and_stands_last() {
    let a = assess(&example(), "wishes", &library::shipped());
    let told = cures(&a, "alternator-excitation").join(" ");
    let small = "21 mm less generator pulley diameter (55 mm), but then ";
    let at = told.find(small).unwrap_or_else(|| panic!("{told}"));
    assert!(told[at + small.len()..].contains("(it is 55 mm, where at least 76 mm is wanted)"), "{told}");
    for alone in ["500 rpm less rotor speed", "230 rpm more idle"] {
        assert!(told.find(alone).is_some_and(|here| here < at), "{alone}: {told}");
    }
}

#[test]
fn a_spacer_that_clears_the_caliper_takes_thread_from_the_studs() {
    // the spokes 2 mm inboard of the caliper's outer face
    let spokes = json!([
        "-89 mm: 207 mm",
        "-79 mm: 174.5 mm",
        "20 mm: 174.5 mm",
        "10 mm: 160 mm",
        "10 mm: 90 mm",
        "0 mm: 85 mm",
        "0 mm: 54 mm"
    ]);
    let a = on_alloy_wheels(&[("wheel-outline", spokes)]);
    assert_eq!(answer(&a, "wheel-over-caliper"), Some(Answer::Holds), "the barrel is wide enough");
    let told = cures(&a, "wheel-over-brake").join(" ");
    assert!(told.contains(" mm more spacer, but then the nuts strip and the wheel comes off ("), "{told}");
}

#[test]
fn outlines_that_clear_each_other_outdo_the_narrowest_ring() {
    // 340 mm inside at its narrowest, which lies outboard of the caliper
    let narrow = json!([
        "-89 mm: 207 mm",
        "-79 mm: 182 mm",
        "22 mm: 182 mm",
        "30 mm: 170 mm",
        "30 mm: 90 mm",
        "0 mm: 85 mm",
        "0 mm: 54 mm"
    ]);
    let inside = ("wheel-inside", json!("340 mm"));
    let a = on_alloy_wheels(&[("wheel-outline", narrow), inside.clone()]);
    assert_eq!(answer(&a, "wheel-over-brake"), Some(Answer::Holds));
    assert!(a.clashes.iter().all(|c| c.key != CheckKey::limit("wheel-over-caliper")));
    // without the outline there is only the ring
    let unknown = on_alloy_wheels(&[inside]);
    assert!(unknown.clashes.iter().any(|c| c.key == CheckKey::limit("wheel-over-caliper")));
    let asked = unknown
        .to_measure
        .iter()
        .find(|m| m.key == CheckKey::limit("wheel-over-brake"))
        .expect("is asked for");
    let what = asked.what.say(Measure::Metric);
    assert!(what.contains("cardboard") && what.contains("to 1 mm"), "{what}");
}
