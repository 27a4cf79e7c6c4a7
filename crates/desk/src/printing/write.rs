//! Writes a paper off the frame: the report is made, written in its format, and opened where that was asked for.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use knockon_core::date::Date;
use knockon_core::jobs::jobs;
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Catalogue, Sheet, assess};
use knockon_report::kinds::{By, Kind, Other, Subject, document};
use knockon_report::write::{Format, write};
use knockon_store::lists::{self, Known};

use crate::app::App;
use crate::app::viewer;
use crate::app::work::{Done, Purpose, What};
use crate::dialogs::open::Dialog;
use crate::printing::photos;
use crate::printing::state::{Printing, of_view, usual_size};
use crate::wording::count;

/// What a paper is made of.
struct Made {
    sheet: Arc<Sheet>,
    assessment: Arc<Assessment>,
    catalogue: Arc<Catalogue>,
    measure: Measure,
    day: Date,
    /// The file of the sheet.
    file: Option<PathBuf>,
    printing: Printing,
}

/// A paper that was written: its name, what is not in it, what went wrong with opening it.
#[derive(Debug, Default)]
pub struct Written {
    /// Its name.
    pub title: &'static str,
    /// Photos that are not in it, each with why.
    pub left_out: Vec<String>,
    /// Why it could not be opened.
    pub not_opened: Option<String>,
}

impl Made {
    /// Its bytes in its format, and photos that are not in it.
    fn bytes(&self) -> Result<(Vec<u8>, Vec<String>), String> {
        let (sheet, printing) = (&*self.sheet, &self.printing);
        let other = match printing.kind {
            Kind::Compare => printing.held_against(sheet),
            _ => None,
        };
        let other = other.map(|plan| (assess(sheet, &plan, &self.catalogue), plan));
        let work = jobs(sheet, &self.assessment, &self.catalogue);
        let own = self.catalogue.for_sheet(sheet);
        let (pictures, left_out) = match (printing.kind, printing.format) {
            (Kind::Book, Format::Pdf | Format::Html) => photos::small(sheet, self.file.as_deref()),
            _ => Default::default(),
        };
        let told = document(
            printing.kind,
            &Subject {
                sheet,
                plan: &sheet.plan,
                assessment: &self.assessment,
                catalogue: &own,
                jobs: &work,
                measure: self.measure,
                day: Some(self.day),
                by: By::Supplier,
                other: other.as_ref().map(|(assessment, plan)| Other { plan, assessment }),
                pictures: &pictures,
            },
        );
        let size = printing.size.unwrap_or(usual_size(self.measure));
        let bytes = write(&told, printing.format, size).map_err(|why| why.to_string())?;
        Ok((bytes, left_out))
    }

    fn write(&self, path: &Path, known: Known) -> Result<Written, String> {
        let (bytes, left_out) = self.bytes()?;
        let written = lists::write_bytes(path, &bytes, self.file.as_deref(), known);
        written.map_err(|why| format!("{why}."))?;
        let not_opened = if self.printing.opens { viewer::open(path).err() } else { None };
        Ok(Written { title: self.printing.kind.title(), left_out, not_opened })
    }
}

impl App {
    /// Asks what is to be printed or saved; what is on the screen is proposed.
    pub(crate) fn ask_print(&mut self) {
        let (folder, plain) = self.beside();
        let before = std::mem::take(&mut self.view.printing);
        self.view.printing = Printing { kind: of_view(&self.view), plain, opens: false, ..before };
        let path = folder.join(self.view.printing.name());
        let (purpose, text) = (Purpose::Report, path.display().to_string());
        self.view.dialog = Some(Dialog::Path { purpose, text, fresh: true });
    }

    /// Writes it. `agreed`: whatever is there may be replaced.
    pub(crate) fn write_paper(&mut self, path: PathBuf, format: Format, agreed: bool) {
        self.view.printing.format = format;
        let printing = self.view.printing.clone();
        if let Some(why) = printing.lacks(self.document.sheet()) {
            self.trouble(why.to_owned());
            return;
        }
        let made = Made {
            sheet: Arc::clone(self.document.sheet()),
            assessment: Arc::clone(&self.assessment),
            catalogue: Arc::clone(&self.catalogue),
            measure: self.view.measure,
            day: (self.today)(),
            file: self.document.path.clone(),
            printing,
        };
        // who was not asked has nothing written over
        let known = if agreed { Known::Anything } else { Known::Nothing };
        let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
        self.work.file(What::Writing(name), move || {
            let written = made.write(&path, known);
            Done::Printed(path, written)
        });
    }

    /// It has come back.
    pub(crate) fn printed(&mut self, path: &Path, written: Result<Written, String>) {
        let written = match written {
            Ok(written) => written,
            Err(why) => {
                self.trouble(why);
                return;
            }
        };
        let text = format!("{} is in {}.", written.title, path.display());
        match written.left_out.first() {
            None => self.tell(text.clone()),
            Some(first) => {
                let n = count(written.left_out.len(), "photo is", "photos are");
                self.trouble(format!("{text} {n} not in it: {}.", first.trim_end_matches('.')));
            }
        }
        if let Some(why) = written.not_opened {
            self.trouble(format!("{text} {why}"));
        }
    }
}
