//! What systems say of files in their own ways: modes, names of one file, links that are not followed; elsewhere than on
//! Unix the nearest there is.

use std::fs::{self, File, Metadata, OpenOptions, Permissions};
use std::io;
use std::path::Path;

#[cfg(unix)]
use std::os::unix::fs::{MetadataExt as _, OpenOptionsExt as _, PermissionsExt as _};

/// Who may read and write a file, as Unix counts, and under how many names it lies; `None` where the system does not say.
#[cfg(unix)]
pub fn mode_and_names(meta: &Metadata) -> (Option<u32>, Option<u64>) {
    (Some(meta.mode() & 0o7777), Some(meta.nlink()))
}

#[cfg(not(unix))]
pub fn mode_and_names(_meta: &Metadata) -> (Option<u32>, Option<u64>) {
    (None, None)
}

/// Has a file opened without following a link, and without waiting for a pipe put there in between. Elsewhere what lies
/// under the name is looked at before and after, which both who call this do.
#[cfg(unix)]
pub fn follow_nothing(options: &mut OpenOptions) {
    let flags = rustix::fs::OFlags::NONBLOCK | rustix::fs::OFlags::NOFOLLOW;
    options.custom_flags(flags.bits().cast_signed());
}

#[cfg(not(unix))]
pub fn follow_nothing(_options: &mut OpenOptions) {}

/// Has a new file made so that everybody may read it and only its owner write.
#[cfg(unix)]
pub fn for_all_to_read(options: &mut OpenOptions) {
    options.mode(0o644);
}

#[cfg(not(unix))]
pub fn for_all_to_read(_options: &mut OpenOptions) {}

/// What a new file may be, before the user's mask takes from it.
#[cfg(unix)]
pub fn usual_mode() -> Option<Permissions> {
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
pub fn usual_mode() -> Option<Permissions> {
    None
}

/// Sets who may read and write a new file of our own. Some folders, on a stick say, know no such thing and refuse: there
/// everybody may what its mount allows, whatever is asked for.
#[cfg(unix)]
pub fn set_mode(file: &File, mode: u32) {
    let _ = file.set_permissions(Permissions::from_mode(mode));
}

#[cfg(not(unix))]
pub fn set_mode(_file: &File, _mode: u32) {}

/// Whether an open file still lies under a name, which is no link.
#[cfg(unix)]
pub fn is_at(file: &File, path: &Path) -> bool {
    match (file.metadata(), fs::symlink_metadata(path)) {
        (Ok(a), Ok(b)) => (a.dev(), a.ino()) == (b.dev(), b.ino()),
        _ => false,
    }
}

#[cfg(not(unix))]
pub fn is_at(_file: &File, path: &Path) -> bool {
    // a file that is open keeps its name there until it is closed
    path.exists()
}

/// Whether two paths lead to the same file, through links too.
pub fn same_file(a: &Path, b: &Path) -> bool {
    same_number(a, b) || matches!((fs::canonicalize(a), fs::canonicalize(b)), (Ok(a), Ok(b)) if a == b)
}

#[cfg(unix)]
fn same_number(a: &Path, b: &Path) -> bool {
    matches!((fs::metadata(a), fs::metadata(b)), (Ok(a), Ok(b)) if (a.dev(), a.ino()) == (b.dev(), b.ino()))
}

#[cfg(not(unix))]
fn same_number(_a: &Path, _b: &Path) -> bool {
    false
}

/// Returns when what is in an open file outlives a power cut.
///
/// # Errors
/// The disk did not say so.
#[cfg(unix)]
pub fn sync_content(
    path: &Path,
    open: impl FnOnce(&Path, &mut OpenOptions) -> io::Result<File>,
) -> io::Result<()> {
    open(path, OpenOptions::new().read(true))?.sync_data()
}

/// The same where a file has to be open for writing before it can be synced.
#[cfg(not(unix))]
pub fn sync_content(
    path: &Path,
    open: impl FnOnce(&Path, &mut OpenOptions) -> io::Result<File>,
) -> io::Result<()> {
    open(path, OpenOptions::new().append(true))?.sync_data()
}

/// Returns when the names in a folder outlive a power cut.
///
/// # Errors
/// The disk did not say so.
#[cfg(unix)]
pub fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder)?.sync_all()
}

/// Elsewhere a folder cannot be opened as a file, and the system keeps its names by a journal of its own.
#[cfg(not(unix))]
pub fn sync_folder(folder: &Path) -> io::Result<()> {
    fs::metadata(folder).map(drop)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_told_by_what_it_is_and_not_by_its_name() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        fs::write(at("a"), "one").unwrap();
        fs::write(at("b"), "one").unwrap();
        fs::hard_link(at("a"), at("c")).unwrap();
        assert!(same_file(&at("a"), &at("a")) && !same_file(&at("a"), &at("b")));
        assert!(same_file(&at("a"), &folder.path().join(".").join("a")));
        assert_eq!(same_file(&at("a"), &at("c")), cfg!(unix));
        assert!(!same_file(&at("a"), &at("none")) && !same_file(&at("none"), &at("none")));
        let open = File::open(at("a")).unwrap();
        assert!(is_at(&open, &at("a")));
        assert!(!is_at(&open, &at("none")));
        let (mode, names) = mode_and_names(&open.metadata().unwrap());
        assert_eq!((mode.is_some(), names), if cfg!(unix) { (true, Some(2)) } else { (false, None) });
        sync_folder(folder.path()).unwrap();
        assert!(sync_folder(&at("none")).is_err());
    }
}
