//! Openings and limits: every word of theirs resolved.

use serde_json::Value as Json;

use super::build::{Ctx, gather};
use super::built::Built;
use super::{ClassPlaces, Closely, LimitEntry, LimitInput, OpeningEntry};
use crate::library::{Input, LibraryFile};
use crate::limits::Calculation;
use crate::meant::{nearest, then};
use crate::quantity::Quantity;
use crate::value::{Kind, Value};

pub(super) fn rules(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let built = Built::of(files);
    for (id, (file, def)) in gather(files, "openings", |f| &f.openings, &mut ctx.faults) {
        built.check(&def.built, file, &format!("openings.{id}.built"), ctx);
        let mut classes = Vec::new();
        for (i, class) in def.classes.iter().enumerate() {
            classes.extend(ctx.class_places(class, file, format!("openings.{id}.classes[{i}]")));
        }
        let wants = ctx.wants(&def.wants, file, &format!("openings.{id}.wants"));
        let later = ctx.again(&def.later, file, &format!("openings.{id}.later"));
        let (name, built) = (def.name.clone(), def.built.clone());
        ctx.cat.openings.push(OpeningEntry { id, name, classes, built, wants, later });
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
        let mut slots = Vec::new();
        for (name, input) in &def.inputs {
            let found = limit_input(ctx, input, &mut slots, file, &format!("{path}.inputs.{name}"));
            inputs.extend(found.map(|input| (name.clone(), input)));
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
        if def.raises.is_none() && def.raises_value.is_some() {
            let message = "this is the value of the need in \"raises\", and none is raised; add \"raises\" or take it out";
            ctx.faults.error(file, format!("{path}.raises_value"), message.to_owned());
        }
        let raises = def.raises.as_ref().and_then(|need| {
            let ix = ctx.look("need", |c| &c.need_names, need, file, format!("{path}.raises"))?;
            let text = def.raises_value.clone().unwrap_or_else(|| "present".to_owned());
            ctx.need_value(ix, &text, file, format!("{path}.raises_value")).map(|v| (ix, v))
        });
        let close = def.close.as_ref().and_then(|text| {
            let read = closely(text, calc);
            if let Err(message) = &read {
                ctx.faults.error(file, format!("{path}.close"), message.clone());
            }
            read.ok()
        });
        ctx.cat.limits.push(LimitEntry {
            id,
            def: def.clone(),
            calc,
            inputs,
            slots,
            raises,
            yields_to: None,
            close,
        });
    }
    for at in ctx.cat.limits.ids() {
        let Some(better) = ctx.cat.limits[at].def.yields_to.clone() else { continue };
        let found = ctx.cat.limits.position(|l| l.id == better);
        if found.is_none() {
            let id = ctx.cat.limits[at].id.clone();
            let file = files.iter().map(|(f, l)| (f, l)).find(|(_, l)| l.limits.contains_key(&id));
            let known = ctx.cat.limits.values().map(|l| l.id.as_str()).filter(|l| *l != id);
            let rest = then(nearest(&better, known), "expected the id of another limit");
            let message = format!("there is no limit \"{better}\"{rest}");
            ctx.faults.error(file.map_or("", |(f, _)| f), format!("limits.{id}.yields_to"), message);
        }
        ctx.cat.limits[at].yields_to = found;
    }
}

/// From where on a limit says what is left: `any`, or a quantity of something that can be changed to clear it.
fn closely(text: &str, calc: Calculation) -> Result<Closely, String> {
    if text == "any" {
        return Ok(Closely::Any);
    }
    let within = Quantity::parse(text).map_err(|why| why.to_string())?;
    if calc.can_move(within.dimension) {
        return Ok(Closely::Within(within));
    }
    let dimension = within.dimension.word();
    Err(format!("nothing that would clear it is a {dimension}; expected such a quantity, or \"any\""))
}

/// An input with its words resolved; `None` where one of them is not known, which has been told.
fn limit_input(
    ctx: &mut Ctx,
    input: &Input,
    slots: &mut Vec<ClassPlaces>,
    file: &str,
    path: &str,
) -> Option<LimitInput> {
    let here = |word: &str| format!("{path}.{word}");
    let figure = |ctx: &mut Ctx, id: &str, word: &str| {
        let ix = ctx.look("figure", |c| &c.figure_names, id, file, here(word))?;
        let known = !ctx.unread.contains(&format!("figures.{id}"));
        Some((ix, ctx.cat.figures.get(ix).filter(|_| known).map_or(Kind::Word, |f| f.1)))
    };
    // `Some(None)`: nothing is said
    let other = |ctx: &mut Ctx, text: Option<&String>, kind: Kind| match text {
        None => Some(None),
        Some(text) => ctx.value(&Json::String(text.clone()), kind, file, here("else")).map(Some),
    };
    match input {
        Input::Figure { class, whereabouts, figure: id, optional, otherwise } => {
            let class = ctx.class(class, file, here("class"));
            let (figure, kind) = figure(ctx, id, "figure")?;
            let otherwise = other(ctx, otherwise.as_ref(), kind)?;
            let said = ClassPlaces { class: class?, whereabouts: whereabouts.clone() };
            let slot = slots.iter().position(|s| *s == said).unwrap_or_else(|| {
                slots.push(said);
                slots.len() - 1
            });
            Some(LimitInput::Figure { slot, figure, optional: *optional, otherwise })
        }
        Input::Fact { fact, otherwise } => {
            let (figure, kind) = figure(ctx, fact, "fact")?;
            Some(LimitInput::Fact { figure, otherwise: other(ctx, otherwise.as_ref(), kind)? })
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
        Input::Sum { sum, less } => {
            let mut all = |list: &[Input], word: &str| -> Option<Vec<LimitInput>> {
                let each = list.iter().enumerate();
                let each =
                    each.map(|(i, term)| limit_input(ctx, term, slots, file, &format!("{path}.{word}[{i}]")));
                // every fault is told, not only the first
                each.collect::<Vec<_>>().into_iter().collect()
            };
            let (add, less) = (all(sum, "sum"), all(less, "less"));
            let sum = LimitInput::Sum { add: add?, less: less? };
            if kind(ctx, &sum).is_none() {
                let message = "expected values of one dimension to add up, such as three lengths".to_owned();
                ctx.faults.error(file, here("sum"), message);
                return None;
            }
            Some(sum)
        }
    }
}

/// What stands at an input of a limit; of a sum, the dimension that all in it have.
fn kind(ctx: &Ctx, input: &LimitInput) -> Option<Kind> {
    match input {
        LimitInput::Figure { figure, .. } | LimitInput::Fact { figure, .. } => {
            let id = ctx.cat.figure_names.id(*figure);
            let known = !ctx.unread.contains(&format!("figures.{id}"));
            ctx.cat.figures.get(*figure).filter(|_| known).map(|(_, kind, _)| *kind)
        }
        LimitInput::Pool(pool) => ctx.cat.pools.get(*pool).and_then(|pool| Kind::from_word(&pool.def.kind)),
        LimitInput::Fixed(Value::Quantity(q)) => Some(Kind::Dimension(q.dimension)),
        LimitInput::Fixed(_) => None,
        LimitInput::Sum { add, less } => {
            let mut kinds = add.iter().chain(less).map(|term| kind(ctx, term));
            let first = kinds.next()?.filter(|kind| matches!(kind, Kind::Dimension(_)))?;
            kinds.all(|kind| kind == Some(first)).then_some(first)
        }
    }
}
