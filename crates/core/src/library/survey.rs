//! The survey of the trade as data: what is inspected, how, and between which bounds it is good, and the zones one walks.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::schema;
use crate::sheet::{Route, Verdict};
use crate::whereabouts::Whereabouts;

use super::Table;

/// How far a restoration goes: what a stage brings in.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// What makes it safe and reliable: brakes, steering, tyres, fuel, wiring, cooling, belts.
    #[default]
    Sound,
    /// What one sees and sits in: body, glass, trim, paint, heater.
    Seen,
    /// What goes beyond what the vehicle was.
    Stretched,
    /// The body comes off the frame.
    Bare,
}

impl Stage {
    /// All of them in their order.
    pub const ALL: [Self; 4] = [Self::Sound, Self::Seen, Self::Stretched, Self::Bare];

    /// The word on screen.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Sound => "Sound",
            Self::Seen => "Seen",
            Self::Stretched => "Stretched",
            Self::Bare => "Bare",
        }
    }
}

/// What a stage is about, by its word.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct StageDef {
    /// What it brings in, in a sentence.
    pub brings: String,
    /// What must be true before the next stage is begun: its stop line, each in a few words.
    pub stop_line: Vec<String>,
    /// Where it comes from: a kind of source, and behind a colon what it is.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
}

/// Between which values something is: absent ends are open.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Bounds {
    /// The least that still belongs to it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Quantity>")]
    pub least: Option<String>,
    /// The most that still belongs to it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Quantity>")]
    pub most: Option<String>,
}

/// What the bounds of an inspection are counted from.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Against {
    /// A fact of the vehicle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fact: Option<String>,
    /// The class of the part whose figure or port it is: what was found in the place itself where it is of this class, else in
    /// the first place of the class.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub class: Option<String>,
    /// A figure of that part.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub figure: Option<String>,
    /// A port of that part, and one of its fields.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub port: Option<String>,
    /// The field of that port.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub field: Option<String>,
    /// How the bounds are counted from it.
    pub by: CountedBy,
    /// For `each`: the bounds are for so much of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Quantity>")]
    pub each: Option<String>,
}

/// How bounds are counted from a value that is known elsewhere.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CountedBy {
    /// The bounds are what may be more or less than it.
    #[default]
    Difference,
    /// The bounds are shares of it: of the low end of a window at least, of the high end at most.
    Share,
    /// The bounds are for so much of it as `each` says.
    Each,
}

/// Other bounds where the vehicle or its part is of another kind. The first case that holds counts.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct BoundsCase {
    /// A fact of the vehicle that lies between `from` and `to`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fact: Option<String>,
    /// A figure of the part that was found in the place, and lies between them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub figure: Option<String>,
    /// The least of that fact or figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Quantity>")]
    pub from: Option<String>,
    /// The most of that fact or figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Quantity>")]
    pub to: Option<String>,
    /// The part that was found in the place has a port of this type.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub port_type: Option<String>,
    /// In words for whoever measures: "above 8 to 1".
    pub name: String,
    /// Good between these.
    pub good: Bounds,
    /// To be watched between these; absent: there is nothing between good and bad.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub watch: Option<Bounds>,
    /// To be renewed between these; outside of them it stops the vehicle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub renew: Option<Bounds>,
}

/// With what one looks at a vehicle that is for sale.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum LookedAtWith {
    /// Eyes and hands.
    #[default]
    Eyes,
    /// A magnet in a cloth.
    Magnet,
    /// A torch and a mirror.
    Torch,
    /// One wheel off the ground.
    Jack,
    /// The engine started cold.
    ColdStart,
    /// On the road, where it may go there.
    Drive,
}

impl LookedAtWith {
    /// The words on screen.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Eyes => "eyes and hands",
            Self::Magnet => "magnet",
            Self::Torch => "torch",
            Self::Jack => "jack",
            Self::ColdStart => "cold start",
            Self::Drive => "drive",
        }
    }
}

/// How an inspection is done at a vehicle that is for sale: quickly, and with nothing taken apart.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct BeforeBuying {
    /// Place in that walk, low first.
    pub order: u32,
    /// How long it takes.
    #[schemars(with = "schema::Quantity")]
    pub time: String,
    /// With what.
    pub with: LookedAtWith,
    /// It is looked at only then: whoever owns the vehicle has better means.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub only: bool,
}

/// One thing that is measured or looked at when a vehicle is surveyed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Inspection {
    /// As shown: "steering free play".
    pub name: String,
    /// Classes it is about: each place with a part of one of them is inspected.
    #[serde(rename = "for")]
    pub whom: Vec<String>,
    /// Only at places that bear these words.
    #[serde(rename = "where", skip_serializing_if = "Whereabouts::is_empty")]
    pub whereabouts: Whereabouts,
    /// Only where the part that was found has this figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub having: Option<String>,
    /// Only on a vehicle that is built so: one of these words is among the `built` of the vehicle.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub built: Vec<String>,
    /// Zone id: where one stands or lies.
    pub zone: String,
    /// Place in the zone, low first.
    pub order: u32,
    /// The stage that wants it.
    pub stage: Stage,
    /// How it is measured, or what is looked at.
    pub method: String,
    /// With what.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub tool: String,
    /// How far what that tool reads may be off.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Quantity>")]
    pub accuracy: Option<String>,
    /// The dimension of what is read; `made` where it is the day on which what is there was made; `look` where only words
    /// are.
    #[schemars(with = "schema::InspectionKind")]
    pub kind: String,
    /// Good between these.
    pub good: Bounds,
    /// To be watched between these; absent: there is nothing between good and bad.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub watch: Option<Bounds>,
    /// To be renewed between these; outside of them it stops the vehicle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub renew: Option<Bounds>,
    /// What the bounds are counted from, where they are not the same on every vehicle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub against: Option<Against>,
    /// Other bounds for some; the first that holds counts.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cases: Vec<BoundsCase>,
    /// What can be seen, each with its verdict.
    #[serde(skip_serializing_if = "Table::is_empty")]
    pub words: Table<Verdict>,
    /// How it is done at a vehicle that is for sale; absent: it is not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub before_buying: Option<BeforeBuying>,
    /// What is outside its bounds stops the vehicle: people depend on it.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub stop: bool,
    /// Inspections of one place with the same word are alternatives: one of them is enough.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub either: Option<String>,
    /// What is to be watched is measured again after so much.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(with = "Vec<schema::After>")]
    pub again: Vec<String>,
    /// What it proposes where it is outside its bounds.
    pub route: Route,
    /// What a bad reading tells: "better with oil in the cylinder: the rings".
    #[serde(skip_serializing_if = "String::is_empty")]
    pub tells: String,
    /// Caution ids.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// Where its bounds come from: a kind of source, and behind a colon what it is.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
}

/// How one is placed in a zone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Posture {
    /// On one's feet.
    #[default]
    Standing,
    /// In a seat.
    Sitting,
    /// On one's back.
    Lying,
    /// At a part that is off the vehicle.
    AtTheBench,
}

/// Where one stands, sits or lies while inspecting: zones are walked in their order.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Zone {
    /// As shown: "under the bonnet".
    pub name: String,
    /// Place in the walk, low first.
    pub order: u32,
    /// How one is placed.
    pub posture: Posture,
    /// What is done before one begins, in a sentence.
    pub before: String,
    /// Caution ids.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
}
