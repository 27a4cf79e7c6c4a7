//! The schemas of files, as they are stored: an editor completes and checks words by them.

/// That of a library's file, as JSON text.
pub const LIBRARY: &str = include_str!("../../../assets/schema/library.schema.json");
/// That of a sheet, as JSON text.
pub const SHEET: &str = include_str!("../../../assets/schema/sheet.schema.json");
