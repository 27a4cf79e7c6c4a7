//! Knockon's core: the model of sheet and library, and `assess`, which works out what a plan drags in.
//!
//! Invariants of absence: nothing here reads a file, a clock, an environment variable or a global, and nothing
//! here knows of a screen. The same sheet and library give the same assessment.

mod agree;
pub mod amounts;
pub mod assess;
pub mod assessment;
pub mod box_key;
pub mod catalogue;
pub mod change;
pub mod compare;
pub mod date;
pub mod drawing;
pub mod edit;
pub mod explain;
pub mod figure;
pub mod find;
mod grammar;
pub mod identity;
pub mod jobs;
pub mod key;
pub mod layers;
pub mod library;
pub mod limits;
pub mod look_twice;
pub mod made_with;
pub mod meant;
mod mismatch;
pub mod money;
pub mod number;
pub mod phrase;
pub mod plain;
pub mod profile;
pub mod progress;
pub mod quantity;
pub mod reason;
pub mod refund;
mod refunded;
pub mod remedy;
mod schema;
pub mod schemas;
pub mod sheet;
pub mod showing;
pub mod source;
pub mod sources;
pub mod spent;
pub mod strangers;
pub mod survey;
pub mod table;
pub mod together;
pub mod units;
pub mod value;
pub mod whereabouts;
pub mod written;

pub use amounts::Amounts;
pub use assess::{alternatives, assess, derive, left_to_the_plan, offers, offers_while, outcomes, ports};
pub use assessment::Assessment;
pub use catalogue::Catalogue;
pub use edit::{Edit, EditError, apply};
pub use money::Money;
pub use sheet::Sheet;
