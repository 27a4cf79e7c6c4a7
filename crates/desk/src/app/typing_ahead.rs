//! Typing ahead: input that arrives in one frame is handed on in portions, so that no key outruns the field or page
//! that the key before it leads to.

use std::collections::VecDeque;
use std::time::{Duration, Instant};

use egui::{Context, Event, Key, Plugin, RawInput};

/// Longest wait for something the desk is working out: after that the keys go on as they are.
const PATIENCE: Duration = Duration::from_secs(5);

/// Input that waits for its frame.
#[derive(Debug, Default)]
pub struct Ahead {
    waiting: VecDeque<Event>,
    /// The last portion may open something: it is drawn once, and takes the keyboard, before more is handed on.
    settling: bool,
    /// The desk still works out what a key asked for, since then.
    held: Option<Instant>,
}

impl Ahead {
    /// Whether the desk still works out what a key asked for; what was typed after it waits.
    pub fn hold(&mut self, hold: bool) {
        self.held = hold.then(|| self.held.unwrap_or_else(Instant::now));
    }

    /// How many of the waiting events belong into one frame, and whether the last of them may lead elsewhere.
    fn portion(&self, typing: bool) -> (usize, bool) {
        let Some(at) = self.waiting.iter().position(|e| turns(e, typing)) else {
            return (self.waiting.len(), false);
        };
        // what was written before is taken in first: Enter takes a field as it stands then
        if self.waiting.iter().take(at).any(writes) {
            return (at, false);
        }
        // the letter a key writes comes right after the key and is the same stroke
        let wrote = matches!(self.waiting.get(at + 1), Some(Event::Text(_)));
        (at + 1 + usize::from(wrote), true)
    }
}

/// Whether an event changes the text of a field.
fn writes(event: &Event) -> bool {
    matches!(
        event,
        Event::Text(_) | Event::Paste(_) | Event::Cut | Event::Ime(_) | Event::Key { pressed: true, .. }
    )
}

/// Whether an event may open, close or move something. A key that only repeats is not worth a frame of its own.
fn turns(event: &Event, typing: bool) -> bool {
    match event {
        Event::Key { key, pressed: true, repeat: false, modifiers, .. } => {
            let leaves = [Key::Enter, Key::Escape, Key::Tab, Key::ArrowUp, Key::ArrowDown].contains(key);
            !typing || leaves || modifiers.command || modifiers.ctrl
        }
        Event::PointerButton { pressed: false, .. } => true,
        _ => false,
    }
}

impl Plugin for Ahead {
    fn debug_name(&self) -> &'static str {
        "typing ahead"
    }

    fn input_hook(&mut self, ctx: &Context, input: &mut RawInput) {
        self.waiting.extend(input.events.drain(..));
        let held = self.held.is_some_and(|since| since.elapsed() < PATIENCE);
        if !held && !std::mem::take(&mut self.settling) {
            let (n, turns) = self.portion(ctx.text_edit_focused());
            input.events.extend(self.waiting.drain(..n));
            self.settling = turns;
        }
        if !self.waiting.is_empty() {
            ctx.request_repaint();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(key: Key, pressed: bool, repeat: bool) -> Event {
        Event::Key { key, physical_key: None, pressed, repeat, modifiers: egui::Modifiers::NONE }
    }

    fn of(events: Vec<Event>) -> Ahead {
        Ahead { waiting: events.into(), ..Ahead::default() }
    }

    #[test]
    fn a_portion_ends_with_the_stroke_that_leads_elsewhere() {
        let slash = || {
            vec![
                key(Key::Slash, true, false),
                Event::Text("/".into()),
                key(Key::Slash, false, false),
                Event::Cut,
            ]
        };
        assert_eq!(of(slash()).portion(false), (2, true));
        // in a field it is a letter among others
        assert_eq!(of(slash()).portion(true), (4, false));
        assert_eq!(of(vec![Event::Text("a".into()), key(Key::Enter, true, false)]).portion(true), (1, false));
        assert_eq!(of(vec![key(Key::Enter, true, false), Event::Text("a".into())]).portion(true), (2, true));
        assert_eq!(of(Vec::new()).portion(false), (0, false));
    }

    #[test]
    fn a_key_held_down_does_not_pile_up_frames() {
        let held = (0..40).map(|_| key(Key::ArrowDown, true, true)).collect();
        assert_eq!(of(held).portion(false), (40, false));
    }
}
