//! The engine against the slow second implementation, on generated libraries and sheets.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::assessment::{Answer, Companion, Later, Origin};
use knockon_core::explain::because;
use knockon_core::key::{CheckKey, CompanionKey};
use knockon_core::library::{Level, LibraryFile};
use knockon_core::reason::Fact;
use knockon_core::sheet::{Choice, Plan, Route, Sheet};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Catalogue, assess};
use knockon_tests::cases::cases;
use knockon_tests::generate::{FREE, PLAN, Size, VEHICLE, forget_sizes, generate, on};
use knockon_tests::oracle::{self, Findings};
use proptest::prelude::*;
use serde_json::json;

/// What the oracle finds, out of an assessment.
fn findings(a: &Assessment) -> Findings {
    Findings {
        companions: a
            .companions
            .iter()
            .map(|c| {
                // how strongly a decision is asked for is told with its reason alone
                let is_decided = matches!(c.key, CompanionKey::Fill { .. });
                let level = if is_decided { Level::Required } else { c.level };
                (c.key.clone(), c.part.clone(), c.qty, level, c.boxed)
            })
            .collect(),
        clashes: a.clashes.iter().map(|c| c.key.clone()).collect(),
        unmet: a.unmet.iter().map(|u| u.key.clone()).collect(),
        unknowns: a.to_measure.iter().map(|c| c.key.clone()).collect(),
        close: a.close.iter().map(|c| c.key.clone()).collect(),
        wanted: a
            .to_measure
            .iter()
            .filter(|m| matches!(m.key, CheckKey::Joint { .. }))
            .flat_map(|m| {
                m.wanted.iter().map(|w| {
                    let instead = w.instead.as_ref().map(|other| other.key.clone());
                    (m.key.clone(), w.key.clone(), instead)
                })
            })
            .collect(),
        surplus: a.surplus.iter().map(|s| s.position.clone()).collect(),
        later: a.later.iter().map(later).collect(),
        money: a.totals.money.all().of("USD"),
        hours: a.totals.hours,
    }
}

/// What the engine put into places nobody chose for.
fn decisions(a: &Assessment) -> BTreeMap<String, String> {
    let fills = a.companions.iter().filter_map(|c| match &c.key {
        CompanionKey::Fill { position } => Some((position.clone(), c.part.clone())),
        _ => None,
    });
    fills.collect()
}

/// Its own reason, or what that rests on, is an age.
fn is_old(a: &Assessment, c: &Companion) -> bool {
    because(a, c.reason, Measure::Metric).iter().take(3).any(|sentence| sentence.contains(" old and last"))
}

fn later(l: &Later) -> oracle::Later {
    let after = l.after.iter().map(|q| q.text.clone());
    oracle::Later {
        what: l.what.clone(),
        when: after.chain(l.due.map(|_| l.when(Measure::Metric))).collect(),
        level: l.level,
        positions: l.positions.iter().cloned().collect(),
        companions: l.companions.iter().cloned().collect(),
    }
}

/// With several places of a class, alternatives, sums and set facts, or without.
fn sizes(twins: std::ops::Range<u8>) -> impl Strategy<Value = Size> {
    (twins, 3_usize..14, 1_usize..9, 0_usize..8, 0_u8..40, 30_usize..120).prop_map(
        |(twins, positions, types, choices, doubt, family)| Size {
            positions,
            joints: positions * 2,
            parts: family,
            family,
            choices,
            types,
            doubt,
            twins,
        },
    )
}

fn is_found_by_both(seed: u64, size: Size) -> Result<(), TestCaseError> {
    let (file, sheet) = generate(seed, size);
    agree(file, sheet)
}

