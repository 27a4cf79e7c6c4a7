//! Before a choice is made its consequences are known: what is said of a route is what an assessment says after it.

use serde_json::{Value as Json, json};

use super::super::least::{Least, PLAN};
use crate::assess::offers_while;
use crate::assessment::Offer;
use crate::progress::Progress;
use crate::sheet::Route;

/// A pump whose hose must follow, with a filter that neither fits.
fn pump() -> Least {
    let pump = |size: &str| {
        json!({
            "class": "pump", "ports": {"inlet": size, "outlet": size}, "price": "20.00 USD", "hours": 1.0,
        })
    };
    let hose = |size: &str| json!({"class": "hose", "ports": {"end": size}, "hours": 0.5});
    let mut old: Json = pump("3/8");
    old["rebuild"] = json!({"price": "4.00 USD", "hours": 2.0});
    Least::new(json!({
        "parts": {
            "new-hose": hose("5/16"), "new-pump": pump("5/16"), "old-hose": hose("3/8"), "old-pump": old,
            "old-filter": {"class": "filter", "ports": {"outlet": "3/8"}},
            "pump-of-a-wreck": {"class": "pump", "price": null},
        },
        "vehicle": {
            "positions": {"filter": "old-filter", "hose": "old-hose", "pump": "old-pump"},
            "joints": {"front": ["pump.outlet", "hose.end"], "rear": ["filter.outlet", "pump.inlet"]},
        },
    }))
}

fn offers(least: &Least) -> Vec<Offer> {
    super::offers(&least.sheet, PLAN, &least.catalogue, "pump")
}

#[test]
fn what_can_be_done_with_what_is_there_and_each_part_for_sale_is_on_offer() {
    let all = offers(&pump());
    let told: Vec<(Route, Option<&str>)> = all.iter().map(|o| (o.route, o.part.as_deref())).collect();
    assert_eq!(
        told,
        [
            (Route::Keep, None),
            (Route::Rebuild, None),
            (Route::Renew, None),
            (Route::Convert, Some("new-pump")),
            (Route::LeaveOff, None),
        ]
    );
}

#[test]
fn what_is_said_before_is_what_is_so_after() {
    let plan = pump();
    let before = plan.assess();
    for offer in offers(&plan) {
        let chosen = match &offer.part {
            Some(part) => plan.clone().convert("pump", part),
            None => plan.clone().choose("pump", offer.route),
        };
        let after = chosen.assess();
        let added: Vec<&String> = after.companions.iter().map(|c| &c.name).collect();
        let clashes: Vec<&String> = after.clashes.iter().map(|c| &c.name).collect();
        assert_eq!(
            offer.money,
            &after.totals.money.to_come - &before.totals.money.to_come,
            "{:?}",
            offer.route
        );
        assert_eq!(offer.hours, after.totals.hours - before.totals.hours, "{:?}", offer.route);
        assert_eq!(offer.companions_added.iter().collect::<Vec<_>>(), added, "{:?}", offer.route);
        assert_eq!(offer.clashes_added.iter().collect::<Vec<_>>(), clashes, "{:?}", offer.route);
        assert_eq!(offer.surplus, after.surplus.len() as i64, "{:?}", offer.route);
    }
}

#[test]
fn a_conversion_is_told_with_its_companions_and_clashes() {
    let all = offers(&pump());
    let other = all.iter().find(|o| o.route == Route::Convert).expect("on offer");
    assert_eq!((other.money.text("USD"), other.hours), ("30.00 USD".to_owned(), 1.5));
    assert_eq!(other.companions_added, ["new-hose"]);
    assert_eq!(other.clashes_added, ["rear"]);
}

#[test]
fn what_goes_again_is_told_too_and_how_the_plan_stands() {
    let all = offers(&pump().convert("pump", "new-pump"));
    let of = |route: Route| all.iter().find(|o| o.route == route).expect("on offer");
    assert_eq!(of(Route::Keep).companions_removed, ["new-hose"]);
    assert_eq!(of(Route::Keep).clashes_removed, ["rear"]);
    assert!(of(Route::Convert).current && !of(Route::Keep).current);
}

#[test]
fn who_has_not_chosen_keeps_what_is_there() {
    assert_eq!(
        offers(&pump()).iter().filter(|o| o.current).map(|o| o.route).collect::<Vec<_>>(),
        [Route::Keep]
    );
}

#[test]
fn a_step_is_counted_for_each_offer_and_what_is_given_up_gives_none() {
    let least = pump();
    let progress = Progress::default();
    let told = offers_while(&least.sheet, PLAN, &least.catalogue, "pump", &progress).unwrap();
    assert_eq!(told, offers(&least));
    assert_eq!(progress.so_far(), (told.len(), told.len()));
    progress.give_up();
    assert_eq!(offers_while(&least.sheet, PLAN, &least.catalogue, "pump", &progress), None);
}
