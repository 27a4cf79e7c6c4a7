//! Which containers a fluid is bought in.
//!
//! Parts of a class that say the same under the figure `fluid` are one fluid and are mixed; those that say something else
//! are never put together. What lies in the box of a chosen kit goes in first, the largest of it first; the rest is the
//! cheapest that holds it (`knockon_figures::fluids::cheapest`).

use knockon_figures::fluids::cheapest::cheapest;
use knockon_figures::fluids::containers::Container;
use smallvec::SmallVec;
use uom::si::f64::Volume;
use uom::si::volume::cubic_meter;

use super::bench::Bench;
use crate::catalogue::searched::Filled;
use crate::catalogue::{ClassId, PartId, UNPRICED};
use crate::value::Value;

/// A container of one fluid.
#[derive(Clone, Copy)]
struct Size {
    part: PartId,
    /// What it surely holds, m³.
    volume: f64,
    /// How many of it lie in boxes.
    boxed: u32,
}

/// The containers of one fluid, by part.
type Sizes = SmallVec<[Size; 8]>;

/// Less than this share of a volume is not missing: it is what units are rounded to.
const ROUNDING: f64 = 5e-7;

impl Bench<'_> {
    /// The containers for a volume (m³) of a class of fluid, largest first; none where the class has none that can be
    /// had. Of several fluids one that lies in a box goes before, then the cheapest, then the one that leaves least over.
    pub(super) fn containers(&self, class: ClassId, wanted: f64) -> Filled {
        if self.stock.iter().any(|l| l.left > 0 && self.part(l.part).class == class) {
            return self.search_containers(class, wanted);
        }
        let known = &self.cat.searched.containers;
        known.get((class, wanted.to_bits()), || self.search_containers(class, wanted))
    }

    fn search_containers(&self, class: ClassId, wanted: f64) -> Filled {
        let Some(container) = self.cat.figure_names.get("container") else { return Filled::new() };
        let word = self.cat.figure_names.get("fluid");
        let mut fluids: SmallVec<[(Option<&Value>, Sizes); 2]> = SmallVec::new();
        let mut parts: SmallVec<[PartId; 16]> = SmallVec::from_slice(&self.cat.by_class[class]);
        parts.sort_unstable();
        for part in parts {
            let entry = self.part(part);
            let held = entry.figure(container).and_then(Value::bounds);
            // what it holds at the least, so that it is never short
            let Some((volume, _)) = held.filter(|(least, _)| *least > 0.0) else { continue };
            let boxed = self.stock.iter().filter(|l| l.part == part).map(|l| l.left).sum();
            if entry.cost == UNPRICED && boxed == 0 {
                continue;
            }
            let fluid = word.and_then(|word| entry.figure(word));
            let size = Size { part, volume, boxed };
            match fluids.iter_mut().find(|(other, _)| *other == fluid) {
                Some((_, sizes)) => sizes.push(size),
                None => fluids.push((fluid, SmallVec::from_slice(&[size]))),
            }
        }
        let filled = fluids.iter().filter_map(|(_, sizes)| {
            let counts = self.fill_with(sizes, wanted)?;
            let of = || sizes.iter().zip(&counts).filter(|(_, n)| **n > 0);
            let boxed = of().any(|(size, _)| size.boxed > 0);
            let bought = |(size, n): (&Size, &u32)| {
                self.part(size.part).cost.saturating_mul(n.saturating_sub(size.boxed).into())
            };
            let price: i64 = of().map(bought).fold(0, i64::saturating_add);
            let held: f64 = of().map(|(size, n)| size.volume * f64::from(*n)).sum();
            let mut list: SmallVec<[(Size, u32); 4]> = of().map(|(size, n)| (*size, *n)).collect();
            list.sort_by(|(a, _), (b, _)| b.volume.total_cmp(&a.volume).then(a.part.cmp(&b.part)));
            Some(((!boxed, price), held, list))
        });
        let best = filled.min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        best.into_iter().flat_map(|(.., list)| list).map(|(size, n)| (size.part, n)).collect()
    }

    /// How many of each, those in boxes counted; `None` where nothing on sale holds what the boxes leave.
    fn fill_with(&self, sizes: &[Size], wanted: f64) -> Option<SmallVec<[u32; 8]>> {
        let mut counts: SmallVec<[u32; 8]> = SmallVec::from_elem(0, sizes.len());
        let mut rest = wanted;
        let mut boxed: SmallVec<[usize; 8]> = (0..sizes.len()).filter(|at| sizes[*at].boxed > 0).collect();
        boxed.sort_by(|a, b| sizes[*b].volume.total_cmp(&sizes[*a].volume).then(a.cmp(b)));
        for at in boxed {
            let missing = rest - wanted * ROUNDING;
            let count = (missing / sizes[at].volume).ceil().clamp(0.0, sizes[at].boxed.into()) as u32;
            counts[at] = count;
            rest -= sizes[at].volume * f64::from(count);
        }
        if rest <= wanted * ROUNDING {
            return Some(counts);
        }
        let on_sale: SmallVec<[usize; 8]> =
            (0..sizes.len()).filter(|at| self.part(sizes[*at].part).cost != UNPRICED).collect();
        let sold: SmallVec<[Container; 8]> = on_sale
            .iter()
            .map(|at| Container {
                volume: Volume::new::<cubic_meter>(sizes[*at].volume),
                price: self.part(sizes[*at].part).cost.try_into().unwrap_or(0),
            })
            .collect();
        let bought = cheapest(Volume::new::<cubic_meter>(rest), &sold)?;
        for (at, count) in on_sale.into_iter().zip(bought) {
            counts[at] = counts[at].saturating_add(count);
        }
        Some(counts)
    }
}

#[cfg(test)]
mod tests;
