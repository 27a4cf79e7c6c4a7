//! Rate of a leaf pack: cantilevers of graduated and full-length leaves side by side (SAE HS-788; Khurmi & Gupta).

use uom::si::f64::{Length, Pressure, SurfaceTension};
use uom::si::length::{meter, millimeter};
use uom::si::pressure::{gigapascal, pascal};
use uom::si::surface_tension::newton_per_meter;

use crate::error::FigureError;
use crate::range::Range;

/// Force over travel. The unit library files force over length under surface tension, which has the same dimension.
pub type SpringRate = SurfaceTension;

/// Young's modulus of spring steel, GPa (handbook value; books use 200 to 210).
pub const STEEL_MODULUS: f64 = 206.8;

/// A real pack is stiffer than the plainest formula by 5 to 25 %: friction, clamps, full-length leaves.
const STIFFER: [f64; 2] = [1.05, 1.25];

const LEAVES: Range = Range::new(1.0, 30.0, "leaves");
const THICKNESS: Range = Range::new(1.0, 50.0, "mm");
const WIDTH: Range = Range::new(10.0, 200.0, "mm");
const ARM: Range = Range::new(50.0, 2_000.0, "mm");
const CLAMPED: Range = Range::new(0.0, 500.0, "mm");
const DEFLECTION: Range = Range::new(0.1, 1_000.0, "mm");
const MODULUS: Range = Range::new(1.0, 500.0, "GPa");

/// One leaf of a pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaf {
    /// Thickness, 1 to 50 mm.
    pub thickness: Length,
    /// True for a leaf that reaches from eye to eye at full width, false for one of the graduated ones.
    pub full_length: bool,
}

/// A semi-elliptic pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeafPack<'a> {
    /// Young's modulus, 1 to 500 GPa; [`STEEL_MODULUS`] for steel.
    pub modulus: Pressure,
    /// Width of the leaves, 10 to 200 mm.
    pub width: Length,
    /// From the front eye to the centre bolt, 50 to 2,000 mm.
    pub front_arm: Length,
    /// From the rear eye likewise.
    pub rear_arm: Length,
    /// Length between the outer U-bolts, which does not bend, 0 to 500 mm; half of it comes off each arm.
    pub clamped: Length,
    /// The leaves, 1 to 30.
    pub leaves: &'a [Leaf],
}

/// What a pack comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeafRate {
    /// By the formula.
    pub textbook: SpringRate,
    /// The least to be expected of a real pack: 5 % over a plain one, in which every leaf is graduated and bends up to
    /// the centre bolt, or the formula up to the centre bolt where that is more.
    pub low: SpringRate,
    /// The most: 25 % over a plain one, or what the formula gives where that is more. Full-length leaves and clamps are
    /// in it once.
    pub high: SpringRate,
}

/// Rate of a leaf pack at the axle: `E b (a + c) (2 sum t^3 graduated + 3 sum t^3 full) / (12 a^2 c^2)`.
///
/// The arms are taken up to the U-bolts. With equal arms `a = c = L/2` and no full-length leaves this is the well-known `8 E b sum t^3 / (3 L^3)`.
///
/// * `pack`: within the ranges of [`LeafPack`].
///
/// # Errors
/// [`FigureError`] if a measure is out of its range.
///
/// Source: beams of uniform strength (graduated) and of uniform section (full length) side by side, each arm a
/// cantilever; SAE HS-788, Khurmi & Gupta ch. 23. HS-788's stiffening factors are not reproduced; the band of 5 to 25 %
/// over a plain pack is from memory.
pub fn leaf_rate(pack: &LeafPack<'_>) -> Result<LeafRate, FigureError> {
    MODULUS.check("modulus of the spring steel", pack.modulus.get::<gigapascal>())?;
    WIDTH.check("leaf width", pack.width.get::<millimeter>())?;
    ARM.check("front arm of the spring", pack.front_arm.get::<millimeter>())?;
    ARM.check("rear arm of the spring", pack.rear_arm.get::<millimeter>())?;
    LEAVES.check("number of leaves", pack.leaves.len() as f64)?;

    CLAMPED.check("length under the U-bolts", pack.clamped.get::<millimeter>())?;
    let half = pack.clamped / 2.0;
    for (name, arm) in
        [("front arm of the spring", pack.front_arm), ("rear arm of the spring", pack.rear_arm)]
    {
        ARM.check(name, (arm - half).get::<millimeter>())?;
    }

    let (mut cubes, mut plain_cubes) = (0.0, 0.0);
    for leaf in pack.leaves {
        THICKNESS.check("leaf thickness", leaf.thickness.get::<millimeter>())?;
        let cube = leaf.thickness.get::<meter>().powi(3);
        cubes += if leaf.full_length { 3.0 } else { 2.0 } * cube;
        plain_cubes += 2.0 * cube;
    }
    let stiffness = pack.modulus.get::<pascal>() * pack.width.get::<meter>();
    let rate = |off: Length, cubes: f64| {
        let (a, c) = ((pack.front_arm - off).get::<meter>(), (pack.rear_arm - off).get::<meter>());
        SpringRate::new::<newton_per_meter>(stiffness * (a + c) * cubes / (12.0 * (a * c).powi(2)))
    };
    let textbook = rate(half, cubes);
    let none = half * 0.0;
    let [low, high] = STIFFER.map(|more| rate(none, plain_cubes) * more);
    // what is counted once is there
    let larger = |a: SpringRate, b: SpringRate| if a > b { a } else { b };
    Ok(LeafRate { textbook, low: larger(low, rate(none, cubes)), high: larger(high, textbook) })
}

