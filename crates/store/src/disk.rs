//! Reading and replacing files: what is no text is told in plain words, and a file is replaced whole or not at all.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Write as _};
use std::path::{Path, PathBuf};

/// A text file larger than this is none of ours; reading it would only hang the program.
pub(crate) const LARGEST: u64 = 64 * 1024 * 1024;

/// What the system says of a file, in plain words.
pub(crate) fn plain(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::PermissionDenied => "the system does not allow it".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::NotADirectory => "a part of the path is a file and no folder".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk can only be read".to_owned(),
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

/// The text of a file of at most 64 MB, without the mark some editors put in front.
///
/// # Errors
/// A sentence with file and, where a letter cannot be read, line.
pub(crate) fn read_text(path: &Path) -> Result<String, String> {
    let name = path.display();
    let refused = |e: io::Error| format!("{name}: cannot be read: {}; check the path", plain(&e));
    let meta = fs::metadata(path).map_err(refused)?;
    // a pipe would be waited for without end
    if !meta.is_file() {
        let what = if meta.is_dir() { "this is a folder and no file" } else { "this is not a regular file" };
        return Err(format!("{name}: {what}; expected a JSON text file"));
    }
    if meta.len() > LARGEST {
        return Err(format!("{name}: this file is too large; expected a JSON text file of at most 64 MB"));
    }
    text(fs::read(path).map_err(refused)?).map_err(|wrong| match wrong {
        NoText::Wide => {
            format!("{name}:1: this text is written as UTF-16; expected UTF-8, save it so in your editor")
        }
        NoText::Letter(line) => {
            format!(
                "{name}:{line}: a letter here is not written as UTF-8; save the file as UTF-8 in your editor"
            )
        }
    })
}

/// Why bytes are no text.
enum NoText {
    /// UTF-16.
    Wide,
    /// The line with the first letter that cannot be read.
    Letter(usize),
}

fn text(bytes: Vec<u8>) -> Result<String, NoText> {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(NoText::Wide);
    }
    let text = String::from_utf8(bytes).map_err(|e| {
        let before = &e.as_bytes()[..e.utf8_error().valid_up_to()];
        NoText::Letter(1 + before.iter().filter(|b| **b == b'\n').count())
    })?;
    Ok(without_mark(&text).to_owned())
}

/// Text without the mark some editors put in front.
pub(crate) fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

/// Why a file could not be replaced: the file, what was tried, what the system said.
pub(crate) type Unwritten = (PathBuf, &'static str, io::Error);

/// Replaces a file: temporary file, fsync, rename, fsync of the folder. With `keep` the version before stays beside it.
///
/// # Errors
/// The folder or file cannot be written; the old file is unharmed.
pub(crate) fn replace(path: &Path, text: &str, keep: bool) -> Result<(), Unwritten> {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."));
    let beside = |suffix: &str| -> PathBuf {
        let mut name = path.file_name().unwrap_or_default().to_owned();
        name.push(suffix);
        folder.join(name)
    };
    let temporary = beside(".new");
    let at = |path: &Path, what: &'static str| {
        let path = path.to_owned();
        move |e: io::Error| (path, what, e)
    };
    {
        let mut file = File::create(&temporary)
            .map_err(at(&temporary, "cannot be written; choose a folder you may write to"))?;
        let written = file.write_all(text.as_bytes()).and_then(|()| file.sync_all());
        if let Err(e) = written {
            // half a file helps nobody
            let _ = fs::remove_file(&temporary);
            return Err((temporary, "cannot be written; is the disk full?", e));
        }
    }
    if keep && path.exists() {
        // a copy, so that at every moment a whole file stands under its own name
        fs::copy(path, beside(".bak")).map_err(at(path, "its back-up cannot be written"))?;
    }
    fs::rename(&temporary, path).map_err(at(path, "cannot be replaced"))?;
    if let Ok(dir) = File::open(folder) {
        // not every system can sync a folder; the file itself is safe already
        let _ = dir.sync_all();
    }
    Ok(())
}

/// Whether two paths lead to the same file, through links too.
pub(crate) fn same_file(a: &Path, b: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt as _;
        if let (Ok(a), Ok(b)) = (fs::metadata(a), fs::metadata(b))
            && (a.dev(), a.ino()) == (b.dev(), b.ino())
        {
            return true;
        }
    }
    matches!((fs::canonicalize(a), fs::canonicalize(b)), (Ok(a), Ok(b)) if a == b)
}
