//! The library checked and indexed: words become numbers, texts become values, and what the engine looks up
//! often is found without walking the whole library.

mod aims;
mod amounts;
mod below_zero;
mod bits;
mod build;
mod built;
mod check;
mod classes;
pub mod dated;
mod drawings;
pub(crate) mod for_sheet;
mod id;
mod index;
mod limit_places;
mod lint_places;
mod lints;
pub(crate) mod measured;
pub(crate) mod meeting;
mod parts;
mod patterns;
mod places;
mod rules;
pub(crate) mod searched;
mod slips;
mod sourced;
pub mod survey;
mod unsaid;
mod unused;
mod values;
mod vehicles;
pub mod work;

use std::collections::HashMap;
use std::sync::Arc;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use rustc_hash::FxHashMap;

use crate::date::{Date, Dated, Period};
use crate::drawing::Drawing;
use crate::library::{
    Aim, Alone, Card, Caution, Check, FieldDef, Level, LibraryFile, LimitDef, NeedDef, Operation, OrderRule,
    Part, PoolDef, Role, Sharing, Stage, StageDef, Want, Zone,
};
use crate::made_with::MadeWith;
use crate::quantity::Quantity;
use crate::value::{Kind, Value};
use crate::whereabouts::Whereabouts;

pub(crate) use bits::Bits;
pub use check::Fault;
pub use classes::ClassEntry;
pub use dated::{AgainEntry, LastsEntry};
pub use for_sheet::{Brought, ForSheet};
pub use id::{
    CircuitId, ClassId, Figure, FigureId, Id, JointId, LimitId, NeedId, Numbered, OpeningId, PartId, PoolId,
    PortName, PortNameId, PortSpec, PortTypeId, PositionId, RunId, SpecId, SpotId, VehicleId,
};
pub use index::PortIndex;
pub use limit_places::LimitPlaces;
pub use patterns::Layered;
pub use places::{FewPlaces, Places};
pub use survey::{Bands, InspectionEntry, ReadAs, Span};

/// The ids of one kind of things as written, and the numbers that stand for them, in order of the ids.
#[derive(Clone, Debug)]
pub struct Names<T> {
    /// Ids, sorted.
    pub ids: Numbered<T, String>,
    lookup: HashMap<String, Id<T>>,
}

impl<T> Default for Names<T> {
    fn default() -> Self {
        Self { ids: Numbered::new(), lookup: HashMap::new() }
    }
}

impl<T> Names<T> {
    /// Numbers ids in sorted order.
    #[must_use]
    pub fn new<'a>(ids: impl IntoIterator<Item = &'a String>) -> Self {
        let mut ids: Vec<String> = ids.into_iter().cloned().collect();
        ids.sort();
        ids.dedup();
        let ids: Numbered<T, String> = ids.into_iter().collect();
        let lookup = ids.iter().map(|(number, id)| (id.clone(), number)).collect();
        Self { ids, lookup }
    }

    /// The number of an id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<Id<T>> {
        self.lookup.get(id).copied()
    }

    /// The id of a number.
    #[must_use]
    pub fn id(&self, number: Id<T>) -> &str {
        self.ids.get(number).map_or("", String::as_str)
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
    pub opened: Vec<(ClassId, Want)>,
    /// Done again later wherever a joint of this type was opened.
    pub later: Vec<AgainEntry>,
    /// The field whose value finds matching ports in an index.
    pub key_field: Option<KeyField>,
}

/// How an index finds the ports that could match.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum KeyField {
    /// By a field that must be equal.
    Equal(usize),
    /// By a field whose windows must overlap, in steps of so much (SI).
    Overlap(usize, f64),
}

/// A port with its values in the order of its type's fields.
#[derive(Clone, Debug)]
pub struct PortEntry {
    /// The same number for all ports of one type and role whose fields read the same: what holds for one holds for all.
    pub spec: SpecId,
    /// Number of the port name.
    pub name_ix: PortNameId,
    /// Port type.
    pub port_type: PortTypeId,
    /// Who gives.
    pub role: Role,
    /// When nothing hangs on it.
    pub alone: Alone,
    /// Values, shared by all ports of the spec; `None` where an optional field is left out.
    pub values: Arc<[Option<Value>]>,
}

