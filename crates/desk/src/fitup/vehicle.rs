//! What the fitted parts and the vehicle have of the figures that the fit-up page begins with.

use knockon_core::assessment::{Assessment, PoolShare};
use knockon_core::catalogue::{ForSheet, PartEntry, VehicleEntry};
use knockon_core::phrase::{Number, Piece};
use knockon_core::showing::Measure;
use knockon_core::value::Value;
use knockon_core::{Catalogue, Sheet};
use serde_json::Value as Json;

use super::field::Found;

/// The vehicle of the sheet with what is fitted in the end.
pub struct Vehicle<'a> {
    catalogue: ForSheet<'a>,
    sheet: &'a Sheet,
    a: &'a Assessment,
}

impl<'a> Vehicle<'a> {
    /// Over a sheet and its assessment.
    pub fn new(catalogue: &'a Catalogue, sheet: &'a Sheet, a: &'a Assessment) -> Self {
        Self { catalogue: catalogue.for_sheet(sheet), sheet, a }
    }

    fn entry(&self) -> Option<&VehicleEntry> {
        self.catalogue.vehicles.get(&self.sheet.vehicle)
    }

    /// The part at the first position of a class, as found or fitted in the end.
    fn part(&self, class: &str, as_found: bool) -> Option<&PartEntry> {
        let class = self.catalogue.class_names.get(class)?;
        let position = self.entry()?.positions.values().find(|p| p.class == class)?;
        let here = self.a.positions.iter().find(|p| p.id == position.id)?;
        let (id, _) = if as_found { here.as_found.as_ref()? } else { here.fitted.as_ref()? };
        self.catalogue.part(id)
    }

    /// A figure of the part fitted for a class.
    pub fn figure(&self, class: &str, figure: &str) -> Option<Found> {
        let part = &self.part(class, false)?.part;
        Some(Found::new(plain(part.figures.get(figure)?)?, part.name.clone()))
    }

    /// An outline of the part fitted for a class, as the fields take it: "-90 207; -80 176 mm".
    pub fn outline(&self, class: &str, figure: &str) -> Option<Found> {
        let entry = self.part(class, false)?;
        let Value::Curve(points) = entry.figure(self.catalogue.figure_names.get(figure)?)? else {
            return None;
        };
        let points: Vec<String> =
            points.iter().map(|(z, r)| format!("{} {}", tenths(*z), tenths(*r))).collect();
        Some(Found::new(format!("{} mm", points.join("; ")), entry.part.name.clone()))
    }

    /// A field of a port of the part fitted for a class.
    pub fn port(&self, class: &str, port: &str, field: &str) -> Option<Found> {
        let part = &self.part(class, false)?.part;
        Some(Found::new(plain(part.ports.get(port)?.fields.get(field)?)?, part.name.clone()))
    }

    /// A fact measured on the vehicle: by its owner, else of its kind.
    pub fn fact(&self, figure: &str) -> Option<Found> {
        if let Some(own) = self.sheet.facts.get(figure).and_then(plain) {
            return Some(known_to(&own, "what you measured"));
        }
        let entry = self.entry()?;
        let value = entry.facts.get(&self.catalogue.figure_names.get(figure)?)?;
        Some(known_to(&value.text(), &entry.name))
    }

    /// A figure of the part at the first position of a class as the vehicle came.
    pub fn figure_as_found(&self, class: &str, figure: &str) -> Option<Found> {
        let part = &self.part(class, true)?.part;
        Some(Found::new(plain(part.figures.get(figure)?)?, part.name.clone()))
    }

    /// Those of some figures that the part fitted for a class has, in one list; `None` unless it has first and last.
    pub fn figures(&self, class: &str, figures: &[&str]) -> Option<Found> {
        let all: Vec<Option<Found>> = figures.iter().map(|figure| self.figure(class, figure)).collect();
        let of = all.first()?.as_ref()?.of.clone();
        all.last()?.as_ref()?;
        let texts: Vec<String> = all.into_iter().flatten().map(|f| f.text).collect();
        Some(Found::new(texts.join(", "), of))
    }

    /// A field of a port of a companion of a class that the plan wants and the owner did not leave out.
    pub fn companion(&self, class: &str, port: &str, field: &str) -> Option<Found> {
        let class = self.catalogue.class_names.get(class)?;
        let wanted = self.a.companions.iter().filter(|c| c.waived.is_none());
        let mut parts =
            wanted.filter_map(|c| self.catalogue.part(&c.part)).filter(|part| part.class == class);
        let part = &parts.next()?.part;
        Some(Found::new(plain(part.ports.get(port)?.fields.get(field)?)?, part.name.clone()))
    }

    /// What is taken from a pool, with who takes it; `None` where nobody is known to.
    pub fn taken(&self, pool: &str) -> Option<Found> {
        let sum = self.a.pools.iter().find(|p| p.id == pool).filter(|p| p.taken > 0.0)?;
        // a field takes either system, and shows the one that is read
        let show = |x: f64| Piece::from(Number::of(x, sum.kind)).say(Measure::Metric);
        let amount = |share: &PoolShare| share.amount.map_or_else(|| "not known".to_owned(), show);
        let name = |share: &PoolShare| {
            if share.qty > 1 { format!("{} x {}", share.qty, share.name) } else { share.name.clone() }
        };
        let parts = sum.takers.iter().map(|share| (name(share), amount(share))).collect();
        let of = if sum.unknown { "the parts of this plan that are known" } else { "the parts of this plan" };
        Some(Found { text: show(sum.taken), of: of.to_owned(), parts })
    }

    /// A tyre lies in the position of a class, and it is not the one the vehicle came with.
    pub fn exchanged(&self, class: &str) -> bool {
        let name = |as_found| self.part(class, as_found).map(|entry| &entry.part.name);
        name(true) != name(false)
    }
}

/// A value whose tolerance stands beside where it is from: a card is drawn for the value alone.
fn known_to(text: &str, of: &str) -> Found {
    match text.split_once('±') {
        Some((value, within)) => Found::new(value.trim().to_owned(), format!("{of}, known to ±{within}")),
        None => Found::new(text.to_owned(), of.to_owned()),
    }
}

/// Millimetres to a tenth, without a zero behind the point.
fn tenths(metres: f64) -> f64 {
    (metres * 1e4).round() / 10.0
}

/// A value of the library as text: a curve becomes its points with commas between.
fn plain(json: &Json) -> Option<String> {
    match json {
        Json::String(text) => Some(text.clone()),
        Json::Number(number) => Some(number.to_string()),
        Json::Array(points) => Some(points.iter().filter_map(Json::as_str).collect::<Vec<_>>().join(", ")),
        _ => None,
    }
}
