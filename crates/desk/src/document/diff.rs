//! The edits that lead from one sheet to another: undo and redo enter the journal this way.

use std::collections::BTreeMap;

use knockon_core::described::{Described, Differs};
use knockon_core::edit::AsFound;
use knockon_core::sheet::{Line, Plan};
use knockon_core::{Edit, Sheet};

/// Edits that turn `from` into `to`.
pub fn edits(from: &Sheet, to: &Sheet) -> Vec<Edit> {
    let mut out = Vec::new();
    // plans that come before the switch, plans that go after it
    for (id, plan) in &to.plans {
        match from.plans.get(id) {
            Some(old) if old == plan => {}
            Some(old) if same_but_choices(old, plan) => choices(id, old, plan, &mut out),
            _ => out.push(Edit::PutPlan { id: id.clone(), plan: Some(Box::new(plan.clone())) }),
        }
    }
    if from.plan != to.plan {
        out.push(Edit::SwitchPlan { plan: to.plan.clone() });
    }
    for id in from.plans.keys().filter(|id| !to.plans.contains_key(*id)) {
        out.push(Edit::PutPlan { id: id.clone(), plan: None });
    }
    changed(&from.survey, &to.survey, |position, finding| {
        out.push(Edit::Survey { position: position.clone(), finding: finding.cloned() });
    });
    changed(&from.readings, &to.readings, |position, readings| {
        let readings = readings.cloned().unwrap_or_default();
        out.push(Edit::Readings { position: position.clone(), readings });
    });
    changed(&from.seen, &to.seen, |position, seen| {
        out.push(Edit::Seen { position: position.clone(), seen: seen.cloned().unwrap_or_default() });
    });
    below(&from.own_bounds, &to.own_bounds, |position, of, bounds| {
        out.push(Edit::OwnBounds {
            position: position.clone(),
            of: of.clone(),
            bounds: bounds.cloned().map(Box::new),
        });
    });
    below(&from.put_off, &to.put_off, |position, of, put_off| {
        out.push(Edit::PutOff { position: position.clone(), of: of.clone(), put_off: put_off.cloned() });
    });
    if from.worth != to.worth {
        out.push(Edit::SetWorth { worth: Box::new(to.worth.clone()) });
    }
    if from.for_sale != to.for_sale {
        out.push(Edit::ForSale { for_sale: to.for_sale.clone().map(Box::new) });
    }
    if from.identity != to.identity {
        out.push(Edit::Identify { identity: to.identity.clone().map(Box::new) });
    }
    if from.directions != to.directions {
        out.push(Edit::Direct { directions: to.directions.clone() });
    }
    if from.not_driven != to.not_driven {
        out.push(Edit::NotDriven { not_driven: to.not_driven.clone() });
    }
    changed(&from.made, &to.made, |position, made| {
        out.push(Edit::Made { position: position.clone(), made: made.cloned() });
    });
    changed(&from.as_found, &to.as_found, |position, found| {
        let found = match found {
            None => AsFound::Library,
            Some(None) => AsFound::Nothing,
            Some(Some(id)) => AsFound::Part(id.clone()),
        };
        out.push(Edit::Found { position: position.clone(), found });
    });
    changed(&from.notes, &to.notes, |position, text| {
        out.push(Edit::Note { position: position.clone(), text: text.cloned().unwrap_or_default() });
    });
    changed(&from.photos, &to.photos, |position, paths| {
        out.push(Edit::Photos { position: position.clone(), paths: paths.cloned().unwrap_or_default() });
    });
    changed(&from.done, &to.done, |job, done| {
        out.push(Edit::Done { job: job.clone(), done: done.cloned() });
    });
    changed(&from.pinned, &to.pinned, |job, day| {
        out.push(Edit::Pin { job: job.clone(), day: day.cloned() });
    });
    if from.time != to.time {
        out.push(Edit::Time { time: to.time.clone().map(Box::new) });
    }
    changed(&from.signed, &to.signed, |check, signed| {
        out.push(Edit::Sign { check: check.clone(), signed: signed.cloned() });
    });
    for id in from.facts.keys().chain(to.facts.keys()) {
        // what is no key is measured by no edit
        if from.facts.get(id) != to.facts.get(id)
            && let Ok(figure) = id.parse()
        {
            out.push(Edit::SetFact { figure, value: to.facts.get(id).cloned() });
        }
    }
    for id in from.parts.keys().chain(to.parts.keys()) {
        if from.parts.get(id) != to.parts.get(id) {
            out.push(Edit::PutPart { id: id.clone(), part: to.parts.get(id).cloned().map(Box::new) });
        }
    }
    described(&from.described, &to.described, &mut out);
    lines(&from.lines, &to.lines, &mut out);
    if from.budget != to.budget {
        out.push(Edit::SetBudget { budget: Box::new(to.budget.clone()) });
    }
    changed(&from.suppliers, &to.suppliers, |name, supplier| {
        let supplier = supplier.cloned().map(Box::new);
        out.push(Edit::PutSupplier { name: name.clone(), supplier });
    });
    if from.libraries != to.libraries {
        out.push(Edit::Libraries { libraries: to.libraries.clone() });
    }
    if from.name != to.name {
        out.push(Edit::Rename { name: to.name.clone() });
    }
    out
}

