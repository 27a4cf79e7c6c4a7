//! Hands a picture to the system's viewer, where there is one.

use std::fs::File;
use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use image::{ImageFormat, RgbaImage};
use knockon_store::disk::{plain, reading};

use crate::app::decode::{self, decode};
use crate::wording::sentence;

/// Endings of pictures.
pub const PICTURES: [&str; 10] = ["jpg", "jpeg", "png", "webp", "gif", "heic", "tif", "tiff", "bmp", "avif"];

/// Whether a file is a picture by its ending; nothing else is handed to a viewer.
pub fn is_picture(path: &Path) -> bool {
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
    ending.is_some_and(|e| PICTURES.contains(&e.as_str()))
}

/// What the files of a kind begin with: at an offset, these bytes, and all of them.
type Beginning = &'static [(usize, &'static [u8])];

/// The kinds, and how each is decoded, where it is: HEIC and AVIF go by their first bytes alone. By what each
/// format says of its first bytes: JPEG (ITU-T T.81), PNG, GIF, BMP, WebP in its RIFF box, TIFF in both byte orders,
/// HEIC and AVIF in an ISO box.
const BEGINNINGS: [(Option<ImageFormat>, Beginning); 13] = [
    (Some(ImageFormat::Jpeg), &[(0, &[0xFF, 0xD8, 0xFF])]),
    (Some(ImageFormat::Png), &[(0, b"\x89PNG")]),
    (Some(ImageFormat::Gif), &[(0, b"GIF8")]),
    (Some(ImageFormat::Bmp), &[(0, b"BM")]),
    (Some(ImageFormat::WebP), &[(0, b"RIFF"), (8, b"WEBP")]),
    (Some(ImageFormat::Tiff), &[(0, b"II*\0")]),
    (Some(ImageFormat::Tiff), &[(0, b"MM\0*")]),
    (None, &[(4, b"ftypheic")]),
    (None, &[(4, b"ftypheix")]),
    (None, &[(4, b"ftyphevc")]),
    (None, &[(4, b"ftypmif1")]),
    (None, &[(4, b"ftypmsf1")]),
    (None, &[(4, b"ftypavi")]),
];

/// Why a file cannot be named as a photo: it is no picture by its name and its first bytes, or it is not there. A link is
/// what it leads to.
///
/// # Errors
/// A sentence without a full stop, with the path.
pub fn check(path: &Path) -> Result<(), String> {
    opened(path).map(drop)
}

/// A picture to be shown small; it waits, so it runs in a job.
///
/// # Errors
/// A sentence that says why there is nothing to be shown.
pub fn small(path: &Path, side: u32) -> Result<RgbaImage, String> {
    let (file, format) = opened(path)?;
    let Some(format) = format else {
        return Err("pictures of this kind are not decoded here; a click shows it".to_owned());
    };
    decode::small(file, format, side).map_err(|flaw| flaw.told(path))
}

/// A file that begins like a picture, and how it is decoded, where it is.
fn opened(path: &Path) -> Result<(File, Option<ImageFormat>), String> {
    let shown = path.display();
    if !is_picture(path) {
        return Err(format!("{shown} does not end like a picture (.jpg, .png, .webp, …)"));
    }
    let unread = |why: std::io::Error| match why.kind() {
        std::io::ErrorKind::NotFound => format!("there is no file {shown}"),
        _ => format!("{shown} cannot be read ({})", plain(&why)),
    };
    let file = reading(path).map_err(unread)?;
    let mut first = Vec::new();
    (&file).take(16).read_to_end(&mut first).map_err(unread)?;
    let real = std::fs::canonicalize(path).map_err(unread)?;
    if !is_picture(&real) {
        return Err(format!("{shown} is a link to {}, which does not end like a picture", real.display()));
    }
    let has = |(at, bytes): &(usize, &[u8])| first.get(*at..).is_some_and(|rest| rest.starts_with(bytes));
    match BEGINNINGS.iter().find(|(_, all)| all.iter().all(has)) {
        Some((format, _)) => Ok((file, *format)),
        None => Err(format!("{shown} ends like a picture, but there is none in it")),
    }
}

/// What the system opens files with.
const SYSTEM: &str = if cfg!(target_os = "macos") {
    "open"
} else if cfg!(windows) {
    "explorer"
} else {
    "xdg-open"
};
/// How long a viewer may take to say that it cannot; after that it is running.
const PATIENCE: Duration = Duration::from_millis(1500);

