//! Wire gauge to area and back, and the resistance of copper at a temperature (ASTM B258; IEC 60028).

use std::f64::consts::FRAC_PI_4;

use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::{Area, ElectricCurrent, ElectricPotential, Length, Power, ThermodynamicTemperature};
use uom::si::length::{meter, millimeter};
use uom::si::power::watt;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::charging::{CURRENT, GAUGE, RUN_LENGTH, Run, WIRE_AREA, awg_diameter};
use crate::error::FigureError;
use crate::range::Range;

/// Resistivity of annealed copper at 20 C, ohm·mm2/m. Source: IEC 60028.
pub const STANDARD_RESISTIVITY: f64 = 1.0 / 58.0;
/// Rise of the resistance of copper for each kelvin over 20 C. Source: IEC 60028; IEC 60228 rounds it to 0.004.
pub const TEMPERATURE_COEFFICIENT: f64 = 0.003_93;

const CONDUCTOR_TEMPERATURE: Range = Range::new(-60.0, 250.0, "C");

/// Area of a solid conductor by American wire gauge: `pi d^2 / 4`.
///
/// * `n`: -3 to 40; 1/0, 2/0, 3/0 and 4/0 are 0, -1, -2 and -3.
///
/// Wire sold by gauge for vehicles has 5 to 12 % less copper (SAE J1128).
///
/// # Errors
/// [`FigureError`] if the number is out of its range.
///
/// Source: ASTM B258.
pub fn gauge_area(n: i32) -> Result<Area, FigureError> {
    let d = awg_diameter(n)?.get::<millimeter>();
    Ok(Area::new::<square_millimeter>(FRAC_PI_4 * d * d))
}

/// Gauge number of an area, mostly between two gauges: `36 - 39 ln(d / 0.127 mm) / ln 92`.
///
/// * `area`: from that of gauge 40 to that of 4/0, 0.005 to 107 mm2.
///
/// # Errors
/// [`FigureError`] if the area is out of the range of [`crate::charging::wire_drop`], or its gauge out of -3 to 40.
///
/// Source: ASTM B258, solved for the number.
pub fn gauge_number(area: Area) -> Result<f64, FigureError> {
    let area = WIRE_AREA.check("conductor area", area.get::<square_millimeter>())?;
    let diameter = (area / FRAC_PI_4).sqrt();
    let n = 36.0 - 39.0 * (diameter / 0.127).ln() / 92_f64.ln();
    // an area that came from a gauge must lead back to it
    let nearest = n.round();
    GAUGE.check("wire gauge", if (n - nearest).abs() < 1e-9 { nearest } else { n })
}

/// The thinnest gauge that has at least an area.
///
/// * `area`: 0.005 to 107 mm2.
///
/// # Errors
/// [`FigureError`] as for [`gauge_number`].
///
/// Source: ASTM B258.
pub fn gauge_for(area: Area) -> Result<i32, FigureError> {
    // GAUGE.check has held the number to -3 to 40
    gauge_number(area).map(|n| n.floor() as i32)
}

/// A gauge as it is written: `12`, or `2/0` for -1.
#[must_use]
pub fn gauge_name(n: i32) -> String {
    if n > 0 { n.to_string() } else { format!("{}/0", 1 - i64::from(n)) }
}

/// Resistance of a solid copper conductor for each metre, ohm/m: `1/58 / area (1 + 0.00393 (T - 20 C))`.
///
/// * `area`: 0.001 to 1,000 mm2.
/// * `temperature`: of the conductor, -60 to 250 C.
///
/// Flexible cable of the same area has 12 to 16 % more at most, see [`super::strands`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: IEC 60028.
pub fn ohms_per_metre(area: Area, temperature: ThermodynamicTemperature) -> Result<f64, FigureError> {
    let area = WIRE_AREA.check("conductor area", area.get::<square_millimeter>())?;
    Ok(STANDARD_RESISTIVITY / area * heat_factor(temperature)?)
}

/// Resistance of copper over that at 20 C.
///
/// * `temperature`: -60 to 250 C.
///
/// # Errors
/// [`FigureError`] if the temperature is out of its range.
///
/// Source: IEC 60028.
pub fn heat_factor(temperature: ThermodynamicTemperature) -> Result<f64, FigureError> {
    let celsius =
        CONDUCTOR_TEMPERATURE.check("conductor temperature", temperature.get::<degree_celsius>())?;
    Ok(1.0 + TEMPERATURE_COEFFICIENT * (celsius - 20.0))
}