/// Edits for what is otherwise on the vehicle.
fn described(from: &Described, to: &Described, out: &mut Vec<Edit>) {
    changed(&from.positions, &to.positions, |id, place| {
        out.push(Edit::Place { position: id.clone(), place: Differs::of(place) });
    });
    changed(&from.joints, &to.joints, |id, meets| {
        out.push(Edit::Joint { joint: id.clone(), meets: Differs::of(meets) });
    });
    changed(&from.circuits, &to.circuits, |id, holds| {
        out.push(Edit::Circuit { circuit: id.clone(), holds: Differs::of(holds) });
    });
    changed(&from.gives, &to.gives, |id, amount| {
        out.push(Edit::Gives { pool: id.clone(), amount: Differs::of(amount) });
    });
    if (&from.name, &from.about) != (&to.name, &to.about) {
        out.push(Edit::CallVehicle { name: to.name.clone(), about: to.about.clone() });
    }
}

/// Whether two plans differ at most in what single edits can change.
fn same_but_choices(old: &Plan, new: &Plan) -> bool {
    // an empty reason is no edit: it may stand in a file all the same
    let sayable = new.waived.values().all(|reason| !reason.trim().is_empty());
    let rest = |p: &Plan| {
        let shown = (p.name.clone(), p.about.clone());
        (shown, p.extra.clone(), p.choice_extra.clone(), p.unread.clone())
    };
    sayable && rest(old) == rest(new)
}

/// Edits for the choices alone: a step stays as small as it was.
fn choices(id: &str, old: &Plan, new: &Plan, out: &mut Vec<Edit>) {
    let plan = || id.to_owned();
    changed(&old.routes, &new.routes, |position, choice| {
        out.push(Edit::Choose { plan: plan(), position: position.clone(), choice: choice.cloned() });
    });
    changed(&old.picks, &new.picks, |key, part| {
        out.push(Edit::Pick { plan: plan(), key: key.clone(), part: part.cloned() });
    });
    for key in old.accepted.symmetric_difference(&new.accepted) {
        out.push(Edit::Accept { plan: plan(), key: key.clone(), yes: new.accepted.contains(key) });
    }
    changed(&old.waived, &new.waived, |key, reason| {
        out.push(Edit::Waive { plan: plan(), key: key.clone(), reason: reason.cloned() });
    });
}

