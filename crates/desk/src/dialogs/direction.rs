//! The dialog that says where it goes: one of four ways, what for, by when, for whom, for how much, what it is held to, and why.

use egui::{Key, Label, RichText, ScrollArea, TextEdit, Ui, Vec2};
use knockon_core::date::{Date, Dated};
use knockon_core::sheet::{Direction, Way};
use knockon_core::{Catalogue, Money, Sheet, money};

use crate::access::heard;
use crate::app::view::Action;
use crate::dialogs::modal::{answers, over};
use crate::dialogs::open::Directing;
use crate::look::choice_row::{self, Lead};
use crate::look::fold;
use crate::look::text::named;
use crate::look::theme::{self, strong, tokens};
use crate::look::tick_box;
use crate::look::tokens::{HEAD, TARGET, Tokens};
use crate::wording;

/// Where no sheet says another.
const CURRENCY: &str = "USD";

impl Directing {
    /// The dialog with what was said last.
    pub fn new(sheet: &Sheet) -> Self {
        let Some(now) = sheet.direction() else { return Self { fresh: true, ..Self::default() } };
        Self {
            way: Some(now.way),
            what_for: now.what_for.clone(),
            deadline: now.deadline.clone().unwrap_or_default(),
            drivers: now.drivers.clone(),
            budget: now.budget.as_ref().map_or_else(String::new, ToString::to_string),
            aims: now.aims.clone(),
            reason: String::new(),
            fresh: true,
        }
    }

    /// Nothing has been typed.
    pub fn is_as_stored(&self, sheet: &Sheet) -> bool {
        Self { fresh: true, ..self.clone() } == Self::new(sheet)
    }

    fn money(&self, sheet: &Sheet) -> Result<Option<Money>, String> {
        let before = sheet.direction().and_then(|now| now.budget.as_ref()).or(sheet.budget.total.as_ref());
        let currency = before.map_or(CURRENCY, |money| money.currency.as_str());
        money::typed(&self.budget, currency).map_err(|why| why.to_string())
    }

    fn day(&self) -> Result<Option<String>, String> {
        let text = self.deadline.trim();
        if text.is_empty() {
            return Ok(None);
        }
        Dated::parse(text).map(|day| Some(day.text)).map_err(|why| why.to_string())
    }

    /// That it is wanted on a day that is over. It may be written down all the same: what was meant then is history.
    fn over(&self, today: Option<Date>) -> Option<Beside> {
        let (day, today) = (Dated::parse(&self.deadline).ok()?, today?);
        let text = format!("{} is over, today is {today}: all of the work would be late", day.text);
        day.is_over(today).then_some(Beside { text, is_wrong: false })
    }

    /// What it says; `None`: something is missing or cannot be read.
    fn said(&self, sheet: &Sheet) -> Option<Direction> {
        let reason = self.reason.trim();
        let (way, budget, deadline) = (self.way?, self.money(sheet).ok()?, self.day().ok()?);
        (!reason.is_empty()).then(|| Direction {
            way,
            what_for: self.what_for.trim().to_owned(),
            deadline,
            drivers: self.drivers.trim().to_owned(),
            budget,
            aims: self.aims.clone(),
            reason: reason.to_owned(),
            // what a newer program says of it stays
            extra: sheet.direction().map(|now| now.extra.clone()).unwrap_or_default(),
            on: None,
        })
    }
}

/// What a way means, in half a sentence.
fn about(way: Way) -> &'static str {
    match way {
        Way::KeepAsBuilt => "its own parts rebuilt, finishes of its time",
        Way::SympatheticDriver => "looks and feels old, with what bolts on and off again",
        Way::Custom => "something else is made of it",
        Way::PassItOn => "it is made honest and sold on",
    }
}

/// Draws the dialog.
pub fn show(ctx: &egui::Context, sheet: &Sheet, catalogue: &Catalogue, now: &mut Directing) -> Vec<Action> {
    let mut actions = Vec::new();
    let title = if sheet.directions.is_empty() { "Where it goes" } else { "Where it goes now" };
    let modal = over(ctx, "direction", title).show(ctx, |ui| {
        ui.set_width(560.0_f32.min(ctx.content_rect().width() - 60.0));
        let t = tokens(ui);
        heard::heading(ui, 2, RichText::new(title).font(strong(HEAD)));
        let tall = (ctx.content_rect().height() - 150.0).max(80.0);
        let mut enter = false;
        ScrollArea::vertical().max_height(tall).auto_shrink([false, true]).show(ui, |ui| {
            enter = fields(ui, &t, sheet, catalogue, now);
        });
        let said = now.said(sheet);
        if answers(ui, "Write it down", said.is_some(), enter, &mut actions)
            && let Some(said) = said
        {
            // it closes once it is written down
            actions.push(Action::Direct(Box::new(said)));
        }
    });
    if modal.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}

