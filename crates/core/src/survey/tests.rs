//! The least survey that shows each rule.

use serde_json::{Value as Json, json};

use super::*;
use crate::assess;
use crate::assess::least::{Least, PLAN};
use crate::edit::{Edit, EditError, apply};
use crate::key::CompanionKey;
use crate::sheet::{Choice, Finding, Seen};

fn library(more: Json) -> Json {
    let mut play = json!({
        "for": ["hub"], "zone": "round", "kind": "length", "accuracy": "0.5 mm", "method": "pull, to 0.5 mm",
        "good": {"most": "2 mm"}, "watch": {"most": "4 mm"},
        "words": {"dry": "good", "damp": "watch", "drips": "stop"}, "route": "rebuild", "source": "common practice"
    });
    if let (Some(play), Some(more)) = (play.as_object_mut(), more.as_object()) {
        play.extend(more.clone());
    }
    json!({
        "classes": {"hub": {}},
        "zones": {"round": {"order": 1}},
        "inspections": {"play": play},
        "parts": {"old-hub": {"class": "hub", "price": "20.00 USD", "rebuild": {"price": "5.00 USD", "hours": 1}}},
        "vehicle": {"positions": {"hub": {"class": "hub", "as_found": "old-hub"}}}
    })
}

fn cart(more: Json) -> Least {
    Least::new(library(more))
}

fn reading(value: &str, on: &str) -> Reading {
    Reading {
        of: "play".into(),
        value: value.into(),
        on: (!on.is_empty()).then(|| on.into()),
        ..Reading::default()
    }
}

fn read(mut least: Least, readings: Vec<Reading>) -> Survey {
    least.sheet.readings.insert("hub".into(), readings);
    survey(&least.sheet, PLAN, &least.catalogue)
}

fn outcome(least: Least, value: &str) -> Outcome {
    read(least, vec![reading(value, "")]).lines[0].outcome.clone()
}

#[test]
fn a_reading_is_held_to_its_bands_and_its_tool() {
    let said = |value| outcome(cart(json!({})), value);
    assert_eq!(said("1.4 mm"), Outcome::Verdict(Verdict::Good));
    assert_eq!(said("1.6 mm"), Outcome::Undecided { better: Verdict::Good, worse: Verdict::Watch });
    // how far it may be off is written beside it: that counts
    assert_eq!(said("1.6 mm ±0.1 mm"), Outcome::Verdict(Verdict::Good));
    assert_eq!(said("2 mm ±0 mm"), Outcome::Verdict(Verdict::Good));
    assert_eq!(said("3"), Outcome::Verdict(Verdict::Watch));
    assert_eq!(said("5 mm"), Outcome::Verdict(Verdict::Renew));
    assert_eq!(outcome(cart(json!({"stop": true})), "5 mm"), Outcome::Verdict(Verdict::Stop));
    let farther = json!({"renew": {"most": "10 mm"}});
    assert_eq!(outcome(cart(farther.clone()), "9 mm"), Outcome::Verdict(Verdict::Renew));
    assert_eq!(outcome(cart(farther), "11 mm"), Outcome::Verdict(Verdict::Stop));
}

#[test]
fn what_is_not_measured_is_never_good() {
    let least = cart(json!({}));
    let found = survey(&least.sheet, PLAN, &least.catalogue);
    assert_eq!((found.lines[0].outcome.clone(), found.open().count()), (Outcome::ToMeasure, 1));
    // looked at is not measured
    assert_eq!(outcome(cart(json!({})), "dry"), Outcome::ToMeasure);
    assert_eq!(outcome(cart(json!({})), "drips"), Outcome::Verdict(Verdict::Stop));
    assert_eq!(outcome(cart(json!({})), "1 mm; damp"), Outcome::Verdict(Verdict::Watch));
}

