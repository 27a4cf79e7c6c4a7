//! What can hurt somebody stays in view: what the survey stopped, and what is left out though people depend on it, on the
//! sheet, in every list and in every export.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::sync::LazyLock;

use knockon_core::key::{CheckKey, CompanionKey};
use knockon_core::sheet::{Choice, Finding, Line, LineState, Plan, Route, Verdict};
use knockon_core::{Assessment, Catalogue, Sheet, assess};
use knockon_report::buy_csv::buy_csv;
use knockon_report::text::buy;
use knockon_store::{library, sheets};

static LIBRARY: LazyLock<Catalogue> = LazyLock::new(library::shipped);

fn untouched() -> Sheet {
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    sheet.survey.clear();
    sheet.readings.clear();
    sheet.plans.get_mut("sound").expect("the plan").routes.clear();
    sheet
}

fn plan(sheet: &mut Sheet) -> &mut Plan {
    sheet.plans.get_mut("sound").expect("the plan")
}

fn stopped() -> Sheet {
    let mut sheet = untouched();
    let finding = Finding { verdict: Verdict::Stop, note: "cracked".to_owned(), extra: Default::default() };
    sheet.survey.insert("front-brake-hoses".to_owned(), finding);
    sheet
}

fn says_stop(a: &Assessment) -> bool {
    a.cautions.iter().any(|c| c.id == "stop" && c.positions.contains(&"front-brake-hoses".to_owned()))
}

#[test]
fn what_the_survey_stopped_is_a_caution_until_it_is_cured() {
    let mut sheet = stopped();
    let a = assess(&sheet, "sound", &LIBRARY);
    assert!(says_stop(&a));
    let hose = a
        .companions
        .iter()
        .find(|c| c.key == CompanionKey::survey("front-brake-hoses"))
        .expect("the hose")
        .part
        .clone();
    // left out: the caution stays, and the danger is that of the verdict, not of the fluid
    plan(&mut sheet).waived.insert(CompanionKey::survey("front-brake-hoses"), "later".to_owned());
    let a = assess(&sheet, "sound", &LIBRARY);
    assert!(says_stop(&a));
    let place = a.positions.iter().find(|p| p.id == "front-brake-hoses").expect("the place");
    assert_eq!(place.left_out, [CompanionKey::survey("front-brake-hoses")]);
    assert!(place.verdict_stands);
    let left_out =
        a.companions.iter().find(|c| c.key == CompanionKey::survey("front-brake-hoses")).expect("the hose");
    let danger = left_out.danger.clone().expect("a danger");
    assert!(danger.contains("may not be driven"), "{danger}");
    for list in [buy(&a), buy_csv(&a)] {
        assert!(list.contains("later") && list.contains(&danger), "{list}");
    }
    // fitted, or another route: cured
    plan(&mut sheet).waived.clear();
    sheet.lines.insert(hose, Line { state: LineState::Fitted, ..Line::default() });
    assert!(!says_stop(&assess(&sheet, "sound", &LIBRARY)));
    sheet.lines.clear();
    let renew = Choice { route: Route::Renew, part: None };
    plan(&mut sheet).routes.insert("front-brake-hoses".to_owned(), renew);
    let a = assess(&sheet, "sound", &LIBRARY);
    let answered = a.positions.iter().find(|p| p.id == "front-brake-hoses").expect("the place");
    assert!(!says_stop(&a) && !answered.verdict_stands);
}

/// What is left out says what happens then, never what is dangerous about other work on it: a valve of the brakes does
/// not blind, a fuse does not weld.
#[test]
fn what_is_left_out_says_what_happens_without_it() {
    let danger = |place: &str, part: &str, left_out: &str| {
        let mut sheet = untouched();
        let choice = Choice { route: Route::Convert, part: Some(part.to_owned()) };
        plan(&mut sheet).routes.insert(place.to_owned(), choice);
        let a = assess(&sheet, "sound", &LIBRARY);
        let key = a.companions.iter().find(|c| c.part == left_out).map(|c| c.key.clone()).expect(left_out);
        plan(&mut sheet).waived.insert(key.clone(), "later".to_owned());
        let a = assess(&sheet, "sound", &LIBRARY);
        let companion = a.companions.iter().find(|c| c.key == key).expect(left_out);
        companion.danger.clone().expect(left_out)
    };
    for (place, part, left_out, says) in [
        ("front-brakes", "disc-kit-285", "residual-10-removed-both", "the brakes drag"),
        ("front-brakes", "disc-kit-285", "residual-valve-2", "the pedal goes long"),
        ("front-brakes", "disc-kit-285", "residual-valve-10-rear", "the pedal sinks"),
        ("generator", "alternator-100-three-wire", "charge-link-125", "burns the whole charge cable"),
        ("harness", "harness-18", "main-link-80", "burns the whole harness"),
        ("fuel-pump", "pump-electric-4-7", "inertia-switch-20", "feeds a fire"),
        ("fan", "fan-electric-14-slim", "relay-feed-30", "cannot carry the load"),
        ("seat-belts", "belts-lap-three", "belt-plate-75", "pulls out"),
        ("seat-belts", "belts-lap-three", "seat-bolt-plates", "the seat breaks away"),
        ("tank", "tank-rails-68", "rollover-valve-8", "lies on its side"),
    ] {
        let told = danger(place, part, left_out);
        assert!(told.to_lowercase().contains(&says.to_lowercase()), "{left_out}: {told}");
    }
}

