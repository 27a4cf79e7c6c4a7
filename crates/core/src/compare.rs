//! Two plans of a sheet side by side: what the one costs more than the other, as a stair of named causes that ends at the
//! difference of their sums, nothing left over.
//!
//! The same part in both plans is matched first, whoever asks for it; only what remains is a cause. It counts for the place
//! whose choice brings it, in the plan that has it.

mod take_over;
mod traces;

pub use take_over::take_over;
pub use traces::{Trace, traces};

use std::collections::{BTreeMap, BTreeSet};

use crate::amounts::Amounts;
use crate::assessment::{Assessment, Companion, PositionView};
use crate::catalogue::Catalogue;
use crate::grammar;
use crate::ledger::{Entry, ledger};
use crate::library::Reversible;
use crate::line_id::{self, Of};
use crate::sheet::{Choice, Route, Sheet};

/// Steps from a companion to the choice that brings it; more are a circle.
const MOST_STEPS: usize = 64;

/// What a choice costs more in the second plan than in the first, with all that it brings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cause {
    /// Position whose choice it is; `None`: the plan as a whole.
    pub position: Option<String>,
    /// The place, as shown; empty for the plan as a whole.
    pub place: String,
    /// What sits there in the first plan, with its route; `None` where nothing does.
    pub from: Option<String>,
    /// What sits there in the second.
    pub to: Option<String>,
    /// Difference in money, by currency.
    pub money: Amounts,
    /// Difference in hours.
    pub hours: f64,
    /// Parts that only the second plan has, or more of, by name.
    pub added: Vec<String>,
    /// Parts that only the first plan has, or more of.
    pub saved: Vec<String>,
}

/// The difference of two plans: the second less the first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Comparison {
    /// The causes, the largest difference in money first.
    pub causes: Vec<Cause>,
    /// Choices that differ though they cost and take the same, in the order of the board.
    pub even: Vec<Cause>,
    /// Difference of all money: spent, on order and to come.
    pub money: Amounts,
    /// Difference of the hours.
    pub hours: f64,
    /// Clashes of the first, and of the second.
    pub clashes: (usize, usize),
    /// Checks to measure.
    pub to_measure: (usize, usize),
    /// Companions.
    pub companions: (usize, usize),
    /// What leaves a trace on the vehicle: undone with repair, or not at all.
    pub traces: (usize, usize),
    /// What cannot be undone, among those.
    pub for_good: (usize, usize),
}

/// What a plan has of one thing.
#[derive(Clone, Debug, Default)]
struct Item {
    name: String,
    money: Amounts,
    hours: f64,
    qty: u32,
    cause: Option<String>,
}

/// Compares two plans of one sheet by their assessments; the first is the plan one stands on.
#[must_use]
pub fn compare(sheet: &Sheet, catalogue: &Catalogue, from: &Assessment, to: &Assessment) -> Comparison {
    let differs = |id: &str| choice(sheet, from, id) != choice(sheet, to, id);
    let items = |a, other| items(a, other, &ledger(sheet, a, catalogue), &differs);
    let (first, second) = (items(from, to), items(to, from));
    let mut causes: BTreeMap<Option<String>, Cause> = BTreeMap::new();
    let keys: BTreeSet<&String> = first.keys().chain(second.keys()).collect();
    let nothing = Item::default();
    for key in keys {
        let (a, b) = (first.get(key).unwrap_or(&nothing), second.get(key).unwrap_or(&nothing));
        let (money, hours) = (&b.money - &a.money, b.hours - a.hours);
        if money.is_zero() && hours.abs() < 1e-9 && a.qty == b.qty {
            continue;
        }
        let (has, less) = if second.contains_key(key) { (b, a) } else { (a, b) };
        // of two places that have the part, the one where the plans differ
        let at = [&has.cause, &less.cause].into_iter().find(|at| at.as_deref().is_some_and(&differs));
        let cause = causes.entry(at.unwrap_or(&has.cause).clone()).or_default();
        cause.money = &cause.money + &money;
        cause.hours += hours;
        match b.qty.cmp(&a.qty) {
            std::cmp::Ordering::Greater => cause.added.push(b.name.clone()),
            std::cmp::Ordering::Less => cause.saved.push(a.name.clone()),
            std::cmp::Ordering::Equal => {}
        }
    }
    let mut all: Vec<Cause> =
        causes.into_iter().map(|(position, cause)| named(cause, position, from, to)).collect();
    let size = |cause: &Cause| {
        let money = cause.money.of(&to.totals.currency);
        (std::cmp::Reverse(money.abs()), cause.place.clone())
    };
    all.sort_by_cached_key(size);
    let own = catalogue.for_sheet(sheet);
    let left = (traces(from, &own), traces(to, &own));
    let for_good = |all: &[Trace]| all.iter().filter(|trace| trace.reversible == Reversible::No).count();
    Comparison {
        traces: (left.0.len(), left.1.len()),
        for_good: (for_good(&left.0), for_good(&left.1)),
        even: even(sheet, &all, from, to),
        causes: all,
        money: &to.totals.money.all() - &from.totals.money.all(),
        hours: to.totals.hours - from.totals.hours,
        clashes: (from.totals.clashes, to.totals.clashes),
        to_measure: (from.totals.to_measure, to.totals.to_measure),
        companions: (from.totals.companions, to.totals.companions),
    }
}

