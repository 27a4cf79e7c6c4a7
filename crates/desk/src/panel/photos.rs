//! The photos of a position: shown small, and looked at with the system's viewer.

use std::path::{Path, PathBuf};

use egui::accesskit::Role;
use egui::{Button, Label, RichText, TextEdit, Ui, Vec2, WidgetInfo};
use knockon_core::Sheet;
use knockon_core::assessment::PositionView;

use crate::app::view::{Action, Field, View};
use crate::document::photo_paths::Step;
use crate::look::fold::{Fold, Sign};
use crate::look::text::named;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};

/// Draws the photos of a position.
pub fn list(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    p: &PositionView,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let n = sheet.photos.get(&p.id).map_or(0, Vec::len);
    let right = if n == 0 { String::new() } else { n.to_string() };
    // open where there is something to see, or a path is being typed
    let typing = matches!(&view.photo, Some((id, _)) if *id == p.id);
    let wanted = view.takes(Field::Photo);
    let open = n > 0 || typing || wanted;
    let line = Fold { sign: Sign::None, text: "Photos", half: "", right: &right, warm: false, open };
    if !line.show(ui, t, ("photos", &p.id)) && !wanted {
        return;
    }
    if wanted && !typing {
        // the line stays open while its field has the keyboard
        view.photo = Some((p.id.clone(), String::new()));
    }
    // above the list: what is added does not push the field away from the pointer
    add(ui, p, wanted, view, actions);
    let text = "Only the path is kept. Pictures can also be dropped on the window.";
    ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    for (i, path) in sheet.photos.get(&p.id).into_iter().flatten().enumerate() {
        let name =
            Path::new(path).file_name().map_or_else(|| path.clone(), |n| n.to_string_lossy().into_owned());
        let gone = view.details.missing.contains(path);
        let label = if gone { format!("Missing photo {name}") } else { format!("Open photo {name}") };
        ui.horizontal_top(|ui| {
            if !gone {
                let (small, wanted) = view.small.show(ui, t, path, &format!("Photo {name}, small"));
                if wanted {
                    actions.push(Action::Photos(Step::Small(path.clone())));
                }
                if small.clicked() {
                    actions.push(Action::Photos(Step::Open(path.clone())));
                }
            }
            ui.vertical(|ui| {
                let (word, tone) = if gone { ("missing", t.warm) } else { ("open", t.soft) };
                let word = RichText::new(word).font(theme::small()).color(tone);
                let size = Vec2::new(ui.available_width().min(360.0), TARGET);
                let open = ui.add(Button::new(&name).truncate().right_text(word).min_size(size));
                open.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
                if open.on_hover_text(format!("Open {path}")).clicked() {
                    actions.push(Action::Photos(Step::Open(path.clone())));
                }
                let remove = ui.add(Button::new("Take off").min_size(Vec2::new(0.0, TARGET)));
                let label = format!("Take photo {name} off");
                remove.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
                if remove.clicked() {
                    actions.push(Action::Photos(Step::Remove(p.id.clone(), i)));
                }
            });
        });
        if gone {
            let text = format!("Missing: there is no file {path}. Take it off and add it where it is now.");
            ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.warm)).wrap());
        }
    }
}

fn add(ui: &mut Ui, p: &PositionView, wanted: bool, view: &mut View, actions: &mut Vec<Action>) {
    let mut text = match &view.photo {
        Some((id, text)) if *id == p.id => text.clone(),
        _ => String::new(),
    };
    ui.horizontal(|ui| {
        let field = TextEdit::singleline(&mut text)
            .id_salt(("photo", &p.id))
            .desired_width((ui.available_width() - 150.0).max(80.0))
            .min_size(Vec2::new(0.0, TARGET))
            .align(egui::Align2::LEFT_CENTER)
            .hint_text("Path of a photo");
        let response = named(ui.add(field), &format!("Path of a photo of {}", p.name));
        if wanted {
            response.request_focus();
        }
        if response.changed() {
            view.photo = Some((p.id.clone(), text.clone()));
        }
        let enter = response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
        let given = !text.trim().is_empty();
        let button = ui.add_enabled(given, Button::new("Add").min_size(Vec2::new(0.0, TARGET)));
        button
            .widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Button, given, "Add the photo"));
        if button.clicked() || enter && given {
            actions.push(Action::Photos(Step::Add(p.id.clone(), PathBuf::from(text.trim()))));
        }
        let browse = ui.add(Button::new("Browse…").min_size(Vec2::new(0.0, TARGET)));
        browse.widget_info(|| {
            egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, "Browse for a photo…")
        });
        if browse.clicked() {
            actions.push(Action::Photos(Step::Browse(p.id.clone())));
        }
    });
}
