//! The keys of the view that is shown, and those that work everywhere.

use egui::{Align, Button, Grid, Label, Layout, RichText, ScrollArea, Ui, Vec2};

use crate::access::heard;
use crate::app::commands::Command;
use crate::app::view::{Action, Page};
use crate::dialogs::modal::over;
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, HEAD, Tokens};

/// Keys that are no commands, wherever one is.
const EVERYWHERE: [(&str, &str); 8] = [
    ("Tab, Shift+Tab", "To the next control, or the one before; a list is one stop"),
    ("F6, Shift+F6", "To the next part of the window: bar, what to do next, page, panel, figures"),
    ("Enter or Space", "Press what has the keyboard"),
    ("Esc", "Out: of a field, a list, the panel, what is selected"),
    ("Menu or Shift+F10", "The menu of what has the keyboard"),
    ("Arrows, Home, End, Page up and down", "Through a list"),
    ("/", "Find"),
    ("?", "This list"),
];

/// Keys of a page that are no commands.
fn of(page: Page) -> &'static [(&'static str, &'static str)] {
    match page {
        Page::Start => &[("1 to 9", "Look at this plan of the example")],
        Page::Board => &[
            ("Arrows", "From row to row and from column to column"),
            ("Enter", "Open the row; once more leads into the panel, Esc back to the row"),
            ("1 to 9", "Choose the route of this number, from a row or from the routes"),
            ("Space", "Accept the companion, or take the yes back"),
            ("B, O, H, F", "Its line is to buy, on order, in hand, fitted"),
            ("J, K", "To the next thing that is unresolved, or the one before"),
        ],
        Page::Buying => &[
            ("Up and down", "From line to line, in the column where you are"),
            ("Left and right", "Along a line: name, price, supplier, state"),
            ("Space", "Choose the line, or not"),
            ("Shift with up and down", "Choose several"),
            ("Ctrl+A", "Choose all that are shown"),
            ("B, O, H, F", "Those chosen are to buy, on order, in hand, fitted"),
        ],
        Page::Jobs => &[
            ("B", "The job that is open, or the next, fills the window; Esc leads back"),
            ("N, D, T", "At the bench: the next job, done or not done, start or stop the clock"),
        ],
        Page::Survey => &[
            ("Up and down", "From reading to reading"),
            ("Enter", "Store what was read, and to the next"),
            ("F2", "Take the route that is proposed"),
        ],
        Page::Library => &[
            ("Up and down, Page up and down", "Through the parts, also from the field"),
            ("Enter", "To the place of the part that is open"),
        ],
        Page::OwnLibrary => &[
            ("Enter", "In the field: look at what lies there"),
            ("1, 2, 3", "Of the open entry: keep mine, take theirs, both"),
        ],
        Page::How => &[("Arrows, Space, Home, End, Page up and down", "Through the text")],
        Page::Money => &[
            ("Up and down", "Through the systems, or the lines of a supplier"),
            ("Enter", "To the system on the board, or to the line in Buying"),
        ],
        Page::Plans => &[
            ("1 to 3", "Stand on this plan"),
            ("Up and down", "From cause to cause"),
            ("Enter", "To the place on the board"),
        ],
        Page::FitUp | Page::Parts | Page::Vehicle => &[],
    }
}

/// Draws the dialog.
pub fn show(ctx: &egui::Context, page: Page) -> Vec<Action> {
    let mut actions = Vec::new();
    let title = format!("Keys of this view: {}", page.name());
    let modal = over(ctx, "keys", &title).show(ctx, |ui| {
        ui.set_width(620.0_f32.min(ctx.content_rect().width() - 60.0));
        let t = tokens(ui);
        heard::heading(ui, 2, RichText::new(&title).font(strong(HEAD)));
        let tall = (ctx.content_rect().height() - 150.0).max(80.0);
        let area = ScrollArea::vertical().max_height(tall).auto_shrink([false, true]);
        area.show(ui, |ui| {
            part(ui, &t, "Here", of(page).iter().map(|(keys, what)| ((*keys).to_owned(), *what)));
            part(ui, &t, "Everywhere", EVERYWHERE.iter().map(|(keys, what)| ((*keys).to_owned(), *what)));
            let commands = Command::ALL.into_iter().map(|command| (command.keys(ctx), command.label()));
            part(ui, &t, "Commands", commands.filter(|(keys, _)| !keys.is_empty()));
        });
        ui.add_space(6.0);
        let close = ui.add(Button::new("Close").min_size(Vec2::new(96.0, 30.0)));
        // the keyboard is in the dialog from the first
        if ui.memory(|m| m.focused().is_none()) {
            close.request_focus();
        }
        if close.clicked() {
            actions.push(Action::CloseDialog);
        }
    });
    if modal.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}

fn part<'a>(ui: &mut Ui, t: &Tokens, title: &str, all: impl Iterator<Item = (String, &'a str)>) {
    let mut all = all.peekable();
    if all.peek().is_none() {
        return;
    }
    ui.add_space(6.0);
    heard::heading(ui, 3, RichText::new(title).font(strong(BODY)));
    Grid::new(title).num_columns(2).spacing([14.0, 2.0]).min_row_height(20.0).show(ui, |ui| {
        for (keys, what) in all {
            let text = RichText::new(keys).font(theme::small()).color(t.soft);
            ui.allocate_ui_with_layout(Vec2::new(200.0, 18.0), Layout::left_to_right(Align::Center), |ui| {
                ui.set_min_width(200.0);
                ui.add(Label::new(text).wrap());
            });
            ui.add(Label::new(RichText::new(what).font(theme::small())).wrap());
            ui.end_row();
        }
    });
}
