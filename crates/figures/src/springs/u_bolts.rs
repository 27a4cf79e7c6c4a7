//! U-bolts of a leaf pack: leg length, thread and inside width from the stack they hold (geometry; common practice).

use uom::si::f64::Length;
use uom::si::length::millimeter;

use crate::error::FigureError;
use crate::range::Range;

const TUBE: Range = Range::new(20.0, 300.0, "mm");
const PERCH: Range = Range::new(0.0, 300.0, "mm");
const PACK: Range = Range::new(1.0, 300.0, "mm");
const PLATE: Range = Range::new(1.0, 60.0, "mm");
const WASHER: Range = Range::new(0.0, 20.0, "mm");
const NUT: Range = Range::new(2.0, 60.0, "mm");
const PITCH: Range = Range::new(0.3, 6.0, "mm");
const THREADS_OUT: Range = Range::new(0.0, 30.0, "threads");

/// Everything between the bend of a U-bolt and the ends of its legs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UBoltStack {
    /// Outside diameter of the axle tube the bend lies on, 20 to 300 mm.
    pub axle_tube: Length,
    /// Perch, wedge and block between tube and pack, 0 to 300 mm.
    pub perch: Length,
    /// Height of the leaf pack at the axle, 1 to 300 mm.
    pub pack: Length,
    /// Plate under the nuts, damper bracket counted, 1 to 60 mm.
    pub plate: Length,
    /// Washer, 0 to 20 mm.
    pub washer: Length,
    /// Height of the nut, 2 to 60 mm; deep nuts are one to one and a half diameters high.
    pub nut: Length,
    /// Pitch of the thread, 0.3 to 6 mm; 25.4 over the threads per inch.
    pub pitch: Length,
}

/// A U-bolt as it is ordered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UBolt {
    /// Between the legs: the diameter of the tube.
    pub inside_width: Length,
    /// From the inside of the bend to the end of a leg.
    pub leg: Length,
    /// Thread from the end of a leg, so that the nuts pull the plate up even on a pack worn thinner.
    pub thread: Length,
}

/// The U-bolt a stack wants: leg `tube + perch + pack + plate + washer + nut + threads out * pitch`.
///
/// * `stack`: within the ranges of [`UBoltStack`].
/// * `threads_out`: threads that show beyond the nut, 0 to 30; 3 is common practice.
///
/// The thread reaches up to the pack: plate, washer, nut and the threads that show.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry of a round bend on the tube; three threads out is common practice.
pub fn u_bolt(stack: UBoltStack, threads_out: f64) -> Result<UBolt, FigureError> {
    let checked = [
        (TUBE, "axle tube diameter", stack.axle_tube),
        (PERCH, "perch and blocks", stack.perch),
        (PACK, "leaf pack height", stack.pack),
        (PLATE, "U-bolt plate thickness", stack.plate),
        (WASHER, "washer thickness", stack.washer),
        (NUT, "nut height", stack.nut),
        (PITCH, "thread pitch", stack.pitch),
    ];
    for (range, name, length) in checked {
        range.check(name, length.get::<millimeter>())?;
    }
    let out = stack.pitch * THREADS_OUT.check("threads beyond the nut", threads_out)?;
    let thread = stack.plate + stack.washer + stack.nut + out;
    Ok(UBolt {
        inside_width: stack.axle_tube,
        leg: stack.axle_tube + stack.perch + stack.pack + thread,
        thread,
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{close, refuses};

    /// Tube, perch, pack, plate, washer, nut, pitch, threads out.
    type Stack = [f64; 8];

    fn bolt(a: Stack) -> Result<[f64; 3], FigureError> {
        let [tube, perch, pack, plate, washer, nut, pitch, out] = a;
        let [axle_tube, perch, pack, plate, washer, nut, pitch] =
            [tube, perch, pack, plate, washer, nut, pitch].map(Length::new::<millimeter>);
        let found = u_bolt(UBoltStack { axle_tube, perch, pack, plate, washer, nut, pitch }, out)?;
        Ok([found.inside_width, found.leg, found.thread].map(|l| l.get::<millimeter>()))
    }

    /// An example vehicle: tube 2.75 in, seven leaves (taken as 6 mm), 1/2-20; plate 8, washer 2.5, plain nut.
    const SEVEN_LEAVES: Stack = [69.85, 0.0, 42.0, 8.0, 2.5, 12.7, 1.27, 3.0];

    #[test]
    fn trade_u_bolt() {
        // an example vehicle: legs 140 mm as found; by hand 138.86
        let found = bolt(SEVEN_LEAVES);
        close(found.map(|b| b[0]), 69.85, 1e-12);
        close(found.map(|b| b[1]), 138.86, 1e-9);
        close(found.map(|b| b[1]), 140.0, 0.01);
        close(found.map(|b| b[2]), 27.01, 1e-9);
    }

    #[test]
    fn a_thicker_stack_wants_longer_legs_by_as_much() {
        // arithmetic: two leaves of 6 mm more, a 4 degree wedge 4 mm high, deep nuts of 19 mm
        let mut lifted = SEVEN_LEAVES;
        lifted[1] = 4.0;
        lifted[2] = 54.0;
        lifted[5] = 19.0;
        close(bolt(lifted).map(|b| b[1]), 138.86 + 4.0 + 12.0 + 6.3, 1e-9);
        close(bolt(lifted).map(|b| b[2]), 27.01 + 6.3, 1e-9);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let names = [
            "axle tube diameter",
            "perch and blocks",
            "leaf pack height",
            "U-bolt plate thickness",
            "washer thickness",
            "nut height",
            "thread pitch",
            "threads beyond the nut",
        ];
        for (at, name) in names.into_iter().enumerate() {
            for bad in [f64::NAN, f64::INFINITY, -1.0, 1e9] {
                let mut a = SEVEN_LEAVES;
                a[at] = bad;
                refuses(bolt(a), name);
            }
        }
        for at in [0, 2, 3, 5, 6] {
            let mut a = SEVEN_LEAVES;
            a[at] = 0.0;
            refuses(bolt(a), names[at]);
        }
    }

    proptest! {
        #[test]
        fn every_part_of_the_stack_counts_in_full(at in 0_usize..6, more in 0.1..5.0) {
            let mut thicker = SEVEN_LEAVES;
            thicker[at] += more;
            let grown = bolt(thicker).unwrap_or_default()[1] - bolt(SEVEN_LEAVES).unwrap_or_default()[1];
            prop_assert!(f64::abs(grown - more) < 1e-9);
        }

        #[test]
        fn any_numbers_are_refused_or_finite(a in any::<Stack>()) {
            prop_assert!(bolt(a).map_or(true, |b| b.iter().all(|v| v.is_finite() && *v > 0.0)));
        }
    }
}
