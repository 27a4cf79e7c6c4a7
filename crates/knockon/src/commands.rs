//! What each command does. Errors are whole sentences for the terminal.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use knockon_core::assessment::Offer;
use knockon_core::catalogue::VehicleEntry;
use knockon_core::change;
use knockon_core::date::Date;
use knockon_core::find::{Finder, OnOffer};
use knockon_core::jobs::session_hours;
use knockon_core::jobs::while_apart::while_apart;
use knockon_core::look_twice::Bounds;
use knockon_core::made_with::differing;
use knockon_core::meant::{nearest, then};
use knockon_core::money::typed;
use knockon_core::remedy::cures;
use knockon_core::sheet::Route;
use knockon_core::showing::{Measure, count};
use knockon_core::strangers::strangers;
use knockon_core::together::together;
use knockon_core::{Assessment, Catalogue, Sheet, assess, offers};
use knockon_report::{
    apart, buy_csv, calendar, card, compare, found, jobs as work, json, look_twice, sources, survey as walk,
    text, together as report,
};
use knockon_store::disk::Machine;
use knockon_store::libraries::Wanted as Libraries;
use knockon_store::library::Weight;
use knockon_store::lists::{self, Known};
use knockon_store::{library, place, sheets, unsaved};

use crate::libraries::{read, way_out};
use crate::report::with_way_out;
use crate::terminal::{complain, say, say_json};

/// What a command comes to: a sentence where it fails.
pub type Done = Result<(), String>;

/// A sheet with what it is to be judged by.
pub struct Opened {
    /// The sheet.
    pub sheet: Sheet,
    /// Plan id.
    pub plan: String,
    /// The library, as of the day.
    pub catalogue: Catalogue,
    /// Words the library does not know, each with file and line.
    unknown: Vec<String>,
}

/// Which sheet is meant, and how it is looked at.
#[derive(Clone, Debug)]
pub struct Wanted {
    /// The sheet's file.
    pub file: PathBuf,
    /// Plan by id or name; `None`: the sheet's current one.
    pub plan: Option<String>,
    /// The day.
    pub on: Date,
    /// What was changed in a window and is not saved counts too.
    pub with_unsaved: bool,
    /// The libraries it is judged by.
    pub libraries: Libraries,
}

/// What was changed in a window and is not saved, where that is wanted; else it is told that there is something.
fn with_unsaved(sheet: Sheet, wanted: &Wanted) -> Sheet {
    let home = knockon_desk::home();
    let found = unsaved::look(&Machine, &wanted.file, home.as_deref(), &sheet);
    let name = wanted.file.display();
    for note in &found.notes {
        complain(note);
    }
    let typed = found.typed.as_ref().is_some_and(knockon_desk::is_of_the_sheet);
    if wanted.with_unsaved {
        if typed {
            complain(&format!("{name}: what is still being typed in a window is not counted in"));
        }
        return found.sheet;
    }
    if found.sheet != sheet || typed {
        let what = match found.changes {
            0 => "text that is still being typed".to_owned(),
            changes => count(changes, "change", "changes"),
        };
        complain(&format!(
            "{name}: not counted in: {what} from a window, not saved yet; --with-unsaved counts changes in"
        ));
    }
    sheet
}

/// A sheet as of a day.
pub fn open(wanted: &Wanted) -> Result<Opened, String> {
    let (file, plan, on) = (wanted.file.as_path(), wanted.plan.as_deref(), wanted.on);
    let (sheet, text) = sheets::open_with_text(file).map_err(|e| e.to_string())?;
    let sheet = with_unsaved(sheet, wanted);
    let plan = meant_plan(&sheet, plan.unwrap_or(&sheet.plan))
        .map_err(|why| format!("{}: {why}", file.display()))?;
    let catalogue = read(&wanted.libraries)?.catalogue.on(on);
    for differs in differing(&sheet.libraries, &catalogue.libraries) {
        complain(&format!("{}: {differs}{}", file.display(), way_out(&differs)));
    }
    let strangers = strangers(&sheet, &plan, &catalogue);
    let paths: Vec<&str> = strangers.iter().map(|s| s.path.as_str()).collect();
    let lines = place::lines_of(&text, &paths);
    let unknown: Vec<String> = strangers
        .iter()
        .zip(lines)
        .map(|(s, line)| {
            let line = line.map_or_else(String::new, |l| format!(":{l}"));
            format!("{}{line}: at {}: {}", file.display(), s.path, s.message)
        })
        .collect();
    if catalogue.vehicles.contains_key(&sheet.vehicle) {
        Ok(Opened { sheet, plan, catalogue, unknown })
    } else {
        Err(unknown.join("\n"))
    }
}

