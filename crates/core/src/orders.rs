//! Orders: what is still to be bought, from whom, with shipping, and which suppliers cover all of it at the least cost.
//!
//! The cover is exact: a small integer programme, solved to its proof, its cost added up anew in cents.

mod cover;

use std::collections::BTreeMap;

use rust_decimal::Decimal;

pub use cover::{Cover, Line, Terms, cover};

use crate::amounts::Amounts;
use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::money::Money;
use crate::sheet::{LineState, Sheet};

/// A line of an order.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Part id.
    pub part: String,
    /// As shown.
    pub name: String,
    /// How many.
    pub qty: u32,
    /// What one costs there.
    pub each: Money,
}

/// An order to one supplier, in one currency.
#[derive(Clone, Debug, PartialEq)]
pub struct Order {
    /// From whom.
    pub supplier: String,
    /// The lines.
    pub items: Vec<Item>,
    /// What they come to.
    pub parts: Money,
    /// What is asked for shipping, in the currency in which the supplier says it; nothing where the order is above the sum from
    /// which it is free. `None`: nobody says.
    pub shipping: Option<Money>,
    /// How much more shipping would be free from; `None` where it is free, or never.
    pub to_free: Option<Money>,
    /// How much is missing to the least the supplier takes; `None` where nothing is.
    pub below_minimum: Option<Money>,
}

impl Order {
    /// Parts and shipping; the parts alone where nobody says what shipping is.
    #[must_use]
    pub fn all(&self) -> Amounts {
        [Some(&self.parts), self.shipping.as_ref()].into_iter().flatten().collect()
    }
}

/// What orders come to, by currency; without shipping that nobody says.
#[must_use]
pub fn sum(orders: &[Order]) -> Amounts {
    orders.iter().fold(Amounts::default(), |sum, order| &sum + &order.all())
}

/// What is still to be bought.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Orders {
    /// As the lines name their suppliers, by name.
    pub as_listed: Vec<Order>,
    /// The same lines where they cost least, shipping counted; empty where nothing is to choose.
    pub cheapest: Vec<Order>,
    /// No other choice costs less: the search was not cut off.
    pub proved: bool,
    /// Not every order can come to the least its supplier takes: those that do not say so.
    pub minimum_missed: bool,
    /// Suppliers of the cheapest whose shipping could not be counted, by name: nobody says it, or it is in another currency than
    /// their prices.
    pub not_counted: Vec<String>,
    /// Names of lines that nobody is named for.
    pub nobody: Vec<String>,
    /// Names of lines without a price.
    pub no_price: Vec<String>,
}

/// Who sells a part, and for how much.
struct Offer {
    supplier: String,
    each: Money,
}

/// A line that is still to be bought.
struct Want {
    part: String,
    name: String,
    qty: u32,
    /// The first is the one the line names.
    offers: Vec<Offer>,
}

/// What is still to be bought by a plan, from whom.
#[must_use]
pub fn orders(sheet: &Sheet, a: &Assessment, catalogue: &Catalogue) -> Orders {
    let mut out = Orders { proved: true, ..Orders::default() };
    let mut wants: BTreeMap<String, Vec<Want>> = BTreeMap::new();
    for line in a.buy.iter().filter(|line| line.waived.is_none()) {
        let qty = match line.state {
            LineState::ToBuy | LineState::SentBack => line.qty,
            _ => line.short,
        };
        if qty == 0 {
            continue;
        }
        let listed =
            line.price.clone().or_else(|| catalogue.part(&line.part).and_then(|e| e.part.price.clone()));
        let mut offers = Vec::new();
        let own = sheet.suppliers.get(&line.supplier).and_then(|s| s.prices.get(&line.part)).cloned();
        if let Some(each) = own.or_else(|| listed.clone()).filter(|_| !line.supplier.trim().is_empty()) {
            offers.push(Offer { supplier: line.supplier.clone(), each });
        }
        for (name, supplier) in sheet.suppliers.iter().filter(|(name, _)| **name != line.supplier) {
            let each = supplier.prices.get(&line.part).cloned();
            offers.extend(each.map(|each| Offer { supplier: name.clone(), each }));
        }
        match offers.first() {
            Some(first) => {
                let of = first.each.currency.clone();
                // amounts of two currencies are never held against each other
                offers.retain(|offer| offer.each.currency == of);
                wants.entry(of).or_default().push(Want {
                    part: line.part.clone(),
                    name: line.name.clone(),
                    qty,
                    offers,
                });
            }
            None if listed.is_none() => out.no_price.push(line.name.clone()),
            None => out.nobody.push(line.name.clone()),
        }
    }
    for (currency, wants) in &wants {
        let first: Vec<usize> = vec![0; wants.len()];
        out.as_listed.extend(put(sheet, wants, &first, currency));
        if wants.iter().any(|want| want.offers.len() > 1) {
            let found = least(sheet, wants, currency);
            out.proved &= found.proved;
            out.minimum_missed |= found.minimum_missed;
            let unknown = |name: &&str| !is_counted(sheet, name, currency);
            out.not_counted.extend(names(wants).into_iter().filter(unknown).map(str::to_owned));
            out.cheapest.extend(put(sheet, wants, &found.choice, currency));
        } else {
            out.cheapest.extend(put(sheet, wants, &first, currency));
        }
    }
    if out.cheapest == out.as_listed {
        out.cheapest.clear();
        out.not_counted.clear();
    }
    out.not_counted.sort_unstable();
    out.not_counted.dedup();
    out
}

