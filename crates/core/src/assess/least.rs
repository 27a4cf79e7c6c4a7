//! The least example of a rule: what the tests beside the rules write their small libraries in.
//!
//! A library is written as in its files, less what does not matter here: `systems` and `format` are given; what has no
//! name is called by its id; a place is of the class of its own id and in the one system there is; its places follow unless
//! its class says otherwise; a part costs 10 unless it says otherwise (`"price": null`: not for sale). Classes, port types without fields and needs that are there or not
//! are known as soon as something names them; `"free": ["hose"]` says which classes are free. A bare word or list stands
//! for what has nothing else to say:
//!
//! | written | for |
//! |---|---|
//! | a part `"old-pump": "pump"` | its class |
//! | a port `"outlet": "barb"` | its type |
//! | a figure or pool `"lift": "length"` | its kind |
//! | a need `["feed"]` of `needs`, `advises`, `offers` | `{"feed": "present"}` |
//! | a content, a want `"hose"` | `{"part": "hose"}`, `{"class": "hose"}` |
//! | a place `"pump": "old-pump"`, `"pump": null` | the part as found, or none |
//! | a joint `["pump.outlet", "carburettor.inlet"]`, also as `ends` | its ends: place and port |

use std::collections::BTreeMap;

use serde_json::{Map, Value as Json, json};

use super::{assess, derive};
use crate::assessment::{Answer, Assessment, Order};
use crate::catalogue::Catalogue;
use crate::date::day;
use crate::key::CompanionKey;
use crate::library::{Decided, Level, LibraryFile};
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

/// The part that goes into each place that follows.
pub(crate) type Decisions = BTreeMap<String, String>;

/// Choices as they are derived.
pub(crate) fn put_in(choices: &[(&str, &str)]) -> Decisions {
    choices.iter().map(|(place, part)| ((*place).to_owned(), (*part).to_owned())).collect()
}

/// A library with more in it: tables are merged, anything else is put in its place.
pub(crate) fn merge(json: &mut Json, more: Json) {
    match (json, more) {
        (Json::Object(json), Json::Object(more)) => {
            for (key, value) in more {
                merge(json.entry(key).or_insert(Json::Null), value);
            }
        }
        (json, more) => *json = more,
    }
}

