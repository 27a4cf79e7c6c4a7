//! Values measured at ports: written into the library before anything is looked at, and asked for where a joint is open.

use knockon_core::key::{CheckKey, FactKey};
use knockon_core::library::{LibraryFile, Port};
use knockon_core::sheet::Sheet;

use super::chains::Step;
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

    /// Notes what is wanted to know which seal goes between the ends of a joint: of it, of the ends, of bridges between.
    pub(super) fn want_for_seal(&mut self, joint: &str, seal: &'a str) {
        let steps: Vec<Step<'a>> = self.chains.get(joint).cloned().unwrap_or_default();
        self.want(joint, &steps);
        let lib = self.lib;
        let named = |part: &'a str, port: &'a Port| -> End<'a> {
            let mut ports = lib.parts[part].ports.iter();
            let name = ports.find(|(_, p)| std::ptr::eq(*p, port)).map_or("", |(name, _)| name);
            (part, name, port)
        };
        let v = self.v;
        let mut ends: Vec<End<'a>> = Vec::new();
        for end in &v.joints[joint].ends {
            let Some(part) = self.slots[end.at.as_str()].part else { continue };
            ends.extend(self.part(part).ports.get(&end.port).map(|port| (part, end.port.as_str(), port)));
        }
        ends.truncate(2);
        ends.extend(steps.iter().flat_map(|s| [named(s.part, s.enter), named(s.part, s.leave)]));
        let own = || lib.parts[seal].ports.iter();
        let of_seal = |end: &End<'a>| {
            let (end, like) = (*end, end.2.port_type.clone());
            own()
                .filter(move |(_, p)| p.port_type == like)
                .map(move |(name, p)| ((seal, name.as_str(), p), end))
        };
        let pairs = ends.iter().flat_map(of_seal).collect();
        self.want_of(joint, pairs);
    }

    fn want_of(&mut self, joint: &str, pairs: Vec<(End<'a>, End<'a>)>) {
        for (a, b) in pairs {
            for (field, texts) in values::open_fields(self.lib, a.2, b.2) {
                let unknown = |text: &String| text.starts_with("unknown");
                let any = texts.iter().any(unknown);
                for ((part, port, _), text) in [a, b].into_iter().zip(&texts) {
                    if (any && unknown(text)) || (!any && text.contains('±')) {
                        let (port, part, field) = (port.to_owned(), part.to_owned(), field.to_owned());
                        self.wanted.insert((CheckKey::joint(joint), FactKey::Port { port, field, part }));
                    }
                }
            }
        }
    }
}
