//! Reads a tyre size code: metric, light truck, flotation, letter, numeric (ISO 4000-1, T&RA Year Book, ETRTO).

use uom::si::f64::Length;
use uom::si::length::{inch, millimeter};

use super::code_error::{TyreCodeError, TyreCodeProblem};
use super::letters::{LETTER_WITHIN, look_up};
use super::size::{AspectFrom, Construction, SizeSystem, TyreSize};
use super::turns::{ASPECT, DIAMETER, RIM, SECTION, metric_diameter};

/// A width from here on is in hundredths of an inch.
const HUNDREDTHS: f64 = 400.0;
/// Smallest rim behind an x; a smaller number is a width.
const SMALLEST_RIM: f64 = 10.0;
/// Longest code that is read.
const LONGEST: usize = 40;

/// A real tyre is within this share of the diameter in its code.
const WITHIN: f64 = 0.015;
/// A flotation tyre measures about 12 mm under its code (UN R54, from memory), which is up to this share.
const WITHIN_FLOTATION: f64 = 0.02;
/// An aspect ratio the code leaves out can be off by so much that the diameter is off by this share.
const WITHIN_ASSUMED: f64 = 0.035;

/// Aspect ratio of a metric size that has none, and of numeric sizes that end in 5.
const ASPECT_LEFT_OUT: f64 = 82.0;
/// Aspect ratio of passenger sizes in whole tenths of an inch: their real width is above the nominal one.
const ASPECT_NUMERIC: f64 = 95.0;
/// Aspect ratio of numeric truck sizes and of all on 16-inch rims.
const ASPECT_NUMERIC_TRUCK: f64 = 105.0;
/// Aspect ratio of numeric sizes on the 15-degree rims of lorries, whose code ends in a half: such a tyre is lower than the
/// one of the same width on a whole-inch rim. T&RA Year Book, from memory.
const ASPECT_HALF_INCH_RIM: f64 = 86.0;
/// The same on the 16.5 rims of light trucks.
const ASPECT_LIGHT_HALF_INCH_RIM: f64 = 73.0;

/// Reads a tyre size code. Small letters and blanks will do.
///
/// | written | is | diameter |
/// |---|---|---|
/// | `P235/75R15`, `235/75R15`, `LT235/75R15` | width in mm, aspect ratio, rim in inches | `25.4 rim + 2 width aspect / 100` |
/// | `165R15`, `165-15` | the aspect ratio is left out | as above with 82, marked as assumed |
/// | `31x10.50R15LT` | overall diameter, width and rim in inches | as written; real tyres are about 12 mm smaller |
/// | `F78-14`, `FR78-14` | load class, series, rim | looked up in [`super::LETTER_SIZES`] |
/// | `30x3.5`, `30x3-1/2` | diameter and width in inches | as written; the tyre is as high as wide |
/// | `6.70-15`, `6.00x16`, `670-15`, `11R22.5` | width in inches, rim | aspect ratio 95 assumed; 82 for sizes that end in 5; 105 with LT or rim 16; 86 on half-inch rims, 73 on 16.5 |
///
/// Behind it may stand LT or C, a load range (`/C`), load index and speed symbol (`105S`, `110/107Q`).
///
/// # Errors
/// [`TyreCodeError`] saying what was expected, with an example; a number of the code out of its range is named.
///
/// Source: ISO 4000-1, T&RA Year Book, ETRTO Standards Manual; 82 as printed in a stored encyclopaedia page; the
/// numeric aspect ratios are from memory, held against measured tyres.
pub fn parse(code: &str) -> Result<TyreSize, TyreCodeError> {
    read(code).map_err(|problem| TyreCodeError::new(code.trim(), problem))
}

fn read(code: &str) -> Result<TyreSize, TyreCodeProblem> {
    let trimmed = code.trim();
    if trimmed.is_empty() {
        return Err(TyreCodeProblem::Empty);
    }
    if trimmed.chars().count() > LONGEST {
        return Err(TyreCodeProblem::TooLong);
    }
    let upper = trimmed.to_uppercase().replace('×', "X").replace(',', ".");
    let upper = ["½", "-1/2", " 1/2"].iter().fold(upper, |text, half| text.replace(half, ".5"));
    let (size, service) = split_service(&upper);
    let mut cursor = Cursor { rest: &size };
    let mut found = read_size(&mut cursor)?;
    found.load_range = read_suffix(&mut cursor)?;
    if let Some((index, symbol)) = service {
        found.load_index = Some(index);
        found.speed_symbol = Some(symbol);
    }
    Ok(found)
}

/// Takes load index and speed symbol off the end, and all blanks out of what is left.
fn split_service(code: &str) -> (String, Option<(u8, char)>) {
    let mut words: Vec<&str> = code.split_whitespace().collect();
    let service = if words.len() > 1 { words.last().and_then(|word| read_service(word)) } else { None };
    if service.is_some() {
        words.pop();
    }
    (words.concat(), service)
}

