//! The state a pass works on: what sits in each position and why, and what has been found so far.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::fills::Must;
use super::ground::{Chosen, Ground};
use crate::assessment::{Answer, Origin};
use crate::catalogue::searched::{Chain, Searched};
use crate::catalogue::{Catalogue, Ix, PartEntry, VehicleEntry};
use crate::library::Level;
use crate::reason::{Fact, Reason, ReasonId};
use crate::sheet::{Plan, Route, Sheet};

/// Who put a part where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum By {
    Found,
    Owner,
    /// Out of the box of the kit chosen at this position.
    Kit(Ix),
    Fill,
    /// Lost its job and was taken off.
    Gone,
}

/// What sits in a position.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Slot {
    pub part: Option<Ix>,
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
    Bridge(Ix, u8),
    Cap(Ix),
    Fill(Ix),
    Need(Option<Ix>, Ix, Ix),
    /// Joint, class, and which of several sizes.
    Open(Ix, Ix, u8),
    Apart(Ix, Ix),
    Fluid(Ix),
    Survey(Ix),
}

/// A companion as a pass finds it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Comp {
    pub key: Key,
    pub part: Ix,
    pub qty: u32,
    pub level: Level,
    pub origin: Origin,
    pub reason: ReasonId,
    pub position: Option<Ix>,
    pub cause: Option<Ix>,
    pub parent: Option<Key>,
    /// How many of them come out of the box of a chosen kit.
    pub boxed: u32,
}

/// Key of a clash or unknown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum CheckKey {
    Joint(Ix),
    Pool(Ix),
    Limit(Ix),
    Need(Option<Ix>, Ix, Ix),
}

/// Where parts that would clear a clash are looked for, once the last pass is done.
#[derive(Clone, Debug, Default)]
pub(crate) enum Cure {
    /// Nowhere.
    #[default]
    None,
    /// Parts that do something at positions; so many at each.
    Parts(Vec<(Ix, Must)>, usize),
    /// Parts that take less from the pool.
    Pool(Ix),
    /// Parts with which the limit holds.
    Limit(Ix),
    /// Parts that offer the need where they fit.
    Need(Ix),
}

/// A clash or unknown as a pass finds it.
#[derive(Clone, Debug)]
pub(crate) struct Trouble {
    pub key: CheckKey,
    pub positions: Vec<Ix>,
    pub reason: ReasonId,
    /// For an unknown: what to measure. For a clash: what would clear it, in words.
    pub what: String,
    /// For a clash: where parts that would clear it are looked for.
    pub cure: Cure,
}

/// What one pass finds.
#[derive(Clone, Debug, Default)]
pub(crate) struct Found {
    pub comps: Vec<Comp>,
    pub clashes: Vec<Trouble>,
    pub unknowns: Vec<Trouble>,
    pub checks: Vec<(CheckKey, Answer, ReasonId)>,
    /// Chains that close joints.
    pub chains: Vec<(Ix, Arc<Chain>)>,
}

impl Found {
    /// Empties the lists and keeps their room.
    fn clear(&mut self) {
        self.comps.clear();
        self.clashes.clear();
        self.unknowns.clear();
        self.checks.clear();
        self.chains.clear();
    }
}

/// A part put into a position nobody chose for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fill {
    pub part: Ix,
    pub reason: ReasonId,
    pub cause: Option<Ix>,
    pub level: Level,
}

/// Loose parts in the boxes of chosen kits.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Loose {
    pub part: Ix,
    pub left: u32,
}

pub(crate) struct Bench<'a> {
    pub cat: &'a Catalogue,
    pub v: &'a VehicleEntry,
    pub sheet: &'a Sheet,
    pub plan: &'a Plan,
    pub ground: &'a Ground<'a>,
    /// Sentences are wanted; off for the sweep over alternatives.
    pub full: bool,
    pub owner: Vec<Chosen>,
    pub fills: BTreeMap<Ix, Fill>,
    /// Parts that have been put into positions and had to give way again.
    pub tried_out: Vec<(Ix, Ix)>,
    pub gone: BTreeMap<Ix, ReasonId>,
    /// What is in the positions before kits are unpacked and places filled.
    pub base: Vec<Slot>,
    pub slots: Vec<Slot>,
    /// Positions whose part gives to or takes from pools, in order.
    pub pooled: Vec<Ix>,
    pub stock: Vec<Loose>,
    /// What was searched with the loose bridges in stock, where there are any.
    pub loose: Option<Arc<Searched>>,
    pub arena: Vec<Reason>,
    pub found: Found,
    pub dirty: bool,
}

/// Reasons are not kept in the sweep.
pub(crate) const NO_REASON: ReasonId = ReasonId(u32::MAX);

