//! Sets of numbers that are joined a word at a time.

use std::marker::PhantomData;

use super::Id;

/// A set of numbers of one kind, below a length it is made for.
#[derive(Clone, Debug)]
pub(crate) struct Bits<T> {
    words: Vec<u64>,
    of: PhantomData<fn() -> T>,
}

/// The empty set, for no numbers at all.
impl<T> Default for Bits<T> {
    fn default() -> Self {
        Self::below(0)
    }
}

impl<T> Bits<T> {
    /// The empty set of numbers below a length.
    pub fn below(len: usize) -> Self {
        Self { words: vec![0; len.div_ceil(64)], of: PhantomData }
    }

    /// The set of some numbers below a length.
    pub fn of(len: usize, all: impl IntoIterator<Item = Id<T>>) -> Self {
        let mut out = Self::below(len);
        all.into_iter().for_each(|at| out.add(at));
        out
    }

    pub fn add(&mut self, at: Id<T>) {
        if let Some(word) = self.words.get_mut(at.ix() / 64) {
            *word |= 1 << (at.ix() % 64);
        }
    }

    pub fn has(&self, at: Id<T>) -> bool {
        self.words.get(at.ix() / 64).is_some_and(|word| word >> (at.ix() % 64) & 1 == 1)
    }

    pub fn clear(&mut self) {
        self.words.fill(0);
    }

    /// Adds all that stand in another set for the same length.
    pub fn join(&mut self, other: &Self) {
        for (word, more) in self.words.iter_mut().zip(&other.words) {
            *word |= more;
        }
    }

    /// The least that comes after a number; of all the least where none is given.
    pub fn after(&self, last: Option<Id<T>>) -> Option<Id<T>> {
        let from = last.map_or(0, |last| last.ix() + 1);
        let mut at = from / 64;
        let mut word = self.words.get(at)? >> (from % 64) << (from % 64);
        while word == 0 {
            at += 1;
            word = *self.words.get(at)?;
        }
        Some(Id::new(at * 64 + word.trailing_zeros() as usize))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_added_is_met_in_order() {
        let ids = |all: &[usize]| all.iter().copied().map(Id::<()>::new).collect::<Vec<_>>();
        let mut all = Bits::of(200, ids(&[3, 199, 64]));
        all.join(&Bits::of(200, ids(&[63, 64])));
        let mut met = Vec::new();
        while let Some(at) = all.after(met.last().copied()) {
            met.push(at);
        }
        assert_eq!(met, ids(&[3, 63, 64, 199]));
        assert!(all.has(Id::new(63)) && !all.has(Id::new(62)) && !all.has(Id::new(4_000)));
        all.clear();
        assert_eq!(all.after(None), None);
    }
}
