//! The buy list: one line a part, to sort, filter and keep up to date.

pub mod chosen;
pub mod fields;

use std::cmp::Ordering;

use egui::{Align, Button, ComboBox, Label, Layout, RichText, Stroke, StrokeKind, TextEdit, Ui, Vec2};
use egui_extras::{Column as Width, TableBody, TableBuilder, TableRow};
use knockon_core::assessment::{Assessment, BoxLine, BuyLine, BuyRow};
use knockon_core::sheet::LineState;
use knockon_core::{Edit, Sheet};

use crate::access::heard;
use crate::access::{self, Keys};
use crate::app::commands::Command;
use crate::app::view::{Action, BuyState, Column, View};
use crate::buying::chosen::Cell;
use crate::buying::fields::{GAP, each, state_combo};
use crate::dialogs::came_back;
use crate::empty;
use crate::look::text::{figures_ui, named, wrapped};
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, HEAD, TARGET, Tokens};
use crate::wording;

/// What is still to buy of a line takes of the column beside it.
const MORE: f32 = 130.0;

/// What the way to enter a refund takes of that column.
const BACK: f32 = 90.0;

/// Headers of the table.
const HEADS: [(Option<Column>, &str, bool); 7] = [
    (Some(Column::Item), "Item", false),
    (Some(Column::Qty), "Qty", true),
    (Some(Column::Each), "Each", true),
    (Some(Column::Total), "Total", true),
    (Some(Column::Supplier), "Supplier", false),
    (Some(Column::State), "State", false),
    (None, "For", false),
];

/// Draws the buy list.
pub fn buying(ui: &mut Ui, a: &Assessment, _sheet: &Sheet, view: &mut View) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    let lines = rows(a, &view.buying, &view.find);
    let parts: Vec<&str> = lines.iter().filter(|l| l.waived.is_none()).map(|l| l.part.as_str()).collect();
    let shown = with_boxes(a, &view.buying, &view.find);
    let walked: Vec<String> = shown.iter().map(row_key).collect();
    if view.dialog.is_none() {
        actions.extend(view.buying.chosen.read(ui.ctx(), &parts, &walked).map(Action::Edit));
    }
    top(ui, &t, a, view, &lines, &mut actions);
    // always there: it covers no line when the first is chosen
    if !parts.is_empty() {
        let frame = egui::Frame::new().fill(t.cool_ground).inner_margin(egui::Margin::symmetric(10, 6));
        egui::Panel::bottom("chosen lines").resizable(false).frame(frame).show(ui, |ui| {
            let mut steps = Vec::new();
            view.buying.chosen.foot(ui, &t, &lines, &mut steps);
            actions.extend(steps.into_iter().map(Action::Edit));
        });
    }
    if shown.is_empty() {
        if a.buy.is_empty() {
            let text = "Every place is kept as it was found. Choose on the board what you will do at a place: its parts stand \
                        here, with all they drag in, in one list with how many, the price, the supplier, and whether each is \
                        to buy, on order, in hand or fitted.";
            actions.extend(empty::page(ui, "Nothing is to be bought yet", text, &[Command::Board]));
        } else {
            ui.add_space(24.0);
            let text =
                "No line answers the filter. Show all states and clear the find field to see everything.";
            ui.vertical_centered(|ui| ui.colored_label(t.soft, text));
        }
        return actions;
    }
    ui.push_id("buy list", |ui| {
        let at = view.buying.chosen.at_id();
        access::list(ui, Keys::Own, at);
        table(ui, &t, &shown, &parts, &mut view.buying, &mut actions);
    });
    actions
}

/// A row by what tells it from the others.
fn row_key(row: &BuyRow<'_>) -> String {
    match row {
        BuyRow::Line(l) => l.part.clone(),
        BuyRow::Boxed(l, _) => boxed_key(l),
    }
}

/// The row of what lies in the box of a kit.
fn boxed_key(l: &BoxLine) -> String {
    format!("{} in {}", l.key, l.kit_at)
}

