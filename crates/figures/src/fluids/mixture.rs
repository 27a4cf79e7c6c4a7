//! Strength of a coolant: mixing it, draining some and topping up (balance of volumes).

use uom::si::f64::Volume;
use uom::si::volume::liter;

use crate::error::{Expected, FigureError};
use crate::range::Range;

const CAPACITY: Range = Range::new(0.1, 1_000.0, "L");
const SHARE: Range = Range::new(0.0, 1.0, "");
const DRAINED: Range = Range::new(0.0, 1_000.0, "L");

/// A little less than any measure shows: shares and volumes this close are one.
const HAIR: f64 = 1e-9;

/// Concentrate and water for a filling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Filling {
    /// Undiluted concentrate.
    pub concentrate: Volume,
    /// Soft or deionised water.
    pub water: Volume,
}

/// Concentrate and water for an empty system: `capacity * wanted / strength`, and the rest.
///
/// * `capacity`: 0.1 to 1,000 L.
/// * `wanted`: share in the system, 0 to 1; 0.5 for most climates.
/// * `strength`: share in the concentrate as sold, above 0 up to 1, no less than `wanted`.
///
/// Water that flushing left in the block counts as water: see [`top_up`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range, or the concentrate is weaker than what is wanted.
///
/// Source: balance of volumes; half and half shrinks by 1.6 % as it is mixed, which a top-up covers.
pub fn fill(capacity: Volume, wanted: f64, strength: f64) -> Result<Filling, FigureError> {
    CAPACITY.check("capacity", capacity.get::<liter>())?;
    let wanted = SHARE.check("share wanted", wanted)?;
    let strength = Range::new(1e-3, 1.0, "").check("strength of the concentrate", strength)?;
    if wanted > strength + HAIR {
        let expected = Expected::Below { limit: strength, unit: "" };
        return Err(FigureError { quantity: "share wanted", found: wanted, expected });
    }
    let concentrate = capacity * (wanted / strength).min(1.0);
    Ok(Filling { concentrate, water: capacity - concentrate })
}

/// Share after some was drained and replaced: `now + drained / capacity (top_up - now)`.
///
/// * `capacity`: 0.1 to 1,000 L.
/// * `now`: share in the system, 0 to 1.
/// * `drained`: 0 L to the capacity, replaced by as much.
/// * `top_up`: share in what goes in, 0 to 1; 0 is water, 1 undiluted.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range, or more is drained than there is.
///
/// Source: balance of volumes, the coolant well mixed before it is drained.
pub fn share_after(capacity: Volume, now: f64, drained: Volume, top_up: f64) -> Result<f64, FigureError> {
    let litres = CAPACITY.check("capacity", capacity.get::<liter>())?;
    let now = SHARE.check("share in the system", now)?;
    let top_up = SHARE.check("share in the top-up", top_up)?;
    let drained = DRAINED.check("volume drained", drained.get::<liter>())?;
    if drained > litres * (1.0 + HAIR) {
        let expected = Expected::Below { limit: litres, unit: "L" };
        return Err(FigureError { quantity: "volume drained", found: drained, expected });
    }
    Ok(now + (drained / litres).min(1.0) * (top_up - now))
}

