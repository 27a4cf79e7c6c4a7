//! Ids that the owner's library and one below it both have: what differs, and what comes of taking theirs, or both.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use knockon_core::Catalogue;
use knockon_core::both::{
    Difference, can_stand_beside, differences, entry, id, kind, name, renamed, taken_out,
};
use knockon_core::described::id::from_name;
use knockon_core::layers::Replaced;
use serde_json::Value as Json;
use sha2::{Digest as _, Sha256};

use crate::digest::Digest;
use crate::folder;
use crate::libraries::{Loaded, Wanted, load, load_with};
use crate::library::{Problem, Weight, shipped_texts};
use crate::put::own_file;
use crate::text::read_plain;
use crate::tidy::text_of;

/// An entry that both have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Both {
    /// Its path: `parts.pump-small`.
    pub path: String,
    /// What it is: "part".
    pub kind: &'static str,
    /// What the owner's is called.
    pub name: String,
    /// The file of the owner's library it stands in.
    pub mine: PathBuf,
    /// The file of the other, as it is told.
    pub theirs: String,
    /// In what they differ; empty: in nothing.
    pub differs: Vec<Difference>,
    /// What tells one state of theirs from another: what was decided holds for this one.
    pub mark: String,
    /// The id the owner's would have beside theirs; `None`: only one of them can be there.
    pub beside: Option<String>,
}

/// What is decided of such an entry, where the owner's own does not stay as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Theirs: the owner's goes out of its file.
    Theirs,
    /// Both: the owner's goes on under another id.
    Both,
}

/// Files of the owner's library with what would stand in them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Change {
    /// Path, text before, text after.
    files: Vec<(PathBuf, String, String)>,
}

/// What would come of a change.
#[derive(Clone, Debug)]
pub struct Would {
    /// The change.
    pub change: Change,
    /// What would be wrong that is not now.
    pub problems: Vec<Problem>,
    /// All that would be read.
    pub with: Catalogue,
}

impl Would {
    /// Whether something would be wrong: then it is not done.
    #[must_use]
    pub fn is_faulty(&self) -> bool {
        self.problems.iter().any(|problem| problem.weight == Weight::Fault)
    }
}

/// What the owner's library and one below it both have, by path. Of files that cannot be read nothing is told.
#[must_use]
pub fn both(wanted: &Wanted) -> Vec<Both> {
    let Some(own) = &wanted.own else { return Vec::new() };
    let all = load(wanted);
    let replaced: Vec<&Replaced> =
        all.replaced.iter().filter(|r| Path::new(&r.by).starts_with(own)).collect();
    if replaced.is_empty() {
        return Vec::new();
    }
    let below = load(&Wanted { own: None, ..wanted.clone() });
    // of three libraries only the upper one below the owner's counts: what it replaces is not there any more
    let is_there = |r: &Replaced| !below.replaced.iter().any(|b| (&b.path, &b.file) == (&r.path, &r.file));
    let replaced: Vec<&Replaced> = replaced.into_iter().filter(|r| is_there(r)).collect();
    let files = written(wanted, &replaced);
    let found = |catalogue: &Catalogue, file: &str, path: &str| match path.strip_prefix("parts.") {
        // with what patterns, families and classes say of it
        Some(part) => serde_json::to_value(&*catalogue.part(part)?.part).ok(),
        None => entry(files.get(file)?, path).cloned(),
    };
    let both = replaced.into_iter().filter_map(|r| {
        let (one, other) =
            (found(&all.catalogue, &r.by, &r.path)?, found(&below.catalogue, &r.file, &r.path)?);
        let mut sum = Sha256::new();
        folder::mark(&mut sum, &r.path, &other.to_string());
        let taken = |id: &str| all.catalogue.part(id).is_some();
        let beside =
            can_stand_beside(&r.path).then(|| from_name(&format!("{} mine", id(&r.path)), "", "part", taken));
        Some(Both {
            kind: kind(&r.path),
            name: name(&one, &r.path),
            mine: PathBuf::from(&r.by),
            theirs: r.file.clone(),
            differs: differences(&one, &other),
            mark: Digest::from(sum).to_string(),
            path: r.path.clone(),
            beside,
        })
    });
    both.collect()
}

