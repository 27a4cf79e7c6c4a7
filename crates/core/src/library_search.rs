//! Finds parts of a library by ordinary words: by what they are called, by what their ports are ("ends in 3/8-24 inverted
//! flare") and by their numbers ("radiator under 470 mm", "generator over 30 A", "under 200 USD"), whatever unit a number is
//! written in.
//!
//! A library is taken apart once ([`LibrarySearch`]). What is not known of a part is told apart from what answers; why a part
//! answers is put into words when it is shown ([`LibrarySearch::why`]).

mod amounts;
mod asked;
pub mod beside;
mod entries;
pub mod fits;
mod matching;
pub mod part_page;
pub mod places;
mod query;
mod understood;
mod why;
mod words;

use knockon_search::AskedWord;

use self::asked::{Asked, PriceAsked};
use self::entries::{At, Entries};
use self::query::{Query, Row};
pub use self::understood::Understood;
use crate::catalogue::{Catalogue, PartId};

/// Most words of a query that are weighed.
const MOST_WORDS: usize = 12;
/// What a word counts that the class of a part has, that the class is called besides, or that its system has.
const IN_CLASS: f32 = 0.95;
const IN_OTHER_NAME: f32 = 0.9;
const IN_SYSTEM: f32 = 0.45;

/// A library taken apart.
#[derive(Clone, Debug, Default)]
pub struct LibrarySearch {
    entries: Entries,
}

/// Why a part answers, besides its words.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Because {
    /// A port of it, by its place.
    Port(u16),
    /// A number of it.
    Number(At),
    /// A number that is not known or not stated: what it is called, and where it stands if it does.
    NotKnown(u32, Option<At>),
    /// Its price.
    Price,
    /// Nobody says what it costs.
    NoPrice,
}

/// A part that answers.
#[derive(Clone, Debug, PartialEq)]
pub struct Hit {
    /// Which.
    pub part: PartId,
    /// How well: 1.5 is a name word for word.
    pub score: f32,
    /// The same without what its own name says beyond its class.
    fit: f32,
    because: Vec<Because>,
    /// Which of the words are in its name, its class, its system.
    by: By,
}

/// Where the words of a query stand.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct By {
    name: bool,
    class: bool,
    system: bool,
}

/// What answers a query.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answer {
    /// What was understood of it.
    pub understood: Understood,
    /// What answers, the best first.
    pub hits: Vec<Hit>,
    /// What may answer: a number that was asked for is not known of it, or it has no price.
    pub open: Vec<Hit>,
    /// Nothing was asked: these are all parts.
    pub all: bool,
    /// A port was asked for.
    pub by_port: bool,
}

impl LibrarySearch {
    /// Takes a library apart.
    #[must_use]
    pub fn new(catalogue: &Catalogue) -> Self {
        Self { entries: Entries::new(catalogue) }
    }

    /// What answers a query, of the library that was taken apart.
    #[must_use]
    pub fn find(&self, catalogue: &Catalogue, query: &str) -> Answer {
        let mut asked = asked::read(query);
        if asked.is_empty() {
            return all(catalogue);
        }
        let mut understood = Understood::default();
        let alone = asked.sizes.is_empty()
            && asked.bounds.is_empty()
            && asked.prices.is_empty()
            && asked.port_words.is_none();
        let rows = self.rows(&asked.words, alone, &mut understood);
        let port_rows = self.rows(asked.port_words.as_deref().unwrap_or_default(), false, &mut understood);
        self.bare_numbers(&mut asked, &rows);
        let query = Query::new(&self.entries, asked, rows, port_rows);
        let mut answer = query.run(catalogue, &mut understood);
        understood.of(
            &query.asked,
            query.rows.iter().map(|row| row.word.text.clone()),
            query.port_rows.iter().map(|row| row.word.text.clone()),
        );
        answer.understood = understood;
        answer
    }

    /// The words of a query that say something, each against everything.
    fn rows(&self, words: &str, alone: bool, understood: &mut Understood) -> Vec<Row> {
        let all = self.entries.words.ask(words);
        let says_something = |word: &AskedWord| !word.silent && !self.entries.silent.contains(&word.text);
        let (mut told, silent): (Vec<AskedWord>, Vec<AskedWord>) = all.into_iter().partition(says_something);
        // where no word says anything and nothing else is asked, each counts
        if told.is_empty() && alone {
            told = silent.into_iter().filter(|word| !word.alike.is_empty()).collect();
        }
        let mut once: Vec<AskedWord> = Vec::new();
        for word in told {
            if !once.iter().any(|other| other.text == word.text) {
                once.push(word);
            }
        }
        let rows = once.into_iter().map(|word| self.row(word));
        let (known, strange): (Vec<Row>, Vec<Row>) = rows.partition(Row::is_known);
        understood.strange.extend(strange.into_iter().map(|row| row.word.text));
        known.into_iter().take(MOST_WORDS).collect()
    }

    fn row(&self, word: AskedWord) -> Row {
        let entries = &self.entries;
        let mut names = vec![0.0_f32; entries.name_len.len()];
        let mut specs = vec![0.0_f32; entries.spec_count];
        let mut alike = vec![0.0_f32; entries.words.len()];
        let put = |row: &mut Vec<f32>, things: &[u32], how: f32| {
            for thing in things {
                if let Some(cell) = row.get_mut(*thing as usize) {
                    *cell = cell.max(how);
                }
            }
        };
        for (known, how) in &word.alike {
            put(&mut names, entries.names.of(*known), *how);
            put(&mut specs, entries.specs.of(*known), *how);
            if let Some(cell) = alike.get_mut(*known as usize) {
                *cell = *how;
            }
        }
        let of = |words: &[u32]| {
            words.iter().filter_map(|word| alike.get(*word as usize)).copied().fold(0.0, f32::max)
        };
        let class = |class: &entries::ClassWords| {
            let named = class
                .names
                .iter()
                .enumerate()
                .map(|(n, words)| of(words) * if n == 0 { IN_CLASS } else { IN_OTHER_NAME });
            (named.fold(0.0, f32::max), of(&class.systems) * IN_SYSTEM)
        };
        let classes = entries.classes.iter().map(class).collect();
        let labels = entries.labels.iter().map(|label| of(&label.words)).collect();
        Row { word, weight: 1.0, names, classes, specs, labels }
    }

    /// A number without a unit is of what is counted where words name such a thing, else it is money.
    fn bare_numbers(&self, asked: &mut Asked, rows: &[Row]) {
        for bare in std::mem::take(&mut asked.bare) {
            let counted = |label: u32| {
                let of = self.entries.labels.get(label as usize);
                of.is_some_and(|of| of.dimension == Some(bare.dimension))
                    && rows.iter().any(|row| row.label(label) > 0.0)
            };
            if (0..self.entries.labels.len() as u32).any(counted) {
                asked.bounds.push(bare);
            } else {
                let note = format!(
                    "\"{}\" has no unit and is read as a price; write a unit behind it for a size",
                    bare.text
                );
                asked.notes.push(note);
                asked.prices.push(PriceAsked { text: bare.text, span: bare.span, currency: None });
            }
        }
    }
}

/// Every part, in the order of the classes and prices: a shelf that is walked along.
fn all(catalogue: &Catalogue) -> Answer {
    let parts = catalogue.by_class.values().flatten().copied();
    let hit = |part| Hit { part, score: 0.0, fit: 0.0, because: Vec::new(), by: By::default() };
    Answer { hits: parts.map(hit).collect(), all: true, understood: Understood::all(), ..Answer::default() }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
