//! Finds the ports that could match a port without walking all of them.

use std::collections::HashMap;
use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};

use super::{Ix, PortEntry, PortTypeEntry};
use crate::value::Value;

/// Where a port stands: part and place among its ports.
pub type PortRef = (Ix, u16);

/// Ports by type and by the value of the type's key field.
#[derive(Clone, Debug, Default)]
pub struct PortIndex {
    keyed: HashMap<(Ix, u64), Vec<PortRef>>,
    wild: HashMap<Ix, Vec<PortRef>>,
    all: HashMap<Ix, Vec<PortRef>>,
}

enum Key {
    Exact(u64),
    Bucket(i64),
    Wild,
}

fn key(types: &[PortTypeEntry], port: &PortEntry) -> Key {
    let Some(port_type) = types.get(port.port_type as usize) else { return Key::Wild };
    let Some(field) = port_type.key_field else { return Key::Wild };
    let within = port_type.fields.get(field).map_or(0.0, |f| f.3);
    match port.values.get(field) {
        Some(Some(Value::Word(word))) => {
            let mut hasher = DefaultHasher::new();
            word.hash(&mut hasher);
            Key::Exact(hasher.finish())
        }
        // two equal values differ by `within` at most, so they lie in the same or the next bucket
        Some(Some(Value::Quantity(q))) if q.tolerance == 0.0 => {
            Key::Bucket((q.si / within.max(1e-7)).floor() as i64)
        }
        _ => Key::Wild,
    }
}

impl PortIndex {
    /// Adds a port.
    pub fn add(&mut self, types: &[PortTypeEntry], port: &PortEntry, at: PortRef) {
        self.all.entry(port.port_type).or_default().push(at);
        match key(types, port) {
            Key::Exact(hash) => self.keyed.entry((port.port_type, hash)).or_default().push(at),
            Key::Bucket(bucket) => self.keyed.entry((port.port_type, bucket as u64)).or_default().push(at),
            Key::Wild => self.wild.entry(port.port_type).or_default().push(at),
        }
    }

    /// Ports that could match, in no special order; each must still be compared.
    pub fn candidates<'a>(
        &'a self,
        types: &[PortTypeEntry],
        port: &PortEntry,
    ) -> impl Iterator<Item = PortRef> + 'a {
        let ty = port.port_type;
        let empty: &'a [PortRef] = &[];
        let keyed = |hash: u64| self.keyed.get(&(ty, hash)).map_or(empty, Vec::as_slice);
        let wild = self.wild.get(&ty).map_or(empty, Vec::as_slice);
        let lists: [&'a [PortRef]; 4] = match key(types, port) {
            Key::Exact(hash) => [keyed(hash), wild, empty, empty],
            Key::Bucket(b) => [keyed(b as u64), keyed((b - 1) as u64), keyed((b + 1) as u64), wild],
            Key::Wild => [self.all.get(&ty).map_or(empty, Vec::as_slice), empty, empty, empty],
        };
        lists.into_iter().flatten().copied()
    }
}
