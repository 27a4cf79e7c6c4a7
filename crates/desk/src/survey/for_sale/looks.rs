//! What is looked at before buying: by what one has in the hand, each with the words for what can be seen as buttons.

use egui::{Button, Context, Frame, Key, Label, Margin, Modifiers, RichText, Ui, Vec2};
use knockon_core::library::LookedAtWith;
use knockon_core::sheet::{ForSale, Verdict};
use knockon_core::survey::{self, Line, Quick};

use crate::access::heard;
use crate::app::view::Action;
use crate::look::text::{elided, named};
use crate::look::theme::{self, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::look::typed::Typed;
use crate::survey::Walk;
use crate::survey::for_sale::state::SaleState;
use crate::survey::row;
use crate::survey::state::{Reads, name};
use crate::wording;

/// Width of place and name.
const NAME: f32 = 300.0;

/// The digits that answer.
const DIGITS: [Key; 6] = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6];

/// The words for what can be seen, the best first; where something is measured or dated there are none: it is typed.
fn answers(line: &Line) -> Vec<&(String, Verdict)> {
    if is_typed(line) {
        return Vec::new();
    }
    let mut all: Vec<_> = line.words.iter().collect();
    all.sort_by_key(|(_, verdict)| *verdict);
    all
}

fn is_typed(line: &Line) -> bool {
    line.dimension.is_some() || line.is_date
}

/// Up and down walk the looks, a digit answers the one the keyboard is on and leads to the next.
pub fn keys(ctx: &Context, walk: &Walk<'_>, state: &mut SaleState, actions: &mut Vec<Action>) {
    // a field or a list has the keyboard
    if egui::Popup::is_any_open(ctx) || ctx.egui_wants_keyboard_input() {
        return;
    }
    let all: Vec<&Line> = walk.found.quick().into_iter().map(|(line, _)| line).collect();
    let here = state.at.as_ref().and_then(|at| all.iter().position(|line| name(line) == *at));
    let took = |key| ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    let mut to = None;
    if took(Key::ArrowDown) {
        to = Some(here.map_or(0, |at| at + 1));
    } else if took(Key::ArrowUp) {
        to = Some(here.map_or(0, |at| at.saturating_sub(1)));
    }
    if let Some(line) = here.and_then(|at| all.get(at)) {
        for (key, (word, _)) in DIGITS.into_iter().zip(answers(line)) {
            if took(key) {
                actions.push(answer(line, word));
                to = here.map(|at| at + 1);
            }
        }
    }
    if let Some(line) = to.and_then(|at| all.get(at)) {
        state.at = Some(name(line));
        state.to_view = true;
    }
}

fn answer(line: &Line, value: &str) -> Action {
    Action::Inspected {
        position: line.position.clone(),
        inspection: line.inspection.clone(),
        which: String::new(),
        value: value.to_owned(),
        is_date: line.is_date,
    }
}

/// What is measured or dated is typed.
fn field(
    ui: &mut Ui,
    t: &Tokens,
    walk: &Walk<'_>,
    line: &Line,
    state: &mut SaleState,
    actions: &mut Vec<Action>,
) {
    let what = format!("{}, {}", line.place, line.name);
    let hint = if line.is_date { "1981, or 2009-06" } else { "what you read" };
    let typed = Typed { name: &what, now: line.value.clone(), hint, wide: 150.0 };
    let read = |text: &str| survey::typed(walk.catalogue, &line.inspection, text);
    if let Some(value) = typed.show(ui, t, &mut state.fields, read) {
        actions.push(answer(line, &value));
    }
    ui.colored_label(t.soft, if line.is_date { "made" } else { &line.unit });
}

