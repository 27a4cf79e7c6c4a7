//! Which parts could go into a position at all, found through the indexes: the work must not grow with the library.

use super::agree::agree;
use super::bench::Bench;
use super::fills::Must;
use crate::catalogue::{ClassPorts, Ix, PortEntry};
use crate::value::Verdict3;

impl Bench<'_> {
    /// Parts of the position's class that could do what they must, cheapest first, ties by id. Every part that does is
    /// among them; each must still be looked at.
    pub fn shortlist(&self, pos: Ix, must: Must) -> Vec<Ix> {
        let mut parts = match must {
            Must::Close(joint) => self.closing(pos, joint),
            Must::DoWithout(_) | Must::Fit => match self.narrowest(pos, must.joint()) {
                Some((joint, ports)) => {
                    let mut parts = self.closing(pos, joint);
                    parts.extend(&ports.without);
                    parts
                }
                None => return self.of_class(pos).to_vec(),
            },
        };
        parts.sort_unstable_by_key(|p| self.part(*p).rank);
        parts.dedup();
        parts
    }

    /// Those of the shortlist that also break nothing where fewest parts fit: whoever has no mark is among them. Empty
    /// where there is no such place.
    pub fn shortlist_clean(&self, pos: Ix, must: Must) -> Vec<Ix> {
        let Some(joint) = must.joint() else { return Vec::new() };
        let Some((other, ports)) = self.narrowest(pos, Some(joint)) else { return Vec::new() };
        let mut fitting = self.closing(pos, other);
        fitting.extend(&ports.without);
        fitting.sort_unstable();
        let mut parts = self.closing(pos, joint);
        parts.retain(|p| fitting.binary_search(p).is_ok());
        parts.sort_unstable_by_key(|p| self.part(*p).rank);
        parts.dedup();
        parts
    }

    fn of_class(&self, pos: Ix) -> &[Ix] {
        let class = self.v.positions[pos as usize].class;
        self.cat.by_class.get(class as usize).map_or(&[], Vec::as_slice)
    }

    /// Ports of this position's class at a joint.
    fn class_ports(&self, pos: Ix, joint: Ix) -> Option<&ClassPorts> {
        let (_, name) = self.v.joints[joint as usize].ends.iter().find(|(p, _)| *p == pos)?;
        self.cat.class_ports.get(&(self.v.positions[pos as usize].class, *name))
    }

    /// Ports that meet this position's at a joint.
    fn others(&self, pos: Ix, joint: Ix) -> Vec<&PortEntry> {
        self.meeting_now(joint).into_iter().filter(|(p, _)| *p != pos).map(|(_, port)| port).collect()
    }

    /// Parts whose port agrees with another end of a joint, directly or at the end of a chain of bridges, and kits that
    /// bring their own other end.
    fn closing(&self, pos: Ix, joint: Ix) -> Vec<Ix> {
        let mut parts = self.kits_for(pos, joint);
        let Some(ports) = self.class_ports(pos, joint) else { return parts };
        let others = self.others(pos, joint);
        for other in &others {
            parts.extend(self.agreeing_with(ports, other));
        }
        // only where two ports meet can a bridge go between
        if let [other] = others.as_slice() {
            for node in &self.reach(other).nodes {
                let last = node.last();
                parts.extend(self.agreeing_with(ports, &self.part(last.part).ports[usize::from(last.leave)]));
            }
        }
        parts
    }

    fn agreeing_with<'b>(
        &'b self,
        ports: &'b ClassPorts,
        other: &'b PortEntry,
    ) -> impl Iterator<Item = Ix> + 'b {
        ports
            .index
            .candidates(&self.cat.port_types, other)
            .into_iter()
            .filter(|(part, at)| {
                agree(self.cat, &self.part(*part).ports[usize::from(*at)], other).verdict != Verdict3::Broken
            })
            .map(|(part, _)| part)
    }

    /// Kits of this position whose contents go to another end of the joint.
    fn kits_for(&self, pos: Ix, joint: Ix) -> Vec<Ix> {
        let class = self.v.positions[pos as usize].class;
        let mut parts = Vec::new();
        for (end, _) in &self.v.joints[joint as usize].ends {
            let other = self.v.positions[*end as usize].class;
            parts.extend(self.cat.kits_with.get(&(class, other)).into_iter().flatten());
        }
        parts
    }

    /// The joint with one other port at a position that leaves fewest parts to look at.
    fn narrowest(&self, pos: Ix, except: Option<Ix>) -> Option<(Ix, &ClassPorts)> {
        let mut best: Option<(usize, Ix, &ClassPorts)> = None;
        for joint in &self.v.joints_at[pos as usize] {
            if Some(*joint) == except {
                continue;
            }
            let Some(ports) = self.class_ports(pos, *joint) else { continue };
            let others = self.others(pos, *joint);
            let [other] = others.as_slice() else { continue };
            let count = ports.index.count(&self.cat.port_types, other) + ports.without.len();
            if best.is_none_or(|(least, ..)| count < least) {
                best = Some((count, *joint, ports));
            }
        }
        best.map(|(_, joint, ports)| (joint, ports))
    }
}
