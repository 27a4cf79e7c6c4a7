//! Bolt circle of a wheel from the spacing of its studs (chords of a circle).

use std::f64::consts::PI;

use uom::si::f64::Length;
use uom::si::length::millimeter;

use crate::error::FigureError;
use crate::range::Range;

const STUDS: Range = Range::new(3.0, 8.0, "studs");
const SPACING: Range = Range::new(20.0, 500.0, "mm");
const CIRCLE: Range = Range::new(40.0, 500.0, "mm");

/// Bolt circle from the distance of two studs that are neighbours: `spacing / sin(pi / studs)`.
///
/// * `studs`: 3 to 8.
/// * `spacing`: from centre to centre, 20 to 500 mm; from edge to edge on the same side is the same.
///
/// Half a millimetre of reading becomes 0.85 mm on the circle of five studs.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: chord of a circle.
pub fn bolt_circle(studs: u32, spacing: Length) -> Result<Length, FigureError> {
    let half_angle = half_angle(studs)?;
    SPACING.check("stud spacing", spacing.get::<millimeter>())?;
    Ok(spacing / half_angle.sin())
}

/// Bolt circle from the distance of two studs with one between them: `spacing / sin(2 pi / studs)`.
///
/// For five studs the surest measure, for four it is the circle itself, for three the same as the neighbour.
///
/// * `studs`: 3 to 8.
/// * `spacing`: from centre to centre, 20 to 500 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: chord of a circle.
pub fn bolt_circle_from_skip_one(studs: u32, spacing: Length) -> Result<Length, FigureError> {
    let half_angle = half_angle(studs)?;
    SPACING.check("stud spacing", spacing.get::<millimeter>())?;
    Ok(spacing / (2.0 * half_angle).sin())
}

/// Distance of two neighbouring studs: `circle sin(pi / studs)`; the reverse of [`bolt_circle`].
///
/// * `studs`: 3 to 8.
/// * `circle`: diameter of the bolt circle, 40 to 500 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: chord of a circle.
pub fn adjacent_spacing(studs: u32, circle: Length) -> Result<Length, FigureError> {
    let half_angle = half_angle(studs)?;
    CIRCLE.check("bolt circle", circle.get::<millimeter>())?;
    Ok(circle * half_angle.sin())
}

/// Distance of two studs with one between them: `circle sin(2 pi / studs)`.
///
/// * `studs`: 3 to 8.
/// * `circle`: diameter of the bolt circle, 40 to 500 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: chord of a circle.
pub fn skip_one_spacing(studs: u32, circle: Length) -> Result<Length, FigureError> {
    let half_angle = half_angle(studs)?;
    CIRCLE.check("bolt circle", circle.get::<millimeter>())?;
    Ok(circle * (2.0 * half_angle).sin())
}

fn half_angle(studs: u32) -> Result<f64, FigureError> {
    Ok(PI / STUDS.check("number of studs", f64::from(studs))?)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    type Figure = fn(u32, Length) -> Result<Length, FigureError>;

    fn of(figure: Figure, studs: u32, mm: f64) -> Result<f64, FigureError> {
        figure(studs, Length::new::<millimeter>(mm)).map(|l| l.get::<millimeter>())
    }

    #[test]
    fn circles_against_stud_coordinates() {
        // stud coordinates in the complex plane, mm
        for (studs, circle, adjacent, skip) in [
            (4, 100.0, 70.710_678_118_7, 100.0),
            (5, 114.3, 67.183_854_337, 108.705_759_813),
            (5, 139.7, 82.113_599_745_3, 132.862_595_326),
            (8, 165.1, 63.181_034_683_5, 116.743_329_574),
        ] {
            close(of(bolt_circle, studs, adjacent), circle, 1e-9);
            close(of(bolt_circle_from_skip_one, studs, skip), circle, 1e-9);
            close(of(adjacent_spacing, studs, circle), adjacent, 1e-9);
            close(of(skip_one_spacing, studs, circle), skip, 1e-9);
        }
    }

    #[test]
    fn ratios_of_circle_and_spacing() {
        // tier N: pcd_over_adjacent_chord of 4, 5 and 8 studs; 3 and 6 by geometry: 2/sqrt 3 and 2
        for (studs, ratio) in [
            (3, 1.154_700_538_379),
            (4, std::f64::consts::SQRT_2),
            (5, 1.701_301_616_7),
            (6, 2.0),
            (8, 2.613_125_929_75),
        ] {
            close(of(bolt_circle, studs, 80.0).map(|c| c / 80.0), ratio, 1e-9);
        }
        // an example vehicle: 5 x 4.5 in and 6 x 5.5 in in inches and millimetres: the six is half its circle apart
        close(of(adjacent_spacing, 6, 139.7), 69.85, 1e-12);
        // with four studs the one across is the circle, with three every stud is a neighbour
        close(of(skip_one_spacing, 4, 114.3), 114.3, 1e-12);
        close(of(skip_one_spacing, 3, 120.0), of(adjacent_spacing, 3, 120.0).unwrap_or(f64::NAN), 1e-12);
        // how_verified of wheel.pcd: half a millimetre of reading is 0.85 mm on the circle of five
        let off = of(bolt_circle, 5, 67.683_854_337).map(|c| c - 114.3);
        close(off, 0.85, 2e-3);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for figure in [bolt_circle, bolt_circle_from_skip_one, adjacent_spacing, skip_one_spacing] {
            for studs in [0, 1, 2, 9, u32::MAX] {
                refuses(of(figure, studs, 100.0), "number of studs");
            }
        }
        for bad in REFUSED {
            refuses(of(bolt_circle, 5, bad), "stud spacing");
            refuses(of(bolt_circle_from_skip_one, 5, bad), "stud spacing");
            refuses(of(adjacent_spacing, 5, bad), "bolt circle");
            refuses(of(skip_one_spacing, 5, bad), "bolt circle");
        }
    }

    proptest! {
        #[test]
        fn circle_and_spacing_undo_each_other(studs in 3_u32..=8, circle in 60.0..400.0) {
            let back = of(adjacent_spacing, studs, circle).and_then(|s| of(bolt_circle, studs, s));
            prop_assert!(back.is_ok_and(|b| (b - circle).abs() < 1e-9));
            let back = of(skip_one_spacing, studs, circle).and_then(|s| of(bolt_circle_from_skip_one, studs, s));
            prop_assert!(back.is_ok_and(|b| (b - circle).abs() < 1e-9));
        }

        #[test]
        fn more_studs_stand_closer(studs in 3_u32..8, circle in 60.0..400.0) {
            let spacing = |n| of(adjacent_spacing, n, circle).unwrap_or(f64::NAN);
            prop_assert!(spacing(studs) > spacing(studs + 1));
            prop_assert!(of(skip_one_spacing, studs, circle).is_ok_and(|s| s <= circle * (1.0 + 1e-12)));
        }
    }
}
