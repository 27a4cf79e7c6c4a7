//! What is looked for on the board: the rest steps back and keeps its place.

use knockon_core::assessment::{Assessment, Companion, PositionView};

use crate::app::selection::Spot;
use crate::wording::{self, is_to_come};

/// What is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Filter {
    /// What does not fit.
    Clash,
    /// What waits for a measurement.
    Measure,
    /// Companions that want an answer.
    Decide,
    /// What can hurt people: safety parts that are open, dangers left out, clashes of safety.
    Danger,
    /// What is still to be bought.
    ToBuy,
}

impl Filter {
    /// In the order of the strip.
    pub const ALL: [Self; 5] = [Self::Clash, Self::Measure, Self::Decide, Self::Danger, Self::ToBuy];

    /// As shown.
    pub fn word(self) -> &'static str {
        match self {
            Self::Clash => "do not fit",
            Self::Measure => "to measure",
            Self::Decide => "to decide",
            Self::Danger => "danger",
            Self::ToBuy => "to buy",
        }
    }

    /// Whether a place is meant.
    pub fn place(self, a: &Assessment, p: &PositionView) -> bool {
        match self {
            Self::Clash => !p.clashes.is_empty(),
            Self::Measure => !p.to_measure.is_empty(),
            Self::Decide => false,
            Self::Danger => {
                let is_here = |key| p.clashes.contains(key);
                a.clashes.iter().any(|c| c.safety && is_here(&c.key))
            }
            Self::ToBuy => p.active && p.price.is_some() && !p.line.is_bought(),
        }
    }

    /// Whether a companion is meant.
    pub fn companion(self, c: &Companion) -> bool {
        match self {
            Self::Clash | Self::Measure => false,
            Self::Decide => wording::open(c),
            Self::Danger => c.danger.is_some() || c.safety && wording::open(c),
            Self::ToBuy => c.waived.is_none() && !c.in_kit && !c.line.is_bought(),
        }
    }

    /// Whether a row is meant, or a place under which a row is.
    pub fn row(self, a: &Assessment, spot: &Spot) -> bool {
        match spot {
            Spot::Companion(key) => a.companions.iter().any(|c| c.key == *key && self.companion(c)),
            Spot::Position(id) => a.positions.iter().any(|p| {
                p.id == *id
                    && (self.place(a, p)
                        || a.companions.iter().any(|c| p.companions.contains(&c.key) && self.companion(c)))
            }),
        }
    }

    /// How many are meant.
    pub fn count(self, a: &Assessment) -> usize {
        match self {
            Self::Clash => a.totals.clashes,
            Self::Measure => a.totals.to_measure,
            Self::Decide => a.totals.companions_open,
            Self::ToBuy => a.buy.iter().filter(|l| is_to_come(l)).count(),
            Self::Danger => {
                a.clashes.iter().filter(|c| c.safety).count()
                    + a.companions.iter().filter(|c| self.companion(c)).count()
            }
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::Filter;
    use crate::app::selection::Spot;
    use knockon_core::assess;

    #[test]
    fn what_is_meant_is_lit_and_the_rest_steps_back() {
        let sheet = knockon_store::sheets::parse("the example", knockon_store::library::example()).unwrap();
        let a = assess(&sheet, "wishes", &knockon_store::library::shipped());
        for filter in Filter::ALL {
            let lit = |spot: &Spot| filter.row(&a, spot);
            let places: Vec<_> = a.positions.iter().map(|p| Spot::Position(p.id.clone())).collect();
            let many = places.iter().filter(|spot| lit(spot)).count();
            assert!(many > 0 && many < places.len(), "{filter:?}: {many} of {}", places.len());
            assert!(filter.count(&a) > 0);
            // a companion that is meant does not hang under a place that steps back
            for c in a.companions.iter().filter(|c| filter.companion(c)) {
                let under = a.positions.iter().find(|p| p.companions.contains(&c.key));
                assert!(under.is_none_or(|p| lit(&Spot::Position(p.id.clone()))), "{}", c.key);
            }
        }
        for p in &a.positions {
            let lit = Filter::Clash.row(&a, &Spot::Position(p.id.clone()));
            assert_eq!(lit, !p.clashes.is_empty(), "{}", p.id);
        }
        let open = a.buy.iter().filter(|l| l.waived.is_none()).count();
        assert_eq!(Filter::ToBuy.count(&a), open, "nothing is bought yet");
    }
}
