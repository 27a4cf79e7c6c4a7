//! A field of the fit-up page: any unit as typed, checked while typing, the last good value kept.

use std::borrow::Cow;

use knockon_core::figure::{Input, Takes};
use knockon_core::profile;
use knockon_core::quantity::Quantity;
use knockon_core::showing::{Measure, show};
use knockon_core::units::Dimension;
use knockon_core::value::{Kind, Value};
use knockon_figures::tyres::{self, TyreSize};
use serde_json::Value as Json;
use uom::si::angle::radian;
use uom::si::f64::{Angle, Length};
use uom::si::length::meter;

use crate::wording;

/// What a field takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ask {
    /// A number with a unit.
    Quantity(Dimension),
    /// From and to.
    Window(Dimension),
    /// Points of rotor speed and current, with commas between.
    Curve,
    /// Bare numbers, with commas between.
    Ratios,
    /// A tyre size.
    Tyre,
    /// Points of a measured outline, or "none".
    Outline,
    /// A setting, what can be set, or "none".
    Setting(Dimension),
    /// What an input of a figure takes: the figure reads it.
    Input(Takes),
}

/// In a field for something that is not there.
pub const NONE: &str = "none";

/// A value that was read.
#[derive(Clone, Debug, PartialEq)]
pub enum Good {
    /// In SI.
    Number(f64),
    /// Least and most, SI.
    Window(f64, f64),
    /// Rotor speed in rev/min, current in A.
    Curve(Vec<(f64, f64)>),
    /// Bare numbers.
    List(Vec<f64>),
    /// A tyre.
    Tyre(TyreSize),
    /// Points along the axle and in radius, m; empty where none were measured.
    Points(Vec<(f64, f64)>),
    /// Least and most that can be set, SI; `None`: it is not there.
    Setting(Option<(f64, f64)>),
    /// For a figure, as written.
    Said(String),
    /// Nothing could be read.
    Missing,
}

/// A value found on the vehicle.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Found {
    /// As written.
    pub text: String,
    /// The part it is a figure of, or that it is a fact of the vehicle.
    pub of: String,
    /// What it is the sum of: part and amount.
    pub parts: Vec<(String, String)>,
}

impl Found {
    /// A value of one part.
    pub fn new(text: String, of: String) -> Self {
        Self { text, of, parts: Vec::new() }
    }
}

/// A field.
#[derive(Clone, Debug)]
pub struct Field {
    /// How the calculation asks for it.
    pub id: &'static str,
    /// As shown.
    pub name: Cow<'static, str>,
    /// What it is, where the name does not say it all.
    pub meaning: &'static str,
    /// What it takes.
    pub ask: Ask,
    /// In the field.
    pub text: String,
    /// Where its first value is from; `None`: an example.
    pub of: Option<String>,
    /// What that value is the sum of: part and amount.
    pub parts: Vec<(String, String)>,
    /// Said while nobody wrote in it and the vehicle has no value.
    pub hint: Option<&'static str>,
    /// The value drawn.
    pub good: Good,
    /// Why the text is not drawn.
    pub trouble: Option<String>,
    /// Written in by the user.
    pub touched: bool,
    /// The value drawn was written in by the user.
    own: bool,
    /// Asked or chosen by whoever sits here: no fact of the vehicle.
    choice: bool,
    /// As typed, whatever system it is shown in.
    typed: String,
    /// The value drawn, as typed.
    kept: String,
}

impl Field {
    /// A field that begins with what was found on the vehicle, else with an example.
    pub fn new(
        id: &'static str,
        name: &'static str,
        ask: Ask,
        example: &'static str,
        found: Option<Found>,
    ) -> Self {
        let found =
            found.and_then(|f| read(&f.text, ask).ok().map(|good| (f.text, Some(f.of), f.parts, good)));
        let (typed, of, parts, good) = found.unwrap_or_else(|| {
            (example.to_owned(), None, Vec::new(), read(example, ask).unwrap_or(Good::Missing))
        });
        let (text, kept) = (typed.clone(), typed.clone());
        Self {
            id,
            name: Cow::Borrowed(name),
            meaning: "",
            ask,
            text,
            of,
            parts,
            hint: None,
            good,
            trouble: None,
            touched: false,
            own: false,
            choice: false,
            typed,
            kept,
        }
    }

    /// An input of a figure, with its usual value or an example.
    pub fn of_figure(input: &'static Input) -> Self {
        let usual = input.default.filter(|default| *default != "unknown");
        let text = if input.default.is_some() { usual.unwrap_or("unknown") } else { input.example };
        let mut field = Self::new(input.name, "", Ask::Input(input.takes), text, None);
        field.name = wording::sentence(&input.name.replace('-', " ")).into();
        field.meaning = input.meaning;
        field.hint = match (usual, input.default) {
            (Some(_), _) => Some("usual, yours to change"),
            (None, Some(_)) => Some("may stay unknown"),
            (None, None) => Some("an example"),
        };
        field
    }

