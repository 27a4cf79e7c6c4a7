//! What was understood of a query, in words.

use super::asked::Asked;

/// What was understood of a query.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Understood {
    /// Words that are looked for.
    pub words: Vec<String>,
    /// Words that a port must have.
    pub port_words: Vec<String>,
    /// Words that nothing here is called; they are passed over.
    pub strange: Vec<String>,
    /// Sizes, as they were read.
    pub sizes: Vec<String>,
    /// The same of a port.
    pub port_sizes: Vec<String>,
    /// Bounds of numbers and prices.
    pub bounds: Vec<String>,
    /// How something was read that can be read otherwise: sentences.
    pub notes: Vec<String>,
    /// No part has all the words: what is told has some.
    pub not_all_words: bool,
    /// Nothing was asked.
    pub all: bool,
}

impl Understood {
    pub(super) fn all() -> Self {
        Self { all: true, ..Self::default() }
    }

    pub(super) fn of(
        &mut self,
        asked: &Asked,
        words: impl Iterator<Item = String>,
        port_words: impl Iterator<Item = String>,
    ) {
        self.words = words.collect();
        self.port_words = port_words.collect();
        let (at_port, plain): (Vec<_>, Vec<_>) = asked.sizes.iter().partition(|size| size.at_port);
        self.sizes = plain.into_iter().map(|size| size.text.clone()).collect();
        self.port_sizes = at_port.into_iter().map(|size| size.text.clone()).collect();
        self.bounds = asked.bounds.iter().map(|bound| bound.text.clone()).collect();
        self.bounds.extend(asked.prices.iter().map(|price| format!("price {}", price.text)));
        self.notes.clone_from(&asked.notes);
        self.strange.sort();
        self.strange.dedup();
    }

    /// In a sentence or several: what is looked for, what was passed over, how something was read.
    #[must_use]
    pub fn say(&self) -> String {
        if self.all {
            return "All parts.".to_owned();
        }
        let mut looked: Vec<String> = Vec::new();
        if !self.words.is_empty() {
            looked.push(quoted(&self.words));
        }
        let mut port: Vec<String> = self.port_sizes.clone();
        port.extend(self.port_words.iter().cloned());
        if !port.is_empty() {
            looked.push(format!("a port with {}", port.join(" ")));
        }
        looked.extend(self.sizes.iter().cloned());
        looked.extend(self.bounds.iter().cloned());
        let mut said = match looked.is_empty() {
            true => "Nothing of this is known here.".to_owned(),
            false => format!("Looked for: {}.", looked.join(", ")),
        };
        if !self.strange.is_empty() {
            let few: Vec<String> = self.strange.iter().take(6).cloned().collect();
            said.push_str(&format!(" Nothing here is called {}; passed over.", quoted(&few)));
        }
        for note in &self.notes {
            said.push_str(&format!(" {note}."));
        }
        if self.not_all_words {
            said.push_str(" No part has all of these words; these have most.");
        }
        said
    }
}

fn quoted(words: &[String]) -> String {
    words.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(" ")
}
