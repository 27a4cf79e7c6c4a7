//! What the page of the owner's library asks for, off the frame: looking, taking in, what both have, what a decision brings.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use knockon_core::pack::otherwise::changes;
use knockon_core::showing::Measure;
use knockon_core::{Catalogue, Sheet, assess};
use knockon_store::libraries::load;
use knockon_store::meeting::{Way, both, would};
use knockon_store::taking::{look, take};

use crate::app::App;
use crate::app::view::Page;
use crate::app::work::{Done, What};
use crate::library::state::LibraryState;
use crate::own_library::state::{Changes, Looked, Of, Outcome, Outcomes, Seen, Step};

/// What a library changes in the plans of a sheet.
fn changed(sheet: &Sheet, was: &Catalogue, is: &Catalogue, measure: Measure) -> Changes {
    let of = |(id, plan): (&String, &knockon_core::sheet::Plan)| {
        let told = changes(&assess(sheet, id, was), &assess(sheet, id, is), measure);
        (!told.is_empty()).then(|| (plan.name.clone(), told))
    };
    sheet.plans.iter().filter_map(of).collect()
}

/// A path as somebody types it: `~` is the user's own folder, and quotes that a file manager puts round it are none of it.
fn meant(text: &str) -> PathBuf {
    let text = text.trim().trim_matches(['"', '\'']);
    let home = directories::BaseDirs::new();
    let own = text.strip_prefix("~/").and_then(|rest| Some(home?.home_dir().join(rest)));
    let path = own.unwrap_or_else(|| PathBuf::from(text.strip_prefix("file://").unwrap_or(text)));
    std::path::absolute(&path).unwrap_or(path)
}

impl App {
    /// Does what the page asks for.
    pub(crate) fn own_library(&mut self, step: Step) {
        match step {
            Step::Look(path) => self.look_at(path),
            Step::Take => self.take_in(),
            Step::Leave => self.view.own_library.looked = Looked::Nothing,
            Step::Show(at) => self.view.own_library.at = at,
            Step::Keep | Step::Ask => self.keep_mine(step == Step::Keep),
            Step::Decide(way) => self.decide(way),
            Step::Back => self.take_last_back(),
        }
    }

    /// What the page shows is worked out where the library, the sheet or the open entry is another.
    pub(crate) fn look_at_own_library(&mut self) {
        if self.view.page != Page::OwnLibrary {
            return;
        }
        let address = LibraryState::address(&self.catalogue);
        if self.view.own_library.both_of != Some(address) {
            self.view.own_library.both_of = Some(address);
            let wanted = self.wanted.clone();
            self.work.overtake(&What::InBoth);
            self.work.start(What::InBoth, move |_| Done::InBoth(address, both(&wanted)));
        }
        let revision = self.document.revision();
        if let Looked::Seen(seen) = &self.view.own_library.looked
            && seen.revision != revision
        {
            let from = seen.from.clone();
            self.look_at(from);
        }
        let Some(open) = self.view.own_library.open().cloned() else { return };
        let of: Of = (address, revision, open.path.clone());
        if self.view.own_library.outcomes.as_ref().is_some_and(|(now, _)| *now == of) {
            return;
        }
        self.view.own_library.outcomes = Some((of.clone(), None));
        let (wanted, catalogue) = (self.wanted.clone(), Arc::clone(&self.catalogue));
        let (sheet, today, measure) = (Arc::clone(self.document.sheet()), (self.today)(), self.view.measure);
        self.work.overtake(&What::Deciding);
        self.work.start(What::Deciding, move |_| {
            let before = load(&wanted);
            let of_way = |way| {
                let mut would = would(&wanted, &before, &open, way)?;
                would.with.as_of = Some(today);
                let changes = changed(&sheet, &catalogue, &would.with, measure);
                Ok(Outcome { would, changes })
            };
            let both = open.beside.as_ref().map(|_| of_way(Way::Both));
            Done::Outcomes(of, Box::new(Outcomes { theirs: of_way(Way::Theirs), both }))
        });
    }

    /// Looks at a file or folder as if it lay in the owner's library.
    pub(crate) fn look_at(&mut self, path: String) {
        self.view.own_library.path.clone_from(&path);
        self.view.own_library.looked = Looked::UnderWay(path.clone());
        let (wanted, catalogue) = (self.wanted.clone(), Arc::clone(&self.catalogue));
        let (sheet, revision) = (Arc::clone(self.document.sheet()), self.document.revision());
        let (today, measure) = ((self.today)(), self.view.measure);
        self.work.overtake(&What::Looking);
        self.work.start(What::Looking, move |_| {
            let seen = look(&meant(&path), &wanted).map(|mut look| {
                look.with.as_of = Some(today);
                let changes = changed(&sheet, &catalogue, &look.with, measure);
                Box::new(Seen { from: path.clone(), revision, look, changes })
            });
            Done::Looked(path, seen)
        });
    }

