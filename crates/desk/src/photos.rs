//! Photos of a position, by path: the pictures stay where they are and are looked at with the system's viewer.

use std::path::{Path, PathBuf};

use egui::{Align, Button, Label, Layout, RichText, TextEdit, Ui, Vec2};
use knockon_core::assessment::PositionView;
use knockon_core::{Edit, Sheet};

use crate::app::App;
use crate::position::section;
use crate::text::named;
use crate::theme;
use crate::tokens::{TARGET, Tokens};
use crate::view::{Action, View};
use crate::viewer;
use crate::work::{Done, pick_picture};

/// What is asked of the photos.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// Name one more: position and path.
    Add(String, PathBuf),
    /// Take one off: position and place in the list.
    Remove(String, usize),
    /// Look at one: its path as it stands in the sheet.
    Open(String),
    /// Find one with the file chooser, for a position.
    Browse(String),
}

/// Endings of pictures.
pub const PICTURES: [&str; 10] = ["jpg", "jpeg", "png", "webp", "gif", "heic", "tif", "tiff", "bmp", "avif"];

/// Whether a file is a picture by its ending; nothing else is handed to a viewer.
pub fn is_picture(path: &Path) -> bool {
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
    ending.is_some_and(|e| PICTURES.contains(&e.as_str()))
}

/// A path as the sheet keeps it: relative where it lies in the folder of the sheet, so that both can move together.
/// A sheet without a file has no folder yet: the whole path is kept.
fn kept(path: &Path, sheet: Option<&Path>) -> String {
    let Some(sheet) = sheet else { return whole(path).display().to_string() };
    let folder = whole(sheet).parent().map(Path::to_owned);
    let inside = folder.as_deref().and_then(|f| path.strip_prefix(f).ok());
    inside.filter(|p| !p.as_os_str().is_empty()).unwrap_or(path).display().to_string()
}

/// The path from the root on; as it stands where the system cannot say.
fn whole(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}

/// A photo of a sheet that goes from one file to another: kept so that it leads to the same picture.
pub fn moved(text: &str, from: Option<&Path>, to: &Path) -> String {
    kept(&whole(&found(text, from)), Some(to))
}

/// All photos of a sheet that goes from one file to another.
pub fn all_moved(sheet: &Sheet, from: Option<&Path>, to: &Path) -> Sheet {
    let mut sheet = sheet.clone();
    for text in sheet.photos.values_mut().flatten() {
        *text = moved(text, from, to);
    }
    sheet
}

/// Where a photo lies.
fn found(text: &str, sheet: Option<&Path>) -> PathBuf {
    match sheet.and_then(Path::parent) {
        Some(folder) => folder.join(text),
        None => PathBuf::from(text),
    }
}

impl App {
    /// Does what was asked of the photos.
    pub(crate) fn photos(&mut self, step: Step) {
        match step {
            Step::Add(position, path) => self.add_photos(&position, &[path]),
            Step::Remove(position, at) => {
                let mut paths = self.document.sheet().photos.get(&position).cloned().unwrap_or_default();
                if at < paths.len() {
                    paths.remove(at);
                    self.edit(&[Edit::Photos { position, paths }]);
                }
            }
            Step::Open(text) => {
                let path = found(&text, self.document.path.as_deref());
                let command = self.config.viewer.clone();
                self.work.start(move || Done::Viewed(viewer::show(&path, command.as_deref()).err()));
            }
            Step::Browse(position) => {
                let near = self.document.path.clone();
                self.work.start(move || pick_picture(position, near));
            }
        }
    }

    /// Names photos of a position, as one step; what is no picture or is named already is told.
    pub(crate) fn add_photos(&mut self, position: &str, new: &[PathBuf]) {
        let sheet_file = self.document.path.as_deref();
        let mut paths = self.document.sheet().photos.get(position).cloned().unwrap_or_default();
        let (before, mut refused) = (paths.len(), Vec::new());
        for path in new {
            let text = kept(path, sheet_file);
            if !is_picture(path) {
                refused.push(format!("{text} does not end like a picture (.jpg, .png, .webp, …)"));
            } else if paths.contains(&text) {
                refused.push(format!("{text} is named here already"));
            } else {
                paths.push(text);
            }
        }
        if paths.len() > before {
            self.edit(&[Edit::Photos { position: position.to_owned(), paths }]);
            self.view.photo = None;
        }
        if !refused.is_empty() {
            self.trouble(format!("{}.", refused.join("; ")));
        }
    }
}

