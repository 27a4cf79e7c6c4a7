//! Where a part fits on the vehicle of a sheet: at each place of its class the plan is tried with it, and what differs is told.
//! A part without a place is told by the places whose ports its own would join.

use crate::amounts::Amounts;
use crate::assess::assess;
use crate::assessment::{Assessment, Companion};
use crate::catalogue::meeting::agree;
use crate::catalogue::{Catalogue, PartEntry};
use crate::edit::{Edit, apply};
use crate::explain::half_line;
use crate::key::{CheckKey, CompanionKey};
use crate::library::Level;
use crate::progress::Progress;
use crate::sheet::{Choice, Route, Sheet};
use crate::showing::Measure;
use crate::value::Verdict3;

/// How a part stands at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// The plan has it there.
    Fitted,
    /// It joins what is there as it is.
    AsItIs,
    /// It joins with something put between.
    WithBridges,
    /// Something has to be measured before it can be said.
    ToMeasure,
    /// Something does not fit with it.
    DoesNot,
}

impl Outcome {
    /// As shown.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Fitted => "sits there",
            Self::AsItIs => "joins as it is",
            Self::WithBridges => "joins with something between",
            Self::ToMeasure => "cannot be said before something is measured",
            Self::DoesNot => "does not fit",
        }
    }

    /// For another program.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Fitted => "fitted",
            Self::AsItIs => "as-it-is",
            Self::WithBridges => "with-bridges",
            Self::ToMeasure => "to-measure",
            Self::DoesNot => "does-not",
        }
    }
}

/// A part that comes along.
#[derive(Clone, Debug, PartialEq)]
pub struct Dragged {
    /// As shown.
    pub name: String,
    /// How many.
    pub qty: u32,
    /// Needed, or wise.
    pub level: Level,
    /// It goes into a joint whose ports do not agree.
    pub bridge: bool,
    /// Why, in half a line.
    pub why: String,
}

/// A part at a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Position id.
    pub position: String,
    /// As shown.
    pub name: String,
    /// How it stands.
    pub outcome: Outcome,
    /// What sits there in the plan and makes way; `None`: the place is empty, or it sits there itself.
    pub replaces: Option<String>,
    /// What comes along, and does not in the plan as it stands.
    pub drags: Vec<Dragged>,
    /// What does not fit then, with why.
    pub clashes: Vec<(String, String)>,
    /// What would fit again.
    pub clears: Vec<String>,
    /// What is to be measured then, in a reader's units.
    pub to_measure: Vec<String>,
    /// What loses its job or comes off besides.
    pub surplus: Vec<String>,
    /// Change in money.
    pub money: Amounts,
    /// Change in own hours.
    pub hours: f64,
}

/// A port of a loose part, and the places whose ports it would join.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meets {
    /// The port of the part.
    pub port: String,
    /// Position ids, names, and the port there.
    pub places: Vec<(String, String, String)>,
}

/// Where a part fits.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fits {
    /// At each place of its class.
    pub places: Vec<Fit>,
    /// For a part without a place here: what its ports would join.
    pub meets: Vec<Meets>,
    /// Why there is no place: a sentence; empty where there is one.
    pub none: String,
}

/// Where a part fits, by an assessment for each place; a piece of work, a step each. `None` where it was given up.
#[must_use]
pub fn fits_while(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    part: &str,
    measure: Measure,
    progress: &Progress,
) -> Option<Fits> {
    let catalogue = catalogue.for_sheet(sheet);
    let Some(entry) = catalogue.part(part) else { return Some(Fits::default()) };
    let before = assess(sheet, plan, &catalogue);
    let places = catalogue.places_of(&sheet.vehicle, entry.class);
    let mut out = Fits::default();
    progress.expect(places.len());
    for (position, _) in &places {
        if !progress.step() {
            return None;
        }
        out.places.extend(at(sheet, plan, &catalogue, part, position, measure, &before));
    }
    if places.is_empty() {
        let class = catalogue.classes.get(entry.class);
        let name = class.map_or("", |class| class.name.as_str()).to_lowercase();
        out.none = if class.is_some_and(|class| class.is_loose()) {
            format!(
                "This vehicle has no place for: {name}. It is used loose: between two parts, at an opened joint, or for what asks for it."
            )
        } else {
            format!("This vehicle has no place for: {name}.")
        };
        out.meets = meets(&catalogue, &before, entry);
    }
    Some(out)
}

/// The same, to the end.
#[must_use]
pub fn fits(sheet: &Sheet, plan: &str, catalogue: &Catalogue, part: &str, measure: Measure) -> Fits {
    fits_while(sheet, plan, catalogue, part, measure, &Progress::default()).unwrap_or_default()
}

