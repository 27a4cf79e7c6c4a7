//! Money: a decimal amount with its currency, written "412.50 USD".

use std::fmt;
use std::str::FromStr;

use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

/// An amount of one currency. Sums of different currencies are kept apart by the caller.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Money {
    /// The amount, exact.
    pub amount: Decimal,
    /// Three capital letters as in ISO 4217.
    pub currency: String,
}

impl Money {
    /// An amount of a currency.
    pub fn new(amount: Decimal, currency: &str) -> Self {
        Self { amount, currency: currency.to_owned() }
    }

    /// So many of it.
    #[must_use]
    pub fn times(&self, count: u32) -> Self {
        Self { amount: self.amount * Decimal::from(count), currency: self.currency.clone() }
    }
}

/// The most a typed price may be, in any currency: beyond it the keyboard slipped.
pub const MOST: u32 = 10_000_000;

/// Signs that may stand before or after an amount.
const SIGNS: [(char, &str); 3] = [('$', "USD"), ('£', "GBP"), ('€', "EUR")];

/// Why a text is no price.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PriceError {
    /// It cannot be read.
    #[error("\"{typed}\" is no price: expected an amount such as 412.50 or 412.50 USD")]
    Unread {
        /// As typed.
        typed: String,
    },
    /// It is less than nothing.
    #[error("\"{typed}\" is below 0: expected a price of 0 or more")]
    Below {
        /// As typed.
        typed: String,
    },
    /// It has digits beyond the cent.
    #[error("\"{typed}\" has a part of a cent: expected at most two decimals, such as {near}")]
    Split {
        /// As typed.
        typed: String,
        /// The amount that may be meant, to the cent.
        near: Decimal,
    },
    /// It is above [`MOST`].
    #[error("\"{typed}\" is read as more than 10,000,000: expected a price of at most that for one")]
    Above {
        /// As typed.
        typed: String,
    },
}

/// A price as a person types it: "12.50", "95,50", "$1,234.50" or "9 eur"; `None` where nothing is typed.
/// Without a currency of its own it is in the one given.
///
/// # Errors
/// [`PriceError`] with what was typed.
pub fn typed(text: &str, currency: &str) -> Result<Option<Money>, PriceError> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let typed = || text.to_owned();
    let unread = || PriceError::Unread { typed: typed() };
    let sign = SIGNS.iter().find(|(sign, _)| text.starts_with(*sign) || text.ends_with(*sign));
    let bare = sign.map_or(text, |(sign, _)| text.trim_matches(*sign).trim());
    let (amount, own) = match bare.split_once(char::is_whitespace) {
        Some((amount, own)) => (amount, Some(own.trim().to_uppercase())),
        None => (bare, None),
    };
    let currency = own.unwrap_or_else(|| sign.map_or(currency, |(_, c)| c).to_owned());
    let (below, amount) = amount.strip_prefix('-').map_or((false, amount), |rest| (true, rest));
    let amount = plain(amount).ok_or_else(unread)?;
    let all_digits = amount.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    // more digits than a sum can hold
    let most = Decimal::from(MOST);
    let size = match Decimal::from_str(&amount) {
        Ok(size) => size,
        Err(_) if all_digits && amount.split('.').next().is_some_and(|whole| whole.len() > 8) => most + most,
        Err(_) => return Err(unread()),
    };
    if size > most {
        return Err(PriceError::Above { typed: typed() });
    }
    if below && !size.is_zero() {
        return Err(PriceError::Below { typed: typed() });
    }
    if size.normalize().scale() > 2 {
        return Err(PriceError::Split { typed: typed(), near: size.round_dp(2) });
    }
    format!("{size} {currency}").parse().map(Some).map_err(|_| unread())
}

/// The digits of an amount with a point before its decimals. A comma with one or two digits behind it at the end is a
/// decimal comma; other commas part thousands.
fn plain(amount: &str) -> Option<String> {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let comma = amount.rsplit_once(',').filter(|(_, end)| digits(end) && end.len() <= 2);
    let (whole, decimals, parts) = match (comma, amount.split_once('.')) {
        (Some((whole, decimals)), _) => (whole, decimals, '.'),
        (None, Some((whole, decimals))) => (whole, decimals, ','),
        (None, None) => (amount, "", ','),
    };
    if !(decimals.is_empty() || digits(decimals)) {
        return None;
    }
    let mut groups = whole.split(parts);
    let first = groups.next()?;
    let groups: Vec<&str> = groups.collect();
    // "0,500" may be half of something or five hundred: not guessed
    let thousands = digits(first) && first.len() <= 3 && !first.starts_with('0');
    let thousands = thousands && groups.iter().all(|group| digits(group) && group.len() == 3);
    let sound = if groups.is_empty() { first.is_empty() || digits(first) } else { thousands };
    if !sound || first.is_empty() && decimals.is_empty() {
        return None;
    }
    let decimals = if decimals.is_empty() { "0" } else { decimals };
    let first = if first.is_empty() { "0" } else { first };
    Some(format!("{first}{}.{decimals}", groups.concat()))
}

