//! A service that several ask for is one companion.

use serde_json::{Value as Json, json};

use super::super::least::{Least, companions};
use crate::explain::because;
use crate::sheet::Route;

/// Springs and links, either of which wants the wheels aligned once it has been apart.
fn front_end(service: bool) -> Least {
    let wants = |qty: u32, level: &str| json!([{"class": "alignment", "qty": qty, "level": level, "why": "the toe moves"}]);
    Least::new(json!({
        "classes": {"springs": {}, "links": {}, "alignment": {"free": !service, "service": service}},
        "openings": {
            "links-apart": {"classes": ["links"], "wants": wants(1, "required")},
            "springs-off": {"classes": ["springs"], "wants": wants(2, "advised")},
        },
        "parts": {"old-springs": {"class": "springs"}, "old-links": {"class": "links"}, "shop": {"class": "alignment"}},
        "vehicle": {"positions": {"springs": {"as_found": "old-springs"}, "links": {"as_found": "old-links"}}},
    }))
}

fn both(service: bool) -> Least {
    front_end(service).choose("springs", Route::Rebuild).choose("links", Route::Rebuild)
}

#[test]
fn one_visit_to_the_shop_serves_all_that_ask_for_it() {
    let a = both(true).assess();
    assert_eq!(companions(&a), ["apart:links-apart:alignment: 2 shop"]);
    let told = because(&a, a.companions[0].reason, crate::showing::Measure::Metric).join(" | ");
    for word in ["links-apart", "springs-off", "once"] {
        assert!(told.to_lowercase().contains(word), "{word}: {told}");
    }
    // alone it is what it was
    let a = front_end(true).choose("springs", Route::Rebuild).assess();
    assert_eq!(companions(&a), ["apart:springs-off:alignment: 2 shop (advised)"]);
    // what stays on the vehicle is wanted by each
    assert_eq!(companions(&both(false).assess()).len(), 2);
}

/// Whichever of those that ask stood first when it was left out.
#[test]
fn left_out_for_one_it_is_left_out_for_all() {
    for key in ["apart:links-apart:alignment", "apart:springs-off:alignment"] {
        let a = both(true).waive(key).assess();
        let [c] = a.companions.as_slice() else { panic!("{:?}", companions(&a)) };
        assert_eq!(c.waived.as_deref(), Some("later"));
        // by this key it is taken in again
        let by = c.left_out_by.as_ref().map(ToString::to_string);
        assert_eq!(by.as_deref(), Some(key).filter(|key| c.key != *key));
        assert!(a.totals.money.to_come.is_zero());
    }
}

/// One inspection is in the box, and two ask for one each.
#[test]
fn one_out_of_a_box_serves_all_and_a_second_stays_there() {
    let with = |qty: u32| {
        let mut json = json!({
            "classes": {"springs": {}, "links": {}, "dash": {}, "look": {"service": true}},
            "openings": {
                "links-apart": {"classes": ["links"], "wants": [{"class": "look"}]},
                "springs-off": {"classes": ["springs"], "wants": [{"class": "look"}]},
            },
            "parts": {
                "old-springs": {"class": "springs"}, "old-links": {"class": "links"}, "engineer": {"class": "look"},
                "new-links": {"class": "links", "contents": [{"part": "engineer", "qty": qty}]},
            },
            "vehicle": {"positions": {"springs": {"as_found": "old-springs"}, "links": {"as_found": "old-links"}}},
        });
        json["format"] = Json::from(1);
        let a = Least::new(json).convert("links", "new-links").choose("springs", Route::Rebuild).assess();
        companions(&a)
    };
    assert_eq!(with(1), ["apart:links-apart:look: 1 engineer (1 in a box)"]);
    assert_eq!(with(2), ["apart:links-apart:look: 1 engineer (1 in a box)"]);
}
