//! Before a choice is made its consequences are known: every route on offer against the plan as it stands.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::bench::Bench;
use super::view::unpriced;
use crate::assessment::Offer;
use crate::catalogue::{Catalogue, Ix};
use crate::library::Reversible;
use crate::sheet::{Choice, Plan, Route, Sheet};

struct Sum {
    money: Decimal,
    unpriced: bool,
    hours: f64,
    comps: BTreeMap<(super::bench::Key, Ix), String>,
    clashes: BTreeMap<super::bench::CheckKey, String>,
    unknowns: i64,
    surplus: i64,
}

fn sum(sheet: &Sheet, plan: &Plan, cat: &Catalogue) -> Option<Sum> {
    let mut bench = Bench::new(sheet, plan, cat, false).ok()?;
    bench.run();
    let mut s = Sum {
        money: Decimal::ZERO,
        unpriced: false,
        hours: 0.0,
        comps: BTreeMap::new(),
        clashes: BTreeMap::new(),
        unknowns: 0,
        surplus: 0,
    };
    for pos in 0..bench.v.positions.len() as Ix {
        let (price, hours, active) = bench.own_cost(pos);
        s.hours += hours;
        s.unpriced |=
            active && price.is_none() && bench.owner[pos as usize].is_some_and(|o| o.0 == Route::Convert);
        s.money += price.map_or(Decimal::ZERO, |m| m.amount);
        let slot = bench.slot(pos);
        s.surplus += i64::from(slot.changed && bench.as_found[pos as usize].is_some());
    }
    for comp in bench.all_comps() {
        let part = bench.part(comp.part);
        s.comps.insert((comp.key, comp.part), part.part.name.clone());
        if plan.waived.contains_key(&bench.key_text(comp.key)) {
            continue;
        }
        s.hours += part.part.hours.unwrap_or(0.0);
        if !comp.in_kit {
            s.unpriced |= unpriced(&bench, comp.part);
            s.money += part.part.price.as_ref().map_or(Decimal::ZERO, |m| m.amount * Decimal::from(comp.qty));
        }
    }
    s.unknowns = bench.found.unknowns.len() as i64;
    for clash in &bench.found.clashes {
        s.clashes.insert(clash.key, bench.check_name(clash.key));
    }
    Some(s)
}

/// Routes on offer at a position, each with its consequences against the plan as it stands. Empty where plan,
/// vehicle or position are not known.
#[must_use]
pub fn offers(sheet: &Sheet, plan: &str, catalogue: &Catalogue, position: &str) -> Vec<Offer> {
    let grown;
    let cat = if sheet.parts.is_empty() {
        catalogue
    } else {
        grown = catalogue.with_parts(&sheet.parts);
        &grown.0
    };
    let Some(entry) = sheet.plans.get(plan) else { return Vec::new() };
    let Some(vehicle) = cat.vehicles.get(&sheet.vehicle) else { return Vec::new() };
    let Some(pos) = vehicle.position_ix.get(position).copied() else { return Vec::new() };
    let Some(before) = sum(sheet, entry, cat) else { return Vec::new() };
    let now = entry.routes.get(position).cloned().unwrap_or_default();
    let mut out = Vec::new();
    for (choice, name, part) in on_offer(sheet, cat, vehicle, pos) {
        let mut plan = entry.clone();
        plan.routes.insert(position.to_owned(), choice.clone());
        let Some(after) = sum(sheet, &plan, cat) else { continue };
        let gone = |a: &Sum, b: &Sum| {
            a.comps
                .iter()
                .filter(|(k, _)| !b.comps.contains_key(k))
                .map(|(_, n)| n.clone())
                .collect::<Vec<_>>()
        };
        let clashed = |a: &Sum, b: &Sum| {
            a.clashes
                .iter()
                .filter(|(k, _)| !b.clashes.contains_key(k))
                .map(|(_, n)| n.clone())
                .collect::<Vec<_>>()
        };
        out.push(Offer {
            position: position.to_owned(),
            route: choice.route,
            current: choice == now,
            part: choice.part,
            name,
            money: after.money - before.money,
            unpriced: after.unpriced && !before.unpriced,
            hours: after.hours - before.hours,
            companions_added: gone(&after, &before),
            companions_removed: gone(&before, &after),
            clashes_added: clashed(&after, &before),
            clashes_removed: clashed(&before, &after),
            to_measure: after.unknowns - before.unknowns,
            surplus: after.surplus - before.surplus,
            reversible: part.map_or(Reversible::Yes, |p| cat.parts[p as usize].part.reversible),
        });
    }
    out
}

/// The routes a position has: what can be done with what is there, and every part of its class that is for sale.
fn on_offer(
    sheet: &Sheet,
    cat: &Catalogue,
    vehicle: &crate::catalogue::VehicleEntry,
    pos: Ix,
) -> Vec<(Choice, String, Option<Ix>)> {
    let entry = &vehicle.positions[pos as usize];
    let found = match sheet.as_found.get(&entry.id) {
        Some(over) => over.as_ref().and_then(|id| cat.part_names.get(id)),
        None => entry.as_found,
    };
    let plain = |route: Route, name: String| (Choice { route, part: None }, name, None);
    let mut out = vec![plain(
        Route::Keep,
        found.map_or_else(|| "leave empty".to_owned(), |p| cat.parts[p as usize].part.name.clone()),
    )];
    if let Some(p) = found {
        let part = &cat.parts[p as usize].part;
        for (route, offered) in [
            (Route::Clean, part.clean.is_some()),
            (Route::Rebuild, part.rebuild.is_some()),
            (Route::Renew, part.price.is_some()),
        ] {
            if offered {
                out.push(plain(route, part.name.clone()));
            }
        }
    }
    for part in cat.by_class.get(entry.class as usize).into_iter().flatten() {
        if Some(*part) != found && cat.parts[*part as usize].part.price.is_some() {
            let id = cat.part_names.id(*part).to_owned();
            out.push((
                Choice { route: Route::Convert, part: Some(id) },
                cat.parts[*part as usize].part.name.clone(),
                Some(*part),
            ));
        }
    }
    if let Some(p) = found {
        out.push(plain(Route::LeaveOff, cat.parts[p as usize].part.name.clone()));
    }
    out
}
