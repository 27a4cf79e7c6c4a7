//! Tests of how quantities are shown.

use super::*;

fn metric(text: &str) -> String {
    show(text, Measure::Metric)
}

fn inch(text: &str) -> String {
    show(text, Measure::Inch)
}

#[test]
fn factors_are_those_of_nist_sp_811() {
    // NIST SP 811 (2008), appendix B.8: 1 in = 25.4 mm, 1 psi = 6.894 757 kPa, 1 lb = 0.453 592 4 kg,
    // 1 lbf·ft = 1.355 818 N·m, 1 US gal = 3.785 412 L, 1 inHg = 3.386 389 kPa, 1 mile = 1.609 344 km,
    // 1 lbf = 4.448 222 N, 1 US liquid quart = 0.946 352 9 L, 1 hp (550 ft·lbf/s) = 745.699 9 W
    for (written, shown) in [
        ("12.25 in", "311.2 mm"),
        ("1-1/8 in", "28.6 mm"),
        ("0.020 in", "0.51 mm"),
        ("0.002 in", "0.051 mm"),
        ("3.5 psi", "24.1 kPa"),
        ("1000 psi", "6.89 MPa"),
        ("15 inHg", "50.8 kPa"),
        ("100 lb", "45.4 kg"),
        ("0.5 lb", "227 g"),
        ("35 lbf·ft", "47.5 N·m"),
        ("18 US gal", "68.1 L"),
        ("5 US qt", "4.73 L"),
        ("50 lbf", "222 N"),
        ("60 mph", "96.6 km/h"),
        ("100 hp", "74.6 kW"),
        ("160 °F", "71 °C"),
        ("728 rev/mile", "452 rev/km"),
        // ASTM B258: 18 AWG is 0.823 mm2
        ("18 AWG", "0.823 mm2"),
    ] {
        assert_eq!(metric(written), shown, "{written}");
        assert_eq!(inch(written), written, "stays as written");
    }
    for (written, shown) in [
        ("311.15 mm", "12-1/4 in"),
        ("16.8 mm", "0.661 in"),
        ("9.5 mm", "3/8 in"),
        ("25.4 mm", "1 in"),
        ("0.05 mm", "0.002 in"),
        ("24 kPa", "3.48 psi"),
        ("1.1 bar", "16 psi"),
        ("30 N·m", "22.1 lbf·ft"),
        ("998 kg", "2200 lb"),
        ("68 L", "18 US gal"),
        ("4.7 L", "4.97 US qt"),
        ("0.6 L", "0.634 US qt"),
        ("120 mL", "7.32 in3"),
        ("90 L/h", "23.8 US gph"),
        ("71 °C", "160 °F"),
        ("80 km/h", "49.7 mph"),
        // thicker than any wire: a face
        ("3750 mm2", "5.81 in2"),
    ] {
        assert_eq!(inch(written), shown, "{written}");
        assert_eq!(metric(written), written, "stays as written");
    }
}

#[test]
fn windows_tolerances_and_lists() {
    assert_eq!(metric("4 to 7 psi"), "27.6 to 48.3 kPa");
    assert_eq!(metric("set 1 to 4 psi"), "set 6.89 to 27.6 kPa");
    assert_eq!(metric("7.02 in ±0.06"), "178.3 mm ±1.5 mm");
    assert_eq!(metric("7.02 in ±0.06 in"), "178.3 mm ±1.5 mm");
    assert_eq!(inch("82 °C ±5 °C"), "180 °F ±9 °F");
    assert_eq!(inch("1 mm to 3 in"), "0.039 to 3 in");
    assert_eq!(inch("345 mm ±2 mm"), "13.58 in ±0.079 in");
    assert_eq!(metric("1/4 in or 6 mm"), "6.4 mm or 6 mm");
    assert_eq!(metric("small or 2 in"), "small or 50.8 mm");
    assert_eq!(metric("-1/2 in"), "-12.7 mm");
}

#[test]
fn an_angle_reads_alike_in_both_systems() {
    for (written, shown) in [
        ("45 deg", "45°"),
        ("0.5deg", "0.5°"),
        ("2 to 6 deg", "2 to 6°"),
        ("6 deg ±1 deg", "6° ±1°"),
        ("3°", "3°"),
    ] {
        assert_eq!((inch(written), metric(written)), (shown.to_owned(), shown.to_owned()));
        assert_eq!(other(written, Measure::Inch), None, "{written}");
    }
}

#[test]
fn a_stopping_distance_is_read_in_feet() {
    assert_eq!(inch("58.74 m"), "193 ft");
    assert_eq!(inch("6 m"), "19.7 ft");
    assert_eq!(inch("1609.344 m"), "1 mile");
}

#[test]
fn what_has_one_reading_only_stays() {
    for text in [
        "3/8-24",
        "M10x1.25",
        "1/8-27 NPTF",
        "male",
        "any",
        "not known (calliper across the neck, to 0.5 mm)",
        "unknown: calliper, to 0.5 mm",
        "27",
        "4.0",
        "12 V",
        "1.5 ohm",
        "20 A",
        "45°",
        "500 rpm",
        "60 %",
        "6 h",
        "13 mm2",
        "55 W",
        "5 points",
        "",
        "double-D",
        "2 in centres",
        "0.3 N·m/MPa",
        "in or out",
    ] {
        assert_eq!(metric(text), text);
        assert_eq!(inch(text), text);
        assert_eq!(other(text, Measure::Inch), None);
    }
    assert_eq!(other("2 in", Measure::Inch), Some("50.8 mm".to_owned()));
    assert_eq!(other("2 in", Measure::Metric), Some("2 in".to_owned()));
}

#[test]
fn a_wire_is_read_in_gauges_by_who_works_in_inches() {
    assert_eq!(reading("13 mm2", Measure::Inch), "6 AWG (13 mm2)");
    assert_eq!(reading("13 mm2", Measure::Metric), "13 mm2");
    assert_eq!(reading_other("13 mm2", Measure::Inch), None, "both stand there");
    assert_eq!(reading_other("13 mm2", Measure::Metric), Some("6 AWG".to_owned()));
    // what is no wire reads as ever
    assert_eq!(reading("3750 mm2", Measure::Inch), "5.81 in2");
    assert_eq!(reading("25.4 mm", Measure::Inch), "1 in");
    assert_eq!(reading_other("2 in", Measure::Inch), Some("50.8 mm".to_owned()));
}

#[test]
fn what_is_shown_can_be_read_again_and_is_near() {
    let units =
        ["mm", "in", "psi", "kPa", "kg", "lb", "N·m", "lbf·ft", "L", "US gal", "km/h", "mph", "°C", "°F"];
    for unit in units {
        for number in ["0.3", "0.75", "1", "1-1/8", "3.3", "7/16", "19.05", "88", "410.5", "2900"] {
            let text = format!("{number} {unit}");
            let written = Quantity::parse(&text).unwrap();
            for wanted in [Measure::Inch, Measure::Metric] {
                let shown = show(&text, wanted);
                let back = Quantity::parse(&shown).unwrap();
                assert_eq!(back.dimension, written.dimension, "{text} -> {shown}");
                let off = (back.si - written.si).abs();
                let may = match written.dimension {
                    Dimension::Length => 1.1e-4_f64.max(written.si.abs() * 5e-3),
                    Dimension::Temperature => 0.6,
                    _ => written.si.abs() * 6e-3,
                };
                assert!(off <= may, "{text} -> {shown}: off by {off}");
            }
        }
    }
}
