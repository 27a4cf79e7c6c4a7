//! Laws of `assess`, tried on random plans over the shipped library.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use knockon_core::assessment::Companion;
use knockon_core::key::{CheckKey, CompanionKey};
use knockon_core::sheet::{Choice, LineState, Route};
use knockon_core::{Amounts, Catalogue, Edit, Money, Sheet, apply, assess};
use knockon_store::{library, sheets};
use knockon_tests::cases::cases;
use knockon_tests::generate::{PLAN, Size, generate};
use proptest::prelude::*;

static LIBRARY: LazyLock<Catalogue> = LazyLock::new(library::shipped);

/// Every choice the library offers: position and choice.
static CHOICES: LazyLock<Vec<(String, Choice)>> = LazyLock::new(|| {
    let mut all = Vec::new();
    for position in LIBRARY.vehicles["furrow-10"].positions.values() {
        for route in [Route::Clean, Route::Rebuild, Route::Renew, Route::LeaveOff] {
            all.push((position.id.clone(), Choice { route, part: None }));
        }
        for part in &LIBRARY.by_class[position.class] {
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
    #![proptest_config(ProptestConfig { cases: cases(96), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_edits_does_not_matter(picked in prop::collection::vec(any::<prop::sample::Index>(), 0..14)) {
        let forward = edits(&picked);
        let backward: Vec<Edit> = forward.iter().rev().cloned().collect();
        let a = assess(&after(&forward), "wishes", &LIBRARY);
        prop_assert_eq!(&a, &assess(&after(&backward), "wishes", &LIBRARY));
        prop_assert_eq!(&a, &assess(&after(&forward), "wishes", &LIBRARY));
    }

    /// What lies on the bench is free, and may go in where another part would.
    #[test]
    fn in_hand_makes_no_plan_worse_or_dearer(picked in prop::collection::vec(any::<prop::sample::Index>(), 0..14)) {
        let mut sheet = after(&edits(&picked));
        let before = assess(&sheet, "wishes", &LIBRARY);
        for part in LIBRARY.part_names.ids.values().step_by(3) {
            sheet.lines.entry(part.clone()).or_default().state = LineState::InHand;
        }
        let with = assess(&sheet, "wishes", &LIBRARY);
        let said = format!("{:?} {:?} {:?} {}", edits(&picked), with.order, before.order, with.proved);
        // a vehicle full of what is not made for it may not be searched through
        prop_assume!(with.proved);
        prop_assert!(with.order <= before.order, "{said}");
        prop_assert!(with.totals.money.to_come <= before.totals.money.to_come);
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
        let lines: Amounts = a.buy.iter().filter(|l| l.waived.is_none()).filter_map(|l| l.total.as_ref()).collect();
        let m = &a.totals.money;
        prop_assert_eq!(&(&lines + &m.idle) + &m.idle_on_order, m.all());
    }

    /// Money spent stays spent, and on order what is on order, whatever the plan becomes; what of it the plan does not want
    /// lies idle, and the rows of the board and what lies idle add up to the sums.
    #[test]
    fn money_spent_stays_spent(
        picked in prop::collection::vec(any::<prop::sample::Index>(), 1..10),
        then in prop::collection::vec(any::<prop::sample::Index>(), 0..14),
        bought in prop::collection::vec((any::<prop::sample::Index>(), 0_usize..3, any::<bool>()), 1..12),
    ) {
        let mut sheet = after(&edits(&picked));
        let a = assess(&sheet, "wishes", &LIBRARY);
        for (at, state, euros) in bought.into_iter().filter(|_| !a.buy.is_empty()) {
            let line = at.get(&a.buy);
            let state = [LineState::OnOrder, LineState::InHand, LineState::Fitted][state];
            let price = if euros { "7.25 EUR" } else { "6.50 USD" };
            let record = sheet.lines.entry(line.part.clone()).or_default();
            (record.state, record.qty, record.paid) = (state, Some(line.qty), price.parse().ok());
        }
        let before = assess(&sheet, "wishes", &LIBRARY);
        for edit in edits(&then) {
            apply(&mut sheet, &edit).expect("the plan is there");
        }
        let a = assess(&sheet, "wishes", &LIBRARY);
        let (was, is) = (&before.totals.money, &a.totals.money);
        prop_assert_eq!((&was.spent, &was.committed), (&is.spent, &is.committed));
        let lines: Amounts = a.buy.iter().filter(|l| l.waived.is_none()).filter_map(|l| l.total.as_ref()).collect();
        prop_assert_eq!(&(&lines + &is.idle) + &is.idle_on_order, is.all());
        let companions = a.companions.iter().filter(|c| c.waived.is_none()).filter_map(Companion::cost);
        let rows: Vec<Money> = a.positions.iter().filter_map(|p| p.price.clone()).chain(companions).collect();
        prop_assert_eq!(rows.iter().collect::<Amounts>(), lines);
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

/// Nothing that lies in a box is sold again: of every part no more is bought and taken out of boxes than is wanted, and
/// none is bought while one of it goes nowhere.
fn no_box_is_sold_again(
    a: &knockon_core::Assessment,
    plan: &knockon_core::sheet::Plan,
) -> Result<usize, TestCaseError> {
    let mut wanted: BTreeMap<&str, u32> = BTreeMap::new();
    for c in a.companions.iter().filter(|c| c.waived.is_none()) {
        *wanted.entry(&c.part).or_default() += c.qty;
    }
    for p in &a.positions {
        let route = plan.routes.get(&p.id).map(|c| c.route);
        if let (Some(Route::Convert | Route::Renew), Some((part, _))) = (route, &p.fitted) {
            *wanted.entry(part).or_default() += p.qty;
        }
    }
    let line = |part: &str| a.buy.iter().find(|l| l.part == part && l.waived.is_none());
    let mut boxed: BTreeMap<&str, (u32, u32)> = BTreeMap::new();
    for l in &a.boxes {
        let goes: u32 = l.goes.iter().map(|to| to.qty).sum();
        prop_assert_eq!(goes + l.spare, l.qty, "{}", &l.key);
        let entry = boxed.entry(&l.key.part).or_default();
        // what a kit puts into its own place nobody else wants
        let placed = |to: &&knockon_core::assessment::BoxUse| {
            let at =
                a.positions.iter().find(|p| to.companion.is_none() && Some(&p.id) == to.position.as_ref());
            at.is_some_and(|p| p.boxed == 0)
        };
        let placed: u32 = l.goes.iter().filter(placed).map(|to| to.qty).sum();
        entry.0 += goes - placed;
        entry.1 += l.spare;
    }
    for (part, (used, spare)) in &boxed {
        let bought = line(part).map_or(0, |l| l.qty);
        let most = wanted.get(part).copied().unwrap_or(0);
        prop_assert!(
            bought + used <= most,
            "{}: {} bought, {} out of boxes, {} wanted",
            part,
            bought,
            used,
            most
        );
        prop_assert!(*spare == 0 || bought == 0, "{}: {} bought, {} spare", part, bought, spare);
    }
    Ok(boxed.values().filter(|(used, _)| *used > 0).count())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(96), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_in_a_box_of_the_example_is_sold_again(picked in prop::collection::vec(any::<prop::sample::Index>(), 0..20)) {
        let sheet = after(&edits(&picked));
        no_box_is_sold_again(&assess(&sheet, "wishes", &LIBRARY), &sheet.plans["wishes"])?;
    }
}

#[test]
fn nothing_in_a_box_of_generated_sheets_is_sold_again() -> Result<(), TestCaseError> {
    let mut used = 0;
    for seed in 0..400 {
        let types = 1 + seed as usize % 8;
        let size = Size {
            positions: 10,
            joints: 20,
            parts: 80,
            family: 80,
            choices: 7,
            types,
            doubt: 10,
            twins: if seed % 2 == 0 { 0 } else { 30 },
        };
        let (file, sheet) = generate(seed, size);
        let (catalogue, _) = Catalogue::new(vec![("generated".to_owned(), file)]);
        let a = assess(&sheet, PLAN, &catalogue);
        used += no_box_is_sold_again(&a, &sheet.plans[PLAN])?;
    }
    assert!(used > 50, "{used}");
    Ok(())
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
