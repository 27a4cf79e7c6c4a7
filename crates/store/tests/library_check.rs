//! The check of a library: one thing is made wrong in the shipped one, and what is said of it is read.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use knockon_store::library::{self, Weight};

/// The first file of a system that has such words: its place among all.
fn holding(texts: &[(String, String)], system: &str, words: &str) -> usize {
    let found = texts.iter().position(|(name, text)| name.contains(system) && text.contains(words));
    found.unwrap_or_else(|| panic!("{words} in {system}"))
}

/// Makes one change in a file of a system; what is said then, each with whether it is a fault.
fn said(system: &str, from: &str, to: &str) -> Vec<(String, bool)> {
    let mut texts = library::shipped_texts();
    let at = holding(&texts, system, from);
    texts[at].1 = texts[at].1.replacen(from, to, 1);
    library::read(&texts).1.into_iter().map(|p| (p.text, p.weight == Weight::Fault)).collect()
}

/// The one thing that is said.
fn only(system: &str, from: &str, to: &str) -> (String, bool) {
    let mut said = said(system, from, to);
    // how much else is not listed where a file cannot be read
    said.retain(|(text, _)| !text.contains("not listed"));
    let [one] = &said[..] else { panic!("{from} -> {to}: {said:#?}") };
    one.clone()
}

/// What is said of parts added to the wheels.
fn added(parts: &str) -> (String, bool) {
    only("wheels", "\"parts\": {", &format!("\"parts\": {{\n{parts},\n"))
}

/// What is said of a part with these words of its own.
fn part(inner: &str) -> (String, bool) {
    added(&format!("\"zz-a\": {{\"name\": \"Z\", \"class\": \"hose-clip\", \"price\": \"1.00 USD\"{inner}}}"))
}

fn fault((text, fault): (String, bool), part: &str) {
    assert!(fault && text.contains(part), "{part} as a fault in: {text}");
}

fn warning((text, fault): (String, bool), part: &str) {
    assert!(!fault && text.contains(part), "{part} as a warning in: {text}");
}

#[test]
fn a_word_one_slip_off_the_others_is_asked_after() {
    let told = only("cooling", "\"neck\": \"small\"", "\"neck\": \"smal\"");
    warning(told, "\"smal\" stands nowhere else in this field; did you mean \"small\"?");
}

#[test]
fn a_need_beyond_what_is_offered_is_told_by_its_value() {
    warning(
        part(", \"needs\": {\"main-link\": \"6000 A\"}"),
        "offers \"main-link\" of \"6000 A\", they offer \"",
    );
    fault(
        part(", \"needs\": {\"main-lnk\": \"60 A\"}"),
        "did you mean \"main-link\"? Add it or correct the word",
    );
}

#[test]
fn money_hours_counts_and_names_that_cannot_be_meant() {
    let add =
        |inner: &str| added(&format!("\"zz-a\": {{\"name\": \"Z\", \"class\": \"hose-clip\", {inner}}}"));
    warning(
        add("\"price\": \"12.00 UDS\""),
        "parts.zz-a.price: the currency UDS stands only here; did you mean \"USD\"?",
    );
    fault(add("\"price\": \"-12.0 USD\""), "expected a price of 0 or more, found \"-12.00 USD\"");
    fault(part(", \"clean\": {\"price\": \"-1 USD\"}"), "parts.zz-a.clean.price: expected a price of 0");
    fault(part(", \"hours\": -3"), "expected hours from 0 to 1000, found -3.0");
    fault(part(", \"hours\": 1e308"), "expected hours from 0 to 1000");
    fault(
        part(", \"contents\": [{\"part\": \"tyre-valve-rubber\", \"qty\": 0}]"),
        "contents[0].qty: expected how many",
    );
    fault(part(", \"holds\": {\"coolant\": \"-1 L\"}"), "expected a volume of 0 or more, found \"-1 L\"");
    let unnamed = "\"zz-a\": {\"name\": \" \", \"class\": \"hose-clip\", \"price\": \"1 USD\"}";
    fault(added(unnamed), "parts.zz-a.name: expected a name as it is shown");
    fault(
        only("cooling", "\"capacity\": \"", "\"capacity\": \"-"),
        "capacity: expected a volume of 0 or more",
    );
}

#[test]
fn a_need_that_two_limits_raise_with_different_values_is_told() {
    warning(
        only("brakes", "\"raises\": \"residual-front\"", "\"raises\": \"held-front\""),
        "limits.front-held.raises_value: the limit \"drain-back\" raises \"held-front\" with another value",
    );
}

#[test]
fn a_window_that_begins_above_its_end_is_told() {
    let told = only("fuel", "\"4 to 7 psi\"", "\"7 to 4 psi\"");
    fault(told, "\"7 to 4 psi\" begins above its end; write the smaller value first");
}

#[test]
fn a_port_type_no_joint_has_is_told() {
    let field = "{\"name\": \"a\", \"kind\": \"length\", \"rule\": \"equal\", \"says\": \"x: {one} {one-value}, {other} {other-value}\"}";
    let nobody = format!(
        "\"port_types\": {{\n\"cool.nobody\": {{\"name\": \"nobody\", \"fields\": {{\"a\": {field}}}}},"
    );
    warning(only("cooling", "\"port_types\": {", &nobody), "port_types.cool.nobody: no joint of any vehicle");
}

