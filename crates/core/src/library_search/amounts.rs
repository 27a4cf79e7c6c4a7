//! Amounts in a query: threads, sizes with their units, fractions of an inch, money, bare numbers.

use std::str::FromStr;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::quantity::{Quantity, QuantityError, is_metric_size, thread_name, without_comma};
use crate::units::Dimension;

/// A thread that is asked for.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum ThreadAsked {
    /// This one.
    Named(String),
    /// Its name begins so: the pitch is left open.
    Begins(String),
    /// A pipe thread whose pitch is left open: how its name begins, and its kind.
    Pipe(String, String),
}

impl ThreadAsked {
    /// Whether a thread of a part is it.
    pub fn is(&self, thread: &str) -> bool {
        match self {
            Self::Named(name) => thread == name,
            Self::Begins(start) => thread.starts_with(start.as_str()),
            Self::Pipe(start, kind) => {
                let behind = thread.split_once(' ').map_or("", |(_, kind)| kind);
                thread.starts_with(start.as_str()) && behind.starts_with(kind.as_str())
            }
        }
    }
}

/// An amount as it was asked for.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Amount {
    /// A size: a thread, a length or another quantity in SI, or what may be either.
    Size { text: String, thread: Option<ThreadAsked>, quantity: Option<(f64, Dimension)> },
    /// Money: how much, and of which currency where that was said.
    Money { text: String, amount: f64, currency: Option<String> },
    /// A number without a unit.
    Bare { text: String, number: f64 },
}

/// An amount with how many words it takes, and what is to be said of how it was read.
pub(super) struct Taken {
    pub amount: Amount,
    pub words: usize,
    pub note: Option<String>,
}

/// Most words of one amount: "18 1/2 US gal".
const MOST: usize = 4;

/// The currency of a word or sign.
fn currency(word: &str) -> Option<String> {
    let lower = word.to_lowercase();
    let known = match lower.as_str() {
        "$" | "usd" | "dollar" | "dollars" | "bucks" => "USD",
        "£" | "gbp" | "quid" => "GBP",
        "€" | "eur" | "euro" | "euros" => "EUR",
        _ => return None,
    };
    Some(known.to_owned())
}

fn number(text: &str) -> Option<f64> {
    let plain = without_comma(text).ok()?;
    let is_plain = plain.starts_with(|c: char| c.is_ascii_digit() || c == '-' || c == '.')
        && plain.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-'));
    plain.parse::<f64>().ok().filter(|n| is_plain && n.is_finite())
}

/// The amount that begins with the first of these words.
pub(super) fn amount(tokens: &[String]) -> Option<Taken> {
    let first = tokens.first()?;
    if first.chars().count() > 40 {
        return None;
    }
    money(tokens).or_else(|| thread(tokens)).or_else(|| quantity(tokens)).or_else(|| fraction(first)).or_else(
        || {
            let number = number(first)?;
            let amount = Amount::Bare { text: first.clone(), number };
            Some(Taken { amount, words: 1, note: None })
        },
    )
}

fn money(tokens: &[String]) -> Option<Taken> {
    let first = tokens.first()?;
    let sign = |c: char| matches!(c, '$' | '£' | '€');
    let (digits, own) = match first.strip_prefix(sign).or_else(|| first.strip_suffix(sign)) {
        Some(digits) => (digits, first.chars().find(|c| sign(*c)).and_then(|c| currency(&c.to_string()))),
        None => (first.as_str(), None),
    };
    let plain = match without_comma(digits) {
        // of money the comma parts thousands
        Err(QuantityError::Comma { thousands, .. }) => thousands,
        read => read.ok()?,
    };
    let amount = Decimal::from_str(&plain).ok()?.to_f64()?;
    let behind = tokens.get(1).and_then(|word| currency(word));
    let words = if own.is_none() && behind.is_some() { 2 } else { 1 };
    let currency = own.or(behind)?;
    let amount = Amount::Money { text: format!("{plain} {currency}"), amount, currency: Some(currency) };
    Some(Taken { amount, words, note: None })
}

/// Whether a word is a unit a number stands before.
fn is_unit(word: &str) -> bool {
    Quantity::parse(&format!("1 {word}")).is_ok_and(|q| q.dimension != Dimension::Ratio)
}

fn thread(tokens: &[String]) -> Option<Taken> {
    let first = tokens.first()?;
    let starts = first.starts_with(|c: char| c.is_ascii_digit() || matches!(c, 'm' | 'M' | '#'));
    if !starts || first.eq_ignore_ascii_case("m") {
        return None;
    }
    let size = |text: String, thread: ThreadAsked, words: usize| {
        Some(Taken { amount: Amount::Size { text, thread: Some(thread), quantity: None }, words, note: None })
    };
    // "200-350 cfm" is no thread: a unit stands behind it
    let unit_behind = |words: usize| tokens.get(words).is_some_and(|word| is_unit(word));
    for words in (1..=3.min(tokens.len())).rev() {
        let text = tokens[..words].join(" ");
        let upper = text.to_uppercase();
        // without its pitch a metric thread is left open, though the coarse one may be meant
        if words == 1 && is_metric_size(&upper) && upper.len() > 1 {
            return size(upper.clone(), ThreadAsked::Begins(format!("{upper}x")), 1);
        }
        let as_written = |text: &str| match text.strip_prefix('M') {
            Some(rest) => format!("M{}", rest.replace('X', "x")),
            None => text.to_owned(),
        };
        // "3/8x24"
        let joined = text.replacen(['x', '×'], "-", 1);
        let tries = [as_written(&text), as_written(&upper), joined];
        let looks = |text: &str| text.contains(['/', '#', 'M', '-']) || words > 1;
        let told = tries.iter().filter(|text| looks(text)).find_map(|text| thread_name(text));
        if let Some(name) = told.filter(|name| is_plausible(name) && !unit_behind(words)) {
            return size(name.clone(), ThreadAsked::Named(name), words);
        }
        // "1/8 NPT"
        if words == 2
            && ["NPT", "NPTF", "BSP", "BSPT", "BSPP"].contains(&tokens[1].to_uppercase().as_str())
            && tokens[0].chars().all(|c| c.is_ascii_digit() || matches!(c, '/' | '-'))
        {
            let pipe = ThreadAsked::Pipe(format!("{}-", tokens[0]), tokens[1].to_uppercase());
            return size(upper, pipe, 2);
        }
    }
    None
}

