//! Which position of a vehicle takes the parts of a class.

use super::Ix;

/// Positions by the number of their class; of several for one class the first that was added.
#[derive(Clone, Debug, Default)]
pub struct Places(Vec<Option<Ix>>);

impl Places {
    /// Adds the position of a class where it has none yet.
    pub fn add(&mut self, class: Ix, pos: Ix) {
        let at = class as usize;
        if self.0.len() <= at {
            self.0.resize(at + 1, None);
        }
        self.0[at].get_or_insert(pos);
    }

    /// The position of a class.
    #[must_use]
    pub fn get(&self, class: &Ix) -> Option<&Ix> {
        self.0.get(*class as usize)?.as_ref()
    }

    /// Whether a class has a position.
    #[must_use]
    pub fn contains_key(&self, class: &Ix) -> bool {
        self.get(class).is_some()
    }
}
