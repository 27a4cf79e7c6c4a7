//! What a plan changes: the places it works on, and what it buys for them.

use crate::assessment::Assessment;
use crate::catalogue::{Catalogue, VehicleEntry};
use crate::sheet::Route;
use crate::whereabouts::Whereabouts;

/// One thing that goes on or is worked on.
#[derive(Clone, Debug)]
pub struct Touched {
    /// Class id.
    pub class: String,
    /// Part id.
    pub part: String,
    /// Position it is at; for what has none, the one it hangs under.
    pub place: Option<String>,
    /// Where that is.
    pub whereabouts: Whereabouts,
    /// It sits at that position itself.
    pub sits: bool,
    /// What is done.
    pub route: Route,
    /// Hours of all of it.
    pub hours: f64,
}

/// All of it: places in board order, then companions in theirs.
pub fn touched(a: &Assessment, catalogue: &Catalogue, v: &VehicleEntry) -> Vec<Touched> {
    let class_of = |part: &str| {
        let class = catalogue.part(part)?.class;
        catalogue.class_names.ids.get(class).cloned()
    };
    let whereabouts = |place: Option<&String>| {
        let at = place.and_then(|id| v.position_ix.get(id.as_str())).and_then(|at| v.positions.get(*at));
        at.map(|p| p.whereabouts.clone()).unwrap_or_default()
    };
    let mut all = Vec::new();
    for p in a.positions.iter().filter(|p| p.active && !p.filled) {
        let part = p.fitted.as_ref().or(p.as_found.as_ref()).map(|(id, _)| id.clone());
        let Some(part) = part else { continue };
        let at = v.position_ix.get(p.id.as_str()).and_then(|at| v.positions.get(*at));
        let class = at.and_then(|at| catalogue.class_names.ids.get(at.class)).cloned();
        let Some(class) = class else { continue };
        let place = Some(p.id.clone());
        let whereabouts = whereabouts(place.as_ref());
        all.push(Touched { class, part, whereabouts, place, sits: true, route: p.route, hours: p.hours });
    }
    for c in a.companions.iter().filter(|c| c.waived.is_none()) {
        let Some(class) = class_of(&c.part) else { continue };
        let place = c.position.clone().or_else(|| c.cause.clone());
        let whereabouts = whereabouts(place.as_ref());
        let (sits, route) = (c.position.is_some(), Route::Convert);
        all.push(Touched { class, part: c.part.clone(), whereabouts, place, sits, route, hours: c.hours });
    }
    all
}
