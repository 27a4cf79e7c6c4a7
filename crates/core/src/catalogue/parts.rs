//! Parts: every word of theirs resolved, and the indexes that find them.

use std::cmp::Reverse;
use std::collections::HashSet;
use std::sync::Arc;

use serde_json::Value as Json;

use super::build::{Ctx, Placed, gather};
use super::{
    Catalogue, ClassId, ClassPorts, ContentEntry, Id, KeyField, Names, Numbered, PartEntry, PartId,
    PortEntry, PortNameId, PortTypeEntry, PortTypeId, Share, SpecId, cost_of, measured,
};
use crate::library::{Alone, Level, LibraryFile, Part, Port, Rule};
use crate::meant::{nearest, then};
use crate::units::Dimension;
use crate::value::{Kind, Value};

fn port(ctx: &mut Ctx, name: &str, port: &Port, file: &str, path: &str) -> Option<PortEntry> {
    let ty = ctx.look("port type", |c| &c.port_type_names, &port.port_type, file, format!("{path}.type"))?;
    let defs: Vec<(String, Kind, bool)> = ctx.cat.port_types.get(ty).map_or_else(Vec::new, |t| {
        t.fields.iter().map(|(n, d, k, _)| (n.clone(), *k, d.optional || d.rule == Rule::Told)).collect()
    });
    for field in port.fields.keys() {
        if !defs.iter().any(|(n, ..)| n == field)
            && !ctx.unread.contains(&format!("{}.{field}", port.port_type))
        {
            let known: Vec<&str> = defs.iter().map(|(n, ..)| n.as_str()).collect();
            let has = if known.is_empty() {
                "it has none".to_owned()
            } else {
                format!("it has {}", known.join(", "))
            };
            let has = then(nearest(field, known.iter().copied()), &has);
            ctx.faults.error(
                file,
                format!("{path}.fields.{field}"),
                format!("the port type \"{}\" has no field \"{field}\"{has}", port.port_type),
            );
        }
    }
    let mut values = Vec::new();
    for (field, kind, optional) in &defs {
        let here = format!("{path}.fields.{field}");
        match port.fields.get(field) {
            Some(json) => values.push(ctx.amount(json, *kind, file, here)),
            None if *optional => values.push(None),
            None => {
                ctx.faults.error(file, here, format!("the field \"{field}\" of a \"{}\" port is missing; where it is not known write \"unknown: how to measure it\"", port.port_type));
                values.push(Some(Value::Unknown(String::new())));
            }
        }
    }
    let name_ix = ctx.cat.port_names.get(name).unwrap_or(Id::UNKNOWN);
    let mut words = format!("{} {:?}", ty.number(), port.role);
    for json in port.fields.values() {
        words.push(' ');
        words.push_str(&json.to_string());
    }
    let next = SpecId::new(ctx.specs.len());
    let (spec, values) = ctx.specs.entry(words).or_insert_with(|| (next, Arc::from(values))).clone();
    Some(PortEntry { spec, name_ix, port_type: ty, role: port.role, alone: port.alone, values })
}

