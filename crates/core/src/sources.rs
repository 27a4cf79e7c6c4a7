//! The numbers of a library, each by its place, and where it comes from. `source` speaks for all that stands beside it,
//! `sources` for some of it, by path. What stands nearest to a number goes before: a path before what holds for the whole,
//! the thing itself before its file.

use std::fmt;

use serde_json::Value as Json;

use crate::catalogue::Catalogue;
use crate::library::{Again, LibraryFile, Part, Port, Table, Vehicle};
use crate::source::{Source, SourceKind};
use crate::value::Kind;

/// The tables of a library that have numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs, reason = "the names say it")]
pub enum SpecTable {
    Classes,
    Limits,
    Openings,
    Parts,
    Pools,
    PortTypes,
    Vehicles,
}

impl SpecTable {
    /// Its word in files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Classes => "classes",
            Self::Limits => "limits",
            Self::Openings => "openings",
            Self::Parts => "parts",
            Self::Pools => "pools",
            Self::PortTypes => "port_types",
            Self::Vehicles => "vehicles",
        }
    }
}

/// A number of the library: where it stands, and what it is.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spec {
    /// The table.
    pub table: SpecTable,
    /// The id in it.
    pub id: String,
    /// The path below: `ports.out.fields.pressure`. Empty: what a limit says as a whole.
    pub path: String,
    /// As written; empty for a limit as a whole.
    pub value: String,
}

impl Spec {
    /// A number of a table.
    #[must_use]
    pub fn new(table: SpecTable, id: &str, path: String, value: String) -> Self {
        Self { table, id: id.to_owned(), path, value }
    }
}

/// The path in a file: `parts.pump.ports.out.fields.pressure`.
impl fmt::Display for Spec {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.table.word(), self.id)?;
        if self.path.is_empty() { Ok(()) } else { write!(f, ".{}", self.path) }
    }
}

/// Whether what is said of a path holds for another: it is that path, or above it.
pub(crate) fn is_above(path: &str, of: &str) -> bool {
    of.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}

/// What some sources say of a path: the longest that holds for it.
fn said<'a>(sources: &'a Table<String>, path: &str) -> Option<&'a str> {
    let holding = sources.iter().filter(|(of, _)| is_above(of, path));
    holding.max_by_key(|(of, _)| of.len()).map(|(_, source)| source.as_str())
}

fn filled(text: &str) -> Option<&str> {
    Some(text.trim()).filter(|text| !text.is_empty())
}

/// Where a number of a file comes from, as the file says it; `None` where it says nothing.
#[must_use]
pub fn in_file<'a>(file: &'a LibraryFile, spec: &Spec) -> Option<&'a str> {
    let (id, path) = (spec.id.as_str(), spec.path.as_str());
    let nth = |list: &'a [Again]| {
        let number = path.strip_prefix("later[")?.split(']').next()?.parse::<usize>().ok()?;
        filled(&list.get(number)?.source)
    };
    let own = match spec.table {
        SpecTable::Parts => {
            file.parts.get(id).and_then(|part| said(&part.sources, path).or(filled(&part.source)))
        }
        SpecTable::PortTypes => file
            .port_types
            .get(id)
            .and_then(|of| nth(&of.later).or_else(|| said(&of.sources, path)).or_else(|| filled(&of.source))),
        SpecTable::Vehicles => {
            file.vehicles.get(id).and_then(|of| said(&of.sources, path).or(filled(&of.source)))
        }
        SpecTable::Limits => file.limits.get(id).and_then(|limit| filled(&limit.source)),
        SpecTable::Classes => file.classes.get(id).and_then(|class| filled(&class.lasts.as_ref()?.source)),
        SpecTable::Openings => file.openings.get(id).and_then(|of| nth(&of.later)),
        SpecTable::Pools => None,
    };
    own.or_else(|| said(&file.sources, &spec.to_string())).or_else(|| filled(&file.source))
}

/// Whether a written value is a number that somebody must have from somewhere: not a word, not unknown, not whatever
/// it meets.
fn is_number(json: &Json, kind: Kind) -> bool {
    let says = |json: &Json| match json {
        Json::String(text) => {
            let text = text.trim();
            text != "any" && !text.starts_with("unknown") && text.chars().any(|c| c.is_ascii_digit())
        }
        Json::Number(_) => true,
        _ => false,
    };
    kind != Kind::Word && json.as_array().map_or_else(|| says(json), |list| list.iter().any(says))
}

fn shown(json: &Json) -> String {
    match json {
        Json::String(text) => text.clone(),
        Json::Array(list) => list.iter().map(shown).collect::<Vec<_>>().join(", "),
        other => other.to_string(),
    }
}

/// Goes through the numbers of one thing.
struct Walk<'a, F> {
    catalogue: &'a Catalogue,
    table: SpecTable,
    id: &'a str,
    see: &'a mut F,
}

