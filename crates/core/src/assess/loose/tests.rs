//! A universal joint is a place on one vehicle and a loose part on another; so are plugs, gaskets, flashers and all that
//! is free.

use serde_json::{Value as Json, json};

use super::super::least::{Least, clashes, companions, fitted};
use crate::sheet::Route;

fn flange(size: &str) -> Json {
    json!({"type": "flange", "fields": {"bolts": size}})
}

/// A joint goes between a shaft and a gearbox whose flanges differ.
fn joint(from: &str, to: &str, price: &str) -> Json {
    json!({"class": "universal-joint", "price": price, "bridges": ["in", "out"],
        "ports": {"in": flange(from), "out": flange(to)}})
}

/// A driveline on a vehicle with or without a place for the universal joint.
fn driveline(has_place: bool) -> Json {
    let ends = |a: &str, pa: &str, b: &str, pb: &str| json!({"ends": [{"at": a, "port": pa}, {"at": b, "port": pb}]});
    let mut json = json!({
        "classes": {"gearbox": {}, "shaft": {}, "universal-joint": {"free": true}},
        "port_types": {"flange": {"fields": {"bolts": {"kind": "length", "rule": "equal"}}}},
        "parts": {
            "old-gearbox": {"class": "gearbox", "ports": {"out": flange("60 mm")}},
            "new-gearbox": {"class": "gearbox", "ports": {"out": flange("70 mm")}},
            "old-shaft": {"class": "shaft", "price": null, "ports": {"in": flange("60 mm")}},
            "plain": joint("60 mm", "60 mm", "20 USD"),
            "stepped": joint("70 mm", "60 mm", "30 USD"),
        },
        "vehicle": {
            "positions": {"gearbox": {"as_found": "old-gearbox"}, "shaft": {"as_found": "old-shaft"}},
            "joints": {"drive": ends("gearbox", "out", "shaft", "in")},
        },
    });
    if has_place {
        json["vehicle"]["positions"]["universal-joint"] = json!({"as_found": "plain"});
        json["vehicle"]["joints"] = json!({
            "front": ends("gearbox", "out", "universal-joint", "in"),
            "rear": ends("universal-joint", "out", "shaft", "in"),
        });
    }
    json
}

#[test]
fn a_universal_joint_goes_between_where_it_has_no_place() {
    let a = Least::new(driveline(false)).convert("gearbox", "new-gearbox").assess();
    assert_eq!(companions(&a), ["bridge:drive:0: 1 stepped"]);
}

#[test]
fn a_universal_joint_with_a_place_is_exchanged_there() {
    let a = Least::new(driveline(true)).convert("gearbox", "new-gearbox").assess();
    assert_eq!(companions(&a), ["position:universal-joint: 1 stepped"]);
    assert_eq!(fitted(&a, "universal-joint").as_deref(), Some("stepped"));
}

/// Two joints one behind the other would close it; the owner keeps the one that is there.
#[test]
fn a_universal_joint_with_a_place_goes_between_no_others() {
    let a = Least::new(driveline(true))
        .convert("gearbox", "new-gearbox")
        .choose("universal-joint", Route::Keep)
        .assess();
    assert_eq!((clashes(&a), companions(&a)), (vec!["joint:front".to_owned()], Vec::new()));
}

/// Of two bridges with like ports the dearer is never looked at, but where the cheaper has a place of its own.
#[test]
fn a_dearer_bridge_serves_where_the_cheaper_has_a_place() {
    let mut json = driveline(true);
    json["classes"]["adapter"] = json!({"free": true});
    json["parts"]["wide-adapter"] = joint("70 mm", "60 mm", "90 USD");
    json["parts"]["wide-adapter"]["class"] = json!("adapter");
    let a = Least::new(json.clone())
        .convert("gearbox", "new-gearbox")
        .choose("universal-joint", Route::Keep)
        .assess();
    assert_eq!(companions(&a), ["bridge:front:0: 1 wide-adapter"]);
    // and on another vehicle of the same library the cheaper does
    json["vehicle"] = driveline(false)["vehicle"].take();
    let a = Least::new(json).convert("gearbox", "new-gearbox").assess();
    assert_eq!(companions(&a), ["bridge:drive:0: 1 stepped"]);
}

/// A manifold with a vacuum port that wants a plug once nothing hangs on it, and a booster that hung there.
fn vacuum() -> Json {
    let port = json!({"type": "vacuum", "alone": "cap"});
    json!({
        "classes": {"manifold": {}, "booster": {}, "plug": {"free": true}},
        "port_types": {"vacuum": {}},
        "parts": {
            "old-manifold": {"class": "manifold", "price": null, "ports": {"tap": port}},
            "old-booster": {"class": "booster", "ports": {"hose": {"type": "vacuum"}}},
            "rubber-plug": {"class": "plug", "ports": {"cap": {"type": "vacuum"}}},
        },
        "vehicle": {
            "positions": {"manifold": {"as_found": "old-manifold"}, "booster": {"as_found": "old-booster"}},
            "joints": {"hose": {"ends": [{"at": "manifold", "port": "tap"}, {"at": "booster", "port": "hose"}]}},
        },
    })
}