/// A pump that the owner chose asks for a feed and an earth, and either of two places that follow can get a part that
/// offers both: one for 10 on the left, one for 20 on the right. The engine between them is what was found.
pub(crate) fn two_ways(more: Json) -> Least {
    let box_of =
        |class: &str, price: &str| json!({"class": class, "offers": ["earth", "feed"], "price": price});
    let mut library = json!({
        "parts": {
            "electric-pump": {"class": "pump", "needs": ["earth", "feed"]},
            "left-box": box_of("left", "10.00 USD"),
            "old-engine": {"class": "engine"},
            "right-box": box_of("right", "20.00 USD"),
        },
        "vehicle": {"positions": {"engine": "old-engine", "left": null, "pump": null, "right": null}},
    });
    merge(&mut library, more);
    Least::new(library).convert("pump", "electric-pump")
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

/// Entries of a table that are a bare word stand for one field of theirs.
fn words(json: &mut Json, name: &str, field: &str) {
    for (_, entry) in table(json, name).filter(|(_, entry)| entry.is_string()) {
        *entry = json!({ field: entry });
    }
}

/// Items of a list that are a bare word stand for one field of theirs.
fn items(json: &mut Json, name: &str, field: &str) {
    let list = json.get_mut(name).and_then(Json::as_array_mut);
    for item in list.into_iter().flatten().filter(|item| item.is_string()) {
        *item = json!({ field: item });
    }
}

/// What something names is known: an entry with these words where the library has none.
fn known(json: &mut Json, name: &str, ids: impl IntoIterator<Item = String>, entry: &Json) {
    put(json, name, json!({}));
    for id in ids {
        put(&mut json[name], &id, entry.clone());
    }
}

fn text(json: &Json, name: &str) -> Option<String> {
    json.get(name).and_then(Json::as_str).map(str::to_owned)
}

fn part_in_full(part: &mut Json) {
    put(part, "price", json!("10.00 USD"));
    words(part, "ports", "type");
    items(part, "contents", "part");
    for name in ["needs", "advises", "offers"] {
        if let Some(Json::Array(ids)) = part.get(name) {
            let all = ids.iter().filter_map(Json::as_str).map(|id| (id.to_owned(), json!("present")));
            part[name] = Json::Object(all.collect());
        }
    }
}

fn vehicle_in_full(vehicle: &mut Json) {
    put(vehicle, "name", json!("Cart"));
    words(vehicle, "positions", "as_found");
    for (_, empty) in table(vehicle, "positions").filter(|(_, entry)| entry.is_null()) {
        *empty = json!({});
    }
    for (_, ends) in table(vehicle, "joints").filter(|(_, entry)| entry.is_array()) {
        *ends = json!({ "ends": ends });
    }
    for (_, joint) in table(vehicle, "joints") {
        for end in joint.get_mut("ends").and_then(Json::as_array_mut).into_iter().flatten() {
            if let Some((at, port)) = end.as_str().and_then(|end| end.split_once('.')) {
                *end = json!({"at": at, "port": port});
            }
        }
    }
    for name in ["positions", "joints", "circuits"] {
        for (id, entry) in table(vehicle, name) {
            put(entry, "name", json!(id));
        }
    }
    for (id, position) in table(vehicle, "positions") {
        put(position, "system", json!("all"));
        put(position, "class", json!(id));
    }
}

/// A library file with what the short form leaves out. The vehicle's tables stand under `vehicle`.
fn in_full(mut json: Json) -> Json {
    put(&mut json, "format", json!(1));
    put(&mut json, "systems", json!({"all": {"name": "All"}}));
    if let Some(Json::Array(ids)) = json.get("classes") {
        let all = ids.iter().filter_map(Json::as_str).map(|id| (id.to_owned(), json!({})));
        json["classes"] = Json::Object(all.collect());
    }
    if let Some(Json::Array(free)) = json.as_object_mut().and_then(|all| all.remove("free")) {
        let ids = free.iter().filter_map(Json::as_str).map(str::to_owned);
        known(&mut json, "classes", ids, &json!({"free": true}));
    }
    for name in ["figures", "pools"] {
        words(&mut json, name, "kind");
    }
    for (_, port_type) in table(&mut json, "port_types") {
        items(port_type, "opened", "class");
        for (id, field) in table(port_type, "fields") {
            put(field, "name", json!(id));
        }
    }
    for (_, opening) in table(&mut json, "openings") {
        items(opening, "wants", "class");
    }
    words(&mut json, "parts", "class");
    let (mut classes, mut types, mut needs) = (Vec::new(), Vec::new(), Vec::new());
    for (_, part) in table(&mut json, "parts") {
        part_in_full(part);
        classes.extend(text(part, "class"));
        types.extend(table(part, "ports").filter_map(|(_, port)| text(port, "type")));
        for name in ["needs", "advises", "offers"] {
            needs.extend(table(part, name).map(|(id, _)| id.clone()));
        }
    }
    if let Some(mut vehicle) = json.as_object_mut().and_then(|all| all.remove("vehicle")) {
        vehicle_in_full(&mut vehicle);
        classes.extend(table(&mut vehicle, "positions").filter_map(|(_, place)| text(place, "class")));
        put(&mut json, "vehicles", json!({}));
        json["vehicles"][VEHICLE] = vehicle;
    }
    known(&mut json, "classes", classes, &json!({}));
    known(&mut json, "port_types", types, &json!({}));
    known(&mut json, "needs", needs, &json!({"kind": "present"}));
    for name in [
        "classes",
        "figures",
        "needs",
        "pools",
        "port_types",
        "limits",
        "openings",
        "operations",
        "checks",
        "inspections",
        "zones",
        "aims",
        "parts",
    ] {
        for (id, entry) in table(&mut json, name) {
            put(entry, "name", json!(id));
        }
    }
    for (_, class) in table(&mut json, "classes") {
        if class.get("free").or_else(|| class.get("service")).is_none() {
            put(class, "decided", json!("follows"));
        }
    }
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
        let key = key.parse().expect("a key of a companion");
        self.plan().waived.insert(key, "later".to_owned());
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

    /// With another part found at a place, or none.
    pub fn found(mut self, position: &str, part: Option<&str>) -> Self {
        self.sheet.as_found.insert(position.to_owned(), part.map(str::to_owned));
        self
    }

    /// With a part picked for a companion.
    pub fn pick(mut self, key: &str, part: &str) -> Self {
        self.plan().picks.insert(key.parse().expect("a key"), part.to_owned());
        self
    }

    /// With a line of the buying record.
    pub fn line(mut self, part: &str, state: LineState) -> Self {
        self.sheet.lines.insert(part.to_owned(), Line { state, ..Line::default() });
        self
    }

    /// With a line of the buying record as a sheet has it.
    pub fn record(mut self, part: &str, line: Line) -> Self {
        self.sheet.lines.insert(part.to_owned(), line);
        self
    }

    pub fn assess(&self) -> Assessment {
        let a = self.assess_anyway();
        assert!(a.problems.is_empty(), "{:?}", a.problems);
        a
    }

    /// What follows where these parts go into places that follow.
    pub fn derive(&self, decisions: &Decisions) -> Assessment {
        derive(&self.sheet, PLAN, &self.catalogue, decisions)
    }

    /// The parts that the engine puts into places that follow, as `place: part`: the best of all choices, each of which is
    /// tried.
    ///
    /// # Panics
    /// Where another choice is better, or the search was cut off.
    pub fn decided(&self) -> Vec<String> {
        let a = self.assess();
        assert!(a.proved, "the search was cut off");
        let own = decisions(&a);
        assert_eq!(a.order, self.derive(&own).order, "what is told comes to what was decided");
        let lines = self.every_choice().into_iter().map(|choice| (self.comes_to(&choice), choice));
        let best = lines.filter(|(line, choice)| self.all_earn(line, choice)).min();
        let best = best.expect("nothing decided is a choice");
        assert_eq!(own, best.1, "{:#?}\nand the best comes to\n{:#?}", a.order, best.0);
        own.into_iter().map(|(place, part)| format!("{place}: {part}")).collect()
    }

    /// What a choice comes to, with the parts and the places that break a tie.
    fn comes_to(&self, choice: &Decisions) -> (Order, Vec<String>, Vec<String>) {
        let mut parts: Vec<String> = choice.values().cloned().collect();
        parts.sort();
        (self.derive(choice).order, parts, choice.keys().cloned().collect())
    }

    /// Without any of them it is worse in a row before money.
    fn all_earn(&self, (order, ..): &(Order, Vec<String>, Vec<String>), choice: &Decisions) -> bool {
        choice.keys().all(|place| {
            let mut fewer = choice.clone();
            fewer.remove(place);
            before_money(&self.derive(&fewer).order) > before_money(order)
        })
    }

    /// Every choice of parts for the places that follow.
    fn every_choice(&self) -> Vec<Decisions> {
        let file = &self.catalogue.files[0].1;
        let mut all = vec![Decisions::new()];
        for (place, position) in &file.vehicles[VEHICLE].positions {
            let is_owners = file.classes[&position.class].decided == Some(Decided::Owner);
            if is_owners || self.sheet.plans[PLAN].routes.contains_key(place) {
                continue;
            }
            let found = self.sheet.as_found.get(place).unwrap_or(&position.as_found);
            let for_sale = file.parts.iter().filter(|(id, part)| {
                part.class == position.class && part.price.is_some() && found.as_ref() != Some(id)
            });
            let parts: Vec<&String> = for_sale.map(|(id, _)| id).collect();
            for before in std::mem::take(&mut all) {
                for part in &parts {
                    let mut with = before.clone();
                    with.insert(place.clone(), (*part).clone());
                    all.push(with);
                }
                all.push(before);
            }
        }
        all
    }

    /// Also where the sheet has words that the library does not know.
    pub fn assess_anyway(&self) -> Assessment {
        assess(&self.sheet, PLAN, &self.catalogue)
    }
}

/// What the engine put into places that follow.
fn decisions(a: &Assessment) -> Decisions {
    let fills = a.companions.iter().filter_map(|c| match &c.key {
        CompanionKey::Fill { position } => Some((position.clone(), c.part.clone())),
        _ => None,
    });
    fills.collect()
}

fn before_money(order: &Order) -> [i64; 7] {
    let Order { apart, danger, broken, passed, taken_off, advice, unknown, .. } = *order;
    [apart, danger, broken, passed, taken_off, advice, unknown]
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
    a.clashes.iter().map(|c| c.key.to_string()).collect()
}

/// Keys of what is to be measured.
pub(crate) fn open(a: &Assessment) -> Vec<String> {
    a.to_measure.iter().map(|m| m.key.to_string()).collect()
}

/// What is to be done later, as `when: what [positions] (with companions)`.
pub(crate) fn later(a: &Assessment) -> Vec<String> {
    let told = |l: &crate::assessment::Later| {
        let level = if l.level == Level::Advised { " (advised)" } else { "" };
        let with: String = l.companions.iter().map(|key| format!(" {key}")).collect();
        let with = if with.is_empty() { with } else { format!(" with{with}") };
        // as it is written
        let miles = l.after.iter().any(|q| q.text.contains("mile"));
        let measure = if miles { crate::showing::Measure::Inch } else { crate::showing::Measure::Metric };
        format!("{}: {} [{}]{level}{with}", l.when(measure), l.what, l.positions.join(" "))
    };
    a.later.iter().map(told).collect()
}

/// Which part sits in a place in the end.
pub(crate) fn fitted(a: &Assessment, position: &str) -> Option<String> {
    let view = a.positions.iter().find(|p| p.id == position)?;
    view.fitted.as_ref().map(|(id, _)| id.clone())
}

/// What a check came to; none where it was not made.
pub(crate) fn answer(a: &Assessment, key: &str) -> Option<Answer> {
    a.checks.iter().find(|check| check.key == key).map(|check| check.answer)
}

/// The places whose part goes to the shelf.
pub(crate) fn shelf(a: &Assessment) -> Vec<&str> {
    a.surplus.iter().map(|s| s.position.as_str()).collect()
}

/// What would clear the first clash, in words.
pub(crate) fn remedies(a: &Assessment) -> Vec<String> {
    let all = a.clashes.first().into_iter().flat_map(|clash| &clash.remedies);
    all.map(|r| r.text.say(crate::showing::Measure::Metric)).collect()
}

/// The lines to buy as `2 part 20.00 USD`, in their order.
pub(crate) fn lines(a: &Assessment) -> Vec<String> {
    let told = |l: &crate::assessment::BuyLine| {
        let total = l.total.as_ref().map_or_else(|| "no price".to_owned(), ToString::to_string);
        format!("{} {} {total}", l.qty, l.part)
    };
    a.buy.iter().map(told).collect()
}
