//! What holds, and so closely that what is left is said.

use super::bench::{Bench, CheckKey};
use crate::assessment::{Answer, Close};
use crate::catalogue::{Closely, PoolId, RunId};
use crate::phrase;
use crate::phrase::{Number, Phrase};
use crate::units::Dimension;
use crate::value::Kind;

impl Bench<'_> {
    /// Limits and pools that hold with less left than the library says, by key.
    pub(super) fn close(&self) -> Vec<Close> {
        let holds = self.found.checks.iter().filter(|(_, answer, _)| *answer == Answer::Holds);
        let told = holds.filter_map(|(key, _, reason)| {
            let (left, positions) = match key {
                CheckKey::Limit(run) => (self.limit_words(*run)?, self.limit_positions(*run)),
                CheckKey::Pool(pool) => (self.pool_words(*pool)?, self.pool_state(*pool).takers.to_vec()),
                _ => return None,
            };
            Some(Close {
                key: self.check_key(*key),
                name: self.check_name(*key),
                left,
                positions: positions.iter().map(|pos| self.v.positions[*pos].id.clone()).collect(),
                reason: *reason,
            })
        });
        let mut out: Vec<Close> = told.collect();
        out.sort_by(|a, b| a.key.cmp(&b.key));
        out
    }

    /// What is left of a limit that holds; empty where only its figures are said.
    fn limit_words(&self, run: RunId) -> Option<Phrase> {
        match self.limit_of(run).close.as_ref()? {
            Closely::Any => Some(Phrase::default()),
            Closely::Within(most) => {
                let left = self.limit_left(run, most)?;
                Some(words(left, most.dimension))
            }
        }
    }

    fn pool_words(&self, pool: PoolId) -> Option<Phrase> {
        let entry = &self.cat.pools[pool];
        let most = entry.close?;
        let state = self.pool_state(pool);
        let left = state.given - state.taken - entry.margin;
        let Some(Kind::Dimension(dimension)) = Kind::from_word(&entry.def.kind) else { return None };
        (left < most).then(|| words(left.max(0.0), dimension))
    }
}

/// "clears by 4 mm", "3 A to spare".
fn words(left: f64, dimension: Dimension) -> Phrase {
    let left = Number::new(left, dimension).difference();
    if dimension == Dimension::Length { phrase!["clears by ", left] } else { phrase![left, " to spare"] }
}

#[cfg(test)]
mod tests;
