//! Spring figures: rate, ride, height, dampers, U-bolts.

use knockon_figures::gap::GapRule;
use knockon_figures::springs::{
    Damper, DamperMount, Leaf, LeafPack, PackAtLoad, STEEL_MODULUS, UBoltStack, coil_rate, damper_at,
    damper_fit, damper_motion_ratio, damper_wanted, leaf_rate, leaf_stress, longer_shackle, ride_frequency,
    ride_frequency_of, ride_height_change, shackle_lift, static_deflection, stop_wanted, u_bolt,
    wheel_rate_factor,
};
use uom::si::f64::{Length as Measure, Pressure as Press};
use uom::si::length::meter;
use uom::si::pressure::gigapascal;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Takes, need, or};
use super::output::{BARE, HERTZ, MM, MPA, N_MM, PERCENT, number, text};
use super::trouble::Trouble;
use super::tyre::holds;
use crate::units::Dimension::{Angle, Force, Length, Mass, Pressure, Ratio, Stiffness};

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "leaf-rate",
        called: &["spring rate", "leaf spring", "leaf pack", "add a leaf"],
        group: Group::Springs,
        name: "Leaf spring rate",
        meaning: "rate of a leaf pack at the axle, and the stress in its main leaf",
        inputs: &[
            need("width", "width of the leaves", Takes::One(Length), "2 in"),
            need("front-arm", "front eye to the centre bolt", Takes::One(Length), "22 in"),
            need("rear-arm", "rear eye to the centre bolt", Takes::One(Length), "26 in"),
            or("clamped", "between the outer U-bolts, where it does not bend", Takes::One(Length), "0 mm")
                .example("3 in"),
            need("full", "thickness of each leaf from eye to eye", Takes::Several(Length), "0.27 in"),
            or("graduated", "thickness of each shorter leaf", Takes::Several(Length), "unknown")
                .example("0.27 in, 0.27 in, 0.27 in"),
            or("travel", "of the eye against the clamp, for the stress", Takes::One(Length), "unknown")
                .example("100 mm"),
        ],
        formula: "E b (a + c) (2 sum t^3 graduated + 3 sum t^3 full) / (12 a^2 c^2), a and c up to the U-bolts; expected 5 to \
                  25 % over the same without full-length leaves and clamp, or what these make it where that is more; stress 1.5 E t d / l^2 full length",
        source: "SAE HS-788, Khurmi & Gupta ch. 23; E 206.8 GPa; the band of 5 to 25 % is from memory",
        cases: &[
            "width=65 mm front-arm=550 mm rear-arm=550 mm clamped=80 mm full=9 mm, 9 mm graduated=9 mm, 9 mm, 9 mm, 9 mm, 9 mm -> rate by the formula: 197.0 N/mm; a textbook problem after Khurmi & Gupta ch. 23, brought to E 206.8 GPa",
        ],
        moves: &["width -> rate by the formula: rises"],
        work: leaf,
        ..FIGURE
    },
    Figure {
        id: "coil-rate",
        called: &["coil spring rate", "spring rate from wire", "valve spring rate"],
        group: Group::Springs,
        name: "Coil spring rate",
        meaning: "rate of a coil spring by its wire",
        inputs: &[
            need("wire", "thickness of the wire", Takes::One(Length), "0.6 in"),
            need("mean", "diameter through the middle of the wire", Takes::One(Length), "5 in"),
            need("coils", "that work: all but those that lie flat at the ends", Takes::One(Ratio), "8"),
            or("modulus", "of shear: 79.3 GPa for spring steel", Takes::One(Pressure), "79300 MPa"),
        ],
        formula: "G d^4 / (8 D^3 n)",
        source: "Shigley, Mechanical Engineering Design, ch. 10",
        cautions: &["a compressed spring kills: use the right compressor, nobody in line with it"],
        cases: &[
            "wire=0.037 in mean=0.400 in coils=10.5 modulus=11850000 psi -> rate: 4.13 lbf/in; Shigley, example 10-1",
        ],
        moves: &["wire -> rate: rises", "coils -> rate: falls"],
        work: coil,
    },
    Figure {
        id: "ride-frequency",
        called: &["ride quality", "stiff ride", "spring frequency"],
        group: Group::Springs,
        name: "Ride frequency",
        meaning: "deflection and ride frequency of a spring under its mass",
        inputs: &[
            need("rate", "at the wheel", Takes::One(Stiffness), "150 lbf/in"),
            need("mass", "carried by this spring, without axle and wheel", Takes::One(Mass), "420 kg"),
        ],
        formula: "deflection = m g / rate; frequency = sqrt(rate / m) / (2 pi)",
        source: "mass on a linear spring; 1 to 1.5 Hz a comfortable car, 1.5 to 2 a light truck is common practice",
        cases: &[
            "rate=19.6133 N/mm mass=100 kg -> ride frequency: 2.22892506 Hz; sqrt(g / deflection) / (2 pi), by a general-purpose library",
        ],
        moves: &["mass -> ride frequency: falls", "rate -> ride frequency: rises"],
        work: ride,
        ..FIGURE
    },
    Figure {
        id: "spring-height",
        called: &["ride height", "new springs height"],
        group: Group::Springs,
        name: "Height on other springs",
        meaning: "how much higher a vehicle stands on other springs",
        inputs: &[
            need("old-arch", "eyes over the seat of the unloaded old pack", Takes::One(Length), "150 mm")
                .signed(),
            need("old-rate", "rate of the old pack", Takes::One(Stiffness), "26 N/mm"),
            need("new-arch", "eyes over the seat of the unloaded new pack", Takes::One(Length), "190 mm")
                .signed(),
            need("new-rate", "rate of the new pack", Takes::One(Stiffness), "30 N/mm"),
            need("load", "on one spring", Takes::One(Force), "4100 N"),
        ],
        formula: "(new arch - old arch) + load (1 / old rate - 1 / new rate)",
        source: "linear springs",
        cases: &[
            "old-arch=150 mm old-rate=26 N/mm new-arch=190 mm new-rate=30 N/mm load=4100 N -> stands higher by: 61.026 mm; arithmetic of the definition",
        ],
        work: height,
        ..FIGURE
    },
    Figure {
        id: "shackle-lift",
        called: &["longer shackles", "shackle"],
        group: Group::Springs,
        name: "Longer shackle",
        meaning: "lift of a longer shackle, and the shackle for a lift",
        inputs: &[
            need("longer", "by which the shackle is longer", Takes::One(Length), "50 mm").signed(),
            need("fixed-arm", "fixed eye to the axle", Takes::One(Length), "22 in"),
            need("shackle-arm", "axle to the shackled eye", Takes::One(Length), "26 in"),
            or("lift", "lift that is wanted", Takes::One(Length), "unknown").example("50 mm").signed(),
        ],
        formula: "lift = longer x fixed arm / (fixed arm + shackle arm)",
        source: "lever about the fixed eye, shackle near upright",
        cases: &[
            "longer=50 mm fixed-arm=22 in shackle-arm=26 in -> lift: 22.9167 mm; lever about the fixed eye",
        ],
        work: shackle,
        ..FIGURE
    },
    Figure {
        id: "damper-length",
        called: &["shock length", "shock absorber travel"],
        group: Group::Springs,
        name: "Damper length",
        meaning: "damper a mount wants at bump and droop, and whether one fits",
        inputs: &[
            need("spacing", "eye to eye at ride height", Takes::One(Length), "380 mm"),
            need("bump", "how far the axle rises to its stop", Takes::One(Length), "80 mm"),
            need("droop", "how far the axle falls", Takes::One(Length), "100 mm"),
            or("lean", "off the upright", Takes::One(Angle), "15°"),
            or("lift", "that is yet to come", Takes::One(Length), "0 mm").signed().example("50 mm"),
            or("stop-spacer", "by which the bump stop is lengthened", Takes::One(Length), "0 mm")
                .example("40 mm"),
            or("reserve", "to keep at either end", Takes::One(Length), "10 mm"),
            or("open", "the damper pulled out", Takes::One(Length), "unknown").example("560 mm"),
            or("closed", "the damper pushed in", Takes::One(Length), "unknown").example("330 mm"),
        ],
        formula: "eyes apart sqrt((s cos lean + x)^2 + (s sin lean)^2) at travel x, less or more the reserve; a lift makes \
                  the upright part longer, and the bump travel by the lift less the stop spacer",
        source: "geometry, the axle moving straight up and down; the droop is taken as before; 10 mm of reserve is common \
                 practice",
        cases: &[
            "spacing=430 mm lean=0 deg bump=80 mm droop=100 mm -> at bump: 350 mm; arithmetic of the definition",
        ],
        work: damper,
        ..FIGURE
    },
    Figure {
        id: "damper-lean",
        called: &["shock angle", "leaning shocks"],
        group: Group::Springs,
        name: "Leaning damper",
        meaning: "what a lean costs a damper or coil",
        inputs: &[need("lean", "off the upright", Takes::One(Angle), "30 deg")],
        formula: "travel cos lean; force on the axle cos^2 lean",
        source: "motion ratio",
        cases: &["lean=30 deg -> force on the axle: 75 %; square of the motion ratio"],
        work: lean,
        ..FIGURE
    },
    Figure {
        id: "u-bolt",
        called: &["u-bolt length", "spring plate bolts"],
        group: Group::Springs,
        name: "U-bolt",
        meaning: "width, leg and thread of the U-bolt a stack wants",
        inputs: &[
            need("axle-tube", "outside diameter of the axle tube", Takes::One(Length), "3 in"),
            need("pack", "height of the leaf pack", Takes::One(Length), "1.9 in"),
            need("plate", "plate under the nuts", Takes::One(Length), "10 mm"),
            need("nut", "height of the nut", Takes::One(Length), "14 mm"),
            need("pitch", "of the thread; 25.4 mm over the threads an inch", Takes::One(Length), "1.27 mm"),
            or("perch", "perch, wedge and block between tube and pack", Takes::One(Length), "0 mm")
                .example("12 mm"),
            need("washer", "thickness of the washer", Takes::One(Length), "2.5 mm"),
            or("threads-out", "threads that show beyond the nut", Takes::One(Ratio), "3"),
        ],
        formula: "leg = tube + perch + pack + plate + washer + nut + threads out x pitch",
        source: "geometry; three threads out is common practice",
        cases: &[
            "axle-tube=3 in pack=1.9 in plate=10 mm nut=14 mm pitch=1.27 mm washer=2.5 mm -> leg: 154.770 mm; arithmetic of the definition",
        ],
        work: bolt,
        ..FIGURE
    },
];

