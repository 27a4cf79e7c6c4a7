//! Values of a part of the user's own while they are typed: a field, a port with its fields, a share of a pool.

use std::collections::BTreeMap;

use knockon_core::library::{Port, Role};
use knockon_core::units::Dimension;
use knockon_core::value::{Kind, Value};
use serde_json::Value as Json;

use crate::wording;

/// One value of a part: text with a unit, a word, or a list.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// Id in the library.
    pub id: String,
    /// As shown.
    pub name: String,
    /// What it must be.
    pub kind: Kind,
    /// May be left empty.
    pub optional: bool,
    /// How to measure it, where the library says so.
    pub how: String,
    /// As typed.
    pub text: String,
    /// The user has typed here: another start does not overwrite it.
    pub touched: bool,
    /// It may be below nothing, as an offset may.
    pub signed: bool,
}

/// Most letters of a value with how it is measured.
const MOST: usize = 300;

impl Field {
    /// What is wrong with the text; `None` where it can be saved.
    pub fn trouble(&self) -> Option<String> {
        if self.text.trim().is_empty() {
            let text = "a value is wanted; where it is not known, write \"unknown: how to measure it\"";
            return (!self.optional).then(|| text.to_owned());
        }
        if let Some(why) = wording::no_line(&self.text, MOST) {
            return Some(why);
        }
        let wrong = |text: &str| match Value::taken(text, self.kind) {
            Ok(taken) => self.below_nothing(&taken),
            Err(why) => Some(self.with_kind(why)),
        };
        let pieces = || self.text.split(" or ");
        match self.kind {
            // how an unknown one is measured may say "or"
            Kind::Dimension(_) if !self.text.trim_start().starts_with("unknown") => pieces().find_map(wrong),
            _ => self.json().and_then(|json| Value::read(&json, self.kind).err()),
        }
    }

    /// What is wrong, with what is expected where that says only what was found.
    fn with_kind(&self, why: String) -> String {
        let Kind::Dimension(dimension) = self.kind else { return why };
        if why.contains("xpected") {
            why
        } else {
            format!("expected a quantity of {}: {why}", dimension.word())
        }
    }

    /// What is wrong with a number below nothing, where there can be no such.
    fn below_nothing(&self, text: &str) -> Option<String> {
        let value = Value::read(&Json::String(text.to_owned()), self.kind).ok()?;
        let can = self.signed || value.dimension().is_none_or(Dimension::has_sides);
        let is_below = value.bounds().is_some_and(|(low, _)| low < 0.0) && text.contains(['-', '−']);
        (is_below && !can).then(|| format!("expected 0 or more, found \"{text}\""))
    }

    /// The same for a word that must agree with another part's; `words` are those the library knows, none where any will do.
    pub fn trouble_among(&self, words: &[String]) -> Option<String> {
        self.trouble().or_else(|| unknown_word(&self.json()?, words))
    }

    /// As the library writes it; `None` where it is left out.
    pub fn json(&self) -> Option<Json> {
        let text = self.text.trim();
        // what is typed with a decimal comma or without its one unit stands in a file as every other value does
        let taken = |t: &str| match self.kind {
            Kind::Dimension(_) => Value::taken(t, self.kind).unwrap_or_else(|_| t.trim().to_owned()),
            _ => t.trim().to_owned(),
        };
        let list = |mark: &str| text.split(mark).map(|t| Json::String(taken(t))).collect();
        match self.kind {
            _ if text.is_empty() => None,
            Kind::Curve | Kind::Outline if !text.starts_with("unknown") => Some(Json::Array(list(";"))),
            _ if text.contains(" or ") && !text.starts_with("unknown") => Some(Json::Array(list(" or "))),
            _ => Some(Json::String(taken(text))),
        }
    }

    /// Takes in what the library has.
    pub fn read(&mut self, json: &Json) {
        let plain = |json: &Json| json.as_str().map_or_else(|| json.to_string(), str::to_owned);
        let mark = if matches!(self.kind, Kind::Curve | Kind::Outline) { "; " } else { " or " };
        self.text = match json {
            Json::Array(items) => items.iter().map(plain).collect::<Vec<_>>().join(mark),
            other => plain(other),
        };
    }
}

/// From here on two words are near enough to be taken for each other.
const ALIKE: f64 = 0.75;

/// The first few of a list of words.
fn some(words: &[String]) -> String {
    const FEW: usize = 6;
    let shown = words.iter().take(FEW).map(|w| format!("\"{w}\"")).collect::<Vec<_>>().join(", ");
    if words.len() > FEW { format!("{shown} and {} more", words.len() - FEW) } else { shown }
}

/// A word that no part of the library has at such a port would agree with nothing, without a word.
fn unknown_word(json: &Json, known: &[String]) -> Option<String> {
    let free = |word: &str| word == "any" || word.starts_with("unknown");
    let typed: Vec<&str> = match json {
        Json::Array(items) => items.iter().filter_map(Json::as_str).collect(),
        other => other.as_str().into_iter().collect(),
    };
    if known.is_empty() {
        return None;
    }
    let word = typed.into_iter().find(|word| !free(word) && !known.iter().any(|w| w == word))?;
    if known.is_empty() {
        return None;
    }
    let alike = |w: &String| strsim::jaro_winkler(&w.to_lowercase(), &word.to_lowercase());
    let nearest = known.iter().map(|w| (alike(w), w));
    let nearest = nearest.filter(|(alike, _)| *alike > ALIKE).max_by(|a, b| a.0.total_cmp(&b.0));
    let hint = match nearest {
        Some((_, known)) => format!("did you mean \"{known}\"?"),
        None => format!("it knows {}", some(known)),
    };
    Some(format!("the library knows no \"{word}\" here, so that nothing would fit it; {hint}"))
}

/// A port with its fields.
#[derive(Clone, Debug, PartialEq)]
pub struct DraftPort {
    /// Port name.
    pub name: String,
    /// Port type as shown.
    pub kind: String,
    /// Who gives.
    pub role: Role,
    /// Its fields.
    pub fields: Vec<Field>,
    /// The words that agree with anything, by the id of a field that is such a word.
    pub words: BTreeMap<String, Vec<String>>,
    /// As copied: type, role, what it means alone.
    pub copied: Port,
}

impl DraftPort {
    /// What is wrong with each of its fields that cannot be saved.
    pub fn troubles(&self) -> impl Iterator<Item = String> {
        let words = |f: &Field| self.words.get(&f.id).map_or(&[][..], Vec::as_slice);
        self.fields.iter().filter_map(move |f| f.trouble_among(words(f)))
    }
}

/// What a part gives to a pool or takes from it.
#[derive(Clone, Debug, PartialEq)]
pub struct PoolRow {
    /// It gives; else it takes.
    pub gives: bool,
    /// The pool with the amount.
    pub field: Field,
}
