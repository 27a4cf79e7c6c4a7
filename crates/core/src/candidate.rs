//! A candidate: what a vehicle that is for sale would come to, by what was seen of it, up to a stage.
//!
//! In words. What the walk found bad is put right by the route its inspection proposes; what a person says is to be renewed,
//! or saw besides, by a rebuild where the library knows that work, and by a new part where it stops the vehicle or there is no
//! such work; the worst of what is known of a place counts; where nothing is that the vehicle was built with, that part is fitted.
//! What was put off is not known by that. That is the *least* it comes
//! to, with all that it drags in. What is looked at before buying and nobody has looked at yet may be bad as well: with all of
//! that besides it is the *most*. Each open question is worth what its bad answer adds by itself; the dearest is asked first.
//! A place counts up to a stage if its inspection, or else its class or its system, belongs to that stage or an earlier one.
//! What is bought or done already counts for nothing here: two candidates are held against each other as they stand.

use std::collections::BTreeMap;

use crate::amounts::Amounts;
use crate::assess::assess;
use crate::catalogue::{Catalogue, PositionEntry};
use crate::library::Stage;
use crate::sheet::{Choice, ForSale, Plan, Route, Sheet, Verdict};
use crate::survey::{Line, Quick, survey};

/// The id of the plan that is worked out for a candidate; it is in no sheet.
const PLAN: &str = "candidate";

/// What putting right comes to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Comes {
    /// Money, by currency.
    pub money: Amounts,
    /// Own hours.
    pub hours: f64,
    /// Lines whose price nobody knows: they are not in the money.
    pub unpriced: usize,
}

/// Something that is put right.
#[derive(Clone, Debug, PartialEq)]
pub struct PutRight {
    /// Position id.
    pub position: String,
    /// The place, as shown.
    pub place: String,
    /// What is done.
    pub route: Route,
    /// What was read or seen there; empty where something is missing.
    pub why: String,
    /// It may not be driven so.
    pub stops: bool,
    /// The vehicle was built with something here, and nothing is.
    pub missing: bool,
}

/// A place nobody has looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Position id.
    pub position: String,
    /// The place, as shown.
    pub place: String,
    /// What is looked at there, as shown, each with how.
    pub looks: Vec<(String, Quick)>,
    /// What a bad answer adds.
    pub adds: Comes,
}

/// A candidate up to a stage.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Candidate {
    /// What is asked, and the rest that the sheet says of the sale.
    pub sale: ForSale,
    /// The currency sums are told in.
    pub currency: String,
    /// What is put right, in the order of the board.
    pub put_right: Vec<PutRight>,
    /// What is known comes to this.
    pub least: Comes,
    /// With all that nobody has looked at.
    pub most: Comes,
    /// What nobody has looked at, the dearest first.
    pub open: Vec<Question>,
    /// How many of the looks before buying are done, and how many there are on this vehicle.
    pub looked: (usize, usize),
    /// What the others take, in s.
    pub seconds: f64,
}

impl Candidate {
    /// What it comes to in all, least and most: what is asked and what is put right. `None`: nobody has said what is asked,
    /// or it is asked in another currency than the sums are told in.
    #[must_use]
    pub fn in_all(&self) -> Option<(rust_decimal::Decimal, rust_decimal::Decimal)> {
        let asked = self.sale.bought.as_ref().or(self.sale.asked.as_ref())?;
        let of = |comes: &Comes| asked.amount + comes.money.of(&self.currency);
        (asked.currency == self.currency).then(|| (of(&self.least), of(&self.most)))
    }
}

