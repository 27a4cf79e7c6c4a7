//! The least example of every rule of the schedule; orders of networks held to worked examples.
#![allow(clippy::unwrap_used, reason = "a test may stop")]

use serde_json::{Value as Json, json};

use super::solve::{Link, Net, Placed, Problem, Task, UNDIVIDED, back, end_of, gone_by};
use super::*;
use crate::assess::least::{Least, merge};
use crate::jobs::jobs;
use crate::sheet::time::{Person, Time, Weekday};
use crate::sheet::{Direction, Done, Line, LineState};

/// A tank and a pump on a cart, both to be others; four jobs, one after the other but for the pump.
fn cart(more: Json) -> Least {
    let mut library = json!({
        "parts": {
            "old-tank": {"class": "tank"}, "new-tank": {"class": "tank", "price": "90.00 USD", "hours": 4},
            "old-pump": {"class": "pump"}, "new-pump": {"class": "pump", "price": "30.00 USD", "hours": 3},
        },
        "vehicle": {"positions": {"tank": "old-tank", "pump": "old-pump"}},
        "operations": {
            "drained": {"kind": "remove", "hours": [0.5, 1, 2], "closed_by": "filled", "source": "common practice"},
            "filled": {"kind": "fill", "after": ["drained"], "hours": [1, 1, 1]},
            "tank-out": {"kind": "remove", "for": ["tank"], "after": ["drained"], "closed_by": "tank-in"},
            "tank-in": {"kind": "fit", "for": ["tank"], "after": ["tank-out"]},
        },
    });
    merge(&mut library, more);
    Least::new(library).convert("tank", "new-tank").convert("pump", "new-pump")
}

fn in_hand(mut least: Least) -> Least {
    for part in ["new-tank", "new-pump"] {
        let line = Line { state: LineState::InHand, ..Line::default() };
        least.sheet.lines.insert(part.into(), line);
    }
    least
}

fn saturdays(hours: f64, people: usize) -> Time {
    Time {
        people: (0..people).map(|_| Person::default()).collect(),
        hours: Some(hours),
        weekdays: vec![Weekday::Saturday],
        ..Time::default()
    }
}

fn laid(least: &Least, time: Time) -> Schedule {
    let mut sheet = least.sheet.clone();
    sheet.time = Some(time);
    let catalogue = least.catalogue.clone().on("2026-03-30".parse().unwrap());
    let a = least.assess();
    let work = jobs(&sheet, &a, &catalogue);
    schedule(&sheet, &work, &a, &catalogue)
}

fn trays(found: &Schedule) -> Vec<Vec<&str>> {
    found.sessions.iter().map(|s| s.blocks.iter().map(|b| b.job.as_str()).collect()).collect()
}

#[test]
fn jobs_fill_the_saturdays_in_their_order_and_none_is_cut() {
    // 1 + 2 + 2 + 3 + 1 h in sessions of 4 h
    let found = laid(&in_hand(cart(json!({}))), saturdays(4.0, 1));
    let days: Vec<String> = found.sessions.iter().map(|s| s.day.unwrap().to_string()).collect();
    assert_eq!(days, ["2026-04-04", "2026-04-11", "2026-04-18"], "{:?}", trays(&found));
    for session in &found.sessions {
        assert!(session.blocks.iter().map(|b| b.minutes).sum::<u64>() <= 240);
        assert!(session.blocks.iter().all(|b| b.piece == (1, 1)));
    }
    assert_eq!((found.likely.sessions, found.likely.day), (3, found.sessions[2].day));
    assert!(found.half.sessions <= found.most.sessions);
}

#[test]
fn a_job_longer_than_a_session_goes_over_several() {
    let found = laid(&in_hand(cart(json!({}))), saturdays(1.5, 1));
    let pieces: Vec<(usize, usize)> = found
        .sessions
        .iter()
        .flat_map(|s| &s.blocks)
        .filter(|b| b.job == "fit@pump")
        .map(|b| b.piece)
        .collect();
    assert!(pieces.len() >= 2 && pieces[0] == (1, pieces.len()), "{pieces:?}");
    let minutes: u64 = found
        .sessions
        .iter()
        .flat_map(|s| &s.blocks)
        .filter(|b| b.job == "fit@pump")
        .map(|b| b.minutes)
        .sum();
    assert_eq!(minutes, 180);
}

