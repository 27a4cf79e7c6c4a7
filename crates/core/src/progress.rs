//! How far a long piece of work is, and the way to give it up: the work counts its steps, another thread looks and stops it.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Shared between who works and who waits. Only counts pass through it, so no order of memory is asked for.
#[derive(Debug, Default)]
pub struct Progress {
    done: AtomicUsize,
    of: AtomicUsize,
    given_up: AtomicBool,
}

impl Progress {
    /// So many steps more are to come, or at most so many.
    pub fn expect(&self, steps: usize) {
        self.of.fetch_add(steps, Ordering::Relaxed);
    }

    /// Asked before each step, and counts it: `false` where the work is wanted no more.
    pub fn step(&self) -> bool {
        self.done.fetch_add(1, Ordering::Relaxed);
        !self.is_given_up()
    }

    /// The work is wanted no more: it ends before its next step.
    pub fn give_up(&self) {
        self.given_up.store(true, Ordering::Relaxed);
    }

    /// Nobody waits for it any more.
    pub fn is_given_up(&self) -> bool {
        self.given_up.load(Ordering::Relaxed)
    }

    /// Steps begun, and how many there are; none where that is not known.
    pub fn so_far(&self) -> (usize, usize) {
        let of = self.of.load(Ordering::Relaxed);
        (self.done.load(Ordering::Relaxed).min(of), of)
    }
}

#[cfg(test)]
mod tests {
    use super::Progress;

    #[test]
    fn steps_are_counted_up_to_what_is_expected_and_none_is_wanted_once_given_up() {
        let progress = Progress::default();
        assert_eq!(progress.so_far(), (0, 0));
        progress.expect(2);
        assert!(progress.step());
        assert_eq!(progress.so_far(), (1, 2));
        progress.give_up();
        assert!(!progress.step());
        assert!(!progress.step(), "what was given up stays so");
        assert_eq!(progress.so_far(), (2, 2));
    }
}
