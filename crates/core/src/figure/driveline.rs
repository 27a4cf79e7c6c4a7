//! Driveline figures: joints, shaft, slip, critical speed, clutch stroke.

use knockon_figures::clutch::slave_stroke;
use knockon_figures::driveline::{
    COMFORT_DEG, FlangeTilts, MOST_DEG, Phase, ShaftRun, SlipJoint, comfortable, compound_angle,
    critical_speed, joint_angles, most_lift, peak_acceleration, pinion_tilt_to_cancel, residual_angle,
    shaft_length, shaft_order, slip_fit, slip_split, speed_swing,
};
use knockon_figures::gap::GapRule;

use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{BARE, DEGREE, MM, PERCENT, number, rpm, text};
use super::tyre::holds;
use super::{Figure, Group, Worked};
use crate::units::Dimension::{Angle, Length, Ratio};

const SHAFT: Input =
    need("length", "joint centre to joint centre at ride height", Takes::One(Length), "1150 mm");
const DROP: Input =
    need("drop", "how much lower the joint at the axle lies", Takes::One(Length), "90 mm").signed();
const SIDE: Input =
    or("side", "how far the joints stand apart across the vehicle", Takes::One(Length), "0 mm")
        .signed()
        .example("30 mm");
const LIFT: Input = or("lift", "that is yet to come", Takes::One(Length), "0 mm").signed().example("75 mm");

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "joint-angles",
        group: Group::Driveline,
        name: "Joint angles",
        meaning: "angles of the two joints of a shaft, after a lift too, and how well they cancel",
        inputs: &[
            SHAFT,
            DROP,
            SIDE,
            LIFT,
            need(
                "output-down",
                "output pointing down toward the axle is positive",
                Takes::One(Angle),
                "3 deg",
            )
            .signed(),
            need(
                "pinion-up",
                "pinion pointing up toward the gearbox is positive",
                Takes::One(Angle),
                "2 deg",
            )
            .signed(),
        ],
        formula: "angles between flange and shaft in space; what is left acos(cos larger / cos smaller); a lift makes the \
                  drop larger",
        source: "scalar product; joints in series, 3° left as in SAE AE-7 (from memory); up to 3° at each joint for \
                 comfort at speed, both equal within 1°, and 30° at most is common practice",
        work: angles,
    },
    Figure {
        id: "joint-swing",
        group: Group::Driveline,
        name: "Speed swing of a joint",
        meaning: "how unevenly one joint drives",
        inputs: &[need("angle", "angle of the joint", Takes::One(Angle), "10 deg").signed()],
        formula: "fastest 1 / cos, slowest cos, swing sin tan, lead asin((1 - cos) / (1 + cos)); acceleration: steepest slope \
                  of the speed over the turn",
        source: "kinematics of the Hooke joint",
        work: swing,
    },
    Figure {
        id: "two-joints",
        group: Group::Driveline,
        name: "Two joints",
        meaning: "angle of one joint that would swing as much as two on one shaft",
        inputs: &[
            need("first", "angle of the first joint", Takes::One(Angle), "5 deg").signed(),
            need("second", "angle of the second joint", Takes::One(Angle), "4 deg").signed(),
            or(
                "yokes",
                "in line as they should, or a quarter turn apart",
                Takes::Choice(&["in-line", "crossed"]),
                "in-line",
            ),
        ],
        formula: "in line acos(cos larger / cos smaller), crossed acos(cos b1 x cos b2)",
        source: "joints in series; within 3° as in SAE AE-7, from memory",
        work: two,
    },
    Figure {
        id: "compound-angle",
        group: Group::Driveline,
        name: "Angle from two sides",
        meaning: "true angle of a joint from side view and plan view",
        inputs: &[
            need("side", "seen from the side", Takes::One(Angle), "4 deg").signed(),
            need("plan", "seen from above", Takes::One(Angle), "3 deg").signed(),
        ],
        formula: "tan^2 = tan^2 side + tan^2 plan",
        source: "angle between two directions in space",
        work: compound,
    },
    Figure {
        id: "critical-speed",
        group: Group::Driveline,
        name: "Critical speed of a shaft",
        meaning: "first bending speed of a steel tube, and the share that may be used",
        inputs: &[
            need("outside", "outside diameter of the tube", Takes::One(Length), "3 in"),
            need("inside", "inside diameter", Takes::One(Length), "2.87 in"),
            need("length", "joint centre to joint centre", Takes::One(Length), "55 in"),
            or("share", "that is used at most", Takes::One(Ratio), "70 %"),
        ],
        formula: "(pi / 8) sqrt(E / rho) sqrt(outside^2 + inside^2) / length^2",
        source: "Euler beam, first mode, pinned ends; E 206.8 GPa, 7,850 kg/m3; 70 % is common practice",
        work: critical,
    },
    Figure {
        id: "slip-yoke",
        group: Group::Driveline,
        name: "Slip yoke",
        meaning: "room to push in at bump and spline left at droop",
        inputs: &[
            SHAFT,
            DROP,
            SIDE,
            need("room-in", "how far it can still push in at ride height", Takes::One(Length), "25 mm"),
            need("engaged", "length of spline engaged at ride height", Takes::One(Length), "60 mm"),
            need("bump", "travel of the axle up", Takes::One(Length), "80 mm"),
            need("droop", "travel of the axle down", Takes::One(Length), "100 mm"),
            or("room", "room wanted to push in", Takes::One(Length), "10 mm"),
            need("spline", "engagement wanted: the diameter of the spline", Takes::One(Length), "35 mm"),
        ],
        formula: "change of sqrt(run^2 + side^2 + drop^2) over the travel",
        source: "geometry; one diameter of spline is common practice",
        work: slip,
    },
    Figure {
        id: "shaft-order",
        group: Group::Driveline,
        name: "Shaft to order",
        meaning: "lengths of a shaft to order after a lift",
        inputs: &[
            SHAFT,
            DROP,
            SIDE,
            LIFT,
            need("slip", "travel of the slip from pushed in to pulled out", Takes::One(Length), "75 mm"),
        ],
        formula: "sqrt(run^2 + side^2 + (drop + lift)^2); a third of the slip in, two thirds out",
        source: "geometry; the split is common practice",
        work: order,
    },
    Figure {
        id: "clutch-stroke",
        group: Group::Driveline,
        name: "Clutch slave stroke",
        meaning: "stroke of a hydraulic clutch's slave cylinder",
        inputs: &[
            need("master-stroke", "of the piston, after its free play", Takes::One(Length), "28 mm"),
            need("master-bore", "bore of the master cylinder", Takes::One(Length), "3/4 in"),
            need("slave-bore", "bore of the slave cylinder", Takes::One(Length), "7/8 in"),
        ],
        formula: "master stroke x (master bore / slave bore)^2",
        source: "conservation of volume",
        work: clutch,
    },
];

