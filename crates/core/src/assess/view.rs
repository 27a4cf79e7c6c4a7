//! Turns what the last pass found into an [`Assessment`].

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::bench::{Bench, By, CheckKey, Comp, Key, NO_REASON, Trouble};
use crate::assessment::{
    Alternative, Assessment, BuyLine, CautionNote, Check, Clash, Companion, Origin, PortRow, PositionView,
    Remedy, Surplus, ToMeasure, Totals,
};
use crate::catalogue::{Ix, UNPRICED};
use crate::library::Reversible;
use crate::money::Money;
use crate::reason::{Fact, Reason, ReasonId};
use crate::sheet::{LineState, Route};

impl Bench<'_> {
    /// The stable text of a companion key.
    pub fn key_text(&self, key: Key) -> String {
        let pos = |p: Ix| self.v.positions[p as usize].id.as_str();
        let joint = |j: Ix| self.v.joints[j as usize].id.as_str();
        let class = |c: Ix| self.cat.class_names.id(c);
        match key {
            Key::Bridge(j, n) => format!("bridge:{}:{n}", joint(j)),
            Key::Cap(j) => format!("cap:{}", joint(j)),
            Key::Fill(p) => format!("position:{}", pos(p)),
            Key::Need(cause, asker, need) => format!(
                "need:{}:{}:{}",
                cause.map_or("-", pos),
                self.cat.part_names.id(asker),
                self.cat.need_names.id(need)
            ),
            Key::Open(j, c) => format!("joint:{}:{}", joint(j), class(c)),
            Key::Apart(o, c) => format!("apart:{}:{}", self.cat.openings[o as usize].id, class(c)),
            Key::Fluid(c, _) => format!("fluid:{}", self.v.circuits[c as usize].id),
            Key::Survey(p) => format!("survey:{}", pos(p)),
        }
    }

    pub fn check_text(&self, key: CheckKey) -> String {
        match key {
            CheckKey::Joint(j) => format!("joint:{}", self.v.joints[j as usize].id),
            CheckKey::Pool(p) => format!("pool:{}", self.cat.pool_names.id(p)),
            CheckKey::Limit(l) => format!("limit:{}", self.cat.limits[l as usize].id),
            CheckKey::Need(cause, asker, need) => format!(
                "need:{}:{}:{}",
                cause.map_or("-", |p| self.v.positions[p as usize].id.as_str()),
                self.cat.part_names.id(asker),
                self.cat.need_names.id(need)
            ),
        }
    }

    pub fn check_name(&self, key: CheckKey) -> String {
        match key {
            CheckKey::Joint(j) => self.v.joints[j as usize].name.clone(),
            CheckKey::Pool(p) => self.cat.pools[p as usize].def.name.clone(),
            CheckKey::Limit(l) => self.cat.limits[l as usize].def.name.clone(),
            CheckKey::Need(_, asker, need) => {
                format!("{}: {}", self.name(asker), self.cat.needs[need as usize].name)
            }
        }
    }

    /// All companions: those a pass finds anew, and the fills.
    pub fn all_comps(&self) -> Vec<Comp> {
        let mut all = self.found.comps.clone();
        for (pos, fill) in &self.fills {
            all.push(Comp {
                key: Key::Fill(*pos),
                part: fill.part,
                qty: self.v.positions[*pos as usize].qty,
                level: fill.level,
                origin: Origin::Fill,
                reason: fill.reason,
                position: Some(*pos),
                cause: fill.cause,
                parent: None,
                in_kit: false,
            });
        }
        all.sort_by_key(|c| c.key);
        // the same thing wanted twice for the same reason is one
        all.dedup_by_key(|c| c.key);
        all
    }

    /// What the position's own choice costs: price of all of them, hours.
    pub fn own_cost(&self, pos: Ix) -> (Option<Money>, f64, bool) {
        let position = &self.v.positions[pos as usize];
        let qty = Decimal::from(position.qty);
        let times = |m: &Money| Money::new(m.amount * qty, &m.currency);
        let Some((route, part)) = self.owner[pos as usize] else { return (None, 0.0, false) };
        let hours = |h: Option<f64>| h.unwrap_or(0.0);
        match (route, part.or(self.as_found[pos as usize])) {
            (Route::Convert | Route::Renew, Some(p)) => {
                let p = &self.part(p).part;
                (p.price.as_ref().map(times), hours(p.hours), true)
            }
            (Route::Clean, Some(p)) => work(self.part(p).part.clean.as_ref(), qty),
            (Route::Rebuild, Some(p)) => work(self.part(p).part.rebuild.as_ref(), qty),
            _ => (None, 0.0, false),
        }
    }
}

