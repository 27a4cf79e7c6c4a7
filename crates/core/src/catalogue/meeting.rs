//! Two ports of the library that meet.

use super::{Catalogue, PortEntry};
use crate::agree::{self, Agreement, Field, Side};
use crate::value::Verdict3;

impl PortEntry {
    fn side(&self) -> Side<'_> {
        Side { role: self.role, values: &self.values }
    }
}

fn fields<'a>(cat: &'a Catalogue, port: &PortEntry) -> Option<&'a [Field]> {
    cat.port_types.get(port.port_type).map(|t| t.fields.as_slice())
}

/// Two givers or two takers cannot be joined directly.
pub(crate) fn same_side(a: &PortEntry, b: &PortEntry) -> bool {
    agree::is_same_side(a.role, b.role)
}

/// Whether two ports agree.
pub(crate) fn agree(cat: &Catalogue, a: &PortEntry, b: &PortEntry) -> Agreement {
    match fields(cat, a) {
        Some(fields) if a.port_type == b.port_type && !same_side(a, b) => {
            agree::worst(fields, a.side(), b.side())
        }
        _ => Agreement { verdict: Verdict3::Broken, field: None },
    }
}

/// Whether the fields of two ports of one type agree, whoever gives.
pub(crate) fn fields_agree(cat: &Catalogue, a: &PortEntry, b: &PortEntry) -> Verdict3 {
    match fields(cat, a) {
        Some(fields) if a.port_type == b.port_type => agree::worst(fields, a.side(), b.side()).verdict,
        _ => Verdict3::Broken,
    }
}

/// The fields of two ports of one type that are compared, and how each agrees.
pub(crate) fn each_field<'a>(
    cat: &'a Catalogue,
    a: &'a PortEntry,
    b: &'a PortEntry,
) -> impl Iterator<Item = (usize, Verdict3)> + 'a {
    agree::each_field(fields(cat, a).unwrap_or_default(), a.side(), b.side())
}
