//! Work off the frame: files, file choosers, offers. Results come back through one channel.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use image::RgbaImage;
use knockon_core::Sheet;
use knockon_core::change::Change;
use knockon_core::library_search::fits::Fits;
use knockon_core::progress::Progress;
use knockon_core::showing::Measure;

use knockon_report::write::Format;
use knockon_store::claim::Claim;
use knockon_store::meeting::{Both, Change as FileChange, Way as Decision};
use knockon_store::sheets::{Saved, SheetError};

use crate::app::viewer::PICTURES;
use crate::cures::Cure;
use crate::document::OnDisk;
use crate::library::state::Shelf;
use crate::own_library::state::{Of, Outcomes, Seen};
use crate::panel::on_offer::Way;
use crate::plans::told::SideBySide;
use crate::printing::write::Written;
use crate::survey::for_sale::state::{Asked, Weighed};

/// What a path is wanted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Read a sheet.
    Open,
    /// Write the sheet.
    SaveAs,
    /// Write the buy list.
    Export,
    /// Print or save a paper.
    Report,
    /// Read a sheet of another vehicle that is for sale.
    Candidate,
    /// Take a library in.
    TakeIn,
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
    /// A paper was written.
    Printed(PathBuf, Result<Written, String>),
    /// Offers of a revision and position, and what each does to money that is spent already.
    Offers(u64, String, Vec<Way>, Vec<Change>),
    /// What the remedies of the clashes of a revision would bring.
    Cures(u64, Vec<Cure>),
    /// A library taken apart for searches.
    Shelf(Arc<Shelf>),
    /// A file or folder of a library was looked at: its path as typed.
    Looked(String, Result<Box<Seen>, String>),
    /// What was looked at was taken in.
    TakenIn(Arc<Seen>, Result<(), String>),
    /// What the owner's library and one below it both have; of a library by its address.
    InBoth(usize, Vec<Both>),
    /// What would come of deciding an entry that both have.
    Outcomes(Of, Box<Outcomes>),
    /// Such an entry was decided.
    Decided(Box<Both>, Decision, FileChange, Result<(), String>),
    /// A decision was taken back: what its entry is called.
    TakenBack(String, Result<(), String>),
    /// Where a part fits, of a revision, in a measure.
    Fits(u64, String, Measure, Fits),
    /// Plans side by side, of a revision.
    Beside(u64, Vec<String>, SideBySide),
    /// What vehicles that are for sale come to; `None`: given up.
    Weighed(Asked, Option<Box<Weighed>>),
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

/// From here on one would like to know what the desk is at.
pub const SOON: Duration = Duration::from_millis(300);

/// What a job does, as it is told where it takes long.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// Something that shows by itself: a chooser, a viewer, a picture in its frame.
    Shown,
    /// Reads a sheet: the name of its file.
    Opening(String),
    /// Writes a file: its name. What is half written cannot be stopped.
    Writing(String),
    /// Works out the routes of a place.
    Routes,
    /// Works out the remedies of the clashes in sight.
    Remedies,
    /// Takes the library apart for searches.
    Shelf,
    /// Tries a part of the library on the vehicle.
    Fits,
    /// Holds the plans side by side.
    Plans,
    /// Works out what a vehicle that is for sale comes to.
    ForSale,
    /// Looks at a library that is to be taken in.
    Looking,
    /// Looks what the owner's library and another both have.
    InBoth,
    /// Works out what comes of deciding such an entry.
    Deciding,
}

impl What {
    /// In words.
    pub fn words(&self) -> String {
        match self {
            Self::Shown => String::new(),
            Self::Opening(name) => format!("Reading {name}"),
            Self::Writing(name) => format!("Writing {name}"),
            Self::Routes => "Working out what each route would bring".to_owned(),
            Self::Remedies => "Working out what each change would bring".to_owned(),
            Self::Shelf => "Looking through the library".to_owned(),
            Self::Plans => "Holding the plans side by side".to_owned(),
            Self::ForSale => "Working out what it comes to".to_owned(),
            Self::Fits => "Trying the part on the vehicle".to_owned(),
            Self::Looking => "Looking at what it brings".to_owned(),
            Self::InBoth => "Holding the libraries against each other".to_owned(),
            Self::Deciding => "Working out what comes of it".to_owned(),
        }
    }

