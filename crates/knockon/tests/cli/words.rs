//! What the command line says to somebody who never saw it: half-way changes, wrong words.

use std::path::{Path, PathBuf};

use serde_json::Value;

use super::{prints, refused};

/// The example with the fuel tank of its wide plan in hand, in a file.
fn half_way(folder: &Path) -> (PathBuf, String) {
    let mut sheet: Value = serde_json::from_str(knockon_store::library::example()).unwrap();
    sheet["plan"] = "wishes".into();
    let tank = sheet["plans"]["wishes"]["routes"]["tank"]["part"].as_str().unwrap().to_owned();
    sheet["lines"][&tank] = serde_json::json!({"state": "in-hand", "paid": "333.00 USD"});
    let file = folder.join("truck.json");
    std::fs::write(&file, sheet.to_string()).unwrap();
    (file, tank)
}

#[test]
fn whatif_tells_the_money_that_would_lie_idle() {
    let folder = tempfile::tempdir().unwrap();
    let (file, tank) = half_way(folder.path());
    let file = file.to_str().unwrap();
    let told = prints(&["whatif", file, "--position", "tank", "--route", "keep"]);
    assert!(told.contains("333.00 USD in hand or fitted"), "{told}");
    let json = prints(&["whatif", file, "--position", "tank", "--route", "keep", "--json"]);
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json[0]["bought"]["idle"][0]["part"], tank.as_str());
    assert_eq!(json[0]["bought"]["idle_spent"], "333.00");
    // where nothing is bought, nothing is told
    std::fs::write(folder.path().join("new.json"), knockon_store::library::example()).unwrap();
    let new = folder.path().join("new.json");
    let told = prints(&["whatif", new.to_str().unwrap(), "--position", "tank", "--route", "keep"]);
    assert!(!told.contains("Money spent already"), "{told}");
}

#[test]
fn what_is_bought_and_not_wanted_stays_in_sight() {
    let folder = tempfile::tempdir().unwrap();
    let (file, tank) = half_way(folder.path());
    let mut sheet: Value = serde_json::from_str(&std::fs::read_to_string(&file).unwrap()).unwrap();
    sheet["plans"]["wishes"]["routes"].as_object_mut().unwrap().remove("tank");
    std::fs::write(&file, sheet.to_string()).unwrap();
    let file = file.to_str().unwrap();
    for command in ["assess", "buy"] {
        let told = prints(&[command, file]);
        assert!(
            told.contains("Bought, and not wanted by this plan (1)") && told.contains("333.00 USD"),
            "{told}"
        );
    }
    let json: Value = serde_json::from_str(&prints(&["assess", file, "--json"])).unwrap();
    assert_eq!(json["idle"][0]["part"], tank.as_str());
}

/// The plan is named as it is for `assess`; without a name it is the sheet's current one.
#[test]
fn whatif_asks_of_the_plan_that_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("example.json");
    std::fs::write(&file, knockon_store::library::example()).unwrap();
    let file = file.to_str().unwrap();
    let ask = |plan: &[&str]| {
        prints(&[&["whatif", file, "--position", "carburettor", "--route", "keep"], plan].concat())
    };
    let (current, sound, worked_out) = (ask(&[]), ask(&["--plan", "sound"]), ask(&["--plan", "worked-out"]));
    assert_ne!(sound, worked_out);
    assert!(current == sound || current == worked_out || current == ask(&["--plan", "wishes"]));
    // a carburettor that is kept asks for no adapter
    let gone = "Carburettor adapter plate";
    assert!(worked_out.contains(gone) && !sound.contains(gone), "{worked_out}");
    let said = refused(1, &["whatif", file, "--plan", "sond", "--position", "tank", "--route", "keep"]);
    assert_eq!(said, refused(1, &["assess", file, "--plan", "sond"]));
}