#[allow(clippy::too_many_arguments, reason = "a plan, a part, a place and what is told of them")]
fn at(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    part: &str,
    position: &str,
    measure: Measure,
    before: &Assessment,
) -> Option<Fit> {
    let here = before.positions.iter().find(|p| p.id == position)?;
    let sits = here.fitted.as_ref().is_some_and(|(id, _)| id == part);
    let found = here.as_found.as_ref().is_some_and(|(id, _)| id == part);
    // what sits there is held against the place without it being chosen: nothing differs
    let after = if sits {
        before.clone()
    } else {
        let choice = match found {
            true => Choice { route: Route::Keep, part: None },
            false => Choice { route: Route::Convert, part: Some(part.to_owned()) },
        };
        let edit =
            Edit::Choose { plan: plan.to_owned(), position: position.to_owned(), choice: Some(choice) };
        let mut changed = sheet.clone();
        // a plan that does not take the edit stays as it is, and nothing is told of it
        apply(&mut changed, &edit).ok()?;
        assess(&changed, plan, catalogue)
    };
    let had: Vec<&CompanionKey> = before.companions.iter().map(|c| &c.key).collect();
    let is_new =
        |c: &&Companion| if sits { here.companions.contains(&c.key) } else { !had.contains(&&c.key) };
    let drags: Vec<Dragged> = after
        .companions
        .iter()
        .filter(is_new)
        .map(|c| Dragged {
            name: c.name.clone(),
            qty: c.qty,
            level: c.level,
            bridge: matches!(c.key, CompanionKey::Bridge { .. }),
            why: half_line(&after, c.reason, measure),
        })
        .collect();
    let new_check = |key: &CheckKey, old: &[&CheckKey], mine: &[CheckKey]| {
        if sits { mine.contains(key) } else { !old.contains(&key) }
    };
    let old: Vec<&CheckKey> = before.clashes.iter().map(|c| &c.key).collect();
    let clashes = after.clashes.iter().filter(|c| new_check(&c.key, &old, &here.clashes));
    let clashes: Vec<(String, String)> =
        clashes.map(|c| (c.name.clone(), half_line(&after, c.reason, measure))).collect();
    let still: Vec<&CheckKey> = after.clashes.iter().map(|c| &c.key).collect();
    let clears = before.clashes.iter().filter(|c| !still.contains(&&c.key)).map(|c| c.name.clone()).collect();
    let old: Vec<&CheckKey> = before.to_measure.iter().map(|m| &m.key).collect();
    let open = after.to_measure.iter().filter(|m| new_check(&m.key, &old, &here.to_measure));
    let to_measure: Vec<String> = open.map(|m| m.what.say(measure)).collect();
    let was = |position: &str| before.surplus.iter().any(|s| s.position == position);
    let surplus = after.surplus.iter().filter(|s| !was(&s.position) && s.position != position);
    let outcome = match () {
        () if sits => Outcome::Fitted,
        () if !clashes.is_empty() => Outcome::DoesNot,
        () if !to_measure.is_empty() => Outcome::ToMeasure,
        () if drags.iter().any(|d| d.bridge) => Outcome::WithBridges,
        () => Outcome::AsItIs,
    };
    let sum = |a: &Assessment| a.totals.money.all();
    Some(Fit {
        position: position.to_owned(),
        name: here.name.clone(),
        outcome,
        replaces: here.fitted.as_ref().filter(|(id, _)| id != part).map(|(_, name)| name.clone()),
        drags,
        clashes,
        clears,
        to_measure,
        surplus: surplus.map(|s| s.name.clone()).collect(),
        money: &sum(&after) - &sum(before),
        hours: ((after.totals.hours - before.totals.hours) * 1e6).round() / 1e6 + 0.0,
    })
}

/// What the ports of a part would join of what sits on the vehicle.
fn meets(catalogue: &Catalogue, a: &Assessment, part: &PartEntry) -> Vec<Meets> {
    let fitted = a.positions.iter().filter_map(|p| Some((p, catalogue.part(&p.fitted.as_ref()?.0)?)));
    let fitted: Vec<_> = fitted.collect();
    let name = |port: &crate::catalogue::PortEntry| catalogue.port_names.id(port.name_ix).replace('-', " ");
    let one = |port: &crate::catalogue::PortEntry| {
        let mut places = Vec::new();
        for (place, other) in &fitted {
            let joins = |other: &&crate::catalogue::PortEntry| {
                agree(catalogue, port, other).verdict == Verdict3::Holds
            };
            if let Some(other) = other.ports.iter().find(joins) {
                places.push((place.id.clone(), place.name.clone(), name(other)));
            }
        }
        Meets { port: name(port), places }
    };
    part.ports.iter().map(one).filter(|meets| !meets.places.is_empty()).collect()
}
