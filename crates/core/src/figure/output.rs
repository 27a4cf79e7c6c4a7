//! What a figure gives: numbers in SI with the text to show, and sentences. The one place that writes them out.

use std::borrow::Cow;

use knockon_figures::verdict::Verdict;

use crate::number::{rounded, with_unit};
use crate::phrase::Number;
use crate::showing::{Measure, other};
use crate::units::Dimension;

/// A number or a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Amount {
    /// In the SI unit of [`Output::unit`] (degrees Celsius for a temperature).
    Number(f64),
    /// A name or a verdict in words.
    Text(Cow<'static, str>),
}

/// One result of a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Output {
    /// In words of the trade.
    pub name: &'static str,
    /// The result.
    pub value: Amount,
    /// What the number is shown in.
    unit: Unit,
}

/// A unit a result is shown in, and what stands beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Unit {
    /// SI unit of the value.
    pub si: &'static str,
    /// As shown.
    symbol: &'static str,
    /// Its size in SI.
    pub factor: f64,
    /// What else it is told in.
    second: Second,
}

/// What a result is told in besides its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Second {
    /// The other system, as a workshop reads it: a length in fractions of an inch.
    Other,
    /// These units, to four figures.
    These(&'static [(&'static str, f64)]),
}

const fn unit(si: &'static str, symbol: &'static str, factor: f64) -> Unit {
    Unit { si, symbol, factor, second: Second::Other }
}

impl Unit {
    /// With units of its own besides; none where it needs none.
    const fn and(mut self, these: &'static [(&'static str, f64)]) -> Self {
        self.second = Second::These(these);
        self
    }
}

const INCH: f64 = 0.0254;
const INCH3: f64 = INCH * INCH * INCH;

pub(crate) const MM: Unit = unit("m", "mm", 1e-3);
/// A fit, a pitch or a drill: never told in fractions.
pub(crate) const FIT: Unit = unit("m", "mm", 1e-3).and(&[("in", INCH)]);
pub(crate) const KM: Unit = unit("m", "km", 1e3).and(&[("miles", 1_609.344)]);
pub(crate) const METRE: Unit = unit("m", "m", 1.0);
pub(crate) const MM2: Unit = unit("m2", "mm2", 1e-6).and(&[("in2", INCH * INCH)]);
/// Copper, which nobody reads in square inches.
pub(crate) const COPPER: Unit = unit("m2", "mm2", 1e-6).and(&[]);
pub(crate) const CM3: Unit = unit("m3", "cm3", 1e-6).and(&[("in3", INCH3)]);
/// The size of an engine.
pub(crate) const DISPLACEMENT: Unit = unit("m3", "cm3", 1e-6).and(&[("in3", INCH3), ("L", 1e-3)]);
pub(crate) const LITRE: Unit = unit("m3", "L", 1e-3);
pub(crate) const KG: Unit = unit("kg", "kg", 1.0);
pub(crate) const NEWTON: Unit = unit("N", "N", 1.0);
pub(crate) const KPA: Unit = unit("Pa", "kPa", 1e3);
pub(crate) const MPA: Unit = unit("Pa", "MPa", 1e6);
pub(crate) const DEGREE: Unit = unit("rad", "°", std::f64::consts::PI / 180.0);
pub(crate) const CELSIUS: Unit = unit("°C", "°C", 1.0);
pub(crate) const KELVIN: Unit = unit("K", "K", 1.0);
pub(crate) const SECOND: Unit = unit("s", "s", 1.0);
pub(crate) const MINUTE: Unit = unit("s", "min", 60.0);
pub(crate) const HOUR: Unit = unit("s", "h", 3_600.0).and(&[("days", 86_400.0)]);
pub(crate) const KMH: Unit = unit("m/s", "km/h", 1.0 / 3.6);
pub(crate) const M_S: Unit = unit("m/s", "m/s", 1.0).and(&[("ft/min", 0.3048 / 60.0)]);
pub(crate) const M_S2: Unit = unit("m/s2", "m/s2", 1.0);
pub(crate) const RPM: Unit = unit("rad/s", "rpm", std::f64::consts::TAU / 60.0);
pub(crate) const NM: Unit = unit("N·m", "N·m", 1.0);
pub(crate) const NM_MPA: Unit = unit("N·m/Pa", "N·m/MPa", 1e-6);
pub(crate) const KW: Unit = unit("W", "kW", 1e3);
pub(crate) const WATT: Unit = unit("W", "W", 1.0);
pub(crate) const AMPERE: Unit = unit("A", "A", 1.0);
pub(crate) const VOLT: Unit = unit("V", "V", 1.0);
pub(crate) const MILLIOHM_M: Unit = unit("ohm/m", "mohm/m", 1e-3);
pub(crate) const L_MIN: Unit = unit("m3/s", "L/min", 1e-3 / 60.0);
/// What a water pump moves.
pub(crate) const COOLANT: Unit = unit("m3/s", "L/min", 1e-3 / 60.0).and(&[("US gpm", 231.0 * INCH3 / 60.0)]);
pub(crate) const L_H: Unit = unit("m3/s", "L/h", 1e-3 / 3600.0);
pub(crate) const REV_KM: Unit = unit("1/m", "rev/km", 1e-3).and(&[]);
pub(crate) const REV_MILE: Unit = unit("1/m", "rev/mile", 1.0 / 1_609.344).and(&[]);
pub(crate) const N_MM: Unit = unit("N/m", "N/mm", 1e3).and(&[("lb/in", 4.448_221_615_260_5 / INCH)]);
pub(crate) const HERTZ: Unit = unit("Hz", "Hz", 1.0);
pub(crate) const KG_M3: Unit = unit("kg/m3", "kg/m3", 1.0);
pub(crate) const PERCENT: Unit = unit("", "%", 0.01);
pub(crate) const BARE: Unit = unit("", "", 1.0);
/// An amount of any one money.
pub(crate) const MONEY: Unit = unit("", "money", 1.0).and(&[]);

