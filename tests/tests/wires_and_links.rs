//! Links and fuses against the wire they guard and the current they carry. Wire rating and the most its fuse may be: a
//! table of the trade for bundled copper, common practice. A charge link is 1.1 times the alternator at least, for an
//! alternator limits itself.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

use knockon_core::{Assessment, Catalogue, assess};
use knockon_store::{library, sheets};
use knockon_tests::as_found::as_found;

/// Copper in mm2, and the largest link in A where the run is free.
const LINKS: [(f64, f64); 4] = [(8.0, 50.0), (13.0, 80.0), (20.0, 125.0), (32.0, 175.0)];
/// Copper in mm2, and the largest fuse in A.
const FUSES: [(f64, f64); 6] =
    [(1.0, 10.0), (2.0, 15.0), (3.0, 25.0), (5.0, 30.0), (8.0, 50.0), (13.0, 70.0)];

fn with(library: &Catalogue, place: &str, part: &str) -> Assessment {
    let sheet = sheets::parse("example", library::example()).expect("the example opens");
    assess(&as_found(sheet, "sound", &[(place, Some(part))]), "sound", library)
}

/// The number before a unit in a text.
fn number(text: &str, unit: &str) -> Option<f64> {
    let before = &text[..text.find(&format!(" {unit}"))?];
    before.rsplit([' ', ',']).next()?.parse().ok()
}

/// The parts of a class: id and name.
fn of_class(library: &Catalogue, class: &str) -> Vec<(String, String)> {
    let all = library.parts.ids().filter(|id| library.parts[*id].part.class == class);
    all.map(|id| (library.part_names.id(id).to_owned(), library.parts[id].part.name.clone())).collect()
}

#[test]
fn every_alternator_gets_a_link_of_a_tenth_more_and_a_cable_that_stands_it() {
    let library = library::shipped();
    let mut seen = 0;
    for (id, name) in
        of_class(&library, "generator").into_iter().filter(|(_, name)| name.starts_with("Alternator"))
    {
        let rated = number(&name, "A").expect("its rating stands in its name");
        let a = with(&library, "generator", &id);
        let fitted = |place: &str| a.positions.iter().find(|p| p.id == place).and_then(|p| p.fitted.clone());
        let (_, cable) = fitted("charge-cable").expect("a charge cable");
        let area = number(&cable, "mm2").expect("its copper stands in its name");
        let Some(link) = a.companions.iter().find(|c| c.part.starts_with("charge-link-")) else {
            assert!(rated < 40.0, "{name} on {cable} has no link");
            continue;
        };
        let link = number(&link.name, "A").expect("its rating stands in its name");
        assert!(link >= 1.1 * rated, "{name}: a link of {link} A blows when it is hot");
        let most = LINKS.iter().find(|(copper, _)| (*copper - area).abs() < 0.1).map(|(_, most)| *most);
        assert!(most.is_some_and(|most| link <= most), "{name}: {cable} burns before its link of {link} A");
        seen += 1;
    }
    assert!(seen >= 4, "{seen} alternators");
}

#[test]
fn every_fused_wire_stands_its_fuse_and_every_electric_fan_has_one_of_its_size() {
    let library = library::shipped();
    for (id, name) in of_class(&library, "relay-feed-kit") {
        let fuse = name
            .find(" A fuse")
            .map(|at| &name[..at])
            .and_then(|s| s.rsplit(' ').next()?.parse::<f64>().ok());
        let (fuse, area) = (fuse.expect("a fuse"), number(&name, "mm2").expect("copper"));
        let most = FUSES.iter().find(|(copper, _)| (*copper - area).abs() < 0.1).map(|(_, most)| *most);
        assert!(most.is_some_and(|most| fuse <= most), "{id}: {fuse} A on {area} mm2");
    }
    // common practice: 12 in 20 A and 3 mm2, 14 in 30 A and 5 mm2, 16 in 40 A and 8 mm2
    let mut seen = 0;
    for (id, name) in
        of_class(&library, "fan").into_iter().filter(|(_, name)| name.starts_with("Electric fan"))
    {
        let wanted = match number(&name, "in") {
            Some(12.0) => "relay-feed-20",
            Some(14.0) => "relay-feed-30",
            Some(16.0) => "relay-feed-40",
            other => panic!("{id}: {other:?}"),
        };
        let a = with(&library, "fan", &id);
        let feeds: Vec<&str> =
            a.companions.iter().map(|c| c.part.as_str()).filter(|p| p.starts_with("relay-feed-")).collect();
        assert_eq!(feeds, [wanted], "{id}");
        seen += 1;
    }
    assert!(seen >= 4, "{seen} fans");
}

/// A pump at 60 psi feeds a crash fire: an inertia switch, and a relay that drops it when the engine stops.
#[test]
fn a_high_pressure_pump_wants_an_inertia_switch_and_a_relay_that_knows_the_engine_turns() {
    let a = with(&library::shipped(), "fuel-pump", "pump-electric-injection");
    for part in ["inertia-switch-20", "pump-stop-relay"] {
        assert!(a.companions.iter().any(|c| c.part == part), "{part}");
    }
    let a = with(&library::shipped(), "fuel-pump", "pump-electric-4-7");
    let stops =
        a.companions.iter().filter(|c| ["inertia-switch-20", "pump-stop-relay"].contains(&c.part.as_str()));
    assert_eq!(stops.count(), 1, "at low pressure one of the two does");
}
