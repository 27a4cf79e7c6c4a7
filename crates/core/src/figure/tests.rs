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
    outputs.iter().filter_map(|o| o.number().map(|x| (o.name, x))).collect()
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
                    !output.shown().is_empty() && !output.shown().contains("NaN"),
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
        let read_outs = figure.run(&figure.examples()).unwrap().into_iter().map(|o| o.shown());
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
fn every_figure_comes_to_what_others_say() {
    let mut wrong = Vec::new();
    for figure in all() {
        assert!(!figure.cases.is_empty(), "{} has no value from outside", figure.id);
        for case in figure.cases {
            let (inputs, rest) = case.split_once(" -> ").unwrap_or_else(|| panic!("{case}"));
            let (said, source) = rest.split_once("; ").unwrap_or_else(|| panic!("{case}"));
            let (result, is) = said.split_once(": ").unwrap_or_else(|| panic!("{case}"));
            assert!(!source.contains("memory"), "{}: {case}", figure.id);
            let given: BTreeMap<String, String> = split(inputs)
                .iter()
                .filter_map(|pair| pair.split_once('='))
                .map(|(name, text)| (name.to_owned(), text.to_owned()))
                .collect();
            let outputs = figure.run(&given).unwrap_or_else(|e| panic!("{case}: {e}"));
            let found = outputs.iter().find(|o| o.name == result);
            let found = found.unwrap_or_else(|| panic!("{}: {case}: {outputs:?}", figure.id));
            let right = match found.number() {
                Some(number) => agrees(number, is, found),
                None => found.shown().contains(is),
            };
            if !right {
                wrong.push(format!("{}: {case}: {} {:?}", figure.id, found.shown(), found.number()));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Whether a number is what a case says, as far as the digits of that go: in any unit a person types, else in that of the
/// result.
fn agrees(number: f64, text: &str, found: &Output) -> bool {
    let si = |text: &str| match crate::quantity::Quantity::parse(text) {
        Ok(quantity) => quantity.si,
        Err(_) => {
            let (number, unit) = text.split_once(' ').unwrap();
            assert!(found.shown().ends_with(unit), "{text}: {found:?}");
            number.parse::<f64>().unwrap() * found.in_unit().factor
        }
    };
    let end = text.find(|c: char| !(c.is_ascii_digit() || ".-".contains(c))).unwrap_or(text.len());
    let (digits, unit) = text.split_at(end);
    let decimals = digits.split_once('.').map_or(0, |(_, behind)| behind.len());
    let last = 10_f64.powi(-i32::try_from(decimals).unwrap());
    let value: f64 = digits.parse().unwrap();
    let half = (si(&format!("{:.*}{unit}", decimals + 1, value + last / 2.0)) - si(text)).abs();
    (number - si(text)).abs() <= half * (1.0 + 1e-6)
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
    assert!(told[0].shown().contains("before model year 1981"), "{told:?}");
    // 1M8GDM9AXKP042788: the worked example of the check digit, from memory; its digit is X
    let new = BTreeMap::from([("number".to_owned(), "1M8GDM9AXKP042788".to_owned())]);
    assert_eq!(find("chassis-number").unwrap().run(&new).unwrap()[0].shown(), "the check digit agrees");
}

#[test]
fn what_is_shown_reads_again_in_both_systems() {
    use crate::quantity::Quantity;
    use crate::showing::{Measure, show};
    for figure in all() {
        for output in figure.run(&figure.examples()).unwrap() {
            let Some(si) = output.number() else { continue };
            // no unit a person types: differences of temperature, frequencies, densities
            let Ok(quantity) = Quantity::parse(&output.shown()) else {
                let own = [" K", " Hz", " kg/m3", " mohm/m", " m/s2"];
                assert!(own.iter().any(|u| output.shown().ends_with(u)), "{}: {output:?}", figure.id);
                continue;
            };
            let near = 6e-4 * si.abs() + 1e-9;
            assert!((quantity.si - si).abs() <= near, "{}: {output:?} against {}", figure.id, quantity.si);
            let inch = show(&output.shown(), Measure::Inch);
            assert!(Quantity::parse(&inch).is_ok(), "{}: {inch}", figure.id);
        }
    }
}

#[test]
fn a_result_rises_or_falls_as_its_entry_says() {
    let mut seen = 0;
    for (figure, moves) in all().iter().flat_map(|f| f.moves.iter().map(move |m| (f, m))) {
        let (name, rest) = moves.split_once(" -> ").unwrap();
        let (result, way) = rest.split_once(": ").unwrap();
        let input = figure.input(name).unwrap();
        let Takes::One(dimension) = input.takes else { panic!("{}: {moves}", figure.id) };
        let stands = crate::quantity::Quantity::typed(input.example, dimension).unwrap().si;
        let symbol = *units(input.takes).first().unwrap();
        let size = crate::showing::to_si(1.0, symbol);
        let at = |share: f64| {
            let mut inputs = needed(figure);
            // a temperature has a zero of its own, and none of these moves one
            inputs
                .insert(name.to_owned(), format!("{:.9} {symbol}", stands * share / size).trim().to_owned());
            let outputs = figure.run(&inputs).unwrap_or_else(|e| panic!("{}: {moves}: {e}", figure.id));
            let found = numbers(&outputs).into_iter().find(|(n, _)| *n == result);
            found.unwrap_or_else(|| panic!("{}: {moves}: {outputs:?}", figure.id)).1
        };
        let steps: Vec<f64> = [0.98, 0.99, 1.0, 1.01, 1.02].into_iter().map(at).collect();
        let right = |w: &[f64]| if way == "rises" { w[1] > w[0] } else { w[1] < w[0] };
        assert!(
            matches!(way, "rises" | "falls") && steps.windows(2).all(right),
            "{}: {moves}: {steps:?}",
            figure.id
        );
        seen += 1;
    }
    assert!(seen > 60, "{seen}");
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
