//! Chains of bridges: every sequence of up to four is tried.

use knockon_core::library::Port;
use rust_decimal::Decimal;

use super::Oracle;
use super::values::{Verdict, agree};

/// A bridge in a chain, and the ports it is passed through by.
#[derive(Clone, Copy, Debug)]
pub struct Step<'a> {
    pub part: &'a str,
    pub enter: &'a Port,
    pub leave: &'a Port,
}

/// A chain and what it is ordered by: open, price, length, ids.
type Ranked<'a> = ((bool, Decimal, usize, Vec<&'a str>), Vec<Step<'a>>);

impl<'a> Oracle<'a> {
    /// The best chain between two ports: whether it is open, and its bridges.
    pub(super) fn chain(&self, from: &'a Port, to: &'a Port) -> Option<(bool, Vec<Step<'a>>)> {
        let mut bridges = Vec::new();
        for (id, part) in &self.lib.parts {
            // a bridge that has a place here goes there and between no others
            if let Some([a, b]) = part.bridges.as_ref().filter(|_| self.used_loose(&part.class)) {
                let (a, b) = (&part.ports[a], &part.ports[b]);
                bridges.push(Step { part: id, enter: a, leave: b });
                bridges.push(Step { part: id, enter: b, leave: a });
            }
        }
        let mut best: Option<Ranked<'a>> = None;
        self.longer(from, to, false, &mut Vec::new(), &bridges, &mut best);
        best.map(|((open, ..), steps)| (open, steps))
    }

    fn longer(
        &self,
        from: &'a Port,
        to: &'a Port,
        open: bool,
        steps: &mut Vec<Step<'a>>,
        bridges: &[Step<'a>],
        best: &mut Option<Ranked<'a>>,
    ) {
        if !steps.is_empty() {
            let end = agree(self.lib, from, to);
            if end != Verdict::Broken {
                let price: Decimal =
                    steps.iter().filter(|s| !self.loose(s.part)).map(|s| self.cost(s.part)).sum();
                let ids: Vec<&'a str> = steps.iter().map(|s| s.part).collect();
                let order = (open || end == Verdict::Open, price, steps.len(), ids);
                if best.as_ref().is_none_or(|(other, _)| order < *other) {
                    *best = Some((order, steps.clone()));
                }
            }
        }
        if steps.len() == 4 {
            return;
        }
        for step in bridges {
            let verdict = agree(self.lib, from, step.enter);
            if verdict != Verdict::Broken {
                steps.push(*step);
                self.longer(step.leave, to, open || verdict == Verdict::Open, steps, bridges, best);
                steps.pop();
            }
        }
    }
}
