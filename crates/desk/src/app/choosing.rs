//! Choices of the owner: one-way steps ask once, in the place where they are chosen; all else happens at once.

use std::borrow::Cow;

use knockon_core::Edit;
use knockon_core::key::CompanionKey;
use knockon_core::library::Part;
use knockon_core::sheet::{Budget, Choice, Direction, Route};

use crate::app::App;
use crate::app::view::{Field, Page, Spot};
use crate::cures::rows::with_keys;
use crate::cures::search::Clearing;
use crate::cures::set::Choices;
use crate::dialogs::one_way::{Ask, FRESH, OneWay, Over, Place, one_way, one_ways};
use crate::wording;

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

    /// Says yes to several companions as one step. What cannot be undone is not said yes to in passing: it is named.
    pub(crate) fn accept_all(&mut self, keys: &[CompanionKey]) {
        let plan = self.document.sheet().plan.clone();
        let mut edits = Vec::new();
        let mut asked = 0;
        for c in self.assessment.companions.iter().filter(|c| keys.contains(&c.key) && wording::open(c)) {
            let step = OneWay::Accept(c.key.clone(), c.part.clone());
            let agreed = self.agreed.contains(&step);
            if !agreed && self.part_of(&step).is_some_and(|part| one_way(&part).is_some()) {
                asked += 1;
            } else {
                edits.push(Edit::Accept { plan: plan.clone(), key: c.key.clone(), yes: true });
            }
        }
        let n = edits.len();
        self.view.ask = None;
        if n > 0 {
            self.edit(&edits);
        }
        let left = match asked {
            0 => String::new(),
            1 => " One cannot be undone: say yes to it by itself.".to_owned(),
            n => format!(" {n} cannot be undone: say yes to each by itself."),
        };
        self.tell(format!("{} accepted.{left}", wording::count(n, "companion", "companions")));
    }

    /// Takes another part for a companion, unless it has to be asked for first; `None` is the cheapest again.
    pub(crate) fn pick(&mut self, key: CompanionKey, part: Option<String>) {
        let edit =
            Edit::Pick { plan: self.document.sheet().plan.clone(), key: key.clone(), part: part.clone() };
        self.step(part.map(|part| OneWay::Pick(key, part)), edit);
    }

    /// Brings over what another plan decides at a place, as one step. What cannot be undone is asked for first, on the board, all
    /// of it together. What was meant for another plan than the one that is open is not done.
    pub(crate) fn take_over(&mut self, over: Over) {
        if over.plan != self.document.sheet().plan {
            return;
        }
        let asks = |step: &OneWay| {
            let agreed = step.agreed().iter().all(|step| self.agreed.contains(step));
            if agreed { None } else { self.part_of(step) }
        };
        let parts: Vec<_> = over.steps().iter().filter_map(asks).map(Cow::into_owned).collect();
        let place = wording::place(&self.assessment, &over.position).to_owned();
        let parts: Vec<_> = parts.iter().map(|part| (place.as_str(), part)).collect();
        if let Some((title, words)) = one_ways(&parts) {
            self.go(Page::Board);
            let step = OneWay::Over(over);
            let from = std::mem::replace(&mut self.view.selected, step.spot());
            self.view.ask = Some(Ask { step, words, title, from, fresh: FRESH });
            return;
        }
        self.view.ask = None;
        self.edit(&over.edits());
    }

    /// Writes down where it goes from today on: what was said today already is put right, what was said on an
    /// earlier day is kept.
    pub(crate) fn direct(&mut self, direction: Direction) {
        let on = Some((self.today)().to_string());
        let mut directions = self.document.sheet().directions.clone();
        if directions.last().is_some_and(|last| last.on == on) {
            directions.pop();
        }
        // there is one budget: what is said here is what the money page holds the plan to
        let said =
            direction.budget.clone().filter(|said| self.document.sheet().budget.total.as_ref() != Some(said));
        let budget = said.map(|said| {
            let budget = Budget { total: Some(said), ..self.document.sheet().budget.clone() };
            Edit::SetBudget { budget: Box::new(budget) }
        });
        directions.push(Direction { on, ..direction });
        let edits: Vec<Edit> = [Edit::Direct { directions }].into_iter().chain(budget).collect();
        // what is refused stays to be put right
        if self.edited(&edits) {
            self.view.dialog = None;
        }
    }

    /// Heading and words of the question a step asks first; `None`: it is done at once.
    fn asks(&self, step: &OneWay) -> Option<(&'static str, Vec<String>)> {
        let agreed = step.agreed().iter().all(|step| self.agreed.contains(step));
        if agreed { None } else { self.part_of(step).and_then(|part| one_way(&part)) }
    }

    fn step(&mut self, step: Option<OneWay>, edit: Edit) {
        if let Some(step) = step
            && let Some((title, words)) = self.asks(&step)
        {
            let from = std::mem::replace(&mut self.view.selected, step.spot());
            self.view.ask = Some(Ask { step, words, title, from, fresh: FRESH });
            return;
        }
        self.view.ask = None;
        self.edit(&[edit]);
    }

    /// Chooses several routes as one step, unless some of them have to be asked for first.
    pub(crate) fn clear(&mut self, choices: Choices, place: Place) {
        let asks = |position: &String, step: &OneWay| {
            let part = self.part_of(step).filter(|_| !self.agreed.contains(step))?;
            Some((wording::place(&self.assessment, position).to_owned(), part))
        };
        let steps = choices.iter().map(|(position, choice)| OneWay::Route(position.clone(), choice.clone()));
        let parts: Vec<_> =
            choices.iter().zip(steps).filter_map(|((position, _), step)| asks(position, &step)).collect();
        let parts: Vec<_> = parts.iter().map(|(place, part)| (place.as_str(), &**part)).collect();
        if let Some((title, words)) = one_ways(&parts) {
            if place == Place::Line {
                self.go(Page::Board);
            }
            let (step, from) = (OneWay::Together(choices, place), self.view.selected.clone());
            self.view.ask = Some(Ask { step, words, title, from, fresh: FRESH });
            return;
        }
        self.view.ask = None;
        let plan = self.document.sheet().plan.clone();
        let n = choices.len();
        let edit = |(position, choice)| Edit::Choose { plan: plan.clone(), position, choice: Some(choice) };
        self.edit(&choices.into_iter().map(edit).collect::<Vec<_>>());
        if n > 1 {
            self.tell(format!("{n} changes are in the plan. Undo takes all of them back."));
        }
    }

    /// Takes what clears all clashes together.
    pub(crate) fn clear_all(&mut self) {
        let set = match &self.view.clearing {
            Clearing::Found(found) => found.sets.first().map(|set| set.choices.clone()),
            _ => None,
        };
        self.take_set(set, Place::Line);
    }

    /// Gives the keyboard to the survey of the selected place.
    pub(crate) fn survey_here(&mut self) {
        match self.view.selected {
            Some(Spot::Position(_)) => {
                self.view.page = Page::Board;
                self.view.to_field = Some(Field::Survey);
            }
            _ => self.tell("Select a place; its survey is in the panel beside it.".to_owned()),
        }
    }

    /// Takes one of the ways that clear what does not fit at the selected place.
    pub(crate) fn clear_here(&mut self, way: usize) {
        let set = match &self.view.clearing {
            Clearing::Found(found) => {
                let Some(knot) = with_keys(&self.assessment, self.view.selected.as_ref(), found) else {
                    self.tell(
                        "Select a place where something does not fit and a choice clears it.".to_owned(),
                    );
                    return;
                };
                // there are not so many ways
                let Some(set) = knot.sets.get(way) else { return };
                Some(set.choices.clone())
            }
            _ => None,
        };
        self.go(Page::Board);
        self.take_set(set, Place::Panel);
    }

    fn take_set(&mut self, set: Option<Choices>, place: Place) {
        match (set, &self.view.clearing) {
            (Some(set), _) => self.clear(set, place),
            (None, Clearing::Working(..)) => {
                self.tell("What clears it together is still being worked out.".to_owned());
            }
            (None, Clearing::Stopped) => self.work_out(),
            (None, _) if self.assessment.clashes.is_empty() => {
                self.tell("Everything fits: there is nothing to clear.".to_owned());
            }
            (None, _) => self.tell("No choice that the library offers clears any of it.".to_owned()),
        }
    }

    /// The answer to what was asked.
    pub(crate) fn answer(&mut self, yes: bool) {
        let Some(ask) = self.view.ask.take() else { return };
        self.view.cursor = ask.step.spot().or(self.view.cursor.take());
        if yes {
            self.agreed.extend(ask.step.agreed());
            match ask.step {
                OneWay::Together(choices, place) => self.clear(choices, place),
                OneWay::Over(over) => self.take_over(over),
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

    fn part_of(&self, step: &OneWay) -> Option<Cow<'_, Part>> {
        let id = match step {
            OneWay::Route(_, choice) => choice.part.as_ref().filter(|_| choice.route == Route::Convert)?,
            OneWay::Accept(_, part) | OneWay::Pick(_, part) => part,
            OneWay::Together(..) | OneWay::Over(_) => return None,
        };
        let own = self.catalogue().parts_of(self.document.sheet()).remove(id).map(Cow::Owned);
        own.or_else(|| self.catalogue().part(id).map(|entry| Cow::Borrowed(&*entry.part)))
    }
}
