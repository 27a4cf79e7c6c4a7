//! Which jobs there are: what is touched asks for operations, and these for what comes before them and closes them.

use std::collections::BTreeMap;

use crate::catalogue::work::Before;
use crate::catalogue::{Catalogue, VehicleEntry};
use crate::jobs::touched::Touched;
use crate::library::{JobKind, Operation};
use crate::whereabouts::Whereabouts;

/// A job without its figures.
#[derive(Clone, Debug)]
pub struct Asked {
    /// Operation id; `None`: a place of which the library has no operation that puts parts on.
    pub operation: Option<String>,
    /// The place it is done for, where it is done for each.
    pub place: Option<String>,
    /// The first place that asked for it.
    pub asked_at: Option<String>,
    /// Where that place is.
    pub whereabouts: Whereabouts,
    /// The plan changes something in it; else it only makes way.
    pub pulled: bool,
}

impl Asked {
    /// By which it is called.
    pub fn id(&self) -> String {
        let operation = self.operation.as_deref().unwrap_or("fit");
        match &self.place {
            Some(place) => format!("{operation}@{place}"),
            None => operation.to_owned(),
        }
    }
}

/// The jobs, and what asked for which.
#[derive(Clone, Debug, Default)]
pub struct All {
    /// The jobs.
    pub jobs: Vec<Asked>,
    /// By operation and place.
    pub at: BTreeMap<(Option<String>, Option<String>), usize>,
    /// For each touched thing the jobs that it asked for.
    pub by: Vec<Vec<usize>>,
}

impl All {
    fn add(&mut self, operation: Option<&str>, place: Option<&str>, pulled: bool) -> (usize, bool) {
        let key = (operation.map(str::to_owned), place.map(str::to_owned));
        if let Some(at) = self.at.get(&key) {
            if let Some(job) = self.jobs.get_mut(*at) {
                job.pulled |= pulled;
            }
            return (*at, false);
        }
        let at = self.jobs.len();
        self.jobs.push(Asked {
            operation: key.0.clone(),
            place: key.1.clone(),
            asked_at: None,
            whereabouts: Whereabouts::default(),
            pulled,
        });
        self.at.insert(key, at);
        (at, true)
    }

    /// The jobs of an operation.
    pub fn of<'a>(&'a self, operation: &'a str) -> impl Iterator<Item = usize> + 'a {
        let is_it = move |job: &Asked| job.operation.as_deref() == Some(operation);
        self.jobs.iter().enumerate().filter(move |(_, job)| is_it(job)).map(|(at, _)| at)
    }
}

/// Whether an operation is there on a vehicle.
pub fn is_there(op: &Operation, catalogue: &Catalogue, v: &VehicleEntry) -> bool {
    let classes = if op.at.is_empty() { &op.whom } else { &op.at };
    v.is_built_so(&op.built)
        && (classes.is_empty() || classes.iter().any(|class| has_place(class, catalogue, v)))
}

/// A vehicle has a place of the class, or the class has places nowhere by itself: it is used loose, and asks where it is.
pub fn has_place(class: &str, catalogue: &Catalogue, v: &VehicleEntry) -> bool {
    let Some(id) = catalogue.class_names.get(class) else { return false };
    let loose = catalogue.classes.get(id).is_some_and(|class| class.free || class.service);
    loose || !v.by_class.of(id).is_empty()
}

/// What comes before an operation on this vehicle.
pub fn before<'a>(op: &'a Operation, v: &'a VehicleEntry) -> impl Iterator<Item = Before> + 'a {
    let built = v.built.iter().filter_map(|word| op.after_built.get(word)).flatten();
    op.after.iter().chain(built).map(|text| Before::read(text))
}

/// Which of several is meant: the first that is in the plan, else the first that is there.
pub fn chosen<'a>(before: &'a Before, all: &All, catalogue: &Catalogue, v: &VehicleEntry) -> Option<&'a str> {
    let in_plan = before.any.iter().find(|id| all.of(id).next().is_some());
    let there = || {
        before
            .any
            .iter()
            .find(|id| catalogue.operations.get(*id).is_some_and(|op| is_there(op, catalogue, v)))
    };
    in_plan.or_else(there).map(String::as_str)
}

