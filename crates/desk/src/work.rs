//! Work off the frame: files, file choosers, offers. Results come back through one channel.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::{Duration, Instant};

use knockon_core::Sheet;
use knockon_core::assessment::Offer;
use knockon_core::change::Change;

use crate::photos::PICTURES;

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
    Opened(PathBuf, Result<Box<Sheet>, String>),
    /// A sheet was written.
    Saved(PathBuf, Arc<Sheet>, Result<(), String>),
    /// The buy list was written.
    Exported(PathBuf, Result<(), String>),
    /// Offers of a revision and position, and what each does to money that is spent already.
    Offers(u64, String, Vec<Offer>, Vec<Change>),
    /// A file chooser for a photo of a position closed, after how long.
    PhotoPicked(String, Option<PathBuf>, Duration),
    /// A viewer was asked to show a photo; what went wrong.
    Viewed(Option<String>),
    /// How the plans of the example stand, in words.
    Figures(BTreeMap<String, String>),
}

/// The channel, and how much is under way.
pub struct Work {
    ctx: egui::Context,
    send: Sender<Option<Done>>,
    receive: Receiver<Option<Done>>,
    under_way: usize,
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
        Self { ctx: ctx.clone(), send, receive, under_way: 0 }
    }

    /// Starts a job.
    pub fn start(&mut self, job: impl FnOnce() -> Done + Send + 'static) {
        let report = Report { send: self.send.clone(), ctx: self.ctx.clone(), done: None };
        self.under_way += 1;
        let started = std::thread::Builder::new().name("knockon-work".to_owned()).spawn(move || {
            // the whole of it moves, so that it reports even where the job panics
            let mut report = report;
            report.done = Some(job());
        });
        // where no thread can be had, the report was dropped and counts the job down
        drop(started);
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
