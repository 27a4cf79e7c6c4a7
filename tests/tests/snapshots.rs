//! The example's assessments as a reader gets them: a change of library or engine shows here line by line.

use knockon_core::remedy::cures;
use knockon_core::showing::Measure;
use knockon_core::{assess, change, offers};
use knockon_report::text;
use knockon_store::{library, sheets};
use knockon_tests::generate::on;

#[test]
fn the_example_s_plans_as_text() {
    let sheet = sheets::parse("example", library::example()).unwrap_or_default();
    let catalogue = library::shipped().on(on());
    for plan in ["sound", "wishes", "worked-out"] {
        let a = assess(&sheet, plan, &catalogue);
        insta::assert_snapshot!(
            plan,
            text::assessment(&a, &cures(&sheet, plan, &catalogue, &a), Measure::Inch)
        );
    }
}

/// What each route at the places of the first three upgrades would bring.
#[test]
fn what_the_routes_of_three_places_bring() {
    let sheet = sheets::parse("example", library::example()).unwrap_or_default();
    let catalogue = library::shipped().on(on());
    let before = assess(&sheet, "sound", &catalogue);
    for position in ["carburettor", "generator", "front-brakes"] {
        let of_here = offers(&sheet, "sound", &catalogue, position);
        assert!(!of_here.is_empty(), "{position} has no routes");
        let after: Vec<_> = of_here.iter().map(|o| change::chosen(&sheet, "sound", &catalogue, o)).collect();
        insta::assert_snapshot!(position, text::offers(&of_here, &before, &after));
    }
}
