//! Freezing point of water with ethylene glycol, and the share that a frost asks for (ASHRAE; CoolProp).

use uom::si::f64::ThermodynamicTemperature;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::error::FigureError;
use crate::range::Range;

/// Freezing point in C by the share of ethylene glycol by volume.
///
/// Source: ASHRAE Handbook, Fundamentals, aqueous solutions of ethylene glycol, in the fit of CoolProp 8.0.0 (AEG), which
/// begins at 0.10. Beyond 0.6 the mixture freezes sooner again.
const FREEZING: [(f64, f64); 12] = [
    (0.0, 0.0),
    (0.10, -3.619),
    (0.15, -6.152),
    (0.20, -8.976),
    (0.25, -12.119),
    (0.30, -15.700),
    (0.35, -19.877),
    (0.40, -24.795),
    (0.45, -30.544),
    (0.50, -37.115),
    (0.55, -44.369),
    (0.60, -52.020),
];

const SHARE: Range = Range::new(0.0, 0.6, "");
const FROST: Range = Range::new(-52.02, 0.0, "C");

/// Temperature at which the first ice forms, by straight lines between the points of the table.
///
/// * `glycol_share`: by volume, 0 to 0.6. Under 0.33 it protects too little against rust as well (common practice).
///
/// Slush forms first: a block cracks some kelvin lower. Between the points the lines lie within 0.2 K.
///
/// # Errors
/// [`FigureError`] if the share is out of its range.
///
/// Source: ASHRAE Handbook, Fundamentals; CoolProp 8.0.0.
pub fn freezing_point(glycol_share: f64) -> Result<ThermodynamicTemperature, FigureError> {
    let share = SHARE.check("glycol share", glycol_share)?;
    let celsius = between(&FREEZING, share, |point| point);
    Ok(ThermodynamicTemperature::new::<degree_celsius>(celsius))
}

/// Least share of glycol that stays free of ice down to a frost, the inverse of [`freezing_point`].
///
/// * `frost`: lowest temperature, -52.02 to 0 C.
///
/// # Errors
/// [`FigureError`] if the temperature is out of its range.
///
/// Source: as for [`freezing_point`].
pub fn share_for(frost: ThermodynamicTemperature) -> Result<f64, FigureError> {
    let frost = FROST.check("frost", frost.get::<degree_celsius>())?;
    Ok(between(&FREEZING, -frost, |(share, celsius)| (-celsius, share)))
}

/// Straight lines between points, of which `turn` makes pairs of a rising place and its value.
fn between(points: &[(f64, f64)], place: f64, turn: impl Fn((f64, f64)) -> (f64, f64)) -> f64 {
    let mut value = points.first().map_or(0.0, |p| turn(*p).1);
    for pair in points.windows(2) {
        let [low, high] = pair else { continue };
        let ((x_0, y_0), (x_1, y_1)) = (turn(*low), turn(*high));
        if place >= x_0 {
            value = y_0 + (y_1 - y_0) * ((place - x_0) / (x_1 - x_0)).min(1.0);
        }
    }
    value
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::refuses;

    fn celsius(share: f64) -> Result<f64, FigureError> {
        freezing_point(share).map(|t| t.get::<degree_celsius>())
    }

    fn share(celsius: f64) -> Result<f64, FigureError> {
        share_for(ThermodynamicTemperature::new::<degree_celsius>(celsius))
    }

    #[track_caller]
    fn near(found: Result<f64, FigureError>, expected: f64, within: f64) {
        assert!(found.is_ok_and(|f| (f - expected).abs() <= within), "{found:?} against {expected}");
    }

    #[test]
    fn freezing_points() {
        // by a general-purpose library: 50 % v/v ethylene glycol, whose page names a car maker's
        // service text with -37 C beside it
        near(celsius(0.5), -37.114_917_542_5, 0.001);
        near(celsius(0.5), -37.0, 0.2);
        // CoolProp 8.0.0, AEG, between the points
        for (share, freezing) in [
            (0.125, -4.846),
            (0.175, -7.528),
            (0.225, -10.502),
            (0.275, -13.846),
            (0.325, -17.704),
            (0.33, -18.125),
            (0.375, -22.236),
            (0.425, -27.564),
            (0.475, -33.732),
            (0.525, -40.671),
            (0.575, -48.169),
        ] {
            near(celsius(share), freezing, 0.2);
        }
        // common practice: half and half is good to -37 C, -20 C is the least for a cold climate
        near(share(-37.0), 0.5, 0.002);
        near(share(-20.0), 0.35, 0.01);
        assert_eq!(share(0.0), Ok(0.0));
        assert_eq!(celsius(0.0), Ok(0.0));
    }

    #[test]
    fn refuses_what_is_no_share() {
        for bad in [f64::NAN, f64::INFINITY, -0.01, 0.61, 50.0] {
            refuses(celsius(bad), "glycol share");
        }
        for bad in [f64::NAN, f64::INFINITY, 0.1, -53.0] {
            refuses(share(bad), "frost");
        }
    }

    proptest! {
        #[test]
        fn share_and_frost_undo_each_other(given in 0.0..0.6) {
            prop_assert!((celsius(given).and_then(share).unwrap_or(f64::NAN) - given).abs() < 1e-9);
        }

        #[test]
        fn more_glycol_freezes_later(given in 0.0..0.59, more in 0.0001..0.01) {
            prop_assert!(celsius(given + more).unwrap_or(f64::NAN) < celsius(given).unwrap_or(f64::NAN));
        }
    }
}
