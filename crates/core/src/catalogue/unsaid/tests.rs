//! What does not say enough: each told where its condition just holds, and not where it just fails.

use serde_json::{Value as Json, json};

use crate::Catalogue;
use crate::catalogue::Fault;
use crate::library::LibraryFile;

/// A cart whose pump feeds a carburettor; `change` makes it wrong.
fn faults(change: impl FnOnce(&mut Json)) -> Vec<Fault> {
    let outlet =
        |role: &str| json!({"type": "fuel.feed", "role": role, "fields": {"flow": "20 L/h", "end": "male"}});
    let inlet = json!({"type": "fuel.feed", "role": "take", "fields": {"flow": "10 L/h", "end": "female"}});
    let mut file = json!({
        "format": 1,
        "systems": {"all": {"name": "All"}},
        "classes": {"pump": {"name": "Pump", "decided": "owner"}, "carb": {"name": "Carb", "decided": "owner"}},
        "port_types": {"fuel.feed": {"name": "fuel", "fields": {
            "flow": {"name": "flow", "kind": "flow", "rule": "at-least", "says": "it starves: {giver gives} {given}, {taker takes} {wanted}"},
            "end": {"name": "end", "kind": "word", "rule": "mates", "words": [["male", "female"]], "says": "they do not meet: {one} {one-value}, {other} {other-value}"}
        }}},
        "parts": {
            "old-pump": {"name": "Pump", "class": "pump", "price": "1 USD", "ports": {"outlet": outlet("give")}},
            "old-carb": {"name": "Carb", "class": "carb", "price": "1 USD", "ports": {"inlet": inlet}}
        },
        "vehicles": {"cart": {"name": "Cart",
            "positions": {
                "pump": {"name": "Pump", "system": "all", "class": "pump", "as_found": "old-pump"},
                "carb": {"name": "Carb", "system": "all", "class": "carb", "as_found": "old-carb"}
            },
            "joints": {"feed": {"name": "feed", "ends": [{"at": "pump", "port": "outlet"}, {"at": "carb", "port": "inlet"}]}}
        }}
    });
    change(&mut file);
    let file: LibraryFile = serde_json::from_value(file).unwrap();
    Catalogue::new(vec![("cart".to_owned(), file)]).1
}

/// The one thing that is told, and whether it is a fault.
fn only(path: &str, says: &str, is_fault: bool, change: impl FnOnce(&mut Json)) {
    let told = faults(change);
    let [one] = &told[..] else { panic!("{told:#?}") };
    assert!(one.path == path && one.message.contains(says) && one.warning != is_fault, "{one:?}");
}

const PUMP: &str = "parts.old-pump.ports.outlet";

#[test]
fn nothing_is_told_of_what_says_enough() {
    assert_eq!(faults(|_| {}), []);
}

#[test]
fn a_port_that_is_compared_says_who_gives() {
    let without = |file: &mut Json| file["parts"]["old-pump"]["ports"]["outlet"]["role"] = json!("plain");
    only(&format!("{PUMP}.role"), "write \"role\": \"give\"", false, without);
    // where nothing is compared by giver and taker, nobody needs a role
    assert_eq!(
        faults(|file| {
            without(file);
            file["parts"]["old-carb"]["ports"]["inlet"]["role"] = json!("plain");
            file["port_types"]["fuel.feed"]["fields"]["flow"]["rule"] = json!("equal");
        }),
        []
    );
}

#[test]
fn a_joint_where_both_take_is_told() {
    only("vehicles.cart.joints.feed", "none gives", false, |file| {
        file["parts"]["old-pump"]["ports"]["outlet"]["role"] = json!("take");
    });
    only("vehicles.cart.joints.feed", "none takes", false, |file| {
        file["parts"]["old-carb"]["ports"]["inlet"]["role"] = json!("give");
    });
}

#[test]
fn a_word_outside_the_pairs_is_told() {
    only(&format!("{PUMP}.fields.end"), "did you mean \"female\"?", false, |file| {
        file["parts"]["old-pump"]["ports"]["outlet"]["fields"]["end"] = json!("femail");
    });
    for word in ["any", "unknown: look"] {
        assert_eq!(
            faults(|file| file["parts"]["old-pump"]["ports"]["outlet"]["fields"]["end"] = json!(word)),
            []
        );
    }
}

#[test]
fn a_rule_that_cannot_compare_its_kind_is_a_fault() {
    let path = "port_types.fuel.feed.fields.end";
    only(&format!("{path}.rule"), "\"at-least\" compares a quantity", true, |file| {
        file["port_types"]["fuel.feed"]["fields"]["end"] = json!({"name": "end", "kind": "word", "rule": "at-least", "says": "it starves: {giver gives} {given}, {taker takes} {wanted}"});
    });
    only(&format!("{path}.within"), "counts nowhere else", true, |file| {
        file["port_types"]["fuel.feed"]["fields"]["end"]["within"] = json!("x");
    });
    only("port_types.fuel.feed.fields.flow.words", "they count nothing", true, |file| {
        file["port_types"]["fuel.feed"]["fields"]["flow"]["words"] = json!([["a", "b"]]);
    });
}

#[test]
fn a_thread_says_its_pitch_and_is_compared_by_no_more_and_less() {
    let thread = |size: &'static str, rule: &'static str| {
        move |file: &mut Json| {
            file["port_types"]["fuel.feed"]["fields"]["thread"] = json!({"name": "thread", "kind": "thread", "rule": rule, "says": "they do not meet: {one} {one-value}, {other} {other-value}"});
            for (part, port) in [("old-pump", "outlet"), ("old-carb", "inlet")] {
                file["parts"][part]["ports"][port]["fields"]["thread"] = json!(size);
            }
        }
    };
    assert_eq!(faults(thread("M22x1.5", "equal")), []);
    let told = faults(thread("M22", "equal"));
    assert!(told.len() == 2 && told[0].message.contains("does not say its pitch"), "{told:?}");
    only("port_types.fuel.feed.fields.thread.rule", "write \"equal\"", true, thread("M22x1.5", "at-least"));
}

