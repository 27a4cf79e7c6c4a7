//! A query taken apart: words, sizes of ports, bounds of numbers, prices.

use super::amounts::{Amount, Taken, ThreadAsked, amount};
use super::words::{Comparison, WORDS};
use crate::units::Dimension;

/// Longest query that is read, in characters, and most words of it.
const LONGEST: usize = 200;
const MOST_WORDS: usize = 30;
/// What "about" means: so much of the amount on either side.
const ABOUT: f64 = 0.1;

/// From, to; whether the end itself still counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Span {
    pub low: f64,
    pub low_counts: bool,
    pub high: f64,
    pub high_counts: bool,
}

impl Span {
    fn of(comparison: Comparison, at: f64) -> Self {
        let all = Self { low: f64::NEG_INFINITY, low_counts: true, high: f64::INFINITY, high_counts: true };
        match comparison {
            Comparison::Under => Self { high: at, high_counts: false, ..all },
            Comparison::AtMost => Self { high: at, ..all },
            Comparison::Over => Self { low: at, low_counts: false, ..all },
            Comparison::AtLeast => Self { low: at, ..all },
            Comparison::About => {
                let off = at.abs() * ABOUT;
                Self { low: at - off, high: at + off, ..all }
            }
            Comparison::Between => Self { low: at, high: at, ..all },
        }
    }

    fn between(a: f64, b: f64) -> Self {
        Self { low: a.min(b), low_counts: true, high: a.max(b), high_counts: true }
    }
}

/// A size that something must have.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct SizeAsked {
    pub text: String,
    pub thread: Option<ThreadAsked>,
    pub quantity: Option<(f64, Dimension)>,
    /// Only ports count: it was said that something ends in it.
    pub at_port: bool,
}

/// Bounds that a number must keep.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct BoundAsked {
    /// As it is repeated: "under 470 mm".
    pub text: String,
    pub span: Span,
    pub dimension: Dimension,
    /// The amount that tells about how large a number is meant, SI.
    pub about: f64,
    /// What it is of, where the comparison says so.
    pub implied: Option<String>,
}

/// Bounds of a price.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PriceAsked {
    pub text: String,
    pub span: Span,
    /// `None`: of any currency.
    pub currency: Option<String>,
}

/// What was asked.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Asked {
    /// Words of the part.
    pub words: String,
    /// Words of a port of it, where it was said that it ends in something.
    pub port_words: Option<String>,
    pub sizes: Vec<SizeAsked>,
    pub bounds: Vec<BoundAsked>,
    pub prices: Vec<PriceAsked>,
    /// Numbers without a unit that were compared: text, span.
    pub bare: Vec<BoundAsked>,
    /// How something was read.
    pub notes: Vec<String>,
}

impl Asked {
    /// Nothing was asked at all.
    pub fn is_empty(&self) -> bool {
        let Self { words, port_words, sizes, bounds, prices, bare, .. } = self;
        words.trim().is_empty()
            && port_words.as_ref().is_none_or(|words| words.trim().is_empty())
            && sizes.is_empty()
            && bounds.is_empty()
            && prices.is_empty()
            && bare.is_empty()
    }
}

/// A query as words: signs of comparison stand alone, marks at the ends of words are gone.
fn tokens(query: &str) -> Vec<String> {
    let mut text: String = query.chars().take(LONGEST).collect();
    for (sign, plain) in
        [("≤", "<="), ("≥", ">="), ("–", "-"), ("—", " "), ("½", " 1/2"), ("¼", " 1/4"), ("¾", " 3/4")]
    {
        text = text.replace(sign, plain);
    }
    for sign in ["<=", ">="] {
        text = text.replace(sign, &format!(" {} ", if sign == "<=" { "\u{1}" } else { "\u{2}" }));
    }
    text = text.replace('<', " < ").replace('>', " > ").replace('~', " ~ ");
    text = text.replace('\u{1}', "<=").replace('\u{2}', ">=");
    let marks = |c: char| {
        matches!(c, ',' | ';' | ':' | '?' | '!' | '(' | ')' | '.' | '“' | '‘' | '[' | ']' | '{' | '}')
    };
    let words = text.split_whitespace().map(|word| {
        let word = word.trim_end_matches(marks);
        let word = word.trim_start_matches(|c: char| marks(c) && c != '.');
        // an inch sign belongs to its number, all other marks of speech go
        match word.chars().next().is_some_and(|c| c.is_ascii_digit()) {
            true => word,
            false => word.trim_matches(|c: char| matches!(c, '"' | '\'' | '.')),
        }
    });
    words.filter(|word| !word.is_empty()).take(MOST_WORDS).map(str::to_owned).collect()
}

