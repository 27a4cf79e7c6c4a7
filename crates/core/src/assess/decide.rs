//! Which part goes into each place that follows what it joins: the best decisions by the written order.
//!
//! Nothing is decided at first, and what is derived from that tells what is broken: the places that follow and have an end
//! there are open. For each part that closes the trouble, what would break at a neighbour that follows opens that too.
//! Open places that share a joint, a limit, a pool or a need form a group, and each group is settled by itself. What was
//! decided is derived again: what is broken that no group knew of is known to the next round.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use rustc_hash::{FxHashMap, FxHashSet};
use smallvec::SmallVec;

use super::bench::{Bench, CheckKey, Fill, Key, NO_REASON, Trouble};
use super::branch::{Branch, Choice, Place, Tie};
use super::fills::Overlay;
use super::open_places::{Open, Var};
use super::order::Marks;
use super::terms::{Before, Term};
use crate::catalogue::{LimitPlaces, PartId, PositionId};
use crate::library::{Decided, Level};

/// The part that is put into each place nobody chose for.
pub(crate) type Decisions = BTreeMap<PositionId, PartId>;

/// How often decisions are derived and settled anew.
const MOST_ROUNDS: usize = 6;

/// Steps of the search of an assessment: with them a sheet of 300 joints where everything follows takes 19 ms
/// (`cargo bench`). It counts steps, never time.
const MOST_STEPS: usize = 8_000;

/// Steps of a group where those of the assessment are used up: enough for a first choice.
const LEAST_STEPS: usize = 64;

/// What the rounds have learnt.
#[derive(Default)]
struct Learnt {
    /// Places that may get a part, with the parts that come into question.
    open: Open,
    /// Terms that are broken by what several places do together.
    forced: FxHashSet<Term>,
    /// Places of choices that reach further than the places themselves.
    wide: BTreeSet<PositionId>,
    /// Groups that were settled, by their places with how many values they have, and by how much is forbidden there.
    settled: FxHashMap<(Vec<(PositionId, usize)>, usize), Settled>,
    /// Steps that were taken.
    steps: usize,
    /// Choices that were tried and break what no term knows of.
    forbidden: Vec<(Vec<PositionId>, Choice)>,
}

/// The best choice for the places of a group.
#[derive(Clone, Debug)]
struct Settled {
    places: Vec<PositionId>,
    /// In the order of the places.
    choice: Choice,
    /// What it changes against nothing being put in, as far as it was weighed.
    changes: Marks,
    /// The steps it took.
    steps: usize,
    /// They sufficed.
    proved: bool,
}

