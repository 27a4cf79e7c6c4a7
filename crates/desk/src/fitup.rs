//! The fit-up page: drawings to scale of what must fit together, with their inputs beside them.

mod brakes;
mod card;
mod charging;
mod driveline;
mod field;
mod figures;
mod fuel;
mod gears;
mod lift;
mod say;
mod scale;
mod shown;
mod tyre;
mod vehicle;
mod wheel;

use egui::accesskit::Role;
use egui::text::{LayoutJob, TextFormat};
use egui::{Button, Frame, Label, Margin, Panel, RichText, ScrollArea, Sense, Stroke, TextEdit, Ui, Vec2};
use knockon_core::figure::{self, Takes};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Catalogue, Sheet};

pub use card::Card;
use field::{Ask, Field, settle};
use shown::{Fact, Shown, sources};
use vehicle::Vehicle;

use crate::access::heard;
use crate::look::text::named;
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, HEAD, TARGET, Tokens};
use crate::wording;

/// Width of a field to write in.
const FIELD: f32 = 128.0;

/// What the page keeps.
#[derive(Clone, Debug, Default)]
pub struct FitUp {
    /// The card that lies open.
    pub card: Card,
    /// Formula and source are shown.
    sources: bool,
    /// What is looked for among the figures.
    find: String,
    /// Fields of each card that was opened.
    sets: Vec<(Card, Vec<Field>)>,
    /// What was written in before the program was ended, until the page is shown.
    waiting: Vec<Written>,
    /// Revision of the sheet and system of units the fields are of.
    of: Option<(u64, Measure)>,
}

/// A value that somebody wrote in: id of its card, id of its field, text.
pub type Written = (String, String, String);

impl FitUp {
    /// Fields that nobody wrote in follow the vehicle; all of them follow the system of units.
    fn refresh(&mut self, now: (u64, Measure), vehicle: impl Fn() -> Vec<(Card, Vec<Field>)>) {
        let known = self.sets.iter().any(|(card, _)| *card == self.card);
        if self.of == Some(now) && known {
            return;
        }
        let moved = self.of.is_none_or(|(revision, _)| revision != now.0);
        self.of = Some(now);
        if moved || !known {
            for (card, fresh) in vehicle() {
                match self.sets.iter_mut().find(|(of, _)| *of == card) {
                    None => self.sets.push((card, fresh)),
                    Some((_, fields)) => {
                        let old = std::mem::replace(fields, fresh);
                        keep(card, fields, old);
                    }
                }
            }
        }
        self.take_waiting();
        for field in self.sets.iter_mut().flat_map(|(_, fields)| fields) {
            field.show_in(now.1);
        }
    }

    /// Values that were written in, as they are kept in the journal.
    pub fn written(&self) -> Vec<Written> {
        let of = |(card, fields): &(Card, Vec<Field>)| -> Vec<Written> {
            let one = |f: &Field| Some((card.id(), f.id.to_owned(), f.written()?.to_owned()));
            fields.iter().filter_map(one).collect()
        };
        self.sets.iter().flat_map(of).chain(self.waiting.iter().cloned()).collect()
    }

    /// The page with what was written in, to be put into its fields when it is shown.
    pub fn with(card: Card, written: Vec<Written>) -> Self {
        Self { card, waiting: written, ..Self::default() }
    }

    /// Puts what was written in into the fields there are now.
    fn take_waiting(&mut self) {
        for (card, id, text) in std::mem::take(&mut self.waiting) {
            let Some(card) = Card::of_id(&card) else { continue };
            if !self.sets.iter().any(|(of, _)| *of == card) {
                self.sets.push((card, card.fields(None)));
            }
            let set = self.sets.iter_mut().find(|(of, _)| *of == card);
            let Some((card, fields)) = set else { continue };
            let Some(at) = fields.iter().position(|f| f.id == id) else { continue };
            put(*card, fields, at, text);
        }
    }