/// What a vehicle comes to up to a stage. `None`: the library does not know the vehicle.
/// It assesses once for each place that nobody has looked at: off the frame.
#[must_use]
pub fn candidate(sheet: &Sheet, catalogue: &Catalogue, upto: Stage) -> Option<Candidate> {
    let cat = catalogue.for_sheet(sheet);
    let v = cat.vehicles.get(&sheet.vehicle)?;
    // what is not for sale is looked at as if it were
    let as_for_sale = Sheet { for_sale: Some(sheet.for_sale.clone().unwrap_or_default()), ..sheet.clone() };
    let found = survey(&as_for_sale, PLAN, catalogue);
    let in_stage = |place: &PositionEntry, line: Option<&Line>| {
        line.map_or_else(|| cat.stage_of(place), |line| line.stage) <= upto
    };
    let mut choices: BTreeMap<String, Choice> = BTreeMap::new();
    let mut put_right = Vec::new();
    let mut questions: Vec<(&PositionEntry, Choice, Vec<&Line>)> = Vec::new();
    for (_, place) in v.positions.iter() {
        let both = found.lines.iter().chain(&found.before_buying);
        let lines: Vec<&Line> = both.filter(|line| line.position == place.id).collect();
        if let Some((choice, right)) = bad(sheet, place, &lines, &found.places, &in_stage, &cat) {
            choices.insert(place.id.clone(), choice);
            put_right.push(right);
            continue;
        }
        let is_open = |line: &&Line| line.quick.is_some() && line.is_unknown() && in_stage(place, Some(line));
        let open: Vec<&Line> = lines.into_iter().filter(is_open).collect();
        let said = sheet.survey.contains_key(&place.id);
        if let Some(line) = open.first().filter(|_| !said) {
            questions.push((place, Choice { route: line.route, part: None }, open));
        }
    }
    let comes = |choices: BTreeMap<String, Choice>| comes(sheet, catalogue, choices);
    let (least, currency) = comes(choices.clone());
    let mut all = choices.clone();
    all.extend(questions.iter().map(|(place, choice, _)| (place.id.clone(), choice.clone())));
    let (most, _) = comes(all);
    let mut open: Vec<Question> = questions
        .into_iter()
        .map(|(place, choice, lines)| {
            let mut with = choices.clone();
            with.insert(place.id.clone(), choice);
            let (with, _) = comes(with);
            let looks = lines.iter().filter_map(|line| Some((line.name.clone(), line.quick?)));
            Question {
                position: place.id.clone(),
                place: place.name.clone(),
                looks: looks.collect(),
                adds: Comes {
                    money: &with.money - &least.money,
                    hours: with.hours - least.hours,
                    unpriced: with.unpriced.saturating_sub(least.unpriced),
                },
            }
        })
        .collect();
    open.sort_by(|a, b| {
        let money = |q: &Question| q.adds.money.of(&currency);
        money(b).cmp(&money(a)).then(b.adds.hours.total_cmp(&a.adds.hours))
    });
    let quick = found.quick();
    let left: Vec<_> = quick.iter().filter(|(line, _)| line.is_unknown()).collect();
    Some(Candidate {
        sale: sheet.for_sale.clone().unwrap_or_default(),
        currency,
        put_right,
        least,
        most,
        open,
        looked: (quick.len() - left.len(), quick.len()),
        seconds: left.iter().map(|(_, quick)| quick.seconds).sum(),
    })
}

/// What is bad at a place, and what is done about it. `None`: nothing is known to be.
fn bad(
    sheet: &Sheet,
    place: &PositionEntry,
    lines: &[&Line],
    told: &[crate::survey::Place],
    in_stage: &impl Fn(&PositionEntry, Option<&Line>) -> bool,
    cat: &Catalogue,
) -> Option<(Choice, PutRight)> {
    let right = |route, why: String, stops| PutRight {
        position: place.id.clone(),
        place: place.name.clone(),
        route,
        why,
        stops,
        missing: false,
    };
    // nothing is there, though it was built with something
    if let (Some(part), Some(None)) = (place.as_found, sheet.as_found.get(&place.id)) {
        let part = Some(cat.part_names.id(part).to_owned());
        let choice = Choice { route: Route::Convert, part };
        let missing = PutRight { missing: true, ..right(Route::Renew, String::new(), false) };
        return in_stage(place, None).then_some((choice, missing));
    }
    let verdict_of = |line: &&&Line| line.verdict().filter(|_| in_stage(place, Some(line)));
    // of several as bad the first counts, and what was read before what a person says
    let read = lines.iter().filter(|line| verdict_of(line).is_some()).rev().max_by_key(verdict_of);
    let read = read.map(|line| {
        let why = format!("{}: {}", line.name, line.value);
        (line.verdict().unwrap_or_default(), line.route, why)
    });
    // what was found there, which need not be what the vehicle was built with
    let part = match sheet.as_found.get(&place.id) {
        None => place.as_found,
        Some(found) => found.as_ref().and_then(|id| cat.part_names.get(id)),
    };
    let can_rebuild = part.is_some_and(|part| cat.parts[part].part.rebuild.is_some());
    let place_told = told.iter().find(|told| told.position == place.id).filter(|_| in_stage(place, None));
    let said = place_told.and_then(|_| sheet.survey.get(&place.id));
    let said = said.map(|finding| (finding.verdict, finding.note.clone()));
    let seen = place_told.into_iter().flat_map(|told| &told.seen);
    let seen = seen.map(|seen| (seen.verdict, seen.what.clone()));
    let by_eye = said.into_iter().chain(seen).max_by_key(|(verdict, _)| *verdict).map(|(verdict, why)| {
        let route = if can_rebuild && verdict < Verdict::Stop { Route::Rebuild } else { Route::Renew };
        (verdict, route, why)
    });
    let (verdict, route, why) = by_eye.into_iter().chain(read).max_by_key(|(verdict, ..)| *verdict)?;
    let bad = (Choice { route, part: None }, right(route, why, verdict == Verdict::Stop));
    (verdict >= Verdict::Renew).then_some(bad)
}

/// What the choices come to with all that they drag in, on the vehicle as it stands; and the currency of most lines.
fn comes(sheet: &Sheet, catalogue: &Catalogue, routes: BTreeMap<String, Choice>) -> (Comes, String) {
    let plan = Plan { routes, ..Plan::default() };
    let as_it_stands = Sheet {
        plans: [(PLAN.to_owned(), plan)].into(),
        plan: PLAN.to_owned(),
        lines: BTreeMap::new(),
        done: BTreeMap::new(),
        ..sheet.clone()
    };
    let totals = assess(&as_it_stands, PLAN, catalogue).totals;
    let comes = Comes { money: totals.money.all(), hours: totals.hours, unpriced: totals.unpriced };
    (comes, totals.currency)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
