//! Fluids: the containers that cover a capacity, and the strength of a coolant.

pub mod antifreeze;
pub mod cheapest;
pub mod containers;
pub mod mixture;
