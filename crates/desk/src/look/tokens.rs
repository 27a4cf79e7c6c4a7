//! Every colour and measure of the desk. No other file has a colour of its own.

use egui::Color32;

/// The colours of one theme. Text tones keep 4.5:1 against every ground they stand on, edges of controls 3:1.
#[derive(Clone, Copy, Debug)]
pub struct Tokens {
    /// Behind everything.
    pub ground: Color32,
    /// Panels that lie on the ground.
    pub sheet: Color32,
    /// Bars at the rims.
    pub bar: Color32,
    /// Fields to write in.
    pub field: Color32,
    /// Under the pointer.
    pub hover: Color32,
    /// Text and strokes.
    pub ink: Color32,
    /// Second text.
    pub soft: Color32,
    /// Rules and outlines.
    pub line: Color32,
    /// Outlines of things to click.
    pub edge: Color32,
    /// Unresolved: must be looked at.
    pub warm: Color32,
    /// Ground of the unresolved.
    pub warm_ground: Color32,
    /// Selected.
    pub cool: Color32,
    /// Ground of the selected.
    pub cool_ground: Color32,
    /// Ground of what is tied to the selected.
    pub tied_ground: Color32,
    /// Over the desk while a dialog is open.
    pub veil: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    let [_, r, g, b] = hex.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

/// Paper: light.
pub const PAPER: Tokens = Tokens {
    ground: rgb(0x00ED_EAE3),
    sheet: rgb(0x00FA_F8F4),
    bar: rgb(0x00E4_E0D7),
    field: rgb(0x00FF_FEFC),
    hover: rgb(0x00F0_EDE5),
    ink: rgb(0x0023_2A2E),
    soft: rgb(0x0052_5B60),
    line: rgb(0x00D3_CEC3),
    edge: rgb(0x007F_7E77),
    warm: rgb(0x00A3_3F0A),
    warm_ground: rgb(0x00FB_EADD),
    cool: rgb(0x0013_5E80),
    cool_ground: rgb(0x00DC_EBF1),
    tied_ground: rgb(0x00EC_F2F2),
    veil: Color32::from_black_alpha(90),
};

/// Slate: dark.
pub const SLATE: Tokens = Tokens {
    ground: rgb(0x001B_2125),
    sheet: rgb(0x0023_2B30),
    bar: rgb(0x0015_1A1E),
    field: rgb(0x0017_1D21),
    hover: rgb(0x002C_363C),
    ink: rgb(0x00E7_E6E0),
    soft: rgb(0x00AE_B6B9),
    line: rgb(0x003A_454B),
    edge: rgb(0x007F_8C93),
    warm: rgb(0x00F6_A566),
    warm_ground: rgb(0x003D_2C20),
    cool: rgb(0x007C_C7E6),
    cool_ground: rgb(0x001F_3C4A),
    tied_ground: rgb(0x0024_343B),
    veil: Color32::from_black_alpha(140),
};

/// The least height of anything to click.
pub const TARGET: f32 = 28.0;
/// Body text.
pub const BODY: f32 = 14.0;
/// Second text.
pub const SMALL: f32 = 12.5;
/// Headings of panels.
pub const HEAD: f32 = 18.0;
/// Pen width.
pub const PEN: f32 = 1.5;

#[cfg(test)]
mod tests {
    use super::{Color32, PAPER, SLATE};

    fn luminance(c: Color32) -> f64 {
        let part = |v: u8| {
            let v = f64::from(v) / 255.0;
            if v <= 0.039_28 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(c.r()) + 0.7152 * part(c.g()) + 0.0722 * part(c.b())
    }

    fn contrast(a: Color32, b: Color32) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn text_keeps_its_contrast_on_every_ground() {
        // WCAG 2.2, success criterion 1.4.3: 4.5 to 1
        for t in [PAPER, SLATE] {
            let grounds =
                [t.ground, t.sheet, t.bar, t.field, t.hover, t.warm_ground, t.cool_ground, t.tied_ground];
            for ground in grounds {
                for text in [t.ink, t.soft, t.warm, t.cool] {
                    let c = contrast(text, ground);
                    assert!(c >= 4.5, "{text:?} on {ground:?}: {c:.2}");
                }
            }
        }
    }

    #[test]
    fn edges_of_controls_keep_theirs() {
        // WCAG 2.2, success criterion 1.4.11: 3 to 1 for what tells a control and its state
        for t in [PAPER, SLATE] {
            let grounds =
                [t.ground, t.sheet, t.bar, t.field, t.hover, t.warm_ground, t.cool_ground, t.tied_ground];
            for ground in grounds {
                for edge in [t.edge, t.ink, t.warm, t.cool] {
                    let c = contrast(edge, ground);
                    assert!(c >= 3.0, "{edge:?} on {ground:?}: {c:.2}");
                }
            }
        }
    }

    #[test]
    fn contrast_is_as_the_guideline_has_it() {
        // WCAG 2.2, definition of contrast ratio: black on white is 21 to 1; grey 0x767676 on white 4.54, from memory
        assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 0.01);
        assert!((contrast(Color32::from_gray(0x76), Color32::WHITE) - 4.54).abs() < 0.01);
    }
}
