//! Questions as people ask them lead to what is meant.

use std::error::Error;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use knockon_core::assess;
use knockon_core::figure::search::search;
use knockon_core::find::{Finder, Found, OnOffer, What};
use serde_json::Value as Json;

/// The questions of a list whose first hit is not one of those wanted, each with what came first.
fn wrong(list: &str) -> Result<(usize, Vec<String>), Box<dyn Error>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("questions/figures.json");
    let json: Json = serde_json::from_str(&fs::read_to_string(path)?)?;
    let questions = json[list].as_array().ok_or("no list of questions")?;
    let mut wrong = Vec::new();
    for question in questions {
        let texts = |name: &str| question[name].as_array().into_iter().flatten().filter_map(Json::as_str);
        for asked in texts("asked") {
            let found: Vec<&str> = search(asked).into_iter().map(|f| f.id).take(4).collect();
            if !found.first().is_some_and(|first| texts("wanted").any(|w| w == *first)) {
                wrong.push(format!("{asked}: {found:?}"));
                break;
            }
        }
    }
    Ok((questions.len(), wrong))
}

#[test]
fn the_first_hit_is_right_in_23_of_25_questions() -> Result<(), Box<dyn Error>> {
    let (all, wrong) = wrong("questions")?;
    assert_eq!(all, 25);
    assert!(wrong.len() <= 2, "{wrong:#?}");
    Ok(())
}

#[test]
fn a_word_of_the_trade_leads_to_what_is_meant() -> Result<(), Box<dyn Error>> {
    let (all, wrong) = wrong("words")?;
    assert!(all >= 15 && wrong.is_empty(), "{wrong:#?}");
    Ok(())
}

/// What a question about the example's plan of wishes finds.
fn finder() -> Finder {
    let sheet =
        knockon_store::sheets::parse("example", knockon_store::library::example()).unwrap_or_default();
    let catalogue = knockon_store::library::shipped();
    let a = assess(&sheet, "wishes", &catalogue);
    Finder::new(&sheet, &a, &catalogue, Arc::new(OnOffer::new(&catalogue)))
}

fn questions() -> Result<Json, Box<dyn Error>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("questions/things.json");
    Ok(serde_json::from_str(&fs::read_to_string(path)?)?)
}

fn answers(found: &Found, question: &Json) -> bool {
    let words = |name: &str| question[name].as_array().into_iter().flatten().filter_map(Json::as_str);
    match &found.what {
        What::List(list) => question["list"] == list.word(),
        What::Place { id, offers } => {
            let offered = question["offer"].as_str().is_none_or(|word| {
                let sits = found.beside.to_lowercase().contains(word);
                sits || offers.iter().any(|(_, name)| name.to_lowercase().contains(word))
            });
            words("place").any(|place| place == id) && offered
        }
        _ => false,
    }
}

#[test]
fn a_thing_of_the_plan_is_found_by_what_people_call_it() -> Result<(), Box<dyn Error>> {
    let (finder, questions) = (finder(), questions()?);
    let mut wrong = Vec::new();
    let mut asked = 0;
    for question in questions["questions"].as_array().ok_or("questions")? {
        for query in question["asked"].as_array().into_iter().flatten().filter_map(Json::as_str) {
            asked += 1;
            let found = finder.find(query);
            if !found.first().is_some_and(|first| answers(first, question)) {
                let told: Vec<_> = found.iter().take(4).map(|f| (&f.name, &f.beside, f.score)).collect();
                wrong.push(format!("{query}: {told:?}"));
            }
        }
    }
    for question in questions["among"].as_array().ok_or("among")? {
        let query = question["asked"].as_str().ok_or("asked")?;
        let found = finder.find(query);
        for wanted in question["what"].as_array().into_iter().flatten().filter_map(Json::as_str) {
            let (kind, word) = wanted.split_once(':').ok_or("kind")?;
            let is_it = |f: &Found| match (&f.what, kind) {
                (What::Place { id, .. }, "place") => id == word,
                (What::Companion(_), "companion") | (What::Clash(_), "clash") => {
                    f.name.to_lowercase().contains(word)
                }
                _ => false,
            };
            if !found.iter().any(is_it) {
                let told: Vec<_> = found.iter().take(6).map(|f| (&f.name, &f.beside, f.score)).collect();
                wrong.push(format!("{query}, {wanted}: {told:?}"));
            }
        }
    }
    assert!(asked > 50 && wrong.is_empty(), "{wrong:#?}");
    Ok(())
}

/// Every place and companion is found by its own name, among the first of those that share it.
#[test]
fn everything_is_found_by_its_own_name() {
    let sheet =
        knockon_store::sheets::parse("example", knockon_store::library::example()).unwrap_or_default();
    let catalogue = knockon_store::library::shipped();
    let a = assess(&sheet, "wishes", &catalogue);
    let finder = Finder::new(&sheet, &a, &catalogue, Arc::new(OnOffer::new(&catalogue)));
    let mut lost = Vec::new();
    for p in &a.positions {
        let found = finder.find(&p.name);
        if !found.iter().take(3).any(|f| matches!(&f.what, What::Place { id, .. } if *id == p.id)) {
            lost.push(format!("{}: {:?}", p.name, found.iter().take(3).map(|f| &f.name).collect::<Vec<_>>()));
        }
    }
    for c in &a.companions {
        let found = finder.find(&c.name);
        if !found.iter().any(|f| f.name == c.name) {
            lost.push(c.name.clone());
        }
    }
    assert!(lost.is_empty(), "{lost:#?}");
}
