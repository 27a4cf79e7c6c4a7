//! The rules the whole project keeps: first lines, layers, what the core may not touch, the law of the library.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::error::Error;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs, io};

use serde_json::{Value as Json, json};

type Checked = Result<(), Box<dyn Error>>;

/// Windows and their choosers.
const SCREEN: [&str; 6] = ["egui", "eframe", "egui_extras", "egui_plot", "rfd", "knockon-desk"];
/// Places on the disk.
const FILES: [&str; 2] = ["directories", "knockon-store"];

/// Every crate of the workspace, with what it must never reach, however long the way.
const LAYERS: [(&str, &[&[&str]]); 8] = [
    ("knockon", &[]),
    ("knockon-core", &[&SCREEN, &FILES]),
    ("knockon-desk", &[]),
    ("knockon-figures", &[&SCREEN, &FILES, &["knockon-core"]]),
    ("knockon-report", &[&SCREEN]),
    ("knockon-search", &[&SCREEN, &FILES, &["knockon-core", "knockon-figures"]]),
    ("knockon-store", &[&SCREEN]),
    ("knockon-tests", &[&["eframe"]]),
];

/// The outside world, which the pure crates get handed and never fetch.
const OUTSIDE: [&str; 6] =
    ["std::fs", "std::env", "SystemTime", "Instant::now", "ZonedDateTime", "Timestamp"];

#[test]
fn every_source_says_first_what_it_is() -> Checked {
    let mut sources = files(&root().join("crates"), "rs")?;
    sources.extend(files(&root().join("tests"), "rs")?);
    assert!(!sources.is_empty(), "no sources found");
    let mut wrong = Vec::new();
    for path in sources {
        if !fs::read_to_string(&path)?.starts_with("//! ") {
            wrong.push(format!("{}: the first line must be `//! ` and what the file holds", shown(&path)));
        }
    }
    none(&wrong);
    Ok(())
}

#[test]
fn figures_and_core_touch_nothing_outside() -> Checked {
    let mut wrong = Vec::new();
    for name in ["core", "figures", "search"] {
        let sources = files(&root().join("crates").join(name).join("src"), "rs")?;
        assert!(!sources.is_empty(), "no sources found in crates/{name}");
        for path in sources {
            for (number, line) in fs::read_to_string(&path)?.lines().enumerate() {
                for word in OUTSIDE.iter().filter(|word| line.contains(**word)) {
                    let place = format!("{}:{}", shown(&path), number + 1);
                    wrong.push(format!("{place}: {word} has no place here, hand the value in"));
                }
            }
        }
    }
    none(&wrong);
    Ok(())
}

#[test]
fn crates_stay_in_their_layer() -> Checked {
    let graph = Graph::read()?;
    let mut wrong = Vec::new();
    for (id, name) in &graph.members {
        let Some((_, forbidden)) = LAYERS.iter().find(|(known, _)| known == name) else {
            wrong.push(format!("{name}: a new crate; give it a line in LAYERS"));
            continue;
        };
        for chain in graph.chains(id) {
            let reached = chain.last().map_or("", String::as_str);
            if forbidden.iter().any(|group| group.contains(&reached)) {
                wrong.push(format!("{name} must not reach {reached}: {}", chain.join(" -> ")));
            }
        }
    }
    none(&wrong);
    Ok(())
}

#[test]
fn every_data_file_is_json() -> Checked {
    let mut wrong = Vec::new();
    for path in data_files()? {
        if let Err(error) = serde_json::from_str::<Json>(&fs::read_to_string(&path)?) {
            wrong.push(format!("{}: {error}", shown(&path)));
        }
    }
    none(&wrong);
    Ok(())
}

/// One layout, files that a person can find their way in, and all of a vehicle in one folder.
#[test]
fn the_library_lies_in_the_one_layout() -> Checked {
    const LONGEST: usize = 600;
    let mut wrong = Vec::new();
    for path in files(&root().join("assets").join("library"), "json")? {
        let (name, text) = (shown(&path), fs::read_to_string(&path)?);
        match knockon_store::tidy::text_of(&name, &text) {
            Ok(tidy) if tidy == text => {}
            Ok(_) => wrong.push(format!("{name}: \"knockon library tidy assets/library\" puts it in order")),
            Err(faults) => wrong.extend(faults),
        }
        let lines = text.lines().count();
        if lines > LONGEST {
            wrong.push(format!("{name}: {lines} lines; put a family of its parts into a file of their own"));
        }
        let json: Json = serde_json::from_str(&text)?;
        for (vehicle, _) in table(&json, "vehicles") {
            if !name.starts_with(&format!("assets/library/vehicles/{vehicle}/")) {
                wrong.push(format!("{name}: what is of {vehicle} lies in assets/library/vehicles/{vehicle}"));
            }
        }
    }
    none(&wrong);
    Ok(())
}

