//! What goes to the terminal: control characters are shown and never sent, so that no name in a file moves the cursor,
//! renames the window or turns the reading direction round.

use std::fmt::Write as _;
use std::io::Write as _;

use crate::fold;

/// Characters that a terminal or a reader obeys instead of showing them: controls but the end of a line and the tab,
/// and what turns the direction of reading.
fn is_obeyed(c: char) -> bool {
    (c.is_control() && !matches!(c, '\n' | '\t'))
        || matches!(c, '\u{200e}' | '\u{200f}' | '\u{061c}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

fn replaced(text: &str, each: impl Fn(char, &mut String)) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if is_obeyed(c) {
            each(c, &mut out);
        } else {
            out.push(c);
        }
    }
    out
}

/// A text with such characters shown: `<1B>`.
pub fn shown(text: &str) -> String {
    replaced(text, |c, out| {
        let _ = write!(out, "<{:02X}>", u32::from(c));
    })
}

/// The same in JSON, where they can stand only in texts: it still means what it meant.
fn escaped(json: &str) -> String {
    replaced(json, |c, out| {
        let _ = write!(out, "\\u{:04x}", u32::from(c));
    })
}

/// Prints an answer; on a terminal in lines as wide as that.
///
/// # Errors
/// What was asked for did not arrive.
pub fn say(text: &str) -> Result<(), String> {
    let text = shown(text);
    match fold::columns() {
        Some(columns) => print(&fold::folded(&text, columns)),
        None => print(&text),
    }
}

/// Prints a text for another program, each line as it is.
///
/// # Errors
/// What was asked for did not arrive.
pub fn say_whole(text: &str) -> Result<(), String> {
    print(&shown(text))
}

/// Prints an answer for another program.
///
/// # Errors
/// What was asked for did not arrive.
pub fn say_json(json: &serde_json::Value) -> Result<(), String> {
    print(&escaped(&format!("{json:#}\n")))
}

/// A closed pipe (`| head`) is no fault of the user's.
fn print(text: &str) -> Result<(), String> {
    let mut stdout = std::io::stdout().lock();
    match stdout.write_all(text.as_bytes()).and_then(|()| stdout.flush()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => Err(format!(
            "the answer cannot be written: {}; write it somewhere else",
            knockon_store::disk::plain(&e)
        )),
        _ => Ok(()),
    }
}

/// Says something on the error stream; where that is closed, the exit code still says it.
pub fn complain(message: &str) {
    let _ = writeln!(std::io::stderr(), "{}", shown(message));
}

#[cfg(test)]
mod tests {
    use super::{escaped, shown};

    #[test]
    fn what_a_terminal_would_obey_is_shown() {
        assert_eq!(shown("a\u{1b}]0;x\u{7}b\tc\nd\r"), "a<1B>]0;x<07>b\tc\nd<0D>");
        assert_eq!(shown("\u{9b}31m \u{202e}gnp \u{7f}"), "<9B>31m <202E>gnp <7F>");
        assert_eq!(shown("30 N·m, 71 °C, größer"), "30 N·m, 71 °C, größer");
    }

    #[test]
    fn json_means_the_same() -> Result<(), serde_json::Error> {
        let value = serde_json::json!({"a\u{9b}": ["\u{1b}[2J", "\u{202e}x", "\u{7f}", "plain\n"]});
        let text = escaped(&format!("{value:#}\n"));
        assert!(!text.chars().any(|c| c.is_control() && c != '\n'), "{text}");
        assert_eq!(serde_json::from_str::<serde_json::Value>(&text)?, value);
        Ok(())
    }
}