fn lines(from: &BTreeMap<String, Line>, to: &BTreeMap<String, Line>, out: &mut Vec<Edit>) {
    changed(from, to, |part, line| {
        let (old, new) = (from.get(part).cloned().unwrap_or_default(), line.cloned().unwrap_or_default());
        let part = part.clone();
        if old.state != new.state {
            out.push(Edit::SetLine { part: part.clone(), state: new.state });
        }
        if old.paid != new.paid {
            out.push(Edit::SetPaid { part: part.clone(), paid: new.paid });
        }
        changed(&old.came_back, &new.came_back, |what, amount| {
            out.push(Edit::SetCameBack { part: part.clone(), what: *what, amount: amount.cloned() });
        });
        // another state may have taken the number away already
        if old.qty != new.qty || old.state != new.state && new.qty.is_some() {
            out.push(Edit::SetQty { part: part.clone(), qty: new.qty });
        }
        if old.supplier != new.supplier {
            out.push(Edit::SetSupplier { part: part.clone(), supplier: new.supplier });
        }
        if old.weeks != new.weeks {
            out.push(Edit::SetWeeks { part: part.clone(), weeks: new.weeks });
        }
        // another state than on order has taken the day away already
        if old.promised != new.promised || old.state != new.state && new.promised.is_some() {
            out.push(Edit::SetPromised { part: part.clone(), promised: new.promised });
        }
        // another state than fitted has taken the day away already
        if old.fitted != new.fitted {
            out.push(Edit::SetFitted { part, fitted: new.fitted });
        }
    });
}

/// The same one table deeper.
fn below<V: PartialEq>(
    from: &BTreeMap<String, BTreeMap<String, V>>,
    to: &BTreeMap<String, BTreeMap<String, V>>,
    mut tell: impl FnMut(&String, &String, Option<&V>),
) {
    let none = BTreeMap::new();
    changed(from, to, |position, now| {
        let (old, new) = (from.get(position).unwrap_or(&none), now.unwrap_or(&none));
        changed(old, new, |key, value| tell(position, key, value));
    });
}

fn changed<K: Ord, V: PartialEq>(
    from: &BTreeMap<K, V>,
    to: &BTreeMap<K, V>,
    mut tell: impl FnMut(&K, Option<&V>),
) {
    for (key, value) in to {
        if from.get(key) != Some(value) {
            tell(key, Some(value));
        }
    }
    for key in from.keys().filter(|key| !to.contains_key(*key)) {
        tell(key, None);
    }
}

#[cfg(test)]
mod tests {
    use super::edits;
    use knockon_core::described::Differs;
    use knockon_core::key::CompanionKey;
    use knockon_core::made_with::MadeWith;
    use knockon_core::refund::CameBack;
    use knockon_core::sheet::{
        Choice, Direction, Done, LineState, NotDriven, OwnBounds, Plan, PutOff, Reading, Route, Seen, Signed,
        Time, Verdict,
    };
    use knockon_core::{Edit, Money, Sheet, apply};

