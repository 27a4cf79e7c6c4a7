//! Dialogs for paths: a field that always works, and the system's file chooser where there is one.

pub mod came_back;
pub mod direction;
pub mod history;
pub mod keys;
pub mod modal;
pub mod naming;
pub mod new_sheet;
pub mod one_way;
pub mod open;
pub mod palette;
pub mod question;

use egui::{Button, Key, Label, RichText, TextEdit, Vec2};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Catalogue, Sheet};

use crate::access::heard;
use crate::app::view::{Action, View};
use crate::app::work::Purpose;
use crate::buying::rows;
use crate::dialogs::modal::over;
use crate::dialogs::open::{Dialog, Why};
use crate::look::text::{named, select_all};
use crate::look::theme::{strong, tokens};
use crate::look::tokens::HEAD;
use crate::printing::form;
use crate::printing::state::Printing;
use crate::wording::count;

/// Draws the dialog that is open.
pub fn show(
    ctx: &egui::Context,
    a: &Assessment,
    sheet: &Sheet,
    catalogue: &Catalogue,
    history: &(Vec<&str>, Vec<&str>),
    view: &mut View,
) -> Vec<Action> {
    let lines = (a.buy.len(), rows(a, &view.buying, &view.find).len());
    match &mut view.dialog {
        None => Vec::new(),
        Some(Dialog::Palette { text, at, fresh }) => {
            palette::palette(ctx, a, sheet, &view.search.found, text, at, fresh)
        }
        Some(Dialog::Path { purpose, text, fresh }) => {
            let (only, printing) = (&mut view.buying.export_shown, &mut view.printing);
            let what = Wanted { purpose: *purpose, lines, only, sheet, measure: view.measure, printing };
            path(ctx, what, text, fresh)
        }
        Some(Dialog::History) => history::show(ctx, history),
        Some(Dialog::Keys) => keys::show(ctx, view.page),
        Some(Dialog::New(new)) => new_sheet::show(ctx, catalogue, new),
        Some(Dialog::Name(naming)) => naming::show(ctx, sheet, naming),
        Some(Dialog::Direction(now)) => direction::show(ctx, sheet, catalogue, now),
        Some(Dialog::CameBack(back)) => came_back::show(ctx, a, sheet, back),
        Some(Dialog::Replace { purpose, path, why }) => replace(ctx, *purpose, path, *why),
    }
}

/// Title, verb and a sentence about it.
fn words(purpose: Purpose) -> (&'static str, &'static str, String) {
    let plain = str::to_owned;
    match purpose {
        Purpose::Open => (
            "Open a sheet",
            "Open",
            plain("Sheets end in .knockon.json, or .json alone. A file can also be dropped on the window."),
        ),
        Purpose::SaveAs => {
            ("Save the sheet", "Save", plain("The version before stays beside it, with .bak added."))
        }
        Purpose::Export => (
            "Export the buy list",
            "Export",
            plain(
                "Comma-separated values for a spreadsheet or a supplier. Lines left out are marked and have no total.",
            ),
        ),
        Purpose::Report => ("Print or save", "Save", String::new()),
        Purpose::Candidate => (
            "Hold another sheet against it",
            "Take in",
            plain(
                "The sheet of another vehicle that is for sale, as it lies on the disk; nothing is written to it.",
            ),
        ),
        Purpose::TakeIn => ("Take a library in", "Look at it", String::new()),
    }
}

/// What a path is asked for, with what is asked besides.
struct Wanted<'a> {
    purpose: Purpose,
    /// Lines of the buy list, and those that are shown.
    lines: (usize, usize),
    /// Only those that are shown.
    only: &'a mut bool,
    sheet: &'a Sheet,
    measure: Measure,
    printing: &'a mut Printing,
}

