//! Tests of a wheel over its brake.

use proptest::prelude::*;

use super::*;
use crate::gap::GapVerdict;
use crate::testing::{close, refuses};

fn mm(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

fn profile(points: &[(f64, f64)]) -> Vec<ProfilePoint> {
    points.iter().map(|(z, r)| ProfilePoint { z: mm(*z), r: mm(*r) }).collect()
}

fn over(
    wheel: &[(f64, f64)],
    brake: &[(f64, f64)],
    spacer: f64,
    accuracy: f64,
) -> Result<OverBrake, FigureError> {
    let rule = GapRule { wanted: mm(3.0), accuracy: mm(accuracy) };
    wheel_over_brake(&profile(wheel), &profile(brake), mm(spacer), rule)
}

fn gap(wheel: &[(f64, f64)], brake: &[(f64, f64)], spacer: f64) -> Result<f64, FigureError> {
    over(wheel, brake, spacer, 0.0).map(|o| o.gap.found.get::<millimeter>())
}

fn part(found: Result<OverBrake, FigureError>, of: fn(&OverBrake) -> Length) -> Result<f64, FigureError> {
    found.map(|o| of(&o).get::<millimeter>())
}

const WHEEL: [(f64, f64); 8] = [
    (-95.0, 190.0),
    (-80.0, 176.0),
    (-30.0, 170.0),
    (5.0, 168.0),
    (28.0, 140.0),
    (22.0, 90.0),
    (0.0, 70.0),
    (0.0, 55.0),
];
const BRAKE: [(f64, f64); 7] =
    [(-70.0, 100.0), (-70.0, 150.0), (-62.0, 163.0), (-8.0, 163.0), (6.0, 150.0), (14.0, 118.0), (2.0, 95.0)];
const DROP_CENTRE: [(f64, f64); 9] = [
    (-110.0, 192.0),
    (-100.0, 182.0),
    (-70.0, 180.0),
    (-60.0, 166.0),
    (-20.0, 166.0),
    (-10.0, 182.0),
    (30.0, 182.0),
    (45.0, 120.0),
    (0.0, 60.0),
];

fn box_to(radius: f64) -> [(f64, f64); 4] {
    [(-60.0, 100.0), (-60.0, radius), (-10.0, radius), (-10.0, 100.0)]
}

fn barrel(radius: f64) -> [(f64, f64); 3] {
    [(-90.0, radius), (40.0, radius), (40.0, 60.0)]
}

fn caliper(radius: f64) -> [(f64, f64); 4] {
    [(-75.0, 120.0), (-75.0, radius), (-5.0, radius), (10.0, 130.0)]
}

#[test]
fn distances_against_a_sampled_search() {
    // numerical: refined sampling of both profiles outside this program, mm
    for (spacer, distance) in [
        (0.0, 5.733_503_949_120_6),
        (5.0, 6.018_752_901_813_1),
        (10.0, 6.304_001_854_505_7),
        (25.0, 7.307_573_531_263_7),
    ] {
        close(gap(&WHEEL, &BRAKE, spacer), distance, 1e-9);
    }
    for (radius, distance) in [(154.0, 12.0), (158.0, 8.0), (161.0, 5.0)] {
        close(gap(&DROP_CENTRE, &caliper(radius), 0.0), distance, 1e-9);
    }
}

#[test]
fn the_nearest_points_and_their_parts() {
    let found = over(&WHEEL, &BRAKE, 0.0, 0.0);
    // numerical: the points of the sampled search
    close(part(found, |o| o.wheel.z), -7.672_904_9, 1e-6);
    close(part(found, |o| o.wheel.r), 168.724_166, 1e-6);
    close(part(found, |o| o.brake.z), -8.0, 1e-12);
    close(part(found, |o| o.brake.r), 163.0, 1e-12);
    close(part(found, |o| o.radial), 5.724_166, 1e-6);
    close(part(found, |o| o.axial), 0.327_095_1, 1e-6);
}

#[test]
fn trade_wheels_over_a_339_mm_caliper() {
    // physics: inside 332 fouls, 345 clears by 3 mm, 352 is bought
    for (inside, distance) in [(332.0, -3.5), (345.0, 3.0), (352.0, 6.5)] {
        close(gap(&barrel(inside / 2.0), &box_to(169.5), 0.0), distance, 1e-9);
    }
    let verdict = |inside: f64, accuracy| {
        over(&barrel(inside / 2.0), &box_to(169.5), 0.0, accuracy).map(|o| o.gap.verdict())
    };
    assert!(
        matches!(verdict(332.0, 1.0), Ok(GapVerdict::Broken { short_by }) if (short_by - mm(6.5)).abs() < mm(1e-6))
    );
    // measured to a millimetre, 345 is open, 352 holds
    assert!(matches!(verdict(345.0, 1.0), Ok(GapVerdict::Open { .. })));
    assert!(
        matches!(verdict(352.0, 1.0), Ok(GapVerdict::Holds { spare }) if (spare - mm(3.5)).abs() < mm(1e-6))
    );
}

#[test]
fn a_spacer_clears_the_disc_and_not_the_barrel() {
    // geometry: rotor face at -10 + 20 under a disc at 10 mm fouls by 10; 15 mm of spacer leave 5
    let wheel = [(-90.0, 172.5), (10.0, 172.5), (10.0, 60.0)];
    let brake = [(-60.0, 100.0), (-60.0, 150.0), (20.0, 150.0), (20.0, 100.0)];
    close(gap(&wheel, &brake, 0.0), -10.0, 1e-9);
    close(gap(&wheel, &brake, 15.0), 5.0, 1e-9);
    close(gap(&wheel, &box_to(170.0), 0.0), 2.5, 1e-9);
    close(gap(&wheel, &box_to(170.0), 15.0), 2.5, 1e-9);
    close(part(over(&wheel, &brake, 15.0, 0.0), |o| o.axial), 5.0, 1e-9);
    assert_eq!(part(over(&wheel, &brake, 15.0, 0.0), |o| o.radial), Ok(0.0));
}

#[test]
fn fouls_of_every_kind() {
    // geometry: the well of a drop-centre rim dips 2 mm below a caliper that clears the rest of the rim
    close(gap(&DROP_CENTRE, &caliper(168.0), 0.0), -2.0, 1e-9);
    // a weight stuck in the barrel, narrower than the walk is wide, is found by its corner
    let weight =
        [(-90.0, 180.0), (-35.3, 180.0), (-35.0, 160.0), (-34.7, 180.0), (40.0, 180.0), (40.0, 60.0)];
    close(gap(&weight, &box_to(163.0), 0.0), -3.0, 1e-9);
    // a brake that lies wholly in the metal, crossing nothing
    assert!(
        gap(&barrel(150.0), &[(-50.0, 160.0), (-20.0, 160.0)], 0.0).is_ok_and(|g| (g + 10.0).abs() < 1e-9)
    );
    // inboard of the lip there is no metal, and the hub may pass the bore
    assert!(gap(&barrel(150.0), &[(-140.0, 200.0), (-100.0, 200.0)], 0.0).is_ok_and(|g| g > 10.0));
    assert!(gap(&barrel(150.0), &[(-20.0, 50.0), (60.0, 50.0)], 0.0).is_ok_and(|g| (g - 10.0).abs() < 1e-9));
}

#[test]
fn refuses_each_argument_by_name() {
    let (wheel, brake) = (barrel(172.5), box_to(160.0));
    refuses(over(&wheel[..1], &brake, 0.0, 0.0), "points of the wheel profile");
    refuses(over(&wheel, &[], 0.0, 0.0), "points of the brake envelope");
    refuses(over(&[(0.0, 100.0); 300], &brake, 0.0, 0.0), "points of the wheel profile");
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e9, 1e9] {
        refuses(over(&wheel, &brake, bad, 0.0), "wheel spacer");
        refuses(over(&wheel, &brake, 0.0, bad), "measuring accuracy");
        refuses(over(&[(bad, 170.0), (40.0, 60.0)], &brake, 0.0, 0.0), "wheel profile, along the axle");
        refuses(over(&[(-90.0, bad), (40.0, 60.0)], &brake, 0.0, 0.0), "wheel profile, radius");
        refuses(over(&wheel, &[(bad, 170.0), (40.0, 60.0)], 0.0, 0.0), "brake envelope, along the axle");
        refuses(over(&wheel, &[(0.0, bad), (40.0, 60.0)], 0.0, 0.0), "brake envelope, radius");
    }
    let backwards: Vec<_> = barrel(172.5).into_iter().rev().collect();
    refuses(over(&backwards, &brake, 0.0, 0.0), "inner lip, first point of the wheel profile");
    let open = [(-90.0, 172.5), (40.0, 60.0), (40.0, 170.0)];
    refuses(over(&open, &brake, 0.0, 0.0), "hub bore, last point of the wheel profile");
}