#[test]
fn wrong_words_are_answered_with_the_right_ones() {
    let folder = tempfile::tempdir().unwrap();
    let (file, _) = half_way(folder.path());
    let file = file.to_str().unwrap();
    let said = refused(1, &["whatif", file, "--position", "carburetor", "--route", "keep"]);
    assert!(said.contains("did you mean \"carburettor\"?"), "{said}");
    assert!(said.len() < 300, "{said}");
    let said = refused(1, &["whatif", file, "--position", "brakes", "--route", "keep"]);
    assert!(said.contains("front-brakes") && said.len() < 300, "{said}");
    let said = refused(1, &["whatif", file, "--position", "wheelz", "--route", "keep"]);
    assert!(said.contains("did you mean \"wheels\"?"), "{said}");
    let said = refused(1, &["whatif", file, "--position", "zzzz", "--route", "keep"]);
    assert!(said.contains("; it has ") && said.contains("front-brakes"), "{said}");
    let said = refused(1, &["whatif", file, "--position", "tank", "--route", "renw"]);
    assert!(said.contains("did you mean \"renew\"?") && said.contains("leave-off"), "{said}");
    let said = refused(2, &["asess", file]);
    assert!(said.contains("no command \"asess\"") && !said.contains("subcommand"), "{said}");
    assert!(said.contains("did you mean \"assess\"?"), "{said}");
    let said = refused(2, &["asess"]);
    assert!(said.contains("no command and no file \"asess\"; did you mean \"assess\"?"), "{said}");
    assert!(refused(2, &["assess"]).contains("<FILE>"));
    assert!(refused(2, &["assess", file, "--jsn"]).contains("--json"));
}

#[test]
fn a_plan_is_taken_by_its_name_too() {
    let folder = tempfile::tempdir().unwrap();
    let (file, _) = half_way(folder.path());
    let file = file.to_str().unwrap();
    let sheet: Value = serde_json::from_str(knockon_store::library::example()).unwrap();
    for (id, plan) in sheet["plans"].as_object().unwrap() {
        let name = plan["name"].as_str().unwrap().to_uppercase();
        assert_eq!(prints(&["buy", file, "--plan", &name]), prints(&["buy", file, "--plan", id]));
        let said = refused(1, &["buy", file, "--plan", "no such plan"]);
        assert!(said.contains(id) && said.contains(plan["name"].as_str().unwrap()), "{said}");
    }
}

#[test]
fn money_of_another_currency_stands_in_the_totals() {
    let folder = tempfile::tempdir().unwrap();
    let (file, tank) = half_way(folder.path());
    let mut sheet: Value = serde_json::from_str(&std::fs::read_to_string(&file).unwrap()).unwrap();
    sheet["lines"][&tank]["paid"] = "250.00 EUR".into();
    std::fs::write(&file, sheet.to_string()).unwrap();
    for command in ["assess", "buy"] {
        let told = prints(&[command, file.to_str().unwrap()]);
        assert!(told.contains("250.00 EUR spent"), "{told}");
    }
}

#[test]
fn what_is_no_sheet_is_told_in_plain_words() {
    let folder = tempfile::tempdir().unwrap();
    let readme = folder.path().join("README.md");
    std::fs::write(&readme, "# Knockon\n").unwrap();
    assert!(refused(1, &["assess", readme.to_str().unwrap()]).contains("this is no sheet file"));
    assert!(refused(1, &["assess", folder.path().to_str().unwrap()]).contains("this is a folder"));
}

#[test]
fn nothing_is_told_twice_and_money_has_its_currency() {
    let folder = tempfile::tempdir().unwrap();
    let (file, _) = half_way(folder.path());
    let file = file.to_str().unwrap();
    let told = prints(&["assess", file]);
    assert!(told.contains("\nMoney: 333.00 USD spent, 0.00 USD on order, "), "{told}");
    let lines: Vec<&str> = told.lines().collect();
    for pair in lines.windows(2) {
        if let Some(name) = pair[0].strip_prefix("  x ").or_else(|| pair[0].strip_prefix("  ? ")) {
            assert!(!pair[1].contains(&format!("{name}:")), "{pair:?}");
        }
    }
    assert!(!told.contains("rods is") && told.contains("rods are"), "{told}");
}

#[test]
fn the_money_of_the_buy_list_stands_in_one_column() {
    let folder = tempfile::tempdir().unwrap();
    let (file, _) = half_way(folder.path());
    let told = prints(&["buy", file.to_str().unwrap()]);
    let first = |line: &&str| line.contains(" x ") && line.contains("USD");
    let ends: Vec<usize> = told.lines().filter(first).filter_map(|line| line.find(" USD ")).collect();
    assert!(ends.len() > 100 && ends.iter().all(|end| *end == ends[0]), "{ends:?}");
    // what stands in a line more than once is told with its number
    assert!(told.contains("Fuel tank (opened joint), 3 times"), "{told}");
}

