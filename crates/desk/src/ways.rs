//! What can be done at a position: the routes on offer, and leaving it to the plan where the plan puts something there.

use knockon_core::assessment::{Assessment, Offer, PositionView};
use knockon_core::catalogue::PartEntry;
use knockon_core::change::{Change, of_choices};
use knockon_core::sheet::{Choice, Route};
use knockon_core::{Catalogue, Sheet, left_to_the_plan, offers};

use crate::view::Action;
use crate::words;

/// One of them, with its consequences against the plan as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// The consequences.
    pub offer: Offer,
    /// What is written into the plan; `None`: nobody chooses.
    pub choice: Option<Choice>,
    /// Nobody chooses, and the plan puts a part here or takes one off.
    pub left: bool,
}

impl Way {
    /// The action that takes it.
    pub fn take(&self) -> Action {
        Action::Choose(self.offer.position.clone(), self.choice.clone())
    }

    /// As shown.
    pub fn name(&self) -> String {
        match (self.left, self.offer.current) {
            (false, _) => words::sentence(&words::offer_name(&self.offer)),
            (true, true) => format!("Comes with the plan: {}", self.offer.name),
            (true, false) => format!("Leave it to the plan: {}", self.offer.name),
        }
    }
}

/// The ways at a position, and what each does to money that is spent already; a piece of work, so not for a frame.
pub fn at(sheet: &Sheet, catalogue: &Catalogue, position: &str) -> (Vec<Way>, Vec<Change>) {
    let plan = &sheet.plan;
    let left = left_to_the_plan(sheet, plan, catalogue, position);
    let said = sheet.plans.get(plan).and_then(|p| p.routes.get(position));
    let filled = left.is_some();
    let mut ways: Vec<Way> = left.into_iter().map(|offer| Way { offer, choice: None, left: true }).collect();
    ways.extend(offers(sheet, plan, catalogue, position).into_iter().map(|mut offer| {
        let keep = offer.route == Route::Keep;
        // where the plan fills a place, what was found stays only if that is said
        if keep && filled {
            offer.current = said.is_some_and(|choice| choice.route == Route::Keep);
        }
        let choice = Choice { route: offer.route, part: offer.part.clone() };
        Way { offer, choice: (!keep || filled).then_some(choice), left: false }
    }));
    let choices: Vec<_> = ways
        .iter()
        .map(|way| {
            let choice = if way.offer.current { said } else { way.choice.as_ref() };
            (position.to_owned(), choice.cloned())
        })
        .collect();
    let changes = of_choices(sheet, plan, catalogue, &choices);
    (ways, changes)
}

/// The kit whose box fills a position that nobody chose for, or that leaves it empty: where it is chosen, and its name.
pub fn kit_of(
    catalogue: &Catalogue,
    sheet: &Sheet,
    a: &Assessment,
    p: &PositionView,
) -> Option<(String, String)> {
    let vehicle = catalogue.vehicles.get(&sheet.vehicle)?;
    let class = vehicle.positions.iter().find(|entry| entry.id == p.id)?.class;
    let part = p.fitted.as_ref().and_then(|(id, _)| catalogue.part_names.get(id));
    let holds = |entry: &PartEntry| holds(catalogue, entry, part, class, 4);
    a.positions.iter().filter(|q| q.id != p.id && q.active).find_map(|q| {
        let (id, name) = q.fitted.as_ref()?;
        catalogue.part(id).is_some_and(holds).then(|| (q.id.clone(), name.clone()))
    })
}

/// A part is in the box of a kit, or the kit leaves the class empty where no part is meant; boxes lie in boxes.
fn holds(catalogue: &Catalogue, kit: &PartEntry, part: Option<u32>, class: u32, depth: u8) -> bool {
    let direct = match part {
        Some(part) => kit.contents.iter().any(|(held, _)| *held == part),
        None => kit.leaves_empty.contains(&class),
    };
    let inner = || kit.contents.iter().filter_map(|(held, _)| catalogue.parts.get(*held as usize));
    direct || depth > 0 && inner().any(|entry| holds(catalogue, entry, part, class, depth - 1))
}
