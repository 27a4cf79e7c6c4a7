//! The photos of a sheet, small enough to stand in a book: each is read, checked, turned as it was held and made anew of its points
//! alone, without what the camera wrote about where, when and by whom it was taken.

use std::collections::BTreeMap;
use std::io::Cursor;
use std::path::Path;

use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder as _, ImageReader, Limits};
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
    let mut decoder = reader.into_decoder().map_err(unread)?;
    // how the camera was held stands beside the points, and goes with all that stands there
    let held = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut whole = DynamicImage::from_decoder(decoder).map_err(unread)?;
    whole.apply_orientation(held);
    let small = if whole.width().max(whole.height()) > SIDE { whole.thumbnail(SIDE, SIDE) } else { whole };
    let mut out = Cursor::new(Vec::new());
    DynamicImage::ImageRgb8(small.into_rgb8())
        .write_with_encoder(JpegEncoder::new_with_quality(&mut out, QUALITY))
        .map_err(unread)?;
    Ok(out.into_inner())
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    /// EXIF as in the APP1 segment of a JPEG (CIPA DC-008): a TIFF of one directory with orientation 6, "turned by a quarter", a
    /// camera, an owner and a place.
    fn exif() -> Vec<u8> {
        let mut tiff = b"II*\0\x08\0\0\0".to_vec();
        let (camera, owner) = (b"Invented Camera\0", b"Ann of Mill Yard\0");
        let after = 8 + 2 + 3 * 12 + 4;
        let entry = |tag: u16, kind: u16, many: u32, value: u32| {
            [&tag.to_le_bytes()[..], &kind.to_le_bytes(), &many.to_le_bytes(), &value.to_le_bytes()].concat()
        };
        tiff.extend(3u16.to_le_bytes());
        tiff.extend(entry(0x0110, 2, camera.len() as u32, after));
        tiff.extend(entry(0x0112, 3, 1, 6));
        tiff.extend(entry(0x8298, 2, owner.len() as u32, after + camera.len() as u32));
        tiff.extend([0; 4]);
        tiff.extend(camera);
        tiff.extend(owner);
        tiff.extend(b"N 51 28 38 W 0 0 0");
        [b"Exif\0\0", &tiff[..]].concat()
    }

    #[test]
    fn a_photo_is_turned_as_it_was_held_and_says_nothing_of_who_took_it_where() {
        // wide, its left half black: held upright by a quarter to the right it is tall, its upper half black
        let wide = image::RgbImage::from_fn(64, 32, |x, _| image::Rgb([if x < 32 { 0 } else { 255 }; 3]));
        let mut plain = Cursor::new(Vec::new());
        DynamicImage::ImageRgb8(wide).write_with_encoder(JpegEncoder::new(&mut plain)).unwrap();
        let plain = plain.into_inner();
        let exif = exif();
        let long = u16::try_from(exif.len() + 2).unwrap().to_be_bytes();
        let photo = [&plain[..2], &[0xff, 0xe1], &long, &exif, &plain[2..]].concat();
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("photo.jpg");
        std::fs::write(&path, &photo).unwrap();
        let small = one(&path).unwrap();
        let read = image::load_from_memory(&small).unwrap().into_luma8();
        assert_eq!(read.dimensions(), (32, 64));
        assert!(read.get_pixel(16, 8).0[0] < 60 && read.get_pixel(16, 56).0[0] > 200);
        for told in [&b"Exif"[..], b"Camera", b"Ann", b"N 51"] {
            assert!(photo.windows(told.len()).any(|bytes| bytes == told));
            assert!(!small.windows(told.len()).any(|bytes| bytes == told), "{told:?}");
        }
    }
}
