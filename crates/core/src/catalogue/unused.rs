//! What resolves and can never come into use: a class without a place, a need nobody asks for, a limit on a figure
//! nobody has, a want nobody fills, fluid held for a circuit no vehicle has.

use std::collections::HashSet;

use super::build::Ctx;
use super::{Catalogue, ClassId};
use crate::library::{Input, LibraryFile, Want};
use crate::meant::{nearest, then};

pub(super) fn unused(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    // what parts are for is seen on vehicles; without one a library is meant to lie on another
    if ctx.cat.vehicles.is_empty() {
        return;
    }
    classes(files, ctx);
    needs(files, ctx);
    limits(files, ctx);
    wants(files, ctx);
    circuits(files, ctx);
}

/// What the library speaks of by class.
struct Spoken {
    /// Has a place on some vehicle.
    placed: HashSet<ClassId>,
    /// Lies in the box of some kit.
    boxed: HashSet<ClassId>,
    /// Is wanted, filled in, opened or looked at.
    wanted: HashSet<ClassId>,
}

fn spoken(files: &[(String, LibraryFile)], cat: &Catalogue) -> Spoken {
    let id = |class: &String| cat.class_names.get(class);
    let vehicles = || cat.vehicles.values();
    let contents = cat.parts.values().flat_map(|p| &p.contents);
    let mut wanted: HashSet<ClassId> =
        vehicles().flat_map(|v| v.circuits.values()).map(|c| c.fluid).collect();
    for (_, file) in files {
        let opened = file.port_types.values().flat_map(|t| &t.opened);
        let wants = opened.chain(file.openings.values().flat_map(|o| &o.wants));
        wanted.extend(wants.filter_map(|want| id(&want.class)));
        let opens = file.openings.values().flat_map(|o| &o.classes);
        let empty = file.parts.values().flat_map(|p| &p.leaves_empty);
        wanted.extend(opens.chain(empty).filter_map(|said| id(&said.class)));
        for input in file.limits.values().flat_map(|l| l.inputs.values()) {
            each(input, &mut |input| {
                if let Input::Figure { class, .. } = input {
                    wanted.extend(id(class));
                }
            });
        }
    }
    Spoken {
        placed: vehicles().flat_map(|v| v.positions.values()).map(|p| p.class).collect(),
        boxed: contents.map(|c| cat.parts[c.part].class).collect(),
        wanted,
    }
}

/// An input, and of a sum all that is in it.
fn each<'a>(input: &'a Input, see: &mut impl FnMut(&'a Input)) {
    see(input);
    if let Input::Sum { sum, less } = input {
        sum.iter().chain(less).for_each(|term| each(term, see));
    }
}

fn classes(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let spoken = spoken(files, &ctx.cat);
    for (file, content) in files {
        for (id, class) in &content.classes {
            let Some(ix) = ctx.cat.class_names.get(id) else { continue };
            let is_placed = spoken.placed.contains(&ix);
            let parts = ctx.cat.by_class.get(ix).map_or(0, Vec::len);
            let message = if parts == 0 && !is_placed && !spoken.wanted.contains(&ix) {
                "nothing is of this class, has a place for it or wants it; use it, or take it out".to_owned()
            } else if parts > 0 && !is_placed && !class.free && !class.service && !spoken.boxed.contains(&ix)
            {
                let of = if parts == 1 { "its part is".to_owned() } else { format!("its {parts} parts are") };
                format!(
                    "no vehicle has a place for this class and it is not free, so that {of} never used; write \"free\": true \
                     where they are used loose, or give a vehicle a place for it"
                )
            } else {
                continue;
            };
            ctx.faults.warn(file, format!("classes.{id}"), message);
        }
    }
}

