//! Things with names, and the order in which they answer a query.

use std::collections::HashMap;

use crate::dictionary::Dictionary;
use crate::words::Word;

/// What a word of an entry counts, by where it stands.
const IN_NAME: f64 = 1.0;
const IN_OTHER_NAME: f64 = 0.9;
const IN_MEANING: f64 = 0.45;

/// How well two words agree.
const EQUAL: f64 = 1.0;
pub(crate) const SAME_MEANING: f64 = 0.97;
const BEGUN: f64 = 0.8;
const SLIP: f64 = 0.6;

/// What a word that says nothing counts beside one that does.
const OF_SILENT: f64 = 0.1;

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

/// A word by its place among all that the entries have.
type Known = u32;

/// An entry taken apart.
#[derive(Clone, Debug)]
struct Taken<K> {
    key: K,
    names: Vec<Vec<Known>>,
    meaning: Vec<Known>,
}

/// Entries that can be searched.
#[derive(Clone, Debug)]
pub struct Index<K> {
    dictionary: Dictionary,
    /// Every word that some entry has, once, with its group of words that mean the same: a word of a query is held against
    /// these, however many entries have them.
    known: Vec<(Word, Option<usize>)>,
    entries: Vec<Taken<K>>,
}

/// A word of a query, and how well each known word agrees with it.
struct Asked {
    word: Word,
    alike: Vec<f64>,
}

impl Asked {
    fn alike(&self, known: Known) -> f64 {
        self.alike.get(known as usize).copied().unwrap_or(0.0)
    }

    /// How well the best word of an entry agrees, by where that stands.
    fn agrees<K>(&self, entry: &Taken<K>) -> f64 {
        let meaning = if self.word.silent { &[][..] } else { &entry.meaning[..] };
        let best = |words: &[Known], counts: f64| {
            words.iter().map(|known| self.alike(*known) * counts).fold(0.0, f64::max)
        };
        let names = entry.names.iter().enumerate();
        names
            .map(|(i, name)| best(name, if i == 0 { IN_NAME } else { IN_OTHER_NAME }))
            .fold(best(meaning, IN_MEANING), f64::max)
    }
}

impl<K: Clone> Index<K> {
    /// Takes the entries apart; of two that answer alike the first one stays first.
    #[must_use]
    pub fn new(dictionary: Dictionary, entries: Vec<Entry<K>>) -> Self {
        let mut known: Vec<(Word, Option<usize>)> = Vec::new();
        let mut numbers: HashMap<String, Known> = HashMap::new();
        let mut number = |word: Word| {
            *numbers.entry(word.raw.clone()).or_insert_with(|| {
                let group = dictionary.group(&word.stem);
                known.push((word, group));
                (known.len() - 1) as Known
            })
        };
        let mut taken = |text: &str| dictionary.words(text).into_iter().map(&mut number).collect::<Vec<_>>();
        let entries = entries
            .into_iter()
            .map(|entry| Taken {
                names: entry.names.iter().map(|name| taken(name)).collect(),
                meaning: taken(&entry.meaning),
                key: entry.key,
            })
            .collect();
        Self { dictionary, known, entries }
    }

