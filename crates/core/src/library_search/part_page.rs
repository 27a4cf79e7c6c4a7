//! All that a library says of one part: ports, numbers with their sources, contents, price, hours, cautions.

use super::why::shown;
use crate::catalogue::{Catalogue, PartEntry};
use crate::library::Caution;
use crate::money::Money;
use crate::phrase::Phrase;
use crate::showing::Measure;
use crate::sources::{Spec, SpecTable};
use crate::value::{Kind, Value};

/// A value with what it is called.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What it is called.
    pub name: String,
    /// In the reader's units.
    pub value: String,
    /// Where a number comes from; empty where nobody says, and where it is none.
    pub source: String,
    /// How to measure what is not known; empty for all else.
    pub how: String,
}

/// A port.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PortLines {
    /// Its name: "rear outlet".
    pub name: String,
    /// Its type as shown: "brake pipe connection".
    pub kind: String,
    /// Its fields.
    pub fields: Vec<Line>,
}

/// A part as a page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PartPage {
    /// Part id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// Its class, as shown.
    pub class: String,
    /// Price bought new; `None`: not for sale, or not known.
    pub price: Option<Money>,
    /// Own hours to fit one.
    pub hours: Option<f64>,
    /// Invented supplier; may be empty.
    pub supplier: String,
    /// Ports by name.
    pub ports: Vec<PortLines>,
    /// Figures, what it sets, offers, gives and takes.
    pub numbers: Vec<Line>,
    /// What it needs, and what it is better with.
    pub needs: Vec<Line>,
    /// What is in its box: how many, part id and name.
    pub contents: Vec<(u32, String, String)>,
    /// What its box does not hold.
    pub not_in_box: Vec<String>,
    /// Dangers and their guards, in the reader's units.
    pub cautions: Vec<Caution>,
    /// Whether fitting it can be undone, in words, with what is lost.
    pub undone: String,
    /// What stays undone where it is taken off.
    pub leaves: String,
    /// Anything else.
    pub note: String,
}

fn source(catalogue: &Catalogue, part: &str, path: String, value: &Value) -> String {
    let is_number = !matches!(value, Value::Word(_) | Value::Any | Value::Unknown(_));
    let is_thread = matches!(value, Value::Word(word) if word.contains(|c: char| c.is_ascii_digit()));
    if !is_number && !is_thread {
        return String::new();
    }
    let spec = Spec::new(SpecTable::Parts, part, path, value.text());
    catalogue.source(&spec).map_or_else(String::new, |source| source.to_string())
}

fn line(
    catalogue: &Catalogue,
    part: &str,
    name: &str,
    path: String,
    value: &Value,
    measure: Measure,
) -> Line {
    let how = match value {
        Value::Unknown(how) => how.clone(),
        _ => String::new(),
    };
    let shown = match value {
        Value::Unknown(_) => "not known".to_owned(),
        value => shown(value, measure),
    };
    Line { name: name.to_owned(), value: shown, source: source(catalogue, part, path, value), how }
}

/// The page of a part, in a reader's units; `None` where the library has no such part.
#[must_use]
pub fn part_page(catalogue: &Catalogue, id: &str, measure: Measure) -> Option<PartPage> {
    let entry = catalogue.part(id)?;
    let part = &entry.part;
    let name_of =
        |part: crate::catalogue::PartId| catalogue.parts.get(part).map_or("", |p| p.part.name.as_str());
    let contents = entry.contents.iter().map(|content| {
        (content.qty, catalogue.part_names.id(content.part).to_owned(), name_of(content.part).to_owned())
    });
    let cautions = part.cautions.iter().filter_map(|id| catalogue.cautions.get(id)).map(|caution| Caution {
        danger: caution.danger.clone(),
        guard: Phrase::read(&caution.guard).say(measure),
    });
    let undone = match (part.reversible, part.undone.trim()) {
        (crate::library::Reversible::Yes, _) => String::new(),
        (how, "") => how.words().to_owned(),
        (how, what) => format!("{}: {what}", how.words()),
    };
    Some(PartPage {
        id: id.to_owned(),
        name: part.name.clone(),
        class: catalogue.classes.get(entry.class).map_or_else(String::new, |class| class.name.clone()),
        price: part.price.clone(),
        hours: part.hours,
        supplier: part.supplier.clone(),
        ports: ports(catalogue, id, entry, measure),
        numbers: numbers(catalogue, id, entry, measure),
        needs: needs(catalogue, id, entry, measure),
        contents: contents.collect(),
        not_in_box: part.not_in_box.clone(),
        cautions: cautions.collect(),
        undone,
        leaves: part.leaves.clone(),
        note: part.note.clone(),
    })
}

