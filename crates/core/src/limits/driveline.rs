//! Limits of clutch and shaft: slave stroke, critical speed, joint angles, slip.

use knockon_figures::driveline::{FlangeTilts, ShaftRun, SlipFit, SlipJoint, joint_angles, slip_fit};
use knockon_figures::gap::GapRule;
use uom::si::f64::Length as Measure;
use uom::si::length::meter;

use super::Inputs;
use super::declared::{Declared, Holds};
use super::entry::{Answer, Own, either, less, more, one, qty, told};
use crate::phrase;
use crate::units::Dimension::{Angle, Length, RotationalSpeed};

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[
    Declared {
        name: "shaft-critical-speed",
        figure: "critical-speed",
        called: &[],
        fixed: &[],
        asks: &[one("top-speed-rpm", RotationalSpeed)],
        holds: Holds::AtMost("top-speed-rpm", "used at most"),
        says: "the shaft whips at {critical speed:.0} rpm, {share:%} of that is {used at most:.0} rpm, it turns up to {top-speed-rpm:.0} rpm",
        levers: &[
            less("length", "shaft, by a centre bearing"),
            more("outside", "outside diameter of the tube"),
            less("top-speed-rpm", "shaft speed"),
        ],
    },
    Declared {
        name: "slave-stroke",
        figure: "clutch-stroke",
        called: &[("pedal-travel-at-master", "master-stroke")],
        fixed: &[],
        asks: &[one("wanted", Length)],
        holds: Holds::AtLeast("slave stroke", "wanted"),
        says: "the slave moves {slave stroke}, the fork wants {wanted}",
        levers: &[
            more("master-bore", "clutch master bore"),
            less("slave-bore", "slave bore"),
            more("pedal-travel-at-master", "travel of the pushrod"),
        ],
    },
];

pub(super) const ALL: &[Own] = &[
    Own {
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
    Own {
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
    Own {
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
];

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
