//! The least example of a rule: what the tests beside the rules write their small libraries in.
//!
//! A library is written as in its files, less what does not matter here: `systems` and `format` are given; what has no
//! name is called by its id; a place is of the class of its own id and in the one system there is; a class can be a bare
//! word in a list; a part costs 10 unless it says otherwise (`"price": null`: not for sale).

use serde_json::{Map, Value as Json, json};

use super::assess;
use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::date::day;
use crate::library::{Level, LibraryFile};
use crate::sheet::{Choice, Finding, Line, LineState, Plan, Route, Sheet, Verdict};

/// The vehicle of every least library.
pub(crate) const VEHICLE: &str = "cart";
/// The day of every least assessment.
pub(crate) const DAY: &str = "2026-03-01";
/// The plan of every least sheet.
pub(crate) const PLAN: &str = "plan";

/// A small library and a sheet about its one vehicle, with nothing chosen.
#[derive(Clone, Debug)]
pub(crate) struct Least {
    pub catalogue: Catalogue,
    pub sheet: Sheet,
}

/// A table of a JSON object; empty where there is none.
fn table<'a>(json: &'a mut Json, name: &str) -> impl Iterator<Item = (&'a String, &'a mut Json)> {
    json.get_mut(name).and_then(Json::as_object_mut).map(Map::iter_mut).into_iter().flatten()
}

fn put(entry: &mut Json, key: &str, value: Json) {
    if let Some(entry) = entry.as_object_mut()
        && !entry.contains_key(key)
    {
        entry.insert(key.to_owned(), value);
    }
}

/// A library file with what the short form leaves out. The vehicle's tables stand under `vehicle`.
fn in_full(mut json: Json) -> Json {
    put(&mut json, "format", json!(1));
    put(&mut json, "systems", json!({"all": {"name": "All"}}));
    if let Some(Json::Array(words)) = json.get("classes") {
        let all = words.iter().filter_map(Json::as_str).map(|word| (word.to_owned(), json!({})));
        json["classes"] = Json::Object(all.collect());
    }
    for name in ["classes", "figures", "needs", "pools", "port_types", "limits", "openings", "parts"] {
        for (id, entry) in table(&mut json, name) {
            put(entry, "name", json!(id));
        }
    }
    for (_, part) in table(&mut json, "parts") {
        put(part, "price", json!("10.00 USD"));
    }
    for (_, port_type) in table(&mut json, "port_types") {
        for (id, field) in table(port_type, "fields") {
            put(field, "name", json!(id));
        }
    }
    let Some(mut vehicle) = json.as_object_mut().and_then(|all| all.remove("vehicle")) else { return json };
    put(&mut vehicle, "name", json!("Cart"));
    for name in ["positions", "joints", "circuits"] {
        for (id, entry) in table(&mut vehicle, name) {
            put(entry, "name", json!(id));
        }
    }
    for (id, position) in table(&mut vehicle, "positions") {
        put(position, "system", json!("all"));
        put(position, "class", json!(id));
    }
    json["vehicles"] = json!({ VEHICLE: vehicle });
    json
}

impl Least {
    /// # Panics
    /// Where the library has a fault that is no warning.
    pub fn new(json: Json) -> Self {
        let file: LibraryFile = serde_json::from_value(in_full(json)).expect("a library");
        let (catalogue, faults) = Catalogue::new(vec![("least".to_owned(), file)]);
        let errors: Vec<_> = faults.iter().filter(|fault| !fault.warning).collect();
        assert!(errors.is_empty(), "{errors:#?}");
        let mut sheet = Sheet { format: 1, vehicle: VEHICLE.into(), plan: PLAN.into(), ..Sheet::default() };
        sheet.plans.insert(PLAN.into(), Plan::default());
        Self { catalogue: catalogue.on(day(DAY).expect("a day")), sheet }
    }

    pub fn plan(&mut self) -> &mut Plan {
        self.sheet.plans.entry(PLAN.to_owned()).or_default()
    }

    /// With a route chosen.
    pub fn choose(mut self, position: &str, route: Route) -> Self {
        self.plan().routes.insert(position.to_owned(), Choice { route, part: None });
        self
    }

    /// With another part chosen.
    pub fn convert(mut self, position: &str, part: &str) -> Self {
        let choice = Choice { route: Route::Convert, part: Some(part.to_owned()) };
        self.plan().routes.insert(position.to_owned(), choice);
        self
    }

    /// With a companion left out.
    pub fn waive(mut self, key: &str) -> Self {
        self.plan().waived.insert(key.to_owned(), "later".to_owned());
        self
    }

    /// With a verdict of the survey.
    pub fn survey(mut self, position: &str, verdict: Verdict) -> Self {
        let finding = Finding { verdict, note: String::new(), extra: Map::new() };
        self.sheet.survey.insert(position.to_owned(), finding);
        self
    }

    /// With the date of what was found in a position, or of the fluid of a circuit.
    pub fn made(mut self, place: &str, date: &str) -> Self {
        self.sheet.made.insert(place.to_owned(), date.to_owned());
        self
    }

    /// With a part of the buying record fitted, on a date where one is given.
    pub fn fitted(mut self, part: &str, date: Option<&str>) -> Self {
        let line = Line { state: LineState::Fitted, fitted: date.map(str::to_owned), ..Line::default() };
        self.sheet.lines.insert(part.to_owned(), line);
        self
    }

    /// On another day.
    pub fn on(mut self, date: &str) -> Self {
        self.catalogue = self.catalogue.on(day(date).expect("a day"));
        self
    }

    /// With a value measured on the vehicle.
    pub fn measured(mut self, key: &str, value: &str) -> Self {
        self.sheet.facts.insert(key.to_owned(), json!(value));
        self
    }

    pub fn assess(&self) -> Assessment {
        let a = assess(&self.sheet, PLAN, &self.catalogue);
        assert!(a.problems.is_empty(), "{:?}", a.problems);
        a
    }
}

/// Companions as `key: 2 part`, with `(advised)` and how many lie in a box behind, in the order of the assessment.
pub(crate) fn companions(a: &Assessment) -> Vec<String> {
    let told = |c: &crate::assessment::Companion| {
        let level = if c.level == Level::Advised { " (advised)" } else { "" };
        let boxed = if c.boxed > 0 { format!(" ({} in a box)", c.boxed) } else { String::new() };
        format!("{}: {} {}{level}{boxed}", c.key, c.qty, c.part)
    };
    a.companions.iter().map(told).collect()
}

/// Keys of the clashes.
pub(crate) fn clashes(a: &Assessment) -> Vec<String> {
    a.clashes.iter().map(|c| c.key.clone()).collect()
}

/// Keys of what is to be measured.
pub(crate) fn open(a: &Assessment) -> Vec<String> {
    a.to_measure.iter().map(|m| m.key.clone()).collect()
}

/// What is to be done later, as `when: what [positions] (with companions)`.
pub(crate) fn later(a: &Assessment) -> Vec<String> {
    let told = |l: &crate::assessment::Later| {
        let level = if l.level == Level::Advised { " (advised)" } else { "" };
        let with =
            if l.companions.is_empty() { String::new() } else { format!(" with {}", l.companions.join(" ")) };
        format!("{}: {} [{}]{level}{with}", l.when(), l.what, l.positions.join(" "))
    };
    a.later.iter().map(told).collect()
}

/// Which part sits in a place in the end.
pub(crate) fn fitted(a: &Assessment, position: &str) -> Option<String> {
    let view = a.positions.iter().find(|p| p.id == position)?;
    view.fitted.as_ref().map(|(id, _)| id.clone())
}