impl<'a> Bench<'a> {
    pub fn new(ground: &'a Ground<'a>, full: bool) -> Self {
        Self {
            cat: ground.cat,
            v: ground.v,
            sheet: ground.sheet,
            plan: ground.plan,
            ground,
            full,
            owner: ground.owner.clone(),
            fills: BTreeMap::new(),
            tried_out: Vec::new(),
            gone: BTreeMap::new(),
            base: Vec::new(),
            slots: Vec::new(),
            pooled: Vec::new(),
            stock: Vec::new(),
            loose: None,
            arena: Vec::new(),
            found: Found::default(),
            dirty: false,
        }
    }

    /// As found, with what the sheet says otherwise.
    pub fn as_found(&self, pos: Ix) -> Option<Ix> {
        self.ground.as_found[pos as usize]
    }

    /// Passes until nothing more is put in or taken off.
    ///
    /// It ends: a part that has given way in a position is not put there again, and what lost its job stays off.
    pub fn run(&mut self) {
        self.fills.clear();
        self.tried_out.clear();
        self.gone.clear();
        self.arena.clear();
        self.base = (0..self.v.positions.len() as Ix).map(|pos| self.base_slot(pos)).collect();
        loop {
            self.found.clear();
            self.dirty = false;
            self.settle();
            self.joints();
            self.surplus();
            self.needs();
            self.pools();
            self.limits();
            if !self.dirty {
                break;
            }
        }
        self.opened();
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

    pub fn part(&self, ix: Ix) -> &'a PartEntry {
        &self.cat.parts[ix as usize]
    }

    /// Fitted parts.
    pub fn fitted(&self) -> impl Iterator<Item = (Ix, Ix)> {
        self.slots.iter().enumerate().filter_map(|(pos, slot)| slot.part.map(|part| (pos as Ix, part)))
    }

    pub fn name(&self, ix: Ix) -> String {
        self.part(ix).part.name.clone()
    }

    pub fn place(&self, pos: Ix) -> String {
        self.v.positions[pos as usize].name.clone()
    }

    pub fn slot(&self, pos: Ix) -> &Slot {
        &self.slots[pos as usize]
    }

    /// Notes a step of a derivation.
    pub fn reason(&mut self, premises: &[ReasonId], fact: impl FnOnce(&Self) -> Fact) -> ReasonId {
        if !self.full {
            return NO_REASON;
        }
        let fact = fact(self);
        let mut premises: Vec<ReasonId> = premises.iter().copied().filter(|p| *p != NO_REASON).collect();
        // the same premise once, in the order given
        let mut seen = rustc_hash::FxHashSet::default();
        premises.retain(|p| seen.insert(*p));
        self.arena.push(Reason { fact, premises });
        ReasonId(self.arena.len() as u32 - 1)
    }

    /// The owner has said what happens here; keep counts as said.
    pub fn is_chosen(&self, pos: Ix) -> bool {
        self.owner[pos as usize].is_some()
    }

    /// The position whose choice brought what sits here.
    pub fn root(&self, pos: Ix) -> Option<Ix> {
        match self.slot(pos).by {
            By::Owner => Some(pos),
            By::Kit(kit) => self.root_of_kit(kit, pos),
            By::Fill => self.fills.get(&pos).and_then(|f| f.cause),
            By::Found | By::Gone => None,
        }
    }

    fn root_of_kit(&self, kit: Ix, pos: Ix) -> Option<Ix> {
        if kit == pos { Some(pos) } else { self.root(kit) }
    }

    /// Puts parts into positions: as found, routes, kits, fills, what lost its job.
    fn settle(&mut self) {
        self.stock.clear();
        self.slots.clear();
        self.slots.extend_from_slice(&self.base);
        for pos in 0..self.v.positions.len() as Ix {
            if let Some((Route::Convert, Some(part))) = self.owner[pos as usize] {
                self.unpack(pos, part, 0);
            }
        }
        let fills: Vec<(Ix, Fill)> = self.fills.iter().map(|(p, f)| (*p, *f)).collect();
        for (pos, fill) in &fills {
            self.slots[*pos as usize] = Slot::filled(fill);
        }
        for (pos, fill) in &fills {
            self.unpack(*pos, fill.part, 0);
        }
        let gone: Vec<(Ix, ReasonId)> = self.gone.iter().map(|(p, r)| (*p, *r)).collect();
        for (pos, reason) in gone {
            if self.slots[pos as usize].by == By::Found {
                self.slots[pos as usize] =
                    Slot { part: None, by: By::Gone, changed: true, opened: false, reason };
            }
        }
        self.stock.sort_by_key(|l| l.part);
        self.count_loose();
        self.pooled = (0..self.v.positions.len() as Ix).filter(|pos| self.is_pooled(*pos)).collect();
    }

