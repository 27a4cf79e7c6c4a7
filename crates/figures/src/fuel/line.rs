//! Pressure lost in a fuel line and the size it wants (Darcy-Weisbach; Colebrook; hydrostatics).

use std::f64::consts::FRAC_PI_4;

use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{DynamicViscosity, Length, MassDensity, Pressure, Velocity, VolumeRate};
use uom::si::length::{meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::velocity::meter_per_second;
use uom::si::volume_rate::{cubic_meter_per_hour, cubic_meter_per_second};

use crate::error::FigureError;
use crate::range::Range;

/// Dynamic viscosity of petrol at 20 C, Pa·s: 0.0005, common practice.
pub const PETROL_VISCOSITY: f64 = 0.000_5;
/// Density of petrol, kg/m3: 745, the middle of the 720 to 775 of EN 228.
pub const PETROL_DENSITY: f64 = 745.0;
/// Roughness of drawn tube, m: 0.0015 mm (Moody's chart).
pub const DRAWN_TUBE_ROUGHNESS: f64 = 1.5e-6;

/// Reynolds number up to which the flow is smooth for certain, and from which on it is turbulent for certain.
///
/// Source: 2,040 Avila et al., Science 333 (2011); 4,000 common practice.
pub const TRANSITION: (f64, f64) = (2_040.0, 4_000.0);

/// Fuel tube by its outside diameter in inches: name, inside diameter in mm.
///
/// Source: SAE J526 steel tube of 0.028 in wall up to 5/16 in and 0.035 in above it (walls from memory).
pub const TUBES: [(&str, f64); 5] =
    [("3/16 in", 3.340), ("1/4 in", 4.928), ("5/16 in", 6.515), ("3/8 in", 7.747), ("1/2 in", 10.922)];

const FLOW: Range = Range::new(0.000_1, 10.0, "m3/h");
const BORE: Range = Range::new(1.0, 50.0, "mm");
const LENGTH: Range = Range::new(0.01, 50.0, "m");
const DENSITY: Range = Range::new(300.0, 2_000.0, "kg/m3");
const VISCOSITY: Range = Range::new(0.000_05, 1.0, "Pa·s");
const ROUGHNESS: Range = Range::new(0.0, 1.0, "mm");
const LIFT: Range = Range::new(-10.0, 10.0, "m");
const DROP: Range = Range::new(1.0, 1e6, "Pa");

/// A line and what flows in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FuelLine {
    /// What flows, 0.1 to 10,000 L/h.
    pub flow: VolumeRate,
    /// Inside diameter, 1 to 50 mm.
    pub bore: Length,
    /// Straight length; add 30 bores for a sharp elbow (common practice). 10 mm to 50 m.
    pub length: Length,
    /// 300 to 2,000 kg/m3, see [`PETROL_DENSITY`].
    pub density: MassDensity,
    /// 0.00005 to 1 Pa·s, see [`PETROL_VISCOSITY`].
    pub viscosity: DynamicViscosity,
    /// Of the wall, 0 to 1 mm, see [`DRAWN_TUBE_ROUGHNESS`].
    pub roughness: Length,
}

/// What a line does to the flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineLoss {
    /// Mean speed in the bore.
    pub velocity: Velocity,
    /// Reynolds number.
    pub reynolds: f64,
    /// Least pressure lost. The same as `most` but in the band between smooth and turbulent flow, where it is that of
    /// smooth flow.
    pub least: Pressure,
    /// Most pressure lost: to be reckoned with.
    pub most: Pressure,
}

/// Pressure lost by friction: `f L/D rho v^2 / 2`.
///
/// `f` is `64/Re` in smooth flow and after Colebrook in turbulent flow. Between (see [`TRANSITION`]) either may be, and
/// many fuel lines run there: the answer is a band.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range.
///
/// Source: Darcy-Weisbach; Colebrook, J. Inst. Civ. Eng. 11 (1939).
pub fn line_loss(line: &FuelLine) -> Result<LineLoss, FigureError> {
    FLOW.check("fuel flow", line.flow.get::<cubic_meter_per_hour>())?;
    BORE.check("bore of the line", line.bore.get::<millimeter>())?;
    LENGTH.check("length of the line", line.length.get::<meter>())?;
    let density = DENSITY.check("fuel density", line.density.get::<kilogram_per_cubic_meter>())?;
    let viscosity = VISCOSITY.check("fuel viscosity", line.viscosity.get::<pascal_second>())?;
    ROUGHNESS.check("roughness of the line", line.roughness.get::<millimeter>())?;

    let bore = line.bore.get::<meter>();
    let velocity = line.flow.get::<cubic_meter_per_second>() / (FRAC_PI_4 * bore * bore);
    let reynolds = density * velocity * bore / viscosity;
    let one = line.length.get::<meter>() / bore * density * velocity * velocity / 2.0;
    let smooth = 64.0 / reynolds;
    let (least, most) = if reynolds < TRANSITION.0 {
        (smooth, smooth)
    } else {
        let turbulent = colebrook(reynolds, line.roughness.get::<meter>() / bore);
        if reynolds < TRANSITION.1 {
            (smooth.min(turbulent), turbulent.max(smooth))
        } else {
            (turbulent, turbulent)
        }
    };
    Ok(LineLoss {
        velocity: Velocity::new::<meter_per_second>(velocity),
        reynolds,
        least: Pressure::new::<pascal>(least * one),
        most: Pressure::new::<pascal>(most * one),
    })
}

