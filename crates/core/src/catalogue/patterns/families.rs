//! Families of parts: each row becomes a part that is like the patterns of its family.

use std::collections::HashSet;
use std::rc::Rc;

use serde_json::{Map, Value as Json};

use super::columns::column_of;
use super::origin::{Origin, Row};
use super::room::{Room, weight};
use super::{Faults, Words};
use crate::layers::Layer;
use crate::library::{Family, Part};
use crate::plain::plain;
use crate::written::Written;

/// Most columns of a family.
const MOST_COLUMNS: usize = 64;
/// Most paths of one column.
const MOST_PATHS: usize = 8;
/// Longest path of a column, in bytes.
const LONGEST_PATH: usize = 120;

/// Puts the rows of all families of a library among its parts.
pub(super) fn unfold(
    layer: &mut Layer<Written<Part>>,
    room: &mut Room,
    origin: &mut Origin,
    faults: &mut Faults,
) {
    for (name, file) in layer {
        for (id, family) in std::mem::take(&mut file.families) {
            let here = format!("families.{id}");
            if let Some((path, why)) = wrong(&family) {
                faults.error(name, format!("{here}.{path}"), why);
                continue;
            }
            let columns: Rc<Vec<Vec<String>>> = Rc::new(family.columns.iter().map(|c| paths(c)).collect());
            let mut told = HashSet::new();
            for (part, row) in family.rows {
                let at = format!("{here}.rows.{part}");
                if row.len() != columns.len() {
                    let message = format!(
                        "expected {} values, one for each column, found {}; write null where nothing is said",
                        columns.len(),
                        row.len()
                    );
                    faults.error(name, at, message);
                    continue;
                }
                let words = words(&family.like, &columns, &row);
                if !room.take(weight(&words)) {
                    room.tell(name, at, faults);
                    continue;
                }
                let written = match Written::read(words) {
                    Ok(written) => written,
                    Err(e) => {
                        let column = column_of(&columns, &e.path);
                        let message = plain(&e.message);
                        // a word that no part has is wrong in the head, once for all rows
                        let path = match column {
                            Some(n) if e.message.starts_with("unknown field") => {
                                format!("{here}.columns[{n}]")
                            }
                            Some(n) => format!("{at}[{n}]"),
                            None => at,
                        };
                        if told.insert((path.clone(), message.clone())) {
                            faults.error(name, path, message);
                        }
                        continue;
                    }
                };
                if file.parts.contains_key(&part) {
                    let message =
                        format!("the id \"{part}\" stands in this file already; give one of them another id");
                    faults.error(name, at, message);
                    continue;
                }
                origin.row(name, &part, Row { family: here.clone(), columns: Rc::clone(&columns) });
                file.parts.insert(part, written);
            }
        }
    }
}

/// What is wrong with the head of a family: the path below it, and why.
fn wrong(family: &Family) -> Option<(String, String)> {
    let columns = &family.columns;
    if columns.is_empty() || columns.len() > MOST_COLUMNS {
        let why = format!("expected 1 to {MOST_COLUMNS} columns, found {}", columns.len());
        return Some(("columns".to_owned(), why));
    }
    let mut all: Vec<(Vec<&str>, usize)> = Vec::new();
    for (n, column) in columns.iter().enumerate() {
        let here = || format!("columns[{n}]");
        let count = column.split_whitespace().count();
        if count == 0 || count > MOST_PATHS {
            let why = format!(
                "expected the path of a word, such as \"price\" or \"figures.tyre-outside\", or up to {MOST_PATHS} with a \
                 space between"
            );
            return Some((here(), why));
        }
        for path in column.split_whitespace() {
            let steps: Vec<&str> = path.split('.').collect();
            if path.len() > LONGEST_PATH || steps.iter().any(|step| step.is_empty()) {
                return Some((
                    here(),
                    format!("\"{path}\" is no path of a word, such as \"figures.tyre-outside\""),
                ));
            }
            all.push((steps, n));
        }
    }
    // a path and those that lie inside it stand beside each other
    all.sort();
    all.windows(2).find_map(|pair| {
        let [(outer, a), (inner, b)] = pair else { return None };
        let why = format!(
            "\"{}\" stands in column {} already; take it out of one of them",
            inner.join("."),
            a.min(b) + 1
        );
        inner.starts_with(outer).then(|| (format!("columns[{}]", a.max(b)), why))
    })
}

fn paths(column: &str) -> Vec<String> {
    column.split_whitespace().map(str::to_owned).collect()
}

/// The words of a row.
fn words(like: &str, columns: &[Vec<String>], row: &[Json]) -> Words {
    let mut words = Words::new();
    if !like.is_empty() {
        words.insert("like".to_owned(), Json::String(like.to_owned()));
    }
    for (paths, value) in columns.iter().zip(row).filter(|(_, value)| !value.is_null()) {
        for path in paths {
            put(&mut words, path, value);
        }
    }
    words
}

fn put(words: &mut Words, path: &str, value: &Json) {
    match path.split_once('.') {
        None => drop(words.insert(path.to_owned(), value.clone())),
        Some((first, rest)) => {
            let below = words.entry(first).or_insert_with(|| Json::Object(Map::new()));
            if let Json::Object(below) = below {
                put(below, rest, value);
            }
        }
    }
}
