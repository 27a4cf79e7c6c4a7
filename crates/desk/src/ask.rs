//! One-way steps ask once, in the place where they are chosen; everything else happens at once.

use egui::{Button, Label, RichText, Ui, Vec2};
use knockon_core::Edit;
use knockon_core::library::{Part, Reversible};
use knockon_core::sheet::{Choice, Route};

use crate::app::App;
use crate::theme::{self, strong};
use crate::tokens::{BODY, TARGET, Tokens};
use crate::view::{Action, Spot, View};
use crate::{icons, notes};

/// Frames in which the question is brought into sight: the list above it may still change its height.
const FRESH: u8 = 4;

/// A route that cannot be undone, or not without repair, waiting for a yes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ask {
    /// Where.
    pub position: String,
    /// What was chosen.
    pub choice: Choice,
    /// What cannot be undone, in words.
    pub words: Vec<String>,
    /// The heading.
    pub title: &'static str,
    /// Where the choice was made, to go back to.
    from: Option<Spot>,
    /// Frames it is still brought into sight; in the first of them it takes the keyboard.
    fresh: u8,
}

impl App {
    /// Chooses a route, unless it has to be asked for first.
    pub(crate) fn choose(&mut self, position: String, choice: Option<Choice>) {
        let sheet = self.document.sheet();
        let now = sheet.plans.get(&sheet.plan).and_then(|p| p.routes.get(&position));
        let same = now == choice.as_ref();
        if let Some(choice) = choice.as_ref().filter(|c| !same && !self.agreed.contains(&key(&position, c)))
            && let Some((title, words)) = self.part_of(choice).and_then(one_way)
        {
            let place = Spot::Position(position.clone());
            let from = self.view.selected.clone();
            self.view.selected = Some(place);
            self.view.ask = Some(Ask { position, choice: choice.clone(), words, title, from, fresh: FRESH });
            return;
        }
        self.view.ask = None;
        let edit = Edit::Choose { plan: self.document.sheet().plan.clone(), position, choice };
        self.edit(&[edit]);
    }

    /// The answer to what was asked.
    pub(crate) fn answer(&mut self, yes: bool) {
        let Some(ask) = self.view.ask.take() else { return };
        self.view.cursor = Some(Spot::Position(ask.position.clone()));
        if yes {
            self.agreed.insert(key(&ask.position, &ask.choice));
            self.choose(ask.position, Some(ask.choice));
        } else {
            self.view.cursor.clone_from(&ask.from);
            self.view.selected = ask.from;
        }
        // the keyboard goes back to the row
        self.view.reveal = self.view.cursor.is_some();
    }

    fn part_of(&self, choice: &Choice) -> Option<&Part> {
        let id = choice.part.as_ref().filter(|_| choice.route == Route::Convert)?;
        let own = self.document.sheet().parts.get(id);
        own.or_else(|| self.catalogue().part(id).map(|entry| &entry.part))
    }
}

fn key(position: &str, choice: &Choice) -> (String, Choice) {
    (position.to_owned(), choice.clone())
}

/// What cannot be undone; `None` where everything can.
fn one_way(part: &Part) -> Option<(&'static str, Vec<String>)> {
    let (title, what) = match part.reversible {
        Reversible::Yes => return None,
        Reversible::Partly => (
            "This can be undone only with repair",
            "The part comes off again, but what is drilled, cut or machined to fit it stays until it is repaired.",
        ),
        Reversible::No => {
            ("This cannot be undone", "Once the work is done, this place cannot be put back as it was found.")
        }
    };
    // what the part itself says is worth more than a general word
    let mut words = vec![if part.undone.is_empty() { what.to_owned() } else { part.undone.clone() }];
    if part.made && !part.note.is_empty() {
        words.push(part.note.clone());
    }
    words.push("The choice itself can be taken back until the work is begun.".to_owned());
    Some((title, words))
}

/// Draws the question under the route it is about.
pub fn question(ui: &mut Ui, t: &Tokens, view: &mut View, actions: &mut Vec<Action>) {
    let Some(ask) = view.ask.as_mut() else { return };
    let shown = ui.scope(|ui| {
        notes::bordered(ui, t, |ui| {
            ui.horizontal_top(|ui| {
                let (rect, _) = ui.allocate_exact_size(Vec2::splat(20.0), egui::Sense::hover());
                icons::caution(ui.painter(), rect.center(), t.warm);
                ui.add(Label::new(RichText::new(ask.title).font(strong(BODY)).color(t.warm)).wrap());
            });
            for line in &ask.words {
                ui.add(Label::new(RichText::new(line).font(theme::small())).wrap());
            }
            ui.horizontal_wrapped(|ui| {
                let yes = ui.add(Button::new("Choose it all the same").min_size(Vec2::new(0.0, TARGET)));
                if ask.fresh == FRESH {
                    yes.request_focus();
                }
                if yes.clicked() {
                    actions.push(Action::Answer(true));
                }
                if ui.add(Button::new("Leave it as it is").min_size(Vec2::new(0.0, TARGET))).clicked() {
                    actions.push(Action::Answer(false));
                }
            });
        });
    });
    if ask.fresh > 0 {
        ask.fresh -= 1;
        shown.response.scroll_to_me(None);
        ui.ctx().request_repaint();
    }
}

#[cfg(test)]
mod tests {
    use super::one_way;
    use knockon_core::library::{Part, Reversible};

    #[test]
    fn only_one_way_parts_have_something_to_say() {
        let mut part = Part { name: "Floor cover".to_owned(), ..Part::default() };
        assert_eq!(one_way(&part), None);
        part.reversible = Reversible::Partly;
        assert!(one_way(&part).is_some_and(|(title, _)| title.contains("repair")));
        part.reversible = Reversible::No;
        part.made = true;
        part.note = "The hole stays.".to_owned();
        let said = one_way(&part);
        assert!(said.is_some_and(|(title, words)| title.contains("cannot") && words.contains(&part.note)));
        part.undone = "The floor is cut; keep the piece.".to_owned();
        let said = one_way(&part);
        assert!(said.is_some_and(|(_, words)| words.first() == Some(&part.undone) && words.len() == 3));
    }
}
