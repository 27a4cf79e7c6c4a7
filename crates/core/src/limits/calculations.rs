//! The named calculations, one function each: figures in, an answer with its numbers out. The engineering stands in
//! the figures crate, the limits themselves in the library.

use knockon_figures::{brakes, carburation, charging, clutch, driveline, speedometer, tyres, wheels};
use uom::si::area::square_meter;
use uom::si::electric_current::ampere;
use uom::si::f64::{Area, ElectricCurrent, Length, LinearNumberDensity, Mass, Velocity, Volume};
use uom::si::length::meter;
use uom::si::linear_number_density::per_meter;
use uom::si::mass::kilogram;
use uom::si::velocity::meter_per_second;
use uom::si::volume::cubic_meter;

use super::{Inputs, Words};
use crate::explain::show;
use crate::units::Dimension;
use crate::value::{Kind, Value};

/// Whether it holds, and its words where they are wanted; or why it cannot be computed.
type Answer = Result<(bool, Words), String>;

/// A calculation: its name, the names of its inputs, what it does.
pub(super) type Entry = (&'static str, &'static [&'static str], fn(&Inputs<'_>) -> Answer);

/// All of them, by name.
pub(super) const ALL: [Entry; 16] = [
    ("at-least", &["have", "want"], at_least),
    ("at-most", &["have", "most"], at_most),
    ("belt-power", &["belt-limit", "output"], belt_power),
    ("carburettor-air", &["displacement", "efficiency", "flow", "rpm"], carburettor_air),
    ("cruise-rpm", &["axle-ratio", "least", "speed", "top-gear", "tyre-revs"], cruise),
    ("drain-back", &["caliper-height", "master-height"], drain_back),
    ("excitation", &["crank-pulley", "excites-at", "generator-pulley", "idle"], excitation),
    ("idle-balance", &["crank-pulley", "curve", "generator-pulley", "idle", "load"], idle_balance),
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
        pedal_force,
    ),
    ("ratio-at-least", &["a", "b", "ratio"], ratio_at_least),
    ("shaft-critical-speed", &["inside", "length", "outside", "share", "top-speed-rpm"], critical),
    ("slave-stroke", &["master-bore", "pedal-travel-at-master", "slave-bore", "wanted"], slave),
    (
        "speedometer",
        &[
            "axle-ratio",
            "drive-teeth",
            "driven-teeth",
            "head",
            "reads-high-least",
            "reads-high-most",
            "tyre-revs",
        ],
        speedo,
    ),
    ("tyre-load", &["axle-rating", "capacity", "derate"], tyre_load),
    ("wheel-over-caliper", &["caliper-envelope", "gap", "wheel-inside"], wheel_over_caliper),
    ("wire-drop", &["area", "current", "length", "most"], wire_drop),
];

fn told<T>(result: Result<T, knockon_figures::FigureError>) -> Result<T, String> {
    result.map_err(|e| e.to_string())
}

fn length(x: f64) -> Length {
    Length::new::<meter>(x)
}

fn rpm(si: f64) -> f64 {
    si * 60.0 / std::f64::consts::TAU
}

fn at_least(i: &Inputs<'_>) -> Answer {
    let (have, want) = (i.number("have")?, i.number("want")?);
    let text = || format!("{}, at least {} wanted", show(have, i.kind("have")), show(want, i.kind("want")));
    Ok((
        have >= want - close(have, want),
        i.words(text, || format!("{} more", show(want - have, i.kind("want")))),
    ))
}

fn at_most(i: &Inputs<'_>) -> Answer {
    let (have, most) = (i.number("have")?, i.number("most")?);
    let text = || format!("{}, at most {} wanted", show(have, i.kind("have")), show(most, i.kind("most")));
    Ok((
        have <= most + close(have, most),
        i.words(text, || format!("{} less", show(have - most, i.kind("most")))),
    ))
}

/// Rounding of unit factors.
fn close(a: f64, b: f64) -> f64 {
    1e-9 * a.abs().max(b.abs())
}

fn ratio_at_least(i: &Inputs<'_>) -> Answer {
    let (a, b, ratio) = (i.number("a")?, i.number("b")?, i.number("ratio")?);
    let text = || format!("{} against {ratio} times {}", show(a, i.kind("a")), show(b, i.kind("b")));
    let clears = || format!("{} more", show(ratio * b - a, i.kind("a")));
    Ok((a >= ratio * b * (1.0 - 1e-9), i.words(text, clears)))
}

