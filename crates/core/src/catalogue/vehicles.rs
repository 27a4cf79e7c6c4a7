//! Vehicles: positions in board order, joints, circuits and facts, gathered from all the files that name the vehicle.

use std::collections::{HashMap, HashSet};

use serde_json::Value as Json;

use super::build::Ctx;
use super::limit_places::limits;
use super::{
    Bits, CircuitEntry, ClassId, ClassPlaces, Id, JointEntry, JointId, Numbered, OpeningPlaces, Places,
    PositionEntry, PositionId, VehicleEntry, VehicleId,
};
use crate::library::{LibraryFile, Vehicle};
use crate::meant::{nearest, then};
use crate::units::Dimension;
use crate::value::Kind;
use crate::whereabouts::Whereabouts;

/// What the files say of one vehicle.
type Pieces<'a> = Vec<(&'a String, &'a Vehicle)>;

pub(super) fn vehicles(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let mut ids: Vec<&String> = files.iter().flat_map(|(_, f)| f.vehicles.keys()).collect();
    ids.sort();
    ids.dedup();
    for id in ids {
        if let Some((file, near)) = slipped(files, id) {
            let message = format!(
                "no file says what the vehicle \"{id}\" is called; did you mean \"{near}\"? Where it is one of its own, give it \
                 a name"
            );
            ctx.faults.error(file, format!("vehicles.{id}"), message);
            continue;
        }
        let mut entry = vehicle(files, id, ctx);
        entry.number = VehicleId::new(ctx.cat.vehicles.len());
        ctx.cat.vehicles.insert(id.clone(), entry);
    }
}

/// The file that speaks of a vehicle nobody has named, and the named one that may be meant.
fn slipped<'a>(files: &'a [(String, LibraryFile)], id: &str) -> Option<(&'a str, &'a str)> {
    let named = |id: &str| {
        files.iter().filter_map(|(_, f)| f.vehicles.get(id)).any(|piece| !piece.name.trim().is_empty())
    };
    if named(id) {
        return None;
    }
    let (file, _) = files.iter().find(|(_, f)| f.vehicles.contains_key(id))?;
    let others = files.iter().flat_map(|(_, f)| f.vehicles.keys()).filter(|other| named(other));
    Some((file, nearest(id, others.map(String::as_str))?))
}

fn vehicle(files: &[(String, LibraryFile)], id: &str, ctx: &mut Ctx) -> VehicleEntry {
    let mut v = VehicleEntry::default();
    let pieces: Pieces<'_> = files.iter().filter_map(|(f, c)| c.vehicles.get(id).map(|p| (f, p))).collect();
    let path = format!("vehicles.{id}");
    let dropped = positions(&pieces, &path, ctx, &mut v);
    facts(&pieces, &path, ctx, &mut v);
    joints(&pieces, &path, ctx, &mut v, &dropped);
    circuits(&pieces, &path, ctx, &mut v, &dropped);
    limits(files, id, ctx, &mut v);
    openings(ctx, &mut v);
    free_classes(ctx, &mut v);
    surroundings(ctx, &mut v);
    v
}

/// Gives the ids of places that are left out for a fault of their own: what speaks of them is none.
fn positions(pieces: &Pieces<'_>, path: &str, ctx: &mut Ctx, v: &mut VehicleEntry) -> HashSet<String> {
    let mut dropped = HashSet::new();
    let system_order: HashMap<String, usize> =
        ctx.cat.systems.iter().enumerate().map(|(i, (s, _))| (s.clone(), i)).collect();
    let mut positions: Vec<PositionEntry> = Vec::new();
    for (file, piece) in pieces {
        if !piece.name.is_empty() {
            v.name.clone_from(&piece.name);
            v.about.clone_from(&piece.about);
        }
        for (pid, p) in &piece.positions {
            let here = format!("{path}.positions.{pid}");
            let Some(class) = ctx.class(&p.class, file, format!("{here}.class")) else {
                dropped.insert(pid.clone());
                continue;
            };
            if !system_order.contains_key(&p.system) {
                let near = nearest(&p.system, ctx.cat.systems.iter().map(|(id, _)| id.as_str()));
                let message = format!(
                    "there is no system \"{}\"{}",
                    p.system,
                    then(near, "add it or correct the word")
                );
                ctx.faults.error(file, format!("{here}.system"), message);
                dropped.insert(pid.clone());
                continue;
            }
            let as_found = p
                .as_found
                .as_ref()
                .and_then(|part| ctx.look("part", |c| &c.part_names, part, file, format!("{here}.as_found")));
            let found =
                as_found.map(|part| ctx.cat.parts[part].class).filter(|c| *c != Id::UNKNOWN && *c != class);
            if let Some(other) = found {
                let message = format!(
                    "\"{}\" is of the class \"{}\", and this place takes \"{}\"; correct one of them",
                    p.as_found.as_deref().unwrap_or_default(),
                    ctx.cat.class_names.id(other),
                    p.class
                );
                ctx.faults.error(file, format!("{here}.as_found"), message);
            }
            if positions.iter().any(|other| other.id == *pid) {
                ctx.faults.error(
                    file,
                    here,
                    format!(
                        "the position \"{pid}\" stands in another file already; give one of them another id"
                    ),
                );
                continue;
            }
            let figures = ctx.figure_list(&p.figures, file, &format!("{here}.figures"));
            positions.push(PositionEntry {
                id: pid.clone(),
                name: p.name.clone(),
                system: p.system.clone(),
                class,
                whereabouts: p.whereabouts.clone(),
                qty: p.qty.max(1),
                as_found,
                figures,
            });
        }
    }
    positions.sort_by(|a, b| (system_order.get(&a.system), &a.id).cmp(&(system_order.get(&b.system), &b.id)));
    v.positions = positions.into_iter().collect();
    v.by_class = Places::new(ctx.cat.classes.len());
    for (pos, p) in v.positions.iter() {
        v.position_ix.insert(p.id.clone(), pos);
        v.by_class.add(p.class, pos);
    }
    dropped
}

