//! What tells this process from others: machine, boot, number, user; and whether a folder lies on another machine. The one
//! place, with what is below it, where the store asks one kind of system otherwise than another.

pub(crate) mod files;

use std::path::Path;

use serde::{Deserialize, Serialize};

use crate::digest::Digest;

/// A process that holds something.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Owner {
    /// The user's name, for messages.
    pub user: String,
    /// The machine's name, for messages.
    pub host: String,
    /// What tells machines of one name apart; empty where it is not known.
    pub machine: String,
    /// Changes whenever the machine is started; empty where it is not known.
    pub boot: String,
    /// The process number.
    pub pid: u32,
}

impl Owner {
    /// This process.
    #[must_use]
    pub fn this() -> Self {
        let line =
            |path: &str| std::fs::read_to_string(path).map(|t| t.trim().to_owned()).unwrap_or_default();
        let machine = line("/etc/machine-id");
        let user = ["USER", "LOGNAME", "USERNAME"].iter().find_map(|name| std::env::var(name).ok());
        Self {
            user: user.unwrap_or_default(),
            host: host(),
            // the number itself is nobody's business
            machine: if machine.is_empty() {
                machine
            } else {
                Digest::of(format!("knockon {machine}").as_bytes()).to_string().chars().take(16).collect()
            },
            boot: line("/proc/sys/kernel/random/boot_id"),
            pid: std::process::id(),
        }
    }

    /// It is on the same machine.
    #[must_use]
    pub fn same_machine(&self, other: &Self) -> bool {
        (&self.host, &self.machine) == (&other.host, &other.machine)
    }

    /// It is sure to have ended, as seen from this process.
    #[must_use]
    pub fn is_gone(&self, here: &Self) -> bool {
        self.same_machine(here) && (self.boot != here.boot || self.pid == 0 || !runs(self.pid))
    }

    /// What can be done where it has ended and nobody here can know: a sentence to be added, or nothing.
    #[must_use]
    pub fn way_out(&self, lock: &Path) -> String {
        if self.same_machine(&Self::this()) {
            String::new()
        } else {
            format!(" If that machine does not have it open any more, delete {}.", lock.display())
        }
    }

    /// As a message names it.
    #[must_use]
    pub fn words(&self) -> String {
        match (self.user.as_str(), self.host.as_str()) {
            ("", "") => "another process".to_owned(),
            ("", host) => format!("process {} on {host}", self.pid),
            (user, host) => format!("{user} on {host}, process {}", self.pid),
        }
    }
}

#[cfg(unix)]
fn host() -> String {
    rustix::system::uname().nodename().to_string_lossy().into_owned()
}

#[cfg(not(unix))]
fn host() -> String {
    std::env::var("COMPUTERNAME").unwrap_or_default()
}

/// Whether a process of this machine runs.
#[cfg(unix)]
fn runs(pid: u32) -> bool {
    let pid = i32::try_from(pid).ok().and_then(rustix::process::Pid::from_raw);
    // whose process it is does not matter: one of another user's refuses
    pid.is_some_and(|pid| rustix::process::test_kill_process(pid) != Err(rustix::io::Errno::SRCH))
}

#[cfg(not(unix))]
fn runs(_pid: u32) -> bool {
    true
}

/// Kinds of folders that several machines may see: NFS, SMB (three numbers), 9P, AFS, Ceph, Coda, FUSE (of which nobody
/// can say what is behind it).
const SHARED: [u64; 9] = [
    0x6969,
    0xFF53_4D42,
    0xFE53_4D42,
    0x517B,
    0x0102_1997,
    0x5346_414F,
    0x00C3_6400,
    0x7375_7245,
    0x6573_5546,
];

/// Whether other machines may see a folder too.
#[cfg(target_os = "linux")]
pub(crate) fn is_shared(folder: &Path) -> bool {
    // the number is one of 32 bits, whatever the width of its type
    rustix::fs::statfs(folder).is_ok_and(|fs| SHARED.contains(&(fs.f_type as u64 & 0xFFFF_FFFF)))
}

#[cfg(not(target_os = "linux"))]
pub(crate) fn is_shared(_folder: &Path) -> bool {
    let _ = SHARED;
    true
}

#[cfg(test)]
mod tests {
    use super::Owner;

    #[test]
    fn who_is_gone_is_told_by_machine_boot_and_number() {
        let here = Owner::this();
        assert!(!here.is_gone(&here) && here.pid > 0, "{here:?}");
        assert!(Owner { boot: "before".into(), ..here.clone() }.is_gone(&here));
        // no process has this number
        assert!(Owner { pid: 0x3FFF_FFFF, ..here.clone() }.is_gone(&here));
        let there = Owner { host: "bench".into(), pid: 0x3FFF_FFFF, ..here.clone() };
        assert!(!there.is_gone(&here), "nobody here can say");
        let lock = std::path::Path::new("a.json.lock");
        assert_eq!(here.way_out(lock), "");
        assert!(there.way_out(lock).ends_with("delete a.json.lock."));
        // the first process is another user's
        assert!(!Owner { pid: 1, ..here.clone() }.is_gone(&here));
    }
}