/// A part ready for the engine.
#[derive(Clone, Debug)]
pub struct PartEntry {
    /// As written.
    pub part: Box<Part>,
    /// Class.
    pub class: ClassId,
    /// Ports by name, sorted.
    pub ports: Vec<PortEntry>,
    /// For a bridge: places of its two ports.
    pub bridge: Option<(usize, usize)>,
    /// Needs: which, value, level.
    pub needs: Vec<(NeedId, Option<Value>, Level)>,
    /// Offers.
    pub offers: Vec<(NeedId, Option<Value>)>,
    /// Gives to pools.
    pub gives: Vec<(PoolId, Value)>,
    /// Takes from pools.
    pub takes: Vec<(PoolId, Value)>,
    /// What it gives and then what it takes, as the sums want it.
    pub(crate) shares: Vec<Share>,
    /// Figures by figure number.
    pub figures: Vec<(FigureId, Value)>,
    /// Held fluid by circuit id, SI volume.
    pub holds: Vec<(String, f64)>,
    /// Figures of the vehicle that it sets, by figure number.
    pub sets: Vec<(FigureId, Value)>,
    /// What is in its box.
    pub contents: Vec<ContentEntry>,
    /// Places left empty.
    pub leaves_empty: Vec<ClassPlaces>,
    /// Has a port that is its job: without it the part is surplus.
    pub has_job: bool,
    /// Gives to or takes from a pool.
    pub in_pools: bool,
    /// Some vehicle came with it.
    pub is_found: bool,
    /// Place in the order of price, ties by id.
    pub rank: u32,
    /// Price in hundredths for ordering; a part without a price comes last.
    pub cost: i64,
    /// When its prices were looked up; `None`: nobody has said.
    pub priced: Option<Arc<Dated>>,
}

/// One line of a kit's box.
#[derive(Clone, Debug)]
pub struct ContentEntry {
    /// The part.
    pub part: PartId,
    /// Where it goes, where a vehicle has several places for it.
    pub whereabouts: Whereabouts,
    /// How many.
    pub qty: u32,
}

/// The places of a class, all or some of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClassPlaces {
    /// The class.
    pub class: ClassId,
    /// Which; nothing said: those that go with the place this is said from.
    pub whereabouts: Whereabouts,
}

/// Ordering price of a part nobody has priced: after all others.
pub const UNPRICED: i64 = 1 << 40;

impl PartEntry {
    /// A port by the number of its name.
    #[must_use]
    pub fn port_ix(&self, name: PortNameId) -> Option<&PortEntry> {
        self.ports.iter().find(|p| p.name_ix == name)
    }

    /// A figure by number.
    #[must_use]
    pub fn figure(&self, figure: FigureId) -> Option<&Value> {
        self.figures.iter().find(|(f, _)| *f == figure).map(|(_, v)| v)
    }
}

fn cost_of(part: &Part) -> i64 {
    part.price.as_ref().map_or(UNPRICED, |m| hundredths(m.amount))
}

/// An amount of money in hundredths, for ordering.
pub(crate) fn hundredths(amount: Decimal) -> i64 {
    (amount * Decimal::ONE_HUNDRED).round().to_i64().unwrap_or(UNPRICED)
}

/// What a part gives to a pool or takes from it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Share {
    pub pool: PoolId,
    pub gives: bool,
    /// The middle and what the tolerance leaves open either way, SI; `None` where it is not known.
    pub amount: Option<(f64, f64)>,
}

impl Share {
    pub fn new(pool: PoolId, value: &Value, gives: bool) -> Self {
        let amount = value.bounds().map(|(low, high)| (f64::midpoint(low, high), (high - low) / 2.0));
        Self { pool, gives, amount }
    }
}

/// A limit ready for the engine.
#[derive(Clone, Debug)]
pub struct LimitEntry {
    /// Limit id.
    pub id: String,
    /// As written.
    pub def: LimitDef,
    /// Its calculation.
    pub calc: crate::limits::Calculation,
    /// Inputs by name.
    pub inputs: Vec<(String, LimitInput)>,
    /// The places it reads figures at, each once.
    pub slots: Vec<ClassPlaces>,
    /// Raised need and its value.
    pub raises: Option<(NeedId, Option<Value>)>,
    /// The limit that knows better.
    pub yields_to: Option<LimitId>,
    /// When it holds so closely that what is left is said.
    pub close: Option<Closely>,
}

/// From where on a limit that holds says what is left.
#[derive(Clone, Debug)]
pub enum Closely {
    /// Always.
    Any,
    /// Where what can change is less than this from breaking it.
    Within(Quantity),
}

