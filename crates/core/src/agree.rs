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
    let Some(port_type) = cat.port_types.get(a.port_type as usize) else {
        return Agreement { verdict: Verdict3::Broken, field: None };
    };
    let a_gives = a.role == Role::Give || b.role == Role::Take || b.role != Role::Give;
    let (give, take) = if a_gives { (a, b) } else { (b, a) };
    let mut worst = Agreement { verdict: Verdict3::Holds, field: None };
    for (i, (_, def, _, within)) in port_type.fields.iter().enumerate() {
        if def.rule == Rule::Told {
            continue;
        }
        let (Some(Some(g)), Some(Some(t))) = (give.values.get(i), take.values.get(i)) else { continue };
        let verdict = compare(def, *within, g, t);
        if verdict > worst.verdict {
            worst = Agreement { verdict, field: Some(i) };
            if verdict == Verdict3::Broken {
                break;
            }
        }
    }
    worst
}
