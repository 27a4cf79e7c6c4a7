//! Tyre figures: size codes, loads, speed, speedometer, room in the body.

use knockon_figures::gap::{Gap, GapRule, GapVerdict};
use knockon_figures::tyre_room::{
    TyreOnLock, WheelHouse, greatest_lock, lift_wanted, lock_edge_gap, lock_gap, tallest_tyre,
};
use knockon_figures::{speedometer, tyres};
use uom::si::length::millimeter;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Takes, need, or};
use super::output::{DEGREE, KG, KMH, MM, Output, PERCENT, REV_KM, REV_MILE, number, text};
use super::trouble::Trouble;
use crate::units::Dimension::{Angle, Length, Mass, PerLength, Ratio, Speed};

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "tyre",
        called: &[
            "tire size",
            "tire diameter",
            "tyre height",
            "tire calculator",
            "turns per mile",
            "revs per mile",
            "sidewall",
        ],
        group: Group::Tyre,
        name: "Tyre size",
        meaning: "diameter, width, sidewall and turns of a tyre by its size code",
        inputs: &[need("code", "the size on the sidewall", Takes::Text, "31x10.50R15LT")],
        formula: "metric: diameter = 25.4 mm x rim + 2 x width x aspect; a size with its diameter written in it has that \
                  one; turns = 1 / (pi x diameter x rolling factor)",
        source: "ISO 4000-1, T&RA Year Book, ETRTO Standards Manual; heights that a size leaves out, and the rolling factor \
                 (0.97 radial, 0.952 bias-ply), are from memory",
        cases: &[
            "code=31x10.50R15LT -> diameter: 31 in; T&RA, definition of the size code",
            "code=P235/75R15 -> diameter: 733.5 mm; ISO 4000-1, definition of the size code",
            "code=P235/75R15 -> sidewall: 176.25 mm; ISO 4000-1, definition of the size code",
        ],
        work: tyre,
        ..FIGURE
    },
    Figure {
        id: "load-index",
        called: &["tire load rating", "load range"],
        group: Group::Tyre,
        name: "Load index",
        meaning: "load one tyre may carry by its load index",
        inputs: &[
            need("index", "load index on the sidewall, 50 to 150", Takes::Whole, "105"),
            or("derate", "1.10 for a passenger-car tyre on a truck, else 1", Takes::One(Ratio), "1"),
        ],
        formula: "load by the table, divided by the allowance",
        source: "ISO 4000-1 (table from memory); 49 CFR 571.120",
        cases: &[
            "index=105 -> load of one tyre: 925 kg; ISO 4000-1",
            "index=75 -> load of one tyre: 387 kg; UN R30 Annex 4",
            "index=80 -> load of one tyre: 450 kg; UN R30 Annex 4",
        ],
        work: load_index,
        ..FIGURE
    },
    Figure {
        id: "load-index-wanted",
        called: &["load rating for an axle"],
        group: Group::Tyre,
        name: "Load index wanted",
        meaning: "lowest load index that carries an axle",
        inputs: &[
            need("axle-rating", "what the axle may weigh", Takes::One(Mass), "1400 kg"),
            or("tyres", "tyres on the axle", Takes::Whole, "2"),
            or("derate", "1.10 for a passenger-car tyre on a truck, else 1", Takes::One(Ratio), "1"),
        ],
        formula: "least index with load / derate x tyres >= axle rating",
        source: "49 CFR 571.110 and 571.120",
        cases: &["axle-rating=900 kg -> load index wanted: 80; UN R30 Annex 4: index 80 is 450 kg"],
        work: load_index_wanted,
        ..FIGURE
    },
    Figure {
        id: "speed-symbol",
        called: &["speed rating"],
        group: Group::Tyre,
        name: "Speed symbol",
        meaning: "speed a tyre is made for by its letter",
        inputs: &[need("symbol", "the letter behind the load index", Takes::Text, "S")],
        formula: "by the table",
        source: "UN R54, ISO 4223-1 (some letters from memory)",
        cases: &[
            "symbol=Q -> speed it is made for: 160 km/h; UN R30 2.29",
            "symbol=R -> speed it is made for: 170 km/h; UN R30 2.29",
        ],
        work: speed_symbol,
        ..FIGURE
    },
    Figure {
        id: "speedometer-error",
        called: &[
            "bigger tires speedometer",
            "speedometer off",
            "speedo correction",
            "larger tyres read slow",
        ],
        group: Group::Tyre,
        name: "Speedometer after a tyre change",
        meaning: "what the speedometer shows on other tyres",
        inputs: &[
            need("old", "size of the tyres it was right on", Takes::Text, "6.70-15"),
            need("new", "size of the new tyres", Takes::Text, "235/75R15"),
            or("shown", "what the speedometer shows", Takes::One(Speed), "60 mph"),
            or("before", "by how much it read high on the old tyres", Takes::One(Ratio), "0 %").signed(),
        ],
        formula: "error = (1 + before) x old rolling diameter / new - 1; true speed = shown x new / old; the cable must \
                  turn 1 / (1 + error) as fast; rolling diameter = diameter x rolling factor",
        source: "proportion, the head counts turns; UN R39 (from memory): never below the true speed",
        cases: &[
            "old=P235/75R15 new=31x10.50R15LT -> true speed: 64.409 mph; proportion of the diameters by the size codes, by a general-purpose library",
        ],
        work: speedometer_error,
        ..FIGURE
    },
    Figure {
        id: "tyres-compared",
        called: &[
            "compare two tyres",
            "tire size comparison",
            "old and new tyre side by side",
            "plus sizing",
        ],
        group: Group::Tyre,
        name: "Two tyres side by side",
        meaning: "two tyres by their size codes, and what the second changes",
        inputs: &[
            need("one", "size of the tyres as they are", Takes::Text, "6.70-15"),
            need("other", "size of the others", Takes::Text, "235/75R15"),
        ],
        formula: "as for one tyre; higher by half the difference of the diameters; turns as the rolling diameters",
        source: "ISO 4000-1, T&RA Year Book, ETRTO Standards Manual",
        cases: &[
            "one=P235/75R15 other=31x10.50R15LT -> wheel centre higher by: 26.95 mm; half of 787.4 mm less 733.5 mm, definitions of the size codes",
            "one=P235/75R15 other=31x10.50R15LT -> taller by: 7.348 %; 787.4 / 733.5, by a general-purpose library",
            "one=P235/75R15 other=31x10.50R15LT -> diameter, other: 31.0 in; T&RA",
        ],
        work: compared,
        ..FIGURE
    },
    Figure {
        id: "speedometer-gears",
        called: &["speedometer gear teeth", "speedo drive gear", "cable turns"],
        group: Group::Tyre,
        name: "Speedometer drive",
        meaning: "turns of the cable and how far the head reads high",
        inputs: &[
            need("tyre-revs", "turns of the road wheel", Takes::One(PerLength), "728 rev/mile"),
            need("axle-ratio", "axle ratio", Takes::One(Ratio), "3.90"),
            need("drive-teeth", "teeth or starts of the drive gear", Takes::Whole, "6"),
            need("driven-teeth", "teeth of the driven gear", Takes::Whole, "17"),
            or("head", "turns the head is made for", Takes::One(PerLength), "1000 rev/mile"),
        ],
        formula: "cable = tyre turns x axle ratio x drive teeth / driven teeth; reads high by cable / head - 1",
        source: "gear kinematics; SAE J678 head rates",
        cases: &[
            "tyre-revs=728 rev/mile axle-ratio=3.90 drive-teeth=6 driven-teeth=17 -> cable, turns a mile: 1002.07 rev/mile; arithmetic of the definition; SAE J678 head of 1,000 turns a mile",
        ],
        moves: &["tyre-revs -> cable, turns a mile: rises"],
        work: speedometer_gears,
        ..FIGURE
    },
    Figure {
        id: "tallest-tyre",
        called: &["biggest tire that fits", "largest tire", "tyre room under the wing"],
        group: Group::TyreInBody,
        name: "Tallest tyre",
        meaning: "tallest tyre for a lift",
        inputs: &[
            need(
                "hub-to-arch",
                "wheel centre up to the arch at ride height, before a lift",
                Takes::One(Length),
                "470 mm",
            ),
            need(
                "hub-to-edge",
                "wheel centre to the nearer end of the opening",
                Takes::One(Length),
                "410 mm",
            ),
            need("bump", "how far the wheel rises to its stop", Takes::One(Length), "90 mm"),
            or("lift", "lift of the body over the axle", Takes::One(Length), "0 mm")
                .signed()
                .example("50 mm"),
            or("gap", "gap to keep all round", Takes::One(Length), "15 mm"),
        ],
        formula: "by height 2 (hub to arch + lift - bump - gap), by length 2 (hub to edge - gap)",
        source: "geometry; the gap is common practice",
        cases: &[
            "hub-to-arch=470 mm hub-to-edge=410 mm bump=90 mm lift=50 mm -> tallest tyre: 790 mm; arithmetic of the definition",
        ],
        moves: &["bump -> tallest tyre: falls"],
        work: tallest,
        ..FIGURE
    },
    Figure {
        id: "lift-for-tyre",
        called: &["lift for bigger tires", "how much lift"],
        group: Group::TyreInBody,
        name: "Lift for a tyre",
        meaning: "lift a tyre wants to clear the arch at full bump",
        inputs: &[
            need("diameter", "diameter of the tyre", Takes::One(Length), "31 in"),
            need("hub-to-arch", "wheel centre up to the arch at ride height", Takes::One(Length), "470 mm"),
            need(
                "hub-to-edge",
                "wheel centre to the nearer end of the opening",
                Takes::One(Length),
                "410 mm",
            ),
            need("bump", "how far the wheel rises to its stop", Takes::One(Length), "90 mm"),
            or("gap", "gap to keep over it", Takes::One(Length), "15 mm"),
        ],
        formula: "lift = diameter / 2 + bump + gap - hub to arch",
        source: "geometry; the gap is common practice",
        cases: &[
            "diameter=31 in hub-to-arch=470 mm hub-to-edge=410 mm bump=90 mm -> lift: 28.7 mm; arithmetic of the definition",
        ],
        moves: &["diameter -> lift: rises"],
        work: lift,
        ..FIGURE
    },
    Figure {
        id: "tyre-on-lock",
        called: &["tire rubs on full lock", "steering lock clearance", "tyre rubs the spring"],
        group: Group::TyreInBody,
        name: "Tyre on lock",
        meaning: "gap of a turned front tyre to the spring and to the end of the opening",
        inputs: &[
            need(
                "centre-out",
                "steering axis at hub height out to the middle of the tyre",
                Takes::One(Length),
                "60 mm",
            )
            .signed(),
            need("diameter", "diameter of the tyre", Takes::One(Length), "31 in"),
            need("section", "section width of the tyre", Takes::One(Length), "10.5 in"),
            need("to-spring", "steering axis in to the spring or rail", Takes::One(Length), "330 mm"),
            need("to-edge", "steering axis along to the end of the opening", Takes::One(Length), "520 mm"),
            need("lock", "angle of this wheel on full lock", Takes::One(Angle), "28 deg"),
            or("gap", "gap to keep", Takes::One(Length), "15 mm"),
        ],
        formula: "to the spring axis to spring - (v sin lock - u cos lock), to the edge axis to edge - (v cos lock + w sin \
                  lock); v half the diameter, u and w the tyre's sides from the axis",
        source: "geometry, the tyre a box seen from above; 15 mm is common practice",
        cases: &[
            "centre-out=60 mm diameter=31 in section=10.5 in to-spring=330 mm to-edge=520 mm lock=28 deg -> gap to the spring: 80.405 mm; plane geometry by a general-purpose library",
        ],
        work: on_lock,
        ..FIGURE
    },
];

