//! Which libraries a sheet was made with, and what has become of them since.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::library::Extra;

/// How many letters of a digest are shown: enough to tell two apart by eye.
const SHOWN: usize = 8;

/// A library as a sheet remembers it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MadeWith {
    /// As the library calls itself, else as its folder is called.
    pub name: String,
    /// As the library counts its versions. Empty: it does not.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub version: String,
    /// SHA-256 of its files, in hexadecimal.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub digest: String,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

impl fmt::Display for MadeWith {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\"", self.name)?;
        if !self.version.is_empty() {
            write!(f, " {}", self.version)?;
        }
        let digest: String = self.digest.chars().take(SHOWN).collect();
        if digest.is_empty() { Ok(()) } else { write!(f, " ({digest})") }
    }
}

/// How a library of a sheet and those that are here differ.
#[derive(Clone, Debug, PartialEq)]
pub enum Differs {
    /// None of this name is here.
    Missing(MadeWith),
    /// It has other files, or counts another version.
    Another {
        /// As the sheet remembers it.
        was: MadeWith,
        /// As it is here.
        is: MadeWith,
    },
}

impl fmt::Display for Differs {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing(was) => write!(
                f,
                "this sheet was made with the library {was}, which is not here: what it names of it is not known"
            ),
            Self::Another { was, is } => write!(
                f,
                "this sheet was made with the library {was}; here it is {is}: parts and figures may have changed"
            ),
        }
    }
}

/// What differs, in the order of the sheet. A sheet that remembers no library says nothing, and a library that has come
/// on top is no difference: the sheet names nothing of it.
#[must_use]
pub fn differing(sheet: &[MadeWith], here: &[MadeWith]) -> Vec<Differs> {
    let same = |a: &MadeWith, b: &MadeWith| a.version == b.version && a.digest == b.digest;
    let one = |was: &MadeWith| match here.iter().find(|is| is.name == was.name) {
        None => Some(Differs::Missing(was.clone())),
        Some(is) if same(was, is) => None,
        Some(is) => Some(Differs::Another { was: was.clone(), is: is.clone() }),
    };
    sheet.iter().filter_map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::{Differs, MadeWith, differing};

    fn library(name: &str, version: &str, digest: &str) -> MadeWith {
        let text = |text: &str| text.to_owned();
        MadeWith { name: text(name), version: text(version), digest: text(digest), ..MadeWith::default() }
    }

    #[test]
    fn what_is_gone_and_what_is_another_is_told_and_what_came_on_top_is_not() {
        let sheet = [library("Shop", "1", "aa"), library("Mill vans", "2", "bb"), library("Mine", "", "cc")];
        assert_eq!(differing(&sheet, &sheet), []);
        let here = [sheet[0].clone(), library("Mine", "", "dd"), library("More", "", "ee")];
        assert_eq!(
            differing(&sheet, &here),
            [
                Differs::Missing(sheet[1].clone()),
                Differs::Another { was: sheet[2].clone(), is: here[1].clone() }
            ]
        );
        assert_eq!(differing(&[], &here), []);
    }

    #[test]
    fn a_library_is_shown_with_what_tells_it_apart() {
        assert_eq!(library("Mill vans", "2", "0123456789").to_string(), "\"Mill vans\" 2 (01234567)");
        assert_eq!(library("Mine", "", "").to_string(), "\"Mine\"");
    }
}
