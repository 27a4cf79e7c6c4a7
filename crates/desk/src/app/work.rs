//! Work off the frame: files, file choosers, offers. Results come back through one channel.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use image::RgbaImage;
use knockon_core::Sheet;
use knockon_core::change::Change;

use knockon_store::claim::Claim;
use knockon_store::sheets::{Saved, SheetError};

use crate::app::viewer::PICTURES;
use crate::cures::Cure;
use crate::document::OnDisk;
use crate::panel::on_offer::Way;

/// What a path is wanted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Read a sheet.
    Open,
    /// Write the sheet.
    SaveAs,
    /// Write the buy list.
    Export,
}

/// A result.
pub enum Done {
    /// The file chooser closed, after how long.
    Picked(Purpose, Option<PathBuf>, Duration),
    /// A sheet was read.
    Opened(PathBuf, OnDisk, Result<Box<Sheet>, String>),
    /// A sheet was written, under a claim where its file is another than before.
    Saved(PathBuf, Arc<Sheet>, Option<Arc<Claim>>, Result<Saved, SheetError>),
    /// The buy list was written.
    Exported(PathBuf, Result<(), String>),
    /// Offers of a revision and position, and what each does to money that is spent already.
    Offers(u64, String, Vec<Way>, Vec<Change>),
    /// What the remedies of the clashes of a revision would bring.
    Cures(u64, Vec<Cure>),
    /// A file chooser for a photo of a position closed, after how long.
    PhotoPicked(String, Option<PathBuf>, Duration),
    /// The parts being typed were written; what went wrong.
    Kept(Option<String>),
    /// A viewer was asked to show a photo; what went wrong.
    Viewed(Option<String>),
    /// A photo, as the sheet names it, small; or why there is nothing to be shown.
    Small(String, Result<RgbaImage, String>),
    /// How the plans of the example stand, in words.
    Figures(BTreeMap<String, String>),
}

/// Something to do off the frame, with its report.
type Job = Box<dyn FnOnce() + Send>;

/// The channel, and how much is under way.
pub struct Work {
    ctx: egui::Context,
    send: Sender<Option<Done>>,
    receive: Receiver<Option<Done>>,
    under_way: usize,
    files: Option<(Sender<Job>, JoinHandle<()>)>,
    /// A sheet is being read that will take the place of the open one.
    pub opening: bool,
    /// Where the sheet is being written, in order, each under a claim where its file is another than before.
    pub writing: Vec<(PathBuf, Option<Arc<Claim>>)>,
}

/// Tells the channel that a job is gone, whatever became of it.
struct Report {
    send: Sender<Option<Done>>,
    ctx: egui::Context,
    done: Option<Done>,
}

impl Drop for Report {
    fn drop(&mut self) {
        // the desk may be closed already
        let _ = self.send.send(self.done.take());
        self.ctx.request_repaint();
    }
}

impl Work {
    /// Nothing under way.
    pub fn new(ctx: &egui::Context) -> Self {
        let (send, receive) = channel();
        Self {
            ctx: ctx.clone(),
            send,
            receive,
            under_way: 0,
            files: None,
            opening: false,
            writing: Vec::new(),
        }
    }

    /// Starts a job.
    pub fn start(&mut self, job: impl FnOnce() -> Done + Send + 'static) {
        let started = std::thread::Builder::new().name("knockon-work".to_owned()).spawn(self.job(job));
        // where no thread can be had, the report was dropped and counts the job down
        drop(started);
    }

    /// Starts a job that reads or writes files: these run one after another, in the order they were asked for, so
    /// that an older save never lands on a newer one and what is opened has been saved before.
    pub fn file(&mut self, job: impl FnOnce() -> Done + Send + 'static) {
        let mut job = self.job(job);
        if let Some((send, _)) = &self.files {
            match send.send(job) {
                Ok(()) => return,
                // that thread has ended with a panic: another takes over
                Err(back) => job = back.0,
            }
        }
        let (send, jobs) = channel::<Job>();
        let run = move || jobs.into_iter().for_each(|job| job());
        if let Ok(thread) = std::thread::Builder::new().name("knockon-files".to_owned()).spawn(run)
            && send.send(job).is_ok()
        {
            self.files = Some((send, thread));
        }
    }

