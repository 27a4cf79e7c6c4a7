//! The parts library as it is written in JSON: any file may hold any of the sections.
//!
//! Everything here is data about the trade; nothing is decided. [`crate::catalogue`] checks it and
//! indexes it for the engine.

pub mod aim;
pub mod survey;
pub mod work;

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value as Json};

pub use self::aim::Aim;
pub use self::survey::{
    Against, BeforeBuying, Bounds, BoundsCase, CountedBy, Inspection, LookedAtWith, Posture, Stage, StageDef,
    Zone,
};
pub use self::work::{Card, Check, FirstTime, JobKind, Operation, OrderRule, Phase};
use crate::drawing::Drawing;
use crate::money::Money;
use crate::schema;
pub use crate::table::Table;
pub use crate::whereabouts::{ClassAt, Whereabouts};
pub use crate::written::Written;

/// One file of the library. Unknown words in it are refused. Its parts are whole, or as they are [`Written`].
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
#[schemars(bound = "P: JsonSchema + Default")]
pub struct LibraryFile<P = Part> {
    /// Where an editor finds the schema of this file; nothing here rests on it.
    #[serde(rename = "$schema", skip_serializing_if = "Option::is_none")]
    pub schema: Option<String>,
    /// The format's number: 1.
    #[schemars(with = "schema::Format")]
    pub format: u32,
    /// One sentence on what the file holds.
    pub about: String,
    /// What the library is called; one file of a library says it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub library: Option<LibraryHead>,
    /// When the prices of this file were looked up: a year, a month or a day. Absent: nobody has said.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub priced: Option<String>,
    /// How long prices hold, as a time of the calendar: "1 year"; one file of a library says it. Absent: prices do not
    /// grow old.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Period>")]
    pub prices_hold: Option<String>,
    /// What the hours of operations are against those of a workshop; one file of a library says it. Absent: nobody knows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first_time: Option<FirstTime>,
    /// Where the numbers of this file come from: a kind of source, and behind a colon what it is: "standard: SAE J512, table 2".
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
    /// The same for some of them, by their path below: "port_types".
    #[serde(skip_serializing_if = "Table::is_empty")]
    #[schemars(with = "Table<schema::Source>")]
    pub sources: Table<String>,
    /// Systems of a vehicle: fuel, brakes, ...
    pub systems: Table<System>,
    /// Kinds of part; a position takes one of them.
    pub classes: Table<Class>,
    /// Names of measured figures of parts and vehicles, with their dimension.
    pub figures: Table<FigureDef>,
    /// Capabilities that one part supplies and another wants.
    pub needs: Table<NeedDef>,
    /// Things shared and added up.
    pub pools: Table<PoolDef>,
    /// Port types with their match rules.
    pub port_types: Table<PortType>,
    /// Figures over several positions that must hold.
    pub limits: Table<LimitDef>,
    /// What an opened place wants while it is apart.
    pub openings: Table<Opening>,
    /// Dangers and their guards.
    pub cautions: Table<Caution>,
    /// Operations of the workshop, of which jobs are made.
    #[serde(skip_serializing_if = "Table::is_empty")]
    pub operations: Table<Operation>,
    /// Rules of their order.
    #[serde(skip_serializing_if = "Table::is_empty")]
    pub orders: Table<OrderRule>,
    /// Checks before the road and on it.
    #[serde(skip_serializing_if = "Table::is_empty")]
    pub checks: Table<Check>,
    /// What is inspected when a vehicle is surveyed.
    #[serde(skip_serializing_if = "Table::is_empty")]
    pub inspections: Table<Inspection>,
    /// Where one stands or lies while inspecting.
    #[serde(skip_serializing_if = "Table::is_empty")]
    pub zones: Table<Zone>,
    /// How far a restoration goes, by the words of [`Stage`].
    #[serde(skip_serializing_if = "Table::is_empty")]
    pub stages: Table<StageDef>,
    /// What an owner can hold a plan to.
    #[serde(skip_serializing_if = "Table::is_empty")]
    pub aims: Table<Aim>,
    /// How things are done, step by step.
    #[serde(skip_serializing_if = "Table::is_empty")]
    pub cards: Table<Card>,
    /// Words that several parts share, in the words of a part; a part is `like` one or more of them.
    pub patterns: Table<Written<Part>>,
    /// Parts that differ in a few words only, one row each.
    pub families: Table<Family>,
    /// Parts and kits.
    pub parts: Table<P>,
    /// Vehicles; several files may each hold a piece of one.
    pub vehicles: Table<Vehicle>,
    /// Side drawings of vehicles.
    pub drawings: Table<Drawing>,
}

