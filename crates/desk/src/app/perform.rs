//! The one place that performs what views ask for.

use std::path::{Path, PathBuf};

use egui::Context;
use knockon_core::change::counted;
use knockon_core::look_twice::Bounds;
use knockon_core::sheet::{Done, LineState, Signed};
use knockon_core::{Edit, Sheet, money};

use crate::app::App;
use crate::app::commands::Command;
use crate::app::view::{Action, Behind, Field, Page, Spot};
use crate::app::walk;
use crate::app::work::Purpose;
use crate::board::density::Density;
use crate::board::elevation;
use crate::dialogs::open::{Dialog, Directing, Naming, Of, Returned};
use crate::document::OnDisk;
use crate::document::step_name;
use crate::find::leads;
use crate::own_parts::state::{Step, Target};
use crate::panel::unresolved;
use crate::survey::state::Shown;

impl App {
    /// Does what a view asked for.
    pub(crate) fn perform(&mut self, ctx: &Context, action: Action) {
        match action {
            Action::Edit(edits) => {
                let came_in = |e: &Edit| matches!(e, Edit::SetLine { state: LineState::InHand, .. });
                if self.view.page == Page::Board && edits.len() == 1 && edits.iter().all(came_in) {
                    self.view.to_field = Some(Field::Paid);
                }
                self.edit(&edits);
            }
            Action::Choose(position, choice) => self.choose(position, choice),
            Action::Clear(choices, place) => self.clear(choices, place),
            Action::Accept(key, yes) => self.accept(key, yes),
            Action::AcceptAll(keys) => self.accept_all(&keys),
            Action::Pick(key, part) => self.pick(key, part),
            Action::Paid(part, text, currency) => self.paid(part, &text, currency),
            Action::LeaveOut(key) => self.view.waive = Some((key, String::new())),
            Action::LookFrom(read) => self.look_from(read),
            Action::TakeOver(over) => self.take_over(over),
            Action::Direct(direction) => self.direct(*direction),
            Action::CameBack(part) => {
                let back = Returned::new(self.document.sheet(), &part);
                self.view.dialog = Some(Dialog::CameBack(back));
            }
            Action::Steps(n) => self.steps(n),
            Action::Photos(step) => self.photos(step),
            Action::Parts(step) => self.own_parts(ctx, step),
            Action::Vehicle(step) => self.vehicle(ctx, step),
            Action::OwnLibrary(step) => self.own_library(step),
            Action::Answer(yes) => self.answer(yes),
            Action::Select(spot) => {
                // the panel is for one thing at a time; the way back to the list stays
                let list = self.view.behind.take();
                self.view.to_field = None;
                self.view.came_from = spot.as_ref().and(list.or(self.view.came_from));
                self.view.came_from_place = match (&spot, &self.view.selected) {
                    (Some(Spot::Companion(_)), Some(Spot::Position(place))) => Some(place.clone()),
                    (Some(Spot::Companion(_)), Some(Spot::Companion(_))) => self.view.came_from_place.take(),
                    _ => None,
                };
                if spot.is_some() && self.view.page != Page::Board {
                    self.view.page = Page::Board;
                }
                let shown = self.view.rows.iter().any(|r| Some(&r.spot) == spot.as_ref());
                // also where the cursor is there already: a dialog may have had the keyboard
                if spot.is_some() {
                    self.view.cursor.clone_from(&spot);
                    self.view.reveal = true;
                    if !shown {
                        self.view.folded.clear();
                        self.view.find.clear();
                    }
                }
                self.view.waive = None;
                self.view.ask = None;
                if self.view.selected != spot {
                    // what lies on the disk may be another by now
                    self.view.details.of = None;
                }
                self.view.selected = spot;
            }
            Action::Offer { position, part } => self.view.search.offer = Some((position, part)),
            Action::Measure(id) => {
                self.perform(ctx, Action::Select(Some(Spot::Position(id))));
                self.view.to_field = Some(Field::Measuring);
                // the row of the board does not take the keyboard
                self.view.reveal = false;
            }
            Action::Found => self.go_to_found(ctx),
            Action::Lines(only) => {
                self.go(Page::Buying);
                self.view.find.clear();
                self.view.buying.only = only;
            }
            Action::Line(part) => {
                self.perform(ctx, Action::Lines(None));
                self.view.buying.chosen.lead_to(part);
            }
            Action::Do(command) => {
                self.take_typed();
                self.command(ctx, command);
            }
            Action::FitUp(card) => {
                self.view.fitup.card = card;
                self.go(Page::FitUp);
            }
            Action::Behind(which) => {
                self.view.behind = which;
                self.view.came_from = None;
            }
            Action::Open(path) => self.open_once(path),
            Action::Path(Purpose::Open, path, _) if Path::new(&path).is_file() => {
                self.open_once(PathBuf::from(path));
            }
            Action::Path(purpose, path, agreed) => self.with_path(purpose, &path, agreed),
            Action::Browse(purpose, near) => self.browse(purpose, &near),
            Action::Further(at) => {
                if let Some(sheet) = self.further.get(at).cloned() {
                    self.put(sheet, None, OnDisk::default());
                    self.go(Page::Board);
                }
            }
            Action::StartWith(plan) => self.start_with(plan),
            Action::Begin(vehicle, name) => self.begin(vehicle, name),
            Action::AskPath(purpose) => self.ask_path(purpose),
            Action::CloseDialog => self.view.dialog = None,
            Action::System(id) => self.bring_up(id),
            Action::Done(job, yes) => {
                let on = Some((self.today)().to_string());
                let done = yes.then(|| Done { on, ..Done::default() });
                self.edit(&[Edit::Done { job, done }]);
            }
            Action::Inspected { position, inspection, which, value, is_date } => {
                self.inspected(position, inspection, which, value, is_date);
            }
            Action::Sign(check, signed) => {
                let on = Some((self.today)().to_string());
                let signed = signed.map(|signed| Signed { on, ..signed });
                self.edit(&[Edit::Sign { check, signed }]);
            }
            Action::Hush => self.view.message = None,
            Action::Stop(what) => self.stop(what),
            Action::WorkOut => self.work_out(),
            Action::Read => {
                if !self.view.unread.is_empty() {
                    self.view.unread.remove(0);
                }
            }
        }
    }

