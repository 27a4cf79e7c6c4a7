//! The sheet: one file with the vehicle as found, its plans, the buying record, the survey, the work and its time.

pub mod time;

mod direction;
mod for_sale;
mod identity;
mod seen;
mod worth;

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value as Json;

use crate::described::Described;
use crate::key::{CompanionKey, KeyError};
use crate::library::{Class, Extra, FigureDef, LimitDef, NeedDef, Part, PortType, Table, Written};
use crate::made_with::MadeWith;
use crate::money::Money;
use crate::refund::CameBack;
use crate::schema;

pub use direction::{Direction, Way};
pub use for_sale::{ForSale, Papers};
pub use identity::{Identity, Mark, Trust, Wear};
pub use seen::{NotDriven, OwnBounds, PutOff, Reading, Seen};
pub use time::{Person, Time, Weekday};
pub use worth::Worth;

/// What will be done at a position.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Route {
    /// Leave the part as it is.
    #[default]
    Keep,
    /// Clean and refit.
    Clean,
    /// Rebuild the part that is there.
    Rebuild,
    /// Replace in kind.
    Renew,
    /// Fit another part.
    Convert,
    /// Leave the place empty.
    LeaveOff,
}

impl Route {
    /// All routes in the order they are offered.
    pub const ALL: [Self; 6] =
        [Self::Keep, Self::Clean, Self::Rebuild, Self::Renew, Self::Convert, Self::LeaveOff];

    /// The word on screen and in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Keep => "keep",
            Self::Clean => "clean",
            Self::Rebuild => "rebuild",
            Self::Renew => "renew",
            Self::Convert => "convert",
            Self::LeaveOff => "leave off",
        }
    }
}

/// A route with its part where it needs one.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Choice {
    /// The route.
    pub route: Route,
    /// For `convert`: the part or kit fitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
}

/// What inspection said of a position.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Inside its limit.
    #[default]
    Good,
    /// Usable, to be measured again.
    Watch,
    /// Outside its limit.
    Renew,
    /// Not to be driven until cured.
    Stop,
}

impl Verdict {
    /// All of them, the best first.
    pub const ALL: [Self; 4] = [Self::Good, Self::Watch, Self::Renew, Self::Stop];

    /// The word on screen and in files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Good => "good",
            Self::Watch => "watch",
            Self::Renew => "renew",
            Self::Stop => "stop",
        }
    }
}

/// One survey entry.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Finding {
    /// The verdict.
    pub verdict: Verdict,
    /// What was seen or measured.
    #[serde(default)]
    pub note: String,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// Where a line of the buy list stands.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum LineState {
    /// Not yet ordered.
    #[default]
    ToBuy,
    /// Ordered.
    OnOrder,
    /// On the bench.
    InHand,
    /// On the vehicle.
    Fitted,
    /// Returned.
    SentBack,
}

impl LineState {
    /// All states in order.
    pub const ALL: [Self; 5] = [Self::ToBuy, Self::OnOrder, Self::InHand, Self::Fitted, Self::SentBack];

    /// It is on the bench or on the vehicle.
    pub fn is_here(self) -> bool {
        matches!(self, Self::InHand | Self::Fitted)
    }

    /// It is here, or on order.
    pub fn is_bought(self) -> bool {
        self.is_here() || self == Self::OnOrder
    }

    /// The word on screen and in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::ToBuy => "to buy",
            Self::OnOrder => "on order",
            Self::InHand => "in hand",
            Self::Fitted => "fitted",
            Self::SentBack => "sent back",
        }
    }
}

/// The buying record of one part. Absent means: to buy.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Line {
    /// Where it stands.
    pub state: LineState,
    /// What was paid each, once known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paid: Option<Money>,
    /// What came back of what was paid for all of them, by what it came back for.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub came_back: BTreeMap<CameBack, Money>,
    /// How many were bought or ordered. Absent: as many as the plan wants, at least one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub qty: Option<u32>,
    /// From whom.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub supplier: String,
    /// How many weeks it takes from the order until it is here, as whoever sells it says. Absent: as the library says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weeks: Option<f64>,
    /// When it is promised: a month or a day. Absent: nobody has said, or it is not on order.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub promised: Option<String>,
    /// When it was fitted: a year, a month or a day. Absent: not known, or not fitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub fitted: Option<String>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// A job that is done.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Done {
    /// On which day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub on: Option<String>,
    /// How many hours it took.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hours: Option<f64>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// A check that passed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Signed {
    /// On which day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub on: Option<String>,
    /// What was read.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub reading: String,
    /// Initials of who looked.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub by: String,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// What may be spent on parts, as the owner says it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Budget {
    /// For all of it. Absent: nobody says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub total: Option<Money>,
    /// Per cent of what is still to be paid that is kept back for what nobody foresaw, 0 to 200. Absent: none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub contingency: Option<u32>,
    /// For single systems, by system id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub systems: BTreeMap<String, Money>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// A supplier: what an order costs besides its parts, and prices.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Supplier {
    /// Shipping of an order. Absent: nobody says; it is told as unknown, and none is counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shipping: Option<Money>,
    /// From this sum of an order on nothing is asked for shipping. Absent: always.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_from: Option<Money>,
    /// The least an order must come to. Absent: anything.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minimum: Option<Money>,
    /// Prices, each, by part id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub prices: BTreeMap<String, Money>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// One complete set of routes.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(from = "PlanText", into = "PlanText")]
