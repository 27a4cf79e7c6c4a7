//! Figures of the bench: units, press fits, paint, bent tube.

use knockon_figures::body::{bend_length, paint};
use knockon_figures::fasteners::press_fit::{PressFit, press_fit};
use uom::si::f64::Length as Measure;
use uom::si::length::meter;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Takes, need, or};
use super::output::{CELSIUS, FIT, KELVIN, LITRE, MM, MPA, NEWTON, NM, Output, number, of_table, text};
use super::trouble::Trouble;
use crate::number::rounded;
use crate::quantity::{Quantity, echo, symbol};
use crate::units::Dimension::{Angle, Area, Length, Pressure, Ratio, Temperature};
use crate::units::table;

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "convert",
        called: &["unit conversion", "convert units", "inches to millimetres", "how many", "in other units"],
        group: Group::Workshop,
        name: "Units",
        meaning: "a quantity in other units",
        inputs: &[
            need("value", "a number with its unit", Takes::Text, "3-1/2 in").signed(),
            or("to", "the unit wanted", Takes::Text, "all").example("mm"),
        ],
        formula: "value x size of its unit / size of the other",
        source: "NIST SP 811",
        cases: &[
            "value=1 psi to=Pa -> Pa: 6894.757 Pa; NIST SP 811",
            "value=1 lbf·in to=N·m -> N·m: 0.1129848 N·m; NIST SP 811",
            "value=350 in3 to=L -> L: 5.735 L; NIST SP 811",
            "value=1 hp to=W -> W: 745.6999 W; NIST SP 811",
        ],
        work: convert,
        ..FIGURE
    },
    Figure {
        id: "press-fit",
        called: &["interference fit", "shrink fit", "press a bush", "heat a ring gear"],
        group: Group::Workshop,
        name: "Press fit",
        meaning: "pressure, force and torque of a shaft pressed into a hub of the same metal",
        inputs: &[
            need("fit", "diameter where they meet", Takes::One(Length), "2 in"),
            need(
                "interference",
                "by which the shaft is thicker than the hole",
                Takes::One(Length),
                "0.05 mm",
            ),
            need("hub", "outside diameter of the hub", Takes::One(Length), "3 in"),
            need("length", "length of the fit", Takes::One(Length), "40 mm"),
            or("bore", "hole through the shaft", Takes::One(Length), "0 mm").example("20 mm"),
            or("modulus", "Young's, of both", Takes::One(Pressure), "206800 MPa"),
            or("friction", "of the surfaces, oiled", Takes::One(Ratio), "0.12"),
        ],
        formula: "p = E delta (D^2 - d^2)(d^2 - b^2) / (2 d^3 (D^2 - b^2)); force mu p pi d l; torque force d / 2; heat \
                  delta / (11.5e-6 d), for steel",
        source: "Lamé; Shigley, Mechanical Engineering Design, ch. 3; friction is common practice",
        cautions: &["hot parts burn and press tools let go: gloves, goggles, nobody in line with the press"],
        cases: &[
            "fit=50 mm interference=0.05 mm hub=100 mm length=50 mm modulus=200000 MPa -> pressure: 75 MPa; Shigley eq. 3-57, confirmed by solving both Lamé rings",
            "fit=50 mm interference=0.05 mm hub=100 mm bore=25 mm length=50 mm modulus=200000 MPa -> pressure: 60 MPa; Shigley eq. 3-57, confirmed by solving both Lamé rings",
        ],
        moves: &["interference -> pressure: rises", "hub -> pressure: rises"],
        work: press,
    },
    Figure {
        id: "paint",
        called: &["how much paint", "primer amount", "paint coverage", "litres of paint"],
        group: Group::Workshop,
        name: "Paint",
        meaning: "paint or primer to buy for a surface",
        inputs: &[
            need("area", "to be painted", Takes::One(Area), "12 m2"),
            or("film", "of one coat when dry, by the data sheet", Takes::One(Length), "25 µm"),
            or("coats", "how many", Takes::Whole, "3"),
            or("solids", "share of the paint that stays, by the data sheet", Takes::One(Ratio), "40 %"),
            or("transfer", "share that meets the metal: gun 50 %, brush 95 %", Takes::One(Ratio), "50 %"),
        ],
        formula: "area x film x coats / (solids x transfer)",
        source: "balance of volumes; film and transfer are common practice, the data sheet wins",
        cautions: &["two-pack paint wants air from outside; a filter mask does not hold isocyanates back"],
        cases: &[
            "area=10 m2 film=40 µm coats=1 solids=40 % transfer=100 % -> paint: 1 L; 10 m2 a litre at 40 µm and 40 % solids, as data sheets reckon coverage",
        ],
        moves: &["area -> paint: rises"],
        work: painted,
    },
    Figure {
        id: "tube-bend",
        called: &["bend allowance", "pipe bend length", "bend a brake line", "developed length"],
        group: Group::Workshop,
        name: "Bend of a tube",
        meaning: "tube that a bend takes, and where to mark it",
        inputs: &[
            need("radius", "to the middle of the tube", Takes::One(Length), "40 mm"),
            or("angle", "of the bend", Takes::One(Angle), "90°"),
        ],
        formula: "in the bend radius x angle; set back from the corner radius x tan(angle / 2)",
        source: "arc of a circle; Machinery's Handbook",
        cases: &[
            "radius=40 mm angle=90 deg -> in the bend: 62.832 mm; quarter of the circle",
            "radius=40 mm angle=90 deg -> begins before the corner by: 40.0 mm; Machinery's Handbook: set back of a right angle is the radius",
        ],
        moves: &["radius -> in the bend: rises"],
        work: bend,
        ..FIGURE
    },
];

