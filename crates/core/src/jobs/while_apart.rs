//! While it is apart: what is cheap to do now and dear later, because the plan opens what is in front of it anyway.
//!
//! In words. A place that the plan keeps, and a part that the plan advises and nobody has decided on, would ask for jobs of
//! their own if they were done by themselves. Those of them that the plan does anyway are saved, but for the hours of the part
//! itself: later they would have to be done again. What was found good is left alone. It is told where at least [`LEAST`]
//! hours are saved, and at least as many as it takes now: that is what is cheap (common practice: a clutch while the gearbox is
//! out, and neither a lamp nor the engine). A job that is done counts while what closes it is not: it stands open now.

use std::collections::{BTreeMap, BTreeSet};

use crate::assessment::{Assessment, Companion, Origin, PositionView};
use crate::catalogue::{Catalogue, VehicleEntry};
use crate::jobs::ask::{ask, before};
use crate::jobs::hours::hours;
use crate::jobs::touched::{Touched, touched};
use crate::jobs::{Job, Jobs};
use crate::key::CompanionKey;
use crate::library::{Level, Part};
use crate::money::Money;
use crate::sheet::{Route, Sheet, Verdict};

/// So many hours are saved, or it is not told.
const LEAST: f64 = 1.0;

/// What takes it into the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Taken {
    /// A route at the place.
    Route(Route),
    /// A yes to a companion that is advised.
    Companion(CompanionKey),
}

/// Something that is cheap now and dear later.
#[derive(Clone, Debug, PartialEq)]
pub struct Cheap {
    /// Position id: where it is, or for a loose part what it hangs under.
    pub position: String,
    /// As shown: the place, or the part.
    pub name: String,
    /// What takes it into the plan.
    pub take: Taken,
    /// What the survey says of it.
    pub verdict: Option<Verdict>,
    /// Jobs of the plan that it would ask for too, by id: those that save most first, then in their order.
    pub with: Vec<String>,
    /// What it adds now, in hours.
    pub now: f64,
    /// What it takes by itself later, in hours.
    pub later: f64,
    /// What it costs, for all of it; `None`: nobody has said.
    pub money: Option<Money>,
    /// One of the jobs is done and not closed yet: it stands open.
    pub is_open: bool,
}

impl Cheap {
    /// Hours saved.
    #[must_use]
    pub fn saves(&self) -> f64 {
        self.later - self.now
    }
}

/// All of it, what stands open first, then what saves most. `jobs`: of the same assessment.
#[must_use]
pub fn while_apart(sheet: &Sheet, a: &Assessment, jobs: &Jobs, catalogue: &Catalogue) -> Vec<Cheap> {
    let catalogue = catalogue.for_sheet(sheet);
    let Some(v) = catalogue.vehicles.get(&sheet.vehicle) else { return Vec::new() };
    let open = open_now(jobs, &catalogue, v);
    let is_done: BTreeSet<&str> =
        jobs.jobs.iter().filter(|job| job.done.is_some()).map(|job| job.id.as_str()).collect();
    let all_touched = touched(a, &catalogue, v);
    // what is to be done without a companion: what is advised and not decided is in the jobs of the plan already
    let to_do = |without: Option<&CompanionKey>| -> BTreeSet<String> {
        let stays = |thing: &&Touched| without.is_none() || thing.companion.as_ref() != without;
        let things: Vec<Touched> = all_touched.iter().filter(stays).cloned().collect();
        let ids = ask(&things, &catalogue, v).jobs.into_iter().map(|asked| asked.id());
        ids.filter(|id| !is_done.contains(id.as_str())).collect()
    };
    let all_to_do = to_do(None);
    let judge = |thing: Touched, name: &str, take: Taken, verdict, money| {
        let things = std::slice::from_ref(&thing);
        let alone = ask(things, &catalogue, v);
        let taken = hours(things, &alone, &[None], &catalogue);
        let without = thing.companion.as_ref().map(|key| to_do(Some(key)));
        let to_do = without.as_ref().unwrap_or(&all_to_do);
        let is_shared = |id: &str| to_do.contains(id) || open.contains(id);
        let (mut later, mut saved, mut with) = (0.0, 0.0, BTreeMap::new());
        for (asked, (all, of_the_part)) in alone.jobs.iter().zip(taken) {
            later += all.likely;
            if is_shared(&asked.id()) {
                saved += all.likely - of_the_part;
                with.insert(asked.id(), all.likely - of_the_part);
            }
        }
        let is_open = with.keys().any(|id| open.contains(id.as_str()));
        let mut shared: Vec<String> =
            jobs.jobs.iter().map(|job| job.id.clone()).filter(|id| with.contains_key(id)).collect();
        shared.sort_by(|x, y| with[y].total_cmp(&with[x]));
        Cheap {
            position: thing.place.unwrap_or_default(),
            name: name.to_owned(),
            take,
            verdict,
            is_open,
            with: shared,
            now: later - saved,
            later,
            money,
        }
    };
    let all_advised: Vec<(&Companion, Touched)> =
        a.companions.iter().filter_map(|c| Some((c, advised(c, &catalogue, v)?))).collect();
    // what is advised by name is told once, and not as its place too
    let is_advised = |thing: &Touched| {
        let same =
            |other: &Touched| other.class == thing.class && other.whereabouts.goes_with(&thing.whereabouts);
        all_advised.iter().any(|(_, other)| same(other))
    };
    let kept = a.positions.iter().filter_map(|p| {
        // what something else brings to the place is in the plan already, or advised by its name
        let is_brought =
            a.companions.iter().any(|c| c.position.as_ref() == Some(&p.id) && c.waived.is_none());
        let (thing, route, money) =
            kept(p, &catalogue, v).filter(|(thing, ..)| !is_brought && !is_advised(thing))?;
        Some(judge(thing, &p.name, Taken::Route(route), p.verdict, money))
    });
    let advised = all_advised.iter().filter_map(|(c, thing)| {
        let verdict = a.positions.iter().find(|p| Some(&p.id) == c.position.as_ref()).and_then(|p| p.verdict);
        if verdict == Some(Verdict::Good) {
            return None;
        }
        Some(judge(thing.clone(), &c.name, Taken::Companion(c.key.clone()), verdict, c.cost()))
    });
    // without the second the rebuilding of a whole engine stood first on the pickup
    let is_cheap = |one: &Cheap| one.saves() >= LEAST && one.saves() >= one.now;
    let mut all: Vec<Cheap> = kept.chain(advised).filter(is_cheap).collect();
    all.sort_by(|x, y| {
        let by_hours = y.saves().total_cmp(&x.saves());
        y.is_open.cmp(&x.is_open).then(by_hours).then_with(|| x.name.cmp(&y.name))
    });
    all
}

