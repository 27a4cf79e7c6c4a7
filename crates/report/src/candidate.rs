//! Vehicles that are for sale, held against each other by what each comes to up to a stage, as text and as JSON.

use std::fmt::Write;

use knockon_core::candidate::{Candidate, Comes, PutRight, Question};
use knockon_core::library::Stage;
use knockon_core::money::Money;
use knockon_core::sheet::Papers;
use knockon_core::showing::count;
use serde_json::{Value, json};

use crate::json::hours;

/// So many places of a list are told on a terminal.
const TOLD: usize = 8;

/// A candidate with the name it goes by.
pub struct Named<'a> {
    /// As its sheet is called.
    pub name: &'a str,
    /// What was worked out.
    pub is: &'a Candidate,
}

/// "4,100.00 to 9,380.00 USD", or one sum where both are the same.
#[must_use]
pub fn money(is: &Candidate) -> String {
    let (least, most) = (is.least.money.text(&is.currency), is.most.money.text(&is.currency));
    if least == most { least } else { format!("{} to {most}", plain(&least, &is.currency)) }
}

/// "61 h to 140 h", or one where both are the same.
#[must_use]
pub fn time(is: &Candidate) -> String {
    let (least, most) = (round(is.least.hours), round(is.most.hours));
    if least == most { format!("{least} h") } else { format!("{least} to {most} h") }
}

fn round(hours: f64) -> String {
    format!("{:.0}", hours.max(0.0))
}

/// An amount without its currency, where the other end of the range names it.
fn plain(text: &str, currency: &str) -> String {
    text.strip_suffix(currency).map_or(text, str::trim_end).to_owned()
}

/// What is asked or was paid, in words; money as `told` writes it.
#[must_use]
pub fn price(is: &Candidate, told: impl Fn(&Money) -> String) -> String {
    match (&is.sale.bought, &is.sale.asked) {
        (Some(bought), _) => format!("bought for {}", told(bought)),
        (None, Some(asked)) => format!("{} asked", told(asked)),
        (None, None) => "nobody says what is asked".to_owned(),
    }
}

/// What it comes to in all: "7,300.00 to 12,580.00 USD"; `None` where nobody says what is asked.
#[must_use]
pub fn in_all(is: &Candidate) -> Option<String> {
    let (least, most) = is.in_all()?;
    let least = Money::new(least, &is.currency).to_string();
    let most = Money::new(most, &is.currency).to_string();
    Some(if least == most { least } else { format!("{} to {most}", plain(&least, &is.currency)) })
}

/// What the papers say, and what to do about it.
#[must_use]
pub fn papers(papers: Papers) -> &'static str {
    match papers {
        Papers::NotSeen => "not seen: see them before money changes hands",
        Papers::Agree => "seen, and they agree",
        Papers::Disagree => {
            "a number or a name does not agree: ask the registration office before money changes hands"
        }
        Papers::Lost => {
            "there are none: ask the registration office whether it can be registered before money changes hands"
        }
    }
}

/// "renew: structural rust, by grade: R3", "missing".
#[must_use]
pub fn right(right: &PutRight) -> String {
    if right.missing {
        return "missing".to_owned();
    }
    let why = if right.why.is_empty() { String::new() } else { format!(": {}", right.why) };
    format!("{}{why}", right.route.word())
}

/// "+1,240.00 USD, +11 h"; `money` is the difference as it is written there.
#[must_use]
pub fn adds(comes: &Comes, money: &str) -> String {
    if comes.money.is_zero() && comes.hours.abs() < 0.5 && comes.unpriced == 0 {
        return "nothing more".to_owned();
    }
    let unpriced = match comes.unpriced {
        0 => String::new(),
        n => format!(", and {} without a price", count(n, "part", "parts")),
    };
    format!("{money}, {:+.0} h{unpriced}", comes.hours + 0.0)
}

/// "gaps of doors and bonnet (eyes and hands)".
#[must_use]
pub fn looks(question: &Question) -> String {
    let told: Vec<String> =
        question.looks.iter().map(|(name, quick)| format!("{name} ({})", quick.with.words())).collect();
    told.join("; ")
}

/// "17 of 52 looked at, 12 minutes left".
#[must_use]
pub fn looked(is: &Candidate) -> String {
    let (done, all) = is.looked;
    let minutes = (is.seconds / 60.0).ceil() as usize;
    let left = if done == all {
        "all of it".to_owned()
    } else {
        format!("{} left", count(minutes, "minute", "minutes"))
    };
    format!("{done} of {all} looked at, {left}")
}