/// Bending stress of a leaf at the clamp for a travel of its arm: graduated `E t d / l^2`, full length 1.5 times that.
///
/// * `modulus`: Young's modulus, 1 to 500 GPa.
/// * `leaf`: 1 to 50 mm thick.
/// * `arm`: from the eye to the clamp, 50 to 2,000 mm.
/// * `deflection`: of the eye against the clamp from where the leaf is free, 0.1 to 1,000 mm.
///
/// What a leaf was given in the assembly, by pulling unlike arches together, comes on top.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: cantilever of uniform strength or of uniform section; Khurmi & Gupta ch. 23.
pub fn leaf_stress(
    modulus: Pressure,
    leaf: Leaf,
    arm: Length,
    deflection: Length,
) -> Result<Pressure, FigureError> {
    MODULUS.check("modulus of the spring steel", modulus.get::<gigapascal>())?;
    THICKNESS.check("leaf thickness", leaf.thickness.get::<millimeter>())?;
    ARM.check("arm of the spring", arm.get::<millimeter>())?;
    DEFLECTION.check("deflection of the spring", deflection.get::<millimeter>())?;
    let strain = leaf.thickness.get::<meter>() * deflection.get::<meter>() / arm.get::<meter>().powi(2);
    Ok(modulus * strain * if leaf.full_length { 1.5 } else { 1.0 })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::length::inch;
    use uom::si::pressure::{megapascal, psi};
    use uom::si::surface_tension::{kilonewton_per_meter as newton_per_millimeter, pound_force_per_inch};

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn gpa(value: f64) -> Pressure {
        Pressure::new::<gigapascal>(value)
    }

    /// Graduated leaves, then full-length ones.
    fn leaves(thickness: f64, graduated: usize, full: usize) -> Vec<Leaf> {
        let leaf = |full_length| Leaf { thickness: mm(thickness), full_length };
        let mut leaves = vec![leaf(false); graduated];
        leaves.extend(vec![leaf(true); full]);
        leaves
    }

    fn rate(
        modulus: Pressure,
        width: f64,
        arms: [f64; 2],
        leaves: &[Leaf],
    ) -> Result<SpringRate, FigureError> {
        let [front_arm, rear_arm] = arms.map(mm);
        leaf_rate(&LeafPack { modulus, width: mm(width), front_arm, rear_arm, clamped: mm(0.0), leaves })
            .map(|r| r.textbook)
    }

    fn per_mm(modulus: f64, width: f64, arms: [f64; 2], leaves: &[Leaf]) -> Result<f64, FigureError> {
        rate(gpa(modulus), width, arms, leaves).map(|r| r.get::<newton_per_millimeter>())
    }

    #[test]
    fn rates_against_the_diamond_plate() {
        // unit-load integral over the equivalent plate
        close(per_mm(206.0, 65.0, [600.0, 600.0], &leaves(6.0, 7, 0)), 31.243_333_333_3, 1e-9);
        let inches = |v: f64| Length::new::<inch>(v);
        let five = [Leaf { thickness: inches(0.25), full_length: false }; 5];
        let pack = LeafPack {
            modulus: Pressure::new::<psi>(30e6),
            width: inches(2.5),
            front_arm: inches(26.0),
            rear_arm: inches(26.0),
            clamped: inches(0.0),
            leaves: &five,
        };
        // the unit library rounds the pound-force and the psi to seven figures
        close(leaf_rate(&pack).map(|r| r.textbook.get::<pound_force_per_inch>()), 111.124_544_834, 2e-7);
    }

    #[test]
    fn the_textbook_pack_with_full_length_leaves() {
        // tier A: spring.leaf_textbook: 7 leaves of 9 mm, 2 of full length, 1,100 mm less 80 at the U-bolts, 6 kN: 29.99 mm
        let found = per_mm(210.0, 65.0, [510.0, 510.0], &leaves(9.0, 5, 2));
        close(found.map(|k| 6000.0 / k), 29.993_894_993_9, 1e-9);
    }

    fn stress(
        gpa_value: f64,
        t: f64,
        full_length: bool,
        arm: f64,
        deflection: f64,
    ) -> Result<f64, FigureError> {
        leaf_stress(gpa(gpa_value), Leaf { thickness: mm(t), full_length }, mm(arm), mm(deflection))
            .map(|p| p.get::<megapascal>())
    }

    #[test]
    fn stresses_of_the_textbook_pack() {
        // tier A: spring.leaf_textbook: at 8.69823779046 mm the full-length leaves stand at 350 MPa under 6 kN
        let t = 8.698_237_790_46;
        let deflection =
            per_mm(210.0, 65.0, [510.0, 510.0], &leaves(t, 5, 2)).map_or(f64::NAN, |k| 6000.0 / k);
        close(stress(210.0, t, true, 510.0, deflection), 350.0, 1e-9);
        // the graduated ones carry two thirds of that
        close(stress(210.0, t, false, 510.0, deflection), 350.0 / 1.5, 1e-9);
    }

    #[test]
    fn uneven_arms_against_an_integral() {
        // numerical: unit-load integral over two tapered and two uniform arms outside this program, N/mm
        close(per_mm(206.8, 63.5, [500.0, 700.0], &leaves(7.0, 5, 0)), 36.769_04, 1e-9);
        close(per_mm(206.8, 45.0, [450.0, 650.0], &leaves(6.5, 5, 2)), 43.810_962_963_07, 1e-9);
    }

    #[test]
    fn trade_rates() {
        // common practice: 18 to 35 N/mm; a front spring of seven leaves, 45 mm wide
        let found = per_mm(206.8, 45.0, [480.0, 480.0], &leaves(5.5, 6, 1));
        assert!(found.is_ok_and(|k| (18.0..35.0).contains(&k)));
    }

    #[test]
    fn a_real_pack_is_stiffer() {
        let seven = leaves(6.0, 7, 0);
        let pack = LeafPack {
            modulus: gpa(206.0),
            width: mm(65.0),
            front_arm: mm(600.0),
            rear_arm: mm(600.0),
            clamped: mm(0.0),
            leaves: &seven,
        };
        // references, section 7: 5 to 25 % stiffer
        let found = leaf_rate(&pack);
        close(found.map(|r| r.low.get::<newton_per_millimeter>()), 32.805_5, 1e-9);
        close(found.map(|r| r.high.get::<newton_per_millimeter>()), 39.054_166_666_6, 1e-9);
    }

    #[test]
    fn full_length_leaves_and_clamps_count_once() {
        // the textbook pack: 7 leaves of 9 mm, 2 of full length, 80 mm under the U-bolts, 6 kN: 29.99 mm
        let (all, plain) = (leaves(9.0, 5, 2), leaves(9.0, 7, 0));
        let pack = |clamped: f64, leaves| {
            let (front_arm, rear_arm) = (mm(550.0), mm(550.0));
            leaf_rate(&LeafPack {
                modulus: gpa(210.0),
                width: mm(65.0),
                front_arm,
                rear_arm,
                clamped: mm(clamped),
                leaves,
            })
            .unwrap()
        };
        let (counted, rough) = (pack(80.0, &all), pack(0.0, &plain));
        close(Ok(6000.0 / counted.textbook.get::<newton_per_millimeter>()), 29.993_894_993_9, 1e-9);
        // the full-length leaves are there whatever the clamp does: 16/14 of the plain pack
        close(Ok(counted.low.value / rough.textbook.value), 16.0 / 14.0, 1e-9);
        // and nothing is added to the formula that has counted it all: at 1.43 times the plain pack it is the most
        assert_eq!(counted.high, counted.textbook);
        assert!(rough.textbook < rough.low && rough.high < counted.textbook);
        // one full-length leaf in seven adds a fourteenth, which the band has in it
        let (six_and_one, alone) = (leaves(9.0, 6, 1), leaves(9.0, 0, 1));
        let one = pack(0.0, &six_and_one);
        assert!(one.low == one.textbook && one.textbook < one.high && one.high == rough.high);
        // a single leaf from eye to eye is the beam of the formula and nothing else
        let single = pack(0.0, &alone);
        assert!(single.low == single.textbook && single.high == single.textbook);
        refuses(
            leaf_rate(&LeafPack {
                modulus: gpa(210.0),
                width: mm(65.0),
                front_arm: mm(200.0),
                rear_arm: mm(550.0),
                clamped: mm(350.0),
                leaves: &all,
            }),
            "front arm of the spring",
        );
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let seven = leaves(6.0, 7, 0);
        for bad in REFUSED {
            refuses(per_mm(bad, 65.0, [600.0, 600.0], &seven), "modulus of the spring steel");
            refuses(per_mm(206.0, bad, [600.0, 600.0], &seven), "leaf width");
            refuses(per_mm(206.0, 65.0, [bad, 600.0], &seven), "front arm of the spring");
            refuses(per_mm(206.0, 65.0, [600.0, bad], &seven), "rear arm of the spring");
            refuses(per_mm(206.0, 65.0, [600.0, 600.0], &leaves(bad, 1, 0)), "leaf thickness");
            refuses(stress(bad, 6.0, true, 600.0, 100.0), "modulus of the spring steel");
            refuses(stress(206.0, bad, true, 600.0, 100.0), "leaf thickness");
            refuses(stress(206.0, 6.0, true, bad, 100.0), "arm of the spring");
            refuses(stress(206.0, 6.0, true, 600.0, bad), "deflection of the spring");
        }
        refuses(per_mm(206.0, 65.0, [600.0, 600.0], &[]), "number of leaves");
        refuses(per_mm(206.0, 65.0, [600.0, 600.0], &leaves(6.0, 31, 0)), "number of leaves");
    }

    proptest! {
        #[test]
        fn a_leaf_more_is_stiffer_and_a_full_one_more_so(t in 4.0..12.0, n in 1_usize..9, arm in 300.0..800.0) {
            let k = |g, f| per_mm(206.8, 60.0, [arm, arm], &leaves(t, g, f)).unwrap_or(f64::NAN);
            prop_assert!(k(n + 1, 0) > k(n, 0) && k(n, 1) > k(n + 1, 0));
            // n alike leaves have n times the rate of one
            prop_assert!((k(n, 0) / k(1, 0) - n as f64).abs() < 1e-9);
        }

        #[test]
        fn the_rate_is_the_same_from_either_end(a in 300.0..800.0, c in 300.0..800.0) {
            let k = |arms| per_mm(206.8, 60.0, arms, &leaves(7.0, 4, 1)).unwrap_or(f64::NAN);
            prop_assert!((k([a, c]) / k([c, a]) - 1.0).abs() < 1e-12);
            // moving the axle off the middle of the same span makes it stiffer
            let middle = f64::midpoint(a, c);
            prop_assert!(k([a, c]) >= k([middle, middle]) * (1.0 - 1e-12));
        }

        #[test]
        fn the_rate_follows_the_cube_of_thickness_and_length(t in 4.0..12.0, arm in 300.0..800.0, factor in 1.1..1.9) {
            let k = |t, arm| per_mm(206.8, 60.0, [arm, arm], &leaves(t, 4, 1)).unwrap_or(f64::NAN);
            let cube = f64::powi(factor, 3);
            prop_assert!((k(t * factor, arm) / k(t, arm) / cube - 1.0).abs() < 1e-9);
            prop_assert!((k(t, arm) / k(t, arm * factor) / cube - 1.0).abs() < 1e-9);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<[f64; 5]>()) {
            prop_assert!(sound(per_mm(a[0], a[1], [a[2], a[3]], &leaves(a[4], 3, 1))));
        }
    }
}
