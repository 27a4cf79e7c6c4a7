//! The commands that look for parts in a library, and lay them side by side.

use std::path::PathBuf;

use knockon_core::date::Date;
use knockon_core::library_search::LibrarySearch;
use knockon_core::library_search::beside::beside;
use knockon_core::library_search::fits::fits;
use knockon_core::library_search::part_page::{PartPage, part_page};
use knockon_core::library_search::places::places;
use knockon_core::meant::{nearest, then};
use knockon_core::showing::Measure;
use knockon_core::{Catalogue, Sheet};
use knockon_report::{library_found, library_part};
use knockon_store::libraries::Wanted as Libraries;

use crate::commands::{self, Opened, Wanted};
use crate::libraries::read;
use crate::terminal::{say, say_json};

type Done = Result<(), String>;

/// What is looked at.
#[derive(Clone, Debug)]
pub struct On {
    /// Sheet whose vehicle is looked at; `None`: the library alone.
    pub sheet: Option<PathBuf>,
    /// The libraries that are read.
    pub libraries: Libraries,
    /// The day.
    pub day: Date,
    /// Whose units quantities are told in.
    pub units: Measure,
}

impl On {
    /// The library, and the sheet where one was named.
    fn open(&self) -> Result<(Catalogue, Option<Opened>), String> {
        let Some(file) = &self.sheet else {
            return Ok((read(&self.libraries)?.catalogue.on(self.day), None));
        };
        let (file, libraries) = (file.clone(), self.libraries.clone());
        let opened =
            commands::open(&Wanted { file, plan: None, on: self.day, with_unsaved: false, libraries })?;
        // the sheet's own parts are on the shelf as well
        let catalogue = (*opened.catalogue.for_sheet(&opened.sheet)).clone();
        Ok((catalogue, Some(opened)))
    }
}

/// Prints the parts that answer.
pub fn find(on: &On, words: &str, as_json: bool) -> Done {
    let (catalogue, opened) = on.open()?;
    let search = LibrarySearch::new(&catalogue);
    let answer = search.find(&catalogue, words);
    let vehicle = opened.as_ref().map(|opened| opened.sheet.vehicle.as_str());
    let here = opened.as_ref().map(|opened| places(&catalogue, &opened.assess(), &answer));
    let found = library_found::Found {
        catalogue: &catalogue,
        search: &search,
        answer: &answer,
        vehicle,
        places: here,
        measure: on.units,
    };
    if as_json { say_json(&found.json()) } else { say(&found.text()) }
}

/// Prints a part, and another beside it.
pub fn part(on: &On, id: &str, other: Option<&str>, as_json: bool) -> Done {
    let (catalogue, opened) = on.open()?;
    let first = page(&catalogue, opened.as_ref().map(|opened| &opened.sheet), id, on.units)?;
    let second = other
        .map(|id| page(&catalogue, opened.as_ref().map(|opened| &opened.sheet), id, on.units))
        .transpose()?;
    let rows = second.as_ref().map(|second| beside(&first, second));
    let tried =
        opened.as_ref().map(|opened| fits(&opened.sheet, &opened.plan, &opened.catalogue, id, on.units));
    let told = library_part::Told {
        page: &first,
        second: second.as_ref(),
        rows: rows.as_deref(),
        fits: tried.as_ref(),
    };
    if as_json { say_json(&told.json()) } else { say(&told.text()) }
}

/// The page of a part, or which one may be meant.
fn page(catalogue: &Catalogue, sheet: Option<&Sheet>, id: &str, units: Measure) -> Result<PartPage, String> {
    part_page(catalogue, id, units).ok_or_else(|| {
        let ids = catalogue.part_names.ids.values().map(String::as_str);
        let of = if sheet.is_some() {
            "neither the library nor the sheet has a part"
        } else {
            "the library has no part"
        };
        // who types a name wants the part of that name
        let named = catalogue.parts.iter().find(|(_, part)| part.part.name.eq_ignore_ascii_case(id.trim()));
        let near = named.map(|(part, _)| catalogue.part_names.id(part)).or_else(|| nearest(id, ids));
        format!(
            "{of} \"{id}\"{}",
            then(near, "\"knockon library find\" finds parts by ordinary words and says their ids")
        )
    })
}
