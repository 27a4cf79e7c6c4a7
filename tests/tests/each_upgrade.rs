//! Each of the pickup's twenty upgrades alone, on the plan that renews what the survey condemned: what its card says must go
//! with it is there, is proposed, or is what would clear a clash; and nothing comes from a system that it does not touch.
//! Common practice. A renewal in kind gives way to the upgrade, as it does at the bench.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::sheet::{Choice, Route};
use knockon_core::{Assessment, Sheet, assess};
use knockon_store::{library, sheets};

/// An upgrade: what is chosen, what must come with it, which clashes stay, which systems it touches.
struct Upgrade {
    name: &'static str,
    chosen: &'static [(&'static str, &'static str)],
    must: &'static [&'static str],
    clashes: &'static [&'static str],
    systems: &'static [&'static str],
}

const UPGRADES: &[Upgrade] = &[
    Upgrade {
        name: "UA1 front discs",
        chosen: &[("front-brakes", "disc-kit-285")],
        must: &[
            "residual-valve-2",
            "residual-10-removed-both",
            "residual-valve-10-rear",
            "caliper-hose-380",
            "banjo-washer-10",
            "hose-clip-frame",
            "brake-reducer-716-38",
            "king-pin-rock",
            "hub-seal-front",
            "hub-split-pin-set",
            "hub-grease-400",
            "rear-studs-12-20",
            "wheel-nuts-half-inch-cone",
            "proportioning-valve-adjustable",
            "brake-fluid-4-half",
            "wheel-steel-15x6",
            "wheel-alignment-shop",
        ],
        clashes: &["limit:wheel-over-caliper"],
        systems: &["brakes", "wheels"],
    },
    Upgrade {
        name: "UA2 dual-circuit master",
        chosen: &[("master-cylinder", "master-tandem-100-kit")],
        must: &[
            "pedal-bracket-two-seat",
            "brake-reservoir-remote",
            "stop-switch-pedal",
            "bench-bleed-set",
            "brake-failure-set",
            "pipes-cuni-dual",
            "brake-adapter-12-20",
            "brake-fluid-4-half",
        ],
        clashes: &[],
        systems: &["brakes"],
    },
    Upgrade {
        name: "UA3 under-floor booster, with its master",
        chosen: &[("master-cylinder", "master-tandem-100-kit"), ("booster", "booster-178-double")],
        must: &[
            "booster-hose-check",
            "manifold-tapping-3-8",
            "brake-pedal-pin-40",
            "pedal-bracket-two-seat",
            "drum-kit-12",
        ],
        // 11 N too much with the drums as found: larger drums or discs cost more than the booster, so the owner decides
        clashes: &["limit:pedal-force"],
        systems: &["brakes", "fuel"],
    },
    Upgrade {
        name: "UA4 proportioning",
        chosen: &[("rear-proportioning-valve", "proportioning-valve-adjustable")],
        must: &["brake-adapter-716-24", "brake-fluid-4-half"],
        clashes: &[],
        systems: &["brakes"],
    },
    Upgrade {
        name: "UA5 new pipes",
        chosen: &[("brake-pipes", "pipes-cuni-dual")],
        must: &[
            "brake-pipe-clip-set",
            "brake-fluid-4-half",
            "brake-reservoir-remote",
            "pedal-bracket-two-seat",
        ],
        clashes: &[],
        systems: &["brakes"],
    },
    Upgrade {
        name: "UA6 alternator, 65 A, single-wire",
        chosen: &[("generator", "alternator-65-one-wire-kit")],
        must: &[
            "alternator-spacer-118",
            "pulley-17a-76-17",
            "belt-17a-1115",
            "charge-cable-13",
            "charge-link-80",
            "voltmeter-52",
            "ammeter-stud-link",
            "regulator-junction-base",
            "engine-strap-25",
        ],
        clashes: &["limit:alternator-excitation"],
        systems: &["charging", "wiring"],
    },
    Upgrade {
        name: "UA6 the key's choice, 100 A, three-wire",
        chosen: &[("generator", "alternator-100-three-wire")],
        must: &[
            "charge-cable-20",
            "charge-link-125",
            "warning-lamp-2w",
            "sense-wire-set",
            "alternator-pigtail-2",
            "voltmeter-52",
            "ammeter-stud-link",
        ],
        clashes: &[],
        systems: &["charging", "wiring"],
    },
    Upgrade {
        name: "UA7 universal harness",
        chosen: &[("harness", "harness-18")],
        must: &[
            "fuse-block-18",
            "ignition-switch-four",
            "battery-cables-35",
            "battery-hold-down-bar",
            "engine-strap-25",
            "turn-switch-clamp-7",
            "flasher-electronic",
            "lamp-socket-set-loom",
            "lamp-plug-h4",
            "grommet-set-loom",
            "harness-label-set",
            "terminal-set-loom",
            "main-link-80",
            "voltmeter-52",
        ],
        clashes: &[],
        systems: &["wiring", "charging", "ignition"],
    },
    Upgrade {
        name: "UA8 gauges",
        chosen: &[("engine-gauges", "gauge-set-three")],
        must: &[
            "sender-tee-1-8",
            "sender-bush-1-2-1-8",
            "sender-6-240-33",
            "fuel-gauge-240-33",
            "sender-gasket-6",
        ],
        clashes: &[],
        systems: &["wiring", "fuel"],
    },
    Upgrade {
        name: "UA9 two-barrel carburettor",
        chosen: &[("carburettor", "two-barrel-kit")],
        must: &[
            "carb-adapter-one-two",
            "carb-gasket-one",
            "carb-gasket-two",
            "carb-studs-65",
            "regulator-15-4",
            "throttle-cable-42",
            "throttle-bracket-two",
            "return-spring-pair",
            "pedal-stop-bolt",
            "choke-stop-clamp",
            "advance-hose-48",
            "fuel-hose-r9-8",
            "line-filter-30",
            "distributor-electronic-f6",
            "coil-electronic-08",
            "ignition-feed-2mm2",
            "cleaner-low-40",
        ],
        clashes: &[],
        systems: &["fuel", "ignition"],
    },
    Upgrade {
        name: "UA10 module in the old distributor",
        chosen: &[("ignition-trigger", "module-f6")],
        must: &["cap-and-rotor-f6", "ignition-tap-wire"],
        clashes: &[],
        systems: &["ignition"],
    },
    Upgrade {
        name: "UA11 electric pump",
        chosen: &[("fuel-pump", "pump-electric-4-7")],
        must: &[
            "pump-blank-178",
            "pump-gasket-178",
            "relay-feed-10",
            "inertia-switch-20",
            "prefilter-100",
            "line-filter-30",
            "pump-isolator-pair",
            "regulator-15-4",
            "fuel-hose-r9-8",
            "fuel-clip-rolled-pair",
            "wiper-electric-bare",
            "vacuum-plug-48",
        ],
        clashes: &[],
        systems: &["fuel", "wiring"],
    },
    Upgrade {
        name: "UA12 tank between the rails",
        chosen: &[("tank", "tank-rails-68")],
        must: &[
            "tank-straps-30",
            "rollover-valve-8",
            "filler-bed-side",
            "filler-hose-51",
            "vent-hose-8",
            "filler-clip-wide",
            "filler-hole-blank-60",
            "tank-earth-wire-1",
            "spare-carrier-bed-side",
            "sender-5-0-30",
            "sender-gasket-5",
            "line-grommet-set",
            "feed-line-r9-8-6",
            "relay-feed-10",
            "inertia-switch-20",
        ],
        clashes: &[],
        systems: &["fuel", "body", "wiring"],
    },
    Upgrade {
        name: "UA13 electric wipers",
        chosen: &[("wiper-motor", "wiper-electric-kit")],
        must: &[
            "wiper-switch-two-speed",
            "wiper-link-arm",
            "wiper-wiring-set",
            "vacuum-plug-48",
            "vacuum-cap-pump",
        ],
        clashes: &[],
        systems: &["wiring", "fuel"],
    },
    Upgrade {
        name: "UA14 five-speed",
        chosen: &[("gearbox", "five-speed-kit-f6a")],
        must: &[
            "bell-f6a-b5",
            "pilot-bush-278-150",
            "clutch-disc-10-26",
            "release-bearing-35-flat",
            "clutch-bolt-set",
            "flywheel-skim-job",
            "clutch-master-075",
            "clutch-slave-0875",
            "clutch-line-hose",
            "clutch-pushrod-set",
            "crossmember-92",
            "gearbox-strap-16",
            "prop-shaft-1237",
            "joint-bolt-set",
            "speedo-gear-b5-20",
            "speedo-sleeve-seal",
            "floor-cover-240",
            "floor-lever-bent-60",
            "column-slot-blank",
            "reverse-lamp-wire-set",
            "gear-oil-gl4-1l",
            "gearbox-breather-vent",
            "bell-dowel-set",
            "furrow-rear-main-seal",
            "furrow-engine-mount",
        ],
        clashes: &[],
        systems: &["transmission", "driveline", "engine", "body", "brakes"],
    },
    Upgrade {
        name: "UA15 aluminium radiator",
        chosen: &[("radiator", "radiator-aluminium-two-row")],
        must: &[
            "radiator-side-brackets",
            "radiator-isolators",
            "pressure-cap-large-13",
            "recovery-bottle-1-5-litre",
            "coolant-hybrid-5",
            "coolant-hybrid-1",
            "thermostat-gasket-paper",
            "furrow-thermostat",
            "furrow-coolant-hoses",
            "hose-clip-large",
            "shroud-belt-18",
        ],
        clashes: &[],
        systems: &["cooling", "charging"],
    },
    Upgrade {
        name: "UA16 electric fan",
        chosen: &[("fan", "fan-electric-14-slim")],
        must: &[
            "fan-bracket-rails",
            "fan-hub-bolts-short",
            // a switch that screws in asks for an adapter in the hose, and costs more with it than the probe
            "thermo-switch-probe",
            "relay-feed-30",
            "shroud-electric-14",
        ],
        // a dynamo stands in the way until the owner gives it up
        clashes: &["need:fan:fan-electric-14-slim:idle-charging"],
        systems: &["cooling", "wiring", "charging"],
    },
    Upgrade {
        name: "UA17 wheels and radials",
        chosen: &[("wheels", "wheel-steel-15x6"), ("tyres", "tyre-215-75-15")],
        must: &["tyre-valve-rubber", "corner-trial-one-wheel", "wheel-alignment-shop"],
        clashes: &[],
        systems: &["wheels", "steering"],
    },
    Upgrade {
        name: "UA18 belts",
        chosen: &[("seat-belts", "belts-three-point-two-lap-one")],
        must: &[
            "belt-plate-75",
            "seat-bolt-plates",
            "anchor-inspection-engineer",
            "cab-corners-repaired",
            "door-gap-brace",
            "cavity-protection-set",
        ],
        clashes: &[],
        systems: &["cab", "body"],
    },
    Upgrade {
        name: "UA19 halogen headlamps and relays",
        chosen: &[("headlamps", "headlamp-h4"), ("headlamp-relays", "headlamp-relay-harness")],
        must: &["lamp-plug-h4", "headlamp-relay-harness"],
        clashes: &[],
        systems: &["wiring"],
    },
    Upgrade {
        name: "UA20 heater",
        chosen: &[("heater", "heater-fresh-air")],
        must: &[
            "heater-hose-16",
            "heater-tap-16",
            "coolant-port-adapter-half-npt-16",
            "bulkhead-holes-heater",
            "blower-switch-two-speed",
            "demist-duct-set",
            "hose-clip-small",
            "coolant-hybrid-20",
        ],
        clashes: &[],
        systems: &["cab", "cooling"],
    },
];

