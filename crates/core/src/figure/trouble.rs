//! Why a figure cannot be worked out, in words or as a number that was refused.

use std::fmt;

use knockon_figures::FigureError;

/// Why a figure cannot be worked out, before the example is added.
#[derive(Debug)]
pub(crate) enum Trouble {
    /// In words.
    Words(String),
    /// A number that the formula refuses, told as it was typed.
    Number(FigureError),
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Words(words) => f.write_str(words),
            Self::Number(error) => error.fmt(f),
        }
    }
}

impl From<FigureError> for Trouble {
    fn from(error: FigureError) -> Self {
        Self::Number(error)
    }
}

impl From<knockon_figures::tyres::TyreCodeError> for Trouble {
    fn from(error: knockon_figures::tyres::TyreCodeError) -> Self {
        Self::Words(error.to_string())
    }
}
