//! Slip of a propeller shaft: room to push in at bump, engagement left at droop, lengths to order (common practice).

use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::shaft::{ShaftRun, shaft_length};
use crate::error::FigureError;
use crate::gap::{Gap, GapRule};
use crate::range::Range;

const SLIP: Range = Range::new(0.0, 500.0, "mm");
const TRAVEL: Range = Range::new(0.0, 600.0, "mm");

/// A slip yoke or splined stub at ride height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlipJoint {
    /// How far it can still push in, 0 to 500 mm.
    pub room_in: Length,
    /// Length of spline engaged, 0 to 500 mm.
    pub engaged: Length,
}

/// A slip held against the travel of the axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlipFit {
    /// Room left to push in where the shaft is shortest.
    pub room_in: Gap,
    /// Spline left engaged where the shaft is longest.
    pub engaged: Gap,
}

/// The usual share of a slip at ride height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlipSplit {
    /// To push in: a third.
    pub inward: Length,
    /// To pull out: two thirds.
    pub outward: Length,
}

/// Lengths of a shaft to order, from joint centre to joint centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShaftOrder {
    /// At ride height.
    pub at_ride: Length,
    /// Pushed in.
    pub closed: Length,
    /// Pulled out.
    pub open: Length,
}

/// A slip at both ends of the axle's travel.
///
/// * `shaft`: at ride height, within the ranges of [`ShaftRun`].
/// * `slip`: within the ranges of [`SlipJoint`].
/// * `bump`, `droop`: travel of the axle up and down from ride height, 0 to 600 mm.
/// * `room`: room wanted to push in. `spline`: engagement wanted; the diameter of the spline is common practice.
///
/// A shaft that runs level is shortest there, so its shortest length is looked for over the whole travel.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry of the shaft, the axle moving straight up and down.
pub fn slip_fit(
    shaft: ShaftRun,
    slip: SlipJoint,
    [bump, droop]: [Length; 2],
    [room, spline]: [GapRule; 2],
) -> Result<SlipFit, FigureError> {
    SLIP.check("slip room to push in", slip.room_in.get::<millimeter>())?;
    SLIP.check("spline engaged", slip.engaged.get::<millimeter>())?;
    TRAVEL.check("bump travel", bump.get::<millimeter>())?;
    TRAVEL.check("droop travel", droop.get::<millimeter>())?;

    let ride = shaft_length(shaft)?;
    let (up, down) = (shaft.drop - bump, shaft.drop + droop);
    // the drop nearest to level within the travel
    let level = Length::new::<millimeter>(0.0);
    let nearest = if up > level {
        up
    } else if down < level {
        down
    } else {
        level
    };
    let steepest = if up.abs() > down.abs() { up } else { down };
    let at = |drop| shaft_length(ShaftRun { drop, ..shaft });
    let (shortens, lengthens) = (ride - at(nearest)?, at(steepest)? - ride);
    Ok(SlipFit {
        room_in: room.judge(slip.room_in - shortens)?,
        engaged: spline.judge(slip.engaged - lengthens)?,
    })
}

/// Where a slip should stand at ride height: a third to push in, two thirds to pull out.
///
/// * `total`: travel from pushed in to pulled out, 0 to 500 mm; at least 20 mm either way is common practice.
///
/// # Errors
/// [`FigureError`] if the travel is out of its range.
///
/// Source: common practice.
pub fn slip_split(total: Length) -> Result<SlipSplit, FigureError> {
    SLIP.check("slip travel", total.get::<millimeter>())?;
    Ok(SlipSplit { inward: total / 3.0, outward: total * 2.0 / 3.0 })
}