fn leaf(g: &Given<'_>) -> Worked {
    let leaves = |name: &str, full_length: bool| {
        g.numbers(name)
            .iter()
            .map(move |t| Leaf { thickness: Measure::new::<meter>(*t), full_length })
            .collect::<Vec<Leaf>>()
    };
    let mut all = leaves("full", true);
    all.extend(leaves("graduated", false));
    let modulus = Press::new::<gigapascal>(STEEL_MODULUS);
    let (front_arm, rear_arm) = (g.length("front-arm"), g.length("rear-arm"));
    let pack = LeafPack {
        modulus,
        width: g.length("width"),
        front_arm,
        rear_arm,
        clamped: g.length("clamped"),
        leaves: &all,
    };
    let rate = leaf_rate(&pack)?;
    let mut out = vec![
        number("rate by the formula", rate.textbook.value, &N_MM),
        number("least to be expected", rate.low.value, &N_MM),
        number("most to be expected", rate.high.value, &N_MM),
    ];
    if let (Some(first), true) = (all.first(), g.known("travel").is_some()) {
        let shorter = if front_arm < rear_arm { front_arm } else { rear_arm } - g.length("clamped") / 2.0;
        out.push(number(
            "stress of the first leaf, shorter arm",
            leaf_stress(modulus, *first, shorter, g.length("travel"))?.value,
            &MPA,
        ));
    }
    Ok(out)
}

