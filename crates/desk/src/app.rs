//! The workbench: what is open, what is worked out of it, and what is under way.

pub mod choosing;
pub mod commands;
pub mod config;
pub mod decode;
pub mod dropping;
pub mod ear;
pub mod ending;
pub mod error;
pub mod frame;
pub mod hushing;
mod inspected;
pub mod keys;
pub mod libraries;
pub mod perform;
pub mod reach;
pub mod selection;
pub mod told;
pub mod typing_ahead;
pub mod view;
pub mod viewer;
pub mod walk;
pub mod watch;
pub mod work;

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::Arc;

use egui::{Context, ThemePreference};
use knockon_core::assessment::Clash;
use knockon_core::date::Date;
use knockon_core::showing::Measure;
use knockon_core::survey::Survey;
use knockon_core::{Assessment, Catalogue, Sheet, alternatives, assess, ports};
use knockon_store::claim::Claim;
use knockon_store::libraries::Wanted;

use crate::access::focus::Focus;
use crate::app::config::Config;
use crate::app::ending::Ending;
use crate::app::hushing::Hushing;
use crate::app::told::Cache;
use crate::app::typing_ahead::Ahead;
use crate::app::view::{Details, Offers, Page, Spot, View};
use crate::app::watch::Watch;
use crate::app::work::{Done, What, Work};
use crate::cures;
use crate::cures::Cures;
use crate::cures::search;
use crate::cures::search::{Clearing, Judged, Search};
use crate::dialogs::one_way::OneWay;
use crate::dialogs::open::Dialog;
use crate::document::photo_paths;
use crate::document::{Document, OnDisk};
use crate::find::leads;
use crate::jobs::state::ToDo;
use crate::look::theme;
use crate::money::told::Accounts;
use crate::own_parts::kept::Kept;
use crate::panel::{as_found, on_offer};
use crate::vehicle::told::Told;
use crate::{Start, find, wording};

/// The workbench.
pub struct App {
    pub(crate) catalogue: Arc<Catalogue>,
    pub(crate) example: Sheet,
    /// The day it is.
    pub(crate) today: fn() -> Date,
    pub(crate) document: Document,
    pub(crate) cache: Cache,
    pub(crate) assessment: Arc<Assessment>,
    pub(crate) view: View,
    pub(crate) work: Work,
    /// What would clear the clashes together is looked for.
    clears: bool,
    /// What looks for changes that clear the clashes together.
    pub(crate) search: Search,
    judged: Judged,
    pub(crate) config: Config,
    pub(crate) home: Option<PathBuf>,
    pub(crate) title: String,
    pub(crate) fitted: bool,
    pub(crate) figures: Option<BTreeMap<String, String>>,
    /// One-way steps said yes to: they do not ask again.
    pub(crate) agreed: BTreeSet<OneWay>,
    /// The system asks the program to end.
    pub(crate) ending: Ending,
    /// Photos that were named in this window, through all links: these may be shown wherever they lie.
    pub(crate) named: BTreeSet<PathBuf>,
    /// Parts being typed, as they are on disk.
    pub(crate) kept: Kept,
    /// The note being written, as it stood when it was last typed in.
    pub(crate) pause: Option<Pause>,
    /// What stood in the fields of the last session is still to be taken in; what is said of it.
    pub(crate) came_back: Option<&'static str>,
    /// Example sheets of other vehicles.
    pub(crate) further: Vec<Sheet>,
    /// The work of a revision, in a measure.
    pub(crate) to_do: Option<(u64, Measure, Arc<ToDo>)>,
    /// What a screen reader has been told of last.
    pub(crate) heard: ear::Heard,
    /// The survey of a revision.
    pub(crate) walk: Option<(u64, Arc<Survey>)>,
    /// What the page of the vehicle shows, with its revision and open place.
    pub(crate) described: Option<(u64, Option<String>, Arc<Told>)>,
    /// What the money page shows, with its revision and measure.
    pub(crate) paid_to: Option<(u64, Measure, Arc<Accounts>)>,
    /// Looks whether the folders of the libraries change; `None`: there are none.
    pub(crate) watch: Option<Watch>,
    /// Which libraries are read.
    pub(crate) wanted: Wanted,
}

/// A note as it stood when it was last typed in: position, text, and when, in seconds.
pub type Pause = (String, String, f64);

