//! Values measured on this vehicle: typed where they are wanted, shown where checks rest on them, taken back at will.

use std::collections::BTreeMap;

use egui::{Button, Key, Label, RichText, TextEdit, Ui, Vec2};
use knockon_core::assessment::{Assessment, PositionView, Wanted};
use knockon_core::key::{CheckKey, FactKey};
use knockon_core::showing;
use knockon_core::value::Kind;
use knockon_core::{Edit, quantity};

use crate::access::heard;
use crate::app::view::{Action, Field as Wants, View};
use crate::look::margin::section;
use crate::look::text::named;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::own_parts::field::Field;
use crate::wording;

/// One value that a check wants: what, how, what is known of it, and a field for it. Several checks may want the same.
pub fn wanted(
    ui: &mut Ui,
    t: &Tokens,
    check: &CheckKey,
    w: &Wanted,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    ui.add(Label::new(RichText::new(wording::sentence(&w.name)).font(strong(BODY))).wrap());
    let small = |ui: &mut Ui, text: &str| {
        ui.add(Label::new(RichText::new(text).font(theme::small())).wrap());
    };
    if !w.part.is_empty() {
        small(ui, &format!("Of: {}", w.part));
    }
    if !w.how.is_empty() {
        small(ui, &wording::sentence(&w.how.say(view.measure)));
    }
    if let Some(other) = &w.instead {
        small(ui, &format!("Or the same of: {}", other.part));
    }
    if let Some(now) = &w.now {
        small(ui, &format!("Known so far: {}", showing::reading(&now.text(), view.measure)));
    }
    let asked = Asked { key: &w.key, name: &w.name, kind: w.kind, words: &w.words };
    ui.push_id(check, |ui| field(ui, t, &asked, "", view, actions));
}

/// Whether something is to be measured at a place.
pub fn is_asked(a: &Assessment, position: &str) -> bool {
    a.to_measure.iter().any(|m| m.positions.iter().any(|id| id == position) && !m.wanted.is_empty())
}

/// What has been measured for the checks of a place.
pub fn measured(
    ui: &mut Ui,
    t: &Tokens,
    a: &Assessment,
    p: &PositionView,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let here: Vec<_> = a.measured.iter().filter(|m| m.positions.contains(&p.id)).collect();
    if here.is_empty() {
        return;
    }
    section(ui, t, "Measured here");
    for m in here {
        let of = if m.part.is_empty() { String::new() } else { format!(", {}", m.part) };
        ui.add(Label::new(format!("{}{of}", wording::sentence(&m.name))).wrap());
        ui.horizontal(|ui| {
            let asked = Asked { key: &m.key, name: &m.name, kind: m.kind, words: &m.words };
            field(ui, t, &asked, &m.value, view, actions);
            let off = ui.add(Button::new("Take back").min_size(Vec2::new(0.0, TARGET)));
            if named(off, &format!("Take back {}", m.name)).clicked() {
                actions.push(set(&m.key, None));
            }
        });
    }
}

fn set(key: &FactKey, value: Option<serde_json::Value>) -> Action {
    Action::Edit(vec![Edit::SetFact { figure: key.clone(), value }])
}

/// Of what is typed in fields not left yet: each value that can be read and is new, by its key.
pub fn read(a: &Assessment, typed: &BTreeMap<FactKey, String>) -> Vec<(FactKey, Edit)> {
    let one = |(key, text): (&FactKey, &String)| {
        let mut wanted = a.to_measure.iter().flat_map(|m| &m.wanted);
        let known = a.measured.iter().find(|m| m.key == *key);
        let kind = known.map(|m| m.kind).or_else(|| wanted.find(|w| w.key == *key).map(|w| w.kind))?;
        if known.is_some_and(|m| m.value == text.trim()) {
            return None;
        }
        let typed = Field {
            id: key.to_string(),
            name: String::new(),
            kind,
            optional: true,
            how: String::new(),
            text: text.clone(),
            touched: true,
            signed: true,
        };
        let value = typed.json().filter(|_| typed.trouble().is_none())?;
        Some((key.clone(), Edit::SetFact { figure: key.clone(), value: Some(value) }))
    };
    typed.iter().filter_map(one).collect()
}