pub struct Plan {
    /// As shown.
    pub name: String,
    /// The plan of attack in one sentence.
    pub about: String,
    /// Choices by position id; a position not named is kept.
    pub routes: BTreeMap<String, Choice>,
    /// Where several parts would serve: the one picked, by companion key.
    pub picks: BTreeMap<CompanionKey, String>,
    /// Companion keys the owner has said yes to.
    pub accepted: BTreeSet<CompanionKey>,
    /// Companion keys left out, each with the reason.
    pub waived: BTreeMap<CompanionKey, String>,
    /// Picked, accepted or left out by a text that is no companion key.
    pub unread: Unread,
    /// Words of a newer program.
    pub extra: Extra,
    /// Words of a newer program in the choices, by position id.
    pub choice_extra: BTreeMap<String, Extra>,
}

/// What a file says of companions by texts that are no keys. Nothing rests on it, and the file keeps it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Unread {
    /// Part ids by text.
    pub picks: BTreeMap<String, String>,
    /// Texts.
    pub accepted: BTreeSet<String>,
    /// Reasons by text.
    pub waived: BTreeMap<String, String>,
}

impl Unread {
    /// What is wrong with each of the texts.
    pub fn errors(&self) -> impl Iterator<Item = KeyError> {
        let texts = self.picks.keys().chain(&self.accepted).chain(self.waived.keys());
        texts.filter_map(|text| text.parse::<CompanionKey>().err())
    }
}

/// A plan as it stands in the file: a choice may have words of a newer program.
#[derive(Serialize, Deserialize, JsonSchema)]
#[schemars(rename = "Plan", description = "One complete set of routes.")]
struct PlanText {
    /// As shown.
    name: String,
    /// The plan of attack in one sentence.
    #[serde(default)]
    about: String,
    /// Choices by position id; a position not named is kept.
    #[serde(default)]
    routes: BTreeMap<String, ChoiceText>,
    /// Where several parts would serve: the one picked, by the key of the companion.
    #[serde(default)]
    picks: BTreeMap<String, String>,
    /// Keys of companions the owner has said yes to.
    #[serde(default)]
    accepted: BTreeSet<String>,
    /// Keys of companions left out, each with the reason.
    #[serde(default)]
    waived: BTreeMap<String, String>,
    #[serde(flatten)]
    extra: Extra,
}

/// A choice as it stands in the file.
#[derive(Serialize, Deserialize, JsonSchema)]
#[schemars(rename = "Choice", description = "A route with its part where it needs one.")]
struct ChoiceText {
    /// The route.
    route: Route,
    /// For `convert`: the part or kit fitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    part: Option<String>,
    #[serde(flatten)]
    extra: Extra,
}

impl From<PlanText> for Plan {
    fn from(text: PlanText) -> Self {
        let mut plan = Self { name: text.name, about: text.about, extra: text.extra, ..Self::default() };
        for (key, part) in text.picks {
            match key.parse() {
                Ok(key) => drop(plan.picks.insert(key, part)),
                Err(_) => drop(plan.unread.picks.insert(key, part)),
            }
        }
        for key in text.accepted {
            match key.parse() {
                Ok(key) => drop(plan.accepted.insert(key)),
                Err(_) => drop(plan.unread.accepted.insert(key)),
            }
        }
        for (key, reason) in text.waived {
            match key.parse() {
                Ok(key) => drop(plan.waived.insert(key, reason)),
                Err(_) => drop(plan.unread.waived.insert(key, reason)),
            }
        }
        for (position, choice) in text.routes {
            if !choice.extra.is_empty() {
                plan.choice_extra.insert(position.clone(), choice.extra);
            }
            plan.routes.insert(position, Choice { route: choice.route, part: choice.part });
        }
        plan
    }
}

impl From<Plan> for PlanText {
    fn from(mut plan: Plan) -> Self {
        let choice = |(position, choice): (String, Choice)| {
            let extra = plan.choice_extra.remove(&position).unwrap_or_default();
            (position, ChoiceText { route: choice.route, part: choice.part, extra })
        };
        Self {
            name: plan.name,
            about: plan.about,
            routes: plan.routes.into_iter().map(choice).collect(),
            picks: by_text(plan.picks, plan.unread.picks),
            accepted: plan.accepted.iter().map(CompanionKey::to_string).chain(plan.unread.accepted).collect(),
            waived: by_text(plan.waived, plan.unread.waived),
            extra: plan.extra,
        }
    }
}

fn by_text(
    read: BTreeMap<CompanionKey, String>,
    mut unread: BTreeMap<String, String>,
) -> BTreeMap<String, String> {
    unread.extend(read.into_iter().map(|(key, value)| (key.to_string(), value)));
    unread
}

