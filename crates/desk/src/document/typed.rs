//! What stands in fields of the sheet that have not been left yet: it is kept with every key, and comes back.

use std::collections::BTreeMap;

use knockon_core::Sheet;
use knockon_core::key::CompanionKey;
use serde::{Deserialize, Serialize};
use serde_json::Value as Json;

use crate::app::App;
use crate::app::view::{Spot, View};
use crate::dialogs::open::{Dialog, Directing, Naming, NewSheet, Of, Returned};
use crate::fitup::{FitUp, Written};
use crate::vehicle::field::Field;

/// Fields, each with the id of its place or part and its text.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Typed {
    #[serde(skip_serializing_if = "Option::is_none")]
    note: Option<(String, String)>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seen: Option<(String, String)>,
    #[serde(skip_serializing_if = "Option::is_none")]
    made: Option<(String, String)>,
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    measured: BTreeMap<String, String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    supplier: Option<(String, String)>,
    #[serde(skip_serializing_if = "Option::is_none")]
    paid: Option<(String, String)>,
    /// What may be spent, by the names of its fields.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    budget: BTreeMap<String, String>,
    /// What the vehicle is, by the names of its fields.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    identity: BTreeMap<String, String>,
    /// What it is worth, by the names of its fields.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    worth: BTreeMap<String, String>,
    /// What is asked for it, by the names of its fields.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    for_sale: BTreeMap<String, String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    left_out: Option<(String, String)>,
    #[serde(skip_serializing_if = "Option::is_none")]
    photo: Option<(String, String)>,
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<(Of, String)>,
    /// Part, refunded, core deposit returned.
    #[serde(skip_serializing_if = "Option::is_none")]
    came_back: Option<(String, String, String)>,
    /// Where it goes.
    #[serde(skip_serializing_if = "Option::is_none")]
    direction: Option<Directing>,
    /// Of the dialog for a new sheet: name and vehicle.
    #[serde(skip_serializing_if = "Option::is_none")]
    new: Option<(String, String)>,
    /// Of the page of the vehicle.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    vehicle: Vec<(Field, String)>,
    /// The path of a library that is to be taken in.
    #[serde(skip_serializing_if = "String::is_empty")]
    library: String,
    /// On the fit-up page.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fitup: Vec<Written>,
}

/// Whether something of this belongs into the sheet: what stands on the fit-up page, in the dialog of a new sheet or in the
/// field for a library does not.
#[must_use]
pub fn is_of_the_sheet(typed: &Json) -> bool {
    let not_of_it = |key: &String| matches!(key.as_str(), "new" | "fitup" | "library");
    typed.as_object().is_none_or(|fields| !fields.keys().all(not_of_it))
}

impl Typed {
    /// What stands in the fields and not in the sheet.
    fn of(view: &View, sheet: &Sheet) -> Self {
        let given = |field: &Option<(String, String)>| field.clone().filter(|(_, text)| !text.is_empty());
        let stored = |id: &String| sheet.notes.get(id).map_or("", String::as_str);
        let seen = |id: &String| sheet.survey.get(id).map_or("", |finding| finding.note.as_str());
        Self {
            note: view.note.clone().filter(|(id, text)| text != stored(id)),
            seen: view.survey.clone().filter(|(id, text)| text != seen(id)),
            made: view.made.clone(),
            measured: view.measuring.iter().map(|(key, text)| (key.to_string(), text.clone())).collect(),
            supplier: view.buying.draft.clone(),
            paid: view.buying.paid.clone(),
            budget: view.money.fields.typed.clone(),
            identity: view.walk.fields.typed.clone(),
            worth: view.plans.fields.typed.clone(),
            for_sale: view.walk.sale.fields.typed.clone(),
            left_out: given(&view.waive.as_ref().map(|(key, text)| (key.to_string(), text.clone()))),
            photo: given(&view.photo),
            name: match &view.dialog {
                Some(Dialog::Name(now)) if now.name != Naming::new(sheet, now.of).name => {
                    Some((now.of, now.name.clone()))
                }
                _ => None,
            },
            came_back: match &view.dialog {
                Some(Dialog::CameBack(now)) if !now.is_as_stored(sheet) => {
                    Some((now.part.clone(), now.refund.clone(), now.core.clone()))
                }
                _ => None,
            },
            direction: match &view.dialog {
                Some(Dialog::Direction(now)) if !now.is_as_stored(sheet) => {
                    Some(Directing { fresh: false, ..now.clone() })
                }
                _ => None,
            },
            new: match &view.dialog {
                Some(Dialog::New(new)) if new.own_name => Some((new.name.clone(), new.vehicle.clone())),
                _ => None,
            },
            vehicle: view.vehicle.typed.clone().into_iter().collect(),
            library: view.own_library.path.clone(),
            fitup: view.fitup.written(),
        }
    }

