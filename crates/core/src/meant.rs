//! Words that are near another: "did you mean ...?", with what is to be done behind it.

/// How alike two words must be, as Jaro-Winkler counts it, for one to be meant by the other.
const ALIKE: f64 = 0.8;

/// The nearest of some known words, where one is near; ties go to the first in order of the alphabet.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed = word.to_lowercase();
    // one slip of the keyboard goes before any other likeness
    let score = |known: &str| {
        let slip = typed.chars().count() > 2 && strsim::osa_distance(&typed, known) <= 1;
        strsim::jaro_winkler(&typed, known) + if slip { 1.0 } else { 0.0 }
    };
    known
        .into_iter()
        .map(|k| (score(&k.to_lowercase()), k))
        .filter(|(score, _)| *score > ALIKE)
        .max_by(|a, b| a.0.total_cmp(&b.0).then_with(|| b.1.cmp(a.1)))
        .map(|(_, k)| k)
}

/// `; did you mean "x"? Rest`, or `; rest` where nothing is near. `rest` begins with a small letter, or is empty.
#[must_use]
pub fn then(near: Option<&str>, rest: &str) -> String {
    match near {
        None if rest.is_empty() => String::new(),
        None => format!("; {rest}"),
        Some(near) if rest.is_empty() => format!("; did you mean \"{near}\"?"),
        Some(near) => {
            let mut letters = rest.chars();
            let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
            format!("; did you mean \"{near}\"? {first}{}", letters.as_str())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{nearest, then};

    #[test]
    fn a_near_word_is_asked_for_and_the_rest_stays_a_sentence() {
        assert_eq!(nearest("Wheel", ["tank", "wheels", "wheel-nuts"]), Some("wheels"));
        assert_eq!(nearest("fam", ["frame", "fan"]), Some("fan"));
        assert_eq!(nearest("whl.pattern", ["el.battery", "tank"]), None);
        assert_eq!(then(Some("fan"), "it has a, b"), "; did you mean \"fan\"? It has a, b");
        assert_eq!(then(None, "it has a, b"), "; it has a, b");
        assert_eq!(
            (then(Some("fan"), ""), then(None, "")),
            ("; did you mean \"fan\"?".into(), String::new())
        );
    }
}