    #[test]
    fn every_edit_can_be_taken_back_by_edits() {
        let mut base = Sheet { plan: "a".into(), ..Sheet::default() };
        base.plans.insert("a".into(), Plan::default());
        let steps = [
            Edit::Choose {
                plan: "a".into(),
                position: "p".into(),
                choice: Some(Choice { route: Route::Renew, part: None }),
            },
            Edit::Waive { plan: "a".into(), key: CompanionKey::survey("p"), reason: Some("have one".into()) },
            Edit::SetLine { part: "x".into(), state: LineState::InHand },
            Edit::SetSupplier { part: "x".into(), supplier: "the shop".into() },
            Edit::SetCameBack {
                part: "x".into(),
                what: CameBack::Core,
                amount: "60 USD".parse::<Money>().ok(),
            },
            Edit::SetLine { part: "y".into(), state: LineState::Fitted },
            Edit::SetQty { part: "y".into(), qty: Some(4) },
            Edit::SetFitted { part: "y".into(), fitted: Some("2026-03-01".into()) },
            Edit::SetWeeks { part: "x".into(), weeks: Some(2.5) },
            Edit::SetLine { part: "z".into(), state: LineState::OnOrder },
            Edit::SetPromised { part: "z".into(), promised: Some("2026-04".into()) },
            Edit::Time { time: Some(Box::new(Time { hours: Some(5.0), ..Time::default() })) },
            Edit::Pin { job: "tank-out".into(), day: Some("2026-04-11".into()) },
            Edit::Made { position: "p".into(), made: Some("1966".into()) },
            Edit::Note { position: "p".into(), text: "seized".into() },
            Edit::Photos { position: "p".into(), paths: vec!["a.jpg".into()] },
            Edit::Done { job: "tank-out".into(), done: Some(Done { hours: Some(2.5), ..Done::default() }) },
            Edit::Sign {
                check: "leak-test".into(),
                signed: Some(Signed { reading: "dry".into(), by: "AB".into(), ..Signed::default() }),
            },
            Edit::Readings {
                position: "p".into(),
                readings: vec![Reading { of: "play".into(), value: "2 mm".into(), ..Reading::default() }],
            },
            Edit::Seen {
                position: "p".into(),
                seen: vec![Seen {
                    what: "a crack".into(),
                    verdict: Verdict::Stop,
                    on: None,
                    by: String::new(),
                    extra: Default::default(),
                }],
            },
            Edit::OwnBounds {
                position: "p".into(),
                of: "play".into(),
                bounds: Some(Box::new(OwnBounds { source: "stamped".into(), ..OwnBounds::default() })),
            },
            Edit::PutOff {
                position: "p".into(),
                of: "play".into(),
                put_off: Some(PutOff { reason: "winter".into(), ..PutOff::default() }),
            },
            Edit::NotDriven { not_driven: Some(NotDriven::default()) },
            Edit::SetWorth {
                worth: Box::new(serde_json::from_value(serde_json::json!({"in_parts": "5.00 USD"})).unwrap()),
            },
            Edit::ForSale { for_sale: Some(Box::default()) },
            Edit::Identify { identity: Some(Box::default()) },
            Edit::Direct {
                directions: vec![Direction { reason: "it is complete".into(), ..Direction::default() }],
            },
            Edit::PutPart { id: "own-x".into(), part: Some(Box::default()) },
            Edit::Place { position: "heater".into(), place: Differs::Nothing },
            Edit::Place { position: "tank-2".into(), place: Differs::Own(Box::default()) },
            Edit::Joint { joint: "j".into(), meets: Differs::Own(Box::default()) },
            Edit::Circuit { circuit: "fuel".into(), holds: Differs::Nothing },
            Edit::Gives { pool: "room".into(), amount: Differs::Own(Box::new("10 mm".into())) },
            Edit::CallVehicle { name: "1949 van".into(), about: "of my own".into() },
            Edit::PutPlan { id: "b".into(), plan: Some(Box::default()) },
            Edit::SwitchPlan { plan: "b".into() },
            Edit::Rename { name: "truck".into() },
            Edit::Libraries { libraries: vec![MadeWith { name: "Shop".into(), ..MadeWith::default() }] },
        ];
        let mut now = base.clone();
        for step in &steps {
            assert_eq!(apply(&mut now, step), Ok(()));
        }
        for (from, to) in [(&base, &now), (&now, &base)] {
            let mut walked = from.clone();
            for edit in edits(from, to) {
                assert_eq!(apply(&mut walked, &edit), Ok(()));
            }
            assert_eq!(walked, *to);
        }
    }

    #[test]
    fn what_a_plan_says_by_no_key_comes_and_goes_with_the_plan() {
        let mut base = Sheet { plan: "a".into(), ..Sheet::default() };
        base.plans.insert("a".into(), Plan::default());
        let mut now = base.clone();
        let mut plan = Plan::default();
        plan.unread.accepted.insert("nosuch:key".into());
        now.plans.insert("a".into(), plan);
        for (from, to) in [(&base, &now), (&now, &base)] {
            let mut walked = from.clone();
            for edit in edits(from, to) {
                assert_eq!(apply(&mut walked, &edit), Ok(()));
            }
            assert_eq!(walked, *to);
        }
    }

    #[test]
    fn a_choice_taken_back_is_one_small_edit() {
        let mut base = Sheet { plan: "a".into(), ..Sheet::default() };
        base.plans.insert("a".into(), Plan { name: "A".into(), ..Plan::default() });
        let mut now = base.clone();
        let choice = Some(Choice { route: Route::Renew, part: None });
        let step = Edit::Choose { plan: "a".into(), position: "p".into(), choice };
        assert_eq!(apply(&mut now, &step), Ok(()));
        let back = Edit::Choose { plan: "a".into(), position: "p".into(), choice: None };
        assert_eq!(edits(&now, &base), [back]);
        assert_eq!(edits(&base, &now), [step]);
    }
}
