//! Commands and drawings, found by whatever people call them.

use std::sync::LazyLock;

use knockon_core::figure::search::words as dictionary;
use knockon_core::library::Table;
use knockon_search::{Entry, Index};
use serde::Deserialize;

use crate::app::commands::Command;
use crate::fitup::Card;

/// What people call commands and drawings besides their labels.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Names {
    #[serde(rename = "about")]
    _about: String,
    names: Table<Vec<String>>,
}

/// A command, or a drawing of the fit-up page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deed {
    Do(Command),
    FitUp(Card),
}

impl Deed {
    /// As shown.
    pub fn label(self) -> String {
        match self {
            Self::Do(command) => command.label().to_owned(),
            Self::FitUp(card) => format!("Fit-up: {}", card.name()),
        }
    }

    /// All of them, in palette order.
    pub fn all() -> impl Iterator<Item = Self> {
        let commands = Command::ALL.into_iter().filter(|c| *c != Command::Palette).map(Self::Do);
        commands.chain(Card::ALL.into_iter().map(Self::FitUp))
    }
}

static DEEDS: LazyLock<Index<Deed>> = LazyLock::new(|| {
    let text = include_str!("../../../../assets/search/commands.json");
    // a test holds that it reads
    let names: Names = serde_json::from_str(text).unwrap_or_default();
    let entry = |deed: Deed| {
        let label = deed.label();
        let others = names.names.get(&label).into_iter().flatten();
        others.fold(Entry::new(deed, label.as_str(), ""), |entry, name| entry.called(name.as_str()))
    };
    Index::new(dictionary(), Deed::all().map(entry).collect())
});

/// Commands and drawings that answer, with how well.
pub fn deeds(query: &str) -> Vec<(Deed, f64)> {
    DEEDS.find(query).into_iter().map(|hit| (hit.key, hit.score)).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn a_command_is_found_by_what_people_call_it() {
        for (asked, wanted) in [
            ("print", Command::Print),
            ("pdf", Command::Print),
            ("budget", Command::Money),
            ("compare plans", Command::Plans),
            ("direction", Command::Direct),
            ("csv", Command::ExportBuyList),
            ("night mode", Command::LightDark),
            ("millimetres", Command::InchMetric),
            ("back", Command::Undo),
            ("quit", Command::Close),
            ("duplicate plan", Command::CopyPlan),
            ("clear clashes", Command::ClearAll),
            ("shopping list", Command::Buying),
            ("save as", Command::SaveAs),
            ("new sheet", Command::New),
            ("help", Command::HowItWorks),
        ] {
            assert_eq!(deeds(asked).first().map(|(deed, _)| *deed), Some(Deed::Do(wanted)), "{asked}");
        }
    }

    #[test]
    fn the_other_names_are_of_commands_there_are() {
        let names: Names =
            serde_json::from_str(include_str!("../../../../assets/search/commands.json")).unwrap();
        let labels: Vec<String> = Deed::all().map(Deed::label).collect();
        assert!(names.names.len() > 10);
        for label in names.names.keys() {
            assert!(labels.contains(label), "{label}");
        }
        for label in labels {
            assert_eq!(deeds(&label).first().map(|(deed, _)| deed.label()), Some(label.clone()), "{label}");
        }
    }
}