fn work(work: Option<&crate::library::Work>, qty: Decimal) -> (Option<Money>, f64, bool) {
    let price = work.and_then(|w| w.price.as_ref()).map(|m| Money::new(m.amount * qty, &m.currency));
    (price, work.and_then(|w| w.hours).unwrap_or(0.0), true)
}

pub(super) fn assessment(mut bench: Bench<'_>, plan: &str) -> Assessment {
    let comps = bench.all_comps();
    let mut out =
        Assessment { plan: plan.to_owned(), systems: bench.cat.systems.clone(), ..Assessment::default() };
    out.companions = comps.iter().map(|c| companion(&bench, c)).collect();
    out.clashes = clashes(&mut bench);
    out.to_measure = bench
        .found
        .unknowns
        .iter()
        .map(|t| ToMeasure {
            key: bench.check_text(t.key),
            what: t.what.clone(),
            positions: ids(&bench, t),
            reason: t.reason,
        })
        .collect();
    out.to_measure.sort_by(|a, b| a.key.cmp(&b.key));
    out.to_measure.dedup_by(|a, b| a.key == b.key);
    out.surplus = surplus(&bench);
    out.positions = (0..bench.v.positions.len() as Ix).map(|p| position(&bench, p, &out)).collect();
    out.cautions = cautions(&bench, &comps);
    out.buy = buy(&bench, &comps);
    out.totals = totals(&out);
    out.problems.clone_from(&bench.problems);
    let checks = std::mem::take(&mut bench.found.checks);
    out.checks = checks
        .iter()
        .map(|(key, answer, reason)| Check {
            key: bench.check_text(*key),
            name: bench.check_name(*key),
            answer: *answer,
            text: bench
                .arena
                .get(reason.0 as usize)
                .map_or_else(String::new, |r| crate::explain::sentence(&r.fact)),
            positions: match key {
                CheckKey::Joint(j) => bench.v.joints[*j as usize]
                    .ends
                    .iter()
                    .map(|(p, _)| bench.v.positions[*p as usize].id.clone())
                    .collect(),
                _ => Vec::new(),
            },
        })
        .collect();
    out.checks.sort_by(|a, b| a.key.cmp(&b.key));
    compact(&mut out, std::mem::take(&mut bench.arena));
    out
}

fn ids(bench: &Bench<'_>, t: &Trouble) -> Vec<String> {
    t.positions.iter().map(|p| bench.v.positions[*p as usize].id.clone()).collect()
}

fn line_state(bench: &Bench<'_>, part: Ix) -> LineState {
    bench.sheet.lines.get(bench.cat.part_names.id(part)).map_or(LineState::ToBuy, |l| l.state)
}

fn companion(bench: &Bench<'_>, c: &Comp) -> Companion {
    let key = bench.key_text(c.key);
    let part = bench.part(c.part);
    let price = if c.in_kit {
        part.part.price.as_ref().map(|m| Money::new(Decimal::ZERO, &m.currency))
    } else {
        part.part.price.clone()
    };
    let others: Vec<Ix> = match c.key {
        Key::Fill(pos) => bench
            .candidates(pos, super::fills::Must::Fit, true)
            .into_iter()
            .filter(|(b, _)| *b == 0)
            .map(|(_, p)| p)
            .collect(),
        Key::Bridge(j, _) => {
            let meeting = bench.meeting(j, &super::fills::Overlay::new());
            match meeting.as_slice() {
                [a, b] => bench.other_bridges(a.1, b.1),
                _ => Vec::new(),
            }
        }
        Key::Need(_, _, need) => bench.cat.offered_by[need as usize]
            .iter()
            .copied()
            .filter(|p| {
                bench.part(*p).class == part.class
                    && bench.part(*p).offers.iter().any(|(n, v)| *n == need && v.is_none())
            })
            .collect(),
        _ => Vec::new(),
    };
    let alternatives = others
        .into_iter()
        .filter(|p| *p != c.part)
        .take(8)
        .map(|p| Alternative {
            part: bench.cat.part_names.id(p).to_owned(),
            name: bench.name(p),
            price: bench.part(p).part.price.clone(),
        })
        .collect();
    Companion {
        part: bench.cat.part_names.id(c.part).to_owned(),
        name: bench.name(c.part),
        qty: c.qty,
        level: c.level,
        origin: c.origin,
        reason: c.reason,
        position: c.position.map(|p| bench.v.positions[p as usize].id.clone()),
        cause: c.cause.map(|p| bench.v.positions[p as usize].id.clone()),
        parent: c.parent.map(|k| bench.key_text(k)),
        price,
        in_kit: c.in_kit,
        hours: part.part.hours.unwrap_or(0.0),
        line: line_state(bench, c.part),
        accepted: bench.plan.accepted.contains(&key),
        waived: bench.plan.waived.get(&key).cloned(),
        safety: part.part.safety,
        alternatives,
        key,
    }
}

