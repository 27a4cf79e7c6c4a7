//! Tests of a tyre in the body.

use proptest::prelude::*;

use super::*;
use crate::testing::{REFUSED, close, refuses};

fn mm(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

fn deg(value: f64) -> Angle {
    Angle::new::<degree>(value)
}

fn house(arch: f64, edge: f64, bump: f64) -> WheelHouse {
    WheelHouse { hub_to_arch: mm(arch), hub_to_edge: mm(edge), bump: mm(bump) }
}

fn tallest(house: WheelHouse, lift: f64, gap: f64) -> Result<[f64; 3], FigureError> {
    let found = tallest_tyre(house, mm(lift), mm(gap))?;
    // to a nanometre, so that whole millimetres stay whole
    Ok([found.by_height, found.by_length, found.diameter()]
        .map(|l| (l.get::<millimeter>() * 1e6).round() / 1e6))
}

fn lift(house: WheelHouse, diameter: f64, gap: f64) -> Result<f64, FigureError> {
    lift_wanted(house, mm(diameter), mm(gap)).map(|l| l.get::<millimeter>())
}

fn tyre(centre: f64, diameter: f64, section: f64) -> TyreOnLock {
    TyreOnLock { centre_out: mm(centre), diameter: mm(diameter), section: mm(section) }
}

fn exact() -> GapRule {
    GapRule::exact(mm(15.0))
}

fn on_lock(t: TyreOnLock, obstacle: f64, lock: f64) -> Result<f64, FigureError> {
    lock_gap(t, mm(obstacle), deg(lock), exact()).map(|g| g.found.get::<millimeter>())
}

fn to_edge(t: TyreOnLock, edge: f64, lock: f64) -> Result<f64, FigureError> {
    lock_edge_gap(t, mm(edge), deg(lock), exact()).map(|g| g.found.get::<millimeter>())
}

fn most_lock(t: TyreOnLock, obstacle: f64, gap: f64) -> Result<Option<f64>, FigureError> {
    greatest_lock(t, mm(obstacle), mm(gap)).map(|lock| lock.map(|a| a.get::<degree>()))
}

/// 6.00-16 on ET +25 and 31x10.50R15 on ET 0 of an example vehicle: hub faces 1,321 mm apart, axis 546 mm from the middle.
fn scree() -> (TyreOnLock, TyreOnLock) {
    (tyre(89.5, 729.0, 152.4), tyre(114.5, 787.4, 266.7))
}

#[test]
fn locks_against_a_turned_box() {
    // numerical: the outline of the box walked and turned outside this program
    let (old, new) = scree();
    for (t, lock, gap, reach) in [
        (old, 26.0, 17.167_677_811_2, 400.248_528_899),
        (new, 26.0, -24.528_988_263_6, 462.505_504_754_7),
        (new, 18.0, 25.412_593_982_4, 451.020_812_521_233),
        (tyre(60.0, 703.0, 215.0), 32.0, -61.548_905_945_4, 386.850_382_558_0),
    ] {
        close(on_lock(t, 165.0, lock), gap, 1e-9);
        close(to_edge(t, 500.0, lock).map(|g| 500.0 - g), reach, 1e-9);
    }
    // numerical: bisection
    for (t, most) in
        [(old, 26.373_017_293_6), (new, 19.627_495_715_9), (tyre(64.5, 787.4, 266.7), 12.123_629_678_2)]
    {
        close(most_lock(t, 165.0, 15.0).map(|l| l.unwrap_or(f64::NAN)), most, 1e-9);
    }
}

#[test]
fn the_measured_vehicle() {
    // an example vehicle: 20 mm measured between tyre and spring (381 mm from the middle) at 26 degrees of lock
    let (old, _) = scree();
    let found = on_lock(old, 546.0 - 381.0, 26.0);
    assert!(found.is_ok_and(|gap| (gap - 20.0).abs() < 4.0 && gap < 20.0), "{found:?}");
}

#[test]
fn lock_with_nothing_in_the_way_or_no_room_at_all() {
    assert_eq!(most_lock(tyre(100.0, 700.0, 200.0), 600.0, 15.0), Ok(Some(90.0)));
    assert_eq!(most_lock(tyre(0.0, 700.0, 200.0), 100.0, 15.0), Ok(None));
    // straight ahead the gap is what lies between side and obstacle: 100 - 100 + 165 - 0
    close(on_lock(tyre(100.0, 700.0, 200.0), 165.0, 0.0), 165.0, 1e-12);
    close(to_edge(tyre(100.0, 700.0, 200.0), 450.0, 0.0), 100.0, 1e-12);
}

#[test]
fn heights_by_hand() {
    // geometry: 480 over the hub, 65 of bump, 15 kept: 400 of radius; 430 to the edge: 415
    let body = house(480.0, 430.0, 65.0);
    assert_eq!(tallest(body, 0.0, 15.0), Ok([800.0, 830.0, 800.0]));
    // 25 mm of lift: by height 850, but the opening is only long enough for 830
    assert_eq!(tallest(body, 25.0, 15.0), Ok([850.0, 830.0, 830.0]));
    close(lift(body, 838.2, 15.0), 19.1, 1e-9);
    assert_eq!(lift(body, 700.0, 15.0), Ok(0.0));
    let over = bump_gap(body, mm(0.0), mm(800.0), exact());
    assert!(over.is_ok_and(|g| g.holds()));
    let over = bump_gap(body, mm(-20.0), mm(800.0), exact());
    close(over.map(|g| g.spare().get::<millimeter>()), -20.0, 1e-9);
}

#[test]
fn the_trade_lifts_more_than_the_height_alone_asks() {
    // common practice: 1 in for a 30 in tyre, 2.5 for 31, 4 for 33, on a vehicle that left with 729 mm (28.7 in)
    let body = house(729.0 / 2.0 + 65.0 + 15.0, 500.0, 65.0);
    for (inches, usual) in [(30.0, 1.0), (31.0, 2.5), (33.0, 4.0)] {
        let asked = lift(body, inches * 25.4, 15.0).map(|l| l / 25.4);
        assert!(asked.is_ok_and(|a| a > 0.0 && a < usual), "{inches}");
    }
}

#[test]
fn refuses_each_argument_by_name() {
    let body = house(480.0, 430.0, 65.0);
    for bad in REFUSED {
        refuses(tallest(house(bad, 430.0, 65.0), 0.0, 15.0), "hub to arch");
        refuses(tallest(house(480.0, bad, 65.0), 0.0, 15.0), "hub to end of opening");
        refuses(lift(body, bad, 15.0), "tyre diameter");
        refuses(on_lock(tyre(90.0, bad, 150.0), 165.0, 26.0), "tyre diameter");
        refuses(on_lock(tyre(90.0, 729.0, bad), 165.0, 26.0), "tyre section width");
        refuses(to_edge(tyre(90.0, 729.0, 150.0), bad, 26.0), "steering axis to end of opening");
    }
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e9, 1e9] {
        refuses(tallest(house(480.0, 430.0, bad), 0.0, 15.0), "bump travel");
        refuses(tallest(body, bad, 15.0), "lift");
        refuses(tallest(body, 0.0, bad), "gap wanted");
        refuses(lift(body, 700.0, bad), "gap wanted");
        refuses(most_lock(tyre(90.0, 729.0, 150.0), 165.0, bad), "gap wanted");
        refuses(on_lock(tyre(bad, 729.0, 150.0), 165.0, 26.0), "steering axis to tyre centre");
        refuses(on_lock(tyre(90.0, 729.0, 150.0), bad, 26.0), "steering axis to obstacle");
        refuses(on_lock(tyre(90.0, 729.0, 150.0), 165.0, bad), "steering lock");
    }
    // no tyre at all
    refuses(tallest(house(150.0, 430.0, 120.0), 0.0, 15.0), "tallest tyre by height");
}

