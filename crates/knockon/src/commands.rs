//! What each command does. Errors are whole sentences for the terminal.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};

use knockon_core::change::{self, Idle};
use knockon_core::sheet::Route;
use knockon_core::showing::count;
use knockon_core::{Assessment, Catalogue, Sheet, assess, figure, offers};
use knockon_report::{buy_csv, figures, json, text};
use knockon_store::library::Weight;
use knockon_store::{library, lists, sheets};

type Done = Result<(), String>;

/// Prints; a closed pipe (`| head`) is no fault of the user's.
///
/// # Errors
/// What was asked for did not arrive.
fn say(out: &str) -> Done {
    let mut stdout = std::io::stdout().lock();
    match stdout.write_all(out.as_bytes()).and_then(|()| stdout.flush()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
            let why = if e.kind() == std::io::ErrorKind::StorageFull {
                "the disk is full".to_owned()
            } else {
                e.to_string()
            };
            Err(format!("the answer cannot be written: {why}; write it somewhere else"))
        }
        _ => Ok(()),
    }
}

fn open(file: &Path, plan: Option<&str>) -> Result<(Sheet, String, Catalogue), String> {
    let sheet = sheets::open(file).map_err(|e| e.to_string())?;
    let plan = meant_plan(&sheet, plan.unwrap_or(&sheet.plan))
        .map_err(|why| format!("{}: {why}", file.display()))?;
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

/// The plan of this id, else the one of this name.
fn meant_plan(sheet: &Sheet, given: &str) -> Result<String, String> {
    if sheet.plans.contains_key(given) {
        return Ok(given.to_owned());
    }
    let same = |name: &str| name.trim().to_lowercase() == given.trim().to_lowercase();
    let named: Vec<&String> = sheet.plans.iter().filter(|(_, p)| same(&p.name)).map(|(id, _)| id).collect();
    match named[..] {
        [id] => Ok(id.clone()),
        [] => {
            let known: Vec<String> =
                sheet.plans.iter().map(|(id, p)| format!("{id} (\"{}\")", p.name)).collect();
            Err(format!("there is no plan \"{given}\"; it has {}", known.join(", ")))
        }
        _ => {
            let ids: Vec<&str> = named.iter().map(|id| id.as_str()).collect();
            Err(format!("several plans are called \"{given}\"; give one of the ids {}", ids.join(", ")))
        }
    }
}

/// The few places that may be meant, the nearest first.
fn near_places(given: &str, places: &[(&str, &str)]) -> String {
    const FEW: usize = 5;
    let given = given.to_lowercase();
    // what was typed stands in it whole, else a word of it was typed, else it only looks alike
    let score = |word: &str| match (word.contains(&given), given.contains(word)) {
        (true, _) => 2.0,
        (_, true) => 0.9,
        _ => strsim::jaro_winkler(&given, word),
    };
    let mut near: Vec<(f64, f64, &str)> = places
        .iter()
        .map(|(id, name)| {
            let name = name.to_lowercase();
            let words = id.split('-').chain(name.split(' ')).filter(|word| word.chars().count() > 2);
            let best = words.map(score).fold(score(&name), f64::max).max(score(id));
            (best, strsim::jaro_winkler(&given, id), *id)
        })
        .filter(|(best, ..)| *best > 0.75)
        .collect();
    near.sort_by(|a, b| (b.0, b.1).partial_cmp(&(a.0, a.1)).unwrap_or(std::cmp::Ordering::Equal));
    let few: Vec<&str> = near.iter().take(FEW).map(|(.., id)| *id).collect();
    match few[..] {
        [] => "; knockon assess FILE --json lists all under positions".to_owned(),
        [one] => format!("; did you mean \"{one}\"?"),
        [first, ..] => format!("; did you mean \"{first}\"? Near are {}", few.join(", ")),
    }
}

/// The assessment, and what is bought though the plan does not want it.
fn checked(file: &Path, plan: Option<&str>) -> Result<(Assessment, Vec<Idle>), String> {
    let (sheet, plan, catalogue) = open(file, plan)?;
    let a = assess(&sheet, &plan, &catalogue);
    let idle = change::idle(&sheet, &catalogue, &a);
    Ok((a, idle))
}

/// "; did you mean ...?", where one of the words is near.
pub fn nearest(given: &str, known: &[&str]) -> String {
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
        say(&format!("{error}\n\n{}\n", show.name))?;
        say(&text::assessment(&assess(&show, &show.plan, &catalogue)))?;
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
        say(&format!("{all:#}\n"))?;
    } else {
        say(&text::assessment(&a))?;
        say(&text::idle(&idle))?;
    }
    Ok(())
}

/// Prints the buy list, or writes it as CSV.
pub fn buy(file: &Path, plan: Option<&str>, csv: Option<&Path>) -> Done {
    let (a, idle) = checked(file, plan)?;
    match csv {
        None => {
            say(&text::buy(&a))?;
            say(&text::idle(&idle))?;
        }
        Some(out) => {
            lists::write(out, &buy_csv::buy_csv(&a), Some(file))?;
            say(&format!("{} written to {}\n", count(a.buy.len(), "line", "lines"), out.display()))?;
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
        let known: Vec<(&str, &str)> = catalogue.vehicles.get(&sheet.vehicle).map_or_else(Vec::new, |v| {
            v.positions.iter().map(|p| (p.id.as_str(), p.name.as_str())).collect()
        });
        let hint = near_places(position, &known);
        return Err(format!("there is no position \"{position}\" on this vehicle{hint}"));
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
        say(&format!("{:#}\n", serde_json::Value::Array(all)))?;
    } else {
        let currency = assess(&sheet, &plan, &catalogue).totals.currency;
        say(&text::offers(&fits, &currency))?;
        say(&text::changes(&fits, &changes))?;
    }
    Ok(())
}

/// Lists the figures, says what one takes, or works it out.
pub fn figure(id: Option<&str>, inputs: &[(String, String)], as_json: bool) -> Done {
    let Some(id) = id else {
        say(&if as_json { format!("{:#}\n", figures::list_json()) } else { figures::list() })?;
        return Ok(());
    };
    let figure = figure::named(id).map_err(|e| e.to_string())?;
    if inputs.is_empty() {
        say(&if as_json { format!("{:#}\n", figures::described(figure)) } else { figures::inputs(figure) })?;
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
    })?;
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
            ))?;
            warnings
        }
        Err(problems) => problems,
    };
    for problem in &problems {
        say(&format!("{}\n", problem.text))?;
    }
    let of = |weight: Weight| problems.iter().filter(|p| p.weight == weight).count();
    let (faults, warnings) = (of(Weight::Fault), of(Weight::Warning));
    say(&format!("{}, {}\n", count(faults, "fault", "faults"), count(warnings, "warning", "warnings")))?;
    if faults > 0 {
        Err(format!("{}: this library cannot be used as it is", dir.display()))
    } else if problems.is_empty() {
        Ok(())
    } else {
        Err(format!("{}: this library can be used; mend the warnings to have it pass", dir.display()))
    }
}
