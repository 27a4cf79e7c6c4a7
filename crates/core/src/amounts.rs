//! Sums of money, one for each currency: amounts of two currencies are never added.

use std::cmp::Ordering;
use std::collections::BTreeMap;
use std::ops::{Add, AddAssign, Sub};

use rust_decimal::Decimal;

use crate::money::Money;

/// A sum for each currency, exact. Two are compared currency by currency in the order of their words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Amounts {
    /// None of them is zero.
    by_currency: BTreeMap<String, Decimal>,
}

impl Amounts {
    /// The amount in a currency; zero where there is none.
    #[must_use]
    pub fn of(&self, currency: &str) -> Decimal {
        self.by_currency.get(currency).copied().unwrap_or_default()
    }

    /// Nothing in any currency.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.by_currency.is_empty()
    }

    /// What is not zero, by currency.
    pub fn each(&self) -> impl Iterator<Item = Money> {
        self.by_currency.iter().map(|(currency, amount)| Money::new(*amount, currency))
    }

    /// To be shown where sums stand in a currency: that one first, also where it is zero and nothing else is there, then
    /// the others.
    #[must_use]
    pub fn shown(&self, currency: &str) -> Vec<Money> {
        let own = Money::new(self.of(currency), currency);
        let own = Some(own).filter(|m| !m.amount.is_zero() || self.is_zero());
        own.into_iter().chain(self.each().filter(|m| m.currency != currency)).collect()
    }

    /// What is shown, as words: "12.00 USD and 7.00 EUR".
    #[must_use]
    pub fn text(&self, currency: &str) -> String {
        self.shown(currency).iter().map(Money::to_string).collect::<Vec<_>>().join(" and ")
    }

    /// The same with a sign before each, as a change is told: "+12.00 USD and -7.00 EUR".
    #[must_use]
    pub fn signed(&self, currency: &str) -> String {
        let told = |m: &Money| format!("{:+.2} {}", m.amount, m.currency);
        self.shown(currency).iter().map(told).collect::<Vec<_>>().join(" and ")
    }

    /// Adds so many of a price.
    pub fn add_times(&mut self, price: &Money, count: u32) {
        let amount = match count {
            1 => price.amount,
            count => price.amount * Decimal::from(count),
        };
        self.put(&price.currency, amount);
    }

    fn put(&mut self, currency: &str, amount: Decimal) {
        if amount.is_zero() {
            return;
        }
        match self.by_currency.get_mut(currency) {
            None => drop(self.by_currency.insert(currency.to_owned(), amount)),
            Some(sum) if (*sum + amount).is_zero() => drop(self.by_currency.remove(currency)),
            Some(sum) => *sum += amount,
        }
    }
}

impl AddAssign<&Self> for Amounts {
    fn add_assign(&mut self, other: &Self) {
        other.by_currency.iter().for_each(|(currency, amount)| self.put(currency, *amount));
    }
}

impl Add<&Amounts> for &Amounts {
    type Output = Amounts;

    fn add(self, other: &Amounts) -> Amounts {
        let mut sum = self.clone();
        sum += other;
        sum
    }
}

impl Sub<&Amounts> for &Amounts {
    type Output = Amounts;

    fn sub(self, other: &Amounts) -> Amounts {
        let mut sum = self.clone();
        other.by_currency.iter().for_each(|(currency, amount)| sum.put(currency, -*amount));
        sum
    }
}

impl<'a> FromIterator<&'a Money> for Amounts {
    fn from_iter<T: IntoIterator<Item = &'a Money>>(prices: T) -> Self {
        let mut sum = Self::default();
        prices.into_iter().for_each(|price| sum.add_times(price, 1));
        sum
    }
}

impl Ord for Amounts {
    fn cmp(&self, other: &Self) -> Ordering {
        let mine = self.by_currency.keys();
        let mut all: Vec<&String> = mine.chain(other.by_currency.keys()).collect();
        all.sort_unstable();
        let differs = all.into_iter().map(|c| self.of(c).cmp(&other.of(c))).find(|o| o.is_ne());
        differs.unwrap_or(Ordering::Equal)
    }
}

impl PartialOrd for Amounts {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn of(texts: &[&str]) -> Amounts {
        let prices: Vec<Money> = texts.iter().map(|text| text.parse().unwrap()).collect();
        prices.iter().collect()
    }

    #[test]
    fn each_currency_is_added_by_itself() {
        let sum = &of(&["5.00 USD", "7.00 EUR"]) + &of(&["1.50 USD"]);
        assert_eq!(sum.text("USD"), "6.50 USD and 7.00 EUR");
        assert_eq!(sum.text("EUR"), "7.00 EUR and 6.50 USD");
        assert_eq!((&sum - &of(&["6.50 USD"])), of(&["7.00 EUR"]));
        assert_eq!((&sum - &sum), Amounts::default());
    }

    #[test]
    fn nothing_is_told_in_the_currency_of_the_sums_and_only_there() {
        assert_eq!(Amounts::default().text("USD"), "0.00 USD");
        assert_eq!(of(&["7.00 EUR"]).text("USD"), "7.00 EUR");
        assert_eq!((&of(&["7.00 EUR"]) - &of(&["9 USD"])).signed("USD"), "-9.00 USD and +7.00 EUR");
    }

    #[test]
    fn less_comes_first_also_below_nothing() {
        let saved = &Amounts::default() - &of(&["5.00 USD"]);
        let mut all = [of(&["5.00 USD"]), Amounts::default(), saved.clone()];
        all.sort();
        assert_eq!(all, [saved, Amounts::default(), of(&["5.00 USD"])]);
    }
}
