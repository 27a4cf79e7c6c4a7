//! The assessment as JSON for other programs.

use knockon_core::assessment::{Later, Offer, PoolShare, PoolSum};
use knockon_core::change::Change;
use knockon_core::explain::phrases;
use knockon_core::library::Level;
use knockon_core::measuring::{self, Asks, Line};
use knockon_core::phrase::{Number, Phrase, Piece};
use knockon_core::reason::ReasonId;
use knockon_core::showing::Measure;
use knockon_core::spent::{Idle, Sums};
use knockon_core::value::Kind;
use knockon_core::{Amounts, Assessment, Money};
use serde_json::{Value, json};

use crate::sources::rests_on;

fn level(level: Level) -> &'static str {
    match level {
        Level::Required => "required",
        Level::Advised => "advised",
    }
}

fn with_price(mut entry: Value, price: Option<&Money>) -> Value {
    if let (Some(price), Some(map)) = (price, entry.as_object_mut()) {
        map.insert("price".to_owned(), Value::String(price.to_string()));
    }
    entry
}

/// An amount with two decimals, as money is written.
pub(crate) fn money(amount: impl std::fmt::Display) -> String {
    format!("{amount:.2}")
}

/// Hours to the hundredth: a sum of tenths is no tenth in binary.
pub(crate) fn hours(hours: f64) -> f64 {
    let rounded = (hours * 100.0).round() / 100.0;
    // no hours gained are none lost
    if rounded == 0.0 { 0.0 } else { rounded }
}

/// The sums of other currencies, by currency.
fn others(sums: &Sums, currency: &str) -> Value {
    let all = sums.all();
    let others = all.each().map(|m| m.currency).filter(|c| c != currency);
    let told = |c: String| {
        let of = |sum: &Amounts| money(sum.of(&c));
        let all = json!({
            "spent": of(&sums.spent), "committed": of(&sums.committed), "to_come": of(&sums.to_come),
            "idle": of(&sums.idle), "idle_on_order": of(&sums.idle_on_order),
        });
        (c, all)
    };
    Value::Object(others.map(told).collect())
}

/// Amounts of other currencies beside one in the currency of the sums, under a name of their own where there are any.
pub(crate) fn with_others(mut entry: Value, name: &str, sum: &Amounts, currency: &str) -> Value {
    let others: serde_json::Map<String, Value> =
        sum.each().filter(|m| m.currency != currency).map(|m| (m.currency, money(m.amount).into())).collect();
    if let Some(map) = entry.as_object_mut().filter(|_| !others.is_empty()) {
        map.insert(name.to_owned(), Value::Object(others));
    }
    entry
}

