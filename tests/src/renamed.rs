//! The same library and sheet with other names for joints, places, classes, needs and pools, in reverse order. Parts keep
//! theirs: a tie is broken by them.

use knockon_core::library::LibraryFile;
use knockon_core::sheet::Sheet;

/// Kinds of ids and how many digits theirs have.
const KINDS: [(&str, usize); 5] = [("joint-", 3), ("place-", 3), ("class-", 3), ("need-", 1), ("pool-", 1)];

/// A library and sheet that say the same in other words.
///
/// # Panics
/// Where what was generated cannot be written as JSON and read again.
#[must_use]
#[allow(clippy::expect_used, reason = "a test may stop")]
pub fn renamed(file: &LibraryFile, sheet: &Sheet) -> (LibraryFile, Sheet) {
    let file = serde_json::to_string(file).expect("a library is written");
    let sheet = serde_json::to_string(sheet).expect("a sheet is written");
    let library = serde_json::from_str(&other_names(&file)).expect("a library is read");
    (library, serde_json::from_str(&other_names(&sheet)).expect("a sheet is read"))
}

/// Every id with the number that stands as far from the end as its own stands from the beginning.
fn other_names(text: &str) -> String {
    let mut out = text.to_owned();
    for (word, digits) in KINDS {
        let mut pieces = out.split(word);
        let mut next = pieces.next().unwrap_or_default().to_owned();
        for piece in pieces {
            next.push_str(word);
            let number = piece.get(..digits).and_then(|n| n.parse::<usize>().ok());
            match number {
                Some(n) => {
                    let last = 10_usize.pow(digits as u32) - 1;
                    next.push_str(&format!("{:0digits$}", last - n));
                    next.push_str(&piece[digits..]);
                }
                None => next.push_str(piece),
            }
        }
        out = next;
    }
    out
}

#[test]
fn names_are_turned_round_and_back() {
    let text = r#"{"place-003":"need-2","joint-010-or":1,"place-bridge":0}"#;
    let other = r#"{"place-996":"need-7","joint-989-or":1,"place-bridge":0}"#;
    assert_eq!(other_names(text), other);
    assert_eq!(other_names(other), text);
}
