//! Words of a sheet that the library does not know: each with its place, the nearest known word, and what comes of it.

mod dates;
pub mod unread;

use std::collections::BTreeSet;

use crate::box_key::BoxKey;
use crate::catalogue::measured::place;
use crate::catalogue::{Brought, Catalogue, ClassId, Id, Names, VehicleEntry};
use crate::date::{Dated, day};
use crate::edit::MOST_WEEKS;
use crate::key::{CompanionKey, FactKey, KeyError};
use crate::line_id;
use crate::meant::{nearest, then};
use crate::refunded;
use crate::sheet::{Plan, Route, Sheet, Time};
use crate::value::Value;

/// A word, or a value, that is left out of the assessment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stranger {
    /// Its path in the sheet: `plans.mine.routes.tank.part`.
    pub path: String,
    /// A sentence: what is not known, what may be meant, what is done.
    pub message: String,
}

/// What one plan of a sheet, and the sheet itself, name and the library does not know. The vehicle alone, where that is
/// not known: nothing can be said of the rest.
#[must_use]
pub fn strangers(sheet: &Sheet, plan: &str, catalogue: &Catalogue) -> Vec<Stranger> {
    let Some(vehicle) = catalogue.vehicles.get(&sheet.vehicle) else {
        let ids = catalogue.vehicles.keys().map(String::as_str);
        let has = format!("it has {}", ids.clone().collect::<Vec<_>>().join(", "));
        let message = format!(
            "the library has no vehicle \"{}\"{}",
            sheet.vehicle,
            then(nearest(&sheet.vehicle, ids), &has)
        );
        return vec![Stranger { path: "vehicle".to_owned(), message }];
    };
    let (grown, list) = brought(sheet, plan, catalogue);
    // a class that the sheet brings has moved the numbers of the others
    let vehicle = grown.vehicles.get(&sheet.vehicle).unwrap_or(vehicle);
    let mut found = Found { cat: &grown, v: vehicle, list };
    found.sheet(sheet);
    if let Some(entry) = sheet.plans.get(plan) {
        found.plan(&format!("plans.{plan}"), entry);
    }
    found.list
}

/// What of a sheet nothing rests on, whatever vehicle it is of: words nobody reads, and what is wrong with the parts, words
/// and limits it brings.
#[must_use]
pub fn left_out(sheet: &Sheet, plan: &str, catalogue: &Catalogue) -> Vec<Stranger> {
    brought(sheet, plan, catalogue).1
}

/// The library with what a sheet brings, and what of that is left out.
fn brought(sheet: &Sheet, plan: &str, catalogue: &Catalogue) -> (Catalogue, Vec<Stranger>) {
    let (grown, faults) = catalogue.with_brought(&Brought::of(sheet));
    let faults =
        faults.into_iter().filter(|f| !f.warning && f.file == crate::catalogue::for_sheet::SHEET_PARTS);
    let of_vehicle = format!("vehicles.{}.", sheet.vehicle);
    let here = |path: String| match path.strip_prefix(&of_vehicle) {
        Some(below) => format!("described.{below}"),
        None => path,
    };
    let mut list: Vec<Stranger> =
        faults.map(|fault| Stranger { path: here(fault.path), message: fault.message }).collect();
    list.extend(unread::words(sheet, plan));
    (grown, list)
}

struct Found<'a> {
    cat: &'a Catalogue,
    v: &'a VehicleEntry,
    list: Vec<Stranger>,
}

