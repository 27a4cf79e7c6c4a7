//! Values that resolve and that nothing in the library answers: a word written wrong, a need beyond what is offered, a
//! port type no joint has.

use std::collections::{BTreeMap, HashMap, HashSet};

use serde_json::Value as Json;

use super::build::Ctx;
use super::{Catalogue, ClassId, NeedId, PortNameId, PortTypeId};
use crate::library::{FieldDef, LibraryFile, NeedRule, Rule};
use crate::value::{Kind, Value, Verdict3, compare};

/// Shorter words than this are sizes and marks: one letter makes another of them.
const SHORTEST: usize = 4;

pub(super) fn values(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    words_written_wrong(files, ctx);
    needs_beyond_what_is_offered(files, ctx);
    port_types_nobody_uses(files, ctx);
}

/// Where a word stands first, and how often.
struct Word<'a> {
    file: &'a str,
    path: String,
    times: usize,
}

/// Words of port fields that stand once in all the library, one letter off another word of the same field.
fn words_written_wrong(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let mut fields: BTreeMap<(&str, &str), BTreeMap<&str, Word<'_>>> = BTreeMap::new();
    for (file, content) in files {
        for (id, part) in &content.parts {
            for (port, written) in &part.ports {
                for (field, json) in &written.fields {
                    if !is_word(&ctx.cat, &written.port_type, field) {
                        continue;
                    }
                    let words = fields.entry((&written.port_type, field)).or_default();
                    let all = json.as_array().map_or_else(|| std::slice::from_ref(json), Vec::as_slice);
                    for word in all.iter().filter_map(Json::as_str) {
                        let path = format!("parts.{id}.ports.{port}.fields.{field}");
                        words.entry(word).or_insert(Word { file, path, times: 0 }).times += 1;
                    }
                }
            }
        }
    }
    for ((port_type, field), words) in &fields {
        let defined = files.iter().filter_map(|(_, f)| f.port_types.get(*port_type)?.fields.get(*field));
        let defined: HashSet<&str> =
            defined.flat_map(|d| d.words.iter().flatten()).map(String::as_str).collect();
        for (word, place) in words {
            if place.times > 1 || defined.contains(word) {
                continue;
            }
            let others = words.iter().map(|(other, o)| (*other, o.times)).filter(|(o, _)| o != word);
            let others = others.chain(defined.iter().map(|d| (*d, usize::MAX)));
            // of two that both stand once, the later in the alphabet is no more wrong than the first: told once
            let near = others
                .filter(|(other, times)| (*times > 1 || *other > *word) && one_slip(word, other))
                .max_by(|a, b| a.1.cmp(&b.1).then_with(|| b.0.cmp(a.0)));
            if let Some((near, _)) = near {
                let message = format!(
                    "\"{word}\" stands nowhere else in this field; did you mean \"{near}\"? Words meet only where they are the same"
                );
                ctx.faults.warn(place.file, place.path.clone(), message);
            }
        }
    }
}

fn is_word(cat: &Catalogue, port_type: &str, field: &str) -> bool {
    let found = cat.port_type_names.get(port_type).and_then(|ix| cat.port_types.get(ix));
    found.is_some_and(|t| t.fields.iter().any(|(name, _, kind, _)| name == field && *kind == Kind::Word))
}

/// Whether one slip of the keyboard makes one word of the other; digits tell things apart on purpose.
fn one_slip(a: &str, b: &str) -> bool {
    let long = |word: &str| word.chars().count() >= SHORTEST;
    let digits = |word: &str| word.chars().filter(char::is_ascii_digit).collect::<String>();
    long(a) && long(b) && digits(a) == digits(b) && strsim::osa_distance(a, b) == 1
}

/// Needs whose value no part and no vehicle reaches, though some offer less.
fn needs_beyond_what_is_offered(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    // many parts ask for the same
    let mut asked: HashMap<(NeedId, &str), Option<String>> = HashMap::new();
    for (file, content) in files {
        for (id, part) in &content.parts {
            for (table, word) in [(&part.needs, "needs"), (&part.advises, "advises")] {
                for (need, text) in table {
                    let Some(ix) = ctx.cat.need_names.get(need) else { continue };
                    let most = asked.entry((ix, text)).or_insert_with(|| unmet(&ctx.cat, ix, text));
                    let Some(most) = most else { continue };
                    let message = format!(
                        "no part and no vehicle offers \"{need}\" of \"{text}\", they offer {most}; add a part that does"
                    );
                    ctx.faults.warn(file, format!("parts.{id}.{word}.{need}"), message);
                }
            }
        }
    }
}

/// What is offered of a need, where none of it is enough; `None` where something is, or nobody offers it at all.
fn unmet(cat: &Catalogue, need: NeedId, text: &str) -> Option<String> {
    let def = cat.needs.get(need)?;
    let wanted = Value::read_text(text, Kind::from_word(&def.kind)?).ok()?;
    let rule = match def.rule {
        NeedRule::AtLeast => Rule::AtLeast,
        NeedRule::Inside => Rule::Inside,
    };
    let field = FieldDef { rule, ..FieldDef::default() };
    let offering = cat.offered_by.get(need)?;
    let of_parts = offering.iter().flat_map(|p| &cat.parts[*p].offers);
    let of_vehicles = cat.vehicles.values().flat_map(|v| &v.offers);
    let mut offered = Vec::new();
    for (_, value) in of_parts.chain(of_vehicles).filter(|(n, _)| *n == need) {
        // whoever only has it has as much as is wanted
        let value = value.as_ref()?;
        if compare(&field, 0.0, value, &wanted) != Verdict3::Broken {
            return None;
        }
        offered.push(format!("\"{}\"", value.text()));
    }
    offered.sort();
    offered.dedup();
    (!offered.is_empty()).then(|| offered.join(", "))
}

/// Port types that no joint of any vehicle has, nor a bridge between them.
fn port_types_nobody_uses(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let mut met: HashSet<(ClassId, PortNameId)> = HashSet::new();
    for vehicle in ctx.cat.vehicles.values() {
        for (position, port) in vehicle.joints.values().flat_map(|j| &j.ends) {
            met.insert((vehicle.positions[*position].class, *port));
        }
    }
    let mut used: HashSet<PortTypeId> = HashSet::new();
    for part in ctx.cat.parts.values() {
        used.extend(
            part.ports.iter().filter(|p| met.contains(&(part.class, p.name_ix))).map(|p| p.port_type),
        );
    }
    // a chain of bridges may have a type of its own in its middle
    loop {
        let before = used.len();
        for part in ctx.cat.parts.values() {
            if let Some((a, b)) = part.bridge {
                let (a, b) = (part.ports[a].port_type, part.ports[b].port_type);
                if used.contains(&a) || used.contains(&b) {
                    used.extend([a, b]);
                }
            }
        }
        if used.len() == before {
            break;
        }
    }
    for (file, content) in files {
        for id in content.port_types.keys() {
            if ctx.cat.port_type_names.get(id).is_some_and(|ix| !used.contains(&ix)) {
                let message = "no joint of any vehicle has a port of this type; add the joint or take the port type out";
                ctx.faults.warn(file, format!("port_types.{id}"), message.to_owned());
            }
        }
    }
}
