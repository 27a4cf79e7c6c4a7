//! Dialogs for paths: a field that always works, and the system's file chooser where there is one.

pub mod came_back;
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
            path(ctx, *purpose, lines, &mut view.buying.export_shown, text, fresh)
        }
        Some(Dialog::History) => history::show(ctx, history),
        Some(Dialog::Keys) => keys::show(ctx, view.page),
        Some(Dialog::New(new)) => new_sheet::show(ctx, catalogue, new),
        Some(Dialog::Name(naming)) => naming::show(ctx, sheet, naming),
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
    }
}

fn path(
    ctx: &egui::Context,
    purpose: Purpose,
    (all, shown): (usize, usize),
    only_shown: &mut bool,
    text: &mut String,
    fresh: &mut bool,
) -> Vec<Action> {
    let mut actions = Vec::new();
    let (title, verb, about) = words(purpose);
    let modal = over(ctx, "path dialog", title).show(ctx, |ui| {
        ui.set_width(580.0);
        let t = tokens(ui);
        heard::heading(ui, 2, RichText::new(title).font(strong(HEAD)));
        ui.add(Label::new(RichText::new(about).color(t.soft)).wrap());
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
            let given = !text.trim().is_empty();
            let go = ui.add_enabled(given, Button::new(verb).min_size(Vec2::new(96.0, 30.0)));
            if go.clicked() || enter && given {
                actions.push(Action::Path(purpose, text.trim().to_owned(), false));
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
