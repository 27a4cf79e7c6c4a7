//! What a step of the history is called.

use knockon_core::assessment::Assessment;
use knockon_core::described::Differs;
use knockon_core::edit::AsFound;
use knockon_core::key::{CompanionKey, FactKey};
use knockon_core::{Catalogue, Edit, Sheet};

use crate::wording;

/// The names a step is told with.
struct Names<'a> {
    sheet: &'a Sheet,
    a: &'a Assessment,
    catalogue: &'a Catalogue,
}

/// What some edits do, in a few words: the first of them, and how many more.
pub fn of(edits: &[Edit], sheet: &Sheet, a: &Assessment, catalogue: &Catalogue) -> String {
    let names = Names { sheet, a, catalogue };
    let accepts = edits.iter().filter(|e| matches!(e, Edit::Accept { yes: true, .. })).count();
    let routes = edits.iter().filter(|e| matches!(e, Edit::Choose { .. })).count();
    match edits {
        [] => "nothing".to_owned(),
        [one] => names.one(one),
        many if accepts == many.len() => format!("accept {accepts} companions"),
        many if routes == many.len() => {
            let place = |e: &Edit| match e {
                Edit::Choose { position, .. } => Some(names.place(position)),
                _ => None,
            };
            format!("{routes} changes: {}", many.iter().filter_map(place).collect::<Vec<_>>().join(", "))
        }
        [first, rest @ ..] => format!("{}, and {} more", names.one(first), rest.len()),
    }
}