/// Shows a picture with the command of the settings or the system's own; waits a moment, so it runs as a job. What a
/// sheet names may be anything: only a picture that can be decoded is handed over, and only one that lies in the folder of
/// the sheet or was named in this window. `folder`: the sheet's, where it has a file.
///
/// # Errors
/// A sentence with the path, so that the picture can be found by hand.
pub fn show(path: &Path, command: Option<&str>, folder: Option<&Path>, named: bool) -> Result<(), String> {
    if let Err(e) = std::fs::metadata(path)
        && e.kind() == std::io::ErrorKind::NotFound
    {
        return Err(format!(
            "There is no file {}: it was moved or renamed. Take it off and add it where it is now.",
            path.display()
        ));
    }
    let (file, format) = opened(path).map_err(|why| format!("{}, so it is not opened.", sentence(&why)))?;
    let told = |why: std::io::Error| format!("{} cannot be read ({}).", path.display(), plain(&why));
    let full = std::fs::canonicalize(path).map_err(told)?;
    let folder = folder.and_then(|folder| std::fs::canonicalize(folder).ok());
    let inside = folder.as_ref().is_some_and(|folder| full.starts_with(folder));
    if !inside && !named {
        return Err(format!(
            "The photo lies outside the folder of the sheet, at {}: whoever made the sheet may have meant another file. \
             Look at it there, or add it here again.",
            full.display()
        ));
    }
    if let Some(format) = format {
        decode(file, format).map_err(|flaw| flaw.told(path))?;
    }
    let command = command.unwrap_or(SYSTEM);
    let Some(program) = program(command) else {
        return Err(format!(
            "No picture viewer answers ({command} is not installed). The photo is {}",
            path.display()
        ));
    };
    started(&program, &full)
        .map_err(|why| format!("{command} could not show the photo ({why}). It is {}", path.display()))
}

/// Opens a file that this program has just written with what the system has for such files; waits a moment, so it runs in a job.
///
/// # Errors
/// A sentence with the way out.
pub fn open(path: &Path) -> Result<(), String> {
    let Some(program) = program(SYSTEM) else {
        return Err(format!("It is not opened: {SYSTEM} is not installed. Open it from its folder."));
    };
    started(&program, path).map_err(|why| {
        format!("It is not opened: {SYSTEM} has nothing for it ({why}). Open it from its folder.")
    })
}

/// Starts a program with a file, and waits so long that it can say that it cannot.
///
/// # Errors
/// What it says, in a few words.
fn started(program: &Path, file: &Path) -> Result<(), String> {
    let child = Command::new(program)
        .arg(file)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    let mut child = child.map_err(|why| plain(&why))?;
    let begun = Instant::now();
    while begun.elapsed() < PATIENCE {
        match child.try_wait() {
            // the explorer ends with 1 even where all is well
            Ok(Some(status)) if status.success() || cfg!(windows) => return Ok(()),
            Ok(Some(status)) => return Err(status.to_string()),
            Ok(None) => std::thread::sleep(Duration::from_millis(30)),
            Err(why) => return Err(plain(&why)),
        }
    }
    // it runs; somebody has to take its end
    let _ = std::thread::Builder::new().name("knockon-viewer".to_owned()).spawn(move || child.wait());
    Ok(())
}

/// The program of a command: a path, or a name looked up as a shell does.
fn program(command: &str) -> Option<PathBuf> {
    let named = Path::new(command);
    if named.components().count() > 1 {
        return named.is_file().then(|| named.to_owned());
    }
    let endings: &[&str] = if cfg!(windows) { &["", ".exe"] } else { &[""] };
    let folders = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&folders)
        .flat_map(|folder| endings.iter().map(move |e| folder.join(format!("{command}{e}"))))
        .find(|file| file.is_file())
}

#[cfg(test)]
mod tests {
    use super::is_picture;
    use std::path::Path;

    #[test]
    fn pictures_are_known_by_their_ending() {
        assert!(is_picture(Path::new("a.JPG")) && is_picture(Path::new("b.webp")));
        assert!(!is_picture(Path::new("truck.json")) && !is_picture(Path::new("run.sh")));
    }
}
