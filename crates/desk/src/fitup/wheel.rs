//! Wheel section over rotor and caliper, with the gap dimensioned at its nearest points.

use egui::{Align2, Rect, Stroke, Ui};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_figures::gap::{Gap, GapRule, GapVerdict};
use knockon_figures::wheels::{
    OverBrake, ProfilePoint, USUAL_LIP_MM, backspacing, overall_width, wheel_over_brake,
};
use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::card::{Fact, Shown, Source};
use super::field::{Ask, Field, Values};
use super::say;
use super::scale::{At, Board};
use super::vehicle::Vehicle;
use crate::tokens::Tokens;

pub const SOURCES: &[Source] = &[
    Source {
        what: "The gap",
        formula: "least distance between the two outlines in a half plane through the axle, the wheel moved out by the spacer; negative by the depth where they foul",
        from: "plane geometry; 3 mm as the least gap is common practice",
    },
    Source {
        what: "Outline of the wheel",
        formula: "lip at offset and overall width (rim width + 2 lips of 12.7 mm), a straight barrel at the least inside diameter, then the disc: out to its clear depth, back to the pad, in to the bore; corners of 6 to 14 mm",
        from: "ISO 3911 for the widths, lip and corners from memory; a real barrel steps, so a measured outline beats this one",
    },
    Source {
        what: "Outline of the brake",
        formula: "a ring as thick and as wide as the caliper, at the diameter its outside sweeps",
        from: "geometry; a cast caliper has rounded corners, so the true gap is the same or more",
    },
];

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let port = |class, port, field| v.and_then(|v| v.port(class, port, field));
    let figure = |class, figure| v.and_then(|v| v.figure(class, figure));
    vec![
        Field::length("inside", "Least inside diameter", "352 mm", figure("wheels", "wheel-inside")),
        Field::length(
            "envelope",
            "Diameter the caliper sweeps",
            "339 mm",
            figure("front-brakes", "caliper-envelope"),
        ),
        Field::length("out", "Caliper out past the hub face", "12 mm", None),
        Field::length("caliper", "Width of the caliper", "105 mm", None),
        Field::length("reach", "Caliper reaches down by", "58 mm", None),
        Field::length("spacer", "Spacer", "0 mm", None),
        Field::new("offset", "Offset of the wheel", Ask::Quantity(Dimension::Length), "0 mm", None),
        Field::length("depth", "Clear depth of the disc", "32 mm", None),
        Field::length("rim", "Rim diameter", "15 in", port("wheels", "rim", "diameter")),
        Field::length("width", "Rim width", "6 in", port("wheels", "rim", "width")),
        Field::length("pad", "Diameter of the mounting pad", "170 mm", None),
        Field::length("bore", "Hub bore", "108 mm", port("wheels", "pattern", "bore")),
        Field::length("rotor", "Rotor diameter", "285 mm", None),
        Field::length("thick", "Rotor thickness", "22 mm", None),
        Field::length("wanted", "Gap wanted", "3 mm", None),
        Field::length("accuracy", "Measured to", "1 mm", None),
    ]
}

/// Measures of a wheel and a brake, mm; along the axle from the hub face, outboard positive.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Sizes {
    inside: f64,
    envelope: f64,
    out: f64,
    caliper: f64,
    reach: f64,
    spacer: f64,
    offset: f64,
    depth: f64,
    rim: f64,
    width: f64,
    pad: f64,
    bore: f64,
    rotor: f64,
    thick: f64,
}

impl Sizes {
    /// Inner and outer edge of the wheel without its spacer.
    fn edges(&self) -> (f64, f64) {
        (-self.offset - self.width / 2.0, -self.offset + self.width / 2.0)
    }

    /// Inner outline of the wheel, from the inner lip to the hub bore.
    fn wheel(&self) -> Vec<At> {
        let (inner, outer) = self.edges();
        let barrel = self.inside / 2.0;
        let join = (self.depth + 6.0).min(outer - 2.0);
        vec![
            (inner, self.rim / 2.0),
            (inner + 10.0, barrel),
            (join, barrel),
            (self.depth, barrel - 14.0),
            (self.depth, self.pad / 2.0 + 8.0),
            (0.0, self.pad / 2.0),
            (0.0, self.bore / 2.0),
        ]
    }

