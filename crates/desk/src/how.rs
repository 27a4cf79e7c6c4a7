//! The page "How it works": the one of the manual, shown in the window.

mod pictures;
mod read;

use std::sync::LazyLock;

use egui::accesskit::Role;
use egui::text::{LayoutJob, TextFormat};
use egui::{Align, Button, Key, Label, Modifiers, Rect, Response, ScrollArea, Sense, Stroke, Ui, Vec2};

use crate::app::commands::Command;
use crate::app::view::{Action, Page};
use crate::how::pictures::Pictures;
use crate::how::read::{Block, Span, Style};
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, HEAD, TARGET, Tokens};

/// As the manual has it.
const TEXT: &str = include_str!("../../../assets/manual/how-it-works.md");
/// A line that is longer is hard to follow.
const WIDE: f32 = 820.0;
/// Room between blocks.
const GAP: f32 = 10.0;

static BLOCKS: LazyLock<Vec<Block>> = LazyLock::new(|| read::read(TEXT));

/// Where it was opened from, and its pictures as far as they are decoded.
#[derive(Clone, Debug, Default)]
pub struct How {
    /// The page that is gone back to.
    pub from: Page,
    pictures: Pictures,
}

/// Draws the page; `keys`: it may have the keys that scroll.
pub fn page(ui: &mut Ui, how: &mut How, keys: bool) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    let command = Command::HowItWorks;
    ui.horizontal(|ui| {
        let back = Button::new("Back").shortcut_text("Esc").min_size(Vec2::new(0.0, TARGET));
        if ui.add(back).clicked() {
            actions.push(Action::Do(command));
        }
    });
    ScrollArea::vertical().id_salt("how it works").auto_shrink(false).show(ui, |ui| {
        if keys {
            scroll(ui);
        }
        let room = ui.available_width();
        let width = room.min(WIDE);
        ui.horizontal_top(|ui| {
            ui.add_space((room - width) / 2.0);
            ui.vertical(|ui| {
                ui.set_width(width);
                ui.spacing_mut().item_spacing.y = 4.0;
                for block in BLOCKS.iter() {
                    draw(ui, &t, block, &mut how.pictures);
                }
                ui.add_space(28.0);
            });
        });
    });
    actions
}

/// Arrows, page keys, Home and End, as in any text that is read.
fn scroll(ui: &mut Ui) {
    let page = ui.clip_rect().height() - 60.0;
    let whole = 1.0e6;
    let down = [
        (Key::ArrowDown, 48.0),
        (Key::ArrowUp, -48.0),
        (Key::PageDown, page),
        (Key::Space, page),
        (Key::PageUp, -page),
        (Key::End, whole),
        (Key::Home, -whole),
    ];
    // a control with the keyboard has its own use for them
    let free = ui.memory(|m| m.focused().is_none());
    for (key, by) in down.into_iter().filter(|_| free) {
        if ui.input_mut(|i| i.consume_key(Modifiers::NONE, key)) {
            ui.scroll_with_delta(Vec2::new(0.0, -by));
        }
    }
}

fn draw(ui: &mut Ui, t: &Tokens, block: &Block, pictures: &mut Pictures) {
    match block {
        Block::Heading(level, text) => {
            let (size, above) = if *level == 1 { (26.0, 20.0) } else { (HEAD, 22.0) };
            ui.add_space(above);
            let response = ui.add(Label::new(egui::RichText::new(text).font(strong(size))).wrap());
            ui.ctx().accesskit_node_builder(response.id, |node| {
                node.set_role(Role::Heading);
                node.set_level(usize::from(*level));
                // a heading is called by its label, where a piece of text is by its value
                node.set_label(text.as_str());
                node.clear_value();
            });
            ui.add_space(6.0);
        }
        Block::Paragraph(spans) => {
            text(ui, t, spans, ui.available_width());
            ui.add_space(GAP - 4.0);
        }
        Block::List { first, items } => {
            for (n, item) in items.iter().enumerate() {
                let mark = first.map_or_else(|| "–".to_owned(), |first| format!("{}.", first + n as u64));
                ui.horizontal_top(|ui| {
                    let wide = 24.0;
                    ui.allocate_ui(Vec2::new(wide, 0.0), |ui| {
                        ui.set_min_width(wide);
                        let mark = [Span { text: mark, style: Style::Soft }];
                        text(ui, t, &mark, wide);
                    });
                    text(ui, t, item, ui.available_width());
                });
            }
            ui.add_space(GAP - 4.0);
        }
        Block::Table { head, rows } => table(ui, t, head, rows),
        Block::Picture { file, told } => picture(ui, t, file, told, pictures),
    }
}

