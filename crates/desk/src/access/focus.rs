//! The keyboard's focus: it comes into sight wherever it goes, goes back where something closes, and follows Tab, F6, Escape
//! and the keys of lists. All of it happens before a frame is drawn, from what was drawn last.

use std::collections::HashMap;

use egui::accesskit::{Action, ActionRequest, TreeId};
use egui::text_edit::TextEditState;
use egui::{
    Context, Event, FullOutput, Id, Key, Modifiers, Plugin, PointerButton, Popup, RawInput, Rect, Ui,
};

use crate::access::announce::Said;
use crate::access::arrows;
use crate::access::overlays::Openers;
use crate::access::stops::{self, Map, Stop};
use crate::access::{Keys, Region, tree};

/// What is known of the focus, from frame to frame.
#[derive(Debug, Default)]
pub struct Focus {
    /// What views say in the frame that is being drawn.
    pub(super) now: Map,
    /// The same of the last frame.
    map: Map,
    /// Where the keyboard was last in each list and in each part of the window.
    last: HashMap<Id, Id>,
    been: HashMap<Region, Id>,
    /// The part of the window where it is.
    pub(super) at: Option<Region>,
    /// It is in a list.
    pub(super) in_list: bool,
    /// The part of the window where it is to go.
    pub(super) wanted: Option<Region>,
    /// A field all of whose text is selected: arrows lead out of it.
    pub(super) ready: Option<Id>,
    openers: Openers,
    /// What was brought into sight last, and where it stood.
    in_sight: Option<Id>,
    stood: Option<Stop>,
    /// For how many frames more what vanishes has been left by Escape.
    escaped: u8,
    /// The pointer was used in the last frame: what it hit is in sight.
    by_pointer: bool,
    /// Wheel, pointer or a reader may have moved what has the keyboard out of sight: it stays there until a key is pressed.
    by_hand: bool,
    /// What a screen reader is told.
    pub(super) said: Said,
}

/// What is higher than this may be cut by the part of the window it fills.
const HIGH: f32 = 200.0;

/// Where a control stood in the last frame, and what of it was in sight.
fn placed(ctx: &Context, id: Id) -> Option<(Rect, Rect)> {
    ctx.viewport(|v| v.prev_pass.widgets.get(id).map(|w| (w.rect, w.interact_rect)))
}

/// Asks a control for something as a screen reader does.
fn ask(input: &mut RawInput, action: Action, id: Id) {
    let target_node = id.accesskit_id();
    let request = ActionRequest { action, target_node, target_tree: TreeId::ROOT, data: None };
    input.events.push(Event::AccessKitActionRequest(request));
}

/// Takes a key out of the input; whether it was pressed.
fn took(input: &mut RawInput, modifiers: Modifiers, key: Key) -> bool {
    let is_it = |e: &Event| matches!(e, Event::Key { key: k, pressed: true, modifiers: m, .. } if *k == key && m.matches_exact(modifiers));
    let there = input.events.iter().any(is_it);
    input.events.retain(|e| !is_it(e));
    there
}

impl Focus {
    /// Moves the keyboard; the control sees that it has gained it.
    fn go(&mut self, ctx: &Context, input: &mut RawInput, id: Id) {
        ask(input, Action::Focus, id);
        ctx.request_repaint();
    }

    /// What a dialog covers is not to be pressed from outside either. Notes what is pressed.
    fn guard(&mut self, ctx: &Context, input: &mut RawInput) {
        let is_request = |e: &Event| matches!(e, Event::AccessKitActionRequest(_));
        if !input.events.iter().any(is_request) {
            return;
        }
        input.events.retain(|event| {
            let Event::AccessKitActionRequest(request) = event else { return true };
            let found = ctx.viewport(|v| {
                let all = v.prev_pass.widgets.layers().flat_map(|(_, widgets)| widgets.iter());
                let is_it = |w: &&egui::WidgetRect| w.id.accesskit_id() == request.target_node;
                all.into_iter().find(is_it).map(|w| (w.id, w.layer_id))
            });
            let Some((id, layer)) = found else { return true };
            if request.action == Action::Click {
                self.openers.pressed(id);
            }
            ctx.memory(|m| m.is_above_modal_layer(layer))
        });
    }