    /// The same with words of its own in place of "An example".
    pub fn hint(mut self, hint: &'static str) -> Self {
        self.hint = Some(hint);
        self
    }

    /// The same as something asked or chosen: a speed to look at, a spacer to put in.
    pub fn choice(mut self) -> Self {
        self.choice = true;
        self
    }

    /// The value drawn should be a fact of the vehicle and is an example.
    pub fn example(&self) -> bool {
        !self.own && self.of.is_none() && self.hint.is_none() && !self.choice
    }

    /// Said where nobody wrote in it and the vehicle has no value.
    pub fn note(&self) -> &'static str {
        let plain =
            if self.choice { "To begin with; yours to choose" } else { "An example, not from this vehicle" };
        self.hint.unwrap_or(plain)
    }

    /// A length.
    pub fn length(id: &'static str, name: &'static str, example: &'static str, found: Option<Found>) -> Self {
        Self::new(id, name, Ask::Quantity(Dimension::Length), example, found)
    }

    /// A number of another dimension, without a place on the vehicle that would have it.
    pub fn number(id: &'static str, name: &'static str, dimension: Dimension, example: &'static str) -> Self {
        Self::new(id, name, Ask::Quantity(dimension), example, None)
    }

    /// The text in the user's system, unless something is wrong with it.
    pub fn show_in(&mut self, measure: Measure) {
        if self.trouble.is_none() {
            self.text = self.in_measure(&self.typed, measure);
        }
    }

    /// The value drawn, in the user's system.
    pub fn drawn(&self, measure: Measure) -> String {
        self.in_measure(&self.kept, measure)
    }

    fn in_measure(&self, text: &str, measure: Measure) -> String {
        match self.ask {
            Ask::Quantity(_) | Ask::Window(_) | Ask::Setting(_) => show(text, measure),
            Ask::Input(Takes::One(_)) => show(text, measure),
            Ask::Curve | Ask::Ratios | Ask::Tyre | Ask::Outline | Ask::Input(_) => text.to_owned(),
        }
    }

    /// What the user wrote in it, whatever system it is shown in.
    pub fn written(&self) -> Option<&str> {
        self.touched.then_some(self.typed.as_str())
    }

    /// The user wrote in it.
    pub fn typed_in(&mut self) {
        self.typed = self.text.clone();
        self.touched = true;
    }
}

/// Reads every field that was written in or is in trouble; what cannot be read or worked with says why in its place,
/// and the value before stays.
pub fn settle(fields: &mut [Field], changed: usize, works: impl Fn(&[Field]) -> Result<(), String>) {
    for at in 0..fields.len() {
        let Some(field) = fields.get_mut(at) else { continue };
        if at != changed && field.trouble.is_none() {
            continue;
        }
        match read(&field.typed, field.ask) {
            Err(why) => field.trouble = Some(why),
            Ok(good) => {
                let before = std::mem::replace(&mut field.good, good);
                field.trouble = None;
                field.typed = taken(&field.typed, field.ask);
                let outcome = works(fields);
                if let Some(field) = fields.get_mut(at) {
                    match outcome {
                        Ok(()) => {
                            field.kept.clone_from(&field.typed);
                            field.own = true;
                        }
                        Err(why) => {
                            field.good = before;
                            field.trouble = Some(why);
                        }
                    }
                }
            }
        }
    }
}

fn pieces(text: &str) -> impl Iterator<Item = &str> {
    text.split([',', ';']).map(str::trim).filter(|piece| !piece.is_empty())
}

fn is_none(text: &str) -> bool {
    text.trim().eq_ignore_ascii_case(NONE)
}

/// A text that was read, as it can be shown in the other system too: "12.25 in" for "12,25 in".
fn taken(text: &str, ask: Ask) -> String {
    match ask {
        Ask::Quantity(dimension) | Ask::Window(dimension) | Ask::Input(Takes::One(dimension)) => {
            Value::taken(text, Kind::Dimension(dimension))
        }
        _ => Err(String::new()),
    }
    .unwrap_or_else(|_| text.to_owned())
}

