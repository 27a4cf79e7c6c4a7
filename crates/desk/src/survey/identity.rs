//! What it is: numbers and dates on the vehicle and in its papers, each with where it stands and how far it is trusted, and
//! what the counter shows against the wear; beside it what follows.

mod field;

use egui::accesskit::Role;
use egui::{Align2, Button, Frame, Label, Margin, Panel, RichText, ScrollArea, Sense, Ui, Vec2, WidgetInfo};
use knockon_core::Edit;
use knockon_core::identity::{Told, parted};
use knockon_core::sheet::{Identity, Trust};
use knockon_core::survey::Survey;

use crate::access::heard;
use crate::app::App;
use crate::app::view::Action;
use crate::look::text;
use crate::look::theme::{self, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::look::typed::{Fields, Typed};
use crate::survey::identity::field::Field;
use crate::wording;

/// What follows has this width beside the fields.
const BESIDE: f32 = 336.0;
/// A page with less width has it below.
const NARROW: f32 = 900.0;

/// The columns of a number: what stands above each, and its width where there is room for all of them.
const MARK: [(&str, f32); 5] = [
    ("where it stands", 150.0),
    ("of what", 84.0),
    ("as it stands there", 150.0),
    ("the day it tells", 106.0),
    ("what shows it", 220.0),
];
/// The columns of wear.
const WEAR: [(&str, f32); 3] = [("what is worn, and how", 260.0), ("at least", 112.0), ("at most", 112.0)];
/// Right of the columns stand how far it is trusted, and what takes the row out.
const BEHIND: f32 = 76.0 + TARGET + 2.0 * 6.0;
/// Columns narrower than this part of their width break into lines, and have no heads.
const NARROWEST: f32 = 0.6;

/// The rows, with what was typed into one of them in this frame.
struct Rows<'a> {
    identity: &'a Identity,
    /// Width of the columns of numbers, as a part of the whole one; `None`: they break into lines.
    marks: Option<f32>,
    /// The same of wear.
    wears: Option<f32>,
    told: &'a Told,
    fields: &'a mut Fields,
    changed: Option<Identity>,
    /// A row that was taken out, by one of its fields.
    gone: Option<Field>,
}

/// Draws it.
pub fn page(ui: &mut Ui, t: &Tokens, found: &Survey, fields: &mut Fields, actions: &mut Vec<Action>) {
    let (identity, told) = found.identity.clone().unwrap_or_default();
    let is_narrow = ui.available_width() < NARROW;
    let wanted = fields.wanted.clone();
    if !is_narrow {
        let frame = Frame::new().fill(t.sheet).inner_margin(Margin::same(12));
        Panel::right("beside the identity").frame(frame).resizable(false).exact_size(BESIDE).show(ui, |ui| {
            ScrollArea::vertical().id_salt("follows").auto_shrink(false).show(ui, |ui| {
                follows(ui, t, &identity, &told);
            });
        });
    }
    ScrollArea::vertical().id_salt("identity").auto_shrink(false).show(ui, |ui| {
        let (marks, wears) = (share(ui, &MARK), share(ui, &WEAR));
        let mut rows =
            Rows { identity: &identity, marks, wears, told: &told, fields, changed: None, gone: None };
        rows.vehicle(ui, t);
        let about = "Each where it stands, as it stands there. Rub it, do not grind it; a photo says more than a note.";
        heading(ui, "Numbers and dates", about);
        heads(ui, t, &MARK, marks, "how far trusted");
        rows_of(ui, t, identity.marks.len(), |ui, at| rows.mark(ui, t, at));
        let about = "What is worn beyond what the counter tells, and what that lets one believe.";
        heading(ui, "Wear for the whole distance", about);
        heads(ui, t, &WEAR, wears, "");
        rows_of(ui, t, identity.wear.len(), |ui, at| rows.wear(ui, t, at));
        let done = rows.done();
        // a row that is gone gets the keyboard no more
        fields.wanted.take_if(|field| Some(&*field) == wanted.as_ref());
        if let Some(now) = done.filter(|now| *now != identity) {
            let identity = (now != Identity::default()).then(|| Box::new(now));
            actions.push(Action::Edit(vec![Edit::Identify { identity }]));
        }
        if is_narrow {
            ui.add_space(10.0);
            follows(ui, t, &identity, &told);
        }
        ui.add_space(24.0);
    });
}

