//! The named calculations by subject.

use super::entry::Entry;
use super::{
    brakes, charging, cooling, driveline, engine, fuel, gearing, general, springs, steering, wheel_profile,
    wheels, wires,
};

/// Every calculation, by subject.
const SUBJECTS: [&[Entry]; 13] = [
    general::ALL,
    brakes::ALL,
    charging::ALL,
    wires::ALL,
    fuel::ALL,
    engine::ALL,
    cooling::ALL,
    wheels::ALL,
    wheel_profile::ALL,
    gearing::ALL,
    driveline::ALL,
    springs::ALL,
    steering::ALL,
];

/// Every calculation with its place.
pub(super) fn all() -> impl Iterator<Item = ((u8, u8), &'static Entry)> {
    let subjects = SUBJECTS.iter().zip(0_u8..);
    subjects
        .flat_map(|(list, subject)| list.iter().zip(0_u8..).map(move |(entry, at)| ((subject, at), entry)))
}

/// The calculation at a place.
pub(super) fn at((subject, place): (u8, u8)) -> Option<&'static Entry> {
    SUBJECTS.get(usize::from(subject)).and_then(|list| list.get(usize::from(place)))
}
