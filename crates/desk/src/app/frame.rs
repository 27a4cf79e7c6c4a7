//! A frame of the desk: what came back is taken in, the pages are drawn, and what they ask for is done.

use std::sync::Arc;

use egui::{CentralPanel, Context, Frame, Label, Margin, Panel, RichText, ScrollArea, Stroke, Ui};
use knockon_core::Sheet;

use crate::access::{self, Region};
use crate::app::App;
use crate::app::hushing::Hushing;
use crate::app::told::Told;
use crate::app::typing_ahead::Ahead;
use crate::app::view::{Action, Page};
use crate::app::{dropping, keys};
use crate::bars::{first_line, strip, top, under_way};
use crate::board::elevation;
use crate::board::rows::row_id;
use crate::look::{icons, theme};
use crate::own_library;
use crate::own_library::Shown;
use crate::own_parts::page;
use crate::survey::Walk;
use crate::{board, buying, dialogs, fitup, how, jobs, library, money, panel, plans, start, survey, vehicle};

/// A window with less than this has no room for board and panel beside each other.
const NARROW: f32 = 900.0;
/// What a window needs in height for all its parts.
const LOW: f32 = 480.0;

impl App {
    /// A number key pressed while the offers were still being worked out.
    fn wanted(&mut self) -> Option<Action> {
        let list = self.view.offers.list.as_ref()?;
        let wanted = self.view.offers.wanted.take()?;
        let way = list.get(wanted).filter(|way| !way.offer.current)?;
        Some(way.take())
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

    /// The whole window. One that is too low for all of it, as where everything is drawn at twice its size, scrolls.
    fn draw(&mut self, ui: &mut Ui) -> Vec<Action> {
        let room = ui.available_size();
        if room.y >= LOW {
            return self.parts(ui);
        }
        // beside its bar as well
        ui.painter().rect_filled(ui.max_rect(), 0, theme::tokens(ui).ground);
        let all = ScrollArea::vertical().id_salt("whole window").auto_shrink(false);
        let shown = all.show(ui, |ui| {
            let size = egui::vec2(ui.available_width(), LOW);
            let rect = egui::Rect::from_min_size(ui.cursor().min, size);
            let drawn = ui.scope_builder(egui::UiBuilder::new().max_rect(rect), |ui| {
                ui.set_min_size(size);
                self.parts(ui)
            });
            drawn.inner
        });
        shown.inner
    }

    /// Bars, panel and page.
    fn parts(&mut self, ui: &mut Ui) -> Vec<Action> {
        let sheet = Arc::clone(self.document.sheet());
        let a = self.cache.told(self.view.measure);
        let t = theme::tokens(ui);
        let catalogue = Arc::clone(&self.catalogue);
        let drawing = catalogue.drawing(&sheet.vehicle);
        let mut actions = Vec::new();
        let rim = Frame::new().fill(t.bar).inner_margin(Margin::symmetric(8, 4));
        let narrow = ui.available_width() < NARROW;
        let bar_height = top::height(ui.available_width());
        Panel::top("top").exact_size(bar_height).resizable(false).frame(rim).show(ui, |ui| {
            access::region(ui, Region::Bar, "Bar on top");
            let history = self.document.history();
            let file = self.document.path.as_ref().and_then(|p| p.file_name());
            let bar = top::Bar {
                sheet: &sheet,
                file: file.map(|f| f.to_string_lossy().into_owned()),
                dirty: self.document.dirty(),
                undo: history.0.last().copied(),
                redo: history.1.first().copied(),
                recent: &self.config.recent,
                vehicle: drawing
                    .map(|_| elevation::shown(self.config.elevation, ui.ctx().content_rect().height())),
            };
            actions.extend(top::bar(ui, &bar, &mut self.view));
        });
        let mut strip_height = 0.0;
        if !matches!(self.view.page, Page::Start | Page::How) {
            let rows = strip::Strip::new(ui, &a);
            strip_height = rows.height() + 8.0;
            Panel::bottom("strip").exact_size(rows.height()).resizable(false).frame(rim).show(ui, |ui| {
                access::region(ui, Region::Strip, "Figures of the plan");
                actions.extend(rows.show(ui, &self.view));
            });
        }
        let has_line = matches!(self.view.page, Page::Board | Page::Buying) && !a.positions.is_empty();
        if has_line {
            actions.extend(first_line::band(ui, &a, &mut self.view));
        }
        let lies = Frame::new().fill(t.sheet).inner_margin(Margin { left: 14, right: 10, top: 8, bottom: 4 });
        let has_list = self.view.behind.is_some() && !matches!(self.view.page, Page::Start | Page::How);
        // a narrow window has room for one of the two: the panel where something is open in it, else the page
        let is_open = has_list || self.view.page == Page::Board && self.view.selected.is_some();
        if narrow && is_open {
            CentralPanel::default().frame(lies).show(ui, |ui| {
                access::region(ui, Region::Panel, "Panel");
                actions.extend(panel::show(ui, &a, &sheet, &mut self.view));
            });
            // no row of the board is drawn that could take the keyboard
            self.view.reveal = false;
        } else if !narrow && (self.view.page == Page::Board || has_list) {
            let window = ui.ctx().content_rect().width();
            let (name, wide) = panel::width(&self.view, window);
            let edge = ui.make_persistent_id(name).with("__resize");
            Panel::right(name).default_size(wide).size_range(330.0..=window * 0.68).frame(lies).show(
                ui,
                |ui| {
                    access::region(ui, Region::Panel, "Panel");
                    if ui.memory(|m| m.has_focus(edge)) {
                        // over what the panel clips: its edge lies outside of it
                        let left = ui.clip_rect().left() + 1.0;
                        ui.painter().vline(left, ui.clip_rect().y_range(), Stroke::new(3.0, t.cool));
                    }
                    actions.extend(panel::show(ui, &a, &sheet, &mut self.view));
                },
            );
            if ui.ctx().has_accesskit_node(edge) {
                access::edge(ui.ctx(), edge);
                let name = "Edge of the panel: left and right move it";
                ui.ctx().accesskit_node_builder(edge, |node| node.set_label(name));
            }
            if let Some(spot) = self.view.selected.as_ref().filter(|_| {
                self.view.behind.is_none() && self.view.ask.is_none() && self.view.waive.is_none()
            }) {
                access::way_out(ui.ctx(), Region::Panel, row_id(spot));
            }
        }
        let tall = ui.ctx().content_rect().height();
        let body = drawing
            .filter(|_| self.view.page == Page::Board && elevation::shown(self.config.elevation, tall));
        let is_page = !(narrow && is_open);
        if self.view.page == Page::Board && is_page {
            let margin = Margin { left: 12, right: 12, top: 8, bottom: 0 };
            let frame = Frame::new().fill(t.ground).inner_margin(margin);
            Panel::top("vehicle").resizable(false).frame(frame).show(ui, |ui| {
                access::region(ui, Region::Lead, "What is shown of the board");
                actions.extend(board::top(ui, &a, &sheet, body, &mut self.view));
            });
        }
        let ground =
            Frame::new().fill(t.ground).inner_margin(Margin { left: 12, right: 6, top: 8, bottom: 0 });
        if is_page {
            self.page(ui, ground, &a, &sheet, &mut actions);
        }
        actions.extend(self.message_bar(ui, strip_height));
        actions.extend(under_way::plate(ui, &self.work.told(), strip_height));
        dropping::over(ui, &a, &self.view);
        let history = self.document.history();
        actions.extend(dialogs::show(ui.ctx(), &a, &sheet, &self.catalogue, &history, &mut self.view));
        actions
    }

    /// The page.
    fn page(&mut self, ui: &mut Ui, ground: Frame, a: &Told, sheet: &Sheet, actions: &mut Vec<Action>) {
        CentralPanel::default().frame(ground).show(ui, |ui| {
            access::region(ui, Region::Page, self.view.page.name());
            match self.view.page {
                Page::Board => actions.extend(board::board(ui, a, &mut self.view)),
                Page::Buying => actions.extend(buying::buying(ui, a, sheet, &mut self.view)),
                Page::Survey => {
                    let found = self.walk_round();
                    let (plan, measure) = (&sheet.plan, self.view.measure);
                    let (sale, currency) = (sheet.for_sale.as_ref(), a.totals.currency.as_str());
                    let catalogue = &self.catalogue;
                    let walk = Walk { found: &found, catalogue, plan, measure, sale, currency };
                    actions.extend(survey::page(ui, &walk, &mut self.view.walk));
                }
                Page::Jobs => {
                    let work = self.work_to_do();
                    actions.extend(jobs::page(ui, a, &work, &mut self.view.jobs));
                }
                Page::Money => {
                    let accounts = self.accounts();
                    actions.extend(money::page(ui, a, sheet, &accounts, &mut self.view.money));
                }
                Page::Plans => {
                    let keys = self.view.dialog.is_none();
                    actions.extend(plans::page(ui, a, sheet, &self.catalogue, keys, &mut self.view.plans));
                }
                Page::Vehicle => {
                    let told = self.vehicle_told();
                    actions.extend(vehicle::page(ui, sheet, &told, &mut self.view.vehicle));
                }
                Page::Library => {
                    let measure = self.view.measure;
                    actions.extend(library::page(ui, measure, &mut self.view.library));
                }
                Page::OwnLibrary => {
                    let keys = self.view.dialog.is_none();
                    let (own, kept) = (self.wanted.own.as_deref(), &self.config.mine);
                    let shown = Shown { own, kept, keys };
                    actions.extend(own_library::page(ui, &shown, &mut self.view.own_library));
                }
                Page::Parts => {
                    actions.extend(page::page(ui, a, sheet, &self.catalogue, &mut self.view));
                }
                Page::FitUp => {
                    let (revision, measure) = (self.document.revision(), self.view.measure);
                    let state = &mut self.view.fitup;
                    fitup::page(ui, a, sheet, &self.catalogue, revision, measure, state);
                }
                Page::How => {
                    let keys = self.view.dialog.is_none();
                    actions.extend(how::page(ui, &mut self.view.how, keys));
                }
                Page::Start => {
                    let page = start::Page {
                        example: &self.example,
                        further: &self.further,
                        figures: self.figures.as_ref(),
                        open: &sheet.name,
                        recent: &self.config.recent,
                    };
                    actions.extend(start::start(ui, &page));
                }
            }
        });
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

    /// Laid over the page, so that nothing under the pointer moves when it comes or goes; `below` is the height of the
    /// strip under it.
    fn message_bar(&self, ui: &Ui, below: f32) -> Vec<Action> {
        let mut actions = Vec::new();
        let unread = self.view.unread.first().map(|text| (text.as_str(), true, Action::Read));
        let message = self.view.message.as_ref().map(|m| (m.text.as_str(), m.trouble, Action::Hush));
        if unread.is_none() && message.is_none() {
            return actions;
        }
        let ctx = ui.ctx();
        egui::Area::new(egui::Id::unique("message"))
            .order(egui::Order::Middle)
            .anchor(egui::Align2::CENTER_BOTTOM, egui::vec2(0.0, -below - 8.0))
            .show(ctx, |ui| {
                for (text, trouble, answer) in unread.into_iter().chain(message) {
                    let verb = if matches!(answer, Action::Read) { "I have read this" } else { "Dismiss" };
                    if told(ui, text, trouble, verb) {
                        actions.push(answer);
                    }
                }
            });
        actions
    }
}

/// A message with its button; whether that was clicked.
fn told(ui: &mut Ui, text: &str, trouble: bool, verb: &str) -> bool {
    let t = theme::tokens(ui);
    let (fill, edge) = if trouble { (t.warm_ground, t.warm) } else { (t.cool_ground, t.cool) };
    let frame = Frame::new()
        .fill(fill)
        .stroke(Stroke::new(1.0, edge))
        .corner_radius(4)
        .inner_margin(Margin::symmetric(14, 6));
    let width = (ui.ctx().content_rect().width() - 80.0).min(860.0);
    let text_width = width - 28.0 - 140.0 - if trouble { 28.0 } else { 0.0 };
    let tone = if trouble { t.warm } else { t.ink };
    let drawn = frame.show(ui, |ui| {
        let row = ui.horizontal(|ui| {
            if trouble {
                let (rect, _) = ui.allocate_exact_size(egui::Vec2::splat(20.0), egui::Sense::hover());
                icons::caution(ui.painter(), rect.center(), t.warm);
            }
            ui.scope(|ui| {
                ui.set_max_width(text_width);
                ui.add(Label::new(RichText::new(text).color(tone)).wrap());
            });
            ui.button(verb).clicked()
        });
        row.inner
    });
    drawn.inner
}

impl eframe::App for App {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        let ctx = ui.ctx().clone();
        self.receive();
        self.read_again();
        let dropped = dropping::paths(&ctx);
        if !dropped.is_empty() {
            self.dropped(dropped);
        }
        // another program may have moved photos meanwhile
        if ctx.input(|i| i.events.iter().any(|e| matches!(e, egui::Event::WindowFocused(true)))) {
            self.view.details.of = None;
            self.view.small.forget();
        }
        self.figures();
        self.refresh();
        self.take_back();
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
        self.tell_the_ear(&ctx);
        // a number pressed while the offers are worked out comes before what is typed after it, and what is typed
        // after a file is meant for the sheet in it
        let wanted = (self.view.offers.wanted.is_some() || self.work.opening) && self.work.busy();
        ctx.with_plugin(|ahead: &mut Ahead| ahead.hold(wanted));
        ctx.with_plugin(|hushing: &mut Hushing| hushing.note(self.view.dialog.is_some()));
        self.note_pause(&ctx);
        if self.ending.asked() {
            ctx.send_viewport_cmd(egui::ViewportCommand::Close);
        }
        if self.ending.asked() || ctx.input(|i| i.viewport().close_requested()) {
            self.take_typed();
        }
        self.keep_drafts();
        self.keep_typed();
        for note in self.document.notes() {
            self.must_read(note);
        }
        self.age_message(&ctx);
        self.name_window(&ctx);
        self.fit_window(&ctx);
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        self.work.finish();
        // what has been saved leaves no journal behind
        self.receive();
        // what was typed while the parts being typed were written
        self.keep_drafts();
        self.work.finish();
    }
}