    /// Outline of the caliper, from inboard to outboard.
    fn brake(&self) -> Vec<At> {
        let (top, low) = (self.envelope / 2.0, self.envelope / 2.0 - self.reach);
        let inboard = self.out - self.caliper;
        vec![(inboard, low), (inboard, top), (self.out, top), (self.out, low)]
    }

    /// Inner face and outer face of the rotor: it runs in the middle of its caliper.
    fn rotor(&self) -> (f64, f64) {
        let middle = self.out - self.caliper / 2.0;
        (middle - self.thick / 2.0, middle + self.thick / 2.0)
    }

    /// Measures that make no wheel or no brake.
    fn check(&self) -> Result<(), String> {
        let (inner, outer) = self.edges();
        let less =
            |small: f64, large: f64, why: &str| if small < large { Ok(()) } else { Err(why.to_owned()) };
        less(
            0.0,
            self.caliper.min(self.thick).min(self.depth).min(self.reach),
            "a width, thickness or depth of nothing cannot be drawn",
        )?;
        less(self.inside, self.rim, "the inside of the barrel must be smaller than the rim diameter")?;
        less(self.bore, self.pad, "the hub bore must be smaller than the mounting pad")?;
        less(self.pad + 44.0, self.inside, "the mounting pad must be well inside the barrel")?;
        less(inner + 10.0, 0.0, "with this offset and width the hub face would lie inboard of the wheel")?;
        less(self.depth, outer, "the disc must lie inside the outer edge of the wheel")?;
        less(self.rotor, self.envelope, "the rotor must be smaller than what the caliper sweeps")?;
        less(self.envelope - 2.0 * self.reach, self.rotor, "the caliper must reach down over the rotor")?;
        less(self.thick, self.caliper, "the rotor must be thinner than its caliper")
    }
}

/// A wheel over a brake, worked out.
pub struct Section {
    sizes: Sizes,
    over: OverBrake,
    back: Length,
}

/// Works the section out.
pub fn work(v: &Values<'_>) -> Result<Section, String> {
    let mm = |id| v.length(id).map(|l| l.get::<millimeter>());
    let told = |e: knockon_figures::FigureError| e.to_string();
    let lip = Length::new::<millimeter>(USUAL_LIP_MM);
    let width = overall_width(v.length("width")?, lip).map_err(told)?;
    let sizes = Sizes {
        inside: mm("inside")?,
        envelope: mm("envelope")?,
        out: mm("out")?,
        caliper: mm("caliper")?,
        reach: mm("reach")?,
        spacer: mm("spacer")?,
        offset: mm("offset")?,
        depth: mm("depth")?,
        rim: mm("rim")?,
        width: width.get::<millimeter>(),
        pad: mm("pad")?,
        bore: mm("bore")?,
        rotor: mm("rotor")?,
        thick: mm("thick")?,
    };
    let rule = GapRule { wanted: v.length("wanted")?, accuracy: v.length("accuracy")? };
    let profile = |points: Vec<At>| -> Vec<ProfilePoint> {
        let len = Length::new::<millimeter>;
        points.into_iter().map(|(z, r)| ProfilePoint { z: len(z), r: len(r) }).collect()
    };
    let spacer = v.length("spacer")?;
    let over =
        wheel_over_brake(&profile(sizes.wheel()), &profile(sizes.brake()), spacer, rule).map_err(told)?;
    sizes.check()?;
    let back = backspacing(v.length("width")?, lip, v.length("offset")?).map_err(told)?;
    Ok(Section { sizes, over, back })
}

/// What a gap comes to, in words, and whether it holds.
pub fn gap_words(gap: &Gap, m: Measure) -> (String, bool) {
    match gap.verdict() {
        GapVerdict::Holds { spare } => (format!("fits, {} to spare", say::length(spare, m)), true),
        GapVerdict::Open { measure_within } => {
            (format!("measure it: better than {} would tell", say::length(measure_within, m)), false)
        }
        GapVerdict::Broken { short_by } => {
            (format!("does not fit, {} short", say::length(short_by, m)), false)
        }
    }
}

