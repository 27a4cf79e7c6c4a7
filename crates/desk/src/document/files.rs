//! What a path is for: opening, saving and exporting, all off the frame.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use knockon_core::Assessment;
use knockon_core::library_search::fits::Fits;
use knockon_core::showing::Measure;
use knockon_report::buy_csv::buy_csv;
use knockon_report::write::Format;
use knockon_store::claim::{Claim, Owner, lock_of};
use knockon_store::disk::Machine;
use knockon_store::sheets::SheetError;
use knockon_store::{lists, sheets};

use crate::app::App;
use crate::app::view::{Message, Stop};
use crate::app::work::{Done, Purpose, What, pick};
use crate::buying::{boxes, rows};
use crate::cures::search::Clearing;
use crate::dialogs::open::{Dialog, Why};
use crate::document::OnDisk;
use crate::document::photo_paths::all_moved;
use crate::own_library::state::Looked;
use crate::panel::small_photos::Small;
use crate::printing::state::with_ending;

/// How a sheet ends by itself: a system knows its file type by it. Others that end in .json are sheets too.
const SHEET: &str = "knockon.json";

/// Faster than a person.
const AT_ONCE: Duration = Duration::from_millis(300);

/// The file a typed path means, from the root on, and whether an ending was added: a name without one gets that of
/// its kind, and `~` is the user's own folder.
fn meant(purpose: Purpose, text: &str, format: Format) -> (PathBuf, bool) {
    let own =
        text.strip_prefix("~/").and_then(|rest| Some(directories::BaseDirs::new()?.home_dir().join(rest)));
    let path = own.unwrap_or_else(|| PathBuf::from(text));
    let mut path = std::path::absolute(&path).unwrap_or(path);
    let ending = match purpose {
        Purpose::Report => {
            let (path, _, named) = with_ending(path, format);
            return (path, named);
        }
        Purpose::Open | Purpose::Candidate | Purpose::TakeIn => None,
        Purpose::SaveAs => Some(SHEET),
        Purpose::Export => Some("csv"),
    };
    let ending =
        ending.filter(|_| path.extension().is_none() && path.file_name().is_some() && !path.is_dir());
    // the first half of a sheet's ending means the whole
    let is_half = purpose == Purpose::SaveAs && path.extension().is_some_and(|e| e == "knockon");
    if let Some(ending) = ending.or(is_half.then_some(SHEET)) {
        path.set_extension(ending);
    }
    (path, ending.is_some() || is_half)
}

