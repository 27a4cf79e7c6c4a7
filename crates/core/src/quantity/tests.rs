//! Tests of reading quantities as the trade writes them.

use super::*;

fn si(text: &str) -> f64 {
    Quantity::parse(text).unwrap().si
}

#[test]
fn the_trade_s_ways_of_writing() {
    // exact by definition: 1 in = 25.4 mm (NIST SP 811)
    assert!((si("12.25 in") - 0.31115).abs() < 1e-12);
    assert!((si("3/8 in") - 0.009_525).abs() < 1e-12);
    assert!((si("1-1/8 in") - 0.028_575).abs() < 1e-12);
    assert!((si("1 1/8 in") - 0.028_575).abs() < 1e-12);
    // 1 psi = 6 894.757 Pa (NIST SP 811, table B.8)
    assert!((si("3.5 psi") - 24_131.65).abs() < 0.01);
    // ASTM B258: 18 AWG is 0.823 mm2
    assert!((si("18 AWG") * 1e6 - 0.823).abs() < 0.001);
    for text in ["7.02 in ±0.06", "7.02 in ±0.06 in", "7.02 ±0.06 in"] {
        let wide = Quantity::parse(text).unwrap();
        assert!((wide.tolerance - 0.06 * 0.0254).abs() < 1e-12 && (wide.si - 7.02 * 0.0254).abs() < 1e-12);
    }
    // a difference of 9 °F is one of 5 °C (NIST SP 811)
    let warm = Quantity::parse("180 °F ±9 °F").unwrap();
    assert!((warm.tolerance - 5.0).abs() < 1e-9, "{}", warm.tolerance);
    let mixed = Quantity::parse("82 °C ±9 °F").unwrap();
    assert!((mixed.tolerance - 5.0).abs() < 1e-9, "{}", mixed.tolerance);
    assert!((si("71 °C") - 71.0).abs() < 1e-12);
    assert!((si("27") - 27.0).abs() < 1e-12);
}

#[test]
fn an_exponent_is_read_with_and_without_a_blank() {
    for (text, same) in
        [("1e9A", "1000000000 A"), ("1e3 kg", "1000 kg"), ("1.5E-3 m", "1.5 mm"), ("2e+1", "20")]
    {
        assert!((si(text) / si(same) - 1.0).abs() < 1e-12, "{text}");
    }
    for wrong in ["1e", "1e A", "e9 A", "1/2e3 in", "1e400 kg", "1e9", "1 e9 A"] {
        assert!(Quantity::parse_as(wrong, Dimension::Current).is_err(), "{wrong}");
    }
}

#[test]
fn a_tolerance_of_another_kind_says_so() {
    let error = Quantity::parse("13 psi ±1 mm").unwrap_err().to_string();
    let told =
        "the tolerance \"1 mm\" in \"13 psi ±1 mm\" is a length, expected a pressure as the value before it";
    assert_eq!(error, told);
}

#[test]
fn a_unit_is_read_in_each_way_it_is_typed() {
    for (ways, symbol) in [
        (&["3°", "3 °", "3 º", "3 deg", "3deg", "3 degrees", "3 degree"][..], "3 deg"),
        (&["30 Nm", "30 N m"], "30 N·m"),
        (&["30 lb-ft", "30 ft-lb", "30 ft lb", "30 lbf ft", "30 lb ft"], "30 lbf·ft"),
        (&["420 Nm/MPa"], "420 N·m/MPa"),
    ] {
        for way in ways {
            assert_eq!(si(way).to_bits(), si(symbol).to_bits(), "{way}");
        }
    }
    assert!((Quantity::parse("6° ±1°").unwrap().tolerance.to_degrees() - 1.0).abs() < 1e-12);
}