#[test]
fn a_plug_with_a_place_caps_no_other_port() {
    let a = Least::new(vacuum()).choose("booster", Route::LeaveOff).assess();
    assert_eq!(companions(&a), ["cap:hose: 1 rubber-plug"]);
    let mut json = vacuum();
    json["vehicle"]["positions"]["plug"] = json!({});
    let a = Least::new(json).choose("booster", Route::LeaveOff).assess();
    assert_eq!((companions(&a), clashes(&a)), (Vec::new(), vec!["joint:hose".to_owned()]));
}

/// A head on its block; their joint wants a gasket when it is opened.
fn engine() -> Json {
    let face = json!({"type": "face"});
    json!({
        "classes": {"head": {}, "block": {}, "gasket": {"free": true}},
        "port_types": {"face": {"opened": [{"class": "gasket", "why": "a gasket is pressed once"}]}},
        "parts": {
            "old-head": {"class": "head", "ports": {"face": face}},
            "old-block": {"class": "block", "ports": {"face": face}},
            "copper-gasket": {"class": "gasket", "ports": {"up": face, "down": face}},
        },
        "vehicle": {
            "positions": {"head": {"as_found": "old-head"}, "block": {"as_found": "old-block"}},
            "joints": {"head-on-block": {"ends": [{"at": "head", "port": "face"}, {"at": "block", "port": "face"}]}},
        },
    })
}

#[test]
fn a_gasket_with_a_place_is_renewed_there_when_its_joint_is_opened() {
    let a = Least::new(engine()).choose("head", Route::Renew).assess();
    assert_eq!(companions(&a), ["joint:head-on-block:gasket: 1 copper-gasket"]);
    let mut json = engine();
    json["vehicle"]["positions"]["gasket"] = json!({"as_found": "copper-gasket"});
    json["vehicle"]["joints"] = json!({
        "upper": {"ends": [{"at": "head", "port": "face"}, {"at": "gasket", "port": "up"}]},
        "lower": {"ends": [{"at": "gasket", "port": "down"}, {"at": "block", "port": "face"}]},
    });
    let a = Least::new(json.clone()).choose("head", Route::Renew).assess();
    assert_eq!(companions(&a), ["beside:gasket: 1 copper-gasket"]);
    // kept by the owner, or left out: it is not bought loose instead
    let kept = Least::new(json.clone()).choose("head", Route::Renew).choose("gasket", Route::Keep).assess();
    assert!(companions(&kept).is_empty());
    let out = Least::new(json).choose("head", Route::Renew).waive("beside:gasket").assess();
    assert_eq!(companions(&out), ["beside:gasket: 1 copper-gasket"]);
}

/// Lamps that want a flasher; a kit of lamps has one in its box.
fn lamps(place: Option<Json>) -> Least {
    let mut json = json!({
        "classes": {"lamps": {}, "flasher": {"free": true}},
        "needs": {"flash": {"kind": "present"}},
        "parts": {
            "old-lamps": {"class": "lamps"},
            "led-lamps": {"class": "lamps", "needs": {"flash": "present"}},
            "led-kit": {"class": "lamps", "needs": {"flash": "present"}, "contents": [{"part": "boxed-flasher"}]},
            "new-flasher": {"class": "flasher", "price": "9 USD", "offers": {"flash": "present"}},
            "boxed-flasher": {"class": "flasher", "offers": {"flash": "present"}},
            "dead-flasher": {"class": "flasher", "price": null},
        },
        "vehicle": {"positions": {"lamps": {"as_found": "old-lamps"}}},
    });
    if let Some(place) = place {
        json["vehicle"]["positions"]["flasher"] = place;
    }
    Least::new(json)
}

#[test]
fn a_flasher_is_bought_for_its_place_where_it_has_one() {
    let told = |place| companions(&lamps(place).convert("lamps", "led-lamps").assess());
    assert_eq!(told(None), ["need:lamps:led-lamps:flash: 1 new-flasher"]);
    assert_eq!(told(Some(json!({}))), ["position:flasher: 1 new-flasher"]);
    assert!(told(Some(json!({"as_found": "new-flasher"}))).is_empty());
}

#[test]
fn what_lies_in_a_box_goes_to_its_place() {
    let a = lamps(None).convert("lamps", "led-kit").assess();
    assert_eq!(companions(&a), ["need:lamps:led-kit:flash: 1 boxed-flasher (1 in a box)"]);
    let a = lamps(Some(json!({"as_found": "new-flasher"}))).convert("lamps", "led-kit").assess();
    assert_eq!(fitted(&a, "flasher").as_deref(), Some("boxed-flasher"));
    // where the owner keeps what is there it does not serve out of the box
    let place = json!({"as_found": "dead-flasher"});
    let a = lamps(Some(place)).convert("lamps", "led-kit").choose("flasher", Route::Keep).assess();
    assert_eq!((companions(&a), clashes(&a)), (Vec::new(), vec!["need:lamps:led-kit:flash".to_owned()]));
}