/// What is wrong with a written amount.
#[derive(Debug, thiserror::Error, PartialEq, Eq)]
#[error("expected an amount and a currency such as \"412.50 USD\", found \"{found}\"")]
pub struct MoneyError {
    /// The text as read.
    pub found: String,
}

impl FromStr for Money {
    type Err = MoneyError;
    fn from_str(text: &str) -> Result<Self, MoneyError> {
        let wrong = || MoneyError { found: text.to_owned() };
        let (amount, currency) = text.trim().split_once(' ').ok_or_else(wrong)?;
        let currency = currency.trim();
        if currency.len() != 3 || !currency.bytes().all(|b| b.is_ascii_uppercase()) {
            return Err(wrong());
        }
        let amount = Decimal::from_str(amount).map_err(|_| wrong())?;
        // a price beyond this is a slip of the keyboard, and sums of it could overflow
        if amount.abs() > Decimal::from(1_000_000_000_i64) {
            return Err(wrong());
        }
        Ok(Self { amount, currency: currency.to_owned() })
    }
}

impl TryFrom<String> for Money {
    type Error = MoneyError;
    fn try_from(text: String) -> Result<Self, MoneyError> {
        text.parse()
    }
}

impl From<Money> for String {
    fn from(money: Money) -> Self {
        money.to_string()
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // digits beyond the cent are kept: rounding would change what somebody has written
        let amount = self.amount.normalize();
        if amount.scale() > 2 {
            write!(f, "{amount} {}", self.currency)
        } else {
            write!(f, "{amount:.2} {}", self.currency)
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn reads_and_writes_the_same() {
        assert_eq!("412.50 USD".parse::<Money>().unwrap().to_string(), "412.50 USD");
        assert_eq!("12.505 USD".parse::<Money>().unwrap().to_string(), "12.505 USD");
        assert_eq!("12.500 USD".parse::<Money>().unwrap().to_string(), "12.50 USD");
        assert!("412.50".parse::<Money>().is_err());
        assert!("x USD".parse::<Money>().is_err());
        assert!("1 usd".parse::<Money>().is_err());
    }

    fn read(text: &str) -> Result<Option<String>, PriceError> {
        typed(text, "USD").map(|money| money.map(|m| m.to_string()))
    }

    #[test]
    fn prices_as_people_type_them() {
        for (text, meant) in [
            ("12.5", "12.50 USD"),
            (" $1,234.50 ", "1234.50 USD"),
            ("€9", "9.00 EUR"),
            ("9 eur", "9.00 EUR"),
            ("0", "0.00 USD"),
            ("-0", "0.00 USD"),
            (".5", "0.50 USD"),
            ("12.", "12.00 USD"),
            ("95,50", "95.50 USD"),
            ("95,5", "95.50 USD"),
            ("95,50 EUR", "95.50 EUR"),
            ("95,50 €", "95.50 EUR"),
            ("1.234,50", "1234.50 USD"),
            ("1234,50", "1234.50 USD"),
            ("1,234", "1234.00 USD"),
            ("1,234,567", "1234567.00 USD"),
            ("10,000,000", "10000000.00 USD"),
        ] {
            assert_eq!(read(text), Ok(Some(meant.to_owned())), "{text}");
        }
        assert_eq!(read("  "), Ok(None));
    }

    #[test]
    fn what_is_no_price_is_told_as_typed() {
        for text in [
            "cheap", "banana", "12 quid", "1e9999", "$", "1,2345", "0,500", "1,23.50", "1.2.3", ",", ".",
            "--5", "1_000", "+5", "1,234,5", "1,,234",
        ] {
            let why = read(text).unwrap_err();
            assert_eq!(why, PriceError::Unread { typed: text.to_owned() });
            assert!(why.to_string().starts_with(&format!("\"{text}\" is no price")), "{why}");
        }
        let split = read("12.505").unwrap_err();
        assert_eq!(
            split.to_string(),
            "\"12.505\" has a part of a cent: expected at most two decimals, such as 12.50"
        );
        assert_eq!(read("12.500"), Ok(Some("12.50 USD".to_owned())));
        assert_eq!(read("-5"), Err(PriceError::Below { typed: "-5".to_owned() }));
        for text in ["10,000,000.01", "99999999999999", &"9".repeat(400)] {
            assert_eq!(read(text), Err(PriceError::Above { typed: text.to_owned() }));
        }
    }
}
