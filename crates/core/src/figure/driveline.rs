//! Driveline figures: joints, shaft, slip, critical speed, clutch stroke.

use knockon_figures::clutch::{clutch_torque, slave_stroke};
use knockon_figures::driveline::{
    COMFORT_DEG, FlangeTilts, MOST_DEG, Phase, ShaftRun, SlipJoint, comfortable, compound_angle,
    critical_speed, joint_angles, most_lift, peak_acceleration, pinion_tilt_to_cancel, residual_angle,
    shaft_length, shaft_order, slip_fit, slip_split, speed_swing,
};
use knockon_figures::gap::GapRule;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{BARE, DEGREE, MM, NM, PERCENT, number, rpm, text};
use super::trouble::Trouble;
use super::tyre::holds;
use crate::units::Dimension::{Angle, Force, Length, Ratio};

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
        called: &[
            "u-joint angle",
            "universal joint",
            "driveline vibration",
            "driveline angle",
            "pinion angle",
            "lift kit driveshaft",
            "lift driveshaft",
            "u-joint",
        ],
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
        cases: &[
            "length=1150 mm drop=90 mm output-down=3 deg pinion-up=2 deg -> joint at the gearbox: 1.4886°; plane geometry by a general-purpose library",
        ],
        work: angles,
        ..FIGURE
    },
    Figure {
        id: "joint-swing",
        called: &["universal joint speed", "joint at a large angle"],
        group: Group::Driveline,
        name: "Speed swing of a joint",
        meaning: "how unevenly one joint drives",
        inputs: &[need("angle", "angle of the joint", Takes::One(Angle), "10 deg").signed()],
        formula: "fastest 1 / cos, slowest cos, swing sin tan, lead asin((1 - cos) / (1 + cos)); acceleration: steepest slope \
                  of the speed over the turn",
        source: "kinematics of the Hooke joint",
        cases: &[
            "angle=6 deg -> fastest: 1.00550827956; kinematics of the joint, confirmed by differentiation",
            "angle=3 deg -> slowest: 0.998629534755; kinematics of the joint, confirmed by differentiation",
            "angle=6 deg -> runs ahead and behind by: 0.157367°; kinematics of the joint, confirmed by differentiation",
        ],
        moves: &["angle -> fastest: rises"],
        work: swing,
        ..FIGURE
    },
    Figure {
        id: "two-joints",
        called: &["phasing", "yokes in phase", "joints cancel"],
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
        cases: &["first=5 deg second=3 deg -> left over: 4°; SAE AE-7: sqrt(5^2 - 3^2)"],
        work: two,
        ..FIGURE
    },
    Figure {
        id: "compound-angle",
        called: &["true joint angle", "angle from two views"],
        group: Group::Driveline,
        name: "Angle from two sides",
        meaning: "true angle of a joint from side view and plan view",
        inputs: &[
            need("side", "seen from the side", Takes::One(Angle), "4 deg").signed(),
            need("plan", "seen from above", Takes::One(Angle), "3 deg").signed(),
        ],
        formula: "tan^2 = tan^2 side + tan^2 plan",
        source: "angle between two directions in space",
        cases: &[
            "side=6 deg plan=2 deg -> true angle: 6.31995701°; scalar product, by a general-purpose library",
        ],
        work: compound,
        ..FIGURE
    },
    Figure {
        id: "critical-speed",
        called: &[
            "driveshaft length",
            "shaft speed limit",
            "whip",
            "driveshaft rpm",
            "longest driveshaft",
            "driveshaft tube",
            "driveshaft",
        ],
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
        cases: &[
            "outside=3.0 in inside=2.834 in length=50 in -> critical speed: 7859.7 rpm; Euler beam, confirmed by finite elements",
            "outside=2.5 in inside=2.37 in length=60 in -> critical speed: 4556.00 rpm; Euler beam, confirmed by finite elements",
        ],
        moves: &["length -> critical speed: falls", "outside -> critical speed: rises"],
        work: critical,
        ..FIGURE
    },
    Figure {
        id: "slip-yoke",
        called: &["slip yoke travel", "spline engagement", "plunge"],
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
        cases: &[
            "length=1150 mm drop=90 mm room-in=25 mm engaged=60 mm bump=80 mm droop=100 mm spline=35 mm -> room to push in, least: 21.5 mm; plane geometry by a general-purpose library",
            "length=1150 mm drop=90 mm room-in=25 mm engaged=60 mm bump=80 mm droop=100 mm spline=35 mm -> spline engaged, least: 47.890 mm; plane geometry by a general-purpose library",
        ],
        work: slip,
        ..FIGURE
    },
    Figure {
        id: "shaft-order",
        called: &["measure a driveshaft", "new driveshaft", "driveshaft to order"],
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
        cases: &[
            "length=1150 mm drop=90 mm lift=75 mm slip=75 mm -> at ride height: 1158.29 mm; plane geometry by a general-purpose library",
        ],
        work: order,
        ..FIGURE
    },
    Figure {
        id: "clutch-torque",
        called: &["clutch capacity", "clutch slips", "pressure plate clamp load"],
        group: Group::Driveline,
        name: "Torque of a clutch",
        meaning: "torque a dry clutch carries before it slips",
        inputs: &[
            need("outer", "outside diameter of the lining", Takes::One(Length), "11 in"),
            need("inner", "inside diameter of the lining", Takes::One(Length), "7 in"),
            need("clamp", "of the pressure plate", Takes::One(Force), "6000 N"),
            or("faces", "that rub: two for one plate", Takes::Whole, "2"),
            or("friction", "of the lining, dry", Takes::One(Ratio), "0.3"),
        ],
        formula: "n mu F 2 (ro^3 - ri^3) / (3 (ro^2 - ri^2))",
        source: "Shigley, Mechanical Engineering Design, ch. 16, uniform pressure; friction is common practice",
        cautions: &["dust of old linings holds asbestos: wet it, never blow it out"],
        cases: &["outer=11 in inner=7 in clamp=6000 N -> torque: 418.3 N·m; uniform pressure, by quadrature"],
        moves: &["clamp -> torque: rises", "outer -> torque: rises"],
        work: plate,
    },
    Figure {
        id: "clutch-stroke",
        called: &["hydraulic clutch", "clutch slave cylinder", "clutch master"],
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
        cases: &[
            "master-stroke=28 mm master-bore=3/4 in slave-bore=7/8 in -> slave stroke: 20.5714 mm; conservation of volume",
        ],
        moves: &["master-bore -> slave stroke: rises", "slave-bore -> slave stroke: falls"],
        work: clutch,
        ..FIGURE
    },
];

