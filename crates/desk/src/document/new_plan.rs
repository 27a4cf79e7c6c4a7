//! Begins a new sheet: it starts with one plan and nothing chosen.

use knockon_core::Sheet;
use knockon_core::sheet::Plan;

use crate::app::App;
use crate::app::view::Page;
use crate::dialogs::open::{Dialog, NewSheet};
use crate::document::OnDisk;

impl App {
    /// Asks for vehicle and name; the vehicle of the open sheet comes first.
    pub(crate) fn ask_new(&mut self) {
        let vehicles = &self.catalogue().vehicles;
        let now = &self.document.sheet().vehicle;
        let first = vehicles.get_key_value(now).or_else(|| vehicles.first_key_value());
        let Some((id, vehicle)) = first else {
            self.trouble("The library has no vehicle to begin a sheet for.".to_owned());
            return;
        };
        let (name, vehicle) = (vehicle.name.clone(), id.clone());
        self.view.dialog = Some(Dialog::New(NewSheet { name, vehicle, own_name: false, fresh: true }));
    }

    /// Puts a new sheet on the desk.
    pub(crate) fn begin(&mut self, vehicle: String, name: String) {
        let plan = Plan { name: "Plan 1".to_owned(), ..Plan::default() };
        let mut sheet = Sheet { format: 1, name, vehicle, plan: "plan-1".to_owned(), ..Sheet::default() };
        sheet.plans.insert("plan-1".to_owned(), plan);
        sheet.libraries.clone_from(&self.catalogue.libraries);
        // one of one's own is not called as its beginning is
        let beginning = self.catalogue().vehicles.get(&sheet.vehicle).is_some_and(|of| of.beginning);
        if beginning {
            sheet.described.name.clone_from(&sheet.name);
        }
        (self.view.dialog, self.view.message) = (None, None);
        self.put(sheet, None, OnDisk::default());
        self.go(if beginning { Page::Vehicle } else { Page::Board });
        let about_the_last = self.view.message.as_ref().map(|m| format!(" {}", m.text)).unwrap_or_default();
        let lead = if beginning {
            "Tick what your vehicle has, and clear the tick of what it has not."
        } else {
            "Everything is kept as found until you choose."
        };
        self.tell(format!("{lead} Save gives the sheet a file.{about_the_last}"));
    }
}
