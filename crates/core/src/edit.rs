//! Everything a person can do to a sheet, and the one place that does it.

use std::borrow::Borrow;
use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::Value as Json;

use crate::date::{DateError, Dated, day};
use crate::described::Differs;
use crate::key::{CompanionKey, FactKey};
use crate::library::{Circuit, Joint, Part, Position, Written};
use crate::made_with::MadeWith;
use crate::money::Money;
use crate::refund::CameBack;
use crate::sheet::{
    Budget, Choice, Direction, Done, Finding, ForSale, Identity, Line, LineState, NotDriven, OwnBounds, Plan,
    PutOff, Reading, Seen, Sheet, Signed, Supplier, Time, Worth,
};

/// One change of a sheet. `plan` fields name a plan id; position, part and key fields as in [`Sheet`].
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "edit")]
#[allow(missing_docs, reason = "the fields say what they are; see the variants")]
pub enum Edit {
    /// Choose what is done at a position; `None` goes back to keep.
    Choose { plan: String, position: String, choice: Option<Choice> },
    /// Pick one of several parts that would serve; `None` goes back to the cheapest.
    Pick { plan: String, key: CompanionKey, part: Option<String> },
    /// Say yes (or take it back) to a companion.
    Accept { plan: String, key: CompanionKey, yes: bool },
    /// Leave a companion out for a reason; `None` takes it in again.
    Waive { plan: String, key: CompanionKey, reason: Option<String> },
    /// Where a part of the buy list stands.
    SetLine { part: String, state: LineState },
    /// What was paid each; `None` forgets it.
    SetPaid { part: String, paid: Option<Money> },
    /// What came back of what was paid for a part, all of it together; `None` forgets it.
    SetCameBack { part: String, what: CameBack, amount: Option<Money> },
    /// How many were bought or ordered; `None` forgets it.
    SetQty { part: String, qty: Option<u32> },
    /// From whom.
    SetSupplier { part: String, supplier: String },
    /// What may be spent, all of it.
    SetBudget { budget: Box<Budget> },
    /// What it is worth by the owner's own figures, all of it.
    SetWorth { worth: Box<Worth> },
    /// Add or replace a supplier by name; `None` removes it.
    PutSupplier { name: String, supplier: Option<Box<Supplier>> },
    /// Survey entry; `None` removes it.
    Survey { position: String, finding: Option<Finding> },
    /// What was read at the inspections of a position, all of it in order; an empty list removes the entry.
    Readings { position: String, readings: Vec<Reading> },
    /// What was seen at a position besides, all of it; an empty list removes the entry.
    Seen { position: String, seen: Vec<Seen> },
    /// What the maker says of an inspection of a position; `None` goes back to the library.
    OwnBounds { position: String, of: String, bounds: Option<Box<OwnBounds>> },
    /// Put an inspection of a position off for a reason; `None` takes it up again.
    PutOff { position: String, of: String, put_off: Option<PutOff> },
    /// The vehicle is not driven on the road; `None`: it is again.
    NotDriven { not_driven: Option<NotDriven> },
    /// Where it goes, with all that was said before: the last counts.
    Direct { directions: Vec<Direction> },
    /// What is asked for it, all of it; `None`: it is not looked at as something for sale.
    ForSale { for_sale: Option<Box<ForSale>> },
    /// What the vehicle says it is, all of it; `None` forgets it.
    Identify { identity: Option<Box<Identity>> },
    /// When what was found in a position was made, or a circuit was filled, as in [`Sheet::made`]; `None` forgets it.
    Made { position: String, made: Option<String> },
    /// When a part of the buy list was fitted: a year, a month or a day; `None` forgets it.
    SetFitted { part: String, fitted: Option<String> },
    /// What sat in a position when the vehicle was found.
    Found { position: String, found: AsFound },
    /// A measured fact of this vehicle, by its key in [`Sheet::facts`]; `None` goes back to the library's.
    SetFact { figure: FactKey, value: Option<Json> },
    /// A note on a position; empty removes it.
    Note { position: String, text: String },
    /// The photos of a position, all of them in order; an empty list removes the entry.
    Photos { position: String, paths: Vec<String> },
    /// How many weeks a part takes from the order until it is here; `None` goes back to what the library says.
    SetWeeks { part: String, weeks: Option<f64> },
    /// When a part on order is promised: a month or a day; `None` forgets it.
    SetPromised { part: String, promised: Option<String> },
    /// The time there is for the work, all of it; `None`: nobody has said.
    Time { time: Option<Box<Time>> },
    /// A job is not begun before a day, and then before others; `None`: whenever it comes.
    Pin { job: String, day: Option<String> },
    /// A job is done, or not yet: `None`.
    Done { job: String, done: Option<Done> },
    /// A check passed, or is open again: `None`.
    Sign { check: String, signed: Option<Signed> },
    /// Work on another plan.
    SwitchPlan { plan: String },
    /// Add or replace a plan; `None` removes it (never the last).
    PutPlan { id: String, plan: Option<Box<Plan>> },
    /// Add or replace a part the user typed in; `None` removes it.
    PutPart { id: String, part: Option<Box<Written<Part>>> },
    /// A place of this vehicle, added or otherwise than the library has it.
    Place { position: String, place: Differs<Position> },
    /// Ports that meet on this vehicle, the same way.
    Joint { joint: String, meets: Differs<Joint> },
    /// A fluid circuit of this vehicle, the same way.
    Circuit { circuit: String, holds: Differs<Circuit> },
    /// What the bare vehicle gives to a pool; a text with a unit.
    Gives { pool: String, amount: Differs<String> },
    /// What the vehicle is called, and a sentence on it; empty: as the library has it.
    CallVehicle { name: String, about: String },
    /// Name the sheet.
    Rename { name: String },
    /// The libraries it is made with from now on, all of them.
    Libraries { libraries: Vec<MadeWith> },
}

