//! Words that mean the same, and words that say nothing: data, the same for every search.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;

use crate::words::{Word, words};

/// Words that mean the same, and words that say nothing.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(from = "Written")]
pub struct Dictionary {
    /// The group of each stem.
    groups: BTreeMap<String, usize>,
    /// Stems that are passed over.
    silent: BTreeSet<String>,
}

/// As a file has it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    #[serde(default, rename = "about")]
    _about: String,
    same: Vec<Vec<String>>,
    silent: Vec<String>,
}

impl From<Written> for Dictionary {
    fn from(written: Written) -> Self {
        Self::new(&written.same, &written.silent)
    }
}

impl Dictionary {
    /// From groups of words that mean the same, one word each, and words to pass over. A word of two groups belongs to the
    /// first.
    #[must_use]
    pub fn new(same: &[Vec<String>], silent: &[String]) -> Self {
        let stems = |text: &String| words(text).into_iter().map(|w| w.stem).collect::<Vec<_>>();
        let mut groups = BTreeMap::new();
        for (number, group) in same.iter().enumerate() {
            for stem in group.iter().flat_map(stems) {
                groups.entry(stem).or_insert(number);
            }
        }
        Self { groups, silent: silent.iter().flat_map(stems).collect() }
    }

    /// The words of a text, each with whether it says something.
    pub(crate) fn words(&self, text: &str) -> Vec<Word> {
        let silent = |word: Word| Word { silent: self.silent.contains(&word.stem), ..word };
        words(text).into_iter().map(silent).collect()
    }

    /// The group of words that mean the same that a stem is of.
    pub(crate) fn group(&self, stem: &str) -> Option<usize> {
        self.groups.get(stem).copied()
    }
}
