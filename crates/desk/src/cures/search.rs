//! What would clear the clashes together, worked out in a thread of its own: given up as soon as the sheet changes, and
//! never told of another sheet than the one that is open.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

use knockon_core::progress::Progress;
use knockon_core::together::MOST_ASSESSED;
use knockon_core::{Assessment, Catalogue, Sheet};

use crate::cures::set;
use crate::cures::set::Found;
use crate::document::journal::Wake;

/// What is changed again at once is not looked at.
const PAUSE: Duration = Duration::from_millis(200);

/// How far it is.
#[derive(Clone, Debug, Default)]
pub enum Clearing {
    /// Nobody wants to know, or everything fits.
    #[default]
    Idle,
    /// It is being worked out: how far it is, and since when.
    Working(Arc<Progress>, Instant),
    /// It was given up; not before the sheet changes or somebody asks is it begun again.
    Stopped,
    /// Worked out.
    Found(Arc<Found>),
    /// It cannot be worked out.
    Failed,
}

impl Clearing {
    /// What was found, once it is there.
    pub fn found(&self) -> Option<&Arc<Found>> {
        match self {
            Self::Found(found) => Some(found),
            _ => None,
        }
    }
}

/// What a search rests on, as a number: a note or a photo changes the sheet, and nothing that fits or does not.
#[derive(Default)]
pub struct Judged {
    of: Option<(u64, Arc<Sheet>)>,
    number: u64,
}

impl Judged {
    /// The number for a revision and its sheet.
    pub fn number(&mut self, revision: u64, sheet: &Arc<Sheet>) -> u64 {
        match &self.of {
            Some((of, _)) if *of == revision => {}
            Some((_, before)) if differ_in_remarks_alone(before, sheet) => {
                self.of = Some((revision, Arc::clone(sheet)));
            }
            _ => (self.of, self.number) = (Some((revision, Arc::clone(sheet))), revision),
        }
        self.number
    }
}

/// The same sheet twice is another revision for another reason: the library or the day has changed.
fn differ_in_remarks_alone(before: &Sheet, now: &Sheet) -> bool {
    let with =
        |notes: &Sheet| Sheet { notes: notes.notes.clone(), photos: notes.photos.clone(), ..before.clone() };
    before != now && with(now) == *now
}

/// The thread, and the revision it works for.
#[derive(Default)]
pub struct Search {
    of: Option<u64>,
    running: Option<Running>,
}

/// A search under way; dropped, it is given up.
pub struct Running {
    progress: Arc<Progress>,
    ended: Arc<AtomicBool>,
    receive: Receiver<Found>,
}

impl Drop for Running {
    fn drop(&mut self) {
        self.progress.give_up();
    }
}

/// Says that the thread is done, whatever became of it, and wakes the desk.
struct AtEnd {
    ended: Arc<AtomicBool>,
    wake: Wake,
}

impl Drop for AtEnd {
    fn drop(&mut self) {
        self.ended.store(true, Ordering::Release);
        (self.wake)();
    }
}

impl Search {
    /// A thread is at work: no frame would find anything yet.
    pub fn is_at_work(&self) -> bool {
        self.running.as_ref().is_some_and(|running| !running.ended.load(Ordering::Acquire))
    }

    /// Gives up what is under way; it is not begun again for this revision.
    pub fn stop(&mut self, now: &mut Clearing) {
        if self.running.take().is_some() {
            *now = Clearing::Stopped;
        }
    }

    /// Begins again with what was given up.
    pub fn again(&mut self) {
        self.of = None;
    }

    /// Gives up what is not of this revision, begins with it where that is wanted, and takes in what was found; `true`
    /// where what was known is of another revision.
    pub fn look(
        &mut self,
        revision: u64,
        wanted: bool,
        now: &mut Clearing,
        start: impl FnOnce() -> Option<Running>,
    ) -> bool {
        let stale = self.of.is_some_and(|of| of != revision);
        if stale {
            (self.of, self.running) = (None, None);
            *now = Clearing::Idle;
        }
        if wanted && self.of.is_none() {
            self.of = Some(revision);
            self.running = start();
            *now = match &self.running {
                Some(running) => Clearing::Working(Arc::clone(&running.progress), Instant::now()),
                None => Clearing::Failed,
            };
        }
        if let Some(running) = &self.running {
            match running.receive.try_recv() {
                Ok(found) => *now = Clearing::Found(Arc::new(found)),
                Err(TryRecvError::Disconnected) => *now = Clearing::Failed,
                Err(TryRecvError::Empty) => return stale,
            }
            self.running = None;
        }
        stale
    }
}

/// Begins the search; `None` where no thread can be had.
pub fn start(
    sheet: Arc<Sheet>,
    catalogue: Arc<Catalogue>,
    a: Arc<Assessment>,
    wake: Wake,
) -> Option<Running> {
    let (send, receive) = channel();
    let progress = Arc::new(Progress::default());
    progress.expect(MOST_ASSESSED);
    let ended = Arc::new(AtomicBool::new(false));
    let counted = Arc::clone(&progress);
    let at_end = AtEnd { ended: Arc::clone(&ended), wake };
    let job = move || {
        // dropped last: what was found is there when the desk wakes
        let _at_end = at_end;
        let send = send;
        std::thread::sleep(PAUSE);
        if let Some(found) = set::found(&sheet, &catalogue, &a, &|| counted.step()) {
            // the desk may have gone on
            let _ = send.send(found);
        }
    };
    let started = std::thread::Builder::new().name("knockon-cures".to_owned()).spawn(job);
    started.ok().map(|_| Running { progress, ended, receive })
}