/// Example sheets of other vehicles; a test holds that they open.
fn further() -> Vec<Sheet> {
    let all = knockon_store::library::further_examples().into_iter();
    all.filter_map(|text| knockon_store::sheets::parse("an example", text).ok()).collect()
}

impl App {
    /// The workbench with the settings of this user.
    #[must_use]
    pub fn new(cc: &eframe::CreationContext<'_>, start: Start) -> Self {
        Self::with_home(cc, start, config::home())
    }

    /// The workbench with settings and journals in a given folder; `None` remembers nothing.
    #[must_use]
    pub fn with_home(cc: &eframe::CreationContext<'_>, start: Start, home: Option<PathBuf>) -> Self {
        theme::install(&cc.egui_ctx);
        cc.egui_ctx.add_plugin(Ahead::default());
        cc.egui_ctx.add_plugin(Hushing::default());
        // what is typed ahead comes in portions: the focus sees them as they are handed on
        cc.egui_ctx.add_plugin(Focus::default());
        let config = Config::load(home.as_deref());
        let ctx = cc.egui_ctx.clone();
        let wake = Arc::new(move || ctx.request_repaint());
        let document =
            Document::new(start.example.clone(), None, OnDisk::default(), home.as_deref(), 1, wake);
        let watch = Watch::new(start.libraries.clone(), &cc.egui_ctx);
        let mut app = Self {
            watch,
            wanted: start.libraries,
            catalogue: Arc::new(start.catalogue.on((start.today)())),
            example: start.example,
            today: start.today,
            document,
            cache: Cache::default(),
            assessment: Arc::default(),
            view: View::default(),
            work: Work::new(&cc.egui_ctx),
            search: Search::default(),
            clears: true,
            judged: Judged::default(),
            config,
            home,
            title: String::new(),
            fitted: false,
            figures: None,
            agreed: BTreeSet::new(),
            ending: Ending::default(),
            named: BTreeSet::new(),
            kept: Kept::default(),
            pause: None,
            came_back: None,
            to_do: None,
            heard: ear::Heard::default(),
            walk: None,
            described: None,
            paid_to: None,
            further: further(),
        };
        app.light_or_dark(&cc.egui_ctx);
        app.size_and_motion(&cc.egui_ctx);
        app.view.measure = app.config.measure();
        app.view.bounds = app.config.bounds();
        app.view.density = app.config.density;
        app.read_drafts();
        app.library_faults(&start.faults);
        match start.file {
            Some(path) => app.open(path),
            None => {
                if !app.config.started {
                    app.view.page = Page::Start;
                }
                if app.restore() {
                    app.view.page = Page::Board;
                } else if let Some(last) = app.last_sheet() {
                    app.open(last);
                }
            }
        }
        app
    }

    /// The sheet used last, where no other window has it.
    fn last_sheet(&self) -> Option<PathBuf> {
        let last = self.config.recent.first().filter(|path| path.is_file())?;
        Claim::on(last, self.home.as_deref()).is_ok().then(|| last.clone())
    }

    /// How many times the sheet was assessed.
    #[must_use]
    pub fn assessed(&self) -> u64 {
        self.cache.assessed
    }

    /// Files, file choosers or offers are under way.
    #[must_use]
    pub fn busy(&self) -> bool {
        self.work.busy()
    }

    /// What would clear the clashes together is being worked out.
    #[must_use]
    pub fn searching(&self) -> bool {
        matches!(self.view.clearing, Clearing::Working(..))
    }

    /// Its thread has not ended: no frame would show more.
    #[must_use]
    pub fn search_is_at_work(&self) -> bool {
        self.search.is_at_work()
    }

    /// Whether it is looked for at all. Who drives the desk for something else saves that time.
    pub fn look_for_cures(&mut self, yes: bool) {
        self.clears = yes;
    }

    /// The sheet as it stands.
    #[must_use]
    pub fn sheet(&self) -> &Sheet {
        self.document.sheet()
    }

    /// The assessment of the sheet.
    #[must_use]
    pub fn assessment(&self) -> &Assessment {
        &self.assessment
    }

    /// The routes on offer at the selected position, once they are worked out.
    #[must_use]
    pub fn offered(&self) -> Vec<knockon_core::assessment::Offer> {
        let ways = self.view.offers.list.iter().flatten();
        ways.map(|way| way.offer.clone()).collect()
    }

