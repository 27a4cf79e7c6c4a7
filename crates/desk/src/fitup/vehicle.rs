//! What the fitted parts and the vehicle have of the figures that the fit-up page begins with.

use std::borrow::Cow;

use knockon_core::assessment::Assessment;
use knockon_core::catalogue::{PartEntry, VehicleEntry};
use knockon_core::{Catalogue, Sheet};
use serde_json::Value as Json;

use super::field::Found;

/// The vehicle of the sheet with what is fitted in the end.
pub struct Vehicle<'a> {
    catalogue: Cow<'a, Catalogue>,
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
        let position = self.entry()?.positions.iter().find(|p| p.class == class)?;
        let here = self.a.positions.iter().find(|p| p.id == position.id)?;
        let (id, _) = if as_found { here.as_found.as_ref()? } else { here.fitted.as_ref()? };
        self.catalogue.part(id)
    }

    /// A figure of the part fitted for a class.
    pub fn figure(&self, class: &str, figure: &str) -> Option<Found> {
        let part = &self.part(class, false)?.part;
        Some(Found { text: plain(part.figures.get(figure)?)?, of: part.name.clone() })
    }

    /// A field of a port of the part fitted for a class.
    pub fn port(&self, class: &str, port: &str, field: &str) -> Option<Found> {
        let part = &self.part(class, false)?.part;
        Some(Found { text: plain(part.ports.get(port)?.fields.get(field)?)?, of: part.name.clone() })
    }

    /// A fact measured on the vehicle.
    pub fn fact(&self, figure: &str) -> Option<Found> {
        let entry = self.entry()?;
        let value = entry.facts.get(&self.catalogue.figure_names.get(figure)?)?;
        Some(Found { text: value.text(), of: entry.name.clone() })
    }

    /// The word of a part's name that reads as something: tyres carry their size in the name.
    pub fn in_name(&self, class: &str, as_found: bool, reads: impl Fn(&str) -> bool) -> Option<Found> {
        let name = &self.part(class, as_found)?.part.name;
        let words = name.split([' ', ',']).filter(|word| word.chars().any(|c| c.is_ascii_digit()));
        let word = words.into_iter().find(|word| reads(word))?;
        Some(Found { text: word.to_owned(), of: name.clone() })
    }

    /// A tyre lies in the position of a class, and it is not the one the vehicle came with.
    pub fn exchanged(&self, class: &str) -> bool {
        let name = |as_found| self.part(class, as_found).map(|entry| &entry.part.name);
        name(true) != name(false)
    }
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

/// Two figures of one part in one list; `None` unless both are there.
pub fn joined(first: Option<Found>, second: Option<Found>) -> Option<Found> {
    let (first, second) = (first?, second?);
    Some(Found { text: format!("{}, {}", first.text, second.text), of: first.of })
}
