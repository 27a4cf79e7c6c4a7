//! Every content of a kit is a line at no price, and nothing that lies in a box is sold again.

use serde_json::{Value as Json, json};

use super::super::least::{Least, companions, fitted};
use crate::assessment::{Assessment, BuyRow};
use crate::box_key::BoxKey;
use crate::sheet::{Line, LineState, Route, Verdict};

/// A brake kit for the front axle. Hoses have a place of their own; washers have none, and a hose that comes off wants
/// two; a clip goes nowhere.
fn brakes(contents: Json) -> Least {
    Least::new(json!({
        "classes": {"brakes": {}, "hoses": {}, "valve": {}, "washer": {"free": true}, "clip": {"free": true}},
        "port_types": {"bolt": {"opened": [{"class": "washer", "qty": 2}]}},
        "parts": {
            "drums": {"class": "brakes", "ports": {"inlet": {"type": "bolt"}}},
            "disc-kit": {
                "class": "brakes", "price": "300.00 USD", "ports": {"inlet": {"type": "bolt"}}, "contents": contents,
            },
            "old-hose": {"class": "hoses", "ports": {"end": {"type": "bolt"}}},
            "long-hose": {"class": "hoses", "price": "20.00 USD", "ports": {"end": {"type": "bolt"}}},
            "washer-10": {"class": "washer", "price": "1.00 USD"},
            "clip-frame": {"class": "clip", "price": "2.00 USD"},
            "valve-2": {"class": "valve", "price": "50.00 USD"},
        },
        "vehicle": {
            "positions": {
                "brakes": {"as_found": "drums"},
                "hoses": {"as_found": "old-hose", "qty": 2},
                "valve": {"as_found": "valve-2"},
            },
            "joints": {
                "inlet": {"qty": 2, "ends": [{"at": "brakes", "port": "inlet"}, {"at": "hoses", "port": "end"}]},
            },
        },
    }))
}

fn contents(list: &[(&str, u32)]) -> Json {
    list.iter().map(|(part, qty)| json!({"part": part, "qty": qty})).collect()
}

/// Contents as `kit/part: 4, 2 here; 1 there, in hand`.
fn boxes(a: &Assessment) -> Vec<String> {
    let told = |l: &crate::assessment::BoxLine| {
        format!("{}: {}, {}, {}", l.key, l.qty, l.goes_text(), l.state.word())
    };
    a.boxes.iter().map(told).collect()
}

fn bought(a: &Assessment) -> Vec<(&str, u32)> {
    a.buy.iter().map(|l| (l.part.as_str(), l.qty)).collect()
}

#[test]
fn every_content_is_a_line_that_says_where_it_goes() {
    let kit = contents(&[("clip-frame", 2), ("long-hose", 2), ("washer-10", 3)]);
    let a = brakes(kit).convert("brakes", "disc-kit").assess();
    assert_eq!(
        boxes(&a),
        [
            "disc-kit/clip-frame: 2, spare, to buy",
            "disc-kit/long-hose: 2, hoses, to buy",
            "disc-kit/washer-10: 3, inlet, to buy",
        ]
    );
    // four washers are wanted, and the fourth is bought
    assert_eq!(companions(&a), ["joint:inlet:washer: 4 washer-10 (3 in a box)"]);
    assert_eq!(bought(&a), [("disc-kit", 1), ("washer-10", 1)]);
    assert_eq!((a.totals.lines, a.totals.money.to_come.text("USD")), (2, "301.00 USD".to_owned()));
}

#[test]
fn contents_stand_below_their_kit() {
    let a = brakes(contents(&[("long-hose", 2), ("clip-frame", 2)])).convert("brakes", "disc-kit").assess();
    let lines: Vec<_> = a.buy.iter().collect();
    let told = a.with_boxes(&lines).into_iter().map(|row| match row {
        BuyRow::Line(l) => l.part.clone(),
        BuyRow::Boxed(l, depth) => format!("{depth} {}", l.key.part),
    });
    assert_eq!(told.collect::<Vec<_>>(), ["disc-kit", "1 clip-frame", "1 long-hose", "washer-10"]);
}

