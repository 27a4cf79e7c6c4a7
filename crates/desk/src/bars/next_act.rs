//! The one thing to do next: what stops the vehicle, what does not fit, what to measure, to decide, to buy, to fit.

use knockon_core::Amounts;
use knockon_core::assessment::{BuyLine, Companion, PositionView};
use knockon_core::key::CompanionKey;
use knockon_core::library::Level;
use knockon_core::sheet::{LineState, Verdict};

use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::{Action, Spot};
use crate::look::icons::Mark;
use crate::panel::unknown::Unknown;
use crate::wording::{self, is_to_come};

/// What is to be done next.
pub struct Next {
    /// In front of it.
    pub mark: Option<Mark>,
    /// It must be looked at.
    pub warm: bool,
    /// What it is: "10 to measure".
    pub lead: String,
    /// What comes first, what it costs.
    pub rest: String,
    /// The word on the button, its keys and what it does; `None`: nothing is to be done.
    pub act: Option<(String, Option<Command>, Action)>,
}

/// What is to be done where everything fits; clashes have a line of their own.
pub fn next(a: &Told) -> Next {
    stopped(a)
        .or_else(|| unknown(a))
        .or_else(|| undecided(a))
        .or_else(|| to_buy(a))
        .unwrap_or_else(|| to_fit(a))
}

/// A part that stays though the survey says that it must not be driven on.
pub fn stopped(a: &Told) -> Option<Next> {
    let stops = |p: &&PositionView| {
        // what the plan proposes in its place is an answer, unless it is left out
        let key = CompanionKey::survey(&p.id);
        let answered = a.companions.iter().any(|c| c.key == key && c.waived.is_none());
        p.verdict_stands && p.verdict == Some(Verdict::Stop) && !answered
    };
    let all: Vec<_> = a.positions.iter().filter(stops).collect();
    let first = all.first()?;
    let more = match all.len() {
        1 => String::new(),
        n => format!(", and {} more", n - 1),
    };
    Some(Next {
        mark: Some(Mark::Clash),
        warm: true,
        lead: "Do not drive on this. ".to_owned(),
        rest: format!("The survey condemns the {}{more}, and the plan keeps it.", first.name.to_lowercase()),
        act: Some(("Look at it".to_owned(), None, look(&first.id))),
    })
}

fn look(place: &str) -> Action {
    Action::Select(Some(Spot::Position(place.to_owned())))
}

fn unknown(a: &Told) -> Option<Next> {
    let first = a.to_measure.first()?;
    let told = Unknown::of(a, first);
    let what = told.wanted.first().map(|(what, _)| format!(": {what}")).unwrap_or_default();
    let action = first.positions.first().map(|id| Action::Measure(id.clone()));
    Some(Next {
        mark: Some(Mark::Measure),
        warm: true,
        lead: format!("{} to measure. ", a.to_measure.len()),
        rest: format!("First {}{what}.", told.name),
        act: action.map(|action| ("Measure it".to_owned(), None, action)),
    })
}

fn undecided(a: &Told) -> Option<Next> {
    let open: Vec<&Companion> = a.companions.iter().filter(|c| wording::open(c)).collect();
    let (needed, advised): (Vec<&Companion>, Vec<_>) =
        open.iter().copied().partition(|c| c.level == Level::Required);
    if open.is_empty() {
        return None;
    }
    let costs: Vec<_> = needed.iter().filter_map(|c| c.cost()).collect();
    let sum: Amounts = costs.iter().collect();
    let better = match advised.len() {
        0 => String::new(),
        n => format!(" {n} more would be better."),
    };
    let (rest, act) = if needed.is_empty() {
        let action = Action::Behind(Some(crate::app::view::Behind::Companions));
        ("None of them is needed, all would be better.".to_owned(), ("Look at each".to_owned(), None, action))
    } else {
        let money = wording::amounts(&sum, &a.totals.currency);
        let rest = format!("{} needed, {money}.{better}", needed.len());
        let command = Command::AcceptNeeded;
        (rest, (format!("Accept the {} needed", needed.len()), Some(command), Action::Do(command)))
    };
    let lead = format!("{} to decide. ", wording::count(open.len(), "companion", "companions"));
    Some(Next { mark: None, warm: false, lead, rest, act: Some(act) })
}

