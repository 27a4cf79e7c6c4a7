//! Stable keys of companions and checks, as edits and files refer to them.

use super::bench::{Bench, CheckKey, Key};
use crate::catalogue::Ix;

impl Key {
    /// A number that orders keys as they order themselves, and faster.
    pub fn order(self) -> u128 {
        let cause = |pos: Option<Ix>| pos.map_or(0, |p| u64::from(p) + 1);
        let (kind, a, b, c): (u128, u64, Ix, Ix) = match self {
            Self::Bridge(joint, n) => (0, joint.into(), n.into(), 0),
            Self::Cap(joint) => (1, joint.into(), 0, 0),
            Self::Fill(pos) => (2, pos.into(), 0, 0),
            Self::Need(pos, asker, need) => (3, cause(pos), asker, need),
            Self::Open(joint, class, n) => (4, joint.into(), class, n.into()),
            Self::Apart(opening, class) => (5, opening.into(), class, 0),
            Self::Beside(pos) => (6, pos.into(), 0, 0),
            Self::Fluid(class, n) => (7, class.into(), n.into(), 0),
            Self::Survey(pos) => (8, pos.into(), 0, 0),
        };
        (kind << 104) | (u128::from(a) << 64) | (u128::from(b) << 32) | u128::from(c)
    }
}

impl<'a> Bench<'a> {
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
            Key::Open(j, c, 0) => format!("joint:{}:{}", joint(j), class(c)),
            Key::Open(j, c, n) => format!("joint:{}:{}:{n}", joint(j), class(c)),
            Key::Apart(o, c) => format!("apart:{}:{}", self.cat.openings[o as usize].id, class(c)),
            Key::Beside(p) => format!("beside:{}", pos(p)),
            Key::Fluid(c, 0) => format!("fluid:{}", class(c)),
            Key::Fluid(c, n) => format!("fluid:{}:{n}", class(c)),
            Key::Survey(p) => format!("survey:{}", pos(p)),
        }
    }

    /// Why the owner leaves a companion out, and the key that says so: its own, that of the first container of its
    /// fluid, or that of another who asks for the same service.
    pub fn left_out(&self, key: Key) -> Option<(Key, &'a String)> {
        let waived = &self.plan.waived;
        if waived.is_empty() {
            return None;
        }
        let first = match key {
            Key::Fluid(class, n) if n > 0 => Some(Key::Fluid(class, 0)),
            _ => None,
        };
        let said = |key: Key| waived.get(&self.key_text(key)).map(|reason| (key, reason));
        first.and_then(said).or_else(|| said(key)).or_else(|| self.asked_with(key).find_map(said))
    }

    pub fn is_waived(&self, key: Key) -> bool {
        self.left_out(key).is_some()
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
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_of_keys_is_that_of_their_numbers() {
        let mut all = Vec::new();
        for a in [0, 1, 7, Ix::MAX] {
            all.extend([Key::Cap(a), Key::Fill(a), Key::Beside(a), Key::Survey(a)]);
            for b in [0, 2, Ix::MAX] {
                all.extend([Key::Bridge(a, b as u8), Key::Apart(a, b), Key::Fluid(a, b as u16)]);
                for c in [0, 3, Ix::MAX] {
                    all.extend([Key::Need(None, b, c), Key::Need(Some(a), b, c), Key::Open(a, b, c as u8)]);
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
