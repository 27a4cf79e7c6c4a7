//! What was written is synced within half a second, in batches, off the frame; a disk that does not confirm it is told.

use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

use knockon_store::disk::Disk;
use knockon_store::syncing::Syncing;
use knockon_store::unsaved::Added;

use crate::sim::Sim;

fn added(begun: bool) -> Added {
    Added { file: Path::new("/s/j").to_owned(), begun, note: None }
}

#[test]
fn what_was_written_is_safe_within_half_a_second() {
    let disk = Arc::new(Sim::default());
    let syncing = Syncing::new(Arc::clone(&disk) as Arc<dyn Disk>, || {});
    for n in 0..20 {
        let begun = disk.append(Path::new("/s/j"), b"line\n", None).unwrap();
        syncing.soon(added(begun));
        assert_eq!(begun, n == 0);
    }
    let asked = Instant::now();
    let calls = disk.calls();
    // one thing alone can be left of it: all
    while disk.left(Path::new("/s/j")).len() > 1 {
        assert!(asked.elapsed() < Duration::from_millis(500), "not synced in time");
        std::thread::sleep(Duration::from_millis(5));
    }
    assert!(disk.calls() - calls <= 4, "in batches, not one by one");
    assert_eq!(syncing.trouble(), None);
}

#[test]
fn what_was_asked_for_is_synced_before_the_end() {
    let disk = Arc::new(Sim::default());
    let syncing = Syncing::new(Arc::clone(&disk) as Arc<dyn Disk>, || {});
    let begun = disk.append(Path::new("/s/j"), b"line\n", None).unwrap();
    syncing.soon(added(begun));
    drop(syncing);
    assert_eq!(disk.left(Path::new("/s/j")).into_iter().collect::<Vec<_>>(), [Some(b"line\n".to_vec())]);
}

#[test]
fn a_disk_that_does_not_confirm_is_told_and_wakes_the_desk() {
    let disk = Arc::new(Sim::default());
    disk.append(Path::new("/s/j"), b"line\n", None).unwrap();
    disk.fail_at(disk.calls() + 1, true);
    let (send, woken) = std::sync::mpsc::channel();
    let syncing = Syncing::new(Arc::clone(&disk) as Arc<dyn Disk>, move || {
        let _ = send.send(());
    });
    syncing.soon(added(true));
    woken.recv_timeout(Duration::from_secs(5)).unwrap();
    let told = syncing.trouble().unwrap();
    assert!(
        told.contains("/s/j") && told.contains("did not confirm") && !told.contains("os error"),
        "{told}"
    );
    assert_eq!(syncing.trouble(), None, "once");
}
