//! How a set of changes that clears clashes together is worded.

use crate::cures::set::{Changed, Set, To};
use crate::wording;

/// Qualities of a part that are told behind its noun where room is short.
const QUALITIES: usize = 2;

/// What it does, in short: "3 changes clear both", "7 changes clear 6 of 8".
pub fn headline(set: &Set) -> String {
    let n = set.changes.len();
    let clear = if n == 1 { "clears" } else { "clear" };
    let what = match (set.cleared, set.of) {
        (1, 1) => "it".to_owned(),
        (2, 2) => "both".to_owned(),
        (cleared, of) if cleared == of => format!("all {of}"),
        (cleared, of) => format!("{cleared} of {of}"),
    };
    format!("{} {clear} {what}", wording::count(n, "change", "changes"))
}

/// Money, hours and what is to be measured, in one line.
pub fn figures(set: &Set) -> String {
    let change = Some(&set.change).filter(|change| !change.idle.is_empty());
    let money = change.map_or(&set.money, |change| &change.to_come);
    let told = money.shown(&set.change.currency);
    let mut parts: Vec<String> =
        told.iter().filter_map(|m| wording::money_change(m.amount, change.is_some(), &m.currency)).collect();
    if set.unpriced {
        parts.push("some of it has no price".to_owned());
    }
    parts.extend(wording::hours_change(set.hours));
    parts.extend(wording::measure_change(set.to_measure));
    if parts.is_empty() { "costs nothing more".to_owned() } else { parts.join(" · ") }
}

/// How the plan stands then; `now` is how many clashes it has.
pub fn then(set: &Set, now: usize) -> String {
    match set.left {
        0 => "then all fits".to_owned(),
        n => format!("leaves {n} of {now} that do not fit"),
    }
}

/// What was wished and is not put in any more; empty where all wishes are kept.
pub fn given_up(set: &Set) -> String {
    let one = |(place, part): &(String, String)| format!("{place} ({})", brief(part));
    let all: Vec<String> = set.gives_up.iter().map(one).collect();
    if all.is_empty() { String::new() } else { format!("gives up what you chose: {}", all.join(", ")) }
}

/// The same where there is one line for all.
pub fn given_up_in_short(set: &Set) -> Option<String> {
    let all: Vec<&str> = set.gives_up.iter().map(|(_, part)| noun(part)).collect();
    (!all.is_empty()).then(|| format!("gives up: {}", all.join(", ")))
}

/// What a place becomes by a change, where what it is now stands elsewhere.
pub fn becomes(change: &Changed) -> String {
    let place = &change.place;
    let (to, lead) = match &change.to {
        To::Part(name) => (name, ""),
        To::Found(name) => (name, "as found: "),
        To::Nothing => return changed(change, false),
    };
    match brief(to).split_once(", ") {
        Some((first, rest)) if is_same(first, place) => format!("{place}: {lead}{rest}"),
        _ => format!("{place}: {lead}{}", brief(to)),
    }
}

/// A change in plain words; `whole`: with the names as they are written.
pub fn changed(change: &Changed, whole: bool) -> String {
    let place = &change.place;
    let (to, lead) = match &change.to {
        To::Part(name) => (name, ""),
        To::Found(name) => (name, "as found: "),
        To::Nothing => {
            let gone = change.from.as_deref().unwrap_or("what was chosen");
            return format!("{place}: without {}", if whole { gone } else { brief(gone) });
        }
    };
    let Some(from) = change.from.as_ref() else {
        return format!("{place}: {lead}{}", if whole { to } else { brief(to) });
    };
    if whole || brief(from) == brief(to) {
        return format!("{place}: {from} → {lead}{to}");
    }
    let noun = noun(from);
    let bare = |name: &str, known: &str| match name.split_once(", ") {
        Some((first, rest)) if is_same(first, known) => rest.to_owned(),
        _ => name.to_owned(),
    };
    format!("{place}: {} → {lead}{}", bare(brief(from), place), bare(&bare(brief(to), noun), place))
}

/// The noun of a name with its first qualities: names are written "noun, quality, quality".
fn brief(name: &str) -> &str {
    name.match_indices(", ").nth(QUALITIES).and_then(|(at, _)| name.get(..at)).unwrap_or(name)
}

/// "Tyre" and "Tyres" are the same.
fn is_same(noun: &str, known: &str) -> bool {
    noun.eq_ignore_ascii_case(known)
        || known.strip_suffix('s').is_some_and(|one| noun.eq_ignore_ascii_case(one))
}

fn noun(name: &str) -> &str {
    name.split(", ").next().unwrap_or(name)
}

#[cfg(test)]
mod tests {
    use super::{To, becomes, changed, figures, given_up, given_up_in_short, headline, then};
    use crate::cures::set::{Changed, Set};
    use knockon_core::change::Change;
    use knockon_core::{Amounts, Money};

    fn change(place: &str, from: &str, to: To) -> Changed {
        Changed { place: place.into(), from: (!from.is_empty()).then(|| from.into()), to }
    }

