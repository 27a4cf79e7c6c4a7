//! Parts found in a library, and laid side by side.

use super::{prints, refused};

const EXAMPLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/furrow-10.json");

#[test]
fn a_port_is_found_with_why_and_with_the_places_of_a_vehicle() {
    let printed =
        prints(&["library", "find", "--sheet", EXAMPLE, "ends", "in", "3/8-24", "inverted", "flare"]);
    assert!(printed.starts_with("Looked for: a port with 3/8-24 inverted flare.\n"), "{printed}");
    assert!(
        printed.contains("brake pipe connection: 45 double (inverted flare), female, 3/8-24"),
        "{printed}"
    );
    assert!(printed.contains("On this vehicle, as the plan leaves it\n"), "{printed}");
    // without a sheet nothing is said of a vehicle
    assert!(!prints(&["library", "find", "3/8-24"]).contains("On this vehicle"));
}

#[test]
fn numbers_are_told_in_the_reader_s_units_and_what_is_not_known_apart() {
    let printed = prints(&["library", "find", "radiator", "height", "under", "470", "mm"]);
    assert!(printed.contains("height 17.91 in"), "{printed}");
    let printed = prints(&["library", "find", "--units", "metric", "radiator height under 18.5 in"]);
    assert!(printed.contains("height 455 mm"), "{printed}");
    let printed = prints(&["library", "find", "carb 200-350 cfm"]);
    assert!(printed.contains("\nNot known of 9 parts"), "{printed}");
    let json: serde_json::Value =
        serde_json::from_str(&prints(&["library", "find", "--json", "carb 200-350 cfm"])).unwrap();
    assert_eq!(
        (json["parts"].as_array().map(Vec::len), json["not_known"].as_array().map(Vec::len)),
        (Some(6), Some(9))
    );
}

#[test]
fn nothing_found_says_what_was_understood() {
    let printed = prints(&["library", "find", "qwertz"]);
    assert!(
        printed.contains("Nothing here is called \"qwertz\"") && printed.contains("No part answers"),
        "{printed}"
    );
}

#[test]
fn a_part_is_told_tried_and_laid_beside_another() {
    let printed = prints(&["library", "part", "alternator-65-three-wire", "--sheet", EXAMPLE]);
    for told in [
        "Ports\n",
        "rated output 65 A",
        "Where it fits on this vehicle\n",
        "Generator (generator): ",
        "takes the place of: ",
    ] {
        assert!(printed.contains(told), "{told}: {printed}");
    }
    let printed =
        prints(&["library", "part", "alternator-65-three-wire", "--beside", "alternator-140-three-wire"]);
    assert!(printed.contains("x rated output: 65 A | 140 A") && printed.contains("= class: "), "{printed}");
    let said = refused(1, &["library", "part", "alternator-65-three-wires"]);
    assert!(said.contains("did you mean \"alternator-65-three-wire\"?"), "{said}");
}