fn part(ctx: &mut Ctx, id: &str, part: &Part, file: &str) -> PartEntry {
    let path = format!("parts.{id}");
    let class = ctx.class(&part.class, file, format!("{path}.class")).unwrap_or(Id::UNKNOWN);
    let mut ports = Vec::new();
    for (name, written) in &part.ports {
        ports.extend(port(ctx, name, written, file, &format!("{path}.ports.{name}")));
    }
    let bridge = bridge(ctx, part, class, &ports, file, &path);
    let mut needs = Vec::new();
    for (table, word, level) in
        [(&part.needs, "needs", Level::Required), (&part.advises, "advises", Level::Advised)]
    {
        needs.extend(
            ctx.offer_list(table, file, &format!("{path}.{word}")).into_iter().map(|(n, v)| (n, v, level)),
        );
    }
    let offers = ctx.offer_list(&part.offers, file, &format!("{path}.offers"));
    let gives = ctx.pool_list(&part.gives, file, &format!("{path}.gives"));
    let takes = ctx.pool_list(&part.takes, file, &format!("{path}.takes"));
    let figures = ctx.figure_list(&part.figures, file, &format!("{path}.figures"));
    let sets = ctx.figure_list(&part.sets, file, &format!("{path}.sets"));
    let holds = holds(ctx, part, file, &path);
    let mut contents = Vec::new();
    for (i, content) in part.contents.iter().enumerate() {
        let here = format!("{path}.contents[{i}].part");
        let part = ctx.look("part", |c| &c.part_names, &content.part, file, here);
        let whereabouts = || content.whereabouts.clone();
        contents.extend(part.map(|part| ContentEntry { part, whereabouts: whereabouts(), qty: content.qty }));
    }
    let mut leaves_empty = Vec::new();
    for (i, class) in part.leaves_empty.iter().enumerate() {
        leaves_empty.extend(ctx.class_places(class, file, format!("{path}.leaves_empty[{i}]")));
    }
    cautions_and_price(ctx, id, part, file, &path);
    PartEntry {
        part: Box::new(part.clone()),
        class,
        in_pools: !gives.is_empty() || !takes.is_empty(),
        shares: {
            let given = gives.iter().map(|(pool, value)| Share::new(*pool, value, true));
            given.chain(takes.iter().map(|(pool, value)| Share::new(*pool, value, false))).collect()
        },
        has_job: ports.iter().any(|p| p.alone == Alone::Surplus),
        ports,
        bridge,
        needs,
        offers,
        gives,
        takes,
        figures,
        sets,
        holds,
        contents,
        leaves_empty,
        is_found: ctx.found.contains(id),
        rank: 0,
        cost: cost_of(part),
        priced: None,
    }
}

fn bridge(
    ctx: &mut Ctx,
    part: &Part,
    class: ClassId,
    ports: &[PortEntry],
    file: &str,
    path: &str,
) -> Option<(usize, usize)> {
    let [a, b] = part.bridges.as_ref()?;
    if ctx.cat.classes.get(class).is_some_and(|c| !c.free) {
        let message = format!(
            "only a part of a free class goes between two others; write \"free\": true at the class \"{}\", or take \"bridges\" out",
            part.class
        );
        ctx.faults.error(file, format!("{path}.bridges"), message);
        return None;
    }
    let place = |n: &str| {
        let name = ctx.cat.port_names.get(n)?;
        ports.iter().position(|p| p.name_ix == name)
    };
    let found = place(a).zip(place(b)).filter(|(a, b)| a != b);
    if found.is_none() {
        ctx.faults.error(
            file,
            format!("{path}.bridges"),
            format!("a bridge names two of its own ports; \"{a}\" and \"{b}\" are not two of them"),
        );
    }
    found
}

fn holds(ctx: &mut Ctx, part: &Part, file: &str, path: &str) -> Vec<(String, f64)> {
    let mut out = Vec::new();
    for (circuit, text) in &part.holds {
        let value = ctx.value(
            &Json::String(text.clone()),
            Kind::Dimension(Dimension::Volume),
            file,
            format!("{path}.holds.{circuit}"),
        );
        out.extend(value.and_then(|v| v.bounds()).map(|b| (circuit.clone(), b.1)));
    }
    out
}

fn cautions_and_price(ctx: &mut Ctx, id: &str, part: &Part, file: &str, path: &str) {
    for (i, caution) in part.cautions.iter().enumerate() {
        if !ctx.cat.cautions.contains_key(caution) {
            let near = nearest(caution, ctx.cat.cautions.keys().map(String::as_str));
            let way_out = then(near, "add it or correct the word");
            ctx.faults.error(
                file,
                format!("{path}.cautions[{i}]"),
                format!("there is no caution \"{caution}\"{way_out}"),
            );
        }
    }
    if part.price.is_none() && !ctx.found.contains(id) {
        ctx.faults.warn(
            file,
            format!("{path}.price"),
            "this part has no price; it will be counted as not priced".to_owned(),
        );
    }
}