impl Bench<'_> {
    /// A part may be put here: nobody chose, and the place follows what it joins.
    pub fn may_fill(&self, pos: PositionId) -> bool {
        let class = self.v.positions[pos].class;
        !self.is_chosen(pos) && self.cat.classes[class].decided != Some(Decided::Owner)
    }

    /// Puts decisions into their places.
    pub fn put(&mut self, decisions: &Decisions) {
        let fill =
            |part: &PartId| Fill { part: *part, reason: NO_REASON, cause: None, level: Level::Required };
        self.fills = decisions.iter().map(|(pos, part)| (*pos, fill(part))).collect();
    }

    /// What is put into places now.
    pub fn decisions(&self) -> Decisions {
        self.fills.iter().map(|(pos, fill)| (*pos, fill.part)).collect()
    }

    /// Takes the best decisions, derived. Whether no other are better: the search was not cut off.
    pub fn decide(&mut self) -> bool {
        self.put(&Decisions::new());
        self.derive();
        let mut learnt = Learnt::default();
        let before = self.before();
        for trouble in self.troubles() {
            self.open_for(trouble, &before, &mut learnt);
        }
        if learnt.open.is_empty() {
            return true;
        }
        let as_it_is = self.marks();
        let mut best = (as_it_is, Decisions::new());
        let known: FxHashSet<CheckKey> = self.troubles().map(|t| t.key).collect();
        let gone = self.gone.clone();
        let mut found = std::mem::take(&mut self.found);
        // what was tried, what it comes to, and what it breaks that is not broken without it
        let mut tried: BTreeMap<Decisions, (Marks, Vec<Trouble>)> = BTreeMap::new();
        tried.insert(Decisions::new(), (as_it_is, Vec::new()));
        let mut proved = false;
        // what the bench has derived
        let mut stands: Option<Decisions> = None;
        for _ in 0..MOST_ROUNDS {
            // as it was with nothing decided
            stands = None;
            self.put(&Decisions::new());
            self.gone.clone_from(&gone);
            self.settle();
            std::mem::swap(&mut self.found, &mut found);
            let groups = self.settle_groups(&mut learnt);
            std::mem::swap(&mut self.found, &mut found);
            let decisions: Decisions = groups.iter().flat_map(Settled::decisions).collect();
            if !tried.contains_key(&decisions) {
                self.put(&decisions);
                self.derive();
                stands = Some(decisions.clone());
                let marks = self.marks();
                if marks < best.0 {
                    best = (marks, decisions.clone());
                }
                let news = self.troubles().filter(|t| !known.contains(&t.key)).cloned().collect();
                tried.insert(decisions.clone(), (marks, news));
            }
            let (marks, news) = &tried[&decisions];
            let weighed = groups.iter().fold(as_it_is, |sum, group| sum + group.changes);
            if marks.before_money() <= weighed.before_money() {
                // what was weighed came true
                proved = best.1 == decisions && !learnt.open.cut && groups.iter().all(|group| group.proved);
                break;
            }
            if !self.learn(news, &groups, &mut learnt) {
                break;
            }
        }
        if self.without_idle(&mut best, &learnt.wide) || stands.as_ref() != Some(&best.1) {
            self.put(&best.1);
            self.derive();
        }
        proved
    }

    fn troubles(&self) -> impl Iterator<Item = &Trouble> {
        self.found.clashes.iter().chain(&self.found.unmet).chain(&self.found.unknowns)
    }

    /// The term a trouble is about.
    pub(super) fn term_of(&self, trouble: &Trouble) -> Option<Term> {
        match trouble.key {
            CheckKey::Joint(joint) => Some(Term::Joint(self.first_of(joint))),
            CheckKey::Limit(run) => Some(Term::Limit(run)),
            CheckKey::Pool(pool) => Some(Term::Pool(pool)),
            CheckKey::Need(_, _, need) => Some(Term::Need(need)),
            CheckKey::Age(_) | CheckKey::FluidAge(_) | CheckKey::Port(..) => None,
        }
    }

    /// Places where a part could settle a term.
    pub(super) fn all_places_about(&self, term: Term) -> SmallVec<[PositionId; 8]> {
        match term {
            Term::Joint(joint) => self.ends_of_either(joint).collect(),
            Term::Limit(run) => {
                let here = &self.v.limits[run];
                // where the limit holds that knows better, this one does not count
                let better = here.yields_to.iter().map(|better| &self.v.limits[*better]);
                let all = std::iter::once(here).chain(better);
                let read = all.flat_map(|run| run.places.iter().chain(&run.setters)).copied();
                read.chain(self.takers_for(run)).collect()
            }
            Term::Pool(pool) => {
                let classes = self.cat.pool_classes[pool].iter();
                let giving = classes.flat_map(|class| self.v.by_class.of(*class)).copied();
                let fitted = self.fitted().filter(|(_, part)| self.in_pool(*part, pool)).map(|(pos, _)| pos);
                fitted.chain(giving).collect()
            }
            Term::Spot(_) | Term::Fluid(_) => SmallVec::new(),
            Term::Need(need) => {
                let classes = self.cat.need_classes[need].iter();
                let suppliers = classes.flat_map(|class| self.v.by_class.of(*class));
                // and where a limit reads that asks for it
                let raises = |run: &&LimitPlaces| {
                    self.cat.limits[run.limit].raises.as_ref().is_some_and(|(raised, _)| *raised == need)
                };
                let raising = self.v.limits.values().filter(raises).flat_map(|run| &run.places);
                suppliers.chain(raising).copied().collect()
            }
        }
    }

    /// Takes into question what mends a trouble. Whether that is new.
    fn open_for(&self, trouble: &Trouble, before: &Before, learnt: &mut Learnt) -> bool {
        let mut terms: SmallVec<[Term; 4]> = self.term_of(trouble).into_iter().collect();
        // who asks could be one that does not
        let mut asker = None;
        if let CheckKey::Need(at, part, _) = trouble.key {
            asker = at;
            let asking = self.found.comps.iter().filter(|comp| comp.part == part);
            terms.extend(asking.filter_map(|comp| match comp.key {
                Key::Bridge(joint, _) | Key::Cap(joint) => Some(Term::Joint(self.first_of(joint))),
                _ => None,
            }));
        }
        let mut is_new = false;
        for term in terms {
            for (pos, part) in self.mending(term, &Overlay::new(), asker.as_slice(), before) {
                is_new |= learnt.open.add(pos, part);
            }
        }
        is_new
    }

    /// Learns from what decisions break that was not broken before them. Whether there was anything to learn.
    fn learn(&self, news: &[Trouble], groups: &[Settled], learnt: &mut Learnt) -> bool {
        let known = learnt.forced.len();
        let before = self.before();
        let mut is_new = false;
        for trouble in news {
            is_new |= self.open_for(trouble, &before, learnt);
            learnt.forced.extend(self.term_of(trouble));
        }
        if is_new || learnt.forced.len() > known {
            return true;
        }
        // known and broken all the same: that choice is not taken again
        let count = learnt.forbidden.len();
        for Settled { places, choice, .. } in groups.iter().filter(|group| group.puts_in() > 0) {
            let touches = |trouble: &Trouble| {
                let Some(term) = self.term_of(trouble) else { return false };
                let about = self.all_places_about(term);
                trouble.positions.iter().chain(&about).any(|pos| places.contains(pos))
            };
            if news.iter().any(touches) {
                learnt.forbidden.push((places.clone(), choice.clone()));
            }
        }
        learnt.forbidden.len() > count
    }

    /// Drops what earns nothing, where a box or a lost job reaches further than the places that were decided together.
    /// Whether anything was tried.
    fn without_idle(&mut self, best: &mut (Marks, Decisions), wide: &BTreeSet<PositionId>) -> bool {
        let mut any = false;
        for pos in wide.iter().copied().filter(|pos| best.1.contains_key(pos)).collect::<Vec<_>>() {
            any = true;
            let mut fewer = best.1.clone();
            fewer.remove(&pos);
            self.put(&fewer);
            self.derive();
            let marks = self.marks();
            if marks.before_money() <= best.0.before_money() {
                *best = (marks, fewer);
            }
        }
        any
    }

    /// The best choice for each group of open places.
    fn settle_groups(&self, learnt: &mut Learnt) -> Vec<Settled> {
        let before = self.before();
        let vars = self.vars(&mut learnt.open, &before);
        let counting = counting(&vars, &learnt.forced);
        let mut out = Vec::new();
        for group in groups_of(&vars, &counting) {
            let members: Vec<&Var> = group.iter().map(|at| &*vars[*at]).collect();
            let places: Vec<PositionId> = members.iter().map(|var| var.pos).collect();
            let forbidden: Vec<Choice> = learnt
                .forbidden
                .iter()
                .filter(|(p, _)| *p == places)
                .map(|(_, choice)| choice.clone())
                .collect();
            let key = (members.iter().map(|var| (var.pos, var.values.len())).collect(), forbidden.len());
            let settled = match learnt.settled.get(&key) {
                Some(known) => known.clone(),
                None => {
                    let most = MOST_STEPS.saturating_sub(learnt.steps).max(LEAST_STEPS);
                    let settled = self.settle_group(&members, &counting, &forbidden, &before, most);
                    learnt.steps += settled.steps;
                    learnt.settled.insert(key, settled.clone());
                    settled
                }
            };
            if self.overlay_of(&settled.places, &settled.choice).len() > settled.puts_in() {
                learnt.wide.extend(settled.places.iter().copied());
            }
            out.push(settled);
        }
        out
    }

    /// The best choice for the places of a group.
    fn settle_group(
        &self,
        members: &[&Var],
        counting: &FxHashSet<Term>,
        forbidden: &[Choice],
        before: &Before,
        most_steps: usize,
    ) -> Settled {
        let order = in_turn(members, counting);
        let here: Vec<&Var> = order.iter().map(|at| members[*at]).collect();
        let mut touched: FxHashMap<Term, SmallVec<[usize; 4]>> = FxHashMap::default();
        for (depth, var) in here.iter().enumerate() {
            for (term, _) in var.terms.iter().filter(|(term, _)| counting.contains(term)) {
                touched.entry(*term).or_default().push(depth);
            }
        }
        let mut places: Vec<Place> = Vec::with_capacity(here.len());
        let (mut ties, mut tied): (Vec<Tie>, Vec<Term>) = (Vec::new(), Vec::new());
        for (depth, var) in here.iter().enumerate() {
            let mut values = var.values.clone();
            for (term, marks) in &var.terms {
                let Some(by) = touched.get(term) else { continue };
                if by.len() == 1 {
                    values.iter_mut().zip(marks).for_each(|((_, own), more)| *own += *more);
                } else if by.last() == Some(&depth) {
                    ties.push(Tie::from_slice(by));
                    tied.push(*term);
                }
            }
            places.push(Place { pos: var.pos, values });
        }
        let positions: Vec<PositionId> = places.iter().map(|place| place.pos).collect();
        let tied_at: Vec<Vec<PositionId>> =
            ties.iter().map(|tie| tie.iter().map(|at| positions[*at]).collect()).collect();
        // in the order of the group
        let told = |choice: &Choice| {
            let mut out = Choice::from_elem(None, choice.len());
            order.iter().zip(choice).for_each(|(at, part)| out[*at] = *part);
            out
        };
        let weigh = |tie: usize, choice: &Choice| {
            self.weigh(tied[tie], &self.overlay_of(&tied_at[tie], choice), before)
        };
        let may = |choice: &Choice| !forbidden.contains(&told(choice));
        let found = Branch::search(&places, &ties, most_steps, weigh, may);
        let nothing = Choice::from_elem(None, here.len());
        let (marks, choice) = found.best.unwrap_or_else(|| (Marks::default(), nothing.clone()));
        let own = |place: &Place| place.values.iter().find(|(part, _)| part.is_none()).map(|(_, own)| *own);
        let mut stays: Marks = places.iter().filter_map(own).fold(Marks::default(), |sum, own| sum + own);
        tied.iter().for_each(|term| stays += self.weigh(*term, &Overlay::new(), before));
        let changes = if choice == nothing { Marks::default() } else { marks - stays };
        let places = members.iter().map(|var| var.pos).collect();
        Settled { places, choice: told(&choice), changes, steps: found.steps, proved: found.proved }
    }
}

