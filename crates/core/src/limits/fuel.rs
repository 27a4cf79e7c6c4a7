//! Limits of fuel and air: carburettor and cleaner, pressure and flow of the pump, the line between.

use knockon_figures::fuel::line::{
    DRAWN_TUBE_ROUGHNESS, FuelLine, PETROL_DENSITY, PETROL_VISCOSITY, TUBES, head, line_loss,
};
use knockon_figures::fuel::pressure::{PressureFit, Window, at_carburettor, fit};
use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{DynamicViscosity, Length as Measure, MassDensity, Pressure as Press};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;

use super::Inputs;
use super::declared::{Declared, Holds};
use super::entry::{Answer, Own, Way, close, less, more, one, qty, said, told, window};
use crate::phrase;
use crate::phrase::{Phrase, Piece};
use crate::units::Dimension::{Area, Flow, Length, Pressure, Ratio, RotationalSpeed, Volume};

const PSI: f64 = 6_894.757_293;

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[
    Declared {
        name: "carburettor-air",
        figure: "carburettor-size",
        called: &[("efficiency", "filling")],
        fixed: &[],
        asks: &[one("flow", Flow)],
        holds: Holds::AtLeast("flow", "air"),
        says: "the engine breathes {air}, the carburettor flows {flow}",
        levers: &[more("flow", "air flow of the carburettor")],
    },
    Declared {
        name: "fuel-line",
        figure: "fuel-line",
        called: &[],
        fixed: &[("allowed", ""), ("litre", "")],
        asks: &[one("most", Pressure)],
        holds: Holds::AtMost("pressure lost, most", "most"),
        says: "{pressure lost, most} is lost in {length} of {bore:fit} bore, at most {most} wanted",
        levers: &[said("bore", Way::Sizes(bores), tube), less("length", "line")],
    },
    Declared {
        name: "fuel-flow",
        figure: "fuel-flow",
        called: &[],
        fixed: &[("litre", "")],
        asks: &[one("flow", Flow)],
        holds: Holds::AtLeast("flow", "fuel flow"),
        says: "the engine wants {fuel flow} with some to spare, the pump gives {flow}",
        levers: &[more("flow", "flow of the pump")],
    },
];

pub(super) const ALL: &[Own] = &[
    Own {
        name: "cleaner-area",
        inputs: &[
            one("area", Area),
            one("displacement", Volume),
            one("divisor", Ratio),
            one("rpm", RotationalSpeed),
        ],
        levers: &[more("area", "element")],
        work: cleaner,
    },
    Own {
        name: "fuel-pressure",
        inputs: &[
            window("accepts", Pressure),
            one("lift", Length),
            one("loss", Pressure),
            window("pump", Pressure),
        ],
        levers: &[
            said("pump", Way::Given(regulator), |p| {
                phrase!["a regulator set to ", qty(p, Pressure).decimals(1), " at the pump"]
            }),
            less("loss", "lost in the line"),
        ],
        work: pressure,
    },
    Own {
        name: "fuel-arrives",
        inputs: &[
            one("bore", Length),
            one("flow", Flow),
            one("least", Pressure),
            one("length", Length),
            one("lift", Length),
            window("pump", Pressure),
        ],
        levers: &[
            said("bore", Way::Sizes(bores), tube),
            said("pump", Way::More, |p| {
                phrase!["a pump that gives ", qty(p, Pressure).decimals(2), " at full flow"]
            }),
            less("length", "line"),
        ],
        work: arrives,
    },
];

fn petrol() -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(PETROL_DENSITY)
}

/// Square inches of element: cubic inches x rpm / divisor, 20,800 (from memory).
fn cleaner(i: &Inputs<'_>) -> Answer {
    const INCH: f64 = 0.0254;
    let (area, divisor, rpm) = (i.number("area")?, i.number("divisor")?, i.rpm("rpm")?);
    let cubic_inches = i.number("displacement")? / INCH.powi(3);
    if !(divisor > 0.0 && rpm > 0.0 && cubic_inches > 0.0) {
        return Err(format!(
            "found {cubic_inches:.0} in3, {rpm:.0} rpm and a divisor of {divisor}, expected more than 0"
        ));
    }
    let need = cubic_inches * rpm / divisor * INCH * INCH;
    let text = || {
        phrase![
            "the element has ",
            qty(area, Area).beside(need),
            ", the engine wants ",
            qty(need, Area).beside(area),
            format!(" at {rpm:.0} rpm")
        ]
    };
    Ok((area >= need - close(area, need), i.say(text)))
}