/// Takes a query apart.
pub(super) fn read(query: &str) -> Asked {
    let tokens = tokens(query);
    let lower: Vec<String> = tokens.iter().map(|token| token.to_lowercase()).collect();
    let mut asked = Asked::default();
    let mut of_price = lower.iter().any(|word| WORDS.price.contains(word));
    of_price &= !lower.iter().all(|word| WORDS.price.contains(word));
    let (mut words, mut port_words): (Vec<&str>, Option<Vec<&str>>) = (Vec::new(), None);
    let mut at = 0;
    while at < tokens.len() {
        if let Some(count) = WORDS.ends(&lower[at..])
            && at + count < tokens.len()
        {
            port_words.get_or_insert_default();
            at += count;
            continue;
        }
        let at_port = port_words.is_some();
        if let Some(count) = asked
            .compared(&tokens, &lower, at, of_price)
            .or_else(|| asked.stated(&tokens, &lower, at, of_price, at_port))
        {
            at += count;
            continue;
        }
        let is_of_price = of_price && WORDS.price.contains(&lower[at]);
        // an article would be joined to the next word, as the letter of "U joint" is
        let is_article = ["a", "an", "the"].contains(&lower[at].as_str()) && at + 1 < tokens.len();
        if !is_of_price && !is_article {
            port_words.as_mut().unwrap_or(&mut words).push(&tokens[at]);
        }
        at += 1;
    }
    asked.words = words.join(" ");
    asked.port_words = port_words.map(|words| words.join(" "));
    asked
}

impl Asked {
    /// A comparison with its amount or amounts; how many words that takes.
    fn compared(&mut self, tokens: &[String], lower: &[String], at: usize, of_price: bool) -> Option<usize> {
        let (comparison, mut used) = WORDS.in_front(&lower[at..])?;
        let implied = lower[at..at + used].iter().find_map(|word| WORDS.implied.get(word)).cloned();
        let of_price = of_price || lower[at..at + used].iter().any(|word| WORDS.price.contains(word));
        while lower
            .get(at + used)
            .is_some_and(|word| ["a", "an", "the", "of", "than"].contains(&word.as_str()))
        {
            used += 1;
        }
        let first = amount(&tokens[at + used..]);
        if comparison == Comparison::Between {
            let (range, count) = range(&tokens[at + used..], &lower[at + used..])?;
            self.add_range(range, of_price, implied);
            return Some(used + count);
        }
        let first = first?;
        used += first.words;
        let word = lower[at..at + used - first.words].join(" ");
        self.add(comparison, &word, first, of_price, implied).then_some(used)
    }

    /// An amount by itself, a range, or an amount with its comparison behind it.
    fn stated(
        &mut self,
        tokens: &[String],
        lower: &[String],
        at: usize,
        of_price: bool,
        at_port: bool,
    ) -> Option<usize> {
        if let Some((range, count)) = range(&tokens[at..], &lower[at..]) {
            self.add_range(range, of_price, None);
            return Some(count);
        }
        // "30A+"
        let token = &tokens[at];
        if let Some(body) = token.strip_suffix('+')
            && let Some(taken) = amount(&[body.to_owned()])
        {
            return self.add(Comparison::AtLeast, "at least", taken, of_price, None).then_some(1);
        }
        let taken = amount(&tokens[at..])?;
        let used = taken.words;
        if let Some((comparison, count)) = WORDS.behind(&lower[at + used..]) {
            let word = if comparison == Comparison::AtMost { "at most" } else { "at least" };
            return self.add(comparison, word, taken, of_price, None).then_some(used + count);
        }
        match taken.amount {
            Amount::Size { text, thread, quantity } => {
                self.notes.extend(taken.note);
                self.sizes.push(SizeAsked { text, thread, quantity, at_port });
                Some(used)
            }
            Amount::Money { text, amount, currency } => {
                self.prices.push(PriceAsked { text, span: Span::of(Comparison::Between, amount), currency });
                Some(used)
            }
            // a number alone is a word: "6 cylinder"
            Amount::Bare { .. } => None,
        }
    }

    fn add(
        &mut self,
        comparison: Comparison,
        word: &str,
        taken: Taken,
        of_price: bool,
        implied: Option<String>,
    ) -> bool {
        let Taken { amount, note, .. } = taken;
        self.notes.extend(note);
        match amount {
            Amount::Size { text, quantity: Some((si, dimension)), .. } => {
                let text = format!("{word} {text}");
                self.bounds.push(BoundAsked {
                    text,
                    span: Span::of(comparison, si),
                    dimension,
                    about: si,
                    implied,
                });
                true
            }
            Amount::Money { text, amount, currency } => {
                self.prices.push(PriceAsked {
                    text: format!("{word} {text}"),
                    span: Span::of(comparison, amount),
                    currency,
                });
                true
            }
            Amount::Bare { text, number } if of_price => {
                self.prices.push(PriceAsked {
                    text: format!("{word} {text}"),
                    span: Span::of(comparison, number),
                    currency: None,
                });
                true
            }
            Amount::Bare { text, number } => {
                let text = format!("{word} {text}");
                let span = Span::of(comparison, number);
                self.bare.push(BoundAsked {
                    text,
                    span,
                    dimension: Dimension::Ratio,
                    about: number,
                    implied,
                });
                true
            }
            Amount::Size { .. } => false,
        }
    }

