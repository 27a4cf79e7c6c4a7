//! Limits of the engine: compression for the fuel, piston speed.

use super::declared::{Declared, Holds};
use super::entry::{less, more, one};
use crate::units::Dimension::{Ratio, Speed};

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[
    Declared {
        name: "compression",
        figure: "compression-ratio",
        called: &[],
        fixed: &[("wanted", "")],
        asks: &[one("most", Ratio)],
        holds: Holds::AtMost("compression ratio", "most"),
        says: "compression comes to {compression ratio:.2}, the fuel stands {most:.2}",
        levers: &[
            more("chamber", "chamber"),
            more("gasket", "thickness of the head gasket"),
            more("dish", "dish of the piston"),
        ],
    },
    Declared {
        name: "piston-speed",
        figure: "piston-speed",
        called: &[],
        fixed: &[("rod", ""), ("crank", "")],
        asks: &[one("most", Speed)],
        holds: Holds::AtMost("mean piston speed", "most"),
        says: "the pistons move {mean piston speed:.1} m/s at {rpm:.0} rpm, at most {most:.1} m/s wanted",
        levers: &[less("rpm", "engine speed")],
    },
];
