//! What counts as spent, ordered and still to be paid, and what of it lies idle.

use serde_json::json;

use super::super::least::Least;
use crate::assessment::Assessment;
use crate::refund::CameBack;
use crate::sheet::{Line, LineState, Route};

/// Two tyres at the front, which may be had wide.
fn tyres() -> Least {
    Least::new(json!({
        "parts": {"narrow": {"class": "tyre"}, "wide": {"class": "tyre", "price": "90.00 USD"}},
        "vehicle": {"positions": {"tyre": {"qty": 2, "as_found": "narrow"}}},
    }))
}

fn line(state: LineState, paid: &str, qty: Option<u32>) -> Line {
    Line { state, paid: paid.parse().ok(), qty, ..Line::default() }
}

fn with(mut least: Least, line: Line) -> Assessment {
    least.sheet.lines.insert("wide".into(), line);
    least.assess()
}

/// Spent, on order, to come; then what of the first two lies idle.
fn sums(a: &Assessment) -> [String; 5] {
    let m = &a.totals.money;
    [&m.spent, &m.committed, &m.to_come, &m.idle, &m.idle_on_order].map(|sum| sum.text("USD"))
}

#[test]
fn a_price_counts_as_it_was_paid_else_as_it_is_listed() {
    let wide = || tyres().convert("tyre", "wide");
    let told = |paid| with(wide(), line(LineState::ToBuy, paid, None));
    assert_eq!(sums(&told("")), ["0.00 USD", "0.00 USD", "180.00 USD", "0.00 USD", "0.00 USD"]);
    let a = told("75.00 USD");
    assert_eq!(sums(&a)[2], "150.00 USD");
    // the board, the buy list and the sums say the same
    assert_eq!(a.positions[0].price.as_ref().unwrap().to_string(), "150.00 USD");
    assert_eq!(a.buy[0].price.as_ref().unwrap().to_string(), "75.00 USD");
}

#[test]
fn in_hand_without_a_price_paid_is_nothing_spent_and_is_counted() {
    for state in [LineState::InHand, LineState::Fitted] {
        let a = with(tyres().convert("tyre", "wide"), line(state, "", None));
        assert_eq!(sums(&a), ["0.00 USD"; 5]);
        assert_eq!((a.totals.money.no_price_paid, a.totals.unpriced), (1, 0));
        assert_eq!((&a.positions[0].price, &a.buy[0].price, &a.buy[0].total), (&None, &None, &None));
        let a = with(tyres().convert("tyre", "wide"), line(state, "75.00 USD", None));
        assert_eq!((sums(&a)[0].as_str(), a.totals.money.no_price_paid), ("150.00 USD", 0));
    }
    // what is on order will be paid as it is listed
    let a = with(tyres().convert("tyre", "wide"), line(LineState::OnOrder, "", None));
    assert_eq!((sums(&a)[1].as_str(), a.totals.money.no_price_paid), ("180.00 USD", 0));
}

#[test]
fn what_is_spent_stays_spent_and_lies_idle_where_the_plan_wants_it_no_more() {
    let bought = || line(LineState::InHand, "75.00 USD", Some(2));
    let wanted = with(tyres().convert("tyre", "wide"), bought());
    assert_eq!(sums(&wanted), ["150.00 USD", "0.00 USD", "0.00 USD", "0.00 USD", "0.00 USD"]);
    assert!(wanted.idle.is_empty());
    for least in [tyres(), tyres().choose("tyre", Route::Renew)] {
        let a = with(least, bought());
        assert_eq!((sums(&a)[0].as_str(), sums(&a)[3].as_str()), ("150.00 USD", "150.00 USD"));
        assert_eq!((a.idle[0].part.as_str(), a.idle[0].qty), ("wide", Some(2)));
    }
    let a = with(tyres(), line(LineState::OnOrder, "", Some(2)));
    assert_eq!(sums(&a), ["0.00 USD", "180.00 USD", "0.00 USD", "0.00 USD", "180.00 USD"]);
}

#[test]
fn of_more_than_the_plan_wants_the_rest_lies_idle_and_of_fewer_the_rest_is_to_come() {
    let with_four = with(tyres().convert("tyre", "wide"), line(LineState::Fitted, "75.00 USD", Some(4)));
    assert_eq!(sums(&with_four), ["300.00 USD", "0.00 USD", "0.00 USD", "150.00 USD", "0.00 USD"]);
    let with_one = with(tyres().convert("tyre", "wide"), line(LineState::Fitted, "75.00 USD", Some(1)));
    assert_eq!(sums(&with_one), ["75.00 USD", "0.00 USD", "75.00 USD", "0.00 USD", "0.00 USD"]);
    assert_eq!(
        (with_one.buy[0].short, with_one.buy[0].total.as_ref().unwrap().to_string()),
        (1, "150.00 USD".to_owned())
    );
    // nothing is known of the one, the other has its price
    let a = with(tyres().convert("tyre", "wide"), line(LineState::Fitted, "", Some(1)));
    assert_eq!(sums(&a), ["0.00 USD", "0.00 USD", "90.00 USD", "0.00 USD", "0.00 USD"]);
    assert_eq!(a.buy[0].total.as_ref().unwrap().to_string(), "90.00 USD");
}