    /// Waits until every file asked for is written: the program ends only after its last save.
    pub fn finish(&mut self) {
        if let Some((send, thread)) = self.files.take() {
            drop(send);
            // a job that panicked has reported already
            let _ = thread.join();
        }
    }

    /// A job with its report.
    fn job(&mut self, job: impl FnOnce() -> Done + Send + 'static) -> Job {
        let report = Report { send: self.send.clone(), ctx: self.ctx.clone(), done: None };
        self.under_way += 1;
        Box::new(move || {
            // the whole of it moves, so that it reports even where the job panics
            let mut report = report;
            report.done = Some(job());
        })
    }

    /// What has come back since the last call.
    pub fn take(&mut self) -> Vec<Done> {
        let back: Vec<_> = self.receive.try_iter().collect();
        self.under_way = self.under_way.saturating_sub(back.len());
        back.into_iter().flatten().collect()
    }

    /// Something is under way.
    pub fn busy(&self) -> bool {
        self.under_way > 0
    }
}

impl Drop for Work {
    fn drop(&mut self) {
        self.finish();
    }
}

/// Shows the system's file chooser; blocks, so it runs as a job.
pub fn pick(purpose: Purpose, near: Option<PathBuf>) -> Done {
    let begun = Instant::now();
    let title = match purpose {
        Purpose::Open => "Open a sheet",
        Purpose::SaveAs => "Save the sheet",
        Purpose::Export => "Export the buy list",
    };
    let chooser = chooser(near).set_title(title);
    let path = match purpose {
        Purpose::Open => chooser.add_filter("Sheets", &["json"]).pick_file(),
        Purpose::SaveAs => chooser.add_filter("Sheets", &["json"]).save_file(),
        Purpose::Export => chooser.add_filter("Comma-separated values", &["csv"]).save_file(),
    };
    Done::Picked(purpose, path, begun.elapsed())
}

/// Shows the system's file chooser for a photo of a position, beginning near the sheet.
pub fn pick_picture(position: String, near: Option<PathBuf>) -> Done {
    let begun = Instant::now();
    let near = near.and_then(|p| p.parent().map(|folder| folder.join("")));
    let path = chooser(near).set_title("A photo of this place").add_filter("Pictures", &PICTURES).pick_file();
    Done::PhotoPicked(position, path, begun.elapsed())
}

fn chooser(near: Option<PathBuf>) -> rfd::FileDialog {
    let mut chooser = rfd::FileDialog::new();
    if let Some(near) = near {
        if let Some(folder) = near.parent().filter(|f| f.is_dir()) {
            chooser = chooser.set_directory(folder);
        }
        if let Some(name) = near.file_name() {
            chooser = chooser.set_file_name(name.to_string_lossy());
        }
    }
    chooser
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]
mod tests {
    use std::sync::Mutex;

    use super::*;

    #[test]
    fn files_are_written_in_the_order_they_were_asked_for_and_before_the_end() {
        let mut work = Work::new(&egui::Context::default());
        let order = Arc::new(Mutex::new(Vec::new()));
        for n in 0..6 {
            let order = Arc::clone(&order);
            work.file(move || {
                // the first take longest
                std::thread::sleep(Duration::from_millis(10 * (5 - n)));
                order.lock().unwrap().push(n);
                Done::Viewed(None)
            });
        }
        work.finish();
        assert_eq!(*order.lock().unwrap(), [0, 1, 2, 3, 4, 5]);
        assert_eq!(work.take().len(), 6);
        assert!(!work.busy());
    }

    #[test]
    fn a_file_job_that_panics_counts_down_and_the_next_one_runs() {
        let mut work = Work::new(&egui::Context::default());
        work.file(|| panic!("a disk gone mad"));
        while work.busy() {
            work.take();
            std::thread::yield_now();
        }
        // the thread may need a moment to be gone
        std::thread::sleep(Duration::from_millis(50));
        work.file(|| Done::Viewed(None));
        work.finish();
        assert_eq!(work.take().len(), 1);
    }
}
