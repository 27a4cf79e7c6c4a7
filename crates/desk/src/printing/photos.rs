//! The photos of a sheet, small enough to stand in a book: each is tried, decoded within limits and made anew of its points alone.

use std::collections::BTreeMap;
use std::io::Cursor;
use std::path::Path;

use image::DynamicImage;
use image::codecs::jpeg::JpegEncoder;
use knockon_core::Sheet;
use knockon_report::document::Picture;

use crate::app::viewer;
use crate::document::photo_paths::found;

/// The longer side of a photo in a book, in its points: sharp on a third of a page.
const SIDE: u32 = 1400;
/// How well it is kept, of 100.
const QUALITY: u8 = 82;

/// The photos by position, and what cannot be in the book, in words. It waits, so it runs in a job.
pub fn small(sheet: &Sheet, file: Option<&Path>) -> (BTreeMap<String, Vec<Picture>>, Vec<String>) {
    let mut out: BTreeMap<String, Vec<Picture>> = BTreeMap::new();
    let mut troubles = Vec::new();
    for (position, paths) in &sheet.photos {
        for text in paths {
            match one(&found(text, file)) {
                Ok(bytes) => {
                    let name = Path::new(text).file_stem();
                    let name = name.map_or_else(String::new, |name| name.to_string_lossy().into_owned());
                    let picture = Picture { bytes, alt: format!("Photo: {name}") };
                    out.entry(position.clone()).or_default().push(picture);
                }
                Err(why) => troubles.push(why),
            }
        }
    }
    (out, troubles)
}

fn one(path: &Path) -> Result<Vec<u8>, String> {
    let points = viewer::small(path, SIDE)?;
    let mut out = Cursor::new(Vec::new());
    DynamicImage::ImageRgba8(points)
        .into_rgb8()
        .write_with_encoder(JpegEncoder::new_with_quality(&mut out, QUALITY))
        .map_err(|why| format!("{} cannot be made small ({why})", path.display()))?;
    Ok(out.into_inner())
}
