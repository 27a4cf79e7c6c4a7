//! Facts of the trade that hold on any such vehicle, told on the pickup: common practice.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::assessment::Answer;
use knockon_core::key::{CheckKey, CompanionKey};
use knockon_core::library::Level;
use knockon_core::sheet::{Choice, Route};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Sheet, assess, explain};
use knockon_store::{library, sheets};

/// The pickup as found, but for these conversions.
fn converted(choices: &[(&str, &str)]) -> Assessment {
    let mut sheet = example();
    let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
    routes.clear();
    for (place, part) in choices {
        let choice = Choice { route: Route::Convert, part: Some((*part).to_owned()) };
        routes.insert((*place).to_owned(), choice);
    }
    assess(&sheet, "sound", &library::shipped())
}

fn example() -> Sheet {
    sheets::parse("example", library::example()).expect("the example opens")
}

fn companions(a: &Assessment) -> BTreeSet<&str> {
    a.companions.iter().map(|c| c.part.as_str()).collect()
}

fn surplus(a: &Assessment) -> BTreeSet<&str> {
    a.surplus.iter().map(|s| s.position.as_str()).collect()
}

fn fitted<'a>(a: &'a Assessment, place: &str) -> Option<&'a str> {
    a.positions.iter().find(|p| p.id == place)?.fitted.as_ref().map(|f| f.0.as_str())
}

#[test]
fn a_bolt_in_two_barrel_carburettor_still_wants_cable_filter_regulator_hoses_and_a_cleaner() {
    let a = converted(&[("carburettor", "two-barrel-kit")]);
    let found = companions(&a);
    for part in
        ["throttle-cable-42", "line-filter-30", "regulator-15-4", "fuel-hose-r9-8", "fuel-clip-rolled"]
    {
        assert!(found.contains(part), "{part} in {found:?}");
    }
    let cleaner = fitted(&a, "air-cleaner").expect("an air cleaner");
    assert!(cleaner != "furrow-air-cleaner" && found.contains(cleaner), "{cleaner}");
}

#[test]
fn a_tank_that_comes_with_neck_hoses_and_straps_wants_none_of_them_again() {
    let boxed = [
        "filler-bed-side",
        "filler-hose-51",
        "vent-hose-8",
        "rollover-valve-8",
        "tank-straps-30",
        "filler-clip-wide",
    ];
    let bought = |tank: &str| -> BTreeSet<String> {
        let a = converted(&[("tank", tank)]);
        let paid = a.companions.iter().filter(|c| c.qty > c.boxed);
        paid.map(|c| c.part.clone()).filter(|part| boxed.contains(&part.as_str())).collect()
    };
    assert_eq!(bought("tank-rails-68").len(), boxed.len());
    assert_eq!(bought("tank-rails-68-complete"), BTreeSet::new());
}

#[test]
fn a_single_wire_alternator_drops_the_regulator_and_keeps_the_cradle() {
    let a = converted(&[("generator", "alternator-65-one-wire-kit")]);
    let lost: Vec<&str> = a.surplus.iter().filter(|s| s.lost_job).map(|s| s.position.as_str()).collect();
    assert_eq!(lost, ["regulator"]);
    assert_eq!(
        fitted(&a, "generator-bracket"),
        Some("furrow-generator-cradle"),
        "it bolts into the same place"
    );
    let cradle = a
        .checks
        .iter()
        .find(|c| c.key == CheckKey::joint("generator-mount"))
        .expect("the mount is looked at");
    assert_eq!(cradle.answer, Answer::Bridged);
    let wire = fitted(&a, "charge-cable").expect("a charge cable");
    assert_ne!(wire, "furrow-charge-wire", "the old wire does not suit 65 A");
    assert!(companions(&a).contains("charge-link-80"));
}

#[test]
fn a_coil_in_the_cap_drops_coil_points_and_ballast_and_is_a_clearance_to_check() {
    let a = converted(&[("distributor", "distributor-coil-in-cap")]);
    let gone = surplus(&a);
    for place in ["coil", "ignition-trigger", "ballast"] {
        assert!(gone.contains(place), "{place} in {gone:?}");
    }
    assert!(companions(&a).iter().any(|part| part.starts_with("relay-feed-")), "full battery voltage");
    let room = a.to_measure.iter().find(|m| m.key == CheckKey::limit("distributor-cap")).expect("to measure");
    let what = room.what.say(Measure::Metric);
    assert!(what.contains("room for a distributor cap"), "{what}");
    let small = converted(&[("distributor", "distributor-electronic-f6")]);
    assert!(small.to_measure.iter().all(|m| m.key != CheckKey::limit("distributor-cap")));
}

