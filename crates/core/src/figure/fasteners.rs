//! Fastener figures: tap drills, inserts, clearance holes, strength, torque, unknown threads.

use knockon_figures::fasteners::drill::{
    CLEARANCE_INCH, CLEARANCE_MM, Clearance, clearance_hole, drill_for, drill_millimetres, percent_of_thread,
};
use knockon_figures::fasteners::insert::{insert_drill, insert_hole, insert_length};
use knockon_figures::fasteners::names::Named;
use knockon_figures::fasteners::strength::{Grade, proof_load, strength, tensile_load};
use knockon_figures::fasteners::tables::identify;
use knockon_figures::fasteners::torque::{grade_swap, preload_of, tightening, torque_by_friction};
use knockon_figures::wheels::nut_torque;
use uom::si::f64::Length as Measure;
use uom::si::length::millimeter;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Takes, need, or};
use super::output::{FIT, MM2, MPA, NEWTON, NM, PERCENT, number, text};
use super::trouble::Trouble;
use crate::showing::fraction;
use crate::units::Dimension::{Force, Length, Ratio, Torque};

const GRADES: &[&str] = &["4.6", "4.8", "5.8", "8.8", "10.9", "12.9", "SAE 1", "SAE 2", "SAE 5", "SAE 8"];
const FRICTION: &str = "torque coefficient: 0.20 dry, 0.15 oiled, 0.12 with anti-seize";

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "tap-drill",
        called: &["tap drill", "drill for a tap", "tapping size", "drill for a thread"],
        group: Group::Fasteners,
        name: "Tap drill",
        meaning: "drill for a tapped hole, and how much thread it leaves",
        inputs: &[
            need("thread", "the thread with its pitch", Takes::Thread, "M10x1.5"),
            or("drill", "a drill at hand by its name: 8.5, 5/16, U, #7", Takes::Text, "by the table")
                .example("8.6"),
        ],
        formula: "by the table; per cent of thread = (D - drill) / (1.299 P), Whitworth 1.2807 P",
        source: "ISO 2306 (metric coarse), diameter less pitch (metric fine), Machinery's Handbook (unified), BS 1157 \
                 (Whitworth)",
        cases: &[
            "thread=M10x1.5 -> drill: 8.5 mm; ISO 2306",
            "thread=M6x1 -> drill: 5.0 mm; ISO 2306",
            "thread=M8x1.25 -> drill: 6.8 mm; ISO 2306",
            "thread=3/8-16 -> depth of thread: 77 %; Machinery's Handbook: 5/16 in drill",
        ],
        work: tap_drill,
        ..FIGURE
    },
    Figure {
        id: "clearance-hole",
        called: &["clearance drill", "hole for a bolt", "through hole"],
        group: Group::Fasteners,
        name: "Clearance hole",
        meaning: "hole for a bolt to pass through, metric or inch",
        inputs: &[
            need("diameter", "nominal diameter of the bolt", Takes::One(Length), "10 mm"),
            or("fit", "how much play", Takes::Choice(&["fine", "medium", "coarse"]), "medium"),
        ],
        formula: "by the table",
        source: "ISO 273; ASME B18.2.8 for inches (from memory)",
        cases: &[
            "diameter=10 mm -> hole: 11 mm; ISO 273",
            "diameter=6 mm fit=fine -> hole: 6.4 mm; ISO 273",
            "diameter=8 mm fit=coarse -> hole: 10 mm; ISO 273",
        ],
        work: clearance,
        ..FIGURE
    },
    Figure {
        id: "thread-insert",
        called: &["helical insert", "thread repair", "stripped thread", "stripped hole"],
        group: Group::Fasteners,
        name: "Thread insert",
        meaning: "drill, tap and length of a wire insert for a stripped hole",
        inputs: &[need("thread", "thread of the bolt", Takes::Thread, "3/8-16")],
        formula: "the bolt's thread grown by 1.5 H: minor D + H/4, major D + 3H/2; length 1.5 D",
        source: "ASME B18.29.1 and B18.29.2M (from memory); drills and length common practice",
        cases: &[
            "thread=3/8-16 -> minor diameter, least drill: 0.389 in; ASME B18.29.1",
            "thread=1/4-20 -> pitch diameter: 0.282 in; ASME B18.29.1",
        ],
        work: insert,
        ..FIGURE
    },
    Figure {
        id: "thread-size",
        called: &["pitch diameter", "thread dimensions", "stress area"],
        group: Group::Fasteners,
        name: "Size of a thread",
        meaning: "pitch, core and stress area of a thread",
        inputs: &[need("thread", "the thread with its pitch", Takes::Thread, "M10x1.5")],
        formula: "pitch diameter D - 0.6495 P, nut minor D - 1.0825 P, core D - 1.2269 P; Whitworth by 55°",
        source: "ISO 68-1, ISO 898-1, ASME B1.1, BS 84",
        cases: &[
            "thread=M10x1.5 -> stress area: 58 mm2; ISO 898-1",
            "thread=M12x1.75 -> stress area: 84 mm2; ISO 898-1",
            "thread=1/4-28 -> stress area: 0.0364 in2; ASME B1.1",
            "thread=1/4-20 -> stress area: 0.0318 in2; ASME B1.1",
        ],
        work: size,
        ..FIGURE
    },
    Figure {
        id: "thread-name",
        called: &["identify a thread", "what thread is this", "unknown bolt", "threads per inch"],
        group: Group::Fasteners,
        name: "Unknown thread",
        meaning: "what a bolt may be by calliper and pitch gauge",
        inputs: &[
            need("over-thread", "diameter measured over the thread", Takes::One(Length), "9.45 mm"),
            need(
                "pitch",
                "from one turn to the next; 25.4 mm over the threads an inch",
                Takes::One(Length),
                "1.5875 mm",
            ),
        ],
        formula: "preferred threads 0.25 mm over to 0.05 mm under what was measured, pitch within 0.03 mm",
        source: "common practice; ISO 261, ASME B1.1, BS 84",
        cases: &["over-thread=9.45 mm pitch=1.5875 mm -> thread: 3/8-16; ASME B1.1"],
        work: name,
        ..FIGURE
    },
    Figure {
        id: "bolt-torque",
        called: &[
            "bolt torque",
            "torque",
            "torque by grade",
            "torque for a thread",
            "torque spec",
            "head bolt torque",
            "tightening torque",
        ],
        group: Group::Fasteners,
        name: "Torque of a bolt",
        meaning: "preload and torque of a bolt by thread and grade, where its maker gives none",
        inputs: &[
            need("thread", "the thread with its pitch", Takes::Thread, "M10x1.5"),
            need("grade", "as marked on the head", Takes::Choice(GRADES), "8.8"),
            or("share", "preload as a share of the proof load", Takes::One(Ratio), "75 %"),
            or("coefficient", FRICTION, Takes::One(Ratio), "0.20"),
        ],
        formula: "preload = share x proof stress x stress area; torque = K x D x preload",
        source: "Shigley, Mechanical Engineering Design, ch. 8; ISO 898-1, SAE J429",
        cases: &[
            "thread=M10x1.5 grade=8.8 -> breaking load, least: 46.4 kN; ISO 898-1",
            "thread=M12x1.75 grade=8.8 -> proof load: 48.9 kN; ISO 898-1",
            "thread=M12x1.75 grade=8.8 -> breaking load, least: 67.4 kN; ISO 898-1",
        ],
        work: torque,
        ..FIGURE
    },
    Figure {
        id: "friction-torque",
        called: &["torque from friction", "k factor", "nut factor", "torque coefficient"],
        group: Group::Fasteners,
        name: "Torque by friction",
        meaning: "torque of a preload by the friction of thread and head, and the coefficient it stands for",
        inputs: &[
            need("thread", "the thread with its pitch", Takes::Thread, "M10x1.5"),
            need("preload", "pull of the bolt", Takes::One(Force), "25 kN"),
            or("in-thread", "friction in the thread", Takes::One(Ratio), "0.12"),
            or("under-head", "friction under head or nut", Takes::One(Ratio), "0.12"),
            or(
                "head",
                "mean diameter of the ring under it; 1.3 times the bolt for a hexagon",
                Takes::One(Length),
                "unknown",
            )
            .example("13 mm"),
        ],
        formula: "F (P / (2 pi) + mu d2 / (2 cos 30°) + mu D / 2); K = torque / (D F)",
        source: "ISO 16047; VDI 2230; 0.12 for oiled steel is common practice",
        cautions: &["the maker's torque comes first"],
        cases: &[
            "thread=M10x1.5 preload=25225.473 N head=13.0 mm -> torque: 41.5 N·m; VDI 2230, by a general-purpose library",
            "thread=M8x1.25 preload=15924.7152 N head=10.4 mm -> torque: 21.0 N·m; VDI 2230, by a general-purpose library",
        ],
        moves: &["preload -> torque: rises"],
        work: by_friction,
    },
    Figure {
        id: "preload",
        called: &["clamp load", "over-tightened bolt"],
        group: Group::Fasteners,
        name: "Preload of a torque",
        meaning: "what a torque does to a bolt",
        inputs: &[
            need("thread", "the thread with its pitch", Takes::Thread, "3/8-24"),
            need("grade", "as marked on the head", Takes::Choice(GRADES), "SAE 5"),
            need("torque", "torque on the nut", Takes::One(Torque), "30 lbf·ft"),
            or("coefficient", FRICTION, Takes::One(Ratio), "0.20"),
        ],
        formula: "preload = torque / (K x D)",
        source: "Shigley, Mechanical Engineering Design, ch. 8; ISO 898-1, SAE J429",
        cases: &[
            "thread=1/2-13 grade=SAE 5 torque=75.384375 lbf·ft -> preload: 9046.1 lbf; Shigley, T = K D F, by a general-purpose library",
            "thread=7/16-14 grade=SAE 5 torque=41.3827148 lbf·ft coefficient=0.15 -> preload: 7567.1 lbf; Shigley, T = K D F, by a general-purpose library",
        ],
        moves: &["torque -> preload: rises"],
        work: preload,
        ..FIGURE
    },
    Figure {
        id: "grade-swap",
        called: &["stronger bolt", "substitute bolt", "bolt grade"],
        group: Group::Fasteners,
        name: "Bolt of another grade",
        meaning: "whether a bolt of another grade may stand in, at the old torque",
        inputs: &[
            need("thread", "the thread with its pitch", Takes::Thread, "3/8-16"),
            need("from", "grade of the old bolt", Takes::Choice(GRADES), "SAE 5"),
            need("to", "grade of the new bolt", Takes::Choice(GRADES), "SAE 8"),
            or("share", "preload as a share of the old proof load", Takes::One(Ratio), "75 %"),
            or("coefficient", FRICTION, Takes::One(Ratio), "0.20"),
        ],
        formula: "the joint wants its old preload; share of the new bolt = old preload / new proof load",
        source: "Shigley ch. 8; ISO 898-1, SAE J429",
        cases: &[
            "thread=3/8-16 from=SAE 5 to=SAE 8 -> proof load, new over old: 1.4118; SAE J429: 85 and 120 ksi",
        ],
        work: swap,
        ..FIGURE
    },
    Figure {
        id: "wheel-nut-torque",
        called: &["lug nut torque", "wheel torque"],
        group: Group::Wheel,
        name: "Wheel nut torque",
        meaning: "usual torque of a wheel nut; the vehicle's manual wins",
        inputs: &[need("thread", "thread of the stud", Takes::Thread, "1/2-20")],
        formula: "by the table",
        source: "workshop tables, dry and clean; common practice",
        cases: &[
            "thread=M12x1.25 -> least: 70 lbf·ft; a maker's service text",
            "thread=M12x1.25 -> most: 80 lbf·ft; a maker's service text",
        ],
        work: wheel_nut,
        ..FIGURE
    },
];

