//! How people ask by port and by number: data beside the names that a library has.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

/// A comparison in words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Comparison {
    /// Less than.
    Under,
    /// That or less.
    AtMost,
    /// More than.
    Over,
    /// That or more.
    AtLeast,
    /// As near as makes no matter.
    About,
    /// From one to another, both with it.
    Between,
}

/// The words.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Words {
    #[serde(rename = "about")]
    _about: String,
    /// Other names of port types, by id.
    pub port_types: BTreeMap<String, Vec<String>>,
    /// Other names of values that ports have, as they are written.
    pub values: BTreeMap<String, Vec<String>>,
    /// Other names of figures, by id.
    pub figures: BTreeMap<String, Vec<String>>,
    /// Words in front of an amount.
    comparisons: BTreeMap<Comparison, Vec<String>>,
    /// Words behind an amount.
    behind: BTreeMap<Comparison, Vec<String>>,
    /// What a comparison is of, where its word says so: "taller" is of a height.
    pub implied: BTreeMap<String, String>,
    /// Words of which money is meant.
    pub price: Vec<String>,
    /// Words behind which a port is described.
    ends: Vec<String>,
    /// Words that say nothing here, besides those that never do.
    pub silent: Vec<String>,
}

pub(super) static WORDS: LazyLock<Words> = LazyLock::new(|| {
    // a test holds that it reads
    serde_json::from_str(include_str!("../../../../assets/search/library.json")).unwrap_or_default()
});

/// Whether the words of a phrase stand here; how many there are.
fn stands(phrase: &str, tokens: &[String]) -> Option<usize> {
    let mut count = 0;
    for word in phrase.split(' ') {
        if tokens.get(count)? != word {
            return None;
        }
        count += 1;
    }
    Some(count)
}

fn longest<'a>(
    of: impl Iterator<Item = (Comparison, &'a String)>,
    tokens: &[String],
) -> Option<(Comparison, usize)> {
    let found = of.filter_map(|(comparison, phrase)| Some((comparison, stands(phrase, tokens)?)));
    found.max_by_key(|(_, count)| *count)
}

fn phrases(of: &BTreeMap<Comparison, Vec<String>>) -> impl Iterator<Item = (Comparison, &String)> {
    of.iter().flat_map(|(comparison, list)| list.iter().map(move |phrase| (*comparison, phrase)))
}

impl Words {
    /// The comparison that begins with these words, and how many of them it takes.
    pub fn in_front(&self, tokens: &[String]) -> Option<(Comparison, usize)> {
        longest(phrases(&self.comparisons), tokens)
    }

    /// The same behind an amount.
    pub fn behind(&self, tokens: &[String]) -> Option<(Comparison, usize)> {
        longest(phrases(&self.behind), tokens)
    }

    /// How many of these words say that a port is described next.
    pub fn ends(&self, tokens: &[String]) -> Option<usize> {
        self.ends.iter().filter_map(|phrase| stands(phrase, tokens)).max()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn the_file_reads() {
        let words: Words =
            serde_json::from_str(include_str!("../../../../assets/search/library.json")).unwrap();
        assert!(words.comparisons.len() == 6 && words.behind.len() == 2 && !words.ends.is_empty());
    }

    #[test]
    fn the_longest_phrase_goes_before() {
        let tokens = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(WORDS.in_front(&tokens("no more than 3")), Some((Comparison::AtMost, 3)));
        assert_eq!(WORDS.in_front(&tokens("more than 3")), Some((Comparison::Over, 2)));
        assert_eq!(WORDS.in_front(&tokens("radiator")), None);
        assert_eq!(WORDS.behind(&tokens("or more")), Some((Comparison::AtLeast, 2)));
        assert_eq!(WORDS.ends(&tokens("ends in 3/8")), Some(2));
    }
}
