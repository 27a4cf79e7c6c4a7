//! A value at a port of a part, wherever it is asked for.

use crate::catalogue::{PartId, PortEntry, PositionId};
use crate::value::Value;

/// A value at a port of a part; the position is none for a bridge.
pub(super) struct PortValue<'a> {
    pub pos: Option<PositionId>,
    pub part: PartId,
    pub port: &'a PortEntry,
    pub field: usize,
    /// Where the same can be measured instead.
    pub instead: Option<Box<Self>>,
}

impl PortValue<'_> {
    /// The same value of the same part.
    pub fn is_of(&self, other: &Self) -> bool {
        (self.part, self.port.name_ix, self.field) == (other.part, other.port.name_ix, other.field)
    }
}

/// An end that touches another, with its part.
pub(super) type End<'a> = (Option<PositionId>, PartId, &'a PortEntry);

/// What it is.
pub(super) fn value<'a>(at: &PortValue<'a>) -> Option<&'a Value> {
    at.port.values.get(at.field)?.as_ref()
}

/// Nobody has measured it, or a part of it.
pub(super) fn is_unknown(value: Option<&Value>) -> bool {
    match value {
        Some(Value::OneOf(items)) => items.iter().any(|item| is_unknown(Some(item))),
        value => matches!(value, Some(Value::Unknown(_))),
    }
}