fn belt_power(i: &Inputs<'_>) -> Answer {
    let (limit, output) = (i.number("belt-limit")?, i.number("output")?);
    let text = || format!("the belt carries {limit:.0} A of alternator, which gives {output:.0} A");
    let clears = || format!("a wider belt, or an alternator of {limit:.0} A at most");
    Ok((limit >= output, i.words(text, clears)))
}

fn drain_back(i: &Inputs<'_>) -> Answer {
    let (master, caliper) = (i.number("master-height")?, i.number("caliper-height")?);
    let text = || {
        format!(
            "the master cylinder sits at {:.0} mm and the calipers at {:.0} mm",
            master * 1e3,
            caliper * 1e3
        )
    };
    Ok((master > caliper, i.words(text, String::new)))
}

fn wheel_over_caliper(i: &Inputs<'_>) -> Answer {
    let (wheel, caliper, gap) = (i.number("wheel-inside")?, i.number("caliper-envelope")?, i.number("gap")?);
    let c = told(wheels::wheel_over_caliper(length(wheel), length(caliper), length(gap)))?;
    let short = c.short_by.get::<meter>();
    let text = || {
        format!(
            "the wheel is {:.0} mm inside, the caliper wants {:.0} mm ({:.0} mm and {:.0} mm each side)",
            wheel * 1e3,
            (caliper + 2.0 * gap) * 1e3,
            caliper * 1e3,
            gap * 1e3
        )
    };
    Ok((short <= 1e-9, i.words(text, || format!("{:.0} mm more inside diameter", short * 2e3))))
}

fn tyre_load(i: &Inputs<'_>) -> Answer {
    let (capacity, derate, axle) = (i.number("capacity")?, i.number("derate")?, i.number("axle-rating")?);
    let usable = told(tyres::usable_load(Mass::new::<kilogram>(capacity), derate))?.get::<kilogram>();
    let text = || {
        format!(
            "each tyre carries {capacity:.0} kg / {derate:.2} = {usable:.0} kg, half the axle rating is {:.1} kg",
            axle / 2.0
        )
    };
    Ok((usable >= axle / 2.0, i.words(text, || "a higher load index".to_owned())))
}

fn excitation(i: &Inputs<'_>) -> Answer {
    let (crank, pulley, idle, excites) = (
        i.number("crank-pulley")?,
        i.number("generator-pulley")?,
        rpm(i.number("idle")?),
        rpm(i.number("excites-at")?),
    );
    let rotor = told(charging::rotor_speed(length(crank), length(pulley), idle))?;
    let engine = told(charging::engine_speed_for_rotor(length(crank), length(pulley), excites))?;
    let text = || {
        format!(
            "at {idle:.0} rpm idle the rotor turns {rotor:.0} rpm, it excites at {excites:.0} rpm, which needs {engine:.0} engine rpm"
        )
    };
    Ok((rotor >= excites, i.words(text, || "a unit that excites lower".to_owned())))
}

fn idle_balance(i: &Inputs<'_>) -> Answer {
    let (crank, pulley, idle, load) =
        (i.number("crank-pulley")?, i.number("generator-pulley")?, rpm(i.number("idle")?), i.number("load")?);
    let Some(Value::Curve(points)) = i.get("curve") else {
        return Err("the output curve is not known".to_owned());
    };
    let points: Vec<(f64, f64)> = points.iter().map(|(x, y)| (rpm(*x), *y)).collect();
    let rotor = told(charging::rotor_speed(length(crank), length(pulley), idle))?;
    let output = told(charging::output_at(&points, rotor))?;
    let text = || {
        format!("at idle the generator gives {output:.1} A at {rotor:.0} rotor rpm, the load is {load:.1} A")
    };
    Ok((output >= load, i.words(text, || format!("{:.1} A more at idle", (load - output).max(0.0)))))
}

fn pedal_force(i: &Inputs<'_>) -> Answer {
    let force = told(brakes::pedal_force(
        Mass::new::<kilogram>(i.number("mass")?),
        i.number("deceleration")?,
        length(i.number("rolling-radius")?),
        i.number("front-gain")?,
        i.number("rear-gain")?,
        length(i.number("master-bore")?),
        i.number("pedal-ratio")?,
        i.number("gain")?,
    ))?;
    let (newton, most, deceleration) = (force.force.value, i.number("most")?, i.number("deceleration")?);
    let text = || {
        format!(
            "{newton:.0} N on the pedal for {} g at {:.2} MPa, with the vacuum lost; at most {most:.0} N",
            deceleration,
            force.line_pressure.value / 1e6
        )
    };
    Ok((newton <= most, i.words(text, || "a smaller master bore or a higher pedal ratio".to_owned())))
}

