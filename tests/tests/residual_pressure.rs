//! Residual pressure by circuit, common practice: drums with cup seals want 8 to 12 psi held, or they suck air; discs
//! stand none where the master cylinder sits above the calipers, and want 2 psi where it does not, as on the pickup.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::key::CheckKey;
use knockon_core::{Assessment, assess};
use knockon_store::{library, sheets};
use knockon_tests::as_found::as_found;

/// The pickup as found, with nothing surveyed, and some parts chosen.
fn with(chosen: &[(&str, &str)]) -> Assessment {
    let sheet = sheets::parse("example", library::example()).expect("the example opens");
    let chosen: Vec<_> = chosen.iter().map(|(place, part)| (*place, Some(*part))).collect();
    assess(&as_found(sheet, "sound", &chosen), "sound", &library::shipped())
}

/// What is done about the pressure held.
fn valves(a: &Assessment) -> BTreeSet<&str> {
    let parts = a.companions.iter().map(|c| c.part.as_str());
    parts.filter(|part| part.starts_with("residual-")).collect()
}

const FRONT_DISCS: (&str, &str) = ("front-brakes", "disc-kit-285");
const REAR_DISCS: (&str, &str) = ("rear-brakes", "rear-disc-kit-280");
const WITH_VALVES: (&str, &str) = ("master-cylinder", "master-tandem-100-kit");
const BARE: (&str, &str) = ("master-cylinder", "master-tandem-100");

#[test]
fn the_disc_circuit_loses_its_valve_and_the_drum_circuit_keeps_it() {
    let valves_of =
        |chosen: &[(&str, &str)]| valves(&with(chosen)).into_iter().map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(valves_of(&[WITH_VALVES, FRONT_DISCS]), ["residual-10-removed", "residual-valve-2"]);
    assert_eq!(valves_of(&[WITH_VALVES, REAR_DISCS]), ["residual-10-removed", "residual-valve-2-rear"]);
    assert_eq!(
        valves_of(&[WITH_VALVES, FRONT_DISCS, REAR_DISCS]),
        ["residual-10-removed", "residual-valve-2", "residual-valve-2-rear"]
    );
    assert!(valves_of(&[WITH_VALVES]).is_empty(), "drums all round, valves behind both ports");
}

/// A bare master cylinder takes the old built-in valve away with the old one.
#[test]
fn a_master_without_valves_brings_one_for_each_drum_circuit() {
    let valves_of =
        |chosen: &[(&str, &str)]| valves(&with(chosen)).into_iter().map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(valves_of(&[BARE]), ["residual-valve-10", "residual-valve-10-rear"]);
    assert_eq!(valves_of(&[BARE, FRONT_DISCS]), ["residual-valve-10-rear", "residual-valve-2"]);
    assert_eq!(
        valves_of(&[BARE, FRONT_DISCS, REAR_DISCS]),
        ["residual-valve-2", "residual-valve-2-rear"],
        "nothing is taken out of ports that hold nothing"
    );
}

/// One valve behind the single outlet holds both circuits: taken out for the discs, the drums behind want one of their own.
#[test]
fn a_single_outlet_loses_the_valve_of_both_circuits() {
    let valves_of =
        |chosen: &[(&str, &str)]| valves(&with(chosen)).into_iter().map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(
        valves_of(&[FRONT_DISCS]),
        ["residual-10-removed-both", "residual-valve-10-rear", "residual-valve-2"]
    );
    assert_eq!(
        valves_of(&[REAR_DISCS]),
        ["residual-10-removed-both", "residual-valve-10", "residual-valve-2-rear"]
    );
}

/// A valve for drums in the line of discs drags them, wherever it sits.
#[test]
fn a_drum_valve_in_the_line_of_discs_does_not_fit() {
    for (place, valve, brakes, joint) in [
        ("front-residual-valve", "residual-valve-10", FRONT_DISCS, "front-residual-in-line"),
        ("rear-residual-valve", "residual-valve-10-rear", REAR_DISCS, "rear-residual-in-line"),
    ] {
        let a = with(&[WITH_VALVES, brakes, (place, valve)]);
        assert!(a.clashes.iter().any(|c| c.key == CheckKey::joint(joint)), "{place}");
        let a = with(&[WITH_VALVES, (place, valve)]);
        assert!(a.clashes.iter().all(|c| c.key != CheckKey::joint(joint)), "{place} with drums");
    }
}

/// Discs on a single circuit: two circuits are advised, in front and behind.
#[test]
fn discs_on_a_single_circuit_advise_two() {
    for discs in [FRONT_DISCS, REAR_DISCS] {
        let advised = |a: &Assessment| a.unmet.iter().any(|u| u.key.to_string().ends_with(":dual-circuit"));
        assert!(advised(&with(&[discs])), "{discs:?}");
        assert!(!advised(&with(&[discs, WITH_VALVES])), "{discs:?}");
    }
}
