//! Identity figures: chassis numbers and the model year in them.

use knockon_figures::identity::{ChassisNumber, model_years, read};

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Takes, need, or};
use super::output::text;
use super::trouble::Trouble;

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "chassis-number",
        called: &["vin", "vin check", "check digit", "chassis number", "serial number"],
        group: Group::Identity,
        name: "Chassis number",
        meaning: "check digit where the rule applies, and the plain words where it does not",
        inputs: &[
            need("number", "as it stands on the plate", Takes::Text, "1M8GDM9AXKP042788"),
            or("year", "model year, if it is known", Takes::Whole, "unknown").example("1989"),
        ],
        formula: "values of the characters times the weights of their places, summed; remainder by 11, X for 10",
        source: "49 CFR 565.15(c); ISO 3779",
        cases: &[
            "number=1G4AH59H45G118341 -> chassis number: the check digit agrees; 49 CFR 565.15(c)(5), the sample",
            "number=1J9RP1A36A1644345 -> chassis number: the check digit agrees; NHTSA, outline for new makers",
        ],
        work: chassis_number,
        ..FIGURE
    },
    Figure {
        id: "model-year",
        called: &["year of a vin", "model year letter"],
        group: Group::Identity,
        name: "Model year letter",
        meaning: "model years the tenth character can mean",
        inputs: &[need("tenth", "the tenth of seventeen characters", Takes::Text, "K")],
        formula: "A to Y without I, O, Q, U and Z from 1980, then 1 to 9; again after thirty years",
        source: "49 CFR 565.15, table VII (from memory)",
        cases: &["tenth=K -> model year: 1989 or 2019; 49 CFR 565.15, table VII"],
        work: model_year,
        ..FIGURE
    },
];

fn chassis_number(g: &Given<'_>) -> Worked {
    let year = g.known("year").map(|y| u16::try_from(y as u32).unwrap_or(u16::MAX));
    let found = read(g.word("number"), year)?;
    if found == ChassisNumber::Empty {
        return Err(Trouble::Words("number: nothing is given".to_owned()));
    }
    Ok(vec![text("chassis number", found.to_string())])
}

fn model_year(g: &Given<'_>) -> Worked {
    let mut letters = g.word("tenth").chars();
    let years = match (letters.next(), letters.next()) {
        (Some(letter), None) => model_years(letter.to_ascii_uppercase()),
        _ => return Err(Trouble::Words("tenth: expected one letter or digit".to_owned())),
    };
    if years.is_empty() {
        return Err(Trouble::Words(format!("\"{}\" stands for no model year", g.word("tenth"))));
    }
    let years: Vec<String> = years.iter().map(ToString::to_string).collect();
    Ok(vec![text("model year", years.join(" or "))])
}
