//! The versions kept beside a sheet: the one before the last change, the one before today's first, the one before this
//! week's first. Together they take at most three times the size of the sheet.

use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use crate::disk::{Disk, Looked, beside, plain};
use crate::put::{Ready, Unput};

/// What is added to the name of a sheet for the version before its last change, before the first change of today, and
/// before the first of this week. Days and weeks are those of UTC.
pub const SUFFIXES: [&str; 3] = [".bak", ".bak-day", ".bak-week"];

const DAY: Duration = Duration::from_secs(24 * 60 * 60);

/// The days since a Monday long ago.
fn day(time: SystemTime) -> Option<u64> {
    // 1 January 1970 was a Thursday
    Some(time.duration_since(UNIX_EPOCH).ok()?.as_secs() / DAY.as_secs() + 3)
}

/// The names under which a version last written at `written` is to be kept, when it is replaced now.
fn slots(written: Option<SystemTime>, now: SystemTime) -> Vec<&'static str> {
    let [last, today, week] = SUFFIXES;
    let mut out = vec![last];
    if let (Some(written), Some(now)) = (written.and_then(day), day(now)) {
        out.extend((written < now).then_some(today));
        out.extend((written / 7 < now / 7).then_some(week));
    }
    out
}

/// Keeps the content of a file that is about to be replaced; tells the back-ups that could not be written.
pub(crate) fn keep(disk: &dyn Disk, path: &Path, old: &[u8], looked: &Looked) -> Vec<String> {
    let one = |suffix: &str| -> Result<(), Unput> {
        let target = beside(path, suffix);
        let ready = Ready::new(disk, &target, old, Some(looked))?;
        ready.date(looked);
        ready.place(&target)
    };
    let failed = |suffix: &&str| {
        let (at, _, e): (PathBuf, _, _) = one(suffix).err()?;
        Some(format!(
            "{}: the version before could not be kept there: {}; the sheet itself is saved",
            at.display(),
            plain(&e)
        ))
    };
    slots(looked.modified, disk.now()).iter().filter_map(failed).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_change_of_a_day_and_of_a_week_keeps_the_version_before() {
        // a Sunday, and the Monday after it
        let sunday = UNIX_EPOCH + DAY * 3 + Duration::from_secs(86_000);
        let later = |seconds| sunday + Duration::from_secs(seconds);
        assert_eq!(slots(Some(sunday), later(10)), [".bak"]);
        assert_eq!(slots(Some(sunday), later(1_000)), [".bak", ".bak-day", ".bak-week"]);
        assert_eq!(slots(Some(later(1_000)), later(90_000)), [".bak", ".bak-day"]);
        assert_eq!(slots(None, sunday), [".bak"]);
        // a clock that was set back
        assert_eq!(slots(Some(later(1_000_000)), sunday), [".bak"]);
    }
}
