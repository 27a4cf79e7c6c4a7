//! Parts being typed, kept on disk until they are saved or thrown away: closing the window loses none of them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::app::App;
use crate::claim::{self, Claim};
use crate::draft::Draft;
use crate::draft_field::{Field, PoolRow};
use crate::parts::Target;
use crate::shelf::Shelf;

/// What was typed of one part.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
struct Typed {
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
    written: BTreeMap<Target, Draft>,
    /// Where they are kept; each window has a file of its own.
    file: Option<(PathBuf, Claim)>,
    elsewhere: Vec<Typed>,
}

impl Typed {
    fn of(draft: &Draft) -> Self {
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

    fn draft(&self, shelf: &Shelf<'_>) -> Option<(Target, Draft)> {
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
fn file(home: &Path) -> Option<(PathBuf, Claim)> {
    let stem = "parts-begun";
    claim::first(home, stem, true).or_else(|| claim::first(home, stem, false))
}

impl App {
    /// Takes in what the last session left; called once.
    pub(crate) fn read_drafts(&mut self) {
        self.kept.file = self.home.as_deref().and_then(file);
        let text = self.kept.file.as_ref().and_then(|(file, _)| std::fs::read_to_string(file).ok());
        self.kept.elsewhere = text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default();
        self.place_drafts();
    }

    /// Gives what was kept its place, where the vehicle that is open has one.
    pub(crate) fn place_drafts(&mut self) {
        let shelf = Shelf::new(self.catalogue(), self.document.sheet());
        let (mut placed, mut elsewhere) = (Vec::new(), Vec::new());
        for typed in &self.kept.elsewhere {
            match typed.draft(&shelf) {
                Some(pair) => placed.push(pair),
                None => elsewhere.push(typed.clone()),
            }
        }
        for (target, draft) in placed {
            self.view.parts.drafts.entry(target).or_insert(draft);
        }
        self.kept.elsewhere = elsewhere;
    }

    /// Writes what is being typed, where that has changed.
    pub(crate) fn keep_drafts(&mut self) {
        if self.kept.written == self.view.parts.drafts {
            return;
        }
        self.kept.written.clone_from(&self.view.parts.drafts);
        let Some((file, _)) = &self.kept.file else { return };
        let typed = self.kept.written.values().map(Typed::of);
        let all: Vec<Typed> = typed.chain(self.kept.elsewhere.iter().cloned()).collect();
        let written = if all.is_empty() {
            std::fs::remove_file(file).or_else(|e| match e.kind() {
                std::io::ErrorKind::NotFound => Ok(()),
                _ => Err(e),
            })
        } else {
            let folder = file.parent().map_or(Ok(()), std::fs::create_dir_all);
            folder
                .and_then(|()| serde_json::to_string(&all).map_err(std::io::Error::other))
                .and_then(|text| std::fs::write(file, text))
        };
        if let Err(why) = written {
            self.trouble(format!(
                "What is typed cannot be kept in {}: {why}. Save the part to be safe.",
                file.display()
            ));
        }
    }
}
