//! The least example of every rule of the work.

use serde_json::{Value as Json, json};

use super::*;
use crate::assess::least::{Least, PLAN, merge};
use crate::library::Phase;

/// A tank and a pump on a cart; the tank is to be another. Operations as each test adds them.
fn cart(operations: Json) -> Least {
    let mut library = json!({
        "parts": {
            "old-tank": {"class": "tank"},
            "new-tank": {"class": "tank", "price": "90.00 USD", "hours": 4},
            "old-pump": {"class": "pump"},
            "new-pump": {"class": "pump", "price": "30.00 USD", "hours": 1},
        },
        "vehicle": {"positions": {"tank": "old-tank", "pump": "old-pump"}},
    });
    merge(&mut library, json!({"operations": operations}));
    Least::new(library)
}

fn work(least: &Least) -> Jobs {
    jobs(&least.sheet, &least.assess(), &least.catalogue)
}

fn ids(work: &Jobs) -> Vec<&str> {
    work.jobs.iter().map(|job| job.id.as_str()).collect()
}

fn tank() -> Json {
    json!({
        "drained": {"kind": "remove", "hours": [0.5, 1, 2], "closed_by": "filled", "source": "common practice"},
        "filled": {"kind": "fill", "after": ["drained"]},
        "tank-out": {"kind": "remove", "for": ["tank"], "after": ["drained"], "closed_by": "tank-in"},
        "tank-in": {"kind": "fit", "for": ["tank"], "after": ["tank-out"]},
    })
}

#[test]
fn every_sum_of_hours_is_at_the_pace_that_was_learnt() {
    // the tank takes 1 h to drain, 4 h for itself; three timed jobs took twice what was likely
    let mut operations = tank();
    merge(
        &mut operations,
        json!({"filled": {"hours": [1, 1, 1], "source": "common practice"}, "looked": {
            "kind": "check", "for": ["pump"], "hours": [1, 1, 1], "source": "common practice",
        }}),
    );
    let mut least = cart(operations).convert("tank", "new-tank").convert("pump", "new-pump");
    let before = work(&least);
    let (parts, way) = before.parts_and_way();
    let likely = |work: &Jobs| -> f64 {
        work.jobs.iter().filter(|job| job.done.is_none()).map(|job| work.hours_of(job).likely).sum()
    };
    assert!((parts + way - likely(&before)).abs() < 1e-9 && parts > 0.0 && way > 0.0);
    for job in before.jobs.iter().filter(|job| job.library_hours.likely > 0.0).take(3) {
        let hours = Some(2.0 * job.library_hours.likely);
        least.sheet.done.insert(job.id.clone(), Done { hours, ..Done::default() });
    }
    let after = work(&least);
    assert_eq!(after.learnt.factor(), 2.0);
    let (parts, way) = after.parts_and_way();
    assert!((parts + way - likely(&after)).abs() < 1e-9, "{parts} + {way}, {}", likely(&after));
    let open = after.jobs.iter().filter(|job| job.done.is_none());
    assert!((likely(&after) - 2.0 * open.map(|job| job.library_hours.likely).sum::<f64>()).abs() < 1e-9);
}

#[test]
fn what_is_sent_out_is_not_back_in_the_same_hours() {
    let sent = |more: Json| {
        let mut operations = tank();
        merge(&mut operations, json!({"tank-out": {"kind": "send-out"}}));
        merge(&mut operations, json!({"tank-out": more}));
        let mut least = cart(operations).convert("tank", "new-tank").on("2026-03-01");
        let line = crate::sheet::Line { state: crate::sheet::LineState::InHand, ..Default::default() };
        least.sheet.lines.insert("new-tank".into(), line);
        least
    };
    let today = |least: &Least| -> Vec<String> {
        work(least).in_hours(100.0).into_iter().map(|job| job.id.clone()).collect()
    };
    let away = json!({"weeks": [1, 2], "source": "common practice"});
    for more in [away.clone(), json!({})] {
        assert_eq!(today(&sent(more)), ["drained", "tank-out"]);
    }
    let back = json!({"weeks": [0, 0], "source": "common practice"});
    assert_eq!(today(&sent(back)), ["drained", "tank-out", "tank-in", "filled"]);
    // sent on 20 February for two weeks at most, it is away until 6 March
    let mut least = sent(away);
    for job in ["drained", "tank-out"] {
        let on = Some("2026-02-20".to_owned());
        least.sheet.done.insert(job.into(), Done { on, ..Done::default() });
    }
    assert_eq!(work(&least).jobs[1].back_on, Some("2026-03-06".parse().unwrap()));
    assert_eq!(today(&least), Vec::<String>::new());
    assert_eq!(today(&least.on("2026-03-06")), ["tank-in", "filled"]);
}

