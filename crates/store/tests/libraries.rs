//! Libraries in folders: what is read, what is not followed, what a fault in the user's own costs, and what tells one
//! state of a library from another.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use std::fs;
use std::path::{Path, PathBuf};

use knockon_store::libraries::{Loaded, Wanted, glance, load, usable};

const CLASS: &str = r#"{"format": 1, "library": {"name": "Mill vans", "version": "1.2"},
 "classes": {"lamp-shade": {"name": "Lamp shade", "free": true}}}"#;

fn part(id: &str) -> String {
    format!(
        "{{\"format\": 1,\n\"parts\": {{\"{id}\": {{\"name\": \"Lamp shade\", \"class\": \"lamp-shade\", \"price\": \"1 USD\"}}}}}}"
    )
}

struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn at(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn put(&self, name: &str, text: &str) -> &Self {
        let path = self.at(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
        self
    }

    fn path(&self) -> PathBuf {
        self.0.path().to_owned()
    }
}

fn on_top(dir: &Path) -> Wanted {
    Wanted { add: vec![dir.to_owned()], ..Wanted::default() }
}

fn own(dir: &Path) -> Wanted {
    Wanted { own: Some(dir.to_owned()), ..Wanted::default() }
}

fn faults(loaded: &Loaded) -> Vec<String> {
    loaded.faults().map(|fault| fault.text.clone()).collect()
}

#[test]
fn folders_below_and_capital_endings_are_read_and_hidden_names_are_not() {
    let folder = Folder::new();
    folder
        .put("classes.JSON", CLASS)
        .put("van/lamps/a.json", &part("shade-a"))
        .put("b.Json", &part("shade-b"));
    folder.put(".git/c.json", "no library").put(".d.json", "no library").put("notes.txt", "no library");
    let loaded = load(&on_top(&folder.path()));
    assert_eq!(faults(&loaded), [""; 0]);
    assert!(["shade-a", "shade-b"].iter().all(|id| loaded.catalogue.part(id).is_some()));
    // the library of the program is below
    assert!(loaded.catalogue.vehicles.contains_key("furrow-10"));
    let [shipped, vans] = &loaded.libraries[..] else { panic!("{:?}", loaded.libraries) };
    assert_eq!((shipped.mark.name.as_str(), shipped.folder.as_ref()), ("Knockon", None));
    assert_eq!((vans.mark.name.as_str(), vans.mark.version.as_str(), vans.files), ("Mill vans", "1.2", 3));
    assert_eq!(loaded.catalogue.libraries, [shipped.mark.clone(), vans.mark.clone()]);
}

#[test]
fn a_library_in_place_of_the_shipped_one_stands_by_itself() {
    let folder = Folder::new();
    folder.put("classes.json", CLASS).put("a.json", &part("shade-a"));
    let loaded = load(&Wanted { base: Some(folder.path()), ..Wanted::default() });
    assert!(loaded.catalogue.vehicles.is_empty() && loaded.catalogue.parts.len() == 1);
    assert_eq!(loaded.libraries.len(), 1);
}

#[test]
fn the_digest_tells_states_apart_and_not_where_the_folder_lies() {
    let (one, two) = (Folder::new(), Folder::new());
    let digest = |folder: &Folder| load(&on_top(&folder.path())).libraries[1].mark.digest.clone();
    for folder in [&one, &two] {
        folder.put("classes.json", CLASS).put("a.json", &part("shade-a"));
    }
    assert_eq!(digest(&one), digest(&two));
    assert_eq!(digest(&one).len(), 64);
    let before = glance(&on_top(&two.path()));
    assert_eq!(before, glance(&on_top(&two.path())));
    two.put("a.json", &part("shade-ab"));
    assert_ne!(digest(&one), digest(&two));
    assert_ne!(before, glance(&on_top(&two.path())));
    fs::rename(one.at("a.json"), one.at("b.json")).unwrap();
    two.put("a.json", &part("shade-a"));
    assert_ne!(digest(&one), digest(&two));
}

#[test]
fn libraries_of_one_name_and_names_nobody_can_read_are_told() {
    let (one, two) = (Folder::new(), Folder::new());
    one.put("a.json", CLASS);
    two.put("a.json", r#"{"format": 1, "library": {"name": "Mill vans"}}"#);
    let wanted = Wanted { add: vec![one.path(), two.path()], ..Wanted::default() };
    let told = faults(&load(&wanted));
    assert!(matches!(&told[..], [text] if text.contains("is called \"Mill vans\" too")), "{told:?}");
    one.put("b.json", "{\"format\": 1,\n\"library\": {\"name\": \"Again\"}}");
    let told = faults(&load(&on_top(&one.path())));
    assert!(
        matches!(&told[..], [text] if text.contains("b.json:2: at library: what the library is called stands in")),
        "{told:?}"
    );
    for name in ["", " ", &"n".repeat(81), "a\\u0007b"] {
        two.put("a.json", &format!("{{\"format\": 1, \"library\": {{\"name\": \"{name}\"}}}}"));
        assert_eq!(faults(&load(&on_top(&two.path()))).len(), 1, "{name}");
    }
}

#[test]
fn a_fault_in_the_users_own_costs_that_file_and_what_hangs_on_it() {
    let folder = Folder::new();
    let wanted = own(&folder.path());
    // no folder, an empty folder
    assert_eq!(usable(&own(&folder.at("none"))).unwrap().libraries.len(), 1);
    assert_eq!(usable(&wanted).unwrap().libraries.len(), 1);
    folder.put("classes.json", CLASS).put("a.json", &part("shade-a"));
    folder.put("b.json", &part("shade-b").replace("\"1 USD\"", "7"));
    let loaded = usable(&wanted).unwrap();
    assert!(loaded.catalogue.part("shade-a").is_some() && loaded.catalogue.part("shade-b").is_none());
    let told = faults(&loaded);
    assert!(matches!(&told[..], [text] if text.contains("b.json:2: at parts.shade-b.price")), "{told:?}");
    // the class goes, and with it the part that wants it
    folder.put("classes.json", "{").put("b.json", &part("shade-b"));
    let loaded = usable(&wanted).unwrap();
    assert!(
        loaded.catalogue.part("shade-a").is_none() && loaded.catalogue.vehicles.contains_key("furrow-10")
    );
    assert!(faults(&loaded)[0].contains("classes.json:1: the file ends"), "{:?}", faults(&loaded));
    // what replaces a shipped entry and has a fault does not take it away
    folder.put("classes.json", CLASS);
    folder.put(
        "c.json",
        r#"{"format": 1, "parts": {"tyre-valve-rubber": {"name": "Mine", "class": "tyre-valv"}}}"#,
    );
    let loaded = usable(&wanted).unwrap();
    assert_ne!(loaded.catalogue.part("tyre-valve-rubber").unwrap().part.name, "Mine");
    assert!(loaded.catalogue.part("shade-a").is_some());
}

#[test]
fn a_fault_in_a_library_that_was_asked_for_is_no_library() {
    let folder = Folder::new();
    for wanted in [on_top(&folder.path()), Wanted { base: Some(folder.path()), ..Wanted::default() }] {
        let told = usable(&wanted).unwrap_err();
        assert!(told[0].text.contains("there is no .json file in this folder"), "{told:?}");
    }
    folder.put("a.json", &part("shade-a"));
    assert!(
        usable(&on_top(&folder.path())).unwrap_err()[0].text.contains("there is no class \"lamp-shade\"")
    );
    let none = folder.at("gone");
    assert!(usable(&on_top(&none)).unwrap_err()[0].text.contains("gone: cannot read this folder"));
}

#[test]
fn folders_without_end_are_not_walked() {
    let folder = Folder::new();
    folder.put("classes.json", CLASS);
    let deep = ["d"; 9].join("/");
    folder.put(&format!("{deep}/a.json"), &part("shade-a"));
    let told = faults(&load(&on_top(&folder.path())));
    assert!(matches!(&told[..], [text] if text.contains("lies too deep")), "{told:?}");
}

#[cfg(unix)]
#[test]
fn no_link_is_followed_and_no_pipe_is_opened() {
    use std::os::unix::fs::symlink;
    let (folder, outside) = (Folder::new(), Folder::new());
    outside.put("secret.json", &part("shade-secret"));
    folder.put("classes.json", CLASS);
    for (target, name) in [
        (outside.at("secret.json"), "a.json"),
        (outside.path(), "more"),
        (folder.at("classes.json"), "again.json"),
        (folder.path(), "round"),
        (outside.at("gone"), "nowhere.json"),
    ] {
        symlink(target, folder.at(name)).unwrap();
        let loaded = load(&on_top(&folder.path()));
        let told = faults(&loaded);
        assert!(matches!(&told[..], [text] if text.contains(&format!("{name}: this is a link"))), "{told:?}");
        assert!(loaded.catalogue.part("shade-secret").is_none());
        fs::remove_file(folder.at(name)).unwrap();
    }
    // a folder that is named itself may be a link: whoever names it knows
    symlink(folder.path(), outside.at("door")).unwrap();
    assert_eq!(faults(&load(&on_top(&outside.at("door")))), [""; 0]);
    let made = std::process::Command::new("mkfifo").arg(folder.at("pipe.json")).status().unwrap();
    assert!(made.success());
    let told = faults(&load(&on_top(&folder.path())));
    assert!(
        matches!(&told[..], [text] if text.contains("pipe.json: this is not a regular file")),
        "{told:?}"
    );
    let _ = glance(&on_top(&folder.path()));
}
