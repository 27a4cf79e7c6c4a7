//! Which containers a fluid is bought in: every number of every size on sale is tried.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::Oracle;
use super::values::amount;

/// How many of a container.
type Counts<'a> = Vec<(&'a str, u32)>;

/// What is looked for, one after the other: nothing out of a box, price, half decilitres held.
type Worth = (bool, Decimal, i64);

impl<'a> Oracle<'a> {
    /// The containers for so many litres of a class of fluid, largest first.
    pub(super) fn containers(&self, class: &str, litres: f64) -> Counts<'a> {
        let mut fluids: BTreeMap<Option<&str>, Vec<&'a str>> = BTreeMap::new();
        for (id, part) in self.lib.parts.iter().filter(|(_, p)| p.class == class) {
            let had = part.price.is_some() || self.loose(id);
            let container = part.figures.contains_key("container");
            if had && container {
                fluids.entry(part.figures.get("fluid").and_then(|w| w.as_str())).or_default().push(id);
            }
        }
        let mut fluids: Vec<Vec<&'a str>> = fluids.into_values().collect();
        fluids.sort();
        let mut best: Option<(Worth, Counts<'a>)> = None;
        for fluid in fluids {
            let Some(found) = self.filled(&fluid, litres) else { continue };
            if best.as_ref().is_none_or(|b| found.0 < b.0) {
                best = Some(found);
            }
        }
        let mut list = best.map(|b| b.1).unwrap_or_default();
        list.sort_by(|(a, _), (b, _)| self.litres(b).total_cmp(&self.litres(a)).then(a.cmp(b)));
        list
    }

    fn litres(&self, part: &str) -> f64 {
        amount(self.part(part).figures["container"].as_str().unwrap_or("")).0
    }

    fn filled(&self, fluid: &[&'a str], litres: f64) -> Option<(Worth, Counts<'a>)> {
        let mut counts: BTreeMap<&'a str, u32> = BTreeMap::new();
        let mut missing = litres;
        let mut boxed: Vec<&'a str> = fluid.iter().copied().filter(|id| self.loose(id)).collect();
        boxed.sort_by(|a, b| self.litres(b).total_cmp(&self.litres(a)).then(a.cmp(b)));
        for id in boxed {
            for _ in 0..self.stock.iter().filter(|c| c.part == id).map(|c| c.left).sum() {
                if missing > 1e-9 {
                    *counts.entry(id).or_default() += 1;
                    missing -= self.litres(id);
                }
            }
        }
        let from_box = !counts.is_empty();
        let on_sale: Vec<&'a str> =
            fluid.iter().copied().filter(|id| self.part(id).price.is_some()).collect();
        let mut price = Decimal::ZERO;
        if missing > 1e-9 {
            let bought = self.tried(&on_sale, missing).into_iter().min_by_key(|counts| {
                let each = || on_sale.iter().zip(counts);
                let money: Decimal = each().map(|(id, n)| self.money(id) * Decimal::from(*n)).sum();
                let held: f64 = each().map(|(id, n)| self.litres(id) * f64::from(*n)).sum();
                (money, (held * 20.0).round() as i64, counts.iter().sum::<u32>(), Reverse(counts.clone()))
            })?;
            for (id, n) in on_sale.iter().zip(bought).filter(|(_, n)| *n > 0) {
                *counts.entry(id).or_default() += n;
                price += self.money(id) * Decimal::from(n);
            }
        }
        let held: f64 = counts.iter().map(|(id, n)| self.litres(id) * f64::from(*n)).sum();
        Some(((!from_box, price, (held * 20.0).round() as i64), counts.into_iter().collect()))
    }

    /// Every choice that is enough, without a container too many of the last size.
    fn tried(&self, on_sale: &[&'a str], litres: f64) -> Vec<Vec<u32>> {
        let Some((first, others)) = on_sale.split_first() else { return Vec::new() };
        let most = (litres / self.litres(first) - 1e-9).ceil().max(0.0) as u32;
        let mut out = Vec::new();
        for n in 0..=most {
            let left = litres - self.litres(first) * f64::from(n);
            if left <= 1e-9 {
                out.push([vec![n], vec![0; others.len()]].concat());
            } else {
                out.extend(self.tried(others, left).into_iter().map(|rest| [vec![n], rest].concat()));
            }
        }
        out
    }
}
