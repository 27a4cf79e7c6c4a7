//! Questions as people ask them lead to what is meant.

use std::error::Error;
use std::fs;
use std::path::Path;

use knockon_core::figure::search::search;
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
