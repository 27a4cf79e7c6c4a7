//! A press fit: pressure, force and torque of two rings of one metal (Lamé; Shigley ch. 3).

use std::f64::consts::PI;

use uom::si::f64::{Force, Length, Pressure, TemperatureInterval, Torque};
use uom::si::force::newton;
use uom::si::length::{meter, millimeter};
use uom::si::pressure::{gigapascal, pascal};
use uom::si::temperature_interval::kelvin;
use uom::si::torque::newton_meter;

use crate::error::{Expected, FigureError};
use crate::range::Range;

const DIAMETER: Range = Range::new(1.0, 2_000.0, "mm");
const INTERFERENCE: Range = Range::new(1e-4, 2.0, "mm");
const LENGTH: Range = Range::new(0.5, 2_000.0, "mm");
const MODULUS: Range = Range::new(1.0, 500.0, "GPa");
const FRICTION: Range = Range::new(0.02, 0.6, "");

/// Growth of steel with heat, 1/K (handbooks).
pub const STEEL_GROWTH: f64 = 11.5e-6;

/// A shaft in a hub of the same metal.
#[derive(Clone, Copy, Debug)]
pub struct PressFit {
    /// Diameter of the fit, 1 to 2,000 mm.
    pub fit: Length,
    /// By how much the shaft is thicker than the bore, 0.0001 to 2 mm.
    pub interference: Length,
    /// Outside diameter of the hub, more than that of the fit.
    pub hub: Length,
    /// Bore through the shaft, less than the fit; 0 for a solid one.
    pub bore: Length,
    /// Length of the fit, 0.5 to 2,000 mm.
    pub length: Length,
    /// Young's modulus, 1 to 500 GPa.
    pub modulus: Pressure,
    /// Friction, 0.02 to 0.6; 0.12 for oiled steel (common practice).
    pub friction: f64,
}

/// What it does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressed {
    /// Between shaft and hub.
    pub pressure: Pressure,
    /// Pull in the hub at its bore.
    pub hub_stress: Pressure,
    /// To press it home, or off.
    pub force: Force,
    /// Torque it carries.
    pub torque: Torque,
    /// By how much hub and shaft must differ in heat to slip together, if they are of steel.
    pub heat: TemperatureInterval,
}

/// Pressure `E delta (D^2 - d^2)(d^2 - b^2) / (2 d^3 (D^2 - b^2))`, force `mu p pi d l`, torque `force d / 2`.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range.
///
/// Source: Shigley, Mechanical Engineering Design, ch. 3, both of one metal.
pub fn press_fit(f: &PressFit) -> Result<Pressed, FigureError> {
    let fit = DIAMETER.check("diameter of the fit", f.fit.get::<millimeter>())?;
    INTERFERENCE.check("interference", f.interference.get::<millimeter>())?;
    let hub = DIAMETER.check("outside of the hub", f.hub.get::<millimeter>())?;
    if hub <= fit {
        let expected = Expected::Above { limit: fit, unit: "mm" };
        return Err(FigureError { quantity: "outside of the hub", found: hub, expected });
    }
    let bore = Range::new(0.0, 2_000.0, "mm").check("bore of the shaft", f.bore.get::<millimeter>())?;
    if bore >= fit {
        let expected = Expected::Below { limit: fit, unit: "mm" };
        return Err(FigureError { quantity: "bore of the shaft", found: bore, expected });
    }
    LENGTH.check("length of the fit", f.length.get::<millimeter>())?;
    MODULUS.check("modulus", f.modulus.get::<gigapascal>())?;
    let friction = FRICTION.check("friction", f.friction)?;
    let [d, big, small] = [f.fit, f.hub, f.bore].map(|l| l.get::<meter>().powi(2));
    let across = f.fit.get::<meter>();
    let pressure = f.modulus.get::<pascal>() * f.interference.get::<meter>() * (big - d) * (d - small)
        / (2.0 * d * across * (big - small));
    let force = friction * pressure * PI * across * f.length.get::<meter>();
    Ok(Pressed {
        pressure: Pressure::new::<pascal>(pressure),
        hub_stress: Pressure::new::<pascal>(pressure * (big + d) / (big - d)),
        force: Force::new::<newton>(force),
        torque: Torque::new::<newton_meter>(force * across / 2.0),
        heat: TemperatureInterval::new::<kelvin>(f.interference.get::<meter>() / (STEEL_GROWTH * across)),
    })
}
