//! Money that came back is entered for a line of the buy list, told there and counted off.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::assessment::BuyLine;
use knockon_core::refund::CameBack;
use knockon_core::sheet::LineState;
use knockon_core::{Edit, apply};
use knockon_store::sheets;
use rust_decimal::Decimal;

use crate::help::*;
use crate::trust::{Bench, type_into};

const CTRL: Modifiers = Modifiers::COMMAND;

/// A desk on its buy list, and a line that is in hand.
fn in_hand(bench: &Bench) -> (Desk, BuyLine) {
    let mut desk = bench.open();
    let is_one = |l: &&BuyLine| {
        l.waived.is_none() && l.total.as_ref().is_some_and(|m| m.amount > Decimal::ONE_HUNDRED)
    };
    let line = desk.state().assessment().buy.iter().find(is_one).unwrap().clone();
    let mut sheet = sheets::open(&bench.file).unwrap();
    apply(&mut sheet, &Edit::SetLine { part: line.part.clone(), state: LineState::InHand }).unwrap();
    let paid = line.price.clone();
    apply(&mut sheet, &Edit::SetPaid { part: line.part.clone(), paid }).unwrap();
    sheets::save(&bench.file, &sheet).unwrap();
    drop(desk);
    desk = bench.open();
    press(&mut desk, CTRL, Key::Num2);
    (desk, line)
}

fn ask(desk: &mut Desk, line: &BuyLine) {
    click(desk, &format!("Money that came back for {}", line.name));
}

fn spent(desk: &Desk) -> Decimal {
    desk.state().assessment().totals.money.spent.of("USD")
}

#[test]
fn a_core_deposit_that_came_back_is_entered_and_counted_off_and_undone() {
    let bench = Bench::new();
    let (mut desk, line) = in_hand(&bench);
    let before = spent(&desk);
    ask(&mut desk, &line);
    type_into(&mut desk, Role::TextInput, "Core deposit returned", "60");
    click(&mut desk, "Take it in");
    assert_eq!(spent(&desk), before - Decimal::from(60));
    let back = |desk: &Desk| desk.state().sheet().lines[&line.part].came_back.clone();
    assert_eq!(back(&desk)[&CameBack::Core].amount, Decimal::from(60));
    assert!(has(&desk, &format!("Money that came back for {}", line.name)));
    // what is refunded stands by itself
    ask(&mut desk, &line);
    type_into(&mut desk, Role::TextInput, "Refunded", "12,50");
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(spent(&desk), before - Decimal::new(7250, 2));
    press(&mut desk, CTRL, Key::Z);
    press(&mut desk, CTRL, Key::Z);
    assert_eq!((spent(&desk), back(&desk).len()), (before, 0));
    press(&mut desk, CTRL, Key::Y);
    press(&mut desk, CTRL, Key::S);
    assert_eq!(sheets::open(&bench.file).unwrap().lines[&line.part].came_back, back(&desk));
}

#[test]
fn a_sign_or_nonsense_is_refused_in_its_place_and_nothing_takes_it_out() {
    let bench = Bench::new();
    let (mut desk, line) = in_hand(&bench);
    for (text, why) in [("-5", "below 0"), ("some", "is no price"), ("1.005", "a part of a cent")] {
        ask(&mut desk, &line);
        type_into(&mut desk, Role::TextInput, "Refunded", text);
        assert!(has(&desk, why), "{text}");
        press(&mut desk, Modifiers::NONE, Key::Enter);
        assert!(has(&desk, "Take it in"), "{text}: it stays");
        click(&mut desk, "Cancel");
    }
    assert!(desk.state().sheet().lines[&line.part].came_back.is_empty());
    for (text, left) in [("5", 1), ("0", 0)] {
        ask(&mut desk, &line);
        type_into(&mut desk, Role::TextInput, "Refunded", text);
        click(&mut desk, "Take it in");
        assert_eq!(desk.state().sheet().lines[&line.part].came_back.len(), left);
    }
}

#[test]
fn what_is_half_typed_of_it_comes_back() {
    let bench = Bench::new();
    let (mut desk, line) = in_hand(&bench);
    ask(&mut desk, &line);
    type_into(&mut desk, Role::TextInput, "Core deposit returned", "6");
    drop(desk);
    let desk = bench.open();
    let field = desk.get_by_role_and_label(Role::TextInput, "Core deposit returned");
    assert_eq!(field.value().as_deref(), Some("6"));
}
