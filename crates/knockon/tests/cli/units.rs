//! Quantities are told in the units that are asked for; JSON has them in SI besides.

use serde_json::Value;

use super::{prints, refused};

fn example(folder: &std::path::Path) -> String {
    let file = folder.join("truck.json");
    std::fs::write(&file, knockon_store::library::example()).unwrap();
    file.to_str().unwrap().to_owned()
}

#[test]
fn inch_or_metric_as_it_is_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let file = example(folder.path());
    let told = |units: &[&str]| prints(&[&["assess", &file, "--plan", "wishes"], units].concat());
    let (inch, metric) = (told(&[]), told(&["--units", "metric"]));
    // exact by definition: 1 psi = 6.894 757 kPa (NIST SP 811)
    assert!(inch.contains("the engine floods: the fuel pump gives 4 to 7 psi"), "{inch}");
    assert!(metric.contains("the engine floods: the fuel pump gives 27.6 to 48.3 kPa"), "{metric}");
    assert!(inch.contains("What is left"), "{inch}");
    assert_eq!(inch, told(&["--units", "inch"]));
    let said = refused(2, &["assess", &file, "--units", "metrik"]);
    assert!(said.contains("did you mean \"metric\"?") && said.contains("inch"), "{said}");
}

#[test]
fn json_gives_the_text_and_the_values() {
    let folder = tempfile::tempdir().unwrap();
    let file = example(folder.path());
    let json: Value =
        serde_json::from_str(&prints(&["assess", &file, "--plan", "wishes", "--json"])).unwrap();
    let all = json["companions"].as_array().unwrap();
    let bridge = all.iter().find(|c| c["key"] == "bridge:fuel-pressure:0").unwrap();
    assert_eq!(bridge["because"].as_array().unwrap().len(), bridge["values"].as_array().unwrap().len());
    let floods =
        bridge["because"].as_array().unwrap().iter().position(|b| b.as_str().unwrap().contains("floods"));
    let value = &bridge["values"][floods.unwrap()][0];
    assert_eq!((&value["shown"], &value["kind"]), (&"4 to 7 psi".into(), &"pressure".into()));
    assert!((value["from"].as_f64().unwrap() - 4.0 * 6_894.757).abs() < 1.0, "{value}");
}
