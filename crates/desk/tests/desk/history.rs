//! Undo and redo name their step, and a list goes back or forward over several.

use egui::{Key, Modifiers};

use crate::help::*;

#[test]
fn the_list_names_each_step_and_leads_to_how_it_stood_after_it() {
    let (mut desk, offer) = converted(None);
    let companion = companion_of(&desk, &offer);
    let mut stood = vec![desk.state().sheet().clone()];
    go_to(&mut desk, &companion.name);
    click(&mut desk, "Accept");
    say_yes(&mut desk);
    stood.push(desk.state().sheet().clone());
    assert!(stood[0] != stood[1]);
    go_to(&mut desk, "Horn");
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(*desk.state().sheet() == stood[0]);
    press(&mut desk, Modifiers::COMMAND, Key::Y);

    press(&mut desk, Modifiers::COMMAND, Key::H);
    assert!(has(&desk, "What was done"));
    assert!(has(&desk, &format!("to {}", offer.name)) && has(&desk, "Accept "));
    click(&mut desk, "As it was opened");
    assert!(!stood.contains(desk.state().sheet()));
    // forward again to the newest, by its name
    let newest = format!("2  Accept {}", companion.name);
    click(&mut desk, &newest);
    assert!(*desk.state().sheet() == stood[1]);
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(!has(&desk, "What was done"));
}
