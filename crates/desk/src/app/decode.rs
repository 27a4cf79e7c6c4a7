//! Decodes a picture with limits before another program gets it.

use std::fs::File;
use std::io::{self, BufReader, Read as _, Seek as _};
use std::path::Path;
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::Duration;

use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder as _, ImageError, ImageFormat, ImageReader, Limits, RgbaImage};
use knockon_store::disk::plain;

/// Points along a side at most: the long panoramas of phones have some 20,000, a header that lies has 60,000 and more.
const SIDE: u32 = 30_000;
/// Bytes of memory for the points at most: 100 million of four bytes each, or 50 million of eight. It takes the photos of
/// all usual cameras and leaves a small machine its breath.
const MEMORY: u64 = 400 * 1024 * 1024;
/// Bytes of a JPEG at most: its decoder takes the whole file into memory. A photo of 100 million points has some 60 MB.
const JPEG: u64 = 128 * 1024 * 1024;
/// How long decoding may take: a large photo needs a second or two, a slow stick some more.
const PATIENCE: Duration = Duration::from_secs(30);

/// Why a picture is not handed over.
#[derive(Debug)]
pub enum Flaw {
    /// It ends too early, or there is something else behind its first bytes.
    Torn,
    /// It is larger than the limits, or says so.
    Large,
    /// It is of a rare kind that is not decoded here, or there is nonsense in its header.
    Rare,
    /// It takes too long.
    Slow,
    /// The system does not let it be read.
    Unread(String),
}

impl Flaw {
    /// What it is and what to do, with the path.
    pub fn told(&self, path: &Path) -> String {
        let (what, help) = match self {
            Self::Torn => (
                "begins like a picture, but there is no whole one in it: it is torn, or something else".to_owned(),
                "Copy it anew from where it came.",
            ),
            Self::Large => (
                "is larger than what is tried here, or says so: 30,000 points along a side, 400 MB for all of them"
                    .to_owned(),
                "If you know it, save it smaller.",
            ),
            Self::Rare => (
                "begins like a picture of a rare kind, or there is something else in it".to_owned(),
                "Copy it anew from where it came, or save it as a plain .jpg or .png.",
            ),
            Self::Slow => (
                format!("could not be tried within {} seconds", PATIENCE.as_secs()),
                "Try again when the disk has less to do, or save it smaller.",
            ),
            Self::Unread(why) => (format!("cannot be read ({why})"), "See whether its disk is still there."),
        };
        format!("{} {what}. It is not opened. {help}", path.display())
    }
}

impl From<io::Error> for Flaw {
    fn from(why: io::Error) -> Self {
        // what a decoder misses has no number of the system
        if why.raw_os_error().is_some() { Self::Unread(plain(&why)) } else { Self::Torn }
    }
}

impl From<ImageError> for Flaw {
    fn from(why: ImageError) -> Self {
        match why {
            ImageError::Limits(_) => Self::Large,
            ImageError::Unsupported(_) => Self::Rare,
            ImageError::IoError(why) => why.into(),
            ImageError::Decoding(_) | ImageError::Encoding(_) | ImageError::Parameter(_) => Self::Torn,
        }
    }
}

/// Decodes a picture, for the sake of the trial alone. In a thread of its own, so that one that takes for ever, or ends
/// the decoder, is told as well; it waits for that, so it runs in a job.
///
/// # Errors
/// What is wrong with it.
pub fn decode(file: File, format: ImageFormat) -> Result<(), Flaw> {
    within(PATIENCE, move || within_limits(file, format).map(drop))
}

/// Decodes a picture to be shown small: no side longer than this many points, turned as the camera was held. It waits, so it
/// runs in a job.
///
/// # Errors
/// What is wrong with it.
pub fn small(file: File, format: ImageFormat, side: u32) -> Result<RgbaImage, Flaw> {
    within(PATIENCE, move || {
        let (picture, held) = within_limits(file, format)?;
        let mut picture = picture.thumbnail(side, side);
        picture.apply_orientation(held);
        Ok(picture.into_rgba8())
    })
}

fn within<T: Send + 'static>(
    patience: Duration,
    decode: impl FnOnce() -> Result<T, Flaw> + Send + 'static,
) -> Result<T, Flaw> {
    let (send, receive) = channel();
    // nobody may be waiting any more
    let run = move || drop(send.send(decode()));
    std::thread::Builder::new().name("knockon-decode".to_owned()).spawn(run)?;
    match receive.recv_timeout(patience) {
        Ok(found) => found,
        Err(RecvTimeoutError::Timeout) => Err(Flaw::Slow),
        Err(RecvTimeoutError::Disconnected) => Err(Flaw::Torn),
    }
}

