//! The library as a sheet wants it: with the parts a user typed in, the words they are written in, and with what was
//! measured at ports.

use std::ops::Deref;
use std::sync::{Arc, Mutex, PoisonError};

use super::measured::AtPorts;
use super::{Catalogue, Fault, build, measured, patterns};
use crate::described::Described;
use crate::library::{
    Class, FigureDef, LibraryFile, LimitDef, NeedDef, Part, PortType, Position, Table, Written,
};
use crate::sheet::Sheet;

/// Name under which the parts of a sheet stand among the files.
pub(crate) const SHEET_PARTS: &str = "parts of the sheet";

/// What a sheet brings to the library: parts, and what they are written in where the library has no word for it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Brought {
    /// Parts, as they are written.
    pub parts: Table<Written<Part>>,
    /// Their classes.
    pub classes: Table<Class>,
    /// Figures of theirs.
    pub figures: Table<FigureDef>,
    /// What they need and offer.
    pub needs: Table<NeedDef>,
    /// How they connect.
    pub port_types: Table<PortType>,
    /// What must hold between them and others.
    pub limits: Table<LimitDef>,
    /// Its vehicle, by id, where that is otherwise than in the library; else no word.
    pub vehicle: String,
    /// How it is otherwise.
    pub described: Described,
}

impl Brought {
    /// What this sheet brings.
    #[must_use]
    pub fn of(sheet: &Sheet) -> Self {
        Self {
            parts: sheet.parts.clone(),
            classes: sheet.classes.clone(),
            figures: sheet.figures.clone(),
            needs: sheet.needs.clone(),
            port_types: sheet.port_types.clone(),
            limits: sheet.limits.clone(),
            vehicle: Self::vehicle_of(sheet).to_owned(),
            described: sheet.described.clone(),
        }
    }

    fn vehicle_of(sheet: &Sheet) -> &str {
        if sheet.described.is_empty() { "" } else { &sheet.vehicle }
    }

    /// Whether it is what this sheet brings.
    fn is_of(&self, sheet: &Sheet) -> bool {
        self.parts == sheet.parts
            && self.classes == sheet.classes
            && self.figures == sheet.figures
            && self.needs == sheet.needs
            && self.port_types == sheet.port_types
            && self.limits == sheet.limits
            && self.vehicle == Self::vehicle_of(sheet)
            && self.described == sheet.described
    }

    /// Nothing, as far as this program reads.
    fn is_nothing(&self) -> bool {
        let words = Described { extra: self.described.extra.clone(), ..Described::default() };
        *self == Self { described: words, ..Self::default() }
    }

    fn file(&self, parts: Table<Part>) -> LibraryFile {
        let own = self.clone();
        LibraryFile {
            format: 1,
            parts,
            classes: own.classes,
            figures: own.figures,
            needs: own.needs,
            port_types: own.port_types,
            limits: own.limits,
            ..LibraryFile::default()
        }
    }
}
/// Sheets kept at a time: what is edited, and what a list still under way reads.
const MOST: usize = 2;

/// The library for a sheet; read it like a [`Catalogue`].
#[derive(Clone, Debug)]
pub enum ForSheet<'a> {
    /// It is the library as it stands.
    Same(&'a Catalogue),
    /// The sheet adds parts to it, or has measured at ports of its parts.
    Grown(Arc<Catalogue>),
}

impl Deref for ForSheet<'_> {
    type Target = Catalogue;

    fn deref(&self) -> &Catalogue {
        match self {
            Self::Same(catalogue) => catalogue,
            Self::Grown(catalogue) => catalogue,
        }
    }
}

/// Libraries grown for sheets, the latest first. That they are kept changes no answer.
#[derive(Debug, Default)]
pub(crate) struct Grown(Mutex<Vec<Arc<Catalogue>>>);

/// A copy of a library starts with none.
impl Clone for Grown {
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl Catalogue {
    /// This library with what a sheet brings.
    #[must_use]
    pub fn with_brought(&self, own: &Brought) -> (Self, Vec<Fault>) {
        self.grow(own, self.measured.clone())
    }

    /// This library with the parts a user typed into a sheet.
    #[must_use]
    pub fn with_parts(&self, parts: &Table<Written<Part>>) -> (Self, Vec<Fault>) {
        self.with_brought(&Brought { parts: parts.clone(), ..Brought::default() })
    }

    /// This library with what a sheet adds: its parts, and the values it has measured at ports. It costs nothing where
    /// the sheet adds nothing new, and little where it was asked for lately.
    #[must_use]
    pub fn for_sheet<'a>(&'a self, sheet: &Sheet) -> ForSheet<'a> {
        let measured = measured::at_ports(&sheet.facts);
        let is_for = |catalogue: &Self| catalogue.own.is_of(sheet) && catalogue.measured == measured;
        if is_for(self) {
            return ForSheet::Same(self);
        }
        let mut kept = self.grown.0.lock().unwrap_or_else(PoisonError::into_inner);
        match kept.iter().position(|grown| is_for(grown) && grown.as_of == self.as_of) {
            Some(at) => kept[..=at].rotate_right(1),
            None => {
                let (grown, _) = self.grow(&Brought::of(sheet), measured);
                kept.truncate(MOST - 1);
                kept.insert(0, Arc::new(grown));
            }
        }
        ForSheet::Grown(Arc::clone(&kept[0]))
    }

    /// The parts that a sheet brings in full, with what patterns and classes say of them. One with a fault is left out.
    #[must_use]
    pub fn parts_of(&self, sheet: &Sheet) -> Table<Part> {
        patterns::of_sheet(SHEET_PARTS, &self.files, &sheet.classes, &sheet.parts).0
    }

    /// A place of a vehicle as its library has it written.
    #[must_use]
    pub fn written_place(&self, vehicle: &str, place: &str) -> Option<&Position> {
        self.files.iter().find_map(|(_, file)| file.vehicles.get(vehicle)?.positions.get(place))
    }

    fn grow(&self, own: &Brought, measured: AtPorts) -> (Self, Vec<Fault>) {
        let mut files = self.files.clone();
        files.retain(|(name, _)| name != SHEET_PARTS);
        let mut written = Vec::new();
        if !own.is_nothing() {
            let (parts, faults) = patterns::of_sheet(SHEET_PARTS, &self.files, &own.classes, &own.parts);
            let mut file = own.file(parts);
            if files.iter().any(|(_, file)| file.vehicles.contains_key(&own.vehicle)) {
                let piece = own.described.laid_over(&own.vehicle, &mut files);
                file.vehicles.insert(own.vehicle.clone(), piece);
            }
            files.push((SHEET_PARTS.to_owned(), file));
            written = faults;
        }
        let (mut grown, mut faults) = build::build(files, measured, false);
        faults.append(&mut written);
        grown.own.clone_from(own);
        grown.as_of = self.as_of;
        grown.libraries.clone_from(&self.libraries);
        (grown, faults)
    }
}