/// So many rows are drawn: who has more has another program's file, and it is kept as it is.
const ROWS: usize = 200;

/// The rows, and behind them an empty one.
fn rows_of(ui: &mut Ui, t: &Tokens, all: usize, mut row: impl FnMut(&mut Ui, usize)) {
    for at in 0..all.min(ROWS) {
        row(ui, at);
    }
    match all.checked_sub(ROWS) {
        Some(more) if more > 0 => drop(ui.colored_label(t.soft, format!("{more} more are in the file."))),
        _ => row(ui, all),
    }
}

/// How wide columns are that stand beside each other in the room there is, as a part of their whole width.
fn share(ui: &Ui, columns: &[(&str, f32)]) -> Option<f32> {
    let gaps: f32 = columns.iter().map(|_| ui.spacing().item_spacing.x).sum();
    let wide: f32 = columns.iter().map(|(_, own)| own).sum();
    let share = (ui.available_width() - gaps - BEHIND) / wide;
    (share >= NARROWEST).then_some(share.min(1.0))
}

/// What stands above the columns.
fn heads(ui: &mut Ui, t: &Tokens, columns: &[(&str, f32)], share: Option<f32>, last: &str) {
    let Some(share) = share else { return };
    ui.horizontal(|ui| {
        let font = theme::small();
        let last = Some((last, BEHIND)).filter(|(last, _)| !last.is_empty());
        let own = columns.iter().map(|(name, wide)| (*name, (wide * share).floor())).chain(last);
        for (name, wide) in own {
            let (rect, response) = ui.allocate_exact_size(Vec2::new(wide, 16.0), Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(Role::ColumnHeader, true, name));
            let shown = text::short(ui, name, &font, wide);
            ui.painter().text(rect.left_center(), Align2::LEFT_CENTER, shown, font.clone(), t.soft);
        }
    });
}

fn heading(ui: &mut Ui, title: &str, about: &str) {
    ui.add_space(10.0);
    heard::heading(ui, 3, RichText::new(title).font(strong(BODY + 1.0)));
    ui.add(Label::new(RichText::new(about).font(theme::small())).wrap());
    ui.add_space(2.0);
}