pub(super) fn parts(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let all = gather(files, "parts", |f| &f.parts, &mut ctx.faults);
    ctx.cat.part_names = Names::new(all.keys());
    let facts = ctx.cat.measured.clone();
    for (id, (file, written)) in &all {
        let written = measured::with_measured(&ctx.cat, written, facts.get(id.as_str()));
        let mut entry = part(ctx, id, &written, file);
        let at = files.iter().position(|(name, _)| name == file);
        entry.priced = at.and_then(|at| ctx.priced.get(at)).cloned().flatten();
        ctx.cat.parts.push(entry);
    }
    kits_that_contain_themselves(&all, ctx);
    key_fields(&mut ctx.cat);
    index(&mut ctx.cat);
}

/// The field that tells the ports of a type apart best: of those that must be equal, the one with most values; else one
/// whose windows must overlap.
fn key_fields(cat: &mut Catalogue) {
    let mut values: Numbered<PortTypeEntry, Vec<HashSet<String>>> =
        cat.port_types.values().map(|t| vec![HashSet::new(); t.fields.len()]).collect();
    let mut widths: Numbered<PortTypeEntry, Vec<Vec<f64>>> =
        cat.port_types.values().map(|t| vec![Vec::new(); t.fields.len()]).collect();
    for port in cat.parts.values().flat_map(|p| &p.ports) {
        for (field, value) in port.values.iter().enumerate() {
            if let Some(value) = value {
                values[port.port_type][field].insert(value.text());
                widths[port.port_type][field].extend(value.bounds().map(|(low, high)| high - low));
            }
        }
    }
    for (at, port_type) in cat.port_types.iter_mut() {
        let most = |rule: Rule| {
            (0..port_type.fields.len())
                .filter(|f| port_type.fields[*f].1.rule == rule)
                .max_by_key(|f| (values[at][*f].len(), Reverse(*f)))
        };
        let overlap = |field: usize| {
            let widths = &mut widths[at][field];
            widths.retain(|w| *w > 0.0);
            widths.sort_by(f64::total_cmp);
            Some(KeyField::Overlap(field, *widths.get(widths.len() / 2)?))
        };
        port_type.key_field =
            most(Rule::Equal).map(KeyField::Equal).or_else(|| most(Rule::Inside).and_then(overlap));
    }
}

fn index(cat: &mut Catalogue) {
    cat.by_class = Numbered::filled(Vec::new(), cat.classes.len());
    cat.offered_by = Numbered::filled(Vec::new(), cat.needs.len());
    cat.pool_classes = Numbered::filled(Vec::new(), cat.pools.len());
    let mut ways: HashSet<(SpecId, SpecId)> = HashSet::new();
    let cap = cat.port_names.get("cap");
    let mut order: Vec<PartId> = cat.parts.ids().collect();
    order.sort_by_key(|ix| (cat.parts[*ix].cost, *ix));
    for (rank, ix) in order.into_iter().enumerate() {
        cat.parts[ix].rank = rank as u32;
        let entry = &cat.parts[ix];
        let Some(list) = cat.by_class.get_mut(entry.class) else { continue };
        list.push(ix);
        for (figure, _) in &entry.sets {
            let classes = cat.set_by.entry(*figure).or_default();
            if !classes.contains(&entry.class) {
                classes.push(entry.class);
            }
        }
        for (need, _) in &entry.offers {
            cat.offered_by[*need].push(ix);
            cat.offered_in.entry((*need, entry.class)).or_default().push(ix);
        }
        for share in entry.shares.iter().filter(|share| share.gives) {
            let parts = cat.given_in.entry((share.pool, entry.class)).or_default();
            if parts.is_empty() {
                cat.pool_classes[share.pool].push(entry.class);
            }
            parts.push(ix);
        }
        if let Some((a, b)) = entry.bridge {
            let specs = (entry.ports[a].spec, entry.ports[b].spec);
            // parts come cheapest first, ties by id: who comes later with the same ports never wins
            let is_new = ways.insert((specs.0.min(specs.1), specs.0.max(specs.1)));
            let index = if is_new { &mut cat.bridge_index } else { &mut cat.beaten_index };
            for at in [a, b] {
                index.add(&cat.port_types, &entry.ports[at], (ix, at as u16));
            }
        } else if cat.classes[entry.class].is_loose()
            && let Some(at) = entry.ports.iter().position(|p| Some(p.name_ix) == cap)
        {
            cat.cap_index.add(&cat.port_types, &entry.ports[at], (ix, at as u16));
        }
    }
    cat.need_classes = cat.offered_by.values().map(|parts| classes_of(cat, parts)).collect();
    class_indexes(cat);
}