fn clashes(bench: &mut Bench<'_>) -> Vec<Clash> {
    let found = std::mem::take(&mut bench.found.clashes);
    let mut out: Vec<Clash> = found.iter().map(|t| {
        let mut remedies: Vec<Remedy> = t.remedies.iter().map(|(pos, part)| Remedy {
            text: format!("fit {} as {}", bench.name(*part), bench.place(*pos).to_lowercase()),
            choice: Some((bench.v.positions[*pos as usize].id.clone(), bench.cat.part_names.id(*part).to_owned())),
            price: bench.part(*part).part.price.clone(),
        }).collect();
        if !t.what.is_empty() {
            remedies.push(Remedy { text: t.what.clone(), choice: None, price: None });
        }
        if remedies.is_empty() {
            remedies.push(Remedy { text: "nothing in the library closes this: make or machine a part to the figures above, or choose another route".to_owned(), choice: None, price: None });
        }
        let safety = match t.key {
            CheckKey::Limit(l) => bench.cat.limits[l as usize].def.safety,
            _ => t.positions.iter().any(|p| bench.slot(*p).part.is_some_and(|x| bench.part(x).part.safety)),
        };
        Clash { key: bench.check_text(t.key), name: bench.check_name(t.key), positions: ids(bench, t), reason: t.reason, safety, remedies }
    }).collect();
    out.sort_by(|a, b| a.key.cmp(&b.key));
    out.dedup_by(|a, b| a.key == b.key);
    out
}

fn surplus(bench: &Bench<'_>) -> Vec<Surplus> {
    let mut out = Vec::new();
    for pos in 0..bench.v.positions.len() as Ix {
        let slot = bench.slot(pos);
        let Some(found) = bench.as_found[pos as usize] else { continue };
        if slot.changed && slot.part != Some(found) {
            out.push(Surplus {
                position: bench.v.positions[pos as usize].id.clone(),
                part: bench.cat.part_names.id(found).to_owned(),
                name: bench.name(found),
                reason: slot.reason,
                lost_job: slot.by == By::Gone,
            });
        }
    }
    out
}

fn position(bench: &Bench<'_>, pos: Ix, out: &Assessment) -> PositionView {
    let entry = &bench.v.positions[pos as usize];
    let slot = bench.slot(pos);
    let named = |p: Ix| (bench.cat.part_names.id(p).to_owned(), bench.name(p));
    let finding = bench.sheet.survey.get(&entry.id);
    let (price, hours, active) = bench.own_cost(pos);
    let ports = slot.part.map_or_else(Vec::new, |p| {
        bench
            .part(p)
            .ports
            .iter()
            .flat_map(|port| {
                let ty = &bench.cat.port_types[port.port_type as usize];
                ty.fields
                    .iter()
                    .zip(&port.values)
                    .filter_map(|((_, def, ..), value)| {
                        Some(PortRow {
                            port: port.name.replace('-', " "),
                            kind: ty.name.clone(),
                            field: def.name.clone(),
                            value: value.as_ref()?.text(),
                        })
                    })
                    .collect::<Vec<_>>()
            })
            .collect()
    });
    let here = |list: &[String]| list.first() == Some(&entry.id);
    PositionView {
        name: entry.name.clone(),
        system: entry.system.clone(),
        qty: entry.qty,
        as_found: bench.as_found[pos as usize].map(named),
        verdict: finding.map(|f| f.verdict),
        verdict_note: finding.map_or_else(String::new, |f| f.note.clone()),
        route: bench.owner[pos as usize].map_or(Route::Keep, |o| o.0),
        filled: matches!(slot.by, By::Fill | By::Kit(_)),
        fitted: slot.part.map(named),
        price,
        hours,
        line: slot.part.map_or(LineState::ToBuy, |p| line_state(bench, p)),
        active,
        clashes: out.clashes.iter().filter(|c| here(&c.positions)).map(|c| c.key.clone()).collect(),
        to_measure: out.to_measure.iter().filter(|c| here(&c.positions)).map(|c| c.key.clone()).collect(),
        companions: out
            .companions
            .iter()
            .filter(|c| c.cause.as_ref() == Some(&entry.id))
            .map(|c| c.key.clone())
            .collect(),
        surplus: out.surplus.iter().any(|s| s.position == entry.id),
        ports,
        reversible: slot
            .part
            .filter(|_| slot.changed)
            .map_or(Reversible::Yes, |p| bench.part(p).part.reversible),
        id: entry.id.clone(),
    }
}

