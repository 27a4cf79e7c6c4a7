//! A small file system in memory that knows what of it would outlive a power cut, and lets calls fail.
//!
//! What was not synced may be there afterwards or not, write by write and name by name, in any order; a write may be torn.

use std::collections::{BTreeMap, BTreeSet};
use std::ffi::OsStr;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use knockon_store::disk::{Disk, Kind, Looked};

#[derive(Clone, Default)]
struct Inode {
    durable: Vec<u8>,
    /// Writes at the end since it was synced.
    pending: Vec<Vec<u8>>,
    modified: Duration,
}

impl Inode {
    fn whole(&self) -> Vec<u8> {
        [self.durable.clone(), self.pending.concat()].concat()
    }

    /// Everything that may be in it after a power cut.
    fn left(&self) -> BTreeSet<Vec<u8>> {
        let mut out = BTreeSet::new();
        let kept = self.pending.len().min(6);
        // of many writes the first are taken for written: the last are where it is decided
        let (early, late) = self.pending.split_at(self.pending.len() - kept);
        for subset in 0..1_u32 << kept {
            let mut bytes = [self.durable.clone(), early.concat()].concat();
            let mut last = None;
            for (n, write) in late.iter().enumerate() {
                if subset >> n & 1 == 1 {
                    last = Some((bytes.len(), write.len()));
                    bytes.extend(write);
                } else {
                    // a hole, where something behind it was written
                    bytes.extend(std::iter::repeat_n(0, write.len()));
                }
            }
            let end =
                last.map_or(bytes.len().min(self.durable.len() + early.concat().len()), |(at, len)| at + len);
            bytes.truncate(end);
            if let Some((at, len)) = last {
                for torn in [1, len / 2, len - 1] {
                    out.insert(bytes[..at + torn].to_vec());
                }
            }
            out.insert(bytes);
        }
        out
    }
}

#[derive(Default)]
struct State {
    inodes: Vec<Inode>,
    /// Names as the program sees them.
    now: BTreeMap<PathBuf, usize>,
    /// Names as they would be after a power cut at best, and what was done to each since.
    durable: BTreeMap<PathBuf, usize>,
    pending: BTreeMap<PathBuf, Vec<Option<usize>>>,
    clock: Duration,
    names: u32,
    calls: usize,
    fail_at: Option<usize>,
    /// This folder takes nothing.
    locked: Option<PathBuf>,
    /// Every call from `fail_at` on fails: the disk is gone.
    for_good: bool,
}

/// The file system.
#[derive(Default)]
pub struct Sim(Mutex<State>);

impl Sim {
    fn state(&self) -> MutexGuard<'_, State> {
        self.0.lock().unwrap()
    }

    /// Counts a call that changes something, and lets it fail where that is wanted.
    fn call(&self) -> io::Result<MutexGuard<'_, State>> {
        let mut state = self.state();
        state.calls += 1;
        state.clock += Duration::from_secs(3_001);
        let fails = state.fail_at.is_some_and(|at| state.calls == at || state.for_good && state.calls > at);
        if fails { Err(ErrorKind::StorageFull.into()) } else { Ok(state) }
    }

    /// How many calls there were.
    pub fn calls(&self) -> usize {
        self.state().calls
    }

    /// Lets one call fail, or it and all after it.
    pub fn fail_at(&self, at: usize, for_good: bool) {
        let mut state = self.state();
        (state.fail_at, state.for_good) = (Some(at), for_good);
    }

    /// Lets a folder take nothing, or all folders take everything again.
    pub fn lock(&self, folder: Option<&Path>) {
        self.state().locked = folder.map(Path::to_owned);
    }

    fn may(&self, folder: Option<&Path>) -> io::Result<()> {
        let state = self.state();
        let locked = state.locked.is_some() && state.locked.as_deref() == folder;
        if locked { Err(ErrorKind::PermissionDenied.into()) } else { Ok(()) }
    }

    /// All works again.
    pub fn mend(&self) {
        self.state().fail_at = None;
    }

    /// Everything that may lie under a name after a power cut; `None`: nothing.
    pub fn left(&self, path: &Path) -> BTreeSet<Option<Vec<u8>>> {
        let state = self.state();
        let names = std::iter::once(state.durable.get(path).copied());
        let all: BTreeSet<Option<usize>> =
            names.chain(state.pending.get(path).into_iter().flatten().copied()).collect();
        let mut out = BTreeSet::new();
        for inode in all {
            match inode {
                None => drop(out.insert(None)),
                Some(inode) => out.extend(state.inodes[inode].left().into_iter().map(Some)),
            }
        }
        out
    }

    /// A disk that holds just these files.
    pub fn with(files: &[(&Path, Option<&Vec<u8>>)]) -> Self {
        let sim = Self::default();
        for (path, bytes) in files {
            if let Some(bytes) = bytes {
                sim.append(path, bytes, None).unwrap();
            }
        }
        sim
    }

    fn set(state: &mut State, path: &Path, inode: Option<usize>) {
        match inode {
            Some(inode) => drop(state.now.insert(path.to_owned(), inode)),
            None => drop(state.now.remove(path)),
        }
        state.pending.entry(path.to_owned()).or_default().push(inode);
    }

    fn new_file(state: &mut State, path: &Path) -> usize {
        let modified = state.clock;
        state.inodes.push(Inode { modified, ..Inode::default() });
        let inode = state.inodes.len() - 1;
        Self::set(state, path, Some(inode));
        inode
    }
}