fn density(per_m: f64) -> LinearNumberDensity {
    LinearNumberDensity::new::<per_meter>(per_m)
}

fn speedo(i: &Inputs<'_>) -> Answer {
    let (revs, axle, head) = (i.number("tyre-revs")?, i.number("axle-ratio")?, i.number("head")?);
    let (least, most) = (i.number("reads-high-least")?, i.number("reads-high-most")?);
    let (drive, driven) = (i.number("drive-teeth")?.round() as u32, i.number("driven-teeth")?.round() as u32);
    let cable = told(speedometer::cable_revs(density(revs), axle, drive, driven))?;
    let high = told(speedometer::reads_high_by(cable, density(head)))?;
    let text = || {
        format!(
            "the cable turns {:.0} rev/mile through {drive}/{driven} teeth, the head wants {:.0}: it reads {:+.1} %, {:+.0} to {:+.0} % is wanted",
            cable.get::<per_meter>() * 1_609.344,
            head * 1_609.344,
            high * 100.0,
            least * 100.0,
            most * 100.0
        )
    };
    let clears = || "a driven gear with another number of teeth".to_owned();
    Ok((high >= least - 1e-9 && high <= most + 1e-9, i.words(text, clears)))
}

fn critical(i: &Inputs<'_>) -> Answer {
    let speed = told(driveline::critical_speed(
        length(i.number("outside")?),
        length(i.number("inside")?),
        length(i.number("length")?),
    ))?;
    let (top, share) = (rpm(i.number("top-speed-rpm")?), i.number("share")?);
    let text = || {
        format!(
            "the shaft whips at {speed:.0} rpm, {:.0} % of that is {:.0} rpm, it turns up to {top:.0} rpm",
            share * 100.0,
            speed * share
        )
    };
    Ok((top <= speed * share, i.words(text, || "a shorter or wider tube".to_owned())))
}

fn slave(i: &Inputs<'_>) -> Answer {
    let (travel, master, bore, wanted) = (
        i.number("pedal-travel-at-master")?,
        i.number("master-bore")?,
        i.number("slave-bore")?,
        i.number("wanted")?,
    );
    let stroke = told(clutch::slave_stroke(length(travel), length(master), length(bore)))?.get::<meter>();
    let text = || format!("the slave moves {:.1} mm, the fork wants {:.1} mm", stroke * 1e3, wanted * 1e3);
    Ok((stroke >= wanted, i.words(text, || "a wider master or a narrower slave".to_owned())))
}

fn cruise(i: &Inputs<'_>) -> Answer {
    let speed = Velocity::new::<meter_per_second>(i.number("speed")?);
    let turns = told(driveline::engine_speed(
        speed,
        density(i.number("tyre-revs")?),
        i.number("axle-ratio")?,
        i.number("top-gear")?,
    ))?;
    let least = rpm(i.number("least")?);
    let text = || {
        format!(
            "{turns:.0} rpm in top gear at {}, at least {least:.0} rpm wanted",
            i.get("speed").map_or_else(String::new, Value::text)
        )
    };
    Ok((turns >= least, i.words(text, || "a shorter top gear or axle".to_owned())))
}

fn carburettor_air(i: &Inputs<'_>) -> Answer {
    let displacement = Volume::new::<cubic_meter>(i.number("displacement")?);
    let need =
        told(carburation::air_flow(displacement, rpm(i.number("rpm")?), i.number("efficiency")?))?.value;
    let flow = i.number("flow")?;
    let kind = Some(Kind::Dimension(Dimension::Flow));
    let text =
        || format!("the engine breathes {}, the carburettor flows {}", show(need, kind), show(flow, kind));
    Ok((flow >= need, i.words(text, || "a larger carburettor".to_owned())))
}

fn wire_drop(i: &Inputs<'_>) -> Answer {
    let drop = told(charging::wire_drop(
        ElectricCurrent::new::<ampere>(i.number("current")?),
        length(i.number("length")?),
        Area::new::<square_meter>(i.number("area")?),
        charging::Run::OneWay,
        false,
    ))?
    .value;
    let most = i.number("most")?;
    let text = || format!("{drop:.2} V lost in the cable, at most {most:.2} V");
    Ok((drop <= most, i.words(text, || "a thicker cable".to_owned())))
}
