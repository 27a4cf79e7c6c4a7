//! What the JSON reader says, in the words of somebody who writes such a file.

use crate::meant::{nearest, then};

/// A message of the reader, without its place, in plain words.
#[must_use]
pub fn plain(message: &str) -> String {
    let ticked: Vec<&str> = message.split('`').skip(1).step_by(2).collect();
    let (first, known) = ticked.split_first().map_or(("", &[][..]), |(first, known)| (*first, known));
    if message.starts_with("unknown") {
        // a rule that others have is no slip of one of these
        let is_elsewhere = |word: &&str| RULES.contains(word) && !known.contains(word);
        let rules = if known.contains(&RULES[0]) { &RULES[..] } else { &[] };
        let near = nearest(first, known.iter().chain(rules).copied()).filter(|near| !is_elsewhere(near));
        // a long list helps only where nothing is near
        let list =
            if near.is_some() { String::new() } else { format!("expected one of {}", known.join(", ")) };
        return format!("the word \"{first}\" is not known here{}", then(near, &list));
    }
    if let Some(field) = message.strip_prefix("missing field ").map(|_| first) {
        return format!("\"{field}\" is missing; add it");
    }
    if message.starts_with("duplicate field") {
        return format!("\"{first}\" stands twice; take one out");
    }
    if message.contains("untagged enum Input") {
        return "expected one of {\"class\": .., \"figure\": ..}, {\"fact\": ..}, {\"pool\": ..}, {\"value\": ..}"
            .to_owned();
    }
    let wrong = ["invalid type: ", "invalid value: ", "invalid length "];
    if let Some((found, expected)) =
        wrong.iter().find_map(|w| message.strip_prefix(w)).and_then(|rest| rest.split_once(", expected "))
    {
        return format!("expected {}, found {}", wanted(expected), thing(found));
    }
    syntax(message).map_or_else(|| message.replace('`', "\""), str::to_owned)
}

/// The rules by which fields of ports agree; a need has some of them.
const RULES: [&str; 3] = ["at-least", "at-most", "inside"];

/// What was found, as the reader calls it.
fn thing(found: &str) -> String {
    for (kind, word) in [("boolean ", ""), ("integer ", "the number "), ("floating point ", "the number ")] {
        if let Some(value) = found.strip_prefix(kind) {
            return format!("{word}{}", value.replace('`', ""));
        }
    }
    if let Some(text) = found.strip_prefix("string ") {
        return text.to_owned();
    }
    match found {
        "sequence" => "a list".to_owned(),
        "map" => "an object in braces".to_owned(),
        "null" | "unit value" | "Option value" => "null".to_owned(),
        count if count.parse::<usize>().is_ok() => {
            format!("a list of {count}")
        }
        other => other.replace('`', "\""),
    }
}

/// What was expected, as the reader calls it.
fn wanted(expected: &str) -> String {
    // a list or object that is too short says of how many it should be: "struct Port with 4 elements"
    let expected = expected.split(" with ").next().unwrap_or(expected);
    match expected {
        "a string" => "a text in quotes".to_owned(),
        "f64" => "a number".to_owned(),
        "u32" => "a whole number from 0 to 4294967295".to_owned(),
        "a boolean" => "true or false".to_owned(),
        "a sequence" => "a list in square brackets".to_owned(),
        "a map" => OBJECT.to_owned(),
        "string or map" | "variant identifier" => "a word in quotes".to_owned(),
        kind if kind.starts_with("struct ") => OBJECT.to_owned(),
        kind if kind.starts_with("enum ") => "a word in quotes".to_owned(),
        kind => kind
            .strip_prefix("an array of length ")
            .map_or_else(|| kind.replace('`', "\""), |count| format!("a list of {count} in square brackets")),
    }
}

/// What most of a file consists of.
pub const OBJECT: &str = "an object in braces { }";

