//! What the command line says to somebody who never saw it: half-way changes, wrong words.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

fn knockon(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_knockon")).args(arguments).output().unwrap()
}

fn refused(code: i32, arguments: &[&str]) -> String {
    let output = knockon(arguments);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(code), "{arguments:?}: {said}");
    said
}

fn printed(arguments: &[&str]) -> String {
    let output = knockon(arguments);
    assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// The example with the fuel tank of its wide plan in hand, in a file.
fn half_way(folder: &Path) -> (PathBuf, String) {
    let mut sheet: Value = serde_json::from_str(knockon_store::library::example()).unwrap();
    sheet["plan"] = "wishes".into();
    let tank = sheet["plans"]["wishes"]["routes"]["tank"]["part"].as_str().unwrap().to_owned();
    sheet["lines"][&tank] = serde_json::json!({"state": "in-hand", "paid": "333.00 USD"});
    let file = folder.join("truck.json");
    std::fs::write(&file, sheet.to_string()).unwrap();
    (file, tank)
}

#[test]
fn whatif_tells_the_money_that_would_lie_idle() {
    let folder = tempfile::tempdir().unwrap();
    let (file, tank) = half_way(folder.path());
    let file = file.to_str().unwrap();
    let told = printed(&["whatif", file, "--position", "tank", "--route", "keep"]);
    assert!(told.contains("333.00 USD in hand or fitted"), "{told}");
    let json = printed(&["whatif", file, "--position", "tank", "--route", "keep", "--json"]);
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json[0]["bought"]["idle"][0]["part"], tank.as_str());
    assert_eq!(json[0]["bought"]["idle_spent"], "333.00");
    // where nothing is bought, nothing is told
    std::fs::write(folder.path().join("new.json"), knockon_store::library::example()).unwrap();
    let new = folder.path().join("new.json");
    let told = printed(&["whatif", new.to_str().unwrap(), "--position", "tank", "--route", "keep"]);
    assert!(!told.contains("Money spent already"), "{told}");
}

#[test]
fn what_is_bought_and_not_wanted_stays_in_sight() {
    let folder = tempfile::tempdir().unwrap();
    let (file, tank) = half_way(folder.path());
    let mut sheet: Value = serde_json::from_str(&std::fs::read_to_string(&file).unwrap()).unwrap();
    sheet["plans"]["wishes"]["routes"].as_object_mut().unwrap().remove("tank");
    std::fs::write(&file, sheet.to_string()).unwrap();
    let file = file.to_str().unwrap();
    for command in ["assess", "buy"] {
        let told = printed(&[command, file]);
        assert!(
            told.contains("Bought, and not wanted by this plan (1)") && told.contains("333.00 USD"),
            "{told}"
        );
    }
    let json: Value = serde_json::from_str(&printed(&["assess", file, "--json"])).unwrap();
    assert_eq!(json["idle"][0]["part"], tank.as_str());
}

#[test]
fn wrong_words_are_answered_with_the_right_ones() {
    let folder = tempfile::tempdir().unwrap();
    let (file, _) = half_way(folder.path());
    let file = file.to_str().unwrap();
    let said = refused(1, &["whatif", file, "--position", "carburetor", "--route", "keep"]);
    assert!(said.contains("did you mean \"carburettor\"?"), "{said}");
    let said = refused(1, &["whatif", file, "--position", "tank", "--route", "renw"]);
    assert!(said.contains("did you mean \"renew\"?") && said.contains("leave-off"), "{said}");
    let said = refused(2, &["asess", file]);
    assert!(said.contains("no command \"asess\"") && !said.contains("subcommand"), "{said}");
    assert!(refused(2, &["assess"]).contains("<FILE>"));
    assert!(refused(2, &["assess", file, "--jsn"]).contains("--json"));
}
