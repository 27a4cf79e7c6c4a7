//! Which places are meant where somebody speaks of a class: read off the words, place by place.

use knockon_core::library::{Content, Whereabouts};

use super::Oracle;

/// Whether every word of the first is among those of the second.
fn among(few: &Whereabouts, many: &Whereabouts) -> bool {
    few.words().all(|word| many.words().any(|other| other == word))
}

/// Two places go together where the words of one are all among the words of the other.
pub(super) fn together(a: &Whereabouts, b: &Whereabouts) -> bool {
    among(a, b) || among(b, a)
}

impl<'a> Oracle<'a> {
    pub(super) fn places_of(&self, class: &str) -> Vec<&'a str> {
        self.v.positions.iter().filter(|(_, p)| p.class == class).map(|(id, _)| id.as_str()).collect()
    }

    pub(super) fn spot(&self, pos: &str) -> &'a Whereabouts {
        &self.v.positions[pos].whereabouts
    }

    /// Places of a class that bear all the words.
    pub(super) fn bearing(&self, class: &str, said: &Whereabouts) -> Vec<&'a str> {
        self.places_of(class).into_iter().filter(|pos| among(said, self.spot(pos))).collect()
    }

    /// The places that are meant: those that bear the words said and go with the spot; the words alone where that leaves
    /// none and words are said.
    pub(super) fn meant(&self, class: &str, said: &Whereabouts, spot: &Whereabouts) -> Vec<&'a str> {
        let bearing = self.bearing(class, said);
        let here: Vec<&'a str> =
            bearing.iter().copied().filter(|pos| together(self.spot(pos), spot)).collect();
        if here.is_empty() && said.words().count() > 0 { bearing } else { here }
    }

    /// Where a content of a kit goes, of which there are so many. Where several places are meant and the box does not hold enough for all, nowhere.
    pub(super) fn places_of_content(&self, kit: &str, content: &Content, had: u32) -> Vec<&'a str> {
        let class = &self.part(&content.part).class;
        let mut places = self.meant(class, &content.whereabouts, self.spot(kit));
        places.retain(|pos| *pos != kit);
        let enough = places.iter().map(|pos| self.v.positions[*pos].qty).sum::<u32>() <= had;
        if places.len() > 1 && !enough { Vec::new() } else { places }
    }
}
