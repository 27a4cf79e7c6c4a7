//! Wheel section over rotor and caliper, with the gap dimensioned at its nearest points.

mod drawing;

use egui::{Rect, Ui};
use knockon_core::showing::Measure;
use knockon_figures::gap::{Gap, GapRule, GapVerdict};
use knockon_figures::wheels::{
    BrakeSizes, OverBrake, ProfilePoint, RoomCure, USUAL_LIP_MM, WheelSizes, backspacing, from_lip_to_bore,
    overall_width, rim_for, room_cure, simple_brake, simple_wheel, wheel_over_brake,
};
use uom::si::f64::Length;
use uom::si::length::{inch, meter, millimeter};

use super::field::{Ask, Field, NONE, Values};
use super::say;
use super::scale::At;
use super::shown::{Advice, Fact, Shown};
use super::vehicle::Vehicle;
use crate::look::tokens::Tokens;

/// Said of an outline that nobody measured.
const WHEEL_HINT: &str = "None: simplified from the sizes below. Measured, write points from the inner lip to the hub bore: \
                          along the axle from the mounting face, outboard positive, and radius, as \
                          -89 190; -79 176; 38 176; 32 162; 32 93; 0 85; 0 54 mm";
const BRAKE_HINT: &str = "None: simplified from the sizes below. Measured, write points of rotor and caliper from inboard to \
                          outboard, from the hub face, as -93 112; -93 160; -84 169; 12 169; 12 112 mm";

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let port = |class, port, field| v.and_then(|v| v.port(class, port, field));
    let figure = |class, figure| v.and_then(|v| v.figure(class, figure));
    let outline = |class, figure| v.and_then(|v| v.outline(class, figure));
    vec![
        Field::length("inside", "Least inside diameter", "352 mm", figure("wheels", "wheel-inside")),
        Field::length(
            "envelope",
            "Diameter the caliper sweeps",
            "339 mm",
            figure("front-brakes", "caliper-envelope"),
        ),
        Field::length("spacer", "Spacer", "0 mm", v.and_then(|v| v.fact("wheel-spacer"))).choice(),
        Field::length("accuracy", "Measured to, either way", "1 mm", None).choice(),
        Field::length("wanted", "Gap wanted", "3 mm", None).choice(),
        Field::new("wheel", "Measured wheel", Ask::Outline, NONE, outline("wheels", "wheel-outline"))
            .hint(WHEEL_HINT),
        Field::new("brake", "Measured brake", Ask::Outline, NONE, outline("front-brakes", "brake-outline"))
            .hint(BRAKE_HINT),
        Field::length("out", "Caliper out past the hub face", "12 mm", None),
        Field::length("caliper", "Width of the caliper", "105 mm", None),
        Field::length("reach", "Caliper reaches down by", "58 mm", None),
        Field::length("offset", "Offset of the wheel", "0 mm", figure("wheels", "wheel-offset")),
        Field::length("depth", "Clear depth of the disc", "32 mm", None),
        Field::length("rim", "Rim diameter", "15 in", port("wheels", "rim", "diameter")),
        Field::length("width", "Rim width", "6 in", port("wheels", "rim", "width")),
        Field::length("pad", "Diameter of the mounting pad", "170 mm", None),
        Field::length("bore", "Hub bore", "108 mm", port("wheels", "pattern", "bore")),
        Field::length("rotor", "Rotor diameter", "285 mm", None),
        Field::length("thick", "Rotor thickness", "22 mm", None),
    ]
}

/// A wheel over a brake, worked out.
pub struct Section {
    /// Inner outline of the wheel without its spacer, from lip to bore.
    wheel: Vec<ProfilePoint>,
    /// Outline of the brake, from inboard to outboard.
    brake: Vec<ProfilePoint>,
    /// Outlines that were measured: points of the wheel and of the brake, none where simplified.
    measured: (usize, usize),
    /// Inner and outer edge of the simplified wheel; drawn where none was measured.
    edges: (Length, Length),
    wheel_sizes: WheelSizes,
    brake_sizes: BrakeSizes,
    rotor: (Length, Length),
    spacer: Length,
    over: OverBrake,
    back: Length,
    whole: Length,
    /// What would cure it; `None` where it holds.
    cure: Option<RoomCure>,
}

