//! Places that follow and that something broken opens: what may sit there, and what each of these parts comes to with all
//! else as it stands.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use rustc_hash::FxHashMap;
use smallvec::{SmallVec, smallvec};

use super::bench::{Bench, By, Comp};
use super::branch::{Choice, Valued};
use super::fills::Overlay;
use super::order::{Marks, Row};
use super::terms::{Before, Term};
use crate::assessment::Origin;
use crate::catalogue::{JointId, LimitPlaces, OpeningPlaces, PartId, PortNameId, PositionId, RunId, SpotId};

/// More places than this are not opened.
const MOST_OPEN: usize = 256;

/// More values are not tried for a place: those that come to more with all else as it stands go first.
const MOST_VALUES: usize = 16;

/// A place that may get a part, and what each value comes to with all else as it stands.
#[derive(Debug)]
pub(super) struct Var {
    pub pos: PositionId,
    /// What may sit there, by itself; what is there stands first.
    pub values: Vec<Valued>,
    /// What each value comes to at each term that it touches.
    pub terms: Vec<(Term, Vec<Marks>)>,
}

impl Var {
    /// What a value comes to with all else as it stands.
    fn alone(&self, n: usize) -> Marks {
        let mut marks = self.values[n].1;
        self.terms.iter().for_each(|(_, by_value)| marks += by_value[n]);
        marks
    }

    /// Leaves what is there and the best of the others. Whether some were dropped.
    fn keep_best(&mut self) -> bool {
        if self.values.len() <= MOST_VALUES {
            return false;
        }
        let mut order: Vec<usize> = (1..self.values.len()).collect();
        order.sort_by_key(|n| (self.alone(*n), self.values[*n].0));
        order.truncate(MOST_VALUES - 1);
        order.push(0);
        order.sort_unstable();
        self.values = order.iter().map(|n| self.values[*n]).collect();
        for (_, by_value) in &mut self.terms {
            *by_value = order.iter().map(|n| by_value[*n]).collect();
        }
        true
    }
}

/// Places that may get a part, and which parts come into question there.
#[derive(Default)]
pub(super) struct Open {
    parts: BTreeMap<PositionId, BTreeSet<PartId>>,
    /// What the values of each place come to: nothing else is decided while they are weighed, so that it stays until
    /// another part comes into question.
    weighed: FxHashMap<PositionId, Rc<Var>>,
    /// Not all places or parts were taken: there were too many.
    pub cut: bool,
}

impl Open {
    /// A part comes into question at a place. Whether it did not before.
    pub fn add(&mut self, pos: PositionId, part: PartId) -> bool {
        if self.parts.len() >= MOST_OPEN && !self.parts.contains_key(&pos) {
            self.cut = true;
            return false;
        }
        let is_new = self.parts.entry(pos).or_default().insert(part);
        if is_new {
            self.weighed.remove(&pos);
        }
        is_new
    }

    pub fn is_empty(&self) -> bool {
        self.parts.is_empty()
    }
}

