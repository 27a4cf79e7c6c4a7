//! Every companion of the pickup's cured plan, with what in the trade asks for it: common practice. A companion that
//! nothing asks for is an extra; fewer than one in twenty may be.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::{Assessment, assess, sheet::Choice, sheet::Route};
use knockon_store::{library, sheets};

/// What asks for a companion.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Asks {
    /// A line of the pickup's key: see `pickup_key.rs`.
    Key(&'static str),
    /// A consumable of a place or circuit that the plan opens.
    Opened(&'static str),
    /// Work that is done while the place is apart.
    Apart(&'static str),
    /// What the trade's card of the upgrade lists as required or wise: see `cards.rs`.
    Card(&'static str),
    /// What the upgrade itself asks of whoever fits it, on any vehicle.
    Upgrade(&'static str),
    /// A finding of the survey.
    Survey(&'static str),
    /// Nothing asks for it; why it is kept all the same.
    Extra(&'static str),
}

use Asks::{Apart, Card, Extra, Key, Opened, Survey, Upgrade};

const ASKED: &[(&str, Asks)] = &[
    // front discs, dual circuit, booster, proportioning, pipes
    ("residual-valve-2", Key("AK01")),
    ("residual-10-removed", Key("AK02")),
    ("banjo-washer-10", Key("AK03")),
    ("hose-clip-frame", Key("AK03")),
    ("brake-reducer-716-38", Key("AK04")),
    ("furrow-front-hub-bearings", Key("AK06")),
    ("hub-grease-400", Key("AK06")),
    ("hub-seal-front", Key("AK06")),
    ("hub-split-pin-set", Key("AK06")),
    ("rear-studs-12-20", Key("AK07")),
    ("wheel-nuts-half-inch-cone", Key("AK07")),
    ("brake-adapter-716-24", Key("AK08")),
    ("pedal-bracket-two-seat", Key("AK09")),
    ("brake-pedal-pin-40", Key("AK10")),
    ("booster-hose-check", Key("AK11")),
    ("manifold-tapping-3-8", Key("AK12")),
    ("brake-adapter-916-18", Key("AK13")),
    ("brake-adapter-12-20", Key("AK13")),
    ("brake-reservoir-remote", Key("AK14")),
    ("stop-switch-pedal", Key("AK15")),
    ("inline-fuse-5", Card("headlamp relays: the wire of their coils is fused at 5 A")),
    ("bench-bleed-set", Card("dual-circuit master: bled on the bench before it goes in")),
    ("brake-failure-set", Card("dual-circuit master: a failure switch and lamp")),
    ("king-pin-rock", Key("AK65: the king pins measured again with the hubs off")),
    ("furrow-rear-hose", Key("AK16")),
    ("brake-pipe-clip-set", Key("AK16")),
    ("brake-fluid-4-quart", Key("AK16")),
    ("brake-fluid-4-half", Key("AK16")),
    ("brake-fluid-4-quarter", Key("AK16")),
    ("bleed-cap-set", Opened("brakes front and rear: bleed caps")),
    ("rear-wheel-cylinder-100", Apart("brakes front and rear: both rear cylinders")),
    // alternator, harness, gauges
    ("alternator-spacer-118", Key("AK17")),
    ("pulley-17a-76-17", Key("AK18")),
    ("belt-17a-1115", Key("AK19")),
    ("charge-cable-20", Key("AK20")),
    ("charge-link-125", Key("AK20")),
    ("voltmeter-52", Key("AK21")),
    ("ammeter-stud-link", Key("AK21")),
    ("regulator-junction-base", Key("AK22")),
    ("engine-strap-25", Key("AK23")),
    ("battery-cables-35", Key("AK24")),
    ("furrow-battery-tray", Key("AK24")),
    ("battery-hold-down-bar", Key("AK24")),
    ("turn-switch-clamp-7", Key("AK25")),
    ("front-lamps-turn", Key("AK25")),
    ("rear-lamps-combined", Key("AK25")),
    ("flasher-electronic", Key("AK25")),
    ("lamp-gasket-set", Key("AK25: four lamps and their holes")),
    ("lamp-socket-set-loom", Key("AK26")),
    ("grommet-set-loom", Key("AK26")),
    ("harness-label-set", Key("AK26")),
    ("lamp-plug-h4", Key("AK26")),
    ("lamp-aiming-screen", Card("halogen headlamps: aimed before a drive at night")),
    ("sender-tee-1-8", Key("AK28")),
    ("sender-bush-1-2-1-8", Key("AK28")),
    ("warning-lamp-2w", Key("AK67")),
    ("sense-wire-set", Key("AK67")),
    ("alternator-pigtail-2", Key("AK67")),
    ("ignition-switch-four", Key("AK68")),
    ("terminal-set-loom", Opened("charging and harness: terminals")),
    ("loom-sleeve-10m", Opened("charging and harness: sleeve")),
    ("main-link-80", Upgrade("harness of 18 circuits: a main link of 60 to 80 A, no harness brings it")),
    // carburettor, ignition, pump, tank
    ("ignition-feed-2mm2", Key("AK30")),
    ("coil-electronic-08", Key("AK30")),
    ("heat-sink-module", Key("AK30")),
    ("carb-adapter-one-two", Key("AK31")),
    ("carb-gasket-one", Key("AK31")),
    ("carb-gasket-two", Key("AK31")),
    ("carb-studs-65", Key("AK31")),
    ("throttle-cable-42", Key("AK33")),
    ("throttle-bracket-two", Key("AK33")),
    ("return-spring-pair", Key("AK33")),
    ("pedal-stop-bolt", Key("AK33: rods to cable, which wants a stop under the pedal")),
    ("regulator-15-4", Key("AK34")),
    ("choke-stop-clamp", Key("AK36")),
    ("pump-blank-178", Key("AK37")),
    ("pump-gasket-178", Key("AK37")),
    ("relay-feed-10", Key("AK38")),
    ("inertia-switch-20", Key("AK38")),
    ("prefilter-100", Key("AK39")),
    ("fuel-filter-30", Key("AK39")),
    ("pump-isolator-pair", Key("AK39")),
    ("fuel-hose-r9-8", Key("AK39")),
    ("feed-line-r9-8-6", Key("AK39")),
    ("fuel-clip-rolled", Key("AK39")),
    ("fuel-clip-rolled-pair", Key("AK39")),
    ("tank-straps-30", Key("AK40")),
    ("rollover-valve-8", Key("AK40")),
    ("filler-bed-side", Key("AK40")),
    ("filler-hose-51", Key("AK40")),
    ("vent-hose-8", Key("AK40")),
    ("filler-clip-wide", Opened("fuel liquid and vapour: clips")),
    ("spare-carrier-bed-side", Key("AK41")),
    ("filler-hole-blank-60", Key("AK42")),
    ("line-grommet-set", Upgrade("tank between the rails: the feed line run anew, with grommets")),
    ("tank-earth-wire-1", Upgrade("tank between the rails: a tank on rubber has no earth for its sender")),
    ("sender-gasket-5", Extra("no list names it, but a sender put in dry weeps when the tank is full")),
    ("dist-o-ring-29", Opened("distributor: O-ring")),
    ("stud-check-manifold", Apart("carburettor off: stud check")),
    ("furrow-plug-leads", Apart("distributor out: leads")),
    ("furrow-spark-plugs", Apart("distributor out: plugs")),
    // wipers
    ("wiper-switch-two-speed", Key("AK43")),
    ("wiper-link-arm", Key("AK43")),
    ("wiper-wiring-set", Key("AK43")),
    ("vacuum-plug-48", Key("AK43")),
    // gearbox, clutch, shaft
    ("bell-dowel-set", Key("AK44: dowels, where the dial gauge shows over 0.13 mm")),
    ("clutch-disc-10-26", Key("AK46")),
    ("release-bearing-35-flat", Key("AK46")),
    ("furrow-clutch-cover", Key("AK46")),
    ("clutch-master-075", Key("AK47")),
    ("clutch-slave-0875", Key("AK47")),
    ("clutch-line-hose", Key("AK47")),
    ("clutch-pushrod-set", Key("AK47")),
    ("prop-shaft-1237", Key("AK49")),
    ("speedo-gear-b5-20", Key("AK50")),
    ("floor-cover-240", Key("AK51")),
    ("floor-lever-bent-60", Key("AK51")),
    ("column-slot-blank", Key("AK52")),
    ("reverse-lamp-wire-set", Key("AK52")),
    ("gear-oil-gl4-1l", Key("AK53")),
    ("gear-oil-gl4-half", Key("AK53")),
    ("gearbox-breather-vent", Key("AK53")),
    ("gearbox-strap-16", Key("AK53")),
    ("furrow-engine-mount", Key("AK66")),
    ("furrow-rear-main-seal", Key("AK66")),
    ("clutch-bolt-set", Opened("gearbox, clutch, shaft: clutch bolts")),
    ("joint-bolt-set", Opened("gearbox, clutch, shaft: flange bolts")),
    ("speedo-sleeve-seal", Apart("gearbox out: speedometer seal")),
    ("flywheel-skim-job", Apart("gearbox out: flywheel skim")),
    // radiator, fan, heater
    ("radiator-side-brackets", Key("AK54")),
    ("radiator-isolators", Key("AK54")),
    ("coolant-hybrid-20", Key("AK55")),
    ("pressure-cap-large-13", Key("AK55")),
    ("thermo-switch-90", Key("AK56")),
    ("relay-feed-30", Key("AK56")),
    ("fan-hub-bolts-short", Key("AK57")),
    ("heater-hose-16", Key("AK64")),
    ("heater-tap-16", Key("AK64")),
    ("coolant-port-adapter-half-npt-16", Key("AK64")),
    ("demist-duct-set", Key("AK64")),
    ("bulkhead-holes-heater", Key("AK64")),
    ("blower-switch-two-speed", Card("heater: a switch and a fuse of its own")),
    ("sump-gasket-set-f6", Opened("rope seal of AK66: the sump comes down to reach it")),
    ("engine-oil-5", Opened("sump down and oil filter: 4.7 L")),
    ("hose-clip-large", Opened("coolant: clips")),
    ("hose-clip-small", Opened("coolant: clips")),
    ("thermostat-gasket-paper", Opened("coolant: thermostat gasket")),
    ("furrow-thermostat", Apart("radiator out: thermostat")),
    ("furrow-coolant-hoses", Apart("radiator out: hoses")),
    ("recovery-bottle-1-5-litre", Upgrade("aluminium radiator: a bottle where the cap has a return valve")),
    (
        "fan-bracket-rails",
        Key("AK56: the fan's own brackets, out of its box; ties through the fins wear the core"),
    ),
    ("shroud-electric-14", Upgrade("electric fan: a shroud over 70 % of the core")),
    // wheels, belts, lamps, steering
    ("corner-trial-one-wheel", Key("AK60")),
    ("tyre-valve-rubber", Opened("wheels: valves")),
    ("wheel-alignment-shop", Upgrade("front discs and radial tyres: toe set again")),
    ("belt-plate-75", Key("AK61")),
    ("door-gap-brace", Key("AK62: a door gap is braced before the first cut")),
    ("cavity-protection-set", Key("AK62: primer, sealer and wax go with the new metal")),
    ("anchor-inspection-engineer", Upgrade("belts: an engineer's view is advised")),
    ("seat-bolt-plates", Card("belts: the seat mounts stand 8 g, or the seat breaks away")),
    ("furrow-rod-end", Key("AK65")),
    ("steering-split-pin-set", Opened("rod ends of AK65: split pins")),
    // what the survey found where nobody chose
    ("furrow-oil-filter", Survey("oil filter: renew the hoses")),
    ("furrow-battery", Survey("battery: renew")),
    ("furrow-bed", Survey("bed: wood rotten")),
];

fn assessed() -> Assessment {
    let sheet = sheets::parse("example", library::example()).expect("the example opens");
    assess(&sheet, "worked-out", &library::shipped())
}

#[test]
fn every_companion_is_asked_for_and_fewer_than_one_in_twenty_is_an_extra() {
    let a = assessed();
    let asked: BTreeMap<&str, Asks> = ASKED.iter().copied().collect();
    assert_eq!(asked.len(), ASKED.len(), "a part stands twice in the list");
    let unknown: Vec<_> = a.companions.iter().filter(|c| !asked.contains_key(c.part.as_str())).collect();
    assert!(unknown.is_empty(), "nobody has said what asks for these: {unknown:#?}");
    let extra = a.companions.iter().filter(|c| matches!(asked[c.part.as_str()], Extra(_))).count();
    assert!(extra * 20 < a.companions.len(), "{extra} of {}", a.companions.len());
}

/// The same, told strictly: what only the upgrade's general demands ask for counts as an extra too.
#[test]
fn most_companions_stand_in_the_pickup_s_own_lists() {
    let a = assessed();
    let asked: BTreeMap<&str, Asks> = ASKED.iter().copied().collect();
    let loose: Vec<&str> = a
        .companions
        .iter()
        .map(|c| c.part.as_str())
        .filter(|part| !matches!(asked.get(part), Some(Key(_) | Opened(_) | Apart(_) | Survey(_) | Card(_))))
        .collect();
    assert!(loose.len() * 20 < a.companions.len(), "{} of {}: {loose:#?}", loose.len(), a.companions.len());
}

#[test]
fn the_list_holds_nothing_that_is_not_proposed() {
    let a = assessed();
    let found: BTreeSet<&str> = a.companions.iter().map(|c| c.part.as_str()).collect();
    let idle: Vec<_> = ASKED.iter().filter(|(part, _)| !found.contains(part)).collect();
    assert!(idle.is_empty(), "{idle:#?}");
}

/// How many of a part the plan wants in all.
fn count(a: &Assessment, part: &str) -> u32 {
    a.companions.iter().filter(|c| c.part == part).map(|c| c.qty).sum()
}

#[test]
fn the_numbers_are_those_of_the_key() {
    let a = assessed();
    for (part, qty) in [
        ("banjo-washer-10", 4),
        ("hose-clip-frame", 2),
        ("brake-reducer-716-38", 2),
        ("furrow-front-hub-bearings", 2),
        ("hub-seal-front", 2),
        ("hub-split-pin-set", 2),
        ("rear-wheel-cylinder-100", 2),
        ("fuel-hose-r9-8", 2),
        ("heater-hose-16", 2),
        ("coolant-port-adapter-half-npt-16", 2),
        // two three-point belts and a lap belt: six anchors in the floor, two at the shoulder
        ("belt-plate-75", 8),
        ("lamp-plug-h4", 2),
        ("furrow-engine-mount", 2),
        ("furrow-rod-end", 2),
        ("tyre-valve-rubber", 5),
        // 2.4 L in two litres and a half; brakes 1.5 L and clutch 0.15 L in a quart, a half and a quarter; 16.1 L in one drum
        ("gear-oil-gl4-1l", 2),
        ("gear-oil-gl4-half", 1),
        ("brake-fluid-4-quart", 1),
        ("brake-fluid-4-half", 1),
        ("brake-fluid-4-quarter", 1),
        ("coolant-hybrid-20", 1),
    ] {
        assert_eq!(count(&a, part), qty, "{part}");
    }
    let bought = |part: &str| a.buy.iter().filter(|l| l.part == part).map(|l| l.qty).sum::<u32>();
    assert_eq!((bought("wheel-steel-15x6"), bought("tyre-215-75-15")), (5, 5), "four and the spare");
}

/// Sixteen clips on the fuel side: every hose end, every in-line part, the vent, and two wide ones at the filler.
#[test]
fn every_fuel_hose_end_has_its_clip() {
    let a = assessed();
    let clips = count(&a, "fuel-clip-rolled") + 2 * count(&a, "fuel-clip-rolled-pair");
    assert_eq!((clips, count(&a, "filler-clip-wide")), (14, 2));
}

/// Eight on the water side: both hoses are renewed while the radiator is out, so their far ends come off as well.
#[test]
fn every_water_hose_end_that_comes_off_has_its_clip() {
    let a = assessed();
    assert_eq!((count(&a, "hose-clip-large"), count(&a, "hose-clip-small")), (4, 4));
}

/// Rebuilt king pins leave the springs where they are, and one visit to a shop sets the toe, whatever disturbed it.
#[test]
fn nothing_is_asked_for_twice_or_for_a_place_that_stays_shut() {
    let sheet = sheets::parse("example", library::example()).expect("the example opens");
    let a = assess(&sheet, "sound", &library::shipped());
    assert_eq!((count(&a, "spring-u-bolt-12"), count(&a, "wheel-alignment-shop")), (0, 1));
    let mut sheet = sheet;
    let plan = sheet.plans.get_mut("worked-out").expect("the plan");
    for position in ["steering-linkage", "front-springs"] {
        plan.routes.insert(position.to_owned(), Choice { route: Route::Renew, part: None });
    }
    let a = assess(&sheet, "worked-out", &library::shipped());
    assert_eq!((count(&a, "spring-u-bolt-12"), count(&a, "wheel-alignment-shop")), (2, 1));
}
