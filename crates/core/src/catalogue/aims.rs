//! What an owner can hold a plan to, held to classes and limits.

use super::build::{Ctx, gather};
use crate::library::{Aim, LibraryFile};
use crate::meant::{nearest, then};

/// Takes in aims; limits and classes are there by now.
pub(super) fn aims(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (id, (file, aim)) in gather(files, "aims", |f| &f.aims, &mut ctx.faults) {
        let at = format!("aims.{id}");
        for (i, class) in aim.whom.iter().enumerate() {
            ctx.class(class, file, format!("{at}.for[{i}]"));
        }
        for (i, limit) in aim.limits.iter().enumerate() {
            let ids = || ctx.cat.limits.values().map(|limit| limit.id.as_str());
            if !ids().any(|known| known == limit) {
                let near = nearest(limit, ids());
                let said =
                    format!("there is no limit \"{limit}\"{}", then(near, "add it or correct the word"));
                ctx.faults.error(file, format!("{at}.limits[{i}]"), said);
            }
        }
        if !aim.reversible && aim.limits.is_empty() && (aim.whom.is_empty() || aim.routes.is_empty()) {
            let said =
                "nothing breaks it: say \"reversible\", \"limits\", or \"for\" with \"routes\"".to_owned();
            ctx.faults.warn(file, at, said);
        }
        ctx.cat.aims.insert(id, Aim::clone(aim));
    }
}
