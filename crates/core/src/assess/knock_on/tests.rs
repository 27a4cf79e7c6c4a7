//! What clears a limit and breaks another that reads the same figure or fact is told with what it breaks, behind the amounts
//! that break nothing.

use serde_json::json;

use super::super::least::{Least, remedies};

/// A pulley too large for the 100 mm there are; less pulley turns the pump too slowly.
fn pulley(least: &str) -> Vec<String> {
    let a = Least::new(json!({
        "figures": {"diameter": "length", "room": "length"},
        "limits": {
            "pulley": {"calc": "left-at-least", "inputs": {
                "space": {"fact": "room"}, "taken": {"class": "pulley", "figure": "diameter"}, "want": {"value": "0 mm"},
            }},
            "pump-speed": {"calc": "at-least", "why": "the pump turns too slowly", "inputs": {
                "have": {"class": "pulley", "figure": "diameter"}, "want": {"value": least},
            }},
        },
        "parts": {"large-pulley": {"class": "pulley", "figures": {"diameter": "120 mm"}}},
        "vehicle": {"positions": {"pulley": null}, "facts": {"room": "100 mm"}},
    }))
    .convert("pulley", "large-pulley")
    .assess();
    remedies(&a)
}

#[test]
fn an_amount_that_breaks_nothing_else_is_told_as_it_is() {
    assert_eq!(pulley("90 mm"), ["20 mm less taken (100 mm)", "20 mm more space (120 mm)"]);
}

#[test]
fn an_amount_that_breaks_another_limit_says_so_and_stands_behind() {
    let told = pulley("110 mm");
    assert_eq!(told[0], "20 mm more space (120 mm)");
    assert!(
        told[1].starts_with("20 mm less taken (100 mm), but then the pump turns too slowly ("),
        "{told:?}"
    );
}
