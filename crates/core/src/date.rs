//! Days of the calendar, as a sheet or a library writes them: a day known only to its month or year is an interval, and
//! a time is counted in the calendar's own years and months. No clock: who asks gives the day.

use std::fmt;

use jiff::Span;
pub use jiff::civil::Date;

/// Why a text is no day or no time of the calendar.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DateError {
    /// It does not read like a date.
    #[error(
        "expected a year, a month or a day such as \"1966\", \"1966-05\" or \"1966-05-17\", found \"{0}\""
    )]
    NoDate(String),
    /// Only a whole day will do.
    #[error("expected a day as year, month and day, such as \"2026-03-01\", found \"{0}\"")]
    NoDay(String),
    /// The calendar has no such month or day.
    #[error("the calendar has no \"{0}\": a month is 01 to 12, and a day is one of its month")]
    NotInCalendar(String),
    /// It does not read like a time.
    #[error("expected a time such as \"10 years\", \"18 months\", \"6 weeks\" or \"30 days\", found \"{0}\"")]
    NoTime(String),
}

/// A day, or as much of it as is known: "1966" is any day of that year.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Dated {
    /// The first day it can be.
    pub first: Date,
    /// The last day it can be.
    pub last: Date,
    /// As written.
    pub text: String,
}

impl Dated {
    /// Reads a year, a month or a day.
    ///
    /// # Errors
    /// [`DateError`] with what was expected.
    pub fn parse(text: &str) -> Result<Self, DateError> {
        let plain = text.trim();
        let no_date = || DateError::NoDate(text.to_owned());
        let digits = |piece: &str, many: usize| -> Option<i16> {
            let is_number = piece.len() == many && piece.bytes().all(|b| b.is_ascii_digit());
            is_number.then(|| piece.parse().ok()).flatten()
        };
        let pieces: Vec<&str> = plain.split('-').collect();
        let (year, month, day) = match pieces[..] {
            [year] => (digits(year, 4), None, None),
            [year, month] => (digits(year, 4), Some(digits(month, 2)), None),
            [year, month, day] => (digits(year, 4), Some(digits(month, 2)), Some(digits(day, 2))),
            _ => return Err(no_date()),
        };
        let whole = |piece: Option<Option<i16>>| match piece {
            Some(None) => Err(no_date()),
            Some(Some(number)) => Ok(Some(number)),
            None => Ok(None),
        };
        let (year, month, day) = (year.ok_or_else(no_date)?, whole(month)?, whole(day)?);
        let at = |month: i16, day: i16| {
            let date = i8::try_from(month).ok().zip(i8::try_from(day).ok());
            let date = date.and_then(|(month, day)| Date::new(year, month, day).ok());
            date.ok_or_else(|| DateError::NotInCalendar(plain.to_owned()))
        };
        let (first, last) = match (month, day) {
            (None, _) => (at(1, 1)?, at(12, 31)?),
            (Some(month), None) => (at(month, 1)?, at(month, 1)?.last_of_month()),
            (Some(month), Some(day)) => (at(month, day)?, at(month, day)?),
        };
        Ok(Self { first, last, text: plain.to_owned() })
    }

    /// All of it lies before a day.
    #[must_use]
    pub fn is_over(&self, on: Date) -> bool {
        self.last < on
    }
}

/// Reads a whole day.
///
/// # Errors
/// [`DateError`] where it is none, also where it is only a month or a year.
pub fn day(text: &str) -> Result<Date, DateError> {
    match Dated::parse(text) {
        Ok(dated) if dated.first == dated.last => Ok(dated.first),
        Err(wrong @ DateError::NotInCalendar(_)) => Err(wrong),
        _ => Err(DateError::NoDay(text.to_owned())),
    }
}

/// What a time of the calendar is counted in, long first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unit {
    Year,
    Month,
    Week,
    Day,
}