    /// Puts it back into the fields.
    fn put(self, view: &mut View) {
        let measured = self.measured.into_iter();
        view.measuring.extend(measured.filter_map(|(key, text)| Some((key.parse().ok()?, text))));
        let waive = self.left_out.and_then(|(key, text)| Some((key.parse::<CompanionKey>().ok()?, text)));
        // where it can be seen
        if let Some((key, _)) = &waive {
            view.selected = Some(Spot::Companion(key.clone()));
        } else if let Some((id, _)) = self.note.as_ref().or(self.photo.as_ref()).or(self.made.as_ref()) {
            view.selected = Some(Spot::Position(id.clone()));
        }
        (view.note, view.survey, view.made) = (self.note, self.seen, self.made);
        (view.buying.draft, view.buying.paid) = (self.supplier, self.paid);
        view.money.fields.typed.extend(self.budget);
        view.walk.fields.typed.extend(self.identity);
        view.plans.fields.typed.extend(self.worth);
        view.walk.sale.fields.typed.extend(self.for_sale);
        (view.waive, view.photo) = (waive, self.photo);
        if let Some((of, name)) = self.name {
            view.dialog = Some(Dialog::Name(Naming { of, name, fresh: true }));
        }
        if let Some((part, refund, core)) = self.came_back {
            view.dialog = Some(Dialog::CameBack(Returned { part, refund, core, fresh: true }));
        }
        if let Some(now) = self.direction {
            view.dialog = Some(Dialog::Direction(Directing { fresh: true, ..now }));
        }
        if let Some((name, vehicle)) = self.new {
            view.dialog = Some(Dialog::New(NewSheet { name, vehicle, own_name: true, fresh: true }));
        }
        if let Some(place) = self.vehicle.iter().find_map(|(field, _)| field.place()) {
            view.vehicle.at = Some(place.clone());
        }
        view.vehicle.typed.extend(self.vehicle);
        view.own_library.path = self.library;
        if !self.fitup.is_empty() {
            view.fitup = FitUp::with(view.fitup.card, self.fitup);
        }
    }
}

impl App {
    /// Keeps what is being typed, with every key: what the program knows of a key is safe when its frame is drawn.
    pub(crate) fn keep_typed(&mut self) {
        let typed = Typed::of(&self.view, self.document.sheet());
        let json = if typed == Typed::default() {
            Json::Null
        } else {
            serde_json::to_value(&typed).unwrap_or_default()
        };
        self.document.typed(&json);
    }

    /// Puts back what stood in fields when the last session ended; it is taken in as soon as the sheet is assessed.
    pub(crate) fn put_typed(&mut self, typed: Json) {
        if let Ok(typed) = serde_json::from_value::<Typed>(typed) {
            let written = Typed { fitup: typed.fitup.clone(), ..Typed::default() };
            self.came_back = Some(if typed == written {
                "What was written in on the fit-up page is back."
            } else {
                "What was being typed is back."
            });
            typed.put(&mut self.view);
        }
    }

    /// Takes in what came back; what cannot be read stays in its field.
    pub(crate) fn take_back(&mut self) {
        if let Some(back) = self.came_back.take() {
            let told =
                self.view.message.take().map(|message| format!("{} ", message.text)).unwrap_or_default();
            self.take_typed();
            self.view.note = None;
            self.tell(format!("{told}{back}"));
        }
    }
}
