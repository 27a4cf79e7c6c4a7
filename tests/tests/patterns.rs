//! A library written in full and one that is written with patterns, classes' ports and rows are the same library.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use std::collections::BTreeMap;

use knockon_core::Catalogue;
use knockon_core::catalogue::Layered;
use knockon_core::library::{Family, LibraryFile, Part, Table, Written};
use knockon_tests::generate::{Size, generate};
use serde_json::{Map, Value as Json, json};

type Words = Map<String, Json>;
type File = LibraryFile<Written<Part>>;

const SIZE: Size =
    Size { positions: 14, joints: 16, parts: 60, family: 12, choices: 6, types: 6, doubt: 8, twins: 2 };

/// The words of a part that say something.
fn words(part: &Part) -> Words {
    let Ok(Json::Object(mut words)) = serde_json::to_value(part) else { panic!("a part is an object") };
    words.retain(|_, word| !word.is_null() && *word != json!({}) && *word != json!([]) && *word != json!(""));
    words
}

/// What all of some words say alike.
fn common<'a>(mut all: impl Iterator<Item = &'a Words>) -> Words {
    let mut out = all.next().cloned().unwrap_or_default();
    for words in all {
        out = shared(&out, words);
    }
    out
}

fn shared(a: &Words, b: &Words) -> Words {
    let both = a.iter().filter_map(|(key, one)| {
        let word = match (one, b.get(key)?) {
            (Json::Object(one), Json::Object(other)) => Json::Object(shared(one, other)),
            (one, other) => (one == other).then(|| one.clone())?,
        };
        Some((key.clone(), word))
    });
    both.collect()
}

/// What words say that others do not.
fn rest(words: &Words, less: &Words) -> Words {
    let own = words.iter().filter_map(|(key, word)| match (word, less.get(key)) {
        (Json::Object(word), Some(Json::Object(less))) => {
            let rest = rest(word, less);
            // a port that says nothing of its own is still one that the part has
            (!rest.is_empty() || key == "ports").then(|| (key.clone(), Json::Object(rest)))
        }
        (word, Some(less)) if word == less => None,
        _ => Some((key.clone(), word.clone())),
    });
    own.collect()
}

/// The leaves of words by path; `None` where a key has a dot or a space.
fn leaves(words: &Words, path: &str, out: &mut BTreeMap<String, Json>) -> Option<()> {
    for (key, word) in words {
        if key.contains(['.', ' ']) {
            return None;
        }
        let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
        match word {
            Json::Object(below) if !below.is_empty() => leaves(below, &path, out)?,
            word => drop(out.insert(path, word.clone())),
        }
    }
    Some(())
}

/// The same library with what the parts of a class have in common in patterns, what is left of them in rows where they can
/// be written so, and what all ports of a name have in common at their class.
fn factored(mut file: LibraryFile, random: &mut fastrand::Rng) -> File {
    let mut parts: Table<Words> =
        std::mem::take(&mut file.parts).iter().map(|(id, p)| (id.clone(), words(p))).collect();
    let by_class = |parts: &Table<Words>| {
        let mut by: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for (id, words) in parts {
            by.entry(words["class"].as_str().unwrap().to_owned()).or_default().push(id.clone());
        }
        by
    };
    for (class, ids) in by_class(&parts) {
        let mut names: Vec<String> = Vec::new();
        for id in &ids {
            names.extend(
                parts[id].get("ports").and_then(Json::as_object).into_iter().flat_map(Map::keys).cloned(),
            );
        }
        names.sort();
        names.dedup();
        for name in names.into_iter().filter(|_| random.u8(0..3) > 0) {
            let ports: Vec<&Words> =
                ids.iter().filter_map(|id| parts[id].get("ports")?.get(&name)?.as_object()).collect();
            let alike = common(ports.into_iter());
            for id in &ids {
                if let Some(Json::Object(port)) =
                    parts.get_mut(id).unwrap().get_mut("ports").and_then(|p| p.get_mut(&name))
                {
                    *port = rest(port, &alike);
                }
            }
            file.classes.get_mut(&class).unwrap().ports.insert(name, Written::read(alike).unwrap());
        }
    }
    for (class, mut ids) in by_class(&parts) {
        ids.retain(|_| random.u8(0..8) > 0);
        if ids.len() < 2 {
            continue;
        }
        random.shuffle(&mut ids);
        // half of them have something more in common
        let (half, _) = ids.split_at(ids.len() / 2 + 1);
        let all = common(ids.iter().map(|id| &parts[id]));
        let narrow = common(half.iter().map(|id| &parts[id]));
        let mut inner = rest(&narrow, &all);
        inner.insert("like".to_owned(), json!(class));
        let inner_id = format!("{class}-inner");
        file.patterns.insert(class.clone(), Written::read(all.clone()).unwrap());
        file.patterns.insert(inner_id.clone(), Written::read(inner).unwrap());
        for id in &ids {
            let (like, under) = if half.contains(id) { (&inner_id, &narrow) } else { (&class, &all) };
            let mut own = rest(&parts[id], under);
            own.insert("like".to_owned(), json!(like));
            parts.insert(id.clone(), own);
        }
        rows(&mut file, &mut parts, &class, half, &inner_id);
    }
    let parts = parts.into_iter().map(|(id, words)| (id, Written::read(words).unwrap())).collect();
    file.with_parts(parts).1
}

