//! What it is: numbers and dates on the vehicle and in its papers, each with where it stands and how far it is trusted, and
//! what the counter shows against the wear; beside it what follows.

use egui::accesskit::Role;
use egui::{Button, Frame, Label, Margin, Panel, RichText, ScrollArea, Ui, Vec2, WidgetInfo};
use knockon_core::Edit;
use knockon_core::date::Dated;
use knockon_core::identity::{Told, thing_of, written_distance};
use knockon_core::sheet::{Identity, Mark, Trust, Wear};
use knockon_core::survey::Survey;

use crate::access::heard;
use crate::app::view::Action;
use crate::look::theme::{self, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::look::typed::{Fields, Typed};
use crate::wording;

/// What follows has this width beside the fields.
const BESIDE: f32 = 336.0;
/// A page with less width has it below.
const NARROW: f32 = 900.0;

/// Draws it.
pub fn page(ui: &mut Ui, t: &Tokens, found: &Survey, fields: &mut Fields, actions: &mut Vec<Action>) {
    let (identity, told) = found.identity.clone().unwrap_or_default();
    let is_narrow = ui.available_width() < NARROW;
    if !is_narrow {
        let frame = Frame::new().fill(t.sheet).inner_margin(Margin::same(12));
        Panel::right("beside the identity").frame(frame).resizable(false).exact_size(BESIDE).show(ui, |ui| {
            ScrollArea::vertical().id_salt("follows").auto_shrink(false).show(ui, |ui| {
                follows(ui, t, &identity, &told);
            });
        });
    }
    ScrollArea::vertical().id_salt("identity").auto_shrink(false).show(ui, |ui| {
        let mut now = identity.clone();
        vehicle(ui, t, &identity, &told, fields, &mut now);
        heading(ui, "Numbers and dates", "Each where it stands, as it stands there. Rub it, do not grind it; a photo says more than a note.");
        for at in 0..=identity.marks.len() {
            mark(ui, t, at, &identity, &told, fields, &mut now);
        }
        heading(ui, "Wear for the whole distance", "What is worn beyond what the counter tells, and what that lets one believe.");
        for at in 0..=identity.wear.len() {
            wear(ui, t, at, &identity, &told, fields, &mut now);
        }
        if is_narrow {
            ui.add_space(10.0);
            follows(ui, t, &identity, &told);
        }
        ui.add_space(24.0);
        if now != identity {
            // a row that says nothing any more is gone
            now.marks.retain(|mark| !mark.what.is_empty());
            now.wear.retain(|wear| !wear.what.is_empty());
            let identity = (now != Identity::default()).then(|| Box::new(now));
            actions.push(Action::Edit(vec![Edit::Identify { identity }]));
        }
    });
}

fn heading(ui: &mut Ui, title: &str, about: &str) {
    ui.add_space(10.0);
    heard::heading(ui, 3, RichText::new(title).font(strong(BODY + 1.0)));
    ui.add(Label::new(RichText::new(about).font(theme::small())).wrap());
    ui.add_space(2.0);
}

/// A field under its name; what was typed, once it is left.
fn field<T>(
    ui: &mut Ui,
    t: &Tokens,
    fields: &mut Fields,
    (name, hint, wide): (&str, &str, f32),
    now: &str,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<T> {
    Typed { name, now: now.to_owned(), hint, wide }.show(ui, t, fields, read)
}

/// Words as they are; nothing is nothing.
fn words(text: &str) -> Result<String, String> {
    Ok(text.to_owned())
}

fn day(text: &str) -> Result<Option<String>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    Dated::parse(text).map(|dated| Some(dated.text)).map_err(|why| format!("{why}."))
}

/// When it was built and what the counter shows.
fn vehicle(ui: &mut Ui, t: &Tokens, was: &Identity, told: &Told, fields: &mut Fields, now: &mut Identity) {
    let unit = if told.unit.is_empty() { "miles" } else { told.unit };
    ui.horizontal_wrapped(|ui| {
        ui.label("Built");
        let built = was.built.as_deref().unwrap_or_default();
        if let Some(built) = field(ui, t, fields, ("Built", "1958-06", 90.0), built, day) {
            now.built = built;
        }
        ui.add_space(10.0);
        ui.label("The counter shows");
        let shown = was.counter.as_deref().unwrap_or_default();
        let read = |text: &str| written_distance(text, unit);
        if let Some(shown) = field(ui, t, fields, ("The counter shows", "41000 miles", 120.0), shown, read) {
            now.counter = shown;
        }
        ui.add_space(10.0);
        ui.label("in");
        let digits = was.digits.map_or_else(String::new, |n| n.to_string());
        let read = |text: &str| match text {
            "" => Ok(None),
            _ => match text.parse::<u32>() {
                Ok(n) if (3..=7).contains(&n) => Ok(Some(n)),
                _ => Err(format!("Expected the whole figures of the counter, 3 to 7, found \"{text}\".")),
            },
        };
        if let Some(digits) = field(ui, t, fields, ("Whole figures of the counter", "5", 32.0), &digits, read)
        {
            now.digits = digits;
        }
        ui.label("whole figures");
    });
}

/// A number or a date; behind the last an empty one.
fn mark(
    ui: &mut Ui,
    t: &Tokens,
    at: usize,
    was: &Identity,
    told: &Told,
    fields: &mut Fields,
    now: &mut Identity,
) {
    let empty = Mark::default();
    let mark = was.marks.get(at).unwrap_or(&empty);
    let is_new = at == was.marks.len();
    let n = at + 1;
    ui.horizontal_wrapped(|ui| {
        let name = |what: &str| format!("{what}, number {n}");
        let what = field(ui, t, fields, (&name("Where it stands"), "frame stamp", 150.0), &mark.what, words);
        if let Some(what) = what {
            if is_new && !what.is_empty() {
                let of = thing_of(&what).to_owned();
                now.marks.push(Mark { what, of, ..Mark::default() });
                return;
            }
            if let Some(mark) = now.marks.get_mut(at) {
                mark.what = what;
            }
        }
        if is_new {
            ui.colored_label(t.soft, "another: where it stands");
            return;
        }
        let Some(out) = now.marks.get_mut(at) else { return };
        if let Some(of) = field(ui, t, fields, (&name("What it is of"), "chassis", 84.0), &mark.of, words) {
            out.of = of;
        }
        if let Some(text) =
            field(ui, t, fields, (&name("As it stands there"), "its number", 150.0), &mark.text, words)
        {
            out.text = text;
        }
        let dated = mark.dated.as_deref().unwrap_or_default();
        if let Some(dated) =
            field(ui, t, fields, (&name("The day it tells"), "day, if any", 92.0), dated, day)
        {
            out.dated = dated;
        }
        let evidence =
            field(ui, t, fields, (&name("What shows it"), "what shows it", 220.0), &mark.evidence, words);
        if let Some(evidence) = evidence {
            out.evidence = evidence;
        }
        if trust(ui, mark.trust, &name("How far it is trusted")) {
            out.trust = match mark.trust {
                Trust::Sure => Trust::Likely,
                Trust::Likely => Trust::Doubtful,
                Trust::Doubtful => Trust::Sure,
            };
        }
        if gone(ui, &mark.what) {
            out.what.clear();
        }
    });
    if let Some((_, says)) = told.in_time.iter().find(|(of, _)| *of == at) {
        ui.horizontal(|ui| {
            ui.add_space(8.0);
            let tone = if says.is_fine() { t.soft } else { t.warm };
            ui.label(RichText::new(wording::sentence(&says.words())).font(theme::small()).color(tone));
        });
    }
}

/// The word as a button that turns to the next; whether it was clicked.
fn trust(ui: &mut Ui, trust: Trust, name: &str) -> bool {
    let response = ui.add(Button::new(trust.word()).min_size(Vec2::new(76.0, TARGET)));
    let label = format!("{name}: {}", trust.word());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    response.on_hover_text("Sure: seen and whole. Likely: not whole, or not where it should be. Doubtful: told, or worked on.").clicked()
}

/// The button that takes a row out; whether it was clicked.
fn gone(ui: &mut Ui, what: &str) -> bool {
    let response = ui.add(Button::new("×").min_size(Vec2::splat(TARGET)));
    let label = format!("Take out: {what}");
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    response.on_hover_text("Take it out").clicked()
}

/// A piece of wear; behind the last an empty one.
fn wear(
    ui: &mut Ui,
    t: &Tokens,
    at: usize,
    was: &Identity,
    told: &Told,
    fields: &mut Fields,
    now: &mut Identity,
) {
    let empty = Wear::default();
    let wear = was.wear.get(at).unwrap_or(&empty);
    let is_new = at == was.wear.len();
    let n = at + 1;
    let unit = if told.unit.is_empty() { "miles" } else { told.unit };
    ui.horizontal_wrapped(|ui| {
        let name = |what: &str| format!("{what}, wear {n}");
        let what = field(
            ui,
            t,
            fields,
            (&name("What is worn"), "pedal pads through to the steel", 260.0),
            &wear.what,
            words,
        );
        if let Some(what) = what {
            if is_new && !what.is_empty() {
                now.wear.push(Wear { what, ..Wear::default() });
                return;
            }
            if let Some(wear) = now.wear.get_mut(at) {
                wear.what = what;
            }
        }
        if is_new {
            ui.colored_label(t.soft, "another: what is worn, and how");
            return;
        }
        let Some(out) = now.wear.get_mut(at) else { return };
        let read = |text: &str| written_distance(text, unit);
        for (lead, end, out) in
            [("at least", &wear.least, &mut out.least), ("at most", &wear.most, &mut out.most)]
        {
            ui.colored_label(t.soft, lead);
            let is = end.as_deref().unwrap_or_default();
            if let Some(end) =
                field(ui, t, fields, (&name(&wording::sentence(lead)), "not known", 112.0), is, read)
            {
                *out = end;
            }
        }
        if gone(ui, &wear.what) {
            out.what.clear();
        }
    });
}

/// What follows from it: what differs, what the chassis number says, how far it has gone.
fn follows(ui: &mut Ui, t: &Tokens, identity: &Identity, told: &Told) {
    heard::heading(ui, 3, RichText::new("What follows").font(strong(BODY + 1.0)));
    let mut line = |text: String, tone| {
        ui.add(Label::new(RichText::new(text).color(tone)).wrap());
        ui.add_space(4.0);
    };
    if *identity == Identity::default() {
        let text = "Nothing is written down yet. Type when it was built, what the counter shows, and each number with where it \
                    stands: the page says whether they agree with each other and in time, and how far the vehicle can have gone.";
        line(text.to_owned(), t.soft);
        return;
    }
    for (of, texts) in &told.differ {
        let text = format!(
            "{}: the numbers differ, {}. Look into the papers before money is spent.",
            wording::sentence(of),
            texts.join(" and ")
        );
        line(text, t.warm);
    }
    if told.differ.is_empty() && identity.marks.len() > 1 {
        line("The numbers of each thing agree with each other.".to_owned(), t.ink);
    }
    if let Some(chassis) = &told.chassis {
        line(format!("Chassis number: {chassis}."), t.ink);
    }
    if let Some(shown) = &identity.counter {
        line(format!("The counter shows {shown}."), t.soft);
        let all: Vec<String> = told.distances.iter().map(|far| format!("{far:.0} {}", told.unit)).collect();
        match (&told.believed, all.is_empty()) {
            (None, _) => line("The wear contradicts itself: look again.".to_owned(), t.warm),
            (Some(_), true) => line(
                "The wear fits none of what the counter can mean: it was changed, or turned.".to_owned(),
                t.warm,
            ),
            (Some(_), false) => line(format!("Believed: {}.", all.join(", or ")), t.ink),
        }
    }
    for problem in &told.problems {
        line(format!("Cannot be read: {problem}."), t.warm);
    }
    let last = "An engine that was rebuilt or exchanged proves nothing about springs and bushes. Whether numbers were worked on, and \
                whether it may be registered, the registering office and a specialist decide.";
    line(last.to_owned(), t.soft);
}
