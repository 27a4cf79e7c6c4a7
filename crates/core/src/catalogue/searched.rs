//! What was searched in a library before. It depends on the library alone, so that it may be kept as long as that; that it
//! is kept changes no answer.

use std::sync::{Arc, Mutex, PoisonError, RwLock};

use rustc_hash::FxHashMap;
use smallvec::SmallVec;

use super::{ClassId, PartId, PortNameId, SpecId};

/// Longest chain of bridges; a joint that wants more is better cured by another part.
pub(crate) const LONGEST: usize = 4;
/// One part of a chain, and the ports it is passed through by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Link {
    pub part: PartId,
    /// Port that faces the start of the chain.
    pub enter: u16,
    /// Port that faces its end.
    pub leave: u16,
}

/// A closed joint.
#[derive(Clone, Debug)]
pub(crate) struct Chain {
    /// Parts from the first port to the second.
    pub links: Vec<Link>,
    /// An unknown dimension leaves it open whether it fits.
    pub open: bool,
}

/// How chains are ordered: sure before open, cheap before dear, short before long, then by the ids of the parts.
pub(crate) type Order = (bool, i64, u8, [PartId; LONGEST]);

/// A chain that starts at a port.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub order: Order,
    pub links: [Link; LONGEST],
}

impl Node {
    pub fn links(&self) -> &[Link] {
        &self.links[..usize::from(self.order.2)]
    }

    /// The port at the far end.
    pub fn last(&self) -> Link {
        self.links().last().copied().unwrap_or_default()
    }
}

/// Every chain worth having from one port, best first: none that ends at a like port as another that is as sure, no dearer
/// and no longer.
#[derive(Debug, Default)]
pub(crate) struct Reach {
    pub nodes: Vec<Node>,
    /// The search was cut off.
    pub cut: bool,
}

/// Which parts meet a port.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Meets {
    pub class: ClassId,
    /// Port name.
    pub name: PortNameId,
    /// Spec of the port that is met.
    pub spec: SpecId,
    /// With bridges between.
    pub bridged: bool,
    /// With the parts that have no such port.
    pub without: bool,
}

/// A table that many may read while one adds to it.
#[derive(Debug)]
pub(crate) struct Kept<K, V>(RwLock<FxHashMap<K, V>>);

impl<K, V> Default for Kept<K, V> {
    fn default() -> Self {
        Self(RwLock::default())
    }
}

impl<K: Eq + std::hash::Hash, V: Clone> Kept<K, V> {
    /// What is kept under a key, worked out where nothing is.
    pub fn get(&self, key: K, search: impl FnOnce() -> V) -> V {
        let known = self.0.read().unwrap_or_else(PoisonError::into_inner).get(&key).cloned();
        known.unwrap_or_else(|| {
            let found = search();
            self.0.write().unwrap_or_else(PoisonError::into_inner).insert(key, found.clone());
            found
        })
    }

    /// Forgets all where more than so many are kept, so that a long day at the bench does not fill the memory.
    pub fn keep_below(&self, most: usize) {
        let mut kept = self.0.write().unwrap_or_else(PoisonError::into_inner);
        if kept.len() > most {
            kept.clear();
        }
    }
}

/// An answer, and whether a search it rests on was cut off.
#[derive(Clone, Debug)]
pub(crate) struct Told<T> {
    pub answer: T,
    pub cut: bool,
}

/// Searches on vehicles that have a place for the same classes of bridges, with one set of bridges loose in the boxes of
/// kits.
#[derive(Debug, Default)]
pub(crate) struct Searched {
    /// What bridges lead to from a port of a spec.
    pub reach: Kept<SpecId, Arc<Reach>>,
    /// The cheapest chain between ports of two specs.
    pub chains: Kept<(SpecId, SpecId), Told<Option<Arc<Chain>>>>,
    /// Parts of a class whose port of a name meets a port of a spec, directly or through bridges.
    pub meeting: Kept<Meets, Told<Arc<[PartId]>>>,
}

/// All that a list was read from.
pub(crate) type State = SmallVec<[u32; 24]>;

/// A part that does what it must.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Listed {
    pub marks: u32,
    pub part: PartId,
    /// A search on the way to it was cut off.
    pub cut: bool,
}

/// Parts of a shortlist that do what they must at the joints of a position, with their marks, cheapest first; looked at
/// one by one as they are asked for.
#[derive(Debug, Default)]
pub(crate) struct List {
    /// The shortlist.
    pub parts: Arc<[PartId]>,
    /// How many of it have been looked at.
    pub looked: usize,
    pub found: SmallVec<[Listed; 4]>,
    pub cut: bool,
}

/// So many of each container.
pub(crate) type Filled = SmallVec<[(PartId, u32); 4]>;

/// All that was searched in a library.
#[derive(Debug, Default)]
pub(crate) struct AllSearched {
    /// With no bridge loose in a box and every class of bridges without a place.
    pub plain: Searched,
    /// The cheapest part of a class that seals the contact of two ports, by class and specs.
    pub seals: Kept<(ClassId, SpecId, SpecId), Option<PartId>>,
    /// Containers of a class of fluid for a volume, by the bits of the number.
    pub containers: Kept<(ClassId, u64), Filled>,
    /// Which parts do what they must at a position, by all that is about it.
    pub lists: Kept<State, Arc<Mutex<List>>>,
    /// With classes of bridges that have a place on the vehicle, and a set of loose bridges.
    pub loose: Kept<(Vec<ClassId>, Vec<PartId>), Arc<Searched>>,
}

/// Lists kept: more than a few rounds of all offers lead to.
const MOST_LISTS: usize = 200_000;
/// Volumes kept: a vehicle has few, whatever is apart.
const MOST_VOLUMES: usize = 10_000;
/// Sets of loose parts kept: more than the offers of all kits lead to.
const MOST_SETS: usize = 4096;

impl AllSearched {
    /// Forgets what would fill the memory on a long day.
    pub fn tidy(&self) {
        self.loose.keep_below(MOST_SETS);
        self.lists.keep_below(MOST_LISTS);
        self.containers.keep_below(MOST_VOLUMES);
    }

    /// What was searched without the bridges of some classes and with a set of loose bridges, both in order of their
    /// numbers.
    pub fn with_loose(&self, placed: Vec<ClassId>, set: Vec<PartId>) -> Arc<Searched> {
        self.loose.get((placed, set), Arc::default)
    }
}

/// A copy of a library starts with nothing searched.
impl Clone for AllSearched {
    fn clone(&self) -> Self {
        Self::default()
    }
}