/// Works the section out.
pub fn work(v: &Values<'_>) -> Result<Section, String> {
    let told = |e: knockon_figures::FigureError| e.to_string();
    let wheel_sizes = WheelSizes {
        inside: v.length("inside")?,
        rim: v.length("rim")?,
        width: v.length("width")?,
        offset: v.length("offset")?,
        depth: v.length("depth")?,
        pad: v.length("pad")?,
        bore: v.length("bore")?,
    };
    let brake_sizes = BrakeSizes {
        envelope: v.length("envelope")?,
        out: v.length("out")?,
        width: v.length("caliper")?,
        reach: v.length("reach")?,
        rotor: v.length("rotor")?,
        thickness: v.length("thick")?,
    };
    let point =
        |(z, r): &(f64, f64)| ProfilePoint { z: Length::new::<meter>(*z), r: Length::new::<meter>(*r) };
    let list = |id| v.points(id).map(|points| points.iter().map(point).collect::<Vec<_>>());
    let (own_wheel, own_brake) = (list("wheel")?, list("brake")?);
    let measured = (own_wheel.len(), own_brake.len());
    // the sizes of what was measured are not read, so they cannot be wrong
    let (wheel, edges) = if own_wheel.is_empty() {
        let simple = simple_wheel(&wheel_sizes).map_err(told)?;
        (simple.profile, (simple.inner, simple.outer))
    } else {
        let none = Length::new::<millimeter>(0.0);
        let along =
            |pick: fn(Length, Length) -> Length| own_wheel.iter().map(|p| p.z).reduce(pick).unwrap_or(none);
        (from_lip_to_bore(own_wheel.clone()), (along(Length::min), along(Length::max)))
    };
    let (brake, rotor) = if own_brake.is_empty() {
        let simple = simple_brake(&brake_sizes).map_err(told)?;
        (simple.profile, simple.rotor)
    } else {
        (own_brake, (Length::new::<millimeter>(0.0), Length::new::<millimeter>(0.0)))
    };
    let rule = GapRule { wanted: v.length("wanted")?, accuracy: v.length("accuracy")? };
    let spacer = v.length("spacer")?;
    let over = wheel_over_brake(&wheel, &brake, spacer, rule).map_err(told)?;
    let lip = Length::new::<millimeter>(USUAL_LIP_MM);
    let back = backspacing(wheel_sizes.width, lip, wheel_sizes.offset).map_err(told)?;
    let whole = overall_width(wheel_sizes.width, lip).map_err(told)?;
    let cure = match over.gap.verdict() {
        GapVerdict::Holds { .. } => None,
        _ => Some(room_cure(&wheel, &brake, spacer, rule).map_err(told)?),
    };
    Ok(Section {
        wheel,
        brake,
        measured,
        edges,
        wheel_sizes,
        brake_sizes,
        rotor,
        spacer,
        over,
        back,
        whole,
        cure,
    })
}

/// Closer than this nobody measures on a vehicle.
fn hair() -> Length {
    Length::new::<millimeter>(0.05)
}

/// What a gap comes to, in words, and whether it holds.
pub fn gap_words(gap: &Gap, m: Measure) -> (String, bool) {
    match gap.verdict() {
        GapVerdict::Holds { spare } => (format!("fits, {} to spare", say::length(spare, m)), true),
        GapVerdict::Open { measure_within } if measure_within < hair() => {
            ("just as wide as wanted: no measuring tells whether it holds".to_owned(), false)
        }
        GapVerdict::Open { measure_within } => {
            (format!("measure it: better than {} would tell", say::length(measure_within, m)), false)
        }
        GapVerdict::Broken { short_by } => {
            (format!("does not fit, {} short", say::length(short_by, m)), false)
        }
    }
}

