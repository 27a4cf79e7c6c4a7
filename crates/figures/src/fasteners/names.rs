//! Reads the name of a thread as people write it: `M10`, `1/4-20 UNC`, `3/8 BSF`, `10-32`, `2BA` (ASME B1.1; BS 84; BS 93).

use std::fmt;

use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::tables::{PITCHES, Preferred, Series, THREADS};
use super::thread::Thread;
use crate::error::FigureError;

/// Longest name that is read.
const LONGEST: usize = 40;

/// A thread with its name as this program writes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Named {
    /// Geometry.
    pub thread: Thread,
    /// The row of [`THREADS`], if it has one.
    pub preferred: Option<&'static Preferred>,
    /// `M10x1.25`, `3/8-24`, `1/4-26 BSF`, `#10-32`, `2BA`: without the series where the pitch says it.
    pub name: String,
}

/// Why a text is no thread.
#[derive(Clone, Debug, PartialEq)]
pub enum ThreadNameError {
    /// Not written as a thread.
    Form,
    /// A pipe thread: its size is not its diameter.
    Pipe(String),
    /// The pitch is missing, and nothing says which; the threads that may be meant.
    NoPitch(Vec<String>),
    /// The series has another pitch in this size: the series, and its thread.
    OtherPitch(String, String),
    /// A number of it is out of its range.
    Figure(FigureError),
}

impl std::error::Error for ThreadNameError {}

impl fmt::Display for ThreadNameError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const EXAMPLE: &str =
            "expected a thread with its pitch such as \"3/8-24\", \"M10x1.25\" or \"1/4-26 BSF\"";
        match self {
            Self::Form => f.write_str(EXAMPLE),
            Self::Pipe(series) => {
                write!(f, "{series} is a pipe thread, whose size is not its diameter; {EXAMPLE}")
            }
            Self::NoPitch(meant) if meant.is_empty() => write!(f, "its pitch is missing; {EXAMPLE}"),
            Self::NoPitch(meant) => write!(f, "its pitch is missing: is it {}?", meant.join(" or ")),
            Self::OtherPitch(series, right) => {
                write!(f, "{series} has another pitch in this size: {right}; write one or the other")
            }
            Self::Figure(error) => error.fmt(f),
        }
    }
}

impl From<FigureError> for ThreadNameError {
    fn from(error: FigureError) -> Self {
        Self::Figure(error)
    }
}

/// Reads the name of a thread. Capitals, blanks and the inch sign do not count; a hand (`LH`) and a class of fit (`2A`,
/// `6g`) change nothing of its size.
///
/// | written | is |
/// |---|---|
/// | `M10x1.25`, `M10 × 1.25`, `M10-1.25` | metric; without a pitch the coarse one |
/// | `3/8-24`, `3/8-24 UNF`, `3/8"-24`, `3/8 UNF`, `1-1/4-12` | unified; with a series the pitch may be left out |
/// | `10-32`, `#10-32`, `No. 10-32` | unified by number: `0.060 + 0.013 n` inches |
/// | `1/4-26 BSF`, `1/4 BSF`, `3/8 Whitworth` | Whitworth form |
/// | `2BA`, `2 BA`, `BA 2` | British Association, by number |
///
/// # Errors
/// [`ThreadNameError`] in words with what was expected.
///
/// Source: ISO 261; ASME B1.1; BS 84; BS 93.
pub fn read(text: &str) -> Result<Named, ThreadNameError> {
    if text.chars().count() > LONGEST {
        return Err(ThreadNameError::Form);
    }
    let plain: String = text
        .trim()
        .to_uppercase()
        .replace(['×', '*'], "X")
        .replace(['–', '—'], "-")
        .replace(['"', '″', '”', '\''], "");
    if let Some(metric) = plain.strip_prefix('M').filter(|rest| rest.trim_start().starts_with(digit)) {
        return read_metric(metric);
    }
    let mut words: Vec<&str> = plain.split_whitespace().collect();
    words.retain(|w| !matches!(*w, "IN" | "INCH" | "LH" | "RH" | "THREAD") && !is_class(w));
    let joined = words.join(" ").replace(" INCH-", "-").replace(" IN-", "-");
    let joined = CLASSES.iter().fold(joined.as_str(), |text, class| {
        text.strip_suffix(class).map_or(text, |rest| rest.strip_suffix('-').unwrap_or(text))
    });
    let (size, series) = split_series(joined);
    let size = size.trim_end_matches(['-', ' ', '(']);
    match series {
        Some("BA") => read_association(size),
        Some(pipe @ ("NPT" | "NPTF" | "NPS" | "BSP" | "BSPT" | "BSPP" | "G")) => {
            Err(ThreadNameError::Pipe(pipe.to_owned()))
        }
        other => read_inch(size, other),
    }
}

/// The name as this program writes it; `None` for what is no thread.
#[must_use]
pub fn canonical(text: &str) -> Option<String> {
    read(text).ok().map(|named| named.name)
}

