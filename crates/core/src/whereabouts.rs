//! Where on a vehicle a place is, where it has several of one class: front, rear left, gearbox end.
//!
//! A place bears its words. Whoever speaks of a class may say words too, and means the places that bear them all. Who says
//! none means the places that go with the one he speaks from.

use std::fmt;

use serde::de::{Deserializer, Error as _, MapAccess, Visitor};
use serde::{Deserialize, Serialize};

/// Words on where something is, in files one text: `"front left"`. In order, each once.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(from = "String", into = "String")]
pub struct Whereabouts(Vec<String>);

impl Whereabouts {
    /// Nothing is said.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The words, in order.
    pub fn words(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(String::as_str)
    }

    /// Whether a place with these words is one that words speak of: it bears them all.
    #[must_use]
    pub fn bears(&self, said: &Self) -> bool {
        said.0.iter().all(|word| self.0.contains(word))
    }

    /// Whether two places go together: the words of one are all among the words of the other. A place without words goes
    /// with every other.
    #[must_use]
    pub fn goes_with(&self, other: &Self) -> bool {
        self.bears(other) || other.bears(self)
    }
}

impl From<String> for Whereabouts {
    fn from(text: String) -> Self {
        let mut words: Vec<String> = text.split_whitespace().map(str::to_owned).collect();
        words.sort();
        words.dedup();
        Self(words)
    }
}

impl From<&str> for Whereabouts {
    fn from(text: &str) -> Self {
        Self::from(text.to_owned())
    }
}

impl From<Whereabouts> for String {
    fn from(whereabouts: Whereabouts) -> Self {
        whereabouts.0.join(" ")
    }
}

impl fmt::Display for Whereabouts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.join(" "))
    }
}

/// The places of a class, all or some of them: in files a class id, or `{"class": "damper", "where": "front"}`.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ClassAt {
    /// The class.
    pub class: String,
    /// Which of its places; nothing said: those that go with the place this is said from.
    pub whereabouts: Whereabouts,
}

impl From<&str> for ClassAt {
    fn from(class: &str) -> Self {
        Self { class: class.to_owned(), whereabouts: Whereabouts::default() }
    }
}

impl Serialize for ClassAt {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeMap as _;
        if self.whereabouts.is_empty() {
            return to.serialize_str(&self.class);
        }
        let mut map = to.serialize_map(Some(2))?;
        map.serialize_entry("class", &self.class)?;
        map.serialize_entry("where", &self.whereabouts)?;
        map.end()
    }
}

impl<'de> Deserialize<'de> for ClassAt {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(TextOrObject)
    }
}

struct TextOrObject;

impl<'de> Visitor<'de> for TextOrObject {
    type Value = ClassAt;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a class, or an object such as {\"class\": \"damper\", \"where\": \"front\"}")
    }

    fn visit_str<E: serde::de::Error>(self, class: &str) -> Result<ClassAt, E> {
        Ok(ClassAt::from(class))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<ClassAt, A::Error> {
        let mut class = None;
        let mut whereabouts = Whereabouts::default();
        while let Some(key) = map.next_key::<String>()? {
            match key.as_str() {
                "class" => class = Some(map.next_value()?),
                "where" => whereabouts = map.next_value()?,
                _ => return Err(A::Error::unknown_field(&key, &["class", "where"])),
            }
        }
        let class = class.ok_or_else(|| A::Error::missing_field("class"))?;
        Ok(ClassAt { class, whereabouts })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn places_go_together_where_the_words_of_one_are_among_those_of_the_other() {
        let at = |text: &str| Whereabouts::from(text);
        assert!(at("front left").goes_with(&at("front")) && at("front").goes_with(&at("left front")));
        assert!(at("").goes_with(&at("rear")) && at("rear").goes_with(&at("")));
        assert!(!at("front").goes_with(&at("rear")) && !at("front left").goes_with(&at("front right")));
        assert!(at("front left").bears(&at("left")) && !at("front").bears(&at("left")));
    }

    #[test]
    fn both_ways_of_writing_come_back_as_written() {
        for text in [r#""damper""#, r#"{"class":"damper","where":"front left"}"#] {
            let read: ClassAt = serde_json::from_str(text).unwrap();
            assert_eq!(serde_json::to_string(&read).unwrap(), text);
        }
        for wrong in ["7", r#"{"where":"front"}"#, r#"{"class":"a","at":"b"}"#] {
            assert!(serde_json::from_str::<ClassAt>(wrong).is_err());
        }
    }
}
