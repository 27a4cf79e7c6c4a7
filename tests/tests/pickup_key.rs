//! The pickup's answer key, common practice of the trade: what the twenty upgrades must drag in, what they make
//! surplus, what does not fit. The engine gets ports, pools, needs and limits only; the list stands here alone.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::key::CheckKey;
use knockon_core::showing::Measure;
use knockon_core::{Assessment, assess, explain};
use knockon_store::{library, sheets};

fn assessed(plan: &str) -> Assessment {
    let sheet = sheets::parse("example", library::example()).expect("the example opens");
    assess(&sheet, plan, &library::shipped())
}

/// Part ids a plan ends with: companions and whatever sits in a position.
fn present(a: &Assessment) -> BTreeSet<String> {
    let fitted = a.positions.iter().filter_map(|p| p.fitted.as_ref().map(|f| f.0.clone()));
    a.companions.iter().map(|c| c.part.clone()).chain(fitted).collect()
}

const MUST: &[(&str, &[&str])] = &[
    ("AK01 2 psi residual valve", &["residual-valve-2"]),
    ("AK02 built-in valve out", &["residual-10-removed"]),
    ("AK03 caliper hoses and washers", &["caliper-hose-380", "banjo-washer-10"]),
    ("AK04 adapter from the old front pipes to the hoses", &["brake-reducer-716-38"]),
    ("AK05 wheels over the caliper", &["wheel-steel-15x6"]),
    (
        "AK06 hub bearings, seals, pins, grease",
        &["furrow-front-hub-bearings", "hub-seal-front", "hub-split-pin-set", "hub-grease-400"],
    ),
    ("AK07 studs and nuts of one size", &["rear-studs-12-20", "wheel-nuts-half-inch-cone"]),
    ("AK08 proportioning and adapters", &["proportioning-valve-adjustable", "brake-adapter-716-24"]),
    ("AK09 pedal bracket", &["pedal-bracket-two-seat"]),
    ("AK10 pedal pin at 4.0:1", &["brake-pedal-pin-40"]),
    ("AK11 booster hose with check valve", &["booster-hose-check"]),
    ("AK12 manifold tapping", &["manifold-tapping-3-8"]),
    ("AK13 port adapters", &["brake-adapter-916-18", "brake-adapter-12-20"]),
    ("AK14 remote reservoir", &["brake-reservoir-remote"]),
    ("AK15 mechanical stop-lamp switch", &["stop-switch-pedal"]),
    ("AK16 rear hose, clips, fluid", &["furrow-rear-hose", "brake-pipe-clip-set", "brake-fluid-4-half"]),
    ("AK17 alternator spacer", &["alternator-spacer-118"]),
    ("AK18 wide pulley", &["pulley-17a-76-17"]),
    ("AK19 belt of the new length", &["belt-17a-1115"]),
    ("AK20 charge wire and link", &["charge-cable-20", "charge-link-125"]),
    ("AK21 voltmeter, ammeter joined", &["voltmeter-52", "ammeter-stud-link"]),
    ("AK22 regulator base as junction", &["regulator-junction-base"]),
    ("AK23 engine strap", &["engine-strap-25"]),
    (
        "AK24 battery cables, tray, hold-down",
        &["battery-cables-35", "furrow-battery-tray", "battery-hold-down-bar"],
    ),
    (
        "AK25 turn signals",
        &["turn-switch-clamp-7", "front-lamps-turn", "rear-lamps-combined", "flasher-electronic"],
    ),
    (
        "AK26 sockets, grommets, plugs, labels",
        &["lamp-socket-set-loom", "grommet-set-loom", "harness-label-set", "lamp-plug-h4"],
    ),
    ("AK27 matched fuel sender", &["sender-5-240-33"]),
    ("AK28 sender fittings", &["sender-tee-1-8", "sender-bush-1-2-1-8"]),
    ("AK29 electronic distributor", &["distributor-electronic-f6"]),
    ("AK30 coil, feed, heat sink", &["coil-electronic-08", "ignition-feed-2mm2", "heat-sink-module"]),
    ("AK31 carburettor adapter", &["carb-adapter-one-two", "carb-gasket-one", "carb-studs-65"]),
    ("AK32 low air cleaner", &["cleaner-low-40"]),
    (
        "AK33 throttle cable, bracket, springs",
        &["throttle-cable-42", "throttle-bracket-two", "return-spring-pair"],
    ),
    ("AK34 pressure regulator", &["regulator-15-4"]),
    ("AK35 ported line", &["advance-hose-48"]),
    ("AK36 choke stop", &["choke-stop-clamp"]),
    ("AK37 blank plate and gasket", &["pump-blank-178", "pump-gasket-178"]),
    ("AK38 relay and inertia switch", &["relay-feed-10", "inertia-switch-20"]),
    (
        "AK39 filters, isolators, hose, clips",
        &["prefilter-100", "fuel-filter-30", "pump-isolator-pair", "fuel-hose-r9-8", "fuel-clip-rolled"],
    ),
    (
        "AK40 straps, filler, vent",
        &["tank-straps-30", "rollover-valve-8", "filler-bed-side", "filler-hose-51", "vent-hose-8"],
    ),
    ("AK41 spare carrier", &["spare-carrier-bed-side"]),
    ("AK42 filler hole blank", &["filler-hole-blank-60"]),
    (
        "AK43 electric wipers",
        &[
            "wiper-electric-kit",
            "wiper-switch-two-speed",
            "wiper-link-arm",
            "wiper-wiring-set",
            "vacuum-plug-48",
        ],
    ),
    ("AK44 bell with dowels", &["bell-f6a-b5"]),
    ("AK45 pilot bush", &["pilot-bush-278-150"]),
    ("AK46 clutch disc", &["clutch-disc-10-26"]),
    (
        "AK47 hydraulic clutch",
        &["clutch-master-075", "clutch-slave-0875", "clutch-line-hose", "clutch-pushrod-set"],
    ),
    ("AK48 crossmember", &["crossmember-92"]),
    ("AK49 propeller shaft", &["prop-shaft-1237"]),
    ("AK50 speedometer gear", &["speedo-gear-b5-20"]),
    ("AK51 floor cover and bent lever", &["floor-cover-240", "floor-lever-bent-60"]),
    ("AK52 column slot, reverse lamp", &["column-slot-blank", "reverse-lamp-wire-set"]),
    ("AK53 gear oil, breather, strap", &["gear-oil-gl4-1l", "gearbox-breather-vent", "gearbox-strap-16"]),
    ("AK54 radiator brackets", &["radiator-side-brackets", "radiator-isolators"]),
    ("AK55 coolant and cap", &["coolant-hybrid-20", "pressure-cap-large-13"]),
    ("AK56 slim fan and its wiring", &["fan-electric-14-slim", "thermo-switch-90", "relay-feed-30"]),
    ("AK57 short hub bolts", &["fan-hub-bolts-short"]),
    ("AK58 tyres of load index 100", &["tyre-215-75-15"]),
    ("AK60 trial at one corner", &["corner-trial-one-wheel"]),
    ("AK61 belt plates", &["belt-plate-75"]),
    ("AK62 cab corners first", &["cab-corners-repaired"]),
    ("AK63 headlamp relays", &["headlamp-relay-harness"]),
    (
        "AK64 heater hoses, tap, adapters, ducts",
        &["heater-hose-16", "heater-tap-16", "coolant-port-adapter-half-npt-16", "demist-duct-set"],
    ),
    ("AK65 rod ends", &["furrow-rod-end"]),
    ("AK66 rear seal, mounts", &["furrow-rear-main-seal", "furrow-engine-mount"]),
    (
        "AK67 warning lamp, sense wire, pigtail",
        &["warning-lamp-2w", "sense-wire-set", "alternator-pigtail-2"],
    ),
    ("AK68 ignition switch with four posts", &["ignition-switch-four"]),
];

