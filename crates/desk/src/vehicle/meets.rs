//! What a place meets, what it could meet, and a joint made by hand.

use egui::accesskit::Role;
use egui::{Button, ComboBox, Label, RichText, Ui, Vec2, WidgetInfo};
use knockon_core::grammar::lower;
use knockon_core::library::{End, Joint};

use crate::app::view::Action;
use crate::look::margin::section;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};
use crate::vehicle::state::{Step, VehicleState};
use crate::vehicle::told::{Meets, Place};

/// Draws all three.
pub fn meets(ui: &mut Ui, t: &Tokens, place: &Place, state: &mut VehicleState, actions: &mut Vec<Action>) {
    section(ui, t, "Meets");
    if place.meets.is_empty() {
        ui.colored_label(t.soft, "Nothing yet: whatever is chosen here joins nothing.");
    }
    for joint in &place.meets {
        met(ui, t, joint, actions);
    }
    if !place.could_meet.is_empty() {
        section(ui, t, "Could meet, as on other vehicles");
        for proposal in &place.could_meet {
            ui.horizontal(|ui| {
                let add = Button::new("Join").min_size(Vec2::new(0.0, TARGET));
                let response = ui.add(add);
                response.widget_info(|| {
                    WidgetInfo::labeled(Role::Button, true, format!("Join: {}", proposal.joint.name))
                });
                if response.clicked() {
                    actions.push(Action::Vehicle(Step::Join(proposal.joint.clone())));
                }
                ui.label(&proposal.joint.name);
                let mut note = format!("on {}", proposal.on.join(", "));
                if !proposal.taken.is_empty() {
                    note.push_str("; something hangs on the other end already");
                }
                let note = RichText::new(note).font(theme::small()).color(t.soft);
                ui.add(Label::new(note).truncate());
            });
        }
    }
    if !place.ports.is_empty() {
        section(ui, t, "Join by hand");
        by_hand(ui, place, state, actions);
    }
    ui.add_space(12.0);
}

fn met(ui: &mut Ui, t: &Tokens, joint: &Meets, actions: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        let part = Button::new("Part").min_size(Vec2::new(0.0, TARGET));
        let response = ui.add(part);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Part: {}", joint.name)));
        if response.on_hover_text("These ports do not meet on this vehicle").clicked() {
            actions.push(Action::Vehicle(Step::Part(joint.id.clone())));
        }
        ui.label(&joint.name);
        let others: Vec<String> =
            joint.others.iter().map(|(place, port)| format!("{place} ({port})")).collect();
        let note = format!("{} to {}", joint.port, others.join(", "));
        ui.add(Label::new(RichText::new(note).font(theme::small()).color(t.soft)).truncate());
    });
}

fn by_hand(ui: &mut Ui, place: &Place, state: &mut VehicleState, actions: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        let (mut port, mut other) = match state.joining.take() {
            Some((port, other)) if place.ports.iter().any(|(name, _)| *name == port) => (Some(port), other),
            _ => (None, None),
        };
        let now = port.clone().unwrap_or_else(|| "Its port…".to_owned());
        combo(ui, "port here", &now, 150.0, |ui| {
            for (name, _) in &place.ports {
                if ui.selectable_label(port.as_ref() == Some(name), name).clicked() {
                    (port, other) = (Some(name.clone()), None);
                }
            }
        });
        let ports = port.as_ref().and_then(|port| place.ports.iter().find(|(name, _)| name == port));
        let shown = |(place, at, port): &(String, String, String)| {
            (format!("{at}: {port}"), (place.clone(), port.clone()))
        };
        let all: Vec<_> = ports.into_iter().flat_map(|(_, all)| all).map(shown).collect();
        let now = other.as_ref().and_then(|other| all.iter().find(|(_, of)| of == other));
        let now = now.map_or("meets…", |(text, _)| text.as_str()).to_owned();
        combo(ui, "port there", &now, 240.0, |ui| {
            if all.is_empty() {
                let text = if port.is_some() {
                    "No other place has a port of this type."
                } else {
                    "Choose its port first."
                };
                ui.label(text);
            }
            for (text, of) in &all {
                if ui.selectable_label(other.as_ref() == Some(of), text).clicked() {
                    other = Some(of.clone());
                }
            }
        });
        let ready = port.clone().zip(other.clone());
        let join = Button::new("Join these").min_size(Vec2::new(0.0, TARGET));
        if ui.add_enabled(ready.is_some(), join).clicked()
            && let Some((here, (to, there))) = ready
        {
            let at = all.iter().find(|(_, of)| of.0 == to).map_or(to.as_str(), |(text, _)| {
                text.split_once(": ").map_or(text.as_str(), |(name, _)| name)
            });
            let joint = Joint {
                name: format!("{} to {}", place.name, lower(at)),
                ends: vec![End { at: place.id.clone(), port: here }, End { at: to, port: there }],
                qty: 1,
                either: None,
            };
            actions.push(Action::Vehicle(Step::Join(joint)));
            return;
        }
        state.joining = port.map(|port| (port, other));
    });
}

fn combo(ui: &mut Ui, name: &str, now: &str, width: f32, add: impl FnOnce(&mut Ui)) {
    let choice = ComboBox::from_id_salt(("by hand", name))
        .selected_text(now)
        .width(width)
        .height(320.0)
        .truncate()
        .show_ui(ui, add);
    choice.response.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::ComboBox, true, format!("Join by hand: {name}, {now}"));
        info.current_text_value = Some(now.to_owned());
        info
    });
}
