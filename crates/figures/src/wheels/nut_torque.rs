//! Wheel nut torques by stud, as read in workshop tables: data, for where the vehicle's manual is missing.

use uom::si::f64::Torque;
use uom::si::torque::pound_force_foot;

/// Torque range of a wheel stud, dry and clean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NutTorque {
    /// Thread of the stud.
    pub thread: &'static str,
    /// Lowest, lbf·ft.
    pub low_lbf_ft: f64,
    /// Highest, lbf·ft.
    pub high_lbf_ft: f64,
    /// Where it was read, and what to mind.
    pub source: &'static str,
}

/// Wheel nut torques by stud thread. The vehicle's own manual wins; so does the wheel's maker for alloy wheels.
pub const NUT_TORQUES: [NutTorque; 5] = [
    NutTorque {
        thread: "7/16-20",
        low_lbf_ft: 60.0,
        high_lbf_ft: 80.0,
        source: "workshop table 70 to 80, common practice 60 to 70",
    },
    NutTorque { thread: "1/2-20", low_lbf_ft: 75.0, high_lbf_ft: 90.0, source: "common practice" },
    NutTorque { thread: "M12x1.25", low_lbf_ft: 70.0, high_lbf_ft: 80.0, source: "workshop table" },
    NutTorque {
        thread: "M12x1.5",
        low_lbf_ft: 70.0,
        high_lbf_ft: 85.0,
        source: "workshop table 70 to 80, common practice 70 to 85",
    },
    NutTorque {
        thread: "M14x1.5",
        low_lbf_ft: 85.0,
        high_lbf_ft: 150.0,
        source: "a light truck's manual 120 to 150, another table 85 to 90: look it up for the vehicle",
    },
];

/// Range of torque for a stud thread as [`crate::fasteners::names::read`] reads it, lowest and highest; `None` for one that
/// is not in [`NUT_TORQUES`].
///
/// Source: see [`NutTorque::source`] of each row.
#[must_use]
pub fn nut_torque(thread: &str) -> Option<(Torque, Torque)> {
    let name = crate::fasteners::names::canonical(thread)?;
    let row = NUT_TORQUES.iter().find(|row| row.thread == name)?;
    Some((Torque::new::<pound_force_foot>(row.low_lbf_ft), Torque::new::<pound_force_foot>(row.high_lbf_ft)))
}

#[cfg(test)]
mod tests {
    use uom::si::torque::newton_meter;

    use super::*;

    #[test]
    fn rows_hold_what_was_read() {
        // workshop tables, lbf·ft; common practice
        for (thread, low, high) in [
            ("M12x1.5", 70.0, 80.0),
            ("M12x1.25", 70.0, 80.0),
            ("7/16-20", 70.0, 80.0),
            ("M14x1.5", 120.0, 150.0),
            ("7/16-20", 60.0, 70.0),
            ("1/2-20", 75.0, 90.0),
            ("M12x1.5", 70.0, 85.0),
        ] {
            let row = NUT_TORQUES.iter().find(|row| row.thread == thread);
            assert!(row.is_some_and(|r| r.low_lbf_ft <= low && r.high_lbf_ft >= high), "{thread}");
        }
        // tier P: a small car 65 to 80 lbf·ft, which its maker prints as 90 to 110 N·m: the unit, within the rounding
        for (lbf_ft, nm) in [(65.0, 90.0), (80.0, 110.0)] {
            let found = Torque::new::<pound_force_foot>(lbf_ft).get::<newton_meter>();
            assert!((found - nm).abs() < 2.0, "{found}");
        }
    }

    #[test]
    fn looked_up_by_thread() {
        let half_inch =
            nut_torque(" 1/2-20 ").map(|(low, high)| [low, high].map(|t| t.get::<newton_meter>().round()));
        assert_eq!(half_inch, Some([102.0, 122.0]));
        assert_eq!(nut_torque("m12X1.5").is_some(), nut_torque("M12x1.5").is_some());
        for way in ["1/2-20 UNF", "1/2 UNF", "1/2-20UNF-2A", "1/2\"-20"] {
            assert_eq!(nut_torque(way), nut_torque("1/2-20"), "{way}");
        }
        assert_eq!(nut_torque("M13x1.5"), None);
        assert_eq!(nut_torque(""), None);
        assert!(NUT_TORQUES.iter().all(|r| 0.0 < r.low_lbf_ft && r.low_lbf_ft < r.high_lbf_ft));
    }
}
