//! Turns what the last pass found into an [`Assessment`].

use rust_decimal::Decimal;
use smallvec::SmallVec;

use super::bench::{Bench, By, CheckKey, Comp, Cure, Fill, Key, NO_REASON, Trouble};
use super::buy;
use super::cautions;
use super::remedies::Way;
use super::spent::Item;
use crate::assessment::{
    Assessment, Check, Clash, Companion, Origin, PositionView, Remedy, Surplus, ToMeasure, Unmet,
};
use crate::catalogue::{Numbered, PartId, PositionEntry, PositionId};
use crate::grammar::lower;
use crate::key::{self, CompanionKey};
use crate::library::Reversible;
use crate::money::Money;
use crate::phrase;
use crate::phrase::{Phrase, Piece};
use crate::reason::{Fact, Reason, ReasonId};
use crate::refunded;
use crate::sheet::{LineState, Route};

impl Bench<'_> {
    /// All companions: those a pass finds anew, and the fills.
    pub fn all_comps(&self) -> Vec<Comp> {
        let mut all = Vec::with_capacity(self.found.comps.len() + self.fills.len());
        self.each_comp(|_, comp| all.push(*comp));
        all
    }

    /// Each companion in the order of the keys, with the number that orders it.
    pub fn each_comp(&self, mut each: impl FnMut(u128, &Comp)) {
        let found = &self.found.comps;
        let fills: SmallVec<[Comp; 16]> =
            self.fills.iter().map(|(pos, fill)| self.filling(*pos, fill)).collect();
        let all = || found.iter().chain(&fills);
        let mut order: Vec<(u128, usize)> = all().map(|c| c.key.order()).zip(0..).collect();
        // they come in runs that are in order
        order.sort_by_key(|(order, _)| *order);
        // the same thing wanted twice for the same reason is one
        order.dedup_by_key(|(order, _)| *order);
        for (order, at) in order {
            each(order, found.get(at).unwrap_or_else(|| &fills[at - found.len()]));
        }
    }

    fn filling(&self, pos: PositionId, fill: &Fill) -> Comp {
        Comp {
            key: Key::Fill(pos),
            part: fill.part,
            qty: self.v.positions[pos].qty,
            level: fill.level,
            origin: Origin::Fill,
            reason: fill.reason,
            position: Some(pos),
            cause: fill.cause,
            by: None,
            parent: None,
            boxed: if self.is_waived(Key::Fill(pos)) { 0 } else { self.boxed_at(pos) },
        }
    }
}

pub(super) fn assessment(mut bench: Bench<'_>, plan: &str) -> Assessment {
    let comps = bench.all_comps();
    let mut out =
        Assessment { plan: plan.to_owned(), systems: bench.cat.systems.clone(), ..Assessment::default() };
    out.order = bench.marks().told();
    out.companions = comps.iter().map(|c| companion(&bench, c)).collect();
    out.clashes = clashes(&bench);
    out.unmet = unmet(&bench);
    out.to_measure = bench
        .found
        .unknowns
        .iter()
        .map(|t| ToMeasure {
            key: bench.check_key(t.key),
            what: Phrase::joined(t.what.iter().cloned(), "; "),
            positions: ids(&bench, t),
            reason: t.reason,
            wanted: bench.wanted(t.key),
        })
        .collect();
    out.measured = bench.measured();
    out.to_measure.sort_by(|a, b| a.key.cmp(&b.key));
    out.to_measure.dedup_by(|a, b| a.key == b.key);
    out.later = bench.told_later();
    out.surplus = surplus(&bench);
    let here = shown(&bench, &comps, &out);
    let here = here.ids().zip(here.into_values());
    out.positions = here.map(|(pos, here)| position(&bench, pos, here)).collect();
    out.cautions = cautions::notes(&bench, &comps);
    out.buy = buy::lines(&bench, &comps);
    out.boxes = bench.box_lines(&comps);
    let spent = bench.spent();
    out.idle = spent.idle;
    out.totals = buy::totals(&out, spent.sums);
    out.problems = problems(&bench);
    out.pools = bench.sums();
    out.close = bench.close();
    let checks = std::mem::take(&mut bench.found.checks);
    out.checks = checks
        .iter()
        .map(|(key, answer, reason)| Check {
            key: bench.check_key(*key),
            name: bench.check_name(*key),
            answer: *answer,
            reason: Some(*reason).filter(|r| *r != NO_REASON),
            positions: match key {
                CheckKey::Joint(j) => {
                    bench.v.joints[*j].ends.iter().map(|(p, _)| bench.v.positions[*p].id.clone()).collect()
                }
                CheckKey::Age(p) | CheckKey::Port(p, _) => vec![bench.v.positions[*p].id.clone()],
                _ => Vec::new(),
            },
        })
        .collect();
    out.checks.sort_by(|a, b| a.key.cmp(&b.key));
    compact(&mut out, std::mem::take(&mut bench.arena));
    out
}