fn tyre(g: &Given<'_>) -> Worked {
    let size = tyres::parse(g.word("code"))?;
    let turns = size.revolutions()?;
    let mut out = vec![
        number("diameter", size.diameter.value, &MM),
        number("known within", size.diameter_within, &PERCENT),
        number("section width", size.section.value, &MM),
        number("sidewall", size.sidewall().value, &MM),
        number("aspect", size.aspect_pct / 100.0, &PERCENT),
        text("aspect is", size.aspect_from.to_string()),
        number("turns a mile", turns.value, &REV_MILE),
        number("turns a kilometre", turns.value, &REV_KM),
    ];
    if let Some(load) = size.load_capacity()? {
        out.push(number("load of one tyre", load.value, &KG));
    }
    if let Some(symbol) = size.speed_symbol {
        out.push(number("speed it is made for", tyres::speed_limit(symbol)?.value, &KMH));
    }
    Ok(out)
}

fn load_index(g: &Given<'_>) -> Worked {
    let load = tyres::load_capacity(g.whole("index"))?;
    Ok(vec![
        number("load of one tyre", load.value, &KG),
        number("usable", tyres::usable_load(load, g.si("derate"))?.value, &KG),
    ])
}

fn load_index_wanted(g: &Given<'_>) -> Worked {
    let index = tyres::load_index_wanted(g.mass("axle-rating"), g.whole("tyres"), g.si("derate"))?;
    Ok(vec![
        number("load index wanted", f64::from(index), &super::output::BARE),
        number("load of one tyre", tyres::load_capacity(index)?.value, &KG),
    ])
}

