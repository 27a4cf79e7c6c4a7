//! The fit-up page: every card opens, its inputs move the drawing, nonsense does no harm.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::help::*;

/// Every card by name.
pub const CARDS: [&str; 8] = [
    "Tyre, old and new",
    "Wheel over brake",
    "Gears",
    "Charging balance",
    "Driveline angles",
    "Lift, side view",
    "Fuel chain",
    "Brake share",
];

/// An input of each card with a value that changes the figures, and what must show up then.
const CHANGES: [(&str, &str, &str, &str); 8] = [
    ("Tyre, old and new", "New tyre", "31x10.50R15LT", "787.4 mm"),
    ("Wheel over brake", "Gap wanted", "9 mm", "does not fit, 2.5 mm short"),
    ("Gears", "Gear ratios, lowest first", "3.27, 1.98, 1.35, 1.00, 0.73", "1.35: "),
    ("Charging balance", "Load at idle", "1 A", "16.1 A to spare"),
    ("Driveline angles", "Pinion points up", "9 deg", "more than 3°"),
    ("Lift, side view", "Droop travel", "10 mm", "Damper at droop, lifted fits"),
    ("Fuel chain", "Pump gives", "1 to 2 psi", "too low at full flow"),
    ("Brake share", "Weight on the front at rest", "40 %", "Ideal in this stop 55.7 %"),
];

fn page() -> Desk {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num3);
    desk
}

/// Replaces what a field holds.
fn write(desk: &mut Desk, field: &str, text: &str) {
    desk.get_by_role_and_label(Role::TextInput, field).scroll_to_me();
    settle(desk);
    desk.get_by_role_and_label(Role::TextInput, field).focus();
    settle(desk);
    press(desk, Modifiers::COMMAND, Key::A);
    press(desk, Modifiers::NONE, Key::Delete);
    desk.get_by_role_and_label(Role::TextInput, field).type_text(text);
    settle(desk);
}

fn drawing(desk: &Desk) -> String {
    // a plot beside it is an image too, and says less
    let all = desk.query_all_by_role(Role::Image);
    let labels = all.map(|image| image.accesskit_node().label().unwrap_or_default());
    labels.max_by_key(String::len).expect("a drawing")
}

#[test]
fn the_page_is_reached_from_bar_palette_and_keys() {
    let mut desk = board(None);
    click(&mut desk, "Fit-up");
    assert!(has(&desk, CARDS[0]));
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    assert!(!has(&desk, CARDS[0]));
    go_to(&mut desk, "Fit-up");
    assert!(has(&desk, CARDS[0]));
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    go_to(&mut desk, "Fit-up: Fuel chain");
    assert!(drawing(&desk).starts_with("Drawing of Fuel chain. "));
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    press(&mut desk, Modifiers::COMMAND, Key::Num3);
    assert!(has(&desk, CARDS[0]));
}

#[test]
fn every_card_opens_draws_and_names_its_source() {
    let mut desk = page();
    for card in CARDS {
        click(&mut desk, card);
        assert!(drawing(&desk).starts_with(&format!("Drawing of {card}. ")), "{}", drawing(&desk));
        assert!(!has(&desk, "Source: "), "{card}");
        click(&mut desk, "Formula and source");
        assert!(has(&desk, "Source: "), "{card}");
        click(&mut desk, "Hide formula and source");
    }
}

#[test]
fn an_input_moves_the_figures_and_can_be_taken_back() {
    let mut desk = page();
    click(&mut desk, "Inch or metric");
    for (card, field, text, shows) in CHANGES {
        click(&mut desk, card);
        let before = drawing(&desk);
        assert!(!before.contains(shows), "{card}: {before}");
        write(&mut desk, field, text);
        assert!(drawing(&desk).contains(shows), "{card}: {}", drawing(&desk));
        click(&mut desk, "Back to the start");
        assert_eq!(drawing(&desk), before, "{card}");
    }
}