impl Bench<'_> {
    /// The open places with their values; what would break beside them opens more.
    pub(super) fn vars(&self, open: &mut Open, before: &Before) -> Vec<Rc<Var>> {
        let mut due: Vec<PositionId> =
            open.parts.keys().copied().filter(|pos| !open.weighed.contains_key(pos)).collect();
        while let Some(pos) = due.pop() {
            if open.weighed.contains_key(&pos) {
                continue;
            }
            let mut var = self.var(pos, &open.parts[&pos], before);
            open.cut |= var.keep_best();
            let var = Rc::new(var);
            open.weighed.insert(pos, Rc::clone(&var));
            for (other, part) in self.opened_beside(&var, before) {
                if open.add(other, part) {
                    due.push(other);
                }
            }
        }
        open.parts.keys().filter_map(|pos| open.weighed.get(pos)).map(Rc::clone).collect()
    }

    /// Parts at other places that mend what a value breaks, or leaves broken at a joint, unless a value that breaks nothing is
    /// no dearer.
    fn opened_beside(&self, var: &Var, before: &Before) -> BTreeSet<(PositionId, PartId)> {
        let mut clean: Option<Marks> = None;
        for n in 0..var.values.len() {
            let marks = var.alone(n);
            if marks.is_clean() && clean.is_none_or(|other| marks < other) {
                clean = Some(marks);
            }
        }
        let mut out = BTreeSet::new();
        for n in 1..var.values.len() {
            if clean.is_some_and(|other| other <= var.values[n].1) {
                continue;
            }
            let overlay = self.overlay_of(&[var.pos], &Choice::from_elem(var.values[n].0, 1));
            for (term, by_value) in &var.terms {
                let is_worse = by_value[n].before_money() > by_value[0].before_money();
                if is_worse || matches!(term, Term::Joint(_)) && !by_value[n].is_clean() {
                    let others = self.mending(*term, &overlay, &[], before).into_iter();
                    // a sound part that would be taken off counts for more than money
                    out.extend(others.filter(|(pos, _)| {
                        clean.is_none() || !(self.as_found(*pos).is_some() && self.is_sound(*pos))
                    }));
                }
            }
        }
        out
    }

    fn var(&self, pos: PositionId, parts: &BTreeSet<PartId>, before: &Before) -> Var {
        let here = &self.v.positions[pos];
        let slot = self.slot(pos);
        let found = self.as_found(pos);
        let is_sound = found.is_some() && self.is_sound(pos);
        // where it is renewed as it stands, that is what it costs to leave it
        let mut stays = Marks::default();
        // what an opening renews beside it is told at the opening
        let beside = |c: &&Comp| c.position == Some(pos) && c.origin != Origin::Opening;
        for comp in self.found.comps.iter().filter(beside) {
            stays += self.work_of(comp.part, comp.qty, comp.qty - comp.boxed);
        }
        let mut terms = self.terms_at(pos);
        for part in parts.iter().copied().chain(slot.part).chain(found) {
            let entry = self.part(part);
            terms.extend(entry.shares.iter().map(|share| Term::Pool(share.pool)));
            terms.extend(entry.offers.iter().map(|(need, _)| Term::Need(*need)));
            terms.extend(entry.needs.iter().map(|(need, ..)| Term::Need(*need)));
        }
        let nothing = Overlay::new();
        let mut as_it_is = stays;
        terms.iter().for_each(|term| as_it_is += self.weigh(*term, &nothing, before));
        let fixed = self.fixed_joints(pos);
        let mut values: Vec<Valued> = vec![(None, stays)];
        for part in parts.iter().copied() {
            let mut own = self.weigh_part(part, here.qty);
            own.count(Row::TakenOff, i64::from(is_sound) + self.sound_elsewhere(pos, part));
            own.count(Row::Passed, i64::from(self.is_passed(pos, part)));
            if self.comes_into_question(pos, part, &fixed, as_it_is, before) {
                values.push((Some(part), own));
            }
        }
        let overlays: Vec<Overlay> =
            values.iter().map(|(part, _)| self.overlay_of(&[pos], &Choice::from_elem(*part, 1))).collect();
        let elsewhere: BTreeSet<PositionId> = overlays.iter().flatten().map(|(place, _)| *place).collect();
        for place in elsewhere.into_iter().filter(|place| *place != pos) {
            terms.extend(self.terms_at(place));
        }
        for (_, part) in overlays.iter().flat_map(|overlay| overlay.iter().skip(1)) {
            let Some(entry) = part.map(|part| self.part(part)) else { continue };
            terms.extend(entry.shares.iter().map(|share| Term::Pool(share.pool)));
            terms.extend(entry.offers.iter().map(|(need, _)| Term::Need(*need)));
            terms.extend(entry.needs.iter().map(|(need, ..)| Term::Need(*need)));
        }
        let weighed = terms.into_iter().map(|term| (term, self.weigh_all(term, &overlays, before)));
        Var { pos, values, terms: weighed.collect() }
    }

    /// A term for each of some overlays, the first of them empty. What one has nothing to do with is as without it, and what
    /// only opens is the same for all that open the same.
    fn weigh_all(&self, term: Term, overlays: &[Overlay], before: &Before) -> Vec<Marks> {
        let without = self.weigh(term, &overlays[0], before);
        let mut opened: Option<Marks> = None;
        let mut out = vec![without];
        for overlay in &overlays[1..] {
            out.push(match term {
                Term::Pool(_) | Term::Need(_) if !self.has_to_do_with(term, overlay) => without,
                Term::Spot(_) | Term::Fluid(_) if overlay.len() == 1 => {
                    *opened.get_or_insert_with(|| self.weigh(term, overlay, before))
                }
                _ => self.weigh(term, overlay, before),
            });
        }
        out
    }

    /// Whether a pool or need has to do with what an overlay puts in or takes off.
    fn has_to_do_with(&self, term: Term, overlay: &Overlay) -> bool {
        let does = |part: PartId| {
            let entry = self.part(part);
            match term {
                Term::Pool(pool) => entry.shares.iter().any(|share| share.pool == pool),
                Term::Need(need) => {
                    entry.needs.iter().any(|(n, ..)| *n == need)
                        || entry.offers.iter().any(|(n, _)| *n == need)
                }
                _ => true,
            }
        };
        let raises = |run: &RunId| match (&self.limit_of(*run).raises, term) {
            (Some((raised, _)), Term::Need(need)) => *raised == need,
            _ => false,
        };
        overlay.iter().any(|(pos, part)| {
            let parts = part.iter().chain(&self.slot(*pos).part).copied().chain(self.as_found(*pos));
            parts.into_iter().any(does) || self.v.limits_at[*pos].iter().any(raises)
        })
    }

    /// Joints of a place, limits that read it, openings and circuits that it is of.
    fn terms_at(&self, pos: PositionId) -> BTreeSet<Term> {
        let mut terms: BTreeSet<Term> =
            self.v.joints_about[pos].iter().map(|joint| Term::Joint(self.first_of(*joint))).collect();
        for run in &self.v.limits_at[pos] {
            // and those that give way to it
            let yields = |(_, other): &(RunId, &LimitPlaces)| other.yields_to.contains(run);
            terms.extend(self.v.limits.iter().filter(yields).map(|(other, _)| Term::Limit(other)));
            terms.insert(Term::Limit(*run));
            terms.extend(self.limit_of(*run).raises.as_ref().map(|(need, _)| Term::Need(*need)));
        }
        let is_about = |(_, spot): &(SpotId, &OpeningPlaces)| {
            spot.places.contains(&pos) || spot.wanted.iter().flatten().any(|places| places.contains(&pos))
        };
        terms.extend(self.v.openings.iter().filter(is_about).map(|(spot, _)| Term::Spot(spot)));
        let circuits = self.v.circuits.values().filter(|circuit| circuit.positions.contains(&pos));
        terms.extend(circuits.map(|circuit| Term::Fluid(circuit.fluid)));
        terms
    }

    /// Joints of a place without alternatives, whose other ends only the owner decides.
    fn fixed_joints(&self, pos: PositionId) -> SmallVec<[JointId; 8]> {
        let is_fixed = |joint: &JointId| {
            let entry = &self.v.joints[*joint];
            entry.alternatives.is_empty() && entry.ends.iter().all(|(p, _)| *p == pos || !self.may_fill(*p))
        };
        self.v.joints_at[pos].iter().copied().filter(is_fixed).collect()
    }

    /// Whether a part may be of use in a place: what it leaves broken at joints that nothing else can mend is no more than
    /// what is broken there as it is.
    fn comes_into_question(
        &self,
        pos: PositionId,
        part: PartId,
        fixed: &[JointId],
        as_it_is: Marks,
        before: &Before,
    ) -> bool {
        if !self.part(part).contents.is_empty() {
            return true;
        }
        let overlay: Overlay = smallvec![(pos, Some(part))];
        let most = as_it_is.get(Row::Apart);
        let mut apart = 0;
        fixed.iter().all(|joint| {
            apart += self.weigh(Term::Joint(*joint), &overlay, before).get(Row::Apart);
            apart <= most
        })
    }

    /// Parts in their places, with what their boxes bring to other places.
    pub(super) fn overlay_of(&self, positions: &[PositionId], choice: &Choice) -> Overlay {
        let put_in = || positions.iter().zip(choice).filter_map(|(pos, part)| Some((*pos, (*part)?)));
        let mut overlay: Overlay = put_in().map(|(pos, part)| (pos, Some(part))).collect();
        for (pos, part) in put_in() {
            for said in &self.part(part).leaves_empty {
                for other in self.v.meant(said, self.v.whereabouts(pos)) {
                    if !self.is_chosen(other) && !overlay.iter().any(|(p, _)| *p == other) {
                        overlay.push((other, None));
                    }
                }
            }
        }
        for (pos, part) in put_in().filter(|(_, part)| !self.part(*part).contents.is_empty()) {
            for (other, content) in self.overlay(pos, part).into_iter().skip(1) {
                if !overlay.iter().any(|(p, _)| *p == other) {
                    overlay.push((other, content));
                }
            }
        }
        self.jobs_with(&mut overlay);
        overlay
    }

    /// What loses its job with some parts in their places is not there, and what has it back is.
    fn jobs_with(&self, overlay: &mut Overlay) {
        let mut seen = 0;
        while seen < overlay.len() {
            let near: SmallVec<[PositionId; 16]> =
                overlay[seen..].iter().flat_map(|(pos, _)| self.v.neighbours[*pos].iter().copied()).collect();
            seen = overlay.len();
            for pos in near {
                if overlay.iter().any(|(p, _)| *p == pos) || self.is_chosen(pos) {
                    continue;
                }
                let Ok(at) = self.ground.jobs.binary_search_by_key(&pos, |(p, _)| *p) else { continue };
                let slot = self.slot(pos);
                let is_reached = || {
                    let ends = self.ground.jobs[at].1.iter().flat_map(|joint| &self.v.joints[*joint].ends);
                    ends.map(|(end, _)| *end).any(|end| self.is_touched(end, overlay))
                };
                let has_job = || {
                    let mut jobs = self.ground.jobs[at].1.iter();
                    jobs.any(|joint| self.has_job_at(*joint, pos, overlay))
                };
                if slot.by == By::Gone && has_job() {
                    overlay.push((pos, self.as_found(pos)));
                } else if slot.by == By::Found
                    && !slot.changed
                    && slot.part.is_some()
                    && is_reached()
                    && !has_job()
                {
                    overlay.push((pos, None));
                }
            }
        }
    }

    /// Whether the part found in a place would meet another at a joint that is its job.
    fn has_job_at(&self, joint: JointId, pos: PositionId, overlay: &Overlay) -> bool {
        let ends = &self.v.joints[joint].ends;
        let meets = |(other, name): &(PositionId, PortNameId)| {
            let part = self.tried(overlay, *other);
            *other != pos && part.is_some_and(|part| self.part(part).port_ix(*name).is_some())
        };
        ends.iter().any(meets)
    }
}
