//! Orders and budget: the least cost of 200 random lists is what a solver from outside finds, and all money comes to one sum.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use knockon_core::Money;
use knockon_core::budget::budget;
use knockon_core::ledger::{Account, by_supplier, ledger};
use knockon_core::orders::{Line, Terms, cover, orders};
use knockon_core::sheet::{Budget, Supplier};
use knockon_core::{Amounts, assess};
use knockon_store::library;
use knockon_tests::examples::{each_example, example};
use rust_decimal::Decimal;
use serde_json::Value;

/// Lists and least costs as `tests/reference/orders.py` writes them with scipy's `milp` (HiGHS).
const LISTS: &str = include_str!("../reference/orders.json");

fn cents(value: &Value) -> Decimal {
    Decimal::new(value.as_i64().unwrap(), 2)
}

#[test]
fn the_least_cost_is_what_a_solver_from_outside_finds() {
    let lists: Vec<Value> = serde_json::from_str(LISTS).unwrap();
    assert_eq!(lists.len(), 200);
    for (n, list) in lists.iter().enumerate() {
        let terms: Vec<Terms> = list["suppliers"]
            .as_array()
            .unwrap()
            .iter()
            .map(|s| Terms {
                shipping: cents(&s["shipping"]),
                free_from: (!s["free_from"].is_null()).then(|| cents(&s["free_from"])),
                minimum: cents(&s["minimum"]),
            })
            .collect();
        let offer = |offer: &Value| (usize::try_from(offer[0].as_u64().unwrap()).unwrap(), cents(&offer[1]));
        let line = |line: &Value| Line { offers: line.as_array().unwrap().iter().map(offer).collect() };
        let lines: Vec<Line> = list["lines"].as_array().unwrap().iter().map(line).collect();
        let found = cover(&lines, &terms);
        assert!(found.proved, "list {n}");
        if list["least"].is_null() {
            assert!(found.minimum_missed, "list {n}");
            continue;
        }
        assert!(!found.minimum_missed, "list {n}");
        assert_eq!(found.cost, cents(&list["least"]), "list {n}");
        // every minimum is kept, and the cost is that of the choice
        let mut sums = vec![Decimal::ZERO; terms.len()];
        for (line, at) in lines.iter().zip(&found.choice) {
            let (supplier, cost) = line.offers[*at];
            sums[supplier] += cost;
        }
        let used = sums.iter().zip(&terms).filter(|(sum, _)| **sum > Decimal::ZERO);
        let all: Decimal = used
            .map(|(sum, terms)| {
                assert!(*sum >= terms.minimum, "list {n}");
                if terms.free_from.is_some_and(|from| *sum >= from) { *sum } else { *sum + terms.shipping }
            })
            .sum();
        assert_eq!(all, found.cost, "list {n}");
    }
}

#[test]
fn orders_hold_what_is_still_to_be_bought_and_no_more() {
    let (mut sheet, catalogue) = (example("furrow-10"), library::shipped());
    let money = |text: &str| text.parse::<Money>().ok();
    let a = assess(&sheet, &sheet.plan, &catalogue);
    let before = orders(&sheet, &a, &catalogue);
    assert!(before.cheapest.is_empty() && before.proved);
    let parts: Decimal = before.as_listed.iter().map(|order| order.parts.amount).sum();
    let counted: Vec<&Money> = a
        .buy
        .iter()
        .filter(|l| l.waived.is_none() && !before.nobody.contains(&l.name))
        .filter_map(|l| l.total.as_ref())
        .collect();
    assert_eq!(parts, counted.into_iter().collect::<Amounts>().of(&a.totals.currency));
    // somebody sells one of the parts for a cent less, but asks for shipping: it stays where it is
    let order = before.as_listed.iter().max_by_key(|order| order.items.len()).unwrap();
    let item = &order.items[0];
    let less = Money::new(item.each.amount - Decimal::new(1, 2), &item.each.currency);
    let other = Supplier {
        shipping: money("8.00 USD"),
        prices: [(item.part.clone(), less)].into(),
        ..Supplier::default()
    };
    sheet.suppliers.insert("Somebody else".to_owned(), other.clone());
    assert!(orders(&sheet, &a, &catalogue).cheapest.is_empty());
    // where nobody says what shipping is it goes there, and that is said; sent for nothing, too
    let named = |shipping| Supplier { shipping, ..other.clone() };
    for (shipping, known) in [(None, false), (money("8.00 EUR"), false), (money("0.00 USD"), true)] {
        sheet.suppliers.insert("Somebody else".to_owned(), named(shipping.clone()));
        let after = orders(&sheet, &a, &catalogue);
        assert_eq!(!after.not_counted.contains(&"Somebody else".to_owned()), known);
        let there = after.cheapest.iter().find(|order| order.supplier == "Somebody else").unwrap();
        assert_eq!(there.shipping, shipping);
    }
    let after = orders(&sheet, &a, &catalogue);
    let sum = |all: &[knockon_core::orders::Order]| knockon_core::orders::sum(all).of("USD");
    assert_eq!(sum(&after.as_listed) - sum(&after.cheapest), Decimal::new(1, 2) * Decimal::from(item.qty));
}

