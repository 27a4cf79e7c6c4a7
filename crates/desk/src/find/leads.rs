//! Where what was found leads, and what is told beside it.

use knockon_core::Edit;
use knockon_core::find::{Found, List, What, route_of};
use knockon_core::sheet::LineState;

use crate::app::view::{Action, Behind, Page, Spot};
use crate::find::spot;
use crate::fitup::Card;

/// What is done to get there.
pub fn lead(found: &Found) -> Vec<Action> {
    let to = |spot: Option<Spot>| Action::Select(spot);
    match &found.what {
        What::Plan(id) => vec![Action::Edit(vec![Edit::SwitchPlan { plan: id.clone() }])],
        What::ToMeasure(_) if found.positions.is_empty() => vec![Action::Behind(Some(Behind::Measure))],
        What::Clash(_) if found.positions.is_empty() => vec![Action::Behind(Some(Behind::Clashes))],
        What::List(list) => to_list(*list),
        What::Figure(id) => vec![Action::FitUp(Card::Figure(id))],
        What::Place { .. } => match route_of(found) {
            Some((position, _, part)) => {
                vec![to(spot(found)), Action::Offer { position: position.to_owned(), part: part.to_owned() }]
            }
            None => vec![to(spot(found))],
        },
        What::Companion(_) | What::Note(_) | What::Clash(_) | What::ToMeasure(_) => vec![to(spot(found))],
    }
}

fn to_list(list: List) -> Vec<Action> {
    let behind = |which| vec![Action::Behind(Some(which))];
    match list {
        List::Clashes => behind(Behind::Clashes),
        List::ToMeasure => behind(Behind::Measure),
        List::Money => behind(Behind::ToCome),
        List::Later => behind(Behind::Later),
        List::Cautions => behind(Behind::Cautions),
        List::Buying => vec![Action::Lines(None)],
        List::OnOrder => vec![Action::Lines(Some(LineState::OnOrder))],
        List::InHand => vec![Action::Lines(Some(LineState::InHand))],
    }
}

/// Whether a page shows what is found as a list of its own.
pub fn is_on(page: Page) -> bool {
    matches!(page, Page::Board | Page::FitUp | Page::Parts | Page::Library | Page::Money)
}

/// What stands to the right of it, and below its name where a part is on offer.
pub fn beside(found: &Found) -> String {
    match route_of(found) {
        Some(_) => match &found.what {
            What::Place { offers, .. } => {
                let first = offers.first().map_or("", |(_, name)| name.as_str());
                match offers.len() {
                    0 | 1 => format!("on offer: {first}"),
                    n => format!("on offer: {first}, and {} more", n - 1),
                }
            }
            _ => String::new(),
        },
        None => found.beside.clone(),
    }
}
