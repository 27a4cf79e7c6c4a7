//! The engine: displacement and compression, what a compression or leak test says, timing marks.

pub mod geometry;
pub mod health;
pub mod points;
pub mod timing;
