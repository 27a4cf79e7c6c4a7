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
        write!(f, "{:.2} {}", self.amount, self.currency)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn reads_and_writes_the_same() {
        assert_eq!("412.50 USD".parse::<Money>().unwrap().to_string(), "412.50 USD");
        assert!("412.50".parse::<Money>().is_err());
        assert!("x USD".parse::<Money>().is_err());
        assert!("1 usd".parse::<Money>().is_err());
    }
}
