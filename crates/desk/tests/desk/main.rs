//! The whole desk, driven without a window.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod access;
mod board;
mod buying;
mod came_back;
mod companions;
mod cures;
mod dates;
mod density;
mod fields;
mod filled;
mod fitup;
mod found;
mod gone;
mod half_way;
mod half_written;
mod help;
mod history;
mod jobs;
mod libraries;
mod look_twice;
mod measuring;
mod one_way;
mod own_parts;
mod photos;
mod photos_decoded;
mod plans;
mod sheets;
mod survey;
mod together;
mod trust;
mod two_windows;
mod typed_ahead;
mod under_way;
mod units;
mod vehicle;