fn facts(pieces: &Pieces<'_>, path: &str, ctx: &mut Ctx, v: &mut VehicleEntry) {
    for (file, piece) in pieces {
        v.built.extend(piece.built.iter().cloned());
        v.beginning |= piece.beginning;
        v.facts.extend(ctx.figure_list(&piece.facts, file, &format!("{path}.facts")));
        v.gives.extend(ctx.pool_list(&piece.gives, file, &format!("{path}.gives")));
        v.offers.extend(ctx.offer_list(&piece.offers, file, &format!("{path}.offers")));
    }
}

fn no_position(word: &str, v: &VehicleEntry) -> String {
    let near = nearest(word, v.positions.values().map(|p| p.id.as_str()));
    format!("there is no position \"{word}\"{}", then(near, "add it or correct the word"))
}

fn joints(pieces: &Pieces<'_>, path: &str, ctx: &mut Ctx, v: &mut VehicleEntry, dropped: &HashSet<String>) {
    let mut joints: Vec<JointEntry> = Vec::new();
    let mut either: HashMap<String, Option<String>> = HashMap::new();
    for (file, piece) in pieces {
        for (jid, j) in &piece.joints {
            let here = format!("{path}.joints.{jid}");
            let mut ends = Vec::new();
            for (i, end) in j.ends.iter().enumerate() {
                let Some(ix) = v.position_ix.get(&end.at) else {
                    if dropped.contains(&end.at) {
                        continue;
                    }
                    let message = no_position(&end.at, v);
                    ctx.faults.error(file, format!("{here}.ends[{i}].at"), message);
                    continue;
                };
                let Some(name) = ctx.cat.port_names.get(&end.port) else { continue };
                ends.push((*ix, name));
            }
            if ends.len() >= 2 {
                either.insert(jid.clone(), j.either.clone());
                joints.push(JointEntry {
                    id: jid.clone(),
                    name: j.name.clone(),
                    ends,
                    qty: j.qty.max(1),
                    alternatives: Vec::new(),
                });
            }
        }
    }
    joints.sort_by(|a, b| a.id.cmp(&b.id));
    let mut joints: Numbered<JointEntry> = joints.into_iter().collect();
    for at in joints.ids() {
        let word = either[&joints[at].id].as_ref();
        let is_other = |(other, j): &(JointId, &JointEntry)| {
            *other != at && word.is_some() && either[&j.id].as_ref() == word
        };
        joints[at].alternatives = joints.iter().filter(is_other).map(|(other, _)| other).collect();
    }
    v.joints_at = Numbered::filled(Vec::new(), v.positions.len());
    for (joint, j) in joints.iter() {
        for (p, _) in &j.ends {
            if v.joints_at[*p].last() != Some(&joint) {
                v.joints_at[*p].push(joint);
            }
        }
    }
    v.joints = joints;
}

fn circuits(pieces: &Pieces<'_>, path: &str, ctx: &mut Ctx, v: &mut VehicleEntry, dropped: &HashSet<String>) {
    let mut circuits: Vec<CircuitEntry> = Vec::new();
    for (file, piece) in pieces {
        for (cid, c) in &piece.circuits {
            let here = format!("{path}.circuits.{cid}");
            let Some(fluid) = ctx.class(&c.fluid, file, format!("{here}.fluid")) else { continue };
            let capacity = ctx
                .value(
                    &Json::String(c.capacity.clone()),
                    Kind::Dimension(Dimension::Volume),
                    file,
                    format!("{here}.capacity"),
                )
                .and_then(|x| x.bounds())
                .map_or(0.0, |b| b.1);
            let mut positions = Vec::new();
            for (i, p) in c.positions.iter().enumerate() {
                match v.position_ix.get(p) {
                    Some(ix) => positions.push(*ix),
                    None if dropped.contains(p) => {}
                    None => ctx.faults.error(file, format!("{here}.positions[{i}]"), no_position(p, v)),
                }
            }
            circuits.push(CircuitEntry { id: cid.clone(), name: c.name.clone(), fluid, capacity, positions });
        }
    }
    circuits.sort_by(|a, b| a.id.cmp(&b.id));
    v.circuits = circuits.into_iter().collect();
}