    /// Position id, or companion key as text, of what is selected.
    #[must_use]
    pub fn selected(&self) -> Option<String> {
        self.view.selected.as_ref().map(|spot| match spot {
            Spot::Position(id) => id.clone(),
            Spot::Companion(key) => key.to_string(),
        })
    }

    /// How many photos are shown small.
    #[must_use]
    pub fn photos_shown(&self) -> usize {
        self.view.small.drawn()
    }

    /// The board is shown.
    #[must_use]
    pub fn page_is_board(&self) -> bool {
        self.view.page == Page::Board
    }

    /// The message above the strip.
    #[must_use]
    pub fn message(&self) -> Option<&str> {
        self.view.message.as_ref().map(|m| m.text.as_str())
    }

    /// What has to be read before it goes, the oldest first.
    #[must_use]
    pub fn unread(&self) -> Vec<&str> {
        self.view.unread.iter().map(String::as_str).collect()
    }

    pub(crate) fn catalogue(&self) -> &Catalogue {
        &self.catalogue
    }

    pub(crate) fn light_or_dark(&self, ctx: &Context) {
        ctx.set_theme(if self.config.dark { ThemePreference::Dark } else { ThemePreference::Light });
    }

    /// On a new day everything is looked at again: it may be over its age, or fall due.
    fn day(&mut self) {
        let today = Some((self.today)());
        if self.catalogue.as_of != today {
            Arc::make_mut(&mut self.catalogue).as_of = today;
            self.document.look_again();
            self.figures = None;
        }
    }

    /// Assesses where the sheet or the day changed, and asks for the offers of what is selected.
    pub(crate) fn refresh(&mut self) {
        self.day();
        let sheet = Arc::clone(self.document.sheet());
        self.assessment = self.cache.get(self.document.revision(), &sheet, &self.catalogue);
        self.clearing(&sheet);
        self.remedies();
        self.search_now();
        self.look_in_library();
        self.look_at_own_library();
        self.look_at_plans();
        self.weigh_what_is_for_sale();
        let Some(spot) = &self.view.selected else { return };
        let of = (self.document.revision(), spot.clone());
        if self.view.details.of.as_ref() != Some(&of) {
            self.view.details = self.details(of);
        }
        let Some(Spot::Position(id)) = &self.view.selected else { return };
        let of = (self.document.revision(), id.clone());
        if self.view.offers.of.as_ref() == Some(&of) {
            return;
        }
        let old = std::mem::take(&mut self.view.offers);
        let same = old.of.as_ref().is_some_and(|(_, id)| *id == of.1);
        let before = old.list.or(old.before).filter(|_| same);
        self.view.offers = Offers { of: Some(of.clone()), before, changes: old.changes, ..Offers::default() };
        let catalogue = Arc::clone(&self.catalogue);
        self.work.overtake(&What::Routes);
        self.work.start(What::Routes, move |progress| {
            let (list, changes) = on_offer::at(&sheet, &catalogue, &of.1, progress).unwrap_or_default();
            Done::Offers(of.0, of.1, list, changes)
        });
    }

    /// The work of the sheet as it stands, worked out once for every change.
    pub(crate) fn work_to_do(&mut self) -> Arc<ToDo> {
        let (revision, measure) = (self.document.revision(), self.view.measure);
        if let Some((of, told, work)) = &self.to_do
            && (*of, *told) == (revision, measure)
        {
            return Arc::clone(work);
        }
        let work = Arc::new(ToDo::of(self.document.sheet(), &self.assessment, &self.catalogue, measure));
        self.to_do = Some((revision, measure, Arc::clone(&work)));
        work
    }

    /// What the page of the vehicle shows, worked out once for each revision and open place.
    pub(crate) fn vehicle_told(&mut self) -> Arc<Told> {
        let (revision, at) = (self.document.revision(), self.view.vehicle.at.clone());
        if let Some((of, place, told)) = &self.described
            && (*of, place) == (revision, &at)
        {
            return Arc::clone(told);
        }
        let sheet = self.document.sheet();
        let told = Arc::new(Told::of(sheet, &self.assessment, &self.catalogue, at.as_deref()));
        self.described = Some((revision, at, Arc::clone(&told)));
        told
    }

