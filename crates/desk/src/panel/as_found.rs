//! What sat in a place when the vehicle was found: the library's word for its kind, unless this one was otherwise.

use egui::{ComboBox, Label, RichText, Ui};
use knockon_core::assessment::PositionView;
use knockon_core::catalogue::PartId;
use knockon_core::edit::AsFound;
use knockon_core::{Catalogue, Edit, Sheet};

use crate::access::heard;
use crate::app::view::{Action, Details};
use crate::look::margin::left;
use crate::look::theme;
use crate::look::tokens::Tokens;

/// Looks up what could have sat in a position.
pub fn could_be(catalogue: &Catalogue, sheet: &Sheet, position: &str, details: &mut Details) {
    let catalogue = catalogue.for_sheet(sheet);
    let vehicle = catalogue.vehicles.get(&sheet.vehicle);
    let Some(entry) = vehicle.and_then(|v| v.positions.values().find(|p| p.id == position)) else { return };
    let named = |part: &PartId| {
        let id = catalogue.part_names.id(*part).to_owned();
        let name = catalogue.part(&id)?.part.name.clone();
        Some((id, name))
    };
    let here = catalogue.by_class.get(entry.class).into_iter().flatten();
    details.could_be = here.filter_map(named).collect();
    details.could_be.sort_by(|a, b| a.1.cmp(&b.1));
    details.library_has = entry.as_found.as_ref().and_then(named).map(|(_, name)| name);
}

/// Draws what was found, to be changed.
pub fn as_found(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    p: &PositionView,
    details: &Details,
    actions: &mut Vec<Action>,
) {
    let name = p.as_found.as_ref().map_or("nothing", |(_, name)| name.as_str());
    let otherwise = sheet.as_found.contains_key(&p.id);
    let word = if otherwise { "not as the library has it" } else { "as the library has it" };
    let mut pick = |found| actions.push(Action::Edit(vec![Edit::Found { position: p.id.clone(), found }]));
    ui.horizontal_top(|ui| {
        left(ui, 84.0, RichText::new("As found").color(t.soft).font(theme::small()));
        ui.vertical(|ui| {
            ui.add(Label::new(RichText::new(name).color(t.ink)).wrap());
            let text = RichText::new(word).font(theme::small()).color(t.soft);
            let choice = ComboBox::from_id_salt(("as found", &p.id))
                .selected_text(text)
                .width(190.0)
                .show_ui(ui, |ui| {
                    let has = details.library_has.as_deref().unwrap_or("nothing");
                    if ui.selectable_label(!otherwise, format!("As the library has it: {has}")).clicked()
                        && otherwise
                    {
                        pick(AsFound::Library);
                    }
                    if ui.selectable_label(otherwise && p.as_found.is_none(), "Nothing was there").clicked() {
                        pick(AsFound::Nothing);
                    }
                    for (id, name) in &details.could_be {
                        let here = otherwise && p.as_found.as_ref().is_some_and(|(found, _)| found == id);
                        if ui.selectable_label(here, name).clicked() && !here {
                            pick(AsFound::Part(id.clone()));
                        }
                    }
                });
            heard::closed_list(&choice.response, &format!("As found, {}", p.name), name);
        });
    });
}
