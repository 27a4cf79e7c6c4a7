//! Chassis numbers: the check digit where it applies, and plain words where it does not (49 CFR 565; ISO 3779).

use std::fmt;

use crate::error::FigureError;
use crate::range::Range;

/// First model year whose North American vehicles carry seventeen characters with a check digit.
///
/// Source: FMVSS 115 (1978 rule), now 49 CFR 565.
pub const FIRST_CHECKED_YEAR: u16 = 1981;

/// Weight of each place. Source: 49 CFR 565.15(c), table IV; the ninth is the check digit itself.
const WEIGHTS: [u32; 17] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

/// Codes of the model year in the tenth place from 1980 on; after 30 they begin again. Source: 49 CFR 565.15, table VII.
const YEARS: &[u8; 30] = b"ABCDEFGHJKLMNPRSTVWXY123456789";

const MODEL_YEAR: Range = Range::new(1880.0, 2100.0, "");

/// What a chassis number says of itself. Every text has an answer; none is an error.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ChassisNumber {
    /// Nothing was written.
    Empty,
    /// Built before the rule: the maker's own number, of any length, without a check digit.
    BeforeTheRule {
        /// Characters without blanks and hyphens.
        characters: usize,
    },
    /// Not seventeen characters: the maker's own number, or characters are missing.
    OtherLength {
        /// Characters without blanks and hyphens.
        characters: usize,
    },
    /// Seventeen characters with one that never stands in such a number.
    ForeignCharacter {
        /// The first one: I, O, Q or no letter or digit.
        character: char,
        /// Its place, from 1.
        place: usize,
    },
    /// Seventeen characters, and the check digit agrees.
    Agrees,
    /// Seventeen characters, and the check digit does not agree. Vehicles made for other markets need not have one, so it
    /// is a note there and a sign of a slip of the pen in North America.
    Differs {
        /// What stands in the ninth place.
        found: char,
        /// What would agree.
        expected: char,
    },
}

impl fmt::Display for ChassisNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "no number is given"),
            Self::BeforeTheRule { characters } => write!(
                f,
                "{}: before model year {FIRST_CHECKED_YEAR} every maker numbered in its own way, and there is no check \
                 digit; compare it with the plate, the frame and the papers",
                counted(*characters)
            ),
            Self::OtherLength { characters } => write!(
                f,
                "{}: a number with a check digit has 17; this is a maker's own number, or it was not read whole",
                counted(*characters)
            ),
            Self::ForeignCharacter { character, place } => {
                write!(
                    f,
                    "place {place} has \"{character}\", which never stands in a number of 17 characters"
                )?;
                match character {
                    'I' => write!(f, "; read it again, it may be 1"),
                    'O' | 'Q' => write!(f, "; read it again, it may be 0"),
                    _ => write!(f, "; only letters and digits do"),
                }
            }
            Self::Agrees => write!(f, "the check digit agrees"),
            Self::Differs { found, expected } => write!(
                f,
                "the check digit is {found} and would be {expected}: read the number again; a vehicle made for a market \
                 outside North America need not have one"
            ),
        }
    }
}

/// A count of characters in words.
fn counted(characters: usize) -> String {
    if characters == 1 { "1 character".to_owned() } else { format!("{characters} characters") }
}

