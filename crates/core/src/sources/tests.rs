//! Each rule of `sources` with its least example.

use serde_json::json;

use super::*;

fn file(json: Json) -> LibraryFile {
    serde_json::from_value(json).unwrap()
}

fn of(file: &LibraryFile, table: SpecTable, id: &str, path: &str) -> Option<String> {
    in_file(file, &Spec::new(table, id, path.to_owned(), String::new())).map(str::to_owned)
}

#[test]
fn what_stands_nearest_to_a_number_goes_before() {
    let mut written = json!({
        "format": 1, "source": "invented", "sources": {"parts": "from memory", "parts.pump.figures.flow": "measured"},
        "parts": {"pump": {
            "name": "Pump", "class": "pump", "source": "common practice",
            "sources": {"ports": "handbook: a", "ports.out.fields.bore": "standard: b"}
        }}
    });
    let bore = "ports.out.fields.bore";
    let mut next = |pointer: &str, word: &str| {
        let file = file(written.clone());
        written.pointer_mut(pointer).unwrap().as_object_mut().unwrap().remove(word).unwrap();
        of(&file, SpecTable::Parts, "pump", bore)
    };
    // taken out one after the other, each leaves what stands further off
    assert_eq!(next("/parts/pump/sources", bore).as_deref(), Some("standard: b"));
    assert_eq!(next("/parts/pump", "sources").as_deref(), Some("handbook: a"));
    assert_eq!(next("/parts/pump", "source").as_deref(), Some("common practice"));
    assert_eq!(next("/sources", "parts").as_deref(), Some("from memory"));
    assert_eq!(next("", "source").as_deref(), Some("invented"));
    let bare = file(written);
    assert_eq!(of(&bare, SpecTable::Parts, "pump", bore), None);
    assert_eq!(of(&bare, SpecTable::Parts, "pump", "figures.flow").as_deref(), Some("measured"));
}

#[test]
fn a_path_holds_for_what_stands_below_it_and_for_nothing_that_only_begins_alike() {
    let file = file(
        json!({"format": 1, "sources": {"parts.pump": "measured", "port_types.fuel.hose": "from memory"}}),
    );
    assert_eq!(of(&file, SpecTable::Parts, "pump", "figures.flow").as_deref(), Some("measured"));
    assert_eq!(of(&file, SpecTable::Parts, "pump-electric", "figures.flow"), None);
    assert_eq!(
        of(&file, SpecTable::PortTypes, "fuel.hose", "fields.bore.within").as_deref(),
        Some("from memory")
    );
    assert_eq!(of(&file, SpecTable::PortTypes, "fuel.barb", "fields.bore.within"), None);
}

fn whole() -> Catalogue {
    let file = file(json!({
        "format": 1,
        "sources": {"vehicles": "invented"},
        "systems": {"s": {"name": "S"}},
        "classes": {"pump": {"name": "Pump", "decided": "owner", "lasts": {"time": "10 years", "source": "from memory"}}},
        "figures": {"flow": {"name": "flow", "kind": "flow"}, "make": {"name": "make", "kind": "word"}},
        "needs": {"feed": {"name": "feed", "kind": "current"}, "relay": {"name": "relay", "kind": "present"}},
        "pools": {"load": {"name": "load", "kind": "current", "margin": "2 A"}},
        "port_types": {"p": {"name": "p", "source": "common practice", "fields": {
            "bore": {"name": "bore", "kind": "length", "rule": "equal", "within": "1 mm"},
            "end": {"name": "end", "kind": "word", "rule": "equal"},
            "thread": {"name": "thread", "kind": "thread", "rule": "equal"}
        }}},
        "parts": {"pump": {
            "name": "Pump", "class": "pump",
            "ports": {"out": {"type": "p", "fields": {"bore": "8 mm", "end": "barb 8", "thread": "3/8-24"}},
                      "in": {"type": "p", "fields": {"bore": "any", "end": "barb", "thread": "unknown: gauge, to 0.1 mm"}}},
            "figures": {"flow": "60 L/h", "make": "M2"}, "needs": {"relay": "present"}, "advises": {"feed": "10 A"},
            "takes": {"load": "4 A"}
        }},
        "vehicles": {"v": {"name": "V", "positions": {"pump": {"name": "Pump", "system": "s", "class": "pump", "as_found": "pump"}},
                           "facts": {"flow": "1 L/h"}}}
    }));
    Catalogue::new(vec![("a.json".to_owned(), file)]).0
}

#[test]
fn a_number_is_what_somebody_has_from_somewhere() {
    let catalogue = whole();
    let mut found = Vec::new();
    each_spec(&catalogue, &catalogue.files[0].1, |spec| found.push(spec.to_string()));
    assert_eq!(
        found,
        [
            "classes.pump.lasts",
            "pools.load.margin",
            "port_types.p.fields.bore.within",
            "parts.pump.ports.out.fields.bore",
            "parts.pump.ports.out.fields.thread",
            "parts.pump.figures.flow",
            "parts.pump.advises.feed",
            "parts.pump.takes.load",
            "vehicles.v.facts.flow",
        ]
    );
}

#[test]
fn numbers_are_counted_by_what_their_sources_are_worth() {
    let sources = whole().sources();
    // in the order of the kinds: one of practice, one from memory, one invented
    assert_eq!(sources.counts, [0, 0, 1, 1, 0, 1]);
    let without: Vec<String> = sources.without.iter().map(|(_, spec)| spec.to_string()).collect();
    assert_eq!(without.len(), 6, "{without:?}");
    assert!(without.contains(&"pools.load.margin".to_owned()));
}

#[test]
fn a_number_is_found_in_the_file_that_has_it() {
    let catalogue = whole();
    let source = |table, id: &str, path: &str| {
        let spec = Spec::new(table, id, path.to_owned(), String::new());
        catalogue.source(&spec).map(|source| source.to_string())
    };
    assert_eq!(source(SpecTable::Vehicles, "v", "facts.flow").as_deref(), Some("invented"));
    assert_eq!(source(SpecTable::PortTypes, "p", "fields.bore.within").as_deref(), Some("common practice"));
    assert_eq!(source(SpecTable::Classes, "pump", "lasts").as_deref(), Some("from memory"));
    assert_eq!(source(SpecTable::Parts, "pump", "figures.flow"), None);
    assert_eq!(source(SpecTable::Vehicles, "v", "facts.lift"), None);
}
