//! Quantities inside a sentence, in the system the user reads.

use super::{INCH, METRIC, Measure, reading};

/// Units that may close a number in running text, beside those of the two systems.
const SCALES: [&str; 2] = ["°C", "°F"];

/// A bare g in a sentence is the weight of a deceleration, not a gram.
const GRAVITY: &str = "g";

/// A sentence with each of its quantities in the wanted system: "21 mm less pulley" reads "0.827 in less pulley". Sizes
/// that are the name of something stay: threads, tyre codes, and in metric measure whole inches ("a 15 in wheel").
#[must_use]
pub fn prose(text: &str, wanted: Measure) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut rest = text;
    let mut before = ' ';
    while let Some(c) = rest.chars().next() {
        // a number starts a word: M10, 205/75R15 and 5x112 hold figures that are no quantity
        let starts = c.is_ascii_digit() && !(before.is_alphanumeric() || ".,/-+×±".contains(before));
        if starts && let Some(n) = quantity(rest, wanted) {
            out.push_str(&reading(&rest[..n], wanted));
            before = 'a';
            rest = &rest[n..];
            continue;
        }
        out.push(c);
        before = c;
        rest = &rest[c.len_utf8()..];
    }
    out
}

/// How long the quantity is that the text begins with: "17.1 mm", "2.5 to 3.5 psi".
fn quantity(text: &str, wanted: Measure) -> Option<usize> {
    let mut at = number(text)?;
    if let Some(n) = text[at..].strip_prefix(" to ").and_then(number) {
        at += " to ".len() + n;
    }
    at += usize::from(text[at..].starts_with(' '));
    let units = INCH.iter().chain(&METRIC).chain(&SCALES).filter(|unit| **unit != GRAVITY);
    let unit = units.filter(|unit| closes(&text[at..], unit)).max_by_key(|unit| unit.len())?;
    // nobody calls a 15 in wheel a 381 mm wheel
    (*unit != "in" || wanted == Measure::Inch).then_some(at + unit.len())
}

/// Whether the text begins with this unit, as a whole word.
fn closes(text: &str, unit: &str) -> bool {
    text.strip_prefix(unit)
        .is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphanumeric() || "/·²³×".contains(c)))
}

/// How long the number is that the text begins with: "12", "17.5", "3/8", "1-1/8".
fn number(text: &str) -> Option<usize> {
    let digits = |at: usize| text[at..].bytes().take_while(u8::is_ascii_digit).count();
    let mut at = digits(0);
    if at == 0 {
        return None;
    }
    for joins in ['.', '-', '/'] {
        if text[at..].starts_with(joins) && digits(at + 1) > 0 {
            at += 1 + digits(at + 1);
        }
    }
    Some(at)
}

#[cfg(test)]
mod tests {
    use super::{Measure, prose};

    #[test]
    fn quantities_in_a_sentence_change_and_names_stay() {
        for (metric, inch) in [
            (
                "21 mm less pulley (55 mm), or 230 rpm more",
                "0.827 in less pulley (2.165 in), or 230 rpm more",
            ),
            ("to 1 mm; 2.4 L of it", "to 0.039 in; 2.54 US qt of it"),
            ("supplies 19 to 25 mm here", "supplies 3/4 to 0.984 in here"),
            ("M10 and 205/75R15, 5x112 mm, 8.8 at 17.1 A", "M10 and 205/75R15, 5x112 mm, 8.8 at 17.1 A"),
            ("opens at 82 °C.", "opens at 180 °F."),
            ("13 mm² or 4 mm each", "13 mm² or 0.157 in each"),
            ("6 m and 12 m", "236.22 in and 39.4 ft"),
            ("stops at 0.65 g, 0.9 g at most", "stops at 0.65 g, 0.9 g at most"),
            ("12", "12"),
            ("", ""),
        ] {
            assert_eq!(prose(metric, Measure::Inch), inch);
            assert_eq!(prose(metric, Measure::Metric), metric);
        }
        assert_eq!(prose("a 15 in wheel at 30 psi", Measure::Metric), "a 15 in wheel at 207 kPa");
        assert_eq!(prose("3/8 in or 1-1/8 in", Measure::Inch), "3/8 in or 1-1/8 in");
    }
}
