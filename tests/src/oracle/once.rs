//! A service that several ask for is done once.

use std::collections::BTreeMap;

use knockon_core::key::CompanionKey;

use super::{Comp, Oracle};

/// The order of keys: by kind, then by the ids in them.
pub(super) fn order(key: &CompanionKey) -> (usize, CompanionKey) {
    let kind = match key {
        CompanionKey::Bridge { .. } => 0,
        CompanionKey::Cap { .. } => 1,
        CompanionKey::Fill { .. } => 2,
        CompanionKey::Need { .. } => 3,
        CompanionKey::Seal { .. } => 4,
        CompanionKey::Apart { .. } => 5,
        CompanionKey::Beside { .. } => 6,
        CompanionKey::Fluid { .. } => 7,
        CompanionKey::Survey { .. } => 8,
        CompanionKey::Age { .. } => 9,
    };
    (kind, key.clone())
}

impl<'a> Oracle<'a> {
    pub(super) fn services_once(&mut self) {
        let mut asked: BTreeMap<&'a str, Vec<Comp<'a>>> = BTreeMap::new();
        let (mut stay, all) = (Vec::new(), std::mem::take(&mut self.comps));
        for comp in all {
            if self.lib.classes[&self.part(comp.part).class].service && comp.position.is_none() {
                asked.entry(comp.part).or_default().push(comp);
            } else {
                stay.push(comp);
            }
        }
        for (_, mut group) in asked {
            group.sort_by_key(|c| order(&c.key));
            let Some(mut first) = group.first().cloned() else { continue };
            for other in &group[1..] {
                first.qty = first.qty.max(other.qty);
                first.level = first.level.min(other.level);
                self.once.entry(first.key.clone()).or_default().push(other.key.clone());
            }
            stay.push(first);
        }
        self.comps = stay;
    }
}