/// Readings at most places, besides what a person says: good and bad, an older and a newer one, too near to an end, of two
/// alike, and what was seen.
fn surveyed(file: &mut LibraryFile, sheet: &mut Sheet) {
    file.zones.insert("round".into(), serde_json::from_value(json!({"name": "Round"})).unwrap());
    for (n, class) in file.classes.keys().enumerate() {
        let play = json!({
            "name": "play", "for": [class], "zone": "round", "kind": "length", "accuracy": "0.5 mm",
            "good": {"most": "2 mm"}, "watch": {"most": "4 mm"}, "stop": n % 2 == 0, "source": "invented"
        });
        file.inspections.insert(format!("play-{class}"), serde_json::from_value(play).unwrap());
    }
    for (n, (place, def)) in file.vehicles[VEHICLE].positions.iter().enumerate() {
        let read = |value: &str, on: &str, which: &str| json!({"of": format!("play-{}", def.class), "value": value, "on": on, "which": which});
        let readings = match n % 6 {
            0 => json!([read("1 mm", "2026-01-02", "")]),
            1 => json!([read("5 mm", "2026-01-03", ""), read("1 mm", "2026-01-02", "")]),
            2 => json!([read("4.25 mm", "2026-01-02", "")]),
            3 => json!([read("1 mm", "2026-01-02", "left"), read("6 mm", "2026-01-02", "right")]),
            4 => json!([read("2 mm", "2026-01-02", ""), read("3 mm", "2026-01-02", "")]),
            _ => {
                let seen =
                    json!([{"what": "a crack", "verdict": if n % 4 == 1 { "renew" } else { "watch" }}]);
                sheet.seen.insert(place.clone(), serde_json::from_value(seen).unwrap());
                continue;
            }
        };
        sheet.readings.insert(place.clone(), serde_json::from_value(readings).unwrap());
    }
}

fn agree(file: LibraryFile, sheet: Sheet) -> Result<(), TestCaseError> {
    let (catalogue, faults) = Catalogue::new(vec![("generated".to_owned(), file.clone())]);
    let errors: BTreeSet<_> = faults.iter().filter(|f| !f.warning).collect();
    prop_assert!(errors.is_empty(), "{errors:?}");
    let catalogue = catalogue.on(on());
    let a = assess(&sheet, PLAN, &catalogue);
    prop_assert!(!a.proved || a.problems.is_empty(), "{:?}", a.problems);
    let (found, line) = oracle::derive(&file, &sheet, &decisions(&a));
    prop_assert_eq!(findings(&a), found);
    prop_assert_eq!(a.order, line.order());
    // what a vehicle has a place for is bought for that place
    let places = &file.vehicles[VEHICLE].positions;
    let has_place = |part: &String| places.values().any(|p| p.class == file.parts[part].class);
    let strewn: Vec<_> = a.companions.iter().filter(|c| c.position.is_none() && has_place(&c.part)).collect();
    prop_assert!(strewn.is_empty(), "{strewn:?}");
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(600), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_slow_second_implementation_finds_the_same(seed in any::<u64>(), size in sizes(0..1)) {
        is_found_by_both(seed, size)?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(100), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn it_finds_the_same_where_places_were_read(seed in any::<u64>(), size in sizes(0..1)) {
        let (mut file, mut sheet) = generate(seed, size);
        surveyed(&mut file, &mut sheet);
        agree(file, sheet)?;
    }

    #[test]
    fn it_finds_the_same_where_openings_want_a_way_to_be_built(seed in any::<u64>(), size in sizes(0..1)) {
        let (mut file, sheet) = generate(seed, size);
        for vehicle in file.vehicles.values_mut() {
            vehicle.built = vec!["low".to_owned()];
        }
        for (opening, built) in file.openings.values_mut().zip(["low", "high"].iter().cycle()) {
            opening.built = vec![(*built).to_owned()];
        }
        agree(file, sheet)?;
    }

    #[test]
    fn it_finds_the_same_where_nobody_measured_what_was_found(seed in any::<u64>(), size in sizes(0..1)) {
        let (mut file, sheet) = generate(seed, size);
        forget_sizes(&mut file);
        agree(file, sheet)?;
    }
}

proptest! {
    // the second implementation tries every choice of places: it is slower here
    #![proptest_config(ProptestConfig { cases: cases(250), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn it_finds_the_same_where_a_class_has_several_places(seed in any::<u64>(), size in sizes(10..60)) {
        is_found_by_both(seed, size)?;
    }
}

/// Every third joint of the vehicle is not written down, and what was found has no port that none of the others meets.
fn half_told(file: &mut LibraryFile) {
    let vehicle = file.vehicles.get_mut(VEHICLE).unwrap();
    let mut n = 0;
    vehicle.joints.retain(|_, joint| {
        n += 1;
        n % 3 > 0 || joint.either.is_some()
    });
    for (place, position) in &vehicle.positions {
        let ends = vehicle.joints.values().flat_map(|joint| &joint.ends).filter(|end| end.at == *place);
        let met: BTreeSet<&str> = ends.map(|end| end.port.as_str()).collect();
        let part = position.as_found.as_ref().and_then(|found| file.parts.get_mut(found));
        if let Some(part) = part.filter(|part| part.bridges.is_none()) {
            part.ports.retain(|port, _| met.contains(port.as_str()));
        }
    }
}

