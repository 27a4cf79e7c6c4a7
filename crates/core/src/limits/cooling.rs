//! Limits of cooling: room to boiling, frost, heat, cover of the core.

use knockon_figures::cooling::fan::{SHROUD_COVER, shroud_cover};

use super::Inputs;
use super::declared::{Declared, Holds};
use super::entry::{Answer, Own, Way, less, more, one, qty, said, told};
use crate::phrase;
use crate::units::Dimension::{Area, Power, Ratio, Temperature};

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[
    Declared {
        name: "boiling-room",
        figure: "thermostat-margin",
        called: &[("opens", "mark")],
        fixed: &[],
        asks: &[one("room", Temperature)],
        holds: Holds::AtLeast("room to boiling", "room"),
        says: "the coolant boils at {boils at}, {room to boiling} above the thermostat fully open; at least {room} wanted",
        levers: &[more("cap", "on the cap"), less("opens", "at which the thermostat opens")],
    },
    Declared {
        name: "frost",
        figure: "freeze-point",
        called: &[],
        fixed: &[],
        asks: &[one("frost", Temperature)],
        holds: Holds::AtMost("first ice", "frost"),
        says: "{glycol:%} of glycol freezes at {first ice}, {frost} is expected",
        levers: &[said("glycol", Way::More, |x| {
            format!("{:.0} % of glycol", (x * 100.0 - 1e-6).ceil()).into()
        })],
    },
    Declared {
        name: "heat-to-reject",
        figure: "heat-to-reject",
        called: &[],
        fixed: &[("hot", ""), ("cold", ""), ("glycol", "")],
        asks: &[one("carries", Power)],
        holds: Holds::AtLeast("carries", "heat"),
        says: "the engine gives off {heat} of heat, the radiator carries {carries}",
        levers: &[more("carries", "cooling")],
    },
];

pub(super) const ALL: &[Own] = &[Own {
    name: "fan-cover",
    inputs: &[one("core", Area), one("covered", Area)],
    levers: &[more("covered", "core covered, by a shroud")],
    work: cover,
}];

/// Share of the core a fan draws through, 70 % at least (common practice).
fn cover(i: &Inputs<'_>) -> Answer {
    let (share, enough) = told(shroud_cover(i.area("core")?, i.area("covered")?))?;
    let text = || {
        let (share, least) = (
            qty(share, Ratio).percent().beside(SHROUD_COVER),
            qty(SHROUD_COVER, Ratio).percent().beside(share),
        );
        phrase![share, " of the core is covered, at least ", least, " wanted"]
    };
    Ok((enough, i.say(text)))
}