#[test]
fn distances_driven_and_times_between_services() {
    // exact by definition: 1 mile = 1,609.344 m (NIST SP 811)
    assert!((si("50 miles") - 80_467.2).abs() < 1e-6);
    assert!((si("1 mile") - si("1.609344 km")).abs() < 1e-9);
    assert!((si("2 weeks") - 14.0 * si("24 h")).abs() < 1e-6);
    assert!(
        (si("1 year") - 12.0 * si("1 month")).abs() < 1e-3
            && (si("1 year") / si("1 day") - 365.25).abs() < 1e-9
    );
    assert!((si("6 months") - si("0.5 years")).abs() < 1e-3);
}

#[test]
fn every_dimension_has_an_example_that_is_one() {
    for (word, dimension) in Dimension::WORDS {
        assert!(Quantity::parse_as(example(dimension), dimension).is_ok(), "{word}");
    }
    let error = Quantity::parse_as("3 mm", Dimension::Angle).unwrap_err().to_string();
    assert_eq!(error, "expected an angle such as \"3°\", found the length \"3 mm\"");
}

#[test]
fn wrong_words_name_the_nearest() {
    let error = Quantity::parse("3.5 psl").unwrap_err().to_string();
    assert!(error.contains("did you mean \"psi\""), "{error}");
    for (typed, meant) in [("5 km/g", "km/h"), ("5 mule", "mile"), ("3 pssi", "psi"), ("2 US gl", "US gal")] {
        let error = Quantity::parse(typed).unwrap_err().to_string();
        assert!(error.contains(&format!("did you mean \"{meant}\"")), "{error}");
    }
    for far in ["5 bananas", "5 q", "5 xy", "5 furlongs", "5 …"] {
        let error = Quantity::parse(far).unwrap_err().to_string();
        assert!(error.contains("is not a unit") && !error.contains("did you mean"), "{error}");
    }
    let error = Quantity::parse_as("3.5 psi", Dimension::Length).unwrap_err().to_string();
    assert!(error.contains("length") && error.contains("pressure"), "{error}");
    for bad in ["", "in", "/ in", "1/0 in", "--1 mm", "1e999999 mm", "nan mm"] {
        assert!(Quantity::parse(bad).is_err(), "{bad}");
    }
}

#[test]
fn threads() {
    for good in
        ["M10x1.25", "3/8-24", "1/8-27 NPTF", "1-1/4-12", "7/16-20 UNF", "M18x1.5", "M10", "10-32", "2BA"]
    {
        assert!(is_thread(good), "{good}");
    }
    // two names of one thread are compared as one
    assert_eq!(thread_name("3/8-24 UNF").as_deref(), Some("3/8-24"));
    assert_eq!(thread_name("1/8-27 NPTF").as_deref(), Some("1/8-27 NPTF"));
    for bad in ["10 mm", "banjo", "", "M", "3/8"] {
        assert!(!is_thread(bad), "{bad}");
    }
}

#[test]
fn every_spelling_is_its_unit() {
    for (word, symbol) in spelling::all() {
        let dimension = spelling::dimension(symbol).unwrap();
        for written in [word.to_owned(), word.to_uppercase(), format!(" {word}. ")] {
            let read = Quantity::parse_as(&format!("3 {written}"), dimension);
            let plain = Quantity::parse_as(&format!("3 {symbol}"), dimension).unwrap();
            assert_eq!(read.map(|q| q.si.to_bits()), Ok(plain.si.to_bits()), "3 {written} for {symbol}");
        }
    }
}

