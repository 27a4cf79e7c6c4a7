//! Ids in the text of a key: the marks that tell its pieces apart do not stand in them as they are.

use std::fmt;

/// What tells the pieces of a companion's or check's key apart.
pub(super) const OF_KEYS: &str = ":@+";
/// What tells the pieces of a measured value's key apart.
pub(super) const OF_FACTS: &str = "@.";

/// An id as it stands in a key: some marks, and `%` itself, by their number.
pub(super) struct Marked<'a>(pub &'a str, pub &'static str);

impl fmt::Display for Marked<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut rest = self.0;
        while let Some(at) = rest.find(|c| c == '%' || self.1.contains(c)) {
            // a mark is one byte
            let (before, behind) = (&rest[..at], &rest[at + 1..]);
            write!(f, "{before}%{:02X}", rest.as_bytes()[at])?;
            rest = behind;
        }
        f.write_str(rest)
    }
}

/// The id that stands so in a key; `None` where a `%` has no number of a letter or mark behind it.
pub(super) fn unmarked(text: &str) -> Option<String> {
    let mut pieces = text.split('%');
    let mut id = pieces.next()?.to_owned();
    for piece in pieces {
        let number = u8::from_str_radix(piece.get(..2)?, 16).ok().filter(u8::is_ascii)?;
        id.push(char::from(number));
        id.push_str(&piece[2..]);
    }
    Some(id)
}
