//! Numbers of what a library holds, each of a kind of its own, and tables that are read by them: a part is not looked up
//! by the number of its class, nor a joint by that of a position.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::marker::PhantomData;
use std::ops::{Index, IndexMut};

use super::{
    CircuitEntry, ClassEntry, JointEntry, LimitEntry, LimitPlaces, OpeningEntry, OpeningPlaces, PartEntry,
    PoolEntry, PortTypeEntry, PositionEntry, VehicleEntry,
};
use crate::library::NeedDef;

/// Number of a part.
pub type PartId = Id<PartEntry>;
/// Number of a class.
pub type ClassId = Id<ClassEntry>;
/// Number of a port type.
pub type PortTypeId = Id<PortTypeEntry>;
/// Number of the name of a port.
pub type PortNameId = Id<PortName>;
/// Number of a port spec: the same for all ports of one type and role whose fields read the same.
pub type SpecId = Id<PortSpec>;
/// Number of a need.
pub type NeedId = Id<NeedDef>;
/// Number of a pool.
pub type PoolId = Id<PoolEntry>;
/// Number of a figure.
pub type FigureId = Id<Figure>;
/// Number of a limit of the library.
pub type LimitId = Id<LimitEntry>;
/// Number of an opening of the library.
pub type OpeningId = Id<OpeningEntry>;
/// Number of a vehicle.
pub type VehicleId = Id<VehicleEntry>;
/// Number of a position of a vehicle.
pub type PositionId = Id<PositionEntry>;
/// Number of a joint of a vehicle.
pub type JointId = Id<JointEntry>;
/// Number of a circuit of a vehicle.
pub type CircuitId = Id<CircuitEntry>;
/// Number of a run of a limit: the limit at one set of places of a vehicle.
pub type RunId = Id<LimitPlaces>;
/// Number of a spot of a vehicle at which an opening opens.
pub type SpotId = Id<OpeningPlaces>;

/// Tells the numbers of port names from others.
#[derive(Clone, Debug)]
pub enum PortName {}
/// Tells the numbers of port specs from others.
#[derive(Clone, Debug)]
pub enum PortSpec {}
/// Tells the numbers of figures from others.
#[derive(Clone, Debug)]
pub enum Figure {}

/// The number of one of a kind of things. Each kind counts from 0.
pub struct Id<T> {
    number: u32,
    of: PhantomData<fn() -> T>,
}

impl<T> Id<T> {
    /// The number of what is not there: no table has anything under it. It comes after all others.
    pub const UNKNOWN: Self = Self { number: u32::MAX, of: PhantomData };

    /// The number of what stands at a place of a table.
    #[inline]
    #[must_use]
    pub fn new(ix: usize) -> Self {
        Self { number: ix as u32, of: PhantomData }
    }

    /// The place in a table.
    #[inline]
    #[must_use]
    pub fn ix(self) -> usize {
        self.number as usize
    }

    /// The bare number, where numbers of several kinds are packed together.
    #[inline]
    #[must_use]
    pub fn number(self) -> u32 {
        self.number
    }
}

// written out: derived they would ask the same of what is numbered
impl<T> Clone for Id<T> {
    #[inline]
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Id<T> {}

impl<T> PartialEq for Id<T> {
    #[inline]
    fn eq(&self, other: &Self) -> bool {
        self.number == other.number
    }
}

impl<T> Eq for Id<T> {}

impl<T> PartialOrd for Id<T> {
    #[inline]
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for Id<T> {
    #[inline]
    fn cmp(&self, other: &Self) -> Ordering {
        self.number.cmp(&other.number)
    }
}

impl<T> Hash for Id<T> {
    #[inline]
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.number.hash(state);
    }
}

impl<T> fmt::Debug for Id<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{}", self.number)
    }
}

/// Not known yet.
impl<T> Default for Id<T> {
    fn default() -> Self {
        Self::UNKNOWN
    }
}

/// A table by number: one `V` for each `K`, in order of their numbers. `Numbered<JointEntry>` holds the joints themselves,
/// `Numbered<JointEntry, bool>` says yes or no of each.
pub struct Numbered<K, V = K> {
    all: Vec<V>,
    of: PhantomData<fn() -> K>,
}

impl<K, V> Numbered<K, V> {
    /// An empty table.
    #[must_use]
    pub const fn new() -> Self {
        Self { all: Vec::new(), of: PhantomData }
    }

    /// The same for so many.
    #[must_use]
    pub fn filled(value: V, len: usize) -> Self
    where
        V: Clone,
    {
        Self { all: vec![value; len], of: PhantomData }
    }

    /// Adds one behind all others; its number.
    pub fn push(&mut self, value: V) -> Id<K> {
        self.all.push(value);
        Id::new(self.all.len() - 1)
    }

