//! How well a name answers what is typed: the find field and the palette rank alike.

use knockon_core::Assessment;

use crate::view::Spot;

/// How well a name answers; less is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rank {
    /// The name itself.
    Exact,
    /// The name begins with it.
    Begins,
    /// A word in the name begins with it.
    Word,
    /// It is somewhere in the name.
    Inside,
    /// It is not in the name.
    Elsewhere,
}

/// Ranks a name; case does not matter.
pub fn rank(name: &str, typed: &str) -> Rank {
    let (name, typed) = (name.trim().to_lowercase(), typed.trim().to_lowercase());
    let begins_word = |(at, _): (usize, &str)| {
        name.get(..at).and_then(|before| before.chars().next_back()).is_none_or(|c| !c.is_alphanumeric())
    };
    if name == typed {
        Rank::Exact
    } else if name.starts_with(&typed) {
        Rank::Begins
    } else if !typed.is_empty() && name.match_indices(&typed).any(begins_word) {
        Rank::Word
    } else if name.contains(&typed) {
        Rank::Inside
    } else {
        Rank::Elsewhere
    }
}

/// What the find field leads to: the place or companion whose name answers best, then a place by the part in it, then
/// by its system; of equals the first. `None`: nothing is called that.
pub fn best(a: &Assessment, typed: &str) -> Option<Spot> {
    let place = |id: &String| Spot::Position(id.clone());
    let own = a.positions.iter().map(|p| ((rank(&p.name, typed), 0), place(&p.id)));
    let companions = a.companions.iter().map(|c| ((rank(&c.name, typed), 1), Spot::Companion(c.key.clone())));
    let parts = a.positions.iter().flat_map(|p| {
        let names = p.fitted.iter().chain(&p.as_found);
        names.map(|(_, name)| ((rank(name, typed), 2), place(&p.id)))
    });
    let named = own.chain(companions).chain(parts);
    let found = named.filter(|((rank, _), _)| *rank < Rank::Elsewhere).min_by_key(|(key, _)| *key);
    let system = || {
        let systems = a.systems.iter().filter(|(_, name)| rank(name, typed) < Rank::Elsewhere);
        let (id, _) = systems.min_by_key(|(_, name)| rank(name, typed))?;
        a.positions.iter().find(|p| p.system == *id).map(|p| place(&p.id))
    };
    found.map(|(_, spot)| spot).or_else(system)
}

#[cfg(test)]
mod tests {
    use super::{Rank, rank};

    #[test]
    fn the_name_itself_goes_first_and_parts_of_words_last() {
        for (name, typed, wanted) in [
            ("Wheels", " wheels ", Rank::Exact),
            ("Wheels and tyres", "wheels", Rank::Begins),
            ("Ignition coil", "COIL", Rank::Word),
            ("Fuel-pump", "pump", Rank::Word),
            ("Recoil and coil", "coil", Rank::Word),
            ("Recoil", "coil", Rank::Inside),
            ("Élan", "él", Rank::Begins),
            ("Tyres", "wheels", Rank::Elsewhere),
        ] {
            assert_eq!(rank(name, typed), wanted, "{name}: {typed}");
        }
    }
}
