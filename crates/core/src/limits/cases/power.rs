//! Cases of charging, wires, fuel, engine and cooling.

use super::Case;

/// A unit of the 100 A class (common practice).
const CURVE_100: &str = "1000 rpm: 0 A; 1303 rpm: 34 A; 1520 rpm: 42 A; 6000 rpm: 100 A";

pub(super) const CASES: &[Case] = &[
    // an example vehicle: one 16.8 mm belt carries about 100 A, one of 9.7 mm about 45 A
    Case {
        calc: "belt-power",
        inputs: &[("belt-limit", "100 A"), ("output", "65 A")],
        says: "carries 100 A",
        broken: &[("belt-limit", "45 A")],
        clears: &["20 A more that the belt carries", "20 A less alternator (45 A)"],
        open: ("output", "97 A ±5 A"),
    },
    // an example vehicle: 165/76, 600 rpm idle gives 1,303 rotor; 1,800 rotor needs 829 crank rpm
    Case {
        calc: "excitation",
        inputs: &[
            ("crank-pulley", "165 mm"),
            ("generator-pulley", "76 mm"),
            ("idle", "600 rpm"),
            ("excites-at", "1000 rpm"),
        ],
        says: "the rotor turns 1303 rpm",
        broken: &[("excites-at", "1800 rpm")],
        clears: &[
            "rotor speed for excitation (1300 rpm)",
            "less generator pulley diameter (55 mm)",
            "230 rpm more idle (830 rpm)",
        ],
        open: ("excites-at", "1250 rpm ±100 rpm"),
    },
    // an example vehicle: 34 A at 1,303 rotor rpm of the 100 A unit; night load 31.7 A
    Case {
        calc: "idle-balance",
        inputs: &[
            ("crank-pulley", "165 mm"),
            ("generator-pulley", "76 mm"),
            ("idle", "600 rpm"),
            ("curve", CURVE_100),
            ("load", "31.7 A"),
        ],
        says: "gives 34 A at 1303 rotor rpm, the load is 31.7 A",
        broken: &[("load", "36.9 A")],
        clears: &["A less load at idle", "less generator pulley", "rpm more idle"],
        open: ("load", "33 A ±2 A"),
    },
    // an example vehicle: 2,073 engine and 4,500 rotor rpm at 60 mph in fifth
    Case {
        calc: "road-balance",
        inputs: &[
            ("crank-pulley", "165 mm"),
            ("generator-pulley", "76 mm"),
            ("curve", CURVE_100),
            ("load", "36.9 A"),
            ("speed", "60 mph"),
            ("tyre-revs", "728.1 rev/mile"),
            ("axle-ratio", "3.90"),
            ("top-gear", "0.73"),
        ],
        says: "the engine turns 2073 rpm and the rotor 4500 rpm",
        broken: &[("load", "95 A")],
        clears: &["A less load on the road", "less generator pulley", "more top gear"],
        open: ("load", "80 A ±5 A"),
    },
    // an example vehicle: 1,303 rotor rpm at 600; an example vehicle: a dynamo stands 6,000 to 9,000 rpm
    Case {
        calc: "rotor-speed",
        inputs: &[
            ("crank-pulley", "165 mm"),
            ("generator-pulley", "76 mm"),
            ("engine", "600 rpm"),
            ("most", "9000 rpm"),
        ],
        says: "the rotor turns 1303 rpm",
        broken: &[("engine", "4200 rpm")],
        clears: &["1 mm more generator pulley diameter (77 mm)", "rpm less engine speed"],
        open: ("generator-pulley", "14 mm ±5 mm"),
    },
    // arithmetic of the definition: 42.593 A at 80 % want 53.241 A
    Case {
        calc: "alternator-size",
        inputs: &[("load", "42.5925925926 A"), ("output", "55 A"), ("share", "80 %")],
        says: "wants 53.2 A at 80 % of its rating",
        broken: &[("output", "45 A")],
        clears: &["8.3 A more alternator (53.3 A)", "6.6 A less load (36 A)"],
        open: ("load", "43 A ±3 A"),
    },
    // definition of the 20-hour rate (EN 50342): 2.75 A draws all of 55 Ah in 20 h, half of it in 600 min
    Case {
        calc: "battery-reserve",
        inputs: &[
            ("capacity", "55 Ah"),
            ("load", "2.75 A"),
            ("exponent", "1.2"),
            ("share", "50 %"),
            ("want", "600 min"),
        ],
        says: "for 600 min",
        broken: &[("load", "31.7 A"), ("want", "60 min")],
        clears: &["Ah more battery", "A less load"],
        open: ("load", "2.8 A ±0.2 A"),
    },
    // an example vehicle: 2.75 x 110 A is 303 A against 300; cleared by a 320 A type or a starter of less than 109 A
    Case {
        calc: "cold-current",
        inputs: &[("cold", "320 A"), ("factor", "2.75"), ("starter", "110 A")],
        says: "wants 303 A cold",
        broken: &[("cold", "300 A")],
        clears: &["3 A more cold current of the battery (303 A)", "1 A less starter current (109 A)"],
        open: ("starter", "116 A ±5 A"),
    },
    // 100 A over 3 m of 20 mm2: 0.26 V in solid copper, 13 % more in strands (IEC 60228 class 5): 0.29 V
    Case {
        calc: "wire-drop",
        inputs: &[("area", "20 mm2"), ("current", "100 A"), ("length", "3 m"), ("most", "0.3 V")],
        says: "loses 0.29 V",
        broken: &[("area", "5 mm2")],
        clears: &["a wire of 20 mm2 (4 AWG)", "less length of the run"],
        open: ("length", "3.3 m ±0.4 m"),
    },
    // an example vehicle: fan of 13 A on 5 mm2, fuse of 30 A; an example vehicle: a fuse of 1.25 times the load, 16.25 A
    Case {
        calc: "wire-fuse",
        inputs: &[("area", "5 mm2"), ("fuse", "30 A"), ("load", "13 A")],
        says: "wants 16.3 A at least, the wire of 5 mm2 allows 30 A",
        broken: &[("fuse", "40 A")],
        clears: &["a fuse of 30 A", "a wire of 8 mm2 (8 AWG)"],
        open: ("load", "23 A ±2 A"),
    },
    // an example vehicle: 206 cfm at 4,000 rpm
    Case {
        calc: "carburettor-air",
        inputs: &[
            ("displacement", "238 in3"),
            ("rpm", "4000 rpm"),
            ("efficiency", "0.75"),
            ("flow", "255 cfm"),
        ],
        says: "breathes 207 cfm",
        broken: &[("flow", "180 cfm")],
        clears: &["27 cfm more air flow of the carburettor (207 cfm)"],
        open: ("efficiency", "0.9 ±0.05"),
    },
    // from memory, checked by hand: 238 x 4,000 / 20,800 is 45.77 in2, 295 cm2
    Case {
        calc: "cleaner-area",
        inputs: &[("area", "49 in2"), ("displacement", "238 in3"), ("divisor", "20800"), ("rpm", "4000 rpm")],
        says: "wants 295 cm2",
        broken: &[("area", "29 in2")],
        clears: &["113 cm2 more element (300 cm2)"],
        open: ("area", "46 in2 ±1 in2"),
    },
    // an example vehicle: 4 to 7 psi against 2.5 to 3.5 wants a regulator, set to 3.0
    Case {
        calc: "fuel-pressure",
        inputs: &[
            ("pump", "2.6 to 3.4 psi"),
            ("accepts", "2.5 to 3.5 psi"),
            ("loss", "0 psi"),
            ("lift", "0 mm"),
        ],
        says: "2.6 to 3.4 psi arrive",
        broken: &[("pump", "4 to 7 psi")],
        clears: &["a regulator set to 3 psi at the pump"],
        open: ("loss", "0.08 psi ±0.08 psi"),
    },
    // by general-purpose libraries: 60 L/h in 6.5 mm ID, 4 m: 2,194 Pa, 0.318 psi; 0.8 m of petrol: 5,845 Pa, 0.848 psi
    Case {
        calc: "fuel-arrives",
        inputs: &[
            ("bore", "6.5 mm"),
            ("flow", "60 L/h"),
            ("least", "2.5 psi"),
            ("length", "4 m"),
            ("lift", "800 mm"),
            ("pump", "4 to 7 psi"),
        ],
        says: "the line takes 0.32 psi and the height 0.85 psi: 2.8 psi arrives",
        broken: &[("bore", "4.9 mm")],
        clears: &["a 5/16 in tube (6.52 mm inside)", "a pump that gives 4.", "less line"],
        open: ("lift", "1.1 m ±0.3 m"),
    },
    // by a general-purpose library: 60 L/h in 6.5 mm ID, 4 m: 2,194 Pa, 0.318 psi
    Case {
        calc: "fuel-line",
        inputs: &[("bore", "6.5 mm"), ("flow", "60 L/h"), ("length", "4 m"), ("most", "0.4 psi")],
        says: "0.32 psi is lost in 13.1 ft of 0.256 in bore",
        broken: &[("bore", "4.9 mm")],
        clears: &["a 5/16 in tube (6.52 mm inside)", "less line"],
        open: ("bore", "6.3 mm ±0.3 mm"),
    },
    // by a general-purpose library: 150 hp, 0.5 lb/hp-h: 45.66 L/h
    Case {
        calc: "fuel-flow",
        inputs: &[("burnt", "0.304138 kg"), ("flow", "95 L/h"), ("power", "150 hp"), ("spare", "1")],
        says: "wants 46 L/h",
        broken: &[("flow", "16 L/h")],
        clears: &["30 L/h more flow of the pump (46 L/h)"],
        open: ("flow", "46 L/h ±2 L/h"),
    },
    // by a general-purpose library: (716.622 + 83.802) / 83.802 is 9.55
    Case {
        calc: "compression",
        inputs: &[
            ("bore", "4.0 in"),
            ("stroke", "3.48 in"),
            ("chamber", "64 cm3"),
            ("dish", "6 cm3"),
            ("gasket-bore", "4.1 in"),
            ("gasket", "0.04 in"),
            ("deck", "0.025 in"),
            ("most", "10"),
        ],
        says: "compression comes to 9.55",
        broken: &[("most", "8.5")],
        clears: &[
            "12 cm3 more chamber (76 cm3)",
            "more thickness of the head gasket",
            "more dish of the piston",
        ],
        open: ("chamber", "60 cm3 ±3 cm3"),
    },
    // by a general-purpose library: 3.48 in, 6000 rpm: 17.68 m/s
    Case {
        calc: "piston-speed",
        inputs: &[("most", "72 km/h"), ("rpm", "6000 rpm"), ("stroke", "3.48 in")],
        says: "the pistons move 17.7 m/s at 6000 rpm, at most 20.0 m/s",
        broken: &[("rpm", "7000 rpm")],
        clears: &["220 rpm less engine speed"],
        open: ("rpm", "6700 rpm ±300 rpm"),
    },
    // by a general-purpose library: cap 13 psi: 127.4 °C
    Case {
        calc: "boiling-room",
        inputs: &[
            ("altitude", "0 m"),
            ("cap", "13 psi"),
            ("glycol", "50 %"),
            ("opens", "82 °C"),
            ("room", "10 °C"),
        ],
        says: "the coolant boils at 127 °C, 30 K above",
        broken: &[("cap", "0 psi"), ("opens", "88 °C")],
        clears: &["psi more on the cap", "K less at which the thermostat opens"],
        open: ("cap", "1 psi ±3 psi"),
    },
    // by a general-purpose library: 50 % v/v: -37.1 °C
    Case {
        calc: "frost",
        inputs: &[("frost", "-30 °C"), ("glycol", "50 %")],
        says: "50 % of glycol freezes at -37 °C",
        broken: &[("glycol", "30 %")],
        clears: &["% of glycol"],
        open: ("glycol", "45 % ±5 %"),
    },
    // an example vehicle: an engine of 60 kW rejects 45 to 55 kW flat out; a quarter of the fuel's heat is 54 kW
    Case {
        calc: "heat-to-reject",
        inputs: &[("burnt", "0.3 kg"), ("carries", "60 kW"), ("power", "60 kW"), ("share", "25 %")],
        says: "54 kW of heat",
        broken: &[("carries", "45 kW")],
        clears: &["9.3 kW more cooling (54.3 kW)"],
        open: ("power", "66 kW ±3 kW"),
    },
    // definition: 0.1875 of 0.25 m2 is 75 %
    Case {
        calc: "fan-cover",
        inputs: &[("core", "2500 cm2"), ("covered", "1875 cm2")],
        says: "75 % of the core",
        broken: &[("covered", "1300 cm2")],
        clears: &["450 cm2 more core covered, by a shroud (1750 cm2)"],
        open: ("covered", "1700 cm2 ±100 cm2"),
    },
];
