//! The best sets of changes that clear the clashes of a knot, the best first: branch and bound over what is chosen.
//!
//! What is left open is picked with the fewest ways out, and each of them is tried; one way out is to leave it. A set that is
//! not assessed yet stands with what is known of it without: wishes given up, changes, and a change more for each clash that
//! no other open one shares a place with. So what is worse by that is never assessed.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};
use std::rc::Rc;

use crate::amounts::Amounts;

use crate::assess::{Changes, Check, Trial, Ways};

/// Sets that are assessed in one search.
pub const MOST_ASSESSED: usize = 500;

/// Sets that are looked at in one knot, assessed or not.
const MOST_STEPS: usize = 20_000;

/// A plan with some changes.
#[derive(Clone, Debug)]
pub(super) struct State {
    pub changes: Changes,
    /// In hundredths, what is given up.
    pub worth: i64,
    /// What does not fit.
    pub broken: BTreeSet<Check>,
    pub money: Amounts,
    pub hours: f64,
    pub to_measure: i64,
}

/// The better is the smaller: clashes left, worth given up, changes, to measure, money.
pub(super) type Rank = (usize, i64, usize, i64, Amounts);

impl State {
    pub fn rank(&self) -> Rank {
        (self.broken.len(), self.worth, self.changes.len(), self.to_measure, self.money.clone())
    }
}

/// What was tried of a plan.
pub(super) struct Search<'a, 'w> {
    pub trial: Trial<'a>,
    /// Whether to go on.
    wanted: &'w dyn Fn() -> bool,
    /// What was assessed: one in eight of 2,855 asked for on 29 random plans of the example was there.
    known: BTreeMap<Changes, Rc<State>>,
    /// Ways that were looked for: one in three of 2,330 was there.
    ways: BTreeMap<(Changes, Check), Rc<Ways>>,
    pub assessed: usize,
    /// So many at most, for now.
    pub most: usize,
    /// Not all that was asked for was tried.
    pub is_cut: bool,
}

impl<'a, 'w> Search<'a, 'w> {
    pub fn new(trial: Trial<'a>, wanted: &'w dyn Fn() -> bool) -> Self {
        Self {
            trial,
            wanted,
            known: BTreeMap::new(),
            ways: BTreeMap::new(),
            assessed: 0,
            most: MOST_ASSESSED,
            is_cut: false,
        }
    }

    /// What the plan comes to with some changes; `None` where enough were assessed, or no more is wanted.
    pub fn tried(&mut self, changes: &Changes) -> Option<Rc<State>> {
        if let Some(state) = self.known.get(changes) {
            return Some(state.clone());
        }
        // the plan as it stands costs nothing
        let is_plan = changes.is_empty();
        if !is_plan && (self.assessed >= self.most || !(self.wanted)()) {
            self.is_cut = true;
            return None;
        }
        self.assessed += usize::from(!is_plan);
        let outcome = self.trial.comes_to(changes);
        let state = Rc::new(State {
            changes: changes.clone(),
            worth: self.worth(changes),
            broken: outcome.broken,
            money: outcome.money,
            hours: outcome.hours,
            to_measure: outcome.to_measure,
        });
        self.known.insert(changes.clone(), state.clone());
        Some(state)
    }

    /// What would clear some clashes of a set of changes.
    pub fn ways(&mut self, changes: &Changes, keys: &BTreeSet<Check>) -> BTreeMap<Check, Rc<Ways>> {
        let is_new = |key: &&Check| !self.ways.contains_key(&(changes.clone(), **key));
        let new: BTreeSet<Check> = keys.iter().filter(is_new).copied().collect();
        if !new.is_empty() {
            for (key, ways) in self.trial.ways(changes, &new) {
                self.ways.insert((changes.clone(), key), Rc::new(ways));
            }
            self.is_cut |= self.trial.cut;
        }
        let known =
            keys.iter().filter_map(|key| Some((*key, self.ways.get(&(changes.clone(), *key))?.clone())));
        known.collect()
    }

    pub fn worth(&self, changes: &Changes) -> i64 {
        changes.iter().filter_map(|(pos, said)| self.trial.given_up(*pos, *said)).sum()
    }

    /// A set without the changes at places that follow which the plan makes by itself.
    fn without_idle(&mut self, mut state: Rc<State>, counts: impl Fn(&State) -> usize) -> Rc<State> {
        let following: Vec<_> =
            state.changes.keys().copied().filter(|pos| self.trial.is_left_to_plan(*pos)).collect();
        for pos in following {
            let mut fewer = state.changes.clone();
            fewer.remove(&pos);
            match self.tried(&fewer) {
                Some(other) if counts(&other) <= counts(&state) => state = other,
                _ => {}
            }
        }
        state
    }
}

#[derive(Clone, Debug)]
struct Node {
    changes: Changes,
    /// Clashes that are left as they are.
    left: BTreeSet<Check>,
    /// The clash that the last way was for.
    clears: Option<Check>,
    /// Changes that it takes at least beside its own.
    more: usize,
    state: Option<Rc<State>>,
    /// Nothing is open.
    is_whole: bool,
}

/// Clashes that one change can touch, and the search for what clears them.
pub(super) struct Knot {
    /// Clashes of other knots, which do not count here.
    others: BTreeSet<Check>,
    nodes: Vec<Node>,
    due: BinaryHeap<Reverse<(Rank, usize)>>,
    seen: BTreeSet<(Changes, BTreeSet<Check>)>,
    /// Those that were told.
    told: BTreeSet<Changes>,
    /// The best that was assessed, for where the search is cut off.
    nearest: Option<(Rank, Rc<State>)>,
}