    fn fields(&mut self) -> Option<&mut Vec<Field>> {
        let card = self.card;
        self.sets.iter_mut().find(|(of, _)| *of == card).map(|(_, fields)| fields)
    }
}

/// What the user wrote in stays, where it still goes with the vehicle.
fn keep(card: Card, fields: &mut [Field], old: Vec<Field>) {
    for before in old.into_iter().filter(|f| f.touched) {
        let Some(at) = fields.iter().position(|f| f.id == before.id) else { continue };
        put(card, fields, at, before.text);
    }
}

/// Writes a text into a field as its user did.
fn put(card: Card, fields: &mut [Field], at: usize, text: String) {
    if let Some(field) = fields.get_mut(at) {
        field.text = text;
        field.typed_in();
    }
    settle(fields, at, |f| card.works(f));
}

/// Fields as a card begins: what the vehicle has; where that cannot be worked with, the example.
fn begin(card: Card, vehicle: &Vehicle<'_>) -> Vec<Field> {
    let fields = card.fields(Some(vehicle));
    if card.works(&fields).is_ok() { fields } else { card.fields(None) }
}

/// Draws the page.
pub fn page(
    ui: &mut Ui,
    a: &Assessment,
    sheet: &Sheet,
    catalogue: &Catalogue,
    revision: u64,
    measure: Measure,
    state: &mut FitUp,
) {
    let t = tokens(ui);
    let card = state.card;
    state.refresh((revision, measure), || {
        let vehicle = Vehicle::new(catalogue, sheet, a);
        // a figure begins with its examples, when it is opened
        let opened = Some(card).filter(|card| matches!(card, Card::Figure(_)));
        let cards = Card::ALL.into_iter().chain(opened);
        cards.map(|card| (card, begin(card, &vehicle))).collect()
    });
    let wide = ui.available_width();
    let plain = Frame::new().inner_margin(Margin { left: 0, right: 10, top: 0, bottom: 6 });
    let list_width = if wide > 1200.0 { 196.0 } else { 160.0 };
    Panel::left("fit-up cards")
        .exact_size(list_width)
        .resizable(false)
        .show_separator_line(false)
        .frame(plain)
        .show(ui, |ui| {
            list(ui, state);
        });
    let aside = Frame::new()
        .fill(t.sheet)
        .stroke(Stroke::new(1.0, t.line))
        .corner_radius(4)
        .inner_margin(Margin { left: 12, right: 6, top: 8, bottom: 8 });
    let fields_width = if wide > 1200.0 { 350.0 } else { 310.0 };
    let shown = state.fields().map_or(Err(String::new()), |fields| card.work(fields));
    let examples = state.fields().is_some_and(|fields| fields.iter().any(Field::example));
    // a drawing beside its fields would be a sliver: they stand under it
    let fields = if wide < 820.0 {
        Panel::bottom("fit-up fields below").exact_size(ui.available_height() * 0.48)
    } else {
        Panel::right("fit-up fields").exact_size(fields_width)
    };
    fields.resizable(false).show_separator_line(false).frame(aside).show(ui, |ui| {
        let facts = shown.as_ref().map_or_else(|_| Vec::new(), |shown| shown.facts(measure));
        inputs(ui, &t, state, measure, &facts);
    });
    let board = Frame::new().inner_margin(Margin { left: 0, right: 10, top: 0, bottom: 6 });
    egui::CentralPanel::default().frame(board).show(ui, |ui| match &shown {
        Ok(shown) if matches!(card, Card::Figure(_)) => {
            let rect = ui.available_rect_before_wrap();
            ui.painter().rect(rect, 4, t.sheet, Stroke::new(1.0, t.line), egui::StrokeKind::Inside);
            shown.draw(ui, &t, rect, measure);
        }
        Ok(shown) => sheet_of(ui, &t, card, shown.as_ref(), examples, measure),
        Err(why) => {
            ui.colored_label(t.warm, wording::sentence(why));
        }
    });
}

