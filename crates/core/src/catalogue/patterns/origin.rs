//! Where the words of a part stand: in the part, in a pattern, in a row, or at its class. What is wrong with them is told
//! there.

use std::collections::{HashMap, HashSet};
use std::rc::Rc;

use serde_json::{Map, Value as Json};

use super::Fault;
use super::columns::column_of;
use crate::library::{Class, LibraryFile, Part};
use crate::written::Written;

/// A row that a part was written as.
pub(super) struct Row {
    /// The path of the family.
    pub family: String,
    pub columns: Rc<Vec<Vec<String>>>,
}

/// Parts that do not stand in their files as they came to be, by file and id.
#[derive(Default)]
pub(super) struct Origin {
    rows: HashMap<(String, String), Row>,
    /// With the class that says something of their ports.
    parts: HashMap<(String, String), (Written<Part>, Option<String>)>,
}

/// Patterns and classes, each with its file.
struct Sources<'a> {
    patterns: HashMap<&'a str, (&'a str, &'a Written<Part>)>,
    classes: HashMap<&'a str, (&'a str, &'a Class)>,
}

impl Origin {
    pub fn row(&mut self, file: &str, part: &str, row: Row) {
        self.rows.insert((file.to_owned(), part.to_owned()), row);
    }

    pub fn keep(&mut self, file: &str, id: &str, part: Written<Part>, class: Option<&str>) {
        self.parts.insert((file.to_owned(), id.to_owned()), (part, class.map(str::to_owned)));
    }

    /// Has each fault of a part that is written as a row name that row.
    pub fn place_rows(&self, faults: &mut [Fault]) {
        faults.iter_mut().for_each(|fault| self.place(fault, None));
    }

    /// Has each fault name the file and path where its words stand.
    pub fn place_all(&self, faults: &mut [Fault], files: &[(String, LibraryFile)]) {
        if self.rows.is_empty() && self.parts.is_empty() {
            return;
        }
        let mut sources = Sources { patterns: HashMap::new(), classes: HashMap::new() };
        for (name, file) in files {
            sources.patterns.extend(file.patterns.iter().map(|(id, p)| (id.as_str(), (name.as_str(), p))));
            sources.classes.extend(file.classes.iter().map(|(id, c)| (id.as_str(), (name.as_str(), c))));
        }
        for fault in faults {
            self.place(fault, Some(&sources));
        }
    }

    fn place(&self, fault: &mut Fault, sources: Option<&Sources<'_>>) {
        let Some(path) = fault.path.strip_prefix("parts.") else { return };
        let (id, rest) = path.split_once('.').unwrap_or((path, ""));
        let key = (fault.file.clone(), id.to_owned());
        let row = self.rows.get(&key);
        let kept = self.parts.get(&key);
        let is_own = rest.is_empty() || kept.is_none_or(|(part, _)| has(part.words(), rest));
        if !is_own && let Some((sources, (part, class))) = sources.zip(kept) {
            let of_pattern = sources.pattern_with(&part.like, rest, &mut HashSet::new());
            let found = of_pattern.or_else(|| sources.class_with(class.as_deref()?, rest));
            if let Some((file, path)) = found {
                (fault.file, fault.path) = (file, path);
                return;
            }
        }
        if let Some(row) = row {
            let column = column_of(&row.columns, rest).map(|n| format!("[{n}]"));
            fault.path = match column {
                None if rest == "like" => format!("{}.like", row.family),
                column => format!("{}.rows.{id}{}", row.family, column.unwrap_or_default()),
            };
        }
    }
}

impl Sources<'_> {
    /// File and path of the pattern that says what stands at a path, among those that something is like.
    fn pattern_with<'l>(
        &'l self,
        like: &'l str,
        path: &str,
        seen: &mut HashSet<&'l str>,
    ) -> Option<(String, String)> {
        like.split_whitespace().rev().filter(|id| seen.insert(id)).collect::<Vec<_>>().into_iter().find_map(
            |id| {
                let (file, pattern) = self.patterns.get(id)?;
                if has(pattern.words(), path) {
                    return Some(((*file).to_owned(), format!("patterns.{id}.{path}")));
                }
                self.pattern_with(&pattern.like, path, seen)
            },
        )
    }

    fn class_with(&self, class: &str, path: &str) -> Option<(String, String)> {
        let (file, def) = self.classes.get(class)?;
        let (name, below) = path.strip_prefix("ports.")?.split_once('.')?;
        let is_there = has(def.ports.get(name)?.words(), below);
        is_there.then(|| ((*file).to_owned(), format!("classes.{class}.{path}")))
    }
}

/// Whether something stands at a path. A key may have dots.
fn has(words: &Map<String, Json>, path: &str) -> bool {
    words.iter().any(|(key, word)| path.strip_prefix(key.as_str()).is_some_and(|rest| inside(word, rest)))
}

fn inside(word: &Json, rest: &str) -> bool {
    match (word, rest.chars().next()) {
        (_, None) => true,
        (Json::Object(words), Some('.')) => has(words, &rest[1..]),
        (Json::Array(list), Some('[')) => {
            let Some((number, after)) = rest[1..].split_once(']') else { return false };
            let found = number.parse().ok().and_then(|n: usize| list.get(n));
            found.is_some_and(|word| inside(word, after))
        }
        _ => false,
    }
}
