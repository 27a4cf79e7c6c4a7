//! A library taken apart once for searches: the words of parts, of their ports and of what their numbers are called, and the
//! numbers themselves in SI.

use std::collections::HashMap;

use knockon_search::{Known, Vocabulary};
use rustc_hash::{FxHashMap, FxHashSet};

use super::words::WORDS;
use crate::catalogue::{
    Catalogue, ClassId, FigureId, NeedId, PartEntry, PartId, PoolId, PortEntry, PortTypeId, SpecId,
};
use crate::figure::search::words as dictionary;
use crate::find::other_names;
use crate::library_search::amounts::{Amount, ThreadAsked, amount};
use crate::units::Dimension;
use crate::value::{Kind, Value};

/// Where a number of a part stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum At {
    /// A figure: its place among the part's.
    Figure(u16),
    /// A field of a port: their places.
    Field(u16, u16),
    /// What it offers.
    Offer(u16),
    /// What it gives to a pool.
    Give(u16),
    /// What it takes from a pool.
    Take(u16),
    /// Its name.
    Name,
}

/// What is known of a number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Amounts {
    /// From, to, SI.
    Range(f64, f64),
    /// The same, and it can be set anywhere between.
    Settable(f64, f64),
    /// A thread, by its place among all.
    Thread(u32),
    /// Cut or made to measure.
    Any,
    /// Nobody knows it.
    Unknown,
}

/// A number of a part.
#[derive(Clone, Copy, Debug)]
pub(super) struct Number {
    pub at: At,
    pub label: u32,
    pub what: Amounts,
}

/// What numbers are called.
#[derive(Clone, Debug)]
pub(super) struct Label {
    /// As shown.
    pub name: String,
    pub words: Vec<Known>,
    pub dimension: Option<Dimension>,
    /// How far two that are the same may differ, SI.
    pub within: f64,
}

/// The words of a class: its name, and what else people call it.
#[derive(Clone, Debug, Default)]
pub(super) struct ClassWords {
    pub names: Vec<Vec<Known>>,
    /// Names of the systems it has a place in.
    pub systems: Vec<Known>,
}

/// Things by the words they have: for each word, in order.
#[derive(Clone, Debug, Default)]
pub(super) struct Postings(Vec<Vec<u32>>);

impl Postings {
    fn add(&mut self, words: &[Known], thing: u32) {
        for word in words {
            let at = *word as usize;
            if self.0.len() <= at {
                self.0.resize(at + 1, Vec::new());
            }
            if let Some(list) = self.0.get_mut(at)
                && list.last() != Some(&thing)
            {
                list.push(thing);
            }
        }
    }

    pub fn of(&self, word: Known) -> &[u32] {
        self.0.get(word as usize).map_or(&[], Vec::as_slice)
    }
}

/// A library taken apart.
#[derive(Clone, Debug, Default)]
pub(super) struct Entries {
    pub words: Vocabulary,
    /// Parts by the words of their names.
    pub names: Postings,
    /// How many words the name of each part has.
    pub name_len: Vec<u8>,
    pub classes: Vec<ClassWords>,
    /// Port specs by the words of their type and values.
    pub specs: Postings,
    /// Ports of each part: where they begin in `port_specs`.
    port_from: Vec<u32>,
    port_specs: Vec<u32>,
    /// One more than the last spec.
    pub spec_count: usize,
    pub labels: Vec<Label>,
    /// Numbers of each part: where they begin.
    from: Vec<u32>,
    numbers: Vec<Number>,
    pub threads: Vec<String>,
    /// Least and most of each number within a class, by class and label.
    pub scales: FxHashMap<(ClassId, u32), (f64, f64)>,
    /// Words that say nothing here.
    pub silent: FxHashSet<String>,
}

/// Names what numbers are called, each once.
struct Namer<'a> {
    cat: &'a Catalogue,
    numbers: HashMap<(u8, u32, u32), u32>,
    threads: HashMap<String, u32>,
}

