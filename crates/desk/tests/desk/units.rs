//! Inch and metric.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::ports;
use knockon_core::showing::{Measure, show};

use crate::help::*;

#[test]
fn the_ports_are_shown_in_the_users_system_and_the_system_is_remembered() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().to_owned();
    let mut desk = board(Some(home.clone()));
    let a = desk.state().assessment();
    let differs = |value: &str| show(value, Measure::Inch) != show(value, Measure::Metric);
    let library = knockon_store::library::shipped();
    let (place, value): (String, String) = a
        .positions
        .iter()
        .find_map(|p| {
            let rows = ports(&library, &p.fitted.as_ref()?.0);
            rows.iter().find(|r| differs(&r.value)).map(|r| (p.name.clone(), r.value.clone()))
        })
        .expect("a port with a size");
    go_to(&mut desk, &place);
    desk.get_by_label_contains("Ports of the fitted part").click();
    settle(&mut desk);
    let (inch, metric) = (show(&value, Measure::Inch), show(&value, Measure::Metric));
    let exact = |desk: &Desk, text: &str| desk.query_all_by_label(text).next().is_some();
    assert!(exact(&desk, &inch) && !exact(&desk, &metric), "{inch} | {metric}");
    desk.get_by_label("Inch or metric").click();
    settle(&mut desk);
    assert!(exact(&desk, &metric) && !exact(&desk, &inch), "{inch} | {metric}");
    // both stand under the pointer
    desk.get_all_by_label(metric.as_str()).next().expect("a row").scroll_to_me();
    settle(&mut desk);
    desk.get_all_by_label(metric.as_str()).next().expect("a row").hover();
    for _ in 0..40 {
        desk.step();
    }
    assert!(has(&desk, &format!("{metric} = {inch}")));
    drop(desk);

    let mut desk = start(None, Some(home));
    go_to(&mut desk, &place);
    desk.get_by_label_contains("Ports of the fitted part").click();
    settle(&mut desk);
    assert!(exact(&desk, &metric), "{metric}");
    // the palette switches as well
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "inch or metric");
    assert!(exact(&desk, &inch), "{inch}");
}
