//! Preferred threads with their tap drills, as data (ISO 261, ISO 262, ISO 2306; ASME B1.1; BS 84).

use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::thread::Thread;
use crate::error::FigureError;

/// Series of a preferred thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Series {
    /// ISO metric coarse.
    MetricCoarse,
    /// ISO metric fine.
    MetricFine,
    /// Unified coarse, UNC.
    UnifiedCoarse,
    /// Unified fine, UNF.
    UnifiedFine,
    /// Unified extra fine, UNEF.
    UnifiedExtraFine,
    /// British Standard Whitworth.
    WhitworthCoarse,
    /// British Standard Fine.
    WhitworthFine,
    /// British Association.
    Association,
}

impl Series {
    /// As it is written behind a thread.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::MetricCoarse => "metric coarse",
            Self::MetricFine => "metric fine",
            Self::UnifiedCoarse => "UNC",
            Self::UnifiedFine => "UNF",
            Self::UnifiedExtraFine => "UNEF",
            Self::WhitworthCoarse => "BSW",
            Self::WhitworthFine => "BSF",
            Self::Association => "BA",
        }
    }

    /// Whether diameter and pitch of a row count in millimetres and its form is ISO metric.
    pub(super) fn is_metric(self) -> bool {
        matches!(self, Self::MetricCoarse | Self::MetricFine)
    }

    /// Whether its form is Whitworth's.
    pub(super) fn is_whitworth(self) -> bool {
        matches!(self, Self::WhitworthCoarse | Self::WhitworthFine)
    }
}

/// One preferred thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Preferred {
    /// As it is written: `M10x1.25`, `3/8-16`.
    pub name: &'static str,
    /// Series.
    pub series: Series,
    /// Nominal diameter, in mm for metric and BA, in inches for the others.
    pub diameter: f64,
    /// Pitch in mm for metric and BA, threads an inch for the others.
    pub pitch: f64,
    /// Tap drill as it is asked for in a shop: `8.5`, `5/16`, `U`, `#7`.
    pub drill: &'static str,
    /// Tap drill, mm.
    pub drill_mm: f64,
}

impl Preferred {
    /// Geometry of the thread.
    ///
    /// # Errors
    /// None for an entry of [`THREADS`]; [`FigureError`] for one that is no thread.
    pub fn thread(&self) -> Result<Thread, FigureError> {
        let mm = Length::new::<millimeter>;
        match self.series {
            Series::MetricCoarse | Series::MetricFine => Thread::metric(mm(self.diameter), mm(self.pitch)),
            Series::Association => Thread::association(mm(self.diameter), mm(self.pitch)),
            Series::UnifiedCoarse | Series::UnifiedFine | Series::UnifiedExtraFine => {
                Thread::unified(self.diameter, self.pitch)
            }
            Series::WhitworthCoarse | Series::WhitworthFine => Thread::whitworth(self.diameter, self.pitch),
        }
    }
}

const fn of(
    series: Series,
    name: &'static str,
    diameter: f64,
    pitch: f64,
    drill: &'static str,
    drill_mm: f64,
) -> Preferred {
    Preferred { name, series, diameter, pitch, drill, drill_mm }
}

const MC: Series = Series::MetricCoarse;
const MF: Series = Series::MetricFine;
const UC: Series = Series::UnifiedCoarse;
const UF: Series = Series::UnifiedFine;
const WC: Series = Series::WhitworthCoarse;
const WF: Series = Series::WhitworthFine;
const UEF: Series = Series::UnifiedExtraFine;
const BA: Series = Series::Association;

