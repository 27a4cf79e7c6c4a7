//! A dear part among many is found where it fits, where it meets a part that may come next to it, and where it offers what is
//! missing.

use serde_json::{Map, json};

use super::super::least::{Least, clashes, companions, merge};
use super::FEW;

/// So many cheap cleaners that fit nothing, and whatever else.
fn many(mut library: serde_json::Value) -> Least {
    let cheap = (0..=FEW).map(|n| {
        let throat = json!({"type": "neck", "fields": {"across": "5 mm"}});
        let part = json!({"class": "cleaner", "ports": {"throat": throat.clone(), "cover": throat}, "price": "1.00 USD"});
        (format!("cheap-{n:02}"), part)
    });
    let parts: Map<_, _> = cheap.collect();
    let base = json!({
        "classes": {"carburettor": {"decided": "owner"}},
        "port_types": {"neck": {"fields": {"across": {"kind": "length", "rule": "equal", "within": "1 mm"}}}},
        "parts": parts,
    });
    merge(&mut library, base);
    Least::new(library)
}

fn neck(size: &str) -> serde_json::Value {
    json!({"type": "neck", "fields": {"across": size}})
}

#[test]
fn of_a_class_of_many_the_dear_one_that_fits_goes_in() {
    let plan = many(json!({
        "parts": {
            "new-carburettor": {"class": "carburettor", "ports": {"neck": neck("108 mm")}},
            "dear-cleaner": {"class": "cleaner", "ports": {"throat": neck("108 mm")}, "price": "90.00 USD"},
            "old-cleaner": {"class": "cleaner", "ports": {"throat": neck("67 mm")}},
        },
        "vehicle": {
            "positions": {"carburettor": null, "cleaner": "old-cleaner"},
            "joints": {"neck": ["carburettor.neck", "cleaner.throat"]},
        },
    }));
    let plan = plan.convert("carburettor", "new-carburettor");
    assert_eq!(plan.decided(), ["cleaner: dear-cleaner"]);
}

/// The lid that the dear cleaner wants is dear, too, and one of many.
#[test]
fn what_fits_only_a_part_that_may_come_next_to_it_goes_in() {
    let lids = (0..=FEW).map(|n| {
        let part = json!({"class": "lid", "ports": {"rim": neck("6 mm")}, "price": "1.00 USD"});
        (format!("cheap-lid-{n:02}"), part)
    });
    let mut library = json!({
        "parts": {
            "new-carburettor": {"class": "carburettor", "ports": {"neck": neck("108 mm")}},
            "dear-cleaner": {
                "class": "cleaner", "price": "90.00 USD",
                "ports": {"throat": neck("108 mm"), "cover": neck("200 mm")},
            },
            "old-cleaner": {"class": "cleaner", "ports": {"throat": neck("67 mm"), "cover": neck("67 mm")}},
            "old-lid": {"class": "lid", "ports": {"rim": neck("67 mm")}},
            "dear-lid": {"class": "lid", "ports": {"rim": neck("200 mm")}, "price": "50.00 USD"},
        },
        "vehicle": {
            "positions": {"carburettor": null, "cleaner": "old-cleaner", "lid": "old-lid"},
            "joints": {
                "neck": ["carburettor.neck", "cleaner.throat"], "lid": ["cleaner.cover", "lid.rim"],
            },
        },
    });
    merge(&mut library, json!({"parts": lids.collect::<Map<_, _>>()}));
    let plan = many(library).convert("carburettor", "new-carburettor");
    assert_eq!(plan.decided(), ["cleaner: dear-cleaner", "lid: dear-lid"]);
}

#[test]
fn what_offers_what_is_missing_goes_in() {
    let plan = many(json!({
        "parts": {
            "new-carburettor": {"class": "carburettor", "needs": ["clean-air"]},
            "dear-cleaner": {"class": "cleaner", "offers": ["clean-air"], "price": "90.00 USD"},
        },
        "vehicle": {"positions": {"carburettor": null, "cleaner": null}},
    }));
    let plan = plan.convert("carburettor", "new-carburettor");
    assert_eq!(plan.decided(), ["cleaner: dear-cleaner"]);
}

/// No cleaner fits the neck of the carburettor out of the fuel kit, and a dear one of many brings the carburettor that it fits.
#[test]
fn of_a_class_of_many_a_kit_that_brings_the_other_end_goes_in() {
    let carburettor =
        |size: &str| json!({"class": "carburettor", "ports": {"neck": neck(size)}, "price": null});
    let plan = many(json!({
        "parts": {
            "cleaner-kit": {
                "class": "cleaner", "ports": {"throat": neck("90 mm")}, "contents": ["kit-carburettor"],
                "price": "90.00 USD",
            },
            "fuel-kit": {"class": "tank", "contents": ["wide-carburettor"]},
            "kit-carburettor": carburettor("90 mm"), "wide-carburettor": carburettor("108 mm"),
            "old-cleaner": {"class": "cleaner", "ports": {"throat": neck("67 mm")}},
        },
        "vehicle": {
            "positions": {"carburettor": null, "cleaner": "old-cleaner", "tank": null},
            "joints": {"neck": ["carburettor.neck", "cleaner.throat"]},
        },
    }));
    assert_eq!(plan.convert("tank", "fuel-kit").decided(), ["cleaner: cleaner-kit"]);
}

/// The box of a linkage holds the bearing that is missing: nobody converts a linkage for the sake of a bearing.
#[test]
fn a_kit_goes_in_for_what_it_mends_at_its_own_place_alone() {
    let plan = |kit: serde_json::Value| {
        let mut kit = kit;
        merge(&mut kit, json!({"class": "linkage", "contents": ["new-bearing"]}));
        let library = json!({
            "parts": {
                "linkage-kit": kit, "new-cover": {"class": "cover", "needs": ["bearing"]},
                "new-bearing": {"class": "bearing", "offers": ["bearing"], "price": null}, "old-linkage": "linkage",
            },
            "vehicle": {"positions": {"bearing": null, "cover": null, "linkage": "old-linkage"}},
        });
        Least::new(library).convert("cover", "new-cover").assess()
    };
    let elsewhere = plan(json!({}));
    assert_eq!((companions(&elsewhere), clashes(&elsewhere).len()), (vec![], 1));
    let itself = plan(json!({"offers": ["bearing"]}));
    assert_eq!(
        (companions(&itself), clashes(&itself).len()),
        (vec!["position:linkage: 1 linkage-kit".to_owned()], 0)
    );
}
