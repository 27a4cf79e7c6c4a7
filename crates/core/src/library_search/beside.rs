//! Two parts side by side, port by port and number by number: what is the same, what differs, what only one has.

use std::collections::BTreeSet;

use super::part_page::{Line, PartPage};

/// How a row stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stands {
    /// Both have it, and it reads the same.
    Same,
    /// Both have it, and it differs.
    Differs,
    /// Only the first has it.
    OnlyFirst,
    /// Only the second has it.
    OnlySecond,
}

impl Stands {
    /// As shown.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Same => "same",
            Self::Differs => "differs",
            Self::OnlyFirst => "only the first",
            Self::OnlySecond => "only the second",
        }
    }
}

/// A row: a field of a port, a number, or what stands once of a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The port with its type, or "Numbers", "Part".
    pub group: String,
    /// What is compared.
    pub name: String,
    /// Of the first.
    pub first: Option<String>,
    /// Of the second.
    pub second: Option<String>,
    /// How they stand.
    pub stands: Stands,
}

fn row(group: &str, name: &str, first: Option<String>, second: Option<String>) -> Option<Row> {
    let stands = match (&first, &second) {
        (None, None) => return None,
        (Some(_), None) => Stands::OnlyFirst,
        (None, Some(_)) => Stands::OnlySecond,
        (Some(a), Some(b)) if a == b => Stands::Same,
        _ => Stands::Differs,
    };
    Some(Row { group: group.to_owned(), name: name.to_owned(), first, second, stands })
}

fn lines(group: &str, first: &[Line], second: &[Line]) -> Vec<Row> {
    let value = |list: &[Line], name: &str| {
        let line = list.iter().find(|line| line.name == name)?;
        Some(if line.value.is_empty() { "yes".to_owned() } else { line.value.clone() })
    };
    let mut names: Vec<&str> = first.iter().map(|line| line.name.as_str()).collect();
    names.extend(
        second.iter().map(|line| line.name.as_str()).filter(|name| !first.iter().any(|l| l.name == *name)),
    );
    names.into_iter().filter_map(|name| row(group, name, value(first, name), value(second, name))).collect()
}

/// Two parts side by side; both pages in the same units.
#[must_use]
pub fn beside(first: &PartPage, second: &PartPage) -> Vec<Row> {
    let money = |page: &PartPage| page.price.as_ref().map(ToString::to_string);
    let hours = |page: &PartPage| page.hours.map(|hours| format!("{hours} h"));
    let mut out: Vec<Row> = Vec::new();
    out.extend(row("Part", "class", Some(first.class.clone()), Some(second.class.clone())));
    out.extend(row("Part", "price", money(first), money(second)));
    out.extend(row("Part", "own hours", hours(first), hours(second)));
    let names: BTreeSet<&str> =
        first.ports.iter().chain(&second.ports).map(|port| port.name.as_str()).collect();
    for name in names {
        let of = |page: &PartPage| page.ports.iter().find(|port| port.name == name).cloned();
        match (of(first), of(second)) {
            (Some(a), Some(b)) if a.kind == b.kind => {
                let group = format!("{name}, {}", a.kind);
                out.extend(
                    row(&group, "there", Some("yes".to_owned()), Some("yes".to_owned()))
                        .filter(|_| a.fields.is_empty() && b.fields.is_empty()),
                );
                out.extend(lines(&group, &a.fields, &b.fields));
            }
            (a, b) => {
                let told = |port: &super::part_page::PortLines| {
                    let values: Vec<String> =
                        port.fields.iter().map(|f| format!("{} {}", f.name, f.value)).collect();
                    match values.is_empty() {
                        true => port.kind.clone(),
                        false => format!("{}: {}", port.kind, values.join(", ")),
                    }
                };
                out.extend(row(name, "port", a.as_ref().map(told), b.as_ref().map(told)));
            }
        }
    }
    out.extend(lines("Numbers", &first.numbers, &second.numbers));
    out.extend(lines("Needs", &first.needs, &second.needs));
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;
    use crate::library::LibraryFile;
    use crate::library_search::part_page::part_page;
    use crate::showing::Measure;

    #[test]
    fn ports_and_numbers_are_the_same_differ_or_stand_alone() {
        let file: LibraryFile = serde_json::from_str(
            r#"{"format": 1, "about": "two pumps",
            "classes": {"pump": {"name": "pump", "free": true}},
            "figures": {"flow": {"name": "flow", "kind": "flow"}},
            "port_types": {
                "f.barb": {"name": "hose end", "fields": {"bore": {"name": "bore", "kind": "length", "rule": "equal", "within": "0.3 mm"}}},
                "f.thread": {"name": "thread", "fields": {"thread": {"name": "thread", "kind": "thread", "rule": "equal"}}}},
            "parts": {
                "a": {"name": "Pump A", "class": "pump", "price": "10 USD", "figures": {"flow": "90 L/h"},
                      "ports": {"in": {"type": "f.barb", "fields": {"bore": "8 mm"}}, "out": {"type": "f.barb", "fields": {"bore": "8 mm"}}}},
                "b": {"name": "Pump B", "class": "pump", "price": "12 USD",
                      "ports": {"in": {"type": "f.barb", "fields": {"bore": "9.5 mm"}}, "out": {"type": "f.thread", "fields": {"thread": "3/8-24"}},
                                "return": {"type": "f.barb", "fields": {"bore": "8 mm"}}}}}}"#,
        )
        .unwrap();
        let (catalogue, faults) = Catalogue::new(vec![("t".to_owned(), file)]);
        assert!(faults.iter().all(|f| f.warning), "{faults:?}");
        let page = |id: &str| part_page(&catalogue, id, Measure::Metric).unwrap();
        let rows = beside(&page("a"), &page("b"));
        let stands = |group: &str, name: &str| {
            let row = rows.iter().find(|row| row.group.starts_with(group) && row.name == name).unwrap();
            (row.stands, row.first.clone(), row.second.clone())
        };
        let text = |text: &str| Some(text.to_owned());
        assert_eq!(stands("Part", "class").0, Stands::Same);
        assert_eq!(stands("Part", "price"), (Stands::Differs, text("10.00 USD"), text("12.00 USD")));
        assert_eq!(stands("in, hose end", "bore"), (Stands::Differs, text("8 mm"), text("9.5 mm")));
        assert_eq!(stands("out", "port").0, Stands::Differs);
        assert_eq!(stands("return", "port"), (Stands::OnlySecond, None, text("hose end: bore 8 mm")));
        assert_eq!(stands("Numbers", "flow"), (Stands::OnlyFirst, text("90 L/h"), None));
        // the other way round the same rows stand the other way
        let back = beside(&page("b"), &page("a"));
        assert_eq!(back.len(), rows.len());
    }
}
