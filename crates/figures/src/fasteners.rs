//! Fasteners: threads and their drills, insert repair, strength of a grade, torque and preload.

pub mod drill;
pub mod insert;
pub mod names;
pub mod press_fit;
pub mod strength;
pub mod tables;
pub mod thread;
pub mod torque;
