//! Two plans side by side: the stair of causes ends at the difference of their sums, nothing left over.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use knockon_core::assessment::BuyLine;
use knockon_core::compare::compare;
use knockon_core::edit::{Edit, apply};
use knockon_core::refund::CameBack;
use knockon_core::sheet::{LineState, Sheet};
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
