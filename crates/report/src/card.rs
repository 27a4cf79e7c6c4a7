//! Procedure cards, as text and as JSON: how something is done, dangers first.

use std::collections::BTreeMap;
use std::fmt::Write;

use knockon_core::Catalogue;
use knockon_core::library::{Card, Caution};
use knockon_core::phrase::Phrase;
use serde_json::{Value, json};

/// What no card says by itself.
const ABOVE: &str =
    "The maker's manual stands above this card, and so do local codes and the work of a licensed practice.";

/// A card for a terminal.
#[must_use]
pub fn text(card: &Card, cautions: &BTreeMap<String, Caution>) -> String {
    let mut out = format!("{}\n  {}\n", card.name, card.when);
    for caution in card.cautions.iter().filter_map(|id| cautions.get(id)) {
        let danger = caution.danger.trim_end_matches('.');
        let _ = writeln!(out, "  Caution: {danger}. {}", Phrase::read(&caution.guard).in_both());
    }
    if !card.tools.is_empty() {
        let _ = writeln!(out, "  Tools: {}", card.tools.join(", "));
    }
    for (n, step) in card.steps.iter().enumerate() {
        let _ = writeln!(out, "  {:>2}. {step}", n + 1);
    }
    for [seen, means] in &card.wrong {
        let _ = writeln!(out, "  {}: {means}", seen.trim_end_matches('.'));
    }
    let _ = writeln!(out, "  Done: {}", card.done);
    let _ = writeln!(out, "  {}", card.manual);
    let _ = writeln!(out, "  {ABOVE}");
    out
}

/// The names of all cards with their ids, for a terminal.
#[must_use]
pub fn list(catalogue: &Catalogue) -> String {
    let mut cards: Vec<(&String, &Card)> = catalogue.cards.iter().collect();
    cards.sort_by_key(|(_, card)| &card.name);
    let mut out = String::new();
    for (id, card) in cards {
        let _ = writeln!(out, "{id:<28} {}, {}", card.name, card.when);
    }
    out
}

/// A card as JSON.
#[must_use]
pub fn json(id: &str, card: &Card) -> Value {
    json!({
        "id": id, "name": card.name, "when": card.when, "cautions": card.cautions, "tools": card.tools,
        "steps": card.steps, "wrong": card.wrong, "done": card.done, "manual": card.manual, "source": card.source,
    })
}

/// Cards that words mean: the one of this id, else those whose id, name or occasion has all the words.
#[must_use]
pub fn meant<'a>(catalogue: &'a Catalogue, words: &str) -> Vec<(&'a String, &'a Card)> {
    if let Some(one) = catalogue.cards.get_key_value(words.trim()) {
        return vec![one];
    }
    let words: Vec<String> = words.to_lowercase().split_whitespace().map(str::to_owned).collect();
    let has = |(id, card): &(&String, &Card)| {
        let text = format!("{id} {} {}", card.name, card.when).to_lowercase();
        words.iter().all(|word| text.contains(word.as_str()))
    };
    catalogue.cards.iter().filter(has).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::{list, meant, text};

    #[test]
    fn a_card_tells_its_dangers_before_its_tools_and_its_tools_before_its_steps() {
        let catalogue = knockon_store::library::shipped();
        let found = meant(&catalogue, "bleed brakes");
        let (id, card) = found.first().unwrap();
        assert_eq!(id.as_str(), "bleed-brakes");
        let told = text(card, &catalogue.cautions);
        let at = |what: &str| told.find(what).unwrap_or_else(|| panic!("{what}: {told}"));
        assert!(at("Caution:") < at("Tools:") && at("Tools:") < at(" 1. ") && at(" 1. ") < at("Done:"));
        assert!(
            told.rfind("maker's manual") > Some(at("Done:")),
            "what stands above the card is its last word"
        );
        for step in &card.steps {
            assert!(told.contains(step.as_str()));
        }
        assert!(list(&catalogue).lines().count() >= 34, "the trade's notes have 34");
        assert!(meant(&catalogue, "brew tea").is_empty());
    }
}
