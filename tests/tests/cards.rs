//! What single upgrades of the pickup must bring or ask, as the trade's card of each says: common practice. Each is chosen
//! alone on the pickup as found.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::key::CheckKey;
use knockon_core::library::Level;
use knockon_core::sheet::{Choice, Route};
use knockon_core::{Assessment, assess};
use knockon_store::{library, sheets};
use knockon_tests::as_found::as_found;

fn with(chosen: &[(&str, &str)]) -> Assessment {
    let sheet = sheets::parse("example", library::example()).expect("the example opens");
    let chosen: Vec<_> = chosen.iter().map(|(place, part)| (*place, Some(*part))).collect();
    assess(&as_found(sheet, "sound", &chosen), "sound", &library::shipped())
}

/// What an upgrade brings: required and advised.
struct Card {
    chosen: &'static [(&'static str, &'static str)],
    must: &'static [&'static str],
    wise: &'static [&'static str],
    /// Limits that ask for a measure.
    asks: &'static [&'static str],
}

const CARDS: &[Card] = &[
    // power steering: pump drive, second groove, drop arm for the new sector, mount plate, cooler, 1.2 L of fluid
    Card {
        chosen: &[("steering-box", "steering-box-power"), ("column", "column-collapsible-30")],
        must: &[
            "steering-pump-drive-13a",
            "crank-groove-bolt-on",
            "drop-arm-sector",
            "box-mount-plate-crush",
            "steering-cooler-tube",
            "steering-fluid-quart",
            "steering-fluid-half",
        ],
        wise: &["wheel-alignment-shop"],
        asks: &[],
    },
    // a manual box has another sector too, and no pump
    Card {
        chosen: &[("steering-box", "steering-box-ball"), ("column", "column-collapsible-36")],
        must: &["drop-arm-sector", "box-mount-plate-crush"],
        wise: &["wheel-alignment-shop"],
        asks: &[],
    },
    // a tandem cylinder is bled on the bench, and a lamp tells that one circuit is gone
    Card {
        chosen: &[("master-cylinder", "master-tandem-100-kit")],
        must: &["bench-bleed-set", "stop-switch-pedal", "pedal-bracket-two-seat"],
        wise: &["brake-failure-set"],
        asks: &[],
    },
    // the hubs are off: king pins measured again
    Card {
        chosen: &[("front-brakes", "disc-kit-285")],
        must: &["king-pin-rock", "hub-seal-front"],
        wise: &[],
        asks: &[],
    },
    // another seat stands on bolts and plates that hold 8 g
    Card { chosen: &[("seat", "seat-bench-split")], must: &["seat-bolt-plates"], wise: &[], asks: &[] },
    Card { chosen: &[("seat", "seat-buckets-pair")], must: &["seat-adapter-rails"], wise: &[], asks: &[] },
    // a belt is half the system: the seat; and its shoulder anchor at the shoulder of who sits there
    Card {
        chosen: &[("seat-belts", "belts-three-point-static"), ("cab-corners", "cab-corners-repaired")],
        must: &["seat-bolt-plates", "belt-plate-75"],
        wise: &["anchor-inspection-engineer"],
        asks: &["shoulder-anchor"],
    },
    Card {
        chosen: &[("seat-belts", "belts-lap-three"), ("cab-corners", "cab-corners-repaired")],
        must: &["seat-bolt-plates", "belt-plate-75"],
        wise: &["anchor-inspection-engineer"],
        asks: &[],
    },
    // a heater has a switch and a fuse of its own
    Card {
        chosen: &[("heater", "heater-fresh-air")],
        must: &["blower-switch-two-speed", "heater-tap-16"],
        wise: &[],
        asks: &[],
    },
    // clearances: 40 mm to the shaft, 75 mm to the exhaust, 50 mm to the axle at full bump
    Card {
        chosen: &[("tank", "tank-rails-68")],
        must: &["tank-straps-30"],
        wise: &[],
        asks: &["tank-axle", "tank-exhaust", "tank-shaft"],
    },
    Card {
        chosen: &[("exhaust", "exhaust-headers")],
        must: &[],
        wise: &[],
        asks: &["exhaust-axle", "exhaust-lines"],
    },
    Card {
        chosen: &[("master-cylinder", "master-tandem-100-kit"), ("booster", "booster-178-double")],
        must: &["booster-hose-check", "brake-pedal-pin-40"],
        wise: &[],
        asks: &["booster-exhaust"],
    },
    // a harness wants a switch with four posts, and passes no current through an ammeter
    Card {
        chosen: &[("harness", "harness-12")],
        must: &["ignition-switch-four", "engine-strap-25", "voltmeter-52", "ammeter-stud-link"],
        wise: &[],
        asks: &[],
    },
    // a lift: dampers, hoses, U-bolts, bump stops as thick as the lift, lamps aimed, toe set
    Card {
        chosen: &[("front-springs", "front-spring-lift")],
        must: &["damper-long", "drum-hose-450", "spring-u-bolt-12", "bump-spacers-60", "lamp-aiming-screen"],
        wise: &["wheel-alignment-shop", "spring-bush-set"],
        asks: &["caster", "drag-link"],
    },
    // a head with hard seats: what comes off with it, coolant and oil
    Card {
        chosen: &[("cylinder-head", "cylinder-head-hard-seats")],
        must: &["head-gasket-set-f6", "manifold-gasket-f6", "thermostat-gasket-paper", "engine-oil-5"],
        wise: &[],
        asks: &[],
    },
    Card {
        chosen: &[("short-engine", "short-engine-exchange")],
        must: &["manifold-gasket-f6", "clutch-bolt-set", "engine-oil-5"],
        wise: &["flywheel-skim-job", "furrow-engine-mount"],
        asks: &[],
    },
    Card {
        chosen: &[("camshaft", "camshaft-reground")],
        must: &["cam-followers-12", "timing-set-f6", "timing-cover-gasket-f6", "run-in-oil-5"],
        wise: &[],
        asks: &[],
    },
    Card { chosen: &[("headlamps", "headlamp-h4")], must: &["lamp-aiming-screen"], wise: &[], asks: &[] },
    // turn lamps without a switch light nothing
    Card {
        chosen: &[("front-lamps", "front-lamps-turn")],
        must: &["turn-switch-clamp-7", "flasher-thermal", "rear-lamps-combined"],
        wise: &[],
        asks: &[],
    },
    // rear discs: the shafts come out, the bias is set anew, cables of another end
    Card {
        chosen: &[("rear-brakes", "rear-disc-kit-280")],
        must: &["axle-seals", "proportioning-valve-adjustable", "parking-cables-fork"],
        wise: &[],
        asks: &[],
    },
    Card {
        chosen: &[("booster", "booster-remote-line")],
        must: &["booster-fitting-set", "booster-hose-check", "manifold-tapping-3-8"],
        wise: &[],
        asks: &[],
    },
    // a tubular manifold: stepped washers, shield at the starter, heat for the intake, sleeves over the leads
    Card {
        chosen: &[("exhaust", "exhaust-headers")],
        must: &[
            "manifold-gasket-f6",
            "stepped-clamp-washers",
            "starter-shield-plate",
            "intake-heat-plate-water",
            "lead-sleeve-set",
        ],
        wise: &[],
        asks: &[],
    },
    Card {
        chosen: &[("rear-axle", "rear-axle-390-lsd")],
        must: &["friction-modifier-120", "gear-oil-gl5-1l"],
        wise: &[],
        asks: &[],
    },
    Card {
        chosen: &[("rear-axle", "rear-axle-later-355")],
        must: &["axle-perch-set", "axle-pipe-set", "spring-u-bolt-12", "cross-medium-small"],
        wise: &[],
        asks: &[],
    },
    Card {
        chosen: &[("starter", "starter-reduction-120")],
        must: &["starter-shim-set", "starter-button-relay", "engine-strap-25"],
        wise: &[],
        asks: &[],
    },
];

