//! A list, a menu or a dialog that closes gives the keyboard back to what opened it.

use egui::Id;

/// To whom the keyboard goes unless something takes it.
#[derive(Clone, Copy, Debug)]
struct Back {
    to: Id,
    /// For how many frames more.
    frames: u8,
    /// Not yet: what a dialog has covered takes the keyboard again only once it was drawn without it.
    wait: bool,
}

/// Frames in which something else may take the keyboard after a close; then it stays where it is.
const FRAMES: u8 = 4;

/// Who opened what is open.
#[derive(Clone, Debug, Default)]
pub struct Openers {
    is_popup: bool,
    is_modal: bool,
    popup_from: Option<Id>,
    modal_from: Option<Id>,
    /// Where the keyboard was a frame ago.
    last: Option<Id>,
    /// What a screen reader has just pressed: the keyboard need not be there.
    pressed: Option<Id>,
    back: Option<Back>,
}

impl Openers {
    /// A screen reader presses this.
    pub fn pressed(&mut self, id: Id) {
        self.pressed = Some(id);
    }

    /// Gives the keyboard to this unless something else takes it.
    pub fn give_back(&mut self, id: Id) {
        self.back = Some(Back { to: id, frames: FRAMES, wait: false });
    }

    /// What has been closed waits for its opener to take the keyboard.
    pub fn waits(&self) -> bool {
        self.back.is_some()
    }

    /// A frame later: where the keyboard is, what is open. Whether the keyboard goes back, and to whom; `is_there` says of a
    /// control whether it was drawn.
    pub fn step(
        &mut self,
        focused: Option<Id>,
        is_popup: bool,
        is_modal: bool,
        is_there: impl Fn(Id) -> bool,
    ) -> Option<Id> {
        let mut back = None;
        if self.is_popup && !is_popup {
            back = self.popup_from.take();
        }
        if !self.is_modal && is_modal {
            // a dialog that a menu opened goes back to the menu's button
            let given = back.take().or_else(|| self.back.take().map(|back| back.to));
            self.modal_from = given.or(self.pressed.take()).or(self.last);
        }
        let wait = self.is_modal && !is_modal;
        if wait {
            back = self.modal_from.take();
        }
        if !self.is_popup && is_popup {
            self.popup_from = self.pressed.take().or(self.last);
        }
        (self.is_popup, self.is_modal) = (is_popup, is_modal);
        self.last = focused;
        if let Some(to) = back {
            self.back = Some(Back { to, frames: FRAMES, wait });
        }
        let now = self.back?;
        if now.wait {
            self.back = Some(Back { wait: false, ..now });
            return None;
        }
        if focused.is_none_or(|focused| !is_there(focused)) {
            self.back = None;
            // a dialog that the same key opens comes a frame later, and goes back there too
            self.last = Some(now.to);
            self.pressed = None;
            return Some(now.to);
        }
        self.back = now.frames.checked_sub(1).map(|frames| Back { frames, ..now });
        None
    }
}

#[cfg(test)]
mod tests {
    use super::Openers;
    use egui::Id;

    #[test]
    fn each_goes_back_to_its_opener() {
        let [button, entry, field] = ["button", "entry", "field"].map(Id::unique);
        let all = |_| true;
        let mut openers = Openers::default();
        openers.step(Some(button), false, false, all);
        openers.step(Some(button), true, false, all);
        openers.step(Some(entry), true, false, all);
        // the entry was chosen, and opens a dialog with a field
        assert_eq!(openers.step(Some(field), false, true, all), None);
        assert_eq!(openers.step(None, false, false, all), None, "the page is drawn once without the dialog");
        assert_eq!(openers.step(None, false, false, all), Some(button));
        assert_eq!(openers.step(Some(button), false, false, all), None);
    }

    /// The menu is closed a frame before the dialog is drawn.
    #[test]
    fn a_dialog_that_comes_after_its_menu_goes_back_to_the_menus_button() {
        let [button, entry, field] = ["button", "entry", "field"].map(Id::unique);
        let all = |id: Id| id != entry;
        for has_it in [Some(entry), Some(button)] {
            let mut openers = Openers::default();
            openers.step(Some(button), false, false, all);
            openers.step(Some(button), true, false, all);
            openers.step(has_it, true, false, all);
            openers.pressed(entry);
            let given = openers.step(has_it, false, false, all);
            assert_eq!(given, (has_it == Some(entry)).then_some(button));
            assert_eq!(openers.step(Some(field), false, true, all), None);
            assert_eq!(openers.step(None, false, false, all), None);
            assert_eq!(openers.step(None, false, false, all), Some(button));
        }
    }

    #[test]
    fn who_has_taken_the_keyboard_keeps_it() {
        let [row, field, other] = ["row", "field", "other"].map(Id::unique);
        let mut openers = Openers::default();
        openers.step(Some(row), false, false, |_| true);
        openers.step(Some(field), false, true, |_| true);
        for _ in 0..9 {
            assert_eq!(openers.step(Some(other), false, false, |_| true), None);
        }
        assert_eq!(openers.step(None, false, false, |_| true), None);
    }
}
