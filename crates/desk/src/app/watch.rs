//! Watches the folders of the libraries: what an editor saves is read again, off the frame.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use knockon_store::libraries::{Loaded, Wanted, glance, load};

/// Between two looks: what is saved shows within a second, and looking costs a few calls for each file.
const EVERY: Duration = Duration::from_millis(250);

/// A thread that looks at the folders, until this is dropped.
pub struct Watch {
    receive: Receiver<Loaded>,
    ended: Arc<AtomicBool>,
}

impl Watch {
    /// Begins to look; `None` where there is no folder to look at, or no thread can be had.
    pub fn new(wanted: Wanted, ctx: &egui::Context) -> Option<Self> {
        wanted.folders().next()?;
        let (send, receive) = channel();
        let ended = Arc::new(AtomicBool::new(false));
        let (ctx, over) = (ctx.clone(), Arc::clone(&ended));
        let mut shown = glance(&wanted);
        let look = move || {
            let mut before = shown;
            while !over.load(Ordering::Relaxed) {
                std::thread::sleep(EVERY);
                let now = glance(&wanted);
                // an editor may be half-way through its file: what changes is read when it has come to rest
                let rests = now == before;
                before = now;
                if rests && now != shown {
                    shown = now;
                    if send.send(load(&wanted)).is_err() {
                        return;
                    }
                    ctx.request_repaint();
                }
            }
        };
        std::thread::Builder::new().name("knockon-watch".to_owned()).spawn(look).ok()?;
        Some(Self { receive, ended })
    }

    /// The libraries as they were read last, where they were since this was asked.
    pub fn take(&self) -> Option<Loaded> {
        self.receive.try_iter().last()
    }
}

impl Drop for Watch {
    fn drop(&mut self) {
        self.ended.store(true, Ordering::Relaxed);
    }
}
