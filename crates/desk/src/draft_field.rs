//! Values of a part of the user's own while they are typed: a field, a port with its fields, a share of a pool.

use knockon_core::library::{Port, Role};
use knockon_core::value::{Kind, Value};
use serde_json::Value as Json;

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
}

impl Field {
    /// What is wrong with the text; `None` where it can be saved.
    pub fn trouble(&self) -> Option<String> {
        if self.text.trim().is_empty() {
            let text = "a value is wanted; where it is not known, write \"unknown: how to measure it\"";
            return (!self.optional).then(|| text.to_owned());
        }
        self.json().and_then(|json| Value::read(&json, self.kind).err())
    }

    /// As the library writes it; `None` where it is left out.
    pub fn json(&self) -> Option<Json> {
        let text = self.text.trim();
        let list = |mark: &str| text.split(mark).map(|t| Json::String(t.trim().to_owned())).collect();
        match self.kind {
            _ if text.is_empty() => None,
            Kind::Curve | Kind::Outline if !text.starts_with("unknown") => Some(Json::Array(list(";"))),
            _ if text.contains(" or ") && !text.starts_with("unknown") => Some(Json::Array(list(" or "))),
            _ => Some(Json::String(text.to_owned())),
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
    /// As copied: type, role, what it means alone.
    pub copied: Port,
}

/// What a part gives to a pool or takes from it.
#[derive(Clone, Debug, PartialEq)]
pub struct PoolRow {
    /// It gives; else it takes.
    pub gives: bool,
    /// The pool with the amount.
    pub field: Field,
}