/// What could not be read, and where the search for bridges had to be cut off.
fn problems(bench: &Bench<'_>) -> Vec<String> {
    let mut out = bench.ground.problems.clone();
    let money = bench.sheet.lines.iter().flat_map(|(id, line)| refunded::odd(id, line));
    out.extend(money.map(|(path, message)| format!("{path}: {message}")));
    if bench.cut.get() {
        out.push(
            "the search for bridges was cut off: the library lets bridges follow each other too freely; \"library check\" names those that go round"
                .to_owned(),
        );
    }
    out
}

fn ids(bench: &Bench<'_>, t: &Trouble) -> Vec<String> {
    t.positions.iter().map(|p| bench.v.positions[*p].id.clone()).collect()
}

fn line_state(bench: &Bench<'_>, part: PartId) -> LineState {
    bench.sheet.lines.get(bench.cat.part_names.id(part)).map_or(LineState::ToBuy, |l| l.state)
}

fn companion(bench: &Bench<'_>, c: &Comp) -> Companion {
    let part = bench.part(c.part);
    let in_kit = c.boxed >= c.qty;
    let left_out = bench.left_out(c.key);
    let free = |m: &Money| Money::new(Decimal::ZERO, &m.currency);
    let item = Item::part(c.part);
    // what is left out has the price it would have
    let price = match left_out {
        Some(_) => item.listed(bench.cat),
        None => bench.ground.price_that_counts(item),
    };
    Companion {
        part: bench.cat.part_names.id(c.part).to_owned(),
        name: bench.companion_name(c),
        measured_first: !in_kit && bench.is_companion_measured_first(c),
        qty: c.qty,
        level: c.level,
        origin: c.origin,
        reason: c.reason,
        position: c.position.map(|p| bench.v.positions[p].id.clone()),
        cause: c.cause.map(|p| bench.v.positions[p].id.clone()),
        parent: c.parent.map(|k| bench.companion_key(k)),
        to_be_had: bench.is_to_be_had(c.part),
        price: if in_kit { item.listed(bench.cat).map(free) } else { price.cloned() },
        in_kit,
        boxed: c.boxed,
        hours: part.part.hours.unwrap_or(0.0) * f64::from(c.qty),
        line: if in_kit { bench.state_in_box(c.part) } else { line_state(bench, c.part) },
        accepted: bench.ground.accepted.contains(&c.key),
        waived: left_out.map(|(_, why)| why.to_owned()),
        left_out_by: left_out.map(|(by, _)| by).filter(|by| *by != c.key).map(|by| bench.companion_key(by)),
        safety: part.part.safety,
        danger: cautions::danger(bench, c),
        reversible: part.part.reversible,
        undone: part.part.undone.clone(),
        takes_off: c.position.and_then(|pos| bench.takes_off(pos, c.part)).map(|off| bench.name(off)),
        key: bench.companion_key(c.key),
    }
}

/// What is said where no part clears a clash by itself. It says no more than was looked for: a need or a pool can also be
/// eased by another choice whose companions want less.
pub(super) fn nothing_clears(cure: Cure) -> &'static str {
    match cure {
        Cure::Need(_) => {
            "no part of the library supplies it where it could sit: make one to the figures above, or choose another part or route here"
        }
        Cure::Pool(_) => {
            "no one part of the library gives so much more or takes so much less: choose another part or route for several of these places"
        }
        _ => {
            "no part of the library clears this by itself: make or machine one to the figures above, or choose another route"
        }
    }
}

fn clashes(bench: &Bench<'_>) -> Vec<Clash> {
    let ways: Vec<Vec<Way>> = bench.found.clashes.iter().map(|t| bench.remedies(t)).collect();
    let sound: Vec<Vec<Way>> = ways.iter().map(|ways| sound(bench, ways)).collect();
    let told = || bench.found.clashes.iter().zip(&ways).zip(&sound);
    let mut out: Vec<Clash> = told().map(|((t, ways), sound)| clash(bench, t, ways, sound)).collect();
    out.sort_by(|a, b| a.key.cmp(&b.key));
    out.dedup_by(|a, b| a.key == b.key);
    let ways: Vec<(&Trouble, &[Way])> = told().map(|((t, _), sound)| (t, sound.as_slice())).collect();
    for group in bench.one_troubles(&ways) {
        let mut keys: Vec<key::CheckKey> = group.into_iter().map(|key| bench.check_key(key)).collect();
        keys.sort();
        keys.dedup();
        for clash in out.iter_mut().filter(|clash| keys.contains(&clash.key)) {
            clash.one_with = keys.iter().filter(|key| **key != clash.key).cloned().collect();
        }
    }
    out
}

