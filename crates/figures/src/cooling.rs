//! Cooling: where the coolant boils, the heat to be carried away, thermostat and fan.

pub mod boiling;
pub mod fan;
pub mod heat;
pub mod thermostat;
