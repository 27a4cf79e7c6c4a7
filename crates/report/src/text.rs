//! The assessment as plain text for a terminal.

use std::collections::BTreeSet;
use std::fmt::Write;

use knockon_core::assessment::{BoxLine, BuyRow, Clash, Companion, Offer, Totals};
use knockon_core::change::Change;
use knockon_core::explain::{half_line, unmet_line};
use knockon_core::library::{Level, Reversible};
use knockon_core::measuring::{self, Asks};
use knockon_core::phrase::{Number, Piece};
use knockon_core::remedy::{Cure, clears, cure, left, ranked};
use knockon_core::showing::{self, Measure, count};
use knockon_core::spent::{Idle, no_price};
use knockon_core::{Amounts, Assessment};

/// What stands below all that is said of a plan.
pub const LAST: &str =
    "These notes plan parts and work. The vehicle maker's manual, local law and licensed practice decide.\n";

/// The whole assessment in a reader's units; with what was worked out of the remedies of its clashes, where that was.
#[must_use]
pub fn assessment(a: &Assessment, cures: &[Cure], measure: Measure) -> String {
    let mut out = String::new();
    let t = &a.totals;
    for problem in &a.problems {
        let _ = writeln!(out, "Not known: {problem}");
    }
    let _ = writeln!(out, "Money: {}", sums(t));
    if t.unpriced > 0 {
        let lines = count(t.unpriced, "line has no price and is", "lines have no price and are");
        let _ = writeln!(out, "       {lines} not in the sums");
    }
    for more in money_notes(t) {
        let _ = writeln!(out, "       {more}");
    }
    if let Some(old) = old_prices(t) {
        let _ = writeln!(out, "       {old}");
    }
    let _ = writeln!(out, "Own hours: {:.0}\n", t.hours);
    let _ = writeln!(out, "Does not fit ({})", a.clashes.len());
    for one in a.troubles() {
        trouble(&mut out, a, &one, cures, measure);
    }
    closely(&mut out, a, measure);
    to_measure(&mut out, a, measure);
    let _ =
        writeln!(out, "\nCompanions ({}, {} open; + needed, ~ better with)", t.companions, t.companions_open);
    for p in a.positions.iter().filter(|p| !p.companions.is_empty()) {
        let _ = writeln!(out, "  {}", p.name);
        for c in a.companions.iter().filter(|c| p.companions.contains(&c.key)) {
            companion(&mut out, a, c, measure);
        }
    }
    let loose: Vec<_> = a.companions.iter().filter(|c| c.cause.is_none()).collect();
    if !loose.is_empty() {
        let _ = writeln!(out, "  Of the vehicle as it stands");
        for c in loose {
            companion(&mut out, a, c, measure);
        }
    }
    boxes(&mut out, a);
    rooms(&mut out, a, measure);
    if !a.unmet.is_empty() {
        let _ = writeln!(out, "\nBetter with, and not to be had ({})", a.unmet.len());
    }
    for u in &a.unmet {
        let _ = writeln!(out, "  ~ {}", unmet_line(a, u, measure));
    }
    later(&mut out, a, measure);
    let _ = writeln!(out, "\nNo longer needed ({})", a.surplus.len());
    for s in &a.surplus {
        let why = if s.lost_job { " (has lost its job)" } else { "" };
        let _ = writeln!(out, "  - {}{why}", s.name);
        if !s.leaves.is_empty() {
            let _ = writeln!(out, "      {}", s.leaves);
        }
    }
    let _ = writeln!(out, "\nCautions ({})", a.cautions.len());
    for c in &a.cautions {
        let _ = writeln!(out, "  ! {}. {}.", c.danger, c.guard.say(measure));
    }
    out
}

/// What holds with little left.
fn closely(out: &mut String, a: &Assessment, measure: Measure) {
    if !a.close.is_empty() {
        let _ = writeln!(out, "\nHolds closely ({})", a.close.len());
    }
    for c in &a.close {
        let left = if c.left.is_empty() { String::new() } else { format!(": {}", c.left.say(measure)) };
        let _ = writeln!(out, "  = {}{left}\n      {}", c.name, half_line(a, c.reason, measure));
    }
}

