//! Values measured at ports: written into the library before anything is looked at, and asked for where a joint is open.

use std::collections::BTreeSet;

use knockon_core::key::{CheckKey, FactKey};
use knockon_core::library::{LibraryFile, Port, Rule};
use knockon_core::sheet::{Route, Sheet};

use super::chains::Step;
use super::opened::Renewals;
use super::{Oracle, values};

/// A port that touches another: its part, its name, itself.
type End<'a> = (&'a str, &'a str, &'a Port);

/// The library as if what the sheet has measured at ports stood in it.
pub(super) fn written(lib: &LibraryFile, sheet: &Sheet) -> LibraryFile {
    let mut lib = lib.clone();
    for (key, value) in &sheet.facts {
        let Ok(FactKey::Port { port, field, part }) = key.parse() else { continue };
        let fields = lib.parts.get_mut(&part).and_then(|p| p.ports.get_mut(&port)).map(|p| &mut p.fields);
        if let Some(fields) = fields {
            fields.insert(field, value.clone());
        }
    }
    lib
}

impl<'a> Oracle<'a> {
    /// Notes what an open joint wants measured, with the bridges between its ends where there are any.
    pub(super) fn want(&mut self, joint: &str, steps: &[Step<'a>]) {
        let v = self.v;
        let Some((_, joint_def)) = v.joints.iter().find(|(id, _)| *id == joint) else { return };
        let ends: Vec<End<'a>> = joint_def
            .ends
            .iter()
            .filter_map(|e| {
                let part = self.slots[e.at.as_str()].part?;
                Some((part, e.port.as_str(), self.part(part).ports.get(&e.port)?))
            })
            .collect();
        let mut pairs: Vec<(End<'a>, End<'a>)> = Vec::new();
        if steps.is_empty() {
            for (i, a) in ends.iter().enumerate() {
                pairs.extend(ends[i + 1..].iter().map(|b| (*a, *b)));
            }
            pairs.retain(|(a, b)| a.2.port_type == b.2.port_type && !values::same_side(a.2, b.2));
        } else {
            let mut from = ends[0];
            for step in steps {
                let named = |port: &'a Port| {
                    let mut ports = self.part(step.part).ports.iter();
                    let name = ports.find(|(_, p)| std::ptr::eq(*p, port)).map_or("", |(name, _)| name);
                    (step.part, name, port)
                };
                pairs.push((from, named(step.enter)));
                from = named(step.leave);
            }
            pairs.push((from, ends[1]));
        }
        self.want_of(joint, pairs);
    }

    /// What meets at a joint came together: nothing changed at its ends, nor at those of its alternatives.
    pub(super) fn together_before(&self, joint: &str) -> bool {
        let either = self.either(joint);
        let mut ends = either.iter().flat_map(|j| self.v.joints[*j].ends.iter());
        ends.all(|end| !self.slots[end.at.as_str()].changed)
    }

    /// One of two ends that came together does not say a field which must be equal, and the other does.
    pub(super) fn told_by_other(&self, joint: &str, field: &str, end: &Port, other: &Port) -> bool {
        let text = |port: &Port| port.fields.get(field).and_then(|v| v.as_str()).unwrap_or("").to_owned();
        let told = text(other);
        self.is_equal(field, end)
            && end.port_type == other.port_type
            && self.together_before(joint)
            && text(end).starts_with("unknown")
            && !(told.starts_with("unknown") || told == "any" || told.contains(" to ") || told.is_empty())
    }

    fn is_equal(&self, field: &str, end: &Port) -> bool {
        self.lib.port_types[&end.port_type].fields[field].rule == Rule::Equal
    }

