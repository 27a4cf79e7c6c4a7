//! Money: what each choice costs, the lines to obtain, the sums.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::bench::{Bench, Comp};
use super::spent::{Item, Of};
use crate::assessment::{Assessment, BuyLine, Origin, Totals};
use crate::catalogue::PositionId;
use crate::date::Dated;
use crate::money::Money;
use crate::sheet::LineState;
use crate::spent::Sums;

/// So many of a price. Most things come alone.
pub(super) fn times(price: Decimal, qty: u32) -> Decimal {
    if qty == 1 { price } else { price * Decimal::from(qty) }
}

impl<'a> Bench<'a> {
    /// What the owner pays for it by the prices of the library, in whatever currency, and the hours: what lies in the box
    /// of a kit elsewhere is not paid again.
    pub fn own_paid(&self, pos: PositionId) -> (Option<Decimal>, f64) {
        let (price, hours) = self.own_price(pos);
        let qty = self.v.positions[pos].qty;
        (price.map(|m| times(m.amount, qty.saturating_sub(self.boxed_at(pos)))), hours * f64::from(qty))
    }

    /// Price and hours each of the position's own choice, by the library.
    fn own_price(&self, pos: PositionId) -> (Option<&'a Money>, f64) {
        let Some((item, _)) = self.own_item(pos) else { return (None, 0.0) };
        let part = &self.part(item.part).part;
        let hours = match item.of {
            Of::Part => part.hours,
            Of::Rebuild => part.rebuild.as_ref().and_then(|work| work.hours),
            Of::Clean => part.clean.as_ref().and_then(|work| work.hours),
        };
        (item.listed(self.cat), hours.unwrap_or(0.0))
    }

    /// What it counts for in the sums, as money, its hours, and whether anything is bought or worked on here.
    pub fn own_cost(&self, pos: PositionId) -> (Option<Money>, f64, bool) {
        let own = self.own_item(pos);
        let price = own.and_then(|(item, qty)| Some(self.ground.price_that_counts(item)?.times(qty)));
        let hours = self.own_price(pos).1 * f64::from(self.v.positions[pos].qty);
        (price, hours, own.is_some())
    }

    /// Not all of it comes out of a box, and it can be had: what is to be renewed and is not for sale is nothing to buy.
    pub fn is_to_buy(&self, comp: &Comp) -> bool {
        let is_renewal = matches!(comp.origin, Origin::Survey | Origin::Age);
        comp.boxed < comp.qty && (!is_renewal || self.is_to_be_had(comp.part))
    }
}

pub(super) fn lines(bench: &Bench<'_>, comps: &[Comp]) -> Vec<BuyLine> {
    let mut lines: BTreeMap<String, BuyLine> = BTreeMap::new();
    for pos in bench.v.positions.ids() {
        let Some((item, qty)) = bench.own_item(pos) else { continue };
        // what cleaning uses up is a line where it costs anything
        let is_free = item.listed(bench.cat).is_none_or(|m| m.amount.is_zero());
        if qty == 0 || item.of == Of::Clean && is_free {
            continue;
        }
        let entry = &bench.v.positions[pos];
        let want = Wanted {
            item,
            qty,
            use_text: entry.name.clone(),
            system: &entry.system,
            waived: None,
            danger: None,
            name: item.name(bench.cat),
            // what is cleaned or rebuilt is there whether it fits or not
            measured_first: item.of == Of::Part && bench.is_measured_first(pos),
        };
        put(bench, &mut lines, item.id(bench.cat), want);
    }
    for comp in comps.iter().filter(|comp| bench.is_to_buy(comp)) {
        let cause = comp.position.or(comp.cause);
        let system = cause.map_or("", |p| bench.v.positions[p].system.as_str());
        let use_text = cause.map_or_else(
            || comp.origin.word().to_owned(),
            |p| format!("{} ({})", bench.place(p), comp.origin.word()),
        );
        let waived = bench.left_out(comp.key).map(|(_, why)| why.to_owned());
        let id = bench.cat.part_names.id(comp.part);
        let at = waived
            .as_ref()
            .map_or_else(|| id.to_owned(), |_| format!("{id} left out {}", bench.companion_key(comp.key)));
        let want = Wanted {
            item: Item::part(comp.part),
            qty: comp.qty - comp.boxed,
            use_text,
            system,
            waived,
            danger: super::cautions::danger(bench, comp),
            name: bench.companion_name(comp),
            measured_first: bench.is_companion_measured_first(comp),
        };
        put(bench, &mut lines, at, want);
    }
    let order = |s: &str| bench.cat.systems.iter().position(|(id, _)| id == s);
    let mut out: Vec<BuyLine> = lines.into_values().collect();
    out.sort_by(|a, b| (order(&a.system), &a.name, &a.part).cmp(&(order(&b.system), &b.name, &b.part)));
    out
}

