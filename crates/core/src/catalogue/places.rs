//! Which positions of a vehicle take the parts of a class.

use smallvec::SmallVec;

use super::{ClassEntry, ClassId, ClassPlaces, ContentEntry, Numbered, PartEntry, PositionId, VehicleEntry};
use crate::whereabouts::Whereabouts;

/// Some places of a vehicle; one or two as a rule.
pub type FewPlaces = SmallVec<[PositionId; 2]>;

/// Positions by the number of their class, in board order.
#[derive(Clone, Debug, Default)]
pub struct Places(Numbered<ClassEntry, Vec<PositionId>>);

impl Places {
    /// No positions, for so many classes.
    #[must_use]
    pub fn new(classes: usize) -> Self {
        Self(Numbered::filled(Vec::new(), classes))
    }

    /// Adds a position of a class.
    pub fn add(&mut self, class: ClassId, pos: PositionId) {
        self.0[class].push(pos);
    }

    /// The positions of a class.
    #[must_use]
    pub fn of(&self, class: ClassId) -> &[PositionId] {
        self.0.get(class).map_or(&[], Vec::as_slice)
    }

    /// Whether a class has a position.
    #[must_use]
    pub fn has(&self, class: ClassId) -> bool {
        !self.of(class).is_empty()
    }
}

impl VehicleEntry {
    /// Where a position is.
    #[must_use]
    pub fn whereabouts(&self, pos: PositionId) -> &Whereabouts {
        &self.positions[pos].whereabouts
    }

    /// The places that are meant where somebody at a spot speaks of a class: those that bear all the words he says; of
    /// these, and where he says none, those that go with the spot. Where words are said and none of the places goes with
    /// the spot, the words alone choose.
    #[must_use]
    pub fn meant(&self, said: &ClassPlaces, spot: &Whereabouts) -> FewPlaces {
        let bearing = || {
            let all = self.by_class.of(said.class).iter().copied();
            all.filter(|pos| self.whereabouts(*pos).bears(&said.whereabouts))
        };
        let here: FewPlaces = bearing().filter(|pos| self.whereabouts(*pos).goes_with(spot)).collect();
        if here.is_empty() && !said.whereabouts.is_empty() { bearing().collect() } else { here }
    }

    /// The places that a content, of which there are so many, of a kit at a position goes to: those that are meant but the kit's own. Where several
    /// are, the box must hold enough for all of them, or nobody knows which is meant and it goes to none.
    #[must_use]
    pub fn places_of_content(
        &self,
        kit: PositionId,
        content: &ContentEntry,
        had: u32,
        part: &PartEntry,
    ) -> FewPlaces {
        let said = ClassPlaces { class: part.class, whereabouts: content.whereabouts.clone() };
        let mut places = self.meant(&said, self.whereabouts(kit));
        places.retain(|pos| *pos != kit);
        let wanted: u32 = places.iter().map(|pos| self.positions[*pos].qty).sum();
        if places.len() > 1 && had < wanted { FewPlaces::new() } else { places }
    }
}

#[cfg(test)]
mod tests;
