//! The time there is for the work, as fields: who works, hours a session, on which days, from when, and when it is wanted.

use egui::{Button, RichText, Ui, Vec2};
use knockon_core::Edit;
use knockon_core::date::day;
use knockon_core::sheet::time::MOST_PEOPLE;
use knockon_core::sheet::{Person, Time, Weekday};

use crate::app::view::Action;
use crate::jobs::state::{JobsState, ToDo};
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};
use crate::look::typed::{Typed, number};

/// Draws the fields.
pub fn fields(ui: &mut Ui, t: &Tokens, work: &ToDo, state: &mut JobsState, actions: &mut Vec<Action>) {
    let mut time = work.time.clone();
    ui.spacing_mut().item_spacing.y = 4.0;
    let lead = |ui: &mut Ui, text: &str| {
        ui.allocate_ui_with_layout(
            Vec2::new(74.0, TARGET),
            egui::Layout::left_to_right(egui::Align::Center),
            |ui| {
                ui.set_min_width(74.0);
                ui.label(RichText::new(text).font(theme::small()).color(t.soft));
            },
        );
    };
    let choice = |ui: &mut Ui, on: bool, text: &str, name: &str| {
        let response = ui.add(Button::selectable(on, text).min_size(Vec2::new(26.0, TARGET)));
        response.widget_info(|| egui::WidgetInfo::selected(egui::accesskit::Role::Button, true, on, name));
        response.clicked()
    };
    ui.horizontal(|ui| {
        lead(ui, "People");
        let there = time.people.len().max(1);
        for many in 1..=MOST_PEOPLE {
            if choice(ui, there == many, &many.to_string(), &format!("{many} who work")) {
                time.people.resize(many, Person::default());
            }
        }
    });
    for n in 0..work.time.people.len() {
        ui.horizontal_wrapped(|ui| {
            lead(ui, &format!("Person {}", n + 1));
            let person = &work.time.people[n];
            let name = Typed {
                name: &format!("Name of person {}", n + 1),
                now: person.name.clone(),
                hint: "name",
                wide: 90.0,
            };
            if let Some(name) = name.show(ui, t, &mut state.fields, |text| Ok(text.to_owned())) {
                time.people[n].name = name;
            }
            let can = Typed {
                name: &format!("What person {} can do", n + 1),
                now: person.can.join(", "),
                hint: "can: welding",
                wide: 150.0,
            };
            let words = |text: &str| {
                Ok(text
                    .split(',')
                    .map(|word| word.trim().to_owned())
                    .filter(|word| !word.is_empty())
                    .collect::<Vec<_>>())
            };
            if let Some(can) = can.show(ui, t, &mut state.fields, words) {
                time.people[n].can = can;
            }
        });
    }
    ui.horizontal_wrapped(|ui| {
        lead(ui, "Hours");
        let now = work.time.hours.map_or_else(String::new, |hours| hours.to_string());
        let field = Typed { name: "Hours a session", now, hint: "6", wide: 52.0 };
        if let Some(hours) = field.show(ui, t, &mut state.fields, |text| number(text, "0.5 to 24 hours")) {
            time.hours = hours;
        }
        ui.colored_label(t.soft, "a session");
    });
    ui.horizontal(|ui| {
        lead(ui, "On");
        ui.spacing_mut().item_spacing.x = 2.0;
        let now = &work.schedule.settings.days;
        for weekday in Weekday::ALL {
            let on = now.contains(&weekday);
            let short: String = weekday.word().chars().take(2).collect();
            if choice(ui, on, &crate::wording::sentence(&short), &crate::wording::sentence(weekday.word())) {
                let mut days = now.clone();
                if on {
                    days.retain(|one| *one != weekday);
                } else {
                    days.push(weekday);
                }
                // a week without a day has no session
                if !days.is_empty() {
                    time.weekdays = days;
                    time.sessions_a_week = None;
                }
            }
        }
    });
    let date = |text: &str| {
        if text.is_empty() {
            Ok(None)
        } else {
            day(text).map(|day| Some(day.to_string())).map_err(|why| format!("{why}."))
        }
    };
    ui.horizontal_wrapped(|ui| {
        lead(ui, "From");
        let now = work.time.start.clone().unwrap_or_default();
        let field = Typed { name: "First day of work", now, hint: "today", wide: 112.0 };
        if let Some(start) = field.show(ui, t, &mut state.fields, date) {
            time.start = start;
        }
        ui.colored_label(t.soft, "wanted");
        let now = work.time.wanted.clone().unwrap_or_default();
        // where the time does not say, the direction may
        let hint =
            work.schedule.settings.wanted.map_or_else(|| "no day yet".to_owned(), |day| day.to_string());
        let field = Typed { name: "Wanted day", now, hint: &hint, wide: 112.0 };
        if let Some(wanted) = field.show(ui, t, &mut state.fields, date) {
            time.wanted = wanted;
        }
    });
    if time == work.time {
        return;
    }
    let wrong = time.wrong();
    if wrong.is_empty() {
        state.moved = None;
        let time = (time != Time::default()).then(|| Box::new(time));
        actions.push(Action::Edit(vec![Edit::Time { time }]));
        return;
    }
    for (word, why) in wrong {
        let field = match word {
            "start" => "First day of work",
            "wanted" => "Wanted day",
            _ => "Hours a session",
        };
        state.fields.trouble.insert(field.to_owned(), format!("{why}."));
    }
}
