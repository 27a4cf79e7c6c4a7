//! The numbers and clashes of the pickup's key, common practice of the trade, against what the assessment tells. Where
//! ours differ by a known rule, the rule stands beside the number.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::assessment::Answer;
use knockon_core::key::CheckKey;
use knockon_core::sheet::{Choice, Route};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Sheet, assess, explain};
use knockon_figures::driveline::engine_speed;
use knockon_figures::tyres::revolutions_per_length;
use knockon_store::{library, sheets};
use uom::si::f64::{Length, Velocity};
use uom::si::length::millimeter;
use uom::si::velocity::mile_per_hour;

fn example() -> Sheet {
    sheets::parse("example", library::example()).expect("the example opens")
}

fn assessed(plan: &str) -> Assessment {
    assess(&example(), plan, &library::shipped())
}

/// The cured plan with other routes: a part to convert to, or the as-found part kept.
fn with(routes: &[(&str, Option<&str>)]) -> Assessment {
    let mut sheet = example();
    let plan = sheet.plans.get_mut("worked-out").expect("the plan");
    for (position, part) in routes {
        match part {
            Some(part) => {
                let choice = Choice { route: Route::Convert, part: Some((*part).to_owned()) };
                plan.routes.insert((*position).to_owned(), choice);
            }
            None => {
                plan.routes.remove(*position);
            }
        }
    }
    assess(&sheet, "worked-out", &library::shipped())
}

/// What a check came to and its figures.
fn told(a: &Assessment, key: &str) -> (Answer, String) {
    let wanted: CheckKey = key.parse().expect(key);
    let check = a.checks.iter().find(|c| c.key == wanted).expect(key);
    let both =
        |r| [Measure::Inch, Measure::Metric].map(|m| explain::because(a, r, m).join(" | ")).join(" | ");
    let reason = check.reason.map(both).unwrap_or_default();
    (check.answer, reason)
}

fn says(a: &Assessment, key: &str, answer: Answer, words: &[&str]) {
    let (came_to, text) = told(a, key);
    assert_eq!(came_to, answer, "{key}: {text}");
    for word in words {
        assert!(text.contains(word), "{key}: \"{word}\" not in {text}");
    }
}

#[test]
fn the_numbers_of_the_cured_plan() {
    use Answer::{Bridged, Holds};
    let a = assessed("worked-out");
    // 238 in3 at 4,000 rpm draw 206.6 cfm
    says(&a, "limit:carburettor-air", Holds, &["breathes 207 cfm"]);
    // 31.7 A on average on a wet night; the 36.9 A with the fan running all the time is an hour's worst, not a balance
    says(&a, "limit:idle-balance", Holds, &["37.6 A at 1303 rotor rpm", "the load is 31.7 A"]);
    // 100 A over 3 m of 20 mm2: 0.26 V in solid copper, 13 % more in strands (IEC 60228 class 5)
    says(&a, "limit:charge-drop", Holds, &["0.29 V"]);
    says(&a, "limit:clutch-slave-stroke", Holds, &["19.8 mm", "17 mm"]);
    says(&a, "limit:speedometer-reading", Holds, &["1031 rev/mile through 7/20 teeth", "+3.1 %"]);
    says(&a, "limit:tyre-load-rear", Holds, &["727 kg (800 kg by its mark, divided by 1.10)", "681 kg"]);
    // the key's figure is 475 N
    says(&a, "limit:pedal-force", Holds, &["takes 476 N for 0.65 g"]);
    // 1,422 mm less the 185 mm that the box is longer; 8,170 rpm by the key's round constant, beam theory gives 1 % more
    says(&a, "limit:shaft-critical", Holds, &["8274 rpm", "5792 rpm"]);
    says(&a, "limit:drain-back", Bridged, &["330 mm", "370 mm"]);
    says(&a, "limit:wheel-over-caliper", Holds, &["352 mm inside", "345 mm"]);
    says(&a, "pool:bonnet-height", Holds, &["180 mm of 207 mm", "27 mm, where 20 mm"]);
    says(&a, "pool:fan-space", Holds, &["leaves 25 mm, where 12 mm"]);
    says(&a, "pool:underfloor-space", Holds, &["178 mm of 190 mm", "leaves 12 mm, where 10 mm"]);
    says(&a, "joint:fuel-pressure", Bridged, &["4 to 7 psi", "2.5 to 3.5 psi"]);
    says(&a, "limit:gearbox-torque", Holds, &["407 N·m, where 1.1 times 264 N·m"]);
}