    /// Whether it can be given up.
    pub fn can_stop(&self) -> bool {
        matches!(
            self,
            Self::Opening(_)
                | Self::Routes
                | Self::Remedies
                | Self::Fits
                | Self::Plans
                | Self::ForSale
                | Self::Looking
        )
    }
}

/// A job under way.
#[derive(Clone, Debug)]
pub struct Task {
    /// By which it is stopped.
    pub id: u64,
    /// What it does.
    pub what: What,
    begun: Instant,
    progress: Arc<Progress>,
}

impl Task {
    /// How far it is: steps done of those there are, none where that is not known.
    pub fn so_far(&self) -> (usize, usize) {
        self.progress.so_far()
    }

    /// For how long it has been at work.
    pub fn takes(&self) -> Duration {
        self.begun.elapsed()
    }
}

/// The channel, and how much is under way.
pub struct Work {
    ctx: egui::Context,
    send: Sender<(u64, Option<Done>)>,
    receive: Receiver<(u64, Option<Done>)>,
    under_way: Vec<Task>,
    last: u64,
    files: Option<(Sender<Job>, JoinHandle<()>)>,
    /// A sheet is being read that will take the place of the open one.
    pub opening: bool,
    /// Where the sheet is being written, in order, each under a claim where its file is another than before.
    pub writing: Vec<(PathBuf, Option<Arc<Claim>>)>,
}

/// Tells the channel that a job is gone, whatever became of it.
struct Report {
    of: u64,
    send: Sender<(u64, Option<Done>)>,
    ctx: egui::Context,
    done: Option<Done>,
}