fn assessed(sheet: &Sheet) -> Assessment {
    assess(sheet, "sound", &library::shipped())
}

/// What the plan ends with, and what it says would clear its clashes.
fn spoken_of(a: &Assessment) -> BTreeSet<String> {
    let fitted = a.positions.iter().filter_map(|p| p.fitted.as_ref().map(|f| f.0.clone()));
    let cures = a.clashes.iter().flat_map(|c| &c.remedies).filter_map(|r| r.choice.as_ref());
    let boxed = a.buy.iter().map(|l| l.part.clone());
    let companions = a.companions.iter().map(|c| c.part.clone());
    companions.chain(fitted).chain(boxed).chain(cures.map(|(_, part)| part.clone())).collect()
}

/// The base plan without belts and the cab corners that they ask for, so that each upgrade stands alone.
fn base() -> Sheet {
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
    for place in ["seat-belts", "cab-corners"] {
        routes.remove(place);
    }
    sheet
}

/// The upgrade chosen; each renewal that stands in its way is given up, one round after the other. Then what does not fit
/// at a place that only the owner decides is cured as the first remedy says: a cure is read with what it brings.
fn with(upgrade: &Upgrade) -> Sheet {
    let mut sheet = base();
    let put = |sheet: &mut Sheet, place: &str, choice: Choice| {
        sheet.plans.get_mut("sound").expect("the plan").routes.insert(place.to_owned(), choice);
    };
    for (place, part) in upgrade.chosen {
        put(&mut sheet, place, Choice { route: Route::Convert, part: Some((*part).to_owned()) });
    }
    for _ in 0..8 {
        let a = assessed(&sheet);
        let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
        let before = routes.len();
        for place in a.clashes.iter().flat_map(|c| &c.positions) {
            if !upgrade.chosen.iter().any(|(own, _)| own == place) {
                routes.remove(place);
            }
        }
        if routes.len() == before {
            break;
        }
    }
    let mut cured: Vec<String> = Vec::new();
    for _ in 0..8 {
        let a = assessed(&sheet);
        let unasked = a.clashes.iter().filter(|c| !upgrade.clashes.contains(&c.key.to_string().as_str()));
        let cures = unasked.flat_map(|c| &c.remedies).filter_map(|r| r.choice.as_ref());
        let is_open =
            |place: &String| !cured.contains(place) && !upgrade.chosen.iter().any(|(own, _)| own == place);
        let mut cures = cures.filter(|(place, _)| is_open(place));
        let Some((place, part)) = cures.next() else { break };
        put(&mut sheet, place, Choice { route: Route::Convert, part: Some(part.clone()) });
        cured.push(place.clone());
    }
    sheet
}