impl Shown for Section {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let (words, holds) = gap_words(&self.over.gap, m);
        vec![
            Fact::judged("Wheel over brake", words, holds),
            Fact::new("Gap found", say::length(self.over.gap.found, m)),
            Fact::new("Radial part of it", say::length(self.over.radial, m)),
            Fact::new("Axial part of it", say::length(self.over.axial, m)),
            Fact::new("Backspacing", say::length(self.back, m)),
            Fact::new("Overall width", say::length(Length::new::<millimeter>(self.sizes.width), m)),
        ]
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        let paint = ui.painter_at(rect);
        let s = &self.sizes;
        let (inner, outer) = (s.edges().0 + s.spacer, s.edges().1 + s.spacer);
        let seat = s.rim / 2.0;
        let low = ((s.out - s.caliper).min(inner) - 20.0, s.bore / 2.0 - 34.0);
        let high = (outer.max(s.out) + 30.0, seat + 34.0);
        let b = Board::new(&paint, *t, rect, m, low, high);
        // hub face and what the wheel stands on
        b.dashed(&[(0.0, low.1), (0.0, high.1)], Stroke::new(1.0, t.soft));
        b.words(b.at((0.0, low.1)), Align2::CENTER_TOP, "hub face", t.soft);
        if s.spacer > 0.0 {
            let (foot, pad) = (s.bore / 2.0, s.pad / 2.0);
            b.body(
                &[(0.0, foot), (s.spacer, foot), (s.spacer, pad), (0.0, pad)],
                t.tied_ground,
                b.pen(t.edge),
            );
        }
        // rotor with its hat to the hub face, caliper over it
        let (near, far) = s.rotor();
        let (hat, rim) = (s.pad / 2.0 - 6.0, s.rotor / 2.0);
        let foot = (rim - s.reach).max(hat);
        b.body(&[(near, foot), (far, foot), (far, rim), (near, rim)], t.hover, b.pen(t.soft));
        b.path(&[(far, foot), (far, hat), (0.0, hat), (0.0, s.bore / 2.0)], b.pen(t.soft));
        let brake = s.brake();
        b.body(&brake, t.tied_ground, b.pen(t.ink));
        b.body(&[(near, foot), (far, foot), (far, rim), (near, rim)], t.hover, b.pen(t.soft));
        // the wheel: inner outline heavy, its outside after the thickness of the metal
        let wheel: Vec<At> = s.wheel().iter().map(|(z, r)| (z + s.spacer, *r)).collect();
        b.path(&wheel, Stroke::new(3.5, t.ink));
        let join = wheel.get(2).map_or(0.0, |p| p.0);
        b.path(
            &[(join, s.inside / 2.0), (outer - 10.0, s.inside / 2.0 + 2.0), (outer, seat)],
            Stroke::new(3.5, t.ink),
        );
        for z in [inner, outer] {
            b.path(&[(z, seat), (z, seat + 17.0)], Stroke::new(3.5, t.ink));
        }
        // names where there is room
        let middle = (near + far) / 2.0;
        b.words(b.at((middle, rim - s.reach * 0.55)), Align2::CENTER_CENTER, "rotor", t.soft);
        b.words(
            b.at((s.out - s.caliper * 0.86, s.envelope / 2.0 - 12.0)),
            Align2::LEFT_CENTER,
            "caliper",
            t.ink,
        );
        b.words(b.at((inner + 16.0, s.inside / 2.0 + 9.0)), Align2::LEFT_CENTER, "wheel", t.ink);
        // the gap at its nearest points
        let at = |p: &ProfilePoint| (p.z.get::<millimeter>(), p.r.get::<millimeter>());
        let (wheel_at, brake_at) = (at(&self.over.wheel), at(&self.over.brake));
        let (words, holds) = gap_words(&self.over.gap, m);
        let tone = if holds { t.cool } else { t.warm };
        b.path(&[wheel_at, brake_at], Stroke::new(2.0, tone));
        for p in [wheel_at, brake_at] {
            b.paint.circle_filled(b.at(p), 3.5, tone);
        }
        // on the free side of the two points
        let beside = b.at(((wheel_at.0 + brake_at.0) / 2.0, (wheel_at.1 + brake_at.1) / 2.0));
        let inboard = wheel_at.0 < 0.0;
        let (step, align) = if inboard { (-44.0, Align2::RIGHT_CENTER) } else { (44.0, Align2::LEFT_CENTER) };
        let tag = beside + egui::vec2(step, 0.0);
        b.paint.line_segment([beside, tag], Stroke::new(1.0, tone));
        b.words(tag, align, &say::length(self.over.gap.found, m), tone);
        let foot = egui::pos2(rect.right() - 14.0, rect.bottom() - 14.0);
        b.words(foot, Align2::RIGHT_CENTER, &words, tone);
        let len = |mm| say::length(Length::new::<millimeter>(mm), m);
        b.dimension((inner, seat + 17.0), (outer, seat + 17.0), -14.0, &len(outer - inner));
        if (s.out).abs() > 0.5 {
            b.dimension(
                (0.0, s.envelope / 2.0 - s.reach),
                (s.out, s.envelope / 2.0 - s.reach),
                20.0,
                &len(s.out),
            );
        }
        b.bar();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn section(changes: &[(&str, &str)]) -> Result<Section, String> {
        let mut fields = fields(None);
        for field in &mut fields {
            if let Some((_, text)) = changes.iter().find(|(id, _)| *id == field.id) {
                let found = super::super::field::Found { text: (*text).to_owned(), of: String::new() };
                *field = Field::new(field.id, field.name, field.ask, "0 mm", Some(found));
            }
        }
        work(&Values(&fields))
    }

