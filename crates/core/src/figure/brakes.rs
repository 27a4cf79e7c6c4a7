//! Brake figures: from the pedal to the brakes, and the fluid.

use knockon_figures::brakes::booster::{Booster, boosted};
use knockon_figures::brakes::drum::{Shoe, Turning, shoe_torque};
use knockon_figures::brakes::fluid::{Base, Grade, wet_margin};
use knockon_figures::brakes::hydraulics::{
    PadState, clamp_force, disc_torque, displaced, effective_radius, line_pressure, pedal_travel,
    share_of_stroke,
};
use knockon_figures::brakes::pedal_force;
use knockon_figures::brakes::residual::{WheelBrake, residual_pressure, residual_suits};

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{BARE, CM3, KELVIN, KPA, MM, MPA, NEWTON, NM, PERCENT, celsius, number, text};
use crate::units::Dimension::{Angle, Force, Length, Mass, Pressure, Ratio, Temperature, TorquePerPressure};

const MASTER: Input = need("master-bore", "bore of the master cylinder", Takes::One(Length), "1 in");
const PEDAL: Input =
    need("pedal-ratio", "travel of the pad for each travel of the pushrod", Takes::One(Ratio), "6.2");
const GAIN: Input = or("booster-gain", "force out for force in; 1 is no booster", Takes::One(Ratio), "1");
pub(super) const FRONT: Input = need(
    "front",
    "brake torque of the front axle for each pressure",
    Takes::One(TorquePerPressure),
    "420 N·m/MPa",
);
pub(super) const REAR: Input = need(
    "rear",
    "brake torque of the rear axle for each pressure",
    Takes::One(TorquePerPressure),
    "180 N·m/MPa",
);
pub(super) const DECELERATION: Input =
    or("deceleration", "in units of standard gravity", Takes::One(Ratio), "0.7");

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "pedal-force",
        called: &[
            "brake pedal force",
            "pedal effort",
            "brake line pressure",
            "brake pressure",
            "hydraulics",
            "master cylinder size",
        ],
        group: Group::Brakes,
        name: "Pedal force",
        meaning: "force on the pedal and line pressure for a steady deceleration",
        inputs: &[
            need("mass", "mass laden for the stop", Takes::One(Mass), "1900 kg"),
            need("rolling-radius", "axle to road, laden", Takes::One(Length), "14.2 in"),
            FRONT,
            REAR,
            MASTER,
            PEDAL,
            GAIN,
            DECELERATION,
        ],
        formula: "p = m a r / (front + rear); F = p (pi d^2 / 4) / (ratio x gain)",
        source: "physics; Limpert, Brake Design and Safety",
        cases: &[
            "mass=1900 kg rolling-radius=14.2 in front=420 N·m/MPa rear=180 N·m/MPa master-bore=1 in pedal-ratio=6.2 -> line pressure: 7.840 MPa; arithmetic of the definition",
        ],
        moves: &[
            "mass -> line pressure: rises",
            "master-bore -> pedal force: rises",
            "pedal-ratio -> pedal force: falls",
        ],
        work: pedal,
        ..FIGURE
    },
    Figure {
        id: "disc-brake",
        called: &["caliper clamp force", "rotor torque", "brake torque"],
        group: Group::Brakes,
        name: "Disc brake",
        meaning: "from the pedal to line pressure, clamp and torque of one disc",
        inputs: &[
            need("pedal-force", "force on the pad of the pedal", Takes::One(Force), "300 N"),
            PEDAL,
            GAIN,
            MASTER,
            need("caliper-bore", "bore of one caliper piston", Takes::One(Length), "2.94 in"),
            or("pistons", "pistons of one side of the caliper", Takes::Whole, "1"),
            need("outer", "outer radius of the rubbed track", Takes::One(Length), "5.8 in"),
            need("inner", "inner radius of the rubbed track", Takes::One(Length), "3.8 in"),
            or("friction", "of pad on disc, cold", Takes::One(Ratio), "0.38"),
            or("pads", "how far the pads have bedded in", Takes::Choice(&["bedded", "new"]), "bedded"),
        ],
        formula: "p = F ratio gain / (pi d^2 / 4); clamp = p n pi d^2 / 4; torque = 2 mu clamp r; bedded r = (ro + ri) / 2",
        source: "physics; Shigley ch. 16; Limpert; friction is common practice",
        cases: &[
            "pedal-force=100 lbf pedal-ratio=6.0 master-bore=1 in caliper-bore=2.9375 in outer=140 mm inner=90 mm -> line pressure: 763.94 psi; p = F x ratio / area, by a general-purpose library",
            "pedal-force=100 lbf pedal-ratio=6.0 master-bore=1 in caliper-bore=2.9375 in outer=140 mm inner=90 mm pads=new -> effective radius: 116.812 mm; Shigley ch. 16, by quadrature",
            "pedal-force=100 lbf pedal-ratio=6.0 master-bore=0.875 in caliper-bore=2.9375 in outer=150 mm inner=100 mm -> effective radius: 125 mm; Shigley ch. 16, by quadrature",
        ],
        moves: &["pedal-force -> torque of one disc: rises", "master-bore -> line pressure: falls"],
        work: disc,
        ..FIGURE
    },
    Figure {
        id: "drum-shoe",
        called: &["drum brake torque", "leading shoe"],
        group: Group::Brakes,
        name: "Drum brake shoe",
        meaning: "torque of a leading and a trailing shoe from the force on the tip",
        inputs: &[
            need("force", "at the tip, from the wheel cylinder", Takes::One(Force), "2000 N"),
            need("drum-radius", "inside radius of the drum", Takes::One(Length), "5.5 in"),
            need("lining-width", "width of the lining", Takes::One(Length), "2 in"),
            need("pin-radius", "centre of the drum to the pin", Takes::One(Length), "4.4 in"),
            need("force-arm", "pin to the line of the force", Takes::One(Length), "8.6 in"),
            need("heel", "where the lining begins, from the pin", Takes::One(Angle), "15 deg"),
            need("toe", "where it ends, from the pin", Takes::One(Angle), "130 deg"),
            or("friction", "of lining on drum, cold", Takes::One(Ratio), "0.35"),
        ],
        formula: "force x arm = Mn - Mf leading, Mn + Mf trailing; torque = mu p b r^2 (cos heel - cos toe) / sin a",
        source: "Shigley, Mechanical Engineering Design, ch. 16; friction is common practice",
        cases: &[
            "force=2279.06304982 N drum-radius=150 mm lining-width=32 mm pin-radius=122.653984852 mm force-arm=212 mm heel=0 deg toe=126 deg friction=0.32 -> torque of a leading shoe: 365.83 N·m; Shigley, example 16-2, by quadrature",
            "force=2279.06304982 N drum-radius=150 mm lining-width=32 mm pin-radius=122.653984852 mm force-arm=212 mm heel=0 deg toe=126 deg friction=0.32 -> torque of a trailing shoe: 161.93 N·m; Shigley, example 16-2, by quadrature",
        ],
        moves: &["force -> torque of a leading shoe: rises"],
        work: shoe,
        ..FIGURE
    },
    Figure {
        id: "pedal-travel",
        called: &["brake pedal travel", "master cylinder stroke", "long pedal"],
        group: Group::Brakes,
        name: "Pedal travel",
        meaning: "travel of the pedal and share of the master cylinder's stroke the wheels take",
        inputs: &[
            MASTER,
            PEDAL,
            need("stroke", "stroke of the master cylinder", Takes::One(Length), "1.4 in"),
            need("bore", "bore of a caliper piston or wheel cylinder", Takes::One(Length), "1-1/8 in"),
            need("piston-travel", "how far each piston moves", Takes::One(Length), "2 mm"),
            need("pistons", "all pistons of the circuit that move, 1 to 12", Takes::Whole, "4"),
            or("free-play", "of the pushrod before the piston moves", Takes::One(Length), "1 mm"),
        ],
        formula: "V = n s pi d^2 / 4; travel = ratio (free play + V / (pi D^2 / 4))",
        source: "conservation of volume; up to 60 % of the stroke is common practice",
        cases: &[
            "master-bore=1 in pedal-ratio=6 stroke=1.2 in bore=2.9375 in piston-travel=0.010 in pistons=2 -> fluid displaced: 0.135543 in3; V = A s, by a general-purpose library",
        ],
        moves: &["piston-travel -> pedal travel: rises", "master-bore -> share of the stroke: falls"],
        work: travel,
        ..FIGURE
    },
    Figure {
        id: "booster",
        called: &["brake booster", "servo", "power brakes", "vacuum booster"],
        group: Group::Brakes,
        name: "Vacuum booster",
        meaning: "force out of a booster, and where its vacuum adds no more",
        inputs: &[
            need("force", "of the pedal on the booster's rod", Takes::One(Force), "900 N"),
            need("diaphragm", "effective diameter; 25 mm less than the shell", Takes::One(Length), "8 in"),
            need("vacuum", "under the air outside", Takes::One(Pressure), "18 inHg"),
            or("gain", "force out for force in before the knee", Takes::One(Ratio), "4"),
            or("diaphragms", "one behind the other, 1 to 3", Takes::Whole, "1"),
        ],
        formula: "least of gain x F and F + vacuum x area",
        source: "force balance of the diaphragm; Limpert",
        cases: &[
            "force=900 N diaphragm=8 in vacuum=18 inHg -> force out: 2876.7 N; arithmetic of the definition",
        ],
        moves: &["vacuum -> force in at the knee: rises"],
        work: booster,
        ..FIGURE
    },
    Figure {
        id: "residual-pressure",
        called: &["residual valve", "residual pressure valve"],
        group: Group::Brakes,
        name: "Residual pressure",
        meaning: "pressure a circuit keeps at rest, and whether a valve suits",
        inputs: &[
            need(
                "brake",
                "what works at the wheels",
                Takes::Choice(&["drum", "disc-below-master", "disc-level-or-above"]),
                "drum",
            ),
            or("held", "pressure of the valve", Takes::One(Pressure), "unknown").example("10 psi"),
        ],
        formula: "drum 8 to 12 psi, disc below its master none, disc level or above 2 psi; to half a psi",
        source: "common practice",
        cases: &[
            "brake=drum held=10 psi -> verdict: the valve suits; common practice: 10 psi for drums",
            "brake=disc-level-or-above held=2 psi -> verdict: the valve suits; common practice: 2 psi for discs",
        ],
        work: residual,
        ..FIGURE
    },
    Figure {
        id: "brake-fluid",
        called: &["dot 4", "brake fluid boiling", "silicone fluid"],
        group: Group::Brakes,
        name: "Brake fluid",
        meaning: "boiling points of a grade, room to them, and what it may be mixed with",
        inputs: &[
            need(
                "grade",
                "as marked on the container",
                Takes::Choice(&["DOT 3", "DOT 4", "DOT 5", "DOT 5.1"]),
                "DOT 4",
            ),
            or("hottest", "fluid in the wheel cylinder at its hottest", Takes::One(Temperature), "unknown")
                .example("120 °C"),
            or(
                "other",
                "grade in the circuit",
                Takes::Choice(&["DOT 3", "DOT 4", "DOT 5", "DOT 5.1"]),
                "unknown",
            )
            .example("DOT 3"),
        ],
        formula: "room = wet boiling point - hottest",
        source: "49 CFR 571.116 (clause numbers from memory)",
        cases: &[
            "grade=DOT 3 -> boils, fresh: 205 °C; 49 CFR 571.116 S5.1.1",
            "grade=DOT 4 -> boils, fresh: 230 °C; 49 CFR 571.116 S5.1.1",
            "grade=DOT 4 -> boils, old: 155 °C; 49 CFR 571.116 S5.1.2",
        ],
        work: fluid,
        ..FIGURE
    },
];