#[test]
fn each_upgrade_brings_and_asks_what_its_card_says() {
    let mut wrong = Vec::new();
    for card in CARDS {
        let a = with(card.chosen);
        let level = |part: &str| a.companions.iter().find(|c| c.part == part).map(|c| c.level);
        for part in card.must.iter().filter(|part| level(part) != Some(Level::Required)) {
            wrong.push(format!("{:?}: {part} is {:?}", card.chosen, level(part)));
        }
        for part in card.wise.iter().filter(|part| level(part) != Some(Level::Advised)) {
            wrong.push(format!("{:?}: {part} is {:?}", card.chosen, level(part)));
        }
        let asked = a.to_measure.iter().filter_map(|open| match &open.key {
            CheckKey::Limit { limit, .. } => Some(limit.as_str()),
            _ => None,
        });
        let asked: BTreeSet<&str> = asked.collect();
        for limit in card.asks.iter().filter(|limit| !asked.contains(*limit)) {
            wrong.push(format!("{:?}: {limit} is not asked", card.chosen));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A new column has no slot for the rods of a column shift, and a wheel inside 332 mm does not go over a rear caliper.
#[test]
fn what_the_card_says_cannot_be_does_not_fit() {
    for (place, part, key) in [
        ("column", "column-collapsible-36", CheckKey::joint("shift-column")),
        ("rear-brakes", "rear-disc-kit-280", CheckKey::limit("wheel-over-rear-caliper")),
    ] {
        assert!(with(&[(place, part)]).clashes.iter().any(|c| c.key == key), "{place}");
    }
    let wide = [("rear-brakes", "rear-disc-kit-280"), ("wheels", "wheel-steel-15x6")];
    assert!(with(&wide).clashes.iter().all(|c| c.key != CheckKey::limit("wheel-over-rear-caliper")));
}

/// A pulley that has two grooves leaves one for the pump.
#[test]
fn a_crank_pulley_with_two_grooves_wants_no_further_one() {
    let chosen = [("steering-box", "steering-box-power"), ("crank-pulley", "crank-pulley-13a-165")];
    assert!(with(&chosen).companions.iter().all(|c| c.part != "crank-groove-bolt-on"));
}

/// A shoulder anchor 50 mm below the shoulder is the lowest that does.
#[test]
fn the_shoulder_of_who_sits_there_decides_over_the_belts() {
    let broken = |shoulder: &str| {
        let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
        let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
        let belts = Choice { route: Route::Convert, part: Some("belts-three-point-static".to_owned()) };
        routes.insert("seat-belts".to_owned(), belts);
        sheet.facts.insert("shoulder-height".to_owned(), serde_json::json!(shoulder));
        let a = assess(&sheet, "sound", &library::shipped());
        a.clashes.iter().any(|c| c.key == CheckKey::limit("shoulder-anchor"))
    };
    assert!(!broken("690 mm") && broken("691 mm"));
}