impl Disk for Sim {
    fn real(&self, path: &Path) -> io::Result<PathBuf> {
        Ok(path.to_owned())
    }

    fn look(&self, path: &Path) -> io::Result<Option<Looked>> {
        let state = self.state();
        Ok(state.now.get(path).map(|inode| {
            let inode = &state.inodes[*inode];
            let len = inode.whole().len() as u64;
            let modified = Some(UNIX_EPOCH + inode.modified);
            Looked { kind: Kind::File, len, modified, mode: Some(0o600), names: Some(1) }
        }))
    }

    fn read(&self, path: &Path, _most: u64) -> io::Result<Vec<u8>> {
        let state = self.state();
        state.now.get(path).map(|inode| state.inodes[*inode].whole()).ok_or(ErrorKind::NotFound.into())
    }

    fn create(&self, folder: &Path, stem: &OsStr, _mode: Option<u32>) -> io::Result<PathBuf> {
        self.may(Some(folder))?;
        let mut state = self.call()?;
        state.names += 1;
        let path = folder.join(format!(".{}.{}.new", stem.to_string_lossy(), state.names));
        Self::new_file(&mut state, &path);
        Ok(path)
    }

    fn append(&self, path: &Path, bytes: &[u8], _mode: Option<u32>) -> io::Result<bool> {
        self.may(path.parent())?;
        let mut state = match self.call() {
            Ok(state) => state,
            Err(e) => {
                // a full disk takes the first half
                let mut state = self.state();
                if let Some(inode) = state.now.get(path).copied() {
                    state.inodes[inode].pending.push(bytes[..bytes.len() / 2].to_vec());
                }
                return Err(e);
            }
        };
        let new = !state.now.contains_key(path);
        let inode = if new { Self::new_file(&mut state, path) } else { state.now[path] };
        let modified = state.clock;
        state.inodes[inode].pending.push(bytes.to_vec());
        state.inodes[inode].modified = modified;
        Ok(new)
    }

    fn date(&self, path: &Path, modified: SystemTime) -> io::Result<()> {
        // not told where it fails: a back-up with the wrong date is a back-up
        let mut state = self.state();
        let inode = state.now[path];
        state.inodes[inode].modified = modified.duration_since(UNIX_EPOCH).unwrap();
        Ok(())
    }

    fn sync(&self, path: &Path) -> io::Result<()> {
        let mut state = self.call()?;
        let inode = *state.now.get(path).ok_or(ErrorKind::NotFound)?;
        let inode = &mut state.inodes[inode];
        inode.durable = inode.whole();
        inode.pending.clear();
        Ok(())
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        let mut state = self.call()?;
        let here: Vec<PathBuf> =
            state.pending.keys().filter(|path| path.parent() == Some(folder)).cloned().collect();
        for path in here {
            state.pending.remove(&path);
            match state.now.get(&path).copied() {
                Some(inode) => drop(state.durable.insert(path, inode)),
                None => drop(state.durable.remove(&path)),
            }
        }
        Ok(())
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let mut state = self.call()?;
        let inode = *state.now.get(from).ok_or(ErrorKind::NotFound)?;
        Self::set(&mut state, to, Some(inode));
        Self::set(&mut state, from, None);
        Ok(())
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.may(path.parent())?;
        let mut state = self.call()?;
        if !state.now.contains_key(path) {
            return Err(ErrorKind::NotFound.into());
        }
        Self::set(&mut state, path, None);
        Ok(())
    }

    fn make_folder(&self, _folder: &Path) -> io::Result<()> {
        self.call().map(|_| ())
    }

    fn now(&self) -> SystemTime {
        UNIX_EPOCH + self.state().clock
    }
}
