//! What the texts of files are, for their schemas: each with what may stand in it.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

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
    /// A day.
    Day: {
        "type": "string", "pattern": "^\\s*[0-9]{4}-[0-9]{2}-[0-9]{2}\\s*$", "examples": ["2026-04-04"]
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
    /// Where a number comes from.
    Source: {
        "type": "string",
        "examples": [
            "standard: SAE J512, table 2", "handbook: Machinery's Handbook, screw threads", "common practice",
            "from memory", "measured: on the bench", "invented"
        ]
    }
    /// The dimension of a quantity, or `word`, `thread`, `curve`, `outline`.
    Kind: {"type": "string"}
    /// A kind of value, or `present` where having it is enough.
    NeedKind: {"type": "string"}
    /// The dimension of what is read, `made` where it is a day, or `look` where only words are.
    InspectionKind: {"type": "string", "examples": ["length", "pressure", "made", "look"]}
    /// A calculation of the program.
    Calculation: {"type": "string"}
}
