//! Where the paths of a JSON text stand: the line of each, and keys that stand twice.

use std::collections::HashMap;

/// Deeper than any file of ours, and than the reader goes.
const DEEPEST: usize = 200;

/// A key that stands twice in one object; the reader would take the second in silence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Twice {
    /// Its path.
    pub path: String,
    /// Line of the first, from 1.
    pub first: usize,
    /// Line of the second.
    pub second: usize,
}

/// The line (from 1) where a path such as `parts.pump.needs` or `ends[1].at` begins, or the deepest part of it that
/// exists; `None` where not even its first step does.
#[must_use]
pub fn line_of(text: &str, path: &str) -> Option<usize> {
    lines_of(text, &[path]).pop().flatten()
}

/// The same for many paths in one walk through the text.
#[must_use]
pub fn lines_of(text: &str, paths: &[&str]) -> Vec<Option<usize>> {
    let mut found: HashMap<&str, Option<usize>> =
        paths.iter().flat_map(|path| steps(path)).map(|step| (step, None)).collect();
    walk(text, |path, line, _| {
        if let Some(place) = found.get_mut(path) {
            place.get_or_insert(line);
        }
    });
    paths.iter().map(|path| steps(path).find_map(|step| found.get(step).copied().flatten())).collect()
}

/// Every key that stands twice.
#[must_use]
pub fn twice(text: &str) -> Vec<Twice> {
    let mut out = Vec::new();
    walk(text, |path, second, first| {
        out.extend(first.map(|first| Twice { path: path.to_owned(), first, second }));
    });
    out
}

/// A path and what is left of it, one step shorter each time. An id with a dot gives steps that do not exist.
fn steps(path: &str) -> impl Iterator<Item = &str> {
    std::iter::successors(Some(path), |path| path.rfind(['.', '[']).map(|end| &path[..end]))
        .filter(|path| !path.is_empty())
}

/// What stands open around the place of the walk.
enum Open {
    Object(HashMap<String, usize>),
    List(usize),
}

struct Walker<'a> {
    text: &'a str,
    at: usize,
    line: usize,
    path: String,
    /// With the length of the path before it.
    open: Vec<(usize, Open)>,
}

/// Calls `see` for every key and list entry with path, line and the line where the same key stood before. Stops where
/// the text is no JSON: up to there all is told.
fn walk(text: &str, mut see: impl FnMut(&str, usize, Option<usize>)) {
    let mut w = Walker { text, at: 0, line: 1, path: String::new(), open: Vec::new() };
    let mut value = true;
    while let Some(byte) = w.peek() {
        let going = if value { w.value(byte, &mut see) } else { w.after(byte, &mut see) };
        let Some(next) = going else { return };
        value = next;
    }
}

