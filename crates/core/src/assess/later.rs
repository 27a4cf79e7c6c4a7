//! What is to be done later: again after some way or time, as openings and opened joints ask for it; and by a day, where
//! what stays on the vehicle has a date and does not last for ever.

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]
mod tests;

use std::collections::BTreeMap;

use smallvec::SmallVec;

use super::ages::{Age, Aging};
use super::bench::{Bench, Comp, Key};
use super::renewals::Opened;
use crate::assessment::Later;
use crate::catalogue::{AgainEntry, PartId, PortTypeId, PositionId};
use crate::date::{Date, Dated};
use crate::grammar::lower;
use crate::library::Level;
use crate::line_id::Of;
use crate::quantity::Quantity;
use crate::reason::{Fact, ReasonId};
use crate::sheet::{LineState, Route};
use crate::units::Dimension;

/// Something to be done later, as it is found.
#[derive(Clone, Debug)]
pub(crate) struct DoneLater {
    what: String,
    after: Vec<Quantity>,
    /// The last day on which it is surely not over its age, and whether that is over.
    due: Option<(Date, bool)>,
    level: Level,
    positions: Vec<PositionId>,
    companions: Vec<Key>,
    reason: ReasonId,
}

/// One thing to be done again, with all that asks for it.
struct Asked<'a> {
    after: Vec<Quantity>,
    level: Level,
    positions: Vec<PositionId>,
    companions: Vec<Key>,
    /// Names of what was opened.
    opened: Vec<&'a str>,
    why: &'a str,
    premises: Vec<ReasonId>,
}

/// What falls due by a day.
struct Due<'a, 'g, T> {
    here: &'g Aging<'a, T>,
    made: Dated,
    age: Age,
    is_safety: bool,
    /// The companion it goes with.
    key: Option<Key>,
}

/// The date of what is kept where it is surely within its age: what is not is renewed or asked for.
fn still_within<T>(here: &Aging<'_, T>) -> Option<(Dated, Age)> {
    here.made.clone().filter(|(_, age)| matches!(age, Age::Within(_)))
}

/// What asks for something to be done again: its name, the places of it that are apart, and whose companions are its own.
struct Asker<'a, 'f> {
    name: &'a str,
    open: SmallVec<[PositionId; 8]>,
    own: &'f dyn Fn(&Comp) -> bool,
}

type All<'a> = BTreeMap<&'a str, Asked<'a>>;

/// Seconds of a day.
const DAY: f64 = 86_400.0;

impl<'a> Bench<'a> {
    pub(super) fn later(&mut self, opened: &Opened) {
        if !self.full {
            return;
        }
        let mut all = All::new();
        self.again_at_joints(opened, &mut all);
        self.again_at_openings(opened, &mut all);
        for (what, asked) in all {
            let fact = Fact::Again {
                what: what.to_owned(),
                after: asked.after.clone(),
                opened: asked.opened.join(", "),
                why: asked.why.to_owned(),
            };
            let reason = self.reason(&asked.premises, |_| fact);
            let Asked { after, level, positions, companions, .. } = asked;
            let what = what.to_owned();
            self.found.later.push(DoneLater { what, after, due: None, level, positions, companions, reason });
        }
        self.due(opened);
        // by distance, by time, by day; short first
        let rank = |l: &DoneLater| {
            let first = l.after.first();
            let kind = first.map_or(2, |q| u8::from(q.dimension != Dimension::Length));
            (kind, first.map_or(0.0, |q| q.si), l.due)
        };
        self.found.later.sort_by(|a, b| {
            let ((a_kind, a_si, a_due), (b_kind, b_si, b_due)) = (rank(a), rank(b));
            a_kind.cmp(&b_kind).then(a_si.total_cmp(&b_si)).then(a_due.cmp(&b_due)).then(a.what.cmp(&b.what))
        });
    }