#[test]
fn units_as_people_write_them() {
    // NIST SP 811, appendix B: factors to SI; the imperial gallon is 4.546 09 L, the horsepower of 75 kgf·m/s 735.498 75 W
    for (written, si) in [
        ("235 cid", 235.0 * 1.638_706_4e-5),
        ("3850 cc", 3.85e-3),
        ("350 cu. in.", 350.0 * 1.638_706_4e-5),
        ("250 ml", 2.5e-4),
        ("2 imp gal", 2.0 * 4.546_09e-3),
        ("1 imp pt", 4.546_09e-3 / 8.0),
        ("3 U.S. qt", 3.0 * 9.463_529_46e-4),
        ("12 cm", 0.12),
        ("40 thou", 40.0 * 2.54e-5),
        ("120 lbs", 120.0 * 0.453_592_37),
        ("60 ft-lbs", 60.0 * 1.355_818),
        ("120 in-lb", 120.0 * 0.112_984_8),
        ("5 mkg", 5.0 * 9.806_65),
        ("32 PSI", 32.0 * 6_894.757),
        ("2.1 kg/cm2", 2.1 * 98_066.5),
        ("120 HP", 120.0 * 745.699_9),
        ("100 PS", 73_549.875),
        ("20 amps", 20.0),
        ("30 gph", 30.0 * 3.785_411_784e-3 / 3600.0),
        ("13 m/s", 13.0),
        ("150 lb/in", 150.0 * 175.126_8),
        ("3 1/2\"", 0.0889),
        ("3-1/2 inches", 0.0889),
        ("3½ in", 0.0889),
        ("1/0 AWG", 53.475e-6),
        ("2/0 AWG", 67.431e-6),
        ("14 gauge", 2.0809e-6),
        ("#10 AWG", 5.2612e-6),
        ("0 AWG", 53.475e-6),
        ("-5 °F", -20.555_556),
        ("−5 °C", -5.0),
        ("1.5-inch", 0.0381),
        ("1 500 mm", f64::NAN),
    ] {
        match Quantity::parse(written) {
            Ok(read) => {
                assert!((read.si - si).abs() <= 2e-5 * si.abs(), "{written}: {} against {si}", read.si)
            }
            Err(error) => assert!(si.is_nan(), "{written}: {error}"),
        }
    }
    // pounds are a force where one is wanted
    let pull = Quantity::parse_as("100 lbs", Dimension::Force).unwrap();
    assert!((pull.si - 444.822_2).abs() < 1e-3);
    let press = Quantity::parse_as("100 kg", Dimension::Force).unwrap();
    assert!((press.si - 980.665).abs() < 1e-6);
    let play = Quantity::parse("7.02 in +/- 0.06").unwrap();
    assert!((play.tolerance - 0.06 * 0.0254).abs() < 1e-12);
}

#[test]
fn what_two_systems_write_alike_is_asked() {
    for (written, both) in [
        ("2 gal", "\"2 US gal\" or \"2 imp gal\""),
        ("3-1/2 quarts", "\"3-1/2 US qt\" or \"3-1/2 imp qt\""),
        ("1 pt", "\"1 US pt\" or \"1 imp pt\""),
        ("12 fl. oz.", "\"12 US fl oz\" or \"12 imp fl oz\""),
    ] {
        let asked = Quantity::typed(written, Dimension::Volume).unwrap_err().to_string();
        assert!(asked.contains(both), "{asked}");
    }
    let degrees = Quantity::typed("90 deg", Dimension::Temperature).unwrap_err().to_string();
    assert!(degrees.contains("\"90 °C\" or \"90 °F\""), "{degrees}");
}

#[test]
fn what_is_typed_is_taken_as_a_file_may_hold_it() {
    use Dimension::{Angle, Current, Length, Pressure, RotationalSpeed, Torque, Volume};
    for (typed, dimension, text) in [
        ("20", Current, "20 A"),
        ("600", RotationalSpeed, "600 rpm"),
        ("-3", Angle, "-3°"),
        ("12,25 in", Length, "12.25 in"),
        ("0,375 in", Length, "0.375 in"),
        ("1,234.5 mm", Length, "1234.5 mm"),
        ("1.234,5 mm", Length, "1234.5 mm"),
        ("1,234,567 cm3", Volume, "1234567 cm3"),
        ("7,02 in ±0,06 in", Length, "7.02 in ±0.06 in"),
        ("1500,25 mm", Length, "1500.25 mm"),
        ("5' 10\"", Length, "70 in"),
        ("5 ft 10-1/2 in", Length, "70.5 in"),
    ] {
        let read = Quantity::typed(typed, dimension).unwrap_or_else(|e| panic!("{typed}: {e}"));
        assert_eq!(read.text, text);
        let again = Quantity::parse_as(&read.text, dimension).unwrap();
        assert!((again.si - read.si).abs() <= 1e-12 * read.si.abs(), "{typed}");
    }
    for (typed, dimension, asked) in [
        ("1,500 mm", Length, "may mean 1500 or 1.500"),
        ("12", Length, "is it \"12 mm\" or \"12 in\"?"),
        ("30", Pressure, "is it \"30 psi\" or \"30 kPa\"?"),
        ("30", Torque, "is it \"30 N·m\" or \"30 lbf·ft\"?"),
        ("1,23,4 mm", Length, "expected a number"),
    ] {
        let error = Quantity::typed(typed, dimension).unwrap_err().to_string();
        assert!(error.contains(asked), "{typed}: {error}");
    }
    // a file keeps one spelling
    assert!(Quantity::parse("12,25 in").is_err());
}