fn list(ui: &mut Ui, state: &mut FitUp) {
    heard::heading(ui, 2, RichText::new("Fit-up").font(strong(HEAD)));
    let field = TextEdit::singleline(&mut state.find)
        .id(egui::Id::unique("find a figure"))
        .desired_width(ui.available_width() - 8.0)
        .min_size(Vec2::new(0.0, TARGET))
        .hint_text("Find a figure");
    named(ui.add(field), "Find a figure");
    ScrollArea::vertical().id_salt("fit-up cards").auto_shrink(false).show(ui, |ui| {
        if !state.find.trim().is_empty() {
            let found = figure::search::search(&state.find);
            if found.is_empty() {
                ui.add(Label::new("No figure answers that. Other words may.").wrap());
            }
            for figure in found {
                choice(ui, state, Card::Figure(figure.id));
            }
            return;
        }
        for card in Card::ALL {
            choice(ui, state, card);
        }
        ui.add_space(6.0);
        for group in figure::Group::ALL {
            let figures: Vec<_> = figure::all().iter().filter(|f| f.group == group).collect();
            let heading = format!("{} ({})", group.name(), figures.len());
            egui::CollapsingHeader::new(heading).id_salt(("figures", group.name())).show(ui, |ui| {
                for figure in figures {
                    choice(ui, state, Card::Figure(figure.id));
                }
            });
        }
    });
}

fn choice(ui: &mut Ui, state: &mut FitUp, card: Card) {
    let width = ui.available_width();
    let height = if matches!(card, Card::Figure(_)) { TARGET } else { 34.0 };
    let button =
        Button::selectable(state.card == card, card.name()).min_size(Vec2::new(width, height)).wrap();
    let response = ui.add(button).on_hover_text(card.about());
    response.widget_info(|| egui::WidgetInfo::selected(Role::Button, true, state.card == card, card.name()));
    if response.clicked() {
        state.card = card;
    }
}

/// The drawing with what comes of it below; what rests on examples is no verdict on the vehicle.
fn sheet_of(ui: &mut Ui, t: &Tokens, card: Card, shown: &dyn Shown, examples: bool, measure: Measure) {
    let facts = shown.facts(measure);
    let advice = shown.advice(measure);
    let (lead, font, tone) = match (examples, advice.due) {
        (true, _) => ("With the example figures", theme::body(), t.soft),
        (false, true) => ("To do", strong(BODY), t.warm),
        (false, false) => ("As it is", strong(BODY), t.ink),
    };
    let mut job = LayoutJob::default();
    job.append(&format!("{lead}: "), 0.0, TextFormat::simple(theme::body(), t.soft));
    job.append(&advice.text, 0.0, TextFormat::simple(font, tone));
    ui.add(Label::new(job).wrap());
    let room = ui.available_height();
    let lies = Frame::new().inner_margin(Margin { left: 4, right: 4, top: 6, bottom: 0 });
    Panel::bottom(("fit-up facts", card)).resizable(false).show_separator_line(false).frame(lies).show(
        ui,
        |ui| {
            // in a small window the drawing keeps its room, and the figures of less weight are scrolled to
            let most = (room * 0.3).max(84.0);
            let scroll = ScrollArea::vertical().id_salt(("fit-up facts", card));
            let scroll = scroll.max_height(most).min_scrolled_height(most);
            scroll.auto_shrink([false, true]).show(ui, |ui| figures(ui, t, &facts));
        },
    );
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), Sense::hover());
    response.widget_info(|| {
        let facts: Vec<String> = facts.iter().map(|f| format!("{} {}", f.name, f.text)).collect();
        egui::WidgetInfo::labeled(
            Role::Image,
            true,
            format!("Drawing of {}. {}; {lead}: {}", card.name(), facts.join("; "), advice.text),
        )
    });
    let paint = ui.painter_at(rect);
    paint.rect(rect, 4, t.sheet, Stroke::new(1.0, t.line), egui::StrokeKind::Inside);
    shown.draw(ui, t, rect, measure);
}