impl Opened {
    /// The assessment, with what is not known told by file and line.
    pub fn assess(&self) -> Assessment {
        // what the search for bridges has to say is the library's and has no place in the sheet
        const OF_THE_LIBRARY: &str = "the search for bridges";
        let mut a = assess(&self.sheet, &self.plan, &self.catalogue);
        a.problems.retain(|problem| problem.starts_with(OF_THE_LIBRARY) || self.unknown.is_empty());
        a.problems.splice(0..0, self.unknown.iter().cloned());
        a
    }

    /// What is not known, on the error stream: the answer itself is for another program.
    pub fn complain(&self) {
        for unknown in &self.unknown {
            complain(&format!("Not known: {unknown}"));
        }
    }
}

/// The plan of this id, else the one of this name.
pub fn meant_plan(sheet: &Sheet, given: &str) -> Result<String, String> {
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
            let words = sheet.plans.iter().flat_map(|(id, p)| [id.as_str(), p.name.as_str()]);
            let has = format!("it has {}", known.join(", "));
            Err(format!("there is no plan \"{given}\"{}", then(nearest(given, words), &has)))
        }
        _ => {
            let ids: Vec<&str> = named.iter().map(|id| id.as_str()).collect();
            Err(format!("several plans are called \"{given}\"; give one of the ids {}", ids.join(", ")))
        }
    }
}

/// The few places that may be meant, the nearest first.
fn near_places<'a>(given: &str, places: &[(&'a str, &str)]) -> Vec<&'a str> {
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
        .filter(|(best, ..)| *best > 0.8)
        .collect();
    near.sort_by(|a, b| (b.0, b.1).partial_cmp(&(a.0, a.1)).unwrap_or(std::cmp::Ordering::Equal));
    near.iter().take(FEW).map(|(.., id)| *id).collect()
}

/// That a position is not there, with those that may be meant, or all.
fn no_position(given: &str, vehicle: &VehicleEntry) -> String {
    let known: Vec<(&str, &str)> =
        vehicle.positions.values().map(|p| (p.id.as_str(), p.name.as_str())).collect();
    let near = near_places(given, &known);
    let rest = match near.split_first() {
        None => {
            let mut ids: Vec<&str> = known.iter().map(|(id, _)| *id).collect();
            ids.sort_unstable();
            then(None, &format!("it has {}", ids.join(", ")))
        }
        Some((first, [])) => then(Some(first), ""),
        Some((first, others)) => then(Some(first), &format!("near it are {}", others.join(", "))),
    };
    format!("there is no position \"{given}\" on this vehicle{rest}")
}

/// Why a route is not on offer at a position, and what is.
fn not_on_offer(opened: &Opened, position: &str, route: &str, part: Option<&str>, all: &[Offer]) -> String {
    let catalogue = opened.catalogue.for_sheet(&opened.sheet);
    let parts: Vec<&str> = all.iter().filter_map(|o| o.part.as_deref()).collect();
    let mut routes: Vec<&str> = all.iter().filter(|o| o.part.is_none()).map(|o| o.route.word()).collect();
    let converts = if parts.is_empty() { String::new() } else { format!("convert to {}", parts.join(", ")) };
    routes.extend(Some(converts.as_str()).filter(|c| !c.is_empty()));
    let offered = format!("on offer there: {}", routes.join("; "));
    match part {
        Some(id) if catalogue.part(id).is_none() => {
            let ids = catalogue.part_names.ids.values().map(String::as_str);
            let near = nearest(id, parts.iter().copied()).or_else(|| nearest(id, ids));
            format!("the library has no part \"{id}\"{}", then(near, &offered))
        }
        Some(id) if parts.contains(&id) => {
            format!("\"{id}\" is on offer at {position} by the route convert, not by {route}; {offered}")
        }
        Some(id) => format!("the part \"{id}\" is not on offer at {position}; {offered}"),
        None => format!("{route} is not on offer at {position}; {offered}"),
    }
}