    /// It was looked at.
    pub(crate) fn looked(&mut self, path: String, seen: Result<Box<Seen>, String>) {
        let awaited = matches!(&self.view.own_library.looked, Looked::UnderWay(of) if *of == path);
        if awaited {
            self.view.own_library.looked = match seen {
                Ok(seen) => Looked::Seen(Arc::from(seen)),
                Err(why) => Looked::Not(path, why),
            };
        }
    }

    fn take_in(&mut self) {
        let Looked::Seen(seen) = self.view.own_library.looked.clone() else { return };
        if seen.look.is_faulty() {
            return;
        }
        let name = name(&seen.look.to);
        self.work.file(What::Writing(name), move || {
            let done = take(&seen.look);
            Done::TakenIn(seen, done)
        });
    }

    /// It was taken in, or not.
    pub(crate) fn taken_in(&mut self, seen: &Seen, done: Result<(), String>) {
        match done {
            Ok(()) => {
                let state = &mut self.view.own_library;
                state.looked = Looked::Nothing;
                // what was typed meanwhile stays
                if state.path == seen.from {
                    state.path.clear();
                }
                self.tell(format!("{} is in your library: {}.", name(&seen.look.to), seen.look.to.display()));
            }
            Err(why) => self.trouble(format!("{why}.")),
        }
    }

    /// What both have was found.
    pub(crate) fn in_both(&mut self, of: usize, found: Vec<knockon_store::meeting::Both>) {
        let state = &mut self.view.own_library;
        if state.both_of == Some(of) {
            state.at.take_if(|at| found.iter().all(|both| both.path != *at));
            state.both = Some(found);
        }
    }

    /// What would come of a decision was found.
    pub(crate) fn outcomes(&mut self, of: &Of, found: Box<Outcomes>) {
        if let Some((_, outcomes)) = self.view.own_library.outcomes.as_mut().filter(|(now, _)| now == of) {
            *outcomes = Some(Arc::from(found));
        }
    }

    /// The open entry stays as the owner has it, until the other becomes another; or it is to be decided again.
    fn keep_mine(&mut self, keep: bool) {
        let Some(open) = self.view.own_library.open().cloned() else { return };
        if keep {
            self.config.mine.insert(open.path.clone(), open.mark.clone());
            self.tell(format!(
                "{}: yours stays. Where theirs becomes another, it is asked again.",
                open.name
            ));
        } else {
            self.config.mine.remove(&open.path);
        }
        self.config.store(self.home.as_deref());
    }

    fn decide(&mut self, way: Way) {
        let Some(open) = self.view.own_library.open().cloned() else { return };
        let outcome = self.view.own_library.outcomes().and_then(|all| all.of(way)?.as_ref().ok());
        let Some(change) = outcome.filter(|o| !o.would.is_faulty()).map(|o| o.would.change.clone()) else {
            return;
        };
        self.work.file(What::Writing(name(&open.mine)), move || {
            let done = change.put();
            Done::Decided(Box::new(open), way, change, done)
        });
    }

    /// An entry was decided, or could not be.
    pub(crate) fn decided(
        &mut self,
        both: &knockon_store::meeting::Both,
        way: Way,
        change: knockon_store::meeting::Change,
        done: Result<(), String>,
    ) {
        if let Err(why) = done {
            self.trouble(format!("{why}."));
            self.view.own_library.both_of = None;
            return;
        }
        let state = &mut self.view.own_library;
        state.done.push((both.name.clone(), change));
        state.both.iter_mut().for_each(|all| all.retain(|one| one.path != both.path));
        state.at = None;
        let what = match (way, &both.beside) {
            (Way::Both, Some(beside)) => format!("both are there, yours as \"{beside}\""),
            _ => "theirs counts from now on".to_owned(),
        };
        self.tell(format!(
            "{}: {what}. What stood in {} is beside it, with .bak added.",
            both.name,
            name(&both.mine)
        ));
    }

    fn take_last_back(&mut self) {
        let Some((called, change)) = self.view.own_library.done.pop() else { return };
        self.work.file(What::Writing(called.clone()), move || {
            let done = change.back();
            Done::TakenBack(called, done)
        });
    }

    /// The last change was taken back, or could not be.
    pub(crate) fn taken_back(&mut self, called: &str, done: Result<(), String>) {
        match done {
            Ok(()) => self.tell(format!("{called}: your file is as it was.")),
            Err(why) => self.trouble(format!("{why}.")),
        }
    }
}

fn name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}
