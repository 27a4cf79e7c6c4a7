//! When parts are here: what is promised, how long what is to be ordered takes, what nobody knows; and what is to be ordered
//! by when.

use std::collections::BTreeSet;

use jiff::civil::Date;

use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::date::Dated;
use crate::edit::MOST_WEEKS;
use crate::schedule::Note;
use crate::schedule::settings::Settings;
use crate::sheet::{LineState, Sheet};

/// Why a part is here when it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// It is on order and promised.
    Promised,
    /// It was promised for a day that has gone by.
    Late,
    /// It is to be ordered, and takes so long.
    Ordered,
    /// Nobody knows.
    Unknown,
}

/// A part that is not here yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Coming {
    /// Part id.
    pub part: String,
    /// As shown.
    pub name: String,
    /// Where its line stands.
    pub state: LineState,
    /// How many are wanted in all.
    pub qty: u32,
    /// How many of them are still to be ordered though it is on order or here: fewer were bought than are wanted.
    pub short: u32,
    /// Weeks from the order until it is here, at least and at most. `None`: nobody has said.
    pub weeks: Option<[f64; 2]>,
    /// The day it is promised for, the last of it where that is a month. `None`: nobody has said, or it is not on order.
    pub promised: Option<Date>,
    /// Why it is here when it is.
    pub known: Known,
    /// The first session in which it can be used.
    pub session: u64,
    /// The day on which it is here at the latest, where that is known.
    pub day: Option<Date>,
}

/// A part that jobs wait for.
pub fn coming(
    part: &str,
    sheet: &Sheet,
    a: &Assessment,
    catalogue: &Catalogue,
    settings: &Settings,
) -> Coming {
    let line = a.buy.iter().find(|line| line.part == part);
    let written = sheet.lines.get(part);
    let state = written.map_or(LineState::ToBuy, |line| line.state);
    let of_line = written.and_then(|line| line.weeks).filter(|weeks| (0.0..=MOST_WEEKS).contains(weeks));
    let of_library = || catalogue.part(part).and_then(|entry| entry.part.weeks);
    let weeks = of_line.map(|weeks| [weeks; 2]).or_else(of_library);
    let promised =
        written.filter(|line| line.state == LineState::OnOrder).and_then(|line| line.promised.as_ref());
    // "in May": the last day of it
    let promised = promised.and_then(|text| Dated::parse(text).ok()).map(|dated| dated.last);
    let companion = || a.companions.iter().find(|c| c.part == part).map(|c| &c.name);
    let name = line.map(|line| &line.name).or_else(companion).cloned().unwrap_or_else(|| part.to_owned());
    // what is not in hand is not used in the first session
    let next = |session: u64| session.max(1);
    let by_weeks = || match weeks {
        Some([_, most]) => {
            let from = settings.today.and_then(|today| settings.days_until(today)).unwrap_or(0);
            let days = from.saturating_add((most * 7.0).ceil() as i64);
            (Known::Ordered, next(settings.session_from(days)), settings.day_at(days))
        }
        None => (Known::Unknown, 1, None),
    };
    let on_order = match promised {
        Some(day) if settings.today.is_some_and(|today| day < today) => (Known::Late, 1, None),
        Some(day) => {
            let session = settings.days_until(day).map_or(1, |days| settings.session_from(days));
            (Known::Promised, session, Some(day))
        }
        None => by_weeks(),
    };
    // more are wanted than were ordered: the rest is to be ordered, and all are here with the last of them
    let short = line.map_or(0, |line| line.short);
    let (known, session, day) = if short == 0 {
        on_order
    } else {
        let (known, session, day) = by_weeks();
        let both = day.zip(promised).map(|(rest, promised)| rest.max(promised));
        (known, session.max(on_order.1), both.or(day))
    };
    let qty = line.map_or(1, |line| line.qty);
    Coming { part: part.to_owned(), name, state, qty, short, weeks, promised, known, session, day }
}

/// Parts on order whose day nobody has promised, or whose day has gone by, for jobs in the order in which they begin: each once.
pub fn notes<'a>(wanted: impl Iterator<Item = (&'a str, &'a Coming)>, settings: &Settings) -> Vec<Note> {
    let mut told: BTreeSet<&str> = BTreeSet::new();
    let mut out = Vec::new();
    for (job, part) in wanted {
        if part.state != LineState::OnOrder || !told.insert(&part.part) {
            continue;
        }
        let (job, name, here) = (job.to_owned(), part.name.clone(), part.day);
        match (part.promised, settings.today) {
            (None, _) => out.push(Note::NoDay { job, part: name, here }),
            (Some(promised), Some(today)) if promised < today => {
                out.push(Note::Late { job, part: name, promised, here });
            }
            (Some(_), _) => {}
        }
    }
    out
}

/// A part to be ordered, and by when.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// Part id.
    pub part: String,
    /// As shown.
    pub name: String,
    /// How many are wanted in all.
    pub qty: u32,
    /// How many of them are still to be ordered though the line is on order or here. 0: none was ordered yet.
    pub short: u32,
    /// The first job that wants it, by id.
    pub job: String,
    /// The day of the session in which that begins.
    pub wanted: Option<Date>,
    /// Weeks from the order until it is here, at least and at most. `None`: nobody has said; ask.
    pub weeks: Option<[f64; 2]>,
    /// The last day on which it can be ordered so that it is here even if it takes the most. `None`: not known.
    pub latest: Option<Date>,
    /// That is the day it is, or has gone by.
    pub today: bool,
}

/// What is to be ordered for jobs, each with its session: what is longest overdue first, what nobody knows last.
pub fn orders<'a>(
    wanted: impl Iterator<Item = (&'a str, u64, &'a Coming)>,
    settings: &Settings,
) -> Vec<Order> {
    let mut out: Vec<Order> = Vec::new();
    for (job, session, part) in wanted {
        // what is on order is waited for; of fewer than are wanted the rest is not
        let to_order = part.state != LineState::OnOrder || part.short > 0;
        if !to_order || out.iter().any(|order| order.part == part.part) {
            continue;
        }
        let latest = part.weeks.map(|[_, most]| settings.days_to(session) - (most * 7.0).ceil() as i64);
        let latest = latest.and_then(|days| settings.day_at(days));
        let today = latest.zip(settings.today).is_some_and(|(latest, today)| latest <= today);
        out.push(Order {
            part: part.part.clone(),
            name: part.name.clone(),
            qty: part.qty,
            short: part.short,
            job: job.to_owned(),
            wanted: settings.day_of(session),
            weeks: part.weeks,
            latest,
            today,
        });
    }
    out.sort_by_key(|order| (order.latest.is_none(), order.latest, order.wanted));
    out
}
