//! The numbers that the engine knows companions and checks by, and the keys that edits and files refer to them by: one is
//! turned into the other here and nowhere else.

use super::bench::{Bench, CheckKey, Key};
use super::ground::Ground;
use crate::catalogue::{ClassId, JointId, NeedId, OpeningPlaces, PartId, PositionId};
use crate::grammar::{low, lower, verb};
use crate::key::{self, CompanionKey};

impl Key {
    /// A number that orders keys as they order themselves, and faster.
    pub fn order(self) -> u128 {
        let cause = |pos: Option<PositionId>| pos.map_or(0, |p| u64::from(p.number()) + 1);
        let (kind, a, b, c): (u128, u64, u32, u32) = match self {
            Self::Bridge(joint, n) => (0, joint.number().into(), n.into(), 0),
            Self::Cap(joint) => (1, joint.number().into(), 0, 0),
            Self::Fill(pos) => (2, pos.number().into(), 0, 0),
            Self::Need(pos, asker, need) => (3, cause(pos), asker.number(), need.number()),
            Self::Open(joint, class, n) => (4, joint.number().into(), class.number(), n.into()),
            Self::Apart(spot, class) => (5, spot.number().into(), class.number(), 0),
            Self::Beside(pos) => (6, pos.number().into(), 0, 0),
            Self::Fluid(class, n) => (7, class.number().into(), n.into(), 0),
            Self::Survey(pos) => (8, pos.number().into(), 0, 0),
            Self::Age(pos) => (9, pos.number().into(), 0, 0),
        };
        (kind << 104) | (u128::from(a) << 64) | (u128::from(b) << 32) | u128::from(c)
    }
}

impl<'a> Bench<'a> {
    /// The key of a companion with the ids that its numbers stand for.
    pub fn companion_key(&self, key: Key) -> CompanionKey {
        let position = |p: PositionId| self.v.positions[p].id.clone();
        let joint = |j: JointId| self.v.joints[j].id.clone();
        let class = |c: ClassId| self.cat.class_names.id(c).to_owned();
        match key {
            Key::Bridge(j, n) => CompanionKey::Bridge { joint: joint(j), n: n.into() },
            Key::Cap(j) => CompanionKey::Cap { joint: joint(j) },
            Key::Fill(p) => CompanionKey::Fill { position: position(p) },
            Key::Need(cause, asker, need) => {
                let (cause, asker, need) = self.need_ids(cause, asker, need);
                CompanionKey::Need { cause, asker, need }
            }
            Key::Open(j, c, n) => CompanionKey::Seal { joint: joint(j), class: class(c), n: n.into() },
            Key::Apart(o, c) => {
                let here = &self.v.openings[o];
                let opening = self.cat.openings[here.opening].id.clone();
                let at = here.spot.words().map(str::to_owned).collect();
                CompanionKey::Apart { opening, at, class: class(c) }
            }
            Key::Beside(p) => CompanionKey::Beside { position: position(p) },
            Key::Fluid(c, n) => CompanionKey::Fluid { class: class(c), n: n.into() },
            Key::Survey(p) => CompanionKey::Survey { position: position(p) },
            Key::Age(p) => CompanionKey::Age { position: position(p) },
        }
    }

    /// Why the owner leaves a companion out, and the key that says so: its own, that of the first container of its
    /// fluid, or that of another who asks for the same service.
    pub fn left_out(&self, key: Key) -> Option<(Key, &'a str)> {
        let waived = &self.ground.waived;
        if waived.is_empty() {
            return None;
        }
        let first = match key {
            Key::Fluid(class, n) if n > 0 => Some(Key::Fluid(class, 0)),
            _ => None,
        };
        let said = |key: Key| waived.get(&key).map(|why| (key, *why));
        first.and_then(said).or_else(|| said(key)).or_else(|| self.asked_with(key).find_map(said))
    }

    pub fn is_waived(&self, key: Key) -> bool {
        self.left_out(key).is_some()
    }

    /// The key of a check with the ids that its numbers stand for.
    pub fn check_key(&self, key: CheckKey) -> key::CheckKey {
        match key {
            CheckKey::Joint(j) => key::CheckKey::joint(&self.v.joints[j].id),
            CheckKey::Pool(p) => key::CheckKey::pool(self.cat.pool_names.id(p)),
            CheckKey::Limit(l) => {
                let apart = self.v.limits[l].apart.iter();
                let at = apart.map(|p| self.v.positions[*p].id.clone()).collect();
                key::CheckKey::Limit { limit: self.limit_of(l).id.clone(), at }
            }
            CheckKey::Need(cause, asker, need) => {
                let (cause, asker, need) = self.need_ids(cause, asker, need);
                key::CheckKey::Need { cause, asker, need }
            }
            CheckKey::Age(p) => key::CheckKey::Age { position: self.v.positions[p].id.clone() },
            CheckKey::Port(p, port) => key::CheckKey::Port {
                position: self.v.positions[p].id.clone(),
                port: self.cat.port_names.id(port).to_owned(),
            },
            CheckKey::FluidAge(c) => key::CheckKey::FluidAge { circuit: self.v.circuits[c].id.clone() },
        }
    }