#[test]
fn a_long_text_is_not_repeated() {
    let long = "9".repeat(10_000) + " mm";
    for text in
        [long.as_str(), &"mm ".repeat(5_000), &format!("3 {}", "b".repeat(9_000)), &"1,".repeat(5_000)]
    {
        for error in
            [Quantity::parse(text).unwrap_err(), Quantity::typed(text, Dimension::Length).unwrap_err()]
        {
            assert!(error.to_string().chars().count() < 250, "{error}");
        }
    }
}

mod laws {
    use proptest::prelude::*;

    use super::*;

    fn unit() -> impl Strategy<Value = (&'static str, Dimension)> {
        let symbols: Vec<_> = crate::units::table().iter().map(|u| (u.symbol, u.dimension)).collect();
        proptest::sample::select(symbols)
    }

    proptest! {
        #[test]
        fn a_number_with_any_unit_comes_back((symbol, dimension) in unit(), number in -1e6..1e6_f64) {
            let read = Quantity::parse_as(&format!("{number} {symbol}"), dimension).unwrap();
            let one = Quantity::parse_as(&format!("1 {symbol}"), dimension).unwrap();
            prop_assert!((read.si - number * one.si).abs() <= 1e-12 * read.si.abs());
            prop_assert_eq!(read.dimension, dimension);
        }

        #[test]
        fn a_decimal_comma_is_a_point(whole in 0_u32..9_999, part in "[0-9]{1,2}|[0-9]{4,6}") {
            let comma = Quantity::typed(&format!("{whole},{part} mm"), Dimension::Length);
            let point = Quantity::parse(&format!("{whole}.{part} mm")).unwrap();
            prop_assert_eq!(comma.map(|q| q.si.to_bits()), Ok(point.si.to_bits()));
        }

        #[test]
        fn a_fraction_is_its_decimal(whole in 0_u32..99, over in 1_u32..64) {
            let decimal = (f64::from(whole) + f64::from(over) / 64.0) * 0.0254;
            for written in [format!("{whole} {over}/64\""), format!("{whole}-{over}/64 in"), format!("{whole} {over}/64 inch")] {
                let read = Quantity::typed(&written, Dimension::Length).unwrap();
                prop_assert!((read.si - decimal).abs() < 1e-12, "{written}");
            }
        }

        #[test]
        fn what_was_taken_reads_the_same_again(text in "[0-9,./ ½-]{1,9}( ?(mm|in|\"|ft|'|A|rpm|°|gal|lb))?") {
            for dimension in [Dimension::Length, Dimension::Current, Dimension::Angle, Dimension::Force] {
                if let Ok(read) = Quantity::typed(&text, dimension) {
                    let again = Quantity::parse_as(&read.text, dimension);
                    prop_assert!(again.is_ok_and(|a| (a.si - read.si).abs() <= 1e-9 * read.si.abs()), "{text}: {}", read.text);
                }
            }
        }

        #[test]
        fn any_text_is_refused_or_read(text in ".{0,60}") {
            for (_, dimension) in Dimension::WORDS {
                let _ = Quantity::typed(&text, dimension).map_err(|e| e.to_string());
            }
        }
    }
}
