//! What each command does. Errors are whole sentences for the terminal.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};

use knockon_core::change::{self, Idle};
use knockon_core::sheet::Route;
use knockon_core::showing::count;
use knockon_core::{Assessment, Catalogue, Sheet, assess, figure, offers};
use knockon_report::{buy_csv, figures, json, text};
use knockon_store::{library, sheets};

type Done = Result<(), String>;

/// A closed pipe (`| head`) is no fault of the user's.
fn say(out: &str) {
    let _ = std::io::stdout().write_all(out.as_bytes());
}

fn open(file: &Path, plan: Option<&str>) -> Result<(Sheet, String, Catalogue), String> {
    let sheet = sheets::open(file).map_err(|e| e.to_string())?;
    let plan = plan.unwrap_or(&sheet.plan).to_owned();
    if !sheet.plans.contains_key(&plan) {
        let known: Vec<&str> = sheet.plans.keys().map(String::as_str).collect();
        return Err(format!(
            "there is no plan \"{plan}\" in {}; it has {}",
            file.display(),
            known.join(", ")
        ));
    }
    let catalogue = library::shipped();
    if !catalogue.vehicles.contains_key(&sheet.vehicle) {
        let known: Vec<&str> = catalogue.vehicles.keys().map(String::as_str).collect();
        return Err(format!(
            "{}: at vehicle: the library has no vehicle \"{}\"; it has {}",
            file.display(),
            sheet.vehicle,
            known.join(", ")
        ));
    }
    Ok((sheet, plan, catalogue))
}

/// The assessment, and what is bought though the plan does not want it.
fn checked(file: &Path, plan: Option<&str>) -> Result<(Assessment, Vec<Idle>), String> {
    let (sheet, plan, catalogue) = open(file, plan)?;
    let a = assess(&sheet, &plan, &catalogue);
    let idle = change::idle(&sheet, &catalogue, &a);
    Ok((a, idle))
}

/// "; did you mean ...?", where one of the words is near.
fn nearest(given: &str, known: &[&str]) -> String {
    let near =
        known.iter().map(|word| (strsim::jaro_winkler(given, word), word)).filter(|(score, _)| *score > 0.75);
    near.max_by(|a, b| a.0.total_cmp(&b.0))
        .map_or_else(String::new, |(_, word)| format!("; did you mean \"{word}\"?"))
}

/// Opens the desk; with no display says so and prints the example's assessment.
pub fn desk(file: Option<PathBuf>) -> Done {
    let catalogue = library::shipped();
    let example = sheets::parse("the example", library::example()).map_err(|e| e.to_string())?;
    let show = match &file {
        Some(path) => sheets::open(path).map_err(|e| e.to_string())?,
        None => example.clone(),
    };
    let start = knockon_desk::Start { file, catalogue: catalogue.clone(), example };
    if let Err(error) = knockon_desk::run(start) {
        say(&format!("{error}\n\n{}\n", show.name));
        say(&text::assessment(&assess(&show, &show.plan, &catalogue)));
    }
    Ok(())
}

/// Prints the assessment of a plan, as text or JSON.
pub fn assess_file(file: &Path, plan: Option<&str>, as_json: bool) -> Done {
    let (a, idle) = checked(file, plan)?;
    if as_json {
        let mut all = json::assessment(&a);
        if let Some(all) = all.as_object_mut() {
            all.insert("idle".to_owned(), json::idle(&idle));
        }
        say(&format!("{all:#}\n"));
    } else {
        say(&text::assessment(&a));
        say(&text::idle(&idle));
    }
    Ok(())
}

/// Prints the buy list, or writes it as CSV.
pub fn buy(file: &Path, plan: Option<&str>, csv: Option<&Path>) -> Done {
    let (a, idle) = checked(file, plan)?;
    match csv {
        None => {
            say(&text::buy(&a));
            say(&text::idle(&idle));
        }
        Some(out) => {
            std::fs::write(out, buy_csv::buy_csv(&a)).map_err(|e| {
                format!("{}: cannot be written ({e}); choose a folder you may write to", out.display())
            })?;
            say(&format!("{} written to {}\n", count(a.buy.len(), "line", "lines"), out.display()));
        }
    }
    Ok(())
}