/// What is to be measured, each value once with all that it decides and the key under which the sheet file has it.
fn to_measure(out: &mut String, a: &Assessment, measure: Measure) {
    let lines = measuring::lines(a);
    let checks = count(a.to_measure.len(), "check", "checks");
    let _ = match lines.len() {
        0 => writeln!(out, "\nTo measure (0)"),
        n => writeln!(out, "\nTo measure ({n}, for {checks})"),
    };
    for line in &lines {
        match line.asks {
            Asks::Value(wanted) => {
                let how = wanted.how.say(measure);
                let how = if how.is_empty() { how } else { format!(" ({how})") };
                let _ = writeln!(out, "  ? {}{how}", wanted.name);
                if !wanted.part.is_empty() {
                    let _ = writeln!(out, "      on: {}", wanted.part);
                }
                if let Some(other) = &wanted.instead {
                    let _ = writeln!(out, "      or: {}, on: {}", other.name, other.part);
                }
                if let Some(now) = &wanted.now {
                    let _ = writeln!(out, "      known so far: {}", showing::reading(&now.text(), measure));
                }
            }
            Asks::Words(what) => {
                let _ = writeln!(out, "  ? {}", what.say(measure));
            }
        }
        for decides in line.decides(a, measure) {
            let _ = writeln!(out, "      {decides}");
        }
        if let Asks::Value(wanted) = line.asks {
            let other =
                wanted.instead.as_ref().map_or_else(String::new, |other| format!(", or {}", other.key));
            let _ = writeln!(out, "      key: {}{other}", wanted.key);
        }
    }
    if let Some(w) = a.to_measure.iter().find_map(|m| m.wanted.first()) {
        let _ = writeln!(out, "  What was measured goes into the sheet file by its key, with its unit:");
        let _ = writeln!(out, "      \"facts\": {{\"{}\": \"...\"}}", w.key);
    }
}

/// What is to be done later.
fn later(out: &mut String, a: &Assessment, measure: Measure) {
    let _ = writeln!(out, "\nLater ({})", a.later.len());
    for l in &a.later {
        let _ =
            writeln!(out, "  > {}: {}\n      {}", l.when(measure), l.what, half_line(a, l.reason, measure));
        let mut with: Vec<&str> = Vec::new();
        for c in a.companions.iter().filter(|c| l.companions.contains(&c.key)) {
            if !with.contains(&c.name.as_str()) {
                with.push(&c.name);
            }
        }
        if !with.is_empty() {
            let _ = writeln!(out, "      goes with: {}", with.join("; "));
        }
    }
}

/// Clashes that are one trouble: the reason of each, and what would clear them, once.
fn trouble(out: &mut String, a: &Assessment, one: &[&Clash], cures: &[Cure], measure: Measure) {
    let mut said = BTreeSet::new();
    for (n, clash) in one.iter().enumerate() {
        let with = if n > 0 { "and with it: " } else { "" };
        let _ = writeln!(out, "  x {with}{}\n      {}", clash.name, half_line(a, clash.reason, measure));
    }
    for clash in one {
        for r in ranked(a, clash, cures).into_iter().filter(|r| said.insert(r.text.say(measure))) {
            let price = r.price.as_ref().map_or_else(String::new, |p| format!(", {p}"));
            let brings = cure(cures, r).map_or_else(String::new, |(offer, _)| brings(a, clash, offer));
            let all = match one.len() {
                2 if r.choice.is_some() && !r.to_measure => "both",
                3.. if r.choice.is_some() && !r.to_measure => "all of these",
                _ => "it",
            };
            let _ = writeln!(out, "      would clear {all}: {}{price}{brings}", r.text.say(measure));
        }
    }
}

/// How many lines rest on old prices, and from when; `None` where none does.
#[must_use]
pub fn old_prices(t: &Totals) -> Option<String> {
    let from = t.old_prices_from.as_ref()?;
    let lines = count(t.old_prices, "line rests on a price", "lines rest on prices");
    Some(format!("{lines} of {from} or later that may hold no longer"))
}

/// What a remedy does to the plan as a whole: the money, and what does not fit with it.
fn brings(a: &Assessment, clash: &Clash, offer: &Offer) -> String {
    let mut out = format!(" ({} in all", offer.money.signed(&a.totals.currency));
    if !clears(clash, offer) {
        out.push_str("; but does not clear it by itself");
    }
    if !offer.clashes_added.is_empty() {
        let _ = write!(out, "; but then does not fit: {}", offer.clashes_added.join(", "));
    }
    let _ = match (left(a, offer), a.clashes.len()) {
        (left, now) if left > now => write!(out, "; then {left} do not fit, where {now} do not now)"),
        (left, now) => write!(out, "; leaves {left} of {now})"),
    };
    out
}

/// The sums, spent first. Two currencies are told side by side.
fn sums(t: &Totals) -> String {
    let money = |sum: &Amounts| sum.text(&t.currency);
    let m = &t.money;
    let mut out =
        format!("{} spent, {} on order, {} to come", money(&m.spent), money(&m.committed), money(&m.to_come));
    if !m.came_back.is_zero() {
        let _ = write!(out, " ({} that came back counted off)", money(&m.came_back));
    }
    out
}