#[test]
fn no_part_names_another_part() -> Checked {
    let mut data = BTreeMap::new();
    for path in data_files()? {
        data.insert(shown(&path), serde_json::from_str(&fs::read_to_string(&path)?)?);
    }
    none(&parts_named(&data));
    Ok(())
}

#[test]
fn a_part_that_names_another_is_found() {
    let file = |inner: Json| BTreeMap::from([("a.json".to_owned(), inner)]);
    let parts = |first: Json| file(json!({"parts": {"pump-one": first, "hose": {"name": "Hose"}}}));

    assert_eq!(parts_named(&parts(json!({"name": "hose", "note": "hose", "class": "pump"}))), [""; 0]);
    assert_eq!(parts_named(&parts(json!({"contents": [{"part": "hose"}]}))), [""; 0]);

    let nested = parts_named(&parts(json!({"ports": {"out": {"fields": {"fits": ["hose"]}}}})));
    assert_eq!(nested, ["a.json: parts.pump-one.ports.out.fields.fits.0 names the part \"hose\""]);
    let key = parts_named(&parts(json!({"needs": {"hose": "present"}})));
    assert_eq!(key, ["a.json: parts.pump-one.needs names the part \"hose\""]);
    let class = parts_named(&file(json!({"classes": {"hose": {}}, "parts": {"hose": {"class": "hose"}}})));
    assert_eq!(
        class,
        [
            "a.json: classes.hose is also the id of a part; rename the part",
            "a.json: parts.hose.class names the part \"hose\"",
        ]
    );
    let like = parts_named(&file(json!({"patterns": {"hose": {}},
        "families": {"f": {"like": "hose", "columns": ["needs.cap"], "rows": {"hose": ["hose"]}}}})));
    assert_eq!(
        like,
        [
            "a.json: families.f.rows.hose.0 names the part \"hose\"",
            "a.json: patterns.hose is also the id of a part; rename the pattern",
        ]
    );
}

/// Stops the test with everything that is wrong, one line each.
fn none(wrong: &[String]) {
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// A path as seen from the root of the project.
fn shown(path: &Path) -> String {
    path.strip_prefix(root()).unwrap_or(path).display().to_string()
}

/// Every file of a folder and its folders with an extension, in order of their paths.
fn files(folder: &Path, extension: &str) -> io::Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder)? {
            let path = entry?.path();
            if path.is_dir() {
                if path.file_name().is_none_or(|name| name != "target") {
                    folders.push(path);
                }
            } else if path.extension().is_some_and(|found| found == extension) {
                found.push(path);
            }
        }
    }
    found.sort();
    Ok(found)
}

/// The library and the example sheets.
fn data_files() -> io::Result<Vec<PathBuf>> {
    let mut found = files(&root().join("assets").join("library"), "json")?;
    assert!(!found.is_empty(), "the library is empty");
    let examples = root().join("examples");
    if examples.is_dir() {
        found.extend(files(&examples, "json")?);
    }
    Ok(found)
}

/// Every place outside of `contents` where a part has the id of a part, itself included: a class word that is
/// also the id of a part would let a part name another one unseen.
fn parts_named(data: &BTreeMap<String, Json>) -> Vec<String> {
    let mut ids: BTreeSet<&str> =
        data.values().flat_map(|file| table(file, "parts")).map(|(id, _)| id).collect();
    let families = || data.values().flat_map(|file| table(file, "families"));
    ids.extend(families().flat_map(|(_, family)| table(family, "rows")).map(|(id, _)| id));
    let ids = ids;
    let mut wrong = Vec::new();
    for (file, json) in data {
        for (class, _) in table(json, "classes").filter(|(class, _)| ids.contains(class)) {
            wrong.push(format!("{file}: classes.{class} is also the id of a part; rename the part"));
        }
        for (family, json) in table(json, "families") {
            for (id, row) in table(json, "rows") {
                walk(row, &format!("{file}: families.{family}.rows.{id}"), &ids, &mut wrong);
            }
        }
        // a pattern is no part, and says no more of one than a part may
        for (pattern, _) in table(json, "patterns").filter(|(pattern, _)| ids.contains(pattern)) {
            wrong.push(format!("{file}: patterns.{pattern} is also the id of a part; rename the pattern"));
        }
        for (id, part) in table(json, "parts").chain(table(json, "patterns")) {
            let own = part.as_object().into_iter().flatten();
            for (word, value) in
                own.filter(|(word, _)| !["contents", "name", "note"].contains(&word.as_str()))
            {
                let path = format!("{file}: parts.{id}.{word}");
                if ["needs", "advises", "offers", "gives", "takes", "figures", "holds"]
                    .contains(&word.as_str())
                {
                    let keys = value.as_object().into_iter().flatten().map(|(key, _)| key);
                    for key in keys.filter(|key| ids.contains(key.as_str())) {
                        wrong.push(format!("{path} names the part \"{key}\""));
                    }
                }
                walk(value, &path, &ids, &mut wrong);
            }
        }
    }
    wrong
}

