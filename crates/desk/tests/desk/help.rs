//! What every test of the desk does: start it, press keys, walk to a place.

use std::cell::Cell;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::assessment::Offer;
use knockon_core::date::{self, Date};
use knockon_core::sheet::{LineState, Route};
use knockon_desk::{App, Start};
use knockon_store::libraries::{Wanted, usable};

pub type Desk = Harness<'static, App>;

thread_local! {
    /// The day it is on the desk of a test.
    pub static TODAY: Cell<&'static str> = const { Cell::new("2026-03-01") };
}

fn today() -> Date {
    date::day(TODAY.get()).expect("a day")
}

pub fn start(file: Option<PathBuf>, home: Option<PathBuf>) -> Desk {
    start_with(file, home, Wanted::default())
}

/// Tests of these modules are about what clears the clashes together. In all others it is not looked for: it would take a third
/// of the time of all tests.
const CURES: [&str; 5] = ["cures::", "keys_alone::", "one_way::", "together::", "under_way::"];

fn is_about_cures() -> bool {
    let test = std::thread::current();
    test.name().is_some_and(|name| CURES.iter().any(|module| name.starts_with(module)))
}

/// With these libraries.
pub fn start_with(file: Option<PathBuf>, home: Option<PathBuf>, libraries: Wanted) -> Desk {
    let example = knockon_store::sheets::parse("the example", knockon_store::library::example())
        .expect("the example is a sheet");
    let loaded = usable(&libraries).expect("libraries that can be used");
    let faults = loaded.faults().map(|fault| fault.text.clone()).collect();
    let start = Start { file, catalogue: loaded.catalogue, libraries, faults, example, today };
    let mut desk = Harness::builder()
        .with_size([1366.0, 768.0])
        .with_max_steps(12)
        .build_eframe(move |cc| App::with_home(cc, start, home));
    desk.state_mut().look_for_cures(is_about_cures());
    settle(&mut desk);
    // all of the board is told, unless a test is about how much is
    if desk.state().page_is_board() {
        press(&mut desk, Modifiers::ALT, Key::E);
    }
    desk
}

/// What clears the clashes of the open place is still looked for: it moves what stands below in the panel once it is found.
fn may_move(desk: &Desk) -> bool {
    let app = desk.state();
    let open = app.selected();
    app.searching()
        && app.assessment().clashes.iter().any(|c| open.as_ref().is_some_and(|id| c.positions.contains(id)))
}

/// Frames until nothing is under way any more, and nothing moves by itself.
pub fn settle(desk: &mut Desk) {
    let begun = Instant::now();
    loop {
        desk.run_steps(3);
        if !desk.state().busy() && !may_move(desk) {
            break;
        }
        assert!(begun.elapsed() < Duration::from_secs(120), "work off the frame does not come back");
        std::thread::sleep(Duration::from_millis(5));
        // each frame is a sixtieth of a second on the desk, and what waits for a pause must not see one
        while may_move(desk) && desk.state().search_is_at_work() && begun.elapsed() < Duration::from_secs(120)
        {
            std::thread::sleep(Duration::from_millis(5));
        }
    }
    desk.run_steps(2);
}

/// Frames until what clears the clashes together is worked out.
pub fn searched(desk: &mut Desk) {
    let begun = Instant::now();
    while desk.state().searching() {
        assert!(begun.elapsed() < Duration::from_secs(120), "the search does not come to an end");
        std::thread::sleep(Duration::from_millis(10));
        desk.run_steps(1);
    }
    settle(desk);
}

/// On the board, past the start page.
pub fn board(home: Option<PathBuf>) -> Desk {
    let mut desk = start(None, home);
    desk.get_by_label_contains("Back to ").click();
    settle(&mut desk);
    press(&mut desk, Modifiers::ALT, Key::E);
    desk
}

pub fn press(desk: &mut Desk, modifiers: Modifiers, key: Key) {
    desk.key_press_modifiers(modifiers, key);
    settle(desk);
}

/// The first button whose name begins so, as a whole or up to a comma.
pub fn button<'d>(desk: &'d Desk, lead: &str) -> Option<egui_kittest::Node<'d>> {
    let lead = lead.to_lowercase();
    desk.query_all_by_role(Role::Button).find(|n| {
        let label = n.accesskit_node().label().unwrap_or_default().to_lowercase();
        label.strip_prefix(&lead).is_some_and(|rest| rest.is_empty() || rest.starts_with(", "))
    })
}

/// Opens a line of the panel that is folded.
pub fn unfold(desk: &mut Desk, lead: &str) {
    button(desk, lead).expect("a line that opens").scroll_to_me();
    settle(desk);
    // a message may lie over it
    button(desk, lead).expect("a line that opens").click_accesskit();
    settle(desk);
}

