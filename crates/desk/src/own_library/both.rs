//! What the owner's library and one below it both have: each with what differs, and keep mine, take theirs, both.

use egui::accesskit::Role;
use egui::{Align, Button, Frame, Label, Layout, Margin, RichText, Stroke, Ui, Vec2, WidgetInfo};
use knockon_store::meeting::{Both, Way};

use crate::access::heard;
use crate::app::view::Action;
use crate::look::margin;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{SMALL, TARGET, Tokens};
use crate::own_library::Shown;
use crate::own_library::state::{Outcome, OwnLibrary, Step};
use crate::own_library::taking::{in_the_sheet, problems};
use crate::wording::count;

/// Differences told before the rest is counted.
const TOLD: usize = 16;

/// What would come of a way, where it may be taken.
pub fn may(state: &OwnLibrary, way: Way) -> Option<&Outcome> {
    let outcome = state.outcomes()?.of(way)?.as_ref().ok()?;
    (!outcome.would.is_faulty()).then_some(outcome)
}

/// Draws it.
pub fn section(ui: &mut Ui, t: &Tokens, shown: &Shown<'_>, state: &OwnLibrary, actions: &mut Vec<Action>) {
    margin::section(ui, t, "In your library and in one below it");
    let soft = |ui: &mut Ui, text: &str| {
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    };
    let Some(all) = &state.both else {
        soft(ui, "The libraries are held against each other…");
        return;
    };
    let is_kept = |both: &&Both| shown.kept.get(&both.path) == Some(&both.mark);
    let (kept, open): (Vec<&Both>, Vec<&Both>) = all.iter().partition(is_kept);
    if all.is_empty() {
        soft(
            ui,
            "Nothing stands in both. Where an update brings what you have written yourself, it is decided here: yours counts \
             until then.",
        );
    } else {
        let told = format!(
            "{} to decide, {} kept as you have it. Yours counts until you decide.",
            open.len(),
            kept.len()
        );
        soft(ui, &told);
    }
    ui.add_space(4.0);
    for (all, is_kept) in [(open, false), (kept, true)] {
        for both in all {
            row(ui, t, both, is_kept, state, actions);
        }
    }
    if let Some((name, _)) = state.done.last() {
        ui.add_space(8.0);
        let button =
            Button::new(format!("Take the last back: {name}")).min_size(Vec2::new(0.0, TARGET)).wrap();
        if ui.add(button).clicked() {
            actions.push(Action::OwnLibrary(Step::Back));
        }
    }
}

fn row(ui: &mut Ui, t: &Tokens, both: &Both, is_kept: bool, state: &OwnLibrary, actions: &mut Vec<Action>) {
    let is_open = state.at.as_ref() == Some(&both.path);
    let differs = match both.differs.len() {
        0 => "the same in both".to_owned(),
        n => count(n, "difference", "differences"),
    };
    let right =
        if is_kept { format!("{}, yours is kept", both.kind) } else { format!("{}, {differs}", both.kind) };
    ui.push_id(("both", &both.path), |ui| {
        let button = Button::selectable(is_open, both.name.as_str())
            .right_text(RichText::new(&right).font(theme::small()).color(t.soft))
            .truncate()
            .min_size(Vec2::new(ui.available_width(), TARGET));
        let response = ui.add(button);
        response.widget_info(|| {
            WidgetInfo::selected(Role::Button, true, is_open, format!("{}, {right}", both.name))
        });
        heard::unfolds(&response, is_open);
        if response.clicked() {
            actions.push(Action::OwnLibrary(Step::Show((!is_open).then(|| both.path.clone()))));
        }
        if is_open {
            let frame = Frame::new().stroke(Stroke::new(1.0, t.line)).corner_radius(4);
            frame.inner_margin(Margin::symmetric(10, 6)).show(ui, |ui| {
                ui.set_width(ui.available_width());
                detail(ui, t, both, is_kept, state, actions);
            });
        }
    });
}