impl Rows<'_> {
    fn field(&mut self, ui: &mut Ui, t: &Tokens, field: Field, hint: &str, wide: f32) {
        let (name, now) = (field.name(), self.now());
        let typed = Typed { name: &name, now: field.shown(self.identity), hint, wide };
        let next = field.next().name();
        if let Some(now) = typed.show_then(ui, t, self.fields, Some(&next), |text| field.put(&now, text)) {
            self.changed = Some(now);
        }
    }

    /// The field of a column.
    fn cell(
        &mut self,
        ui: &mut Ui,
        t: &Tokens,
        field: Field,
        hint: &str,
        (column, share): (&(&str, f32), Option<f32>),
    ) {
        let wide = share.map_or(column.1, |share| (column.1 * share).floor());
        self.field(ui, t, field, hint, wide);
    }

    /// With what was typed in this frame already: a click elsewhere takes in a field and does something else at once.
    fn now(&self) -> Identity {
        self.changed.as_ref().unwrap_or(self.identity).clone()
    }

    /// What was changed in this frame. What is half typed in a row goes with it, and what stands below it goes up.
    fn done(self) -> Option<Identity> {
        let Some(gone) = self.gone else { return self.changed };
        let now = self.now();
        let of = |name: &String| Field::all(self.identity).into_iter().find(|field| field.name() == *name);
        let moved = |name: &String| Some(of(name)?.after(gone)?.name());
        let typed = std::mem::take(&mut self.fields.typed).into_iter();
        self.fields.typed = typed.filter_map(|(name, text)| Some((moved(&name)?, text))).collect();
        let trouble = std::mem::take(&mut self.fields.trouble).into_iter();
        self.fields.trouble = trouble.filter_map(|(name, why)| Some((moved(&name)?, why))).collect();
        Some(gone.without(&now))
    }

    /// When it was built and what the counter shows.
    fn vehicle(&mut self, ui: &mut Ui, t: &Tokens) {
        ui.horizontal_wrapped(|ui| {
            ui.label("Built");
            self.field(ui, t, Field::Built, "1958-06", 106.0);
            ui.add_space(10.0);
            ui.label("The counter shows");
            self.field(ui, t, Field::Counter, "41,000 miles", 120.0);
            ui.add_space(10.0);
            ui.label("in");
            self.field(ui, t, Field::Digits, "5", 32.0);
            ui.label("whole figures");
        });
    }

    /// A number or a date; behind the last an empty one.
    fn mark(&mut self, ui: &mut Ui, t: &Tokens, at: usize) {
        ui.horizontal_wrapped(|ui| {
            let share = self.marks;
            self.cell(ui, t, Field::Where(at), "frame stamp", (&MARK[0], share));
            let Some(mark) = self.identity.marks.get(at) else {
                ui.colored_label(t.soft, "another: where it stands");
                return;
            };
            self.cell(ui, t, Field::Of(at), "chassis", (&MARK[1], share));
            self.cell(ui, t, Field::Text(at), "its number", (&MARK[2], share));
            self.cell(ui, t, Field::Dated(at), "day, if any", (&MARK[3], share));
            self.cell(ui, t, Field::Evidence(at), "what shows it", (&MARK[4], share));
            if trust(ui, mark.trust, &format!("How far it is trusted, number {}", at + 1)) {
                let mut now = self.now();
                if let Some(mark) = now.marks.get_mut(at) {
                    mark.trust = next(mark.trust);
                }
                self.changed = Some(now);
            }
            if gone(ui, &format!("{}, number {}", mark.what, at + 1)) {
                self.gone = Some(Field::Where(at));
            }
        });
        if let Some((_, says)) = self.told.in_time.iter().find(|(of, _)| *of == at) {
            ui.horizontal(|ui| {
                ui.add_space(8.0);
                let tone = if says.is_fine() { t.soft } else { t.warm };
                ui.label(RichText::new(wording::sentence(&says.words())).font(theme::small()).color(tone));
            });
        }
    }

    /// A piece of wear; behind the last an empty one.
    fn wear(&mut self, ui: &mut Ui, t: &Tokens, at: usize) {
        ui.horizontal_wrapped(|ui| {
            let share = self.wears;
            self.cell(ui, t, Field::Worn(at), "pedal pads through to the steel", (&WEAR[0], share));
            let Some(wear) = self.identity.wear.get(at) else {
                ui.colored_label(t.soft, "another: what is worn, and how");
                return;
            };
            // where they stand beside each other a head says which is which
            for (column, field) in [(&WEAR[1], Field::Least(at)), (&WEAR[2], Field::Most(at))] {
                if share.is_none() {
                    ui.colored_label(t.soft, column.0);
                }
                self.cell(ui, t, field, "not known", (column, share));
            }
            if gone(ui, &format!("{}, wear {}", wear.what, at + 1)) {
                self.gone = Some(Field::Worn(at));
            }
        });
    }
}

