//! What a bench has worked out before and would work out again: each answer is kept with all that it was read from, and
//! is taken again only where all of that is the same. It changes no answer.

use std::cell::{OnceCell, RefCell};
use std::rc::Rc;
use std::sync::{Arc, Mutex, PoisonError};

use smallvec::SmallVec;

use super::bench::Bench;
use super::fills::{Meeting, Must, Overlay};
use crate::catalogue::searched::{Chain, List, Listed, Searched, State, Told};
use crate::catalogue::{Id, JointEntry, JointId, Numbered, PartId, PortEntry, PositionEntry, PositionId};
use crate::value::Verdict3;

/// What meets at a joint with the parts that sit there now.
#[derive(Debug)]
pub(crate) struct Met<'a> {
    /// The parts at its ends.
    parts: SmallVec<[Option<PartId>; 4]>,
    pub ports: Meeting<'a>,
    pub verdict: Verdict3,
    /// The two ports that fit worst, by their places.
    pub worst: (usize, usize),
    /// The cheapest chain of bridges where two ports meet and no bridge lies loose, once it was looked for.
    chain: OnceCell<Told<Option<Arc<Chain>>>>,
}

/// Two ends of a joint.
pub(crate) type Pair<'a> = ((PositionId, &'a PortEntry), (PositionId, &'a PortEntry));

impl<'a> Met<'a> {
    /// The two ends that fit worst.
    pub fn worst_pair(&self) -> Pair<'a> {
        (self.ports[self.worst.0], self.ports[self.worst.1])
    }
}

/// What met at a joint lately.
#[derive(Debug, Default)]
struct Known<'a> {
    /// When the first of them was last looked at.
    clock: u32,
    all: SmallVec<[Rc<Met<'a>>; 2]>,
}

/// More than the plan as it stands, its fills and a route under trial lead to.
const MOST_MET: usize = 8;

impl<'a> Known<'a> {
    /// Puts one first; the longest unused goes where there are too many.
    fn add(&mut self, met: Rc<Met<'a>>) {
        self.all.truncate(MOST_MET - 1);
        self.all.insert(0, met);
    }
}

/// What breaks nothing in a position: when that was found, and with which bridges loose.
#[derive(Debug)]
struct Fits {
    clock: u32,
    loose: Option<Arc<Searched>>,
    list: Arc<Mutex<List>>,
}

#[derive(Debug)]
pub(crate) struct Memory<'a> {
    met: RefCell<Numbered<JointEntry, Known<'a>>>,
    /// Lists of what breaks nothing in each position.
    fits: RefCell<Numbered<PositionEntry, Option<Fits>>>,
    /// When each joint was last found to hold.
    held: RefCell<Numbered<JointEntry, u32>>,
}

impl Memory<'_> {
    /// Nothing remembered of so many positions and joints.
    pub fn new(positions: usize, joints: usize) -> Self {
        Self {
            fits: RefCell::new((0..positions).map(|_| None).collect()),
            met: RefCell::new((0..joints).map(|_| Known::default()).collect()),
            held: RefCell::new(Numbered::filled(0, joints)),
        }
    }
}

/// No part.
const NONE: u32 = u32::MAX;