    fn found(changes: &[(&str, &str)]) -> f64 {
        section(changes).map_or(f64::NAN, |s| s.over.gap.found.get::<millimeter>())
    }

    #[test]
    fn the_outline_lies_where_the_measures_say() {
        let s = section(&[]).unwrap_or_else(|why| unreachable!("{why}"));
        // 6 in of rim and two lips of 12.7 mm are 177.8 mm; backspacing without offset is the half
        assert!((s.sizes.width - 177.8).abs() < 1e-9 && (s.back.get::<millimeter>() - 88.9).abs() < 1e-9);
        assert!((s.sizes.rim - 15.0 * 25.4).abs() < 1e-9);
        let wheel = s.sizes.wheel();
        let near = |a: Option<&At>, b: At| a.is_some_and(|a| (a.0 - b.0).hypot(a.1 - b.1) < 1e-9);
        assert!(near(wheel.first(), (-88.9, 190.5)) && near(wheel.last(), (0.0, 54.0)));
        assert_eq!(s.sizes.brake().first(), Some(&(12.0 - 105.0, 169.5 - 58.0)));
    }

    #[test]
    fn the_gap_under_the_barrel_is_the_difference_of_the_radii() {
        // (352 - 339) / 2
        assert!((found(&[]) - 6.5).abs() < 1e-6, "{}", found(&[]));
        assert!((found(&[("envelope", "346 mm")]) - 3.0).abs() < 1e-6);
        assert!(found(&[("envelope", "356 mm")]) < 0.0);
        // a caliper out against the disc: the spacer helps by its thickness
        let near = found(&[("out", "30 mm")]);
        let spaced = found(&[("out", "30 mm"), ("spacer", "3 mm")]);
        assert!((near - 2.0).abs() < 1e-6 && (spaced - 5.0).abs() < 1e-6, "{near} {spaced}");
    }

    #[test]
    fn words_follow_the_verdict() {
        let words = |changes: &[(&str, &str)]| {
            section(changes).map(|s| gap_words(&s.over.gap, Measure::Metric)).unwrap_or_default()
        };
        assert_eq!(words(&[]), ("fits, 3.5 mm to spare".to_owned(), true));
        assert_eq!(words(&[("envelope", "350 mm")]), ("does not fit, 2 mm short".to_owned(), false));
        assert!(words(&[("envelope", "345 mm")]).0.starts_with("measure it"));
    }

    #[test]
    fn what_is_no_wheel_is_refused() {
        for (id, text) in [
            ("inside", "390 mm"),
            ("bore", "171 mm"),
            ("offset", "200 mm"),
            ("depth", "95 mm"),
            ("rotor", "340 mm"),
            ("thick", "0 mm"),
            ("pad", "320 mm"),
        ] {
            assert!(section(&[(id, text)]).is_err(), "{id} {text}");
        }
    }
}
