//! What the keyboard can stop at, as drawn last, in reading order; and where Tab and F6 lead from there.

use std::collections::HashMap;

use egui::{Context, Id, LayerId, Order, Rect};

use crate::access::order::beside;
use crate::access::{Keys, Region};

/// One control that takes the focus.
#[derive(Clone, Copy, Debug)]
pub struct Stop {
    pub id: Id,
    /// All of it.
    pub rect: Rect,
    /// What of it is in sight.
    pub seen: Rect,
    pub region: Region,
    /// The list it is in.
    pub list: Option<Id>,
}

/// What views said of the last frame.
#[derive(Clone, Debug, Default)]
pub struct Map {
    /// The region of a `Ui`.
    pub regions: HashMap<Id, Region>,
    /// The list of a `Ui`.
    pub parts: HashMap<Id, Id>,
    /// How a list works, and where it stops first.
    pub lists: HashMap<Id, (Keys, Option<Id>)>,
    /// The edge of a panel at the right, which arrows move.
    pub edge: Option<Id>,
    /// Where one arrives in the panel.
    pub first: Option<Id>,
    /// Where Escape leads from a region.
    pub ways_out: HashMap<Region, Id>,
}

/// All stops of the last frame, in reading order. While a dialog is open only those in it.
pub fn stops(ctx: &Context, map: &Map) -> Vec<Stop> {
    let layers: Vec<LayerId> = ctx.viewport(|v| v.prev_pass.widgets.layer_ids().collect());
    let mut layers: Vec<LayerId> =
        layers.into_iter().filter(|layer| ctx.memory(|m| m.allows_interaction(*layer))).collect();
    // what lies deeper comes first; one of the same depth by its name, so that nothing depends on chance
    layers.sort_by_key(|layer| (layer.order, layer.id.value()));
    let mut all = Vec::new();
    ctx.viewport(|v| {
        let widgets = &v.prev_pass.widgets;
        for layer in layers {
            for w in widgets.get_layer(layer) {
                if !(w.enabled && w.visible && w.sense.is_focusable() && w.rect.is_positive()) {
                    continue;
                }
                let (mut region, mut list) = (None, None);
                let mut up = Some(w.id);
                // no Ui stands this deep; a circle ends here
                for _ in 0..64 {
                    let Some(id) = up else { break };
                    region = region.or_else(|| map.regions.get(&id).copied());
                    list = list.or_else(|| map.parts.get(&id).copied());
                    up = widgets.get(id).map(|w| w.parent_id).filter(|parent| *parent != id);
                }
                let other = if layer.order == Order::Background { Region::Page } else { Region::Over };
                let region = region.unwrap_or(other);
                all.push(Stop { id: w.id, rect: w.rect, seen: w.interact_rect, region, list });
            }
        }
    });
    all.sort_by_key(|stop| stop.region);
    let mut out: Vec<Stop> = Vec::with_capacity(all.len());
    for mut part in all.chunk_by(|a, b| a.region == b.region).map(<[Stop]>::to_vec) {
        beside(&mut part, |stop| stop.rect);
        out.append(&mut part);
    }
    out
}

/// One stop for each list: where it was last, else where it says, else its first.
fn once(all: &[Stop], map: &Map, last: &HashMap<Id, Id>) -> Vec<Stop> {
    let mut told: Vec<Id> = Vec::new();
    let mut out = Vec::new();
    for stop in all {
        let Some(list) = stop.list else {
            out.push(*stop);
            continue;
        };
        if told.contains(&list) {
            continue;
        }
        told.push(list);
        let is_there = |id: &Id| all.iter().find(|other| other.id == *id && other.list == Some(list));
        let first = map.lists.get(&list).and_then(|(_, at)| at.as_ref());
        let at = last.get(&list).and_then(is_there).or_else(|| first.and_then(is_there));
        out.push(*at.unwrap_or(stop));
    }
    out
}

/// Where Tab leads; round at the end.
pub fn tab(all: &[Stop], map: &Map, last: &HashMap<Id, Id>, now: Option<Id>, back: bool) -> Option<Id> {
    let here = now.and_then(|id| all.iter().find(|stop| stop.id == id));
    let stops = once(all, map, last);
    let is_here = |stop: &&Stop| {
        here.is_some_and(|here| stop.id == here.id || stop.list.is_some() && stop.list == here.list)
    };
    let at = stops.iter().position(|stop| is_here(&stop));
    let next = match (at, back) {
        (None, false) => 0,
        (None, true) => stops.len().checked_sub(1)?,
        (Some(at), false) => (at + 1) % stops.len(),
        (Some(at), true) => (at + stops.len() - 1) % stops.len(),
    };
    stops.get(next).map(|stop| stop.id)
}

/// Where one arrives in a part of the window.
pub fn enter(
    all: &[Stop],
    map: &Map,
    last: &HashMap<Id, Id>,
    been: &HashMap<Region, Id>,
    region: Region,
) -> Option<Id> {
    let here = |id: &&Id| all.iter().any(|stop| stop.id == **id && stop.region == region);
    let before = been.get(&region).filter(here).copied();
    let before = before.or_else(|| map.first.filter(|id| here(&id)));
    // the longest list is what one comes for, also where buttons and headings stand over it
    let stops = once(all, map, last);
    let of_region = || stops.iter().filter(|stop| stop.region == region);
    let long = |stop: &&Stop| all.iter().filter(|other| other.list == stop.list).count();
    let list = of_region().filter(|stop| stop.list.is_some()).max_by_key(long);
    let list = list.filter(|_| matches!(region, Region::Page | Region::Panel));
    before.or_else(|| list.or_else(|| of_region().next()).map(|stop| stop.id))
}

/// The part of the window after this one that has stops, or before it.
pub fn next_region(all: &[Stop], now: Option<Region>, back: bool) -> Option<Region> {
    let mut there: Vec<Region> = all.iter().map(|stop| stop.region).collect();
    there.dedup();
    let Some(now) = now else {
        return there.iter().find(|region| **region == Region::Page).or(there.first()).copied();
    };
    let after = there.iter().find(|region| **region > now).or(there.first());
    let before = there.iter().rev().find(|region| **region < now).or(there.last());
    if back { before.copied() } else { after.copied() }
}
