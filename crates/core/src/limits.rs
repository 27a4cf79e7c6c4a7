//! Limits: the named calculations a library can ask for. Each takes figures, gives an answer with its numbers;
//! the engineering stands in the figures crate.

use std::collections::BTreeMap;

use knockon_figures::{brakes, carburation, charging, clutch, driveline, speedometer, tyres, wheels};
use uom::si::area::square_meter;
use uom::si::electric_current::ampere;
use uom::si::f64::{Area, ElectricCurrent, Length, LinearNumberDensity, Mass, Velocity, Volume};
use uom::si::length::meter;
use uom::si::linear_number_density::per_meter;
use uom::si::mass::kilogram;
use uom::si::velocity::meter_per_second;
use uom::si::volume::cubic_meter;

use crate::explain::show;
use crate::units::Dimension;
use crate::value::{Kind, Value, Verdict3};

/// What a limit comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Holds, open or broken.
    pub verdict: Verdict3,
    /// With the figures.
    pub text: String,
    /// What would clear it.
    pub clears: String,
}

/// Calculations with the names of their inputs.
pub const CALCULATIONS: [(&str, &[&str]); 16] = [
    ("at-least", &["have", "want"]),
    ("at-most", &["have", "most"]),
    ("belt-power", &["belt-limit", "output"]),
    ("carburettor-air", &["displacement", "efficiency", "flow", "rpm"]),
    ("cruise-rpm", &["axle-ratio", "least", "speed", "top-gear", "tyre-revs"]),
    ("drain-back", &["caliper-height", "master-height"]),
    ("excitation", &["crank-pulley", "excites-at", "generator-pulley", "idle"]),
    ("idle-balance", &["crank-pulley", "curve", "generator-pulley", "idle", "load"]),
    (
        "pedal-force",
        &[
            "deceleration",
            "front-gain",
            "gain",
            "mass",
            "master-bore",
            "most",
            "pedal-ratio",
            "rear-gain",
            "rolling-radius",
        ],
    ),
    ("ratio-at-least", &["a", "b", "ratio"]),
    ("shaft-critical-speed", &["inside", "length", "outside", "top-speed-rpm"]),
    ("slave-stroke", &["master-bore", "pedal-travel-at-master", "slave-bore", "wanted"]),
    ("speedometer", &["axle-ratio", "drive-teeth", "driven-teeth", "head", "tyre-revs"]),
    ("tyre-load", &["axle-rating", "capacity", "derate"]),
    ("wheel-over-caliper", &["caliper-envelope", "gap", "wheel-inside"]),
    ("wire-drop", &["area", "current", "length", "most"]),
];

/// Whether a calculation exists and has all its inputs.
///
/// # Errors
/// A sentence with what was expected.
pub fn check_inputs<'a>(calc: &str, inputs: impl Iterator<Item = &'a str>) -> Result<(), String> {
    let known: Vec<&str> = CALCULATIONS.iter().map(|(n, _)| *n).collect();
    let Some((_, wanted)) = CALCULATIONS.iter().find(|(n, _)| *n == calc) else {
        return Err(format!("there is no calculation \"{calc}\"; expected one of {}", known.join(", ")));
    };
    let given: Vec<&str> = inputs.collect();
    let missing: Vec<&str> = wanted.iter().copied().filter(|w| !given.contains(w)).collect();
    let extra: Vec<&str> = given.iter().copied().filter(|g| !wanted.contains(g)).collect();
    if missing.is_empty() && extra.is_empty() {
        return Ok(());
    }
    Err(format!(
        "the calculation \"{calc}\" takes {}; missing: {}; not known: {}",
        wanted.join(", "),
        missing.join(", "),
        extra.join(", ")
    ))
}

fn num(inputs: &BTreeMap<&str, Value>, name: &str) -> Result<f64, String> {
    inputs
        .get(name)
        .and_then(Value::bounds)
        .map(|(a, b)| f64::midpoint(a, b))
        .ok_or_else(|| format!("{name} is not known"))
}

