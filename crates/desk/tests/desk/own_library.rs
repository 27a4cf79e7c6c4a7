//! The owner's library on the desk: a file that somebody shares is looked at and taken in, and what both libraries have is
//! decided.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_store::libraries::Wanted;
use knockon_store::sheets;
use serde_json::{Value as Json, json};

use crate::help::*;
use crate::trust::type_into;

const VAN: &str = r#"{"format": 1,
"library": {"name": "Mill vans", "version": "2", "author": "A mill", "licence": "CC0-1.0"},
"parts": {"van-tank": {"name": "Van tank", "class": "tank"}},
"vehicles": {"mill-van": {"name": "Mill van", "positions": {
  "tank": {"name": "Tank", "system": "fuel", "class": "tank", "as_found": "van-tank"}}}}}"#;

struct Bench {
    folder: tempfile::TempDir,
    sheet: PathBuf,
}

impl Bench {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let sheet = folder.path().join("truck.json");
        let example = sheets::parse("example", knockon_store::library::example()).unwrap();
        sheets::save(&sheet, &example).unwrap();
        Self { folder, sheet }
    }

    fn own(&self) -> PathBuf {
        self.folder.path().join("own")
    }

    fn shared(&self, name: &str, text: &str) -> PathBuf {
        let path = self.folder.path().join(name);
        fs::write(&path, text).unwrap();
        path
    }

    fn mine(&self, json: &Json) -> PathBuf {
        fs::create_dir_all(self.own()).unwrap();
        let path = self.own().join("mine.json");
        fs::write(&path, serde_json::to_string_pretty(json).unwrap()).unwrap();
        path
    }

    fn open(&self) -> Desk {
        let wanted = Wanted { own: Some(self.own()), ..Wanted::default() };
        start_with(Some(self.sheet.clone()), Some(self.folder.path().join("home")), wanted)
    }
}

/// Frames until something is so.
fn until(desk: &mut Desk, what: &str, is_so: impl Fn(&Desk) -> bool) {
    let begun = Instant::now();
    while !is_so(desk) {
        assert!(begun.elapsed() < Duration::from_secs(30), "it does not come about: {what}");
        std::thread::sleep(Duration::from_millis(20));
        desk.run_steps(2);
    }
    settle(desk);
}

/// Looks at a file or folder, by keys.
fn look(desk: &mut Desk, path: &Path) {
    go_to(desk, "Take a library in");
    let on = crate::keyboard::focused(desk).map(|(name, _)| name);
    assert_eq!(on.as_deref(), Some("File or folder of a library"), "the command leads into the field");
    type_into(desk, Role::TextInput, "File or folder of a library", &path.display().to_string());
    press(desk, Modifiers::NONE, Key::Enter);
    settle(desk);
}

/// A part that the plan of the example buys, in full, with its id and the name it has.
fn bought() -> (String, Json) {
    let catalogue = knockon_store::library::shipped();
    let sheet = sheets::parse("example", knockon_store::library::example()).unwrap();
    let a = knockon_core::assess(&sheet, &sheet.plan, &catalogue);
    let line = a.buy.iter().find(|l| {
        let is_to_come = l.state == knockon_core::sheet::LineState::ToBuy && l.waived.is_none();
        is_to_come && l.price.is_some() && catalogue.part(&l.part).is_some_and(|p| p.part.contents.is_empty())
    });
    let id = line.expect("something is bought").part.clone();
    let part = serde_json::to_value(&*catalogue.part(&id).unwrap().part).unwrap();
    (id, part)
}

fn with_price(id: &str, part: &Json, price: &str) -> Json {
    let mut part = part.clone();
    part["price"] = json!(price);
    json!({"format": 1, "parts": {id: part}})
}

fn names(desk: &Desk) -> Vec<String> {
    use egui_kittest::kittest::NodeT;
    desk.query_all_by_role(Role::Button).filter_map(|n| n.accesskit_node().label()).collect()
}

