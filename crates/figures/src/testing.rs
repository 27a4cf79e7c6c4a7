//! What the tests of this crate share: closeness, and numbers that are no quantities.

use crate::error::FigureError;

/// Numbers every figure must refuse for every argument.
pub(crate) const REFUSED: [f64; 7] =
    [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -0.0, -1.0, f64::MIN_POSITIVE];

/// Unwraps a result and compares it with a check value, to a relative tolerance.
#[track_caller]
#[allow(clippy::panic, reason = "tests only")]
pub(crate) fn close(found: Result<f64, FigureError>, expected: f64, relative: f64) {
    match found {
        Ok(found) => {
            let off = ((found - expected) / expected).abs();
            assert!(
                off <= relative,
                "found {found}, expected {expected}, off by {off:e} of {relative:e} allowed"
            );
        }
        Err(error) => panic!("{error}"),
    }
}

/// Asserts that a result was refused because of the named quantity.
#[track_caller]
pub(crate) fn refuses<T: std::fmt::Debug>(found: Result<T, FigureError>, quantity: &str) {
    assert_eq!(found.map_err(|e| e.quantity.to_owned()).err().as_deref(), Some(quantity));
}

/// A result is either a refusal or a finite, positive number.
pub(crate) fn sound(found: Result<f64, FigureError>) -> bool {
    found.map_or(true, |v| v.is_finite() && v > 0.0)
}
