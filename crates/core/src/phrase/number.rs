//! A number that was worked out, until it is shown: how it is to be told, and in no units yet.

use crate::number::Decimals;
use crate::units::Dimension;
use crate::value::Kind;

/// How closely a length is told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Grain {
    /// As on a tape: sixteenths of an inch, millimetres; finer where it is small.
    #[default]
    Tape,
    /// As on a calliper: thousandths of an inch, hundredths of a millimetre.
    Fit,
}

/// A number that was worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// SI; degrees Celsius for a temperature.
    pub si: f64,
    /// The high end of a window, SI.
    pub to: Option<f64>,
    /// What it measures.
    pub dimension: Dimension,
    /// How closely, for a length.
    pub grain: Grain,
    /// What it is compared with, SI: the two are told so finely that they do not read alike where they differ.
    pub beside: Option<f64>,
    /// A difference: of temperatures it has no zero of the scale in it.
    pub difference: bool,
    /// A ratio in hundredths.
    pub percent: bool,
    /// With its sign, whichever that is.
    pub signed: bool,
    /// So many decimals at most, whatever it is.
    pub decimals: Option<Decimals>,
}

impl Number {
    /// A number of a dimension, SI.
    #[must_use]
    pub fn new(si: f64, dimension: Dimension) -> Self {
        Self {
            si,
            to: None,
            dimension,
            grain: Grain::Tape,
            beside: None,
            difference: false,
            percent: false,
            signed: false,
            decimals: None,
        }
    }

    /// A number of a kind; what has no dimension is a bare number.
    #[must_use]
    pub fn of(si: f64, kind: Option<Kind>) -> Self {
        match kind {
            Some(Kind::Dimension(dimension)) => Self::new(si, dimension),
            _ => Self::new(si, Dimension::Ratio),
        }
    }

    /// With what it is compared with, SI.
    #[must_use]
    pub fn beside(self, other: f64) -> Self {
        Self { beside: Some(other), ..self }
    }

    /// As far as another, SI.
    #[must_use]
    pub fn to(self, high: f64) -> Self {
        Self { to: Some(high), ..self }
    }

    /// As a fit is told.
    #[must_use]
    pub fn fit(self) -> Self {
        Self { grain: Grain::Fit, ..self }
    }

    /// As a difference.
    #[must_use]
    pub fn difference(self) -> Self {
        Self { difference: true, ..self }
    }

    /// In hundredths.
    #[must_use]
    pub fn percent(self) -> Self {
        Self { percent: true, ..self }
    }

    /// With its sign.
    #[must_use]
    pub fn signed(self) -> Self {
        Self { signed: true, ..self }
    }

    /// With so many decimals.
    #[must_use]
    pub fn decimals(self, decimals: usize) -> Self {
        Self { decimals: Some(Decimals(decimals)), ..self }
    }
}
