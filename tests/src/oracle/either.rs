//! Joints of which one is enough.

use knockon_core::key::CheckKey;
use knockon_core::library::{Alone, Port};

use super::values::Verdict;
use super::{Meeting, Oracle};

impl<'a> Oracle<'a> {
    /// A joint and those with the same word, in the order of their ids.
    pub(super) fn either(&self, joint: &'a str) -> Vec<&'a str> {
        let Some(word) = &self.v.joints[joint].either else { return vec![joint] };
        let same = self.v.joints.iter().filter(|(_, j)| j.either.as_ref() == Some(word));
        same.map(|(id, _)| id.as_str()).collect()
    }

    /// Of joints of which one is enough: those where a part meets others that sits at an end not all of them have, and of
    /// which the owner said what happens; without such, all.
    fn counting(&self, joint: &'a str) -> Vec<&'a str> {
        let all = self.either(joint);
        let ends = |j: &str| self.v.joints[j].ends.iter().map(|e| e.at.as_str()).collect::<Vec<_>>();
        let shared = |pos: &str| all.iter().all(|j| ends(j).contains(&pos));
        let chosen = |j: &&&'a str| {
            let meeting = self.meeting(j);
            meeting.len() > 1 && meeting.iter().any(|(pos, _)| self.chosen(pos) && !shared(pos))
        };
        let some: Vec<&'a str> = all.iter().filter(chosen).copied().collect();
        if some.is_empty() { all } else { some }
    }

    pub(super) fn either_or(&mut self, all: &[&'a str]) {
        let all = self.counting(all[0]);
        let mut met: Vec<(&'a str, Meeting<'a>)> = all.iter().map(|j| (*j, self.meeting(j))).collect();
        met.sort_by_key(|(_, m)| std::cmp::Reverse(m.len()));
        let is = |s: &Self, m: &Meeting<'a>, verdict| m.len() > 1 && s.verdict(m) == verdict;
        if met.iter().any(|(_, m)| is(self, m, Verdict::Holds)) {
            return;
        }
        let open = met.iter().find(|(_, m)| is(self, m, Verdict::Open)).map(|(j, _)| *j);
        let mut bridged: Vec<_> = met
            .iter()
            .filter(|(_, m)| m.len() == 2 && is(self, m, Verdict::Broken))
            .filter_map(|(j, m)| {
                let (doubt, steps) = self.chain(m[0].1, m[1].1)?;
                let cost = |part: &str| if self.loose(part) { 0.into() } else { self.cost(part) };
                let price: rust_decimal::Decimal = steps.iter().map(|s| cost(s.part)).sum();
                Some((doubt, price, steps.len(), *j, m.clone()))
            })
            .collect();
        bridged.sort_by(|a, b| (a.0, a.1, a.2, a.3).cmp(&(b.0, b.1, b.2, b.3)));
        match (bridged.first(), open) {
            (Some((false, .., joint, m)), _) | (Some((true, .., joint, m)), None) => {
                self.bridge(joint, m);
            }
            (_, Some(joint)) => {
                self.unknowns.insert(CheckKey::joint(joint));
                self.want(joint, &[]);
            }
            (None, None) => self.none_serves(&met),
        }
    }

    fn none_serves(&mut self, met: &[(&'a str, Meeting<'a>)]) {
        match met[0].1.len() {
            0 => {}
            1 => {
                let worst = |port: &Port| match port.alone {
                    Alone::Required => 0,
                    Alone::Cap => 1,
                    _ => 2,
                };
                let single = met.iter().filter(|(_, m)| m.len() == 1);
                if let Some((joint, m)) = single.min_by_key(|(j, m)| (worst(m[0].1), *j)) {
                    self.alone(joint, m[0].0, m[0].1);
                }
            }
            _ => drop(self.clashes.insert(CheckKey::joint(met[0].0))),
        }
    }

    fn served(&self, joint: &'a str) -> bool {
        let meeting = self.meeting(joint);
        let counts = self.counting(joint).contains(&joint);
        counts
            && meeting.len() > 1
            && (self.verdict(&meeting) != Verdict::Broken || self.chains.contains_key(joint))
    }

    /// It is not served, and another that would do is.
    pub(super) fn superseded(&self, joint: &'a str) -> bool {
        !self.served(joint) && self.either(joint).iter().any(|other| self.served(other))
    }
}
