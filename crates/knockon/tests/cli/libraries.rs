//! Which libraries are read: in place of the shipped one, on top of it, the user's own.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use super::{prints, refused};

const EXAMPLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/furrow-10.json");

/// A whole library of one vehicle with one place.
const CART: &str = r#"{
  "format": 1,
  "library": {"name": "Carts", "version": "2"},
  "systems": {"lamps": {"name": "Lamps"}},
  "classes": {"lantern": {"name": "Lantern", "decided": "owner"}},
  "parts": {
    "lantern-oil": {"name": "Oil lantern", "class": "lantern", "price": "8.00 USD"},
    "lantern-led": {"name": "Electric lantern", "class": "lantern", "price": "21.00 USD", "hours": 1}
  },
  "vehicles": {"hand-cart": {"name": "Hand cart", "about": "Two wheels and a lamp.", "positions": {
    "lamp": {"name": "Lamp", "system": "lamps", "class": "lantern", "as_found": "lantern-oil"}
  }}}
}"#;

const SHEET: &str = r#"{"format": 1, "name": "Our cart", "vehicle": "hand-cart", "plan": "p",
"libraries": [{"name": "Carts", "version": "2"}],
"plans": {"p": {"name": "P", "routes": {"lamp": {"route": "convert", "part": "lantern-led"}}}}}"#;

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

#[test]
fn a_sheet_goes_by_a_library_in_place_of_the_shipped_one_or_on_top_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let (library, sheet) = (folder.path().join("carts"), folder.path().join("cart.json"));
    fs::create_dir(&library).unwrap();
    fs::write(library.join("cart.json"), CART).unwrap();
    // the digest belongs to it: a sheet that remembers none of it is told
    fs::write(&sheet, SHEET.replace("\"libraries\": [{\"name\": \"Carts\", \"version\": \"2\"}],\n", ""))
        .unwrap();
    for option in ["--library", "--add"] {
        let printed = prints(&["buy", text(&sheet), option, text(&library)]);
        assert!(printed.contains("Electric lantern") && printed.contains("21.00 USD"), "{printed}");
    }
    // what is read may be said before the command as well
    let before = prints(&["--no-own", "--add", text(&library), "buy", text(&sheet)]);
    assert_eq!(before, prints(&["buy", text(&sheet), "--add", text(&library)]));
    let said = refused(2, &[EXAMPLE, "buy", text(&sheet)]);
    assert!(
        said.contains("a sheet to open stands alone") && said.contains("A command goes before its file"),
        "{said}"
    );
    let printed = prints(&["assess", text(&sheet), "--json", "--library", text(&library)]);
    assert!(printed.contains("you chose Electric lantern"), "{printed}");
    // the shipped vehicles are still there below, and not where another library stands in their place
    prints(&["assess", EXAMPLE, "--add", text(&library)]);
    let said = refused(1, &["assess", EXAMPLE, "--library", text(&library)]);
    assert!(said.contains("the library has no vehicle \"furrow-10\"; it has hand-cart"), "{said}");
}

#[test]
fn a_library_of_a_sheet_that_is_not_here_or_another_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let (library, sheet) = (folder.path().join("carts"), folder.path().join("cart.json"));
    fs::create_dir(&library).unwrap();
    fs::write(library.join("cart.json"), CART).unwrap();
    fs::write(&sheet, SHEET).unwrap();
    let said = refused(1, &["assess", text(&sheet)]);
    assert!(said.contains("made with the library \"Carts\" 2, which is not here"), "{said}");
    assert!(
        said.contains("name its folder with --add") && said.contains("no vehicle \"hand-cart\""),
        "{said}"
    );
    let output = super::knockon(&["assess", text(&sheet), "--add", text(&library)]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success() && said.contains("here it is \"Carts\" 2 ("), "{said}");
}

