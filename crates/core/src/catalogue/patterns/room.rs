//! How much patterns may say in all: a library may come from a stranger, and a few lines of it could ask for more memory
//! than there is.

use serde_json::{Map, Value as Json};

use super::Faults;

/// Most that may be laid under the parts of a library, in bytes as they lie in memory.
const MOST: usize = 128 * 1024 * 1024;
/// What a value takes up besides its text.
const VALUE: usize = 64;

/// What is left of it.
pub(super) struct Room {
    left: usize,
    is_told: bool,
}

impl Default for Room {
    fn default() -> Self {
        Self { left: MOST, is_told: false }
    }
}

impl Room {
    /// Takes so many bytes, where so many are left.
    pub fn take(&mut self, bytes: usize) -> bool {
        let left = self.left.checked_sub(bytes);
        // what does not fit leaves no room for less: which parts are told must not hang on their sizes
        self.left = left.unwrap_or(0);
        left.is_some()
    }

    /// Tells, the first time, that there is none left.
    pub fn tell(&mut self, file: &str, path: String, faults: &mut Faults) {
        if !self.is_told {
            let most = MOST / 1024 / 1024;
            let message = format!(
                "patterns, rows and classes say more than {most} MB in all where they are laid under parts; from here on \
                 they say nothing: name fewer patterns, or shorter ones"
            );
            faults.error(file, path, message);
        }
        self.is_told = true;
    }
}

/// What words take up.
pub(super) fn weight(words: &Map<String, Json>) -> usize {
    words.iter().map(|(key, word)| VALUE + key.len() + inside(word)).sum()
}

fn inside(word: &Json) -> usize {
    match word {
        Json::String(text) => text.len(),
        Json::Array(list) => list.iter().map(|one| VALUE + inside(one)).sum(),
        Json::Object(words) => weight(words),
        Json::Null | Json::Bool(_) | Json::Number(_) => 0,
    }
}
