//! A quantity is told in the units of who reads it, finely enough that what is broken does not read as held.

use proptest::prelude::*;

use super::{Number, Phrase, Piece};
use crate::quantity::Quantity;
use crate::reason::Fact;
use crate::showing::Measure;
use crate::units::Dimension::{self, Length, Mass, Pressure, Ratio, Temperature};
use crate::value::{Kind, Value};

fn both(phrase: &Phrase) -> [String; 2] {
    [Measure::Inch, Measure::Metric].map(|measure| phrase.say(measure))
}

fn mm(x: f64) -> Number {
    Number::new(x / 1e3, Length)
}

#[test]
fn clearances_are_told_as_a_tape_reads() {
    // exact by definition: 1 in = 25.4 mm (NIST SP 811)
    for (millimetres, inch, metric) in [
        (60.0, "2-3/8 in", "60 mm"),
        (345.0, "13-9/16 in", "345 mm"),
        (4.0, "5/32 in", "4 mm"),
        (1.0, "3/64 in", "1 mm"),
        (0.13, "0.005 in", "0.13 mm"),
        (25.4, "1 in", "25.4 mm"),
        (-12.7, "-1/2 in", "-12.7 mm"),
        // nobody tells a fuel line in inches
        (6_000.0, "19.7 ft", "6 m"),
        (1_320.0, "51-15/16 in", "1320 mm"),
        (0.0, "0 in", "0 mm"),
    ] {
        assert_eq!(both(&phrase![mm(millimetres)]), [inch, metric], "{millimetres}");
    }
}

#[test]
fn a_fit_is_told_in_thousandths() {
    assert_eq!(both(&phrase![mm(27.0).fit()]), ["1.063 in", "27 mm"]);
    assert_eq!(both(&phrase![mm(111.1).fit()]), ["4.374 in", "111.1 mm"]);
    // one that is a fraction is told as one
    assert_eq!(both(&phrase![mm(9.525).fit()]), ["3/8 in", "9.53 mm"]);
}

#[test]
fn what_falls_short_by_a_hair_does_not_read_as_enough() {
    // 19.9 and 20 mm are both 13/16 in to a sixteenth, and 25/32 in to a sixty-fourth
    let told =
        |have: f64, want: f64| phrase![mm(have).beside(want / 1e3), " of ", mm(want).beside(have / 1e3)];
    assert_eq!(both(&told(19.9, 20.0)), ["0.783 in of 0.787 in", "19.9 mm of 20 mm"]);
    assert_eq!(both(&told(344.6, 345.0)), ["13-9/16 in of 13-19/32 in", "344.6 mm of 345 mm"]);
    assert_eq!(both(&told(20.0, 20.0)), ["13/16 in of 13/16 in", "20 mm of 20 mm"]);
}

#[test]
fn each_unit_has_its_own_system() {
    let psi = 6_894.757_293;
    let differ = [
        (phrase![Number::new(4.0 * psi, Pressure).to(7.0 * psi)], ["4 to 7 psi", "27.6 to 48.3 kPa"]),
        (phrase![Number::new(998.0, Mass)], ["2200 lb", "998 kg"]),
        (phrase![Number::new(82.0, Temperature)], ["180 °F", "82 °C"]),
        // a difference of 5 K is one of 9 °F (NIST SP 811)
        (phrase![Number::new(5.0, Temperature).difference()], ["9 °F", "5 K"]),
        (phrase![Number::new(0.62, Ratio).percent()], ["62 %", "62 %"]),
        // ASTM B258: 6 AWG is 13.3 mm2
        (phrase![Number::new(13e-6, Dimension::Area)], ["6 AWG (13 mm2)", "13 mm2"]),
        (phrase![Number::new(26e3, Dimension::Stiffness)], ["148 lbf/in", "26 N/mm"]),
    ];
    for (phrase, told) in differ {
        assert_eq!(both(&phrase), told);
    }
}

#[test]
fn what_is_written_stays_as_it_is_written_in_its_own_system() {
    let value = |text: &str| Value::read_text(text, Kind::Dimension(Length)).unwrap();
    let told = |text: &str| both(&phrase![&value(text)]);
    assert_eq!(told("60 mm"), ["2-3/8 in", "60 mm"]);
    assert_eq!(told("2-5/16 in"), ["2-5/16 in", "58.7 mm"]);
    assert_eq!(told("96 to 134 mm"), ["3-3/4 to 5-1/4 in", "96 to 134 mm"]);
    assert_eq!(told("unknown: tape, to 5 mm"), ["not known", "not known"]);
    let (a, b) = (value("60 mm"), value("60.4 mm"));
    let beside = |a: &Value, b: &Value| {
        let (value, beside) = (a.clone(), Some(b.clone()));
        both(&Phrase(vec![Piece::Value { value, grain: super::Grain::Tape, beside }]))
    };
    assert_ne!(beside(&a, &b)[0], beside(&b, &a)[0]);
}

#[test]
fn a_quantity_of_the_library_stands_in_braces() {
    let told = Phrase::read("the posts come within {25 mm} of the floor, at {12 V}");
    assert_eq!(
        both(&told),
        [
            "the posts come within 1 in of the floor, at 12 V",
            "the posts come within 25 mm of the floor, at 12 V"
        ]
    );
    assert_eq!(told.told(Measure::Inch).len(), 2);
    for odd in ["{", "}", "{}", "a {b} c", "{25 mm", "25 mm}", "", "{{25 mm}}"] {
        assert_eq!(Phrase::read(odd).say(Measure::Metric), odd);
    }
}