    /// Notes what is wanted to know which seal goes between the ends of a joint: of it, of the ends, of bridges between. Of
    /// two ends that came together one is enough: the one that is not replaced, then the first.
    pub(super) fn want_for_seal(&mut self, joint: &str, seal: &'a str, renewed: &Renewals<'a>) {
        let steps: Vec<Step<'a>> = self.chains.get(joint).cloned().unwrap_or_default();
        let together = self.together_before(joint);
        if !together {
            self.want(joint, &steps);
        }
        let lib = self.lib;
        let named = |part: &'a str, port: &'a Port| -> End<'a> {
            let mut ports = lib.parts[part].ports.iter();
            let name = ports.find(|(_, p)| std::ptr::eq(*p, port)).map_or("", |(name, _)| name);
            (part, name, port)
        };
        let v = self.v;
        let mut ends: Vec<End<'a>> = Vec::new();
        let mut replaced: Vec<bool> = Vec::new();
        for end in &v.joints[joint].ends {
            let at = end.at.as_str();
            let Some(part) = self.slots[at].part else { continue };
            let Some(port) = self.part(part).ports.get(&end.port) else { continue };
            ends.push((part, end.port.as_str(), port));
            let chosen = self.plan.routes.get(at).is_some_and(|choice| choice.route == Route::Renew);
            let asked = renewed.get(at).is_some_and(|r| !self.plan.waived.contains_key(&r.key));
            replaced.push(chosen || asked);
        }
        ends.truncate(2);
        let own = || lib.parts[seal].ports.iter();
        let of_seal = |end: &End<'a>| {
            let (end, like) = (*end, end.2.port_type.clone());
            own()
                .filter(move |(_, p)| p.port_type == like)
                .map(move |(name, p)| ((seal, name.as_str(), p), end))
        };
        if !together {
            ends.extend(steps.iter().flat_map(|s| [named(s.part, s.enter), named(s.part, s.leave)]));
            let pairs = ends.iter().flat_map(of_seal).collect();
            self.want_of(joint, pairs);
            return;
        }
        let pairs: Vec<(End<'a>, End<'a>)> = ends.iter().flat_map(of_seal).collect();
        let mut asked = self.asked_by(&pairs);
        if let [a, b] = ends.as_slice()
            && a.2.port_type == b.2.port_type
        {
            let fields = lib.port_types[&a.2.port_type].fields.keys();
            for field in fields.filter(|field| self.is_equal(field, a.2)).collect::<Vec<_>>() {
                let [x, y] = [a, b].map(|end| fact(end.1, field, end.0));
                let unknown =
                    |end: &End<'a>| end.2.fields[field].as_str().unwrap_or("").starts_with("unknown");
                if self.told_by_other(joint, field, a.2, b.2) {
                    asked.remove(&x);
                } else if self.told_by_other(joint, field, b.2, a.2) {
                    asked.remove(&y);
                } else if unknown(a) && unknown(b) && x != y && asked.contains(&x) && asked.contains(&y) {
                    asked.remove(&x);
                    asked.remove(&y);
                    let (key, other) = if replaced[0] && !replaced[1] { (y, x) } else { (x, y) };
                    self.wanted.insert((CheckKey::joint(joint), key, Some(other)));
                }
            }
        }
        self.wanted.extend(asked.into_iter().map(|key| (CheckKey::joint(joint), key, None)));
    }

    fn want_of(&mut self, joint: &str, pairs: Vec<(End<'a>, End<'a>)>) {
        let asked = self.asked_by(&pairs);
        self.wanted.extend(asked.into_iter().map(|key| (CheckKey::joint(joint), key, None)));
    }

    /// Of ports that touch, two by two: what is not known of them, else what has a tolerance, where that leaves a field open.
    fn asked_by(&self, pairs: &[(End<'a>, End<'a>)]) -> BTreeSet<FactKey> {
        let mut out = BTreeSet::new();
        for (a, b) in pairs {
            for (field, texts) in values::open_fields(self.lib, a.2, b.2) {
                let unknown = |text: &String| text.starts_with("unknown");
                let any = texts.iter().any(unknown);
                for ((part, port, _), text) in [a, b].into_iter().zip(&texts) {
                    if (any && unknown(text)) || (!any && text.contains('±')) {
                        out.insert(fact(port, &field, part));
                    }
                }
            }
        }
        out
    }
}

fn fact(port: &str, field: &str, part: &str) -> FactKey {
    FactKey::Port { port: port.to_owned(), field: field.to_owned(), part: part.to_owned() }
}