fn classes_of(cat: &Catalogue, parts: &[PartId]) -> Vec<ClassId> {
    let mut classes: Vec<ClassId> = parts.iter().map(|p| cat.parts[*p].class).collect();
    classes.sort_unstable();
    classes.dedup();
    classes
}

fn class_indexes(cat: &mut Catalogue) {
    for (class, parts) in cat.by_class.iter() {
        let mut names: Vec<PortNameId> =
            parts.iter().flat_map(|p| &cat.parts[*p].ports).map(|p| p.name_ix).collect();
        names.sort_unstable();
        names.dedup();
        for name in names {
            let mut ports = ClassPorts::default();
            for part in parts {
                let entry = &cat.parts[*part];
                match entry.ports.iter().position(|p| p.name_ix == name) {
                    Some(at) => ports.index.add(&cat.port_types, &entry.ports[at], (*part, at as u16)),
                    None => ports.without.push(*part),
                }
            }
            cat.class_ports.insert((class, name), ports);
        }
        if cat.classes[class].is_loose() {
            let of_class = parts.iter().flat_map(|p| &cat.parts[*p].ports);
            let mut types: Vec<PortTypeId> = of_class.map(|p| p.port_type).collect();
            types.sort_unstable();
            types.dedup();
            for ty in types {
                let mut ports = ClassPorts::default();
                for part in parts {
                    let entry = &cat.parts[*part];
                    match entry.ports.iter().position(|p| p.port_type == ty) {
                        Some(at) => ports.index.add(&cat.port_types, &entry.ports[at], (*part, at as u16)),
                        None => ports.without.push(*part),
                    }
                }
                cat.seal_ports.insert((class, ty), ports);
            }
        }
        for kit in parts {
            for content in &cat.parts[*kit].contents {
                let held = cat.parts[content.part].class;
                let kits = cat.kits_with.entry((class, held)).or_default();
                if kits.is_empty() {
                    cat.kit_classes.entry(class).or_default().push(held);
                }
                if kits.last() != Some(kit) {
                    kits.push(*kit);
                }
            }
        }
    }
}

/// Boxes that hold themselves; each ring is told once, with all its boxes.
fn kits_that_contain_themselves(all: &Placed<'_, Part>, ctx: &mut Ctx) {
    let mut told: HashSet<PartId> = HashSet::new();
    for (ix, (_, (file, _))) in ctx.cat.parts.ids().zip(all) {
        let Some(ring) = ring(&ctx.cat.parts, ix) else { continue };
        ctx.cat.parts[ix].contents.clear();
        if ring.iter().any(|part| told.contains(part)) {
            continue;
        }
        told.extend(&ring);
        let ids: Vec<&str> = ring.iter().map(|part| ctx.cat.part_names.id(*part)).collect();
        let way = match ids[..] {
            [own] => format!("the box of {own} holds itself"),
            [first, ref others @ ..] => {
                format!(
                    "the box of {first} holds {}, which holds {first} again",
                    others.join(", which holds ")
                )
            }
            [] => continue,
        };
        let path = format!("parts.{}.contents", ids[0]);
        ctx.faults.error(file, path, format!("{way}; take the part out of one of the boxes"));
    }
}

/// The shortest way from a box through what it holds back to it, without its end.
fn ring(parts: &Numbered<PartEntry>, start: PartId) -> Option<Vec<PartId>> {
    let mut ways = vec![vec![start]];
    let mut seen: HashSet<PartId> = HashSet::new();
    while !ways.is_empty() {
        let mut longer = Vec::new();
        for way in &ways {
            let held = way.last().map_or(&[][..], |part| &parts[*part].contents);
            for content in held {
                if content.part == start {
                    return Some(way.clone());
                }
                if seen.insert(content.part) {
                    longer.push(way.iter().copied().chain([content.part]).collect());
                }
            }
        }
        ways = longer;
    }
    None
}