/// Points renewed and then left without work by another choice: nothing is asked for on their behalf, and it is told.
#[test]
fn points_that_lost_their_job_want_no_coil() {
    for route in [Route::Keep, Route::Clean, Route::Renew] {
        let mut sheet = example();
        let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
        routes.clear();
        let part = Some("distributor-coil-in-cap".to_owned());
        routes.insert("distributor".to_owned(), Choice { route: Route::Convert, part });
        routes.insert("ignition-trigger".to_owned(), Choice { route, part: None });
        let a = assess(&sheet, "sound", &library::shipped());
        // the carburettor is another matter: its spark port does not suit this distributor
        let of_points = |p: &String| p == "ignition-trigger" || p == "coil";
        let about = a.clashes.iter().filter(|c| c.positions.iter().any(of_points));
        assert_eq!(about.count(), 0, "{route:?}: {:#?}", a.clashes);
        let points = a.surplus.iter().find(|s| s.position == "ignition-trigger").expect("the points");
        assert!(points.lost_job, "{route:?}");
        assert!(a.companions.iter().all(|c| c.key != CompanionKey::survey("ignition-trigger")), "{route:?}");
    }
}

/// Drums of another size for a hand's weight at the pedal are the owner's to decide: told with their price.
#[test]
fn a_limit_asks_by_itself_for_nothing_dearer_than_the_choice_that_broke_it() {
    let a = converted(&[("master-cylinder", "master-tandem-100-kit"), ("booster", "booster-178-double")]);
    assert_eq!(fitted(&a, "front-brakes"), Some("furrow-front-drums"));
    let clash = a.clashes.iter().find(|c| c.key == CheckKey::limit("pedal-force")).expect("the pedal force");
    let kit = ("front-brakes".to_owned(), "drum-kit-12".to_owned());
    let remedy = clash.remedies.iter().find(|r| r.choice.as_ref() == Some(&kit)).expect("the drum kit");
    assert_eq!(remedy.price.as_ref().map(ToString::to_string).as_deref(), Some("520.00 USD"));
}

#[test]
fn a_harness_of_21_circuits_brings_its_fuse_block() {
    let a = converted(&[("harness", "harness-21")]);
    assert_eq!(fitted(&a, "fuse-block"), Some("fuse-block-21"));
    assert!(surplus(&a).contains("fuse-block"));
    let block = a.companions.iter().find(|c| c.part == "fuse-block-21");
    assert!(block.is_none_or(|c| c.in_kit), "it is not bought again");
}

#[test]
fn an_aluminium_radiator_wants_a_shroud_and_so_does_the_old_pattern() {
    for radiator in ["radiator-aluminium-two-row", "radiator-brass-four-row"] {
        let a = converted(&[("radiator", radiator)]);
        let shroud = a.companions.iter().find(|c| c.part == "shroud-belt-18").expect("a shroud");
        assert_eq!(shroud.level, Level::Advised, "{radiator}");
    }
    let with_its_own = converted(&[("radiator", "radiator-set-1995")]);
    let again = with_its_own.companions.iter().filter(|c| c.part.starts_with("shroud-") && !c.in_kit).count();
    assert_eq!(again, 0, "a set that has its shroud wants no other");
}

#[test]
fn front_discs_reuse_the_hubs_on_fresh_grease_and_not_the_drums() {
    let a = converted(&[("front-brakes", "disc-kit-285")]);
    let found = companions(&a);
    for part in ["hub-grease-400", "hub-seal-front", "hub-split-pin-set"] {
        assert!(found.contains(part), "{part} in {found:?}");
    }
    assert!(surplus(&a).contains("front-brakes") && !surplus(&a).contains("front-hubs"));
    // the caliper decides which wheel goes over it, and the force on the pedal whether it wants help
    assert!(a.checks.iter().any(|c| c.key == CheckKey::limit("wheel-over-caliper")));
    let force =
        a.checks.iter().find(|c| c.key == CheckKey::limit("pedal-force")).expect("the pedal is looked at");
    let told = force.reason.map(|r| explain::because(&a, r, Measure::Metric).join(" "));
    assert!(told.is_some_and(|t| t.contains("the pedal takes ")));
}

