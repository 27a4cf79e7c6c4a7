//! What is there only on vehicles that are built so: an operation, an opening, an inspection.

use std::collections::BTreeSet;

use super::VehicleEntry;
use super::build::Ctx;
use crate::library::LibraryFile;
use crate::meant::{nearest, then};

impl VehicleEntry {
    /// Whether what is there on vehicles built in one of these ways is there on this one; no word: it is there on all.
    #[must_use]
    pub fn is_built_so(&self, built: &[String]) -> bool {
        built.is_empty() || built.iter().any(|word| self.built.contains(word))
    }
}

/// How the vehicles of a library are built.
pub(super) struct Built<'a>(BTreeSet<&'a str>);

impl<'a> Built<'a> {
    pub fn of(files: &'a [(String, LibraryFile)]) -> Self {
        let vehicles = files.iter().flat_map(|(_, file)| file.vehicles.values());
        Self(vehicles.flat_map(|vehicle| &vehicle.built).map(String::as_str).collect())
    }

    /// Tells each word that no vehicle has.
    pub fn check<'w>(
        &self,
        words: impl IntoIterator<Item = &'w String>,
        file: &str,
        path: &str,
        ctx: &mut Ctx,
    ) {
        for word in words.into_iter().filter(|word| !self.0.contains(word.as_str())) {
            let near = nearest(word, self.0.iter().copied());
            let said =
                format!("no vehicle is built \"{word}\"{}", then(near, "say so of one or correct the word"));
            ctx.faults.warn(file, path.to_owned(), said);
        }
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::assess::least::{Least, companions, open};
    use crate::catalogue::Catalogue;
    use crate::sheet::Route;

    /// A pump whose belt comes off with it, on a vehicle that is built as written.
    fn pump(built: &str, opens: &str) -> Least {
        Least::new(json!({
            "free": ["belt-paste"],
            "openings": {"belt-off": {"classes": ["pump"], "built": [opens], "wants": ["belt-paste"]}},
            "parts": {"old-pump": "pump", "paste": "belt-paste"},
            "vehicle": {"built": [built], "positions": {"pump": "old-pump"}},
        }))
        .choose("pump", Route::Rebuild)
    }

    #[test]
    fn an_opening_is_there_on_a_vehicle_that_is_built_so() {
        assert_eq!(companions(&pump("car", "car").assess()), ["apart:belt-off:belt-paste: 1 paste"]);
        let a = pump("car", "truck").assess();
        assert!(companions(&a).is_empty() && open(&a).is_empty());
    }

    #[test]
    fn a_word_that_no_vehicle_has_is_told() {
        let told = |least: &Least| {
            let (_, faults) = Catalogue::new(least.catalogue.files.to_vec());
            let of_it = faults.into_iter().filter(|fault| fault.path == "openings.belt-off.built");
            of_it.map(|fault| fault.message).collect::<Vec<_>>()
        };
        assert!(told(&pump("car", "car")).is_empty());
        assert_eq!(told(&pump("truck", "trucks")).len(), 1);
    }
}