impl Walker<'_> {
    fn peek(&mut self) -> Option<u8> {
        loop {
            let byte = *self.text.as_bytes().get(self.at)?;
            if !byte.is_ascii_whitespace() {
                return Some(byte);
            }
            self.step();
        }
    }

    fn step(&mut self) {
        if self.text.as_bytes().get(self.at) == Some(&b'\n') {
            self.line += 1;
        }
        self.at += 1;
    }

    /// Reads the start of a value; whether another value follows at once.
    fn value(&mut self, byte: u8, see: &mut impl FnMut(&str, usize, Option<usize>)) -> Option<bool> {
        match byte {
            b'{' | b'[' => {
                self.step();
                let closing = if byte == b'{' { b'}' } else { b']' };
                if self.peek()? == closing {
                    self.step();
                    return Some(false);
                }
                if self.open.len() > DEEPEST {
                    return None;
                }
                let base = self.path.len();
                if byte == b'{' {
                    self.open.push((base, Open::Object(HashMap::new())));
                    self.key(see)?;
                } else {
                    self.open.push((base, Open::List(0)));
                    self.path.push_str("[0]");
                    see(&self.path, self.line, None);
                }
                Some(true)
            }
            b'"' => self.string().map(|_| false),
            b'}' | b']' | b',' | b':' => None,
            _ => {
                let ends = |b: &u8| b.is_ascii_whitespace() || b",]}".contains(b);
                while self.text.as_bytes().get(self.at).is_some_and(|b| !ends(b)) {
                    self.step();
                }
                Some(false)
            }
        }
    }

    /// Reads what stands behind a value; whether another value follows.
    fn after(&mut self, byte: u8, see: &mut impl FnMut(&str, usize, Option<usize>)) -> Option<bool> {
        let (base, open) = self.open.last_mut()?;
        self.path.truncate(*base);
        match (byte, open) {
            (b'}', Open::Object(_)) | (b']', Open::List(_)) => {
                self.open.pop();
                self.step();
                Some(false)
            }
            (b',', Open::Object(_)) => {
                self.step();
                self.peek()?;
                self.key(see)?;
                Some(true)
            }
            (b',', Open::List(number)) => {
                *number += 1;
                let step = format!("[{number}]");
                self.step();
                self.peek()?;
                self.path.push_str(&step);
                see(&self.path, self.line, None);
                Some(true)
            }
            _ => None,
        }
    }

    fn key(&mut self, see: &mut impl FnMut(&str, usize, Option<usize>)) -> Option<()> {
        if self.peek()? != b'"' {
            return None;
        }
        let line = self.line;
        let key: String = serde_json::from_str(self.string()?).ok()?;
        let (base, open) = self.open.last_mut()?;
        let Open::Object(keys) = open else { return None };
        if *base > 0 {
            self.path.push('.');
        }
        self.path.push_str(&key);
        let before = keys.insert(key, line);
        see(&self.path, line, before);
        if self.peek()? != b':' {
            return None;
        }
        self.step();
        Some(())
    }

    /// The text of a string with its quotes.
    fn string(&mut self) -> Option<&str> {
        let from = self.at;
        self.step();
        loop {
            match self.text.as_bytes().get(self.at)? {
                b'\\' => {
                    self.step();
                    self.step();
                }
                b'"' => {
                    self.step();
                    return self.text.get(from..self.at);
                }
                _ => self.step(),
            }
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::{line_of, twice};

    #[test]
    fn names_the_line() {
        let text = "{\n \"parts\": {\n  \"pump\": {\n   \"ports\": {\"out\": 1}\n  }\n }\n}";
        assert_eq!(line_of(text, "parts.pump.ports.out"), Some(4));
        assert_eq!(line_of(text, "parts.pump.missing"), Some(3));
        assert_eq!(line_of(text, "nothing"), None);
    }

    #[test]
    fn the_line_is_that_of_the_path_and_not_of_the_same_word_elsewhere() {
        let text = "{\"a\": {\n\"price\": 1},\n\"parts\": {\"cool.x\": {\n\"ends\": [\n{\"at\": 1},\n{\"at\": \"\\\"}\"}]},\n\"b\": {},\n\"c\": {\n\"price\": 2}}}";
        assert_eq!(line_of(text, "parts.b.price"), Some(7));
        assert_eq!(line_of(text, "parts.c.price"), Some(9));
        assert_eq!(line_of(text, "parts.cool.x.ends[1].at"), Some(6));
        assert_eq!(line_of(text, "parts.cool.x.ends[7].at"), Some(4));
    }

    #[test]
    fn a_key_that_stands_twice_is_found_with_both_lines() {
        let found = twice("{\n\"a\": {\"x\": 1,\n\"y\": 2,\n\"x\": 3},\n\"b\": [{\"x\": 1}, {\"x\": 1}]}");
        let [one] = &found[..] else { unreachable!("{found:?}") };
        assert_eq!((one.path.as_str(), one.first, one.second), ("a.x", 2, 4));
    }

    #[test]
    fn no_text_stops_the_walk() {
        let deep = "[".repeat(300_000) + &"]".repeat(300_000);
        for text in
            ["", "{", "{\"", "{\"a\"", "{\"a\":", "[1,", "}", "{\"a\\", "\"\\u12\"", "{\"é\\\"\": é", &deep]
        {
            assert!(twice(text).is_empty(), "{}", &text[..text.len().min(20)]);
        }
    }
}