#[test]
fn the_shares_of_a_budget_are_the_sums_of_the_plan() {
    let catalogue = library::shipped();
    for (name, sheet) in each_example() {
        for plan in sheet.plans.keys() {
            let a = assess(&sheet, plan, &catalogue);
            let found = budget(&sheet, &a, &catalogue);
            let m = &a.totals.money;
            let sum = |of: fn(&knockon_core::budget::Share) -> &Amounts| {
                found.shares.iter().map(of).fold(Amounts::default(), |all, one| &all + one)
            };
            assert_eq!(sum(|s| &s.spent), m.spent, "{name} {plan}");
            assert_eq!(sum(|s| &s.committed), m.committed, "{name} {plan}");
            assert_eq!(sum(|s| &s.to_come), m.to_come, "{name} {plan}");
            assert_eq!(found.forecast, m.all(), "{name} {plan}");
            assert_eq!(found.in_all().all(), m.all(), "{name} {plan}");
        }
    }
}

#[test]
fn the_accounts_of_the_suppliers_are_the_sums_of_the_plan_with_each_line_once() {
    let catalogue = library::shipped();
    let mut bought = 0;
    for (name, sheet) in each_example() {
        for plan in sheet.plans.keys() {
            let a = assess(&sheet, plan, &catalogue);
            let entries = ledger(&sheet, &a, &catalogue);
            let all = by_supplier(entries.clone(), &a.totals.currency);
            let m = &a.totals.money;
            let sum = |of: fn(&Account) -> &Amounts| {
                all.iter().map(of).fold(Amounts::default(), |sum, one| &sum + one)
            };
            assert_eq!(sum(|s| &s.spent), m.spent, "{name} {plan}");
            assert_eq!(sum(|s| &s.committed), m.committed, "{name} {plan}");
            assert_eq!(sum(|s| &s.to_come), m.to_come, "{name} {plan}");
            assert_eq!(all.iter().map(|s| s.lines.len()).sum::<usize>(), entries.len(), "{name} {plan}");
            bought += usize::from(!m.spent.is_zero());
            // nobody comes first, and no supplier twice
            let mut names: Vec<&str> = all.iter().map(|s| s.supplier.as_str()).collect();
            assert!(names.iter().skip(1).all(|name| !name.is_empty()), "{name} {plan}");
            names.sort_unstable();
            names.dedup();
            assert_eq!(names.len(), all.len(), "{name} {plan}");
        }
    }
    assert!(bought > 0, "of some plan something is bought already");
}

#[test]
fn a_plan_that_passes_its_budget_says_by_how_much() {
    let (mut sheet, catalogue) = (example("furrow-10"), library::shipped());
    let a = assess(&sheet, &sheet.plan, &catalogue);
    let all = a.totals.money.all().of("USD");
    let with = |sheet: &mut knockon_core::Sheet, total: Decimal| {
        let total = Some(Money::new(total, "USD"));
        sheet.budget = Budget { total, contingency: Some(10), ..Budget::default() };
    };
    with(&mut sheet, all - Decimal::ONE);
    assert_eq!(budget(&sheet, &a, &catalogue).over.unwrap().to_string(), "1.00 USD");
    with(&mut sheet, all);
    let found = budget(&sheet, &a, &catalogue);
    assert_eq!(found.over, None);
    // nothing is bought yet: what is kept back is a tenth of all, and passes it
    let tenth = (all / Decimal::TEN).round_dp(2);
    assert_eq!(found.over_with_contingency, Some(Money::new(tenth, "USD")));
    // where all is paid nothing is kept back, and the forecast is what was paid
    for line in &a.buy {
        let record = knockon_core::sheet::Line {
            state: knockon_core::sheet::LineState::Fitted,
            paid: line.price.clone(),
            ..Default::default()
        };
        sheet.lines.insert(line.part.clone(), record);
    }
    let a = assess(&sheet, &sheet.plan, &catalogue);
    let found = budget(&sheet, &a, &catalogue);
    assert_eq!((found.forecast.clone(), found.contingency.is_zero()), (a.totals.money.spent.clone(), true));
    assert_eq!(found.forecast_most, a.totals.money.spent);
}
