//! Sets of changes that clear clashes together, as rows to take: in the panel of a place and in the list of what does not
//! fit.

use egui::accesskit::Role;
use egui::{Label, RichText, Ui};
use knockon_core::assessment::{Assessment, Clash};

use crate::app::commands::Command;
use crate::app::view::{Action, Spot, View};
use crate::cures::set::{Found, Knot, Set};
use crate::cures::told::{becomes, changed, figures, given_up, given_up_in_short, headline, then};
use crate::dialogs::one_way::{OneWay, Place};
use crate::dialogs::question;
use crate::look::choice_row;
use crate::look::choice_row::Lead;
use crate::look::fold;
use crate::look::theme;
use crate::look::tokens::Tokens;
use crate::wording;

/// Seconds in which a click is not meant for a row that has only just come under the pointer.
const UNSEEN: f64 = 0.3;

/// From here on the figures of a set stand at the right of its name.
const WIDE: f32 = 560.0;

/// What is said while it is worked out.
pub const WORKING: &str = "Working out what clears it together…";
/// What is said where it cannot be.
pub const STOPPED: &str = "What clears it together was not worked out: stopped";
/// The same.
pub const FAILED: &str = "What clears it together cannot be worked out";

/// The clashes with a card at a place, in their order: those that show there, then those it has a part in.
pub fn at<'a>(a: &'a Assessment, position: &str) -> Vec<&'a Clash> {
    let here = a.positions.iter().find(|p| p.id == position);
    let shows = |c: &&Clash| here.is_some_and(|p| p.clashes.contains(&c.key));
    let involved = |c: &&Clash| c.positions.iter().any(|id| id == position) && !shows(c);
    a.clashes.iter().filter(shows).chain(a.clashes.iter().filter(involved)).collect()
}

/// The knot whose sets have keys while a spot is selected: the first told there.
pub fn with_keys<'f>(a: &Assessment, selected: Option<&Spot>, found: &'f Found) -> Option<&'f Knot> {
    let Some(Spot::Position(id)) = selected else { return None };
    let mut knots = at(a, id).into_iter().filter_map(|clash| found.knot(&clash.key));
    knots.find(|knot| !knot.sets.is_empty())
}

/// Where rows are drawn, and of what.
pub struct Rows<'a> {
    /// Colours.
    pub t: &'a Tokens,
    /// The plan as it stands.
    pub a: &'a Assessment,
    /// A question about a row is asked here.
    pub place: Place,
}

impl Rows<'_> {
    /// The rows, the best first; the keys are those of the first of them.
    pub fn all(
        &self,
        ui: &mut Ui,
        sets: &[Set],
        keys: &[Command],
        view: &mut View,
        actions: &mut Vec<Action>,
    ) {
        for (i, set) in sets.iter().enumerate() {
            let keys = keys.get(i).map(|command| command.keys(ui.ctx()));
            self.row(ui, set, keys.as_deref(), i > 0, view, actions);
        }
    }

    /// The best, and the others behind a fold.
    pub fn best(
        &self,
        ui: &mut Ui,
        sets: &[Set],
        keys: &[Command],
        salt: &str,
        view: &mut View,
        actions: &mut Vec<Action>,
    ) {
        let Some((best, others)) = sets.split_first() else { return };
        self.all(ui, std::slice::from_ref(best), keys, view, actions);
        if !others.is_empty() {
            let title = wording::count(others.len(), "other way", "other ways");
            fold::behind(ui, self.t, &title, ("other ways", salt), |ui| {
                self.all(ui, others, &[], view, actions);
            });
        }
    }

    /// `brief`: where there is room for it, one line that tells the rest under the pointer.
    fn row(
        &self,
        ui: &mut Ui,
        set: &Set,
        keys: Option<&str>,
        brief: bool,
        view: &mut View,
        actions: &mut Vec<Action>,
    ) {
        let (t, now) = (self.t, self.a.clashes.len());
        let one = set.changes.len() == 1;
        let name = match set.changes.first() {
            Some(change) if one => changed(change, false),
            _ => wording::sentence(&headline(set)),
        };
        let wide = ui.available_width() >= WIDE;
        let mut lines = Vec::new();
        if !one && wide {
            let all: Vec<String> = set.changes.iter().map(becomes).collect();
            lines.push((all.join(" · "), t.soft));
        } else if !one {
            lines.extend(set.changes.iter().map(|change| (becomes(change), t.ink)));
        } else if set.of > 1 {
            lines.push((wording::sentence(&headline(set)), t.soft));
        }
        let told = format!("{} · {}", figures(set), then(set, now));
        if !wide {
            lines.push((told.clone(), t.soft));
        }
        if !set.new.is_empty() {
            lines.push((format!("New: {}", set.new.join(", ")), t.warm));
        }
        lines.push((wording::sentence(&given_up(set)), t.warm));
        lines.push((wording::lost(&set.change), t.warm));
        let lead = keys.map_or(Lead::Do, Lead::Keys);
        let right = if wide { told.as_str() } else { "" };
        let response = if brief && wide && !one {
            let gone = given_up_in_short(set).map(|gone| format!(" · {gone}")).unwrap_or_default();
            let response =
                choice_row::with_right(ui, t, lead, &format!("{name}: {}{gone}", places(set)), right, &[]);
            let rest = lines.iter().map(|(text, _)| text.as_str()).filter(|text| !text.is_empty());
            let label = [name.as_str(), right].into_iter().chain(rest).collect::<Vec<_>>().join(", ");
            response.widget_info(|| egui::WidgetInfo::labeled(Role::Button, true, &label));
            response
        } else {
            choice_row::with_right(ui, t, lead, &name, right, &lines)
        };
        let now = ui.input(|i| i.time);
        let since = *view.clearing_since.get_or_insert(now);
        if choice_row::taken(&response) && now - since > UNSEEN {
            actions.push(Action::Clear(set.choices.clone(), self.place));
        }
        response.on_hover_ui(|ui| hover(ui, set));
        let asked = view.ask.as_ref().map(|ask| &ask.step);
        if matches!(asked, Some(OneWay::Together(choices, at)) if *at == self.place && *choices == set.choices)
        {
            question::question(ui, t, view, actions);
        }
    }
}

/// What is said behind the rows where not every way was tried.
pub fn cut_off(ui: &mut Ui, t: &Tokens, found: &Found) {
    if !found.proved {
        quiet(ui, t, "Not every way was tried: these are the best that were found.");
    }
}

/// A line that asks for nothing.
pub fn quiet(ui: &mut Ui, t: &Tokens, text: &str) {
    ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
}

/// The places that change, by name.
fn places(set: &Set) -> String {
    set.changes.iter().map(|change| change.place.as_str()).collect::<Vec<_>>().join(", ")
}

/// The changes with the names as they are written.
pub fn hover(ui: &mut Ui, set: &Set) {
    for change in &set.changes {
        ui.add(Label::new(changed(change, true)).wrap());
    }
    for line in &set.change.idle {
        ui.label(format!("Lies idle afterwards: {}", wording::idle(line)));
    }
}
