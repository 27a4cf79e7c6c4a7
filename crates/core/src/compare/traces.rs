//! What a plan leaves behind on the vehicle: what cannot be undone, or only with repair, by where it stays.

use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::library::Reversible;

/// A part of the plan that leaves a trace.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Place where it stays, by id: its own, else the one it is for.
    pub position: Option<String>,
    /// System of that place, by id; `None` where it belongs to none.
    pub system: Option<String>,
    /// The part, as shown.
    pub name: String,
    /// Undone with repair, or not at all.
    pub reversible: Reversible,
    /// What is lost or has to be mended, as the library says it; may be empty.
    pub undone: String,
}

/// What leaves a trace, in the order of the board, then of the companions. What is left out leaves none.
/// `catalogue`: with the parts of the sheet.
#[must_use]
pub fn traces(a: &Assessment, catalogue: &Catalogue) -> Vec<Trace> {
    let system = |id: Option<&String>| {
        let place = a.positions.iter().find(|p| Some(&p.id) == id)?;
        Some(place.system.clone())
    };
    // what fills a place that nobody chose is a companion, or lies in the box of one
    let chosen = a.positions.iter().filter(|p| !p.filled).filter_map(|p| {
        let (part, name) = p.fitted.as_ref()?;
        Some(Trace {
            position: Some(p.id.clone()),
            system: Some(p.system.clone()),
            name: name.clone(),
            reversible: p.reversible,
            undone: catalogue.part(part).map_or_else(String::new, |entry| entry.part.undone.clone()),
        })
    });
    let brought = a.companions.iter().filter(|c| c.waived.is_none()).map(|c| {
        let position = c.position.clone().or_else(|| c.cause.clone());
        Trace {
            system: system(position.as_ref()),
            position,
            name: c.name.clone(),
            reversible: c.reversible,
            undone: c.undone.clone(),
        }
    });
    chosen.chain(brought).filter(|trace| trace.reversible != Reversible::Yes).collect()
}
