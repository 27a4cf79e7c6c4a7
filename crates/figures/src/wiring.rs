//! Wires and fuses: gauge and area, the drop, the size for a load and a length, the fuse that guards it.

pub mod fuse;
pub mod gauge;
pub mod size;
pub mod strands;
