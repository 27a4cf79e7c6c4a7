//! From one thing that is unresolved to the next, in the order in which the panel lists them: what does not fit, what is to
//! be measured, what is to be decided.

use knockon_core::Assessment;

use crate::app::view::Spot;
use crate::wording;

/// Where something is unresolved, each place once.
pub fn unresolved(a: &Assessment) -> Vec<Spot> {
    let place = |places: &Vec<String>| places.first().cloned().map(Spot::Position);
    let mut all: Vec<Spot> = a.clashes.iter().filter_map(|clash| place(&clash.positions)).collect();
    all.extend(a.to_measure.iter().filter_map(|unknown| place(&unknown.positions)));
    let open = a.companions.iter().filter(|c| wording::open(c));
    all.extend(open.map(|c| Spot::Companion(c.key.clone())));
    let mut once = Vec::new();
    for spot in all {
        if !once.contains(&spot) {
            once.push(spot);
        }
    }
    once
}

/// The next one, or the one before; round at the end, and from elsewhere to the first.
pub fn beside(a: &Assessment, now: Option<&Spot>, back: bool) -> Option<Spot> {
    let all = unresolved(a);
    let at = all.iter().position(|spot| Some(spot) == now);
    let next = match (at, back) {
        (None, false) => 0,
        (None, true) => all.len().checked_sub(1)?,
        (Some(at), false) => (at + 1) % all.len(),
        (Some(at), true) => (at + all.len() - 1) % all.len(),
    };
    all.into_iter().nth(next)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use std::collections::BTreeSet;

    use super::{beside, unresolved};
    use knockon_core::assess;

    #[test]
    fn forward_and_back_lead_through_every_one_and_round() {
        let sheet = knockon_store::sheets::parse("the example", knockon_store::library::example()).unwrap();
        let catalogue = knockon_store::library::shipped();
        for plan in sheet.plans.keys() {
            let a = assess(&sheet, plan, &catalogue);
            let all = unresolved(&a);
            let s = &a.totals;
            assert_eq!(all.is_empty(), s.clashes + s.to_measure + s.companions_open == 0, "{plan}");
            let (mut now, mut seen) = (None, BTreeSet::new());
            for spot in &all {
                let next = beside(&a, now.as_ref(), false);
                assert_eq!(next.as_ref(), Some(spot), "{plan}");
                assert_eq!(beside(&a, next.as_ref(), true), now.or(all.last().cloned()), "{plan}");
                seen.insert(format!("{spot:?}"));
                now = next;
            }
            assert_eq!(seen.len(), all.len(), "{plan}: none comes twice");
            assert_eq!(beside(&a, now.as_ref(), false), all.first().cloned(), "{plan}");
        }
    }
}
