//! The work of a plan, what a session holds, and whether the vehicle may be driven.

use serde_json::Value;

use crate::{knockon, prints, refused};

const EXAMPLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/furrow-10.json");

fn json(args: &[&str]) -> Value {
    serde_json::from_str(&prints(args)).unwrap()
}

#[test]
fn the_work_stands_in_its_order_with_hours_parts_and_checks() {
    let all = json(&["jobs", EXAMPLE, "--plan", "worked-out", "--no-own", "--json"]);
    let jobs = all["jobs"].as_array().unwrap();
    let order: Vec<&str> = all["order"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
    assert_eq!(jobs.len(), order.len());
    for (at, job) in jobs.iter().enumerate() {
        assert_eq!(job["id"], order[at]);
        for word in ["name", "kind", "position", "after", "lines", "cautions"] {
            assert!(job.get(word).is_some(), "{word}: {job}");
        }
        for word in ["least", "likely", "most"] {
            assert!(job["hours"][word].is_number(), "{job}");
        }
        let after = job["after"].as_array().unwrap();
        assert!(after.iter().all(|id| order[..at].contains(&id.as_str().unwrap())), "{job}");
    }
    let checks = all["commissioning"].as_array().unwrap();
    assert!(checks.iter().any(|check| check["phase"] == "rolling"));
    assert!(!all["later"].as_array().unwrap().is_empty());
    let text = prints(&["jobs", EXAMPLE, "--plan", "worked-out", "--no-own"]);
    assert!(text.contains("h of the parts, as the plan counts them") && text.contains("Checks ("), "{text}");
}

#[test]
fn a_session_holds_what_its_hours_hold_and_hours_are_hours() {
    let all = json(&["jobs", EXAMPLE, "--this-saturday", "4,5", "--no-own", "--json"]);
    let today = all["this_saturday"].as_array().unwrap();
    let hours = |id: &Value| {
        let job = all["jobs"].as_array().unwrap().iter().find(|job| job["id"] == *id).unwrap();
        job["hours"]["likely"].as_f64().unwrap()
    };
    let sum: f64 = today.iter().map(hours).sum();
    assert!(!today.is_empty() && sum <= 4.5 + 0.1, "{sum}");
    let said = refused(2, &["jobs", EXAMPLE, "--this-saturday", "soon"]);
    assert!(said.contains("expected hours above nothing, such as 6 or 4.5"), "{said}");
}

#[test]
fn a_vehicle_with_anything_open_is_not_ready_and_one_that_cannot_be_looked_at_is_neither() {
    let output = knockon(&["ready", EXAMPLE, "--no-own"]);
    assert_eq!(output.status.code(), Some(1));
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(
        text.starts_with("Not ready to be driven: ") && text.contains("replaces no inspection"),
        "{text}"
    );
    let said = refused(2, &["ready", EXAMPLE, "--plan", "nobody"]);
    assert!(said.contains("nobody"), "{said}");
}

#[test]
fn the_sessions_stand_with_the_end_what_to_order_and_what_nobody_has_said() {
    let args = ["jobs", EXAMPLE, "--plan", "worked-out", "--no-own", "--on", "2026-03-30"];
    let all = json(&[&args[..], &["--json"]].concat());
    let sessions = all["schedule"]["sessions"].as_array().unwrap();
    assert_eq!(sessions[0]["day"], "2026-04-04");
    let placed: std::collections::BTreeSet<&str> = sessions
        .iter()
        .flat_map(|s| s["jobs"].as_array().unwrap())
        .filter_map(|job| job["id"].as_str())
        .collect();
    assert_eq!(placed.len(), all["jobs"].as_array().unwrap().len());
    let end = |how: &str| all["finish"][how]["sessions"].as_u64().unwrap();
    assert!(end("p50") <= end("p80") && end("p80") > 20, "{}", all["finish"]);
    assert!(!all["critical"].as_array().unwrap().is_empty() && all["order_today"].is_array());
    let text = prints(&args);
    for said in [
        "taken because the sheet does not say: one person, 6 h a session",
        "for the first time: about 1.5 to 2.5 times a workshop's",
        "four times of five",
        "Sat 2026-04-04",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
}

#[test]
fn a_calendar_is_written_and_nothing_else_is_written_over() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("work.ics");
    let name = out.to_str().unwrap();
    let args =
        ["jobs", EXAMPLE, "--plan", "worked-out", "--no-own", "--on", "2026-03-30", "--calendar", name];
    for _ in 0..2 {
        let said = prints(&args);
        assert!(said.contains("sessions written to"), "{said}");
    }
    let text = std::fs::read_to_string(&out).unwrap();
    assert!(
        text.starts_with("BEGIN:VCALENDAR\r\n") && text.contains("DTSTART;VALUE=DATE:20260404"),
        "{text}"
    );
    // another calendar begins with the same line; one that somebody wrote into is another
    let changed = text.replacen("SUMMARY:", "SUMMARY:Ask Ann. ", 1);
    for kept in ["my notes\n", "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nEND:VCALENDAR\r\n", &changed] {
        std::fs::write(&out, kept).unwrap();
        let said = refused(1, &args);
        assert!(said.contains("holds something else") && said.contains("--replace"), "{said}");
        assert_eq!(std::fs::read_to_string(&out).unwrap(), kept);
    }
    prints(&[&args[..], &["--replace"]].concat());
    assert!(std::fs::read_to_string(&out).unwrap().contains("knockon-seal-"));
}

/// What nobody can read in one line is laid out in several, and what to think of before the work stands before it.
#[test]
fn the_work_reads_from_the_top_and_no_list_runs_in_one_line() {
    let args = ["jobs", EXAMPLE, "--no-own", "--on", "2026-03-30"];
    let (all, text) = (json(&[&args[..], &["--json"]].concat()), prints(&args));
    let at = |what: &str| text.find(what).unwrap_or_else(|| panic!("no {what} in {text}"));
    assert!(
        at("While it is apart: ") < at("Jobs in their order ("),
        "what is cheap meanwhile comes before the jobs"
    );
    assert!(at("Ask how long these take to come (") < at("Jobs in their order ("));
    let asked =
        all["schedule"]["orders"].as_array().unwrap().iter().filter(|one| one["weeks"].is_null()).count();
    assert!(
        asked > 100 && text.contains(&format!("  and {} more; --json has all of them", asked - 6)),
        "{text}"
    );
    // lists end between two things: a line is long only where one thing is
    let lists = ["           with: ", "Longest chain"];
    let long = |line: &&str| {
        line.chars().count() > 80 && line.matches("; ").count() + line.matches(" > ").count() > 0
    };
    let of_lists = |line: &&str| !line.contains("caution: ") && !line.contains("first: ");
    let long: Vec<&str> = text.lines().filter(long).filter(of_lists).collect();
    assert!(
        long.iter().all(|line| !lists.iter().any(|lead| line.starts_with(lead)) && !line.contains(" h); ")),
        "{long:#?}"
    );
    // no figure twice in a line
    let ends: Vec<&str> =
        text.lines().filter(|line| line.starts_with("Done by ") || line.starts_with("Wanted on ")).collect();
    assert_eq!(ends.len(), 2, "{ends:?}");
    for line in ends {
        let (_, said) = line.split_once(" by ").or_else(|| line.split_once(": ")).unwrap();
        let halves: Vec<&str> =
            said.split(", ").map(|half| half.split(" as often").next().unwrap()).collect();
        assert!(halves.windows(2).all(|pair| pair[0] != pair[1]), "{line}");
    }
}
