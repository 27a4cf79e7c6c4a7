//! The lists of candidates for the ends of a joint, kept by all that lies around it: one look at that serves them all.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::{Arc, Mutex};

use smallvec::SmallVec;

use super::bench::Bench;
use super::fills::Must;
use crate::catalogue::Ix;
use crate::catalogue::searched::{List, Searched};

/// What sits around a joint, and what the owner has chosen there; with the bridges that lie loose, all that its lists are
/// read from.
type Read = SmallVec<[u64; 32]>;

/// A list, by position, what it must do and whether only clean parts are wanted.
type Kept = (Ix, Must, bool, Arc<Mutex<List>>);

#[derive(Debug)]
struct Around {
    read: Read,
    loose: Option<Arc<Searched>>,
    lists: RefCell<SmallVec<[Kept; 4]>>,
}

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
        joint: Ix,
        pos: Ix,
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

    fn around(&self, joint: Ix) -> Rc<Around> {
        let is_loose = |around: &Rc<Around>| match (&around.loose, &self.loose) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b),
            (a, b) => a.is_none() && b.is_none(),
        };
        let lately = &mut self.memory.around.borrow_mut()[joint as usize];
        if lately.clock != self.clock || !lately.all.first().is_some_and(is_loose) {
            let area = &self.v.joint_areas[joint as usize];
            let sits = |pos: &Ix| {
                let part = self.slot(*pos).part.map_or(0, |part| u64::from(part) + 1);
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
                }));
                lately.all.len() - 1
            });
            // the latest first
            lately.all[..=at].rotate_right(1);
        }
        Rc::clone(&lately.all[0])
    }
}