/// What a plan chooses at a place; nothing chosen is keep.
fn choice(sheet: &Sheet, a: &Assessment, position: &str) -> Choice {
    let plan = sheet.plans.get(&a.plan);
    plan.and_then(|plan| plan.routes.get(position).cloned()).unwrap_or_default()
}

/// Places where the two plans choose differently and which are no cause.
fn even(sheet: &Sheet, causes: &[Cause], from: &Assessment, to: &Assessment) -> Vec<Cause> {
    let differs = |p: &&PositionView| choice(sheet, from, &p.id) != choice(sheet, to, &p.id);
    let is_told = |p: &PositionView| causes.iter().any(|cause| cause.position.as_ref() == Some(&p.id));
    let places = to.positions.iter().filter(differs).filter(|p| !is_told(p));
    places.map(|p| named(Cause::default(), Some(p.id.clone()), from, to)).collect()
}

/// The cause with the names of its place in both plans.
fn named(cause: Cause, position: Option<String>, from: &Assessment, to: &Assessment) -> Cause {
    let at = |a: &Assessment| -> Option<PositionView> {
        a.positions.iter().find(|p| Some(&p.id) == position.as_ref()).cloned()
    };
    let (before, after) = (at(from), at(to));
    let place = after.as_ref().or(before.as_ref()).map(|p| p.name.clone()).unwrap_or_default();
    let before = before.as_ref().and_then(|p| sits(from, p));
    let after = after.as_ref().and_then(|p| sits(to, p));
    Cause { position, place, from: before, to: after, ..cause }
}

/// What sits at a place, with its route; what nobody chose there says whence it comes.
fn sits(a: &Assessment, p: &PositionView) -> Option<String> {
    let (_, name) = p.fitted.as_ref()?;
    if !p.filled {
        return Some(format!("{} {name}", p.route.word()));
    }
    let kit = p.kit.as_ref().and_then(|id| a.positions.iter().find(|p| p.id == *id));
    let kit = kit.and_then(|p| p.fitted.as_ref());
    Some(kit.map_or_else(
        || format!("{name}, which comes along"),
        |(_, kit)| format!("{name}, from the box of the {}", grammar::low(kit)),
    ))
}

/// Work on what stays at a place, as a name: "rebuild of the gearbox".
fn work(p: &PositionView) -> String {
    let noun = match p.route {
        Route::Clean => "cleaning",
        Route::Rebuild => "rebuild",
        Route::LeaveOff => "removal",
        Route::Keep | Route::Renew | Route::Convert => "work",
    };
    let of = if noun == "work" { "on" } else { "of" };
    format!("{noun} {of} the {}", grammar::lower(&p.name))
}

