//! A joint brings a part by itself only up to five times the price of the dearest choice it goes back to; what is dearer is
//! the owner's to decide: a clash that names part and price.

use serde_json::json;

use super::super::least::{Least, clashes, companions, remedies};

/// A speedometer gear that the old gearbox does not take; another gearbox does.
fn gear(choice: Option<&str>, gearbox: &str) -> Least {
    Least::new(json!({
        "parts": {
            "new-gear": {"class": "gear", "ports": {"shaft": "square"}, "price": choice},
            "old-gearbox": {"class": "gearbox", "ports": {"drive": "round"}},
            "other-gearbox": {"class": "gearbox", "ports": {"drive": "square"}, "price": gearbox},
        },
        "vehicle": {
            "positions": {"gear": null, "gearbox": "old-gearbox"},
            "joints": {"drive": ["gear.shaft", "gearbox.drive"]},
        },
    }))
    .convert("gear", "new-gear")
}

const GEARBOX: &str = "position:gearbox: 1 other-gearbox";

#[test]
fn five_times_the_choice_goes_in() {
    assert_eq!(companions(&gear(Some("10.00 USD"), "50.00 USD").assess()), [GEARBOX]);
}

#[test]
fn more_is_a_clash_that_names_the_part_and_its_price() {
    let a = gear(Some("10.00 USD"), "50.01 USD").assess();
    assert_eq!(clashes(&a), ["joint:drive"]);
    assert_eq!(remedies(&a), ["fit other-gearbox as gearbox"]);
    let price = a.clashes[0].remedies[0].price.as_ref().map(ToString::to_string);
    assert_eq!(price.as_deref(), Some("50.01 USD"));
}

#[test]
fn what_the_owner_picked_goes_in_at_any_price() {
    let picked = gear(Some("10.00 USD"), "50.01 USD").pick("position:gearbox", "other-gearbox");
    assert_eq!(companions(&picked.assess()), [GEARBOX]);
}

#[test]
fn without_a_price_of_the_choice_there_is_nothing_to_measure_by() {
    assert_eq!(companions(&gear(None, "50.01 USD").assess()), [GEARBOX]);
}
