//! Whether the values of two ports of one type agree: every field by its rule. It knows rules and values, and no library.

use crate::library::{FieldDef, Role, Rule};
use crate::value::{Kind, Value, Verdict3, compare};

/// A field of a port type: id, definition, kind, tolerance of `equal` in SI.
pub(crate) type Field = (String, FieldDef, Kind, f64);

/// One of two ports that meet: who gives, and its values in the order of the fields.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Side<'a> {
    pub role: Role,
    pub values: &'a [Option<Value>],
}

/// The worst field of a comparison.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Agreement {
    pub verdict: Verdict3,
    /// The field that decides; `None` where all holds, the types differ or both give.
    pub field: Option<usize>,
}

/// Two givers or two takers cannot be joined directly.
pub(crate) fn is_same_side(a: Role, b: Role) -> bool {
    a == b && a != Role::Plain
}

/// The worst of all fields; of several as bad, one that every port has before one that may be left out: studs of another
/// thread are told by their thread, though their hand differs too.
pub(crate) fn worst(fields: &[Field], a: Side<'_>, b: Side<'_>) -> Agreement {
    let mut worst = Agreement { verdict: Verdict3::Holds, field: None };
    let may_lack = |field: usize| fields.get(field).is_some_and(|(_, def, ..)| def.optional);
    for (field, verdict) in each_field(fields, a, b) {
        let says_more =
            verdict == worst.verdict && worst.field.is_some_and(|other| may_lack(other) && !may_lack(field));
        if verdict > worst.verdict || says_more {
            worst = Agreement { verdict, field: Some(field) };
            if verdict == Verdict3::Broken && !may_lack(field) {
                break;
            }
        }
    }
    worst
}

/// The fields that are compared, and how each agrees.
pub(crate) fn each_field<'a>(
    fields: &'a [Field],
    a: Side<'a>,
    b: Side<'a>,
) -> impl Iterator<Item = (usize, Verdict3)> + 'a {
    let a_gives = a.role == Role::Give || b.role == Role::Take || b.role != Role::Give;
    let (give, take) = if a_gives { (a.values, b.values) } else { (b.values, a.values) };
    fields.iter().enumerate().filter(|(_, (_, def, ..))| def.rule != Rule::Told).filter_map(
        move |(i, (_, def, _, within))| {
            let (Some(Some(g)), Some(Some(t))) = (give.get(i), take.get(i)) else { return None };
            Some((i, compare(def, *within, g, t)))
        },
    )
}

#[cfg(test)]
mod tests;
