//! Plural names take plural verbs: "the wheel nuts have", "the carburettor has".

/// What follows the thing itself in a name: "switch in the master cylinder".
const AFTER: [&str; 23] = [
    "with", "for", "of", "at", "in", "on", "to", "from", "by", "between", "through", "under", "over",
    "round", "behind", "beside", "taken", "made", "renewed", "repaired", "overlaid", "welded", "that",
];
/// Words that end like a plural and are none.
const ONE: [&str; 7] = ["bus", "chassis", "gas", "lens", "canvas", "axis", "cross"];

/// Whether a name is of several things, by its main word.
pub(crate) fn plural(name: &str) -> bool {
    let name = name.split([',', ':', '(']).next().unwrap_or(name);
    let thing = name.split_whitespace().take_while(|word| !AFTER.contains(word));
    // sizes tell nothing: "rear wheel studs 7/16-20", "front drums 11 x 2"
    let is_size = |word: &&str| *word == "x" || word.contains(|c: char| c.is_ascii_digit());
    let words: Vec<&str> = thing.filter(|word| !is_size(word)).collect();
    let Some(last) = words.last().map(|word| word.to_lowercase()) else { return false };
    words.contains(&"and") || last.ends_with('s') && !last.ends_with("ss") && !ONE.contains(&last.as_str())
}

/// A verb in the third person as the name wants it: "has" or "have", "supplies" or "supply".
pub(crate) fn verb<'a>(name: &str, singular: &'a str) -> &'a str {
    if !plural(name) {
        return singular;
    }
    match singular {
        "has" => "have",
        "is" => "are",
        "supplies" => "supply",
        "comes" => "come",
        "closes" => "close",
        "goes" => "go",
        "reaches" => "reach",
        "carries" => "carry",
        "multiplies" => "multiply",
        "does not" => "do not",
        other => other.strip_suffix('s').unwrap_or(other),
    }
}

/// The name of a part up to its first comma: "Fuel pump, electric, 4 to 7 psi" is a fuel pump.
pub(crate) fn short(name: &str) -> &str {
    name.split(',').next().unwrap_or(name)
}

/// The same within a sentence.
pub(crate) fn low(name: &str) -> String {
    lower(short(name))
}

/// A whole name within a sentence: "cab corners and B-pillars".
pub fn lower(name: &str) -> String {
    let mut letters = name.chars();
    match letters.next() {
        // "H4 lamp unit" keeps its capital
        Some(first) if letters.clone().next().is_some_and(char::is_lowercase) => {
            first.to_lowercase().chain(letters).collect()
        }
        _ => name.to_owned(),
    }
}

/// A noun as it is counted: "1 stud", "5 studs".
pub(crate) fn counted(noun: &str, is_one: bool) -> String {
    if is_one { noun.to_owned() } else { format!("{noun}s") }
}

#[cfg(test)]
mod tests {
    use super::{plural, verb};

    #[test]
    fn the_main_word_decides() {
        for name in [
            "Wheel nuts, 7/16-20, left hand",
            "rear wheel studs 7/16-20",
            "Front drums 11 x 2 in, cylinders 1-1/8 in",
            "Belts, two lap and diagonal",
            "Cab corners and B-pillars",
            "Cab corners and floor ends renewed",
            "Points and condenser",
            "tyre beads on the rims",
            "brake hydraulics and clutch hydraulics",
            "Copper-nickel brake pipes",
            "Bulkhead holes with grommets: two for hoses",
        ] {
            assert!(plural(name), "{name}");
        }
        for name in [
            "Harness, cloth covered, six circuits",
            "King pin set with needle bushes",
            "Sense wire to the main bus",
            "Fuel tank between the rails",
            "Hydraulic stop-lamp switch in the master cylinder",
            "Steering box mount plate with crush tubes",
            "Headlamp relay harness: two 40 A relays",
            "filter to carburettor",
            "Conversion cross",
            "",
        ] {
            assert!(!plural(name), "{name}");
        }
    }

    #[test]
    fn verbs_follow() {
        let nuts = "Wheel nuts";
        for (one, many) in [("has", "have"), ("supplies", "supply"), ("accepts", "accept"), ("needs", "need")]
        {
            assert_eq!((verb("Coil", one), verb(nuts, one)), (one, many));
        }
    }
}