/// What lies idle, and what of all that is here counts for nothing: a line for each, where there is any.
fn money_notes(t: &Totals) -> Vec<String> {
    let (m, mut out) = (&t.money, Vec::new());
    for (sum, of) in [(&m.idle, "spent"), (&m.idle_on_order, "on order")] {
        if !sum.is_zero() {
            out.push(format!("of it {} {of} for what this plan does not want", sum.text(&t.currency)));
        }
    }
    if m.no_price_paid > 0 {
        let (one, many) = (
            "line in hand or fitted has no price paid, and counts as nothing spent",
            "lines in hand or fitted have no price paid, and count as nothing spent",
        );
        out.push(count(m.no_price_paid, one, many));
    }
    out
}

/// What is left of what is shared and added up.
fn rooms(out: &mut String, a: &Assessment, measure: Measure) {
    let told = |x: f64, kind| Piece::from(Number::of(x, kind).difference()).say(measure);
    let of_use = a.pools.iter().filter(|p| !p.tally && (p.given, p.taken) != (0.0, 0.0));
    for (n, p) in of_use.enumerate() {
        if n == 0 {
            let _ = writeln!(out, "\nWhat is left");
        }
        let open = if p.unknown { ", not all of it known" } else { "" };
        let (left, given) = (told(p.given - p.taken, p.kind), told(p.given, p.kind));
        let margin = if p.margin > 0.0 {
            format!("; {} must stay free", told(p.margin, p.kind))
        } else {
            String::new()
        };
        let _ = writeln!(out, "  {}: {left} of {given}{margin}{open}", p.name);
    }
}

/// What lies in the boxes of the kits; nothing where there is none.
fn boxes(out: &mut String, a: &Assessment) {
    if a.boxes.is_empty() {
        return;
    }
    let _ = writeln!(out, "\nIn the boxes of kits ({})", a.boxes.len());
    let mut kit = None;
    for l in &a.boxes {
        if kit != Some((&l.key.kit, &l.kit_at)) {
            let _ = writeln!(out, "  {}", l.kit_name);
            kit = Some((&l.key.kit, &l.kit_at));
        }
        let _ = writeln!(out, "    {} x {} ({}), {}", l.qty, l.name, l.state.word(), goes(l));
    }
}

/// What a content is for, or that it is spare.
fn goes(l: &BoxLine) -> String {
    if l.goes.is_empty() { l.goes_text() } else { format!("for {}", l.goes_text()) }
}

fn companion(out: &mut String, a: &Assessment, c: &Companion, measure: Measure) {
    let (mark, stand) = (mark(c.level), stand(c));
    let _ = writeln!(
        out,
        "    {mark} {} x {} ({stand})\n        {}",
        c.qty,
        c.name,
        half_line(a, c.reason, measure)
    );
}

/// Routes on offer, one block each, with the plan as it stands before and after each of them.
#[must_use]
pub fn offers(offers: &[Offer], before: &Assessment, after: &[Assessment]) -> String {
    let mut out = String::new();
    let currency = &before.totals.currency;
    for (o, after) in offers.iter().zip(after) {
        let now = if o.current { " (as the plan stands)" } else { "" };
        let id = o.part.as_ref().map_or_else(String::new, |p| format!(" [{p}]"));
        let _ = writeln!(out, "{}: {}{id}{now}", o.route.word(), o.name);
        let _ = writeln!(
            out,
            "    {}, {:+.1} h, {:+} to measure, {:+} no longer needed",
            o.money.signed(currency),
            o.hours,
            o.to_measure,
            o.surplus
        );
        for (word, names, a) in
            [("brings", &o.companions_added, after), ("takes away", &o.companions_removed, before)]
        {
            if !names.is_empty() {
                let _ = writeln!(out, "    {word} (+ needed, ~ better with):");
            }
            for name in names {
                let _ = writeln!(out, "      {}", brought(name, a));
            }
        }
        for (word, list) in [("does not fit", &o.clashes_added), ("fits again", &o.clashes_removed)] {
            if !list.is_empty() {
                let _ = writeln!(out, "    {word}: {}", list.join("; "));
            }
        }
        if !o.breaks.is_empty() {
            let _ = writeln!(out, "    breaks what you hold the plan to: {}", o.breaks.join("; "));
        }
        if o.reversible != Reversible::Yes {
            let lost = if o.undone.is_empty() { String::new() } else { format!(": {}", o.undone) };
            let _ = writeln!(out, "    {}{lost}", o.reversible.words());
        }
    }
    out
}

/// A companion by its name, with its level and price in an assessment that has it.
fn brought(name: &str, a: &Assessment) -> String {
    // of several of one name, one that is needed
    let found = a.companions.iter().filter(|c| c.name == name).min_by_key(|c| c.level);
    found.map_or_else(
        || format!("  {name}"),
        |c| format!("{} {} x {name} ({})", mark(c.level), c.qty, stand(c)),
    )
}

