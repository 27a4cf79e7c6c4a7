//! Of two ends that came together one is enough to measure.
//!
//! In words. What lies between two ends is sought by what they say. Where they came together and must be equal in a field,
//! what is known at one of them holds for the other; where neither is known, one is asked for, and the other is told beside
//! it: first the one whose part stays on the vehicle, before one that is replaced by a new one of the same.

use super::bench::Bench;
use super::port_value::{End, PortValue, is_unknown, value};
use crate::catalogue::{JointId, PortEntry, PositionId};
use crate::library::Rule;
use crate::sheet::Route;
use crate::value::Value;

/// Whether a value is sure enough to hold for another end that must be equal.
fn is_known(value: Option<&Value>) -> bool {
    matches!(value, Some(Value::Quantity(_) | Value::Word(_)))
}

/// Whether what is not known at an end of a joint is known at the one that it came together with.
pub(super) fn known_at(bench: &Bench<'_>, joint: JointId, end: End<'_>, field: usize) -> bool {
    let of_end = |port: &PortEntry| is_unknown(port.values.get(field).and_then(Option::as_ref));
    let Some(pos) = end.0.filter(|_| of_end(end.2)) else { return false };
    bench.came_together(joint)
        && bench.must_be_equal(end.2, field)
        && bench.met_now(joint).ports.iter().take(2).any(|(other, port)| {
            *other != pos
                && port.port_type == end.2.port_type
                && is_known(port.values.get(field).and_then(Option::as_ref))
        })
}

impl<'a> Bench<'a> {
    /// Nothing changed at the ends of a joint, nor at those of its alternatives: what meets there came together.
    pub(super) fn came_together(&self, joint: JointId) -> bool {
        !self.ends_of_either(joint).any(|pos| self.slot(pos).changed)
    }

    fn must_be_equal(&self, port: &PortEntry, field: usize) -> bool {
        let fields = self.cat.port_types.get(port.port_type).map(|ty| &ty.fields);
        fields.and_then(|fields| fields.get(field)).is_some_and(|field| field.1.rule == Rule::Equal)
    }

    /// Of what is asked for at a joint, what one end answers for both once.
    pub(super) fn at_one_end(&self, joint: JointId, values: Vec<PortValue<'a>>) -> Vec<PortValue<'a>> {
        if !self.came_together(joint) {
            return values;
        }
        let mut out: Vec<PortValue<'a>> = Vec::new();
        for at in values {
            if known_at(self, joint, (at.pos, at.part, at.port), at.field) {
                continue;
            }
            let same = out.iter_mut().find(|first| self.is_one_with(first, &at));
            match same {
                Some(first) if self.is_replaced(first) && !self.is_replaced(&at) => {
                    let other = std::mem::replace(first, at);
                    first.instead = Some(Box::new(other));
                }
                Some(first) => first.instead = Some(Box::new(at)),
                None => out.push(at),
            }
        }
        out
    }

    /// Two ends of which neither is known, and that must be equal.
    fn is_one_with(&self, a: &PortValue<'_>, b: &PortValue<'_>) -> bool {
        let is_end = |at: &PortValue<'_>| at.pos.is_some() && is_unknown(value(at));
        is_end(a)
            && is_end(b)
            && a.pos != b.pos
            && (a.field, a.port.port_type) == (b.field, b.port.port_type)
            && self.must_be_equal(a.port, a.field)
    }

    /// A new one of the same goes in where it is.
    fn is_replaced(&self, at: &PortValue<'_>) -> bool {
        let is_renewed = |pos: PositionId| {
            matches!(self.owner[pos], Some((Route::Renew, _))) || self.found.renewed.contains(&pos)
        };
        at.pos.is_some_and(is_renewed)
    }
}

#[cfg(test)]
mod tests;
