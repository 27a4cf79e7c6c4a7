//! Where the output goes: nothing is lost by it, and what did not arrive is said.

use std::fs::{self, File};
use std::process::{Command, Stdio};

use super::{prints, refused};

#[test]
fn a_list_never_takes_the_place_of_the_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (file, other) = (at("truck.json"), at("notes.txt"));
    fs::write(&file, knockon_store::library::example()).unwrap();
    fs::write(&other, "what the last owner said").unwrap();
    for (out, part) in [
        (&file, "this is the sheet itself"),
        (&at("./truck.json"), "itself"),
        (&other, "you may have worked in it"),
    ] {
        let said = refused(1, &["buy", &file, "--csv", out]);
        assert!(said.contains(part) && said.contains("nothing was written"), "{said}");
    }
    assert_eq!(fs::read_to_string(&file).unwrap(), knockon_store::library::example());
    assert_eq!(fs::read_to_string(&other).unwrap(), "what the last owner said");
    // a list written before is written anew
    for _ in 0..2 {
        assert!(prints(&["buy", &file, "--csv", &at("buy.csv")]).contains("written to"));
    }
    assert!(fs::read_to_string(at("buy.csv")).unwrap().starts_with("\u{feff}item,"));
}

#[cfg(target_os = "linux")]
#[test]
fn what_did_not_arrive_is_said_and_a_closed_pipe_is_no_fault() {
    let run = |arguments: &[&str], out: Stdio| {
        let child = Command::new(env!("CARGO_BIN_EXE_knockon"))
            .args(arguments)
            .stdout(out)
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let output = child.wait_with_output().unwrap();
        (output.status.code(), String::from_utf8(output.stderr).unwrap())
    };
    let full = || Stdio::from(File::options().write(true).open("/dev/full").unwrap());
    let (code, said) = run(&["figure"], full());
    assert!(
        code == Some(1) && said.contains("the answer cannot be written: the disk is full"),
        "{code:?} {said}"
    );
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    assert_eq!(run(&["figure"], writer.into()), (Some(0), String::new()));
}

/// A reader's terminal says how wide it is; a file and another program get each line whole.
#[test]
fn lines_are_as_wide_as_the_terminal_and_whole_for_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("truck.json");
    fs::write(&file, knockon_store::library::example()).unwrap();
    let run = |columns: Option<&str>, arguments: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_knockon"));
        command.args(arguments).env("XDG_DATA_HOME", "/nonexistent").env_remove("COLUMNS");
        columns.map(|columns| command.env("COLUMNS", columns));
        String::from_utf8(command.output().unwrap().stdout).unwrap()
    };
    let name = file.to_str().unwrap();
    let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
    for command in ["assess", "jobs", "ready"] {
        let arguments = [command, name, "--on", "2026-03-01"];
        let (whole, folded) = (run(None, &arguments), run(Some("72"), &arguments));
        assert!(whole.lines().any(|line| line.chars().count() > 120), "{command}");
        assert!(folded.lines().all(|line| line.chars().count() <= 72), "{command}: {folded}");
        assert_eq!(words(&folded), words(&whole), "{command}");
    }
    // what a program reads is never broken
    let schema = ["library", "schema"];
    assert_eq!(run(Some("40"), &schema), run(None, &schema));
    let json = ["assess", name, "--json", "--on", "2026-03-01"];
    assert_eq!(run(Some("40"), &json), run(None, &json));
}
