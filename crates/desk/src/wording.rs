//! How figures and consequences are worded.

use knockon_core::Amounts;
use knockon_core::assessment::{Answer, Assessment, BuyLine, Companion, Offer, Origin, PositionView, Totals};
use knockon_core::change::Change;
use knockon_core::library::{Level, Reversible};
use knockon_core::money::Money;
use knockon_core::sheet::{LineState, Route, Verdict};
pub use knockon_core::showing::count;
use knockon_core::spent::{Idle, no_price};
use rust_decimal::Decimal;

use crate::look::icons::Mark;

/// Why a text is no line that can be read: it is longer than so many letters, or has signs in it that nobody sees. `None`: it is
/// one.
pub fn no_line(text: &str, most: usize) -> Option<String> {
    let unseen = |c: char| {
        let marks = [
            '\u{200B}'..='\u{200F}',
            '\u{202A}'..='\u{202E}',
            '\u{2060}'..='\u{206F}',
            '\u{FEFF}'..='\u{FEFF}',
        ];
        c.is_control() || marks.iter().any(|range| range.contains(&c))
    };
    let letters = text.chars().count();
    if let Some(at) = text.chars().position(unseen) {
        let before: String = text.chars().take(at).collect();
        return Some(format!(
            "Expected text that can be seen; behind \"{}\" stands a sign that cannot.",
            end(&before)
        ));
    }
    (letters > most).then(|| format!("Expected at most {most} letters, found {letters}."))
}

/// Most letters of a text that is told in a message.
const QUOTED: usize = 40;

/// The beginning of a text, for a message.
pub fn begin(text: &str) -> String {
    let shown: String = text.chars().take(QUOTED).collect();
    if shown.len() < text.len() { format!("{shown}…") } else { shown }
}

/// Its end.
fn end(text: &str) -> String {
    let letters = text.chars().count();
    let shown: String = text.chars().skip(letters.saturating_sub(QUOTED)).collect();
    if shown.len() < text.len() { format!("…{shown}") } else { shown }
}

/// A text under a heading, without the heading it begins with: nothing is said twice.
pub fn under<'a>(heading: &str, text: &'a str) -> &'a str {
    let lead = text.get(..heading.len()).filter(|l| l.eq_ignore_ascii_case(heading));
    let rest = lead.and_then(|_| text.get(heading.len()..)).and_then(|rest| rest.strip_prefix(": "));
    rest.unwrap_or(text)
}

/// "1,412.50", with the currency's sign where it is known.
pub fn amount(value: Decimal, currency: &str) -> String {
    let text = format!("{:.2}", value.abs());
    let (whole, cents) = text.split_once('.').unwrap_or((&text, "00"));
    let mut grouped = String::new();
    for (i, c) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(c);
    }
    let minus = if value.is_sign_negative() && !value.is_zero() { "−" } else { "" };
    match currency {
        "USD" => format!("{minus}${grouped}.{cents}"),
        "GBP" => format!("{minus}£{grouped}.{cents}"),
        "EUR" => format!("{minus}€{grouped}.{cents}"),
        "" => format!("{minus}{grouped}.{cents}"),
        other => format!("{minus}{grouped}.{cents} {other}"),
    }
}

/// Sums, each currency by itself.
pub fn amounts(sum: &Amounts, currency: &str) -> String {
    sum.shown(currency).iter().map(|m| amount(m.amount, &m.currency)).collect::<Vec<_>>().join(" + ")
}

/// Sums as a difference, each with its sign: "+$12.50", "−$3.00, +€2.00".
pub fn difference(sum: &Amounts, currency: &str) -> String {
    let one = |m: &Money| {
        let plus = if m.amount > Decimal::ZERO { "+" } else { "" };
        format!("{plus}{}", amount(m.amount, &m.currency))
    };
    sum.shown(currency).iter().map(one).collect::<Vec<_>>().join(", ")
}

/// What something counts for in the sums, or why it counts for nothing.
pub fn counts_for(money: Option<&Money>, state: LineState) -> String {
    money.map_or_else(|| no_price(state).to_owned(), |m| price(Some(m)))
}

/// A price, or that it is not known.
pub fn price(money: Option<&Money>) -> String {
    money.map_or_else(|| "no price".to_owned(), |m| amount(m.amount, &m.currency))
}

/// "$60.00 back"; `None` where nothing came back.
pub fn came_back(line: &BuyLine) -> Option<String> {
    let sum: Amounts = line.came_back.values().collect();
    let told: Vec<String> =
        sum.each().map(|money| format!("{} back", amount(money.amount, &money.currency))).collect();
    (!told.is_empty()).then(|| told.join(", "))
}

