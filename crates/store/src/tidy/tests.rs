//! The layout: what it does to a text, and what it never does.
#![allow(clippy::unwrap_used, reason = "a test may stop")]

use std::fs;

use proptest::prelude::*;
use serde_json::Value as Json;

use super::{layout, text_of, tidy};
use crate::disk::Machine;

fn tidied(text: &str) -> String {
    text_of("a.json", text).unwrap()
}

#[test]
fn words_stand_in_the_order_of_their_type_and_ids_as_they_stood() {
    let text = r#"{"parts": {"b": {"class": "hose", "name": "B", "zz-price": 1}}, "format": 1}"#;
    assert!(text_of("a.json", text).unwrap_err()[0].contains("zz-price"));
    let text = r#"{"parts":{"z":{"price":"1.50 USD","class":"hose","name":"Z"},
        "a":{"class":"hose","name":"A"}},"$schema":"s","about":"x","format":1}"#;
    let want = r#"{
  "$schema": "s",
  "format": 1,
  "about": "x",
  "parts": {
    "z": {"name": "Z", "class": "hose", "price": "1.50 USD"},
    "a": {"name": "A", "class": "hose"}
  }
}
"#;
    assert_eq!(tidied(text), want);
}

#[test]
fn what_is_too_long_for_a_line_has_a_line_for_each_entry() {
    let text = r#"{"format": 1, "parts": {"cap": {"name": "Pressure cap, 10 psi, small neck, 19 mm deep",
        "class": "pressure-cap", "ports": {"neck": {"type": "cool.cap-neck", "fields": {"neck": "small", "depth": "19 mm"}},
        "system": {"role": "give", "type": "cool.pressure", "fields": {"pressure": "10 psi"}}}, "hours": 0.10}},
        "vehicles": {"v": {"facts": {"run": [1e3, -0, 2]}}}}"#;
    let want = r#"{
  "format": 1,
  "parts": {
    "cap": {
      "name": "Pressure cap, 10 psi, small neck, 19 mm deep",
      "class": "pressure-cap",
      "ports": {
        "neck": {"type": "cool.cap-neck", "fields": {"neck": "small", "depth": "19 mm"}},
        "system": {"type": "cool.pressure", "role": "give", "fields": {"pressure": "10 psi"}}
      },
      "hours": 0.10
    }
  },
  "vehicles": {
    "v": {"facts": {"run": [1e3, -0, 2]}}
  }
}
"#;
    assert_eq!(tidied(text), want);
    // numbers stand as many to a line as fit, and none beyond the edge
    let points = vec!["[1234.5, 678]"; 40].join(",");
    let text = tidied(&format!(
        "{{\"format\": 1, \"vehicles\": {{\"v\": {{\"facts\": {{\"run\": [{points}]}}}}}}}}"
    ));
    assert!(text.lines().count() < 20 && text.lines().all(|line| line.len() <= 120), "{text}");
}

#[test]
fn a_file_is_written_only_where_it_changes_and_a_faulty_one_never() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::create_dir(at("below")).unwrap();
    let faulty = "{\"format\": 1,\n\"prats\": {}}";
    fs::write(at("faulty.json"), faulty).unwrap();
    fs::write(at("below/odd.JSON"), "\u{feff}{\"format\":1}\r\n").unwrap();
    fs::write(at("good.json"), "{\n  \"format\": 1\n}\n").unwrap();
    fs::write(at(".hidden.json"), "{}").unwrap();
    for write in [false, true] {
        let done = tidy(&Machine, folder.path(), write).unwrap();
        assert_eq!(done.files, 3);
        assert_eq!(done.changed, [at("below/odd.JSON").display().to_string()]);
        let [fault] = &done.faults[..] else { unreachable!("{done:?}") };
        assert!(fault.contains("faulty.json:2: ") && fault.contains("did you mean \"parts\"?"), "{fault}");
    }
    assert_eq!(fs::read_to_string(at("below/odd.JSON")).unwrap(), "{\n  \"format\": 1\n}\n");
    assert_eq!(fs::read_to_string(at("faulty.json")).unwrap(), faulty);
    assert_eq!(tidy(&Machine, folder.path(), true).unwrap().changed, Vec::<String>::new());
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 4, "nothing is left beside them");
    assert!(tidy(&Machine, &at("good.json"), true).unwrap_err().contains("this is a file"));
}

/// Any JSON, with texts that want escapes.
fn json() -> impl Strategy<Value = Json> {
    let plain = prop_oneof![
        Just(Json::Null),
        any::<bool>().prop_map(Json::from),
        any::<i32>().prop_map(Json::from),
        any::<f64>().prop_map(Json::from),
        "[a-z \"\\\\é\u{2028}\n/{}\\[\\],:]{0,40}".prop_map(Json::from),
    ];
    plain.prop_recursive(6, 60, 8, |inside| {
        prop_oneof![
            prop::collection::vec(inside.clone(), 0..8).prop_map(Json::from),
            prop::collection::vec(("[a-z\"\\\\ ]{0,6}", inside), 0..8)
                .prop_map(|all| Json::Object(all.into_iter().collect())),
        ]
    })
}

proptest! {
    #[test]
    fn a_layout_means_the_same_and_is_its_own(json in json(), pretty in any::<bool>()) {
        let text = if pretty { format!("{json:#}") } else { json.to_string() };
        let once = layout::written(&layout::parsed(&text).unwrap());
        prop_assert_eq!(serde_json::from_str::<Json>(&once).unwrap(), serde_json::from_str::<Json>(&text).unwrap());
        prop_assert_eq!(&layout::written(&layout::parsed(&once).unwrap()), &once);
        // every text and number stands there as it stood
        let letters = |text: &str| text.chars().filter(|c| !c.is_ascii_whitespace()).collect::<String>();
        prop_assert_eq!(letters(&once), letters(&text));
    }
}