fn coil(g: &Given<'_>) -> Worked {
    let rate = coil_rate(g.length("wire"), g.length("mean"), g.si("coils"), g.pressure("modulus"))?;
    Ok(vec![
        number("rate", rate.value, &N_MM),
        number("over the wire", (g.length("mean") + g.length("wire")).value, &MM),
    ])
}

fn ride(g: &Given<'_>) -> Worked {
    let (rate, mass) = (g.stiffness("rate"), g.mass("mass"));
    let deflection = static_deflection(rate, mass)?;
    let frequency = ride_frequency_of(rate, mass)?;
    let hz = frequency.value;
    let said = if hz < 1.0 {
        "softer than a comfortable car"
    } else if hz <= 1.5 {
        "a comfortable car"
    } else if hz <= 2.0 {
        "a light truck"
    } else {
        "harder than a light truck"
    };
    // the deflection gives the same answer; where it is out of its range the spring is no road spring
    ride_frequency(deflection)?;
    Ok(vec![
        number("deflection", deflection.value, &MM),
        number("ride frequency", hz, &HERTZ),
        text("rides like", said),
    ])
}

fn height(g: &Given<'_>) -> Worked {
    let old = PackAtLoad { free_arch: g.length("old-arch"), rate: g.stiffness("old-rate") };
    let new = PackAtLoad { free_arch: g.length("new-arch"), rate: g.stiffness("new-rate") };
    Ok(vec![number("stands higher by", ride_height_change(old, new, g.force("load"))?.value, &MM)])
}