#[test]
fn each_upgrade_alone_drags_in_what_its_card_asks_for() {
    let mut wrong = Vec::new();
    for upgrade in UPGRADES {
        let a = assessed(&with(upgrade));
        let found = spoken_of(&a);
        for part in upgrade.must.iter().filter(|part| !found.contains(**part)) {
            wrong.push(format!("{}: {part} is missing", upgrade.name));
        }
        let clashes: Vec<String> = a.clashes.iter().map(|c| c.key.to_string()).collect();
        if clashes != upgrade.clashes {
            wrong.push(format!("{}: does not fit: {clashes:?}", upgrade.name));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_upgrade_reaches_into_a_system_it_does_not_touch() {
    let mut wrong = Vec::new();
    let counted = |a: &Assessment| {
        let mut all: BTreeMap<(String, String), u32> = BTreeMap::new();
        for c in &a.companions {
            let place = c.position.clone().or_else(|| c.cause.clone()).unwrap_or_default();
            *all.entry((c.part.clone(), place)).or_default() += c.qty;
        }
        all
    };
    for upgrade in UPGRADES {
        let sheet = with(upgrade);
        let after = assessed(&sheet);
        // the same plan without the upgrade: what gave way has given way there too
        let mut without = sheet.clone();
        let routes = &mut without.plans.get_mut("sound").expect("the plan").routes;
        for (place, _) in upgrade.chosen {
            routes.remove(*place);
        }
        let before = counted(&assessed(&without));
        let system = |place: &str| after.positions.iter().find(|p| p.id == place).map(|p| p.system.clone());
        for ((part, place), qty) in counted(&after) {
            if before.get(&(part.clone(), place.clone())).is_some_and(|n| *n >= qty) {
                continue;
            }
            let Some(system) = system(&place) else {
                wrong.push(format!("{}: {part} has no place", upgrade.name));
                continue;
            };
            if !upgrade.systems.contains(&system.as_str()) {
                wrong.push(format!("{}: {part} at {place} ({system})", upgrade.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
