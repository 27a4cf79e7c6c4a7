//! What a vehicle that is for sale comes to, what nobody has looked at, and others that are held against it.

use egui::{Button, Label, RichText, Ui, Vec2};
use knockon_core::Money;
use knockon_core::candidate::{Candidate, Comes, PutRight};
use knockon_core::library::Stage;
use knockon_core::sheet::Papers;
use knockon_report::candidate as told;

use crate::access::heard;
use crate::app::view::Action;
use crate::app::work::Purpose;
use crate::look::theme::{self, strong};
use crate::look::tokens::{BODY, HEAD, TARGET, Tokens};
use crate::survey::Walk;
use crate::survey::for_sale::state::{Other, SaleState};
use crate::survey::state::name;
use crate::wording;

/// So many places of a list are shown.
const SHOWN: usize = 12;

/// Draws it.
pub fn show(ui: &mut Ui, t: &Tokens, walk: &Walk<'_>, state: &mut SaleState, actions: &mut Vec<Action>) {
    stages(ui, t, walk, state);
    if state.stopped {
        ui.horizontal(|ui| {
            ui.colored_label(t.soft, "It was stopped.");
            if ui.add(Button::new("Work it out").min_size(Vec2::new(0.0, TARGET))).clicked() {
                actions.push(Action::WorkOut);
            }
        });
    }
    let Some((_, weighed)) = state.told.clone() else {
        ui.colored_label(t.soft, "It is being worked out.");
        return;
    };
    own(ui, t, &weighed.own);
    against(ui, t, &weighed.own, &weighed.others, state, actions);
    lists(ui, t, walk, &weighed.own, state);
}

fn stages(ui: &mut Ui, t: &Tokens, walk: &Walk<'_>, state: &mut SaleState) {
    ui.horizontal(|ui| {
        ui.colored_label(t.soft, "Brought to");
        for stage in Stage::ALL {
            let button = Button::selectable(state.upto == stage, stage.word())
                .frame_when_inactive(true)
                .min_size(Vec2::new(0.0, TARGET));
            if ui.add(button).clicked() {
                state.upto = stage;
            }
        }
    });
    if let Some(stage) = walk.catalogue.stages.get(&state.upto) {
        let text = format!("{} Done when: {}.", stage.brings, stage.stop_line.join("; "));
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    }
}

fn line(ui: &mut Ui, text: &str, tone: egui::Color32) {
    ui.add(Label::new(RichText::new(text).color(tone)).wrap());
}

/// "$5,115.90 to $10,015.00", or one where both are the same.
fn range(least: String, most: String) -> String {
    if least == most { least } else { format!("{least} to {most}") }
}

/// What putting right comes to.
fn to_put_right(is: &Candidate) -> String {
    let told = |comes: &Comes| wording::amounts(&comes.money, &is.currency);
    range(told(&is.least), told(&is.most))
}

/// What it comes to with what is asked.
fn in_all(is: &Candidate) -> Option<String> {
    let (least, most) = is.in_all()?;
    let told = |sum| wording::amount(sum, &is.currency);
    Some(range(told(least), told(most)))
}

/// A sum of money.
fn sum(money: &Money) -> String {
    wording::amount(money.amount, &money.currency)
}

fn own(ui: &mut Ui, t: &Tokens, is: &Candidate) {
    ui.add_space(6.0);
    let (head, below) = match in_all(is) {
        Some(in_all) => (in_all, format!("{}, and {} to put right", told::price(is, sum), to_put_right(is))),
        None => (format!("{} to put right", to_put_right(is)), told::price(is, sum)),
    };
    heard::heading(ui, 3, RichText::new(head).font(strong(HEAD)));
    line(ui, &wording::sentence(&format!("{below}; {}", told::time(is))), t.ink);
    if is.least.unpriced > 0 {
        let parts = wording::count(is.least.unpriced, "part has", "parts have");
        line(ui, &format!("{parts} no price and is not counted."), t.soft);
    }
    line(ui, &wording::sentence(&told::looked(is)), t.soft);
    if is.sale.papers != Papers::Agree {
        line(ui, &format!("Papers: {}.", told::papers(is.sale.papers)), t.warm);
    }
}

