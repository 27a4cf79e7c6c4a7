//! Laws of what a vehicle that is for sale comes to, on shipped vehicles of which something at random was found bad: once all that
//! nobody looked at is seen to be good, it comes to the least that was told; once all of it is seen to be bad, to the most.
#![allow(clippy::unwrap_used, reason = "a test may stop")]

use knockon_core::candidate::{Candidate, Comes, candidate};
use knockon_core::library::Stage;
use knockon_core::sheet::{Finding, ForSale, Plan, Reading, Seen, Sheet, Verdict};
use knockon_core::survey::{Line, survey};
use knockon_core::{Catalogue, date};
use knockon_store::library;
use proptest::prelude::*;

const VEHICLES: [&str; 3] = ["furrow-10", "larksong-1600", "scree-82"];

fn shipped() -> Catalogue {
    library::shipped().on(date::day("2026-03-01").unwrap())
}

fn for_sale(vehicle: &str) -> Sheet {
    Sheet {
        vehicle: vehicle.to_owned(),
        plan: "plan".to_owned(),
        plans: [("plan".to_owned(), Plan::default())].into(),
        for_sale: Some(ForSale::default()),
        ..Sheet::default()
    }
}

/// What of a line is bad: a word for what is to be renewed, else for what stops the vehicle; or how old it is.
fn bad(sheet: &mut Sheet, line: &Line) {
    if line.is_date {
        sheet.made.insert(line.position.clone(), "1950".to_owned());
        return;
    }
    let word = |verdict| line.words.iter().find(|(_, is)| *is == verdict).map(|(word, _)| word.clone());
    let value = word(Verdict::Renew).or_else(|| word(Verdict::Stop)).unwrap();
    let reading = Reading { of: line.inspection.clone(), value, ..Reading::default() };
    sheet.readings.entry(line.position.clone()).or_default().push(reading);
}

fn same(a: &Comes, b: &Comes) -> bool {
    a.money == b.money && (a.hours - b.hours).abs() < 1e-6 && a.unpriced == b.unpriced
}

fn held(sheet: &Sheet, catalogue: &Catalogue, upto: Stage) -> Result<Candidate, TestCaseError> {
    let told = candidate(sheet, catalogue, upto).unwrap();
    let mut all_good = sheet.clone();
    let mut all_bad = sheet.clone();
    let lines = survey(sheet, "plan", catalogue);
    for question in &told.open {
        let good = Finding { verdict: Verdict::Good, note: String::new(), extra: Default::default() };
        all_good.survey.insert(question.position.clone(), good);
        let of_it = lines.quick().into_iter().filter(|(line, _)| line.position == question.position);
        of_it
            .filter(|(line, _)| line.is_open() && line.stage <= upto)
            .for_each(|(line, _)| bad(&mut all_bad, line));
    }
    let good = candidate(&all_good, catalogue, upto).unwrap();
    prop_assert!(same(&good.least, &told.least), "{:?} is not {:?}", good.least, told.least);
    prop_assert!(same(&good.most, &told.least), "{:?} is not {:?}", good.most, told.least);
    let worst = candidate(&all_bad, catalogue, upto).unwrap();
    prop_assert!(worst.open.is_empty());
    prop_assert!(same(&worst.least, &told.most), "{:?} is not {:?}", worst.least, told.most);
    Ok(told)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn all_good_is_the_least_and_all_bad_is_the_most(
        vehicle in 0..VEHICLES.len(),
        seen in proptest::collection::vec((any::<prop::sample::Index>(), 2..4_usize), 0..8),
        gone in proptest::collection::vec(any::<prop::sample::Index>(), 0..3),
        upto in 0..2_usize,
    ) {
        let catalogue = shipped();
        let mut sheet = for_sale(VEHICLES[vehicle]);
        let places: Vec<String> =
            catalogue.vehicles[VEHICLES[vehicle]].positions.iter().map(|(_, place)| place.id.clone()).collect();
        for (at, verdict) in seen {
            let what = Seen {
                what: "seen".into(), verdict: Verdict::ALL[verdict], on: None, by: String::new(), extra: Default::default(),
            };
            sheet.seen.insert(at.get(&places).clone(), vec![what]);
        }
        for at in gone {
            sheet.as_found.insert(at.get(&places).clone(), None);
        }
        held(&sheet, &catalogue, [Stage::Sound, Stage::Seen][upto])?;
    }
}

#[test]
fn the_walk_before_buying_takes_twenty_minutes_and_looks_at_forty_things() {
    let catalogue = shipped();
    for vehicle in VEHICLES {
        let told = candidate(&for_sale(vehicle), &catalogue, Stage::Sound).unwrap();
        let (none, all) = told.looked;
        assert_eq!(none, 0);
        assert!((38..=56).contains(&all), "{vehicle}: {all}");
        assert!((15.0..=22.0).contains(&(told.seconds / 60.0)), "{vehicle}: {} s", told.seconds);
    }
}