/// An input of a limit, resolved.
#[derive(Clone, Debug)]
pub enum LimitInput {
    /// A figure at a place.
    Figure {
        /// Which of the limit's places.
        slot: usize,
        /// Figure number.
        figure: FigureId,
        /// A part without it is none the limit is about.
        optional: bool,
        /// What it is where nothing is fitted.
        otherwise: Option<Value>,
    },
    /// A fact of the vehicle.
    Fact {
        /// Figure number.
        figure: FigureId,
        /// What it is where nobody says.
        otherwise: Option<Value>,
    },
    /// The sum taken from a pool.
    Pool(PoolId),
    /// A fixed value.
    Fixed(Value),
    /// Several added up, and others taken off.
    Sum {
        /// What is added.
        add: Vec<LimitInput>,
        /// What is taken off.
        less: Vec<LimitInput>,
    },
}

impl LimitInput {
    /// The input, and where it is a sum all that is in it.
    pub fn each<'a>(&'a self, visit: &mut impl FnMut(&'a Self)) {
        visit(self);
        if let Self::Sum { add, less } = self {
            add.iter().chain(less).for_each(|input| input.each(visit));
        }
    }
}

/// A pool ready for the engine.
#[derive(Clone, Debug)]
pub struct PoolEntry {
    /// As written.
    pub def: PoolDef,
    /// Margin in SI.
    pub margin: f64,
    /// Where less than this is left besides, SI, what is left is said.
    pub close: Option<f64>,
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
    pub class: ClassId,
    /// Where it is, where the vehicle has several places of the class.
    pub whereabouts: Whereabouts,
    /// How many alike.
    pub qty: u32,
    /// Part as found.
    pub as_found: Option<PartId>,
    /// Figures of the place itself, by figure number.
    pub figures: Vec<(FigureId, Value)>,
}

impl PositionEntry {
    /// A figure of the place itself, by number.
    #[must_use]
    pub fn figure(&self, figure: FigureId) -> Option<&Value> {
        self.figures.iter().find(|(f, _)| *f == figure).map(|(_, v)| v)
    }
}

/// A joint of a vehicle.
#[derive(Clone, Debug)]
pub struct JointEntry {
    /// Joint id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// Position number and number of the port name.
    pub ends: Vec<(PositionId, PortNameId)>,
    /// How many alike.
    pub qty: u32,
    /// The other joints of which one is enough; empty where it stands alone.
    pub alternatives: Vec<JointId>,
}

/// A fluid circuit of a vehicle.
#[derive(Clone, Debug)]
pub struct CircuitEntry {
    /// Circuit id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// Class of the fluid.
    pub fluid: ClassId,
    /// SI volume.
    pub capacity: f64,
    /// Positions that open it.
    pub positions: Vec<PositionId>,
}

/// A vehicle ready for the engine.
#[derive(Clone, Debug, Default)]
pub struct VehicleEntry {
    /// Its place among the vehicles of the library.
    pub number: VehicleId,
    /// As shown.
    pub name: String,
    /// One sentence.
    pub about: String,
    /// It is no particular vehicle, but a beginning.
    pub beginning: bool,
    /// How it is built, in words of the library.
    pub built: Vec<String>,
    /// Positions in board order: system, then id.
    pub positions: Numbered<PositionEntry>,
    /// Position numbers by id.
    pub position_ix: HashMap<String, PositionId>,
    /// Positions of each class, in board order.
    pub by_class: Places,
    /// Joints by id.
    pub joints: Numbered<JointEntry>,
    /// Joints that touch each position.
    pub joints_at: Numbered<PositionEntry, Vec<JointId>>,
    /// Joints whose state rests on what sits at each position: its own and their alternatives.
    pub joints_about: Numbered<PositionEntry, Vec<JointId>>,
    /// The other positions at those joints.
    pub neighbours: Numbered<PositionEntry, Vec<PositionId>>,
    /// The same joints as a set.
    pub(crate) joints_near: Numbered<PositionEntry, Bits<JointEntry>>,
    /// Each position with its neighbours, as a set.
    pub(crate) near: Numbered<PositionEntry, Bits<PositionEntry>>,
    /// Whether a kit for each position may hold what goes into another.
    pub has_kits: Numbered<PositionEntry, bool>,
    /// Those of the neighbours of each position that take what the boxes of its kits hold: what goes further off meets
    /// nothing at its joints.
    pub kit_neighbours: Numbered<PositionEntry, Vec<PositionId>>,
    /// Circuits by id.
    pub circuits: Numbered<CircuitEntry>,
    /// Facts by figure number.
    pub facts: FxHashMap<FigureId, Value>,
    /// Given to pools.
    pub gives: Vec<(PoolId, Value)>,
    /// Offered by the bare vehicle.
    pub offers: Vec<(NeedId, Option<Value>)>,
    /// The limits of the library, once for each set of places they are about on this vehicle.
    pub limits: Numbered<LimitPlaces>,
    /// Those that read a figure at each position, or a fact that some part for it sets.
    pub limits_at: Numbered<PositionEntry, Vec<RunId>>,
    /// Classes of bridges that have a place on this vehicle, in order: their parts go there and between no others.
    pub bridge_classes: Vec<ClassId>,
    /// Some joint, when it is opened, wants a class that has a place on this vehicle.
    pub has_seal_places: bool,
    /// Openings of the library on this vehicle.
    pub openings: Numbered<OpeningPlaces>,
    /// Openings that each position opens.
    pub openings_at: Numbered<PositionEntry, Vec<SpotId>>,
}