#[test]
fn nothing_changed_is_no_work() {
    assert_eq!(work(&cart(tank())), Jobs::default());
}

#[test]
fn a_change_asks_for_its_operations_these_for_what_makes_way_and_that_for_what_closes_it() {
    let found = work(&cart(tank()).convert("tank", "new-tank"));
    assert_eq!(ids(&found), ["drained", "tank-out", "tank-in", "filled"]);
    let way: Vec<bool> = found.jobs.iter().map(|job| job.makes_way).collect();
    assert_eq!(way, [true, false, false, true]);
    // the part goes on in the job that puts parts on
    assert_eq!(found.jobs[2].lines, ["new-tank"]);
    assert_eq!(found.jobs[2].waits_for, ["new-tank"]);
}

#[test]
fn the_hours_of_a_place_are_spread_over_its_operations_and_making_way_takes_its_own() {
    let found = work(&cart(tank()).convert("tank", "new-tank"));
    let likely: Vec<f64> = found.jobs.iter().map(|job| job.library_hours.likely).collect();
    assert_eq!(likely, [1.0, 2.0, 2.0, 0.0]);
    assert_eq!((found.jobs[0].library_hours.least, found.jobs[0].library_hours.most), (0.5, 2.0));
}

#[test]
fn a_place_without_an_operation_that_puts_parts_on_has_a_job_of_its_own() {
    let found = work(&cart(json!({})).convert("pump", "new-pump"));
    assert_eq!(ids(&found), ["fit@pump"]);
    assert_eq!(found.jobs[0].lines, ["new-pump"]);
    assert_eq!(found.jobs[0].library_hours.likely, 1.0);
}

#[test]
fn what_wants_a_thing_open_is_done_before_it_is_closed() {
    let mut operations = tank();
    merge(&mut operations, json!({"pump-in": {"kind": "fit", "for": ["pump"], "after": ["drained"]}}));
    let found = work(&cart(operations).convert("tank", "new-tank").convert("pump", "new-pump"));
    let at = |id: &str| ids(&found).iter().position(|other| *other == id);
    assert!(at("drained") < at("pump-in") && at("pump-in") < at("filled"), "{:?}", ids(&found));
    assert_eq!(ids(&found).iter().filter(|id| **id == "drained").count(), 1, "opened once");
}

#[test]
fn of_several_the_one_in_the_plan_is_meant_else_the_first_and_a_question_mark_asks_for_nothing() {
    let operations = json!({
        "front-up": {"kind": "remove"},
        "rear-up": {"kind": "remove"},
        "hood-off": {"kind": "remove"},
        "tank-in": {"kind": "fit", "for": ["tank"], "after": ["front-up | rear-up", "hood-off?"]},
        "pump-in": {"kind": "fit", "for": ["pump"], "after": ["rear-up"]},
    });
    let one = work(&cart(operations.clone()).convert("tank", "new-tank"));
    assert_eq!(ids(&one), ["front-up", "tank-in"]);
    let both = cart(operations).convert("tank", "new-tank").convert("pump", "new-pump");
    let all: BTreeSet<&str> = BTreeSet::from(["rear-up", "tank-in", "pump-in"]);
    assert!(all.is_subset(&ids(&work(&both)).into_iter().collect()));
}

