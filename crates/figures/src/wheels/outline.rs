//! Outlines of wheel and brake in section: simplified from a few sizes, or as measured.

use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::over_brake::ProfilePoint;
use super::place::{USUAL_LIP_MM, overall_width};
use crate::error::{Expected, FigureError};
use crate::range::Range;

const SIZE: Range = Range::new(0.1, 1_500.0, "mm");
const ALONG: Range = Range::new(-600.0, 600.0, "mm");
const OFFSET: Range = Range::new(-300.0, 300.0, "mm");

/// How far a rim flange stands out over the bead seat, mm.
///
/// Source: usual of a passenger-car rim, from memory; measure the wheel.
pub const USUAL_FLANGE_MM: f64 = 17.0;

/// From the inner lip to where the barrel begins, mm; from memory.
const LIP_RUN: f64 = 10.0;
/// The corner of barrel and disc lies so far outboard of the clear depth, mm; from memory.
const CORNER_OUT: f64 = 6.0;
/// The disc begins so far inside of the barrel, mm; from memory.
const CORNER_IN: f64 = 14.0;
/// The disc slopes back to the pad from so far outside of it, mm; from memory.
const PAD_SLOPE: f64 = 8.0;

/// Sizes a simplified wheel is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelSizes {
    /// Least inside diameter of the barrel.
    pub inside: Length,
    /// Rim diameter, larger than `inside`.
    pub rim: Length,
    /// Nominal width between the bead seats.
    pub width: Length,
    /// Mounting face outboard of the middle of the rim is positive.
    pub offset: Length,
    /// Mounting face to the inside of the disc, outboard.
    pub depth: Length,
    /// Diameter of the mounting pad, larger than `bore`.
    pub pad: Length,
    /// Diameter of the hub bore.
    pub bore: Length,
}

/// Sizes a simplified disc brake is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BrakeSizes {
    /// Diameter of the circle about the axle the caliper just fits into.
    pub envelope: Length,
    /// Outer face of the caliper, outboard of the hub face; below zero inboard of it.
    pub out: Length,
    /// Width of the caliper along the axle.
    pub width: Length,
    /// How far the caliper reaches from its outside toward the axle.
    pub reach: Length,
    /// Diameter of the rotor, smaller than `envelope`.
    pub rotor: Length,
    /// Thickness of the rotor, less than `width`.
    pub thickness: Length,
}

/// A simplified wheel.
#[derive(Clone, Debug, PartialEq)]
pub struct SimpleWheel {
    /// Inner outline from the inner lip to the hub bore, as [`super::wheel_over_brake`] wants it.
    pub profile: Vec<ProfilePoint>,
    /// Inner edge along the axle from the hub face.
    pub inner: Length,
    /// Outer edge along the axle from the hub face.
    pub outer: Length,
}

/// A simplified disc brake.
#[derive(Clone, Debug, PartialEq)]
pub struct SimpleBrake {
    /// Outline of the caliper from inboard to outboard.
    pub profile: Vec<ProfilePoint>,
    /// Inner and outer face of the rotor along the axle; it runs in the middle of its caliper.
    pub rotor: (Length, Length),
}