fn speed_symbol(g: &Given<'_>) -> Worked {
    let mut letters = g.word("symbol").chars();
    let (Some(letter), None) = (letters.next(), letters.next()) else {
        return Err(Trouble::Words("symbol: expected one letter from B to Y, for example S".to_owned()));
    };
    Ok(vec![number("speed it is made for", tyres::speed_limit(letter)?.value, &KMH)])
}

fn speedometer_error(g: &Given<'_>) -> Worked {
    let (old_tyre, new_tyre) = (tyres::parse(g.word("old"))?, tyres::parse(g.word("new"))?);
    let (old, new) = (old_tyre.rolling_diameter(), new_tyre.rolling_diameter());
    let high = speedometer::reads_high_on_new_tyres(g.si("before"), old, new)?;
    // a size says its tyre only so well: what both leave open is open
    let open = old_tyre.open_against(&new_tyre);
    let said = if high + open < 0.0 {
        "reads low, which the law does not allow: correct the drive".to_owned()
    } else if high - open < -1e-9 && high.abs() > 1e-9 {
        format!(
            "may read low, which the law does not allow: the sizes leave {:.1} % open; roll both tyres out and measure",
            open * 100.0
        )
    } else if high > 0.1 {
        "reads high by more than a tenth".to_owned()
    } else {
        "does not read low".to_owned()
    };
    let shown = g.speed("shown");
    let before = speedometer::true_speed_on_new_tyres(shown, old, new)?;
    Ok(vec![
        number("old diameter", old_tyre.diameter.value, &MM),
        number("new diameter", new_tyre.diameter.value, &MM),
        number("reads high by", high, &PERCENT),
        number("either way, by the sizes", open, &PERCENT),
        number("cable must turn", speedometer::cable_correction(high)?, &PERCENT),
        number("true speed", before.value / (1.0 + g.si("before")), &KMH),
        text("verdict", said),
    ])
}

