//! A small choice does not bring a large part by itself: what costs out of proportion to it is told as a clash that names
//! the part and its price, and stays the owner's decision. Common practice: nobody buys a gearbox to fit a pilot bush.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::sync::LazyLock;

use knockon_core::sheet::{Choice, Route};
use knockon_core::{Assessment, Catalogue, Sheet, assess};
use knockon_store::{library, sheets};

static LIBRARY: LazyLock<Catalogue> = LazyLock::new(library::shipped);

fn example() -> Sheet {
    sheets::parse("example", library::example()).expect("the example opens")
}

/// The pickup as found with one conversion.
fn converted(place: &str, part: &str) -> Assessment {
    let mut sheet = example();
    sheet.survey.clear();
    let plan = sheet.plans.get_mut("sound").expect("the plan");
    plan.routes.clear();
    let choice = Choice { route: Route::Convert, part: Some(part.to_owned()) };
    plan.routes.insert(place.to_owned(), choice);
    assess(&sheet, "sound", &LIBRARY)
}

fn brings(a: &Assessment, place: &str) -> bool {
    a.companions.iter().any(|c| c.position.as_deref() == Some(place))
}

fn named(a: &Assessment, place: &str) -> bool {
    let choices =
        a.clashes.iter().flat_map(|c| &c.remedies).filter_map(|r| Some((r.choice.as_ref()?, &r.price)));
    choices.into_iter().any(|((at, _), price)| at == place && price.is_some())
}

#[test]
fn a_small_part_brings_no_large_one() {
    for (place, part, large) in [
        ("pilot-bush", "pilot-bush-278-150", "gearbox"),
        ("speedo-gear", "speedo-gear-b5-20", "gearbox"),
        ("release-bearing", "release-bearing-35-curved", "gearbox"),
        ("distributor", "distributor-electronic-f4", "short-engine"),
        ("wheel-nuts", "wheel-nuts-half-inch-cone", "front-brakes"),
    ] {
        let a = converted(place, part);
        assert!(!brings(&a, large), "{part} brings {large}");
        assert!(!a.clashes.is_empty(), "{part} does not fit and nothing says so");
    }
    let a = converted("distributor", "distributor-electronic-f4");
    assert!(named(&a, "short-engine"), "the engine it would fit is named with its price: {:?}", a.clashes);
}

#[test]
fn a_conversion_still_brings_what_carries_it() {
    for (place, part, brought) in [
        ("gearbox", "five-speed-kit-f6a", "pilot-bush"),
        ("carburettor", "two-barrel-kit", "throttle-control"),
        ("filler", "filler-bed-side-57", "tank"),
    ] {
        let a = converted(place, part);
        let found = brings(&a, brought) || a.positions.iter().any(|p| p.id == brought && p.filled);
        assert!(found, "{part} no longer brings {brought}");
    }
}
