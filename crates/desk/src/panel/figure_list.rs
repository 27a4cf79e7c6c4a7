//! The list behind a figure of the running strip.

use egui::{ScrollArea, Ui};
use knockon_core::assessment::BuyLine;
use knockon_core::sheet::LineState;
use knockon_core::spent::Idle;

use crate::access::heard;
use crate::app::told::Told;
use crate::app::view::{Action, Behind, Spot, View};
use crate::buying::fields::state_combo;
use crate::dialogs::one_way::Place;
use crate::look::list_entry;
use crate::look::list_entry::Entry;
use crate::look::margin;
use crate::look::text::figures_ui;
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, Tokens};
use crate::panel::unknown::Unknown;
use crate::panel::{later, misfits};
use crate::wording::{self, is_to_come};

/// Draws the list.
pub fn panel(ui: &mut Ui, a: &Told, which: Behind, fresh: bool, view: &mut View) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    let (title, entries) = list(a, which);
    ui.horizontal(|ui| {
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if ui.button("Close the list").clicked() {
                actions.push(Action::Behind(None));
            }
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                heard::heading(ui, 2, egui::RichText::new(title).font(strong(BODY + 1.0)));
            });
        });
    });
    let mut area = ScrollArea::vertical().id_salt("behind").auto_shrink(false);
    if fresh {
        area = area.vertical_scroll_offset(0.0);
    }
    area.show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        if which == Behind::Cautions {
            ui.spacing_mut().item_spacing.y = 8.0;
            for note in &a.cautions {
                margin::caution(ui, &t, note, a.measure);
                for c in a.companions.iter().filter(|c| note.companions.contains(&c.key)) {
                    let Some(reason) = &c.waived else { continue };
                    if ui
                        .button(format!("Left out: {} ({reason})", wording::with_qty(&c.name, c.qty)))
                        .clicked()
                    {
                        actions.push(Action::Select(Some(Spot::Companion(c.key.clone()))));
                    }
                }
                for id in &note.positions {
                    if ui.button(wording::place(a, id)).clicked() {
                        actions.push(Action::Select(Some(Spot::Position(id.clone()))));
                    }
                }
            }
        }
        if which == Behind::Idle {
            for line in &a.idle {
                not_wanted(ui, &t, line, &mut actions);
            }
        }
        if which == Behind::Clashes {
            misfits::list(ui, &t, a, true, Place::List, view, &mut actions);
        } else {
            for entry in &entries {
                if list_entry::show(ui, &t, entry) {
                    actions.push(leads(which, entry));
                }
            }
        }
        let others = match which {
            Behind::Cautions => a.cautions.len(),
            Behind::Idle => a.idle.len(),
            _ => 0,
        };
        if entries.len() + others == 0 {
            ui.colored_label(t.soft, "Nothing stands here.");
        }
    });
    actions
}

/// Where an entry leads: what is to be measured, into its field.
pub fn leads(which: Behind, entry: &Entry) -> Action {
    match (which, &entry.spot) {
        (Behind::Measure, Some(Spot::Position(id))) => Action::Measure(id.clone()),
        (_, spot) => Action::Select(spot.clone()),
    }
}

/// The entries of a list.
pub fn entries(a: &Told, which: Behind) -> Vec<Entry> {
    list(a, which).1
}

fn list(a: &Told, which: Behind) -> (&'static str, Vec<Entry>) {
    let lines = |keep: &dyn Fn(&BuyLine) -> bool| -> Vec<Entry> {
        a.buy.iter().filter(|l| l.waived.is_none() && keep(l)).map(|l| line(a, l)).collect()
    };
    match which {
        Behind::Spent => {
            let mut all = lines(&|l| l.state.is_here() || l.partly_back());
            all.extend(a.idle.iter().filter(|l| l.state.is_here()).map(lies_idle));
            ("Spent: in hand or fitted", all)
        }
        Behind::Committed => {
            let mut all = lines(&|l| l.state == LineState::OnOrder);
            all.extend(a.idle.iter().filter(|l| l.state == LineState::OnOrder).map(lies_idle));
            ("On order", all)
        }
        Behind::ToCome => ("To come: still to buy", lines(&is_to_come)),
        Behind::Fitted => ("Every line, fitted or not", lines(&|_| true)),
        Behind::Companions => ("Companions that want an answer", companions(a)),
        Behind::Clashes => {
            ("Does not fit", a.troubles().iter().map(|trouble| misfits::of(a, trouble)).collect())
        }
        Behind::Measure => {
            let one = |m: &knockon_core::assessment::ToMeasure| {
                let unknown = Unknown::of(a, m);
                Entry {
                    name: wording::sentence(&unknown.name),
                    half: unknown.half(),
                    right: m.positions.iter().map(|id| wording::place(a, id)).collect::<Vec<_>>().join(", "),
                    spot: m.positions.first().cloned().map(Spot::Position),
                    mark: None,
                    brief: false,
                }
            };
            ("To measure", a.to_measure.iter().map(one).collect())
        }
        Behind::Surplus => {
            let one = |s: &knockon_core::assessment::Surplus| Entry {
                name: s.name.clone(),
                half: match s.leaves.as_str() {
                    "" => a.half_line(s.reason),
                    leaves => leaves.to_owned(),
                },
                right: if s.lost_job { "no longer needed".to_owned() } else { "taken off".to_owned() },
                spot: Some(Spot::Position(s.position.clone())),
                mark: None,
                brief: false,
            };
            ("Off the vehicle, for the keep shelf", a.surplus.iter().map(one).collect())
        }
        Behind::Later => {
            let one = |l: &knockon_core::assessment::Later| Entry {
                name: wording::sentence(&l.what),
                half: a.half_line(l.reason),
                right: l.when(a.measure),
                spot: later::spot(l),
                mark: None,
                brief: false,
            };
            ("To do later", a.later.iter().map(one).collect())
        }
        Behind::Idle => ("Bought, and not wanted by this plan: use it, send it back or sell it", Vec::new()),
        Behind::Cautions => ("Cautions", Vec::new()),
        Behind::Problems => {
            let one = |p: &String| Entry {
                name: p.clone(),
                half: String::new(),
                right: String::new(),
                spot: None,
                mark: None,
                brief: false,
            };
            (
                "To put right in this sheet: it is left out, or counted as it stands",
                a.problems.iter().map(one).collect(),
            )
        }
    }
}

