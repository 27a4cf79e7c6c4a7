//! What is selected on the desk.

/// What is selected, or a row of the board.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    /// A position by id.
    Position(String),
    /// A companion by key.
    Companion(String),
}