fn grade(g: &Given<'_>, name: &str) -> Result<Grade, Trouble> {
    Ok(match g.word(name) {
        "4.6" => Grade::Iso4_6,
        "4.8" => Grade::Iso4_8,
        "5.8" => Grade::Iso5_8,
        "8.8" => Grade::Iso8_8,
        "10.9" => Grade::Iso10_9,
        "12.9" => Grade::Iso12_9,
        "SAE 1" => Grade::Sae1,
        "SAE 2" => Grade::Sae2,
        "SAE 5" => Grade::Sae5,
        "SAE 8" => Grade::Sae8,
        other => return Err(Trouble::Words(format!("{name}: there is no grade \"{other}\""))),
    })
}

fn tap_drill(g: &Given<'_>) -> Worked {
    let Named { thread, preferred, .. } = g.thread("thread")?;
    let mut out = Vec::new();
    let drill = match (g.word("drill"), preferred) {
        ("by the table", Some(p)) => {
            out.push(text("drill by name", p.drill));
            Measure::new::<millimeter>(p.drill_mm)
        }
        // no table has it: diameter less pitch, as ISO 2306 does for fine threads
        ("by the table", None) => thread.diameter() - thread.pitch(),
        (name, _) => {
            out.push(text("drill by name", name.to_owned()));
            Measure::new::<millimeter>(drill_millimetres(name).map_err(|e| {
                Trouble::Words(if e.found.is_nan() {
                    format!("drill: \"{name}\" is no drill; expected such as 8.5, 5/16, U or #7")
                } else {
                    e.to_string()
                })
            })?)
        }
    };
    out.push(number("drill", drill.value, &FIT));
    out.push(number("depth of thread", percent_of_thread(thread, drill)? / 100.0, &PERCENT));
    out.push(number("drill for three quarters of the thread", drill_for(thread, 75.0)?.value, &FIT));
    Ok(out)
}