fn shaft(g: &Given) -> Result<ShaftRun, super::Trouble> {
    Ok(ShaftRun::from_length(g.length("length"), g.length("drop"), g.length("side"))?)
}

fn angles(g: &Given) -> Worked {
    let shaft = shaft(g)?.lifted(g.length("lift"))?;
    let most = uom::si::f64::Angle::new::<uom::si::angle::degree>(COMFORT_DEG);
    let tilts = FlangeTilts { output_down: g.angle("output-down"), pinion_up: g.angle("pinion-up") };
    let found = joint_angles(shaft, tilts)?;
    let left = residual_angle(found.output, found.pinion, Phase::InLine)?;
    let apart = (found.output.value - found.pinion.value).abs();
    let cancel = if apart <= 1_f64.to_radians() + 1e-9 {
        "the joints cancel"
    } else if comfortable(left) {
        "the joints do not quite cancel, within 3°"
    } else {
        "the joints do not cancel: it shakes"
    };
    let larger = if found.output > found.pinion { found.output } else { found.pinion };
    let said = match works_at(larger) {
        Some(limit) => format!("{cancel}; {limit}"),
        None => cancel.to_owned(),
    };
    let mut out = vec![
        number("joint at the gearbox", found.output.value, &DEGREE),
        number("joint at the axle", found.pinion.value, &DEGREE),
        number("left over", left.value, &DEGREE),
        number("pinion up that cancels", pinion_tilt_to_cancel(tilts.output_down)?.value, &DEGREE),
        number("length of the shaft", shaft_length(shaft)?.value, &MM),
        text("verdict", said),
    ];
    match most_lift(shaft, tilts, most)? {
        Some(lift) => out.push(number("lift that keeps 3°, from here", lift.value, &MM)),
        None => out.push(text("lift that keeps 3°", "none: a joint is over 3° as it lies")),
    }
    Ok(out)
}

