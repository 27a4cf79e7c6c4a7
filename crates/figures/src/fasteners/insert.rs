//! Wire thread inserts: the tap, the drill and the length for a stripped hole (ASME B18.29.1; common practice).

use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::drill::drill_millimetres;
use super::tables::find;
use super::thread::{Form, Thread};
use crate::error::FigureError;

/// The hole that takes a wire insert.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InsertHole {
    /// Least diameter the drill must have: minor diameter of the tapped hole.
    pub minor: Length,
    /// Pitch diameter of the tapped hole; a drill as big as this leaves next to no thread.
    pub pitch: Length,
    /// Over the thread of the tap: there must be metal round it, half the bolt at least (common practice).
    pub major: Length,
}

/// Hole for a wire insert of a bolt thread: that thread, grown all over by `1.5 H`.
///
/// The wire is a rhomb, `0.75 H` high on each side: minor `D + H/4`, pitch `D + 3H/4`, major `D + 3H/2`, `H` being the
/// height of the sharp triangle. The tap is asked for by the name of the bolt with STI before it.
///
/// `None` for a Whitworth or BA thread: its wire has another shape, and the maker's figures are wanted.
///
/// Source: ASME B18.29.1 and B18.29.2M, insert threads (from memory).
#[must_use]
pub fn insert_hole(thread: Thread) -> Option<InsertHole> {
    if matches!(thread.form(), Form::Whitworth | Form::Association) {
        return None;
    }
    let grown = thread.triangle_height() * 1.5;
    Some(InsertHole {
        minor: thread.nut_minor_diameter() + grown,
        pitch: thread.pitch_diameter() + grown,
        major: thread.diameter() + grown,
    })
}

/// Length of an insert: `1.5 D`.
///
/// In aluminium and iron the bolt then breaks before the hole strips.
///
/// Source: common practice.
#[must_use]
pub fn insert_length(thread: Thread) -> Length {
    thread.diameter() * 1.5
}

/// Drill for the insert of a thread of [`super::tables::THREADS`], by both names. The insert maker's drill wins.
///
/// Source: common practice. For 7/16-14 some list 29/64 in, which is 0.004 mm over the least; here stands the next one.
pub const INSERT_DRILLS: [(&str, &str); 24] = [
    ("#10-32", "13/64"),
    ("1/4-20", "17/64"),
    ("1/4-28", "17/64"),
    ("5/16-18", "Q"),
    ("5/16-24", "21/64"),
    ("3/8-16", "X"),
    ("3/8-24", "25/64"),
    ("7/16-14", "15/32"),
    ("7/16-20", "29/64"),
    ("1/2-13", "17/32"),
    ("1/2-20", "33/64"),
    ("M5x0.8", "5.2"),
    ("M6x1", "6.3"),
    ("M8x1", "8.3"),
    ("M8x1.25", "8.4"),
    ("M10x1", "10.25"),
    ("M10x1.25", "10.3"),
    ("M10x1.5", "10.5"),
    ("M12x1.25", "12.3"),
    ("M12x1.5", "12.4"),
    ("M12x1.75", "12.5"),
    ("M14x1.25", "14.4"),
    ("M14x1.5", "14.4"),
    ("M18x1.5", "18.4"),
];

/// Drill for an insert by the name of the bolt thread: its name and diameter. `None` if [`INSERT_DRILLS`] has none.
///
/// # Errors
/// None for an entry of the table; [`FigureError`] if its drill could not be read.
pub fn insert_drill(thread_name: &str) -> Result<Option<(&'static str, Length)>, FigureError> {
    let Some(preferred) = find(thread_name) else { return Ok(None) };
    let Some((_, drill)) = INSERT_DRILLS.iter().find(|(name, _)| *name == preferred.name) else {
        return Ok(None);
    };
    Ok(Some((drill, Length::new::<millimeter>(drill_millimetres(drill)?))))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn mm(length: Length) -> f64 {
        length.get::<millimeter>()
    }

    #[test]
    fn every_drill_leaves_a_thread_for_the_insert() {
        // between the least of the hole and its pitch diameter, and no more than six tenths of that way: 40 % of thread
        for (name, _) in INSERT_DRILLS {
            let hole = insert_hole(find(name).unwrap().thread().unwrap()).unwrap();
            let (_, drill) = insert_drill(name).unwrap().unwrap();
            let way = (mm(drill) - mm(hole.minor)) / (mm(hole.pitch) - mm(hole.minor));
            assert!((0.0..0.6).contains(&way), "{name}: {way}");
        }
    }

    #[test]
    fn drills_by_the_name_of_the_bolt() {
        // common practice
        assert_eq!(insert_drill("m8").unwrap().map(|d| d.0), Some("8.4"));
        assert_eq!(insert_drill("3/8-16").unwrap().map(|d| d.0), Some("X"));
        assert_eq!(insert_drill("3/8-16 BSW").unwrap(), None);
        assert_eq!(insert_drill("M99").unwrap(), None);
        // the series says no more than the pitch
        assert_eq!(insert_drill("1/4-20 UNC").unwrap().map(|d| d.0), Some("17/64"));
        assert_eq!(insert_drill("3/8-24UNF").unwrap().map(|d| d.0), Some("25/64"));
        assert_eq!(insert_hole(find("3/8-16 BSW").unwrap().thread().unwrap()), None);
        assert!((mm(insert_length(find("M8").unwrap().thread().unwrap())) - 12.0).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn the_hole_is_the_thread_grown_all_over(d in 3.0..30.0, share in 0.05_f64..0.25) {
            let metric = |d, p| Thread::metric(Length::new::<millimeter>(d), Length::new::<millimeter>(p)).unwrap();
            let (thread, hole) = (metric(d, d * share), insert_hole(metric(d, d * share)).unwrap());
            let h = mm(thread.triangle_height());
            prop_assert!((mm(hole.minor) - (d + h / 4.0)).abs() < 1e-9);
            prop_assert!((mm(hole.pitch) - (d + 0.75 * h)).abs() < 1e-9);
            prop_assert!((mm(hole.major) - (d + 1.5 * h)).abs() < 1e-9);
            // the bolt passes the hole, and the wire has its place
            prop_assert!(mm(hole.minor) > d);
        }
    }
}