    /// Reads the keys that lead from one control to another.
    fn keys(&mut self, ctx: &Context, input: &mut RawInput, focused: Option<Id>) {
        let mut all: Option<Vec<Stop>> = None;
        let map = self.map.clone();
        let mut stops = move || all.get_or_insert_with(|| stops::stops(ctx, &map)).clone();
        let writes = ctx.text_edit_focused();
        for back in [false, true] {
            let modifiers = if back { Modifiers::SHIFT } else { Modifiers::NONE };
            if took(input, modifiers, Key::Tab)
                && let Some(id) = stops::tab(&stops(), &self.map, &self.last, focused, back)
            {
                return self.go(ctx, input, id);
            }
            if took(input, modifiers, Key::F6) {
                let all = stops();
                if let Some(region) = stops::next_region(&all, self.at.filter(|_| focused.is_some()), back)
                    && let Some(id) = stops::enter(&all, &self.map, &self.last, &self.been, region)
                {
                    return self.go(ctx, input, id);
                }
            }
        }
        if let Some(region) = self.wanted.take()
            && let Some(id) = stops::enter(&stops(), &self.map, &self.last, &self.been, region)
        {
            return self.go(ctx, input, id);
        }
        let Some(focused) = focused else { return };
        let pressed = |input: &RawInput, key: Key| {
            let is_it = |e: &Event| matches!(e, Event::Key { key: k, pressed: true, modifiers, .. } if *k == key && modifiers.is_none());
            input.events.iter().any(is_it)
        };
        if pressed(input, Key::Escape)
            && let Some(to) = self.at.and_then(|region| self.map.ways_out.get(&region).copied())
            && stops().iter().any(|stop| stop.id == to)
        {
            if writes {
                // the field is told of the key, and takes back what was typed
                return self.openers.give_back(to);
            }
            took(input, Modifiers::NONE, Key::Escape);
            return self.go(ctx, input, to);
        }
        if self.map.edge == Some(focused) {
            for (key, action) in [(Key::ArrowLeft, Action::Increment), (Key::ArrowRight, Action::Decrement)] {
                if took(input, Modifiers::NONE, key) {
                    ask(input, action, focused);
                }
            }
            return;
        }
        let Some(key) = arrows::KEYS.into_iter().find(|key| pressed(input, *key)) else { return };
        let all = stops();
        let Some(list) = all.iter().find(|stop| stop.id == focused).and_then(|stop| stop.list) else {
            return;
        };
        // in a field the arrows are the text's, unless all of it stands selected
        let is_ready = self.ready == Some(focused);
        let across = matches!(key, Key::ArrowLeft | Key::ArrowRight);
        let is_own = self.map.lists.get(&list).is_some_and(|(keys, _)| *keys == Keys::Own);
        if writes && !is_ready || is_own && !across {
            return;
        }
        let here: Vec<Stop> = all.into_iter().filter(|stop| stop.list == Some(list)).collect();
        let to = arrows::walk(&here, focused, key).filter(|to| {
            let row = |id: Id| here.iter().find(|stop| stop.id == id).map(|stop| stop.rect);
            // a list that reads its own keys is left alone but along its rows
            !is_own || row(focused).zip(row(*to)).is_some_and(|(a, b)| a.y_range().intersects(b.y_range()))
        });
        took(input, Modifiers::NONE, key);
        if let Some(to) = to {
            self.go(ctx, input, to);
        }
    }

    /// A control that is not there any more leaves the keyboard to the one nearest to it that is no field, in its part of the window; where
    /// all of its list is gone, to the page that has come in its place.
    fn lost(&mut self, ctx: &Context, input: &mut RawInput, by_pointer: bool) {
        let (Some(gone), Some(stood)) = (self.in_sight, self.stood) else { return };
        let is_there = ctx.viewport(|v| v.prev_pass.widgets.contains(gone));
        if is_there || by_pointer || self.openers.waits() || stood.region == Region::Over {
            return;
        }
        let all = stops::stops(ctx, &self.map);
        let far = |stop: &&Stop| {
            let way = stop.rect.left_center() - stood.rect.left_center();
            (way.y.abs() * 4.0 + way.x.abs()) as i64
        };
        let list_is_gone = stood.list.is_some() && all.iter().all(|stop| stop.list != stood.list);
        let way_out = self.map.ways_out.get(&stood.region).copied().filter(|_| self.escaped > 0);
        let way_out = way_out.filter(|id| all.iter().any(|stop| stop.id == *id));
        let to = if way_out.is_some() {
            way_out
        } else if self.escaped > 0 && stood.region == Region::Panel {
            // its row is folded away: the keys of rows go to what is selected
            None
        } else if list_is_gone {
            stops::enter(&all, &self.map, &self.last, &HashMap::new(), stood.region)
        } else {
            let is_field = |id: Id| TextEditState::load(ctx, id).is_some();
            // a field takes the next keys as text: it is not given the keyboard by what was none
            let may = |stop: &&Stop| stop.region == stood.region && (is_field(gone) || !is_field(stop.id));
            all.iter().filter(may).min_by_key(far).map(|stop| stop.id)
        };
        if let Some(id) = to {
            self.go(ctx, input, id);
        }
    }

    /// The menu key opens the menu of the control that has the keyboard, as the right button does.
    fn menu(&self, ctx: &Context, input: &mut RawInput, focused: Option<Id>) {
        if !(took(input, Modifiers::NONE, Key::Menu) || took(input, Modifiers::SHIFT, Key::F10)) {
            return;
        }
        let seen =
            focused.and_then(|id| ctx.viewport(|v| v.prev_pass.widgets.get(id).map(|w| w.interact_rect)));
        let Some(seen) = seen.filter(Rect::is_positive) else { return };
        let pos = seen.left_center() + egui::vec2(seen.width().min(80.0) / 2.0, 0.0);
        input.events.push(Event::PointerMoved(pos));
        for pressed in [true, false] {
            let modifiers = Modifiers::NONE;
            input.events.push(Event::PointerButton {
                pos,
                button: PointerButton::Secondary,
                pressed,
                modifiers,
            });
        }
        ctx.request_repaint();
    }

