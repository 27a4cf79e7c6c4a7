//! Parts go into places that follow and nowhere else, the best by the written order, and each earns its place.

use serde_json::{Value as Json, json};

use super::super::least::{
    Least, clashes, companions, fitted, lines, merge, put_in, remedies, shelf, two_ways,
};
use crate::assessment::Order;
use crate::sheet::{LineState, Route, Verdict};

/// A carburettor, which the owner decides, and the air cleaner on its neck.
fn necks(cleaner: &str) -> Least {
    Least::new(necks_json(cleaner))
}

fn necks_json(cleaner: &str) -> Json {
    let neck = |size: &str| json!({"type": "neck", "fields": {"across": size}});
    let carburettor = |size: &str| json!({"class": "carburettor", "ports": {"neck": neck(size)}});
    let cleaner_of = |size: &str| json!({"class": "cleaner", "ports": {"throat": neck(size)}});
    json!({
        "classes": {"carburettor": {"decided": "owner"}, "cleaner": {"decided": cleaner}},
        "port_types": {"neck": {"fields": {"across": {"kind": "length", "rule": "equal", "within": "1 mm"}}}},
        "parts": {
            "old-carburettor": carburettor("67 mm"), "wide-carburettor": carburettor("108 mm"),
            "old-cleaner": cleaner_of("67 mm"), "wide-cleaner": cleaner_of("108 mm"),
        },
        "vehicle": {
            "positions": {"carburettor": "old-carburettor", "cleaner": "old-cleaner"},
            "joints": {"neck": ["carburettor.neck", "cleaner.throat"]},
        },
    })
}

#[test]
fn the_cleaner_follows_the_carburettor() {
    let plan = necks("follows").convert("carburettor", "wide-carburettor");
    assert_eq!(plan.decided(), ["cleaner: wide-cleaner"]);
    let a = plan.assess();
    assert_eq!((clashes(&a), fitted(&a, "cleaner").as_deref()), (vec![], Some("wide-cleaner")));
    assert!(shelf(&a).contains(&"cleaner"));
}

/// Nobody buys a carburettor for the sake of a cleaner.
#[test]
fn the_carburettor_does_not_follow_the_cleaner() {
    let plan = necks("follows").convert("cleaner", "wide-cleaner");
    assert_eq!(plan.decided(), [""; 0]);
    let a = plan.assess();
    assert_eq!((companions(&a), clashes(&a)), (vec![], vec!["joint:neck".to_owned()]));
    assert_eq!(fitted(&a, "carburettor").as_deref(), Some("old-carburettor"));
    let cures = a.clashes[0].remedies.iter().filter_map(|r| r.choice.clone());
    let cures: Vec<String> = cures.map(|(place, part)| format!("{place}: {part}")).collect();
    assert_eq!(cures, ["carburettor: wide-carburettor", "cleaner: old-cleaner"]);
}

#[test]
fn the_place_of_the_owner_is_never_exchanged() {
    let plan = necks("owner").convert("carburettor", "wide-carburettor");
    assert_eq!(plan.decided(), [""; 0]);
    let a = plan.assess();
    assert_eq!(clashes(&a), ["joint:neck"]);
    assert!(remedies(&a).contains(&"fit wide-cleaner as cleaner".to_owned()), "{:?}", remedies(&a));
}

/// The same where it is the owner who said that it stays.
#[test]
fn nor_is_what_the_owner_said_stays() {
    for route in [Route::Keep, Route::Clean, Route::Rebuild, Route::Renew] {
        let plan = necks("follows").convert("carburettor", "wide-carburettor").choose("cleaner", route);
        assert_eq!(plan.decided(), [""; 0]);
        assert_eq!(clashes(&plan.assess()), ["joint:neck"]);
    }
}