fn companions(a: &Told) -> Vec<Entry> {
    a.companions
        .iter()
        .filter(|c| wording::open(c))
        .map(|c| Entry {
            name: format!("{} {}", wording::level(c.level), wording::with_qty(&c.name, c.qty)),
            half: a.half_line(c.reason),
            right: wording::counts_for(c.cost().as_ref(), c.line),
            spot: Some(Spot::Companion(c.key.clone())),
            mark: None,
            brief: false,
        })
        .collect()
}

fn line(a: &Told, l: &BuyLine) -> Entry {
    let here =
        a.positions.iter().find(|p| p.active && p.fitted.as_ref().is_some_and(|(id, _)| *id == l.part));
    let spot = a
        .companions
        .iter()
        .find(|c| c.part == l.part)
        .map(|c| Spot::Companion(c.key.clone()))
        .or_else(|| here.map(|p| Spot::Position(p.id.clone())));
    Entry {
        name: wording::with_qty(&l.name, l.qty),
        half: match l.came_back_text() {
            Some(back) => format!("{}, {back}: {}", l.stands(), l.uses_text()),
            None => format!("{}: {}", l.stands(), l.uses_text()),
        },
        right: wording::counts_for(l.net().as_ref(), l.state),
        spot,
        mark: None,
        brief: false,
    }
}

fn lies_idle(l: &Idle) -> Entry {
    Entry {
        name: wording::with_qty(&l.name, l.qty.unwrap_or(1)),
        half: format!("{}, and not wanted by this plan", l.state.word()),
        right: wording::counts_for(l.money().as_ref(), l.state),
        spot: None,
        mark: None,
        brief: false,
    }
}

/// A line the plan does not want: its state can be set, since no other list has it.
fn not_wanted(ui: &mut Ui, t: &Tokens, line: &Idle, actions: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        ui.add_space(8.0);
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.add_space(10.0);
            let each = if line.qty.is_none() && line.price.is_some() { " each" } else { "" };
            let money = wording::counts_for(line.money().as_ref(), line.state);
            figures_ui(ui, &format!("{money}{each}"), &theme::body(), t.ink, 130.0);
            let name = format!("State of {}", line.name);
            state_combo(ui, ("idle state", &line.part), &name, &line.part, line.state, actions);
            ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.add(egui::Label::new(wording::with_qty(&line.name, line.qty.unwrap_or(1))).truncate());
            });
        });
    });
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::list;
    use crate::app::told::Told;
    use crate::app::view::Behind;
    use crate::wording;
    use knockon_core::sheet::LineState;
    use knockon_core::showing::Measure;
    use knockon_core::{Sheet, assess};

    #[test]
    fn the_list_behind_a_figure_is_what_the_figure_counts() {
        let text = knockon_store::library::example();
        let mut sheet: Sheet = knockon_store::sheets::parse("the example", text).unwrap();
        let catalogue = knockon_store::library::shipped();
        let wide = sheet.plans.keys().max_by_key(|p| assess(&sheet, p, &catalogue).companions.len());
        let plan = wide.unwrap().clone();
        // one line of each state, dealt round
        let parts: Vec<String> =
            assess(&sheet, &plan, &catalogue).buy.iter().map(|l| l.part.clone()).collect();
        for (part, state) in parts.iter().zip(LineState::ALL.iter().cycle()) {
            sheet.lines.entry(part.clone()).or_default().state = *state;
        }
        let a = Told::new(assess(&sheet, &plan, &catalogue), Measure::Inch);
        let open = list(&a, Behind::Companions).1;
        assert_eq!(open.len(), a.totals.companions_open);
        assert_eq!(open.len(), a.companions.iter().filter(|c| wording::open(c)).count());
        let spent = list(&a, Behind::Spent).1;
        assert!(spent.iter().all(|e| e.half.starts_with("in hand: ") || e.half.starts_with("fitted: ")));
        let to_come = list(&a, Behind::ToCome).1;
        // what was sent back and is wanted all the same has to be bought again
        let is_open = |half: &str| {
            ["to buy: ", "to buy, measure first: ", "sent back"].iter().any(|word| half.starts_with(word))
                || half.contains("more to buy")
        };
        assert!(!to_come.is_empty() && to_come.iter().all(|e| is_open(&e.half)));
        let told = list(&a, Behind::Clashes).1;
        let named = |clash: &knockon_core::assessment::Clash| {
            told.iter().filter(|entry| entry.name.to_lowercase().contains(&clash.name.to_lowercase())).count()
        };
        assert!(a.clashes.iter().all(|clash| named(clash) >= 1) && told.len() <= a.totals.clashes);
        assert_eq!(list(&a, Behind::Measure).1.len(), a.totals.to_measure);
        assert_eq!(list(&a, Behind::Later).1.len(), a.later.len());
        assert_eq!(list(&a, Behind::Fitted).1.len(), a.totals.lines);
    }
}
