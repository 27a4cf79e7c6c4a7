//! The JSON Schemas (2020-12) of a library's file and of a sheet, made from the types that read them. What the reader
//! takes, its schema takes too; the reader knows more: whether a word resolves, and whether a value is of its kind.

use std::borrow::Cow;

use schemars::transform::{Transform, transform_subschemas};
use schemars::{JsonSchema, Schema, SchemaGenerator, generate::SchemaSettings, json_schema};
use serde_json::{Map, Value as Json};

use crate::library::{LibraryFile, Part, Written};
use crate::limits::Calculation;
use crate::money::Money;
use crate::sheet::Sheet;
use crate::source::SourceKind;
use crate::value::Kind as ValueKind;
use crate::whereabouts::{ClassAt, Whereabouts};

/// The schema of one file of a library.
#[must_use]
pub fn library() -> Json {
    whole::<LibraryFile<Written<Part>>>("A file of a Knockon parts library")
}

/// The schema of a sheet.
#[must_use]
pub fn sheet() -> Json {
    whole::<Sheet>("A Knockon sheet")
}

fn whole<T: JsonSchema>(title: &str) -> Json {
    let settings = SchemaSettings::draft2020_12().with_transform(Plain);
    let mut schema = settings.into_generator().into_root_schema_for::<T>();
    let said = schema.remove("$schema").unwrap_or_default();
    let description = schema.remove("description").unwrap_or_default();
    let mut whole = Map::new();
    whole.insert("$schema".to_owned(), said);
    whole.insert("title".to_owned(), title.into());
    whole.insert("description".to_owned(), description);
    if let Json::Object(table) = schema.to_value() {
        whole.extend(table.into_iter().filter(|(word, _)| word != "title"));
    }
    // a file that names no format is refused
    let required = whole.entry("required").or_insert_with(|| Json::Array(Vec::new()));
    if let Json::Array(words) = required
        && !words.iter().any(|word| word == "format")
    {
        words.push("format".into());
    }
    if let Some(format) = whole.get_mut("properties").and_then(|words| words.get_mut("format"))
        && let Some(format) = format.as_object_mut()
    {
        format.remove("default");
    }
    Json::Object(whole)
}

/// Takes out what tells a reader nothing, and words that nobody reads: a sheet keeps those, and they are told.
#[derive(Clone, Debug)]
struct Plain;

impl Transform for Plain {
    fn transform(&mut self, schema: &mut Schema) {
        if let Some(text) = schema.get("description").and_then(Json::as_str).map(one_line) {
            schema.insert("description".to_owned(), text.into());
        }
        let tells = |default: &Json| match default {
            Json::Null | Json::Bool(false) => false,
            Json::String(text) => !text.is_empty(),
            Json::Array(list) => !list.is_empty(),
            Json::Object(table) => !table.is_empty(),
            _ => true,
        };
        if schema.get("default").is_some_and(|default| !tells(default)) {
            schema.remove("default");
        }
        // the machine's own kinds of number
        schema.remove("format");
        if schema.get("properties").is_some() && schema.get("additionalProperties") == Some(&Json::Bool(true))
        {
            schema.insert("additionalProperties".to_owned(), false.into());
        }
        transform_subschemas(self, schema);
    }
}

/// The lines of a paragraph as one.
fn one_line(text: &str) -> String {
    text.split("\n\n")
        .map(|p| p.split_whitespace().collect::<Vec<_>>().join(" "))
        .collect::<Vec<_>>()
        .join("\n\n")
}

macro_rules! texts {
    ($($(#[doc = $doc:literal])+ $name:ident: $schema:tt)*) => {$(
        $(#[doc = $doc])+
        pub enum $name {}

        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                let mut schema = json_schema!($schema);
                let text = [$($doc),+].concat();
                schema.insert("description".to_owned(), text.trim().into());
                schema
            }
        }
    )*};
}