#[test]
fn every_must_of_the_key_is_deduced() {
    let found = present(&assessed("worked-out"));
    let missing: Vec<_> = MUST
        .iter()
        .flat_map(|(item, parts)| parts.iter().map(move |p| (*item, *p)))
        .filter(|(_, part)| !found.contains(*part))
        .collect();
    assert!(missing.is_empty(), "missing: {missing:#?}");
}

#[test]
fn the_cured_plan_has_no_clash() {
    let a = assessed("worked-out");
    let clashes: Vec<_> = a.clashes.iter().map(|c| explain::because(&a, c.reason, Measure::Metric)).collect();
    assert!(clashes.is_empty(), "{clashes:#?}");
    assert!(a.problems.is_empty(), "{:?}", a.problems);
}

/// Clashes of the owner's first wishes, each with the figure the trade gives for it.
#[test]
fn the_first_wishes_clash_with_the_numbers_of_the_key() {
    let a = assessed("wishes");
    let all: Vec<String> =
        a.clashes.iter().map(|c| explain::because(&a, c.reason, Measure::Metric).join(" | ")).collect();
    for (item, wanted) in [
        ("AX2 bonnet: 220 wanted, 207 there, 7 left of 20", "leaves 7 mm, where 20 mm"),
        (
            "AX5 excitation: 1,303 rotor rpm, 829 crank rpm needed",
            "1303 rpm, it excites at 1800 rpm, which needs 829",
        ),
        ("AX8 tyre load: 664 against 680", "divided by 1.10), half the axle rating is 681"),
        ("AX10 fan depth: 5 left, 12 wanted", "leaves 5 mm, where 12 mm"),
    ] {
        assert!(all.iter().any(|text| text.contains(wanted)), "{item} not in {all:#?}");
    }
    for (item, key) in [
        ("AX1 ported signal only", CheckKey::joint("carb-spark-signal")),
        ("AX6 idle balance", CheckKey::limit("idle-balance")),
    ] {
        assert!(a.clashes.iter().any(|c| c.key == key), "{item}");
    }
    // each of them names something the owner can choose to clear it
    let limits = ["alternator-excitation", "tyre-load-rear"].map(CheckKey::limit);
    for key in ["bonnet-height", "fan-space"].map(CheckKey::pool).into_iter().chain(limits) {
        let clash = a.clashes.iter().find(|c| c.key == key).expect("a clash of the key");
        assert!(clash.remedies.iter().any(|r| r.choice.is_some()), "{key}");
    }
}

