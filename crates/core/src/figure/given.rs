//! The inputs of one run by name, from wherever they come: typed quantities for the formulas.

use knockon_figures::fasteners::names::{self, Named};
use knockon_figures::springs::SpringRate;
use uom::si::angle::radian;
use uom::si::area::square_meter;
use uom::si::electric_charge::coulomb;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::{
    Angle, Area, ElectricCharge, ElectricCurrent, ElectricPotential, Force, Length, LinearNumberDensity,
    Mass, Power, Pressure, ThermodynamicTemperature, Time, Torque, Velocity, Volume, VolumeRate,
};
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::linear_number_density::per_meter;
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::pressure::pascal;
use uom::si::surface_tension::newton_per_meter;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::second;
use uom::si::torque::newton_meter;
use uom::si::velocity::meter_per_second;
use uom::si::volume::cubic_meter;
use uom::si::volume_rate::cubic_meter_per_second;

use super::trouble::Trouble;

/// Inputs by name, in SI: written by a person, read off the parts of a plan, or in the fields of a page.
pub trait Values {
    /// The number of an input that is known.
    fn known(&self, name: &str) -> Option<f64>;

    /// The numbers of a list.
    fn numbers(&self, name: &str) -> &[f64];

    /// The points of a curve, or pairs of numbers.
    fn pairs(&self, name: &str) -> &[(f64, f64)];

    /// A word.
    fn word(&self, name: &str) -> &str;
}

/// What a formula is given. A name that is not known reads as no number, which every formula refuses.
pub type Given<'a> = dyn Values + 'a;

/// The getters of the formulas.
macro_rules! quantities {
    ($($name:ident $quantity:ident $unit:ident;)*) => {
        $(pub(crate) fn $name(&self, name: &str) -> $quantity { $quantity::new::<$unit>(self.si(name)) })*
    };
}

impl Given<'_> {
    quantities! {
        angle Angle radian;
        area Area square_meter;
        charge ElectricCharge coulomb;
        current ElectricCurrent ampere;
        voltage ElectricPotential volt;
        force Force newton;
        length Length meter;
        per_length LinearNumberDensity per_meter;
        mass Mass kilogram;
        power Power watt;
        pressure Pressure pascal;
        temperature ThermodynamicTemperature degree_celsius;
        time Time second;
        torque Torque newton_meter;
        speed Velocity meter_per_second;
        volume Volume cubic_meter;
        flow VolumeRate cubic_meter_per_second;
        stiffness SpringRate newton_per_meter;
    }

    /// The number of an input, SI.
    pub(crate) fn si(&self, name: &str) -> f64 {
        self.known(name).unwrap_or(f64::NAN)
    }

    /// A whole number.
    pub(crate) fn whole(&self, name: &str) -> u32 {
        self.known(name).map_or(0, |x| x.round() as u32)
    }

    /// Revolutions a minute, as the figures crate takes them.
    pub(crate) fn rpm(&self, name: &str) -> f64 {
        self.si(name) * 60.0 / std::f64::consts::TAU
    }

    pub(crate) fn thread(&self, name: &str) -> Result<Named, Trouble> {
        names::read(self.word(name)).map_err(|e| Trouble::Words(e.to_string()))
    }
}
