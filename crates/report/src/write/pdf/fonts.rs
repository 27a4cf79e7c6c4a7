//! Letters of a PDF: which font has them, how wide words are, where lines break.

use std::collections::HashMap;

use harfrust::{FontRef, ShapeOptions, ShaperData, UnicodeBuffer};
use krilla::text::{Font, GlyphId, KrillaGlyph};
use skrifa::MetadataProvider as _;

/// How words look.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Weight {
    /// As text.
    Regular,
    /// As heads and sums.
    Bold,
}

/// Said where a letter is in none of the fonts.
const MISSING: char = '\u{fffd}';

/// A font with what shapes its letters.
struct Face {
    data: &'static [u8],
    shaper: ShaperData,
    font: Font,
}

/// Letters of one font in a row, ready to be drawn; sizes are shares of the size they are drawn in.
pub struct Run {
    /// The font.
    pub font: Font,
    /// What is drawn.
    pub glyphs: Vec<KrillaGlyph>,
    /// What it reads.
    pub text: String,
    /// How far the next one is.
    pub width: f32,
}

/// The fonts of a document: two weights, and one that has the letters which these have not.
pub struct Fonts {
    faces: Vec<Face>,
    widths: HashMap<(Weight, String), f32>,
}

const REGULAR: &[u8] = include_bytes!("../../../../../assets/fonts/Inter-Regular.otf");
const BOLD: &[u8] = include_bytes!("../../../../../assets/fonts/Inter-SemiBold.otf");
const OTHER: &[u8] = include_bytes!("../../../../../assets/fonts/DejaVuSans.ttf");

