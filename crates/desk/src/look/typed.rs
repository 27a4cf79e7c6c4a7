//! A field of a page: what is typed counts when it is left, and what cannot be read says why beside it.

use std::collections::BTreeMap;

use egui::{Align2, Key, Response, TextEdit, Ui, Vec2};

use crate::access::heard;
use crate::look::text::named;
use crate::look::tokens::{TARGET, Tokens};

/// So many letters a field takes; a text pasted by mistake is longer.
const MOST: usize = 200;

/// What a page keeps of its fields.
#[derive(Clone, Debug, Default)]
pub struct Fields {
    /// What is being typed, by their names.
    pub typed: BTreeMap<String, String>,
    /// What of it cannot be read: why, by their names.
    pub trouble: BTreeMap<String, String>,
    /// The field that gets the keyboard once it is drawn.
    pub wanted: Option<String>,
}

impl Fields {
    /// Why what is typed into a field cannot be read.
    pub fn trouble_of(&self, name: &str) -> Option<&str> {
        self.trouble.get(name).map(String::as_str)
    }
}

/// A field by its name for a reader.
pub struct Typed<'a> {
    /// Its name, the only one of the page.
    pub name: &'a str,
    /// What stands there.
    pub now: String,
    /// What is shown where nothing stands.
    pub hint: &'a str,
    /// Its width.
    pub wide: f32,
}

impl Typed<'_> {
    /// Draws it; what was typed, as it is read, once it is left or confirmed.
    pub fn show<T>(
        &self,
        ui: &mut Ui,
        t: &Tokens,
        state: &mut Fields,
        read: impl Fn(&str) -> Result<T, String>,
    ) -> Option<T> {
        self.show_then(ui, t, state, None, read)
    }

    /// The same; Enter leads on to the field `next`. It stays where nothing stands here, and where that cannot be read.
    pub fn show_then<T>(
        &self,
        ui: &mut Ui,
        t: &Tokens,
        state: &mut Fields,
        next: Option<&str>,
        read: impl Fn(&str) -> Result<T, String>,
    ) -> Option<T> {
        let (response, out) = self.draw(ui, state, Align2::LEFT_CENTER, read);
        if state.wanted.take_if(|wanted| *wanted == self.name).is_some() {
            response.request_focus();
        }
        let enter = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        if let (Some(next), true) = (next, enter) {
            let stays = state.trouble.contains_key(self.name) || out.is_none() && self.now.is_empty();
            state.wanted = Some(if stays { self.name } else { next }.to_owned());
        }
        if let Some(why) = state.trouble_of(self.name) {
            let told = ui.colored_label(t.warm, why);
            heard::wrong(&response, &told, why);
        }
        out
    }

    /// The same without what is wrong with it, which stands elsewhere.
    pub fn draw<T>(
        &self,
        ui: &mut Ui,
        state: &mut Fields,
        align: Align2,
        read: impl Fn(&str) -> Result<T, String>,
    ) -> (Response, Option<T>) {
        let mut text = state.typed.get(self.name).cloned().unwrap_or_else(|| self.now.clone());
        // its own, whatever comes and goes above it
        let field = TextEdit::singleline(&mut text)
            .id_salt(("typed", self.name))
            .hint_text(self.hint.to_owned())
            .char_limit(MOST)
            .desired_width(self.wide)
            .min_size(Vec2::new(0.0, TARGET))
            .align(align);
        let response = named(ui.add(field), self.name);
        if response.changed() {
            state.typed.insert(self.name.to_owned(), text.clone());
            state.trouble.remove(self.name);
        }
        let mut out = None;
        if response.lost_focus() {
            let kept = ui.input(|i| i.key_pressed(Key::Escape));
            state.trouble.remove(self.name);
            if let Some(text) = state.typed.remove(self.name).filter(|text| !kept && *text != self.now) {
                match read(text.trim()) {
                    Ok(value) => out = Some(value),
                    Err(why) => {
                        // it stays to be put right
                        state.typed.insert(self.name.to_owned(), text);
                        state.trouble.insert(self.name.to_owned(), why);
                    }
                }
            }
        }
        (response, out)
    }
}

/// A number above nothing, with a point or a comma; nothing where nothing is typed.
pub fn number(text: &str, what: &str) -> Result<Option<f64>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    let plain = text.replace(',', ".");
    let number = plain.trim_end_matches(|c: char| c.is_alphabetic() || c == ' ').parse::<f64>().ok();
    number
        .filter(|n| *n > 0.0 && *n <= 10_000.0)
        .map(Some)
        .ok_or_else(|| format!("Expected {what}, found \"{text}\"."))
}