/// More inputs with a value that changes the figures, and what must show up then.
const MORE: [(&str, &str, &str, &str); 9] = [
    (
        "Wheel over brake",
        "Measured wheel",
        "-89 190; -79 176; -40 171; 0 172; 38 176; 32 162; 0 85; 0 54 mm",
        "measured, 8 points",
    ),
    (
        "Wheel over brake",
        "Measured brake",
        "-93 112; -93 150; 0 151; 12 150; 12 112 mm",
        "measured, 5 points",
    ),
    ("Wheel over brake", "Measured to, either way", "5 mm", "measure to better than"),
    ("Fuel chain", "Regulator, set to or range", "20 kPa", "set to 20 kPa"),
    ("Fuel chain", "Regulator, set to or range", "set 45 to 60 kPa", "another regulator"),
    ("Lift, side view", "Bump travel", "120 mm", "Damper at bump, lifted does not fit"),
    ("Lift, side view", "Gearbox down, pinion up", "-3°", "more than 3°"),
    ("Driveline angles", "Lift", "200 mm", "lift by "),
    ("Tyre, old and new", "New tyre", "31x10.50R15LT", "To do: gear the speedometer cable"),
];

#[test]
fn what_was_measured_and_set_takes_its_place_in_the_drawing() {
    let mut desk = page();
    click(&mut desk, "Inch or metric");
    for (card, field, text, shows) in MORE {
        click(&mut desk, card);
        let before = drawing(&desk);
        assert!(!before.contains(shows), "{card}: {before}");
        write(&mut desk, field, text);
        assert!(drawing(&desk).contains(shows), "{card}: {field}: {}", drawing(&desk));
        for nonsense in ["", "0 1", "7 psi; 3", "∞ mm"] {
            write(&mut desk, field, nonsense);
            assert!(has(&desk, "drawn with "), "{card}: {field} takes {nonsense:?}");
            assert!(drawing(&desk).contains(shows), "{card}: {field}: {nonsense}");
        }
        click(&mut desk, "Back to the start");
        assert_eq!(drawing(&desk), before, "{card}");
    }
}

#[test]
fn what_rests_on_examples_is_no_verdict_on_the_vehicle() {
    let mut desk = page();
    // nobody has measured the caliper and the joints of the example
    for card in ["Wheel over brake", "Driveline angles", "Lift, side view"] {
        click(&mut desk, card);
        let told = drawing(&desk);
        assert!(told.contains("; With the example figures: ") && !told.contains("To do"), "{told}");
        assert!(has(&desk, "With the example figures: "), "{card}");
    }
    click(&mut desk, "Driveline angles");
    for (field, text) in [
        ("Shaft, joint to joint", "56 in"),
        ("Axle joint lower by", "2 in"),
        ("Joints apart sideways", "0 in"),
        ("Gearbox output points down", "3°"),
        ("Pinion points up", "9°"),
    ] {
        assert!(!drawing(&desk).contains("; To do: "), "{field}");
        write(&mut desk, field, text);
    }
    assert!(drawing(&desk).contains("; To do: "), "{}", drawing(&desk));
}

#[test]
fn loads_come_from_the_plan_with_who_takes_them() {
    let mut desk = page();
    click(&mut desk, "Charging balance");
    let pool = desk.state().assessment().pools.iter().find(|p| p.id == "idle-load").cloned().unwrap();
    let value = |desk: &Desk, field: &str| {
        desk.get_by_role_and_label(Role::TextInput, field).value().unwrap_or_default()
    };
    let shown = format!("{:.1} A", pool.taken);
    assert_eq!((value(&desk, "Load at idle"), value(&desk, "Load on the road")), (shown.clone(), shown));
    assert!(pool.takers.len() > 5);
    for taker in &pool.takers {
        assert!(has(&desk, &taker.name), "{}", taker.name);
    }
    assert!(has(&desk, "From the parts of this plan"));
    // another plan, other loads
    let before = value(&desk, "Load at idle");
    let plans: Vec<String> = desk.state().sheet().plans.values().map(|p| p.name.clone()).collect();
    let mut seen = std::collections::BTreeSet::from([before]);
    for plan in plans {
        if desk.state().sheet().plans[&desk.state().sheet().plan].name != plan {
            go_to(&mut desk, &format!("Work on plan: {plan}"));
        }
        seen.insert(value(&desk, "Load at idle"));
    }
    assert!(seen.len() > 1, "{seen:?}");
}

