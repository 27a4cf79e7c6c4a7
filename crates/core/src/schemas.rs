//! The JSON Schemas (2020-12) of a library's file and of a sheet, made from the types that read them. What the reader
//! takes, its schema takes too; the reader knows more: whether a word resolves, and whether a value is of its kind.

use std::borrow::Cow;

use schemars::transform::{Transform, transform_subschemas};
use schemars::{JsonSchema, Schema, SchemaGenerator, generate::SchemaSettings, json_schema};
use serde_json::{Map, Value as Json};

use crate::library::{LibraryFile, Part, Written};
use crate::limits::Calculation;
use crate::money::Money;
use crate::schema::{Amount, Where};
use crate::sheet::Sheet;
use crate::source::SourceKind;
use crate::value::Kind;
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
    known_words(&mut schema);
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

/// The words that the engine knows, where a text must be one of them.
fn known_words(schema: &mut Schema) {
    let Some(texts) = schema.get_mut("$defs").and_then(Json::as_object_mut) else { return };
    let mut put = |text: &str, word: &str, value: Json| {
        if let Some(text) = texts.get_mut(text).and_then(Json::as_object_mut) {
            text.insert(word.to_owned(), value);
        }
    };
    put("Kind", "enum", Kind::words().collect());
    put("NeedKind", "enum", Kind::words().chain(["present"]).collect());
    put("Calculation", "enum", Calculation::names().collect());
    let kinds = SourceKind::ALL.map(SourceKind::word).join(", ");
    let source = format!(
        "Where a number comes from: {kinds}; behind a colon what it is. A standard is named with its clause, a handbook by its \
         name."
    );
    put("Source", "description", source.into());
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