/// "6 h", "0.5 h".
pub fn hours(value: f64) -> String {
    let text = format!("{:.1}", value.abs());
    format!("{} h", text.strip_suffix(".0").unwrap_or(&text))
}

/// "1 does not fit", "3 do not fit".
pub fn misfits(n: usize) -> String {
    count(n, "does not fit", "do not fit")
}

/// "does not fit", "do not fit".
pub fn do_not_fit(n: usize) -> &'static str {
    if n == 1 { "does not fit" } else { "do not fit" }
}

/// The route on offer, with its part.
pub fn offer_name(offer: &Offer) -> String {
    match offer.route {
        Route::Convert => format!("convert to {}", offer.name),
        route => route.word().to_owned(),
    }
}

/// A change in money; `to_pay`: it is what is still to be paid, because money that is spent already would lie idle.
pub fn money_change(money: Decimal, to_pay: bool, currency: &str) -> Option<String> {
    let less = money.is_sign_negative();
    (!money.is_zero()).then(|| match (to_pay, less) {
        (true, true) => format!("{} less to pay", amount(-money, currency)),
        (true, false) => format!("{} to pay", amount(money, currency)),
        (false, true) => amount(money, currency),
        (false, false) => format!("+ {}", amount(money, currency)),
    })
}

/// A change in hours.
pub fn hours_change(value: f64) -> Option<String> {
    (value.abs() > 0.04).then(|| format!("{}{}", if value < 0.0 { "−" } else { "" }, hours(value)))
}

/// A change in how much is to be measured.
pub fn measure_change(n: i64) -> Option<String> {
    match n {
        0 => None,
        n if n > 0 => Some(format!("{n} more to measure")),
        n => Some(format!("{} fewer to measure", -n)),
    }
}

/// What a route would bring, in one line; empty where it is how the plan stands.
/// `change` is there where money that is spent already would lie idle: then the sum is what is still to be paid.
pub fn consequences(offer: &Offer, change: Option<&Change>, currency: &str) -> String {
    if offer.current {
        return "as the plan stands".to_owned();
    }
    let mut parts = Vec::new();
    let money = change.map_or(&offer.money, |c| &c.to_come);
    for Money { amount, currency } in money.shown(currency) {
        parts.extend(money_change(amount, change.is_some(), &currency));
    }
    if offer.unpriced {
        parts.push("some of it has no price".to_owned());
    }
    let n = offer.companions_added.len();
    if n > 0 {
        parts.push(count(n, "companion", "companions"));
    }
    let n = offer.companions_removed.len();
    if n > 0 {
        parts.push(format!("{} fewer", count(n, "companion", "companions")));
    }
    if !offer.clashes_added.is_empty() {
        parts.push(misfits(offer.clashes_added.len()));
    }
    if !offer.clashes_removed.is_empty() {
        parts.push(format!("clears {}", offer.clashes_removed.len()));
    }
    parts.extend(measure_change(offer.to_measure));
    match offer.surplus {
        0 => {}
        n if n > 0 => parts.push(format!("{n} no longer needed")),
        n => parts.push(format!("{} back in use", -n)),
    }
    parts.extend(hours_change(offer.hours));
    if offer.route != Route::Keep {
        parts.push(reversible(offer.reversible).to_owned());
    }
    if parts.is_empty() { "changes nothing else".to_owned() } else { parts.join(" · ") }
}

/// What a change would leave idle, in one line.
pub fn lost(change: &Change) -> String {
    let mut parts = Vec::new();
    if !change.idle_spent.is_zero() {
        parts.push(format!("{} already spent lies idle", amounts(&change.idle_spent, &change.currency)));
    }
    if !change.idle_on_order.is_zero() {
        parts.push(format!("{} on order to call off", amounts(&change.idle_on_order, &change.currency)));
    }
    if change.not_summed > 0 {
        parts.push(count(
            change.not_summed,
            "bought part without a sum lies idle",
            "bought parts without a sum lie idle",
        ));
    }
    if change.hours > 0.04 {
        parts.push(format!("{} of work done for nothing", hours(change.hours)));
    }
    parts.join(" · ")
}

/// A line that nothing wants.
pub fn idle(line: &Idle) -> String {
    let money = counts_for(line.money().as_ref(), line.state);
    format!("{} ({}, {money})", with_qty(&line.name, line.qty.unwrap_or(1)), line.state.word())
}

/// Whether the work can be undone.
pub fn reversible(r: Reversible) -> &'static str {
    r.words()
}

/// The verdict of the survey.
pub fn verdict(v: Verdict) -> &'static str {
    match v {
        Verdict::Good => "good",
        Verdict::Watch => "watch",
        Verdict::Renew => "renew",
        Verdict::Stop => "stop: not to be driven until cured",
    }
}

