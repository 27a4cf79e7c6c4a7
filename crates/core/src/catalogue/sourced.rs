//! Sources that nobody can read, and those that speak of nothing.

use super::build::Ctx;
use crate::library::{LibraryFile, Table};
use crate::meant::{nearest, then};
use crate::source::Source;
use crate::sources::{Spec, each_spec, is_above};

pub(super) fn sourced(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (file, content) in files {
        let mut told = Vec::new();
        unread(content, &mut told);
        if is_said(content) {
            let mut specs = Vec::new();
            each_spec(&ctx.cat, content, |spec| specs.push(spec));
            of_nothing(content, &specs, &mut told);
        }
        for (path, message) in told {
            ctx.faults.warn(file, path, message);
        }
    }
}

/// Whether some source of a file speaks of a path.
fn is_said(file: &LibraryFile) -> bool {
    !file.sources.is_empty()
        || file.parts.values().any(|of| !of.sources.is_empty())
        || file.port_types.values().any(|of| !of.sources.is_empty())
        || file.vehicles.values().any(|of| !of.sources.is_empty())
}

fn unread(file: &LibraryFile, told: &mut Vec<(String, String)>) {
    let mut one = |path: &str, word: &str, source: &str, sources: &Table<String>| {
        let at = |word: String| if path.is_empty() { word } else { format!("{path}.{word}") };
        if !source.trim().is_empty()
            && let Err(why) = Source::parse(source)
        {
            told.push((at(word.to_owned()), why));
        }
        for (of, source) in sources {
            if let Err(why) = Source::parse(source) {
                told.push((at(format!("sources.{of}")), why));
            }
        }
    };
    let none = Table::new();
    one("", "source", &file.source, &file.sources);
    if let Some(said) = &file.first_time {
        one("first_time", "source", &said.source, &none);
    }
    for (id, part) in &file.parts {
        if !(part.source.is_empty() && part.sources.is_empty()) {
            one(&format!("parts.{id}"), "source", &part.source, &part.sources);
        }
    }
    for (id, of) in &file.port_types {
        one(&format!("port_types.{id}"), "source", &of.source, &of.sources);
        for (n, again) in of.later.iter().enumerate() {
            one(&format!("port_types.{id}.later[{n}]"), "source", &again.source, &none);
        }
    }
    for (id, of) in &file.vehicles {
        one(&format!("vehicles.{id}"), "source", &of.source, &of.sources);
    }
    for (id, limit) in &file.limits {
        one(&format!("limits.{id}"), "source", &limit.source, &none);
    }
    for (id, class) in &file.classes {
        if let Some(lasts) = &class.lasts {
            one(&format!("classes.{id}.lasts"), "source", &lasts.source, &none);
        }
    }
    for (id, opening) in &file.openings {
        for (n, again) in opening.later.iter().enumerate() {
            one(&format!("openings.{id}.later[{n}]"), "source", &again.source, &none);
        }
    }
}

/// Paths of `sources` at which no number stands.
fn of_nothing(file: &LibraryFile, specs: &[Spec], told: &mut Vec<(String, String)>) {
    let mut one = |at: String, sources: &Table<String>, paths: &dyn Fn() -> Vec<String>| {
        if sources.is_empty() {
            return;
        }
        let paths = paths();
        for of in sources.keys().filter(|of| !paths.iter().any(|path| is_above(of, path))) {
            let near = nearest(of, paths.iter().map(String::as_str));
            let rest = then(near, "name a number, or what it stands in, by its path below this");
            told.push((format!("{at}sources.{of}"), format!("no number stands at \"{of}\"{rest}")));
        }
    };
    one(String::new(), &file.sources, &|| specs.iter().map(Spec::to_string).collect());
    let below = |table: &'static str, id: &str| -> Vec<String> {
        let of = specs.iter().filter(|spec| spec.table.word() == table && spec.id == id);
        of.map(|spec| spec.path.clone()).collect()
    };
    for (id, of) in &file.parts {
        one(format!("parts.{id}."), &of.sources, &|| below("parts", id));
    }
    for (id, of) in &file.port_types {
        one(format!("port_types.{id}."), &of.sources, &|| below("port_types", id));
    }
    for (id, of) in &file.vehicles {
        one(format!("vehicles.{id}."), &of.sources, &|| below("vehicles", id));
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use serde_json::{Value as Json, json};

    use crate::Catalogue;
    use crate::library::LibraryFile;

    const LIST: &str =
        "A source begins with one of standard, handbook, common practice, from memory, measured, invented";

    fn told(change: impl FnOnce(&mut Json)) -> Vec<String> {
        let mut file = json!({
            "format": 1, "source": "invented", "sources": {"parts": "from memory"},
            "systems": {"all": {"name": "All"}},
            "classes": {"pumps": {"name": "Pump", "decided": "owner", "lasts": {"time": "10 years", "why": "w", "source": "from memory"}}},
            "figures": {"flow": {"name": "flow", "kind": "flow"}},
            "parts": {"pump": {"name": "Pump", "class": "pumps", "price": "1 USD", "figures": {"flow": "20 L/h"},
                      "source": "common practice", "sources": {"figures": "measured: on the bench"}}},
            "vehicles": {"cart": {"name": "Cart", "positions": {
                "pump": {"name": "Pump", "system": "all", "class": "pumps", "as_found": "pump"}}}}
        });
        change(&mut file);
        let file: LibraryFile = serde_json::from_value(file).unwrap();
        let faults = Catalogue::new(vec![("cart".to_owned(), file)]).1;
        faults
            .into_iter()
            .filter(|f| f.path.contains("source"))
            .map(|f| format!("{}: {}", f.path, f.message))
            .collect()
    }

    #[test]
    fn a_source_that_is_none_is_told_wherever_it_stands() {
        assert_eq!(told(|_| ()), [""; 0]);
        for pointer in [
            "/source",
            "/sources/parts",
            "/parts/pump/source",
            "/parts/pump/sources/figures",
            "/classes/pumps/lasts/source",
        ] {
            let told = told(|file| *file.pointer_mut(pointer).unwrap() = json!("form memory"));
            let path = pointer[1..].replace('/', ".");
            assert_eq!(
                told,
                [format!(
                    "{path}: \"form memory\" is no kind of source; did you mean \"from memory\"? {LIST}"
                )]
            );
        }
    }

    #[test]
    fn a_source_of_nothing_is_told() {
        let of_part = told(|file| file["parts"]["pump"]["sources"] = json!({"figures.flwo": "measured"}));
        assert_eq!(
            of_part,
            [
                "parts.pump.sources.figures.flwo: no number stands at \"figures.flwo\"; did you mean \"figures.flow\"? Name a number, or what it stands in, by its path below this"
            ]
        );
        let of_file = told(|file| file["sources"] = json!({"port_types": "from memory"}));
        assert_eq!(of_file.len(), 1, "{of_file:?}");
        assert!(
            of_file[0].starts_with("sources.port_types: no number stands at \"port_types\""),
            "{of_file:?}"
        );
        assert_eq!(told(|file| file["sources"] = json!({"parts.pump": "from memory"})), [""; 0]);
    }
}
