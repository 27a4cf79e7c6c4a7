//! What bridges lead to: uniform-cost search over chains of at most four parts.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::sync::Arc;

use rustc_hash::FxHashMap;
use smallvec::SmallVec;

use super::bench::Bench;
use crate::catalogue::meeting::{agree, same_side};
use crate::catalogue::searched::{Chain, LONGEST, Link, Node, Order, Reach, Searched, Told};
use crate::catalogue::{Id, PartId, PortEntry, SpecId};
use crate::value::Verdict3;

/// A library in which bridges follow each other too freely is cut off here, and it is said.
const MOST_STEPS: usize = 4096;

/// With what a port was reached: an unknown on the way, the price, the length.
type Seen = (bool, i64, u8);

/// A search under way.
#[derive(Default)]
struct Search {
    /// Chains begun, by number.
    chains: Vec<[Link; LONGEST]>,
    /// Their numbers, best first.
    heap: BinaryHeap<Reverse<(Order, u32)>>,
    /// With what the ports of a spec have been reached. A sure chain is no better than a cheaper open one where an
    /// unknown further on leaves both open.
    seen: FxHashMap<SpecId, SmallVec<[Seen; 2]>>,
}

impl Search {
    /// A chain that is as sure, no dearer and no longer has come to such a port already.
    fn is_beaten(&self, port: &PortEntry, (open, cost, length, _): Order) -> bool {
        let beats = |seen: &Seen| seen.0 <= open && seen.1 <= cost && seen.2 <= length;
        self.seen.get(&port.spec).is_some_and(|all| all.iter().any(beats))
    }
}

impl<'a> Bench<'a> {
    /// The price a bridge is searched with: nothing where one lies in a chosen kit's box.
    pub(super) fn bridge_cost(&self, part: PartId) -> i64 {
        if self.is_loose(part) { 0 } else { self.part(part).cost }
    }

    /// What was searched with the bridges that are loose now.
    pub fn searched(&self) -> &Searched {
        self.loose.as_deref().unwrap_or(&self.cat.searched.plain)
    }

    /// What bridges lead to from a port.
    pub fn reach(&self, from: &PortEntry) -> Arc<Reach> {
        self.searched().reach.get(from.spec, || Arc::new(self.search(from)))
    }

    fn search(&self, from: &PortEntry) -> Reach {
        let mut reach = Reach::default();
        let mut search = Search::default();
        self.expand(from, (false, 0, 0, [Id::UNKNOWN; LONGEST]), [Link::default(); LONGEST], &mut search);
        while let Some(Reverse((order, at))) = search.heap.pop() {
            let links = search.chains[at as usize];
            let node = Node { order, links };
            let last = node.last();
            let length = order.2;
            let port = &self.part(last.part).ports[usize::from(last.leave)];
            if search.is_beaten(port, order) {
                continue;
            }
            if reach.nodes.len() >= MOST_STEPS {
                reach.cut = true;
                break;
            }
            search.seen.entry(port.spec).or_default().push((order.0, order.1, length));
            if usize::from(length) < LONGEST {
                self.expand(port, order, links, &mut search);
            }
            reach.nodes.push(node);
        }
        reach
    }

    fn expand(&self, port: &PortEntry, before: Order, links: [Link; LONGEST], search: &mut Search) {
        let length = usize::from(before.2);
        let mut ways = self.cat.bridge_index.candidates(&self.cat.port_types, port);
        // one that is beaten counts where it lies in a box, or where what beats it has a place on this vehicle
        let some_have_places = !self.v.bridge_classes.is_empty();
        if self.loose.is_some() {
            let beaten = self.cat.beaten_index.candidates(&self.cat.port_types, port);
            ways.extend(beaten.into_iter().filter(|(part, _)| some_have_places || self.is_loose(*part)));
        }
        if some_have_places {
            ways.retain(|(part, _)| self.is_bridge(*part));
        }
        for (part, at) in ways {
            let entry = self.part(part);
            let Some((a, b)) = entry.bridge else { continue };
            let (enter, leave) = if usize::from(at) == a { (a, b) } else { (b, a) };
            if same_side(port, &entry.ports[enter]) {
                continue;
            }
            let verdict = agree(self.cat, port, &entry.ports[enter]).verdict;
            if verdict == Verdict3::Broken {
                continue;
            }
            let mut order = before;
            order.0 |= verdict == Verdict3::Open;
            order.1 += self.bridge_cost(part);
            order.2 += 1;
            order.3[length] = part;
            if search.is_beaten(&entry.ports[leave], order) {
                continue;
            }
            let mut links = links;
            links[length] = Link { part, enter: enter as u16, leave: leave as u16 };
            search.chains.push(links);
            search.heap.push(Reverse((order, search.chains.len() as u32 - 1)));
        }
    }