#[test]
fn an_operation_may_be_for_vehicles_that_are_built_so_only() {
    let operations = json!({
        "tub-off": {"kind": "remove", "built": ["ladder"]},
        "tank-in": {"kind": "fit", "for": ["tank"], "after": ["tub-off"]},
    });
    let plain = cart(operations.clone()).convert("tank", "new-tank");
    assert_eq!(ids(&work(&plain)), ["tank-in"]);
    let mut library = json!({
        "parts": {"old-tank": {"class": "tank"}, "new-tank": {"class": "tank", "price": "90.00 USD"}},
        "vehicle": {"built": ["ladder"], "positions": {"tank": "old-tank"}},
    });
    merge(&mut library, json!({"operations": operations}));
    assert_eq!(ids(&work(&Least::new(library).convert("tank", "new-tank"))), ["tub-off", "tank-in"]);
}

#[test]
fn a_rule_orders_and_asks_for_nothing_and_where_rules_go_round_one_is_left_out_and_told() {
    let operations = json!({
        "tank-in": {"kind": "fit", "for": ["tank"]},
        "pump-in": {"kind": "fit", "for": ["pump"]},
    });
    let rule = |before: &str, after: &str| json!({"before": [before], "after": [after], "why": "so"});
    let with = |orders: Json| {
        let mut library = json!({
            "parts": {
                "old-tank": {"class": "tank"}, "new-tank": {"class": "tank", "price": "9 USD"},
                "old-pump": {"class": "pump"}, "new-pump": {"class": "pump", "price": "9 USD"},
            },
            "vehicle": {"positions": {"tank": "old-tank", "pump": "old-pump"}},
            "operations": operations,
        });
        merge(&mut library, json!({"orders": orders}));
        Least::new(library)
    };
    let one = with(json!({"a": rule("tank-in", "pump-in")}));
    assert_eq!(ids(&work(&one.clone().convert("pump", "new-pump"))), ["pump-in"]);
    let both = one.convert("pump", "new-pump").convert("tank", "new-tank");
    assert_eq!(ids(&work(&both)), ["tank-in", "pump-in"]);
    let round = with(json!({"a": rule("tank-in", "pump-in"), "b": rule("pump-in", "tank-in")}));
    let found = work(&round.convert("pump", "new-pump").convert("tank", "new-tank"));
    assert_eq!(found.jobs.len(), 2);
    let [circle] = &found.circles[..] else { panic!("{:?}", found.circles) };
    assert_eq!(circle.jobs, ["pump-in", "tank-in"]);
    assert!(circle.left_out.ends_with("so"), "{}", circle.left_out);
}

#[test]
fn checks_follow_from_what_is_changed_in_their_order_over_those_that_are_not_asked_for() {
    let mut operations = tank();
    operations["tank-out"]["kind"] = json!("remove");
    let mut library = json!({
        "parts": {"old-tank": {"class": "tank"}, "new-tank": {"class": "tank", "price": "9 USD"},
            "old-pump": {"class": "pump"}},
        "vehicle": {"positions": {"tank": "old-tank", "pump": "old-pump"}},
        "operations": operations,
        "checks": {
            "road": {"phase": "rolling", "always": true, "after": ["pressure"]},
            "pressure": {"phase": "powered", "for": ["pump"], "after": ["dry"]},
            "dry": {"phase": "static", "by": ["tank-out"]},
        },
    });
    for check in ["road", "pressure", "dry"] {
        merge(
            &mut library,
            json!({"checks": {check: {"name": check, "method": "look", "pass": "dry", "fail": "mend"}}}),
        );
    }
    let found = work(&Least::new(library).convert("tank", "new-tank"));
    let checks: Vec<(&str, Phase)> = found.checks.iter().map(|c| (c.id.as_str(), c.phase)).collect();
    assert_eq!(checks, [("dry", Phase::Static), ("road", Phase::Rolling)]);
    assert_eq!(found.checks[1].after, ["dry"], "over the one that is not in the plan");
}

#[test]
fn so_many_hours_are_filled_with_what_is_here_and_free() {
    let least = cart(tank()).convert("tank", "new-tank").convert("pump", "new-pump");
    // the tank is still to come: what makes way can be done, and what waits for nothing
    let today: Vec<String> = work(&least).in_hours(8.0).iter().map(|job| job.id.clone()).collect();
    assert_eq!(today, ["drained", "tank-out"]);
    let here = least.line("new-tank", crate::sheet::LineState::InHand);
    let today: Vec<String> = work(&here).in_hours(8.0).iter().map(|job| job.id.clone()).collect();
    assert_eq!(today, ["drained", "tank-out", "tank-in", "filled"]);
    assert_eq!(work(&here).in_hours(2.0).len(), 1, "no more than the hours there are");
}