/// What the key takes off, line by line: position and the part that came out of it.
const SURPLUS: &[(&str, &[(&str, &str)])] = &[
    (
        "AS01 dynamo, regulator, pulley, wide belt",
        &[
            ("generator", "furrow-dynamo"),
            ("regulator", "furrow-regulator"),
            ("generator-pulley", "furrow-generator-pulley"),
            ("drive-belt", "furrow-drive-belt"),
        ],
    ),
    (
        "AS02 mechanical pump, sediment bowl",
        &[("fuel-pump", "furrow-fuel-pump"), ("fuel-filter", "furrow-sediment-bowl")],
    ),
    ("AS03 vacuum wiper motor", &[("wiper-motor", "furrow-wiper-vacuum")]),
    (
        "AS04 one-barrel carburettor, oil-bath cleaner",
        &[("carburettor", "furrow-carburettor"), ("air-cleaner", "furrow-air-cleaner")],
    ),
    (
        "AS05 distributor, points, ballast",
        &[
            ("distributor", "furrow-distributor"),
            ("ignition-trigger", "furrow-points"),
            ("ballast", "furrow-ballast"),
        ],
    ),
    (
        "AS06 three-speed box, column shift, cross shaft and rods",
        &[
            ("gearbox", "furrow-gearbox"),
            ("gear-shift", "furrow-column-shift"),
            ("clutch-linkage", "furrow-clutch-rods"),
        ],
    ),
    ("AS07 front drums with backplates and cylinders", &[("front-brakes", "furrow-front-drums")]),
    (
        "AS08 single master, stop switch",
        &[("master-cylinder", "furrow-master-single"), ("stop-switch", "furrow-stop-switch")],
    ),
    ("AS09 wheels, bias tyres", &[("wheels", "furrow-wheels"), ("tyres", "furrow-tyres")]),
    ("AS10 cab tank and filler", &[("tank", "furrow-tank"), ("filler", "furrow-filler")]),
    (
        "AS11 ammeter, glass fuses",
        &[("charge-indicator", "furrow-ammeter"), ("fuse-block", "furrow-fuse-block")],
    ),
    ("AS12 brass radiator, fan", &[("radiator", "furrow-radiator"), ("fan", "furrow-fan")]),
    ("AS13 shaft of 1,422 mm", &[("prop-shaft", "furrow-prop-shaft")]),
    ("AS14 studs 7/16", &[("rear-studs", "furrow-rear-studs")]),
];