#[test]
fn a_regulator_of_the_plan_is_in_the_fuel_chain() {
    let mut desk = page();
    click(&mut desk, "Fuel chain");
    let plans: Vec<String> = desk.state().sheet().plans.values().map(|p| p.name.clone()).collect();
    let mut seen = [0, 0];
    for plan in plans {
        if desk.state().sheet().plans[&desk.state().sheet().plan].name != plan {
            go_to(&mut desk, &format!("Work on plan: {plan}"));
        }
        let wanted = desk
            .state()
            .assessment()
            .companions
            .iter()
            .any(|c| c.waived.is_none() && c.name.starts_with("Fuel pressure regulator"));
        let field = desk.get_by_role_and_label(Role::TextInput, "Regulator, set to or range").value();
        assert_eq!(field.as_deref() != Some("none"), wanted, "{plan}: {field:?}");
        seen[usize::from(wanted)] += 1;
    }
    assert!(seen.iter().all(|n| *n > 0), "{seen:?}");
}

#[test]
fn formulas_are_those_of_the_list() {
    let mut desk = page();
    for (card, ids) in [
        ("Tyre, old and new", ["tyre", "speedometer-error", "axle-ratio"].as_slice()),
        ("Wheel over brake", &["wheel-by-sizes", "wheel-over-brake", "backspacing"]),
        ("Gears", &["engine-speed", "road-speed"]),
        ("Charging balance", &["charging-balance", "rotor-speed"]),
        ("Driveline angles", &["joint-angles", "joint-swing", "shaft-order"]),
        ("Lift, side view", &["damper-length", "joint-angles"]),
        ("Fuel chain", &["fuel-pressure", "fuel-line"]),
        ("Brake share", &["axle-loads"]),
    ] {
        click(&mut desk, card);
        if card == "Wheel over brake" {
            // the wheel's outline comes from the library; without it the sizes are read
            write(&mut desk, "Measured wheel", "none");
        }
        click(&mut desk, "Formula and source");
        for id in ids {
            let figure = knockon_core::figure::find(id).unwrap();
            for words in [figure.name, figure.formula, figure.source] {
                assert!(has(&desk, words), "{card}: {id}: {words}");
            }
        }
        click(&mut desk, "Hide formula and source");
    }
}

#[test]
fn nonsense_leaves_a_message_and_the_last_drawing() {
    let mut desk = page();
    for card in CARDS {
        click(&mut desk, card);
        let before = drawing(&desk);
        let leads = ["; To do: ", "; As it is: ", "; With the example figures: "];
        assert!(leads.iter().any(|lead| before.contains(lead)), "{before}");
        let fields: Vec<String> = desk
            .query_all_by_role(Role::TextInput)
            .filter_map(|n| n.accesskit_node().label())
            .filter(|name| !name.starts_with("Find"))
            .collect();
        assert!(fields.len() >= 3, "{card}: {fields:?}");
        // the rest is typed into the cards themselves, which takes less time
        for field in fields.into_iter().take(2) {
            for text in ["", "nonsense", "1e999 in"] {
                write(&mut desk, &field, text);
                assert!(has(&desk, "drawn with "), "{card}: {field} takes {text:?}");
                assert_eq!(drawing(&desk), before, "{card}: {field}: {text:?}");
            }
            click(&mut desk, "Back to the start");
        }
        assert!(!has(&desk, "drawn with "), "{card}");
    }
}

#[test]
fn both_systems_show_every_card() {
    let mut desk = page();
    for card in CARDS {
        click(&mut desk, card);
        let inch = drawing(&desk);
        let fields = |desk: &Desk| -> Vec<String> {
            desk.query_all_by_role(Role::TextInput).filter_map(|n| n.value()).collect()
        };
        let typed = fields(&desk);
        click(&mut desk, "Inch or metric");
        let metric = drawing(&desk);
        for unit in [" psi", " mph", " lbf", "US g", " rev/mile"] {
            assert!(!metric.contains(unit), "{card}: {metric}");
        }
        for unit in [" mm", " kPa", " km/h", " rev/km"] {
            assert!(!inch.contains(unit), "{card}: {inch}");
        }
        click(&mut desk, "Inch or metric");
        assert_eq!((drawing(&desk), fields(&desk)), (inch, typed), "{card}");
    }
}

