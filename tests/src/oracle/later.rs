//! What is to be done later: what opened joints and openings ask for, a thing told once; and what falls due by a day.

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::key::CompanionKey;
use knockon_core::library::Level;
use knockon_core::sheet::Route;

use super::opened::{Open, Renewals};
use super::{Later, Oracle};

impl<'a> Oracle<'a> {
    pub(super) fn later(&mut self, open: &Open<'a>, renewed: &Renewals<'a>) {
        let mut all: BTreeMap<&'a str, Later> = BTreeMap::new();
        let mut ask =
            |again: &'a knockon_core::library::Again, level, places: &[&'a str], keys: Vec<CompanionKey>| {
                let entry = all.entry(&again.what).or_insert_with(|| Later {
                    what: again.what.clone(),
                    when: BTreeSet::new(),
                    level: Level::Advised,
                    positions: BTreeSet::new(),
                    companions: BTreeSet::new(),
                });
                entry.when.extend(again.after.iter().cloned());
                entry.level = entry.level.min(level);
                entry.positions.extend(places.iter().map(|p| (*p).to_owned()));
                entry.companions.extend(keys);
            };
        for (joint, def) in self.v.joints.iter().filter(|(joint, _)| !self.superseded(joint)) {
            let places: BTreeSet<&'a str> =
                def.ends.iter().map(|e| e.at.as_str()).filter(|p| open.contains_key(p)).collect();
            let places: Vec<&'a str> = places.into_iter().collect();
            let meeting = self.meeting(joint);
            let Some(level) = Self::call(open, &places).filter(|_| meeting.len() >= 2) else { continue };
            let keys = self.keys_of(&places, |key| {
                matches!(key, CompanionKey::Seal { joint: j, .. } | CompanionKey::Bridge { joint: j, .. } if j == joint)
            });
            let steps = self.chains.get(joint.as_str()).into_iter().flatten();
            let ports = std::iter::once(meeting[0].1).chain(steps.map(|step| step.leave));
            for port in ports {
                for again in &self.lib.port_types[&port.port_type].later {
                    ask(again, level, &places, keys.clone());
                }
            }
        }
        for spot in self.spots() {
            let places: Vec<&'a str> =
                self.places(&spot).into_iter().filter(|p| open.contains_key(p)).collect();
            let Some(level) = Self::call(open, &places) else { continue };
            let keys = self.keys_of(&places, |key| match key {
                CompanionKey::Beside { position } => {
                    renewed.get(position.as_str()).is_some_and(|r| r.by.as_ref() == Some(&spot))
                }
                CompanionKey::Apart { opening, at, .. } => {
                    *opening == spot.opening && (at.is_empty() || spot.words.words().eq(at.iter()))
                }
                _ => false,
            });
            for again in &self.lib.openings[spot.opening].later {
                ask(again, level, &places, keys.clone());
            }
        }
        self.later.extend(all.into_values());
        self.due(open, renewed);
    }

    /// Companions that are of an asker's own, or sit where it is open.
    fn keys_of(&self, places: &[&str], own: impl Fn(&CompanionKey) -> bool) -> Vec<CompanionKey> {
        let here = |pos: Option<&str>| pos.is_some_and(|p| places.contains(&p));
        let comps = self.comps.iter().filter(|c| own(&c.key) || here(c.position)).map(|c| c.key.clone());
        let fills = self.fills.keys().filter(|p| here(Some(p))).map(|p| CompanionKey::fill(*p));
        comps.chain(fills).collect()
    }

    fn due(&mut self, open: &Open<'a>, renewed: &Renewals<'a>) {
        let mut out = Vec::new();
        let mut tell = |what: String,
                        due: Option<(super::ages::Day, bool)>,
                        is_safety,
                        places: Vec<&str>,
                        key: Option<CompanionKey>| {
            let Some(((year, month, day), over)) = due else { return };
            let word = if over { "due since" } else { "by" };
            out.push(Later {
                what: format!("new {}", what.to_lowercase()),
                when: [format!("{word} {year:04}-{month:02}-{day:02}")].into(),
                level: if is_safety { Level::Required } else { Level::Advised },
                positions: places.into_iter().map(str::to_owned).collect(),
                companions: key.into_iter().collect(),
            });
        };
        for (pos, def) in &self.v.positions {
            let Some(lasts) = self.lasts(&def.class) else { continue };
            let renewal = renewed.get(pos.as_str()).filter(|_| self.is_renewed(pos, renewed));
            let kept = self.kept(pos).filter(|_| renewal.is_none());
            let Some(part) = kept.or(renewal.map(|r| r.part)).or(self.slots[pos.as_str()].part) else {
                continue;
            };
            let rebuilt = self.plan.routes.get(pos).is_some_and(|c| c.route == Route::Rebuild);
            let line = if rebuilt { format!("{part}.rebuild") } else { part.to_owned() };
            let bought = kept.is_none().then_some(line.as_str());
            let due = self.falls_due(lasts, self.sheet.made.get(pos), bought);
            let is_safety = lasts.safety || self.part(part).safety;
            tell(def.name.clone(), due, is_safety, vec![pos], renewal.map(|r| r.key.clone()));
        }
        for (circuit, def) in &self.v.circuits {
            let Some(lasts) = self.lasts(&def.fluid) else { continue };
            let places: Vec<&str> =
                def.positions.iter().map(String::as_str).filter(|p| self.slots[p].part.is_some()).collect();
            if places.is_empty() {
                continue;
            }
            let key = CompanionKey::Fluid { class: def.fluid.clone(), n: 0 };
            let filled = self.runs_out(circuit, open).is_some() && !self.plan.waived.contains_key(&key);
            let fluid = self.comps.iter().find(|c| c.key == key).map(|c| c.part);
            let due = match (filled, fluid) {
                (true, None) => None,
                (true, fluid) => self.falls_due(lasts, None, fluid),
                (false, _) => self.falls_due(lasts, self.sheet.made.get(circuit), None),
            };
            let what = format!("{}: {}", def.name, self.lib.classes[&def.fluid].name);
            tell(what, due, lasts.safety, places, filled.then_some(key));
        }
        self.later.extend(out);
    }
}
