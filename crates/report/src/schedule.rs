//! When the work is done, in plain words and as JSON: the end beside the wanted day, what to order today, the longest chain,
//! the sessions.

use std::fmt::Write;

use knockon_core::assessment::Assessment;
use knockon_core::date::Date;
use knockon_core::jobs::{Job, Jobs};
use knockon_core::schedule::supply::Order;
use knockon_core::schedule::{End, Note, Schedule, Session};
use knockon_core::sheet::Weekday;
use knockon_core::showing::count;
use serde_json::{Value, json};

use crate::lines;

/// Whose hours those of the library are.
#[must_use]
pub fn whose_hours(found: &Jobs) -> String {
    let whose = "Hours are those of somebody who does it at home for the first time";
    match found.of_workshop {
        Some([least, most]) if least == most => format!("{whose}: about {least} times a workshop's"),
        Some([least, most]) => format!("{whose}: about {least} to {most} times a workshop's"),
        None => whose.to_owned(),
    }
}

/// The name of a job; its id where there is none.
#[must_use]
pub fn name_of<'a>(found: &'a Jobs, id: &'a str) -> &'a str {
    found.jobs.iter().find(|job| job.id == id).map_or(id, |job| job.name.as_str())
}

/// Minutes as hours: "2.5 h".
#[must_use]
pub fn hours(minutes: u64) -> String {
    format!("{:.1} h", minutes as f64 / 60.0)
}

/// Weeks at least and at most: "2 to 4 weeks".
#[must_use]
pub fn weeks([least, most]: [f64; 2]) -> String {
    if least == most {
        let unit = if most == 1.0 { "week" } else { "weeks" };
        return format!("{most} {unit}");
    }
    format!("{least} to {most} weeks")
}

/// A day as it is said: "Sat 2026-04-04".
#[must_use]
pub fn day(day: Date) -> String {
    let word: String = Weekday::of(day).word().chars().take(3).collect();
    let (first, rest) = word.split_at(1);
    format!("{}{rest} {day}", first.to_uppercase())
}

/// The parts of a job by name, what is not here marked as to come.
#[must_use]
pub fn parts_of(job: &Job, a: &Assessment) -> Vec<String> {
    let bought = |part: &String| a.buy.iter().find(|line| line.part == *part).map(|line| &line.name);
    let companion = |part: &String| a.companions.iter().find(|c| c.part == *part).map(|c| &c.name);
    let one = |part: &String| {
        let name = bought(part).or_else(|| companion(part)).unwrap_or(part);
        if job.waits_for.contains(part) { format!("{name} (to come)") } else { name.clone() }
    };
    job.lines.iter().map(one).collect()
}

