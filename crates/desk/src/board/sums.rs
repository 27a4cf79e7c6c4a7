//! What each system comes to. Everything counts once, at the place where a part goes: so the columns add up to the strip.

use knockon_core::Amounts;
use knockon_core::assessment::{Assessment, Companion, PositionView};
use knockon_core::sheet::LineState;

use crate::wording;

/// What belongs to the plan as a whole and to no system.
pub const WHOLE: &str = "\u{1}whole";

/// What a system comes to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sum {
    /// System id, or [`WHOLE`].
    pub id: String,
    /// As shown.
    pub name: String,
    /// Clashes.
    pub clashes: usize,
    /// Checks that wait for a measurement.
    pub measure: usize,
    /// Companions that want an answer.
    pub open: usize,
    /// Lines fitted.
    pub fitted: usize,
    /// Lines.
    pub lines: usize,
    /// What its lines cost.
    pub money: Amounts,
    /// Companions left out that can hurt somebody.
    pub dangers: usize,
}

/// How a system stands, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Something does not fit.
    Clash,
    /// Something is to be measured.
    Measure,
    /// Something is to be decided.
    Decide,
    /// Nothing is open.
    Settled,
}

impl Sum {
    /// What is unresolved, as it is told: "1 does not fit · 2 to measure".
    pub fn unresolved(&self) -> String {
        let mut parts = Vec::new();
        if self.clashes > 0 {
            parts.push(wording::misfits(self.clashes));
        }
        if self.measure > 0 {
            parts.push(format!("{} to measure", self.measure));
        }
        if self.dangers > 0 {
            parts.push(wording::count(self.dangers, "caution", "cautions"));
        }
        parts.join(" · ")
    }

    /// What is worst.
    pub fn standing(&self) -> Standing {
        match self {
            Self { clashes, .. } if *clashes > 0 => Standing::Clash,
            Self { measure, .. } if *measure > 0 => Standing::Measure,
            Self { open, dangers, .. } if open + dangers > 0 => Standing::Decide,
            _ => Standing::Settled,
        }
    }
}

/// The system where something counts: that of the first of its places.
fn system_of<'a>(a: &'a Assessment, places: &[String]) -> &'a str {
    let here = places.iter().find_map(|id| a.positions.iter().find(|p| p.id == *id));
    here.map_or(WHOLE, |p| p.system.as_str())
}

/// The system where a companion hangs.
pub fn system_of_companion<'a>(a: &'a Assessment, c: &Companion) -> &'a str {
    let holder = |p: &&PositionView| p.companions.contains(&c.key);
    a.positions.iter().find(holder).map_or(WHOLE, |p| p.system.as_str())
}

/// The systems, the worst first, else in board order.
pub fn sums(a: &Assessment) -> Vec<Sum> {
    let known = a.systems.iter().map(|(id, name)| (id.as_str(), name.as_str()));
    let names = known.chain([(WHOLE, "The plan as a whole")]);
    let mut all: Vec<Sum> =
        names.map(|(id, name)| Sum { id: id.to_owned(), name: name.to_owned(), ..Sum::default() }).collect();
    let last = all.len().saturating_sub(1);
    let at = |system: &str| a.systems.iter().position(|(id, _)| id == system).unwrap_or(last);
    let mut count =
        |system: &str, what: &dyn Fn(&mut Sum)| all.get_mut(at(system)).into_iter().for_each(what);
    for clash in &a.clashes {
        count(system_of(a, &clash.positions), &|sum| sum.clashes += 1);
    }
    for unknown in &a.to_measure {
        count(system_of(a, &unknown.positions), &|sum| sum.measure += 1);
    }
    for c in &a.companions {
        let (open, danger) = (usize::from(wording::open(c)), usize::from(c.danger.is_some()));
        if open + danger > 0 {
            count(system_of_companion(a, c), &|sum| {
                sum.open += open;
                sum.dangers += danger;
            });
        }
    }
    for line in a.buy.iter().filter(|l| l.waived.is_none()) {
        count(&line.system, &|sum| {
            sum.lines += 1;
            sum.fitted += usize::from(line.state == LineState::Fitted);
            if let Some(total) = &line.total {
                sum.money.add_times(total, 1);
            }
        });
    }
    let has_places = |id: &str| a.positions.iter().any(|p| p.system == id);
    all.retain(|sum| has_places(&sum.id) || sum.clashes + sum.measure + sum.open + sum.lines > 0);
    all.sort_by_key(Sum::standing);
    all
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::sums;
    use knockon_core::{Amounts, assess};

    #[test]
    fn the_columns_add_up_to_the_strip() {
        let sheet = knockon_store::sheets::parse("the example", knockon_store::library::example()).unwrap();
        let catalogue = knockon_store::library::shipped();
        for plan in sheet.plans.keys() {
            let a = assess(&sheet, plan, &catalogue);
            let all = sums(&a);
            let sum = |of: &dyn Fn(&super::Sum) -> usize| all.iter().map(of).sum::<usize>();
            assert_eq!(sum(&|s| s.clashes), a.totals.clashes, "{plan}");
            assert_eq!(sum(&|s| s.measure), a.totals.to_measure, "{plan}");
            assert_eq!(sum(&|s| s.open), a.totals.companions_open, "{plan}");
            assert_eq!(sum(&|s| s.lines), a.totals.lines, "{plan}");
            assert_eq!(sum(&|s| s.fitted), a.totals.fitted, "{plan}");
            let mut money = Amounts::default();
            all.iter().for_each(|s| money = &money + &s.money);
            let buy: Amounts =
                a.buy.iter().filter(|l| l.waived.is_none()).filter_map(|l| l.total.as_ref()).collect();
            assert_eq!(money, buy, "{plan}");
            // the worst stands first
            assert!(all.windows(2).all(|two| two[0].standing() <= two[1].standing()), "{plan}");
        }
    }
}