fn pedal(g: &Given<'_>) -> Worked {
    let found = pedal_force(
        g.mass("mass"),
        g.si("deceleration"),
        g.length("rolling-radius"),
        g.si("front"),
        g.si("rear"),
        g.length("master-bore"),
        g.si("pedal-ratio"),
        g.si("booster-gain"),
    )?;
    Ok(vec![
        number("pedal force", found.force.value, &NEWTON),
        number("line pressure", found.line_pressure.value, &MPA),
    ])
}

fn disc(g: &Given<'_>) -> Worked {
    let pressure = line_pressure(
        g.force("pedal-force"),
        g.si("pedal-ratio"),
        g.si("booster-gain"),
        g.length("master-bore"),
    )?;
    let clamp = clamp_force(pressure, g.length("caliper-bore"), g.whole("pistons"))?;
    let pads = if g.word("pads") == "new" { PadState::New } else { PadState::Bedded };
    let radius = effective_radius(g.length("outer"), g.length("inner"), pads)?;
    let torque = disc_torque(clamp, g.si("friction"), radius)?;
    Ok(vec![
        number("line pressure", pressure.value, &MPA),
        number("clamp force", clamp.value, &NEWTON),
        number("effective radius", radius.value, &MM),
        number("torque of one disc", torque.value, &NM),
    ])
}