/// What came of the inputs, in as many columns as there is room for; formula and source under the pointer.
fn figures(ui: &mut Ui, t: &Tokens, facts: &[Fact]) {
    let columns = if ui.available_width() > 560.0 { 2 } else { 1 };
    let each = facts.len().div_ceil(columns).max(1);
    ui.columns(columns, |columns| {
        for (ui, facts) in columns.iter_mut().zip(facts.chunks(each)) {
            ui.spacing_mut().item_spacing.y = 3.0;
            ui.with_layout(egui::Layout::top_down(egui::Align::LEFT), |ui| {
                for fact in facts {
                    let mut job = LayoutJob::default();
                    job.append(&format!("{}: ", fact.name), 0.0, TextFormat::simple(theme::body(), t.soft));
                    let tone = if fact.warm { t.warm } else { t.ink };
                    job.append(&fact.text, 0.0, TextFormat::simple(strong(BODY), tone));
                    let label = ui.add(Label::new(job).wrap().sense(Sense::hover()));
                    if let Some(figure) = knockon_core::figure::find(fact.figure) {
                        label.on_hover_text(format!("{}. Source: {}", figure.formula, figure.source));
                    }
                }
            });
        }
    });
}

fn inputs(ui: &mut Ui, t: &Tokens, state: &mut FitUp, measure: Measure, facts: &[Fact]) {
    let card = state.card;
    ui.add(
        Label::new(RichText::new(wording::sentence(card.about())).font(theme::small()).color(t.soft)).wrap(),
    );
    let mut back = false;
    ui.horizontal_wrapped(|ui| {
        let label = if state.sources { "Hide formula and source" } else { "Formula and source" };
        if ui.button(label).clicked() {
            state.sources = !state.sources;
        }
        let touched = state.fields().is_some_and(|fields| fields.iter().any(|f| f.touched));
        back = touched
            && ui
                .button("Back to the start")
                .on_hover_text("What the vehicle has, else the example")
                .clicked();
    });
    if back {
        state.sets.retain(|(of, _)| *of != card);
        return;
    }
    ScrollArea::vertical().id_salt(("fit-up fields", card, state.sources)).auto_shrink(false).show(
        ui,
        |ui| {
            if state.sources {
                for figure in sources(facts) {
                    ui.add_space(4.0);
                    ui.add(Label::new(RichText::new(figure.name).font(strong(BODY))).wrap());
                    ui.add(Label::new(figure.formula).wrap());
                    ui.add(
                        Label::new(
                            RichText::new(format!("Source: {}", figure.source))
                                .font(theme::small())
                                .color(t.soft),
                        )
                        .wrap(),
                    );
                }
                ui.separator();
            }
            let Some(fields) = state.fields() else { return };
            let mut changed = None;
            for (i, field) in fields.iter_mut().enumerate() {
                if one(ui, t, card, field, measure) {
                    field.typed_in();
                    changed = Some(i);
                }
            }
            if let Some(i) = changed {
                settle(fields, i, |f| card.works(f));
            }
        },
    );
}

