//! Side drawings, each at the vehicles it serves.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::build::{Ctx, gather};
use crate::library::LibraryFile;
use crate::meant::{nearest, then};

/// A drawing with a fault is left out: it is told, and nobody is shown half of it.
pub(super) fn drawings(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let systems: Vec<String> = ctx.cat.systems.iter().map(|(id, _)| id.clone()).collect();
    let systems: BTreeMap<&str, ()> = systems.iter().map(|id| (id.as_str(), ())).collect();
    for (id, (file, drawing)) in gather(files, "drawings", |f| &f.drawings, &mut ctx.faults) {
        let path = format!("drawings.{id}");
        let faults = drawing.faults(&systems);
        let is_whole = faults.is_empty();
        for (below, message) in faults {
            ctx.faults.error(file, format!("{path}.{below}"), message);
        }
        if drawing.about.trim().is_empty() {
            let message = "expected what it shows, in words, for whoever does not see it; found nothing";
            ctx.faults.warn(file, format!("{path}.about"), message.to_owned());
        }
        let drawing = Arc::new(drawing.clone());
        for (i, vehicle) in drawing.vehicles.iter().enumerate() {
            let here = format!("{path}.vehicles[{i}]");
            if !ctx.cat.vehicles.contains_key(vehicle) {
                let near = nearest(vehicle, ctx.cat.vehicles.keys().map(String::as_str));
                let rest = then(near, "add it or correct the word");
                ctx.faults.error(file, here, format!("there is no vehicle \"{vehicle}\"{rest}"));
            } else if ctx.cat.drawings.contains_key(vehicle) {
                let message = format!(
                    "another drawing shows the vehicle \"{vehicle}\" already; take it out of one of them"
                );
                ctx.faults.error(file, here, message);
            } else if is_whole {
                ctx.cat.drawings.insert(vehicle.clone(), Arc::clone(&drawing));
            }
        }
    }
}
