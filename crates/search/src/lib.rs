//! Finds what a person means among things with names: by words in any order, in any case, with slips of the pen and in
//! both spellings of English.
//!
//! The crate knows nothing of what it finds. Words that mean the same, and words that say nothing, come from a
//! [`Dictionary`], which is data; a thing is an [`Entry`] with its name, its other names and a sentence of what it is.
//!
//! ```
//! use knockon_search::{Dictionary, Entry, Index};
//!
//! let same = vec![vec!["tyre".to_owned(), "tire".to_owned()]];
//! let dictionary = Dictionary::new(&same, &["for".to_owned()]);
//! let entries = vec![
//!     Entry::new(1, "Tyre size", "diameter, width and turns of a tyre"),
//!     Entry::new(2, "Tap drill", "drill for a tapped hole").called("helical insert"),
//! ];
//! let index = Index::new(dictionary, entries);
//! assert_eq!(index.find("TIRES").first().map(|hit| hit.key), Some(1));
//! assert_eq!(index.find("insret helical").first().map(|hit| hit.key), Some(2));
//! assert!(index.find("banana").is_empty());
//! ```

mod dictionary;
mod index;
mod vocabulary;
mod words;

pub use dictionary::Dictionary;
pub use index::{Entry, Hit, Index};
pub use vocabulary::{AskedWord, Known, Vocabulary};
