//! Limits of fuel and air: carburettor and cleaner, pressure and flow of the pump, the line between.

use knockon_figures::carburation::{air_flow, fuel_flow_for_power};
use knockon_figures::fuel::line::{
    DRAWN_TUBE_ROUGHNESS, FuelLine, PETROL_DENSITY, PETROL_VISCOSITY, TUBES, head, line_loss,
};
use knockon_figures::fuel::pressure::{PressureFit, Window, at_carburettor, fit};
use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{DynamicViscosity, Length as Measure, MassDensity, MassPerEnergy, Pressure as Press};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::mass_per_energy::kilogram_per_kilowatt_hour;
use uom::si::pressure::pascal;

use super::Inputs;
use super::entry::{Answer, Entry, Way, close, less, more, one, said, told, window};
use crate::explain::show;
use crate::units::Dimension::{
    self, Area, Flow, Length, Mass, Power, Pressure, Ratio, RotationalSpeed, Volume,
};
use crate::value::Kind;

const PSI: f64 = 6_894.757_293;

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "carburettor-air",
        inputs: &[
            one("displacement", Volume),
            one("efficiency", Ratio),
            one("flow", Flow),
            one("rpm", RotationalSpeed),
        ],
        levers: &[more("flow", "air flow of the carburettor")],
        work: air,
    },
    Entry {
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
    Entry {
        name: "fuel-pressure",
        inputs: &[
            window("accepts", Pressure),
            one("lift", Length),
            one("loss", Pressure),
            window("pump", Pressure),
        ],
        levers: &[
            said("pump", Way::Given(regulator), |p| {
                format!("a regulator set to {:.1} psi at the pump", p / PSI)
            }),
            less("loss", "lost in the line"),
        ],
        work: pressure,
    },
    Entry {
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
            said("pump", Way::More, |p| format!("a pump that gives {:.2} psi at full flow", p / PSI)),
            less("length", "line"),
        ],
        work: arrives,
    },
    Entry {
        name: "fuel-line",
        inputs: &[one("bore", Length), one("flow", Flow), one("length", Length), one("most", Pressure)],
        levers: &[said("bore", Way::Sizes(bores), tube), less("length", "line")],
        work: line,
    },
    Entry {
        name: "fuel-flow",
        inputs: &[one("burnt", Mass), one("flow", Flow), one("power", Power), one("spare", Ratio)],
        levers: &[more("flow", "flow of the pump")],
        work: flow,
    },
];

fn petrol() -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(PETROL_DENSITY)
}

/// `displacement x rpm / 2 x filling`, which is cubic inches x rpm / 3456 x filling in cfm (Heywood ch. 2).
fn air(i: &Inputs<'_>) -> Answer {
    let need = told(air_flow(i.volume("displacement")?, i.rpm("rpm")?, i.number("efficiency")?))?.value;
    let flow = i.number("flow")?;
    let text = || {
        let need = show(need, Some(Kind::Dimension(Dimension::Flow)));
        format!("the engine breathes {need}, the carburettor flows {}", i.show("flow"))
    };
    Ok((flow >= need - close(flow, need), i.say(text)))
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
        format!(
            "the element has {:.0} cm2, the engine wants {:.0} cm2 at {rpm:.0} rpm",
            area * 1e4,
            need * 1e4
        )
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
        let psi = |p: Press| p.value / PSI;
        format!(
            "{:.1} to {:.1} psi arrive of the pump's {:.1} to {:.1} psi, {:.1} to {:.1} psi wanted",
            psi(arrives.low),
            psi(arrives.high),
            psi(pump.low),
            psi(pump.high),
            psi(accepts.low),
            psi(accepts.high)
        )
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
        format!(
            "of {:.1} psi at full flow the line takes {:.2} psi and the height {:.2} psi: {:.1} psi arrive, at least {:.1} psi wanted",
            pump.low.value / PSI,
            loss.value / PSI,
            head.value / PSI,
            left / PSI,
            least / PSI
        )
    };
    Ok((left >= least - close(left, least), i.say(text)))
}

/// Inside diameters of the tubes of the trade, m.
fn bores() -> Vec<f64> {
    TUBES.iter().map(|(_, mm)| mm * 1e-3).collect()
}

fn tube(bore: f64) -> String {
    let tube = TUBES.iter().find(|(_, mm)| (mm * 1e-3 - bore).abs() < 1e-9);
    tube.map_or_else(
        || format!("a bore of {:.1} mm", bore * 1e3),
        |(name, mm)| format!("a {name} tube ({mm:.1} mm inside)"),
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

/// `loss = f L/D rho v^2 / 2`, the most of the band (Darcy-Weisbach; Colebrook).
fn line(i: &Inputs<'_>) -> Answer {
    let line = line_of(i)?;
    let (loss, most) = (told(line_loss(&line))?.most.value, i.number("most")?);
    let text = || {
        format!(
            "{:.2} psi lost in {:.1} m of {:.1} mm bore, at most {:.2} psi wanted",
            loss / PSI,
            line.length.value,
            line.bore.value * 1e3,
            most / PSI
        )
    };
    Ok((loss <= most + close(loss, most), i.say(text)))
}

/// `flow = power x specific consumption / fuel density`, with something to spare (Heywood ch. 2).
fn flow(i: &Inputs<'_>) -> Answer {
    let burnt = MassPerEnergy::new::<kilogram_per_kilowatt_hour>(i.number("burnt")?);
    let need = told(fuel_flow_for_power(i.power("power")?, burnt, petrol()))?.value * i.number("spare")?;
    let flow = i.number("flow")?;
    let text = || {
        let litres = |x: f64| x * 3.6e6;
        format!(
            "the engine wants {:.0} L/h with some to spare, the pump gives {:.0} L/h",
            litres(need),
            litres(flow)
        )
    };
    Ok((flow >= need - close(flow, need), i.say(text)))
}