/// What is to be measured comes with the key that the sheet records it by; recorded, it is decided.
#[test]
fn assess_says_how_a_measured_value_is_recorded() {
    let folder = tempfile::tempdir().unwrap();
    let mut sheet: Value = serde_json::from_str(knockon_store::library::example()).unwrap();
    let routes = sheet["plans"]["sound"]["routes"].as_object_mut().unwrap();
    routes.remove("fuel-pump");
    routes.insert("carburettor".into(), serde_json::json!({"route": "convert", "part": "two-barrel-small"}));
    let file = folder.path().join("truck.json");
    std::fs::write(&file, sheet.to_string()).unwrap();
    let path = file.to_str().unwrap();
    let key = "flow.flow@furrow-fuel-pump";
    let told = prints(&["assess", path, "--plan", "sound"]);
    assert_eq!(told.matches("goes into the sheet file by its key").count(), 1, "{told}");
    assert!(
        told.contains(&format!("key: {key}\n")) && told.contains(&format!("\"facts\": {{\"{key}\"")),
        "{told}"
    );
    let asked = || -> Value {
        serde_json::from_str(&prints(&["assess", path, "--plan", "sound", "--json"])).unwrap()
    };
    let json = asked();
    let of = json["to_measure"].as_array().unwrap().iter().find(|m| m["key"] == "joint:fuel-flow").unwrap();
    let wanted = &of["wanted"][0];
    assert_eq!((&wanted["key"], &wanted["name"], &wanted["now"]), (&key.into(), &"flow".into(), &"".into()));
    assert!(wanted["how"].as_str().unwrap().starts_with("pump fuel into a can"));
    assert!(wanted["part"].as_str().unwrap().starts_with("Fuel pump, mechanical"));

    sheet["facts"][key] = "40 L/h".into();
    sheet["facts"]["flow.flown@furrow-fuel-pump"] = "40 L/h".into();
    std::fs::write(&file, sheet.to_string()).unwrap();
    let json = asked();
    assert!(json["to_measure"].as_array().unwrap().iter().all(|m| m["key"] != "joint:fuel-flow"));
    assert_eq!(json["measured"].as_array().unwrap().iter().filter(|m| m["key"] == key).count(), 1);
    let problems = json["problems"].as_array().unwrap();
    assert!(
        problems.len() == 1 && problems[0].as_str().unwrap().contains("no field \"flown\""),
        "{problems:?}"
    );
}

/// The example with one change made, in a file.
fn changed(folder: &Path, change: impl Fn(&mut Value)) -> String {
    let mut sheet: Value = serde_json::from_str(knockon_store::library::example()).unwrap();
    change(&mut sheet);
    let file = folder.join("changed.json");
    std::fs::write(&file, serde_json::to_string_pretty(&sheet).unwrap()).unwrap();
    file.to_str().unwrap().to_owned()
}

