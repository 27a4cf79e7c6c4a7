//! Figures of linings and of the brake torque of an axle.

use knockon_figures::brakes::hydraulics::{PadState, clamp_force, disc_torque, effective_radius};
use knockon_figures::brakes::lining::lining_left;
use uom::si::f64::Pressure as Press;
use uom::si::pressure::megapascal;

use super::entry::{Figure, Group, Worked};
use super::given::Given;
use super::input::{Takes, need, or};
use super::output::{KM, MM, NM_MPA, PERCENT, number, text};
use crate::units::Dimension::{Length, Ratio};

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "disc-gain",
        called: &["brake torque per pressure", "axle torque per line pressure", "brake gain"],
        group: Group::Brakes,
        name: "Torque for a pressure",
        meaning: "brake torque of an axle of discs for each line pressure, as brake balance and pedal force want it",
        inputs: &[
            need("caliper-bore", "bore of one caliper piston", Takes::One(Length), "2.94 in"),
            or("pistons", "pistons of one side of the caliper", Takes::Whole, "1"),
            need("outer", "outer radius of the rubbed track", Takes::One(Length), "5.8 in"),
            need("inner", "inner radius of the rubbed track", Takes::One(Length), "3.8 in"),
            or("friction", "of pad on disc, cold", Takes::One(Ratio), "0.38"),
        ],
        formula: "two discs x 2 mu n (pi d^2 / 4) (ro + ri) / 2",
        source: "physics; Shigley ch. 16, bedded pads; friction is common practice",
        cautions: &["an estimate: bed new pads, and try the brakes slowly where nobody is"],
        cases: &[
            "caliper-bore=2.9375 in outer=5.5 in inner=3.5 in -> of the axle: 759.63 N·m/MPa; twice 2000.57 N·m at 5.26721 MPa, by a general-purpose library",
        ],
        moves: &["caliper-bore -> of the axle: rises"],
        work: gain,
    },
    Figure {
        id: "lining-life",
        called: &["brake pad life", "how long will the pads last", "lining wear", "shoe wear"],
        group: Group::Brakes,
        name: "Life of a lining",
        meaning: "how far pads or shoes go until they are as thin as they may be",
        inputs: &[
            need("new", "thickness when new", Takes::One(Length), "10 mm"),
            need("now", "thickness of the thinnest place now", Takes::One(Length), "6 mm"),
            need("driven", "since they were new", Takes::One(Length), "18000 miles"),
            or(
                "least",
                "thickness at which they come out; the maker's figure wins",
                Takes::One(Length),
                "3 mm",
            ),
        ],
        formula: "driven x (now - least) / (new - now)",
        source: "proportion, wear taken as even; 3 mm of bonded lining is common practice",
        cautions: &["dust of old linings holds asbestos: wet it, never blow it out"],
        cases: &["new=10 mm now=6 mm driven=18000 miles least=3 mm -> goes yet: 13500 miles; proportion"],
        moves: &["driven -> goes yet: rises"],
        work: life,
    },
];

fn gain(g: &Given<'_>) -> Worked {
    let pressure = Press::new::<megapascal>(1.0);
    let clamp = clamp_force(pressure, g.length("caliper-bore"), g.whole("pistons"))?;
    let radius = effective_radius(g.length("outer"), g.length("inner"), PadState::Bedded)?;
    let torque = disc_torque(clamp, g.si("friction"), radius)?.value / pressure.value;
    Ok(vec![
        number("of the axle", 2.0 * torque, &NM_MPA),
        number("of one disc", torque, &NM_MPA),
        number("effective radius", radius.value, &MM),
    ])
}

fn life(g: &Given<'_>) -> Worked {
    let (new, now, least) = (g.length("new"), g.length("now"), g.length("least"));
    let left = lining_left(new, now, least, g.length("driven"))?.value;
    let worn = (new - now).value / (new - least).value;
    let said = if left > 0.0 { "look again at half of that" } else { "they are too thin: renew both sides" };
    Ok(vec![number("goes yet", left.max(0.0), &KM), number("worn", worn, &PERCENT), text("verdict", said)])
}
