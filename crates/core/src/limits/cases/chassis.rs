//! Cases of brakes, driveline, springs and steering.

use super::Case;

const MOUNT: &[(&str, &str)] = &[
    ("bump", "65 mm"),
    ("closed", "235 mm"),
    ("droop", "75 mm"),
    ("lean", "0 deg"),
    ("open", "400 mm"),
    ("reserve", "10 mm"),
    ("spacing", "312 mm"),
];

const SLIP: &[(&str, &str)] = &[
    ("bump", "80 mm"),
    ("droop", "100 mm"),
    ("drop", "0 mm"),
    ("engaged", "60 mm"),
    ("length", "1000 mm"),
    ("room-in", "25 mm"),
    ("want", "20 mm"),
];

pub(super) const CASES: &[Case] = &[
    // an example vehicle: 475 N at 0.65 g with the pin at 4.0:1 and the vacuum lost, 528 N at 3.6:1
    Case {
        calc: "pedal-force",
        inputs: &[
            ("deceleration", "0.65"),
            ("front-gain", "772 N·m/MPa"),
            ("gain", "1"),
            ("mass", "2268 kg"),
            ("master-bore", "1.0 in"),
            ("most", "500 N"),
            ("pedal-ratio", "4.0"),
            ("rear-gain", "537 N·m/MPa"),
            ("rolling-radius", "340 mm"),
        ],
        says: "the pedal takes 476 N",
        broken: &[("pedal-ratio", "3.6")],
        clears: &["0.7 mm less master cylinder bore (24.7 mm)", "0.21 more pedal ratio (3.81)"],
        open: ("front-gain", "700 N·m/MPa ±70 N·m/MPa"),
    },
    // by a general-purpose library: MC 1.0 in bore, 1.2 in stroke: 15.444 cm3, of which 60 % is 9.27
    Case {
        calc: "pedal-travel",
        inputs: &[
            ("bore", "1.0 in"),
            ("free-play", "1 mm"),
            ("master-bore", "1.0 in"),
            ("pedal-ratio", "6.0"),
            ("piston-travel", "0.72 in"),
            ("pistons", "1"),
            ("share", "60 %"),
            ("stroke", "1.2 in"),
        ],
        says: "the wheels take 9.3 cm3, 60 % of the stroke",
        broken: &[("master-bore", "7/8 in")],
        clears: &["more master cylinder bore (25.4 mm)", "more stroke of the master cylinder"],
        open: ("piston-travel", "0.70 in ±0.05 in"),
    },
    // worked out another way, numerically: the ideal front share is 73.9 % at 0.7 g
    Case {
        calc: "brake-share",
        inputs: &[
            ("deceleration", "0.7"),
            ("front-gain", "420 N·m/MPa"),
            ("front-static", "57 %"),
            ("gravity-height", "0.7 m"),
            ("mass", "1900 kg"),
            ("rear-gain", "280 N·m/MPa"),
            ("through", "50 %"),
            ("wheelbase", "2.9 m"),
        ],
        says: "the front wheels lock first: the front brakes have 75 % of the whole, at 0.7 g the front axle carries 74 %",
        broken: &[("through", "1")],
        clears: &["a proportioning valve that lets 5", "less rear brake torque", "more front brake torque"],
        open: ("gravity-height", "0.7 m ±0.1 m"),
    },
    // physics: 8 in at 20 inHg pull 493.76 lbf, the knee of a gain of 4 is a third of it: 732 N
    Case {
        calc: "booster-reach",
        inputs: &[
            ("diaphragm", "8 in"),
            ("diaphragms", "1"),
            ("gain", "4"),
            ("rod-force", "700 N"),
            ("vacuum", "20 inHg"),
        ],
        says: "runs out at 732 N",
        broken: &[("rod-force", "800 N")],
        clears: &["more diaphragm diameter (213 mm)", "21.9 inHg of vacuum"],
        open: ("vacuum", "19 inHg ±1 inHg"),
    },
    // an example vehicle: the master cylinder at 330 mm, the calipers at 370 mm
    Case {
        calc: "drain-back",
        inputs: &[("caliper-height", "370 mm"), ("master-height", "700 mm")],
        says: "the calipers at 370 mm",
        broken: &[("master-height", "330 mm")],
        clears: &["41 mm more height of the master cylinder (371 mm)"],
        open: ("master-height", "372 mm ±5 mm"),
    },
    // worked out another way, numerically: 3.0 x 0.083 in tube, 50 in: 7,860 rpm
    Case {
        calc: "shaft-critical-speed",
        inputs: &[
            ("inside", "2.834 in"),
            ("length", "50 in"),
            ("outside", "3.0 in"),
            ("share", "70 %"),
            ("top-speed-rpm", "4200 rpm"),
        ],
        says: "whips at 7860 rpm",
        broken: &[("length", "60 in")],
        clears: &[
            "71 mm less shaft, by a centre bearing (1453 mm)",
            "more outside diameter",
            "rpm less shaft speed",
        ],
        open: ("length", "57 in ±1 in"),
    },
    // an example vehicle: joint to joint 559 mm, drop 112 mm, angle 11.5 deg (11.56)
    Case {
        calc: "joint-angles",
        inputs: &[
            ("apart", "1 deg"),
            ("drop", "112 mm"),
            ("length", "559 mm"),
            ("lift", "0 mm"),
            ("most", "15 deg"),
            ("output-down", "0 deg"),
            ("pinion-up", "0 deg"),
            ("side", "0 mm"),
        ],
        says: "11.6° at the gearbox and 11.6° at the axle",
        broken: &[("pinion-up", "5 deg")],
        clears: &["4° less pinion tilt", "4° more output tilt"],
        open: ("pinion-up", "0.5 deg ±1 deg"),
    },
    // geometry: a level shaft of 1,000 mm that drops 100 mm grows by 1000 (sqrt 1.01 - 1) = 4.99 mm, none of it to push in
    Case {
        calc: "slip-push",
        inputs: SLIP,
        says: "25 mm is left to push in",
        broken: &[("room-in", "12 mm")],
        clears: &["8 mm more room to push in"],
        open: ("room-in", "21 mm ±2 mm"),
    },
    Case {
        calc: "slip-pull",
        inputs: SLIP,
        says: "55 mm of spline stays engaged",
        broken: &[("engaged", "22 mm"), ("bump", "40 mm")],
        clears: &["3 mm more spline engaged, by a longer slip yoke (25 mm)", "less droop, by a strap"],
        open: ("engaged", "26 mm ±2 mm"),
    },
    // an example vehicle: 27 mm by 0.75 over 0.875 in gives 19.8 mm; over 1.0 in 15.2 mm
    Case {
        calc: "slave-stroke",
        inputs: &[
            ("master-bore", "0.75 in"),
            ("pedal-travel-at-master", "27 mm"),
            ("slave-bore", "0.875 in"),
            ("wanted", "17 mm"),
        ],
        says: "the slave moves 19.8 mm",
        broken: &[("slave-bore", "1.0 in")],
        clears: &["more clutch master bore", "less slave bore (24 mm)", "more travel of the pushrod"],
        open: ("pedal-travel-at-master", "24 mm ±2 mm"),
    },
    // an example vehicle: mounts 312 mm apart, bump 65, droop 75; an example vehicle: closed at most 237, open at least
    // 397; the dampers found are 240 and 380
    Case {
        calc: "damper-at-bump",
        inputs: MOUNT,
        says: "12 mm is left to push in at full bump",
        broken: &[("closed", "240 mm")],
        clears: &[
            "3 mm less closed length (237 mm)",
            "3 mm less bump travel",
            "3 mm more between the mounts",
        ],
        open: ("spacing", "311 mm ±3 mm"),
    },
    Case {
        calc: "damper-at-droop",
        inputs: MOUNT,
        says: "mm is left to pull out at full droop",
        broken: &[("open", "380 mm")],
        clears: &["17 mm more open length (397 mm)", "17 mm less droop, by a strap (58 mm)"],
        open: ("droop", "77 mm ±3 mm"),
    },
    // geometry by hand: 69.85 + 12 + 45 + 10 + 3 + 12 + 3 x 1.27 is 155.7 mm
    Case {
        calc: "u-bolt-leg",
        inputs: &[
            ("axle-tube", "2.75 in"),
            ("leg", "160 mm"),
            ("nut", "12 mm"),
            ("pack", "45 mm"),
            ("perch", "12 mm"),
            ("pitch", "1.27 mm"),
            ("plate", "10 mm"),
            ("threads-out", "3"),
            ("washer", "3 mm"),
        ],
        says: "wants a leg of 156 mm",
        broken: &[("leg", "140 mm")],
        clears: &["16 mm more leg of the U-bolt (156 mm)"],
        open: ("pack", "48 mm ±3 mm"),
    },
    // linear springs by hand: 40 mm + 4,100 N (1/26 - 1/30) mm/N is 61 mm
    Case {
        calc: "spring-height",
        inputs: &[
            ("least", "55 mm"),
            ("load", "4100 N"),
            ("most", "65 mm"),
            ("new-arch", "190 mm"),
            ("new-rate", "30 N/mm"),
            ("old-arch", "150 mm"),
            ("old-rate", "26 N/mm"),
        ],
        says: "it stands 61 mm higher",
        broken: &[("new-arch", "210 mm")],
        clears: &["mm less free arch", "N/mm less spring rate"],
        open: ("load", "4800 N ±300 N"),
    },
    // arithmetic of the definition: drag link 900 mm, 40 mm drop: 2.55 deg, 7.42 deg after 76.2 mm of lift
    Case {
        calc: "drag-link",
        inputs: &[("drop", "40 mm"), ("lift", "0 mm"), ("link", "900 mm"), ("most", "5 deg")],
        says: "leans 2.5°",
        broken: &[("lift", "76.2 mm")],
        clears: &["38 mm less drop, by a dropped arm", "39 mm less lift (38 mm)"],
        open: ("drop", "75 mm ±10 mm"),
    },
    // geometry: two arcs of one length and one angle shift alike, so that nothing turns
    Case {
        calc: "bump-steer",
        inputs: &[
            ("arm", "150 mm"),
            ("drop", "40 mm"),
            ("guide", "720 mm"),
            ("guide-drop", "40 mm"),
            ("lift", "0 mm"),
            ("link", "720 mm"),
            ("most", "0.5 deg"),
            ("travel", "-50 mm"),
        ],
        says: "the wheels turn 0°",
        broken: &[("drop", "80 mm")],
        clears: &["mm less drop, by a dropped arm"],
        open: ("drop", "60 mm ±5 mm"),
    },
    // geometry: 60 mm of lift ahead over 2,896 mm is 1.19 deg; an example vehicle: 2 to 6 deg
    Case {
        calc: "caster",
        inputs: &[
            ("caster", "3 deg"),
            ("front-lift", "60 mm"),
            ("least", "2 deg"),
            ("most", "6 deg"),
            ("rear-lift", "0 mm"),
            ("wedge", "0 deg"),
            ("wheelbase", "2896 mm"),
        ],
        says: "+1.2° of it by the rake",
        broken: &[("rear-lift", "150 mm"), ("front-lift", "0 mm")],
        clears: &["a wedge of 2°, leaning the axle back"],
        open: ("caster", "1 deg ±0.5 deg"),
    },
];
