//! Files: the library on disk, sheets on disk, journal and back-ups. Knows nothing of screens.
pub mod backups;
pub mod claim;
pub mod digest;
pub mod disk;
mod folder;
mod format;
pub mod journal;
pub mod libraries;
pub mod library;
pub mod lists;
pub mod meeting;
pub mod place;
pub mod put;
mod quiet;
mod reading;
pub mod schema;
mod sheet_error;
pub mod sheets;
pub mod syncing;
mod system;
pub mod taking;
mod text;
pub mod tidy;
pub mod unsaved;

pub use format::FORMAT;
