//! Tyres: size codes, diameter and turns over the road, load index, speed symbol.

mod code_error;
mod letters;
mod load;
mod parse;
mod size;
mod speed;
mod turns;

pub use code_error::{TyreCodeError, TyreCodeProblem};
pub use letters::{LETTER_LOADS_LB, LETTER_SIZES, LETTER_WITHIN, LetterLoad, LetterSize};
pub use load::{
    LOAD_INDEX_FIRST, LOAD_INDEX_KG, LOAD_INDEX_LAST, load_capacity, load_capacity_lb, load_index_wanted,
    usable_load,
};
pub use parse::parse;
pub use size::{AspectFrom, Construction, SizeSystem, TyreSize};
pub use speed::{SPEED_SYMBOLS, speed_limit};
pub use turns::{
    ROLLING_FACTOR_BIAS, ROLLING_FACTOR_RADIAL, metric_diameter, nominal_rim_diameter,
    revolutions_per_length, rolling_revolutions_per_length,
};

pub(crate) use turns::growth;
