//! What `assess` finds, as data. Views and reports read it and compute nothing of the trade themselves.

use std::collections::BTreeMap;

use crate::amounts::Amounts;
use crate::box_key::BoxKey;
use crate::date::{Date, Dated};
use crate::key::{CheckKey, CompanionKey, FactKey};
use crate::library::{Level, Reversible};
use crate::money::Money;
use crate::phrase::Phrase;
use crate::quantity::Quantity;
use crate::reason::{Reason, ReasonId};
use crate::refund::CameBack;
use crate::sheet::{LineState, Route, Verdict};
use crate::showing::{self, Measure};
use crate::spent::{Idle, Sums};
use crate::value::{Kind, Value};

/// How a companion came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Origin {
    /// Put into a joint whose ports do not agree.
    Bridge,
    /// Closes a port nothing hangs on any more.
    Cap,
    /// Fills or replaces the part of a position nobody chose for.
    Fill,
    /// Supplies a need.
    Need,
    /// Renewed because a joint is opened.
    Joint,
    /// Renewed or looked at because a place is apart.
    Opening,
    /// Fluid of an opened circuit.
    Fluid,
    /// The survey condemned what is kept.
    Survey,
    /// What is kept is older than its kind lasts.
    Age,
}

impl Origin {
    /// A short word for reports.
    pub fn word(self) -> &'static str {
        match self {
            Self::Bridge => "bridge",
            Self::Cap => "cap",
            Self::Fill => "position",
            Self::Need => "need",
            Self::Joint => "opened joint",
            Self::Opening => "while apart",
            Self::Fluid => "fluid",
            Self::Survey => "survey",
            Self::Age => "age",
        }
    }
}

/// What a plan with all that the engine decides comes to, in the order by which decisions are compared: row after row,
/// the smaller is better.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Order {
    /// Things that do not go together: joints, ports left alone, required needs, room overdrawn.
    pub apart: i64,
    /// Broken limits that can hurt people.
    pub danger: i64,
    /// Other broken limits.
    pub broken: i64,
    /// Places where another part than the owner's pick goes in.
    pub passed: i64,
    /// Sound parts of the owner for which another is put in.
    pub taken_off: i64,
    /// Advice that nothing meets.
    pub advice: i64,
    /// Joints to measure.
    pub unknown: i64,
    /// How far beyond their bounds broken limits are that tell it, in hundredths of a per cent.
    pub beyond: i64,
    /// Money for all that follows, in hundredths.
    pub money: i64,
    /// Hours for all that follows, in thousandths.
    pub hours: i64,
    /// What else is to be measured.
    pub open: i64,
}

/// Another part that would serve as well.
#[derive(Clone, Debug, PartialEq)]
pub struct Alternative {
    /// Part id.
    pub part: String,
    /// As shown.
    pub name: String,
    /// Price each.
    pub price: Option<Money>,
}

/// A part nobody chose that the choices make necessary or wise.
#[derive(Clone, Debug, PartialEq)]
pub struct Companion {
    /// What edits (accept, waive, pick) refer to.
    pub key: CompanionKey,
    /// Part id.
    pub part: String,
    /// As shown; by its class where nobody can say yet which one it is.
    pub name: String,
    /// Something that decides whether it fits is not known: it is measured first, then bought.
    pub measured_first: bool,
    /// How many.
    pub qty: u32,
    /// Required or advised.
    pub level: Level,
    /// The mechanism.
    pub origin: Origin,
    /// Why: the root of its derivation.
    pub reason: ReasonId,
    /// Position it sits in, where it has one.
    pub position: Option<String>,
    /// The position whose choice caused it (the first, where several did): it hangs under this one.
    pub cause: Option<String>,
    /// The companion it comes with, where a companion of a companion.
    pub parent: Option<CompanionKey>,
    /// What each counts for in the sums: what was paid, else the library's price. `None`: not known, or in hand and nobody says
    /// what was paid. Zero where it comes in a chosen kit's box; the library's price where it is left out.
    pub price: Option<Money>,
    /// For sale, or the buying record has it. `false`: a renewal of what cannot be had is nothing to buy.
    pub to_be_had: bool,
    /// It lies in the box of a chosen kit.
    pub in_kit: bool,
    /// How many of them come in the box of a chosen kit.
    pub boxed: u32,
    /// Hours to fit all of them.
    pub hours: f64,
    /// State of its line.
    pub line: LineState,
    /// The owner has said yes.
    pub accepted: bool,
    /// Left out, and why.
    pub waived: Option<String>,
    /// The companion it is left out with, by key: taken in again there. `None` where it stands by itself.
    pub left_out_by: Option<CompanionKey>,
    /// Left out though people depend on it, or though the survey says stop: what can happen.
    pub danger: Option<String>,
    /// A mistake with it hurts people.
    pub safety: bool,
    /// Whether fitting it can be undone.
    pub reversible: Reversible,
    /// What is lost where it cannot be undone, or only with repair, as the library says it.
    pub undone: String,
    /// The part the survey found good that goes off for it, as shown.
    pub takes_off: Option<String>,
}

