//! Finds the ports that could match a port without walking all of them.

use std::hash::{Hash, Hasher};

use rustc_hash::{FxHashMap, FxHasher};

use super::{KeyField, Numbered, PartId, PortEntry, PortTypeEntry, PortTypeId};
use crate::value::Value;

/// Where a port stands: part and place among its ports.
pub type PortRef = (PartId, u16);

/// Ports by type and by the value of the type's key field.
#[derive(Clone, Debug, Default)]
pub struct PortIndex {
    keyed: FxHashMap<(PortTypeId, u64), Vec<PortRef>>,
    wild: FxHashMap<PortTypeId, Vec<PortRef>>,
    all: FxHashMap<PortTypeId, Vec<PortRef>>,
}

/// More steps than this and a window is compared one by one.
const MOST_STEPS: i64 = 32;

fn hash(word: &str) -> u64 {
    let mut hasher = FxHasher::default();
    word.hash(&mut hasher);
    hasher.finish()
}

/// The buckets of a value, from and to; a word has a bucket of its own.
fn buckets(value: &Value, key: KeyField, within: f64) -> Option<(u64, u64)> {
    let step = |x: f64, width: f64| (x / width).floor() as i64;
    match (key, value) {
        (KeyField::Equal(_), Value::Word(word)) => Some((hash(word), hash(word))),
        // two equal values differ by `within` at most, so they lie in the same or the next bucket
        (KeyField::Equal(_), Value::Quantity(q)) if q.tolerance == 0.0 => {
            let at = step(q.si, (within * 1.001).max(1e-7)) as u64;
            Some((at, at))
        }
        // two windows that overlap share a bucket, or touch at the edge of one
        (KeyField::Overlap(_, width), value) => {
            let (low, high) = value.bounds()?;
            let (from, to) = (step(low, width), step(high, width));
            (to.saturating_sub(from) <= MOST_STEPS).then_some((from as u64, to as u64))
        }
        _ => None,
    }
}

/// The buckets of a port, from and to.
enum Keys {
    One((u64, u64)),
    /// One of several values must do.
    Several(Vec<(u64, u64)>),
    /// It must be compared one by one.
    Wild,
}

impl Keys {
    fn list(&self) -> &[(u64, u64)] {
        match self {
            Self::One(key) => std::slice::from_ref(key),
            Self::Several(list) => list,
            Self::Wild => &[],
        }
    }
}

fn keys(types: &Numbered<PortTypeEntry>, port: &PortEntry) -> Keys {
    let Some(port_type) = types.get(port.port_type) else { return Keys::Wild };
    let Some(key) = port_type.key_field else { return Keys::Wild };
    let (KeyField::Equal(field) | KeyField::Overlap(field, _)) = key;
    let within = port_type.fields.get(field).map_or(0.0, |f| f.3);
    match port.values.get(field).and_then(Option::as_ref) {
        Some(Value::OneOf(items)) => {
            let all: Option<Vec<_>> = items.iter().map(|i| buckets(i, key, within)).collect();
            all.map_or(Keys::Wild, Keys::Several)
        }
        Some(value) => buckets(value, key, within).map_or(Keys::Wild, Keys::One),
        None => Keys::Wild,
    }
}

/// The buckets to look in for what could match: those of the port and their neighbours.
fn looked_in(from: u64, to: u64) -> impl Iterator<Item = u64> {
    let steps = to.wrapping_sub(from).wrapping_add(2);
    (0..=steps).map(move |i| from.wrapping_sub(1).wrapping_add(i))
}

impl PortIndex {
    /// Adds a port.
    pub fn add(&mut self, types: &Numbered<PortTypeEntry>, port: &PortEntry, at: PortRef) {
        let ty = port.port_type;
        self.all.entry(ty).or_default().push(at);
        let keys = keys(types, port);
        if matches!(keys, Keys::Wild) {
            self.wild.entry(ty).or_default().push(at);
        }
        for (from, to) in keys.list() {
            for bucket in 0..=to.wrapping_sub(*from) {
                self.keyed.entry((ty, from.wrapping_add(bucket))).or_default().push(at);
            }
        }
    }

    /// Ports that could match, in no special order, some of them twice; each must still be compared.
    pub fn candidates(&self, types: &Numbered<PortTypeEntry>, port: &PortEntry) -> Vec<PortRef> {
        let mut out = Vec::new();
        self.lists(types, port, |list| out.extend_from_slice(list));
        out
    }

    /// How many ports [`PortIndex::candidates`] gives.
    pub fn count(&self, types: &Numbered<PortTypeEntry>, port: &PortEntry) -> usize {
        let mut count = 0;
        self.lists(types, port, |list| count += list.len());
        count
    }

    fn lists<'a>(
        &'a self,
        types: &Numbered<PortTypeEntry>,
        port: &PortEntry,
        mut each: impl FnMut(&'a [PortRef]),
    ) {
        let ty = port.port_type;
        let keys = keys(types, port);
        if matches!(keys, Keys::Wild) {
            each(self.all.get(&ty).map_or(&[], Vec::as_slice));
            return;
        }
        each(self.wild.get(&ty).map_or(&[], Vec::as_slice));
        for (from, to) in keys.list() {
            for bucket in looked_in(*from, *to) {
                each(self.keyed.get(&(ty, bucket)).map_or(&[], Vec::as_slice));
            }
        }
    }
}
