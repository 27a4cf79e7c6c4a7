//! What is selected on the desk.

use knockon_core::key::CompanionKey;

/// What is selected, or a row of the board.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    /// A position by id.
    Position(String),
    /// A companion by key.
    Companion(CompanionKey),
}
