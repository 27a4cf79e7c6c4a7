//! Keys: how edits, files and reports name a companion, a check, a measured value and a premise.
//!
//! Each key is a value with a type and one text: `Display` writes it, `FromStr` reads it back, and in files it stands as
//! that text. What another text would read as is refused, so that two keys never share a text nor two texts a key. A
//! mark that stands in an id (`:` and its like) is written as `%` with its number in hexadecimal, as in addresses of web
//! pages (RFC 3986, section 2.1): `a:b` is `a%3Ab`. Ids of the shipped library have no marks.

mod check;
mod companion;
mod error;
mod fact;
mod mark;
mod premise;

pub use check::CheckKey;
pub use companion::CompanionKey;
pub use error::{KeyError, KeyOf};
pub use fact::FactKey;
pub use premise::Premise;

/// Whether a text is the one that a key is written as.
fn is_its_text(key: &impl std::fmt::Display, text: &str) -> bool {
    let own = key.to_string();
    own == text
}

/// Reads and writes a key as its text.
macro_rules! as_text {
    ($key:ty) => {
        impl serde::Serialize for $key {
            fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
                to.collect_str(self)
            }
        }

        impl<'de> serde::Deserialize<'de> for $key {
            fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                let text = std::borrow::Cow::<'de, str>::deserialize(from)?;
                text.parse().map_err(serde::de::Error::custom)
            }
        }

        /// The tests beside the rules write keys as their texts.
        #[cfg(test)]
        impl PartialEq<&str> for $key {
            fn eq(&self, text: &&str) -> bool {
                is_its_text(self, text)
            }
        }
    };
}
as_text!(CompanionKey);
as_text!(CheckKey);
as_text!(FactKey);
as_text!(Premise);

#[cfg(test)]
mod tests;
