//! Tap drills: depth of thread a drill leaves, and drills by number, letter, fraction and millimetre.

use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::thread::Thread;
use crate::error::{Expected, FigureError};
use crate::range::Range;

/// Number drills 1 to 60, thousandths of an inch times ten. Source: ASME B94.11M (from memory, held to the list of an
/// open CAD library).
const NUMBERS: [u16; 60] = [
    2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, 1910, 1890, 1850, 1820, 1800, 1770, 1730,
    1695, 1660, 1610, 1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285, 1200, 1160, 1130, 1110,
    1100, 1065, 1040, 1015, 995, 980, 960, 935, 890, 860, 820, 810, 785, 760, 730, 700, 670, 635, 595, 550,
    520, 465, 430, 420, 410, 400,
];

/// Letter drills A to Z, thousandths of an inch. Source: ASME B94.11M (as for the numbers).
const LETTERS: [u16; 26] = [
    234, 238, 242, 246, 250, 257, 261, 266, 272, 277, 281, 290, 295, 302, 316, 323, 332, 339, 348, 358, 368,
    377, 386, 397, 404, 413,
];

/// Clearance holes for metric bolts: diameter of the bolt, fine, medium and coarse hole, mm. Source: ISO 273.
pub const CLEARANCE_MM: [(f64, f64, f64, f64); 9] = [
    (3.0, 3.2, 3.4, 3.6),
    (4.0, 4.3, 4.5, 4.8),
    (5.0, 5.3, 5.5, 5.8),
    (6.0, 6.4, 6.6, 7.0),
    (8.0, 8.4, 9.0, 10.0),
    (10.0, 10.5, 11.0, 12.0),
    (12.0, 13.0, 13.5, 14.5),
    (14.0, 15.0, 15.5, 16.5),
    (16.0, 17.0, 17.5, 18.5),
];

/// Clearance holes for inch bolts: diameter of the bolt, close, normal and loose hole, in. Source: ASME B18.2.8, sizes from
/// a quarter of an inch on (from memory).
pub const CLEARANCE_INCH: [(f64, f64, f64, f64); 9] = [
    (1.0 / 4.0, 17.0 / 64.0, 9.0 / 32.0, 19.0 / 64.0),
    (5.0 / 16.0, 21.0 / 64.0, 11.0 / 32.0, 23.0 / 64.0),
    (3.0 / 8.0, 25.0 / 64.0, 13.0 / 32.0, 27.0 / 64.0),
    (7.0 / 16.0, 29.0 / 64.0, 15.0 / 32.0, 31.0 / 64.0),
    (1.0 / 2.0, 17.0 / 32.0, 9.0 / 16.0, 39.0 / 64.0),
    (5.0 / 8.0, 21.0 / 32.0, 11.0 / 16.0, 47.0 / 64.0),
    (3.0 / 4.0, 25.0 / 32.0, 13.0 / 16.0, 29.0 / 32.0),
    (7.0 / 8.0, 29.0 / 32.0, 15.0 / 16.0, 33.0 / 32.0),
    (1.0, 33.0 / 32.0, 35.0 / 32.0, 37.0 / 32.0),
];

/// How much play a clearance hole has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clearance {
    /// The bolt locates the part.
    Fine,
    /// The usual one.
    Medium,
    /// For holes that do not line up.
    Coarse,
}

/// Clearance hole for a bolt; `None` if neither [`CLEARANCE_MM`] nor [`CLEARANCE_INCH`] has such a size.
///
/// * `bolt`: nominal diameter, 0.5 to 200 mm.
///
/// # Errors
/// [`FigureError`] if the diameter is out of its range.
///
/// Source: ISO 273, ASME B18.2.8.
pub fn clearance_hole(bolt: Length, clearance: Clearance) -> Result<Option<Length>, FigureError> {
    let bolt = Range::new(0.5, 200.0, "mm").check("bolt diameter", bolt.get::<millimeter>())?;
    let inches =
        CLEARANCE_INCH.map(|(d, fine, medium, coarse)| (d * 25.4, fine * 25.4, medium * 25.4, coarse * 25.4));
    let row = CLEARANCE_MM.iter().chain(&inches).find(|(d, ..)| (d - bolt).abs() < 1e-6);
    Ok(row.map(|(_, fine, medium, coarse)| {
        Length::new::<millimeter>(match clearance {
            Clearance::Fine => *fine,
            Clearance::Medium => *medium,
            Clearance::Coarse => *coarse,
        })
    }))
}

const DRILL: Range = Range::new(0.1, 200.0, "mm");
const PERCENT: Range = Range::new(30.0, 100.0, "%");

