//! Paper and files: which report of the sheet, in which format, and where it goes; written off the frame.

pub mod form;
pub mod photos;
pub mod state;
pub mod write;
