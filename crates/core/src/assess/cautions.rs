//! What can hurt somebody: the cautions of what is worked on, what the survey stopped, and what is left out all the same.

use std::collections::BTreeMap;

use super::bench::{Bench, Comp, Key};
use crate::assessment::CautionNote;
use crate::catalogue::PositionId;
use crate::key::CompanionKey;
use crate::library::Level;
use crate::phrase::Phrase;
use crate::reason::{Fact, ReasonId};
use crate::sheet::{LineState, Verdict};

/// The caution of the library for what may not be driven on.
const STOP: &str = "stop";
/// The one for what is outside its limit where people can be hurt.
const RENEW: &str = "renew";

/// Every caution, with the positions and companions that call for it.
pub(super) fn notes(bench: &Bench<'_>, comps: &[Comp]) -> Vec<CautionNote> {
    let mut notes: BTreeMap<&str, (Vec<String>, Vec<CompanionKey>)> = BTreeMap::new();
    for pos in bench.v.positions.ids() {
        let slot = bench.slot(pos);
        let found = bench.as_found(pos);
        // what comes off is worked on as well, whatever takes its place
        let comes_off = found.filter(|_| slot.changed && slot.part != found);
        let worked_on = slot.part.filter(|_| slot.opened).into_iter().chain(comes_off);
        for caution in worked_on.flat_map(|p| &bench.part(p).part.cautions) {
            let positions = &mut notes.entry(caution).or_default().0;
            let id = &bench.v.positions[pos].id;
            if positions.last() != Some(id) {
                positions.push(id.clone());
            }
        }
    }
    for comp in comps {
        if let Some((pos, caution)) = condemned(bench, comp).filter(|_| !is_cured(bench, comp)) {
            let (positions, companions) = notes.entry(caution).or_default();
            positions.push(bench.v.positions[pos].id.clone());
            companions.push(bench.companion_key(comp.key));
        }
        for caution in &bench.part(comp.part).part.cautions {
            notes.entry(caution).or_default().1.push(bench.companion_key(comp.key));
        }
    }
    notes
        .into_iter()
        .filter_map(|(id, (positions, companions))| {
            let caution = bench.cat.cautions.get(id)?;
            Some(CautionNote {
                id: id.to_owned(),
                danger: caution.danger.clone(),
                guard: Phrase::read(&caution.guard),
                positions,
                companions,
            })
        })
        .collect()
}

/// The position that the survey condemned, where a companion is its cure that may not be done without, and the caution
/// that stands until then.
fn condemned(bench: &Bench<'_>, comp: &Comp) -> Option<(PositionId, &'static str)> {
    let Key::Survey(pos) = comp.key else { return None };
    let finding = bench.ground.survey.get(&bench.v.positions[pos].id)?;
    match finding.verdict {
        Verdict::Stop => Some((pos, STOP)),
        Verdict::Renew if bench.part(comp.part).part.safety => Some((pos, RENEW)),
        Verdict::Good | Verdict::Watch | Verdict::Renew => None,
    }
}

fn is_cured(bench: &Bench<'_>, comp: &Comp) -> bool {
    let line = bench.sheet.lines.get(bench.cat.part_names.id(comp.part));
    let bought = comp.boxed >= comp.qty || line.is_some_and(|l| l.state == LineState::Fitted);
    let boxed = comp.boxed == 0 || bench.state_in_box(comp.part) == LineState::Fitted;
    bought && boxed && !bench.is_waived(comp.key)
}

/// What can happen where a companion is left out though people depend on it; `None` where nobody does, or it is not left
/// out. It is what goes wrong without it, never what is dangerous about fitting it.
pub(super) fn danger(bench: &Bench<'_>, comp: &Comp) -> Option<String> {
    let condemned = condemned(bench, comp);
    // required for its age is what people depend on
    let aged = matches!(comp.key, Key::Age(_)) && comp.level == Level::Required;
    if !bench.is_waived(comp.key) || !bench.part(comp.part).part.safety && !aged && condemned.is_none() {
        return None;
    }
    let caution = condemned.and_then(|(_, id)| bench.cat.cautions.get(id)).map(|c| c.danger.clone());
    let happens = || without(bench, comp.reason).map(capitalised);
    Some(caution.or_else(happens).unwrap_or_else(|| "People depend on this part".to_owned()))
}

/// What goes wrong without a part, as the nearest step of its reason says: the field that does not agree, the need, the
/// limit, the seal.
fn without<'a>(bench: &'a Bench<'_>, reason: ReasonId) -> Option<&'a str> {
    let step = bench.arena.get(reason.0 as usize)?;
    match &step.fact {
        Fact::Disagree { says, happens: true, .. } => says.lead(),
        Fact::Wants { why, .. }
        | Fact::Opened { why, .. }
        | Fact::Apart { why, .. }
        | Fact::Pool { why, .. }
        | Fact::Limit { why, .. }
        | Fact::Aged { why, .. }
            if !why.is_empty() =>
        {
            Some(why)
        }
        // who chose what says nothing of what happens
        Fact::Chosen { .. } | Fact::AsFound { .. } | Fact::InBox { .. } | Fact::LeftEmpty { .. } => None,
        _ => step.premises.iter().find_map(|premise| without(bench, *premise)),
    }
}

fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Required companions that are left out: each with the places that go without it.
pub(super) fn left_out(bench: &Bench<'_>, comps: &[Comp]) -> Vec<(CompanionKey, Vec<PositionId>)> {
    let left_out = comps.iter().filter(|c| c.level == Level::Required && bench.is_waived(c.key));
    left_out.map(|c| (bench.companion_key(c.key), places(bench, c))).collect()
}

fn places(bench: &Bench<'_>, comp: &Comp) -> Vec<PositionId> {
    match comp.key {
        Key::Bridge(joint, _) | Key::Cap(joint) | Key::Open(joint, ..) => {
            let ends = bench.v.joints[joint].ends.iter().map(|(pos, _)| *pos);
            ends.filter(|pos| bench.slot(*pos).part.is_some()).collect()
        }
        Key::Fill(pos) | Key::Survey(pos) | Key::Age(pos) | Key::Beside(pos) => vec![pos],
        Key::Need(..) | Key::Apart(..) | Key::Fluid(..) => comp.cause.into_iter().collect(),
    }
}

#[cfg(test)]
mod tests;