/// The key's engine speeds come from the tyre's plain circumference. Ours come from the turns it makes under load, as
/// the key itself counts them for the speedometer: 755 to the mile, not 729.
#[test]
fn engine_speeds_with_a_plain_and_with_a_loaded_circumference() {
    let sixty = Velocity::new::<mile_per_hour>(60.0);
    let plain = |outside: f64, gear: f64| {
        let turns = revolutions_per_length(Length::new::<millimeter>(outside)).expect("a tyre");
        engine_speed(sixty, turns, 3.90, gear).expect("a speed")
    };
    assert!((plain(716.0, 1.0) - 2_789.0).abs() < 3.0, "{}", plain(716.0, 1.0));
    assert!((plain(703.0, 0.73) - 2_073.0).abs() < 3.0, "{}", plain(703.0, 0.73));
    says(&assessed("worked-out"), "limit:cruise-rpm", Answer::Holds, &["2149 rpm"]);
    assert!((755.0_f64 * 3.90 * 0.73 - 2_149.0).abs() < 1.0);
}

#[test]
fn capacities_and_overall_first_gear() {
    let text = |a: &Assessment, part: &str| {
        let c = a.companions.iter().find(|c| c.part == part).expect(part);
        explain::because(a, c.reason, Measure::Metric).join(" | ")
    };
    let a = assessed("worked-out");
    // one kind of fluid for brakes, 1.5 L, and clutch, 0.15 L; the heater adds its litre to 15.1 L
    for (part, litres) in
        [("brake-fluid-4-half", "1.7 L"), ("coolant-hybrid-20", "16.1 L"), ("gear-oil-gl4-1l", "2.4 L")]
    {
        assert!(text(&a, part).contains(litres), "{}", text(&a, part));
    }
    assert!(text(&assessed("sound"), "engine-oil-5").contains("4.7 L"));
    assert!(text(&assessed("sound"), "brake-fluid-4-half").contains("1.5 L"));
    let axle = with(&[("rear-axle", Some("rear-axle-390-lsd"))]);
    assert!(text(&axle, "gear-oil-gl5-1l").contains("2.1 L"));
    let catalogue = library::shipped();
    let overall = |box_id: &str| {
        let part = &catalogue.part(box_id).expect("a gearbox").part;
        part.figures["first-gear"].as_str().and_then(|t| t.parse::<f64>().ok()).expect("a ratio") * 3.90
    };
    assert!(
        (overall("furrow-gearbox") - 11.5).abs() < 0.05
            && (overall("five-speed-kit-f6a") - 12.8).abs() < 0.05
    );
}

/// AX3, AX4, AX7, AX9, AX11 to AX17: what the cured plan has already answered, each still told with its numbers.
#[test]
fn the_clashes_the_cures_answer() {
    use Answer::{Broken, Holds};
    let a = assessed("worked-out");
    let why = |part: &str| {
        let c = a.companions.iter().find(|c| c.part == part).expect(part);
        explain::because(&a, c.reason, Measure::Metric).join(" | ")
    };
    for (item, part, words) in [
        ("AX3 ammeter", "voltmeter-52", &["100 A", "30 A"][..]),
        ("AX4 belt groove", "pulley-17a-76-17", &["16.8 mm", "12.7 mm"]),
        ("AX9 master height", "residual-valve-2", &["330 mm", "370 mm"]),
        ("AX13 tank and spare", "spare-carrier-bed-side", &["650 mm", "104 mm"]),
        ("AX14 regulator", "regulator-15-4", &["the engine floods", "27.6 to 48.3 kPa", "17.2 to 24.1 kPa"]),
        ("AX17 two sizes of nut", "rear-studs-12-20", &["1/2-20", "7/16-20"]),
    ] {
        let told = why(part);
        assert!(words.iter().all(|w| told.contains(w)), "{item}: {told}");
    }
    // AX4: no pulley under 76 mm on the wide belt
    says(&a, "limit:belt-bend", Holds, &["at least 76 mm"]);
    // AX7: the old wheels over the new calipers
    let old_wheels = with(&[("wheels", Some("furrow-wheels"))]);
    says(&old_wheels, "limit:wheel-over-caliper", Broken, &["332 mm inside", "345 mm"]);
    // AX11: the vacuum wiper without the pump's second stage
    let vacuum = with(&[("wiper-motor", Some("furrow-wiper-vacuum"))]);
    assert!(
        vacuum.clashes.iter().any(|c| c.key == CheckKey::joint("fuel-pump-vacuum")),
        "{:?}",
        vacuum.clashes
    );
    // AX15: the straight lever swings back to 635 mm, past the bench at 620 mm; bent by 60 mm it stays clear
    let straight = with(&[("gear-shift", Some("floor-lever-straight"))]);
    says(&straight, "limit:gear-lever-room", Broken, &["620 mm, where at least 635 mm"]);
    says(&a, "limit:gear-lever-room", Holds, &["620 mm, where at least 575 mm"]);
    // AX16: 528 N at 3.6:1 by the key; 317 N at 6.0:1 without a booster
    let sharp = with(&[("brake-pedal", Some("brake-pedal-pin-36"))]);
    says(&sharp, "limit:pedal-force", Broken, &["529 N"]);
    let plain = with(&[("booster", None), ("brake-pedal", Some("furrow-brake-pedal"))]);
    says(&plain, "limit:pedal-force", Holds, &["317 N"]);
}

