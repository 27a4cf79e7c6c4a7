//! Tests of thread names as people write them.

use proptest::prelude::*;

use super::*;
use crate::testing::close;

fn name(text: &str) -> String {
    read(text).map(|n| n.name).unwrap_or_else(|e| e.to_string())
}

#[test]
fn a_series_behind_the_pitch_changes_nothing() {
    for (ways, plain) in [
        (
            &[
                "1/4-20",
                "1/4-20 UNC",
                "1/4-20UNC",
                "1/4 UNC",
                "1/4\" UNC",
                "1/4 in-20",
                "1/4-20 unc-2A",
                "1/4 x 20",
            ][..],
            "1/4-20",
        ),
        (&["3/8-24 UNF", "3/8 UNF", "3/8–24", "3/8 24", "3/8-24 LH", "3/8-24NF"], "3/8-24"),
        (&["10-32", "#10-32", "No. 10-32", "no 10-32", "10-32 UNF", "#10 UNF"], "#10-32"),
        (&["M10", "m10", "M10x1.5", "M10 × 1.5", "M10-1.5", "M10x1.5-6g", "M10 6g"], "M10x1.5"),
        (&["1/4 BSF", "1/4-26 bsf", "1/4-26BSF"], "1/4-26 BSF"),
        (&["3/8 BSW", "3/8-16 Whitworth", "3/8 Whit"], "3/8-16 BSW"),
        (&["2BA", "2 BA", "BA 2", "No. 2 BA", "2ba"], "2BA"),
        (&["1-1/4-12", "1 1/4-12", "1-1/4 UNF", "1-1/4-12 UNF"], "1-1/4-12"),
        (&["1-8", "1-8 UNC", "1\" UNC"], "1-8"),
        (&["3/8-32 UNEF", "3/8 UNEF", "3/8-32"], "3/8-32"),
    ] {
        for way in ways {
            assert_eq!(name(way), plain, "{way}");
        }
    }
}

#[test]
fn geometry_by_the_standards() {
    // ASME B1.1: #10 is 0.190 in, #6 0.138 in; BS 93: 2BA is 4.7 mm with a pitch of 0.81 mm, 0BA 6 mm and 1 mm
    for (text, mm, pitch) in [
        ("10-32", 4.826, 25.4 / 32.0),
        ("6-32 UNC", 3.505_2, 25.4 / 32.0),
        ("2BA", 4.7, 0.81),
        ("0BA", 6.0, 1.0),
        ("1/4 UNC", 6.35, 1.27),
    ] {
        let thread = read(text).unwrap().thread;
        close(Ok(thread.diameter().get::<millimeter>()), mm, 1e-9);
        close(Ok(thread.pitch().get::<millimeter>()), pitch, 1e-9);
    }
    // BS 93: effective diameter of 2BA 4.215 mm, core 3.73 mm (rounded)
    let two = read("2BA").unwrap().thread;
    close(Ok(two.pitch_diameter().get::<millimeter>()), 4.215, 1e-3);
    close(Ok(two.core_diameter().get::<millimeter>()), 3.73, 2e-3);
    // BS 93 by its rule: pitch 0.9^n mm, diameter 6 pitch^1.2, to a tenth and a hundredth of a millimetre
    for n in 0..=8 {
        let row = THREADS.iter().find(|p| p.name == format!("{n}BA")).unwrap();
        let pitch = 0.9_f64.powi(n);
        assert!(
            (row.pitch - pitch).abs() <= 0.006 && (row.diameter - 6.0 * pitch.powf(1.2)).abs() <= 0.06,
            "{n}"
        );
    }
}

#[test]
fn what_contradicts_itself_or_says_too_little_is_asked_about() {
    assert_eq!(name("1/4-20 UNF"), "UNF has another pitch in this size: 1/4-28 UNF; write one or the other");
    assert_eq!(name("1/4-20 BSF"), "BSF has another pitch in this size: 1/4-26 BSF; write one or the other");
    assert_eq!(
        name("3/8"),
        "its pitch is missing: is it 3/8-16 UNC or 3/8-24 UNF or 3/8-16 BSW or 3/8-20 BSF?"
    );
    assert!(name("1/8-27 NPT").starts_with("NPT is a pipe thread"));
    assert!(name("M11").starts_with("its pitch is missing"));
    for none in
        ["", "M", "x", "NaN", "UNC", "1/0-20", "99-32", "14BA", "-", "1/2/3-20", "é", &"9".repeat(10_000)]
    {
        assert!(read(none).is_err(), "{none}");
    }
}

#[test]
fn every_preferred_thread_reads_as_itself_with_and_without_its_series() {
    for row in &THREADS {
        assert_eq!(read(row.name).unwrap().preferred, Some(row), "{}", row.name);
        if !row.name.ends_with(row.series.name()) && !row.series.is_metric() {
            let behind = format!("{} {}", row.name, row.series.name());
            assert_eq!(read(&behind).unwrap().preferred, Some(row), "{behind}");
        }
    }
}

proptest! {
    #[test]
    fn a_name_reads_as_itself_again(text in "(M?[0-9]{1,2}(/[0-9]{1,2})?([-x][0-9.]{1,4})?( (UNC|UNF|BSW|BSF|BA))?)") {
        if let Ok(named) = read(&text) {
            let again = read(&named.name);
            prop_assert_eq!(again.map(|n| n.name), Ok(named.name));
        }
    }

    #[test]
    fn any_text_is_refused_or_read(text in ".{0,48}") {
        if let Ok(named) = read(&text) {
            prop_assert!(named.thread.diameter().value > 0.0);
        }
    }
}
