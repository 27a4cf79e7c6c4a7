//! What to look at twice at a companion: its marks in the panel, and from where on something is dear or long.

use egui::{Label, RichText, TextEdit, Ui, Vec2};
use knockon_core::assessment::{Assessment, Companion};
use knockon_core::look_twice::{Bounds, marks};
use knockon_core::money;

use crate::app::view::{Action, View};
use crate::look::fold;
use crate::look::margin;
use crate::look::text::named;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};
use crate::wording;

/// The names of the two fields.
const DEAR: &str = "A line is dear from";
const LONG: &str = "It takes long from";

/// The marks of a companion in one line; empty where it has none.
pub fn line(c: &Companion, bounds: &Bounds) -> String {
    marks(c, bounds).iter().map(knockon_core::look_twice::Mark::words).collect::<Vec<_>>().join("; ")
}

/// The marks, a line each.
pub fn lines(ui: &mut Ui, t: &Tokens, c: &Companion, bounds: &Bounds) {
    for (n, mark) in marks(c, bounds).iter().enumerate() {
        margin::fact(ui, t, if n == 0 { "Look twice" } else { "" }, &wording::sentence(&mark.words()), t.ink);
    }
}

/// The reader's two figures, folded.
pub fn figures(ui: &mut Ui, t: &Tokens, a: &Assessment, view: &mut View, actions: &mut Vec<Action>) {
    ui.add_space(8.0);
    fold::behind(ui, t, "What counts as dear or long", "look twice", |ui| {
        let dear =
            view.bounds.dear.as_ref().map_or_else(String::new, |m| wording::amount(m.amount, &m.currency));
        if let Some(text) = field(ui, DEAR, &dear, "no mark", &mut view.bounds_typed) {
            let read = money::typed(&text, &a.totals.currency).map_err(|e| e.to_string());
            actions.push(Action::LookFrom(read.map(|dear| Bounds { dear, ..view.bounds.clone() })));
        }
        let long = view.bounds.long.map_or_else(String::new, |h| format!("{h}"));
        if let Some(text) = field(ui, LONG, &long, "no mark", &mut view.bounds_typed) {
            actions.push(Action::LookFrom(hours(&text).map(|long| Bounds { long, ..view.bounds.clone() })));
        }
        let how = "Kept for all sheets on this machine. Empty marks nothing.";
        ui.add(Label::new(RichText::new(how).font(theme::small()).color(t.soft)).wrap());
    });
}

/// A figure with its name before it; what was typed, once the field is left.
fn field(
    ui: &mut Ui,
    name: &'static str,
    stored: &str,
    hint: &str,
    typed: &mut Option<(&'static str, String)>,
) -> Option<String> {
    let mut text = typed
        .as_ref()
        .filter(|(of, _)| *of == name)
        .map_or_else(|| stored.to_owned(), |(_, text)| text.clone());
    let response = ui
        .horizontal(|ui| {
            margin::left(ui, 130.0, RichText::new(name).font(theme::small()));
            let edit = TextEdit::singleline(&mut text).id_salt(name).desired_width(96.0).hint_text(hint);
            let response = named(ui.add(edit.min_size(Vec2::new(0.0, TARGET))), name);
            if name == LONG {
                ui.label("hours");
            }
            response
        })
        .inner;
    if response.changed() {
        *typed = Some((name, text.clone()));
    }
    if response.lost_focus() && typed.take_if(|(of, _)| *of == name).is_some() && text != stored {
        return Some(text);
    }
    None
}

/// Hours as typed; none where nothing is.
fn hours(text: &str) -> Result<Option<f64>, String> {
    let bare = text.trim().trim_end_matches(['h', 'H']).trim().replace(',', ".");
    if bare.is_empty() {
        return Ok(None);
    }
    let wrong = || format!("\"{}\" is no time: expected hours of 0 or more, such as 4 or 1.5", text.trim());
    let read = bare.parse::<f64>().map_err(|_| wrong())?;
    if (0.0..=100_000.0).contains(&read) { Ok(Some(read)) } else { Err(wrong()) }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::hours;

    #[test]
    fn hours_as_people_type_them() {
        assert_eq!(hours(" 4 h ").unwrap(), Some(4.0));
        assert_eq!(hours("1,5").unwrap(), Some(1.5));
        assert_eq!(hours("").unwrap(), None);
        for wrong in ["-1", "NaN", "inf", "long", "1e9"] {
            assert!(hours(wrong).unwrap_err().contains("expected hours of 0 or more"), "{wrong}");
        }
    }
}