impl<P> LibraryFile<P> {
    /// The parts of a file, and the rest of it with other parts in their place.
    #[must_use]
    pub fn with_parts<Q>(self, parts: Table<Q>) -> (Table<P>, LibraryFile<Q>) {
        let rest = LibraryFile {
            schema: self.schema,
            format: self.format,
            about: self.about,
            library: self.library,
            priced: self.priced,
            prices_hold: self.prices_hold,
            first_time: self.first_time,
            source: self.source,
            sources: self.sources,
            systems: self.systems,
            classes: self.classes,
            figures: self.figures,
            needs: self.needs,
            pools: self.pools,
            port_types: self.port_types,
            limits: self.limits,
            openings: self.openings,
            cautions: self.cautions,
            operations: self.operations,
            orders: self.orders,
            checks: self.checks,
            inspections: self.inspections,
            zones: self.zones,
            stages: self.stages,
            aims: self.aims,
            cards: self.cards,
            patterns: self.patterns,
            families: self.families,
            parts,
            vehicles: self.vehicles,
            drawings: self.drawings,
        };
        (self.parts, rest)
    }
}

/// What a library is called, and which of its versions this is: sheets remember it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LibraryHead {
    /// As shown: "Mill vans".
    pub name: String,
    /// As whoever writes it counts: "1.2".
    #[serde(default)]
    pub version: String,
    /// Who wrote it, as they want to be named. Empty: nobody says.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub author: String,
    /// On which terms others may use and change it: "CC0-1.0". Empty: nobody says.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub licence: String,
}

/// A part of the vehicle worked on as a whole.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct System {
    /// As shown.
    pub name: String,
    /// Place on the board, low first.
    #[serde(default)]
    pub order: u32,
    /// The stage that wants work on it, unless a class says otherwise.
    #[serde(default, skip_serializing_if = "is_sound")]
    pub stage: Stage,
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde asks for a reference")]
fn is_sound(stage: &Stage) -> bool {
    *stage == Stage::Sound
}

/// A kind of part.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Class {
    /// As shown.
    pub name: String,
    /// Used loose on a vehicle that gives it no place: relay, hose, gasket, fluid. On a vehicle that has a place for it,
    /// its parts go there and nowhere else.
    #[serde(default)]
    pub free: bool,
    /// Work that leaves no part on the vehicle: a skim, an alignment, an inspection. Whoever asks for it, it is done once.
    #[serde(default)]
    pub service: bool,
    /// Who decides what sits in its place. Absent: a free class follows; any other has no place on any vehicle.
    #[serde(default)]
    pub decided: Option<Decided>,
    /// The stage that wants work on its parts. Absent: as the system of its place says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stage: Option<Stage>,
    /// How long its parts last whatever they look like. Absent: age does not matter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lasts: Option<Lasts>,
    /// What the ports of its parts are, by port name, in the words of a port: a part says which of them it has, and only
    /// what is otherwise.
    #[serde(default, skip_serializing_if = "Table::is_empty")]
    pub ports: Table<Written<Port>>,
}

/// Who decides what sits in a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Decided {
    /// The owner alone: it stands on a list of wishes, or would anger if exchanged unasked.
    Owner,
    /// What it joins settles what it must be; any part that fits will do.
    Follows,
}

