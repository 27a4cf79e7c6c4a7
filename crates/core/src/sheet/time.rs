//! The time there is for the work: who works, how long a session is, on which days, from when, and when it is wanted.

use jiff::civil;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::date::day;
use crate::library::Extra;
use crate::schema;

/// People at most: the notes of the trade go no further in one workshop.
pub const MOST_PEOPLE: usize = 4;
/// Hours of a session.
pub const SESSION_HOURS: std::ops::RangeInclusive<f64> = 0.5..=24.0;
/// Sessions a week, one a day.
pub const SESSIONS_A_WEEK: std::ops::RangeInclusive<u32> = 1..=7;

/// Somebody who works on the vehicle.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Person {
    /// As called.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Skills, in the words of the operations: "welding".
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub can: Vec<String>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// A day of the week.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "the days of the week are what they are called")]
pub enum Weekday {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

impl Weekday {
    /// From Monday on.
    pub const ALL: [Self; 7] = [
        Self::Monday,
        Self::Tuesday,
        Self::Wednesday,
        Self::Thursday,
        Self::Friday,
        Self::Saturday,
        Self::Sunday,
    ];

    /// As written in files and said.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Monday => "monday",
            Self::Tuesday => "tuesday",
            Self::Wednesday => "wednesday",
            Self::Thursday => "thursday",
            Self::Friday => "friday",
            Self::Saturday => "saturday",
            Self::Sunday => "sunday",
        }
    }

    /// Of a day of the calendar.
    #[must_use]
    pub fn of(day: civil::Date) -> Self {
        let from_monday = usize::try_from(day.weekday().to_monday_zero_offset()).unwrap_or(0);
        Self::ALL[from_monday % 7]
    }
}

/// The time there is. What is left out is taken as said at each field.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Time {
    /// Who works, one to four. Empty: one person.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub people: Vec<Person>,
    /// Hours of a session, 0.5 to 24. Absent: 6.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hours: Option<f64>,
    /// Sessions a week, 1 to 7. Absent: one on each of `weekdays`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sessions_a_week: Option<u32>,
    /// On which days, the first first. Empty: Saturday, then Sunday, Wednesday, Friday, Tuesday, Thursday, Monday.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub weekdays: Vec<Weekday>,
    /// The first day that can be worked. Absent: the day it is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Day>")]
    pub start: Option<String>,
    /// The day on which it is wanted. Absent: nobody waits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Day>")]
    pub wanted: Option<String>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

impl Time {
    /// What of it cannot be, by its word, each with what was expected; what cannot be is not taken.
    #[must_use]
    pub fn wrong(&self) -> Vec<(&'static str, String)> {
        let mut out = Vec::new();
        if self.people.len() > MOST_PEOPLE {
            out.push(("people", format!("expected one to four people, found {}", self.people.len())));
        }
        if let Some(hours) = self.hours.filter(|hours| !SESSION_HOURS.contains(hours)) {
            out.push(("hours", format!("expected 0.5 to 24 hours in a session, found {hours}")));
        }
        if let Some(many) = self.sessions_a_week.filter(|many| !SESSIONS_A_WEEK.contains(many)) {
            out.push(("sessions_a_week", format!("expected 1 to 7 sessions a week, found {many}")));
        }
        let once: std::collections::BTreeSet<Weekday> = self.weekdays.iter().copied().collect();
        if once.len() < self.weekdays.len() {
            out.push(("weekdays", "expected each day of the week once".to_owned()));
        }
        if let Some(many) = self
            .sessions_a_week
            .filter(|many| SESSIONS_A_WEEK.contains(many) && !once.is_empty() && *many as usize > once.len())
        {
            let days = once.len();
            out.push((
                "sessions_a_week",
                format!("expected a day for each session, found {many} sessions on {days} days"),
            ));
        }
        for (word, text) in [("start", &self.start), ("wanted", &self.wanted)] {
            if let Some(Err(why)) = text.as_ref().map(|text| day(text)) {
                out.push((word, why.to_string()));
            }
        }
        out
    }
}
