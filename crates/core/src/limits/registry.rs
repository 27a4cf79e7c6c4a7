//! The named calculations by subject.

use std::sync::LazyLock;

use super::calculation::Entry;
use super::declared::Declared;
use super::entry::Own;
use super::{
    brakes, charging, cooling, driveline, engine, fuel, gearing, general, springs, steering, wheel_profile,
    wheels, wires,
};

/// Figures held to a bound, by subject.
const DECLARED: [&[Declared]; 11] = [
    brakes::DECLARED,
    charging::DECLARED,
    wires::DECLARED,
    fuel::DECLARED,
    engine::DECLARED,
    cooling::DECLARED,
    wheels::DECLARED,
    gearing::DECLARED,
    driveline::DECLARED,
    springs::DECLARED,
    steering::DECLARED,
];

/// Calculations with a function of their own.
const OWN: [&[Own]; 12] = [
    general::ALL,
    brakes::ALL,
    charging::ALL,
    wires::ALL,
    fuel::ALL,
    cooling::ALL,
    wheels::ALL,
    wheel_profile::ALL,
    gearing::ALL,
    driveline::ALL,
    springs::ALL,
    steering::ALL,
];

static ALL: LazyLock<Vec<Entry>> = LazyLock::new(|| {
    let own = OWN.into_iter().flatten().map(Entry::from);
    own.chain(DECLARED.into_iter().flatten().filter_map(Entry::declared)).collect()
});

/// Every calculation with its place.
pub(super) fn all() -> impl Iterator<Item = (usize, &'static Entry)> {
    ALL.iter().enumerate()
}

/// The calculation at a place.
pub(super) fn at(place: usize) -> Option<&'static Entry> {
    ALL.get(place)
}

/// Whether each limit that names a figure names one there is.
#[cfg(test)]
pub(super) fn every_declared_figure_is_there() -> bool {
    DECLARED.into_iter().flatten().all(|limit| crate::figure::find(limit.figure).is_some())
}
