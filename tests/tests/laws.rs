//! Laws of `assess`, tried on random plans over the shipped library.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;
use std::sync::LazyLock;

use knockon_core::key::{CheckKey, CompanionKey};
use knockon_core::sheet::{Choice, LineState, Route};
use knockon_core::{Catalogue, Edit, Sheet, apply, assess};
use knockon_store::{library, sheets};
use proptest::prelude::*;

static LIBRARY: LazyLock<Catalogue> = LazyLock::new(library::shipped);

/// Every choice the library offers: position and choice.
static CHOICES: LazyLock<Vec<(String, Choice)>> = LazyLock::new(|| {
    let mut all = Vec::new();
    for position in &LIBRARY.vehicles["furrow-10"].positions {
        for route in [Route::Clean, Route::Rebuild, Route::Renew, Route::LeaveOff] {
            all.push((position.id.clone(), Choice { route, part: None }));
        }
        for part in &LIBRARY.by_class[position.class as usize] {
            let part = Some(LIBRARY.part_names.id(*part).to_owned());
            all.push((position.id.clone(), Choice { route: Route::Convert, part }));
        }
    }
    all
});

fn empty_plan() -> Sheet {
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    sheet.plans.get_mut("wishes").expect("the plan").routes.clear();
    sheet
}

fn edits(picked: &[prop::sample::Index]) -> Vec<Edit> {
    let mut seen = BTreeSet::new();
    picked
        .iter()
        .map(|i| i.get(&CHOICES).clone())
        .filter(|(position, _)| seen.insert(position.clone()))
        .map(|(position, choice)| Edit::Choose { plan: "wishes".into(), position, choice: Some(choice) })
        .collect()
}

fn after(edits: &[Edit]) -> Sheet {
    let mut sheet = empty_plan();
    for edit in edits {
        apply(&mut sheet, edit).expect("the plan is there");
    }
    sheet
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_edits_does_not_matter(picked in prop::collection::vec(any::<prop::sample::Index>(), 0..14)) {
        let forward = edits(&picked);
        let backward: Vec<Edit> = forward.iter().rev().cloned().collect();
        let a = assess(&after(&forward), "wishes", &LIBRARY);
        prop_assert_eq!(&a, &assess(&after(&backward), "wishes", &LIBRARY));
        prop_assert_eq!(&a, &assess(&after(&forward), "wishes", &LIBRARY));
    }

    #[test]
    fn in_hand_never_adds_a_companion(picked in prop::collection::vec(any::<prop::sample::Index>(), 0..14)) {
        let mut sheet = after(&edits(&picked));
        let before = assess(&sheet, "wishes", &LIBRARY);
        for part in LIBRARY.part_names.ids.iter().step_by(3) {
            sheet.lines.entry(part.clone()).or_default().state = LineState::InHand;
        }
        let with = assess(&sheet, "wishes", &LIBRARY);
        let keys = |a: &knockon_core::Assessment| a.companions.iter().map(|c| c.key.clone()).collect::<BTreeSet<_>>();
        prop_assert_eq!(keys(&before), keys(&with));
        prop_assert!(with.totals.to_come <= before.totals.to_come);
    }

    #[test]
    fn a_change_of_mind_takes_away_what_it_brought(
        picked in prop::collection::vec(any::<prop::sample::Index>(), 0..10),
        one in any::<prop::sample::Index>(),
    ) {
        let (position, choice) = one.get(&CHOICES).clone();
        let base: Vec<Edit> = edits(&picked)
            .into_iter()
            .filter(|e| !matches!(e, Edit::Choose { position: p, .. } if *p == position))
            .collect();
        let mut sheet = after(&base);
        let before = assess(&sheet, "wishes", &LIBRARY);
        let choose = |choice| Edit::Choose { plan: "wishes".into(), position: position.clone(), choice };
        apply(&mut sheet, &choose(Some(choice))).expect("the plan is there");
        let _ = assess(&sheet, "wishes", &LIBRARY);
        apply(&mut sheet, &choose(None)).expect("the plan is there");
        prop_assert_eq!(before, assess(&sheet, "wishes", &LIBRARY));
    }

    /// Derivations have no circles, and the totals are the sum of the lines.
    #[test]
    fn reasons_have_no_circles_and_totals_add_up(picked in prop::collection::vec(any::<prop::sample::Index>(), 1..10)) {
        let a = assess(&after(&edits(&picked)), "wishes", &LIBRARY);
        for (at, reason) in a.reasons.iter().enumerate() {
            for premise in &reason.premises {
                prop_assert!((premise.0 as usize) < at, "a premise stands before what rests on it");
            }
        }
        let lines: rust_decimal::Decimal = a.buy.iter().filter(|l| l.waived.is_none())
            .filter_map(|l| l.total.as_ref()).map(|m| m.amount).sum();
        prop_assert_eq!(lines, a.totals.spent + a.totals.committed + a.totals.to_come);
    }

    /// The sum of a pool is the sum of its shares, and its check says what the sum says.
    #[test]
    fn pools_add_up_and_agree_with_their_checks(picked in prop::collection::vec(any::<prop::sample::Index>(), 0..14)) {
        let a = assess(&after(&edits(&picked)), "wishes", &LIBRARY);
        for pool in &a.pools {
            let taken: f64 = pool.takers.iter().filter_map(|t| t.amount).sum();
            let given: f64 = pool.givers.iter().filter_map(|t| t.amount).sum();
            let unknown = pool.takers.iter().chain(&pool.givers).any(|t| t.amount.is_none());
            let near = |x: f64, y: f64| (x - y).abs() <= 1e-9 * (x.abs() + y.abs());
            prop_assert!(near(taken, pool.taken), "{}: {taken} {}", pool.id, pool.taken);
            // the vehicle itself may give as well
            prop_assert!(given <= pool.given * (1.0 + 1e-9) && (pool.unknown || !unknown), "{}", pool.id);
            prop_assert!(near(pool.left + pool.taken + pool.margin, pool.given) || pool.given == 0.0, "{}", pool.id);
            let key = CheckKey::pool(&pool.id);
            if let Some(check) = a.checks.iter().find(|c| c.key == key) {
                let broken = check.answer == knockon_core::assessment::Answer::Broken;
                prop_assert!(!broken || pool.left < 0.0, "{}: {}", pool.id, pool.left);
            }
        }
    }
}

/// The law on pools above has something to hold: a vehicle nobody touched has lamps that load the alternator.
#[test]
fn an_untouched_vehicle_has_takers_of_its_pools() {
    let a = assess(&empty_plan(), "wishes", &LIBRARY);
    assert!(a.pools.iter().any(|pool| pool.takers.len() > 3), "{:?}", a.pools);
}

/// A part that is renewed because the survey condemned it counts once in its pools.
#[test]
fn a_renewed_part_gives_to_a_pool_once() {
    let convert = |position: &str, part: &str| Edit::Choose {
        plan: "wishes".into(),
        position: position.into(),
        choice: Some(Choice { route: Route::Convert, part: Some(part.into()) }),
    };
    let sheet = after(&[convert("wiper-motor", "wiper-electric-wide")]);
    let a = assess(&sheet, "wishes", &LIBRARY);
    assert!(
        a.companions.iter().any(|c| c.key == CompanionKey::survey("harness")),
        "the survey condemns the harness"
    );
    let circuits = a.pools.iter().find(|p| p.id == "circuits").expect("the harness gives circuits");
    assert_eq!((circuits.given, circuits.givers.len()), (6.0, 1));
}