/// One file.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Sheet {
    /// Where an editor finds the schema of this file; nothing here rests on it.
    #[serde(rename = "$schema", default, skip_serializing_if = "Option::is_none")]
    pub schema: Option<String>,
    /// The format's number: 1.
    #[schemars(with = "schema::Format")]
    pub format: u32,
    /// As shown.
    pub name: String,
    /// Vehicle id in the library.
    pub vehicle: String,
    /// How this vehicle is otherwise than that one.
    #[serde(default, skip_serializing_if = "Described::is_nothing")]
    pub described: Described,
    /// The libraries it was made with, the lowest first. Empty: nobody has said.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub libraries: Vec<MadeWith>,
    /// Plan id worked on.
    pub plan: String,
    /// One sentence on the vehicle and its owner.
    #[serde(default)]
    pub about: String,
    /// Survey by position id.
    #[serde(default)]
    pub survey: BTreeMap<String, Finding>,
    /// What was read at inspections, by position id, in the order in which it was written down.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub readings: BTreeMap<String, Vec<Reading>>,
    /// What was seen besides, by position id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub seen: BTreeMap<String, Vec<Seen>>,
    /// What the maker says, by position id and inspection id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub own_bounds: BTreeMap<String, BTreeMap<String, OwnBounds>>,
    /// What is put off, by position id and inspection id. What stops the vehicle cannot be.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub put_off: BTreeMap<String, BTreeMap<String, PutOff>>,
    /// Not driven on the road; absent: nobody says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_driven: Option<NotDriven>,
    /// Where it goes: the last counts, those before it stay as they were taken.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub directions: Vec<Direction>,
    /// What was asked for it, and what came of that; absent: it was not looked at as something for sale.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub for_sale: Option<ForSale>,
    /// What the vehicle says it is; absent: nobody has looked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub identity: Option<Identity>,
    /// Facts measured on this vehicle, by the text of their [`FactKey`](crate::key::FactKey); they go before the library's.
    #[serde(default)]
    #[schemars(with = "Table<schema::Value>")]
    pub facts: Table<Json>,
    /// Where this vehicle was found otherwise than the library says: part id, or null for empty.
    #[serde(default)]
    pub as_found: BTreeMap<String, Option<String>>,
    /// When what was found in a position was made or put in: a year, a month or a day, by position id; by circuit id when
    /// a circuit was last filled with new fluid.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    #[schemars(with = "BTreeMap<String, schema::Dated>")]
    pub made: BTreeMap<String, String>,
    /// Parts the user typed in.
    #[serde(default)]
    pub parts: Table<Written<Part>>,
    /// Classes of such parts, where the library has none for them.
    #[serde(default, skip_serializing_if = "Table::is_empty")]
    pub classes: Table<Class>,
    /// Figures of such parts.
    #[serde(default, skip_serializing_if = "Table::is_empty")]
    pub figures: Table<FigureDef>,
    /// What such parts need and offer.
    #[serde(default, skip_serializing_if = "Table::is_empty")]
    pub needs: Table<NeedDef>,
    /// How such parts connect.
    #[serde(default, skip_serializing_if = "Table::is_empty")]
    pub port_types: Table<PortType>,
    /// What must hold on this vehicle besides the limits of the library.
    #[serde(default, skip_serializing_if = "Table::is_empty")]
    pub limits: Table<LimitDef>,
    /// Plans by id.
    pub plans: BTreeMap<String, Plan>,
    /// Buying record by part id.
    #[serde(default)]
    pub lines: BTreeMap<String, Line>,
    /// What may be spent.
    #[serde(default, skip_serializing_if = "is_nothing")]
    pub budget: Budget,
    /// What it is worth, by the owner's own figures.
    #[serde(default, skip_serializing_if = "is_worth_nothing")]
    pub worth: Worth,
    /// Suppliers by name, as lines name them.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub suppliers: BTreeMap<String, Supplier>,
    /// Notes by position id.
    #[serde(default)]
    pub notes: BTreeMap<String, String>,
    /// Photos by position id: paths, those inside the sheet's folder relative to it. The pictures stay where they are.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub photos: BTreeMap<String, Vec<String>>,
    /// Jobs that are done, by job id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub done: BTreeMap<String, Done>,
    /// Checks that were signed, by check id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub signed: BTreeMap<String, Signed>,
    /// The time there is for the work. Absent: nobody has said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<Time>,
    /// Jobs that are not begun before a day, and then before others, by job id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    #[schemars(with = "BTreeMap<String, schema::Day>")]
    pub pinned: BTreeMap<String, String>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

impl Sheet {
    /// Where it goes; `None`: nobody has said.
    #[must_use]
    pub fn direction(&self) -> Option<&Direction> {
        self.directions.last()
    }
}

/// Nobody says anything of a budget.
fn is_nothing(budget: &Budget) -> bool {
    *budget == Budget::default()
}

/// Nobody says what it is worth.
fn is_worth_nothing(worth: &Worth) -> bool {
    *worth == Worth::default()
}
