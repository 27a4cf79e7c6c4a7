//! The library checked and indexed: words become numbers, texts become values, and what the engine looks up
//! often is found without walking the whole library.

mod build;
mod check;
mod index;

use std::collections::HashMap;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::library::{
    Alone, Caution, FieldDef, Input, Level, LibraryFile, LimitDef, NeedDef, Part, PoolDef, Role, Sharing,
    Want,
};
use crate::value::{Kind, Value};

pub use check::Fault;
pub use index::PortIndex;

/// Number of a part, class, port type, need, pool, joint or position; each table has its own numbers.
pub type Ix = u32;

/// A list by id with numbers in id order.
#[derive(Clone, Debug, Default)]
pub struct Names {
    /// Ids, sorted.
    pub ids: Vec<String>,
    lookup: HashMap<String, Ix>,
}

impl Names {
    /// Numbers ids in sorted order.
    #[must_use]
    pub fn new<'a>(ids: impl IntoIterator<Item = &'a String>) -> Self {
        let mut ids: Vec<String> = ids.into_iter().cloned().collect();
        ids.sort();
        ids.dedup();
        let lookup = ids.iter().enumerate().map(|(i, id)| (id.clone(), i as Ix)).collect();
        Self { ids, lookup }
    }

    /// The number of an id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<Ix> {
        self.lookup.get(id).copied()
    }

    /// The id of a number.
    #[must_use]
    pub fn id(&self, ix: Ix) -> &str {
        self.ids.get(ix as usize).map_or("", String::as_str)
    }
}

/// A port type with its fields in order.
#[derive(Clone, Debug)]
pub struct PortTypeEntry {
    /// As shown.
    pub name: String,
    /// Field id, definition, kind, tolerance of `equal` in SI.
    pub fields: Vec<(String, FieldDef, Kind, f64)>,
    /// Wanted whenever a joint of this type is opened.
    pub opened: Vec<(Ix, Want)>,
    /// The field whose value finds matching ports in an index.
    pub key_field: Option<usize>,
}

/// A port with its values in the order of its type's fields.
#[derive(Clone, Debug)]
pub struct PortEntry {
    /// Port name.
    pub name: String,
    /// Port type.
    pub port_type: Ix,
    /// Who gives.
    pub role: Role,
    /// When nothing hangs on it.
    pub alone: Alone,
    /// Values; `None` where an optional field is left out.
    pub values: Vec<Option<Value>>,
}

/// A part ready for the engine.
#[derive(Clone, Debug)]
pub struct PartEntry {
    /// As written.
    pub part: Part,
    /// Class.
    pub class: Ix,
    /// Ports by name, sorted.
    pub ports: Vec<PortEntry>,
    /// For a bridge: places of its two ports.
    pub bridge: Option<(usize, usize)>,
    /// Needs: which, value, level.
    pub needs: Vec<(Ix, Option<Value>, Level)>,
    /// Offers.
    pub offers: Vec<(Ix, Option<Value>)>,
    /// Gives to pools.
    pub gives: Vec<(Ix, Value)>,
    /// Takes from pools.
    pub takes: Vec<(Ix, Value)>,
    /// Figures by figure number.
    pub figures: Vec<(Ix, Value)>,
    /// Held fluid by circuit id, SI volume.
    pub holds: Vec<(String, f64)>,
    /// Box contents: part and how many.
    pub contents: Vec<(Ix, u32)>,
    /// Classes left empty.
    pub leaves_empty: Vec<Ix>,
    /// Price in hundredths for ordering; a part without a price comes last.
    pub cost: i64,
}

/// Ordering price of a part nobody has priced: after all others.
pub const UNPRICED: i64 = 1 << 40;

impl PartEntry {
    /// A port by name.
    #[must_use]
    pub fn port(&self, name: &str) -> Option<&PortEntry> {
        self.ports.iter().find(|p| p.name == name)
    }

    /// A figure by number.
    #[must_use]
    pub fn figure(&self, figure: Ix) -> Option<&Value> {
        self.figures.iter().find(|(f, _)| *f == figure).map(|(_, v)| v)
    }
}

fn cost_of(part: &Part) -> i64 {
    part.price.as_ref().and_then(|m| (m.amount * Decimal::ONE_HUNDRED).round().to_i64()).unwrap_or(UNPRICED)
}

/// A limit ready for the engine.
#[derive(Clone, Debug)]
pub struct LimitEntry {
    /// Limit id.
    pub id: String,
    /// As written.
    pub def: LimitDef,
    /// Inputs by name.
    pub inputs: Vec<(String, LimitInput)>,
    /// Raised need and its value.
    pub raises: Option<(Ix, Option<Value>)>,
}

/// An input of a limit, resolved.
#[derive(Clone, Debug)]
pub enum LimitInput {
    /// A figure of the part at the position of a class; `bool`: without it the limit does not apply.
    Figure(Ix, Ix, bool),
    /// A fact of the vehicle.
    Fact(Ix),
    /// The sum taken from a pool.
    Pool(Ix),
    /// A fixed value.
    Fixed(Value),
}

/// A pool ready for the engine.
#[derive(Clone, Debug)]
pub struct PoolEntry {
    /// As written.
    pub def: PoolDef,
    /// Margin in SI.
    pub margin: f64,
}

