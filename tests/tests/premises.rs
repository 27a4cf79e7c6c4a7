//! The premises alone re-derive each finding: a vehicle with nothing but the choices and parts that a derivation rests on
//! comes to the same finding again.

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::assessment::Companion;
use knockon_core::key::{CheckKey, CompanionKey, FactKey, Premise};
use knockon_core::library::LibraryFile;
use knockon_core::reason::{Fact, ReasonId};
use knockon_core::sheet::Route;
use knockon_core::{Assessment, Catalogue, Sheet, assess};
use knockon_store::{library, sheets};
use knockon_tests::generate::{PLAN, Size, generate, on};

/// A lost job rests on all the joints of a part: of what sits there as found, chosen or not.
const EVERY_JOINT: &str = "every joint";

/// What a derivation names: joints, limits, pools, needs and what is opened.
fn named(a: &Assessment, root: ReasonId) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    let mut open = vec![root];
    let mut seen = BTreeSet::new();
    while let Some(id) = open.pop() {
        if !seen.insert(id) {
            continue;
        }
        let reason = &a.reasons[id.0 as usize];
        match &reason.fact {
            Fact::Disagree { joint, .. }
            | Fact::Unknown { joint, .. }
            | Fact::LeftAlone { joint, .. }
            | Fact::Bridges { joint, .. } => drop(names.insert(joint.clone())),
            Fact::Limit { limit, .. } => drop(names.insert(limit.clone())),
            Fact::Pool { pool, .. } => drop(names.insert(pool.clone())),
            Fact::Opened { what, .. } | Fact::Apart { what, .. } => drop(names.insert(what.clone())),
            Fact::Wants { need, .. } | Fact::Supplies { need, .. } => drop(names.insert(need.clone())),
            Fact::LostJob { .. } => drop(names.insert(EVERY_JOINT.to_owned())),
            _ => {}
        }
        open.extend(&reason.premises);
    }
    names
}

/// The library with no joint, limit, pool, opening or need but those that a derivation names.
fn only_named(file: &LibraryFile, a: &Assessment, root: ReasonId) -> Catalogue {
    let names = named(a, root);
    let premises = a.premises(root);
    let stays = |at: &String| a.positions.iter().any(|p| p.id == *at && p.route != Route::Convert);
    let has_job = |at: &String| {
        let (position, chosen) = (at.clone(), Premise::Chosen { position: at.clone() });
        premises.contains(&Premise::AsFound { position: position.clone() })
            || premises.contains(&Premise::Survey { position })
            || premises.contains(&chosen) && stays(at)
    };
    let mut slim = file.clone();
    for vehicle in slim.vehicles.values_mut() {
        vehicle.joints.retain(|_, j| {
            let of_job = names.contains(EVERY_JOINT) && j.ends.iter().any(|e| has_job(&e.at));
            names.contains(&j.name) || of_job
        });
    }
    slim.limits.retain(|_, l| names.contains(&l.name));
    slim.openings.retain(|_, o| names.contains(&o.name));
    // a place that is empty here could be supplied for less: who supplies stays picked
    let fitted = a.positions.iter().filter_map(|p| p.fitted.as_ref()).map(|(id, _)| id);
    let there: BTreeSet<&String> = fitted.chain(a.companions.iter().map(|c| &c.part)).collect();
    for (_, part) in slim.parts.iter_mut().filter(|(id, _)| !there.contains(id)) {
        part.offers.clear();
    }
    for (id, def) in &file.needs {
        if !names.contains(&def.name) {
            for part in slim.parts.values_mut() {
                part.needs.remove(id);
                part.advises.remove(id);
            }
        }
    }
    for (id, def) in &file.pools {
        if !names.contains(&def.name) {
            slim.parts.values_mut().for_each(|part| drop(part.takes.remove(id)));
        }
    }
    Catalogue::new(vec![("generated".to_owned(), slim)]).0.on(on())
}

