//! What stands under the pointer is hushed once a dialog opens over it: a hint over what cannot be reached any more would lie
//! on the dialog.

use egui::{Context, Event, Plugin, RawInput};

/// Whether a dialog is open, and whether it is new.
#[derive(Debug, Default)]
pub struct Hushing {
    is_open: bool,
    is_new: bool,
}

impl Hushing {
    /// Says whether a dialog is open, once a frame is drawn.
    pub fn note(&mut self, is_open: bool) {
        self.is_new |= is_open && !self.is_open;
        self.is_open = is_open;
    }
}

impl Plugin for Hushing {
    fn debug_name(&self) -> &'static str {
        "hushing"
    }

    fn input_hook(&mut self, _ctx: &Context, input: &mut RawInput) {
        if std::mem::take(&mut self.is_new) {
            // a hint stays for as long as the pointer rests on it; the next move brings the pointer back
            input.events.insert(0, Event::PointerGone);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pointer_is_gone_once_for_each_dialog_that_opens() {
        let gone = |hushing: &mut Hushing| {
            let mut input = RawInput::default();
            hushing.input_hook(&Context::default(), &mut input);
            input.events == [Event::PointerGone]
        };
        let mut hushing = Hushing::default();
        hushing.note(false);
        assert!(!gone(&mut hushing));
        hushing.note(true);
        assert!(gone(&mut hushing));
        hushing.note(true);
        assert!(!gone(&mut hushing), "it is open still");
        hushing.note(false);
        hushing.note(true);
        assert!(gone(&mut hushing));
    }
}
