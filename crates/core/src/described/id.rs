//! An id made of a name that somebody typed.

/// An id nothing has yet: the letters and digits of a name, its other signs as one dash, behind `before`. A name without
/// either is called `or`.
#[must_use]
pub fn from_name(name: &str, before: &str, or: &str, is_taken: impl Fn(&str) -> bool) -> String {
    let plain: String =
        name.to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    let words: Vec<&str> = plain.split('-').filter(|w| !w.is_empty()).collect();
    let stem = format!("{before}{}", if words.is_empty() { or.to_owned() } else { words.join("-") });
    let numbered = (2_u64..).map(|n| format!("{stem}-{n}"));
    std::iter::once(stem.clone()).chain(numbered).find(|id| !is_taken(id)).unwrap_or(stem)
}

#[cfg(test)]
mod tests {
    use super::from_name;

    #[test]
    fn a_name_becomes_an_id_that_is_free() {
        let taken = |id: &str| ["second-tank", "second-tank-2"].contains(&id);
        assert_eq!(from_name("Second tank", "", "place", taken), "second-tank-3");
        assert_eq!(from_name("  3/8 in -- pipe.", "own-", "part", taken), "own-3-8-in-pipe");
        assert_eq!(from_name("Бак", "", "place", taken), "place");
    }
}
