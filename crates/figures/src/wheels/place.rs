//! Where a wheel stands on its hub: offset, backspacing, spacers, and what they do to track and scrub radius (ISO 3911).

use uom::si::angle::degree;
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use crate::error::FigureError;
use crate::range::Range;

/// Thickness of one rim flange beyond the bead seat, 12.7 mm: what an overall width has more than the nominal one, on
/// each side.
///
/// Source: convention of the trade, from memory; real flanges are 5 to 15 mm, so measure the wheel.
pub const USUAL_LIP_MM: f64 = 12.7;

const RIM_WIDTH: Range = Range::new(40.0, 600.0, "mm");
const WIDTH: Range = Range::new(40.0, 700.0, "mm");
const LIP: Range = Range::new(0.0, 40.0, "mm");
const OFFSET: Range = Range::new(-300.0, 300.0, "mm");
const BACKSPACING: Range = Range::new(-250.0, 650.0, "mm");
const SPACER: Range = Range::new(0.0, 200.0, "mm");
const RADIUS_CHANGE: Range = Range::new(-500.0, 500.0, "mm");
const INCLINATION: Range = Range::new(-5.0, 30.0, "°");

/// A wheel on its hub.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelPlace {
    /// What is looked at: overall width of the rim, or section width of the tyre if that is wider, 40 to 700 mm.
    pub width: Length,
    /// Mounting face outboard of the middle of the rim is positive, -300 to 300 mm.
    pub offset: Length,
    /// Spacer between hub and wheel, 0 to 200 mm.
    pub spacer: Length,
}

/// What changes on one side of the axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    /// The inner edge comes nearer to the middle of the vehicle by this; negative is further out.
    pub inner_edge_in: Length,
    /// The outer edge goes further out by this; negative is further in.
    pub outer_edge_out: Length,
    /// The track grows by this with the same change on both sides.
    pub track: Length,
}

/// Width of a wheel from lip to lip: `rim width + 2 lip`.
///
/// * `rim_width`: nominal, between the bead seats, 40 to 600 mm.
/// * `lip`: thickness of one flange, 0 to 40 mm; [`USUAL_LIP_MM`] where it was not measured.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition of the nominal width, ISO 3911.
pub fn overall_width(rim_width: Length, lip: Length) -> Result<Length, FigureError> {
    RIM_WIDTH.check("rim width", rim_width.get::<millimeter>())?;
    LIP.check("rim flange thickness", lip.get::<millimeter>())?;
    Ok(rim_width + 2.0 * lip)
}

/// Distance from the inner lip to the mounting face: `(rim width + 2 lip) / 2 + offset`.
///
/// * `rim_width`: nominal, between the bead seats, 40 to 600 mm.
/// * `lip`: thickness of one flange, 0 to 40 mm.
/// * `offset`: mounting face outboard of the middle is positive, -300 to 300 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definitions of ISO 3911.
pub fn backspacing(rim_width: Length, lip: Length, offset: Length) -> Result<Length, FigureError> {
    let overall = overall_width(rim_width, lip)?;
    OFFSET.check("wheel offset", offset.get::<millimeter>())?;
    Ok(overall / 2.0 + offset)
}

/// Offset of a wheel from a measured backspacing: the reverse of [`backspacing`].
///
/// * `rim_width`: nominal, between the bead seats, 40 to 600 mm.
/// * `lip`: thickness of one flange, 0 to 40 mm.
/// * `backspacing`: from a straight edge across the inner lip to the mounting face, -250 to 650 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definitions of ISO 3911.
pub fn offset_from_backspacing(
    rim_width: Length,
    lip: Length,
    backspacing: Length,
) -> Result<Length, FigureError> {
    let overall = overall_width(rim_width, lip)?;
    BACKSPACING.check("backspacing", backspacing.get::<millimeter>())?;
    Ok(backspacing - overall / 2.0)
}

/// What changing from one wheel to another moves.
///
/// The edges lie `width / 2 + offset - spacer` inboard and `width / 2 - offset + spacer` outboard of the hub face; the
/// track grows by twice what offset and spacer move the middle outward.
///
/// * `from`, `to`: both within the ranges of [`WheelPlace`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry.
pub fn moved(from: WheelPlace, to: WheelPlace) -> Result<Move, FigureError> {
    let (was, is) = (from.middle_out()?, to.middle_out()?);
    let out = is - was;
    let wider = (to.width - from.width) / 2.0;
    Ok(Move { inner_edge_in: wider - out, outer_edge_out: wider + out, track: 2.0 * out })
}

