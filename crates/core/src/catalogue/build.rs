//! Turns the files of a library into a [`Catalogue`]; what does not resolve is a fault and is left out.

use std::collections::{BTreeMap, HashMap};

use serde_json::Value as Json;

use super::check::{Faults, nearest};
use super::{
    Catalogue, CircuitEntry, Fault, Ix, JointEntry, LimitEntry, LimitInput, Names, OpeningEntry, PartEntry,
    PoolEntry, PortEntry, PortTypeEntry, PositionEntry, VehicleEntry, cost_of, input_words,
};
use crate::library::{Input, LibraryFile, Part, Port, Rule, Table, Want};
use crate::units::Dimension;
use crate::value::{Kind, Value};

/// An entry with the file it stands in.
type Placed<'a, T> = BTreeMap<String, (&'a str, &'a T)>;

fn gather<'a, T>(
    files: &'a [(String, LibraryFile)],
    section: &str,
    of: impl Fn(&'a LibraryFile) -> &'a Table<T>,
    faults: &mut Faults,
) -> Placed<'a, T> {
    let mut all: Placed<'a, T> = BTreeMap::new();
    for (file, content) in files {
        for (id, entry) in of(content) {
            if let Some((first, _)) = all.get(id) {
                faults.error(
                    file,
                    format!("{section}.{id}"),
                    format!("the id \"{id}\" stands in {first} already; give one of them another id"),
                );
                continue;
            }
            all.insert(id.clone(), (file, entry));
        }
    }
    all
}

struct Ctx {
    faults: Faults,
    cat: Catalogue,
    /// Parts some vehicle came with: they need no price.
    found: std::collections::HashSet<String>,
}

impl Ctx {
    fn look(
        &mut self,
        what: &str,
        names: fn(&Catalogue) -> &Names,
        id: &str,
        file: &str,
        path: String,
    ) -> Option<Ix> {
        let found = names(&self.cat).get(id);
        if found.is_none() {
            let hint = nearest(id, &names(&self.cat).ids);
            self.faults.error(
                file,
                path,
                format!("there is no {what} \"{id}\"{hint}; add it or correct the word"),
            );
        }
        found
    }

    fn class(&mut self, id: &str, file: &str, path: String) -> Option<Ix> {
        self.look("class", |c| &c.class_names, id, file, path)
    }

    fn kind(&mut self, word: &str, file: &str, path: String) -> Option<Kind> {
        let kind = Kind::from_word(word);
        if kind.is_none() {
            let known: Vec<String> = Dimension::WORDS.iter().map(|(w, _)| (*w).to_owned()).collect();
            let hint = nearest(word, &known);
            self.faults.error(
                file,
                path,
                format!(
                    "\"{word}\" is no kind of value{hint}; expected one of {}, word, thread, curve",
                    known.join(", ")
                ),
            );
        }
        kind
    }

    fn value(&mut self, json: &Json, kind: Kind, file: &str, path: String) -> Option<Value> {
        match Value::read(json, kind) {
            Ok(value) => Some(value),
            Err(message) => {
                self.faults.error(file, path, message);
                None
            }
        }
    }

    fn need_value(&mut self, need: Ix, text: &str, file: &str, path: String) -> Option<Option<Value>> {
        let kind_word = self.cat.needs.get(need as usize).map(|n| n.kind.clone()).unwrap_or_default();
        if kind_word == "present" || text == "present" {
            return Some(None);
        }
        let kind = Kind::from_word(&kind_word)?;
        self.value(&Json::String(text.to_owned()), kind, file, path).map(Some)
    }

    fn pool_list(&mut self, table: &Table<String>, file: &str, path: &str) -> Vec<(Ix, Value)> {
        let mut out = Vec::new();
        for (id, text) in table {
            let here = format!("{path}.{id}");
            let Some(pool) = self.look("pool", |c| &c.pool_names, id, file, here.clone()) else { continue };
            let Some(kind) = self.cat.pools.get(pool as usize).and_then(|p| Kind::from_word(&p.def.kind))
            else {
                continue;
            };
            if let Some(value) = self.value(&Json::String(text.clone()), kind, file, here) {
                out.push((pool, value));
            }
        }
        out
    }

    fn offer_list(&mut self, table: &Table<String>, file: &str, path: &str) -> Vec<(Ix, Option<Value>)> {
        let mut out = Vec::new();
        for (id, text) in table {
            let here = format!("{path}.{id}");
            let Some(need) = self.look("need", |c| &c.need_names, id, file, here.clone()) else { continue };
            if let Some(value) = self.need_value(need, text, file, here) {
                out.push((need, value));
            }
        }
        out
    }