#[test]
fn what_is_done_is_no_more_to_go_and_ready_names_all_that_is_open() {
    let mut least = cart(tank()).convert("tank", "new-tank");
    let before = work(&least).to_go().within(0.5);
    for id in ["drained", "tank-out", "tank-in"] {
        least.sheet.done.insert(id.to_owned(), Done::default());
    }
    let found = work(&least);
    assert!(found.to_go().within(0.5) < before);
    let open = missing(&found, &least.assess(), crate::showing::Measure::Inch);
    assert_eq!(open.len(), 1, "{open:?}");
    assert!(open[0].ends_with("not done"));
}

/// Physics: of a sum of independent triangles the mean is the sum of the means (a + b + c) / 3 and the variance the sum of the
/// variances (a2 + b2 + c2 - ab - ac - bc) / 18; of many the middle lies at the mean, and 0.8 at 0.8416 standard deviations
/// above (the normal distribution, by the central limit).
#[test]
fn the_hours_of_many_jobs_come_to_what_their_triangles_come_to() {
    let one = Hours { least: 1.0, likely: 2.0, most: 5.0 };
    let all = Spread::of(std::iter::repeat_n(one, 100));
    let (mean, variance) = (100.0 * 8.0 / 3.0, 100.0 * (1.0 + 4.0 + 25.0 - 2.0 - 5.0 - 10.0) / 18.0);
    assert!((all.within(0.5) - mean).abs() < 0.5, "{} {mean}", all.within(0.5));
    let eighty = mean + 0.8416 * f64::sqrt(variance);
    assert!((all.within(0.8) - eighty).abs() < 0.5, "{} {eighty}", all.within(0.8));
    assert_eq!(Spread::of(std::iter::empty()).within(0.8), 0.0);
    // a long job makes the steps coarse: many short ones beside it keep their mean
    let (long, short) =
        (Hours { least: 100.0, likely: 400.0, most: 700.0 }, Hours { least: 0.1, likely: 0.2, most: 0.3 });
    let all = Spread::of(std::iter::once(long).chain(std::iter::repeat_n(short, 200)));
    assert!((all.within(0.5) - 440.0).abs() < 1.0, "{}", all.within(0.5));
}

#[test]
fn the_plan_has_each_job_once_and_none_before_what_it_comes_after() {
    let found = work(&cart(tank()).convert("tank", "new-tank").convert("pump", "new-pump"));
    let all = ids(&found);
    assert_eq!(all.iter().collect::<BTreeSet<_>>().len(), all.len());
    for (at, job) in found.jobs.iter().enumerate() {
        assert!(job.after.iter().all(|(id, _)| all[..at].contains(&id.as_str())), "{}", job.id);
    }
    assert_eq!(PLAN, "plan");
}

#[test]
fn the_hours_of_the_parts_add_up_to_those_of_the_plan() {
    let least = cart(tank()).convert("tank", "new-tank").convert("pump", "new-pump");
    let parts: f64 = work(&least).jobs.iter().map(|job| job.parts_hours).sum();
    assert!((parts - least.assess().totals.hours).abs() < 1e-9, "{parts}");
}

#[test]
fn where_nothing_was_found_nothing_comes_off_and_what_is_left_off_goes_on_nowhere() {
    let mut library = json!({
        "parts": {"new-tank": {"class": "tank", "price": "90.00 USD"}, "old-pump": {"class": "pump"}},
        "vehicle": {"positions": {"tank": null, "pump": "old-pump"}},
    });
    merge(
        &mut library,
        json!({"operations": {
            "tank-out": {"kind": "remove", "for": ["tank"]},
            "tank-in": {"kind": "fit", "for": ["tank"]},
            "pump-off": {"kind": "remove", "for": ["pump"]},
            "pump-on": {"kind": "fit", "for": ["pump"]},
        }}),
    );
    let least = Least::new(library);
    assert_eq!(ids(&work(&least.clone().convert("tank", "new-tank"))), ["tank-in"]);
    let off = work(&least.choose("pump", crate::sheet::Route::LeaveOff));
    assert_eq!(ids(&off), ["pump-off"]);
    assert_eq!(off.jobs[0].lines, Vec::<String>::new());
}