/// The fields; whether the keyboard asks for it to be written down.
fn fields(ui: &mut Ui, t: &Tokens, sheet: &Sheet, catalogue: &Catalogue, now: &mut Directing) -> bool {
    ui.spacing_mut().item_spacing.y = 4.0;
    for way in Way::ALL {
        let is_it = now.way == Some(way);
        let lead = if is_it { Lead::Taken } else { Lead::Other(None) };
        let name = wording::sentence(way.words());
        let response = choice_row::show(ui, t, lead, &name, &[(about(way).to_owned(), t.soft)]);
        // the keyboard is in the dialog from the first
        if (is_it || now.way.is_none() && way == Way::KeepAsBuilt) && std::mem::take(&mut now.fresh) {
            response.request_focus();
        }
        if response.clicked() {
            now.way = Some(way);
        }
    }
    ui.add_space(4.0);
    let mut enter = field(ui, t, "What for", "Sunday drives, 80 km at most", &mut now.what_for, None);
    enter |= field(ui, t, "Who drives", "who else, how tall, how strong", &mut now.drivers, None);
    let trouble = now.day().err().map(Beside::wrong).or_else(|| now.over(catalogue.as_of));
    enter |= field(ui, t, "Wanted by", "a year, a month or a day: 2027-06", &mut now.deadline, trouble);
    let trouble = now.money(sheet).err().map(Beside::wrong);
    enter |= field(ui, t, "For how much", "what it may come to, all of it", &mut now.budget, trouble);
    ui.add_space(2.0);
    ui.label(RichText::new("The plan is held to").font(theme::small()).color(t.soft));
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for (id, aim) in &catalogue.aims {
            let held = now.aims.contains(id);
            let name = wording::sentence(&aim.name);
            let clicked = tick_box::named(ui, t, held, &name, &aim.why);
            ui.add_space(10.0);
            if clicked {
                now.aims.retain(|other| other != id);
                if !held {
                    now.aims.push(id.clone());
                }
            }
        }
    });
    ui.add_space(2.0);
    let ask = if sheet.directions.is_empty() { "Why this way" } else { "Why it is said anew" };
    enter |= field(ui, t, ask, "in a sentence; it is kept with its day", &mut now.reason, None);
    let lacks = match (now.way, now.reason.trim()) {
        (None, _) => "Choose one of the four ways above.",
        (_, "") => "Say why: without a reason it is not written down.",
        _ => "",
    };
    ui.label(RichText::new(lacks).font(theme::small()).color(t.soft));
    before(ui, t, sheet);
    enter
}

/// What is said of what stands in a field.
struct Beside {
    text: String,
    /// It cannot be read, and nothing is written down.
    is_wrong: bool,
}

impl Beside {
    fn wrong(text: String) -> Self {
        Self { text, is_wrong: true }
    }
}

/// A field with its name in front, and below it what is said of what stands in it; whether Enter was pressed in it.
fn field(ui: &mut Ui, t: &Tokens, name: &str, hint: &str, text: &mut String, beside: Option<Beside>) -> bool {
    let row = ui.horizontal(|ui| {
        let layout = egui::Layout::left_to_right(egui::Align::Center);
        ui.allocate_ui_with_layout(Vec2::new(128.0, TARGET), layout, |ui| {
            ui.set_min_width(128.0);
            ui.label(name);
        });
        let field = TextEdit::singleline(text)
            .hint_text(hint)
            .char_limit(500)
            .desired_width(ui.available_width() - 8.0)
            .min_size(Vec2::new(0.0, TARGET))
            .align(egui::Align2::LEFT_CENTER);
        named(ui.add(field), name)
    });
    let response = row.inner;
    if let Some(beside) = beside {
        let text = format!("{}.", wording::sentence(&beside.text));
        let told = ui.add(Label::new(RichText::new(&text).font(theme::small()).color(t.warm)).wrap());
        if beside.is_wrong {
            heard::wrong(&response, &told, &text);
        } else {
            heard::described(&response, &text);
        }
    }
    response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter))
}

/// What was said before, the last first.
fn before(ui: &mut Ui, t: &Tokens, sheet: &Sheet) {
    if sheet.directions.is_empty() {
        return;
    }
    let title = format!("Said before: {}", wording::count(sheet.directions.len(), "time", "times"));
    fold::behind(ui, t, &title, "directions before", |ui| {
        for said in sheet.directions.iter().rev() {
            let on = said.on.as_ref().map_or_else(|| "no day".to_owned(), Clone::clone);
            let text = format!("{on}: {}. {}", said.way.words(), wording::sentence(&said.reason));
            ui.add(Label::new(RichText::new(text).font(theme::small())).wrap());
        }
    });
}
