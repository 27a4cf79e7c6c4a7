//! The walk round the vehicle: every inspection of every place, zone by zone, with what was read there.

use std::collections::{BTreeMap, BTreeSet};

use super::around::Around;
use super::judge::{Judged, Outcome, aged};
use super::{Line, Place, Point, Quick, Survey, WalkZone, bounds, readings, verdicts};
use crate::catalogue::{Catalogue, InspectionEntry, PositionId, ReadAs};
use crate::date::Dated;
use crate::identity::told;
use crate::library::Posture;
use crate::meant::{nearest, then};
use crate::phrase::Phrase;
use crate::sheet::{Reading, Route, Sheet, Verdict};

/// The survey of a sheet's vehicle, with what one of its plans does about it. Empty where the vehicle is not known.
#[must_use]
pub fn survey(sheet: &Sheet, plan: &str, catalogue: &Catalogue) -> Survey {
    let catalogue = catalogue.for_sheet(sheet);
    let Some(v) = catalogue.vehicles.get(&sheet.vehicle) else { return Survey::default() };
    let around = Around { sheet, cat: &catalogue, v };
    let mut lines = Vec::new();
    for pos in v.positions.ids() {
        let is_wanted = |(id, entry): &(&String, &InspectionEntry)| {
            around.has(entry, pos) && !is_over(&around, id, entry, pos)
        };
        for (id, entry) in catalogue.inspections.iter().filter(is_wanted) {
            let order = catalogue.zones.get(&entry.def.zone).map_or(u32::MAX, |zone| zone.order);
            lines.push(((order, entry.def.order, pos), line(&around, plan, id, entry, pos)));
        }
    }
    lines.sort_by(|(a, x), (b, y)| (a, &x.inspection).cmp(&(b, &y.inspection)));
    let mut lines: Vec<Line> = lines.into_iter().map(|(_, line)| line).collect();
    alternatives(&mut lines, &catalogue);
    let is_only = |line: &Line| {
        let entry = catalogue.inspections.get(&line.inspection);
        entry.and_then(|entry| entry.def.before_buying.as_ref()).is_some_and(|quick| quick.only)
    };
    let (before_buying, lines): (Vec<Line>, Vec<Line>) = lines.into_iter().partition(is_only);
    let used: BTreeSet<&str> = lines.iter().map(|line| line.zone.as_str()).collect();
    let mut zones: Vec<_> = catalogue.zones.iter().filter(|(id, _)| used.contains(id.as_str())).collect();
    zones.sort_by_key(|(id, zone)| (zone.order, *id));
    let zones: Vec<WalkZone> = zones
        .into_iter()
        .map(|(id, zone)| WalkZone {
            id: id.clone(),
            name: zone.name.clone(),
            posture: zone.posture,
            before: zone.before.clone(),
            cautions: zone.cautions.clone(),
        })
        .collect();
    let ids =
        lines.iter().flat_map(|line| &line.cautions).chain(zones.iter().flat_map(|zone| &zone.cautions));
    let words = |id: &String| {
        let caution = catalogue.cautions.get(id)?;
        let guard = Phrase::read(&caution.guard).in_both();
        Some((id.clone(), format!("{}. {guard}", caution.danger.trim_end_matches('.'))))
    };
    let cautions: BTreeMap<String, String> = ids.filter_map(words).collect();
    Survey {
        places: places(&around),
        problems: problems(&around, &lines),
        identity: sheet.identity.clone().map(|identity| {
            let told = told(&identity, catalogue.as_of);
            (identity, told)
        }),
        direction: sheet.direction().cloned(),
        aims: sheet
            .direction()
            .iter()
            .flat_map(|direction| &direction.aims)
            .filter_map(|id| catalogue.aims.get(id).map(|aim| aim.name.clone()))
            .collect(),
        changed: sheet.directions.len().saturating_sub(1),
        not_driven: sheet.not_driven.clone(),
        cautions,
        zones,
        lines,
        before_buying,
    }
}

