//! Each call of the store fails once, and from each call on the disk is gone: whole-old or whole-new, and told.

use std::path::Path;

use knockon_store::sheets;
use knockon_store::unsaved::look;

use crate::crashes::{Seen, crash};
use crate::desk::{Desk, FILE, HOME, has_all};

/// A day at the desk.
fn history(desk: &mut Desk) {
    for n in 0..3 {
        desk.edit();
        desk.edit();
        desk.sync();
        desk.edit();
        desk.save(n == 1);
        desk.edit();
        desk.sync();
    }
}

fn tried(fail_at: usize, for_good: bool) {
    let mut desk = Desk::new();
    let begun = desk.disk.calls();
    desk.disk.fail_at(begun + fail_at, for_good);
    history(&mut desk);
    let told = [&desk.told[..], &desk.notes].concat().join(" ");
    assert!(!told.is_empty(), "call {fail_at} failed and nothing was told");
    assert!(!told.contains("os error"), "{told}");
    // and the power fails besides
    crash(&desk, &mut Seen::default());
    desk.disk.mend();
    let file = Path::new(FILE);
    let (read, _) = sheets::open_on(&*desk.disk, file).expect("the sheet is whole");
    assert!(desk.versions.contains(&read), "call {fail_at}: the sheet is one that was saved");
    let found = look(&*desk.disk, file, Some(Path::new(HOME)), &read);
    has_all(&found.sheet, desk.promised).unwrap_or_else(|why| panic!("call {fail_at}: {why}"));
    if !for_good {
        // one call alone costs nothing: the change is kept elsewhere, or comes with the next save
        desk.save(false);
        let (read, _) = sheets::open_on(&*desk.disk, file).unwrap();
        has_all(&read, desk.last).unwrap_or_else(|why| panic!("call {fail_at}, saved after: {why}"));
    }
}

#[test]
fn each_call_that_fails_is_told_and_breaks_nothing() {
    let mut desk = Desk::new();
    let begun = desk.disk.calls();
    history(&mut desk);
    assert!(desk.told.is_empty(), "{:?}", desk.told);
    let calls = desk.disk.calls() - begun;
    assert!(calls > 60, "{calls}");
    for fail_at in 1..=calls {
        tried(fail_at, false);
        tried(fail_at, true);
    }
    println!("{calls} calls, each failed alone and with all after it");
}
