//! Brake fluid grades and the least temperatures at which they may boil (49 CFR 571.116).

use uom::si::f64::{TemperatureInterval, ThermodynamicTemperature};
use uom::si::temperature_interval::kelvin as kelvin_interval;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::error::FigureError;
use crate::range::Range;

const FLUID_TEMPERATURE: Range = Range::new(-60.0, 500.0, "C");

/// A grade as marked on the container.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// DOT 3, glycol.
    Dot3,
    /// DOT 4, glycol with borate esters.
    Dot4,
    /// DOT 5, silicone.
    Dot5,
    /// DOT 5.1, glycol with the boiling points asked of DOT 5.
    Dot51,
}

/// Base of a fluid; different bases must not meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Base {
    /// Takes up water, eats paint.
    Glycol,
    /// Takes up no water; what gets in collects at the lowest place.
    Silicone,
}

/// Lowest boiling points a grade may have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoilingPoints {
    /// Fresh from a sealed container ("dry").
    pub dry: ThermodynamicTemperature,
    /// After taking up water as in the test of the rule, near 3.7 % of its mass ("wet").
    pub wet: ThermodynamicTemperature,
}

/// Every grade.
pub const GRADES: [Grade; 4] = [Grade::Dot3, Grade::Dot4, Grade::Dot5, Grade::Dot51];

impl Grade {
    /// Base of the fluid.
    #[must_use]
    pub fn base(self) -> Base {
        match self {
            Self::Dot5 => Base::Silicone,
            Self::Dot3 | Self::Dot4 | Self::Dot51 => Base::Glycol,
        }
    }

    /// Lowest boiling points a fluid of the grade may have.
    ///
    /// Source: 49 CFR 571.116 S5.1.1 and S5.1.2 (clause numbers from memory; the figures read on two makers' pages).
    #[must_use]
    pub fn boiling(self) -> BoilingPoints {
        let (dry, wet) = match self {
            Self::Dot3 => (205.0, 140.0),
            Self::Dot4 => (230.0, 155.0),
            Self::Dot5 | Self::Dot51 => (260.0, 180.0),
        };
        let celsius = ThermodynamicTemperature::new::<degree_celsius>;
        BoilingPoints { dry: celsius(dry), wet: celsius(wet) }
    }

    /// Whether two grades may stand in one circuit: of one base. The mixture is worth the lower of the two.
    #[must_use]
    pub fn mixes_with(self, other: Self) -> bool {
        self.base() == other.base()
    }
}

/// Room between a fluid temperature and the wet boiling point; negative where the pedal goes soft.
///
/// * `hottest`: of the fluid in the wheel cylinder, -60 to 500 C.
///
/// # Errors
/// [`FigureError`] if the temperature is out of its range.
///
/// Source: 49 CFR 571.116; the fluid is taken as old, which it is after two years (common practice).
pub fn wet_margin(
    grade: Grade,
    hottest: ThermodynamicTemperature,
) -> Result<TemperatureInterval, FigureError> {
    let hottest = FLUID_TEMPERATURE.check("fluid temperature", hottest.get::<degree_celsius>())?;
    let wet = grade.boiling().wet.get::<degree_celsius>();
    Ok(TemperatureInterval::new::<kelvin_interval>(wet - hottest))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::thermodynamic_temperature::degree_fahrenheit;

    use super::*;
    use crate::testing::{close, refuses};

    #[test]
    fn boiling_points_of_the_rule() {
        // 49 CFR 571.116 S5.1.1 and S5.1.2: DOT 3, 4, 5, 5.1: dry and wet, C and F
        for (grade, dry, wet, dry_f, wet_f) in [
            (Grade::Dot3, 205.0, 140.0, 401.0, 284.0),
            (Grade::Dot4, 230.0, 155.0, 446.0, 311.0),
            (Grade::Dot5, 260.0, 180.0, 500.0, 356.0),
            (Grade::Dot51, 260.0, 180.0, 500.0, 356.0),
        ] {
            let found = grade.boiling();
            close(Ok(found.dry.get::<degree_celsius>()), dry, 1e-12);
            close(Ok(found.wet.get::<degree_celsius>()), wet, 1e-12);
            close(Ok(found.dry.get::<degree_fahrenheit>()), dry_f, 1e-9);
            close(Ok(found.wet.get::<degree_fahrenheit>()), wet_f, 1e-9);
        }
    }

    #[test]
    fn silicone_mixes_with_nothing_else() {
        for one in GRADES {
            for other in GRADES {
                assert_eq!(one.mixes_with(other), (one == Grade::Dot5) == (other == Grade::Dot5));
                assert_eq!(one.mixes_with(other), other.mixes_with(one));
            }
        }
    }

    #[test]
    fn fresh_fluid_boils_later_than_old() {
        assert!(GRADES.windows(2).all(|w| w[0] < w[1]));
        assert!(GRADES.iter().all(|g| g.boiling().dry > g.boiling().wet));
    }

    proptest! {
        #[test]
        fn the_margin_falls_as_the_fluid_heats(c in -59.0..499.0, more in 0.01..1.0) {
            let at = |v| wet_margin(Grade::Dot4, ThermodynamicTemperature::new::<degree_celsius>(v))
                .map_or(f64::NAN, |m| m.get::<kelvin_interval>());
            prop_assert!(at(c + more) < at(c));
            prop_assert_eq!(at(c) > 1e-9, c < 155.0 - 1e-9);
        }
    }

    #[test]
    fn refuses_a_temperature_that_is_none() {
        for bad in [f64::NAN, f64::INFINITY, -61.0, 501.0] {
            let bad = ThermodynamicTemperature::new::<degree_celsius>(bad);
            refuses(wet_margin(Grade::Dot3, bad), "fluid temperature");
        }
    }
}
