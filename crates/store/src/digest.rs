//! What tells one content of a file from another.

use std::fmt;

use sha2::{Digest as _, Sha256};

/// The digest of a content: two contents with one digest are the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Digest([u8; 32]);

impl Digest {
    /// Of these bytes.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }
}

impl From<Sha256> for Digest {
    fn from(sum: Sha256) -> Self {
        Self(sum.finalize().into())
    }
}

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}