/// The picture, and how the camera was held.
fn within_limits(file: File, format: ImageFormat) -> Result<(DynamicImage, Orientation), Flaw> {
    let len = file.metadata()?.len();
    let mut file = BufReader::new(file);
    file.rewind()?;
    if format == ImageFormat::Jpeg {
        if len > JPEG {
            return Err(Flaw::Large);
        }
        to_the_end(&mut file)?;
        file.rewind()?;
    }
    let mut limits = Limits::default();
    limits.max_image_width = Some(SIDE);
    limits.max_image_height = Some(SIDE);
    limits.max_alloc = Some(MEMORY);
    let mut reader = ImageReader::with_format(file, format);
    reader.limits(limits);
    let mut decoder = reader.into_decoder()?;
    // what it would take is known before a byte of it is decoded
    if decoder.total_bytes() > MEMORY {
        return Err(Flaw::Large);
    }
    let held = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    Ok((DynamicImage::from_decoder(decoder)?, held))
}

/// Goes through a JPEG from mark to mark to that of its end; its decoder fills what is missing with grey. Among the
/// points a byte of 0xFF is followed by a nought, so that no mark is met there; a small picture in a segment is passed
/// over with it.
fn to_the_end(file: &mut BufReader<File>) -> io::Result<()> {
    let mut mark = [0];
    loop {
        while mark[0] != 0xFF {
            file.read_exact(&mut mark)?;
        }
        while mark[0] == 0xFF {
            file.read_exact(&mut mark)?;
        }
        match mark[0] {
            0xD9 => return Ok(()),
            // a byte of the points, and the marks without a segment
            0 | 1 | 0xD0..=0xD8 => {}
            _ => {
                let mut len = [0; 2];
                file.read_exact(&mut len)?;
                file.seek_relative(u16::from_be_bytes(len).saturating_sub(2).into())?;
            }
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use std::time::Instant;

    use super::*;

    /// A picture of 300 by 100 points, held so (EXIF 2.3, tag 274; 6: the right side of the scene is at the top).
    fn held(how: u8) -> Vec<u8> {
        let mut jpeg = Vec::new();
        let encoder = image::codecs::jpeg::JpegEncoder::new(&mut jpeg);
        image::RgbImage::from_pixel(300, 100, image::Rgb([200, 80, 20])).write_with_encoder(encoder).unwrap();
        let mut exif = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
        exif.extend([how, 0, 0, 0, 0, 0, 0]);
        let len = u16::try_from(exif.len() + 2).unwrap().to_be_bytes();
        let mut whole = jpeg[..2].to_vec();
        whole.extend([0xFF, 0xE1]);
        whole.extend(len);
        whole.extend(exif);
        whole.extend(&jpeg[2..]);
        whole
    }

    #[test]
    fn a_small_picture_is_bounded_and_turned_as_the_camera_was_held() {
        let folder = tempfile::tempdir().unwrap();
        for (how, wanted) in [(1, (60, 20)), (6, (20, 60)), (3, (60, 20))] {
            let path = folder.path().join(format!("{how}.jpg"));
            std::fs::write(&path, held(how)).unwrap();
            let small = small(File::open(&path).unwrap(), ImageFormat::Jpeg, 60).unwrap();
            assert_eq!(small.dimensions(), wanted, "{how}");
        }
        let torn = folder.path().join("torn.jpg");
        std::fs::write(&torn, &held(6)[..200]).unwrap();
        assert!(matches!(small(File::open(&torn).unwrap(), ImageFormat::Jpeg, 60), Err(Flaw::Torn)));
    }

    #[test]
    fn one_that_takes_for_ever_or_ends_its_decoder_is_told_in_time() {
        let begun = Instant::now();
        let endless = within(Duration::from_millis(40), || {
            std::thread::sleep(Duration::from_mins(1));
            Ok(())
        });
        assert!(matches!(endless, Err(Flaw::Slow)), "{endless:?}");
        assert!(begun.elapsed() < Duration::from_secs(30), "{:?}", begun.elapsed());
        let told = Flaw::Slow.told(Path::new("a.png"));
        assert!(told.contains("30 seconds") && told.contains("Try again"), "{told}");
        #[allow(clippy::panic, reason = "a decoder that fails so")]
        let ended: Result<(), Flaw> = within(PATIENCE, || panic!("a decoder that panics"));
        assert!(matches!(ended, Err(Flaw::Torn)), "{ended:?}");
        assert!(within(PATIENCE, || Ok(())).is_ok());
    }
}