impl WheelPlace {
    /// How far the middle of the wheel lies outboard of the hub face.
    fn middle_out(&self) -> Result<Length, FigureError> {
        WIDTH.check("wheel or tyre width", self.width.get::<millimeter>())?;
        OFFSET.check("wheel offset", self.offset.get::<millimeter>())?;
        SPACER.check("wheel spacer", self.spacer.get::<millimeter>())?;
        Ok(self.spacer - self.offset)
    }
}

/// How much the scrub radius grows outward: `(half the growth of the track) - (growth of the tyre radius) tan(inclination)`.
///
/// * `change`: see [`moved`].
/// * `radius_change`: growth of the loaded radius of the tyre, -500 to 500 mm; the axle rises with it.
/// * `kingpin_inclination`: lean of the steering axis seen from the front, top inward positive, -5 to 30 deg.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry: the point where the steering axis meets the road moves out as the axle rises.
pub fn scrub_radius_change(
    change: Move,
    radius_change: Length,
    kingpin_inclination: Angle,
) -> Result<Length, FigureError> {
    TRACK_CHANGE.check("track change", change.track.get::<millimeter>())?;
    RADIUS_CHANGE.check("tyre radius change", radius_change.get::<millimeter>())?;
    let lean = INCLINATION.check("kingpin inclination", kingpin_inclination.get::<degree>())?;
    Ok(change.track / 2.0 - radius_change * lean.to_radians().tan())
}

