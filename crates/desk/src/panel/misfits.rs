//! The list of what does not fit: clashes that one change can touch stand together, with what clears them.

use std::sync::Arc;

use egui::Ui;
use knockon_core::Assessment;
use knockon_core::assessment::Clash;
use knockon_core::key::CheckKey;

use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::{Action, Spot, View};
use crate::cures::rows::{FAILED, Rows, STOPPED, WORKING, cut_off, quiet};
use crate::cures::search::Clearing;
use crate::cures::set::{Found, Knot};
use crate::dialogs::one_way::Place;
use crate::look::icons::Mark;
use crate::look::list_entry;
use crate::look::list_entry::Entry;
use crate::look::margin;
use crate::look::tokens::Tokens;
use crate::wording;

/// Draws the list; `whole`: with what clears all of it together in front.
pub fn list(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    whole: bool,
    place: Place,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let found = match &view.clearing {
        Clearing::Found(found) => Arc::clone(found),
        other => {
            let said = match other {
                Clearing::Failed => FAILED,
                Clearing::Stopped => STOPPED,
                _ => WORKING,
            };
            for trouble in a.troubles() {
                one(ui, t, a, &trouble, !whole, actions);
            }
            if !a.clashes.is_empty() {
                quiet(ui, t, said);
            }
            return;
        }
    };
    let rows = Rows { t, a, place };
    // of a single knot all that clears it is told at the knot
    if whole && found.knots.len() > 1 && !found.sets.is_empty() {
        margin::section(ui, t, "All of it together");
        rows.best(ui, &found.sets, &[Command::ClearAll], "all", view, actions);
        margin::section(ui, t, "One after the other");
    }
    for knot in in_order(a, &found) {
        let here = |trouble: &Vec<&Clash>| trouble.iter().any(|clash| knot.clashes.contains(&clash.key));
        for trouble in a.troubles().into_iter().filter(here) {
            one(ui, t, a, &trouble, !whole, actions);
        }
        if knot.sets.is_empty() {
            quiet(ui, t, "No choice that the library offers clears it.");
        }
        let salt = knot.clashes.first().map(ToString::to_string).unwrap_or_default();
        let keys: &[Command] = if found.knots.len() == 1 { &[Command::ClearAll] } else { &[] };
        rows.best(ui, &knot.sets, keys, &salt, view, actions);
        ui.add_space(6.0);
    }
    cut_off(ui, t, &found);
}

/// The knots: those that can hurt people first.
fn in_order<'f>(a: &Assessment, found: &'f Found) -> Vec<&'f Knot> {
    let mut knots: Vec<_> = found.knots.iter().collect();
    let at = |key: &CheckKey| a.clashes.iter().position(|clash| clash.key == *key);
    let hurts = |key: &CheckKey| a.clashes.iter().any(|clash| clash.key == *key && clash.safety);
    knots.sort_by_key(|knot| (!knot.clashes.iter().any(hurts), knot.clashes.iter().filter_map(at).min()));
    knots
}

fn one(ui: &mut Ui, t: &Tokens, a: &Told, trouble: &[&Clash], brief: bool, actions: &mut Vec<Action>) {
    let entry = Entry { brief, ..of(a, trouble) };
    if list_entry::show(ui, t, &entry) {
        actions.push(Action::Select(entry.spot));
    }
}

/// Clashes that are one trouble as one entry of a list, with all reasons.
pub fn of(a: &Told, trouble: &[&Clash]) -> Entry {
    let half = |clash: &&Clash| wording::under(&clash.name, &a.half_line(clash.reason)).to_owned();
    let place = trouble.iter().find_map(|clash| clash.positions.first());
    Entry {
        name: names(trouble),
        half: trouble.iter().map(half).collect::<Vec<_>>().join("\n"),
        right: String::new(),
        spot: place.cloned().map(Spot::Position),
        mark: Some(Mark::Clash),
        brief: false,
    }
}

/// "Oil pump drive, and timing cover".
pub fn names(trouble: &[&Clash]) -> String {
    let names: Vec<&str> = trouble.iter().map(|clash| clash.name.as_str()).collect();
    wording::sentence(&names.join(", and "))
}
