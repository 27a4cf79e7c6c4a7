//! What cannot be undone says what is lost and what to keep, in the library and to whoever asks before choosing.

#![allow(clippy::expect_used, reason = "a test may stop")]

use knockon_core::library::Reversible;
use knockon_core::{assess, change, offers};
use knockon_report::{json, text};
use knockon_store::{library, sheets};

#[test]
fn every_part_that_leaves_a_mark_says_what_to_keep() {
    let catalogue = library::shipped();
    let mut marks = 0;
    for entry in catalogue.parts.values() {
        let (name, said) = (&entry.part.name, entry.part.undone.as_str());
        if entry.part.reversible == Reversible::Yes {
            assert_eq!(said, "", "{name} comes off again, nothing is lost");
            continue;
        }
        marks += 1;
        assert!(
            said.ends_with('.') && said.matches(". ").count() == 0,
            "{name}: one sentence, not \"{said}\""
        );
        let keeps = ["keep", "photograph", "measure", "note"].iter().any(|word| said.contains(word));
        assert!(keeps, "{name} does not say what to keep: \"{said}\"");
    }
    assert!(marks > 50, "{marks}");
}

#[test]
fn a_choice_says_it_before_it_is_made() {
    let sheet = sheets::parse("example", library::example()).expect("the example opens");
    let catalogue = library::shipped();
    let all = offers(&sheet, "sound", &catalogue, "floor-cover");
    let cut = all.iter().find(|o| o.part.as_deref() == Some("floor-cover-240")).expect("on offer");
    assert_eq!(cut.reversible, Reversible::No);
    assert!(cut.undone.contains("keep the piece that comes out"), "{}", cut.undone);
    let before = assess(&sheet, "sound", &catalogue);
    let after: Vec<_> = all.iter().map(|o| change::chosen(&sheet, "sound", &catalogue, o)).collect();
    let told = text::offers(&all, &before, &after);
    assert!(told.contains(&format!("    cannot be undone: {}\n", cut.undone)), "{told}");
    assert_eq!(json::offer(cut, "USD")["undone"], cut.undone.as_str());
    let kept = all.iter().find(|o| o.part.is_none()).expect("leaving it empty is on offer");
    assert_eq!((kept.reversible, kept.undone.as_str()), (Reversible::Yes, ""));
}
