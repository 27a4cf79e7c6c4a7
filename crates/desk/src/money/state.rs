//! What the money page keeps.

use crate::look::typed::Fields;

/// What the page keeps.
#[derive(Clone, Debug, Default)]
pub struct MoneyState {
    /// What is being typed into its fields.
    pub fields: Fields,
}
