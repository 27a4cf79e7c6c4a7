//! The commands that share: a sheet with all it needs, a vehicle as a file, a file taken in.

use std::path::{Path, PathBuf};

use knockon_core::pack::{differs, library_file, pack as packed};
use knockon_core::showing::count;
use knockon_core::{Catalogue, Sheet, assess};
use knockon_store::libraries::Wanted;
use knockon_store::library::Weight;
use knockon_store::taking::{Look, look, take as take_in};
use knockon_store::{libraries, lists, sheets, tidy};
use serde_json::Value as Json;

use crate::libraries::read;
use crate::terminal::say;

type Done = Result<(), String>;

/// Longest list of names that is told whole.
const MOST: usize = 12;

/// Writes a sheet that carries what it needs.
pub fn pack(file: &Path, out: &Path, wanted: &Wanted) -> Done {
    let sheet = sheets::open(file).map_err(|e| e.to_string())?;
    let here = read(wanted)?.catalogue;
    let there = libraries::load(&Wanted::default()).catalogue;
    let Some(packed) = packed(&sheet, &here, &there) else {
        return Err(unknown(file, &sheet, &here));
    };
    if out.exists() {
        return Err(format!("{}: this file is there already; name another", out.display()));
    }
    sheets::save(out, &packed.sheet).map_err(|e| e.to_string())?;
    let name = out.display();
    match packed.brings.len() {
        0 => say(&format!("{name}: written; all it needs comes with the program\n"))?,
        n => {
            say(&format!("{name}: written, with {} of your libraries:\n", count(n, "thing", "things")))?;
            listed(&packed.brings)?;
        }
    }
    for differs in &packed.differs {
        say(&format!("Not the same where it is opened: {differs}\n"))?;
    }
    Ok(())
}

/// Writes the vehicle of a sheet as a file of a library.
pub fn vehicle(file: &Path, out: &Path, wanted: &Wanted) -> Done {
    let sheet = sheets::open(file).map_err(|e| e.to_string())?;
    let here = read(wanted)?.catalogue;
    let Some((id, library)) = library_file(&sheet, &here) else {
        return Err(unknown(file, &sheet, &here));
    };
    let mut json = serde_json::to_value(&library).map_err(|e| e.to_string())?;
    // what says nothing is not written
    if let Json::Object(tables) = &mut json {
        tables
            .retain(|_, table| table.as_object().is_none_or(|t| !t.is_empty()) && table.as_str() != Some(""));
    }
    let text = tidy::text_of(&out.display().to_string(), &json.to_string()).map_err(|e| e.join("\n"))?;
    if out.exists() {
        return Err(format!("{}: this file is there already; name another", out.display()));
    }
    lists::write(out, &text, Some(file)).map_err(|why| why.to_string())?;
    let places = library.vehicles.values().map(|v| v.positions.len()).sum();
    say(&format!(
        "{}: the vehicle \"{id}\" with {} and {} of its own. \"knockon library take {0}\" takes it in.\n",
        out.display(),
        count(places, "place", "places"),
        count(library.parts.len(), "part", "parts")
    ))
}

/// Tells what a file would bring, and takes it in where that is wanted.
pub fn take(file: &Path, of: &[PathBuf], yes: bool, wanted: &Wanted) -> Done {
    let before = read(wanted)?.catalogue;
    let seen = look(file, wanted)?;
    say(&format!("{}:\n", file.display()))?;
    for head in &seen.heads {
        let said =
            |lead: &str, text: &str| if text.is_empty() { String::new() } else { format!("{lead}{text}") };
        let (version, author) = (said(" ", &head.version), said(", by ", &head.author));
        say(&format!("{}{version}{author}{}\n", head.name, said(", licence ", &head.licence)))?;
    }
    brings("vehicle", "vehicles", &seen.vehicles)?;
    brings("part", "parts", &seen.parts)?;
    if !seen.replaces.is_empty() {
        let what = count(seen.replaces.len(), "entry", "entries");
        say(&format!("It replaces {what} of the libraries below:\n"))?;
        listed(&seen.replaces.iter().map(|r| r.path.clone()).collect::<Vec<_>>())?;
    }
    for problem in &seen.problems {
        let lead = if problem.weight == Weight::Fault { "Wrong" } else { "Worth mending" };
        say(&format!("{lead}: {}\n", problem.text))?;
    }
    for sheet in of {
        changes(sheet, &before, &seen)?;
    }
    if seen.is_faulty() {
        return Err("not taken: mend what is wrong first".to_owned());
    }
    if yes {
        take_in(&seen)?;
        say(&format!("Taken in as {}\n", seen.to.display()))
    } else {
        say(&format!("Nothing is written yet; with --yes it is taken in as {}\n", seen.to.display()))
    }
}

fn brings(one: &str, many: &str, names: &[String]) -> Done {
    if names.is_empty() {
        return Ok(());
    }
    say(&format!("It brings {}:\n", count(names.len(), one, many)))?;
    listed(names)
}

fn listed(names: &[String]) -> Done {
    for name in names.iter().take(MOST) {
        say(&format!("  {name}\n"))?;
    }
    match names.len().saturating_sub(MOST) {
        0 => Ok(()),
        more => say(&format!("  and {more} more\n")),
    }
}

/// What a sheet comes to with the file and without.
fn changes(path: &Path, before: &Catalogue, seen: &Look) -> Done {
    let sheet = sheets::open(path).map_err(|e| e.to_string())?;
    for (id, plan) in &sheet.plans {
        let (was, is) = (assess(&sheet, id, before), assess(&sheet, id, &seen.with));
        let told = differs(&was, &is, &plan.name);
        if told.is_empty() {
            say(&format!("{}, {}: stays as it is\n", path.display(), plan.name))?;
        }
        for told in told {
            say(&format!("{}, {told}\n", path.display()))?;
        }
    }
    Ok(())
}

fn unknown(file: &Path, sheet: &Sheet, here: &Catalogue) -> String {
    let known: Vec<&str> = here.vehicles.keys().map(String::as_str).collect();
    let near = knockon_core::meant::nearest(&sheet.vehicle, known.iter().copied());
    let rest = knockon_core::meant::then(near, "name the folder of its library with --add");
    format!("{}: no library here has the vehicle \"{}\"{rest}", file.display(), sheet.vehicle)
}
