//! The command line from the outside: what it prints, what it says on the error stream, and how it ends.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod candidates;
mod compare;
mod cures;
mod day;
mod figure;
mod jobs;
mod libraries;
mod library_search;
mod look_twice;
mod output;
mod report;
mod shell;
mod survey;
mod units;
mod unsaved;
mod words;

use std::process::{Command, Output};

fn knockon(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_knockon"));
    // whoever runs the tests may have a library of their own
    command.args(arguments).env("XDG_DATA_HOME", "/nonexistent").env_remove("COLUMNS").output().unwrap()
}

/// What a run that ends well prints.
fn prints(arguments: &[&str]) -> String {
    let output = knockon(arguments);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!((output.status.code(), said.as_str()), (Some(0), ""), "{arguments:?}");
    String::from_utf8(output.stdout).unwrap()
}

/// What a run that ends otherwise says, and nothing is printed.
fn refused(code: i32, arguments: &[&str]) -> String {
    let output = knockon(arguments);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(code), "{arguments:?}: {said}");
    assert!(output.stdout.is_empty(), "{arguments:?}");
    said
}