/// A kit in hand has its contents in hand, until one of them says otherwise.
#[test]
fn a_content_stands_where_its_kit_stands_or_where_its_own_line_says() {
    let mut least = brakes(contents(&[("clip-frame", 2), ("long-hose", 2)])).convert("brakes", "disc-kit");
    let mut say = |key: &str, state| {
        least.sheet.lines.insert(key.to_owned(), Line { state, ..Line::default() });
        let a = least.assess();
        let hoses = a.positions.iter().find(|p| p.id == "hoses").map(|p| p.line);
        (a.boxes.iter().map(|l| l.state).collect::<Vec<_>>(), hoses)
    };
    use LineState::{Fitted, InHand};
    assert_eq!(say("disc-kit", InHand), (vec![InHand, InHand], Some(InHand)));
    assert_eq!(say("disc-kit/long-hose", Fitted), (vec![InHand, Fitted], Some(Fitted)));
    let key = BoxKey { kit: "disc-kit".to_owned(), part: "long-hose".to_owned() };
    assert_eq!(least.assess().boxes[1].key, key);
}

/// More than its place takes lies in the box, and a place that the owner keeps takes none.
#[test]
fn what_does_not_fit_into_its_place_is_spare() {
    let a = brakes(contents(&[("long-hose", 3)])).convert("brakes", "disc-kit").assess();
    assert_eq!(boxes(&a), ["disc-kit/long-hose: 3, 2 hoses; 1 spare, to buy"]);
    let kept =
        brakes(contents(&[("long-hose", 3)])).convert("brakes", "disc-kit").choose("hoses", Route::Keep);
    assert_eq!(boxes(&kept.assess()), ["disc-kit/long-hose: 3, spare, to buy"]);
}

/// The owner chooses by himself what lies in the box as well.
#[test]
fn what_the_owner_chose_comes_out_of_the_box() {
    let a = brakes(contents(&[("long-hose", 2)]))
        .convert("brakes", "disc-kit")
        .convert("hoses", "long-hose")
        .assess();
    assert_eq!(boxes(&a), ["disc-kit/long-hose: 2, hoses, to buy"]);
    assert!(!bought(&a).iter().any(|(part, _)| *part == "long-hose"), "{:?}", bought(&a));
    // one in the box of two: the other is bought
    let a = brakes(contents(&[("long-hose", 1)]))
        .convert("brakes", "disc-kit")
        .convert("hoses", "long-hose")
        .assess();
    assert!(bought(&a).contains(&("long-hose", 1)), "{:?}", bought(&a));
}

/// The survey stops the valve, which is kept; the same valve lies in the box.
#[test]
fn a_renewal_of_the_survey_comes_out_of_the_box() {
    let mut least = brakes(contents(&[("valve-2", 1)]))
        .convert("brakes", "disc-kit")
        .choose("valve", Route::Keep)
        .survey("valve", Verdict::Stop);
    let a = least.assess();
    assert!(
        companions(&a).contains(&"survey:valve: 1 valve-2 (1 in a box)".to_owned()),
        "{:?}",
        companions(&a)
    );
    assert_eq!(boxes(&a), ["disc-kit/valve-2: 1, valve, to buy"]);
    // ticked off in the box it is cured
    least
        .sheet
        .lines
        .insert("disc-kit/valve-2".to_owned(), Line { state: LineState::Fitted, ..Line::default() });
    let c = least.assess().companions.into_iter().find(|c| c.key == "survey:valve");
    assert_eq!(c.map(|c| c.line), Some(LineState::Fitted));
}

/// What is left out leaves the piece in the box to others.
#[test]
fn what_is_left_out_takes_nothing() {
    let a = brakes(contents(&[("long-hose", 2), ("washer-10", 4)]))
        .convert("brakes", "disc-kit")
        .waive("joint:inlet:washer")
        .assess();
    assert_eq!(a.boxes[1].spare, 4);
    let washers = a.companions.iter().find(|c| c.part == "washer-10").map(|c| (c.boxed, c.waived.is_some()));
    assert_eq!(washers, Some((0, true)));
}