#[test]
fn two_people_work_beside_each_other_and_one_has_the_skill() {
    let alone = laid(&in_hand(cart(json!({}))), saturdays(24.0, 1));
    let found = laid(&in_hand(cart(json!({}))), saturdays(24.0, 2));
    let end = |found: &Schedule| found.sessions[0].blocks.iter().map(|b| b.from + b.minutes).max().unwrap();
    // the pump beside the tank: 1 + 2 + 2 + 1 h, and 9 h alone
    assert_eq!((end(&alone), end(&found)), (540, 360));

    let least = in_hand(cart(json!({"operations": {"tank-out": {"skill": "welding"}}})));
    let mut time = saturdays(24.0, 2);
    time.people[1].can = vec!["Welding".into()];
    let found = laid(&least, time);
    let out = found.sessions[0].blocks.iter().find(|b| b.job == "tank-out").unwrap();
    assert_eq!(out.people, [1]);
    assert_eq!(found.notes, []);
    let found = laid(&least, saturdays(24.0, 2));
    assert_eq!(found.notes, [Note::Skill { job: "tank-out".into(), skill: "welding".into() }]);
}

#[test]
fn what_takes_more_hands_than_there_are_is_told() {
    let least = in_hand(cart(json!({"operations": {"tank-out": {"people": 2}}})));
    let found = laid(&least, saturdays(24.0, 1));
    assert_eq!(found.notes, [Note::Hands { job: "tank-out".into(), people: 2 }]);
    let found = laid(&least, saturdays(24.0, 2));
    assert_eq!(found.notes, []);
    assert_eq!(found.sessions[0].blocks.iter().find(|b| b.job == "tank-out").unwrap().people, [0, 1]);
}

#[test]
fn there_is_one_press_for_two_people() {
    let places = json!({"operations": {
        "tank-in": {"places": ["press"]}, "pump-in": {"kind": "fit", "for": ["pump"], "places": ["press"]},
    }});
    let found = laid(&in_hand(cart(places)), saturdays(24.0, 2));
    let of = |id: &str| found.sessions[0].blocks.iter().find(|b| b.job == id).unwrap();
    let (a, b) = (of("tank-in"), of("pump-in"));
    assert!(a.from + a.minutes <= b.from || b.from + b.minutes <= a.from);
}

#[test]
fn a_promised_part_is_used_from_its_day_and_what_must_be_ordered_today_is_said() {
    let mut least = cart(json!({"parts": {"new-tank": {"weeks": [2, 3]}}}));
    let line = Line { state: LineState::OnOrder, promised: Some("2026-04-16".into()), ..Line::default() };
    least.sheet.lines.insert("new-pump".into(), line);
    let found = laid(&least, saturdays(6.0, 1));
    let pump = &found.slots["fit@pump"];
    assert_eq!(found.sessions[pump.first].day.unwrap().to_string(), "2026-04-18");
    // Monday 30 March and 3 weeks are 20 April: Saturday 25 April
    let tank = &found.slots["tank-in"];
    assert_eq!(found.sessions[tank.first].day.unwrap().to_string(), "2026-04-25");
    let order: Vec<(&str, String, bool)> =
        found.orders.iter().map(|o| (o.part.as_str(), o.latest.unwrap().to_string(), o.today)).collect();
    assert_eq!(order, [("new-tank", "2026-04-04".to_owned(), false)]);
    // what nothing says is not guessed
    let found = laid(&cart(json!({})), saturdays(6.0, 1));
    assert_eq!(found.to_ask().map(|o| o.part.as_str()).collect::<Vec<_>>().len(), 2);
    assert_eq!(found.order_today().count(), 0);
}