/// Outline of a wheel from its sizes: lip, straight barrel at the least inside diameter, disc out to its clear depth, back
/// to the pad, in to the bore.
///
/// * `sizes`: diameters 0.1 to 1,500 mm, offset -300 to 300 mm, width 40 to 600 mm.
///
/// A real barrel steps, so a measured outline beats this one.
///
/// # Errors
/// [`FigureError`] if a size is out of its range or the sizes make no wheel.
///
/// Source: ISO 3911 for the widths; lip and corners are from memory.
pub fn simple_wheel(sizes: &WheelSizes) -> Result<SimpleWheel, FigureError> {
    let size = |name, length: Length| SIZE.check(name, length.get::<millimeter>());
    let inside = size("inside of the barrel", sizes.inside)?;
    let rim = size("rim diameter", sizes.rim)?;
    let depth = size("clear depth of the disc", sizes.depth)?;
    let pad = size("mounting pad", sizes.pad)?;
    let bore = size("hub bore", sizes.bore)?;
    let offset = OFFSET.check("wheel offset", sizes.offset.get::<millimeter>())?;
    let whole = overall_width(sizes.width, Length::new::<millimeter>(USUAL_LIP_MM))?.get::<millimeter>();
    let (inner, outer) = (-offset - whole / 2.0, -offset + whole / 2.0);

    below("inside of the barrel", inside, rim)?;
    below("hub bore", bore, pad)?;
    below("mounting pad", pad, inside - 2.0 * (CORNER_IN + PAD_SLOPE))?;
    below("inner edge of the barrel from the hub face", inner + LIP_RUN, 0.0)?;
    below("clear depth of the disc", depth, outer)?;

    let barrel = inside / 2.0;
    let join = (depth + CORNER_OUT).min(outer - 2.0);
    let profile = points(&[
        (inner, rim / 2.0),
        (inner + LIP_RUN, barrel),
        (join, barrel),
        (depth, barrel - CORNER_IN),
        (depth, pad / 2.0 + PAD_SLOPE),
        (0.0, pad / 2.0),
        (0.0, bore / 2.0),
    ]);
    let mm = Length::new::<millimeter>;
    Ok(SimpleWheel { profile, inner: mm(inner), outer: mm(outer) })
}

/// Outline of a caliper from its sizes: a ring as thick and as wide as the caliper, at the diameter its outside sweeps.
///
/// * `sizes`: 0.1 to 1,500 mm, `out` -600 to 600 mm.
///
/// A cast caliper has rounded corners, so the true gap is the same or more.
///
/// # Errors
/// [`FigureError`] if a size is out of its range or the sizes make no brake.
///
/// Source: geometry.
pub fn simple_brake(sizes: &BrakeSizes) -> Result<SimpleBrake, FigureError> {
    let size = |name, length: Length| SIZE.check(name, length.get::<millimeter>());
    let envelope = size("caliper envelope diameter", sizes.envelope)?;
    let width = size("width of the caliper", sizes.width)?;
    let reach = size("reach of the caliper", sizes.reach)?;
    let rotor = size("rotor diameter", sizes.rotor)?;
    let thickness = size("rotor thickness", sizes.thickness)?;
    let out = ALONG.check("caliper out past the hub face", sizes.out.get::<millimeter>())?;

    below("rotor diameter", rotor, envelope)?;
    below("inside of the caliper, which must reach down over the rotor", envelope - 2.0 * reach, rotor)?;
    below("rotor thickness", thickness, width)?;

    let (top, low, inboard) = (envelope / 2.0, (envelope / 2.0 - reach).max(0.0), out - width);
    let middle = out - width / 2.0;
    let mm = Length::new::<millimeter>;
    Ok(SimpleBrake {
        profile: points(&[(inboard, low), (inboard, top), (out, top), (out, low)]),
        rotor: (mm(middle - thickness / 2.0), mm(middle + thickness / 2.0)),
    })
}

/// A measured inner outline of a wheel in the order [`super::wheel_over_brake`] wants, whichever end it was begun at.
#[must_use]
pub fn from_lip_to_bore(mut measured: Vec<ProfilePoint>) -> Vec<ProfilePoint> {
    if let (Some(first), Some(last)) = (measured.first(), measured.last())
        && last.r > first.r
    {
        measured.reverse();
    }
    measured
}

fn below(quantity: &'static str, found: f64, limit: f64) -> Result<(), FigureError> {
    if found < limit {
        return Ok(());
    }
    Err(FigureError { quantity, found, expected: Expected::Below { limit, unit: "mm" } })
}

