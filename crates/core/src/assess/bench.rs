//! The state a pass works on: what sits in each position and why, and what has been found so far.

use std::collections::{BTreeMap, HashMap};

use crate::assessment::{Answer, Origin};
use crate::catalogue::{Catalogue, Ix, PartEntry, VehicleEntry};
use crate::library::Level;
use crate::reason::{Fact, Reason, ReasonId};
use crate::sheet::{Plan, Route, Sheet};
use crate::value::{Kind, Value};

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

/// Stable key of a companion.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Key {
    Bridge(Ix, u8),
    Cap(Ix),
    Fill(Ix),
    Need(Option<Ix>, Ix, Ix),
    Open(Ix, Ix),
    Apart(Ix, Ix),
    Fluid(Ix, Ix),
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
    pub in_kit: bool,
}

/// Key of a clash or unknown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum CheckKey {
    Joint(Ix),
    Pool(Ix),
    Limit(Ix),
    Need(Option<Ix>, Ix, Ix),
}

/// A clash or unknown as a pass finds it.
#[derive(Clone, Debug)]
pub(crate) struct Trouble {
    pub key: CheckKey,
    pub positions: Vec<Ix>,
    pub reason: ReasonId,
    /// For an unknown: what to measure. For a clash: what would clear it, in words.
    pub what: String,
    /// For a clash: what the remedy search may change.
    pub remedies: Vec<(Ix, Ix)>,
}

/// What one pass finds.
#[derive(Clone, Debug, Default)]
pub(crate) struct Found {
    pub comps: Vec<Comp>,
    pub clashes: Vec<Trouble>,
    pub unknowns: Vec<Trouble>,
    pub checks: Vec<(CheckKey, Answer, ReasonId)>,
}

/// A part put into a position nobody chose for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fill {
    pub part: Ix,
    pub reason: ReasonId,
    pub cause: Option<Ix>,
    pub level: Level,
    pub times: u8,
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
    /// Sentences are wanted; off for the sweep over alternatives.
    pub full: bool,
    pub as_found: Vec<Option<Ix>>,
    pub owner: Vec<Option<(Route, Option<Ix>)>>,
    pub facts: HashMap<Ix, Value>,
    pub problems: Vec<String>,
    pub fills: BTreeMap<Ix, Fill>,
    pub gone: BTreeMap<Ix, ReasonId>,
    pub slots: Vec<Slot>,
    pub stock: Vec<Loose>,
    pub arena: Vec<Reason>,
    pub found: Found,
    pub dirty: bool,
    /// Whether a chain exists between two ports: asked again and again by the candidates of a position. It does not
    /// depend on the state, so it is kept for the life of the bench.
    pub closable: std::cell::RefCell<HashMap<(usize, usize), bool>>,
}

/// Reasons are not kept in the sweep.
pub(crate) const NO_REASON: ReasonId = ReasonId(u32::MAX);

impl<'a> Bench<'a> {
    pub fn new(sheet: &'a Sheet, plan: &'a Plan, cat: &'a Catalogue, full: bool) -> Result<Self, String> {
        let v = cat.vehicles.get(&sheet.vehicle).ok_or_else(|| {
            format!("the library has no vehicle \"{}\"; add its file to the library or correct the word in the sheet", sheet.vehicle)
        })?;
        let mut problems = Vec::new();
        let mut as_found: Vec<Option<Ix>> = v.positions.iter().map(|p| p.as_found).collect();
        for (position, part) in &sheet.as_found {
            let Some(pos) = v.position_ix.get(position) else {
                problems.push(format!("as found: there is no position \"{position}\" on this vehicle"));
                continue;
            };
            as_found[*pos as usize] = match part {
                None => None,
                Some(id) => {
                    let ix = cat.part_names.get(id);
                    if ix.is_none() {
                        problems.push(format!("as found at {position}: the library has no part \"{id}\""));
                    }
                    ix
                }
            };
        }
        let mut owner = vec![None; v.positions.len()];
        for (position, choice) in &plan.routes {
            let Some(pos) = v.position_ix.get(position) else {
                problems.push(format!(
                    "there is no position \"{position}\" on this vehicle; its route is left out"
                ));
                continue;
            };
            let part = choice.part.as_deref().and_then(|id| cat.part_names.get(id));
            if choice.route == Route::Convert && part.is_none() {
                let id = choice.part.as_deref().unwrap_or("");
                problems.push(format!(
                    "the library has no part \"{id}\" for {position}; the position is left as found"
                ));
                continue;
            }
            owner[*pos as usize] = Some((choice.route, part));
        }
        let mut facts = HashMap::new();
        for (figure, json) in &sheet.facts {
            let ix = cat.figure_names.get(figure);
            let kind = ix.and_then(|i| cat.figures.get(i as usize)).map(|f| f.1);
            match (ix, kind.map(|k: Kind| Value::read(json, k))) {
                (Some(ix), Some(Ok(value))) => {
                    facts.insert(ix, value);
                }
                (_, Some(Err(message))) => problems.push(format!("the measured {figure}: {message}")),
                _ => problems.push(format!("the library knows no figure \"{figure}\"")),
            }
        }
        let bench = Self {
            cat,
            v,
            sheet,
            plan,
            full,
            as_found,
            owner,
            facts,
            problems,
            fills: BTreeMap::new(),
            gone: BTreeMap::new(),
            slots: Vec::new(),
            stock: Vec::new(),
            arena: Vec::new(),
            found: Found::default(),
            dirty: false,
            closable: std::cell::RefCell::default(),
        };
        Ok(bench)
    }

    /// Passes until nothing more is put in or taken off.
    pub fn run(&mut self) {
        // every fill and lost job is bounded by the positions; the bound is a belt beside the braces
        for _ in 0..4 * self.v.positions.len() + 4 {
            self.found = Found::default();
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
    }

    pub fn part(&self, ix: Ix) -> &'a PartEntry {
        &self.cat.parts[ix as usize]
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
        premises.dedup();
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
        for pos in 0..self.v.positions.len() as Ix {
            let slot = self.base_slot(pos);
            self.slots.push(slot);
        }
        for pos in 0..self.v.positions.len() as Ix {
            if let Some((Route::Convert, Some(part))) = self.owner[pos as usize] {
                self.unpack(pos, part, 0);
            }
        }
        let fills: Vec<(Ix, Fill)> = self.fills.iter().map(|(p, f)| (*p, *f)).collect();
        for (pos, fill) in &fills {
            self.slots[*pos as usize] = Slot {
                part: Some(fill.part),
                by: By::Fill,
                changed: true,
                opened: true,
                reason: fill.reason,
            };
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
    }

    fn base_slot(&mut self, pos: Ix) -> Slot {
        let found = self.as_found[pos as usize];
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
                let reason = self.in_box(kit, kit, kit_pos);
                let had = self.as_found[pos as usize].is_some();
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
                    let changed = self.as_found[pos as usize] != Some(*part);
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

    /// Takes one loose part out of a box.
    pub fn take_loose(&mut self, part: Ix, qty: u32) -> bool {
        match self.stock.iter_mut().find(|l| l.part == part && l.left >= qty) {
            Some(loose) => {
                loose.left -= qty;
                true
            }
            None => false,
        }
    }

    pub fn is_loose(&self, part: Ix) -> bool {
        self.stock.iter().any(|l| l.part == part && l.left > 0)
    }
}