impl Names<'_> {
    fn one(&self, edit: &Edit) -> String {
        match edit {
            Edit::Choose { position, choice, .. } => {
                let what = match choice {
                    None => "left to the plan".to_owned(),
                    Some(choice) => match &choice.part {
                        Some(part) => format!("{} to {}", choice.route.word(), self.part(part)),
                        None => choice.route.word().to_owned(),
                    },
                };
                format!("{}: {what}", self.place(position))
            }
            Edit::Pick { part: Some(part), .. } => format!("take {}", self.part(part)),
            Edit::Pick { key, part: None, .. } => format!("the cheapest for {}", self.companion(key)),
            Edit::Accept { key, yes: true, .. } => format!("accept {}", self.companion(key)),
            Edit::Accept { key, yes: false, .. } => format!("the yes to {} back", self.companion(key)),
            Edit::Waive { key, reason: Some(_), .. } => format!("leave out {}", self.companion(key)),
            Edit::Waive { key, reason: None, .. } => format!("take in {} again", self.companion(key)),
            Edit::SetLine { part, state } => format!("{}: {}", self.part(part), state.word()),
            Edit::SetPaid { part, .. } => format!("{}: what was paid", self.part(part)),
            Edit::SetCameBack { part, .. } => format!("{}: what came back", self.part(part)),
            Edit::SetQty { part, .. } => format!("{}: how many", self.part(part)),
            Edit::SetSupplier { part, .. } => format!("{}: supplier", self.part(part)),
            Edit::SetBudget { .. } => "what may be spent".to_owned(),
            Edit::PutSupplier { name, supplier: Some(_) } => format!("the supplier {name}"),
            Edit::PutSupplier { name, supplier: None } => format!("take out the supplier {name}"),
            Edit::SetFitted { part, .. } => format!("{}: when it was fitted", self.part(part)),
            Edit::Survey { position, finding: Some(finding) } => {
                format!("{}: survey, {}", self.place(position), wording::verdict(finding.verdict))
            }
            Edit::Survey { position, finding: None } => {
                format!("{}: survey taken back", self.place(position))
            }
            Edit::Readings { position, .. } => format!("{}: readings", self.place(position)),
            Edit::Seen { position, .. } => format!("{}: what was seen", self.place(position)),
            Edit::OwnBounds { position, bounds: Some(_), .. } => {
                format!("{}: a limit of the maker", self.place(position))
            }
            Edit::OwnBounds { position, bounds: None, .. } => {
                format!("{}: the limit of the library", self.place(position))
            }
            Edit::PutOff { position, put_off: Some(_), .. } => format!("{}: put off", self.place(position)),
            Edit::PutOff { position, put_off: None, .. } => {
                format!("{}: taken up again", self.place(position))
            }
            Edit::Identify { .. } => "what the vehicle says it is".to_owned(),
            Edit::SetWorth { .. } => "what it is worth".to_owned(),
            Edit::ForSale { for_sale: None } => "not looked at as for sale".to_owned(),
            Edit::ForSale { for_sale: Some(sale) } if sale.bought.is_some() => "bought".to_owned(),
            Edit::ForSale { .. } => "what is asked for it".to_owned(),
            Edit::Direct { directions } => match directions.last() {
                Some(direction) => format!("direction: {}", direction.way.words()),
                None => "no direction".to_owned(),
            },
            Edit::NotDriven { not_driven: Some(_) } => "not driven on the road".to_owned(),
            Edit::NotDriven { not_driven: None } => "driven on the road again".to_owned(),
            Edit::Made { position, .. } => format!("{}: when it was made", self.place(position)),
            Edit::Found { position, found } => {
                let what = match found {
                    AsFound::Library => "as the library has it".to_owned(),
                    AsFound::Nothing => "nothing".to_owned(),
                    AsFound::Part(part) => self.part(part),
                };
                format!("{}: found {what}", self.place(position))
            }
            Edit::SetFact { figure, value: Some(_) } => format!("measured: {}", self.fact(figure)),
            Edit::SetFact { figure, value: None } => format!("measurement taken back: {}", self.fact(figure)),
            Edit::Note { position, .. } => format!("{}: note", self.place(position)),
            Edit::Photos { position, .. } => format!("{}: photos", self.place(position)),
            Edit::SetWeeks { part, .. } => format!("{}: how long it takes", self.part(part)),
            Edit::SetPromised { part, .. } => format!("{}: when it is promised", self.part(part)),
            Edit::Time { .. } => "the time for the work".to_owned(),
            Edit::Pin { day: Some(day), .. } => format!("a job moved to {day}"),
            Edit::Pin { day: None, .. } => "a job whenever it comes".to_owned(),
            Edit::Done { done: Some(_), .. } => "a job done".to_owned(),
            Edit::Done { done: None, .. } => "a job open again".to_owned(),
            Edit::Sign { check, signed: Some(_) } => format!("check signed: {check}"),
            Edit::Sign { check, signed: None } => format!("check open again: {check}"),
            Edit::SwitchPlan { plan } => format!("to the plan {}", self.plan(plan)),
            Edit::PutPlan { id, plan: Some(plan) } => match self.sheet.plans.contains_key(id) {
                true => format!("change the plan {}", self.plan(id)),
                false => format!("another plan, {}", plan.name),
            },
            Edit::PutPlan { id, plan: None } => format!("take out the plan {}", self.plan(id)),
            Edit::PutPart { id, part: Some(_) } => format!("my part {}", self.part(id)),
            Edit::PutPart { id, part: None } => format!("take out my part {}", self.part(id)),
            Edit::Place { position, place: Differs::Own(own) } => match self.is_there(position) {
                true => format!("{}: how it is here", own.name),
                false => format!("another place, {}", own.name),
            },
            Edit::Place { position, place: Differs::Nothing } => format!("no {} here", self.place(position)),
            Edit::Place { position, place: Differs::Library } => match self.is_there(position) {
                true => format!("take out the place {}", self.place(position)),
                false => format!("{position} as the library has it"),
            },
            Edit::Joint { meets: Differs::Own(joint), .. } => format!("joined: {}", joint.name),
            Edit::Joint { .. } => "a joint less".to_owned(),
            Edit::Circuit { .. } => "what a circuit holds".to_owned(),
            Edit::Gives { .. } => "room of the vehicle".to_owned(),
            Edit::CallVehicle { name, .. } => format!("the vehicle is called {name}"),
            Edit::Rename { name } => format!("name the sheet {name}"),
            Edit::Libraries { .. } => "the libraries as they are".to_owned(),
        }
    }

    fn is_there(&self, place: &str) -> bool {
        self.a.positions.iter().any(|p| p.id == place)
    }

    fn place(&self, id: &str) -> String {
        wording::place(self.a, id).to_owned()
    }

    /// What is measured, as it is asked for or told.
    fn fact(&self, key: &FactKey) -> String {
        let asked = self.a.to_measure.iter().flat_map(|m| &m.wanted).find(|w| w.key == *key);
        let known = || self.a.measured.iter().find(|m| m.key == *key).map(|m| m.name.clone());
        asked.map(|w| w.name.clone()).or_else(known).unwrap_or_else(|| key.to_string())
    }

    fn plan(&self, id: &str) -> String {
        self.sheet.plans.get(id).map_or_else(|| id.to_owned(), |plan| plan.name.clone())
    }

    fn companion(&self, key: &CompanionKey) -> String {
        let named = self.a.companions.iter().find(|c| c.key == *key).map(|c| c.name.clone());
        named.unwrap_or_else(|| "a companion".to_owned())
    }

    fn part(&self, id: &str) -> String {
        let own = self
            .sheet
            .parts
            .contains_key(id)
            .then(|| self.catalogue.parts_of(self.sheet).remove(id))
            .flatten();
        let own = own.map(|part| part.name);
        let known = || self.catalogue.part(id).map(|entry| entry.part.name.clone());
        own.or_else(known).unwrap_or_else(|| id.to_owned())
    }
}
