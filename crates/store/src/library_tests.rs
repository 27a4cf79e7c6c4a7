//! Library files that cannot be read as they stand: each says so, and nothing hides it.

use std::fs;

use super::*;

const GOOD: &str = "{\n\"format\": 1,\n\"classes\": {\"hose\": {\"name\": \"Hose\", \"free\": true}}\n}\n";
const PARTS: &str = "{\n\"format\": 1,\n\"parts\": {\n\"hose-a\": {\"name\": \"Hose\", \"class\": \"hose\", \"price\": \"1 USD\"}\n}\n}\n";

/// What is said of a library of two good files and this one.
fn said(text: &str) -> Vec<(String, Weight)> {
    let texts = [("a.json", GOOD), ("b.json", PARTS), ("c.json", text)];
    let texts: Vec<(String, String)> =
        texts.iter().map(|(n, t)| ((*n).to_owned(), (*t).to_owned())).collect();
    read(&texts).1.into_iter().map(|p| (p.text, p.weight)).collect()
}

fn only(text: &str) -> String {
    let said = said(text);
    let [(text, Weight::Fault)] = &said[..] else { unreachable!("{said:?}") };
    text.clone()
}

#[test]
fn what_is_no_single_object_is_a_fault() {
    assert!(
        only("{\"format\": 1}\n}}} more")
            .starts_with("c.json:2: there is more text after the end of the file")
    );
    assert!(only("{\"format\": 1}{\"format\": 1}").contains("more text after the end"));
    assert_eq!(only("\n[]"), "c.json:2: expected an object in braces { }, found a list");
    for text in ["5", "null", "\"a\"", "[1, 2]"] {
        assert!(only(text).contains("expected an object"), "{text}");
    }
    assert!(only("").contains("the file ends before it is complete"));
    let list = "{\"format\": 1,\n\"vehicles\": {\"van\": {\"name\": \"Van\",\n\"positions\": []}}}";
    assert_eq!(
        only(list),
        "c.json:3: at vehicles.van.positions: expected an object in braces { }, found a list"
    );
    let list = "{\"format\": 1,\n\"vehicles\": {\"van\":\n []}}";
    assert!(only(list).contains("c.json:2: at vehicles.van: expected an object"));
    // what an editor puts before the text is no fault
    assert_eq!(said("\u{feff}{\"format\": 1}"), []);
}

#[test]
fn a_key_that_stands_twice_is_a_fault_with_both_places() {
    let part = "{\"name\": \"Hose\", \"class\": \"hose\", \"price\": \"1 USD\"}";
    let text = format!("{{\"format\": 1,\n\"parts\": {{\n\"x\": {part},\n\"x\": {part}}}}}");
    let told = only(&text);
    assert!(told.starts_with("c.json:4: at parts.x: this stands in line 3 already"), "{told}");
    let text = "{\"format\": 1,\n\"classes\": {\"x\": {\"name\": \"a\",\n\"name\": \"b\"}}}";
    let told = only(text);
    assert!(told.starts_with("c.json:3: at classes.x.name: this stands in line 2 already"), "{told}");
}

#[test]
fn the_format_is_told_in_the_right_words() {
    assert!(only("{\"about\": \"x\"}").contains("c.json:1: at format: this file names no format"));
    assert!(only("{\"format\": 0}").contains("has format 0, which never was"));
    assert!(only("{\n\"format\": 2, \"tomorrow\": 1}").starts_with(
        "c.json:2: at format: this file has format 2; this program reads format 1: take a newer"
    ));
    assert!(only("{\"format\": \"one\"}").contains("found \"one\""));
}

#[test]
fn a_file_that_cannot_be_read_is_told_before_what_comes_of_it() {
    let texts = [("a.json", GOOD.replace("\"free\": true", "\"free\": 1")), ("b.json", PARTS.to_owned())];
    let texts: Vec<(String, String)> = texts.into_iter().map(|(n, t)| (n.to_owned(), t)).collect();
    let problems = read(&texts).1;
    let [first, note] = &problems[..] else { unreachable!("{problems:?}") };
    assert_eq!(first.text, "a.json:3: at classes.hose.free: expected true or false, found the number 1");
    assert!(note.text.starts_with("1 further problem is in the other files not listed"), "{}", note.text);
    assert_eq!(note.weight, Weight::Note);
}

