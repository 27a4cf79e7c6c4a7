//! Reasons as data: a derivation is a tree with shared nodes. [`crate::explain`] turns it into sentences.

/// Index of a reason in [`crate::Assessment::reasons`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ReasonId(pub u32);

/// One step of a derivation: what holds, and what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// What holds.
    pub fact: Fact,
    /// What it rests on; empty for a leaf.
    pub premises: Vec<ReasonId>,
}

/// What a step says. Names are as shown; ids are kept where a program must find the thing again.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs, reason = "the fields say what they are")]
pub enum Fact {
    /// A choice of the owner. Leaf.
    Chosen { position: String, place: String, route: String, part: Option<String> },
    /// A part as found. Leaf.
    AsFound { position: String, place: String, part: String },
    /// Verdict of the survey. Leaf.
    Condemned { position: String, place: String, part: String, note: String, stop: bool },
    /// A part came in the box of a kit.
    InBox { part: String, kit: String },
    /// A kit does without the part of a place.
    LeftEmpty { place: String, kit: String },
    /// Two ports do not agree in a field.
    Disagree {
        joint: String,
        field: String,
        a: String,
        a_does: &'static str,
        a_value: String,
        b: String,
        b_does: &'static str,
        b_value: String,
        why: String,
    },
    /// A value is not known.
    Unknown { joint: String, field: String, a: String, a_value: String, b: String, b_value: String },
    /// A port is left with nothing on it.
    LeftAlone { joint: String, part: String, kind: String, lost: String },
    /// A bridge closes a joint.
    Bridges { part: String, joint: String },
    /// A part is proposed for a position.
    Fills { part: String, place: String },
    /// A part is wanted by another.
    Wants { part: String, need: String, value: String, why: String },
    /// A part supplies a need.
    Supplies { part: String, need: String },
    /// A joint is opened.
    Opened { what: String, wants: String, why: String },
    /// A place is apart: what is in reach now.
    Apart { what: String, wants: String, why: String },
    /// A fluid circuit is opened.
    CircuitOpened { circuit: String, amount: String },
    /// A pool: what is given, taken, wanted free.
    Pool {
        pool: String,
        given: String,
        taken: String,
        parts: String,
        left: String,
        margin: String,
        why: String,
    },
    /// A limit, as its calculation words it.
    Limit { limit: String, text: String, why: String },
    /// A part has lost its job.
    LostJob { part: String },
    /// Nothing serves. Where something would, `places` names where it goes in; another part sits there, or the owner
    /// has chosen otherwise.
    NothingServes { wanted: String, places: String },
    /// Several ask for a service, which is done once for all of them.
    Once { service: String },
    /// The deduction runs in a circle.
    Circle { part: String, need: String },
}