/// The other sheets, and which is cheapest by what is known.
fn against(
    ui: &mut Ui,
    t: &Tokens,
    own: &Candidate,
    others: &[Other],
    state: &mut SaleState,
    actions: &mut Vec<Action>,
) {
    ui.add_space(8.0);
    for other in others {
        if !state.paths.contains(&other.path) {
            continue;
        }
        theme::sheet(t).inner_margin(8).show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.horizontal(|ui| {
                let title = match &other.is {
                    Ok((title, _)) => title.clone(),
                    Err(_) => other.path.file_name().unwrap_or_default().to_string_lossy().into_owned(),
                };
                ui.label(RichText::new(&title).font(strong(BODY)));
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    let gone = ui.add(Button::new("×").min_size(Vec2::splat(TARGET)));
                    if crate::look::text::named(gone, &format!("Put away: {title}")).clicked() {
                        state.paths.retain(|path| *path != other.path);
                    }
                });
            });
            match &other.is {
                Err(why) => line(ui, why, t.warm),
                Ok((_, is)) => card(ui, t, own, is),
            }
        });
        ui.add_space(4.0);
    }
    if ui.add(Button::new("Hold another sheet against it…").min_size(Vec2::new(0.0, TARGET))).clicked() {
        actions.push(Action::AskPath(Purpose::Candidate));
    }
}

fn card(ui: &mut Ui, t: &Tokens, own: &Candidate, is: &Candidate) {
    let comes_to = in_all(is).unwrap_or_else(|| format!("{} to put right", to_put_right(is)));
    line(ui, &format!("{comes_to}; {}", told::time(is)), t.ink);
    let stops = is.put_right.iter().filter(|r| r.stops).count();
    let missing = is.put_right.iter().filter(|r| r.missing).count();
    let text = format!(
        "{}; {} may not be driven so, {missing} missing; {}; papers {}",
        told::price(is, sum),
        wording::count(stops, "place", "places"),
        told::looked(is),
        is.sale.papers.words(),
    );
    line(ui, &text, t.soft);
    if let (Some((least, _)), Some((other, _))) = (own.in_all(), is.in_all())
        && own.currency == is.currency
    {
        let more = other - least;
        let words = if more.is_sign_negative() { "cheaper" } else { "dearer" };
        let by = wording::amount(more.abs(), &is.currency);
        line(ui, &format!("{by} {words} than this one, by what is known of both."), t.ink);
    }
}

fn lists(ui: &mut Ui, t: &Tokens, walk: &Walk<'_>, is: &Candidate, state: &mut SaleState) {
    let right = |one: &&PutRight| (one.position.clone(), format!("{}: {}", one.place, told::right(one)));
    let stops: Vec<_> = is.put_right.iter().filter(|r| r.stops).map(|r| right(&r)).collect();
    let missing: Vec<_> =
        is.put_right.iter().filter(|r| r.missing).map(|r| (r.position.clone(), r.place.clone())).collect();
    let rest: Vec<_> = is.put_right.iter().filter(|r| !r.stops && !r.missing).map(|r| right(&r)).collect();
    let open: Vec<_> = is
        .open
        .iter()
        .map(|q| {
            (
                q.position.clone(),
                format!(
                    "{}: {} if it is bad",
                    q.place,
                    told::adds(&q.adds, &wording::difference(&q.adds.money, &is.currency))
                ),
            )
        })
        .collect();
    for (title, rows, tone) in [
        ("May not be driven so", stops, t.warm),
        ("Missing", missing, t.ink),
        ("Not looked at, the dearest first", open, t.ink),
        ("To put right besides", rest, t.ink),
    ] {
        if rows.is_empty() {
            continue;
        }
        ui.add_space(8.0);
        heard::heading(ui, 3, RichText::new(format!("{title} ({})", rows.len())).font(strong(BODY)));
        for (position, text) in rows.iter().take(SHOWN) {
            let row = Label::new(RichText::new(text).color(tone)).wrap().sense(egui::Sense::click());
            if ui.add(row).clicked() {
                let look = walk.found.quick().into_iter().find(|(line, _)| line.position == *position);
                if let Some((line, _)) = look {
                    state.at = Some(name(line));
                    state.to_view = true;
                }
            }
        }
        if rows.len() > SHOWN {
            ui.colored_label(t.soft, format!("and {} more", rows.len() - SHOWN));
        }
    }
    let text = "Put right by what its inspection proposes, in the prices of the library. What has no look before buying, and what is behind \
                something, nobody knows before it is yours.";
    ui.add_space(8.0);
    ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
}
