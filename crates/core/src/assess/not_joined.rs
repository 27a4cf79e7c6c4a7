//! A port that must be served, and of which the vehicle does not say what it meets.
//!
//! In words. The joints of a vehicle say what meets at its places. Where they speak of a place and none of them meets a port
//! that is `required`, nobody can say whether what goes in is served there: it is to be looked at, until a joint says so.
//! What was found on the vehicle works: of a port that it has as well nothing is said, nor at a place no joint speaks of.

use smallvec::smallvec;

use super::bench::{Bench, CheckKey, Cure, Trouble};
use crate::assessment::Answer;
use crate::catalogue::{PortEntry, PortNameId, PositionId};
use crate::grammar::low;
use crate::library::Alone;
use crate::phrase;
use crate::phrase::Piece;
use crate::reason::Fact;

impl<'a> Bench<'a> {
    /// Notes each port that must be served and that no joint meets, of what goes in.
    pub(super) fn not_joined(&mut self) {
        for pos in self.v.positions.ids() {
            let slot = self.slot(pos);
            let Some(part) = slot.part.filter(|_| slot.changed) else { continue };
            for port in &self.part(part).ports {
                if port.alone == Alone::Required && self.is_not_told(pos, port.name_ix) {
                    self.look_what_joins(pos, port);
                }
            }
        }
    }

    /// Joints speak of a position, but not of a port that what was found there does not have.
    fn is_not_told(&self, pos: PositionId, port: PortNameId) -> bool {
        let joints = self.v.joints_about[pos].iter().map(|joint| &self.v.joints[*joint]);
        let ends = joints.flat_map(|joint| &joint.ends).filter(|(at, _)| *at == pos);
        let mut ports = ends.map(|(_, port)| *port).peekable();
        let had = |port: PortNameId| {
            self.as_found(pos).is_some_and(|found| self.part(found).port_ix(port).is_some())
        };
        ports.peek().is_some() && !ports.any(|met| met == port) && !had(port)
    }

    fn look_what_joins(&mut self, pos: PositionId, port: &'a PortEntry) {
        let key = CheckKey::Port(pos, port.name_ix);
        let premise = self.slot(pos).reason;
        let part = |s: &Self| s.slot(pos).part.map_or_else(|| s.place(pos), |part| s.name(part));
        let reason =
            self.reason(&[premise], |s| Fact::NotJoined { part: part(s), kind: s.kind_of_port(port) });
        let what = if self.full {
            let kind = self.kind_of_port(port);
            vec![phrase![format!("what joins the {kind} of the "), Piece::name(low(&part(self)))]]
        } else {
            Vec::new()
        };
        self.check(key, Answer::ToMeasure, reason);
        self.found.unknowns.push(Trouble { key, positions: smallvec![pos], reason, what, cure: Cure::None });
    }

    fn kind_of_port(&self, port: &PortEntry) -> String {
        self.cat.port_types.get(port.port_type).map_or_else(String::new, |ty| ty.name.clone())
    }

    /// "Speedometer drive of the gearbox".
    pub(super) fn port_of_place(&self, pos: PositionId, port: PortNameId) -> String {
        let own = self.slot(pos).part.and_then(|part| self.part(part).port_ix(port));
        let kind =
            own.map_or_else(|| self.cat.port_names.id(port).to_owned(), |port| self.kind_of_port(port));
        format!("{kind} of the {}", crate::grammar::lower(&self.place(pos)))
    }
}

#[cfg(test)]
mod tests;
