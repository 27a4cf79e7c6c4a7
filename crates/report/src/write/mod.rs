//! The writers: a document in each of the formats.

pub mod csv;
pub mod flat;
pub mod html;
pub mod pdf;
pub mod xlsx;

use crate::document::Document;

/// A format a report is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// To print and to hand over.
    Pdf,
    /// To read and tick on a telephone.
    Html,
    /// A workbook.
    Xlsx,
    /// A list for any program.
    Csv,
}

impl Format {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Pdf, Self::Html, Self::Xlsx, Self::Csv];

    /// The ending of its files, without the dot.
    #[must_use]
    pub fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Html => "html",
            Self::Xlsx => "xlsx",
            Self::Csv => "csv",
        }
    }

    /// The one with this ending, in whatever case.
    #[must_use]
    pub fn of_ending(ending: &str) -> Option<Self> {
        let ending = ending.to_lowercase();
        Self::ALL.into_iter().find(|format| format.ending() == ending)
    }
}

/// What the pages of a PDF are printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 8.5 by 11 in.
    #[default]
    Letter,
    /// 210 by 297 mm, as in ISO 216.
    A4,
}

impl Paper {
    /// Width and height in points, 72 to the inch.
    #[must_use]
    pub fn points(self) -> (f32, f32) {
        match self {
            Self::Letter => (612.0, 792.0),
            Self::A4 => (595.276, 841.89),
        }
    }
}

/// Year, month and day that a file says it is of: formats ask for one, and no hour of the machine is in a file, so that the same
/// input gives the same file.
pub(crate) fn day_of(document: &Document) -> (u16, u8, u8) {
    let number = |n: i8| u8::try_from(n).unwrap_or(1);
    document.day.map_or((2000, 1, 1), |day| {
        (u16::try_from(day.year()).unwrap_or(2000), number(day.month()), number(day.day()))
    })
}

/// Why a document could not be written.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("this cannot be written as {format}: {why}; another ending may serve: .pdf, .html, .xlsx or .csv")]
pub struct WriteError {
    /// The format.
    pub format: &'static str,
    /// What its writer says.
    pub why: String,
}

/// A document in a format.
///
/// # Errors
/// [`WriteError`] where it does not fit into the format.
pub fn write(document: &Document, format: Format, paper: Paper) -> Result<Vec<u8>, WriteError> {
    match format {
        Format::Pdf => pdf::pdf(document, paper),
        Format::Html => Ok(html::html(document).into_bytes()),
        Format::Xlsx => xlsx::xlsx(document),
        Format::Csv => Ok(csv::csv(document).into_bytes()),
    }
}
