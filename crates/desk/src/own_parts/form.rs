//! The form for a part of the user's own: each field with its unit, checked while it is typed.

use egui::accesskit::Role as Access;
use egui::{Align, Button, ComboBox, Label, Layout, RichText, ScrollArea, TextEdit, Ui, Vec2};
use knockon_core::library::Role;
use knockon_core::phrase::Phrase;
use knockon_core::showing::{self, Measure};

use crate::access::heard;
use crate::app::view::Action;
use crate::look::text::named;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, HEAD, TARGET, Tokens};
use crate::own_parts::draft::Draft;
use crate::own_parts::field::{Field, PoolRow};
use crate::own_parts::shelf::Shelf;
use crate::own_parts::state::Step;
use crate::wording;

/// Width of what stands before a field.
const NAME: f32 = 200.0;
/// Width of a field.
const FIELD: f32 = 220.0;

/// What the form knows besides the draft.
pub struct Form<'a> {
    /// Names and kinds of the library.
    pub shelf: &'a Shelf<'a>,
    /// The place the part is for, as shown.
    pub place: &'a str,
    /// Currency of a price without one.
    pub currency: &'a str,
    /// The system quantities are shown in.
    pub measure: Measure,
}

impl Form<'_> {
    /// Draws the form.
    pub fn show(&self, ui: &mut Ui, t: &Tokens, draft: &mut Draft, fresh: &mut bool) -> Vec<Action> {
        let mut actions = Vec::new();
        // Enter in a field saves, as in any form; the field gives the keyboard up in the same frame
        let find = ui.memory(|m| m.has_focus(crate::bars::top::find_id()));
        let enter = ui.ctx().text_edit_focused() && !find && ui.input(|i| i.key_pressed(egui::Key::Enter));
        if enter && draft.troubles(self.currency) == 0 {
            actions.push(Action::Parts(Step::Save));
        }
        self.head(ui, t, draft, &mut actions);
        ScrollArea::vertical().id_salt(("part form", &draft.position, &draft.id)).auto_shrink(false).show(
            ui,
            |ui| {
                ui.set_width(ui.available_width());
                self.first(ui, t, draft, fresh);
                self.ports(ui, t, draft);
                self.figures(ui, t, draft);
                self.pools(ui, t, draft);
                self.rest(ui, t, draft);
                ui.add_space(16.0);
            },
        );
        actions
    }

    fn head(&self, ui: &mut Ui, t: &Tokens, draft: &Draft, actions: &mut Vec<Action>) {
        ui.add_space(2.0);
        let title = if draft.id.is_some() { "Change a part" } else { "A new part" };
        heard::heading(ui, 2, RichText::new(format!("{title} for: {}", self.place)).font(strong(HEAD)));
        ui.horizontal_wrapped(|ui| {
            let n = draft.troubles(self.currency);
            let save = ui.add_enabled(n == 0, Button::new("Save the part").min_size(Vec2::new(0.0, TARGET)));
            if save.on_disabled_hover_text("Fields that cannot be read yet say so beside them").clicked() {
                actions.push(Action::Parts(Step::Save));
            }
            if ui.button("Throw away what was typed").clicked() {
                actions.push(Action::Parts(Step::Drop));
            }
            if let Some(id) = &draft.id
                && ui.button("Take it out of the sheet").clicked()
            {
                actions.push(Action::Parts(Step::Remove(id.clone())));
            }
            if n > 0 {
                let text = wording::count(n, "field wants", "fields want");
                ui.colored_label(t.soft, format!("{text} a value that can be read"));
            }
        });
        ui.separator();
    }

    fn first(&self, ui: &mut Ui, t: &Tokens, draft: &mut Draft, fresh: &mut bool) {
        if draft.id.is_none() {
            self.start(ui, draft);
        }
        let trouble = draft.name_trouble();
        let hint = format!("{} from the shed", self.place);
        let field = line(ui, t, "Name", "Name of the part", &mut draft.name, &hint, trouble, None);
        if std::mem::take(fresh) {
            field.request_focus();
        }
        let (trouble, note) = match draft.price(self.currency) {
            Ok(money) => (None, Some(wording::price(Some(&money)))),
            Err(why) => (Some(why), None),
        };
        line(ui, t, "Price", "Price of the part", &mut draft.price, "45.00", trouble, note);
        let trouble = draft.hours().err();
        line(ui, t, "Hours to fit", "Hours to fit the part", &mut draft.hours, "1.5", trouble, None);
        let trouble = draft.supplier_trouble();
        line(ui, t, "Supplier", "Supplier of the part", &mut draft.supplier, "", trouble, None);
    }

    fn start(&self, ui: &mut Ui, draft: &mut Draft) {
        let starts = self.shelf.starts(&draft.class);
        let now = draft.start.as_ref().and_then(|id| starts.iter().find(|(s, _)| s == id));
        let now = now.map_or("nothing", |(_, name)| name.as_str()).to_owned();
        let mut pick = None;
        ui.horizontal(|ui| {
            before(ui, "Starts as a copy of");
            let choice = ComboBox::from_id_salt("start of the part")
                .selected_text(&now)
                .width(FIELD * 1.8)
                .truncate()
                .show_ui(ui, |ui| {
                    for (id, name) in &starts {
                        if ui.selectable_label(draft.start.as_ref() == Some(id), name).clicked() {
                            pick = Some(id.clone());
                        }
                    }
                });
            heard::closed_list(&choice.response, "Starts as a copy of", &now);
        });
        if let Some(id) = pick {
            draft.start_from(self.shelf, &id);
        }
    }

    fn ports(&self, ui: &mut Ui, t: &Tokens, draft: &mut Draft) {
        for port in &mut draft.ports {
            let does = match port.role {
                Role::Plain => "",
                Role::Give => ", gives",
                Role::Take => ", takes",
            };
            section(ui, &format!("{} ({}{does})", wording::sentence(&port.name), port.kind));
            for field in &mut port.fields {
                let words = port.words.get(&field.id).map_or(&[][..], Vec::as_slice);
                self.field(ui, t, &port.name, field, words);
            }
        }
    }

    fn figures(&self, ui: &mut Ui, t: &Tokens, draft: &mut Draft) {
        if draft.figures.is_empty() {
            return;
        }
        section(ui, "Measured figures");
        for field in &mut draft.figures {
            self.field(ui, t, "the part", field, &[]);
        }
    }

    fn field(&self, ui: &mut Ui, t: &Tokens, of: &str, field: &mut Field, words: &[String]) {
        let trouble = field.trouble_among(words);
        let note = showing::other(&field.text, self.measure).map(|other| {
            // the field has it as typed: beside it stands the other system
            let here = showing::show(&field.text, self.measure);
            format!("= {}", if here == field.text.trim() { other } else { here })
        });
        // a wire's cross-section has no other system, but a gauge
        let gauge = || showing::reading_other(&field.text, Measure::Metric).map(|gauge| format!("= {gauge}"));
        let note = note.or_else(gauge);
        let note =
            note.or_else(|| (field.text.trim().is_empty() && field.optional).then(|| "not given".to_owned()));
        let access = format!("{} of {of}", field.name);
        let name = wording::sentence(&field.name);
        let response = line(ui, t, &name, &access, &mut field.text, "", trouble, note);
        if response.changed() {
            field.touched = true;
        }
        if !field.how.is_empty() {
            response.on_hover_text(wording::sentence(&Phrase::how(&field.how).say(self.measure)));
        }
    }

    fn pools(&self, ui: &mut Ui, t: &Tokens, draft: &mut Draft) {
        section(ui, "Shared with other parts");
        let mut gone = None;
        for (i, row) in draft.pools.iter_mut().enumerate() {
            ui.horizontal(|ui| {
                ui.allocate_ui_with_layout(
                    Vec2::new(NAME, TARGET),
                    Layout::left_to_right(Align::Center),
                    |ui| {
                        ui.set_min_width(NAME);
                        let word = if row.gives { "gives" } else { "takes" };
                        let choice = ComboBox::from_id_salt(("pool does", i))
                            .selected_text(word)
                            .width(64.0)
                            .show_ui(ui, |ui| {
                                ui.selectable_value(&mut row.gives, false, "takes");
                                ui.selectable_value(&mut row.gives, true, "gives");
                            });
                        let name = format!("Gives or takes {}", row.field.name);
                        heard::closed_list(&choice.response, &name, word);
                        ui.add(Label::new(&row.field.name).wrap());
                    },
                );
                let trouble = row.field.trouble();
                let note = showing::other(&row.field.text, self.measure).map(|other| format!("= {other}"));
                let access = format!("{} of the part", row.field.name);
                let response = entry(ui, t, &access, &mut row.field.text, "", trouble.is_some());
                if response.changed() {
                    row.field.touched = true;
                }
                let drop = ui.button("Take out");
                drop.widget_info(|| {
                    egui::WidgetInfo::labeled(Access::Button, true, format!("Take out {}", row.field.name))
                });
                if drop.clicked() {
                    gone = Some(i);
                }
                after(ui, t, &response, &row.field.text, trouble, note);
            });
        }
        if let Some(i) = gone {
            draft.pools.remove(i);
        }
        let mut new = None;
        ui.horizontal(|ui| {
            before(ui, "");
            let choice = ComboBox::from_id_salt("add a pool")
                .selected_text("Add what it gives or takes…")
                .width(FIELD)
                .show_ui(ui, |ui| {
                    for (id, name) in self.shelf.pools() {
                        if !draft.pools.iter().any(|row| row.field.id == id)
                            && ui.selectable_label(false, name).clicked()
                        {
                            new = self.shelf.pool(&id);
                        }
                    }
                });
            heard::closed_list(&choice.response, "Add what the part gives or takes", "");
        });
        if let Some(field) = new {
            draft.pools.push(PoolRow { gives: false, field });
        }
    }

    /// What was copied and has no field of its own: seen, and to be taken out.
    fn rest(&self, ui: &mut Ui, t: &Tokens, draft: &mut Draft) {
        let rest = &mut draft.rest;
        if rest.needs.is_empty() && rest.advises.is_empty() && rest.offers.is_empty() {
            return;
        }
        section(ui, "Copied with it");
        for (lead, table) in [
            ("needs", &mut rest.needs),
            ("is better with", &mut rest.advises),
            ("supplies", &mut rest.offers),
        ] {
            let mut gone = None;
            for (id, value) in table.iter() {
                let name = self.shelf.need(id);
                let value = if value == "present" { String::new() } else { format!(", {value}") };
                ui.horizontal(|ui| {
                    before(ui, &wording::sentence(lead));
                    let drop = ui.button("Take out");
                    drop.widget_info(|| {
                        egui::WidgetInfo::labeled(Access::Button, true, format!("Take out {name}"))
                    });
                    if drop.clicked() {
                        gone = Some(id.clone());
                    }
                    ui.add(Label::new(RichText::new(format!("{name}{value}")).color(t.ink)).wrap());
                });
            }
            if let Some(id) = gone {
                table.remove(&id);
            }
        }
    }
}

