//! A photo is decoded before the viewer gets it: torn ones, nonsense, bombs, large ones, and kinds that are not decoded.
#![cfg(unix)]

use std::fs;
use std::io::Cursor;
use std::os::unix::fs::PermissionsExt as _;
use std::path::{Path, PathBuf};

use image::{GrayImage, ImageFormat, Rgb, RgbImage};
use knockon_store::sheets;

use egui_kittest::kittest::Queryable;

use crate::help::*;

const KINDS: [(&str, ImageFormat); 6] = [
    ("jpg", ImageFormat::Jpeg),
    ("png", ImageFormat::Png),
    ("gif", ImageFormat::Gif),
    ("webp", ImageFormat::WebP),
    ("bmp", ImageFormat::Bmp),
    ("tif", ImageFormat::Tiff),
];

/// The check sum of the header of a PNG of 60,000 by 60,000 points of three colours.
const PNG_SUM: u32 = 0x0FB0_E215;

/// A small picture with something in it.
fn picture(format: ImageFormat) -> Vec<u8> {
    let point = |x: u32, y: u32| [x * y, x ^ y, 7 * x + y].map(|part| u8::try_from(part % 256).unwrap());
    let mut bytes = Cursor::new(Vec::new());
    RgbImage::from_fn(160, 120, |x, y| Rgb(point(x, y))).write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// A picture whose header says that it is as large as can be.
fn bomb(format: ImageFormat) -> Vec<u8> {
    let mut bytes = picture(format);
    let side = 60_000_u16;
    match format {
        ImageFormat::Jpeg => {
            let frame = bytes.windows(2).position(|two| two == [0xFF, 0xC0]).unwrap();
            bytes[frame + 5..frame + 9].copy_from_slice(&[side.to_be_bytes(), side.to_be_bytes()].concat());
        }
        ImageFormat::Png => {
            let side = u32::from(side).to_be_bytes();
            bytes[16..24].copy_from_slice(&[side, side].concat());
            bytes[29..33].copy_from_slice(&PNG_SUM.to_be_bytes());
        }
        ImageFormat::Gif => bytes[6..10].copy_from_slice(&[side.to_le_bytes(), side.to_le_bytes()].concat()),
        // it has 14 bits for a side: 16,000 points less one
        ImageFormat::WebP => {
            let (side, last) = (15_999_u32, u32::from(bytes[24] & 0xF0) << 24);
            bytes[21..25].copy_from_slice(&(side | side << 14 | last).to_le_bytes());
        }
        ImageFormat::Bmp => {
            let side = u32::from(side).to_le_bytes();
            bytes[18..26].copy_from_slice(&[side, side].concat());
        }
        // width, length and rows of its one strip are its tags 256, 257 and 278 (TIFF 6.0, section 8); the value of a tag
        // lies behind its kind and its number
        ImageFormat::Tiff => {
            for tag in [256_u16, 257, 278] {
                let directory = usize::try_from(u32::from_le_bytes(bytes[4..8].try_into().unwrap())).unwrap();
                let find = tag.to_le_bytes();
                let at = (0..).map(|n| directory + 2 + 12 * n).find(|at| bytes[*at..at + 2] == find).unwrap();
                bytes[at + 8..at + 12].copy_from_slice(&u32::from(side).to_le_bytes());
            }
        }
        _ => panic!("no bomb of this kind"),
    }
    bytes
}

/// A desk at a place with these photos, each in the folder of the sheet, and a viewer that notes what it gets.
struct Bench {
    folder: tempfile::TempDir,
    desk: Desk,
}

impl Bench {
    fn new(photos: &[(String, Vec<u8>)]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let (at, home) = (folder.path().join("sheets"), folder.path().join("home"));
        fs::create_dir(&at).unwrap();
        fs::create_dir(&home).unwrap();
        for (name, bytes) in photos {
            fs::write(at.join(name), bytes).unwrap();
        }
        let viewer = folder.path().join("viewer");
        fs::write(&viewer, format!("#!/bin/sh\necho \"$1\" > '{}'\n", seen(folder.path()).display()))
            .unwrap();
        fs::set_permissions(&viewer, fs::Permissions::from_mode(0o755)).unwrap();
        let settings = format!("{{\"viewer\": \"{}\", \"started\": true}}", viewer.display());
        fs::write(home.join("config.json"), settings).unwrap();
        let file = at.join("truck.json");
        let mut sheet = sheets::parse("example", knockon_store::library::example()).unwrap();
        sheet.photos.insert("carburettor".into(), photos.iter().map(|(name, _)| name.clone()).collect());
        sheets::save(&file, &sheet).unwrap();
        let mut desk = start(Some(file), Some(home));
        go_to(&mut desk, "Carburettor");
        Self { folder, desk }
    }

    /// Whether the viewer gets a photo, and what is said.
    fn open(&mut self, name: &str) -> (bool, String) {
        click(&mut self.desk, &format!("Open photo {name}"));
        let message = self.desk.state().message().unwrap_or_default().to_owned();
        let seen = seen(self.folder.path());
        let got = fs::read_to_string(&seen).is_ok_and(|text| text.trim().ends_with(name));
        let _ = fs::remove_file(seen);
        (got, message)
    }

    /// None of them reaches the viewer, and each is told.
    fn none(mut self, photos: &[(String, Vec<u8>)], why: &str, help: &str) {
        for (name, _) in photos {
            let (got, message) = self.open(name);
            assert!(!got, "{name} was handed over: {message}");
            for part in [name.as_str(), why, "It is not opened", help] {
                assert!(message.contains(part), "{name}: {message}");
            }
        }
    }
}

fn seen(folder: &Path) -> PathBuf {
    folder.join("seen")
}

fn of_each(name: &str, make: impl Fn(ImageFormat) -> Vec<u8>) -> Vec<(String, Vec<u8>)> {
    KINDS.iter().map(|(ending, format)| (format!("{name}.{ending}"), make(*format))).collect()
}

#[test]
fn whole_pictures_are_handed_over() {
    let photos = of_each("good", picture);
    let mut bench = Bench::new(&photos);
    for (name, _) in &photos {
        assert_eq!(bench.open(name), (true, String::new()), "{name}");
    }
}

#[test]
fn a_torn_picture_is_told_and_not_handed_over() {
    let photos = of_each("torn", |format| {
        let bytes = picture(format);
        bytes[..bytes.len() / 2].to_vec()
    });
    Bench::new(&photos).none(&photos, "torn", "Copy it anew");
}

#[test]
fn nonsense_behind_the_first_bytes_of_a_picture_is_told_and_not_handed_over() {
    let photos = of_each("nonsense", |format| [&picture(format)[..16], &b"no picture ".repeat(200)].concat());
    Bench::new(&photos).none(&photos, "something else", "from where it came");
}

#[test]
fn a_picture_that_claims_to_be_huge_is_told_and_not_handed_over() {
    let photos = of_each("bomb", bomb);
    Bench::new(&photos).none(&photos, "or says so: 30,000 points along a side", "save it smaller");
}

#[test]
fn a_photo_of_forty_million_points_opens() {
    let mut bytes = Cursor::new(Vec::new());
    GrayImage::new(8_000, 5_000).write_to(&mut bytes, ImageFormat::Png).unwrap();
    let mut bench = Bench::new(&[("large.png".to_owned(), bytes.into_inner())]);
    assert_eq!(bench.open("large.png"), (true, String::new()));
}

#[test]
fn what_is_not_decoded_goes_by_its_first_bytes() {
    let photos = [
        ("a.heic".to_owned(), b"\0\0\0\x18ftypheic and more".to_vec()),
        ("b.avif".to_owned(), b"\0\0\0\x18ftypavif and more".to_vec()),
    ];
    let mut bench = Bench::new(&photos);
    for (name, _) in &photos {
        assert_eq!(bench.open(name), (true, String::new()), "{name}");
    }
}

#[test]
fn a_photo_is_shown_small_beside_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("jet.png");
    fs::write(&path, picture(ImageFormat::Png)).unwrap();
    let mut desk = board(None);
    go_to(&mut desk, "Carburettor");
    crate::photos::drop_files(&mut desk, &[&path]);
    settle(&mut desk);
    desk.get_by_label("Photo jet.png, small").scroll_to_me();
    settle(&mut desk);
    // it is asked for once it is in sight, and is on the card a frame later
    assert_eq!(desk.state().photos_shown(), 1);
}