/// Reads a text.
fn read(text: &str, ask: Ask) -> Result<Good, String> {
    match ask {
        Ask::Quantity(dimension) => {
            Quantity::typed(text, dimension).map(|q| Good::Number(q.si)).map_err(|e| e.to_string())
        }
        Ask::Window(dimension) => {
            let kind = Kind::Dimension(dimension);
            let value = Value::read_text(&Value::taken(text, kind)?, kind)?;
            let (low, high) = value.bounds().ok_or("expected a value such as \"4 to 7 psi\"")?;
            Ok(Good::Window(low, high))
        }
        Ask::Curve => {
            let points = pieces(text).map(|p| Json::String(p.to_owned())).collect();
            match Value::read(&Json::Array(points), Kind::Curve)? {
                Value::Curve(points) if !points.is_empty() => {
                    let rpm = |si: f64| si * 60.0 / std::f64::consts::TAU;
                    Ok(Good::Curve(points.into_iter().map(|(x, y)| (rpm(x), y)).collect()))
                }
                _ => Err("expected points such as \"1300 rpm: 17 A, 2400 rpm: 35 A\"".to_owned()),
            }
        }
        Ask::Ratios => {
            let one = |p| Quantity::parse_as(p, Dimension::Ratio).map(|q| q.si).map_err(|e| e.to_string());
            let list = pieces(text).map(one).collect::<Result<Vec<f64>, String>>()?;
            if list.is_empty() {
                Err("expected ratios such as \"2.94, 1.68, 1.00\"".to_owned())
            } else {
                Ok(Good::List(list))
            }
        }
        Ask::Outline if is_none(text) => Ok(Good::Points(Vec::new())),
        Ask::Outline => profile::read(text).map(Good::Points),
        Ask::Setting(_) if is_none(text) => Ok(Good::Setting(None)),
        Ask::Setting(dimension) => {
            let value = Value::read_text(text, Kind::Dimension(dimension))?;
            let bounds = value.bounds().ok_or("expected \"none\" or a value such as \"3 psi\"")?;
            // a tolerance on a setting is no range it can be set in
            let middle = f64::midpoint(bounds.0, bounds.1);
            let range = if matches!(value, Value::Window { .. }) { bounds } else { (middle, middle) };
            Ok(Good::Setting(Some(range)))
        }
        Ask::Input(_) => Ok(Good::Said(text.to_owned())),
        Ask::Tyre => tyres::parse(text).map(Good::Tyre).map_err(|e| e.to_string()),
    }
}

/// The values of the fields by id.
#[derive(Clone, Copy)]
pub struct Values<'a>(pub &'a [Field]);

