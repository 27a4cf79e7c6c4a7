//! The best set of changes that clears the clashes of a plan, by trying every one: what the search for cures is judged by.
//!
//! Changed is what the owner chooses: each place whose class is his, and each other for which he has chosen. There he may
//! keep what was found, unless the survey stopped it or says to renew what can hurt people; fit another part of the class that is for sale; or, where he wished
//! for a part, leave the place without. The best leaves the fewest clashes, then gives up the least worth of wishes, then
//! has the fewest changes, then leaves the fewest more to measure, then costs least.

use std::collections::BTreeMap;

use knockon_core::library::{Decided, LibraryFile};
use knockon_core::sheet::{Choice, Plan, Route, Sheet, Verdict};
use knockon_core::{Assessment, Catalogue, assess};
use rust_decimal::Decimal;

use crate::generate::{PLAN, VEHICLE};

/// Positions with what is chosen there.
pub type Changes = BTreeMap<String, Choice>;

/// What sets of changes are compared by, the smaller the better.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rank {
    /// Clashes that are left.
    pub left: usize,
    /// Worth of the wishes that are given up.
    pub worth: Decimal,
    /// How many changes.
    pub changes: usize,
    /// Values to be measured in all.
    pub to_measure: usize,
    /// Money in all.
    pub money: Decimal,
}

/// Money in all.
#[must_use]
pub fn money(a: &Assessment) -> Decimal {
    a.totals.money.all().of(&a.totals.currency)
}

/// A wish is kept by another part that has each of its port types and each of its needs.
#[must_use]
pub fn is_kept(file: &LibraryFile, wished: &str, instead: &Choice) -> bool {
    let Some(other) = instead.part.as_ref().filter(|_| instead.route == Route::Convert) else {
        return false;
    };
    let (wished, other) = (&file.parts[wished], &file.parts[other]);
    let types = |part: &knockon_core::library::Part| -> Vec<String> {
        part.ports.values().map(|port| port.port_type.clone()).collect()
    };
    let others = types(other);
    types(wished).iter().all(|kind| others.contains(kind))
        && wished.needs.keys().all(|need| other.needs.contains_key(need))
}

/// Whether a wish at a position is not kept by what is chosen instead.
#[must_use]
pub fn gives_up(file: &LibraryFile, plan: &Plan, position: &str, instead: &Choice) -> bool {
    let wish = plan.routes.get(position).filter(|choice| choice.route == Route::Convert);
    let part = wish.and_then(|choice| choice.part.as_ref());
    part.is_some_and(|part| file.parts.contains_key(part) && !is_kept(file, part, instead))
}

/// The worth of the wishes that changes give up: the price of each part that is not put in any more.
#[must_use]
pub fn given_up(file: &LibraryFile, plan: &Plan, changes: &Changes) -> Decimal {
    let given = changes.iter().filter(|(position, instead)| gives_up(file, plan, position, instead));
    let price = |(position, _): (&String, &Choice)| {
        let part = file.parts.get(plan.routes.get(position)?.part.as_ref()?)?;
        part.price.as_ref().map(|price| price.amount)
    };
    given.filter_map(price).sum()
}

/// What may be chosen instead, place by place.
#[must_use]
pub fn options(file: &LibraryFile, sheet: &Sheet) -> Vec<(String, Vec<Choice>)> {
    let routes = &sheet.plans[PLAN].routes;
    let mut out = Vec::new();
    for (place, position) in &file.vehicles[VEHICLE].positions {
        let is_owners = file.classes[&position.class].decided == Some(Decided::Owner);
        if !is_owners && !routes.contains_key(place) {
            continue;
        }
        let found = sheet.as_found.get(place).unwrap_or(&position.as_found);
        let verdict = sheet.survey.get(place).map(|finding| finding.verdict);
        let can_hurt = found.as_ref().and_then(|id| file.parts.get(id)).is_some_and(|part| part.safety);
        let may_stay = verdict != Some(Verdict::Stop) && (verdict != Some(Verdict::Renew) || !can_hurt);
        let plain = |route| Choice { route, part: None };
        let mut here: Vec<Choice> = Vec::new();
        here.extend((found.is_none() || may_stay).then(|| plain(Route::Keep)));
        let is_wish = routes.get(place).is_some_and(|choice| choice.route == Route::Convert);
        here.extend((is_wish && found.is_some()).then(|| plain(Route::LeaveOff)));
        for (id, part) in &file.parts {
            if part.class == position.class && part.price.is_some() && found.as_ref() != Some(id) {
                here.push(Choice { route: Route::Convert, part: Some(id.clone()) });
            }
        }
        here.retain(|choice| routes.get(place) != Some(choice));
        out.push((place.clone(), here));
    }
    out
}

/// How many sets of changes there are, the empty one among them.
#[must_use]
pub fn combinations(file: &LibraryFile, sheet: &Sheet) -> usize {
    let all = options(file, sheet);
    all.iter().fold(1, |product: usize, (_, here)| product.saturating_mul(here.len() + 1))
}

/// What a plan comes to with some changes.
#[must_use]
pub fn rank(file: &LibraryFile, sheet: &Sheet, catalogue: &Catalogue, changes: &Changes) -> Rank {
    let mut changed = sheet.clone();
    if let Some(plan) = changed.plans.get_mut(PLAN) {
        plan.routes.extend(changes.clone());
    }
    let a = assess(&changed, PLAN, catalogue);
    Rank {
        left: a.clashes.len(),
        worth: given_up(file, &sheet.plans[PLAN], changes),
        changes: changes.len(),
        to_measure: a.to_measure.len(),
        money: money(&a),
    }
}

/// The best of all sets of changes. Sets that give up more, or as much with more changes, are not assessed once one that
/// leaves nothing is found.
#[must_use]
pub fn best(file: &LibraryFile, sheet: &Sheet, catalogue: &Catalogue) -> (Rank, Changes) {
    let mut all: Vec<Changes> = vec![Changes::new()];
    for (place, here) in options(file, sheet) {
        for at in 0..all.len() {
            for choice in &here {
                let mut changes = all[at].clone();
                changes.insert(place.clone(), choice.clone());
                all.push(changes);
            }
        }
    }
    let plan = &sheet.plans[PLAN];
    let mut all: Vec<(Decimal, usize, Changes)> =
        all.into_iter().map(|changes| (given_up(file, plan, &changes), changes.len(), changes)).collect();
    all.sort();
    let mut best: Option<(Rank, Changes)> = None;
    for (worth, many, changes) in all {
        if best.as_ref().is_some_and(|(b, _)| b.left == 0 && (b.worth, b.changes) < (worth, many)) {
            break;
        }
        let rank = rank(file, sheet, catalogue, &changes);
        if best.as_ref().is_none_or(|(b, _)| rank < *b) {
            best = Some((rank, changes));
        }
    }
    best.unwrap_or_else(|| (rank(file, sheet, catalogue, &Changes::new()), Changes::new()))
}
