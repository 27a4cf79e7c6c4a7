//! Why a part answers: which of its ports, which of its numbers, in a reader's units.

use super::entries::At;
use super::words::WORDS;
use super::{Answer, Because, Hit, LibrarySearch};
use crate::catalogue::{Catalogue, PartEntry};
use crate::showing::{Measure, reading};
use crate::value::Value;

/// A value as it is shown: in the reader's units, with what else people call it.
#[must_use]
pub(crate) fn shown(value: &Value, measure: Measure) -> String {
    let one = |value: &Value| match value {
        Value::Any => "any, made to what it meets".to_owned(),
        Value::Word(word) => match WORDS.values.get(word).and_then(|names| names.first()) {
            Some(name) if name.contains(' ') && !name.contains(word.as_str()) => format!("{word} ({name})"),
            _ => word.clone(),
        },
        other => reading(&other.text(), measure),
    };
    match value {
        Value::OneOf(items) => items.iter().map(one).collect::<Vec<_>>().join(" or "),
        value => one(value),
    }
}

/// A port with what it is and its values: "rear outlet, brake pipe connection: 3/8-24, female, 45 double".
#[must_use]
pub(crate) fn port_line(catalogue: &Catalogue, part: &PartEntry, port: usize, measure: Measure) -> String {
    let Some(port) = part.ports.get(port) else { return String::new() };
    let name = catalogue.port_names.id(port.name_ix).replace('-', " ");
    let Some(of) = catalogue.port_types.get(port.port_type) else { return name };
    let values: Vec<String> = of
        .fields
        .iter()
        .zip(port.values.iter())
        .filter_map(|((_, def, kind, _), value)| {
            let shown = shown(value.as_ref()?, measure);
            // a word or a thread says itself what it is
            let plain = matches!(kind, crate::value::Kind::Word | crate::value::Kind::Thread);
            Some(if plain { shown } else { format!("{} {shown}", def.name) })
        })
        .collect();
    match values.is_empty() {
        true => format!("{name}, {}", of.name),
        false => format!("{name}, {}: {}", of.name, values.join(", ")),
    }
}

impl LibrarySearch {
    /// Why a part answers, each reason in half a line; nothing where all was asked for.
    #[must_use]
    pub fn why(&self, catalogue: &Catalogue, answer: &Answer, hit: &Hit, measure: Measure) -> Vec<String> {
        let Some(part) = catalogue.parts.get(hit.part) else { return Vec::new() };
        let mut out: Vec<String> = Vec::new();
        for because in &hit.because {
            let line = match because {
                Because::Port(port) => port_line(catalogue, part, usize::from(*port), measure),
                Because::Number(at) => self.number(catalogue, part, *at, measure),
                Because::NotKnown(label, at) => self.not_known(catalogue, part, *label, *at, measure),
                Because::Price => {
                    part.part.price.as_ref().map_or_else(String::new, |price| format!("price {price}"))
                }
                Because::NoPrice => match &part.part.price {
                    Some(price) => format!("price in another currency: {price}"),
                    None => "price not known".to_owned(),
                },
            };
            if !line.is_empty() && !out.contains(&line) {
                out.push(line);
            }
        }
        if out.is_empty() && !answer.all {
            out.push(self.by_words(catalogue, part, hit));
        }
        out
    }

    fn by_words(&self, catalogue: &Catalogue, part: &PartEntry, hit: &Hit) -> String {
        let class = catalogue.classes.get(part.class).map_or("", |class| class.name.as_str()).to_lowercase();
        let system = || {
            let system = catalogue.system_of(part.class, None);
            system.map_or("its system", |(_, name)| name).to_lowercase()
        };
        match (hit.by.name, hit.by.class, hit.by.system) {
            (true, false, false) => "by its name".to_owned(),
            (true, ..) => format!("by its name, of the class {class}"),
            (false, true, _) => format!("of the class {class}"),
            (false, false, true) => format!("belongs to {}", system()),
            (false, false, false) => String::new(),
        }
    }

    fn label_at(&self, part: &PartEntry, catalogue: &Catalogue, at: At) -> Option<String> {
        Some(match at {
            At::Figure(ix) => {
                let (figure, _) = part.figures.get(usize::from(ix))?;
                catalogue.figures.get(*figure)?.0.clone()
            }
            At::Field(port, field) => {
                let port = part.ports.get(usize::from(port))?;
                let of = catalogue.port_types.get(port.port_type)?;
                let (_, def, ..) = of.fields.get(usize::from(field))?;
                let name = catalogue.port_names.id(port.name_ix).replace('-', " ");
                format!("{name}: {}", def.name)
            }
            At::Offer(ix) => {
                let (need, _) = part.offers.get(usize::from(ix))?;
                format!("offers {}:", catalogue.needs.get(*need)?.name)
            }
            At::Give(ix) => {
                format!("gives to {}:", catalogue.pools.get(part.gives.get(usize::from(ix))?.0)?.def.name)
            }
            At::Take(ix) => {
                format!("takes of {}:", catalogue.pools.get(part.takes.get(usize::from(ix))?.0)?.def.name)
            }
            At::Name => "in its name".to_owned(),
        })
    }

    fn value_at(part: &PartEntry, at: At) -> Option<&Value> {
        match at {
            At::Figure(ix) => part.figures.get(usize::from(ix)).map(|(_, value)| value),
            At::Field(port, field) => {
                part.ports.get(usize::from(port))?.values.get(usize::from(field))?.as_ref()
            }
            At::Offer(ix) => part.offers.get(usize::from(ix))?.1.as_ref(),
            At::Give(ix) => part.gives.get(usize::from(ix)).map(|(_, value)| value),
            At::Take(ix) => part.takes.get(usize::from(ix)).map(|(_, value)| value),
            At::Name => None,
        }
    }

    fn number(&self, catalogue: &Catalogue, part: &PartEntry, at: At, measure: Measure) -> String {
        let Some(name) = self.label_at(part, catalogue, at) else { return String::new() };
        match Self::value_at(part, at) {
            Some(value) => format!("{name} {}", shown(value, measure)),
            None => name,
        }
    }

    fn not_known(
        &self,
        catalogue: &Catalogue,
        part: &PartEntry,
        label: u32,
        at: Option<At>,
        measure: Measure,
    ) -> String {
        let name = || self.entries.labels.get(label as usize).map_or("", |label| label.name.as_str());
        let Some(at) = at else { return format!("{} is not stated", name()) };
        let told = self.label_at(part, catalogue, at).unwrap_or_default();
        match Self::value_at(part, at) {
            Some(Value::Unknown(_)) | None => format!("{told} not known"),
            Some(Value::Any) => format!("{told} made to measure"),
            Some(value) => format!("{told} {}, which leaves it open", shown(value, measure)),
        }
    }
}