#[test]
fn what_is_no_text_file_is_told_and_never_waited_for() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let told = || {
        let problems = load(folder.path()).map(|(_, p)| p).unwrap_or_else(|p| p);
        problems.into_iter().map(|p| p.text).collect::<Vec<_>>().join("\n")
    };
    fs::write(at("a.json"), GOOD).unwrap();
    fs::write(at("b.json"), PARTS).unwrap();
    assert_eq!(told(), "");
    assert!(load(&at("a.json")).unwrap_err()[0].text.contains("this is a file; name the folder"));
    fs::write(at("c.json"), b"{\"format\": 1,\n\"about\": \"wh\xe9el\"}").unwrap();
    assert!(told().contains("c.json:2: a letter here is not written as UTF-8"), "{}", told());
    fs::write(at("c.json"), b"\xff\xfe{\0}\0").unwrap();
    assert!(told().contains("c.json:1: this text is written as UTF-16"), "{}", told());
    fs::remove_file(at("c.json")).unwrap();
    #[cfg(unix)]
    {
        let socket = std::os::unix::net::UnixListener::bind(at("c.json")).unwrap();
        assert!(told().contains("c.json: this is not a regular file"), "{}", told());
        assert!(crate::sheets::open(&at("c.json")).unwrap_err().to_string().contains("not a regular file"));
        drop(socket);
        fs::remove_file(at("c.json")).unwrap();
        let made = std::process::Command::new("mkfifo").arg(at("c.json")).status();
        if made.is_ok_and(|status| status.success()) {
            assert!(told().contains("c.json: this is not a regular file"), "{}", told());
        }
    }
}

#[test]
fn nothing_is_wrong_with_the_library_of_the_program() {
    let said: Vec<String> = read(&shipped_texts()).1.into_iter().map(|p| p.text).collect();
    assert_eq!(said, Vec::<String>::new());
}

#[test]
fn a_comment_is_called_one() {
    for text in [
        "{\"format\": 1, // as told\n\"about\": \"x\"}",
        "{\"format\": 1, /* as told */ \"about\": \"x\"}",
        "{\"format\": 1 # as told\n}",
        "// a file\n{\"format\": 1}",
    ] {
        assert!(
            only(text).starts_with("c.json:1: a comment stands here, and JSON has none"),
            "{}",
            only(text)
        );
    }
    // what stands in quotes is none
    assert!(!only("{\"about\": \"see // and # here\" 5}").contains("a comment"));
}

#[test]
fn a_missing_comma_is_told_where_it_is_missing() {
    let told = only("{\n\"format\": 1,\n\"about\": \"x\"\n\n\"parts\": {}}");
    assert_eq!(told, "c.json:3: a comma is missing at the end of this line");
    let list = "{\"format\": 1, \"parts\": {\"a\": {\"name\": \"\", \"class\": \"\", \"cautions\": [\n\"x\"\n\"y\"]}}}";
    assert_eq!(only(list), "c.json:2: a comma is missing at the end of this line");
    assert!(only("{\"format\": 1 \"about\": \"x\"}").contains("expected a comma, or }"));
}

#[test]
fn a_comma_in_a_number_is_told_with_the_point() {
    let part = |price: &str| {
        PARTS.replace("\"1 USD\"}", &format!("\"1 USD\", \"holds\": {{\"oil\": \"{price}\"}}}}"))
    };
    let texts = [("a.json", GOOD.to_owned()), ("b.json", part("45,5 L"))];
    let texts: Vec<(String, String)> = texts.into_iter().map(|(n, t)| (n.to_owned(), t)).collect();
    let problems = read(&texts).1;
    assert!(
        problems[0].text.contains("has a comma in its number") && problems[0].text.contains("\"45.5 L\""),
        "{problems:?}"
    );
}