/// How long the parts of a class last from the day they were made.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Lasts {
    /// A time of the calendar: "10 years", "18 months".
    #[schemars(with = "schema::Period")]
    pub time: String,
    /// People depend on none being older, whatever its part says.
    #[serde(default)]
    pub safety: bool,
    /// How to read when one was made: "four figures after DOT: week and year".
    #[serde(default)]
    pub read: String,
    /// Sentence fragment on what age does to it.
    #[serde(default)]
    pub why: String,
    /// Where it comes from: a kind of source, and behind a colon what it is: "common practice: 40 mm".
    #[serde(default)]
    #[schemars(with = "schema::Source")]
    pub source: String,
}

/// What is to be done again some way or time after the work.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Again {
    /// As shown: "tighten the wheel nuts again". The same words anywhere in the library are the same thing to do.
    pub what: String,
    /// After which distances or times, each a quantity: "50 miles", "100 miles", "2 weeks".
    #[schemars(with = "Vec<schema::After>")]
    pub after: Vec<String>,
    /// Sentence fragment.
    #[serde(default)]
    pub why: String,
    /// Where it comes from: a kind of source, and behind a colon what it is: "common practice: 40 mm".
    #[serde(default)]
    #[schemars(with = "schema::Source")]
    pub source: String,
}

/// A measured figure of a part or a vehicle.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FigureDef {
    /// As shown.
    pub name: String,
    /// A dimension word: length, pressure, current, ratio, count, ...
    #[schemars(with = "schema::Kind")]
    pub kind: String,
    /// How to measure it, and how well.
    #[serde(default)]
    pub measure: String,
    /// It may be below zero, as an offset may: no slip of the keyboard.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub signed: bool,
}

/// How far one provider of a need goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Sharing {
    /// One provider serves everybody who wants it.
    #[default]
    Shared,
    /// Each part that wants it gets a provider of its own.
    Own,
}

/// A capability another part must supply.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NeedDef {
    /// As shown, after "needs": "a fused relay feed".
    pub name: String,
    /// Dimension word, or "present" where having it is enough.
    #[schemars(with = "schema::NeedKind")]
    pub kind: String,
    /// `at-least` (the default) or `inside`: the provider's window inside the wanted one.
    #[serde(default)]
    pub rule: NeedRule,
    /// One for all or one each.
    #[serde(default)]
    pub sharing: Sharing,
    /// A sentence fragment on why: "a pump that keeps running after a crash feeds a fire".
    #[serde(default)]
    pub why: String,
}

/// How a need's value is compared.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NeedRule {
    /// What is offered is at least what is wanted.
    #[default]
    AtLeast,
    /// What is offered lies inside what is wanted.
    Inside,
}

/// Something shared and added up: what is taken, with the margin, must not exceed what is given.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PoolDef {
    /// As shown: "bonnet height".
    pub name: String,
    /// Dimension word.
    #[schemars(with = "schema::Kind")]
    pub kind: String,
    /// What must stay free, as text with a unit.
    #[serde(default)]
    #[schemars(with = "Option<schema::Quantity>")]
    pub margin: Option<String>,
    /// Where less than this is left besides, it holds closely: what is left is said.
    #[serde(default)]
    #[schemars(with = "Option<schema::Quantity>")]
    pub close: Option<String>,
    /// Only a sum for a limit to read; never a verdict of its own.
    #[serde(default)]
    pub tally: bool,
    /// A sentence fragment on what happens when it is overdrawn.
    #[serde(default)]
    pub why: String,
}

/// How two port fields must agree.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Rule {
    /// The same, within the field's tolerance.
    Equal,
    /// Opposites listed in `words`: male and female.
    Mates,
    /// The giver's window inside the taker's.
    Inside,
    /// The giver has at least what the taker wants.
    AtLeast,
    /// The giver has at most what the taker stands.
    AtMost,
    /// The same word, or both in one list of `words`.
    Class,
    /// Told, never compared.
    #[default]
    Told,
}