proptest! {
    #[test]
    fn a_round_caliper_in_a_round_barrel_is_half_the_difference(wheel in 150.0..200.0, caliper in 120.0..190.0) {
        // the same law as wheel_over_caliper, while the disc and the open side stay far away
        let plain = crate::wheels::wheel_over_caliper(mm(2.0 * wheel), mm(2.0 * caliper), mm(3.0));
        let expected = plain.map(|c| c.radial.get::<millimeter>());
        prop_assume!(expected.is_ok_and(|e| e.abs() < 25.0));
        let found = gap(&barrel(wheel), &box_to(caliper), 0.0);
        prop_assert!((found.unwrap_or(f64::NAN) - expected.unwrap_or(f64::NAN)).abs() < 1e-9);
    }

    #[test]
    fn a_fatter_brake_never_clears_more(radius in 120.0..165.0, more in 0.0..10.0) {
        let [thin, fat] = [radius, radius + more].map(|r| gap(&DROP_CENTRE, &caliper(r), 0.0).unwrap_or(f64::NAN));
        prop_assert!(fat <= thin + 1e-9);
    }

    #[test]
    fn the_parts_make_up_the_distance(radius in 120.0..170.0, spacer in 0.0..40.0) {
        if let Ok(found) = over(&WHEEL, &caliper(radius), spacer, 0.0) {
            let parts = found.radial.get::<millimeter>().hypot(found.axial.get::<millimeter>());
            prop_assert!((parts - found.gap.found.get::<millimeter>().abs()).abs() < 1e-9);
        }
    }

    #[test]
    fn any_numbers_are_refused_or_finite(a in any::<[f64; 4]>(), b in prop::collection::vec((-90.0..90.0, 0.0..250.0), 0..6)) {
        let rough = over(&[(a[0], a[1]), (a[2], a[3])], &b, 0.0, 0.0);
        prop_assert!(rough.map_or(true, |o| o.gap.found.get::<millimeter>().is_finite()));
        let found = over(&WHEEL, &b, 0.0, 0.0);
        prop_assert!(found.map_or(b.len() < 2, |o| o.gap.found.get::<millimeter>().is_finite()));
    }
}