fn dim(inputs: &BTreeMap<&str, Value>, name: &str) -> Option<Kind> {
    match inputs.get(name) {
        Some(Value::Quantity(q)) => Some(Kind::Dimension(q.dimension)),
        _ => None,
    }
}

fn length(x: f64) -> Length {
    Length::new::<meter>(x)
}

fn rpm(si: f64) -> f64 {
    si * 60.0 / std::f64::consts::TAU
}

fn verdict(holds: bool) -> Verdict3 {
    if holds { Verdict3::Holds } else { Verdict3::Broken }
}

/// Runs a calculation. Figures it refuses leave the answer open, with the reason.
#[must_use]
pub fn calculate(calc: &str, inputs: &BTreeMap<&str, Value>) -> Outcome {
    match run(calc, inputs) {
        Ok((holds, text, clears)) => Outcome { verdict: holds, text, clears },
        Err(text) => Outcome { verdict: Verdict3::Open, text, clears: String::new() },
    }
}

type Answer = Result<(Verdict3, String, String), String>;

fn run(calc: &str, i: &BTreeMap<&str, Value>) -> Answer {
    match calc {
        "at-least" => compare(i, "have", "want", true),
        "at-most" => compare(i, "have", "most", false),
        "belt-power" => {
            let (limit, output) = (num(i, "belt-limit")?, num(i, "output")?);
            Ok((
                verdict(limit >= output),
                format!("the belt carries {limit:.0} A of alternator, which gives {output:.0} A"),
                String::new(),
            ))
        }
        "ratio-at-least" => {
            let (a, b, ratio) = (num(i, "a")?, num(i, "b")?, num(i, "ratio")?);
            let text = format!("{} against {} times {}", show(a, dim(i, "a")), ratio, show(b, dim(i, "b")));
            Ok((verdict(a >= ratio * b * (1.0 - 1e-9)), text, String::new()))
        }
        "wheel-over-caliper" => wheel_over_caliper(i),
        "tyre-load" => tyre_load(i),
        "excitation" => excitation(i),
        "idle-balance" => idle_balance(i),
        "pedal-force" => pedal_force(i),
        "drain-back" => {
            let (master, caliper) = (num(i, "master-height")?, num(i, "caliper-height")?);
            let text = format!(
                "the master cylinder sits at {:.0} mm and the calipers at {:.0} mm",
                master * 1e3,
                caliper * 1e3
            );
            Ok((verdict(master > caliper), text, String::new()))
        }
        "speedometer" => speedo(i),
        "shaft-critical-speed" => critical(i),
        "slave-stroke" => slave(i),
        "cruise-rpm" => cruise(i),
        "carburettor-air" => carburettor_air(i),
        "wire-drop" => wire_drop(i),
        other => Err(format!("there is no calculation \"{other}\"")),
    }
}

fn told<T>(result: Result<T, knockon_figures::FigureError>) -> Result<T, String> {
    result.map_err(|e| e.to_string())
}

fn compare(i: &BTreeMap<&str, Value>, a: &str, b: &str, least: bool) -> Answer {
    let (Some((a0, a1)), Some((b0, b1))) =
        (i.get(a).and_then(Value::bounds), i.get(b).and_then(Value::bounds))
    else {
        return Err("a value is not known".to_owned());
    };
    let e = 1e-9 * a1.abs().max(b1.abs());
    let (sure, never) = if least { (a0 + e >= b1, a1 + e < b0) } else { (a1 <= b0 + e, a0 > b1 + e) };
    let answer = if sure {
        Verdict3::Holds
    } else if never {
        Verdict3::Broken
    } else {
        Verdict3::Open
    };
    let word = if least { "at least" } else { "at most" };
    let text = format!(
        "{}, {word} {} wanted",
        show(f64::midpoint(a0, a1), dim(i, a)),
        show(f64::midpoint(b0, b1), dim(i, b))
    );
    Ok((answer, text, String::new()))
}

