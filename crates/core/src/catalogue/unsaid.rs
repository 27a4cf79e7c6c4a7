//! What resolves and does not say enough: a port without a role, a part without its ports, a change that does not say
//! what is lost, a rule without its why or source, a word that meets nothing.

use std::collections::{BTreeMap, HashMap};

use serde_json::Value as Json;

use super::build::Ctx;
use super::{Catalogue, ClassId, PartId, PortNameId, PortTypeEntry};
use crate::library::{Again, LibraryFile, Part, Reversible, Role, Rule, Want};
use crate::meant::{nearest, then};
use crate::sources::is_above;
use crate::value::Kind;

/// So many other parts of a class have the port that one lacks, all of them: less may be meant.
const MANY: usize = 3;

pub(super) fn unsaid(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (file, content) in files {
        for (id, part) in &content.parts {
            let path = format!("parts.{id}");
            ports(file, &path, part, ctx);
            if part.reversible != Reversible::Yes && part.undone.trim().is_empty() {
                let message = "it cannot be undone, or only with repair, and does not say what is lost; write in \"undone\" what is lost \
                               and what to keep, measure or photograph first";
                ctx.faults.warn(file, format!("{path}.undone"), message.to_owned());
            }
        }
        reasons(file, content, ctx);
    }
    givers_and_takers(files, ctx);
    parts_without_ports(files, ctx);
}

/// Fields of a type that compare what is given with what is taken.
fn compares(entry: &PortTypeEntry) -> impl Iterator<Item = &str> {
    let is_so = |rule: Rule| matches!(rule, Rule::AtLeast | Rule::AtMost | Rule::Inside);
    entry.fields.iter().filter(move |(_, def, ..)| is_so(def.rule)).map(|(name, ..)| name.as_str())
}

fn ports(file: &str, path: &str, part: &Part, ctx: &mut Ctx) {
    for (name, port) in &part.ports {
        let of = |cat: &Catalogue| cat.port_type_names.get(&port.port_type);
        let Some(entry) = of(&ctx.cat).and_then(|ix| ctx.cat.port_types.get(ix)) else { continue };
        let here = format!("{path}.ports.{name}");
        let mut told = Vec::new();
        // what closes a port takes nothing through it
        if port.role == Role::Plain
            && name != "cap"
            && let Some(field) = compares(entry).next()
        {
            told.push((
                format!("{here}.role"),
                format!(
                    "\"{field}\" compares what one port gives with what the other takes; write \"role\": \"give\" or \"role\": \"take\""
                ),
            ));
        }
        for (field, def, kind, _) in &entry.fields {
            if def.rule != Rule::Mates || *kind != Kind::Word {
                continue;
            }
            let Some(json) = port.fields.get(field) else { continue };
            let known: Vec<&str> = def.words.iter().flatten().map(String::as_str).collect();
            let all = json.as_array().map_or_else(|| std::slice::from_ref(json), Vec::as_slice);
            let meets = |word: &str| word == "any" || word.starts_with("unknown") || known.contains(&word);
            for word in all.iter().filter_map(Json::as_str).map(str::trim).filter(|word| !meets(word)) {
                let list = then(
                    nearest(word, known.iter().copied()),
                    &format!("expected one of {}", known.join(", ")),
                );
                let message =
                    format!("\"{word}\" meets nothing: it is in none of the pairs of this field{list}");
                told.push((format!("{here}.fields.{field}"), message));
            }
        }
        for (path, message) in told {
            ctx.faults.warn(file, path, message);
        }
    }
}

/// Whether a text is missing where somebody asks why, or who says so.
fn reasons(file: &str, content: &LibraryFile, ctx: &mut Ctx) {
    let mut told: Vec<(String, &str)> = Vec::new();
    const WHY: &str = "nobody is told why; write in \"why\" what goes wrong, in half a sentence";
    const SOURCE: &str = "it does not say where it comes from; write a source, \"common practice\" or \"from memory\" in \"source\"";
    let mut look = |path: &str, word: &str, text: &str| {
        if text.trim().is_empty() {
            told.push((format!("{path}.{word}"), if word == "why" { WHY } else { SOURCE }));
        }
    };
    for (id, limit) in &content.limits {
        look(&format!("limits.{id}"), "why", &limit.why);
        look(&format!("limits.{id}"), "source", &limit.source);
    }
    for (id, class) in &content.classes {
        if let Some(lasts) = &class.lasts {
            look(&format!("classes.{id}.lasts"), "why", &lasts.why);
            look(&format!("classes.{id}.lasts"), "source", &lasts.source);
        }
    }
    let mut wants = |path: &str, wants: &[Want]| {
        wants.iter().enumerate().for_each(|(i, want)| look(&format!("{path}[{i}]"), "why", &want.why));
    };
    for (id, port_type) in &content.port_types {
        wants(&format!("port_types.{id}.opened"), &port_type.opened);
    }
    for (id, opening) in &content.openings {
        wants(&format!("openings.{id}.wants"), &opening.wants);
    }
    let mut later = |path: &str, list: &[Again]| {
        for (i, again) in list.iter().enumerate() {
            look(&format!("{path}[{i}]"), "why", &again.why);
            look(&format!("{path}[{i}]"), "source", &again.source);
        }
    };
    for (id, port_type) in &content.port_types {
        later(&format!("port_types.{id}.later"), &port_type.later);
    }
    for (id, opening) in &content.openings {
        later(&format!("openings.{id}.later"), &opening.later);
    }
    // the file may say it for all that is in it
    let is_of_file =
        |path: &str| !content.source.trim().is_empty() || content.sources.keys().any(|of| is_above(of, path));
    told.retain(|(path, message)| *message != SOURCE || !is_of_file(path));
    for (path, message) in told {
        ctx.faults.warn(file, path, message.to_owned());
    }
}