impl Entries {
    /// The numbers of a part.
    pub fn numbers_of(&self, part: PartId) -> &[Number] {
        let at = part.ix();
        let (from, to) = (self.from.get(at).copied(), self.from.get(at + 1).copied());
        let range = from.unwrap_or(0) as usize..to.unwrap_or(0) as usize;
        self.numbers.get(range).unwrap_or(&[])
    }

    /// The specs of a part's ports, in their order.
    pub fn specs_of(&self, part: PartId) -> &[u32] {
        let at = part.ix();
        let (from, to) = (self.port_from.get(at).copied(), self.port_from.get(at + 1).copied());
        self.port_specs.get(from.unwrap_or(0) as usize..to.unwrap_or(0) as usize).unwrap_or(&[])
    }

    /// Takes a library apart.
    pub fn new(cat: &Catalogue) -> Self {
        let mut all = Self { words: Vocabulary::new(dictionary()), ..Self::default() };
        all.silent = WORDS.silent.iter().cloned().collect();
        all.class_words(cat);
        let mut namer = Namer { cat, numbers: HashMap::new(), threads: HashMap::new() };
        let mut seen: FxHashSet<SpecId> = FxHashSet::default();
        // the words of a type and of a value are taken once
        let mut types: HashMap<u32, Vec<Known>> = HashMap::new();
        let mut values: HashMap<String, Vec<Known>> = HashMap::new();
        for (id, part) in cat.parts.iter() {
            let name = all.words.take(&part.part.name);
            all.name_len.push(u8::try_from(name.len()).unwrap_or(u8::MAX));
            all.names.add(&name, id.number());
            all.port_from.push(all.port_specs.len() as u32);
            all.from.push(all.numbers.len() as u32);
            for port in &part.ports {
                all.port_specs.push(port.spec.number());
                all.spec_count = all.spec_count.max(port.spec.ix().saturating_add(1));
                if seen.insert(port.spec) {
                    let words = all.port_words(cat, port, &mut types, &mut values);
                    all.specs.add(&words, port.spec.number());
                }
            }
            all.numbers_in(&mut namer, part);
        }
        all.port_from.push(all.port_specs.len() as u32);
        all.from.push(all.numbers.len() as u32);
        all
    }

    fn class_words(&mut self, cat: &Catalogue) {
        let mut systems: HashMap<ClassId, FxHashSet<&str>> = HashMap::new();
        for position in cat.vehicles.values().flat_map(|v| v.positions.values()) {
            systems.entry(position.class).or_default().insert(&position.system);
        }
        for (id, class) in cat.classes.iter() {
            let others = other_names(cat.class_names.id(id)).iter().map(String::as_str);
            let names = std::iter::once(class.name.as_str()).chain(others);
            let names = names.map(|name| self.words.take(name)).collect();
            let of = systems.get(&id);
            let mine =
                cat.systems.iter().filter(|(system, _)| of.is_some_and(|of| of.contains(system.as_str())));
            let systems = mine.flat_map(|(_, name)| self.words.take(name)).collect();
            self.classes.push(ClassWords { names, systems });
        }
    }

    /// What a port is called, by its type and by the words it has.
    fn port_words(
        &mut self,
        cat: &Catalogue,
        port: &PortEntry,
        types: &mut HashMap<u32, Vec<Known>>,
        values: &mut HashMap<String, Vec<Known>>,
    ) -> Vec<Known> {
        let Some(of) = cat.port_types.get(port.port_type) else { return Vec::new() };
        let words = &mut self.words;
        let of_type = types.entry(port.port_type.number()).or_insert_with(|| {
            let id = cat.port_type_names.id(port.port_type);
            let mut all = words.take(&of.name);
            all.extend(words.take(&id.split('.').next_back().unwrap_or_default().replace('-', " ")));
            all.extend(of.fields.iter().flat_map(|(_, def, ..)| words.take(&def.name)));
            all.extend(WORDS.port_types.get(id).into_iter().flatten().flat_map(|name| words.take(name)));
            all
        });
        let mut out = of_type.clone();
        for value in port.values.iter().flatten() {
            for word in value_words(value) {
                let taken = values.entry(word.to_owned()).or_insert_with(|| {
                    let mut all = words.take(word);
                    all.extend(
                        WORDS.values.get(word).into_iter().flatten().flat_map(|name| words.take(name)),
                    );
                    all
                });
                out.extend_from_slice(taken);
            }
        }
        out.sort_unstable();
        out.dedup();
        out
    }

