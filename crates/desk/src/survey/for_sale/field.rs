//! The fields of a vehicle that is for sale: what stands in them, and what is made of what is typed.

use knockon_core::date::Dated;
use knockon_core::money;
use knockon_core::sheet::ForSale;

/// A field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// What is asked.
    Asked,
    /// Where it stands, and who sells it.
    Place,
    /// On which day it was looked at.
    On,
    /// What it was bought for.
    Bought,
}

impl Field {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Asked, Self::Place, Self::On, Self::Bought];

    /// Its name, the only one of the page.
    pub fn name(self) -> &'static str {
        match self {
            Self::Asked => "Asked for it",
            Self::Place => "Where it stands, and who sells it",
            Self::On => "Looked at on",
            Self::Bought => "Bought for",
        }
    }

    /// What stands in it.
    pub fn now(self, sale: &ForSale) -> String {
        let money = |money: &Option<knockon_core::Money>| {
            money.as_ref().map_or_else(String::new, ToString::to_string)
        };
        match self {
            Self::Asked => money(&sale.asked),
            Self::Place => sale.place.clone(),
            Self::On => sale.on.clone().unwrap_or_default(),
            Self::Bought => money(&sale.bought),
        }
    }

    /// The sale with what is typed into it; a sum without a currency is in the one given.
    ///
    /// # Errors
    /// A sentence with what was expected.
    pub fn put(self, sale: &ForSale, text: &str, currency: &str) -> Result<ForSale, String> {
        let mut now = sale.clone();
        let text = text.trim();
        let amount = || money::typed(text, currency).map_err(|why| format!("{why}."));
        match self {
            Self::Asked => now.asked = amount()?,
            Self::Bought => now.bought = amount()?,
            Self::Place => text.clone_into(&mut now.place),
            Self::On if text.is_empty() => now.on = None,
            Self::On => now.on = Some(Dated::parse(text).map_err(|why| format!("{why}."))?.text),
        }
        Ok(now)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_is_read_and_what_cannot_be_is_told() {
        let put = |field: Field, text: &str| field.put(&ForSale::default(), text, "USD");
        let asked = put(Field::Asked, "3200").unwrap();
        assert_eq!(Field::Asked.now(&asked), "3200.00 USD");
        assert_eq!(Field::Asked.put(&asked, "", "USD").unwrap().asked, None);
        assert!(put(Field::Asked, "three thousand").unwrap_err().contains("three thousand"));
        assert!(put(Field::Bought, "-5").is_err());
        assert_eq!(put(Field::On, "2026-03-01").unwrap().on.as_deref(), Some("2026-03-01"));
        assert!(put(Field::On, "yesterday").is_err());
        assert_eq!(put(Field::Place, " Hill farm ").unwrap().place, "Hill farm");
    }
}
