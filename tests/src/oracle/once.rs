//! A service that several ask for is done once.

use std::collections::BTreeMap;

use super::{Comp, Oracle};

/// The order of keys: by kind, then by the ids in them.
pub(super) fn order(key: &str) -> (usize, Vec<&str>) {
    let kinds = ["bridge", "cap", "position", "need", "joint", "apart", "beside", "fluid", "survey"];
    let pieces: Vec<&str> = key.split(':').collect();
    (kinds.iter().position(|kind| *kind == pieces[0]).unwrap_or(kinds.len()), pieces)
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
            group.sort_by(|a, b| order(&a.key).cmp(&order(&b.key)));
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