fn can(desk: &Desk, button: &str) -> bool {
    desk.query_all_by(|n| {
        n.role() == Role::Button && n.label().as_deref() == Some(button) && !n.is_disabled()
    })
    .next()
    .is_some()
}

#[test]
fn a_shared_vehicle_is_looked_at_and_then_taken_in() {
    let bench = Bench::new();
    let van = bench.shared("van.json", VAN);
    let mut desk = bench.open();
    let before = desk.state().sheet().clone();
    look(&mut desk, &van);
    for told in [
        "Mill vans 2",
        "A mill",
        "CC0-1.0",
        "1 vehicle: Mill van",
        "1 part: Van tank",
        "In the sheet that is open nothing changes.",
    ] {
        assert!(has(&desk, told), "{told}");
    }
    assert!(!bench.own().exists(), "a look writes nothing");
    click(&mut desk, "Take it in");
    assert_eq!(fs::read_to_string(bench.own().join("van.json")).unwrap().matches("Mill van\"").count(), 1);
    assert!(!has(&desk, "Take it in"));
    until(&mut desk, "the library is read again", |desk| {
        desk.state().message().is_some_and(|m| m.contains("read again"))
    });
    press(&mut desk, Modifiers::COMMAND, Key::N);
    assert!(desk.query_all_by_role(Role::RadioButton).any(|n| {
        use egui_kittest::kittest::NodeT;
        n.accesskit_node().label().as_deref() == Some("Mill van")
    }));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert_eq!(*desk.state().sheet(), before);
    // once more: it is there already
    look(&mut desk, &van);
    assert!(has(&desk, "cannot be taken in") && has(&desk, "this file is taken already"));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(!has(&desk, "cannot be taken in"));
}

#[test]
fn what_is_wrong_is_told_with_file_line_and_path_and_what_was_typed_stays() {
    let bench = Bench::new();
    let wrong = VAN.replace("\"class\": \"tank\", \"as_found\"", "\"class\": \"tnak\", \"as_found\"");
    let van = bench.shared("van.json", &wrong);
    let mut desk = bench.open();
    look(&mut desk, &van);
    assert!(has(&desk, "van.json:5: at vehicles.mill-van.positions.tank"), "{:?}", names(&desk));
    assert!(has(&desk, "tnak") && has(&desk, "What is wrong: "));
    assert!(!can(&desk, "Take it in") && can(&desk, "Leave it"));
    click(&mut desk, "Leave it");
    assert!(!has(&desk, "What is wrong: ") && !bench.own().exists());
    // no file of a library at all
    fs::write(&van, "{\"format\": 1, \"prats\": {}}").unwrap();
    look(&mut desk, &van);
    assert!(has(&desk, "van.json:1: ") && has(&desk, "prats"));
    look(&mut desk, &bench.folder.path().join("none.json"));
    assert!(has(&desk, "none.json: cannot be read"));
    // a path half typed outlives the window
    type_into(&mut desk, Role::TextInput, "File or folder of a library", "/home/some/va");
    drop(desk);
    let mut desk = bench.open();
    go_to(&mut desk, "My library");
    let field = desk.get_by_role_and_label(Role::TextInput, "File or folder of a library");
    assert_eq!(field.value().as_deref(), Some("/home/some/va"));
}

#[test]
fn what_a_shared_file_changes_in_the_open_sheet_is_told_before_it_is_taken() {
    let bench = Bench::new();
    let (id, part) = bought();
    let folder = bench.folder.path().join("dear");
    fs::create_dir(&folder).unwrap();
    fs::write(folder.join("a.json"), with_price(&id, &part, "9999.00 USD").to_string()).unwrap();
    let mut desk = bench.open();
    let before = desk.state().assessment().totals.money.clone();
    look(&mut desk, &folder);
    assert!(has(&desk, &format!("parts.{id} of shipped/")), "what it counts before is named");
    assert!(has(&desk, "Plan: ") && has(&desk, "Money: "));
    assert_eq!(desk.state().assessment().totals.money, before);
    click(&mut desk, "Take it in");
    until(&mut desk, "the plan costs more", |desk| desk.state().assessment().totals.money != before);
}

