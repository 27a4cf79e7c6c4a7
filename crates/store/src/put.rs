//! Puts a file in the place of another: whole or not at all, whatever happens in between.

use std::ffi::OsStr;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use crate::disk::{Disk, Kind, Looked, Machine, folder, plain};

/// Why a file could not be put: the file, what was tried with the way out, what the system said.
pub(crate) type Unput = (PathBuf, &'static str, io::Error);

/// A file that lies ready under a name of its own, written and synced. What is not moved into place is taken away.
pub(crate) struct Ready<'a> {
    disk: &'a dyn Disk,
    path: PathBuf,
    placed: bool,
}

impl<'a> Ready<'a> {
    /// Writes a file beside the one it is for.
    ///
    /// # Errors
    /// The folder or the disk does not take it. Nothing of it is left.
    pub(crate) fn new(
        disk: &'a dyn Disk,
        target: &Path,
        bytes: &[u8],
        like: Option<&Looked>,
    ) -> Result<Self, Unput> {
        let beside = folder(target);
        let stem = target.file_name().unwrap_or(OsStr::new("file"));
        let mode = like.and_then(|like| like.mode);
        let path = disk.create(beside, stem, mode).map_err(|e| {
            let what = match e.kind() {
                ErrorKind::NotFound => "cannot be written; is the folder still there?",
                ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
                    "cannot be written; make room or save it elsewhere"
                }
                _ => "cannot be written; choose a folder you may write to",
            };
            (target.to_owned(), what, e)
        })?;
        let ready = Self { disk, path, placed: false };
        let written = disk.append(&ready.path, bytes, mode).and_then(|_| disk.sync(&ready.path));
        // half a file helps nobody: it goes when `ready` is dropped
        written.map_err(|e| (target.to_owned(), "cannot be written; make room or save it elsewhere", e))?;
        Ok(ready)
    }

    /// Lets it count as written at another time.
    pub(crate) fn date(&self, like: &Looked) {
        if let Some(modified) = like.modified {
            // a back-up with the wrong date is better than none
            let _ = self.disk.date(&self.path, modified);
        }
    }

    /// Moves it into place.
    ///
    /// # Errors
    /// The system refuses; what was there stays.
    pub(crate) fn place(mut self, target: &Path) -> Result<(), Unput> {
        self.disk
            .rename(&self.path, target)
            .map_err(|e| (target.to_owned(), "cannot be replaced; save it under another name", e))?;
        self.placed = true;
        Ok(())
    }
}

impl Drop for Ready<'_> {
    fn drop(&mut self) {
        if !self.placed {
            let _ = self.disk.remove(&self.path);
        }
    }
}

/// Has the names in a folder outlive a power cut, where the folder knows how to.
///
/// # Errors
/// The disk did not say so.
pub(crate) fn sync_names(disk: &dyn Disk, folder: &Path) -> io::Result<()> {
    match disk.sync_folder(folder) {
        // some folders of other systems cannot be synced at all
        Err(e) if matches!(e.kind(), ErrorKind::InvalidInput | ErrorKind::Unsupported) => Ok(()),
        done => done,
    }
}

/// Puts a file whole into the place of another, and has it outlive a power cut.
///
/// # Errors
/// The folder or file cannot be written; what was there is unharmed.
pub(crate) fn put(disk: &dyn Disk, target: &Path, bytes: &[u8]) -> Result<(), Unput> {
    let there = disk.look(target).ok().flatten().filter(|there| there.kind == Kind::File);
    Ready::new(disk, target, bytes, there.as_ref())?.place(target)?;
    sync_names(disk, folder(target))
        .map_err(|e| (target.to_owned(), "is written, but the disk did not say that it is safe", e))
}

/// Puts a small file of the program's own, such as its settings, whole into its place. A planted link is replaced.
///
/// # Errors
/// A sentence without a full stop, with the file.
pub fn own_file(path: &Path, text: &str) -> Result<(), String> {
    let told = |e: &io::Error| format!("{}: cannot be written: {}", path.display(), plain(e));
    std::fs::create_dir_all(folder(path)).map_err(|e| told(&e))?;
    put(&Machine, path, text.as_bytes()).map_err(|(.., e)| told(&e))
}

/// Reads a small file of the program's own; `None` where there is none that can be read.
#[must_use]
pub fn read_own(path: &Path) -> Option<String> {
    String::from_utf8(Machine.read(path, crate::disk::LARGEST).ok()?).ok()
}