#[test]
fn the_list_names_every_library_and_what_is_replaced() {
    let folder = tempfile::tempdir().unwrap();
    let library = folder.path().join("valves");
    fs::create_dir(&library).unwrap();
    let part = r#"{"format": 1, "parts": {"tyre-valve-rubber": {"name": "My valve", "class": "tyre-valve", "price": "1 USD"}}}"#;
    fs::write(library.join("a.json"), part).unwrap();
    let printed = prints(&["library", "list", "--add", text(&library)]);
    assert!(printed.starts_with("\"Knockon\" ") && printed.contains("\"valves\" ("), "{printed}");
    assert!(printed.contains("parts.tyre-valve-rubber: of shipped/"), "{printed}");
    let json = prints(&["library", "list", "--json", "--add", text(&library)]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["replaced"][0]["path"], "parts.tyre-valve-rubber");
    assert_eq!(json["libraries"][1]["parts"], 1);
}

#[test]
fn an_addition_is_checked_on_top_and_by_itself_with_a_hint() {
    let folder = tempfile::tempdir().unwrap();
    let part =
        r#"{"format": 1, "parts": {"clip-mine": {"name": "Clip", "class": "hose-clip", "price": "1 USD"}}}"#;
    fs::write(folder.path().join("a.json"), part).unwrap();
    let output = super::knockon(&["library", "check", text(folder.path())]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("knockon library check --add"), "{said}");
    let output = super::knockon(&["library", "check", "--add", text(folder.path())]);
    let printed = String::from_utf8(output.stdout).unwrap();
    assert!(printed.contains("0 faults"), "{printed}");
    let said = refused(1, &["library", "check", text(folder.path()), "--add", text(folder.path())]);
    assert!(said.contains("leave the folder out"), "{said}");
}

#[test]
fn the_users_own_library_is_on_top_and_a_fault_in_it_is_told() {
    let data = tempfile::tempdir().unwrap();
    let own = data.path().join("knockon").join("library");
    fs::create_dir_all(&own).unwrap();
    fs::write(own.join("cart.json"), CART).unwrap();
    let sheet = data.path().join("cart.json");
    fs::write(&sheet, SHEET.replace("{\"name\": \"Carts\", \"version\": \"2\"}", "")).unwrap();
    let with = |arguments: &[&str]| -> Output {
        let mut command = Command::new(env!("CARGO_BIN_EXE_knockon"));
        command.args(arguments).env("XDG_DATA_HOME", data.path()).output().unwrap()
    };
    let bought = with(&["buy", text(&sheet)]);
    assert!(bought.status.success(), "{}", String::from_utf8_lossy(&bought.stderr));
    let without = with(&["buy", text(&sheet), "--no-own"]);
    assert!(String::from_utf8_lossy(&without.stderr).contains("no vehicle \"hand-cart\""));
    fs::write(own.join("wrong.json"), "{\"format\": 1,\n\"parts\": 5}").unwrap();
    let told = with(&["buy", text(&sheet)]);
    let said = String::from_utf8_lossy(&told.stderr).into_owned();
    assert!(told.status.success() && said.contains("wrong.json:2: at parts"), "{said}");
    assert!(said.contains("left out until it is mended"), "{said}");
    // nothing of it is sound: it is there all the same
    fs::remove_file(own.join("cart.json")).unwrap();
    let listed = String::from_utf8_lossy(&with(&["library", "list"]).stdout).into_owned();
    assert!(listed.contains("is left out until what is wrong in it is mended"), "{listed}");
    fs::remove_file(own.join("wrong.json")).unwrap();
    let listed = String::from_utf8_lossy(&with(&["library", "list"]).stdout).into_owned();
    assert!(listed.contains("it is empty or not there yet"), "{listed}");
}