    /// Notes which bridges lie loose in stock: chains are searched with them at no cost.
    fn count_loose(&mut self) {
        let is_bridge = |l: &&Loose| l.left > 0 && self.part(l.part).bridge.is_some();
        let mut set: Vec<Ix> = self.stock.iter().filter(is_bridge).map(|l| l.part).collect();
        set.dedup();
        if set.is_empty() {
            self.loose = None;
            return;
        }
        let mut known = self.ground.loose.borrow_mut();
        let searched =
            known.iter().find(|(other, _)| *other == set).map(|(_, searched)| Arc::clone(searched));
        self.loose = Some(searched.unwrap_or_else(|| {
            let searched = Arc::new(Searched::default());
            known.push((set, Arc::clone(&searched)));
            searched
        }));
    }

    fn base_slot(&mut self, pos: Ix) -> Slot {
        let found = self.as_found(pos);
        let Some((route, part)) = self.owner[pos as usize] else {
            let reason = match found {
                Some(part) => self.as_found_reason(pos, part),
                None => NO_REASON,
            };
            return Slot { part: found, by: By::Found, changed: false, opened: false, reason };
        };
        let reason = self.reason(&[], |b| Fact::Chosen {
            position: b.v.positions[pos as usize].id.clone(),
            place: b.place(pos),
            route: route.word().to_owned(),
            part: part.map(|p| b.name(p)),
        });
        match route {
            Route::Keep => Slot { part: found, by: By::Found, changed: false, opened: false, reason },
            Route::Clean | Route::Rebuild | Route::Renew => {
                Slot { part: found, by: By::Owner, changed: false, opened: found.is_some(), reason }
            }
            Route::Convert => Slot { part, by: By::Owner, changed: part != found, opened: true, reason },
            Route::LeaveOff => {
                Slot { part: None, by: By::Owner, changed: found.is_some(), opened: found.is_some(), reason }
            }
        }
    }

    pub fn as_found_reason(&mut self, pos: Ix, part: Ix) -> ReasonId {
        self.reason(&[], |b| Fact::AsFound {
            position: b.v.positions[pos as usize].id.clone(),
            place: b.place(pos),
            part: b.name(part),
        })
    }

    /// Places the contents of a kit: into their positions where the owner has not chosen, else loose.
    fn unpack(&mut self, kit_pos: Ix, kit: Ix, depth: u8) {
        let entry = self.part(kit);
        for class in &entry.leaves_empty {
            if let Some(pos) = self.v.by_class.get(class).copied()
                && pos != kit_pos
                && self.free_for_kit(pos)
            {
                let had = self.as_found(pos).is_some();
                let found = self.as_found(pos).map(|part| self.as_found_reason(pos, part));
                let premises = [self.slots[kit_pos as usize].reason, found.unwrap_or(NO_REASON)];
                let reason =
                    self.reason(&premises, |b| Fact::LeftEmpty { place: b.place(pos), kit: b.name(kit) });
                self.slots[pos as usize] =
                    Slot { part: None, by: By::Kit(kit_pos), changed: had, opened: had, reason };
            }
        }
        for (part, qty) in &entry.contents {
            let class = self.part(*part).class;
            let is_free = self.cat.classes.get(class as usize).is_some_and(|c| c.1);
            match self.v.by_class.get(&class).copied() {
                Some(pos) if !is_free && pos != kit_pos && self.free_for_kit(pos) => {
                    let reason = self.in_box(*part, kit, kit_pos);
                    let changed = self.as_found(pos) != Some(*part);
                    self.slots[pos as usize] =
                        Slot { part: Some(*part), by: By::Kit(kit_pos), changed, opened: true, reason };
                }
                _ => self.stock.push(Loose { part: *part, left: *qty }),
            }
            if depth < 4 && !self.part(*part).contents.is_empty() {
                self.unpack(kit_pos, *part, depth + 1);
            }
        }
    }

    fn free_for_kit(&self, pos: Ix) -> bool {
        !self.is_chosen(pos) && !self.fills.contains_key(&pos)
    }

    fn in_box(&mut self, part: Ix, kit: Ix, kit_pos: Ix) -> ReasonId {
        let premise = self.slots[kit_pos as usize].reason;
        self.reason(&[premise], |b| Fact::InBox { part: b.name(part), kit: b.name(kit) })
    }

    /// Takes up to so many loose parts out of the boxes; how many there were.
    pub fn take_loose(&mut self, part: Ix, qty: u32) -> u32 {
        let mut taken = 0;
        for loose in self.stock.iter_mut().filter(|l| l.part == part) {
            let take = loose.left.min(qty - taken);
            loose.left -= take;
            taken += take;
        }
        if taken > 0 && self.part(part).bridge.is_some() {
            self.count_loose();
        }
        taken
    }

    pub fn is_loose(&self, part: Ix) -> bool {
        self.stock.iter().any(|l| l.part == part && l.left > 0)
    }
}