/// Joints where something is compared and nobody gives, or nobody takes.
fn givers_and_takers(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let mut roles: HashMap<(ClassId, PortNameId), Vec<Role>> = HashMap::new();
    for part in ctx.cat.parts.values() {
        for port in &part.ports {
            let is_compared =
                ctx.cat.port_types.get(port.port_type).is_some_and(|t| compares(t).next().is_some());
            if is_compared {
                let of = roles.entry((part.class, port.name_ix)).or_default();
                if !of.contains(&port.role) {
                    of.push(port.role);
                }
            }
        }
    }
    for (file, content) in files {
        for (vid, joint) in
            content.vehicles.iter().flat_map(|(vid, v)| v.joints.iter().map(move |j| (vid, j)))
        {
            let Some(v) = ctx.cat.vehicles.get(vid) else { continue };
            let ends = joint.1.ends.iter().filter_map(|end| {
                let class = v.positions[*v.position_ix.get(&end.at)?].class;
                roles.get(&(class, ctx.cat.port_names.get(&end.port)?))
            });
            let several = ends.clone().count() > 1;
            let all: Vec<&Role> = ends.flatten().collect();
            let has = |role: Role| all.contains(&&role);
            // a port without a role is told by itself
            let several = several && !has(Role::Plain);
            let what = match (has(Role::Give), has(Role::Take)) {
                (false, true) if several => ("takes", "gives", "give"),
                (true, false) if several => ("gives", "takes", "take"),
                _ => continue,
            };
            let message = format!(
                "every part that meets here {}, and none {}; write \"role\": \"{}\" at the ports of one end",
                what.0, what.1, what.2
            );
            ctx.faults.warn(file, format!("vehicles.{vid}.joints.{}", joint.0), message);
        }
    }
}

/// Parts that lack what all the others of their class have: every port that joints of their place want, or one that they
/// alone are without. What was found somewhere may be older than the port.
fn parts_without_ports(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let mut wanted: BTreeMap<ClassId, Vec<PortNameId>> = BTreeMap::new();
    for v in ctx.cat.vehicles.values() {
        for (place, port) in v.joints.values().flat_map(|j| &j.ends) {
            let of = wanted.entry(v.positions[*place].class).or_default();
            if !of.contains(port) {
                of.push(*port);
            }
        }
    }
    let mut lacking: HashMap<PartId, String> = HashMap::new();
    for (class, ports) in &wanted {
        let parts = &ctx.cat.by_class[*class];
        if parts.len() <= MANY {
            continue;
        }
        let has = |part: PartId, port: &PortNameId| ctx.cat.parts[part].port_ix(*port).is_some();
        let none: Vec<PartId> =
            parts.iter().copied().filter(|p| !ports.iter().any(|port| has(*p, port))).collect();
        if let [only] = none[..] {
            let names: Vec<&str> = ports.iter().map(|p| ctx.cat.port_names.id(*p)).collect();
            lacking.insert(only, names.join(", "));
        }
        for port in ports.iter().filter(|_| parts.len() > MANY + 1) {
            let without: Vec<PartId> = parts.iter().copied().filter(|p| !has(*p, port)).collect();
            if let [only] = without[..] {
                lacking.entry(only).or_insert_with(|| ctx.cat.port_names.id(*port).to_owned());
            }
        }
    }
    for (file, content) in files {
        for id in content.parts.keys().filter(|id| !ctx.found.contains(*id)) {
            let Some(names) = ctx.cat.part_names.get(id).and_then(|ix| lacking.get(&ix)) else { continue };
            let class = &content.parts[id].class;
            let message = format!(
                "every other part of the class \"{class}\" has what joints of its place want, and this one does not: {names}; \
                 add it"
            );
            ctx.faults.warn(file, format!("parts.{id}.ports"), message);
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]
mod tests;