/// "; did you mean ...?", where one of the words is near.
pub fn near_word(given: &str, known: &[&str]) -> String {
    then(nearest(given, known.iter().copied()), "")
}

/// Opens the desk, which asks for the day whenever it draws; where no window can be opened, prints the assessment of the
/// sheet, or of the example, and fails.
pub fn desk(file: Option<PathBuf>, libraries: &Libraries, today: fn() -> Date) -> Done {
    let loaded = read(libraries)?;
    let catalogue = loaded.catalogue.on(today());
    let example = sheets::parse("the example", library::example()).map_err(|e| e.to_string())?;
    let show = match &file {
        Some(path) => sheets::open(path).map_err(|e| e.to_string())?,
        None => example.clone(),
    };
    let start = knockon_desk::Start {
        file: file.clone(),
        catalogue: catalogue.clone(),
        libraries: libraries.clone(),
        faults: loaded.problems.into_iter().filter(|p| p.weight == Weight::Fault).map(|p| p.text).collect(),
        example,
        today,
    };
    if let Err(error) = knockon_desk::run(start) {
        say(&format!("{}\n", show.name))?;
        let a = assess(&show, &show.plan, &catalogue);
        let whole = text::assessment(&a, &cures(&show, &show.plan, &catalogue, &a), Measure::default());
        say(&format!("{whole}\n{}", text::LAST))?;
        let sheet = file.map(|file| format!(" The sheet: {}.", file.display())).unwrap_or_default();
        return Err(format!("{error}{sheet}"));
    }
    Ok(())
}

/// What is asked of an assessment besides.
#[derive(Clone, Debug)]
pub struct Asked {
    /// What would clear all that does not fit, together.
    pub cures: bool,
    /// From where on a line is dear, as typed.
    pub dear: Option<String>,
    /// From how many hours on a line takes long.
    pub long: Option<f64>,
    /// Whose units quantities are told in.
    pub units: Measure,
}

/// Prints the assessment of a plan, as text or JSON, with what is asked of it.
pub fn assess_file(wanted: &Wanted, asked: &Asked, as_json: bool) -> Done {
    let units = asked.units;
    let opened = open(wanted)?;
    let a = opened.assess();
    let dear = match &asked.dear {
        Some(dear) => typed(dear, &a.totals.currency).map_err(|e| format!("--dear: {e}"))?,
        None => None,
    };
    if asked.long.is_some_and(|hours| hours.is_nan() || hours < 0.0) {
        return Err("--long: expected hours of 0 or more, such as 4".to_owned());
    }
    let bounds = Bounds { dear, long: asked.long };
    let sets = asked.cures.then(|| together(&opened.sheet, &opened.plan, &opened.catalogue, &a));
    if as_json {
        let mut all = json::assessment(&a, units);
        if let Some(all) = all.as_object_mut() {
            all.insert("look_twice".to_owned(), look_twice::json(&a, &bounds));
            let catalogue = opened.catalogue.for_sheet(&opened.sheet);
            all.insert("sources".to_owned(), sources::json(&a, &catalogue));
            all.extend(sets.iter().map(|sets| ("cures".to_owned(), report::json(sets, &a.totals.currency))));
        }
        return say_json(&all);
    }
    let cures = cures(&opened.sheet, &opened.plan, &opened.catalogue, &a);
    let whole = text::assessment(&a, &cures, units);
    let sets = sets.map_or_else(String::new, |sets| report::text(&a, &opened.catalogue, &sets));
    let head = headline(&opened, wanted.plan.is_none());
    let (idle, twice) = (text::idle(&a.idle), look_twice::text(&a, &bounds));
    say(&format!("{head}\n{whole}{idle}{twice}{sets}\n{}", text::LAST))
}

/// The vehicle and the plan, and whether the plan was named.
fn headline(opened: &Opened, by_default: bool) -> String {
    let vehicle = opened.catalogue.vehicles.get(&opened.sheet.vehicle).map_or("", |v| v.name.as_str());
    let plan = opened.sheet.plans.get(&opened.plan).map_or("", |p| p.name.as_str());
    let why = if by_default { ", the sheet's current plan; --plan takes another" } else { "" };
    format!("{vehicle}\nPlan: {plan} ({}){why}\n", opened.plan)
}

