//! Tests of the list of figures: each runs on its own examples, and no nonsense gets through.

use super::*;

/// Whether a text that looks like nonsense is an answer here.
fn means_something(figure: &Figure, input: &Input, text: &str) -> bool {
    match (figure.id, input.name) {
        // every text is a chassis number, if only a maker's own
        ("chassis-number", "number") => !text.is_empty(),
        // X is 1999
        ("model-year", _) => text == "x",
        _ => input.signed && matches!(text, "-1 mm" | "-1"),
    }
}

fn numbers(outputs: &[Output]) -> Vec<(&'static str, f64)> {
    let number = |o: &Output| match o.value {
        Amount::Number(x) => Some((o.name, x)),
        Amount::Text(_) => None,
    };
    outputs.iter().filter_map(number).collect()
}

fn needed(figure: &Figure) -> BTreeMap<String, String> {
    let given = figure.inputs.iter().filter(|i| i.default.is_none());
    given.map(|i| (i.name.to_owned(), i.example.to_owned())).collect()
}

#[test]
fn every_figure_runs_on_its_examples_and_on_its_defaults() {
    assert!(all().len() >= 40, "{}", all().len());
    for figure in all() {
        for inputs in [figure.examples(), needed(figure)] {
            let outputs = figure.run(&inputs).unwrap_or_else(|e| panic!("{e}"));
            assert!(!outputs.is_empty(), "{}", figure.id);
            assert!(numbers(&outputs).iter().all(|(_, x)| x.is_finite()), "{}: {outputs:?}", figure.id);
            for output in &outputs {
                assert!(
                    !output.shown.is_empty() && !output.shown.contains("NaN"),
                    "{}: {output:?}",
                    figure.id
                );
            }
        }
    }
}

