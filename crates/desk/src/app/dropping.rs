//! Files dropped on the window: pictures go to the selected position, anything else is opened as a sheet.

use std::path::{Path, PathBuf};

use egui::{Context, Ui};
use knockon_core::Assessment;

use crate::app::App;
use crate::app::view::{Spot, View};
use crate::app::viewer::is_picture;
use crate::look::theme;
use crate::look::theme::strong;
use crate::wording;

/// What was dropped in this frame.
pub fn paths(ctx: &Context) -> Vec<PathBuf> {
    ctx.input(|i| {
        let paths = i.raw.dropped_files.iter().map(|f| f.path().to_owned());
        paths.filter(|p| !p.as_os_str().is_empty()).collect()
    })
}

impl App {
    /// Files dropped on the window: pictures go to the selected position, anything else is opened as a sheet.
    pub(crate) fn dropped(&mut self, paths: Vec<PathBuf>) {
        let (pictures, others): (Vec<PathBuf>, Vec<PathBuf>) = paths.into_iter().partition(|p| is_picture(p));
        if !pictures.is_empty() {
            match self.view.selected.clone() {
                Some(Spot::Position(id)) => {
                    let name = wording::place(&self.assessment, &id).to_owned();
                    let before = self.document.revision();
                    self.add_photos(&id, &pictures);
                    if self.document.revision() > before && self.view.message.is_none() {
                        let n = wording::count(pictures.len(), "photo", "photos");
                        self.tell(format!("{n} named at: {name}. Undo takes that back."));
                    }
                }
                _ => self.trouble(
                    "A photo belongs to a position: pick it on the board, then drop the photo again."
                        .to_owned(),
                ),
            }
        }
        if let Some(path) = others.into_iter().next() {
            self.open_once(path);
        }
    }
}

/// Says over the window what a drop would do.
pub fn over(ui: &Ui, a: &Assessment, view: &View) {
    let hovered = ui.input(|i| i.raw.hovered_files.first().map(|f| f.path.clone()));
    let Some(path) = hovered else { return };
    let picture = path.as_deref().is_some_and(|p: &Path| is_picture(p));
    let text = match &view.selected {
        Some(Spot::Position(id)) if picture => {
            format!("Drop the photo to name it at: {}", wording::place(a, id))
        }
        _ if picture => "Pick the position the photo belongs to first".to_owned(),
        _ => "Drop the sheet to open it".to_owned(),
    };
    let t = theme::tokens(ui);
    let over = ui.ctx().layer_painter(egui::LayerId::new(egui::Order::Tooltip, egui::Id::unique("drop")));
    let rect = ui.ctx().content_rect();
    over.rect_filled(rect, 0, t.veil);
    let text = over.layout_no_wrap(text, strong(26.0), t.ink);
    let plate = egui::Rect::from_center_size(rect.center(), text.size() + egui::vec2(48.0, 32.0));
    over.rect_filled(plate, 6, t.sheet);
    over.galley(rect.center() - text.size() / 2.0, text, t.ink);
}
