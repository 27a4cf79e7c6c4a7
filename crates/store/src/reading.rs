//! Reads one JSON file of ours, and says everything that is wrong with its text: line, path, what was expected.

use knockon_core::plain::{OBJECT, plain};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value as Json;

use crate::format::{self, STEPS};
use crate::place::{line_of, lines_of, twice};
use crate::text::without_mark;

/// What came of a text: the thing, where it could be read, and what is wrong, each with file and line.
pub(crate) struct Read<T> {
    /// `None` where the text is none.
    pub thing: Option<T>,
    /// Complete sentences. Where there is a thing all the same, keys stand twice or the format is not named.
    pub wrong: Vec<String>,
    /// The text ends in the middle.
    pub torn: bool,
}

/// Reads a thing, of whichever format. `kind` is what the file is, for messages: "sheet".
pub(crate) fn read<T: DeserializeOwned + Serialize>(name: &str, text: &str, kind: &str) -> Read<T> {
    let text = without_mark(text);
    let refused = |wrong: String, torn: bool| Read { thing: None, wrong: vec![wrong], torn };
    let line = 1 + text
        .len()
        .checked_sub(text.trim_start().len())
        .map_or(0, |blank| text.as_bytes()[..blank].iter().filter(|b| **b == b'\n').count());
    let begins = text.trim_start().chars().next();
    if begins.is_some_and(|c| c != '{' && (c.is_ascii_digit() || "[\"-tfn".contains(c))) {
        let what = if begins == Some('[') { "a list" } else { "something else" };
        return refused(format!("{name}:{line}: expected {OBJECT}, found {what}"), false);
    }
    let whole = serde_json::from_str::<Json>(text);
    let mut wrong = Vec::new();
    if let Ok(whole) = &whole
        && let Some(told) = format::wrong(name, text, whole, kind)
    {
        let newer = told.newer;
        wrong.push(told.text);
        if newer {
            return Read { thing: None, wrong, torn: false };
        }
    }
    let doubled: Vec<String> = twice(text)
        .into_iter()
        .map(|t| {
            format!(
                "{name}:{}: at {}: this stands in line {} already, and only one of them would count; take one out",
                t.second, t.path, t.first
            )
        })
        .collect();
    let is_doubled = !doubled.is_empty();
    wrong.extend(doubled);
    let newest = whole.as_ref().ok().and_then(|whole| format::migrated(whole, &STEPS));
    let mut reader = serde_json::Deserializer::from_str(text);
    let read = match &newest {
        Some(newest) => serde_path_to_error::deserialize(newest),
        None => serde_path_to_error::deserialize(&mut reader),
    };
    let thing: T = match read {
        Ok(thing) => thing,
        Err(e) => {
            // told already, with both lines
            if !(is_doubled && e.inner().to_string().starts_with("duplicate field")) {
                wrong.push(error(name, text, &e));
            }
            return Read { thing: None, wrong, torn: e.inner().is_eof() };
        }
    };
    if let (None, Err(e)) = (&newest, reader.end()) {
        wrong.push(format!(
            "{name}:{}: there is more text after the end of the {kind}; take it out",
            e.line()
        ));
        return Read { thing: None, wrong, torn: false };
    }
    let misread = match (newest.as_ref().or(whole.as_ref().ok()), serde_json::to_value(&thing)) {
        (Some(whole), Ok(back)) => misread(whole, &back),
        _ => Vec::new(),
    };
    if misread.is_empty() {
        return Read { thing: Some(thing), wrong, torn: false };
    }
    wrong.extend(misread.iter().map(|(path, told)| {
        let line = line_of(text, path).map_or_else(String::new, |l| format!(":{l}"));
        format!("{name}{line}: at {path}: {told}")
    }));
    Read { thing: None, wrong, torn: false }
}