    fn add_range(&mut self, range: Range, of_price: bool, implied: Option<String>) {
        let Range { low, high, note } = range;
        self.notes.extend(note);
        match (low, high) {
            (
                Amount::Size { text: a, quantity: Some((low, of)), .. },
                Amount::Size { text: b, quantity: Some((high, dimension)), .. },
            ) if of == dimension => {
                let span = Span::between(low, high);
                let about = (low * high).abs().sqrt().copysign(low + high);
                self.bounds.push(BoundAsked { text: format!("{a} to {b}"), span, dimension, about, implied });
            }
            (
                Amount::Money { amount: low, currency: a, .. },
                Amount::Money { text, amount: high, currency: b },
            ) => {
                let text = format!("{low} to {text}");
                self.prices.push(PriceAsked { text, span: Span::between(low, high), currency: b.or(a) });
            }
            (Amount::Bare { text: a, number: low }, Amount::Bare { text: b, number: high }) => {
                let (text, span) = (format!("{a} to {b}"), Span::between(low, high));
                if of_price {
                    self.prices.push(PriceAsked { text, span, currency: None });
                } else {
                    let about = f64::midpoint(low, high);
                    self.bare.push(BoundAsked { text, span, dimension: Dimension::Ratio, about, implied });
                }
            }
            _ => {}
        }
    }
}

/// Two amounts of one kind.
struct Range {
    low: Amount,
    high: Amount,
    note: Option<String>,
}

/// "200 and 350 cfm", "200 to 350 cfm", "200-350 cfm", "$150 to $200": a unit that stands once is of both.
fn range(tokens: &[String], lower: &[String]) -> Option<(Range, usize)> {
    if let Some((low, high)) = tokens.first().and_then(|token| token.split_once('-'))
        && !low.is_empty()
        && !high.is_empty()
    {
        let mut apart = vec![low.to_owned(), "to".to_owned(), high.to_owned()];
        apart.extend(tokens[1..].iter().cloned());
        let lower: Vec<String> = apart.iter().map(|token| token.to_lowercase()).collect();
        // "1-1/2 in" is one amount, "3/8-24" a thread
        let is_one =
            high.contains('/') || amount(tokens).is_some_and(|t| matches!(t.amount, Amount::Size { .. }));
        return (!is_one).then(|| range(&apart, &lower)).flatten().map(|(range, count)| (range, count - 2));
    }
    let first = amount(tokens)?;
    let joins = lower.get(first.words).is_some_and(|word| ["and", "to", "-"].contains(&word.as_str()));
    if !joins {
        return None;
    }
    let at = first.words + 1;
    let second = amount(tokens.get(at..)?)?;
    // "3/8 to 1/2" are the two ends of an adapter; with a unit they are a range
    let is_bare =
        |token: &str| token.contains('/') && token.chars().all(|c| c.is_ascii_digit() || "/-".contains(c));
    if first.words == 1 && second.words == 1 && is_bare(&tokens[0]) && is_bare(&tokens[at]) {
        return None;
    }
    let count = at + second.words;
    let note = first.note.or(second.note);
    let (low, high) = match (first.amount, second.amount) {
        (Amount::Bare { text, .. }, high @ Amount::Size { quantity: Some(_), .. }) => {
            let unit: Vec<String> = tokens[at..count].to_vec();
            let last = unit.join(" ");
            let unit = last
                .trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | '-' | ',' | ' '));
            let low = amount(&[text, unit.to_owned()])?.amount;
            (low, high)
        }
        (Amount::Bare { number, .. }, Amount::Money { text, amount, currency }) => {
            let low = Amount::Money { text: number.to_string(), amount: number, currency: currency.clone() };
            (low, Amount::Money { text, amount, currency })
        }
        (Amount::Money { text, amount, currency }, Amount::Bare { number, text: other }) => {
            let high = Amount::Money { text: other, amount: number, currency: currency.clone() };
            (Amount::Money { text, amount, currency }, high)
        }
        (low, high) => (low, high),
    };
    let same = match (&low, &high) {
        (Amount::Size { quantity: Some((_, a)), .. }, Amount::Size { quantity: Some((_, b)), .. }) => a == b,
        (Amount::Money { .. }, Amount::Money { .. }) | (Amount::Bare { .. }, Amount::Bare { .. }) => true,
        _ => false,
    };
    // "3/8-24 to 10 mm" are two sizes
    same.then_some((Range { low, high, note }, count))
}

#[cfg(test)]
mod tests;
