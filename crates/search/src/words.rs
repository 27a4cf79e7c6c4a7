//! A text taken apart into words: small letters, numbers with their marks, single letters joined to what follows.

use rust_stemmers::{Algorithm, Stemmer};

/// A word as it was written and what is compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Word {
    /// In small letters.
    pub raw: String,
    /// Without its ending: "tyr" of "tyres".
    pub stem: String,
    /// It says nothing: it is only equal to itself, and decides between things that answer alike.
    pub silent: bool,
}

impl Word {
    /// Whether it is a number, with or without a unit: it says how much, not what.
    pub(crate) fn is_number(&self) -> bool {
        self.raw.starts_with(|c: char| c.is_ascii_digit())
    }
}

/// Most words of one text.
const MOST: usize = 40;

/// The words of a text. "U-joint" and "u joint" are one word, "3/8-16" is one too.
pub(crate) fn words(text: &str) -> Vec<Word> {
    let stemmer = Stemmer::create(Algorithm::English);
    let lower = text.to_lowercase().replace(['’', '\''], "");
    let mut out: Vec<Word> = Vec::new();
    let mut letter = String::new();
    for piece in lower.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | ':' | '(' | ')' | '"')) {
        // marks stand inside a number, and part words
        let number = piece.starts_with(|c: char| c.is_ascii_digit());
        let parts = piece.split(|c: char| !(c.is_alphanumeric() || number && matches!(c, '/' | '.' | '-')));
        for part in parts.filter(|p| !p.is_empty()) {
            if part.chars().count() == 1 && part.chars().all(char::is_alphabetic) {
                letter = part.to_owned();
                continue;
            }
            let raw = format!("{}{part}", std::mem::take(&mut letter));
            let stem = if number { raw.clone() } else { stemmer.stem(&raw).into_owned() };
            out.push(Word { raw, stem, silent: false });
            if out.len() == MOST {
                return out;
            }
        }
    }
    if !letter.is_empty() {
        out.push(Word { raw: letter.clone(), stem: letter, silent: false });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn raw(text: &str) -> Vec<String> {
        words(text).into_iter().map(|w| w.raw).collect()
    }

    #[test]
    fn words_numbers_and_single_letters() {
        assert_eq!(raw("U-joint angle, 31x10.50R15"), ["ujoint", "angle", "31x10.50r15"]);
        assert_eq!(raw("u joint"), ["ujoint"]);
        assert_eq!(raw("Tap drill 3/8-16!"), ["tap", "drill", "3/8-16"]);
        assert_eq!(raw("rear-end"), ["rear", "end"]);
        assert_eq!(raw("driver's"), ["drivers"]);
        assert_eq!(raw("plan b"), ["plan", "b"]);
        assert!(raw("  , ").is_empty());
    }

    #[test]
    fn an_ending_does_not_count() {
        let stems = |text: &str| words(text).into_iter().map(|w| w.stem).collect::<Vec<_>>();
        assert_eq!(stems("tyre tyres"), ["tyre", "tyre"].map(|_| stems("tyre")[0].clone()));
        assert_eq!(stems("boiling")[0], stems("boil")[0]);
    }
}