/// A position of a vehicle.
#[derive(Clone, Debug)]
pub struct PositionEntry {
    /// Position id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// System id.
    pub system: String,
    /// Class it takes.
    pub class: Ix,
    /// How many alike.
    pub qty: u32,
    /// Part as found.
    pub as_found: Option<Ix>,
}

/// A joint of a vehicle.
#[derive(Clone, Debug)]
pub struct JointEntry {
    /// Joint id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// Position number and port name.
    pub ends: Vec<(Ix, String)>,
    /// How many alike.
    pub qty: u32,
}

/// A fluid circuit of a vehicle.
#[derive(Clone, Debug)]
pub struct CircuitEntry {
    /// Circuit id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// Class of the fluid.
    pub fluid: Ix,
    /// SI volume.
    pub capacity: f64,
    /// Positions that open it.
    pub positions: Vec<Ix>,
}

/// A vehicle ready for the engine.
#[derive(Clone, Debug, Default)]
pub struct VehicleEntry {
    /// As shown.
    pub name: String,
    /// One sentence.
    pub about: String,
    /// Positions in board order: system, then id.
    pub positions: Vec<PositionEntry>,
    /// Position numbers by id.
    pub position_ix: HashMap<String, Ix>,
    /// Position of a class (the first in board order).
    pub by_class: HashMap<Ix, Ix>,
    /// Joints by id.
    pub joints: Vec<JointEntry>,
    /// Joints that touch each position.
    pub joints_at: Vec<Vec<Ix>>,
    /// Circuits by id.
    pub circuits: Vec<CircuitEntry>,
    /// Facts by figure number.
    pub facts: HashMap<Ix, Value>,
    /// Given to pools.
    pub gives: Vec<(Ix, Value)>,
    /// Offered by the bare vehicle.
    pub offers: Vec<(Ix, Option<Value>)>,
}

/// What an opened place wants.
#[derive(Clone, Debug)]
pub struct OpeningEntry {
    /// Opening id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// Classes that open it.
    pub classes: Vec<Ix>,
    /// What is wanted: class and want.
    pub wants: Vec<(Ix, Want)>,
}

/// The library checked and indexed.
#[derive(Clone, Debug, Default)]
pub struct Catalogue {
    /// The files as written, for adding the parts of a sheet.
    pub(crate) files: Vec<(String, LibraryFile)>,
    /// Part ids.
    pub part_names: Names,
    /// Parts by number.
    pub parts: Vec<PartEntry>,
    /// Class ids.
    pub class_names: Names,
    /// Class name as shown, and whether it is free.
    pub classes: Vec<(String, bool)>,
    /// Parts of a class, cheapest first, ties by id.
    pub by_class: Vec<Vec<Ix>>,
    /// Port type ids.
    pub port_type_names: Names,
    /// Port types by number.
    pub port_types: Vec<PortTypeEntry>,
    /// Need ids.
    pub need_names: Names,
    /// Needs by number: definition.
    pub needs: Vec<NeedDef>,
    /// Parts that offer a need, cheapest first.
    pub offered_by: Vec<Vec<Ix>>,
    /// Pool ids.
    pub pool_names: Names,
    /// Pools by number.
    pub pools: Vec<PoolEntry>,
    /// Figure ids.
    pub figure_names: Names,
    /// Figure name as shown, kind, how to measure.
    pub figures: Vec<(String, Kind, String)>,
    /// Limits by id.
    pub limits: Vec<LimitEntry>,
    /// Openings by id.
    pub openings: Vec<OpeningEntry>,
    /// Cautions by id.
    pub cautions: std::collections::BTreeMap<String, Caution>,
    /// Systems in board order: id and name.
    pub systems: Vec<(String, String)>,
    /// Vehicles by id.
    pub vehicles: std::collections::BTreeMap<String, VehicleEntry>,
    /// Bridge ports by what they match.
    pub bridge_index: PortIndex,
    /// Ports named "cap" of free parts.
    pub cap_index: PortIndex,
}

impl Catalogue {
    /// Checks and indexes the files of a library. Entries with a fault are left out; the faults say why.
    #[must_use]
    pub fn new(files: Vec<(String, LibraryFile)>) -> (Self, Vec<Fault>) {
        build::build(files)
    }

    /// This library with the parts a user typed into a sheet.
    #[must_use]
    pub fn with_parts(&self, parts: &crate::library::Table<Part>) -> (Self, Vec<Fault>) {
        let mut files = self.files.clone();
        files.push((
            "parts of the sheet".to_owned(),
            LibraryFile { parts: parts.clone(), ..LibraryFile::default() },
        ));
        Self::new(files)
    }

    /// A part by id.
    #[must_use]
    pub fn part(&self, id: &str) -> Option<&PartEntry> {
        self.part_names.get(id).and_then(|ix| self.parts.get(ix as usize))
    }

    /// Whether a need gives each asker a provider of its own.
    #[must_use]
    pub fn is_own(&self, need: Ix) -> bool {
        self.needs.get(need as usize).is_some_and(|n| n.sharing == Sharing::Own)
    }
}

/// Resolves an [`Input`]; used by the builder.
pub(crate) fn input_words(input: &Input) -> &'static str {
    match input {
        Input::Figure { .. } => "class and figure",
        Input::Fact { .. } => "fact",
        Input::Pool { .. } => "pool",
        Input::Fixed { .. } => "value",
    }
}
