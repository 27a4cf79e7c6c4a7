//! Taking a library in: the field for its path, and what it brings once it was looked at.

use egui::{Button, Key, Label, RichText, TextEdit, Ui, Vec2};
use knockon_core::layers::Replaced;
use knockon_core::library::LibraryHead;
use knockon_store::library::{Problem, Weight};

use crate::access::heard;
use crate::app::view::Action;
use crate::app::work::Purpose;
use crate::look::margin;
use crate::look::text::named;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::own_library::Shown;
use crate::own_library::state::{Changes, Looked, OwnLibrary, Seen, Step};
use crate::wording::count;

/// Names told before the rest is counted.
const TOLD: usize = 12;

/// The id of the field.
fn field_id() -> egui::Id {
    egui::Id::unique("path of a library")
}

/// Draws it.
pub fn section(
    ui: &mut Ui,
    t: &Tokens,
    shown: &Shown<'_>,
    state: &mut OwnLibrary,
    actions: &mut Vec<Action>,
) {
    margin::section(ui, t, "Take one in");
    let text = "A vehicle or a family of parts that somebody shares is one file, or a folder of such files. It is looked at \
                first: nothing is written before you say so.";
    soft(ui, t, text);
    ui.add_space(4.0);
    let field = TextEdit::singleline(&mut state.path)
        .id(field_id())
        .desired_width(f32::INFINITY)
        .min_size(Vec2::new(0.0, TARGET))
        .hint_text("mill-van.json, or a folder")
        .align(egui::Align2::LEFT_CENTER);
    let response = named(ui.add(field), "File or folder of a library");
    if std::mem::take(&mut state.focus) {
        response.request_focus();
    }
    let enter = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    if enter {
        // another path can be typed at once
        response.request_focus();
    }
    let given = shown.own.is_some() && !state.path.trim().is_empty();
    ui.horizontal(|ui| {
        let go = ui.add_enabled(given, Button::new("Look at it").min_size(Vec2::new(96.0, TARGET)));
        if go.clicked() || enter && given {
            actions.push(Action::OwnLibrary(Step::Look(state.path.trim().to_owned())));
        }
        if ui.add(Button::new("Browse…").min_size(Vec2::new(96.0, TARGET))).clicked() {
            actions.push(Action::Browse(Purpose::TakeIn, state.path.clone()));
        }
    });
    match &state.looked {
        Looked::Nothing => {}
        Looked::UnderWay(_) => soft(ui, t, "It is being looked at…"),
        Looked::Not(path, why) => not(ui, t, path, why),
        Looked::Seen(seen) => brings(ui, t, seen, actions),
    }
}

fn soft(ui: &mut Ui, t: &Tokens, text: &str) {
    ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
}

fn not(ui: &mut Ui, t: &Tokens, path: &str, why: &str) {
    ui.add_space(6.0);
    margin::bordered(ui, t, |ui| {
        let text = format!("{path} cannot be taken in:");
        ui.add(Label::new(RichText::new(text).font(strong(BODY)).color(t.warm)).wrap());
        for line in why.lines() {
            ui.add(Label::new(RichText::new(line).font(theme::small()).color(t.ink)).wrap());
        }
    });
}

fn brings(ui: &mut Ui, t: &Tokens, seen: &Seen, actions: &mut Vec<Action>) {
    let look = &seen.look;
    ui.add_space(6.0);
    margin::section(ui, t, &format!("What {} brings", seen.from));
    said_of_itself(ui, t, &look.heads);
    listed(ui, t, &count(look.vehicles.len(), "vehicle", "vehicles"), &look.vehicles);
    listed(ui, t, &count(look.parts.len(), "part", "parts"), &look.parts);
    if look.vehicles.is_empty() && look.parts.is_empty() {
        soft(ui, t, "Neither a vehicle nor a part that was not there.");
    }
    let of = |r: &Replaced| format!("{} of {}", r.path, r.file);
    let replaces: Vec<String> = look.replaces.iter().map(of).collect();
    let lead = format!("It counts before {} below it", count(replaces.len(), "entry", "entries"));
    listed(ui, t, &lead, &replaces);
    problems(ui, t, &look.problems);
    in_the_sheet(ui, t, &seen.changes);
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        let may = !look.is_faulty();
        let take = ui.add_enabled(may, Button::new("Take it in").min_size(Vec2::new(96.0, TARGET)));
        if take.on_disabled_hover_text("What is wrong in it is mended first").clicked() {
            actions.push(Action::OwnLibrary(Step::Take));
        }
        if ui.add(Button::new("Leave it").min_size(Vec2::new(96.0, TARGET))).clicked() {
            actions.push(Action::OwnLibrary(Step::Leave));
        }
        let files = count(look.count(), "file", "files");
        soft(ui, t, &format!("{files}, to {}", look.to.display()));
    });
}