fn sound(bench: &Bench<'_>, ways: &[Way]) -> Vec<Way> {
    ways.iter().copied().filter(|way| !bench.is_bad_way(way.pos, way.part)).collect()
}

fn unmet(bench: &Bench<'_>) -> Vec<Unmet> {
    let told = |t: &Trouble| Unmet {
        key: bench.check_key(t.key),
        name: bench.check_name(t.key),
        positions: ids(bench, t),
        reason: t.reason,
    };
    let mut out: Vec<Unmet> = bench.found.unmet.iter().map(told).collect();
    out.sort_by(|a, b| a.key.cmp(&b.key));
    out.dedup_by(|a, b| a.key == b.key);
    out
}

fn clash(bench: &Bench<'_>, t: &Trouble, found: &[Way], sound: &[Way]) -> Clash {
    let words = |text: Phrase| Remedy { text, choice: None, price: None, to_measure: false };
    let fit = |Way { pos, part, to_measure }: Way| {
        let position = bench.v.positions[pos].id.clone();
        // what was on the vehicle is not bought again
        let is_there = bench.as_found(pos) == Some(part);
        let word = if is_there { "keep" } else { "fit" };
        Remedy {
            text: phrase![
                format!("{word} "),
                Piece::name(bench.name(part)),
                format!(" as {}", lower(&bench.place(pos))),
                if to_measure { ", if it measures up" } else { "" }
            ],
            to_measure,
            choice: Some((position, bench.cat.part_names.id(part).to_owned())),
            price: bench.ground.price_that_counts(Item::part(part)).cloned().filter(|_| !is_there),
        }
    };
    let mut remedies: Vec<Remedy> = sound.iter().copied().map(fit).collect();
    remedies.extend(t.what.iter().cloned().map(words));
    if remedies.is_empty() {
        remedies.push(words(match found.first() {
            Some(way) => {
                let place = lower(&bench.place(way.pos));
                let bad = match bench.over_age(way.pos) {
                    Some(_) => format!(" would, over its age at {place}"),
                    None => format!(" would, which the survey condemned at {place}"),
                };
                let part = Piece::name(bench.name(way.part));
                phrase!["only ", part, bad, ": choose another route for one of these places"]
            }
            None => nothing_clears(t.cure).into(),
        }));
    }
    let is_safety = |p: &PositionId| bench.slot(*p).part.is_some_and(|x| bench.part(x).part.safety);
    Clash {
        key: bench.check_key(t.key),
        name: bench.check_name(t.key),
        positions: ids(bench, t),
        reason: t.reason,
        safety: match t.key {
            CheckKey::Limit(l) => bench.limit_of(l).def.safety,
            _ => t.positions.iter().any(is_safety),
        },
        remedies,
        one_with: Vec::new(),
    }
}

fn surplus(bench: &Bench<'_>) -> Vec<Surplus> {
    let mut out = Vec::new();
    for pos in bench.v.positions.ids() {
        let slot = bench.slot(pos);
        let Some(found) = bench.as_found(pos) else { continue };
        if slot.changed && slot.part != Some(found) || bench.is_idle(pos) {
            let is_empty = slot.part.is_none();
            let leaves = &bench.part(found).part.leaves;
            out.push(Surplus {
                leaves: if is_empty { leaves.clone() } else { String::new() },
                position: bench.v.positions[pos].id.clone(),
                part: bench.cat.part_names.id(found).to_owned(),
                name: bench.name(found),
                reason: bench.gone.get(&pos).filter(|_| bench.is_idle(pos)).copied().unwrap_or(slot.reason),
                lost_job: slot.by == By::Gone || bench.is_idle(pos),
            });
        }
    }
    out
}

/// Keys of what shows at each position.
#[derive(Clone, Default)]
struct Here {
    clashes: Vec<key::CheckKey>,
    to_measure: Vec<key::CheckKey>,
    companions: Vec<CompanionKey>,
    left_out: Vec<CompanionKey>,
    surplus: bool,
}

