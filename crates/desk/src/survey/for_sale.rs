//! A vehicle that is for sale: what is asked, what is looked at in twenty minutes with nothing taken apart, and what it
//! would come to; beside it other sheets of vehicles that are for sale.

mod comes;
mod field;
mod looks;
pub mod state;

use std::path::Path;
use std::sync::Arc;

use egui::{Button, ComboBox, Label, RichText, ScrollArea, Ui, Vec2};
use knockon_core::candidate::candidate;
use knockon_core::library::Stage;
use knockon_core::progress::Progress;
use knockon_core::sheet::{ForSale, Papers};
use knockon_core::{Catalogue, Edit, Sheet};
use knockon_store::sheets;

use crate::app::App;
use crate::app::view::{Action, Page};
use crate::app::work::{Done, What};
use crate::library::state::LibraryState;
use crate::look::column;
use crate::look::text::named;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};
use crate::look::typed::Typed;
use crate::survey::Walk;
use crate::survey::for_sale::field::Field;
use crate::survey::for_sale::state::{Asked, Other, SaleState, Weighed};
use crate::survey::state::Shown;

/// A page with less width has what it comes to below the looks.
const TWO: f32 = 880.0;
/// Width of what it comes to.
const BESIDE: f32 = 420.0;
/// Between the two.
const GAP: f32 = 12.0;

impl App {
    /// Works out what the vehicle comes to where the page is open and something has changed: off the frame, since each place
    /// nobody has looked at is assessed by itself.
    pub(crate) fn weigh_what_is_for_sale(&mut self) {
        if self.view.page != Page::Survey || self.view.walk.shown != Shown::BeforeBuying {
            return;
        }
        let sheet = Arc::clone(self.document.sheet());
        let state = &mut self.view.walk.sale;
        let of: Asked = (self.document.revision(), state.upto, state.paths.clone());
        if sheet.for_sale.is_none() || state.of.as_ref() == Some(&of) {
            return;
        }
        state.of = Some(of.clone());
        state.stopped = false;
        let known = state.told.as_ref().map(|(_, told)| Arc::clone(told));
        let catalogue = Arc::clone(&self.catalogue);
        self.work.overtake(&What::ForSale);
        self.work.start(What::ForSale, move |progress| {
            let weighed = weigh(&sheet, &catalogue, &of, known.as_deref(), progress);
            Done::Weighed(of, weighed.map(Box::new))
        });
    }

    /// What was asked for is worked out; what was so of an older sheet is not shown.
    pub(crate) fn weighed_is_here(&mut self, of: Asked, weighed: Option<Box<Weighed>>) {
        let state = &mut self.view.walk.sale;
        if let Some(weighed) = weighed.filter(|_| state.of.as_ref() == Some(&of)) {
            state.told = Some((of, Arc::new(*weighed)));
        }
    }

    /// Takes in what has been typed and not been left; what cannot be read stays in its field.
    pub(crate) fn take_for_sale(&mut self) {
        for field in Field::ALL {
            let Some(text) = self.view.walk.sale.fields.typed.get(field.name()) else { continue };
            let Some(sale) = self.document.sheet().for_sale.clone() else { continue };
            let Ok(now) = field.put(&sale, text, &self.assessment.totals.currency) else { continue };
            self.view.walk.sale.fields.typed.remove(field.name());
            if now != sale {
                self.edit(&[Edit::ForSale { for_sale: Some(Box::new(now)) }]);
            }
        }
    }
}

/// Weighs the sheet and those beside it; others that were weighed to the
/// same stage by the same library are not read again. `None`: given up.
fn weigh(
    sheet: &Sheet,
    catalogue: &Arc<Catalogue>,
    of: &Asked,
    known: Option<&Weighed>,
    progress: &Progress,
) -> Option<Weighed> {
    let (_, upto, paths) = of;
    let by = (*upto, LibraryState::address(catalogue));
    let own = candidate(sheet, catalogue, *upto).unwrap_or_default();
    let mut others = Vec::new();
    for path in paths {
        if progress.is_given_up() {
            return None;
        }
        let before = known.iter().flat_map(|known| &known.others);
        let mut same = before.filter(|other| other.path == *path && other.by == by && other.is.is_ok());
        let other = same.next_back().cloned().unwrap_or_else(|| Other {
            path: path.clone(),
            by,
            is: read(path, catalogue, *upto),
        });
        others.push(other);
    }
    Some(Weighed { own, others })
}

/// Another sheet, weighed as it lies on the disk.
fn read(
    path: &Path,
    catalogue: &Catalogue,
    upto: Stage,
) -> Result<(String, knockon_core::candidate::Candidate), String> {
    let sheet = sheets::open(path).map_err(|why| why.to_string())?;
    let found = candidate(&sheet, catalogue, upto);
    let found = found.ok_or_else(|| {
        format!(
            "{}: the library has no vehicle \"{}\"; say with which library it was made",
            path.display(),
            sheet.vehicle
        )
    })?;
    Ok((sheet.name, found))
}

