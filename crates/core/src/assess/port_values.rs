//! Values at ports: those behind a joint that is open, and those the sheet has measured.

use super::bench::Bench;
use super::ground::PortFact;
use super::memory::Met;
use super::one_end::known_at;
use super::port_value::{End, PortValue, is_unknown, value};
use crate::assessment::{Instead, Measured, Wanted};
use crate::catalogue::meeting::{each_field, fields_agree, same_side};
use crate::catalogue::searched::{Chain, Link};
use crate::catalogue::{Id, JointId, PartId, PortEntry, PortNameId, PortTypeId, PositionId};
use crate::grammar::lower;
use crate::key::FactKey;
use crate::phrase;
use crate::phrase::Phrase;
use crate::value::{Kind, Value, Verdict3};

impl<'a> Bench<'a> {
    /// What to measure at an open joint, in words.
    pub(super) fn what_to_measure(&self, met: &Met<'a>, chain: Option<&Chain>) -> Vec<Phrase> {
        self.in_words(self.open_values(self.touching(met, chain)))
    }

    /// What to measure before it is known which seal goes between the ends of a joint, in words.
    pub(super) fn what_to_measure_for(&self, joint: JointId, seal: PartId) -> Vec<Phrase> {
        self.in_words(self.open_at_seal(joint, seal))
    }

    /// Whether what the ends of a joint say leaves open that a seal suits them.
    pub(super) fn is_any_seal(&self, joint: JointId, seal: PartId) -> bool {
        self.at_seal(joint, seal).into_iter().any(|(own, end)| {
            fields_agree(self.cat, own.2, end.2) == Verdict3::Open
                && each_field(self.cat, own.2, end.2)
                    .any(|(field, verdict)| verdict == Verdict3::Open && !known_at(self, joint, end, field))
        })
    }

