//! Whether two ports agree: every field by the rule of its type.

use crate::catalogue::{Catalogue, PortEntry};
use crate::library::{Role, Rule};
use crate::value::{Verdict3, compare};

/// The worst field of a comparison.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Agreement {
    pub verdict: Verdict3,
    /// The field that decides; `None` where the types differ or both give.
    pub field: Option<usize>,
}

/// Two givers or two takers cannot be joined directly.
pub(crate) fn same_side(a: &PortEntry, b: &PortEntry) -> bool {
    a.role == b.role && a.role != Role::Plain
}

pub(crate) fn agree(cat: &Catalogue, a: &PortEntry, b: &PortEntry) -> Agreement {
    if a.port_type != b.port_type || same_side(a, b) {
        return Agreement { verdict: Verdict3::Broken, field: None };
    }
    fields(cat, a, b)
}

/// Whether the fields of two ports of one type agree, whoever gives.
pub(crate) fn fields_agree(cat: &Catalogue, a: &PortEntry, b: &PortEntry) -> Verdict3 {
    if a.port_type == b.port_type { fields(cat, a, b).verdict } else { Verdict3::Broken }
}

fn fields(cat: &Catalogue, a: &PortEntry, b: &PortEntry) -> Agreement {
    let mut worst = Agreement { verdict: Verdict3::Holds, field: None };
    if a.port_type as usize >= cat.port_types.len() {
        return Agreement { verdict: Verdict3::Broken, field: None };
    }
    for (field, verdict) in each_field(cat, a, b) {
        if verdict > worst.verdict {
            worst = Agreement { verdict, field: Some(field) };
            if verdict == Verdict3::Broken {
                break;
            }
        }
    }
    worst
}

/// The fields of two ports of one type that are compared, and how each agrees.
pub(crate) fn each_field<'a>(
    cat: &'a Catalogue,
    a: &'a PortEntry,
    b: &'a PortEntry,
) -> impl Iterator<Item = (usize, Verdict3)> + 'a {
    let a_gives = a.role == Role::Give || b.role == Role::Take || b.role != Role::Give;
    let (give, take) = if a_gives { (a, b) } else { (b, a) };
    let defs = cat.port_types.get(a.port_type as usize).map_or(&[][..], |t| &t.fields);
    defs.iter().enumerate().filter(|(_, (_, def, ..))| def.rule != Rule::Told).filter_map(
        |(i, (_, def, _, within))| {
            let (Some(Some(g)), Some(Some(t))) = (give.values.get(i), take.values.get(i)) else {
                return None;
            };
            Some((i, compare(def, *within, g, t)))
        },
    )
}

#[cfg(test)]
mod tests;