fn path(ctx: &egui::Context, wanted: Wanted<'_>, text: &mut String, fresh: &mut bool) -> Vec<Action> {
    let mut actions = Vec::new();
    let Wanted { purpose, lines: (all, shown), only: only_shown, sheet, measure, printing } = wanted;
    let mut may = true;
    let (title, verb, about) = words(purpose);
    let modal = over(ctx, "path dialog", title).show(ctx, |ui| {
        ui.set_width(580.0);
        let t = tokens(ui);
        heard::heading(ui, 2, RichText::new(title).font(strong(HEAD)));
        if purpose == Purpose::Report {
            let before = printing.clone();
            may = form::rows(ui, &t, sheet, measure, printing, text);
            // who chose with the pointer goes on with the path
            *fresh |= before != *printing && ui.input(|i| i.pointer.any_released());
        } else {
            ui.add(Label::new(RichText::new(about).color(t.soft)).wrap());
        }
        if purpose == Purpose::Export && shown < all {
            let text = count(shown, "line that is shown", "lines that are shown");
            ui.add_space(4.0);
            ui.horizontal(|ui| {
                for (only, text) in [(false, format!("All {all} lines")), (true, format!("Only the {text}"))]
                {
                    let size = Vec2::new(96.0, 30.0);
                    if ui
                        .add(
                            Button::selectable(*only_shown == only, text)
                                .frame_when_inactive(true)
                                .min_size(size),
                        )
                        .clicked()
                    {
                        *only_shown = only;
                        // the keyboard goes back to the path
                        *fresh = true;
                    }
                }
            });
        }
        ui.add_space(6.0);
        ui.label("Path of the file");
        let field = TextEdit::singleline(text)
            .id(egui::Id::unique("path field"))
            .desired_width(f32::INFINITY)
            .min_size(Vec2::new(0.0, 30.0))
            .align(egui::Align2::LEFT_CENTER);
        let response = named(ui.add(field), "Path of the file");
        if std::mem::take(fresh) {
            response.request_focus();
            select_all(ui, response.id, text);
        }
        let enter = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        ui.add_space(6.0);
        ui.horizontal(|ui| {
            let given = may && !text.trim().is_empty();
            let go = ui.add_enabled(given, Button::new(verb).min_size(Vec2::new(96.0, 30.0)));
            if go.clicked() || enter && given {
                actions.push(Action::Path(purpose, text.trim().to_owned(), false));
            }
            if purpose == Purpose::Report {
                let open = Button::new("Save and open").min_size(Vec2::new(96.0, 30.0));
                let hover = "It is opened in the program that your system has for such files, to look at it and to print it.";
                printing.opens = ui.add_enabled(given, open).on_hover_text(hover).clicked();
                if printing.opens {
                    actions.push(Action::Path(purpose, text.trim().to_owned(), false));
                }
            }
            if ui.add(Button::new("Browse…").min_size(Vec2::new(96.0, 30.0))).clicked() {
                actions.push(Action::Browse(purpose, text.clone()));
            }
            if ui.add(Button::new("Cancel").min_size(Vec2::new(96.0, 30.0))).clicked() {
                actions.push(Action::CloseDialog);
            }
        });
    });
    if modal.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}

fn replace(ctx: &egui::Context, purpose: Purpose, path: &str, why: Why) -> Vec<Action> {
    let mut actions = Vec::new();
    let title = match why {
        Why::Exists => "There is a file of that name",
        Why::Changed => "The file was changed by another program since it was opened",
        Why::Gone => "The file is not there any more",
    };
    let modal = over(ctx, "replace dialog", title).show(ctx, |ui| {
        ui.set_width(480.0);
        heard::heading(ui, 2, RichText::new(title).font(strong(HEAD)));
        let kept =
            if purpose == Purpose::SaveAs { " The old one is kept beside it, with .bak added." } else { "" };
        let (about, verb) = match why {
            Why::Exists | Why::Changed => (format!("{path} would be replaced.{kept}"), "Replace it"),
            Why::Gone => (
                format!(
                    "{path} was there when it was opened. It may have been moved, or its disk or network folder was taken \
                     away and this folder is another one. What you changed is kept."
                ),
                "Save it here anew",
            ),
        };
        ui.add(Label::new(about).wrap());
        ui.add_space(6.0);
        ui.horizontal(|ui| {
            if ui.add(Button::new(verb).min_size(Vec2::new(96.0, 30.0))).clicked() {
                actions.push(Action::Path(purpose, path.to_owned(), true));
            }
            let cancel = ui.add(Button::new("Cancel").min_size(Vec2::new(96.0, 30.0)));
            if cancel.clicked() {
                actions.push(Action::CloseDialog);
            }
        });
    });
    if modal.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}
