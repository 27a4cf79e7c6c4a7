//! The reports there are: each makes a [`Document`] of a sheet, a plan and its assessment, and none knows of a format.

mod book;
mod buy_list;
mod commissioning;
mod compare;
mod jobs;
mod measure;
mod tags;
mod walk_round;

use std::collections::BTreeMap;

use knockon_core::assessment::PositionView;
use knockon_core::date::Date;
use knockon_core::jobs::Jobs;
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Catalogue, Sheet};

use crate::document::{Block, Document, Picture};

/// A report.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// What is to be bought, by supplier.
    BuyList,
    /// The work in its order.
    Jobs,
    /// The walk round the vehicle.
    WalkRound,
    /// What is to be measured.
    Measure,
    /// The checks before and on the road.
    Commissioning,
    /// Tags for what comes off and is kept.
    Tags,
    /// Two plans side by side.
    Compare,
    /// All of it, to be handed over.
    Book,
}

impl Kind {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::BuyList,
        Self::Jobs,
        Self::WalkRound,
        Self::Measure,
        Self::Commissioning,
        Self::Tags,
        Self::Compare,
        Self::Book,
    ];

    /// Its word on the command line and in file names.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::BuyList => "buy-list",
            Self::Jobs => "jobs",
            Self::WalkRound => "walk-round",
            Self::Measure => "measure",
            Self::Commissioning => "commissioning",
            Self::Tags => "tags",
            Self::Compare => "compare",
            Self::Book => "book",
        }
    }

    /// As shown at its head.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::BuyList => "Buy list",
            Self::Jobs => "Job list",
            Self::WalkRound => "Walk-round sheet",
            Self::Measure => "Measuring list",
            Self::Commissioning => "Commissioning sheets",
            Self::Tags => "Tags for what comes off",
            Self::Compare => "Two plans side by side",
            Self::Book => "Build book",
        }
    }
}

/// What the lines of a buy list are put together by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum By {
    /// From whom.
    #[default]
    Supplier,
    /// Brakes, fuel and so on.
    System,
    /// To buy, on order, in hand.
    State,
}

impl By {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Supplier, Self::System, Self::State];

    /// Its word, which is also the head of its column.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Supplier => "supplier",
            Self::System => "system",
            Self::State => "state",
        }
    }
}

/// Another plan that the first is held against.
#[derive(Clone, Copy, Debug)]
pub struct Other<'a> {
    /// Its id in the sheet.
    pub plan: &'a str,
    /// Its assessment.
    pub assessment: &'a Assessment,
}

/// What a report is about.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The sheet.
    pub sheet: &'a Sheet,
    /// Plan id.
    pub plan: &'a str,
    /// The assessment of that plan.
    pub assessment: &'a Assessment,
    /// The library.
    pub catalogue: &'a Catalogue,
    /// The work of the plan.
    pub jobs: &'a Jobs,
    /// Whose units quantities are told in.
    pub measure: Measure,
    /// The day it is as of; `None`: nobody says.
    pub day: Option<Date>,
    /// For a buy list.
    pub by: By,
    /// For two plans side by side; without it the plan is held against itself.
    pub other: Option<Other<'a>>,
    /// Photos by position id, as small as they are to be shown; for a book.
    pub pictures: &'a BTreeMap<String, Vec<Picture>>,
}

/// What the program does not do, at the foot of what is handed over.
pub const LIMITS: &str = "This plans parts and work. The vehicle maker's manual, local law and licensed practice decide what is \
    safe and allowed on the road.";

/// A report of this kind.
#[must_use]
pub fn document(kind: Kind, subject: &Subject<'_>) -> Document {
    let mut document = match kind {
        Kind::BuyList => buy_list::buy_list(subject),
        Kind::Jobs => jobs::jobs(subject),
        Kind::WalkRound => walk_round::walk_round(subject),
        Kind::Measure => measure::measure(subject),
        Kind::Commissioning => commissioning::commissioning(subject),
        Kind::Tags => tags::tags(subject),
        Kind::Compare => compare::compare(subject),
        Kind::Book => book::book(subject),
    };
    document.kind = kind.word();
    document.title = kind.title().to_owned();
    document.key = format!("{} / {} / {}", kind.word(), subject.sheet.name, subject.plan);
    document.day = subject.day;
    document.about = about(kind, subject);
    document
}

/// The vehicle, the plan, the day.
fn about(kind: Kind, s: &Subject<'_>) -> Vec<String> {
    let vehicle = s.catalogue.vehicles.get(&s.sheet.vehicle).map(|v| v.name.clone());
    let mut out = vec![match vehicle {
        Some(vehicle) if vehicle != s.sheet.name => format!("{}, {vehicle}", s.sheet.name),
        _ => s.sheet.name.clone(),
    }];
    if kind != Kind::Compare {
        out.push(format!("Plan: {}", plan_name(s, s.plan)));
    }
    out.extend(s.day.map(|day| format!("As of {day}")));
    out
}

/// A plan as shown.
pub(crate) fn plan_name(s: &Subject<'_>, plan: &str) -> String {
    s.sheet.plans.get(plan).map_or_else(|| plan.to_owned(), |plan| plan.name.clone())
}

/// A place as shown; its id where the vehicle has none of it.
pub(crate) fn place<'a>(a: &'a Assessment, id: &'a str) -> &'a str {
    position(a, id).map_or(id, |p| p.name.as_str())
}

/// A place as the plan leaves it.
pub(crate) fn position<'a>(a: &'a Assessment, id: &str) -> Option<&'a PositionView> {
    a.positions.iter().find(|p| p.id == id)
}

/// A system as shown.
pub(crate) fn system<'a>(a: &'a Assessment, id: &'a str) -> &'a str {
    a.systems.iter().find(|(of, _)| of == id).map_or(id, |(_, name)| name.as_str())
}

/// A sentence: with a capital at its head and a stop at its end.
pub(crate) fn sentence(text: &str) -> String {
    let mut letters = text.trim().chars();
    let Some(first) = letters.next() else { return String::new() };
    let text: String = first.to_uppercase().chain(letters).collect();
    if text.ends_with(['.', '!', '?']) { text } else { text + "." }
}

/// Half a line of a reason as a sentence: what follows "because", or what would happen otherwise.
pub(crate) fn because(half: &str) -> String {
    match (half.strip_prefix("because "), half.strip_prefix("or ")) {
        (Some(rest), _) => sentence(rest),
        (_, Some(rest)) => sentence(&format!("otherwise {rest}")),
        _ => sentence(half),
    }
}

/// What can hurt somebody in the plan, each once.
pub(crate) fn cautions(s: &Subject<'_>) -> Vec<Block> {
    let one = |c: &knockon_core::assessment::CautionNote| {
        Block::Caution(c.danger.trim_end_matches('.').to_owned(), sentence(&c.guard.say(s.measure)))
    };
    s.assessment.cautions.iter().map(one).collect()
}
