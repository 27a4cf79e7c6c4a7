//! The work of a plan in its order and its time, and what stands in the way of the road, as text and as JSON.

use std::collections::BTreeMap;
use std::fmt::Write;

use knockon_core::assessment::Assessment;
use knockon_core::date::Date;
use knockon_core::jobs::{Job, Jobs};
use knockon_core::schedule::Schedule;
use knockon_core::showing::Measure;
use serde_json::{Value, json};

use crate::{card, lines, schedule};

/// The jobs for a terminal: all in their order, with `apart`, what is cheap meanwhile, before them; or those of so many hours.
#[must_use]
pub fn text(
    found: &Jobs,
    plan: &Schedule,
    a: &Assessment,
    this_saturday: Option<f64>,
    apart: &str,
) -> String {
    let mut out = String::new();
    if found.jobs.is_empty() {
        return "The plan makes no work: every place is kept as it is.\n".to_owned();
    }
    let names = names(a);
    match this_saturday {
        Some(hours) => saturday(&mut out, found, hours, &names),
        None => all(&mut out, found, plan, &names, apart),
    }
    for circle in &found.circles {
        let _ = writeln!(out, "\nEach of these wants another of them first: {}", circle.jobs.join(", "));
        let _ = writeln!(out, "  left out, so that the work can begin: {}", circle.left_out);
    }
    out
}

fn names(a: &Assessment) -> BTreeMap<&str, &str> {
    let fitted =
        a.positions.iter().filter_map(|p| p.fitted.as_ref()).map(|(id, name)| (id.as_str(), name.as_str()));
    let companions = a.companions.iter().map(|c| (c.part.as_str(), c.name.as_str()));
    let bought = a.buy.iter().map(|line| (line.part.as_str(), line.name.as_str()));
    fitted.chain(companions).chain(bought).collect()
}

fn all(out: &mut String, found: &Jobs, plan: &Schedule, names: &BTreeMap<&str, &str>, apart: &str) {
    let open = found.jobs.iter().filter(|job| job.done.is_none()).count();
    let (parts, way) = found.parts_and_way();
    let whose = if found.learnt.factor() == 1.0 { "as the plan counts them" } else { "at your pace" };
    let to_go = found.to_go();
    let (half, most) = (to_go.within(0.5), to_go.within(0.8));
    let _ = writeln!(
        out,
        "{open} jobs to do: {parts:.0} h of the parts, {whose}, and {way:.0} h to get to them and back"
    );
    let _ = writeln!(out, "Done within {half:.0} h as often as not, within {most:.0} h four times of five");
    schedule::head(out, found, plan);
    if !apart.is_empty() {
        let _ = writeln!(out, "{}", apart.trim_start());
    }
    let _ = writeln!(out, "Jobs in their order ({})\n", found.jobs.len());
    let mut area = "";
    for (n, job) in found.jobs.iter().enumerate() {
        if job.area != area && !job.area.is_empty() {
            area = &job.area;
            let _ = writeln!(out, "{area}");
        }
        one(out, n + 1, job, found, names);
    }
    if !found.checks.is_empty() {
        let _ = writeln!(out, "\nChecks ({})", found.checks.len());
    }
    for check in &found.checks {
        let mark = if check.signed.is_some() { "x" } else { " " };
        let _ = writeln!(out, "  [{mark}] {} ({}): {}", check.name, check.phase.word(), check.pass);
        if let Some(how) = check.failed() {
            let _ = writeln!(out, "      failed: {how}");
        }
    }
    schedule::sessions(out, found, plan);
}

fn saturday(out: &mut String, found: &Jobs, hours: f64, names: &BTreeMap<&str, &str>) {
    let today = found.in_hours(hours);
    if today.is_empty() {
        let _ = writeln!(out, "Nothing can be begun in {hours} h with what is here.");
    } else {
        let sum: f64 = today.iter().map(|job| found.hours_of(job).likely).sum();
        let _ = writeln!(out, "In {hours} h with what is here ({} jobs, {sum:.1} h):\n", today.len());
    }
    for (n, job) in today.iter().enumerate() {
        one(out, n + 1, job, found, names);
    }
    let tools: std::collections::BTreeSet<&str> =
        today.iter().flat_map(|job| &job.tools).map(String::as_str).collect();
    if !tools.is_empty() {
        let tools: Vec<String> = tools.into_iter().map(str::to_owned).collect();
        let _ = writeln!(out, "\n{}", lines::listed("Tools: ", &tools, ", "));
    }
    let away: Vec<(&Job, Date)> = found.jobs.iter().filter_map(|job| Some((job, job.back_on?))).collect();
    if !away.is_empty() {
        let _ = writeln!(out, "\nSent out ({})", away.len());
    }
    for (job, back) in away {
        let _ = writeln!(out, "  {}: back by {}", job.name, schedule::day(back));
    }
    let waiting: Vec<&Job> =
        found.jobs.iter().filter(|job| job.done.is_none() && !job.waits_for.is_empty()).collect();
    if !waiting.is_empty() {
        let _ = writeln!(out, "\nWaiting for parts ({})", waiting.len());
    }
    for job in waiting {
        let _ = writeln!(out, "  {}", job.name);
        let _ = writeln!(out, "{}", lines::listed("      waits for: ", &named(&job.waits_for, names), "; "));
    }
}