/// An error of the reader with file, line, path and what was expected.
fn error(name: &str, text: &str, e: &serde_path_to_error::Error<serde_json::Error>) -> String {
    let inner = e.inner();
    let message = inner.to_string();
    // the reader puts the place at the end; we put it in front
    let message = message.rsplit_once(" at line ").map_or(message.as_str(), |(message, _)| message);
    if inner.is_eof() {
        return format!("{name}:{}: the file ends before it is complete", inner.line());
    }
    // a key that is one of a few words has no name while it is read: the table is named then
    let path = e.path().to_string().trim_end_matches(".?").to_owned();
    // an error of the text itself has no place among the fields
    let path = if inner.is_data() && path != "?" && path != "." { path } else { String::new() };
    let line = lines_of(text, &[&path]).pop().flatten().filter(|_| !path.is_empty()).unwrap_or(inner.line());
    if inner.is_syntax() {
        if is_comment(text.lines().nth(inner.line().saturating_sub(1)).unwrap_or_default()) {
            return format!(
                "{name}:{line}: a comment stands here, and JSON has none; write it under \"about\" or \"note\", or take it out"
            );
        }
        let before = missing_comma(text, inner).filter(|_| message.starts_with("expected `,`"));
        if let Some(line) = before {
            return format!("{name}:{line}: a comma is missing at the end of this line");
        }
    }
    // what was read as words first knows the rest of its path
    let within = message.strip_prefix("at ").and_then(|rest| rest.split_once(": "));
    let (path, message) =
        within.map_or((path.clone(), message), |(below, rest)| (format!("{path}.{below}"), rest));
    let line = line_of(text, &path).filter(|_| within.is_some()).unwrap_or(line);
    let at = if path.is_empty() { String::new() } else { format!("at {path}: ") };
    format!("{name}:{line}: {at}{}", plain(message))
}

/// Whether a line has a comment outside its quotes.
fn is_comment(line: &str) -> bool {
    let (mut quoted, mut escaped, mut before) = (false, false, ' ');
    for c in line.chars() {
        match c {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            '#' if !quoted => return true,
            '/' | '*' if !quoted && before == '/' => return true,
            _ => {}
        }
        before = c;
    }
    false
}

/// The line before the place of an error, where what stands there ends on an earlier line and something new begins here.
fn missing_comma(text: &str, e: &serde_json::Error) -> Option<usize> {
    let start: usize = text.split_inclusive('\n').take(e.line().checked_sub(1)?).map(str::len).sum();
    let at = start + e.column().saturating_sub(1);
    let begins = text.get(at..)?.starts_with(['"', '{', '[']);
    let before = text.get(..at)?.trim_end();
    let line = 1 + before.bytes().filter(|b| *b == b'\n').count();
    (begins && line < e.line()).then_some(line)
}

/// Where the reader takes what nobody means, by path: a list for an object would fill it in the order of its fields, and
/// an object of one word with nothing behind it would be that word.
fn misread(text: &Json, thing: &Json) -> Vec<(String, String)> {
    let mut out = Vec::new();
    let mut open = vec![(String::new(), text, thing)];
    while let Some((path, text, thing)) = open.pop() {
        match (text, thing) {
            (Json::Array(_), Json::Object(_)) => out.push((path, format!("expected {OBJECT}, found a list"))),
            (Json::Object(a), Json::String(_)) if a.len() == 1 && a.values().all(Json::is_null) => {
                out.push((path, "expected a word in quotes, found an object in braces".to_owned()));
            }
            (Json::Object(a), Json::Object(b)) => {
                for (key, value) in a {
                    if let Some(other) = b.get(key) {
                        let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
                        open.push((path, value, other));
                    }
                }
            }
            (Json::Array(a), Json::Array(b)) => {
                for (number, (value, other)) in a.iter().zip(b).enumerate() {
                    open.push((format!("{path}[{number}]"), value, other));
                }
            }
            _ => {}
        }
    }
    out.sort();
    out
}