fn shoe(g: &Given<'_>) -> Worked {
    let shoe = Shoe {
        drum_radius: g.length("drum-radius"),
        lining_width: g.length("lining-width"),
        friction: g.si("friction"),
        heel: g.angle("heel"),
        toe: g.angle("toe"),
        pin_radius: g.length("pin-radius"),
        force_arm: g.length("force-arm"),
    };
    let leading = shoe_torque(&shoe, g.force("force"), Turning::Leading)?;
    let trailing = shoe_torque(&shoe, g.force("force"), Turning::Trailing)?;
    Ok(vec![
        number("torque of a leading shoe", leading.torque.value, &NM),
        number("torque of a trailing shoe", trailing.torque.value, &NM),
        number("one of each", leading.torque.value + trailing.torque.value, &NM),
        number("highest lining pressure, leading", leading.lining_pressure.value, &KPA),
    ])
}

fn travel(g: &Given<'_>) -> Worked {
    let master = g.length("master-bore");
    let volume = displaced(g.length("bore"), g.length("piston-travel"), g.whole("pistons"))?;
    let travel = pedal_travel(volume, master, g.si("pedal-ratio"), g.length("free-play"))?;
    let share = share_of_stroke(volume, master, g.length("stroke"))?;
    let said = if share > 1.0 {
        "the piston meets its end before the brakes bite: a bigger master cylinder is wanted"
    } else if share > 0.6 {
        "more than 60 % of the stroke: too little is left for heat and wear"
    } else {
        "enough stroke is left for heat and wear"
    };
    Ok(vec![
        number("fluid displaced", volume.value, &CM3),
        number("pedal travel", travel.value, &MM),
        number("share of the stroke", share, &PERCENT),
        text("verdict", said),
    ])
}

