//! A sheet that carries all it needs, for somebody who has only the library that comes with the program.

pub mod otherwise;

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value as Json;

use crate::assess;
use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::described::id::from_name;
use crate::described::whole::{difference, whole};
use crate::key::FactKey;
use crate::library::{LibraryFile, Part, Table, Written};
use crate::sheet::Sheet;

/// A sheet with what it needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Packed {
    /// The sheet.
    pub sheet: Sheet,
    /// What it brings with it that the other library has not, each in a few words.
    pub brings: Vec<String>,
    /// What differs where it is opened, plan by plan: it rests on something a sheet cannot carry. Empty: nothing.
    pub differs: Vec<String>,
}

/// Packs a sheet that is judged by one library for somebody who has another. `None`: the sheet's vehicle is in neither, and
/// the other library has no beginning without places that it could be described from.
#[must_use]
pub fn pack(sheet: &Sheet, here: &Catalogue, there: &Catalogue) -> Option<Packed> {
    let grown = here.for_sheet(sheet);
    let vehicle = whole(&grown, &sheet.vehicle)?;
    let mut packed = sheet.clone();
    if !there.vehicles.contains_key(&sheet.vehicle) {
        let blank = there.vehicles.iter().find(|(_, v)| v.beginning && v.positions.is_empty());
        packed.vehicle.clone_from(blank?.0);
    }
    let base = whole(there, &packed.vehicle)?;
    let extra = std::mem::take(&mut packed.described.extra);
    packed.described = difference(&base, &vehicle);
    packed.described.extra = extra;
    for (figure, value) in vehicle.facts.iter().filter(|(id, value)| base.facts.get(*id) != Some(value)) {
        let key = FactKey::Vehicle { figure: figure.clone() }.to_string();
        packed.facts.entry(key).or_insert_with(|| value.clone());
    }
    let assessments: BTreeMap<&String, Assessment> =
        sheet.plans.keys().map(|plan| (plan, assess(sheet, plan, here))).collect();
    let mut brings = Vec::new();
    parts(&mut packed, &grown, there, &assessments, &mut brings);
    words(&mut packed, &grown, there, &mut brings);
    if packed.described.positions.values().any(Option::is_some) {
        brings.push(format!("the vehicle {}", vehicle.name));
    }
    packed.libraries.clone_from(&there.libraries);
    let picture = here.drawing(&sheet.vehicle).is_some() && there.drawing(&packed.vehicle).is_none();
    let picture = picture.then(|| "the side drawing of the vehicle stays behind".to_owned());
    let differs = assessments
        .iter()
        .flat_map(|(plan, here)| differs(here, &assess(&packed, plan, there), &sheet.plans[*plan].name))
        .chain(picture)
        .collect();
    Some(Packed { sheet: packed, brings, differs })
}

/// Parts the sheet names, or its plans come to, that are not there or are others there.
fn parts(
    packed: &mut Sheet,
    here: &Catalogue,
    there: &Catalogue,
    assessments: &BTreeMap<&String, Assessment>,
    brings: &mut Vec<String>,
) {
    let mut wanted: BTreeSet<String> = packed.lines.keys().cloned().collect();
    wanted.extend(packed.as_found.values().flatten().cloned());
    wanted.extend(packed.described.positions.values().flatten().filter_map(|own| own.as_found.clone()));
    for plan in packed.plans.values() {
        wanted.extend(plan.routes.values().filter_map(|choice| choice.part.clone()));
        wanted.extend(plan.picks.values().cloned());
    }
    for a in assessments.values() {
        wanted.extend(a.companions.iter().map(|c| c.part.clone()));
        wanted.extend(a.buy.iter().map(|line| line.part.clone()));
        wanted.extend(a.positions.iter().filter_map(|p| Some(p.fitted.as_ref()?.0.clone())));
    }
    let mut open: Vec<String> = wanted.iter().cloned().collect();
    while let Some(id) = open.pop() {
        let Some(entry) = here.part(&id) else { continue };
        for content in &entry.part.contents {
            if wanted.insert(content.part.clone()) {
                open.push(content.part.clone());
            }
        }
    }
    // a part of the sheet may be like one that only this library has
    let read_there = there.parts_of(packed);
    for id in wanted {
        let Some(part) = written(here, &id) else { continue };
        let is_there = read_there.get(&id).or_else(|| written(there, &id));
        if is_there == Some(part) {
            continue;
        }
        brings.push(format!("the part {}", part.name));
        packed.parts.insert(id, Written::whole(part.clone()));
    }
}

fn written<'a>(catalogue: &'a Catalogue, id: &str) -> Option<&'a Part> {
    catalogue.files.iter().find_map(|(_, file)| file.parts.get(id))
}

/// Classes, figures, needs, port types and limits that the sheet speaks of, and what these speak of in turn, as far as they are
/// not there.
fn words(packed: &mut Sheet, here: &Catalogue, there: &Catalogue, brings: &mut Vec<String>) {
    loop {
        let before = brings.len();
        let mut said = BTreeSet::new();
        for part in packed.parts.values() {
            spoken(&Json::Object(part.words().clone()), &mut said);
        }
        let own = (
            (&packed.described, &packed.classes, &packed.figures),
            (&packed.needs, &packed.port_types, &packed.limits),
        );
        if let Ok(own) = serde_json::to_value(own) {
            spoken(&own, &mut said);
        }
        macro_rules! carry {
            ($($table:ident $what:literal),*) => { $(
                let has = |id: &String| there.files.iter().any(|(_, file)| file.$table.contains_key(id));
                let all = here.files.iter().flat_map(|(_, file)| &file.$table);
                let new: Vec<_> = all.filter(|(id, _)| said.contains(*id) && !has(id)).collect();
                for (id, word) in new {
                    if !packed.$table.contains_key(id) {
                        packed.$table.insert(id.clone(), word.clone());
                        brings.push(format!("the {} {}", $what, word.name));
                    }
                }
            )* };
        }
        carry!(classes "class", figures "figure", needs "need", port_types "port type");
        let classes: Vec<&String> = packed.classes.keys().collect();
        let about = |text: &str| classes.iter().any(|class| text.contains(&format!("\"{class}\"")));
        for (id, limit) in here.files.iter().flat_map(|(_, file)| &file.limits) {
            let has = there.files.iter().any(|(_, file)| file.limits.contains_key(id));
            if !has && serde_json::to_string(limit).is_ok_and(|text| about(&text)) {
                packed.limits.entry(id.clone()).or_insert_with(|| {
                    brings.push(format!("the limit {}", limit.name));
                    limit.clone()
                });
            }
        }
        if brings.len() == before {
            break;
        }
    }
}

