//! Quantities as the trade writes them: "12.25 in", "3/8 in", "7.02 in ±0.06 in", "18 AWG", "71 °C".

mod number;
mod spelling;
#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]
mod tests;
mod typed;

use crate::units::Dimension;
use number::number_and_unit;
pub(crate) use typed::without_comma;

/// A number with its dimension, in SI, and how far it may be off.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// What it measures.
    pub dimension: Dimension,
    /// In the SI unit of the dimension (degrees Celsius for temperature).
    pub si: f64,
    /// Half-width of the tolerance, SI; zero where none is written.
    pub tolerance: f64,
    /// As written; shown back to the user.
    pub text: String,
}

/// Why a text is no quantity.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum QuantityError {
    /// There is no number in front.
    #[error("expected a number with a unit such as \"12.25 in\", found \"{found}\"")]
    NoNumber {
        /// As read.
        found: String,
    },
    /// A comma stands in a number of a file.
    #[error(
        "\"{found}\" has a comma in its number; write a point for the decimals and nothing between thousands, such as \"{meant}\""
    )]
    CommaInFile {
        /// As read.
        found: String,
        /// With a point.
        meant: String,
    },
    /// The unit is not known.
    #[error("\"{unit}\" in \"{found}\" is not a unit known here{}", near(.nearest))]
    UnknownUnit {
        /// As read.
        found: String,
        /// The unknown unit.
        unit: String,
        /// The nearest known one.
        nearest: Option<String>,
    },
    /// The tolerance is of another dimension than the value.
    #[error("the tolerance \"{tolerance}\" in \"{found}\" is {}, expected {} as the value before it", with_article(.dimension), with_article(.wanted))]
    OtherTolerance {
        /// As read.
        found: String,
        /// The part behind the sign.
        tolerance: String,
        /// What that is.
        dimension: &'static str,
        /// What the value is.
        wanted: &'static str,
    },
    /// Two systems write the unit alike.
    #[error("\"{found}\" may be US or imperial: write \"{}\" or \"{}\"", .choices[0], .choices[1])]
    TwoSystems {
        /// As read.
        found: String,
        /// Both, written out.
        choices: [String; 2],
    },
    /// A number without a unit, where several are plain.
    #[error("\"{found}\" has no unit: is it \"{}\" or \"{}\"?", .choices[0], .choices[1])]
    NoUnit {
        /// As read.
        found: String,
        /// Two of them, written out.
        choices: [String; 2],
    },
    /// A comma with three digits behind it.
    #[error("the comma in \"{found}\" may mean {thousands} or {decimal}: write one of these")]
    Comma {
        /// As read.
        found: String,
        /// Without the comma.
        thousands: String,
        /// With a point.
        decimal: String,
    },
    /// A window begins above its end.
    #[error("\"{found}\" begins above its end; write the smaller value first")]
    Reversed {
        /// As read.
        found: String,
    },
    /// The dimension is another than the one wanted.
    #[error("expected {} such as \"{example}\", found the {dimension} \"{found}\"", with_article(.wanted))]
    WrongDimension {
        /// As read.
        found: String,
        /// Wanted dimension word.
        wanted: &'static str,
        /// What it is.
        dimension: &'static str,
        /// A good one.
        example: &'static str,
    },
}

fn with_article(word: &str) -> String {
    let article = if word.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {word}")
}

fn near(nearest: &Option<String>) -> String {
    nearest.as_ref().map_or_else(String::new, |n| format!("; did you mean \"{n}\"?"))
}

/// Longest text that is read as a quantity.
const LONGEST: usize = 200;

/// A text as an error repeats it: its first forty characters.
#[must_use]
pub fn echo(text: &str) -> String {
    const SHOWN: usize = 40;
    let text = text.trim();
    match text.char_indices().nth(SHOWN) {
        Some((at, _)) => format!("{}…", &text[..at]),
        None => text.to_owned(),
    }
}

/// The symbol of a unit as people write it: "psi" for "PSI", "lbf·ft" for "ft-lbs"; `None` where it is not known.
#[must_use]
pub fn symbol(unit: &str) -> Option<&'static str> {
    spelling::symbol(unit, None)
}

impl Quantity {
    /// Reads a quantity of any dimension. A bare number is a ratio.
    ///
    /// # Errors
    /// [`QuantityError`] with what was expected.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        Self::read(text, None)
    }

    fn read(written: &str, wanted: Option<Dimension>) -> Result<Self, QuantityError> {
        let found = || echo(written);
        let no_number = || QuantityError::NoNumber { found: found() };
        if written.len() > LONGEST {
            return Err(no_number());
        }
        let text = number::plain(written);
        let (main, tolerance) = match text.split_once('±') {
            Some((main, tolerance)) => (main.trim(), Some(tolerance.trim())),
            None => (text.as_str(), None),
        };
        let (number, unit) = number_and_unit(main).ok_or_else(no_number)?;
        // "20 ±1 A": the unit stands once, behind both
        let behind = tolerance.and_then(number_and_unit).map_or("", |(_, unit)| unit);
        let unit = if unit.is_empty() { behind } else { unit };
        let at = |number: f64, unit: &str| to_si(number, unit, wanted, written);
        let (dimension, si) = at(number, unit)?;
        let tolerance = match tolerance {
            None => 0.0,
            Some(t) => {
                let (n, u) = number_and_unit(t).ok_or_else(no_number)?;
                let u = if u.is_empty() { unit } else { u };
                let other = at(n, u)?.0;
                if other != dimension {
                    return Err(QuantityError::OtherTolerance {
                        found: found(),
                        tolerance: echo(t),
                        dimension: other.word(),
                        wanted: dimension.word(),
                    });
                }
                // a difference: degrees have no common zero, and gauge numbers run backwards in steps
                if u == unit {
                    let side = |n: f64| at(number + n, u).map(|(_, x)| (x - si).abs());
                    side(n)?.max(side(-n)?)
                } else {
                    (at(n, u)?.1 - at(0.0, u)?.1).abs()
                }
            }
        };
        Ok(Self { dimension, si, tolerance, text: written.trim().to_owned() })
    }

    /// Reads a quantity of one dimension. Pounds are then pounds of force where a force is wanted.
    ///
    /// # Errors
    /// [`QuantityError`] with what was expected.
    pub fn parse_as(text: &str, dimension: Dimension) -> Result<Self, QuantityError> {
        let quantity = Self::read(text, Some(dimension))?;
        if quantity.dimension == dimension {
            return Ok(quantity);
        }
        Err(QuantityError::WrongDimension {
            found: echo(text),
            wanted: dimension.word(),
            dimension: quantity.dimension.word(),
            example: example(dimension),
        })
    }

    /// Least and most it can be.
    #[must_use]
    pub fn bounds(&self) -> (f64, f64) {
        (self.si - self.tolerance, self.si + self.tolerance)
    }
}