/// Outside its limit where people can be hurt: required, with a caution until it is cured, and told where it is left out.
#[test]
fn what_is_outside_its_limit_may_not_be_kept_where_people_can_be_hurt() {
    use knockon_core::library::Level;
    for (place, is_required) in [
        ("battery-tray", true),
        ("clutch-cover", true),
        ("front-brakes", true),
        ("master-cylinder", true),
        ("wheel-nuts", true),
        ("bed", false),
        ("spark-plugs", false),
    ] {
        let mut sheet = untouched();
        let finding = Finding { verdict: Verdict::Renew, note: "worn".to_owned(), extra: Default::default() };
        sheet.survey.insert(place.to_owned(), finding);
        plan(&mut sheet).routes.insert(place.to_owned(), Choice { route: Route::Keep, part: None });
        let key = CompanionKey::survey(place);
        let told = |sheet: &Sheet| {
            let a = assess(sheet, "sound", &LIBRARY);
            let cure = a.companions.iter().find(|c| c.key == key).expect(place).clone();
            (cure, a.cautions.iter().any(|c| c.id == "renew" && c.positions.iter().any(|p| p == place)))
        };
        let (cure, is_caution) = told(&sheet);
        assert_eq!((cure.level == Level::Required, is_caution), (is_required, is_required), "{place}");
        plan(&mut sheet).waived.insert(key.clone(), "later".to_owned());
        let (cure, is_caution) = told(&sheet);
        assert_eq!((cure.danger.is_some(), is_caution), (is_required, is_required), "{place}, left out");
    }
}

/// A throttle cable left out is no joint made.
#[test]
fn a_required_part_left_out_is_told_where_it_is_missing() {
    let mut sheet = untouched();
    let kit = Choice { route: Route::Convert, part: Some("two-barrel-kit".to_owned()) };
    plan(&mut sheet).routes.insert("carburettor".to_owned(), kit);
    let a = assess(&sheet, "sound", &LIBRARY);
    assert!(a.positions.iter().all(|p| p.left_out.is_empty()));
    let mut keys = a.companions.iter().map(|c| &c.key);
    let of_bridge = |key: &CompanionKey| match key {
        CompanionKey::Bridge { joint, .. } => Some((key.clone(), CheckKey::joint(joint))),
        _ => None,
    };
    let (bridge, check) = keys.find_map(of_bridge).expect("a bridge");
    plan(&mut sheet).waived.insert(bridge.clone(), "the old one will do".to_owned());
    let a = assess(&sheet, "sound", &LIBRARY);
    let without: Vec<_> = a.positions.iter().filter(|p| p.left_out.contains(&bridge)).collect();
    let joint = a.checks.iter().find(|c| c.key == check).expect("the joint");
    assert!(without.len() >= 2 && without.iter().all(|p| joint.positions.contains(&p.id)), "{without:?}");
}

/// What was condemned is never named as the way out of a clash.
#[test]
fn a_condemned_part_is_no_remedy() {
    let library = library::shipped();
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    let as_found = |a: &Assessment, place: &str, part: &str| {
        let place = a.positions.iter().find(|p| p.id == place);
        place.and_then(|p| p.as_found.as_ref()).is_some_and(|(id, _)| id == part)
    };
    let kept = |a: &Assessment| -> Vec<(String, String)> {
        let choices = a.clashes.iter().flat_map(|c| &c.remedies).filter_map(|r| r.choice.clone());
        choices.filter(|(place, part)| as_found(a, place, part)).collect()
    };
    let before = kept(&assess(&sheet, "wishes", &library));
    sheet.survey.clear();
    sheet.readings.clear();
    let sound = kept(&assess(&sheet, "wishes", &library));
    assert!(!sound.is_empty(), "some clash is cleared by keeping what is there");
    for (place, _) in &sound {
        let finding = Finding { verdict: Verdict::Renew, note: String::new(), extra: Default::default() };
        sheet.survey.insert(place.clone(), finding);
    }
    let after = kept(&assess(&sheet, "wishes", &library));
    assert!(after.is_empty(), "{after:?}");
    assert!(before.len() <= sound.len());
}

#[test]
fn what_was_sent_back_and_is_still_wanted_is_to_be_bought_again() {
    let mut sheet = stopped();
    let a = assess(&sheet, "sound", &LIBRARY);
    let line = a.buy.iter().find(|l| l.total.is_some()).expect("a line with a price").clone();
    let total = line.total.expect("a price").amount;
    let with = |sheet: &mut Sheet, state| {
        let paid = line.price.clone();
        sheet.lines.insert(line.part.clone(), Line { state, paid, ..Line::default() });
        let money = assess(sheet, "sound", &LIBRARY).totals.money;
        (money.spent.of("USD"), money.to_come.of("USD"))
    };
    let (spent, to_come) = with(&mut sheet, LineState::InHand);
    assert_eq!(with(&mut sheet, LineState::SentBack), (spent - total, to_come + total));
}