/// A field with its name before it and, below, where its value is from or what is wrong with it.
fn one(ui: &mut Ui, t: &Tokens, card: Card, field: &mut Field, measure: Measure) -> bool {
    if let Ask::Input(Takes::Choice(words)) = field.ask {
        return one_of(ui, t, card, field, words);
    }
    let wide = match field.ask {
        Ask::Curve | Ask::Ratios | Ask::Outline => true,
        Ask::Input(takes) => matches!(takes, Takes::Several(_) | Takes::Pairs(..)),
        _ => false,
    };
    let room = ui.available_width() - 4.0;
    let name = |ui: &mut Ui, width: f32| {
        let size = Vec2::new(width, TARGET);
        ui.allocate_ui_with_layout(size, egui::Layout::left_to_right(egui::Align::Center), |ui| {
            ui.set_min_width(width);
            ui.add(Label::new(&*field.name).wrap());
        });
    };
    let edit = |ui: &mut Ui, text: &mut String, width: f32| {
        let edit = TextEdit::singleline(text)
            .id_salt(("fit-up", card, field.id))
            .desired_width(width - 12.0)
            .min_size(Vec2::new(0.0, TARGET))
            .align(egui::Align2::LEFT_CENTER);
        let response = named(ui.add(edit), &field.name);
        if field.trouble.is_some() {
            ui.painter().rect_stroke(response.rect, 4, Stroke::new(1.0, t.warm), egui::StrokeKind::Inside);
        }
        response
    };
    let mut text = field.text.clone();
    let response = if wide {
        ui.add(Label::new(&*field.name).wrap());
        edit(ui, &mut text, room)
    } else {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            name(ui, room - FIELD - 6.0);
            edit(ui, &mut text, FIELD)
        })
        .inner
    };
    let (note, tone) = match (&field.trouble, field.touched, &field.of) {
        (Some(why), ..) => {
            (format!("{}; drawn with {}", wording::sentence(why), field.drawn(measure)), t.warm)
        }
        (None, true, _) => ("Written in by you".to_owned(), t.soft),
        (None, false, Some(of)) => (format!("From {of}"), t.soft),
        (None, false, None) => (field.note().to_owned(), t.soft),
    };
    let note = if field.meaning.is_empty() {
        note
    } else {
        format!("{}. {}", wording::sentence(field.meaning), wording::sentence(&note))
    };
    ui.spacing_mut().item_spacing.y = 1.0;
    let told = ui.add(Label::new(RichText::new(&note).font(theme::small()).color(tone)).wrap());
    if field.trouble.is_some() {
        heard::wrong(&response, &told, &note);
    } else {
        heard::described(&response, &note);
    }
    parts(ui, t, &field.parts);
    ui.spacing_mut().item_spacing.y = 6.0;
    ui.add_space(6.0);
    field.text = text;
    response.changed()
}

/// A field that takes one of some words.
fn one_of(ui: &mut Ui, t: &Tokens, card: Card, field: &mut Field, words: &[&str]) -> bool {
    let mut text = field.text.clone();
    ui.horizontal(|ui| {
        let room = ui.available_width() - FIELD - 10.0;
        ui.allocate_ui_with_layout(
            Vec2::new(room, TARGET),
            egui::Layout::left_to_right(egui::Align::Center),
            |ui| {
                ui.set_min_width(room);
                ui.add(Label::new(&*field.name).wrap());
            },
        );
        let list = egui::ComboBox::from_id_salt(("fit-up", card, field.id)).width(FIELD - 12.0);
        let shown = list.selected_text(&*text).show_ui(ui, |ui| {
            for word in words {
                ui.selectable_value(&mut text, (*word).to_owned(), *word);
            }
        });
        heard::closed_list(&shown.response, &field.name, &text);
    });
    let note = crate::wording::sentence(field.meaning);
    ui.add(Label::new(RichText::new(note).font(theme::small()).color(t.soft)).wrap());
    ui.add_space(6.0);
    let changed = text != field.text;
    field.text = text;
    changed
}

/// What a value is the sum of, amounts to the right.
fn parts(ui: &mut Ui, t: &Tokens, parts: &[(String, String)]) {
    let small = |text: &str| RichText::new(text).font(theme::small()).color(t.soft);
    for (part, amount) in parts {
        ui.horizontal(|ui| {
            // rows to read, not to click
            ui.spacing_mut().interact_size.y = 14.0;
            let wide = ui.available_width() - 62.0;
            ui.allocate_ui_with_layout(
                Vec2::new(wide, 14.0),
                egui::Layout::left_to_right(egui::Align::Center),
                |ui| {
                    ui.set_min_width(wide);
                    ui.add(Label::new(small(part)).truncate());
                },
            );
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                ui.add_space(6.0);
                ui.label(small(amount));
            });
        });
    }
}
