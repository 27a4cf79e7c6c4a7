//! A route that breaks what the owner holds the plan to says so before it is taken, and one that does not is silent.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use knockon_core::assessment::Offer;
use knockon_core::edit::EditError;
use knockon_core::library::Reversible;
use knockon_core::sheet::{Direction, Route, Sheet, Way};
use knockon_core::{Catalogue, Edit, apply, offers};
use knockon_store::{library, sheets};
use knockon_tests::schemas::root;

fn held_to(vehicle: &str, aims: &[&str]) -> Sheet {
    let mut sheet = sheets::open(&root().join(format!("examples/{vehicle}.json"))).unwrap();
    sheet.plans.values_mut().for_each(|plan| plan.routes.clear());
    let direction = Direction {
        way: Way::SympatheticDriver,
        aims: aims.iter().map(|aim| (*aim).to_owned()).collect(),
        on: Some("2026-03-01".into()),
        reason: "it is complete".into(),
        ..Direction::default()
    };
    apply(&mut sheet, &Edit::Direct { directions: vec![direction] }).unwrap();
    sheet
}

fn at(sheet: &Sheet, catalogue: &Catalogue, position: &str) -> Vec<Offer> {
    offers(sheet, &sheet.plan, catalogue, position)
}

#[test]
fn reversible_only_is_broken_by_what_leaves_a_trace_and_by_nothing_else() {
    let catalogue = library::shipped();
    let (mut broken, mut kept) = (0, 0);
    for (vehicle, position) in
        [("furrow-10", "gearbox"), ("furrow-10", "distributor"), ("larksong-1600", "gearbox")]
    {
        let sheet = held_to(vehicle, &["reversible-only"]);
        for offer in at(&sheet, &catalogue, position) {
            let breaks = offer.breaks == ["reversible only"];
            assert!(breaks || offer.breaks.is_empty());
            if offer.route == Route::Convert && offer.reversible != Reversible::Yes {
                assert!(breaks, "{}", offer.name);
            }
            if offer.route == Route::Keep
                || offer.companions_added.is_empty() && offer.reversible == Reversible::Yes
            {
                assert!(!breaks, "{}", offer.name);
            }
            if breaks {
                broken += 1;
            } else {
                kept += 1;
            }
        }
    }
    assert!(broken > 0 && kept > 0, "{broken} {kept}");
}

#[test]
fn the_look_is_broken_by_another_lamp_and_not_by_a_new_one_of_the_same() {
    let catalogue = library::shipped();
    let sheet = held_to("furrow-10", &["looks-stock"]);
    let all = at(&sheet, &catalogue, "headlamps");
    assert!(
        all.iter().any(|offer| offer.route == Route::Convert)
            && all.iter().any(|offer| offer.route == Route::Renew)
    );
    for offer in all {
        let wanted: &[&str] = match offer.route {
            Route::Convert | Route::LeaveOff => &["must look stock"],
            _ => &[],
        };
        assert_eq!(offer.breaks, wanted, "{:?} {}", offer.route, offer.name);
    }
    // what nobody sees
    assert!(at(&sheet, &catalogue, "fuel-pump").iter().all(|offer| offer.breaks.is_empty()));
}

#[test]
fn speed_and_towing_are_broken_by_what_breaks_their_limits() {
    let catalogue = library::shipped();
    for (aim, name, places) in [
        ("motorway-speed", "motorway speed", ["rear-axle", "gearbox", "tyres", "radiator"]),
        ("towing", "towing", ["gearbox", "tyres", "rear-axle", "rear-springs"]),
    ] {
        let limits = &catalogue.aims[aim].limits;
        let (mut broken, mut silent) = (0, 0);
        for vehicle in ["furrow-10", "larksong-1600", "scree-82"] {
            let sheet = held_to(vehicle, &[aim]);
            for offer in places.iter().flat_map(|place| at(&sheet, &catalogue, place)) {
                if offer.breaks.is_empty() {
                    silent += 1;
                    continue;
                }
                assert_eq!(offer.breaks, [name]);
                broken += 1;
                // it is one of its limits that the offer says does not fit
                let of_it = |clash: &String| {
                    catalogue
                        .limits
                        .values()
                        .any(|l| limits.contains(&l.id) && clash.starts_with(&l.def.name))
                };
                assert!(offer.clashes_added.iter().any(of_it), "{}: {:?}", offer.name, offer.clashes_added);
            }
        }
        assert!(broken > 0 && silent > 0, "{aim}: {broken} {silent}");
    }
}

#[test]
fn a_direction_is_written_down_with_its_reason_and_the_one_before_stays() {
    let mut sheet = held_to("furrow-10", &[]);
    let mut directions = sheet.directions.clone();
    directions.push(Direction { way: Way::PassItOn, ..Direction::default() });
    let before = sheet.clone();
    let edit = Edit::Direct { directions: directions.clone() };
    assert_eq!(apply(&mut sheet, &edit), Err(EditError::NoReasonForDirection));
    assert_eq!(sheet, before);
    directions[1].reason = "the frame is gone".into();
    directions[1].on = Some("soon".into());
    assert!(matches!(
        apply(&mut sheet, &Edit::Direct { directions: directions.clone() }),
        Err(EditError::Date(_))
    ));
    directions[1].on = Some("2027-01".into());
    apply(&mut sheet, &Edit::Direct { directions }).unwrap();
    assert_eq!(sheet.direction().unwrap().way, Way::PassItOn);
    assert_eq!(sheet.directions[0], before.directions[0]);
    // without anything it is held to, no route breaks anything
    assert!(at(&sheet, &library::shipped(), "gearbox").iter().all(|offer| offer.breaks.is_empty()));
}
