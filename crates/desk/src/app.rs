//! The workbench: one frame reads keys, draws the views, and performs the actions they return.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::Arc;

use egui::{CentralPanel, Context, Frame, Label, Margin, Panel, RichText, ThemePreference, Ui};
use knockon_core::change::of_offers;
use knockon_core::{Assessment, Catalogue, Sheet, alternatives, assess, offers, ports};

use crate::ahead::Ahead;
use crate::ask::OneWay;
use crate::cache::Cache;
use crate::config::{self, Config};
use crate::document::Document;
use crate::half_written::Pause;
use crate::kept_drafts::Kept;
use crate::view::{Action, Details, Offers, Page, Spot, View};
use crate::work::{Done, Work};
use crate::{
    Start, behind, board, body, buying, dialogs, dropping, elevation, fitup, icons, keys, parts, position,
    start, strip, theme, top, words,
};

/// The workbench.
pub struct App {
    catalogue: Arc<Catalogue>,
    pub(crate) example: Sheet,
    pub(crate) document: Document,
    cache: Cache,
    pub(crate) assessment: Arc<Assessment>,
    pub(crate) view: View,
    pub(crate) work: Work,
    pub(crate) config: Config,
    pub(crate) home: Option<PathBuf>,
    title: String,
    fitted: bool,
    pub(crate) figures: Option<BTreeMap<String, String>>,
    /// One-way steps said yes to: they do not ask again.
    pub(crate) agreed: BTreeSet<OneWay>,
    /// Parts being typed, as they are on disk.
    pub(crate) kept: Kept,
    /// The note being written, as it stood when it was last typed in.
    pub(crate) pause: Option<Pause>,
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
        let config = Config::load(home.as_deref());
        let document = Document::new(start.example.clone(), None, home.as_deref(), 1);
        let mut app = Self {
            catalogue: Arc::new(start.catalogue),
            example: start.example,
            document,
            cache: Cache::default(),
            assessment: Arc::default(),
            view: View::default(),
            work: Work::new(&cc.egui_ctx),
            config,
            home,
            title: String::new(),
            fitted: false,
            figures: None,
            agreed: BTreeSet::new(),
            kept: Kept::default(),
            pause: None,
        };
        app.light_or_dark(&cc.egui_ctx);
        app.view.measure = app.config.measure();
        app.read_drafts();
        match start.file {
            Some(path) => app.open(path),
            None => {
                if !app.config.started {
                    app.view.page = Page::Start;
                }
                if let Some(text) = app.document.restore() {
                    app.view.page = Page::Board;
                    app.tell(text);
                }
            }
        }
        app
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
        self.view.offers.list.clone().unwrap_or_default()
    }

    /// Position id or companion key of what is selected.
    #[must_use]
    pub fn selected(&self) -> Option<String> {
        self.view.selected.as_ref().map(|spot| match spot {
            Spot::Position(id) | Spot::Companion(id) => id.clone(),
        })
    }

    /// The message above the strip.
    #[must_use]
    pub fn message(&self) -> Option<&str> {
        self.view.message.as_ref().map(|m| m.text.as_str())
    }

    pub(crate) fn catalogue(&self) -> &Catalogue {
        &self.catalogue
    }

    pub(crate) fn light_or_dark(&self, ctx: &Context) {
        ctx.set_theme(if self.config.dark { ThemePreference::Dark } else { ThemePreference::Light });
    }

    /// Assesses where the sheet changed, and asks for the offers of what is selected.
    fn refresh(&mut self) {
        let sheet = Arc::clone(self.document.sheet());
        self.assessment = self.cache.get(self.document.revision(), &sheet, &self.catalogue);
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
        self.view.offers = Offers { of: Some(of.clone()), ..Offers::default() };
        let catalogue = Arc::clone(&self.catalogue);
        self.work.start(move || {
            let list = offers(&sheet, &sheet.plan, &catalogue, &of.1);
            let changes = of_offers(&sheet, &sheet.plan, &catalogue, &list);
            Done::Offers(of.0, of.1, list, changes)
        });
    }

    /// What the panel of a spot shows beside the assessment: a short piece of work, done once for every change.
    fn details(&self, of: (u64, Spot)) -> Details {
        let (sheet, catalogue) = (self.document.sheet(), &self.catalogue);
        let mut details = Details::default();
        match &of.1 {
            Spot::Companion(key) => {
                details.alternatives = alternatives(sheet, &sheet.plan, catalogue, key);
                let part = self.assessment.companions.iter().find(|c| c.key == *key).map(|c| &c.part);
                let entry = |id: &String| catalogue.for_sheet(sheet).part(id).map(|e| e.part.reversible);
                details.reversible = part.and_then(entry).unwrap_or_default();
            }
            Spot::Position(id) => {
                let here = self.assessment.positions.iter().find(|p| p.id == *id);
                let fitted = here.and_then(|p| p.fitted.as_ref());
                details.ports =
                    fitted.map_or_else(Vec::new, |(part, _)| ports(&catalogue.for_sheet(sheet), part));
            }
        }
        Details { of: Some(of), ..details }
    }

    /// Works out once how the plans of the example stand, for the start page.
    fn figures(&mut self) {
        if self.view.page != Page::Start || self.figures.is_some() {
            return;
        }
        self.figures = Some(BTreeMap::new());
        let (example, catalogue) = (self.example.clone(), Arc::clone(&self.catalogue));
        self.work.start(move || {
            let of = |id: &String| (id.clone(), words::figures(&assess(&example, id, &catalogue).totals));
            Done::Figures(example.plans.keys().map(of).collect())
        });
    }

    /// A number key pressed while the offers were still being worked out.
    fn wanted(&mut self) -> Option<Action> {
        let list = self.view.offers.list.as_ref()?;
        let wanted = self.view.offers.wanted.take()?;
        let offer = list.get(wanted).filter(|o| !o.current)?;
        Some(crate::offers::take(offer))
    }

    fn name_window(&mut self, ctx: &Context) {
        let star = if self.document.dirty() { " (changed)" } else { "" };
        let title = format!("{}{star} - Knockon", self.document.sheet().name);
        if title != self.title {
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    /// On a small screen the window takes all of it, so that its frame pushes nothing off.
    fn fit_window(&mut self, ctx: &Context) {
        if self.fitted {
            return;
        }
        if let Some(screen) = ctx.input(|i| i.viewport().monitor_size) {
            self.fitted = true;
            if screen.x < 1366.0 + 40.0 || screen.y < 768.0 + 60.0 {
                ctx.send_viewport_cmd(egui::ViewportCommand::Maximized(true));
            }
        }
    }

    fn draw(&mut self, ui: &mut Ui) -> Vec<Action> {
        let sheet = Arc::clone(self.document.sheet());
        let a = self.cache.shown(self.view.measure);
        let idle = Arc::clone(&self.cache.idle);
        let t = theme::tokens(ui);
        let mut actions = Vec::new();
        let rim = Frame::new().fill(t.bar).inner_margin(Margin::symmetric(8, 4));
        Panel::top("top").exact_size(48.0).resizable(false).frame(rim).show(ui, |ui| {
            let file = self.document.path.as_ref().and_then(|p| p.file_name());
            let bar = top::Bar {
                sheet: &sheet,
                file: file.map(|f| f.to_string_lossy().into_owned()),
                dirty: self.document.dirty(),
                can_undo: self.document.can_undo(),
                can_redo: self.document.can_redo(),
                recent: &self.config.recent,
                vehicle: body::of(&sheet.vehicle)
                    .map(|_| elevation::shown(self.config.elevation, ui.ctx().content_rect().height())),
            };
            actions.extend(top::bar(ui, &bar, &mut self.view));
        });
        if self.view.page != Page::Start {
            let rows = strip::Strip::new(ui, &a, &idle);
            Panel::bottom("strip").exact_size(rows.height()).resizable(false).frame(rim).show(ui, |ui| {
                actions.extend(rows.show(ui, &self.view));
            });
        }
        let body = body::of(&sheet.vehicle).filter(|_| self.view.page == Page::Board);
        let tall = ui.ctx().content_rect().height();
        if let Some(body) = body.filter(|_| elevation::shown(self.config.elevation, tall)) {
            let margin = Margin { left: 8, right: 12, top: 6, bottom: 4 };
            let frame = Frame::new().fill(t.ground).inner_margin(margin);
            Panel::top("vehicle").exact_size(elevation::HEIGHT + 10.0).resizable(false).frame(frame).show(
                ui,
                |ui| {
                    actions.extend(elevation::strip(ui, &a, body, &self.view));
                },
            );
        }
        actions.extend(self.message_bar(ui));
        let lies = Frame::new().fill(t.sheet).inner_margin(Margin { left: 14, right: 8, top: 8, bottom: 4 });
        if let Some(which) = self.view.behind.filter(|_| self.view.page != Page::Start) {
            Panel::bottom("behind").default_size(230.0).size_range(120.0..=420.0).frame(lies).show(
                ui,
                |ui| {
                    actions.extend(behind::panel(ui, &a, &idle, which));
                },
            );
        }
        if self.view.page == Page::Board {
            Panel::right("position").default_size(396.0).size_range(330.0..=520.0).frame(lies).show(
                ui,
                |ui| {
                    actions.extend(position::panel(ui, &a, &sheet, &mut self.view));
                },
            );
        }
        let ground =
            Frame::new().fill(t.ground).inner_margin(Margin { left: 12, right: 6, top: 8, bottom: 0 });
        CentralPanel::default().frame(ground).show(ui, |ui| match self.view.page {
            Page::Board => actions.extend(board::board(ui, &a, &sheet, &mut self.view)),
            Page::Buying => actions.extend(buying::buying(ui, &a, &sheet, &mut self.view)),
            Page::Parts => {
                actions.extend(parts::page(ui, &a, &sheet, &self.catalogue, &mut self.view));
            }
            Page::FitUp => {
                let (revision, measure) = (self.document.revision(), self.view.measure);
                let state = &mut self.view.fitup;
                fitup::page(ui, &a, &sheet, &self.catalogue, revision, measure, state);
            }
            Page::Start => {
                let page = start::Page {
                    example: &self.example,
                    figures: self.figures.as_ref(),
                    open: &sheet.name,
                    recent: &self.config.recent,
                };
                actions.extend(start::start(ui, &page));
            }
        });
        dropping::over(ui, &a, &self.view);
        actions.extend(dialogs::show(ui.ctx(), &a, &sheet, &self.catalogue, &mut self.view));
        actions
    }

    /// What was only told goes by itself; trouble stays until it is dismissed.
    fn age_message(&mut self, ctx: &Context) {
        const SHOWN: f64 = 12.0;
        let now = ctx.input(|i| i.time);
        let Some(message) = self.view.message.as_mut().filter(|m| !m.trouble) else { return };
        let left = SHOWN - (now - *message.since.get_or_insert(now));
        if left <= 0.0 {
            self.view.message = None;
        } else {
            ctx.request_repaint_after(std::time::Duration::from_secs_f64(left + 0.05));
        }
    }

    fn message_bar(&self, ui: &mut Ui) -> Vec<Action> {
        let mut actions = Vec::new();
        let Some(message) = &self.view.message else { return actions };
        let t = theme::tokens(ui);
        let fill = if message.trouble { t.warm_ground } else { t.cool_ground };
        let frame = Frame::new().fill(fill).inner_margin(Margin::symmetric(14, 6));
        Panel::bottom("message").resizable(false).frame(frame).show(ui, |ui| {
            ui.horizontal(|ui| {
                if message.trouble {
                    let (rect, _) = ui.allocate_exact_size(egui::Vec2::splat(20.0), egui::Sense::hover());
                    icons::caution(ui.painter(), rect.center(), t.warm);
                }
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    if ui.button("Dismiss").clicked() {
                        actions.push(Action::Hush);
                    }
                    ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                        let tone = if message.trouble { t.warm } else { t.ink };
                        ui.add(Label::new(RichText::new(&message.text).color(tone)).wrap());
                    });
                });
            });
        });
        actions
    }
}