fn mark(level: Level) -> &'static str {
    if level == Level::Required { "+" } else { "~" }
}

/// How it is with a companion: left out, in the box, or its price.
fn stand(c: &Companion) -> String {
    if let Some(reason) = &c.waived {
        let hurt = c.danger.as_ref().map_or_else(String::new, |danger| format!("; caution: {danger}"));
        format!("left out: {reason}{hurt}")
    } else if c.in_kit {
        "in the box".to_owned()
    } else if !c.to_be_had {
        "not for sale".to_owned()
    } else {
        c.price.as_ref().map_or_else(|| no_price(c.line).to_owned(), ToString::to_string)
    }
}

/// What each offer would do to money that is spent already; nothing where none would lie idle.
#[must_use]
pub fn changes(offers: &[Offer], changes: &[Change]) -> String {
    let mut out = String::new();
    for (o, c) in offers.iter().zip(changes).filter(|(_, c)| !c.idle.is_empty()) {
        let id = o.part.as_ref().map_or_else(String::new, |p| format!(" [{p}]"));
        let _ = writeln!(out, "\nMoney spent already, {}: {}{id}", o.route.word(), o.name);
        let _ = writeln!(out, "    change in what is still to be paid: {}", c.to_come.signed(&c.currency));
        let _ = writeln!(
            out,
            "    wanted by nothing afterwards: {} in hand or fitted, {} on order",
            c.idle_spent.text(&c.currency),
            c.idle_on_order.text(&c.currency)
        );
        for line in &c.idle {
            let _ = writeln!(out, "      {}", idle_line(line));
        }
        if c.not_summed > 0 {
            let _ = writeln!(out, "      {} of them not in the sums", c.not_summed);
        }
        if c.hours > 0.04 {
            let _ = writeln!(out, "    work done for nothing: {:.1} h", c.hours);
        }
    }
    out
}

fn idle_line(line: &Idle) -> String {
    let qty = line.qty.map_or_else(String::new, |n| format!("{n} x "));
    let each = if line.qty.is_none() { " each" } else { "" };
    let money = line.money().map_or_else(|| no_price(line.state).to_owned(), |m| format!("{m}{each}"));
    let back = if line.came_back.is_zero() { "" } else { ", what came back counted off" };
    format!("{qty}{} ({}, {money}{back})", line.name, line.state.word())
}

/// What is bought and stands nowhere in the plan; nothing where that is nothing.
#[must_use]
pub fn idle(lines: &[Idle]) -> String {
    let mut out = String::new();
    if !lines.is_empty() {
        let _ = writeln!(out, "\nBought, and not wanted by this plan ({})", lines.len());
    }
    for line in lines {
        let _ = writeln!(out, "  - {}", idle_line(line));
    }
    out
}

/// The buy list.
#[must_use]
pub fn buy(a: &Assessment) -> String {
    let mut out = String::new();
    for row in a.with_boxes(&a.buy.iter().collect::<Vec<_>>()) {
        let l = match row {
            BuyRow::Line(l) => l,
            BuyRow::Boxed(l, depth) => {
                let (space, state) = ("  ".repeat(depth), l.state.word());
                let _ = writeln!(out, "{:>14}  {space}{:>3} x {}", "in the box", l.qty, l.name);
                let _ = writeln!(out, "{:>22}{space}{state}, {}", "", goes(l));
                continue;
            }
        };
        let total = l.total.as_ref().map_or_else(|| no_price(l.state).to_owned(), ToString::to_string);
        let hurt = l.danger.as_ref().map_or_else(String::new, |danger| format!("; caution: {danger}"));
        let left_out = |reason: &String| format!("left out: {reason}{hurt}");
        let state = l.waived.as_ref().map_or_else(|| l.stands(), left_out);
        let _ = writeln!(out, "{total:>14}  {:>3} x {}", l.qty, l.name);
        let _ = writeln!(out, "{:>22}{state}, for {}", "", l.uses_text());
        if let Some(back) = l.came_back_text() {
            let _ = writeln!(out, "{:>22}{back}", "");
        }
    }
    let t = &a.totals;
    let unpriced = if t.unpriced > 0 { format!("; {} without a price", t.unpriced) } else { String::new() };
    let _ = writeln!(out, "\n{}; {}{unpriced}", count(t.lines, "line", "lines"), sums(t));
    for more in money_notes(t) {
        let _ = writeln!(out, "{more}");
    }
    if let Some(old) = old_prices(t) {
        let _ = writeln!(out, "{old}");
    }
    out
}
