//! Tests of flexible cable against the standard's table and worked drops.

use proptest::prelude::*;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::*;
use crate::testing::{REFUSED, close, refuses, sound};
use crate::wiring::gauge::ohms_per_metre;

fn celsius(value: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(value)
}

fn mm2(value: f64) -> Area {
    Area::new::<square_millimeter>(value)
}

fn volts(amps: f64, metres: f64, area: f64, run: Run, heat: f64) -> Result<f64, FigureError> {
    let (current, length) = (ElectricCurrent::new::<ampere>(amps), Length::new::<meter>(metres));
    wire_drop(current, length, mm2(area), run, celsius(heat)).map(|v| v.get::<volt>())
}

fn area(amps: f64, metres: f64, volts: f64, run: Run, heat: f64) -> Result<f64, FigureError> {
    let (current, length) = (ElectricCurrent::new::<ampere>(amps), Length::new::<meter>(metres));
    area_for(current, length, ElectricPotential::new::<volt>(volts), run, celsius(heat))
        .map(|a| a.get::<square_millimeter>())
}

#[test]
fn the_most_the_standard_allows() {
    // IEC 60228 class 5, mohm/m at 20 C
    for (area, most) in
        [(0.5, 39.0), (0.75, 26.0), (1.0, 19.5), (2.5, 7.98), (6.0, 3.3), (16.0, 1.21), (50.0, 0.386)]
    {
        close(flexible_ohms_per_metre(mm2(area), celsius(20.0)).map(|r| r * 1e3), most, 1e-12);
    }
    // rows of that standard that are not in the table, from memory: 1.5 and 10 mm2
    for (area, most, within) in [(1.5, 13.3, 0.02), (10.0, 1.91, 0.04)] {
        close(flexible_ohms_per_metre(mm2(area), celsius(20.0)).map(|r| r * 1e3), most, within);
    }
    // IEC 60028: copper has 1 + 0.00393 x 70 times as much at 90 C: 1.2751
    let [warm, cold] = [90.0, 20.0].map(|t| flexible_ohms_per_metre(mm2(6.0), celsius(t)).unwrap());
    assert!((warm / cold - 1.275_1).abs() < 1e-9);
}

#[test]
fn drops_of_cables_whose_resistance_is_known() {
    // by a general-purpose library: 20 A in 8 m of 4 mm2 class 5 lose 0.792 V; 180 A in 3 m of 35 mm2 0.29916 V
    close(volts(20.0, 4.0, 4.0, Run::ThereAndBack, 20.0), 0.792, 1e-9);
    close(volts(180.0, 3.0, 35.0, Run::OneWay, 20.0), 0.299_16, 1e-9);
    // physics: 100 A over 3 m of solid 20 mm2 lose 0.2586 V; the strands run round and may be thinner
    let solid = 300.0 * ohms_per_metre(mm2(20.0), celsius(20.0)).unwrap();
    close(Ok(solid), 0.258_6, 1e-3);
    close(volts(100.0, 3.0, 20.0, Run::OneWay, 20.0).map(|v| v / solid), 1.13, 0.01);
}

#[test]
fn refuses_each_argument_by_name() {
    for bad in REFUSED {
        refuses(volts(bad, 3.0, 20.0, Run::OneWay, 20.0), "current");
        refuses(volts(100.0, bad, 20.0, Run::OneWay, 20.0), "wire length");
        refuses(volts(100.0, 3.0, bad, Run::OneWay, 20.0), "conductor area");
        refuses(area(bad, 3.0, 0.3, Run::OneWay, 20.0), "current");
        refuses(area(20.0, bad, 0.3, Run::OneWay, 20.0), "wire length");
        refuses(area(20.0, 3.0, bad, Run::OneWay, 20.0), "drop allowed");
    }
    for bad in [f64::NAN, f64::INFINITY, -61.0, 251.0] {
        refuses(volts(100.0, 3.0, 20.0, Run::OneWay, bad), "conductor temperature");
        refuses(area(20.0, 3.0, 0.3, Run::OneWay, bad), "conductor temperature");
    }
}

proptest! {
    #[test]
    fn flexible_cable_has_more_than_solid_copper(area in 0.01..500.0) {
        let [flexible, solid] = [flexible_ohms_per_metre, ohms_per_metre].map(|f| f(mm2(area), celsius(20.0)).unwrap());
        prop_assert!((1.11..1.165).contains(&(flexible / solid)), "{area} mm2: {}", flexible / solid);
    }

    #[test]
    fn area_and_drop_undo_each_other(
        amps in 0.1..300.0, metres in 0.1..20.0, lost in 0.05..2.0, heat in 0.0..100.0,
    ) {
        let mm2 = area(amps, metres, lost, Run::ThereAndBack, heat).unwrap_or(f64::NAN);
        prop_assume!(mm2 > 0.002 && mm2 < 900.0);
        let back = volts(amps, metres, mm2, Run::ThereAndBack, heat).unwrap_or(f64::NAN);
        prop_assert!((back / lost - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_thicker_shorter_cooler_wire_loses_less(
        amps in 0.1..500.0, metres in 0.01..50.0, mm2 in 0.2..100.0, factor in 1.01_f64..3.0,
    ) {
        let base = volts(amps, metres, mm2, Run::OneWay, 20.0).unwrap_or(f64::NAN);
        prop_assert!(volts(amps, metres, mm2 * factor, Run::OneWay, 20.0).unwrap_or(f64::NAN) < base);
        for worse in [
            volts(amps * factor, metres, mm2, Run::OneWay, 20.0),
            volts(amps, metres * factor, mm2, Run::OneWay, 20.0),
            volts(amps, metres, mm2, Run::ThereAndBack, 20.0),
            volts(amps, metres, mm2, Run::OneWay, 20.0 * factor),
        ] {
            prop_assert!(worse.unwrap_or(f64::NAN) > base);
        }
    }

    #[test]
    fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
        prop_assert!(sound(volts(a, b, c, Run::ThereAndBack, 70.0)));
        prop_assert!(sound(area(a, b, c, Run::OneWay, 70.0)));
    }
}
