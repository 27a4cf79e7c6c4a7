//! What places of a vehicle a limit is about: it runs once for each set of places that belong together.
//!
//! Places of two classes belong together where they meet at a joint; where no joint of the vehicle ties the two classes,
//! where they go together by their words. What stands alone in its class belongs to all. A limit that says where, twice
//! and differently, is about two places that need not belong together: front and rear brakes.

use super::build::Ctx;
use super::{
    ClassId, ClassPlaces, LimitEntry, LimitId, LimitInput, Numbered, PositionId, RunId, VehicleEntry,
};
use crate::library::LibraryFile;

/// A limit of the library at one set of places of a vehicle.
#[derive(Clone, Debug)]
pub struct LimitPlaces {
    /// Its number in the library.
    pub limit: LimitId,
    /// The place of each of its slots; `None` where the vehicle has none and it is said what then holds.
    pub slots: Vec<Option<PositionId>>,
    /// Those of the places that tell this run of the limit from its others; none where it runs once.
    pub apart: Vec<PositionId>,
    /// The places it reads figures at, each once.
    pub places: Vec<PositionId>,
    /// Further places that take a part which sets a fact it reads.
    pub setters: Vec<PositionId>,
    /// The runs of the limit that knows better, at the same places.
    pub yields_to: Vec<RunId>,
}

/// More sets of places than this no limit is meant for.
const MOST_RUNS: usize = 256;

pub(super) fn limits(files: &[(String, LibraryFile)], vehicle: &str, ctx: &mut Ctx, v: &mut VehicleEntry) {
    let mut too_many = Vec::new();
    for (limit, entry) in ctx.cat.limits.iter() {
        let Some(runs) = runs(entry, v) else {
            too_many.push(entry.id.clone());
            continue;
        };
        let differ = |slot: usize| runs.iter().any(|run| run[slot] != runs[0][slot]);
        let telling: Vec<usize> = (0..entry.slots.len()).filter(|slot| differ(*slot)).collect();
        for slots in &runs {
            let mut places: Vec<PositionId> = Vec::new();
            slots.iter().flatten().for_each(|pos| {
                if !places.contains(pos) {
                    places.push(*pos);
                }
            });
            let mut apart: Vec<PositionId> = telling.iter().filter_map(|slot| slots[*slot]).collect();
            apart.dedup();
            let mut setters = setters(ctx, entry, v);
            setters.retain(|pos| !places.contains(pos));
            let run =
                LimitPlaces { limit, slots: slots.clone(), apart, places, setters, yields_to: Vec::new() };
            v.limits.push(run);
        }
    }
    for id in too_many {
        let file =
            files.iter().find(|(_, f)| f.limits.contains_key(&id)).map_or("", |(file, _)| file.as_str());
        let message = format!(
            "more than {MOST_RUNS} sets of places of the vehicle \"{vehicle}\" come into question, so it is left out there; \
             say at its places where they are"
        );
        ctx.faults.warn(file, format!("limits.{id}"), message);
    }
    for at in v.limits.ids() {
        let better = ctx.cat.limits[v.limits[at].limit].yields_to;
        v.limits[at].yields_to = better.map_or_else(Vec::new, |limit| at_the_same_places(v, at, limit));
    }
    v.limits_at = Numbered::filled(Vec::new(), v.positions.len());
    for (at, run) in v.limits.iter() {
        for pos in run.places.iter().chain(&run.setters) {
            v.limits_at[*pos].push(at);
        }
    }
}

/// The runs of another limit that read no other place of any class than a run does.
fn at_the_same_places(v: &VehicleEntry, at: RunId, limit: LimitId) -> Vec<RunId> {
    let class = |pos: &PositionId| v.positions[*pos].class;
    let agrees = |other: &LimitPlaces| {
        let strange = |pos: &&PositionId| {
            let mine = &v.limits[at].places;
            mine.iter().any(|own| class(own) == class(pos)) && !mine.contains(pos)
        };
        other.limit == limit && !other.places.iter().any(|pos| strange(&pos))
    };
    v.limits.iter().filter(|(_, other)| agrees(other)).map(|(other, _)| other).collect()
}

/// Every choice of places for the slots of a limit that belong together; `None` where there are too many.
fn runs(entry: &LimitEntry, v: &VehicleEntry) -> Option<Vec<Vec<Option<PositionId>>>> {
    let mut runs: Vec<Vec<Option<PositionId>>> = vec![Vec::new()];
    for (slot, said) in entry.slots.iter().enumerate() {
        let bears = |pos: &PositionId| v.whereabouts(*pos).bears(&said.whereabouts);
        let places: Vec<PositionId> = v.by_class.of(said.class).iter().copied().filter(bears).collect();
        if places.is_empty() {
            if !does_without(entry, slot) {
                return Some(Vec::new());
            }
            runs.iter_mut().for_each(|run| run.push(None));
            continue;
        }
        let mut longer = Vec::new();
        for run in &runs {
            let fits = |pos: &&PositionId| {
                let before = run.iter().zip(&entry.slots).filter_map(|(p, s)| p.map(|p| (p, s)));
                before.into_iter().all(|(p, s)| belong(v, (p, s), (**pos, said)))
            };
            longer.extend(places.iter().filter(fits).map(|pos| [run.as_slice(), &[Some(*pos)]].concat()));
        }
        if longer.len() > MOST_RUNS {
            return None;
        }
        runs = longer;
    }
    Some(runs)
}

/// Whether all that is read at a slot says what holds where nothing is fitted.
fn does_without(entry: &LimitEntry, slot: usize) -> bool {
    let mut all = true;
    for (_, input) in &entry.inputs {
        input.each(&mut |input| {
            if let LimitInput::Figure { slot: s, otherwise: None, .. } = input {
                all &= *s != slot;
            }
        });
    }
    all
}

/// Whether places chosen for two slots belong together.
fn belong(
    v: &VehicleEntry,
    (a, one): (PositionId, &ClassPlaces),
    (b, other): (PositionId, &ClassPlaces),
) -> bool {
    let (said, also) = (&one.whereabouts, &other.whereabouts);
    let both_say = !said.is_empty() && !also.is_empty() && said != also;
    let alone = |class: ClassId| v.by_class.of(class).len() == 1;
    if both_say || a == b || alone(one.class) && alone(other.class) {
        return true;
    }
    let meets = |a: PositionId, b: PositionId| v.joints_at[a].iter().any(|j| v.joints_at[b].contains(j));
    let tied = v
        .by_class
        .of(one.class)
        .iter()
        .any(|a| v.by_class.of(other.class).iter().any(|b| a != b && meets(*a, *b)));
    if tied { meets(a, b) } else { v.whereabouts(a).goes_with(v.whereabouts(b)) }
}

/// Places that take a part which sets a fact a limit reads.
fn setters(ctx: &Ctx, entry: &LimitEntry, v: &VehicleEntry) -> Vec<PositionId> {
    let mut out: Vec<PositionId> = Vec::new();
    for (_, input) in &entry.inputs {
        input.each(&mut |input| {
            let LimitInput::Fact { figure, .. } = input else { return };
            let classes = ctx.cat.set_by.get(figure).into_iter().flatten();
            out.extend(classes.flat_map(|class| v.by_class.of(*class)));
        });
    }
    out.sort_unstable();
    out.dedup();
    out
}

#[cfg(test)]
mod tests;