/// What sat in a position when the vehicle was found.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum AsFound {
    /// What the library has for this vehicle.
    #[default]
    Library,
    /// Nothing.
    Nothing,
    /// Another part, by id.
    Part(String),
}

/// Why an edit could not be applied.
#[derive(Debug, thiserror::Error, PartialEq, Eq)]
pub enum EditError {
    /// No such plan.
    #[error("there is no plan \"{0}\" in this sheet")]
    NoPlan(String),
    /// The last plan cannot go.
    #[error("the last plan of a sheet cannot be removed")]
    LastPlan,
    /// A waiver must say why.
    #[error("leaving a companion out wants a reason")]
    NoReason,
    /// What is put off must say why.
    #[error("putting something off wants a reason")]
    NoReasonToPutOff,
    /// A direction must say why.
    #[error("a direction wants its reason")]
    NoReasonForDirection,
    /// A limit must say who sets it.
    #[error("a limit of your own wants its source, such as \"stamped on the drum\"")]
    NoSource,
    /// Hours or weeks that cannot be.
    #[error("expected {expected}, found {found}")]
    Amount {
        /// What would be taken.
        expected: &'static str,
        /// What was given.
        found: String,
    },
    /// A time for the work that cannot be.
    #[error("{0}")]
    Time(String),
    /// A date that is none.
    #[error(transparent)]
    Date(#[from] DateError),
}

/// Applies one edit. Edits that change nothing are fine.
///
/// # Errors
/// [`EditError`] where the edit names a plan that is not there, removes the last plan, waives without a reason or gives
/// a date, hours or weeks that are none; the sheet is then unchanged.
pub fn apply(sheet: &mut Sheet, edit: &Edit) -> Result<(), EditError> {
    match edit {
        Edit::Choose { plan, position, choice } => {
            put(&mut plan_of(sheet, plan)?.routes, position, choice.clone())
        }
        Edit::Pick { plan, key, part } => put(&mut plan_of(sheet, plan)?.picks, key, part.clone()),
        Edit::Accept { plan, key, yes } => {
            let accepted = &mut plan_of(sheet, plan)?.accepted;
            if *yes {
                accepted.insert(key.clone());
            } else {
                accepted.remove(key);
            }
        }
        Edit::Waive { plan, key, reason } => {
            if reason.as_ref().is_some_and(|r| r.trim().is_empty()) {
                return Err(EditError::NoReason);
            }
            put(&mut plan_of(sheet, plan)?.waived, key, reason.clone());
        }
        Edit::SetLine { part, state } => line(sheet, part, |l| {
            // what was bought before and went back is not what is bought now
            if *state == LineState::ToBuy || l.state == LineState::SentBack && l.state != *state {
                l.qty = None;
            }
            l.state = *state;
            // what is here, or not ordered, is promised for no day
            if *state != LineState::OnOrder {
                l.promised = None;
            }
            // what comes off again was fitted on no day
            if *state != LineState::Fitted {
                l.fitted = None;
            }
        }),
        Edit::SetFitted { part, fitted } => {
            let fitted = dated(fitted.as_deref())?;
            line(sheet, part, |l| l.fitted = fitted);
        }
        Edit::SetWeeks { part, weeks } => {
            if let Some(weeks) = weeks.filter(|weeks| !(0.0..=MOST_WEEKS).contains(weeks)) {
                let found = weeks.to_string();
                return Err(EditError::Amount { expected: "0 to 520 weeks", found });
            }
            line(sheet, part, |l| l.weeks = *weeks);
        }
        Edit::SetPromised { part, promised } => {
            let promised = dated(promised.as_deref())?;
            line(sheet, part, |l| l.promised = promised);
        }
        Edit::Time { time } => {
            if let Some((_, why)) = time.iter().flat_map(|time| time.wrong()).next() {
                return Err(EditError::Time(why));
            }
            sheet.time = time.as_deref().cloned().filter(|time| *time != Time::default());
        }
        Edit::Pin { job, day: pinned } => {
            let pinned = pinned.as_deref().map(day).transpose()?;
            put(&mut sheet.pinned, job, pinned.map(|day| day.to_string()));
        }
        Edit::Made { position, made } => put(&mut sheet.made, position, dated(made.as_deref())?),
        Edit::SetPaid { part, paid } => line(sheet, part, |l| l.paid.clone_from(paid)),
        Edit::SetCameBack { part, what, amount } => {
            line(sheet, part, |l| put(&mut l.came_back, what, amount.clone()));
        }
        Edit::SetQty { part, qty } => line(sheet, part, |l| l.qty = *qty),
        Edit::SetSupplier { part, supplier } => line(sheet, part, |l| l.supplier.clone_from(supplier)),
        Edit::Survey { position, finding } => put(&mut sheet.survey, position, finding.clone()),
        Edit::Readings { position, readings } => {
            let dated = readings.iter().map(|r| {
                dated(r.on.as_deref()).map(|on| Reading { on, value: r.value.trim().to_owned(), ..r.clone() })
            });
            let readings = dated.collect::<Result<Vec<_>, _>>()?;
            put(&mut sheet.readings, position, (!readings.is_empty()).then_some(readings));
        }
        Edit::Seen { position, seen } => {
            let dated = seen.iter().map(|s| dated(s.on.as_deref()).map(|on| Seen { on, ..s.clone() }));
            let seen = dated.collect::<Result<Vec<_>, _>>()?;
            put(&mut sheet.seen, position, (!seen.is_empty()).then_some(seen));
        }
        Edit::OwnBounds { position, of, bounds } => {
            if bounds.as_ref().is_some_and(|b| b.source.trim().is_empty()) {
                return Err(EditError::NoSource);
            }
            put_below(&mut sheet.own_bounds, position, of, bounds.as_deref().cloned());
        }
        Edit::PutOff { position, of, put_off } => {
            if put_off.as_ref().is_some_and(|p| p.reason.trim().is_empty()) {
                return Err(EditError::NoReasonToPutOff);
            }
            let on = dated(put_off.as_ref().and_then(|p| p.on.as_deref()))?;
            put_below(&mut sheet.put_off, position, of, put_off.clone().map(|p| PutOff { on, ..p }));
        }
        Edit::SetWorth { worth } => sheet.worth = Worth::clone(worth),
        Edit::NotDriven { not_driven } => {
            let since = dated(not_driven.as_ref().and_then(|n| n.since.as_deref()))?;
            sheet.not_driven = not_driven.clone().map(|n| NotDriven { since, ..n });
        }
        Edit::Direct { directions } => {
            // what was there already stays as it is: an older slip stands in nobody's way
            let is_new = |d: &Direction| !sheet.directions.contains(d);
            if directions.iter().any(|d| is_new(d) && d.reason.trim().is_empty()) {
                return Err(EditError::NoReasonForDirection);
            }
            let read = directions.iter().map(|d| {
                if !is_new(d) {
                    return Ok(d.clone());
                }
                let (on, deadline) = (dated(d.on.as_deref())?, dated(d.deadline.as_deref())?);
                Ok::<_, DateError>(Direction { on, deadline, ..d.clone() })
            });
            let read = read.collect::<Result<_, DateError>>()?;
            sheet.directions = read;
        }
        Edit::ForSale { for_sale } => {
            let on = dated(for_sale.as_ref().and_then(|sale| sale.on.as_deref()))?;
            sheet.for_sale = for_sale.as_deref().cloned().map(|sale| ForSale { on, ..sale });
        }
        Edit::Identify { identity } => {
            let read = identity.as_deref().map(|identity| {
                let before = sheet.identity.as_ref().and_then(|identity| identity.built.as_ref());
                let is_same = identity.built.as_ref() == before;
                let built = if is_same { identity.built.clone() } else { dated(identity.built.as_deref())? };
                Ok::<_, DateError>(Identity { built, ..identity.clone() })
            });
            sheet.identity = read.transpose()?;
        }
        Edit::Found { position, found } => {
            let entry = match found {
                AsFound::Library => None,
                AsFound::Nothing => Some(None),
                AsFound::Part(id) => Some(Some(id.clone())),
            };
            put(&mut sheet.as_found, position, entry);
        }
        Edit::SetFact { figure, value } => put(&mut sheet.facts, &figure.to_string(), value.clone()),
        Edit::Note { position, text } => {
            put(&mut sheet.notes, position, (!text.is_empty()).then(|| text.clone()));
        }
        Edit::Photos { position, paths } => {
            put(&mut sheet.photos, position, (!paths.is_empty()).then(|| paths.clone()));
        }
        Edit::SetBudget { budget } => sheet.budget = Budget::clone(budget),
        Edit::PutSupplier { name, supplier } => {
            put(&mut sheet.suppliers, name, supplier.as_deref().cloned());
        }
        Edit::Done { job, done } => {
            let on = dated(done.as_ref().and_then(|done| done.on.as_deref()))?;
            let hours = done.as_ref().and_then(|done| done.hours);
            if let Some(hours) = hours.filter(|hours| !(*hours > 0.0 && *hours <= MOST_HOURS)) {
                let found = hours.to_string();
                return Err(EditError::Amount { expected: "hours above nothing, at most 10,000", found });
            }
            put(&mut sheet.done, job, done.clone().map(|done| Done { on, ..done }));
        }
        Edit::Sign { check, signed } => {
            let on = dated(signed.as_ref().and_then(|signed| signed.on.as_deref()))?;
            put(&mut sheet.signed, check, signed.clone().map(|signed| Signed { on, ..signed }));
        }
        Edit::SwitchPlan { plan } => {
            plan_of(sheet, plan)?;
            sheet.plan = plan.clone();
        }
        Edit::PutPlan { id, plan: None } => {
            plan_of(sheet, id)?;
            if sheet.plans.len() == 1 {
                return Err(EditError::LastPlan);
            }
            sheet.plans.remove(id);
            // another plan may come to bear its id
            sheet.worth.done.remove(id);
            if sheet.plan == *id
                && let Some(first) = sheet.plans.keys().next()
            {
                sheet.plan = first.clone();
            }
        }
        Edit::PutPlan { id, plan: Some(plan) } => {
            sheet.plans.insert(id.clone(), (**plan).clone());
        }
        Edit::PutPart { id, part } => put(&mut sheet.parts, id, part.as_deref().cloned()),
        Edit::Place { position, place } => put(&mut sheet.described.positions, position, place.entry()),
        Edit::Joint { joint, meets } => put(&mut sheet.described.joints, joint, meets.entry()),
        Edit::Circuit { circuit, holds } => put(&mut sheet.described.circuits, circuit, holds.entry()),
        Edit::Gives { pool, amount } => put(&mut sheet.described.gives, pool, amount.entry()),
        Edit::CallVehicle { name, about } => {
            name.trim().clone_into(&mut sheet.described.name);
            about.trim().clone_into(&mut sheet.described.about);
        }
        Edit::Rename { name } => sheet.name = name.clone(),
        Edit::Libraries { libraries } => sheet.libraries.clone_from(libraries),
    }
    Ok(())
}

/// Ten years: nobody waits longer.
pub const MOST_WEEKS: f64 = 520.0;
/// No job takes longer.
pub const MOST_HOURS: f64 = 10_000.0;

/// A date as it is kept.
fn dated(text: Option<&str>) -> Result<Option<String>, DateError> {
    text.map(Dated::parse).transpose().map(|dated| dated.map(|d| d.text))
}

fn plan_of<'a>(sheet: &'a mut Sheet, id: &str) -> Result<&'a mut Plan, EditError> {
    sheet.plans.get_mut(id).ok_or_else(|| EditError::NoPlan(id.to_owned()))
}

