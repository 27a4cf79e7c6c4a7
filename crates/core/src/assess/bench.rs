//! The state a pass works on: what sits in each position and why, and what has been found so far.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::sync::Arc;

use smallvec::SmallVec;

use super::ground::{Chosen, Ground};
use super::laid::{Change, Laid};
use super::later::DoneLater;
use super::memory::Memory;
use crate::assessment::{Answer, Origin};
use crate::catalogue::searched::{Chain, Searched};
use crate::catalogue::{
    Catalogue, CircuitId, ClassId, JointEntry, JointId, LimitEntry, NeedId, Numbered, PartEntry, PartId,
    PoolEntry, PoolId, PortNameId, PositionEntry, PositionId, RunId, SpotId, VehicleEntry,
};
use crate::grammar::lower;
use crate::library::Level;
use crate::phrase::Phrase;
use crate::reason::{Fact, Reason, ReasonId};
use crate::sheet::Sheet;

/// Who put a part where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum By {
    Found,
    Owner,
    /// Out of the box of the kit chosen at this position.
    Kit(PositionId),
    Fill,
    /// Lost its job and was taken off.
    Gone,
}

/// What sits in a position.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Slot {
    pub part: Option<PartId>,
    pub by: By,
    /// Not the as-found part any more.
    pub changed: bool,
    /// Taken apart, changed or not.
    pub opened: bool,
    pub reason: ReasonId,
}

impl Slot {
    /// What a fill leaves in its position.
    pub fn filled(fill: &Fill) -> Self {
        Self { part: Some(fill.part), by: By::Fill, changed: true, opened: true, reason: fill.reason }
    }
}

/// Stable key of a companion.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Key {
    Bridge(JointId, u8),
    Cap(JointId),
    Fill(PositionId),
    Need(Option<PositionId>, PartId, NeedId),
    /// Joint, class, and which of several sizes.
    Open(JointId, ClassId, u8),
    /// Opening of this vehicle and class of what has no place of its own.
    Apart(SpotId, ClassId),
    /// What is renewed in its place because something beside it is apart, whichever opening asks first: left out while one
    /// is apart, it is left out while another is.
    Beside(PositionId),
    /// Class, and which kind of container, the largest first.
    Fluid(ClassId, u16),
    Survey(PositionId),
    /// What is kept at a position is older than its kind lasts.
    Age(PositionId),
}

/// A companion as a pass finds it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Comp {
    pub key: Key,
    pub part: PartId,
    pub qty: u32,
    pub level: Level,
    pub origin: Origin,
    pub reason: ReasonId,
    pub position: Option<PositionId>,
    pub cause: Option<PositionId>,
    /// The place it belongs to, for what it asks.
    pub by: Option<PositionId>,
    pub parent: Option<Key>,
    /// How many of them come out of the box of a chosen kit.
    pub boxed: u32,
}

/// Key of a clash or unknown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum CheckKey {
    Joint(JointId),
    Pool(PoolId),
    Limit(RunId),
    Need(Option<PositionId>, PartId, NeedId),
    /// How old what is kept at a position is.
    Age(PositionId),
    /// How old the fluid of a circuit is.
    FluidAge(CircuitId),
    /// A port of the part of a position that no joint of the vehicle meets.
    Port(PositionId, PortNameId),
}

/// Where parts that would clear a clash are looked for, once the last pass is done.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) enum Cure {
    /// Nowhere.
    #[default]
    None,
    /// Parts for one of the positions that close the joint.
    Ends(JointId),
    /// Parts for the other positions that close the joint, or one for the first that does without it.
    Alone(JointId),
    /// Parts that take less from the pool.
    Pool(PoolId),
    /// Parts with which the limit holds.
    Limit(RunId),
    /// Parts that offer the need where they fit.
    Need(NeedId),
}

/// A clash or unknown as a pass finds it.
#[derive(Clone, Debug)]
pub(crate) struct Trouble {
    pub key: CheckKey,
    pub positions: SmallVec<[PositionId; 4]>,
    pub reason: ReasonId,
    /// For an unknown: what to measure. For a clash: what would clear it, in words, each way by itself.
    pub what: Vec<Phrase>,
    /// For a clash: where parts that would clear it are looked for.
    pub cure: Cure,
}

/// What one pass finds.
#[derive(Clone, Debug, Default)]
pub(crate) struct Found {
    pub comps: Vec<Comp>,
    pub clashes: Vec<Trouble>,
    pub unknowns: Vec<Trouble>,
    /// Advice that nothing meets.
    pub unmet: Vec<Trouble>,
    pub checks: Vec<(CheckKey, Answer, ReasonId)>,
    /// What is to be done later; only where words are wanted.
    pub later: Vec<DoneLater>,
    /// Keys that ask for a service another companion stands for, each with the key of that one.
    pub once: Vec<(Key, Key)>,
    /// Chains that close joints, in order of the joints.
    pub chains: Vec<(JointId, Arc<Chain>)>,
    /// Places that are apart, and circuits that run out.
    pub apart: Vec<PositionId>,
    /// Places where a new one of the same goes in because something asks for it; only where words are wanted.
    pub renewed: Vec<PositionId>,
    pub run_out: Vec<CircuitId>,
    /// How many of the companions have been looked at, and which of those count in pools.
    pub in_pools: RefCell<(usize, SmallVec<[usize; 16]>)>,
}