#[test]
fn what_was_written_in_outlives_another_plan_and_the_rest_follows_it() {
    let mut desk = page();
    let value = |desk: &Desk, field: &str| {
        desk.get_by_role_and_label(Role::TextInput, field).value().unwrap_or_default()
    };
    write(&mut desk, "Speed shown", "70 mph");
    let mut seen = std::collections::BTreeSet::new();
    let plans: Vec<String> = desk.state().sheet().plans.values().map(|p| p.name.clone()).collect();
    for plan in plans {
        if desk.state().sheet().plans[&desk.state().sheet().plan].name != plan {
            go_to(&mut desk, &format!("Work on plan: {plan}"));
        }
        assert_eq!(value(&desk, "Speed shown"), "70 mph", "{plan}");
        let a = desk.state().assessment();
        let tyres = a.positions.iter().find(|p| p.name == "Tyres").expect("it has tyres");
        let (found, fitted) = (tyres.as_found.as_ref().unwrap(), tyres.fitted.as_ref().unwrap());
        let size = value(&desk, "New tyre");
        if found == fitted {
            assert_eq!(size, "P235/75R15", "{plan}: the example");
        } else {
            assert!(fitted.1.contains(&size), "{plan}: {} has {size}", fitted.1);
        }
        seen.insert(size);
    }
    assert!(seen.len() > 1, "the plans have different tyres: {seen:?}");
}

#[test]
fn what_the_library_has_is_where_a_card_begins() {
    let mut desk = page();
    click(&mut desk, "Inch or metric");
    for (card, field, value, of) in [
        ("Fuel chain", "Bore of the line", "8 mm", "Feed line"),
        ("Fuel chain", "Length of the line", "6 m", "Feed line"),
        ("Brake share", "Weight on the front at rest", "56.9 %", "Corbrook Furrow 10"),
        ("Fuel chain", "Float valve over the fuel", "450 mm", "Corbrook Furrow 10, 1958, known to ±50 mm"),
        ("Brake share", "Centre of gravity up", "650 mm", "Corbrook Furrow 10, 1958, known to ±60 mm"),
        ("Brake share", "Wheelbase", "2896 mm", "Corbrook Furrow 10"),
        ("Brake share", "Pressure let through to the rear", "43 %", "Adjustable proportioning valve"),
        ("Gears", "Highest engine speed", "4000 rpm", "Corbrook Furrow 10"),
        ("Lift, side view", "Droop travel", "90 mm", "Corbrook Furrow 10"),
        (
            "Wheel over brake",
            "Measured wheel",
            "-101 207; -91 176; 38 176; 32 162; 32 93; 0 85; 0 54 mm",
            "Wheel, steel",
        ),
        (
            "Wheel over brake",
            "Measured brake",
            "-93 111.5; -93 169.5; 12 169.5; 12 111.5 mm",
            "Front disc kit",
        ),
    ] {
        click(&mut desk, card);
        let shown = desk.get_by_role_and_label(Role::TextInput, field).value().unwrap_or_default();
        assert_eq!(shown, value, "{card}: {field}");
        assert!(has(&desk, &format!("From {of}")), "{card}: {field} says from where");
    }
}

#[test]
fn a_figure_is_found_by_words_in_the_list_and_in_the_palette_and_its_form_works() {
    let mut desk = page();
    write(&mut desk, "Find a figure", "valve spring wire");
    click(&mut desk, "Coil spring rate");
    assert!(has(&desk, "lb/in") && has(&desk, "Formula: G d^4"));
    let rate = |desk: &Desk| {
        let said = |n: egui_kittest::Node<'_>| {
            let node = n.accesskit_node();
            node.label().or_else(|| node.value())
        };
        desk.query_all_by_label_contains("N/mm").filter_map(said).collect::<Vec<_>>()
    };
    let before = rate(&desk);
    assert!(!before.is_empty());
    write(&mut desk, "Wire", "0.5 in");
    assert_ne!(rate(&desk), before);
    // nonsense is named, and the last result stays
    let good = rate(&desk);
    write(&mut desk, "Wire", "thick");
    assert!(has(&desk, "drawn with 0.5 in"));
    assert_eq!(rate(&desk), good);
    write(&mut desk, "Find a figure", "xyzzy");
    assert!(has(&desk, "No figure answers that."));
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    go_to(&mut desk, "how much primer");
    assert!(has(&desk, "Formula: area x film"));
}
