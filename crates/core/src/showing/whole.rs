//! A whole assessment in the system the user reads.

use crate::assessment::Assessment;
use crate::reason::Fact;

use super::{Measure, prose, reading};

/// The assessment with the values of its reasons, of what is to be measured and of what would clear a clash in the
/// wanted system. Names of parts stay as their makers write them; the port rows stay as the library writes them, for
/// they are shown in both systems.
#[must_use]
pub fn whole(a: &Assessment, wanted: Measure) -> Assessment {
    let mut shown = a.clone();
    for reason in &mut shown.reasons {
        for (text, sentence) in values(&mut reason.fact) {
            *text = if sentence { prose(text, wanted) } else { reading(text, wanted) };
        }
    }
    for open in &mut shown.to_measure {
        open.what = prose(&open.what, wanted);
        for value in &mut open.wanted {
            (value.how, value.now) = (prose(&value.how, wanted), reading(&value.now, wanted));
        }
    }
    for later in &mut shown.later {
        for after in &mut later.after {
            after.text = reading(&after.text, wanted);
        }
    }
    // a remedy that chooses a part is told by the part's name
    for remedy in shown.clashes.iter_mut().flat_map(|c| &mut c.remedies).filter(|r| r.choice.is_none()) {
        remedy.text = prose(&remedy.text, wanted);
    }
    shown
}

/// The texts of a fact that hold quantities, and whether they are sentences.
fn values(fact: &mut Fact) -> Vec<(&mut String, bool)> {
    match fact {
        Fact::Disagree { a_value, b_value, .. } | Fact::Unknown { a_value, b_value, .. } => {
            vec![(a_value, false), (b_value, false)]
        }
        Fact::Wants { value, .. } => vec![(value, false)],
        Fact::CircuitOpened { amount, .. } => vec![(amount, true)],
        Fact::Pool { given, taken, parts, left, margin, .. } => {
            vec![(given, false), (taken, false), (parts, true), (left, false), (margin, false)]
        }
        Fact::Limit { text, .. } => vec![(text, true)],
        Fact::Again { after, .. } => vec![(after, true)],
        _ => Vec::new(),
    }
}