impl eframe::App for App {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        let ctx = ui.ctx().clone();
        self.receive();
        let dropped = dropping::paths(&ctx);
        if !dropped.is_empty() {
            self.dropped(dropped);
        }
        self.figures();
        self.refresh();
        let a = Arc::clone(&self.assessment);
        let mut actions = keys::read(&ctx, &a, &self.example, &mut self.view);
        actions.extend(self.wanted());
        actions.extend(self.draw(ui));
        let acted = !actions.is_empty();
        for action in actions {
            self.perform(&ctx, action);
        }
        if acted {
            self.refresh();
            ctx.request_repaint();
        }
        // a number pressed while the offers are worked out comes before what is typed after it, and what is typed
        // after a file is meant for the sheet in it
        let wanted = (self.view.offers.wanted.is_some() || self.work.opening) && self.work.busy();
        ctx.with_plugin(|ahead: &mut Ahead| ahead.hold(wanted));
        self.note_pause(&ctx);
        if ctx.input(|i| i.viewport().close_requested()) {
            self.take_typed(&ctx);
        }
        self.keep_drafts();
        self.age_message(&ctx);
        self.name_window(&ctx);
        self.fit_window(&ctx);
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        self.work.finish();
        // what has been saved leaves no journal behind
        self.receive();
    }
}
