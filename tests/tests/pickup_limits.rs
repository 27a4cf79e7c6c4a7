//! The pickup's limits with the numbers the trade gives for it, what clears those that are broken, and what it asks to
//! have measured.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::assessment::Answer;
use knockon_core::key::CheckKey;
use knockon_core::sheet::{Choice, Route};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Sheet, assess, explain};
use knockon_store::{library, sheets};

fn example() -> Sheet {
    sheets::parse("example", library::example()).expect("the example opens")
}

fn assessed(plan: &str) -> Assessment {
    assess(&example(), plan, &library::shipped())
}

/// The limits that ask for a value.
fn asked(a: &Assessment) -> BTreeSet<&str> {
    let open = a.to_measure.iter().filter_map(|open| match &open.key {
        CheckKey::Limit { limit, .. } => Some(limit.as_str()),
        _ => None,
    });
    open.collect()
}

#[test]
fn the_worked_out_plan_holds_its_limits_with_the_numbers_of_the_key() {
    let a = assessed("worked-out");
    for (limit, says) in [
        // an example vehicle: 1,303 rotor rpm at 600; 60 mph in fifth with tyres of 755 rev/mile
        ("idle-balance", "at 1303 rotor rpm"),
        ("road-balance", "the rotor 4667 rpm"),
        ("rotor-speed", "the rotor turns 8684 rpm"),
        // AX8: 800 / 1.10 is 727 kg
        ("tyre-load-rear", "carries 727 kg"),
        ("wheel-over-caliper", "the caliper wants 345 mm"),
        // AX16: 475 N at 4.0:1
        ("pedal-force", "the pedal takes 476 N"),
        // A.8: 207 cfm; 238 x 4,000 / 20,800 is 45.8 in2
        ("carburettor-air", "breathes 207 cfm"),
        ("cleaner-area", "wants 295 cm2"),
        // AK47: 19.8 mm; A.8: 8,170 rpm and 70 % of it, by a round constant
        ("clutch-slave-stroke", "the slave moves 19.8 mm"),
        ("shaft-critical", "70 % of that is 57"),
        ("speedometer-reading", "it reads +3.1 %"),
        // reference values: half glycol under 13 psi boils at 127.4 °C
        ("boiling-room", "boils at 127 °C"),
        // 20.7: 100 hp wants 31 L/h, and 30 % to spare; the pump of the 4 to 7 psi class gives 110 L/h
        ("fuel-for-power", "the engine wants 40 L/h with some to spare, the pump gives 110 L/h"),
        // hydrostatics: 450 mm of petrol are 3.29 kPa
        ("fuel-arriving", "the height 0.48 psi: 3.5 psi arrives, at least 1.5 psi wanted"),
        ("fuel-line-loss", "is lost in 6 m of 8 mm bore, at most 2.8 kPa"),
        // 839 of 1,474 kg, and at 0.65 g 14.6 % more; a valve that lets 43 % through
        (
            "brake-share",
            "the front wheels lock first: the front brakes have 77 % of the whole, at 0.65 g the front axle carries 71 %",
        ),
        // 20.72: 0.8 to 1.1 of the engine's power
        ("engine-heat", "77 kW of heat, the radiator carries 90 kW"),
        ("shroud-cover", "98 % of the core is covered"),
        ("battery-reserve", "for 51 min"),
        // A.8: 2,149 rpm in fifth; 12.8 against 11.5 overall
        ("cruise-rpm-most", "2149 rpm"),
        ("pull-away", "first gear comes to 12.8 overall"),
        // physics: 168 mm twice at 19 inHg pull 2,852 N, the knee of a gain of 3 is half of it; AX16: 410 N x 6 / 3
        ("booster-reach", "the booster runs out at 1426 N on its rod, 820 N is wanted"),
        ("wheel-over-brake", "6.5 mm at the narrowest"),
        ("tyre-in-arch", "704 mm tall, 830 mm at most"),
        // 27 mm of stud less 5 mm of wheel; the nut has 16 mm, and 1/2 in wants 12.7 mm
        ("front-stud-thread", "holds by 16 mm of thread, at least 12.7 mm wanted"),
        ("rear-stud-thread", "holds by 16 mm of thread, at least 12.7 mm wanted"),
    ] {
        let key = CheckKey::limit(limit);
        let check = a.checks.iter().find(|c| c.key == key).unwrap_or_else(|| panic!("{key} is not checked"));
        assert_eq!(check.answer, Answer::Holds, "{key}");
        let reason = check.reason.expect("a limit tells its figures");
        let both = [Measure::Inch, Measure::Metric].map(|m| explain::because(&a, reason, m).join(" | "));
        let told = both.join(" | ");
        assert!(told.contains(says), "{key}: {told}");
    }
}