fn clearance(g: &Given<'_>) -> Worked {
    let fit = match g.word("fit") {
        "fine" => Clearance::Fine,
        "coarse" => Clearance::Coarse,
        _ => Clearance::Medium,
    };
    match clearance_hole(g.length("diameter"), fit)? {
        Some(hole) => Ok(vec![number("hole", hole.value, &FIT)]),
        None => {
            let sizes = CLEARANCE_MM.map(|row| row.0.to_string()).join(", ");
            let inches = CLEARANCE_INCH.map(|row| fraction(row.0, 16.0)).join(", ");
            Err(Trouble::Words(format!("the table has bolts of {sizes} mm and {inches} in")))
        }
    }
}

fn insert(g: &Given<'_>) -> Worked {
    let Named { thread, preferred, .. } = g.thread("thread")?;
    let Some(hole) = insert_hole(thread) else {
        return Err(Trouble::Words(
            "the insert of a Whitworth or BA thread has another shape: the insert maker's drill is wanted"
                .to_owned(),
        ));
    };
    let mut out = Vec::new();
    match preferred.map(|p| insert_drill(p.name)).transpose()?.flatten() {
        Some((name, drill)) => {
            out.push(text("drill by name", name));
            out.push(number("drill", drill.value, &FIT));
        }
        None => {
            out.push(text("drill", "not in the table: between minor and pitch diameter, nearer the minor"))
        }
    }
    out.push(text("tap", format!("STI {}", g.word("thread"))));
    out.push(number("minor diameter, least drill", hole.minor.value, &FIT));
    out.push(number("pitch diameter", hole.pitch.value, &FIT));
    out.push(number("over the thread of the tap", hole.major.value, &FIT));
    out.push(number("length of the insert", insert_length(thread).value, &FIT));
    Ok(out)
}

