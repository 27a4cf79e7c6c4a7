//! How the desk looks: colours and measures, fonts, shapes, text, and the rows that views share.

pub mod budget_bar;
pub mod choice_row;
pub mod column;
pub mod fold;
pub mod icons;
pub mod list_entry;
pub mod margin;
pub mod text;
pub mod theme;
pub mod tick_box;
pub mod tokens;
pub mod typed;
