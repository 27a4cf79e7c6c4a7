//! A tyre size as read from its code: diameter, width, sidewall, turns, and how sure they are.

use std::fmt;

use uom::si::f64::{Length, LinearNumberDensity, Mass};
use uom::si::length::inch;

use super::load::load_capacity;
use super::turns::{ROLLING_FACTOR_BIAS, ROLLING_FACTOR_RADIAL, rolling_revolutions_per_length};
use crate::error::FigureError;

/// Which way of writing sizes a code belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizeSystem {
    /// P235/75R15: passenger car, American load table.
    PMetric,
    /// 235/75R15, 165R15: ETRTO.
    EuroMetric,
    /// LT235/75R15: light truck.
    LightTruckMetric,
    /// 31x10.50R15LT: overall diameter and width in inches.
    Flotation,
    /// F78-14: letter of the load class, series, rim.
    Letter,
    /// 6.70-15: width in inches, rim.
    Numeric,
}

/// How the cords of a carcass lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Construction {
    /// R: radial.
    Radial,
    /// B: bias with a belt.
    Belted,
    /// D or a dash: bias-ply.
    Bias,
}

/// Where the height of the section comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AspectFrom {
    /// It stands in the code.
    Written,
    /// The code leaves it out, and the usual one was taken.
    Assumed,
    /// Worked out from the overall diameter in the code.
    Diameter,
    /// Looked up in a table that was written down from memory.
    Table,
}

/// A tyre size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TyreSize {
    /// The way the size is written.
    pub system: SizeSystem,
    /// How the cords lie.
    pub construction: Construction,
    /// Nominal section width on the measuring rim; a real tyre is within 4 % of a metric one.
    pub section: Length,
    /// Height of the section for each hundred of width.
    pub aspect_pct: f64,
    /// Where the height comes from.
    pub aspect_from: AspectFrom,
    /// Rim code, in.
    pub rim_in: f64,
    /// Nominal overall diameter, unloaded.
    pub diameter: Length,
    /// How far a real tyre may be off the diameter, as a share: 0.015 is 1.5 %.
    pub diameter_within: f64,
    /// Load index of a single tyre; `None` if the code has none.
    pub load_index: Option<u8>,
    /// Speed symbol; `None` if the code has none.
    pub speed_symbol: Option<char>,
    /// Letter of the load range; `None` if the code has none.
    pub load_range: Option<char>,
}

impl TyreSize {
    /// Height of the sidewall: `(diameter - rim) / 2`.
    ///
    /// Source: geometry, rim code in inches.
    #[must_use]
    pub fn sidewall(&self) -> Length {
        (self.diameter - Length::new::<inch>(self.rim_in)) / 2.0
    }

    /// How far two sizes leave the ratio of their diameters open, either way, as a share: both may be off by their own.
    ///
    /// Source: worst case of a quotient to the first order, both shares added.
    #[must_use]
    pub fn open_against(&self, other: &Self) -> f64 {
        self.diameter_within + other.diameter_within
    }

    /// Rolling over geometric circumference for the way the cords lie.
    ///
    /// Source: [`ROLLING_FACTOR_RADIAL`]; [`ROLLING_FACTOR_BIAS`] for the others, from memory.
    #[must_use]
    pub fn rolling_factor(&self) -> f64 {
        match self.construction {
            Construction::Radial => ROLLING_FACTOR_RADIAL,
            Construction::Belted | Construction::Bias => ROLLING_FACTOR_BIAS,
        }
    }

    /// Diameter that would roll as far with a factor of one: makes tyres of two constructions comparable.
    ///
    /// Source: [`Self::rolling_factor`].
    #[must_use]
    pub fn rolling_diameter(&self) -> Length {
        self.diameter * self.rolling_factor()
    }

    /// Turns over a length of road under load; ask it for `per_mile` or `per_kilometer`.
    ///
    /// # Errors
    /// [`FigureError`] if the diameter was changed to one out of its range.
    ///
    /// Source: [`rolling_revolutions_per_length`].
    pub fn revolutions(&self) -> Result<LinearNumberDensity, FigureError> {
        rolling_revolutions_per_length(self.diameter, self.rolling_factor())
    }

    /// Load one tyre may carry by its load index; `None` if the code has none.
    ///
    /// # Errors
    /// [`FigureError`] if the index is not in the table.
    ///
    /// Source: ISO 4000-1.
    pub fn load_capacity(&self) -> Result<Option<Mass>, FigureError> {
        self.load_index.map(load_capacity).transpose()
    }
}

impl fmt::Display for AspectFrom {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Written => "written in the size",
            Self::Assumed => "assumed, since the size leaves it out",
            Self::Diameter => "worked out from the diameter in the size",
            Self::Table => "looked up in a table from memory",
        })
    }
}
