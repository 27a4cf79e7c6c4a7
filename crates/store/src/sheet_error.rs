//! What can go wrong with a sheet or its journal.

use crate::disk::plain;

/// What went wrong with a sheet.
#[derive(Debug, thiserror::Error)]
pub enum SheetError {
    /// The file cannot be read or written.
    #[error("{path}: {what}: {}", plain(source))]
    Io {
        /// The file.
        path: String,
        /// What was tried and the way out.
        what: &'static str,
        /// What the system said.
        source: std::io::Error,
    },
    /// The text is no sheet; the message names line, path and what was expected.
    #[error("{0}")]
    Wrong(String),
    /// Somebody else has written the file since it was read or written here.
    #[error("{path}: another program has changed this file since it was opened; nothing was written")]
    Changed {
        /// The file.
        path: String,
    },
}