fn compared(g: &Given<'_>) -> Worked {
    let (one, other) = (tyres::parse(g.word("one"))?, tyres::parse(g.word("other"))?);
    let taller = other.diameter - one.diameter;
    Ok(vec![
        number("diameter, one", one.diameter.value, &MM),
        number("diameter, other", other.diameter.value, &MM),
        number("section width, one", one.section.value, &MM),
        number("section width, other", other.section.value, &MM),
        number("sidewall, one", one.sidewall().value, &MM),
        number("sidewall, other", other.sidewall().value, &MM),
        number("turns a mile, one", one.revolutions()?.value, &REV_MILE),
        number("turns a mile, other", other.revolutions()?.value, &REV_MILE),
        number("taller by", taller.value / one.diameter.value, &PERCENT),
        number("wheel centre higher by", taller.value / 2.0, &MM),
        number("wider by", (other.section - one.section).value, &MM),
        number("either way, by the sizes", one.open_against(&other), &PERCENT),
    ])
}

fn speedometer_gears(g: &Given<'_>) -> Worked {
    let cable = speedometer::cable_revs(
        g.per_length("tyre-revs"),
        g.si("axle-ratio"),
        g.whole("drive-teeth"),
        g.whole("driven-teeth"),
    )?;
    let high = speedometer::reads_high_by(cable, g.per_length("head"))?;
    Ok(vec![
        number("cable, turns a mile", cable.value, &REV_MILE),
        number("cable, turns a kilometre", cable.value, &REV_KM),
        number("reads high by", high, &PERCENT),
    ])
}