impl Companion {
    /// What all that is bought of it counts for: what lies in a kit's box is not paid again. `None` as for each.
    #[must_use]
    pub fn cost(&self) -> Option<Money> {
        self.price.as_ref().map(|m| m.times(self.qty.saturating_sub(self.boxed)))
    }
}

/// What a check came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Answer {
    /// It holds.
    Holds,
    /// It holds with a bridge.
    Bridged,
    /// It is broken.
    Broken,
    /// A dimension is wanted.
    ToMeasure,
}

/// Something that would clear a clash.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// In words.
    pub text: Phrase,
    /// Where it is a choice: position and part to convert to.
    pub choice: Option<(String, String)>,
    /// Price of that part.
    pub price: Option<Money>,
    /// Whether it clears the clash is not known until a figure of the part is measured.
    pub to_measure: bool,
}

/// A joint no bridge closes, a pool overdrawn, a limit broken.
#[derive(Clone, Debug, PartialEq)]
pub struct Clash {
    /// The check it comes of.
    pub key: CheckKey,
    /// As shown: the joint, pool or limit.
    pub name: String,
    /// Positions involved; the first is where it shows.
    pub positions: Vec<String>,
    /// Why, with the figures.
    pub reason: ReasonId,
    /// A mistake here hurts people.
    pub safety: bool,
    /// What would clear it.
    pub remedies: Vec<Remedy>,
    /// Other clashes, by key in order, that the same changes clear, each of them: one trouble, to be told as one with all
    /// its reasons.
    pub one_with: Vec<CheckKey>,
}

/// A value an open check wants measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// The key of the fact in the sheet.
    pub key: FactKey,
    /// As shown.
    pub name: String,
    /// How to measure it; empty where nothing is said.
    pub how: Phrase,
    /// Name of the part it is measured on; empty for the vehicle.
    pub part: String,
    /// What is known of it so far; `None` where nothing is.
    pub now: Option<Value>,
    /// What it must be.
    pub kind: Kind,
    /// For a word: those the library knows here; empty for all else.
    pub words: Vec<String>,
    /// Where the same can be measured instead; `None` where it is at one place alone.
    pub instead: Option<Instead>,
}

/// The other end of two that came together: what is measured there counts for both.
#[derive(Clone, Debug, PartialEq)]
pub struct Instead {
    /// The key of the fact in the sheet.
    pub key: FactKey,
    /// As shown.
    pub name: String,
    /// How to measure it; empty where nothing is said.
    pub how: Phrase,
    /// Name of the part it is measured on.
    pub part: String,
}

/// A value of the sheet that was measured on this vehicle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measured {
    /// The key of the fact in the sheet.
    pub key: FactKey,
    /// As shown.
    pub name: String,
    /// Name of the part it was measured on; empty for the vehicle.
    pub part: String,
    /// As written.
    pub value: String,
    /// What it must be.
    pub kind: Kind,
    /// For a word: those the library knows here; empty for all else.
    pub words: Vec<String>,
    /// Positions of the checks that rest on it, and of the part it was measured on.
    pub positions: Vec<String>,
}

/// Something wise that cannot be had: it is no clash.
#[derive(Clone, Debug, PartialEq)]
pub struct Unmet {
    /// The key of a clash of the same need.
    pub key: CheckKey,
    /// As shown: who asks, and for what.
    pub name: String,
    /// Positions involved.
    pub positions: Vec<String>,
    /// Why not.
    pub reason: ReasonId,
}

