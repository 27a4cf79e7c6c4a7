//! What the page of the vehicle keeps, and what is asked of it.

use std::collections::BTreeMap;

use knockon_core::described::place::New;
use knockon_core::edit::AsFound;
use knockon_core::library::Joint;

use crate::vehicle::field::Field;

/// State of the page.
#[derive(Clone, Debug, Default)]
pub struct VehicleState {
    /// The place that is open, by id.
    pub at: Option<String>,
    /// What is looked for among the places.
    pub find: String,
    /// Fields being typed, and those in which stands what cannot be taken.
    pub typed: BTreeMap<Field, String>,
    /// A joint being made by hand: the port here, and the place and port there.
    pub joining: Option<(String, Option<(String, String)>)>,
}

/// What is asked of the page.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// Open a place, or none.
    Show(Option<String>),
    /// The vehicle is called so: name and sentence.
    Call(String, String),
    /// Add a place.
    Add(New),
    /// Add several places as one step, of the system that is called so.
    AddAll(String, Vec<New>),
    /// Take a place out.
    TakeOut(String),
    /// The place is called so.
    Name(String, String),
    /// The place is there: words such as front, rear left.
    Where(String, String),
    /// So many sit there.
    Qty(String, u32),
    /// This was found there.
    Found(String, AsFound),
    /// Nobody has looked at what sits there.
    NotLookedAt(String),
    /// What sits there is to be typed in: by its ports and numbers.
    Know(String),
    /// Let ports meet.
    Join(Joint),
    /// Ports do not meet, by joint id.
    Part(String),
}
