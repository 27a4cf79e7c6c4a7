//! The engine against the slow second implementation, on generated libraries and sheets.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::library::LibraryFile;
use knockon_core::reason::Fact;
use knockon_core::sheet::{Choice, Plan, Route, Sheet};
use knockon_core::{Assessment, Catalogue, assess};
use knockon_tests::generate::{PLAN, Size, VEHICLE, generate};
use knockon_tests::oracle::{self, Findings};
use proptest::prelude::*;
use serde_json::json;

/// What the oracle finds, out of an assessment.
fn findings(a: &Assessment) -> Findings {
    Findings {
        companions: a
            .companions
            .iter()
            .map(|c| (c.key.clone(), c.part.clone(), c.qty, c.level, c.boxed))
            .collect(),
        clashes: a.clashes.iter().map(|c| c.key.clone()).collect(),
        unknowns: a.to_measure.iter().map(|c| c.key.clone()).collect(),
        wanted: a
            .to_measure
            .iter()
            .filter(|m| m.key.starts_with("joint:"))
            .flat_map(|m| m.wanted.iter().map(|w| (m.key.clone(), w.key.clone())))
            .collect(),
        surplus: a.surplus.iter().map(|s| s.position.clone()).collect(),
        money: a.totals.spent + a.totals.committed + a.totals.to_come,
        hours: a.totals.hours,
    }
}

fn sizes() -> impl Strategy<Value = Size> {
    (3_usize..14, 1_usize..9, 0_usize..8, 0_u8..40, 30_usize..120).prop_map(
        |(positions, types, choices, doubt, family)| Size {
            positions,
            joints: positions * 2,
            parts: family,
            family,
            choices,
            types,
            doubt,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_slow_second_implementation_finds_the_same(seed in any::<u64>(), size in sizes()) {
        let (file, sheet) = generate(seed, size);
        let (catalogue, faults) = Catalogue::new(vec![("generated".to_owned(), file.clone())]);
        let errors: BTreeSet<_> = faults.iter().filter(|f| !f.warning).collect();
        prop_assert!(errors.is_empty(), "{errors:?}");
        let a = assess(&sheet, PLAN, &catalogue);
        prop_assert!(a.problems.is_empty(), "{:?}", a.problems);
        prop_assert_eq!(findings(&a), oracle::assess(&file, &sheet));
    }
}

/// What is compared is there to be compared: every kind of finding turns up among the generated sheets.
#[test]
fn generated_sheets_hold_every_kind_of_finding() {
    let mut kinds: BTreeMap<String, usize> = BTreeMap::new();
    let mut count = |key: &str, by: usize| *kinds.entry(key.to_owned()).or_default() += by;
    for seed in 0..300 {
        let size = Size {
            positions: 12,
            joints: 24,
            parts: 100,
            family: 100,
            choices: 6,
            types: 1 + seed as usize % 8,
            doubt: 20,
        };
        let (file, sheet) = generate(seed, size);
        let (catalogue, _) = Catalogue::new(vec![("generated".to_owned(), file.clone())]);
        let a = assess(&sheet, PLAN, &catalogue);
        let plan = &sheet.plans[PLAN];
        for c in &a.companions {
            // opened by nothing that the owner chose
            let by_renewal = c.key.starts_with("joint") && {
                let joint = c.key.split(':').nth(1).unwrap_or("");
                let ends = &file.vehicles[VEHICLE].joints[joint].ends;
                let shut = |at: &str| {
                    let view = a.positions.iter().find(|p| p.id == at);
                    !plan.routes.contains_key(at) && view.is_some_and(|p| !p.filled)
                };
                ends.iter().all(|e| shut(&e.at))
            };
            count("joint of a renewal", usize::from(by_renewal));
            count("renewal left out", usize::from(c.waived.is_some()));
            count(c.key.split(':').next().unwrap_or(""), 1);
            count("in a box", usize::from(c.boxed > 0));
            count("second of a chain", usize::from(c.key.starts_with("bridge") && !c.key.ends_with(":0")));
            count("companion of a companion", usize::from(c.parent.is_some()));
            let is_fluid = c.key.starts_with("fluid:");
            count("second container of a fluid", usize::from(is_fluid && c.key.matches(':').count() > 1));
            count(&format!("{} in a box", c.key.split(':').next().unwrap_or("")), usize::from(c.boxed > 0));
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
            count(&format!("clash {}", key.split(':').next().unwrap_or("")), 1);
        }
        for m in a.to_measure.iter().filter(|m| m.key.starts_with("joint:")) {
            count("value wanted at a joint", m.wanted.len());
            let bridge = format!("bridge:{}:0", m.key.trim_start_matches("joint:"));
            count("open bridge", usize::from(a.companions.iter().any(|c| c.key == bridge)));
        }
        count("value measured at a port", a.measured.iter().filter(|m| !m.positions.is_empty()).count());
        for key in a.to_measure.iter().map(|c| &c.key) {
            count(&format!("open {}", key.split(':').next().unwrap_or("")), 1);
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
            .filter(|c| c.key.starts_with("limit:"))
            .filter(|c| c.remedies.iter().filter_map(|r| r.choice.as_ref()).any(|(pos, _)| !chosen(pos)));
        count("dear remedy", dear.count());
        count("lost job", a.surplus.iter().filter(|s| s.lost_job).count());
    }
    let wanted = [
        "apart",
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
        "fluid",
        "in a box",
        "joint",
        "joint of a renewal",
        "kit in a box",
        "left out with another",
        "lost job",
        "lost job of a choice",
        "need",
        "open bridge",
        "open joint",
        "open limit",
        "position",
        "renewal left out",
        "spare in a box",
        "second container of a fluid",
        "second of a chain",
        "service for several",
        "survey",
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
        "classes": {"pump": {"name": "pump"}, "filter": {"name": "filter"}, "sleeves": {"name": "sleeve", "free": true}},
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
    let bridges: Vec<&str> =
        a.companions.iter().filter(|c| c.key.starts_with("bridge:")).map(|c| c.part.as_str()).collect();
    assert_eq!(bridges, ["cheap", "cheap"]);
    assert_eq!(findings(&a).companions, oracle::assess(&file, &sheet).companions);
}