fn to_buy(a: &Told) -> Option<Next> {
    let due: Vec<&BuyLine> = a.buy.iter().filter(|l| is_to_come(l)).collect();
    if due.is_empty() {
        return None;
    }
    // what is made at the bench has no supplier
    let without = due.iter().filter(|l| l.supplier.is_empty() && !l.made).count();
    let money = wording::amounts(&a.totals.money.to_come, &a.totals.currency);
    let lead = format!("{} to buy. ", wording::count(due.len(), "line", "lines"));
    let rest = match without {
        0 => format!("{money} at their suppliers."),
        n => format!("{money}; {} no supplier yet.", wording::count(n, "has", "have")),
    };
    let act = ("To the buy list".to_owned(), None, Action::Lines(Some(LineState::ToBuy)));
    Some(Next { mark: None, warm: false, lead, rest, act: Some(act) })
}

fn to_fit(a: &Told) -> Next {
    let in_state = |state| a.buy.iter().filter(|l| l.waived.is_none() && l.state == state).count();
    let (here, coming) = (in_state(LineState::InHand), in_state(LineState::OnOrder));
    let lines = |state| Some(("Look at them".to_owned(), None, Action::Lines(Some(state))));
    let (lead, rest, act) = if here > 0 {
        let rest = "Everything fits and is decided.".to_owned();
        (
            format!("{} in hand, to be fitted. ", wording::count(here, "line", "lines")),
            rest,
            lines(LineState::InHand),
        )
    } else if coming > 0 {
        let rest = "Everything else is fitted.".to_owned();
        (format!("{} on order. ", wording::count(coming, "line", "lines")), rest, lines(LineState::OnOrder))
    } else {
        let rest = "Nothing is open, nothing is left to buy or to fit.".to_owned();
        ("All done on paper. ".to_owned(), rest, None)
    };
    Next { mark: Some(Mark::Fits), warm: false, lead, rest, act }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::{next, to_buy, to_fit, undecided};
    use crate::app::told::Told;
    use knockon_core::assessment::PositionView;
    use knockon_core::edit::apply;
    use knockon_core::sheet::{Finding, LineState, Verdict};
    use knockon_core::showing::Measure;
    use knockon_core::{Edit, Sheet, assess};

    fn told(sheet: &Sheet) -> Told {
        Told::new(assess(sheet, &sheet.plan, &knockon_store::library::shipped()), Measure::Inch)
    }

    /// Each is told once what comes before it is done.
    #[test]
    fn one_thing_comes_after_the_other() {
        let text = knockon_store::library::example();
        let mut sheet: Sheet = knockon_store::sheets::parse("the example", text).unwrap();
        sheet.plan = "sound".to_owned();
        let a = told(&sheet);
        assert!(a.clashes.is_empty() && !a.to_measure.is_empty());
        let n = a.to_measure.len();
        assert_eq!(next(&a).lead, format!("{n} to measure. "));
        // once all is measured
        let open = a.totals.companions_open;
        assert_eq!(undecided(&a).unwrap().lead, format!("{open} companions to decide. "));
        for c in a.companions.iter().filter(|c| crate::wording::open(c)) {
            let plan = sheet.plan.clone();
            apply(&mut sheet, &Edit::Accept { plan, key: c.key.clone(), yes: true }).unwrap();
        }
        let a = told(&sheet);
        assert!(undecided(&a).is_none() && to_buy(&a).unwrap().lead.ends_with(" to buy. "));
        for (state, wanted) in [
            (LineState::OnOrder, " on order. "),
            (LineState::InHand, " in hand, to be fitted. "),
            (LineState::Fitted, "All done on paper. "),
        ] {
            for line in &a.buy {
                apply(&mut sheet, &Edit::SetLine { part: line.part.clone(), state }).unwrap();
            }
            let a = told(&sheet);
            assert!(to_buy(&a).is_none());
            assert!(to_fit(&a).lead.ends_with(wanted), "{}", to_fit(&a).lead);
        }
        let stays = |p: &&PositionView| {
            p.route == knockon_core::sheet::Route::Keep && p.fitted == p.as_found && p.fitted.is_some()
        };
        let kept = a.positions.iter().find(stays);
        let id = kept.unwrap().id.clone();
        let finding = Finding { verdict: Verdict::Stop, note: String::new(), extra: Default::default() };
        apply(&mut sheet, &Edit::Survey { position: id.clone(), finding: Some(finding) }).unwrap();
        // what the plan proposes in its place is an answer, until it is left out
        let a = told(&sheet);
        let key = knockon_core::key::CompanionKey::survey(&id);
        assert_eq!(super::stopped(&a).is_none(), a.companions.iter().any(|c| c.key == key));
        let (plan, reason) = (sheet.plan.clone(), Some("later".to_owned()));
        apply(&mut sheet, &Edit::Waive { plan, key, reason }).unwrap();
        assert_eq!(super::stopped(&told(&sheet)).unwrap().lead, "Do not drive on this. ");
    }
}