#[test]
fn it_finds_the_same_where_no_joint_says_what_a_port_meets() {
    let mut told = 0;
    for seed in 0..150 {
        let size = Size {
            positions: 8,
            joints: 16,
            parts: 40,
            family: 40,
            choices: 5,
            types: 4,
            doubt: 10,
            twins: 0,
        };
        let (mut file, mut sheet) = generate(seed, size);
        half_told(&mut file);
        // what was measured at a port that is gone is told as a problem
        sheet.facts.clear();
        let (catalogue, _) = Catalogue::new(vec![("generated".to_owned(), file.clone())]);
        let a = assess(&sheet, PLAN, &catalogue);
        told += a.to_measure.iter().filter(|m| matches!(m.key, CheckKey::Port { .. })).count();
        agree(file, sheet).unwrap();
    }
    assert!(told > 20, "{told}");
}

/// What asks for a companion, in a word.
fn companion(key: &CompanionKey) -> &'static str {
    match key {
        CompanionKey::Bridge { .. } => "bridge",
        CompanionKey::Cap { .. } => "cap",
        CompanionKey::Fill { .. } => "position",
        CompanionKey::Need { .. } => "need",
        CompanionKey::Seal { .. } => "joint",
        CompanionKey::Apart { .. } => "apart",
        CompanionKey::Beside { .. } => "beside",
        CompanionKey::Fluid { .. } => "fluid",
        CompanionKey::Survey { .. } => "survey",
        CompanionKey::Age { .. } => "age",
    }
}

/// What is checked, in a word.
fn check(key: &CheckKey) -> &'static str {
    match key {
        CheckKey::Joint { .. } => "joint",
        CheckKey::Limit { .. } => "limit",
        CheckKey::Need { .. } => "need",
        CheckKey::Pool { .. } => "pool",
        CheckKey::Age { .. } => "age",
        CheckKey::FluidAge { .. } => "fluid-age",
        CheckKey::Port { .. } => "port",
    }
}

