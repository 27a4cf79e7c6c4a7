//! Beside the walk: the line the keyboard is on, with how it is measured, its limits, what can be seen, its readings over
//! time and its cautions.

use egui::{Button, ComboBox, Label, RichText, TextEdit, Ui, Vec2};
use egui_plot::{Line as Curve, Plot, PlotPoints, Points};
use knockon_core::Edit;
use knockon_core::sheet::{Choice, PutOff, Seen, Verdict};
use knockon_core::survey::{Line, Outcome};

use super::Walk;
use super::state::{Reads, WalkState, name};
use crate::app::view::{Action, Spot};
use crate::jobs::row::told;
use crate::look::fold;
use crate::look::text::named;
use crate::look::theme::{self, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::wording;

/// Draws it.
pub fn line(ui: &mut Ui, t: &Tokens, walk: &Walk<'_>, state: &mut WalkState, actions: &mut Vec<Action>) {
    let Some(line) = state.here(walk.found) else { return };
    ui.add(Label::new(RichText::new(wording::sentence(&line.name)).font(strong(BODY + 2.0))).wrap());
    if ui.add(Button::new(&line.place).min_size(Vec2::new(0.0, TARGET))).clicked() {
        actions.push(Action::Select(Some(Spot::Position(line.position.clone()))));
    }
    if let Some((_, why)) = state.wrong.as_ref().filter(|(at, _)| *at == name(line)) {
        ui.add(Label::new(RichText::new(wording::sentence(why)).color(t.warm)).wrap());
    }
    ui.add_space(4.0);
    says(ui, t, line);
    told(ui, t, "How", &line.method.say(walk.measure), t.ink);
    let limits = line.limits.say(walk.measure);
    for (lead, text) in [("With", &line.tool), ("Limits", &limits), ("By", &line.whose)] {
        if !text.is_empty() {
            told(ui, t, lead, text, t.ink);
        }
    }
    if !line.words.is_empty() {
        let words = line.words.iter().map(|(word, verdict)| format!("{word} ({})", verdict.word()));
        told(ui, t, "Or type", &words.collect::<Vec<_>>().join("\n"), t.ink);
    }
    let stage = format!("{}{}", line.stage.word(), if line.stop { ", can stop the vehicle" } else { "" });
    told(ui, t, "Stage", &stage, t.ink);
    if !line.tells.is_empty() && line.outcome.counts_as().is_some_and(|verdict| verdict > Verdict::Good) {
        told(ui, t, "Tells", &line.tells, t.ink);
    }
    readings(ui, t, line);
    let cautions: Vec<&str> = walk.found.cautions_of(&line.cautions).collect();
    if !cautions.is_empty() {
        let title = wording::count(cautions.len(), "caution", "cautions");
        fold::behind(ui, t, &title, ("cautions of a line", &line.inspection), |ui| {
            for caution in cautions {
                ui.add(Label::new(RichText::new(caution).color(t.warm)).wrap());
            }
        });
    }
    ui.add_space(8.0);
    if let Some(route) = line.proposes {
        let text = format!("{} it (F2)", wording::sentence(route.word()));
        if ui.add(Button::new(text).min_size(Vec2::new(0.0, TARGET))).clicked() {
            let choice = Some(Choice { route, part: None });
            let (plan, position) = (walk.plan.to_owned(), line.position.clone());
            actions.push(Action::Edit(vec![Edit::Choose { plan, position, choice }]));
        }
    }
    put_off(ui, t, line, state, actions);
    seen(ui, t, walk, line, state, actions);
}

fn says(ui: &mut Ui, t: &Tokens, line: &Line) {
    let is_bad = !matches!(Reads::of(line), Reads::Verdict(Verdict::Good | Verdict::Watch) | Reads::Open);
    let tone = if is_bad { t.warm } else { t.ink };
    let value = if line.value.is_empty() { String::new() } else { format!("{}: ", line.value) };
    let again = match line.outcome {
        Outcome::Verdict(Verdict::Watch) if !line.again.is_empty() => {
            format!(", again after {}", line.again.join(", "))
        }
        _ => String::new(),
    };
    let text = format!("{value}{}{again}", line.says());
    ui.add(Label::new(RichText::new(wording::sentence(&text)).color(tone)).wrap());
}

/// Readings of the same thing over time.
fn readings(ui: &mut Ui, t: &Tokens, line: &Line) {
    let dated: Vec<String> = line
        .latest
        .iter()
        .filter_map(|r| Some(format!("{} on {}{}", r.value, r.on.as_ref()?, by(&r.by))))
        .collect();
    if !dated.is_empty() {
        told(ui, t, "Read", &dated.join("\n"), t.ink);
    }
    if line.history.len() < 2 {
        return;
    }
    let mut sides: Vec<&str> = line.history.iter().map(|point| point.which.as_str()).collect();
    sides.sort_unstable();
    sides.dedup();
    let Some(first) = line.history.first().map(|point| point.on) else { return };
    let days = |on: knockon_core::date::Date| f64::from((on - first).get_days());
    let text = format!(
        "{} readings, {} to {}",
        line.history.len(),
        first,
        line.history.last().map_or(first, |p| p.on)
    );
    ui.label(RichText::new(&text).font(theme::small()).color(t.soft));
    let plot = Plot::new(("readings", &line.position, &line.inspection))
        .height(72.0)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .show_axes([false, false])
        .show_grid(false)
        .show_background(false);
    let response = plot.show(ui, |plot| {
        for side in sides {
            let of = line.history.iter().filter(|point| point.which == side);
            let points: Vec<[f64; 2]> = of.map(|point| [days(point.on), point.si]).collect();
            plot.line(Curve::new(side, PlotPoints::from(points.clone())).color(t.cool));
            plot.points(Points::new(side, PlotPoints::from(points)).radius(3.0).color(t.cool));
        }
    });
    named(response.response, &text);
}

fn by(who: &str) -> String {
    if who.is_empty() { String::new() } else { format!(", {who}") }
}

/// What can wait is put off for a reason; what stops the vehicle is not.
fn put_off(ui: &mut Ui, t: &Tokens, line: &Line, state: &mut WalkState, actions: &mut Vec<Action>) {
    let edit = |put_off| {
        Action::Edit(vec![Edit::PutOff {
            position: line.position.clone(),
            of: line.inspection.clone(),
            put_off,
        }])
    };
    if let Some(off) = &line.put_off {
        told(ui, t, "Put off", &off.reason, t.warm);
        if ui.add(Button::new("Take it up again").min_size(Vec2::new(0.0, TARGET))).clicked() {
            actions.push(edit(None));
        }
        return;
    }
    if line.outcome == Outcome::Verdict(Verdict::Stop) {
        let text = "It stops the vehicle and cannot be put off; all there is to say is that it is not driven on the road.";
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.warm)).wrap());
        return;
    }
    if line.verdict() == Some(Verdict::Good) {
        return;
    }
    fold::behind(ui, t, "Put it off", ("put off", &line.position, &line.inspection), |ui| {
        let field = TextEdit::singleline(&mut state.reason)
            .hint_text("Why it can wait")
            .desired_width(230.0)
            .min_size(Vec2::new(0.0, TARGET));
        let field = named(ui.add(field), "Why it can wait");
        let entered = field.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
        if (entered || ui.add(Button::new("Put off")).clicked()) && !state.reason.trim().is_empty() {
            let reason = std::mem::take(&mut state.reason).trim().to_owned();
            actions.push(edit(Some(PutOff { reason, ..PutOff::default() })));
        }
    });
}