fn window_of(i: &Inputs<'_>, name: &str) -> Result<Window, String> {
    let (low, high) = i.window(name)?;
    Ok(Window { low: Press::new::<pascal>(low), high: Press::new::<pascal>(high) })
}

fn windows(i: &Inputs<'_>) -> Result<(Window, Window, Press, Press), String> {
    let head = told(head(i.length("lift")?, petrol()))?;
    Ok((window_of(i, "pump")?, window_of(i, "accepts")?, i.pressure("loss")?, head))
}

/// A setting at which what arrives is in the middle of what is accepted, as far as the pump reaches.
fn regulator(i: &Inputs<'_>) -> Option<f64> {
    let (pump, accepts, loss, head) = windows(i).ok()?;
    let (least, most) = (accepts.low + loss + head, accepts.high + head);
    let most = if pump.low < most { pump.low } else { most };
    // to a tenth of a psi, as a gauge reads
    let set = ((least + most) / 2.0).value;
    let tenth = (set / PSI * 10.0).round() / 10.0 * PSI;
    let inside = |x: f64| x >= least.value && x <= most.value;
    inside(tenth).then_some(tenth).or_else(|| inside(set).then_some(set))
}

/// What arrives at full flow and with the float valve shut against what the carburettor takes (hydrostatics).
fn pressure(i: &Inputs<'_>) -> Answer {
    let (pump, accepts, loss, head) = windows(i)?;
    let arrives = told(at_carburettor(pump, loss, head))?;
    let found = told(fit(arrives, accepts))?;
    let text = || {
        let window = |w: Window| qty(w.low.value, Pressure).to(w.high.value);
        phrase![window(arrives), " arrive of the pump's ", window(pump), ", ", window(accepts), " wanted"]
    };
    Ok((matches!(found, PressureFit::Suits), i.say(text)))
}

/// What arrives at full flow, `pump - line loss - head`, against the least wanted there; what is too much with the float
/// valve shut is a regulator's work (Darcy-Weisbach; hydrostatics).
fn arrives(i: &Inputs<'_>) -> Answer {
    let (pump, least) = (window_of(i, "pump")?, i.number("least")?);
    let (loss, head) = (told(line_loss(&line_of(i)?))?.most, told(head(i.length("lift")?, petrol()))?);
    let left = told(at_carburettor(pump, loss, head))?.low.value;
    let text = || {
        let p = |p: f64| qty(p, Pressure);
        phrase![
            "of ",
            p(pump.low.value),
            " at full flow the line takes ",
            p(loss.value),
            " and the height ",
            p(head.value),
            ": ",
            p(left).beside(least),
            " arrives, at least ",
            p(least).beside(left),
            " wanted"
        ]
    };
    Ok((left >= least - close(left, least), i.say(text)))
}

/// Inside diameters of the tubes of the trade, m.
fn bores() -> Vec<f64> {
    TUBES.iter().map(|(_, mm)| mm * 1e-3).collect()
}

fn tube(bore: f64) -> Phrase {
    let tube = TUBES.iter().find(|(_, mm)| (mm * 1e-3 - bore).abs() < 1e-9);
    tube.map_or_else(
        || phrase!["a bore of ", qty(bore, Length).fit()],
        |(name, _)| phrase!["a ", Piece::name(*name), " tube (", qty(bore, Length).fit(), " inside)"],
    )
}

/// A drawn tube with petrol in it.
fn line_of(i: &Inputs<'_>) -> Result<FuelLine, String> {
    Ok(FuelLine {
        flow: i.flow("flow")?,
        bore: i.length("bore")?,
        length: i.length("length")?,
        density: petrol(),
        viscosity: DynamicViscosity::new::<pascal_second>(PETROL_VISCOSITY),
        roughness: Measure::new::<meter>(DRAWN_TUBE_ROUGHNESS),
    })
}