/// Friction factor of turbulent flow: `1/sqrt f = -2 log10(k/3.7 + 2.51/(Re sqrt f))`.
///
/// Newton's method on `x = 1/sqrt f`; the function is concave and rising, four steps reach machine precision.
fn colebrook(reynolds: f64, roughness: f64) -> f64 {
    let (a, b) = (roughness / 3.7, 2.51 / reynolds);
    let mut x = 8.0;
    for _ in 0..8 {
        let inner = a + b * x;
        let slope = 1.0 + 2.0 * b / (inner * std::f64::consts::LN_10);
        x -= (x + 2.0 * inner.log10()) / slope;
    }
    1.0 / (x * x)
}

/// Pressure that stands against the pump for a lift: `rho g h`.
///
/// * `lift`: of the float chamber over the pump, or over the fuel in the tank; -10 to 10 m, below zero where it lies lower
///   and the fuel runs down to it.
/// * `density`: 300 to 2,000 kg/m3.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: hydrostatics.
pub fn head(lift: Length, density: MassDensity) -> Result<Pressure, FigureError> {
    let lift = LIFT.check("lift", lift.get::<meter>())?;
    let density = DENSITY.check("fuel density", density.get::<kilogram_per_cubic_meter>())?;
    Ok(Pressure::new::<pascal>(density * crate::brakes::STANDARD_GRAVITY * lift))
}