/// The files in which entries stand, as they are written.
fn written(wanted: &Wanted, replaced: &[&Replaced]) -> BTreeMap<String, Json> {
    let names: BTreeSet<&str> = replaced.iter().flat_map(|r| [r.by.as_str(), r.file.as_str()]).collect();
    let shipped = if wanted.base.is_none() { shipped_texts() } else { Vec::new() };
    let text = |name: &str| {
        let shipped =
            name.strip_prefix("shipped/").and_then(|below| shipped.iter().find(|(n, _)| n == below));
        shipped.map_or_else(|| read_plain(Path::new(name)).ok(), |(_, text)| Some(text.clone()))
    };
    names
        .into_iter()
        .filter_map(|name| Some((name.to_owned(), serde_json::from_str(&text(name)?).ok()?)))
        .collect()
}

/// What would come of deciding so; `before`: what is read now. Nothing is written.
///
/// # Errors
/// A sentence with the way out: a file cannot be read, or the entry is not there any more.
pub fn would(wanted: &Wanted, before: &Loaded, both: &Both, way: Way) -> Result<Would, String> {
    let change = match (way, &both.beside) {
        (Way::Theirs, _) => theirs(both)?,
        (Way::Both, Some(to)) => beside(wanted, both, to)?,
        (Way::Both, None) => {
            return Err(format!(
                "{}: only of parts there can be two; give yours another id in {}",
                both.path,
                both.mine.display()
            ));
        }
    };
    let texts: Vec<_> =
        change.files.iter().map(|(path, _, after)| (path.display().to_string(), after.clone())).collect();
    let Loaded { catalogue, problems, .. } = load_with(wanted, &texts);
    let told: BTreeSet<&str> = before.problems.iter().map(|problem| problem.text.as_str()).collect();
    let problems = problems.into_iter().filter(|problem| !told.contains(problem.text.as_str())).collect();
    Ok(Would { change, problems, with: catalogue })
}

fn theirs(both: &Both) -> Result<Change, String> {
    let before = read_plain(&both.mine)?;
    let mut json = parsed(&both.mine, &before)?;
    if !taken_out(&mut json, &both.path) {
        return Err(format!("{}: {} is not there any more", both.mine.display(), both.path));
    }
    Ok(Change { files: vec![changed(&both.mine, before, &json)?] })
}

/// The owner's part goes by another id in all files of the owner's library; where both are called the same, it says that it is
/// the owner's.
fn beside(wanted: &Wanted, both: &Both, to: &str) -> Result<Change, String> {
    let Some(own) = &wanted.own else { return Err("there is no library of your own here".to_owned()) };
    let called_alike = !both.differs.iter().any(|d| d.what == "name");
    let mut files = Vec::new();
    for path in folder::paths(own)?.found {
        // one with a fault is left as it is, and told by whoever reads the library
        let Ok(before) = read_plain(&path) else { continue };
        let Ok(mut json) = parsed(&path, &before) else { continue };
        if !renamed(&mut json, id(&both.path), to) {
            continue;
        }
        let name = json.get_mut("parts").and_then(|parts| parts.get_mut(to)?.get_mut("name"));
        if let Some(Json::String(name)) = name.filter(|_| called_alike) {
            name.push_str(", mine");
        }
        files.push(changed(&path, before, &json)?);
    }
    if files.is_empty() {
        return Err(format!("{}: {} is not there any more", both.mine.display(), both.path));
    }
    Ok(Change { files })
}

fn parsed(path: &Path, text: &str) -> Result<Json, String> {
    serde_json::from_str(text).map_err(|e| format!("{}:{}: {e}", path.display(), e.line()))
}

fn changed(path: &Path, before: String, after: &Json) -> Result<(PathBuf, String, String), String> {
    let after =
        text_of(&path.display().to_string(), &after.to_string()).map_err(|faults| faults.join("\n"))?;
    Ok((path.to_owned(), before, after))
}

