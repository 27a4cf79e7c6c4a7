//! What the tests that cross crates share: generated libraries and sheets, and the slow second implementation of
//! `assess` they are judged by.

pub mod as_found;
pub mod cases;
pub mod every_cure;
pub mod examples;
pub mod generate;
pub mod mutate;
pub mod oracle;
pub mod random_plan;
pub mod renamed;
pub mod schemas;
pub mod spoil;