fn cautions(bench: &Bench<'_>, comps: &[Comp]) -> Vec<CautionNote> {
    let mut notes: BTreeMap<&str, (Vec<String>, Vec<String>)> = BTreeMap::new();
    for pos in 0..bench.v.positions.len() as Ix {
        let slot = bench.slot(pos);
        if !slot.opened {
            continue;
        }
        for caution in slot.part.iter().flat_map(|p| &bench.part(*p).part.cautions) {
            notes.entry(caution).or_default().0.push(bench.v.positions[pos as usize].id.clone());
        }
    }
    for comp in comps {
        for caution in &bench.part(comp.part).part.cautions {
            notes.entry(caution).or_default().1.push(bench.key_text(comp.key));
        }
    }
    notes
        .into_iter()
        .filter_map(|(id, (positions, companions))| {
            let caution = bench.cat.cautions.get(id)?;
            Some(CautionNote {
                id: id.to_owned(),
                danger: caution.danger.clone(),
                guard: caution.guard.clone(),
                positions,
                companions,
            })
        })
        .collect()
}

fn buy(bench: &Bench<'_>, comps: &[Comp]) -> Vec<BuyLine> {
    let mut lines: BTreeMap<String, BuyLine> = BTreeMap::new();
    for pos in 0..bench.v.positions.len() as Ix {
        let entry = &bench.v.positions[pos as usize];
        let Some((route, part)) = bench.owner[pos as usize] else { continue };
        let Some(ix) = part.or(bench.as_found[pos as usize]) else { continue };
        let (id, name, price) = match route {
            Route::Convert | Route::Renew => {
                (bench.cat.part_names.id(ix).to_owned(), bench.name(ix), bench.part(ix).part.price.clone())
            }
            Route::Rebuild => (
                format!("{}.rebuild", bench.cat.part_names.id(ix)),
                format!("Rebuild: {}", bench.name(ix)),
                bench.part(ix).part.rebuild.as_ref().and_then(|w| w.price.clone()),
            ),
            _ => continue,
        };
        put(bench, &mut lines, id, name, price, ix, entry.qty, entry.name.clone(), &entry.system, None);
    }
    for comp in comps.iter().filter(|c| !c.in_kit) {
        let key = bench.key_text(comp.key);
        let cause = comp.position.or(comp.cause);
        let system = cause.map_or("", |p| bench.v.positions[p as usize].system.as_str());
        let use_text = cause.map_or_else(
            || comp.origin.word().to_owned(),
            |p| format!("{} ({})", bench.place(p), comp.origin.word()),
        );
        let waived = bench.plan.waived.get(&key).cloned();
        let mut id = bench.cat.part_names.id(comp.part).to_owned();
        if waived.is_some() {
            id = format!("{id} left out {key}");
        }
        put(
            bench,
            &mut lines,
            id,
            bench.name(comp.part),
            bench.part(comp.part).part.price.clone(),
            comp.part,
            comp.qty,
            use_text,
            system,
            waived,
        );
    }
    let order = |s: &str| bench.cat.systems.iter().position(|(id, _)| id == s);
    let mut out: Vec<BuyLine> = lines.into_values().collect();
    out.sort_by(|a, b| (order(&a.system), &a.name, &a.part).cmp(&(order(&b.system), &b.name, &b.part)));
    out
}