impl Output {
    /// SI unit of the value; empty for a bare number or a text.
    #[must_use]
    pub fn unit(&self) -> &'static str {
        self.unit.si
    }

    /// The number in SI.
    #[must_use]
    pub fn number(&self) -> Option<f64> {
        match self.value {
            Amount::Number(x) => Some(x),
            Amount::Text(_) => None,
        }
    }

    /// Which unit it is shown in.
    pub(crate) fn in_unit(&self) -> Unit {
        self.unit
    }

    /// The number as a sentence tells it, in a reader's units.
    pub(crate) fn told(&self) -> Option<Number> {
        let dimension = match self.unit.si {
            "m" => Dimension::Length,
            "m2" => Dimension::Area,
            "m3" => Dimension::Volume,
            "kg" => Dimension::Mass,
            "N" => Dimension::Force,
            "Pa" => Dimension::Pressure,
            "rad" => Dimension::Angle,
            "°C" | "K" => Dimension::Temperature,
            "s" => Dimension::Time,
            "m/s" => Dimension::Speed,
            "rad/s" => Dimension::RotationalSpeed,
            "N·m" => Dimension::Torque,
            "N·m/Pa" => Dimension::TorquePerPressure,
            "W" => Dimension::Power,
            "A" => Dimension::Current,
            "V" => Dimension::Voltage,
            "m3/s" => Dimension::Flow,
            "1/m" => Dimension::PerLength,
            "N/m" => Dimension::Stiffness,
            _ => Dimension::Ratio,
        };
        let number = Number::new(self.number()?, dimension);
        let (difference, percent) = (self.unit.si == "K", self.unit.symbol == "%");
        Some(Number { difference, percent, ..number })
    }

    /// For people: four figures that count in a workshop unit, or the text.
    #[must_use]
    pub fn shown(&self) -> String {
        match &self.value {
            Amount::Number(si) if self.unit == MONEY => format!("{si:.2}"),
            Amount::Number(si) => in_a(*si, self.unit.symbol, self.unit.factor),
            Amount::Text(text) => text.to_string(),
        }
    }

    /// The same in the other system or in what else the trade tells it in; `None` where there is nothing else.
    #[must_use]
    pub fn second(&self) -> Option<String> {
        let si = self.number()?;
        let told: Vec<String> = match self.unit.second {
            Second::Other => return other(&self.shown(), Measure::Metric),
            Second::These(units) => units.iter().map(|(symbol, size)| in_a(si, symbol, *size)).collect(),
        };
        (!told.is_empty()).then(|| told.join(", "))
    }
}

/// A number, SI, as it is told in a unit.
fn in_a(si: f64, symbol: &str, size: f64) -> String {
    with_unit(&four_figures(si / size), symbol)
}

/// A number, SI, in the unit it is shown in.
pub(crate) fn number(name: &'static str, si: f64, unit: &Unit) -> Output {
    Output { name, value: Amount::Number(si), unit: *unit }
}

/// A quantity in a unit of the table, called by it.
pub(crate) fn of_table(si: f64, unit: &crate::units::Unit) -> Output {
    let symbol = unit.symbol;
    // a unit of size one is that of SI
    let unit = Unit { si: symbol, symbol, factor: unit.factor, second: Second::These(&[]) };
    Output { name: symbol, value: Amount::Number(si), unit }
}

/// A speed of rotation as the figures crate gives it.
pub(crate) fn rpm(name: &'static str, rpm: f64) -> Output {
    number(name, rpm * RPM.factor, &RPM)
}

/// A temperature as the figures crate gives it.
pub(crate) fn celsius(name: &'static str, t: uom::si::f64::ThermodynamicTemperature) -> Output {
    number(name, t.get::<uom::si::thermodynamic_temperature::degree_celsius>(), &CELSIUS)
}

/// A name or a sentence.
pub(crate) fn text(name: &'static str, text: impl Into<Cow<'static, str>>) -> Output {
    Output { name, value: Amount::Text(text.into()), unit: BARE }
}

/// The words of a verdict.
pub(crate) fn verdict(verdict: Verdict) -> Output {
    let word = match verdict {
        Verdict::Good => "good: within its limit",
        Verdict::Watch => "watch: usable, to be measured again",
        Verdict::Renew => "renew: outside its limit",
    };
    text("verdict", word)
}

/// Four figures that count, at most six decimals; zeros at the end are left off.
fn four_figures(x: f64) -> String {
    if x == 0.0 || !x.is_finite() {
        return format!("{x:.0}").replace("-0", "0");
    }
    // nobody counts seventeen zeros
    if x.abs() >= 1e12 {
        return format!("{x:.3e}");
    }
    let decimals = (3.0 - x.abs().log10().floor()).clamp(0.0, 6.0) as usize;
    rounded(x, decimals)
}
