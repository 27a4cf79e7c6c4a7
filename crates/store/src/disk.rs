//! What the store asks of a file system, and the one of the machine: plain files only, no planted link followed.
//!
//! Everything that changes a file goes through [`Disk`], so that the tests can let each call fail, and can lose whatever
//! was not synced at any moment.

use std::ffi::OsStr;
use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::system::files;

/// A text file larger than this is none of ours; reading it would only hang the program.
pub const LARGEST: u64 = 64 * 1024 * 1024;

/// What lies under a name; of a link the link itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Looked {
    /// What it is.
    pub kind: Kind,
    /// Its length in bytes.
    pub len: u64,
    /// When it was last written.
    pub modified: Option<SystemTime>,
    /// Who may read and write it, as Unix counts; `None` elsewhere.
    pub mode: Option<u32>,
    /// Under how many names it lies; `None` where the system does not say.
    pub names: Option<u64>,
}

/// What a name can stand for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A plain file.
    File,
    /// A folder.
    Folder,
    /// A symbolic link.
    Link,
    /// A pipe, a device, a socket: reading it may never end, and opening it may do things.
    Other,
}

/// The calls of a file system that the store makes.
pub trait Disk: Send + Sync {
    /// Where a path leads through all links.
    ///
    /// # Errors
    /// It leads nowhere.
    fn real(&self, path: &Path) -> io::Result<PathBuf>;
    /// What lies under a name; `None`: nothing.
    ///
    /// # Errors
    /// The system does not say.
    fn look(&self, path: &Path) -> io::Result<Option<Looked>>;
    /// The content of a plain file of at most so many bytes, which is no link.
    ///
    /// # Errors
    /// It is no plain file, larger, or cannot be read.
    fn read(&self, path: &Path, most: u64) -> io::Result<Vec<u8>>;
    /// A new empty file under a name nobody can foresee, which holds `stem`; with the mode of another file, else the usual.
    ///
    /// # Errors
    /// The folder takes no file.
    fn create(&self, folder: &Path, stem: &OsStr, mode: Option<u32>) -> io::Result<PathBuf>;
    /// Writes at the end of a plain file, or begins one that is not there, with this mode or the usual; whether it began
    /// it.
    ///
    /// # Errors
    /// It is no plain file, or cannot be written.
    fn append(&self, path: &Path, bytes: &[u8], mode: Option<u32>) -> io::Result<bool>;
    /// Sets when a file counts as last written.
    ///
    /// # Errors
    /// The system refuses.
    fn date(&self, path: &Path, modified: SystemTime) -> io::Result<()>;
    /// Returns when the content of a file outlives a power cut.
    ///
    /// # Errors
    /// The disk did not say so.
    fn sync(&self, path: &Path) -> io::Result<()>;
    /// Returns when the names in a folder outlive a power cut.
    ///
    /// # Errors
    /// The disk did not say so.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;
    /// Puts a file under another name, in place of what is there.
    ///
    /// # Errors
    /// The system refuses; both are as before.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Takes a name away.
    ///
    /// # Errors
    /// The system refuses.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Makes a folder of the program's own, with those it lies in. Never a user's: one that has gone is told.
    ///
    /// # Errors
    /// The system refuses.
    fn make_folder(&self, folder: &Path) -> io::Result<()>;
    /// What time it is, for the dates of back-ups.
    fn now(&self) -> SystemTime;
}

/// The disk of this machine.
#[derive(Clone, Copy, Debug, Default)]
pub struct Machine;

impl Disk for Machine {
    fn real(&self, path: &Path) -> io::Result<PathBuf> {
        fs::canonicalize(path)
    }

    fn look(&self, path: &Path) -> io::Result<Option<Looked>> {
        match fs::symlink_metadata(path) {
            Ok(meta) => Ok(Some(looked(&meta))),
            Err(e) if e.kind() == ErrorKind::NotFound => Ok(None),
            Err(e) => Err(e),
        }
    }

    fn read(&self, path: &Path, most: u64) -> io::Result<Vec<u8>> {
        let file = plain_file(path, OpenOptions::new().read(true))?;
        let mut bytes = Vec::new();
        // the length is not trusted: the file may grow meanwhile
        file.take(most + 1).read_to_end(&mut bytes)?;
        if bytes.len() as u64 > most { Err(ErrorKind::FileTooLarge.into()) } else { Ok(bytes) }
    }

