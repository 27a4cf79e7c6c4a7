//! For people who work without a mouse or without looking: where the keyboard's focus goes and that it is seen, in which order
//! things are read, and what a screen reader is told.
//!
//! A page needs little of it: [`region`] once in each part of the window, [`list`] around rows of which only one is to be a
//! stop of Tab, the helpers of [`heard`] for headings, closed lists and fields that are wrong, and [`announce::say`] for what
//! has happened. Scrolling to the focus, giving it back when a list, menu or dialog closes, Tab, F6 and the order of reading
//! follow from that.

pub mod announce;
pub mod arrows;
pub mod focus;
pub mod heard;
pub mod order;
pub mod overlays;
pub mod stops;
pub mod tree;

use egui::accesskit::Role;
use egui::{Context, Id, Ui};

use crate::access::focus::Focus;

/// The parts of the window, in the order in which they are read and in which F6 walks them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Region {
    /// The bar on top.
    Bar,
    /// What is to be done next, and what stands over the page: how much is told, what is looked for.
    Lead,
    /// The page: the board, a table, a drawing.
    Page,
    /// The panel beside it.
    Panel,
    /// The figures at the foot.
    Strip,
    /// What lies over the page: messages, work under way.
    Over,
}

/// How the keys of a list work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keys {
    /// Arrows, Home, End and the Page keys walk what is drawn of it, whatever its columns.
    Walk,
    /// It reads its keys itself, for not all of it is drawn. Tab passes it all the same.
    Own,
}

/// Says that this `Ui` and all in it is a part of the window. `name` is what a screen reader says of it.
pub fn region(ui: &Ui, region: Region, name: &str) {
    let id = ui.unique_id();
    ui.ctx().with_plugin(|focus: &mut Focus| focus.now.regions.insert(id, region));
    ui.ctx().accesskit_node_builder(id, |node| {
        node.set_role(Role::Region);
        node.set_label(name);
        let rect = ui.max_rect();
        node.set_bounds(egui::accesskit::Rect {
            x0: rect.left().into(),
            y0: rect.top().into(),
            x1: rect.right().into(),
            y1: rect.bottom().into(),
        });
    });
}

/// Says that all in this `Ui` is one list: Tab stops at it once, at the row where it was last. `at` is where it stops first;
/// else at its first row.
pub fn list(ui: &Ui, keys: Keys, at: Option<Id>) {
    part_of_list(ui, ui.unique_id(), keys, at);
}

/// The same for a list whose rows or cells lie in several `Ui`s: each says which list it is a part of.
pub fn part_of_list(ui: &Ui, list: Id, keys: Keys, at: Option<Id>) {
    let id = ui.unique_id();
    ui.ctx().with_plugin(|focus: &mut Focus| {
        focus.now.parts.insert(id, list);
        focus.now.lists.insert(list, (keys, at));
    });
}

/// Where Escape leads from a part of the window: the row that opened it.
pub fn way_out(ctx: &Context, from: Region, to: Id) {
    ctx.with_plugin(|focus: &mut Focus| focus.now.ways_out.insert(from, to));
}

/// Where one arrives in the panel, unless the keyboard was in it before: what is mostly done there.
pub fn first(ctx: &Context, id: Id) {
    ctx.with_plugin(|focus: &mut Focus| focus.now.first = Some(id));
}

/// The edge of a panel at the right: the arrows to the left and to the right move it while it has the keyboard.
pub fn edge(ctx: &Context, id: Id) {
    ctx.with_plugin(|focus: &mut Focus| focus.now.edge = Some(id));
}

/// Brings the keyboard to a part of the window in the next frame: where it was there last, else to its first stop.
pub fn go_to(ctx: &Context, region: Region) {
    ctx.with_plugin(|focus: &mut Focus| focus.wanted = Some(region));
    ctx.request_repaint();
}

/// Whether the keyboard is in a list.
pub fn in_list(ctx: &Context) -> bool {
    ctx.with_plugin(|focus: &mut Focus| focus.in_list).unwrap_or_default()
}

/// The part of the window where the keyboard is.
pub fn at(ctx: &Context) -> Option<Region> {
    ctx.with_plugin(|focus: &mut Focus| focus.at).flatten()
}