fn convert(g: &Given<'_>) -> Worked {
    /// What nobody measures.
    const MOST: f64 = 1e15;
    let found = Quantity::parse(g.word("value")).map_err(|e| Trouble::Words(e.to_string()))?;
    if found.dimension == Ratio || found.tolerance > 0.0 || found.si.abs() > MOST {
        let given = echo(g.word("value"));
        return Err(Trouble::Words(format!("value: expected one number with its unit, found \"{given}\"")));
    }
    if found.dimension == Temperature {
        let fahrenheit = format!("{} °F", rounded(found.si * 1.8 + 32.0, 2));
        return Ok(vec![number("°C", found.si, &CELSIUS), text("°F", fahrenheit)]);
    }
    let mut units = table();
    units.retain(|u| u.dimension == found.dimension && !matches!(u.symbol, "miles" | "N m"));
    let to = g.word("to");
    if to != "all" {
        let wanted = symbol(to).unwrap_or(to);
        units.retain(|u| u.symbol == wanted);
        if units.is_empty() {
            return Err(Trouble::Words(format!("to: \"{}\" is no unit of {}", echo(to), g.word("value"))));
        }
    }
    Ok(units.iter().map(|unit| of_table(found.si, unit)).collect::<Vec<Output>>())
}

fn press(g: &Given<'_>) -> Worked {
    let found = press_fit(&PressFit {
        fit: g.length("fit"),
        interference: g.length("interference"),
        hub: g.length("hub"),
        bore: g.length("bore"),
        length: g.length("length"),
        modulus: g.pressure("modulus"),
        friction: g.si("friction"),
    })?;
    Ok(vec![
        number("pressure", found.pressure.value, &MPA),
        number("pull in the hub at its bore", found.hub_stress.value, &MPA),
        number("force to press it", found.force.value, &NEWTON),
        number("torque it carries", found.torque.value, &NM),
        number("hub hotter by, to slip on, of steel", found.heat.value, &KELVIN),
    ])
}

fn painted(g: &Given<'_>) -> Worked {
    let (solids, transfer) = (g.si("solids"), g.si("transfer"));
    let volume = paint(g.area("area"), g.length("film"), g.whole("coats"), solids, transfer)?;
    Ok(vec![
        number("paint", volume.value, &LITRE),
        number("dry film in all", g.si("film") * f64::from(g.whole("coats")), &FIT),
    ])
}

fn bend(g: &Given<'_>) -> Worked {
    let (radius, angle) = (g.length("radius"), g.si("angle"));
    let bent = bend_length(radius, g.angle("angle"))?;
    let back = Measure::new::<meter>(radius.value * (angle / 2.0).tan());
    let mut out = vec![number("in the bend", bent.value, &MM)];
    if angle < 3.0 {
        out.push(number("begins before the corner by", back.value, &MM));
    }
    Ok(out)
}