impl Change {
    /// Does it; what stood in each file stays beside it, with .bak added.
    ///
    /// # Errors
    /// A sentence: a file has changed meanwhile, or cannot be written. Nothing is changed then.
    pub fn put(&self) -> Result<(), String> {
        for (path, before, _) in &self.files {
            let mut beside = path.clone().into_os_string();
            beside.push(".bak");
            own_file(Path::new(&beside), before)?;
        }
        self.write(|(path, before, after)| (path, before, after))
    }

    /// Takes it back.
    ///
    /// # Errors
    /// The same.
    pub fn back(&self) -> Result<(), String> {
        self.write(|(path, before, after)| (path, after, before))
    }

    fn write(
        &self,
        way: impl Fn(&(PathBuf, String, String)) -> (&PathBuf, &String, &String),
    ) -> Result<(), String> {
        for (path, from, _) in self.files.iter().map(&way) {
            if read_plain(path)? != *from {
                return Err(format!(
                    "{}: this file has changed meanwhile and is left as it is; look at it again",
                    path.display()
                ));
            }
        }
        for (n, (path, _, to)) in self.files.iter().map(&way).enumerate() {
            if let Err(why) = own_file(path, to) {
                for (path, from, _) in self.files.iter().take(n).map(&way) {
                    // as far as the disk takes it
                    let _ = own_file(path, from);
                }
                return Err(why);
            }
        }
        Ok(())
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use std::fs;
    use std::path::Path;

    use super::{Both, Way, Would, both};
    use crate::libraries::{Wanted, load};

    const BASE: &str = r#"{"format": 1, "systems": {"cab": {"name": "Cab"}},
        "classes": {"heater": {"name": "Heater", "decided": "owner"}},
        "parts": {"heater-a": {"name": "Heater", "class": "heater", "price": "10.00 USD"},
            "heater-b": {"name": "Heater B", "class": "heater", "price": "20.00 USD"}},
        "vehicles": {"van": {"name": "Van", "positions": {
            "heater": {"name": "Heater", "system": "cab", "class": "heater", "as_found": "heater-a"}}}}}"#;
    const OWN: &str = r#"{"format": 1, "about": "Mine.",
        "parts": {"heater-a": {"name": "Heater", "class": "heater", "price": "8.00 USD"},
            "set": {"name": "Set", "class": "heater", "contents": [{"part": "heater-a"}]}},
        "families": {}, "vehicles": {"van": {"positions": {
            "heater": {"name": "Cab heater", "system": "cab", "class": "heater", "as_found": "heater-b"}}}}}"#;

    fn place(own: &str) -> (tempfile::TempDir, Wanted) {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in [("base", BASE), ("own", own)] {
            fs::create_dir(folder.path().join(name)).unwrap();
            fs::write(folder.path().join(name).join("a.json"), text).unwrap();
        }
        let at = |name: &str| Some(folder.path().join(name));
        let wanted = Wanted { base: at("base"), own: at("own"), ..Wanted::default() };
        (folder, wanted)
    }

    fn would(wanted: &Wanted, both: &Both, way: Way) -> Result<Would, String> {
        super::would(wanted, &load(wanted), both, way)
    }

    fn price(wanted: &Wanted, id: &str) -> Option<String> {
        load(wanted).catalogue.part(id).and_then(|p| Some(p.part.price.as_ref()?.to_string()))
    }

    #[test]
    fn what_both_have_is_told_with_what_differs() {
        let (_folder, wanted) = place(OWN);
        let all = both(&wanted);
        let paths: Vec<&str> = all.iter().map(|b| b.path.as_str()).collect();
        assert_eq!(paths, ["parts.heater-a", "vehicles.van.positions.heater"]);
        assert_eq!((all[0].kind, all[0].name.as_str()), ("part", "Heater"));
        assert_eq!(all[0].beside.as_deref(), Some("heater-a-mine"));
        let [price] = &all[0].differs[..] else { unreachable!("{:?}", all[0].differs) };
        assert_eq!(
            (price.what.as_str(), price.mine.as_str(), price.theirs.as_str()),
            ("price", "8.00 USD", "10.00 USD")
        );
        assert_eq!(all[1].beside, None);
        assert_eq!(all[1].differs.len(), 2, "{:?}", all[1].differs);
        assert!(both(&Wanted { own: None, ..wanted }).is_empty());
    }

    #[test]
    fn theirs_takes_mine_out_of_its_file_and_can_be_taken_back() {
        let (folder, wanted) = place(OWN);
        let file = folder.path().join("own/a.json");
        let one = both(&wanted).remove(0);
        let done = would(&wanted, &one, Way::Theirs).unwrap();
        assert!(!done.is_faulty(), "{:?}", done.problems);
        assert_eq!(done.with.part("heater-a").unwrap().part.price.as_ref().unwrap().to_string(), "10.00 USD");
        assert_eq!(fs::read_to_string(&file).unwrap(), OWN, "a look writes nothing");
        done.change.put().unwrap();
        assert_eq!(price(&wanted, "heater-a").as_deref(), Some("10.00 USD"));
        assert_eq!(both(&wanted).len(), 1);
        assert_eq!(fs::read_to_string(folder.path().join("own/a.json.bak")).unwrap(), OWN);
        done.change.back().unwrap();
        assert_eq!(fs::read_to_string(&file).unwrap(), OWN);
        // somebody else has written meanwhile
        fs::write(&file, OWN.replace("8.00", "9.00")).unwrap();
        assert!(done.change.put().unwrap_err().contains("has changed meanwhile"));
        assert!(fs::read_to_string(&file).unwrap().contains("9.00"));
    }

    #[test]
    fn both_stand_beside_each_other_and_what_named_mine_names_it_still() {
        let (_folder, wanted) = place(OWN);
        let all = both(&wanted);
        let done = would(&wanted, &all[0], Way::Both).unwrap();
        assert!(!done.is_faulty(), "{:?}", done.problems);
        done.change.put().unwrap();
        assert_eq!(price(&wanted, "heater-a").as_deref(), Some("10.00 USD"));
        assert_eq!(price(&wanted, "heater-a-mine").as_deref(), Some("8.00 USD"));
        let catalogue = load(&wanted).catalogue;
        assert_eq!(catalogue.part("heater-a-mine").unwrap().part.name, "Heater, mine");
        assert_eq!(catalogue.part("set").unwrap().part.contents[0].part, "heater-a-mine");
        let why = would(&wanted, &all[1], Way::Both).unwrap_err();
        assert!(why.contains("only of parts there can be two"), "{why}");
    }

    #[test]
    fn a_row_of_a_family_gives_way_too_and_what_rests_on_mine_is_told() {
        let own = r#"{"format": 1, "patterns": {"p": {"class": "heater", "name": "Row"}},
            "families": {"f": {"like": "p", "columns": ["price"], "rows": {"heater-a": ["7.00 USD"], "heater-c": ["1.00 USD"]}}}}"#;
        let (folder, wanted) = place(own);
        let one = both(&wanted).remove(0);
        would(&wanted, &one, Way::Theirs).unwrap().change.put().unwrap();
        assert_eq!(price(&wanted, "heater-a").as_deref(), Some("10.00 USD"));
        assert_eq!(price(&wanted, "heater-c").as_deref(), Some("1.00 USD"));
        assert!(would(&wanted, &one, Way::Theirs).unwrap_err().contains("is not there any more"));
        let at = |text: &str| fs::write(folder.path().join(Path::new("own/a.json")), text).unwrap();
        // a class of mine says what theirs does not
        at(r#"{"format": 1, "port_types": {"pipe": {"name": "pipe end"}},
            "classes": {"heater": {"name": "Mine", "decided": "owner", "ports": {"in": {"type": "pipe"}}}},
            "parts": {"heater-d": {"name": "D", "class": "heater", "ports": {"in": {}}}}}"#);
        let one = both(&wanted).remove(0);
        assert_eq!(one.path, "classes.heater");
        let done = would(&wanted, &one, Way::Theirs).unwrap();
        assert!(done.is_faulty() && done.problems[0].text.contains("heater-d"), "{:?}", done.problems);
    }
}
