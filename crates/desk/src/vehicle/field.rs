//! The fields of the page: what is typed counts once its field is left, and what cannot be taken stays and says why beside it.

use egui::{Key, Label, RichText, TextEdit, Ui, Vec2};
use serde::{Deserialize, Serialize};

use crate::access::heard;
use crate::app::App;
use crate::look::text::named;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};
use crate::vehicle::state::{Step, VehicleState};
use crate::vehicle::told::Told;
use crate::wording;

/// Most of a thing that sit at one place.
const MOST: u32 = 1000;
/// Most letters of a name.
const NAME: usize = 120;
/// Most letters of a sentence.
const SENTENCE: usize = 600;

/// A field of the page.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Field {
    /// Name of the vehicle.
    Name,
    /// About the vehicle.
    About,
    /// Name of a place, by id.
    Place(String),
    /// Where a place is.
    Where(String),
    /// How many sit there.
    Qty(String),
}

impl Field {
    /// Why what is typed cannot be taken; `None`: it can.
    pub fn trouble(&self, text: &str) -> Option<String> {
        let text = text.trim();
        match self {
            Self::Place(_) if text.is_empty() => Some("Expected a name, found nothing.".to_owned()),
            Self::Name | Self::Place(_) | Self::Where(_) => wording::no_line(text, NAME),
            Self::About => wording::no_line(text, SENTENCE),
            Self::Qty(_) => many(text).is_none().then(|| {
                let found = if text.is_empty() {
                    "nothing".to_owned()
                } else {
                    format!("\"{}\"", wording::begin(text))
                };
                format!("Expected a whole number from 1 to {MOST}, found {found}.")
            }),
        }
    }

    /// The place it is of.
    pub fn place(&self) -> Option<&String> {
        match self {
            Self::Name | Self::About => None,
            Self::Place(id) | Self::Where(id) | Self::Qty(id) => Some(id),
        }
    }

    /// What is asked for with a text that can be taken.
    fn step(&self, text: &str, told: &Told) -> Step {
        let text = text.trim().to_owned();
        match self {
            Self::Name => Step::Call(text, told.about.clone()),
            Self::About => Step::Call(told.name.clone(), text),
            Self::Place(id) => Step::Name(id.clone(), text),
            Self::Where(id) => Step::Where(id.clone(), text),
            Self::Qty(id) => Step::Qty(id.clone(), many(&text).unwrap_or(1)),
        }
    }
}

fn many(text: &str) -> Option<u32> {
    // a sign is none of a number that counts things
    let is_plain = text.chars().all(|c| c.is_ascii_digit());
    text.parse::<u32>().ok().filter(|n| is_plain && (1..=MOST).contains(n))
}

/// How a field stands on the page.
pub struct Look<'a> {
    /// What stands in it.
    pub now: &'a str,
    /// Its width.
    pub width: f32,
    /// Its name for a reader.
    pub name: &'a str,
    /// What is shown where nothing stands.
    pub hint: &'a str,
}

/// Draws a field, and behind it what is wrong with what is typed. What is asked for once it is left.
pub fn written(
    ui: &mut Ui,
    t: &Tokens,
    told: &Told,
    state: &mut VehicleState,
    field: &Field,
    look: &Look<'_>,
) -> Option<Step> {
    let mut text = state.typed.get(field).cloned().unwrap_or_else(|| look.now.to_owned());
    let edit = TextEdit::singleline(&mut text)
        .id_salt(("of the vehicle", look.name))
        .hint_text(look.hint)
        .desired_width(look.width.min(ui.available_width()))
        .min_size(Vec2::new(0.0, TARGET))
        .align(egui::Align2::LEFT_CENTER);
    let response = named(ui.add(edit), look.name);
    if response.changed() {
        state.typed.insert(field.clone(), text.clone());
    }
    let mut out = None;
    if response.lost_focus() && state.typed.contains_key(field) {
        // Esc leaves it as it was
        let kept = ui.input(|i| i.key_pressed(Key::Escape));
        if kept || field.trouble(&text).is_none() {
            state.typed.remove(field);
        }
        if !kept && field.trouble(&text).is_none() && text.trim() != look.now.trim() {
            out = Some(field.step(&text, told));
        }
    }
    let typed = state.typed.get(field);
    if let Some(why) = typed.and_then(|text| field.trouble(text)) {
        let line = ui.add(Label::new(RichText::new(&why).font(theme::small()).color(t.warm)).wrap());
        heard::wrong(&response, &line, &why);
    }
    out
}

impl App {
    /// Takes in what stands in the fields of the vehicle; what cannot be taken stays there.
    pub(crate) fn take_vehicle(&mut self) {
        let typed = self.view.vehicle.typed.clone();
        for (field, text) in typed.into_iter().filter(|(field, text)| field.trouble(text).is_none()) {
            let told = self.vehicle_told();
            self.view.vehicle.typed.remove(&field);
            let is_there =
                field.place().is_none_or(|id| self.assessment.positions.iter().any(|p| p.id == *id));
            if is_there {
                self.vehicle_field(field.step(&text, &told));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Field;

    #[test]
    fn what_cannot_be_taken_says_what_was_expected() {
        let qty = Field::Qty("tank".to_owned());
        for wrong in ["", "0", "-1", "+2", "1.5", "1,5", "x", "1001", "=2", "5000000000", "2 pcs"] {
            let why = qty.trouble(wrong).unwrap_or_default();
            assert!(why.starts_with("Expected a whole number from 1 to 1000, found "), "{wrong}: {why}");
        }
        for right in ["1", " 2 ", "1000"] {
            assert_eq!(qty.trouble(right), None);
        }
        let place = Field::Place("tank".to_owned());
        assert!(place.trouble("  ").is_some() && place.trouble("a\u{7}b").is_some());
        assert!(
            place.trouble(&"a".repeat(121)).is_some_and(|why| why.contains("at most 120 letters, found 121"))
        );
        assert_eq!(Field::Name.trouble(""), None, "as in the library");
        assert_eq!(place.trouble("Бак, hinten (½ voll) = 40 L"), None);
    }
}
