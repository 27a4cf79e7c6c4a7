//! Engineering figures: small formulas of the trade, each with its source, in typed SI quantities.
//!
//! The crate knows nothing of vehicles, parts, files or screens. A function takes quantities, refuses what cannot be
//! (not a number, infinite, zero, negative, outside the stated range) with a [`FigureError`], and returns a quantity.
//! It reads no clock and no global, and it never panics. Speeds of rotation are plain `f64` in rev/min, as the trade
//! writes them; the name of such an argument ends in `_rpm`.
//!
//! The ranges are wide on purpose: they catch a slipped unit or a slipped decimal point, they do not judge a design.
//!
//! ```
//! use knockon_figures::charging::Run;
//! use knockon_figures::wiring::strands::wire_drop;
//! use uom::si::area::square_millimeter;
//! use uom::si::electric_current::ampere;
//! use uom::si::electric_potential::volt;
//! use uom::si::f64::{Area, ElectricCurrent, Length, ThermodynamicTemperature};
//! use uom::si::length::meter;
//! use uom::si::thermodynamic_temperature::degree_celsius;
//!
//! let (current, length) = (ElectricCurrent::new::<ampere>(180.0), Length::new::<meter>(3.0));
//! let cold = ThermodynamicTemperature::new::<degree_celsius>(20.0);
//! let drop = wire_drop(current, length, Area::new::<square_millimeter>(35.0), Run::OneWay, cold)?;
//! assert!((drop.get::<volt>() - 0.299_16).abs() < 1e-9);
//!
//! // what is wrong is named
//! let error = wire_drop(current, length, Area::new::<square_millimeter>(0.0), Run::OneWay, cold);
//! assert_eq!(error.map_err(|e| e.quantity), Err("conductor area"));
//! # Ok::<(), knockon_figures::FigureError>(())
//! ```

pub mod air;
pub mod belts;
pub mod body;
pub mod brakes;
pub mod carburation;
pub mod charging;
pub mod clutch;
pub mod cooling;
pub mod driveline;
pub mod engine;
pub mod error;
pub mod fasteners;
pub mod fluids;
pub mod fuel;
pub mod gap;
pub mod gearing;
pub mod identity;
pub mod mileage;
pub mod speedometer;
pub mod springs;
pub mod steering;
pub mod tyre_room;
pub mod tyres;
pub mod verdict;
pub mod wheels;
pub mod wiring;

mod range;
#[cfg(test)]
mod testing;

pub use error::{Expected, FigureError};
