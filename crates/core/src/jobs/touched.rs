//! What a plan changes: the places it works on, and what it buys for them.

use crate::assessment::{Assessment, PositionView};
use crate::catalogue::{Catalogue, VehicleEntry};
use crate::key::CompanionKey;
use crate::sheet::Route;
use crate::whereabouts::Whereabouts;

/// One thing that goes on or is worked on.
#[derive(Clone, Debug, Default)]
pub struct Touched {
    /// The companion that it is, where it is one.
    pub companion: Option<CompanionKey>,
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
    /// Something was found there that can come off.
    pub found: bool,
    /// What is done.
    pub route: Route,
    /// A part goes on; else one only comes off.
    pub goes_on: bool,
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
    let has_companion = |place: &str| a.companions.iter().any(|c| c.position.as_deref() == Some(place));
    let is_bought = |part: &str| a.buy.iter().any(|line| line.part == part);
    for p in &a.positions {
        // what a kit put here, or takes off here, stands in no list of companions
        let of_kit = p.filled && p.kit.is_some() && !has_companion(&p.id);
        let goes = p.route == Route::LeaveOff || of_kit;
        let comes_off = goes && p.as_found.is_some() && p.fitted.is_none();
        if !(comes_off || of_kit || p.active && !p.filled) {
            continue;
        }
        let part = p.fitted.as_ref().or(p.as_found.as_ref()).map(|(id, _)| id.clone());
        let Some(part) = part else { continue };
        let route = if of_kit { Route::Convert } else { p.route };
        let worked = [("clean", Route::Clean), ("rebuild", Route::Rebuild)];
        let worked =
            worked.into_iter().find(|(_, of)| *of == route).map(|(word, _)| format!("{part}.{word}"));
        let part = worked.filter(|id| is_bought(id)).unwrap_or(part);
        let at = v.position_ix.get(p.id.as_str()).and_then(|at| v.positions.get(*at));
        let class = at.and_then(|at| catalogue.class_names.ids.get(at.class)).cloned();
        let Some(class) = class else { continue };
        let place = Some(p.id.clone());
        let whereabouts = whereabouts(place.as_ref());
        let (hours, goes_on) = (p.hours, !comes_off);
        let found = p.as_found.is_some();
        let companion = None;
        all.push(Touched {
            companion,
            class,
            part,
            whereabouts,
            place,
            sits: true,
            found,
            route,
            goes_on,
            hours,
        });
    }
    for c in a.companions.iter().filter(|c| c.waived.is_none()) {
        let Some(class) = class_of(&c.part) else { continue };
        let place = c.position.clone().or_else(|| c.cause.clone());
        let whereabouts = whereabouts(place.as_ref());
        let sits = c.position.is_some();
        let as_found = a.positions.iter().any(|p| {
            c.position.as_ref() == Some(&p.id) && p.as_found.as_ref().is_some_and(|(id, _)| *id == c.part)
        });
        let route = if as_found { Route::Renew } else { Route::Convert };
        let (part, goes_on) = (c.part.clone(), true);
        let here = |p: &&PositionView| c.position.as_ref() == Some(&p.id);
        let found = a.positions.iter().find(here).is_none_or(|p| p.as_found.is_some());
        let (companion, hours) = (Some(c.key.clone()), c.hours);
        all.push(Touched { companion, class, part, whereabouts, place, sits, found, route, goes_on, hours });
    }
    all
}