/// What is compared is there to be compared: every kind of finding turns up among the generated sheets.
#[test]
fn generated_sheets_hold_every_kind_of_finding() {
    let mut kinds: BTreeMap<String, usize> = BTreeMap::new();
    let mut count = |key: &str, by: usize| *kinds.entry(key.to_owned()).or_default() += by;
    for seed in 0..600 {
        let size = Size {
            positions: 12,
            joints: 24,
            parts: 100,
            family: 100,
            choices: 6,
            types: 1 + seed as usize % 8,
            doubt: 20,
            twins: if seed % 2 == 0 { 0 } else { 30 },
        };
        let (file, sheet) = generate(seed, size);
        let catalogue = Catalogue::new(vec![("generated".to_owned(), file.clone())]).0.on(on());
        let a = assess(&sheet, PLAN, &catalogue);
        let plan = &sheet.plans[PLAN];
        for c in &a.companions {
            // opened by nothing that the owner chose
            let by_renewal = if let CompanionKey::Seal { joint, .. } = &c.key {
                let ends = &file.vehicles[VEHICLE].joints[joint].ends;
                let shut = |at: &str| {
                    let view = a.positions.iter().find(|p| p.id == at);
                    !plan.routes.contains_key(at) && view.is_some_and(|p| !p.filled)
                };
                ends.iter().all(|e| shut(&e.at))
            } else {
                false
            };
            count("joint of a renewal", usize::from(by_renewal));
            count("renewal left out", usize::from(c.waived.is_some()));
            count("renewed by a joint", usize::from(c.origin == Origin::Joint && c.position.is_some()));
            count(companion(&c.key), 1);
            let is_age = matches!(c.key, CompanionKey::Age { .. });
            count("age left out", usize::from(is_age && c.waived.is_some()));
            count("old fluid", usize::from(matches!(c.key, CompanionKey::Fluid { .. }) && is_old(&a, c)));
            count("in a box", usize::from(c.boxed > 0));
            count("second of a chain", usize::from(matches!(c.key, CompanionKey::Bridge { n: 1.., .. })));
            count("companion of a companion", usize::from(c.parent.is_some()));
            let is_fluid = matches!(c.key, CompanionKey::Fluid { .. });
            count(
                "second container of a fluid",
                usize::from(matches!(c.key, CompanionKey::Fluid { n: 1.., .. })),
            );
            count(&format!("{} in a box", companion(&c.key)), usize::from(c.boxed > 0));
            count("container in a box", usize::from(is_fluid && c.boxed > 0));
            count("left out with another", usize::from(c.left_out_by.is_some()));
            let once = matches!(a.reasons[c.reason.0 as usize].fact, Fact::Once { .. });
            count("service for several", usize::from(once));
        }
        count("choice in a box", a.positions.iter().filter(|p| p.boxed > 0 && !p.filled).count());
        let kits: BTreeSet<&str> = a.boxes.iter().map(|l| l.key.kit.as_str()).collect();
        count("kit in a box", a.boxes.iter().filter(|l| kits.contains(l.key.part.as_str())).count());
        count("spare in a box", a.boxes.iter().filter(|l| l.spare > 0).count());
        count(
            "content in its place",
            a.boxes.iter().filter(|l| l.goes.iter().any(|to| to.companion.is_none())).count(),
        );
        for key in a.clashes.iter().map(|c| &c.key) {
            count(&format!("clash {}", check(key)), 1);
        }
        for m in &a.to_measure {
            let CheckKey::Joint { joint } = &m.key else { continue };
            count("value wanted at a joint", m.wanted.len());
            let bridge = CompanionKey::Bridge { joint: joint.clone(), n: 0 };
            count("open bridge", usize::from(a.companions.iter().any(|c| c.key == bridge)));
        }
        count("advice not met", a.unmet.len());
        count("value measured at a port", a.measured.iter().filter(|m| !m.positions.is_empty()).count());
        for key in a.to_measure.iter().map(|c| &c.key) {
            count(&format!("open {}", check(key)), 1);
        }
        let chosen = |pos: &str| plan.routes.contains_key(pos);
        let idle = a.surplus.iter().filter(|s| {
            let kept = a.positions.iter().any(|p| p.id == s.position && p.fitted.is_some());
            s.lost_job && kept && chosen(&s.position)
        });
        count("lost job of a choice", idle.count());
        let dear = a
            .clashes
            .iter()
            .filter(|c| matches!(c.key, CheckKey::Limit { .. }))
            .filter(|c| c.remedies.iter().filter_map(|r| r.choice.as_ref()).any(|(pos, _)| !chosen(pos)));
        count("dear remedy", dear.count());
        let at_places =
            a.checks.iter().filter(|c| matches!(&c.key, CheckKey::Limit { at, .. } if !at.is_empty()));
        count("limit at one of several places", at_places.count());
        let spots = a
            .companions
            .iter()
            .filter(|c| matches!(&c.key, CompanionKey::Apart { at, .. } if !at.is_empty()));
        count("opening at one of several spots", spots.count());
        let fitted = a.positions.iter().filter_map(|p| p.fitted.as_ref());
        count("fact set by a part", fitted.filter(|(id, _)| !file.parts[id].sets.is_empty()).count());
        for (id, joint) in &file.vehicles[VEHICLE].joints {
            let Some(word) = &joint.either else { continue };
            let key = CheckKey::joint(id);
            let served = a.checks.iter().any(|c| c.key == key && c.answer == Answer::Holds);
            count("alternative that serves", usize::from(served));
            let clash = a.clashes.iter().any(|c| c.key == key);
            count("no alternative serves", usize::from(clash && word != id));
        }
        for place in a.positions.iter().filter(|p| p.filled) {
            let class = FREE.into_iter().find(|class| place.id == format!("place-{class}"));
            count(
                &format!("put where it has a place: {}", class.unwrap_or("-")),
                usize::from(class.is_some()),
            );
        }
        for l in &a.later {
            count("due by a day", usize::from(l.due.is_some() && !l.overdue));
            count("due since a day", usize::from(l.overdue));
            count("done again later", usize::from(l.due.is_none()));
            count("asked for by several", usize::from(l.due.is_none() && l.positions.len() > 2));
            count("later with its companion", usize::from(!l.companions.is_empty()));
            count("later by advice", usize::from(l.due.is_none() && l.level == Level::Advised));
        }
        let both = |c: &&Companion| matches!(c.key, CompanionKey::Survey { .. }) && is_old(&a, c);
        count("survey and age", a.companions.iter().filter(both).count());
        count("lost job", a.surplus.iter().filter(|s| s.lost_job).count());
    }
    let wanted = [
        "advice not met",
        "age",
        "age left out",
        "apart",
        "asked for by several",
        "bridge",
        "cap",
        "choice in a box",
        "clash joint",
        "clash limit",
        "clash need",
        "clash pool",
        "companion of a companion",
        "container in a box",
        "content in its place",
        "dear remedy",
        "done again later",
        "due by a day",
        "due since a day",
        "fluid",
        "in a box",
        "joint",
        "joint of a renewal",
        "later by advice",
        "later with its companion",
        "kit in a box",
        "left out with another",
        "lost job",
        "lost job of a choice",
        "need",
        "old fluid",
        "open age",
        "open bridge",
        "open fluid-age",
        "open joint",
        "open limit",
        "position",
        "put where it has a place: bridge",
        "put where it has a place: cap",
        "put where it has a place: sundry",
        "renewal left out",
        "renewed by a joint",
        "alternative that serves",
        "fact set by a part",
        "limit at one of several places",
        "no alternative serves",
        "opening at one of several spots",
        "spare in a box",
        "second container of a fluid",
        "second of a chain",
        "service for several",
        "survey",
        "survey and age",
        "value measured at a port",
        "value wanted at a joint",
    ];
    println!("{kinds:?}");
    for kind in wanted {
        assert!(kinds.get(kind).is_some_and(|n| *n >= 5), "{kind}: {kinds:?}");
    }
}