#[test]
fn what_a_sheet_names_and_the_library_does_not_know_is_told_with_its_line() {
    let folder = tempfile::tempdir().unwrap();
    let plan = |sheet: &Value| sheet["plan"].as_str().unwrap().to_owned();
    type Change = Box<dyn Fn(&mut Value)>;
    let at_plan = move |table: &'static str, key: &'static str, value: Value| -> Change {
        Box::new(move |sheet| {
            let plan = plan(sheet);
            sheet["plans"][plan][table][key] = value.clone();
        })
    };
    let at = |table: &'static str, key: &'static str, value: Value| -> Change {
        Box::new(move |sheet| sheet[table][key] = value.clone())
    };
    let convert = |part: &str| serde_json::json!({"route": "convert", "part": part});
    let cases: Vec<(Change, &str)> = vec![
        (
            at_plan("routes", "fam", convert("fan-electric-16")),
            "no position \"fam\"; did you mean \"fan\"? Its route",
        ),
        (
            at_plan("routes", "fan", convert("fan-electric-61")),
            "no part \"fan-electric-61\"; did you mean \"fan-electric-16\"?",
        ),
        (
            at_plan("routes", "fan", convert("heater-fresh-air")),
            "is of the class \"heater\" and does not go to fan",
        ),
        (at_plan("routes", "fan", serde_json::json!({"route": "convert"})), "\"convert\" wants a part"),
        (at_plan("waived", "nosuch:key", "x".into()), "\"nosuch:key\" is no key of a companion"),
        (
            at_plan("waived", "survy:tank", "x".into()),
            "did you mean \"survey\"? Such a key begins with \"bridge:\",",
        ),
        (
            at_plan("picks", "bridge:fuel-flow:first", "x".into()),
            "expected bridge:JOINT:NUMBER, as the assessment",
        ),
        (
            Box::new(move |sheet| {
                let plan = sheet["plan"].as_str().unwrap().to_owned();
                sheet["plans"][plan]["accepted"] = serde_json::json!(["need:fan"]);
            }),
            "\"need:fan\" is no key of a companion; expected need:POSITION:PART:NEED",
        ),
        (at_plan("waived", "survey:tanc", "x".into()), "no position \"tanc\"; did you mean \"tank\"?"),
        (at_plan("picks", "position:fan", "nosuch".into()), "no part \"nosuch\"; the cheapest is taken"),
        (
            at("facts", "idle-sped", "600 rpm".into()),
            "no figure \"idle-sped\"; did you mean \"idle-speed\"? The value is left out",
        ),
        (
            at("facts", "flow@a@b", "1 L/h".into()),
            "\"flow@a@b\" is no key of a measured value; expected FIGURE, FIGURE@PART or PORT.FIELD@PART",
        ),
        (at("facts", "idle-speed", "600 psi".into()), "expected a rotational-speed such as \"600 rpm\""),
        (at("as_found", "fam", Value::Null), "no position \"fam\"; did you mean \"fan\"?"),
        (at("as_found", "fan", "heater-fresh-air".into()), "does not go to fan"),
        (
            at("survey", "tanc", serde_json::json!({"verdict": "good"})),
            "no position \"tanc\"; did you mean \"tank\"?",
        ),
        (at("lines", "nosuchpart", serde_json::json!({"state": "in-hand"})), "no part \"nosuchpart\""),
        (
            at("lines", "fan-electric-16", serde_json::json!({"state": "fitted", "paid": "-5 USD"})),
            "\"-5.00 USD\" is below 0: money that came back stands under \"came_back\"",
        ),
        (
            at(
                "lines",
                "fan-electric-16",
                serde_json::json!({"state": "to-buy", "came_back": {"core": "5 USD"}}),
            ),
            "money came back for what is still to buy",
        ),
        (
            at(
                "parts",
                "own-fan",
                serde_json::json!({"name": "Fan of my own", "class": "fan", "clean": {"price": "-0.01 USD"}}),
            ),
            "-0.01 USD",
        ),
        (
            at("parts", "zz", serde_json::json!({"name": "Z", "class": "fann"})),
            "no class \"fann\"; did you mean \"fan\"?",
        ),
        (
            at("parts", "fan-electric-16", serde_json::json!({"name": "Z", "class": "fan"})),
            "stands in shipped/shelf/cooling/radiator.json already",
        ),
    ];
    for (change, part) in cases {
        let file = changed(folder.path(), change);
        let told = prints(&["assess", &file]);
        let line = told.lines().find(|l| l.contains(part)).unwrap_or_else(|| panic!("{part} in {told}"));
        assert!(line.starts_with(&format!("Not known: {file}:")), "{line}");
        assert_eq!(told.matches("Not known: ").count(), 1, "{part}: {told}");
        let json: Value = serde_json::from_str(&prints(&["assess", &file, "--json"])).unwrap();
        assert!(json["problems"][0].as_str().unwrap().contains(part));
    }
    for (word, value, part) in [
        (
            "vehicle",
            "furow-10",
            "at vehicle: the library has no vehicle \"furow-10\"; did you mean \"furrow-10\"? It has",
        ),
        ("plan", "wishs", "at plan: there is no plan \"wishs\"; did you mean \"wishes\"? It has"),
    ] {
        let file = changed(folder.path(), |sheet| sheet[word] = value.into());
        let said = refused(1, &["assess", &file]);
        assert!(said.starts_with(&format!("{file}:")) && said.contains(part), "{said}");
    }
    let library = folder.path().join("cooling.json");
    std::fs::write(&library, "{\"format\": 1, \"parts\": {}}").unwrap();
    assert!(refused(1, &["assess", library.to_str().unwrap()]).contains("this is a file of a parts library"));
}

