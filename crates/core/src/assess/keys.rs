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
            Self::Fluid(class) => (7, class.into(), 0, 0),
            Self::Survey(pos) => (8, pos.into(), 0, 0),
            Self::Age(pos) => (9, pos.into(), 0, 0),
        };
        (kind << 104) | (u128::from(a) << 64) | (u128::from(b) << 32) | u128::from(c)
    }
}

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
            Key::Open(j, c, 0) => format!("joint:{}:{}", joint(j), class(c)),
            Key::Open(j, c, n) => format!("joint:{}:{}:{n}", joint(j), class(c)),
            Key::Apart(o, c) => format!("apart:{}:{}", self.cat.openings[o as usize].id, class(c)),
            Key::Beside(p) => format!("beside:{}", pos(p)),
            Key::Fluid(c) => format!("fluid:{}", class(c)),
            Key::Survey(p) => format!("survey:{}", pos(p)),
            Key::Age(p) => format!("age:{}", pos(p)),
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
            CheckKey::Age(p) => format!("age:{}", self.v.positions[p as usize].id),
            CheckKey::FluidAge(c) => format!("fluid-age:{}", self.v.circuits[c as usize].id),
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
            CheckKey::Age(p) => format!("age of {}", self.place(p).to_lowercase()),
            CheckKey::FluidAge(c) => format!("age of the fluid: {}", self.v.circuits[c as usize].name),
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
            all.extend([
                Key::Cap(a),
                Key::Fill(a),
                Key::Beside(a),
                Key::Fluid(a),
                Key::Survey(a),
                Key::Age(a),
            ]);
            for b in [0, 2, Ix::MAX] {
                all.extend([Key::Bridge(a, b as u8), Key::Apart(a, b)]);
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
