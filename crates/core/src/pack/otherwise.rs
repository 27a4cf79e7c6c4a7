//! What another library changes in a plan, by name: for somebody who decides whether to take it in.

use std::collections::BTreeMap;

use crate::assessment::{Assessment, Companion};
use crate::library::Level;
use crate::showing::Measure;

/// What a plan comes to otherwise, in sentences without a full stop, each with the name of what it is about: what sits where,
/// what is needed and what is not any more, what does not fit and what fits again, what is to be measured, dangers, money and
/// hours. Empty: the plan stays as it is.
#[must_use]
pub fn changes(was: &Assessment, is: &Assessment, measure: Measure) -> Vec<String> {
    let mut out = Vec::new();
    places(was, is, &mut out);
    companions(was, is, &mut out);
    let clashes =
        |a: &Assessment| -> Names { a.clashes.iter().map(|c| (c.key.to_string(), c.name.clone())).collect() };
    gone_and_new(&clashes(was), &clashes(is), "Fits again: ", "Does not fit: ", &mut out);
    let open = |a: &Assessment| -> Names {
        a.to_measure.iter().map(|m| (m.key.to_string(), m.what.say(measure))).collect()
    };
    gone_and_new(&open(was), &open(is), "Not to be measured any more: ", "To measure: ", &mut out);
    let dangers =
        |a: &Assessment| -> Names { a.cautions.iter().map(|c| (c.id.clone(), c.danger.clone())).collect() };
    gone_and_new(&dangers(was), &dangers(is), "No danger any more: ", "Danger: ", &mut out);
    let money = |a: &Assessment| {
        let shown = a.totals.money.all().shown(&a.totals.currency);
        shown.iter().map(ToString::to_string).collect::<Vec<_>>().join(" and ")
    };
    let (before, after) = (money(was), money(is));
    if before != after {
        out.push(format!("Money: {after} instead of {before}"));
    }
    if (was.totals.hours - is.totals.hours).abs() > 0.05 {
        out.push(format!("Hours: {:.1} instead of {:.1}", is.totals.hours, was.totals.hours));
    }
    out
}

type Names = BTreeMap<String, String>;

fn places(was: &Assessment, is: &Assessment, out: &mut Vec<String>) {
    let name = |fitted: Option<&(String, String)>| fitted.map_or("nothing", |(_, name)| name).to_owned();
    for new in &is.positions {
        match was.positions.iter().find(|old| old.id == new.id) {
            None => out.push(format!("A place more: {}", new.name)),
            Some(old) if old.fitted != new.fitted => {
                let (before, after) = (name(old.fitted.as_ref()), name(new.fitted.as_ref()));
                if before != after {
                    out.push(format!("{}: {after} instead of {before}", new.name));
                } else {
                    out.push(format!("{}: another {after}", new.name));
                }
            }
            Some(_) => {}
        }
    }
    let gone = was.positions.iter().filter(|old| is.positions.iter().all(|new| new.id != old.id));
    out.extend(gone.map(|old| format!("No place any more: {}", old.name)));
}

fn companions(was: &Assessment, is: &Assessment, out: &mut Vec<String>) {
    let said = |c: &Companion| (c.key.clone(), c.part.clone(), c.qty);
    let without = |all: &[Companion], other: &[Companion]| -> Vec<Companion> {
        let is_there = |c: &Companion| other.iter().any(|o| said(o) == said(c));
        all.iter().filter(|c| !is_there(c)).cloned().collect()
    };
    let named = |c: &Companion| if c.qty == 1 { c.name.clone() } else { format!("{} × {}", c.qty, c.name) };
    for c in without(&is.companions, &was.companions) {
        let lead = if c.level == Level::Required { "Needs" } else { "Better with" };
        out.push(format!("{lead}: {}", named(&c)));
    }
    for c in without(&was.companions, &is.companions) {
        out.push(format!("Not wanted any more: {}", named(&c)));
    }
}

fn gone_and_new(was: &Names, is: &Names, gone: &str, new: &str, out: &mut Vec<String>) {
    let only = |one: &Names, other: &Names, lead: &str| -> Vec<String> {
        let all = one.iter().filter(|(key, name)| other.get(*key) != Some(name));
        all.map(|(_, name)| format!("{lead}{name}")).collect()
    };
    out.extend(only(is, was, new));
    out.extend(only(was, is, gone));
}
