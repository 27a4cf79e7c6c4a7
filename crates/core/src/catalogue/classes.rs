//! Classes of parts: where their parts may be used, who decides a place of theirs, and what cannot be meant together.

use std::collections::HashSet;

use super::build::{Ctx, gather};
use super::check::Faults;
use crate::library::{Class, Decided, LibraryFile, Stage};

/// A class ready for the engine.
#[derive(Clone, Debug, PartialEq)]
pub struct ClassEntry {
    /// As shown.
    pub name: String,
    /// Used loose where the vehicle has no place for it.
    pub free: bool,
    /// Work that leaves no part on the vehicle.
    pub service: bool,
    /// Who decides what sits in its place; `None`: a class that has no place.
    pub decided: Option<Decided>,
    /// The stage that wants work on its parts; `None`: as the system of the place says.
    pub stage: Option<Stage>,
}

impl ClassEntry {
    pub(super) fn new(class: &Class) -> Self {
        Self {
            name: class.name.clone(),
            free: class.free,
            service: class.service,
            decided: class.decided.or(class.free.then_some(Decided::Follows)),
            stage: class.stage,
        }
    }

    /// Whether its parts are used without a place on a vehicle that has none for it.
    #[must_use]
    pub fn is_loose(&self) -> bool {
        self.free || self.service
    }
}

/// What a class says of itself against what parts and vehicles do with it.
pub(super) fn classes(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    // what stands twice is told where the words are read
    let all = gather(files, "classes", |f| &f.classes, &mut Faults::default());
    for (id, (file, class)) in &all {
        if class.service && class.free {
            let message = "a class is used loose (\"free\") or is work that leaves no part (\"service\"), not both; take one of the \
                           two words out";
            ctx.faults.error(file, format!("classes.{id}"), message.to_owned());
        }
        if class.service && class.decided.is_some() {
            let message = "a service has no place on a vehicle, so that nobody decides what sits there; take \"decided\" or \"service\" out";
            ctx.faults.error(file, format!("classes.{id}.decided"), message.to_owned());
        }
    }
    for (file, content) in files {
        for (id, part) in &content.parts {
            let Some((_, class)) = all.get(&part.class) else { continue };
            if class.service && !part.ports.is_empty() {
                let message = format!(
                    "\"{}\" is a service, which is fitted nowhere and has no ports; take them out, or write \"free\" for \"service\" at the class",
                    part.class
                );
                ctx.faults.error(file, format!("parts.{id}.ports"), message);
            }
        }
    }
    let mut told = HashSet::new();
    for (file, content) in files {
        let vehicles = content.vehicles.iter();
        for (vid, pid, place) in
            vehicles.flat_map(|(vid, v)| v.positions.iter().map(move |(p, q)| (vid, p, q)))
        {
            let Some((class_file, class)) = all.get(&place.class) else { continue };
            if class.service {
                let message = format!(
                    "\"{}\" is a service, which leaves no part on the vehicle and has no place there; take the place out, or take \
                     \"service\" from the class",
                    place.class
                );
                ctx.faults.error(file, format!("vehicles.{vid}.positions.{pid}.class"), message);
            } else if class.decided.is_none() && !class.free && told.insert(&place.class) {
                let message = format!(
                    "the vehicle \"{vid}\" has a place for it, \"{pid}\", and it does not say who decides what sits there; write \
                     \"decided\": \"owner\" (the owner alone) or \"decided\": \"follows\" (whatever it joins)"
                );
                ctx.faults.error(class_file, format!("classes.{}", place.class), message);
            }
        }
    }
}
