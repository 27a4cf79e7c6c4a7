//! Openings and limits: every word of theirs resolved.

use super::build::{Ctx, gather};
use super::{Ix, LimitEntry, LimitInput, OpeningEntry};
use crate::library::{Input, LibraryFile};
use crate::limits::Calculation;
use crate::meant::{nearest, then};
use crate::value::{Kind, Value};

pub(super) fn rules(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    for (id, (file, def)) in gather(files, "openings", |f| &f.openings, &mut ctx.faults) {
        let mut classes = Vec::new();
        for (i, class) in def.classes.iter().enumerate() {
            classes.extend(ctx.class(class, file, format!("openings.{id}.classes[{i}]")));
        }
        let wants = ctx.wants(&def.wants, file, &format!("openings.{id}.wants"));
        let later = ctx.again(&def.later, file, &format!("openings.{id}.later"));
        ctx.cat.openings.push(OpeningEntry { id, name: def.name.clone(), classes, wants, later });
    }
    for (id, (file, def)) in gather(files, "limits", |f| &f.limits, &mut ctx.faults) {
        let path = format!("limits.{id}");
        let calc = match Calculation::new(&def.calc, def.inputs.keys().map(String::as_str)) {
            Ok(calc) => calc,
            Err(message) => {
                ctx.faults.error(file, format!("{path}.calc"), message);
                continue;
            }
        };
        let mut inputs = Vec::new();
        for (name, input) in &def.inputs {
            let here = |word: &str| format!("{path}.inputs.{name}.{word}");
            let resolved = match input {
                Input::Figure { class, figure, optional } => ctx
                    .class(class, file, here("class"))
                    .zip(ctx.look("figure", |c| &c.figure_names, figure, file, here("figure")))
                    .map(|(c, f)| LimitInput::Figure(c, f, *optional)),
                Input::Fact { fact } => {
                    ctx.look("figure", |c| &c.figure_names, fact, file, here("fact")).map(LimitInput::Fact)
                }
                Input::Pool { pool } => {
                    ctx.look("pool", |c| &c.pool_names, pool, file, here("pool")).map(LimitInput::Pool)
                }
                Input::Fixed { value } => match crate::quantity::Quantity::parse(value) {
                    Ok(q) => Some(LimitInput::Fixed(Value::Quantity(q))),
                    Err(e) => {
                        ctx.faults.error(file, here("value"), e.to_string());
                        None
                    }
                },
            };
            inputs.extend(resolved.map(|r| (name.clone(), r)));
        }
        if inputs.len() != def.inputs.len() {
            continue;
        }
        let kinds: Vec<(&str, Kind)> =
            inputs.iter().filter_map(|(name, input)| Some((name.as_str(), kind(ctx, input)?))).collect();
        if let Err((name, message)) = calc.check_kinds(&kinds) {
            ctx.faults.error(file, format!("{path}.inputs.{name}"), message);
            continue;
        }
        let raises = def.raises.as_ref().and_then(|need| {
            let ix = ctx.look("need", |c| &c.need_names, need, file, format!("{path}.raises"))?;
            let text = def.raises_value.clone().unwrap_or_else(|| "present".to_owned());
            ctx.need_value(ix, &text, file, format!("{path}.raises_value")).map(|v| (ix, v))
        });
        ctx.cat.limits.push(LimitEntry { id, def: def.clone(), calc, inputs, raises, yields_to: None });
    }
    for at in 0..ctx.cat.limits.len() {
        let Some(better) = ctx.cat.limits[at].def.yields_to.clone() else { continue };
        let found = ctx.cat.limits.iter().position(|l| l.id == better);
        if found.is_none() {
            let id = ctx.cat.limits[at].id.clone();
            let file = files.iter().map(|(f, l)| (f, l)).find(|(_, l)| l.limits.contains_key(&id));
            let known = ctx.cat.limits.iter().map(|l| l.id.as_str()).filter(|l| *l != id);
            let rest = then(nearest(&better, known), "expected the id of another limit");
            let message = format!("there is no limit \"{better}\"{rest}");
            ctx.faults.error(file.map_or("", |(f, _)| f), format!("limits.{id}.yields_to"), message);
        }
        ctx.cat.limits[at].yields_to = found.map(|i| i as Ix);
    }
}

/// What stands at an input of a limit.
fn kind(ctx: &Ctx, input: &LimitInput) -> Option<Kind> {
    match input {
        LimitInput::Figure(_, figure, _) | LimitInput::Fact(figure) => {
            let id = ctx.cat.figure_names.id(*figure);
            let known = !ctx.unread.contains(&format!("figures.{id}"));
            ctx.cat.figures.get(*figure as usize).filter(|_| known).map(|(_, kind, _)| *kind)
        }
        LimitInput::Pool(pool) => {
            ctx.cat.pools.get(*pool as usize).and_then(|pool| Kind::from_word(&pool.def.kind))
        }
        LimitInput::Fixed(Value::Quantity(q)) => Some(Kind::Dimension(q.dimension)),
        LimitInput::Fixed(_) => None,
    }
}