/// What was seen at the place besides.
fn seen(
    ui: &mut Ui,
    t: &Tokens,
    walk: &Walk<'_>,
    line: &Line,
    state: &mut WalkState,
    actions: &mut Vec<Action>,
) {
    let place = walk.found.places.iter().find(|place| place.position == line.position);
    let all = place.map_or(&[][..], |place| &place.seen[..]);
    for seen in all {
        told(
            ui,
            t,
            seen.verdict.word(),
            &seen.what,
            if seen.verdict >= Verdict::Renew { t.warm } else { t.ink },
        );
    }
    if place.is_some_and(|place| place.disagrees) {
        let text = "What was read here is worse than what was said of the place; the worse counts.";
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.warm)).wrap());
    }
    fold::behind(ui, t, "Something else was seen", ("seen besides", &line.position), |ui| {
        let field = TextEdit::singleline(&mut state.seen.0)
            .hint_text("What was seen")
            .desired_width(230.0)
            .min_size(Vec2::new(0.0, TARGET));
        let field = named(ui.add(field), "What was seen besides");
        let entered = field.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
        ui.horizontal(|ui| {
            let now = state.seen.1;
            ComboBox::from_id_salt("how bad").selected_text(now.word()).width(90.0).show_ui(ui, |ui| {
                for verdict in Verdict::ALL {
                    ui.selectable_value(&mut state.seen.1, verdict, verdict.word());
                }
            });
            if (entered || ui.add(Button::new("Write it down")).clicked()) && !state.seen.0.trim().is_empty()
            {
                let what = std::mem::take(&mut state.seen.0).trim().to_owned();
                let one = Seen {
                    what,
                    verdict: state.seen.1,
                    on: None,
                    by: state.by.trim().to_owned(),
                    extra: Default::default(),
                };
                let seen = all.iter().cloned().chain([one]).collect();
                actions.push(Action::Edit(vec![Edit::Seen { position: line.position.clone(), seen }]));
            }
        });
    });
}