    /// Every contact of an opened joint asks for what its port type says.
    fn again_at_joints(&self, opened: &Opened, all: &mut All<'a>) {
        if self.cat.port_types.values().all(|t| t.later.is_empty()) {
            return;
        }
        for (joint, entry) in self.v.joints.iter() {
            let open = opened.among(entry.ends.iter().map(|(p, _)| *p));
            if open.is_empty() || self.is_superseded(joint) {
                continue;
            }
            let met = self.met_now(joint);
            let [(_, a), (_, b), ..] = met.ports[..] else { continue };
            let chain = self.found.chains.binary_search_by_key(&joint, |(j, _)| *j).ok();
            let links = chain.map_or(&[][..], |at| &self.found.chains[at].1.links);
            let links = if met.ports.len() == 2 { links } else { &[] };
            let own = |c: &Comp| matches!(c.key, Key::Open(j, ..) | Key::Bridge(j, _) if j == joint);
            let asker = Asker { name: &entry.name, open, own: &own };
            let mut types: SmallVec<[PortTypeId; 4]> = SmallVec::new();
            self.contacts(a, links, b, |x, _| types.push(x.port_type));
            for again in types.iter().flat_map(|t| &self.cat.port_types[*t].later) {
                self.ask_again(again, &asker, opened, all);
            }
        }
    }

    fn again_at_openings(&self, opened: &Opened, all: &mut All<'a>) {
        for (opening, places) in self.v.openings.iter() {
            let entry = &self.cat.openings[places.opening];
            if entry.later.is_empty() {
                continue;
            }
            let open = opened.among(places.places.iter().copied());
            if open.is_empty() {
                continue;
            }
            let own = |c: &Comp| match c.key {
                Key::Apart(o, _) => o == opening,
                Key::Beside(pos) => opened.renewed(pos).is_some_and(|r| r.opening == Some(opening)),
                _ => false,
            };
            let asker = Asker { name: &entry.name, open, own: &own };
            for again in &entry.later {
                self.ask_again(again, &asker, opened, all);
            }
        }
    }

    /// The same words are the same thing to do: all that asks for it is kept beside it.
    fn ask_again(&self, again: &'a AgainEntry, asker: &Asker<'a, '_>, opened: &Opened, all: &mut All<'a>) {
        let asked = all.entry(&again.def.what).or_insert_with(|| Asked {
            after: Vec::new(),
            level: Level::Advised,
            positions: Vec::new(),
            companions: Vec::new(),
            opened: Vec::new(),
            why: &again.def.why,
            premises: Vec::new(),
        });
        for after in &again.after {
            let same =
                |q: &Quantity| q.dimension == after.dimension && (q.si - after.si).abs() < 1e-6 * after.si;
            if !asked.after.iter().any(same) {
                asked.after.push(after.clone());
            }
        }
        asked.after.sort_by(|a, b| {
            // a run of some minutes is over before a way is done, and that before weeks are
            let kind = |q: &Quantity| match q.dimension {
                Dimension::Length => 1,
                _ if q.si < DAY => 0,
                _ => 2,
            };
            kind(a).cmp(&kind(b)).then(a.si.total_cmp(&b.si))
        });
        asked.level = asked.level.min(opened.level(&asker.open));
        asked.positions.extend(&asker.open);
        asked.positions.sort_unstable();
        asked.positions.dedup();
        let here = |c: &Comp| c.position.is_some_and(|p| asker.open.contains(&p));
        self.each_comp(|_, c| {
            if ((asker.own)(c) || here(c)) && !asked.companions.contains(&c.key) {
                asked.companions.push(c.key);
            }
        });
        asked.companions.sort_unstable();
        if !asked.opened.contains(&asker.name) {
            asked.opened.push(asker.name);
        }
        asked.premises.extend(opened.reasons(&asker.open));
    }

