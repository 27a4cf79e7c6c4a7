//! The formats of a library's file and of a sheet: which a file has, and what brings an older one into the newest.

use serde_json::Value as Json;

use crate::place::line_of;

/// The newest format of a library's file and of a sheet; a file names its own. A stored file of each format is read by a
/// test (`tests/formats`).
pub const FORMAT: u32 = 1;

/// Brings a file, library or sheet, from one format into the next.
pub(crate) type Step = fn(&mut Json);

/// One step for each format that is not the newest, the oldest first: a new [`FORMAT`] does not compile without the step
/// that leads to it.
pub(crate) const STEPS: [Step; FORMAT as usize - 1] = [];

/// A file of an older format in the newest; `None` where it has the newest already, or one that nobody knows. `steps`:
/// the first leads from format 1 to 2.
pub(crate) fn migrated(whole: &Json, steps: &[Step]) -> Option<Json> {
    let newest = steps.len() + 1;
    let found = usize::try_from(whole.get("format")?.as_u64()?).ok()?;
    if !(1..newest).contains(&found) {
        return None;
    }
    let mut whole = whole.clone();
    for (step, next) in steps.iter().zip(2_u64..).skip(found - 1) {
        step(&mut whole);
        if let Some(format) = whole.get_mut("format") {
            *format = next.into();
        }
    }
    Some(whole)
}

/// A format that is not read as it stands.
pub(crate) struct WrongFormat {
    /// A complete sentence with file and line.
    pub text: String,
    /// Of a program that knows more than this one.
    pub newer: bool,
}

/// What is wrong with the format of a file. `kind` is what the file is, for messages: "sheet".
pub(crate) fn wrong(name: &str, text: &str, whole: &Json, kind: &str) -> Option<WrongFormat> {
    let found = whole.get("format");
    let line = line_of(text, "format").unwrap_or(1);
    let number = found.and_then(Json::as_f64);
    let (told, newer) = match (found, number) {
        (_, Some(number)) if (1..=FORMAT).any(|known| f64::from(known) == number) => return None,
        (None, _) => {
            (format!("this {kind} names no format; write \"format\": {FORMAT} as its first line"), false)
        }
        // a word in place of a number is told by the reader
        (Some(_), None) => return None,
        (Some(found), Some(number)) if number > f64::from(FORMAT) => (
            format!(
                "this {kind} has format {found}; this program reads format {FORMAT}: take a newer program"
            ),
            true,
        ),
        (Some(found), _) => (
            format!(
                "this {kind} has format {found}, which never was; this program reads format {FORMAT}: write \"format\": {FORMAT}"
            ),
            false,
        ),
    };
    Some(WrongFormat { text: format!("{name}:{line}: at format: {told}"), newer })
}

#[cfg(test)]
mod tests {
    use serde_json::{Value as Json, json};

    use super::{FORMAT, STEPS, Step, migrated};

    /// Steps that nobody has taken: "nme" becomes "name", then a list becomes a table.
    const MADE_UP: [Step; 2] = [
        |whole| {
            if let Some(table) = whole.as_object_mut()
                && let Some(name) = table.remove("nme")
            {
                table.insert("name".to_owned(), name);
            }
        },
        |whole| {
            if let Some(list) = whole.get_mut("list") {
                *list = json!({"a": list.take()});
            }
        },
    ];

    #[test]
    fn each_older_format_goes_through_every_step_after_it() {
        let newest = json!({"format": 3, "list": {"a": [1]}, "name": "N"});
        assert_eq!(migrated(&json!({"format": 1, "nme": "N", "list": [1]}), &MADE_UP), Some(newest.clone()));
        assert_eq!(migrated(&json!({"format": 2, "name": "N", "list": [1]}), &MADE_UP), Some(newest.clone()));
        // what a word meant in another format is left alone
        let kept = migrated(&json!({"format": 2, "nme": "N"}), &MADE_UP);
        assert_eq!(kept, Some(json!({"format": 3, "nme": "N"})));
        for other in [newest, json!({"format": 4}), json!({"format": 0}), json!({"format": "1"}), Json::Null]
        {
            assert_eq!(migrated(&other, &MADE_UP), None, "{other}");
        }
    }

    #[test]
    fn there_is_a_step_for_each_format_but_the_newest() {
        assert_eq!(STEPS.len() + 1, FORMAT as usize);
        assert_eq!(migrated(&json!({"format": FORMAT}), &STEPS), None);
    }
}
