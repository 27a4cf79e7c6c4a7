//! Two plans side by side: the stair of causes ends at the difference of their sums, nothing left over.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use knockon_core::assessment::BuyLine;
use knockon_core::compare::{compare, take_over, traces};
use knockon_core::edit::{Edit, apply};
use knockon_core::refund::CameBack;
use knockon_core::sheet::{Choice, LineState, Plan, Route, Sheet};
use knockon_core::{Amounts, Assessment, Catalogue, Money, assess};
use knockon_store::library;
use knockon_tests::cases::cases;
use knockon_tests::random_plan::eight_chosen;
use rust_decimal::Decimal;

fn example() -> Sheet {
    knockon_store::sheets::parse("the example", library::example()).unwrap()
}

/// The causes add up to the difference, to the cent; so do the hours.
fn adds_up(sheet: &Sheet, catalogue: &Catalogue, from: &Assessment, to: &Assessment, what: &str) {
    let found = compare(sheet, catalogue, from, to);
    assert_eq!(found.money, &to.totals.money.all() - &from.totals.money.all(), "{what}");
    let mut sum = Amounts::default();
    found.causes.iter().for_each(|cause| sum = &sum + &cause.money);
    assert_eq!(sum, found.money, "{what}: {:#?}", found.causes);
    let hours: f64 = found.causes.iter().map(|cause| cause.hours).sum();
    assert!((hours - found.hours).abs() < 1e-6, "{what}: {hours} {}", found.hours);
    // what both have alike, whoever asks for it, is in no cause
    for line in from.buy.iter().filter(|l| l.waived.is_none()) {
        let alike = |l: &&BuyLine| l.part == line.part && l.waived.is_none() && l.qty == line.qty;
        let named_so = |l: &&BuyLine| l.name == line.name;
        if to.buy.iter().any(|l| alike(&l)) && to.buy.iter().filter(named_so).count() == 1 {
            let told = |names: &Vec<String>| names.contains(&line.name);
            assert!(!found.causes.iter().any(|c| told(&c.added) || told(&c.saved)), "{what}: {}", line.name);
        }
    }
    // and back again it is the same with the other sign
    let back = compare(sheet, catalogue, to, from);
    assert_eq!(&back.money + &found.money, Amounts::default(), "{what}");
}

/// A record of buying over the lines of a plan: some in hand at a price, some on order, some fitted.
fn bought(sheet: &mut Sheet, catalogue: &Catalogue, plan: &str, seed: u64) {
    let mut rng = fastrand::Rng::with_seed(seed);
    for line in &assess(sheet, plan, catalogue).buy {
        let state = match rng.u8(0..7) {
            0 => LineState::OnOrder,
            1 => LineState::InHand,
            2 => LineState::Fitted,
            3 => LineState::SentBack,
            _ => continue,
        };
        apply(sheet, &Edit::SetLine { part: line.part.clone(), state }).unwrap();
        if rng.bool() {
            let paid = line.price.clone();
            apply(sheet, &Edit::SetPaid { part: line.part.clone(), paid: paid.clone() }).unwrap();
            // some of it came back, in its own currency or in another
            if let Some(paid) = paid.filter(|_| rng.u8(0..3) == 0) {
                let currency = if rng.u8(0..4) == 0 { "EUR".to_owned() } else { paid.currency };
                let amount = Some(Money { amount: (paid.amount / Decimal::from(3)).round_dp(2), currency });
                apply(sheet, &Edit::SetCameBack { part: line.part.clone(), what: CameBack::Core, amount })
                    .unwrap();
            }
        }
    }
}

#[test]
fn the_causes_of_random_pairs_end_at_the_difference() {
    let (sheet, catalogue) = (example(), library::shipped());
    for seed in 0..u64::from(cases(60)) {
        let mut sheet = sheet.clone();
        for (id, n) in [("a", 2 * seed), ("b", 2 * seed + 1)] {
            sheet.plans.insert(id.to_owned(), eight_chosen(n, &sheet.vehicle, &catalogue));
        }
        if seed % 2 == 1 {
            bought(&mut sheet, &catalogue, "a", seed);
        }
        let (from, to) = (assess(&sheet, "a", &catalogue), assess(&sheet, "b", &catalogue));
        adds_up(&sheet, &catalogue, &from, &to, &format!("seed {seed}"));
    }
}

