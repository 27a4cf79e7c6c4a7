//! The photos of a sheet, small enough to stand in a book: each is read, checked and made anew.

use std::collections::BTreeMap;
use std::io::Cursor;
use std::path::Path;

use image::{DynamicImage, ImageReader, Limits, codecs::jpeg::JpegEncoder};
use knockon_core::Sheet;
use knockon_report::document::Picture;

use crate::terminal::complain;

/// The longer side of a photo in a book, in its points: sharp on a third of a page.
const SIDE: u32 = 1400;
/// How well it is kept, of 100.
const QUALITY: u8 = 82;
/// The largest photo that is read: sides, and bytes in memory.
const LARGEST_SIDE: u32 = 20_000;
const LARGEST: u64 = 512 * 1024 * 1024;

/// The photos by position; what cannot be read is told and left out.
pub fn small(sheet: &Sheet, file: &Path) -> BTreeMap<String, Vec<Picture>> {
    let mut out: BTreeMap<String, Vec<Picture>> = BTreeMap::new();
    let folder = file.parent().unwrap_or(Path::new(""));
    for (position, paths) in &sheet.photos {
        for path in paths {
            match one(&folder.join(path)) {
                Ok(bytes) => {
                    let name = Path::new(path)
                        .file_stem()
                        .map_or_else(String::new, |n| n.to_string_lossy().into_owned());
                    out.entry(position.clone())
                        .or_default()
                        .push(Picture { bytes, alt: format!("Photo: {name}") });
                }
                Err(why) => complain(&format!("{path}: not in the book: {why}")),
            }
        }
    }
    out
}

fn one(path: &Path) -> Result<Vec<u8>, String> {
    let mut limits = Limits::default();
    limits.max_image_width = Some(LARGEST_SIDE);
    limits.max_image_height = Some(LARGEST_SIDE);
    limits.max_alloc = Some(LARGEST);
    let mut reader = ImageReader::open(path)
        .and_then(ImageReader::with_guessed_format)
        .map_err(|why| format!("it cannot be opened: {why}"))?;
    reader.limits(limits);
    let unread = |why: image::ImageError| format!("it cannot be read as a picture: {why}");
    let whole = reader.decode().map_err(unread)?;
    let small = if whole.width().max(whole.height()) > SIDE { whole.thumbnail(SIDE, SIDE) } else { whole };
    let mut out = Cursor::new(Vec::new());
    DynamicImage::ImageRgb8(small.into_rgb8())
        .write_with_encoder(JpegEncoder::new_with_quality(&mut out, QUALITY))
        .map_err(unread)?;
    Ok(out.into_inner())
}
