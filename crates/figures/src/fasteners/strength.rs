//! Strength of a bolt by its grade: proof and tensile stress as data, loads by the stress area (ISO 898-1; SAE J429).

use uom::si::f64::{Force, Length, Pressure};
use uom::si::length::millimeter;
use uom::si::pressure::{megapascal, pascal};

use super::thread::Thread;
use crate::error::{Expected, FigureError};

/// One psi in pascals, exact; that of `uom` is rounded to seven digits.
const PSI: f64 = 6_894.757_293_168;

/// Grade as marked on the head.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// ISO 4.6.
    Iso4_6,
    /// ISO 4.8.
    Iso4_8,
    /// ISO 5.8.
    Iso5_8,
    /// ISO 8.8.
    Iso8_8,
    /// ISO 10.9.
    Iso10_9,
    /// ISO 12.9.
    Iso12_9,
    /// SAE grade 1, no mark.
    Sae1,
    /// SAE grade 2, no mark.
    Sae2,
    /// SAE grade 5, three lines.
    Sae5,
    /// SAE grade 8, six lines.
    Sae8,
}

/// Stresses of a grade in a range of sizes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Grade.
    pub grade: Grade,
    /// Largest diameter the row holds for, mm; the smallest is that of the row before, or of the standard.
    pub up_to_mm: f64,
    /// Proof stress: no lasting stretch under it, MPa.
    pub proof_mpa: f64,
    /// Least tensile strength, MPa.
    pub tensile_mpa: f64,
}

const fn iso(grade: Grade, up_to_mm: f64, proof_mpa: f64, tensile_mpa: f64) -> Row {
    Row { grade, up_to_mm, proof_mpa, tensile_mpa }
}

const fn sae(grade: Grade, up_to_in: f64, proof_psi: f64, tensile_psi: f64) -> Row {
    let mpa = PSI / 1e6;
    Row { grade, up_to_mm: up_to_in * 25.4, proof_mpa: proof_psi * mpa, tensile_mpa: tensile_psi * mpa }
}

/// Strength of every grade; rows of one grade follow each other by size.
///
/// Source: ISO 898-1, table 3 (nominal proof stress, least tensile strength), M1.6 to M39; SAE J429, 1/4 to 1-1/2 in.
pub const ROWS: [Row; 13] = [
    iso(Grade::Iso4_6, 39.0, 225.0, 400.0),
    iso(Grade::Iso4_8, 39.0, 310.0, 420.0),
    iso(Grade::Iso5_8, 39.0, 380.0, 520.0),
    iso(Grade::Iso8_8, 16.0, 580.0, 800.0),
    iso(Grade::Iso8_8, 39.0, 600.0, 830.0),
    iso(Grade::Iso10_9, 39.0, 830.0, 1_040.0),
    iso(Grade::Iso12_9, 39.0, 970.0, 1_220.0),
    sae(Grade::Sae1, 1.5, 33_000.0, 60_000.0),
    sae(Grade::Sae2, 0.75, 55_000.0, 74_000.0),
    sae(Grade::Sae2, 1.5, 33_000.0, 60_000.0),
    sae(Grade::Sae5, 1.0, 85_000.0, 120_000.0),
    sae(Grade::Sae5, 1.5, 74_000.0, 105_000.0),
    sae(Grade::Sae8, 1.5, 120_000.0, 150_000.0),
];

impl Grade {
    /// Whether the grade is one of SAE J429.
    fn is_sae(self) -> bool {
        matches!(self, Self::Sae1 | Self::Sae2 | Self::Sae5 | Self::Sae8)
    }
}

/// The row of a grade for a diameter.
///
/// * `diameter`: 1.6 to 39 mm for ISO, 1/4 to 1-1/2 in for SAE.
///
/// # Errors
/// [`FigureError`] if the standard has no such size.
///
/// Source: [`ROWS`].
pub fn strength(grade: Grade, diameter: Length) -> Result<&'static Row, FigureError> {
    let found = diameter.get::<millimeter>();
    let (low, high) = if grade.is_sae() { (6.35, 38.1) } else { (1.6, 39.0) };
    // a hair for an inch size turned into millimetres
    let row = ROWS.iter().find(|r| r.grade == grade && found <= r.up_to_mm + 1e-6);
    match row {
        Some(row) if found >= low - 1e-6 => Ok(row),
        _ => {
            let expected = Expected::Between { low, high, unit: "mm" };
            Err(FigureError { quantity: "bolt diameter", found, expected })
        }
    }
}

/// Load a bolt bears without lasting stretch: `proof stress * stress area`.
///
/// # Errors
/// [`FigureError`] if the standard of the grade has no such size.
///
/// Source: ISO 898-1; SAE J429.
pub fn proof_load(thread: Thread, grade: Grade) -> Result<Force, FigureError> {
    let row = strength(grade, thread.diameter())?;
    Ok(thread.stress_area() * Pressure::new::<megapascal>(row.proof_mpa))
}

