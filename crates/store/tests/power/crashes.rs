//! Every state that a power cut can leave behind, over random histories of edits, syncs, saves and kills.

use std::collections::{BTreeSet, HashSet};
use std::path::{Path, PathBuf};

use knockon_store::backups::SUFFIXES;
use knockon_store::sheets;
use knockon_store::unsaved::{journals_of, look};

use crate::desk::{Desk, FILE, HOME, has_all};
use crate::sim::Sim;

/// How many histories; each has up to this many steps.
const HISTORIES: u64 = 1_000;
const STEPS: u32 = 14;

/// What was promised, and what lies under each name.
pub type Seen = HashSet<(u32, Vec<Option<Vec<u8>>>)>;

/// Everything that a power cut may leave of the sheet and its journals at this moment, each looked at once.
pub fn crash(desk: &Desk, seen: &mut Seen) -> usize {
    let file = Path::new(FILE);
    let mut names = vec![file.to_owned()];
    names.extend(journals_of(&*desk.disk, file, Some(Path::new(HOME))));
    let mut all = vec![Vec::new()];
    for name in &names {
        let left = desk.disk.left(name);
        let with = |state: &Vec<Option<Vec<u8>>>| {
            left.iter().map(|bytes| [state.clone(), vec![bytes.clone()]].concat()).collect::<Vec<_>>()
        };
        all = all.iter().flat_map(with).collect();
    }
    let mut states = 0;
    for state in all {
        if !seen.insert((desk.promised, state.clone())) {
            continue;
        }
        states += 1;
        let files: Vec<_> = names.iter().map(|n| n.as_path()).zip(state.iter().map(Option::as_ref)).collect();
        let after = Sim::with(&files);
        let (read, _) = sheets::open_on(&after, file).expect("the sheet is whole");
        assert!(desk.versions.contains(&read), "the sheet is one that was saved");
        let found = look(&after, file, Some(Path::new(HOME)), &read);
        if let Err(why) = has_all(&found.sheet, desk.promised) {
            let journals: Vec<_> = state.iter().flatten().map(|j| String::from_utf8_lossy(j)).collect();
            panic!("{why}\n{}", journals.join("\n---\n"));
        }
    }
    for suffix in SUFFIXES {
        for text in desk.disk.left(&PathBuf::from(format!("{FILE}{suffix}"))).into_iter().flatten() {
            let read =
                sheets::parse("back-up", std::str::from_utf8(&text).unwrap()).expect("a whole back-up");
            assert!(desk.versions.contains(&read));
        }
    }
    states
}

#[test]
fn no_power_cut_loses_what_was_acknowledged() {
    let (mut states, mut promised, mut elsewhere, mut kinds) = (0, 0_u64, 0, BTreeSet::new());
    for seed in 0..HISTORIES {
        let mut random = fastrand::Rng::with_seed(seed);
        let mut desk = Desk::new();
        let mut seen = HashSet::new();
        for _ in 0..random.u32(4..=STEPS) {
            let step = random.u32(0..10);
            kinds.insert(step);
            match step {
                0..4 => desk.edit(),
                4..6 => desk.sync(),
                6 => desk.save(false),
                7 => desk.save(true),
                8 => desk.lock(),
                _ => desk.come_back(),
            }
            assert!(desk.told.is_empty(), "{:?}", desk.told);
            states += crash(&desk, &mut seen);
        }
        promised += u64::from(desk.promised);
        elsewhere += desk.notes.len();
    }
    println!("{states} states, {promised} acknowledged edits, {elsewhere} times kept elsewhere");
    assert!(
        states > 20_000 && promised > 2_000 && elsewhere > 100 && kinds.len() == 10,
        "{states}, {promised}"
    );
}