impl Values<'_> {
    fn field(&self, id: &str) -> Result<&Field, String> {
        self.0.iter().find(|f| f.id == id).ok_or_else(|| format!("{id} is not given"))
    }

    /// A number in SI.
    pub fn number(&self, id: &str) -> Result<f64, String> {
        match self.field(id)? {
            Field { good: Good::Number(si), .. } => Ok(*si),
            field => Err(format!("{} is not given", field.name)),
        }
    }

    /// A length.
    pub fn length(&self, id: &str) -> Result<Length, String> {
        self.number(id).map(Length::new::<meter>)
    }

    /// An angle.
    pub fn angle(&self, id: &str) -> Result<Angle, String> {
        self.number(id).map(Angle::new::<radian>)
    }

    /// A speed of rotation, rev/min.
    pub fn rpm(&self, id: &str) -> Result<f64, String> {
        self.number(id).map(|si| si * 60.0 / std::f64::consts::TAU)
    }

    /// A window, SI.
    pub fn window(&self, id: &str) -> Result<(f64, f64), String> {
        match self.field(id)? {
            Field { good: Good::Window(low, high), .. } => Ok((*low, *high)),
            field => Err(format!("{} is not given", field.name)),
        }
    }

    /// A curve: rev/min and A.
    pub fn curve(&self, id: &str) -> Result<Vec<(f64, f64)>, String> {
        match self.field(id)? {
            Field { good: Good::Curve(points), .. } => Ok(points.clone()),
            field => Err(format!("{} is not given", field.name)),
        }
    }

    /// Bare numbers.
    pub fn list(&self, id: &str) -> Result<Vec<f64>, String> {
        match self.field(id)? {
            Field { good: Good::List(list), .. } => Ok(list.clone()),
            field => Err(format!("{} is not given", field.name)),
        }
    }

    /// Points of a measured outline, m; empty where none were measured.
    pub fn points(&self, id: &str) -> Result<&[(f64, f64)], String> {
        match self.field(id)? {
            Field { good: Good::Points(points), .. } => Ok(points),
            field => Err(format!("{} is not given", field.name)),
        }
    }

    /// What can be set, SI; `None` where it is not there.
    pub fn setting(&self, id: &str) -> Result<Option<(f64, f64)>, String> {
        match self.field(id)? {
            Field { good: Good::Setting(range), .. } => Ok(*range),
            field => Err(format!("{} is not given", field.name)),
        }
    }

    /// A tyre.
    pub fn tyre(&self, id: &str) -> Result<TyreSize, String> {
        match self.field(id)? {
            Field { good: Good::Tyre(tyre), .. } => Ok(*tyre),
            field => Err(format!("{} is not given", field.name)),
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn two() -> Vec<Field> {
        vec![Field::length("a", "A", "100 mm", None), Field::length("b", "B", "2 in", None)]
    }

    fn type_in(fields: &mut [Field], at: usize, text: &str, most: f64) {
        fields[at].text = text.to_owned();
        fields[at].typed_in();
        settle(fields, at, |f| {
            let sum = Values(f).number("a")? + Values(f).number("b")?;
            if sum <= most { Ok(()) } else { Err("too much together".to_owned()) }
        });
    }

    #[test]
    fn nonsense_and_the_impossible_leave_a_message_and_the_last_good_value() {
        let mut fields = two();
        for (text, wanted) in [("", "expected"), ("12 psi", "length"), ("9 m", "too much")] {
            type_in(&mut fields, 0, text, 1.0);
            assert!(fields[0].trouble.as_ref().unwrap().contains(wanted), "{text}: {:?}", fields[0].trouble);
            assert_eq!(Values(&fields).number("a").unwrap(), 0.1);
            assert_eq!(fields[0].drawn(Measure::Metric), "100 mm");
        }
        type_in(&mut fields, 0, "4 in", 1.0);
        assert_eq!((Values(&fields).number("a").unwrap(), fields[0].trouble.as_ref()), (0.1016, None));
    }

    #[test]
    fn an_example_stays_one_until_a_value_is_written_that_is_drawn() {
        let mut fields = two();
        assert!(fields[0].example() && !two().remove(0).choice().example());
        type_in(&mut fields, 0, "12 psi", 1.0);
        assert!(fields[0].example());
        type_in(&mut fields, 0, "100 mm", 1.0);
        assert!(!fields[0].example() && fields[1].example());
        let found = Found::new("3 in".to_owned(), "Wheel".to_owned());
        assert!(!Field::length("c", "C", "1 in", Some(found)).example());
    }

    #[test]
    fn another_field_can_make_a_value_possible() {
        let mut fields = two();
        type_in(&mut fields, 1, "900 mm", 0.95);
        assert!(fields[1].trouble.is_some());
        type_in(&mut fields, 0, "10 mm", 0.95);
        assert!(fields[1].trouble.is_none());
        assert_eq!(Values(&fields).number("b").unwrap(), 0.9);
    }

    #[test]
    fn both_systems_and_back_without_drift() {
        let mut field = Field::length("a", "A", "311 mm", None);
        field.show_in(Measure::Inch);
        assert_eq!(field.text, "12.24 in");
        field.show_in(Measure::Metric);
        assert_eq!((field.text.as_str(), &field.good), ("311 mm", &Good::Number(0.311)));
    }

    #[test]
    fn every_kind_is_read_and_refused() {
        assert_eq!(read("2.94, 1.00", Ask::Ratios), Ok(Good::List(vec![2.94, 1.0])));
        let Ok(Good::Curve(points)) = read("1300 rpm: 17 A, 2400 rpm: 35 A", Ask::Curve) else {
            unreachable!()
        };
        assert!((points[1].0 - 2400.0).abs() < 1e-9 && points[1].1 == 35.0);
        let psi = Ask::Window(Dimension::Pressure);
        assert!(matches!(read("4 to 7 psi", psi), Ok(Good::Window(low, high)) if low < high));
        let set = Ask::Setting(Dimension::Pressure);
        assert_eq!(read(" None ", set), Ok(Good::Setting(None)));
        assert!(matches!(read("3 psi", set), Ok(Good::Setting(Some((low, high)))) if low == high));
        assert!(matches!(read("set 1.5 to 4 psi", set), Ok(Good::Setting(Some((low, high)))) if low < high));
        assert_eq!(read("none", Ask::Outline), Ok(Good::Points(Vec::new())));
        assert!(matches!(read("0 178; 20 176 mm", Ask::Outline), Ok(Good::Points(p)) if p.len() == 2));
        for (text, ask) in [
            ("x", Ask::Ratios),
            (",", Ask::Ratios),
            ("", Ask::Curve),
            ("17 A", Ask::Curve),
            ("unknown", psi),
            ("huge", Ask::Tyre),
            ("", set),
            ("3 mm", set),
            ("unknown", set),
            ("any", set),
            ("0 178; 20 176", Ask::Outline),
            ("", Ask::Outline),
        ] {
            assert!(read(text, ask).is_err(), "{text}");
        }
    }
}
