//! What is wrong with a library as a whole although every word of it resolves.

use std::collections::{BTreeSet, HashMap, HashSet};

use super::build::Ctx;
use super::meeting::{agree, same_side};
use super::{ClassId, Numbered, PartEntry, PartId, PortNameId, VehicleEntry};
use crate::library::{Level, LibraryFile, NeedDef};
use crate::meant::{nearest, then};
use crate::value::Verdict3;

pub(super) fn lints(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    needs_nobody_meets(files, ctx);
    needs_raised_differently(files, ctx);
    let meant = joints_without_a_port(files, ctx);
    ports_nobody_uses(files, ctx, &meant);
    bridges_without_end(files, ctx);
}

/// Needs whose asker will always be left without: nobody offers them, or everybody who does needs them again.
fn needs_nobody_meets(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let cat = &ctx.cat;
    let mut met: Numbered<NeedDef, bool> = Numbered::filled(false, cat.needs.len());
    for (need, _) in cat.vehicles.values().flat_map(|v| &v.offers) {
        met[*need] = true;
    }
    // each round meets at least one more need, or is the last
    loop {
        let before = met.values().filter(|m| **m).count();
        for (need, parts) in cat.offered_by.iter() {
            met[need] = met[need]
                || parts.iter().any(|p| {
                    let asks = &cat.parts[*p].needs;
                    asks.iter().all(|(n, _, level)| *level == Level::Advised || met[*n])
                });
        }
        if met.values().filter(|m| **m).count() == before {
            break;
        }
    }
    for (file, content) in files {
        for (id, part) in &content.parts {
            for need in part.needs.keys() {
                let Some(ix) = ctx.cat.need_names.get(need).filter(|ix| !met[*ix]) else { continue };
                let offered = ctx.cat.offered_by.get(ix).is_some_and(|l| !l.is_empty());
                let message = if offered {
                    format!(
                        "whoever offers \"{need}\" needs it again in the end: it runs round in a circle; add a part that offers it and \
                         does not need it"
                    )
                } else {
                    format!("no part and no vehicle offers \"{need}\"; add a part that does")
                };
                ctx.faults.warn(file, format!("parts.{id}.needs.{need}"), message);
            }
        }
    }
}

/// Needs that two limits raise with different values: what would meet one of them does not meet the other, and a need asks
/// for one value of a part.
fn needs_raised_differently(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let mut first: HashMap<&str, (&str, &Option<String>)> = HashMap::new();
    for (file, content) in files {
        for (id, limit) in &content.limits {
            let Some(need) = &limit.raises else { continue };
            let (other, value) = *first.entry(need).or_insert((id, &limit.raises_value));
            if *value != limit.raises_value {
                let message = format!(
                    "the limit \"{other}\" raises \"{need}\" with another value; give one of them a need of its own"
                );
                ctx.faults.warn(file, format!("limits.{id}.raises_value"), message);
            }
        }
    }
}

/// Ends of joints whose port no part of the place has; what port each may mean, by class and name.
fn joints_without_a_port(files: &[(String, LibraryFile)], ctx: &mut Ctx) -> HashSet<(ClassId, String)> {
    let mut names: HashMap<ClassId, BTreeSet<String>> = HashMap::new();
    for part in files.iter().flat_map(|(_, f)| f.parts.values()) {
        if let Some(class) = ctx.cat.class_names.get(&part.class) {
            names.entry(class).or_default().extend(part.ports.keys().cloned());
        }
    }
    let none = BTreeSet::new();
    let mut meant = HashSet::new();
    for (file, content) in files {
        for (vid, vehicle) in &content.vehicles {
            for (jid, joint) in &vehicle.joints {
                for (i, end) in joint.ends.iter().enumerate() {
                    let of = |v: &VehicleEntry| Some(v.positions[*v.position_ix.get(&end.at)?].class);
                    let Some(class) = ctx.cat.vehicles.get(vid).and_then(of) else {
                        continue;
                    };
                    let known = names.get(&class).unwrap_or(&none);
                    if known.contains(&end.port) {
                        continue;
                    }
                    let near = nearest(&end.port, known.iter().map(String::as_str));
                    meant.extend(near.map(|near| (class, near.to_owned())));
                    let rest = then(near, "add the port or correct the word");
                    ctx.faults.warn(
                        file,
                        format!("vehicles.{vid}.joints.{jid}.ends[{i}].port"),
                        format!("no part that goes to \"{}\" has a port \"{}\"{rest}", end.at, end.port),
                    );
                }
            }
        }
    }
    meant
}

