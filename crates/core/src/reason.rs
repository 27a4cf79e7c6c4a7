//! Reasons as data: a derivation is a tree with shared nodes. [`crate::explain`] turns it into sentences.

use crate::key::{FactKey, Premise};
use crate::library::NeedRule;
use crate::phrase::{Number, Phrase};
use crate::quantity::Quantity;
use crate::sources::Spec;
use crate::value::{Value, Verdict3};

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
    /// Values measured on this vehicle that it reads, in order.
    pub measured: Vec<FactKey>,
    /// Numbers of the library that it reads, in order.
    pub specs: Vec<Spec>,
}

/// Whether a new one of the same can be had for what is to be renewed.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Same {
    /// It is for sale, or in hand.
    #[default]
    ToBeHad,
    /// It is not for sale. `instead`: the cheapest part of its class that goes there, by its name.
    NotForSale {
        /// `None`: no part of the library does.
        instead: Option<String>,
    },
}

/// What a step says. Names are as shown; ids are kept where a program must find the thing again; quantities stay
/// quantities.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs, reason = "the fields say what they are")]
pub enum Fact {
    /// A choice of the owner. Leaf.
    Chosen { position: String, place: String, route: String, part: Option<String> },
    /// A part as found. Leaf.
    AsFound { position: String, place: String, part: String },
    /// Verdict of the survey on the part that is there.
    Condemned { position: String, place: String, part: String, note: String, stop: bool, same: Same },
    /// A part is older than its kind lasts, on the day of the assessment. `age`: in whole years or months, at least.
    Aged { place: String, part: String, made: String, age: String, lasts: String, why: String, same: Same },
    /// When a part was made is not known, or not well enough, and its kind does not last for ever. `made`: as far as it
    /// is known; empty: not at all.
    AgeOpen { place: String, part: String, made: String, lasts: String, why: String },
    /// A part will be older than its kind lasts after a day.
    Due { place: String, part: String, made: String, lasts: String, why: String },
    /// Something is to be done again after distances or times. `opened`: what was opened.
    Again { what: String, after: Vec<Quantity>, opened: String, why: String },
    /// A part came in the box of a kit.
    InBox { part: String, kit: String },
    /// A kit does without the part of a place.
    LeftEmpty { place: String, kit: String },
    /// Two ports do not agree in a field. `says`: what that does, with both values and both names; `happens`: it tells what
    /// would happen to the vehicle, not only that both ends are of one kind.
    Disagree { joint: String, field: String, a: String, b: String, says: Phrase, happens: bool },
    /// A value is not known.
    Unknown {
        joint: String,
        field: String,
        a: String,
        a_value: Option<Value>,
        b: String,
        b_value: Option<Value>,
    },
    /// A port has nothing on it. `lost`: the part that hung there as found, where one did; `before`: the port is of a part
    /// that was there then.
    LeftAlone { joint: String, part: String, kind: String, lost: Option<String>, before: bool },
    /// No joint of the vehicle says what a port that its part cannot do without meets.
    NotJoined { part: String, kind: String },
    /// A bridge closes a joint.
    Bridges { part: String, joint: String },
    /// A part is proposed for a position.
    Fills { part: String, place: String },
    /// A part is wanted by another.
    Wants { part: String, need: String, value: Option<Value>, why: String },
    /// A part supplies a need.
    Supplies { part: String, need: String },
    /// A joint is opened.
    Opened { what: String, wants: String, why: String },
    /// A place is apart: what is in reach now.
    Apart { what: String, wants: String, why: String },
    /// A fluid circuit is opened.
    CircuitOpened { circuit: String, amount: Number },
    /// A pool: what is given, taken, wanted free.
    Pool {
        pool: String,
        given: Number,
        taken: Number,
        parts: Vec<(String, Value)>,
        left: Number,
        margin: Number,
        why: String,
    },
    /// A limit, as its calculation words it. `why`: what happens where it is broken.
    Limit { limit: String, text: Phrase, why: String, verdict: Verdict3 },
    /// A part has lost its job.
    LostJob { part: String },
    /// Nothing serves. Where something would, `places` says where it goes in and what stands in its way; where what is
    /// offered misses, `nearest` is what comes nearest.
    NothingServes { wanted: String, value: Option<Value>, places: Vec<Taken>, nearest: Option<Nearest> },
    /// Several ask for a service, which is done once for all of them.
    Once { service: String },
    /// The deduction runs in a circle.
    Circle { part: String, need: String },
}

impl Fact {
    /// The word of the sheet, or the part as found, that it is; `None` where it is a step.
    #[must_use]
    pub fn premise(&self) -> Option<Premise> {
        match self {
            Self::Chosen { position, .. } => Some(Premise::Chosen { position: position.clone() }),
            Self::AsFound { position, .. } => Some(Premise::AsFound { position: position.clone() }),
            Self::Condemned { position, .. } => Some(Premise::Survey { position: position.clone() }),
            _ => None,
        }
    }
}

/// A place where a part would serve that does not sit there.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// The place, as shown.
    pub place: String,
    /// Why it does not sit there.
    pub by: InTheWay,
}

/// What keeps a part out of a place.
#[derive(Clone, Debug, PartialEq)]
pub enum InTheWay {
    /// The part that sits there, by name.
    Part(String),
    /// The owner leaves it empty.
    LeftEmpty,
    /// Nothing sits there: what would serve does not go with what is about the place, or is the owner's to choose.
    Empty,
}

/// What is offered nearest to what is wanted, and misses it.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearest {
    /// The part that offers it, by name; `None`: the vehicle itself.
    pub part: Option<String>,
    /// What it offers, as written; `None`: not known.
    pub value: Option<Value>,
    /// How the two are compared.
    pub rule: NeedRule,
}
