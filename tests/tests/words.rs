//! Reasons are sentences, in the units of who reads them: looked at in the example's plans and with every conversion of the
//! pickup chosen by itself.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;
use std::sync::LazyLock;

use knockon_core::phrase::{Phrase, Piece};
use knockon_core::sheet::{Choice, Route};
use knockon_core::showing::Measure;
use knockon_core::value::Value;
use knockon_core::{Assessment, assess, explain};
use knockon_store::{library, sheets};
use knockon_tests::generate::on;

/// The example's plans, and the pickup with one place converted.
static ALL: LazyLock<Vec<Assessment>> = LazyLock::new(|| {
    let library = library::shipped().on(on());
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    let mut out: Vec<Assessment> = sheet.plans.keys().map(|plan| assess(&sheet, plan, &library)).collect();
    sheet.plans.get_mut("sound").expect("the plan").routes.clear();
    for place in assess(&sheet, "sound", &library).positions {
        let class = library.vehicles[&sheet.vehicle].positions.values().find(|p| p.id == place.id);
        for part in &library.by_class[class.expect("the place").class] {
            let mut sheet = sheet.clone();
            let part = Some(library.part_names.id(*part).to_owned());
            let choice = Choice { route: Route::Convert, part };
            sheet.plans.get_mut("sound").expect("the plan").routes.insert(place.id.clone(), choice);
            out.push(assess(&sheet, "sound", &library));
        }
    }
    assert!(out.len() > 300, "{} plans", out.len());
    out
});

/// All that is said: each step, each half line, each remedy, what is to be measured, what is to be done.
fn said(a: &Assessment) -> Vec<Phrase> {
    let steps = a.reasons.iter().map(|r| explain::told(&r.fact));
    let roots = a.clashes.iter().map(|c| c.reason).chain(a.companions.iter().map(|c| c.reason));
    let halves = roots.map(|r| explain::half(a, r));
    let remedies = a.clashes.iter().flat_map(|c| &c.remedies).map(|r| r.text.clone());
    let measured = a.to_measure.iter().flat_map(|m| {
        let how = m.wanted.iter().map(|w| w.how.clone());
        std::iter::once(m.what.clone()).chain(how)
    });
    let guards = a.cautions.iter().map(|c| c.guard.clone());
    steps.chain(halves).chain(remedies).chain(measured).chain(guards).collect()
}

/// Names of parts and words of the library keep the sizes their makers write.
fn without_names(phrase: &Phrase) -> Phrase {
    let word = |value: &Value| matches!(value, Value::Word(_));
    let is_word = |piece: &Piece| match piece {
        Piece::Value { value: Value::OneOf(words), .. } => words.iter().all(word),
        Piece::Value { value, .. } => word(value),
        _ => false,
    };
    let kept = phrase.without_names().0.into_iter();
    Phrase(kept.map(|p| if is_word(&p) { Piece::name("so") } else { p }).collect())
}

/// What nobody who reads this system counts in.
fn foreign(measure: Measure) -> &'static [&'static str] {
    match measure {
        Measure::Inch => &[
            "mm", "cm", "m", "km", "kg", "kPa", "MPa", "bar", "L", "cm2", "cm3", "N", "N·m", "kW", "°C",
            "km/h", "L/h", "L/min", "rev/km", "N/mm",
        ],
        Measure::Metric => &[
            "in", "ft", "miles", "lb", "psi", "in2", "in3", "lbf", "lbf·ft", "hp", "°F", "mph", "cfm",
            "rev/mile", "lbf/in",
        ],
    }
}

/// The units behind numbers in a text.
fn units(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split([' ', '(', ')', ',', ';', ':']).filter(|w| !w.is_empty()).collect();
    let is_number = |w: &str| w.starts_with(|c: char| c.is_ascii_digit()) && !w.contains(char::is_alphabetic);
    words.windows(2).filter(|w| is_number(w[0])).map(|w| w[1].to_owned()).collect()
}

