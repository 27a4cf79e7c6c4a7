//! Wheel nuts and studs, front and rear apart, common practice: one thread, one hand, the seat of the wheel.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeMap;

use knockon_core::showing::Measure;
use knockon_core::{Assessment, assess, explain};
use knockon_store::{library, sheets};
use knockon_tests::as_found::as_found;

fn with(chosen: &[(&str, Option<&str>)]) -> Assessment {
    let sheet = sheets::parse("example", library::example()).expect("the example opens");
    assess(&as_found(sheet, "sound", chosen), "sound", &library::shipped())
}

/// What does not fit about studs and nuts: the joint and its reason.
fn clashes(a: &Assessment) -> BTreeMap<String, String> {
    let about = a.clashes.iter().filter(|c| {
        ["joint:wheel-studs", "joint:front-nuts", "joint:rear-stud-holes", "joint:nuts-in-wheels"]
            .contains(&c.key.to_string().as_str())
    });
    about.map(|c| (c.key.to_string(), explain::because(a, c.reason, Measure::Metric).join(" | "))).collect()
}

#[test]
fn studs_and_nuts_go_with_the_studs_of_the_discs() {
    let a = with(&[("front-brakes", Some("disc-kit-285"))]);
    assert!(clashes(&a).is_empty());
    let fitted = |place: &str| a.positions.iter().find(|p| p.id == place).and_then(|p| p.fitted.clone());
    assert_eq!(fitted("rear-studs").expect("studs").0, "rear-studs-12-20");
    assert_eq!(fitted("wheel-nuts").expect("nuts").0, "wheel-nuts-half-inch-cone");
}

/// Front and rear are told apart, each by the field that differs.
#[test]
fn kept_nuts_and_studs_are_told_by_their_thread() {
    let a = with(&[("front-brakes", Some("disc-kit-285")), ("rear-studs", None), ("wheel-nuts", None)]);
    let told = clashes(&a);
    assert_eq!(
        told.keys().map(String::as_str).collect::<Vec<_>>(),
        ["joint:front-nuts", "joint:wheel-studs"]
    );
    for text in told.values() {
        assert!(text.contains("1/2-20") && text.contains("7/16-20"), "{text}");
    }
    // nuts kept, and whatever goes into the rear hubs: they do not go on the studs of the discs
    let a = with(&[("front-brakes", Some("disc-kit-285")), ("wheel-nuts", None)]);
    let told = clashes(&a);
    let text = told.get("joint:front-nuts").expect("the nuts");
    assert!(text.contains("1/2-20") && text.contains("7/16-20"), "{text}");
    // only the hand differs
    let a = with(&[("rear-studs", Some("rear-studs-716-20-rh")), ("wheel-nuts", None)]);
    let told = clashes(&a);
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told["joint:wheel-studs"].contains("threaded left"), "{told:?}");
}

/// A flat seat under a cone nut; the pickup's own studs have a left-hand thread on the left.
#[test]
fn the_seat_of_the_wheel_decides_over_the_nuts_and_the_hand_of_the_studs_stays() {
    let a = with(&[("wheels", Some("wheel-alloy-15x6"))]);
    let told = clashes(&a);
    assert!(!told.is_empty(), "no flat nuts with a left-hand thread are to be had");
    let a = with(&[("wheels", Some("wheel-alloy-15x6")), ("front-brakes", Some("disc-kit-285"))]);
    assert!(clashes(&a).is_empty(), "{:?}", clashes(&a));
    let nuts =
        a.positions.iter().find(|p| p.id == "wheel-nuts").and_then(|p| p.fitted.clone()).expect("nuts");
    assert_eq!(nuts.0, "wheel-nuts-half-inch-flat");
}

/// An axle brings the studs that are in its flanges.
#[test]
fn a_rear_axle_brings_its_own_studs() {
    let a = with(&[("rear-axle", Some("rear-axle-later-355"))]);
    let studs =
        a.positions.iter().find(|p| p.id == "rear-studs").and_then(|p| p.fitted.clone()).expect("studs");
    assert_eq!(studs.0, "rear-studs-later-axle");
    let told = clashes(&a);
    assert_eq!(told.keys().collect::<Vec<_>>(), ["joint:wheel-studs"], "1/2 in behind, 7/16 in in front");
    // and the old studs do not hold in its flanges
    let a = with(&[("half-shafts", Some("half-shafts-28")), ("rear-studs", None)]);
    assert!(clashes(&a).contains_key("joint:rear-stud-holes"));
}
