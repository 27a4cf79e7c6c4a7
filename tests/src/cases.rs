//! How many random cases a property is tried on.

/// The name of the environment variable that says how many times as many cases are tried.
pub const MORE: &str = "KNOCKON_CASES";

/// So many cases, or as many times that as the environment says: `KNOCKON_CASES=20` tries twenty times as many. What is
/// not a number counts as one.
#[must_use]
pub fn cases(usual: u32) -> u32 {
    let times = std::env::var(MORE).ok().and_then(|n| n.parse::<u32>().ok()).unwrap_or(1);
    usual.saturating_mul(times.max(1))
}
