//! What the page of the plans shows: each plan as it stands, and why it differs from the one that is worked on.

use std::collections::BTreeMap;

use knockon_core::budget::{Spending, budget};
use knockon_core::compare::{Cause, Trace, compare, take_over, traces};
use knockon_core::date::Date;
use knockon_core::jobs::jobs;
use knockon_core::library::Reversible;
use knockon_core::onward::{Way, onward};
use knockon_core::progress::Progress;
use knockon_core::schedule::schedule;
use knockon_core::{Amounts, Assessment, Catalogue, Edit, Sheet, assess};
use knockon_report::schedule::beside_wanted;

/// A plan as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Stands {
    /// Its id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// What it is in a sentence.
    pub about: String,
    /// What does not fit.
    pub clashes: usize,
    /// What is to be measured.
    pub to_measure: usize,
    /// Companions nobody has decided on.
    pub to_decide: usize,
    /// Places where parts that are not wanted any more come off.
    pub off: usize,
    /// What is paid, on order and to come, against what may be spent.
    pub spending: Spending,
    /// Paid already.
    pub spent: Amounts,
    /// On order or still to be paid.
    pub to_come: Amounts,
    /// Own hours, all of them.
    pub hours: f64,
    /// The day on which it is done four times of five; `None`: no day is known.
    pub done: Option<Date>,
    /// The day it is wanted on; `None`: nobody waits.
    pub wanted: Option<Date>,
    /// How the day it is done stands to that day: "246 days late"; empty where one of the two is not known.
    pub beside_wanted: String,
    /// It is later.
    pub late: bool,
    /// What it leaves on the vehicle.
    pub traces: Vec<Trace>,
}

/// A cause with what takes the other plan's choice over; no edits: there is nothing to take.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// Why, and how much.
    pub cause: Cause,
    /// What brings the other plan's choice into the one that is worked on.
    pub take: Vec<Edit>,
}

/// The difference from the plan that is worked on to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// The other, by id.
    pub other: String,
    /// Difference in money.
    pub money: Amounts,
    /// Difference in hours.
    pub hours: f64,
    /// The causes, the largest first.
    pub causes: Vec<Reason>,
    /// Choices that differ, and cost and take the same.
    pub even: Vec<Reason>,
}

/// Plans side by side, of a revision.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SideBySide {
    /// The plan that is worked on, by id.
    pub on: String,
    /// The plans, in the order of the sheet.
    pub plans: Vec<Stands>,
    /// The others, in the same order.
    pub pairs: Vec<Pair>,
    /// The currency it is told in.
    pub currency: String,
    /// What each of the plans, and selling it, leaves from here.
    pub ways: Vec<Way>,
    /// Systems in board order: id and name.
    pub systems: Vec<(String, String)>,
}

impl SideBySide {
    /// Works it out for these plans of a sheet; `None`: it was given up.
    pub fn of(sheet: &Sheet, catalogue: &Catalogue, ids: &[String], progress: &Progress) -> Option<Self> {
        let own = catalogue.for_sheet(sheet);
        progress.expect(ids.len());
        let mut assessed: BTreeMap<&String, Assessment> = BTreeMap::new();
        let mut plans = Vec::new();
        for id in ids {
            if !progress.step() {
                return None;
            }
            let a = assess(sheet, id, catalogue);
            plans.push(stands(sheet, catalogue, &own, id, &a));
            assessed.insert(id, a);
        }
        let here = assessed.get(&sheet.plan)?;
        let pair = |id: &String| Some(pair(sheet, catalogue, id, here, assessed.get(id)?));
        let others = ids.iter().filter(|id| **id != sheet.plan);
        Some(Self {
            on: sheet.plan.clone(),
            pairs: others.filter_map(pair).collect(),
            currency: here.totals.currency.clone(),
            ways: onward(sheet, ids.iter().filter_map(|id| Some((id, assessed.get(id)?)))),
            systems: here.systems.clone(),
            plans,
        })
    }

    /// A plan by its id.
    pub fn plan(&self, id: &str) -> Option<&Stands> {
        self.plans.iter().find(|plan| plan.id == id)
    }

    /// The systems in which some plan leaves a trace of this kind: id, name, and how many in each plan.
    pub fn traced(&self, reversible: Reversible) -> Vec<(Option<&String>, String, Vec<usize>)> {
        let count = |plan: &Stands, system: Option<&String>| {
            let here = |trace: &&Trace| trace.reversible == reversible && trace.system.as_ref() == system;
            plan.traces.iter().filter(here).count()
        };
        let named = self.systems.iter().map(|(id, name)| (Some(id), name.clone()));
        let all = named.chain([(None, "elsewhere".to_owned())]);
        let counts = |id: Option<&String>| self.plans.iter().map(|plan| count(plan, id)).collect::<Vec<_>>();
        let rows = all.map(|(id, name)| (id, name, counts(id)));
        rows.filter(|(.., counts)| counts.iter().any(|n| *n > 0)).collect()
    }
}

fn stands(sheet: &Sheet, catalogue: &Catalogue, own: &Catalogue, id: &str, a: &Assessment) -> Stands {
    let plan = sheet.plans.get(id);
    let work = schedule(sheet, &jobs(sheet, a, catalogue), a, catalogue);
    let money = &a.totals.money;
    Stands {
        id: id.to_owned(),
        name: plan.map_or_else(|| id.to_owned(), |plan| plan.name.clone()),
        about: plan.map_or_else(String::new, |plan| plan.about.clone()),
        clashes: a.totals.clashes,
        to_measure: a.totals.to_measure,
        to_decide: a.totals.companions_open,
        off: a.surplus.len(),
        spending: budget(sheet, a, own),
        spent: money.spent.clone(),
        to_come: &money.committed + &money.to_come,
        hours: a.totals.hours,
        done: work.most.day,
        wanted: work.settings.wanted,
        beside_wanted: beside_wanted(&work, work.most).unwrap_or_default(),
        late: work.late(work.most).is_some_and(|days| days > 0),
        traces: traces(a, own),
    }
}

fn pair(sheet: &Sheet, catalogue: &Catalogue, id: &str, here: &Assessment, other: &Assessment) -> Pair {
    let found = compare(sheet, catalogue, here, other);
    let reason =
        |cause: Cause| Reason { take: take_over(sheet, here, other, cause.position.as_deref()), cause };
    Pair {
        other: id.to_owned(),
        money: found.money,
        hours: found.hours,
        causes: found.causes.into_iter().map(reason).collect(),
        even: found.even.into_iter().map(reason).collect(),
    }
}