/// People, hours and days: "1 person, 6 h a session, on Saturday".
#[must_use]
pub fn time(plan: &Schedule) -> String {
    let settings = &plan.settings;
    let people = match settings.people.len() {
        1 => "1 person".to_owned(),
        n => format!("{n} people"),
    };
    let days: Vec<String> = settings.days.iter().map(|day| capital(day.word())).collect();
    format!("{people}, {:.1} h a session, {}", settings.minutes as f64 / 60.0, days.join(", "))
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// An end: "Sat 2027-06-05 (63 sessions)".
#[must_use]
pub fn end(end: End) -> String {
    let sessions =
        if end.sessions == 1 { "1 session".to_owned() } else { format!("{} sessions", end.sessions) };
    match end.day {
        Some(at) => format!("{} ({sessions})", day(at)),
        None => sessions,
    }
}

/// An end beside the wanted day: "12 days late"; nothing where no day is wanted.
#[must_use]
pub fn beside_wanted(plan: &Schedule, end: End) -> Option<String> {
    let days = |n: i32| if n == 1 { "1 day".to_owned() } else { format!("{n} days") };
    Some(match plan.late(end)? {
        0 => "on that day".to_owned(),
        late if late > 0 => format!("{} late", days(late)),
        early => format!("{} before", days(-early)),
    })
}

/// What the jobs that are done taught: nothing where none was timed.
#[must_use]
pub fn pace(found: &Jobs) -> Option<String> {
    let learnt = found.learnt;
    let took = format!("{:.1} h where {:.1} h were likely", learnt.taken, learnt.likely);
    match (learnt.jobs, learnt.factor()) {
        (0, _) => None,
        (1, 1.0) => Some(format!("1 job was timed, {took}: from 3 on the rest is counted at your pace")),
        (n, 1.0) if n < knockon_core::jobs::learnt::ENOUGH => {
            Some(format!("{n} jobs were timed, {took}: from 3 on the rest is counted at your pace"))
        }
        (n, factor) => Some(format!("{n} jobs took {took}: the rest is counted {factor:.2} times")),
    }
}

/// What does not go as it was meant, as a sentence.
#[must_use]
pub fn note(note: &Note, found: &Jobs) -> String {
    let name = |id: &str| name_of(found, id).to_owned();
    match note {
        Note::Hands { job, people } => {
            format!("{}: it takes {people} people; borrow hands for it", name(job))
        }
        Note::Skill { job, skill } => {
            format!("{}: nobody here has \"{skill}\"; find somebody who has", name(job))
        }
        Note::Away { job } => {
            format!("{}: nobody knows for how many weeks it is away; ask the shop", name(job))
        }
        Note::Sent { job } => {
            format!("{}: sent out, and whether it is back nobody has said; it counts as back", name(job))
        }
        Note::Moved { job, to, on, behind } => {
            let behind =
                behind.as_ref().map_or_else(String::new, |behind| format!(", behind {}", name(behind)));
            format!("{}: moved to {}, and it stands on {}{behind}", name(job), day(*to), day(*on))
        }
        Note::NoDay { job, part, here } => {
            format!("{part}: on order, and no day was promised; ask. {} for {}", counts(*here), name(job))
        }
        Note::Late { job, part, promised, here } => {
            format!(
                "{part}: promised for {}, and not here; ask for another day. {} for {}",
                day(*promised),
                counts(*here),
                name(job)
            )
        }
        Note::Check { job, checks } => {
            format!("{}: not before these are signed: {}", name(job), checks.join(", "))
        }
    }
}

/// From when on a part counts that nobody has promised a day for.
fn counts(here: Option<Date>) -> String {
    match here {
        Some(at) => format!("Until then it counts as here on {}", day(at)),
        None => "Until then it counts as here from the second session on".to_owned(),
    }
}

/// What is ordered: its name, and how many more where some are on order or here.
#[must_use]
pub fn to_order(order: &Order) -> String {
    match order.short {
        0 => order.name.clone(),
        short => format!("{}, {short} more of {}", order.name, order.qty),
    }
}

/// A line for something to order.
#[must_use]
pub fn order(order: &Order, found: &Jobs) -> String {
    let name = name_of(found, &order.job);
    let on = order.wanted.map_or_else(String::new, |at| format!(" on {}", day(at)));
    let takes = order.weeks.map_or_else(|| "how long it takes nobody has said".to_owned(), weeks);
    let by = order.latest.map_or_else(String::new, |at| format!(", by {}", day(at)));
    format!("{} ({takes}): for {name}{on}{by}", to_order(order))
}

/// So many of a kind are named; the others are counted.
const TOLD: usize = 6;

/// What stands above the jobs.
pub fn head(out: &mut String, found: &Jobs, plan: &Schedule) {
    let _ = writeln!(out, "Time: {}", time(plan));
    if !plan.settings.taken.is_empty() {
        let _ = writeln!(out, "  taken because the sheet does not say: {}", plan.settings.taken.join(", "));
    }
    let _ = writeln!(out, "{}", whose_hours(found));
    if let Some(pace) = pace(found) {
        let _ = writeln!(out, "{pace}");
    }
    let _ = match (end(plan.half), end(plan.most)) {
        (half, most) if half == most => writeln!(out, "Done by {most}, four times of five"),
        (half, most) => writeln!(out, "Done by {half} as often as not, by {most} four times of five"),
    };
    if let Some(wanted) = plan.settings.wanted {
        let said = [plan.half, plan.most].map(|at| beside_wanted(plan, at).unwrap_or_default());
        let _ = match said {
            [half, most] if half == most => writeln!(out, "Wanted on {}: {most}", day(wanted)),
            [half, most] => {
                writeln!(out, "Wanted on {}: {half} as often as not, {most} four times of five", day(wanted))
            }
        };
    }
    let chain: Vec<String> = plan.critical.iter().map(|id| name_of(found, id).to_owned()).collect();
    if !chain.is_empty() {
        let _ = writeln!(
            out,
            "Longest chain ({}, {:.0} h): more hands do not shorten it\n{}",
            count(chain.len(), "job", "jobs"),
            plan.chain,
            lines::listed("  ", &chain, " > ")
        );
    }
    listed(out, "Order today", &plan.order_today().map(|one| order(one, found)).collect::<Vec<_>>());
    let later = plan.orders.iter().filter(|one| !one.today && one.latest.is_some());
    listed(out, "Order later", &later.map(|one| order(one, found)).collect::<Vec<_>>());
    let ask: Vec<String> = plan.to_ask().map(to_order).collect();
    if !ask.is_empty() {
        let _ = writeln!(
            out,
            "Ask how long these take to come ({}); until then they count as here from the second session on",
            ask.len()
        );
        for name in ask.iter().take(TOLD) {
            let _ = writeln!(out, "  {name}");
        }
        let more = ask.len().saturating_sub(TOLD);
        if more > 0 {
            let _ = writeln!(out, "  and {more} more; --json has all of them");
        }
    }
    listed(out, "To mind", &plan.notes.iter().map(|one| note(one, found)).collect::<Vec<_>>());
    out.push('\n');
}

fn listed(out: &mut String, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    let _ = writeln!(out, "{title} ({})", lines.len());
    for line in lines {
        let _ = writeln!(out, "  {line}");
    }
}

/// The sessions, each with its jobs.
pub fn sessions(out: &mut String, found: &Jobs, plan: &Schedule) {
    if !plan.sessions.is_empty() {
        let _ = writeln!(out, "\nSessions ({})", plan.sessions.len());
    }
    for (n, session) in plan.sessions.iter().enumerate() {
        let when = session.day.map_or_else(String::new, |at| format!(" {}", day(at)));
        let lead = format!("  {:>3}.{when}  ", n + 1);
        let _ = writeln!(out, "{}", lines::listed(&lead, &holds(session, found), "; "));
    }
}

/// What a session holds, job by job.
fn holds(session: &Session, found: &Jobs) -> Vec<String> {
    if session.blocks.is_empty() {
        return vec!["nothing can be done, all that is left waits".to_owned()];
    }
    let one = |block: &knockon_core::schedule::Block| {
        let piece = match block.piece {
            (_, 1) => String::new(),
            (n, of) => format!(", part {n} of {of}"),
        };
        format!("{} ({}{piece})", name_of(found, &block.job), hours(block.minutes))
    };
    session.blocks.iter().map(one).collect()
}

/// The words of the schedule in the JSON of the jobs: `schedule`, `critical`, `order_today`, `finish`.
#[must_use]
pub fn json(found: &Jobs, plan: &Schedule) -> [(&'static str, Value); 4] {
    let rounded = |minutes: f64| (minutes / 60.0 * 100.0).round() / 100.0;
    let text = |day: Option<Date>| day.map(|day| day.to_string());
    let block = |block: &knockon_core::schedule::Block| {
        json!({
            "id": block.job,
            "from": rounded(block.from as f64),
            "hours": rounded(block.minutes as f64),
            "piece": block.piece.0,
            "of": block.piece.1,
            "people": block.people,
        })
    };
    let sessions = plan.sessions.iter().map(|session| {
        json!({"day": text(session.day), "jobs": session.blocks.iter().map(block).collect::<Vec<_>>()})
    });
    let jobs: serde_json::Map<String, Value> = plan
        .slots
        .iter()
        .map(|(id, slot)| {
            let waits = slot.waits.iter().map(|part| json!({"part": part.part, "here": text(part.day)}));
            let one = json!({
                "first": slot.first,
                "last": slot.last,
                "float": (slot.float * 100.0).round() / 100.0,
                "critical": slot.critical,
                "waits": waits.collect::<Vec<_>>(),
            });
            (id.clone(), one)
        })
        .collect();
    let order = |one: &Order| {
        json!({
            "part": one.part, "name": one.name, "qty": one.qty, "short": one.short, "job": one.job,
            "wanted": text(one.wanted),
            "weeks": one.weeks, "latest": text(one.latest),
        })
    };
    let end = |end: End| json!({"sessions": end.sessions, "day": text(end.day), "late": plan.late(end)});
    let settings = &plan.settings;
    let schedule = json!({
        "people": settings.people.iter().map(|hand| &hand.name).collect::<Vec<_>>(),
        "hours": rounded(settings.minutes as f64),
        "days": settings.days.iter().map(|day| day.word()).collect::<Vec<_>>(),
        "taken": settings.taken,
        "pace": found.learnt.factor(),
        "rule": plan.rule.word(),
        "sessions": sessions.collect::<Vec<_>>(),
        "jobs": jobs,
        "orders": plan.orders.iter().map(order).collect::<Vec<_>>(),
        "notes": plan.notes.iter().map(|one| note(one, found)).collect::<Vec<_>>(),
    });
    let finish = json!({
        "likely": end(plan.likely), "p50": end(plan.half), "p80": end(plan.most), "wanted": text(settings.wanted),
    });
    [
        ("schedule", schedule),
        ("critical", json!(plan.critical)),
        ("order_today", json!(plan.order_today().map(order).collect::<Vec<_>>())),
        ("finish", finish),
    ]
}