fn syntax(message: &str) -> Option<&'static str> {
    Some(match message {
        "expected value" => "expected a text in quotes, a number, true, false, null, a list or an object",
        "expected ident" => "expected true, false or null",
        "expected `:`" => "expected a colon between the word and its value",
        "expected `,` or `}`" => "expected a comma, or } where the object ends",
        "expected `,` or `]`" => "expected a comma, or ] where the list ends",
        "key must be a string" => "expected a word in double quotes",
        "trailing comma" => "there is a comma before the closing bracket; take it out",
        "trailing characters" => "there is more text after the end; take it out",
        "invalid number" => "this number cannot be read",
        "number out of range" => "this number is too large",
        "invalid escape" => "a backslash stands before a letter it does not go with",
        "recursion limit exceeded" => "this is nested too deeply",
        control if control.starts_with("control character") => {
            "a line break or another control character stands inside quotes"
        }
        code if code.contains("unicode") || code.contains("hex escape") => {
            "a letter written with \\u is none"
        }
        _ => return None,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use crate::Sheet;
    use crate::library::{LibraryFile, Part, Written};

    use super::plain;

    /// Words of whoever programmed it, which tell the reader of a message nothing.
    const INSIDE: [&str; 14] = [
        "f64",
        "u32",
        "struct",
        "enum ",
        "variant",
        "invalid",
        "sequence",
        "a map",
        "`",
        "floating",
        "integer",
        "field",
        "untagged",
        "identifier",
    ];

    fn said(text: &str) -> String {
        let library = serde_json::from_str::<LibraryFile<Written<Part>>>(text).unwrap_err().to_string();
        let message = library.split(" at line ").next().unwrap();
        // words that are read by themselves tell their path in front
        let rest = message.strip_prefix("at ").and_then(|rest| rest.split_once(": "));
        plain(rest.map_or(message, |(_, message)| message))
    }

    #[test]
    fn no_message_speaks_of_the_inside() {
        let part = |inner: &str| format!("{{\"parts\": {{\"a\": {inner}}}}}");
        let mut texts: Vec<String> = [
            "5",
            "null",
            "{\"format\": \"one\"}",
            "{\"format\": -1}",
            "{\"format\": 1e400}",
            "{\"parts\": []}",
            "{a}",
            "{\"a\" 1}",
            "{\"format\": 1 \"x\"}",
            "{\"format\": 1,}",
            "{\"about\": \"\n\"}",
            "{\"about\": \"\\q\"}",
            "{\"about\": \"\\ud800\"}",
            "{\"format\": tru}",
            "{\"format\": 1} x",
            "{\"zz\": 1}",
            "{\"limits\": {\"a\": {\"name\": \"\", \"calc\": \"\", \"inputs\": {\"x\": {}}}}}",
            "{\"needs\": {\"a\": {\"name\": \"\", \"kind\": \"\", \"rule\": 5}}}",
            "{\"needs\": {\"a\": {\"name\": \"\", \"kind\": \"\", \"rule\": \"at-leest\"}}}",
            "{\"vehicles\": {\"a\": {\"joints\": {\"j\": {\"name\": \"\", \"ends\": {}}}}}}",
        ]
        .iter()
        .map(|t| (*t).to_owned())
        .collect();
        for inner in [
            "5",
            "[]",
            "{\"contents\": [{}]}",
            "{\"name\": 5}",
            "{\"price\": 12.0}",
            "{\"price\": \"12\"}",
            "{\"hours\": \"three\"}",
            "{\"hours\": NaN}",
            "{\"bridges\": [\"a\"]}",
            "{\"bridges\": 5}",
            "{\"safety\": 1}",
            "{\"contents\": [{\"part\": \"x\", \"qty\": 99999999999}]}",
            "{\"contents\": [5]}",
            "{\"ports\": [1]}",
            "{\"reversible\": \"maybe\"}",
            "{\"clas\": \"x\"}",
        ] {
            texts.push(part(inner));
        }
        for text in &texts {
            let said = said(text);
            assert!(!INSIDE.iter().any(|word| said.contains(word)), "{text}: {said}");
        }
        for text in [
            "[1]",
            "{\"format\": [], \"name\": 5}",
            "{\"plans\": {\"a\": {\"routes\": {\"b\": {\"route\": \"convrt\"}}}}}",
        ] {
            let error = serde_json::from_str::<Sheet>(text).unwrap_err().to_string();
            let said = plain(error.split(" at line ").next().unwrap());
            assert!(!INSIDE.iter().any(|word| said.contains(word)), "{text}: {said}");
        }
    }

    #[test]
    fn a_rule_that_a_need_does_not_have_is_no_slip_of_one_it_has() {
        let need = |rule: &str| {
            said(&format!(
                "{{\"needs\": {{\"a\": {{\"name\": \"\", \"kind\": \"\", \"rule\": \"{rule}\"}}}}}}"
            ))
        };
        let list = "expected one of at-least, inside";
        for rule in ["at-most", "at-mos"] {
            assert_eq!(need(rule), format!("the word \"{rule}\" is not known here; {list}"));
        }
        assert_eq!(need("at-leest"), "the word \"at-leest\" is not known here; did you mean \"at-least\"?");
    }

    #[test]
    fn found_and_expected_are_named() {
        let part = |inner: &str| said(&format!("{{\"parts\": {{\"a\": {inner}}}}}"));
        assert_eq!(part("{\"hours\": \"three\"}"), "expected a number, found \"three\"");
        assert_eq!(part("{\"price\": 12.5}"), "expected a text in quotes, found the number 12.5");
        assert_eq!(part("{\"ports\": [1]}"), "expected an object in braces { }, found a list");
        assert_eq!(part("{\"clas\": \"x\"}"), "the word \"clas\" is not known here; did you mean \"class\"?");
        assert_eq!(part("{\"contents\": [{}]}"), "\"part\" is missing; add it");
        assert_eq!(
            part("{\"hours\": NaN}"),
            "expected a text in quotes, a number, true, false, null, a list or an object"
        );
    }
}