/// "105S", "(105S)" or "110/107Q": index of a single tyre and symbol.
fn read_service(word: &str) -> Option<(u8, char)> {
    let word = word.trim_matches(['(', ')']);
    let mut letters = word.chars();
    let symbol = letters.next_back().filter(char::is_ascii_uppercase)?;
    let digits = letters.as_str();
    let single = digits.split('/').next()?;
    let plain = digits
        .split('/')
        .all(|part| (2..=3).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit()));
    if plain { single.parse().ok().map(|index| (index, symbol)) } else { None }
}

fn read_size(cursor: &mut Cursor<'_>) -> Result<TyreSize, TyreCodeProblem> {
    let system = cursor.prefix();
    if system.is_none()
        && let Some(letter) = cursor.letter()
    {
        return letter_size(cursor, letter);
    }
    let first = cursor.number()?;
    if cursor.eat('X') {
        let second = cursor.number()?;
        if cursor.at_rim() { flotation(cursor, first, second) } else { two_numbers(cursor, first, second) }
    } else if cursor.eat('/') {
        let aspect = cursor.number()?;
        let (construction, rim) = cursor.rim()?;
        metric(system, construction, first, Some(aspect), rim)
    } else {
        let (construction, rim) = cursor.rim()?;
        // inches have two figures behind the point, which is left out where 6.70 is written 670; no metric tyre that leaves
        // its height out is under 100 mm or over 400 mm wide
        let inches = if first >= HUNDREDTHS { first / 100.0 } else { first };
        if inches < 100.0 && system.is_none() {
            numeric(construction, inches, rim, cursor.of_truck())
        } else {
            metric(system, construction, first, None, rim)
        }
    }
}

fn metric(
    system: Option<SizeSystem>,
    construction: Construction,
    section: f64,
    aspect: Option<f64>,
    rim_in: f64,
) -> Result<TyreSize, TyreCodeProblem> {
    let aspect_pct = aspect.unwrap_or(ASPECT_LEFT_OUT);
    Ok(TyreSize {
        system: system.unwrap_or(SizeSystem::EuroMetric),
        construction,
        section: Length::new::<millimeter>(section),
        aspect_pct,
        aspect_from: if aspect.is_some() { AspectFrom::Written } else { AspectFrom::Assumed },
        rim_in,
        diameter: metric_diameter(section, aspect_pct, rim_in)?,
        diameter_within: if aspect.is_some() { WITHIN } else { WITHIN_ASSUMED },
        load_index: None,
        speed_symbol: None,
        load_range: None,
    })
}

fn numeric(
    construction: Construction,
    section_in: f64,
    rim_in: f64,
    truck: bool,
) -> Result<TyreSize, TyreCodeProblem> {
    let hundredths = (section_in * 100.0).round();
    let aspect = if (rim_in * 2.0).round() % 2.0 == 1.0 {
        if rim_in < 17.0 { ASPECT_LIGHT_HALF_INCH_RIM } else { ASPECT_HALF_INCH_RIM }
    } else if truck || rim_in >= 16.0 {
        ASPECT_NUMERIC_TRUCK
    } else if hundredths % 10.0 == 5.0 {
        ASPECT_LEFT_OUT
    } else {
        ASPECT_NUMERIC
    };
    let size = metric(None, construction, section_in * 25.4, Some(aspect), rim_in)?;
    Ok(TyreSize {
        system: SizeSystem::Numeric,
        aspect_from: AspectFrom::Assumed,
        diameter_within: WITHIN_ASSUMED,
        ..size
    })
}

/// "6.00x16" and "600x16": width and rim; "30x3.5": diameter and width of a tyre as high as it is wide.
fn two_numbers(cursor: &Cursor<'_>, first: f64, second: f64) -> Result<TyreSize, TyreCodeProblem> {
    let inches = if first >= HUNDREDTHS { first / 100.0 } else { first };
    if second >= SMALLEST_RIM && second.fract() == 0.0 {
        return numeric(Construction::Bias, inches, RIM.check("rim code", second)?, cursor.of_truck());
    }
    let size = by_diameter(Construction::Bias, first, second, first - 2.0 * second)?;
    Ok(TyreSize { system: SizeSystem::Numeric, ..size })
}

fn flotation(
    cursor: &mut Cursor<'_>,
    diameter_in: f64,
    section_in: f64,
) -> Result<TyreSize, TyreCodeProblem> {
    let (construction, rim_in) = cursor.rim()?;
    by_diameter(construction, diameter_in, section_in, rim_in)
}