/// Whether the shipping of a supplier can be held against prices in a currency.
fn is_counted(sheet: &Sheet, name: &str, currency: &str) -> bool {
    let shipping = sheet.suppliers.get(name).and_then(|supplier| supplier.shipping.as_ref());
    shipping.is_some_and(|money| money.currency == currency)
}

/// The suppliers named in wants, in order.
fn names(wants: &[Want]) -> Vec<&str> {
    let mut names: Vec<&str> = wants.iter().flat_map(|w| &w.offers).map(|o| o.supplier.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    names
}

fn least(sheet: &Sheet, wants: &[Want], currency: &str) -> Cover {
    let names = names(wants);
    let terms: Vec<Terms> = names.iter().map(|name| terms(sheet, name, currency)).collect();
    let line = |want: &Want| Line {
        offers: want
            .offers
            .iter()
            .map(|offer| {
                let at = names.binary_search(&offer.supplier.as_str()).unwrap_or(0);
                (at, offer.each.amount * Decimal::from(want.qty))
            })
            .collect(),
    };
    let lines: Vec<Line> = wants.iter().map(line).collect();
    cover(&lines, &terms)
}

fn terms(sheet: &Sheet, name: &str, currency: &str) -> Terms {
    let Some(supplier) = sheet.suppliers.get(name) else { return Terms::default() };
    let own = |money: &Option<Money>| money.as_ref().filter(|m| m.currency == currency).map(|m| m.amount);
    Terms {
        shipping: own(&supplier.shipping).unwrap_or_default().max(Decimal::ZERO),
        free_from: own(&supplier.free_from),
        minimum: own(&supplier.minimum).unwrap_or_default(),
    }
}

/// The orders of a choice of an offer for each line.
fn put(sheet: &Sheet, wants: &[Want], choice: &[usize], currency: &str) -> Vec<Order> {
    let mut by: BTreeMap<&str, Vec<Item>> = BTreeMap::new();
    for (want, at) in wants.iter().zip(choice) {
        let Some(offer) = want.offers.get(*at) else { continue };
        by.entry(&offer.supplier).or_default().push(Item {
            part: want.part.clone(),
            name: want.name.clone(),
            qty: want.qty,
            each: offer.each.clone(),
        });
    }
    let order = |(supplier, items): (&str, Vec<Item>)| {
        let terms = terms(sheet, supplier, currency);
        let said = sheet.suppliers.get(supplier).and_then(|of| of.shipping.clone());
        let asked = said.map(|m| Money::new(m.amount.max(Decimal::ZERO), &m.currency));
        let sum: Decimal = items.iter().map(|item| item.each.amount * Decimal::from(item.qty)).sum();
        let money = |amount| Money::new(amount, currency);
        let is_free = terms.is_free(sum);
        let left = |to: Decimal| Some(to - sum).filter(|left| *left > Decimal::ZERO).map(money);
        Order {
            supplier: supplier.to_owned(),
            items,
            parts: money(sum),
            to_free: terms
                .free_from
                .filter(|_| asked.as_ref().is_none_or(|m| m.amount > Decimal::ZERO))
                .and_then(left),
            shipping: if is_free { Some(money(Decimal::ZERO)) } else { asked },
            below_minimum: left(terms.minimum),
        }
    };
    by.into_iter().map(order).collect()
}