#[test]
fn where_nobody_says_how_many_one_is_bought_at_least() {
    let a = with(tyres(), line(LineState::InHand, "75.00 USD", None));
    assert_eq!((sums(&a)[3].as_str(), a.idle[0].qty), ("75.00 USD", None));
}

#[test]
fn a_part_that_the_library_does_not_know_is_spent_and_idle_all_the_same() {
    let mut least = tyres();
    least.sheet.lines.insert("lost".into(), line(LineState::InHand, "20.00 USD", Some(3)));
    // what lies in a box has no money of its own
    least.sheet.lines.insert("kit/hose".into(), line(LineState::InHand, "9.00 USD", None));
    let a = least.assess_anyway();
    assert_eq!((sums(&a)[0].as_str(), sums(&a)[3].as_str()), ("60.00 USD", "60.00 USD"));
    assert_eq!(a.idle.iter().map(|l| l.name.as_str()).collect::<Vec<_>>(), ["lost"]);
}

#[test]
fn what_is_left_out_though_it_was_bought_lies_idle() {
    let mut least = Least::new(json!({
        "free": ["fuse"],
        "needs": {"fused": {"kind": "present"}},
        "parts": {"glass": {"class": "fuse", "offers": ["fused"], "price": "2.00 USD"}, "electric": {"class": "pump", "needs": ["fused"]}},
        "vehicle": {"positions": {"pump": null}},
    }))
    .convert("pump", "electric")
    .waive("need:pump:electric:fused");
    least.sheet.lines.insert("glass".into(), line(LineState::InHand, "3.00 USD", None));
    let a = least.assess();
    assert_eq!((sums(&a)[0].as_str(), sums(&a)[3].as_str()), ("3.00 USD", "3.00 USD"));
}

#[test]
fn what_is_sent_back_is_not_spent() {
    let a = with(tyres(), line(LineState::SentBack, "75.00 USD", Some(2)));
    assert_eq!(sums(&a), ["0.00 USD"; 5]);
    assert!(a.idle.is_empty());
}

#[test]
fn each_currency_is_summed_by_itself() {
    let a = with(tyres().convert("tyre", "wide"), line(LineState::InHand, "60.00 EUR", Some(1)));
    // the second one costs what the first did
    assert_eq!(sums(&a)[..3], ["60.00 EUR", "0.00 USD", "60.00 EUR"]);
    assert_eq!(a.totals.money.all().text("USD"), "120.00 EUR");
}

#[test]
fn work_on_a_part_that_stays_is_bought_like_a_part() {
    let mut least = Least::new(json!({
        "parts": {"old": {"class": "pump", "rebuild": {"price": "40.00 USD"}}},
        "vehicle": {"positions": {"pump": "old"}},
    }));
    least.sheet.lines.insert("old.rebuild".into(), line(LineState::InHand, "35.00 USD", None));
    assert_eq!(sums(&least.assess())[3], "35.00 USD");
    let a = least.choose("pump", Route::Rebuild).assess();
    assert_eq!((sums(&a)[0].as_str(), sums(&a)[3].as_str()), ("35.00 USD", "0.00 USD"));
}

#[test]
fn what_came_back_lies_idle_no_more() {
    let rebuilt = |qty| {
        let came_back = [(CameBack::Core, "60.00 USD".parse().unwrap())].into();
        Line { came_back, ..line(LineState::InHand, "90.00 USD", qty) }
    };
    let a = with(tyres(), rebuilt(Some(2)));
    assert_eq!((sums(&a)[0].as_str(), sums(&a)[3].as_str()), ("120.00 USD", "120.00 USD"));
    // some are still wanted, and what came back stays with those
    let a = with(tyres().convert("tyre", "wide"), rebuilt(Some(3)));
    assert_eq!((sums(&a)[0].as_str(), sums(&a)[3].as_str()), ("210.00 USD", "90.00 USD"));
    // nobody knows how many there are: no less than nothing is spent
    let mut many = rebuilt(None);
    many.came_back.insert(CameBack::Refund, "70.00 USD".parse().unwrap());
    assert_eq!(sums(&with(tyres(), many))[0], "0.00 USD");
}