    /// To what was found, with the search up to what stands in the field by now.
    fn go_to_found(&mut self, ctx: &Context) {
        self.search_now();
        self.view.search.open = false;
        let found = self.view.search.found.get(self.view.search.at);
        for action in found.map(leads::lead).into_iter().flatten() {
            self.perform(ctx, action);
        }
    }

    /// What is marked as fitted was fitted today, and of what is marked as bought as many are bought as the plan wants now:
    /// no later change of the plan makes them fewer.
    fn written_down(&self, edits: &[Edit]) -> Vec<Edit> {
        let fitted = |edit: &Edit| match edit {
            Edit::SetLine { part, state: LineState::Fitted } => {
                Some(Edit::SetFitted { part: part.clone(), fitted: Some((self.today)().to_string()) })
            }
            _ => None,
        };
        let bought = |edit: &Edit| match edit {
            Edit::SetLine { part, state } if state.is_bought() => {
                let line = self.document.sheet().lines.get(part);
                let is_known = line.is_some_and(|l| l.state.is_bought() && l.qty.is_some());
                let wanted = self.assessment.buy.iter().find(|l| l.part == *part && l.waived.is_none());
                let wanted = wanted.filter(|_| !is_known)?;
                Some(Edit::SetQty { part: part.clone(), qty: Some(wanted.qty) })
            }
            _ => None,
        };
        let before = counted(self.document.sheet(), &self.assessment);
        let edits = edits.iter();
        let all =
            edits.flat_map(|edit| [Some(edit.clone()), fitted(edit), bought(edit)].into_iter().flatten());
        before.into_iter().chain(all).collect()
    }

    /// Changes the sheet, and tells what goes wrong.
    pub(crate) fn edit(&mut self, edits: &[Edit]) {
        self.edited(edits);
    }

    /// The same; whether it was changed.
    pub(crate) fn edited(&mut self, edits: &[Edit]) -> bool {
        let name = step_name::of(edits, self.document.sheet(), &self.assessment, self.catalogue());
        match self.document.edit(&self.written_down(edits), name) {
            Ok(()) => {
                self.view.message = None;
                true
            }
            Err(why) => {
                self.trouble(format!("That cannot be done: {why}."));
                false
            }
        }
    }

    /// Goes so many steps forward, or back where it is less than nothing.
    fn steps(&mut self, n: isize) {
        // what was taken back is asked for again
        if n < 0 {
            self.agreed.clear();
        }
        for _ in 0..n.unsigned_abs() {
            if n < 0 { self.document.undo() } else { self.document.redo() }
        }
    }

    /// Takes in a price as typed: "12.50", "95,50", "$12.50" or "12.50 EUR"; empty forgets what was paid.
    pub(crate) fn paid(&mut self, part: String, text: &str, currency: Option<String>) {
        let currency = currency.unwrap_or_else(|| self.assessment.totals.currency.clone());
        let paid = match money::typed(text, &currency) {
            Ok(paid) => paid,
            Err(why) => {
                self.trouble(format!("{why}."));
                // it stays in its field, to be put right
                self.view.buying.paid = Some((part, text.to_owned()));
                return;
            }
        };
        self.edit(&[Edit::SetPaid { part, paid }]);
    }