#[test]
fn a_library_is_written_as_a_page_and_replaces_nothing_but_such_a_page() {
    let folder = tempfile::tempdir().unwrap();
    let (library, out) = (folder.path().join("carts"), folder.path().join("carts.html"));
    fs::create_dir(&library).unwrap();
    fs::write(library.join("cart.json"), CART).unwrap();
    for _ in 0..2 {
        let said = prints(&["library", "manual", text(&out), "--library", text(&library)]);
        assert!(said.contains("2 parts written to"), "{said}");
    }
    let page = fs::read_to_string(&out).unwrap();
    assert!(page.contains("<title>Carts 2</title>") && page.contains("Electric lantern"), "{page}");
    fs::write(&out, "<!DOCTYPE html>\n<p>mine</p>").unwrap();
    let said = refused(1, &["library", "manual", text(&out), "--library", text(&library)]);
    assert!(said.contains("holds something else"), "{said}");
    assert_eq!(fs::read_to_string(&out).unwrap(), "<!DOCTYPE html>\n<p>mine</p>");
}

#[test]
fn a_library_is_put_into_the_one_layout_and_means_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("cart.json");
    fs::write(&file, CART).unwrap();
    let before = prints(&["library", "check", text(folder.path())]);
    let ends_1 = |arguments: &[&str]| {
        let output = super::knockon(arguments);
        assert_eq!(output.status.code(), Some(1), "{arguments:?}");
        String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap()
    };
    let told = ends_1(&["library", "tidy", text(folder.path()), "--check"]);
    assert!(told.contains("knockon library tidy") && told.contains("puts these files in order"), "{told}");
    assert_eq!(fs::read_to_string(&file).unwrap(), CART);
    let done = prints(&["library", "tidy", text(folder.path())]);
    assert!(done.contains("cart.json: put in order") && done.contains("1 file, 1 put in order"), "{done}");
    let tidy = fs::read_to_string(&file).unwrap();
    assert!(tidy.contains("\n    \"lantern-oil\": {\"name\": \"Oil lantern\", \"class\": \"lantern\", \"price\": \"8.00 USD\"},\n"));
    assert_eq!(
        prints(&["library", "tidy", text(folder.path()), "--check"]),
        "1 file, 0 would be put in order\n"
    );
    assert_eq!(prints(&["library", "check", text(folder.path())]), before);
    // one with a fault is left as it is
    fs::write(&file, CART.replace("\"parts\"", "\"prats\"")).unwrap();
    let told = ends_1(&["library", "tidy", text(folder.path())]);
    assert!(told.contains("did you mean \"parts\"?") && told.contains("left as they are"), "{told}");
    assert!(refused(1, &["library", "tidy", text(&file)]).contains("this is a file"));
}

#[test]
fn the_schema_of_a_file_is_printed_for_an_editor() {
    for (of, word) in [("library", "port_types"), ("sheet", "plans")] {
        let schema: serde_json::Value = serde_json::from_str(&prints(&["library", "schema", of])).unwrap();
        assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
        assert_eq!(schema["properties"][word]["type"], "object", "{of}");
    }
    assert!(refused(2, &["library", "schema", "smal"]).contains("sheet"));
}

#[test]
fn the_numbers_of_a_library_are_counted_by_where_they_come_from() {
    let folder = tempfile::tempdir().unwrap();
    let library = CART
        .replace("\"price\": \"8.00 USD\"", "\"price\": \"8.00 USD\", \"source\": \"measured: a rule\", \"figures\": {\"height\": \"220 mm\"}")
        .replace("\"hours\": 1", "\"hours\": 1, \"figures\": {\"height\": \"180 mm\"}")
        .replace("\"parts\"", "\"figures\": {\"height\": {\"name\": \"height\", \"kind\": \"length\"}}, \"parts\"");
    fs::write(folder.path().join("cart.json"), library).unwrap();
    let printed = prints(&["library", "check", text(folder.path()), "--sources"]);
    assert!(
        printed.contains("     1 measured\n") && printed.contains("     1 without a source\n"),
        "{printed}"
    );
    assert!(printed.contains("cart.json: parts.lantern-led.figures.height: 180 mm\n"), "{printed}");
    assert!(!prints(&["library", "check", text(folder.path())]).contains("without a source"));
}