fn line(around: &Around<'_>, plan: &str, id: &str, entry: &InspectionEntry, pos: PositionId) -> Line {
    let (def, place) = (&entry.def, &around.v.positions[pos]);
    let all = around.sheet.readings.get(&place.id).into_iter().flatten().filter(|reading| reading.of == id);
    let latest = readings::newest(entry, all.clone());
    let settled = bounds::settled(around, id, pos);
    let dimension = match entry.read {
        ReadAs::Quantity(dimension, _) => Some(dimension),
        ReadAs::Made(_) | ReadAs::Look => None,
    };
    let made = around.sheet.made.get(&place.id);
    let (Judged { outcome, rest }, value) = match &entry.read {
        ReadAs::Made(ages) => match made.map(|text| (Dated::parse(text), around.cat.as_of)) {
            None | Some((Ok(_), None)) => {
                (Judged::one(Outcome::ToMeasure), made.cloned().unwrap_or_default())
            }
            Some((Ok(made), Some(on))) => (Judged::one(aged(&made, ages, def.stop, on)), made.text.clone()),
            Some((Err(why), _)) => {
                (Judged::one(Outcome::Unread(why.to_string())), made.cloned().unwrap_or_default())
            }
        },
        ReadAs::Quantity(..) | ReadAs::Look => {
            let each = latest.iter().map(|counts| verdicts::one(around, id, pos, &counts.taken));
            let none = match &settled {
                Ok(_) => Outcome::ToMeasure,
                Err(why) => Outcome::NoBounds(why.clone()),
            };
            let worst = if can_stop(entry) { Verdict::Stop } else { Verdict::Renew };
            let judged = each.reduce(Judged::and).unwrap_or(Judged::one(none)).up_to(worst);
            let value = latest.iter().map(readings::Counts::text).collect::<Vec<_>>().join(", ");
            (judged, value)
        }
    };
    let choice = around.sheet.plans.get(plan).and_then(|plan| plan.routes.get(&place.id));
    let stays = choice.is_none_or(|choice| matches!(choice.route, Route::Keep | Route::Clean));
    let is_bad = matches!(outcome, Outcome::Verdict(Verdict::Renew | Verdict::Stop));
    let put_off = around.sheet.put_off.get(&place.id).and_then(|of| of.get(id));
    let may_wait = outcome != Outcome::Verdict(Verdict::Stop);
    let zone = around.cat.zones.get(&def.zone);
    let route = possible(around, def.route, pos);
    Line {
        inspection: id.to_owned(),
        position: place.id.clone(),
        zone: def.zone.clone(),
        name: def.name.clone(),
        place: place.name.clone(),
        method: Phrase::how(&def.method),
        tool: def.tool.clone(),
        dimension,
        is_date: matches!(entry.read, ReadAs::Made(_)),
        unit: entry.unit.clone(),
        limits: match (&entry.read, &settled, dimension) {
            (ReadAs::Quantity(..), Ok(settled), Some(dimension)) => {
                Phrase::from(bounds::in_words(settled, dimension, &entry.unit, def.stop))
            }
            (ReadAs::Made(ages), ..) => {
                let watch = ages.watch.as_ref().map_or_else(String::new, |w| format!("; watch to {w}"));
                let bad = if def.stop { "stop" } else { "renew" };
                Phrase::from(format!("good to {}{watch}; else {bad}", ages.good))
            }
            _ => Phrase::default(),
        },
        whose: settled.as_ref().map_or_else(|_| String::new(), |settled| settled.whose.clone()),
        words: def.words.iter().map(|(word, verdict)| (word.clone(), *verdict)).collect(),
        latest: latest.into_iter().flat_map(|counts| counts.of).cloned().collect(),
        value,
        history: history(entry, all),
        stop: can_stop(entry),
        stage: def.stage,
        again: def.again.clone(),
        tells: def.tells.clone(),
        cautions: def.cautions.clone(),
        proposes: (is_bad && stays).then_some(route),
        route,
        put_off: put_off.filter(|_| may_wait).cloned(),
        at_the_bench: zone.is_some_and(|zone| zone.posture == Posture::AtTheBench),
        answered: false,
        stays,
        rest,
        quick: def.before_buying.as_ref().zip(entry.quick).map(|(quick, seconds)| Quick {
            order: quick.order,
            seconds,
            with: quick.with,
        }),
        source: def.source.clone(),
        outcome,
    }
}

/// Whether it is looked at only before buying, the vehicle is not for sale, and nobody looked.
fn is_over(around: &Around<'_>, id: &str, entry: &InspectionEntry, pos: PositionId) -> bool {
    let is_for_sale = around.sheet.for_sale.as_ref().is_some_and(|sale| sale.bought.is_none());
    let read = around.sheet.readings.get(&around.v.positions[pos].id);
    entry.def.before_buying.as_ref().is_some_and(|quick| quick.only)
        && !is_for_sale
        && !read.is_some_and(|all| all.iter().any(|reading| reading.of == id))
}

/// Whether something that can be read or seen there stops the vehicle.
fn can_stop(entry: &InspectionEntry) -> bool {
    let farther = match &entry.read {
        ReadAs::Quantity(_, bands) => bands.renew.is_some(),
        ReadAs::Made(_) | ReadAs::Look => false,
    };
    let by_case = entry.cases.iter().any(|case| case.bands.renew.is_some());
    entry.def.stop || farther || by_case || entry.def.words.values().any(|verdict| *verdict == Verdict::Stop)
}