#[test]
fn ids_are_lower_case_words_and_no_class_has_that_of_a_part() {
    let part = "{\"name\": \"Z\", \"class\": \"hose-clip\", \"price\": \"1 USD\"}";
    for id in ["ZZ_a b", "zz--a", "Zz", "zz.a", "-a", "é"] {
        warning(added(&format!("\"{id}\": {part}")), "expected an id of lower-case words with hyphens");
    }
    let told = only("wheels", "\"classes\": {", "\"classes\": {\n\"tyre-valve-rubber\": {\"name\": \"x\"},");
    fault(told, "classes.tyre-valve-rubber: \"tyre-valve-rubber\" is the id of a part too");
}

#[test]
fn a_definition_with_a_fault_brings_no_others() {
    let (told, is_fault) = only("cooling", "\"kind\": \"pressure\"", "\"kind\": \"presure\"");
    assert!(
        is_fault
            && told.contains(
                "\"presure\" is no kind of value; did you mean \"pressure\"? Expected one of length, "
            ),
        "{told}"
    );
    assert!(told.ends_with("count, word, thread, curve, outline"), "{told}");
    fault(only("common", "\"kind\": \"mass\"", "\"kind\": \"mas\""), "did you mean \"mass\"?");
    fault(only("cooling", "\"rule\": \"equal\"", "\"rule\": \"equals\""), "did you mean \"equal\"?");
}

#[test]
fn a_box_that_holds_itself_names_the_ring() {
    let box_of = |id: &str, held: &str| {
        format!(
            "\"{id}\": {{\"name\": \"Z\", \"class\": \"hose-clip\", \"price\": \"1 USD\", \"contents\": [{{\"part\": \"{held}\"}}]}}"
        )
    };
    let ring = [box_of("zz-a", "zz-b"), box_of("zz-b", "zz-c"), box_of("zz-c", "zz-a")].join(",\n");
    fault(added(&ring), "the box of zz-a holds zz-b, which holds zz-c, which holds zz-a again; take");
    fault(added(&box_of("zz-a", "zz-a")), "the box of zz-a holds itself");
}

#[test]
fn the_place_of_a_message_is_in_the_file() {
    let added = "\"parts\": {\n\"zz-a\": {\"name\": \"Z\", \"class\": \"hose-clip\"},\n";
    let (told, _) = only("wheels", "\"parts\": {", added);
    let texts = library::shipped_texts();
    let (name, file) = &texts[holding(&texts, "wheels", "\"parts\": {")];
    let line = 1 + file.split("\"parts\": {").next().unwrap().matches('\n').count() + 1;
    assert!(told.starts_with(&format!("{name}:{line}: warning: at parts.zz-a.price: ")), "{told}");
    let figure = only("wheels", "\"figure\": \"", "\"figure\": \"z");
    assert!(figure.0.contains(": there is no figure \"z"), "{}", figure.0);
    let port = only("cooling", "\"port\": \"neck\"", "\"port\": \"nek\"");
    warning(port, "has a port \"nek\"; did you mean \"neck\"? Add the port or correct the word");
    fault(part(", \"cautions\": [\"hot-coolnt\"]"), "did you mean \"hot-coolant\"?");
}

#[test]
fn a_class_with_a_place_says_who_decides_it() {
    let silent = only(
        "brakes",
        "\"name\": \"brake booster\",\n      \"decided\": \"owner\",",
        "\"name\": \"brake booster\",",
    );
    fault(
        silent,
        "classes.booster: the vehicle \"front-engine-car\" has a place for it, \"booster\", and it does not say who decides",
    );
    let slip = only("brakes", "\"decided\": \"owner\"", "\"decided\": \"ownr\"");
    fault(slip, "the word \"ownr\" is not known here; did you mean \"owner\"?");
    // a free class may leave it out: it follows
    let (follows, free) =
        ("\"brake pedal\",\n      \"decided\": \"follows\"", "\"brake pedal\", \"free\": true");
    assert!(said("brakes", follows, free).is_empty());
}

#[test]
fn a_service_has_no_place_no_ports_and_nobody_decides_it() {
    let service = |word: &str| format!("\"name\": \"brake booster\", \"service\": true{word}");
    let said = |word: &str| {
        said("brakes", "\"name\": \"brake booster\",\n      \"decided\": \"owner\"", &service(word))
    };
    for (word, wanted) in [
        (
            "",
            "vehicles.furrow-10.positions.booster.class: \"booster\" is a service, which leaves no part on the vehicle",
        ),
        ("", ".ports: \"booster\" is a service, which is fitted nowhere and has no ports; take them out"),
        (", \"decided\": \"owner\"", "classes.booster.decided: a service has no place on a vehicle"),
        (
            ", \"free\": true",
            "classes.booster: a class is used loose (\"free\") or is work that leaves no part (\"service\")",
        ),
    ] {
        let told = said(word);
        assert!(
            told.iter().any(|(text, is_fault)| *is_fault && text.contains(wanted)),
            "{wanted}: {told:#?}"
        );
    }
}

#[test]
fn only_a_part_of_a_free_class_goes_between_two_others() {
    let told = said(
        "brakes",
        "\"name\": \"residual valve removal\",\n      \"free\": true",
        "\"name\": \"residual valve removal\", \"decided\": \"owner\"",
    );
    // both parts of the class
    assert_eq!(told.len(), 2, "{told:#?}");
    for one in told {
        fault(one, ".bridges: only a part of a free class goes between two others; write \"free\": true");
    }
}