fn wheel_over_caliper(i: &BTreeMap<&str, Value>) -> Answer {
    let (wheel, caliper, gap) = (num(i, "wheel-inside")?, num(i, "caliper-envelope")?, num(i, "gap")?);
    let c = told(wheels::wheel_over_caliper(length(wheel), length(caliper), length(gap)))?;
    let short = c.short_by.get::<meter>();
    let text = format!(
        "the wheel is {:.0} mm inside, the caliper wants {:.0} mm ({:.0} mm and {:.0} mm each side)",
        wheel * 1e3,
        (caliper + 2.0 * gap) * 1e3,
        caliper * 1e3,
        gap * 1e3
    );
    Ok((verdict(short <= 1e-9), text, format!("{:.0} mm more inside diameter", short * 2e3)))
}

fn tyre_load(i: &BTreeMap<&str, Value>) -> Answer {
    let (capacity, derate, axle) = (num(i, "capacity")?, num(i, "derate")?, num(i, "axle-rating")?);
    let usable = told(tyres::usable_load(Mass::new::<kilogram>(capacity), derate))?.get::<kilogram>();
    let text = format!(
        "each tyre carries {capacity:.0} kg / {derate:.2} = {usable:.0} kg, half the axle rating is {:.1} kg",
        axle / 2.0
    );
    Ok((verdict(usable >= axle / 2.0), text, "a higher load index".to_owned()))
}

fn excitation(i: &BTreeMap<&str, Value>) -> Answer {
    let (crank, pulley, idle, excites) = (
        num(i, "crank-pulley")?,
        num(i, "generator-pulley")?,
        rpm(num(i, "idle")?),
        rpm(num(i, "excites-at")?),
    );
    let rotor = told(charging::rotor_speed(length(crank), length(pulley), idle))?;
    let engine = told(charging::engine_speed_for_rotor(length(crank), length(pulley), excites))?;
    let text = format!(
        "at {idle:.0} rpm idle the rotor turns {rotor:.0} rpm, it excites at {excites:.0} rpm, which needs {engine:.0} engine rpm"
    );
    Ok((verdict(rotor >= excites), text, "a unit that excites lower".to_owned()))
}

fn idle_balance(i: &BTreeMap<&str, Value>) -> Answer {
    let (crank, pulley, idle, load) =
        (num(i, "crank-pulley")?, num(i, "generator-pulley")?, rpm(num(i, "idle")?), num(i, "load")?);
    let Some(Value::Curve(points)) = i.get("curve") else {
        return Err("the output curve is not known".to_owned());
    };
    let points: Vec<(f64, f64)> = points.iter().map(|(x, y)| (rpm(*x), *y)).collect();
    let rotor = told(charging::rotor_speed(length(crank), length(pulley), idle))?;
    let output = told(charging::output_at(&points, rotor))?;
    let text =
        format!("at idle the generator gives {output:.1} A at {rotor:.0} rotor rpm, the load is {load:.1} A");
    Ok((verdict(output >= load), text, format!("{:.1} A more at idle", (load - output).max(0.0))))
}

fn pedal_force(i: &BTreeMap<&str, Value>) -> Answer {
    let force = told(brakes::pedal_force(
        Mass::new::<kilogram>(num(i, "mass")?),
        num(i, "deceleration")?,
        length(num(i, "rolling-radius")?),
        num(i, "front-gain")?,
        num(i, "rear-gain")?,
        length(num(i, "master-bore")?),
        num(i, "pedal-ratio")?,
        num(i, "gain")?,
    ))?;
    let (newton, most) = (force.force.value, num(i, "most")?);
    let text = format!(
        "{newton:.0} N on the pedal for {} g at {:.2} MPa, with the vacuum lost; at most {most:.0} N",
        num(i, "deceleration")?,
        force.line_pressure.value / 1e6
    );
    Ok((verdict(newton <= most), text, "a smaller master bore or a higher pedal ratio".to_owned()))
}

fn density(per_m: f64) -> LinearNumberDensity {
    LinearNumberDensity::new::<per_meter>(per_m)
}

