//! Units the trade writes, each with its dimension and its factor to SI. The factors come from `uom`.

use uom::si::angle::{degree, radian};
use uom::si::area::{square_centimeter, square_foot, square_inch, square_meter, square_millimeter};
use uom::si::electric_charge::ampere_hour;
use uom::si::electric_current::{ampere, milliampere};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::f64::{
    Angle, Area, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Force, Length,
    Mass, Power, Pressure, Time, Torque, Velocity, Volume, VolumeRate,
};
use uom::si::force::{kilogram_force, kilonewton, newton, pound_force};
use uom::si::length::{centimeter, foot, inch, kilometer, meter, micrometer, mil, mile, millimeter, yard};
use uom::si::mass::{gram, kilogram, ounce, pound, ton};
use uom::si::power::{horsepower, horsepower_metric, kilowatt, watt};
use uom::si::pressure::{bar, inch_of_mercury, kilopascal, megapascal, millimeter_of_mercury, pascal, psi};
use uom::si::time::{day, hour, millisecond, minute, second};
use uom::si::torque::{newton_meter, pound_force_foot, pound_force_inch};
use uom::si::velocity::{foot_per_second, kilometer_per_hour, meter_per_second, mile_per_hour};
use uom::si::volume::{
    cubic_centimeter, cubic_foot, cubic_inch, fluid_ounce, fluid_ounce_imperial, gallon, gallon_imperial,
    liter, milliliter, pint_liquid, quart_liquid,
};
use uom::si::volume_rate::{
    cubic_foot_per_minute, cubic_meter_per_second, gallon_per_minute, liter_per_minute,
};

/// What a quantity measures. The SI unit of its value stands behind each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Dimension {
    Length,
    Area,
    Volume,
    Mass,
    Force,
    Pressure,
    Angle,
    Temperature,
    TemperatureDifference,
    Time,
    Speed,
    RotationalSpeed,
    Torque,
    Power,
    Current,
    Voltage,
    Resistance,
    Flow,
    PerLength,
    Charge,
    TorquePerPressure,
    Stiffness,
    Ratio,
}

impl Dimension {
    /// Whether what is of it can lie on either side of nothing: vacuum, frost, lock to the left.
    #[must_use]
    pub fn has_sides(self) -> bool {
        matches!(self, Self::Angle | Self::Pressure | Self::Ratio | Self::Temperature | Self::Voltage)
    }

    /// Dimension words as library files write them. `count` is a ratio without a unit.
    pub const WORDS: [(&'static str, Self); 24] = [
        ("length", Self::Length),
        ("area", Self::Area),
        ("volume", Self::Volume),
        ("mass", Self::Mass),
        ("force", Self::Force),
        ("pressure", Self::Pressure),
        ("angle", Self::Angle),
        ("temperature", Self::Temperature),
        ("temperature-difference", Self::TemperatureDifference),
        ("time", Self::Time),
        ("speed", Self::Speed),
        ("rotational-speed", Self::RotationalSpeed),
        ("torque", Self::Torque),
        ("power", Self::Power),
        ("current", Self::Current),
        ("voltage", Self::Voltage),
        ("resistance", Self::Resistance),
        ("flow", Self::Flow),
        ("per-length", Self::PerLength),
        ("charge", Self::Charge),
        ("torque-per-pressure", Self::TorquePerPressure),
        ("stiffness", Self::Stiffness),
        ("ratio", Self::Ratio),
        ("count", Self::Ratio),
    ];

    /// The dimension of a word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::WORDS.iter().find(|(w, _)| *w == word).map(|(_, d)| *d)
    }

    /// The word of a dimension.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, d)| *d == self).map_or("ratio", |(w, _)| w)
    }
}

/// A unit as written, what it measures, and its size in the SI unit of that dimension.
pub struct Unit {
    /// As written.
    pub symbol: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// Its size in SI.
    pub factor: f64,
}

macro_rules! units {
    ($($symbol:literal $dimension:ident $quantity:ident::<$unit:ident>;)*) => {
        [$(Unit { symbol: $symbol, dimension: Dimension::$dimension, factor: $quantity::new::<$unit>(1.0).value }),*]
    };
}