/// All jobs of what is touched.
pub fn ask(touched: &[Touched], catalogue: &Catalogue, v: &VehicleEntry) -> All {
    let mut all = All { by: vec![Vec::new(); touched.len()], ..All::default() };
    let mut open = Vec::new();
    for (i, thing) in touched.iter().enumerate() {
        for (id, op) in &catalogue.operations {
            let route = op.routes.is_empty() || op.routes.contains(&thing.route);
            // nothing goes on where a part only comes off, and nothing comes off where none was found
            let off_only =
                !thing.goes_on && op.kind.takes_lines() || !thing.found && op.kind == JobKind::Remove;
            if !op.whom.contains(&thing.class) || !route || off_only || !is_there(op, catalogue, v) {
                continue;
            }
            let place = thing.place.as_deref().filter(|_| op.each);
            let (at, new) = all.add(Some(id), place, true);
            remember(&mut all, at, thing.place.as_deref(), &thing.whereabouts);
            all.by[i].push(at);
            open.extend(new.then_some(at));
        }
    }
    while let Some(at) = open.pop() {
        let job = all.jobs[at].clone();
        let Some(op) = job.operation.as_ref().and_then(|id| catalogue.operations.get(id)) else { continue };
        let wanted = before(op, v).filter(|before| !before.orders_only);
        let wanted: Vec<String> =
            wanted.filter_map(|b| chosen(&b, &all, catalogue, v).map(str::to_owned)).collect();
        let closing = op
            .closed_by
            .iter()
            .filter(|id| catalogue.operations.get(*id).is_some_and(|op| is_there(op, catalogue, v)));
        for id in wanted.iter().chain(closing) {
            for place in places(id, &job, catalogue, v) {
                let (new_at, new) = all.add(Some(id), place.as_deref(), false);
                let at = place.as_deref().or(job.asked_at.as_deref());
                remember(&mut all, new_at, at, &job.whereabouts);
                open.extend(new.then_some(new_at));
            }
        }
    }
    // a place of which no operation puts the parts on has a job of its own
    for (i, thing) in touched.iter().enumerate().filter(|(_, thing)| thing.sits && thing.goes_on) {
        let puts_on = |at: &usize| {
            let op = all.jobs[*at].operation.as_ref().and_then(|id| catalogue.operations.get(id));
            op.is_some_and(|op| op.kind.takes_lines())
        };
        if !all.by[i].iter().any(puts_on) {
            let (at, _) = all.add(None, thing.place.as_deref(), true);
            remember(&mut all, at, thing.place.as_deref(), &thing.whereabouts);
            all.by[i].push(at);
        }
    }
    all
}

fn remember(all: &mut All, at: usize, place: Option<&str>, whereabouts: &Whereabouts) {
    if let (Some(job), Some(place)) = (all.jobs.get_mut(at), place)
        && job.asked_at.is_none()
    {
        job.asked_at = Some(place.to_owned());
        job.whereabouts = whereabouts.clone();
    }
}

/// For which places an operation is done that another asks for: once, or for each place that goes with the one that asks.
fn places(id: &str, job: &Asked, catalogue: &Catalogue, v: &VehicleEntry) -> Vec<Option<String>> {
    let Some(op) = catalogue.operations.get(id).filter(|op| op.each) else { return vec![None] };
    let classes = if op.at.is_empty() { &op.whom } else { &op.at };
    let here = classes.iter().filter_map(|class| catalogue.class_names.get(class));
    let all: Vec<_> =
        here.flat_map(|class| v.by_class.of(class)).filter_map(|at| v.positions.get(*at)).collect();
    let with = all.iter().filter(|p| p.whereabouts.goes_with(&job.whereabouts));
    let with: Vec<Option<String>> = with.map(|p| Some(p.id.clone())).collect();
    if with.is_empty() { vec![None] } else { with }
}
