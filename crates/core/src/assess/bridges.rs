//! The cheapest chain of bridges that closes a joint: uniform-cost search over at most four parts.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashSet};

use super::agree::{agree, same_side};
use super::bench::Bench;
use crate::catalogue::{Ix, PortEntry};
use crate::value::Verdict3;

const LONGEST: u8 = 4;
/// A library that makes the search wander is cut off here; no honest joint comes near.
const MOST_STEPS: usize = 256;

/// A closed joint.
pub(crate) struct Chain {
    /// Parts from the first port to the second.
    pub parts: Vec<Ix>,
    /// An unknown dimension leaves it open whether it fits.
    pub open: bool,
}

/// What is searched next: sure before open, cheap before dear, short before long, then by id.
type Frontier = BinaryHeap<Reverse<(bool, i64, u8, Ix, usize)>>;

struct Node {
    part: Ix,
    out: usize,
    parent: Option<usize>,
    open: bool,
    length: u8,
}

impl Bench<'_> {
    /// The price a bridge is searched with: nothing where one lies in a chosen kit's box.
    fn bridge_cost(&self, part: Ix) -> i64 {
        if self.is_loose(part) { 0 } else { self.part(part).cost }
    }

    /// The cheapest chain from one port to another; chains without an unknown go first. Ties go by length, then id.
    pub fn chain(&self, from: &PortEntry, to: &PortEntry) -> Option<Chain> {
        let mut nodes: Vec<Node> = Vec::new();
        let mut heap: Frontier = BinaryHeap::new();
        let mut seen: HashSet<(Ix, usize)> = HashSet::new();
        self.expand(from, None, 0, &mut nodes, &mut heap);
        let mut best_open = None;
        for _ in 0..MOST_STEPS {
            let Some(Reverse((_, cost, _, _, at))) = heap.pop() else { break };
            let (part, out) = (nodes[at].part, nodes[at].out);
            if !seen.insert((part, out)) {
                continue;
            }
            let port = &self.part(part).ports[out];
            match agree(self.cat, port, to).verdict {
                Verdict3::Holds if !nodes[at].open => {
                    return Some(Chain { parts: path(&nodes, at), open: false });
                }
                Verdict3::Holds | Verdict3::Open => best_open = best_open.or(Some(at)),
                Verdict3::Broken => {}
            }
            if nodes[at].length < LONGEST {
                let mut grown = Vec::new();
                std::mem::swap(&mut grown, &mut nodes);
                self.expand(port, Some(at), cost, &mut grown, &mut heap);
                nodes = grown;
            }
        }
        best_open.map(|at| Chain { parts: path(&nodes, at), open: true })
    }

    /// Whether any chain closes the joint of two ports of the catalogue.
    pub fn closable(&self, from: &PortEntry, to: &PortEntry) -> bool {
        let key = (std::ptr::from_ref(from) as usize, std::ptr::from_ref(to) as usize);
        if let Some(known) = self.closable.borrow().get(&key) {
            return *known;
        }
        let found = self.chain(from, to).is_some();
        self.closable.borrow_mut().insert(key, found);
        found
    }

    fn expand(
        &self,
        port: &PortEntry,
        parent: Option<usize>,
        cost: i64,
        nodes: &mut Vec<Node>,
        heap: &mut Frontier,
    ) {
        let length = parent.map_or(1, |p| nodes[p].length + 1);
        let open_before = parent.is_some_and(|p| nodes[p].open);
        for (part, at) in self.cat.bridge_index.candidates(&self.cat.port_types, port) {
            let entry = self.part(part);
            let Some((a, b)) = entry.bridge else { continue };
            let (here, out) = if at as usize == a { (a, b) } else { (b, a) };
            if same_side(port, &entry.ports[here]) || in_path(nodes, parent, part) {
                continue;
            }
            let verdict = agree(self.cat, port, &entry.ports[here]).verdict;
            if verdict == Verdict3::Broken {
                continue;
            }
            let open = open_before || verdict == Verdict3::Open;
            nodes.push(Node { part, out, parent, open, length });
            heap.push(Reverse((open, cost + self.bridge_cost(part), length, part, nodes.len() - 1)));
        }
    }

    /// Single bridges that would also close a joint, cheapest first.
    pub fn other_bridges(&self, from: &PortEntry, to: &PortEntry) -> Vec<Ix> {
        let mut out: Vec<Ix> = Vec::new();
        for (part, at) in self.cat.bridge_index.candidates(&self.cat.port_types, from) {
            let entry = self.part(part);
            let Some((a, b)) = entry.bridge else { continue };
            let (here, far) = if at as usize == a { (a, b) } else { (b, a) };
            if agree(self.cat, from, &entry.ports[here]).verdict == Verdict3::Holds
                && agree(self.cat, &entry.ports[far], to).verdict == Verdict3::Holds
            {
                out.push(part);
            }
        }
        out.sort_by_key(|p| (self.part(*p).cost, *p));
        out.dedup();
        out
    }
}

fn in_path(nodes: &[Node], mut at: Option<usize>, part: Ix) -> bool {
    while let Some(i) = at {
        if nodes[i].part == part {
            return true;
        }
        at = nodes[i].parent;
    }
    false
}

fn path(nodes: &[Node], at: usize) -> Vec<Ix> {
    let mut out = Vec::new();
    let mut at = Some(at);
    while let Some(i) = at {
        out.push(nodes[i].part);
        at = nodes[i].parent;
    }
    out.reverse();
    out
}