/// A piece of text as wide as this; the reader's language has its words in order.
fn text(ui: &mut Ui, t: &Tokens, spans: &[Span], width: f32) -> Response {
    ui.scope(|ui| {
        ui.set_max_width(width);
        ui.add(Label::new(laid(t, spans)).wrap())
    })
    .inner
}

fn laid(t: &Tokens, spans: &[Span]) -> LayoutJob {
    let mut job = LayoutJob::default();
    for span in spans {
        let mut format = TextFormat::simple(theme::body(), t.ink);
        format.line_height = Some(BODY * 1.45);
        match span.style {
            Style::Plain => {}
            Style::Strong => format.font_id = strong(BODY),
            Style::Soft => format.color = t.soft,
            Style::Code => format.font_id = strong(BODY - 1.0),
        }
        job.append(&span.text, 0.0, format);
    }
    job
}

fn table(ui: &mut Ui, t: &Tokens, head: &[Vec<Span>], rows: &[Vec<Vec<Span>>]) {
    let (gap, total) = (18.0, ui.available_width());
    let wide = |cell: &[Span]| ui.painter().layout_job(laid(t, cell)).size().x.ceil() + 1.0;
    let own = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column)).chain(head.get(column));
        cells.map(|cell| wide(cell)).fold(0.0, f32::max)
    };
    let mut widths: Vec<f32> = (0..head.len()).map(|column| own(column).min(total * 0.42)).collect();
    let before: f32 = widths.iter().take(head.len().saturating_sub(1)).map(|w| w + gap).sum();
    if let Some(last) = widths.last_mut() {
        // what is told last has what is left
        *last = (total - before).max(120.0);
    }
    let line = |ui: &mut Ui, cells: &[Vec<Span>]| {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = gap;
            for (cell, width) in cells.iter().zip(&widths) {
                ui.allocate_ui_with_layout(
                    Vec2::new(*width, 0.0),
                    egui::Layout::top_down(Align::Min),
                    |ui| {
                        ui.set_min_width(*width);
                        text(ui, t, cell, *width);
                    },
                );
            }
        });
    };
    let rule = |ui: &mut Ui| {
        let (rect, _) = ui.allocate_exact_size(Vec2::new(total, 1.0), Sense::hover());
        ui.painter().hline(rect.x_range(), rect.center().y, Stroke::new(1.0, t.line));
    };
    let soft = |cell: &Vec<Span>| cell.iter().map(|s| Span { style: Style::Soft, ..s.clone() }).collect();
    line(ui, &head.iter().map(soft).collect::<Vec<Vec<Span>>>());
    for row in rows {
        rule(ui);
        line(ui, row);
    }
    ui.add_space(GAP);
}

/// A picture as wide as the text; its place is kept until it is decoded.
fn picture(ui: &mut Ui, t: &Tokens, file: &str, told: &str, pictures: &mut Pictures) {
    let Some(size) = pictures::size(file) else { return };
    let width = ui.available_width().min(size.x);
    let (rect, response) = ui.allocate_exact_size(size * (width / size.x), Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(Role::Image, true, told));
    if ui.is_rect_visible(rect)
        && let Some(texture) = pictures.get(ui.ctx(), file)
    {
        let whole = Rect::from_min_max(egui::pos2(0.0, 0.0), egui::pos2(1.0, 1.0));
        ui.painter().image(texture.id(), rect, whole, egui::Color32::WHITE);
    }
    ui.painter().rect_stroke(rect, 2.0, Stroke::new(1.0, t.edge), egui::StrokeKind::Inside);
    ui.add_space(GAP);
}
