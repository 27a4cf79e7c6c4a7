//! `knockon figure`: what it prints, and how it ends.

use serde_json::Value;

fn prints(arguments: &[&str]) -> String {
    super::prints(&[&["figure"], arguments].concat())
}

fn refused(code: i32, arguments: &[&str]) -> String {
    super::refused(code, &[&["figure"], arguments].concat())
}

/// A number of the results, SI.
fn number(arguments: &[&str], name: &str) -> f64 {
    let mut all = arguments.to_vec();
    all.push("--json");
    let json: Value = serde_json::from_str(&prints(&all)).unwrap();
    let results = json["results"].as_array().unwrap();
    let found = results.iter().find(|r| r["name"] == name).unwrap_or_else(|| panic!("{name} in {json:#}"));
    found["value"].as_f64().unwrap()
}

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance * expected.abs(), "{found} against {expected}");
}

#[test]
fn published_values() {
    // ISO 2306 for a thread of ISO 68-1: M10x1.5 is drilled 8.5 mm
    near(number(&["tap-drill", "thread=M10x1.5"], "drill"), 8.5e-3, 1e-12);
    // DIN 13-1: the nut of M10x1.5 is 8.376 mm inside, the bolt has a pitch diameter of 9.026 mm
    near(number(&["thread-size", "thread=M10x1.5"], "minor diameter of the nut"), 8.376e-3, 1e-4);
    near(number(&["thread-size", "thread=M10x1.5"], "pitch diameter"), 9.026e-3, 1e-4);
    // ASTM B258: 10 AWG is 0.1019 in thick
    near(number(&["awg", "gauge=10"], "diameter"), 0.1019 * 0.0254, 3e-4);
    // NIST SP 811: 1 in = 25.4 mm, so a 31 in tyre is 787.4 mm
    near(number(&["tyre", "code=31x10.50R15LT"], "diameter"), 0.7874, 1e-12);
    // size code of ISO 4000-1: 235/75R15 is 733.5 mm
    near(number(&["tyre", "code=P235/75R15"], "diameter"), 0.7335, 1e-12);
    // ISO 4000-1: load index 91 is 615 kg
    near(number(&["load-index", "index=91"], "load of one tyre"), 615.0, 1e-12);
    // IAPWS-IF97: 99.974 C at one standard atmosphere (NIST SP 811: 101,325 Pa)
    near(number(&["water-boiling", "pressure=101325 Pa"], "boils at"), 99.974, 1e-5);
    // US Standard Atmosphere 1976: 1.225 kg/m3 at sea level
    near(number(&["air", "altitude=0 m"], "density"), 1.225, 1e-4);
    // ISO 898-1: proof load of M8 in 8.8 is 21,200 N
    near(number(&["bolt-torque", "thread=M8", "grade=8.8"], "proof load"), 21_200.0, 5e-3);
    // 49 CFR 571.135 S7.5.3(b): 70 m from 100 km/h
    near(number(&["stopping-distance", "speed=100 km/h"], "a modern car may take, without it"), 70.0, 1e-12);
    // NIST SP 811: 1 lbf·ft = 1.355 818 N·m and 1 hp = 745.699 9 W; 5,252.113 rpm makes them equal
    near(number(&["power", "torque=1 lbf·ft", "rpm=5252.113 rpm"], "power"), 745.6999, 1e-6);
}

#[test]
fn value_unit_formula_and_source_are_printed() {
    let told = prints(&["tyre", "code=31x10.50R15LT"]);
    for part in ["787.4 mm  (31 in)", "rev/mile", "Formula: ", "Source: ISO 4000-1"] {
        assert!(told.contains(part), "{part} in {told}");
    }
    // where one unit is plain, a bare number is taken with it, and shown so
    let drop = prints(&["wire-drop", "current=20", "length=3,5 m", "area=1/0 AWG"]);
    assert!(drop.contains("20 A\n") && drop.contains("3.5 m\n"), "{drop}");
    // a default is told as one
    assert!(prints(&["tap-drill", "thread=M10x1.5"]).contains("by the table  (not given)"));
}

#[test]
fn the_list_names_every_group_and_figure() {
    let list = prints(&[]);
    for part in ["Charging and wiring", "  tap-drill ", "  chassis-number ", "Fluids"] {
        assert!(list.contains(part), "{part} in {list}");
    }
    let json: Value = serde_json::from_str(&prints(&["--json"])).unwrap();
    assert!(json.as_array().unwrap().len() >= 40);
    let takes = prints(&["wire-drop"]);
    assert!(
        takes.contains("must be given") && takes.contains("For example: knockon figure wire-drop current=")
    );
}

#[test]
fn wrong_input_ends_with_1_and_an_example() {
    for (arguments, part) in [
        (&["tap-dril", "thread=M10"][..], "did you mean \"tap-drill\"?"),
        (
            &["wire-drop", "current=20 A"],
            "length is missing; wanted: from end to end of the run, for example length=\"3 m\"",
        ),
        (
            &["wire-drop", "current=20", "length=3", "area=14 AWG"],
            "\"3\" has no unit: is it \"3 mm\" or \"3 in\"?",
        ),
        (
            &["wire-drop", "current=20 A", "length=3 m", "area=14 AWG", "lenght=2 m"],
            "did you mean \"length\"?",
        ),
        (&["water-boiling", "pressure=500 bar"], "found 500 bar, expected 10 to 1000 kPa"),
        (&["freeze-point", "glycol=50"], "is it 50 %?"),
        (&["load-index", "index=300"], "found 300, expected 50 to 150"),
        (&["tyre", "code=nonsense"], "for example code=31x10.50R15LT"),
        (&["tyre", "code=31x10.50R15LT", "code=165R15"], "given twice"),
    ] {
        let said = refused(1, arguments);
        assert!(said.contains(part), "{arguments:?}: {said}");
    }
}

#[test]
fn words_find_what_is_meant() {
    // several hits are listed, each with what it takes
    let hits = prints(&["BIGGER", "tires", "speedometer"]);
    assert!(hits.starts_with("Speedometer after a tyre change: "), "{hits}");
    assert!(
        hits.contains("knockon figure speedometer-error old=6.70-15 new=235/75R15 [shown] [before]"),
        "{hits}"
    );
    let json: Value = serde_json::from_str(&prints(&["tap", "drill", "3/8-16", "--json"])).unwrap();
    assert_eq!(json[0]["figure"], "tap-drill");
    // what is written as its name is it
    assert!(prints(&["Tap drill", "thread=1/4-20 UNC"]).contains("drill by name"));
    near(number(&["tap", "drill", "thread=1/4-20 UNC"], "drill"), 5.105e-3, 1e-12);
    assert!(refused(1, &["xyzzy"]).contains("no figure answers \"xyzzy\""));
    assert!(refused(1, &[&"x".repeat(10_000)]).len() < 300);
    assert!(refused(1, &["code=165R15"]).contains("but not to which figure"));
}

#[test]
fn what_is_no_command_ends_with_2() {
    refused(2, &["tap-drill", "thread=M10", "--xml"]);
}
