//! What a plan costs: what the buying record says is bought, and what the plan wants of it.
//!
//! A price counts as it was paid, else as the library lists it. What is in hand or fitted costs what was paid, and
//! nothing where nobody says what that was. Money that is spent or promised stays so whatever the plan wants, but for what
//! came back.

use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use super::bench::Bench;
use super::ground::Ground;
use crate::amounts::Amounts;
use crate::box_key::BoxKey;
use crate::catalogue::{Catalogue, PartId, PositionId};
use crate::line_id;
pub(super) use crate::line_id::Of;
use crate::money::Money;
use crate::sheet::{Line, LineState, Route};
use crate::spent::{Idle, Sums};

/// What one line of a buy list is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Item {
    pub part: PartId,
    pub of: Of,
}

impl Item {
    pub fn part(part: PartId) -> Self {
        Self { part, of: Of::Part }
    }

    /// By the id of its line; `None` where the library has no such part.
    fn read(id: &str, cat: &Catalogue) -> Option<Self> {
        let (id, of) = line_id::read(id);
        Some(Self { part: cat.part_names.get(id)?, of })
    }

    /// The id of its line.
    pub fn id(self, cat: &Catalogue) -> String {
        self.of.id(cat.part_names.id(self.part))
    }

    pub fn name(self, cat: &Catalogue) -> String {
        self.of.name(&cat.parts[self.part].part.name)
    }

    /// The price of the library for one.
    pub fn listed(self, cat: &Catalogue) -> Option<&Money> {
        let part = &cat.parts[self.part].part;
        match self.of {
            Of::Part => part.price.as_ref(),
            Of::Rebuild => part.rebuild.as_ref()?.price.as_ref(),
            Of::Clean => part.clean.as_ref()?.price.as_ref(),
        }
    }
}

/// A line of the buying record.
pub(crate) struct Record<'a> {
    pub id: &'a str,
    pub line: &'a Line,
    /// `None` where the library has no such part.
    pub item: Option<Item>,
}

/// The buying record, without what lies in boxes: that has no money of its own.
#[derive(Default)]
pub(crate) struct Records<'a> {
    all: Vec<Record<'a>>,
    by_item: FxHashMap<Item, usize>,
}

impl<'a> Records<'a> {
    pub fn get(&self, item: Item) -> Option<&'a Line> {
        self.by_item.get(&item).map(|at| self.all[*at].line)
    }
}

impl<'a> Ground<'a> {
    pub(super) fn records(&mut self) {
        let lines = self.sheet.lines.iter().filter(|(id, _)| id.parse::<BoxKey>().is_err());
        for (id, line) in lines {
            let item = Item::read(id, self.cat);
            if let Some(item) = item {
                self.records.by_item.insert(item, self.records.all.len());
            }
            self.records.all.push(Record { id, line, item });
        }
    }

    /// What one of it counts for: what was paid, else what the library says; `None` where that is not known, and for what is
    /// in hand or fitted where nobody says what was paid.
    pub(super) fn price_that_counts(&self, item: Item) -> Option<&'a Money> {
        let line = self.records.get(item);
        let paid = line.and_then(|line| line.paid.as_ref());
        let is_here = line.is_some_and(|line| line.state.is_here());
        paid.or_else(|| item.listed(self.cat).filter(|_| !is_here))
    }
}

/// Counts what a plan wants, and adds up the money.
pub(super) struct Spending<'b, 'a> {
    ground: &'b Ground<'a>,
    /// For each line of the record, how many the plan wants.
    wanted: Vec<u32>,
    sums: Sums,
}

/// The sums of a plan.
#[derive(Default)]
pub(super) struct Spent {
    pub sums: Sums,
    /// For each line of the record, how many are bought. Where it does not say: as many as the plan wants, at least one.
    pub bought: Vec<u32>,
    pub idle: Vec<Idle>,
}

impl<'b, 'a> Spending<'b, 'a> {
    pub fn new(ground: &'b Ground<'a>) -> Self {
        Self { ground, wanted: vec![0; ground.records.all.len()], sums: Sums::default() }
    }

    /// So many are wanted.
    pub fn want(&mut self, item: Item, qty: u32) {
        let at = self.ground.records.by_item.get(&item).copied();
        if let Some(at) = at {
            self.wanted[at] = self.wanted[at].saturating_add(qty);
        }
        // what was sent back and is wanted all the same has to be bought again
        if !at.is_some_and(|at| self.ground.records.all[at].line.state.is_bought()) {
            let price = self.ground.price_that_counts(item);
            price.into_iter().for_each(|price| self.sums.to_come.add_times(price, qty));
        }
    }

