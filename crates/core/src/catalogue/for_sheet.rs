//! The library as a sheet wants it: with the parts a user typed in, and with what was measured at ports.

use std::ops::Deref;
use std::sync::{Arc, Mutex, PoisonError};

use super::measured::AtPorts;
use super::{Catalogue, Fault, build, measured};
use crate::library::{LibraryFile, Part, Table};
use crate::sheet::Sheet;

/// Name under which the parts of a sheet stand among the files.
pub(crate) const SHEET_PARTS: &str = "parts of the sheet";
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
    /// This library with the parts a user typed into a sheet.
    #[must_use]
    pub fn with_parts(&self, parts: &Table<Part>) -> (Self, Vec<Fault>) {
        self.grow(parts, self.measured.clone())
    }

    /// This library with what a sheet adds: its parts, and the values it has measured at ports. It costs nothing where
    /// the sheet adds nothing new, and little where it was asked for lately.
    #[must_use]
    pub fn for_sheet<'a>(&'a self, sheet: &Sheet) -> ForSheet<'a> {
        let measured = measured::at_ports(&sheet.facts);
        let is_for = |catalogue: &Self| catalogue.own == sheet.parts && catalogue.measured == measured;
        if is_for(self) {
            return ForSheet::Same(self);
        }
        let mut kept = self.grown.0.lock().unwrap_or_else(PoisonError::into_inner);
        match kept.iter().position(|grown| is_for(grown) && grown.as_of == self.as_of) {
            Some(at) => kept[..=at].rotate_right(1),
            None => {
                let (grown, _) = self.grow(&sheet.parts, measured);
                kept.truncate(MOST - 1);
                kept.insert(0, Arc::new(grown));
            }
        }
        ForSheet::Grown(Arc::clone(&kept[0]))
    }

    fn grow(&self, parts: &Table<Part>, measured: AtPorts) -> (Self, Vec<Fault>) {
        let mut files = self.files.clone();
        files.retain(|(name, _)| name != SHEET_PARTS);
        if !parts.is_empty() {
            files.push((
                SHEET_PARTS.to_owned(),
                LibraryFile { format: 1, parts: parts.clone(), ..LibraryFile::default() },
            ));
        }
        let (mut grown, faults) = build::build(files, measured);
        grown.own.clone_from(parts);
        grown.as_of = self.as_of;
        (grown, faults)
    }
}