fn top(
    ui: &mut Ui,
    t: &Tokens,
    a: &Assessment,
    view: &mut View,
    shown: &[&BuyLine],
    actions: &mut Vec<Action>,
) {
    let state = &mut view.buying;
    ui.horizontal(|ui| {
        heard::heading(ui, 2, RichText::new("Buy list").font(strong(HEAD)));
        ui.colored_label(
            t.soft,
            format!("{} of {}", shown.len(), wording::count(a.buy.len(), "line", "lines")),
        );
        ui.add_space(12.0);
        ui.label("Show");
        let now = state.only.map_or("all states", LineState::word);
        let choice = ComboBox::from_id_salt("only state").selected_text(now).width(120.0).show_ui(ui, |ui| {
            ui.selectable_value(&mut state.only, None, "all states");
            for s in LineState::ALL {
                ui.selectable_value(&mut state.only, Some(s), s.word());
            }
        });
        heard::closed_list(&choice.response, "States shown", now);
        if state.sort != Column::System && ui.button("Sort by system").clicked() {
            (state.sort, state.down) = (Column::System, false);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            // in a narrow window the list alone is in the file menu
            let wide = ui.available_width() > 440.0;
            let both = [Command::ExportBuyList, Command::Print];
            for command in both.into_iter().skip(usize::from(!wide)) {
                let button = Button::new(command.label()).shortcut_text(command.keys(ui.ctx()));
                if ui.add(button).clicked() {
                    actions.push(Action::Do(command));
                }
            }
        });
    });
    ui.add_space(4.0);
}

/// The lines shown, in their order.
pub fn rows<'a>(a: &'a Assessment, state: &BuyState, find: &str) -> Vec<&'a BuyLine> {
    let mut rows = sorted(a, state);
    rows.retain(|l| is_line_shown(l, state, &find.trim().to_lowercase()));
    rows
}

/// What lies in boxes and answers the filter.
pub fn boxes<'a>(a: &'a Assessment, state: &BuyState, find: &str) -> impl Iterator<Item = &'a BoxLine> {
    let (only, find) = (state.only, find.trim().to_lowercase());
    a.boxes.iter().filter(move |l| is_content_shown(l, only, &find))
}

/// The lines shown, each kit with what lies in its box below it. A content may be shown where its kit is not.
fn with_boxes<'a>(a: &'a Assessment, state: &BuyState, find: &str) -> Vec<BuyRow<'a>> {
    let find = find.trim().to_lowercase();
    let mut rows = a.with_boxes(&sorted(a, state));
    rows.retain(|row| match row {
        BuyRow::Line(l) => is_line_shown(l, state, &find),
        BuyRow::Boxed(l, _) => is_content_shown(l, state.only, &find),
    });
    rows
}

fn is_line_shown(l: &BuyLine, state: &BuyState, find: &str) -> bool {
    let has = |s: &str| s.to_lowercase().contains(find);
    state.only.is_none_or(|s| s == l.state && l.waived.is_none())
        && (has(&l.name) || has(&l.supplier) || l.uses.iter().any(|u| has(u)))
}

fn is_content_shown(l: &BoxLine, only: Option<LineState>, find: &str) -> bool {
    let has = |s: &str| s.to_lowercase().contains(find);
    only.is_none_or(|s| s == l.state)
        && (has(&l.name) || has(&l.kit_name) || l.goes.iter().any(|to| has(&to.name)))
}

fn sorted<'a>(a: &'a Assessment, state: &BuyState) -> Vec<&'a BuyLine> {
    let mut rows: Vec<&BuyLine> = a.buy.iter().collect();
    let by = |x: &BuyLine, y: &BuyLine| -> Ordering {
        match state.sort {
            Column::System => Ordering::Equal,
            Column::Item => x.name.to_lowercase().cmp(&y.name.to_lowercase()),
            Column::Qty => x.qty.cmp(&y.qty),
            Column::Each => x.price.cmp(&y.price),
            Column::Total => x.total.cmp(&y.total),
            Column::Supplier => x.supplier.cmp(&y.supplier),
            Column::State => x.state.cmp(&y.state),
        }
    };
    rows.sort_by(|x, y| if state.down { by(y, x) } else { by(x, y) });
    rows
}