/// A pump brings its filter, which does not fit the bowl; the engine puts in the one that does, and the box of a second
/// kit holds that very filter.
#[test]
fn a_place_filled_takes_the_part_out_of_the_box() {
    let port = |size: &str| json!({"type": "hose", "fields": {"bore": size}});
    let a = Least::new(json!({
        "classes": ["pump", "filter", "gauge"],
        "port_types": {"hose": {"fields": {"bore": {"kind": "length", "rule": "equal", "within": "0.5 mm"}}}},
        "parts": {
            "old-pump": {"class": "pump", "ports": {"out": port("8 mm")}},
            "new-pump": {"class": "pump", "ports": {"out": port("10 mm")}},
            "old-filter": {"class": "filter", "ports": {"in": port("8 mm")}},
            "filter-10": {"class": "filter", "price": "12.00 USD", "ports": {"in": port("10 mm")}},
            "gauge-kit": {"class": "gauge", "contents": [{"part": "filter-8", "qty": 1}, {"part": "filter-10", "qty": 1}]},
            "filter-8": {"class": "filter", "ports": {"in": port("8 mm")}},
        },
        "vehicle": {
            "positions": {"pump": {"as_found": "old-pump"}, "filter": {"as_found": "old-filter"}, "gauge": {}},
            "joints": {"feed": {"ends": [{"at": "pump", "port": "out"}, {"at": "filter", "port": "in"}]}},
        },
    }))
    .convert("pump", "new-pump")
    .convert("gauge", "gauge-kit")
    .assess();
    assert_eq!(fitted(&a, "filter").as_deref(), Some("filter-10"));
    // one place, two contents of its class: the second makes the first spare
    assert_eq!(boxes(&a), ["gauge-kit/filter-10: 1, filter, to buy", "gauge-kit/filter-8: 1, spare, to buy"]);
    assert_eq!(bought(&a), [("gauge-kit", 1), ("new-pump", 1)]);
}

/// A fan is a kit with its brackets, and comes in the box of a radiator; the owner chose that fan himself too.
#[test]
fn a_kit_in_a_kit_tells_its_contents_once() {
    let least = || {
        Least::new(json!({
            "classes": {"radiator": {}, "fan": {}, "bracket": {"free": true}},
            "parts": {
                "set": {"class": "radiator", "price": "300.00 USD", "contents": [{"part": "slim-fan", "qty": 1}]},
                "slim-fan": {"class": "fan", "price": "90.00 USD", "contents": [{"part": "rail", "qty": 2}]},
                "rail": {"class": "bracket"},
            },
            "vehicle": {"positions": {"radiator": {}, "fan": {}}},
        }))
        .convert("radiator", "set")
    };
    let told = ["set/slim-fan: 1, fan, on order", "slim-fan/rail: 2, spare, on order"];
    for mut least in [least(), least().convert("fan", "slim-fan")] {
        least.sheet.lines.insert("set".to_owned(), Line { state: LineState::OnOrder, ..Line::default() });
        let a = least.assess();
        assert_eq!(boxes(&a), told);
        assert_eq!(bought(&a), [("set", 1)]);
        assert_eq!(a.with_boxes(&a.buy.iter().collect::<Vec<_>>()).len(), 3);
    }
}

/// A kit for a place of two is bought twice, and so are its contents.
#[test]
fn two_kits_have_two_boxes() {
    let a = Least::new(json!({
        "classes": {"wheels": {}, "tyres": {}, "nut": {"free": true}},
        "parts": {
            "steel": {"class": "wheels", "contents": [{"part": "cross-ply", "qty": 1}, {"part": "cone-nut", "qty": 5}]},
            "cross-ply": {"class": "tyres"}, "cone-nut": {"class": "nut"},
        },
        "vehicle": {"positions": {"wheels": {"qty": 4}, "tyres": {"qty": 4}}},
    }))
    .convert("wheels", "steel")
    .assess();
    assert_eq!(boxes(&a), ["steel/cone-nut: 20, spare, to buy", "steel/cross-ply: 4, tyres, to buy"]);
}

/// A line for what no box holds is told; one for a content is no money that lies idle.
#[test]
fn lines_of_contents_are_known_to_the_checks_of_a_sheet() {
    let mut least = brakes(contents(&[("long-hose", 2)])).convert("brakes", "disc-kit");
    for key in ["disc-kit/long-hose", "disc-kit/valve-2", "disc-kit/long-hoes"] {
        least.sheet.lines.insert(key.to_owned(), Line { state: LineState::InHand, ..Line::default() });
    }
    let told = crate::strangers::strangers(&least.sheet, super::super::least::PLAN, &least.catalogue);
    let told: Vec<(&str, &str)> = told.iter().map(|s| (s.path.as_str(), s.message.as_str())).collect();
    assert_eq!(
        told,
        [
            (
                "lines.disc-kit/long-hoes",
                "the library has no part \"long-hoes\"; did you mean \"long-hose\"? It is left out"
            ),
            ("lines.disc-kit/valve-2", "the box of \"disc-kit\" holds no \"valve-2\"; it is left out"),
        ]
    );
    assert!(least.assess().idle.is_empty());
}