    fn usd(amount: i64) -> Amounts {
        [&Money::new(amount.into(), "USD")].into_iter().collect()
    }

    fn set(n: usize, cleared: usize, of: usize) -> Set {
        Set {
            choices: Vec::new(),
            changes: vec![change("Fan", "Fan, belt", To::Nothing); n],
            gives_up: Vec::new(),
            cleared,
            of,
            left: of - cleared,
            new: Vec::new(),
            money: Amounts::default(),
            unpriced: false,
            change: Change { currency: "USD".into(), ..Change::default() },
            hours: 0.0,
            to_measure: 0,
        }
    }

    #[test]
    fn a_change_says_from_what_to_what_and_no_noun_twice() {
        let part = |name: &str| To::Part(name.into());
        for (one, wanted) in [
            (
                change(
                    "Generator",
                    "Alternator, 65 A, one wire, small",
                    part("Alternator, 100 A, three wires, big"),
                ),
                "Generator: Alternator, 65 A, one wire → 100 A, three wires",
            ),
            (
                change("Distributor", "Distributor, points", part("Distributor, coil in the cap")),
                "Distributor: points → coil in the cap",
            ),
            (change("Tyres", "Tyre, 205", part("Tyre, 215")), "Tyres: 205 → 215"),
            // what tells the two apart is never left out
            (
                change("Hose", "Hose, a, b, red", part("Hose, a, b, blue")),
                "Hose: Hose, a, b, red → Hose, a, b, blue",
            ),
            (
                change("Fan", "Electric fan, 16 in", To::Found("Fan, belt".into())),
                "Fan: Electric fan, 16 in → as found: belt",
            ),
            (change("Trigger", "Module", To::Nothing), "Trigger: without Module"),
            (change("Booster", "", part("Booster, 178 mm")), "Booster: Booster, 178 mm"),
        ] {
            assert_eq!(changed(&one, false), wanted);
        }
        let one = change(
            "Generator",
            "Alternator, 65 A, one wire, small",
            part("Alternator, 100 A, three wires, big"),
        );
        assert_eq!(
            changed(&one, true),
            "Generator: Alternator, 65 A, one wire, small → Alternator, 100 A, three wires, big"
        );
    }

    #[test]
    fn what_it_does_is_counted() {
        for (one, wanted) in [
            (set(1, 1, 1), "1 change clears it"),
            (set(3, 2, 2), "3 changes clear both"),
            (set(7, 8, 8), "7 changes clear all 8"),
            (set(1, 6, 8), "1 change clears 6 of 8"),
        ] {
            assert_eq!(headline(&one), wanted);
        }
        assert_eq!(then(&set(1, 8, 8), 8), "then all fits");
        let worse = Set { left: 3, ..set(1, 6, 8) };
        assert_eq!(then(&worse, 8), "leaves 3 of 8 that do not fit");
    }

    #[test]
    fn what_a_place_becomes_is_said_without_its_noun_twice() {
        let part = |name: &str| To::Part(name.into());
        let one = change("Fan", "Fan, belt", part("Fan, 12 in, slim, 60 mm deep, 9 A"));
        assert_eq!(becomes(&one), "Fan: 12 in, slim");
        let other = change("Generator", "Dynamo, 30 A", part("Alternator, 100 A, three-wire, fan"));
        assert_eq!(becomes(&other), "Generator: Alternator, 100 A, three-wire");
        let back = change("Fan", "Fan, electric", To::Found("Fan, steel".into()));
        assert_eq!(becomes(&back), "Fan: as found: steel");
        assert_eq!(becomes(&change("Fan", "Fan, belt", To::Nothing)), "Fan: without Fan, belt");
    }

    #[test]
    fn figures_that_are_nothing_are_left_out() {
        assert_eq!(figures(&set(1, 1, 1)), "costs nothing more");
        let one = Set { money: usd(785), hours: -0.5, to_measure: 1, unpriced: true, ..set(7, 8, 8) };
        assert_eq!(figures(&one), "+ $785.00 · some of it has no price · −0.5 h · 1 more to measure");
        let less = Set { money: usd(-5), hours: 3.0, to_measure: -2, ..set(7, 8, 8) };
        assert_eq!(figures(&less), "−$5.00 · 3 h · 2 fewer to measure");
    }

    #[test]
    fn what_is_given_up_is_named() {
        assert_eq!(given_up(&set(1, 1, 1)), "");
        let gives_up = vec![("Points or module".into(), "Module, six cylinders, black, small".into())];
        let one = Set { gives_up, ..set(1, 1, 1) };
        assert_eq!(
            given_up(&one),
            "gives up what you chose: Points or module (Module, six cylinders, black)"
        );
        assert_eq!(given_up_in_short(&one).as_deref(), Some("gives up: Module"));
        assert_eq!(given_up_in_short(&set(1, 1, 1)), None);
    }
}
