//! The ledger put together by supplier: all lines of one with what they come to. Together they are the sums of the plan.

use std::collections::BTreeMap;

use crate::amounts::Amounts;
use crate::ledger::Entry;

/// A supplier with its lines.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Account {
    /// From whom; empty where nobody says.
    pub supplier: String,
    /// Its lines, in the order of the ledger.
    pub lines: Vec<Entry>,
    /// Paid for what is here, less what came back.
    pub spent: Amounts,
    /// On order.
    pub committed: Amounts,
    /// Still to be paid.
    pub to_come: Amounts,
}

impl Account {
    /// Spent, on order and to come.
    #[must_use]
    pub fn all(&self) -> Amounts {
        &(&self.spent + &self.committed) + &self.to_come
    }
}

/// Every line at its supplier: first those of nobody, then whoever comes to most in a currency, then by name.
#[must_use]
pub fn by_supplier(entries: Vec<Entry>, currency: &str) -> Vec<Account> {
    let mut by: BTreeMap<String, Account> = BTreeMap::new();
    for entry in entries {
        let supplier = entry.supplier.trim().to_owned();
        let account = by.entry(supplier).or_default();
        account.spent += &entry.spent;
        account.committed += &entry.committed;
        account.to_come += &entry.to_come;
        account.lines.push(entry);
    }
    let named = |(supplier, account)| Account { supplier, ..account };
    let mut out: Vec<Account> = by.into_iter().map(named).collect();
    out.sort_by_key(|account| (!account.supplier.is_empty(), std::cmp::Reverse(account.all().of(currency))));
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use crate::ledger::For;
    use crate::money::Money;
    use crate::sheet::LineState;

    fn entry(supplier: &str, to_come: &str, spent: &str) -> Entry {
        let of = |text: &str| [&text.parse::<Money>().unwrap()].into_iter().collect::<Amounts>();
        Entry {
            part: "hose".to_owned(),
            name: "Hose".to_owned(),
            why: For::Wanted,
            system: None,
            supplier: supplier.to_owned(),
            state: LineState::ToBuy,
            spent: of(spent),
            committed: Amounts::default(),
            to_come: of(to_come),
        }
    }

    #[test]
    fn a_supplier_has_all_its_lines_each_currency_by_itself_and_nobody_comes_first() {
        let all = by_supplier(
            vec![
                entry("Mill Yard", "5.00 USD", "1.00 USD"),
                entry("", "2.00 USD", "0.00 USD"),
                entry("Old Kiln", "9.00 USD", "3.00 EUR"),
                entry(" Mill Yard", "7.00 EUR", "2.50 USD"),
            ],
            "USD",
        );
        let told: Vec<(&str, usize, String)> = all
            .iter()
            .map(|account| (account.supplier.as_str(), account.lines.len(), account.all().text("USD")))
            .collect();
        assert_eq!(
            told,
            [
                ("", 1, "2.00 USD".to_owned()),
                ("Old Kiln", 1, "9.00 USD and 3.00 EUR".to_owned()),
                ("Mill Yard", 2, "8.50 USD and 7.00 EUR".to_owned()),
            ]
        );
        assert_eq!(all[2].spent.text("USD"), "3.50 USD");
    }
}