#[test]
fn what_both_have_is_kept_taken_and_taken_back() {
    let bench = Bench::new();
    let (id, part) = bought();
    let file = bench.mine(&with_price(&id, &part, "9999.00 USD"));
    let text = fs::read_to_string(&file).unwrap();
    let name = part["name"].as_str().unwrap().to_owned();
    let mut desk = bench.open();
    let mine = desk.state().assessment().totals.money.clone();
    go_to(&mut desk, "My library");
    assert!(has(&desk, "1 to decide, 0 kept"));
    let row = |desk: &Desk| names(desk).into_iter().find(|n| n.starts_with(&name)).expect("its row");
    assert!(row(&desk).contains("part, 1 difference"), "{}", row(&desk));
    let at = row(&desk);
    click(&mut desk, &at);
    assert!(has(&desk, "9999.00 USD") && has(&desk, "Money: "), "what differs, and what comes of theirs");
    // mine, by its key; that is remembered
    press(&mut desk, Modifiers::NONE, Key::Num1);
    assert!(has(&desk, "0 to decide, 1 kept"));
    assert_eq!(fs::read_to_string(&file).unwrap(), text);
    drop(desk);
    let mut desk = bench.open();
    go_to(&mut desk, "My library");
    assert!(has(&desk, "0 to decide, 1 kept") && row(&desk).contains("yours is kept"));
    let at = row(&desk);
    click(&mut desk, &at);
    click(&mut desk, &format!("Decide it again: {name}"));
    assert!(has(&desk, "1 to decide, 0 kept"));
    // theirs
    click(&mut desk, &format!("Take theirs: {name}"));
    assert!(!fs::read_to_string(&file).unwrap().contains(&id));
    assert_eq!(fs::read_to_string(bench.own().join("mine.json.bak")).unwrap(), text);
    until(&mut desk, "theirs counts", |desk| desk.state().assessment().totals.money != mine);
    until(&mut desk, "nothing is in both", |desk| has(desk, "Nothing stands in both"));
    click(&mut desk, &format!("Take the last back: {name}"));
    assert_eq!(fs::read_to_string(&file).unwrap(), text);
    until(&mut desk, "mine counts again", |desk| desk.state().assessment().totals.money == mine);
    until(&mut desk, "it is in both again", |desk| has(desk, "1 to decide, 0 kept"));
}

#[test]
fn both_stand_beside_each_other_and_of_a_word_there_is_one() {
    let bench = Bench::new();
    let (id, part) = bought();
    let mut mine = with_price(&id, &part, "9999.00 USD");
    mine["systems"] = json!({"fuel": {"name": "Petrol and air", "order": 3}});
    let file = bench.mine(&mine);
    let name = part["name"].as_str().unwrap().to_owned();
    let mut desk = bench.open();
    go_to(&mut desk, "My library");
    assert!(has(&desk, "2 to decide, 0 kept"));
    let row =
        |desk: &Desk, lead: &str| names(desk).into_iter().find(|n| n.starts_with(lead)).expect("its row");
    let at = row(&desk, "Petrol and air");
    click(&mut desk, &at);
    assert!(has(&desk, "Of a system there can be only one"));
    assert!(!can(&desk, "Both: Petrol and air") && can(&desk, "Take theirs: Petrol and air"));
    let at = row(&desk, &name);
    click(&mut desk, &at);
    press(&mut desk, Modifiers::NONE, Key::Num3);
    let beside = format!("{id}-mine");
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.contains(&format!("\"{beside}\"")) && text.contains(&format!("{name}, mine")), "{text}");
    until(&mut desk, "one is left to decide", |desk| has(desk, "1 to decide, 0 kept"));
}