/// Every word that something says, as a name or as a text.
fn spoken(json: &Json, said: &mut BTreeSet<String>) {
    match json {
        Json::String(text) => said.extend(text.split_whitespace().map(str::to_owned)),
        Json::Array(all) => all.iter().for_each(|one| spoken(one, said)),
        Json::Object(table) => {
            for (word, inside) in table {
                said.insert(word.clone());
                spoken(inside, said);
            }
        }
        _ => {}
    }
}

/// What two assessments of a plan find otherwise, in sentences: what is to be bought and done, what does not fit, what is to be
/// measured and minded, by what it is and not by how much of it there is. Empty: they find the same.
#[must_use]
pub fn differs(one: &Assessment, other: &Assessment, plan: &str) -> Vec<String> {
    type All = BTreeSet<String>;
    type Found<'a> = (&'static str, fn(&Assessment) -> All);
    let all: [Found<'_>; 7] = [
        ("places", |a| a.positions.iter().map(|p| format!("{} {:?}", p.id, p.fitted)).collect()),
        ("companions", |a| a.companions.iter().map(|c| format!("{} {} {}", c.key, c.part, c.qty)).collect()),
        ("clashes", |a| a.clashes.iter().map(|c| c.key.to_string()).collect()),
        ("measurements", |a| a.to_measure.iter().map(|m| m.key.to_string()).collect()),
        ("advised needs that nothing meets", |a| a.unmet.iter().map(|u| u.key.to_string()).collect()),
        ("later works", |a| a.later.iter().map(|l| l.what.clone()).collect()),
        ("cautions", |a| a.cautions.iter().map(|c| c.id.clone()).collect()),
    ];
    let mut out = Vec::new();
    for (what, of) in all {
        let (here, there) = (of(one), of(other));
        if here != there {
            let [lost, new] = [here.difference(&there).count(), there.difference(&here).count()];
            out.push(format!("{plan}: {what}: {lost} are not there any more, {new} are new"));
        }
    }
    if one.totals.money != other.totals.money || one.totals.hours.total_cmp(&other.totals.hours).is_ne() {
        out.push(format!("{plan}: another sum of money or hours"));
    }
    out
}

/// What a sheet describes as a file of a library, for others to begin from: its vehicle under an id and a name of its own,
/// with the parts that were found on it and the words they are written in. Choices, prices paid and notes stay with the
/// sheet. `None`: the sheet's vehicle is not known.
#[must_use]
pub fn library_file(sheet: &Sheet, catalogue: &Catalogue) -> Option<(String, LibraryFile)> {
    let grown = catalogue.for_sheet(sheet);
    let mut vehicle = whole(&grown, &sheet.vehicle)?;
    if vehicle.name == catalogue.vehicles.get(&sheet.vehicle).map(|v| v.name.as_str()).unwrap_or_default() {
        vehicle.name.clone_from(&sheet.name);
    }
    let taken = |id: &str| catalogue.vehicles.contains_key(id);
    let id = from_name(&vehicle.name, "", "vehicle", taken);
    // two vehicles may each have a part that its owner called the same
    let mut ids: BTreeMap<&str, String> = BTreeMap::new();
    for part in sheet.parts.keys() {
        let taken = |new: &str| catalogue.part(new).is_some() || ids.values().any(|used| used == new);
        let new = from_name(part.trim_start_matches("own-"), &format!("{id}-"), "part", taken);
        ids.insert(part, new);
    }
    let own = |part: &str| ids.get(part).cloned().unwrap_or_else(|| part.to_owned());
    for (place, entry) in &mut vehicle.positions {
        if let Some(found) = sheet.as_found.get(place) {
            entry.as_found.clone_from(found);
        }
        entry.as_found = entry.as_found.as_deref().map(own);
    }
    for (key, value) in &sheet.facts {
        if let Ok(FactKey::Vehicle { figure }) = key.parse() {
            vehicle.facts.insert(figure, value.clone());
        }
    }
    vehicle.beginning = false;
    let mut parts: Table<Part> = Table::new();
    for (part, full) in catalogue.parts_of(sheet) {
        let mut full = full;
        full.contents.iter_mut().for_each(|content| content.part = own(&content.part));
        parts.insert(own(&part), full);
    }
    let file = LibraryFile {
        format: 1,
        about: format!("{}: described in a sheet.", vehicle.name),
        source: "measured: as its owner describes it".to_owned(),
        parts,
        classes: sheet.classes.clone(),
        figures: sheet.figures.clone(),
        needs: sheet.needs.clone(),
        port_types: sheet.port_types.clone(),
        limits: sheet.limits.clone(),
        vehicles: [(id.clone(), vehicle)].into(),
        ..LibraryFile::default()
    };
    Some((id, file))
}

#[cfg(test)]
#[path = "pack/tests.rs"]
mod tests;
