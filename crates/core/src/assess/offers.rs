//! Before a choice is made its consequences are known: every route on offer against the plan as it stands.

use super::bench::{Bench, CheckKey};
use super::ground::{Chosen, Ground};
use super::spent::{Item, Spending, Spent};
use crate::assessment::Offer;
use crate::catalogue::{Catalogue, PartId, PositionId, UNPRICED};
use crate::library::Reversible;
use crate::progress::Progress;
use crate::sheet::{Choice, Route, Sheet};

/// What a plan comes to, as far as offers compare it.
#[derive(Default)]
pub(super) struct Sum {
    pub spent: Spent,
    unpriced: bool,
    pub hours: f64,
    /// Key, part, and whether nobody can say yet which part of its class it is; sorted.
    comps: Vec<(u128, PartId, bool)>,
    /// Sorted.
    clashes: Vec<CheckKey>,
    unknowns: i64,
    surplus: i64,
}

impl Sum {
    fn is_like(&self, other: &Self) -> bool {
        self.spent.sums.all() == other.spent.sums.all()
            && self.comps == other.comps
            && self.clashes == other.clashes
            && self.unknowns == other.unknowns
            && self.surplus == other.surplus
    }
}

/// `before` is what the plan came to as it stands, for what a change of it comes to.
pub(super) fn sum(bench: &Bench<'_>, before: Option<&Sum>) -> Sum {
    let mut s = Sum::default();
    let mut spending = Spending::new(bench.ground);
    for pos in bench.v.positions.ids() {
        if bench.is_chosen(pos) {
            let (price, hours) = bench.own_paid(pos);
            s.hours += hours;
            bench.own_item(pos).into_iter().for_each(|(item, qty)| spending.want(item, qty));
            s.unpriced |= price.is_none() && bench.owner[pos].is_some_and(|o| o.0 == Route::Convert);
        }
        s.surplus +=
            i64::from(bench.slot(pos).changed && bench.as_found(pos).is_some() || bench.is_idle(pos));
    }
    s.comps.reserve(bench.found.comps.len() + bench.fills.len());
    bench.each_comp(|order, comp| {
        s.comps.push((order, comp.part, bench.is_any_of_its_class(comp)));
        if bench.is_waived(comp.key) {
            return;
        }
        let part = bench.part(comp.part);
        s.hours += part.part.hours.unwrap_or(0.0) * f64::from(comp.qty);
        if bench.is_to_buy(comp) {
            s.unpriced |= part.cost == UNPRICED;
            spending.want(Item::part(comp.part), comp.qty - comp.boxed);
        }
    });
    s.spent = spending.sum(before.map(|s| s.spent.bought.as_slice()));
    s.unknowns = bench.found.unknowns.len() as i64;
    s.clashes = bench.found.clashes.iter().map(|c| c.key).collect();
    s.clashes.sort_unstable();
    s.clashes.dedup();
    s
}

/// What stands in one sorted list and not in another.
fn beyond<T: Ord + Copy>(list: &[T], other: &[T]) -> Vec<T> {
    let mut others = other.iter().peekable();
    let mut out = Vec::new();
    for item in list {
        while others.next_if(|o| *o < item).is_some() {}
        if others.peek() != Some(&item) {
            out.push(*item);
        }
    }
    out
}

/// The parts of companions that stand in the first plan and not in the second. One that is asked for by something else
/// now is the same part to obtain, and told on neither side.
fn parts_beyond(a: &Sum, b: &Sum) -> Vec<(PartId, bool)> {
    let mut others = beyond(&b.comps, &a.comps);
    let mut mine = beyond(&a.comps, &b.comps);
    mine.retain(|(_, part, _)| match others.iter().position(|(_, other, _)| other == part) {
        Some(same) => {
            others.swap_remove(same);
            false
        }
        None => true,
    });
    mine.into_iter().map(|(_, part, is_any)| (part, is_any)).collect()
}

/// Routes on offer at a position, each with its consequences against the plan as it stands. Empty where plan,
/// vehicle or position are not known.
#[must_use]
pub fn offers(sheet: &Sheet, plan: &str, catalogue: &Catalogue, position: &str) -> Vec<Offer> {
    offers_while(sheet, plan, catalogue, position, &Progress::default()).unwrap_or_default()
}

/// The same, a step an offer; `None` where it was given up.
#[must_use]
pub fn offers_while(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    position: &str,
    progress: &Progress,
) -> Option<Vec<Offer>> {
    let catalogue = catalogue.for_sheet(sheet);
    let Some(entry) = sheet.plans.get(plan) else { return Some(Vec::new()) };
    let Ok(ground) = Ground::new(sheet, entry, &catalogue) else { return Some(Vec::new()) };
    let Some(pos) = ground.v.position_ix.get(position).copied() else { return Some(Vec::new()) };
    let now = ground.plan.routes.get(position);
    let mut bench = Bench::new(&ground, false);
    bench.decide();
    let before = sum(&bench, None);
    let mut out = Vec::new();
    let all = on_offer(&ground, pos);
    progress.expect(all.len());
    for offered in all {
        if !progress.step() {
            return None;
        }
        let kept = bench.choose(pos, offered.chosen);
        bench.decide();
        let after = sum(&bench, Some(&before));
        out.push(offer(&bench, pos, offered, now, &before, &after));
        bench.choose(pos, kept);
    }
    Some(out)
}

