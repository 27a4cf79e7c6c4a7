//! The key under which a sheet keeps where a content of a kit stands.

use std::fmt;
use std::str::FromStr;

/// A part in the box of a kit: `KIT/PART` among the lines of a sheet. No id of a part has a stroke.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BoxKey {
    /// Part id of the kit.
    pub kit: String,
    /// Part id of what lies in its box.
    pub part: String,
}

/// The text is no key of a content: it is the id of a part, or of work on one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no content of a kit: expected the ids of a kit and of a part with a stroke between them")]
pub struct NoContent;

impl fmt::Display for BoxKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.kit, self.part)
    }
}

impl FromStr for BoxKey {
    type Err = NoContent;

    fn from_str(text: &str) -> Result<Self, NoContent> {
        let (kit, part) = text.split_once('/').ok_or(NoContent)?;
        Ok(Self { kit: kit.to_owned(), part: part.to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_reads_as_it_is_written() {
        let key = BoxKey { kit: "disc-kit-285".to_owned(), part: "banjo-washer-10".to_owned() };
        assert_eq!(key.to_string(), "disc-kit-285/banjo-washer-10");
        assert_eq!(key.to_string().parse(), Ok(key));
        assert_eq!("disc-kit-285".parse::<BoxKey>(), Err(NoContent));
        assert_eq!("disc-kit-285.rebuild".parse::<BoxKey>(), Err(NoContent));
    }
}
