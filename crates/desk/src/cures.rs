//! What would clear a clash, looked at as a whole: what the plan would come to with each remedy, the best first.

pub mod rows;
pub mod search;
pub mod set;
pub mod told;

use knockon_core::assessment::{Assessment, Clash, Offer, Remedy};
use knockon_core::change::Change;
pub use knockon_core::remedy::{Cure, choice, cures_while};
use knockon_core::remedy::{clears, cure, left};

use crate::wording;

/// The remedies of every clash of a revision.
#[derive(Clone, Debug, Default)]
pub struct Cures {
    /// The revision they are of, or are being worked out for.
    pub of: Option<u64>,
    /// Once they are there.
    pub list: Option<Vec<Cure>>,
    /// Those of the revision before: they stay in sight until the new ones are there, so that nothing jumps.
    pub before: Option<Vec<Cure>>,
    /// They were given up.
    pub stopped: bool,
}

impl Cures {
    fn known(&self) -> &[Cure] {
        self.list.as_ref().or(self.before.as_ref()).map_or(&[], Vec::as_slice)
    }

    /// What a remedy would bring, once that is known.
    pub fn offer(&self, remedy: &Remedy) -> Option<(&Offer, Option<&Change>)> {
        cure(self.known(), remedy)
    }
}

/// The remedies of a clash, the best first.
pub fn ranked<'a>(a: &Assessment, clash: &'a Clash, cures: &Cures) -> Vec<&'a Remedy> {
    knockon_core::remedy::ranked(a, clash, cures.known())
}

/// How the plan would stand after a remedy, and whether that must be looked at: it does not clear the clash, or
/// something else does not fit instead.
pub fn verdict(a: &Assessment, clash: &Clash, offer: &Offer) -> (String, bool) {
    let (now, then) = (a.clashes.len(), left(a, offer));
    let mut text = if clears(clash, offer) { String::new() } else { "does not clear this · ".to_owned() };
    text += &match then {
        0 => "then all fits".to_owned(),
        n if n < now => format!("leaves {n} of {now} that do not fit"),
        n if n == now => format!("leaves {n} that {}, as many as now", wording::do_not_fit(n)),
        n => format!("leaves {n} that {}, {} more than now", wording::do_not_fit(n), n - now),
    };
    if !offer.clashes_added.is_empty() {
        text += &format!(" · new: {}", offer.clashes_added.join(", "));
    }
    let warm = then >= now || !offer.clashes_added.is_empty() || !clears(clash, offer);
    (wording::sentence(&text), warm)
}