#[test]
fn what_cannot_be_read_says_what_was_expected() {
    for (text, says) in [
        ("wet", "one of \"damp\", \"drips\", \"dry\", found \"wet\""),
        ("d", "may be damp or drips or dry"),
        ("3 psi", "expected a length"),
        ("1 mm; 2 mm", "found a second"),
        (";", "expected a number of mm"),
        ("1e999", "expected a number"),
    ] {
        let Outcome::Unread(why) = outcome(cart(json!({})), text) else { panic!("{text}") };
        assert!(why.contains(says), "{text}: {why}");
    }
    let least = cart(json!({}));
    let typed = |text| typed(&least.catalogue, "play", text);
    assert_eq!(typed("0,5; dr").unwrap_err(), "\"dr\" may be drips or dry: write more of it");
    assert_eq!(typed(" 0,5;drips ").as_deref(), Ok("0.5 mm; drips"));
    assert_eq!(typed("1 ±0,25").as_deref(), Ok("1 mm ±0.25 mm"));
}

#[test]
fn the_newest_counts_of_each_of_several_alike_and_the_worst_of_them() {
    let both = vec![reading("5 mm", "2026-02-01"), reading("1 mm", "2024-02-01")];
    let found = read(cart(json!({})), both);
    assert_eq!(found.lines[0].outcome, Outcome::Verdict(Verdict::Renew));
    let days: Vec<String> = found.lines[0].history.iter().map(|point| point.on.to_string()).collect();
    assert_eq!(days, ["2024-02-01", "2026-02-01"]);
    let side = |which: &str, value| Reading { which: which.into(), ..reading(value, "2026-02-01") };
    let found = read(cart(json!({})), vec![side("left", "1 mm"), side("right", "3 mm")]);
    assert_eq!(found.lines[0].outcome, Outcome::Verdict(Verdict::Watch));
    assert_eq!(found.lines[0].value, "left 1 mm, right 3 mm");
}

#[test]
fn the_worse_of_what_is_said_and_what_is_read_counts_in_the_plan() {
    let verdict = |said: Option<Verdict>, value: &str| {
        let mut least = cart(json!({}));
        if let Some(verdict) = said {
            least = least.survey("hub", verdict);
        }
        least.sheet.readings.insert("hub".into(), vec![reading(value, "")]);
        let found = survey(&least.sheet, PLAN, &least.catalogue);
        let a = assess(&least.sheet, PLAN, &least.catalogue);
        assert_eq!(a.positions[0].verdict, found.places.first().map(|place| place.verdict));
        let renewals = a.companions.iter().filter(|c| c.key == CompanionKey::survey("hub")).count();
        (a.positions[0].verdict, found.places.iter().any(|place| place.disagrees), renewals)
    };
    assert_eq!(verdict(None, "5 mm"), (Some(Verdict::Renew), false, 1));
    assert_eq!(verdict(Some(Verdict::Good), "5 mm"), (Some(Verdict::Renew), true, 1));
    // a person may have seen what no reading tells
    assert_eq!(verdict(Some(Verdict::Stop), "1 mm"), (Some(Verdict::Stop), false, 1));
    // what is undecided is not good, and condemns nothing
    assert_eq!(verdict(Some(Verdict::Good), "4.2 mm"), (Some(Verdict::Watch), true, 0));
    assert_eq!(verdict(None, "wet"), (None, false, 0));
}

#[test]
fn what_was_seen_counts_too_with_its_words() {
    let mut least = cart(json!({}));
    let seen = Seen {
        what: "a crack".into(),
        verdict: Verdict::Stop,
        on: None,
        by: String::new(),
        extra: Default::default(),
    };
    least.sheet.seen.insert("hub".into(), vec![seen]);
    let a = assess(&least.sheet, PLAN, &least.catalogue);
    assert_eq!(a.positions[0].verdict, Some(Verdict::Stop));
    assert_eq!(a.positions[0].verdict_note, "a crack");
    let said = Finding { verdict: Verdict::Stop, note: "worn".into(), extra: Default::default() };
    least.sheet.survey.insert("hub".into(), said);
    assert_eq!(assess(&least.sheet, PLAN, &least.catalogue).positions[0].verdict_note, "worn");
}