proptest! {
    #[test]
    fn the_lift_wanted_just_clears(arch in 350.0..600.0, bump in 0.0..100.0, diameter in 500.0..1000.0, gap in 0.0..50.0) {
        let body = house(arch, 600.0, bump);
        let wanted = lift(body, diameter, gap).unwrap_or(f64::NAN);
        prop_assume!(wanted > 0.0);
        let tall = tallest(body, wanted, gap);
        prop_assert!(tall.is_ok_and(|t| (t[0] - diameter).abs() < 1e-5));
        let found = bump_gap(body, mm(wanted), mm(diameter), GapRule::exact(mm(gap)));
        prop_assert!(found.is_ok_and(|g| g.spare().get::<millimeter>().abs() < 1e-9));
    }

    #[test]
    fn a_lift_never_makes_it_worse(lift in -50.0..150.0, more in 0.0..50.0) {
        let body = house(480.0, 430.0, 65.0);
        let [low, high] = [lift, lift + more].map(|l| tallest(body, l, 15.0).unwrap_or_default());
        prop_assert!(high[2] >= low[2]);
    }

    #[test]
    fn the_greatest_lock_leaves_just_the_gap(
        centre in 20.0..150.0, diameter in 550.0..900.0, section in 120.0..320.0, obstacle in 100.0..300.0, gap in 0.0..30.0,
    ) {
        let t = tyre(centre, diameter, section);
        if let Ok(Some(lock)) = most_lock(t, obstacle, gap)
            && lock < 60.0
        {
            prop_assert!(on_lock(t, obstacle, lock).is_ok_and(|g| (g - gap).abs() < 1e-6));
        }
    }

    #[test]
    fn a_wider_or_taller_tyre_turns_less(centre in 60.0..150.0, diameter in 550.0..900.0, section in 120.0..250.0) {
        let most = |t| most_lock(t, 165.0, 15.0).ok().flatten().unwrap_or(-1.0);
        let base = most(tyre(centre, diameter, section));
        prop_assert!(most(tyre(centre, diameter + 30.0, section)) <= base);
        prop_assert!(most(tyre(centre, diameter, section + 30.0)) <= base);
        prop_assert!(most(tyre(centre + 20.0, diameter, section)) >= base);
    }

    #[test]
    fn a_tyre_inboard_of_its_axis_reaches_as_far(centre in 0.0..150.0, section in 120.0..320.0, lock in 0.0..45.0) {
        let reach = |centre| to_edge(tyre(centre, 700.0, section), 900.0, lock).unwrap_or(f64::NAN);
        prop_assert!((reach(centre) - reach(0.0 - centre)).abs() < 1e-9);
    }

    #[test]
    fn any_numbers_are_refused_or_finite(a in any::<[f64; 4]>()) {
        let [x, y, z, w] = a;
        prop_assert!(tallest(house(x, y, z), w, 15.0).map_or(true, |t| t.iter().all(|v| v.is_finite() && *v > 0.0)));
        prop_assert!(lift(house(x, y, z), w, 15.0).map_or(true, |l| l.is_finite() && l >= 0.0));
        prop_assert!(on_lock(tyre(x, y, z), 165.0, w).map_or(true, f64::is_finite));
    }
}
