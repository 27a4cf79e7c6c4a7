//! Where the numbers behind an assessment come from, as JSON.

use std::collections::BTreeMap;

use knockon_core::reason::ReasonId;
use knockon_core::sources::Spec;
use knockon_core::{Assessment, Catalogue};
use serde_json::{Map, Value, json};

/// The numbers that a finding rests on, by their keys in [`json`].
pub(crate) fn rests_on(a: &Assessment, root: ReasonId) -> Vec<String> {
    let read = a.read(root);
    let measured = read.measured.keys().map(|key| format!("measured:{key}"));
    read.specs.iter().map(Spec::to_string).chain(measured).collect()
}

/// Each number that a finding rests on, by its path in the library, or as `measured:` and its key in the sheet: its
/// `value` as written, and its `source`, null where the library names none. A limit has no value of its own: its source
/// is that of the rule.
#[must_use]
pub fn json(a: &Assessment, catalogue: &Catalogue) -> Value {
    let roots = (a.companions.iter().map(|c| c.reason))
        .chain(a.clashes.iter().map(|c| c.reason))
        .chain(a.unmet.iter().map(|u| u.reason))
        .chain(a.close.iter().map(|c| c.reason))
        .chain(a.surplus.iter().map(|s| s.reason))
        .chain(a.to_measure.iter().map(|t| t.reason))
        .chain(a.later.iter().map(|l| l.reason));
    let mut out: BTreeMap<String, Value> = BTreeMap::new();
    for root in roots {
        let read = a.read(root);
        for spec in &read.specs {
            out.entry(spec.to_string()).or_insert_with(|| {
                let source = catalogue.source(spec);
                json!({
                    "value": Some(&spec.value).filter(|value| !value.is_empty()),
                    "kind": source.as_ref().map(|source| source.kind.word()),
                    "source": source.map(|source| source.to_string()),
                })
            });
        }
        for (key, value) in &read.measured {
            out.entry(format!("measured:{key}"))
                .or_insert_with(|| json!({"value": value, "kind": "measured", "source": "measured"}));
        }
    }
    Value::Object(out.into_iter().collect::<Map<_, _>>())
}
