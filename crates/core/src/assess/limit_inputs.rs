//! What a limit reads, and where: figures of parts and places, facts of the vehicle, pools, sums of them.
//!
//! A fact of the vehicle is, the first of these that says it: what a part sets that the plan puts in; what was measured on
//! the vehicle; what a part sets that was found on it; what the library says of the vehicle.

use std::borrow::Cow;

use smallvec::SmallVec;

use super::bench::Bench;
use super::fills::Overlay;
use super::limits::Silent;
use crate::catalogue::{FigureId, LimitInput, PartId, PoolId, PositionId, RunId};
use crate::quantity::Quantity;
use crate::value::Value;

/// A single thing that a limit reads of a vehicle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Reading {
    /// A figure at a position.
    Figure(PositionId, FigureId),
    /// A fact of the vehicle.
    Fact(FigureId),
    /// What is taken from a pool.
    Pool(PoolId),
}

/// Figures that are not known, and how to measure them where that is said of them in particular.
pub(super) type Missing = SmallVec<[(FigureId, String); 2]>;

impl<'a> Bench<'a> {
    /// What an input of a limit reads here; `None` where it is fixed, a sum, or at a place the vehicle does not have.
    pub(super) fn reading(&self, run: RunId, input: &LimitInput) -> Option<Reading> {
        match input {
            LimitInput::Figure { slot, figure, .. } => {
                Some(Reading::Figure(self.v.limits[run].slots[*slot]?, *figure))
            }
            LimitInput::Fact { figure, .. } => Some(Reading::Fact(*figure)),
            LimitInput::Pool(pool) => Some(Reading::Pool(*pool)),
            LimitInput::Fixed(_) | LimitInput::Sum { .. } => None,
        }
    }

    /// The value of an input, with one reading set to another value where one is. `None` where it is not known, which is
    /// then noted.
    ///
    /// # Errors
    /// Where the limit is not about this vehicle and what is fitted.
    pub(super) fn read_input<'i>(
        &'i self,
        run: RunId,
        input: &'i LimitInput,
        overlay: &Overlay,
        set: Option<(Reading, &Value)>,
        missing: &mut Missing,
    ) -> Result<Option<Cow<'i, Value>>, Silent> {
        let reading = self.reading(run, input);
        if let Some((_, value)) = set.filter(|(other, _)| Some(*other) == reading) {
            return Ok(Some(Cow::Owned(value.clone())));
        }
        match input {
            LimitInput::Fixed(value) => Ok(Some(Cow::Borrowed(value))),
            LimitInput::Pool(pool) => Ok(Some(Cow::Owned(self.taken(*pool, overlay)))),
            LimitInput::Fact { figure, otherwise } => {
                let said = self.fact(*figure, overlay).or(otherwise.as_ref().map(Cow::Borrowed));
                Ok(known(*figure, Some(said.ok_or(Silent::NotAbout)?), missing))
            }
            LimitInput::Figure { slot, figure, optional, otherwise } => {
                let pos = self.v.limits[run].slots[*slot];
                let part = pos.and_then(|pos| self.tried(overlay, pos));
                let said = pos.and_then(|pos| self.figure_at(pos, part, *figure));
                if said.is_none() && part.is_none() {
                    return otherwise.as_ref().map(|v| Some(Cow::Borrowed(v))).ok_or(Silent::NotAbout);
                }
                if said.is_none() && *optional {
                    return Err(pos.map_or(Silent::NotAbout, Silent::Lacks));
                }
                Ok(known(*figure, said.map(Cow::Borrowed), missing))
            }
            LimitInput::Sum { add, less } => {
                let mut sum: Option<Quantity> = None;
                let terms = add.iter().map(|term| (term, 1.0)).chain(less.iter().map(|term| (term, -1.0)));
                for (term, sign) in terms {
                    let Some(value) = self.read_input(run, term, overlay, set, missing)? else { continue };
                    let Some((dimension, (low, high))) = value.dimension().zip(value.bounds()) else {
                        missing.extend(figure_of(term).map(|figure| (figure, String::new())));
                        continue;
                    };
                    let sum = sum.get_or_insert_with(|| Quantity {
                        dimension,
                        si: 0.0,
                        tolerance: 0.0,
                        text: String::new(),
                    });
                    sum.si += sign * f64::midpoint(low, high);
                    sum.tolerance += (high - low) / 2.0;
                }
                Ok(sum.map(|sum| Cow::Owned(Value::Quantity(sum))))
            }
        }
    }

    /// A figure at a position: of the part there, measured on it or as the library has it; else of the place itself.
    pub(super) fn figure_at(
        &self,
        pos: PositionId,
        part: Option<PartId>,
        figure: FigureId,
    ) -> Option<&Value> {
        let of_part = part.and_then(|part| self.figure_of(part, figure));
        of_part.or_else(|| self.ground.place_figure(pos, figure))
    }

    /// A fact of the vehicle with some parts tried in their places; `None` where nobody says.
    pub(super) fn fact(&self, figure: FigureId, overlay: &Overlay) -> Option<Cow<'_, Value>> {
        let Some(classes) = self.cat.set_by.get(&figure) else {
            return self.ground.fact(figure).map(Cow::Borrowed);
        };
        let places = classes.iter().flat_map(|class| self.v.by_class.of(*class)).copied();
        let (mut new, mut old) = (Vec::new(), Vec::new());
        for pos in places {
            let tried = overlay.iter().any(|(p, _)| *p == pos);
            let Some(part) = self.tried(overlay, pos) else { continue };
            let list = if tried || self.slot(pos).changed { &mut new } else { &mut old };
            list.extend(self.set_by(part, figure).map(|value| (part, value)));
        }
        let added = self.added().map(|comp| comp.part);
        new.extend(added.filter_map(|part| Some((part, self.set_by(part, figure)?))));
        let library = || self.v.facts.get(&figure).map(Cow::Borrowed);
        let measured = || self.ground.facts.get(&figure).map(Cow::Borrowed);
        self.agreed(&new).or_else(measured).or_else(|| self.agreed(&old)).or_else(library)
    }

    fn set_by(&self, part: PartId, figure: FigureId) -> Option<&Value> {
        self.part(part).sets.iter().find(|(f, _)| *f == figure).map(|(_, value)| value)
    }

    /// What several parts set: the one value, or unknown where they do not agree.
    fn agreed<'v>(&self, set: &[(PartId, &'v Value)]) -> Option<Cow<'v, Value>> {
        let (first, value) = set.first()?;
        let other = set.iter().find(|(_, other)| other.text() != value.text());
        Some(match other {
            None => Cow::Borrowed(*value),
            Some((other, _)) => {
                let how = format!("{} and {} both set it: measure it", self.name(*first), self.name(*other));
                Cow::Owned(Value::Unknown(how))
            }
        })
    }
}

fn known<'v>(
    figure: FigureId,
    value: Option<Cow<'v, Value>>,
    missing: &mut Missing,
) -> Option<Cow<'v, Value>> {
    match value.as_deref() {
        Some(Value::Unknown(how)) => missing.push((figure, how.clone())),
        None => missing.push((figure, String::new())),
        Some(_) => return value,
    }
    None
}

fn figure_of(input: &LimitInput) -> Option<FigureId> {
    match input {
        LimitInput::Figure { figure, .. } | LimitInput::Fact { figure, .. } => Some(*figure),
        _ => None,
    }
}

#[cfg(test)]
mod tests;