/// An opening on a vehicle, once for each spot of it where it opens.
#[derive(Clone, Debug)]
pub struct OpeningPlaces {
    /// Its number in the library.
    pub opening: OpeningId,
    /// Where, where the vehicle has it at several spots.
    pub spot: Whereabouts,
    /// Positions that open it.
    pub places: Vec<PositionId>,
    /// For each want: the positions its class has here; `None` where the vehicle has no place for the class at all.
    pub wanted: Vec<Option<Vec<PositionId>>>,
}

/// The ports of one name that the parts of one class have.
#[derive(Clone, Debug, Default)]
pub struct ClassPorts {
    /// Those ports by what they match.
    pub index: PortIndex,
    /// Parts of the class without such a port.
    pub without: Vec<PartId>,
}

/// What an opened place wants.
#[derive(Clone, Debug)]
pub struct OpeningEntry {
    /// Opening id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// Places that open it.
    pub classes: Vec<ClassPlaces>,
    /// How a vehicle is built that has it; empty: every vehicle.
    pub built: Vec<String>,
    /// What is wanted: class and want.
    pub wants: Vec<(ClassId, Want)>,
    /// What is done again later.
    pub later: Vec<AgainEntry>,
}

/// The library checked and indexed.
#[derive(Clone, Debug, Default)]
pub struct Catalogue {
    /// The files as written, for adding the parts of a sheet.
    pub(crate) files: Vec<(String, LibraryFile)>,
    /// The libraries it was made of, the lowest first; empty where nobody said.
    pub libraries: Vec<MadeWith>,
    /// The day assessments stand on: ages, what falls due and old prices are told by it. Who assesses gives it; here
    /// nobody reads a clock. `None`: no day was given, and nothing is said of any of them.
    pub as_of: Option<Date>,
    /// How long prices hold; `None`: they do not grow old.
    pub prices_hold: Option<Period>,
    /// How many times a workshop's the hours of operations are, at least and at most; `None`: nobody has said.
    pub first_time: Option<[f64; 2]>,
    /// What a sheet has brought.
    pub(crate) own: Brought,
    /// Values a sheet has measured at ports; those that can be read stand in the parts below.
    pub(crate) measured: measured::AtPorts,
    /// This library for sheets, as asked for lately.
    grown: for_sheet::Grown,
    /// Part ids.
    pub part_names: Names<PartEntry>,
    /// Parts by number.
    pub parts: Numbered<PartEntry>,
    /// Class ids.
    pub class_names: Names<ClassEntry>,
    /// Classes by number.
    pub classes: Numbered<ClassEntry>,
    /// How long the parts of each class last; `None`: age does not matter.
    pub lasts: Numbered<ClassEntry, Option<LastsEntry>>,
    /// Classes that leave nothing on the vehicle.
    pub(crate) services: Bits<ClassEntry>,
    /// Parts of a class, cheapest first, ties by id.
    pub by_class: Numbered<ClassEntry, Vec<PartId>>,
    /// Port names of parts and joints.
    pub port_names: Names<PortName>,
    /// Ports of a class by class and port name.
    pub class_ports: FxHashMap<(ClassId, PortNameId), ClassPorts>,
    /// Classes of what the boxes of a class's kits hold.
    pub kit_classes: FxHashMap<ClassId, Vec<ClassId>>,
    /// Classes with a part that sets each figure of the vehicle.
    pub set_by: FxHashMap<FigureId, Vec<ClassId>>,
    /// Kits of a class that hold a part of another class, by both.
    pub kits_with: FxHashMap<(ClassId, ClassId), Vec<PartId>>,
    /// Port type ids.
    pub port_type_names: Names<PortTypeEntry>,
    /// Port types by number.
    pub port_types: Numbered<PortTypeEntry>,
    /// Need ids.
    pub need_names: Names<NeedDef>,
    /// Needs by number: definition.
    pub needs: Numbered<NeedDef>,
    /// Parts that offer a need, cheapest first.
    pub offered_by: Numbered<NeedDef, Vec<PartId>>,
    /// Parts that offer a need, by need and class, cheapest first.
    pub offered_in: FxHashMap<(NeedId, ClassId), Vec<PartId>>,
    /// Parts of a class that give to a pool, cheapest first, by both.
    pub given_in: FxHashMap<(PoolId, ClassId), Vec<PartId>>,
    /// Classes of the parts that give to a pool.
    pub pool_classes: Numbered<PoolEntry, Vec<ClassId>>,
    /// Classes of the parts that offer a need.
    pub need_classes: Numbered<NeedDef, Vec<ClassId>>,
    /// Pool ids.
    pub pool_names: Names<PoolEntry>,
    /// Pools by number.
    pub pools: Numbered<PoolEntry>,
    /// Figure ids.
    pub figure_names: Names<Figure>,
    /// Figure name as shown, kind, how to measure.
    pub figures: Numbered<Figure, (String, Kind, String)>,
    /// Limits by id.
    pub limits: Numbered<LimitEntry>,
    /// Openings by id.
    pub openings: Numbered<OpeningEntry>,
    /// Cautions by id.
    pub cautions: std::collections::BTreeMap<String, Caution>,
    /// Operations of the workshop by id.
    pub operations: std::collections::BTreeMap<String, Operation>,
    /// Rules of their order by id.
    pub orders: std::collections::BTreeMap<String, OrderRule>,
    /// Checks by id.
    pub checks: std::collections::BTreeMap<String, Check>,
    /// What is inspected, by id.
    pub inspections: std::collections::BTreeMap<String, InspectionEntry>,
    /// Zones of the walk by id.
    pub zones: std::collections::BTreeMap<String, Zone>,
    /// What a stage is about.
    pub stages: std::collections::BTreeMap<Stage, StageDef>,
    /// What an owner can hold a plan to, by id.
    pub aims: std::collections::BTreeMap<String, Aim>,
    /// How things are done, by id.
    pub cards: std::collections::BTreeMap<String, Card>,
    /// Systems in board order: id and name.
    pub systems: Vec<(String, String)>,
    /// The stage that wants work on a system, by its id.
    pub system_stages: std::collections::BTreeMap<String, Stage>,
    /// Vehicles by id.
    pub vehicles: std::collections::BTreeMap<String, VehicleEntry>,
    /// Side drawings by the id of each vehicle they serve.
    pub drawings: std::collections::BTreeMap<String, Arc<Drawing>>,
    /// Bridge ports by what they match, without those another bridge beats: same ports, no dearer, before it by id.
    pub bridge_index: PortIndex,
    /// The beaten ones: they count where one lies in a chosen kit's box.
    pub beaten_index: PortIndex,
    /// Ports of the parts of a free class by class and port type, the first of that type of each part.
    pub seal_ports: FxHashMap<(ClassId, PortTypeId), ClassPorts>,
    /// Ports named "cap" of free parts.
    pub cap_index: PortIndex,
    /// What was searched before.
    pub(crate) searched: searched::AllSearched,
}

