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
            pairs.retain(|(a, b)| ends.len() == 2 || !values::same_side(a.2, b.2));
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