/// Draws the photos of a position.
pub fn list(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    p: &PositionView,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    section(ui, t, "Photos");
    for (i, path) in sheet.photos.get(&p.id).into_iter().flatten().enumerate() {
        let name =
            Path::new(path).file_name().map_or_else(|| path.clone(), |n| n.to_string_lossy().into_owned());
        ui.horizontal(|ui| {
            let off = "Take off";
            let room = ui.available_width() - 90.0;
            let size = Vec2::new(room.max(80.0), TARGET);
            let open = ui
                .allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
                    let word = RichText::new("open").font(theme::small()).color(t.soft);
                    ui.add(Button::new(&name).truncate().right_text(word).min_size(size))
                })
                .inner;
            open.widget_info(|| {
                egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, format!("Open photo {name}"))
            });
            if open.on_hover_text(format!("Open {path}")).clicked() {
                actions.push(Action::Photos(Step::Open(path.clone())));
            }
            let remove = ui.add(Button::new(off).min_size(Vec2::new(0.0, TARGET)));
            remove.widget_info(|| {
                egui::WidgetInfo::labeled(
                    egui::accesskit::Role::Button,
                    true,
                    format!("Take photo {name} off"),
                )
            });
            if remove.clicked() {
                actions.push(Action::Photos(Step::Remove(p.id.clone(), i)));
            }
        });
    }
    add(ui, p, view, actions);
    let text = "Only the path is kept. Pictures can also be dropped on the window.";
    ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
}

fn add(ui: &mut Ui, p: &PositionView, view: &mut View, actions: &mut Vec<Action>) {
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

#[cfg(test)]
mod tests {
    use super::{found, is_picture, kept, moved};
    use std::path::Path;

    #[test]
    fn a_photo_in_the_folder_of_the_sheet_moves_with_it() {
        let sheet = Some(Path::new("/home/me/truck/truck.json"));
        assert_eq!(kept(Path::new("/home/me/truck/photos/a.jpg"), sheet), "photos/a.jpg");
        assert_eq!(kept(Path::new("/mnt/card/a.jpg"), sheet), "/mnt/card/a.jpg");
        assert_eq!(kept(Path::new("/mnt/card/a.jpg"), None), "/mnt/card/a.jpg");
        let moved = Some(Path::new("/home/you/truck.json"));
        assert_eq!(found("photos/a.jpg", moved), Path::new("/home/you/photos/a.jpg"));
        assert_eq!(found("/mnt/card/a.jpg", moved), Path::new("/mnt/card/a.jpg"));
    }

    #[test]
    fn a_sheet_saved_elsewhere_keeps_the_way_to_its_photos() {
        let from = Some(Path::new("/home/me/truck/truck.json"));
        let to = |path: &'static str, text: &str| moved(text, from, Path::new(path));
        assert_eq!(to("/mnt/stick/truck.json", "photos/a.jpg"), "/home/me/truck/photos/a.jpg");
        assert_eq!(to("/home/me/truck/second.json", "photos/a.jpg"), "photos/a.jpg");
        assert_eq!(to("/home/me/all.json", "photos/a.jpg"), "truck/photos/a.jpg");
        assert_eq!(to("/mnt/stick/truck.json", "/mnt/stick/b.jpg"), "b.jpg");
        assert_eq!(to("/home/truck.json", "/elsewhere/b.jpg"), "/elsewhere/b.jpg");
        // no file yet
        assert_eq!(moved("/home/me/a.jpg", None, Path::new("/home/me/truck.json")), "a.jpg");
    }

    #[test]
    fn pictures_are_known_by_their_ending() {
        assert!(is_picture(Path::new("a.JPG")) && is_picture(Path::new("b.webp")));
        assert!(!is_picture(Path::new("truck.json")) && !is_picture(Path::new("run.sh")));
    }
}