/// Where a list goes, and whether whatever is there may be written over.
#[derive(Clone, Copy, Debug)]
pub struct Out<'a> {
    /// The file.
    pub path: &'a Path,
    /// Whatever is there.
    pub replace: bool,
}

impl Out<'_> {
    /// Writes it, over what is known.
    fn write(self, text: &str, sheet: &Path, known: Known) -> Done {
        let known = if self.replace { Known::Anything } else { known };
        let written = lists::write_bytes(self.path, text.as_bytes(), Some(sheet), known);
        written.map_err(|why| with_way_out(&why))
    }
}

/// Prints the buy list, or writes it as CSV.
pub fn buy(wanted: &Wanted, csv: Option<Out<'_>>) -> Done {
    let opened = open(wanted)?;
    let a = opened.assess();
    opened.complain();
    let Some(out) = csv else { return say(&(text::buy(&a) + &text::idle(&a.idle))) };
    // what was typed into a list is work
    out.write(&buy_csv::buy_csv(&a), &wanted.file, Known::Nothing)?;
    say(&format!("{} written to {}\n", count(a.buy.len(), "line", "lines"), out.path.display()))
}

/// Prints what answers a search in a plan.
pub fn find(wanted: &Wanted, words: &str, as_json: bool) -> Done {
    let opened = open(wanted)?;
    let a = opened.assess();
    let catalogue = opened.catalogue.for_sheet(&opened.sheet);
    let finder = Finder::new(&opened.sheet, &a, &catalogue, Arc::new(OnOffer::new(&catalogue)));
    let all = finder.find(words);
    if as_json { say_json(&found::json(&all)) } else { say(&found::text(words, &all)) }
}

/// Prints what one plan costs more than another.
pub fn compare(wanted: &Wanted, to: &str, as_json: bool) -> Done {
    let mut opened = open(wanted)?;
    let second = meant_plan(&opened.sheet, to).map_err(|why| format!("{}: {why}", wanted.file.display()))?;
    let before = opened.assess();
    let first = std::mem::replace(&mut opened.plan, second);
    let after = opened.assess();
    opened.complain();
    let found = knockon_core::compare::compare(&opened.sheet, &opened.catalogue, &before, &after);
    let currency = after.totals.currency.as_str();
    if as_json {
        return say_json(&compare::json(&found, currency));
    }
    let name = |id: &String| opened.sheet.plans.get(id).map_or_else(|| id.clone(), |plan| plan.name.clone());
    say(&compare::text(&found, &name(&first), &name(&opened.plan), currency))
}

/// Hours as they are typed: a number above nothing, with a point or a comma.
pub fn hours(text: &str) -> Result<f64, String> {
    session_hours(text)
        .ok_or_else(|| format!("expected hours above nothing, such as 6 or 4.5, found \"{text}\""))
}

/// Prints the walk round the vehicle, or a sheet to take along.
pub fn survey(wanted: &Wanted, to_print: bool, units: Measure, as_json: bool) -> Done {
    let opened = open(wanted)?;
    opened.complain();
    let found = knockon_core::survey::survey(&opened.sheet, &opened.plan, &opened.catalogue);
    if as_json {
        return say_json(&walk::json(&found, units));
    }
    if to_print {
        return say(&walk::sheet(&found, &opened.sheet.name, units));
    }
    say(&walk::text(&found, units))
}

/// Prints the work of a plan, or writes its sessions as a calendar.
pub fn jobs(wanted: &Wanted, this_saturday: Option<f64>, calendar: Option<Out<'_>>, as_json: bool) -> Done {
    let opened = open(wanted)?;
    let a = opened.assess();
    opened.complain();
    let found = knockon_core::jobs::jobs(&opened.sheet, &a, &opened.catalogue);
    let plan = knockon_core::schedule::schedule(&opened.sheet, &found, &a, &opened.catalogue);
    if let Some(out) = calendar {
        let text = calendar::calendar(&found, &plan, &a, &opened.sheet.vehicle)
            .ok_or("no day is known; name one with --on or in the sheet")?;
        out.write(&text, &wanted.file, Known::Seal)?;
        return say(&format!(
            "{} written to {}\n",
            count(plan.sessions.len(), "session", "sessions"),
            out.path.display()
        ));
    }
    let apart = while_apart(&opened.sheet, &a, &found, &opened.catalogue);
    if as_json {
        let mut all = work::json(&found, &plan, &a, this_saturday);
        all["while_apart"] = apart::json(&apart);
        return say_json(&all);
    }
    let apart = if this_saturday.is_none() { apart::text(&apart, &found) } else { String::new() };
    say(&work::text(&found, &plan, &a, this_saturday, &apart))
}

