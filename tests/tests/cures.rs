//! A wheel is held over its brake by their outlines where they are known.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

use knockon_core::assessment::Answer;
use knockon_core::sheet::{Choice, Route};
use knockon_core::{Assessment, Sheet, assess};
use knockon_store::{library, sheets};
use serde_json::json;

fn example() -> Sheet {
    sheets::parse("example", library::example()).expect("the example opens")
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
    sheet.parts.insert("own-wheel".to_owned(), wheel);
    let choice = Choice { route: Route::Convert, part: Some("own-wheel".to_owned()) };
    sheet.plans.get_mut("worked-out").expect("the plan").routes.insert("wheels".to_owned(), choice);
    assess(&sheet, "worked-out", &shipped)
}

fn answer(a: &Assessment, key: &str) -> Option<Answer> {
    a.checks.iter().find(|c| c.key == key).map(|c| c.answer)
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
    assert_eq!(answer(&a, "limit:wheel-over-brake"), Some(Answer::Holds));
    assert!(a.clashes.iter().all(|c| c.key != "limit:wheel-over-caliper"));
    // without the outline there is only the ring
    let unknown = on_alloy_wheels(&[inside]);
    assert!(unknown.clashes.iter().any(|c| c.key == "limit:wheel-over-caliper"));
    let asked = unknown.to_measure.iter().find(|m| m.key == "limit:wheel-over-brake").expect("is asked for");
    assert!(asked.what.contains("cardboard") && asked.what.contains("to 1 mm"), "{}", asked.what);
}