    /// What comes in above the control with the keyboard is not to push it out of sight.
    fn moved(&mut self, ctx: &Context, input: &mut RawInput) {
        let (Some(id), Some(stood)) = (self.in_sight, &mut self.stood) else { return };
        let Some((rect, seen)) = placed(ctx, id).filter(|(rect, _)| *rect != stood.rect) else { return };
        (stood.rect, stood.seen) = (rect, seen);
        let is_cut = rect.height() < HIGH && !seen.expand(1.0).contains_rect(rect);
        if is_cut && !self.by_hand {
            ask(input, Action::ScrollIntoView, id);
            ctx.request_repaint();
        }
    }

    /// Remembers where the keyboard is, and brings it into sight where it has gone elsewhere.
    fn note(&mut self, ctx: &Context, input: &mut RawInput, focused: Option<Id>) {
        let pointer = input.events.iter().any(|e| matches!(e, Event::PointerButton { .. }));
        let by_pointer = std::mem::replace(&mut self.by_pointer, pointer) || pointer;
        let is_key = |e: &Event| matches!(e, Event::Key { pressed: true, .. });
        if self.in_sight == focused {
            self.moved(ctx, input);
            return;
        }
        let Some(id) = focused else {
            // Escape and Enter take the keyboard a frame or more before what they close is gone
            let goes_on = by_pointer || input.events.iter().any(is_key);
            if !goes_on && self.in_sight.is_some_and(|id| placed(ctx, id).is_some()) {
                return;
            }
            self.lost(ctx, input, by_pointer);
            self.in_sight = None;
            self.at = None;
            self.in_list = false;
            return;
        };
        let all = stops::stops(ctx, &self.map);
        let Some(stop) = all.iter().find(|stop| stop.id == id) else {
            // it has just been asked for and was not drawn yet
            ctx.request_repaint();
            return;
        };
        self.in_sight = focused;
        self.stood = Some(*stop);
        self.at = Some(stop.region);
        self.in_list = stop.list.is_some();
        self.been.insert(stop.region, id);
        if let Some(list) = stop.list {
            self.last.insert(list, id);
        }
        let is_cut = !stop.seen.expand(1.0).contains_rect(stop.rect);
        if is_cut && !by_pointer {
            ask(input, Action::ScrollIntoView, id);
            ctx.request_repaint();
        }
    }
}

impl Plugin for Focus {
    fn debug_name(&self) -> &'static str {
        "focus"
    }

    fn input_hook(&mut self, ctx: &Context, input: &mut RawInput) {
        self.guard(ctx, input);
        // a reader looks elsewhere too
        let is_hand = |e: &Event| {
            matches!(
                e,
                Event::MouseWheel { .. } | Event::PointerButton { .. } | Event::AccessKitActionRequest(_)
            )
        };
        let is_key = |e: &Event| matches!(e, Event::Key { pressed: true, .. });
        self.by_hand = (self.by_hand || input.events.iter().any(is_hand)) && !input.events.iter().any(is_key);
        let is_escape = |e: &Event| matches!(e, Event::Key { key: Key::Escape, pressed: true, .. });
        self.escaped = if input.events.iter().any(is_escape) { 12 } else { self.escaped.saturating_sub(1) };
        let focused = ctx.memory(egui::Memory::focused);
        let is_popup = Popup::is_any_open(ctx);
        let is_modal = ctx.memory(egui::Memory::top_modal_layer).is_some();
        let is_there = |id: Id| ctx.viewport(|v| v.prev_pass.widgets.contains(id));
        if let Some(id) = self.openers.step(focused, is_popup, is_modal, is_there) {
            if is_there(id) {
                self.go(ctx, input, id);
            } else if !is_modal {
                self.wanted = Some(Region::Page);
            }
        }
        if self.openers.waits() {
            ctx.request_repaint();
        }
        // a list or a dialog has its keys from egui
        if !is_popup && !is_modal {
            self.keys(ctx, input, focused);
            self.menu(ctx, input, focused);
        }
        self.note(ctx, input, focused);
    }

    fn on_begin_pass(&mut self, _ui: &mut Ui) {
        self.now = Map::default();
        self.ready = None;
    }

    fn output_hook(&mut self, ctx: &Context, output: &mut FullOutput) {
        self.map = std::mem::take(&mut self.now);
        if let (Some(id), Some(stood)) = (self.in_sight, &self.stood)
            && placed(ctx, id).is_some_and(|(rect, _)| rect != stood.rect)
        {
            // whether it is still in sight is looked at in the next frame
            ctx.request_repaint();
        }
        if let Some(update) = &mut output.platform_output.accesskit_update {
            tree::finish(ctx, update, &self.map, &mut self.said);
        }
    }
}
