//! What is to be printed or saved: which paper, in which format, on which size; the page one stands on proposes it.

use std::path::{Path, PathBuf};

use knockon_core::Sheet;
use knockon_core::showing::Measure;
use knockon_report::kinds::Kind;
use knockon_report::write::{Format, Paper};

use crate::app::view::{Behind, Page, View};
use crate::jobs::state::Shown;

/// What is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printing {
    /// Which paper.
    pub kind: Kind,
    /// In which format.
    pub format: Format,
    /// On which size; `None`: that of whoever reads such units.
    pub size: Option<Paper>,
    /// The plan that the open one is held against, by id; for two plans side by side.
    pub against: Option<String>,
    /// It is opened once it is written.
    pub opens: bool,
    /// The name of the sheet, as file names begin with it.
    pub plain: String,
}

impl Default for Printing {
    fn default() -> Self {
        Self {
            kind: Kind::Book,
            format: Format::Pdf,
            size: None,
            against: None,
            opens: false,
            plain: String::new(),
        }
    }
}

/// Who reads inches has Letter in the printer.
pub fn usual_size(measure: Measure) -> Paper {
    match measure {
        Measure::Inch => Paper::Letter,
        Measure::Metric => Paper::A4,
    }
}

/// The paper that has on it what is on the screen.
pub fn of_view(view: &View) -> Kind {
    match (view.behind, view.page) {
        (Some(Behind::Measure), _) => Kind::Measure,
        (Some(Behind::Surplus), _) => Kind::Tags,
        (_, Page::Buying | Page::Money) => Kind::BuyList,
        (_, Page::Jobs) if view.jobs.shown == Shown::Checks => Kind::Commissioning,
        (_, Page::Jobs) => Kind::Jobs,
        (_, Page::Survey) => Kind::WalkRound,
        (_, Page::Plans) => Kind::Compare,
        _ => Kind::Book,
    }
}

impl Printing {
    /// The name that is proposed for the file.
    pub fn name(&self) -> String {
        let lead = if self.plain.is_empty() { String::new() } else { format!("{}-", self.plain) };
        format!("{lead}{}.{}", self.kind.word(), self.format.ending())
    }

    /// Something else is asked for: the path follows, as far as nobody named the file.
    pub fn change(&mut self, path: &mut String, change: impl FnOnce(&mut Self)) {
        let before = self.name();
        change(self);
        let now = Path::new(path.as_str());
        let is_proposed = now.file_name().is_some_and(|name| *name == *before);
        let has_ending = now.extension().and_then(|ending| ending.to_str()).and_then(Format::of_ending);
        let new = if is_proposed {
            now.with_file_name(self.name())
        } else if has_ending.is_some() {
            now.with_extension(self.format.ending())
        } else {
            return;
        };
        *path = new.display().to_string();
    }

    /// The plans the open one can be held against: ids and names.
    pub fn others(sheet: &Sheet) -> impl Iterator<Item = (&String, &str)> {
        sheet.plans.iter().filter(|(id, _)| **id != sheet.plan).map(|(id, plan)| (id, plan.name.as_str()))
    }

    /// The plan it is held against: the one that was chosen, else the first other.
    pub fn held_against(&self, sheet: &Sheet) -> Option<String> {
        let chosen = self.against.as_ref().filter(|id| **id != sheet.plan && sheet.plans.contains_key(*id));
        chosen.or_else(|| Self::others(sheet).next().map(|(id, _)| id)).cloned()
    }

    /// Why it cannot be made, with the way out.
    pub fn lacks(&self, sheet: &Sheet) -> Option<&'static str> {
        (self.kind == Kind::Compare && self.held_against(sheet).is_none()).then_some(
            "This sheet has one plan. \"Another plan like this…\" in the list of plans begins a second, which this one is held \
             against.",
        )
    }
}

/// The file that a path means: one that ends in no format gets the ending of the one that is chosen, else its ending says the
/// format. Whether an ending was added.
pub fn with_ending(path: PathBuf, chosen: Format) -> (PathBuf, Format, bool) {
    let known = path.extension().and_then(|ending| ending.to_str()).and_then(Format::of_ending);
    match known {
        Some(format) => (path, format, false),
        None if path.file_name().is_none() || path.is_dir() => (path, chosen, false),
        None => {
            let mut text = path.into_os_string();
            text.push(format!(".{}", chosen.ending()));
            (text.into(), chosen, true)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_path_follows_what_is_chosen_until_somebody_names_the_file() {
        let mut printing = Printing { plain: "barn-pickup".to_owned(), ..Printing::default() };
        let mut path = "/tmp/barn-pickup-book.pdf".to_owned();
        printing.change(&mut path, |now| now.kind = Kind::Jobs);
        assert_eq!(path, "/tmp/barn-pickup-jobs.pdf");
        printing.change(&mut path, |now| now.format = Format::Html);
        assert_eq!(path, "/tmp/barn-pickup-jobs.html");
        path = "/tmp/for Ann.html".to_owned();
        printing.change(&mut path, |now| now.kind = Kind::Tags);
        assert_eq!(path, "/tmp/for Ann.html");
        printing.change(&mut path, |now| now.format = Format::Pdf);
        assert_eq!(path, "/tmp/for Ann.pdf");
        path = "/tmp/plan v1.2".to_owned();
        printing.change(&mut path, |now| now.format = Format::Csv);
        assert_eq!(path, "/tmp/plan v1.2");
    }

    #[test]
    fn the_ending_says_the_format_and_one_that_says_none_keeps_its_name() {
        let of = |text: &str| with_ending(PathBuf::from(text), Format::Pdf);
        assert_eq!(of("/no/a.XLSX"), (PathBuf::from("/no/a.XLSX"), Format::Xlsx, false));
        assert_eq!(of("/no/plan v1.2"), (PathBuf::from("/no/plan v1.2.pdf"), Format::Pdf, true));
        assert_eq!(of("/no/book"), (PathBuf::from("/no/book.pdf"), Format::Pdf, true));
        assert_eq!(of("/"), (PathBuf::from("/"), Format::Pdf, false));
    }
}