    fn command(&mut self, ctx: &Context, command: Command) {
        match command {
            Command::New => self.ask_new(),
            Command::Open => self.ask_path(Purpose::Open),
            Command::Save => match self.kept_in() {
                Some(path) => self.save(path, false),
                None => self.ask_path(Purpose::SaveAs),
            },
            Command::SaveAs => self.ask_path(Purpose::SaveAs),
            Command::OpenExample => self.put(self.example.clone(), None, OnDisk::default()),
            Command::ExportBuyList => self.ask_path(Purpose::Export),
            Command::Print => self.ask_print(),
            Command::Undo => self.steps(-1),
            Command::Redo => self.steps(1),
            Command::History => self.view.dialog = Some(Dialog::History),
            Command::CopyPlan => self.ask_name(Of::Copy),
            Command::RenamePlan => self.ask_name(Of::Plan),
            Command::RenameSheet => self.ask_name(Of::Sheet),
            Command::DropPlan => self.drop_plan(),
            Command::Board => self.go(Page::Board),
            Command::OwnPart => match self.view.selected.clone() {
                Some(Spot::Position(id)) => self.own_parts(ctx, Step::Form(Target::Place(id))),
                _ => self.go(Page::Parts),
            },
            Command::Survey => self.survey_here(),
            Command::MyParts => self.go(Page::Parts),
            Command::Buying => self.go(Page::Buying),
            Command::Money => self.go(Page::Money),
            Command::Plans => self.go(Page::Plans),
            Command::Direct => {
                self.view.dialog = Some(Dialog::Direction(Directing::new(self.document.sheet())));
            }
            Command::BeforeBuying => {
                self.view.walk.shown = Shown::BeforeBuying;
                self.go(Page::Survey);
            }
            Command::FitUp => self.go(Page::FitUp),
            Command::Jobs => self.go(Page::Jobs),
            Command::Walk => self.go(Page::Survey),
            Command::Vehicle => self.go(Page::Vehicle),
            Command::Library => {
                self.go(Page::Library);
                self.view.library.focus = true;
            }
            Command::OwnLibrary => self.go(Page::OwnLibrary),
            Command::TakeIn => {
                self.go(Page::OwnLibrary);
                self.view.own_library.focus = true;
            }
            Command::StartPage => self.view.page = Page::Start,
            Command::ClearAll => self.clear_all(),
            Command::ClearHere => self.clear_here(0),
            Command::ClearHereSecond => self.clear_here(1),
            Command::ClearHereThird => self.clear_here(2),
            Command::NextOpen => self.walk(ctx, false),
            Command::LastOpen => self.walk(ctx, true),
            Command::Systems => self.show(Density::Systems),
            Command::Places => self.show(Density::Places),
            Command::Everything => self.show(Density::Everything),
            Command::AcceptNeeded => self.accept_all(&unresolved::needed(&self.assessment)),
            Command::FoldAll => {
                if self.view.folded.is_empty() {
                    self.view.folded = self.assessment.systems.iter().map(|(id, _)| id.clone()).collect();
                } else {
                    self.view.folded.clear();
                }
            }
            Command::Find => {
                if matches!(self.view.page, Page::Start | Page::How) {
                    self.go(Page::Board);
                }
                // the page has a field of its own
                self.view.library.focus = self.view.page == Page::Library;
                self.view.find_focus = !self.view.library.focus;
            }
            Command::Palette => {
                self.view.dialog = Some(Dialog::Palette { text: String::new(), at: 0, fresh: true });
            }
            Command::LightDark => {
                self.config.dark = !self.config.dark;
                self.config.store(self.home.as_deref());
                self.light_or_dark(ctx);
            }
            Command::TakeLibraries => self.take_libraries(),
            Command::InchMetric => {
                self.config.metric = !self.config.metric;
                self.config.store(self.home.as_deref());
                self.view.measure = self.config.measure();
            }
            Command::Elevation => {
                let now = elevation::shown(self.config.elevation, ctx.content_rect().height());
                self.config.elevation = Some(!now);
                self.config.store(self.home.as_deref());
            }
            Command::Larger | Command::Smaller | Command::OwnSize => self.zoom(ctx, command),
            Command::BigHands => {
                self.config.large = !self.config.large;
                self.config.store(self.home.as_deref());
                self.size_and_motion(ctx);
                let size = if self.config.large { "half as large again" } else { "as large as it was" };
                self.tell(format!("Everything is {size}."));
            }
            Command::LessMotion => {
                self.config.still = !self.config.still;
                self.config.store(self.home.as_deref());
                self.size_and_motion(ctx);
                let word = if self.config.still { "Nothing moves by itself" } else { "Motion is on" };
                self.tell(format!("{word}."));
            }
            Command::Keys => self.view.dialog = Some(Dialog::Keys),
            Command::AcceptHere => self.accept_here(),
            Command::MarkToBuy | Command::MarkOnOrder | Command::MarkInHand | Command::MarkFitted => {
                self.mark_here(ctx, command);
            }
            Command::Cautions => self.perform(ctx, Action::Behind(Some(Behind::Cautions))),
            Command::MeasureHere => self.measure_here(ctx),
            Command::PhotoHere => self.field_here(Field::Photo),
            Command::NoteHere => self.field_here(Field::Note),
            Command::HowItWorks => self.how_it_works(),
            Command::Close => ctx.send_viewport_cmd(egui::ViewportCommand::Close),
        }
    }

