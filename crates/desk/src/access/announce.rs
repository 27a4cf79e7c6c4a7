//! What has happened, said by a screen reader without being asked for: saved, exported, what went wrong, what sums have become.

use std::collections::VecDeque;

use egui::Context;
use egui::accesskit::{Live, Node, NodeId, Role};

use crate::access::focus::Focus;

/// Nodes of what was said: far from the numbers that egui gives, which are spread at random over all there are.
const FIRST: u64 = u64::MAX - 1_000;

/// What is to be said, and what was said last.
#[derive(Debug, Default)]
pub struct Said {
    waiting: VecDeque<(String, bool)>,
    last: Option<(String, bool)>,
    many: u64,
}

/// Says something: complete sentences. `trouble` interrupts what is being said.
pub fn say(ctx: &Context, text: &str, trouble: bool) {
    if !text.trim().is_empty() {
        ctx.with_plugin(|focus: &mut Focus| focus.said.waiting.push_back((text.trim().to_owned(), trouble)));
        ctx.request_repaint();
    }
}

impl Said {
    /// The node of what is said now. What is said anew has a node of its own, so that the same words are heard again.
    pub(super) fn node(&mut self) -> Option<(NodeId, Node)> {
        if !self.waiting.is_empty() {
            let all: Vec<(String, bool)> = self.waiting.drain(..).collect();
            let text = all.iter().map(|(text, _)| text.as_str()).collect::<Vec<_>>().join(" ");
            self.last = Some((text, all.iter().any(|(_, trouble)| *trouble)));
            self.many += 1;
        }
        let (text, trouble) = self.last.as_ref()?;
        let mut node = Node::new(if *trouble { Role::Alert } else { Role::Status });
        node.set_label(text.as_str());
        node.set_live(if *trouble { Live::Assertive } else { Live::Polite });
        Some((NodeId::from(FIRST + self.many % 1_000), node))
    }
}
