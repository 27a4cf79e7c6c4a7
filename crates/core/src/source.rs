//! Where a number of the library comes from, as it writes it: `standard: SAE J636`, `common practice`, `from memory`.

use std::fmt;

use crate::meant::{nearest, then};

/// What a source is worth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SourceKind {
    /// A published standard or rule of law, with its clause.
    Standard,
    /// A handbook, or what it teaches: a law of physics, a formula.
    Handbook,
    /// What the trade does, published nowhere in particular.
    CommonPractice,
    /// Written down by somebody who knows such things, and held against nothing.
    FromMemory,
    /// Measured on the thing itself.
    Measured,
    /// Made up: what a demonstration wants where there is no such thing.
    Invented,
}

impl SourceKind {
    /// All of them, the surest first.
    pub const ALL: [Self; 6] = [
        Self::Standard,
        Self::Handbook,
        Self::CommonPractice,
        Self::FromMemory,
        Self::Measured,
        Self::Invented,
    ];

    /// Its word in files and on screen.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Standard => "standard",
            Self::Handbook => "handbook",
            Self::CommonPractice => "common practice",
            Self::FromMemory => "from memory",
            Self::Measured => "measured",
            Self::Invented => "invented",
        }
    }
}

/// A source: what it is worth, and what it is. A standard and a handbook are named; of others nothing need be said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// What it is worth.
    pub kind: SourceKind,
    /// What it is, with clause or page; empty where nothing more is said.
    pub what: String,
}

impl Source {
    /// Reads a source: its kind, and behind a colon what it is.
    ///
    /// # Errors
    /// A sentence with what was expected.
    pub fn parse(text: &str) -> Result<Self, String> {
        let (word, what) = text.split_once(':').unwrap_or((text, ""));
        let (word, what) = (word.trim(), what.trim());
        let words = SourceKind::ALL.map(SourceKind::word);
        let Some(kind) = SourceKind::ALL.into_iter().find(|kind| kind.word() == word) else {
            let list = format!("a source begins with one of {}", words.join(", "));
            return Err(format!("\"{word}\" is no kind of source{}", then(nearest(word, words), &list)));
        };
        if what.is_empty() && matches!(kind, SourceKind::Standard | SourceKind::Handbook) {
            return Err(format!(
                "expected which {word} behind a colon, such as \"{word}: {}\"",
                example(kind)
            ));
        }
        Ok(Self { kind, what: what.to_owned() })
    }
}

fn example(kind: SourceKind) -> &'static str {
    if kind == SourceKind::Standard { "SAE J512, table 2" } else { "Machinery's Handbook, screw threads" }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.kind.word())?;
        if self.what.is_empty() { Ok(()) } else { write!(f, ": {}", self.what) }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn a_source_is_read_and_written_the_same() {
        for text in [
            "standard: SAE J512, table 2",
            "handbook: beam theory: a shaft that whirls",
            "common practice",
            "common practice: 40 mm",
            "from memory",
            "measured: on the bench",
            "invented",
        ] {
            assert_eq!(Source::parse(text).unwrap().to_string(), text);
        }
        assert_eq!(Source::parse(" from memory :  x ").unwrap().to_string(), "from memory: x");
    }

    #[test]
    fn what_is_no_source_says_what_was_expected() {
        assert_eq!(
            Source::parse("form memory: a pump").unwrap_err(),
            "\"form memory\" is no kind of source; did you mean \"from memory\"? A source begins with one of standard, \
             handbook, common practice, from memory, measured, invented"
        );
        assert!(
            Source::parse("a book").unwrap_err().contains("source begins with one of standard, handbook")
        );
        assert_eq!(
            Source::parse("standard").unwrap_err(),
            "expected which standard behind a colon, such as \"standard: SAE J512, table 2\""
        );
        assert!(Source::parse("handbook: ").is_err() && Source::parse("").is_err());
    }
}
