//! A finding reads numbers of the library, each known by its place, and tells where each comes from.

use serde_json::json;

use super::super::least::Least;
use crate::assessment::Assessment;
use crate::reason::ReasonId;

/// A pump feeds a carburettor, which stands under a bonnet and takes of the circuits; a seal dries out.
fn fuel() -> Least {
    Least::new(json!({
        "classes": {"pump": {}, "carburettor": {}, "reducer": {"free": true}, "seal": {"lasts": {"time": "10 years", "why": "it dries out", "source": "from memory"}}},
        "figures": {"height": {"kind": "length"}, "room": {"kind": "length"}, "step": {"kind": "length"}},
        "needs": {"feed": {"kind": "current"}},
        "pools": {"circuits": {"kind": "count", "margin": "1"}},
        "port_types": {"feed": {"fields": {
            "bore": {"kind": "length", "rule": "equal", "within": "0.2 mm"},
            "end": {"kind": "word", "rule": "equal"}
        }}},
        "limits": {
            "bonnet": {
                "calc": "at-most", "source": "common practice",
                "inputs": {"have": {"sum": [{"class": "carburettor", "figure": "height"}, {"fact": "step", "else": "0 mm"}]}, "most": {"fact": "room"}},
            },
        },
        "parts": {
            "old-pump": {"class": "pump", "ports": {"out": {"type": "feed", "fields": {"bore": "8 mm", "end": "barb"}}}},
            "old-carburettor": {"class": "carburettor", "figures": {"height": "90 mm"}, "ports": {"in": {"type": "feed", "fields": {"bore": "8 mm", "end": "barb"}}}},
            "tall": {"class": "carburettor", "figures": {"height": "130 mm"}, "sets": {"step": "5 mm"}, "takes": {"circuits": "7"},
                     "ports": {"in": {"type": "feed", "fields": {"bore": "10 mm", "end": "barb"}}}},
            "reducer-8-10": {"class": "reducer", "bridges": ["a", "b"], "ports": {
                "a": {"type": "feed", "fields": {"bore": "8 mm", "end": "any"}}, "b": {"type": "feed", "fields": {"bore": "10 mm", "end": "any"}}
            }},
            "old-seal": {"class": "seal"},
        },
        "vehicle": {
            "positions": {
                "pump": {"as_found": "old-pump"},
                "carburettor": {"as_found": "old-carburettor"},
                "seal": {"as_found": "old-seal"},
            },
            "joints": {"feed": {"ends": [{"at": "pump", "port": "out"}, {"at": "carburettor", "port": "in"}]}},
            "facts": {"room": "120 mm"},
            "gives": {"circuits": "4"},
        },
    }))
}

fn read(a: &Assessment, root: ReasonId) -> Vec<String> {
    a.read(root).specs.iter().map(|spec| format!("{spec}: {}", spec.value)).collect()
}

fn of_clash(a: &Assessment, key: &str) -> Vec<String> {
    a.clashes.iter().filter(|c| c.key == key).flat_map(|c| read(a, c.reason)).collect()
}

fn of_companion(a: &Assessment, key: &str) -> Vec<String> {
    a.companions.iter().filter(|c| c.key == key).flat_map(|c| read(a, c.reason)).collect()
}

#[test]
fn a_limit_reads_the_part_what_it_sets_and_the_vehicle_and_stands_on_its_own_source() {
    let a = fuel().convert("carburettor", "tall").assess();
    assert_eq!(
        of_clash(&a, "limit:bonnet"),
        [
            "limits.bonnet: ",
            "parts.tall.figures.height: 130 mm",
            "parts.tall.sets.step: 5 mm",
            "vehicles.cart.facts.room: 120 mm"
        ]
    );
}

#[test]
fn what_is_measured_on_the_vehicle_is_no_number_of_the_library() {
    let least =
        fuel().convert("carburettor", "tall").measured("room", "110 mm").measured("height@tall", "128 mm");
    let a = least.assess();
    assert_eq!(of_clash(&a, "limit:bonnet"), ["limits.bonnet: ", "parts.tall.sets.step: 5 mm"]);
    let clash = a.clashes.iter().find(|c| c.key == "limit:bonnet").unwrap();
    let measured: Vec<String> =
        a.read(clash.reason).measured.iter().map(|(key, value)| format!("{key}: {value}")).collect();
    assert_eq!(measured, ["height@tall: 128 mm", "room: 110 mm"]);
}

#[test]
fn a_joint_reads_the_field_that_differs_at_both_ends_and_what_it_allows_a_bridge_all_of_its_own() {
    let a = fuel().convert("carburettor", "tall").assess();
    assert_eq!(
        of_companion(&a, "bridge:feed:0"),
        [
            "parts.old-pump.ports.out.fields.bore: 8 mm",
            "parts.reducer-8-10.ports.a.fields.bore: 8 mm",
            "parts.reducer-8-10.ports.b.fields.bore: 10 mm",
            "parts.tall.ports.in.fields.bore: 10 mm",
            "port_types.feed.fields.bore.within: 0.2 mm"
        ]
    );
}

#[test]
fn a_pool_reads_what_is_given_what_is_taken_and_what_stays_free() {
    let a = fuel().convert("carburettor", "tall").assess();
    assert_eq!(
        of_clash(&a, "pool:circuits"),
        ["parts.tall.takes.circuits: 7", "pools.circuits.margin: 1", "vehicles.cart.gives.circuits: 4"]
    );
}

#[test]
fn an_age_reads_how_long_the_class_lasts() {
    let mut least = fuel();
    least.sheet.made.insert("seal".to_owned(), "1981".to_owned());
    let a = least.assess();
    assert_eq!(of_companion(&a, "age:seal"), ["classes.seal.lasts: 10 years"]);
    let spec = a.read(a.companions[0].reason).specs[0].clone();
    assert_eq!(
        least.catalogue.source(&spec).map(|source| source.to_string()).as_deref(),
        Some("from memory")
    );
}