    /// What stands under a number; `None` where the table does not have it.
    #[inline]
    #[must_use]
    pub fn get(&self, id: Id<K>) -> Option<&V> {
        self.all.get(id.ix())
    }

    /// The same, to change it.
    #[inline]
    pub fn get_mut(&mut self, id: Id<K>) -> Option<&mut V> {
        self.all.get_mut(id.ix())
    }

    /// How many there are.
    #[inline]
    #[must_use]
    pub fn len(&self) -> usize {
        self.all.len()
    }

    /// Whether there are none.
    #[inline]
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// The numbers, in order.
    #[inline]
    pub fn ids(&self) -> impl ExactSizeIterator<Item = Id<K>> + use<K, V> {
        (0..self.all.len()).map(Id::new)
    }

    /// What stands in the table, in order.
    #[inline]
    pub fn values(&self) -> std::slice::Iter<'_, V> {
        self.all.iter()
    }

    /// The same, to change it.
    #[inline]
    pub fn values_mut(&mut self) -> std::slice::IterMut<'_, V> {
        self.all.iter_mut()
    }

    /// What stood in the table, in order.
    #[inline]
    pub fn into_values(self) -> std::vec::IntoIter<V> {
        self.all.into_iter()
    }

    /// Numbers with what stands under them, in order.
    #[inline]
    pub fn iter(&self) -> impl ExactSizeIterator<Item = (Id<K>, &V)> {
        self.ids().zip(&self.all)
    }

    /// The same, to change what stands there.
    #[inline]
    pub fn iter_mut(&mut self) -> impl ExactSizeIterator<Item = (Id<K>, &mut V)> {
        self.ids().zip(&mut self.all)
    }

    /// The number of the first that is what is looked for.
    #[inline]
    pub fn position(&self, is_it: impl FnMut(&V) -> bool) -> Option<Id<K>> {
        self.all.iter().position(is_it).map(Id::new)
    }

    /// The number of the one that is what is looked for, where the table stands in the order it is compared by.
    #[inline]
    pub fn search_by(&self, compare: impl FnMut(&V) -> Ordering) -> Option<Id<K>> {
        self.all.binary_search_by(compare).ok().map(Id::new)
    }
}

impl<K, V> Index<Id<K>> for Numbered<K, V> {
    type Output = V;

    #[inline]
    fn index(&self, id: Id<K>) -> &V {
        &self.all[id.ix()]
    }
}

impl<K, V> IndexMut<Id<K>> for Numbered<K, V> {
    #[inline]
    fn index_mut(&mut self, id: Id<K>) -> &mut V {
        &mut self.all[id.ix()]
    }
}

impl<K, V> FromIterator<V> for Numbered<K, V> {
    fn from_iter<I: IntoIterator<Item = V>>(all: I) -> Self {
        Self { all: all.into_iter().collect(), of: PhantomData }
    }
}

impl<K, V: Clone> Clone for Numbered<K, V> {
    fn clone(&self) -> Self {
        Self { all: self.all.clone(), of: PhantomData }
    }

    fn clone_from(&mut self, other: &Self) {
        self.all.clone_from(&other.all);
    }
}

impl<K, V: fmt::Debug> fmt::Debug for Numbered<K, V> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_map().entries(self.iter()).finish()
    }
}

impl<K, V> Default for Numbered<K, V> {
    fn default() -> Self {
        Self::new()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_added_stands_under_the_number_given_for_it() {
        let mut names: Numbered<PortName, &str> = Numbered::new();
        let (inlet, outlet) = (names.push("inlet"), names.push("outlet"));
        assert_eq!((names[inlet], names[outlet]), ("inlet", "outlet"));
        assert_eq!(names.iter().collect::<Vec<_>>(), [(inlet, &"inlet"), (outlet, &"outlet")]);
        assert_eq!(names.position(|n| n.starts_with('o')), Some(outlet));
        assert_eq!(names.search_by(|n| (*n).cmp("neck")), None);
        names[inlet] = "neck";
        assert_eq!(names.search_by(|n| (*n).cmp("neck")), Some(inlet));
    }

    #[test]
    fn nothing_stands_under_the_number_of_what_is_not_there() {
        let mut some: Numbered<Figure, u8> = Numbered::filled(7, 3);
        assert_eq!(some.get(Id::UNKNOWN), None);
        assert_eq!(some.get_mut(Id::new(3)), None);
        assert!(some.ids().all(|id| id < Id::UNKNOWN && some[id] == 7));
        assert_eq!(some.ids().map(Id::number).collect::<Vec<_>>(), [0, 1, 2]);
    }
}
