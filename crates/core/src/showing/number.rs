//! A number in a reader's units: which unit, and how many figures.

use super::{Measure, inch_steps, wire};
use crate::number::{Decimals, rounded, with_unit};
use crate::phrase::number::{Grain, Number};
use crate::units::{Dimension, table};

/// The unit a quantity of this size is told in. The one table of them: whatever shows a quantity asks here.
#[must_use]
pub(crate) fn unit(dimension: Dimension, size: f64, measure: Measure) -> &'static str {
    let inch = measure == Measure::Inch;
    let size = size.abs();
    match dimension {
        // 1 km and more is a road; nobody tells 3 m of pipe in inches, nor a stopping distance
        Dimension::Length if size >= 1_000.0 => pick(inch, "miles", "km"),
        Dimension::Length if size >= 3.0 => pick(inch, "ft", "m"),
        Dimension::Length => pick(inch, "in", "mm"),
        // what is no thicker than a wire reads in mm2 in both
        Dimension::Area if wire::is_size("mm2", size) => "mm2",
        Dimension::Area => pick(inch, "in2", "cm2"),
        // oil is told in quarts, as it is sold
        Dimension::Volume if inch && size >= 6e-3 => "US gal",
        Dimension::Volume if inch && size >= 2.5e-4 => "US qt",
        Dimension::Volume if inch => "in3",
        Dimension::Volume if size >= 2.5e-4 => "L",
        Dimension::Volume => "cm3",
        Dimension::Mass if inch => "lb",
        Dimension::Mass if size < 1.0 => "g",
        Dimension::Mass => "kg",
        Dimension::Force if inch => "lbf",
        Dimension::Force if size >= 1e4 => "kN",
        Dimension::Force => "N",
        Dimension::Pressure if inch => "psi",
        Dimension::Pressure if size >= 1e6 => "MPa",
        Dimension::Pressure => "kPa",
        Dimension::Temperature => pick(inch, "°F", "°C"),
        Dimension::TemperatureDifference => pick(inch, "°F apart", "°C apart"),
        Dimension::Speed => pick(inch, "mph", "km/h"),
        Dimension::Torque => pick(inch, "lbf·ft", "N·m"),
        Dimension::Power => pick(inch, "hp", "kW"),
        // fuel is told by the hour, air by the minute
        Dimension::Flow if size < 1e-3 => pick(inch, "US gph", "L/h"),
        Dimension::Flow => pick(inch, "cfm", "L/min"),
        Dimension::PerLength => pick(inch, "rev/mile", "rev/km"),
        Dimension::Stiffness => pick(inch, "lbf/in", "N/mm"),
        Dimension::Angle => "°",
        Dimension::Time => "min",
        Dimension::RotationalSpeed => "rpm",
        Dimension::Current => "A",
        Dimension::Voltage => "V",
        Dimension::Resistance => "ohm",
        Dimension::Charge => "Ah",
        Dimension::TorquePerPressure => "N·m/MPa",
        Dimension::Ratio => "",
    }
}

const fn pick(inch: bool, one: &'static str, other: &'static str) -> &'static str {
    if inch { one } else { other }
}

/// A quantity in a unit of [`unit`], from SI.
#[must_use]
pub(crate) fn in_unit(si: f64, symbol: &str, difference: bool) -> f64 {
    match symbol {
        "" | "°C" => si,
        "°F" if difference => si * 1.8,
        "°F" => si * 1.8 + 32.0,
        "°" => si.to_degrees(),
        _ => table().iter().find(|u| u.symbol == symbol).map_or(si, |u| si / u.factor),
    }
}

/// Back to SI.
#[must_use]
pub(crate) fn to_si(number: f64, symbol: &str) -> f64 {
    match symbol {
        "" | "°C" => number,
        "°F" => (number - 32.0) / 1.8,
        "°" => number.to_radians(),
        _ => table().iter().find(|u| u.symbol == symbol).map_or(number, |u| number * u.factor),
    }
}

/// A number as it is told. Where it is compared with another it is told finely enough that a broken check does not read
/// as one that holds; so many steps finer than is usual.
#[must_use]
pub(crate) fn number(n: &Number, (measure, finer): (Measure, usize)) -> String {
    if n.percent {
        let hundredths = |x: f64| x * 100.0;
        let text = figures(n, hundredths, finer, rounded);
        return format!("{text} %");
    }
    let others = [n.to, n.beside].into_iter().flatten();
    let size = others.fold(n.si.abs(), |most, x| most.max(x.abs()));
    let size = if size.is_finite() { size } else { 0.0 };
    let symbol = unit(n.dimension, size, measure);
    if let (Dimension::Area, "mm2", Measure::Inch, None) = (n.dimension, symbol, measure, n.to)
        && let Some(gauge) = wire::gauge(&format!("{} mm2", n.si * 1e6))
    {
        return format!("{gauge} ({} mm2)", rounded(n.si * 1e6, 1));
    }
    let shown = |si: f64| in_unit(si, symbol, n.difference);
    let text = if symbol == "in" && n.decimals.is_none() {
        // from the coarsest step of a tape on
        figures(n, shown, finer, |value, finer| inch_steps(value, shown(size).abs(), n.grain, finer))
    } else {
        let least =
            n.decimals.map_or_else(|| figures_of(shown(size), symbol, n.grain) + finer, |Decimals(d)| d);
        figures(n, shown, least, rounded)
    };
    let symbol = match symbol {
        "°C" if n.difference => "K",
        "miles" if text == "1" => "mile",
        other => other,
    };
    with_unit(&text, symbol)
}

/// Its figures, or those of both ends, no coarser than a step from which on it reads otherwise than what it is compared with.
fn figures(
    n: &Number,
    shown: impl Fn(f64) -> f64,
    least: usize,
    write: impl Fn(f64, usize) -> String,
) -> String {
    let mine = shown(n.si);
    let step = (least..least + 5).find(|step| {
        let Some(other) = n.beside.map(&shown) else { return true };
        let alike = (mine - other).abs() <= 1e-9 * mine.abs().max(other.abs()).max(1e-9);
        alike || write(mine, *step) != write(other, *step)
    });
    let step = step.unwrap_or(least + 4);
    let sign = if n.signed && mine >= 0.0 { "+" } else { "" };
    match n.to {
        Some(high) => format!("{sign}{} to {}", write(mine, step), write(shown(high), step)),
        None => format!("{sign}{}", write(mine, step)),
    }
}

/// Decimals that say something of a number of this size.
fn figures_of(size: f64, symbol: &str, grain: Grain) -> usize {
    let size = size.abs();
    match symbol {
        "mm" if grain == Grain::Fit => 2,
        "°C" | "°F" | "rpm" | "cm2" | "N" | "lbf" => 0,
        "L/h" | "US gph" | "kW" | "hp" | "min" if size >= 10.0 => 0,
        _ if size >= 100.0 => 0,
        _ if size >= 1.0 || size == 0.0 => 1,
        _ if size >= 0.1 => 2,
        // two digits of what is less than a tenth
        _ => (1.0 - size.log10().floor()).clamp(1.0, 6.0) as usize,
    }
}