/// The candidates for a terminal, in the order given.
#[must_use]
pub fn text(all: &[Named<'_>], upto: Stage) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "Up to the stage {}, by what was seen of each", upto.word());
    for named in all {
        let is = named.is;
        let _ = writeln!(out, "\n{}", named.name);
        let place = if is.sale.place.is_empty() { String::new() } else { format!(", {}", is.sale.place) };
        let on = is.sale.on.as_ref().map_or_else(String::new, |on| format!(", looked at {on}"));
        let _ = writeln!(out, "  {}{place}{on}", price(is, ToString::to_string));
        let _ = writeln!(out, "  Putting right: {}, {}", money(is), time(is));
        if is.least.unpriced > 0 {
            let _ = writeln!(
                out,
                "    and {} whose price nobody knows",
                count(is.least.unpriced, "part", "parts")
            );
        }
        if let Some(in_all) = in_all(is) {
            let _ = writeln!(out, "  In all: {in_all}");
        }
        let _ = writeln!(out, "  Papers: {}", papers(is.sale.papers));
        let _ = writeln!(out, "  Walk: {}", looked(is));
        list(&mut out, "May not be driven so", is.put_right.iter().filter(|r| r.stops).map(told_right));
        list(&mut out, "Missing", is.put_right.iter().filter(|r| r.missing).map(|r| r.place.clone()));
        let rest = is.put_right.iter().filter(|r| !r.stops && !r.missing);
        list(&mut out, "To put right besides", rest.map(told_right));
        let open = is.open.iter().map(|q| {
            format!("{}: {} if bad; {}", q.place, adds(&q.adds, &q.adds.money.signed(&is.currency)), looks(q))
        });
        list(&mut out, "Not looked at, the dearest first", open);
    }
    out.push_str(&cheapest(all));
    out
}

/// Which is cheapest by what is known, and which if all that nobody looked at is bad; nothing where only one has a sum.
fn cheapest(all: &[Named<'_>]) -> String {
    let sums: Vec<_> = all.iter().filter_map(|n| Some((n, n.is.in_all()?))).collect();
    let currency = sums.first().map(|(n, _)| &n.is.currency);
    // sums in two currencies are not held against each other
    if sums.len() < 2 || sums.iter().any(|(n, _)| Some(&n.is.currency) != currency) {
        return String::new();
    }
    let least = sums.iter().min_by_key(|(_, (least, _))| *least);
    let most = sums.iter().min_by_key(|(_, (_, most))| *most);
    let told = |n: &Named<'_>, sum| format!("{}, {}", n.name, Money::new(sum, &n.is.currency));
    let mut out = String::new();
    if let (Some((a, (least, _))), Some((b, (_, most)))) = (least, most) {
        let _ = writeln!(out, "\nCheapest by what is known: {}", told(a, *least));
        let _ = writeln!(out, "Cheapest if all that nobody looked at is bad: {}", told(b, *most));
    }
    out
}

fn told_right(one: &PutRight) -> String {
    format!("{}: {}", one.place, right(one))
}

fn list(out: &mut String, title: &str, lines: impl Iterator<Item = String>) {
    let lines: Vec<String> = lines.collect();
    if lines.is_empty() {
        return;
    }
    let _ = writeln!(out, "  {title} ({})", lines.len());
    for line in lines.iter().take(TOLD) {
        let _ = writeln!(out, "    {line}");
    }
    if lines.len() > TOLD {
        let _ = writeln!(out, "    and {} more; --json has all of them", lines.len() - TOLD);
    }
}

/// The candidates for another program.
#[must_use]
pub fn json(all: &[Named<'_>], upto: Stage) -> Value {
    let comes = |comes: &Comes| {
        let money: Vec<Money> = comes.money.each().collect();
        json!({"money": money, "hours": hours(comes.hours), "unpriced": comes.unpriced})
    };
    let one = |named: &Named<'_>| {
        let is = named.is;
        let right = |r: &PutRight| {
            json!({
                "position": r.position, "place": r.place, "route": r.route.word(), "why": r.why,
                "stops": r.stops, "missing": r.missing,
            })
        };
        let question = |q: &Question| {
            let looks: Vec<Value> = q
                .looks
                .iter()
                .map(|(name, quick)| json!({"name": name, "with": quick.with.words(), "seconds": quick.seconds}))
                .collect();
            json!({"position": q.position, "place": q.place, "looks": looks, "adds": comes(&q.adds)})
        };
        json!({
            "name": named.name, "asked": is.sale.asked, "bought": is.sale.bought, "where": is.sale.place,
            "on": is.sale.on, "papers": is.sale.papers, "least": comes(&is.least), "most": comes(&is.most),
            "put_right": is.put_right.iter().map(right).collect::<Vec<_>>(),
            "open": is.open.iter().map(question).collect::<Vec<_>>(),
            "looked": is.looked.0, "looks": is.looked.1, "seconds_left": is.seconds,
        })
    };
    json!({"stage": upto, "candidates": all.iter().map(one).collect::<Vec<_>>()})
}
