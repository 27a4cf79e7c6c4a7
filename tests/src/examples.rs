//! The sheets of `examples/`, as a person opens them.

#![allow(clippy::expect_used, clippy::panic, reason = "only tests call it")]

use std::path::PathBuf;

use knockon_core::Sheet;

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../examples")
}

/// One of them, by the id of its vehicle.
///
/// # Panics
/// Where it cannot be opened.
pub fn example(vehicle: &str) -> Sheet {
    let path = folder().join(format!("{vehicle}.json"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    serde_json::from_str(&text).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

/// All of them, by name, in order.
///
/// # Panics
/// Where one cannot be opened, or there is none.
pub fn each_example() -> Vec<(String, Sheet)> {
    let files = std::fs::read_dir(folder()).expect("the folder of the examples");
    let mut names: Vec<String> = files
        .filter_map(|file| {
            file.ok()?.file_name().into_string().ok()?.strip_suffix(".json").map(str::to_owned)
        })
        .collect();
    names.sort();
    assert!(!names.is_empty());
    names.into_iter().map(|name| (name.clone(), example(&name))).collect()
}