impl Found<'_> {
    fn tell(&mut self, path: String, message: String) {
        self.list.push(Stranger { path, message });
    }

    fn sheet(&mut self, sheet: &Sheet) {
        for (position, part) in &sheet.as_found {
            let path = format!("as_found.{position}");
            if self.position(&path, position, "it is left out")
                && let Some(part) = part
                && self.part(&path, part, "the place counts as empty")
            {
                self.goes_to(&path, part, position);
            }
        }
        let noted = [
            ("survey", sheet.survey.keys().collect::<Vec<_>>()),
            ("notes", sheet.notes.keys().collect()),
            ("photos", sheet.photos.keys().collect()),
            ("readings", sheet.readings.keys().collect()),
            ("seen", sheet.seen.keys().collect()),
            ("own_bounds", sheet.own_bounds.keys().collect()),
            ("put_off", sheet.put_off.keys().collect()),
        ];
        for (table, positions) in noted {
            for position in positions {
                self.position(&format!("{table}.{position}"), position, "it is left out");
            }
        }
        for (id, line) in &sheet.lines {
            let path = format!("lines.{id}");
            if let Ok(content) = id.parse::<BoxKey>() {
                self.content(&path, &content);
            } else {
                self.part(&path, line_id::read(id).0, "its money stands by itself");
            }
            for (path, message) in refunded::odd(id, line) {
                self.tell(path, message);
            }
            if let Some(text) = &line.fitted {
                self.date(format!("lines.{id}.fitted"), text);
            }
        }
        for aim in sheet.direction().iter().flat_map(|direction| &direction.aims) {
            if !self.cat.aims.contains_key(aim) {
                let near = nearest(aim, self.cat.aims.keys().map(String::as_str));
                let rest = then(near, "the plan is not held to it");
                self.tell("directions.aims".to_owned(), format!("the library has no aim \"{aim}\"{rest}"));
            }
        }
        for (path, message) in dates::wrong(sheet) {
            self.tell(path, message);
        }
        for (id, line) in &sheet.lines {
            let promised = line.promised.as_deref().map(Dated::parse);
            if let Some(Err(why)) = promised {
                self.tell(format!("lines.{id}.promised"), format!("{why}; the date is left out"));
            }
            if let Some(weeks) = line.weeks.filter(|weeks| !(0.0..=MOST_WEEKS).contains(weeks)) {
                let message = format!("expected 0 to {MOST_WEEKS} weeks, found {weeks}; they are left out");
                self.tell(format!("lines.{id}.weeks"), message);
            }
        }
        for (word, why) in sheet.time.iter().flat_map(Time::wrong) {
            self.tell(format!("time.{word}"), format!("{why}; it is left out"));
        }
        for (job, text) in &sheet.pinned {
            if let Err(why) = day(text) {
                self.tell(format!("pinned.{job}"), format!("{why}; the job comes whenever it comes"));
            }
        }
        for (place, text) in &sheet.made {
            let path = format!("made.{place}");
            if self.place(&path, place) {
                self.date(path, text);
            }
        }
        for (key, json) in &sheet.facts {
            let path = format!("facts.{key}");
            let key: FactKey = match key.parse() {
                Ok(key) => key,
                Err(why) => {
                    self.tell(path, format!("{why}; the value is left out"));
                    continue;
                }
            };
            let is_of_place =
                matches!(&key, FactKey::Part { part, .. } if self.v.position_ix.contains_key(part));
            if key.part().is_some_and(|p| !is_of_place && !self.part(&path, p, "the value is left out")) {
                continue;
            }
            let figure = match &key {
                FactKey::Vehicle { figure } | FactKey::Part { figure, .. } => figure,
                FactKey::Port { port, field, part } => {
                    let cat = self.cat;
                    let Some(entry) = cat.part(part) else { continue };
                    let at = place(cat, &entry.part, port, field);
                    if let Err(why) = at.and_then(|at| Value::read(json, at.kind).map(drop)) {
                        self.tell(path, format!("{why}; the value is left out"));
                    }
                    continue;
                }
            };
            let Some(ix) =
                self.known(&path, "figure", figure, &self.cat.figure_names, "the value is left out")
            else {
                continue;
            };
            let kind = self.cat.figures.get(ix).map(|f| f.1);
            if let Some(Err(why)) = kind.map(|kind| Value::read(json, kind)) {
                self.tell(path, format!("{why}; the value is left out"));
            }
        }
    }

    fn plan(&mut self, path: &str, plan: &Plan) {
        for (position, choice) in &plan.routes {
            let here = format!("{path}.routes.{position}");
            if !self.position(&here, position, "its route is left out") || choice.route != Route::Convert {
                continue;
            }
            match &choice.part {
                None => self.tell(here, "\"convert\" wants a part; the place is left as found".to_owned()),
                Some(part) => {
                    let here = format!("{here}.part");
                    if self.part(&here, part, "the place is left as found") {
                        self.goes_to(&here, part, position);
                    }
                }
            }
        }
        for (key, part) in &plan.picks {
            let here = format!("{path}.picks.{key}");
            if self.key(&here, key) {
                self.part(&here, part, "the cheapest is taken");
            }
        }
        for key in plan.waived.keys() {
            self.key(&format!("{path}.waived.{key}"), key);
        }
        let unread = &plan.unread;
        // in the order of the file
        let accepted =
            plan.accepted.iter().map(CompanionKey::to_string).chain(unread.accepted.iter().cloned());
        for (number, text) in accepted.collect::<BTreeSet<_>>().iter().enumerate() {
            let here = format!("{path}.accepted[{number}]");
            match text.parse() {
                Ok(key) => drop(self.key(&here, &key)),
                Err(why) => self.no_key(here, &why),
            }
        }
        for (table, texts) in [("picks", unread.picks.keys()), ("waived", unread.waived.keys())] {
            for text in texts {
                if let Err(why) = text.parse::<CompanionKey>() {
                    self.no_key(format!("{path}.{table}.{text}"), &why);
                }
            }
        }
    }

    fn no_key(&mut self, path: String, why: &KeyError) {
        self.tell(path, format!("{why}; it is left out"));
    }

    /// Whether the part of an id goes to a position, by its class.
    fn goes_to(&mut self, path: &str, part: &str, position: &str) {
        let Some(entry) = self.cat.part(part) else { return };
        let Some(pos) = self.v.position_ix.get(position) else { return };
        let place = &self.v.positions[*pos];
        // a class that is not known is told at the part
        if entry.class != place.class && entry.class != Id::UNKNOWN {
            let class = |ix: ClassId| self.cat.class_names.id(ix);
            let message = format!(
                "\"{part}\" is of the class \"{}\" and does not go to {position}, which takes \"{}\"",
                class(entry.class),
                class(place.class)
            );
            self.tell(path.to_owned(), message);
        }
    }

    fn position(&mut self, path: &str, id: &str, then_what: &str) -> bool {
        let known = self.v.position_ix.contains_key(id);
        if !known {
            let near = nearest(id, self.v.positions.values().map(|p| p.id.as_str()));
            let message = format!("this vehicle has no position \"{id}\"{}", then(near, then_what));
            self.tell(path.to_owned(), message);
        }
        known
    }

    /// A position or a circuit: both can have a date.
    fn place(&mut self, path: &str, id: &str) -> bool {
        let v = self.v;
        let known = v.position_ix.contains_key(id) || v.circuits.values().any(|c| c.id == id);
        if !known {
            let ids =
                v.positions.values().map(|p| p.id.as_str()).chain(v.circuits.values().map(|c| c.id.as_str()));
            let rest = then(nearest(id, ids), "its date is left out");
            self.tell(path.to_owned(), format!("this vehicle has no position and no circuit \"{id}\"{rest}"));
        }
        known
    }

    fn date(&mut self, path: String, text: &str) {
        match Dated::parse(text) {
            Err(why) => self.tell(path, format!("{why}; the date is left out")),
            Ok(date) => {
                if let Some(on) = self.cat.as_of.filter(|on| date.first > *on) {
                    let message = format!(
                        "{text} is after {on}, the day of this assessment; nothing is said of its age"
                    );
                    self.tell(path, message);
                }
            }
        }
    }

    fn part(&mut self, path: &str, id: &str, then_what: &str) -> bool {
        self.known(path, "part", id, &self.cat.part_names, then_what).is_some()
    }

    fn content(&mut self, path: &str, key: &BoxKey) {
        let left_out = "it is left out";
        if !self.part(path, &key.kit, left_out) || !self.part(path, &key.part, left_out) {
            return;
        }
        let cat = self.cat;
        let Some(kit) = cat.part(&key.kit) else { return };
        let contents = || kit.part.contents.iter().map(|c| c.part.as_str());
        if !contents().any(|part| part == key.part) {
            let rest = then(nearest(&key.part, contents()), left_out);
            self.tell(path.to_owned(), format!("the box of \"{}\" holds no \"{}\"{rest}", key.kit, key.part));
        }
    }

    fn known<T>(
        &mut self,
        path: &str,
        what: &str,
        id: &str,
        names: &Names<T>,
        then_what: &str,
    ) -> Option<Id<T>> {
        let found = names.get(id);
        if found.is_none() {
            let near = nearest(id, names.ids.values().map(String::as_str));
            let message = format!("the library has no {what} \"{id}\"{}", then(near, then_what));
            self.tell(path.to_owned(), message);
        }
        found
    }

    /// A companion key: whether everything it names is there. That nothing has this key now is no fault: a change of
    /// mind leaves it behind, and may want it again.
    fn key(&mut self, path: &str, key: &CompanionKey) -> bool {
        match key {
            CompanionKey::Fill { position }
            | CompanionKey::Survey { position }
            | CompanionKey::Age { position }
            | CompanionKey::Beside { position } => self.position(path, position, "it is left out"),
            CompanionKey::Cap { joint } | CompanionKey::Bridge { joint, .. } => self.joint(path, joint),
            CompanionKey::Seal { joint, class, .. } => self.joint(path, joint) && self.class(path, class),
            CompanionKey::Need { cause, asker, need } => {
                let needs = &self.cat.need_names;
                cause.as_ref().is_none_or(|cause| self.position(path, cause, "it is left out"))
                    && self.part(path, asker, "it is left out")
                    && self.known(path, "need", need, needs, "it is left out").is_some()
            }
            CompanionKey::Apart { opening, class, .. } => {
                self.opening(path, opening) && self.class(path, class)
            }
            CompanionKey::Fluid { class, .. } => self.class(path, class),
        }
    }

    fn class(&mut self, path: &str, id: &str) -> bool {
        self.known(path, "class", id, &self.cat.class_names, "it is left out").is_some()
    }

    fn opening(&mut self, path: &str, id: &str) -> bool {
        let ids = || self.cat.openings.values().map(|o| o.id.as_str());
        let known = ids().any(|known| known == id);
        if !known {
            let rest = then(nearest(id, ids()), "it is left out");
            self.tell(path.to_owned(), format!("the library has no opening \"{id}\"{rest}"));
        }
        known
    }

    fn joint(&mut self, path: &str, id: &str) -> bool {
        let known = self.v.joints.values().any(|j| j.id == id);
        if !known {
            let near = nearest(id, self.v.joints.values().map(|j| j.id.as_str()));
            self.tell(
                path.to_owned(),
                format!("this vehicle has no joint \"{id}\"{}", then(near, "it is left out")),
            );
        }
        known
    }
}
