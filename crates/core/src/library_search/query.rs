//! One query held against every part: which have all the words, the port, the sizes and the numbers that were asked for, and
//! how well.

use knockon_search::AskedWord;
use rust_decimal::prelude::ToPrimitive;

use super::asked::{Asked, PriceAsked, SizeAsked};
use super::entries::{At, Entries};
use super::matching::{Meant, bound, is_of_size};
use super::{Answer, Because, By, Hit, MOST_WORDS, Understood};
use crate::catalogue::{Catalogue, ClassId, PartEntry, PartId};
use crate::value::Verdict3;

/// What a word counts that the name of a part has, or a port of it.
const IN_NAME: f32 = 1.0;
const IN_PORT: f32 = 0.45;
/// The same where a size or a number that was asked for is of this port or bears this name.
const OF_WHAT_IS_ASKED: f32 = 0.8;
/// A hit has at least this share of the best.
const LEAST_OF_BEST: f32 = 0.5;
/// The same where numbers or prices are asked for: of a class, and not of what is called after it.
const LEAST_WITH_NUMBERS: f32 = 0.85;
/// The same where no part has all words.
const LEAST_OF_PARTIAL: f32 = 0.8;
/// What a name, or a class, counts besides where it is what was asked as a whole.
const AS_A_WHOLE: f32 = 0.5;
/// A class that has a place on some vehicle goes before one that is used loose, where both are called alike.
const HAS_A_PLACE: f32 = 0.03;

/// A word of a query against everything.
pub(super) struct Row {
    pub word: AskedWord,
    pub weight: f32,
    /// How well it agrees with the name of each part.
    pub names: Vec<f32>,
    /// With each class, by name and system.
    pub classes: Vec<(f32, f32)>,
    /// With each port spec.
    pub specs: Vec<f32>,
    /// With what each number is called.
    pub labels: Vec<f32>,
}

impl Row {
    fn class(&self, class: ClassId) -> (f32, f32) {
        self.classes.get(class.ix()).copied().unwrap_or_default()
    }

    pub fn label(&self, label: u32) -> f32 {
        self.labels.get(label as usize).copied().unwrap_or(0.0)
    }

    fn spec(&self, spec: u32) -> f32 {
        self.specs.get(spec as usize).copied().unwrap_or(0.0)
    }

    pub fn is_known(&self) -> bool {
        !self.word.alike.is_empty()
    }
}

/// Everything one query is held against.
pub(super) struct Query<'a> {
    entries: &'a Entries,
    pub asked: Asked,
    pub rows: Vec<Row>,
    pub port_rows: Vec<Row>,
    meant: Vec<Meant>,
    /// For each size, which threads are it.
    threads: Vec<Vec<bool>>,
    /// How well each class as a whole is what was asked.
    whole: Vec<f32>,
}

/// What became of one part.
enum Told {
    /// It answers, or may answer where something is not known; whether it has all the words.
    Hit {
        hit: Hit,
        open: bool,
        whole: bool,
    },
    No,
}

impl<'a> Query<'a> {
    pub fn new(entries: &'a Entries, asked: Asked, mut rows: Vec<Row>, port_rows: Vec<Row>) -> Self {
        let parts = entries.name_len.len().max(1) as f32;
        for row in &mut rows {
            let named = row.names.iter().filter(|how| **how >= 0.4).count();
            let few = row.classes.iter().filter(|(how, _)| *how >= 0.4).count();
            // a class has so many parts on an average
            let of_classes = few as f32 * parts / entries.classes.len().max(1) as f32;
            let have = (named as f32).max(of_classes);
            row.weight = (1.0 + parts / if have > 0.0 { have } else { parts / 20.0 }).ln();
        }
        let meant = asked.bounds.iter().map(|bound| {
            let implied = bound.implied.as_ref().map(|word| entries.words.ask(word));
            let is_implied = |label: u32| {
                let words = entries.labels.get(label as usize).map_or(&[][..], |label| &label.words);
                let asked = implied.iter().flatten().flat_map(|word| &word.alike);
                asked.into_iter().any(|(known, how)| *how > 0.9 && words.contains(known))
            };
            let in_class = |class: usize, word: usize| {
                rows.get(word).and_then(|row| row.classes.get(class)).is_some_and(|(how, _)| *how > 0.0)
            };
            let named = |word: usize, label: u32| rows.get(word).is_some_and(|row| row.label(label) > 0.0);
            Meant::new(entries, bound, in_class, named, rows.len(), is_implied)
        });
        let meant = meant.collect();
        let is_it = |size: &SizeAsked| {
            let threads = entries.threads.iter();
            threads.map(|name| size.thread.as_ref().is_some_and(|thread| thread.is(name))).collect()
        };
        let threads = asked.sizes.iter().map(is_it).collect();
        let whole = entries.classes.iter().map(|class| whole(&class.names, &rows)).collect();
        Self { entries, asked, rows, port_rows, meant, threads, whole }
    }