/// The route that is proposed, where the library knows that work on the part; else a new one.
fn possible(around: &Around<'_>, route: Route, pos: PositionId) -> Route {
    let part = around.found(pos).map(|part| &around.cat.parts[part].part);
    match route {
        Route::Rebuild if part.is_none_or(|part| part.rebuild.is_none()) => Route::Renew,
        Route::Clean if part.is_none_or(|part| part.clean.is_none()) => Route::Renew,
        route => route,
    }
}

fn history<'a>(entry: &InspectionEntry, all: impl Iterator<Item = &'a Reading>) -> Vec<Point> {
    let point = |reading: &Reading| {
        let quantity = readings::taken(entry, &reading.value).ok()?.quantity?;
        Some(Point { on: readings::day(reading)?, si: quantity.si, which: reading.which.clone() })
    };
    let mut out: Vec<Point> = all.filter_map(point).collect();
    out.sort_by_key(|point| point.on);
    out
}

/// Of inspections that may stand for each other, those that nobody did are answered by one that somebody did.
fn alternatives(lines: &mut [Line], cat: &Catalogue) {
    let word = |line: &Line| cat.inspections.get(&line.inspection).and_then(|entry| entry.def.either.clone());
    let is_done = |line: &&Line| matches!(line.outcome, Outcome::Verdict(_) | Outcome::Undecided { .. });
    let done: BTreeSet<(String, String)> =
        lines.iter().filter(is_done).filter_map(|line| Some((line.position.clone(), word(line)?))).collect();
    for line in lines.iter_mut() {
        let answered = word(line).is_some_and(|word| done.contains(&(line.position.clone(), word)));
        line.answered = answered && !is_done(&&*line);
    }
}

fn places(around: &Around<'_>) -> Vec<Place> {
    let one = |(pos, place): (PositionId, &crate::catalogue::PositionEntry)| {
        let said = around.sheet.survey.get(&place.id).map(|finding| finding.verdict);
        let read = verdicts::at_place(around, pos).into_iter().map(|(verdict, _)| verdict).max();
        Some(Place {
            position: place.id.clone(),
            name: place.name.clone(),
            verdict: said.max(read)?,
            disagrees: said.zip(read).is_some_and(|(said, read)| said < read),
            seen: around.sheet.seen.get(&place.id).cloned().unwrap_or_default(),
            said,
            read,
        })
    };
    around.v.positions.iter().filter_map(one).collect()
}

/// Readings and the rest that nothing rests on.
fn problems(around: &Around<'_>, lines: &[Line]) -> Vec<String> {
    let sheet = around.sheet;
    let mut out = Vec::new();
    let ids = || around.cat.inspections.keys().map(String::as_str);
    let read = sheet.readings.iter().flat_map(|(at, all)| all.iter().map(move |r| ("readings", at, &r.of)));
    let own = sheet.own_bounds.iter().flat_map(|(at, of)| of.keys().map(move |id| ("own_bounds", at, id)));
    let off = sheet.put_off.iter().flat_map(|(at, of)| of.keys().map(move |id| ("put_off", at, id)));
    let all: BTreeSet<_> = read.chain(own).chain(off).collect();
    for (table, at, id) in all {
        let Some(entry) = around.cat.inspections.get(id) else {
            let rest = then(nearest(id, ids()), "it is kept, and nothing rests on it");
            out.push(format!("{table}.{at}: the library has no inspection \"{id}\"{rest}"));
            continue;
        };
        if !around.v.position_ix.get(at).is_some_and(|pos| around.has(entry, *pos)) {
            out.push(format!(
                "{table}.{at}: this place has no such inspection as \"{id}\"; it is kept, and nothing rests on it"
            ));
        } else if table == "readings" && matches!(entry.read, ReadAs::Made(_)) {
            out.push(format!(
                "{table}.{at}: \"{id}\" is the day on which it was made; write that under made.{at}, nothing rests on it here"
            ));
        }
    }
    // of a line that stops the vehicle, by a reading or by its age
    for line in lines.iter().filter(|line| line.outcome == Outcome::Verdict(Verdict::Stop)) {
        let (at, id) = (&line.position, &line.inspection);
        if sheet.put_off.get(at).is_some_and(|of| of.contains_key(id)) {
            out.push(format!(
                "put_off.{at}.{id}: what stops the vehicle cannot be put off; say that it is not driven on the road"
            ));
        }
    }
    out
}