/// The change of direction: without the five-speed all that came for it is an orphan, and the old gears read as well.
#[test]
fn dropping_the_five_speed_takes_all_it_brought() {
    let before = assessed("worked-out");
    let after = with(&[("gearbox", None)]);
    let parts = |a: &Assessment| -> BTreeSet<String> {
        let fitted = a.positions.iter().filter_map(|p| p.fitted.as_ref().map(|f| f.0.clone()));
        a.companions.iter().map(|c| c.part.clone()).chain(fitted).collect()
    };
    let (before, now) = (parts(&before), parts(&after));
    for gone in [
        "bell-f6a-b5",
        "pilot-bush-278-150",
        "clutch-disc-10-26",
        "clutch-master-075",
        "clutch-slave-0875",
        "crossmember-92",
        "prop-shaft-1237",
        "speedo-gear-b5-20",
        "floor-cover-240",
        "floor-lever-bent-60",
        "column-slot-blank",
        "gear-oil-gl4-1l",
    ] {
        assert!(before.contains(gone) && !now.contains(gone), "{gone} is no orphan");
    }
    says(&after, "limit:speedometer-reading", Answer::Holds, &["1031 rev/mile through 7/20 teeth", "+3.1 %"]);
    assert!(after.clashes.is_empty(), "{:?}", after.clashes);
}

/// Hours are written for one piece: four dampers take four times as long (common practice).
#[test]
fn hours_count_each_piece() {
    let library = library::shipped();
    let hours = |place: &str, route: Route| {
        let mut sheet = example();
        sheet.survey.clear();
        sheet.readings.clear();
        let plan = sheet.plans.get_mut("sound").expect("the plan");
        plan.routes.clear();
        plan.routes.insert(place.to_owned(), Choice { route, part: None });
        let a = assess(&sheet, "sound", &library);
        let position = a.positions.iter().find(|p| p.id == place).expect("the place");
        (position.qty, position.hours, a.totals.hours)
    };
    for (place, route) in [
        ("dampers", Route::Renew),
        ("tyres", Route::Renew),
        ("wheels", Route::Rebuild),
        ("carburettor", Route::Rebuild),
    ] {
        let (qty, of_place, _) = hours(place, route);
        let part = &library.parts[library.vehicles["furrow-10"].positions
            [library.vehicles["furrow-10"].position_ix[place]]
            .as_found
            .expect("a part")]
        .part;
        let one =
            if route == Route::Renew { part.hours } else { part.rebuild.as_ref().and_then(|w| w.hours) };
        let all = one.expect("hours") * f64::from(qty);
        assert!((of_place - all).abs() < 1e-9, "{place}: {of_place} against {all}");
    }
    // renewing both steering ends: 2 x 1.2 h, beside what else the place opens
    let (_, of_place, total) = hours("steering-linkage", Route::Renew);
    assert!((of_place - 2.4).abs() < 1e-9 && total >= of_place, "{of_place} {total}");
    // a companion in several pieces counts each: what the assessment sums is what it tells
    let a = assessed("worked-out");
    let several = a.companions.iter().filter(|c| c.qty > 1 && c.hours > 0.0).count();
    assert!(several > 0, "no companion of several pieces takes time");
    for c in a.companions.iter().filter(|c| c.qty > 1) {
        let one = library.part(&c.part).and_then(|p| p.part.hours).unwrap_or(0.0);
        assert!((c.hours - one * f64::from(c.qty)).abs() < 1e-9, "{}: {} for {}", c.part, c.hours, c.qty);
    }
}