texts! {
    /// The number of the format of this file.
    Format: {"type": "integer", "const": 1}
    /// A quantity with its unit, `any`, or `unknown:` and how to measure it. It may have a tolerance, be a window, or
    /// be one that can be set.
    Quantity: {
        "type": "string",
        "examples": ["12.25 in", "3/8 in", "2.5 mm", "7.02 in ±0.06 in", "4 to 7 psi", "set 1.5 to 4 psi", "27"]
    }
    /// A value of the kind that its field or figure has: a quantity with its unit, a window, a thread, a word, a list of
    /// which one must do, the points of a curve or an outline, `any`, or `unknown:` and how to measure it.
    Value: {
        "type": ["string", "number", "array"],
        "items": {"type": ["string", "number", "array"]},
        "examples": [
            "12.25 in", "7.02 in ±0.06 in", "4 to 7 psi", "set 1.5 to 4 psi", "3/8-24", "M10x1.25", "male", "any",
            "unknown: calliper across the neck, to 0.5 mm", ["small", "large"], ["1300 rpm: 17 A", "2400 rpm: 35 A"],
            ["-90 mm: 207 mm", "-80 mm: 176 mm"]
        ]
    }
    /// A value of the kind that the need has, or `present` where having it is enough.
    Needed: {"type": "string", "examples": ["present", "15 inHg", "20 A"]}
    /// A day, a month or a year.
    Dated: {
        "type": "string", "pattern": "^\\s*[0-9]{4}(-[0-9]{2}(-[0-9]{2})?)?\\s*$",
        "examples": ["1966", "1966-05", "1966-05-17"]
    }
    /// A time of the calendar.
    Period: {
        "type": "string", "pattern": "^\\s*\\+?[0-9]+\\s+(year|month|week|day)s?\\s*$",
        "examples": ["10 years", "18 months", "6 weeks", "30 days"]
    }
    /// A distance driven, or a time.
    After: {"type": "string", "examples": ["50 miles", "100 km", "2 weeks"]}
    /// Words on where a place is, in any order: a place is meant that bears them all.
    Where: {"type": "string", "examples": ["front", "rear left", "gearbox-end"]}
    /// An amount and its currency, three capital letters as in ISO 4217.
    Amount: {
        "type": "string", "pattern": "^\\s*[-+]?[0-9._]+\\s+[A-Z]{3}\\s*$", "examples": ["412.50 USD", "9 EUR"]
    }
}

/// A kind of source, and behind a colon what it is.
pub enum Source {}
/// The dimension of a quantity, or another kind of value.
pub enum Kind {}
/// What a need is measured in.
pub enum NeedKind {}

impl JsonSchema for Source {
    fn schema_name() -> Cow<'static, str> {
        "Source".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let kinds = SourceKind::ALL.map(SourceKind::word).join(", ");
        let description = format!(
            "Where a number comes from: {kinds}; behind a colon what it is. A standard is named with its clause, a \
             handbook by its name."
        );
        json_schema!({
            "description": description, "type": "string",
            "examples": [
                "standard: SAE J512, table 2", "handbook: Machinery's Handbook, screw threads", "common practice",
                "from memory", "measured: on the bench", "invented",
            ],
        })
    }
}

impl JsonSchema for Kind {
    fn schema_name() -> Cow<'static, str> {
        "Kind".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let words: Vec<&str> = ValueKind::words().collect();
        json_schema!({
            "description": "The dimension of a quantity, or `word`, `thread`, `curve`, `outline`.",
            "type": "string", "enum": words,
        })
    }
}

impl JsonSchema for NeedKind {
    fn schema_name() -> Cow<'static, str> {
        "NeedKind".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let words: Vec<&str> = ValueKind::words().chain(["present"]).collect();
        json_schema!({
            "description": "A kind of value, or `present` where having it is enough.",
            "type": "string", "enum": words,
        })
    }
}

impl JsonSchema for Calculation {
    fn schema_name() -> Cow<'static, str> {
        "Calculation".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let names: Vec<&str> = Self::names().collect();
        json_schema!({"description": "A calculation of the program.", "type": "string", "enum": names})
    }
}

impl JsonSchema for Money {
    fn schema_name() -> Cow<'static, str> {
        Amount::schema_name()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        Amount::json_schema(generator)
    }
}

impl JsonSchema for Whereabouts {
    fn schema_name() -> Cow<'static, str> {
        Where::schema_name()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        Where::json_schema(generator)
    }
}

impl JsonSchema for ClassAt {
    fn schema_name() -> Cow<'static, str> {
        "ClassAt".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let whereabouts = generator.subschema_for::<Whereabouts>();
        json_schema!({
            "description": "A class, or a class and where its place is.",
            "anyOf": [
                {"type": "string"},
                {
                    "type": "object",
                    "properties": {"class": {"type": "string", "description": "The class."}, "where": whereabouts},
                    "required": ["class"],
                    "additionalProperties": false,
                },
            ],
            "examples": ["damper", {"class": "damper", "where": "front"}],
        })
    }
}

/// What stands by itself may leave out what a pattern or a class says: the thing requires no word.
impl<T: JsonSchema> JsonSchema for Written<T> {
    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}