pub fn has(desk: &Desk, part: &str) -> bool {
    desk.query_all_by_label_contains(part).next().is_some()
}

/// Selects positions through the palette until one offers a conversion that brings companions.
pub fn conversion(desk: &mut Desk) -> Offer {
    let places: Vec<(String, String)> =
        desk.state().assessment().positions.iter().map(|p| (p.id.clone(), p.name.clone())).collect();
    for (id, name) in places {
        go_to(desk, &name);
        let found = desk.state().offered().into_iter().find(|o| {
            o.position == id && o.route == Route::Convert && !o.current && !o.companions_added.is_empty()
        });
        if let Some(offer) = found {
            return offer;
        }
    }
    panic!("no position of the example offers a conversion with companions");
}

pub fn go_to(desk: &mut Desk, name: &str) {
    press(desk, Modifiers::COMMAND, Key::K);
    go_to_typed(desk, name);
}

/// Takes the first answer of the open palette.
pub fn go_to_typed(desk: &mut Desk, name: &str) {
    desk.get_by_role_and_label(Role::TextInput, "Command or place").type_text(name);
    settle(desk);
    press(desk, Modifiers::NONE, Key::Enter);
}

/// The number keys in order.
pub const DIGITS: [Key; 9] =
    [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6, Key::Num7, Key::Num8, Key::Num9];

/// Takes the offer with its number key, and says yes where that is asked.
pub fn take(desk: &mut Desk, offer: &Offer) {
    let at = desk.state().offered().iter().position(|o| o == offer).expect("it is on offer");
    // figures are meant for a measurement where one is asked
    let a = desk.state().assessment();
    if a.to_measure.iter().any(|m| m.positions.contains(&offer.position)) {
        let mut rows: Vec<_> = desk
            .query_all_by_role(Role::RadioButton)
            .filter(|n| !n.accesskit_node().label().unwrap_or_default().starts_with("Show "))
            .collect();
        rows.sort_by(|a, b| a.rect().top().total_cmp(&b.rect().top()));
        rows[at].click_accesskit();
        settle(desk);
        return say_yes(desk);
    }
    match DIGITS.get(at) {
        Some(key) => press(desk, Modifiers::NONE, *key),
        None => panic!("the conversion is beyond the ninth offer"),
    }
    say_yes(desk);
}

/// Says yes where a step that cannot be undone asks: no has the keyboard, yes is one Tab further.
pub fn say_yes(desk: &mut Desk) {
    if has(desk, "Choose it all the same") {
        click(desk, "Choose it all the same");
    }
}

pub fn converted(home: Option<PathBuf>) -> (Desk, Offer) {
    let mut desk = board(home);
    let offer = conversion(&mut desk);
    take(&mut desk, &offer);
    (desk, offer)
}

pub fn companion_of(desk: &Desk, offer: &Offer) -> knockon_core::assessment::Companion {
    let a = desk.state().assessment();
    let all = a.companions.iter().filter(|c| !c.in_kit && c.waived.is_none() && !c.accepted);
    let new = all.filter(|c| offer.companions_added.contains(&c.name));
    new.into_iter().find(|c| c.line == LineState::ToBuy).expect("a companion to decide").clone()
}

pub fn type_path(desk: &mut Desk, path: &std::path::Path, verb: &str) {
    // the proposed path is selected: typing replaces it
    desk.get_by_role_and_label(Role::TextInput, "Path of the file").type_text(&path.display().to_string());
    settle(desk);
    desk.get_by_role_and_label(Role::Button, verb).click();
    settle(desk);
}

/// Brings a control into sight and clicks it.
pub fn click(desk: &mut Desk, label: &str) {
    let label = whole(desk, label);
    desk.get_by_label(&label).scroll_to_me();
    settle(desk);
    desk.get_by_label(&label).click();
    settle(desk);
}

/// The whole name of a control: behind a comma or a colon stand its value and its state.
fn whole(desk: &Desk, label: &str) -> String {
    if desk.query_all_by_label(label).next().is_some() {
        return label.to_owned();
    }
    let all = desk.query_all_by_label_contains(label);
    let mut names = all.map(|n| n.accesskit_node().label().unwrap_or_default());
    let is_it = |name: &String| name.strip_prefix(label).is_some_and(|rest| rest.starts_with([',', ':']));
    names.find(is_it).unwrap_or_else(|| panic!("nothing is called {label}"))
}

/// Types into a field in place of what stands there, and leaves it.
pub fn write(desk: &mut Desk, field: &str, text: &str) {
    desk.get_by_role_and_label(Role::TextInput, field).focus();
    settle(desk);
    press(desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, field).type_text(text);
    settle(desk);
    press(desk, Modifiers::NONE, Key::Enter);
}