#[test]
fn a_proposal_stands_until_the_plan_does_something_about_it() {
    let mut least = cart(json!({}));
    least.sheet.readings.insert("hub".into(), vec![reading("5 mm", "")]);
    let proposed = |least: &Least| {
        let found = survey(&least.sheet, PLAN, &least.catalogue);
        found.proposals().next().and_then(|line| line.proposes)
    };
    assert_eq!(proposed(&least), Some(Route::Rebuild));
    let edit = |route| Edit::Choose {
        plan: PLAN.into(),
        position: "hub".into(),
        choice: Some(Choice { route, part: None }),
    };
    apply(&mut least.sheet, &edit(Route::Clean)).unwrap();
    assert_eq!(proposed(&least), Some(Route::Rebuild));
    apply(&mut least.sheet, &edit(Route::Renew)).unwrap();
    assert_eq!(proposed(&least), None);
}

#[test]
fn what_stops_the_vehicle_is_not_put_off_and_all_else_wants_a_reason() {
    let mut least = cart(json!({"stop": true}));
    let put_off = |reason: &str| Edit::PutOff {
        position: "hub".into(),
        of: "play".into(),
        put_off: Some(PutOff { reason: reason.into(), ..PutOff::default() }),
    };
    assert_eq!(apply(&mut least.sheet, &put_off(" ")), Err(EditError::NoReasonToPutOff));
    assert_eq!(apply(&mut least.sheet, &put_off("after the winter")), Ok(()));
    let found = survey(&least.sheet, PLAN, &least.catalogue);
    assert_eq!((found.open().count(), found.problems.len()), (0, 0));
    // measured since, and it stops
    least.sheet.readings.insert("hub".into(), vec![reading("5 mm", "")]);
    let found = survey(&least.sheet, PLAN, &least.catalogue);
    assert_eq!(found.lines[0].put_off, None);
    assert!(found.problems[0].contains("cannot be put off"), "{:?}", found.problems);
}

#[test]
fn not_driven_on_the_road_is_not_ready() {
    let mut least = cart(json!({}));
    let missing = |least: &Least| {
        let a = assess(&least.sheet, PLAN, &least.catalogue);
        let jobs = crate::jobs::jobs(&least.sheet, &a, &least.catalogue);
        crate::jobs::missing(&jobs, &a, crate::showing::Measure::Metric)
    };
    assert_eq!(missing(&least), Vec::<String>::new());
    let off = crate::sheet::NotDriven { since: Some("2026-01-02".into()), ..Default::default() };
    apply(&mut least.sheet, &Edit::NotDriven { not_driven: Some(off) }).unwrap();
    assert!(missing(&least)[0].contains("not driven on the road since 2026-01-02"));
    // nor is what may stop it and is not known well enough
    let mut least = cart(json!({"stop": true}));
    least.sheet.readings.insert("hub".into(), vec![reading("4.2 mm", "")]);
    assert!(missing(&least)[0].contains("watch or stop: measure better"), "{:?}", missing(&least));
}

#[test]
fn alternatives_stand_for_each_other_and_words_of_nothing_are_told() {
    let mut json = library(json!({"either": "hub"}));
    json["inspections"]["turn"] = json!({
        "for": ["hub"], "zone": "round", "kind": "look", "words": {"runs": "good"}, "either": "hub",
        "route": "renew", "source": "common practice"
    });
    let mut least = Least::new(json);
    least.sheet.readings.insert(
        "hub".into(),
        vec![reading("1 mm", ""), Reading { of: "plya".into(), ..reading("1 mm", "") }],
    );
    let found = survey(&least.sheet, PLAN, &least.catalogue);
    let open: Vec<bool> = found.lines.iter().map(Line::is_open).collect();
    assert_eq!(open, [false, false]);
    assert_eq!(
        found.problems,
        [
            "readings.hub: the library has no inspection \"plya\"; did you mean \"play\"? It is kept, and nothing rests on it"
        ]
    );
}