impl Drop for Report {
    fn drop(&mut self) {
        // the desk may be closed already
        let _ = self.send.send((self.of, self.done.take()));
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
            under_way: Vec::new(),
            last: 0,
            files: None,
            opening: false,
            writing: Vec::new(),
        }
    }

    /// Starts a job.
    pub fn start(&mut self, what: What, job: impl FnOnce(&Progress) -> Done + Send + 'static) {
        let started = std::thread::Builder::new().name("knockon-work".to_owned()).spawn(self.job(what, job));
        // where no thread can be had, the report was dropped and counts the job down
        drop(started);
    }

    /// Starts a job that reads or writes files: these run one after another, in the order they were asked for, so
    /// that an older save never lands on a newer one and what is opened has been saved before.
    pub fn file(&mut self, what: What, job: impl FnOnce() -> Done + Send + 'static) {
        let mut job = self.job(what, |_: &Progress| job());
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
    fn job(&mut self, what: What, job: impl FnOnce(&Progress) -> Done + Send + 'static) -> Job {
        self.last += 1;
        let report = Report { of: self.last, send: self.send.clone(), ctx: self.ctx.clone(), done: None };
        let progress = Arc::new(Progress::default());
        let task = Task { id: self.last, what, begun: Instant::now(), progress: Arc::clone(&progress) };
        self.under_way.push(task);
        Box::new(move || {
            // the whole of it moves, so that it reports even where the job panics
            let mut report = report;
            report.done = Some(job(&progress));
        })
    }

    /// What has come back since the last call.
    pub fn take(&mut self) -> Vec<Done> {
        let back: Vec<_> = self.receive.try_iter().collect();
        let mut done = Vec::new();
        for (of, report) in back {
            let at = self.under_way.iter().position(|task| task.id == of);
            let task = at.map(|at| self.under_way.remove(at));
            // what was given up is not taken in, even where it came to its end
            let stopped = task.is_none_or(|task| task.what.can_stop() && task.progress.is_given_up());
            done.extend(report.filter(|_| !stopped));
        }
        done
    }

    /// What has been under way for so long that one would like to know; a frame comes when that may change.
    pub fn told(&self) -> Vec<Task> {
        let of_note = self.under_way.iter().filter(|task| task.what != What::Shown);
        let (long, short): (Vec<&Task>, Vec<&Task>) = of_note.partition(|task| task.takes() >= SOON);
        let wait = short.iter().map(|task| SOON.saturating_sub(task.takes())).min();
        let wait = if long.is_empty() { wait } else { Some(SOON) };
        if let Some(wait) = wait {
            self.ctx.request_repaint_after(wait + Duration::from_millis(10));
        }
        long.into_iter().cloned().collect()
    }

    /// Gives a job up; what it was about, where it can be given up.
    pub fn stop(&mut self, id: u64) -> Option<What> {
        let task = self.under_way.iter().find(|task| task.id == id && task.what.can_stop())?;
        task.progress.give_up();
        Some(task.what.clone())
    }

    /// Gives up what is of this kind: something newer takes its place.
    pub fn overtake(&mut self, what: &What) {
        let old = self.under_way.iter().filter(|task| task.what == *what && task.what.can_stop());
        old.for_each(|task| task.progress.give_up());
    }

    /// Something is under way.
    pub fn busy(&self) -> bool {
        !self.under_way.is_empty()
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
        Purpose::Report => "Print or save",
        Purpose::Candidate => "Hold another sheet against it",
        Purpose::TakeIn => "Take a library in",
    };
    let ending =
        near.as_deref().and_then(Path::extension).map(|ending| ending.to_string_lossy().into_owned());
    let chooser = chooser(near).set_title(title);
    let path = match purpose {
        Purpose::Open | Purpose::Candidate => chooser.add_filter("Sheets", &["json"]).pick_file(),
        Purpose::SaveAs => chooser.add_filter("Sheets", &["json"]).save_file(),
        Purpose::TakeIn => chooser.add_filter("Libraries", &["json"]).pick_file(),
        Purpose::Export => chooser.add_filter("Comma-separated values", &["csv"]).save_file(),
        Purpose::Report => match ending.filter(|ending| Format::of_ending(ending).is_some()) {
            Some(ending) => chooser.add_filter(ending.to_uppercase(), &[ending]).save_file(),
            None => chooser.save_file(),
        },
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
            work.file(What::Shown, move || {
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
        work.file(What::Shown, || panic!("a disk gone mad"));
        while work.busy() {
            work.take();
            std::thread::yield_now();
        }
        // the thread may need a moment to be gone
        std::thread::sleep(Duration::from_millis(50));
        work.file(What::Shown, || Done::Viewed(None));
        work.finish();
        assert_eq!(work.take().len(), 1);
    }

    #[test]
    fn what_takes_long_is_told_with_how_far_it_is_and_once_given_up_it_is_not_taken_in() {
        let mut work = Work::new(&egui::Context::default());
        let (go, wait) = channel::<()>();
        work.start(What::Routes, move |progress| {
            progress.expect(3);
            progress.step();
            wait.recv().unwrap();
            Done::Offers(1, "tank".to_owned(), Vec::new(), Vec::new())
        });
        assert!(work.told().is_empty(), "nobody wants to know of the first moments");
        std::thread::sleep(SOON);
        let told = work.told();
        assert_eq!(told.len(), 1);
        assert_eq!(told[0].so_far(), (1, 3));
        assert_eq!(work.stop(told[0].id), Some(What::Routes));
        go.send(()).unwrap();
        while work.busy() {
            assert!(work.take().is_empty());
            std::thread::yield_now();
        }
        // a file half written is finished
        work.file(What::Writing("truck.json".to_owned()), || Done::Viewed(None));
        let id = work.under_way[0].id;
        assert_eq!(work.stop(id), None);
        work.finish();
        assert_eq!(work.take().len(), 1);
    }
}
