//! What a remedy would bring, and what the plan itself puts at a place, is what the plan comes to with it.

use serde_json::json;

use super::super::least::{Least, PLAN, clashes, fitted};
use crate::progress::Progress;
use crate::sheet::{Choice, Route};

/// A new pump and a hose that was kept, which do not fit.
fn clash() -> Least {
    Least::new(json!({
        "parts": {
            "new-hose": {"class": "hose", "ports": {"end": "5/16"}, "price": "8.00 USD"},
            "new-pump": {"class": "pump", "ports": {"outlet": "5/16"}},
            "old-hose": {"class": "hose", "ports": {"end": "3/8"}},
        },
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": null},
            "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
    .convert("pump", "new-pump")
    .choose("hose", Route::Keep)
}

#[test]
fn a_remedy_brings_what_the_plan_comes_to_with_it() {
    let plan = clash();
    let remedy = Choice { route: Route::Convert, part: Some("new-hose".to_owned()) };
    let told = super::outcomes(
        &plan.sheet,
        PLAN,
        &plan.catalogue,
        &[("hose".to_owned(), remedy)],
        &Progress::default(),
    );
    let told = told[0].as_ref().expect("known");
    assert_eq!(
        (told.money.text("USD").as_str(), &told.clashes_removed[..]),
        ("8.00 USD", &["fuel".to_owned()][..])
    );
    let after = plan.clone().convert("hose", "new-hose").assess();
    assert_eq!(&after.totals.money.all() - &plan.assess().totals.money.all(), told.money);
    assert!(clashes(&after).is_empty());
}

#[test]
fn of_several_choices_each_is_told_on_its_own() {
    let plan = clash();
    let other_hose = ("hose".to_owned(), Choice { route: Route::Convert, part: Some("new-hose".to_owned()) });
    let no_pump = ("pump".to_owned(), Choice { route: Route::LeaveOff, part: None });
    let told =
        super::outcomes(&plan.sheet, PLAN, &plan.catalogue, &[other_hose, no_pump], &Progress::default());
    let money: Vec<_> = told.iter().flatten().map(|offer| offer.money.text("USD")).collect();
    assert_eq!(money, ["8.00 USD", "-10.00 USD"]);
}

#[test]
fn of_what_is_not_known_nothing_is_said() {
    let plan = clash();
    let unknown = Choice { route: Route::Convert, part: Some("no-such-hose".to_owned()) };
    let told = super::outcomes(
        &plan.sheet,
        PLAN,
        &plan.catalogue,
        &[("hose".to_owned(), unknown)],
        &Progress::default(),
    );
    assert_eq!(told, [None]);
}

#[test]
fn a_place_can_be_left_to_the_plan_where_the_plan_puts_something_there() {
    let plan = clash();
    let left =
        super::left_to_the_plan(&plan.sheet, PLAN, &plan.catalogue, "hose").expect("the plan fills it");
    assert_eq!(
        (left.name.as_str(), left.money.text("USD").as_str(), left.current),
        ("new-hose", "8.00 USD", false)
    );
    let mut after = plan.clone();
    after.plan().routes.remove("hose");
    assert_eq!(fitted(&after.assess(), "hose").as_deref(), Some("new-hose"));
    // nothing is put where a part was chosen and no one asks for another
    assert!(super::left_to_the_plan(&plan.sheet, PLAN, &plan.catalogue, "pump").is_none());
}