/// A check a missing dimension leaves open.
#[derive(Clone, Debug, PartialEq)]
pub struct ToMeasure {
    /// The check it comes of.
    pub key: CheckKey,
    /// What to measure.
    pub what: Phrase,
    /// Positions involved.
    pub positions: Vec<String>,
    /// Why.
    pub reason: ReasonId,
    /// The values that would decide it, one by one; empty where it asks for none that a limit or a joint reads.
    pub wanted: Vec<Wanted>,
}

/// An as-found part that has been taken off or has lost its job.
#[derive(Clone, Debug, PartialEq)]
pub struct Surplus {
    /// Position id.
    pub position: String,
    /// Part id.
    pub part: String,
    /// As shown.
    pub name: String,
    /// Why.
    pub reason: ReasonId,
    /// Nobody chose to take it off: it has lost its job.
    pub lost_job: bool,
    /// What stays undone without it, where nothing takes its place; empty where that is nothing.
    pub leaves: String,
}

/// A check that holds, so closely that what is left is said.
#[derive(Clone, Debug, PartialEq)]
pub struct Close {
    /// Its key.
    pub key: CheckKey,
    /// As shown.
    pub name: String,
    /// What is left: "clears by 4 mm"; empty where the figures of its reason say it.
    pub left: Phrase,
    /// Positions involved.
    pub positions: Vec<String>,
    /// Its figures.
    pub reason: ReasonId,
}

/// Something to be done later: again after some way or time, or on a day at the latest.
#[derive(Clone, Debug, PartialEq)]
pub struct Later {
    /// What is to be done. One thing stands once, however many places ask for it.
    pub what: String,
    /// After which distances and times: minutes and hours first, then distances, then days and more, each short first; empty where it
    /// falls due on a day.
    pub after: Vec<Quantity>,
    /// The last day on which it is surely not over its age; `None` where it goes by distance or time.
    pub due: Option<Date>,
    /// That day is over.
    pub overdue: bool,
    /// Required, unless only advice takes apart what asks for it.
    pub level: Level,
    /// Positions that ask for it, in board order.
    pub positions: Vec<String>,
    /// Keys of the companions it goes with, in the order of the companions.
    pub companions: Vec<CompanionKey>,
    /// Why.
    pub reason: ReasonId,
}

impl Later {
    /// When, in words: "after 50 miles and 100 miles", "by 2029-06-01".
    #[must_use]
    pub fn when(&self, measure: Measure) -> String {
        match self.due {
            Some(day) if self.overdue => format!("due since {day}"),
            Some(day) => format!("by {day}"),
            None => {
                let mut after: Vec<_> =
                    self.after.iter().map(|q| showing::reading(&q.text, measure)).collect();
                let last = after.pop().unwrap_or_default();
                match after.len() {
                    0 => format!("after {last}"),
                    _ => format!("after {} and {last}", after.join(", ")),
                }
            }
        }
    }
}

/// A danger that comes with the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct CautionNote {
    /// Caution id.
    pub id: String,
    /// What can happen.
    pub danger: String,
    /// What to do.
    pub guard: Phrase,
    /// Positions it goes with.
    pub positions: Vec<String>,
    /// Companion keys it goes with.
    pub companions: Vec<CompanionKey>,
}

/// A joint, pool or limit that was checked.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What was checked.
    pub key: CheckKey,
    /// As shown.
    pub name: String,
    /// What it came to.
    pub answer: Answer,
    /// Why, with the figures; none where ports simply fit.
    pub reason: Option<ReasonId>,
    /// Positions involved.
    pub positions: Vec<String>,
}

/// A field of a port, for the small table.
#[derive(Clone, Debug, PartialEq)]
pub struct PortRow {
    /// Port name.
    pub port: String,
    /// Port type as shown.
    pub kind: String,
    /// Field as shown.
    pub field: String,
    /// Value as written.
    pub value: String,
    /// Where the value comes from; empty where nobody says, and where it is no number.
    pub source: String,
}

