//! One window per file: two that wrote the same one would undo each other's work without a word.
//!
//! The claim is a lock file beside the sheet, for a lock on the sheet itself would go with the next save. It says who
//! holds it: machine, boot and process. A lock of the system decides where there is one; who is named decides where there
//! is none, and where another machine sees the folder too.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read as _, Seek as _, Write as _};
use std::path::{Path, PathBuf};

use crate::digest::Digest;
use crate::disk::{Machine, beside, folder};
use crate::sheets::real;
pub use crate::system::Owner;
use crate::system::{files, is_shared};

/// How many windows without a file of their own are kept apart.
const WINDOWS: usize = 20;

/// More than an owner takes.
const LONGEST: u64 = 4096;

/// A file this window alone writes, until the claim is dropped or the program ends, however it ends.
#[derive(Debug)]
pub struct Claim {
    /// What was claimed, through all links.
    of: PathBuf,
    /// The lock file; `None` where none could be made: nobody can be kept out then.
    lock: Option<(PathBuf, File)>,
    /// What the user should know of it: a sentence without a full stop.
    pub note: Option<String>,
}

impl Claim {
    /// Claims a file. Where its folder takes no lock file, the user's own folder does: other users are not kept out
    /// then.
    ///
    /// # Errors
    /// Who has it.
    pub fn on(file: &Path, home: Option<&Path>) -> Result<Self, Box<Owner>> {
        Self::locking(file, home, File::try_lock)
    }

    /// The same with the lock of a system of one's own: what a folder takes differs.
    fn locking(file: &Path, home: Option<&Path>, lock_it: TryLock) -> Result<Self, Box<Owner>> {
        let of = real(&Machine, file);
        let (mut lock, mut note) = (None, None);
        match claim(&lock_of(&of), lock_it)? {
            Lock::Held(path, file) => lock = Some((path, file)),
            Lock::Named(path, file) => {
                note = Some(format!(
                    "{}: this folder takes no locks; another machine or program is kept out only as long as it looks \
                     at the lock file",
                    folder(&of).display()
                ));
                lock = Some((path, file));
            }
            Lock::None => {
                let own = home.map(|home| stands_for(&of, home));
                if let Some(own) = own.filter(|own| std::fs::create_dir_all(folder(own)).is_ok())
                    && let Lock::Held(path, file) = claim(&own, File::try_lock)?
                {
                    lock = Some((path, file));
                }
            }
        }
        Ok(Self { of, lock, note })
    }

    /// This is the claim on a file. A window that claimed it twice would keep itself out.
    #[must_use]
    pub fn is_on(&self, file: &Path) -> bool {
        self.of == real(&Machine, file)
    }
}

impl Drop for Claim {
    fn drop(&mut self) {
        if let Some((path, file)) = self.lock.take() {
            // while it is still locked: nobody can have taken it in between
            if files::is_at(&file, &path) {
                let _ = std::fs::remove_file(&path);
            }
        }
    }
}

/// The lock file of a sheet.
#[must_use]
pub fn lock_of(file: &Path) -> PathBuf {
    beside(&real(&Machine, file), ".lock")
}

/// What came of a lock file.
enum Lock {
    /// It is locked.
    Held(PathBuf, File),
    /// The folder knows no locks: it only says who has it.
    Named(PathBuf, File),
    /// It cannot be made or opened.
    None,
}

/// Locks a file, or says that another has it, or that there are no locks.
type TryLock = fn(&File) -> Result<(), TryLockError>;

fn claim(path: &Path, lock_it: TryLock) -> Result<Lock, Box<Owner>> {
    let here = Owner::this();
    // one that is being taken away while it is opened is tried again
    for _ in 0..50 {
        let Some(mut file) = lock_file(path) else { return Ok(Lock::None) };
        let locked = match lock_it(&file) {
            Ok(()) => true,
            Err(TryLockError::WouldBlock) => return Err(Box::new(owner(&mut file).unwrap_or_default())),
            Err(TryLockError::Error(_)) => false,
        };
        if !files::is_at(&file, path) {
            continue;
        }
        if let Some(other) = owner(&mut file) {
            let elsewhere = !other.same_machine(&here) && is_shared(folder(path));
            let alive = if locked { elsewhere } else { other != here && !other.is_gone(&here) };
            if alive {
                return Err(Box::new(other));
            }
        }
        // one that cannot be written is held all the same
        let _ = name(&mut file, &here);
        return Ok(if locked {
            Lock::Held(path.to_owned(), file)
        } else {
            Lock::Named(path.to_owned(), file)
        });
    }
    Ok(Lock::None)
}

/// Opens a lock file or makes it; never by way of a link, and never anything but a plain file.
fn lock_file(path: &Path) -> Option<File> {
    let open = |write: bool| {
        let mut options = OpenOptions::new();
        options.read(true).write(write).create(write).truncate(false);
        files::follow_nothing(&mut options);
        // everybody may see who has it
        files::for_all_to_read(&mut options);
        options.open(path)
    };
    if std::fs::symlink_metadata(path).is_ok_and(|meta| !meta.is_file()) {
        return None;
    }
    // one of another user's can be locked, if not written
    let file = open(true).or_else(|_| open(false)).ok()?;
    file.metadata().is_ok_and(|meta| meta.is_file()).then_some(file)
}

fn owner(file: &mut File) -> Option<Owner> {
    file.rewind().ok()?;
    let mut text = String::new();
    file.take(LONGEST).read_to_string(&mut text).ok()?;
    serde_json::from_str(&text).ok()
}

fn name(file: &mut File, owner: &Owner) -> std::io::Result<()> {
    let text = serde_json::to_string(owner).map_err(std::io::Error::other)?;
    file.set_len(0)?;
    file.rewind()?;
    file.write_all(text.as_bytes())
}

/// The lock file in the user's own folder that stands for a file whose folder takes none.
fn stands_for(file: &Path, home: &Path) -> PathBuf {
    let name = Digest::of(file.as_os_str().as_encoded_bytes()).to_string();
    home.join("in-use").join(&name[..16])
}

/// Files of one kind, "unsaved.json", "unsaved.2.json" and so on, with what can be claimed of them: a window takes
/// the first that serves. `there`: wanted are those that exist, else those that do not.
#[must_use]
pub fn first(home: &Path, stem: &str, there: bool) -> Option<(PathBuf, Claim)> {
    let names = (1..=WINDOWS).map(|n| match n {
        1 => format!("{stem}.json"),
        n => format!("{stem}.{n}.json"),
    });
    // the lock lies beside it
    std::fs::create_dir_all(home).ok()?;
    let mut files = names.map(|name| home.join(name)).filter(|file| file.exists() == there);
    files.find_map(|file| Claim::on(&file, Some(home)).ok().map(|claim| (file, claim)))
}

#[cfg(test)]
#[path = "claim_tests.rs"]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