#[test]
fn the_plans_of_the_example_are_told_apart_by_the_places_that_differ() {
    let (sheet, catalogue) = (example(), library::shipped());
    let plans: Vec<&String> = sheet.plans.keys().collect();
    for from in &plans {
        for to in &plans {
            let (a, b) = (assess(&sheet, from, &catalogue), assess(&sheet, to, &catalogue));
            adds_up(&sheet, &catalogue, &a, &b, &format!("{from} to {to}"));
            if from == to {
                assert!(compare(&sheet, &catalogue, &a, &b).causes.is_empty());
            }
        }
    }
    let (a, b) = (assess(&sheet, "wishes", &catalogue), assess(&sheet, "worked-out", &catalogue));
    let found = compare(&sheet, &catalogue, &a, &b);
    let generator = found.causes.iter().find(|c| c.position.as_deref() == Some("generator")).unwrap();
    assert!(
        generator.from.as_ref().unwrap().contains("65 A") && generator.to.as_ref().unwrap().contains("100 A")
    );
    // a cause is a choice of the owner's that differs, or one whose part asks for something else now
    let routes = |plan: &str| &sheet.plans[plan].routes;
    let differs = |id: &str| routes("wishes").get(id) != routes("worked-out").get(id);
    let own = found.causes.iter().filter(|c| c.position.as_deref().is_some_and(differs)).count();
    assert!(own * 2 > found.causes.len(), "{:#?}", found.causes);
    // work on a part counts for the place where the part sits
    let sound = assess(&sheet, "sound", &catalogue);
    let works = compare(&sheet, &catalogue, &sound, &b);
    let whole = works.causes.iter().filter(|c| c.position.is_none());
    assert!(whole.flat_map(|c| &c.saved).all(|name| !name.starts_with("Rebuild: ")), "{:#?}", works.causes);
    // what is in both is no cause
    assert!(
        found.causes.iter().all(|c| !c.money.is_zero()
            || c.hours.abs() > 1e-9
            || !c.added.is_empty()
            || !c.saved.is_empty())
    );
}

/// Taking over every choice that differs makes the one plan the other, and there is nothing left to take.
#[test]
fn all_choices_taken_over_make_the_other_plan() {
    let catalogue = library::shipped();
    let sheets = [
        example(),
        knockon_tests::examples::example("scree-82"),
        knockon_tests::examples::example("larksong-1600"),
    ];
    for seed in 0..u64::from(cases(40)) {
        let mut sheet = sheets[usize::try_from(seed).unwrap() % sheets.len()].clone();
        for (id, n) in [("a", 2 * seed + 7_000), ("b", 2 * seed + 7_001)] {
            sheet.plans.insert(id.to_owned(), eight_chosen(n, &sheet.vehicle, &catalogue));
        }
        let to = assess(&sheet, "b", &catalogue);
        // what is brought in comes with choices of its own, so it is taken over in rounds
        for round in 0.. {
            let from = assess(&sheet, "a", &catalogue);
            let found = compare(&sheet, &catalogue, &from, &to);
            let all = found.causes.iter().chain(&found.even);
            let edits: Vec<Edit> =
                all.flat_map(|cause| take_over(&sheet, &from, &to, cause.position.as_deref())).collect();
            if edits.is_empty() {
                assert!(found.causes.is_empty() && found.even.is_empty(), "seed {seed}: {found:#?}");
                assert_eq!(from.totals.money, to.totals.money, "seed {seed}");
                break;
            }
            assert!(round < 3, "seed {seed}: {edits:#?}");
            edits.iter().for_each(|edit| apply(&mut sheet, edit).unwrap());
        }
    }
}