/// One position as the plan leaves it.
#[derive(Clone, Debug, PartialEq)]
pub struct PositionView {
    /// Position id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// System id.
    pub system: String,
    /// How many alike.
    pub qty: u32,
    /// As-found part id and name.
    pub as_found: Option<(String, String)>,
    /// Survey verdict.
    pub verdict: Option<Verdict>,
    /// The survey saw what sits here still: nothing in the plan answers its verdict.
    pub verdict_stands: bool,
    /// What the survey said.
    pub verdict_note: String,
    /// The route chosen.
    pub route: Route,
    /// Nobody chose: a companion or a kit put the fitted part here.
    pub filled: bool,
    /// The position of the kit whose box fills this place or that leaves it empty.
    pub kit: Option<String>,
    /// Part id and name fitted in the end.
    pub fitted: Option<(String, String)>,
    /// What this position's own choice (all of its quantity) counts for in the sums, without companions: what was paid, else
    /// the library's price. `None`: nothing is bought, no price is known, or it is in hand and nobody says what was paid.
    pub price: Option<Money>,
    /// Hours of this position's own choice (all of its quantity), without companions.
    pub hours: f64,
    /// How many of its part come out of the box of a kit elsewhere, and are not paid again.
    pub boxed: u32,
    /// Line state of the fitted part, where something is bought; of what a kit brought, as it stands in its box.
    pub line: LineState,
    /// Something is bought or worked on here.
    pub active: bool,
    /// Clash keys that show here.
    pub clashes: Vec<CheckKey>,
    /// To-measure keys.
    pub to_measure: Vec<CheckKey>,
    /// Companion keys that hang under this position.
    pub companions: Vec<CompanionKey>,
    /// The part here is surplus.
    pub surplus: bool,
    /// Keys of required companions that are left out and that it goes without.
    pub left_out: Vec<CompanionKey>,
    /// Whether the choice can be undone.
    pub reversible: Reversible,
    /// How long the parts that go here last, in words; `None` where age does not matter.
    pub lasts: Option<String>,
}

/// A line to obtain: the same part wanted in several places is one line.
#[derive(Clone, Debug, PartialEq)]
pub struct BuyLine {
    /// Part id.
    pub part: String,
    /// As shown.
    pub name: String,
    /// How many in all.
    pub qty: u32,
    /// How many of them are still to be bought though it is on order, in hand or fitted: the plan wants more than were.
    pub short: u32,
    /// What each counts for in the sums: what was paid, else the library's price. `None`: not known, or it is in hand and
    /// nobody says what was paid.
    pub price: Option<Money>,
    /// What all count for.
    pub total: Option<Money>,
    /// What came back of it, as the buying record says; empty for what is left out.
    pub came_back: BTreeMap<CameBack, Money>,
    /// From whom.
    pub supplier: String,
    /// Where it stands.
    pub state: LineState,
    /// What each is for: position or companion names with half a reason.
    pub uses: Vec<String>,
    /// Some of it is a waived companion: it is not bought.
    pub waived: Option<String>,
    /// Left out though people depend on it: what can happen.
    pub danger: Option<String>,
    /// Something that decides whether it fits is not known, and it is not bought yet: it is measured first.
    pub measured_first: bool,
    /// Made or machined rather than bought.
    pub made: bool,
    /// System id of the first use.
    pub system: String,
    /// When its price was looked up, where that is longer ago than prices hold and nothing has been paid; `None`: it is
    /// recent, or nobody has said.
    pub old_price: Option<Dated>,
}

impl BuyLine {
    /// Where it stands, in words: "in hand, 2 more to buy", "to buy, measure first".
    #[must_use]
    pub fn stands(&self) -> String {
        match self.short {
            0 if self.measured_first => format!("{}, measure first", self.state.word()),
            0 => self.state.word().to_owned(),
            more => format!("{}, {more} more to buy", self.state.word()),
        }
    }

    /// What it is for, in order, with what stands there more than once told once: "Fuel tank (need), 2 times".
    #[must_use]
    pub fn uses_text(&self) -> String {
        let mut out: Vec<(&String, usize)> = Vec::new();
        for text in &self.uses {
            match out.iter_mut().find(|(known, _)| *known == text) {
                Some((_, n)) => *n += 1,
                None => out.push((text, 1)),
            }
        }
        let told =
            |(text, n): (&String, usize)| if n > 1 { format!("{text}, {n} times") } else { text.clone() };
        out.into_iter().map(told).collect::<Vec<_>>().join("; ")
    }
}

