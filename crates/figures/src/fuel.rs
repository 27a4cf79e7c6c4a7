//! Fuel on its way from the tank to the carburettor: loss in the line, lift, and the pressure that arrives.
//!
//! What the engine asks for stands in [`crate::carburation`].

pub mod line;
pub mod pressure;
pub mod regulator;
