//! The inputs of one run: read from text once, handed to the formulas as typed quantities.

use std::collections::BTreeMap;

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

use super::input::{Input, Takes, nearest};
use super::{Figure, FigureInputError, Trouble};
use crate::quantity::Quantity;
use crate::units::Dimension;

/// Largest whole number an input takes.
const MOST: f64 = 1e6;

/// An input as read.
enum Read {
    Number(f64),
    Numbers(Vec<f64>),
    Pairs(Vec<(f64, f64)>),
    Word(String),
    Unknown,
}

/// The inputs of one run. A name that is not among them reads as no number, which every formula refuses.
pub(super) struct Given(Vec<(&'static str, Read)>);

impl Given {
    pub(super) fn read(
        figure: &'_ Figure,
        inputs: &BTreeMap<String, String>,
    ) -> Result<Self, FigureInputError> {
        if let Some(given) = inputs.keys().find(|name| figure.input(name).is_none()) {
            let known: Vec<&'static str> = figure.inputs.iter().map(|i| i.name).collect();
            return Err(FigureInputError::Unknown {
                figure: figure.id,
                given: given.clone(),
                nearest: nearest(given, known.iter().copied()),
                known,
                example: figure.example(),
            });
        }
        let mut read = Vec::with_capacity(figure.inputs.len());
        for input in figure.inputs {
            let (figure, wanted, example) = (figure.id, input.meaning, input.example);
            let text = inputs.get(input.name).map(String::as_str).or(input.default);
            let Some(text) = text else {
                return Err(FigureInputError::Missing { figure, input: input.name, wanted, example });
            };
            let value = one(input, text.trim()).map_err(|why| FigureInputError::Unreadable {
                figure,
                input: input.name,
                why,
                wanted,
                example,
            })?;
            read.push((input.name, value));
        }
        Ok(Self(read))
    }

    fn get(&self, name: &str) -> Option<&Read> {
        self.0.iter().find(|(n, _)| *n == name).map(|(_, read)| read)
    }

    /// The number of an input that is known.
    pub(super) fn known(&self, name: &str) -> Option<f64> {
        match self.get(name) {
            Some(Read::Number(x)) => Some(*x),
            _ => None,
        }
    }

    /// The number of an input, SI.
    pub(super) fn si(&self, name: &str) -> f64 {
        self.known(name).unwrap_or(f64::NAN)
    }

    /// A whole number.
    pub(super) fn whole(&self, name: &str) -> u32 {
        self.known(name).map_or(0, |x| x as u32)
    }

    /// Revolutions a minute, as the figures crate takes them.
    pub(super) fn rpm(&self, name: &str) -> f64 {
        self.si(name) * 60.0 / std::f64::consts::TAU
    }

    pub(super) fn numbers(&self, name: &str) -> &[f64] {
        match self.get(name) {
            Some(Read::Numbers(list)) => list,
            _ => &[],
        }
    }

    pub(super) fn pairs(&self, name: &str) -> &[(f64, f64)] {
        match self.get(name) {
            Some(Read::Pairs(list)) => list,
            _ => &[],
        }
    }

    pub(super) fn word(&self, name: &str) -> &str {
        match self.get(name) {
            Some(Read::Word(word)) => word,
            _ => "",
        }
    }

    pub(super) fn thread(&self, name: &str) -> Result<Named, Trouble> {
        names::read(self.word(name)).map_err(|e| Trouble(e.to_string()))
    }
}

macro_rules! quantities {
    ($($name:ident $quantity:ident $unit:ident;)*) => {
        impl Given {
            $(pub(super) fn $name(&self, name: &str) -> $quantity { $quantity::new::<$unit>(self.si(name)) })*
        }
    };
}

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
}

impl Given {
    pub(super) fn stiffness(&self, name: &str) -> SpringRate {
        SpringRate::new::<newton_per_meter>(self.si(name))
    }
}

fn one(input: &Input, text: &str) -> Result<Read, String> {
    if text == "unknown" && input.default == Some("unknown") {
        return Ok(Read::Unknown);
    }
    if text.is_empty() && input.takes != Takes::Text {
        return Err("nothing is given".to_owned());
    }
    match input.takes {
        Takes::One(dimension) => number(text, dimension).map(Read::Number),
        Takes::Several(dimension) => {
            pieces(text).map(|t| number(t, dimension)).collect::<Result<_, _>>().map(Read::Numbers)
        }
        Takes::Pairs(left, right) => {
            pieces(text).map(|t| pair(t, left, right)).collect::<Result<_, _>>().map(Read::Pairs)
        }
        Takes::Whole => {
            let x = number(text, Dimension::Ratio)?;
            if x.fract() == 0.0 && (0.0..=MOST).contains(&x) {
                Ok(Read::Number(x))
            } else {
                Err(format!("expected a whole number, found \"{text}\""))
            }
        }
        Takes::Thread => names::read(text)
            .map(|named| Read::Word(named.name))
            .map_err(|e| format!("found \"{text}\": {e}")),
        Takes::Choice(words) => match words.iter().find(|w| w.eq_ignore_ascii_case(text)) {
            Some(word) => Ok(Read::Word((*word).to_owned())),
            None => Err(format!("expected {}, found \"{text}\"", words.join(" or "))),
        },
        Takes::Text => Ok(Read::Word(text.to_owned())),
    }
}

fn pieces(text: &str) -> impl Iterator<Item = &str> {
    text.split([',', ';']).map(str::trim).filter(|t| !t.is_empty())
}

fn number(text: &str, dimension: Dimension) -> Result<f64, String> {
    let quantity = Quantity::parse_as(text, dimension).map_err(|e| e.to_string())?;
    // half of what was written would be lost in silence
    if quantity.tolerance > 0.0 {
        return Err(format!("a figure takes one value without a tolerance, found \"{text}\""));
    }
    Ok(quantity.si)
}

fn pair(text: &str, left: Dimension, right: Dimension) -> Result<(f64, f64), String> {
    let Some((x, y)) = text.split_once(':') else {
        return Err(format!("expected two values with a colon between them, found \"{text}\""));
    };
    Ok((number(x.trim(), left)?, number(y.trim(), right)?))
}