#[test]
fn of_an_order_of_fewer_than_are_wanted_the_rest_is_told() {
    // two of them go in, and one was ordered
    let mut least = cart(json!({
        "parts": {"old-lamp": {"class": "lamp"}, "new-lamp": {"class": "lamp", "weeks": [2, 2]}},
        "vehicle": {"positions": {"left": {"class": "lamp", "as_found": "old-lamp"}, "right": {"class": "lamp", "as_found": "old-lamp"}}},
    }));
    least = least.convert("left", "new-lamp").convert("right", "new-lamp");
    let line = Line {
        state: LineState::OnOrder,
        qty: Some(1),
        promised: Some("2026-05-20".into()),
        ..Line::default()
    };
    least.sheet.lines.insert("new-lamp".into(), line);
    let told = |found: &Schedule| {
        let of = found.orders.iter().find(|order| order.part == "new-lamp");
        of.map(|order| (order.qty, order.short, order.latest.unwrap().to_string()))
    };
    // the one is here on 20 May, a Wednesday, and used on Saturday 23 May; the other takes its two weeks until then
    let found = laid(&least, saturdays(6.0, 1));
    assert_eq!(told(&found), Some((2, 1, "2026-05-09".into())));
    least.sheet.lines.get_mut("new-lamp").unwrap().qty = Some(2);
    assert_eq!(told(&laid(&least, saturdays(6.0, 1))), None);
}

#[test]
fn what_is_on_order_without_a_day_or_after_it_is_told() {
    let mut least = cart(json!({"parts": {"new-tank": {"weeks": [2, 3]}}}));
    let line = |promised: Option<&str>| Line {
        state: LineState::OnOrder,
        promised: promised.map(str::to_owned),
        ..Line::default()
    };
    least.sheet.lines.insert("new-tank".into(), line(None));
    least.sheet.lines.insert("new-pump".into(), line(Some("2026-03-27")));
    let found = laid(&least, saturdays(6.0, 1));
    let no_day = |here| Note::NoDay { job: "tank-in".into(), part: "new-tank".into(), here };
    let late = Note::Late {
        job: "fit@pump".into(),
        part: "new-pump".into(),
        promised: "2026-03-27".parse().unwrap(),
        here: None,
    };
    // Monday 30 March and 3 weeks
    let by_weeks = Some("2026-04-20".parse().unwrap());
    assert_eq!(found.notes.len(), 2, "{:?}", found.notes);
    assert!(found.notes.contains(&late) && found.notes.contains(&no_day(by_weeks)), "{:?}", found.notes);
    // how long it takes nobody has said either
    let mut least = cart(json!({}));
    least.sheet.lines.insert("new-tank".into(), line(None));
    least.sheet.lines.insert("new-pump".into(), line(Some("2026-03-30")));
    let found = laid(&least, saturdays(6.0, 1));
    assert_eq!(found.notes, [no_day(None)], "what is promised for today is not late");
    // what no job waits for any more is not told
    let least = in_hand(cart(json!({})));
    assert_eq!(laid(&least, saturdays(6.0, 1)).notes, []);
}

#[test]
fn what_is_sent_out_is_away_for_its_weeks() {
    let sent = json!({"operations": {"tank-out": {"kind": "send-out", "weeks": [2, 4], "source": "common practice"}}});
    let found = laid(&in_hand(cart(sent)), saturdays(6.0, 1));
    let at = |id: &str| found.slots[id].first;
    assert_eq!(at("tank-in") - at("tank-out"), 4);
    // nothing else waits: the pump is fitted meanwhile
    assert_eq!(at("fit@pump"), 0);
    assert!(
        found.critical.contains(&"tank-out".to_owned()) && !found.critical.contains(&"fit@pump".to_owned())
    );
    assert!(found.slots["fit@pump"].float > 0.0);
    let unknown = json!({"operations": {"tank-out": {"kind": "send-out"}}});
    assert_eq!(
        laid(&in_hand(cart(unknown)), saturdays(6.0, 1)).notes,
        [Note::Away { job: "tank-out".into() }]
    );
}