    /// The cheapest chain from one port to another; chains without an unknown go first, ties by length, then ids.
    pub fn chain(&self, from: &PortEntry, to: &PortEntry) -> Option<Arc<Chain>> {
        self.told(self.known_chain(from, to))
    }

    /// The same with no word of a search that was cut off.
    pub fn known_chain(&self, from: &PortEntry, to: &PortEntry) -> Told<Option<Arc<Chain>>> {
        self.searched().chains.get((from.spec, to.spec), || self.cheapest(from, to))
    }

    /// An answer; that its search was cut off is said of this assessment, not of another.
    pub fn told<T>(&self, told: Told<T>) -> T {
        if told.cut {
            self.cut.set(true);
        }
        told.answer
    }

    fn cheapest(&self, from: &PortEntry, to: &PortEntry) -> Told<Option<Arc<Chain>>> {
        let reach = self.reach(from);
        let mut best: Option<(Order, &Node)> = None;
        for node in &reach.nodes {
            if best.is_some_and(|(order, _)| order <= node.order) {
                break;
            }
            let last = node.last();
            let verdict = agree(self.cat, &self.part(last.part).ports[usize::from(last.leave)], to).verdict;
            if verdict == Verdict3::Broken {
                continue;
            }
            let mut order = node.order;
            order.0 |= verdict == Verdict3::Open;
            if best.is_none_or(|(other, _)| order < other) {
                best = Some((order, node));
            }
        }
        let chain = |(order, node): (Order, &Node)| Chain { links: node.links().to_vec(), open: order.0 };
        Told { answer: best.map(|found| Arc::new(chain(found))), cut: reach.cut }
    }

    /// Whether any chain closes the joint of two ports.
    pub fn closable(&self, from: &PortEntry, to: &PortEntry) -> bool {
        self.chain(from, to).is_some()
    }

    /// Single bridges that would close a joint, cheapest first.
    pub fn other_bridges(&self, from: &PortEntry, to: &PortEntry) -> Vec<Link> {
        let mut out: Vec<Link> = Vec::new();
        let [best, beaten] = [&self.cat.bridge_index, &self.cat.beaten_index];
        let ways = best.candidates(&self.cat.port_types, from).into_iter();
        for (part, at) in ways.chain(beaten.candidates(&self.cat.port_types, from)) {
            let entry = self.part(part);
            let Some((a, b)) = entry.bridge else { continue };
            let (enter, leave) = if usize::from(at) == a { (a, b) } else { (b, a) };
            if self.is_bridge(part)
                && !same_side(from, &entry.ports[enter])
                && agree(self.cat, from, &entry.ports[enter]).verdict == Verdict3::Holds
                && agree(self.cat, &entry.ports[leave], to).verdict == Verdict3::Holds
            {
                out.push(Link { part, enter: enter as u16, leave: leave as u16 });
            }
        }
        out.sort_by_key(|l| self.part(l.part).rank);
        out.dedup_by_key(|l| l.part);
        out
    }

    /// The ports that touch along a chain, from the first end to the second.
    pub fn contacts(
        &self,
        a: &'a PortEntry,
        links: &[Link],
        b: &'a PortEntry,
        mut each: impl FnMut(&'a PortEntry, &'a PortEntry),
    ) {
        let mut from = a;
        for link in links {
            let ports = &self.part(link.part).ports;
            each(from, &ports[usize::from(link.enter)]);
            from = &ports[usize::from(link.leave)];
        }
        each(from, b);
    }
}

#[cfg(test)]
mod tests;