impl Knot {
    pub fn new(root: &Rc<State>, others: BTreeSet<Check>) -> Self {
        let mut knot = Self {
            others,
            nodes: Vec::new(),
            due: BinaryHeap::new(),
            seen: BTreeSet::new(),
            told: BTreeSet::new(),
            nearest: None,
        };
        let none = BTreeSet::new();
        let node = Node {
            changes: root.changes.clone(),
            left: none,
            clears: None,
            more: 0,
            state: Some(root.clone()),
            is_whole: false,
        };
        knot.push(node, root.worth);
        knot
    }

    /// Clashes that a state leaves and that count here.
    pub fn left(&self, state: Option<&State>) -> BTreeSet<Check> {
        state.map(|state| state.broken.difference(&self.others).copied().collect()).unwrap_or_default()
    }

    /// How many of the clashes of a state count here.
    pub fn open(&self, state: &State) -> usize {
        state.broken.difference(&self.others).count()
    }

    /// The next best set; `None` where there is no other, or enough was tried.
    pub fn next(&mut self, search: &mut Search<'_, '_>) -> Option<Rc<State>> {
        while let Some(Reverse((rank, at))) = self.due.pop() {
            if self.nodes.len() > MOST_STEPS || !(search.wanted)() {
                search.is_cut = true;
                return None;
            }
            let node = self.nodes[at].clone();
            let state = match &node.state {
                Some(state) => state.clone(),
                None => search.tried(&node.changes)?,
            };
            if node.is_whole {
                if self.told.insert(state.changes.clone()) {
                    return Some(state);
                }
                continue;
            }
            // what clears nothing is no way out
            if node.clears.is_some_and(|key| state.broken.contains(&key)) {
                continue;
            }
            self.is_nearest(&state);
            let open: BTreeSet<Check> =
                state.broken.iter().filter(|key| self.counts(key, &node.left)).copied().collect();
            if open.is_empty() {
                let counts = |state: &State| state.broken.difference(&self.others).count();
                let state = search.without_idle(state, counts);
                let node = Node {
                    changes: state.changes.clone(),
                    state: Some(state.clone()),
                    is_whole: true,
                    ..node
                };
                self.push(node, state.worth);
                continue;
            }
            let ways = search.ways(&state.changes, &open);
            let more = apart(ways.values());
            let known = Node { more, state: Some(state.clone()), clears: None, ..node };
            let stands = self.rank(&known, state.worth);
            // it takes more than was known: others may be better now
            if stands > rank && self.due.peek().is_some_and(|Reverse((other, _))| *other < stands) {
                self.nodes.push(known);
                self.due.push(Reverse((stands, self.nodes.len() - 1)));
                continue;
            }
            self.branch(&known, &state, &ways, search);
        }
        None
    }

    /// The best that was assessed.
    pub fn nearest(&self) -> Option<Rc<State>> {
        self.nearest.as_ref().map(|(_, state)| state.clone())
    }

    fn counts(&self, key: &Check, left: &BTreeSet<Check>) -> bool {
        !self.others.contains(key) && !left.contains(key)
    }

    fn is_nearest(&mut self, state: &Rc<State>) {
        let (_, worth, changes, to_measure, money) = state.rank();
        let rank = (self.open(state), worth, changes, to_measure, money);
        if self.nearest.as_ref().is_none_or(|(best, _)| rank < *best) {
            self.nearest = Some((rank, state.clone()));
        }
    }

    /// The clash with the fewest ways out first: one of them it must be.
    fn branch(
        &mut self,
        node: &Node,
        state: &State,
        ways: &BTreeMap<Check, Rc<Ways>>,
        search: &Search<'_, '_>,
    ) {
        let Some((key, here)) = ways.iter().min_by_key(|(key, ways)| (ways.all.len(), **key)) else { return };
        let mut left = node.left.clone();
        left.insert(*key);
        let rest = ways.iter().filter(|(other, _)| *other != key).map(|(_, ways)| ways);
        let stays = Node { left, more: apart(rest), ..node.clone() };
        self.push_new(stays, state.worth);
        for way in &here.all {
            let mut changes = state.changes.clone();
            changes.extend(way.iter().copied());
            let worth = search.worth(&changes);
            let more = node.more.saturating_sub(way.len());
            let next = Node {
                changes,
                left: node.left.clone(),
                clears: Some(*key),
                more,
                state: None,
                is_whole: false,
            };
            self.push_new(next, worth);
        }
    }

    fn push_new(&mut self, node: Node, worth: i64) {
        if self.seen.insert((node.changes.clone(), node.left.clone())) {
            self.push(node, worth);
        }
    }

    fn push(&mut self, node: Node, worth: i64) {
        let rank = self.rank(&node, worth);
        self.nodes.push(node);
        self.due.push(Reverse((rank, self.nodes.len() - 1)));
    }

    /// What a node comes to at best.
    fn rank(&self, node: &Node, worth: i64) -> Rank {
        let changes = node.changes.len() + node.more;
        match &node.state {
            Some(state) if node.is_whole => {
                (self.open(state), worth, changes, state.to_measure, state.money.clone())
            }
            _ => (node.left.len(), worth, changes, i64::MIN, Amounts::default()),
        }
    }
}

/// How many of them share no place with another, taken one after the other: each takes a change of its own.
fn apart<'w>(all: impl Iterator<Item = &'w Rc<Ways>>) -> usize {
    let mut all: Vec<&Rc<Ways>> = all.collect();
    all.sort_by_key(|ways| ways.places.len());
    let mut taken = BTreeSet::new();
    let mut many = 0;
    for ways in all {
        // what nothing clears has to be left
        if !ways.places.is_empty() && ways.places.is_disjoint(&taken) {
            taken.extend(ways.places.iter().copied());
            many += 1;
        }
    }
    many
}
