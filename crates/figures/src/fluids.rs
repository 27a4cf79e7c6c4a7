//! Fluids: the containers that cover a capacity, and the strength of a coolant.

pub mod antifreeze;
pub mod containers;
pub mod mixture;