/// What a position has to do with: the other ends of its joints, and where the boxes of its kits go.
fn surroundings(ctx: &Ctx, v: &mut VehicleEntry) {
    for (pos, entry) in v.positions.iter() {
        let own = v.joints_at[pos].iter().copied();
        let about = own.flat_map(|j| v.joints[j].alternatives.iter().copied().chain([j]));
        v.joints_about.push(others(None, about));
        let ends = v.joints_about[pos].iter().flat_map(|j| &v.joints[*j].ends).map(|(p, _)| *p);
        v.neighbours.push(others(Some(pos), ends));
        let held = ctx.cat.kit_classes.get(&entry.class).into_iter().flatten();
        let places = others(Some(pos), held.flat_map(|class| v.by_class.of(*class).iter().copied()));
        let is_near = |place: &PositionId| v.neighbours[pos].binary_search(place).is_ok();
        v.kit_neighbours.push(places.iter().copied().filter(is_near).collect());
        v.has_kits.push(!places.is_empty());
    }
    let (positions, joints) = (v.positions.len(), v.joints.len());
    for pos in v.positions.ids() {
        v.joints_near.push(Bits::of(joints, v.joints_about[pos].iter().copied()));
        v.near.push(Bits::of(positions, v.neighbours[pos].iter().copied().chain([pos])));
    }
}

/// Each once, in order, without the one they are about.
fn others<T>(own: Option<Id<T>>, all: impl Iterator<Item = Id<T>>) -> Vec<Id<T>> {
    let mut out: Vec<Id<T>> = all.filter(|other| Some(*other) != own).collect();
    out.sort_unstable();
    out.dedup();
    out
}

/// At which spots openings open on this vehicle, and where what is wanted then sits.
fn openings(ctx: &Ctx, v: &mut VehicleEntry) {
    v.openings_at = Numbered::filled(Vec::new(), v.positions.len());
    let there = ctx.cat.openings.iter().filter(|(_, entry)| v.is_built_so(&entry.built));
    for (opening, entry) in there.collect::<Vec<_>>() {
        let mut all: Vec<PositionId> = Vec::new();
        for pos in entry.classes.iter().flat_map(|said| v.meant(said, &Whereabouts::default())) {
            if !all.contains(&pos) {
                all.push(pos);
            }
        }
        let spots = spots(all.iter().map(|pos| v.whereabouts(*pos)));
        for spot in &spots {
            let places: Vec<PositionId> =
                all.iter().copied().filter(|pos| v.whereabouts(*pos).goes_with(spot)).collect();
            let wanted = entry.wants.iter().map(|(class, want)| {
                let said = ClassPlaces { class: *class, whereabouts: want.whereabouts.clone() };
                v.by_class.has(*class).then(|| v.meant(&said, spot).to_vec())
            });
            let wanted = wanted.collect();
            let spot = if spots.len() > 1 { spot.clone() } else { Whereabouts::default() };
            let here = v.openings.push(OpeningPlaces { opening, spot, places, wanted });
            for pos in &v.openings[here].places {
                v.openings_at[*pos].push(here);
            }
        }
    }
}

/// Where places with these words lie, as closely as any of them says: of front and front left, front left.
fn spots<'a>(all: impl Iterator<Item = &'a Whereabouts>) -> Vec<Whereabouts> {
    let mut all: Vec<&Whereabouts> = all.collect();
    all.sort();
    all.dedup();
    let is_closest = |spot: &&&Whereabouts| !all.iter().any(|other| other != *spot && other.bears(spot));
    all.iter().filter(is_closest).map(|spot| (**spot).clone()).collect()
}

/// What is a loose part elsewhere and has a place here: bridges, and what an opened joint wants.
fn free_classes(ctx: &Ctx, v: &mut VehicleEntry) {
    let placed = |class: &ClassId| v.by_class.has(*class);
    let bridges = ctx.cat.parts.values().filter(|p| p.bridge.is_some()).map(|p| p.class);
    let mut classes: Vec<ClassId> = bridges.filter(placed).collect();
    classes.sort_unstable();
    classes.dedup();
    let mut wanted = ctx.cat.port_types.values().flat_map(|t| &t.opened).map(|(class, _)| class);
    v.has_seal_places = wanted.any(placed);
    v.bridge_classes = classes;
}