impl Fonts {
    /// The fonts of the program; `None` where one of them cannot be read.
    pub fn new() -> Option<Self> {
        let face = |data: &'static [u8]| {
            let shaper = ShaperData::new(&FontRef::from_index(data, 0).ok()?);
            Some(Face { data, shaper, font: Font::new(data.into(), 0)? })
        };
        let faces = [REGULAR, BOLD, OTHER].into_iter().map(face).collect::<Option<Vec<Face>>>()?;
        Some(Self { faces, widths: HashMap::new() })
    }

    fn has(&self, face: usize, letter: char) -> bool {
        let font = self.faces.get(face).and_then(|f| skrifa::FontRef::from_index(f.data, 0).ok());
        font.and_then(|font| font.charmap().map(letter)).is_some_and(|glyph| glyph.to_u32() != 0)
    }

    /// Words in pieces of one font each; what no font has becomes one sign.
    fn pieces(&self, text: &str, weight: Weight) -> Vec<(usize, String)> {
        let own = match weight {
            Weight::Regular => 0,
            Weight::Bold => 1,
        };
        let mut out: Vec<(usize, String)> = Vec::new();
        for letter in text.chars().filter(|c| !c.is_control()) {
            let (face, letter) = match letter {
                letter if self.has(own, letter) => (own, letter),
                letter if self.has(2, letter) => (2, letter),
                _ => (2, MISSING),
            };
            match out.last_mut().filter(|(of, _)| *of == face) {
                Some((_, piece)) => piece.push(letter),
                None => out.push((face, letter.to_string())),
            }
        }
        out
    }

    /// Words as they are drawn.
    pub fn runs(&self, text: &str, weight: Weight) -> Vec<Run> {
        let one = |(face, text): (usize, String)| {
            let face = self.faces.get(face)?;
            let font = FontRef::from_index(face.data, 0).ok()?;
            let shaper = face.shaper.shaper(&font).build();
            let mut buffer = UnicodeBuffer::new();
            buffer.push_str(&text);
            buffer.guess_segment_properties();
            let shaped = shaper.shape(buffer, ShapeOptions::new());
            let em = face.font.units_per_em();
            let starts: Vec<usize> = shaped.glyph_infos().iter().map(|info| info.cluster as usize).collect();
            let glyph = |(at, (info, place)): (usize, (&harfrust::GlyphInfo, &harfrust::GlyphPosition))| {
                let start = starts[at];
                // letters that are drawn as one belong to the first that is drawn of them
                let end = starts.iter().copied().filter(|s| *s > start).min().unwrap_or(text.len());
                let size = |units: i32| units as f32 / em;
                KrillaGlyph::new(
                    GlyphId::new(info.glyph_id),
                    size(place.x_advance),
                    size(place.x_offset),
                    size(place.y_offset),
                    size(place.y_advance),
                    start..end,
                    None,
                )
            };
            let all = shaped.glyph_infos().iter().zip(shaped.glyph_positions());
            let glyphs: Vec<KrillaGlyph> = all.enumerate().map(glyph).collect();
            let width = glyphs.iter().map(|g| g.x_advance).sum();
            Some(Run { font: face.font.clone(), glyphs, width, text })
        };
        self.pieces(text, weight).into_iter().filter_map(one).collect()
    }

    /// How wide words are in a size, in points.
    pub fn width(&mut self, text: &str, weight: Weight, size: f32) -> f32 {
        let mut sum = 0.0;
        for (n, word) in text.split(' ').enumerate() {
            sum += if n > 0 { self.of_word(" ", weight) } else { 0.0 };
            sum += self.of_word(word, weight);
        }
        sum * size
    }

    fn of_word(&mut self, word: &str, weight: Weight) -> f32 {
        let key = (weight, word.to_owned());
        if let Some(width) = self.widths.get(&key) {
            return *width;
        }
        let width = self.runs(word, weight).iter().map(|run| run.width).sum();
        self.widths.insert(key, width);
        width
    }

    /// The widest of its words.
    pub fn widest_word(&mut self, text: &str, weight: Weight, size: f32) -> f32 {
        text.split_whitespace().map(|word| self.width(word, weight, size)).fold(0.0, f32::max)
    }

    /// Words in lines of at most this width; a word that is wider is broken where it must be.
    pub fn lines(&mut self, text: &str, weight: Weight, size: f32, width: f32) -> Vec<String> {
        let mut out = Vec::new();
        for paragraph in text.split('\n') {
            let mut line = String::new();
            let mut used = 0.0;
            let space = self.width(" ", weight, size);
            for word in paragraph.split_whitespace() {
                for piece in self.broken(word, weight, size, width) {
                    let wide = self.width(&piece, weight, size);
                    let gap = if line.is_empty() { 0.0 } else { space };
                    if !line.is_empty() && used + gap + wide > width {
                        out.push(std::mem::take(&mut line));
                        used = 0.0;
                    }
                    if !line.is_empty() {
                        line.push(' ');
                        used += space;
                    }
                    line.push_str(&piece);
                    used += wide;
                }
            }
            out.push(line);
        }
        out
    }

    /// A word in pieces that fit: itself where it does.
    fn broken(&mut self, word: &str, weight: Weight, size: f32, width: f32) -> Vec<String> {
        if self.width(word, weight, size) <= width {
            return vec![word.to_owned()];
        }
        let mut out = vec![String::new()];
        let mut used = 0.0;
        for letter in word.chars() {
            let wide = self.of_word(&letter.to_string(), weight) * size;
            if used + wide > width && out.last().is_some_and(|piece| !piece.is_empty()) {
                out.push(String::new());
                used = 0.0;
            }
            if let Some(piece) = out.last_mut() {
                piece.push(letter);
            }
            used += wide;
        }
        out
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_its_room_and_no_letter_is_lost() {
        let mut fonts = Fonts::new().unwrap();
        let text = "Brake hoses, front, 3/8-24 by 17 in WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW and rear";
        for width in [30.0, 60.0, 140.0, 500.0] {
            let lines = fonts.lines(text, Weight::Regular, 9.5, width);
            for line in &lines {
                assert!(fonts.width(line, Weight::Regular, 9.5) <= width + 0.01, "{line:?} in {width}");
            }
            let plain = |text: &str| text.replace(' ', "");
            assert_eq!(plain(&lines.concat()), plain(text));
        }
        assert_eq!(fonts.lines("", Weight::Bold, 9.5, 100.0), [""]);
        assert_eq!(fonts.lines("a\nb", Weight::Bold, 9.5, 100.0), ["a", "b"]);
    }

    #[test]
    fn a_letter_that_no_font_has_is_shown_as_missing_and_is_no_hole() {
        let fonts = Fonts::new().unwrap();
        for text in
            ["\u{1f69c}", "a \u{2612} b", "30 N·m, 3° and ≥ 12 Ω", "\u{5e9}\u{5dc}", "e\u{301}\u{200d}"]
        {
            for run in fonts.runs(text, Weight::Regular) {
                assert!(run.glyphs.iter().all(|glyph| glyph.glyph_id.to_u32() != 0), "{text:?}");
                for glyph in &run.glyphs {
                    assert!(
                        run.text.get(glyph.text_range.clone()).is_some_and(|of| !of.is_empty()),
                        "{text:?}"
                    );
                }
            }
        }
        assert!(fonts.runs("\u{7}\u{0}", Weight::Bold).is_empty());
    }
}