/// What the survey has against a part, in a word or two; nothing where it is good.
pub fn seen(v: Verdict) -> &'static str {
    match v {
        Verdict::Good => "",
        Verdict::Watch => "survey: watch",
        Verdict::Renew => "survey: renew",
        Verdict::Stop => "survey: stop",
    }
}

/// "needs" or "better with".
pub fn level(l: Level) -> &'static str {
    match l {
        Level::Required => "needs",
        Level::Advised => "better with",
    }
}

/// The mark of a position.
pub fn mark(a: &Assessment, p: &PositionView) -> Mark {
    if !p.clashes.is_empty() {
        Mark::Clash
    } else if !p.to_measure.is_empty() {
        Mark::Measure
    } else if p.surplus && (p.fitted.is_none() || p.fitted == p.as_found) {
        // where another part sits here now, that one counts; the old one stands in the list of what comes off
        Mark::Surplus
    } else if p.fitted.is_none() {
        Mark::Empty
    } else if !p.left_out.is_empty() {
        Mark::Without
    } else if a.checks.iter().any(|c| c.answer == Answer::Bridged && c.positions.contains(&p.id)) {
        Mark::FitsWith
    } else {
        Mark::Fits
    }
}

/// The mark in words, with the part between where there is one.
pub fn mark_text(a: &Assessment, p: &PositionView) -> String {
    let mark = mark(a, p);
    let between = a.companions.iter().find(|c| {
        c.origin == Origin::Bridge
            && c.waived.is_none()
            && (c.position.as_ref() == Some(&p.id) || p.companions.contains(&c.key))
    });
    match (mark, between) {
        (Mark::FitsWith, Some(c)) => format!("fits with {}", c.name),
        _ => mark.word().to_owned(),
    }
}

/// How a plan stands, in one line.
pub fn figures(t: &Totals) -> String {
    let mut parts = vec![amounts(&t.money.all(), &t.currency)];
    parts.push(count(t.companions, "companion", "companions"));
    if t.clashes > 0 {
        parts.push(misfits(t.clashes));
    }
    if t.to_measure > 0 {
        parts.push(format!("{} to measure", t.to_measure));
    }
    parts.push(hours(t.hours));
    parts.join(" · ")
}

/// A companion still wants an answer.
pub fn open(c: &Companion) -> bool {
    !(c.accepted || c.in_kit || c.waived.is_some() || c.line != LineState::ToBuy)
}

/// Where a companion stands, in words.
pub fn companion_state(c: &Companion) -> &'static str {
    if c.waived.is_some() {
        "left out"
    } else if c.in_kit {
        "in the box"
    } else if c.line != LineState::ToBuy {
        c.line.word()
    } else if c.accepted {
        "accepted"
    } else {
        "to decide"
    }
}

/// A companion with its number.
pub fn with_qty(name: &str, qty: u32) -> String {
    if qty > 1 { format!("{qty} × {name}") } else { name.to_owned() }
}

/// A line that is still to be bought, or more of it.
pub fn is_to_come(l: &BuyLine) -> bool {
    l.waived.is_none() && (!l.state.is_bought() || l.short > 0)
}

/// The place of a position on screen: its name, or its id where it is unknown.
pub fn place<'a>(a: &'a Assessment, id: &'a str) -> &'a str {
    a.positions.iter().find(|p| p.id == id).map_or(id, |p| p.name.as_str())
}

/// The first letter large.
pub fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + chars.as_str())
}

#[cfg(test)]
mod tests {
    use super::{amount, count, hours, misfits, under};
    use rust_decimal::Decimal;

    #[test]
    fn figures_are_grouped_and_signed() {
        assert_eq!(amount(Decimal::new(123_456_750, 2), "USD"), "$1,234,567.50");
        assert_eq!(amount(Decimal::new(-41_250, 2), "CHF"), "−412.50 CHF");
        assert_eq!(amount(Decimal::ZERO, "EUR"), "€0.00");
        assert_eq!(hours(6.0), "6 h");
        assert_eq!(hours(0.5), "0.5 h");
        assert_eq!(count(1, "companion", "companions"), "1 companion");
        assert_eq!((misfits(1), misfits(2)), ("1 does not fit".to_owned(), "2 do not fit".to_owned()));
    }

    #[test]
    fn a_heading_is_not_repeated_under_itself() {
        assert_eq!(under("tyre load", "Tyre load: 730 kg"), "730 kg");
        assert_eq!(under("tyre", "tyre load: 730 kg"), "tyre load: 730 kg");
        assert_eq!(under("", "because of it"), "because of it");
        assert_eq!(under("größe", "gr"), "gr");
        assert_eq!(under("a", "é: b"), "é: b");
    }
}