/// Draws the looks.
pub fn show(
    ui: &mut Ui,
    t: &Tokens,
    walk: &Walk<'_>,
    sale: &ForSale,
    state: &mut SaleState,
    actions: &mut Vec<Action>,
) {
    let all = walk.found.quick();
    if all.is_empty() {
        let text = if sale.bought.is_some() {
            "The walk before buying is over; the walk round the vehicle goes on with it."
        } else {
            "The library has nothing that is looked at before buying on this vehicle."
        };
        ui.colored_label(t.soft, text);
        return;
    }
    let hint = "Up and down lead through the looks, a number answers. Only what can be seen without a spanner; ask before anything is opened.";
    ui.add(Label::new(RichText::new(hint).font(theme::small()).color(t.soft)).wrap());
    let mut with: Option<LookedAtWith> = None;
    for (line, quick) in &all {
        if with != Some(quick.with) {
            with = Some(quick.with);
            heading(ui, t, &all, quick.with);
        }
        look(ui, t, walk, line, state, actions);
    }
    state.to_view = false;
}

/// What one has in the hand, how many looks are left with it, and how long they take.
fn heading(ui: &mut Ui, t: &Tokens, all: &[(&Line, Quick)], with: LookedAtWith) {
    let left = all.iter().filter(|(line, quick)| quick.with == with && line.is_open());
    let (count, seconds) = left.fold((0, 0.0), |(n, s), (_, quick)| (n + 1, s + quick.seconds));
    ui.add_space(10.0);
    ui.horizontal(|ui| {
        heard::heading(ui, 3, RichText::new(wording::sentence(with.words())).font(strong(BODY + 1.0)));
        let left = match count {
            0 => "all looked at".to_owned(),
            n => format!("{n} to look at · {} min", (seconds / 60.0_f64).ceil()),
        };
        ui.colored_label(t.soft, left);
    });
}

fn look(
    ui: &mut Ui,
    t: &Tokens,
    walk: &Walk<'_>,
    line: &Line,
    state: &mut SaleState,
    actions: &mut Vec<Action>,
) {
    let at = name(line);
    let is_here = state.at.as_ref() == Some(&at);
    let reads = Reads::of(line);
    let is_bad = matches!(reads, Reads::Verdict(Verdict::Renew | Verdict::Stop));
    let tone = if is_bad { t.warm } else { t.ink };
    let fill = if is_here { t.cool_ground } else { egui::Color32::TRANSPARENT };
    let drawn =
        Frame::new().fill(fill).corner_radius(3).inner_margin(Margin::symmetric(2, 1)).show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.horizontal_wrapped(|ui| {
                row::shape(ui, reads, tone);
                let text = format!("{}: {}", line.place, line.name);
                let (rect, response) = ui.allocate_exact_size(Vec2::new(NAME, TARGET), egui::Sense::click());
                let galley = elided(ui, &text, theme::body(), tone, NAME, 1);
                ui.painter().galley(
                    egui::pos2(rect.left(), rect.center().y - galley.size().y / 2.0),
                    galley,
                    tone,
                );
                let how = format!("{}: {}\n{}", line.place, line.name, line.method.in_both());
                let how = if line.tells.is_empty() {
                    how
                } else {
                    format!("{how}\n{}", wording::sentence(&line.tells))
                };
                if response.on_hover_text(how).clicked() {
                    state.at = Some(at.clone());
                }
                if is_typed(line) {
                    field(ui, t, walk, line, state, actions);
                }
                for (n, (word, verdict)) in answers(line).into_iter().enumerate() {
                    let is_it = line.value == *word;
                    let text = if is_here { format!("{} {word}", n + 1) } else { word.clone() };
                    let bad = *verdict >= Verdict::Renew;
                    let text = RichText::new(text).color(if is_it && bad { t.warm } else { t.ink });
                    let button = Button::selectable(is_it, text)
                        .frame_when_inactive(true)
                        .min_size(Vec2::new(0.0, TARGET));
                    let response = ui.add(button);
                    let told = format!("{}, {}: {word}, {}", line.place, line.name, verdict.word());
                    if named(response, &told).clicked() {
                        state.at = Some(at.clone());
                        actions.push(answer(line, word));
                    }
                }
            });
        });
    if is_here && state.to_view {
        drawn.response.scroll_to_me(None);
    }
}
