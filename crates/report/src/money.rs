//! The budget and the orders of a plan, as text and as JSON.

use std::fmt::Write;

use knockon_core::budget::{Share, Spending};
use knockon_core::orders::{Order, Orders, sum};
use knockon_core::showing::count;
use knockon_core::{Amounts, Money};
use serde_json::{Value, json};

use crate::json::{money, with_others};

/// The budget for a terminal.
#[must_use]
pub fn budget_text(b: &Spending) -> String {
    let told = |sum: &Amounts| sum.text(&b.currency);
    let mut out = String::new();
    match &b.budget {
        Some(budget) => {
            let _ = writeln!(out, "Budget: {budget}");
        }
        None => out.push_str(
            "Budget: nobody has said one; \"budget\": {\"total\": \"15000.00 USD\"} in the sheet does\n",
        ),
    }
    let least = if b.unpriced > 0 { "at least " } else { "" };
    let _ = writeln!(out, "In the end: {least}{} where prices hold", told(&b.forecast));
    if b.contingency_percent > 0 {
        let _ = writeln!(
            out,
            "            up to {} with {} % of what is to come kept back ({})",
            told(&b.forecast_most),
            b.contingency_percent,
            told(&b.contingency)
        );
    }
    match (&b.over, &b.over_with_contingency) {
        (Some(over), _) => {
            let _ = writeln!(out, "! The plan passes the budget by {over}");
        }
        (None, Some(over)) => {
            let _ = writeln!(
                out,
                "! The plan keeps to the budget; with what is kept back it passes it by {over}"
            );
        }
        (None, None) => {}
    }
    if b.unpriced > 0 {
        let lines = count(b.unpriced, "line has no price and is", "lines have no price and are");
        let _ = writeln!(out, "{lines} not in the sums");
    }
    if !b.other_currencies.is_zero() && b.budget.is_some() {
        let _ = writeln!(
            out,
            "Held against nothing, for it is of another currency: {}",
            told(&b.other_currencies)
        );
    }
    let (rough, looked) = b.roughness;
    if looked > 0 {
        let _ = writeln!(out, "The survey would renew or stop {rough} of the {looked} places it looked at");
    }
    let _ = writeln!(
        out,
        "\n{:<26} {:>12} {:>12} {:>12} {:>12} {:>12}",
        "", "spent", "on order", "to come", "in all", "budget"
    );
    for share in &b.shares {
        row(&mut out, b, share);
    }
    row(&mut out, b, &b.in_all());
    for (what, sum) in [
        ("Spent for what this plan does not want", &b.idle),
        ("On order and not wanted: could be called off", &b.could_be_called_off),
        ("Came back already", &b.came_back),
    ] {
        if !sum.is_zero() {
            let _ = writeln!(out, "{what}: {}", told(sum));
        }
    }
    out
}

fn row(out: &mut String, b: &Spending, share: &Share) {
    let own = |sum: &Amounts| money(sum.of(&b.currency));
    let budget = share.budget.as_ref().map_or_else(String::new, |m| money(m.amount));
    let over = share.over.as_ref().map_or_else(String::new, |over| format!("  passes it by {over}"));
    let _ = writeln!(
        out,
        "{:<26} {:>12} {:>12} {:>12} {:>12} {:>12}{over}",
        share.name,
        own(&share.spent),
        own(&share.committed),
        own(&share.to_come),
        own(&share.all()),
        budget
    );
    let others = share.all();
    let others: Vec<Money> = others.each().filter(|m| m.currency != b.currency).collect();
    for other in others {
        let _ = writeln!(out, "{:<26} {:>64}", "", format!("and {other}"));
    }
}

/// The budget for another program.
#[must_use]
pub fn budget_json(b: &Spending) -> Value {
    let own = |sum: &Amounts| money(sum.of(&b.currency));
    let share = |share: &Share| {
        let told = json!({
            "system": share.system, "name": share.name,
            "budget": share.budget.as_ref().map(Money::to_string),
            "spent": own(&share.spent), "committed": own(&share.committed), "to_come": own(&share.to_come),
            "all": own(&share.all()), "over": share.over.as_ref().map(Money::to_string),
        });
        with_others(told, "other_money", &share.all(), &b.currency)
    };
    let told = json!({
        "currency": b.currency, "budget": b.budget.as_ref().map(Money::to_string),
        "forecast": own(&b.forecast), "forecast_most": own(&b.forecast_most),
        "contingency_percent": b.contingency_percent, "contingency": own(&b.contingency),
        "over": b.over.as_ref().map(Money::to_string),
        "over_with_contingency": b.over_with_contingency.as_ref().map(Money::to_string),
        "idle": own(&b.idle), "could_be_called_off": own(&b.could_be_called_off), "came_back": own(&b.came_back),
        "unpriced": b.unpriced, "roughness": {"rough": b.roughness.0, "looked_at": b.roughness.1},
        "systems": b.shares.iter().map(share).collect::<Vec<_>>(),
    });
    with_others(told, "other_money", &b.forecast, &b.currency)
}

