//! Taking a file of a library, or a folder of such files, into the owner's own: first a look at what it brings and replaces, then
//! the copy.

use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

use knockon_core::Catalogue;
use knockon_core::layers::Replaced;
use knockon_core::library::{LibraryFile, LibraryHead, Part, Vehicle, Written};

use crate::folder;
use crate::libraries::{Loaded, Wanted, load, load_with};
use crate::library::{Problem, Weight};
use crate::put::own_file;
use crate::text::read_plain;
use crate::tidy::text_of;

/// What a file or folder would bring into the owner's library.
#[derive(Clone, Debug)]
pub struct Look {
    /// Where it would lie.
    pub to: PathBuf,
    /// Its files as they would lie there, each laid out.
    files: Vec<(PathBuf, String)>,
    /// What its files say it is called, with version, author and licence.
    pub heads: Vec<LibraryHead>,
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

    /// How many files it has.
    #[must_use]
    pub fn count(&self) -> usize {
        self.files.len()
    }
}

/// Looks at a file, or at all `.json` files of a folder, as if it lay in the owner's library. Nothing is written.
///
/// # Errors
/// Sentences with the way out: there is no place for an own library, something cannot be read or is none of a library, or
/// another of its name lies there already.
pub fn look(from: &Path, wanted: &Wanted) -> Result<Look, String> {
    let name = from.display();
    let Some(own) = &wanted.own else {
        return Err("there is no library of your own here: leave --no-own out, or set HOME".to_owned());
    };
    let real = |path: &Path| fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    if real(from).starts_with(real(own)) {
        return Err(format!("{name}: this lies in your own library already"));
    }
    let is_folder = from.is_dir();
    let is_named = |_: &&OsStr| is_folder || from.extension().is_some_and(|end| end == "json");
    let Some(called) = from.file_name().filter(is_named) else {
        return Err(format!("{name}: a file of a library ends in .json; give its path, or that of a folder"));
    };
    // such a file is left alone by whoever reads the folder
    if called.to_string_lossy().starts_with('.') {
        return Err(format!(
            "{name}: a file whose name begins with a point is not read; give it another name"
        ));
    }
    let texts = if is_folder { of_folder(from)? } else { vec![(from.to_owned(), read_plain(from)?)] };
    let to = own.join(called);
    let mut files = Vec::new();
    let mut faults = Vec::new();
    for (path, text) in &texts {
        let below = path.strip_prefix(from).ok().filter(|below| below.components().next().is_some());
        match text_of(&path.display().to_string(), text) {
            Ok(text) => files.push((below.map_or_else(|| to.clone(), |below| to.join(below)), text)),
            Err(told) => faults.extend(told),
        }
    }
    if !faults.is_empty() {
        return Err(faults.join("\n"));
    }
    if to.exists() {
        let is_there = |(path, text): &(PathBuf, String)| read_plain(path).is_ok_and(|there| there == *text);
        let what = if is_folder { "folder" } else { "file" };
        let same = if files.iter().all(is_there) { "this" } else { "another" };
        let of = if same == "this" { "" } else { " of this name" };
        return Err(format!(
            "{}: {same} {what}{of} is taken already; move it away first, or give yours another name",
            to.display()
        ));
    }
    let before = load(wanted);
    let mut heads = Vec::new();
    for (_, text) in &files {
        let file: LibraryFile<Written<Part>> =
            serde_json::from_str(text).map_err(|e| format!("{name}: {e}"))?;
        // pieces of one vehicle add up: two vehicles of one id would become one
        let named = |(id, piece): &(&String, &Vehicle)| {
            !piece.name.trim().is_empty() && before.catalogue.vehicles.contains_key(*id)
        };
        if let Some((id, _)) = file.vehicles.iter().find(named) {
            return Err(format!(
                "{name}: there is a vehicle \"{id}\" already; give this one another id under \"vehicles\", or take its name out \
                 where it only adds to that one"
            ));
        }
        heads.extend(file.library);
    }
    // as they are written: what is wrong is told with the lines of whoever has to mend it
    let texts: Vec<_> = texts.into_iter().map(|(path, text)| (path.display().to_string(), text)).collect();
    let with = load_with(wanted, &texts);
    let told: BTreeSet<&str> = before.problems.iter().map(|problem| problem.text.as_str()).collect();
    let problems = with.problems.iter().filter(|problem| !told.contains(problem.text.as_str()));
    let replaced: BTreeSet<&Replaced> = before.replaced.iter().collect();
    let is_of_it = |r: &&Replaced| !replaced.contains(r) && texts.iter().any(|(path, _)| *path == r.by);
    Ok(Look {
        vehicles: new(&before, &with, |catalogue| {
            catalogue.vehicles.iter().map(|(id, vehicle)| (id.clone(), vehicle.name.clone())).collect()
        }),
        parts: new(&before, &with, |catalogue| {
            let parts = catalogue.part_names.ids.values().zip(catalogue.parts.values());
            parts.map(|(id, entry)| (id.clone(), entry.part.name.clone())).collect()
        }),
        replaces: with.replaced.iter().filter(is_of_it).cloned().collect(),
        problems: problems.cloned().collect(),
        heads,
        to,
        files,
        with: with.catalogue,
    })
}