const TRACK_CHANGE: Range = Range::new(-2_000.0, 2_000.0, "mm");

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::length::inch;

    use super::*;
    use crate::testing::{close, refuses};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn back(inches: f64, offset: f64) -> Result<Length, FigureError> {
        backspacing(Length::new::<inch>(inches), mm(USUAL_LIP_MM), mm(offset))
    }

    fn at(width: f64, offset: f64, spacer: f64) -> WheelPlace {
        WheelPlace { width: mm(width), offset: mm(offset), spacer: mm(spacer) }
    }

    fn change(from: WheelPlace, to: WheelPlace) -> Result<[f64; 3], FigureError> {
        moved(from, to).map(|m| [m.inner_edge_in, m.outer_edge_out, m.track].map(|l| l.get::<millimeter>()))
    }

    fn scrub(track: f64, radius: f64, lean: f64) -> Result<f64, FigureError> {
        let change = Move { inner_edge_in: mm(0.0), outer_edge_out: mm(0.0), track: mm(track) };
        scrub_radius_change(change, mm(radius), Angle::new::<degree>(lean)).map(|l| l.get::<millimeter>())
    }

    #[test]
    fn backspacings() {
        // arithmetic of the definition, rim in, offset mm, backspacing mm and in
        for (rim, offset, found_mm, found_in) in [
            (7.0, 0.0, 101.6, 4.0),
            (8.0, -19.0, 95.3, 3.751_968_503_94),
            (10.0, -44.0, 95.7, 3.767_716_535_43),
        ] {
            close(back(rim, offset).map(|b| b.get::<millimeter>()), found_mm, 1e-9);
            close(back(rim, offset).map(|b| b.get::<inch>()), found_in, 1e-9);
        }
        // pitfall of the references: forgetting the two lips is off by 12.7 mm
        let bare = backspacing(Length::new::<inch>(7.0), mm(0.0), mm(0.0)).map(|b| b.get::<millimeter>());
        close(bare, 101.6 - 12.7, 1e-9);
        close(overall_width(Length::new::<inch>(7.0), mm(USUAL_LIP_MM)).map(|w| w.get::<inch>()), 8.0, 1e-12);
    }

    #[test]
    fn spacers() {
        // arithmetic of the definition: 25 mm each side: track +50, offset 10 to -15, scrub +25
        let spaced = change(at(200.0, 10.0, 0.0), at(200.0, 10.0, 25.0));
        assert_eq!(spaced, Ok([-25.0, 25.0, 50.0]));
        assert_eq!(spaced, change(at(200.0, 10.0, 0.0), at(200.0, -15.0, 0.0)));
        close(scrub(50.0, 0.0, 8.0), 25.0, 1e-12);
    }

    #[test]
    fn trade_wheel_change() {
        // an example vehicle: tyre 6.00 in on ET +25 to 10.50 in on ET 0: by hand, track +50 mm,
        // inner edge 32.15 mm nearer, outer edge 82.15 mm further out
        let found = change(at(152.4, 25.0, 0.0), at(266.7, 0.0, 0.0));
        close(found.map(|m| m[0]), 32.15, 1e-9);
        close(found.map(|m| m[1]), 82.15, 1e-9);
        close(found.map(|m| m[2]), 50.0, 1e-9);
        // 5 in to 6 in rim of the same offset: half an inch each way
        let rims = change(at(152.4, 0.0, 0.0), at(177.8, 0.0, 0.0));
        assert_eq!(rims.map(|m| m.map(|v| (v * 10.0).round())), Ok([127.0, 127.0, 0.0]));
    }

    #[test]
    fn scrub_radius_with_a_taller_tyre() {
        // by hand: 29 mm more radius under 8 degrees takes 29 tan 8 = 4.0757 mm away
        close(scrub(0.0, 29.0, 8.0), -4.075_683_7, 1e-6);
        close(scrub(50.0, 29.0, 8.0), 20.924_316_3, 1e-6);
        // an upright axis does not care
        close(scrub(50.0, 29.0, 0.0), 25.0, 1e-12);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e9, 1e9] {
            refuses(overall_width(mm(bad), mm(12.7)), "rim width");
            refuses(overall_width(mm(180.0), mm(bad)), "rim flange thickness");
            refuses(backspacing(mm(180.0), mm(12.7), mm(bad)), "wheel offset");
            refuses(offset_from_backspacing(mm(180.0), mm(12.7), mm(bad)), "backspacing");
            refuses(moved(at(bad, 0.0, 0.0), at(200.0, 0.0, 0.0)), "wheel or tyre width");
            refuses(moved(at(200.0, 0.0, 0.0), at(200.0, bad, 0.0)), "wheel offset");
            refuses(moved(at(200.0, 0.0, bad), at(200.0, 0.0, 0.0)), "wheel spacer");
            refuses(scrub(bad, 0.0, 8.0), "track change");
            refuses(scrub(50.0, bad, 8.0), "tyre radius change");
            refuses(scrub(50.0, 0.0, bad), "kingpin inclination");
        }
        refuses(overall_width(mm(0.0), mm(12.7)), "rim width");
        refuses(moved(at(200.0, 0.0, -5.0), at(200.0, 0.0, 0.0)), "wheel spacer");
    }

    proptest! {
        #[test]
        fn offset_and_backspacing_undo_each_other(rim in 50.0..400.0, lip in 0.0..20.0, offset in -100.0..100.0) {
            let there = backspacing(mm(rim), mm(lip), mm(offset));
            let back = there.and_then(|b| offset_from_backspacing(mm(rim), mm(lip), b));
            prop_assert!(back.is_ok_and(|b| (b.get::<millimeter>() - offset).abs() < 1e-9));
        }

        #[test]
        fn a_spacer_is_an_offset_the_other_way(width in 100.0..400.0, offset in -50.0..50.0, spacer in 0.0..50.0) {
            let from = at(200.0, 0.0, 0.0);
            let (spaced, plain) = (change(from, at(width, offset, spacer)), change(from, at(width, offset - spacer, 0.0)));
            for (a, b) in spaced.unwrap_or_default().iter().zip(plain.unwrap_or([f64::NAN; 3])) {
                prop_assert!((a - b).abs() < 1e-9);
            }
        }

        #[test]
        fn changing_there_and_back_changes_nothing(w in 100.0..400.0, o in -50.0..50.0, s in 0.0..50.0) {
            let (a, b) = (at(200.0, 10.0, 5.0), at(w, o, s));
            let (there, back) = (change(a, b).unwrap_or([f64::NAN; 3]), change(b, a).unwrap_or([f64::NAN; 3]));
            prop_assert!(there.iter().zip(back).all(|(x, y)| (x + y).abs() < 1e-9));
            // what the edges move apart is the width gained
            prop_assert!((there[0] + there[1] - (w - 200.0)).abs() < 1e-9);
        }
    }
}