#[test]
fn what_was_sent_out_is_back_after_its_weeks_and_not_before() {
    let sent = |weeks: Json| json!({"operations": {"tank-out": {"kind": "send-out", "weeks": weeks, "source": "common practice"}}});
    let on = |day: Option<&str>, weeks: Json| {
        let mut least = in_hand(cart(sent(weeks)));
        for job in ["drained", "tank-out"] {
            let done = Done { on: day.map(str::to_owned), ..Done::default() };
            least.sheet.done.insert(job.into(), done);
        }
        laid(&least, saturdays(6.0, 1))
    };
    // sent on 21 March for four weeks at most: back on 18 April, a Saturday
    let found = on(Some("2026-03-21"), json!([2, 4]));
    assert_eq!(found.sessions[found.slots["tank-in"].first].day.unwrap().to_string(), "2026-04-18");
    assert_eq!((found.slots["fit@pump"].first, found.notes), (0, vec![]));
    // its weeks have gone by: it is back, and nothing is away for ever
    let found = on(Some("2026-02-21"), json!([2, 4]));
    assert_eq!((found.slots["tank-in"].first, found.notes), (0, vec![]));
    // where nobody can tell it counts as back, and that is said
    for found in [on(None, json!([2, 4])), on(Some("2026-03-21"), Json::Null)] {
        assert_eq!(found.slots["tank-in"].first, 0);
        assert_eq!(found.notes, [Note::Sent { job: "tank-out".into() }]);
    }
}

#[test]
fn a_job_that_is_moved_says_what_holds_it() {
    let mut least = in_hand(cart(json!({})));
    least.sheet.pinned.insert("fit@pump".into(), "2026-04-11".into());
    let found = laid(&least, saturdays(24.0, 1));
    assert_eq!(found.slots["fit@pump"].first, 1);
    assert_eq!(found.notes, []);
    least.sheet.pinned = [("filled".to_owned(), "2026-04-04".to_owned())].into();
    let found = laid(&least, saturdays(4.0, 1));
    let [Note::Moved { job, behind, .. }] = &found.notes[..] else { panic!("{:?}", found.notes) };
    assert_eq!((job.as_str(), behind.as_deref()), ("filled", Some("tank-in")));
}

#[test]
fn the_wanted_day_stands_beside_the_end_and_no_time_is_said_to_be_taken() {
    let mut time = saturdays(4.0, 1);
    time.wanted = Some("2026-04-11".into());
    let found = laid(&in_hand(cart(json!({}))), time);
    assert_eq!(found.late(found.likely), Some(7));
    let found = laid(&in_hand(cart(json!({}))), Time::default());
    assert_eq!(found.settings.taken, ["one person", "6 h a session", "one session a week", "on saturday"]);
    assert_eq!(found.late(found.likely), None);
}

#[test]
fn what_jobs_took_scales_the_rest() {
    let mut least = in_hand(cart(json!({})));
    // three jobs of 1, 2 and 2 h took 10 h
    for (job, hours) in [("drained", 2.0), ("tank-out", 4.0), ("tank-in", 4.0)] {
        least.sheet.done.insert(job.into(), Done { hours: Some(hours), ..Done::default() });
    }
    let found = laid(&least, saturdays(24.0, 1));
    let minutes: u64 = found.sessions[0].blocks.iter().map(|b| b.minutes).sum();
    assert_eq!(minutes, 2 * (3 + 1) * 60);
}

