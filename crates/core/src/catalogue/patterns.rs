//! What a part is like: the patterns it names, and what its class says of ports, laid under what it says itself. Done in
//! one place, before anything else looks at a library; what comes of it has parts in full and no `like`.

mod columns;
mod families;
mod origin;
mod room;
#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, HashMap, HashSet};
use std::rc::Rc;

use serde::Deserialize as _;
use serde_json::{Map, Value as Json};

use super::Catalogue;
use super::check::{Fault, Faults};
use crate::layers::{Layer, Replaced, stacked};
use crate::library::{Class, LibraryFile, Part, Port, Table};
use crate::meant::{nearest, then};
use crate::plain::plain;
use crate::written::Written;
use origin::Origin;
use room::{Room, weight};

/// How many patterns may be like each other in a row.
const DEEPEST: usize = 16;
/// How many patterns one part or pattern may name.
const MOST_NAMED: usize = 16;
/// Behind so many faults nobody is asked any more what may be meant.
const MOST_ASKED: usize = 500;

type Words = Map<String, Json>;

/// Libraries read together.
#[derive(Clone, Debug, Default)]
pub struct Layered {
    /// What came of them. What has a fault is left out of it.
    pub catalogue: Catalogue,
    /// What is wrong.
    pub faults: Vec<Fault>,
    /// What of a lower library an upper one replaces.
    pub replaced: Vec<Replaced>,
    /// How many of the faults come first: parts that they leave out are missing all over the others.
    pub first: usize,
}

impl Catalogue {
    /// Reads the files of libraries that lie on top of each other, the lowest first, with their parts as they are written.
    #[must_use]
    pub fn layered(mut layers: Vec<Layer<Written<Part>>>) -> Layered {
        let mut faults = Faults::default();
        let mut room = Room::default();
        let mut origin = Origin::default();
        for layer in &mut layers {
            families::unfold(layer, &mut room, &mut origin, &mut faults);
        }
        keep_ports(&mut layers);
        let (files, replaced) = stacked(layers);
        let files = resolved(files, room, &mut origin, &mut faults);
        let mut first = faults.list;
        origin.place_rows(&mut first);
        let is_whole = first.iter().all(|fault| fault.warning);
        let (catalogue, mut rest) = Self::new(files);
        origin.place_all(&mut rest, &catalogue.files);
        let mut told = 0;
        if is_whole {
            rest.append(&mut first);
        } else {
            first.retain(|fault| !fault.warning);
            first.sort();
            first.dedup();
            told = first.len();
        }
        rest.sort();
        rest.dedup();
        first.append(&mut rest);
        Layered { catalogue, faults: first, replaced, first: told }
    }
}

/// A class that replaces a lower one keeps what that says of ports it does not name: the parts below rest on it.
fn keep_ports(layers: &mut [Layer<Written<Part>>]) {
    let mut below: HashMap<String, Table<Written<Port>>> = HashMap::new();
    for layer in layers {
        for (id, class) in layer.iter_mut().flat_map(|(_, file)| &mut file.classes) {
            let kept = below.entry(id.clone()).or_default();
            for (name, port) in &*kept {
                class.ports.entry(name.clone()).or_insert_with(|| port.clone());
            }
            kept.clone_from(&class.ports);
        }
    }
}

/// The parts that a sheet brings, in full, with the patterns and classes of the library; and its own classes.
pub(super) fn of_sheet(
    name: &str,
    files: &[(String, LibraryFile)],
    classes: &Table<Class>,
    parts: &Table<Written<Part>>,
) -> (Table<Part>, Vec<Fault>) {
    let mut faults = Faults::default();
    let mut patterns = Patterns::of(files, Room::default());
    for (id, class) in classes {
        patterns.classes.entry(id).or_insert((name, class));
    }
    let parts = parts.iter().filter_map(|(id, part)| {
        let part = patterns.part(name, id, part.clone(), None, &mut faults)?;
        Some((id.clone(), part))
    });
    (parts.collect(), faults.list)
}

