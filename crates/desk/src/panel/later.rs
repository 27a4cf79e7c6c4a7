//! What is to be done later, beside the place or the companion it goes with.

use egui::{Label, RichText, Ui};
use knockon_core::assessment::Later;

use crate::app::told::Told;
use crate::app::view::Spot;
use crate::look::margin;
use crate::look::margin::section;
use crate::look::tokens::Tokens;
use crate::wording;

/// Draws those that go with something; nothing where none does.
pub fn list(ui: &mut Ui, t: &Tokens, a: &Told, goes_with: impl Fn(&Later) -> bool) {
    let mut any = false;
    for later in a.later.iter().filter(|l| goes_with(l)) {
        if !any {
            section(ui, t, "To do later");
            any = true;
        }
        let tone = if later.overdue { t.warm } else { t.ink };
        let text = format!("{}: {}", wording::sentence(&later.when(a.measure)), later.what);
        ui.add(Label::new(RichText::new(text).color(tone)).wrap());
        margin::why(ui, t, a, later.reason, &later.what);
    }
}

/// Where it is looked at: the companion it goes with, else the place that asks for it.
pub fn spot(later: &Later) -> Option<Spot> {
    let companion = later.companions.first().cloned().map(Spot::Companion);
    companion.or_else(|| later.positions.first().cloned().map(Spot::Position))
}