/// What its files say it is called, who wrote it and on which terms.
fn said_of_itself(ui: &mut Ui, t: &Tokens, heads: &[LibraryHead]) {
    for head in heads {
        let or =
            |text: &str, none: &str| if text.trim().is_empty() { none.to_owned() } else { text.to_owned() };
        let version = if head.version.is_empty() { String::new() } else { format!(" {}", head.version) };
        margin::fact(ui, t, "Called", &format!("{}{version}", head.name), t.ink);
        margin::fact(ui, t, "Author", &or(&head.author, "nobody says"), t.ink);
        margin::fact(ui, t, "Licence", &or(&head.licence, "nobody says"), t.ink);
    }
    if heads.is_empty() {
        soft(ui, t, "It says neither what it is called nor who wrote it, nor on which terms it may be used.");
    }
}

fn listed(ui: &mut Ui, t: &Tokens, lead: &str, names: &[String]) {
    if names.is_empty() {
        return;
    }
    let told = names.iter().take(TOLD).map(String::as_str).collect::<Vec<_>>().join("; ");
    let more = match names.len().saturating_sub(TOLD) {
        0 => String::new(),
        n => format!("; and {n} more"),
    };
    ui.add(Label::new(RichText::new(format!("{lead}: {told}{more}")).color(t.ink)).wrap());
}

/// What would be wrong: each with file, line and path.
pub fn problems(ui: &mut Ui, t: &Tokens, problems: &[Problem]) {
    let faults = problems.iter().filter(|problem| problem.weight != Weight::Warning);
    let faults: Vec<&Problem> = faults.collect();
    if faults.iter().any(|problem| problem.weight == Weight::Fault) {
        ui.add_space(4.0);
        margin::bordered(ui, t, |ui| {
            let text = format!("What is wrong: {}", count(faults.len(), "thing", "things"));
            ui.add(Label::new(RichText::new(text).font(strong(BODY)).color(t.warm)).wrap());
            for problem in faults.iter().take(TOLD) {
                ui.add(Label::new(RichText::new(&problem.text).font(theme::small()).color(t.ink)).wrap());
            }
            if let more @ 1.. = faults.len().saturating_sub(TOLD) {
                soft(ui, t, &format!("and {more} more"));
            }
        });
    }
    for problem in problems.iter().filter(|problem| problem.weight == Weight::Warning).take(TOLD) {
        soft(ui, t, &format!("Worth mending: {}", problem.text));
    }
}

/// What is changed in the sheet that is open.
pub fn in_the_sheet(ui: &mut Ui, t: &Tokens, changes: &Changes) {
    ui.add_space(4.0);
    if changes.is_empty() {
        soft(ui, t, "In the sheet that is open nothing changes.");
        return;
    }
    let lead = RichText::new("In the sheet that is open").font(strong(BODY));
    heard::heading(ui, 4, lead);
    for (plan, told) in changes {
        ui.add(Label::new(RichText::new(format!("Plan: {plan}")).color(t.ink)).wrap());
        ui.indent(("changes of", plan), |ui| {
            for told in told.iter().take(TOLD) {
                ui.add(Label::new(RichText::new(told).font(theme::small()).color(t.ink)).wrap());
            }
            if let more @ 1.. = told.len().saturating_sub(TOLD) {
                soft(ui, t, &format!("and {more} more"));
            }
        });
    }
}
