//! Two hundred wrong entries, made of a table of kinds, in the form of a part of one's own and in the fields of a vehicle of
//! one's own: each is told beside its field with what was expected, nothing typed is lost, and nothing of it gets into the sheet.

use std::collections::BTreeMap;

use egui::accesskit::{Invalid, Role};
use egui::{Event, Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::help::*;

/// What is wrong in any field: the entry, and a word of what is told.
fn in_any_field() -> Vec<(String, &'static str)> {
    vec![
        ("x".repeat(5000), "at most"),
        ("half\tof it".to_owned(), "sign that cannot"),
        ("\u{202E}mm 5".to_owned(), "sign that cannot"),
        ("5\u{200B} mm".to_owned(), "sign that cannot"),
    ]
}

/// Entries that are wrong by the kind of their field, with a word of what is told; an empty one is a field that is left empty.
const TABLE: [(&str, &str, &str); 17] = [
    (
        "length",
        "expected",
        "ten | =1+1 | =SUM(A1:A9) | @cmd | 5 5 mm | 1/0 in | mm | ½½ mm | 5 mm mm | NaN mm | +-5 mm",
    ),
    (
        "length",
        "expected",
        "1e999 mm | 0x10 mm | пять мм | Ⅴ mm | 5 mm; 6 mm | 5 mm to | to 5 mm | 6 mm or six | 5 mm or",
    ),
    ("length", "length", "3.5 psi | 3 A | 20 L | 4 kg | 12 V | 3 psi to 4 psi"),
    (
        "length",
        "expected",
        "3/8-24 | female | M10x1 | 5.5.5 mm | 5,5,5 mm | 1 2/3/4 in | -mm | ' 5 | \" | <b>5 mm</b>",
    ),
    ("length", "0 or more", "-3 mm | -1/8 in | -0.5 mm | 5 mm or -5 mm | -2 in"),
    (
        "pressure",
        "expected",
        "lots | =2*3 | psi | 3..5 psi | 3,5,5 psi | --3 psi | 3 psi 4 | 4 to x psi | ∞ psi",
    ),
    ("pressure", "pressure", "3 mm | 2 L | 1 kW | 10 A"),
    ("current", "expected", "2 mm | 2 psi | two | =2 | 2 A A | A | 2;3 A | -2 A | 1/0 A | 0x2 A"),
    ("volume", "expected", "a full one | 12 mm | 12 | L | =40 | 40 L L | -40 L | 12 gall | 3 psi | ½½ L"),
    (
        "thread",
        "expected",
        "a coarse one | 3/8 | 24 | M | M10x | x1.5 | 3/8- | -24 | =3/8-24 | 3/8-24 L | 10 mm | three eighths | M-10x1",
    ),
    ("word", "knows no", "mael | =female | zzz | 5 mm | male female | MALE! | мама | male or | male;female"),
    (
        "price",
        "expected",
        "ten | -5 | =45 | $ | 1.234.5 | 4,5,6 | 12.345 | 99999999 | 45 dollars and more | 0x2D | ⅣⅤ | 1e3 | 45;50",
    ),
    ("price", "expected", "4 5 | 45 $ $ | 0,500 | 1/2 | NaN | + | 45 U | -0.01 EUR"),
    ("hours", "expected", "-1 | one | 1:30 | =1 | 99999 | 1.5.5 | NaN | inf | 1 1/2 | ² | -0.1 | 1 d"),
    ("name", "wanted", " | "),
    ("place", "Expected a name", " | "),
    (
        "many",
        "Expected a whole number",
        " | 0 | -1 | +2 | 1.5 | 1,5 | x | 1001 | =2 | 5000000000 | 2 pcs | two | ½ | Ⅱ | 1e2 | 0x2 | NaN | 2-3 | 1 000 | #",
    ),
];

/// Entries of a kind that are wrong, each with a word of what is told.
fn wrong(kind: &str) -> Vec<(String, &'static str)> {
    let rows = TABLE.iter().filter(|(of, ..)| *of == kind);
    let mut all: Vec<_> = rows
        .flat_map(|(_, told, entries)| entries.split(" | ").map(|entry| (entry.to_owned(), *told)))
        .collect();
    // a number with a sign that nobody sees is no number all the same
    let is_number = matches!(kind, "price" | "hours" | "many");
    all.extend(in_any_field().into_iter().filter(|_| !is_number));
    all
}

fn field<'d>(desk: &'d Desk, label: &'d str) -> egui_kittest::Node<'d> {
    desk.get_by_role_and_label(Role::TextInput, label)
}

/// What is told of a field, where it is wrong.
fn told(desk: &Desk, label: &str) -> Option<String> {
    let node = field(desk, label);
    let node = node.accesskit_node();
    let wrong = node.data().invalid() == Some(Invalid::True);
    // what is only missing yet is described, and no mistake
    let is_empty = node.value().is_none_or(|value| value.trim().is_empty());
    (wrong || is_empty).then(|| node.data().description().unwrap_or_default().to_owned())
}

/// Puts an entry into a field, as from the clipboard: it may have signs that no key has.
fn put(desk: &mut Desk, label: &str, text: &str) {
    field(desk, label).focus();
    desk.run_steps(2);
    desk.key_press_modifiers(Modifiers::COMMAND, Key::A);
    desk.run_steps(1);
    if text.is_empty() {
        desk.key_press_modifiers(Modifiers::NONE, Key::Delete);
    } else {
        desk.event(Event::Paste(text.to_owned()));
    }
    desk.run_steps(2);
}

/// Puts all wrong entries of a kind into a field; how many there were, and of which nothing is told as it should be. `leave`: the
/// field is left after each.
fn all_of(desk: &mut Desk, kind: &str, label: &str, leave: bool) -> (usize, Vec<String>) {
    field(desk, label).scroll_to_me();
    desk.run_steps(3);
    let before = field(desk, label).value().unwrap_or_default();
    let sheet = desk.state().sheet().clone();
    let entries = wrong(kind);
    let mut amiss = Vec::new();
    for (entry, expected) in &entries {
        put(desk, label, entry);
        if leave {
            desk.key_press_modifiers(Modifiers::NONE, Key::Tab);
            desk.run_steps(3);
        }
        let shown: String = entry.chars().take(40).collect();
        let stands = field(desk, label).value().unwrap_or_default();
        if stands != *entry {
            amiss.push(format!("{kind}: of \"{shown}\" stands \"{stands}\""));
        }
        let why = told(desk, label).unwrap_or_default();
        if !why.to_lowercase().contains(&expected.to_lowercase()) || why.chars().count() > 400 {
            let why: String = why.chars().take(200).collect();
            amiss.push(format!("{kind}, {label}: of \"{shown}\" is told \"{why}\", and not \"{expected}\""));
        }
        if *desk.state().sheet() != sheet {
            amiss.push(format!("{kind}: \"{shown}\" got into the sheet"));
        }
    }
    put(desk, label, &before);
    if leave {
        desk.key_press_modifiers(Modifiers::NONE, Key::Tab);
        desk.run_steps(3);
    }
    (entries.len(), amiss)
}

/// The fields of the open form by their kind: the first of each.
fn fields_of_ports(desk: &Desk) -> BTreeMap<&'static str, String> {
    let mut found = BTreeMap::new();
    for node in desk.query_all_by_role(Role::TextInput) {
        let (label, value) =
            (node.accesskit_node().label().unwrap_or_default(), node.value().unwrap_or_default());
        let is_number =
            |unit: &str| value.strip_suffix(unit).is_some_and(|n| n.trim().parse::<f64>().is_ok());
        let kind = match () {
            () if !label.contains(" of ") => continue,
            () if is_number(" mm") || is_number(" in") => "length",
            () if value.ends_with(" psi") => "pressure",
            () if value.ends_with(" L") || value.ends_with(" gal") => "volume",
            () if label.starts_with("thread") => "thread",
            () if ["male", "female"].contains(&value.as_str()) => "word",
            () => continue,
        };
        found.entry(kind).or_insert(label);
    }
    found
}