/// Preferred threads of old vehicles, by series, thinnest first.
///
/// Source: metric sizes ISO 261 and 262, coarse drills ISO 2306, fine drills diameter less pitch; unified sizes ASME B1.1,
/// drills Machinery's Handbook; Whitworth sizes BS 84, drills BS 1157. 7/16 in BSF and BSW and 5/16 in BSW are common
/// practice. BA sizes BS 93 (`pitch = 0.9^n` mm, `diameter = 6 pitch^1.2`, both rounded), their drills common practice.
pub const THREADS: [Preferred; 71] = [
    of(MC, "M3x0.5", 3.0, 0.5, "2.5", 2.5),
    of(MC, "M4x0.7", 4.0, 0.7, "3.3", 3.3),
    of(MC, "M5x0.8", 5.0, 0.8, "4.2", 4.2),
    of(MC, "M6x1", 6.0, 1.0, "5.0", 5.0),
    of(MC, "M8x1.25", 8.0, 1.25, "6.8", 6.8),
    of(MC, "M10x1.5", 10.0, 1.5, "8.5", 8.5),
    of(MC, "M12x1.75", 12.0, 1.75, "10.2", 10.2),
    of(MC, "M14x2", 14.0, 2.0, "12.0", 12.0),
    of(MC, "M16x2", 16.0, 2.0, "14.0", 14.0),
    of(MC, "M18x2.5", 18.0, 2.5, "15.5", 15.5),
    of(MC, "M20x2.5", 20.0, 2.5, "17.5", 17.5),
    of(MC, "M24x3", 24.0, 3.0, "21.0", 21.0),
    of(MF, "M8x1", 8.0, 1.0, "7.0", 7.0),
    of(MF, "M10x1", 10.0, 1.0, "9.0", 9.0),
    of(MF, "M10x1.25", 10.0, 1.25, "8.8", 8.8),
    of(MF, "M12x1.25", 12.0, 1.25, "10.75", 10.75),
    of(MF, "M12x1.5", 12.0, 1.5, "10.5", 10.5),
    of(MF, "M14x1.25", 14.0, 1.25, "12.75", 12.75),
    of(MF, "M14x1.5", 14.0, 1.5, "12.5", 12.5),
    of(MF, "M16x1.5", 16.0, 1.5, "14.5", 14.5),
    of(MF, "M18x1.5", 18.0, 1.5, "16.5", 16.5),
    of(MF, "M20x1.5", 20.0, 1.5, "18.5", 18.5),
    of(MF, "M22x1.5", 22.0, 1.5, "20.5", 20.5),
    of(UC, "#4-40", 0.112, 40.0, "#43", 2.261),
    of(UC, "#6-32", 0.138, 32.0, "#36", 2.705),
    of(UC, "#8-32", 0.164, 32.0, "#29", 3.454),
    of(UC, "#10-24", 0.19, 24.0, "#25", 3.797),
    of(UC, "#12-24", 0.216, 24.0, "#16", 4.496),
    of(UC, "1/4-20", 0.25, 20.0, "#7", 5.105),
    of(UC, "5/16-18", 0.3125, 18.0, "F", 6.528),
    of(UC, "3/8-16", 0.375, 16.0, "5/16", 7.938),
    of(UC, "7/16-14", 0.4375, 14.0, "U", 9.347),
    of(UC, "1/2-13", 0.5, 13.0, "27/64", 10.716),
    of(UC, "9/16-12", 0.5625, 12.0, "31/64", 12.303),
    of(UC, "5/8-11", 0.625, 11.0, "17/32", 13.494),
    of(UC, "3/4-10", 0.75, 10.0, "21/32", 16.669),
    of(UC, "7/8-9", 0.875, 9.0, "49/64", 19.447),
    of(UC, "1-8", 1.0, 8.0, "7/8", 22.225),
    of(UF, "#10-32", 0.19, 32.0, "#21", 4.039),
    of(UF, "1/4-28", 0.25, 28.0, "#3", 5.410),
    of(UF, "5/16-24", 0.3125, 24.0, "I", 6.909),
    of(UF, "3/8-24", 0.375, 24.0, "Q", 8.433),
    of(UF, "7/16-20", 0.4375, 20.0, "25/64", 9.922),
    of(UF, "1/2-20", 0.5, 20.0, "29/64", 11.509),
    of(UF, "9/16-18", 0.5625, 18.0, "33/64", 13.097),
    of(UF, "5/8-18", 0.625, 18.0, "37/64", 14.684),
    of(UF, "3/4-16", 0.75, 16.0, "11/16", 17.463),
    of(UF, "7/8-14", 0.875, 14.0, "13/16", 20.638),
    of(UF, "1-12", 1.0, 12.0, "59/64", 23.416),
    of(WC, "1/4-20 BSW", 0.25, 20.0, "5.1", 5.1),
    of(WC, "5/16-18 BSW", 0.3125, 18.0, "6.5", 6.5),
    of(WC, "3/8-16 BSW", 0.375, 16.0, "7.9", 7.9),
    of(WC, "7/16-14 BSW", 0.4375, 14.0, "9.3", 9.3),
    of(WC, "1/2-12 BSW", 0.5, 12.0, "10.5", 10.5),
    of(WF, "1/4-26 BSF", 0.25, 26.0, "5.3", 5.3),
    of(WF, "5/16-22 BSF", 0.3125, 22.0, "6.8", 6.8),
    of(WF, "3/8-20 BSF", 0.375, 20.0, "8.3", 8.3),
    of(WF, "7/16-18 BSF", 0.4375, 18.0, "9.7", 9.7),
    of(WF, "1/2-16 BSF", 0.5, 16.0, "11.1", 11.1),
    of(WF, "9/16-16 BSF", 0.5625, 16.0, "12.7", 12.7),
    of(WF, "5/8-14 BSF", 0.625, 14.0, "14.0", 14.0),
    of(WF, "3/4-12 BSF", 0.75, 12.0, "16.75", 16.75),
    of(BA, "8BA", 2.2, 0.43, "1.8", 1.8),
    of(BA, "7BA", 2.5, 0.48, "2.05", 2.05),
    of(BA, "6BA", 2.8, 0.53, "2.3", 2.3),
    of(BA, "5BA", 3.2, 0.59, "2.65", 2.65),
    of(BA, "4BA", 3.6, 0.66, "3.0", 3.0),
    of(BA, "3BA", 4.1, 0.73, "3.4", 3.4),
    of(BA, "2BA", 4.7, 0.81, "4.0", 4.0),
    of(BA, "1BA", 5.3, 0.9, "4.5", 4.5),
    of(BA, "0BA", 6.0, 1.0, "5.1", 5.1),
];

