//! Limits of cooling: room to boiling, frost, heat, cover of the core.

use knockon_figures::cooling::boiling::boiling_under_cap;
use knockon_figures::cooling::fan::{SHROUD_COVER, shroud_cover};
use knockon_figures::cooling::heat::{PETROL_HEATING_VALUE, heat_to_reject};
use knockon_figures::cooling::thermostat::thermostat_margin;
use knockon_figures::fluids::antifreeze::freezing_point;
use uom::si::available_energy::joule_per_kilogram;
use uom::si::f64::{AvailableEnergy, MassPerEnergy};
use uom::si::mass_per_energy::kilogram_per_kilowatt_hour;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::Inputs;
use super::entry::{Answer, Entry, Way, close, less, more, one, qty, said, told};
use crate::phrase;
use crate::units::Dimension::{Area, Length, Mass, Power, Pressure, Ratio, Temperature};

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "boiling-room",
        inputs: &[
            one("altitude", Length),
            one("cap", Pressure),
            one("glycol", Ratio),
            one("opens", Temperature),
            one("room", Temperature),
        ],
        levers: &[more("cap", "on the cap"), less("opens", "at which the thermostat opens")],
        work: boiling,
    },
    Entry {
        name: "frost",
        inputs: &[one("frost", Temperature), one("glycol", Ratio)],
        levers: &[said("glycol", Way::More, |x| {
            format!("{:.0} % of glycol", (x * 100.0 - 1e-6).ceil()).into()
        })],
        work: frost,
    },
    Entry {
        name: "heat-to-reject",
        inputs: &[one("burnt", Mass), one("carries", Power), one("power", Power), one("share", Ratio)],
        levers: &[more("carries", "cooling")],
        work: heat,
    },
    Entry {
        name: "fan-cover",
        inputs: &[one("core", Area), one("covered", Area)],
        levers: &[more("covered", "core covered, by a shroud")],
        work: cover,
    },
];

/// Boiling point under the cap less the thermostat fully open (Raoult's law; the 15 K are common practice).
fn boiling(i: &Inputs<'_>) -> Answer {
    let boils = told(boiling_under_cap(i.number("glycol")?, i.pressure("cap")?, i.length("altitude")?))?;
    let room = told(thermostat_margin(i.temperature("opens")?, boils))?.value;
    let want = i.number("room")?;
    let text = || {
        phrase![
            "the coolant boils at ",
            qty(boils.get::<degree_celsius>(), Temperature),
            ", ",
            qty(room, Temperature).difference().beside(want),
            " above the thermostat fully open; at least ",
            qty(want, Temperature).difference().beside(room),
            " wanted"
        ]
    };
    Ok((room >= want - 1e-9, i.say(text)))
}

/// Freezing point of the mixture against the coldest night (ASHRAE, by a general-purpose library).
fn frost(i: &Inputs<'_>) -> Answer {
    let (share, frost) = (i.number("glycol")?, i.number("frost")?);
    let freezes = told(freezing_point(share))?.get::<degree_celsius>();
    let text = || {
        phrase![
            qty(share, Ratio).percent(),
            " of glycol freezes at ",
            qty(freezes, Temperature).beside(frost),
            ", ",
            qty(frost, Temperature).beside(freezes),
            " is expected"
        ]
    };
    Ok((freezes <= frost + 1e-9, i.say(text)))
}

/// `heat = power x consumption x 43.4 MJ/kg x share` (Heywood ch. 12).
fn heat(i: &Inputs<'_>) -> Answer {
    let burnt = MassPerEnergy::new::<kilogram_per_kilowatt_hour>(i.number("burnt")?);
    let value = AvailableEnergy::new::<joule_per_kilogram>(PETROL_HEATING_VALUE);
    let heat = told(heat_to_reject(i.power("power")?, burnt, value, i.number("share")?))?.value;
    let carries = i.number("carries")?;
    let text = || {
        let (heat, carries) = (qty(heat, Power).beside(carries), qty(carries, Power).beside(heat));
        phrase!["the engine gives off ", heat, " of heat, the radiator carries ", carries]
    };
    Ok((carries >= heat - close(carries, heat), i.say(text)))
}

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