/// Volume to drain and replace so that a share is reached: `capacity (wanted - now) / (top_up - now)`.
///
/// * `capacity`: 0.1 to 1,000 L.
/// * `now`, `wanted`, `top_up`: shares in the system, wanted, and in what goes in, 0 to 1.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range, or the top-up cannot bring the share there: it must not lie on
/// this side of it.
///
/// Source: [`share_after`], solved for the volume.
pub fn top_up(capacity: Volume, now: f64, wanted: f64, top_up: f64) -> Result<Volume, FigureError> {
    CAPACITY.check("capacity", capacity.get::<liter>())?;
    let now = SHARE.check("share in the system", now)?;
    let wanted = SHARE.check("share wanted", wanted)?;
    let top_up = SHARE.check("share in the top-up", top_up)?;
    let (way, reach) = (wanted - now, top_up - now);
    if way.abs() <= HAIR {
        return Ok(capacity * 0.0);
    }
    let part = way / reach;
    if part.is_finite() && (0.0..=1.0 + HAIR).contains(&part) {
        return Ok(capacity * part.min(1.0));
    }
    let expected = if way > 0.0 {
        Expected::Between { low: wanted, high: 1.0, unit: "" }
    } else {
        Expected::Between { low: 0.0, high: wanted, unit: "" }
    };
    Err(FigureError { quantity: "share in the top-up", found: top_up, expected })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{close, refuses};

    fn litres(value: f64) -> Volume {
        Volume::new::<liter>(value)
    }

    fn filled(capacity: f64, wanted: f64, strength: f64) -> Result<(f64, f64), FigureError> {
        fill(litres(capacity), wanted, strength)
            .map(|f| (f.concentrate.get::<liter>(), f.water.get::<liter>()))
    }

    fn after(capacity: f64, now: f64, drained: f64, share: f64) -> Result<f64, FigureError> {
        share_after(litres(capacity), now, litres(drained), share)
    }

    fn drain(capacity: f64, now: f64, wanted: f64, share: f64) -> Result<f64, FigureError> {
        top_up(litres(capacity), now, wanted, share).map(|v| v.get::<liter>())
    }

    #[test]
    fn fillings() {
        // balance by hand: 15.1 L and the heater's 1 L, half and half: 8.05 L of each
        close(filled(16.1, 0.5, 1.0).map(|f| f.0), 8.05, 1e-12);
        close(filled(16.1, 0.5, 1.0).map(|f| f.1), 8.05, 1e-12);
        // a concentrate with 5 % of other things
        close(filled(6.0, 0.5, 0.95).map(|f| f.0), 6.0 * 0.5 / 0.95, 1e-12);
        assert_eq!(filled(6.0, 0.0, 1.0), Ok((0.0, 6.0)));
        assert_eq!(filled(6.0, 1.0, 1.0), Ok((6.0, 0.0)));
        refuses(filled(6.0, 0.5, 0.33), "share wanted");
    }

    #[test]
    fn the_mixture_shrinks_a_little() {
        // by a general-purpose library: 20 degC: 1,073.34785899 kg/m3, and of its two parts
        // (cooling.glycol50_composition) 998.207150468 and 1,113.37130353: the balance of volumes is 1.6 % high
        let parts = f64::midpoint(998.207_150_468, 1_113.371_303_53);
        close(Ok(1_073.347_858_99 / parts), 1.016_6, 1e-4);
    }

    #[test]
    fn topping_up() {
        // balance by hand: 6 L at 25 %, 2 L drained, neat: (4 * 0.25 + 2) / 6 = 0.5
        close(after(6.0, 0.25, 2.0, 1.0), 0.5, 1e-12);
        close(drain(6.0, 0.25, 0.5, 1.0), 2.0, 1e-12);
        // thinned with water: 6 L at 75 %, to 50 %, a third out
        close(drain(6.0, 0.75, 0.5, 0.0), 2.0, 1e-12);
        // 10 L of plain water left by flushing, neat in: half of it out
        close(drain(10.0, 0.0, 0.5, 1.0), 5.0, 1e-12);
        // ready-mixed half and half brings an empty share nowhere beyond itself
        refuses(drain(10.0, 0.25, 0.6, 0.5), "share in the top-up");
        refuses(drain(10.0, 0.5, 0.6, 0.5), "share in the top-up");
        refuses(drain(10.0, 0.5, 0.4, 0.9), "share in the top-up");
        assert_eq!(drain(10.0, 0.5, 0.5, 0.5), Ok(0.0));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in [f64::NAN, f64::INFINITY, -0.1, 1.1, 50.0] {
            refuses(filled(6.0, bad, 1.0), "share wanted");
            refuses(filled(6.0, 0.5, bad), "strength of the concentrate");
            refuses(after(6.0, bad, 2.0, 1.0), "share in the system");
            refuses(after(6.0, 0.25, 2.0, bad), "share in the top-up");
            refuses(drain(6.0, bad, 0.5, 1.0), "share in the system");
            refuses(drain(6.0, 0.25, bad, 1.0), "share wanted");
            refuses(drain(6.0, 0.25, 0.5, bad), "share in the top-up");
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 1e6] {
            refuses(filled(bad, 0.5, 1.0), "capacity");
            refuses(after(bad, 0.25, 2.0, 1.0), "capacity");
            refuses(drain(bad, 0.25, 0.5, 1.0), "capacity");
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 6.1] {
            refuses(after(6.0, 0.25, bad, 1.0), "volume drained");
        }
    }

    proptest! {
        #[test]
        fn draining_what_was_asked_gives_the_share(
            capacity in 1.0..50.0, now in 0.0..1.0, top in 0.0..1.0, part in 0.0..1.0,
        ) {
            let wanted = now + part * (top - now);
            let out = drain(capacity, now, wanted, top).unwrap_or(f64::NAN);
            prop_assert!((0.0..=capacity * (1.0 + 1e-9)).contains(&out));
            prop_assert!((after(capacity, now, out, top).unwrap_or(f64::NAN) - wanted).abs() < 1e-8);
        }

        #[test]
        fn a_filling_is_the_capacity(capacity in 1.0..50.0, wanted in 0.0..0.9, strength in 0.9..1.0) {
            let (concentrate, water) = filled(capacity, wanted, strength).unwrap_or((f64::NAN, 0.0));
            prop_assert!((concentrate + water - capacity).abs() < 1e-9 && water >= 0.0);
            prop_assert!((concentrate * strength / capacity - wanted).abs() < 1e-9);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>()) {
            prop_assert!(after(a, b, c, d).map_or(true, |s| (0.0..=1.0).contains(&s)));
            prop_assert!(drain(a, b, c, d).map_or(true, |v| v.is_finite() && v >= 0.0));
        }
    }
}