/// Where some of a content of a kit goes.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxUse {
    /// How many.
    pub qty: u32,
    /// Position it sits in, where it has one.
    pub position: Option<String>,
    /// Key of the companion that takes it; `None` where it goes to its place.
    pub companion: Option<CompanionKey>,
    /// As shown: the place, the joint, or what it is for.
    pub name: String,
}

/// A content of a kit: it has no price of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxLine {
    /// The kit in whose box it lies, and the part: the key of its line in the sheet.
    pub key: BoxKey,
    /// The kit as shown.
    pub kit_name: String,
    /// Position the kit sits in, or the one in whose box it came.
    pub kit_at: String,
    /// As shown.
    pub name: String,
    /// How many lie in the box.
    pub qty: u32,
    /// Where it stands; as the kit does where nothing is said.
    pub state: LineState,
    /// Where they go.
    pub goes: Vec<BoxUse>,
    /// How many go nowhere.
    pub spare: u32,
}

impl BoxLine {
    /// Where they go, in words: "Front brake hoses; 2 spare".
    #[must_use]
    pub fn goes_text(&self) -> String {
        let several = self.goes.len() + usize::from(self.spare > 0) > 1;
        let told = |(qty, name): (u32, &str)| {
            if several { format!("{qty} {name}") } else { name.to_owned() }
        };
        let goes = self.goes.iter().map(|to| (to.qty, to.name.as_str()));
        let spare = (self.spare > 0).then_some((self.spare, "spare"));
        goes.chain(spare).map(told).collect::<Vec<_>>().join("; ")
    }
}

/// A row of the buy list: a line, or what lies in the box of the kit above it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BuyRow<'a> {
    /// A line to obtain.
    Line(&'a BuyLine),
    /// A content of a kit, and how many boxes it lies in: one, or more for a kit in a kit.
    Boxed(&'a BoxLine, usize),
}

/// What one part gives to a pool or takes from it.
#[derive(Clone, Debug, PartialEq)]
pub struct PoolShare {
    /// Position id: where it sits, or for a companion without a place of its own, whose choice caused it.
    pub position: Option<String>,
    /// Part id.
    pub part: String,
    /// As shown.
    pub name: String,
    /// How many of it count.
    pub qty: u32,
    /// Of all of them, SI; the middle where it has a tolerance, `None` where it is not known.
    pub amount: Option<f64>,
    /// Of one, as written.
    pub text: String,
}

/// Something shared and added up, as the plan leaves it. Numbers in SI; the middle where there is a tolerance.
#[derive(Clone, Debug, PartialEq)]
pub struct PoolSum {
    /// Pool id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// What the amounts are; `None` where the library's word for it is not known.
    pub kind: Option<Kind>,
    /// Given by the vehicle and by parts.
    pub given: f64,
    /// Taken by parts.
    pub taken: f64,
    /// What must stay free.
    pub margin: f64,
    /// Given less taken less margin; below zero the pool is overdrawn.
    pub left: f64,
    /// An amount is not known and not in the sums.
    pub unknown: bool,
    /// Only a sum, never a check of its own.
    pub tally: bool,
    /// Parts that give.
    pub givers: Vec<PoolShare>,
    /// Parts that take.
    pub takers: Vec<PoolShare>,
}

/// Sums over the plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Totals {
    /// The currency of most lines: what is nothing is told in it.
    pub currency: String,
    /// Money, for each currency by itself.
    pub money: Sums,
    /// Lines to buy or on order whose price is not known.
    pub unpriced: usize,
    /// Lines that rest on a price older than prices hold.
    pub old_prices: usize,
    /// When the oldest of those prices was looked up, as written; `None` where there is none.
    pub old_prices_from: Option<String>,
    /// Own hours.
    pub hours: f64,
    /// Companions neither accepted, in hand, in a box, nor waived.
    pub companions_open: usize,
    /// All companions.
    pub companions: usize,
    /// Clashes.
    pub clashes: usize,
    /// Checks to measure.
    pub to_measure: usize,
    /// Lines fitted.
    pub fitted: usize,
    /// Lines in all.
    pub lines: usize,
}