/// A tank that is left out, or a check that was signed before the work, is told; nothing is ready because nothing was planned.
#[test]
fn a_signature_from_before_the_work_says_nothing_of_it_and_no_plan_is_ready_by_being_empty() {
    let library = json!({
        "parts": {"old-tank": {"class": "tank"}, "new-tank": {"class": "tank", "price": "9 USD"}},
        "vehicle": {"positions": {"tank": "old-tank"}},
        "operations": {"tank-in": {"kind": "fit", "for": ["tank"]}},
        "checks": {
            "dry": {"phase": "static", "by": ["tank-in"], "method": "look", "pass": "dry", "fail": "mend"},
            "papers": {"phase": "static", "always": true, "method": "look", "pass": "there", "fail": "get them"},
        },
    });
    let least = Least::new(library);
    let open = |least: &Least| missing(&work(least), &least.assess(), crate::showing::Measure::Inch);
    assert_eq!(open(&least), ["papers: not signed"], "of a plan that changes nothing");
    let mut least = least.convert("tank", "new-tank");
    let day = |text: &str| Some(text.to_owned());
    least.sheet.done.insert("tank-in".to_owned(), Done { on: day("2026-03-02"), ..Done::default() });
    for (check, on) in [("dry", "2026-03-01"), ("papers", "2026-03-01")] {
        least.sheet.signed.insert(check.to_owned(), Signed { on: day(on), ..Signed::default() });
    }
    // what is asked for by whatever is done notices later work as well
    assert_eq!(open(&least), ["dry: not signed", "papers: not signed"]);
    for check in ["dry", "papers"] {
        least.sheet.signed.insert(check.to_owned(), Signed { on: day("2026-03-02"), ..Signed::default() });
    }
    assert_eq!(open(&least), Vec::<String>::new());
}

#[test]
fn hours_are_taken_as_people_write_them() {
    assert_eq!(["6", " 4,5 h ", "7.5"].map(session_hours), [Some(6.0), Some(4.5), Some(7.5)]);
    assert_eq!(["0", "-2", "six", "nan", "inf", ""].map(session_hours), [None; 6]);
}

/// A cable that was only taken off is put back as quickly; new ones take their own hours, and what is tried takes its time.
#[test]
fn what_is_only_put_back_takes_no_longer_than_taking_it_off_took() {
    let operations = json!({
        "off": {"kind": "remove", "hours": [0.1, 0.2, 0.4], "closed_by": "on", "source": "common practice"},
        "on": {"kind": "fit", "for": ["pump"], "hours": [1, 2, 4], "closed_by": "tried", "source": "common practice"},
        "tried": {"kind": "set", "hours": [1, 1, 1], "source": "common practice"},
        "tank-in": {"kind": "fit", "for": ["tank"], "after": ["off"], "hours": [4, 4, 4], "source": "common practice"},
    });
    let hours = |least: &Least, id: &str| {
        let found = work(least);
        found.jobs.iter().find(|job| job.id == id).map(|job| job.library_hours.likely).unwrap()
    };
    let tank = |operations| cart(operations).convert("tank", "new-tank");
    let least = tank(operations.clone());
    assert!((hours(&least, "on") - 0.2).abs() < 1e-9, "{}", hours(&least, "on"));
    assert!((hours(&least, "tried") - 1.0).abs() < 1e-9, "a trial takes its time");
    // the plan puts a pump on in it: that is no putting back
    assert!(hours(&tank(operations.clone()).convert("pump", "new-pump"), "on") > 0.9);
    // of an opening that nobody timed nothing follows
    let mut untimed = operations;
    untimed["off"].as_object_mut().unwrap().remove("hours");
    untimed["off"].as_object_mut().unwrap().remove("source");
    assert!((hours(&tank(untimed), "on") - 2.0).abs() < 1e-9);
}