    fn wants(&mut self, wants: &[Want], file: &str, path: &str) -> Vec<(Ix, Want)> {
        let mut out = Vec::new();
        for (i, want) in wants.iter().enumerate() {
            if let Some(class) = self.class(&want.class, file, format!("{path}[{i}].class")) {
                out.push((class, want.clone()));
            }
        }
        out
    }
}

pub(super) fn build(files: Vec<(String, LibraryFile)>) -> (Catalogue, Vec<Fault>) {
    let found = files
        .iter()
        .flat_map(|(_, f)| f.vehicles.values())
        .flat_map(|v| v.positions.values())
        .filter_map(|p| p.as_found.clone())
        .collect();
    let mut ctx = Ctx { faults: Faults::default(), cat: Catalogue::default(), found };
    vocabulary(&files, &mut ctx);
    port_types(&files, &mut ctx);
    parts(&files, &mut ctx);
    rules(&files, &mut ctx);
    vehicles(&files, &mut ctx);
    unmet_needs(&files, &mut ctx);
    unused_ports(&files, &mut ctx);
    for (file, content) in &files {
        if content.format > 1 {
            ctx.faults.error(
                file,
                "format".to_owned(),
                format!(
                    "this file has format {}; this program reads format 1: take a newer program",
                    content.format
                ),
            );
        }
    }
    ctx.cat.files = files;
    let mut faults = ctx.faults.list;
    faults.sort();
    (ctx.cat, faults)
}

fn vocabulary(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let classes = gather(files, "classes", |f| &f.classes, &mut ctx.faults);
    ctx.cat.class_names = Names::new(classes.keys());
    ctx.cat.classes = classes.values().map(|(_, c)| (c.name.clone(), c.free)).collect();
    let figures = gather(files, "figures", |f| &f.figures, &mut ctx.faults);
    ctx.cat.figure_names = Names::new(figures.keys());
    for (id, (file, def)) in &figures {
        let kind = ctx.kind(&def.kind, file, format!("figures.{id}.kind")).unwrap_or(Kind::Word);
        ctx.cat.figures.push((def.name.clone(), kind, def.measure.clone()));
    }
    let needs = gather(files, "needs", |f| &f.needs, &mut ctx.faults);
    ctx.cat.need_names = Names::new(needs.keys());
    for (id, (file, def)) in &needs {
        if def.kind != "present" {
            ctx.kind(&def.kind, file, format!("needs.{id}.kind"));
        }
        ctx.cat.needs.push((*def).clone());
    }
    let pools = gather(files, "pools", |f| &f.pools, &mut ctx.faults);
    ctx.cat.pool_names = Names::new(pools.keys());
    for (id, (file, def)) in &pools {
        let kind = ctx.kind(&def.kind, file, format!("pools.{id}.kind"));
        let margin = match (&def.margin, kind) {
            (Some(text), Some(kind)) => ctx
                .value(&Json::String(text.clone()), kind, file, format!("pools.{id}.margin"))
                .and_then(|v| v.bounds())
                .map_or(0.0, |b| b.1),
            _ => 0.0,
        };
        ctx.cat.pools.push(PoolEntry { def: (*def).clone(), margin });
    }
    ctx.cat.cautions = gather(files, "cautions", |f| &f.cautions, &mut ctx.faults)
        .into_iter()
        .map(|(id, (_, c))| (id, c.clone()))
        .collect();
    let mut systems: Vec<_> = gather(files, "systems", |f| &f.systems, &mut ctx.faults).into_iter().collect();
    systems.sort_by(|a, b| (a.1.1.order, &a.0).cmp(&(b.1.1.order, &b.0)));
    ctx.cat.systems = systems.into_iter().map(|(id, (_, s))| (id, s.name.clone())).collect();
}

