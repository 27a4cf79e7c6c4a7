//! Files: the library on disk, sheets on disk, journal and back-ups. Knows nothing of screens.
pub mod library;
pub mod place;
pub mod sheets;
