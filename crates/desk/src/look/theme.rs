//! Fonts and style, from the tokens.

use egui::epaint::text::{FontInsert, FontPriority, InsertFontFamily};
use egui::{CornerRadius, FontData, FontFamily, FontId, Margin, Stroke, TextStyle, Theme, Vec2};

use crate::look::tokens::{BODY, HEAD, PAPER, PEN, SLATE, SMALL, TARGET, Tokens};

static INTER: &[u8] = include_bytes!("../../../../assets/fonts/Inter-Regular.otf");
static INTER_STRONG: &[u8] = include_bytes!("../../../../assets/fonts/Inter-SemiBold.otf");
static DEJAVU: &[u8] = include_bytes!("../../../../assets/fonts/DejaVuSans.ttf");

/// How long what opens or fades takes, in seconds.
pub const MOTION: f32 = 0.06;

/// The family of names and headings.
pub fn strong_family() -> FontFamily {
    FontFamily::Name("strong".into())
}

/// Body text.
pub fn body() -> FontId {
    FontId::proportional(BODY)
}

/// A sheet that lies on the ground, with its rows close to its edge.
pub fn sheet(t: &Tokens) -> egui::Frame {
    egui::Frame::new()
        .fill(t.sheet)
        .stroke(egui::Stroke::new(1.0, t.line))
        .corner_radius(4)
        .inner_margin(egui::Margin { left: 2, right: 2, top: 2, bottom: 4 })
}

/// Second text.
pub fn small() -> FontId {
    FontId::proportional(SMALL)
}

/// Names.
pub fn strong(size: f32) -> FontId {
    FontId::new(size, strong_family())
}

/// The tokens of the theme in use.
pub fn tokens(ui: &egui::Ui) -> Tokens {
    if ui.visuals().dark_mode { SLATE } else { PAPER }
}

/// Sets fonts and both styles; called once.
pub fn install(ctx: &egui::Context) {
    fonts(ctx);
    for (theme, tokens) in [(Theme::Light, PAPER), (Theme::Dark, SLATE)] {
        ctx.style_mut_of(theme, |style| {
            measures(style);
            colours(&mut style.visuals, &tokens);
        });
    }
}

fn fonts(ctx: &egui::Context) {
    let family = |family, priority| InsertFontFamily { family, priority };
    let add = |name: &str, data: &'static [u8], families| {
        ctx.add_font(FontInsert { name: name.to_owned(), data: FontData::from_static(data), families });
    };
    add("inter", INTER, vec![family(FontFamily::Proportional, FontPriority::Highest)]);
    add("inter-strong", INTER_STRONG, vec![family(strong_family(), FontPriority::Highest)]);
    add(
        "dejavu",
        DEJAVU,
        vec![
            family(FontFamily::Proportional, FontPriority::Lowest),
            family(FontFamily::Monospace, FontPriority::Lowest),
            family(strong_family(), FontPriority::Lowest),
        ],
    );
}

fn measures(style: &mut egui::Style) {
    style.text_styles = [
        (TextStyle::Small, small()),
        (TextStyle::Body, body()),
        (TextStyle::Button, body()),
        (TextStyle::Monospace, FontId::monospace(SMALL)),
        (TextStyle::Heading, strong(HEAD)),
    ]
    .into();
    style.interaction.selectable_labels = false;
    style.interaction.tooltip_delay = 0.35;
    let s = &mut style.spacing;
    s.item_spacing = Vec2::new(6.0, 6.0);
    s.button_padding = Vec2::new(9.0, 4.0);
    s.interact_size = Vec2::new(TARGET, TARGET);
    s.menu_margin = Margin::same(6);
    s.window_margin = Margin::same(16);
    s.tooltip_width = 380.0;
    s.combo_width = 60.0;
    s.scroll = egui::style::ScrollStyle::solid();
    s.scroll.bar_width = 8.0;
    style.animation_time = MOTION;
}

fn colours(v: &mut egui::Visuals, t: &Tokens) {
    let round = CornerRadius::same(4);
    v.panel_fill = t.ground;
    v.window_fill = t.sheet;
    v.window_stroke = Stroke::new(1.0, t.edge);
    v.window_corner_radius = CornerRadius::same(6);
    v.menu_corner_radius = round;
    v.faint_bg_color = t.hover;
    v.extreme_bg_color = t.hover;
    v.text_edit_bg_color = Some(t.field);
    v.code_bg_color = t.field;
    v.hyperlink_color = t.cool;
    v.warn_fg_color = t.warm;
    v.error_fg_color = t.warm;
    v.weak_text_color = Some(t.soft);
    v.selection.bg_fill = t.cool_ground;
    v.selection.stroke = Stroke::new(PEN, t.cool);
    v.window_shadow.color = t.veil;
    v.popup_shadow.color = t.veil;
    v.disabled_alpha = 0.6;
    let w = &mut v.widgets;
    for (state, fill, solid, edge, ink, wide) in [
        (&mut w.noninteractive, t.sheet, t.sheet, t.line, t.ink, 1.0),
        (&mut w.inactive, t.sheet, t.edge, t.edge, t.ink, 1.0),
        (&mut w.hovered, t.hover, t.soft, t.ink, t.ink, 1.0),
        (&mut w.active, t.cool_ground, t.cool, t.cool, t.ink, 2.0),
        (&mut w.open, t.hover, t.hover, t.edge, t.ink, 1.0),
    ] {
        // the handles of scroll bars
        state.bg_fill = solid;
        state.weak_bg_fill = fill;
        state.bg_stroke = Stroke::new(wide, edge);
        state.fg_stroke = Stroke::new(PEN, ink);
        state.corner_radius = round;
        state.expansion = 0.0;
    }
}
