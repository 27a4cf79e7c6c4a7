//! Parts that would clear a clash: looked for once, when all is settled.

use super::bench::{Bench, CheckKey, Cure, Trouble};
use super::fills::Must;
use crate::catalogue::Ix;
use crate::value::Verdict3;

/// Parts named for one position of a pool or limit, and for a need.
const FEW: usize = 2;

impl Bench<'_> {
    /// Positions and parts that would clear a clash, in the order of its positions.
    pub fn remedies(&self, trouble: &Trouble) -> Vec<(Ix, Ix)> {
        let mut out = Vec::new();
        match &trouble.cure {
            Cure::None => {}
            Cure::Ends(joint) => {
                let ends = trouble.positions.iter().map(|pos| (*pos, Must::Close(*joint)));
                out.extend(ends.flat_map(|(pos, must)| self.few(pos, must, 3)));
            }
            Cure::Alone(joint) => {
                let Some((first, others)) = trouble.positions.split_first() else { return out };
                let others = others.iter().map(|pos| (*pos, Must::Close(*joint)));
                let all = others.chain([(*first, Must::DoWithout(*joint))]);
                out.extend(all.flat_map(|(pos, must)| self.few(pos, must, FEW)));
            }
            Cure::Pool(pool) => {
                // what was always there is no fault of the plan's
                for pos in trouble.positions.iter().filter(|p| self.slot(**p).changed) {
                    let holds =
                        |p: &Ix| self.pool_sum(*pool, &self.overlay(*pos, *p)).verdict() != Verdict3::Broken;
                    out.extend(self.fitting(*pos).filter(holds).take(FEW).map(|p| (*pos, p)));
                }
            }
            Cure::Limit(limit) => {
                for pos in &trouble.positions {
                    let clears = |p: &Ix| self.clears(*limit, *pos, *p);
                    out.extend(self.fitting(*pos).filter(clears).take(FEW).map(|p| (*pos, p)));
                }
                if out.is_empty() {
                    let clears = |pos, part| self.clears(*limit, pos, part);
                    out = self.with_more_to_change(&trouble.positions, clears);
                }
            }
            Cure::Need(need) => {
                let wanted = match trouble.key {
                    CheckKey::Need(_, asker, _) => self
                        .part(asker)
                        .needs
                        .iter()
                        .find(|(n, ..)| n == need)
                        .and_then(|(_, v, _)| v.as_ref()),
                    _ => None,
                };
                for class in &self.cat.need_classes[*need as usize] {
                    let Some(pos) = self.v.by_class.get(class).copied() else { continue };
                    let offers = |p: &Ix| self.offers_it(*p, *need, wanted);
                    out.extend(self.fitting(pos).filter(offers).take(FEW).map(|p| (pos, p)));
                }
                if out.is_empty() {
                    let places = self.cat.need_classes[*need as usize].iter();
                    let places: Vec<Ix> =
                        places.filter_map(|class| self.v.by_class.get(class)).copied().collect();
                    out = self.with_more_to_change(&places, |_, part| self.offers_it(part, *need, wanted));
                }
            }
        }
        out
    }

    fn few(&self, pos: Ix, must: Must, few: usize) -> impl Iterator<Item = (Ix, Ix)> + use<> {
        self.candidates(pos, must, few).into_iter().map(move |(_, part)| (pos, part))
    }

    /// Where nothing that fits as it is clears it: parts that clear it and want something else changed as well.
    fn with_more_to_change(&self, positions: &[Ix], clears: impl Fn(Ix, Ix) -> bool) -> Vec<(Ix, Ix)> {
        let mut out = Vec::new();
        for pos in positions {
            let class = self.v.positions[*pos as usize].class;
            let for_sale = self.cat.by_class[class as usize].iter().copied().filter(|p| self.for_sale(*p));
            let others = for_sale.filter(|p| self.slot(*pos).part != Some(*p));
            out.extend(others.filter(|p| clears(*pos, *p)).take(FEW).map(|p| (*pos, p)));
        }
        out
    }

    /// Parts that break no joint of a position, those that break no figure first, then cheapest.
    fn fitting(&self, pos: Ix) -> impl Iterator<Item = Ix> {
        self.candidates(pos, Must::Fit, usize::MAX).into_iter().map(|(_, part)| part)
    }
}

#[cfg(test)]
mod tests;