/// Pitches of a series in sizes that [`THREADS`] has no drill for: series, diameter in inches, threads an inch.
///
/// Source: ASME B1.1, from memory.
pub(super) const PITCHES: [(Series, f64, f64); 25] = [
    (UC, 0.086, 56.0),
    (UC, 0.125, 40.0),
    (UC, 1.125, 7.0),
    (UC, 1.25, 7.0),
    (UC, 1.5, 6.0),
    (UF, 0.06, 80.0),
    (UF, 0.086, 64.0),
    (UF, 0.112, 48.0),
    (UF, 0.125, 44.0),
    (UF, 0.138, 40.0),
    (UF, 0.164, 36.0),
    (UF, 0.216, 28.0),
    (UF, 1.125, 12.0),
    (UF, 1.25, 12.0),
    (UF, 1.5, 12.0),
    (UEF, 0.25, 32.0),
    (UEF, 0.3125, 32.0),
    (UEF, 0.375, 32.0),
    (UEF, 0.4375, 28.0),
    (UEF, 0.5, 28.0),
    (UEF, 0.5625, 24.0),
    (UEF, 0.625, 24.0),
    (UEF, 0.75, 20.0),
    (UEF, 0.875, 20.0),
    (UEF, 1.0, 20.0),
];

/// The preferred thread of a name as [`super::names::read`] reads it; `None` for a thread that [`THREADS`] has not, and
/// for what is no thread.
#[must_use]
pub fn find(name: &str) -> Option<&'static Preferred> {
    super::names::read(name).ok()?.preferred
}