/// A value of a dimension as it is written.
#[must_use]
pub fn example(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Length => "12.25 in",
        Dimension::Area => "13 mm2",
        Dimension::Volume => "0.6 L",
        Dimension::Mass => "998 kg",
        Dimension::Force => "50 lbf",
        Dimension::Pressure => "3.5 psi",
        Dimension::Angle => "3°",
        Dimension::Temperature => "71 °C",
        Dimension::TemperatureDifference => "12 °C apart",
        Dimension::Time => "45 min",
        Dimension::Speed => "60 mph",
        Dimension::RotationalSpeed => "600 rpm",
        Dimension::Torque => "30 N·m",
        Dimension::Power => "120 hp",
        Dimension::Current => "20 A",
        Dimension::Voltage => "13.5 V",
        Dimension::Resistance => "1.5 ohm",
        Dimension::Flow => "90 L/h",
        Dimension::PerLength => "728 rev/mile",
        Dimension::Charge => "55 Ah",
        Dimension::TorquePerPressure => "420 N·m/MPa",
        Dimension::Stiffness => "26 N/mm",
        Dimension::Ratio => "4.0",
    }
}

fn to_si(
    number: f64,
    unit: &str,
    wanted: Option<Dimension>,
    written: &str,
) -> Result<(Dimension, f64), QuantityError> {
    if unit.is_empty() {
        return Ok((Dimension::Ratio, number));
    }
    if let Some(choices) = spelling::either(unit) {
        let before =
            number::plain(written).split(|c: char| c.is_alphabetic()).next().unwrap_or("").trim().to_owned();
        return Err(QuantityError::TwoSystems {
            found: echo(written),
            choices: choices.map(|symbol| format!("{} {symbol}", echo(&before))),
        });
    }
    // an angle and a temperature are both told in degrees
    let is_degrees = matches!(wanted, Some(Dimension::Temperature | Dimension::TemperatureDifference));
    if is_degrees && spelling::symbol(unit, None) == Some("deg") {
        let choices = ["°C", "°F"].map(|symbol| format!("{number} {symbol}"));
        return Err(QuantityError::NoUnit { found: echo(written), choices });
    }
    if unit.strip_prefix(',').is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit())) {
        let meant = echo(&written.replacen(',', ".", 1));
        return Err(QuantityError::CommaInFile { found: echo(written), meant });
    }
    let symbol = match (wanted, spelling::symbol(unit, wanted)) {
        (Some(Dimension::TemperatureDifference), Some("°C")) => Some("°C apart"),
        (Some(Dimension::TemperatureDifference), Some("°F")) => Some("°F apart"),
        (_, symbol) => symbol,
    };
    let known = symbol.and_then(|symbol| spelling::to_si(number, symbol));
    known.ok_or_else(|| QuantityError::UnknownUnit {
        found: echo(written),
        unit: echo(unit),
        nearest: spelling::nearest(&echo(unit)).map(str::to_owned),
    })
}

/// Whether a text is a screw thread as the trade writes it: "M10x1.25", "3/8-24", "1/8-27 NPTF", "3/4-16 UNF".
#[must_use]
pub fn is_thread(text: &str) -> bool {
    thread_name(text).is_some()
}

/// The name of a thread as it is compared: "3/8-24" for "3/8-24 UNF", "#10-32" for "10-32"; a pipe thread as it is written.
/// `None` for what is no thread, or has no pitch.
#[must_use]
pub fn thread_name(text: &str) -> Option<String> {
    let text = text.trim();
    if let Some(name) = knockon_figures::fasteners::names::canonical(text) {
        return Some(name);
    }
    let number = |t: &str| !t.is_empty() && t.chars().all(|c| c.is_ascii_digit() || c == '.' || c == '/');
    let (size, kind) = text.split_once(' ').unwrap_or((text, ""));
    let kinds = ["", "NPT", "NPTF", "BSP", "BSPT", "BSPP", "LH", "RH", "UNS"];
    let pipe =
        text.len() <= LONGEST && size.contains('-') && size.split('-').all(number) && kinds.contains(&kind);
    pipe.then(|| text.to_owned())
}

/// Whether a text is a metric thread that says its size and no pitch: "M22" is cut with 1.5 as well as with 2.5 mm.
pub fn is_metric_size(text: &str) -> bool {
    let size = text.trim().strip_prefix('M').unwrap_or_default();
    !size.is_empty() && size.chars().all(|c| c.is_ascii_digit() || c == '.')
}
