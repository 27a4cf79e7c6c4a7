//! The words of many texts, each once, and how well the words of a query agree with them: for who weighs hits by more than
//! names.

use std::collections::HashMap;

use crate::dictionary::Dictionary;
use crate::index::{SAME_MEANING, alike};
use crate::words::Word;

/// A word by its place in a [`Vocabulary`].
pub type Known = u32;

/// Every word of some texts, once.
#[derive(Clone, Debug, Default)]
pub struct Vocabulary {
    dictionary: Dictionary,
    known: Vec<(Word, Option<usize>)>,
    numbers: HashMap<String, Known>,
}

/// A word of a query.
#[derive(Clone, Debug, PartialEq)]
pub struct AskedWord {
    /// In small letters.
    pub text: String,
    /// It says nothing by itself: "the", "of".
    pub silent: bool,
    /// It begins with a digit: it says how much, not what.
    pub number: bool,
    /// The words that agree with it, with how well, above 0 and up to 1, in the order of the vocabulary.
    pub alike: Vec<(Known, f32)>,
}

impl Vocabulary {
    /// Without a word yet.
    #[must_use]
    pub fn new(dictionary: Dictionary) -> Self {
        Self { dictionary, known: Vec::new(), numbers: HashMap::new() }
    }

    /// Takes in the words of a text: their places, in its order.
    pub fn take(&mut self, text: &str) -> Vec<Known> {
        let Self { dictionary, known, numbers } = self;
        let words = dictionary.words(text).into_iter().filter(|word| !word.silent);
        words
            .map(|word| {
                *numbers.entry(word.raw.clone()).or_insert_with(|| {
                    let group = dictionary.group(&word.stem);
                    known.push((word, group));
                    (known.len() - 1) as Known
                })
            })
            .collect()
    }

    /// How many words there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.known.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.known.is_empty()
    }

    /// The words of a query, each with those that agree with it. Slips of the pen count only where no word is the same or
    /// means the same.
    #[must_use]
    pub fn ask(&self, query: &str) -> Vec<AskedWord> {
        self.dictionary.words(query).into_iter().map(|word| self.asked(&word)).collect()
    }

    fn asked(&self, word: &Word) -> AskedWord {
        let group = self.dictionary.group(&word.stem);
        let letters = word.raw.chars().count();
        let with = |slips: bool| -> Vec<(Known, f32)> {
            let known = self.known.iter().enumerate();
            known
                .filter(|(_, (other, _))| slips || !other.is_number() || word.is_number())
                .map(|(at, (other, of))| {
                    // so many letters leave no room for a slip
                    let letters = if slips { letters } else { 0 };
                    (at as Known, alike((word, group, letters), (other, *of)) as f32)
                })
                .filter(|(_, alike)| *alike > 0.0)
                .collect()
        };
        let mut found = with(false);
        let is_same = found.iter().any(|(_, alike)| f64::from(*alike) >= SAME_MEANING - 1e-6);
        if !is_same && !word.is_number() && !word.silent {
            found = with(true);
            self.of_the_same_meaning(&mut found);
        }
        AskedWord { text: word.raw.clone(), silent: word.silent, number: word.is_number(), alike: found }
    }
}

impl Vocabulary {
    /// What is meant with a slip means what the right word means.
    fn of_the_same_meaning(&self, found: &mut Vec<(Known, f32)>) {
        let group = |known: Known| self.known.get(known as usize).and_then(|(_, group)| *group);
        let slipped: Vec<(usize, f32)> =
            found.iter().filter_map(|(known, how)| Some((group(*known)?, *how))).collect();
        for at in 0..self.known.len() as Known {
            let Some((_, how)) = group(at).and_then(|of| slipped.iter().find(|(slipped, _)| *slipped == of))
            else {
                continue;
            };
            if !found.iter().any(|(known, _)| *known == at) {
                found.push((at, how * SAME_MEANING as f32));
            }
        }
        found.sort_by_key(|(known, _)| *known);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn vocabulary() -> Vocabulary {
        let same = [vec!["generator".to_owned(), "alternator".to_owned()]];
        let mut words = Vocabulary::new(Dictionary::new(&same, &["of".to_owned()]));
        words.take("generator pulley of 5/16 in");
        words.take("inverted flare, inserted flares");
        words
    }

    fn agree(query: &str) -> Vec<(&'static str, f32)> {
        let names = ["generator", "pulley", "5/16", "in", "inverted", "flare", "inserted", "flares"];
        let asked = vocabulary().ask(query);
        asked.iter().flat_map(|w| &w.alike).map(|(known, how)| (names[*known as usize], *how)).collect()
    }

    #[test]
    fn a_slip_means_what_the_right_word_means() {
        let mut words = vocabulary();
        words.take("alternator");
        let asked = words.ask("alternater");
        let names: Vec<Known> = asked[0].alike.iter().map(|(known, _)| *known).collect();
        assert_eq!(names, [0, 8]);
    }

    #[test]
    fn words_that_are_the_same_leave_no_room_for_slips() {
        assert_eq!(agree("inverted"), [("inverted", 1.0)]);
        assert_eq!(agree("invertd"), [("inverted", 0.6)]);
        assert_eq!(agree("alternator").first().map(|a| a.0), Some("generator"));
        assert_eq!(agree("flare"), [("flare", 1.0), ("flares", 1.0)]);
        assert_eq!(agree("5/16"), [("5/16", 1.0)]);
        assert!(agree("banana").is_empty() && agree("").is_empty());
        assert!(vocabulary().ask("of").iter().all(|w| w.silent));
    }
}