fn house(g: &Given<'_>) -> WheelHouse {
    WheelHouse {
        hub_to_arch: g.length("hub-to-arch"),
        hub_to_edge: g.length("hub-to-edge"),
        bump: g.length("bump"),
    }
}

fn tallest(g: &Given<'_>) -> Worked {
    let tallest = tallest_tyre(house(g), g.length("lift"), g.length("gap"))?;
    Ok(vec![
        number("tallest tyre", tallest.diameter().value, &MM),
        number("by height", tallest.by_height.value, &MM),
        number("by length", tallest.by_length.value, &MM),
    ])
}

fn lift(g: &Given<'_>) -> Worked {
    let (house, diameter, gap) = (house(g), g.length("diameter"), g.length("gap"));
    let lift = lift_wanted(house, diameter, gap)?;
    let by_length = tallest_tyre(house, lift, gap)?.by_length;
    let mut out = vec![number("lift", lift.value, &MM)];
    if diameter > by_length {
        out.push(text(
            "verdict",
            format!(
                "no lift is enough: the opening takes {:.0} mm along its length",
                by_length.get::<millimeter>()
            ),
        ));
    } else {
        out.push(text("verdict", "the opening is long enough"));
    }
    Ok(out)
}

fn on_lock(g: &Given<'_>) -> Worked {
    let tyre = TyreOnLock {
        centre_out: g.length("centre-out"),
        diameter: g.length("diameter"),
        section: g.length("section"),
    };
    let (gap, lock) = (g.length("gap"), g.angle("lock"));
    let spring = lock_gap(tyre, g.length("to-spring"), lock, GapRule::exact(gap))?;
    let edge = lock_edge_gap(tyre, g.length("to-edge"), lock, GapRule::exact(gap))?;
    let mut out = vec![
        number("gap to the spring", spring.found.value, &MM),
        holds("spring", &spring),
        number("gap to the edge", edge.found.value, &MM),
        holds("edge", &edge),
    ];
    match greatest_lock(tyre, g.length("to-spring"), gap)? {
        Some(most) => out.push(number("greatest lock at the spring", most.value, &DEGREE)),
        None => out.push(text("greatest lock at the spring", "none: the gap is not there straight ahead")),
    }
    Ok(out)
}

/// A gap in words.
pub(super) fn holds(name: &'static str, gap: &Gap) -> Output {
    let mm = |l: uom::si::f64::Length| format!("{:.1} mm", l.get::<millimeter>());
    text(
        name,
        match gap.verdict() {
            GapVerdict::Holds { spare } => format!("holds, {} to spare", mm(spare)),
            GapVerdict::Open { measure_within } => {
                format!("to measure: the answer is certain within {}", mm(measure_within))
            }
            GapVerdict::Broken { short_by } => format!("does not hold: {} short", mm(short_by)),
        },
    )
}