/// What a plan pays for and works on, by part; work on what stays goes by its place. `differs`: whether the plans choose
/// otherwise at a place.
fn items(
    a: &Assessment,
    other: &Assessment,
    ledger: &[Entry],
    differs: &dyn Fn(&str) -> bool,
) -> BTreeMap<String, Item> {
    let mut all: BTreeMap<String, Item> = BTreeMap::new();
    for line in a.buy.iter().filter(|l| l.waived.is_none()) {
        let item = all.entry(format!("part:{}", line.part)).or_default();
        item.qty += line.qty;
        item.cause = cause_of(a, other, &line.part, differs);
    }
    for entry in ledger {
        let item = all.entry(format!("part:{}", entry.part)).or_default();
        item.name.clone_from(&entry.name);
        item.money += &entry.all();
    }
    for p in a.positions.iter().filter(|p| p.hours.abs() > 0.0) {
        // what the work uses up is a line of its own, and carries its hours
        let of = match p.route {
            Route::Clean => Of::Clean,
            Route::Rebuild => Of::Rebuild,
            Route::Keep | Route::Renew | Route::Convert | Route::LeaveOff => Of::Part,
        };
        let line = p.fitted.as_ref().map(|(part, _)| format!("part:{}", of.id(part)));
        let key = line.filter(|key| all.contains_key(key)).unwrap_or_else(|| format!("place:{}", p.id));
        let item = all.entry(key).or_default();
        item.hours += p.hours;
        if item.name.is_empty() {
            item.name = work(p);
            item.qty = 1;
            item.cause = Some(chosen(a, p));
        }
    }
    for c in a.companions.iter().filter(|c| c.waived.is_none()) {
        let item = all.entry(format!("part:{}", c.part)).or_default();
        item.hours += c.hours;
        if item.name.is_empty() {
            item.name.clone_from(&c.name);
            item.qty = c.qty;
            item.cause = brought_by(a, c);
        }
    }
    all
}

/// The position whose choice brings a part. Where several do, one at which the plans differ, or that only this plan has.
fn cause_of(
    a: &Assessment,
    other: &Assessment,
    part: &str,
    differs: &dyn Fn(&str) -> bool,
) -> Option<String> {
    // work on a part is chosen where the part sits
    let (part, _) = line_id::read(part);
    let sits = |p: &&PositionView| p.fitted.as_ref().is_some_and(|(id, _)| id == part);
    let own = || a.positions.iter().filter(sits).filter(|p| !p.filled && p.active);
    let of_all = || a.companions.iter().filter(|c| c.part == part && c.waived.is_none());
    let only_here = |c: &&Companion| !other.companions.iter().any(|o| o.key == c.key && o.waived.is_none());
    if let Some(p) = own().find(|p| differs(&p.id)) {
        return Some(p.id.clone());
    }
    if let Some(c) = of_all().find(only_here) {
        return brought_by(a, c);
    }
    if let Some(p) = own().next() {
        return Some(p.id.clone());
    }
    let filled = a.positions.iter().find(sits).map(|p| chosen(a, p));
    of_all().next().and_then(|c| brought_by(a, c)).or(filled)
}

/// The position whose choice brings a companion, up the chain of those that bring each other.
fn brought_by(a: &Assessment, c: &Companion) -> Option<String> {
    let p = a.positions.iter().find(|p| Some(&p.id) == c.cause.as_ref())?;
    Some(chosen(a, p))
}

/// The position where the owner chose what fills this one; itself where he chose here.
fn chosen(a: &Assessment, p: &PositionView) -> String {
    let mut at = p;
    for _ in 0..MOST_STEPS {
        if !at.filled {
            break;
        }
        let brings = |c: &&Companion| c.position.as_ref() == Some(&at.id) && c.waived.is_none();
        let by = a.companions.iter().find(brings).and_then(|c| c.cause.as_ref()).or(at.kit.as_ref());
        let next = by.and_then(|id| a.positions.iter().find(|p| p.id == *id));
        match next {
            Some(next) if next.id != at.id => at = next,
            _ => break,
        }
    }
    at.id.clone()
}