    pub fn run(&self, catalogue: &Catalogue, understood: &mut Understood) -> Answer {
        let by_port = self.asked.port_words.is_some() || !self.asked.sizes.is_empty();
        let nothing = self.rows.is_empty() && self.port_rows.is_empty();
        let asks_more =
            !(self.asked.sizes.is_empty() && self.asked.bounds.is_empty() && self.asked.prices.is_empty());
        let mut answer = Answer { by_port, ..Answer::default() };
        if nothing && !asks_more {
            return answer;
        }
        let (mut partial, mut some): (Vec<Hit>, Vec<Hit>) = (Vec::new(), Vec::new());
        for (id, part) in catalogue.parts.iter() {
            match self.weigh(catalogue, id, part) {
                Told::Hit { hit, open: false, whole: true } => answer.hits.push(hit),
                Told::Hit { hit, open: true, whole: true } => answer.open.push(hit),
                Told::Hit { hit, open: false, .. } => partial.push(hit),
                Told::Hit { hit, .. } => some.push(hit),
                Told::No => {}
            }
        }
        let with_numbers = !(self.asked.bounds.is_empty() && self.asked.prices.is_empty());
        let mut least = if with_numbers { LEAST_WITH_NUMBERS } else { LEAST_OF_BEST };
        if answer.hits.is_empty() && answer.open.is_empty() {
            understood.not_all_words = !partial.is_empty() || !some.is_empty();
            (answer.hits, answer.open) = (partial, some);
            least = LEAST_OF_PARTIAL;
        }
        let best = answer.hits.iter().chain(&answer.open).map(|hit| hit.fit).fold(0.0, f32::max);
        let order = |list: &mut Vec<Hit>| {
            list.retain(|hit| hit.fit >= best * least);
            let key = |hit: &Hit| catalogue.parts.get(hit.part).map_or(u32::MAX, |part| part.rank);
            list.sort_by_cached_key(|hit| (std::cmp::Reverse((hit.score * 1e4) as i64), key(hit), hit.part));
        };
        order(&mut answer.hits);
        order(&mut answer.open);
        answer
    }