    /// What leaves open which seal goes between the ends of a joint.
    fn open_at_seal(&self, joint: JointId, seal: PartId) -> Vec<PortValue<'a>> {
        self.at_one_end(joint, self.open_values(self.at_seal(joint, seal)))
    }

    /// A seal with each end that it touches: of the first two parts of a joint, and of the bridges between.
    fn at_seal(&self, joint: JointId, seal: PartId) -> Vec<(End<'a>, End<'a>)> {
        let met = self.met_now(joint);
        let [a, b] = match met.ports.as_slice() {
            [a, b, ..] => [a, b].map(|(pos, port)| Some((Some(*pos), self.slot(*pos).part?, *port))),
            _ => return Vec::new(),
        };
        let chain = self.chain_found(joint).filter(|_| met.ports.len() == 2);
        let of_link = |link: &Link| {
            let ports = &self.part(link.part).ports;
            [link.enter, link.leave].map(|at| (None, link.part, &ports[usize::from(at)]))
        };
        let between = chain.iter().flat_map(|chain| &chain.links).flat_map(of_link);
        let ends: Vec<End<'a>> = a.into_iter().chain(between).chain(b).collect();
        let of_seal = |end: End<'a>| {
            let own = self.part(seal).ports.iter().filter(move |own| own.port_type == end.2.port_type);
            own.map(move |own| ((None, seal, own), end))
        };
        ends.into_iter().flat_map(of_seal).collect()
    }

    fn in_words(&self, values: Vec<PortValue<'a>>) -> Vec<Phrase> {
        let mut out: Vec<Phrase> = Vec::new();
        for at in values {
            let name = self.field_name(at.port, at.field);
            let on = |at: &PortValue<'_>| match at.pos {
                Some(pos) => lower(&self.place(pos)),
                None => self.name(at.part),
            };
            let of = match &at.instead {
                Some(other) => format!("{} or of the {}", on(&at), on(other)),
                None => on(&at),
            };
            let told = match value(&at) {
                Some(Value::Unknown(how)) if !how.is_empty() => {
                    phrase![format!("{name} of the {of}: ")].then(Phrase::how(how))
                }
                v if is_unknown(v) => phrase![format!("{name} of the {of}")],
                _ => phrase![format!("{name}: closer than the tolerance written")],
            };
            if !out.contains(&told) {
                out.push(told);
            }
        }
        vec![Phrase::joined(out, "; ")]
    }

    /// The values an open joint wants, at both its ends and along the bridges between.
    pub(super) fn wanted_at_joint(&self, joint: JointId) -> Vec<Wanted> {
        let met = self.met_now(joint);
        let chain = self.found.chains.iter().find(|(j, _)| *j == joint).map(|(_, chain)| chain.as_ref());
        // those that came together fit: only what lies between them is open
        let touching = if self.came_together(joint) { Vec::new() } else { self.touching(&met, chain) };
        let mut values = self.open_values(touching);
        for seal in self.seals_between(joint) {
            for at in self.open_at_seal(joint, seal) {
                if !values.iter().any(|other| other.is_of(&at)) {
                    values.push(at);
                }
            }
        }
        values
            .into_iter()
            .map(|at| {
                let (kind, words) = self.kind_and_words(at.port.port_type, at.field);
                let known = value(&at).filter(|v| !is_unknown(Some(v))).cloned();
                let instead = at.instead.as_deref().map(|other| Instead {
                    key: self.port_key(other.part, other.port.name_ix, other.field),
                    name: self.port_value_name(other.port, other.field),
                    how: match value(other) {
                        Some(Value::Unknown(how)) => Phrase::how(how),
                        _ => Phrase::default(),
                    },
                    part: self.name(other.part),
                });
                Wanted {
                    key: self.port_key(at.part, at.port.name_ix, at.field),
                    name: self.port_value_name(at.port, at.field),
                    how: match value(&at) {
                        Some(Value::Unknown(how)) => Phrase::how(how),
                        _ if known.is_some() => "more closely than it is known so far".into(),
                        _ => Phrase::default(),
                    },
                    part: self.name(at.part),
                    now: known,
                    kind,
                    words,
                    instead,
                }
            })
            .collect()
    }

    /// What leaves a joint open, field by field, each once: the values not known, else those with a tolerance. A window is
    /// what a part accepts, and is asked for only where it alone leaves the joint open.
    fn open_values(&self, pairs: Vec<(End<'a>, End<'a>)>) -> Vec<PortValue<'a>> {
        let mut out: Vec<PortValue<'a>> = Vec::new();
        for (a, b) in pairs {
            let open = each_field(self.cat, a.2, b.2).filter(|(_, verdict)| *verdict == Verdict3::Open);
            for (field, _) in open {
                let both =
                    [a, b].map(|(pos, part, port)| PortValue { pos, part, port, field, instead: None });
                let ways: [fn(Option<&Value>) -> bool; 3] = [is_unknown, is_loose, is_window];
                let way = ways.into_iter().find(|way| both.iter().any(|at| way(value(at))));
                let counts = |at: &PortValue<'_>| way.is_some_and(|way| way(value(at)));
                for at in both.into_iter().filter(counts) {
                    if !out.iter().any(|other| other.is_of(&at)) {
                        out.push(at);
                    }
                }
            }
        }
        out
    }

    /// The ends of a joint that must agree, two by two.
    fn touching(&self, met: &Met<'a>, chain: Option<&Chain>) -> Vec<(End<'a>, End<'a>)> {
        let ends: Vec<End<'a>> = met
            .ports
            .iter()
            .filter_map(|(pos, port)| Some((Some(*pos), self.slot(*pos).part?, *port)))
            .collect();
        let mut out = Vec::new();
        if let (Some(chain), [a, b]) = (chain, ends.as_slice()) {
            let mut from = *a;
            for link in &chain.links {
                let ports = &self.part(link.part).ports;
                out.push((from, (None, link.part, &ports[usize::from(link.enter)])));
                from = (None, link.part, &ports[usize::from(link.leave)]);
            }
            out.push((from, *b));
            return out;
        }
        for (i, a) in ends.iter().enumerate() {
            let others = ends[i + 1..].iter().filter(|b| a.2.port_type == b.2.port_type);
            out.extend(others.filter(|b| !same_side(a.2, b.2)).map(|b| (*a, *b)));
        }
        out
    }

    /// What the sheet has measured at ports.
    pub(super) fn measured_at_ports(&self) -> impl Iterator<Item = Measured> {
        self.ground.port_facts.iter().filter_map(|fact| {
            let port = self.part(fact.part).port_ix(fact.port)?;
            let value = port.values.get(fact.field)?.as_ref()?;
            let (kind, words) = self.kind_and_words(port.port_type, fact.field);
            let mut positions: Vec<String> =
                self.places_of(fact, port).into_iter().map(|p| self.v.positions[p].id.clone()).collect();
            positions.sort();
            positions.dedup();
            Some(Measured {
                key: self.port_key(fact.part, fact.port, fact.field),
                name: self.port_value_name(port, fact.field),
                part: self.name(fact.part),
                value: value.text(),
                kind,
                words,
                positions,
            })
        })
    }

    /// Where a value measured at a port is of use: the positions its part goes into, whatever sits there now, so that it
    /// can be taken back; with those at the other ends of the joint. A bridge shows where it sits or could go between.
    fn places_of(&self, fact: &PortFact, port: &PortEntry) -> Vec<PositionId> {
        let mut out: Vec<PositionId> = self.positions_for(fact.part).collect();
        let sits = |pos: PositionId| self.slot(pos).part == Some(fact.part);
        let is_bridge = self.part(fact.part).bridge.is_some();
        for (joint, entry) in self.v.joints.iter() {
            let ends = entry.ends.iter().map(|(pos, _)| *pos);
            let meets = entry.ends.iter().any(|(pos, name)| *name == fact.port && sits(*pos));
            let lies_between = is_bridge && self.goes_between(fact.part, port, joint)
                || entry.ends.len() > 1 && self.is_wanted_between(fact.part, port, joint);
            if meets || lies_between {
                out.extend(ends);
            }
        }
        out
    }

    /// Whether the ends of a joint want a part of this class when they come apart, and meet it with a port of this type.
    fn is_wanted_between(&self, part: PartId, port: &PortEntry, joint: JointId) -> bool {
        let class = self.part(part).class;
        let wants = |end: &PortEntry| {
            let opened = self.cat.port_types.get(end.port_type).map(|ty| &ty.opened);
            end.port_type == port.port_type
                && opened.is_some_and(|opened| opened.iter().any(|(wanted, _)| *wanted == class))
        };
        self.met_now(joint).ports.iter().any(|(_, end)| wants(end))
    }

    /// Whether a bridge sits in a joint, or has the kind of port that ends which do not agree have there.
    fn goes_between(&self, bridge: PartId, port: &PortEntry, joint: JointId) -> bool {
        let here = self.found.chains.iter().find(|(j, _)| *j == joint);
        if here.is_some_and(|(_, chain)| chain.links.iter().any(|link| link.part == bridge)) {
            return true;
        }
        let met = self.met_now(joint);
        let [a, b] = met.ports.as_slice() else { return false };
        let changed = [a, b].iter().any(|(pos, _)| self.slot(*pos).changed);
        let is_like = |end: &&PortEntry| end.port_type == port.port_type;
        changed && met.verdict == Verdict3::Broken && [a.1, b.1].iter().any(is_like)
    }

    fn kind_and_words(&self, port_type: PortTypeId, field: usize) -> (Kind, Vec<String>) {
        let fields = self.cat.port_types.get(port_type).map(|t| &t.fields);
        match fields.and_then(|f| f.get(field)).map(|f| f.2) {
            Some(Kind::Word) => (Kind::Word, self.cat.words_of(port_type, field)),
            kind => (kind.unwrap_or(Kind::Word), Vec::new()),
        }
    }

    /// "thread (inlet)", and "flow" where the port has the name of its field.
    fn port_value_name(&self, port: &PortEntry, field: usize) -> String {
        let name = self.field_name(port, field);
        let at = self.cat.port_names.id(port.name_ix).replace('-', " ");
        if name == at { name } else { format!("{name} ({at})") }
    }

    pub(super) fn port_key(&self, part: PartId, port: PortNameId, field: usize) -> FactKey {
        let ty = self.part(part).port_ix(port).map_or(Id::UNKNOWN, |p| p.port_type);
        let fields = self.cat.port_types.get(ty).map(|t| &t.fields);
        let field = fields.and_then(|f| f.get(field)).map_or("", |f| f.0.as_str());
        FactKey::Port {
            port: self.cat.port_names.id(port).to_owned(),
            field: field.to_owned(),
            part: self.cat.part_names.id(part).to_owned(),
        }
    }
}

fn is_loose(value: Option<&Value>) -> bool {
    match value {
        Some(Value::OneOf(items)) => items.iter().any(|item| is_loose(Some(item))),
        value => matches!(value, Some(Value::Quantity(q)) if q.tolerance > 0.0),
    }
}

fn is_window(value: Option<&Value>) -> bool {
    match value {
        Some(Value::OneOf(items)) => items.iter().any(|item| is_window(Some(item))),
        value => matches!(value, Some(Value::Window { .. })),
    }
}

#[cfg(test)]
mod tests;