/// The orders for a terminal.
#[must_use]
pub fn orders_text(o: &Orders, currency: &str) -> String {
    let mut out = String::new();
    if o.as_listed.is_empty() && o.nobody.is_empty() && o.no_price.is_empty() {
        return "Nothing of this plan is still to be bought.\n".to_owned();
    }
    put(&mut out, "As the lines name their suppliers", &o.as_listed, currency);
    if !o.cheapest.is_empty() {
        let spared = &sum(&o.as_listed) - &sum(&o.cheapest);
        out.push('\n');
        put(&mut out, "Where it costs least, shipping counted", &o.cheapest, currency);
        let proved = if o.proved { "; nothing costs less" } else { "; not every way was tried" };
        let _ = writeln!(out, "Spares {}{proved}", spared.text(currency));
        if !o.not_counted.is_empty() {
            let _ = writeln!(
                out,
                "Without the shipping of {}: nobody says it, or it is in another currency",
                o.not_counted.join(", ")
            );
        }
    }
    if o.minimum_missed {
        out.push_str("Not every order can come to the least that its supplier takes.\n");
    }
    for (what, names) in [("Nobody is named for", &o.nobody), ("No price is known of", &o.no_price)] {
        if !names.is_empty() {
            let _ = writeln!(out, "\n{what} ({})", names.len());
            names.iter().for_each(|name| out.push_str(&format!("  - {name}\n")));
        }
    }
    out
}

fn put(out: &mut String, head: &str, orders: &[Order], currency: &str) {
    let least = |unknown: bool| if unknown { "at least " } else { "" };
    let unknown = orders.iter().any(|order| order.shipping.is_none());
    let _ = writeln!(
        out,
        "{head} ({}, {}{})",
        count(orders.len(), "order", "orders"),
        least(unknown),
        sum(orders).text(currency)
    );
    for order in orders {
        let all = order.all().text(&order.parts.currency);
        let _ = writeln!(out, "  {}: {}{all}", order.supplier, least(order.shipping.is_none()));
        for item in &order.items {
            let _ = writeln!(
                out,
                "    {:>14}  {:>3} x {}",
                item.each.times(item.qty).to_string(),
                item.qty,
                item.name
            );
        }
        let shipping = order.shipping.as_ref().map_or_else(|| "unknown".to_owned(), Money::to_string);
        let _ = writeln!(out, "    {shipping:>14}  shipping");
        if let Some(left) = &order.to_free {
            let _ = writeln!(out, "    {:>14}  more, and shipping is free", left.to_string());
        }
        if let Some(missing) = &order.below_minimum {
            let _ = writeln!(out, "    {:>14}  missing to the least that is taken", missing.to_string());
        }
    }
}

/// The orders for another program.
#[must_use]
pub fn orders_json(o: &Orders, currency: &str) -> Value {
    let order = |order: &Order| {
        json!({
            "supplier": order.supplier, "parts": order.parts.to_string(),
            "shipping": order.shipping.as_ref().map(Money::to_string),
            "all": order.all().text(&order.parts.currency), "to_free": order.to_free.as_ref().map(Money::to_string),
            "below_minimum": order.below_minimum.as_ref().map(Money::to_string),
            "lines": order.items.iter().map(|item| json!({
                "part": item.part, "name": item.name, "qty": item.qty, "each": item.each.to_string(),
            })).collect::<Vec<_>>(),
        })
    };
    let list = |orders: &[Order]| orders.iter().map(order).collect::<Vec<_>>();
    let (listed, cheapest) = (sum(&o.as_listed), sum(&o.cheapest));
    let told = json!({
        "as_listed": list(&o.as_listed), "as_listed_all": money(listed.of(currency)),
        "cheapest": list(&o.cheapest), "cheapest_all": money(cheapest.of(currency)),
        "proved": o.proved, "minimum_missed": o.minimum_missed, "shipping_not_counted": o.not_counted,
        "nobody": o.nobody, "no_price": o.no_price, "currency": currency,
    });
    let told = with_others(told, "other_as_listed_all", &listed, currency);
    with_others(told, "other_cheapest_all", &cheapest, currency)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use knockon_core::orders::Item;

    use super::*;

    fn order(supplier: &str, parts: &str, shipping: Option<&str>) -> Order {
        let each: Money = parts.parse().unwrap();
        let item = Item { part: "hose".to_owned(), name: "Hose".to_owned(), qty: 1, each: each.clone() };
        Order {
            supplier: supplier.to_owned(),
            items: vec![item],
            parts: each,
            shipping: shipping.map(|text| text.parse().unwrap()),
            to_free: None,
            below_minimum: None,
        }
    }

    #[test]
    fn shipping_that_nobody_says_is_unknown_and_that_of_another_currency_stands_in_it() {
        let as_listed = vec![
            order("Mill Yard", "20.00 USD", None),
            order("North Quay", "30.00 USD", Some("8.00 EUR")),
            order("Old Kiln", "40.00 EUR", Some("0.00 EUR")),
        ];
        let found = Orders { as_listed, proved: true, ..Orders::default() };
        let text = orders_text(&found, "USD");
        for line in [
            "As the lines name their suppliers (3 orders, at least 50.00 USD and 48.00 EUR)",
            "Mill Yard: at least 20.00 USD",
            "unknown  shipping",
            "North Quay: 30.00 USD and 8.00 EUR",
            "8.00 EUR  shipping",
            "Old Kiln: 40.00 EUR",
            "0.00 EUR  shipping",
        ] {
            assert!(text.lines().any(|of| of.trim() == line), "{line}: {text}");
        }
        let json = orders_json(&found, "USD");
        assert_eq!(json["as_listed"][0]["shipping"], Value::Null);
        assert_eq!(json["as_listed"][1]["all"], "30.00 USD and 8.00 EUR");
        // no currency is dropped
        assert_eq!(
            (&json["as_listed_all"], &json["other_as_listed_all"]),
            (&json!("50.00"), &json!({"EUR": "48.00"}))
        );
    }
}
