//! Files: the library on disk, sheets on disk, journal and back-ups. Knows nothing of screens.
mod disk;
pub mod library;
pub mod lists;
pub mod place;
mod plain;
mod reading;
pub mod sheets;
