//! Reading text files: what is no text is told in plain words, with its line.

use std::io;
use std::path::Path;

use crate::disk::{Disk, Kind, LARGEST, Machine, plain};

/// The text of a file of at most 64 MB on a disk, without the mark some editors put in front. A link is followed.
///
/// # Errors
/// A sentence with file and, where a letter cannot be read, line.
pub(crate) fn read_text_on(disk: &dyn Disk, path: &Path) -> Result<String, String> {
    told(path, bytes_of(disk, path)?)
}

/// The text of a plain file of at most 64 MB. A link is refused.
///
/// # Errors
/// A sentence with file and, where a letter cannot be read, line.
pub(crate) fn read_plain(path: &Path) -> Result<String, String> {
    told(path, plain_bytes(&Machine, path, path)?)
}

fn told(path: &Path, bytes: Vec<u8>) -> Result<String, String> {
    let name = path.display();
    text(bytes).map_err(|wrong| match wrong {
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

/// The bytes of a plain file of at most 64 MB, wherever the path leads.
fn bytes_of(disk: &dyn Disk, path: &Path) -> Result<Vec<u8>, String> {
    let refused = |e: io::Error| format!("{}: cannot be read: {}; check the path", path.display(), plain(&e));
    let real = disk.real(path).map_err(refused)?;
    plain_bytes(disk, path, &real)
}

/// The same of what lies at `real`, for messages called `path`.
fn plain_bytes(disk: &dyn Disk, path: &Path, real: &Path) -> Result<Vec<u8>, String> {
    let name = path.display();
    let refused = |e: io::Error| format!("{name}: cannot be read: {}; check the path", plain(&e));
    let looked = disk.look(real).map_err(refused)?.ok_or_else(|| refused(io::ErrorKind::NotFound.into()))?;
    // a pipe would be waited for without end
    match looked.kind {
        Kind::File => {}
        Kind::Folder => {
            return Err(format!("{name}: this is a folder and no file; expected a JSON text file"));
        }
        Kind::Link | Kind::Other => {
            return Err(format!("{name}: this is not a regular file; expected a JSON text file"));
        }
    }
    disk.read(real, LARGEST).map_err(|e| match e.kind() {
        io::ErrorKind::FileTooLarge => {
            format!("{name}: this file is too large; expected a JSON text file of at most 64 MB")
        }
        _ => refused(e),
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