fn by_diameter(
    construction: Construction,
    diameter_in: f64,
    section_in: f64,
    rim_in: f64,
) -> Result<TyreSize, TyreCodeProblem> {
    let diameter = Length::new::<inch>(diameter_in);
    DIAMETER.check("tyre diameter", diameter.get::<millimeter>())?;
    let section = Length::new::<inch>(section_in);
    SECTION.check("tyre section width", section.get::<millimeter>())?;
    if diameter_in <= rim_in {
        return Err(TyreCodeProblem::NoSidewall);
    }
    RIM.check("rim code", rim_in)?;
    let aspect_pct = 100.0 * (diameter_in - rim_in) / 2.0 / section_in;
    ASPECT.check("tyre aspect ratio", aspect_pct)?;
    Ok(TyreSize {
        system: SizeSystem::Flotation,
        construction,
        section,
        aspect_pct,
        aspect_from: AspectFrom::Diameter,
        rim_in,
        diameter,
        diameter_within: WITHIN_FLOTATION,
        load_index: None,
        speed_symbol: None,
        load_range: None,
    })
}

fn letter_size(cursor: &mut Cursor<'_>, letter: char) -> Result<TyreSize, TyreCodeProblem> {
    let radial = cursor.eat('R');
    let series = cursor.number()?;
    ASPECT.check("tyre aspect ratio", series)?;
    let (written, rim_in) = cursor.rim()?;
    if series != 78.0 {
        return Err(TyreCodeProblem::LetterNotInTable);
    }
    let row = look_up(letter, rim_in).ok_or(TyreCodeProblem::LetterNotInTable)?;
    Ok(TyreSize {
        system: SizeSystem::Letter,
        construction: if radial { Construction::Radial } else { written },
        section: Length::new::<inch>(row.section_in),
        aspect_pct: series,
        aspect_from: AspectFrom::Table,
        rim_in,
        diameter: Length::new::<inch>(row.diameter_in),
        diameter_within: LETTER_WITHIN,
        load_index: None,
        speed_symbol: None,
        load_range: None,
    })
}

/// LT or C behind the rim code, then a load range.
fn read_suffix(cursor: &mut Cursor<'_>) -> Result<Option<char>, TyreCodeProblem> {
    if !cursor.eat_word("LT") {
        cursor.eat('C');
    }
    let range = if cursor.eat('/') { cursor.letter() } else { None };
    match cursor.rest.chars().next() {
        None => Ok(range),
        Some(next) => Err(TyreCodeProblem::Suffix(next)),
    }
}

/// What is left to read of a code.
struct Cursor<'a> {
    rest: &'a str,
}

impl Cursor<'_> {
    /// P or LT in front of a figure.
    fn prefix(&mut self) -> Option<SizeSystem> {
        let digit_after = |at: usize| self.rest.as_bytes().get(at).is_some_and(u8::is_ascii_digit);
        if self.rest.starts_with('P') && digit_after(1) {
            self.eat('P');
            Some(SizeSystem::PMetric)
        } else if self.rest.starts_with("LT") && digit_after(2) {
            self.eat_word("LT");
            Some(SizeSystem::LightTruckMetric)
        } else {
            None
        }
    }

    fn letter(&mut self) -> Option<char> {
        let letter = self.rest.chars().next().filter(char::is_ascii_uppercase)?;
        self.eat(letter);
        Some(letter)
    }

    fn eat(&mut self, wanted: char) -> bool {
        match self.rest.strip_prefix(wanted) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn eat_word(&mut self, wanted: &str) -> bool {
        match self.rest.strip_prefix(wanted) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    /// Figures with at most one point.
    fn number(&mut self) -> Result<f64, TyreCodeProblem> {
        let end = self.rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(self.rest.len());
        let (figures, rest) = self.rest.split_at(end);
        let number = figures.parse().map_err(|_not_a_number| TyreCodeProblem::Form)?;
        self.rest = rest;
        Ok(number)
    }

    /// Whether a rim code follows: "R15", "-15", "SR15".
    fn at_rim(&self) -> bool {
        let mut letters = self.rest.chars();
        match letters.next() {
            Some('-' | 'D' | 'B' | 'R') => true,
            Some(c) => c.is_ascii_uppercase() && letters.next() == Some('R'),
            None => false,
        }
    }

    /// LT or C behind the rim code.
    fn of_truck(&self) -> bool {
        self.rest.starts_with("LT") || self.rest.starts_with('C')
    }

    /// R, B, D or a dash, with a speed letter in front of R as older tyres have it, then the rim code.
    fn rim(&mut self) -> Result<(Construction, f64), TyreCodeProblem> {
        let construction = if self.eat('-') || self.eat('D') {
            Construction::Bias
        } else if self.eat('B') {
            Construction::Belted
        } else if self.eat('R') {
            Construction::Radial
        } else {
            // 165SR15: the old place of the speed symbol
            self.letter().filter(|_| self.eat('R')).ok_or(TyreCodeProblem::Form)?;
            Construction::Radial
        };
        let rim = self.number()?;
        if (100.0..1000.0).contains(&rim) {
            return Err(TyreCodeProblem::MetricRim(rim));
        }
        Ok((construction, RIM.check("rim code", rim)?))
    }
}

#[cfg(test)]
#[path = "parse_tests.rs"]
mod tests;