/// The sheet with nothing but what a derivation rests on. What the deduction picked on the way stays picked: why it is the
/// cheapest is a matter of the whole vehicle.
fn only(sheet: &Sheet, plan: &str, a: &Assessment, root: ReasonId) -> Sheet {
    let premises = a.premises(root);
    let places: BTreeSet<&str> = premises.iter().filter_map(Premise::position).collect();
    let mut slim = sheet.clone();
    for p in a.positions.iter().filter(|p| !places.contains(p.id.as_str())) {
        slim.as_found.insert(p.id.clone(), None);
    }
    slim.survey.retain(|id, _| premises.contains(&Premise::Survey { position: id.clone() }));
    // what was measured on a part that sits nowhere is a word of the library: that no part of it serves rests on all of it
    let parts: BTreeSet<&str> = a
        .positions
        .iter()
        .flat_map(|p| [&p.as_found, &p.fitted])
        .flatten()
        .map(|(id, _)| id.as_str())
        .collect();
    let rests_on = |fact: FactKey| {
        fact.part().is_some_and(|part| !parts.contains(part))
            || premises.contains(&Premise::Measured { fact })
    };
    slim.facts.retain(|key, _| key.parse().is_ok_and(rests_on));
    // a date of a circuit says nothing where nothing of it stands there
    let positions: BTreeSet<&String> = a.positions.iter().map(|p| &p.id).collect();
    slim.made.retain(|id, _| !positions.contains(id) || places.contains(id.as_str()));
    if let Some(plan) = slim.plans.get_mut(plan) {
        plan.routes.retain(|id, _| premises.contains(&Premise::Chosen { position: id.clone() }));
        plan.picks = picks(a);
    }
    slim
}

fn picks(a: &Assessment) -> BTreeMap<CompanionKey, String> {
    let picked = |key: &CompanionKey| matches!(key, CompanionKey::Fill { .. } | CompanionKey::Need { .. });
    let companions = a.companions.iter().filter(|c| picked(&c.key));
    let supply = a
        .companions
        .iter()
        .filter(|c| c.position.is_some())
        .filter_map(|c| Some((supplied(a, c)?, c.part.clone())));
    companions.map(|c| (c.key.clone(), c.part.clone())).chain(supply).collect()
}

/// For a part that went into a place to supply a need: the key under which a supplier of it is picked. Parts are named by
/// their ids here, and needs by theirs with a blank.
fn supplied(a: &Assessment, c: &Companion) -> Option<CompanionKey> {
    let reason = &a.reasons[c.reason.0 as usize];
    let (Fact::Supplies { .. }, Some(premise)) = (&reason.fact, reason.premises.first()) else { return None };
    let Fact::Wants { part, need, .. } = &a.reasons[premise.0 as usize].fact else { return None };
    Some(CompanionKey::Need { cause: c.cause.clone(), asker: part.clone(), need: need.replace(' ', "-") })
}

/// How many parts a derivation proposes on its way, or names out of a box though they gave way in their place since. Parts
/// are named by their ids here.
fn steps(a: &Assessment, root: ReasonId) -> usize {
    let (mut open, mut seen, mut count) = (vec![root], BTreeSet::new(), 0);
    while let Some(id) = open.pop() {
        if seen.insert(id) {
            let reason = &a.reasons[id.0 as usize];
            count += usize::from(match &reason.fact {
                Fact::Fills { .. } | Fact::Supplies { .. } => true,
                Fact::InBox { part, .. } => {
                    !a.positions.iter().any(|p| p.fitted.as_ref().is_some_and(|(id, _)| id == part))
                }
                _ => false,
            });
            open.extend(&reason.premises);
        }
    }
    count
}

