//! What leaves the program: buy list and assessment as CSV, text and JSON. Knows nothing of files or screens.
pub mod buy_csv;
pub mod json;
pub mod text;