impl App {
    /// Takes in what has been typed and not been left; what cannot be read stays in its field.
    pub(crate) fn take_identity(&mut self) {
        for (name, text) in self.view.walk.fields.typed.clone() {
            let identity = self.document.sheet().identity.clone().unwrap_or_default();
            let field = Field::all(&identity).into_iter().find(|field| field.name() == name);
            let Some(Ok(now)) = field.map(|field| field.put(&identity, &text)) else { continue };
            self.view.walk.fields.typed.remove(&name);
            if now != identity {
                let identity = (now != Identity::default()).then(|| Box::new(now));
                self.edit(&[Edit::Identify { identity }]);
            }
        }
    }
}

/// The word behind a word.
fn next(trust: Trust) -> Trust {
    match trust {
        Trust::Sure => Trust::Likely,
        Trust::Likely => Trust::Doubtful,
        Trust::Doubtful => Trust::Sure,
    }
}

/// The word as a button that turns to the next; whether it was clicked.
fn trust(ui: &mut Ui, trust: Trust, name: &str) -> bool {
    let response = ui.add(Button::new(trust.word()).min_size(Vec2::new(76.0, TARGET)));
    let label = format!("{name}: {}", trust.word());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    response.on_hover_text("Sure: seen and whole. Likely: not whole, or not where it should be. Doubtful: told, or worked on.").clicked()
}

/// The button that takes a row out; whether it was clicked.
fn gone(ui: &mut Ui, what: &str) -> bool {
    let response = ui.add(Button::new("×").min_size(Vec2::splat(TARGET)));
    let label = format!("Take out: {what}");
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    response.on_hover_text("Take it out").clicked()
}

/// What follows from it: what differs, what the chassis number says, how far it has gone.
fn follows(ui: &mut Ui, t: &Tokens, identity: &Identity, told: &Told) {
    heard::heading(ui, 3, RichText::new("What follows").font(strong(BODY + 1.0)));
    let mut line = |text: String, tone| {
        ui.add(Label::new(RichText::new(text).color(tone)).wrap());
        ui.add_space(4.0);
    };
    if *identity == Identity::default() {
        let text = "Nothing is written down yet. Type when it was built, what the counter shows, and each number with where it \
                    stands: the page says whether they agree with each other and in time, and how far the vehicle can have gone.";
        line(text.to_owned(), t.soft);
        return;
    }
    for (of, texts) in &told.differ {
        let text = format!(
            "{}: the numbers differ, {}. Look into the papers before money is spent.",
            wording::sentence(of),
            texts.join(" and ")
        );
        line(text, t.warm);
    }
    if told.differ.is_empty() {
        match told.compared {
            0 => {
                line("No thing has two numbers yet that could be held against each other.".to_owned(), t.soft)
            }
            _ => line("The numbers of each thing agree with each other.".to_owned(), t.ink),
        }
    }
    if let Some(chassis) = &told.chassis {
        line(format!("Chassis number: {chassis}."), t.ink);
    }
    if let Some(shown) = &identity.counter {
        line(format!("The counter shows {}.", parted(shown)), t.soft);
        let all = told.distances.iter().flatten().map(|far| parted(&format!("{far:.0} {}", told.unit)));
        let all = all.collect::<Vec<_>>().join(", or ");
        match (&told.believed, &told.distances) {
            (None, _) => line("The wear contradicts itself: look again.".to_owned(), t.warm),
            // why it cannot be read stands below
            (_, None) => {}
            (Some((None, None)), _) => {
                line("No wear is written down: how often it went round nobody knows.".to_owned(), t.soft);
            }
            (_, Some(_)) if all.is_empty() => {
                let text = "The wear fits none of what the counter can mean: it was changed, or turned.";
                line(text.to_owned(), t.warm);
            }
            (_, Some(_)) => line(format!("Believed: {all}."), t.ink),
        }
    }
    for problem in &told.problems {
        line(format!("Cannot be read: {problem}."), t.warm);
    }
    let last = "An engine that was rebuilt or exchanged proves nothing about springs and bushes. Whether numbers were worked on, and \
                whether it may be registered, the registering office and a specialist decide.";
    line(last.to_owned(), t.soft);
}
