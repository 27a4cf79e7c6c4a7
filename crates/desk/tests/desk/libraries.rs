//! Libraries on the desk: what is saved in an editor comes in, what has a fault does not, and what a sheet was made with.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::Sheet;
use knockon_store::libraries::Wanted;
use knockon_store::sheets;

use crate::help::{Desk, go_to, settle, start_with};

fn cart(lantern: &str) -> String {
    format!(
        r#"{{"format": 1, "library": {{"name": "Carts", "version": "1"}},
 "systems": {{"lamps": {{"name": "Lamps"}}}},
 "classes": {{"lantern": {{"name": "Lantern", "decided": "owner"}}}},
 "parts": {{"lantern-oil": {{"name": "{lantern}", "class": "lantern", "price": "8.00 USD"}}}},
 "vehicles": {{"hand-cart": {{"name": "Hand cart", "positions": {{
   "lamp": {{"name": "Lamp", "system": "lamps", "class": "lantern", "as_found": "lantern-oil"}}}}}}}},
 "drawings": {{"cart": {{"about": "A cart", "vehicles": ["hand-cart"], "size": [1000, 500],
   "regions": {{"lamps": {{"label": "Lamps", "shapes": [[[10, 10], [200, 10], [200, 200], [10, 200]]]}}}}}}}}}}"#
    )
}

struct Place {
    folder: tempfile::TempDir,
}

impl Place {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("library")).unwrap();
        Self { folder }
    }

    fn library(&self) -> PathBuf {
        self.folder.path().join("library")
    }

    fn write(&self, text: &str) {
        fs::write(self.library().join("cart.json"), text).unwrap();
    }

    fn sheet(&self, text: &str) -> PathBuf {
        let path = self.folder.path().join("cart-sheet.json");
        fs::write(&path, text).unwrap();
        path
    }

    fn desk(&self, sheet: &Path) -> Desk {
        let wanted = Wanted { own: Some(self.library()), ..Wanted::default() };
        start_with(Some(sheet.to_owned()), Some(self.folder.path().join("home")), wanted)
    }
}

const SHEET: &str = r#"{"format": 1, "name": "Our cart", "vehicle": "hand-cart", "plan": "p", "plans": {"p": {"name": "P"}}}"#;

/// Frames until something is so.
fn until(desk: &mut Desk, is_so: impl Fn(&Desk) -> bool) {
    let begun = Instant::now();
    while !is_so(desk) {
        assert!(begun.elapsed() < Duration::from_secs(20), "it does not come about");
        std::thread::sleep(Duration::from_millis(20));
        desk.run_steps(2);
    }
}

fn fitted(desk: &Desk) -> Vec<String> {
    desk.state().assessment().positions.iter().filter_map(|p| Some(p.fitted.as_ref()?.1.clone())).collect()
}

#[test]
fn what_an_editor_saves_comes_in_and_what_has_a_fault_does_not() {
    let place = Place::new();
    place.write(&cart("Oil lantern"));
    let mut desk = place.desk(&place.sheet(SHEET));
    settle(&mut desk);
    assert_eq!(fitted(&desk), ["Oil lantern"]);
    // its drawing is there too
    assert!(desk.query_by_label("A cart").is_some());
    place.write(&cart("Brass lantern"));
    until(&mut desk, |desk| fitted(desk) == ["Brass lantern"]);
    assert!(
        desk.state().message().unwrap().contains("read again: \"Carts\" 1 ("),
        "{:?}",
        desk.state().message()
    );
    place.write(&cart("Broken").replace("8.00 USD", "eight"));
    until(&mut desk, |desk| !desk.state().unread().is_empty());
    let told = desk.state().unread()[0].to_owned();
    assert!(
        told.contains("cart.json:4: at parts.lantern-oil.price") && told.contains("as it was read last"),
        "{told}"
    );
    assert_eq!(fitted(&desk), ["Brass lantern"]);
    place.write(&cart("Tin lantern"));
    until(&mut desk, |desk| fitted(desk) == ["Tin lantern"]);
    assert!(desk.state().unread().is_empty());
}

#[test]
fn a_sheet_opens_without_its_library_and_names_it() {
    let place = Place::new();
    let with = SHEET.replace(
        "\"plans\"",
        "\"nots\": {}, \"libraries\": [{\"name\": \"Carts\", \"version\": \"1\"}], \"plans\"",
    );
    let sheet = place.sheet(&with);
    let mut desk = place.desk(&sheet);
    settle(&mut desk);
    assert_eq!(desk.state().sheet().name, "Our cart");
    let told = desk.state().unread().join("\n");
    for part in [
        "no vehicle \"hand-cart\"",
        "made with the library \"Carts\" 1, which is not here",
        "did you mean \"notes\"",
    ] {
        assert!(told.contains(part), "{told}");
    }
    // the library comes, and the board with it; what was in the file stays
    place.write(&cart("Oil lantern"));
    until(&mut desk, |desk| fitted(desk) == ["Oil lantern"]);
    desk.key_press_modifiers(Modifiers::COMMAND, Key::S);
    settle(&mut desk);
    assert_eq!(fs::read_to_string(&sheet).unwrap(), with);
}

#[test]
fn the_owner_takes_the_libraries_as_they_are_and_a_new_sheet_remembers_them() {
    let place = Place::new();
    place.write(&cart("Oil lantern"));
    let sheet = place.sheet(
        &SHEET.replace("\"plans\"", "\"libraries\": [{\"name\": \"Carts\", \"version\": \"0\"}], \"plans\""),
    );
    let mut desk = place.desk(&sheet);
    settle(&mut desk);
    assert!(desk.state().unread().join(" ").contains("here it is \"Carts\" 1 ("));
    let names = |sheet: &Sheet| {
        sheet.libraries.iter().map(|l| format!("{} {}", l.name, l.version)).collect::<Vec<_>>()
    };
    assert_eq!(names(desk.state().sheet()), ["Carts 0"]);
    go_to(&mut desk, "Take the libraries as they are");
    desk.key_press_modifiers(Modifiers::COMMAND, Key::S);
    settle(&mut desk);
    let saved = sheets::open(&sheet).unwrap();
    assert_eq!(names(&saved), ["Knockon 0.1.0", "Carts 1"]);
    assert!(saved.libraries.iter().all(|library| library.digest.len() == 64));
}
