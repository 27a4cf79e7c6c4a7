//! What is wrong with a tyre size code: what was expected instead, with an example.

use crate::error::FigureError;

/// A code that gives no tyre size.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("tyre code \"{code}\": {problem}")]
pub struct TyreCodeError {
    /// What was written, cut off after [`TyreCodeError::SHOWN`] characters.
    pub code: String,
    /// What is wrong with it.
    pub problem: TyreCodeProblem,
}

/// What is wrong with a tyre size code.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum TyreCodeProblem {
    /// Nothing was written.
    #[error("nothing written; expected the size on the sidewall, for example 215/75R15")]
    Empty,
    /// Longer than any size is written.
    #[error("too long; expected the size alone, for example P235/75R15 105S")]
    TooLong,
    /// No known way to write a size.
    #[error(
        "not a way a size is written; expected one of 235/75R15, LT235/75R15, 31x10.50R15LT, F78-14, 6.70-15 or 165R15"
    )]
    Form,
    /// What stands behind the rim code is not known.
    #[error(
        "\"{0}\" behind the rim code is not known; expected LT, C, a load range or load index and speed symbol, \
         for example 235/75R15 105S"
    )]
    Suffix(char),
    /// The rim is given in millimetres.
    #[error(
        "the rim code {0} is in millimetres, which fits no inch rim; expected inches from 4 to 40, for example 15 in 165R15"
    )]
    MetricRim(f64),
    /// A letter size that is not in the table.
    #[error(
        "a letter size tells the load, not the dimensions, and this one is not in the table of 78-series sizes; measure \
         diameter and width of the tyre, or give a size it was replaced by, for example 205/75R14 for F78-14"
    )]
    LetterNotInTable,
    /// A flotation size whose diameter is not larger than its rim.
    #[error(
        "the tyre is no taller than its rim; expected diameter, width and rim in inches, for example 31x10.50R15LT"
    )]
    NoSidewall,
    /// A speed symbol that is not in the table.
    #[error("not a speed symbol; expected a letter from B to Y, for example S")]
    SpeedSymbol,
    /// A number of the code is out of its range.
    #[error("{0}")]
    Number(FigureError),
}

impl TyreCodeError {
    /// Most characters of a code that an error repeats.
    pub const SHOWN: usize = 32;

    pub(crate) fn new(code: &str, problem: TyreCodeProblem) -> Self {
        Self { code: code.chars().take(Self::SHOWN).collect(), problem }
    }
}

impl From<FigureError> for TyreCodeProblem {
    fn from(error: FigureError) -> Self {
        Self::Number(error)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_says_what_was_written_and_what_is_expected() {
        let error = TyreCodeError::new("190/65R390", TyreCodeProblem::MetricRim(390.0)).to_string();
        assert_eq!(
            error,
            "tyre code \"190/65R390\": the rim code 390 is in millimetres, which fits no inch rim; expected inches \
             from 4 to 40, for example 15 in 165R15"
        );
        let long = TyreCodeError::new(&"9".repeat(500), TyreCodeProblem::TooLong);
        assert_eq!(long.code.len(), TyreCodeError::SHOWN);
    }
}
