//! Sets of small numbers that are joined a word at a time.

use super::Ix;

/// A set of numbers below a length it is made for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Bits(Vec<u64>);

impl Bits {
    /// The empty set of numbers below a length.
    pub fn below(len: usize) -> Self {
        Self(vec![0; len.div_ceil(64)])
    }

    /// The set of some numbers below a length.
    pub fn of(len: usize, all: impl IntoIterator<Item = Ix>) -> Self {
        let mut out = Self::below(len);
        all.into_iter().for_each(|at| out.add(at));
        out
    }

    pub fn add(&mut self, at: Ix) {
        if let Some(word) = self.0.get_mut(at as usize / 64) {
            *word |= 1 << (at % 64);
        }
    }

    pub fn has(&self, at: Ix) -> bool {
        self.0.get(at as usize / 64).is_some_and(|word| word >> (at % 64) & 1 == 1)
    }

    pub fn clear(&mut self) {
        self.0.fill(0);
    }

    /// Adds all that stand in another set for the same length.
    pub fn join(&mut self, other: &Self) {
        for (word, more) in self.0.iter_mut().zip(&other.0) {
            *word |= more;
        }
    }

    /// The least that is no less than a number.
    pub fn next(&self, from: Ix) -> Option<Ix> {
        let mut at = from as usize / 64;
        let mut word = self.0.get(at)? >> (from % 64) << (from % 64);
        while word == 0 {
            at += 1;
            word = *self.0.get(at)?;
        }
        Some(at as Ix * 64 + word.trailing_zeros())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_added_is_met_in_order() {
        let mut all = Bits::of(200, [3, 199, 64]);
        all.join(&Bits::of(200, [63, 64]));
        let mut met = Vec::new();
        let mut from = 0;
        while let Some(at) = all.next(from) {
            met.push(at);
            from = at + 1;
        }
        assert_eq!(met, [3, 63, 64, 199]);
        assert!(all.has(63) && !all.has(62) && !all.has(4_000));
        all.clear();
        assert_eq!(all.next(0), None);
    }
}