    fn need_ids(
        &self,
        cause: Option<PositionId>,
        asker: PartId,
        need: NeedId,
    ) -> (Option<String>, String, String) {
        let cause = cause.map(|p| self.v.positions[p].id.clone());
        (cause, self.cat.part_names.id(asker).to_owned(), self.cat.need_names.id(need).to_owned())
    }

    pub fn check_name(&self, key: CheckKey) -> String {
        match key {
            CheckKey::Joint(j) => self.v.joints[j].name.clone(),
            CheckKey::Pool(p) => self.cat.pools[p].def.name.clone(),
            CheckKey::Limit(l) => self.limit_name(l),
            CheckKey::Need(_, asker, need) => {
                let asker = self.name(asker);
                format!("{} {} {}", low(&asker), verb(&asker, "needs"), self.cat.needs[need].name)
            }
            CheckKey::Age(p) => format!("age of {}", lower(&self.place(p))),
            CheckKey::Port(p, port) => self.port_of_place(p, port),
            CheckKey::FluidAge(c) => format!("age of the fluid: {}", self.v.circuits[c].name),
        }
    }
}

impl Ground<'_> {
    /// The numbers of a companion's key; `None` where it names what this vehicle or library does not have.
    pub(super) fn numbered(&self, key: &CompanionKey) -> Option<Key> {
        let position = |id: &String| self.v.position_ix.get(id).copied();
        let joint = |id: &String| self.v.joints.search_by(|j| j.id.cmp(id));
        let class = |id: &String| self.cat.class_names.get(id);
        Some(match key {
            CompanionKey::Bridge { joint: j, n } => Key::Bridge(joint(j)?, u8::try_from(*n).ok()?),
            CompanionKey::Cap { joint: j } => Key::Cap(joint(j)?),
            CompanionKey::Fill { position: p } => Key::Fill(position(p)?),
            CompanionKey::Need { cause, asker, need } => {
                let cause = match cause {
                    Some(p) => Some(position(p)?),
                    None => None,
                };
                Key::Need(cause, self.cat.part_names.get(asker)?, self.cat.need_names.get(need)?)
            }
            CompanionKey::Seal { joint: j, class: c, n } => {
                Key::Open(joint(j)?, class(c)?, u8::try_from(*n).ok()?)
            }
            CompanionKey::Apart { opening, at, class: c } => {
                let is_it = |here: &OpeningPlaces| {
                    self.cat.openings[here.opening].id == *opening && here.spot.words().eq(at)
                };
                Key::Apart(self.v.openings.position(is_it)?, class(c)?)
            }
            CompanionKey::Beside { position: p } => Key::Beside(position(p)?),
            CompanionKey::Fluid { class: c, n } => Key::Fluid(class(c)?, u16::try_from(*n).ok()?),
            CompanionKey::Survey { position: p } => Key::Survey(position(p)?),
            CompanionKey::Age { position: p } => Key::Age(position(p)?),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::SpotId;

    #[test]
    fn the_order_of_keys_is_that_of_their_numbers() {
        let mut all = Vec::new();
        let id = |number: u32| number as usize;
        for a in [0, 1, 7, u32::MAX].map(id) {
            let (joint, pos, spot) = (JointId::new(a), PositionId::new(a), SpotId::new(a));
            all.extend([Key::Cap(joint), Key::Fill(pos), Key::Beside(pos), Key::Survey(pos), Key::Age(pos)]);
            for b in [0, 2, u32::MAX].map(id) {
                let (class, asker) = (ClassId::new(b), PartId::new(b));
                all.extend([Key::Bridge(joint, b as u8), Key::Apart(spot, class)]);
                all.push(Key::Fluid(ClassId::new(a), b as u16));
                for c in [0, 3, u32::MAX].map(id) {
                    let need = NeedId::new(c);
                    all.extend([Key::Need(None, asker, need), Key::Need(Some(pos), asker, need)]);
                    all.push(Key::Open(joint, class, c as u8));
                }
            }
        }
        for a in &all {
            for b in &all {
                assert_eq!(a.cmp(b), a.order().cmp(&b.order()), "{a:?} and {b:?}");
            }
        }
    }
}