/// What is to be said of the angle a joint works at, cancelled or not.
fn works_at(angle: uom::si::f64::Angle) -> Option<String> {
    let deg = angle.abs().get::<uom::si::angle::degree>();
    if deg > MOST_DEG + 1e-9 {
        return Some(format!("{deg:.0}° is more than a plain joint may work at ({MOST_DEG}°)"));
    }
    (!comfortable(angle.abs())).then(|| format!("a joint over {COMFORT_DEG}° is not for road speed"))
}

fn swing(g: &Given) -> Worked {
    let angle = g.angle("angle");
    let swing = speed_swing(angle)?;
    Ok(vec![
        number("fastest", swing.fastest, &BARE),
        number("slowest", swing.slowest, &BARE),
        number("swing", swing.swing, &PERCENT),
        number("runs ahead and behind by", swing.lead.value, &DEGREE),
        number("peak acceleration over speed squared", peak_acceleration(angle)?, &BARE),
        text("verdict", works_at(angle).unwrap_or_else(|| "within 3°: it runs easy".to_owned())),
    ])
}

fn two(g: &Given) -> Worked {
    let phase = if g.word("yokes") == "crossed" { Phase::Crossed } else { Phase::InLine };
    let left = residual_angle(g.angle("first"), g.angle("second"), phase)?;
    let said = if comfortable(left) { "what is left is within 3°" } else { "over 3° is left: it shakes" };
    let (first, second) = (g.angle("first").abs(), g.angle("second").abs());
    let said = match works_at(if first > second { first } else { second }) {
        Some(limit) => format!("{said}; {limit}"),
        None => said.to_owned(),
    };
    Ok(vec![number("left over", left.value, &DEGREE), text("verdict", said)])
}

fn compound(g: &Given) -> Worked {
    Ok(vec![number("true angle", compound_angle(g.angle("side"), g.angle("plan"))?.value, &DEGREE)])
}

fn critical(g: &Given) -> Worked {
    let speed = critical_speed(g.length("outside"), g.length("inside"), g.length("length"))?;
    let share = g.si("share");
    if !(0.05..=1.0).contains(&share) {
        return Err(super::Trouble::Words(format!("share that is used: found {share}, expected 0.05 to 1")));
    }
    Ok(vec![rpm("critical speed", speed), rpm("used at most", speed * share)])
}

fn slip(g: &Given) -> Worked {
    let joint = SlipJoint { room_in: g.length("room-in"), engaged: g.length("engaged") };
    let rules = [GapRule::exact(g.length("room")), GapRule::exact(g.length("spline"))];
    let fit = slip_fit(shaft(g)?, joint, [g.length("bump"), g.length("droop")], rules)?;
    Ok(vec![
        number("room to push in, least", fit.room_in.found.value, &MM),
        holds("pushing in", &fit.room_in),
        number("spline engaged, least", fit.engaged.found.value, &MM),
        holds("engagement", &fit.engaged),
    ])
}

fn order(g: &Given) -> Worked {
    let total = g.length("slip");
    let order = shaft_order(shaft(g)?.lifted(g.length("lift"))?, total)?;
    let split = slip_split(total)?;
    Ok(vec![
        number("at ride height", order.at_ride.value, &MM),
        number("pushed in", order.closed.value, &MM),
        number("pulled out", order.open.value, &MM),
        number("of the slip, to push in", split.inward.value, &MM),
        number("of the slip, to pull out", split.outward.value, &MM),
    ])
}

fn clutch(g: &Given) -> Worked {
    let stroke = slave_stroke(g.length("master-stroke"), g.length("master-bore"), g.length("slave-bore"))?;
    Ok(vec![number("slave stroke", stroke.value, &MM)])
}