#[test]
fn no_number_is_told_in_the_other_system() {
    let mut wrong = BTreeSet::new();
    for phrase in ALL.iter().flat_map(said) {
        for measure in [Measure::Inch, Measure::Metric] {
            // a wire is told in both: "6 AWG (13 mm2)"
            let text = without_names(&phrase).say(measure);
            if units(&text).iter().any(|unit| foreign(measure).contains(&unit.as_str())) {
                wrong.insert(format!("{}: {text}", measure.word()));
            }
        }
    }
    // rims are told in inches everywhere
    wrong.retain(|text| !text.contains("larger in the rim"));
    assert!(wrong.is_empty(), "{} {wrong:#?}", wrong.len());
}

#[test]
fn nothing_is_said_as_a_machine_says_it() {
    let mut wrong = BTreeSet::new();
    for phrase in ALL.iter().flat_map(said) {
        for measure in [Measure::Inch, Measure::Metric] {
            let text = phrase.say(measure);
            let told = units(&text);
            let doubled = text.split(' ').zip(text.split(' ').skip(1)).any(|(a, b)| {
                a == b && (told.iter().any(|unit| unit == a) || ["the", "is", "a", "and", "of"].contains(&a))
            });
            let of_machines =
                ["(s)", "{", "}", "  ", " ,", ",,", ": :", "NaN", "inf ", "-value", " connection connection"];
            let fault = doubled
                || of_machines.iter().any(|sign| text.contains(sign))
                || text.contains(" has ") && text.contains(" and has ")
                || text.contains("accept ") && text.contains(" and supply ");
            if fault {
                wrong.insert(text);
            }
        }
    }
    assert!(wrong.is_empty(), "{} {wrong:#?}", wrong.len());
}

/// Verbs of the sentences of reasons.
const VERBS: &[&str] = &[
    "is",
    "are",
    "was",
    "were",
    "has",
    "have",
    "does",
    "do",
    "may",
    "can",
    "takes",
    "take",
    "gives",
    "give",
    "goes",
    "go",
    "comes",
    "come",
    "needs",
    "need",
    "wants",
    "want",
    "supplies",
    "supply",
    "closes",
    "close",
    "says",
    "chose",
    "leaves",
    "leave",
    "leaks",
    "leak",
    "floods",
    "starves",
    "burns",
    "drag",
    "locks",
    "lock",
    "lasts",
    "last",
    "turns",
    "turn",
    "meets",
    "meet",
    "falls",
    "fall",
    "slips",
    "slip",
    "wears",
    "breaks",
    "holds",
    "hold",
    "carries",
    "carry",
    "runs",
    "run",
    "sits",
    "sit",
    "strips",
    "tears",
    "sucks",
    "suck",
    "weeps",
    "overheats",
    "works",
    "work",
    "moves",
    "move",
    "measure",
    "stands",
    "stand",
    "flows",
    "wins",
    "boils",
    "freezes",
    "loses",
    "covers",
    "clears",
    "cooks",
    "allows",
    "runs",
    "pulls",
    "reaches",
    "reads",
    "eats",
    "shears",
    "hangs",
    "rolls",
    "bends",
    "opens",
    "shakes",
    "fits",
];

#[test]
fn every_step_has_a_verb() {
    let mut wrong = BTreeSet::new();
    for a in ALL.iter() {
        for reason in &a.reasons {
            let text = explain::told(&reason.fact).without_names().say(Measure::Inch);
            let has = text.split([' ', ',', ':', ';', '(']).any(|word| VERBS.contains(&word));
            if !has {
                wrong.insert(text);
            }
        }
    }
    assert!(wrong.is_empty(), "{} {wrong:#?}", wrong.len());
}

/// Every port type of the library says what happens where its ends differ.
#[test]
fn every_port_type_says_its_mismatch() {
    let library = library::shipped();
    let fields = library.port_types.values().flat_map(|t| &t.fields);
    let silent: Vec<&str> = fields
        .filter(|(_, def, ..)| def.rule != knockon_core::library::Rule::Told && def.says.is_none())
        .map(|(id, ..)| id.as_str())
        .collect();
    assert!(silent.is_empty(), "{silent:?}");
}
