//! Parts that would clear a clash: looked for once, when all is settled.

use super::bench::{Bench, CheckKey, Cure, Trouble};
use super::fills::Must;
use crate::catalogue::Ix;
use crate::value::Verdict3;

/// Parts named for one position of a pool or limit, and for a need.
const FEW: usize = 2;

/// A part that would clear a clash, and where.
#[derive(Clone, Copy, Debug)]
pub(super) struct Way {
    pub pos: Ix,
    pub part: Ix,
    /// Whether it does is not known until something is measured.
    pub to_measure: bool,
}

impl Bench<'_> {
    /// Positions and parts that would clear a clash, in the order of its positions; behind them those that may, once a
    /// figure of theirs is measured.
    pub fn remedies(&self, trouble: &Trouble) -> Vec<Way> {
        let mut out = Vec::new();
        let mut unsure = Vec::new();
        match &trouble.cure {
            Cure::None => {}
            Cure::Ends(joint) => {
                let ends = trouble.positions.iter().map(|pos| (*pos, Must::Close(*joint)));
                out.extend(ends.flat_map(|(pos, must)| self.few(pos, must, 3)));
                out.extend(self.of_alternatives(*joint, &trouble.positions));
            }
            Cure::Alone(joint) => {
                let Some((first, others)) = trouble.positions.split_first() else { return Vec::new() };
                let others = others.iter().map(|pos| (*pos, Must::Close(*joint)));
                let all = others.chain([(*first, Must::DoWithout(*joint))]);
                out.extend(all.flat_map(|(pos, must)| self.few(pos, must, FEW)));
                out.extend(self.of_alternatives(*joint, &trouble.positions));
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
                let levers = self.levers(*limit, &trouble.positions);
                for pos in &levers {
                    let clears = |p: &Ix| self.clears(*limit, *pos, *p);
                    out.extend(self.fitting(*pos).filter(clears).take(FEW).map(|p| (*pos, p)));
                }
                if out.is_empty() {
                    let clears = |pos, part| self.clears(*limit, pos, part);
                    out = self.with_more_to_change(&levers, clears);
                }
                for pos in &levers {
                    let may = |p: &Ix| self.may_clear(*limit, *pos, *p);
                    unsure.extend(self.fitting(*pos).filter(may).take(FEW).map(|p| (*pos, p)));
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
                let classes = self.cat.need_classes[*need as usize].iter();
                let places: Vec<Ix> = classes.flat_map(|c| self.v.by_class.of(*c)).copied().collect();
                for pos in places.iter().copied() {
                    let offers = |p: &Ix| self.offers_it(*p, *need, wanted);
                    out.extend(self.fitting(pos).filter(offers).take(FEW).map(|p| (pos, p)));
                }
                if out.is_empty() {
                    out = self.with_more_to_change(&places, |_, part| self.offers_it(part, *need, wanted));
                }
            }
        }
        let sure = out.into_iter().map(|(pos, part)| Way { pos, part, to_measure: false });
        sure.chain(unsure.into_iter().map(|(pos, part)| Way { pos, part, to_measure: true })).collect()
    }

    /// Parts for further places that close an alternative of a joint.
    fn of_alternatives(&self, joint: Ix, told: &[Ix]) -> Vec<(Ix, Ix)> {
        let alternatives = self.v.joints[joint as usize].alternatives.iter();
        let ends =
            alternatives.flat_map(|j| self.v.joints[*j as usize].ends.iter().map(|(pos, _)| (*pos, *j)));
        let others = ends.filter(|(pos, _)| !told.contains(pos));
        others.flat_map(|(pos, j)| self.few(pos, Must::Close(j), FEW)).collect()
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