    /// How a part answers.
    fn weigh(&self, catalogue: &Catalogue, id: PartId, part: &PartEntry) -> Told {
        let mut because: Vec<Because> = Vec::new();
        let mut by = By::default();
        let mut have = [0.0_f32; MOST_WORDS];
        for (row, have) in self.rows.iter().zip(&mut have) {
            let name = row.names.get(id.ix()).copied().unwrap_or(0.0) * IN_NAME;
            let (class, system) = row.class(part.class);
            *have = name.max(class).max(system);
            by.name |= name > 0.0;
            by.class |= class > 0.0 && class > name;
            by.system |= system > 0.0 && class <= 0.0 && name <= 0.0;
        }
        if !self.ends(id, &mut because) {
            return Told::No;
        }
        let mut open = false;
        for price in &self.asked.prices {
            match priced(part, price) {
                Verdict3::Holds => because.push(Because::Price),
                Verdict3::Open => {
                    open = true;
                    because.push(Because::NoPrice);
                }
                Verdict3::Broken => return Told::No,
            }
        }
        let mut all = true;
        for (asked, meant) in self.asked.bounds.iter().zip(&self.meant) {
            let Some(kept) = bound(self.entries, id, part.class, asked, meant) else { return Told::No };
            match (kept.verdict, kept.at) {
                (Verdict3::Broken, _) => return Told::No,
                (Verdict3::Holds, Some(at)) => because.push(Because::Number(at)),
                (_, at) => {
                    open = true;
                    because.push(Because::NotKnown(kept.label, at));
                }
            }
            all &= kept.all;
            for (row, have) in self.rows.iter().zip(&mut have) {
                *have = have.max(row.label(kept.label) * OF_WHAT_IS_ASKED);
            }
        }
        for (size, threads) in self.asked.sizes.iter().zip(&self.threads) {
            if !size.at_port && !self.sized(id, size, threads, &mut have, &mut because) {
                return Told::No;
            }
        }
        let plain = self.asked.sizes.is_empty() && self.asked.bounds.is_empty();
        if plain && self.port_rows.is_empty() && have.iter().take(self.rows.len()).any(|how| *how <= 0.0) {
            self.port_of_words(id, &mut have, &mut because);
        }
        let is_loose = catalogue.classes.get(part.class).is_none_or(|class| class.is_loose());
        self.told(id, part, &have, (because, by), (open, all, is_loose))
    }

    fn told(
        &self,
        id: PartId,
        part: &PartEntry,
        have: &[f32; MOST_WORDS],
        (because, by): (Vec<Because>, By),
        (open, all, is_loose): (bool, bool, bool),
    ) -> Told {
        let known = &have[..self.rows.len().min(MOST_WORDS)];
        let weights: f32 = self.rows.iter().map(|row| row.weight).sum();
        let score = match self.rows.is_empty() {
            true => 1.0,
            false => {
                let sum: f32 = self.rows.iter().zip(known).map(|(row, how)| row.weight * how).sum();
                sum / weights
            }
        };
        if score <= 0.0 {
            return Told::No;
        }
        let is_whole = known.iter().all(|how| *how > 0.0);
        let shared =
            self.rows.iter().filter(|row| row.names.get(id.ix()).is_some_and(|how| *how > 0.5)).count()
                as f32;
        let len = f32::from(self.entries.name_len.get(id.ix()).copied().unwrap_or(0));
        let union = self.rows.len() as f32 + len - shared;
        let of_name = if union > 0.0 { shared / union } else { 0.0 };
        let of_class = self.whole.get(part.class.ix()).copied().unwrap_or(0.0);
        let mut bonus = AS_A_WHOLE * of_name.max(of_class);
        bonus += if is_loose { 0.0 } else { HAS_A_PLACE };
        bonus += if all && !self.asked.bounds.is_empty() { 0.01 } else { 0.0 };
        let fit = score + AS_A_WHOLE * of_class;
        Told::Hit { hit: Hit { part: id, score: score + bonus, fit, because, by }, open, whole: is_whole }
    }

    /// Whether a part has a port with all that was said of one; nothing said is kept by every part.
    fn ends(&self, id: PartId, because: &mut Vec<Because>) -> bool {
        let sizes: Vec<usize> = (0..self.asked.sizes.len())
            .filter(|at| self.asked.sizes.get(*at).is_some_and(|size| size.at_port))
            .collect();
        if self.port_rows.is_empty() && sizes.is_empty() {
            return true;
        }
        let before = because.len();
        for (port, spec) in self.entries.specs_of(id).iter().enumerate() {
            let port = u16::try_from(port).unwrap_or(u16::MAX);
            let named = self.port_rows.iter().all(|row| row.spec(*spec) > 0.0);
            let is_sized = |at: &usize| {
                let (Some(size), Some(threads)) = (self.asked.sizes.get(*at), self.threads.get(*at)) else {
                    return false;
                };
                let numbers = self.entries.numbers_of(id).iter();
                numbers
                    .filter(|number| matches!(number.at, At::Field(of, _) if of == port))
                    .any(|number| is_of_size(self.entries, number, size, threads))
            };
            if named && sizes.iter().all(is_sized) {
                because.push(Because::Port(port));
            }
        }
        because.len() > before
    }

