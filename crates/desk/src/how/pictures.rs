//! The pictures of the page: in the program as files, decoded off the frame when they come into sight.

use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use egui::{ColorImage, Context, TextureHandle, TextureOptions, Vec2};

/// A picture by the end of its path, as a file.
type File = (&'static str, &'static [u8]);

const FILES: [File; 7] = [
    ("board.png", include_bytes!("../../../../assets/picture/board.png")),
    ("buying.png", include_bytes!("../../../../assets/picture/buying.png")),
    ("clash.png", include_bytes!("../../../../assets/picture/clash.png")),
    ("fit-up.png", include_bytes!("../../../../assets/picture/fit-up.png")),
    ("jobs.png", include_bytes!("../../../../assets/picture/jobs.png")),
    ("plans.png", include_bytes!("../../../../assets/picture/plans.png")),
    ("place.png", include_bytes!("../../../../assets/picture/place.png")),
];

/// Those that were in sight; empty until decoded.
#[derive(Clone, Default)]
pub struct Pictures(BTreeMap<&'static str, Arc<OnceLock<TextureHandle>>>);

impl std::fmt::Debug for Pictures {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_list().entries(self.0.keys()).finish()
    }
}

fn file(path: &str) -> Option<File> {
    let name = path.rsplit('/').next().unwrap_or(path);
    FILES.into_iter().find(|(known, _)| *known == name)
}

/// Width and height of a picture in points; `None`: the program has none of that name.
pub fn size(path: &str) -> Option<Vec2> {
    let (_, bytes) = file(path)?;
    // PNG (ISO/IEC 15948), 11.2.2: the first chunk begins with width and height, the most significant byte first
    let number = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
    Some(Vec2::new(number(16)? as f32, number(20)? as f32))
}

impl Pictures {
    /// A picture, once it is decoded; a frame comes then.
    pub fn get(&mut self, ctx: &Context, path: &str) -> Option<TextureHandle> {
        let (name, bytes) = file(path)?;
        let slot = self.0.entry(name).or_insert_with(|| {
            let slot = Arc::new(OnceLock::new());
            let (put, ctx) = (Arc::clone(&slot), ctx.clone());
            let decode = move || {
                if let Some(image) = decoded(bytes) {
                    let _ = put.set(ctx.load_texture(name, image, TextureOptions::LINEAR));
                    ctx.request_repaint();
                }
            };
            // without a thread there is no picture, and its text says the same
            let _ = std::thread::Builder::new().name("knockon-picture".to_owned()).spawn(decode);
            slot
        });
        slot.get().cloned()
    }
}

fn decoded(bytes: &[u8]) -> Option<ColorImage> {
    let image = image::load_from_memory_with_format(bytes, image::ImageFormat::Png).ok()?.to_rgba8();
    let size = [usize::try_from(image.width()).ok()?, usize::try_from(image.height()).ok()?];
    Some(ColorImage::from_rgba_unmultiplied(size, image.as_raw()))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn every_picture_decodes_at_its_size() {
        for (name, bytes) in FILES {
            let image = decoded(bytes).unwrap_or_else(|| unreachable!("{name} does not decode"));
            let told = size(&format!("../picture/{name}")).unwrap();
            assert_eq!(Vec2::new(image.size[0] as f32, image.size[1] as f32), told, "{name}");
        }
        assert!(size("none.png").is_none());
        let all: usize = FILES.iter().map(|(_, bytes)| bytes.len()).sum();
        assert!(all < 1_500_000, "the pictures are {all} bytes: tests/window/pictures.sh makes them smaller");
    }
}