/// A route that can be chosen.
pub(super) struct Offered {
    pub choice: Choice,
    pub chosen: Chosen,
    pub name: String,
}

pub(super) fn offer(
    bench: &Bench<'_>,
    pos: PositionId,
    offered: Offered,
    now: Option<&Choice>,
    before: &Sum,
    after: &Sum,
) -> Offer {
    let name = |(part, is_any)| if is_any { bench.class_measured_first(part) } else { bench.name(part) };
    let parts = |a: &Sum, b: &Sum| parts_beyond(a, b).into_iter().map(name).collect();
    let checks = |a: &Sum, b: &Sum| {
        beyond(&a.clashes, &b.clashes).into_iter().map(|key| bench.check_name(key)).collect()
    };
    let fitted = match offered.chosen {
        Some((Route::Convert, Some(part))) => Some(&bench.part(part).part),
        _ => None,
    };
    let breaks = broken_aims(bench, pos, &offered, before, after);
    Offer {
        breaks,
        position: bench.v.positions[pos].id.clone(),
        route: offered.choice.route,
        // who has not chosen keeps what is there, unless the plan puts something else there
        current: match now {
            Some(choice) => *choice == offered.choice,
            None => offered.choice.route == Route::Keep && after.is_like(before),
        },
        part: offered.choice.part,
        name: offered.name,
        money: &after.spent.sums.all() - &before.spent.sums.all(),
        unpriced: after.unpriced && !before.unpriced,
        // hours are written to a tenth: what is left beyond is the order of the sums, and a zero has no sign
        hours: ((after.hours - before.hours) * 1e6).round() / 1e6 + 0.0,
        companions_added: parts(after, before),
        companions_removed: parts(before, after),
        clashes_added: checks(after, before),
        clashes_removed: checks(before, after),
        to_measure: after.unknowns - before.unknowns,
        surplus: after.surplus - before.surplus,
        reversible: fitted.map_or(Reversible::Yes, |part| part.reversible),
        undone: fitted.map_or_else(String::new, |part| part.undone.clone()),
    }
}

/// What the owner holds the plan to and a route breaks, by name. What stands in the plan already breaks nothing anew.
fn broken_aims(
    bench: &Bench<'_>,
    pos: PositionId,
    offered: &Offered,
    before: &Sum,
    after: &Sum,
) -> Vec<String> {
    let Some(direction) = bench.sheet.direction().filter(|direction| !direction.aims.is_empty()) else {
        return Vec::new();
    };
    let route = offered.choice.route;
    let class = bench.cat.class_names.id(bench.v.positions[pos].class);
    let fitted = offered.chosen.and_then(|(route, part)| part.filter(|_| route == Route::Convert));
    let goes_in = parts_beyond(after, before).into_iter().map(|(part, _)| part).chain(fitted);
    let leaves_a_trace = goes_in.into_iter().any(|part| bench.part(part).part.reversible != Reversible::Yes);
    let limits: Vec<String> = beyond(&after.clashes, &before.clashes)
        .into_iter()
        .filter_map(|key| match bench.check_key(key) {
            crate::key::CheckKey::Limit { limit, .. } => Some(limit),
            _ => None,
        })
        .collect();
    let aims = direction.aims.iter().filter_map(|id| bench.cat.aims.get(id));
    let broken = aims.filter(|aim| {
        aim.reversible && leaves_a_trace
            || aim.routes.contains(&route) && aim.whom.iter().any(|whom| whom == class)
            || aim.limits.iter().any(|limit| limits.contains(limit))
    });
    broken.map(|aim| aim.name.clone()).collect()
}

/// The routes a position has: what can be done with what is there, and every part of its class that is for sale.
fn on_offer(ground: &Ground<'_>, pos: PositionId) -> Vec<Offered> {
    let part = |p: PartId| &ground.cat.parts[p].part;
    let plain = |route: Route, name: String| Offered {
        choice: Choice { route, part: None },
        chosen: Some((route, None)),
        name,
    };
    let found = ground.as_found[pos];
    let kept = found.map_or_else(|| "leave empty".to_owned(), |p| part(p).name.clone());
    let mut out = vec![plain(Route::Keep, kept)];
    if let Some(p) = found {
        let work = [
            (Route::Clean, part(p).clean.is_some()),
            (Route::Rebuild, part(p).rebuild.is_some()),
            (Route::Renew, part(p).price.is_some()),
        ];
        let on = work.into_iter().filter(|(_, offered)| *offered);
        out.extend(on.map(|(route, _)| plain(route, part(p).name.clone())));
    }
    let class = ground.v.positions[pos].class;
    for p in ground.cat.by_class.get(class).into_iter().flatten().copied() {
        if Some(p) != found && part(p).price.is_some() {
            let id = ground.cat.part_names.id(p).to_owned();
            out.push(Offered {
                choice: Choice { route: Route::Convert, part: Some(id) },
                chosen: Some((Route::Convert, Some(p))),
                name: part(p).name.clone(),
            });
        }
    }
    if let Some(p) = found {
        out.push(plain(Route::LeaveOff, part(p).name.clone()));
    }
    out
}

#[cfg(test)]
mod tests;