#[test]
fn every_group_has_figures_and_every_id_is_one_of_a_kind() {
    for group in Group::ALL {
        assert!(all().iter().any(|f| f.group == group), "{}", group.name());
    }
    let mut ids: Vec<&str> = all().iter().map(|f| f.id).collect();
    ids.sort_unstable();
    assert!(ids.windows(2).all(|w| w[0] != w[1]), "{ids:?}");
    for figure in all() {
        for text in [figure.id].into_iter().chain(figure.inputs.iter().map(|i| i.name)) {
            assert!(text.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{}: {text}", figure.id);
        }
        let mut names: Vec<&str> = figure.inputs.iter().map(|i| i.name).collect();
        names.sort_unstable();
        assert!(names.windows(2).all(|w| w[0] != w[1]), "{}: {names:?}", figure.id);
        for text in [figure.name, figure.meaning, figure.formula, figure.source] {
            assert!(
                !text.is_empty() && !text.contains("  ") && !text.ends_with('.'),
                "{}: {text}",
                figure.id
            );
        }
    }
}

#[test]
fn an_angle_reads_3_degrees_with_the_sign() {
    for figure in all() {
        let read_outs = figure.run(&figure.examples()).unwrap().into_iter().map(|o| o.shown);
        let defaults = figure.inputs.iter().filter_map(|i| i.default.map(str::to_owned));
        let prose = [figure.formula, figure.source].map(str::to_owned);
        for text in read_outs.chain(defaults).chain(prose) {
            assert!(!text.contains(" deg"), "{}: {text}", figure.id);
        }
    }
    let typed = |lean: &str| {
        let given = BTreeMap::from([("lean".to_owned(), lean.to_owned())]);
        numbers(&find("damper-lean").unwrap().run(&given).unwrap())
    };
    assert_eq!(typed("30°"), typed("30 deg"));
}

#[test]
fn a_choice_is_told_as_a_list() {
    assert_eq!(Takes::Choice(&["small", "medium", "large"]).words(), "small, medium or large");
    assert_eq!(Takes::Choice(&["small", "large"]).words(), "small or large");
}

#[test]
fn nonsense_in_any_input_is_refused_with_an_example() {
    for figure in all() {
        for input in figure.inputs {
            for nonsense in
                ["", "nan mm", "-1 mm", "1e300 mm", "x", "999999999999999999999 m", "-1", "0/0", "±"]
            {
                let mut inputs = figure.examples();
                inputs.insert(input.name.to_owned(), nonsense.to_owned());
                let answer = figure.run(&inputs);
                match answer {
                    Ok(outputs) => {
                        assert!(
                            means_something(figure, input, nonsense),
                            "{}: {}=\"{nonsense}\" gave {outputs:?}",
                            figure.id,
                            input.name
                        );
                    }
                    Err(e) => {
                        let text = e.to_string();
                        assert!(text.contains("for example "), "{text}");
                        assert!(text.contains(figure.id), "{text}");
                    }
                }
            }
        }
    }
}

#[test]
fn what_is_missing_or_unknown_is_named() {
    let tyre = find("tyre").unwrap();
    let missing = tyre.run(&BTreeMap::new()).unwrap_err().to_string();
    assert!(missing.contains("code is missing") && missing.contains("31x10.50R15LT"), "{missing}");
    let one = |name: &str, text: &str| BTreeMap::from([(name.to_owned(), text.to_owned())]);
    let unknown = tyre.run(&one("cod", "31x10.50R15LT")).unwrap_err().to_string();
    assert!(unknown.contains("did you mean \"code\"") && unknown.contains("31x10.50R15LT"), "{unknown}");
    let bare = find("water-boiling").unwrap().run(&one("pressure", "101")).unwrap_err().to_string();
    assert!(bare.contains("is it \"101 psi\" or \"101 kPa\"?") && bare.contains("101.325 kPa"), "{bare}");
    let wide = find("water-boiling").unwrap().run(&one("pressure", "14 psi ±1")).unwrap_err().to_string();
    assert!(wide.contains("without a tolerance"), "{wide}");
    let far = find("water-boiling").unwrap().run(&one("pressure", "500 bar")).unwrap_err().to_string();
    assert!(far.contains("found 500 bar, expected 10 to 1000 kPa"), "{far}");
    assert_eq!(named("tap-dril").unwrap_err().nearest, Some("tap-drill"));
    assert!(named("tyres").unwrap_err().to_string().contains("did you mean \"tyre\""));
}

#[test]
fn published_values_come_out() {
    // one line each: figure, inputs, name of the result, value in SI, relative tolerance; the source beside it
    let cases = [
        // ISO 2306: tap drill of M10x1.5 is 8.5 mm
        ("tap-drill", "thread=M10x1.5", "drill", 8.5e-3, 1e-12),
        // Machinery's Handbook: 3/8-16 with a 5/16 in drill has 77 % of thread
        ("tap-drill", "thread=3/8-16", "depth of thread", 0.77, 1e-3),
        // ASTM B258: 10 AWG is 2.588 mm, 5.261 mm2
        ("awg", "gauge=10", "diameter", 2.588e-3, 2e-4),
        ("awg", "gauge=10", "copper area", 5.261e-6, 2e-4),
        // ASTM B258: 4/0 is 0.4600 in
        ("awg", "gauge=4/0", "diameter", 0.46 * 0.0254, 1e-4),
        // IAPWS-IF97: water boils at 99.974 C at 101.325 kPa
        ("water-boiling", "pressure=101.325 kPa", "boils at", 99.974, 1e-5),
        // US Standard Atmosphere 1976, table: 1.0581 kg/m3 at 1,500 m
        ("air", "altitude=1500 m", "density", 1.0581, 1e-4),
        // ISO 898-1: stress area of M10 is 58.0 mm2; proof load of 8.8 is 33,700 N
        ("thread-size", "thread=M10x1.5", "stress area", 58.0e-6, 1e-3),
        ("bolt-torque", "thread=M10x1.5 grade=8.8", "proof load", 33_700.0, 5e-3),
        // 49 CFR 571.135 S7.5.3(b): 70 m from 100 km/h
        ("stopping-distance", "speed=100 km/h", "a modern car may take, without it", 70.0, 1e-12),
        // SAE formula CID rpm VE / 3456: 350 in3 at 3,456 rpm and 100 % is 350 cfm (1 cfm = 4.719 474e-4 m3/s, NIST SP 811)
        (
            "carburettor-size",
            "displacement=350 in3 rpm=3456 rpm filling=100%",
            "air",
            350.0 * 4.719_474e-4,
            1e-6,
        ),
        // NIST SP 811: 1 hp (550 ft lbf/s) = 745.699 9 W; power = T n / 5,252.1
        ("power", "torque=100 lbf·ft rpm=5252.113 rpm", "power", 74_569.99, 1e-6),
        // definition of the size code, T&RA: 31 in
        ("tyre", "code=31x10.50R15LT", "diameter", 31.0 * 0.0254, 1e-12),
        // ISO 4000-1: load index 105 is 925 kg
        ("load-index", "index=105", "load of one tyre", 925.0, 1e-12),
        // ISO 273: medium hole for M10 is 11 mm
        ("clearance-hole", "diameter=10 mm", "hole", 11e-3, 1e-12),
        // by a general-purpose library: 60 mph in direct gear with 3.73 on a hard wheel of 28.877 952 8 in is 2,605 rpm;
        // 63,360 / (pi x 28.877 952 8) is 698.391 418 turns a mile
        (
            "axle-ratio-wanted",
            "engine=2604.99999 rpm speed=60 mph tyre-revs=698.391418 rev/mile",
            "axle ratio",
            3.73,
            1e-6,
        ),
        // chord of five studs, common practice: 4.5 in circle has 2.645 in between neighbours
        ("bolt-circle", "studs=5 spacing=2.645 in", "bolt circle", 4.5 * 0.0254, 2e-4),
        // ASHRAE: half and half freezes near -37 C
        ("freeze-point", "glycol=50 %", "first ice", -37.0, 0.03),
    ];
    for (id, inputs, name, expected, tolerance) in cases {
        let mut given = BTreeMap::new();
        for pair in split(inputs) {
            let (name, text) = pair.split_once('=').unwrap();
            given.insert(name.to_owned(), text.to_owned());
        }
        let outputs = find(id).unwrap().run(&given).unwrap();
        let found = numbers(&outputs).into_iter().find(|(n, _)| *n == name).unwrap().1;
        assert!((found - expected).abs() <= tolerance * expected.abs(), "{id} {inputs}: {name} {found}");
    }
}

/// "a=1 mm b=2" into "a=1 mm" and "b=2".
fn split(inputs: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for word in inputs.split(' ') {
        match out.last_mut() {
            Some(last) if !word.contains('=') => *last = format!("{last} {word}"),
            _ => out.push(word.to_owned()),
        }
    }
    out
}

#[test]
fn a_chassis_number_before_the_rule_is_told_in_plain_words() {
    let old = BTreeMap::from([
        ("number".to_owned(), "3A58K1234".to_owned()),
        ("year".to_owned(), "1958".to_owned()),
    ]);
    let told = find("chassis-number").unwrap().run(&old).unwrap();
    assert!(told[0].shown.contains("before model year 1981"), "{told:?}");
    // 1M8GDM9AXKP042788: the worked example of the check digit, from memory; its digit is X
    let new = BTreeMap::from([("number".to_owned(), "1M8GDM9AXKP042788".to_owned())]);
    assert_eq!(find("chassis-number").unwrap().run(&new).unwrap()[0].shown, "the check digit agrees");
}

#[test]
fn what_is_shown_reads_again_in_both_systems() {
    use crate::quantity::Quantity;
    use crate::showing::{Measure, show};
    for figure in all() {
        for output in figure.run(&figure.examples()).unwrap() {
            let Amount::Number(si) = output.value else { continue };
            // no unit a person types: differences of temperature, frequencies, densities
            let Ok(quantity) = Quantity::parse(&output.shown) else {
                let own = [" K", " Hz", " kg/m3", " mohm/m", " m/s", " m/s2"];
                assert!(own.iter().any(|u| output.shown.ends_with(u)), "{}: {output:?}", figure.id);
                continue;
            };
            let near = 6e-4 * si.abs() + 1e-9;
            assert!((quantity.si - si).abs() <= near, "{}: {output:?} against {}", figure.id, quantity.si);
            let inch = show(&output.shown, Measure::Inch);
            assert!(Quantity::parse(&inch).is_ok(), "{}: {inch}", figure.id);
        }
    }
}

/// Some units of what an input takes; none for words.
fn units(takes: Takes) -> Vec<&'static str> {
    use crate::units::{Dimension, table};
    match takes {
        Takes::Whole | Takes::One(Dimension::Ratio) => vec!["", "%"],
        Takes::One(Dimension::Temperature) => vec!["°C", "°F"],
        Takes::One(dimension) => {
            table().iter().filter(|u| u.dimension == dimension).map(|u| u.symbol).take(3).collect()
        }
        _ => Vec::new(),
    }
}