impl<'a> Bench<'a> {
    /// What meets at a joint as things stand.
    pub fn met_now(&self, joint: JointId) -> Rc<Met<'a>> {
        let known = &mut self.memory.met.borrow_mut()[joint];
        if known.clock < self.joint_stamps[joint] {
            known.clock = self.clock;
            let ends = &self.v.joints[joint].ends;
            let is_same = |met: &Rc<Met<'_>>| {
                ends.iter().zip(&met.parts).all(|((p, _), part)| self.slot(*p).part == *part)
            };
            match known.all.iter().position(is_same) {
                Some(at) => known.all[..=at].rotate_right(1),
                None => known.add(Rc::new(self.meet(joint))),
            }
        }
        Rc::clone(&known.all[0])
    }

    fn meet(&self, joint: JointId) -> Met<'a> {
        let ports = self.meeting(joint, &Overlay::new());
        let (verdict, worst) = self.worst_of(&ports);
        let parts = self.v.joints[joint].ends.iter().map(|(p, _)| self.slot(*p).part).collect();
        Met { parts, ports, verdict, worst, chain: OnceCell::new() }
    }

    /// The cheapest chain between the two ports that meet.
    pub fn chain_of(&self, met: &Met<'a>) -> Option<Arc<Chain>> {
        let (a, b) = (met.ports[0].1, met.ports[1].1);
        if self.loose.is_some() {
            return self.chain(a, b);
        }
        self.told(met.chain.get_or_init(|| self.known_chain(a, b)).clone())
    }

    /// Whether a joint was found to hold with what sits at its ends now.
    pub fn is_held(&self, joint: JointId) -> bool {
        self.joint_stamps[joint] <= self.memory.held.borrow()[joint]
    }

    pub fn remember_held(&self, joint: JointId) {
        self.memory.held.borrow_mut()[joint] = self.clock;
    }

    /// Parts that do what they must at the joints of a position, with their marks, cheapest first. With `clean`, only those
    /// that could be without a mark.
    pub fn at_joints(&self, pos: PositionId, must: Must, clean: bool) -> impl Iterator<Item = (u32, PartId)> {
        let list = self.list(pos, must, clean);
        // the first ones are as a rule enough, and known
        let known: SmallVec<[Listed; 4]> =
            list.lock().unwrap_or_else(PoisonError::into_inner).found.iter().take(4).copied().collect();
        let mut next = 0;
        std::iter::from_fn(move || {
            if let Some(found) = known.get(next) {
                next += 1;
                self.cut.set(self.cut.get() || found.cut);
                return Some((found.marks, found.part));
            }
            let mut list = list.lock().unwrap_or_else(PoisonError::into_inner);
            while list.found.len() <= next {
                let part = *list.parts.get(list.looked)?;
                list.looked += 1;
                let cut = self.cut.replace(false);
                let marks = self.marks_at_joints(pos, must, &self.overlay(pos, part));
                let now = self.cut.replace(cut);
                list.cut |= now;
                if let Some(marks) = marks {
                    let cut = list.cut;
                    list.found.push(Listed { marks, part, cut });
                }
            }
            let found = *list.found.get(next)?;
            self.cut.set(self.cut.get() || found.cut);
            next += 1;
            Some((found.marks, found.part))
        })
    }

    fn list(&self, pos: PositionId, must: Must, clean: bool) -> Arc<Mutex<List>> {
        match must.joint() {
            Some(_) => self.shared_list(pos, must, clean),
            None => self.list_of_fitting(pos, || self.shared_list(pos, must, clean)),
        }
    }

    /// The list of what breaks nothing in a position, which is the same as long as the same sits at its joints.
    fn list_of_fitting(
        &self,
        pos: PositionId,
        search: impl FnOnce() -> Arc<Mutex<List>>,
    ) -> Arc<Mutex<List>> {
        let fits = &mut self.memory.fits.borrow_mut()[pos];
        let is_same = |fit: &&Fits| {
            let joints = &self.v.joints_at[pos];
            joints.iter().all(|joint| self.joint_stamps[*joint] <= fit.clock)
                && self.is_same_loose(fit.loose.as_ref())
        };
        if let Some(fit) = fits.as_ref().filter(is_same) {
            return Arc::clone(&fit.list);
        }
        let list = search();
        *fits = Some(Fits { clock: self.clock, loose: self.loose.clone(), list: Arc::clone(&list) });
        list
    }

    /// Whether the same bridges lie loose as then.
    pub fn is_same_loose(&self, then: Option<&Arc<Searched>>) -> bool {
        match (then, &self.loose) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b),
            (a, b) => a.is_none() && b.is_none(),
        }
    }

    fn shared_list(&self, pos: PositionId, must: Must, clean: bool) -> Arc<Mutex<List>> {
        self.cat.searched.lists.get(self.read_at_joints(pos, must, clean), || {
            let before = self.cut.replace(false);
            let parts =
                if clean { Arc::from(self.shortlist_clean(pos, must)) } else { self.shortlist(pos, must) };
            let cut = self.cut.replace(before);
            Arc::new(Mutex::new(List { parts, cut, ..List::default() }))
        })
    }

    /// All that a list is read from: the vehicle, what was asked, the parts at the other ends of the joints, which places a kit may
    /// fill, and the bridges that lie loose.
    fn read_at_joints(&self, pos: PositionId, must: Must, clean: bool) -> State {
        let mut state = State::new();
        let (kind, joint) = match must {
            Must::Close(joint) => (0, joint.number()),
            Must::DoWithout(joint) => (1, joint.number()),
            Must::Fit => (2, 0),
        };
        state.extend([self.v.number.number(), pos.number(), kind + 3 * u32::from(clean), joint]);
        for other in &self.v.neighbours[pos] {
            state.push(self.slot(*other).part.map_or(NONE, Id::number));
        }
        for place in &self.v.kit_neighbours[pos] {
            state.push(u32::from(self.is_chosen(*place)));
        }
        state.extend(self.loose_bridges.iter().map(|part| part.number()));
        state
    }
}
