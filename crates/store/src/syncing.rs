//! Has what was written outlive a power cut, off the frame: files are synced in batches, half a second at most after they
//! were written.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use crate::disk::{Disk, folder, plain};
use crate::unsaved::Added;

/// What is written in so short a time is synced together.
const GATHER: Duration = Duration::from_millis(150);

/// A thread that syncs what it is told to.
pub struct Syncing {
    send: Option<Sender<Added>>,
    thread: Option<JoinHandle<()>>,
    trouble: Arc<Mutex<Option<String>>>,
}

impl Syncing {
    /// Waits for files. `wake` is called when there is something to tell.
    pub fn new(disk: Arc<dyn Disk>, wake: impl Fn() + Send + 'static) -> Self {
        let (send, files) = channel();
        let trouble = Arc::new(Mutex::new(None));
        let told = Arc::clone(&trouble);
        let run = move || {
            while let Some(batch) = next(&files) {
                if let Some(why) = sync(&*disk, &batch) {
                    *told.lock().unwrap_or_else(PoisonError::into_inner) = Some(why);
                    wake();
                }
            }
        };
        let thread = std::thread::Builder::new().name("knockon-sync".to_owned()).spawn(run).ok();
        Self { send: Some(send), thread, trouble }
    }

    /// Has this synced soon.
    pub fn soon(&self, added: Added) {
        if let Some(send) = &self.send {
            // without its thread the system writes it out when it likes
            let _ = send.send(added);
        }
    }

    /// What went wrong since it was asked last: a complete sentence.
    #[must_use]
    pub fn trouble(&self) -> Option<String> {
        self.trouble.lock().unwrap_or_else(PoisonError::into_inner).take()
    }
}

impl Drop for Syncing {
    fn drop(&mut self) {
        drop(self.send.take());
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

/// What is to be synced next; `None`: nothing any more.
fn next(files: &Receiver<Added>) -> Option<Vec<Added>> {
    let mut batch = vec![files.recv().ok()?];
    let until = Instant::now() + GATHER;
    loop {
        match files.recv_timeout(until.saturating_duration_since(Instant::now())) {
            Ok(more) => batch.push(more),
            Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => return Some(batch),
        }
    }
}

fn sync(disk: &dyn Disk, batch: &[Added]) -> Option<String> {
    let files: BTreeSet<&PathBuf> = batch.iter().map(|a| &a.file).collect();
    let folders: BTreeSet<_> = batch.iter().filter(|a| a.begun).map(|a| folder(&a.file)).collect();
    let files = files.into_iter().map(|file| (file.as_path(), disk.sync(file)));
    let folders = folders.into_iter().map(|folder| (folder, disk.sync_folder(folder)));
    let mut failed = files.chain(folders).filter_map(|(path, done)| Some((path, done.err()?)));
    failed.find_map(|(path, e)| match e.kind() {
        // saved meanwhile, and not needed any more
        std::io::ErrorKind::NotFound => None,
        std::io::ErrorKind::InvalidInput | std::io::ErrorKind::Unsupported => None,
        _ => Some(format!(
            "{}: the disk did not confirm what was written: {}. It outlives a crash of the program, and may not outlive \
             a power cut; save the sheet under another name to be safe.",
            path.display(),
            plain(&e)
        )),
    })
}
