//! How dear a part may be that nobody chose: what costs out of proportion to the choice behind it is the owner's decision,
//! and is told as a clash that names the part and its price.

use rust_decimal::Decimal;

use super::bench::Bench;
use crate::catalogue::{PartId, PositionId};

/// A joint may bring a part at so many times the price of the dearest choice behind it: a bracket brings what it carries,
/// a speedometer gear no gearbox. Common practice knows no figure; in the shipped library a tank for a
/// filler in the bed side, at four times its price, is the dearest that makes sense.
const MOST_TIMES: u32 = 5;

impl Bench<'_> {
    /// The price of the dearest choice that what sits in some places goes back to.
    fn dearest(&self, positions: impl IntoIterator<Item = PositionId>) -> Option<Decimal> {
        let choices = positions.into_iter().filter_map(|p| self.root(p));
        choices.filter_map(|p| self.own_work(p).0).max()
    }

    fn price_at(&self, part: PartId, pos: PositionId) -> Option<Decimal> {
        let price = self.part(part).part.price.as_ref();
        price.map(|m| m.amount * Decimal::from(self.v.positions[pos].qty))
    }

    /// Whether a limit may ask for a part by itself: it costs no more than the dearest choice that the limit goes back to.
    pub fn is_minor(&self, part: PartId, pos: PositionId, positions: &[PositionId]) -> bool {
        let Some(most) = self.dearest(positions.iter().copied()) else { return false };
        self.is_loose(part) || self.price_at(part, pos).is_some_and(|price| price <= most)
    }

    /// Whether a joint may ask for a part by itself. Where no choice behind it has a price, or the owner has picked the
    /// part, there is nothing to measure it by.
    pub fn is_in_proportion(
        &self,
        part: PartId,
        pos: PositionId,
        positions: impl IntoIterator<Item = PositionId>,
    ) -> bool {
        if self.is_loose(part) || self.ground.fill_picks.get(&pos) == Some(&part) {
            return true;
        }
        let most = self.dearest(positions).filter(|most| !most.is_zero());
        let (Some(most), Some(price)) = (most, self.price_at(part, pos)) else { return true };
        price <= most * Decimal::from(MOST_TIMES)
    }
}

#[cfg(test)]
mod tests;
