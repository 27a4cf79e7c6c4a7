//! Limits of wheels and tyres: over the brake, in the body, on the studs, load.

use knockon_figures::gap::GapRule;
use knockon_figures::tyre_room::{TyreOnLock, lock_gap};
use knockon_figures::tyres::{LOAD_INDEX_FIRST, LOAD_INDEX_KG, usable_load};
use knockon_figures::wheels::{WheelPlace, moved};
use uom::si::f64::Length as Measure;
use uom::si::length::meter;

use super::Inputs;
use super::declared::{Declared, Holds};
use super::entry::{Answer, Own, Way, close, less, more, one, qty, said, told};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Dimension::{Angle, Length, Mass, Ratio};

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[
    Declared {
        name: "wheel-over-caliper",
        figure: "wheel-over-caliper",
        called: &[],
        fixed: &[],
        asks: &[],
        holds: Holds::AtLeast("wheel-inside", "inside diameter wanted"),
        says: "the wheel is {wheel-inside} inside, the caliper wants {inside diameter wanted} ({caliper-envelope} and {gap} each side)",
        levers: &[
            more("wheel-inside", "inside diameter of the wheel"),
            less("caliper-envelope", "across the caliper"),
        ],
    },
    Declared {
        name: "tyre-in-arch",
        figure: "tallest-tyre",
        called: &[],
        fixed: &[],
        asks: &[one("diameter", Length)],
        holds: Holds::AtMost("diameter", "tallest tyre"),
        says: "the tyre stands {diameter} tall, {tallest tyre} at most fits the arch",
        levers: &[
            less("diameter", "diameter of the tyre"),
            more("lift", "lift"),
            less("bump", "bump travel, by a longer stop"),
        ],
    },
    Declared {
        name: "stud-engagement",
        figure: "stud-engagement",
        called: &[],
        fixed: &[],
        asks: &[],
        holds: Holds::AtLeast("thread engaged", "thread wanted in the nut"),
        says: "the nut holds by {thread engaged} of thread, at least {thread wanted in the nut} wanted",
        levers: &[
            more("stud-out", "stud"),
            less("spacer", "spacer"),
            more("nut-thread", "thread in the nut"),
        ],
    },
];

pub(super) const ALL: &[Own] = &[
    Own {
        name: "wheel-inner-gap",
        inputs: PLACE,
        levers: &[
            more("spacer", "spacer"),
            less("new-offset", "offset"),
            less("new-width", "width of the tyre"),
        ],
        work: inner,
    },
    Own {
        name: "wheel-outer-gap",
        inputs: PLACE,
        levers: &[
            more("new-offset", "offset"),
            less("new-width", "width of the tyre"),
            less("spacer", "spacer"),
        ],
        work: outer,
    },
    Own {
        name: "wheel-lock-gap",
        inputs: &[
            one("gap", Length),
            one("lock", Angle),
            one("new-diameter", Length),
            one("new-offset", Length),
            one("new-width", Length),
            one("old-diameter", Length),
            one("old-offset", Length),
            one("old-width", Length),
            one("spacer", Length),
            one("want", Length),
        ],
        levers: &[
            more("spacer", "spacer"),
            less("new-offset", "offset"),
            less("new-width", "width of the tyre"),
        ],
        work: lock_change,
    },
    Own {
        name: "tyre-on-lock",
        inputs: &[
            one("centre-out", Length),
            one("diameter", Length),
            one("gap", Length),
            one("lock", Angle),
            one("section", Length),
            one("to-spring", Length),
        ],
        levers: &[
            less("lock", "lock, by a longer lock stop"),
            more("centre-out", "from the steering axis out, by a spacer or less offset"),
            less("diameter", "diameter of the tyre"),
        ],
        work: lock,
    },
    Own {
        name: "tyre-load",
        inputs: &[one("axle-rating", Mass), one("capacity", Mass), one("derate", Ratio)],
        levers: &[said("capacity", Way::Sizes(loads), index)],
        work: load,
    },
];

const PLACE: &[super::entry::Input] = &[
    one("gap", Length),
    one("new-offset", Length),
    one("new-width", Length),
    one("old-offset", Length),
    one("old-width", Length),
    one("spacer", Length),
    one("want", Length),
];

/// How far the edges move with other wheels (geometry): inward, outward.
fn edges(i: &Inputs<'_>) -> Result<(f64, f64), String> {
    let none = Measure::new::<meter>(0.0);
    let from = WheelPlace { width: i.length("old-width")?, offset: i.length("old-offset")?, spacer: none };
    let to = WheelPlace {
        width: i.length("new-width")?,
        offset: i.length("new-offset")?,
        spacer: i.length("spacer")?,
    };
    let change = told(moved(from, to))?;
    Ok((change.inner_edge_in.value, change.outer_edge_out.value))
}