fn size(g: &Given<'_>) -> Worked {
    let thread = g.thread("thread")?.thread;
    Ok(vec![
        number("diameter", thread.diameter().value, &FIT),
        number("pitch", thread.pitch().value, &FIT),
        number("pitch diameter", thread.pitch_diameter().value, &FIT),
        number("minor diameter of the nut", thread.nut_minor_diameter().value, &FIT),
        number("core diameter of the bolt", thread.core_diameter().value, &FIT),
        number("stress area", thread.stress_area().value, &MM2),
    ])
}

fn name(g: &Given<'_>) -> Worked {
    let found = identify(g.length("over-thread"), g.length("pitch"))?;
    if found.is_empty() {
        return Ok(vec![text(
            "thread",
            "none of the preferred threads; measure again on a clean, unworn place",
        )]);
    }
    let names: Vec<&str> = found.iter().map(|p| p.name).collect();
    Ok(vec![text("thread", names.join(" or "))])
}

fn torque(g: &Given<'_>) -> Worked {
    let (thread, grade) = (g.thread("thread")?.thread, grade(g, "grade")?);
    let tight = tightening(thread, grade, g.si("share"), g.si("coefficient"))?;
    let row = strength(grade, thread.diameter())?;
    Ok(vec![
        number("torque", tight.torque.value, &NM),
        number("preload", tight.preload.value, &NEWTON),
        number("proof load", proof_load(thread, grade)?.value, &NEWTON),
        number("breaking load, least", tensile_load(thread, grade)?.value, &NEWTON),
        number("proof stress", row.proof_mpa * 1e6, &MPA),
    ])
}

