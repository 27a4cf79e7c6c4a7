//! What would clear a clash is shown with what it would bring, the best first.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::assessment::Clash;

use crate::help::*;
use knockon_core::showing::Measure;

/// On the plan of the example that shows the most clashes.
fn clashing() -> Desk {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    assert!(desk.state().assessment().clashes.len() > 3);
    desk
}

fn open(desk: &mut Desk, clash: &Clash) {
    let a = desk.state().assessment();
    let name = a.positions.iter().find(|p| p.id == clash.positions[0]).expect("a place").name.clone();
    go_to(desk, &name);
    searched(desk);
    // the second clash of a place is a line that opens
    if rows(desk, clash).is_empty() && folds(desk).len() < 2 && button(desk, &clash.name).is_some() {
        unfold(desk, &clash.name);
    }
    // behind what clears it together
    if rows(desk, clash).is_empty() {
        for n in 0..folds(desk).len() {
            folds(desk)[n].scroll_to_me();
            settle(desk);
            folds(desk)[n].click();
            settle(desk);
        }
    }
}

/// Where each change is told by itself.
fn folds(desk: &Desk) -> Vec<egui_kittest::Node<'_>> {
    desk.query_all_by_label_contains(", each by itself").collect()
}

/// The rows of the remedies of a clash, from the top down, as they are heard.
fn rows(desk: &Desk, clash: &Clash) -> Vec<String> {
    let wanted = |label: &str| {
        let of = clash.remedies.iter().filter(|r| r.choice.is_some());
        of.into_iter().any(|r| {
            label.to_lowercase().starts_with(&format!("{},", r.text.say(Measure::Inch).to_lowercase()))
        })
    };
    let all = desk.query_all_by_role(Role::Button);
    let mut rows: Vec<(f32, String)> = all
        .filter_map(|n| n.accesskit_node().label().filter(|l| wanted(l)).map(|label| (n.rect().top(), label)))
        .collect();
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    rows.into_iter().map(|(_, label)| label).collect()
}

/// How many clashes a row says are left.
fn left(row: &str) -> usize {
    let told = row.to_lowercase();
    if told.contains("then all fits") {
        return 0;
    }
    let (_, rest) = told.split_once("leaves ").expect("it says what is left");
    rest.split(' ').next().and_then(|n| n.parse().ok()).expect("a number")
}

#[test]
fn every_remedy_says_what_the_plan_would_be_and_the_best_comes_first() {
    let mut desk = clashing();
    let (mut seen, mut in_vain) = (0, 0);
    let now = desk.state().assessment().clashes.len();
    for clash in desk.state().assessment().clashes.clone() {
        let parts = clash.remedies.iter().filter(|r| r.choice.is_some()).count();
        open(&mut desk, &clash);
        let rows = rows(&desk, &clash);
        assert!(rows.len() >= parts, "{}: {rows:?}", clash.name);
        let clears: Vec<&String> = rows.iter().filter(|r| !r.contains("oes not clear this")).collect();
        assert!(clears.is_sorted_by_key(|row| left(row)), "{clears:?}");
        assert!(rows.iter().take(clears.len()).all(|r| clears.contains(&r)), "{rows:?}");
        for row in &rows {
            if left(row) == now {
                assert!(row.contains("as many as now"), "{row}");
                in_vain += 1;
            } else if left(row) > now {
                assert!(row.contains(&format!("{} more than now", left(row) - now)), "{row}");
                in_vain += 1;
            }
            seen += 1;
        }
    }
    assert!(seen > 8 && in_vain > 0, "{seen} {in_vain}");
}

#[test]
fn a_remedy_does_what_it_said() {
    let mut desk = clashing();
    for n in 0..desk.state().assessment().clashes.len() {
        let clash = desk.state().assessment().clashes[n].clone();
        open(&mut desk, &clash);
        let Some(row) = rows(&desk, &clash).first().cloned() else { continue };
        desk.get_by_role_and_label(Role::Button, &row).scroll_to_me();
        settle(&mut desk);
        desk.get_by_role_and_label(Role::Button, &row).click();
        settle(&mut desk);
        say_yes(&mut desk);
        assert_eq!(desk.state().assessment().clashes.len(), left(&row), "{row}");
        press(&mut desk, Modifiers::COMMAND, Key::Z);
    }
}

#[test]
fn the_price_of_a_remedy_is_that_of_all_of_them() {
    let mut desk = clashing();
    let a = desk.state().assessment();
    let several = |c: &&Clash| {
        let of = |id: &String| a.positions.iter().find(|p| p.id == *id).map_or(1, |p| p.qty);
        c.remedies.iter().any(|r| r.price.is_some() && r.choice.as_ref().is_some_and(|(id, _)| of(id) > 1))
    };
    let clash = a.clashes.iter().find(several).expect("one with tyres").clone();
    let remedy = clash.remedies.iter().find(|r| r.price.is_some()).expect("priced").clone();
    let (place, _) = remedy.choice.clone().expect("a choice");
    let qty = a.positions.iter().find(|p| p.id == place).expect("there").qty;
    let whole = remedy.price.clone().expect("a price").times(qty);
    open(&mut desk, &clash);
    let told = rows(&desk, &clash);
    assert!(told.iter().any(|r| r.contains(&format!("= ${:.2}", whole.amount))), "{told:?}");
}