fn port_types(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let types = gather(files, "port_types", |f| &f.port_types, &mut ctx.faults);
    ctx.cat.port_type_names = Names::new(types.keys());
    for (id, (file, def)) in &types {
        let path = format!("port_types.{id}");
        let mut fields = Vec::new();
        for (field, def) in &def.fields {
            let here = format!("{path}.fields.{field}");
            let Some(kind) = ctx.kind(&def.kind, file, format!("{here}.kind")) else { continue };
            let within = match &def.within {
                Some(text) => ctx
                    .value(&Json::String(text.clone()), kind, file, format!("{here}.within"))
                    .and_then(|v| v.bounds())
                    .map_or(0.0, |b| b.1),
                None => 0.0,
            };
            if matches!(def.rule, Rule::Mates) && def.words.is_empty() {
                ctx.faults.error(
                    file,
                    format!("{here}.words"),
                    "a field that mates wants its pairs, such as [[\"male\", \"female\"]]".to_owned(),
                );
            }
            fields.push((field.clone(), def.clone(), kind, within));
        }
        let key_field = fields.iter().position(|(_, d, _, _)| d.rule == Rule::Equal);
        let opened = ctx.wants(&def.opened, file, &format!("{path}.opened"));
        ctx.cat.port_types.push(PortTypeEntry { name: def.name.clone(), fields, opened, key_field });
    }
}

fn port(ctx: &mut Ctx, name: &str, port: &Port, file: &str, path: &str) -> Option<PortEntry> {
    let ty = ctx.look("port type", |c| &c.port_type_names, &port.port_type, file, format!("{path}.type"))?;
    let defs: Vec<(String, Kind, bool)> = ctx.cat.port_types.get(ty as usize).map_or_else(Vec::new, |t| {
        t.fields.iter().map(|(n, d, k, _)| (n.clone(), *k, d.optional || d.rule == Rule::Told)).collect()
    });
    for field in port.fields.keys() {
        if !defs.iter().any(|(n, ..)| n == field) {
            let known: Vec<String> = defs.iter().map(|(n, ..)| n.clone()).collect();
            let hint = nearest(field, &known);
            ctx.faults.error(
                file,
                format!("{path}.fields.{field}"),
                format!(
                    "the port type \"{}\" has no field \"{field}\"{hint}; it has {}",
                    port.port_type,
                    known.join(", ")
                ),
            );
        }
    }
    let mut values = Vec::new();
    for (field, kind, optional) in &defs {
        let here = format!("{path}.fields.{field}");
        match port.fields.get(field) {
            Some(json) => values.push(ctx.value(json, *kind, file, here)),
            None if *optional => values.push(None),
            None => {
                ctx.faults.error(file, here, format!("the field \"{field}\" of a \"{}\" port is missing; where it is not known write \"unknown: how to measure it\"", port.port_type));
                values.push(Some(Value::Unknown(String::new())));
            }
        }
    }
    Some(PortEntry { name: name.to_owned(), port_type: ty, role: port.role, alone: port.alone, values })
}