/// The files with all their parts in full.
fn resolved(mut files: Layer<Written<Part>>, room: Room, origin: &mut Origin, faults: &mut Faults) -> Layer {
    let parts: Vec<Table<Written<Part>>> =
        files.iter_mut().map(|(_, file)| std::mem::take(&mut file.parts)).collect();
    let mut patterns = Patterns::of(&files, room);
    let ids: Vec<&str> = patterns.patterns.keys().copied().collect();
    for id in ids {
        patterns.laid(id, &mut Vec::new(), faults);
    }
    for id in parts.iter().flat_map(Table::keys) {
        if let Some((file, _)) = patterns.patterns.get(id.as_str()) {
            let message =
                format!("\"{id}\" is the id of a part too, and no part is like another; rename the pattern");
            faults.error(file, format!("patterns.{id}"), message);
        }
    }
    let mut whole = Vec::new();
    for ((name, _), parts) in files.iter().zip(parts) {
        let parts = parts.into_iter().filter_map(|(id, part)| {
            let part = patterns.part(name, &id, part, Some(origin), faults)?;
            Some((id, part))
        });
        whole.push(parts.collect());
    }
    patterns.unused(faults);
    files.into_iter().zip(whole).map(|((name, file), parts)| (name, file.with_parts(parts).1)).collect()
}

/// A pattern with all that it is like, and how many lie under it. `None`: it has a fault.
type Laid = Option<(Rc<Words>, usize)>;

/// The patterns of a library and its classes, each with its file.
struct Patterns<'a> {
    patterns: BTreeMap<&'a str, (&'a str, &'a Written<Part>)>,
    classes: HashMap<&'a str, (&'a str, &'a Class)>,
    laid: HashMap<&'a str, Laid>,
    /// What some part or pattern is like.
    named: HashSet<&'a str>,
    /// Class and port, where a part has such a port.
    ports: HashSet<(&'a str, &'a str)>,
    room: Room,
}

impl<'a> Patterns<'a> {
    fn of<P>(files: &'a [(String, LibraryFile<P>)], room: Room) -> Self {
        let (mut patterns, mut classes) = (BTreeMap::new(), HashMap::new());
        for (name, file) in files {
            for (id, pattern) in &file.patterns {
                patterns.entry(id.as_str()).or_insert((name.as_str(), pattern));
            }
            for (id, class) in &file.classes {
                classes.entry(id.as_str()).or_insert((name.as_str(), class));
            }
        }
        Self { patterns, classes, laid: HashMap::new(), named: HashSet::new(), ports: HashSet::new(), room }
    }

    /// The words of a pattern with those of all that it is like under them.
    fn laid(&mut self, id: &'a str, open: &mut Vec<&'a str>, faults: &mut Faults) -> Laid {
        if let Some(laid) = self.laid.get(id) {
            return laid.clone();
        }
        let (file, pattern) = *self.patterns.get(id)?;
        open.push(id);
        let path = format!("patterns.{id}");
        let under = self.under(&pattern.like, (file, &path), open, faults);
        open.pop();
        let laid = under.map(|(mut words, depth)| {
            lay(pattern.words(), &mut words);
            (Rc::new(words), depth)
        });
        self.laid.insert(id, laid.clone());
        laid
    }

    /// What lies under something that is like these patterns, and how deep.
    fn under(
        &mut self,
        like: &str,
        at: (&str, &str),
        open: &mut Vec<&'a str>,
        faults: &mut Faults,
    ) -> Option<(Words, usize)> {
        let (file, path) = (at.0, format!("{}.like", at.1));
        let mut words = Words::new();
        let mut depth = 0;
        if like.split_whitespace().count() > MOST_NAMED {
            faults.error(file, path, format!("at most {MOST_NAMED} patterns can be named"));
            return None;
        }
        for named in like.split_whitespace() {
            let Some((id, _)) = self.patterns.get_key_value(named).map(|(id, at)| (*id, at)) else {
                let known = self.patterns.keys().copied().filter(|_| faults.list.len() < MOST_ASKED);
                let way_out = then(nearest(named, known), "add it or correct the word");
                faults.error(file, path, format!("there is no pattern \"{named}\"{way_out}"));
                return None;
            };
            self.named.insert(id);
            if let Some(at) = open.iter().position(|other| *other == id) {
                let ring = open[at..].iter().chain([&id]).map(|id| format!("\"{id}\"")).collect::<Vec<_>>();
                let message = format!("{}; take one of them out", ring.join(" is like "));
                faults.error(file, path, format!("patterns run round in a circle: {message}"));
                return None;
            }
            let (under, deep) =
                if open.len() < DEEPEST { self.laid(id, open, faults)? } else { (Rc::default(), DEEPEST) };
            depth = depth.max(deep + 1);
            if depth > DEEPEST {
                faults.error(
                    file,
                    path,
                    format!("more than {DEEPEST} patterns are like each other in a row"),
                );
                return None;
            }
            if !self.room.take(weight(&under)) {
                self.room.tell(file, path, faults);
                return None;
            }
            lay(&under, &mut words);
        }
        words.remove("like");
        Some((words, depth))
    }