    fn numbers_in(&mut self, namer: &mut Namer<'_>, part: &PartEntry) {
        let place = |ix: usize| u16::try_from(ix).unwrap_or(u16::MAX);
        for (ix, (figure, value)) in part.figures.iter().enumerate() {
            let label = self.label((0, figure.number(), 0), namer);
            self.number(namer, part.class, At::Figure(place(ix)), label, value);
        }
        for (p, port) in part.ports.iter().enumerate() {
            for (f, value) in port.values.iter().enumerate() {
                if let Some(value) = value {
                    let label = self.label((1, port.port_type.number(), f as u32), namer);
                    self.number(namer, part.class, At::Field(place(p), place(f)), label, value);
                }
            }
        }
        for (ix, (need, value)) in part.offers.iter().enumerate() {
            if let Some(value) = value {
                let label = self.label((2, need.number(), 0), namer);
                self.number(namer, part.class, At::Offer(place(ix)), label, value);
            }
        }
        for (ix, (pool, value)) in part.gives.iter().enumerate() {
            let label = self.label((3, pool.number(), 0), namer);
            self.number(namer, part.class, At::Give(place(ix)), label, value);
        }
        for (ix, (pool, value)) in part.takes.iter().enumerate() {
            let label = self.label((3, pool.number(), 0), namer);
            self.number(namer, part.class, At::Take(place(ix)), label, value);
        }
        self.in_name(namer, part);
    }

    /// Sizes that a name tells: "Shaft flange bolts, 3/8-24", "Fuel hose, 8 mm".
    fn in_name(&mut self, namer: &mut Namer<'_>, part: &PartEntry) {
        if !part.part.name.contains(|c: char| c.is_ascii_digit()) {
            return;
        }
        let tokens: Vec<String> = part
            .part
            .name
            .split_whitespace()
            .map(|word| word.trim_matches([',', ';', '(', ')', '.']).to_owned())
            .collect();
        let mut at = 0;
        while at < tokens.len() {
            let starts = tokens[at].starts_with(|c: char| c.is_ascii_digit() || c == 'M' || c == '#');
            let taken = if starts { amount(&tokens[at..]) } else { None };
            at += taken.as_ref().map_or(1, |taken| taken.words);
            let Some(Amount::Size { thread, quantity, .. }) = taken.map(|taken| taken.amount) else {
                continue;
            };
            if let Some((si, dimension)) = quantity {
                let label = self.label((4, dimension as u32, 0), namer);
                if let Some(label) = self.labels.get_mut(label as usize) {
                    label.dimension = Some(dimension);
                }
                self.numbers.push(Number { at: At::Name, label, what: Amounts::Range(si, si) });
            } else if let Some(ThreadAsked::Named(name)) = thread {
                let label = self.label((4, u32::MAX, 0), namer);
                let thread = self.thread(namer, &name);
                self.numbers.push(Number { at: At::Name, label, what: Amounts::Thread(thread) });
            }
        }
    }

    fn thread(&mut self, namer: &mut Namer<'_>, name: &str) -> u32 {
        *namer.threads.entry(name.to_owned()).or_insert_with(|| {
            self.threads.push(name.to_owned());
            (self.threads.len() - 1) as u32
        })
    }