impl<F: FnMut(Spec)> Walk<'_, F> {
    fn one(&mut self, path: String, value: String) {
        (self.see)(Spec::new(self.table, self.id, path, value));
    }

    fn texts(&mut self, word: &str, table: &Table<String>) {
        let is_of_needs = ["needs", "advises", "offers"].contains(&word);
        for (id, text) in table {
            let need = || self.catalogue.needs.get(self.catalogue.need_names.get(id)?);
            let kind = if is_of_needs { need().and_then(|need| Kind::from_word(&need.kind)) } else { None };
            // a capability that is had or not has no number
            if is_number(&Json::String(text.clone()), kind.unwrap_or(Kind::Thread)) {
                self.one(format!("{word}.{id}"), text.clone());
            }
        }
    }

    fn figures(&mut self, word: &str, table: &Table<Json>) {
        for (id, json) in table {
            let of = self.catalogue.figure_names.get(id).and_then(|ix| self.catalogue.figures.get(ix));
            if is_number(json, of.map_or(Kind::Thread, |(_, kind, _)| *kind)) {
                self.one(format!("{word}.{id}"), shown(json));
            }
        }
    }

    fn port(&mut self, name: &str, port: &Port) {
        let of = self.catalogue.port_type_names.get(&port.port_type);
        let of = of.and_then(|ix| self.catalogue.port_types.get(ix));
        for (field, json) in &port.fields {
            let kind = of
                .and_then(|of| of.fields.iter().find(|(name, ..)| name == field))
                .map(|(.., kind, _)| *kind);
            if is_number(json, kind.unwrap_or(Kind::Thread)) {
                self.one(format!("ports.{name}.fields.{field}"), shown(json));
            }
        }
    }

    fn part(&mut self, part: &Part) {
        part.ports.iter().for_each(|(name, port)| self.port(name, port));
        self.figures("figures", &part.figures);
        self.figures("sets", &part.sets);
        if let Some([least, most]) = part.weeks {
            self.one("weeks".to_owned(), format!("{least} to {most} weeks"));
        }
        for (word, table) in [
            ("needs", &part.needs),
            ("advises", &part.advises),
            ("offers", &part.offers),
            ("gives", &part.gives),
            ("takes", &part.takes),
            ("holds", &part.holds),
        ] {
            self.texts(word, table);
        }
    }

    fn vehicle(&mut self, vehicle: &Vehicle) {
        self.figures("facts", &vehicle.facts);
        self.texts("gives", &vehicle.gives);
        self.texts("offers", &vehicle.offers);
        for (id, circuit) in &vehicle.circuits {
            self.texts(
                &format!("circuits.{id}"),
                &Table::from([("capacity".to_owned(), circuit.capacity.clone())]),
            );
        }
        for (id, position) in &vehicle.positions {
            self.figures(&format!("positions.{id}.figures"), &position.figures);
        }
    }

    fn later(&mut self, later: &[Again]) {
        for (n, again) in later.iter().enumerate() {
            self.one(format!("later[{n}]"), again.after.join(", "));
        }
    }
}

/// Each number of a file, in order.
pub fn each_spec(catalogue: &Catalogue, file: &LibraryFile, mut see: impl FnMut(Spec)) {
    macro_rules! walk {
        ($table:ident, $id:expr) => {
            Walk { catalogue, table: SpecTable::$table, id: $id, see: &mut see }
        };
    }
    for (id, class) in &file.classes {
        if let Some(lasts) = &class.lasts {
            walk!(Classes, id).one("lasts".to_owned(), lasts.time.clone());
        }
    }
    for (id, pool) in &file.pools {
        for (word, text) in [("margin", &pool.margin), ("close", &pool.close)] {
            if let Some(text) = text {
                walk!(Pools, id).one(word.to_owned(), text.clone());
            }
        }
    }
    for (id, port_type) in &file.port_types {
        for (field, def) in &port_type.fields {
            if let Some(within) = &def.within {
                walk!(PortTypes, id).one(format!("fields.{field}.within"), within.clone());
            }
        }
        walk!(PortTypes, id).later(&port_type.later);
    }
    file.limits.keys().for_each(|id| walk!(Limits, id).one(String::new(), String::new()));
    file.openings.iter().for_each(|(id, of)| walk!(Openings, id).later(&of.later));
    file.parts.iter().for_each(|(id, part)| walk!(Parts, id).part(part));
    file.vehicles.iter().for_each(|(id, of)| walk!(Vehicles, id).vehicle(of));
}

/// Whether a file has what a number is of: a vehicle may lie in pieces over several.
fn has(file: &LibraryFile, spec: &Spec) -> bool {
    let id = spec.id.as_str();
    match spec.table {
        SpecTable::Classes => file.classes.contains_key(id),
        SpecTable::Limits => file.limits.contains_key(id),
        SpecTable::Openings => file.openings.contains_key(id),
        SpecTable::Parts => file.parts.contains_key(id),
        SpecTable::Pools => file.pools.contains_key(id),
        SpecTable::PortTypes => file.port_types.contains_key(id),
        SpecTable::Vehicles => file.vehicles.get(id).is_some_and(|vehicle| {
            let mut words = spec.path.split('.');
            let (Some(word), Some(id)) = (words.next(), words.next()) else { return false };
            match word {
                "facts" => vehicle.facts.contains_key(id),
                "gives" => vehicle.gives.contains_key(id),
                "offers" => vehicle.offers.contains_key(id),
                "circuits" => vehicle.circuits.contains_key(id),
                _ => vehicle.positions.contains_key(id),
            }
        }),
    }
}

impl Catalogue {
    /// Where a number of the library comes from; `None` where nobody says so in words that can be read.
    #[must_use]
    pub fn source(&self, spec: &Spec) -> Option<Source> {
        let file = self.files.iter().map(|(_, file)| file).find(|file| has(file, spec))?;
        Source::parse(in_file(file, spec)?).ok()
    }

    /// The numbers of the library by what their sources are worth, and those without one: the file, and the path in it.
    #[must_use]
    pub fn sources(&self) -> Sources {
        let mut out = Sources::default();
        for (name, file) in &self.files {
            each_spec(self, file, |spec| match in_file(file, &spec).map(Source::parse) {
                Some(Ok(source)) => out.counts[source.kind as usize] += 1,
                _ => out.without.push((name.clone(), spec)),
            });
        }
        out
    }
}

/// How many numbers there are by what their sources are worth.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sources {
    /// In the order of [`SourceKind::ALL`].
    pub counts: [usize; SourceKind::ALL.len()],
    /// Those without a source: the file, and the number.
    pub without: Vec<(String, Spec)>,
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
