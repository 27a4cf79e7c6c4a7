//! Money: what each choice costs, the lines to obtain, the sums.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::bench::{Bench, Comp};
use crate::assessment::{Assessment, BuyLine, Totals};
use crate::catalogue::{PartId, PositionId};
use crate::date::Dated;
use crate::library::Work;
use crate::money::Money;
use crate::refund;
use crate::sheet::{LineState, Route};

/// So many of a price. Most things come alone.
pub(super) fn times(price: Decimal, qty: u32) -> Decimal {
    if qty == 1 { price } else { price * Decimal::from(qty) }
}

impl<'a> Bench<'a> {
    /// What the owner pays for it: what lies in the box of a kit elsewhere is not paid again.
    pub fn own_paid(&self, pos: PositionId) -> (Option<Decimal>, f64) {
        let (price, hours) = self.own_price(pos);
        let qty = self.v.positions[pos].qty;
        (price.map(|m| times(m.amount, qty.saturating_sub(self.boxed_at(pos)))), hours * f64::from(qty))
    }

    /// Price and hours each of the position's own choice.
    fn own_price(&self, pos: PositionId) -> (Option<&'a Money>, f64) {
        let Some((route, part)) = self.owner[pos] else { return (None, 0.0) };
        let Some(part) = part.or(self.as_found(pos)) else { return (None, 0.0) };
        let part = &self.part(part).part;
        let of = |work: Option<&'a Work>| {
            (work.and_then(|w| w.price.as_ref()), work.and_then(|w| w.hours).unwrap_or(0.0))
        };
        match route {
            Route::Convert | Route::Renew => (part.price.as_ref(), part.hours.unwrap_or(0.0)),
            Route::Clean => of(part.clean.as_ref()),
            Route::Rebuild => of(part.rebuild.as_ref()),
            Route::Keep | Route::LeaveOff => (None, 0.0),
        }
    }

    /// The same as money, and whether anything is bought or worked on here.
    pub fn own_cost(&self, pos: PositionId) -> (Option<Money>, f64, bool) {
        let (price, hours) = self.own_price(pos);
        let qty = self.v.positions[pos].qty;
        let has_part = |part: Option<PartId>| part.or(self.as_found(pos)).is_some();
        let active = self.owner[pos]
            .is_some_and(|(route, part)| !matches!(route, Route::Keep | Route::LeaveOff) && has_part(part));
        (price.map(|m| m.times(qty.saturating_sub(self.boxed_at(pos)))), hours * f64::from(qty), active)
    }
}

pub(super) fn lines(bench: &Bench<'_>, comps: &[Comp]) -> Vec<BuyLine> {
    let mut lines: BTreeMap<String, BuyLine> = BTreeMap::new();
    let price = |ix: PartId| bench.part(ix).part.clean.as_ref().and_then(|w| w.price.as_ref());
    for pos in bench.v.positions.ids() {
        let entry = &bench.v.positions[pos];
        let Some((route, part)) = bench.owner[pos] else { continue };
        let Some(ix) = part.or(bench.as_found(pos)) else { continue };
        let (id, name, price) = match route {
            Route::Convert | Route::Renew => {
                (bench.cat.part_names.id(ix).to_owned(), bench.name(ix), bench.part(ix).part.price.clone())
            }
            Route::Rebuild => work(bench, ix, "rebuild", "Rebuild", bench.part(ix).part.rebuild.as_ref()),
            // what cleaning uses up is a line where it costs anything
            Route::Clean if price(ix).is_some_and(|m| !m.amount.is_zero()) => {
                work(bench, ix, "clean", "Clean", bench.part(ix).part.clean.as_ref())
            }
            _ => continue,
        };
        let want = Wanted {
            id: id.clone(),
            name,
            price,
            part: ix,
            qty: entry.qty.saturating_sub(bench.boxed_at(pos)),
            use_text: entry.name.clone(),
            system: &entry.system,
            waived: None,
            danger: None,
        };
        if want.qty > 0 {
            put(bench, &mut lines, id, want);
        }
    }
    for comp in comps.iter().filter(|c| c.boxed < c.qty) {
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
        let part = &bench.part(comp.part).part;
        let want = Wanted {
            id: id.to_owned(),
            name: part.name.clone(),
            price: part.price.clone(),
            part: comp.part,
            qty: comp.qty - comp.boxed,
            use_text,
            system,
            waived,
            danger: super::cautions::danger(bench, comp),
        };
        put(bench, &mut lines, at, want);
    }
    let order = |s: &str| bench.cat.systems.iter().position(|(id, _)| id == s);
    let mut out: Vec<BuyLine> = lines.into_values().collect();
    out.sort_by(|a, b| (order(&a.system), &a.name, &a.part).cmp(&(order(&b.system), &b.name, &b.part)));
    out
}

/// What is bought to work on a part that stays: id, name, price.
fn work(
    bench: &Bench<'_>,
    part: PartId,
    id: &str,
    word: &str,
    work: Option<&Work>,
) -> (String, String, Option<Money>) {
    (
        format!("{}.{id}", bench.cat.part_names.id(part)),
        format!("{word}: {}", bench.name(part)),
        work.and_then(|w| w.price.clone()),
    )
}

/// One want of a part, before the lines are merged.
struct Wanted<'a> {
    id: String,
    name: String,
    price: Option<Money>,
    part: PartId,
    qty: u32,
    use_text: String,
    system: &'a str,
    waived: Option<String>,
    danger: Option<String>,
}

fn put(bench: &Bench<'_>, lines: &mut BTreeMap<String, BuyLine>, at: String, want: Wanted<'_>) {
    let record = bench.sheet.lines.get(&want.id);
    let paid = record.and_then(|r| r.paid.clone());
    let entry = bench.part(want.part);
    let old_price = entry.priced.as_deref().filter(|_| paid.is_none() && want.price.is_some());
    let old_price = old_price.filter(|priced| is_old(bench, priced)).cloned();
    let price = paid.or(want.price);
    let line = lines.entry(at).or_insert_with(|| BuyLine {
        part: want.id,
        name: want.name,
        qty: 0,
        price,
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
        made: entry.part.made,
        system: want.system.to_owned(),
        old_price,
    });
    line.qty = line.qty.saturating_add(want.qty);
    line.uses.push(want.use_text);
    line.total = line.price.as_ref().map(|m| m.times(line.qty));
}

/// Whether prices of a date hold no longer, whichever day of it they are of.
fn is_old(bench: &Bench<'_>, priced: &Dated) -> bool {
    let until = bench.cat.prices_hold.as_ref().and_then(|time| time.after(priced.last));
    until.zip(bench.cat.as_of).is_some_and(|(until, on)| until < on)
}

pub(super) fn totals(out: &Assessment) -> Totals {
    let mut t = Totals {
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
    for m in out.buy.iter().filter_map(|l| l.price.as_ref()) {
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
        refund::count_off(&mut t, line);
        let Some(total) = &line.total else {
            t.unpriced += 1;
            continue;
        };
        if total.currency != t.currency {
            *t.other_currency.entry(total.currency.clone()).or_default() += total.amount;
            continue;
        }
        match line.state {
            LineState::Fitted | LineState::InHand => t.spent += total.amount,
            LineState::OnOrder => t.committed += total.amount,
            // what was sent back and is wanted all the same has to be bought again
            LineState::ToBuy | LineState::SentBack => t.to_come += total.amount,
        }
    }
    t
}

#[cfg(test)]
mod tests;
