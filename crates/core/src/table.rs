//! A table of the library and of sheets.

use std::collections::BTreeMap;

/// Table keyed by id, in stable order.
pub type Table<T> = BTreeMap<String, T>;