impl Settled {
    fn decisions(&self) -> impl Iterator<Item = (PositionId, PartId)> {
        self.places.iter().zip(&self.choice).filter_map(|(pos, part)| Some((*pos, (*part)?)))
    }

    fn puts_in(&self) -> usize {
        self.choice.iter().flatten().count()
    }
}

/// The order in which the places of a group are settled: next the one that has most to do with those before it, so that what
/// is broken between them is seen early; of several the one with the fewest values.
fn in_turn(members: &[&Var], counting: &FxHashSet<Term>) -> Vec<usize> {
    let terms: Vec<FxHashSet<Term>> = members
        .iter()
        .map(|var| var.terms.iter().map(|(term, _)| *term).filter(|term| counting.contains(term)).collect())
        .collect();
    let mut seen: FxHashSet<Term> = FxHashSet::default();
    let mut left: Vec<usize> = (0..members.len()).collect();
    let mut order = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let rank = |at: &usize| {
            let tied = terms[*at].iter().filter(|term| seen.contains(term)).count();
            (std::cmp::Reverse(tied), members[*at].values.len(), members[*at].pos)
        };
        let Some(next) = (0..left.len()).min_by_key(|n| rank(&left[*n])) else { break };
        let at = left.remove(next);
        seen.extend(terms[at].iter().copied());
        order.push(at);
    }
    order
}