/// Jobs that are done while what closes them is not; one that nothing closes stands open while another that wants it out of
/// its way is still to be done.
fn open_now<'a>(jobs: &'a Jobs, catalogue: &Catalogue, v: &VehicleEntry) -> BTreeSet<&'a str> {
    let left: Vec<&str> = jobs.jobs.iter().filter(|j| j.done.is_none()).map(|j| name(&j.id)).collect();
    let is_left = |id: &String| left.contains(&id.as_str());
    let wants = |id: &str, of: &str| {
        let op = catalogue.operations.get(of);
        let all = op.into_iter().flat_map(|op| before(op, v)).filter(|before| !before.orders_only);
        all.into_iter().any(|before| before.any.iter().any(|other| other == id))
    };
    let is_open = |job: &&Job| {
        let op = name(&job.id);
        match catalogue.operations.get(op).and_then(|op| op.closed_by.as_ref()) {
            Some(closing) => is_left(closing),
            None => left.iter().any(|of| wants(op, of)),
        }
    };
    let done = jobs.jobs.iter().filter(|job| job.done.is_some());
    done.filter(is_open).map(|job| job.id.as_str()).collect()
}

/// The operation of a job, by its id.
fn name(job: &str) -> &str {
    job.split_once('@').map_or(job, |(operation, _)| operation)
}

/// A place that the plan leaves as it is, as a thing to be worked on, with the route and what it costs.
fn kept(
    p: &PositionView,
    catalogue: &Catalogue,
    v: &VehicleEntry,
) -> Option<(Touched, Route, Option<Money>)> {
    let (part, _) = p.as_found.as_ref()?;
    let is_kept = p.route == Route::Keep && !p.filled && !p.active && !p.surplus;
    if !is_kept || p.verdict == Some(Verdict::Good) {
        return None;
    }
    let at = v.positions.get(*v.position_ix.get(p.id.as_str())?)?;
    let entry = catalogue.part(part)?;
    let (route, money, hours) = worked(&entry.part)?;
    let times = f64::from(p.qty);
    let thing = Touched {
        companion: None,
        class: catalogue.class_names.ids.get(at.class)?.clone(),
        part: part.clone(),
        place: Some(p.id.clone()),
        whereabouts: at.whereabouts.clone(),
        sits: true,
        found: true,
        route,
        goes_on: true,
        hours: hours * times,
    };
    Some((thing, route, money.map(|money| money.times(p.qty))))
}

/// How a part that is there is done, for one: another of the same where one is sold, else rebuilt, else cleaned.
fn worked(part: &Part) -> Option<(Route, Option<Money>, f64)> {
    if let Some(price) = &part.price {
        return Some((Route::Renew, Some(price.clone()), part.hours.unwrap_or(0.0)));
    }
    let work = part.rebuild.as_ref().map(|work| (Route::Rebuild, work));
    let (route, work) = work.or_else(|| part.clean.as_ref().map(|work| (Route::Clean, work)))?;
    Some((route, work.price.clone(), work.hours.unwrap_or(0.0)))
}

/// A part that is advised because something is apart, and that nobody has decided on.
fn advised(c: &Companion, catalogue: &Catalogue, v: &VehicleEntry) -> Option<Touched> {
    let is_it = matches!(c.origin, Origin::Opening | Origin::Joint | Origin::Age) && !c.safety;
    if !is_it || c.accepted || c.waived.is_some() || c.level != Level::Advised {
        return None;
    }
    let place = c.position.clone().or_else(|| c.cause.clone())?;
    let at = v.positions.get(*v.position_ix.get(place.as_str())?)?;
    let class = catalogue.part(&c.part)?.class;
    Some(Touched {
        companion: Some(c.key.clone()),
        class: catalogue.class_names.ids.get(class)?.clone(),
        part: c.part.clone(),
        place: Some(place),
        whereabouts: at.whereabouts.clone(),
        sits: c.position.is_some(),
        found: true,
        route: Route::Renew,
        goes_on: true,
        hours: c.hours,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