impl Found {
    /// Empties the lists and keeps their room.
    fn clear(&mut self) {
        self.comps.clear();
        self.clashes.clear();
        self.unknowns.clear();
        self.unmet.clear();
        self.checks.clear();
        self.later.clear();
        self.once.clear();
        self.chains.clear();
        self.apart.clear();
        self.renewed.clear();
        self.run_out.clear();
        let in_pools = self.in_pools.get_mut();
        in_pools.0 = 0;
        in_pools.1.clear();
    }
}

/// A part put into a position nobody chose for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fill {
    pub part: PartId,
    pub reason: ReasonId,
    pub cause: Option<PositionId>,
    pub level: Level,
}

/// A content of the box of a kit.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Loose {
    pub part: PartId,
    /// How many there are in the boxes, one for each kit that its place takes.
    pub had: u32,
    /// How many of them sit in their place.
    pub placed: u32,
    /// The place they go to, where they have one that is free.
    pub place: Option<PositionId>,
    /// How many lie loose and nobody has taken.
    pub left: u32,
    /// Position of the kit it came with.
    pub kit: PositionId,
    /// The kit in whose box it lies: the one in that position, or one that lies in its box.
    pub kit_part: PartId,
}

pub(crate) struct Bench<'a> {
    pub cat: &'a Catalogue,
    pub v: &'a VehicleEntry,
    pub sheet: &'a Sheet,
    pub ground: &'a Ground<'a>,
    /// Sentences are wanted; off for what is only compared.
    pub full: bool,
    /// Decisions are put in one after the other: what is broken now need not stay so.
    pub telling: bool,
    pub owner: Numbered<PositionEntry, Chosen>,
    pub fills: BTreeMap<PositionId, Fill>,
    pub gone: BTreeMap<PositionId, ReasonId>,
    /// What is in the positions before kits are unpacked and places filled.
    pub base: Numbered<PositionEntry, Slot>,
    pub slots: Numbered<PositionEntry, Slot>,
    /// For each pool, positions whose part gives to it or takes from it, in order.
    pub pooled: Numbered<PoolEntry, Vec<PositionId>>,
    pub clock: u32,
    /// When what sits at an end of each joint, and who put it there, last changed, by the clock of this bench.
    pub joint_stamps: Numbered<JointEntry, u32>,
    /// What is not in its position by its base slot.
    pub laid: Laid,
    /// What the base slots change.
    pub base_change: Change,
    /// What is changed now.
    pub change: Change,
    pub stock: Vec<Loose>,
    /// Positions whose part comes out of the box of a kit elsewhere, and how many do.
    pub from_box: SmallVec<[(PositionId, u32); 4]>,
    /// What was searched with the loose bridges in stock, where there are any.
    pub loose: Option<Arc<Searched>>,
    /// Bridges that lie loose in stock, in order.
    pub loose_bridges: SmallVec<[PartId; 8]>,
    /// What was worked out before in this bench.
    pub memory: Memory<'a>,
    /// A search for bridges was cut off.
    pub cut: Cell<bool>,
    pub arena: Vec<Reason>,
    pub found: Found,
    pub dirty: bool,
}

/// Reasons are not kept where nobody reads them.
pub(crate) const NO_REASON: ReasonId = ReasonId(u32::MAX);

impl<'a> Bench<'a> {
    pub fn new(ground: &'a Ground<'a>, full: bool) -> Self {
        Self {
            cat: ground.cat,
            v: ground.v,
            sheet: ground.sheet,
            ground,
            full,
            telling: false,
            owner: ground.owner.clone(),
            fills: BTreeMap::new(),
            gone: BTreeMap::new(),
            base: Numbered::new(),
            slots: Numbered::new(),
            pooled: Numbered::filled(Vec::new(), ground.cat.pools.len()),
            clock: 1,
            joint_stamps: Numbered::filled(0, ground.v.joints.len()),
            laid: Laid::new(ground.v.positions.len()),
            base_change: Change::new(ground.v),
            change: Change::new(ground.v),
            stock: Vec::new(),
            from_box: SmallVec::new(),
            loose: None,
            loose_bridges: SmallVec::new(),
            memory: Memory::new(ground.v.positions.len(), ground.v.joints.len()),
            cut: Cell::new(false),
            arena: Vec::new(),
            found: Found::default(),
            dirty: false,
        }
    }

    /// As found, with what the sheet says otherwise.
    pub fn as_found(&self, pos: PositionId) -> Option<PartId> {
        self.ground.as_found[pos]
    }

    /// What follows from what the owner chose and what is put into places now. It decides nothing about places.
    pub fn derive(&mut self) {
        self.begin();
        self.judge();
        self.conclude();
    }