/// Of two places that have the same part the cause is the one where the plans differ, whichever is the first.
#[test]
fn of_two_places_with_one_part_the_cause_is_the_one_that_differs() {
    let (mut sheet, catalogue) = (knockon_tests::examples::example("scree-82"), library::shipped());
    // what was found renews nothing by itself here
    sheet.survey.clear();
    sheet.readings.clear();
    sheet.seen.clear();
    let renew = || Choice { route: Route::Renew, part: None };
    for (id, places) in [("a", &["front-dampers"][..]), ("b", &["front-dampers", "rear-dampers"])] {
        let routes = places.iter().map(|place| ((*place).to_owned(), renew())).collect();
        sheet.plans.insert(id.to_owned(), Plan { routes, ..Plan::default() });
    }
    let (a, b) = (assess(&sheet, "a", &catalogue), assess(&sheet, "b", &catalogue));
    for (from, to) in [(&a, &b), (&b, &a)] {
        let found = compare(&sheet, &catalogue, from, to);
        let dear: Vec<_> = found.causes.iter().filter(|cause| !cause.money.is_zero()).collect();
        assert!(!dear.is_empty() && found.even.is_empty(), "{found:#?}");
        for cause in dear {
            assert_eq!(cause.position.as_deref(), Some("rear-dampers"), "{found:#?}");
            assert!(!take_over(&sheet, from, to, cause.position.as_deref()).is_empty());
        }
    }
}

/// One cause taken over changes nothing at the places where the plans are alike, and is a cause no more.
#[test]
fn a_choice_taken_over_is_as_in_the_other_plan() {
    let (sheet, catalogue) = (example(), library::shipped());
    let (from, to) = (assess(&sheet, "wishes", &catalogue), assess(&sheet, "worked-out", &catalogue));
    let found = compare(&sheet, &catalogue, &from, &to);
    let generator = found.causes.iter().find(|c| c.position.as_deref() == Some("generator")).unwrap();
    let edits = take_over(&sheet, &from, &to, generator.position.as_deref());
    assert!(matches!(&edits[0], Edit::Choose { plan, .. } if plan == "wishes"), "{edits:?}");
    let mut taken = sheet.clone();
    edits.iter().for_each(|edit| apply(&mut taken, edit).unwrap());
    let now = assess(&taken, "wishes", &catalogue);
    let left = compare(&taken, &catalogue, &now, &to);
    assert!(take_over(&taken, &now, &to, Some("generator")).is_empty());
    assert!(left.causes.len() < found.causes.len());
    // where the plan as a whole is the cause, and where nothing is, nothing can be taken
    assert!(take_over(&sheet, &from, &to, None).is_empty());
    assert!(take_over(&sheet, &from, &from, Some("generator")).is_empty());
}

/// What leaves a trace counts once, where it stays; what is left out leaves none.
#[test]
fn traces_are_counted_where_they_stay() {
    let (sheet, catalogue) = (example(), library::shipped());
    let own = catalogue.for_sheet(&sheet);
    let a = assess(&sheet, "worked-out", &catalogue);
    let all = traces(&a, &own);
    assert!(all.iter().any(|t| t.reversible == knockon_core::library::Reversible::No), "{all:#?}");
    assert!(all.iter().all(|t| t.system.is_some() && !t.undone.is_empty()), "{all:#?}");
    let companion = a.companions.iter().find(|c| c.reversible != knockon_core::library::Reversible::Yes);
    let key = companion.unwrap().key.clone();
    let mut without = sheet.clone();
    let edit = Edit::Waive { plan: a.plan.clone(), key, reason: Some("not wanted".to_owned()) };
    apply(&mut without, &edit).unwrap();
    let b = assess(&without, "worked-out", &catalogue);
    assert!(traces(&b, &own).len() < all.len());
    // the bare vehicle as it was found has none
    let mut bare = sheet.clone();
    bare.plans.entry("sound".to_owned()).and_modify(|plan| plan.routes.clear());
    bare.survey.clear();
    bare.readings.clear();
    assert!(traces(&assess(&bare, "sound", &catalogue), &own).is_empty());
}
