//! The whole desk, driven without a window.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop")]

/// The one of the program.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

mod access;
mod board;
mod buying;
mod came_back;
mod companions;
mod cures;
mod dates;
mod density;
mod described;
mod fields;
mod filled;
mod first_minutes;
mod fitup;
mod for_sale;
mod found;
mod gone;
mod half_way;
mod half_written;
mod help;
mod history;
mod identity;
mod jobs;
mod keyboard;
mod keys_alone;
mod libraries;
mod library;
mod look_twice;
mod measuring;
mod money;
mod one_way;
mod own_library;
mod own_parts;
mod photos;
mod photos_decoded;
mod plans;
mod printing;
mod scale;
mod sheets;
mod side_by_side;
mod survey;
mod together;
mod trust;
mod two_windows;
mod typed_ahead;
mod under_way;
mod units;
mod vehicle;
mod walk;
mod walk_round;
mod wrong_entries;
