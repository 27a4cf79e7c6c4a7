//! Figures in words, in the system the user reads.

use knockon_core::showing::{Measure, show};
use uom::si::angle::degree;
use uom::si::electric_current::ampere;
use uom::si::f64::{Angle, ElectricCurrent, Force, Length, LinearNumberDensity, Pressure, Velocity};
use uom::si::force::{newton, pound_force};
use uom::si::length::{inch, millimeter};
use uom::si::linear_number_density::{per_kilometer, per_mile};
use uom::si::pressure::{kilopascal, psi};
use uom::si::velocity::{kilometer_per_hour, mile_per_hour};

/// Written in the other system, so that what shows quantities rounds it as a workshop does.
fn shown(inches: (f64, &str), metric: (f64, &str), measure: Measure) -> String {
    let (number, unit) = if measure == Measure::Inch { metric } else { inches };
    show(&format!("{number} {unit}"), measure)
}

/// A length.
pub fn length(value: Length, measure: Measure) -> String {
    shown((value.get::<inch>(), "in"), (value.get::<millimeter>(), "mm"), measure)
}

/// A pressure.
pub fn pressure(value: Pressure, measure: Measure) -> String {
    shown((value.get::<psi>(), "psi"), (value.get::<kilopascal>(), "kPa"), measure)
}

/// A road speed.
pub fn speed(value: Velocity, measure: Measure) -> String {
    shown((value.get::<mile_per_hour>(), "mph"), (value.get::<kilometer_per_hour>(), "km/h"), measure)
}

/// Turns over a length of road.
pub fn turns(value: LinearNumberDensity, measure: Measure) -> String {
    shown((value.get::<per_mile>(), "rev/mile"), (value.get::<per_kilometer>(), "rev/km"), measure)
}

/// A force.
pub fn force(value: Force, measure: Measure) -> String {
    shown((value.get::<pound_force>(), "lbf"), (value.get::<newton>(), "N"), measure)
}

/// An angle, to a tenth of a degree.
pub fn angle(value: Angle) -> String {
    format!("{:.1}°", value.get::<degree>())
}

/// A current.
pub fn current(value: ElectricCurrent) -> String {
    format!("{:.1} A", value.get::<ampere>())
}

/// A share, to a tenth of a per cent.
pub fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}

/// A speed of rotation.
pub fn rpm(value: f64) -> String {
    format!("{value:.0} rpm")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_systems() {
        // NIST SP 811: 1 in = 25.4 mm, 1 psi = 6.894 757 kPa, 1 mile = 1.609 344 km
        let wide = Length::new::<millimeter>(311.15);
        assert_eq!(
            (length(wide, Measure::Inch), length(wide, Measure::Metric)),
            ("12-1/4 in".to_owned(), "311.2 mm".to_owned())
        );
        let fuel = Pressure::new::<psi>(3.5);
        assert_eq!(
            (pressure(fuel, Measure::Inch), pressure(fuel, Measure::Metric)),
            ("3.5 psi".to_owned(), "24.1 kPa".to_owned())
        );
        let road = Velocity::new::<mile_per_hour>(60.0);
        assert_eq!(
            (speed(road, Measure::Inch), speed(road, Measure::Metric)),
            ("60 mph".to_owned(), "96.6 km/h".to_owned())
        );
        let none = Length::new::<millimeter>(0.0);
        assert_eq!(
            (length(none, Measure::Inch), length(none, Measure::Metric)),
            ("0 in".to_owned(), "0 mm".to_owned())
        );
    }
}