/// The preferred threads whose diameter and pitch lie within what a caliper and a pitch gauge tell apart: 0.25 mm under
/// to 0.05 mm over the nominal diameter, and 0.03 mm of pitch. The nearest diameter comes first.
///
/// * `over_thread`: measured over a bolt, 0.5 to 200 mm; a worn bolt measures less than its name.
/// * `pitch`: 0.05 to 12 mm.
///
/// # Errors
/// [`FigureError`] if a measure is out of its range.
///
/// Source: common practice; unified and Whitworth of one pitch differ only in the angle of the flanks.
pub fn identify(over_thread: Length, pitch: Length) -> Result<Vec<&'static Preferred>, FigureError> {
    let diameter = crate::range::Range::new(0.5, 200.0, "mm")
        .check("diameter over the thread", over_thread.get::<millimeter>())?;
    let pitch =
        crate::range::Range::new(0.05, 12.0, "mm").check("thread pitch", pitch.get::<millimeter>())?;
    let mut found = Vec::new();
    for preferred in &THREADS {
        let thread = preferred.thread()?;
        let under = thread.diameter().get::<millimeter>() - diameter;
        if (-0.05..=0.25).contains(&under) && (thread.pitch().get::<millimeter>() - pitch).abs() <= 0.03 {
            found.push((under.abs(), preferred));
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    Ok(found.into_iter().map(|(_, p)| p).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fasteners::drill::{drill_millimetres, percent_of_thread};
    use crate::testing::{close, refuses};

    #[test]
    fn drills_of_the_handbooks() {
        // ISO 2306: metric ISO 2306, mm
        for (name, mm) in [
            ("M6x1", 5.0),
            ("M8x1.25", 6.8),
            ("M12x1.75", 10.2),
            ("M14x2", 12.0),
            ("M16x2", 14.0),
            ("M12x1.25", 10.75),
            ("M12x1.5", 10.5),
            ("M14x1.5", 12.5),
        ] {
            assert_eq!(find(name).map(|p| p.drill_mm), Some(mm), "{name}");
        }
        // tier P: unified: drill, in, and percentage of thread
        for (name, drill, inches, percent) in [
            ("3/8-16", "5/16", 0.312_5, 76.979_923_635_9),
            ("7/16-14", "U", 0.368, 74.901_465_697_7),
            ("1/2-20", "29/64", 0.453_125, 72.168_678_408_7),
            ("5/8-11", "17/32", 0.531_25, 79.385_546_249_5),
            ("5/8-18", "37/64", 0.578_125, 64.951_810_567_8),
            ("3/4-10", "21/32", 0.656_25, 72.168_678_408_7),
            ("3/4-16", "11/16", 0.687_5, 76.979_923_635_9),
        ] {
            let found = find(name).unwrap();
            assert_eq!(found.drill, drill);
            close(Ok(found.drill_mm), inches * 25.4, 1e-4);
            let thread = found.thread().unwrap();
            let percent_found = percent_of_thread(thread, Length::new::<millimeter>(inches * 25.4));
            close(percent_found, percent, 2e-5);
        }
        // tier P: fastener.tap_drill_whitworth/..., BS 1157
        for (name, mm) in [
            ("1/4-26 BSF", 5.3),
            ("5/16-22 BSF", 6.8),
            ("3/8-20 BSF", 8.3),
            ("1/2-16 BSF", 11.1),
            ("3/8-16 BSW", 7.9),
            ("1/2-12 BSW", 10.5),
        ] {
            assert_eq!(find(name).map(|p| p.drill_mm), Some(mm), "{name}");
        }
    }

    #[test]
    fn the_tables_of_an_open_library_agree() {
        // bd_warehouse 0.4.0, tap_hole_sizes.csv, column "soft"; where it differs (M12 10.3, M12x1.25 10.8, M14 12.1,
        // M14x1.25 12.8) it rounds up to a tenth, ISO 2306 and diameter less pitch stand
        for (name, drill) in [
            ("M3x0.5", "2.5"),
            ("M4x0.7", "3.3"),
            ("M5x0.8", "4.2"),
            ("M10x1.5", "8.5"),
            ("M18x2.5", "15.5"),
            ("M20x2.5", "17.5"),
            ("M8x1", "7"),
            ("M10x1", "9"),
            ("M10x1.25", "8.8"),
            ("M16x1.5", "14.5"),
            ("M18x1.5", "16.5"),
            ("#6-32", "#36"),
            ("#8-32", "#29"),
            ("#10-24", "#25"),
            ("#10-32", "#21"),
            ("1/4-20", "#7"),
            ("1/4-28", "#3"),
            ("5/16-18", "F"),
            ("5/16-24", "I"),
            ("3/8-24", "Q"),
            ("7/16-20", "25/64"),
            ("1/2-13", "27/64"),
            ("9/16-12", "31/64"),
            ("9/16-18", "33/64"),
        ] {
            let found = find(name).unwrap().drill;
            assert_eq!(found.strip_suffix(".0").unwrap_or(found), drill, "{name}");
        }
    }

    #[test]
    fn every_entry_is_a_thread_whose_drill_leaves_one() {
        for preferred in &THREADS {
            let thread = preferred.thread().unwrap();
            // the drill as named and in mm are one
            close(drill_millimetres(preferred.drill), preferred.drill_mm, 2e-4);
            // 60 to 90 % of thread is the span of the handbooks
            let percent = percent_of_thread(thread, Length::new::<millimeter>(preferred.drill_mm)).unwrap();
            assert!((60.0..=93.0).contains(&percent), "{}: {percent}", preferred.name);
            assert_eq!(THREADS.iter().filter(|p| p.name == preferred.name).count(), 1);
            assert_eq!(find(preferred.name), Some(preferred));
        }
        for pair in THREADS.windows(2).filter(|w| w[0].series == w[1].series) {
            assert!(pair[0].diameter <= pair[1].diameter, "{}", pair[1].name);
        }
    }

    #[test]
    fn names_as_people_write_them() {
        assert_eq!(find("m10").map(|p| p.name), Some("M10x1.5"));
        assert_eq!(find("M 10 × 1.25").map(|p| p.name), Some("M10x1.25"));
        assert_eq!(find("1/2-13").map(|p| p.name), Some("1/2-13"));
        assert_eq!(find("1/4-26 bsf").map(|p| p.name), Some("1/4-26 BSF"));
        for none in ["", "M", "x", "M10x3", "3/8", "NaN"] {
            assert_eq!(find(none), None, "{none}");
        }
    }

    #[test]
    fn a_bolt_told_by_caliper_and_gauge() {
        let mm = Length::new::<millimeter>;
        let names = |d: f64, p: f64| {
            identify(mm(d), mm(p)).map(|found| found.iter().map(|f| f.name).collect::<Vec<_>>())
        };
        // 3/8-16 unified and Whitworth differ in the flank angle only
        assert_eq!(names(9.45, 1.5875), Ok(vec!["3/8-16", "3/8-16 BSW"]));
        // M8x1.25 and 5/16-20 would be 0.02 mm of pitch apart; 5/16-20 is no preferred thread
        assert_eq!(names(7.95, 1.25), Ok(vec!["M8x1.25"]));
        // 1/4-26 BSF and M6x1 differ in diameter
        assert_eq!(names(6.30, 0.98), Ok(vec!["1/4-26 BSF"]));
        assert_eq!(names(100.0, 1.0), Ok(vec![]));
        for bad in [f64::NAN, f64::INFINITY, 0.0, -1.0] {
            refuses(names(bad, 1.0), "diameter over the thread");
            refuses(names(8.0, bad), "thread pitch");
        }
    }
}