fn table(
    ui: &mut Ui,
    t: &Tokens,
    shown: &[BuyRow<'_>],
    parts: &[&str],
    state: &mut BuyState,
    actions: &mut Vec<Action>,
) {
    let width = ui.available_width() - 14.0;
    let (fixed, least) = if width < 840.0 {
        ([40.0, 100.0, 92.0, 108.0, 112.0], 140.0)
    } else {
        ([58.0, 118.0, 112.0, 200.0, 116.0], 280.0)
    };
    let gaps = ui.spacing().item_spacing.x * 6.0;
    let rest = (width - fixed.iter().sum::<f32>() - gaps).max(least);
    let (item, uses) = (rest * 0.46, rest * 0.54);
    let heights: Vec<f32> = shown
        .iter()
        .map(|row| {
            let (name, told, inset) = match row {
                BuyRow::Line(l) => (&l.name, uses_text(l), chosen::INSET),
                BuyRow::Boxed(l, depth) => (&l.name, l.goes_text(), inset(*depth)),
            };
            let is_short = matches!(row, BuyRow::Line(l) if l.short > 0);
            let uses = if is_short { uses - MORE } else { uses };
            let comes_back = matches!(row, BuyRow::Line(l) if can_come_back(l) && l.came_back.is_empty());
            let uses = if comes_back { uses - BACK } else { uses };
            let name = wrapped(ui, name, theme::body(), t.ink, item - inset - 4.0).size().y;
            let uses = wrapped(ui, &told, theme::small(), t.soft, uses - 4.0).size().y;
            let two = matches!(row, BuyRow::Line(l) if !l.came_back.is_empty());
            name.max(uses).max(if two { TARGET + 16.0 } else { TARGET }) + 6.0
        })
        .collect();
    let mut builder = TableBuilder::new(ui)
        .striped(true)
        .auto_shrink(false)
        .cell_layout(Layout::left_to_right(Align::Center))
        .column(Width::exact(item));
    let wanted = state.chosen.wanted();
    if let Some(at) = wanted.and_then(|wanted| shown.iter().position(|row| row_key(row) == wanted)) {
        builder = builder.scroll_to_row(at, None);
    }
    for w in fixed {
        builder = builder.column(Width::exact(w));
    }
    builder
        .column(Width::exact(uses))
        .header(30.0, |mut header| heads(&mut header, t, state))
        .body(|body| lines(body, t, shown, parts, &heights, state, actions));
}

/// The headings as one list.
fn heads_id() -> egui::Id {
    egui::Id::unique("headings of the buy list")
}

fn heads(header: &mut TableRow<'_, '_>, t: &Tokens, state: &mut BuyState) {
    for (column, name, right) in HEADS {
        header.col(|ui| {
            let text = RichText::new(name).font(strong(BODY));
            let Some(column) = column else {
                ui.label(text);
                return;
            };
            let layout = if right {
                Layout::right_to_left(Align::Center)
            } else {
                Layout::left_to_right(Align::Center)
            };
            ui.with_layout(layout, |ui| {
                if right {
                    ui.add_space(GAP);
                }
                if column == Column::Item {
                    ui.add_space(chosen::INSET);
                }
                let sorted = state.sort == column;
                let arrow = if !sorted {
                    ""
                } else if state.down {
                    " ↓"
                } else {
                    " ↑"
                };
                let text = RichText::new(format!("{name}{arrow}")).font(strong(BODY)).color(if sorted {
                    t.cool
                } else {
                    t.ink
                });
                access::part_of_list(ui, heads_id(), Keys::Walk, None);
                let response = ui.add(Button::new(text).frame(false).min_size(Vec2::new(0.0, TARGET)));
                heard::sorts(&response, &name.to_lowercase(), sorted.then_some(state.down));
                if response.has_focus() {
                    let frame = response.rect.expand(1.0);
                    ui.painter().rect_stroke(frame, 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
                }
                if response.clicked() {
                    state.down = sorted && !state.down;
                    state.sort = column;
                }
            });
        });
    }
}

fn lines(
    body: TableBody<'_>,
    t: &Tokens,
    shown: &[BuyRow<'_>],
    parts: &[&str],
    heights: &[f32],
    state: &mut BuyState,
    actions: &mut Vec<Action>,
) {
    body.heterogeneous_rows(heights.iter().copied(), |mut row| {
        let l = match shown.get(row.index()) {
            None => return,
            Some(BuyRow::Line(l)) => l,
            Some(BuyRow::Boxed(l, depth)) => {
                let kit = shown.iter().take(row.index()).rev().find_map(|row| match row {
                    BuyRow::Line(kit) => Some(kit.part.as_str()),
                    BuyRow::Boxed(..) => None,
                });
                return content(&mut row, t, (l, *depth), (kit.unwrap_or_default(), parts), state, actions);
            }
        };
        row.set_selected(state.chosen.parts.contains(&l.part));
        let mut steps = Vec::new();
        row.col(|ui| state.chosen.name(ui, t, l, parts, &mut steps));
        actions.extend(steps.into_iter().map(Action::Edit));
        let figures = [
            l.qty.to_string(),
            wording::price(l.price.as_ref()),
            wording::counts_for(l.total.as_ref(), l.state),
        ];
        for (i, figure) in figures.iter().enumerate() {
            row.col(|ui| {
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    ui.add_space(GAP);
                    if i == 1 && l.waived.is_none() {
                        let field = each(ui, l, state, actions);
                        state.chosen.cell(&field, &l.part, Cell::Each);
                        return;
                    }
                    let tone =
                        if l.waived.is_some() || (i > 0 && l.price.is_none()) { t.soft } else { t.ink };
                    if i == 2 && !l.came_back.is_empty() {
                        total(ui, t, l, figure, tone, actions);
                    } else {
                        figures_ui(ui, figure, &theme::body(), tone, 0.0);
                    }
                });
            });
        }
        row.col(|ui| supplier(ui, l, state, actions));
        row.col(|ui| {
            if l.waived.is_some() {
                ui.colored_label(t.soft, "left out");
            } else {
                let name = format!("State of {}", l.name);
                let list = state_combo(ui, ("line state", &l.part), &name, &l.part, l.state, actions);
                state.chosen.cell(&list, &l.part, Cell::State);
            }
        });
        row.col(|ui| {
            if l.short > 0 {
                more(ui, l, actions);
            }
            if can_come_back(l) && l.came_back.is_empty() {
                actions.extend(came_back::button(ui, t, &l.part, &l.name, None));
            }
            ui.add(Label::new(RichText::new(uses_text(l)).font(theme::small()).color(t.soft)).wrap());
        });
    });
}

/// The plan wants more than were bought: said, and set right with one press once they are here.
fn more(ui: &mut Ui, l: &BuyLine, actions: &mut Vec<Action>) {
    let button = ui.button(format!("{} more to buy", l.short));
    if button.on_hover_text(format!("Press when all {} are bought", l.qty)).clicked() {
        actions.push(Action::Edit(vec![Edit::SetQty { part: l.part.clone(), qty: Some(l.qty) }]));
    }
}

/// How far a content stands in from its kit.
fn inset(depth: usize) -> f32 {
    chosen::INSET + 18.0 * depth as f32
}

/// A content of a kit: at no price, and with a state of its own so that it can be ticked off.
fn content(
    row: &mut TableRow<'_, '_>,
    t: &Tokens,
    (l, depth): (&BoxLine, usize),
    (kit, parts): (&str, &[&str]),
    state: &mut BuyState,
    actions: &mut Vec<Action>,
) {
    let key = boxed_key(l);
    row.set_selected(state.chosen.parts.contains(kit));
    row.col(|ui| {
        ui.add_space(inset(depth));
        state.chosen.boxed(ui, t, &l.name, &key, kit, parts);
    });
    row.col(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.add_space(GAP);
            figures_ui(ui, &l.qty.to_string(), &theme::body(), t.ink, 0.0);
        });
    });
    row.col(|_| {});
    row.col(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.add_space(GAP);
            ui.label(RichText::new("in the box").font(theme::small()).color(t.soft));
        });
    });
    row.col(|_| {});
    row.col(|ui| {
        let part = l.key.to_string();
        let name = format!("State of {} in the box of {}", l.name, l.kit_name);
        let list = state_combo(ui, ("box state", &part, &l.kit_at), &name, &part, l.state, actions);
        state.chosen.cell(&list, &key, Cell::State);
    });
    row.col(|ui| {
        let text = wording::sentence(&l.goes_text());
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    });
}

