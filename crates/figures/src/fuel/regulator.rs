//! A pressure regulator before the carburettor: what is left after it, and what to set it to.

use uom::si::f64::Pressure;
use uom::si::pressure::kilopascal;

use super::pressure::{PressureFit, Window, fit};
use crate::error::FigureError;
use crate::range::Range;

const SET: Range = Range::new(0.1, 1_000.0, "kPa");

/// What arrives behind a regulator: it takes away what is over its setting and adds nothing.
///
/// * `arrives`: before the regulator, see [`super::pressure::at_carburettor`].
/// * `set`: 0.1 to 1,000 kPa.
///
/// What a regulator lets creep by with the float valve shut is not counted; a gauge tells.
///
/// # Errors
/// [`FigureError`] if the setting is out of its range.
///
/// Source: definition.
pub fn regulated(arrives: Window, set: Pressure) -> Result<Window, FigureError> {
    SET.check("setting of the regulator", set.get::<kilopascal>())?;
    let most = |p: Pressure| if p < set { p } else { set };
    Ok(Window { low: most(arrives.low), high: most(arrives.high) })
}

/// Setting that suits the carburettor, within what a regulator can be set to; `None` if none does.
///
/// * `arrives`: before the regulator.
/// * `accepted`: what the carburettor takes, 0.1 to 1,000 kPa.
/// * `range`: what the regulator can be set to, 0.1 to 1,000 kPa.
///
/// The setting of [`fit`], or the nearest to it that the regulator reaches.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range or a window stands on its head.
///
/// Source: definition; the middle of what the carburettor takes is common practice.
pub fn setting(arrives: Window, accepted: Window, range: Window) -> Result<Option<Pressure>, FigureError> {
    SET.check("lowest setting of the regulator", range.low.get::<kilopascal>())?;
    SET.check("highest setting of the regulator", range.high.get::<kilopascal>())?;
    let wanted = match fit(arrives, accepted)? {
        PressureFit::WantsRegulator { set } => set,
        // it does no harm where none is wanted
        PressureFit::Suits => (accepted.low + accepted.high) / 2.0,
        PressureFit::TooLow { .. } | PressureFit::WantsOtherPump { .. } => return Ok(None),
    };
    let set = if wanted < range.low {
        range.low
    } else if wanted > range.high {
        range.high
    } else {
        wanted
    };
    Ok((set >= accepted.low && set <= accepted.high).then_some(set))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::pressure::psi;

    use super::*;
    use crate::testing::{REFUSED, refuses};

    fn of(value: f64) -> Pressure {
        Pressure::new::<psi>(value)
    }

    fn window(low: f64, high: f64) -> Window {
        Window { low: of(low), high: of(high) }
    }

    fn set(arrives: (f64, f64), accepted: (f64, f64), range: (f64, f64)) -> Option<f64> {
        let window = |(low, high)| window(low, high);
        setting(window(arrives), window(accepted), window(range))
            .unwrap_or_else(|e| unreachable!("{e}"))
            .map(|p| (p.get::<psi>() * 1e6).round() / 1e6)
    }

    #[test]
    fn a_pump_of_4_to_7_psi_behind_a_regulator() {
        // common practice: set to 3 psi for a two-barrel of 2.5 to 3.5 psi
        assert_eq!(regulated(window(4.0, 7.0), of(3.0)), Ok(window(3.0, 3.0)));
        assert_eq!(regulated(window(2.8, 7.0), of(3.0)), Ok(window(2.8, 3.0)));
        assert_eq!(set((4.0, 7.0), (2.5, 3.5), (1.5, 4.0)), Some(3.0));
        // one that begins at 4.5 psi cannot hold so little, one that begins at 3.2 psi just does
        assert_eq!(set((4.0, 7.0), (2.5, 3.5), (4.5, 9.0)), None);
        assert_eq!(set((4.0, 7.0), (2.5, 3.5), (3.2, 9.0)), Some(3.2));
        // what is too low already is not helped
        assert_eq!(set((1.0, 7.0), (2.5, 3.5), (1.5, 4.0)), None);
        for bad in REFUSED {
            refuses(regulated(window(4.0, 7.0), of(bad)), "setting of the regulator");
        }
    }

    proptest! {
        #[test]
        fn what_is_set_suits(low in 0.1..8.0, span in 0.0..4.0, want in 0.5..6.0, room in 0.1..3.0, from in 0.5..5.0) {
            let (arrives, accepted) = (window(low, low + span), window(want, want + room));
            if let Ok(Some(set)) = setting(arrives, accepted, window(from, from + 3.0)) {
                let after = regulated(arrives, set);
                prop_assert!(after.is_ok_and(|w| w.high <= accepted.high && w.low >= accepted.low - of(1e-9)));
            }
        }
    }
}
