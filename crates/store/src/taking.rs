//! Taking a file of a library into the owner's own: first a look at what it brings and replaces, then the copy.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use knockon_core::Catalogue;
use knockon_core::layers::Replaced;
use knockon_core::library::{LibraryFile, Part, Vehicle, Written};

use crate::libraries::{Loaded, Wanted, load, load_and};
use crate::library::{Problem, Weight};
use crate::put::own_file;
use crate::text::read_plain;
use crate::tidy::text_of;

/// What a file would bring into the owner's library.
#[derive(Clone, Debug)]
pub struct Look {
    /// Where it would lie.
    pub to: PathBuf,
    /// Its text, laid out.
    text: String,
    /// Vehicles it brings, by name.
    pub vehicles: Vec<String>,
    /// Parts it brings, by name.
    pub parts: Vec<String>,
    /// What of the libraries below it replaces.
    pub replaces: Vec<Replaced>,
    /// What is wrong once it lies there and was not before: faults, and what is worth mending.
    pub problems: Vec<Problem>,
    /// All that is read with it in its place.
    pub with: Catalogue,
}

impl Look {
    /// Whether something in it is wrong: then it is not taken.
    #[must_use]
    pub fn is_faulty(&self) -> bool {
        self.problems.iter().any(|problem| problem.weight == Weight::Fault)
    }
}

/// Looks at a file as if it lay in the owner's library. Nothing is written.
///
/// # Errors
/// A sentence with the way out: there is no place for an own library, the file cannot be read or is none of a library, or
/// another file of its name lies there already.
pub fn look(file: &Path, wanted: &Wanted) -> Result<Look, String> {
    let name = file.display();
    let Some(own) = &wanted.own else {
        return Err("there is no library of your own here: leave --no-own out, or set HOME".to_owned());
    };
    let called = file.file_name().filter(|_| file.extension().is_some_and(|end| end == "json"));
    let Some(called) = called else {
        return Err(format!("{name}: a file of a library ends in .json; give its path"));
    };
    // such a file is left alone by whoever reads the folder
    if called.to_string_lossy().starts_with('.') {
        return Err(format!(
            "{name}: a file whose name begins with a point is not read; give it another name"
        ));
    }
    let text = read_plain(file)?;
    let text = text_of(&name.to_string(), &text).map_err(|faults| faults.join("\n"))?;
    let to = own.join(called);
    if to.exists() {
        let same = read_plain(&to).is_ok_and(|there| there == text);
        let why =
            if same { "this file is taken already" } else { "another file of this name is taken already" };
        return Err(format!("{}: {why}; move it away first, or give yours another name", to.display()));
    }
    let before = load(wanted);
    // pieces of one vehicle add up: two vehicles of one id would become one
    let file: LibraryFile<Written<Part>> = serde_json::from_str(&text).map_err(|e| format!("{name}: {e}"))?;
    let named = |(id, piece): &(&String, &Vehicle)| {
        !piece.name.trim().is_empty() && before.catalogue.vehicles.contains_key(*id)
    };
    if let Some((id, _)) = file.vehicles.iter().find(named) {
        return Err(format!(
            "{name}: there is a vehicle \"{id}\" already; give this one another id under \"vehicles\", or take its name out where it \
             only adds to that one"
        ));
    }
    let with = load_and(wanted, (to.display().to_string(), text.clone()));
    let told: BTreeSet<&str> = before.problems.iter().map(|problem| problem.text.as_str()).collect();
    let problems = with.problems.iter().filter(|problem| !told.contains(problem.text.as_str()));
    let replaced: BTreeSet<&Replaced> = before.replaced.iter().collect();
    let by = to.display().to_string();
    Ok(Look {
        vehicles: new(&before, &with, |catalogue| {
            catalogue.vehicles.iter().map(|(id, vehicle)| (id.clone(), vehicle.name.clone())).collect()
        }),
        parts: new(&before, &with, |catalogue| {
            let parts = catalogue.part_names.ids.values().zip(catalogue.parts.values());
            parts.map(|(id, entry)| (id.clone(), entry.part.name.clone())).collect()
        }),
        replaces: with.replaced.iter().filter(|r| !replaced.contains(r) && r.by == by).cloned().collect(),
        problems: problems.cloned().collect(),
        to,
        text,
        with: with.catalogue,
    })
}

