//! The system asks the program to end: what is being typed is taken in, the journal is there already, the sheet's file is
//! left alone, and the window closes.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
#[cfg(unix)]
use std::time::Duration;

/// So long a window has to close by itself. What it had to keep was kept with every key.
#[cfg(unix)]
const PATIENCE: Duration = Duration::from_secs(3);

/// Whether the system has asked the program to end.
#[derive(Clone, Debug, Default)]
pub struct Ending(Arc<AtomicBool>);

impl Ending {
    /// It has.
    pub fn asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }

    /// As if it had asked.
    #[cfg(any(unix, test))]
    pub fn ask(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Listens for SIGTERM, SIGHUP and SIGINT; wakes the desk, and ends the program where the desk does not.
    #[cfg(unix)]
    pub fn listen(&self, ctx: &egui::Context) {
        use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
        let Ok(mut signals) = signal_hook::iterator::Signals::new([SIGTERM, SIGHUP, SIGINT]) else { return };
        let (ending, ctx) = (self.clone(), ctx.clone());
        let listen = move || {
            for signal in signals.forever() {
                // whoever asks twice means it
                let again = ending.asked();
                ending.ask();
                ctx.request_repaint();
                if !again {
                    std::thread::sleep(PATIENCE);
                }
                let _ = signal_hook::low_level::emulate_default_handler(signal);
            }
        };
        // without it the signal ends the program at once, which loses nothing either
        let _ = std::thread::Builder::new().name("knockon-ending".to_owned()).spawn(listen);
    }

    /// Other systems have no such signals.
    #[cfg(not(unix))]
    pub fn listen(&self, _ctx: &egui::Context) {}
}
