//! What a path is for: opening, saving and exporting, all off the frame.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use knockon_core::Sheet;
use knockon_report::buy_csv::buy_csv;
use knockon_store::sheets;

use crate::app::App;
use crate::claim::Claim;
use crate::dialog::{Dialog, Why};
use crate::document::{Document, beside};
use crate::photo_paths::all_moved;
use crate::view::{Message, Page};
use crate::work::{Done, Purpose, pick};

/// Faster than a person.
const AT_ONCE: Duration = Duration::from_millis(300);

/// The file a typed path means, from the root on, and whether an ending was added: a name without one gets that of
/// its kind, and `~` is the user's own folder.
fn meant(purpose: Purpose, text: &str) -> (PathBuf, bool) {
    let own =
        text.strip_prefix("~/").and_then(|rest| Some(directories::BaseDirs::new()?.home_dir().join(rest)));
    let path = own.unwrap_or_else(|| PathBuf::from(text));
    let mut path = std::path::absolute(&path).unwrap_or(path);
    let ending = match purpose {
        Purpose::Open => None,
        Purpose::SaveAs => Some("json"),
        Purpose::Export => Some("csv"),
    };
    let ending =
        ending.filter(|_| path.extension().is_none() && path.file_name().is_some() && !path.is_dir());
    if let Some(ending) = ending {
        path.set_extension(ending);
    }
    (path, ending.is_some())
}

impl App {
    /// Asks for a path.
    pub(crate) fn ask_path(&mut self, purpose: Purpose) {
        let near = self.document.path.clone();
        let folder = near
            .as_deref()
            .and_then(Path::parent)
            .map(Path::to_owned)
            .or_else(|| std::env::current_dir().ok())
            .unwrap_or_default();
        let plain: String = self
            .document
            .sheet()
            .name
            .to_lowercase()
            .chars()
            .map(|c| if c.is_alphanumeric() { c } else { '-' })
            .collect();
        let plain = plain.split('-').filter(|w| !w.is_empty()).collect::<Vec<_>>().join("-");
        let path = match purpose {
            Purpose::Open => near.unwrap_or_else(|| folder.join("")),
            Purpose::SaveAs => near.unwrap_or_else(|| folder.join(format!("{plain}.json"))),
            Purpose::Export => folder.join(format!("{plain}-buy-list.csv")),
        };
        self.view.dialog = Some(Dialog::Path { purpose, text: path.display().to_string(), fresh: true });
    }

    /// Does what the path was wanted for.
    pub(crate) fn with_path(&mut self, purpose: Purpose, text: &str, agreed: bool) {
        let (path, named) = meant(purpose, text);
        let agreed = agreed && !named;
        let same = self.document.path.as_deref() == Some(path.as_path());
        if purpose != Purpose::Open && !agreed && !same && path.exists() {
            self.view.dialog =
                Some(Dialog::Replace { purpose, path: path.display().to_string(), why: Why::Exists });
            return;
        }
        self.view.dialog = None;
        match purpose {
            Purpose::Open => self.open_once(path),
            Purpose::SaveAs => self.save(path, agreed),
            Purpose::Export => {
                let assessment = Arc::clone(&self.assessment);
                self.work.file(move || {
                    let written = std::fs::write(&path, buy_csv(&assessment)).map_err(|why| {
                        format!(
                            "The buy list could not be written to {}: {why}. Choose a folder you may write to.",
                            path.display()
                        )
                    });
                    Done::Exported(path, written)
                });
            }
        }
    }

    /// Shows the system's file chooser.
    pub(crate) fn browse(&mut self, purpose: Purpose, near: &str) {
        let near = PathBuf::from(near);
        self.work.start(move || pick(purpose, Some(near)));
    }

    /// Reads a sheet; the one that is open stays open until that has succeeded.
    pub(crate) fn open(&mut self, path: PathBuf) {
        // the recent files must lead there from any folder
        let path = std::path::absolute(&path).unwrap_or(path);
        self.work.opening = true;
        self.work.file(move || {
            // taken first: what is written while it is read is not in it
            let stamp = sheets::stamp(&path);
            let sheet = sheets::open(&path).map(Box::new).map_err(|e| e.to_string());
            Done::Opened(path, stamp, sheet)
        });
    }

