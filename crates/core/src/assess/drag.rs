//! What being taken apart drags in where some parts would go into their places: seals, what an opening wants, fluid. The
//! search reads it of the plan as it stands, so that what only opens once is paid once.

use smallvec::SmallVec;

use super::bench::{Bench, By};
use super::fills::Overlay;
use super::order::Marks;
use super::terms::Before;
use crate::assessment::Origin;
use crate::catalogue::searched::Link;
use crate::catalogue::{CircuitId, ClassId, JointId, PartId, PositionId, SpotId, UNPRICED};

impl Bench<'_> {
    /// Whether a place is apart, or would be with some parts in their places.
    fn is_apart(&self, pos: PositionId, overlay: &Overlay, before: &Before) -> bool {
        let goes_in = |(at, part): &(PositionId, Option<PartId>)| {
            *at == pos && part.is_some() && *part != self.as_found(pos)
        };
        before.apart.has(pos) || overlay.iter().any(goes_in)
    }

    /// So many of a part that is opened for; a service that the plan wants anyway is done once.
    fn weigh_opened(&self, part: PartId, qty: u32) -> Marks {
        let is_service = self.cat.services.has(self.part(part).class);
        if is_service && self.found.comps.iter().any(|c| c.part == part) {
            return Marks::default();
        }
        self.weigh_part(part, qty)
    }

    /// What the contacts of a joint want where it is opened.
    pub(super) fn weigh_seals(
        &self,
        joint: JointId,
        links: &[Link],
        overlay: &Overlay,
        before: &Before,
    ) -> Marks {
        let entry = &self.v.joints[joint];
        let mut marks = Marks::default();
        if !entry.ends.iter().any(|(pos, _)| self.is_apart(*pos, overlay, before)) {
            return marks;
        }
        let meeting = self.meeting(joint, overlay);
        if meeting.len() < 2 {
            return marks;
        }
        for wanted in self.wanted_by(&meeting, links) {
            marks += self.weigh_opened(wanted.part, wanted.want.qty * entry.qty * wanted.times);
        }
        marks
    }

    /// What an opening wants at one of its spots where a place of it is apart.
    pub(super) fn weigh_spot(&self, spot: SpotId, overlay: &Overlay, before: &Before) -> Marks {
        let here = &self.v.openings[spot];
        let mut marks = Marks::default();
        if !here.places.iter().any(|pos| self.is_apart(*pos, overlay, before)) {
            return marks;
        }
        for ((class, want), places) in self.cat.openings[here.opening].wants.iter().zip(&here.wanted) {
            let Some(places) = places else {
                let part = self.any_of(*class).filter(|_| self.is_used_loose(*class));
                marks += part.map_or(Marks::default(), |part| self.weigh_opened(part, want.qty));
                continue;
            };
            for pos in places {
                let slot = self.slot(*pos);
                let stays = slot.by == By::Found
                    && !self.is_chosen(*pos)
                    && !overlay.iter().any(|(at, _)| at == pos)
                    && !self.is_condemned(*pos);
                let part = slot.part.filter(|part| stays && self.part(*part).cost != UNPRICED);
                let qty = self.v.positions[*pos].qty.max(want.qty);
                marks += part.map_or(Marks::default(), |part| self.weigh_part(part, qty));
            }
        }
        marks
    }

    /// What is there is renewed for its own sake: the survey condemned it, or it is over its age.
    pub(super) fn is_condemned(&self, pos: PositionId) -> bool {
        let asks = |origin: Origin| matches!(origin, Origin::Survey | Origin::Age);
        self.found.comps.iter().any(|c| c.position == Some(pos) && asks(c.origin))
    }

    /// The containers for all circuits of a fluid that run out.
    pub(super) fn weigh_fluid(&self, fluid: ClassId, overlay: &Overlay, before: &Before) -> Marks {
        let runs_out = |circuit: &CircuitId| {
            let positions = &self.v.circuits[*circuit].positions;
            before.run_out.contains(circuit)
                || positions.iter().any(|pos| self.is_apart(*pos, overlay, before))
        };
        let circuits = self.v.circuits.iter().filter(|(_, entry)| entry.fluid == fluid).map(|(at, _)| at);
        let out: SmallVec<[CircuitId; 4]> = circuits.filter(runs_out).collect();
        let held = self.held();
        let amount: f64 = out.iter().map(|circuit| self.capacity(*circuit, &held)).sum();
        let mut marks = Marks::default();
        if amount > 0.0 {
            for (part, qty) in self.containers(fluid, amount) {
                marks += self.weigh_part(part, qty);
            }
        }
        marks
    }
}

#[cfg(test)]
mod tests;