/// Load at which a bolt may break: `tensile strength * stress area`.
///
/// # Errors
/// [`FigureError`] if the standard of the grade has no such size.
///
/// Source: ISO 898-1; SAE J429.
pub fn tensile_load(thread: Thread, grade: Grade) -> Result<Force, FigureError> {
    let row = strength(grade, thread.diameter())?;
    Ok(thread.stress_area() * Pressure::new::<pascal>(row.tensile_mpa * 1e6))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::force::newton;

    use super::*;
    use crate::fasteners::tables::find;
    use crate::testing::{close, refuses};

    const ALL: [Grade; 10] = [
        Grade::Iso4_6,
        Grade::Iso4_8,
        Grade::Iso5_8,
        Grade::Iso8_8,
        Grade::Iso10_9,
        Grade::Iso12_9,
        Grade::Sae1,
        Grade::Sae2,
        Grade::Sae5,
        Grade::Sae8,
    ];

    fn thread(name: &str) -> Thread {
        find(name).unwrap().thread().unwrap()
    }

    #[test]
    fn loads_of_the_standard() {
        // ISO 898-1 tables 4 and 5: proof and tensile load, N, to the rounding of the table
        for (name, grade, proof, tensile) in [
            ("M10x1.5", Grade::Iso8_8, 33_700.0, 46_400.0),
            ("M12x1.75", Grade::Iso8_8, 48_900.0, 67_400.0),
            ("M12x1.75", Grade::Iso10_9, 70_000.0, 87_700.0),
            ("M16x2", Grade::Iso8_8, 91_000.0, 125_000.0),
        ] {
            close(proof_load(thread(name), grade).map(|f| f.get::<newton>()), proof, 3e-3);
            close(tensile_load(thread(name), grade).map(|f| f.get::<newton>()), tensile, 3e-3);
        }
    }

    #[test]
    fn inch_grades() {
        // tier P: fastener.sae_j429/grade 2, 1/4-3/4 in: proof 55,000 psi, tensile 74,000 psi
        let row = strength(Grade::Sae2, Length::new::<millimeter>(12.7));
        close(row.map(|r| r.proof_mpa * 1e6 / PSI), 55_000.0, 1e-9);
        close(row.map(|r| r.tensile_mpa * 1e6 / PSI), 74_000.0, 1e-9);
        // an example vehicle: proof 85 ksi for grade 5, 120 ksi for grade 8
        for (grade, psi) in [(Grade::Sae5, 85_000.0), (Grade::Sae8, 120_000.0)] {
            let row = strength(grade, Length::new::<millimeter>(12.7));
            close(row.map(|r| r.proof_mpa * 1e6 / PSI), psi, 1e-9);
        }
        // tier L: 9,046.125 lbf is 75 % of the proof load of 1/2-13 grade 5, of 0.1419 in2 in its table
        let load =
            proof_load(thread("1/2-13"), Grade::Sae5).map(|f| 0.75 * f.get::<newton>() / 4.448_221_615_260_5);
        close(load, 9_046.125, 1e-4);
    }

    #[test]
    fn a_bigger_bolt_of_a_soft_grade_drops() {
        let at = |grade, mm| strength(grade, Length::new::<millimeter>(mm)).map(|r| r.proof_mpa);
        assert!(at(Grade::Sae2, 19.05).unwrap() > at(Grade::Sae2, 19.06).unwrap());
        assert!(at(Grade::Sae5, 25.4).unwrap() > at(Grade::Sae5, 25.41).unwrap());
        // and 8.8 rises above M16
        assert_eq!([at(Grade::Iso8_8, 16.0), at(Grade::Iso8_8, 18.0)], [Ok(580.0), Ok(600.0)]);
    }

    #[test]
    fn the_table_is_in_order() {
        for grade in ALL {
            let rows: Vec<_> = ROWS.iter().filter(|r| r.grade == grade).collect();
            assert!(!rows.is_empty());
            assert!(rows.windows(2).all(|w| w[0].up_to_mm < w[1].up_to_mm));
            assert!(rows.iter().all(|r| r.proof_mpa < r.tensile_mpa));
        }
    }

    #[test]
    fn refuses_sizes_the_standard_has_not() {
        for grade in ALL {
            for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -1.0, 1.5, 40.0] {
                refuses(strength(grade, Length::new::<millimeter>(bad)), "bolt diameter");
            }
        }
        refuses(proof_load(thread("#10-32"), Grade::Sae5), "bolt diameter");
    }

    proptest! {
        #[test]
        fn any_size_has_a_strength_or_a_refusal(mm in proptest::num::f64::ANY, at in 0_usize..10) {
            let found = strength(ALL[at], Length::new::<millimeter>(mm));
            prop_assert!(found.map_or(true, |r| mm <= r.up_to_mm + 1e-6 && r.grade == ALL[at]));
        }
    }
}
