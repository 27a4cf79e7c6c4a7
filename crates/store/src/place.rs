//! Finds the line of a JSON path in a text, so that a message can name it.

/// The line (from 1) where the value of a dotted path stands, or the deepest part of the path that exists.
#[must_use]
pub fn line_of(text: &str, path: &str) -> Option<usize> {
    let steps: Vec<&str> = path
        .split('.')
        .flat_map(|s| s.split('['))
        .map(|s| s.trim_end_matches(']'))
        .filter(|s| !s.is_empty())
        .collect();
    let bytes = text.as_bytes();
    let mut at = 0;
    // keys of library files are unique words, so walking from key to key inside the text is enough;
    // an id may itself hold a dot (fuel.barb): then two steps are joined
    let mut found = None;
    let mut i = 0;
    while i < steps.len() {
        let joined = steps.get(i + 1).map(|next| format!("\"{}.{next}\"", steps[i]));
        let single = format!("\"{}\"", steps[i]);
        let hit = key_after(text, at, &single)
            .or_else(|| joined.as_ref().and_then(|j| key_after(text, at, j)).inspect(|_| i += 1));
        if let Some(next) = hit {
            at = next;
            found = Some(next);
        } else if steps[i].parse::<usize>().is_err() {
            break;
        }
        i += 1;
    }
    found.map(|end| 1 + bytes[..end].iter().filter(|b| **b == b'\n').count())
}

/// The place after a key `"word"` that is followed by a colon.
fn key_after(text: &str, from: usize, key: &str) -> Option<usize> {
    let mut at = from;
    while let Some(hit) = text.get(at..)?.find(key) {
        let end = at + hit + key.len();
        if text.get(end..)?.trim_start().starts_with(':') {
            return Some(end);
        }
        at = end;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::line_of;

    #[test]
    fn names_the_line() {
        let text = "{\n \"parts\": {\n  \"pump\": {\n   \"ports\": {\"out\": 1}\n  }\n }\n}";
        assert_eq!(line_of(text, "parts.pump.ports.out"), Some(4));
        assert_eq!(line_of(text, "parts.pump.missing"), Some(3));
        assert_eq!(line_of(text, "nothing"), None);
    }
}