/// What a cable of known resistance loses: voltage, and power as heat.
///
/// * `current`: 1e-6 to 10,000 A.
/// * `one_way_length`: 1 mm to 1,000 m.
/// * `ohms_per_metre`: of the cable as its maker gives it, 1e-6 to 100 ohm/m.
/// * `run`: the feed alone, or feed and return.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Ohm's law.
pub fn cable_loss(
    current: ElectricCurrent,
    one_way_length: Length,
    ohms_per_metre: f64,
    run: Run,
) -> Result<(ElectricPotential, Power), FigureError> {
    let amps = CURRENT.check("current", current.get::<ampere>())?;
    let length = RUN_LENGTH.check("wire length", one_way_length.get::<meter>())?;
    let ohms = Range::new(1e-6, 100.0, "ohm/m").check("resistance of the cable", ohms_per_metre)?;
    let volts = amps * length * run.times() * ohms;
    Ok((ElectricPotential::new::<volt>(volts), Power::new::<watt>(volts * amps)))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn mm2(value: f64) -> Area {
        Area::new::<square_millimeter>(value)
    }

    fn celsius(value: f64) -> ThermodynamicTemperature {
        ThermodynamicTemperature::new::<degree_celsius>(value)
    }

    fn ohms(area: f64, temperature: f64) -> Result<f64, FigureError> {
        ohms_per_metre(mm2(area), celsius(temperature))
    }

    #[test]
    fn areas_and_resistances_of_gauges() {
        // by a general-purpose library and ASTM B258 and IEC 60028: area mm2, mohm/m and ohm for 1,000 ft at 20 C
        for (n, area, milliohms, per_kft) in [
            (-3, 107.219_302_577, 0.160_804_807_492, 0.049_013_305_323_6),
            (-1, 67.430_882_235_9, 0.255_689_659_376, 0.077_934_208_177_9),
            (2, 33.630_834_019_3, 0.512_665_826_26, 0.156_260_543_844),
            (4, 21.150_639_425_4, 0.815_170_594_304, 0.248_463_997_144),
            (6, 13.301_767_891, 1.296_172_016_51, 0.395_073_230_631),
            (8, 8.365_564_060_08, 2.060_994_236_19, 0.628_191_043_192),
            (12, 3.308_772_876_11, 5.210_807_739_27, 1.588_254_198_93),
            (16, 1.308_695_727_76, 13.174_475_124_1, 4.015_580_017_83),
            (18, 0.823_046_833_731, 20.948_235_997_9, 6.385_022_332_17),
            (20, 0.517_619_241_928, 33.308_999_963_2, 10.152_583_188_8),
            (22, 0.325_533_941_245, 52.963_384_538, 16.143_239_607_2),
        ] {
            let found = gauge_area(n).map(|a| a.get::<square_millimeter>());
            close(found, area, 1e-9);
            close(found.and_then(|a| ohms(a, 20.0)).map(|r| r * 1000.0), milliohms, 1e-9);
            close(found.and_then(|a| ohms(a, 20.0)).map(|r| r * 304.8), per_kft, 1e-9);
            assert_eq!(gauge_for(mm2(area)), Ok(n));
        }
    }

    #[test]
    fn building_wire_tables_at_75_degrees() {
        // tier P: wire.nec_table8/... at 75 C, ohm for 1,000 ft: solid sizes agree, stranded ones have 2 % more
        for (n, table, least, most) in [
            (16, 4.89, 0.995, 1.006),
            (14, 3.07, 0.995, 1.006),
            (12, 1.93, 0.995, 1.006),
            (10, 1.21, 0.995, 1.006),
            (6, 0.491, 1.015, 1.025),
            (4, 0.308, 1.015, 1.025),
            (2, 0.194, 1.015, 1.025),
            (0, 0.122, 1.015, 1.025),
            (-1, 0.0967, 1.015, 1.025),
            (-3, 0.0608, 1.015, 1.025),
        ] {
            let found =
                gauge_area(n).and_then(|a| ohms_per_metre(a, celsius(75.0))).map(|r| table / (r * 304.8));
            assert!(found.is_ok_and(|ratio| (least..=most).contains(&ratio)), "gauge {n}: {found:?}");
        }
    }

    #[test]
    fn flexible_cable_is_worse_than_solid() {
        // tier P: wire.iec60228_class5/..., mohm/m at 20 C, the most allowed: 12 to 16 % over solid copper
        for (area, most) in [
            (0.5, 39.0),
            (0.75, 26.0),
            (1.0, 19.5),
            (2.5, 7.98),
            (6.0, 3.3),
            (16.0, 1.21),
            (25.0, 0.78),
            (35.0, 0.554),
            (50.0, 0.386),
        ] {
            let over = most / 1000.0 / ohms(area, 20.0).unwrap_or(f64::NAN);
            assert!((1.11..1.16).contains(&over), "{area} mm2: {over}");
        }
    }

    #[test]
    fn cables_by_their_resistance() {
        // tier L: wire.voltage_drop/20 A, 8 m loop, 4 mm2 class 5 and 180 A crank, 3.0 m loop, 35 mm2
        let loss = |amps, metres, milliohms: f64, run| {
            let (current, length) = (ElectricCurrent::new::<ampere>(amps), Length::new::<meter>(metres));
            cable_loss(current, length, milliohms / 1000.0, run)
                .map(|(u, p)| (u.get::<volt>(), p.get::<watt>()))
        };
        close(loss(20.0, 4.0, 4.95, Run::ThereAndBack).map(|l| l.0), 0.792, 1e-9);
        close(loss(20.0, 8.0, 4.95, Run::OneWay).map(|l| l.1), 15.84, 1e-9);
        close(loss(180.0, 3.0, 0.554, Run::OneWay).map(|l| l.0), 0.299_16, 1e-9);
        close(loss(180.0, 1.5, 0.554, Run::ThereAndBack).map(|l| l.1), 53.848_8, 1e-9);
        for bad in REFUSED {
            refuses(loss(bad, 3.0, 0.5, Run::OneWay), "current");
            refuses(loss(20.0, bad, 0.5, Run::OneWay), "wire length");
            refuses(loss(20.0, 3.0, bad, Run::OneWay), "resistance of the cable");
        }
    }

    #[test]
    fn heat() {
        // tier A (regression): wire.temp_factor/60, 85, 90 degC
        for (at, factor) in [(60.0, 1.157_2), (85.0, 1.255_45), (90.0, 1.275_1)] {
            close(heat_factor(celsius(at)), factor, 1e-9);
        }
        // the hot factor of the trade, 1.2, is met at 71 C
        close(heat_factor(celsius(71.0)), 1.2, 1e-3);
    }

    #[test]
    fn names() {
        assert_eq!([12, 1, 0, -1, -3].map(gauge_name), ["12", "1", "1/0", "2/0", "4/0"]);
        assert!(gauge_name(i32::MIN).ends_with("/0"));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(gauge_number(mm2(bad)), "conductor area");
            refuses(gauge_for(mm2(bad)), "conductor area");
            refuses(ohms(bad, 20.0), "conductor area");
        }
        for bad in [f64::NAN, f64::INFINITY, -61.0, 251.0] {
            refuses(ohms(1.0, bad), "conductor temperature");
        }
        // thicker than 4/0, thinner than 40
        refuses(gauge_number(mm2(120.0)), "wire gauge");
        refuses(gauge_number(mm2(0.004)), "wire gauge");
        refuses(gauge_area(41), "wire gauge");
    }

    proptest! {
        #[test]
        fn gauge_and_area_undo_each_other(n in -3..=40) {
            let area = gauge_area(n).unwrap_or_default();
            prop_assert_eq!(gauge_for(area), Ok(n));
            prop_assert!((gauge_number(area).unwrap_or(f64::NAN) - f64::from(n)).abs() < 1e-9);
        }

        #[test]
        fn the_gauge_chosen_is_the_thinnest_that_is_enough(area in 0.01..100.0) {
            let n = gauge_for(mm2(area)).unwrap_or(99);
            prop_assert!(gauge_area(n).unwrap_or_default() >= mm2(area * (1.0 - 1e-9)));
            prop_assert!(n == 40 || gauge_area(n + 1).unwrap_or_default() < mm2(area));
        }

        #[test]
        fn thicker_and_cooler_resists_less(area in 0.1..100.0, factor in 1.01_f64..3.0, at in -50.0..200.0) {
            let base = ohms(area, at).unwrap_or(f64::NAN);
            prop_assert!(ohms(area * factor, at).unwrap_or(f64::NAN) < base);
            prop_assert!(ohms(area, at + 1.0).unwrap_or(f64::NAN) > base);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), n in any::<i32>()) {
            prop_assert!(sound(ohms(a, b)) && gauge_number(mm2(a)).map_or(true, f64::is_finite));
            prop_assert!(gauge_area(n).map_or(true, |a| a > mm2(0.0)));
        }
    }
}
