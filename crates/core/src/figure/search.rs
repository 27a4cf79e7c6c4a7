//! Figures found by what they mean: words in any order, with slips, in both spellings, and by the shape of what is typed.

use std::sync::LazyLock;

use knockon_figures::fasteners::names;
use knockon_figures::tyres;
use knockon_search::{Dictionary, Entry, Hit, Index};

use super::all;
use super::entry::Figure;
use crate::quantity::Quantity;
use crate::units::Dimension;

static INDEX: LazyLock<Index<&'static Figure>> = LazyLock::new(|| {
    let entry = |figure: &'static Figure| {
        let entry = Entry::new(figure, figure.name, figure.meaning).called(figure.id.replace('-', " "));
        figure.called.iter().fold(entry, |entry, name| entry.called(*name))
    };
    Index::new(words(), all().iter().map(entry).collect())
});

/// Words of the trade that mean the same, and words that say nothing: for every search.
#[must_use]
pub fn words() -> Dictionary {
    serde_json::from_str(include_str!("../../../../assets/search/words.json")).unwrap_or_default()
}

/// The figures that answer words as a person types them, the best first: "bigger tires speedometer", "tap drill 3/8-16".
/// None where no word is known.
#[must_use]
pub fn search(query: &str) -> Vec<&'static Figure> {
    hits(query).into_iter().map(|hit| hit.key).collect()
}

/// The same with how well each answers.
#[must_use]
pub fn hits(query: &str) -> Vec<Hit<&'static Figure>> {
    INDEX.find(&kinds(query))
}

/// The query with the kind of what is typed behind it: a tyre for "31x10.50R15", a thread for "3/8-16", a current for
/// "35 amps".
fn kinds(query: &str) -> String {
    const LONGEST: usize = 200;
    let query: String = query.chars().take(LONGEST).collect();
    let mut out = query.clone();
    let typed: Vec<&str> = query.split([' ', ',', ';']).filter(|w| !w.is_empty()).collect();
    let mut add = |kind: &str| {
        // a word that is there says it already
        if !query.to_lowercase().contains(kind) {
            out = format!("{out} {kind}");
        }
    };
    for (at, word) in typed.iter().enumerate() {
        if !word.chars().any(|c| c.is_ascii_digit()) {
            continue;
        }
        if names::read(word).is_ok() {
            add("thread");
        } else if tyres::parse(word).is_ok() {
            add("tyre");
        } else {
            let with_unit = typed.get(at + 1).map(|unit| format!("{word} {unit}")).unwrap_or_default();
            let read = Quantity::parse(&with_unit).or_else(|_| Quantity::parse(word));
            if read.is_ok_and(|q| q.dimension == Dimension::Current) {
                add("amps");
            }
        }
    }
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn every_figure_has_other_names_and_the_words_read() {
        for figure in all() {
            assert!(!figure.called.is_empty(), "{} has no other name", figure.id);
        }
        assert!(
            serde_json::from_str::<Dictionary>(include_str!("../../../../assets/search/words.json")).is_ok()
        );
    }

    #[test]
    fn every_figure_is_found_by_its_own_name() {
        for figure in all() {
            for query in [figure.name.to_owned(), figure.id.replace('-', " "), figure.name.to_uppercase()] {
                let found = search(&query);
                // two figures may share a name in the trade; the one asked for is then next to the first
                let place = found.iter().position(|f| f.id == figure.id);
                assert!(
                    place.is_some_and(|at| at < 2),
                    "{query}: {:?}",
                    found.iter().map(|f| f.id).collect::<Vec<_>>()
                );
            }
        }
    }

    #[test]
    fn nonsense_finds_nothing_and_ends() {
        for nothing in ["", "  ", "xyzzy", "12", "the of for", &"9".repeat(100_000), "é…"] {
            assert!(search(nothing).is_empty(), "{}", &nothing[..nothing.len().min(20)]);
        }
    }
}