fn booster(g: &Given<'_>) -> Worked {
    let booster = Booster {
        gain: g.si("gain"),
        diaphragm: g.length("diaphragm"),
        diaphragms: u8::try_from(g.whole("diaphragms")).unwrap_or(u8::MAX),
    };
    let out = boosted(&booster, g.force("force"), g.pressure("vacuum"))?;
    let mut list = vec![number("force out", out.output.value, &NEWTON), number("gain here", out.gain, &BARE)];
    match out.knee {
        Some(knee) => list.push(number("force in at the knee", knee.value, &NEWTON)),
        None => list.push(text("force in at the knee", "none: a gain of 1 adds nothing")),
    }
    Ok(list)
}

fn residual(g: &Given<'_>) -> Worked {
    let brake = match g.word("brake") {
        "disc-below-master" => WheelBrake::DiscBelowMaster,
        "disc-level-or-above" => WheelBrake::DiscLevelOrAbove,
        _ => WheelBrake::Drum,
    };
    let (low, high) = residual_pressure(brake);
    let mut out = vec![number("least", low.value, &KPA), number("most", high.value, &KPA)];
    if g.known("held").is_some() {
        let suits = residual_suits(brake, g.pressure("held"))?;
        out.push(text("verdict", if suits { "the valve suits" } else { "the valve does not suit" }));
    }
    Ok(out)
}

fn grade_of(word: &str) -> Grade {
    match word {
        "DOT 3" => Grade::Dot3,
        "DOT 5" => Grade::Dot5,
        "DOT 5.1" => Grade::Dot51,
        _ => Grade::Dot4,
    }
}

fn fluid(g: &Given<'_>) -> Worked {
    let grade = grade_of(g.word("grade"));
    let points = grade.boiling();
    let base = match grade.base() {
        Base::Glycol => "glycol: takes up water, eats paint",
        Base::Silicone => "silicone: takes up no water",
    };
    let mut out =
        vec![celsius("boils, fresh", points.dry), celsius("boils, old", points.wet), text("base", base)];
    if g.known("hottest").is_some() {
        let room = wet_margin(grade, g.temperature("hottest"))?.value;
        out.push(number("room to boiling, old", room, &KELVIN));
        out.push(text("verdict", if room < 0.0 { "boils: the pedal goes soft" } else { "does not boil" }));
    }
    let other = g.word("other");
    if !other.is_empty() {
        let may = grade.mixes_with(grade_of(other));
        let said = if may { "may stand in one circuit with" } else { "must not meet" };
        out.push(text("mixing", format!("{said} {other}")));
    }
    Ok(out)
}