fn points(list: &[(f64, f64)]) -> Vec<ProfilePoint> {
    let mm = Length::new::<millimeter>;
    list.iter().map(|(z, r)| ProfilePoint { z: mm(*z), r: mm(*r) }).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, refuses};

    /// inside, rim, width, offset, depth, pad, bore
    const WHEEL: [f64; 7] = [352.0, 381.0, 152.4, 0.0, 32.0, 170.0, 108.0];
    /// envelope, out, width, reach, rotor, thickness
    const BRAKE: [f64; 6] = [339.0, 12.0, 105.0, 58.0, 285.0, 22.0];

    fn wheel(a: [f64; 7]) -> Result<SimpleWheel, FigureError> {
        let [inside, rim, width, offset, depth, pad, bore] = a.map(Length::new::<millimeter>);
        simple_wheel(&WheelSizes { inside, rim, width, offset, depth, pad, bore })
    }

    fn brake(a: [f64; 6]) -> Result<SimpleBrake, FigureError> {
        let [envelope, out, width, reach, rotor, thickness] = a.map(Length::new::<millimeter>);
        simple_brake(&BrakeSizes { envelope, out, width, reach, rotor, thickness })
    }

    fn at(profile: &[ProfilePoint], i: usize) -> (f64, f64) {
        profile.get(i).map_or((f64::NAN, f64::NAN), |p| (p.z.get::<millimeter>(), p.r.get::<millimeter>()))
    }

    fn near(a: (f64, f64), b: (f64, f64)) -> bool {
        (a.0 - b.0).hypot(a.1 - b.1) < 1e-9
    }

    #[test]
    fn the_outlines_lie_where_the_sizes_say() {
        // 6 in of rim and two lips of 12.7 mm are 177.8 mm
        let w = wheel(WHEEL).unwrap_or_else(|e| unreachable!("{e}"));
        assert!(near(at(&w.profile, 0), (-88.9, 190.5)) && near(at(&w.profile, 6), (0.0, 54.0)));
        assert!(near(at(&w.profile, 1), (-78.9, 176.0)) && near(at(&w.profile, 2), (38.0, 176.0)));
        assert!((w.outer.get::<millimeter>() - 88.9).abs() < 1e-9);
        // an offset of 10 mm moves both edges inboard
        let moved =
            wheel([352.0, 381.0, 152.4, 10.0, 32.0, 170.0, 108.0]).map(|w| w.inner.get::<millimeter>());
        assert!(moved.is_ok_and(|inner| (inner + 98.9).abs() < 1e-9));
        let b = brake(BRAKE).unwrap_or_else(|e| unreachable!("{e}"));
        assert!(near(at(&b.profile, 0), (-93.0, 111.5)) && near(at(&b.profile, 2), (12.0, 169.5)));
        assert!((b.rotor.0.get::<millimeter>() + 51.5).abs() < 1e-9);
    }

    #[test]
    fn what_is_no_wheel_and_no_brake_is_refused_by_name() {
        for (i, bad, name) in [
            (0, 390.0, "inside of the barrel"),
            (6, 171.0, "hub bore"),
            (5, 320.0, "mounting pad"),
            (3, -200.0, "inner edge of the barrel from the hub face"),
            (4, 95.0, "clear depth of the disc"),
        ] {
            let mut a = WHEEL;
            a[i] = bad;
            refuses(wheel(a), name);
        }
        for (i, bad, name) in [
            (4, 340.0, "rotor diameter"),
            (3, 20.0, "inside of the caliper, which must reach down over the rotor"),
            (5, 106.0, "rotor thickness"),
        ] {
            let mut a = BRAKE;
            a[i] = bad;
            refuses(brake(a), name);
        }
        for bad in REFUSED {
            let mut a = WHEEL;
            a[0] = bad;
            refuses(wheel(a), "inside of the barrel");
            let mut a = BRAKE;
            a[0] = bad;
            refuses(brake(a), "caliper envelope diameter");
        }
    }

    #[test]
    fn a_measured_outline_may_begin_at_either_end() {
        let w = wheel(WHEEL).map(|w| w.profile).unwrap_or_default();
        let mut turned = w.clone();
        turned.reverse();
        assert_eq!(from_lip_to_bore(turned), w);
        assert_eq!(from_lip_to_bore(w.clone()), w);
        assert!(from_lip_to_bore(Vec::new()).is_empty());
    }

    proptest! {
        #[test]
        fn any_numbers_are_refused_or_make_an_outline(a in any::<[f64; 7]>(), b in any::<[f64; 6]>()) {
            let sound = |p: &[ProfilePoint]| p.iter().all(|p| p.z.is_finite() && p.r.get::<millimeter>() >= 0.0);
            prop_assert!(wheel(a).map_or(true, |w| sound(&w.profile)));
            prop_assert!(brake(b).map_or(true, |b| sound(&b.profile)));
        }
    }
}