fn speedo(i: &BTreeMap<&str, Value>) -> Answer {
    let (revs, axle, head) = (num(i, "tyre-revs")?, num(i, "axle-ratio")?, num(i, "head")?);
    let (drive, driven) = (num(i, "drive-teeth")?.round() as u32, num(i, "driven-teeth")?.round() as u32);
    let cable = told(speedometer::cable_revs(density(revs), axle, drive, driven))?;
    let high = told(speedometer::reads_high_by(cable, density(head)))?;
    let text = format!(
        "the cable turns {:.0} rev/mile through {drive}/{driven} teeth, the head wants {:.0}: it reads {:+.1} %, 0 to +4 % is wanted",
        cable.get::<per_meter>() * 1_609.344,
        head * 1_609.344,
        high * 100.0
    );
    Ok((
        verdict((-1e-9..=0.04).contains(&high)),
        text,
        "a driven gear with another number of teeth".to_owned(),
    ))
}

fn critical(i: &BTreeMap<&str, Value>) -> Answer {
    let speed = told(driveline::critical_speed(
        length(num(i, "outside")?),
        length(num(i, "inside")?),
        length(num(i, "length")?),
    ))?;
    let top = rpm(num(i, "top-speed-rpm")?);
    let text = format!(
        "the shaft whips at {speed:.0} rpm, 70 % of that is {:.0} rpm, it turns up to {top:.0} rpm",
        speed * 0.7
    );
    Ok((verdict(top <= speed * 0.7), text, "a shorter or wider tube".to_owned()))
}

fn slave(i: &BTreeMap<&str, Value>) -> Answer {
    let (travel, master, bore, wanted) =
        (num(i, "pedal-travel-at-master")?, num(i, "master-bore")?, num(i, "slave-bore")?, num(i, "wanted")?);
    let stroke = told(clutch::slave_stroke(length(travel), length(master), length(bore)))?.get::<meter>();
    let text = format!("the slave moves {:.1} mm, the fork wants {:.1} mm", stroke * 1e3, wanted * 1e3);
    Ok((verdict(stroke >= wanted), text, "a wider master or a narrower slave".to_owned()))
}

fn cruise(i: &BTreeMap<&str, Value>) -> Answer {
    let speed = Velocity::new::<meter_per_second>(num(i, "speed")?);
    let turns = told(driveline::engine_speed(
        speed,
        density(num(i, "tyre-revs")?),
        num(i, "axle-ratio")?,
        num(i, "top-gear")?,
    ))?;
    let least = rpm(num(i, "least")?);
    let text = format!(
        "{turns:.0} rpm in top gear at {}, at least {least:.0} rpm wanted",
        i.get("speed").map_or_else(String::new, Value::text)
    );
    Ok((verdict(turns >= least), text, "a shorter top gear or axle".to_owned()))
}

fn carburettor_air(i: &BTreeMap<&str, Value>) -> Answer {
    let displacement = Volume::new::<cubic_meter>(num(i, "displacement")?);
    let need = told(carburation::air_flow(displacement, rpm(num(i, "rpm")?), num(i, "efficiency")?))?.value;
    let flow = num(i, "flow")?;
    let kind = Some(Kind::Dimension(Dimension::Flow));
    Ok((
        verdict(flow >= need),
        format!("the engine breathes {}, the carburettor flows {}", show(need, kind), show(flow, kind)),
        "a larger carburettor".to_owned(),
    ))
}

fn wire_drop(i: &BTreeMap<&str, Value>) -> Answer {
    let drop = told(charging::wire_drop(
        ElectricCurrent::new::<ampere>(num(i, "current")?),
        length(num(i, "length")?),
        Area::new::<square_meter>(num(i, "area")?),
        charging::Run::OneWay,
        false,
    ))?
    .value;
    let most = num(i, "most")?;
    Ok((
        verdict(drop <= most),
        format!("{drop:.2} V lost in the cable, at most {most:.2} V"),
        "a thicker cable".to_owned(),
    ))
}