    fn create(&self, folder: &Path, stem: &OsStr, mode: Option<u32>) -> io::Result<PathBuf> {
        let mut prefix = std::ffi::OsString::from(".");
        prefix.push(stem);
        prefix.push(".");
        let mut builder = tempfile::Builder::new();
        builder.prefix(&prefix).suffix(".new");
        let usual = files::usual_mode();
        if let Some(usual) = &usual {
            builder.permissions(usual.clone());
        }
        let (file, path) = builder.tempfile_in(folder)?.keep().map_err(|e| e.error)?;
        if let Some(mode) = mode {
            files::set_mode(&file, mode);
        }
        Ok(path)
    }

    fn append(&self, path: &Path, bytes: &[u8], mode: Option<u32>) -> io::Result<bool> {
        let made = match OpenOptions::new().append(true).create_new(true).open(path) {
            Ok(file) => {
                if let Some(mode) = mode {
                    files::set_mode(&file, mode);
                }
                Some(file)
            }
            Err(e) if e.kind() == ErrorKind::AlreadyExists => None,
            Err(e) => return Err(e),
        };
        let new = made.is_some();
        let mut file = match made {
            Some(file) => file,
            None => plain_file(path, OpenOptions::new().append(true))?,
        };
        file.write_all(bytes)?;
        Ok(new)
    }

    fn date(&self, path: &Path, modified: SystemTime) -> io::Result<()> {
        plain_file(path, OpenOptions::new().append(true))?.set_modified(modified)
    }

    fn sync(&self, path: &Path) -> io::Result<()> {
        files::sync_content(path, plain_file)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        files::sync_folder(folder)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        fs::create_dir_all(folder)
    }

    fn now(&self) -> SystemTime {
        SystemTime::now()
    }
}

/// A plain file opened for reading, wherever its path leads.
///
/// # Errors
/// It is no plain file, or cannot be opened.
pub fn reading(path: &Path) -> io::Result<File> {
    plain_file(&fs::canonicalize(path)?, OpenOptions::new().read(true))
}

/// The folder a file lies in.
pub(crate) fn folder(path: &Path) -> &Path {
    path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."))
}

/// A name with something added at its end.
pub(crate) fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}

fn looked(meta: &fs::Metadata) -> Looked {
    let kind = if meta.file_type().is_symlink() {
        Kind::Link
    } else if meta.is_dir() {
        Kind::Folder
    } else if meta.is_file() {
        Kind::File
    } else {
        Kind::Other
    };
    let (mode, names) = files::mode_and_names(meta);
    Looked { kind, len: meta.len(), modified: meta.modified().ok(), mode, names }
}

/// Opens a plain file. What is none is refused before it is opened, and again after: it may have been exchanged.
fn plain_file(path: &Path, options: &mut OpenOptions) -> io::Result<File> {
    refuse(&fs::symlink_metadata(path)?)?;
    files::follow_nothing(options);
    let file = options.open(path)?;
    refuse(&file.metadata()?)?;
    Ok(file)
}

/// Whether this is no plain file, told as an error.
fn refuse(meta: &fs::Metadata) -> io::Result<()> {
    match looked(meta).kind {
        Kind::File => Ok(()),
        Kind::Folder => Err(ErrorKind::IsADirectory.into()),
        Kind::Link => {
            Err(io::Error::new(ErrorKind::InvalidInput, "it is a link, and none was expected here"))
        }
        Kind::Other => Err(io::Error::new(ErrorKind::InvalidInput, "it is no plain file")),
    }
}

/// What the system says of a file, in plain words.
pub fn plain(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::PermissionDenied => "the system does not allow it".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::QuotaExceeded => "your share of the disk is used up".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::NotADirectory => "a part of the path is a file and no folder".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk can only be read".to_owned(),
        ErrorKind::FileTooLarge => "it is too large".to_owned(),
        ErrorKind::StaleNetworkFileHandle => "the network folder has gone".to_owned(),
        _ => {
            let text = error.to_string();
            let text = text.split(" (os error").next().unwrap_or_default();
            let mut letters = text.chars();
            letters
                .next()
                .map_or_else(String::new, |c| c.to_lowercase().collect::<String>() + letters.as_str())
        }
    }
}
