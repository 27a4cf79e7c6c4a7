//! Things with names, and the order in which they answer a query.

use crate::dictionary::Dictionary;
use crate::words::Word;

/// What a word of an entry counts, by where it stands.
const IN_NAME: f64 = 1.0;
const IN_OTHER_NAME: f64 = 0.9;
const IN_MEANING: f64 = 0.45;

/// How well two words agree.
const EQUAL: f64 = 1.0;
const SAME_MEANING: f64 = 0.97;
const BEGUN: f64 = 0.8;
const SLIP: f64 = 0.6;

/// A hit has at least this, and this share of the best: what is below says something else.
const LEAST: f64 = 0.3;
const LEAST_OF_BEST: f64 = 0.5;

/// A thing that can be found.
#[derive(Clone, Debug)]
pub struct Entry<K> {
    key: K,
    names: Vec<String>,
    meaning: String,
}

impl<K> Entry<K> {
    /// A thing with its name and a sentence of what it is.
    #[must_use]
    pub fn new(key: K, name: impl Into<String>, meaning: impl Into<String>) -> Self {
        Self { key, names: vec![name.into()], meaning: meaning.into() }
    }

    /// The same with one more name: what others call it, or how they ask for it.
    #[must_use]
    pub fn called(mut self, name: impl Into<String>) -> Self {
        self.names.push(name.into());
        self
    }
}

/// A thing that was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hit<K> {
    /// Which.
    pub key: K,
    /// How well it answers: 1.5 is a name word for word, 0.3 the least that is told.
    pub score: f64,
}

/// An entry taken apart.
#[derive(Clone, Debug)]
struct Taken<K> {
    key: K,
    names: Vec<Vec<Word>>,
    meaning: Vec<Word>,
}

/// Entries that can be searched.
#[derive(Clone, Debug)]
pub struct Index<K> {
    dictionary: Dictionary,
    entries: Vec<Taken<K>>,
}

impl<K: Clone> Index<K> {
    /// Takes the entries apart; of two that answer alike the first one stays first.
    #[must_use]
    pub fn new(dictionary: Dictionary, entries: Vec<Entry<K>>) -> Self {
        let take = |entry: Entry<K>| Taken {
            names: entry.names.iter().map(|name| dictionary.telling(name)).collect(),
            meaning: dictionary.telling(&entry.meaning),
            key: entry.key,
        };
        let entries = entries.into_iter().map(take).collect();
        Self { dictionary, entries }
    }

    /// What answers a query, the best first; nothing where no word is known.
    ///
    /// A word that few entries have counts more than one that many have. A number that no entry has does not count: it says
    /// how much, not what.
    #[must_use]
    pub fn find(&self, query: &str) -> Vec<Hit<K>> {
        let asked = self.dictionary.telling(query);
        // how well each word agrees with each entry
        let agreed: Vec<Vec<f64>> =
            asked.iter().map(|word| self.entries.iter().map(|e| self.agrees(word, e)).collect()).collect();
        let weight = |row: &[f64]| {
            let best = row.iter().copied().fold(0.0, f64::max);
            let as_good = row.iter().filter(|a| **a > 0.0 && **a >= best * 0.4).count();
            (1.0 + self.entries.len() as f64 / as_good.max(1) as f64).ln()
        };
        let weighed: Vec<(&Word, &Vec<f64>, f64)> = asked
            .iter()
            .zip(&agreed)
            .filter(|(word, row)| !word.is_number() || row.iter().any(|a| *a > 0.0))
            .map(|(word, row)| (word, row, weight(row)))
            .collect();
        let all: f64 = weighed.iter().map(|(.., w)| w).sum();
        if all <= 0.0 {
            return Vec::new();
        }
        let words: Vec<&Word> = weighed.iter().map(|(word, ..)| *word).collect();
        let mut hits: Vec<Hit<K>> = self
            .entries
            .iter()
            .enumerate()
            .filter_map(|(at, entry)| {
                let of = |row: &[f64]| row.get(at).copied().unwrap_or(0.0);
                let part: f64 = weighed.iter().map(|(_, row, w)| w * of(row)).sum();
                let score = part / all;
                (score > 0.0)
                    .then(|| Hit { key: entry.key.clone(), score: score + 0.5 * self.whole(&words, entry) })
            })
            .collect();
        hits.sort_by(|a, b| b.score.total_cmp(&a.score));
        let best = hits.first().map_or(0.0, |h| h.score);
        hits.retain(|h| h.score >= LEAST.max(best * LEAST_OF_BEST));
        hits
    }

