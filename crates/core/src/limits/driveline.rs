//! Limits of clutch and shaft: slave stroke, critical speed, joint angles, slip.

use knockon_figures::clutch::slave_stroke;
use knockon_figures::driveline::{
    FlangeTilts, ShaftRun, SlipFit, SlipJoint, critical_speed, joint_angles, slip_fit,
};
use knockon_figures::gap::GapRule;
use uom::si::f64::Length as Measure;
use uom::si::length::meter;

use super::Inputs;
use super::entry::{Answer, Entry, close, either, less, more, one, qty, told};
use crate::phrase;
use crate::units::Dimension::{Angle, Length, Ratio, RotationalSpeed};

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "shaft-critical-speed",
        inputs: &[
            one("inside", Length),
            one("length", Length),
            one("outside", Length),
            one("share", Ratio),
            one("top-speed-rpm", RotationalSpeed),
        ],
        levers: &[
            less("length", "shaft, by a centre bearing"),
            more("outside", "outside diameter of the tube"),
            less("top-speed-rpm", "shaft speed"),
        ],
        work: critical,
    },
    Entry {
        name: "joint-angles",
        inputs: &[
            one("apart", Angle),
            one("drop", Length),
            one("length", Length),
            one("lift", Length),
            one("most", Angle),
            one("output-down", Angle),
            one("pinion-up", Angle),
            one("side", Length),
        ],
        levers: &[
            either("pinion-up", "pinion tilt, by wedges on the springs"),
            either("output-down", "output tilt, by shims under the gearbox mount"),
            less("lift", "lift"),
        ],
        work: angles,
    },
    Entry {
        name: "slip-push",
        inputs: &[
            one("bump", Length),
            one("droop", Length),
            one("drop", Length),
            one("length", Length),
            one("room-in", Length),
            one("want", Length),
        ],
        levers: &[
            more("room-in", "room to push in, by a shorter shaft"),
            less("bump", "bump travel, by a longer stop"),
        ],
        work: push,
    },
    Entry {
        name: "slip-pull",
        inputs: &[
            one("bump", Length),
            one("droop", Length),
            one("drop", Length),
            one("engaged", Length),
            one("length", Length),
            one("want", Length),
        ],
        levers: &[
            more("engaged", "spline engaged, by a longer slip yoke"),
            less("droop", "droop, by a strap"),
        ],
        work: pull,
    },
    Entry {
        name: "slave-stroke",
        inputs: &[
            one("master-bore", Length),
            one("pedal-travel-at-master", Length),
            one("slave-bore", Length),
            one("wanted", Length),
        ],
        levers: &[
            more("master-bore", "clutch master bore"),
            less("slave-bore", "slave bore"),
            more("pedal-travel-at-master", "travel of the pushrod"),
        ],
        work: slave,
    },
];

/// `(pi / 8) sqrt(E / rho) sqrt(outside^2 + inside^2) / length^2`, of which a share is used (beam theory).
fn critical(i: &Inputs<'_>) -> Answer {
    let speed = told(critical_speed(i.length("outside")?, i.length("inside")?, i.length("length")?))?;
    let (top, share) = (i.rpm("top-speed-rpm")?, i.number("share")?);
    if !(0.05..=1.0).contains(&share) {
        return Err(format!("share: found {share}, expected 0.05 to 1"));
    }
    let text = || {
        format!(
            "the shaft whips at {speed:.0} rpm, {:.0} % of that is {:.0} rpm, it turns up to {top:.0} rpm",
            share * 100.0,
            speed * share
        )
        .into()
    };
    Ok((top <= speed * share + close(top, speed), i.say(text)))
}

/// Angles between flanges and shaft in space; both small, and near enough each other to cancel (scalar product; the
/// limits are common practice).
fn angles(i: &Inputs<'_>) -> Answer {
    let shaft = told(ShaftRun::from_length(i.length("length")?, i.length("drop")?, i.length("side")?))?;
    let shaft = told(shaft.lifted(i.length("lift")?))?;
    let tilts = FlangeTilts { output_down: i.angle("output-down")?, pinion_up: i.angle("pinion-up")? };
    let found = told(joint_angles(shaft, tilts))?;
    let (output, pinion) = (found.output.value, found.pinion.value);
    let (most, apart) = (i.number("most")?, i.number("apart")?);
    let text = || {
        phrase![
            "the joints run at ",
            qty(output, Angle).beside(most),
            " at the gearbox and ",
            qty(pinion, Angle).beside(most),
            " at the axle; at most ",
            qty(most, Angle).beside(output.max(pinion)),
            ", and within ",
            qty(apart, Angle).beside((output - pinion).abs()),
            " of each other, wanted"
        ]
    };
    let holds = output.max(pinion) <= most + 1e-9 && (output - pinion).abs() <= apart + 1e-9;
    Ok((holds, i.say(text)))
}

/// The slip over the travel of the axle: change of `sqrt(run^2 + drop^2)` (geometry). One end is asked for at a time, and
/// what the joint has there stands for both.
fn slip(i: &Inputs<'_>, end: &str) -> Result<SlipFit, String> {
    let level = Measure::new::<meter>(0.0);
    let shaft = told(ShaftRun::from_length(i.length("length")?, i.length("drop")?, level))?;
    let has = i.length(end)?;
    let joint = SlipJoint { room_in: has, engaged: has };
    let rule = GapRule::exact(i.length("want")?);
    told(slip_fit(shaft, joint, [i.length("bump")?, i.length("droop")?], [rule, rule]))
}

fn push(i: &Inputs<'_>) -> Answer {
    let gap = slip(i, "room-in")?.room_in;
    let text = || {
        let (left, want) = (gap.found.value, gap.rule.wanted.value);
        phrase![
            qty(left, Length).beside(want),
            " is left to push in over the travel, at least ",
            qty(want, Length).beside(left),
            " wanted"
        ]
    };
    Ok((gap.holds(), i.say(text)))
}

fn pull(i: &Inputs<'_>) -> Answer {
    let gap = slip(i, "engaged")?.engaged;
    let text = || {
        let (left, want) = (gap.found.value, gap.rule.wanted.value);
        phrase![
            qty(left, Length).beside(want),
            " of spline stays engaged over the travel, at least ",
            qty(want, Length).beside(left),
            " wanted"
        ]
    };
    Ok((gap.holds(), i.say(text)))
}

/// `master stroke x (master bore / slave bore)^2` (conservation of volume).
fn slave(i: &Inputs<'_>) -> Answer {
    let (travel, master) = (i.length("pedal-travel-at-master")?, i.length("master-bore")?);
    let stroke = told(slave_stroke(travel, master, i.length("slave-bore")?))?.get::<meter>();
    let wanted = i.number("wanted")?;
    let text = || {
        let (stroke, wanted) = (qty(stroke, Length).beside(wanted), qty(wanted, Length).beside(stroke));
        phrase!["the slave moves ", stroke, ", the fork wants ", wanted]
    };
    Ok((stroke >= wanted - close(stroke, wanted), i.say(text)))
}