#[test]
fn a_reading_counts_only_where_its_inspection_is_made() {
    // of another class, in other whereabouts, without the figure, on a vehicle built otherwise
    let for_another = json!({"for": ["wheel"]});
    let without = json!({"having": "bore"});
    let built = json!({"built": ["with a frame"]});
    for more in [for_another, without, built] {
        let mut json = library(more.clone());
        json["classes"]["wheel"] = json!({});
        json["figures"] = json!({"bore": {"kind": "length"}});
        let mut least = Least::new(json);
        least.sheet.readings.insert("hub".into(), vec![reading("5 mm", "")]);
        let found = survey(&least.sheet, PLAN, &least.catalogue);
        assert_eq!((found.lines.len(), found.places.len()), (0, 0), "{more}");
        assert!(found.problems[0].contains("readings.hub: this place has no such inspection"), "{more}");
        assert_eq!(assess(&least.sheet, PLAN, &least.catalogue).positions[0].verdict, None, "{more}");
    }
}

#[test]
fn of_several_alike_the_worst_may_be_worse_and_what_is_open_is_told() {
    let sides = |left: &str, right: &str| {
        let side = |which: &str, value: &str| Reading { which: which.into(), ..reading(value, "") };
        let stop = json!({"renew": {"most": "10 mm"}});
        read(cart(stop), vec![side("left", left), side("right", right)]).lines[0].clone()
    };
    // 5 mm is to be renewed; 9.8 mm, to 0.5 mm, may stop it
    assert_eq!(
        sides("5 mm", "9.8 mm").outcome,
        Outcome::Undecided { better: Verdict::Renew, worse: Verdict::Stop }
    );
    assert_eq!(
        sides("1 mm", "1.8 mm").outcome,
        Outcome::Undecided { better: Verdict::Good, worse: Verdict::Watch }
    );
    // what nobody can read is not good, and beside what is bad it is told
    let line = sides("1 mm", "wet");
    assert!(matches!(line.outcome, Outcome::Unread(_)) && line.is_open());
    let line = sides("5 mm", "wet");
    assert_eq!(line.outcome, Outcome::Verdict(Verdict::Renew));
    assert!(line.is_open() && line.says().contains("besides: expected a number of mm"), "{}", line.says());
    // nothing is worse than what stops it
    assert!(!sides("12 mm", "wet").is_open());
    // what was seen may be bad and what was not measured worse
    let line = read(cart(json!({"stop": true})), vec![reading("damp", "")]).lines[0].clone();
    assert_eq!(
        (line.outcome.clone(), line.rest.clone()),
        (Outcome::Verdict(Verdict::Watch), Some(Outcome::ToMeasure))
    );
    assert!(line.is_open_before_the_road());
}

#[test]
fn what_is_written_beside_a_reading_of_nothing_counts() {
    let none = json!({"good": {"most": "0 mm"}, "watch": {"most": "1.5 mm"}});
    assert_eq!(outcome(cart(none.clone()), "0 mm"), Outcome::Verdict(Verdict::Good));
    assert_eq!(
        outcome(cart(none), "0 mm ±3 mm"),
        Outcome::Undecided { better: Verdict::Good, worse: Verdict::Renew }
    );
}

#[test]
fn who_measures_takes_back_nothing_that_was_seen() {
    let said = |readings| read(cart(json!({})), readings).lines[0].clone();
    let line = said(vec![reading("1 mm; drips", "2026-02-01"), reading("1.2 mm", "2026-03-01")]);
    assert_eq!((line.outcome, line.value.as_str()), (Outcome::Verdict(Verdict::Stop), "1.2 mm; drips"));
    let line = said(vec![reading("5 mm; drips", "2026-02-01"), reading("1 mm; dry", "2026-03-01")]);
    assert_eq!((line.outcome, line.value.as_str()), (Outcome::Verdict(Verdict::Good), "1 mm; dry"));
}

