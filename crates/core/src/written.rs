//! A thing of the library as it is written: the words that stand there, with what they say by themselves. What else is
//! so of it a pattern says, or its class.

use std::fmt;
use std::ops::Deref;

use serde::de::{DeserializeOwned, Deserializer, Error as _};
use serde::{Deserialize, Serialize, Serializer};
use serde_json::{Map, Value as Json};

/// The words of a thing, and what they say. Read, they are known to be words of such a thing.
#[derive(Clone, Debug, Default)]
pub struct Written<T> {
    words: Map<String, Json>,
    says: T,
}

/// What is wrong with the words of a thing.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}{message}", if path.is_empty() { String::new() } else { format!("at {path}: ") })]
pub struct WrittenError {
    /// The path below the thing; empty: the thing itself.
    pub path: String,
    /// As the reader of JSON says it.
    pub message: String,
}

impl<T> Written<T> {
    /// The words as they stand there.
    #[must_use]
    pub fn words(&self) -> &Map<String, Json> {
        &self.words
    }

    /// What they say by themselves.
    #[must_use]
    pub fn into_said(self) -> T {
        self.says
    }
}

impl<T: DeserializeOwned + Serialize> Written<T> {
    /// Reads words.
    ///
    /// # Errors
    /// They are no words of such a thing.
    pub fn read(words: Map<String, Json>) -> Result<Self, WrittenError> {
        let says: T = serde_path_to_error::deserialize(&words).map_err(|e| {
            let path = e.path().to_string();
            let path = path.trim_end_matches(".?").trim_matches(|c| c == '?' || c == '.').to_owned();
            WrittenError { path, message: e.inner().to_string() }
        })?;
        // a list would be read as the fields of an object in their order, an object of one word as that word
        if let Ok(Json::Object(back)) = serde_json::to_value(&says)
            && let Some((path, found)) = misread(&words, &back)
        {
            return Err(WrittenError { path, message: format!("invalid type: {found}") });
        }
        Ok(Self { words, says })
    }
}

impl<T: Serialize> Written<T> {
    /// A thing in full.
    #[must_use]
    pub fn whole(says: T) -> Self {
        let words = match serde_json::to_value(&says) {
            Ok(Json::Object(words)) => words,
            _ => Map::new(),
        };
        Self { words, says }
    }
}

impl<T> Deref for Written<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.says
    }
}

impl<T> PartialEq for Written<T> {
    fn eq(&self, other: &Self) -> bool {
        self.words == other.words
    }
}

impl<T> Serialize for Written<T> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.words.serialize(to)
    }
}

impl<'de, T: DeserializeOwned + Serialize> Deserialize<'de> for Written<T> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        Self::read(Map::deserialize(from)?).map_err(D::Error::custom)
    }
}

/// The path of the first list that stands where a thing has an object, or object where it has a word, and what was found
/// and expected there.
fn misread(words: &Map<String, Json>, says: &Map<String, Json>) -> Option<(String, &'static str)> {
    fn inside(path: &dyn fmt::Display, words: &Json, says: &Json) -> Option<(String, &'static str)> {
        match (words, says) {
            (Json::Array(_), Json::Object(_)) => Some((path.to_string(), "sequence, expected a map")),
            (Json::Object(one), Json::String(_)) if one.len() == 1 && one.values().all(Json::is_null) => {
                Some((path.to_string(), "map, expected variant identifier"))
            }
            (Json::Object(words), Json::Object(says)) => {
                misread(words, says).map(|(below, found)| (format!("{path}.{below}"), found))
            }
            (Json::Array(words), Json::Array(says)) => {
                let mut all = words.iter().zip(says).enumerate();
                all.find_map(|(n, (word, said))| inside(&format_args!("{path}[{n}]"), word, said))
            }
            _ => None,
        }
    }
    words.iter().find_map(|(key, word)| inside(key, word, says.get(key)?))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use serde_json::{Value as Json, json};

    use super::Written;
    use crate::library::Part;

    fn read(words: Json) -> Result<Written<Part>, String> {
        let Json::Object(words) = words else { unreachable!() };
        Written::read(words).map_err(|e| e.to_string())
    }

    #[test]
    fn what_is_not_written_is_known_from_what_is() {
        let part = read(json!({"safety": false, "price": null, "ports": {"a": {"fields": {}}}})).unwrap();
        assert_eq!((part.name.as_str(), part.safety, part.price.is_none()), ("", false, true));
        let written = serde_json::to_value(&part).unwrap();
        assert_eq!(written, json!({"safety": false, "price": null, "ports": {"a": {"fields": {}}}}));
        assert_ne!(part, read(json!({"price": null, "ports": {"a": {"fields": {}}}})).unwrap());
        let again: Written<Part> = serde_json::from_value(written).unwrap();
        assert_eq!(part, again);
        assert_eq!(*Written::whole(Part::default()), Part::default());
    }

    #[test]
    fn a_word_of_no_part_is_told_with_its_path() {
        for (words, told) in [
            (json!({"clas": "x"}), "at clas: unknown field `clas`"),
            (json!({"ports": {"a": {"fielsd": {}}}}), "at ports.a.fielsd: unknown field"),
            (json!({"hours": "three"}), "at hours: invalid type: string \"three\", expected f64"),
            (json!({"ports": {"a": ["cool.x"]}}), "at ports.a: invalid type: sequence, expected a map"),
            (json!({"contents": [{"part": "a"}, ["b"]]}), "at contents[1]: invalid type: sequence"),
            (json!({"reversible": {"partly": null}}), "at reversible: invalid type: map"),
        ] {
            let said = read(words).unwrap_err();
            assert!(said.starts_with(told), "{said}");
        }
        assert!(serde_json::from_value::<Written<Part>>(json!([1])).is_err());
    }
}