    /// What answers a query, the best first; nothing where no word is known.
    ///
    /// A word that few entries have counts more than one that many have, and one that says nothing next to nothing; where no
    /// word says anything, only a name of just these words answers. A number that no entry has does not count: it says how
    /// much, not what.
    #[must_use]
    pub fn find(&self, query: &str) -> Vec<Hit<K>> {
        let asked = self.dictionary.words(query).into_iter().map(|word| self.asked(word));
        // how well each word agrees with each entry
        let agreed = asked.map(|asked| {
            let row: Vec<f64> = self.entries.iter().map(|entry| asked.agrees(entry)).collect();
            (asked, row)
        });
        let weight = |row: &[f64]| {
            let best = row.iter().copied().fold(0.0, f64::max);
            let as_good = row.iter().filter(|a| **a > 0.0 && **a >= best * 0.4).count();
            (1.0 + self.entries.len() as f64 / as_good.max(1) as f64).ln()
        };
        let agreed: Vec<(Asked, Vec<f64>)> = agreed.collect();
        let says_nothing = agreed.iter().all(|(asked, _)| asked.word.silent);
        let weighed: Vec<(Asked, Vec<f64>, f64)> = agreed
            .into_iter()
            .filter(|(asked, row)| !asked.word.is_number() || row.iter().any(|a| *a > 0.0))
            .map(|(asked, row)| {
                let share = if asked.word.silent { OF_SILENT } else { 1.0 };
                let weight = weight(&row) * share;
                (asked, row, weight)
            })
            .collect();
        let all: f64 = weighed.iter().map(|(.., w)| w).sum();
        if all <= 0.0 {
            return Vec::new();
        }
        let mut hits: Vec<(usize, f64)> = (0..self.entries.len())
            .filter_map(|at| {
                let of = |row: &[f64]| row.get(at).copied().unwrap_or(0.0);
                let part: f64 = weighed.iter().map(|(_, row, w)| w * of(row)).sum();
                (part > 0.0).then_some((at, part / all))
            })
            .collect();
        // a whole name adds half a point at most: what is further behind cannot come up
        let near = hits.iter().map(|(_, score)| *score).fold(0.0, f64::max) * LEAST_OF_BEST - 0.5;
        hits.retain(|(_, score)| *score >= near);
        let mut hits: Vec<Hit<K>> = hits
            .into_iter()
            .filter_map(|(at, score)| {
                let entry = self.entries.get(at)?;
                let whole = self.whole(&weighed, entry, says_nothing);
                let counts = !says_nothing || whole >= 1.0;
                counts.then(|| Hit { key: entry.key.clone(), score: score + 0.5 * whole })
            })
            .collect();
        hits.sort_by(|a, b| b.score.total_cmp(&a.score));
        let best = hits.first().map_or(0.0, |h| h.score);
        hits.retain(|h| h.score >= LEAST.max(best * LEAST_OF_BEST));
        hits
    }

    /// How well a query as a whole agrees with one name as a whole: 1 where both have the same words. Words that say nothing
    /// are passed over, unless there are no others.
    fn whole(&self, asked: &[(Asked, Vec<f64>, f64)], entry: &Taken<K>, says_nothing: bool) -> f64 {
        let counts = |word: &Word| says_nothing || !word.silent;
        let is_told = |known: &Known| self.known.get(*known as usize).is_some_and(|(word, _)| counts(word));
        let asked: Vec<&Asked> =
            asked.iter().map(|(asked, ..)| asked).filter(|asked| counts(&asked.word)).collect();
        let of = |name: &Vec<Known>| {
            let name: Vec<Known> = name.iter().copied().filter(|known| is_told(known)).collect();
            let shared =
                asked.iter().filter(|asked| name.iter().any(|known| asked.alike(*known) > 0.5)).count();
            let all = asked.len() + name.len() - shared.min(name.len());
            if all == 0 { 0.0 } else { shared as f64 / all as f64 }
        };
        entry.names.iter().map(of).fold(0.0, f64::max).min(1.0)
    }

    fn asked(&self, word: Word) -> Asked {
        let group = self.dictionary.group(&word.stem);
        let letters = word.raw.chars().count();
        let alike =
            self.known.iter().map(|(known, of)| alike((&word, group, letters), (known, *of))).collect();
        Asked { word, alike }
    }
}

/// How well two words agree, from 0 to 1.
pub(crate) fn alike(
    (asked, asked_group, letters): (&Word, Option<usize>, usize),
    (word, group): (&Word, Option<usize>),
) -> f64 {
    if asked.stem == word.stem {
        return EQUAL;
    }
    if asked.silent || word.silent {
        return 0.0;
    }
    if asked_group.is_some() && asked_group == group {
        return SAME_MEANING;
    }
    if word.raw.starts_with(&asked.raw) {
        return BEGUN;
    }
    // one slip of the pen in a short word, two in a long one; a number with a slip is another number
    let slips = match letters {
        0..=3 => return 0.0,
        4..=7 => 1,
        _ => 2,
    };
    // a slip changes the length by one at most; letters are as many bytes or more
    let (shorter, longer) = (letters.saturating_sub(slips), letters + slips);
    let other = word.raw.len();
    if asked.is_number() || other < shorter || (word.raw.is_ascii() && other > longer) {
        return 0.0;
    }
    if strsim::osa_distance(&asked.raw, &word.raw) <= slips { SLIP } else { 0.0 }
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
                Entry::new("the", "The", ""),
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
            ("t", "tyre"),
            ("the", "the"),
            ("the tyre", "tyre"),
            ("size a tyre", "tyre"),
            ("31x10.50R15 tire", "tyre"),
        ] {
            assert_eq!(first(query), Some(key), "{query}");
        }
        for nothing in ["", "banana", "for of", "12 34", "é", "-"] {
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