    /// What the money page shows, worked out once for every change.
    pub(crate) fn accounts(&mut self) -> Arc<Accounts> {
        let (revision, measure) = (self.document.revision(), self.view.measure);
        if let Some((of, told, accounts)) = &self.paid_to
            && (*of, *told) == (revision, measure)
        {
            return Arc::clone(accounts);
        }
        let work = self.work_to_do();
        let accounts =
            Arc::new(Accounts::of(self.document.sheet(), &self.assessment, &self.catalogue, &work));
        self.paid_to = Some((revision, measure, Arc::clone(&accounts)));
        accounts
    }

    /// Looks for what stands in the palette, else in the find field.
    pub(crate) fn search_now(&mut self) {
        let query = match &self.view.dialog {
            Some(Dialog::Palette { text, .. }) => text.clone(),
            _ if leads::is_on(self.view.page) => self.view.find.clone(),
            _ => String::new(),
        };
        let of = find::Source {
            revision: self.document.revision(),
            sheet: self.document.sheet(),
            a: &self.assessment,
            catalogue: &self.catalogue,
        };
        self.view.search.look(&of, &query);
    }

    /// Looks for what would clear the clashes together; what was found for another sheet is told no more.
    fn clearing(&mut self, sheet: &Arc<Sheet>) {
        let wanted = self.clears && self.view.page != Page::Start && !self.assessment.clashes.is_empty();
        let begin = || {
            let (catalogue, a) = (Arc::clone(&self.catalogue), Arc::clone(&self.assessment));
            search::start(Arc::clone(sheet), catalogue, a, self.document.wake())
        };
        let judged = self.judged.number(self.document.revision(), sheet);
        let stale = self.search.look(judged, wanted, &mut self.view.clearing, begin);
        if stale {
            self.view.clearing_since = None;
            self.view.ask.take_if(|ask| matches!(ask.step, OneWay::Together(..)));
        }
    }

    /// Asks what the remedies of the clashes would bring, where some of them are in sight.
    fn remedies(&mut self) {
        let of = Some(self.document.revision());
        let here = |c: &Clash| match &self.view.selected {
            Some(Spot::Position(id)) => c.positions.contains(id),
            _ => false,
        };
        if !self.assessment.clashes.iter().any(here) || self.view.cures.of == of {
            return;
        }
        let before = self.view.cures.list.take().or(self.view.cures.before.take());
        self.view.cures = Cures { of, list: None, before, stopped: false };
        let (sheet, a) = (Arc::clone(self.document.sheet()), Arc::clone(&self.assessment));
        let (catalogue, revision) = (Arc::clone(&self.catalogue), self.document.revision());
        self.work.overtake(&What::Remedies);
        self.work.start(What::Remedies, move |progress| {
            let found = cures::cures_while(&sheet, &sheet.plan, &catalogue, &a, progress);
            Done::Cures(revision, found.unwrap_or_default())
        });
    }

    /// What the panel of a spot shows beside the assessment: a short piece of work, done once for every change.
    fn details(&self, of: (u64, Spot)) -> Details {
        let (sheet, catalogue) = (self.document.sheet(), &self.catalogue);
        let mut details = Details::default();
        match &of.1 {
            Spot::Companion(key) => {
                details.alternatives = alternatives(sheet, &sheet.plan, catalogue, key);
            }
            Spot::Position(id) => {
                let here = self.assessment.positions.iter().find(|p| p.id == *id);
                let fitted = here.and_then(|p| p.fitted.as_ref());
                let catalogue = catalogue.for_sheet(sheet);
                details.ports = fitted.map_or_else(Vec::new, |(part, _)| ports(&catalogue, part));
                let file = self.document.path.as_deref();
                let photos = sheet.photos.get(id).into_iter().flatten();
                details.missing =
                    photos.filter(|p| !photo_paths::found(p, file).is_file()).cloned().collect();
                details.kit = here.filter(|p| p.filled).and_then(|p| on_offer::kit_of(&self.assessment, p));
                as_found::could_be(&catalogue, sheet, id, &mut details);
            }
        }
        Details { of: Some(of), ..details }
    }

    /// Works out once how the plans of the example stand, for the start page.
    pub(crate) fn figures(&mut self) {
        if self.view.page != Page::Start || self.figures.is_some() {
            return;
        }
        self.figures = Some(BTreeMap::new());
        let (example, catalogue) = (self.example.clone(), Arc::clone(&self.catalogue));
        self.work.start(What::Shown, move |_| {
            let of = |id: &String| (id.clone(), wording::figures(&assess(&example, id, &catalogue).totals));
            Done::Figures(example.plans.keys().map(of).collect())
        });
    }
}
