//! What is said of every route before it is taken, against assessments of the plans so changed.

use std::collections::BTreeMap;

use knockon_core::Amounts;
use knockon_core::assessment::{Offer, PositionView};
use knockon_core::change::counted;
use knockon_core::key::CheckKey;
use knockon_core::sheet::{Choice, Sheet};
use knockon_core::{Assessment, Catalogue, apply, assess, offers};
use knockon_store::{library, sheets};
use knockon_tests::cases::cases;
use knockon_tests::generate::{PLAN, Size, generate, on};
use proptest::prelude::*;

/// Companions that stand in one assessment and not in another, how many of each part.
fn only_in<'a>(a: &'a Assessment, b: &Assessment) -> BTreeMap<(&'a str, &'a str), usize> {
    let keys: BTreeMap<_, _> = b.companions.iter().map(|c| ((&c.key, &c.part), ())).collect();
    let mut out = BTreeMap::new();
    for c in a.companions.iter().filter(|c| !keys.contains_key(&(&c.key, &c.part))) {
        *out.entry((c.part.as_str(), c.name.as_str())).or_default() += 1;
    }
    out
}

/// The names of companions that stand in one assessment and not in another; a part that only somebody else asks for
/// now is in neither list.
fn beyond(a: &Assessment, b: &Assessment) -> Vec<String> {
    let others = only_in(b, a);
    let mut out = Vec::new();
    for (part, count) in only_in(a, b) {
        let gone = others.get(&part).copied().unwrap_or(0);
        out.extend((gone..count).map(|_| part.1.to_owned()));
    }
    out.sort();
    out
}

fn clashes_beyond(a: &Assessment, b: &Assessment) -> Vec<String> {
    let stands = |key: &CheckKey| b.clashes.iter().any(|c| c.key == *key);
    let mut out: Vec<String> = a.clashes.iter().filter(|c| !stands(&c.key)).map(|c| c.name.clone()).collect();
    out.sort();
    out
}

fn sorted(list: &[String]) -> Vec<String> {
    let mut list = list.to_vec();
    list.sort();
    list
}

fn money(a: &Assessment) -> Amounts {
    // what is left out of the plan is not paid for; what was sent back neither
    a.totals.money.all()
}

/// The plan with a route taken.
fn changed(sheet: &Sheet, plan: &str, offer: &Offer) -> Sheet {
    let mut sheet = sheet.clone();
    let choice = Choice { route: offer.route, part: offer.part.clone() };
    if let Some(plan) = sheet.plans.get_mut(plan) {
        plan.routes.insert(offer.position.clone(), choice);
    }
    sheet
}

/// Every offer against the two assessments; how many were compared.
fn compare(sheet: &Sheet, plan: &str, catalogue: &Catalogue) -> Result<usize, TestCaseError> {
    // what is bought stays bought: how many that are is written down before the plan is changed
    let mut written = sheet.clone();
    for edit in counted(sheet, &assess(sheet, plan, catalogue)) {
        apply(&mut written, &edit).map_err(|e| TestCaseError::fail(e.to_string()))?;
    }
    let sheet = &written;
    let before = assess(sheet, plan, catalogue);
    let at = |position: &PositionView| offers(sheet, plan, catalogue, &position.id);
    let all: Vec<Offer> = before.positions.iter().flat_map(at).collect();
    for offer in &all {
        let after = assess(&changed(sheet, plan, offer), plan, catalogue);
        let name = format!("{} {:?} {:?}", offer.position, offer.route, offer.part);
        prop_assert_eq!(sorted(&offer.companions_added), beyond(&after, &before), "{} brings", &name);
        prop_assert_eq!(sorted(&offer.companions_removed), beyond(&before, &after), "{} frees", &name);
        prop_assert_eq!(sorted(&offer.clashes_added), clashes_beyond(&after, &before), "{} breaks", &name);
        prop_assert_eq!(sorted(&offer.clashes_removed), clashes_beyond(&before, &after), "{} heals", &name);
        let unknowns = after.to_measure.len() as i64 - before.to_measure.len() as i64;
        prop_assert_eq!(offer.to_measure, unknowns, "{} leaves open", &name);
        prop_assert!(
            (offer.hours - (after.totals.hours - before.totals.hours)).abs() < 1e-9,
            "{} takes",
            &name
        );
        prop_assert_eq!(&offer.money, &(&money(&after) - &money(&before)), "{} costs", &name);
        if offer.current {
            prop_assert!(offer.money.is_zero() && unknowns == 0, "{} is how it stands", &name);
            prop_assert!(offer.companions_added.is_empty() && offer.clashes_added.is_empty(), "{}", &name);
        }
    }
    Ok(all.len())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(6), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_said_of_a_route_is_so_after_it_is_taken(seed in any::<u64>(), doubt in 0_u8..30) {
        let size = Size { positions: 10, joints: 16, parts: 90, family: 90, choices: 4, types: 5, doubt, twins: 0 };
        let (file, sheet) = generate(seed, size);
        let catalogue = Catalogue::new(vec![("generated".to_owned(), file)]).0.on(on());
        compare(&sheet, PLAN, &catalogue)?;
    }
}

#[test]
fn so_is_what_is_said_of_every_route_of_the_example() -> Result<(), TestCaseError> {
    let sheet =
        sheets::parse("example", library::example()).map_err(|e| TestCaseError::fail(e.to_string()))?;
    let compared = compare(&sheet, "wishes", &library::shipped().on(on()))?;
    assert!(compared > 500, "{compared}");
    Ok(())
}