/// The thinnest of [`TUBES`] whose loss stays within what is allowed, or `None` if even the thickest loses more.
///
/// * `line`: as it would be; its bore is not read.
/// * `allowed`: 1 Pa to 1 MPa; a tenth of the pump pressure is common practice.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range.
///
/// Source: [`line_loss`], the most of the band.
pub fn tube_for(line: &FuelLine, allowed: Pressure) -> Result<Option<&'static str>, FigureError> {
    DROP.check("pressure allowed to be lost", allowed.get::<pascal>())?;
    for (name, bore) in &TUBES {
        let line = FuelLine { bore: Length::new::<millimeter>(*bore), ..*line };
        if line_loss(&line)?.most <= allowed {
            return Ok(Some(name));
        }
    }
    Ok(None)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::length::inch;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    /// L/h, bore mm, length m, density, viscosity, roughness m
    fn line(a: [f64; 6]) -> FuelLine {
        FuelLine {
            flow: VolumeRate::new::<cubic_meter_per_second>(a[0] / 3.6e6),
            bore: Length::new::<millimeter>(a[1]),
            length: Length::new::<meter>(a[2]),
            density: MassDensity::new::<kilogram_per_cubic_meter>(a[3]),
            viscosity: DynamicViscosity::new::<pascal_second>(a[4]),
            roughness: Length::new::<meter>(a[5]),
        }
    }

    fn petrol(litres: f64, bore: f64, length: f64) -> FuelLine {
        line([litres, bore, length, PETROL_DENSITY, PETROL_VISCOSITY, DRAWN_TUBE_ROUGHNESS])
    }

    fn most(line: &FuelLine) -> f64 {
        line_loss(line).map_or(f64::NAN, |l| l.most.get::<pascal>())
    }

    #[test]
    fn losses_against_the_fluids_library() {
        // by a general-purpose library: velocity, Reynolds number, pressure
        for (litres, bore, length, velocity, reynolds, pascals) in [
            (60.0, 6.5, 4.0, 0.502_264_120_211, 4_864.428_004_24, 2_194.243_455_19),
            (150.0, 7.9, 5.0, 0.850_050_435_784, 10_005.943_679_6, 5_310.045_353_83),
            (90.0, 6.0, 4.5, 0.884_194_128_288, 7_904.695_506_9, 7_259.858_299_49),
        ] {
            let found = line_loss(&petrol(litres, bore, length));
            close(found.map(|l| l.velocity.get::<meter_per_second>()), velocity, 1e-9);
            close(found.map(|l| l.reynolds), reynolds, 1e-9);
            close(found.map(|l| l.most.get::<pascal>()), pascals, 1e-9);
            assert!(found.is_ok_and(|l| l.least == l.most));
        }
    }

    #[test]
    fn smooth_flow_is_that_of_hagen_and_poiseuille() {
        // dp = 128 mu L Q / (pi d^4): 10 L/h in 6.5 mm, 4 m
        let expected = 128.0 * 0.000_5 * 4.0 * (10.0 / 3.6e6) / (std::f64::consts::PI * 0.006_5_f64.powi(4));
        close(line_loss(&petrol(10.0, 6.5, 4.0)).map(|l| l.most.get::<pascal>()), expected, 1e-12);
    }

    #[test]
    fn between_smooth_and_turbulent_there_is_a_band() {
        // 37 L/h in 6.5 mm: Reynolds 3,000
        let found = line_loss(&petrol(37.0, 6.5, 4.0));
        close(found.map(|l| l.reynolds), 3_000.0, 1e-3);
        assert!(found.is_ok_and(|l| l.least < l.most));
    }

    #[test]
    fn heads_against_the_unit_library() {
        // tier L: fuel.head/0.8 m lift, rho 745
        let at = |m| {
            head(Length::new::<meter>(m), MassDensity::new::<kilogram_per_cubic_meter>(745.0))
                .map(|p| p.get::<pascal>())
        };
        close(at(0.8), 5_844.763_4, 1e-9);
        close(at(-0.8), -5_844.763_4, 1e-9);
        assert_eq!(at(0.0), Ok(0.0));
        for bad in [f64::NAN, f64::INFINITY, -11.0, 11.0] {
            refuses(at(bad), "lift");
        }
    }

    #[test]
    fn tubes_of_the_trade() {
        // 5/16 in has 6.5 mm inside, the bore of the worked lines above; each is its outside less two walls
        for ((_, inside), (outside, wall)) in
            TUBES.iter().zip([(0.1875, 0.028), (0.25, 0.028), (0.3125, 0.028), (0.375, 0.035), (0.5, 0.035)])
        {
            close(Ok(*inside), Length::new::<inch>(outside - 2.0 * wall).get::<millimeter>(), 2e-4);
        }
        // 100 hp wants 31 L/h; a tenth of 3 psi over 4 m: 5/16 in does it, 1/4 in does not
        let wanted = |psi: f64, litres| {
            tube_for(&petrol(litres, 1.0, 4.0), Pressure::new::<pascal>(psi * 6_894.757_293_168))
        };
        assert_eq!(wanted(0.3, 31.0), Ok(Some("5/16 in")));
        assert_eq!(wanted(0.001, 500.0), Ok(None));
        refuses(wanted(f64::NAN, 31.0), "pressure allowed to be lost");
        refuses(wanted(0.0, 31.0), "pressure allowed to be lost");
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let good = [60.0, 6.5, 4.0, 745.0, 0.000_5, 1.5e-6];
        let names = ["fuel flow", "bore of the line", "length of the line", "fuel density", "fuel viscosity"];
        for (at, name) in names.into_iter().enumerate() {
            for bad in REFUSED {
                let mut a = good;
                a[at] = bad;
                refuses(line_loss(&line(a)), name);
            }
        }
        for bad in [f64::NAN, f64::INFINITY, -1e-6, 0.1] {
            refuses(line_loss(&petrol_rough(bad)), "roughness of the line");
        }
    }

    fn petrol_rough(roughness: f64) -> FuelLine {
        line([60.0, 6.5, 4.0, 745.0, 0.000_5, roughness])
    }

    proptest! {
        #[test]
        fn longer_thinner_and_faster_loses_more(
            litres in 1.0..300.0, bore in 3.0..12.0, length in 0.1..10.0, factor in 1.01_f64..3.0,
        ) {
            let base = most(&petrol(litres, bore, length));
            prop_assert!(most(&petrol(litres, bore, length * factor)) > base);
            prop_assert!(most(&petrol(litres * factor, bore, length)) > base);
            prop_assert!(most(&petrol(litres, bore / factor, length)) > base);
        }

        #[test]
        fn the_friction_factor_solves_the_equation(re in 2_040.0..1e8, k in 0.0..0.05) {
            let x = 1.0 / colebrook(re, k).sqrt();
            let other = -2.0 * (k / 3.7 + 2.51 * x / re).log10();
            prop_assert!((x - other).abs() < 1e-9 * x);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<[f64; 6]>(), at in 0_usize..6) {
            prop_assert!(line_loss(&line(a)).map_or(true, |l| l.most.get::<pascal>() > 0.0));
            let mut one = [60.0, 6.5, 4.0, 745.0, 0.000_5, 1.5e-6];
            one[at] = a[at];
            prop_assert!(line_loss(&line(one)).map_or(true, |l| l.most.is_finite() && l.least <= l.most));
        }
    }
}
