//! Photos shown small: decoded off the frame, kept while the desk is open, and no more of them than a window can show.

use std::collections::BTreeMap;
use std::sync::Arc;

use egui::accesskit::Role;
use egui::{
    Align2, Color32, ColorImage, Rect, Response, Sense, Stroke, StrokeKind, TextureHandle, TextureOptions,
    Ui, Vec2, WidgetInfo, pos2,
};
use image::RgbaImage;

use crate::look::theme;
use crate::look::tokens::Tokens;

/// Points along the longer side.
pub const SIDE: u32 = 240;
/// How large one is drawn at most.
const SHOWN: Vec2 = Vec2::new(120.0, 90.0);
/// So many are kept, 230 kB each at most, 18 MB in all: a sheet may name hundreds. Each is decoded once, not at every look.
const KEPT: usize = 80;

/// A photo on its way to the panel.
#[derive(Clone)]
pub enum Small {
    /// Asked for.
    Working,
    /// Decoded, not on the card yet.
    Picture(Arc<RgbaImage>),
    /// On the card.
    Drawn(TextureHandle),
    /// There is nothing to be shown, and why.
    Not(String),
}

/// The photos by the path the sheet names.
#[derive(Clone, Default)]
pub struct Smalls(BTreeMap<String, Small>);

impl std::fmt::Debug for Smalls {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_list().entries(self.0.keys()).finish()
    }
}

impl Smalls {
    /// Puts one in. Where there are too many those that nobody looks at go first: all of them are asked for again in sight.
    pub fn insert(&mut self, path: String, small: Small) {
        if self.0.len() >= KEPT && !self.0.contains_key(&path) {
            self.0.clear();
        }
        self.0.insert(path, small);
    }

    /// How many are on the card.
    pub fn drawn(&self) -> usize {
        self.0.values().filter(|small| matches!(small, Small::Drawn(_))).count()
    }

    /// None is known any more: files may be others by now, or another sheet is open.
    pub fn forget(&mut self) {
        self.0.clear();
    }

    /// Draws one as a button of this name; `true`: it is to be asked for.
    pub fn show(&mut self, ui: &mut Ui, t: &Tokens, path: &str, name: &str) -> (Response, bool) {
        let (rect, response) = ui.allocate_exact_size(SHOWN, Sense::click());
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
        let seen = ui.is_rect_visible(rect);
        let known = self.0.get(path).cloned();
        let mut said = "";
        match &known {
            _ if !seen => {}
            Some(Small::Drawn(texture)) => picture(ui, t, rect, texture),
            Some(Small::Picture(small)) => {
                let size = [small.width(), small.height()].map(|n| usize::try_from(n).unwrap_or(0));
                let points = ColorImage::from_rgba_unmultiplied(size, small.as_raw());
                let texture = ui.ctx().load_texture(format!("photo {path}"), points, TextureOptions::LINEAR);
                picture(ui, t, rect, &texture);
                self.0.insert(path.to_owned(), Small::Drawn(texture));
            }
            Some(Small::Not(_)) => said = "no picture",
            Some(Small::Working) | None => said = "…",
        }
        if !said.is_empty() {
            ui.painter().rect(rect, 3, t.hover, Stroke::new(1.0, t.line), StrokeKind::Inside);
            ui.painter().text(rect.center(), Align2::CENTER_CENTER, said, theme::small(), t.soft);
        }
        if response.hovered() || response.has_focus() {
            ui.painter().rect_stroke(rect, 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
        }
        let response = match known {
            Some(Small::Not(why)) => response.on_hover_text(why),
            _ => response,
        };
        (response, seen && !self.0.contains_key(path))
    }
}

/// The picture as large as it fits, in the middle.
fn picture(ui: &Ui, t: &Tokens, rect: Rect, texture: &TextureHandle) {
    let size = texture.size_vec2();
    let scale = (rect.width() / size.x).min(rect.height() / size.y).min(1.0);
    let place = Rect::from_center_size(rect.center(), size * scale);
    ui.painter().rect_filled(rect, 3, t.hover);
    let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    ui.painter().image(texture.id(), place, whole, Color32::WHITE);
}