#[allow(clippy::too_many_arguments, reason = "one line has this many columns")]
fn put(
    bench: &Bench<'_>,
    lines: &mut BTreeMap<String, BuyLine>,
    id: String,
    name: String,
    price: Option<Money>,
    ix: Ix,
    qty: u32,
    use_text: String,
    system: &str,
    waived: Option<String>,
) {
    let part_id = id.split(" left out ").next().unwrap_or("").to_owned();
    let record = bench.sheet.lines.get(&part_id);
    let price = record.and_then(|r| r.paid.clone()).or(price);
    let line = lines.entry(id).or_insert_with(|| BuyLine {
        name,
        qty: 0,
        price,
        total: None,
        supplier: record
            .map(|r| r.supplier.clone())
            .filter(|s| !s.is_empty())
            .unwrap_or_else(|| bench.part(ix).part.supplier.clone()),
        state: record.map_or(LineState::ToBuy, |r| r.state),
        uses: Vec::new(),
        waived,
        made: bench.part(ix).part.made,
        system: system.to_owned(),
        part: part_id,
    });
    line.qty = line.qty.saturating_add(qty);
    line.uses.push(use_text);
    line.total = line.price.as_ref().map(|m| Money::new(m.amount * Decimal::from(line.qty), &m.currency));
}

fn totals(out: &Assessment) -> Totals {
    let mut t = Totals {
        companions: out.companions.len(),
        companions_open: out
            .companions
            .iter()
            .filter(|c| !c.accepted && !c.in_kit && c.waived.is_none() && c.line == LineState::ToBuy)
            .count(),
        clashes: out.clashes.len(),
        to_measure: out.to_measure.len(),
        ..Totals::default()
    };
    t.hours = out.positions.iter().map(|p| p.hours).sum::<f64>()
        + out.companions.iter().filter(|c| c.waived.is_none()).map(|c| c.hours).sum::<f64>();
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for m in out.buy.iter().filter_map(|l| l.price.as_ref()) {
        *counts.entry(&m.currency).or_default() += 1;
    }
    t.currency =
        counts.iter().max_by_key(|(c, n)| (**n, std::cmp::Reverse(**c))).map_or("USD", |(c, _)| c).to_owned();
    for line in out.buy.iter().filter(|l| l.waived.is_none()) {
        t.lines += 1;
        t.fitted += usize::from(line.state == LineState::Fitted);
        let Some(total) = &line.total else {
            t.unpriced += 1;
            continue;
        };
        if total.currency != t.currency {
            *t.other_currency.entry(total.currency.clone()).or_default() += total.amount;
            continue;
        }
        match line.state {
            LineState::Fitted | LineState::InHand => t.spent += total.amount,
            LineState::OnOrder => t.committed += total.amount,
            LineState::ToBuy => t.to_come += total.amount,
            LineState::SentBack => {}
        }
    }
    t
}

/// Keeps the reasons that something points at and numbers them anew.
fn compact(out: &mut Assessment, arena: Vec<Reason>) {
    let mut map: Vec<Option<ReasonId>> = vec![None; arena.len()];
    let mut kept: Vec<Reason> = Vec::new();
    // only a hand-made assessment could lack a reason; it gets an empty one
    let mut keep = |id: &mut ReasonId, kept: &mut Vec<Reason>| *id = copy(*id, &arena, &mut map, kept);
    for c in &mut out.companions {
        keep(&mut c.reason, &mut kept);
    }
    for c in &mut out.clashes {
        keep(&mut c.reason, &mut kept);
    }
    for c in &mut out.to_measure {
        keep(&mut c.reason, &mut kept);
    }
    for c in &mut out.surplus {
        keep(&mut c.reason, &mut kept);
    }
    out.reasons = kept;
}

fn copy(id: ReasonId, arena: &[Reason], map: &mut [Option<ReasonId>], kept: &mut Vec<Reason>) -> ReasonId {
    let at = id.0 as usize;
    if id == NO_REASON || at >= arena.len() {
        kept.push(Reason { fact: Fact::NothingServes { wanted: String::new() }, premises: Vec::new() });
        return ReasonId(kept.len() as u32 - 1);
    }
    if let Some(new) = map[at] {
        return new;
    }
    // premises stand before what rests on them
    let premises = arena[at].premises.iter().map(|p| copy(*p, arena, map, kept)).collect();
    kept.push(Reason { fact: arena[at].fact.clone(), premises });
    let new = ReasonId(kept.len() as u32 - 1);
    map[at] = Some(new);
    new
}

/// Whether a part has no price.
pub(super) fn unpriced(bench: &Bench<'_>, part: Ix) -> bool {
    bench.part(part).cost == UNPRICED
}
