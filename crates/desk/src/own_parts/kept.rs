//! Parts being typed, kept on disk until they are saved or thrown away: closing the window loses none of them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use knockon_store::claim::{self, Claim};
use serde::{Deserialize, Serialize};

use crate::own_parts::draft::Draft;
use crate::own_parts::field::{Field, PoolRow};
use crate::own_parts::shelf::Shelf;
use crate::own_parts::state::Target;

/// What was typed of one part.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Typed {
    position: String,
    id: Option<String>,
    start: Option<String>,
    name: String,
    price: String,
    hours: String,
    supplier: String,
    /// Port name (empty for a figure of the part), field id, text.
    fields: Vec<(String, String, String)>,
    /// Gives rather than takes, pool id, text.
    pools: Vec<(bool, String, String)>,
}

/// What is on disk, and what of it has no place on the vehicle that is open.
#[derive(Default)]
pub struct Kept {
    pub written: BTreeMap<Target, Draft>,
    /// Where they are kept; each window has a file of its own.
    pub file: Option<(PathBuf, Claim)>,
    pub elsewhere: Vec<Typed>,
    /// They are just being written.
    pub writing: bool,
}

impl Typed {
    pub fn of(draft: &Draft) -> Self {
        let port_fields = draft.ports.iter().flat_map(|p| p.fields.iter().map(|f| (p.name.clone(), f)));
        let figures = draft.figures.iter().map(|f| (String::new(), f));
        let touched = port_fields.chain(figures).filter(|(_, f)| f.touched);
        Self {
            position: draft.position.clone(),
            id: draft.id.clone(),
            start: draft.start.clone(),
            name: draft.name.clone(),
            price: draft.price.clone(),
            hours: draft.hours.clone(),
            supplier: draft.supplier.clone(),
            fields: touched.map(|(port, f)| (port, f.id.clone(), f.text.clone())).collect(),
            pools: draft.pools.iter().map(|r| (r.gives, r.field.id.clone(), r.field.text.clone())).collect(),
        }
    }

    pub fn draft(&self, shelf: &Shelf<'_>) -> Option<(Target, Draft)> {
        let (target, mut draft) = match &self.id {
            Some(id) => (Target::Part(id.clone()), Draft::of(shelf, id)?),
            None => (
                Target::Place(self.position.clone()),
                Draft::new(shelf, &self.position, self.start.as_deref())?,
            ),
        };
        draft.name.clone_from(&self.name);
        draft.price.clone_from(&self.price);
        draft.hours.clone_from(&self.hours);
        draft.supplier.clone_from(&self.supplier);
        let put = |port: &str, field: &mut Field| {
            if let Some((.., text)) = self.fields.iter().find(|(p, id, _)| p == port && *id == field.id) {
                field.text.clone_from(text);
                field.touched = true;
            }
        };
        for port in &mut draft.ports {
            let name = port.name.clone();
            port.fields.iter_mut().for_each(|f| put(&name, f));
        }
        draft.figures.iter_mut().for_each(|f| put("", f));
        let row = |(gives, id, text): &(bool, String, String)| {
            let field = Field { text: text.clone(), touched: true, ..shelf.pool(id)? };
            Some(PoolRow { gives: *gives, field })
        };
        draft.pools = self.pools.iter().filter_map(row).collect();
        Some((target, draft))
    }
}

/// What a window left behind, else a new file.
pub fn file(home: &Path) -> Option<(PathBuf, Claim)> {
    let stem = "parts-begun";
    claim::first(home, stem, true).or_else(|| claim::first(home, stem, false))
}
