//! What the form for the user's own parts asks of the library: parts to start from, names and kinds of values.

use knockon_core::catalogue::ForSheet;
use knockon_core::described::id::from_name;
use knockon_core::library::{FieldDef, Part, Port, Rule, Table};
use knockon_core::units::Dimension;
use knockon_core::value::Kind;
use knockon_core::{Catalogue, Sheet};
use serde_json::Value as Json;

use crate::own_parts::field::{DraftPort, Field};

/// Names and kinds of the library that the form needs.
pub struct Shelf<'a> {
    catalogue: ForSheet<'a>,
    sheet: &'a Sheet,
    /// The user's own parts in full.
    own: Table<Part>,
}

impl<'a> Shelf<'a> {
    /// Over a library and the parts of a sheet.
    pub fn new(catalogue: &'a Catalogue, sheet: &'a Sheet) -> Self {
        Self { catalogue: catalogue.for_sheet(sheet), sheet, own: catalogue.parts_of(sheet) }
    }

    /// A part by id, the user's own first.
    pub fn part(&self, id: &str) -> Option<&Part> {
        self.own.get(id).or_else(|| self.catalogue.part(id).map(|entry| &*entry.part))
    }

    /// Class of a position of the sheet's vehicle.
    pub fn class_at(&self, position: &str) -> Option<String> {
        let vehicle = self.catalogue.vehicles.get(&self.sheet.vehicle)?;
        let entry = vehicle.positions.values().find(|p| p.id == position)?;
        Some(self.catalogue.class_names.id(entry.class).to_owned())
    }

    /// The first position of the sheet's vehicle that takes a class.
    pub fn position_of(&self, class: &str) -> Option<String> {
        let vehicle = self.catalogue.vehicles.get(&self.sheet.vehicle)?;
        let ix = self.catalogue.class_names.get(class)?;
        vehicle.positions.values().find(|p| p.class == ix).map(|p| p.id.clone())
    }

    /// Parts a draft of a class can start from: id and name.
    pub fn starts(&self, class: &str) -> Vec<(String, String)> {
        let own =
            self.own.iter().filter(|(_, p)| p.class == class).map(|(id, p)| (id.clone(), p.name.clone()));
        let ix = self.catalogue.class_names.get(class);
        let listed = ix.and_then(|ix| self.catalogue.by_class.get(ix)).into_iter().flatten();
        let listed = listed.map(|ix| self.catalogue.part_names.id(*ix)).filter_map(|id| {
            let part = self.part(id).filter(|_| !self.own.contains_key(id))?;
            part.contents.is_empty().then(|| (id.to_owned(), part.name.clone()))
        });
        own.chain(listed).collect()
    }

    /// Pools by name as shown: id, name.
    pub fn pools(&self) -> Vec<(String, String)> {
        let names = &self.catalogue.pool_names;
        names
            .ids
            .values()
            .zip(self.catalogue.pools.values())
            .map(|(id, pool)| (id.clone(), pool.def.name.clone()))
            .collect()
    }

    /// An empty value of a pool.
    pub fn pool(&self, id: &str) -> Option<Field> {
        let pool = self.catalogue.pools.get(self.catalogue.pool_names.get(id)?)?;
        Some(field(id, &pool.def.name, Kind::from_word(&pool.def.kind)?, false))
    }

    /// An empty figure.
    pub fn figure(&self, id: &str) -> Option<Field> {
        let (name, kind, how) = self.catalogue.figures.get(self.catalogue.figure_names.get(id)?)?;
        // a length may be an offset; of nothing else can there be less than nothing
        let signed = *kind == Kind::Dimension(Dimension::Length);
        Some(Field { how: how.clone(), signed, ..field(id, name, *kind, true) })
    }

    /// A port of a part, its fields in the order of its type.
    pub fn port(&self, name: &str, port: &Port) -> Option<DraftPort> {
        let ix = self.catalogue.port_type_names.get(&port.port_type)?;
        let kind = self.catalogue.port_types.get(ix)?;
        let fields = kind.fields.iter().map(|(id, def, kind, _)| {
            let mut field = field(id, &def.name, *kind, def.optional || def.rule == Rule::Told);
            if let Some(json) = port.fields.get(id) {
                field.read(json);
            }
            field
        });
        let compared =
            kind.fields.iter().filter(|(.., def, kind, _)| *kind == Kind::Word && def.rule != Rule::Told);
        let words = compared.map(|(id, def, ..)| (id.clone(), self.words(&port.port_type, id, def)));
        Some(DraftPort {
            words: words.collect(),
            name: name.to_owned(),
            kind: kind.name.clone(),
            role: port.role,
            fields: fields.collect(),
            copied: port.clone(),
        })
    }

    /// The words that ports of a type have in a field: those of the library's parts, and those its rule names.
    fn words(&self, port_type: &str, id: &str, def: &FieldDef) -> Vec<String> {
        let ports = self.catalogue.parts.values().flat_map(|entry| entry.part.ports.values());
        let values = ports.filter(|p| p.port_type == port_type).filter_map(|p| p.fields.get(id));
        let texts = values.flat_map(|json| match json {
            Json::Array(items) => items.iter().filter_map(Json::as_str).collect::<Vec<_>>(),
            other => other.as_str().into_iter().collect(),
        });
        let ruled = def.words.iter().flatten().map(String::as_str);
        let is_word = |word: &&str| *word != "any" && !word.starts_with("unknown");
        let mut words: Vec<String> = texts.chain(ruled).filter(is_word).map(str::to_owned).collect();
        words.sort();
        words.dedup();
        words
    }

    /// A need as shown.
    pub fn need<'b>(&'b self, id: &'b str) -> &'b str {
        let ix = self.catalogue.need_names.get(id);
        ix.and_then(|ix| self.catalogue.needs.get(ix)).map_or(id, |need| need.name.as_str())
    }

    /// An id no part has yet.
    pub fn free_id(&self, name: &str) -> String {
        let taken = |id: &str| self.part(id).is_some() || self.catalogue.class_names.get(id).is_some();
        from_name(name, "own-", "part", taken)
    }
}

fn field(id: &str, name: &str, kind: Kind, optional: bool) -> Field {
    let (how, text) = (String::new(), String::new());
    let (id, name) = (id.to_owned(), name.to_owned());
    Field { id, name, kind, optional, how, text, touched: false, signed: false }
}