proptest! {
    /// Of two lengths that differ the shorter never reads as long as the other, in either system.
    #[test]
    fn two_that_differ_do_not_read_alike(a in 0.001_f64..4_000.0, by in 0.02_f64..50.0) {
        let b = a + by;
        for measure in [Measure::Inch, Measure::Metric] {
            let short = phrase![mm(a).beside(b / 1e3)].say(measure);
            let long = phrase![mm(b).beside(a / 1e3)].say(measure);
            prop_assert_ne!(&short, &long);
            // and each is near what it says
            let read = |text: &str| crate::quantity::Quantity::parse(text).map(|q| q.si * 1e3).unwrap();
            let near = |text: &str, x: f64| (read(text) - x).abs() <= 0.8_f64.max(x * 2e-2);
            prop_assert!(near(&short, a) && near(&long, b), "{} {} of {} {}", short, long, a, b);
            prop_assert!(read(&short) < read(&long), "{} {}", short, long);
        }
    }
}

/// What parts take of a room, in millimetres, in words.
fn room(parts: &[f64], given: f64) -> [String; 2] {
    let taken: f64 = parts.iter().sum();
    let number = |x: f64| mm(x).difference();
    let value = |x: &f64| Value::read_text(&format!("{x} mm"), Kind::Dimension(Length)).unwrap();
    let fact = Fact::Pool {
        pool: "room".to_owned(),
        given: number(given).beside(taken / 1e3),
        taken: number(taken).beside(given / 1e3),
        parts: parts.iter().map(|x| ("Box".to_owned(), value(x))).collect(),
        left: number(given - taken),
        margin: number(0.0),
        why: String::new(),
    };
    [Measure::Inch, Measure::Metric].map(|measure| crate::explain::sentence(&fact, measure))
}

/// To sixteenths 13/16 in and 1-1/2 in would be 2-3/8 in: they are told finer.
#[test]
fn what_adds_up_adds_up_as_it_reads() {
    let [inch, metric] = room(&[10.6, 10.6], 60.0);
    assert_eq!(metric, "room: Box (10.6 mm), Box (10.6 mm) take 21.2 mm of 60 mm, which leaves 38.8 mm");
    assert_eq!(
        inch,
        "room: Box (27/64 in), Box (27/64 in) take 27/32 in of 2-3/8 in, which leaves 1-17/32 in"
    );
    let [inch, _] = room(&[12.7, 25.4], 76.2);
    assert_eq!(inch, "room: Box (1/2 in), Box (1 in) take 1-1/2 in of 3 in, which leaves 1-1/2 in");
}

proptest! {
    /// All that is told of a room adds up as it reads, or is told to the last step.
    #[test]
    fn sums_add_up_as_they_read(parts in prop::collection::vec(1_u32..4_000, 2..6), more in -300_i32..3_000) {
        let parts: Vec<f64> = parts.iter().map(|x| f64::from(*x) / 10.0).collect();
        let taken: f64 = parts.iter().sum();
        let given = ((taken * 10.0).round() + f64::from(more)).max(0.0) / 10.0;
        for told in room(&parts, given) {
            let read: Vec<f64> = told
                .split(['(', ')', ','])
                .flat_map(|piece| piece.split(" take ").collect::<Vec<_>>())
                .flat_map(|piece| piece.split(" of ").collect::<Vec<_>>())
                .filter_map(|piece| Quantity::parse(piece.trim().trim_start_matches("which leaves ").trim_end_matches(" more than there is")).ok())
                .map(|q| q.si)
                .collect();
            let n = parts.len();
            prop_assert!(read.len() == n + 3, "{} {:?}", told, read);
            let (taken, room, rest) = (read[n], read[n + 1], read[n + 2]);
            let rest = if told.contains(" more than there is") { -rest } else { rest };
            let is_right = |a: f64, b: f64| (a - b).abs() < 1e-6;
            // thousandths, where nothing coarser adds up
            let is_finest = told.split(' ').any(|word| word.split_once('.').is_some_and(|(_, d)| d.trim_matches(')').len() >= 3));
            prop_assert!(
                is_finest || is_right(read[..n].iter().sum(), taken) && is_right(taken + rest, room),
                "{}", told
            );
        }
    }
}

/// 300 mm are 11-13/16 in, which nobody says of the clips of a pipe; a gauge of 130 mm is told as it is.
#[test]
fn round_millimetres_in_a_sentence_are_told_in_round_inches() {
    let told = |text: &str| both(&Phrase::read(text));
    assert_eq!(told("a clip every {300 mm}"), ["a clip every 12 in", "a clip every 300 mm"]);
    assert_eq!(told("{500 mm} clear"), ["20 in clear", "500 mm clear"]);
    assert_eq!(told("{130 mm} apart"), ["5-1/8 in apart", "130 mm apart"]);
    assert_eq!(told("{25 mm} apart"), ["1 in apart", "25 mm apart"]);
    // 10 mm are 0.394 in, and no mark of a tape may be coarser
    let how = |text: &str| both(&Phrase::how(text));
    assert_eq!(how("straight edge, to 10 mm"), ["straight edge, to 3/8 in", "straight edge, to 10 mm"]);
    assert_eq!(how("calliper, to 0.1 mm"), ["calliper, to 0.004 in", "calliper, to 0.1 mm"]);
}
