//! What is not known, for the eye: which check waits, what to measure item by item, and what is at stake.

use egui::{Label, RichText, Ui};
use knockon_core::assessment::ToMeasure;

use crate::app::told::Told;
use crate::app::view::{Action, View};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, Tokens};
use crate::look::{icons, margin};
use crate::panel::measuring;
use crate::wording;

/// An unknown taken apart.
#[derive(Debug, PartialEq)]
pub struct Unknown {
    /// The check that waits.
    pub name: String,
    /// What to measure: each with how, where that is told.
    pub wanted: Vec<(String, Option<String>)>,
    /// What happens where the check does not hold, or why it is asked.
    pub stake: String,
}

impl Unknown {
    /// Takes an unknown of the assessment apart.
    pub fn of(a: &Told, m: &ToMeasure) -> Self {
        let name = a.checks.iter().find(|c| c.reason == Some(m.reason)).map(|c| c.name.clone());
        let (half, what) = (a.half_line(m.reason), m.what.say(a.measure));
        let name = name.unwrap_or_default();
        let told = wording::under(&name, &half);
        let rest = told.strip_prefix(what.as_str()).map(|rest| rest.trim_start_matches(['.', ';', ':', ' ']));
        let stake = rest.unwrap_or(told).to_owned();
        let list = what.strip_prefix("measure ").unwrap_or(&what);
        let wanted = list.split("; ").filter(|w| !w.is_empty()).map(item).collect();
        Self { name: if name.is_empty() { "to measure".to_owned() } else { name }, wanted, stake }
    }

    /// All of it in half a line.
    pub fn half(&self) -> String {
        let all: Vec<&str> = self.wanted.iter().map(|(what, _)| what.as_str()).collect();
        format!("not known: {}", all.join("; "))
    }
}

/// "drop of the shaft (plumb line, to 5 mm)": what, and how.
fn item(text: &str) -> (String, Option<String>) {
    match text.strip_suffix(')').and_then(|t| t.split_once(" (")) {
        Some((what, how)) => (what.to_owned(), Some(how.to_owned())),
        None => (text.to_owned(), None),
    }
}

/// The card of an unknown.
pub fn card(ui: &mut Ui, t: &Tokens, a: &Told, m: &ToMeasure, view: &mut View, actions: &mut Vec<Action>) {
    let unknown = Unknown::of(a, m);
    margin::bordered(ui, t, |ui| {
        let title = format!("{}: not known", wording::sentence(&unknown.name));
        margin::titled(ui, t, icons::Mark::Measure, &title);
        if !unknown.stake.is_empty() {
            ui.add(Label::new(wording::sentence(&unknown.stake)).wrap());
        }
        ui.label(RichText::new("What to measure").font(theme::small()).color(t.soft));
        for wanted in &m.wanted {
            measuring::wanted(ui, t, &m.key, wanted, view, actions);
        }
        // what neither a limit nor a joint reads can only be told
        for (what, how) in unknown.wanted.iter().filter(|_| m.wanted.is_empty()) {
            ui.add(Label::new(RichText::new(wording::sentence(what)).font(strong(BODY))).wrap());
            if let Some(how) = how {
                ui.add(Label::new(RichText::new(wording::sentence(how)).font(theme::small())).wrap());
            }
        }
        margin::why(ui, t, a, m.reason, &m.key);
    });
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::Unknown;
    use crate::app::told::Told;
    use knockon_core::assess;
    use knockon_core::showing::Measure;

    #[test]
    fn every_unknown_of_the_example_names_its_check_and_says_nothing_twice() {
        let sheet = knockon_store::sheets::parse("the example", knockon_store::library::example()).unwrap();
        let catalogue = knockon_store::library::shipped();
        let mut n = 0;
        for plan in sheet.plans.keys() {
            let a = Told::new(assess(&sheet, plan, &catalogue), Measure::Inch);
            for m in &a.to_measure {
                let unknown = Unknown::of(&a, m);
                assert!(a.checks.iter().any(|c| c.name == unknown.name), "{unknown:?}");
                assert!(!unknown.wanted.is_empty());
                for (what, _) in &unknown.wanted {
                    assert!(!unknown.stake.contains(what) && !what.starts_with("not known"), "{unknown:?}");
                }
                assert!(!unknown.stake.contains(&unknown.name), "{unknown:?}");
                n += 1;
            }
        }
        assert!(n > 0);
    }
}
