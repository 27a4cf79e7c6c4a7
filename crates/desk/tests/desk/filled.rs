//! A place nobody chose for and the plan fills: what sits there is shown, with who put it there.

use egui::accesskit::{Role, Toggled};
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::assessment::PositionView;
use knockon_core::sheet::Route;

use crate::help::*;

fn taken(desk: &Desk) -> Vec<String> {
    let all = desk.query_all_by_role(Role::RadioButton);
    let on = all.filter(|n| n.accesskit_node().toggled() == Some(Toggled::True));
    // beside what the board shows
    on.filter_map(|n| n.accesskit_node().label()).filter(|l| !l.starts_with("Show ")).collect()
}

/// A place the plan fills though something was found there, in the middle plan of the example.
fn filled() -> (Desk, PositionView) {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    let a = desk.state().assessment();
    let own = |p: &&PositionView| p.filled && p.as_found.is_some() && p.fitted.is_some();
    let brought = |p: &&PositionView| a.companions.iter().any(|c| c.position.as_ref() == Some(&p.id));
    let p = a.positions.iter().filter(own).find(brought).expect("a place the plan fills").clone();
    go_to(&mut desk, &p.name);
    assert_eq!(desk.state().selected().as_ref(), Some(&p.id));
    (desk, p)
}

#[test]
fn keep_is_not_ticked_where_the_plan_puts_another_part() {
    let (mut desk, p) = filled();
    let name = p.fitted.clone().expect("fitted").1;
    let on = taken(&desk);
    assert_eq!(on.len(), 1, "{on:?}");
    assert!(on[0].starts_with(&format!("Comes with the plan: {name}")), "{on:?}");
    // who put it there
    let a = desk.state().assessment();
    let c = a.companions.iter().find(|c| c.position.as_ref() == Some(&p.id)).expect("a companion");
    let cause = c.cause.as_ref().and_then(|id| a.positions.iter().find(|q| q.id == *id)).expect("a cause");
    assert!(has(&desk, &format!("Brought by {}", cause.name.to_lowercase())));

    // what was found stays only if that is said, with what it brings
    let before = desk.state().sheet().clone();
    let keep = desk
        .get_by(|n| n.label().is_some_and(|l| l.starts_with("Keep,")))
        .accesskit_node()
        .label()
        .expect("named");
    assert!(!keep.contains("as the plan stands"), "{keep}");
    click(&mut desk, &keep);
    let plan = desk.state().sheet().plan.clone();
    let said = |desk: &Desk| desk.state().sheet().plans[&plan].routes.get(&p.id).map(|c| c.route);
    assert_eq!(said(&desk), Some(Route::Keep));
    let a = desk.state().assessment();
    let now = a.positions.iter().find(|q| q.id == p.id).expect("still there");
    assert_eq!((now.filled, &now.fitted), (false, &p.as_found));
    let on = taken(&desk);
    assert!(on.len() == 1 && on[0].starts_with("Keep, as the plan stands"), "{on:?}");

    // and back
    let lead = format!("Leave it to the plan: {name}");
    desk.get_by_label_contains(&lead).scroll_to_me();
    settle(&mut desk);
    desk.get_by_label_contains(&lead).click();
    settle(&mut desk);
    assert_eq!(*desk.state().sheet(), before);
}

#[test]
fn the_kit_that_fills_a_place_is_named() {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    let a = desk.state().assessment();
    let brought = |p: &PositionView| a.companions.iter().any(|c| c.position.as_ref() == Some(&p.id));
    let boxed: Vec<PositionView> =
        a.positions.iter().filter(|p| p.filled && p.fitted.is_some() && !brought(p)).cloned().collect();
    assert!(!boxed.is_empty());
    for p in boxed {
        go_to(&mut desk, &p.name);
        assert!(has(&desk, "In the box of "), "{}", p.name);
    }
}
