//! A word that is misspelt where it is defined is told there, once, and not wherever it is used as it should be.

use std::collections::BTreeMap;

use serde_json::Value as Json;

use super::check::{Fault, Faults, Missing};
use crate::library::LibraryFile;
use crate::showing::count;

/// From so many uses on the definition is what is wrong: of one against one nobody knows.
const MANY: usize = 2;

/// Puts the faults of words that several things name and nobody defines at the near word that is defined and nobody
/// names.
pub(super) fn at_their_cause(files: &[(String, LibraryFile)], faults: &mut Faults) {
    let mut uses: BTreeMap<(&'static str, String, String), Vec<usize>> = BTreeMap::new();
    for Missing { table, id, near, fault } in std::mem::take(&mut faults.missing) {
        uses.entry((table, near, id)).or_default().push(fault);
    }
    uses.retain(|_, faults| faults.len() >= MANY);
    if uses.is_empty() {
        return;
    }
    let written: Vec<Json> = files.iter().filter_map(|(_, file)| serde_json::to_value(file).ok()).collect();
    let mut told_at_cause: Vec<usize> = Vec::new();
    let mut causes: Vec<Fault> = Vec::new();
    for ((table, near, id), uses) in uses {
        let of = |file: &Json| file.get(table).is_some_and(|entries| entries.get(&near).is_some());
        let Some(at) = written.iter().position(of) else { continue };
        if written.iter().any(|file| names(file, &near, Some(table))) {
            continue;
        }
        causes.push(Fault {
            file: files[at].0.clone(),
            path: format!("{table}.{near}"),
            message: format!(
                "\"{id}\" is named {} and defined nowhere, and nothing names \"{near}\"; write \"{id}\" here, or \
                 \"{near}\" there",
                count(uses.len(), "time", "times")
            ),
            warning: false,
        });
        told_at_cause.extend(uses);
    }
    told_at_cause.sort_unstable();
    let mut at = 0;
    faults.list.retain(|_| {
        at += 1;
        told_at_cause.binary_search(&(at - 1)).is_err()
    });
    faults.list.extend(causes);
}

/// Whether a word stands anywhere but as the id of an entry of its table.
fn names(json: &Json, word: &str, table: Option<&str>) -> bool {
    match json {
        Json::String(text) => text == word,
        Json::Array(list) => list.iter().any(|json| names(json, word, None)),
        Json::Object(entries) => entries.iter().any(|(key, inner)| {
            if table == Some(key.as_str()) {
                return inner.as_object().is_some_and(|all| all.values().any(|json| names(json, word, None)));
            }
            key == word || names(inner, word, None)
        }),
        _ => false,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use serde_json::{Value as Json, json};

    use crate::Catalogue;
    use crate::library::LibraryFile;

    /// Paths of the faults of a cart with two pumps; `from` is written `to` at a place.
    fn faults(change: impl FnOnce(&mut Json)) -> Vec<(String, String)> {
        let mut file = json!({
            "format": 1,
            "systems": {"all": {"name": "All"}},
            "classes": {"pump": {"name": "Pump", "decided": "owner"}},
            "parts": {
                "old": {"name": "Pump", "class": "pump", "price": "1 USD"},
                "new": {"name": "Pump", "class": "pump", "price": "1 USD"}
            },
            "vehicles": {"cart": {"name": "Cart", "positions": {
                "left": {"name": "Pump", "system": "all", "class": "pump", "as_found": "old"}}}}
        });
        change(&mut file);
        let file: LibraryFile = serde_json::from_value(file).unwrap();
        let faults = Catalogue::new(vec![("cart".to_owned(), file)]).1;
        faults.into_iter().filter(|f| !f.warning).map(|f| (f.path, f.message)).collect()
    }

    fn renamed(file: &mut Json, word: &str) {
        let class = file["classes"].as_object_mut().unwrap().remove("pump").unwrap();
        file["classes"][word] = class;
    }

    #[test]
    fn a_word_misspelt_where_it_is_defined_is_told_there_and_alone() {
        let told = faults(|file| renamed(file, "pmup"));
        assert_eq!(
            told,
            [(
                "classes.pmup".to_owned(),
                "\"pump\" is named 3 times and defined nowhere, and nothing names \"pmup\"; write \"pump\" here, or \
                 \"pmup\" there"
                    .to_owned()
            )]
        );
    }

    #[test]
    fn a_word_misspelt_where_it_is_used_is_told_there() {
        let told = faults(|file| file["parts"]["new"]["class"] = json!("pmup"));
        assert_eq!(told.len(), 1);
        assert_eq!(told[0].0, "parts.new.class");
        // one against two, and the word that is defined is used as well
        let told = faults(|file| {
            file["parts"]["new"]["class"] = json!("pmup");
            file["parts"]["old"]["class"] = json!("pmup");
        });
        let paths: Vec<&str> = told.iter().map(|(path, _)| path.as_str()).collect();
        assert!(paths.contains(&"parts.new.class") && paths.contains(&"parts.old.class"), "{told:?}");
    }

    #[test]
    fn of_one_use_against_one_definition_nobody_knows() {
        let told = faults(|file| {
            renamed(file, "pmup");
            file["parts"] = json!({"old": {"name": "Pump", "class": "pmup", "price": "1 USD"}});
        });
        assert_eq!(told.len(), 1, "{told:?}");
        assert_eq!(told[0].0, "vehicles.cart.positions.left.class");
    }
}
