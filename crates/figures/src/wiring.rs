//! Wires and fuses: gauge and area, the size for a load and a length, the fuse that guards it.
//!
//! The drop of a given wire stands in [`crate::charging`].

pub mod fuse;
pub mod gauge;
pub mod size;