/// Depth of thread that a drill leaves, in per cent of a full one: `(D - drill) / (1.299 P)`.
///
/// * `drill`: 0.1 to 200 mm, less than the thread.
///
/// The full thread is `0.75 H` on each side, `1.299 P` in diameter; for Whitworth `1.2807 P`, for BA `1.2 P`. 60 to 75 % is right for steel
/// and iron, 75 to 85 % for soft metal; beyond that the tap breaks and the thread is not stronger.
///
/// # Errors
/// [`FigureError`] if the drill is out of its range or no less than the thread.
///
/// Source: Machinery's Handbook, `threads an inch (D - drill) / 0.01299`.
pub fn percent_of_thread(thread: Thread, drill: Length) -> Result<f64, FigureError> {
    let found = DRILL.check("tap drill", drill.get::<millimeter>())?;
    let diameter = thread.diameter().get::<millimeter>();
    if found >= diameter {
        let expected = Expected::Below { limit: diameter, unit: "mm" };
        return Err(FigureError { quantity: "tap drill", found, expected });
    }
    Ok(100.0 * (diameter - found) / full_depth(thread))
}

/// Drill that leaves a depth of thread, the inverse of [`percent_of_thread`].
///
/// * `percent`: 30 to 100.
///
/// # Errors
/// [`FigureError`] if the depth is out of its range.
///
/// Source: Machinery's Handbook.
pub fn drill_for(thread: Thread, percent: f64) -> Result<Length, FigureError> {
    let percent = PERCENT.check("depth of thread", percent)?;
    Ok(thread.diameter() - Length::new::<millimeter>(full_depth(thread) * percent / 100.0))
}

/// Twice the depth of a full thread, mm.
fn full_depth(thread: Thread) -> f64 {
    match thread.form() {
        // the handbook's constant: 0.75 sqrt 3 = 1.29904
        super::thread::Form::Metric | super::thread::Form::Unified => {
            0.75 * 3_f64.sqrt() * thread.pitch().get::<millimeter>()
        }
        super::thread::Form::Whitworth => 2.0 * 0.640_327 * thread.pitch().get::<millimeter>(),
        super::thread::Form::Association => 1.2 * thread.pitch().get::<millimeter>(),
    }
}

/// Diameter of a drill by its name, mm: `#7` (1 to 60), `U`, `5/16` and `1-1/8` in inches, `8.5` in mm.
///
/// # Errors
/// [`FigureError`] if the name is none, or the drill out of 0.1 to 200 mm; what was found is then NaN for a name that
/// cannot be read.
///
/// Source: ASME B94.11M for numbers and letters.
pub fn drill_millimetres(name: &str) -> Result<f64, FigureError> {
    let name = name.trim();
    let found =
        number(name).or_else(|| letter(name)).or_else(|| fraction(name)).or_else(|| name.parse().ok());
    DRILL.check("drill size", found.unwrap_or(f64::NAN))
}

fn number(name: &str) -> Option<f64> {
    let at: usize = name.strip_prefix('#')?.parse().ok()?;
    NUMBERS.get(at.checked_sub(1)?).map(|tenths| f64::from(*tenths) * 0.002_54)
}

fn letter(name: &str) -> Option<f64> {
    let mut letters = name.bytes();
    let (Some(byte), None) = (letters.next(), letters.next()) else { return None };
    let at = byte.to_ascii_uppercase().checked_sub(b'A')?;
    LETTERS.get(usize::from(at)).map(|mils| f64::from(*mils) * 0.025_4)
}

