//! What a measured check says of a part: good, watch or renew.

/// Verdict of a check, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// Within its limit.
    Good,
    /// Usable; to be measured again.
    Watch,
    /// Outside its limit.
    Renew,
}