    /// A part in full. `None`: it has a fault, which is told.
    fn part(
        &mut self,
        file: &str,
        id: &str,
        part: Written<Part>,
        origin: Option<&mut Origin>,
        faults: &mut Faults,
    ) -> Option<Part> {
        let path = format!("parts.{id}");
        let under = if part.like.is_empty() {
            Words::new()
        } else {
            self.under(&part.like, (file, &path), &mut Vec::new(), faults)?.0
        };
        let class = part.words().get("class").or_else(|| under.get("class")).and_then(Json::as_str);
        let class = class.and_then(|class| self.classes.get_key_value(class)).map(|(id, at)| (*id, at.1));
        let is_alone = class.is_none_or(|(_, class)| class.ports.is_empty());
        if under.is_empty() && is_alone {
            return self.is_whole(part.words(), file, &path, faults).then(|| part.into_said());
        }
        let mut words = under;
        lay(part.words(), &mut words);
        words.remove("like");
        if let Some((class, def)) = class
            && let Some(Json::Object(ports)) = words.get_mut("ports")
        {
            for (name, port) in ports {
                let Some((name, under)) = def.ports.get_key_value(name.as_str()) else { continue };
                self.ports.insert((class, name));
                if let Json::Object(own) = port {
                    if !self.room.take(weight(under.words())) {
                        self.room.tell(file, path, faults);
                        return None;
                    }
                    let mut all = under.words().clone();
                    lay(own, &mut all);
                    *own = all;
                }
            }
        }
        if let Some(origin) = origin {
            origin.keep(file, id, part, class.map(|(id, _)| id));
        }
        if !self.is_whole(&words, file, &path, faults) {
            return None;
        }
        Part::deserialize(&words).map_err(|e| faults.error(file, path, plain(&e.to_string()))).ok()
    }

    /// Whether a part says all that it must; what is missing is told.
    fn is_whole(&self, words: &Words, file: &str, path: &str, faults: &mut Faults) -> bool {
        let missing = |word: &str| format!("\"{word}\" is missing; add it");
        let before = faults.list.len();
        for word in ["name", "class"] {
            if !words.contains_key(word) {
                faults.error(file, path.to_owned(), missing(word));
            }
        }
        let class = words.get("class").and_then(Json::as_str).unwrap_or_default();
        let is_known = self.classes.contains_key(class);
        let ports = words.get("ports").and_then(Json::as_object).into_iter().flatten();
        let mut without = ports.filter(|(_, port)| port.get("type").is_none()).map(|(name, _)| name);
        if is_known {
            without.for_each(|name| faults.error(file, format!("{path}.ports.{name}"), missing("type")));
        } else if without.next().is_some() && !class.is_empty() {
            // what ports are, the class would say
            let known = self.classes.keys().copied().filter(|_| faults.list.len() < MOST_ASKED);
            let way_out = then(nearest(class, known), "add it or correct the word");
            faults.error(file, format!("{path}.class"), format!("there is no class \"{class}\"{way_out}"));
        }
        faults.list.len() == before
    }

    /// Patterns that nothing is like, and what classes say of ports that none of their parts has.
    fn unused(&self, faults: &mut Faults) {
        for (id, (file, _)) in &self.patterns {
            if !self.named.contains(id) {
                let message = "no part is like this pattern; have one be like it, or take it out";
                faults.warn(file, format!("patterns.{id}"), message.to_owned());
            }
        }
        let mut classes: Vec<_> = self.classes.iter().collect();
        classes.sort_by_key(|(id, _)| **id);
        for (class, (file, def)) in classes {
            let has = |name: &str| self.ports.contains(&(*class, name));
            for name in def.ports.keys().filter(|name| !has(name)) {
                let known = def.ports.keys().map(String::as_str).filter(|known| has(known));
                let way_out = then(nearest(name, known), "correct the word or take it out");
                let message = format!("no part of this class has a port \"{name}\"{way_out}");
                faults.warn(file, format!("classes.{class}.ports.{name}"), message);
            }
        }
    }
}

/// Lays words over others: what both say of one thing the upper says, and where both have an object, word by word.
fn lay(over: &Words, under: &mut Words) {
    for (key, word) in over {
        match (word, under.get_mut(key)) {
            (Json::Object(over), Some(Json::Object(under))) => lay(over, under),
            (_, Some(under)) => *under = word.clone(),
            (_, None) => drop(under.insert(key.clone(), word.clone())),
        }
    }
}
