//! Quantities as the trade writes them: "12.25 in", "3/8 in", "7.02 in ±0.06 in", "18 AWG", "71 °C".

use std::sync::LazyLock;

use crate::units::{self, Dimension, Unit};

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

static UNITS: LazyLock<Vec<Unit>> = LazyLock::new(units::table);

impl Quantity {
    /// Reads a quantity of any dimension. A bare number is a ratio.
    ///
    /// # Errors
    /// [`QuantityError`] with what was expected.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        let text = text.trim();
        let (main, tolerance) = match text.split_once('±') {
            Some((main, tolerance)) => (main.trim(), Some(tolerance.trim())),
            None => (text, None),
        };
        let (number, unit) =
            number_and_unit(main).ok_or_else(|| QuantityError::NoNumber { found: text.to_owned() })?;
        // "20 ±1 A": the unit stands once, behind both
        let behind = tolerance.and_then(number_and_unit).map_or("", |(_, unit)| unit);
        let unit = if unit.is_empty() { behind } else { unit };
        let (dimension, si) = to_si(number, unit).ok_or_else(|| unknown(text, unit))?;
        let tolerance = match tolerance {
            None => 0.0,
            Some(t) => {
                let (n, u) =
                    number_and_unit(t).ok_or_else(|| QuantityError::NoNumber { found: text.to_owned() })?;
                let u = if u.is_empty() { unit } else { u };
                let at = |x: f64, u: &str| to_si(x, u).ok_or_else(|| unknown(text, u));
                let other = at(n, u)?.0;
                if other != dimension {
                    return Err(QuantityError::OtherTolerance {
                        found: text.to_owned(),
                        tolerance: t.to_owned(),
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
        Ok(Self { dimension, si, tolerance, text: text.to_owned() })
    }

    /// Reads a quantity of one dimension.
    ///
    /// # Errors
    /// [`QuantityError`] with what was expected.
    pub fn parse_as(text: &str, dimension: Dimension) -> Result<Self, QuantityError> {
        let quantity = Self::parse(text)?;
        if quantity.dimension == dimension {
            return Ok(quantity);
        }
        Err(QuantityError::WrongDimension {
            found: text.trim().to_owned(),
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

fn unknown(text: &str, unit: &str) -> QuantityError {
    let typed = unit.to_lowercase();
    let nearest = UNITS
        .iter()
        .filter_map(|u| {
            let symbol = u.symbol.to_lowercase();
            let alike = strsim::jaro_winkler(&typed, &symbol);
            Some((letters_off(&typed, &symbol)?, alike, u.symbol))
        })
        .min_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)))
        .map(|(.., symbol)| symbol.to_owned());
    QuantityError::UnknownUnit { found: text.to_owned(), unit: unit.to_owned(), nearest }
}

/// How many letters a word is off a unit that may be meant: at most two, and half of the letters; `None`: more.
fn letters_off(typed: &str, symbol: &str) -> Option<usize> {
    // "gal" for "US gal", "km" for "km/h"
    if typed.len() > 1 && symbol.split([' ', '/']).any(|word| word == typed) {
        return Some(0);
    }
    let off = strsim::osa_distance(typed, symbol);
    let longer = typed.chars().count().max(symbol.chars().count());
    (off <= 2 && off * 2 <= longer).then_some(off)
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

fn to_si(number: f64, unit: &str) -> Option<(Dimension, f64)> {
    if unit.is_empty() {
        return Some((Dimension::Ratio, number));
    }
    match unit {
        "AWG" => {
            // ASTM B258: diameter in mm = 0.127 * 92^((36 - n) / 39)
            let diameter = 0.127e-3 * 92_f64.powf((36.0 - number) / 39.0);
            return Some((Dimension::Area, std::f64::consts::FRAC_PI_4 * diameter * diameter));
        }
        "°C" | "C" => return Some((Dimension::Temperature, number)),
        "°F" | "F" => return Some((Dimension::Temperature, (number - 32.0) / 1.8)),
        "%" => return Some((Dimension::Ratio, number / 100.0)),
        _ => {}
    }
    let plain = unit.replace('²', "2").replace('³', "3");
    let symbol = match plain.as_str() {
        "\"" | "inch" | "inches" => "in",
        "l" | "litre" | "litres" => "L",
        "l/h" => "L/h",
        // the ordinal sign is what some keyboards have
        "°" | "º" | "degree" | "degrees" => "deg",
        "Ω" | "ohms" => "ohm",
        "Nm" => "N·m",
        "Nm/MPa" | "N m/MPa" => "N·m/MPa",
        "lbf ft" | "lb ft" | "lb·ft" | "lb-ft" | "ft lb" | "ft lbf" | "ft·lbf" | "ft-lb" | "ft-lbf" => {
            "lbf·ft"
        }
        "sq mm" => "mm2",
        "hour" | "hours" => "h",
        "days" => "day",
        "weeks" => "week",
        "months" => "month",
        "years" => "year",
        other => other,
    };
    UNITS.iter().find(|u| u.symbol == symbol).map(|u| (u.dimension, number * u.factor))
}

/// Splits "1-1/8 in" into 1.125 and "in". Decimals, fractions and mixed fractions.
fn number_and_unit(text: &str) -> Option<(f64, &str)> {
    let end = text
        .char_indices()
        .find(|(i, c)| {
            !(c.is_ascii_digit()
                || matches!(c, '.' | '/')
                || (*c == '-' || *c == '+') && *i == 0
                || *c == '-' && text[..*i].ends_with(|p: char| p.is_ascii_digit())
                || *c == ' ' && mixed(&text[*i + 1..]))
        })
        .map_or(text.len(), |(i, _)| i);
    let end = end + exponent(&text[..end], &text[end..]);
    let number = plain_number(text[..end].trim())?;
    number.is_finite().then_some((number, text[end..].trim()))
}

/// How many letters of the rest are an exponent: 2 of "e9A", none of "e" or of what follows a fraction.
fn exponent(number: &str, rest: &str) -> usize {
    let Some(power) = rest.strip_prefix(['e', 'E']) else { return 0 };
    let sign = usize::from(power.starts_with(['-', '+']));
    let digits = power[sign..].bytes().take_while(u8::is_ascii_digit).count();
    let plain = number.ends_with(|c: char| c.is_ascii_digit() || c == '.') && !number.contains(['/', ' ']);
    if digits > 0 && plain { 1 + sign + digits } else { 0 }
}

/// Whether a blank is followed by the fraction of a mixed number: "1 1/8".
fn mixed(rest: &str) -> bool {
    let word = rest.split(' ').next().unwrap_or("");
    word.contains('/') && word.chars().all(|c| c.is_ascii_digit() || c == '/')
}

fn plain_number(text: &str) -> Option<f64> {
    let (sign, text) = text.strip_prefix('-').map_or((1.0, text), |t| (-1.0, t));
    let fraction = |t: &str| -> Option<f64> {
        let (a, b) = t.split_once('/')?;
        let (a, b): (f64, f64) = (a.parse().ok()?, b.parse().ok()?);
        (b != 0.0).then_some(a / b)
    };
    let value = if text.contains(['e', 'E']) {
        text.parse::<f64>().ok()?
    } else if let Some((whole, part)) = text.split_once(['-', ' ']) {
        whole.parse::<f64>().ok()? + fraction(part)?
    } else if text.contains('/') {
        fraction(text)?
    } else {
        text.parse::<f64>().ok()?
    };
    Some(sign * value)
}

/// Whether a text is a screw thread as the trade writes it: "M10x1.25", "3/8-24", "1/8-27 NPTF", "3/4-16 UNF".
#[must_use]
pub fn is_thread(text: &str) -> bool {
    let text = text.trim();
    let number = |t: &str| !t.is_empty() && t.chars().all(|c| c.is_ascii_digit() || c == '.' || c == '/');
    if let Some(metric) = text.strip_prefix('M') {
        return metric.split([' ']).next().is_some_and(|m| m.split(['x', '×']).all(number));
    }
    let (size, kind) = text.split_once(' ').unwrap_or((text, ""));
    let kinds =
        ["", "UNF", "UNC", "UNEF", "NPT", "NPTF", "BSP", "BSPT", "BSPP", "LH", "RH", "UNS", "BSF", "BSW"];
    // "1-1/4-12" has three pieces
    size.contains('-') && size.split('-').all(number) && kinds.contains(&kind)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn si(text: &str) -> f64 {
        Quantity::parse(text).unwrap().si
    }

    #[test]
    fn the_trade_s_ways_of_writing() {
        // exact by definition: 1 in = 25.4 mm (NIST SP 811)
        assert!((si("12.25 in") - 0.31115).abs() < 1e-12);
        assert!((si("3/8 in") - 0.009_525).abs() < 1e-12);
        assert!((si("1-1/8 in") - 0.028_575).abs() < 1e-12);
        assert!((si("1 1/8 in") - 0.028_575).abs() < 1e-12);
        // 1 psi = 6 894.757 Pa (NIST SP 811, table B.8)
        assert!((si("3.5 psi") - 24_131.65).abs() < 0.01);
        // ASTM B258: 18 AWG is 0.823 mm2
        assert!((si("18 AWG") * 1e6 - 0.823).abs() < 0.001);
        for text in ["7.02 in ±0.06", "7.02 in ±0.06 in", "7.02 ±0.06 in"] {
            let wide = Quantity::parse(text).unwrap();
            assert!(
                (wide.tolerance - 0.06 * 0.0254).abs() < 1e-12 && (wide.si - 7.02 * 0.0254).abs() < 1e-12
            );
        }
        // a difference of 9 °F is one of 5 °C (NIST SP 811)
        let warm = Quantity::parse("180 °F ±9 °F").unwrap();
        assert!((warm.tolerance - 5.0).abs() < 1e-9, "{}", warm.tolerance);
        let mixed = Quantity::parse("82 °C ±9 °F").unwrap();
        assert!((mixed.tolerance - 5.0).abs() < 1e-9, "{}", mixed.tolerance);
        assert!((si("71 °C") - 71.0).abs() < 1e-12);
        assert!((si("27") - 27.0).abs() < 1e-12);
    }

    #[test]
    fn an_exponent_is_read_with_and_without_a_blank() {
        for (text, same) in
            [("1e9A", "1000000000 A"), ("1e3 kg", "1000 kg"), ("1.5E-3 m", "1.5 mm"), ("2e+1", "20")]
        {
            assert!((si(text) / si(same) - 1.0).abs() < 1e-12, "{text}");
        }
        for wrong in ["1e", "1e A", "e9 A", "1/2e3 in", "1e400 kg", "1e9", "1 e9 A"] {
            assert!(Quantity::parse_as(wrong, Dimension::Current).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_tolerance_of_another_kind_says_so() {
        let error = Quantity::parse("13 psi ±1 mm").unwrap_err().to_string();
        let told = "the tolerance \"1 mm\" in \"13 psi ±1 mm\" is a length, expected a pressure as the value before it";
        assert_eq!(error, told);
    }

    #[test]
    fn a_unit_is_read_in_each_way_it_is_typed() {
        for (ways, symbol) in [
            (&["3°", "3 °", "3 º", "3 deg", "3deg", "3 degrees", "3 degree"][..], "3 deg"),
            (&["30 Nm", "30 N m"], "30 N·m"),
            (&["30 lb-ft", "30 ft-lb", "30 ft lb", "30 lbf ft", "30 lb ft"], "30 lbf·ft"),
            (&["420 Nm/MPa"], "420 N·m/MPa"),
        ] {
            for way in ways {
                assert_eq!(si(way).to_bits(), si(symbol).to_bits(), "{way}");
            }
        }
        assert!((Quantity::parse("6° ±1°").unwrap().tolerance.to_degrees() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn distances_driven_and_times_between_services() {
        // exact by definition: 1 mile = 1,609.344 m (NIST SP 811)
        assert!((si("50 miles") - 80_467.2).abs() < 1e-6);
        assert!((si("1 mile") - si("1.609344 km")).abs() < 1e-9);
        assert!((si("2 weeks") - 14.0 * si("24 h")).abs() < 1e-6);
        assert!(
            (si("1 year") - 12.0 * si("1 month")).abs() < 1e-3
                && (si("1 year") / si("1 day") - 365.25).abs() < 1e-9
        );
        assert!((si("6 months") - si("0.5 years")).abs() < 1e-3);
    }

    #[test]
    fn every_dimension_has_an_example_that_is_one() {
        for (word, dimension) in Dimension::WORDS {
            assert!(Quantity::parse_as(example(dimension), dimension).is_ok(), "{word}");
        }
        let error = Quantity::parse_as("3 mm", Dimension::Angle).unwrap_err().to_string();
        assert_eq!(error, "expected an angle such as \"3°\", found the length \"3 mm\"");
    }

    #[test]
    fn wrong_words_name_the_nearest() {
        let error = Quantity::parse("3.5 psl").unwrap_err().to_string();
        assert!(error.contains("did you mean \"psi\""), "{error}");
        for (typed, meant) in [("5 kmh", "km/h"), ("5 mils", "miles"), ("3 PSI", "psi"), ("2 gal", "US gal")]
        {
            let error = Quantity::parse(typed).unwrap_err().to_string();
            assert!(error.contains(&format!("did you mean \"{meant}\"")), "{error}");
        }
        for far in ["5 bananas", "5 q", "5 xy", "5 furlongs", "5 …"] {
            let error = Quantity::parse(far).unwrap_err().to_string();
            assert!(error.contains("is not a unit") && !error.contains("did you mean"), "{error}");
        }
        let error = Quantity::parse_as("3.5 psi", Dimension::Length).unwrap_err().to_string();
        assert!(error.contains("length") && error.contains("pressure"), "{error}");
        for bad in ["", "in", "/ in", "1/0 in", "--1 mm", "1e999999 mm", "nan mm"] {
            assert!(Quantity::parse(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn threads() {
        for good in ["M10x1.25", "3/8-24", "1/8-27 NPTF", "1-1/4-12", "7/16-20 UNF", "M18x1.5"] {
            assert!(is_thread(good), "{good}");
        }
        for bad in ["10 mm", "banjo", "", "M", "3/8"] {
            assert!(!is_thread(bad), "{bad}");
        }
    }
}