fn table<'a>(json: &'a Json, section: &str) -> impl Iterator<Item = (&'a str, &'a Json)> {
    json.get(section).and_then(Json::as_object).into_iter().flatten().map(|(id, value)| (id.as_str(), value))
}

fn walk(value: &Json, path: &str, ids: &BTreeSet<&str>, wrong: &mut Vec<String>) {
    match value {
        Json::String(text) if ids.contains(text.as_str()) => {
            wrong.push(format!("{path} names the part \"{text}\""));
        }
        Json::Array(items) => {
            for (number, item) in items.iter().enumerate() {
                walk(item, &format!("{path}.{number}"), ids, wrong);
            }
        }
        Json::Object(entries) => {
            for (key, item) in entries {
                walk(item, &format!("{path}.{key}"), ids, wrong);
            }
        }
        _ => {}
    }
}

/// What depends on what, as cargo resolved it for this machine; what only tests need is left out.
struct Graph {
    /// Name by id, for the crates of the workspace.
    members: BTreeMap<String, String>,
    names: BTreeMap<String, String>,
    edges: BTreeMap<String, Vec<String>>,
}

impl Graph {
    fn read() -> Result<Self, Box<dyn Error>> {
        let metadata: Json = serde_json::from_slice(&metadata()?)?;
        let list = |json: &Json, word: &str| json[word].as_array().cloned().unwrap_or_default();
        let text = |json: &Json| json.as_str().unwrap_or_default().to_owned();

        let names: BTreeMap<String, String> =
            list(&metadata, "packages").iter().map(|p| (text(&p["id"]), text(&p["name"]))).collect();
        let own: Vec<String> = list(&metadata, "workspace_members").iter().map(text).collect();
        let members = own.into_iter().map(|id| (id.clone(), names.get(&id).cloned().unwrap_or(id))).collect();
        let edges = list(&metadata["resolve"], "nodes")
            .iter()
            .map(|node| {
                let used = |dep: &&Json| list(dep, "dep_kinds").iter().any(|kind| kind["kind"] != "dev");
                (text(&node["id"]), list(node, "deps").iter().filter(used).map(|d| text(&d["pkg"])).collect())
            })
            .collect();
        Ok(Self { members, names, edges })
    }

    /// The shortest way from a crate to each one it reaches, by name.
    fn chains(&self, from: &str) -> Vec<Vec<String>> {
        let name = |id: &str| self.names.get(id).cloned().unwrap_or_else(|| id.to_owned());
        let mut seen = BTreeSet::from([from]);
        let mut open = VecDeque::from([(from, vec![name(from)])]);
        let mut chains = Vec::new();
        while let Some((id, chain)) = open.pop_front() {
            for next in self.edges.get(id).into_iter().flatten() {
                if seen.insert(next) {
                    let longer: Vec<String> = chain.iter().cloned().chain([name(next)]).collect();
                    chains.push(longer.clone());
                    open.push_back((next, longer));
                }
            }
        }
        chains
    }
}

fn metadata() -> Result<Vec<u8>, Box<dyn Error>> {
    let rustc = Command::new("rustc").arg("-vV").current_dir(root()).output()?;
    let version = String::from_utf8(rustc.stdout)?;
    let host =
        version.lines().find_map(|line| line.strip_prefix("host: ")).ok_or("rustc -vV names no host")?;

    let cargo = env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    // without the filter cargo fetches what only other systems need
    let output = Command::new(cargo)
        .args(["metadata", "--locked", "--format-version", "1", "--filter-platform", host])
        .current_dir(root())
        .output()?;
    if output.status.success() {
        Ok(output.stdout)
    } else {
        Err(format!("cargo metadata: {}", String::from_utf8_lossy(&output.stderr)).into())
    }
}
