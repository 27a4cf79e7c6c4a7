//! Pressure at the carburettor: what a pump gives after lift and line, against what the float valve holds.

use uom::si::f64::Pressure;
use uom::si::pressure::{kilopascal, pascal};

use crate::error::{Expected, FigureError};
use crate::range::Range;

const PUMP: Range = Range::new(0.1, 1_000.0, "kPa");
const LOSS: Range = Range::new(0.0, 500.0, "kPa");
const HEAD: Range = Range::new(-500.0, 500.0, "kPa");

/// A lowest and a highest pressure over that of the air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Lowest.
    pub low: Pressure,
    /// Highest; not less than the lowest.
    pub high: Pressure,
}

/// A common need of a carburettor, psi, lowest and highest.
///
/// Source: common practice, a maker's figure wins; fixed-choke side draught and four-barrel differ by maker by a psi.
pub const ACCEPTED_PSI: [(&str, f64, f64); 4] = [
    ("constant-depression, side draught", 2.0, 3.0),
    ("one-barrel, downdraught", 2.5, 4.5),
    ("two-barrel, downdraught", 2.5, 3.5),
    ("four-barrel", 4.5, 6.5),
];

/// Pressure of a mechanical diaphragm pump, psi, lowest and highest. Source: US Army TM 9-8000, para 4-3.
pub const MECHANICAL_PUMP_PSI: (f64, f64) = (1.5, 6.0);

/// What arrives at the carburettor.
///
/// The lowest is the pump's lowest less the head and the loss at full flow, the highest its highest less the head: with
/// the float valve shut nothing flows, and a line that loses nothing hides nothing.
///
/// * `pump`: 0.1 to 1,000 kPa, the lowest at full flow, the highest with the outlet shut.
/// * `loss_at_full_flow`: 0 to 500 kPa, see [`super::line::line_loss`]; the filter belongs to it.
/// * `head`: -500 to 500 kPa, see [`super::line::head`].
///
/// The lowest may come out below zero: then no fuel arrives at full flow.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range or the window stands on its head.
///
/// Source: hydrostatics and Darcy-Weisbach.
pub fn at_carburettor(
    pump: Window,
    loss_at_full_flow: Pressure,
    head: Pressure,
) -> Result<Window, FigureError> {
    check_window("lowest pump pressure", "highest pump pressure", pump)?;
    LOSS.check("pressure lost in the line", loss_at_full_flow.get::<kilopascal>())?;
    HEAD.check("head", head.get::<kilopascal>())?;
    Ok(Window { low: pump.low - head - loss_at_full_flow, high: pump.high - head })
}

/// How the pressure that arrives suits a carburettor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PressureFit {
    /// It suits as it is.
    Suits,
    /// Too high for the float valve: wants a regulator, set to this.
    WantsRegulator {
        /// The middle of what the carburettor takes and the pump can give.
        set: Pressure,
    },
    /// Too low at full flow by this much, and never too high: wants a bigger line, or a stronger pump.
    TooLow {
        /// How much the lowest falls short.
        short_by: Pressure,
    },
    /// Too high at rest and too low at full flow: wants another pump with a regulator, or a bigger line.
    WantsOtherPump {
        /// How much the lowest falls short.
        short_by: Pressure,
    },
}

/// Holds what arrives against what the carburettor takes.
///
/// * `arrives`: see [`at_carburettor`].
/// * `accepted`: 0.1 to 1,000 kPa, see [`ACCEPTED_PSI`].
///
/// # Errors
/// [`FigureError`] if a figure is out of its range or a window stands on its head.
///
/// Source: definition; the float valve is the limit above, the fuel level at full flow the limit below.
pub fn fit(arrives: Window, accepted: Window) -> Result<PressureFit, FigureError> {
    check_window("lowest pressure accepted", "highest pressure accepted", accepted)?;
    let quantity = "highest pressure that arrives";
    Range::new(-2_000.0, 2_000.0, "kPa").check(quantity, arrives.high.get::<kilopascal>())?;
    let low = "lowest pressure that arrives";
    Range::new(-2_000.0, 2_000.0, "kPa").check(low, arrives.low.get::<kilopascal>())?;
    in_order(quantity, arrives)?;

    let (short_by, zero) = (accepted.low - arrives.low, Pressure::new::<pascal>(0.0));
    let (too_low, too_high) = (short_by > zero, arrives.high > accepted.high);
    let top = if arrives.high < accepted.high { arrives.high } else { accepted.high };
    Ok(match (too_low, too_high) {
        (false, false) => PressureFit::Suits,
        // a regulator only takes away: it cannot be set above what the pump gives at full flow
        (false, true) => {
            let most = if arrives.low < top { arrives.low } else { top };
            let middle = (accepted.low + top) / 2.0;
            PressureFit::WantsRegulator { set: if middle < most { middle } else { most } }
        }
        (true, false) => PressureFit::TooLow { short_by },
        (true, true) => PressureFit::WantsOtherPump { short_by },
    })
}

fn check_window(low: &'static str, high: &'static str, window: Window) -> Result<(), FigureError> {
    PUMP.check(low, window.low.get::<kilopascal>())?;
    PUMP.check(high, window.high.get::<kilopascal>())?;
    in_order(high, window)
}