#[test]
fn what_has_lost_its_place_goes_to_the_shelf() {
    let a = assessed("worked-out");
    let surplus: BTreeSet<(&str, &str)> =
        a.surplus.iter().map(|s| (s.position.as_str(), s.part.as_str())).collect();
    let missing: Vec<_> = SURPLUS
        .iter()
        .flat_map(|(item, parts)| parts.iter().map(move |p| (*item, *p)))
        .filter(|(_, part)| !surplus.contains(part))
        .collect();
    assert!(missing.is_empty(), "missing: {missing:#?}");
    // nobody chose to take these off
    let lost: BTreeSet<&str> = a.surplus.iter().filter(|s| s.lost_job).map(|s| s.position.as_str()).collect();
    assert_eq!(lost, BTreeSet::from(["ignition-trigger", "regulator"]));
    // the module of the first wish is never bought
    assert!(!a.buy.iter().any(|l| l.part.starts_with("module-")), "the module is bought");
}

/// Every finding tells its reason, and the same input gives the same output.
#[test]
fn reasons_and_determinism() {
    for plan in ["sound", "wishes", "worked-out"] {
        let a = assessed(plan);
        for companion in &a.companions {
            assert!(!explain::because(&a, companion.reason, Measure::Metric).is_empty(), "{}", companion.key);
        }
        assert_eq!(a, assessed(plan));
    }
}

/// Marking in hand never adds a companion; taking a choice back takes away exactly what it brought.
#[test]
fn in_hand_and_change_of_mind() {
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    let catalogue = library::shipped();
    let before = assess(&sheet, "worked-out", &catalogue);
    for companion in &before.companions {
        sheet.lines.entry(companion.part.clone()).or_default().state = knockon_core::sheet::LineState::InHand;
    }
    let after = assess(&sheet, "worked-out", &catalogue);
    let keys = |a: &Assessment| a.companions.iter().map(|c| c.key.clone()).collect::<BTreeSet<_>>();
    assert_eq!(keys(&before), keys(&after));
    assert!(after.totals.money.to_come < before.totals.money.to_come);
    let plan = sheet.plans.get_mut("worked-out").expect("the plan");
    let gearbox = plan.routes.remove("gearbox").expect("a gearbox choice");
    let without = assess(&sheet, "worked-out", &catalogue);
    assert!(!present(&without).contains("prop-shaft-1237"), "the custom shaft is an orphan");
    sheet.plans.get_mut("worked-out").expect("the plan").routes.insert("gearbox".to_owned(), gearbox);
    assert_eq!(after, assess(&sheet, "worked-out", &catalogue));
}