#[test]
fn only_what_the_plan_makes_matter_is_asked_for() {
    let wheels = ["inner-gap", "outer-gap"];
    let shaft = ["joint-angles", "slip-in", "slip-out"];
    // what is newly put in where there was something else: tank, booster, belts
    let room = ["tank-axle", "tank-exhaust", "tank-shaft", "booster-exhaust", "shoulder-anchor"];
    let expected: BTreeSet<&str> = wheels.into_iter().chain(shaft).chain(room).collect();
    assert_eq!(asked(&assessed("worked-out")), expected);
    let belts = BTreeSet::from(["shoulder-anchor"]);
    assert_eq!(asked(&assessed("sound")), belts, "parts renewed in kind ask for nothing");

    let mut sheet = example();
    let lift = Choice { route: Route::Convert, part: Some("front-spring-lift".to_owned()) };
    sheet.plans.get_mut("sound").expect("the plan").routes.insert("front-springs".to_owned(), lift);
    let lifted = assess(&sheet, "sound", &library::shipped());
    assert_eq!(asked(&lifted), BTreeSet::from(["caster", "drag-link", "shoulder-anchor"]));
    for measure in &lifted.to_measure {
        let what = measure.what.say(Measure::Metric);
        assert!(what.contains(", to "), "says how well: {what}");
    }
}

fn fitted(plan: &str, parts: &[(&str, &str)]) -> Assessment {
    let mut sheet = example();
    let routes = &mut sheet.plans.get_mut(plan).expect("the plan").routes;
    for (place, part) in parts {
        let choice = Choice { route: Route::Convert, part: Some((*part).to_owned()) };
        routes.insert((*place).to_owned(), choice);
    }
    assess(&sheet, plan, &library::shipped())
}

fn told(a: &Assessment, limit: &str) -> (Answer, String) {
    let key = CheckKey::limit(limit);
    let check = a.checks.iter().find(|c| c.key == key).unwrap_or_else(|| panic!("{key} is not checked"));
    (check.answer, explain::because(a, check.reason.expect("a reason"), Measure::Metric).join(" | "))
}

#[test]
fn a_head_off_is_asked_for_its_compression() {
    // 650 cm3 over 95 cm3 of room
    let a = fitted("sound", &[("cylinder-head", "cylinder-head-hard-seats")]);
    let (answer, text) = told(&a, "compression");
    assert_eq!(answer, Answer::Holds);
    assert!(text.contains("compression comes to 7.82"), "{text}");
}

#[test]
fn a_weak_pump_low_down_starves_the_carburettor_and_says_what_would_do() {
    let a = fitted("worked-out", &[("fuel-pump", "pump-electric-15-4")]);
    let clash =
        a.clashes.iter().find(|c| c.key == CheckKey::limit("fuel-arriving")).expect("too little arrives");
    let texts: Vec<String> = clash.remedies.iter().map(|r| r.text.say(Measure::Inch)).collect();
    assert!(texts.iter().any(|t| t.contains("a pump that gives 2.1")), "{texts:?}");
}

#[test]
fn a_valve_whose_cut_is_not_known_is_to_be_gauged() {
    let a = fitted("worked-out", &[("rear-proportioning-valve", "combination-valve-fixed")]);
    assert!(asked(&a).contains("brake-share"));
}

/// A figure that a limit reads and a port tells as well is one value written twice.
#[test]
fn a_figure_says_what_the_port_says() {
    let library = library::shipped();
    let pairs = [
        ("pump-pressure", "pressure", "pressure"),
        ("pump-flow", "flow", "flow"),
        ("carburettor-fuel", "flow", "flow"),
        ("line-length", "run", "length"),
    ];
    let mut seen = 0;
    for part in library.parts.values().map(|entry| &entry.part) {
        for (figure, port, field) in pairs {
            let Some(value) = part.figures.get(figure) else { continue };
            let told = part.ports.get(port).and_then(|p| p.fields.get(field));
            // how what is not known is measured may be said in other words
            let open = |json: &serde_json::Value| json.as_str().is_some_and(|t| t.starts_with("unknown"));
            assert!(Some(value) == told || open(value) && told.is_some_and(open), "{}: {figure}", part.name);
            seen += 1;
        }
    }
    assert!(seen >= 25, "{seen} seen");
}

#[test]
fn a_broken_limit_tells_the_amount_that_clears_it() {
    let a = assessed("wishes");
    for (limit, amount) in [
        ("alternator-excitation", "21 mm less generator pulley diameter (55 mm)"),
        ("idle-balance", "17 A less load at idle (17 A)"),
        ("tyre-load-rear", "load index 98 (750 kg)"),
    ] {
        let key = CheckKey::limit(limit);
        let clash = a.clashes.iter().find(|c| c.key == key).unwrap_or_else(|| panic!("{key} does not clash"));
        assert!(
            clash.remedies.iter().any(|r| r.text.say(Measure::Metric).contains(amount)),
            "{key}: {:?}",
            clash.remedies
        );
    }
}