/// Whether a name that reads as a thread is one that is cut: not "200-350", nor "430-480".
fn is_plausible(name: &str) -> bool {
    let bare = name.split(' ').next().unwrap_or(name);
    match bare.split_once('-') {
        Some((size, pitch)) if !name.starts_with(['#', 'M']) => {
            let pitch: f64 = pitch.parse().unwrap_or(0.0);
            let whole: f64 = size.parse().unwrap_or(0.5);
            (4.0..=80.0).contains(&pitch) && whole <= 4.0
        }
        _ => true,
    }
}

fn quantity(tokens: &[String]) -> Option<Taken> {
    for words in (1..=MOST.min(tokens.len())).rev() {
        let text = tokens[..words].join(" ");
        let Ok(plain) = without_comma(&text) else { continue };
        let (read, note) = match Quantity::parse(&plain) {
            Err(QuantityError::TwoSystems { choices: [us, imperial], .. }) => {
                let note = format!("\"{text}\" is read as {us}; write {imperial} for the other");
                (Quantity::parse(&us), Some(note))
            }
            other => (other, None),
        };
        let Ok(quantity) = read else { continue };
        let is_share = quantity.dimension == Dimension::Ratio && !plain.contains('%');
        if is_share || !quantity.si.is_finite() {
            continue;
        }
        // "14 mm spark plug": a thread of that size is called so as well
        let mm = quantity.si * 1e3;
        let whole = quantity.dimension == Dimension::Length && (mm - mm.round()).abs() < 1e-6;
        let is_mm = plain.to_lowercase().contains("mm");
        let thread = (whole && is_mm && mm > 0.0).then(|| ThreadAsked::Begins(format!("M{}x", mm.round())));
        let amount = Amount::Size { text: plain, thread, quantity: Some((quantity.si, quantity.dimension)) };
        return Some(Taken { amount, words, note });
    }
    None
}

/// "5/16", "1-1/4": a length in inches, or the size of a thread.
fn fraction(word: &str) -> Option<Taken> {
    let is_one = word.contains('/') && word.chars().all(|c| c.is_ascii_digit() || matches!(c, '/' | '-'));
    let inches = Quantity::parse(&format!("{word} in")).ok().filter(|_| is_one)?;
    let amount = Amount::Size {
        text: format!("{word} in"),
        thread: Some(ThreadAsked::Begins(format!("{word}-"))),
        quantity: Some((inches.si, Dimension::Length)),
    };
    Some(Taken { amount, words: 1, note: None })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]
mod tests {
    use super::*;

    fn read(text: &str) -> Option<(Amount, usize)> {
        let tokens: Vec<String> = text.split(' ').map(str::to_owned).collect();
        amount(&tokens).map(|taken| (taken.amount, taken.words))
    }

    #[test]
    fn threads_by_name_by_size_and_by_kind() {
        let thread = |text: &str| match read(text) {
            Some((Amount::Size { thread: Some(thread), quantity: None, .. }, words)) => (thread, words),
            other => panic!("{text}: {other:?}"),
        };
        for text in ["3/8-24", "3/8-24 UNF", "3/8x24", "3/8 unf"] {
            assert_eq!(thread(text).0, ThreadAsked::Named("3/8-24".to_owned()), "{text}");
        }
        for text in ["M14x1.25", "m14X1.25", "m14x1.25 plug"] {
            assert_eq!(thread(text).0, ThreadAsked::Named("M14x1.25".to_owned()), "{text}");
        }
        assert!(thread("M14 spark").0.is("M14x1.25"));
        let pipe = thread("1/8 npt").0;
        assert!(pipe.is("1/8-27 NPTF") && pipe.is("1/8-27 NPT") && !pipe.is("1/8-28 BSP"));
    }

    #[test]
    fn sizes_money_and_numbers() {
        let size = |text: &str| match read(text) {
            Some((Amount::Size { quantity: Some((si, dimension)), .. }, words)) => (si, dimension, words),
            other => panic!("{text}: {other:?}"),
        };
        assert_eq!(size("470mm").1, Dimension::Length);
        assert_eq!(size("18 1/2 in wide").2, 3);
        assert!((size("5/16 barb").0 - 0.0079375).abs() < 1e-9);
        assert_eq!((size("30 amps").1, size("80 C").1), (Dimension::Current, Dimension::Temperature));
        for (text, amount) in
            [("$300", 300.0), ("300 USD", 300.0), ("1,200 dollars", 1200.0), ("95.50€", 95.5)]
        {
            assert!(
                matches!(read(text), Some((Amount::Money { amount: a, .. }, _)) if a == amount),
                "{text}"
            );
        }
        assert!(matches!(read("200 and"), Some((Amount::Bare { .. }, 1))));
        for nothing in ["radiator", "", "-", "m", "under"] {
            assert!(read(nothing).is_none(), "{nothing}");
        }
    }
}