/// Changes a line of the buying record; one that says nothing any more is taken out, as it was before its first word.
fn line(sheet: &mut Sheet, part: &str, change: impl FnOnce(&mut Line)) {
    let line = sheet.lines.entry(part.to_owned()).or_default();
    change(line);
    if *line == Line::default() {
        sheet.lines.remove(part);
    }
}

/// The same one table deeper; a table that holds nothing any more is taken out.
fn put_below<V>(
    tables: &mut BTreeMap<String, BTreeMap<String, V>>,
    position: &str,
    key: &str,
    value: Option<V>,
) {
    let table = tables.entry(position.to_owned()).or_default();
    put(table, key, value);
    if table.is_empty() {
        tables.remove(position);
    }
}

fn put<K, Q, V>(table: &mut BTreeMap<K, V>, key: &Q, value: Option<V>)
where
    K: Borrow<Q> + Ord,
    Q: ToOwned<Owned = K> + Ord + ?Sized,
{
    match value {
        Some(value) => {
            table.insert(key.to_owned(), value);
        }
        None => {
            table.remove(key);
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::{Edit, apply};
    use crate::library::{Part, Written};
    use crate::sheet::{Direction, Identity, LineState, Sheet};

    #[test]
    fn a_line_that_says_nothing_any_more_leaves_no_trace() {
        let mut sheet = Sheet::default();
        let set = |state| Edit::SetLine { part: "pump".into(), state };
        assert_eq!(apply(&mut sheet, &set(LineState::InHand)), Ok(()));
        assert_eq!(sheet.lines["pump"].state, LineState::InHand);
        assert_eq!(apply(&mut sheet, &set(LineState::ToBuy)), Ok(()));
        assert_eq!(sheet, Sheet::default());
    }

    #[test]
    fn what_was_there_before_stands_in_the_way_of_nothing_new() {
        let old = Direction { deadline: Some("in spring".into()), ..Direction::default() };
        let identity = Identity { built: Some("spring 58".into()), ..Identity::default() };
        let mut sheet =
            Sheet { directions: vec![old.clone()], identity: Some(identity.clone()), ..Sheet::default() };
        let new = Direction { reason: "it is complete".into(), ..Direction::default() };
        let direct = |new: &Direction| Edit::Direct { directions: vec![old.clone(), new.clone()] };
        assert_eq!(apply(&mut sheet, &direct(&new)), Ok(()));
        assert_eq!(sheet.directions, [old.clone(), new.clone()]);
        assert!(apply(&mut sheet, &direct(&Direction::default())).is_err(), "what is new says why");
        let counted = Identity { counter: Some("41000 miles".into()), ..identity.clone() };
        let identify = |identity: &Identity| Edit::Identify { identity: Some(Box::new(identity.clone())) };
        assert_eq!(apply(&mut sheet, &identify(&counted)), Ok(()));
        let wrong = Identity { built: Some("summer 58".into()), ..identity };
        assert!(apply(&mut sheet, &identify(&wrong)).is_err());
        assert_eq!(sheet.identity, Some(counted));
    }

    #[test]
    fn a_date_comes_and_goes_and_what_is_none_changes_nothing() {
        let mut sheet = Sheet::default();
        let made =
            |text: Option<&str>| Edit::Made { position: "tyres".into(), made: text.map(str::to_owned) };
        assert_eq!(apply(&mut sheet, &made(Some(" 1981 "))), Ok(()));
        assert_eq!(sheet.made["tyres"], "1981");
        // as the journal keeps it
        let text = serde_json::to_string(&made(Some("1981"))).unwrap();
        assert_eq!(serde_json::from_str::<Edit>(&text).unwrap(), made(Some("1981")));
        let before = sheet.clone();
        let wrong = apply(&mut sheet, &made(Some("the eighties"))).unwrap_err();
        assert!(wrong.to_string().starts_with("expected a year, a month or a day"), "{wrong}");
        assert_eq!(sheet, before);
        assert_eq!(apply(&mut sheet, &made(None)), Ok(()));
        assert_eq!(sheet, Sheet::default());
        assert!(!serde_json::to_string(&sheet).unwrap().contains("made"));
    }

    #[test]
    fn what_is_no_longer_fitted_has_no_day_of_it() {
        let mut sheet = Sheet::default();
        let line = |state| Edit::SetLine { part: "hose".into(), state };
        let fitted = |text: &str| Edit::SetFitted { part: "hose".into(), fitted: Some(text.into()) };
        assert_eq!(apply(&mut sheet, &line(LineState::Fitted)), Ok(()));
        assert_eq!(apply(&mut sheet, &fitted("2026-03-01")), Ok(()));
        assert_eq!(sheet.lines["hose"].fitted.as_deref(), Some("2026-03-01"));
        assert!(apply(&mut sheet, &fitted("2026-02-30")).is_err());
        assert_eq!(apply(&mut sheet, &line(LineState::InHand)), Ok(()));
        assert_eq!(sheet.lines["hose"].fitted, None);
    }

    #[test]
    fn how_many_were_bought_is_forgotten_with_the_purchase() {
        let mut sheet = Sheet::default();
        let line = |state| Edit::SetLine { part: "hose".into(), state };
        let qty = Edit::SetQty { part: "hose".into(), qty: Some(4) };
        for edit in [line(LineState::OnOrder), qty, line(LineState::Fitted), line(LineState::SentBack)] {
            assert_eq!(apply(&mut sheet, &edit), Ok(()));
        }
        assert_eq!(sheet.lines["hose"].qty, Some(4));
        // bought again
        assert_eq!(apply(&mut sheet, &line(LineState::InHand)), Ok(()));
        assert_eq!(sheet.lines["hose"].qty, None);
    }

    #[test]
    fn a_part_of_the_user_s_own_comes_and_goes() {
        let mut sheet = Sheet::default();
        let part =
            Part { name: "Carburettor from the shed".into(), class: "carburettor".into(), ..Part::default() };
        let put = Edit::PutPart {
            id: "own-carburettor".into(),
            part: Some(Box::new(Written::whole(part.clone()))),
        };
        assert_eq!(apply(&mut sheet, &put), Ok(()));
        assert_eq!(sheet.parts.get("own-carburettor").map(|part| &**part), Some(&part));
        // as the journal keeps it
        let text = serde_json::to_string(&put).unwrap();
        assert_eq!(serde_json::from_str::<Edit>(&text).unwrap(), put);
        assert_eq!(apply(&mut sheet, &Edit::PutPart { id: "own-carburettor".into(), part: None }), Ok(()));
        assert_eq!(sheet, Sheet::default());
    }

    #[test]
    fn photos_are_kept_in_order_and_an_empty_list_leaves_no_trace() {
        let mut sheet = Sheet::default();
        let of = |paths: &[&str]| Edit::Photos {
            position: "tank".into(),
            paths: paths.iter().map(|p| (*p).to_owned()).collect(),
        };
        assert_eq!(apply(&mut sheet, &of(&["b.jpg", "a.jpg"])), Ok(()));
        assert_eq!(sheet.photos["tank"], ["b.jpg", "a.jpg"]);
        let back: Sheet = serde_json::from_str(&serde_json::to_string(&sheet).unwrap()).unwrap();
        assert_eq!(back, sheet);
        assert_eq!(apply(&mut sheet, &of(&[])), Ok(()));
        assert_eq!(sheet, Sheet::default());
        assert!(!serde_json::to_string(&sheet).unwrap().contains("photos"));
    }
}