/// Reads a chassis number. Blanks and hyphens do not count, nor do capitals.
///
/// * `number`: as it stands on the plate.
/// * `model_year`: 1880 to 2100, or `None` if it is not known: then seventeen characters are taken for the rule.
///
/// Each character has a value (A to H 1 to 8, J to N 1 to 5, P 7, R 9, S to Z 2 to 9), each place a weight; the sum's
/// remainder by 11 is the check digit, X for 10.
///
/// # Errors
/// [`FigureError`] if the model year is out of its range; never for the number.
///
/// Source: 49 CFR 565.15(c); ISO 3779.
pub fn read(number: &str, model_year: Option<u16>) -> Result<ChassisNumber, FigureError> {
    if let Some(year) = model_year {
        MODEL_YEAR.check("model year", f64::from(year))?;
    }
    let characters: Vec<char> =
        number.chars().filter(|c| !c.is_whitespace() && *c != '-').flat_map(char::to_uppercase).collect();
    if characters.is_empty() {
        return Ok(ChassisNumber::Empty);
    }
    if model_year.is_some_and(|year| year < FIRST_CHECKED_YEAR) {
        return Ok(ChassisNumber::BeforeTheRule { characters: characters.len() });
    }
    if characters.len() != WEIGHTS.len() {
        return Ok(ChassisNumber::OtherLength { characters: characters.len() });
    }
    let mut sum = 0;
    for (at, (character, weight)) in characters.iter().zip(WEIGHTS).enumerate() {
        let Some(value) = value_of(*character) else {
            return Ok(ChassisNumber::ForeignCharacter { character: *character, place: at + 1 });
        };
        sum += value * weight;
    }
    let expected = match sum % 11 {
        10 => 'X',
        digit => char::from_digit(digit, 10).unwrap_or('0'),
    };
    let found = characters.get(8).copied().unwrap_or('0');
    Ok(if found == expected { ChassisNumber::Agrees } else { ChassisNumber::Differs { found, expected } })
}

/// Value of a character. Source: 49 CFR 565.15(c), table III.
fn value_of(character: char) -> Option<u32> {
    match character {
        '0'..='9' => character.to_digit(10),
        'A'..='H' => Some(u32::from(character) - u32::from('A') + 1),
        'J'..='N' => Some(u32::from(character) - u32::from('J') + 1),
        'P' => Some(7),
        'R' => Some(9),
        'S'..='Z' => Some(u32::from(character) - u32::from('S') + 2),
        _ => None,
    }
}