fn digit(c: char) -> bool {
    c.is_ascii_digit() || c == '.'
}

/// A class of fit: 2A, 3B, 6G, 6H.
fn is_class(word: &str) -> bool {
    CLASSES.contains(&word.trim_start_matches('-'))
}

const CLASSES: [&str; 8] = ["1A", "2A", "3A", "1B", "2B", "3B", "6G", "6H"];

/// Series words, the longer ones first.
const SERIES: [&str; 20] = [
    "WHITWORTH",
    "WHIT",
    "UNEF",
    "NPTF",
    "BSPT",
    "BSPP",
    "UNC",
    "UNF",
    "UNS",
    "NPT",
    "NPS",
    "BSW",
    "BSF",
    "BSP",
    "BSB",
    "NEF",
    "NC",
    "NF",
    "BA",
    "UN",
];

/// "1/4-20UNC" into "1/4-20" and "UNC"; "BA 2" into "2" and "BA".
fn split_series(text: &str) -> (&str, Option<&'static str>) {
    for series in SERIES {
        if let Some(rest) = text.strip_suffix(series) {
            return (rest.trim(), Some(series));
        }
        if let Some(rest) = text.strip_prefix(series).filter(|rest| rest.trim_start().starts_with(digit)) {
            return (rest.trim(), Some(series));
        }
    }
    match text.strip_prefix('G').filter(|rest| rest.trim_start().starts_with(digit)) {
        Some(rest) => (rest.trim(), Some("G")),
        None => (text, None),
    }
}

fn read_metric(rest: &str) -> Result<Named, ThreadNameError> {
    let compact: String =
        rest.split_whitespace().filter(|w| !is_class(w) && *w != "LH" && *w != "RH").collect();
    let compact = ["-6G", "-6H"].iter().fold(compact.as_str(), |t, class| t.strip_suffix(class).unwrap_or(t));
    let (diameter, pitch) = match compact.split_once(['X', '-']) {
        Some((d, p)) => (number(d)?, Some(number(p.trim_start_matches('P'))?)),
        None => (number(compact)?, None),
    };
    let of_size = |p: &&Preferred| same(p.diameter, diameter) && p.series.is_metric();
    let row = match pitch {
        Some(pitch) => THREADS.iter().filter(of_size).find(|p| same(p.pitch, pitch)),
        None => THREADS.iter().filter(of_size).find(|p| p.series == Series::MetricCoarse),
    };
    if let Some(row) = row {
        return of_row(row);
    }
    let Some(pitch) = pitch else {
        return Err(ThreadNameError::NoPitch(
            THREADS.iter().filter(of_size).map(|p| p.name.to_owned()).collect(),
        ));
    };
    let mm = Length::new::<millimeter>;
    let thread = Thread::metric(mm(diameter), mm(pitch))?;
    Ok(Named { thread, preferred: None, name: format!("M{diameter}x{pitch}") })
}

fn read_association(size: &str) -> Result<Named, ThreadNameError> {
    let bare = size.trim_start_matches("NO").trim_start_matches(['.', '#', ' ']);
    let wanted = format!("{bare}BA");
    let row = THREADS.iter().find(|p| p.name == wanted).ok_or(ThreadNameError::Form)?;
    of_row(row)
}

fn read_inch(size: &str, series: Option<&str>) -> Result<Named, ThreadNameError> {
    let whitworth = matches!(series, Some("BSW" | "BSF" | "WHIT" | "WHITWORTH"));
    let numbered = ["NO.", "NO", "#"].iter().find_map(|mark| size.strip_prefix(mark)).map(str::trim);
    let (written, per_inch) = divide(numbered.unwrap_or(size))?;
    let by_number = numbered.is_some() || !whitworth && a_number_size(&written, per_inch);
    let (diameter, label) = if by_number {
        let n: u8 = written.parse().map_err(|_| ThreadNameError::Form)?;
        if n > 14 {
            return Err(ThreadNameError::Form);
        }
        // ASME B1.1: number sizes
        (0.060 + 0.013 * f64::from(n), format!("#{n}"))
    } else {
        let diameter = number(&written)?;
        (diameter, inch_label(diameter))
    };
    let wanted = series.and_then(series_of);
    let standard = |s: Series| pitch_of(s, diameter);
    let per_inch = match (per_inch, wanted) {
        (Some(n), Some(series)) => {
            // a series that says otherwise is a slip of the pen, and nobody knows which is meant
            if let Some(right) = standard(series).filter(|right| !same(*right, n)) {
                let name = series.name();
                return Err(ThreadNameError::OtherPitch(name.to_owned(), format!("{label}-{right} {name}")));
            }
            n
        }
        (Some(n), None) => n,
        (None, Some(series)) => standard(series).ok_or_else(|| ThreadNameError::NoPitch(Vec::new()))?,
        (None, None) => {
            let each =
                [Series::UnifiedCoarse, Series::UnifiedFine, Series::WhitworthCoarse, Series::WhitworthFine];
            let meant = |s: Series| standard(s).map(|n| format!("{label}-{n} {}", s.name()));
            return Err(ThreadNameError::NoPitch(each.into_iter().filter_map(meant).collect()));
        }
    };
    let thread =
        if whitworth { Thread::whitworth(diameter, per_inch) } else { Thread::unified(diameter, per_inch) }?;
    let of_form = |p: &&Preferred| p.series.is_whitworth() == whitworth && !p.series.is_metric();
    let row = THREADS.iter().filter(of_form).find(|p| same(p.diameter, diameter) && same(p.pitch, per_inch));
    if let Some(row) = row {
        return of_row(row);
    }
    let behind =
        if whitworth { wanted.map_or(String::new(), |s| format!(" {}", s.name())) } else { String::new() };
    // "4-24" would read as number 4
    let label =
        if !by_number && a_number_size(&label, Some(per_inch)) { format!("{label}.0") } else { label };
    Ok(Named { thread, preferred: None, name: format!("{label}-{per_inch}{behind}") })
}

