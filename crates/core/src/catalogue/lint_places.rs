//! Words on where something is that name no place of any vehicle, and alternatives without another: what is said so says
//! nothing, and nobody would notice.

use std::collections::BTreeSet;

use super::build::Ctx;
use super::{ContentEntry, PartEntry};
use crate::library::{ClassAt, Input, LibraryFile, Whereabouts};
use crate::meant::{nearest, then};

pub(super) fn lints(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    words(files, ctx);
    boxes_too_small(files, ctx);
    limits_about_nothing(files, ctx);
}

fn words(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (file, content) in files {
        let mut told: Vec<(String, String)> = Vec::new();
        let mut look = |class: &str, said: &Whereabouts, path: String| {
            told.extend(where_is_no_place(ctx, class, said).map(|message| (path, message)));
        };
        for (id, part) in &content.parts {
            for (i, inside) in part.contents.iter().enumerate() {
                if let Some(class) = class_of(files, &inside.part) {
                    look(class, &inside.whereabouts, format!("parts.{id}.contents[{i}].where"));
                }
            }
            for (i, ClassAt { class, whereabouts }) in part.leaves_empty.iter().enumerate() {
                look(class, whereabouts, format!("parts.{id}.leaves_empty[{i}].where"));
            }
        }
        for (id, opening) in &content.openings {
            for (i, ClassAt { class, whereabouts }) in opening.classes.iter().enumerate() {
                look(class, whereabouts, format!("openings.{id}.classes[{i}].where"));
            }
            for (i, want) in opening.wants.iter().enumerate() {
                look(&want.class, &want.whereabouts, format!("openings.{id}.wants[{i}].where"));
            }
        }
        for (id, limit) in &content.limits {
            for (word, input) in &limit.inputs {
                each_class(input, &format!("limits.{id}.inputs.{word}"), &mut look);
            }
        }
        for (vid, vehicle) in &content.vehicles {
            for (jid, joint) in &vehicle.joints {
                let Some(word) = &joint.either else { continue };
                let others = || vehicle.joints.iter().filter(|(id, _)| *id != jid);
                if others().all(|(_, other)| other.either.as_ref() != Some(word)) {
                    let words: BTreeSet<&str> = others().filter_map(|(_, o)| o.either.as_deref()).collect();
                    let rest = then(nearest(word, words), "give another the same word or take it out");
                    let message = format!(
                        "no other joint of this vehicle says \"{word}\", so it has no alternative{rest}"
                    );
                    told.push((format!("vehicles.{vid}.joints.{jid}.either"), message));
                }
            }
        }
        for (path, message) in told {
            ctx.faults.warn(file, path, message);
        }
    }
}

/// Kits that hold fewer of a content than go where it goes, on every vehicle they go to: nobody buys the rest.
fn boxes_too_small(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (file, content) in files {
        for id in content.parts.keys() {
            let Some(kit) = ctx.cat.part(id) else { continue };
            let too_small =
                (0..).zip(&kit.contents).filter_map(|(i, inside)| Some((i, too_small(ctx, kit, inside)?)));
            let told: Vec<(usize, String)> = too_small.collect();
            for (i, message) in told {
                ctx.faults.warn(file, format!("parts.{id}.contents[{i}].qty"), message);
            }
        }
    }
}

fn too_small(ctx: &Ctx, kit: &PartEntry, inside: &ContentEntry) -> Option<String> {
    let part = &ctx.cat.parts[inside.part];
    let mut first = None;
    for (vid, v) in &ctx.cat.vehicles {
        for (pos, at) in v.positions.iter().filter(|(_, p)| p.class == kit.class) {
            let had = inside.qty.saturating_mul(at.qty);
            let places = v.places_of_content(pos, inside, u32::MAX, part);
            let wanted: u32 = places.iter().map(|p| v.positions[*p].qty).sum();
            if had >= wanted {
                return None;
            }
            let names: Vec<&str> = places.iter().map(|p| v.positions[*p].id.as_str()).collect();
            first.get_or_insert_with(|| {
                format!(
                    "the box holds {had}, and {wanted} go to {} of \"{vid}\"; write how many there are, or where they go",
                    names.join(" and ")
                )
            });
        }
    }
    first
}

/// Limits that compare a figure with itself.
fn limits_about_nothing(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (file, content) in files {
        for (id, limit) in &content.limits {
            let figures: Vec<(&String, &Input)> =
                limit.inputs.iter().filter(|(_, input)| matches!(input, Input::Figure { .. })).collect();
            for (i, (word, input)) in figures.iter().enumerate() {
                if let Some((other, _)) = figures[..i].iter().find(|(_, earlier)| earlier == input) {
                    let message = format!(
                        "it reads the same figure of the same place as \"{other}\"; say with \"where\" which place each is about"
                    );
                    ctx.faults.warn(file, format!("limits.{id}.inputs.{word}"), message);
                }
            }
        }
    }
}

/// The class of a part, by id.
fn class_of<'a>(files: &'a [(String, LibraryFile)], part: &str) -> Option<&'a str> {
    files.iter().find_map(|(_, f)| f.parts.get(part)).map(|p| p.class.as_str())
}

/// The classes that an input reads, with what it says on where.
fn each_class(input: &Input, path: &str, look: &mut impl FnMut(&str, &Whereabouts, String)) {
    match input {
        Input::Figure { class, whereabouts, .. } => look(class, whereabouts, format!("{path}.where")),
        Input::Sum { sum, less } => {
            for (word, terms) in [("sum", sum), ("less", less)] {
                for (i, term) in terms.iter().enumerate() {
                    each_class(term, &format!("{path}.{word}[{i}]"), look);
                }
            }
        }
        Input::Fact { .. } | Input::Pool { .. } | Input::Fixed { .. } => {}
    }
}

/// What is wrong with words that no place of a class bears.
fn where_is_no_place(ctx: &Ctx, class: &str, said: &Whereabouts) -> Option<String> {
    let ix = ctx.cat.class_names.get(class).filter(|_| !said.is_empty())?;
    let places = || ctx.cat.vehicles.values().flat_map(|v| v.positions.values()).filter(|p| p.class == ix);
    if places().any(|p| p.whereabouts.bears(said)) {
        return None;
    }
    if places().next().is_none() {
        return Some(format!(
            "no vehicle has a place for \"{class}\", so \"{said}\" chooses none; take it out"
        ));
    }
    let known: BTreeSet<&str> = places().flat_map(|p| p.whereabouts.words()).collect();
    let near =
        said.words().filter(|word| !known.contains(word)).find_map(|w| nearest(w, known.iter().copied()));
    let they = if known.is_empty() {
        "its places say nothing on where they are".to_owned()
    } else {
        format!("its places say {}", known.iter().copied().collect::<Vec<_>>().join(", "))
    };
    let rest = then(near, &they);
    Some(format!("no place of any vehicle for \"{class}\" is \"{said}\"{rest}"))
}

#[cfg(test)]
mod tests;