/// Findings of joints and survey that the premises do not bring again, with their number.
fn lost(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    file: Option<&LibraryFile>,
) -> (Vec<String>, usize) {
    let a = assess(sheet, plan, catalogue);
    let mut lost = Vec::new();
    let mut tried = 0;
    // where nothing else stands in the way, what was a clash may be cured by a part at one of its positions
    let mut again = |key: &dyn Fn(&Assessment) -> bool, named: String, root: ReasonId, cured_at: &[&str]| {
        // a long derivation over a made-up library passes through parts that gave way since: no sheet can say them
        if file.is_some() && steps(&a, root) > 1 {
            return;
        }
        tried += 1;
        let slim = file.map(|file| only_named(file, &a, root));
        let b = assess(&only(sheet, plan, &a, root), plan, slim.as_ref().unwrap_or(catalogue));
        let is_at = |at: &Option<String>| at.as_ref().is_some_and(|p| cured_at.contains(&p.as_str()));
        if !key(&b) && !b.companions.iter().any(|c| is_at(&c.position)) {
            lost.push(format!(
                "{named}: {}",
                knockon_core::explain::because(&a, root, knockon_core::showing::Measure::Metric).join(" / ")
            ));
        }
    };
    for c in &a.companions {
        let premises = a.premises(c.reason);
        // of two ends that disagree the other may be the one to give way
        let is_fill = matches!(c.key, CompanionKey::Fill { .. });
        let mut places: Vec<&str> =
            premises.iter().filter(|_| is_fill).filter_map(Premise::position).collect();
        if is_fill {
            // what a box holds has no leaf of its own
            let (names, v) = (named(&a, c.reason), &catalogue.vehicles[&sheet.vehicle]);
            let joints = v.joints.values().filter(|j| names.contains(&j.name));
            places.extend(joints.flat_map(|j| &j.ends).map(|(p, _)| v.positions[*p].id.as_str()));
        }
        let stands = |b: &Assessment| b.companions.iter().any(|other| other.key == c.key);
        again(&stands, c.key.to_string(), c.reason, &places);
    }
    for c in &a.clashes {
        // a need that nothing supplied may be supplied now
        let supplied = match c.key.clone() {
            CheckKey::Need { cause, asker, need } => Some(CompanionKey::Need { cause, asker, need }),
            _ => None,
        };
        let stands = |b: &Assessment| {
            let is_supplied = |other: &CompanionKey| supplied.as_ref() == Some(other);
            b.clashes.iter().any(|other| other.key == c.key)
                || b.companions.iter().any(|other| is_supplied(&other.key))
        };
        let places: Vec<&str> = c.positions.iter().map(String::as_str).collect();
        again(&stands, c.key.to_string(), c.reason, &places);
    }
    (lost, tried)
}

#[test]
fn premises_of_the_example_bring_its_findings_again() {
    let sheet = sheets::parse("example", library::example()).unwrap_or_default();
    let catalogue = library::shipped().on(on());
    for plan in ["sound", "wishes", "worked-out"] {
        let (lost, tried) = lost(&sheet, plan, &catalogue, None);
        assert!(tried > 50, "{plan}: {tried}");
        // of several places settled together each names what it clears itself
        assert!(lost.len() * 10 <= tried, "{plan}: {} of {tried}\n{}", lost.len(), lost.join("\n"));
    }
}

#[test]
fn premises_of_generated_sheets_bring_their_findings_again() {
    let (mut all, mut missing) = (0, Vec::new());
    for seed in 0..100 {
        let size = Size {
            positions: 14,
            joints: 28,
            parts: 110,
            family: 110,
            choices: 6,
            types: 6,
            doubt: 10,
            twins: 0,
        };
        let (mut file, sheet) = generate(seed, size);
        for (id, part) in &mut file.parts {
            part.name.clone_from(id);
        }
        let catalogue = Catalogue::new(vec![("generated".to_owned(), file.clone())]).0.on(on());
        let (lost, tried) = lost(&sheet, PLAN, &catalogue, Some(&file));
        missing.extend(lost.into_iter().map(|text| format!("seed {seed}: {text}")));
        all += tried;
    }
    assert!(all > 500, "{all}");
    // of several places settled together each names what it clears itself
    assert!(missing.len() * 20 <= all, "{} of {all}\n{}", missing.len(), missing.join("\n"));
}