#[test]
fn a_sheet_with_a_key_twice_is_refused_with_both_lines() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("twice.json");
    let plan = "{\"name\": \"P\"}";
    let text = format!(
        "{{\"format\": 1, \"name\": \"a\", \"vehicle\": \"furrow-10\", \"plan\": \"p\",\n\"plans\": {{\"p\": {plan},\n\"p\": {plan}}}}}"
    );
    std::fs::write(&file, &text).unwrap();
    let said = refused(1, &["assess", file.to_str().unwrap()]);
    assert!(said.contains("twice.json:3: at plans.p: this stands in line 2 already"), "{said}");
    std::fs::write(&file, format!("\u{feff}{}", knockon_store::library::example())).unwrap();
    assert!(!prints(&["assess", file.to_str().unwrap()]).is_empty());
}

#[test]
fn whatif_says_of_a_part_whether_it_is_unknown_or_not_on_offer_there() {
    let folder = tempfile::tempdir().unwrap();
    let (file, _) = half_way(folder.path());
    let ask = |position: &str, route: &str, part: &[&str]| {
        let file = file.to_str().unwrap();
        refused(1, &[&["whatif", file, "--position", position, "--route", route], part].concat())
    };
    let said = ask("fan", "convert", &["--part", "fan-electric-61"]);
    assert!(
        said.contains(
            "has no part \"fan-electric-61\"; did you mean \"fan-electric-16\"? On offer there: keep; "
        ),
        "{said}"
    );
    let said = ask("fan", "convert", &["--part", "heater-fresh-air"]);
    assert!(
        said.contains("the part \"heater-fresh-air\" is not on offer at fan; on offer there: "),
        "{said}"
    );
    let said = ask("fan", "keep", &["--part", "fan-electric-16"]);
    assert!(said.contains("on offer at fan by the route convert, not by keep"), "{said}");
    let said = ask("fan", "kepp", &[]);
    assert!(said.contains("did you mean \"keep\"? A route is one of keep, clean"), "{said}");
    for said in [ask("fen", "keep", &[]), ask("zzzz", "keep", &[]), ask("brakes", "keep", &[])] {
        assert!(!said.contains("?;") && !said.contains("--json"), "{said}");
    }
    assert!(ask("zzzz", "keep", &[]).contains("it has "));
}

#[test]
fn whatif_marks_what_is_needed_and_what_it_costs() {
    let folder = tempfile::tempdir().unwrap();
    let file = changed(folder.path(), |_| {});
    let told =
        prints(&["whatif", &file, "--plan", "sound", "--position", "carburettor", "--route", "convert"]);
    let lines: Vec<&str> = told.lines().filter(|l| l.starts_with("      ")).collect();
    let marked = |l: &&&str| l.starts_with("      + ") || l.starts_with("      ~ ");
    assert!(lines.len() > 10 && lines.iter().filter(marked).count() == lines.len(), "{told}");
    assert!(lines.iter().filter(|l| l.contains(" USD)")).count() > lines.len() / 2, "{told}");
}

#[test]
fn an_assessment_begins_with_the_vehicle_and_the_plan() {
    let folder = tempfile::tempdir().unwrap();
    let file = changed(folder.path(), |sheet| sheet["plan"] = "sound".into());
    let named = prints(&["assess", &file, "--plan", "sound"]);
    let current = prints(&["assess", &file]);
    let lines: Vec<&str> = current.lines().collect();
    assert!(
        lines[0].contains("1958") && lines[1].contains("(sound), the sheet's current plan"),
        "{:?}",
        &lines[..3]
    );
    assert!(named.lines().nth(1).unwrap().ends_with("(sound)"), "{named}");
    assert_eq!(lines[2..], named.lines().skip(2).collect::<Vec<_>>()[..]);
    let json: Value = serde_json::from_str(&prints(&["assess", &file, "--json"])).unwrap();
    for sum in ["spent", "committed", "to_come"] {
        let sum = json["totals"][sum].as_str().unwrap();
        assert_eq!(sum.len() - sum.find('.').unwrap(), 3, "{sum}");
    }
    let hours = json["totals"]["hours"].to_string();
    assert!(hours.split_once('.').is_none_or(|(_, decimals)| decimals.len() <= 2), "{hours}");
}
