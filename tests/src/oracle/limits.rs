//! Limits: at every set of places that belong together, each choice of places tried.

use knockon_core::key::CheckKey;
use knockon_core::library::{Input, LimitDef, Whereabouts};
use serde_json::Value as Json;

use super::Oracle;
use super::places::together;
use super::values::{Verdict, number};

/// A class and words: one thing a limit reads at.
type Slot<'a> = (&'a str, &'a Whereabouts);

/// The places of a limit, one for each of its slots; none where the vehicle has no such place.
#[derive(Clone, PartialEq)]
pub(super) struct Run<'a> {
    limit: &'a str,
    at: Vec<(Slot<'a>, Option<&'a str>)>,
    /// Further places that take a part which sets a fact it reads.
    setters: Vec<&'a str>,
    pub key: CheckKey,
}

/// What an input comes to.
enum Read {
    Known(f64, f64),
    /// A value is wanted.
    Wanted,
    /// The limit is not about this.
    Silent,
}

fn slots<'a>(input: &'a Input, out: &mut Vec<Slot<'a>>) {
    match input {
        Input::Figure { class, whereabouts, .. } if !out.contains(&(class, whereabouts)) => {
            out.push((class, whereabouts));
        }
        Input::Sum { sum, less } => sum.iter().chain(less).for_each(|term| slots(term, out)),
        _ => {}
    }
}

/// Whether all that is read at a slot says what holds where nothing is there.
fn does_without(input: &Input, slot: Slot<'_>) -> bool {
    match input {
        Input::Figure { class, whereabouts, otherwise, .. } => {
            (class.as_str(), whereabouts) != slot || otherwise.is_some()
        }
        Input::Sum { sum, less } => sum.iter().chain(less).all(|term| does_without(term, slot)),
        _ => true,
    }
}

fn facts<'a>(input: &'a Input, out: &mut Vec<&'a str>) {
    match input {
        Input::Fact { fact, .. } => out.push(fact),
        Input::Sum { sum, less } => sum.iter().chain(less).for_each(|term| facts(term, out)),
        _ => {}
    }
}

fn bounds(json: &Json) -> Read {
    let text = json.as_str().unwrap_or("");
    if text.starts_with("unknown") {
        return Read::Wanted;
    }
    let (low, high) = number(text);
    Read::Known(low, high)
}