/// How sure that is: what the gap may be as measured, against what is wanted.
fn sure_words(gap: &Gap, m: Measure) -> String {
    let (low, high) = (gap.found - gap.rule.accuracy, gap.found + gap.rule.accuracy);
    let word = match gap.verdict() {
        GapVerdict::Holds { .. } => "sure",
        GapVerdict::Open { .. } => "not sure",
        GapVerdict::Broken { .. } => "sure that it fouls or is too near",
    };
    format!(
        "{word}: {} to {}, wanted {}",
        say::length(low, m),
        say::length(high, m),
        say::length(gap.rule.wanted, m)
    )
}

impl Section {
    /// The outline as the gap was found on, in words.
    fn outline_words(points: usize) -> String {
        if points == 0 {
            "simplified, measure it to be sure".to_owned()
        } else {
            format!("measured, {points} points")
        }
    }

    /// Figure that both outlines together come from.
    fn figure(&self) -> &'static str {
        if self.measured.0 > 0 && self.measured.1 > 0 { "wheel-over-brake" } else { "wheel-by-sizes" }
    }
}

fn mm(p: &ProfilePoint) -> At {
    (p.z.get::<millimeter>(), p.r.get::<millimeter>())
}

impl Shown for Section {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let (words, holds) = gap_words(&self.over.gap, m);
        let figure = self.figure();
        let mut facts = vec![
            Fact::judged(figure, "Wheel over brake", words, holds),
            Fact::new(
                "wheel-over-brake",
                "Gap found",
                format!(
                    "{} ±{}",
                    say::length(self.over.gap.found, m),
                    say::length(self.over.gap.rule.accuracy, m)
                ),
            ),
            Fact::new("wheel-over-brake", "How sure", sure_words(&self.over.gap, m)),
            Fact::new(figure, "Outline of the wheel", Self::outline_words(self.measured.0)),
            Fact::new(figure, "Outline of the brake", Self::outline_words(self.measured.1)),
            Fact::new(
                "wheel-over-brake",
                "Of it radial and axial",
                format!("{} and {}", say::length(self.over.radial, m), say::length(self.over.axial, m)),
            ),
        ];
        if self.measured.0 == 0 {
            facts.push(Fact::new("backspacing", "Backspacing", say::length(self.back, m)));
            facts.push(Fact::new("backspacing", "Overall width", say::length(self.whole, m)));
        }
        facts
    }

    fn advice(&self, m: Measure) -> Advice {
        let Some(cure) = &self.cure else { return Advice::nothing("the wheel clears the brake") };
        let mut ways: Vec<String> = Vec::new();
        if let GapVerdict::Open { measure_within } = self.over.gap.verdict()
            && measure_within >= hair()
        {
            ways.push(format!("measure to better than {}", say::length(measure_within, m)));
        }
        if let Some(spacer) = cure.spacer {
            ways.push(format!("{} more spacer, with studs to match", say::length(spacer, m)));
        }
        if let Some(inside) = cure.inside {
            let rim = rim_for(self.wheel_sizes.rim, inside).get::<inch>();
            let more = say::length(inside, m);
            ways.push(if self.measured.0 == 0 {
                format!("a wheel {more} wider inside, a {rim:.0} in one as a rule")
            } else {
                format!("a wheel {more} wider inside")
            });
        }
        if ways.is_empty() {
            return Advice::to_do("neither spacer nor wheel of usual size clears it: a smaller brake");
        }
        Advice::to_do(ways.join(", or "))
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        self.drawn(ui, t, rect, m);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fitup::field::Found;

    fn section(changes: &[(&str, &str)]) -> Result<Section, String> {
        let mut fields = fields(None);
        for field in &mut fields {
            if let Some((_, text)) = changes.iter().find(|(id, _)| *id == field.id) {
                let found = Found::new((*text).to_owned(), String::new());
                *field = Field::new(field.id, "", field.ask, "0 mm", Some(found));
            }
        }
        work(&Values(&fields))
    }

    fn found(changes: &[(&str, &str)]) -> f64 {
        section(changes).map_or(f64::NAN, |s| s.over.gap.found.get::<millimeter>())
    }

    fn advice(changes: &[(&str, &str)]) -> Advice {
        section(changes).map(|s| s.advice(Measure::Metric)).unwrap_or_else(|why| unreachable!("{why}"))
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
    fn words_follow_the_verdict_and_say_how_sure() {
        let words = |changes: &[(&str, &str)]| {
            section(changes).map(|s| gap_words(&s.over.gap, Measure::Metric)).unwrap_or_default()
        };
        assert_eq!(words(&[]), ("fits, 3.5 mm to spare".to_owned(), true));
        assert_eq!(words(&[("envelope", "350 mm")]), ("does not fit, 2 mm short".to_owned(), false));
        assert!(words(&[("envelope", "345 mm")]).0.starts_with("measure it"));
        assert!(words(&[("envelope", "346 mm")]).0.starts_with("just as wide as wanted"));
        let even = advice(&[("envelope", "346 mm")]);
        assert_eq!(even, Advice::to_do("a wheel 2 mm wider inside, a 16 in one as a rule"));
        let sure =
            |changes: &[(&str, &str)]| section(changes).map(|s| sure_words(&s.over.gap, Measure::Metric));
        assert_eq!(sure(&[]), Ok("sure: 5.5 mm to 7.5 mm, wanted 3 mm".to_owned()));
        assert_eq!(sure(&[("envelope", "345 mm")]), Ok("not sure: 2.5 mm to 4.5 mm, wanted 3 mm".to_owned()));
    }

    #[test]
    fn what_to_do_is_one_line_with_figures() {
        assert_eq!(advice(&[]), Advice::nothing("the wheel clears the brake"));
        // 2 mm off the disc, 3 wanted and 1 of doubt: 2 mm more; no barrel helps a disc
        let disc = advice(&[("out", "30 mm")]);
        assert_eq!(
            disc,
            Advice::to_do("measure to better than 1 mm, or 2 mm more spacer, with studs to match")
        );
        // 352 - 350 leaves 1 mm, 4 are wanted: 6 mm of diameter, and rims grow in inches
        let barrel = advice(&[("envelope", "350 mm")]);
        assert_eq!(barrel, Advice::to_do("a wheel 6 mm wider inside, a 16 in one as a rule"));
    }

    #[test]
    fn a_measured_outline_takes_the_place_of_the_simplified_one() {
        // a step in the barrel 5 mm lower than its sizes say, over a caliper as it was
        let stepped = "-89 190; -79 176; -40 171; 38 176; 32 162; 32 93; 0 85; 0 54 mm";
        let s = section(&[("wheel", stepped)]).unwrap_or_else(|why| unreachable!("{why}"));
        assert!((s.over.gap.found.get::<millimeter>() - 1.5).abs() < 0.1, "{:?}", s.over.gap.found);
        assert_eq!((s.measured, s.figure()), ((8, 0), "wheel-by-sizes"));
        // sizes that make no wheel do no harm then
        assert!(section(&[("wheel", stepped), ("inside", "390 mm")]).is_ok());
        assert!(section(&[("inside", "390 mm")]).is_err());
        // the caliper as it is: rounded where the simplified one has a corner
        let round = "-93 112; -93 160; -84 163; 12 163; 12 112 mm";
        let both =
            section(&[("wheel", stepped), ("brake", round)]).unwrap_or_else(|why| unreachable!("{why}"));
        assert!((both.over.gap.found.get::<millimeter>() - 8.0).abs() < 0.1, "{:?}", both.over.gap.found);
        assert_eq!(both.figure(), "wheel-over-brake");
        assert_eq!(Section::outline_words(both.measured.1), "measured, 5 points");
        // begun at the bore it is the same wheel; neither lip nor bore where they must be is refused
        let turned: Vec<&str> = stepped.trim_end_matches(" mm").split("; ").collect();
        let turned = format!("{} mm", turned.into_iter().rev().collect::<Vec<_>>().join("; "));
        assert!((found(&[("wheel", turned.as_str())]) - found(&[("wheel", stepped)])).abs() < 1e-9);
        assert!(section(&[("wheel", "0 100; -20 90; 10 80 mm")]).is_err());
    }
}
