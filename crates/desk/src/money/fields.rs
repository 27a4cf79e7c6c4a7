//! The fields of the budget: for all of it, what is kept back, and for single systems. What is typed becomes one edit.

use knockon_core::assessment::Assessment;
use knockon_core::{Edit, Sheet, money};

use crate::app::App;

/// The field for all of it.
pub const TOTAL: &str = "Budget";
/// The field for what is kept back.
pub const KEPT: &str = "Kept back, per cent";
/// The most of a hundred that is kept back.
const MOST: u32 = 200;

/// The name of the field of a system.
pub fn of_system(name: &str) -> String {
    format!("Budget of {name}")
}

/// What is typed into a field, as an edit; `None`: it stands so already.
///
/// # Errors
/// A sentence with what was expected.
pub fn read(
    sheet: &Sheet,
    a: &Assessment,
    currency: &str,
    field: &str,
    text: &str,
) -> Result<Option<Edit>, String> {
    let amount = || money::typed(text, currency).map_err(|why| format!("{why}."));
    let mut budget = sheet.budget.clone();
    match field {
        TOTAL => budget.total = amount()?,
        KEPT => budget.contingency = percent(text)?,
        _ => {
            let system = a.systems.iter().find(|(_, name)| of_system(name) == field);
            let Some((id, _)) = system else { return Ok(None) };
            match amount()? {
                Some(money) => drop(budget.systems.insert(id.clone(), money)),
                None => drop(budget.systems.remove(id)),
            }
        }
    }
    Ok((budget != sheet.budget).then(|| Edit::SetBudget { budget: Box::new(budget) }))
}

fn percent(text: &str) -> Result<Option<u32>, String> {
    let number = text.trim().trim_end_matches('%').trim();
    if number.is_empty() {
        return Ok(None);
    }
    let read = number.parse::<u32>().ok().filter(|n| *n <= MOST);
    read.map(Some).ok_or_else(|| format!("Expected a whole number from 0 to {MOST}, found \"{text}\"."))
}

impl App {
    /// Takes in what stands in the fields of the budget; what cannot be read stays there.
    pub(crate) fn take_budget(&mut self) {
        for (field, text) in self.view.money.fields.typed.clone() {
            let currency = self.cache.told(self.view.measure).spending.currency.clone();
            let read = read(self.document.sheet(), &self.assessment, &currency, &field, &text);
            let Ok(edit) = read else { continue };
            self.view.money.fields.typed.remove(&field);
            if let Some(edit) = edit {
                self.edit(&[edit]);
            }
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_is_one_edit_and_what_cannot_be_read_says_what_was_expected() {
        let mut sheet = Sheet::default();
        let a =
            Assessment { systems: vec![("brakes".to_owned(), "Brakes".to_owned())], ..Assessment::default() };
        let of = |sheet: &Sheet, field: &str, text: &str| read(sheet, &a, "USD", field, text);
        let Some(Edit::SetBudget { budget }) = of(&sheet, TOTAL, "$15,000").unwrap() else {
            unreachable!("an edit")
        };
        assert_eq!(budget.total.as_ref().unwrap().to_string(), "15000.00 USD");
        sheet.budget = *budget;
        assert_eq!(of(&sheet, TOTAL, "15000"), Ok(None));
        assert!(of(&sheet, TOTAL, "much").unwrap_err().contains("much"));
        let Some(Edit::SetBudget { budget }) = of(&sheet, "Budget of Brakes", "1800").unwrap() else {
            unreachable!("an edit")
        };
        // the rest stays
        assert_eq!(budget.total, sheet.budget.total);
        assert_eq!(budget.systems["brakes"].to_string(), "1800.00 USD");
        let Some(Edit::SetBudget { budget }) = of(&sheet, KEPT, " 15 % ").unwrap() else {
            unreachable!("an edit")
        };
        assert_eq!(budget.contingency, Some(15));
        for wrong in ["-1", "201", "some", "1.5"] {
            assert!(of(&sheet, KEPT, wrong).unwrap_err().contains("from 0 to 200"), "{wrong}");
        }
        assert_eq!(of(&sheet, KEPT, ""), Ok(None));
    }
}