/// Lengths of a shaft to order, measured at ride height with the weight on the wheels.
///
/// * `shaft`: at ride height after every lift, within the ranges of [`ShaftRun`].
/// * `total_slip`: travel of its slip, 0 to 500 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry and [`slip_split`].
pub fn shaft_order(shaft: ShaftRun, total_slip: Length) -> Result<ShaftOrder, FigureError> {
    let split = slip_split(total_slip)?;
    let at_ride = shaft_length(shaft)?;
    Ok(ShaftOrder { at_ride, closed: at_ride - split.inward, open: at_ride + split.outward })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::gap::GapVerdict;
    use crate::testing::{close, refuses};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn shaft(run: f64, drop: f64) -> ShaftRun {
        ShaftRun { run: mm(run), drop: mm(drop), side: mm(0.0) }
    }

    /// Room to push in, spline engaged, bump, droop.
    fn fit(shaft: ShaftRun, a: [f64; 4]) -> Result<[Gap; 2], FigureError> {
        let slip = SlipJoint { room_in: mm(a[0]), engaged: mm(a[1]) };
        let rules = [GapRule::exact(mm(5.0)), GapRule::exact(mm(32.0))];
        let found = slip_fit(shaft, slip, [mm(a[2]), mm(a[3])], rules)?;
        Ok([found.room_in, found.engaged])
    }

    fn found(gaps: Result<[Gap; 2], FigureError>, at: usize) -> Result<f64, FigureError> {
        gaps.map(|g| g[at].found.get::<millimeter>())
    }

    fn order(shaft: ShaftRun, slip: f64) -> Result<[f64; 3], FigureError> {
        let o = shaft_order(shaft, mm(slip))?;
        Ok([o.at_ride, o.closed, o.open].map(|l| l.get::<millimeter>()))
    }

    #[test]
    fn trade_slip() {
        // an example vehicle: 559 mm shaft, 112 drop, 65 up and 75 down, 40 mm of slip: by hand the shaft
        // shortens by 9.322 and lengthens by 19.711
        let scree =
            ShaftRun::from_length(mm(559.0), mm(112.0), mm(0.0)).unwrap_or_else(|error| panic!("{error}"));
        let at_ride = fit(scree, [40.0 / 3.0, 60.0, 65.0, 75.0]);
        close(found(at_ride, 0), 40.0 / 3.0 - 9.321_912_388_7, 1e-9);
        close(found(at_ride, 1), 60.0 - 19.710_635_810_3, 1e-9);
        // 63.5 mm of lift: from a steeper shaft the same droop pulls further
        let lifted = scree.lifted(mm(63.5)).and_then(|s| fit(s, [40.0 / 3.0, 60.0, 65.0, 75.0]));
        assert!(found(lifted, 1).unwrap_or(f64::NAN) < found(at_ride, 1).unwrap_or(f64::NAN));
        // common practice: a third in, two thirds out, 20 mm either way: 40 mm in all is too little, 60 just does
        let split =
            |total: f64| slip_split(mm(total)).map(|s| [s.inward, s.outward].map(|l| l.get::<millimeter>()));
        close(split(40.0).map(|s| s[0]), 13.333_333_333_3, 1e-9);
        close(split(60.0).map(|s| s[0]), 20.0, 1e-9);
        close(split(60.0).map(|s| s[1]), 40.0, 1e-9);
    }

    #[test]
    fn lengths_to_order() {
        // 3-4-5: 400 along, 300 down: 500 at ride; 60 mm of slip: 480 to 540
        for (found, expected) in
            order(shaft(400.0, 300.0), 60.0).unwrap_or_default().into_iter().zip([500.0, 480.0, 540.0])
        {
            close(Ok(found), expected, 1e-9);
        }
    }

    #[test]
    fn a_shaft_that_swings_through_level() {
        // 3-4-5: drop 300 on 400 of run, up by 300 it lies level at 400; by 600 it is as steep the other way
        let slip = [110.0, 60.0, 300.0, 0.0];
        close(found(fit(shaft(400.0, 300.0), slip), 0), 10.0, 1e-9);
        close(found(fit(shaft(400.0, 300.0), [110.0, 60.0, 600.0, 0.0]), 0), 10.0, 1e-9);
        // a level shaft lengthens either way and never shortens
        let level = fit(shaft(400.0, 0.0), [20.0, 150.0, 300.0, 100.0]);
        close(found(level, 0), 20.0, 1e-12);
        close(found(level, 1), 50.0, 1e-9);
        // a shaft that climbs lengthens at bump
        close(found(fit(shaft(400.0, -300.0), [110.0, 60.0, 0.0, 300.0]), 0), 10.0, 1e-9);
        let verdict = fit(shaft(400.0, 0.0), [2.0, 150.0, 300.0, 100.0]).map(|g| g[0].verdict());
        assert!(matches!(verdict, Ok(GapVerdict::Broken { .. })));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let names = ["slip room to push in", "spline engaged", "bump travel", "droop travel"];
        for (at, name) in names.into_iter().enumerate() {
            for bad in [f64::NAN, f64::INFINITY, -1.0, 1e9] {
                let mut a = [20.0, 60.0, 65.0, 75.0];
                a[at] = bad;
                refuses(fit(shaft(548.0, 112.0), a), name);
            }
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 1e9] {
            refuses(slip_split(mm(bad)), "slip travel");
            refuses(order(shaft(548.0, 112.0), bad), "slip travel");
        }
        refuses(order(shaft(0.0, 112.0), 60.0), "level run of the shaft");
    }

    proptest! {
        #[test]
        fn more_travel_never_leaves_more(drop in -200.0..200.0, bump in 0.0..150.0, droop in 0.0..150.0, more in 0.0..50.0) {
            let gaps = |bump, droop| {
                let g = fit(shaft(600.0, drop), [40.0, 80.0, bump, droop]);
                [found(g, 0).unwrap_or(f64::NAN), found(g, 1).unwrap_or(f64::NAN)]
            };
            let base = gaps(bump, droop);
            for wider in [gaps(bump + more, droop), gaps(bump, droop + more)] {
                prop_assert!(wider[0] <= base[0] + 1e-9 && wider[1] <= base[1] + 1e-9);
            }
        }

        #[test]
        fn the_travel_lies_between_the_lengths_ordered(run in 300.0..1500.0, drop in 0.0..200.0, slip in 0.0..200.0) {
            let [ride, closed, open] = order(shaft(run, drop), slip).unwrap_or_default();
            prop_assert!(closed <= ride && ride <= open && (open - closed - slip).abs() < 1e-9);
        }
    }
}
