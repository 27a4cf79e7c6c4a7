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

/// A step that is asked for where it cannot be undone.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OneWay {
    /// A route at a position.
    Route(String, Choice),
    /// Yes to the part proposed for a companion: its key and the part.
    Accept(String, String),
    /// Another part for a companion: its key and the part.
    Pick(String, String),
}

impl OneWay {
    /// Where it is chosen.
    fn spot(&self) -> Spot {
        match self {
            Self::Route(position, _) => Spot::Position(position.clone()),
            Self::Accept(key, _) | Self::Pick(key, _) => Spot::Companion(key.clone()),
        }
    }

    /// What a yes is kept under: who took a part knowingly is not asked again when accepting it.
    fn agreed(&self) -> Self {
        match self {
            Self::Pick(key, part) => Self::Accept(key.clone(), part.clone()),
            other => other.clone(),
        }
    }
}

/// A step that cannot be undone, or not without repair, waiting for a yes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ask {
    /// What was chosen.
    pub step: OneWay,
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
        let changed = choice.clone().filter(|c| Some(c) != now);
        let edit = Edit::Choose { plan: sheet.plan.clone(), position: position.clone(), choice };
        self.step(changed.map(|c| OneWay::Route(position, c)), edit);
    }

    /// Says yes to a companion or takes it back, unless it has to be asked for first.
    pub(crate) fn accept(&mut self, key: String, yes: bool) {
        let part = self.assessment.companions.iter().find(|c| c.key == key && yes).map(|c| c.part.clone());
        let edit = Edit::Accept { plan: self.document.sheet().plan.clone(), key: key.clone(), yes };
        self.step(part.map(|part| OneWay::Accept(key, part)), edit);
    }

    /// Takes another part for a companion, unless it has to be asked for first; `None` is the cheapest again.
    pub(crate) fn pick(&mut self, key: String, part: Option<String>) {
        let edit =
            Edit::Pick { plan: self.document.sheet().plan.clone(), key: key.clone(), part: part.clone() };
        self.step(part.map(|part| OneWay::Pick(key, part)), edit);
    }

    fn step(&mut self, step: Option<OneWay>, edit: Edit) {
        if let Some(step) = step.filter(|s| !self.agreed.contains(&s.agreed()))
            && let Some((title, words)) = self.part_of(&step).and_then(one_way)
        {
            let from = self.view.selected.replace(step.spot());
            self.view.ask = Some(Ask { step, words, title, from, fresh: FRESH });
            return;
        }
        self.view.ask = None;
        self.edit(&[edit]);
    }

    /// The answer to what was asked.
    pub(crate) fn answer(&mut self, yes: bool) {
        let Some(ask) = self.view.ask.take() else { return };
        self.view.cursor = Some(ask.step.spot());
        if yes {
            self.agreed.insert(ask.step.agreed());
            match ask.step {
                OneWay::Route(position, choice) => self.choose(position, Some(choice)),
                OneWay::Accept(key, _) => self.accept(key, true),
                OneWay::Pick(key, part) => self.pick(key, Some(part)),
            }
        } else {
            self.view.cursor.clone_from(&ask.from);
            self.view.selected = ask.from;
        }
        // the keyboard goes back to the row
        self.view.reveal = self.view.cursor.is_some();
    }

    fn part_of(&self, step: &OneWay) -> Option<&Part> {
        let id = match step {
            OneWay::Route(_, choice) => choice.part.as_ref().filter(|_| choice.route == Route::Convert)?,
            OneWay::Accept(_, part) | OneWay::Pick(_, part) => part,
        };
        let own = self.document.sheet().parts.get(id);
        own.or_else(|| self.catalogue().part(id).map(|entry| &*entry.part))
    }
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

/// Draws the question under what it is about.
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
                let no = ui.add(Button::new("Leave it as it is").min_size(Vec2::new(0.0, TARGET)));
                // an Enter typed before the question was seen must not be a yes
                if ask.fresh == FRESH {
                    no.request_focus();
                }
                if no.clicked() {
                    actions.push(Action::Answer(false));
                }
                if ui.add(Button::new("Choose it all the same").min_size(Vec2::new(0.0, TARGET))).clicked() {
                    actions.push(Action::Answer(true));
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
