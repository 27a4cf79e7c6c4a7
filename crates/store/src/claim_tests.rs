//! Who has a file, and who only seems to.

use super::{Claim, Owner, beside, first};

#[test]
fn a_file_has_one_window_at_a_time() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    let file = folder.path().join("a.json");
    let claim = Claim::on(&file, Some(&home)).unwrap();
    assert!(claim.is_on(&file) && claim.is_on(&folder.path().join(".").join("a.json")));
    assert!(!claim.is_on(&folder.path().join("b.json")));
    // by another folder of settings too: two users
    for home in [Some(home.as_path()), Some(folder.path()), None] {
        let other = Claim::on(&file, home).unwrap_err();
        assert_eq!(*other, Owner::this());
        assert!(Claim::on(&folder.path().join(".").join("a.json"), home).is_err());
    }
    assert!(Claim::on(&folder.path().join("b.json"), Some(&home)).is_ok());
    drop(claim);
    assert!(!beside(&file, ".lock").exists(), "nothing is left beside the sheet");
    assert!(Claim::on(&file, None).is_ok());
}

#[cfg(unix)]
#[test]
fn a_link_to_a_file_is_the_same_file() {
    let folder = tempfile::tempdir().unwrap();
    let (file, link) = (folder.path().join("a.json"), folder.path().join("b.json"));
    std::fs::write(&file, "{}").unwrap();
    std::os::unix::fs::symlink(&file, &link).unwrap();
    let claim = Claim::on(&link, None).unwrap();
    assert!(claim.is_on(&file));
    assert!(Claim::on(&file, None).is_err());
}

#[test]
fn a_claim_that_was_left_behind_keeps_nobody_out() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("a.json");
    let here = Owner::this();
    let left = [
        Owner { boot: "before".into(), ..here.clone() },
        Owner { pid: 0x3FFF_FFFF, ..here.clone() },
        // on a disk of this machine nobody else can be alive
        Owner { host: "bench".into(), machine: "x".into(), ..here.clone() },
    ];
    for owner in left {
        std::fs::write(beside(&file, ".lock"), serde_json::to_string(&owner).unwrap()).unwrap();
        let claim = Claim::on(&file, None).unwrap();
        let named = std::fs::read_to_string(beside(&file, ".lock")).unwrap();
        assert_eq!(serde_json::from_str::<Owner>(&named).unwrap(), here);
        drop(claim);
    }
    for text in ["", "{", "\u{0}\u{1}", "[]"] {
        std::fs::write(beside(&file, ".lock"), text).unwrap();
        assert!(Claim::on(&file, None).is_ok(), "{text}");
    }
}

#[cfg(unix)]
#[test]
fn a_planted_lock_is_neither_followed_nor_waited_for() {
    let folder = tempfile::tempdir().unwrap();
    let (file, target) = (folder.path().join("a.json"), folder.path().join("diary"));
    std::fs::write(&target, "mine").unwrap();
    std::os::unix::fs::symlink(&target, beside(&file, ".lock")).unwrap();
    let home = folder.path().join("home");
    let claim = Claim::on(&file, Some(&home)).unwrap();
    assert_eq!(std::fs::read_to_string(&target).unwrap(), "mine");
    assert!(Claim::on(&file, Some(&home)).is_err(), "the user's own folder serves instead");
    drop(claim);
    assert_eq!(std::fs::read_to_string(&target).unwrap(), "mine");
}

#[test]
fn windows_without_a_file_are_kept_apart() {
    let home = tempfile::tempdir().unwrap();
    let (one, claim) = first(home.path(), "unsaved", false).unwrap();
    let (two, _claim) = first(home.path(), "unsaved", false).unwrap();
    assert_ne!(one, two);
    std::fs::write(&one, "{}").unwrap();
    assert!(first(home.path(), "unsaved", true).is_none(), "the first window still has it");
    drop(claim);
    assert_eq!(first(home.path(), "unsaved", true).unwrap().0, one);
}

/// The lock of a folder that takes none.
#[cfg(unix)]
fn no_locks(_: &std::fs::File) -> Result<(), std::fs::TryLockError> {
    Err(std::fs::TryLockError::Error(std::io::ErrorKind::Unsupported.into()))
}

#[cfg(unix)]
#[test]
fn where_a_folder_takes_no_locks_it_is_said_and_who_is_named_counts() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("a.json");
    let lock = beside(&file, ".lock");
    let claim = Claim::locking(&file, None, no_locks).unwrap();
    let note = claim.note.clone().unwrap();
    assert!(note.contains("takes no locks") && note.contains(&folder.path().display().to_string()), "{note}");
    let named = std::fs::read_to_string(&lock).unwrap();
    assert_eq!(serde_json::from_str::<Owner>(&named).unwrap(), Owner::this());
    drop(claim);
    assert!(!lock.exists(), "nothing is left beside the sheet");
    // another that runs keeps out: the process that started this one
    let here = Owner::this();
    let alive = Owner { pid: std::os::unix::process::parent_id(), ..here.clone() };
    std::fs::write(&lock, serde_json::to_string(&alive).unwrap()).unwrap();
    assert_eq!(*Claim::locking(&file, None, no_locks).unwrap_err(), alive);
    assert!(lock.exists(), "and loses nothing by it");
    // nobody here can say whether one of another machine has ended
    let elsewhere = Owner { host: "bench".into(), machine: "x".into(), pid: 1, ..here.clone() };
    std::fs::write(&lock, serde_json::to_string(&elsewhere).unwrap()).unwrap();
    assert_eq!(*Claim::locking(&file, None, no_locks).unwrap_err(), elsewhere);
    // and one that has ended does not
    let gone = Owner { pid: 0x3FFF_FFFF, ..here };
    std::fs::write(&lock, serde_json::to_string(&gone).unwrap()).unwrap();
    assert!(Claim::locking(&file, None, no_locks).is_ok());
}