/// One want of a part, before the lines are merged.
struct Wanted<'a> {
    item: Item,
    qty: u32,
    use_text: String,
    system: &'a str,
    waived: Option<String>,
    danger: Option<String>,
    name: String,
    measured_first: bool,
}

fn put(bench: &Bench<'_>, lines: &mut BTreeMap<String, BuyLine>, at: String, want: Wanted<'_>) {
    let record = bench.ground.records.get(want.item);
    let listed = want.item.listed(bench.cat);
    // what is left out counts for nothing: it has the price it would have
    let price = match want.waived {
        Some(_) => record.and_then(|r| r.paid.as_ref()).or(listed),
        None => bench.ground.price_that_counts(want.item),
    };
    let entry = bench.part(want.item.part);
    let is_listed = price.is_some() && record.is_none_or(|r| r.paid.is_none());
    let old_price = entry.priced.as_deref().filter(|priced| is_listed && is_old(bench, priced)).cloned();
    let line = lines.entry(at).or_insert_with(|| BuyLine {
        part: want.item.id(bench.cat),
        name: want.name,
        qty: 0,
        short: 0,
        price: price.cloned(),
        total: None,
        came_back: record.filter(|_| want.waived.is_none()).map(|r| r.came_back.clone()).unwrap_or_default(),
        supplier: record
            .map(|r| r.supplier.clone())
            .filter(|s| !s.is_empty())
            .unwrap_or_else(|| entry.part.supplier.clone()),
        state: record.map_or(LineState::ToBuy, |r| r.state),
        uses: Vec::new(),
        waived: want.waived,
        danger: want.danger,
        measured_first: false,
        made: entry.part.made,
        system: want.system.to_owned(),
        old_price,
    });
    line.qty = line.qty.saturating_add(want.qty);
    line.uses.push(want.use_text);
    line.measured_first |= want.measured_first && !line.state.is_bought() && line.waived.is_none();
    line.total = line.price.as_ref().map(|m| m.times(line.qty));
    let bought = record.filter(|r| r.state.is_bought() && line.waived.is_none()).and_then(|r| r.qty);
    if let Some(short) = bought.map(|bought| line.qty.saturating_sub(bought)).filter(|short| *short > 0) {
        line.short = short;
        // what is here cost nothing that is known, what is wanted besides has its price
        line.total = line.total.take().or_else(|| listed.map(|m| m.times(short)));
    }
}

/// Whether prices of a date hold no longer, whichever day of it they are of.
fn is_old(bench: &Bench<'_>, priced: &Dated) -> bool {
    let until = bench.cat.prices_hold.as_ref().and_then(|time| time.after(priced.last));
    until.zip(bench.cat.as_of).is_some_and(|(until, on)| until < on)
}

pub(super) fn totals(out: &Assessment, money: Sums) -> Totals {
    let mut t = Totals {
        money,
        companions: out.companions.len(),
        companions_open: out
            .companions
            .iter()
            .filter(|c| !c.accepted && !c.in_kit && c.waived.is_none() && c.line == LineState::ToBuy)
            .count(),
        clashes: out.clashes.len(),
        to_measure: out.to_measure.len(),
        ..Totals::default()
    };
    t.hours = out.positions.iter().map(|p| p.hours).sum::<f64>()
        + out.companions.iter().filter(|c| c.waived.is_none()).map(|c| c.hours).sum::<f64>();
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let priced = out
        .buy
        .iter()
        .filter_map(|l| l.price.as_ref())
        .chain(out.idle.iter().filter_map(|l| l.price.as_ref()));
    for m in priced {
        *counts.entry(&m.currency).or_default() += 1;
    }
    t.currency =
        counts.iter().max_by_key(|(c, n)| (**n, std::cmp::Reverse(**c))).map_or("USD", |(c, _)| c).to_owned();
    let live = || out.buy.iter().filter(|l| l.waived.is_none());
    let oldest = live().filter_map(|l| l.old_price.as_ref()).min_by_key(|d| (d.last, d.first));
    t.old_prices_from = oldest.map(|d| d.text.clone());
    for line in live() {
        t.lines += 1;
        t.old_prices += usize::from(line.old_price.is_some());
        t.fitted += usize::from(line.state == LineState::Fitted);
        t.unpriced += usize::from(line.price.is_none() && !line.state.is_here());
    }
    t
}

#[cfg(test)]
mod tests;