/// A sleeve with one unknown bore, and a sure one at three times the price: where an unknown leaves the joint open either
/// way, the two cheap ones are taken.
#[test]
fn a_cheap_chain_that_is_open_either_way_beats_a_sure_beginning() {
    let port = |size: &str| json!({"type": "a.hose", "fields": {"bore": size}});
    let sleeve = |price: &str, enter: &str| {
        json!({"name": price, "class": "sleeves", "price": price, "bridges": ["in", "out"],
            "ports": {"in": port(enter), "out": port("17 mm")}})
    };
    let file = json!({
        "format": 1, "systems": {"all": {"name": "All", "order": 1}},
        "classes": {"pump": {"name": "pump", "decided": "owner"}, "filter": {"name": "filter", "decided": "follows"}, "sleeves": {"name": "sleeve", "free": true}},
        "port_types": {"a.hose": {"name": "hose", "fields": {
            "bore": {"name": "bore", "kind": "length", "rule": "equal", "within": "0.5 mm"}}}},
        "parts": {
            "old-pump": {"name": "Pump, old", "class": "pump", "ports": {"out": port("10 mm")}},
            "new-pump": {"name": "Pump", "class": "pump", "price": "50.00 USD", "ports": {"out": port("20 mm")}},
            "old-filter": {"name": "Filter", "class": "filter", "ports": {"in": port("10 mm")}},
            "sure": sleeve("37.00 USD", "20 mm"),
            "cheap": sleeve("13.00 USD", "unknown: calliper across it"),
        },
        "vehicles": {VEHICLE: {"name": "Cart",
            "positions": {
                "filter": {"name": "Filter", "system": "all", "class": "filter", "as_found": "old-filter"},
                "pump": {"name": "Pump", "system": "all", "class": "pump", "as_found": "old-pump"},
            },
            "joints": {"feed": {"name": "feed", "ends": [{"at": "pump", "port": "out"}, {"at": "filter", "port": "in"}]}},
        }},
    });
    let file: LibraryFile = serde_json::from_value(file).unwrap();
    let choice = |route, part: Option<&str>| Choice { route, part: part.map(str::to_owned) };
    let mut sheet = Sheet { format: 1, vehicle: VEHICLE.into(), plan: PLAN.into(), ..Sheet::default() };
    let routes = [
        ("pump".to_owned(), choice(Route::Convert, Some("new-pump"))),
        ("filter".to_owned(), choice(Route::Keep, None)),
    ];
    sheet.plans.insert(PLAN.into(), Plan { routes: routes.into(), ..Plan::default() });
    let (catalogue, faults) = Catalogue::new(vec![("sleeves".to_owned(), file.clone())]);
    assert!(faults.iter().all(|f| f.warning), "{faults:?}");
    let a = assess(&sheet, PLAN, &catalogue);
    let bridges = a.companions.iter().filter(|c| matches!(c.key, CompanionKey::Bridge { .. }));
    let bridges: Vec<&str> = bridges.map(|c| c.part.as_str()).collect();
    assert_eq!(bridges, ["cheap", "cheap"]);
    assert_eq!(findings(&a).companions, oracle::derive(&file, &sheet, &decisions(&a)).0.companions);
}