/// Every unit with a plain factor. Temperature, wire gauge and per-mile figures are read in [`crate::quantity`].
#[must_use]
pub fn table() -> Vec<Unit> {
    let rpm = std::f64::consts::TAU / 60.0;
    let mut table: Vec<Unit> = units! {
        "mm" Length Length::<millimeter>; "m" Length Length::<meter>; "in" Length Length::<inch>;
        "ft" Length Length::<foot>; "mile" Length Length::<mile>; "miles" Length Length::<mile>; "km" Length Length::<kilometer>; "µm" Length Length::<micrometer>;
        "cm" Length Length::<centimeter>; "thou" Length Length::<mil>; "yd" Length Length::<yard>;
        "m2" Area Area::<square_meter>; "ft2" Area Area::<square_foot>;
        "mm2" Area Area::<square_millimeter>; "cm2" Area Area::<square_centimeter>; "in2" Area Area::<square_inch>;
        "L" Volume Volume::<liter>; "mL" Volume Volume::<milliliter>; "cm3" Volume Volume::<cubic_centimeter>;
        "in3" Volume Volume::<cubic_inch>; "US gal" Volume Volume::<gallon>; "US qt" Volume Volume::<quart_liquid>;
        "US pt" Volume Volume::<pint_liquid>; "US fl oz" Volume Volume::<fluid_ounce>;
        "imp gal" Volume Volume::<gallon_imperial>; "imp fl oz" Volume Volume::<fluid_ounce_imperial>;
        "ft3" Volume Volume::<cubic_foot>;
        "kg" Mass Mass::<kilogram>; "g" Mass Mass::<gram>; "lb" Mass Mass::<pound>;
        "oz" Mass Mass::<ounce>; "t" Mass Mass::<ton>;
        "N" Force Force::<newton>; "kN" Force Force::<kilonewton>; "lbf" Force Force::<pound_force>;
        "kgf" Force Force::<kilogram_force>; "mmHg" Pressure Pressure::<millimeter_of_mercury>;
        "Pa" Pressure Pressure::<pascal>; "kPa" Pressure Pressure::<kilopascal>; "MPa" Pressure Pressure::<megapascal>;
        "bar" Pressure Pressure::<bar>; "psi" Pressure Pressure::<psi>; "inHg" Pressure Pressure::<inch_of_mercury>;
        "deg" Angle Angle::<degree>; "rad" Angle Angle::<radian>;
        "ms" Time Time::<millisecond>; "s" Time Time::<second>; "min" Time Time::<minute>; "h" Time Time::<hour>; "day" Time Time::<day>;
        "km/h" Speed Velocity::<kilometer_per_hour>; "mph" Speed Velocity::<mile_per_hour>;
        "m/s" Speed Velocity::<meter_per_second>; "ft/s" Speed Velocity::<foot_per_second>;
        "N·m" Torque Torque::<newton_meter>; "N m" Torque Torque::<newton_meter>; "lbf·ft" Torque Torque::<pound_force_foot>;
        "lbf·in" Torque Torque::<pound_force_inch>;
        "W" Power Power::<watt>; "kW" Power Power::<kilowatt>; "hp" Power Power::<horsepower>;
        "PS" Power Power::<horsepower_metric>;
        "A" Current ElectricCurrent::<ampere>; "mA" Current ElectricCurrent::<milliampere>;
        "V" Voltage ElectricPotential::<volt>; "ohm" Resistance ElectricalResistance::<ohm>;
        "Ah" Charge ElectricCharge::<ampere_hour>;
        "L/min" Flow VolumeRate::<liter_per_minute>;
        "m3/s" Flow VolumeRate::<cubic_meter_per_second>; "cfm" Flow VolumeRate::<cubic_foot_per_minute>;
        "US gpm" Flow VolumeRate::<gallon_per_minute>;
    }
    .into_iter()
    .collect();
    let per = |symbol, dimension, factor| Unit { symbol, dimension, factor };
    // the mean lengths of the Julian calendar: a year of 365.25 days
    let one_day = Time::new::<day>(1.0).value;
    // how far two temperatures lie apart: the scales have no common zero, and no degree of one is a degree of the other
    table.push(per("°C apart", Dimension::TemperatureDifference, 1.0));
    table.push(per("°F apart", Dimension::TemperatureDifference, 1.0 / 1.8));
    table.push(per("week", Dimension::Time, 7.0 * one_day));
    table.push(per("month", Dimension::Time, 365.25 / 12.0 * one_day));
    table.push(per("year", Dimension::Time, 365.25 * one_day));
    table.push(per("L/h", Dimension::Flow, VolumeRate::new::<liter_per_minute>(1.0 / 60.0).value));
    table.push(per("US gph", Dimension::Flow, VolumeRate::new::<gallon_per_minute>(1.0 / 60.0).value));
    let imperial = Volume::new::<gallon_imperial>(1.0).value;
    table.push(per("imp qt", Dimension::Volume, imperial / 4.0));
    table.push(per("imp pt", Dimension::Volume, imperial / 8.0));
    table.push(per("imp gpm", Dimension::Flow, imperial / 60.0));
    table.push(per("imp gph", Dimension::Flow, imperial / 3600.0));
    table.push(per("m3/h", Dimension::Flow, 1.0 / 3600.0));
    table.push(per("mL/min", Dimension::Flow, 1e-6 / 60.0));
    let kilogram_weight = Force::new::<kilogram_force>(1.0).value;
    table.push(per("kgf/cm2", Dimension::Pressure, kilogram_weight * 1e4));
    table.push(per("kgf·m", Dimension::Torque, kilogram_weight));
    table.push(per("kgf/mm", Dimension::Stiffness, kilogram_weight * 1e3));
    table.push(per("rpm", Dimension::RotationalSpeed, rpm));
    table.push(per("rev/mile", Dimension::PerLength, 1.0 / Length::new::<mile>(1.0).value));
    table.push(per("rev/km", Dimension::PerLength, 1e-3));
    table.push(per("N·m/MPa", Dimension::TorquePerPressure, 1e-6));
    table.push(per("N/mm", Dimension::Stiffness, 1e3));
    let pound_per_inch = Force::new::<pound_force>(1.0).value / Length::new::<inch>(1.0).value;
    table.push(per("lbf/in", Dimension::Stiffness, pound_per_inch));
    table
}
