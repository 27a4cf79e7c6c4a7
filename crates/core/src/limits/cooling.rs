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
use super::entry::{Answer, Entry, Way, close, less, more, one, said, told};
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
        levers: &[said("glycol", Way::More, |x| format!("{:.0} % of glycol", (x * 100.0 - 1e-6).ceil()))],
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
        format!(
            "the coolant boils at {:.0} °C, {room:.0} K above the thermostat fully open; at least {want:.0} K wanted",
            boils.get::<degree_celsius>()
        )
    };
    Ok((room >= want - 1e-9, i.say(text)))
}

/// Freezing point of the mixture against the coldest night (ASHRAE, by a general-purpose library).
fn frost(i: &Inputs<'_>) -> Answer {
    let (share, frost) = (i.number("glycol")?, i.number("frost")?);
    let freezes = told(freezing_point(share))?.get::<degree_celsius>();
    let text =
        || format!("{:.0} % of glycol freezes at {freezes:.0} °C, {frost:.0} °C is expected", share * 100.0);
    Ok((freezes <= frost + 1e-9, i.say(text)))
}

/// `heat = power x consumption x 43.4 MJ/kg x share` (Heywood ch. 12).
fn heat(i: &Inputs<'_>) -> Answer {
    let burnt = MassPerEnergy::new::<kilogram_per_kilowatt_hour>(i.number("burnt")?);
    let value = AvailableEnergy::new::<joule_per_kilogram>(PETROL_HEATING_VALUE);
    let heat = told(heat_to_reject(i.power("power")?, burnt, value, i.number("share")?))?.value;
    let carries = i.number("carries")?;
    let text = || format!("{:.0} kW of heat, the radiator carries {:.0} kW", heat / 1e3, carries / 1e3);
    Ok((carries >= heat - close(carries, heat), i.say(text)))
}

/// Share of the core a fan draws through, 70 % at least (common practice).
fn cover(i: &Inputs<'_>) -> Answer {
    let (share, enough) = told(shroud_cover(i.area("core")?, i.area("covered")?))?;
    let text = || {
        format!(
            "{:.0} % of the core is covered, at least {:.0} % wanted",
            share * 100.0,
            SHROUD_COVER * 100.0
        )
    };
    Ok((enough, i.say(text)))
}
