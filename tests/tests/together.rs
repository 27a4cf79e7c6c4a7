//! What would clear the clashes of the example together: what is said of a set is so once it is taken.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::key::CheckKey;
use knockon_core::sheet::Sheet;
use knockon_core::together::{CureSet, Together, together};
use knockon_core::{Assessment, Catalogue, assess};
use knockon_store::{library, sheets};
use knockon_tests::cases::cases;
use knockon_tests::generate::on;
use knockon_tests::random_plan::eight_chosen;
use rust_decimal::Decimal;

fn example() -> Sheet {
    sheets::parse("example", library::example()).unwrap()
}

fn money(a: &Assessment) -> Decimal {
    a.totals.spent + a.totals.committed + a.totals.to_come
}

fn taken(sheet: &Sheet, plan: &str, set: &CureSet, catalogue: &Catalogue) -> Assessment {
    let mut sheet = sheet.clone();
    let routes = &mut sheet.plans.get_mut(plan).unwrap().routes;
    routes.extend(set.changes.iter().map(|(position, choice)| (position.clone(), choice.clone())));
    assess(&sheet, plan, catalogue)
}

/// Every set against the plan so changed.
fn are_true(sheet: &Sheet, plan: &str, catalogue: &Catalogue) -> (Assessment, Together) {
    let a = assess(sheet, plan, catalogue);
    let found = together(sheet, plan, catalogue, &a);
    for set in &found.sets {
        let after = taken(sheet, plan, set, catalogue);
        let left: BTreeSet<&CheckKey> = after.clashes.iter().map(|clash| &clash.key).collect();
        assert_eq!(left, set.left.iter().collect(), "{set:?}");
        assert!(left.len() < a.clashes.len(), "{set:?}");
        assert_eq!(set.money, money(&after) - money(&a), "{set:?}");
        assert!((set.hours - (after.totals.hours - a.totals.hours)).abs() < 1e-9, "{set:?}");
        assert_eq!(set.to_measure, after.to_measure.len() as i64 - a.to_measure.len() as i64, "{set:?}");
    }
    (a, found)
}

/// The distributor has a trigger of its own, so that the module is not wanted (common practice).
#[test]
fn the_wishes_of_the_example_are_cleared_and_only_the_module_is_given_up() {
    let (a, found) = are_true(&example(), "wishes", &library::shipped().on(on()));
    assert!(a.clashes.len() > 5);
    let first = &found.sets[0];
    assert!(first.left.is_empty() && found.complete, "{first:#?}");
    assert_eq!(first.gives_up, ["ignition-trigger"]);
    let parts: Vec<(&str, Option<&str>)> =
        first.changes.iter().map(|(position, choice)| (position.as_str(), choice.part.as_deref())).collect();
    assert_eq!(
        parts,
        [
            ("air-cleaner", Some("cleaner-low-40")),
            ("cab-corners", Some("cab-corners-repaired")),
            ("distributor", Some("distributor-coil-in-cap")),
            ("fan", Some("fan-electric-12-slim")),
            ("generator", Some("alternator-100-three-wire")),
            ("ignition-trigger", None),
            ("tyres", Some("tyre-215-75-15")),
        ]
    );
    assert!(found.assessed < 300, "{}", found.assessed);
}

#[test]
fn what_is_said_of_a_set_is_so_once_it_is_taken() {
    let catalogue = library::shipped().on(on());
    let mut cleared = 0;
    for seed in 0..u64::from(cases(10)) {
        let mut sheet = example();
        sheet.plans.insert("random".to_owned(), eight_chosen(seed, "furrow-10", &catalogue));
        let (_, found) = are_true(&sheet, "random", &catalogue);
        cleared += usize::from(found.sets.first().is_some_and(|set| set.left.is_empty()));
    }
    assert!(cleared > 5, "{cleared}");
}
