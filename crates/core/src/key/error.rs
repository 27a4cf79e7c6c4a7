//! What is wrong with a text that is no key.

use std::fmt;

use crate::meant::{nearest, then};

/// What a key is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeyOf {
    /// A [`CompanionKey`](super::CompanionKey).
    Companion,
    /// A [`CheckKey`](super::CheckKey).
    Check,
    /// A [`FactKey`](super::FactKey).
    Measured,
    /// A [`Premise`](super::Premise).
    Premise,
}

impl fmt::Display for KeyOf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Companion => "a companion",
            Self::Check => "a check",
            Self::Measured => "a measured value",
            Self::Premise => "a premise",
        })
    }
}

/// A text is no key.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum KeyError {
    /// It begins with no word that such a key begins with.
    #[error("\"{found}\" is no key of {of}{}", self.way_out())]
    Kind {
        /// The text.
        found: String,
        /// What it should be the key of.
        of: KeyOf,
        /// How each kind of such a key is written.
        forms: &'static [&'static str],
    },
    /// It begins with such a word, and what stands behind that is not written so.
    #[error("\"{found}\" is no key of {of}{}", self.way_out())]
    Form {
        /// The text.
        found: String,
        /// What it should be the key of.
        of: KeyOf,
        /// How such a key is written: its words in capitals stand for ids.
        form: &'static str,
    },
}

impl KeyError {
    /// What is wrong with a text that none of these forms reads.
    pub(super) fn new(found: &str, of: KeyOf, forms: &'static [&'static str]) -> Self {
        let found = found.to_owned();
        match forms.iter().find(|form| first_word(form) == first_word(&found)) {
            Some(form) => Self::Form { found, of, form },
            None => Self::Kind { found, of, forms },
        }
    }

    /// What was expected, and where such keys are to be had.
    fn way_out(&self) -> String {
        match self {
            Self::Kind { found, forms, .. } => {
                let words = forms.iter().map(|form| first_word(form));
                let near = nearest(first_word(found), words.clone());
                let words: Vec<String> = words.map(|word| format!("\"{word}:\"")).collect();
                then(
                    near,
                    &format!("such a key begins with {}, as the assessment writes it", words.join(", ")),
                )
            }
            Self::Form { form, .. } => then(None, &format!("expected {form}, as the assessment writes it")),
        }
    }
}

fn first_word(text: &str) -> &str {
    text.split(':').next().unwrap_or(text)
}