/// A reading without a day is as old as the one before it: whatever order three are written in, one of 2024 never counts
/// before one of 2026.
#[test]
fn a_reading_without_a_day_is_as_old_as_the_one_before_it() {
    let [new, bare, old] = [("5 mm", "2026-02-01"), ("3 mm", ""), ("1 mm", "2024-02-01")];
    let counts = |of: [(&str, &str); 3]| {
        let all = of.iter().map(|(value, on)| reading(value, on)).collect();
        read(cart(json!({})), all).lines[0].value.clone()
    };
    assert_eq!(counts([new, bare, old]), "3 mm");
    assert_eq!(counts([new, old, bare]), "3 mm");
    for of in [[old, new, bare], [old, bare, new], [bare, old, new], [bare, new, old]] {
        assert_eq!(counts(of), if of[2] == bare { "3 mm" } else { "5 mm" }, "{of:?}");
    }
}

#[test]
fn putting_off_makes_nothing_known_before_the_road() {
    let mut least = cart(json!({"stop": true}));
    let before = |least: &Least| survey(&least.sheet, PLAN, &least.catalogue).open_before_the_road().count();
    assert_eq!(before(&least), 1);
    let put_off = PutOff { reason: "after the winter".into(), ..PutOff::default() };
    apply(
        &mut least.sheet,
        &Edit::PutOff { position: "hub".into(), of: "play".into(), put_off: Some(put_off) },
    )
    .unwrap();
    assert_eq!((before(&least), survey(&least.sheet, PLAN, &least.catalogue).open().count()), (1, 0));
    // what the plan renews need not be known
    let choice = Some(Choice { route: Route::Renew, part: None });
    apply(&mut least.sheet, &Edit::Choose { plan: PLAN.into(), position: "hub".into(), choice }).unwrap();
    assert_eq!(before(&least), 0);
}

#[test]
fn what_is_too_old_and_stops_is_not_put_off_without_a_word() {
    let mut json = library(json!({}));
    json["inspections"]["age"] = json!({
        "for": ["hub"], "zone": "round", "kind": "made", "good": {"most": "6 years"}, "stop": true,
        "route": "renew", "source": "common practice"
    });
    let mut least = Least::new(json);
    least.catalogue.as_of = Some(crate::date::day("2026-12-01").unwrap());
    least.sheet.made.insert("hub".into(), "1999".into());
    let put_off = PutOff { reason: "next year".into(), ..PutOff::default() };
    least.sheet.put_off.entry("hub".into()).or_default().insert("age".into(), put_off);
    let found = survey(&least.sheet, PLAN, &least.catalogue);
    assert!(found.problems[0].starts_with("put_off.hub.age: what stops the vehicle"), "{:?}", found.problems);
    let line = found.lines.iter().find(|line| line.inspection == "age").unwrap();
    assert_eq!((line.outcome.clone(), line.put_off.is_some()), (Outcome::Verdict(Verdict::Stop), false));
}

#[test]
fn a_quantity_of_a_caution_is_told_in_both_systems() {
    let mut json = library(json!({"cautions": ["burst"]}));
    json["cautions"] = json!({"burst": {"danger": "It bursts", "guard": "stay below {40 psi}"}});
    let least = Least::new(json);
    let found = survey(&least.sheet, PLAN, &least.catalogue);
    assert_eq!(found.cautions["burst"], "It bursts. stay below 40 psi (276 kPa)");
}

/// A spread of 18 °F is one of 10 °C (NIST SP 811, B.9), not a temperature of -8 °C.
#[test]
fn how_far_temperatures_lie_apart_has_no_zero_of_its_own() {
    let spread = json!({
        "kind": "temperature-difference", "accuracy": "1 °C", "good": {"least": "8 °C apart"}, "watch": {}, "words": {}
    });
    assert_eq!(outcome(cart(spread.clone()), "18 °F"), Outcome::Verdict(Verdict::Good));
    assert_eq!(outcome(cart(spread.clone()), "12"), Outcome::Verdict(Verdict::Good));
    assert_eq!(outcome(cart(spread), "10 °F"), Outcome::Verdict(Verdict::Watch));
    // the tool's own degrees too: 2 °F are no -17 °C
    let opens = json!({"kind": "temperature", "accuracy": "2 °F", "good": {"most": "90 °C"}, "watch": {}, "words": {}});
    assert_eq!(outcome(cart(opens), "88 °C"), Outcome::Verdict(Verdict::Good));
}