fn one(out: &mut String, n: usize, job: &Job, found: &Jobs, names: &BTreeMap<&str, &str>) {
    let mark = if job.done.is_some() { "x" } else { " " };
    let _ = writeln!(out, "  [{mark}] {n:>3}. {} ({:.1} h)", job.name, found.hours_of(job).likely);
    for check in found.before_job(job) {
        let _ = writeln!(out, "           not before it is signed: {check}");
    }
    for caution in found.cautions_of(&job.cautions) {
        let _ = writeln!(out, "           caution: {caution}");
    }
    for tick in &job.ticks {
        let _ = writeln!(out, "           first: {tick}");
    }
    if !job.lines.is_empty() {
        let _ = writeln!(out, "{}", lines::listed("           with: ", &named(&job.lines, names), "; "));
    }
    if !job.note.is_empty() {
        let _ = writeln!(out, "           {}", job.note);
    }
    if let Some((id, card)) = job.card.as_ref().and_then(|id| found.cards.get_key_value(id)) {
        let _ = writeln!(out, "           how: {} (knockon card {id})", card.name);
    }
}

fn named(parts: &[String], names: &BTreeMap<&str, &str>) -> Vec<String> {
    let name =
        |part: &String| names.get(part.as_str()).map_or_else(|| part.clone(), |name| (*name).to_owned());
    parts.iter().map(name).collect()
}

/// The jobs as JSON.
#[must_use]
pub fn json(found: &Jobs, plan: &Schedule, a: &Assessment, this_saturday: Option<f64>) -> Value {
    let rounded = |hours: f64| (hours * 100.0).round() / 100.0;
    let one = |job: &Job| {
        let hours = found.hours_of(job);
        json!({
            "id": job.id,
            "name": job.name,
            "kind": job.kind.word(),
            "position": job.position,
            "area": job.area,
            "makes_way": job.makes_way,
            "after": job.after.iter().map(|(id, _)| id).collect::<Vec<_>>(),
            "why": job.after.iter().map(|(id, why)| json!({"after": id, "why": why})).collect::<Vec<_>>(),
            "hours": {
                "least": rounded(hours.least),
                "likely": rounded(hours.likely),
                "most": rounded(hours.most),
            },
            "after_checks": job.after_checks.iter().map(|(id, _)| id).collect::<Vec<_>>(),
            "people": job.people,
            "skill": job.skill,
            "places": job.places,
            "weeks": job.weeks,
            "back_on": job.back_on.map(|day| day.to_string()),
            "took": job.done.as_ref().and_then(|done| done.hours),
            "tools": job.tools,
            "ticks": job.ticks,
            "note": job.note,
            "lines": job.lines,
            "waits_for": job.waits_for,
            "cautions": job.cautions,
            "card": job.card,
            "done": job.done.is_some(),
        })
    };
    let checks = found.checks.iter().map(|check| {
        json!({
            "id": check.id,
            "name": check.name,
            "phase": check.phase.word(),
            "after": check.after,
            "method": check.method,
            "after_jobs": check.after_jobs,
            "limit": check.pass,
            "reading": check.limit.as_ref().map(|limit| &limit.text),
            "outside": check.outside.is_some(),
            "failed": check.failed(),
            "fail": check.fail,
            "cautions": check.cautions,
            "card": check.card,
            "signed": check.signed.is_some(),
        })
    });
    let to_go = found.to_go();
    let later = a.later.iter().map(|l| json!({"what": l.what, "when": l.when(Measure::Inch)}));
    let mut all = json!({
        "jobs": found.jobs.iter().map(one).collect::<Vec<_>>(),
        "order": found.jobs.iter().map(|job| &job.id).collect::<Vec<_>>(),
        "commissioning": checks.collect::<Vec<_>>(),
        "later": later.collect::<Vec<_>>(),
        "cards": found.cards.iter().map(|(id, of)| card::json(id, of)).collect::<Vec<_>>(),
        "hours": {"p50": rounded(to_go.within(0.5)), "p80": rounded(to_go.within(0.8))},
        "circles": found.circles.iter().map(|c| json!({"jobs": c.jobs, "left_out": c.left_out})).collect::<Vec<_>>(),
    });
    if let Some(all) = all.as_object_mut() {
        all.extend(schedule::json(found, plan).map(|(word, value)| (word.to_owned(), value)));
    }
    if let (Some(hours), Some(all)) = (this_saturday, all.as_object_mut()) {
        let today: Vec<&String> = found.in_hours(hours).iter().map(|job| &job.id).collect();
        all.insert("this_saturday".to_owned(), json!(today));
    }
    all
}

/// What stands in the way of the road, for a terminal.
#[must_use]
pub fn ready(missing: &[String]) -> String {
    const LAW: &str = "This replaces no inspection that the law asks for; the maker's manual and local codes stand above it.\n";
    if missing.is_empty() {
        return format!("Ready to be driven by this plan.\n{LAW}");
    }
    let mut out = format!("Not ready to be driven: {} open\n", missing.len());
    for what in missing {
        let _ = writeln!(out, "  - {what}");
    }
    out + LAW
}