    /// Whether a part has a size, at a port, as a number or in its name: the place that has most of the words that are left.
    fn sized(
        &self,
        id: PartId,
        size: &SizeAsked,
        threads: &[bool],
        have: &mut [f32; MOST_WORDS],
        because: &mut Vec<Because>,
    ) -> bool {
        let specs = self.entries.specs_of(id);
        let mut best: Option<(f32, At)> = None;
        let says = |row: &Row, at: At, label: u32| match at {
            At::Field(port, _) => specs.get(usize::from(port)).map_or(0.0, |spec| row.spec(*spec)),
            At::Name => 0.0,
            _ => row.label(label),
        };
        for number in self.entries.numbers_of(id) {
            if !is_of_size(self.entries, number, size, threads) {
                continue;
            }
            let gain: f32 = self
                .rows
                .iter()
                .zip(have.iter())
                .map(|(row, have)| {
                    let how = says(row, number.at, number.label) * OF_WHAT_IS_ASKED;
                    // the field that is named goes before another of the same port
                    let exact = row.label(number.label) * 0.05;
                    row.weight * ((how - have).max(0.0) + exact)
                })
                .sum();
            let gain = gain + if number.at == At::Name { -0.01 } else { 0.0 };
            if best.is_none_or(|(other, _)| gain > other) {
                best = Some((gain, number.at));
            }
        }
        let Some((_, at)) = best else { return false };
        let label = self
            .entries
            .numbers_of(id)
            .iter()
            .find(|number| number.at == at)
            .map_or(0, |number| number.label);
        for (row, have) in self.rows.iter().zip(have.iter_mut()) {
            *have = have.max(says(row, at, label) * OF_WHAT_IS_ASKED);
        }
        because.push(match at {
            At::Field(port, _) => Because::Port(port),
            at => Because::Number(at),
        });
        true
    }

    /// The port that has most of the words which a part does not have otherwise.
    fn port_of_words(&self, id: PartId, have: &mut [f32; MOST_WORDS], because: &mut Vec<Because>) {
        let gain = |spec: u32| -> f32 {
            let rows = self.rows.iter().zip(have.iter());
            rows.filter(|(_, have)| **have <= 0.0).map(|(row, _)| row.weight * row.spec(spec)).sum()
        };
        let ports =
            self.entries.specs_of(id).iter().enumerate().map(|(port, spec)| (gain(*spec), port, *spec));
        // of several that say as much the first
        let best = ports.reduce(|a, b| if b.0 > a.0 { b } else { a });
        let Some((_, port, spec)) = best.filter(|(gain, ..)| *gain > 0.0) else { return };
        for (row, have) in self.rows.iter().zip(have.iter_mut()) {
            *have = have.max(row.spec(spec) * IN_PORT);
        }
        because.push(Because::Port(u16::try_from(port).unwrap_or(u16::MAX)));
    }
}

/// How well a query as a whole agrees with one of some names as a whole.
fn whole(names: &[Vec<u32>], rows: &[Row]) -> f32 {
    let of = |name: &Vec<u32>| {
        let is_alike =
            |row: &Row, word: &u32| row.word.alike.iter().any(|(known, how)| *how > 0.5 && known == word);
        let asked = rows.iter().filter(|row| name.iter().any(|word| is_alike(row, word))).count();
        // two words of the same meaning are no two words of a name
        let shared = asked.min(name.iter().filter(|word| rows.iter().any(|row| is_alike(row, word))).count());
        let union = rows.len() + name.len() - shared.min(name.len());
        if union == 0 { 0.0 } else { shared as f32 / union as f32 }
    };
    names.iter().map(of).fold(0.0, f32::max).min(1.0)
}

/// How the price of a part stands to what was asked; open where it has none, or one of another currency.
fn priced(part: &PartEntry, asked: &PriceAsked) -> Verdict3 {
    let Some(price) = &part.part.price else { return Verdict3::Open };
    if asked.currency.as_ref().is_some_and(|currency| *currency != price.currency) {
        return Verdict3::Open;
    }
    let Some(amount) = price.amount.to_f64() else { return Verdict3::Open };
    asked.span.holds(amount, amount)
}