fn by_friction(g: &Given<'_>) -> Worked {
    let thread = g.thread("thread")?.thread;
    let head = g.known("head").map_or_else(|| 1.3 * thread.diameter(), |_| g.length("head"));
    let force = g.force("preload");
    let torque = torque_by_friction(thread, force, g.si("in-thread"), g.si("under-head"), head)?;
    let coefficient = torque.value / (thread.diameter().value * force.value);
    Ok(vec![
        number("torque", torque.value, &NM),
        number("torque coefficient", coefficient, &super::output::BARE),
    ])
}

fn preload(g: &Given<'_>) -> Worked {
    let (thread, grade) = (g.thread("thread")?.thread, grade(g, "grade")?);
    let force = preload_of(g.si("coefficient"), thread.diameter(), g.torque("torque"))?;
    let share = force.value / proof_load(thread, grade)?.value;
    let breaks = tensile_load(thread, grade)?;
    let said = if force >= breaks {
        "over the breaking load: the bolt breaks"
    } else if share > 1.0 {
        "the bolt is stretched for good"
    } else if share > 0.9 {
        "close to the proof load"
    } else {
        "below the proof load"
    };
    Ok(vec![
        number("preload", force.value, &NEWTON),
        number("share of the proof load", share, &PERCENT),
        number("breaking load, least", breaks.value, &NEWTON),
        text("verdict", said),
    ])
}

fn swap(g: &Given<'_>) -> Worked {
    let swap = grade_swap(
        g.thread("thread")?.thread,
        grade(g, "from")?,
        grade(g, "to")?,
        g.si("share"),
        g.si("coefficient"),
    )?;
    Ok(vec![
        number("torque, as before", swap.torque.value, &NM),
        number("proof load, new over old", swap.proof_ratio, &super::output::BARE),
        number("share of its proof load", swap.share_of_proof, &PERCENT),
        text("verdict", if swap.suits { "may stand in" } else { "must not stand in: it is weaker" }),
    ])
}

fn wheel_nut(g: &Given<'_>) -> Worked {
    match nut_torque(g.word("thread")) {
        Some((low, high)) => Ok(vec![number("least", low.value, &NM), number("most", high.value, &NM)]),
        None => {
            let known: Vec<&str> = knockon_figures::wheels::NUT_TORQUES.iter().map(|t| t.thread).collect();
            Err(Trouble::Words(format!("the table has {}", known.join(", "))))
        }
    }
}
