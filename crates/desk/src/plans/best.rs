//! Which plan is the cheapest, which the quickest, and in which the least does not fit: as words, with the figure that says so.

use rust_decimal::Decimal;

use crate::plans::told::{SideBySide, Stands};
use crate::wording;

/// What a plan is best at, the best of all that stand side by side: a sentence for each, in the order in which they are read.
/// Nothing where one plan stands alone. Nobody is best at what cannot be compared: money of several currencies, a day that is
/// not known of all.
pub fn best(beside: &SideBySide) -> Vec<String> {
    if beside.plans.len() < 2 {
        return Vec::new();
    }
    [cheapest(beside), quickest(beside), fewest(beside)].into_iter().flatten().collect()
}

fn cheapest(beside: &SideBySide) -> Option<String> {
    let own = |plan: &Stands| {
        let all = plan.spending.forecast.shown(&beside.currency);
        let is_own = all.iter().all(|money| money.currency == beside.currency);
        is_own.then(|| plan.spending.forecast.of(&beside.currency))
    };
    let told = |sum: &Decimal| wording::amount(*sum, &beside.currency);
    // of plans that lack prices the least that they cost is compared, and that is said
    let open: usize = beside.plans.iter().map(|plan| plan.spending.unpriced).sum();
    let open = if open > 0 { ", as far as prices are known" } else { "" };
    let said = first(beside, own, told, ("Cheapest", "All cost the same"))?;
    Some(format!("{said}{open}"))
}

fn quickest(beside: &SideBySide) -> Option<String> {
    let by_day = || {
        first(
            beside,
            |plan| plan.done,
            |day| format!("done by {day}"),
            ("Quickest", "All are done on the same day"),
        )
    };
    // tenths, as they are shown
    let tenths = |plan: &Stands| Some((plan.hours * 10.0).round() as i64);
    let hours = |tenths: &i64| wording::hours(*tenths as f64 / 10.0);
    by_day().or_else(|| first(beside, tenths, hours, ("Least work", "All take the same hours")))
}

fn fewest(beside: &SideBySide) -> Option<String> {
    let clashes = |plan: &Stands| Some(plan.clashes);
    let told = |n: &usize| if *n == 0 { "none".to_owned() } else { n.to_string() };
    first(beside, clashes, told, ("Fewest clashes", "All have as many clashes"))
}

/// "Cheapest: Sound first, $7,883.80", with every plan that is as good; `None` where a plan cannot be compared.
fn first<T: Ord>(
    beside: &SideBySide,
    of: impl Fn(&Stands) -> Option<T>,
    told: impl Fn(&T) -> String,
    (lead, same): (&str, &str),
) -> Option<String> {
    let all: Vec<T> = beside.plans.iter().map(of).collect::<Option<_>>()?;
    let least = all.iter().min()?;
    let names: Vec<&str> =
        beside.plans.iter().zip(&all).filter(|(_, of)| *of == least).map(|(p, _)| p.name.as_str()).collect();
    if names.len() == all.len() {
        return Some(format!("{same}, {}", told(least)));
    }
    Some(format!("{lead}: {}, {}", names.join(" and "), told(least)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use knockon_core::budget::Spending;
    use knockon_core::date::day;
    use knockon_core::{Amounts, Money};

    use super::*;

    fn plan(name: &str, dollars: i64, done: &str, clashes: usize) -> Stands {
        let forecast: Amounts = [&Money::new(Decimal::from(dollars), "USD")].into_iter().collect();
        Stands {
            id: name.to_owned(),
            name: name.to_owned(),
            about: String::new(),
            clashes,
            to_measure: 0,
            to_decide: 0,
            off: 0,
            spending: Spending { forecast, ..Spending::default() },
            spent: Amounts::default(),
            to_come: Amounts::default(),
            hours: 10.0,
            done: day(done).ok(),
            wanted: None,
            beside_wanted: String::new(),
            late: false,
            traces: Vec::new(),
        }
    }

    fn told(plans: Vec<Stands>) -> Vec<String> {
        best(&SideBySide { plans, currency: "USD".to_owned(), ..SideBySide::default() })
    }

    #[test]
    fn each_best_is_named_with_its_figure_and_equals_share_it() {
        let all = vec![
            plan("Sound", 700, "2028-01-01", 0),
            plan("Wishes", 900, "2027-12-01", 8),
            plan("Cured", 800, "2028-02-01", 0),
        ];
        assert_eq!(
            told(all),
            [
                "Cheapest: Sound, $700.00",
                "Quickest: Wishes, done by 2027-12-01",
                "Fewest clashes: Sound and Cured, none",
            ]
        );
        assert!(told(vec![plan("Alone", 700, "2028-01-01", 0)]).is_empty());
    }

    #[test]
    fn what_cannot_be_compared_has_no_best() {
        let mut euros = plan("Other", 100, "", 1);
        euros.spending.forecast = [&Money::new(Decimal::from(100), "EUR")].into_iter().collect();
        euros.hours = 9.96;
        assert_eq!(
            told(vec![plan("Sound", 700, "2028-01-01", 1), euros]),
            ["All take the same hours, 10 h", "All have as many clashes, 1",]
        );
        let mut open = plan("Open", 600, "2028-01-02", 0);
        open.spending.unpriced = 2;
        let said = told(vec![plan("Sound", 700, "2028-01-01", 0), open]);
        assert_eq!(said[0], "Cheapest: Open, $600.00, as far as prices are known");
    }
}