/// Draws the page below its head.
pub fn page(ui: &mut Ui, t: &Tokens, walk: &Walk<'_>, state: &mut SaleState, actions: &mut Vec<Action>) {
    let Some(sale) = walk.sale else {
        invitation(ui, t, walk, actions);
        return;
    };
    fields(ui, t, walk, sale, state, actions);
    looks::keys(ui.ctx(), walk, state, actions);
    ui.add_space(6.0);
    if ui.available_width() < TWO {
        ScrollArea::vertical().id_salt("for sale").auto_shrink(false).show(ui, |ui| {
            comes::show(ui, t, walk, state, actions);
            ui.add_space(GAP);
            looks::show(ui, t, walk, sale, state, actions);
        });
        return;
    }
    let (tall, wide) = (ui.available_height(), ui.available_width());
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        column::show(ui, "looks before buying", Vec2::new(wide - BESIDE - GAP - 6.0, tall), |ui| {
            looks::show(ui, t, walk, sale, state, actions);
        });
        column::show(ui, "what it comes to", Vec2::new(BESIDE, tall), |ui| {
            comes::show(ui, t, walk, state, actions);
        });
    });
}

fn invitation(ui: &mut Ui, t: &Tokens, walk: &Walk<'_>, actions: &mut Vec<Action>) {
    ui.add_space(12.0);
    let text = "For a vehicle that is not bought yet: what is asked for it, a walk of twenty minutes with a magnet, a torch, a jack, \
                a cold start and a drive, and what it would come to, least and most, beside others that are for sale. What is \
                found stays in the sheet when it is bought.";
    ui.add(Label::new(RichText::new(text).color(t.soft)).wrap());
    ui.add_space(8.0);
    if ui.add(Button::new("Look at it as for sale").min_size(Vec2::new(0.0, TARGET))).clicked() {
        let on = walk.catalogue.as_of.map(|day| day.to_string());
        let sale = ForSale { on, ..ForSale::default() };
        actions.push(Action::Edit(vec![Edit::ForSale { for_sale: Some(Box::new(sale)) }]));
    }
}

fn fields(
    ui: &mut Ui,
    t: &Tokens,
    walk: &Walk<'_>,
    sale: &ForSale,
    state: &mut SaleState,
    actions: &mut Vec<Action>,
) {
    let mut changed: Option<ForSale> = None;
    ui.horizontal_wrapped(|ui| {
        for (field, label, hint, wide) in [
            (Field::Asked, "Asked", "3200", 116.0),
            (Field::Place, "where", "Hill farm, the son of the first owner", 250.0),
            (Field::On, "looked at", "2026-03-01", 96.0),
        ] {
            ui.label(label);
            show(ui, t, walk, (sale, field, hint, wide), state, &mut changed);
        }
        ui.label("papers");
        let mut papers = sale.papers;
        let tone = if matches!(papers, Papers::Agree | Papers::NotSeen) { t.ink } else { t.warm };
        let combo = ComboBox::from_id_salt("papers")
            .selected_text(RichText::new(papers.words()).color(tone))
            .show_ui(ui, |ui| {
                for one in Papers::ALL {
                    ui.selectable_value(&mut papers, one, one.words());
                }
            });
        named(combo.response, &format!("Papers: {}", sale.papers.words()));
        if papers != sale.papers {
            changed = Some(ForSale { papers, ..changed.clone().unwrap_or_else(|| sale.clone()) });
        }
        ui.label("bought for");
        show(ui, t, walk, (sale, Field::Bought, "not bought", 116.0), state, &mut changed);
    });
    if sale.bought.is_some() {
        let text = "It is bought: what was found stays in the survey, and what was looked at only before buying is not asked any more.";
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    }
    if let Some(now) = changed.filter(|now| now != sale) {
        actions.push(Action::Edit(vec![Edit::ForSale { for_sale: Some(Box::new(now)) }]));
    }
}

fn show(
    ui: &mut Ui,
    t: &Tokens,
    walk: &Walk<'_>,
    (sale, field, hint, wide): (&ForSale, Field, &str, f32),
    state: &mut SaleState,
    changed: &mut Option<ForSale>,
) {
    // a click elsewhere takes in a field and does something else at once
    let now = changed.clone().unwrap_or_else(|| sale.clone());
    let typed = Typed { name: field.name(), now: field.now(sale), hint, wide };
    if let Some(sale) = typed.show(ui, t, &mut state.fields, |text| field.put(&now, text, walk.currency)) {
        *changed = Some(sale);
    }
}