fn uses_text(l: &BuyLine) -> String {
    match &l.waived {
        Some(why) => match &l.danger {
            Some(danger) => format!("left out: {why}. Caution: {danger}"),
            None => format!("left out: {why}"),
        },
        None if l.measured_first => format!("measure first; {}", l.uses_text()),
        None if l.made => format!("made to fit; {}", l.uses_text()),
        None => l.uses_text(),
    }
}

/// Money comes back once some is paid.
fn can_come_back(l: &BuyLine) -> bool {
    l.waived.is_none() && (l.state != LineState::ToBuy || !l.came_back.is_empty())
}

/// The price of all, and below it what came back of it.
fn total(ui: &mut Ui, t: &Tokens, l: &BuyLine, figure: &str, tone: egui::Color32, actions: &mut Vec<Action>) {
    ui.with_layout(Layout::top_down(Align::Max), |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        ui.add_space(6.0);
        figures_ui(ui, figure, &theme::body(), tone, 0.0);
        let back = wording::came_back(l);
        actions.extend(came_back::button(ui, t, &l.part, &l.name, back.as_deref()));
    });
}

fn supplier(ui: &mut Ui, l: &BuyLine, state: &mut BuyState, actions: &mut Vec<Action>) {
    let mut text = match &state.draft {
        Some((part, text)) if *part == l.part => text.clone(),
        _ => l.supplier.clone(),
    };
    let field = TextEdit::singleline(&mut text)
        .id_salt(("supplier", &l.part))
        .desired_width(ui.available_width() - 14.0)
        .align(egui::Align2::LEFT_CENTER)
        .min_size(Vec2::new(0.0, TARGET));
    let response = named(ui.add(field), &format!("Supplier of {}", l.name));
    heard::field_of_row(ui, &response, &text);
    state.chosen.cell(&response, &l.part, Cell::Supplier);
    if response.changed() {
        state.draft = Some((l.part.clone(), text.clone()));
    }
    if response.lost_focus() {
        state.draft = None;
        if text != l.supplier {
            actions.push(Action::Edit(vec![Edit::SetSupplier { part: l.part.clone(), supplier: text }]));
        }
    }
}