impl<'a> Oracle<'a> {
    /// Every limit at every set of places: worked out once, since it does not depend on what is fitted.
    pub(super) fn all_runs(&self) -> Vec<Run<'a>> {
        self.lib.limits.keys().flat_map(|limit| self.runs(limit)).collect()
    }

    fn runs(&self, limit: &'a str) -> Vec<Run<'a>> {
        let def = &self.lib.limits[limit];
        let mut all: Vec<Slot<'a>> = Vec::new();
        def.inputs.values().for_each(|input| slots(input, &mut all));
        let mut runs: Vec<Vec<(Slot<'a>, Option<&'a str>)>> = vec![Vec::new()];
        for slot in all {
            let places = self.bearing(slot.0, slot.1);
            let mut longer = Vec::new();
            for run in &runs {
                for pos in &places {
                    let fits = |(s, p): &(Slot<'a>, Option<&'a str>)| {
                        p.is_none_or(|p| self.belong((*s, p), (slot, pos)))
                    };
                    if run.iter().all(fits) {
                        longer.push([run.as_slice(), &[(slot, Some(*pos))]].concat());
                    }
                }
                if places.is_empty() && def.inputs.values().all(|input| does_without(input, slot)) {
                    longer.push([run.as_slice(), &[(slot, None)]].concat());
                }
            }
            runs = longer;
        }
        let differ = |n: usize| runs.iter().any(|run| run[n].1 != runs[0][n].1);
        let telling: Vec<usize> = (0..runs.first().map_or(0, Vec::len)).filter(|n| differ(*n)).collect();
        runs.iter()
            .map(|at| {
                let mut apart: Vec<String> =
                    telling.iter().filter_map(|n| at[*n].1).map(str::to_owned).collect();
                apart.dedup();
                let key = CheckKey::Limit { limit: limit.to_owned(), at: apart };
                let run = Run { limit, at: at.clone(), setters: Vec::new(), key };
                Run { setters: self.setters(&run), ..run }
            })
            .collect()
    }

    fn belong(&self, (one, a): (Slot<'a>, &str), (other, b): (Slot<'a>, &str)) -> bool {
        let says = |words: &Whereabouts| words.words().count() > 0;
        let single = |class: &str| self.places_of(class).len() == 1;
        if says(one.1) && says(other.1) && one.1 != other.1 || a == b || single(one.0) && single(other.0) {
            return true;
        }
        let meet = |a: &str, b: &str| {
            let has = |ends: &[knockon_core::library::End], pos: &str| ends.iter().any(|e| e.at == pos);
            self.v.joints.values().any(|j| has(&j.ends, a) && has(&j.ends, b))
        };
        let (ones, others) = (self.places_of(one.0), self.places_of(other.0));
        if ones.iter().any(|a| others.iter().any(|b| a != b && meet(a, b))) {
            meet(a, b)
        } else {
            together(self.spot(a), self.spot(b))
        }
    }

    /// Places it reads, in the order of its slots.
    fn read_at(run: &Run<'a>) -> Vec<&'a str> {
        let mut out: Vec<&'a str> = Vec::new();
        for pos in run.at.iter().filter_map(|(_, pos)| *pos) {
            if !out.contains(&pos) {
                out.push(pos);
            }
        }
        out
    }

    /// Further places that take a part which sets a fact it reads.
    fn setters(&self, run: &Run<'a>) -> Vec<&'a str> {
        let mut read = Vec::new();
        self.lib.limits[run.limit].inputs.values().for_each(|input| facts(input, &mut read));
        let sets = |class: &str| {
            let parts = self.lib.parts.values().filter(|p| p.class == class);
            parts.into_iter().any(|p| read.iter().any(|fact| p.sets.contains_key(*fact)))
        };
        let places = Self::read_at(run);
        let all = self.v.positions.iter().filter(|(_, p)| sets(&p.class)).map(|(id, _)| id.as_str());
        all.filter(|pos| !places.contains(pos)).collect()
    }

    fn fact(&self, fact: &str) -> Option<Read> {
        let (mut new, mut old): (Vec<&Json>, Vec<&Json>) = (Vec::new(), Vec::new());
        for pos in self.v.positions.keys() {
            let Some(value) = self.slots[pos.as_str()].part.and_then(|part| self.part(part).sets.get(fact))
            else {
                continue;
            };
            let put_in = self.slots[pos.as_str()].changed;
            if put_in { new.push(value) } else { old.push(value) }
        }
        let loose = self.comps.iter().filter(|c| c.position.is_none());
        new.extend(loose.filter_map(|c| self.part(c.part).sets.get(fact)));
        let agreed = |set: &[&Json]| {
            let first = set.first()?;
            Some(if set.iter().all(|other| other == first) { bounds(first) } else { Read::Wanted })
        };
        agreed(&new)
            .or_else(|| self.sheet.facts.get(fact).map(bounds))
            .or_else(|| agreed(&old))
            .or_else(|| self.v.facts.get(fact).map(bounds))
    }

    fn read(&self, run: &Run<'a>, input: &Input) -> Read {
        let other = |text: &Option<String>| match text {
            Some(text) => bounds(&Json::String(text.clone())),
            None => Read::Silent,
        };
        match input {
            Input::Fixed { value } => bounds(&Json::String(value.clone())),
            Input::Pool { .. } => unreachable!("the generator writes none"),
            Input::Fact { fact, otherwise } => self.fact(fact).unwrap_or_else(|| other(otherwise)),
            Input::Figure { class, whereabouts, figure, optional, otherwise } => {
                let at = run.at.iter().find(|(slot, _)| *slot == (class.as_str(), whereabouts));
                let Some(pos) = at.and_then(|(_, pos)| *pos) else { return other(otherwise) };
                let part = self.slots[pos].part;
                let own = part.and_then(|part| self.part(part).figures.get(figure));
                match own.or_else(|| self.v.positions[pos].figures.get(figure)) {
                    Some(value) => bounds(value),
                    None if part.is_none() => other(otherwise),
                    None if *optional => Read::Silent,
                    None => Read::Wanted,
                }
            }
            Input::Sum { sum, less } => {
                let (mut low, mut high, mut wanted) = (0.0, 0.0, false);
                let terms = sum.iter().map(|t| (t, true)).chain(less.iter().map(|t| (t, false)));
                for (term, adds) in terms {
                    match self.read(run, term) {
                        Read::Known(a, b) if adds => {
                            low += a;
                            high += b;
                        }
                        Read::Known(a, b) => {
                            low -= b;
                            high -= a;
                        }
                        Read::Wanted => wanted = true,
                        Read::Silent => return Read::Silent,
                    }
                }
                if wanted { Read::Wanted } else { Read::Known(low, high) }
            }
        }
    }

    /// A limit that yields is not broken where the other holds at the same places.
    fn limit(&self, run: &Run<'a>) -> Option<Verdict> {
        let found = self.plain_limit(run)?;
        let class = |pos: &str| &self.v.positions[pos].class;
        let mine = Self::read_at(run);
        let same_places = |other: &Run<'a>| {
            let theirs = Self::read_at(other);
            theirs.iter().all(|pos| mine.contains(pos) || !mine.iter().any(|own| class(own) == class(pos)))
        };
        let better = self.lib.limits[run.limit].yields_to.as_ref();
        let better: Vec<&Run<'a>> = self
            .runs
            .iter()
            .filter(|r| Some(r.limit) == better.map(String::as_str) && same_places(r))
            .collect();
        let holds = !better.is_empty() && better.iter().all(|b| self.plain_limit(b) == Some(Verdict::Holds));
        (!(holds && found == Verdict::Broken)).then_some(found)
    }

    /// `have` at least `want`; none where it is not about what is there.
    fn plain_limit(&self, run: &Run<'a>) -> Option<Verdict> {
        self.plain_and_left(run).map(|(verdict, _)| verdict)
    }

    /// The same, and how much less it may be until it does not hold any more: at the worse ends of the tolerances.
    fn plain_and_left(&self, run: &Run<'a>) -> Option<(Verdict, f64)> {
        let mut both = Vec::new();
        for name in ["have", "want"] {
            match self.read(run, &self.lib.limits[run.limit].inputs[name]) {
                Read::Known(low, high) => both.push(Some((low, high))),
                Read::Wanted => both.push(None),
                Read::Silent => return None,
            }
        }
        let [Some((have_low, have_high)), Some((want_low, want_high))] = both[..] else {
            return Some((Verdict::Open, 0.0));
        };
        let verdict = if have_low >= want_high - 1e-9 {
            Verdict::Holds
        } else if have_high < want_low - 1e-9 {
            Verdict::Broken
        } else {
            Verdict::Open
        };
        Some((verdict, have_low - want_high))
    }

    /// Whether the plan reaches a limit.
    fn touched(&self, run: &Run<'a>, def: &LimitDef) -> bool {
        let mut read = Vec::new();
        def.inputs.values().for_each(|input| facts(input, &mut read));
        let sets = |part: Option<&str>| {
            part.is_some_and(|part| read.iter().any(|fact| self.part(part).sets.contains_key(*fact)))
        };
        let changed = |pos: &str| self.slots[pos].changed;
        Self::read_at(run).iter().any(|pos| changed(pos))
            || run
                .setters
                .iter()
                .any(|pos| changed(pos) && (sets(self.slots[*pos].part) || sets(self.found(pos))))
            || self.comps.iter().any(|c| c.position.is_none() && sets(Some(c.part)))
    }

    pub(super) fn limits(&mut self) {
        for run in self.runs.clone() {
            if self.touched(&run, &self.lib.limits[run.limit]) {
                self.judge(&run);
            }
        }
    }

    fn judge(&mut self, run: &Run<'a>) {
        match self.limit(run) {
            None => {}
            Some(Verdict::Holds) => {
                let close = self.lib.limits[run.limit].close.as_deref().map(|text| number(text).1);
                let left = self.plain_and_left(run).map_or(0.0, |(_, left)| left);
                if close.is_some_and(|close| left < close - 1e-9) {
                    self.close.insert(run.key.clone());
                }
            }
            Some(Verdict::Open) => drop(self.unknowns.insert(run.key.clone())),
            Some(Verdict::Broken) => drop(self.clashes.insert(run.key.clone())),
        }
    }
}
