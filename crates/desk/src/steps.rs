//! Choices of the owner: one-way steps ask once, in the place where they are chosen; all else happens at once.

use knockon_core::Edit;
use knockon_core::key::CompanionKey;
use knockon_core::library::Part;
use knockon_core::sheet::{Choice, Route};

use crate::app::App;
use crate::one_way::{Ask, FRESH, OneWay, one_way};

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
    pub(crate) fn accept(&mut self, key: CompanionKey, yes: bool) {
        let part = self.assessment.companions.iter().find(|c| c.key == key && yes).map(|c| c.part.clone());
        let edit = Edit::Accept { plan: self.document.sheet().plan.clone(), key: key.clone(), yes };
        self.step(part.map(|part| OneWay::Accept(key, part)), edit);
    }

    /// Takes another part for a companion, unless it has to be asked for first; `None` is the cheapest again.
    pub(crate) fn pick(&mut self, key: CompanionKey, part: Option<String>) {
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