    /// Lays what the owner chose.
    pub fn begin(&mut self) {
        self.arena.clear();
        self.lay_base();
    }

    /// Everything on one state of the vehicle. What lost its job goes off first, which may leave others without one: that
    /// grows and ends.
    pub fn judge(&mut self) {
        self.gone.clear();
        loop {
            self.found.clear();
            self.dirty = false;
            self.settle();
            self.joints();
            self.surplus();
            if !self.dirty {
                break;
            }
        }
        self.not_joined();
        self.needs();
        self.raising_limits();
        self.pools();
        self.limits();
    }

    /// What is opened, and what lies in boxes goes where it is wanted.
    pub fn conclude(&mut self) {
        let opened = self.opened();
        self.services_once();
        self.share_boxes();
        self.later(&opened);
        self.explain_what_holds();
    }

    /// The words of what holds are wanted once, after the last pass.
    fn explain_what_holds(&mut self) {
        for at in 0..self.found.checks.len() {
            let reason = match self.found.checks[at] {
                (CheckKey::Pool(pool), Answer::Holds, NO_REASON) => self.pool_holds(pool),
                (CheckKey::Limit(limit), Answer::Holds, NO_REASON) => self.limit_holds(limit),
                _ => continue,
            };
            self.found.checks[at].2 = reason;
        }
    }

    pub fn part(&self, ix: PartId) -> &'a PartEntry {
        &self.cat.parts[ix]
    }

    /// Something else sits in a position, or somebody else has said so.
    pub fn stamp(&mut self, pos: PositionId) {
        self.clock += 1;
        for joint in &self.v.joints_about[pos] {
            self.joint_stamps[*joint] = self.clock;
        }
    }

    /// Lets the owner say something else of a position.
    pub fn choose(&mut self, pos: PositionId, chosen: Chosen) -> Chosen {
        let before = std::mem::replace(&mut self.owner[pos], chosen);
        self.rebase(pos);
        self.stamp(pos);
        before
    }

    /// Fitted parts.
    pub fn fitted(&self) -> impl Iterator<Item = (PositionId, PartId)> {
        self.slots.iter().filter_map(|(pos, slot)| slot.part.map(|part| (pos, part)))
    }

    /// The limit of the library that a run on this vehicle is of.
    pub fn limit_of(&self, run: RunId) -> &'a LimitEntry {
        &self.cat.limits[self.v.limits[run].limit]
    }

    /// The name of a limit, with the places where the vehicle has it more than once.
    pub fn limit_name(&self, run: RunId) -> String {
        let name = &self.limit_of(run).def.name;
        let apart = &self.v.limits[run].apart;
        let places: Vec<String> = apart.iter().map(|pos| lower(&self.place(*pos))).collect();
        if places.is_empty() { name.clone() } else { format!("{name}, {}", places.join(" and ")) }
    }

    pub fn name(&self, ix: PartId) -> String {
        self.part(ix).part.name.clone()
    }

    pub fn place(&self, pos: PositionId) -> String {
        self.v.positions[pos].name.clone()
    }

    pub fn slot(&self, pos: PositionId) -> &Slot {
        &self.slots[pos]
    }

    /// Why what sits in some positions sits there; nothing where no words are wanted.
    pub fn reasons_of(&self, positions: impl Iterator<Item = PositionId>) -> SmallVec<[ReasonId; 8]> {
        if self.full { positions.map(|p| self.slot(p).reason).collect() } else { SmallVec::new() }
    }

    /// Notes a step of a derivation.
    pub fn reason(&mut self, premises: &[ReasonId], fact: impl FnOnce(&Self) -> Fact) -> ReasonId {
        if !self.full {
            return NO_REASON;
        }
        let fact = fact(self);
        // the same premise once, in the order given
        let mut once: Vec<ReasonId> = Vec::with_capacity(premises.len());
        for premise in premises.iter().copied().filter(|p| *p != NO_REASON) {
            if !once.contains(&premise) {
                once.push(premise);
            }
        }
        self.arena.push(Reason { fact, premises: once, measured: Vec::new(), specs: Vec::new() });
        ReasonId(self.arena.len() as u32 - 1)
    }

    /// The owner has said what happens here; keep counts as said.
    pub fn is_chosen(&self, pos: PositionId) -> bool {
        self.owner[pos].is_some()
    }

    /// The position whose choice brought what sits here.
    pub fn root(&self, pos: PositionId) -> Option<PositionId> {
        match self.slot(pos).by {
            By::Owner => Some(pos),
            By::Kit(kit) => self.root_of_kit(kit, pos),
            By::Fill => self.fills.get(&pos).and_then(|f| f.cause),
            By::Found | By::Gone => None,
        }
    }

    fn root_of_kit(&self, kit: PositionId, pos: PositionId) -> Option<PositionId> {
        if kit == pos { Some(pos) } else { self.root(kit) }
    }
}

#[cfg(test)]
mod tests;
