//! One window per file: two that wrote the same one would undo each other's work without a word.

use std::fs::{File, OpenOptions, TryLockError};
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::{Path, PathBuf};

/// How many windows without a file of their own are kept apart.
const WINDOWS: usize = 20;

/// A file this window alone writes, until the claim is dropped or the program ends, however it ends.
pub struct Claim {
    /// The file that is locked; `None` where there is no folder for locks: nobody can be kept out then.
    of: Option<PathBuf>,
    _lock: Option<File>,
}

impl Claim {
    /// Claims a file; `None`: another window has it.
    pub fn on(file: &Path, home: Option<&Path>) -> Option<Self> {
        let of = home.map(|home| stands_for(file, home));
        let Some(lock) = of.as_deref().and_then(lock) else {
            return Some(Self { of: None, _lock: None });
        };
        match lock.try_lock() {
            Err(TryLockError::WouldBlock) => None,
            // a file system without locks keeps nobody out
            Ok(()) | Err(TryLockError::Error(_)) => Some(Self { of, _lock: Some(lock) }),
        }
    }

    /// This is the claim on a file. A window that claimed it twice would keep itself out.
    pub fn is_on(&self, file: &Path, home: Option<&Path>) -> bool {
        self.of.is_some() && self.of == home.map(|home| stands_for(file, home))
    }
}

/// The file that stands for the claim: in the user's own folder, for the sheet's may be read only.
fn stands_for(file: &Path, home: &Path) -> PathBuf {
    let mut hasher = DefaultHasher::new();
    // the same file by another way is the same file
    let folder = file.parent().and_then(|folder| folder.canonicalize().ok());
    folder.as_deref().or(file.parent()).hash(&mut hasher);
    file.file_name().hash(&mut hasher);
    home.join("in-use").join(format!("{:016x}", hasher.finish()))
}

fn lock(path: &Path) -> Option<File> {
    std::fs::create_dir_all(path.parent()?).ok()?;
    OpenOptions::new().create(true).truncate(false).write(true).open(path).ok()
}

/// Files of one kind, "unsaved.json", "unsaved.2.json" and so on, with what can be claimed of them: a window takes
/// the first that serves. `there`: wanted are those that exist, else those that do not.
pub fn first(home: &Path, stem: &str, there: bool) -> Option<(PathBuf, Claim)> {
    let names = (1..=WINDOWS).map(|n| match n {
        1 => format!("{stem}.json"),
        n => format!("{stem}.{n}.json"),
    });
    let mut files = names.map(|name| home.join(name)).filter(|file| file.exists() == there);
    files.find_map(|file| Claim::on(&file, Some(home)).map(|claim| (file, claim)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::{Claim, first};

    #[test]
    fn a_file_has_one_window_at_a_time() {
        let home = tempfile::tempdir().unwrap();
        let file = home.path().join("a.json");
        let claim = Claim::on(&file, Some(home.path()));
        let is_on = |file: &std::path::Path| claim.as_ref().is_some_and(|c| c.is_on(file, Some(home.path())));
        assert!(is_on(&file) && is_on(&home.path().join(".").join("a.json")));
        assert!(!is_on(&home.path().join("b.json")));
        assert!(Claim::on(&file, Some(home.path())).is_none());
        assert!(Claim::on(&home.path().join(".").join("a.json"), Some(home.path())).is_none());
        assert!(Claim::on(&home.path().join("b.json"), Some(home.path())).is_some());
        drop(claim);
        assert!(Claim::on(&file, Some(home.path())).is_some());
        // nobody to keep out
        assert!(Claim::on(&file, None).is_some());
    }

    #[test]
    fn windows_without_a_file_are_kept_apart() {
        let home = tempfile::tempdir().unwrap();
        let (one, claim) = first(home.path(), "unsaved", false).unwrap();
        let (two, _claim) = first(home.path(), "unsaved", false).unwrap();
        assert_ne!(one, two);
        std::fs::write(&one, "{}").unwrap();
        assert!(first(home.path(), "unsaved", true).is_none(), "the first window still has it");
        drop(claim);
        assert_eq!(first(home.path(), "unsaved", true).unwrap().0, one);
    }
}
