//! The time there is, read from a sheet: people, hours, days; what a sheet does not say is taken, and that is told.

use jiff::{Span, civil::Date};

use crate::date::day;
use crate::sheet::time::{MOST_PEOPLE, SESSION_HOURS, SESSIONS_A_WEEK, Time, Weekday};

/// Days in the order in which they are taken where nobody names one: at the weekend first.
const TAKEN: [Weekday; 7] = [
    Weekday::Saturday,
    Weekday::Sunday,
    Weekday::Wednesday,
    Weekday::Friday,
    Weekday::Tuesday,
    Weekday::Thursday,
    Weekday::Monday,
];
/// Hours of a session where nobody says.
pub const HOURS: f64 = 6.0;

/// Somebody who works.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hand {
    /// As called: "you" where nobody has a name.
    pub name: String,
    /// Skills.
    pub can: Vec<String>,
}

/// The time there is.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// Who works.
    pub people: Vec<Hand>,
    /// Minutes of a session.
    pub minutes: u64,
    /// Days of the sessions, from Monday on.
    pub days: Vec<Weekday>,
    /// The day of the first session. `None`: no day is known.
    pub first: Option<Date>,
    /// The day it is.
    pub today: Option<Date>,
    /// The day on which it is wanted.
    pub wanted: Option<Date>,
    /// What was taken because the sheet does not say: "one person", "6 h a session".
    pub taken: Vec<String>,
}

impl Settings {
    /// Of a sheet's time, on a day. `deadline`: where the time does not say on which day it is wanted.
    #[must_use]
    pub fn of(time: Option<&Time>, deadline: Option<Date>, today: Option<Date>) -> Self {
        let none = Time::default();
        let time = time.unwrap_or(&none);
        let mut taken = Vec::new();
        let hours = time.hours.filter(|hours| SESSION_HOURS.contains(hours));
        let people: Vec<Hand> =
            time.people.iter().take(MOST_PEOPLE).enumerate().map(|(n, person)| hand(n, person)).collect();
        let mut days: Vec<Weekday> = Vec::new();
        for weekday in &time.weekdays {
            if !days.contains(weekday) {
                days.push(*weekday);
            }
        }
        let many =
            time.sessions_a_week.filter(|many| SESSIONS_A_WEEK.contains(many)).map(|many| many as usize);
        if people.is_empty() {
            taken.push("one person".to_owned());
        }
        if hours.is_none() {
            taken.push(format!("{HOURS} h a session"));
        }
        if days.is_empty() {
            days = TAKEN[..many.unwrap_or(1)].to_vec();
            if many.is_none() {
                taken.push("one session a week".to_owned());
            }
            let words: Vec<&str> = days.iter().map(|day| day.word()).collect();
            taken.push(format!("on {}", words.join(" and ")));
        }
        days.truncate(many.unwrap_or(days.len()).max(1));
        days.sort_unstable();
        let read = |text: &Option<String>| text.as_ref().and_then(|text| day(text).ok());
        let start = match (read(&time.start), today) {
            (Some(start), Some(today)) => Some(start.max(today)),
            (start, today) => start.or(today),
        };
        let people = match people.is_empty() {
            true => vec![Hand { name: "you".to_owned(), can: Vec::new() }],
            false => people,
        };
        // down, so that a session is never over its hours
        let minutes = (hours.unwrap_or(HOURS) * 60.0).floor() as u64;
        let mut settings = Self {
            people,
            minutes,
            days,
            first: None,
            today,
            wanted: read(&time.wanted).or(deadline),
            taken,
        };
        settings.first = start.and_then(|start| settings.on_or_after(start));
        settings
    }

    /// The first day of a session on a day or after it.
    fn on_or_after(&self, from: Date) -> Option<Date> {
        (0..7)
            .filter_map(|days| from.checked_add(Span::new().days(days)).ok())
            .find(|day| self.days.contains(&Weekday::of(*day)))
    }

    /// Sessions a week.
    #[must_use]
    pub fn a_week(&self) -> u64 {
        u64::try_from(self.days.len()).unwrap_or(1).max(1)
    }

    /// Sessions in so many weeks, no fewer.
    #[must_use]
    pub fn sessions_in(&self, weeks: f64) -> u64 {
        (weeks.max(0.0) * self.a_week() as f64 - 1e-9).ceil().max(0.0) as u64
    }

    /// Days from the first session to each of the first week, rising from 0.
    fn offsets(&self) -> Vec<i64> {
        let at = |day: Weekday| Weekday::ALL.iter().position(|one| *one == day).unwrap_or(0) as i64;
        let first = self.first.map(Weekday::of).or_else(|| self.days.first().copied()).map_or(0, at);
        let mut all: Vec<i64> = self.days.iter().map(|day| (at(*day) - first).rem_euclid(7)).collect();
        all.sort_unstable();
        all
    }

    /// Days from the first session to one, counted from 0.
    #[must_use]
    pub fn days_to(&self, session: u64) -> i64 {
        let (week, nth) = (session / self.a_week(), session % self.a_week());
        let within = self.offsets().get(usize::try_from(nth).unwrap_or(0)).copied().unwrap_or(0);
        i64::try_from(week).unwrap_or(i64::MAX / 14).min(i64::MAX / 14) * 7 + within
    }

    /// The first session that is so many days after the first, or later.
    #[must_use]
    pub fn session_from(&self, days: i64) -> u64 {
        if days <= 0 {
            return 0;
        }
        let week = u64::try_from(days / 7).unwrap_or(0) * self.a_week();
        (week..=week + 2 * self.a_week()).find(|session| self.days_to(*session) >= days).unwrap_or(week)
    }

    /// The day of a session; `None`: no day is known, or beyond the calendar's end.
    #[must_use]
    pub fn day_of(&self, session: u64) -> Option<Date> {
        self.day_at(self.days_to(session))
    }

    /// The day so many days after the first session.
    #[must_use]
    pub fn day_at(&self, days: i64) -> Option<Date> {
        let span = Span::new().try_days(days).ok()?;
        self.first?.checked_add(span).ok()
    }

    /// Days from the first session to a day, less than nothing where that is before.
    #[must_use]
    pub fn days_until(&self, day: Date) -> Option<i64> {
        let first = self.first?;
        Some(i64::from(first.until(day).ok()?.get_days()))
    }
}

fn hand(n: usize, person: &crate::sheet::time::Person) -> Hand {
    let name = person.name.trim();
    let name = if name.is_empty() { format!("person {}", n + 1) } else { name.to_owned() };
    Hand { name, can: person.can.iter().map(|can| can.trim().to_lowercase()).collect() }
}