/// Prints the card that is meant, or what there is.
pub fn card(words: &str, libraries: &Libraries, as_json: bool) -> Done {
    let catalogue = read(libraries)?.catalogue;
    if words.trim().is_empty() && !as_json {
        return say(&card::list(&catalogue));
    }
    let found = card::meant(&catalogue, words);
    if as_json {
        let all: Vec<_> = found.iter().map(|(id, of)| card::json(id, of)).collect();
        return say_json(&all.into());
    }
    match found[..] {
        [] => {
            let near = nearest(words, catalogue.cards.keys().map(String::as_str));
            Err(format!("there is no card \"{words}\"{}", then(near, "\"knockon card\" lists them")))
        }
        [(_, one)] => say(&card::text(one, &catalogue.cautions)),
        ref several => {
            say("Several are meant; give one by its id:\n")?;
            several.iter().try_for_each(|(id, of)| say(&format!("{id:<28} {}\n", of.name)))
        }
    }
}

/// Says whether the vehicle may be driven; whether it may.
pub fn ready(wanted: &Wanted) -> Result<bool, String> {
    let opened = open(wanted)?;
    let a = opened.assess();
    opened.complain();
    let found = knockon_core::jobs::jobs(&opened.sheet, &a, &opened.catalogue);
    let missing = knockon_core::jobs::missing(&found, &a, Measure::Inch);
    say(&work::ready(&missing))?;
    Ok(missing.is_empty())
}

/// Prints what one choice would change; the sheet stays as it is.
pub fn whatif(wanted: &Wanted, position: &str, route: &str, part: Option<&str>, as_json: bool) -> Done {
    let opened = open(wanted)?;
    let (sheet, plan, catalogue) = (&opened.sheet, opened.plan.as_str(), &opened.catalogue);
    let all = offers(sheet, plan, catalogue, position);
    if all.is_empty() {
        return Err(catalogue
            .vehicles
            .get(&sheet.vehicle)
            .map_or_else(String::new, |vehicle| no_position(position, vehicle)));
    }
    let words: Vec<String> = Route::ALL.iter().map(|r| r.word().replace(' ', "-")).collect();
    let typed = route.trim().to_lowercase().replace(' ', "-");
    if !words.contains(&typed) {
        let near = nearest(&typed, words.iter().map(String::as_str));
        let list = format!("a route is one of {}", words.join(", "));
        return Err(format!("there is no route \"{route}\"{}", then(near, &list)));
    }
    let route = typed.replace('-', " ");
    let fits: Vec<_> = all
        .iter()
        .filter(|o| o.route.word() == route && part.is_none_or(|p| o.part.as_deref() == Some(p)))
        .cloned()
        .collect();
    if fits.is_empty() {
        return Err(not_on_offer(&opened, position, &route, part, &all));
    }
    opened.complain();
    let changes = change::of_offers(sheet, plan, catalogue, &fits);
    let before = opened.assess();
    if as_json {
        let currency = before.totals.currency.as_str();
        let mut all: Vec<serde_json::Value> = fits.iter().map(|offer| json::offer(offer, currency)).collect();
        for (offer, change) in all.iter_mut().zip(&changes) {
            if let Some(offer) = offer.as_object_mut() {
                offer.insert("bought".to_owned(), json::change(change));
            }
        }
        return say_json(&serde_json::Value::Array(all));
    }
    let after: Vec<Assessment> =
        fits.iter().map(|offer| change::chosen(sheet, plan, catalogue, offer)).collect();
    say(&(text::offers(&fits, &before, &after) + &text::changes(&fits, &changes)))
}