    /// Adds up. `bought` is what another state of the plan came to: a line that does not say how many are bought has as
    /// many here.
    pub fn sum(self, bought: Option<&[u32]>) -> Spent {
        let mut out = Spent { sums: self.sums, bought: vec![0; self.wanted.len()], idle: Vec::new() };
        for (at, record) in self.ground.records.all.iter().enumerate() {
            // of what was sent back the rest is spent, once something came back
            let is_partly_back =
                record.line.state == LineState::SentBack && !record.line.came_back.is_empty();
            if record.line.state.is_bought() || is_partly_back {
                let known = record.line.qty.or_else(|| bought.map(|bought| bought[at]));
                out.bought[at] = known.unwrap_or_else(|| self.wanted[at].max(1));
                out.add(self.ground, record, self.wanted[at], (out.bought[at], known.is_some()));
            }
        }
        out.idle.sort_by(|a, b| (&a.name, &a.part).cmp(&(&b.name, &b.part)));
        out
    }
}

impl Spent {
    /// Counts a line of which so many are bought, and whether that number is known.
    fn add(
        &mut self,
        ground: &Ground<'_>,
        record: &Record<'_>,
        wanted: u32,
        (number, is_known): (u32, bool),
    ) {
        let Record { id, line, item } = record;
        let listed = item.and_then(|item| item.listed(ground.cat));
        let price = line.paid.as_ref().or_else(|| listed.filter(|_| !line.state.is_here()));
        let is_back = line.state == LineState::SentBack;
        let idle = if is_back { 0 } else { number.saturating_sub(wanted) };
        let in_currency = |money: &&Money| price.is_some_and(|price| price.currency == money.currency);
        let came_back = || line.came_back.values().filter(in_currency).map(|money| money.amount).sum();
        let name = || item.map_or_else(|| (*id).to_owned(), |item| item.name(ground.cat));
        let lies_idle = (idle > 0).then(|| Idle {
            part: (*id).to_owned(),
            name: name(),
            qty: Some(idle).filter(|_| is_known),
            state: line.state,
            price: price.cloned(),
            came_back: if wanted == 0 { came_back() } else { Decimal::ZERO },
        });
        let sums = &mut self.sums;
        let (all, not_wanted) = match line.state == LineState::OnOrder {
            true => (&mut sums.committed, &mut sums.idle_on_order),
            false => (&mut sums.spent, &mut sums.idle),
        };
        // where nobody says what was paid there is nothing that it could be counted off
        if let Some(price) = price {
            let mut paid = Amounts::default();
            paid.add_times(price, number);
            let back: Amounts = line.came_back.values().collect();
            sums.came_back += &back;
            let mut rest = &paid - &back;
            // of several whose number is not known more may have come back than one has cost
            if !is_known && rest.of(&price.currency).is_sign_negative() {
                let short = Money::new(-rest.of(&price.currency), &price.currency);
                rest.add_times(&short, 1);
            }
            *all += &rest;
        }
        lies_idle.iter().filter_map(Idle::money).for_each(|money| not_wanted.add_times(&money, 1));
        self.idle.extend(lies_idle);
        sums.no_price_paid += usize::from(line.state.is_here() && price.is_none());
        if let Some(more) = line.paid.as_ref().or(listed).filter(|_| !is_back) {
            sums.to_come.add_times(more, wanted.saturating_sub(number));
        }
    }
}

impl<'a> Bench<'a> {
    /// What the choice at a position buys, how many of it: what lies in the box of a kit elsewhere is not bought again.
    pub fn own_item(&self, pos: PositionId) -> Option<(Item, u32)> {
        let (route, part) = self.owner[pos]?;
        let part = part.or(self.as_found(pos))?;
        let of = match route {
            Route::Convert | Route::Renew => Of::Part,
            Route::Rebuild => Of::Rebuild,
            Route::Clean => Of::Clean,
            Route::Keep | Route::LeaveOff => return None,
        };
        Some((Item { part, of }, self.v.positions[pos].qty.saturating_sub(self.boxed_at(pos))))
    }

    /// The money of the plan.
    pub fn spent(&self) -> Spent {
        let mut spending = Spending::new(self.ground);
        for pos in self.v.positions.ids() {
            if let Some((item, qty)) = self.own_item(pos) {
                spending.want(item, qty);
            }
        }
        self.each_comp(|_, comp| {
            if !self.is_waived(comp.key) {
                spending.want(Item::part(comp.part), comp.qty.saturating_sub(comp.boxed));
            }
        });
        spending.sum(None)
    }
}

#[cfg(test)]
mod tests;