/// One field of a port type.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FieldDef {
    /// As shown: "hose bore".
    pub name: String,
    /// Dimension word, `word` or `thread`.
    #[schemars(with = "schema::Kind")]
    pub kind: String,
    /// How two of them must agree.
    #[serde(default)]
    pub rule: Rule,
    /// For `equal`: the difference allowed, text with a unit.
    #[serde(default)]
    #[schemars(with = "Option<schema::Quantity>")]
    pub within: Option<String>,
    /// For `mates` pairs, for `class` lists that go together.
    #[serde(default)]
    pub words: Vec<Vec<String>>,
    /// May be left out of a port; then the rule does not apply.
    #[serde(default)]
    pub optional: bool,
    /// What happens where two of them do not agree, as a sentence with holes: "the engine floods: {giver gives} {given},
    /// {taker takes} {wanted}".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub says: Option<Says>,
    /// For a field without `says`: sentence fragment on what goes wrong.
    #[serde(default)]
    pub why: String,
}

/// What two values that do not agree do.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Says {
    /// Whichever way they differ.
    Always(String),
    /// By how they differ: `over` and `under` what is wanted, or the word that both ends have.
    By(Table<String>),
}

/// A kind of connection.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PortType {
    /// As shown: "fuel pressure".
    pub name: String,
    /// Fields by name.
    #[serde(default)]
    pub fields: Table<FieldDef>,
    /// Where the numbers of this port type come from: a kind of source, and behind a colon what it is: "standard: SAE J512, table 2".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
    /// The same for some of them, by their path below: "fields.bore".
    #[serde(default, skip_serializing_if = "Table::is_empty")]
    #[schemars(with = "Table<schema::Source>")]
    pub sources: Table<String>,
    /// What a joint of this type wants new whenever it is opened.
    #[serde(default)]
    pub opened: Vec<Want>,
    /// What a joint of this type that was opened wants done again later.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub later: Vec<Again>,
}

/// Something wanted by kind, not by name.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Want {
    /// The class of part wanted; the cheapest that matches is proposed.
    pub class: String,
    /// Where, where a vehicle has several places for it.
    #[serde(rename = "where", default, skip_serializing_if = "Whereabouts::is_empty")]
    pub whereabouts: Whereabouts,
    /// How many.
    #[serde(default = "one")]
    pub qty: u32,
    /// Required, or advised.
    #[serde(default)]
    pub level: Level,
    /// Sentence fragment.
    #[serde(default)]
    pub why: String,
}

fn one() -> u32 {
    1
}

/// How strongly something is wanted.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// The plan does not work without it.
    #[default]
    Required,
    /// Wise.
    Advised,
}

/// Who gives and who takes at a port.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Role {
    /// Neither: a flange, a thread.
    #[default]
    Plain,
    /// Supplies: a pump outlet, a power source.
    Give,
    /// Consumes: a carburettor inlet, a load.
    Take,
}

/// What it means when nothing hangs on a port any more.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Alone {
    /// May stay open.
    #[default]
    Fine,
    /// Must be closed by a part with one port of this type (a blank, a plug).
    Cap,
    /// Must be served: its part does not work without.
    Required,
    /// Its part has lost its job.
    Surplus,
}

/// The fields of a port, as written: text with a unit, a word, "any", "unknown: how to measure",
/// "4 to 7 psi", "set 1 to 4 psi", or a list of words of which one must do.
pub type FieldTexts = BTreeMap<String, Json>;

/// One connection of a part.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Port {
    /// Port type id. Left out where the class or a pattern says it.
    #[serde(rename = "type", default)]
    pub port_type: String,
    /// Who gives.
    #[serde(default)]
    pub role: Role,
    /// When nothing hangs on it.
    #[serde(default)]
    pub alone: Alone,
    /// Values by field.
    #[serde(default)]
    #[schemars(with = "Table<schema::Value>")]
    pub fields: FieldTexts,
}