#[test]
fn two_hundred_wrong_entries_are_each_told_beside_their_field() {
    let mut desk = board(None);
    let mut counted: BTreeMap<&str, usize> = BTreeMap::new();
    let mut amiss = Vec::new();
    let mut count = |kind: &'static str, (n, more): (usize, Vec<String>)| {
        amiss.extend(more);
        counted.insert(kind, n);
    };
    let mut met = Vec::new();
    for place in ["Carburettor", "Fuel tank", "Fuel pump", "Front brakes"] {
        go_to(&mut desk, place);
        click(&mut desk, "Add my own part here…");
        for (kind, label) in fields_of_ports(&desk) {
            if !met.contains(&kind) {
                met.push(kind);
                count(kind, all_of(&mut desk, kind, &label, false));
            }
        }
    }
    click(&mut desk, "Add what the part gives or takes");
    desk.get_all_by_label("electrical load at idle").last().expect("in the list").scroll_to_me();
    settle(&mut desk);
    desk.get_all_by_label("electrical load at idle").last().expect("in the list").click();
    settle(&mut desk);
    count("current", all_of(&mut desk, "current", "electrical load at idle of the part", false));
    for (kind, label) in [
        ("name", "Name of the part"),
        ("price", "Price of the part"),
        ("hours", "Hours to fit the part"),
        ("supplier", "Supplier of the part"),
    ] {
        count(kind, all_of(&mut desk, kind, label, false));
    }
    assert!(desk.state().sheet().parts.is_empty());
    // the page of the vehicle
    press(&mut desk, Modifiers::COMMAND, Key::Num6);
    count("vehicle", all_of(&mut desk, "vehicle", "Name of the vehicle", true));
    count("about", all_of(&mut desk, "about", "About the vehicle", true));
    put(&mut desk, "Find a place of the vehicle", "fuel tank");
    let is_it =
        |n: &egui_kittest::Node<'_>| n.accesskit_node().label().unwrap_or_default().starts_with("Fuel tank");
    desk.query_all_by_role(Role::Button).find(is_it).expect("the place").click_accesskit();
    settle(&mut desk);
    for (kind, label) in
        [("place", "Name of the place"), ("where", "Where the place is"), ("many", "How many sit there")]
    {
        count(kind, all_of(&mut desk, kind, label, true));
    }
    assert_eq!(amiss, [""; 0], "{counted:?}");
    for (kind, ..) in TABLE {
        assert!(counted.contains_key(kind), "no field of the kind {kind} was met: {counted:?}");
    }
    let all: usize = counted.values().sum();
    assert!(all >= 200, "{all}: {counted:?}");
    // the next page is drawn as ever
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    assert!(desk.state().page_is_board());
}