fn gap(i: &Inputs<'_>, moves: f64, [way, back]: [&str; 2]) -> Answer {
    let (had, want) = (i.number("gap")?, i.number("want")?);
    let left = had - moves;
    let text = || {
        phrase![
            "the edge of the tyre moves ",
            qty(moves.abs(), Length),
            format!(" {}, which leaves ", if moves < 0.0 { back } else { way }),
            qty(left, Length).beside(want),
            " of ",
            qty(had, Length),
            "; at least ",
            qty(want, Length).beside(left),
            " wanted"
        ]
    };
    Ok((left >= want - 1e-9, i.say(text)))
}

/// `inner edge = width / 2 + offset - spacer`, against the gap as found.
fn inner(i: &Inputs<'_>) -> Answer {
    gap(i, edges(i)?.0, ["inward", "outward"])
}

/// `outer edge = width / 2 - offset + spacer`, against the gap as found.
fn outer(i: &Inputs<'_>) -> Answer {
    gap(i, edges(i)?.1, ["outward", "inward"])
}

/// The corner of a taller tyre swings in by half its diameter, its inner edge by the move: `gap - (half the difference of
/// the diameters x sin lock + move inward x cos lock)`, the tyre a box seen from above (geometry).
fn lock_change(i: &Inputs<'_>) -> Answer {
    let (inward, lock) = (edges(i)?.0, i.number("lock")?);
    let taller = i.number("new-diameter")? - i.number("old-diameter")?;
    if !(0.0..=1.2).contains(&lock) || !taller.is_finite() {
        return Err(format!("lock: found {:.0}°, expected 0° to 69°", lock.to_degrees()));
    }
    let (had, want) = (i.number("gap")?, i.number("want")?);
    let left = had - (taller / 2.0 * lock.sin() + inward * lock.cos());
    let text = || {
        phrase![
            "the inner edge of the tyre moves ",
            qty(inward.abs(), Length),
            format!(" {} and the tyre stands ", if inward < 0.0 { "outward" } else { "inward" }),
            qty(taller.abs(), Length),
            format!(" {}, which leaves ", if taller < 0.0 { "lower" } else { "taller" }),
            qty(left, Length).beside(want),
            " of ",
            qty(had, Length),
            " at ",
            qty(lock, Angle).decimals(0),
            " of lock; at least ",
            qty(want, Length).beside(left),
            " wanted"
        ]
    };
    Ok((left >= want - 1e-9, i.say(text)))
}

/// `gap = axis to spring - (v sin lock - u cos lock)`, the tyre a box seen from above (geometry).
fn lock(i: &Inputs<'_>) -> Answer {
    let tyre = TyreOnLock {
        centre_out: i.length("centre-out")?,
        diameter: i.length("diameter")?,
        section: i.length("section")?,
    };
    let (lock, want) = (i.angle("lock")?, i.length("gap")?);
    let found = told(lock_gap(tyre, i.length("to-spring")?, lock, GapRule::exact(want)))?;
    let text = || {
        let room = found.found.value;
        phrase![
            "the tyre stands ",
            qty(room, Length).beside(want.value),
            " from the spring at ",
            qty(lock.value, Angle).decimals(0),
            " of lock, at least ",
            qty(want.value, Length).beside(room),
            " wanted"
        ]
    };
    Ok((found.holds(), i.say(text)))
}

/// Loads of the load index table, kg.
fn loads() -> Vec<f64> {
    LOAD_INDEX_KG.iter().map(|kg| f64::from(*kg)).collect()
}

fn index(kg: f64) -> Phrase {
    let at =
        LOAD_INDEX_KG.iter().zip(u32::from(LOAD_INDEX_FIRST)..).find(|(k, _)| f64::from(**k) >= kg - 0.5);
    at.map_or_else(
        || phrase![qty(kg, Mass), " for each tyre"],
        |(_, index)| phrase![format!("load index {index} ("), qty(kg, Mass).decimals(0), ")"],
    )
}

/// Load of a tyre over its allowance against half the axle rating (49 CFR 571.110, 571.120).
fn load(i: &Inputs<'_>) -> Answer {
    let (capacity, derate, axle) = (i.number("capacity")?, i.number("derate")?, i.number("axle-rating")?);
    let usable = told(usable_load(i.mass("capacity")?, derate))?.value;
    let text = || {
        let half = axle / 2.0;
        let marked = phrase![" (", qty(capacity, Mass), format!(" by its mark, divided by {derate:.2})")];
        phrase!["each tyre carries ", qty(usable, Mass).beside(half)]
            .then(if derate > 1.0 { marked } else { phrase![] })
            .then(phrase![", half the axle rating is ", qty(half, Mass).beside(usable)])
    };
    Ok((usable >= axle / 2.0 - close(usable, axle), i.say(text)))
}