fn ports(catalogue: &Catalogue, id: &str, entry: &PartEntry, measure: Measure) -> Vec<PortLines> {
    let one = |port: &crate::catalogue::PortEntry| {
        let of = catalogue.port_types.get(port.port_type)?;
        let at = catalogue.port_names.id(port.name_ix);
        let fields = of.fields.iter().zip(port.values.iter()).filter_map(|((field, def, ..), value)| {
            let path = format!("ports.{at}.fields.{field}");
            Some(line(catalogue, id, &def.name, path, value.as_ref()?, measure))
        });
        Some(PortLines { name: at.replace('-', " "), kind: of.name.clone(), fields: fields.collect() })
    };
    entry.ports.iter().filter_map(one).collect()
}

fn numbers(catalogue: &Catalogue, id: &str, entry: &PartEntry, measure: Measure) -> Vec<Line> {
    let mut out = Vec::new();
    for (word, list, lead) in [("figures", &entry.figures, ""), ("sets", &entry.sets, "sets ")] {
        for (figure, value) in list {
            let Some((name, kind, _)) = catalogue.figures.get(*figure) else { continue };
            let path = format!("{word}.{}", catalogue.figure_names.id(*figure));
            let mut told = line(catalogue, id, &format!("{lead}{name}"), path, value, measure);
            if matches!(kind, Kind::Curve | Kind::Outline) && matches!(value, Value::Curve(_)) {
                told.value = value.text();
            }
            out.push(told);
        }
    }
    for (need, value) in &entry.offers {
        let Some(def) = catalogue.needs.get(*need) else { continue };
        let path = format!("offers.{}", catalogue.need_names.id(*need));
        let name = format!("offers {}", def.name);
        out.push(match value {
            Some(value) => line(catalogue, id, &name, path, value, measure),
            None => Line { name, value: "yes".to_owned(), source: String::new(), how: String::new() },
        });
    }
    for (word, list, lead) in [("gives", &entry.gives, "gives to"), ("takes", &entry.takes, "takes of")] {
        for (pool, value) in list {
            let Some(def) = catalogue.pools.get(*pool) else { continue };
            let path = format!("{word}.{}", catalogue.pool_names.id(*pool));
            out.push(line(catalogue, id, &format!("{lead} {}", def.def.name), path, value, measure));
        }
    }
    out
}

fn needs(catalogue: &Catalogue, id: &str, entry: &PartEntry, measure: Measure) -> Vec<Line> {
    let mut out = Vec::new();
    for (need, value, level) in &entry.needs {
        let Some(def) = catalogue.needs.get(*need) else { continue };
        let (word, lead) = match level {
            crate::library::Level::Required => ("needs", "needs"),
            crate::library::Level::Advised => ("advises", "better with"),
        };
        let path = format!("{word}.{}", catalogue.need_names.id(*need));
        let name = format!("{lead} {}", def.name);
        out.push(match value {
            Some(value) => line(catalogue, id, &name, path, value, measure),
            None => Line { name, value: String::new(), source: String::new(), how: String::new() },
        });
    }
    out
}