/// Terms that tie places together: joints and limits, and of pools, needs and what being apart drags in those to which some
/// value makes a difference by itself, or of which it was found that several do together.
fn counting(vars: &[Rc<Var>], forced: &FxHashSet<Term>) -> FxHashSet<Term> {
    let counts = |(term, marks): &&(Term, Vec<Marks>)| {
        matches!(term, Term::Joint(_) | Term::Limit(_)) || marks.iter().any(|m| *m != marks[0])
    };
    let all = vars.iter().flat_map(|var| var.terms.iter().filter(counts)).map(|(term, _)| *term);
    all.chain(forced.iter().copied()).collect()
}

/// Open places that share a term which comes to something form a group.
fn groups_of(vars: &[Rc<Var>], counting: &FxHashSet<Term>) -> Vec<Vec<usize>> {
    let mut leader: Vec<usize> = (0..vars.len()).collect();
    fn lead(leader: &mut [usize], mut at: usize) -> usize {
        while leader[at] != at {
            leader[at] = leader[leader[at]];
            at = leader[at];
        }
        at
    }
    let mut first: FxHashMap<Term, usize> = FxHashMap::default();
    for (at, var) in vars.iter().enumerate() {
        for (term, _) in var.terms.iter().filter(|(term, _)| counting.contains(term)) {
            let other = *first.entry(*term).or_insert(at);
            let (a, b) = (lead(&mut leader, at), lead(&mut leader, other));
            leader[a.max(b)] = a.min(b);
        }
    }
    let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for at in 0..vars.len() {
        let leads = lead(&mut leader, at);
        groups.entry(leads).or_default().push(at);
    }
    groups.into_values().collect()
}

#[cfg(test)]
mod tests;