fn fraction(name: &str) -> Option<f64> {
    let (whole, part) = name.split_once('-').map_or((0.0, Some(name)), |(whole, part)| {
        (whole.parse::<u16>().map_or(f64::NAN, f64::from), Some(part))
    });
    let (over, under) = part?.split_once('/')?;
    let (over, under): (u16, u16) = (over.parse().ok()?, under.parse().ok()?);
    Some((whole + f64::from(over) / f64::from(under)) * 25.4)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    #[test]
    fn drills_by_name() {
        // ASME B94.11M, mm
        for (name, diameter) in [
            ("#7", 5.105),
            ("#3", 5.410),
            ("#21", 4.039),
            ("#29", 3.454),
            ("#36", 2.705),
            ("#60", 1.016),
            ("#1", 5.791),
            ("F", 6.528),
            ("i", 6.909),
            ("Q", 8.433),
            ("U", 9.347),
            ("A", 5.944),
            ("Z", 10.490),
            ("5/16", 7.9375),
            ("1-1/8", 28.575),
            ("8.5", 8.5),
            (" 10.2 ", 10.2),
        ] {
            close(drill_millimetres(name), diameter, 2e-4);
        }
        for none in
            ["", "#", "#0", "#61", "#-1", "AB", "5/0", "x/3", "1/2/3", "-1/2", "NaN", "inf", "-3", "0", "é"]
        {
            refuses(drill_millimetres(none), "drill size");
        }
    }

    #[test]
    fn the_list_of_an_open_library_agrees() {
        // bd_warehouse 0.4.0, drill_sizes.csv, rounded to 0.001 in up to #29: every fifth number, and letters
        for (at, inches) in [
            (5, 0.205),
            (10, 0.193),
            (15, 0.180),
            (20, 0.161),
            (25, 0.150),
            (30, 0.1285),
            (35, 0.110),
            (40, 0.098),
            (45, 0.082),
            (50, 0.070),
            (55, 0.052),
            (60, 0.040),
        ] {
            let found = drill_millimetres(&format!("#{at}")).map(|d| d / 25.4);
            assert!(found.is_ok_and(|f| (f - inches).abs() < 0.000_51), "#{at}: {found:?}");
        }
        for (letter, inches) in [("E", 0.250), ("K", 0.281), ("P", 0.323), ("V", 0.377)] {
            close(drill_millimetres(letter).map(|d| d / 25.4), inches, 1e-9);
        }
    }

    #[test]
    fn clearance_holes() {
        // ISO 273: M6, M8, M10, M12
        for (d, holes) in [
            (6.0, [6.4, 6.6, 7.0]),
            (8.0, [8.4, 9.0, 10.0]),
            (10.0, [10.5, 11.0, 12.0]),
            (12.0, [13.0, 13.5, 14.5]),
        ] {
            for (clearance, hole) in
                [Clearance::Fine, Clearance::Medium, Clearance::Coarse].into_iter().zip(holes)
            {
                assert_eq!(clearance_hole(mm(d), clearance), Ok(Some(mm(hole))));
            }
        }
        assert_eq!(clearance_hole(mm(9.0), Clearance::Fine), Ok(None));
        assert!(
            CLEARANCE_MM.iter().all(|(d, fine, medium, coarse)| d < fine && fine < medium && medium < coarse)
        );
        for bad in REFUSED {
            refuses(clearance_hole(mm(bad), Clearance::Fine), "bolt diameter");
        }
    }

    #[test]
    fn drills_grow_as_their_numbers_fall_and_their_letters_rise() {
        assert!(NUMBERS.windows(2).all(|w| w[0] > w[1]));
        assert!(LETTERS.windows(2).all(|w| w[0] < w[1]));
        // A is the next over #1
        assert!(LETTERS[0] * 10 > NUMBERS[0]);
    }

    #[test]
    fn a_metric_drill_of_diameter_less_pitch_leaves_77_per_cent() {
        // geometry: P / (1.299 P)
        for (d, p) in [(6.0, 1.0), (10.0, 1.5), (14.0, 2.0)] {
            let thread = Thread::metric(mm(d), mm(p)).unwrap();
            close(percent_of_thread(thread, mm(d - p)), 76.980_035_9, 1e-8);
        }
    }

    #[test]
    fn whitworth_is_less_deep() {
        // BS 84: depth 0.640327 P on each side; tier P: 3/8-16 BSW is drilled 7.9: 1.625 / 2.03304 = 79.93 %
        let thread = Thread::whitworth(0.375, 16.0).unwrap();
        close(percent_of_thread(thread, mm(7.9)), 79.93, 1e-4);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let thread = Thread::metric(mm(10.0), mm(1.5)).unwrap();
        for bad in REFUSED {
            refuses(percent_of_thread(thread, mm(bad)), "tap drill");
            refuses(drill_for(thread, bad), "depth of thread");
        }
        refuses(percent_of_thread(thread, mm(10.0)), "tap drill");
        refuses(drill_for(thread, 101.0), "depth of thread");
    }

    proptest! {
        #[test]
        fn drill_and_depth_undo_each_other(d in 3.0..30.0, share in 0.05_f64..0.25, percent in 40.0..95.0) {
            let thread = Thread::metric(mm(d), mm(d * share)).unwrap();
            let back = drill_for(thread, percent).and_then(|drill| percent_of_thread(thread, drill));
            prop_assert!((back.unwrap_or(f64::NAN) - percent).abs() < 1e-9);
            prop_assert!(drill_for(thread, percent + 1.0).unwrap() < drill_for(thread, percent).unwrap());
        }

        #[test]
        fn any_name_is_refused_or_read(name in ".{0,8}") {
            prop_assert!(drill_millimetres(&name).map_or(true, |d| (0.1..=200.0).contains(&d)));
        }
    }
}