#[test]
fn what_is_there_is_not_less_than_nothing() {
    only(&format!("{PUMP}.fields.flow"), "expected 0 or more, found the flow", true, |file| {
        file["parts"]["old-pump"]["ports"]["outlet"]["fields"]["flow"] = json!("-20 L/h");
    });
    // vacuum is a pressure below nothing
    assert_eq!(
        faults(|file| {
            file["port_types"]["fuel.feed"]["fields"]["flow"]["kind"] = json!("pressure");
            file["parts"]["old-pump"]["ports"]["outlet"]["fields"]["flow"] = json!("-5 psi");
            file["parts"]["old-carb"]["ports"]["inlet"]["fields"]["flow"] = json!("-6 psi");
        }),
        []
    );
}

#[test]
fn a_need_that_is_only_there_takes_no_other_word() {
    let need = |text: &'static str| {
        move |file: &mut Json| {
            file["needs"] = json!({"earth": {"name": "earth", "kind": "present"}});
            file["parts"]["old-pump"]["needs"] = json!({"earth": text});
            file["vehicles"]["cart"]["offers"] = json!({"earth": "present"});
        }
    };
    assert_eq!(faults(need("present")), []);
    only("parts.old-pump.needs.earth", "expected \"present\", found \"presnt\"", true, need("presnt"));
}

#[test]
fn what_was_found_is_of_the_class_of_its_place() {
    only(
        "vehicles.cart.positions.pump.as_found",
        "is of the class \"carb\", and this place takes",
        true,
        |file| {
            file["vehicles"]["cart"]["positions"]["pump"]["as_found"] = json!("old-carb");
        },
    );
}

#[test]
fn a_class_that_is_not_known_is_told_alone() {
    only("vehicles.cart.positions.pump.class", "did you mean \"pump\"?", true, |file| {
        file["vehicles"]["cart"]["positions"]["pump"]["class"] = json!("pmp");
    });
    only("vehicles.cart.positions.pump.system", "there is no system", true, |file| {
        file["vehicles"]["cart"]["positions"]["pump"]["system"] = json!("al");
    });
}

#[test]
fn a_slip_in_the_id_of_a_vehicle_is_told_alone() {
    let piece = json!({"joints": {"again": {"name": "a", "ends": [{"at": "pump", "port": "outlet"}, {"at": "carb", "port": "inlet"}]}}});
    only("vehicles.crat", "did you mean \"cart\"?", true, |file| file["vehicles"]["crat"] = piece.clone());
    assert_eq!(
        faults(|file| {
            file["vehicles"]["crat"] = file["vehicles"]["cart"].clone();
            file["vehicles"]["crat"]["name"] = json!("Crate");
        }),
        []
    );
}

#[test]
fn what_is_lost_is_said() {
    let cut = |undone: &'static str| {
        move |file: &mut Json| {
            file["parts"]["old-pump"]["reversible"] = json!("no");
            file["parts"]["old-pump"]["undone"] = json!(undone);
        }
    };
    only("parts.old-pump.undone", "does not say what is lost", false, cut(" "));
    assert_eq!(faults(cut("The bracket is cut; keep it.")), []);
}

#[test]
fn why_and_source_are_said() {
    let said = |why: &'static str, source: &'static str| {
        move |file: &mut Json| {
            file["figures"] = json!({"bore": {"name": "bore", "kind": "length"}});
            file["vehicles"]["cart"]["facts"] = json!({"bore": "1 mm"});
            file["limits"] = json!({"l": {"name": "l", "calc": "at-most", "why": why, "source": source,
                "inputs": {"have": {"fact": "bore"}, "most": {"value": "1 m"}}}});
        }
    };
    assert_eq!(faults(said("it jams", "common practice")), []);
    only("limits.l.why", "nobody is told why", false, said("", "common practice"));
    only("limits.l.source", "\"common practice\"", false, said("it jams", ""));
}

#[test]
fn a_value_for_a_need_that_is_not_raised_is_a_fault() {
    only("limits.l.raises_value", "none is raised", true, |file| {
        file["figures"] = json!({"bore": {"name": "bore", "kind": "length"}});
        file["vehicles"]["cart"]["facts"] = json!({"bore": "1 mm"});
        file["limits"] = json!({"l": {"name": "l", "calc": "at-most", "why": "w", "source": "measured", "raises_value": "1 A",
            "inputs": {"have": {"fact": "bore"}, "most": {"value": "1 m"}}}});
    });
}

#[test]
fn a_part_that_alone_lacks_the_ports_of_its_class_is_told() {
    let pumps = |with: usize| {
        move |file: &mut Json| {
            let whole = file["parts"]["old-pump"].clone();
            for n in 1..with {
                file["parts"][format!("pump-{n}")] = whole.clone();
            }
            file["parts"]["pump-bare"] = json!({"name": "Pump", "class": "pump", "price": "1 USD"});
        }
    };
    only("parts.pump-bare.ports", "does not: outlet", false, pumps(3));
    // of few parts one may well be another kind, and what was found may be older than the port
    assert_eq!(faults(pumps(2)), []);
    assert_eq!(
        faults(|file| {
            pumps(3)(file);
            file["vehicles"]["cart"]["positions"]["pump"]["as_found"] = json!("pump-bare");
        }),
        []
    );
}
