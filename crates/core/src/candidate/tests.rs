//! The least vehicle that is for sale that shows each rule.

use serde_json::{Value as Json, json};

use super::*;
use crate::assess::least::{Least, PLAN, merge};
use crate::money::Money;
use crate::sheet::{Finding, LineState, Reading, Seen};

fn money(text: &str) -> Amounts {
    let mut out = Amounts::default();
    out.add_times(&text.parse::<Money>().unwrap(), 1);
    out
}

/// A cart with a hub, a tank, and a coat of paint; the hub is rocked and the tank smelt at before buying.
fn cart() -> Least {
    cart_with(json!({}))
}

fn cart_with(more: Json) -> Least {
    let look = |class: &str, time: &str, order: u32, more: Json| {
        let mut look = json!({
            "for": [class], "zone": "round", "kind": "look", "method": "look", "route": "renew", "source": "common practice",
            "words": {"fine": "good", "bad": "renew", "hopeless": "stop"},
            "before_buying": {"order": order, "time": time, "with": "eyes"}
        });
        look.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        look
    };
    let mut library = json!({
        "classes": {"hub": {}, "tank": {}, "paint": {"stage": "seen"}},
        "zones": {"round": {"order": 1}},
        "inspections": {
            "rock": look("hub", "30 s", 10, json!({"route": "rebuild"})),
            "smell": look("tank", "1 min", 20, json!({})),
            "gloss": look("paint", "10 s", 30, json!({"stage": "seen"}))
        },
        "parts": {
            "old-hub": {"class": "hub", "price": "20.00 USD", "rebuild": {"price": "5.00 USD", "hours": 1}},
            "old-tank": {"class": "tank", "price": "90.00 USD", "hours": 2},
            "old-paint": {"class": "paint", "price": "700.00 USD", "hours": 40}
        },
        "vehicle": {"positions": {
            "hub": {"class": "hub", "as_found": "old-hub"},
            "tank": {"class": "tank", "as_found": "old-tank"},
            "paint": {"class": "paint", "as_found": "old-paint"}
        }}
    });
    merge(&mut library, more);
    Least::new(library)
}

fn is(least: &Least, upto: Stage) -> Candidate {
    candidate(&least.sheet, &least.catalogue, upto).unwrap()
}

fn read(least: &mut Least, place: &str, of: &str, value: &str) {
    let reading = Reading { of: of.into(), value: value.into(), ..Reading::default() };
    least.sheet.readings.insert(place.into(), vec![reading]);
}

#[test]
fn what_nobody_looked_at_may_be_bad_and_the_dearest_is_asked_first() {
    let found = is(&cart(), Stage::Sound);
    assert_eq!(found.put_right, []);
    assert_eq!(found.least, Comes::default());
    assert_eq!((found.most.money.clone(), found.most.hours), (money("95.00 USD"), 3.0));
    let asked: Vec<(&str, Amounts)> =
        found.open.iter().map(|q| (q.place.as_str(), q.adds.money.clone())).collect();
    assert_eq!(asked, [("tank", money("90.00 USD")), ("hub", money("5.00 USD"))]);
    // the coat of paint belongs to a later stage, and yet it is one of the looks
    assert_eq!((found.looked, found.seconds), ((0, 3), 100.0));
    assert_eq!(is(&cart(), Stage::Seen).most.money, money("795.00 USD"));
}

#[test]
fn what_is_bad_is_put_right_by_what_its_inspection_proposes() {
    let mut least = cart();
    read(&mut least, "hub", "rock", "bad");
    read(&mut least, "tank", "smell", "hopeless");
    let found = is(&least, Stage::Sound);
    assert_eq!(found.least.money, money("95.00 USD"));
    assert_eq!(found.most, found.least);
    assert_eq!(found.open, []);
    let told: Vec<_> =
        found.put_right.iter().map(|r| (r.place.as_str(), r.route, r.why.as_str(), r.stops)).collect();
    assert_eq!(
        told,
        [("hub", Route::Rebuild, "rock: bad", false), ("tank", Route::Renew, "smell: hopeless", true)]
    );
    assert_eq!((found.looked, found.seconds), ((2, 3), 10.0));
}

#[test]
fn what_a_person_says_and_saw_counts_and_good_asks_no_more() {
    let mut least = cart();
    let good = Finding { verdict: Verdict::Good, note: String::new(), extra: Default::default() };
    least.sheet.survey.insert("tank".into(), good);
    let leak = Seen {
        what: "grease on the spokes".into(),
        verdict: Verdict::Renew,
        on: None,
        by: String::new(),
        extra: Default::default(),
    };
    least.sheet.seen.insert("hub".into(), vec![leak]);
    let found = is(&least, Stage::Sound);
    // the library knows how a hub is rebuilt
    assert_eq!((found.least.money.clone(), found.most == found.least), (money("5.00 USD"), true));
    assert_eq!(found.put_right[0].why, "grease on the spokes");
    // what stops the vehicle is not mended
    least.sheet.seen.get_mut("hub").unwrap()[0].verdict = Verdict::Stop;
    assert_eq!(is(&least, Stage::Sound).least.money, money("20.00 USD"));
}