/// The name of a file without its folder, for the eye.
fn short(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

impl App {
    /// Asks for a path.
    pub(crate) fn ask_path(&mut self, purpose: Purpose) {
        let near = self.document.path.clone();
        let (folder, plain) = self.beside();
        let path = match purpose {
            Purpose::Open => near.unwrap_or_else(|| folder.join("")),
            Purpose::Candidate => folder.join(""),
            Purpose::SaveAs => near.unwrap_or_else(|| folder.join(format!("{plain}.{SHEET}"))),
            Purpose::Export => folder.join(format!("{plain}-buy-list.csv")),
            Purpose::Report => return self.ask_print(),
            Purpose::TakeIn => return self.view.own_library.focus = true,
        };
        self.view.buying.export_shown = false;
        self.view.dialog = Some(Dialog::Path { purpose, text: path.display().to_string(), fresh: true });
    }

    /// The folder where files of the sheet lie, and how their names begin.
    pub(crate) fn beside(&self) -> (PathBuf, String) {
        let folder = self.document.path.as_deref().and_then(Path::parent).map(Path::to_owned);
        let folder = folder.or_else(|| std::env::current_dir().ok()).unwrap_or_default();
        let plain: String = self
            .document
            .sheet()
            .name
            .to_lowercase()
            .chars()
            .map(|c| if c.is_alphanumeric() { c } else { '-' })
            .collect();
        let plain = plain.split('-').filter(|w| !w.is_empty()).collect::<Vec<_>>().join("-");
        (folder, plain)
    }

    /// Does what the path was wanted for.
    pub(crate) fn with_path(&mut self, purpose: Purpose, text: &str, agreed: bool) {
        let (path, named) = meant(purpose, text, self.view.printing.format);
        let agreed = agreed && !named;
        let same =
            self.document.path.as_ref() == Some(&path) || self.work.writing.iter().any(|(to, _)| *to == path);
        let reads = matches!(purpose, Purpose::Open | Purpose::Candidate | Purpose::TakeIn);
        if !reads && !agreed && !same && path.exists() {
            self.view.dialog =
                Some(Dialog::Replace { purpose, path: path.display().to_string(), why: Why::Exists });
            return;
        }
        self.view.dialog = None;
        match purpose {
            Purpose::Open => self.open_once(path),
            Purpose::Candidate => self.view.walk.sale.take_in(path),
            Purpose::TakeIn => self.look_at(path.display().to_string()),
            Purpose::SaveAs => self.save(path, agreed),
            Purpose::Report => {
                let (path, format, _) = with_ending(path, self.view.printing.format);
                self.write_paper(path, format, agreed);
            }
            Purpose::Export => {
                let assessment = Arc::clone(&self.assessment);
                let shown = rows(&assessment, &self.view.buying, &self.view.find).into_iter().cloned();
                let buy =
                    if self.view.buying.export_shown { shown.collect() } else { assessment.buy.clone() };
                let boxes = if self.view.buying.export_shown {
                    boxes(&assessment, &self.view.buying, &self.view.find).cloned().collect()
                } else {
                    assessment.boxes.clone()
                };
                let list = Assessment { buy, boxes, ..Assessment::default() };
                let sheet = self.document.path.clone();
                self.work.file(What::Writing(short(&path)), move || {
                    let written = lists::write(&path, &buy_csv(&list), sheet.as_deref());
                    let written = written.map_err(|why| why.to_string());
                    Done::Exported(path, written)
                });
            }
        }
    }

    /// Shows the system's file chooser.
    pub(crate) fn browse(&mut self, purpose: Purpose, near: &str) {
        let near = PathBuf::from(near);
        self.work.start(What::Shown, move |_| pick(purpose, Some(near)));
    }

    /// Reads a sheet; the one that is open stays open until that has succeeded.
    pub(crate) fn open(&mut self, path: PathBuf) {
        // the recent files must lead there from any folder
        let path = std::path::absolute(&path).unwrap_or(path);
        self.work.opening = true;
        self.work.file(What::Opening(short(&path)), move || {
            // taken first: what is written while it is read is not in it
            let on_disk = OnDisk { stamp: sheets::stamp(&path), digest: sheets::digest(&Machine, &path) };
            let sheet = sheets::open(&path).map(Box::new).map_err(|e| e.to_string());
            Done::Opened(path, on_disk, sheet)
        });
    }

    /// Writes the sheet; what others have written there since is replaced only where that is agreed.
    pub(crate) fn save(&mut self, path: PathBuf, agreed: bool) {
        let mut sheet = Arc::clone(self.document.sheet());
        let same = self.document.path.as_ref() == Some(&path);
        let mut claim = None;
        if !same || self.document.elsewhere().is_some() {
            match self.claim(&path) {
                Ok(mine) => claim = Some(mine),
                Err(owner) => {
                    self.trouble(format!(
                        "{} is open in another window ({}): save under another name, or close that window \
                         first.{}",
                        path.display(),
                        owner.words(),
                        owner.way_out(&lock_of(&path))
                    ));
                    self.ask_path(Purpose::SaveAs);
                    return;
                }
            }
        }
        if same && !agreed && self.work.writing.is_empty() && self.document.changed_on_disk() {
            let (purpose, path) = (Purpose::SaveAs, path.display().to_string());
            self.view.dialog = Some(Dialog::Replace { purpose, path, why: Why::Changed });
            return;
        }
        if same && !agreed && self.work.writing.is_empty() && self.document.gone_from_disk() {
            let (purpose, path) = (Purpose::SaveAs, path.display().to_string());
            self.view.dialog = Some(Dialog::Replace { purpose, path, why: Why::Gone });
            return;
        }
        if !same {
            sheet = Arc::new(all_moved(&sheet, self.document.path.as_deref(), &path));
        }
        // what a save under way will have written is not known yet
        let known = self.document.on_disk.digest.filter(|_| same && !agreed && self.work.writing.is_empty());
        let mark = self.document.saving(&path);
        self.work.writing.push((path.clone(), claim.clone()));
        self.work.file(What::Writing(short(&path)), move || {
            let written = sheets::save_on(&Machine, &path, &sheet, known, mark.as_ref());
            Done::Saved(path, sheet, claim, written)
        });
    }

    /// Gives up what is being worked out; the sheet stays as it is.
    pub(crate) fn stop(&mut self, what: Stop) {
        match what {
            Stop::Search => self.search.stop(&mut self.view.clearing),
            Stop::Task(id) => match self.work.stop(id) {
                Some(What::Opening(name)) => {
                    self.work.opening = false;
                    self.tell(format!("{name} is not opened: stopped. The sheet that was open stays open."));
                }
                Some(What::Routes) => self.view.offers.stopped = true,
                Some(What::Remedies) => self.view.cures.stopped = true,
                Some(What::Fits) => {
                    if let Some((.., found)) = &mut self.view.library.tried {
                        let none = "Stopped. Click the part again to try it.".to_owned();
                        *found = Some(Fits { none, ..Fits::default() });
                    }
                }
                Some(What::Plans) => self.view.plans.stopped = true,
                Some(What::ForSale) => self.view.walk.sale.stopped = true,
                Some(What::Looking) => self.view.own_library.looked = Looked::Nothing,
                Some(What::Shown | What::Writing(_) | What::Shelf | What::InBoth | What::Deciding) | None => {
                }
            },
        }
    }

    /// Begins again with what was given up.
    pub(crate) fn work_out(&mut self) {
        if matches!(self.view.clearing, Clearing::Stopped) {
            self.search.again();
        }
        if self.view.offers.stopped {
            self.view.offers.of = None;
        }
        if self.view.cures.stopped {
            self.view.cures.of = None;
        }
        if self.view.plans.stopped {
            self.view.plans.of = None;
        }
        if self.view.walk.sale.stopped {
            self.view.walk.sale.of = None;
        }
    }

    /// A claim on a file, the same one where this window has it already or is just writing there.
    fn claim(&self, path: &Path) -> Result<Arc<Claim>, Box<Owner>> {
        let under_way = self.work.writing.iter().filter_map(|(_, claim)| claim.as_ref());
        let mine = under_way.chain(self.document.claim()).find(|claim| claim.is_on(path));
        mine.cloned().map_or_else(|| Claim::on(path, self.home.as_deref()).map(Arc::new), Ok)
    }

    /// A save has come back.
    fn written(&mut self, path: &Path) {
        if let Some(at) = self.work.writing.iter().position(|(to, _)| to == path) {
            self.work.writing.remove(at);
        }
    }

    /// Where the sheet is kept, or is just being written for the first time.
    pub(crate) fn kept_in(&self) -> Option<PathBuf> {
        let last = self.work.writing.last().map(|(path, _)| path);
        last.or(self.document.path.as_ref()).cloned()
    }

    /// Takes in what came back.
    pub(crate) fn receive(&mut self) {
        for done in self.work.take() {
            match done {
                Done::Picked(_, None, took) | Done::PhotoPicked(_, None, took) => self.nothing_picked(took),
                Done::PhotoPicked(position, Some(path), _) => self.add_photos(&position, &[path]),
                Done::Viewed(None) => {}
                Done::Viewed(Some(why)) => {
                    // it may be gone: look again
                    self.view.details.of = None;
                    self.trouble(why);
                }
                Done::Picked(purpose, Some(path), _) => {
                    // the chooser asks by itself before it replaces a file
                    self.with_path(purpose, &path.display().to_string(), true);
                }
                Done::Opened(path, on_disk, Ok(sheet)) => {
                    self.work.opening = false;
                    self.view.message = None;
                    let shown = path.display().to_string();
                    self.put(*sheet, Some(path), on_disk);
                    self.tell_libraries();
                    if let Some(owner) = self.document.elsewhere() {
                        let (who, way_out) = (owner.words(), owner.way_out(&lock_of(Path::new(&shown))));
                        self.trouble(format!(
                            "{shown} is open in another window ({who}): what you change here can only be saved \
                             under another name.{way_out}"
                        ));
                    }
                    self.restore();
                }
                Done::Opened(_, _, Err(why)) => {
                    self.work.opening = false;
                    self.trouble(format!("{why}. The sheet that was open stays open."))
                }
                Done::Saved(path, sheet, claim, Ok(saved)) => {
                    self.written(&path);
                    self.config.remember(&path);
                    self.config.store(self.home.as_deref());
                    self.tell(format!("Saved to {}.", path.display()));
                    self.document.saved(path, sheet, &saved, claim, self.home.as_deref());
                    for note in saved.notes {
                        self.must_read(format!("{note}."));
                    }
                }
                Done::Saved(path, _, _, Err(SheetError::Changed { .. })) => {
                    self.written(&path);
                    let (purpose, path) = (Purpose::SaveAs, path.display().to_string());
                    self.view.dialog = Some(Dialog::Replace { purpose, path, why: Why::Changed });
                }
                Done::Saved(path, _, _, Err(why)) => {
                    self.written(&path);
                    self.trouble(format!(
                        "{why}. What is in the window is not saved; nothing of the file was changed."
                    ));
                }
                Done::Kept(trouble) => {
                    self.kept.writing = false;
                    if let Some(why) = trouble {
                        self.trouble(format!(
                            "What is typed cannot be kept: {why}. Save the part to be safe."
                        ));
                    }
                }
                Done::Exported(path, Ok(())) => self.tell(format!("The buy list is in {}.", path.display())),
                Done::Exported(_, Err(why)) => self.trouble(why),
                Done::Printed(path, written) => self.printed(&path, written),
                Done::Small(text, small) => {
                    let small = match small {
                        Ok(picture) => Small::Picture(Arc::new(picture)),
                        Err(why) => Small::Not(why),
                    };
                    self.view.small.insert(text, small);
                }
                Done::Figures(figures) => self.figures = Some(figures),
                Done::Cures(revision, list) => {
                    if self.view.cures.of == Some(revision) {
                        self.view.cures.list = Some(list);
                    }
                }
                Done::Beside(revision, plans, beside) => self.plans_are_here(revision, plans, beside),
                Done::Weighed(of, weighed) => self.weighed_is_here(of, weighed),
                Done::Shelf(shelf) => self.shelf_is_here(shelf),
                Done::Looked(path, seen) => self.looked(path, seen),
                Done::TakenIn(seen, done) => self.taken_in(&seen, done),
                Done::InBoth(of, found) => self.in_both(of, found),
                Done::Outcomes(of, found) => self.outcomes(&of, found),
                Done::Decided(both, way, change, done) => self.decided(&both, way, change, done),
                Done::TakenBack(called, done) => self.taken_back(&called, done),
                Done::Fits(revision, part, measure, fits) => {
                    let tried = self.view.library.tried.as_mut();
                    let is_it = |(of, id, told, _): &&mut (u64, String, Measure, _)| {
                        (*of, id.as_str(), *told) == (revision, part.as_str(), measure)
                    };
                    if let Some((.., found)) = tried.filter(is_it) {
                        *found = Some(fits);
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

    /// Takes in what a crash or a closed window left behind, and says so; whether there was something.
    pub(crate) fn restore(&mut self) -> bool {
        let Some(back) = self.document.restore() else { return false };
        if let Some(text) = back.text {
            self.tell(text);
        }
        if let Some(typed) = back.typed {
            self.put_typed(typed);
        }
        true
    }

    /// Says something that stays until it is read, whatever else is said.
    pub(crate) fn must_read(&mut self, text: String) {
        if !self.view.unread.contains(&text) {
            self.view.unread.push(text);
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

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]
mod tests {
    use egui_kittest::Harness;

    use super::App;
    use crate::Start;

    fn desk(home: &std::path::Path) -> Harness<'static, App> {
        let example = knockon_store::sheets::parse("example", knockon_store::library::example()).unwrap();
        let today = || knockon_core::date::day("2026-03-01").unwrap();
        let start = Start {
            file: None,
            catalogue: knockon_store::library::shipped(),
            libraries: knockon_store::libraries::Wanted::default(),
            faults: Vec::new(),
            example,
            today,
        };
        let home = home.to_owned();
        Harness::builder().build_eframe(move |cc| App::with_home(cc, start, Some(home)))
    }

    fn settle(desk: &mut Harness<'static, App>) {
        for _ in 0..2_000 {
            desk.run_steps(2);
            if !desk.state().busy() {
                return;
            }
            std::thread::sleep(std::time::Duration::from_millis(5));
        }
        panic!("work does not come back");
    }

    #[test]
    fn a_window_that_saves_again_before_the_first_save_is_done_is_no_other_window() {
        let folder = tempfile::tempdir().unwrap();
        let home = folder.path().join("home");
        let (one, two) = (folder.path().join("one.json"), folder.path().join("two.json"));
        let mut desk = desk(&home);
        for path in [&one, &one, &two, &one, &two] {
            desk.state_mut().save(path.clone(), false);
            let message = desk.state().message().unwrap_or_default().to_owned();
            assert!(!message.contains("another window"), "{message}");
            assert!(desk.state().view.dialog.is_none());
        }
        settle(&mut desk);
        assert_eq!(desk.state().message(), Some(format!("Saved to {}.", two.display()).as_str()));
        // the same file by another way
        desk.state_mut().save(folder.path().join(".").join("two.json"), false);
        settle(&mut desk);
        assert!(desk.state().message().is_some_and(|m| m.starts_with("Saved to")));
        // the file it has left is free for others, the one it has is not
        let claim = |path| super::Claim::on(path, Some(&home));
        assert!(claim(&one).is_ok() && claim(&two).is_err());
    }
}