/// Names of what is there with the file and not without.
fn new(before: &Loaded, with: &Loaded, all: impl Fn(&Catalogue) -> Vec<(String, String)>) -> Vec<String> {
    let had: BTreeSet<String> = all(&before.catalogue).into_iter().map(|(id, _)| id).collect();
    all(&with.catalogue).into_iter().filter(|(id, _)| !had.contains(id)).map(|(_, name)| name).collect()
}

/// Takes what was looked at.
///
/// # Errors
/// A sentence: something in it is wrong, or it cannot be written.
pub fn take(look: &Look) -> Result<(), String> {
    if look.is_faulty() {
        return Err(format!("{}: not taken: something in it is wrong", look.to.display()));
    }
    own_file(&look.to, &look.text)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use std::fs;

    use super::{look, take};
    use crate::libraries::{Wanted, load};

    const VAN: &str = r#"{"format": 1, "parts": {"van-tank": {"name": "Van tank", "class": "tank"}},
        "vehicles": {"mill-van": {"name": "Mill van", "positions": {"tank":
            {"name": "Tank", "system": "fuel", "class": "tank", "as_found": "van-tank"}}}}}"#;

    #[test]
    fn a_file_is_looked_at_and_then_taken_once() {
        let folder = tempfile::tempdir().unwrap();
        let own = folder.path().join("own");
        let wanted = Wanted { own: Some(own.clone()), ..Wanted::default() };
        let file = folder.path().join("van.json");
        fs::write(&file, VAN).unwrap();
        let seen = look(&file, &wanted).unwrap();
        assert!(!seen.is_faulty(), "{:?}", seen.problems);
        assert_eq!(
            (seen.vehicles.as_slice(), seen.parts.as_slice()),
            (&["Mill van".to_owned()][..], &["Van tank".to_owned()][..])
        );
        assert!(seen.replaces.is_empty() && !own.exists(), "a look writes nothing");
        take(&seen).unwrap();
        assert!(load(&wanted).catalogue.vehicles.contains_key("mill-van"));
        let again = look(&file, &wanted).unwrap_err();
        assert!(
            again.ends_with("this file is taken already; move it away first, or give yours another name"),
            "{again}"
        );
    }

    #[test]
    fn what_is_wrong_is_told_and_nothing_is_taken() {
        let folder = tempfile::tempdir().unwrap();
        let wanted = Wanted { own: Some(folder.path().join("own")), ..Wanted::default() };
        let file = folder.path().join("van.json");
        fs::write(&file, VAN.replace("\"tank\"}}", "\"tnak\"}}")).unwrap();
        let seen = look(&file, &wanted).unwrap();
        assert!(seen.is_faulty() && seen.problems[0].text.contains("tnak"), "{:?}", seen.problems);
        assert!(take(&seen).is_err() && !wanted.own.unwrap().exists());
        fs::write(&file, "[").unwrap();
        let wanted = Wanted { own: Some(folder.path().join("own")), ..Wanted::default() };
        assert!(look(&file, &wanted).is_err());
        fs::write(folder.path().join(".van.json"), VAN).unwrap();
        assert!(look(&folder.path().join(".van.json"), &wanted).unwrap_err().contains("begins with a point"));
        fs::write(folder.path().join("other.json"), VAN.replace("mill-van", "furrow-10")).unwrap();
        let twice = look(&folder.path().join("other.json"), &wanted).unwrap_err();
        assert!(twice.contains("there is a vehicle \"furrow-10\" already"), "{twice}");
        assert!(look(&folder.path().join("none.txt"), &wanted).unwrap_err().contains("ends in .json"));
        assert!(look(&file, &Wanted::default()).unwrap_err().contains("--no-own"));
    }
}