/// One line of a kit's box.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Content {
    /// Part id: the one place where a part may name another.
    pub part: String,
    /// Where it goes, where a vehicle has several places for it.
    #[serde(rename = "where", default, skip_serializing_if = "Whereabouts::is_empty")]
    pub whereabouts: Whereabouts,
    /// How many.
    #[serde(default = "one")]
    pub qty: u32,
}

/// Whether a change can be undone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Reversible {
    /// Bolts off again.
    #[default]
    Yes,
    /// With some repair.
    Partly,
    /// A one-way door.
    No,
}

impl Reversible {
    /// In words, after "it" or alone.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Yes => "can be undone",
            Self::Partly => "can be undone with some repair",
            Self::No => "cannot be undone",
        }
    }
}

/// Money and hours of working on the part that is there.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Work {
    /// Kit and outside work, for one.
    #[serde(default)]
    pub price: Option<Money>,
    /// Own hours for one.
    #[serde(default)]
    pub hours: Option<f64>,
}

/// A part or a kit.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// The patterns it is like, by their ids with a space between: it has what they say, and what it says itself goes
    /// before. Of two patterns the second goes before the first.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub like: String,
    /// As shown; starts with what it is. Left out where a pattern says it.
    #[serde(default)]
    pub name: String,
    /// Its class; decides which position takes it. Left out where a pattern says it.
    #[serde(default)]
    pub class: String,
    /// Connections by name. Names are the same for all parts of a class.
    #[serde(default)]
    pub ports: Table<Port>,
    /// For a bridge: the names of its two ports.
    #[serde(default)]
    pub bridges: Option<[String; 2]>,
    /// Capabilities wanted, by need id: a value or "present".
    #[serde(default)]
    #[schemars(with = "Table<schema::Needed>")]
    pub needs: Table<String>,
    /// The same, only advised.
    #[serde(default)]
    #[schemars(with = "Table<schema::Needed>")]
    pub advises: Table<String>,
    /// Capabilities supplied, by need id.
    #[serde(default)]
    #[schemars(with = "Table<schema::Needed>")]
    pub offers: Table<String>,
    /// Given to pools.
    #[serde(default)]
    #[schemars(with = "Table<schema::Quantity>")]
    pub gives: Table<String>,
    /// Taken from pools.
    #[serde(default)]
    #[schemars(with = "Table<schema::Quantity>")]
    pub takes: Table<String>,
    /// Measured figures by figure id.
    #[serde(default)]
    #[schemars(with = "Table<schema::Value>")]
    pub figures: Table<Json>,
    /// Figures of the vehicle that are so with this part fitted, by figure id: a lock stop sets the steering lock.
    #[serde(default, skip_serializing_if = "Table::is_empty")]
    #[schemars(with = "Table<schema::Value>")]
    pub sets: Table<Json>,
    /// Fluid it holds, by circuit id.
    #[serde(default)]
    #[schemars(with = "Table<schema::Quantity>")]
    pub holds: Table<String>,
    /// What is in the box.
    #[serde(default)]
    pub contents: Vec<Content>,
    /// Places that stay empty with this kit.
    #[serde(default)]
    pub leaves_empty: Vec<ClassAt>,
    /// In plain words, what the box does not hold.
    #[serde(default)]
    pub not_in_box: Vec<String>,
    /// Price bought new. Absent: not known.
    #[serde(default)]
    pub price: Option<Money>,
    /// Own hours to fit one.
    #[serde(default)]
    pub hours: Option<f64>,
    /// Weeks from the order until it is here: at least, at most. Absent: not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weeks: Option<[f64; 2]>,
    /// Cleaning and refitting this part.
    #[serde(default)]
    pub clean: Option<Work>,
    /// Rebuilding this part.
    #[serde(default)]
    pub rebuild: Option<Work>,
    /// Whether fitting it can be undone.
    #[serde(default)]
    pub reversible: Reversible,
    /// Where it cannot be undone, or only with repair: one sentence on what is lost and what to keep or photograph
    /// first, so that it can be put back.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub undone: String,
    /// What stays undone where it is taken off and nothing takes its place: "the hole in the floor stays open to fumes".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub leaves: String,
    /// Made or machined rather than bought.
    #[serde(default)]
    pub made: bool,
    /// A mistake with it hurts people.
    #[serde(default)]
    pub safety: bool,
    /// Caution ids.
    #[serde(default)]
    pub cautions: Vec<String>,
    /// Where the numbers of this part come from: a kind of source, and behind a colon what it is: "standard: SAE J512, table 2".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
    /// The same for some of them, by their path below: "ports.out.fields.thread".
    #[serde(default, skip_serializing_if = "Table::is_empty")]
    #[schemars(with = "Table<schema::Source>")]
    pub sources: Table<String>,
    /// Invented supplier.
    #[serde(default)]
    pub supplier: String,
    /// Anything a person should know.
    #[serde(default)]
    pub note: String,
}

