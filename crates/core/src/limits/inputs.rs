//! The inputs of one run of a limit: read by name, handed to the formulas as typed quantities.

use std::borrow::Cow;
use std::cell::Cell;

use knockon_figures::wheels::ProfilePoint;
use uom::si::angle::radian;
use uom::si::area::square_meter;
use uom::si::electric_current::ampere;
use uom::si::f64::{
    Angle, Area, ElectricCurrent, Length, LinearNumberDensity, Mass, Pressure, Velocity, VolumeRate,
};
use uom::si::length::meter;
use uom::si::linear_number_density::per_meter;
use uom::si::mass::kilogram;
use uom::si::pressure::pascal;
use uom::si::velocity::meter_per_second;
use uom::si::volume_rate::cubic_meter_per_second;

use super::{Text, Words};
use crate::phrase::{Number, Phrase, Piece};
use crate::value::{Kind, Value};

/// Uncertain inputs looked at together; more are taken one by one.
const MOST_CORNERS: usize = 6;

/// An input by name: what it is, the number in it that is tried, whether it is read from end to end.
#[derive(Clone, Debug)]
struct Item<'a> {
    name: &'a str,
    value: Cow<'a, Value>,
    tried: Option<f64>,
    window: bool,
}

/// The inputs of a calculation by name, each a value and the number in it that is tried.
#[derive(Clone, Debug, Default)]
pub struct Inputs<'a> {
    list: Vec<Item<'a>>,
    words: bool,
    /// What the calculation has told of how far it is beyond its bound.
    beyond: Cell<i64>,
}

