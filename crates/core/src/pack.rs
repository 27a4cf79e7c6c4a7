//! A sheet that carries all it needs, for somebody who has only the library that comes with the program.

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
    for id in wanted {
        let Some(part) = written(here, &id) else { continue };
        if packed.parts.contains_key(&id) || written(there, &id) == Some(part) {
            continue;
        }
        brings.push(format!("the part {}", part.name));
        packed.parts.insert(id, Written::whole(part.clone()));
    }
}

fn written<'a>(catalogue: &'a Catalogue, id: &str) -> Option<&'a Part> {
    catalogue.files.iter().find_map(|(_, file)| file.parts.get(id))
}

/// Classes, figures, needs and port types that the parts and places of the sheet speak of, and limits, that are not there.
fn words(packed: &mut Sheet, here: &Catalogue, there: &Catalogue, brings: &mut Vec<String>) {
    let mut said = BTreeSet::new();
    for part in packed.parts.values() {
        spoken(&Json::Object(part.words().clone()), &mut said);
    }
    if let Ok(described) = serde_json::to_value(&packed.described) {
        spoken(&described, &mut said);
    }
    macro_rules! carry {
        ($($table:ident $what:literal),*) => { $(
            let has = |id: &String| there.files.iter().any(|(_, file)| file.$table.contains_key(id));
            let all = here.files.iter().flat_map(|(_, file)| &file.$table);
            let new: Vec<_> = all.filter(|(id, _)| said.contains(*id) && !has(id)).collect();
            for (id, word) in new {
                if packed.$table.insert(id.clone(), word.clone()).is_none() {
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

/// What two assessments of a plan find otherwise, in sentences.
fn differs(here: &Assessment, there: &Assessment, plan: &str) -> Vec<String> {
    let counts = |a: &Assessment| -> [(&'static str, usize); 5] {
        [
            ("places", a.positions.len()),
            ("companions", a.companions.len()),
            ("clashes", a.clashes.len()),
            ("measurements", a.to_measure.len()),
            ("cautions", a.cautions.len()),
        ]
    };
    let mut out: Vec<String> = counts(here)
        .into_iter()
        .zip(counts(there))
        .filter(|((_, a), (_, b))| a != b)
        .map(|((what, a), (_, b))| format!("{plan}: {a} {what} here, {b} where it is opened"))
        .collect();
    if here.totals.money != there.totals.money || here.totals.hours.total_cmp(&there.totals.hours).is_ne() {
        out.push(format!("{plan}: another sum of money or hours where it is opened"));
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
    let own = |part: &str| match sheet.parts.contains_key(part) {
        // two vehicles may each have a part that its owner called the same
        true => format!("{id}-{}", part.trim_start_matches("own-")),
        false => part.to_owned(),
    };
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
