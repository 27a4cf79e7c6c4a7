//! Cases of wheels, tyres, gearing and the plain comparisons.

use super::Case;

const PLACE: &[(&str, &str)] = &[
    ("gap", "20 mm"),
    ("new-offset", "10 mm"),
    ("new-width", "190 mm"),
    ("old-offset", "10 mm"),
    ("old-width", "190 mm"),
    ("spacer", "0 mm"),
    ("want", "15 mm"),
];

pub(super) const CASES: &[Case] = &[
    // an example vehicle: a pulley of at least 76 mm
    Case {
        calc: "at-least",
        inputs: &[("have", "89 mm"), ("want", "76 mm")],
        says: "89 mm, where at least 76 mm is wanted",
        broken: &[("have", "63 mm")],
        clears: &["13 mm more (76 mm)"],
        open: ("have", "77 mm ±2 mm"),
    },
    // an example vehicle: 190 mm less 10 takes a booster of 178 mm
    Case {
        calc: "at-most",
        inputs: &[("have", "178 mm"), ("most", "180 mm")],
        says: "178 mm, where at most 180 mm is wanted",
        broken: &[("have", "203 mm")],
        clears: &["23 mm less (180 mm)"],
        open: ("have", "179 mm ±2 mm"),
    },
    // an example vehicle: caster of 2 to 6 deg
    Case {
        calc: "between",
        inputs: &[("have", "3 deg"), ("least", "2 deg"), ("most", "6 deg")],
        says: "3°, where 2 to 6° is wanted",
        broken: &[("have", "0.5 deg")],
        clears: &["1.5° more (2°)"],
        open: ("have", "2.5 deg ±1 deg"),
    },
    // an example vehicle: 90 mm less a fan of 65 leaves 25, less one of 85 leaves 5; 12 wanted
    Case {
        calc: "left-at-least",
        inputs: &[("space", "90 mm"), ("taken", "65 mm"), ("want", "12 mm")],
        says: "leaves 25 mm",
        broken: &[("taken", "85 mm")],
        clears: &["7 mm less taken (78 mm)", "7 mm more space (97 mm)"],
        open: ("taken", "77 mm ±2 mm"),
    },
    // an example vehicle: 195 lbf·ft is 264 N·m, and a tenth over it 290
    Case {
        calc: "ratio-at-least",
        inputs: &[("a", "407 N·m"), ("b", "264 N·m"), ("ratio", "1.10")],
        says: "407 N·m, where 1.1 times 264 N·m is wanted",
        broken: &[("a", "245 N·m")],
        clears: &["46 N·m more (291 N·m)"],
        open: ("a", "295 N·m ±10 N·m"),
    },
    // an example vehicle: 332 mm against 345 mm
    Case {
        calc: "wheel-over-caliper",
        inputs: &[("caliper-envelope", "339 mm"), ("gap", "3 mm"), ("wheel-inside", "352 mm")],
        says: "the caliper wants 345 mm",
        broken: &[("wheel-inside", "332 mm")],
        clears: &[
            "13 mm more inside diameter of the wheel (345 mm)",
            "13 mm less across the caliper (326 mm)",
        ],
        open: ("wheel-inside", "346 mm ±2 mm"),
    },
    // numerical: refined sampling of both outlines outside this program, 5.73 mm; with 25 mm of spacer 7.31 mm
    Case {
        calc: "wheel-over-brake",
        inputs: &[
            (
                "brake",
                "-70 mm: 100 mm; -70 mm: 150 mm; -62 mm: 163 mm; -8 mm: 163 mm; 6 mm: 150 mm; 14 mm: 118 mm; 2 mm: 95 mm",
            ),
            ("gap", "3 mm"),
            ("outlines", "0 mm"),
            ("spacer", "0 mm"),
            (
                "wheel",
                "-95 mm: 190 mm; -80 mm: 176 mm; -30 mm: 170 mm; 5 mm: 168 mm; 28 mm: 140 mm; 22 mm: 90 mm; 0 mm: 70 mm; 0 mm: 55 mm",
            ),
            ("wider", "0 mm"),
        ],
        says: "5.7 mm at the narrowest, 163 mm from the axle and 8 mm inboard of the hub face",
        broken: &[("gap", "7 mm")],
        clears: &["mm more spacer", "a wheel 1 in larger in the rim"],
        open: ("outlines", "0 mm ±3 mm"),
    },
    // arithmetic of the definition: 25 mm each side: the wheel moves 25 mm out
    Case {
        calc: "wheel-inner-gap",
        inputs: PLACE,
        says: "moves 0 mm inward, which leaves 20 mm",
        broken: &[("new-width", "230 mm")],
        clears: &["15 mm more spacer", "15 mm less offset (-5 mm)", "30 mm less width of the tyre (200 mm)"],
        open: ("new-offset", "14 mm ±3 mm"),
    },
    Case {
        calc: "wheel-outer-gap",
        inputs: PLACE,
        says: "moves 0 mm outward, which leaves 20 mm",
        broken: &[("spacer", "25 mm")],
        clears: &[
            "20 mm more offset (30 mm)",
            "40 mm less width of the tyre (150 mm)",
            "20 mm less spacer (5 mm)",
        ],
        open: ("new-offset", "6 mm ±3 mm"),
    },
    // geometry by hand: 34 - (-13 / 2 sin 30 + 22.4 cos 30) is 17.8 mm
    Case {
        calc: "wheel-lock-gap",
        inputs: &[
            ("gap", "34 mm"),
            ("lock", "30°"),
            ("new-diameter", "703 mm"),
            ("new-offset", "10 mm"),
            ("new-width", "215 mm"),
            ("old-diameter", "716 mm"),
            ("old-offset", "10 mm"),
            ("old-width", "6.70 in"),
            ("spacer", "0 mm"),
            ("want", "15 mm"),
        ],
        says: "moves 22.4 mm inward and the tyre stands 13 mm lower, which leaves 17.8 mm of 34 mm at 30° of lock",
        broken: &[("new-width", "235 mm"), ("new-diameter", "733 mm")],
        clears: &["16 mm more spacer", "less offset", "less width of the tyre"],
        open: ("new-offset", "10 mm ±4 mm"),
    },
    // geometry by hand: 2 (470 - 90 - 15) is 730 mm; a tyre of 31 in, 787 mm, wants 29 mm of lift
    Case {
        calc: "tyre-in-arch",
        inputs: &[
            ("bump", "90 mm"),
            ("diameter", "716 mm"),
            ("gap", "15 mm"),
            ("hub-to-arch", "470 mm"),
            ("hub-to-edge", "420 mm"),
            ("lift", "0 mm"),
        ],
        says: "730 mm at most fits the arch",
        broken: &[("diameter", "31 in")],
        clears: &["58 mm less diameter of the tyre", "29 mm more lift", "29 mm less bump travel"],
        open: ("hub-to-arch", "465 mm ±5 mm"),
    },
    // an example vehicle: 20 mm measured between tyre and spring on full lock, 17 mm by the box
    Case {
        calc: "tyre-on-lock",
        inputs: &[
            ("centre-out", "89.5 mm"),
            ("diameter", "729 mm"),
            ("gap", "15 mm"),
            ("lock", "26 deg"),
            ("section", "152.4 mm"),
            ("to-spring", "165 mm"),
        ],
        says: "from the spring",
        broken: &[("section", "10.5 in"), ("diameter", "31 in")],
        clears: &["° less lock", "more from the steering axis out", "less diameter of the tyre"],
        open: ("centre-out", "88 mm ±4 mm"),
    },
    // an example vehicle: engaged at least one diameter, 12.7 mm of 1/2 in
    Case {
        calc: "stud-engagement",
        inputs: &[
            ("diameter", "1/2 in"),
            ("diameters", "1"),
            ("nut-thread", "18 mm"),
            ("pad", "8 mm"),
            ("spacer", "0 mm"),
            ("stud-out", "32 mm"),
        ],
        says: "at least 12.7 mm wanted",
        broken: &[("spacer", "13 mm")],
        clears: &["1.7 mm more stud (33.7 mm)", "1.7 mm less spacer (11.3 mm)"],
        open: ("stud-out", "21 mm ±1 mm"),
    },
    // an example vehicle: 730 / 1.10 is 664 kg against 680; from memory: 100: 800 kg
    Case {
        calc: "tyre-load",
        inputs: &[("axle-rating", "1361 kg"), ("capacity", "800 kg"), ("derate", "1.10")],
        says: "carries 727 kg (800 kg by its mark",
        broken: &[("capacity", "730 kg")],
        clears: &["load index 98 (750 kg)"],
        open: ("axle-rating", "1450 kg ±20 kg"),
    },
    // by a general-purpose library: 60 mph 3.73 x 1.00, 235/75R15: 2,605 rpm
    Case {
        calc: "cruise-rpm",
        inputs: &[
            ("axle-ratio", "3.73"),
            ("least", "1700 rpm"),
            ("speed", "60 mph"),
            ("top-gear", "1"),
            ("tyre-revs", "698.39 rev/mile"),
        ],
        says: "2605 rpm in top gear at 96.6 km/h",
        broken: &[("top-gear", "0.6")],
        clears: &["0.053 more top gear ratio (0.653)", "more axle ratio"],
        open: ("top-gear", "0.66 ±0.02"),
    },
    // by a general-purpose library: 65 mph 4.10 x 0.67, 31 in: 1,936 rpm
    Case {
        calc: "cruise-rpm-most",
        inputs: &[
            ("axle-ratio", "4.10"),
            ("most", "3000 rpm"),
            ("speed", "65 mph"),
            ("top-gear", "0.67"),
            ("tyre-revs", "650.58 rev/mile"),
        ],
        says: "1936 rpm in top gear at 105 km/h",
        broken: &[("top-gear", "1.1")],
        clears: &["less top gear ratio", "less axle ratio", "less tyre revolutions, by a taller tyre"],
        open: ("top-gear", "1.04 ±0.03"),
    },
    // an example vehicle: first overall from 11.5 to 12.8
    Case {
        calc: "pull-away",
        inputs: &[
            ("axle-ratio", "3.90"),
            ("diameter", "703 mm"),
            ("first-gear", "3.27"),
            ("old-axle-ratio", "3.90"),
            ("old-diameter", "716 mm"),
            ("old-first-gear", "2.94"),
            ("share", "92 %"),
        ],
        says: "first gear comes to 12.8 overall, which pulls like 13.0 on the old tyres; as found it was 11.5",
        broken: &[("axle-ratio", "3.08")],
        clears: &["0.09 more axle ratio (3.17)", "more first gear ratio", "less diameter of the tyres"],
        open: ("axle-ratio", "3.2 ±0.1"),
    },
    // an example vehicle: 755 x 3.90 x 7/20 is 1,031, 3.1 % high; 21 teeth read low
    Case {
        calc: "speedometer",
        inputs: &[
            ("axle-ratio", "3.90"),
            ("drive-teeth", "7"),
            ("driven-teeth", "20"),
            ("head", "1000 rev/mile"),
            ("reads-high-least", "0"),
            ("reads-high-most", "4 %"),
            ("tyre-revs", "755 rev/mile"),
        ],
        says: "turns 640 rev/km through 7/20 teeth, the head wants 621 rev/km: it reads +3.1 %",
        broken: &[("driven-teeth", "21")],
        clears: &["a driven gear of 20 teeth"],
        open: ("tyre-revs", "735 rev/mile ±10 rev/mile"),
    },
];
