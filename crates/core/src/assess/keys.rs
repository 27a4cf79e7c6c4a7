//! Stable keys of companions and checks, as edits and files refer to them.

use super::bench::{Bench, CheckKey, Key};
use crate::catalogue::Ix;

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
            Key::Fluid(c) => format!("fluid:{}", class(c)),
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
}