fn shaft(g: &Given<'_>) -> Result<ShaftRun, Trouble> {
    Ok(ShaftRun::from_length(g.length("length"), g.length("drop"), g.length("side"))?)
}

fn angles(g: &Given<'_>) -> Worked {
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

fn swing(g: &Given<'_>) -> Worked {
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

fn two(g: &Given<'_>) -> Worked {
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

fn compound(g: &Given<'_>) -> Worked {
    Ok(vec![number("true angle", compound_angle(g.angle("side"), g.angle("plan"))?.value, &DEGREE)])
}

fn critical(g: &Given<'_>) -> Worked {
    let speed = critical_speed(g.length("outside"), g.length("inside"), g.length("length"))?;
    let share = g.si("share");
    if !(0.05..=1.0).contains(&share) {
        return Err(Trouble::Words(format!("share that is used: found {share}, expected 0.05 to 1")));
    }
    Ok(vec![rpm("critical speed", speed), rpm("used at most", speed * share)])
}

fn slip(g: &Given<'_>) -> Worked {
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

fn order(g: &Given<'_>) -> Worked {
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

fn clutch(g: &Given<'_>) -> Worked {
    let stroke = slave_stroke(g.length("master-stroke"), g.length("master-bore"), g.length("slave-bore"))?;
    Ok(vec![number("slave stroke", stroke.value, &MM)])
}

fn plate(g: &Given<'_>) -> Worked {
    let (outer, inner) = (g.length("outer"), g.length("inner"));
    let torque = clutch_torque(outer, inner, g.force("clamp"), g.whole("faces"), g.si("friction"))?;
    Ok(vec![number("torque", torque.value, &NM)])
}
