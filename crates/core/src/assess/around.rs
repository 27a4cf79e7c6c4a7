//! The lists of candidates for the ends of a joint, kept by all that lies around it: one look at that serves them all.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::{Arc, Mutex};

use smallvec::SmallVec;

use super::bench::Bench;
use super::fills::Must;
use crate::catalogue::searched::{List, Searched};
use crate::catalogue::{JointId, PartId, PositionId};

/// What sits around a joint, and what the owner has chosen there; with the bridges that lie loose, all that its lists are
/// read from.
type Read = SmallVec<[u64; 32]>;

/// A list, by position, what it must do and whether only clean parts are wanted.
type Kept = (PositionId, Must, bool, Arc<Mutex<List>>);

#[derive(Debug)]
struct Around {
    read: Read,
    loose: Option<Arc<Searched>>,
    lists: RefCell<SmallVec<[Kept; 4]>>,
    answers: RefCell<SmallVec<[(Asked, Answer); 4]>>,
}

/// What was asked about an end of a joint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Asked {
    /// The best part that does this.
    Best(PositionId, Must),
    /// The best part that agrees with the ends at these positions.
    Agreeing(PositionId, SmallVec<[PositionId; 4]>),
}

/// The part and its marks, and whether a search on the way was cut off.
type Answer = (Option<(u32, PartId)>, bool);

/// What lay around a joint lately.
#[derive(Debug, Default)]
pub(crate) struct Lately {
    /// When the first of them was last looked at.
    clock: u32,
    all: SmallVec<[Rc<Around>; 2]>,
}

/// More than the plan as it stands, its fills and a route under trial lead to.
const MOST: usize = 8;

impl Bench<'_> {
    /// A list of candidates for an end of a joint, worked out where none is kept.
    pub fn list_at(
        &self,
        joint: JointId,
        pos: PositionId,
        must: Must,
        clean: bool,
        search: impl FnOnce() -> Arc<Mutex<List>>,
    ) -> Arc<Mutex<List>> {
        let around = self.around(joint);
        let mut lists = around.lists.borrow_mut();
        let known = lists.iter().find(|(p, m, c, _)| *p == pos && *m == must && *c == clean);
        if let Some((.., list)) = known {
            return Arc::clone(list);
        }
        let list = search();
        lists.push((pos, must, clean, Arc::clone(&list)));
        list
    }

    /// The answer to what is asked of an end of a joint, kept where it rests on nothing but what lies around: neither on
    /// pools and limits nor on what has given way.
    pub fn answered(
        &self,
        joint: JointId,
        pos: PositionId,
        asked: Asked,
        search: impl FnOnce() -> Option<(u32, PartId)>,
    ) -> Option<(u32, PartId)> {
        if self.tried_out.iter().any(|(p, _)| *p == pos) {
            return search();
        }
        let around = self.around(joint);
        let known = around.answers.borrow().iter().find(|(a, _)| *a == asked).map(|(_, answer)| *answer);
        let (answer, cut) = known.unwrap_or_else(|| {
            let before = (self.cut.replace(false), self.figures_read.replace(false));
            let answer = search();
            let now = (self.cut.replace(before.0), self.figures_read.replace(before.1));
            if now.1 {
                self.figures_read.set(true);
            } else {
                around.answers.borrow_mut().push((asked, (answer, now.0)));
            }
            (answer, now.0)
        });
        self.cut.set(self.cut.get() || cut);
        answer
    }

    fn around(&self, joint: JointId) -> Rc<Around> {
        let is_loose = |around: &Rc<Around>| self.is_same_loose(around.loose.as_ref());
        let lately = &mut self.memory.around.borrow_mut()[joint];
        if lately.clock < self.area_stamps[joint] || !lately.all.first().is_some_and(is_loose) {
            let area = &self.v.joint_areas[joint];
            let sits = |pos: &PositionId| {
                let part = self.slot(*pos).part.map_or(0, |part| u64::from(part.number()) + 1);
                part << 1 | u64::from(self.is_chosen(*pos))
            };
            let read: Read = area.iter().map(sits).collect();
            lately.clock = self.clock;
            let known = lately.all.iter().position(|around| around.read == read && is_loose(around));
            let at = known.unwrap_or_else(|| {
                lately.all.truncate(MOST - 1);
                lately.all.push(Rc::new(Around {
                    read,
                    loose: self.loose.clone(),
                    lists: RefCell::default(),
                    answers: RefCell::default(),
                }));
                lately.all.len() - 1
            });
            // the latest first
            lately.all[..=at].rotate_right(1);
        }
        Rc::clone(&lately.all[0])
    }
}
