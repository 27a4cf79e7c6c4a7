//! What leaves the program: buy list, assessment and figures as CSV, text and JSON, and a library as a page. Knows nothing of files or screens.
pub mod buy_csv;
pub mod compare;
pub mod figures;
pub mod found;
pub mod jobs;
pub mod json;
pub mod library_page;
pub mod look_twice;
pub mod sources;
pub mod survey;
pub mod text;
pub mod together;