/// Model years the tenth character can mean from 1980 to 2039, earliest first; empty if it means none.
///
/// A to Y without I, O, Q, U and Z, then 1 to 9; the same comes again after thirty years.
///
/// Source: 49 CFR 565.15, table VII (from memory).
#[must_use]
pub fn model_years(tenth: char) -> Vec<u16> {
    let tenth = tenth.to_ascii_uppercase();
    let at = YEARS.iter().position(|c| char::from(*c) == tenth);
    at.and_then(|at| u16::try_from(at).ok()).map_or_else(Vec::new, |at| vec![1980 + at, 2010 + at])
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::refuses;

    #[test]
    fn published_numbers() {
        // 49 CFR 565.15(c)(5), table V, and a library: NHTSA's outline for new manufacturers, the sample of
        // the regulation, an owners' club's worked example, and four made by faker 40.63
        for number in [
            "1J9RP1A36A1644345",
            "1G4AH59H45G118341",
            "JH2RC3605MM101581",
            "8WTXGFUL15NTJ3686",
            "ZM49G9ZK0G3TD9815",
            "W4XGKD6H5S4TJ2395",
            "0J7GLU256TXCL3369",
        ] {
            assert_eq!(read(number, Some(1990)), Ok(ChassisNumber::Agrees), "{number}");
            assert_eq!(read(&number.to_lowercase(), None), Ok(ChassisNumber::Agrees), "{number}");
        }
        // tier A: vin.reject/1G4AH59H45G11834, a character short
        assert_eq!(read("1G4AH59H45G11834", None), Ok(ChassisNumber::OtherLength { characters: 16 }));
    }

    #[test]
    fn every_weighted_sum_of_the_published_numbers() {
        // tiers P and L: the sums 314, 411, 280, 430, 484, 401, 347 before the remainder is taken
        for (number, sum) in [
            ("1J9RP1A36A1644345", 314),
            ("1G4AH59H45G118341", 411),
            ("JH2RC3605MM101581", 280),
            ("8WTXGFUL15NTJ3686", 430),
            ("ZM49G9ZK0G3TD9815", 484),
            ("W4XGKD6H5S4TJ2395", 401),
            ("0J7GLU256TXCL3369", 347),
        ] {
            let found: u32 = number.chars().zip(WEIGHTS).map(|(c, w)| value_of(c).unwrap() * w).sum();
            assert_eq!(found, sum, "{number}");
        }
    }

    #[test]
    fn old_and_short_numbers_get_words() {
        // tier P: vin.pre1981/rule
        let old = read("FD 12-3456", Some(1951)).unwrap();
        assert_eq!(old, ChassisNumber::BeforeTheRule { characters: 8 });
        assert!(old.to_string().contains("no check digit"));
        // even seventeen characters, if the year is before the rule
        let early = read("1G4AH59H45G118341", Some(1980)).unwrap();
        assert_eq!(early, ChassisNumber::BeforeTheRule { characters: 17 });
        assert_eq!(read("", Some(1951)), Ok(ChassisNumber::Empty));
        assert_eq!(read(" - ", None), Ok(ChassisNumber::Empty));
        assert!(read("ABC123", None).unwrap().to_string().contains("17"));
        refuses(read("ABC123", Some(0)), "model year");
        refuses(read("ABC123", Some(u16::MAX)), "model year");
    }

    #[test]
    fn a_slip_is_shown() {
        let wrong = read("1J9RP1A46A1644345", Some(1990)).unwrap();
        assert!(matches!(wrong, ChassisNumber::Differs { found: '6', .. }));
        let slip = read("1J9RP1A37A1644345", Some(1990)).unwrap();
        assert_eq!(slip, ChassisNumber::Differs { found: '7', expected: '6' });
        let oh = read("1J9RP1A36A164434O", Some(1990)).unwrap();
        assert_eq!(oh, ChassisNumber::ForeignCharacter { character: 'O', place: 17 });
        assert!(oh.to_string().contains("place 17") && oh.to_string().contains("may be 0"));
        let star = read("1J9RP1A36A16443*5", Some(1990)).unwrap();
        assert!(star.to_string().contains("only letters and digits"));
        assert!(read("7", Some(1930)).unwrap().to_string().starts_with("1 character:"));
    }

    #[test]
    fn years_of_the_tenth_place() {
        // 49 CFR 565.15: B is 1981, Y 2000, 1 is 2001, A 1980 and 2010
        for (letter, years) in
            [('B', [1981, 2011]), ('y', [2000, 2030]), ('1', [2001, 2031]), ('A', [1980, 2010])]
        {
            assert_eq!(model_years(letter), years, "{letter}");
        }
        for none in ['I', 'O', 'Q', 'U', 'Z', '0', 'é', ' '] {
            assert!(model_years(none).is_empty(), "{none}");
        }
    }

    proptest! {
        #[test]
        fn any_text_is_answered(text in ".{0,24}", year in proptest::option::of(1880_u16..2100)) {
            prop_assert!(read(&text, year).is_ok_and(|r| !r.to_string().is_empty()));
        }

        #[test]
        fn one_changed_character_is_found(at in 0_usize..17, digit in 0_u32..10) {
            // every weight but the ninth has no divisor in common with 11, so a change of value is found
            let mut number: Vec<char> = "11111111111111111".chars().collect();
            number[at] = char::from_digit(digit, 10).unwrap();
            let found = read(&number.iter().collect::<String>(), None).unwrap();
            prop_assert_eq!(found == ChassisNumber::Agrees, digit == 1);
        }

        #[test]
        fn the_expected_digit_agrees(body in "[A-HJ-NPR-Z0-9]{17}") {
            if let Ok(ChassisNumber::Differs { expected, .. }) = read(&body, None) {
                let mended: String = body.chars().enumerate().map(|(i, c)| if i == 8 { expected } else { c }).collect();
                prop_assert_eq!(read(&mended, None), Ok(ChassisNumber::Agrees));
            }
        }
    }
}