/// Prints what one choice would change; the sheet stays as it is.
pub fn whatif(
    file: &Path,
    plan: Option<&str>,
    position: &str,
    route: &str,
    part: Option<&str>,
    as_json: bool,
) -> Done {
    let (sheet, plan, catalogue) = open(file, plan)?;
    let all = offers(&sheet, &plan, &catalogue, position);
    if all.is_empty() {
        let known: Vec<&str> = catalogue
            .vehicles
            .get(&sheet.vehicle)
            .map_or_else(Vec::new, |v| v.positions.iter().map(|p| p.id.as_str()).collect());
        let hint = nearest(position, &known);
        return Err(format!(
            "there is no position \"{position}\" on this vehicle{hint}; it has {}",
            known.join(", ")
        ));
    }
    let words: Vec<String> = Route::ALL.iter().map(|r| r.word().replace(' ', "-")).collect();
    let known: Vec<&str> = words.iter().map(String::as_str).collect();
    if !known.contains(&route.replace(' ', "-").as_str()) {
        let hint = nearest(route, &known);
        return Err(format!("there is no route \"{route}\"{hint}; it is one of {}", known.join(", ")));
    }
    let route = route.replace('-', " ");
    let fits: Vec<_> = all
        .iter()
        .filter(|o| o.route.word() == route && part.is_none_or(|p| o.part.as_deref() == Some(p)))
        .cloned()
        .collect();
    if fits.is_empty() {
        let known: Vec<String> = all
            .iter()
            .map(|o| match &o.part {
                Some(p) => format!("{} {p}", o.route.word()),
                None => o.route.word().to_owned(),
            })
            .collect();
        return Err(format!("this is not on offer at {position}; on offer: {}", known.join(", ")));
    }
    let changes = change::of_offers(&sheet, &plan, &catalogue, &fits);
    if as_json {
        let mut all: Vec<serde_json::Value> = fits.iter().map(json::offer).collect();
        for (offer, change) in all.iter_mut().zip(&changes) {
            if let Some(offer) = offer.as_object_mut() {
                offer.insert("bought".to_owned(), json::change(change));
            }
        }
        say(&format!("{:#}\n", serde_json::Value::Array(all)));
    } else {
        let currency = assess(&sheet, &plan, &catalogue).totals.currency;
        say(&text::offers(&fits, &currency));
        say(&text::changes(&fits, &changes));
    }
    Ok(())
}

/// Lists the figures, says what one takes, or works it out.
pub fn figure(id: Option<&str>, inputs: &[(String, String)], as_json: bool) -> Done {
    let Some(id) = id else {
        say(&if as_json { format!("{:#}\n", figures::list_json()) } else { figures::list() });
        return Ok(());
    };
    let figure = figure::named(id).map_err(|e| e.to_string())?;
    if inputs.is_empty() {
        say(&if as_json { format!("{:#}\n", figures::described(figure)) } else { figures::inputs(figure) });
        return Ok(());
    }
    let mut given = BTreeMap::new();
    for (name, text) in inputs {
        if let Some(first) = given.insert(name.clone(), text.clone()) {
            return Err(format!(
                "{id}: {name} is given twice, as \"{first}\" and as \"{text}\"; give it once"
            ));
        }
    }
    let outputs = figure.run(&given).map_err(|e| e.to_string())?;
    say(&if as_json {
        format!("{:#}\n", figures::results_json(figure, &given, &outputs))
    } else {
        figures::results(figure, &given, &outputs)
    });
    Ok(())
}

/// Prints what is wrong in the files of a library; warnings too are an `Err`.
pub fn library_check(dir: &Path) -> Done {
    let problems = match library::load(dir) {
        Ok((catalogue, warnings)) => {
            say(&format!(
                "{}: {}, {}, {}\n",
                dir.display(),
                count(catalogue.parts.len(), "part", "parts"),
                count(catalogue.port_types.len(), "port type", "port types"),
                count(catalogue.vehicles.len(), "vehicle", "vehicles")
            ));
            warnings
        }
        Err(problems) => problems,
    };
    for problem in &problems {
        say(&format!("{}\n", problem.text));
    }
    let faults = problems.iter().filter(|p| !p.warning).count();
    let warnings = problems.len() - faults;
    say(&format!("{}, {}\n", count(faults, "fault", "faults"), count(warnings, "warning", "warnings")));
    if faults > 0 {
        Err(format!("{}: this library cannot be used as it is", dir.display()))
    } else if problems.is_empty() {
        Ok(())
    } else {
        Err(format!("{}: this library can be used; mend the warnings to have it pass", dir.display()))
    }
}
