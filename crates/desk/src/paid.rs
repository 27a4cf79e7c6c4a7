//! What a choice costs as the totals count it: the price paid where there is one, else the library's.

use knockon_core::Money;
use knockon_core::assessment::{Assessment, BuyLine, Companion, PositionView};

/// What a position's own choice costs, all of its quantity; `None`: nothing is bought here, or it has no price.
pub fn of_position(a: &Assessment, p: &PositionView) -> Option<Money> {
    // a line tells the place it is for by its bare name; what a companion uses has its origin added
    let own = || bought(a).find(|l| l.uses.contains(&p.name));
    let paid = || own().and_then(|l| l.price.as_ref()).map(|each| each.times(p.qty.saturating_sub(p.boxed)));
    if p.active { paid().or_else(|| p.price.clone()) } else { None }
}

/// What a companion costs, without what lies in a kit's box; `None`: it has no price.
pub fn of_companion(a: &Assessment, c: &Companion) -> Option<Money> {
    let number = c.qty.saturating_sub(c.boxed);
    each(a, c).map(|each| each.times(number))
}

/// What one of a companion costs; `None`: it has no price. What is left out costs what the library says.
pub fn each(a: &Assessment, c: &Companion) -> Option<Money> {
    let line = || bought(a).find(|l| l.part == c.part);
    let paid = || line().and_then(|l| l.price.clone());
    if c.waived.is_some() || c.in_kit { c.price.clone() } else { paid().or_else(|| c.price.clone()) }
}

fn bought(a: &Assessment) -> impl Iterator<Item = &BuyLine> {
    a.buy.iter().filter(|l| l.waived.is_none())
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use knockon_core::{Edit, Money, apply, assess};

    use super::{of_companion, of_position};

    #[test]
    fn rows_add_up_to_the_totals_before_and_after_something_is_paid() {
        let catalogue = knockon_store::library::shipped();
        let mut sheet = knockon_store::sheets::parse("example", knockon_store::library::example()).unwrap();
        sheet.lines.clear();
        for plan in sheet.plans.keys().cloned().collect::<Vec<_>>() {
            let mut sheet = sheet.clone();
            for each in [None, Some("7.25 USD".parse::<Money>().unwrap())] {
                if let Some(each) = each {
                    for line in assess(&sheet, &plan, &catalogue).buy {
                        let paid = Edit::SetPaid { part: line.part, paid: Some(each.clone()) };
                        apply(&mut sheet, &paid).unwrap();
                    }
                }
                let a = assess(&sheet, &plan, &catalogue);
                let places = a.positions.iter().filter_map(|p| of_position(&a, p));
                let companions =
                    a.companions.iter().filter(|c| c.waived.is_none()).filter_map(|c| of_companion(&a, c));
                let rows: rust_decimal::Decimal = places.chain(companions).map(|m| m.amount).sum();
                let t = &a.totals;
                assert_eq!(rows, t.spent + t.committed + t.to_come, "{plan}");
            }
        }
    }
}