fn shackle(g: &Given<'_>) -> Worked {
    let (fixed, shackled) = (g.length("fixed-arm"), g.length("shackle-arm"));
    let mut out = vec![number("lift", shackle_lift(g.length("longer"), fixed, shackled)?.value, &MM)];
    if g.known("lift").is_some() {
        let longer = longer_shackle(g.length("lift"), fixed, shackled)?;
        out.push(number("longer shackle for the lift wanted", longer.value, &MM));
    }
    Ok(out)
}

fn damper(g: &Given<'_>) -> Worked {
    let mount = DamperMount {
        spacing: g.length("spacing"),
        lean: g.angle("lean"),
        bump: g.length("bump"),
        droop: g.length("droop"),
    }
    .lifted(g.length("lift"), g.length("stop-spacer"))?;
    let reserve = g.length("reserve");
    let wanted = damper_wanted(mount, reserve)?;
    let at = |travel: Measure| damper_at(mount, travel).map(|at| at.length.value);
    let mut out = vec![
        number("at bump", at(-mount.bump)?, &MM),
        number("at ride height", mount.spacing.value, &MM),
        number("at droop", at(mount.droop)?, &MM),
        number("pushed in at most", wanted.closed_at_most.value, &MM),
        number("pulled out at least", wanted.open_at_least.value, &MM),
        number("stroke at least", wanted.stroke_at_least.value, &MM),
    ];
    let given = [g.known("open"), g.known("closed")];
    if given.iter().any(Option::is_some) {
        if given.iter().any(Option::is_none) {
            return Err(Trouble::Words(
                "a damper is held against its mount by both, open and closed".to_owned(),
            ));
        }
        let damper = Damper { open: g.length("open"), closed: g.length("closed") };
        let fit = damper_fit(mount, damper, GapRule::exact(reserve))?;
        out.push(number("left at bump", fit.at_bump.found.value, &MM));
        out.push(holds("bump", &fit.at_bump));
        match stop_wanted(mount, damper, GapRule::exact(reserve))? {
            Some(stop) if stop.value > 0.0 => out.push(number("bump stop longer by", stop.value, &MM)),
            Some(_) => {}
            None => out.push(text("bump stop", "no stop keeps this damper from bottoming")),
        }
        out.push(number("left at droop", fit.at_droop.found.value, &MM));
        out.push(holds("droop", &fit.at_droop));
    }
    Ok(out)
}

fn lean(g: &Given<'_>) -> Worked {
    let lean = g.angle("lean");
    Ok(vec![
        number("travel for travel of the axle", damper_motion_ratio(lean)?, &BARE),
        number("force on the axle", wheel_rate_factor(lean)?, &PERCENT),
    ])
}

fn bolt(g: &Given<'_>) -> Worked {
    let stack = UBoltStack {
        axle_tube: g.length("axle-tube"),
        perch: g.length("perch"),
        pack: g.length("pack"),
        plate: g.length("plate"),
        washer: g.length("washer"),
        nut: g.length("nut"),
        pitch: g.length("pitch"),
    };
    let bolt = u_bolt(stack, g.si("threads-out"))?;
    Ok(vec![
        number("between the legs", bolt.inside_width.value, &MM),
        number("leg", bolt.leg.value, &MM),
        number("thread", bolt.thread.value, &MM),
    ])
}
