//! What a figure gives: numbers in SI with the text to show, and sentences. The one place that writes them out.

use knockon_figures::verdict::Verdict;

use crate::number::{rounded, with_unit};

/// A number or a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Amount {
    /// In the SI unit of [`Output::unit`] (degrees Celsius for a temperature).
    Number(f64),
    /// A name or a verdict in words.
    Text(String),
}

/// One result of a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Output {
    /// In words of the trade.
    pub name: &'static str,
    /// The result.
    pub value: Amount,
    /// SI unit of the value; empty for a bare number or a text.
    pub unit: &'static str,
    /// For people: four figures that count in a workshop unit, or the text. [`crate::showing::show`] turns it into the
    /// other system.
    pub shown: String,
}

/// A unit a result is shown in.
pub(super) struct Unit {
    /// SI unit of the value.
    si: &'static str,
    /// As shown.
    symbol: &'static str,
    /// Its size in SI.
    factor: f64,
}

const fn unit(si: &'static str, symbol: &'static str, factor: f64) -> Unit {
    Unit { si, symbol, factor }
}

pub(super) const MM: Unit = unit("m", "mm", 1e-3);
pub(super) const METRE: Unit = unit("m", "m", 1.0);
pub(super) const MM2: Unit = unit("m2", "mm2", 1e-6);
pub(super) const CM3: Unit = unit("m3", "cm3", 1e-6);
pub(super) const LITRE: Unit = unit("m3", "L", 1e-3);
pub(super) const KG: Unit = unit("kg", "kg", 1.0);
pub(super) const NEWTON: Unit = unit("N", "N", 1.0);
pub(super) const KPA: Unit = unit("Pa", "kPa", 1e3);
pub(super) const MPA: Unit = unit("Pa", "MPa", 1e6);
pub(super) const DEGREE: Unit = unit("rad", "°", std::f64::consts::PI / 180.0);
pub(super) const CELSIUS: Unit = unit("°C", "°C", 1.0);
pub(super) const KELVIN: Unit = unit("K", "K", 1.0);
pub(super) const MINUTE: Unit = unit("s", "min", 60.0);
pub(super) const KMH: Unit = unit("m/s", "km/h", 1.0 / 3.6);
pub(super) const M_S: Unit = unit("m/s", "m/s", 1.0);
pub(super) const M_S2: Unit = unit("m/s2", "m/s2", 1.0);
pub(super) const RPM: Unit = unit("rad/s", "rpm", std::f64::consts::TAU / 60.0);
pub(super) const NM: Unit = unit("N·m", "N·m", 1.0);
pub(super) const NM_MPA: Unit = unit("N·m/Pa", "N·m/MPa", 1e-6);
pub(super) const KW: Unit = unit("W", "kW", 1e3);
pub(super) const WATT: Unit = unit("W", "W", 1.0);
pub(super) const AMPERE: Unit = unit("A", "A", 1.0);
pub(super) const VOLT: Unit = unit("V", "V", 1.0);
pub(super) const MILLIOHM_M: Unit = unit("ohm/m", "mohm/m", 1e-3);
pub(super) const L_MIN: Unit = unit("m3/s", "L/min", 1e-3 / 60.0);
pub(super) const L_H: Unit = unit("m3/s", "L/h", 1e-3 / 3600.0);
pub(super) const REV_KM: Unit = unit("1/m", "rev/km", 1e-3);
pub(super) const REV_MILE: Unit = unit("1/m", "rev/mile", 1.0 / 1_609.344);
pub(super) const N_MM: Unit = unit("N/m", "N/mm", 1e3);
pub(super) const HERTZ: Unit = unit("Hz", "Hz", 1.0);
pub(super) const KG_M3: Unit = unit("kg/m3", "kg/m3", 1.0);
pub(super) const PERCENT: Unit = unit("", "%", 0.01);
pub(super) const BARE: Unit = unit("", "", 1.0);

/// A number, SI, in the unit it is shown in.
pub(super) fn number(name: &'static str, si: f64, unit: &Unit) -> Output {
    let shown = with_unit(&four_figures(si / unit.factor), unit.symbol);
    Output { name, value: Amount::Number(si), unit: unit.si, shown }
}

/// A speed of rotation as the figures crate gives it.
pub(super) fn rpm(name: &'static str, rpm: f64) -> Output {
    number(name, rpm * RPM.factor, &RPM)
}

/// A temperature as the figures crate gives it.
pub(super) fn celsius(name: &'static str, t: uom::si::f64::ThermodynamicTemperature) -> Output {
    number(name, t.get::<uom::si::thermodynamic_temperature::degree_celsius>(), &CELSIUS)
}

/// A name or a sentence.
pub(super) fn text(name: &'static str, text: impl Into<String>) -> Output {
    let text = text.into();
    Output { name, value: Amount::Text(text.clone()), unit: "", shown: text }
}

/// The words of a verdict.
pub(super) fn verdict(verdict: Verdict) -> Output {
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
