//! What is to be ordered today with why, and the money by supplier: each with its subtotal, open to its lines.

use egui::accesskit::Role;
use egui::{Button, RichText, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2};
use knockon_core::Amounts;
use knockon_core::ledger::{Account, Entry, For};

use crate::access::{self, Keys, heard};
use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::{Action, Behind};
use crate::jobs::order::ordered;
use crate::look::fold::{self, Fold, Sign};
use crate::look::text::{elided, figures, figures_width};
use crate::look::theme;
use crate::look::theme::{sheet as paper, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::look::{icons, margin};
use crate::money::told::{Accounts, Today};
use crate::wording;

/// So many are told before the rest is folded away.
const FIRST: usize = 4;

/// What is to be ordered today; nothing where nothing is.
pub fn today(ui: &mut Ui, t: &Tokens, accounts: &Accounts, actions: &mut Vec<Action>) {
    if accounts.today.is_empty() && accounts.to_ask == 0 {
        return;
    }
    if accounts.today.is_empty() {
        paper(t).inner_margin(8).show(ui, |ui| {
            ui.set_width(ui.available_width());
            ask(ui, t, accounts.to_ask, actions);
        });
        ui.add_space(8.0);
        return;
    }
    margin::bordered(ui, t, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        let lead = format!("Order today: {}", wording::count(accounts.today.len(), "part", "parts"));
        heard::heading(ui, 3, RichText::new(lead).font(strong(BODY)).color(t.warm));
        for one in accounts.today.iter().take(FIRST) {
            order(ui, t, one, actions);
        }
        if let Some(rest) = accounts.today.get(FIRST..).filter(|rest| !rest.is_empty()) {
            fold::behind(ui, t, &format!("{} more to order today", rest.len()), "order today", |ui| {
                rest.iter().for_each(|one| order(ui, t, one, actions));
            });
        }
        if accounts.to_ask > 0 {
            ask(ui, t, accounts.to_ask, actions);
        }
    });
    ui.add_space(8.0);
}

/// Parts of which nobody has said how long they take.
fn ask(ui: &mut Ui, t: &Tokens, n: usize, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        let parts = wording::count(n, "part", "parts");
        let text = format!("How long {parts} for jobs take to come nobody has said.");
        ui.label(RichText::new(text).font(theme::small()).color(t.soft));
        let button = Button::new(RichText::new("Say it in Jobs").font(theme::small()));
        if ui.add(button.min_size(Vec2::new(0.0, TARGET))).clicked() {
            actions.push(Action::Do(Command::Jobs));
        }
    });
}

fn order(ui: &mut Ui, t: &Tokens, one: &Today, actions: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        let room = ui.available_width() - 84.0;
        let (rect, response) = ui.allocate_exact_size(Vec2::new(room, TARGET + 8.0), Sense::click());
        let label = format!("{}: {}", one.name, one.why);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("To the line of {label}")));
        ground(ui, t, rect, &response);
        let name = elided(ui, &one.name, theme::body(), t.ink, room - 12.0, 1);
        let why = elided(ui, &wording::sentence(&one.why), theme::small(), t.soft, room - 12.0, 1);
        let cut = name.elided || why.elided;
        ui.painter().galley(pos2(rect.left() + 6.0, rect.top() + 1.0), name, t.ink);
        ui.painter().galley(pos2(rect.left() + 6.0, rect.top() + 18.0), why, t.soft);
        let response = if cut { response.on_hover_text(label) } else { response };
        if response.clicked() {
            actions.push(Action::Line(one.order.part.clone()));
        }
        let button = ui.add(Button::new("Ordered").min_size(Vec2::new(76.0, TARGET)));
        let name = format!("Ordered: {}", one.name);
        button.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
        if button.clicked() {
            actions.push(Action::Edit(ordered(&one.order)));
        }
    });
}

