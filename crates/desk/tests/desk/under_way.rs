//! What takes longer than a moment says how far it is and can be stopped.

use std::time::{Duration, Instant};

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::help::*;

/// Frames until something is shown.
fn until(desk: &mut Desk, label: &str) {
    let begun = Instant::now();
    while !has(desk, label) {
        assert!(begun.elapsed() < Duration::from_secs(20), "{label} is not shown");
        std::thread::sleep(Duration::from_millis(20));
        desk.step();
    }
}

#[test]
fn a_long_search_counts_its_tries_and_stopped_it_begins_again_when_asked() {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    until(&mut desk, "Stop: working out what clears it together");
    assert!(desk.query_by_label_contains(" of at most 500").is_some(), "how far it is");
    click(&mut desk, "Stop: working out what clears it together");
    assert!(!desk.state().searching());
    assert!(desk.query_all_by_label_contains("was not worked out: stopped").next().is_some());
    // the key for what clears all of it asks for it
    press(&mut desk, Modifiers::COMMAND, Key::Enter);
    assert!(desk.state().searching());
    searched(&mut desk);
    assert!(has(&desk, "Take all 7"));
}