/// What a field asks for.
struct Asked<'a> {
    key: &'a FactKey,
    name: &'a str,
    kind: Kind,
    /// Words the library knows here.
    words: &'a [String],
}

/// A field for a value; it is taken once it is left and can be read. A word the library knows is one click.
fn field(
    ui: &mut Ui,
    t: &Tokens,
    asked: &Asked<'_>,
    stored: &str,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let Asked { key, name, kind, words: known } = *asked;
    let mut typed = Field {
        id: key.to_string(),
        name: name.to_owned(),
        kind,
        optional: true,
        how: String::new(),
        text: view.measuring.get(key).cloned().unwrap_or_else(|| stored.to_owned()),
        touched: true,
        signed: true,
    };
    ui.vertical(|ui| {
        let line = TextEdit::singleline(&mut typed.text)
            .id_salt(("measuring", key))
            .desired_width(180.0)
            .min_size(Vec2::new(0.0, TARGET))
            .align(egui::Align2::LEFT_CENTER)
            .hint_text(format!("such as {}", example(kind, known)));
        let response = named(ui.add(line), &format!("Measured: {name}"));
        if stored.is_empty() && view.takes(Wants::Measuring) {
            response.request_focus();
            response.scroll_to_me(None);
        }
        if response.changed() {
            view.measuring.insert(key.clone(), typed.text.clone());
        }
        // what cannot be read keeps the keyboard: the next keys are meant for the field, not for the board
        let refused = response.id.with("refused");
        if response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter)) && typed.trouble().is_some() {
            response.request_focus();
            ui.data_mut(|d| d.insert_temp(refused, typed.text.clone()));
        }
        let stands = ui.data(|d| d.get_temp::<String>(refused)).as_ref() == Some(&typed.text);
        let trouble = typed.trouble().filter(|_| !response.has_focus() || stands);
        if response.lost_focus() && ui.input(|i| i.key_pressed(Key::Escape)) {
            view.measuring.remove(key);
        } else if response.lost_focus() && trouble.is_none() {
            view.measuring.remove(key);
            if typed.text.trim() != stored {
                actions.extend(typed.json().map(|json| set(key, Some(json))));
            }
        } else if let Some(why) = trouble {
            let text = wording::sentence(&why);
            let told = ui.add(Label::new(RichText::new(&text).font(theme::small()).color(t.warm)).wrap());
            heard::wrong(&response, &told, &text);
        }
        if !known.is_empty() {
            ui.horizontal_wrapped(|ui| {
                for word in known.iter().filter(|word| *word != stored) {
                    let button = ui.add(Button::new(word).min_size(Vec2::new(0.0, TARGET)));
                    if named(button, &format!("Measured: {name}: {word}")).clicked() {
                        view.measuring.remove(key);
                        actions.push(set(key, Some(word.as_str().into())));
                    }
                }
            });
        }
    });
}

/// How such a value is written.
fn example(kind: Kind, known: &[String]) -> &str {
    use knockon_core::units::Dimension as D;
    match kind {
        Kind::Dimension(D::Length) => "12.5 mm, 1/2 in",
        Kind::Dimension(D::Mass) => "120 kg, 265 lb",
        Kind::Dimension(D::Pressure) => "4 psi, 28 kPa",
        Kind::Dimension(dimension) => quantity::example(dimension),
        Kind::Outline => "-90 mm: 176 mm; 40 mm: 176 mm",
        Kind::Curve => "1300 rpm: 17 A; 2400 rpm: 35 A",
        Kind::Thread => "M10x1.25, 3/8-24",
        Kind::Word => known.first().map_or("one word", String::as_str),
    }
}
