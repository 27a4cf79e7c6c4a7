//! Words of a sheet that the library does not know: each with its place, the nearest known word, and what comes of it.

use crate::box_key::BoxKey;
use crate::catalogue::measured::{pieces, place};
use crate::catalogue::{Catalogue, Ix, Names, VehicleEntry};
use crate::meant::{nearest, then};
use crate::sheet::{Plan, Route, Sheet};
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
    let (grown, faults) = catalogue.with_parts(&sheet.parts);
    let mut found = Found { cat: &grown, v: vehicle, list: Vec::new() };
    for fault in
        faults.into_iter().filter(|f| !f.warning && f.file == crate::catalogue::for_sheet::SHEET_PARTS)
    {
        found.list.push(Stranger { path: fault.path, message: fault.message });
    }
    found.sheet(sheet);
    if let Some(entry) = sheet.plans.get(plan) {
        found.plan(&format!("plans.{plan}"), entry);
    }
    found.list
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
        ];
        for (table, positions) in noted {
            for position in positions {
                self.position(&format!("{table}.{position}"), position, "it is left out");
            }
        }
        for id in sheet.lines.keys() {
            let path = format!("lines.{id}");
            if let Ok(content) = id.parse::<BoxKey>() {
                self.content(&path, &content);
                continue;
            }
            let part = id.strip_suffix(".rebuild").or_else(|| id.strip_suffix(".clean")).unwrap_or(id);
            self.part(&path, part, "its money stands by itself");
        }
        for (key, json) in &sheet.facts {
            let path = format!("facts.{key}");
            let (figure, part) = key.split_once('@').map_or((key.as_str(), None), |(f, p)| (f, Some(p)));
            if part.is_some_and(|part| !self.part(&path, part, "the value is left out")) {
                continue;
            }
            if let Some((words, part)) = pieces(key) {
                let cat = self.cat;
                let Some(entry) = cat.part(part) else { continue };
                let read = place(cat, &entry.part, words).and_then(|at| Value::read(json, at.kind).map(drop));
                if let Err(why) = read {
                    self.tell(path, format!("{why}; the value is left out"));
                }
                continue;
            }
            let Some(ix) =
                self.known(&path, "figure", figure, &self.cat.figure_names, "the value is left out")
            else {
                continue;
            };
            let kind = self.cat.figures.get(ix as usize).map(|f| f.1);
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
        for (number, key) in plan.accepted.iter().enumerate() {
            self.key(&format!("{path}.accepted[{number}]"), key);
        }
    }

    /// Whether the part of an id goes to a position, by its class.
    fn goes_to(&mut self, path: &str, part: &str, position: &str) {
        let Some(entry) = self.cat.part(part) else { return };
        let Some(pos) = self.v.position_ix.get(position) else { return };
        let place = &self.v.positions[*pos as usize];
        // a class that is not known is told at the part
        if entry.class != place.class && entry.class != Ix::MAX {
            let class = |ix: Ix| self.cat.class_names.id(ix);
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
            let near = nearest(id, self.v.positions.iter().map(|p| p.id.as_str()));
            let message = format!("this vehicle has no position \"{id}\"{}", then(near, then_what));
            self.tell(path.to_owned(), message);
        }
        known
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

    fn known(&mut self, path: &str, what: &str, id: &str, names: &Names, then_what: &str) -> Option<Ix> {
        let found = names.get(id);
        if found.is_none() {
            let near = nearest(id, names.ids.iter().map(String::as_str));
            let message = format!("the library has no {what} \"{id}\"{}", then(near, then_what));
            self.tell(path.to_owned(), message);
        }
        found
    }

    /// A companion key: whether everything it names is there. That nothing has this key now is no fault: a change of
    /// mind leaves it behind, and may want it again.
    fn key(&mut self, path: &str, key: &str) -> bool {
        const WORDS: [&str; 9] =
            ["bridge", "cap", "position", "need", "joint", "apart", "beside", "fluid", "survey"];
        let left_out = "it is left out";
        let pieces: Vec<&str> = key.split(':').collect();
        let cat = self.cat;
        match pieces[..] {
            ["position" | "survey" | "beside", position] => self.position(path, position, left_out),
            ["cap", joint] | ["bridge", joint, _] => self.joint(path, joint),
            ["joint", joint, class] | ["joint", joint, class, _] => {
                self.joint(path, joint)
                    && self.known(path, "class", class, &cat.class_names, left_out).is_some()
            }
            ["need", position, part, need] => {
                (position == "-" || self.position(path, position, left_out))
                    && self.part(path, part, left_out)
                    && self.known(path, "need", need, &cat.need_names, left_out).is_some()
            }
            ["apart", opening, class] => {
                let ids = || cat.openings.iter().map(|o| o.id.as_str());
                if !ids().any(|id| id == opening) {
                    let rest = then(nearest(opening, ids()), left_out);
                    self.tell(path.to_owned(), format!("the library has no opening \"{opening}\"{rest}"));
                    return false;
                }
                self.known(path, "class", class, &cat.class_names, left_out).is_some()
            }
            ["fluid", class] | ["fluid", class, _] => {
                self.known(path, "class", class, &cat.class_names, left_out).is_some()
            }
            _ => {
                let word = pieces.first().copied().unwrap_or_default();
                let near = nearest(word, WORDS).filter(|near| *near != word);
                self.tell(
                    path.to_owned(),
                    format!("\"{key}\" is no key of a companion{}", then(near, left_out)),
                );
                false
            }
        }
    }

    fn joint(&mut self, path: &str, id: &str) -> bool {
        let known = self.v.joints.iter().any(|j| j.id == id);
        if !known {
            let near = nearest(id, self.v.joints.iter().map(|j| j.id.as_str()));
            self.tell(
                path.to_owned(),
                format!("this vehicle has no joint \"{id}\"{}", then(near, "it is left out")),
            );
        }
        known
    }
}