fn meters(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn middle(value: &Value) -> Option<f64> {
    value.bounds().map(|(a, b)| f64::midpoint(a, b))
}

impl<'a> Inputs<'a> {
    /// No inputs yet; with `words` the answer says its figures.
    #[must_use]
    pub fn new(words: bool) -> Self {
        Self { list: Vec::with_capacity(9), words, beyond: Cell::new(0) }
    }

    /// Adds an input, taken at the middle of its tolerance.
    pub fn add(&mut self, name: &'a str, value: Cow<'a, Value>) {
        let tried = middle(&value);
        self.list.push(Item { name, value, tried, window: false });
    }

    /// From here on the input is read from end to end, and its two ends are no tolerance.
    pub(super) fn as_window(&mut self, name: &str) {
        for item in self.list.iter_mut().filter(|i| i.name == name) {
            item.window = true;
            item.tried = None;
        }
    }

    /// A calculation of which the nearest goes in, of several parts that do not hold, tells how far it is beyond its bound, as
    /// a share of what is wanted; 0 or less: it holds.
    pub(super) fn is_beyond(&self, share: f64) {
        self.beyond.set((share.max(0.0) * 1e4).round() as i64);
    }

    /// What was told of that last, in hundredths of a per cent.
    pub(super) fn beyond(&self) -> i64 {
        self.beyond.get()
    }

    pub(super) fn place(&self, name: &str) -> Option<usize> {
        self.list.iter().position(|i| i.name == name)
    }

    pub(super) fn name(&self, at: usize) -> &'a str {
        self.list.get(at).map_or("", |i| i.name)
    }

    pub(super) fn value(&self, name: &str) -> Option<&Value> {
        self.list.iter().find(|i| i.name == name).map(|i| &*i.value)
    }

    /// Tries an input at a number, SI.
    pub(super) fn try_at(&mut self, at: usize, number: f64) {
        if let Some(item) = self.list.get_mut(at) {
            item.tried = Some(number);
        }
    }

    /// Every input back to the middle of its tolerance.
    pub(super) fn reset(&mut self) {
        for item in &mut self.list {
            item.tried = if item.window { None } else { middle(&item.value) };
        }
    }

    /// Half the width of an input's tolerance, SI.
    pub(super) fn half_width(&self, at: usize) -> f64 {
        self.list.get(at).and_then(|i| i.value.bounds()).map_or(0.0, |(a, b)| (b - a) / 2.0)
    }

    /// Stops words, and says whether they were wanted.
    pub(super) fn take_words(&mut self) -> bool {
        std::mem::take(&mut self.words)
    }

    pub(super) fn kind(&self, name: &str) -> Option<Kind> {
        match self.value(name) {
            Some(Value::Quantity(q)) => Some(Kind::Dimension(q.dimension)),
            _ => None,
        }
    }

    /// The number of an input as it is told.
    pub(super) fn shown(&self, name: &str) -> Piece {
        self.number(name).map_or_else(Piece::from, |x| Number::of(x, self.kind(name)).into())
    }

    /// The same where it is compared with another, SI.
    pub(super) fn beside(&self, name: &str, other: f64) -> Piece {
        match self.shown(name) {
            Piece::Number(number) => number.beside(other).into(),
            piece => piece,
        }
    }

    /// An input as it is written.
    pub(super) fn written(&self, name: &str) -> Piece {
        self.value(name).map_or_else(|| Piece::from(""), Piece::from)
    }

    /// Whether words are wanted.
    pub(super) fn says_words(&self) -> bool {
        self.words
    }

    /// The number that is tried, as a list of one.
    pub(super) fn one_number(&self, name: &str) -> &[f64] {
        let item = self.list.iter().find(|i| i.name == name);
        item.and_then(|i| i.tried.as_ref()).map_or(&[], std::slice::from_ref)
    }

    /// The points of a curve or outline, SI.
    pub(super) fn points(&self, name: &str) -> &[(f64, f64)] {
        match self.value(name) {
            Some(Value::Curve(points)) => points,
            _ => &[],
        }
    }

    /// The words of an answer, made only where they are wanted.
    pub(super) fn say(&self, text: impl FnOnce() -> Phrase) -> Words {
        self.words.then(|| Text(text()))
    }

    /// Places of the inputs whose tolerance leaves them open, but for one.
    pub(super) fn uncertain(&self, but: Option<usize>) -> Vec<usize> {
        let wide = |v: &Value| v.bounds().is_some_and(|(a, b)| b - a > 1e-12 * a.abs().max(b.abs()));
        let open = |i: &usize| !self.list[*i].window && Some(*i) != but && wide(&self.list[*i].value);
        (0..self.list.len()).filter(open).take(MOST_CORNERS).collect()
    }

    /// Sets the numbers to a corner: each uncertain input at one end of its tolerance, which is scaled by `share`.
    pub(super) fn set_corner(&mut self, uncertain: &[usize], corner: usize, share: f64) {
        for (bit, at) in uncertain.iter().enumerate() {
            let Some(item) = self.list.get_mut(*at) else { continue };
            if let Some((low, high)) = item.value.bounds() {
                let half = (high - low) / 2.0 * share;
                let side = if corner >> bit & 1 == 0 { -half } else { half };
                item.tried = Some(f64::midpoint(low, high) + side);
            }
        }
    }

    /// The number that is tried, SI.
    pub(super) fn number(&self, name: &str) -> Result<f64, String> {
        let found = self.list.iter().find(|i| i.name == name).and_then(|i| i.tried);
        match found {
            Some(x) if x.is_finite() => Ok(x),
            Some(x) => Err(format!("{name}: found {x}, expected a number")),
            None => Err(format!("{name} is not known")),
        }
    }

    /// Least and most of a window, SI; both the number that is tried where one is.
    pub(super) fn window(&self, name: &str) -> Result<(f64, f64), String> {
        let item = self.list.iter().find(|i| i.name == name);
        let bounds = item.and_then(|i| i.tried.map(|x| (x, x)).or_else(|| i.value.bounds()));
        bounds.ok_or_else(|| format!("{name} is not known"))
    }

    /// Speed of rotation, rev/min.
    pub(super) fn rpm(&self, name: &str) -> Result<f64, String> {
        Ok(self.number(name)? * 60.0 / std::f64::consts::TAU)
    }

    /// The points of a curve over a speed of rotation: rev/min and SI.
    pub(super) fn curve(&self, name: &str) -> Result<Vec<(f64, f64)>, String> {
        match self.value(name) {
            Some(Value::Curve(points)) => {
                Ok(points.iter().map(|(x, y)| (x * 60.0 / std::f64::consts::TAU, *y)).collect())
            }
            _ => Err(format!("{name} is not known")),
        }
    }

    /// The points of an outline: along the axle and from its centre.
    pub(super) fn outline(&self, name: &str) -> Result<Vec<ProfilePoint>, String> {
        let Some(Value::Curve(points)) = self.value(name) else { return Err(format!("{name} is not known")) };
        let point = |(z, r): &(f64, f64)| ProfilePoint { z: meters(*z), r: meters(*r) };
        Ok(points.iter().map(point).collect())
    }

    /// A count such as teeth or studs.
    pub(super) fn whole(&self, name: &str) -> Result<u32, String> {
        let x = self.number(name)?.round();
        if (0.0..=1e6).contains(&x) {
            Ok(x as u32)
        } else {
            Err(format!("{name}: found {x}, expected a count"))
        }
    }
}

/// One reader for each quantity.
macro_rules! typed {
    ($($name:ident $quantity:ident $unit:ident;)*) => {
        impl Inputs<'_> {
            $(pub(super) fn $name(&self, name: &str) -> Result<$quantity, String> {
                Ok($quantity::new::<$unit>(self.number(name)?))
            })*
        }
    };
}

typed! {
    length Length meter;
    area Area square_meter;
    mass Mass kilogram;
    pressure Pressure pascal;
    angle Angle radian;
    speed Velocity meter_per_second;
    current ElectricCurrent ampere;
    flow VolumeRate cubic_meter_per_second;
    density LinearNumberDensity per_meter;
}