    /// How well a word agrees with the best word of an entry, by where that stands.
    fn agrees(&self, word: &Word, entry: &Taken<K>) -> f64 {
        let best = |words: &[Word], counts: f64| {
            words.iter().map(|w| self.alike(word, w) * counts).fold(0.0, f64::max)
        };
        let names = entry.names.iter().enumerate();
        names
            .map(|(i, name)| best(name, if i == 0 { IN_NAME } else { IN_OTHER_NAME }))
            .fold(best(&entry.meaning, IN_MEANING), f64::max)
    }

    /// How well the query as a whole agrees with one name as a whole: 1 where both have the same words.
    fn whole(&self, asked: &[&Word], entry: &Taken<K>) -> f64 {
        let of = |name: &Vec<Word>| {
            let shared = asked.iter().filter(|word| name.iter().any(|w| self.alike(word, w) > 0.5)).count();
            let all = asked.len() + name.len() - shared.min(name.len());
            if all == 0 { 0.0 } else { shared as f64 / all as f64 }
        };
        entry.names.iter().map(of).fold(0.0, f64::max).min(1.0)
    }

    /// How well two words agree, from 0 to 1.
    fn alike(&self, asked: &Word, word: &Word) -> f64 {
        if asked.stem == word.stem {
            return EQUAL;
        }
        if self.dictionary.same(&asked.stem, &word.stem) {
            return SAME_MEANING;
        }
        let letters = asked.raw.chars().count();
        if letters >= 3 && word.raw.starts_with(&asked.raw) {
            return BEGUN;
        }
        // one slip of the pen in a short word, two in a long one; a number with a slip is another number
        let slips = match letters {
            0..=3 => return 0.0,
            4..=7 => 1,
            _ => 2,
        };
        let off = if asked.is_number() { usize::MAX } else { strsim::osa_distance(&asked.raw, &word.raw) };
        if off <= slips { SLIP } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn index() -> Index<&'static str> {
        let group = |words: &[&str]| words.iter().map(|w| (*w).to_owned()).collect::<Vec<_>>();
        let dictionary = Dictionary::new(
            &[group(&["tyre", "tire"]), group(&["carburettor", "carburetor", "carb"])],
            &group(&["a", "the", "of", "for"]),
        );
        Index::new(
            dictionary,
            vec![
                Entry::new("tyre", "Tyre size", "diameter, width and turns of a tyre"),
                Entry::new("carb", "Carburettor size", "air an engine draws"),
                Entry::new("joint", "Joint angles", "angles of the joints of a shaft").called("u-joint"),
            ],
        )
    }

    fn first(query: &str) -> Option<&'static str> {
        index().find(query).first().map(|h| h.key)
    }

    #[test]
    fn order_case_slips_and_spellings() {
        for (query, key) in [
            ("tyre size", "tyre"),
            ("SIZE of the Tires", "tyre"),
            ("carb size", "carb"),
            ("carburetor", "carb"),
            ("carbureter", "carb"),
            ("U joint", "joint"),
            ("ujoint", "joint"),
            ("angels joint", "joint"),
            ("tyr", "tyre"),
            ("31x10.50R15 tire", "tyre"),
        ] {
            assert_eq!(first(query), Some(key), "{query}");
        }
        for nothing in ["", "banana", "the of", "12 34", "é", "-"] {
            assert_eq!(first(nothing), None, "{nothing}");
        }
    }

    #[test]
    fn a_name_word_for_word_is_the_best_there_is() {
        let hits = index().find("carburettor size");
        assert!(hits[0].key == "carb" && hits[0].score > 1.4, "{hits:?}");
        assert!(hits.iter().skip(1).all(|h| h.score < hits[0].score));
    }

    proptest! {
        #[test]
        fn the_order_of_the_words_says_nothing(words in proptest::sample::subsequence(vec!["tyre", "size", "joint", "air", "angle"], 1..4)) {
            let mut turned = words.clone();
            turned.reverse();
            let keys = |words: &[&str]| index().find(&words.join(" ")).into_iter().map(|h| h.key).collect::<Vec<_>>();
            prop_assert_eq!(keys(&words), keys(&turned));
        }

        #[test]
        fn any_text_is_answered(query in ".{0,80}") {
            let hits = index().find(&query);
            prop_assert!(hits.windows(2).all(|w| w[0].score >= w[1].score));
            prop_assert!(hits.iter().all(|h| h.score.is_finite()));
        }
    }
}