#[test]
fn a_lift_asks_for_longer_dampers_and_hoses_new_u_bolts_and_a_look_at_the_steering() {
    let a = converted(&[("front-springs", "front-spring-lift")]);
    let found = companions(&a);
    for part in ["spring-u-bolt-12", "spring-bush-set", "damper-long", "drum-hose-450"] {
        assert!(found.contains(part), "{part} in {found:?}");
    }
    let kept = assess(&lifted_with_old_dampers(), "sound", &library::shipped());
    let limits = |of: [&str; 2]| of.map(CheckKey::limit).into_iter().collect::<BTreeSet<_>>();
    let broken: BTreeSet<CheckKey> = kept.clashes.iter().map(|c| c.key.clone()).collect();
    assert_eq!(broken, limits(["damper-open", "front-hose-length"]));
    let asked: BTreeSet<CheckKey> = a.to_measure.iter().map(|m| m.key.clone()).collect();
    assert_eq!(asked, limits(["caster", "drag-link"]));
}

/// The lift on a plan that renews dampers and hoses in kind.
fn lifted_with_old_dampers() -> Sheet {
    let mut sheet = example();
    let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
    let lift = Choice { route: Route::Convert, part: Some("front-spring-lift".to_owned()) };
    routes.insert("front-springs".to_owned(), lift);
    sheet
}

/// A vehicle that stood for decades gets its gaskets and soft hoses anew, and fasteners that hold once are not used again.
#[test]
fn what_stood_for_decades_gets_gaskets_hoses_and_fasteners() {
    let a = assess(&example(), "sound", &library::shipped());
    let found = companions(&a);
    for part in [
        // gaskets and seals
        "carb-gasket-one",
        "pump-gasket-178",
        "sender-gasket-6",
        "thermostat-gasket-paper",
        "manifold-gasket-f6",
        "exhaust-flange-gasket",
        "sump-gasket-set-f6",
        "dist-o-ring-29",
        "hub-seal-front",
        // fasteners and clips that hold once
        "hub-split-pin-set",
        "steering-split-pin-set",
        "clutch-bolt-set",
        "shaft-flange-bolt-set",
        "banjo-washer-10",
        "hose-clip-frame",
        "hose-clip-large",
        "fuel-clip-rolled",
    ] {
        assert!(found.contains(part), "{part} in {found:?}");
    }
    let drained = converted(&[("radiator", "radiator-brass-four-row")]);
    assert!(companions(&drained).contains("furrow-coolant-hoses"), "soft hoses come off with the radiator");
}

#[test]
fn joints_leaks_and_fluid_are_looked_at_while_the_axle_is_apart() {
    let a = converted(&[("rear-axle", "rear-axle-355")]);
    for (part, qty) in [
        ("axle-seals", 1),
        ("axle-cover-gasket", 1),
        ("joint-bolt-set", 1),
        ("joint-check-shaft", 1),
        ("gear-oil-gl5-1l", 2),
        ("gear-oil-gl5-half", 1),
    ] {
        let found: u32 = a.companions.iter().filter(|c| c.part == part).map(|c| c.qty).sum();
        assert_eq!(found, qty, "{part}");
    }
}

/// Joined brakes and a tubed tyre: two mistakes a parts list makes.
#[test]
fn a_tubed_tyre_wants_no_snap_in_valve_and_rear_discs_no_wheel_cylinders() {
    let sound = assess(&example(), "sound", &library::shipped());
    assert!(!companions(&sound).contains("tyre-valve-rubber"), "its valve is in the tube");
    let radial = converted(&[("wheels", "wheel-steel-15x6"), ("tyres", "tyre-215-75-15")]);
    let valves: u32 = radial.companions.iter().filter(|c| c.part == "tyre-valve-rubber").map(|c| c.qty).sum();
    assert_eq!(valves, 5);
    let discs = converted(&[("rear-brakes", "rear-disc-kit-280")]);
    assert!(!companions(&discs).contains("rear-wheel-cylinder-100"), "calipers have none");
    assert!(surplus(&discs).contains("rear-wheel-cylinders"));
}

/// The owner goes back to the three-speed: its gear and the new tyres already agree, so no speedometer gear is bought.
#[test]
fn a_change_of_mind_about_the_gearbox_leaves_no_orphan() {
    let mut sheet = example();
    sheet.plans.get_mut("worked-out").expect("the plan").routes.remove("gearbox");
    let a = assess(&sheet, "worked-out", &library::shipped());
    let found = companions(&a);
    for part in
        ["prop-shaft-1237", "speedo-gear-b5-20", "clutch-disc-10-26", "floor-cover-240", "crossmember-92"]
    {
        assert!(!found.contains(part), "{part} is an orphan");
    }
    assert_eq!(fitted(&a, "speedo-gear"), Some("furrow-speedo-gear"));
}
