//! The number in front of a unit: decimals, fractions, mixed fractions, exponents, gauges of wire.

/// Splits "1-1/8 in" into 1.125 and "in". `None` where no number stands in front.
pub(super) fn number_and_unit(text: &str) -> Option<(f64, &str)> {
    if let Some(gauge) = gauge(text) {
        return Some((gauge, "AWG"));
    }
    let end = text
        .char_indices()
        .find(|(i, c)| {
            !(c.is_ascii_digit()
                || matches!(c, '.' | '/')
                || (*c == '-' || *c == '+') && *i == 0
                || *c == '-' && text[..*i].ends_with(|p: char| p.is_ascii_digit())
                || *c == ' ' && mixed(&text[*i + 1..]))
        })
        .map_or(text.len(), |(i, _)| i);
    // "1.5-inch": the hyphen belongs to the word
    let end = if text[..end].ends_with('-') { end - 1 } else { end };
    let end = end + exponent(&text[..end], &text[end..]);
    let number = plain_number(text[..end].trim())?;
    number.is_finite().then_some((number, text[end..].trim_start_matches('-').trim()))
}

/// Signs that keyboards and word processors put in place of plain ones, turned back: "3½", "−5", "+/-".
pub(super) fn plain(text: &str) -> String {
    const PARTS: [(char, &str); 9] = [
        ('½', "1/2"),
        ('¼', "1/4"),
        ('¾', "3/4"),
        ('⅛', "1/8"),
        ('⅜', "3/8"),
        ('⅝', "5/8"),
        ('⅞', "7/8"),
        ('⅓', "1/3"),
        ('⅔', "2/3"),
    ];
    let mut out = String::with_capacity(text.len());
    for c in text.trim().chars() {
        match c {
            '\u{a0}' | '\u{2009}' | '\u{202f}' => out.push(' '),
            '−' => out.push('-'),
            '⁄' => out.push('/'),
            c => match PARTS.iter().find(|(sign, _)| *sign == c) {
                Some((_, part)) => {
                    if out.ends_with(|p: char| p.is_ascii_digit()) {
                        out.push(' ');
                    }
                    out.push_str(part);
                }
                None => out.push(c),
            },
        }
    }
    out.replace("+/-", "±").replace("+-", "±")
}

/// The number of a wire gauge: -1 of "2/0 AWG", 14 of "14 AWG", "AWG 14" and "14 gauge"; `None` where none is written.
fn gauge(text: &str) -> Option<f64> {
    let lower = text.to_ascii_lowercase();
    let bare = ["awg", "gauge", "ga"]
        .iter()
        .find_map(|w| lower.strip_suffix(w).or_else(|| lower.strip_prefix(w)))?;
    let bare = bare.trim_matches([' ', '-', '#', '.']);
    if let Some(zeros) = bare.strip_suffix("/0") {
        return zeros.parse::<u8>().ok().filter(|z| (1..=4).contains(z)).map(|z| 1.0 - f64::from(z));
    }
    if bare.len() > 1 && bare.len() <= 4 && bare.bytes().all(|b| b == b'0') {
        return Some(1.0 - bare.len() as f64);
    }
    let digits = !bare.is_empty() && bare.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    digits.then(|| bare.parse().ok()).flatten()
}

/// How many letters of the rest are an exponent: 2 of "e9A", none of "e" or of what follows a fraction.
fn exponent(number: &str, rest: &str) -> usize {
    let Some(power) = rest.strip_prefix(['e', 'E']) else { return 0 };
    let sign = usize::from(power.starts_with(['-', '+']));
    let digits = power[sign..].bytes().take_while(u8::is_ascii_digit).count();
    let plain = number.ends_with(|c: char| c.is_ascii_digit() || c == '.') && !number.contains(['/', ' ']);
    if digits > 0 && plain { 1 + sign + digits } else { 0 }
}

/// Whether a blank is followed by the fraction of a mixed number: "1 1/8", "3 1/2\"".
fn mixed(rest: &str) -> bool {
    let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '/')).unwrap_or(rest.len());
    rest[..end].split_once('/').is_some_and(|(over, under)| !over.is_empty() && !under.is_empty())
}

fn plain_number(text: &str) -> Option<f64> {
    let (sign, text) = text.strip_prefix('-').map_or((1.0, text), |t| (-1.0, t));
    let fraction = |t: &str| -> Option<f64> {
        let (a, b) = t.split_once('/')?;
        let (a, b): (f64, f64) = (a.parse().ok()?, b.parse().ok()?);
        (b != 0.0).then_some(a / b)
    };
    let value = if text.contains(['e', 'E']) {
        text.parse::<f64>().ok()?
    } else if let Some((whole, part)) = text.split_once(['-', ' ']) {
        whole.parse::<f64>().ok()? + fraction(part)?
    } else if text.contains('/') {
        fraction(text)?
    } else {
        text.parse::<f64>().ok()?
    };
    Some(sign * value)
}