fn in_order(high: &'static str, window: Window) -> Result<(), FigureError> {
    if window.high >= window.low {
        return Ok(());
    }
    let expected = Expected::Above { limit: window.low.get::<kilopascal>(), unit: "kPa" };
    Err(FigureError { quantity: high, found: window.high.get::<kilopascal>(), expected })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    const PSI: f64 = 6_894.757_293_168;

    fn window(low: f64, high: f64) -> Window {
        Window { low: of_psi(low), high: of_psi(high) }
    }

    fn of_psi(value: f64) -> Pressure {
        Pressure::new::<pascal>(value * PSI)
    }

    fn set(arrives: Window, accepted: Window) -> Result<f64, FigureError> {
        fit(arrives, accepted).map(|f| match f {
            PressureFit::WantsRegulator { set } => set.get::<pascal>() / PSI,
            _ => f64::NAN,
        })
    }

    #[test]
    fn trade_windows() {
        // common practice: a pump of 4 to 7 psi wants a regulator, set 2.5, 3.5, 3.0
        for (accepted, wanted) in [((2.0, 3.0), 2.5), ((2.5, 4.5), 3.5), ((2.5, 3.5), 3.0)] {
            assert!(ACCEPTED_PSI.iter().any(|(_, low, high)| (*low, *high) == accepted));
            close(set(window(4.0, 7.0), window(accepted.0, accepted.1)), wanted, 1e-9);
        }
        // an example vehicle: a pump of 2.7 psi into 1.5 to 3.5 psi suits
        assert_eq!(fit(window(2.7, 2.7), window(1.5, 3.5)), Ok(PressureFit::Suits));
        // a window suits itself, to its ends
        assert_eq!(fit(window(1.5, 3.5), window(1.5, 3.5)), Ok(PressureFit::Suits));
        // an example vehicle: 4.6 psi measured against a float valve good for 4.5 psi
        close(set(window(4.6, 4.6), window(2.5, 4.5)), 3.5, 1e-9);
    }

    #[test]
    fn mechanical_pumps() {
        // US Army TM 9-8000: 1.5 to 6.0 psi, 10.3 to 41.4 kPa
        let (low, high) = MECHANICAL_PUMP_PSI;
        close(Ok(low * PSI / 1e3), 10.3, 5e-3);
        close(Ok(high * PSI / 1e3), 41.4, 1e-3);
    }

    #[test]
    fn line_and_lift_come_off() {
        // tier L: fuel.head/0.8 m lift: 0.847711261104 psi; fuel.line_drop/60 L/h in 6.5 mm ID, 4 m: 0.318248106771 psi
        let found = at_carburettor(window(2.0, 3.0), of_psi(0.318_248_106_771), of_psi(0.847_711_261_104));
        close(found.map(|w| w.low.get::<pascal>() / PSI), 2.0 - 1.165_959_367_875, 1e-9);
        close(found.map(|w| w.high.get::<pascal>() / PSI), 3.0 - 0.847_711_261_104, 1e-9);
        // so a pump of 2 to 3 psi is too weak for 1.5 to 3.0 psi there
        let fit = found.and_then(|w| fit(w, window(1.5, 3.0)));
        assert!(matches!(fit, Ok(PressureFit::TooLow { .. })));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(at_carburettor(window(bad, 7.0), of_psi(0.1), of_psi(0.1)), "lowest pump pressure");
            refuses(fit(window(4.0, 7.0), window(bad, 3.0)), "lowest pressure accepted");
            refuses(fit(window(4.0, 7.0), window(2.0, bad)), "highest pressure accepted");
        }
        for bad in [f64::NAN, f64::INFINITY, -0.1, 1e6] {
            refuses(at_carburettor(window(4.0, 7.0), of_psi(bad), of_psi(0.1)), "pressure lost in the line");
        }
        for bad in [f64::NAN, f64::INFINITY, 1e6, -1e6] {
            refuses(at_carburettor(window(4.0, 7.0), of_psi(0.1), of_psi(bad)), "head");
            refuses(fit(window(4.0, bad), window(2.0, 3.0)), "highest pressure that arrives");
            refuses(fit(window(bad, 7.0), window(2.0, 3.0)), "lowest pressure that arrives");
        }
        refuses(at_carburettor(window(7.0, 4.0), of_psi(0.1), of_psi(0.1)), "highest pump pressure");
        refuses(fit(window(7.0, 4.0), window(2.0, 3.0)), "highest pressure that arrives");
    }

    proptest! {
        #[test]
        fn each_answer_is_what_it_says(low in 0.1..8.0, span in 0.0..4.0, want in 0.5..6.0, room in 0.1..3.0) {
            let (arrives, accepted) = (window(low, low + span), window(want, want + room));
            let inside = |p: Pressure| p >= accepted.low && p <= accepted.high;
            match fit(arrives, accepted) {
                Ok(PressureFit::Suits) => prop_assert!(inside(arrives.low) && inside(arrives.high)),
                Ok(PressureFit::WantsRegulator { set }) => {
                    prop_assert!(inside(set) && set <= arrives.low && arrives.high > accepted.high);
                }
                Ok(PressureFit::TooLow { short_by } | PressureFit::WantsOtherPump { short_by }) => {
                    prop_assert!(short_by.get::<pascal>() > 0.0 && !inside(arrives.low));
                }
                Err(error) => prop_assert!(false, "{error}"),
            }
        }

        #[test]
        fn any_numbers_are_refused_or_answered(a in any::<[f64; 4]>(), b in any::<f64>(), c in any::<f64>()) {
            let arrives = at_carburettor(window(a[0], a[1]), of_psi(b), of_psi(c));
            prop_assert!(arrives.map_or(true, |w| w.low <= w.high));
            let found = fit(window(a[0], a[1]), window(a[2], a[3]));
            let sound = match found {
                Ok(PressureFit::WantsRegulator { set }) => set.is_finite(),
                Ok(PressureFit::TooLow { short_by } | PressureFit::WantsOtherPump { short_by }) => short_by.is_finite(),
                Ok(PressureFit::Suits) | Err(_) => true,
            };
            prop_assert!(sound);
        }
    }
}