/// Draws the suppliers.
pub fn list(ui: &mut Ui, t: &Tokens, a: &Told, accounts: &Accounts, actions: &mut Vec<Action>) {
    let currency = &a.spending.currency;
    paper(t).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.spacing_mut().item_spacing.y = 0.0;
        ui.horizontal(|ui| {
            ui.set_min_height(24.0);
            ui.add_space(8.0);
            ui.label(RichText::new("Supplier").font(theme::small()).color(t.soft));
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                ui.add_space(6.0);
                ui.label(RichText::new("subtotal").font(theme::small()).color(t.soft));
            });
        });
        access::list(ui, Keys::Walk, None);
        for account in &accounts.suppliers {
            supplier(ui, t, account, currency, actions);
        }
    });
}

fn supplier(ui: &mut Ui, t: &Tokens, account: &Account, currency: &str, actions: &mut Vec<Action>) {
    let nobody = account.supplier.is_empty();
    let name = if nobody { "No supplier named" } else { account.supplier.as_str() };
    let mut half = vec![wording::count(account.lines.len(), "line", "lines")];
    for (sum, word) in
        [(&account.spent, "spent"), (&account.committed, "on order"), (&account.to_come, "to come")]
    {
        // where all of it stands in one place the subtotal says how much
        let is_all = *sum == account.all();
        if !sum.is_zero() {
            half.push(if is_all {
                word.to_owned()
            } else {
                format!("{} {word}", wording::amounts(sum, currency))
            });
        }
    }
    let (half, right) = (half.join(" · "), wording::amounts(&account.all(), currency));
    let warm = nobody && !account.to_come.is_zero();
    let line = Fold { sign: Sign::None, text: name, half: &half, right: &right, warm, open: false };
    if line.show(ui, t, ("supplier", &account.supplier)) {
        for entry in &account.lines {
            line_of(ui, t, entry, currency, actions);
        }
        ui.add_space(4.0);
    }
}

/// A line of a supplier, which leads to where it can be set.
fn line_of(ui: &mut Ui, t: &Tokens, entry: &Entry, currency: &str, actions: &mut Vec<Action>) {
    let width = ui.available_width() - 4.0;
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, TARGET), Sense::click());
    let state = match entry.why {
        For::Wanted => entry.state.word().to_owned(),
        For::Idle => format!("{}, not wanted", entry.state.word()),
        For::SentBack => "sent back, not refunded whole".to_owned(),
    };
    let sum: Amounts = entry.all();
    let right = if sum.is_zero() {
        knockon_core::spent::no_price(entry.state).to_owned()
    } else {
        wording::amounts(&sum, currency)
    };
    let label = format!("{}, {state}, {right}", entry.name);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    if ui.is_rect_visible(rect) {
        ground(ui, t, rect, &response);
        let middle = rect.center().y;
        icons::line_state(ui.painter(), pos2(rect.left() + 28.0, middle), entry.state, t.soft);
        let tone = if entry.why == For::Wanted { t.ink } else { t.warm };
        let wide = figures_width(ui.painter(), &right, &theme::body());
        let room = rect.right() - 8.0 - wide - (rect.left() + 42.0) - 10.0;
        let name = elided(ui, &entry.name, theme::body(), tone, room, 1);
        let (taken, cut) = (name.size().x, name.elided);
        ui.painter().galley(pos2(rect.left() + 42.0, middle - name.size().y / 2.0), name, tone);
        let left = room - taken - 10.0;
        if left > 60.0 {
            let state = elided(ui, &state, theme::small(), t.soft, left, 1);
            let at = pos2(rect.left() + 52.0 + taken, middle - state.size().y / 2.0);
            ui.painter().galley(at, state, t.soft);
        }
        figures(ui.painter(), pos2(rect.right() - 6.0, middle - 9.0), &right, &theme::body(), t.ink);
        if cut {
            response.clone().on_hover_text(&label);
        }
    }
    if response.clicked() {
        actions.push(match entry.why {
            For::Wanted => Action::Line(entry.part.clone()),
            For::Idle | For::SentBack => Action::Behind(Some(Behind::Idle)),
        });
    }
}

fn ground(ui: &Ui, t: &Tokens, rect: egui::Rect, response: &egui::Response) {
    if response.hovered() {
        ui.painter().rect_filled(rect, 3, t.hover);
    }
    if response.has_focus() {
        ui.painter().rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
}