/// Ports of parts with a place on a vehicle that no joint of any vehicle meets, nor may mean.
fn ports_nobody_uses(files: &[(String, LibraryFile)], ctx: &mut Ctx, meant: &HashSet<(ClassId, String)>) {
    let mut met: HashSet<(ClassId, PortNameId)> = HashSet::new();
    let mut placed: HashSet<ClassId> = HashSet::new();
    for vehicle in ctx.cat.vehicles.values() {
        placed.extend(vehicle.positions.values().map(|p| p.class));
        for (position, port) in vehicle.joints.values().flat_map(|j| &j.ends) {
            met.insert((vehicle.positions[*position].class, *port));
        }
    }
    for (file, content) in files {
        for (id, part) in &content.parts {
            let Some(class) = ctx.cat.class_names.get(&part.class).filter(|c| placed.contains(c)) else {
                continue;
            };
            for port in part.ports.keys() {
                let name = ctx.cat.port_names.get(port);
                let is_meant = meant.contains(&(class, port.clone()));
                if !is_meant && name.is_some_and(|n| !met.contains(&(class, n))) {
                    ctx.faults.warn(
                        file,
                        format!("parts.{id}.ports.{port}"),
                        format!(
                            "no joint of any vehicle meets the port \"{port}\"; add the joint or take the port out"
                        ),
                    );
                }
            }
        }
    }
}

/// Bridges that lead back to where they began at no price: the search for the cheapest chain gains nothing by them and
/// could go round for ever.
fn bridges_without_end(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let is_free = |p: &PartEntry| p.bridge.is_some() && p.cost == 0;
    let free: Vec<PartId> = ctx.cat.parts.iter().filter(|(_, p)| is_free(p)).map(|(part, _)| part).collect();
    let mut found: Vec<PartId> = Vec::new();
    for start in &free {
        if goes_round(ctx, &free, *start) {
            found.push(*start);
        }
    }
    for ix in found {
        let id = ctx.cat.part_names.id(ix).to_owned();
        let Some((file, _)) = files.iter().find(|(_, f)| f.parts.contains_key(&id)) else { continue };
        ctx.faults.warn(
            file,
            format!("parts.{id}.price"),
            "this bridge costs nothing and leads back to where it began; give it a price".to_owned(),
        );
    }
}

/// Whether free bridges lead from one end of a bridge back to that end.
fn goes_round(ctx: &Ctx, free: &[PartId], start: PartId) -> bool {
    let ends = |p: PartId| ctx.cat.parts[p].bridge.map(|(a, b)| [(a, b), (b, a)]);
    let port = |p: PartId, at: usize| &ctx.cat.parts[p].ports[at];
    for (enter, leave) in ends(start).into_iter().flatten() {
        let mut seen: HashSet<(PartId, usize)> = HashSet::new();
        let mut open = vec![(start, leave)];
        while let Some((part, out)) = open.pop() {
            for next in free {
                for (a, b) in ends(*next).into_iter().flatten() {
                    let (from, to) = (port(part, out), port(*next, a));
                    // straight back through the same part is no way round
                    if (*next == part && a == out)
                        || same_side(from, to)
                        || agree(&ctx.cat, from, to).verdict == Verdict3::Broken
                    {
                        continue;
                    }
                    if *next == start && a == enter {
                        return true;
                    }
                    if seen.insert((*next, b)) {
                        open.push((*next, b));
                    }
                }
            }
        }
    }
    false
}