impl Catalogue {
    /// Checks and indexes the files of a library. Entries with a fault are left out; the faults say why.
    #[must_use]
    pub fn new(files: Vec<(String, LibraryFile)>) -> (Self, Vec<Fault>) {
        build::build(files, crate::library::Table::new(), true)
    }

    /// This library on a day: what [`crate::assess`] and all that compares assessments say of ages, of what falls due by
    /// date and of old prices, they say for this day.
    #[must_use]
    pub fn on(mut self, day: Date) -> Self {
        self.as_of = Some(day);
        self
    }

    /// A part by id.
    #[must_use]
    pub fn part(&self, id: &str) -> Option<&PartEntry> {
        self.part_names.get(id).and_then(|ix| self.parts.get(ix))
    }

    /// The side drawing of a vehicle; `None` where there is none.
    #[must_use]
    pub fn drawing(&self, vehicle: &str) -> Option<&Drawing> {
        self.drawings.get(vehicle).map(Arc::as_ref)
    }

    /// The stage that wants work in a place: as its class says, else as its system does.
    #[must_use]
    pub fn stage_of(&self, place: &PositionEntry) -> Stage {
        let of_class = self.classes.get(place.class).and_then(|class| class.stage);
        of_class.or_else(|| self.system_stages.get(&place.system).copied()).unwrap_or_default()
    }

    /// Whether a need gives each asker a provider of its own.
    #[must_use]
    pub fn is_own(&self, need: NeedId) -> bool {
        self.needs.get(need).is_some_and(|n| n.sharing == Sharing::Own)
    }
}