fn needs(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let parts = || files.iter().flat_map(|(_, f)| f.parts.values());
    let mut used: HashSet<&String> =
        parts().flat_map(|p| p.needs.keys().chain(p.advises.keys()).chain(p.offers.keys())).collect();
    used.extend(files.iter().flat_map(|(_, f)| f.limits.values()).filter_map(|l| l.raises.as_ref()));
    used.extend(files.iter().flat_map(|(_, f)| f.vehicles.values()).flat_map(|v| v.offers.keys()));
    for (file, content) in files {
        for id in content.needs.keys().filter(|id| !used.contains(id)) {
            let message =
                "nobody needs it, advises it, offers it or raises it; use it, or take it out".to_owned();
            ctx.faults.warn(file, format!("needs.{id}"), message);
        }
    }
}

/// Figures that no part of the class has nor any place of it, and facts that nobody can state.
fn limits(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (file, content) in files {
        for (id, limit) in &content.limits {
            for (name, input) in &limit.inputs {
                each(input, &mut |input| {
                    let Some(message) = never(&ctx.cat, input) else { return };
                    ctx.faults.warn(file, format!("limits.{id}.inputs.{name}"), message);
                });
            }
        }
    }
}

fn never(cat: &Catalogue, input: &Input) -> Option<String> {
    match input {
        Input::Figure { class, figure, otherwise: None, .. } => {
            let (class_ix, figure_ix) = (cat.class_names.get(class)?, cat.figure_names.get(figure)?);
            let parts = cat.by_class.get(class_ix)?.iter().map(|p| &cat.parts[*p]);
            let places = cat.vehicles.values().flat_map(|v| v.positions.values());
            let mut places = places.filter(|p| p.class == class_ix);
            if parts.clone().any(|p| p.figure(figure_ix).is_some())
                || places.any(|p| p.figure(figure_ix).is_some())
            {
                return None;
            }
            let theirs: HashSet<&str> =
                parts.flat_map(|p| &p.figures).map(|(f, _)| cat.figure_names.id(*f)).collect();
            let near = nearest(figure, theirs.iter().copied());
            let rest =
                then(near, "give it to the parts, where it is not known as \"unknown: how to measure it\"");
            Some(format!(
                "no part of the class \"{class}\" and no place of it has the figure \"{figure}\"{rest}"
            ))
        }
        Input::Fact { fact, otherwise: None } => {
            let ix = cat.figure_names.get(fact)?;
            let stated = cat.vehicles.values().any(|v| v.facts.contains_key(&ix));
            (!stated && !cat.set_by.contains_key(&ix)).then(|| {
                format!(
                    "no vehicle states \"{fact}\" and no part sets it, so that this limit never applies; state it, if only \
                     as \"unknown: how to measure it\", or say with \"else\" what it is then"
                )
            })
        }
        _ => None,
    }
}

fn wants(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (file, content) in files {
        let types = content.port_types.iter().map(|(id, t)| (format!("port_types.{id}.opened"), &t.opened));
        let openings = content.openings.iter().map(|(id, o)| (format!("openings.{id}.wants"), &o.wants));
        for (path, wants) in types.chain(openings) {
            for (i, want) in wants.iter().enumerate().filter(|(_, want)| is_empty(&ctx.cat, want)) {
                let message = format!(
                    "no part is of the class \"{}\", so that this never brings anything; add a part of it",
                    want.class
                );
                ctx.faults.warn(file, format!("{path}[{i}].class"), message);
            }
        }
    }
}

fn is_empty(cat: &Catalogue, want: &Want) -> bool {
    let class = cat.class_names.get(&want.class).and_then(|ix| cat.by_class.get(ix));
    class.is_some_and(Vec::is_empty)
}

/// Fluid that a part holds for a circuit no vehicle has.
fn circuits(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let circuits = ctx.cat.vehicles.values().flat_map(|v| v.circuits.values());
    let known: HashSet<String> = circuits.map(|c| c.id.clone()).collect();
    for (file, content) in files {
        for (id, part) in &content.parts {
            for circuit in part.holds.keys().filter(|circuit| !known.contains(*circuit)) {
                let near = nearest(circuit, known.iter().map(String::as_str));
                let rest = then(near, "add it or correct the word");
                let message = format!("no vehicle has a circuit \"{circuit}\"{rest}");
                ctx.faults.warn(file, format!("parts.{id}.holds.{circuit}"), message);
            }
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
