//! `knockon report`: a report of a sheet as PDF, HTML, XLSX or CSV, by the ending of the file it is written to.

use std::path::{Path, PathBuf};

use knockon_core::jobs::jobs;
use knockon_core::meant::{nearest, then};
use knockon_core::showing::Measure;
use knockon_report::kinds::{By, Kind, Other, Subject, document};
use knockon_report::write::{Format, Paper, write};
use knockon_store::lists::{self, Known, NotWritten};

use crate::commands::{Done, Wanted, meant_plan, open};
use crate::photos::small;
use crate::terminal::say;

/// What is asked of a report besides its kind and its sheet.
#[derive(Clone, Debug)]
pub struct Asked {
    /// Where it goes; its ending says how it is written.
    pub out: PathBuf,
    /// The plan it is held against, for two plans side by side.
    pub against: Option<String>,
    /// What lines are put together by.
    pub by: By,
    /// What a PDF is printed on.
    pub paper: Option<Paper>,
    /// Whose units quantities are told in.
    pub units: Measure,
    /// Whatever is there may be written over.
    pub replace: bool,
}

/// Writes a report.
pub fn report(kind: Kind, wanted: &Wanted, asked: &Asked) -> Done {
    let format = format_of(&asked.out)?;
    let mut opened = open(wanted)?;
    let file = wanted.file.display();
    let assessment = opened.assess();
    let against = match (kind, &asked.against) {
        (Kind::Compare, Some(plan)) => {
            let plan = meant_plan(&opened.sheet, plan).map_err(|why| format!("{file}: {why}"))?;
            let first = std::mem::replace(&mut opened.plan, plan.clone());
            let assessment = opened.assess();
            opened.plan = first;
            Some((plan, assessment))
        }
        (Kind::Compare, None) => {
            let others: Vec<&str> =
                opened.sheet.plans.keys().map(String::as_str).filter(|plan| *plan != opened.plan).collect();
            let plans = match others[..] {
                [] => "this sheet has no other".to_owned(),
                _ => format!("this sheet has {} beside {}", others.join(", "), opened.plan),
            };
            return Err(format!("--against: expected the plan to hold {} against; {plans}", opened.plan));
        }
        (_, Some(_)) => return Err(format!("--against goes with compare, and not with {}", kind.word())),
        (_, None) => None,
    };
    opened.complain();
    let work = jobs(&opened.sheet, &assessment, &opened.catalogue);
    let catalogue = opened.catalogue.for_sheet(&opened.sheet);
    let pictures = match (kind, format) {
        (Kind::Book, Format::Pdf | Format::Html) => small(&opened.sheet, &wanted.file),
        _ => Default::default(),
    };
    let subject = Subject {
        sheet: &opened.sheet,
        plan: &opened.plan,
        assessment: &assessment,
        catalogue: &catalogue,
        jobs: &work,
        measure: asked.units,
        day: Some(wanted.on),
        by: asked.by,
        other: against.as_ref().map(|(plan, assessment)| Other { plan, assessment }),
        pictures: &pictures,
    };
    let told = document(kind, &subject);
    // who reads inches has Letter in the printer
    let paper = asked.paper.unwrap_or(match asked.units {
        Measure::Inch => Paper::Letter,
        Measure::Metric => Paper::A4,
    });
    let bytes = write(&told, format, paper).map_err(|why| format!("{}: {why}", asked.out.display()))?;
    let known = match format {
        _ if asked.replace => Known::Anything,
        Format::Pdf | Format::Html => Known::Seal,
        // what was typed into a workbook or a list is work, and there is no room for a seal in them
        Format::Xlsx | Format::Csv => Known::Nothing,
    };
    lists::write_bytes(&asked.out, &bytes, Some(&wanted.file), known).map_err(|why| with_way_out(&why))?;
    say(&format!("{} written to {}\n", kind.title(), asked.out.display()))
}

/// Why a file was not written, with the option that writes over what stands in the way.
pub fn with_way_out(why: &NotWritten) -> String {
    if why.is_in_the_way() { format!("{why}; --replace writes over it") } else { why.to_string() }
}

/// The format by the ending of a file.
fn format_of(out: &Path) -> Result<Format, String> {
    let ending = out.extension().and_then(|ending| ending.to_str()).unwrap_or_default();
    let all = Format::ALL.map(Format::ending);
    let list = format!("expected a file that ends in .{}", all.join(", ."));
    Format::of_ending(ending).ok_or_else(|| {
        let near = nearest(ending, all).filter(|_| !ending.is_empty());
        format!("--out {}: nothing is written as \"{ending}\"{}", out.display(), then(near, &list))
    })
}

/// A kind by its word.
pub fn kind(text: &str) -> Result<Kind, String> {
    let words = Kind::ALL.map(Kind::word);
    let typed = text.trim().to_lowercase().replace([' ', '_'], "-");
    Kind::ALL.into_iter().find(|kind| kind.word() == typed).ok_or_else(|| {
        format!(
            "there is no report \"{text}\"{}",
            then(nearest(&typed, words), &format!("there are {}", words.join(", ")))
        )
    })
}

/// What lines are put together by, by its word.
pub fn by(text: &str) -> Result<By, String> {
    let words = By::ALL.map(By::word);
    let typed = text.trim().to_lowercase();
    let found = By::ALL.into_iter().find(|by| by.word() == typed);
    found.ok_or_else(|| format!("lines are put together by {}, not by \"{text}\"", words.join(", ")))
}

/// Paper by its name.
pub fn paper(text: &str) -> Result<Paper, String> {
    match text.trim().to_lowercase().as_str() {
        "letter" => Ok(Paper::Letter),
        "a4" => Ok(Paper::A4),
        _ => Err(format!("expected letter or a4, found \"{text}\"")),
    }
}