/// Of two cleaners that fit the cheaper goes in, unless the dearer is on the bench already.
#[test]
fn what_is_in_hand_is_free() {
    let mut library = necks_json("follows");
    merge(
        &mut library,
        json!({"parts": {"dear-cleaner": {
            "class": "cleaner", "ports": {"throat": {"type": "neck", "fields": {"across": "108 mm"}}}, "price": "99.00 USD",
        }}}),
    );
    let plan = Least::new(library).convert("carburettor", "wide-carburettor");
    assert_eq!(plan.decided(), ["cleaner: wide-cleaner"]);
    for state in [LineState::OnOrder, LineState::SentBack] {
        assert_eq!(plan.clone().line("dear-cleaner", state).decided(), ["cleaner: wide-cleaner"]);
    }
    for state in [LineState::InHand, LineState::Fitted] {
        assert_eq!(plan.clone().line("dear-cleaner", state).decided(), ["cleaner: dear-cleaner"]);
    }
}

/// A pump that must have a hose; no hose is there.
fn no_hose(decided: &str) -> Least {
    Least::new(json!({
        "classes": {"hose": {"decided": decided}},
        "parts": {
            "new-pump": {"class": "pump", "ports": {"outlet": {"type": "barb", "alone": "required"}}},
            "rubber-hose": {"class": "hose", "ports": {"end": "barb"}},
        },
        "vehicle": {
            "positions": {"hose": null, "pump": null}, "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
    .convert("pump", "new-pump")
}

#[test]
fn an_empty_place_is_filled_where_it_follows_and_not_where_it_is_the_owners() {
    assert_eq!(no_hose("follows").decided(), ["hose: rubber-hose"]);
    assert_eq!(no_hose("owner").decided(), [""; 0]);
    let a = no_hose("owner").assess();
    assert_eq!(clashes(&a), ["joint:fuel"]);
    assert!(remedies(&a).contains(&"fit rubber-hose as hose".to_owned()), "{:?}", remedies(&a));
}

/// A place of a free class follows as well.
#[test]
fn a_place_of_a_free_class_follows() {
    let plan = |classes: Json| {
        Least::new(json!({
            "classes": classes,
            "parts": {
                "electric-pump": {"class": "pump", "needs": ["feed"]},
                "small-relay": {"class": "relay", "offers": ["feed"]},
            },
            "vehicle": {"positions": {"pump": null, "relay": null}},
        }))
        .convert("pump", "electric-pump")
    };
    assert_eq!(plan(json!({"relay": {"free": true}})).decided(), ["relay: small-relay"]);
    assert_eq!(plan(json!({"relay": {"decided": "owner"}})).decided(), [""; 0]);
}

/// A new pump of another size, a hose to the filter, and the filter on a bracket that takes either. Neither the hose nor the
/// filter alone helps.
fn two_in_a_row(filter: &str) -> Least {
    let hose = |size: &str| json!({"class": "hose", "ports": {"front": size, "rear": size}});
    let filter_of = |size: &str| json!({"class": "filter", "ports": {"inlet": size}});
    Least::new(json!({
        "classes": {"filter": {"decided": filter}},
        "parts": {
            "new-pump": {"class": "pump", "ports": {"outlet": "5/16"}},
            "old-filter": filter_of("3/8"), "small-filter": filter_of("5/16"),
            "old-hose": hose("3/8"), "small-hose": hose("5/16"),
        },
        "vehicle": {
            "positions": {"filter": "old-filter", "hose": "old-hose", "pump": null},
            "joints": {"front": ["pump.outlet", "hose.front"], "rear": ["hose.rear", "filter.inlet"]},
        },
    }))
    .convert("pump", "new-pump")
}

#[test]
fn two_neighbours_are_exchanged_together_where_one_alone_clears_nothing() {
    let plan = two_in_a_row("follows");
    let apart = |choices: &[(&str, &str)]| plan.derive(&put_in(choices)).order.apart;
    assert_eq!(apart(&[]), 1);
    assert_eq!(apart(&[("hose", "small-hose")]), 1);
    assert_eq!(apart(&[("filter", "small-filter")]), 2);
    assert_eq!(plan.decided(), ["filter: small-filter", "hose: small-hose"]);
    assert_eq!(plan.assess().order.taken_off, 2);
}

#[test]
fn where_one_of_them_is_the_owners_neither_is() {
    let plan = two_in_a_row("owner");
    assert_eq!(plan.decided(), [""; 0]);
    assert_eq!(clashes(&plan.assess()), ["joint:front"]);
}

/// A manifold of another size breaks what hangs on it all round.
#[test]
fn all_that_a_part_would_break_goes_with_it() {
    let hung = |class: &str, size: &str| json!({"class": class, "ports": {"to": size}});
    let manifold = |size: &str| json!({"class": "manifold", "ports": {"front": size, "pump": size, "rear": size, "top": size}});
    let plan = |top: &str| {
        Least::new(json!({
            "classes": {"top": {"decided": top}},
            "parts": {
                "new-pump": hung("pump", "5/16"), "old-manifold": manifold("3/8"), "small-manifold": manifold("5/16"),
                "old-front": hung("front", "3/8"), "small-front": hung("front", "5/16"),
                "old-rear": hung("rear", "3/8"), "small-rear": hung("rear", "5/16"),
                "old-top": hung("top", "3/8"), "small-top": hung("top", "5/16"),
            },
            "vehicle": {
                "positions": {
                    "front": "old-front", "manifold": "old-manifold", "pump": null, "rear": "old-rear", "top": "old-top",
                },
                "joints": {
                    "at-front": ["manifold.front", "front.to"], "at-pump": ["manifold.pump", "pump.to"],
                    "at-rear": ["manifold.rear", "rear.to"], "at-top": ["manifold.top", "top.to"],
                },
            },
        }))
        .convert("pump", "new-pump")
        .decided()
    };
    let all = ["front: small-front", "manifold: small-manifold", "rear: small-rear", "top: small-top"];
    assert_eq!(plan("follows"), all);
    assert_eq!(plan("owner"), [""; 0]);
}

/// An adapter closes the joint for so much; a hose of the right size costs 10 and would do without it.
fn adapter(hose: &str) -> Least {
    Least::new(json!({
        "free": ["adapter"],
        "parts": {
            "brass-adapter": {"class": "adapter", "bridges": ["one", "other"], "ports": {"one": "5/16", "other": "3/8"}, "price": "90.00 USD"},
            "new-pump": {"class": "pump", "ports": {"outlet": "5/16"}},
            "old-hose": {"class": "hose", "ports": {"end": hose}},
            "small-hose": {"class": "hose", "ports": {"end": "5/16"}},
        },
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": null}, "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
    .convert("pump", "new-pump")
}

#[test]
fn nothing_is_put_in_for_money_alone() {
    let plan = adapter("3/8").survey("hose", Verdict::Watch);
    assert_eq!(plan.decided(), [""; 0]);
    assert_eq!(companions(&plan.assess()), ["bridge:fuel:0: 1 brass-adapter"]);
    assert_eq!(adapter("barb").decided(), ["hose: small-hose"]);
}

/// A worn part on the left is renewed for 90, and another that offers nothing costs 2. The place is looked at because a box
/// there would offer the feed as well.
#[test]
fn nothing_is_put_in_for_money_alone_where_something_else_is_decided_beside_it() {
    let plan = |left: &str| {
        let more = json!({
            "parts": {
                "left-box": {"price": left}, "plain-left": {"class": "left", "price": "2.00 USD"},
                "worn-left": {"class": "left", "price": "90.00 USD"},
            },
            "vehicle": {"positions": {"left": "worn-left"}},
        });
        two_ways(more).survey("left", Verdict::Renew).decided()
    };
    assert_eq!(plan("111.00 USD"), ["right: right-box"]);
    assert_eq!(plan("109.00 USD"), ["left: left-box"]);
}

/// Two hoses of the size that is wanted, one of them worse by its length.
fn picked(long: &str, pick: &str) -> Vec<String> {
    let hose = |mm: &str, price: &str| json!({"class": "hose", "ports": {"end": "5/16"}, "figures": {"length": mm}, "price": price});
    Least::new(json!({
        "figures": {"length": "length"},
        "limits": {"reach": {"calc": "at-least", "inputs": {
            "have": {"class": "hose", "figure": "length"}, "want": {"value": "300 mm"},
        }}},
        "parts": {
            "long-hose": hose(long, "90.00 USD"), "plain-hose": hose("300 mm", "10.00 USD"),
            "new-pump": {"class": "pump", "ports": {"outlet": {"type": "5/16", "alone": "required"}}},
        },
        "vehicle": {
            "positions": {"hose": null, "pump": null}, "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
    .convert("pump", "new-pump")
    .pick("position:hose", pick)
    .decided()
}

#[test]
fn a_pick_is_followed_where_it_does_as_well_and_passed_over_where_it_breaks_more() {
    assert_eq!(picked("300 mm", "long-hose"), ["hose: long-hose"]);
    assert_eq!(picked("299 mm", "long-hose"), ["hose: plain-hose"]);
    assert_eq!(picked("300 mm", "plain-hose"), ["hose: plain-hose"]);
}

/// A pick says which part goes in, not that one does.
#[test]
fn a_pick_alone_puts_nothing_in() {
    let plan = necks("follows").pick("position:cleaner", "wide-cleaner");
    assert_eq!(plan.decided(), [""; 0]);
}

/// What is renewed anyway is exchanged as it would be: it is no sound part.
#[test]
fn what_is_condemned_is_not_counted_as_taken_off() {
    let exchanged = |verdict: Verdict| {
        let plan = necks("follows").convert("carburettor", "wide-carburettor").survey("cleaner", verdict);
        assert_eq!(plan.decided(), ["cleaner: wide-cleaner"]);
        plan.assess().order.taken_off
    };
    assert_eq!(exchanged(Verdict::Good), 1);
    assert_eq!((exchanged(Verdict::Watch), exchanged(Verdict::Stop)), (0, 0));
}

/// A kit whose hose does not fit the pump that the owner keeps.
fn kit(hose: &str) -> Least {
    Least::new(json!({
        "classes": {"hose": {"decided": hose}},
        "parts": {
            "carburettor-kit": {"class": "carburettor", "contents": ["wide-hose"]},
            "old-pump": {"class": "pump", "ports": {"outlet": "3/8"}},
            "plain-hose": {"class": "hose", "ports": {"end": "3/8"}},
            "wide-hose": {"class": "hose", "ports": {"end": "1/2"}},
        },
        "vehicle": {
            "positions": {"carburettor": null, "hose": null, "pump": "old-pump"},
            "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
    .convert("carburettor", "carburettor-kit")
    .choose("pump", Route::Keep)
}

#[test]
fn what_a_kit_brings_is_exchanged_where_it_follows_and_stays_in_the_box() {
    assert_eq!(kit("follows").decided(), ["hose: plain-hose"]);
    let a = kit("follows").assess();
    let boxes: Vec<(&str, u32, u32)> = a.boxes.iter().map(|l| (l.name.as_str(), l.qty, l.spare)).collect();
    assert_eq!(boxes, [("wide-hose", 1, 1)]);
    assert_eq!(lines(&a).len(), 2, "{:?}", lines(&a));
    assert_eq!(kit("owner").decided(), [""; 0]);
    assert_eq!(clashes(&kit("owner").assess()), ["joint:fuel"]);
}

/// A kit for the place of the pump brings the hose along, which closes the joint of another: one decision serves both.
#[test]
fn what_a_decided_kit_brings_is_not_put_in_beside_it() {
    let plan = |price: &str| {
        let inlet = json!({"type": "barb", "alone": "required"});
        Least::new(json!({
            "parts": {
                "new-carburettor": {"class": "carburettor", "needs": ["lift"], "ports": {"inlet": inlet}},
                "new-hose": {"class": "hose", "ports": {"end": "barb"}},
                "new-pump": {"class": "pump", "offers": ["lift"]},
                "pump-kit": {"class": "pump", "offers": ["lift"], "contents": ["new-hose"], "price": price},
            },
            "vehicle": {
                "positions": {"carburettor": null, "hose": null, "pump": null},
                "joints": {"fuel": ["carburettor.inlet", "hose.end"]},
            },
        }))
        .convert("carburettor", "new-carburettor")
        .decided()
    };
    assert_eq!(plan("19.99 USD"), ["pump: pump-kit"]);
    assert_eq!(plan("20.01 USD"), ["hose: new-hose", "pump: new-pump"]);
}

#[test]
fn where_nothing_is_broken_nothing_is_decided() {
    let a = necks("follows").assess();
    assert!(a.proved);
    assert_eq!(a.order, Order::default());
    assert_eq!(necks("follows").decided(), [""; 0]);
}

/// Shelves that are to carry more than all that is for sale: every choice comes to the same.
fn shelves(many: usize) -> Least {
    let mut library = json!({
        "figures": {"carries": "mass"},
        "limits": {"load": {"calc": "at-least", "inputs": {
            "have": {"sum": []}, "want": {"class": "box", "figure": "carries"},
        }}},
        "parts": {"new-box": {"class": "box", "figures": {"carries": "900 kg"}}},
        "vehicle": {"positions": {"box": null}},
    });
    for n in 0..many {
        let class = format!("shelf-{n}");
        let input = json!({"class": class, "figure": "carries", "else": "0 kg"});
        library["limits"]["load"]["inputs"]["have"]["sum"]
            .as_array_mut()
            .into_iter()
            .for_each(|sum| sum.push(input.clone()));
        library["vehicle"]["positions"][&class] = Json::Null;
        for kg in 1..5 {
            library["parts"][format!("{class}-of-{kg}")] =
                json!({"class": class, "figures": {"carries": format!("{kg} kg")}});
        }
    }
    Least::new(library).convert("box", "new-box")
}

#[test]
fn a_search_that_is_cut_off_is_told() {
    assert_eq!(shelves(3).decided(), [""; 0]);
    let a = shelves(8).assess_anyway();
    assert!(a.problems.iter().any(|p| p.contains("not every choice")), "{:?}", a.problems);
    assert!(!a.proved);
    assert_eq!((companions(&a), clashes(&a)), (vec![], vec!["limit:load".to_owned()]));
}

/// What goes in for one thing is the same whether or not another is decided beside it.
#[test]
fn groups_that_touch_nothing_of_each_other_are_settled_each_by_itself() {
    let two = two_ways(json!({
        "parts": {
            "new-lamp": {"class": "lamp", "ports": {"socket": {"type": "bayonet", "alone": "required"}}},
            "plain-bulb": {"class": "bulb", "ports": {"cap": "bayonet"}},
        },
        "vehicle": {
            "positions": {"bulb": null, "lamp": null}, "joints": {"socket": ["lamp.socket", "bulb.cap"]},
        },
    }));
    assert_eq!(two.decided(), ["left: left-box"]);
    assert_eq!(two.convert("lamp", "new-lamp").decided(), ["bulb: plain-bulb", "left: left-box"]);
}

/// What the survey condemned is renewed by the same part, whatever another would cost: nothing is put in for money alone.
#[test]
fn what_is_condemned_is_renewed_by_the_same_part() {
    let a = Least::new(json!({
        "parts": {"old-hose": {"class": "hose", "price": "90.00 USD"}, "plain-hose": "hose"},
        "vehicle": {"positions": {"hose": "old-hose"}},
    }))
    .survey("hose", Verdict::Stop)
    .assess();
    assert_eq!(companions(&a), ["survey:hose: 1 old-hose"]);
}

/// A gearbox that takes another driven gear than the old one, and gears with which it reads so much.
fn speedometer(gears: &[(&str, &str, &str)]) -> Vec<String> {
    let seat = |bore: &str| json!({"box": {"type": "seat", "fields": {"bore": bore}}});
    let mut parts = json!({
        "new-box": {"class": "gearbox", "ports": seat("22 mm"), "figures": {"drive": "7"}},
        "old-gear": {"class": "gear", "ports": seat("19 mm"), "figures": {"driven": "20"}},
    });
    for (id, teeth, price) in gears {
        parts[*id] =
            json!({"class": "gear", "ports": seat("22 mm"), "figures": {"driven": teeth}, "price": price});
    }
    Least::new(json!({
        "classes": {"gear": {}, "gearbox": {"decided": "owner"}},
        "figures": {"drive": "count", "driven": "count"},
        "port_types": {"seat": {"fields": {"bore": {"kind": "length", "rule": "equal"}}}},
        "limits": {"reading": {"calc": "speedometer", "inputs": {
            "axle-ratio": {"value": "3.9"}, "tyre-revs": {"value": "741 rev/mile"}, "head": {"value": "1000 rev/mile"},
            "drive-teeth": {"class": "gearbox", "figure": "drive"}, "driven-teeth": {"class": "gear", "figure": "driven"},
            "reads-high-least": {"value": "0"}, "reads-high-most": {"value": "4 %"},
        }}},
        "parts": parts,
        "vehicle": {
            "positions": {"gear": "old-gear", "gearbox": null},
            "joints": {"drive": ["gearbox.box", "gear.box"]},
        },
    }))
    .convert("gearbox", "new-box")
    .decided()
}

#[test]
fn of_gears_that_all_read_wrong_the_nearest_goes_in_though_it_is_dearer() {
    // 741 x 3.9 x 7 / teeth: 19 reads +6.5 %, 22 reads -8.0 %, 24 reads -15.7 %
    let all = [("gear-19", "19", "30 USD"), ("gear-22", "22", "20 USD"), ("gear-24", "24", "10 USD")];
    assert_eq!(speedometer(&all), ["gear: gear-19"]);
    // one that holds goes before all, of those that are as near the cheaper
    let with = [all[0], ("gear-20", "20", "90 USD"), ("gear-20-dear", "20", "99 USD")];
    assert_eq!(speedometer(&with), ["gear: gear-20"]);
}

#[test]
fn nothing_goes_in_only_to_be_nearer() {
    let part = |teeth: &str| json!({"class": "gear", "figures": {"driven": teeth}});
    let least = Least::new(json!({
        "classes": {"axle": {"decided": "owner"}, "gear": {}},
        "figures": {"driven": "count", "ratio": "ratio"},
        "limits": {"reading": {"calc": "speedometer", "inputs": {
            "axle-ratio": {"class": "axle", "figure": "ratio"}, "tyre-revs": {"value": "741 rev/mile"},
            "head": {"value": "1000 rev/mile"}, "drive-teeth": {"value": "7"},
            "driven-teeth": {"class": "gear", "figure": "driven"},
            "reads-high-least": {"value": "0"}, "reads-high-most": {"value": "4 %"},
        }}},
        "parts": {
            "tall-axle": {"class": "axle", "figures": {"ratio": "3.55"}},
            "gear-19": part("19"), "gear-20": part("20"),
        },
        "vehicle": {"positions": {"axle": null, "gear": "gear-20"}},
    }));
    // 20 teeth read -7.9 %, 19 would read -3.1 %
    assert_eq!(
        least.convert("axle", "tall-axle").survey("gear", Verdict::Watch).decided(),
        Vec::<String>::new()
    );
}

/// The box wants a slave cylinder and another nose on the bearing. The ring slave does without the bearing, the plain one
/// goes with a new one. The sound bearing goes off either way, so that the price decides.
#[test]
fn what_leaves_a_place_empty_takes_off_what_was_there() {
    let plan = |ring: &str| {
        Least::new(json!({
            "classes": {"box": {"decided": "owner"}},
            "parts": {
                "five-speed": {"class": "box", "ports": {"nose": "35", "seat": {"type": "seat", "alone": "required"}}},
                "new-bearing": {"class": "bearing", "ports": {"nose": "35"}, "price": "46.00 USD"},
                "old-bearing": {"class": "bearing", "ports": {"nose": "36"}},
                "old-box": {"class": "box", "ports": {"nose": "36"}},
                "plain-slave": {"class": "slave", "ports": {"seat": "seat"}, "price": "74.00 USD"},
                "ring-slave": {"class": "slave", "ports": {"seat": "seat"}, "price": ring, "leaves_empty": ["bearing"]},
            },
            "vehicle": {
                "positions": {"bearing": "old-bearing", "box": "old-box", "slave": null},
                "joints": {"nose": ["box.nose", "bearing.nose"], "seat": ["box.seat", "slave.seat"]},
            },
        }))
        .convert("box", "five-speed")
    };
    assert_eq!(plan("305.00 USD").decided(), ["bearing: new-bearing", "slave: plain-slave"]);
    assert_eq!(plan("100.00 USD").decided(), ["slave: ring-slave"]);
}