/// Parts that differ in a few words only: a table with a row for each.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Family {
    /// The patterns that all of them are like, as in a part.
    pub like: String,
    /// What the values of a row are, each by its path in a part: `price`, `figures.tyre-outside`. Where one value stands
    /// at several places, their paths with a space between.
    pub columns: Vec<String>,
    /// The values of each part, by its id: one for each column, null where nothing is said.
    pub rows: Table<Vec<Json>>,
}

/// A danger and its guard.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    /// What can happen.
    pub danger: String,
    /// What to do.
    pub guard: String,
}

/// What a place wants while it is apart.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Opening {
    /// As shown: "front hub off".
    pub name: String,
    /// Places which, when their part is changed, open this.
    pub classes: Vec<ClassAt>,
    /// It is there only on a vehicle that is built so: one of these words is among the `built` of the vehicle. Empty: on
    /// every vehicle.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub built: Vec<String>,
    /// What is wanted new or looked at.
    #[serde(default)]
    pub wants: Vec<Want>,
    /// What is to be done again later.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub later: Vec<Again>,
}

/// Where a limit's input comes from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged, deny_unknown_fields)]
pub enum Input {
    /// A figure of the part fitted at a place of a class, or of the place itself.
    Figure {
        /// The class.
        class: String,
        /// Where, where a limit is about two places of one class.
        #[serde(rename = "where", default, skip_serializing_if = "Whereabouts::is_empty")]
        whereabouts: Whereabouts,
        /// The figure id.
        figure: String,
        /// A part without the figure is none the limit is about (instead of: to measure).
        #[serde(default)]
        optional: bool,
        /// What it is where nothing is fitted: text with a unit.
        #[serde(rename = "else", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "Option<schema::Quantity>")]
        otherwise: Option<String>,
    },
    /// A figure of the vehicle: measured on it, set by a fitted part, or as the library has it.
    Fact {
        /// The figure id.
        fact: String,
        /// What it is where nobody says: text with a unit.
        #[serde(rename = "else", default, skip_serializing_if = "Option::is_none")]
        #[schemars(with = "Option<schema::Quantity>")]
        otherwise: Option<String>,
    },
    /// The sum taken from a pool.
    Pool {
        /// The pool id.
        pool: String,
    },
    /// A value fixed by the trade or a standard, the same for every vehicle.
    Fixed {
        /// Text with a unit.
        #[schemars(with = "schema::Quantity")]
        value: String,
    },
    /// Several added up: the drop of a shaft, and the lift, less the drop of the transfer box.
    Sum {
        /// What is added.
        sum: Vec<Input>,
        /// What is taken off.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        less: Vec<Input>,
    },
}

