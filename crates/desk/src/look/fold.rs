//! A line that opens: what is behind it stays folded until it is asked for, and stays open until it is closed.

use std::hash::Hash;

use egui::accesskit::Role;
use egui::{Id, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2};

use crate::access::heard;
use crate::look::icons;
use crate::look::icons::Mark;
use crate::look::text::elided;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};

/// What stands in front of the text.
#[derive(Clone, Copy)]
pub enum Sign {
    /// Nothing.
    None,
    /// A state.
    State(Mark),
    /// What can happen.
    Caution,
}

/// The line.
pub struct Fold<'a> {
    /// In front of the text.
    pub sign: Sign,
    /// What it is about.
    pub text: &'a str,
    /// What is said of it in half a line; may be empty.
    pub half: &'a str,
    /// At the right end; may be empty.
    pub right: &'a str,
    /// It must be looked at.
    pub warm: bool,
    /// Open where nobody has closed it.
    pub open: bool,
}

/// A plain line that opens, with what is behind it.
pub fn behind(
    ui: &mut Ui,
    t: &Tokens,
    text: &str,
    salt: impl Hash + std::fmt::Debug,
    add: impl FnOnce(&mut Ui),
) {
    let line = Fold { sign: Sign::None, text, half: "", right: "", warm: false, open: false };
    let id = Id::unique(("behind", &salt));
    if line.show(ui, t, salt) {
        ui.indent(id, add);
    }
}

impl Fold<'_> {
    /// Draws the line; whether what is behind it is to be drawn.
    pub fn show(&self, ui: &mut Ui, t: &Tokens, salt: impl Hash + std::fmt::Debug) -> bool {
        let id = Id::unique(("fold", salt));
        let mut open = ui.data(|d| d.get_temp::<bool>(id)).unwrap_or(self.open);
        // what once was open does not close by itself
        if self.open && open {
            ui.data_mut(|d| d.insert_temp(id, true));
        }
        let width = ui.available_width();
        let (_, rect) = ui.allocate_space(Vec2::new(width, TARGET));
        let response = ui.interact(rect, id, Sense::click());
        if response.clicked() {
            open = !open;
            ui.data_mut(|d| d.insert_temp(id, open));
        }
        let parts = [self.text, self.half, self.right];
        // not every reader is told whether a button is unfolded
        let state = if open { "unfolded" } else { "folded" };
        let label = parts.iter().filter(|s| !s.is_empty()).copied().collect::<Vec<_>>().join(", ");
        let label = format!("{label}, {state}");
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
        heard::unfolds(&response, open);
        let paint = ui.painter();
        if response.hovered() {
            paint.rect_filled(rect, 3, t.hover);
        }
        if response.has_focus() {
            paint.rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
        }
        let tone = if self.warm { t.warm } else { t.ink };
        let middle = rect.center().y;
        icons::fold(paint, pos2(rect.left() + 9.0, middle), open, t.soft);
        let mut x = rect.left() + 22.0;
        match self.sign {
            Sign::None => {}
            Sign::State(mark) => mark.paint(paint, pos2(x + 9.0, middle), tone),
            Sign::Caution => icons::caution(paint, pos2(x + 9.0, middle), t.warm),
        }
        if !matches!(self.sign, Sign::None) {
            x += 24.0;
        }
        let right = paint.layout_no_wrap(self.right.to_owned(), theme::small(), t.soft);
        let mut room = rect.right() - x - right.size().x - 16.0;
        paint.galley(pos2(rect.right() - right.size().x - 6.0, middle - right.size().y / 2.0), right, t.soft);
        let text = elided(ui, self.text, strong(BODY - 1.0), tone, room, 1);
        room -= text.size().x + 10.0;
        let (wide, cut) = (text.size().x, text.elided);
        paint.galley(pos2(x, middle - text.size().y / 2.0), text, tone);
        let mut is_cut = cut;
        if !self.half.is_empty() && room > 60.0 {
            let half = elided(ui, self.half, theme::small(), t.soft, room, 1);
            is_cut |= half.elided;
            paint.galley(pos2(x + wide + 10.0, middle - half.size().y / 2.0), half, t.soft);
        } else if !self.half.is_empty() {
            is_cut = true;
        }
        if is_cut {
            response.on_hover_text(if self.half.is_empty() {
                self.text.to_owned()
            } else {
                format!("{}: {}", self.text, self.half)
            });
        }
        open
    }
}