/// Makes rows of parts that are like a pattern.
fn rows(file: &mut LibraryFile, parts: &mut Table<Words>, family: &str, ids: &[String], like: &str) {
    let mut all: BTreeMap<&String, BTreeMap<String, Json>> = BTreeMap::new();
    for id in ids {
        let mut own = BTreeMap::new();
        if leaves(&parts[id], "", &mut own).is_none() {
            return;
        }
        own.remove("like");
        all.insert(id, own);
    }
    let mut columns: Vec<String> = all.values().flat_map(BTreeMap::keys).cloned().collect();
    columns.sort();
    columns.dedup();
    let inside =
        |a: &String, b: &String| b.strip_prefix(a.as_str()).is_some_and(|rest| rest.starts_with('.'));
    if columns.is_empty()
        || columns.len() > 64
        || columns.iter().any(|a| columns.iter().any(|b| inside(a, b)))
    {
        return;
    }
    let row = |own: &BTreeMap<String, Json>| {
        columns.iter().map(|c| own.get(c).cloned().unwrap_or(Json::Null)).collect()
    };
    let rows = all.iter().map(|(id, own)| ((*id).clone(), row(own))).collect();
    ids.iter().for_each(|id| drop(parts.remove(id)));
    file.families.insert(family.to_owned(), Family { like: like.to_owned(), columns, rows });
}

fn whole(file: &LibraryFile) -> File {
    let (parts, rest) = file.clone().with_parts(Table::<Part>::new());
    rest.with_parts(parts.into_iter().map(|(id, part)| (id, Written::whole(part))).collect()).1
}

fn read(files: Vec<(String, File)>) -> Layered {
    Catalogue::layered(vec![files])
}

/// The parts of a catalogue and what was wrong with it.
fn parts(of: &Layered) -> (BTreeMap<String, Part>, Vec<String>) {
    let cat = &of.catalogue;
    let parts = cat.part_names.ids.iter().map(|(ix, id)| (id.clone(), (*cat.parts[ix].part).clone()));
    let told = of.faults.iter().filter(|f| !f.warning).map(|f| format!("{}: {}", f.path, f.message));
    (parts.collect(), told.collect())
}

#[test]
fn a_library_in_full_and_one_with_patterns_are_the_same() {
    let (mut rows, mut likes, mut ports) = (0, 0, 0);
    for seed in 1..=60 {
        let (file, _) = generate(seed, SIZE);
        let mut random = fastrand::Rng::with_seed(seed);
        let short = factored(file.clone(), &mut random);
        rows += short.families.values().map(|family| family.rows.len()).sum::<usize>();
        likes += short.parts.values().filter(|part| !part.like.is_empty()).count();
        ports += short.classes.values().map(|class| class.ports.len()).sum::<usize>();
        let full = parts(&read(vec![("a.json".to_owned(), whole(&file))]));
        assert_eq!(parts(&read(vec![("a.json".to_owned(), short.clone())])), full, "seed {seed}");
        // its tables may lie in several files, in any order
        let mut pieces: Vec<(String, File)> = Vec::new();
        let mut rest = short.clone();
        let patterns = File { format: 1, patterns: std::mem::take(&mut rest.patterns), ..File::default() };
        let classes = File { format: 1, classes: std::mem::take(&mut rest.classes), ..File::default() };
        let families = File { format: 1, families: std::mem::take(&mut rest.families), ..File::default() };
        for (name, piece) in [("p", patterns), ("c", classes), ("f", families), ("r", rest)] {
            pieces.push((name.to_owned(), piece));
        }
        random.shuffle(&mut pieces);
        let apart = parts(&read(pieces));
        assert_eq!((apart.0, apart.1.len()), (full.0.clone(), full.1.len()), "seed {seed}");
        // what was laid under a part is laid under it once
        let mut again = short;
        again.families.clear();
        again.parts = full.0.iter().map(|(id, part)| (id.clone(), Written::whole(part.clone()))).collect();
        assert_eq!(parts(&read(vec![("a.json".to_owned(), again)])), full, "seed {seed}");
    }
    assert!(rows > 200 && likes > 200 && ports > 200, "{rows} rows, {likes} like a pattern, {ports} ports");
}