#[test]
fn sessions_are_counted_by_the_days_of_the_week() {
    let time = Time { weekdays: vec![Weekday::Sunday, Weekday::Wednesday], ..Time::default() };
    let settings = Settings::of(Some(&time), None, Some("2026-04-03".parse().unwrap()));
    let days: Vec<String> = (0..4).map(|n| settings.day_of(n).unwrap().to_string()).collect();
    assert_eq!(days, ["2026-04-05", "2026-04-08", "2026-04-12", "2026-04-15"]);
    let back: Vec<u64> = [0, 1, 3, 4, 7, 10, 11].map(|days| settings.session_from(days)).to_vec();
    assert_eq!(back, [0, 1, 1, 2, 2, 3, 4]);
    assert_eq!((settings.sessions_in(2.0), settings.sessions_in(0.1), settings.sessions_in(0.0)), (4, 1, 0));
}

/// Wanted "by 2026-04" is wanted on the last day of April, where the time does not say another day.
#[test]
fn a_direction_says_when_it_is_wanted_where_the_time_does_not() {
    let mut least = in_hand(cart(json!({})));
    least.sheet.directions = vec![Direction { deadline: Some("2026-04".into()), ..Direction::default() }];
    let wanted = |least: &Least, time| laid(least, time).settings.wanted.map(|day| day.to_string());
    assert_eq!(wanted(&least, saturdays(4.0, 1)).as_deref(), Some("2026-04-30"));
    let sooner = Time { wanted: Some("2026-04-12".into()), ..saturdays(4.0, 1) };
    assert_eq!(wanted(&least, sooner).as_deref(), Some("2026-04-12"));
    let found = laid(&least, saturdays(4.0, 1));
    assert_eq!(found.late(found.likely), Some(-12), "the last of three Saturdays is the 18th");
    least.sheet.directions.clear();
    assert_eq!(wanted(&least, saturdays(4.0, 1)), None);
}

/// The worked example of a network in handbooks: A 3, B 4 after A, C 2 after A, D 5 after B, E 1 after C, F 2 after D and E.
fn network() -> Problem {
    let task = |minutes, after: &[usize]| Task {
        minutes,
        after: after.iter().map(|task| Link { task: *task, sessions: 0 }).collect(),
        takes: vec![(0, 1)],
        ..Task::default()
    };
    let tasks =
        vec![task(3, &[]), task(4, &[0]), task(2, &[0]), task(5, &[1]), task(1, &[2]), task(2, &[3, 4])];
    Problem { tasks, people: Vec::new(), shared: vec![2], session: UNDIVIDED }
}

#[test]
fn the_longest_chain_has_no_float_and_the_rest_what_it_lacks() {
    // common practice: early and late by the way forward and back
    let path = Path::of(&network()).unwrap();
    assert_eq!(path.length, 14);
    assert_eq!(path.early, [0, 3, 3, 7, 5, 12]);
    assert_eq!(path.late, [0, 3, 9, 7, 11, 12]);
    assert_eq!(path.chain, [0, 1, 3, 5]);
}

#[test]
fn tasks_that_go_round_have_no_path_and_do_not_hang() {
    let mut problem = network();
    problem.tasks[0].after.push(Link { task: 5, sessions: 0 });
    assert_eq!(Path::of(&problem), None);
    assert_eq!(Net::new(&problem).placed(&[0; 6]), vec![Placed::default(); 6]);
}

#[test]
fn what_is_away_is_back_at_the_beginning_of_a_session_and_the_way_back_agrees() {
    for (end, sessions, at) in [(0, 0, 0), (7, 0, 7), (7, 1, 10), (10, 1, 10), (11, 1, 20), (0, 2, 20)] {
        assert_eq!(back(end, sessions, 10), at, "{end} {sessions}");
    }
    for end in 1..60 {
        for sessions in 0..4 {
            let at = back(end, sessions, 10);
            let last = gone_by(at, sessions, 10).unwrap();
            assert!(last >= end && back(last, sessions, 10) <= at && back(last + 1, sessions, 10) > at);
        }
    }
}

#[test]
fn the_end_of_nothing_is_the_beginning() {
    let none = Problem { tasks: Vec::new(), people: vec![0], shared: Vec::new(), session: 360 };
    let path = Path::of(&none).unwrap();
    assert_eq!(end_of(&rules::solve(&none, &path).placed), 0);
}