/// One route on offer, with its consequences against the plan as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// Position id.
    pub position: String,
    /// The route.
    pub route: Route,
    /// For `convert`: part id.
    pub part: Option<String>,
    /// As shown.
    pub name: String,
    /// This is how the plan stands.
    pub current: bool,
    /// Change in money (spent, on order and to come). What is spent stays spent.
    pub money: Amounts,
    /// Something in it has no price.
    pub unpriced: bool,
    /// Change in hours.
    pub hours: f64,
    /// Companions that appear, by name.
    pub companions_added: Vec<String>,
    /// Companions that go, by name.
    pub companions_removed: Vec<String>,
    /// Clashes that appear, by name.
    pub clashes_added: Vec<String>,
    /// Clashes that go, by name.
    pub clashes_removed: Vec<String>,
    /// Change in checks to measure.
    pub to_measure: i64,
    /// Change in surplus parts.
    pub surplus: i64,
    /// Whether it can be undone.
    pub reversible: Reversible,
    /// What is lost with it, and what to keep or photograph first; empty where nothing is said.
    pub undone: String,
    /// What the owner holds the plan to and this breaks, by name.
    pub breaks: Vec<String>,
}

/// Everything found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Assessment {
    /// Plan id.
    pub plan: String,
    /// Systems in board order: id and name.
    pub systems: Vec<(String, String)>,
    /// Positions in board order.
    pub positions: Vec<PositionView>,
    /// Companions, by key.
    pub companions: Vec<Companion>,
    /// Clashes, by key.
    pub clashes: Vec<Clash>,
    /// Advice that nothing meets, by key.
    pub unmet: Vec<Unmet>,
    /// What holds closely, by key.
    pub close: Vec<Close>,
    /// Unknowns, by key.
    pub to_measure: Vec<ToMeasure>,
    /// What the sheet has measured, by key.
    pub measured: Vec<Measured>,
    /// What is to be done later: by distance and time, then by day; short first.
    pub later: Vec<Later>,
    /// Surplus, by position.
    pub surplus: Vec<Surplus>,
    /// Cautions, by id.
    pub cautions: Vec<CautionNote>,
    /// Checks made, by key.
    pub checks: Vec<Check>,
    /// Lines to obtain, by system and name.
    pub buy: Vec<BuyLine>,
    /// What lies in the boxes of the kits, by the kits' positions.
    pub boxes: Vec<BoxLine>,
    /// What all comes to in the order by which decisions are compared.
    pub order: Order,
    /// No other decisions are better in that order: the search was not cut off.
    pub proved: bool,
    /// Bought, and not wanted by the plan, by name.
    pub idle: Vec<Idle>,
    /// Sums.
    pub totals: Totals,
    /// Sums of the pools, by id.
    pub pools: Vec<PoolSum>,
    /// The derivations: shared nodes.
    pub reasons: Vec<Reason>,
    /// Ids in the sheet that the library does not know, in words; nothing was guessed for them.
    pub problems: Vec<String>,
}

impl Assessment {
    /// The clashes in their order, those that are one trouble together, where the first of them stands.
    #[must_use]
    pub fn troubles(&self) -> Vec<Vec<&Clash>> {
        let is_first = |clash: &&Clash| clash.one_with.first().is_none_or(|first| *first > clash.key);
        let all = |first: &Clash| {
            let is_of = |clash: &&Clash| clash.key == first.key || first.one_with.contains(&clash.key);
            self.clashes.iter().filter(is_of).collect()
        };
        self.clashes.iter().filter(is_first).map(all).collect()
    }

    /// Buy lines in an order of one's own, each kit with what lies in its box below it.
    #[must_use]
    pub fn with_boxes<'a>(&'a self, lines: &[&'a BuyLine]) -> Vec<BuyRow<'a>> {
        let mut left: Vec<&BoxLine> = self.boxes.iter().collect();
        let mut out = Vec::new();
        for line in lines {
            out.push(BuyRow::Line(line));
            unpack(&line.part, 1, &mut left, &mut out);
        }
        out
    }
}

/// The contents of a kit, and of the kits among them.
fn unpack<'a>(kit: &str, depth: usize, left: &mut Vec<&'a BoxLine>, out: &mut Vec<BuyRow<'a>>) {
    let (own, others) = left.iter().partition::<Vec<&BoxLine>, _>(|l| l.key.kit == kit);
    *left = others;
    for line in own {
        out.push(BuyRow::Boxed(line, depth));
        unpack(&line.key.part, depth + 1, left, out);
    }
}