    /// What stays on the vehicle, or was fitted on a day, falls due where its kind does not last for ever.
    fn due(&mut self, opened: &Opened) {
        let ground = self.ground;
        for here in &ground.aging {
            let pos = here.at;
            let renewed = opened.renewed(pos).filter(|_| opened.is_renewed(pos));
            let (part, made) = match self.kept(pos).filter(|_| renewed.is_none()) {
                Some(part) => (part, still_within(here)),
                None => {
                    let Some(part) = renewed.map(|r| r.part).or(self.slot(pos).part) else { continue };
                    (part, self.fitted_on(here, part, self.is_rebuilt(pos)))
                }
            };
            let Some((made, age)) = made else { continue };
            let is_safety = here.lasts.def.safety || self.part(part).part.safety;
            let (place, name, slot) = (self.place(pos), self.name(part), self.slot(pos).reason);
            let due = Due { here, made, age, is_safety, key: renewed.map(|r| r.key) };
            self.falls_due(due, &place, name, vec![pos], &[slot]);
        }
        let stale = self.stale();
        for here in &ground.fluids {
            let Some(places) = self.filled(here.at) else { continue };
            let circuit = &self.v.circuits[here.at];
            let key = Key::Fluid(circuit.fluid, 0);
            let is_filled = !self.run_out(here.at, opened, &stale).is_empty() && !self.is_waived(key);
            let comp = self.found.comps.iter().find(|c| c.key == key);
            let made = match is_filled {
                true => comp.and_then(|comp| self.fitted_on(here, comp.part, false)),
                false => still_within(here),
            };
            let Some((made, age)) = made else { continue };
            let fluid = self.cat.classes[circuit.fluid].name.clone();
            let place = format!("{}: {}", circuit.name, fluid.to_lowercase());
            let is_safety = here.lasts.def.safety;
            let due = Due { here, made, age, is_safety, key: is_filled.then_some(key) };
            let premises = self.reasons_of(places.iter().copied());
            self.falls_due(due, &place, fluid, places.to_vec(), &premises);
        }
    }

    fn is_rebuilt(&self, pos: PositionId) -> bool {
        self.owner[pos].is_some_and(|(route, _)| route == Route::Rebuild)
    }

    /// The day the buying record says a part was fitted on, and how that stands.
    fn fitted_on<T>(&self, here: &Aging<'a, T>, part: PartId, rebuilt: bool) -> Option<(Dated, Age)> {
        let id = self.cat.part_names.id(part);
        let line = match rebuilt {
            true => self.sheet.lines.get(&Of::Rebuild.id(id)),
            false => self.sheet.lines.get(id),
        };
        let line = line.filter(|l| l.state == LineState::Fitted)?;
        let made = Dated::parse(line.fitted.as_deref()?).ok()?;
        let age = Age::of(&made, &here.lasts.time, self.cat.as_of?)?;
        Some((made, age))
    }

    fn falls_due<T>(
        &mut self,
        due: Due<'a, '_, T>,
        place: &str,
        part: String,
        positions: Vec<PositionId>,
        premises: &[ReasonId],
    ) {
        let Due { here, made, age, is_safety, key } = due;
        let due = match age {
            Age::Within(day) => (day, false),
            Age::Open(day) => (day, true),
            Age::Over => match here.lasts.time.after(made.first) {
                Some(day) => (day, true),
                None => return,
            },
        };
        let lasts = here.lasts.time.to_string();
        let fact = Fact::Due {
            place: place.to_owned(),
            part,
            made: made.text.clone(),
            lasts,
            why: here.lasts.def.why.clone(),
        };
        let reason = self.reason(premises, |_| fact);
        self.found.later.push(DoneLater {
            what: format!("new {}", lower(place)),
            after: Vec::new(),
            due: Some(due),
            level: if is_safety { Level::Required } else { Level::Advised },
            positions,
            companions: key.into_iter().collect(),
            reason,
        });
    }

    /// What is to be done later, in ids.
    pub(super) fn told_later(&self) -> Vec<Later> {
        let one = |l: &DoneLater| Later {
            what: l.what.clone(),
            after: l.after.clone(),
            due: l.due.map(|(day, _)| day),
            overdue: l.due.is_some_and(|(_, over)| over),
            level: l.level,
            positions: l.positions.iter().map(|p| self.v.positions[*p].id.clone()).collect(),
            companions: l.companions.iter().map(|k| self.companion_key(*k)).collect(),
            reason: l.reason,
        };
        self.found.later.iter().map(one).collect()
    }
}