/// A figure over several positions that must hold.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LimitDef {
    /// As shown: "tyre load".
    pub name: String,
    /// The named calculation.
    #[schemars(with = "schema::Calculation")]
    pub calc: String,
    /// Its inputs by name.
    pub inputs: Table<Input>,
    /// A broken limit asks for this need instead of being a clash at once.
    #[serde(default)]
    pub raises: Option<String>,
    /// The value the raised need must have.
    #[serde(default)]
    #[schemars(with = "Option<schema::Needed>")]
    pub raises_value: Option<String>,
    /// A limit that knows better: where that holds, this one's being broken does not count.
    #[serde(default)]
    pub yields_to: Option<String>,
    /// Where what can change is less than this from breaking it, it holds closely: what is left is said. `any`: its
    /// figures are always said.
    #[serde(default)]
    #[schemars(with = "Option<schema::Quantity>")]
    pub close: Option<String>,
    /// A mistake here hurts people.
    #[serde(default)]
    pub safety: bool,
    /// Sentence fragment on what goes wrong.
    #[serde(default)]
    pub why: String,
    /// Where it comes from: a kind of source, and behind a colon what it is: "common practice: 40 mm".
    #[serde(default)]
    #[schemars(with = "schema::Source")]
    pub source: String,
}

/// A vehicle, or one file's piece of it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Vehicle {
    /// As shown (in one of the pieces).
    pub name: String,
    /// One sentence.
    pub about: String,
    /// It is no particular vehicle, but a beginning from which one of one's own is described.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub beginning: bool,
    /// Places for parts.
    pub positions: Table<Position>,
    /// Ports that meet.
    pub joints: Table<Joint>,
    /// Fluid circuits.
    pub circuits: Table<Circuit>,
    /// Measured figures by figure id.
    #[schemars(with = "Table<schema::Value>")]
    pub facts: Table<Json>,
    /// How it is built, in words of the library's choosing, for operations, openings and inspections that are there on such
    /// vehicles only.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub built: Vec<String>,
    /// What the vehicle itself gives to pools.
    #[schemars(with = "Table<schema::Quantity>")]
    pub gives: Table<String>,
    /// Capabilities the bare vehicle supplies.
    #[schemars(with = "Table<schema::Needed>")]
    pub offers: Table<String>,
    /// Where the numbers of this vehicle come from, as far as they stand in this piece: a kind of source, and behind a colon
    /// what it is.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
    /// The same for some of them, by their path below: "facts.kerb-mass".
    #[serde(skip_serializing_if = "Table::is_empty")]
    #[schemars(with = "Table<schema::Source>")]
    pub sources: Table<String>,
}

/// A place where one part (or n alike) sits.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Position {
    /// As shown.
    pub name: String,
    /// System id.
    pub system: String,
    /// Class it takes.
    pub class: String,
    /// Where it is, where the vehicle has several places of one class.
    #[serde(rename = "where", default, skip_serializing_if = "Whereabouts::is_empty")]
    pub whereabouts: Whereabouts,
    /// How many alike.
    #[serde(default = "one")]
    pub qty: u32,
    /// The part that sits here as found; absent: empty.
    #[serde(default)]
    pub as_found: Option<String>,
    /// Figures of the place, whatever sits in it, by figure id: room, rating.
    #[serde(default, skip_serializing_if = "Table::is_empty")]
    #[schemars(with = "Table<schema::Value>")]
    pub figures: Table<Json>,
}

/// One end of a joint.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct End {
    /// Position id.
    pub at: String,
    /// Port name on the part that sits there.
    pub port: String,
}

/// Ports that meet on this vehicle.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// As shown: "fuel pump to carburettor".
    pub name: String,
    /// Two as a rule, more for a belt or a stud pattern.
    pub ends: Vec<End>,
    /// How many alike: two front hoses.
    #[serde(default = "one")]
    pub qty: u32,
    /// Joints of a vehicle with the same word here are alternatives: one of them is enough.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub either: Option<String>,
}

/// A fluid circuit.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Circuit {
    /// As shown.
    pub name: String,
    /// Class of the fluid wanted when opened.
    pub fluid: String,
    /// Fill (and flush) of the bare circuit.
    #[schemars(with = "schema::Quantity")]
    pub capacity: String,
    /// Positions that open it when changed.
    pub positions: Vec<String>,
}

/// Keeps words of a newer program in a user's file.
pub type Extra = Map<String, Json>;