fn detail(
    ui: &mut Ui,
    t: &Tokens,
    both: &Both,
    is_kept: bool,
    state: &OwnLibrary,
    actions: &mut Vec<Action>,
) {
    margin::fact(ui, t, "Id", &both.path, t.soft);
    margin::fact(ui, t, "Yours in", &both.mine.display().to_string(), t.soft);
    margin::fact(ui, t, "Theirs in", &both.theirs, t.soft);
    ui.add_space(4.0);
    differences(ui, t, both);
    ui.add_space(6.0);
    if is_kept {
        act(ui, true, "1", "Decide it again", both, || actions.push(Action::OwnLibrary(Step::Ask)));
    } else {
        act(ui, true, "1", "Keep mine", both, || actions.push(Action::OwnLibrary(Step::Keep)));
    }
    for (way, key, verb) in [(Way::Theirs, "2", "Take theirs"), (Way::Both, "3", "Both")] {
        ui.add_space(4.0);
        let can = may(state, way).is_some();
        let shown = match (&both.beside, way) {
            (Some(beside), Way::Both) => format!("Both, mine as {beside}"),
            _ => verb.to_owned(),
        };
        act(ui, can, key, &shown, both, || actions.push(Action::OwnLibrary(Step::Decide(way))));
        comes_of_it(ui, t, both, state, way);
    }
}

/// A button with its key before it.
fn act(ui: &mut Ui, can: bool, key: &str, verb: &str, both: &Both, then: impl FnOnce()) {
    let button = Button::new(format!("{key}   {verb}")).min_size(Vec2::new(180.0, TARGET));
    let response = ui.add_enabled(can, button);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, can, format!("{verb}: {}", both.name)));
    if response.clicked() {
        then();
    }
}

/// What would come of a way, or why it cannot be.
fn comes_of_it(ui: &mut Ui, t: &Tokens, both: &Both, state: &OwnLibrary, way: Way) {
    let soft = |ui: &mut Ui, text: &str| {
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    };
    if way == Way::Both && both.beside.is_none() {
        soft(ui, &format!("Of a {} there can be only one; a part can stand beside another.", both.kind));
        return;
    }
    let Some(outcomes) = state.outcomes() else {
        soft(ui, "What comes of it is being worked out…");
        return;
    };
    match outcomes.of(way) {
        Some(Ok(outcome)) => {
            problems(ui, t, &outcome.would.problems);
            if way == Way::Both {
                soft(ui, "Where a sheet has the id, it means theirs from then on.");
            }
            ui.push_id(("comes of", way == Way::Both), |ui| in_the_sheet(ui, t, &outcome.changes));
        }
        Some(Err(why)) => {
            ui.add(Label::new(RichText::new(why).font(theme::small()).color(t.warm)).wrap());
        }
        None => {}
    }
}

/// Beside each other: what it is, as the owner has it, as the other has it.
fn differences(ui: &mut Ui, t: &Tokens, both: &Both) {
    if both.differs.is_empty() {
        ui.label("Both say the same: yours can go.");
        return;
    }
    let width = (ui.available_width() - 16.0) / 3.0;
    let line = |ui: &mut Ui, cells: [RichText; 3]| {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = 8.0;
            for text in cells {
                ui.allocate_ui_with_layout(Vec2::new(width, 16.0), Layout::top_down(Align::LEFT), |ui| {
                    ui.set_width(width);
                    ui.add(Label::new(text).wrap());
                });
            }
        });
    };
    let head = |text: &str| RichText::new(text).font(strong(SMALL)).color(t.ink);
    line(ui, [head(""), head("Yours"), head("Theirs")]);
    for d in both.differs.iter().take(TOLD) {
        let cell = |text: &str, tone| RichText::new(text).font(theme::small()).color(tone);
        line(ui, [cell(&d.what, t.soft), cell(&d.mine, t.ink), cell(&d.theirs, t.ink)]);
    }
    if let more @ 1.. = both.differs.len().saturating_sub(TOLD) {
        ui.label(RichText::new(format!("and {more} more")).font(theme::small()).color(t.soft));
    }
}
