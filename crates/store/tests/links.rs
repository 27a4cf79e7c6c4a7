//! What lies under a name and is no plain file: refused before it is opened, never followed, never waited for.
#![cfg(unix)]
#![allow(clippy::unwrap_used, reason = "a test may stop")]

use std::fs;
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::path::Path;
use std::sync::Arc;

use knockon_core::{Edit, Sheet};
use knockon_store::disk::{Disk as _, Machine, reading};
use knockon_store::journal::{self, Head, Line, Writer};
use knockon_store::unsaved::Record;
use knockon_store::{library, lists, put, sheets};

fn sheet() -> Sheet {
    sheets::parse("example", library::example()).unwrap()
}

fn pipe(path: &Path) {
    assert!(std::process::Command::new("mkfifo").arg(path).status().unwrap().success());
}

#[test]
fn pipes_and_devices_are_refused_and_not_waited_for() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path().join("a.json");
    pipe(&at);
    for path in [at.as_path(), Path::new("/dev/zero"), Path::new("/dev/null"), Path::new("/dev/tty")] {
        let told = sheets::open(path).unwrap_err().to_string();
        assert!(told.contains("not a regular file") || told.contains("cannot be read"), "{told}");
        assert!(sheets::save(path, &sheet()).is_err());
        assert!(reading(path).is_err());
        assert!(journal::read(&Machine, path).is_err());
        assert!(Machine.append(path, b"x", None).is_err());
        assert_eq!(put::read_own(path), None);
    }
    assert!(library::load(folder.path()).is_err());
    assert!(!fs::symlink_metadata(&at).unwrap().is_file(), "still a pipe");
}

#[test]
fn a_link_that_leads_nowhere_is_not_written_through() {
    let folder = tempfile::tempdir().unwrap();
    let (link, target) = (folder.path().join("a.json"), folder.path().join("gone"));
    symlink(&target, &link).unwrap();
    let told = sheets::save(&link, &sheet()).unwrap_err().to_string();
    assert!(told.contains("leads nowhere"), "{told}");
    assert!(!target.exists());
}

#[test]
fn a_journal_is_not_written_through_a_link_and_has_the_rights_of_its_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let (file, diary) = (at("a.json"), at("diary"));
    sheets::save(&file, &sheet()).unwrap();
    fs::set_permissions(&file, fs::Permissions::from_mode(0o600)).unwrap();
    fs::write(&diary, "mine\n").unwrap();
    symlink(&diary, at("planted")).unwrap();
    let lines = [Line::Edit(Edit::Rename { name: "x".into() })];
    let like = Machine.look(&file).unwrap();
    let mut writer = Writer::new(at("planted"), Head::default(), like.as_ref());
    assert!(writer.add(&Machine, &lines).is_err());
    assert!(journal::read(&Machine, &at("planted")).is_err());
    assert_eq!(fs::read_to_string(&diary).unwrap(), "mine\n");
    let mut writer = Writer::new(at("journal"), Head::default(), like.as_ref());
    writer.add(&Machine, &lines).unwrap();
    assert_eq!(fs::metadata(at("journal")).unwrap().permissions().mode() & 0o777, 0o600);
    assert_eq!(journal::read(&Machine, &at("journal")).unwrap().unwrap().edits.len(), 1);
}

#[test]
fn a_journal_from_before_there_were_checksums_is_read_and_no_torn_line_passes_for_one() {
    let edit = |name: &str| Edit::Rename { name: name.into() };
    let old = br#"{"edit":"rename","name":"a"}
{"edit":"ren
{"edit":"rename","name":"b"}
"#;
    let read = journal::Journal::of(old);
    assert_eq!((read.edits, read.lost), (vec![edit("a"), edit("b")], 1));
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path().join("j");
    Writer::new(at.clone(), Head::default(), None).add(&Machine, &[Line::Edit(edit("c"))]).unwrap();
    let mixed = [fs::read(&at).unwrap(), old.to_vec()].concat();
    let read = journal::Journal::of(&mixed);
    assert_eq!((read.edits, read.lost), (vec![edit("c")], 3));
}

#[test]
fn an_old_journal_that_is_written_on_keeps_what_it_had() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("a.json");
    sheets::save(&file, &sheet()).unwrap();
    fs::write(
        folder.path().join("a.json.journal"),
        "{\"edit\":\"note\",\"position\":\"fan\",\"text\":\"old\"}\n",
    )
    .unwrap();
    let mut record = Record::new(Arc::new(Machine), &file, None, None);
    assert_eq!(record.restore(&sheet()).sheet.notes["fan"], "old");
    let edit = Edit::Note { position: "tank".into(), text: "new".into() };
    record.add(&[Line::Edit(edit)], &Vec::new).unwrap();
    let found = Record::new(Arc::new(Machine), &file, None, None).restore(&sheet());
    assert_eq!((found.sheet.notes["fan"].as_str(), found.sheet.notes["tank"].as_str()), ("old", "new"));
    assert_eq!(found.notes, Vec::<String>::new());
}

#[test]
fn another_name_of_the_file_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let (file, other) = (folder.path().join("a.json"), folder.path().join("b.json"));
    sheets::save(&file, &sheet()).unwrap();
    fs::hard_link(&file, &other).unwrap();
    let before = fs::read(&other).unwrap();
    let saved = sheets::save(&file, &Sheet { name: "New".into(), ..sheet() }).unwrap();
    assert!(saved.notes.iter().any(|note| note.contains("2 names") && note.contains("a.json")), "{saved:?}");
    assert_eq!(fs::read(&other).unwrap(), before);
    assert!(sheets::save(&file, &Sheet { name: "Newer".into(), ..sheet() }).unwrap().notes.is_empty());
}

#[test]
fn back_ups_keep_rights_and_times_and_nothing_else_is_left_beside_the_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("a.json");
    sheets::save(&file, &sheet()).unwrap();
    fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).unwrap();
    let old = std::time::SystemTime::UNIX_EPOCH + std::time::Duration::from_secs(1_000_000_000);
    fs::File::options().append(true).open(&file).unwrap().set_modified(old).unwrap();
    let text = fs::read(&file).unwrap();
    sheets::save(&file, &Sheet { name: "New".into(), ..sheet() }).unwrap();
    for suffix in knockon_store::backups::SUFFIXES {
        let kept = folder.path().join(format!("a.json{suffix}"));
        let meta = fs::metadata(&kept).unwrap();
        assert_eq!((meta.permissions().mode() & 0o777, meta.modified().unwrap()), (0o640, old), "{suffix}");
        assert_eq!(fs::read(&kept).unwrap(), text);
    }
    assert_eq!(fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o640);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 4);
}

#[test]
fn what_is_too_large_is_refused_by_its_length() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("a.json");
    fs::File::create(&file).unwrap().set_len(knockon_store::disk::LARGEST + 1).unwrap();
    assert!(sheets::open(&file).unwrap_err().to_string().contains("too large"));
    assert!(journal::read(&Machine, &file).unwrap_err().to_string().contains("too large"));
    assert!(sheets::save(&file, &sheet()).unwrap_err().to_string().contains("too large"));
}

#[test]
fn a_list_replaces_what_a_link_leads_to_and_no_planted_name() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::write(at("diary"), "mine").unwrap();
    symlink(at("diary"), at("buy.csv.new")).unwrap();
    lists::write(&at("buy.csv"), "item,part id\r\n", None).unwrap();
    assert_eq!(fs::read_to_string(at("diary")).unwrap(), "mine");
}