/// The assessment: `companions`, `clashes`, `box`, `close` (what holds with little left), `unmet` (advice that nothing meets), `surplus`, `to_measure`, `measured`,
/// `cautions`, `totals`, `later`, `idle` (bought, and not wanted), `pools` at the top level. `wanted` of what is to be measured holds the keys under which
/// the sheet records it; `one_with` of a clash the keys of those that the same changes
/// clear; `instead` the key under which the same value can be recorded, measured at the other end. `values_to_measure` is the same by value: each once, with the checks that want it. `because` is told in a reader's units; `values` has the quantities of each of its sentences, in SI;
/// `rests_on` the numbers it rests on, by their keys in [`crate::sources::json`].
#[must_use]
pub fn assessment(a: &Assessment, measure: Measure) -> Value {
    let because = |root: ReasonId| because(a, root, measure);
    let values = |root: ReasonId| values_of(a, root, measure);
    let own = |sum: &Amounts| money(sum.of(&a.totals.currency));
    json!({
        "plan": a.plan,
        "companions": a.companions.iter().map(|c| with_price(json!({
            "key": c.key, "part": c.part, "name": c.name, "qty": c.qty, "level": level(c.level), "origin": c.origin.word(),
            "position": c.position, "cause": c.cause, "in_kit": c.in_kit, "measured_first": c.measured_first, "state": c.line.word(), "left_out": c.waived, "danger": c.danger, "safety": c.safety,
            "because": because(c.reason), "values": values(c.reason), "rests_on": rests_on(a, c.reason),
        }), c.price.as_ref())).collect::<Vec<_>>(),
        "clashes": a.clashes.iter().map(|c| json!({
            "key": c.key, "position": c.positions.first(), "positions": c.positions, "name": c.name, "level": "required",
            "because": because(c.reason), "values": values(c.reason), "rests_on": rests_on(a, c.reason), "one_with": c.one_with,
            "would_clear": c.remedies.iter().map(|r| with_price(json!({"text": r.text.say(measure), "values": told(&r.text, measure), "choice": r.choice}), r.price.as_ref())).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "unmet": a.unmet.iter().map(|u| json!({
            "key": u.key, "position": u.positions.first(), "positions": u.positions, "name": u.name, "level": "advised",
            "because": because(u.reason), "values": values(u.reason), "rests_on": rests_on(a, u.reason),
        })).collect::<Vec<_>>(),
        "close": a.close.iter().map(|c| json!({
            "key": c.key, "position": c.positions.first(), "positions": c.positions, "name": c.name, "left": c.left.say(measure), "values": told(&c.left, measure),
            "because": because(c.reason), "rests_on": rests_on(a, c.reason),
        })).collect::<Vec<_>>(),
        "box": a.boxes.iter().map(|l| json!({
            "key": l.key.to_string(), "kit": l.key.kit, "at": l.kit_at, "part": l.key.part, "name": l.name, "qty": l.qty,
            "state": l.state.word(), "spare": l.spare,
            "goes": l.goes.iter().map(|to| json!({
                "qty": to.qty, "position": to.position, "companion": to.companion, "name": to.name,
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "surplus": a.surplus.iter().map(|s| json!({
            "position": s.position, "part": s.part, "name": s.name, "level": if s.lost_job { "advised" } else { "required" },
            "lost_job": s.lost_job, "leaves": s.leaves, "because": because(s.reason), "values": values(s.reason), "rests_on": rests_on(a, s.reason),
        })).collect::<Vec<_>>(),
        "to_measure": a.to_measure.iter().map(|t| json!({
            "key": t.key, "position": t.positions.first(), "what": t.what.say(measure), "level": "required", "because": because(t.reason), "values": values(t.reason), "rests_on": rests_on(a, t.reason),
            "wanted": t.wanted.iter().map(|w| json!({
                "key": w.key, "name": w.name, "part": w.part, "how": w.how.say(measure), "now": w.now.as_ref().map_or_else(String::new, |v| v.text()), "kind": w.kind.word(), "words": w.words,
                "instead": w.instead.as_ref().map(|other| &other.key),
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "values_to_measure": measuring::lines(a).iter().map(|line| value_to_measure(line, a, measure)).collect::<Vec<_>>(),
        "measured": a.measured.iter().map(|m| json!({
            "key": m.key, "name": m.name, "part": m.part, "value": m.value, "positions": m.positions,
        })).collect::<Vec<_>>(),
        "cautions": a.cautions.iter().map(|c| json!({
            "id": c.id, "position": c.positions.first(), "positions": c.positions, "level": "required",
            "danger": c.danger, "guard": c.guard.say(measure), "because": [c.danger],
        })).collect::<Vec<_>>(),
        "totals": {
            "currency": a.totals.currency, "spent": own(&a.totals.money.spent), "committed": own(&a.totals.money.committed),
            "to_come": own(&a.totals.money.to_come), "idle": own(&a.totals.money.idle),
            "idle_on_order": own(&a.totals.money.idle_on_order), "other_currencies": others(&a.totals.money, &a.totals.currency),
            "came_back": a.totals.money.came_back.each().map(|m| m.to_string()).collect::<Vec<_>>(),
            "no_price_paid": a.totals.money.no_price_paid, "unpriced": a.totals.unpriced, "hours": hours(a.totals.hours),
            "companions": a.totals.companions, "companions_open": a.totals.companions_open, "clashes": a.totals.clashes,
            "to_measure": a.totals.to_measure, "fitted": a.totals.fitted, "lines": a.totals.lines,
            "old_prices": a.totals.old_prices, "old_prices_from": a.totals.old_prices_from,
        },
        "later": a.later.iter().map(|l| later(a, l, measure)).collect::<Vec<_>>(),
        "idle": idle(&a.idle),
        "pools": a.pools.iter().map(|p| pool(p, measure)).collect::<Vec<_>>(),
        "problems": a.problems,
    })
}

/// Something to be measured once: `key` is none where its check only tells it in words.
fn value_to_measure(line: &Line<'_>, a: &Assessment, measure: Measure) -> Value {
    let checks: Vec<_> = line.checks.iter().map(|check| &check.key).collect();
    let (decides, positions) = (line.decides(a, measure), line.positions());
    match line.asks {
        Asks::Value(w) => json!({
            "key": w.key, "name": w.name, "part": w.part, "how": w.how.say(measure),
            "now": w.now.as_ref().map_or_else(String::new, |v| v.text()), "kind": w.kind.word(), "words": w.words,
            "instead": w.instead.as_ref().map(|other| &other.key), "checks": checks, "decides": decides,
            "positions": positions,
        }),
        Asks::Words(what) => json!({
            "key": null, "name": what.say(measure), "checks": checks, "decides": decides, "positions": positions,
        }),
    }
}

/// What is to be done later: `after` as the library writes it, or `due`, the last day on which it is surely no older than
/// its kind lasts.
fn later(a: &Assessment, l: &Later, measure: Measure) -> Value {
    json!({
        "what": l.what, "after": l.after.iter().map(|q| &q.text).collect::<Vec<_>>(),
        "due": l.due.map(|day| day.to_string()), "overdue": l.overdue, "level": level(l.level),
        "positions": l.positions, "companions": l.companions, "because": because(a, l.reason, measure), "values": values_of(a, l.reason, measure),
        "rests_on": rests_on(a, l.reason),
    })
}

/// The sentences of a derivation, from the finding down.
fn because(a: &Assessment, root: ReasonId, measure: Measure) -> Vec<String> {
    phrases(a, root).iter().map(|(_, phrase)| phrase.say(measure)).collect()
}

/// The quantities of each sentence of a derivation, in their order.
fn values_of(a: &Assessment, root: ReasonId, measure: Measure) -> Vec<Value> {
    phrases(a, root).iter().map(|(_, phrase)| told(phrase, measure)).collect()
}

/// The quantities of a phrase: as they are told, what they measure, and from where to where they are, in SI.
fn told(phrase: &Phrase, measure: Measure) -> Value {
    let one = |t: knockon_core::phrase::Told| json!({"shown": t.shown, "kind": t.dimension.word(), "from": t.si.0, "to": t.si.1});
    phrase.told(measure).into_iter().map(one).collect()
}

/// Numbers in SI; `shown` in a reader's unit.
fn pool(p: &PoolSum, measure: Measure) -> Value {
    let show = |x: f64, kind| Piece::from(Number::of(x, kind).difference()).say(measure);
    let share = |s: &PoolShare| {
        json!({
            "position": s.position, "part": s.part, "name": s.name, "qty": s.qty, "each": s.text, "amount": s.amount,
            "shown": s.amount.map(|x| show(x, p.kind)),
        })
    };
    let shares = |list: &[PoolShare]| list.iter().map(share).collect::<Vec<_>>();
    json!({
        "id": p.id, "name": p.name, "kind": p.kind.map(Kind::word), "only_a_sum": p.tally, "not_all_known": p.unknown,
        "given": p.given, "taken": p.taken, "margin": p.margin, "left": p.left,
        "shown": {
            "given": show(p.given, p.kind), "taken": show(p.taken, p.kind), "margin": show(p.margin, p.kind),
            "left": show(p.left, p.kind),
        },
        "givers": shares(&p.givers), "takers": shares(&p.takers),
    })
}

/// One route on offer, of a plan whose sums are in a currency.
#[must_use]
pub fn offer(o: &Offer, currency: &str) -> Value {
    let told = json!({
        "position": o.position, "route": o.route.word(), "part": o.part, "name": o.name, "current": o.current,
        "money": money(o.money.of(currency)), "currency": currency, "unpriced": o.unpriced, "hours": hours(o.hours),
        "companions_added": o.companions_added, "companions_removed": o.companions_removed,
        "clashes_added": o.clashes_added, "clashes_removed": o.clashes_removed,
        "to_measure": o.to_measure, "surplus": o.surplus, "undo": o.reversible.words(), "undone": o.undone, "breaks": o.breaks,
    });
    with_others(told, "other_money", &o.money, currency)
}

/// What is bought and not wanted by the plan.
#[must_use]
pub fn idle(lines: &[Idle]) -> Value {
    let one = |l: &Idle| {
        with_price(
            json!({
                "part": l.part, "name": l.name, "qty": l.qty, "state": l.state.word(), "came_back": money(l.came_back),
            }),
            l.price.as_ref(),
        )
    };
    lines.iter().map(one).collect()
}

/// What an offer would do to money that is spent already.
#[must_use]
pub fn change(c: &Change) -> Value {
    let own = |sum: &Amounts| money(sum.of(&c.currency));
    let told = json!({
        "currency": c.currency, "to_come": own(&c.to_come), "idle": idle(&c.idle),
        "idle_spent": own(&c.idle_spent), "idle_on_order": own(&c.idle_on_order),
        "idle_not_summed": c.not_summed, "hours_lost": hours(c.hours),
    });
    let all = [
        ("other_to_come", &c.to_come),
        ("other_idle_spent", &c.idle_spent),
        ("other_idle_on_order", &c.idle_on_order),
    ];
    all.into_iter().fold(told, |told, (name, sum)| with_others(told, name, sum, &c.currency))
}

#[cfg(test)]
mod tests {
    use knockon_core::units::Dimension;

    use super::*;

    #[test]
    fn hours_and_money_are_rounded_as_people_write_them() {
        let mut a = Assessment::default();
        a.totals.hours = 0.1 + 0.2;
        let json = assessment(&a, Measure::Inch);
        assert_eq!(json["totals"]["hours"].to_string(), "0.3");
        assert_eq!(json["totals"]["to_come"], "0.00");
        assert_eq!((hours(-0.001).to_string(), hours(-1.256).to_string()), ("0".into(), "-1.26".into()));
    }

    #[test]
    fn pools_stand_at_the_top_with_their_takers() {
        let taker = |name: &str, amount| PoolShare {
            position: Some("radio".to_owned()),
            part: "radio".to_owned(),
            name: name.to_owned(),
            qty: 1,
            amount,
            text: "3 A".to_owned(),
        };
        let load = PoolSum {
            id: "load".to_owned(),
            name: "load".to_owned(),
            kind: Some(Kind::Dimension(Dimension::Current)),
            given: 0.0,
            taken: 3.0,
            margin: 0.0,
            left: -3.0,
            unknown: true,
            tally: true,
            givers: Vec::new(),
            takers: vec![taker("Radio", Some(3.0)), taker("Heater", None)],
        };
        let json = assessment(&Assessment { pools: vec![load], ..Assessment::default() }, Measure::Inch);
        let pool = &json["pools"][0];
        assert_eq!(
            (&pool["kind"], &pool["taken"], &pool["left"]),
            (&json!("current"), &json!(3.0), &json!(-3.0))
        );
        assert_eq!((&pool["shown"]["taken"], &pool["not_all_known"]), (&json!("3 A"), &json!(true)));
        assert_eq!(pool["takers"][0]["shown"], json!("3 A"));
        assert_eq!(
            (&pool["takers"][1]["name"], &pool["takers"][1]["amount"]),
            (&json!("Heater"), &Value::Null)
        );
    }
}