#[test]
fn the_worst_of_what_was_read_and_said_counts() {
    let mut least = cart();
    read(&mut least, "hub", "rock", "bad");
    let stop = Finding { verdict: Verdict::Stop, note: "cracked".into(), extra: Default::default() };
    least.sheet.survey.insert("hub".into(), stop);
    let found = is(&least, Stage::Sound);
    assert_eq!((found.put_right[0].stops, found.put_right[0].why.as_str()), (true, "cracked"));
    // a new one, since nobody mends what is cracked
    assert_eq!(found.least.money, money("20.00 USD"));
    // as bad as each other: what was read, by its own route
    least.sheet.survey.get_mut("hub").unwrap().verdict = Verdict::Renew;
    let found = is(&least, Stage::Sound);
    assert_eq!((found.put_right[0].stops, found.put_right[0].why.as_str()), (false, "rock: bad"));
    assert_eq!(found.least.money, money("5.00 USD"));
}

#[test]
fn what_was_found_in_place_of_what_was_built_is_rebuilt_only_where_that_is_known() {
    let mut least = cart_with(json!({"parts": {"odd-hub": {"class": "hub", "price": "30.00 USD"}}}));
    least.sheet.as_found.insert("hub".into(), Some("odd-hub".into()));
    let worn = Finding { verdict: Verdict::Renew, note: "worn".into(), extra: Default::default() };
    least.sheet.survey.insert("hub".into(), worn);
    assert_eq!(is(&least, Stage::Sound).put_right[0].route, Route::Renew);
}

#[test]
fn what_is_put_off_is_not_known() {
    let mut least = cart();
    let before = is(&least, Stage::Sound);
    let off = crate::sheet::PutOff { reason: "no torch".into(), ..Default::default() };
    least.sheet.put_off.insert("tank".into(), [("smell".into(), off)].into());
    assert_eq!(is(&least, Stage::Sound), before);
}

#[test]
fn what_is_missing_is_fitted_as_it_was_built() {
    let mut least = cart();
    least.sheet.as_found.insert("tank".into(), None);
    let found = is(&least, Stage::Sound);
    assert_eq!(found.least.money, money("90.00 USD"));
    assert!(found.put_right[0].missing);
    // the paint that is gone belongs to what is seen
    least.sheet.as_found.insert("paint".into(), None);
    assert_eq!(is(&least, Stage::Sound).least.money, money("90.00 USD"));
    assert_eq!(is(&least, Stage::Seen).least.money, money("790.00 USD"));
}

#[test]
fn what_is_asked_counts_in_and_another_currency_is_not_added() {
    let mut least = cart();
    read(&mut least, "tank", "smell", "bad");
    let asked = |text: &str| Some(ForSale { asked: text.parse().ok(), ..ForSale::default() });
    least.sheet.for_sale = asked("1000.00 USD");
    let sums = |least: &Least| is(least, Stage::Sound).in_all().map(|(a, b)| (a.to_string(), b.to_string()));
    assert_eq!(sums(&least), Some(("1090.00".into(), "1095.00".into())));
    least.sheet.for_sale = asked("1000.00 EUR");
    assert_eq!(sums(&least), None);
    // what was paid in the end goes before what was asked
    let bought = "800.00 USD".parse().ok();
    least.sheet.for_sale = Some(ForSale { bought, ..asked("1000.00 USD").unwrap() });
    assert_eq!(sums(&least), Some(("890.00".into(), "895.00".into())));
}

#[test]
fn plan_and_money_spent_change_nothing() {
    let mut least = cart();
    read(&mut least, "tank", "smell", "bad");
    let before = is(&least, Stage::Sound);
    least = least.choose("hub", Route::Renew).line("old-hub", LineState::InHand);
    assert_eq!(is(&least, Stage::Sound), before);
    assert!(least.sheet.plans[PLAN].routes.contains_key("hub"));
}

#[test]
fn what_is_looked_at_only_before_buying_is_gone_after() {
    let mut least = cart_with(json!({"inspections": {"smell": {"before_buying": {"only": true}}}}));
    let looks = |least: &Least| survey(&least.sheet, PLAN, &least.catalogue).before_buying.len();
    assert_eq!(looks(&least), 0);
    least.sheet.for_sale = Some(ForSale::default());
    assert_eq!(looks(&least), 1);
    least.sheet.for_sale = Some(ForSale { bought: "5.00 USD".parse().ok(), ..ForSale::default() });
    assert_eq!(looks(&least), 0);
    // what was seen then stays
    read(&mut least, "tank", "smell", "bad");
    assert_eq!(looks(&least), 1);
}