fn section(ui: &mut Ui, text: &str) {
    ui.add_space(8.0);
    ui.add(Label::new(RichText::new(text).font(strong(BODY))).wrap());
}

/// What stands before a field.
fn before(ui: &mut Ui, text: &str) {
    ui.allocate_ui_with_layout(Vec2::new(NAME, TARGET), Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_width(NAME);
        ui.add(Label::new(text).wrap());
    });
}

fn entry(
    ui: &mut Ui,
    t: &Tokens,
    access: &str,
    text: &mut String,
    hint: &str,
    wrong: bool,
) -> egui::Response {
    let empty = text.trim().is_empty();
    let field = TextEdit::singleline(text)
        .id_salt(("own part", access))
        .desired_width(FIELD - 12.0)
        .min_size(Vec2::new(0.0, TARGET))
        .align(egui::Align2::LEFT_CENTER)
        .hint_text(hint);
    let response = named(ui.add(field), access);
    if wrong && !empty {
        let pen = egui::Stroke::new(1.0, t.warm);
        ui.painter().rect_stroke(response.rect, 4, pen, egui::StrokeKind::Inside);
    }
    response
}

/// What stands after a field: what is wrong with it, else what it reads as.
fn after(
    ui: &mut Ui,
    t: &Tokens,
    field: &egui::Response,
    typed: &str,
    trouble: Option<String>,
    note: Option<String>,
) {
    match (trouble, note) {
        (Some(why), _) => {
            // what is only missing yet is no mistake
            let tone = if typed.trim().is_empty() { t.soft } else { t.warm };
            let said = wording::sentence(&why);
            let told = ui.add(Label::new(RichText::new(&said).font(theme::small()).color(tone)).wrap());
            if typed.trim().is_empty() {
                heard::described(field, &said);
            } else {
                heard::wrong(field, &told, &said);
            }
        }
        (None, Some(note)) => {
            heard::described(field, &note);
            ui.add(Label::new(RichText::new(note).font(theme::small()).color(t.soft)).wrap());
        }
        (None, None) => {}
    }
}

#[allow(clippy::too_many_arguments, reason = "one row of the form, its parts in the order they stand")]
fn line(
    ui: &mut Ui,
    t: &Tokens,
    name: &str,
    access: &str,
    text: &mut String,
    hint: &str,
    trouble: Option<String>,
    note: Option<String>,
) -> egui::Response {
    ui.horizontal(|ui| {
        before(ui, name);
        let response = entry(ui, t, access, text, hint, trouble.is_some());
        after(ui, t, &response, text, trouble, note);
        response
    })
    .inner
}
