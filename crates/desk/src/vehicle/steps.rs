//! Does what the page of the vehicle asks for.

use knockon_core::catalogue::PositionEntry;
use knockon_core::described::place::{New, Sits, added, joined, not_looked_at, taken_out};
use knockon_core::described::{Described, Differs};
use knockon_core::edit::AsFound;
use knockon_core::library::{Joint, Position, Written};
use knockon_core::{Edit, Sheet, apply};

use crate::app::App;
use crate::own_parts::shelf::Shelf;
use crate::own_parts::state::{Step as PartStep, Target};
use crate::vehicle::state::Step;

impl App {
    /// Does what the page asks for.
    pub(crate) fn vehicle(&mut self, ctx: &egui::Context, step: Step) {
        match step {
            Step::Show(at) => self.view.vehicle.at = at,
            Step::Add(new) => self.add_place(&new),
            Step::AddAll(system, all) => self.add_places(&system, &all),
            Step::TakeOut(place) => self.take_place_out(&place),
            Step::Found(place, found) => {
                let edits = [Edit::Found { position: place, found }];
                self.edit(&edits);
            }
            Step::NotLookedAt(place) => {
                let edits = not_looked_at(self.document.sheet(), self.catalogue(), &place);
                match edits {
                    Some(edits) => self.edit(&edits),
                    None => self.trouble("This vehicle has no such place.".to_owned()),
                }
            }
            Step::Know(place) => self.know(ctx, &place),
            Step::Join(joint) => self.join(joint),
            Step::Part(joint) => self.part_joint(joint),
            field @ (Step::Call(..) | Step::Name(..) | Step::Where(..) | Step::Qty(..)) => {
                self.vehicle_field(field)
            }
        }
    }

    /// Takes in what was typed into a field of the page.
    pub(crate) fn vehicle_field(&mut self, step: Step) {
        match step {
            Step::Call(name, about) => self.edit(&[Edit::CallVehicle { name, about }]),
            Step::Name(place, name) => self.change_place(&place, |own| own.name = name),
            Step::Where(place, words) => self.change_place(&place, |own| own.whereabouts = words.into()),
            Step::Qty(place, qty) => self.change_place(&place, |own| own.qty = qty),
            _ => {}
        }
    }

    fn add_place(&mut self, new: &New) {
        let Some((id, edits)) = added(self.document.sheet(), self.catalogue(), new) else {
            self.trouble(format!("No place of the class \"{}\" can be added.", new.class));
            return;
        };
        let joints = edits.iter().filter(|edit| matches!(edit, Edit::Joint { .. })).count();
        self.edit(&edits);
        self.view.vehicle.at = Some(id);
        let meets = match joints {
            0 => "It meets nothing yet".to_owned(),
            n => format!("It meets others at {}", crate::wording::count(n, "joint", "joints")),
        };
        let sits = match new.sits {
            Sits::Unknown => ", and what sits there is not known",
            Sits::Nothing | Sits::Part(_) => "",
        };
        self.tell(format!("{} is a place of this vehicle. {meets}{sits}.", new.name));
    }

    fn add_places(&mut self, system: &str, all: &[New]) {
        let mut sheet = (**self.document.sheet()).clone();
        let mut step = Vec::new();
        for new in all {
            let Some((_, edits)) = added(&sheet, self.catalogue(), new) else { continue };
            if edits.iter().try_for_each(|edit| apply(&mut sheet, edit)).is_ok() {
                step.extend(edits);
            }
        }
        self.edit(&step);
        let n = step.iter().filter(|edit| matches!(edit, Edit::Place { .. })).count();
        let places = crate::wording::count(n, "place", "places");
        self.tell(format!("{system}: {places} more. Clear the tick of what is not there."));
    }

    fn take_place_out(&mut self, place: &str) {
        let name = crate::wording::place(&self.assessment, place).to_owned();
        let edits = taken_out(self.document.sheet(), self.catalogue(), place);
        self.edit(&edits);
        if self.view.vehicle.at.as_deref() == Some(place) {
            self.view.vehicle.at = None;
        }
        self.tell(format!("{name} is no place of this vehicle. Undo brings it back."));
    }

    /// Changes a place, as it stands in the sheet or in the library.
    fn change_place(&mut self, place: &str, change: impl FnOnce(&mut Position)) {
        let sheet = self.document.sheet();
        let Some(mut own) = own_place(sheet, self.catalogue(), place) else {
            self.trouble("This vehicle has no such place.".to_owned());
            return;
        };
        change(&mut own);
        self.edit(&[Edit::Place { position: place.to_owned(), place: Differs::Own(Box::new(own)) }]);
    }

    /// Opens the form for what sits in a place; what is the library's becomes a part of the sheet's own first.
    fn know(&mut self, ctx: &egui::Context, place: &str) {
        let sheet = self.document.sheet();
        let found = self.assessment.positions.iter().find(|p| p.id == place);
        let found = found.and_then(|p| p.as_found.as_ref()).map(|(id, _)| id.clone());
        let own = match found {
            Some(id) if sheet.parts.contains_key(&id) => id,
            Some(id) => {
                let shelf = Shelf::new(self.catalogue(), sheet);
                let Some(mut part) = shelf.part(&id).cloned() else { return };
                let id = shelf.free_id(&format!("{} as found", part.name));
                part.price = None;
                let put = Edit::PutPart { id: id.clone(), part: Some(Box::new(Written::whole(part))) };
                let found = Edit::Found { position: place.to_owned(), found: AsFound::Part(id.clone()) };
                self.edit(&[put, found]);
                id
            }
            None => {
                let Some(edits) = not_looked_at(sheet, self.catalogue(), place) else { return };
                let id = edits.iter().find_map(|edit| match edit {
                    Edit::PutPart { id, .. } => Some(id.clone()),
                    _ => None,
                });
                self.edit(&edits);
                let Some(id) = id else { return };
                id
            }
        };
        self.own_parts(ctx, PartStep::Form(Target::Part(own)));
    }

    fn join(&mut self, joint: Joint) {
        let name = joint.name.clone();
        let grown = self.catalogue().for_sheet(self.document.sheet());
        let sheet = self.document.sheet();
        let Some(vehicle) = grown.vehicles.get(&sheet.vehicle) else { return };
        let edit = joined(sheet, vehicle, joint);
        drop(grown);
        self.edit(&[edit]);
        self.view.vehicle.joining = None;
        self.tell(format!("Joined: {name}."));
    }

    fn part_joint(&mut self, joint: String) {
        let library = self.catalogue().vehicles.get(&self.document.sheet().vehicle);
        let in_library = library.is_some_and(|vehicle| vehicle.joints.values().any(|j| j.id == joint));
        let meets = if in_library { Differs::Nothing } else { Differs::Library };
        self.edit(&[Edit::Joint { joint, meets }]);
    }
}

/// A place as the sheet has it, else as the library has it.
fn own_place(sheet: &Sheet, catalogue: &knockon_core::Catalogue, place: &str) -> Option<Position> {
    let Described { positions, .. } = &sheet.described;
    if let Some(own) = positions.get(place) {
        return own.clone();
    }
    let vehicle = catalogue.vehicles.get(&sheet.vehicle)?;
    let entry: &PositionEntry = vehicle.positions.get(*vehicle.position_ix.get(place)?)?;
    catalogue.written_place(&sheet.vehicle, &entry.id).cloned()
}