    /// From where on to look twice is kept for all sheets.
    fn look_from(&mut self, read: Result<Bounds, String>) {
        match read {
            Ok(bounds) => {
                (self.config.dear, self.config.long) = (bounds.dear.clone(), bounds.long);
                self.config.store(self.home.as_deref());
                self.view.bounds = bounds;
            }
            Err(why) => self.trouble(why),
        }
    }

    /// To the page that says how it works, and from there back again.
    fn how_it_works(&mut self) {
        if self.view.page == Page::How {
            self.view.page = self.view.how.from;
        } else {
            self.view.how.from = std::mem::replace(&mut self.view.page, Page::How);
        }
    }

    fn ask_name(&mut self, of: Of) {
        self.view.dialog = Some(Dialog::Name(Naming::new(self.document.sheet(), of)));
    }

    fn drop_plan(&mut self) {
        let sheet = self.document.sheet();
        let (id, name) = (sheet.plan.clone(), sheet.plans.get(&sheet.plan).map(|p| p.name.clone()));
        let before = sheet.plans.len();
        self.edit(&[Edit::PutPlan { id, plan: None }]);
        if self.document.sheet().plans.len() < before {
            let name = name.unwrap_or_default();
            self.tell(format!("The plan \"{name}\" is out of the sheet. Undo brings it back."));
        }
    }

    /// To a system on the board.
    fn bring_up(&mut self, id: String) {
        self.go(Page::Board);
        if self.view.density == Density::Systems {
            // a system is opened: its places alone
            self.view.density = Density::Places;
            self.view.folded = self.assessment.systems.iter().map(|(other, _)| other.clone()).collect();
        }
        self.view.folded.remove(&id);
        self.view.find.clear();
        let first = self.assessment.positions.iter().find(|p| p.system == id);
        self.view.cursor = first.map(|p| Spot::Position(p.id.clone()));
        self.view.to_system = Some(id);
    }

    /// To the next thing that is unresolved, or the one before.
    fn walk(&mut self, ctx: &Context, back: bool) {
        if self.view.page != Page::Board {
            self.go(Page::Board);
        }
        match walk::beside(&self.assessment, self.view.selected.as_ref(), back) {
            Some(spot) => self.perform(ctx, Action::Select(Some(spot))),
            None => self.tell("Nothing is unresolved.".to_owned()),
        }
    }

    fn show(&mut self, density: Density) {
        if matches!(self.view.page, Page::Start | Page::How) {
            self.go(Page::Board);
        }
        self.view.density = density;
        // the row that is selected stays in sight
        self.view.reveal = self.view.cursor.is_some();
        self.config.density = density;
        self.config.store(self.home.as_deref());
    }

    pub(crate) fn go(&mut self, page: Page) {
        self.view.page = page;
        if !self.config.started {
            self.config.started = true;
            self.config.store(self.home.as_deref());
        }
    }

    fn start_with(&mut self, plan: String) {
        let other = !self.document.sheet().plans.contains_key(&plan);
        if other || self.document.path.is_some() || !self.document.dirty() {
            // looking at a plan of the untouched example is no change of it
            self.put(Sheet { plan, ..self.example.clone() }, None, OnDisk::default());
        } else if self.document.sheet().plan != plan
            && let Err(why) = self.document.edit(&[Edit::SwitchPlan { plan }], "another plan".to_owned())
        {
            self.trouble(format!("That plan cannot be shown: {why}."));
        }
        self.go(Page::Board);
    }
}
