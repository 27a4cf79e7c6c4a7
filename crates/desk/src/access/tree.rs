//! The tree that a screen reader gets, put right before it leaves: read in the order in which it stands, with what a dialog
//! covers out of reach, and with what is to be said.

use std::collections::HashMap;

use egui::accesskit::{Action, NodeId, Role, TreeUpdate};
use egui::{Context, LayerId, Rect, pos2};

use crate::access::Region;
use crate::access::announce::Said;
use crate::access::order::beside;
use crate::access::stops::Map;

/// What is known of a node beside itself.
#[derive(Clone, Copy)]
struct Place {
    rect: Rect,
    region: Option<Region>,
}

/// Puts the tree right.
pub fn finish(ctx: &Context, update: &mut TreeUpdate, map: &Map, said: &mut Said) {
    let widgets: HashMap<NodeId, (LayerId, Rect)> = ctx.viewport(|v| {
        let all = v.prev_pass.widgets.layers().flat_map(|(_, widgets)| widgets.iter());
        all.map(|w| (w.id.accesskit_id(), (w.layer_id, w.rect))).collect()
    });
    cover(ctx, update, &widgets);
    order(update, map, &widgets);
    if let Some((id, node)) = said.node() {
        let root = update.tree.as_ref().map(|tree| tree.root);
        if let Some((_, parent)) = update.nodes.iter_mut().find(|(id, _)| Some(*id) == root) {
            parent.push_child(id);
            update.nodes.push((id, node));
        }
    }
}

/// While a dialog is open, nothing behind it is read or can be pressed.
fn cover(ctx: &Context, update: &mut TreeUpdate, widgets: &HashMap<NodeId, (LayerId, Rect)>) {
    let Some(modal) = ctx.memory(egui::Memory::top_modal_layer) else { return };
    let mut open: HashMap<LayerId, bool> = HashMap::new();
    for (id, node) in &mut update.nodes {
        let Some((layer, _)) = widgets.get(id) else { continue };
        let is_open = *open
            .entry(*layer)
            .or_insert_with(|| *layer == modal || ctx.memory(|m| m.is_above_modal_layer(*layer)));
        if *layer == modal && node.role() == Role::Dialog {
            node.set_modal();
        }
        if !is_open {
            node.set_hidden();
            for action in [Action::Click, Action::Focus, Action::SetValue] {
                node.remove_action(action);
            }
        }
    }
}

/// Children in the order in which they are read.
fn order(update: &mut TreeUpdate, map: &Map, widgets: &HashMap<NodeId, (LayerId, Rect)>) {
    let regions: HashMap<NodeId, Region> =
        map.regions.iter().map(|(id, region)| (id.accesskit_id(), *region)).collect();
    let at: HashMap<NodeId, usize> = update.nodes.iter().enumerate().map(|(i, (id, _))| (*id, i)).collect();
    let mut places: HashMap<NodeId, Place> = HashMap::new();
    let root = update.tree.as_ref().map(|tree| tree.root);
    // children before their parents
    let mut line: Vec<NodeId> = root.into_iter().collect();
    let mut next = 0;
    while let Some(id) = line.get(next).copied() {
        let node = at.get(&id).and_then(|i| update.nodes.get(*i));
        line.extend(node.into_iter().flat_map(|(_, node)| node.children().iter().copied()));
        next += 1;
    }
    for id in line.into_iter().rev() {
        let Some((_, node)) = at.get(&id).and_then(|i| update.nodes.get_mut(*i)) else { continue };
        let own = node
            .bounds()
            .map(|b| Rect::from_min_max(pos2(b.x0 as f32, b.y0 as f32), pos2(b.x1 as f32, b.y1 as f32)));
        let own = own.or_else(|| widgets.get(&id).map(|(_, rect)| *rect)).filter(Rect::is_positive);
        let nowhere = Place { rect: Rect::NOTHING, region: None };
        let mut children: Vec<(NodeId, Place)> = node
            .children()
            .iter()
            .map(|child| (*child, places.get(child).copied().unwrap_or(nowhere)))
            .collect();
        let inner = children.iter().map(|(_, place)| place.rect);
        let rect = own.unwrap_or_else(|| inner.fold(Rect::NOTHING, Rect::union));
        let deeper = children.iter().find_map(|(_, place)| place.region);
        places.insert(id, Place { rect, region: regions.get(&id).copied().or(deeper) });
        if children.len() > 1 {
            if children.iter().any(|(_, place)| place.region.is_some()) {
                children.sort_by_key(|(_, place)| place.region.unwrap_or(Region::Over));
            } else {
                beside(&mut children, |(_, place)| place.rect);
            }
            node.set_children(children.into_iter().map(|(child, _)| child).collect::<Vec<_>>());
        }
    }
}