/// The files of a folder, each with its path.
fn of_folder(dir: &Path) -> Result<Vec<(PathBuf, String)>, String> {
    let read = folder::read(dir)?;
    if !read.unread.is_empty() {
        return Err(read.unread.into_iter().map(|(_, why)| why).collect::<Vec<_>>().join("\n"));
    }
    if read.texts.is_empty() {
        return Err(format!("{}: there is no .json file in this folder", dir.display()));
    }
    Ok(read.texts.into_iter().map(|(name, text)| (PathBuf::from(name), text)).collect())
}

/// Names of what is there with the file and not without.
fn new(before: &Loaded, with: &Loaded, all: impl Fn(&Catalogue) -> Vec<(String, String)>) -> Vec<String> {
    let had: BTreeSet<String> = all(&before.catalogue).into_iter().map(|(id, _)| id).collect();
    all(&with.catalogue).into_iter().filter(|(id, _)| !had.contains(id)).map(|(_, name)| name).collect()
}

/// Takes what was looked at: all of it, or nothing.
///
/// # Errors
/// A sentence: something in it is wrong, something lies there by now, or it cannot be written.
pub fn take(look: &Look) -> Result<(), String> {
    if look.is_faulty() {
        return Err(format!("{}: not taken: something in it is wrong", look.to.display()));
    }
    if look.to.exists() {
        return Err(format!("{}: not taken: something of this name lies there by now", look.to.display()));
    }
    for (n, (path, text)) in look.files.iter().enumerate() {
        if let Err(why) = own_file(path, text) {
            for (path, _) in look.files.iter().take(n) {
                // what is left of it is told by the next look
                let _ = fs::remove_file(path);
            }
            return Err(why);
        }
    }
    Ok(())
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
        let told = &seen.problems[0].text;
        // with the line of the file as it is written
        let begins = format!("{}:1: at parts.van-tank.class", file.display());
        assert!(seen.is_faulty() && told.starts_with(&begins) && told.contains("tnak"), "{told}");
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

    #[test]
    fn a_folder_is_taken_as_a_whole_with_what_its_files_say_of_themselves() {
        let folder = tempfile::tempdir().unwrap();
        let own = folder.path().join("own");
        let wanted = Wanted { own: Some(own.clone()), ..Wanted::default() };
        let vans = folder.path().join("vans");
        fs::create_dir_all(vans.join("more")).unwrap();
        let head = |name: &str| {
            format!(
                "{{\"library\": {{\"name\": \"{name}\", \"version\": \"2\", \"author\": \"A mill\", \"licence\": \
                 \"CC0-1.0\"}},"
            )
        };
        fs::write(vans.join("van.json"), VAN.replacen('{', &head("Mill vans"), 1)).unwrap();
        let tank = r#"{"format": 1, "parts": {"spare-tank": {"name": "Spare tank", "class": "tank"}}}"#;
        fs::write(vans.join("more/tank.json"), tank).unwrap();
        let seen = look(&vans, &wanted).unwrap();
        assert!(!seen.is_faulty(), "{:?}", seen.problems);
        assert_eq!((seen.count(), seen.vehicles.len(), seen.parts.len()), (2, 1, 2));
        assert_eq!((seen.heads[0].author.as_str(), seen.heads[0].licence.as_str()), ("A mill", "CC0-1.0"));
        take(&seen).unwrap();
        assert!(own.join("vans/van.json").is_file() && own.join("vans/more/tank.json").is_file());
        let loaded = load(&wanted);
        assert!(loaded.catalogue.part("spare-tank").is_some());
        assert_eq!(loaded.libraries[1].mark.name, "Mill vans");
        assert!(look(&vans, &wanted).unwrap_err().contains("this folder is taken already"));
        assert!(look(&own.join("vans"), &wanted).unwrap_err().contains("in your own library already"));
        // another one with a name of its own: the library of the owner goes by neither
        let other = folder.path().join("other.json");
        fs::write(&other, tank.replace("spare", "third").replacen('{', &head("Tanks"), 1)).unwrap();
        let seen = look(&other, &wanted).unwrap();
        assert!(!seen.is_faulty(), "{:?}", seen.problems);
        take(&seen).unwrap();
        let loaded = load(&wanted);
        assert_eq!(loaded.faults().count(), 0);
        assert_eq!(loaded.libraries[1].mark.name, "own library");
        // a file of a folder with a fault: nothing of it is taken
        let torn = folder.path().join("torn");
        fs::create_dir(&torn).unwrap();
        fs::write(torn.join("a.json"), tank).unwrap();
        fs::write(torn.join("b.json"), "{\"format\": 1, \"prats\": {}}").unwrap();
        let why = look(&torn, &wanted).unwrap_err();
        assert!(why.contains("b.json:1: ") && why.contains("prats"), "{why}");
    }
}
