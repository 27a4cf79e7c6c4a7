//! Libraries on the desk: what was saved in an editor comes in at once, and what a sheet was made with is told.

use std::sync::Arc;

use knockon_core::Edit;
use knockon_core::made_with::differing;
use knockon_core::meant::{nearest, then};
use knockon_core::strangers::left_out;

use crate::app::App;
use crate::wording::count;

/// Faults shown at a time: who mends the first sees the next.
const SHOWN: usize = 3;

/// The first faults, and how many more there are.
fn some(faults: &[String]) -> String {
    let shown = faults.iter().take(SHOWN).map(String::as_str).collect::<Vec<_>>().join("\n");
    match faults.len().saturating_sub(SHOWN) {
        0 => shown,
        more => format!("{shown}\nand {}", count(more, "more fault", "more faults")),
    }
}

impl App {
    /// Says what was wrong with the libraries when they were read first.
    pub(crate) fn library_faults(&mut self, faults: &[String]) {
        if !faults.is_empty() {
            self.must_read(format!(
                "{}\nThe files of your own library with a fault are left out until it is mended.",
                some(faults)
            ));
        }
    }

    /// Takes in the libraries where their folders have changed: all of them, or, where something is wrong, none.
    pub(crate) fn read_again(&mut self) {
        let Some(loaded) = self.watch.as_ref().and_then(crate::app::watch::Watch::take) else { return };
        let faults: Vec<String> = loaded.faults().map(|fault| fault.text.clone()).collect();
        self.view
            .unread
            .retain(|text| !text.contains(LAST_GOOD) && !text.contains("with a fault are left out"));
        if !faults.is_empty() {
            self.must_read(format!("{}\n{LAST_GOOD}", some(&faults)));
            return;
        }
        let top = loaded.libraries.last();
        let what = top.map_or_else(String::new, |of| {
            format!(
                "{}: {}, {}",
                of.mark,
                count(of.parts, "part", "parts"),
                count(of.vehicles, "vehicle", "vehicles")
            )
        });
        let warnings = loaded.problems.first().map(|p| format!(" {}.", p.text)).unwrap_or_default();
        self.catalogue = Arc::new(loaded.catalogue.on((self.today)()));
        self.document.look_again();
        self.figures = None;
        // what was told of the sheet may be so no longer
        self.view.unread.retain(|text| !text.contains(NO_VEHICLE) && !text.contains(TAKE));
        self.tell_libraries();
        self.tell(format!("The library has been read again: {what}.{warnings}"));
    }

    /// Says which libraries of the sheet are another here, or none.
    pub(crate) fn tell_libraries(&mut self) {
        let sheet = Arc::clone(self.document.sheet());
        if !self.catalogue.vehicles.contains_key(&sheet.vehicle) {
            let known = self.catalogue.vehicles.keys().map(String::as_str);
            let list = known.clone().collect::<Vec<_>>().join(", ");
            let rest = then(nearest(&sheet.vehicle, known), &format!("it has {list}"));
            self.must_read(format!(
                "{NO_VEHICLE} \"{}\"{rest}. What the sheet holds is kept, and the board stays empty until \
                 a library with the vehicle is laid on top (knockon FILE --add DIR), or the word \"vehicle\" in the \
                 file is corrected.",
                sheet.vehicle
            ));
        }
        let left_out = left_out(&sheet, &sheet.plan, &self.catalogue);
        if !left_out.is_empty() {
            let told: Vec<String> =
                left_out.iter().map(|s| format!("at {}: {}.", s.path, s.message)).collect();
            self.must_read(format!("In this sheet, {}", some(&told)));
        }
        let differs = differing(&sheet.libraries, &self.catalogue.libraries);
        if differs.is_empty() {
            return;
        }
        let told: Vec<String> = differs.iter().map(|d| format!("{d}.")).collect();
        self.must_read(format!(
            "{} {TAKE} has the sheet go by the libraries as they are here.",
            told.join("\n")
        ));
    }

    /// The sheet goes by the libraries as they are here from now on.
    pub(crate) fn take_libraries(&mut self) {
        let libraries = self.catalogue.libraries.clone();
        if self.document.sheet().libraries == libraries {
            self.tell("The sheet goes by the libraries as they are here already.".to_owned());
            return;
        }
        let names: Vec<String> = libraries.iter().map(ToString::to_string).collect();
        match self.document.edit(&[Edit::Libraries { libraries }], "the libraries as they are".to_owned()) {
            Ok(()) => self.tell(format!("The sheet goes by {} now.", names.join(", "))),
            Err(why) => self.trouble(format!("{why}.")),
        }
    }
}

/// Begins what is told of a sheet whose vehicle nobody knows.
const NO_VEHICLE: &str = "The library has no vehicle";
/// The way out where a library is another.
const TAKE: &str = "The command \"Take the libraries as they are\" (Ctrl+K)";
/// Ends what is told of a library that cannot be read as it is now.
const LAST_GOOD: &str = "Until it is mended the library counts as it was read last.";
