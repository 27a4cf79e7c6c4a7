//! Inch and metric.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::explain::half_line;
use knockon_core::ports;
use knockon_core::showing::{Measure, show};

use crate::help::*;

fn open_ports(desk: &mut Desk) {
    desk.get_by_label_contains("Ports of the fitted part").scroll_to_me();
    settle(desk);
    desk.get_by_label_contains("Ports of the fitted part").click();
    settle(desk);
}

#[test]
fn the_ports_are_shown_in_the_users_system_and_the_system_is_remembered() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().to_owned();
    let mut desk = board(Some(home.clone()));
    let a = desk.state().assessment();
    let library = knockon_store::library::shipped();
    let differs = |value: &str| show(value, Measure::Inch) != show(value, Measure::Metric);
    let (place, value) = a
        .positions
        .iter()
        .find_map(|p| {
            let rows = ports(&library, &p.fitted.as_ref()?.0);
            rows.into_iter().find(|r| differs(&r.value)).map(|r| (p.name.clone(), r.value))
        })
        .expect("a port with a size");
    go_to(&mut desk, &place);
    open_ports(&mut desk);
    let (inch, metric) = (show(&value, Measure::Inch), show(&value, Measure::Metric));
    let exact = |desk: &Desk, text: &str| desk.query_all_by_label(text).next().is_some();
    assert!(exact(&desk, &inch) && !exact(&desk, &metric), "{inch} | {metric}");
    click(&mut desk, "Inch or metric");
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
    open_ports(&mut desk);
    assert!(exact(&desk, &metric), "{metric}");
    // the palette switches as well
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "inch or metric");
    assert!(exact(&desk, &inch), "{inch}");
}

#[test]
fn sentences_of_limits_and_reasons_are_told_in_the_users_system() {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    let a = desk.state().assessment();
    let told = |measure| {
        let clash = a.clashes.iter().find(|c| c.name.contains("under the bonnet")).expect("the plan has it");
        half_line(a, clash.reason, measure)
    };
    // the panel begins its sentences with a capital
    let (inch, metric) = (told(Measure::Inch)[1..].to_owned(), told(Measure::Metric)[1..].to_owned());
    assert!(inch.contains(" in") && metric.contains(" mm") && inch != metric, "{inch} | {metric}");
    let place = a.clashes.iter().find(|c| c.name.contains("under the bonnet")).expect("as before").positions
        [0]
    .clone();
    let place = a.positions.iter().find(|p| p.id == place).expect("a place").name.clone();
    go_to(&mut desk, &place);
    assert!(has(&desk, &inch) && !has(&desk, &metric), "{inch}");
    click(&mut desk, "Inch or metric");
    settle(&mut desk);
    assert!(has(&desk, &metric) && !has(&desk, &inch), "{metric}");
}
