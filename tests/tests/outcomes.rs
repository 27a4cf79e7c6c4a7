//! What a remedy would bring is what the plan comes to once it is chosen, and what the plan puts somewhere by itself.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use knockon_core::Amounts;
use knockon_core::assessment::{Assessment, Offer};
use knockon_core::progress::Progress;
use knockon_core::sheet::{Choice, Route};
use knockon_core::{Catalogue, Edit, Sheet, apply, assess, left_to_the_plan, outcomes};

fn example() -> (Sheet, Catalogue) {
    let text = knockon_store::library::example();
    (knockon_store::sheets::parse("the example", text).unwrap(), knockon_store::library::shipped())
}

fn money(a: &Assessment) -> Amounts {
    a.totals.money.all()
}

fn agree(before: &Assessment, after: &Assessment, told: &Offer) {
    assert_eq!(&money(after) - &money(before), told.money, "{told:?}");
    let keys = |a: &Assessment| a.clashes.iter().map(|c| c.key.clone()).collect::<Vec<_>>();
    let (old, new) = (keys(before), keys(after));
    assert_eq!(new.iter().filter(|k| !old.contains(k)).count(), told.clashes_added.len(), "{told:?}");
    assert_eq!(old.iter().filter(|k| !new.contains(k)).count(), told.clashes_removed.len(), "{told:?}");
    assert_eq!(after.to_measure.len() as i64 - before.to_measure.len() as i64, told.to_measure, "{told:?}");
}

#[test]
fn what_a_remedy_brings_is_what_the_plan_comes_to_with_it() {
    let (sheet, catalogue) = example();
    let mut seen = 0;
    for plan in sheet.plans.keys() {
        let before = assess(&sheet, plan, &catalogue);
        let found = |place: &String, part: &String| {
            let there = before.positions.iter().find(|p| p.id == *place).unwrap();
            there.as_found.as_ref().is_some_and(|(id, _)| id == part)
        };
        let choices: Vec<(String, Choice)> = before
            .clashes
            .iter()
            .flat_map(|c| &c.remedies)
            .filter_map(|r| r.choice.as_ref())
            .map(|(place, part)| match found(place, part) {
                true => (place.clone(), Choice { route: Route::Keep, part: None }),
                false => (place.clone(), Choice { route: Route::Convert, part: Some(part.clone()) }),
            })
            .collect();
        for ((place, choice), told) in
            choices.iter().zip(outcomes(&sheet, plan, &catalogue, &choices, &Progress::default()))
        {
            let mut changed = sheet.clone();
            let (plan, position) = (plan.clone(), place.clone());
            let choose = Edit::Choose { plan: plan.clone(), position, choice: Some(choice.clone()) };
            apply(&mut changed, &choose).unwrap();
            agree(&before, &assess(&changed, &plan, &catalogue), &told.unwrap());
            seen += 1;
        }
    }
    assert!(seen > 5, "the example shows clashes with remedies");
}

#[test]
fn a_word_nobody_knows_brings_nothing() {
    let (sheet, catalogue) = example();
    let (place, plan) = ("nowhere".to_owned(), sheet.plan.as_str());
    let unknown = Choice { route: Route::Convert, part: Some("nothing-of-the-kind".to_owned()) };
    let choices = [(place, Choice::default()), ("tank".to_owned(), unknown)];
    assert_eq!(outcomes(&sheet, plan, &catalogue, &choices, &Progress::default()), [None, None]);
    assert_eq!(outcomes(&sheet, "no-plan", &catalogue, &choices, &Progress::default()), [None, None]);
    assert_eq!(left_to_the_plan(&sheet, plan, &catalogue, "nowhere"), None);
    assert_eq!(left_to_the_plan(&sheet, "no-plan", &catalogue, "tank"), None);
}

#[test]
fn a_place_is_left_to_the_plan_where_the_plan_puts_something_there() {
    let (sheet, catalogue) = example();
    let mut filled = 0;
    for plan in sheet.plans.keys() {
        let a = assess(&sheet, plan, &catalogue);
        for p in &a.positions {
            let left = left_to_the_plan(&sheet, plan, &catalogue, &p.id);
            let chosen = sheet.plans[plan].routes.contains_key(&p.id);
            if !chosen {
                assert_eq!(left.is_some(), p.filled, "{plan}: {}", p.id);
            }
            let Some(left) = left else { continue };
            assert_eq!(left.current, !chosen, "{plan}: {}", p.id);
            let mut changed = sheet.clone();
            let (plan, position) = (plan.clone(), p.id.clone());
            apply(&mut changed, &Edit::Choose { plan: plan.clone(), position, choice: None }).unwrap();
            let after = assess(&changed, &plan, &catalogue);
            let there = after.positions.iter().find(|x| x.id == p.id).unwrap();
            assert_eq!(there.fitted.as_ref().map_or("nothing", |f| f.1.as_str()), left.name);
            agree(&a, &after, &left);
            filled += 1;
        }
    }
    assert!(filled > 10);
}