impl Unit {
    const WORDS: [(&'static str, Self); 4] =
        [("year", Self::Year), ("month", Self::Month), ("week", Self::Week), ("day", Self::Day)];
}

/// The longest time that makes sense of a part, in any unit.
const MOST: i32 = 9_999;

/// A time counted by the calendar: "10 years", "18 months".
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Period {
    many: i32,
    unit: Unit,
}

impl Period {
    /// Reads a whole number of years, months, weeks or days.
    ///
    /// # Errors
    /// [`DateError::NoTime`] with what was expected.
    pub fn parse(text: &str) -> Result<Self, DateError> {
        let read = || {
            let (many, word) = text.trim().split_once(' ')?;
            let word = word.trim();
            let unit =
                Unit::WORDS.iter().find(|(one, _)| word == *one || word.strip_suffix('s') == Some(one))?.1;
            let many = many.parse().ok().filter(|n| (1..=MOST).contains(n))?;
            Some(Self { many, unit })
        };
        read().ok_or_else(|| DateError::NoTime(text.to_owned()))
    }

    /// The day this long after another; `None` beyond the calendar's end.
    #[must_use]
    pub fn after(&self, day: Date) -> Option<Date> {
        let span = match self.unit {
            Unit::Year => Span::new().try_years(self.many),
            Unit::Month => Span::new().try_months(self.many),
            Unit::Week => Span::new().try_weeks(self.many),
            Unit::Day => Span::new().try_days(self.many),
        };
        day.checked_add(span.ok()?).ok()
    }
}

impl fmt::Display for Period {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = Unit::WORDS.iter().find(|(_, unit)| *unit == self.unit).map_or("", |(word, _)| word);
        write!(f, "{} {word}{}", self.many, if self.many == 1 { "" } else { "s" })
    }
}

/// How old something of one day is on another, in whole years, below two in whole months: "44 years", "7 months".
#[must_use]
pub fn age(of: Date, on: Date) -> String {
    let months =
        (i32::from(on.year()) - i32::from(of.year())) * 12 + i32::from(on.month()) - i32::from(of.month());
    let months = (months - i32::from(on.day() < of.day())).max(0);
    let (many, word) = if months < 24 { (months, "month") } else { (months / 12, "year") };
    format!("{many} {word}{}", if many == 1 { "" } else { "s" })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn at(text: &str) -> Date {
        day(text).unwrap()
    }

    #[test]
    fn a_date_is_as_exact_as_it_is_written() {
        // ISO 8601: calendar date, and the same with less of it
        let all = [
            ("1966", "1966-01-01", "1966-12-31"),
            ("1966-02", "1966-02-01", "1966-02-28"),
            ("2024-02", "2024-02-01", "2024-02-29"),
            (" 2019-03-02 ", "2019-03-02", "2019-03-02"),
        ];
        for (text, first, last) in all {
            let dated = Dated::parse(text).unwrap();
            assert_eq!((dated.first, dated.last, dated.text.as_str()), (at(first), at(last), text.trim()));
        }
    }

    #[test]
    fn a_date_is_over_once_its_last_day_is() {
        let over = |text: &str| Dated::parse(text).unwrap().is_over(at("2026-03-01"));
        assert!(over("1850") && over("2025") && over("2026-02") && over("2026-02-28"));
        assert!(!over("2026") && !over("2026-03") && !over("2026-03-01") && !over("2027"));
    }

    #[test]
    fn what_is_no_date_says_what_was_expected() {
        for wrong in
            ["", "66", "May 1966", "1966/05", "1966-5", "19660517", "1966-05-17-1", "-1966", "１９６６"]
        {
            assert_eq!(Dated::parse(wrong), Err(DateError::NoDate(wrong.to_owned())), "{wrong}");
        }
        for wrong in ["1966-13", "1966-00", "2025-02-29", "1966-04-31"] {
            assert_eq!(Dated::parse(wrong), Err(DateError::NotInCalendar(wrong.to_owned())), "{wrong}");
        }
        assert_eq!(day("2026"), Err(DateError::NoDay("2026".to_owned())));
        assert_eq!(day("tomorrow"), Err(DateError::NoDay("tomorrow".to_owned())));
        assert!(day("2026-02-30").unwrap_err().to_string().contains("the calendar has no \"2026-02-30\""));
    }

    #[test]
    fn a_time_is_counted_by_the_calendar() {
        let after =
            |time: &str, day: &str| Period::parse(time).unwrap().after(at(day)).map(|d| d.to_string());
        assert_eq!(after("10 years", "2016-03-01").as_deref(), Some("2026-03-01"));
        assert_eq!(after("1 year", "2024-02-29").as_deref(), Some("2025-02-28"));
        assert_eq!(after("18 months", "2024-08-31").as_deref(), Some("2026-02-28"));
        assert_eq!(after("6 weeks", "2026-01-01").as_deref(), Some("2026-02-12"));
        assert_eq!(after("1 day", "2025-12-31").as_deref(), Some("2026-01-01"));
        assert_eq!(after("9999 years", "2026-01-01"), None);
        for wrong in
            ["", "10", "years", "0 years", "-1 years", "1.5 years", "10 miles", "10000 days", "2  yearss"]
        {
            assert_eq!(Period::parse(wrong), Err(DateError::NoTime(wrong.to_owned())), "{wrong}");
        }
        assert_eq!(Period::parse(" 1 years ").unwrap().to_string(), "1 year");
        assert_eq!(Period::parse("2 month").unwrap().to_string(), "2 months");
    }

    #[test]
    fn an_age_is_told_in_whole_years_or_months() {
        let told = |of: &str, on: &str| age(at(of), at(on));
        assert_eq!(told("1981-12-31", "2026-03-01"), "44 years");
        assert_eq!(told("2024-03-02", "2026-03-01"), "23 months");
        assert_eq!(told("2024-03-01", "2026-03-01"), "2 years");
        assert_eq!(told("2026-02-01", "2026-03-01"), "1 month");
        assert_eq!(told("2026-03-02", "2026-03-01"), "0 months");
    }
}