#[test]
fn sizes_far_outside_end_in_an_error_or_a_finite_number() {
    let sizes = [
        "0",
        "0.000000001",
        "0.001",
        "0.5",
        "3",
        "77",
        "1000",
        "123456",
        "1000000000",
        "1000000000000000000",
    ];
    let mut runs = 0;
    for figure in all() {
        // one input at a time, and all inputs of that dimension together
        for together in [false, true] {
            for input in figure.inputs {
                for unit in units(input.takes) {
                    for size in sizes.iter().flat_map(|s| [(*s).to_owned(), format!("-{s}")]) {
                        let text = format!("{size} {unit}");
                        let mut inputs = figure.examples();
                        inputs.insert(input.name.to_owned(), text.clone());
                        for other in figure.inputs.iter().filter(|i| together && i.takes == input.takes) {
                            inputs.insert(other.name.to_owned(), text.clone());
                        }
                        runs += 1;
                        match figure.run(&inputs) {
                            Ok(out) => assert!(
                                numbers(&out).iter().all(|(_, x)| x.is_finite()),
                                "{} {text}: {out:?}",
                                figure.id
                            ),
                            Err(e) => assert!(e.to_string().contains("for example "), "{e}"),
                        }
                    }
                }
            }
        }
    }
    assert!(runs > 10_000, "{runs}");
}