    fn number(&mut self, namer: &mut Namer<'_>, class: ClassId, at: At, label: u32, value: &Value) {
        let what = match value {
            Value::Quantity(q) => {
                let (low, high) = q.bounds();
                Amounts::Range(low, high)
            }
            Value::Window { low, high, settable: true, .. } => Amounts::Settable(*low, *high),
            Value::Window { low, high, .. } => Amounts::Range(*low, *high),
            Value::Any => Amounts::Any,
            Value::Unknown(_) => Amounts::Unknown,
            Value::OneOf(items) => {
                items.iter().for_each(|item| self.number(namer, class, at, label, item));
                return;
            }
            Value::Word(word) => {
                let is_thread =
                    self.labels.get(label as usize).is_some_and(|label| label.dimension.is_none());
                if !is_thread || !word.contains(|c: char| c.is_ascii_digit()) {
                    return;
                }
                Amounts::Thread(self.thread(namer, word))
            }
            Value::Curve(_) => return,
        };
        // what nobody knows of any part of a class can still be named
        let scale = self.scales.entry((class, label)).or_insert((f64::INFINITY, f64::NEG_INFINITY));
        if let Amounts::Range(low, high) | Amounts::Settable(low, high) = what {
            *scale = (scale.0.min(low), scale.1.max(high));
        }
        self.numbers.push(Number { at, label, what });
    }

    /// What a number is called, by its kind and the ids it goes by.
    fn label(&mut self, key: (u8, u32, u32), namer: &mut Namer<'_>) -> u32 {
        if let Some(known) = namer.numbers.get(&key) {
            return *known;
        }
        let cat = namer.cat;
        let (mut names, mut dimension, mut within): (Vec<String>, Option<Dimension>, f64) =
            (Vec::new(), None, 0.0);
        let id_at = |ix: u32| ix as usize;
        match key {
            (0, figure, _) => {
                let number = FigureId::new(id_at(figure));
                let id = cat.figure_names.id(number);
                if let Some((name, kind, _)) = cat.figures.get(number) {
                    names.push(name.clone());
                    dimension = kind_of(*kind);
                }
                names.push(id.replace('-', " "));
                names.extend(WORDS.figures.get(id).into_iter().flatten().cloned());
            }
            (1, port_type, field) => {
                let number = PortTypeId::new(id_at(port_type));
                if let Some(of) = cat.port_types.get(number)
                    && let Some((id, def, kind, tolerance)) = of.fields.get(id_at(field))
                {
                    names.extend([def.name.clone(), id.replace('-', " "), of.name.clone()]);
                    dimension = kind_of(*kind);
                    within = *tolerance;
                }
            }
            (2, need, _) => {
                let number = NeedId::new(id_at(need));
                if let Some(need) = cat.needs.get(number) {
                    names.push(need.name.clone());
                    dimension = Kind::from_word(&need.kind).and_then(kind_of);
                }
                names.push(cat.need_names.id(number).replace('-', " "));
            }
            (3, pool, _) => {
                let number = PoolId::new(id_at(pool));
                if let Some(pool) = cat.pools.get(number) {
                    names.push(pool.def.name.clone());
                    dimension = Kind::from_word(&pool.def.kind).and_then(kind_of);
                }
            }
            _ => {}
        }
        let mut words: Vec<Known> = names.iter().flat_map(|name| self.words.take(name)).collect();
        words.sort_unstable();
        words.dedup();
        let name = names.into_iter().next().unwrap_or_default();
        self.labels.push(Label { name, words, dimension, within });
        let number = (self.labels.len() - 1) as u32;
        namer.numbers.insert(key, number);
        number
    }
}

fn kind_of(kind: Kind) -> Option<Dimension> {
    match kind {
        Kind::Dimension(dimension) => Some(dimension),
        _ => None,
    }
}

/// The words of a value: those of a list are each one.
fn value_words(value: &Value) -> Vec<&str> {
    match value {
        Value::Word(word) => vec![word.as_str()],
        Value::Quantity(q) => vec![q.text.as_str()],
        Value::Window { text, .. } => vec![text.as_str()],
        Value::OneOf(items) => items.iter().flat_map(value_words).collect(),
        Value::Any | Value::Unknown(_) | Value::Curve(_) => Vec::new(),
    }
}