fn part(ctx: &mut Ctx, id: &str, part: &Part, file: &str) -> PartEntry {
    let path = format!("parts.{id}");
    let class = ctx.class(&part.class, file, format!("{path}.class")).unwrap_or(Ix::MAX);
    let mut ports = Vec::new();
    for (name, written) in &part.ports {
        ports.extend(port(ctx, name, written, file, &format!("{path}.ports.{name}")));
    }
    let bridge = part.bridges.as_ref().and_then(|[a, b]| {
        let place = |n: &str| ports.iter().position(|p: &PortEntry| p.name == n);
        let found = place(a).zip(place(b)).filter(|(a, b)| a != b);
        if found.is_none() {
            ctx.faults.error(
                file,
                format!("{path}.bridges"),
                format!("a bridge names two of its own ports; \"{a}\" and \"{b}\" are not two of them"),
            );
        }
        found
    });
    let mut needs = Vec::new();
    for (table, word, level) in [
        (&part.needs, "needs", crate::library::Level::Required),
        (&part.advises, "advises", crate::library::Level::Advised),
    ] {
        needs.extend(
            ctx.offer_list(table, file, &format!("{path}.{word}")).into_iter().map(|(n, v)| (n, v, level)),
        );
    }
    let offers = ctx.offer_list(&part.offers, file, &format!("{path}.offers"));
    let gives = ctx.pool_list(&part.gives, file, &format!("{path}.gives"));
    let takes = ctx.pool_list(&part.takes, file, &format!("{path}.takes"));
    let mut figures = Vec::new();
    for (figure, json) in &part.figures {
        let here = format!("{path}.figures.{figure}");
        let Some(ix) = ctx.look("figure", |c| &c.figure_names, figure, file, here.clone()) else { continue };
        let kind = ctx.cat.figures.get(ix as usize).map_or(Kind::Word, |f| f.1);
        figures.extend(ctx.value(json, kind, file, here).map(|v| (ix, v)));
    }
    let mut holds = Vec::new();
    for (circuit, text) in &part.holds {
        let value = ctx.value(
            &Json::String(text.clone()),
            Kind::Dimension(Dimension::Volume),
            file,
            format!("{path}.holds.{circuit}"),
        );
        holds.extend(value.and_then(|v| v.bounds()).map(|b| (circuit.clone(), b.1)));
    }
    let mut contents = Vec::new();
    for (i, content) in part.contents.iter().enumerate() {
        let here = format!("{path}.contents[{i}].part");
        contents.extend(
            ctx.look("part", |c| &c.part_names, &content.part, file, here).map(|ix| (ix, content.qty)),
        );
    }
    let mut leaves_empty = Vec::new();
    for (i, class) in part.leaves_empty.iter().enumerate() {
        leaves_empty.extend(ctx.class(class, file, format!("{path}.leaves_empty[{i}]")));
    }
    for (i, caution) in part.cautions.iter().enumerate() {
        if !ctx.cat.cautions.contains_key(caution) {
            let hint = nearest(caution, ctx.cat.cautions.keys());
            ctx.faults.error(
                file,
                format!("{path}.cautions[{i}]"),
                format!("there is no caution \"{caution}\"{hint}"),
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
    let cost = cost_of(part);
    PartEntry {
        part: part.clone(),
        class,
        ports,
        bridge,
        needs,
        offers,
        gives,
        takes,
        figures,
        holds,
        contents,
        leaves_empty,
        cost,
    }
}

fn parts(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let all = gather(files, "parts", |f| &f.parts, &mut ctx.faults);
    ctx.cat.part_names = Names::new(all.keys());
    for (id, (file, written)) in &all {
        let entry = part(ctx, id, written, file);
        ctx.cat.parts.push(entry);
    }
    kits_that_contain_themselves(&all, ctx);
    let cat = &mut ctx.cat;
    cat.by_class = vec![Vec::new(); cat.classes.len()];
    cat.offered_by = vec![Vec::new(); cat.needs.len()];
    let mut order: Vec<Ix> = (0..cat.parts.len() as Ix).collect();
    order.sort_by_key(|ix| (cat.parts[*ix as usize].cost, *ix));
    for ix in order {
        let entry = &cat.parts[ix as usize];
        let Some(list) = cat.by_class.get_mut(entry.class as usize) else { continue };
        list.push(ix);
        for (need, _) in &entry.offers {
            cat.offered_by[*need as usize].push(ix);
        }
        if let Some((a, b)) = entry.bridge {
            for at in [a, b] {
                cat.bridge_index.add(&cat.port_types, &entry.ports[at], (ix, at as u16));
            }
        } else if cat.classes[entry.class as usize].1
            && let Some(at) = entry.ports.iter().position(|p| p.name == "cap")
        {
            cat.cap_index.add(&cat.port_types, &entry.ports[at], (ix, at as u16));
        }
    }
}

fn kits_that_contain_themselves(all: &Placed<'_, Part>, ctx: &mut Ctx) {
    fn reaches(parts: &[PartEntry], at: Ix, goal: Ix, depth: u32) -> bool {
        depth < 32
            && parts[at as usize]
                .contents
                .iter()
                .any(|(c, _)| *c == goal || reaches(parts, *c, goal, depth + 1))
    }
    for (ix, (id, (file, _))) in all.iter().enumerate() {
        if !ctx.cat.parts[ix].contents.is_empty() && reaches(&ctx.cat.parts, ix as Ix, ix as Ix, 0) {
            ctx.faults.error(
                file,
                format!("parts.{id}.contents"),
                "this kit contains itself; take the part out of one of the boxes".to_owned(),
            );
            ctx.cat.parts[ix].contents.clear();
        }
    }
}

fn rules(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (id, (file, def)) in gather(files, "openings", |f| &f.openings, &mut ctx.faults) {
        let mut classes = Vec::new();
        for (i, class) in def.classes.iter().enumerate() {
            classes.extend(ctx.class(class, file, format!("openings.{id}.classes[{i}]")));
        }
        let wants = ctx.wants(&def.wants, file, &format!("openings.{id}.wants"));
        ctx.cat.openings.push(OpeningEntry { id, name: def.name.clone(), classes, wants });
    }
    for (id, (file, def)) in gather(files, "limits", |f| &f.limits, &mut ctx.faults) {
        let path = format!("limits.{id}");
        if let Err(message) = crate::limits::check_inputs(&def.calc, def.inputs.keys().map(String::as_str)) {
            ctx.faults.error(file, format!("{path}.calc"), message);
            continue;
        }
        let mut inputs = Vec::new();
        for (name, input) in &def.inputs {
            let here = format!("{path}.inputs.{name}.{}", input_words(input).replace(' ', "-"));
            let resolved = match input {
                Input::Figure { class, figure, optional } => ctx
                    .class(class, file, here.clone())
                    .zip(ctx.look("figure", |c| &c.figure_names, figure, file, here))
                    .map(|(c, f)| LimitInput::Figure(c, f, *optional)),
                Input::Fact { fact } => {
                    ctx.look("figure", |c| &c.figure_names, fact, file, here).map(LimitInput::Fact)
                }
                Input::Pool { pool } => {
                    ctx.look("pool", |c| &c.pool_names, pool, file, here).map(LimitInput::Pool)
                }
                Input::Fixed { value } => match crate::quantity::Quantity::parse(value) {
                    Ok(q) => Some(LimitInput::Fixed(Value::Quantity(q))),
                    Err(e) => {
                        ctx.faults.error(file, here, e.to_string());
                        None
                    }
                },
            };
            inputs.extend(resolved.map(|r| (name.clone(), r)));
        }
        if inputs.len() != def.inputs.len() {
            continue;
        }
        let raises = def.raises.as_ref().and_then(|need| {
            let ix = ctx.look("need", |c| &c.need_names, need, file, format!("{path}.raises"))?;
            let text = def.raises_value.clone().unwrap_or_else(|| "present".to_owned());
            ctx.need_value(ix, &text, file, format!("{path}.raises_value")).map(|v| (ix, v))
        });
        ctx.cat.limits.push(LimitEntry { id, def: def.clone(), inputs, raises });
    }
}

fn vehicles(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let mut ids: Vec<&String> = files.iter().flat_map(|(_, f)| f.vehicles.keys()).collect();
    ids.sort();
    ids.dedup();
    for id in ids {
        let entry = vehicle(files, id, ctx);
        ctx.cat.vehicles.insert(id.clone(), entry);
    }
}

fn vehicle(files: &[(String, LibraryFile)], id: &str, ctx: &mut Ctx) -> VehicleEntry {
    let mut v = VehicleEntry::default();
    let pieces: Vec<(&String, &crate::library::Vehicle)> =
        files.iter().filter_map(|(f, c)| c.vehicles.get(id).map(|p| (f, p))).collect();
    let system_order: HashMap<String, usize> =
        ctx.cat.systems.iter().enumerate().map(|(i, (s, _))| (s.clone(), i)).collect();
    for (file, piece) in &pieces {
        let path = format!("vehicles.{id}");
        if !piece.name.is_empty() {
            v.name.clone_from(&piece.name);
            v.about.clone_from(&piece.about);
        }
        for (pid, p) in &piece.positions {
            let here = format!("{path}.positions.{pid}");
            let Some(class) = ctx.class(&p.class, file, format!("{here}.class")) else { continue };
            if !system_order.contains_key(&p.system) {
                let hint = nearest(&p.system, system_order.keys());
                ctx.faults.error(
                    file,
                    format!("{here}.system"),
                    format!("there is no system \"{}\"{hint}", p.system),
                );
                continue;
            }
            let as_found = p
                .as_found
                .as_ref()
                .and_then(|part| ctx.look("part", |c| &c.part_names, part, file, format!("{here}.as_found")));
            if v.positions.iter().any(|other| other.id == *pid) {
                ctx.faults.error(
                    file,
                    here,
                    format!("the position \"{pid}\" stands in another file already"),
                );
                continue;
            }
            v.positions.push(PositionEntry {
                id: pid.clone(),
                name: p.name.clone(),
                system: p.system.clone(),
                class,
                qty: p.qty.max(1),
                as_found,
            });
        }
        for (figure, json) in &piece.facts {
            let here = format!("{path}.facts.{figure}");
            let Some(ix) = ctx.look("figure", |c| &c.figure_names, figure, file, here.clone()) else {
                continue;
            };
            let kind = ctx.cat.figures.get(ix as usize).map_or(Kind::Word, |f| f.1);
            if let Some(value) = ctx.value(json, kind, file, here) {
                v.facts.insert(ix, value);
            }
        }
        v.gives.extend(ctx.pool_list(&piece.gives, file, &format!("{path}.gives")));
        v.offers.extend(ctx.offer_list(&piece.offers, file, &format!("{path}.offers")));
    }
    v.positions
        .sort_by(|a, b| (system_order.get(&a.system), &a.id).cmp(&(system_order.get(&b.system), &b.id)));
    for (ix, p) in v.positions.iter().enumerate() {
        v.position_ix.insert(p.id.clone(), ix as Ix);
        v.by_class.entry(p.class).or_insert(ix as Ix);
    }
    v.joints_at = vec![Vec::new(); v.positions.len()];
    let mut joints: Vec<JointEntry> = Vec::new();
    for (file, piece) in &pieces {
        for (jid, j) in &piece.joints {
            let here = format!("vehicles.{id}.joints.{jid}");
            let mut ends = Vec::new();
            for (i, end) in j.ends.iter().enumerate() {
                match v.position_ix.get(&end.at) {
                    Some(ix) => {
                        ends.push((*ix, end.port.clone()));
                        let class = v.positions[*ix as usize].class;
                        let used = ctx.cat.by_class.get(class as usize).is_some_and(|list| {
                            list.iter().any(|p| ctx.cat.parts[*p as usize].port(&end.port).is_some())
                        });
                        if !used {
                            ctx.faults.warn(
                                file,
                                format!("{here}.ends[{i}].port"),
                                format!("no part that goes to \"{}\" has a port \"{}\"", end.at, end.port),
                            );
                        }
                    }
                    None => {
                        let hint = nearest(&end.at, v.position_ix.keys());
                        ctx.faults.error(
                            file,
                            format!("{here}.ends[{i}].at"),
                            format!("there is no position \"{}\"{hint}", end.at),
                        );
                    }
                }
            }
            if ends.len() >= 2 {
                joints.push(JointEntry { id: jid.clone(), name: j.name.clone(), ends, qty: j.qty.max(1) });
            }
        }
        for (cid, c) in &piece.circuits {
            let here = format!("vehicles.{id}.circuits.{cid}");
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
                    None => ctx.faults.error(
                        file,
                        format!("{here}.positions[{i}]"),
                        format!("there is no position \"{p}\"{}", nearest(p, v.position_ix.keys())),
                    ),
                }
            }
            v.circuits.push(CircuitEntry {
                id: cid.clone(),
                name: c.name.clone(),
                fluid,
                capacity,
                positions,
            });
        }
    }
    joints.sort_by(|a, b| a.id.cmp(&b.id));
    v.circuits.sort_by(|a, b| a.id.cmp(&b.id));
    for (ix, j) in joints.iter().enumerate() {
        for (p, _) in &j.ends {
            if v.joints_at[*p as usize].last() != Some(&(ix as Ix)) {
                v.joints_at[*p as usize].push(ix as Ix);
            }
        }
    }
    v.joints = joints;
    v
}

/// Needs that no part and no vehicle supplies: whoever asks will always be left without.
fn unmet_needs(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (file, content) in files {
        for (id, part) in &content.parts {
            for need in part.needs.keys() {
                let Some(ix) = ctx.cat.need_names.get(need) else { continue };
                let by_part = ctx.cat.offered_by.get(ix as usize).is_some_and(|l| !l.is_empty());
                let by_vehicle = ctx.cat.vehicles.values().any(|v| v.offers.iter().any(|(n, _)| *n == ix));
                if !by_part && !by_vehicle {
                    ctx.faults.warn(
                        file,
                        format!("parts.{id}.needs.{need}"),
                        format!("no part and no vehicle offers \"{need}\"; add a part that does"),
                    );
                }
            }
        }
    }
}

/// Ports of parts with a place on a vehicle that no joint of any vehicle meets.
fn unused_ports(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let mut met: std::collections::HashSet<(Ix, String)> = std::collections::HashSet::new();
    let mut placed: std::collections::HashSet<Ix> = std::collections::HashSet::new();
    for vehicle in ctx.cat.vehicles.values() {
        placed.extend(vehicle.positions.iter().map(|p| p.class));
        for (position, port) in vehicle.joints.iter().flat_map(|j| &j.ends) {
            met.insert((vehicle.positions[*position as usize].class, port.clone()));
        }
    }
    for (file, content) in files {
        for (id, part) in &content.parts {
            let Some(class) = ctx.cat.class_names.get(&part.class).filter(|c| placed.contains(c)) else {
                continue;
            };
            for port in part.ports.keys().filter(|p| !met.contains(&(class, (*p).clone()))) {
                ctx.faults.warn(
                    file,
                    format!("parts.{id}.ports.{port}"),
                    format!("no joint of any vehicle meets the port \"{port}\"; add the joint or take the port out"),
                );
            }
        }
    }
}