    /// Writes the sheet; what others have written there since is replaced only where that is agreed.
    pub(crate) fn save(&mut self, path: PathBuf, agreed: bool) {
        let mut sheet = Arc::clone(self.document.sheet());
        let same = self.document.path.as_ref() == Some(&path);
        let mut claim = None;
        if !same || self.document.elsewhere() {
            claim = Claim::on(&beside(&path), self.home.as_deref());
            if claim.is_none() {
                self.trouble(format!(
                    "{} is open in another window: save under another name, or close that window first.",
                    path.display()
                ));
                self.ask_path(Purpose::SaveAs);
                return;
            }
        }
        if same && !agreed && self.work.writing == 0 && self.document.changed_on_disk() {
            let (purpose, path) = (Purpose::SaveAs, path.display().to_string());
            self.view.dialog = Some(Dialog::Replace { purpose, path, why: Why::Changed });
            return;
        }
        if !same {
            sheet = Arc::new(all_moved(&sheet, self.document.path.as_deref(), &path));
        }
        self.work.writing += 1;
        self.work.file(move || {
            let written = sheets::save(&path, &sheet).map_err(|e| e.to_string());
            let written = written.map(|()| sheets::stamp(&path));
            Done::Saved(path, sheet, claim, written)
        });
    }

    /// Puts another sheet on the desk.
    pub(crate) fn put(&mut self, sheet: Sheet, path: Option<PathBuf>) {
        let revision = self.document.revision() + 1;
        if let Some(aside) = self.document.set_aside() {
            self.tell(format!(
                "The sheet before had changes and no file; it is in {} and among the recent files.",
                aside.display()
            ));
            self.config.remember(&aside);
            self.config.store(self.home.as_deref());
        }
        if let Some(path) = &path {
            self.config.remember(path);
            self.config.store(self.home.as_deref());
        }
        // the same file may be opened again
        self.document.let_go();
        self.document = Document::new(sheet, path, self.home.as_deref(), revision);
        self.view.selected = None;
        self.view.cursor = None;
        self.view.behind = None;
        self.view.waive = None;
        self.view.ask = None;
        (self.view.note, self.view.survey) = (None, None);
        self.view.measuring.clear();
        self.view.photo = None;
        self.place_drafts();
        self.view.page = Page::Board;
    }

    /// Takes in what came back.
    pub(crate) fn receive(&mut self) {
        for done in self.work.take() {
            match done {
                Done::Picked(_, None, took) | Done::PhotoPicked(_, None, took) => self.nothing_picked(took),
                Done::PhotoPicked(position, Some(path), _) => self.add_photos(&position, &[path]),
                Done::Viewed(None) => {}
                Done::Viewed(Some(why)) => self.trouble(why),
                Done::Picked(purpose, Some(path), _) => {
                    // the chooser asks by itself before it replaces a file
                    self.with_path(purpose, &path.display().to_string(), true);
                }
                Done::Opened(path, stamp, Ok(sheet)) => {
                    self.work.opening = false;
                    self.view.message = None;
                    self.put(*sheet, Some(path));
                    self.document.stamp = stamp;
                    if self.document.elsewhere() {
                        self.trouble(
                            "This sheet is open in another window: what you change here can only be saved under \
                             another name."
                                .to_owned(),
                        );
                    }
                    if let Some(text) = self.document.restore() {
                        self.tell(text);
                    }
                }
                Done::Opened(_, _, Err(why)) => {
                    self.work.opening = false;
                    self.trouble(format!("{why}. The sheet that was open stays open."))
                }
                Done::Saved(path, sheet, claim, Ok(stamp)) => {
                    self.work.writing = self.work.writing.saturating_sub(1);
                    self.config.remember(&path);
                    self.config.store(self.home.as_deref());
                    self.tell(format!("Saved to {}.", path.display()));
                    self.document.saved(path, sheet, claim);
                    self.document.stamp = stamp;
                }
                Done::Saved(_, _, _, Err(why)) => {
                    self.work.writing = self.work.writing.saturating_sub(1);
                    self.trouble(why);
                }
                Done::Exported(path, Ok(())) => self.tell(format!("The buy list is in {}.", path.display())),
                Done::Exported(_, Err(why)) => self.trouble(why),
                Done::Figures(figures) => self.figures = Some(figures),
                Done::Cures(revision, list) => {
                    if self.view.cures.of == Some(revision) {
                        self.view.cures.list = Some(list);
                    }
                }
                Done::Offers(revision, position, list, changes) => {
                    if self.view.offers.of == Some((revision, position)) {
                        self.view.offers.list = Some(list);
                        self.view.offers.changes = changes;
                    }
                }
            }
        }
    }

    /// A chooser that closes faster than anybody can cancel it was never there.
    fn nothing_picked(&mut self, took: Duration) {
        if took < AT_ONCE {
            self.trouble(
                "This system shows no file chooser: type the path instead, or drop the file.".to_owned(),
            );
        }
    }

    /// Says something in the message bar.
    pub(crate) fn tell(&mut self, text: String) {
        self.view.message = Some(Message { text, trouble: false, since: None });
    }

    /// Says what went wrong in the message bar.
    pub(crate) fn trouble(&mut self, text: String) {
        self.view.message = Some(Message { text, trouble: true, since: None });
    }
}