/// A clash shows at its first position and at every other that the plan changes: there it can be cured.
fn shown(bench: &Bench<'_>, comps: &[Comp], out: &Assessment) -> Numbered<PositionEntry, Here> {
    let mut all = Numbered::filled(Here::default(), bench.v.positions.len());
    let at = |id: &String| bench.v.position_ix.get(id).copied();
    for clash in &out.clashes {
        for (n, pos) in clash.positions.iter().enumerate() {
            if let Some(pos) = at(pos).filter(|p| n == 0 || bench.slot(*p).changed) {
                all[pos].clashes.push(clash.key.clone());
            }
        }
    }
    for open in &out.to_measure {
        if let Some(pos) = open.positions.first().and_then(at) {
            all[pos].to_measure.push(open.key.clone());
        }
    }
    for companion in &out.companions {
        if let Some(pos) = companion.cause.as_ref().and_then(at) {
            all[pos].companions.push(companion.key.clone());
        }
    }
    for (key, places) in cautions::left_out(bench, comps) {
        for pos in places {
            all[pos].left_out.push(key.clone());
        }
    }
    for surplus in &out.surplus {
        if let Some(pos) = at(&surplus.position) {
            all[pos].surplus = true;
        }
    }
    all
}

fn position(bench: &Bench<'_>, pos: PositionId, here: Here) -> PositionView {
    let entry = &bench.v.positions[pos];
    let slot = bench.slot(pos);
    let named = |p: PartId| (bench.cat.part_names.id(p).to_owned(), bench.name(p));
    let finding = bench.ground.survey.get(&entry.id);
    let (price, hours, active) = bench.own_cost(pos);
    PositionView {
        name: entry.name.clone(),
        system: entry.system.clone(),
        qty: entry.qty,
        as_found: bench.as_found(pos).map(named),
        verdict: finding.map(|f| f.verdict),
        // a part that is changed, rebuilt or renewed has answered what was seen
        verdict_stands: finding.is_some()
            && slot.part.is_some()
            && slot.part == bench.as_found(pos)
            && bench.owner[pos].is_none_or(|o| matches!(o.0, Route::Keep | Route::Clean)),
        verdict_note: finding.map_or_else(String::new, |f| f.note.clone()),
        route: bench.owner[pos].map_or(Route::Keep, |o| o.0),
        filled: matches!(slot.by, By::Fill | By::Kit(_)),
        kit: match slot.by {
            By::Kit(kit) => Some(bench.v.positions[kit].id.clone()),
            _ => None,
        },
        fitted: slot.part.map(named),
        price,
        hours,
        boxed: bench.boxed_at(pos),
        line: bench
            .line_in_box(pos)
            .or_else(|| slot.part.map(|p| line_state(bench, p)))
            .unwrap_or(LineState::ToBuy),
        active,
        clashes: here.clashes,
        to_measure: here.to_measure,
        companions: here.companions,
        surplus: here.surplus,
        left_out: here.left_out,
        reversible: slot
            .part
            .filter(|_| slot.changed)
            .map_or(Reversible::Yes, |p| bench.part(p).part.reversible),
        lasts: bench.cat.lasts.get(entry.class).and_then(|l| Some(l.as_ref()?.time.to_string())),
        id: entry.id.clone(),
    }
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
    for c in &mut out.unmet {
        keep(&mut c.reason, &mut kept);
    }
    for c in &mut out.to_measure {
        keep(&mut c.reason, &mut kept);
    }
    for c in &mut out.later {
        keep(&mut c.reason, &mut kept);
    }
    for c in &mut out.close {
        keep(&mut c.reason, &mut kept);
    }
    for c in &mut out.surplus {
        keep(&mut c.reason, &mut kept);
    }
    for id in out.checks.iter_mut().filter_map(|c| c.reason.as_mut()) {
        keep(id, &mut kept);
    }
    out.reasons = kept;
}

fn copy(id: ReasonId, arena: &[Reason], map: &mut [Option<ReasonId>], kept: &mut Vec<Reason>) -> ReasonId {
    let at = id.0 as usize;
    if id == NO_REASON || at >= arena.len() {
        kept.push(Reason {
            fact: Fact::LostJob { part: String::new() },
            premises: Vec::new(),
            measured: Vec::new(),
            specs: Vec::new(),
        });
        return ReasonId(kept.len() as u32 - 1);
    }
    if let Some(new) = map[at] {
        return new;
    }
    // premises stand before what rests on them
    let premises = arena[at].premises.iter().map(|p| copy(*p, arena, map, kept)).collect();
    kept.push(Reason { premises, ..arena[at].clone() });
    let new = ReasonId(kept.len() as u32 - 1);
    map[at] = Some(new);
    new
}

#[cfg(test)]
mod tests;
