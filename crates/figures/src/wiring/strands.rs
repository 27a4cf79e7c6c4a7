//! Resistance of flexible cable by what the standard allows at most, and the drop it makes (IEC 60228 class 5).

use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::{Area, ElectricCurrent, ElectricPotential, Length, ThermodynamicTemperature};
use uom::si::length::meter;

use super::gauge::{STANDARD_RESISTIVITY, heat_factor};
use crate::charging::{CURRENT, RUN_LENGTH, Run, WIRE_AREA};
use crate::error::FigureError;
use crate::range::Range;

const DROP: Range = Range::new(0.001, 50.0, "V");

/// Most resistance of flexible copper cable at 20 C: nominal area in mm2, mohm/m.
///
/// Source: IEC 60228 class 5, as printed on two pages that agree.
pub const CLASS_5: [(f64, f64); 10] = [
    (0.5, 39.0),
    (0.75, 26.0),
    (1.0, 19.5),
    (2.5, 7.98),
    (4.0, 4.95),
    (6.0, 3.3),
    (16.0, 1.21),
    (25.0, 0.78),
    (35.0, 0.554),
    (50.0, 0.386),
];

/// Resistance of flexible cable for each metre, ohm/m: the most that [`CLASS_5`] allows, at the cable's own heat.
///
/// * `area`: nominal, 0.001 to 1,000 mm2. Between two areas of the table the resistance runs straight on logarithmic
///   paper; beyond its ends it stays as much above solid copper as at the end, 12 to 16 %.
/// * `temperature`: of the conductor, -60 to 250 C; 70 C is what ordinary PVC bears lastingly.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: IEC 60228 class 5 for the table, IEC 60028 for the heat.
pub fn flexible_ohms_per_metre(
    area: Area,
    temperature: ThermodynamicTemperature,
) -> Result<f64, FigureError> {
    let area = WIRE_AREA.check("conductor area", area.get::<square_millimeter>())?;
    let heat = heat_factor(temperature)?;
    let above = CLASS_5.partition_point(|(at, _)| *at <= area);
    let before = above.checked_sub(1).and_then(|i| CLASS_5.get(i));
    let solid = 1e3 * STANDARD_RESISTIVITY;
    let milliohms = match (before, CLASS_5.get(above)) {
        (Some((a0, r0)), Some((a1, r1))) => r0 * (r1 / r0).powf((area / a0).ln() / (a1 / a0).ln()),
        (Some((a, r)), None) | (None, Some((a, r))) => r * a / area,
        // the table has rows
        (None, None) => solid / area,
    };
    Ok(milliohms / 1e3 * heat)
}

/// Voltage lost in a flexible copper cable: `I * length * resistance`.
///
/// * `current`: 1e-6 to 10,000 A.
/// * `one_way_length`: from end to end of the run, 1 mm to 1,000 m.
/// * `area`: of the copper, not over the insulation, 0.001 to 1,000 mm2. Wire sold by gauge for vehicles has 5 to 12 %
///   less than [`super::gauge::gauge_area`] gives (SAE J1128).
/// * `run`: the feed alone, or feed and return.
/// * `temperature`: of the conductor, -60 to 250 C.
///
/// Joints, switches and fuses come on top.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Ohm's law with [`flexible_ohms_per_metre`].
pub fn wire_drop(
    current: ElectricCurrent,
    one_way_length: Length,
    area: Area,
    run: Run,
    temperature: ThermodynamicTemperature,
) -> Result<ElectricPotential, FigureError> {
    let current = CURRENT.check("current", current.get::<ampere>())?;
    let length = RUN_LENGTH.check("wire length", one_way_length.get::<meter>())?;
    let ohms = flexible_ohms_per_metre(area, temperature)?;
    Ok(ElectricPotential::new::<volt>(current * length * run.times() * ohms))
}

/// Area at which a run loses just what is allowed, the inverse of [`wire_drop`].
///
/// * `allowed`: 1 mV to 50 V; 3 % of the system voltage for lamps and ignition, 4 % for the rest, 0.1 V for an earth
///   (common practice). The others as for [`wire_drop`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: as for [`wire_drop`].
pub fn area_for(
    current: ElectricCurrent,
    one_way_length: Length,
    allowed: ElectricPotential,
    run: Run,
    temperature: ThermodynamicTemperature,
) -> Result<Area, FigureError> {
    let current = CURRENT.check("current", current.get::<ampere>())?;
    let length = RUN_LENGTH.check("wire length", one_way_length.get::<meter>())?;
    let allowed = DROP.check("drop allowed", allowed.get::<volt>())?;
    // mohm/m at 20 C that the run may have
    let milliohms = 1e3 * allowed / (current * length * run.times()) / heat_factor(temperature)?;
    let above = CLASS_5.partition_point(|(_, r)| *r >= milliohms);
    let before = above.checked_sub(1).and_then(|i| CLASS_5.get(i));
    let area = match (before, CLASS_5.get(above)) {
        (Some((a0, r0)), Some((a1, r1))) => a0 * (a1 / a0).powf((milliohms / r0).ln() / (r1 / r0).ln()),
        (Some((a, r)), None) | (None, Some((a, r))) => a * r / milliohms,
        (None, None) => 1e3 * STANDARD_RESISTIVITY / milliohms,
    };
    Ok(Area::new::<square_millimeter>(area))
}

#[cfg(test)]
#[path = "strands_tests.rs"]
mod tests;