fn of_row(row: &'static Preferred) -> Result<Named, ThreadNameError> {
    Ok(Named { thread: row.thread()?, preferred: Some(row), name: row.name.to_owned() })
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// Threads an inch of a series in a size, in whatever the series counts.
fn pitch_of(series: Series, diameter: f64) -> Option<f64> {
    let row = THREADS.iter().find(|p| p.series == series && same(p.diameter, diameter)).map(|p| p.pitch);
    row.or_else(|| PITCHES.iter().find(|p| p.0 == series && same(p.1, diameter)).map(|p| p.2))
}

fn series_of(word: &str) -> Option<Series> {
    Some(match word {
        "UNC" | "NC" => Series::UnifiedCoarse,
        "UNF" | "NF" => Series::UnifiedFine,
        "UNEF" | "NEF" => Series::UnifiedExtraFine,
        "BSW" | "WHIT" | "WHITWORTH" => Series::WhitworthCoarse,
        "BSF" => Series::WhitworthFine,
        // UN, UNS and brass pitches have no pitch of their own
        _ => return None,
    })
}

/// Whether a bare whole number is a number size: "10-32" is, "1-8" is an inch.
fn a_number_size(written: &str, per_inch: Option<f64>) -> bool {
    let whole = written.bytes().all(|b| b.is_ascii_digit()) && written.len() <= 2;
    whole && per_inch.is_some_and(|n| n >= 24.0)
}

/// "1-1/4-12" into "1-1/4" and 12; "3/8" into itself; blanks stand for dashes.
fn divide(text: &str) -> Result<(String, Option<f64>), ThreadNameError> {
    let text = text.split([' ', '-', 'X']).filter(|t| !t.is_empty()).collect::<Vec<_>>();
    let whole = |t: &str| t.bytes().all(|b| b.is_ascii_digit());
    match text[..] {
        [size] => Ok((size.to_owned(), None)),
        // "1 1/4" is a size, "3/8 24" one with its pitch
        [a, b] if whole(a) && b.contains('/') => Ok((format!("{a}-{b}"), None)),
        [size, n] => Ok((size.to_owned(), Some(number(n.trim_end_matches("TPI"))?))),
        [a, b, n] if whole(a) && b.contains('/') => {
            Ok((format!("{a}-{b}"), Some(number(n.trim_end_matches("TPI"))?)))
        }
        _ => Err(ThreadNameError::Form),
    }
}

/// "1-1/4", "3/8", "0.25".
fn number(text: &str) -> Result<f64, ThreadNameError> {
    let plain = |t: &str| {
        let good = !t.is_empty() && t.len() <= 24 && t.chars().all(digit);
        good.then(|| t.parse::<f64>().ok()).flatten().ok_or(ThreadNameError::Form)
    };
    let fraction = |t: &str| match t.split_once('/') {
        Some((a, b)) => Ok(plain(a)? / plain(b)?),
        None => plain(t),
    };
    match text.trim().split_once('-') {
        Some((whole, part)) => Ok(plain(whole)? + fraction(part)?),
        None => fraction(text.trim()),
    }
}

/// 0.375 as "3/8", 1.25 as "1-1/4", else as a decimal.
fn inch_label(diameter: f64) -> String {
    let parts = diameter * 64.0;
    if !same(parts, parts.round()) || !(1.0..64.0 * 64.0).contains(&parts) {
        return format!("{diameter}");
    }
    let parts = parts.round() as u32;
    let (whole, mut over, mut under) = (parts / 64, parts % 64, 64);
    while over > 0 && over % 2 == 0 {
        (over, under) = (over / 2, under / 2);
    }
    match (whole, over) {
        (whole, 0) => whole.to_string(),
        (0, over) => format!("{over}/{under}"),
        (whole, over) => format!("{whole}-{over}/{under}"),
    }
}

#[cfg(test)]
#[path = "names_tests.rs"]
mod tests;
