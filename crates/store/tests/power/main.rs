//! Power cuts, and disks that fail: nothing that was acknowledged is lost, and no file is ever half of one.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod batches;
mod crashes;
mod desk;
mod faults;
mod sim;
